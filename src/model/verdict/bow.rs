//! Bones at the stem: whether the sides close there, what is left for them to bear on, and
//! where logs and clamps land.

use super::Model;
use crate::finding::Finding;
use crate::frames::Stem;
use crate::frames::stem::BEHIND_BEVEL_MM;
use crate::geom::region::Region;
use crate::geom::ring::centroid;
use crate::geom::{P2, P3};
use crate::hull::StemSides;
use crate::part::{AtEnd, MemberId, PartId, Question};

/// A flat that is wider than the outer stem by less than this (mm) is covered by paint.
const COVERED_MM: f64 = 0.5;
/// Sides mitred at a bevel from square over this (radians, 45°) end in a feather edge that a
/// plane alone makes. Common practice, no source.
const FEATHER: f64 = 45.0 * std::f64::consts::PI / 180.0;
/// The share of a stick's end that is to land on the stem. Our judgement; no source.
const LANDS: f64 = 0.6;

pub(super) fn bow(model: &Model, name: &str, s: &Stem, out: &mut Vec<Finding>) {
    closing(model, name, s, out);
    landings(model, name, s, out);
}

/// A place of the stem's profile.
fn in_profile(p: P2) -> P3 {
    P3::new(p.x, 0.0, p.y)
}

fn closing(model: &Model, name: &str, s: &Stem, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let plan = &model.hull.stem;
    let end = AtEnd::at_stern(s.at_stern);
    if let Some(o) = &s.outer {
        let widest = o.sections.iter().map(|c| c.flat_width).fold(0.0, f64::max);
        if widest > plan.outer_sided_mm + COVERED_MM {
            out.push(Finding::watch(
                Question::Bones,
                format!("outer {name}"),
                format!(
                    "the edges of both sides are {} wide together on the {name}'s line; it is {} sided and leaves end grain bare",
                    units.fine(widest),
                    units.fine(plan.outer_sided_mm)
                ),
                format!("make the outer stem's sided width at least {}", units.fine(widest.ceil())),
            )
            .about(PartId::OuterStem(end)));
        }
        // Of the planking's landing the flat takes what lies ahead of it.
        let bearing = |i: usize| {
            let b = &s.bevels[i];
            b.land - o.sections[i].planed / b.half_angle.cos().max(1e-3)
        };
        let least = (0..o.sections.len().min(s.bevels.len()))
            .min_by(|a, b| bearing(*a).total_cmp(&bearing(*b)));
        if let Some(i) = least.filter(|i| bearing(*i) < BEHIND_BEVEL_MM) {
            out.push(Finding::watch(
                Question::Bones,
                format!("{name}, {} above the baseline", units.show(s.bevels[i].at.y)),
                format!(
                    "planed to the outer {name}'s flat it leaves the sides {} to bear on",
                    units.fine(bearing(i).max(0.0))
                ),
                format!(
                    "a fastening needs {}: take a narrower outer {name} or a greater sided width of the inner one",
                    units.fine(BEHIND_BEVEL_MM)
                ),
            )
            .about(PartId::Stem(end))
            .at(in_profile(s.bevels[i].at)));
        }
        if !o.wide_enough {
            out.push(
                Finding::note(
                    Question::Bones,
                    format!("outer {name}"),
                    format!("its blank needs a board {} wide", units.show(o.board_width)),
                    "glue it up of layers bent round the flat, or scarf it of two parts",
                )
                .about(PartId::OuterStem(end)),
            );
        }
    }
    if plan.sides == StemSides::Mitred
        && let Some(b) = s.bevels.iter().min_by(|a, b| a.half_angle.total_cmp(&b.half_angle))
        && std::f64::consts::FRAC_PI_2 - b.half_angle > FEATHER
    {
        out.push(
            Finding::note(
                Question::Bones,
                name,
                format!(
                    "its sides are mitred at {:.0}° from square, a feather edge",
                    90.0 - b.half_angle.to_degrees()
                ),
                "plane them in place, or let them run past and cover them with an outer stem",
            )
            .about(PartId::Stem(end))
            .at(in_profile(b.at)),
        );
    }
}

/// The keelson's side under a stem's heel, in the plane of the stem's profile.
fn under_heel(s: &Stem) -> Region {
    let Some((j, k)) = s.joint.as_ref().and_then(|j| Some((j, j.knee.as_ref()?))) else {
        return Region::default();
    };
    let Some(e) = (k.outline[1] - k.outline[0]).try_normalize(1e-9) else {
        return Region::default();
    };
    // Square to the keel, up from the foot: to the corner that the heel and the knee share.
    let foot = s.profile[0];
    let rise = k.outline[0] - foot;
    let up = rise - rise.dot(&e) * e;
    let aft = j.taper.first().map_or(j.heel, |t| t.from_end) * e;
    Region::of(&[foot, foot + aft, foot + aft + up, foot + up])
}

fn landings(model: &Model, name: &str, s: &Stem, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    // Under the heel the keelson, of the stem's width there, takes the end as well.
    let wood = Region::of(&s.outline).or(&under_heel(s));
    for e in &s.ends {
        let end = Region::of(&e.corners);
        let share = wood.and(&end).area() / end.area().max(1e-9);
        if share < LANDS {
            out.push(Finding::watch(
                Question::Bones,
                format!("{name}, {}", e.name),
                format!(
                    "only {:.0} in 100 of its end lands on the {name}, {} {} the end of its line",
                    100.0 * share,
                    units.show(e.short.abs()),
                    if e.short >= 0.0 { "short of" } else { "past" }
                ),
                format!("make the {name} deeper (moulded), or put a block behind it for the end"),
            )
            .about(PartId::Member(MemberId(e.member)))
            .at(in_profile(centroid(&e.corners))));
        }
    }
}
