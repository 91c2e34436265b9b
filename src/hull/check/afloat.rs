//! Faults of what is aboard, of what was weighed, of foam and paint.

use super::{Fault, Found, Place, fault, figure, short};
use crate::hull::loads::AfloatPlan;
use crate::tol::LARGEST_COORDINATE_MM;

/// More loads than this are no boat's but a list pasted twice.
const MOST_LOADS: usize = 100;

/// Adds the faults of the boat afloat.
pub(super) fn afloat(plan: &AfloatPlan, out: &mut Vec<Fault>) {
    let mut bad = |place: Place, what: String, found: Found, accepted: &str| {
        out.push(fault(place, what, found, accepted));
    };
    for (field, value, range, unit) in [
        ("margin_pct", plan.margin_pct, 0.0..=50.0, "percent"),
        ("cloth_g_m2", plan.cloth_g_m2, 0.0..=2000.0, "g/m², 0 for none"),
        ("boot_top_mm", plan.waterline.boot_top_mm, 0.0..=500.0, "mm, 0 for none"),
    ] {
        if !range.contains(&value) {
            bad(
                Place::Afloat,
                "afloat".into(),
                figure(field, short(value)),
                &format!("{} to {} {unit}", range.start(), range.end()),
            );
        }
    }
    if plan.coats > 20 {
        bad(Place::Afloat, "afloat".into(), figure("coats", plan.coats), "0 to 20 coats of paint");
    }
    if plan.loads.len() > MOST_LOADS {
        bad(
            Place::Afloat,
            "loads".into(),
            format!("{} of them", plan.loads.len()).into(),
            "at most 100",
        );
    }
    let within = -LARGEST_COORDINATE_MM..=LARGEST_COORDINATE_MM;
    for (i, l) in plan.loads.iter().enumerate() {
        let place = Place::Load(i);
        if l.name.trim().is_empty() {
            bad(place, "a load".into(), "it has no name".into(), "a name for each load");
        }
        if !(0.0..=5000.0).contains(&l.mass_kg) {
            let message = figure("mass_kg", short(l.mass_kg));
            bad(place, format!("load {:?}", l.name), message, "0 to 5000 kg");
        }
        for (axis, value) in [("x", l.x), ("y", l.y), ("z", l.z)] {
            if !within.contains(&value) {
                let message = figure(axis, short(value));
                bad(place, format!("load {:?}", l.name), message, "a place in mm, -20000 to 20000");
            }
        }
    }
    for (i, w) in plan.weighed.iter().enumerate() {
        if plan.weighed[..i].iter().any(|o| o.item == w.item) {
            let message = format!("{:?} is weighed twice", w.item).into();
            bad(Place::Weighed(i), "weighed".into(), message, "one weight for each item");
        }
        if !(0.1..=5000.0).contains(&w.mass_kg) {
            let message = figure("mass_kg", short(w.mass_kg));
            bad(Place::Weighed(i), format!("weighed {:?}", w.item), message, "0.1 to 5000 kg");
        }
    }
    for (i, f) in plan.foam.iter().enumerate() {
        let place = Place::Foam(i);
        let what = format!("foam {:?}", f.name);
        if f.from.iter().chain(&f.to).any(|c| !within.contains(c)) {
            let message = format!("from {:?} to {:?}", f.from, f.to).into();
            bad(place, what.clone(), message, "two corners in mm, -20000 to 20000");
        } else if f.volume() < 1.0 {
            let message = format!("from {:?} to {:?} is no block", f.from, f.to).into();
            bad(place, what.clone(), message, "two corners that differ in all three directions");
        } else if f.both_sides && f.from[1] * f.to[1] < 0.0 {
            let message = format!("it reaches from {} to {} across", f.from[1], f.to[1]).into();
            bad(
                place,
                what.clone(),
                message,
                "with `both_sides`, a block on one side of the centreplane",
            );
        }
        if !(0.0..=30.0).contains(&f.box_ply_mm) {
            let message = figure("box_ply_mm", short(f.box_ply_mm));
            bad(place, what.clone(), message, "0 to 30 mm, 0 for no box");
        }
        if !(5.0..=400.0).contains(&f.density_kg_m3) {
            let message = figure("density_kg_m3", short(f.density_kg_m3));
            bad(place, what, message, "5 to 400 kg/m³");
        }
    }
}
