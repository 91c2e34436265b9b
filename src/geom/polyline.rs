//! Polylines and polygons in the flat and in space.

use super::{P2, P3};

/// Length (mm) of a polyline in space.
pub fn length3(points: &[P3]) -> f64 {
    points.windows(2).map(|w| (w[1] - w[0]).norm()).sum()
}

/// Length (mm) of a polyline in the flat.
pub fn length2(points: &[P2]) -> f64 {
    points.windows(2).map(|w| (w[1] - w[0]).norm()).sum()
}

/// Signed area (mm²) of a polygon given without its closing point; anticlockwise positive.
pub fn area(polygon: &[P2]) -> f64 {
    let n = polygon.len();
    let mut twice = 0.0;
    for i in 0..n {
        let (p, q) = (polygon[i], polygon[(i + 1) % n]);
        twice += p.x * q.y - q.x * p.y;
    }
    0.5 * twice
}

/// The smallest box around the points, as (least corner, greatest corner); `None` if empty.
pub fn bounds(points: impl IntoIterator<Item = P2>) -> Option<(P2, P2)> {
    let mut points = points.into_iter();
    let first = points.next()?;
    Some(points.fold((first, first), |(low, high), p| (low.inf(&p), high.sup(&p))))
}

/// The points with every one dropped that repeats the one before it within `tol` mm.
pub fn without_repeats(points: impl IntoIterator<Item = P2>, tol: f64) -> Vec<P2> {
    let points = points.into_iter();
    let mut kept: Vec<P2> = Vec::with_capacity(points.size_hint().0);
    for p in points {
        if kept.last().is_none_or(|last| (p - last).norm() > tol) {
            kept.push(p);
        }
    }
    kept
}

/// A pair of edges of a closed polygon that cross, as indices of their first points, the
/// lesser first; of several, the one furthest to the left. Neighbouring edges share a point
/// and do not count.
///
/// A sweep over x: edges are compared only while their spans of x overlap, which for an
/// outline of many short edges is a few pairs each.
pub fn first_self_crossing(polygon: &[P2]) -> Option<(usize, usize)> {
    let n = polygon.len();
    let mut order: Vec<Edge> = super::ring::edges(polygon)
        .enumerate()
        .map(|(i, (a, b))| Edge { i, a, b, low: a.inf(&b), high: a.sup(&b) })
        .collect();
    order.sort_by(|a, b| a.low.x.total_cmp(&b.low.x));
    let mut open: Vec<&Edge> = Vec::new();
    for e in &order {
        open.retain(|k| k.high.x >= e.low.x);
        for k in &open {
            // One above the other: nothing to work out.
            let apart = e.high.y < k.low.y || k.high.y < e.low.y;
            let beside = || e.i.abs_diff(k.i) == 1 || e.i.abs_diff(k.i) + 1 == n;
            if !apart && !beside() && segments_cross(e.a, e.b, k.a, k.b) {
                return Some((e.i.min(k.i), e.i.max(k.i)));
            }
        }
        open.push(e);
    }
    None
}

/// An edge of a polygon by the index of its first point, and the box around it.
struct Edge {
    i: usize,
    a: P2,
    b: P2,
    low: P2,
    high: P2,
}

/// Whether two segments cross inside both (touching is not crossing).
fn segments_cross(a: P2, b: P2, c: P2, d: P2) -> bool {
    let side = |p: P2, q: P2, r: P2| (q - p).perp(&(r - p));
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// What of the segment lies in the box; Liang and Barsky, ACM TOG 3 (1984).
pub fn clipped(a: P2, b: P2, low: P2, high: P2) -> Option<(P2, P2)> {
    let d = b - a;
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for (p, q) in
        [(-d.x, a.x - low.x), (d.x, high.x - a.x), (-d.y, a.y - low.y), (d.y, high.y - a.y)]
    {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    (from <= to).then(|| (a + from * d, a + to * d))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn area_and_crossing_of_simple_shapes() {
        let square = [P2::new(0.0, 0.0), P2::new(2.0, 0.0), P2::new(2.0, 2.0), P2::new(0.0, 2.0)];
        assert_eq!(area(&square), 4.0);
        assert_eq!(first_self_crossing(&square), None);
        let bow_tie = [square[0], square[2], square[1], square[3]];
        assert_eq!(first_self_crossing(&bow_tie), Some((0, 2)));
    }
}
