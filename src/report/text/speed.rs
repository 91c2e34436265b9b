//! Speed and power, for people: row by row, and what is read off the rows.

use std::fmt::Write as _;

use super::paragraph;
use crate::float::power::{EFFICIENCY, HORSEPOWER, Method, SpeedPower};
use crate::units::Units;
use crate::words::speed::{method, no_figure, reached};

/// The table and what it says.
pub(super) fn speed(out: &mut String, s: &SpeedPower, units: Units) {
    let _ = writeln!(
        out,
        "Speed and power, full crew, {:.0} % of the shaft's power reaching the water",
        100.0 * EFFICIENCY
    );
    let mut said = None;
    for r in &s.rows {
        // A reason is not repeated down the rows.
        let why = r.why.as_ref().map(no_figure);
        if why.is_some() && why == said {
            let _ = writeln!(out, "    {:>4.0} kn   the same", r.speed);
            continue;
        }
        said.clone_from(&why);
        let _ = match (r.resistance, r.power) {
            (Some(n), Some(kw)) => {
                let band =
                    r.band.map_or(String::new(), |b| format!(", give or take {:.0} %", 100.0 * b));
                let trim = r.trim.map_or(String::new(), |t| format!(", runs at {t:.1}°"));
                let hp = kw * 1000.0 / HORSEPOWER;
                let limit = match r.porpoising {
                    Some(l) => format!(", may porpoise above {l:.1}°"),
                    None if r.past_chart => ", past the porpoising chart: expect it".into(),
                    None => String::new(),
                };
                let power = match units.imperial() {
                    true => format!("{hp:>5.1} hp"),
                    false => format!("{kw:>5.2} kW ({hp:.1} hp)"),
                };
                writeln!(
                    out,
                    "    {:>4.0} kn   {:>8}   {power}   {}{band}{trim}{limit}",
                    r.speed,
                    units.force(n),
                    method(r.method)
                )
            }
            _ => writeln!(
                out,
                "    {:>4.0} kn   no figure: {}",
                r.speed,
                why.as_deref().unwrap_or("")
            ),
        };
    }
    let runabout = s.runabout.map_or(String::new(), |kn| {
        format!("; runabouts of her weight and power reach about {kn:.1} kn")
    });
    let _ = writeln!(
        out,
        "    a wave as long as her waterline runs at {:.1} kn; what she reaches: {}{runabout}",
        s.hull_speed,
        reached(s)
    );
    if let Some((n, kn)) = s.hump.map(|h| (h.1, h.0)) {
        let _ = writeln!(out, "    the hump: {} at {kn:.0} kn", units.force(n));
    } else if let Some((from, to)) = s.gap {
        let _ = writeln!(
            out,
            "    the hump lies between {from:.0} and {to:.0} kn, where no published method fits her: nothing says whether the motor lifts her over it"
        );
    } else if s.rows.iter().any(|r| r.beside.is_some()) {
        let _ = writeln!(out, "    no hump stands out of the rows above");
    }
    if let Some([air, leg]) = s.rows.iter().rev().find_map(|r| r.beside) {
        let fastest = s.rows.iter().rev().find(|r| r.beside.is_some()).map_or(0.0, |r| r.speed);
        let words = format!(
            "included, above the speed of her own wave: air and the motor's leg, {} and {} at {fastest:.0} kn (Fluid-Dynamic Drag, 1965, from memory)",
            units.force(air),
            units.force(leg)
        );
        paragraph(out, "    ", &words);
    }
    let by = |method: Method| s.rows.iter().any(|r| r.method == method);
    if by(Method::Displacement) || s.runabout.is_some() {
        let words = "while she floats, by weight and waterline, and what runabouts reach by weight and power: formulas in Propeller Handbook (1989), from memory";
        paragraph(out, "    ", words);
    }
    if by(Method::Planing) || by(Method::Blend) {
        let words = "planing: lift, trim and drag of a prismatic hull (Savitsky, Marine Technology 1, 1964)";
        paragraph(out, "    ", words);
    }
    if s.rows.iter().any(|r| r.band.is_some()) {
        let words = "between floating and planing: tank tests of larger hulls with transoms (Mercier and Savitsky 1973, read second-hand), corrected for friction at her size, going over smoothly into the planing method where both hold";
        paragraph(out, "    ", words);
    }
    if s.rows.iter().any(|r| r.porpoising.is_some() || r.past_chart) {
        let _ = writeln!(
            out,
            "    porpoising: read off the chart of Savitsky 1964, figure 17, from memory and to a degree"
        );
    }
    out.push('\n');
}
