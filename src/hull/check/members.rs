//! Faults of members: sections, moisture, stock, soak and stick test out of range, doubled rows.

use super::{Fault, Place, fault, figure, short};
use crate::hull::Hull;
use crate::hull::lumber::{GREATEST_MOISTURE_PCT, LEAST_MOISTURE_PCT, Stock};

/// All faults of the members, in the order of the file.
pub(super) fn members(hull: &Hull, out: &mut Vec<Fault>) {
    for (i, m) in hull.members.iter().enumerate() {
        let mut bad = |field: &str, value: f64, accepted: &str| {
            out.push(fault(
                Place::Member(i),
                format!("member {:?}", m.name),
                figure(field, short(value)),
                accepted,
            ));
        };
        let moisture =
            format!("{LEAST_MOISTURE_PCT} to {GREATEST_MOISTURE_PCT} percent of dry weight");
        let mut rows = vec![
            ("moulded_mm", m.moulded_mm, 1.0..=300.0, "1 to 300 mm"),
            ("sided_mm", m.sided_mm, 1.0..=500.0, "1 to 500 mm"),
            (
                "moisture_pct",
                m.moisture_pct,
                LEAST_MOISTURE_PCT..=GREATEST_MOISTURE_PCT,
                moisture.as_str(),
            ),
            ("soak.water_c", m.soak.water_c, 5.0..=100.0, "5 to 100 °C"),
            ("soak.hours", m.soak.hours, 0.0..=240.0, "0 to 240 hours"),
        ];
        if let Some(air) = m.air {
            rows.push((
                "air.temperature_c",
                air.temperature_c,
                -10.0..=60.0,
                "-10 to 60 °C, the air's mean of a month",
            ));
            rows.push(("air.humidity_pct", air.humidity_pct, 5.0..=95.0, "5 to 95 percent"));
        }
        if let Stock::Graded { one_in } = m.stock {
            rows.push((
                "stock's one_in",
                one_in,
                6.0..=20.0,
                "6 to 20; straighter grain than that is `Clear` if it has no knots either",
            ));
        }
        for (field, value, range, accepted) in rows {
            if !range.contains(&value) {
                bad(field, value, accepted);
            }
        }
        if let Some(s) = &m.stick_test {
            for (field, value) in [
                ("span_mm", s.span_mm),
                ("width_mm", s.width_mm),
                ("depth_mm", s.depth_mm),
                ("weight_kg", s.weight_kg),
                ("sag_mm", s.sag_mm),
            ] {
                if !(1e-3..1e5).contains(&value) {
                    bad(field, value, "a measured number above 0");
                }
            }
        }
        if hull.members[..i].iter().any(|before| before.name == m.name) {
            out.push(fault(
                Place::Member(i),
                format!("member {:?}", m.name),
                "an earlier member has that name, so it would be bought and weighed twice",
                "one row for each member; a second stick there needs a name of its own",
            ));
        }
    }
}
