//! Outlines of a pattern: the finished edge, and the cut line with its allowance.

use geo::algorithm::buffer::{Buffer, BufferStyle, LineJoin};
use geo::{LineString, Polygon};

use super::FlatPanel;
use crate::geom::P2;
use crate::geom::polyline::without_repeats;

/// Neighbouring outline points closer than this (mm) are one.
const SAME_POINT: f64 = 1e-6;

/// The least sine of half a corner at which the allowance keeps the corner sharp; a
/// sharper corner (under 20°) is cut off so that no needle of waste sticks out.
const SHARPEST_CORNER: f64 = 0.35;

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

/// The outline grown outward by `allowance` mm all round, corners kept square.
///
/// Returns the outline unchanged for an allowance of 0.
pub fn grown(outline: &[P2], allowance: f64) -> Vec<P2> {
    if allowance <= 0.0 {
        return outline.to_vec();
    }
    let ring: LineString<f64> = outline.iter().map(|p| (p.x, p.y)).collect();
    let style = BufferStyle::new(allowance).line_join(LineJoin::Miter(SHARPEST_CORNER));
    let grown = Polygon::new(ring, vec![]).buffer_with_style(style);
    let largest = grown.0.into_iter().max_by(|a, b| {
        let points = |p: &Polygon<f64>| p.exterior().0.len();
        points(a).cmp(&points(b))
    });
    let ring = largest.map(|p| p.exterior().0.iter().map(|c| P2::new(c.x, c.y)).collect());
    closed(ring.unwrap_or_else(|| outline.to_vec()))
}
