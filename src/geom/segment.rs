//! How far a point lies from straight pieces of the flat: from one, and from a polyline.

use super::P2;

/// A piece whose squared length is under this (mm²) is a point.
const POINT_MM2: f64 = 1e-12;

/// The share of the piece from `a` to `b` at which it comes nearest to `p`: 0 at `a`, 1 at `b`.
/// A piece without length is its `a`.
pub fn nearest_share(p: P2, a: P2, b: P2) -> f64 {
    let e = b - a;
    ((p - a).dot(&e) / e.norm_squared().max(POINT_MM2)).clamp(0.0, 1.0)
}

/// The point of the piece from `a` to `b` that lies nearest to `p`.
pub fn nearest(p: P2, a: P2, b: P2) -> P2 {
    a + nearest_share(p, a, b) * (b - a)
}

/// Distance (mm) of `p` from the piece from `a` to `b`.
pub fn from_segment(p: P2, a: P2, b: P2) -> f64 {
    (nearest(p, a, b) - p).norm()
}

/// Distance (mm) of `p` from an open polyline; infinite for fewer than two points.
pub fn from_polyline(p: P2, line: &[P2]) -> f64 {
    line.windows(2).map(|w| from_segment(p, w[0], w[1])).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Beside the piece the distance is square to it, past its ends that from the end: a piece
    /// of length 5 along (3, 4), seen from 2 to its left at every fifth, and from past it.
    #[test]
    fn a_slanting_piece_by_hand() {
        let (a, b) = (P2::new(1.0, 1.0), P2::new(4.0, 5.0));
        for i in 0..=5 {
            let share = f64::from(i) / 5.0;
            let p = P2::new(1.0 + 3.0 * share - 1.6, 1.0 + 4.0 * share + 1.2);
            assert!((nearest_share(p, a, b) - share).abs() < 1e-15);
            assert!((from_segment(p, a, b) - 2.0).abs() < 1e-15);
            assert!((from_segment(p, b, a) - 2.0).abs() < 1e-15);
        }
        assert_eq!(from_segment(P2::new(4.0, 7.0), a, b), 2.0);
        assert_eq!(from_segment(P2::new(-2.0, -3.0), a, b), 5.0);
        assert_eq!(nearest(P2::new(-2.0, -3.0), a, b), a);
    }

    #[test]
    fn a_piece_without_length_is_a_point() {
        let a = P2::new(3.0, 4.0);
        assert_eq!(from_segment(P2::origin(), a, a), 5.0);
    }

    #[test]
    fn of_a_polyline_the_nearest_piece_counts_and_it_is_not_closed() {
        let line = [P2::new(0.0, 0.0), P2::new(10.0, 0.0), P2::new(10.0, 10.0)];
        assert_eq!(from_polyline(P2::new(7.0, 2.0), &line), 2.0);
        assert_eq!(from_polyline(P2::new(9.0, 5.0), &line), 1.0);
        // The closing piece would pass through here.
        assert_eq!(from_polyline(P2::new(5.0, 5.0), &line), 5.0);
        assert_eq!(from_polyline(P2::origin(), &line[..1]), f64::INFINITY);
    }
}
