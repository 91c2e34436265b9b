//! Outlines of a pattern: the finished edge, and the cut line with its allowance.

use super::{FlatPanel, FlatRuling};
use crate::geom::polyline::without_repeats;
use crate::geom::region::Region;
use crate::geom::{P2, V2};

/// Neighbouring outline points closer than this (mm) are one.
const SAME_POINT: f64 = 1e-6;

/// The finished outline (mm), anticlockwise, without its closing point: the lower edge to
/// the stern, the after edge up, the upper edge to the bow, the forward edge down.
pub fn of_flat(flat: &FlatPanel, full_width: bool) -> Vec<P2> {
    if full_width {
        // Both halves about the lower edge, which is the centreline and lies along u.
        let upper = flat.upper_edge();
        let mut points: Vec<P2> = upper.iter().map(|p| P2::new(p.x, -p.y)).collect();
        points.extend(upper.iter().rev());
        return closed(points);
    }
    let mut points = flat.lower_edge();
    points.extend(flat.stern_edge());
    points.extend(flat.upper_edge().iter().rev());
    points.extend(flat.bow_edge().iter().rev());
    closed(points)
}

fn closed(points: Vec<P2>) -> Vec<P2> {
    let mut kept = without_repeats(points, SAME_POINT);
    while kept.len() > 1 && (kept[0] - kept[kept.len() - 1]).norm() <= SAME_POINT {
        kept.pop();
    }
    kept
}

/// The finished outline with strips laid on its long edges, `lower` and `upper` mm wide at
/// each ruling, square to the edge: what laps add.
pub fn with_laps(flat: &FlatPanel, full_width: bool, lower: &[f64], upper: &[f64]) -> Vec<P2> {
    let outline = of_flat(flat, full_width);
    let mut rings = vec![outline.clone()];
    for (on_upper, added) in [(false, lower), (true, upper)] {
        let end = |r: &FlatRuling| if on_upper { r.flat_upper } else { r.flat_lower };
        for (i, w) in flat.rulings.windows(2).enumerate() {
            let (a, b) = (end(&w[0]), end(&w[1]));
            // A strip runs only as far as the line does.
            let on_line = |k: usize| added.get(k).filter(|a| a.is_finite());
            let (Some(p), Some(q)) = (on_line(i), on_line(i + 1)) else {
                continue;
            };
            let Some(e) = (b - a).try_normalize(SAME_POINT).filter(|_| p.max(*q) > 0.0) else {
                continue;
            };
            let out = if on_upper { V2::new(-e.y, e.x) } else { V2::new(e.y, -e.x) };
            // A hair of overlap, so that strip and panel are one.
            let hair = -SAME_POINT * out;
            let mut strip = vec![a + hair, b + hair, b + *q * out, a + *p * out];
            if crate::geom::polyline::area(&strip) < 0.0 {
                strip.reverse();
            }
            if full_width {
                rings.push(strip.iter().rev().map(|p| P2::new(p.x, -p.y)).collect());
            }
            rings.push(strip);
        }
    }
    if rings.len() == 1 {
        return outline;
    }
    closed(Region::any_of(&rings).largest())
}

/// The outline grown outward by `allowance` mm all round, corners kept square.
///
/// Returns the outline unchanged for an allowance of 0.
pub fn grown(outline: &[P2], allowance: f64) -> Vec<P2> {
    if allowance <= 0.0 {
        return outline.to_vec();
    }
    closed(Region::of(outline).grown(allowance).largest())
}
