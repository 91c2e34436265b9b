//! Outlines of a pattern: the finished edge, and the cut line with its allowance.

use super::FlatPanel;
use super::moved_edge::Edge;
use crate::geom::P2;
use crate::geom::polyline::without_repeats;
use crate::geom::region::Region;
use crate::panel::EdgeKind;

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

/// What a pattern has past the lines of its panel, mm, square to each edge.
#[derive(Debug, Clone, Copy, Default)]
pub struct Past<'a> {
    /// Past the lower line at each ruling; no number where the ruling does not end on it.
    pub lower: &'a [f64],
    /// Past the upper line at each ruling.
    pub upper: &'a [f64],
    /// Along the forward edge from its lower to its upper corner, and past it at each place;
    /// empty where the panel ends there.
    pub bow: &'a [(P2, f64)],
    /// The same along the after edge.
    pub stern: &'a [(P2, f64)],
}

/// The finished outline with what it has past its lines: each edge moved out as one line, and
/// neighbouring edges run on or back to where they meet, so that strips are mitred at their
/// ends and a panel that comes to a point keeps a point.
pub fn with_laps(flat: &FlatPanel, full_width: bool, past: Past) -> Vec<P2> {
    let on_line = |on_upper: bool, added: &[f64]| -> Edge {
        let ends = flat.rulings.iter().enumerate().filter_map(|(i, r)| {
            let (p, on) =
                if on_upper { (r.flat_upper, r.upper_on) } else { (r.flat_lower, r.lower_on) };
            (on == EdgeKind::Line).then(|| (p, added.get(i).copied().unwrap_or(0.0)))
        });
        Edge::of(ends)
    };
    let at_end = |points: Vec<P2>, past: &[(P2, f64)]| -> Edge {
        if past.is_empty() {
            Edge::of(points.into_iter().map(|p| (p, 0.0)))
        } else {
            Edge::of(past.iter().copied())
        }
    };
    let lower = if full_width {
        // The centreline: both halves are one board.
        at_end(flat.lower_edge(), &[])
    } else {
        on_line(false, past.lower)
    };
    let ring = [
        lower,
        at_end(flat.stern_edge(), past.stern),
        on_line(true, past.upper).reversed(),
        at_end(flat.bow_edge(), past.bow).reversed(),
    ];
    let edges = Edge::moved_and_joined(&ring);
    if full_width {
        let half: Vec<P2> = edges.into_iter().skip(1).flatten().collect();
        let mirrored: Vec<P2> = half.iter().rev().map(|p| P2::new(p.x, -p.y)).collect();
        return closed(half.into_iter().chain(mirrored).collect());
    }
    closed(edges.into_iter().flatten().collect())
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
