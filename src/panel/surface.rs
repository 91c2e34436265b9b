//! The panel itself: its rulings in space with their outward normals and warp.

use super::matching::Matching;
use super::pair::{Bridge, EndEdge, Pair};
use super::refine::refine;
use crate::curve::Spline;
use crate::geom::plane::Plane;
use crate::geom::roots::bracketed;
use crate::geom::{P3, V3};
use crate::tol::{NO_RULING_MM, SAME_POINT_MM};

/// On which edge of the panel a ruling's end lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeKind {
    /// On the panel's own line.
    Line,
    /// On the trimmed forward edge.
    Bow,
    /// On the trimmed after edge.
    Stern,
}

/// A straight line of the panel, from its lower to its upper edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ruling {
    /// Share of the lower line at which the whole ruling starts (before trimming).
    pub u: f64,
    /// Share of the upper line at which it ends.
    pub v: f64,
    /// Lower end on the moulded surface, mm.
    pub lower: P3,
    /// Upper end on the moulded surface, mm.
    pub upper: P3,
    /// Where the lower end lies.
    pub lower_on: EdgeKind,
    /// Where the upper end lies.
    pub upper_on: EdgeKind,
    /// Unit outward normal at the lower end (starboard half).
    pub normal_lower: V3,
    /// Unit outward normal at the upper end.
    pub normal_upper: V3,
    /// Signed warp, radians: how far the normal turns from lower to upper end; 0 in a fan.
    pub warp: f64,
}

/// A panel's surface as a run of rulings from bow to stern.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// At least two rulings.
    pub rulings: Vec<Ruling>,
}

/// What moves from one ruling to the next, in mm; below this an end stands still.
const STANDS_STILL_MM: f64 = 1e-7;

impl Surface {
    /// The panel of a matching, with about `strips` strips, trimmed where `pair` says so.
    pub fn of(pair: &Pair, matching: &Matching, strips: usize) -> Surface {
        let mut shares = refine(pair, matching, strips);
        add_knuckles(pair, &mut shares);
        for (edge, stern) in [(pair.bow, false), (pair.stern, true)] {
            if let EndEdge::Trim { plane, .. } = edge {
                add_corners(pair, plane, stern, &mut shares);
            }
        }
        let mut surface = Surface { rulings: rulings_of(pair, &shares) };
        for (edge, kind) in [(pair.bow, EdgeKind::Bow), (pair.stern, EdgeKind::Stern)] {
            if let EndEdge::Trim { plane, .. } = edge {
                surface.trim(plane, kind);
            }
        }
        surface
    }

    /// The half of a flat bottom: a cylinder with rulings square to the centreplane, from
    /// the profile on the centreplane to the chine.
    pub fn flat_bottom(chine: &Spline, profile: &Spline, strips: usize) -> Surface {
        let pair =
            Pair { lower: profile, upper: chine, bow: EndEdge::Ruling, stern: EndEdge::Ruling };
        let mut even: Vec<f64> = (0..=strips).map(|k| k as f64 / strips as f64).collect();
        even.extend(chine.knuckles().iter().map(|t| t / chine.end()));
        even.sort_by(f64::total_cmp);
        let shares: Vec<(f64, f64)> = even.into_iter().map(|s| (s, s)).collect();
        let mut rulings = rulings_of(&pair, &shares);
        for r in &mut rulings {
            // Both ends share one tangent plane by construction; rounding is not warp.
            r.warp = 0.0;
            r.normal_upper = r.normal_lower;
        }
        Surface { rulings }
    }

    /// Cuts off all that lies on the side to which the plane's normal points.
    fn trim(&mut self, plane: Plane, kind: EdgeKind) {
        let mut kept: Vec<Ruling> = Vec::with_capacity(self.rulings.len());
        for r in &self.rulings {
            // Each end's plane cuts its own half only: a double-ender has the same plane twice.
            let own_half = (r.u + r.v < 1.0) == (kind == EdgeKind::Bow);
            let (dl, du) = if own_half {
                (plane.distance(r.lower), plane.distance(r.upper))
            } else {
                (0.0, 0.0)
            };
            if dl > SAME_POINT_MM && du > SAME_POINT_MM {
                continue;
            }
            let mut r = *r;
            let at = |t: f64| r.lower + t * (r.upper - r.lower);
            let normal = |t: f64| {
                let n = r.normal_lower.lerp(&r.normal_upper, t);
                crate::geom::unit(n).unwrap_or(r.normal_lower)
            };
            if dl > SAME_POINT_MM || du > SAME_POINT_MM {
                let t = dl / (dl - du);
                let (cut, n) = (at(t), normal(t));
                if dl > SAME_POINT_MM {
                    (r.lower, r.normal_lower, r.lower_on) = (cut, n, kind);
                } else {
                    (r.upper, r.normal_upper, r.upper_on) = (cut, n, kind);
                }
            }
            kept.push(r);
        }
        if kept.len() >= 2 {
            self.rulings = kept;
        }
    }

