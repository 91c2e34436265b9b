//! Laps: which panel covers the edge of which, the bevels of their edges, and what that adds
//! to each pattern.
//!
//! Square to the line where two panels meet, let n and n' be their outward normals, w the
//! way out of a panel past its edge, t and t' their thicknesses. The inner faces meet on
//! the line. A panel that is *lapped* is planed flush with the inner face of the one that
//! covers it: at depth d its edge lies at s = −d (n'·n) / (n'·w) past the line. The one that
//! *laps* is cut flush with the other's outer face: s = (t' − d n'·n) / (n'·w). The sheer is
//! planed level, and the bottoms of a V meet in the centreplane.

use crate::geom::{V3, unit};
use crate::hull::{HullLines, Lap};
use crate::panel::{EdgeKind, Ruling, Surface};
use crate::part::LineId;

/// Two panels that turn by less than this (radians) at most places of their line are not
/// lapped: the lap would be a feather edge several thicknesses wide. Common practice, no
/// source.
const LEAST_TURN: f64 = 35.0 * std::f64::consts::PI / 180.0;
/// An addition larger than this many thicknesses is cut there: the two panels run so nearly
/// on in one plane that one would cover the other for ever.
pub(super) const MOST_THICKNESSES: f64 = 4.0;

/// What a panel's edge does where it meets another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// It covers the other's edge.
    Laps,
    /// It is planed flush and covered.
    Lapped,
    /// Both are planed to the plane that halves their corner: too flat a one to lap.
    Halves,
    /// It is planed level: the sheer.
    Level,
    /// It meets its mirror image in the centreplane.
    Meets,
    /// It runs across the boat: the middle of a flat bottom.
    RunsOn,
}

impl Role {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Role::Laps => "laps",
            Role::Lapped => "is lapped",
            Role::Halves => "meets on the halved corner",
            Role::Level => "is planed level",
            Role::Meets => "meets its other half",
            Role::RunsOn => "runs across",
        }
    }
}

/// One long edge of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct LappedEdge {
    /// What it does.
    pub role: Role,
    /// Added past the line at each ruling, along the skin, mm. This and what follows is no
    /// number (NaN) where the ruling does not end on the line.
    pub added: Vec<f64>,
    /// Bevel from square at each ruling, radians: positive where the outer face is longer.
    pub bevel: Vec<f64>,
    /// How open the corner is at each ruling: the tangent by which it passes a right angle
    /// inside the boat. A stick on this panel `m` deep is let down `m` times this.
    pub open: Vec<f64>,
}

impl LappedEdge {
    /// Greatest addition, mm.
    pub fn most_added(&self) -> f64 {
        self.added.iter().copied().fold(0.0, f64::max)
    }

    /// Bevels as a sheet `thickness` mm thick has them that lies with its inner face up:
    /// radians and run in mm, positive where wood comes off the outer face, the far one.
    pub fn off_far_face(&self, thickness: f64) -> Vec<(f64, f64)> {
        let known = self.bevel.iter().filter(|b| b.is_finite());
        known.map(|b| (-b, -thickness * b.tan())).collect()
    }

    /// Least and greatest bevel, radians.
    pub fn bevel_range(&self) -> (f64, f64) {
        self.bevel
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), b| (l.min(*b), h.max(*b)))
    }
}

/// Both long edges of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelLaps {
    /// Along its lower line.
    pub lower: LappedEdge,
    /// Along its upper line.
    pub upper: LappedEdge,
}

impl PanelLaps {
    /// Before the neighbours are known: edges that run on and add nothing.
    pub fn none() -> PanelLaps {
        let edge = || LappedEdge { role: Role::RunsOn, added: vec![], bevel: vec![], open: vec![] };
        PanelLaps { lower: edge(), upper: edge() }
    }
}

/// Normals of a panel along one of its lines: (share of the line, outward normal).
pub(super) fn normals_along(surface: &Surface, upper: bool) -> Vec<(f64, V3)> {
    if upper {
        surface.upper_edge().map(|r| (r.v, r.normal_upper)).collect()
    } else {
        surface.lower_edge().map(|r| (r.u, r.normal_lower)).collect()
    }
}

