//! Lines that a builder wants on the board: stations, rulings, members' edges.

use super::develop::{FlatPanel, FlatRuling};
use crate::geom::plane::Plane;
use crate::geom::strips::{self, Crossing};
use crate::geom::{P2, P3, V2};
use crate::panel::Surface;

/// Least share of a ruling; a mark ends where it runs off the panel.
const ON_THE_EDGE: f64 = 1e-9;

/// The plane x = `x` (mm aft) drawn on the flat panel, from the lower to the upper edge;
/// empty if the panel does not reach it.
///
/// Crossings with the rulings are exact on the strips, as the flat keeps every ruling's
/// length; between two rulings a strip is plane, so the mark is straight there.
pub fn station(flat: &FlatPanel, x: f64) -> Vec<P2> {
    // The mark runs across the panel: its points in order along the way up the rulings.
    let up = flat.rulings.iter().fold(V2::zeros(), |v, r| v + (r.flat_upper - r.flat_lower));
    crossings(flat, |p| p.x - x, up)
}

/// The height z = `z` (mm) drawn on the flat panel, from bow to stern; empty if the panel
/// does not reach it.
pub fn level(flat: &FlatPanel, z: f64) -> Vec<P2> {
    crossings(flat, |p| p.z - z, V2::x())
}

/// A plane's cut through the outside of the planking drawn on the flat panel: every stretch
/// of it from bow to stern; none if the panel does not reach it. `surface` is what was laid
/// flat, its rulings in the same order, `thickness` that of the sheet (mm).
pub fn on_outside(
    flat: &FlatPanel,
    surface: &Surface,
    plane: Plane,
    thickness: f64,
) -> Vec<Vec<P2>> {
    let above = |k: usize| {
        let r = &surface.rulings[k];
        [(r.lower, r.normal_lower), (r.upper, r.normal_upper)]
            .map(|(p, n)| plane.distance(p + thickness * n))
    };
    let n = flat.rulings.len().min(surface.rulings.len());
    let mut runs: Vec<Vec<P2>> = Vec::new();
    let mut run: Vec<P2> = Vec::new();
    let mut before: Option<usize> = None;
    for c in strips::crossings(n, above) {
        // The line comes onto the panel again through an edge of a strip that it was not on.
        let strip = c.ends[0].0;
        if !c.on_rung() && before.is_some_and(|b| b != strip) {
            runs.push(std::mem::take(&mut run));
        }
        before = Some(strip);
        run.push(on_flat(flat, &c));
    }
    runs.push(run);
    runs.into_iter()
        .map(|r| crate::geom::polyline::without_repeats(r, 1e-6))
        .filter(|r| r.len() > 1)
        .collect()
}

/// The place of a crossing of a plane with the panel on the hull, on the panel laid flat.
fn on_flat(flat: &FlatPanel, c: &Crossing) -> P2 {
    let [a, b] = c.ends.map(|(k, upper)| {
        let r = &flat.rulings[k];
        if upper { r.flat_upper } else { r.flat_lower }
    });
    a + c.share * (b - a)
}

/// Where `side` changes sign on rulings and edges, in order along `way`.
fn crossings(flat: &FlatPanel, side: impl Fn(P3) -> f64, way: V2) -> Vec<P2> {
    let sides = |k: usize| [side(flat.rulings[k].lower), side(flat.rulings[k].upper)];
    let found = strips::crossings(flat.rulings.len(), sides);
    let mut points: Vec<P2> = found.iter().map(|c| on_flat(flat, c)).collect();
    if points.len() < 2 {
        return Vec::new();
    }
    points.sort_by(|a, b| a.coords.dot(&way).total_cmp(&b.coords.dot(&way)));
    crate::geom::polyline::without_repeats(points, 1e-6)
}

/// The inner edge of a member along the lower (or upper) edge, in the flat.
///
/// On ruling i the point at `width(i)` mm square to the edge there; rulings too short for it
/// are left out.
pub fn member_edge(flat: &FlatPanel, on_upper: bool, width: impl Fn(usize) -> f64) -> Vec<P2> {
    let n = flat.rulings.len();
    let end = |r: &FlatRuling| if on_upper { r.flat_upper } else { r.flat_lower };
    let mut out = Vec::with_capacity(n);
    for k in 0..n {
        let r = &flat.rulings[k];
        let width = width(k);
        let (from, to) =
            if on_upper { (r.flat_upper, r.flat_lower) } else { (r.flat_lower, r.flat_upper) };
        let edge = end(&flat.rulings[(k + 1).min(n - 1)]) - end(&flat.rulings[k.saturating_sub(1)]);
        let ruling = to - from;
        let Some(edge) = edge.try_normalize(1e-9) else {
            continue;
        };
        let across = edge.perp(&ruling).abs();
        if across <= ON_THE_EDGE || width >= across {
            continue;
        }
        out.push(from + (width / across) * ruling);
    }
    crate::geom::polyline::without_repeats(out, 1e-6)
}

/// Every `every`-th ruling as a segment, the ends included.
pub fn rulings(flat: &FlatPanel, every: usize) -> Vec<[P2; 2]> {
    let n = flat.rulings.len();
    (0..n)
        .filter(|k| k % every.max(1) == 0 || *k == n - 1)
        .map(|k| &flat.rulings[k])
        .filter(|r| (r.flat_upper - r.flat_lower).norm() > 1.0)
        .map(|r| [r.flat_lower, r.flat_upper])
        .collect()
}