    /// The lower line's own edge, bow to stern, moulded surface.
    pub fn lower_edge(&self) -> impl Iterator<Item = &Ruling> {
        self.rulings.iter().filter(|r| r.lower_on == EdgeKind::Line)
    }

    /// The upper line's own edge, bow to stern, moulded surface.
    pub fn upper_edge(&self) -> impl Iterator<Item = &Ruling> {
        self.rulings.iter().filter(|r| r.upper_on == EdgeKind::Line)
    }

    /// Places and outward normals along the forward (or after) edge, from its lower to its
    /// upper corner: the corners lie on the lines, what is between on a trimmed end.
    pub fn end_edge(&self, stern: bool) -> Vec<(P3, V3)> {
        let kind = if stern { EdgeKind::Stern } else { EdgeKind::Bow };
        let end = &self.rulings[if stern { self.rulings.len() - 1 } else { 0 }];
        let lower = |r: &Ruling| (r.lower, r.normal_lower);
        let upper = |r: &Ruling| (r.upper, r.normal_upper);
        let corner = |edge: Vec<(P3, V3)>, fallback: (P3, V3)| {
            let p = if stern { edge.last() } else { edge.first() };
            p.copied().unwrap_or(fallback)
        };
        let mut on_lower: Vec<(P3, V3)> =
            self.rulings.iter().filter(|r| r.lower_on == kind).map(lower).collect();
        let mut on_upper: Vec<(P3, V3)> =
            self.rulings.iter().filter(|r| r.upper_on == kind).map(upper).collect();
        // Rulings run aft; the edge is to run up.
        if stern {
            on_upper.reverse();
        } else {
            on_lower.reverse();
        }
        let mut edge = vec![corner(self.lower_edge().map(lower).collect(), lower(end))];
        edge.extend(on_lower);
        edge.extend(on_upper);
        edge.push(corner(self.upper_edge().map(upper).collect(), upper(end)));
        edge
    }

    /// The greatest warp (radians, unsigned) and the index of its ruling.
    pub fn greatest_warp(&self) -> (f64, usize) {
        let mut worst = (0.0, 0);
        for (i, r) in self.rulings.iter().enumerate() {
            if r.warp.abs() > worst.0 {
                worst = (r.warp.abs(), i);
            }
        }
        worst
    }
}

fn rulings_of(pair: &Pair, shares: &[(f64, f64)]) -> Vec<Ruling> {
    let (low, up) = (pair.lower.end(), pair.upper.end());
    // Which ends move between ruling k and k + 1.
    let moves: Vec<(bool, bool)> = shares
        .windows(2)
        .map(|w| {
            let lower = (w[1].0 - w[0].0) * low > STANDS_STILL_MM;
            let upper = (w[1].1 - w[0].1) * up > STANDS_STILL_MM;
            (lower, upper)
        })
        .collect();
    // Rulings that repeat the one before are dropped: neither end moves.
    let kept: Vec<usize> =
        (0..shares.len()).filter(|&k| k == 0 || moves[k - 1].0 || moves[k - 1].1).collect();
    let mut rulings: Vec<Ruling> = Vec::with_capacity(kept.len());
    let mut missing_normal = Vec::new();
    for &k in &kept {
        let (u, v) = shares[k];
        let before = k.checked_sub(1).map(|i| moves[i]);
        let after = (k..moves.len()).map(|i| moves[i]).find(|m| m.0 || m.1);
        let lower_moves = [before, after].iter().flatten().any(|m| m.0);
        let upper_moves = [before, after].iter().flatten().any(|m| m.1);
        let bridge = pair.bridge(u, v);
        // In a fan the surface's tangent plane is that of the line that moves.
        let (nl, nu, fan) = match (lower_moves, upper_moves) {
            (true, false) => (bridge.normal_lower, bridge.normal_lower, true),
            (false, true) => (bridge.normal_upper, bridge.normal_upper, true),
            _ => (bridge.normal_lower, bridge.normal_upper, false),
        };
        let warp = if fan || bridge.length < NO_RULING_MM {
            0.0
        } else {
            signed_warp(pair, (u, v), &bridge)
        };
        if nl.is_none() || nu.is_none() {
            missing_normal.push(rulings.len());
        }
        let or_other = nl.or(nu).unwrap_or_else(V3::zeros);
        rulings.push(Ruling {
            u,
            v,
            lower: bridge.lower,
            upper: bridge.upper,
            lower_on: EdgeKind::Line,
            upper_on: EdgeKind::Line,
            normal_lower: nl.unwrap_or(or_other),
            normal_upper: nu.unwrap_or(or_other),
            warp,
        });
    }
    // Where the lines meet in a point there is no ruling: the neighbour's normal serves.
    for i in missing_normal {
        let neighbour = if i + 1 < rulings.len() { i + 1 } else { i.saturating_sub(1) };
        if rulings[i].normal_lower == V3::zeros() {
            rulings[i].normal_lower = rulings[neighbour].normal_lower;
            rulings[i].normal_upper = rulings[neighbour].normal_upper;
        }
    }
    rulings
}

