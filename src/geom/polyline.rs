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
    let mut kept: Vec<P2> = Vec::new();
    for p in points {
        if kept.last().is_none_or(|last| (p - last).norm() > tol) {
            kept.push(p);
        }
    }
    kept
}

/// The first pair of edges of a closed polygon that cross, as indices of their first
/// points. Neighbouring edges share a point and do not count. O(n²): outlines of panels
/// have a few hundred points and this is a check, not an inner loop.
pub fn first_self_crossing(polygon: &[P2]) -> Option<(usize, usize)> {
    let n = polygon.len();
    let side = |a: P2, b: P2, c: P2| (b - a).perp(&(c - a));
    for i in 0..n {
        let (a, b) = (polygon[i], polygon[(i + 1) % n]);
        for j in i + 2..n {
            if i == 0 && j == n - 1 {
                continue;
            }
            let (c, d) = (polygon[j], polygon[(j + 1) % n]);
            let apart = a.x.max(b.x) < c.x.min(d.x)
                || c.x.max(d.x) < a.x.min(b.x)
                || a.y.max(b.y) < c.y.min(d.y)
                || c.y.max(d.y) < a.y.min(b.y);
            if apart {
                continue;
            }
            let crosses =
                side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
            if crosses {
                return Some((i, j));
            }
        }
    }
    None
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
