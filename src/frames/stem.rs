//! The stem (or the post of a sharp stern): its profile, the bevel that rolls along it, the
//! blank that it is sawn from and its joint with the keelson.
//!
//! Square to its profile the insides of both sides leave the centreplane at the half angle
//! of entrance. A stem of siding S with half-siding h at its front is planed from each side
//! face at that angle; the planking lands on (S/2 − h) / sin α of it, and the bevel runs
//! (S/2 − h) / tan α back.

use super::bow_joint::{self, BowJoint, Foot};
use super::end_cut::{self, EndCut};
use super::outer_stem::{OuterStem, outer_stem};
use super::pieces::extent;
use super::section::Skin;
use crate::bend::BentMember;
use crate::flat::past_post::half_angle;
use crate::geom::region::Region;
use crate::geom::{P2, P3, V2, V3};
use crate::hull::{MemberSide, StemPlan, StemSides};
use crate::part::LineId;

/// Heights at which the bevel is said, mm.
const EVERY_MM: f64 = 100.0;
/// Wood that must remain behind the bevel, mm: a fastening's hold. Common practice, no
/// source.
pub const BEHIND_BEVEL_MM: f64 = 12.0;
/// A blank that is wider than a board by less than this (mm) comes out of it: rounding.
const SAME_WIDTH_MM: f64 = 0.05;
/// Least share of a bottom's normal that lies in the centreplane, where its depth below the
/// keel is asked for: a V of under 6° a side has no bottom to speak of.
const LEAST_SLANT: f64 = 0.1;
/// A panel whose end is shorter than this (mm) comes to a point.
const LEAST_EDGE_MM: f64 = 1.0;
/// A stem shorter than this (mm) is none: the lines come together there, and nothing is left
/// for the sides to land on. Our judgement; no source.
const LEAST_STEM_MM: f64 = 10.0;
/// Two parts of a stem lap by this many times its depth. Common practice, no source.
const LAP: f64 = 2.0;

/// The bevel at one height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StemBevel {
    /// The place on the profile: (aft, up), mm.
    pub at: P2,
    /// Angle between the planking's inside and the centreplane, square to the stem, radians.
    pub half_angle: f64,
    /// Width of the planking's landing on each side, mm.
    pub land: f64,
    /// How far back from the front the bevel runs, mm; no further than the stem is deep.
    pub back: f64,
    /// Index of the panel that lands there.
    pub panel: usize,
}

/// A stem or a sternpost.
#[derive(Debug, Clone, PartialEq)]
pub struct Stem {
    /// At the stern instead of the bow.
    pub at_stern: bool,
    /// From its foot to its head: (aft, up), mm.
    pub profile: Vec<P2>,
    /// Half-breadth at which the lines begin, mm.
    pub half_siding: f64,
    /// The rolling bevel from foot to head.
    pub bevels: Vec<StemBevel>,
    /// The blank: (aft, up), mm.
    pub outline: Vec<P2>,
    /// Length of the profile, mm.
    pub length: f64,
    /// Width of the board for the blank, mm.
    pub board_width: f64,
    /// Length of board, mm.
    pub board_length: f64,
    /// Whether a board of the builder's is that wide.
    pub wide_enough: bool,
    /// Parts that it is made of, and how far they lap (mm): one where a board is wide
    /// enough.
    pub parts: usize,
    /// Lap of two parts, mm; 0 for one.
    pub lap: f64,
    /// Depth of the keelson, or of the bow floor, that its heel stands on, mm.
    pub heel_notch: f64,
    /// The outer stem, where the sides run past.
    pub outer: Option<OuterStem>,
    /// How logs and clamps land on its starboard side, and how their ends are cut.
    pub ends: Vec<EndCut>,
    /// The joint of its foot with the keelson.
    pub joint: Option<BowJoint>,
}

impl Stem {
    /// From the heel's corner at the front of the blank to the foot, along the stem's line
    /// run on past the heel, mm: what the keelson under the heel takes.
    pub fn heel_to_foot(&self) -> f64 {
        let Some([foot, next]) = self.profile.first_chunk::<2>() else {
            return 0.0;
        };
        let Some(e) = (next - foot).try_normalize(1e-9) else {
            return 0.0;
        };
        let on_line = |p: &&P2| ((*p - foot).x * e.y - (*p - foot).y * e.x).abs() < 0.5;
        let along = self.outline.iter().filter(on_line).map(|p| (p - foot).dot(&e));
        along.fold(f64::INFINITY, f64::min).clamp(0.0, self.length)
    }
}