pub(super) fn at_share(normals: &[(f64, V3)], share: f64) -> Option<V3> {
    let i = normals.partition_point(|n| n.0 <= share);
    if i == 0 {
        return normals.first().map(|n| n.1);
    }
    if i == normals.len() {
        return normals.last().map(|n| n.1);
    }
    let ((s0, n0), (s1, n1)) = (normals[i - 1], normals[i]);
    unit(n0.lerp(&n1, (share - s0) / (s1 - s0).max(1e-12)))
}

/// The laps of panel `k`; `surfaces` and `thicknesses` are those of all panels from the
/// keel up, `lap_at` says who laps whom along a line.
pub fn laps(
    lines: &HullLines,
    surfaces: &[&Surface],
    thicknesses: &[f64],
    k: usize,
    lap_at: impl Fn(LineId) -> Lap,
) -> PanelLaps {
    let last = surfaces.len() - 1;
    let edge = |upper: bool| -> LappedEdge {
        let line = if upper { k + 1 } else { k };
        let (role, other) = match (upper, k) {
            (true, k) if k == last => (Role::Level, None),
            (false, 0) if lines.flat_bottom => (Role::RunsOn, None),
            (false, 0) => (Role::Meets, None),
            _ => {
                let laps = (lap_at(lines.lines[line].id) == Lap::LowerOver) == upper;
                (
                    if laps { Role::Laps } else { Role::Lapped },
                    Some(if upper { k + 1 } else { k - 1 }),
                )
            }
        };
        let other_normals = other.map(|o| normals_along(surfaces[o], !upper));
        let role = match &other_normals {
            Some(normals) if turns_little(surfaces[k], upper, normals) => Role::Halves,
            _ => role,
        };
        let spline = &lines.lines[line].spline;
        let room = || Vec::with_capacity(surfaces[k].rulings.len());
        let mut out = LappedEdge { role, added: room(), bevel: room(), open: room() };
        for r in &surfaces[k].rulings {
            let (share, n, kind) = if upper {
                (r.v, r.normal_upper, r.upper_on)
            } else {
                (r.u, r.normal_lower, r.lower_on)
            };
            let tangent = unit(spline.place(share * spline.end()).1);
            let past = tangent.and_then(|tangent| past_edge(r, n, tangent, upper));
            let m = match role {
                Role::Level => Some(V3::z()),
                Role::Meets => Some(-V3::y()),
                Role::RunsOn => None,
                _ => other_normals.as_ref().and_then(|all| at_share(all, share)),
            };
            let open = m.zip(tangent).and_then(|(m, tangent)| {
                let m = unit(m - m.dot(&tangent) * tangent)?;
                let across = m.dot(&past?).abs();
                (across > 1e-6).then(|| m.dot(&n) / across)
            });
            // The plane that halves a corner holds the line and the middle of both normals.
            let m = match (role, m, tangent) {
                (Role::Halves, Some(m), Some(tangent)) => {
                    let plane = (n + m).cross(&tangent);
                    past.map(|w| plane * plane.dot(&w).signum())
                }
                (_, m, _) => m,
            };
            let found = (kind == EdgeKind::Line).then_some(()).and(tangent).zip(m).and_then(
                |(tangent, m)| {
                    let w = past?;
                    let cover = other.filter(|_| role == Role::Laps).map(|o| thicknesses[o]);
                    corner(m, n, w, tangent, thicknesses[k], cover)
                },
            );
            let (added, bevel) = found.unwrap_or((f64::NAN, f64::NAN));
            out.added.push(added);
            out.bevel.push(bevel);
            out.open.push(open.filter(|_| kind == EdgeKind::Line).unwrap_or(f64::NAN));
        }
        out
    };
    PanelLaps { lower: edge(false), upper: edge(true) }
}