/// The warp in radians; past a right angle the planes face opposite ways.
fn signed_warp(pair: &Pair, (u, v): (f64, f64), bridge: &Bridge) -> f64 {
    let sin = pair.least_sin_warp(u, v, bridge);
    match (bridge.normal_lower, bridge.normal_upper) {
        (Some(a), Some(b)) if sin == bridge.sin_warp => sin.atan2(a.dot(&b)),
        _ => sin.clamp(-1.0, 1.0).asin(),
    }
}

/// Adds the rulings through the points where the two lines pass the trimming plane, so
/// that the panel's corners are exact.
fn add_corners(pair: &Pair, plane: Plane, stern: bool, shares: &mut Vec<(f64, f64)>) {
    let (low, high) = pair.range();
    let (from, to) = if stern { (0.5, high) } else { (low, 0.5) };
    for on_upper in [false, true] {
        let line = if on_upper { pair.upper } else { pair.lower };
        let f = |s: f64| plane.distance(line.at(s * line.end()));
        // The corner is the line's end unless the plane misses it.
        let end = if stern { 1.0 } else { 0.0 };
        let corner = if f(end).abs() < SAME_POINT_MM {
            end
        } else {
            match bracketed(f, (from, f(from)), (to, f(to)), 1e-13) {
                Some(root) => root.x,
                None => continue,
            }
        };
        insert_ruling(pair, shares, on_upper, corner, corner);
    }
}

/// Adds the rulings through every knuckle: one for the batten before it and one for the
/// batten after, with the fan between them about the knuckle.
fn add_knuckles(pair: &Pair, shares: &mut Vec<(f64, f64)>) {
    // Far less than a point's width (4 m: a hundredth of a micron), to choose a side.
    const ASIDE: f64 = 1e-11;
    for on_upper in [false, true] {
        let line = if on_upper { pair.upper } else { pair.lower };
        for t in line.knuckles() {
            let share = t / line.end();
            insert_ruling(pair, shares, on_upper, share, share - ASIDE);
            insert_ruling(pair, shares, on_upper, share, share + ASIDE);
        }
    }
}

/// Adds a ruling through share `at` of one line, where its warp, taken with the tangent at
/// share `tangent_at`, is nil (or in proportion, where no such ruling lies between its
/// neighbours). Nothing is added if `at` is not between two rulings.
fn insert_ruling(
    pair: &Pair,
    shares: &mut Vec<(f64, f64)>,
    on_upper: bool,
    at: f64,
    tangent_at: f64,
) {
    let pick = |s: &(f64, f64)| if on_upper { s.1 } else { s.0 };
    let other = |s: &(f64, f64)| if on_upper { s.0 } else { s.1 };
    // Between the last ruling that ends before `at` or on it, and the next one after it.
    let next = shares.partition_point(|s| pick(s) <= at);
    if next == 0 || next == shares.len() {
        return;
    }
    let (a, b) = (shares[next - 1], shares[next]);
    let make = |on: f64, s: f64| if on_upper { (s, on) } else { (on, s) };
    let f = |s: f64| {
        let (u, v) = make(tangent_at, s);
        pair.sin_warp(u, v)
    };
    let (oa, ob) = (other(&a), other(&b));
    let share = (at - pick(&a)) / (pick(&b) - pick(&a));
    let mate = bracketed(f, (oa, f(oa)), (ob, f(ob)), 1e-13)
        .map_or(oa + share * (ob - oa), |root| root.x)
        .clamp(oa, ob);
    shares.insert(next, make(at, mate));
}
