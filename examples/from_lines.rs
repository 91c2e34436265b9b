//! A hull from its lines in code: her panels' edges, and whether the chine log bends in.
//!
//! `cargo run --release --example from_lines`

use chinewright::hull::document::{Duck, Hull, Line, LineEnd};
use chinewright::material::Materials;
use chinewright::model::derive;

fn line(name: &str, ducks: &[(f64, f64, f64)]) -> Line {
    Line {
        name: name.into(),
        ducks: ducks.iter().map(|&(x, y, z)| Duck::at(x, y, z)).collect(),
        bow: LineEnd::RunsOn,
        stern: LineEnd::RunsOn,
    }
}

#[expect(clippy::print_stdout, reason = "an example shows its result")]
fn main() {
    let lines = vec![
        line(
            "chine",
            &[
                (120.0, 0.0, 160.0),
                (900.0, 250.0, 70.0),
                (1900.0, 430.0, 18.0),
                (3100.0, 420.0, 60.0),
            ],
        ),
        line(
            "sheer",
            &[
                (0.0, 0.0, 560.0),
                (900.0, 370.0, 480.0),
                (1900.0, 560.0, 420.0),
                (3180.0, 530.0, 420.0),
            ],
        ),
    ];
    let hull = Hull::new("tender", lines);
    match derive(&hull, &Materials::shipped()) {
        Ok(model) => {
            for p in &model.panels {
                println!(
                    "{}: edges {:.0} and {:.0} mm, twist {:.2}°, pattern within {:.3} mm",
                    p.name,
                    p.edges.lower,
                    p.edges.upper,
                    p.quality.greatest_warp.to_degrees(),
                    p.pattern_error
                );
            }
            for m in &model.members {
                let way =
                    m.advice.recommended.map_or("will not bend", chinewright::words::bend::method);
                println!("{}: {:.2} % strain, {way}", m.member.name, 100.0 * m.peak_strain);
            }
        }
        Err(findings) => {
            for f in findings {
                let said = chinewright::words::finding::said(&f, chinewright::units::Units::Mm);
                println!("{}: {}", said.place, said.message);
            }
        }
    }
}
