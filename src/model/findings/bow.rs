//! Bones at the stem: whether the sides close there, what is left for them to bear on, and
//! where logs and clamps land.

use super::Model;
use crate::finding::{Finding, Place, StemFact};
use crate::frames::Stem;
use crate::frames::stem::BEHIND_BEVEL_MM;
use crate::geom::region::Region;
use crate::geom::ring::centroid;
use crate::geom::{P2, P3};
use crate::hull::StemSides;
use crate::part::{AtEnd, MemberId, PartId};

/// A flat that is wider than the outer stem by less than this (mm) is covered by paint.
const COVERED_MM: f64 = 0.5;
/// Sides mitred at a bevel from square over this (radians, 45°) end in a feather edge that a
/// plane alone makes. Common practice, no source.
const FEATHER: f64 = 45.0 * std::f64::consts::PI / 180.0;
/// The share of a stick's end that is to land on the stem. Our judgement; no source.
const LANDS: f64 = 0.6;

pub(super) fn bow(model: &Model, s: &Stem, out: &mut Vec<Finding>) {
    closing(model, s, out);
    landings(s, out);
}

/// A place of the stem's profile.
fn in_profile(p: P2) -> P3 {
    P3::new(p.x, 0.0, p.y)
}

fn closing(model: &Model, s: &Stem, out: &mut Vec<Finding>) {
    let plan = &model.hull.stem;
    let end = AtEnd::at_stern(s.at_stern);
    if let Some(o) = &s.outer {
        let outer = PartId::OuterStem(end);
        let edges = o.sections.iter().map(|c| c.flat_width).fold(0.0, f64::max);
        if edges > plan.outer_sided_mm + COVERED_MM {
            let bare = StemFact::BareGrain { end, edges, sided: plan.outer_sided_mm };
            out.push(Finding::watch(Place::OuterStem(end), bare).about(outer));
        }
        // Of the planking's landing the flat takes what lies ahead of it.
        let bearing = |i: usize| {
            let b = &s.bevels[i];
            b.land - o.sections[i].planed / b.half_angle.cos().max(1e-3)
        };
        let least = (0..o.sections.len().min(s.bevels.len()))
            .min_by(|a, b| bearing(*a).total_cmp(&bearing(*b)));
        if let Some(i) = least.filter(|i| bearing(*i) < BEHIND_BEVEL_MM) {
            let (left, needed) = (bearing(i).max(0.0), BEHIND_BEVEL_MM);
            let place = Place::StemAt(end, s.bevels[i].at.y);
            out.push(
                Finding::watch(place, StemFact::LittleBearing { end, left, needed })
                    .about(PartId::Stem(end))
                    .at(in_profile(s.bevels[i].at)),
            );
        }
        if !o.wide_enough {
            let board = StemFact::OuterBoard(o.board_width);
            out.push(Finding::note(Place::OuterStem(end), board).about(outer));
        }
    }
    if plan.sides == StemSides::Mitred
        && let Some(b) = s.bevels.iter().min_by(|a, b| a.half_angle.total_cmp(&b.half_angle))
        && std::f64::consts::FRAC_PI_2 - b.half_angle > FEATHER
    {
        let edge = StemFact::FeatherEdge(b.half_angle);
        out.push(
            Finding::note(Place::Stem(end), edge).about(PartId::Stem(end)).at(in_profile(b.at)),
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

fn landings(s: &Stem, out: &mut Vec<Finding>) {
    let end = AtEnd::at_stern(s.at_stern);
    // Under the heel the keelson, of the stem's width there, takes the end as well.
    let wood = Region::of(&s.outline).or(&under_heel(s));
    for e in &s.ends {
        let stick = Region::of(&e.corners);
        let share = wood.and(&stick).area() / stick.area().max(1e-9);
        if share < LANDS {
            let beside = StemFact::LandsBeside { end, share, short: e.short };
            out.push(
                Finding::watch(Place::OnStem(end, e.name.clone()), beside)
                    .about(PartId::Member(MemberId(e.member)))
                    .at(in_profile(centroid(&e.corners))),
            );
        }
    }
}
