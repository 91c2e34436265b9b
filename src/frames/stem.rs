//! The stem (or the post of a sharp stern): its profile, the bevel that rolls along it, the
//! blank that it is sawn from and its joint with the keelson.
//!
//! Square to its profile the insides of both sides leave the centreplane at the half angle
//! of entrance. A stem of siding S with half-siding h at its front is planed from each side
//! face at that angle; the planking lands on (S/2 − h) / sin α of it, and the bevel runs
//! (S/2 − h) / tan α back.

use super::pieces::extent;
use super::section::Skin;
use crate::geom::region::Region;
use crate::geom::{P2, P3, V2, V3, unit};
use crate::hull::StemPlan;

/// Heights at which the bevel is said, mm.
const EVERY_MM: f64 = 100.0;
/// Wood that must remain behind the bevel, mm: a fastening's hold. Common practice, no
/// source.
pub const BEHIND_BEVEL_MM: f64 = 12.0;
/// A panel whose end is shorter than this (mm) comes to a point.
const LEAST_EDGE_MM: f64 = 1.0;
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
    /// How far back from the front the bevel runs, mm.
    pub back: f64,
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
    /// Depth of the notch in its heel for the keelson, mm; 0 where there is none.
    pub heel_notch: f64,
}

/// The forward (or after) edge of the skin, from the foot up: place and normal.
fn edge(skin: &Skin, at_stern: bool) -> Vec<(P3, V3)> {
    let mut out: Vec<(P3, V3)> = Vec::new();
    let first = usize::from(skin.lines.flat_bottom);
    for p in &skin.panels[first..] {
        let here = p.surface.end_edge(at_stern);
        // A panel that comes to a point there lands nothing on the stem.
        let length: f64 = here.windows(2).map(|w| (w[1].0 - w[0].0).norm()).sum();
        if length > LEAST_EDGE_MM {
            out.extend(here);
        }
    }
    out.dedup_by(|b, a| (a.0 - b.0).norm() < 1e-3);
    out
}

/// Half-breadth at which the lines begin there; the keel's is always nothing.
fn half_siding(skin: &Skin, at_stern: bool) -> f64 {
    let lines = skin.lines.lines.iter().filter(|l| l.name != "keel");
    let end = |l: &crate::hull::HullLine| if at_stern { l.spline.end() } else { 0.0 };
    lines.map(|l| l.spline.at(end(l)).y).fold(f64::INFINITY, f64::min).max(0.0)
}

/// The stem of a hull; `keelson` is the depth of a keelson that its heel stands on, mm.
pub fn stem(
    skin: &Skin,
    plan: &StemPlan,
    widths: &[f64],
    keelson: f64,
    at_stern: bool,
) -> Option<Stem> {
    let edge = edge(skin, at_stern);
    if edge.len() < 2 {
        return None;
    }
    let profile: Vec<P2> = edge.iter().map(|(p, _)| P2::new(p.x, p.z)).collect();
    let half_siding = half_siding(skin, at_stern);
    let bevels = rolling(&edge, plan.sided_mm, half_siding);
    let aft = if at_stern { -1.0 } else { 1.0 };
    // The keelson lies along the keel, which is not level there.
    let keel = &skin.lines.lines[0].spline;
    let along = keel.jet(if at_stern { keel.end() } else { 0.0 }).d1;
    let outline = blank(&profile, plan, keelson, aft, V2::new(along.x, along.z));
    let chord = (profile[profile.len() - 1] - profile[0]).try_normalize(1e-9)?;
    let needed = extent(&outline, V2::new(-chord.y, chord.x));
    let fits = widths.iter().copied().filter(|w| *w >= needed).reduce(f64::min);
    let length = crate::geom::polyline::length2(&profile);
    // Two parts make a bent stem narrower, but none narrower than it is deep.
    let widest = widths.iter().copied().fold(0.0, f64::max);
    let parts = if fits.is_some() || plan.moulded_mm > widest { 1 } else { 2 };
    let lap = if parts == 1 { 0.0 } else { LAP * plan.moulded_mm };
    Some(Stem {
        at_stern,
        half_siding,
        bevels,
        length,
        board_width: fits.unwrap_or(needed),
        board_length: extent(&outline, chord) + lap,
        wide_enough: fits.is_some(),
        parts,
        lap,
        heel_notch: keelson,
        outline,
        profile,
    })
}

/// Bevels at about even distances along the edge.
fn rolling(edge: &[(P3, V3)], sided: f64, half_siding: f64) -> Vec<StemBevel> {
    let at = |p: P3| P2::new(p.x, p.z);
    let mut out: Vec<StemBevel> = Vec::new();
    let mut since = f64::INFINITY;
    for (i, w) in edge.windows(2).enumerate() {
        let step = w[1].0 - w[0].0;
        let Some(e) = unit(V3::new(step.x, 0.0, step.z)) else {
            continue;
        };
        let pieces = (step.norm() / EVERY_MM).ceil().max(1.0);
        let last = i + 2 == edge.len();
        let to = if last { pieces as usize } else { pieces as usize - 1 };
        for k in 0..=to {
            let t = k as f64 / pieces;
            let n = w[0].1.lerp(&w[1].1, t);
            let square = n - n.dot(&e) * e;
            // The planking's plane leaves the centreplane as its normal leaves y.
            let half_angle = crate::geom::angle_between(square, V3::y());
            let p = w[0].0 + t * step;
            let side = (0.5 * sided - half_siding).max(0.0);
            if since >= 0.3 * EVERY_MM || (last && k == to) {
                out.push(StemBevel {
                    at: at(p),
                    half_angle,
                    land: side / half_angle.sin().max(1e-6),
                    back: side / half_angle.tan().max(1e-6),
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
