//! How long the parts of one pass take, for scripts: one JSON object on standard output.
//!
//! `cargo run --release --no-default-features --example timing [SECONDS]`
//!
//! Each figure is the least of many runs, ms. Processor time beside it is of all threads, on
//! average: where two cores are shared with others it says more than the clock.

use std::hint::black_box;
use std::time::{Duration, Instant};

use chinewright::flat::develop;
use chinewright::float::volume::{Water, immersed};
use chinewright::geom::V3;
use chinewright::geom::plane::Plane;
use chinewright::hull::HullLines;
use chinewright::hull::starters::STARTERS;
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::panel::{EndEdge, Pair, match_lines, section};

/// Least time of a run, ms.
fn least(budget: Duration, mut run: impl FnMut()) -> f64 {
    let begun = Instant::now();
    let mut least = f64::INFINITY;
    let mut runs = 0;
    while runs < 3 || begun.elapsed() < budget {
        let one = Instant::now();
        run();
        least = least.min(one.elapsed().as_secs_f64());
        runs += 1;
    }
    1000.0 * least
}

/// Processor time of this process so far, s; `None` where the system does not say.
fn processor() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let fields: Vec<&str> = stat.rsplit(')').next()?.split_whitespace().collect();
    let ticks: f64 = fields.get(11)?.parse::<f64>().ok()? + fields.get(12)?.parse::<f64>().ok()?;
    Some(ticks / 100.0)
}

#[expect(clippy::print_stdout, reason = "its figures are for a script")]
fn main() {
    let seconds = std::env::args().nth(1).and_then(|s| s.parse().ok()).unwrap_or(1.0);
    let budget = Duration::from_secs_f64(seconds);
    let materials = Materials::shipped();
    let mut rows = Vec::new();
    for starter in STARTERS {
        let hull = starter.hull();
        let before = processor();
        let mut runs = 0u32;
        let whole = least(budget, || {
            black_box(derive(black_box(&hull), &materials)).expect("a starter");
            runs += 1;
        });
        let used = before
            .zip(processor())
            .map(|(a, b)| format!("{:.3}", 1000.0 * (b - a) / f64::from(runs)));
        let model = derive(&hull, &materials).expect("a starter");
        let mesh = model.mesh(true);
        let heights: Vec<f64> = mesh.vertices.iter().map(|v| v.z).collect();
        let (low, high) = heights
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(*z), h.max(*z)));
        let water = Water::level(low + 0.3 * (high - low));
        let part = budget.mul_f64(0.2);
        let plane = least(part, || {
            black_box(immersed(black_box(&mesh), &water));
        });
        let side = model.panels.last().expect("a side");
        let flat = least(part, || {
            black_box(develop(black_box(&side.surface), 0.0));
        });
        let middle = 0.5 * model.lines.length_overall();
        let across = Plane { normal: V3::x(), offset: middle };
        let cut = least(part, || {
            for p in &model.panels {
                black_box(section(black_box(&p.surface), across, 0.0));
            }
        });
        let lines = HullLines::of(&hull).expect("its lines");
        let k = lines.lines.len() - 2;
        let (lower, upper) = (&lines.lines[k].spline, &lines.lines[k + 1].spline);
        let pair = Pair { lower, upper, bow: EndEdge::Ruling, stern: EndEdge::Ruling };
        let matched = least(part, || {
            black_box(match_lines(black_box(&pair)));
        });
        rows.push(format!(
            "  {{\"hull\": \"{}\", \"whole_ms\": {whole:.3}, \"whole_processor_ms\": {}, \"plane_of_water_ms\": {plane:.5}, \"volume_mm3\": {}, \"triangles\": {}, \"flat_ms\": {flat:.5}, \"rulings\": {}, \"section_ms\": {cut:.5}, \"matching_ms\": {matched:.4}}}",
            starter.name,
            used.unwrap_or_else(|| "null".into()),
            immersed(&mesh, &water).volume,
            mesh.triangles.len(),
            side.surface.rulings.len(),
        ));
    }
    println!("[\n{}\n]", rows.join(",\n"));
}