/// The forward (or after) edge of the skin, from the foot up: place, normal and panel.
fn edge(skin: &Skin, at_stern: bool) -> Vec<(P3, V3, usize)> {
    let mut out: Vec<(P3, V3, usize)> = Vec::new();
    let first = usize::from(skin.lines.flat_bottom);
    for (k, p) in skin.panels.iter().enumerate().skip(first) {
        let here = p.surface.end_edge(at_stern);
        // A panel that comes to a point there lands nothing on the stem.
        let length: f64 = here.windows(2).map(|w| (w[1].0 - w[0].0).norm()).sum();
        if length > LEAST_EDGE_MM {
            out.extend(here.into_iter().map(|(p, n)| (p, n, k)));
        }
    }
    out.dedup_by(|b, a| (a.0 - b.0).norm() < 1e-3);
    out
}

/// The narrowest of the builder's boards that a blank of `needed` mm comes out of.
pub(super) fn board_for(needed: f64, widths: &[f64]) -> Option<f64> {
    widths.iter().copied().filter(|w| *w >= needed - SAME_WIDTH_MM).reduce(f64::min)
}

/// What a stem is made from.
#[derive(Debug, Clone, Copy)]
pub struct StemStock<'a> {
    /// The skin.
    pub skin: &'a Skin<'a>,
    /// Members, some of which end on it.
    pub members: &'a [BentMember],
    /// The builder's choices.
    pub plan: &'a StemPlan,
    /// Measured board widths, mm.
    pub widths: &'a [f64],
    /// Thickness of the board that a bow floor is made of, mm.
    pub floor: f64,
}

/// Width of a bow floor beside the stem on either side, as a multiple of the stem's width.
/// Common practice, no source.
const FLOOR_BESIDE: f64 = 0.5;

/// The stem of a hull, or the post of a stern as sharp; `None` where the lines come together
/// and leave no post.
pub fn stem(stock: StemStock, at_stern: bool) -> Option<Stem> {
    let StemStock { skin, members, plan, widths, .. } = stock;
    // What its heel stands on: the deepest keelson, or a floor made for it.
    let keelson = members
        .iter()
        .map(|b| &b.member)
        .filter(|m| m.follows(LineId::Keel) && m.side == MemberSide::Inside)
        .max_by(|a, b| a.moulded_mm.total_cmp(&b.moulded_mm))
        .map(|m| (m.moulded_mm, m.sided_mm));
    let floor = (stock.floor, (1.0 + 2.0 * FLOOR_BESIDE) * plan.sided_mm);
    let under = keelson.unwrap_or(floor);
    let edge = edge(skin, at_stern);
    let length: f64 = edge.windows(2).map(|w| (w[1].0 - w[0].0).norm()).sum();
    if edge.len() < 2 || length < LEAST_STEM_MM {
        return None;
    }
    let profile: Vec<P2> = edge.iter().map(|(p, _, _)| P2::new(p.x, p.z)).collect();
    let half_siding = skin.lines.half_siding(at_stern);
    let bevels = rolling(&edge, plan, half_siding);
    let aft = if at_stern { -1.0 } else { 1.0 };
    // The keelson lies along the keel, which is not level there.
    let keel = bow_joint::keel_way(skin, at_stern);
    let outline = blank(&profile, plan, under.0, aft, keel);
    let chord = (profile[profile.len() - 1] - profile[0]).try_normalize(1e-9)?;
    let needed = extent(&outline, V2::new(-chord.y, chord.x));
    let fits = board_for(needed, widths);
    let length = crate::geom::polyline::length2(&profile);
    // Two parts make a bent stem narrower, but none narrower than it is deep.
    let widest = widths.iter().copied().fold(0.0, f64::max);
    let parts = if fits.is_some() || plan.moulded_mm > widest { 1 } else { 2 };
    let lap = if parts == 1 { 0.0 } else { LAP * plan.moulded_mm };
    let outer = (plan.sides == StemSides::RunPast)
        .then(|| {
            let below = bottom_below(skin, at_stern);
            let lines = (bevels.as_slice(), half_siding);
            outer_stem(skin, plan, widths, lines, at_stern, (keel, below))
        })
        .flatten();
    let foot =
        Foot { outline: &outline, at: profile[0], keel, stem: profile[1] - profile[0], length };
    let joint = bow_joint::bow_joint(
        skin,
        members,
        plan,
        widths,
        foot,
        (under, keelson.is_none()),
        at_stern,
    );
    Some(Stem {
        at_stern,
        outer,
        ends: end_cut::on_stem(skin, members, plan.sided_mm, at_stern),
        joint,
        half_siding,
        bevels,
        length,
        board_width: fits.unwrap_or(needed),
        board_length: extent(&outline, chord) + lap,
        wide_enough: fits.is_some(),
        parts,
        lap,
        heel_notch: under.0,
        outline,
        profile,
    })
}

