//! Faults of the document's own rows for the tables of wood, sheets and coverage.

use super::{Fault, Place, fault, figure, short};
use crate::hull::Hull;

/// The builder's own rows of the tables: positive, finite, and in their unit's range.
pub(super) fn own_rows(hull: &Hull, out: &mut Vec<Fault>) {
    twice(hull, out);
    let mut bad = |place: Place, what: String, field: &str, value: f64, accepted: &str| {
        out.push(fault(place, what, figure(field, short(value)), accepted));
    };
    for (i, w) in hull.woods.iter().enumerate() {
        let place = Place::Wood(i);
        for s in w.green.iter().chain([&w.at_12]) {
            if !(100.0..=100_000.0).contains(&s.mor_psi) {
                bad(
                    place,
                    format!("wood {:?}", w.name),
                    "mor_psi",
                    s.mor_psi,
                    "100 to 100000 lbf/in²",
                );
            }
            if !(0.05..=10.0).contains(&s.moe_mpsi) {
                bad(
                    place,
                    format!("wood {:?}", w.name),
                    "moe_mpsi",
                    s.moe_mpsi,
                    "0.05 to 10, in millions of lbf/in²",
                );
            }
            for (field, value, range, accepted) in [
                ("work", s.work, 0.1..=100.0, "0.1 to 100 in·lbf/in³"),
                ("crush_psi", s.crush_psi, 50.0..=50_000.0, "50 to 50000 lbf/in²"),
                ("shear_psi", s.shear_psi, 10.0..=20_000.0, "10 to 20000 lbf/in²"),
            ] {
                if let Some(v) = value.filter(|v| !range.contains(v)) {
                    bad(place, format!("wood {:?}", w.name), field, v, accepted);
                }
            }
        }
        if !(15.0..=40.0).contains(&w.mp_pct) {
            bad(place, format!("wood {:?}", w.name), "mp_pct", w.mp_pct, "15 to 40 percent");
        }
        if !(0.05..=1.5).contains(&w.specific_gravity) {
            bad(
                place,
                format!("wood {:?}", w.name),
                "specific_gravity",
                w.specific_gravity,
                "0.05 to 1.5",
            );
        }
    }
    for (i, s) in hull.sheets.iter().enumerate() {
        for (field, value, range) in [
            ("thickness_mm", s.thickness_mm, 1.0..=50.0),
            ("density_kg_m3", s.density_kg_m3, 50.0..=2000.0),
            ("length_mm", s.length_mm, 100.0..=20_000.0),
            ("width_mm", s.width_mm, 100.0..=20_000.0),
            ("plies", f64::from(s.plies.unwrap_or(3)), 3.0..=31.0),
            ("veneer_n_mm2", s.veneer_n_mm2.unwrap_or(8000.0), 1000.0..=30_000.0),
        ] {
            if !range.contains(&value) {
                let accepted = format!("{} to {}", range.start(), range.end());
                bad(Place::Sheet(i), format!("sheet {:?}", s.name), field, value, &accepted);
            }
        }
    }
    for (i, c) in hull.coverage.iter().enumerate() {
        let place = Place::Coverage(i);
        let range = c.what.range();
        if !range.contains(&c.value) {
            let accepted = format!("{} to {}, {}", range.start(), range.end(), c.what.unit());
            bad(place, format!("coverage {:?}", c.what), "value", c.value, &accepted);
        }
        if hull.coverage.iter().filter(|o| o.what == c.what).count() > 1 {
            bad(
                place,
                format!("coverage {:?}", c.what),
                "value",
                c.value,
                "one row for each figure",
            );
        }
    }
}

/// Rows of one name: which of them holds is anybody's guess.
fn twice(hull: &Hull, out: &mut Vec<Fault>) {
    let mut seen = |place: Place, what: &str, name: &str, before: bool| {
        if before {
            let message = format!("{name:?} stands there twice");
            out.push(fault(place, what.to_string(), message, "one row for each name"));
        }
    };
    for (i, w) in hull.woods.iter().enumerate() {
        let before = hull.woods[..i].iter().any(|o| o.name == w.name);
        seen(Place::Wood(i), "woods", &w.name, before);
    }
    for (i, s) in hull.sheets.iter().enumerate() {
        let before = hull.sheets[..i].iter().any(|o| o.name == s.name);
        seen(Place::Sheet(i), "sheets", &s.name, before);
    }
}