/// Whether two panels meet so flatly along most of their line that they are not lapped.
fn turns_little(surface: &Surface, upper: bool, other: &[(f64, V3)]) -> bool {
    // At even places, so that both panels come to the same answer.
    const PLACES: usize = 41;
    let own = normals_along(surface, upper);
    let flat = (0..PLACES)
        .map(|i| i as f64 / (PLACES - 1) as f64)
        .filter_map(|share| at_share(&own, share).zip(at_share(other, share)))
        .filter(|(n, m)| crate::geom::angle_between(*n, *m) < LEAST_TURN)
        .count();
    2 * flat > PLACES
}

/// Unit vector out of the panel past its edge, in its surface and square to the line.
fn past_edge(r: &Ruling, n: V3, tangent: V3, upper: bool) -> Option<V3> {
    let w = unit(n.cross(&tangent))?;
    let out = if upper { r.upper - r.lower } else { r.lower - r.upper };
    // A ruling of no length has no way of its own: up is up.
    let out = if out.norm() < 1e-6 { if upper { V3::z() } else { -V3::z() } } else { out };
    Some(if w.dot(&out) >= 0.0 { w } else { -w })
}

/// (added, bevel) of an edge whose neighbour's outward normal is `m`; `cover` is the
/// neighbour's thickness where this panel laps it.
fn corner(m: V3, n: V3, w: V3, tangent: V3, t: f64, cover: Option<f64>) -> Option<(f64, f64)> {
    // Square to the line.
    let m = unit(m - m.dot(&tangent) * tangent)?;
    let across = m.dot(&w);
    if across.abs() < 1e-6 {
        return Some((0.0, 0.0));
    }
    let s = |d: f64| (cover.unwrap_or(0.0) - d * m.dot(&n)) / across;
    let (inner, outer) = (s(0.0), s(t));
    let most = MOST_THICKNESSES * t.max(cover.unwrap_or(0.0));
    let added = inner.max(outer).clamp(0.0, most);
    Some((added, ((outer - inner) / t).atan()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A level bottom under a side that flares by φ, square to a straight chine: the side
    /// is planed by t tan φ on its outer face; the bottom reaches t' / cos φ past the chine
    /// on its inner face and, its bevel standing with the flare, less on its outer one.
    #[test]
    fn laps_of_a_flared_side_by_hand() {
        let flare = 20f64.to_radians();
        let (ts, tb) = (6.0, 9.0);
        let side = V3::new(0.0, flare.cos(), -flare.sin());
        let bottom = -V3::z();
        let down_side = V3::new(0.0, -flare.sin(), -flare.cos());
        let (added, bevel) = corner(bottom, side, down_side, V3::x(), ts, None).expect("a corner");
        assert_eq!(added, 0.0);
        assert!((bevel + flare).abs() < 1e-12);
        let (added, bevel) =
            corner(side, bottom, V3::y(), V3::x(), tb, Some(ts)).expect("a corner");
        assert!((added - ts / flare.cos()).abs() < 1e-12);
        assert!((bevel + flare).abs() < 1e-12);
        // Planed level at the sheer, the outer face must stand higher by t tan φ.
        let (added, bevel) =
            corner(V3::z(), side, -down_side, V3::x(), ts, None).expect("a corner");
        assert!((added - ts * flare.tan()).abs() < 1e-12);
        assert!((bevel - flare).abs() < 1e-12);
    }

    /// Two strakes that turn by 20° halve their corner: each is planed at 10°, its outer face
    /// longer by t tan 10°.
    #[test]
    fn a_shallow_corner_is_halved() {
        let turn = 20f64.to_radians();
        let n = V3::y();
        let m = V3::new(0.0, turn.cos(), turn.sin());
        let w = V3::z();
        let plane = (n + m).cross(&V3::x());
        let plane = plane * plane.dot(&w).signum();
        let (added, bevel) = corner(plane, n, w, V3::x(), 6.0, None).expect("a corner");
        assert!((bevel - 0.5 * turn).abs() < 1e-12);
        assert!((added - 6.0 * (0.5 * turn).tan()).abs() < 1e-12);
    }
}