/// How far below the keel's end the bottom's outside lies, square to the keel in the
/// centreplane, mm.
fn bottom_below(skin: &Skin, at_stern: bool) -> f64 {
    let bottom = &skin.panels[0];
    let rulings = &bottom.surface.rulings;
    let n = rulings[if at_stern { rulings.len() - 1 } else { 0 }].normal_lower;
    bottom.thickness / n.x.hypot(n.z).max(LEAST_SLANT)
}

/// Bevels at about even distances along the edge. None runs further back than the stem is
/// deep: where the sides leave it too nearly fore and aft, there is no more wood to plane.
fn rolling(edge: &[(P3, V3, usize)], plan: &StemPlan, half_siding: f64) -> Vec<StemBevel> {
    let at = |p: P3| P2::new(p.x, p.z);
    let mut out: Vec<StemBevel> = Vec::new();
    let mut since = f64::INFINITY;
    for (i, w) in edge.windows(2).enumerate() {
        let step = w[1].0 - w[0].0;
        let pieces = (step.norm() / EVERY_MM).ceil().max(1.0);
        let last = i + 2 == edge.len();
        let to = if last { pieces as usize } else { pieces as usize - 1 };
        for k in 0..=to {
            let t = k as f64 / pieces;
            let n = w[0].1.lerp(&w[1].1, t);
            let Some(half_angle) = half_angle(n, step) else {
                continue;
            };
            let p = w[0].0 + t * step;
            let side = (0.5 * plan.sided_mm - half_siding).max(0.0);
            let back = (side / half_angle.tan().max(1e-6)).min(plan.moulded_mm);
            if since >= 0.3 * EVERY_MM || (last && k == to) {
                out.push(StemBevel {
                    at: at(p),
                    half_angle,
                    land: (side / half_angle.sin().max(1e-6)).min(side.hypot(back)),
                    back,
                    panel: w[1].2,
                });
                since = 0.0;
            }
            since += step.norm() / pieces;
        }
    }
    out
}

/// The blank's outline: the profile run on at the head, its depth behind it, the heel cut
/// along the keel, or along the keelson's top where there is one.
fn blank(profile: &[P2], plan: &StemPlan, keelson: f64, aft: f64, keel: V2) -> Vec<P2> {
    let n = profile.len();
    let way = |i: usize| {
        let (a, b) = (i.saturating_sub(1), (i + 1).min(n - 1));
        (profile[b] - profile[a]).try_normalize(1e-9).unwrap_or_else(V2::y)
    };
    let mut front = profile.to_vec();
    front.push(profile[n - 1] + plan.over_mm * way(n - 1));
    // Square to the profile, into the boat.
    let back_of = |i: usize| {
        let e = way(i);
        let normal = V2::new(e.y, -e.x);
        profile[i] + plan.moulded_mm * if normal.x * aft >= 0.0 { normal } else { -normal }
    };
    let mut back: Vec<P2> = (0..n).map(back_of).collect();
    back.push(back[n - 1] + plan.over_mm * way(n - 1));
    // The heel runs on below the keel and is cut off along it.
    let foot = profile[0];
    let e = way(0);
    back.insert(0, back[0] - plan.moulded_mm * e);
    let mut ring = front;
    ring.extend(back.iter().rev());
    ring.push(foot - plan.moulded_mm * e);
    let whole = Region::of(&ring);
    let Some(k) = keel.try_normalize(1e-9) else {
        return whole.largest();
    };
    let up = V2::new(-k.y, k.x) * k.x.signum();
    whole.and(&super::pieces::half_plane(foot + keelson * up, up)).largest()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Planking that leaves a stem nearly fore and aft would be planed back for ever (19 km on
    /// one hull); at 45° the bevel of 38 mm runs half of that back.
    #[test]
    fn a_bevel_runs_no_further_back_than_the_stem_is_deep() {
        let plan = StemPlan { sided_mm: 38.0, moulded_mm: 89.0, ..StemPlan::default() };
        let bevels = |angle: f64| {
            let (sin, cos) = angle.sin_cos();
            let n = V3::new(-sin, cos, 0.0);
            let edge = [(P3::new(0.0, 0.0, 0.0), n, 0), (P3::new(0.0, 0.0, 400.0), n, 0)];
            rolling(&edge, &plan, 0.0)
        };
        for b in bevels(45f64.to_radians()) {
            assert!((b.back - 19.0).abs() < 1e-9, "{b:?}");
            assert!((b.land - 19.0 * 2f64.sqrt()).abs() < 1e-9, "{b:?}");
        }
        for angle in [0.0, 1e-9, 0.01] {
            let all = bevels(angle);
            assert!(all.len() > 2);
            assert!(all.iter().all(|b| b.back == 89.0 && b.land <= 92.0), "{angle}: {all:?}");
        }
    }
}
