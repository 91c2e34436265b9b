//! The plane seen at a slant: straight lines stay straight, four corners say all of it.
//!
//! A projector that does not stand square to its sheet draws a rectangle as a keystone.
//! Source: Hartley and Zisserman, Multiple View Geometry, 2nd ed., 4.1 (four points).

use nalgebra::{Matrix3, SMatrix, SVector, Vector3};

use super::P2;

/// The projective map of a plane onto a plane that takes four given points to four others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography(Matrix3<f64>);

impl Homography {
    /// The map that takes each of `from` to the one of `to` at the same place. `None` if
    /// three of either four lie on a line, or one corner pokes into the others' triangle:
    /// no lens shows a rectangle like that.
    pub fn of(from: [P2; 4], to: [P2; 4]) -> Option<Homography> {
        if !convex(from) || !convex(to) {
            return None;
        }
        let mut a = SMatrix::<f64, 8, 8>::zeros();
        let mut b = SVector::<f64, 8>::zeros();
        for (k, (p, q)) in from.iter().zip(&to).enumerate() {
            let rows = [
                ([p.x, p.y, 1.0, 0.0, 0.0, 0.0, -q.x * p.x, -q.x * p.y], q.x),
                ([0.0, 0.0, 0.0, p.x, p.y, 1.0, -q.y * p.x, -q.y * p.y], q.y),
            ];
            for (i, (row, right)) in rows.into_iter().enumerate() {
                for (j, value) in row.into_iter().enumerate() {
                    a[(2 * k + i, j)] = value;
                }
                b[2 * k + i] = right;
            }
        }
        let h = a.full_piv_lu().solve(&b)?;
        let m = Matrix3::new(h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0);
        Some(Homography(towards(m, from[0])))
    }

    /// Where `p` is shown; `None` beyond the horizon.
    pub fn apply(&self, p: P2) -> Option<P2> {
        let v = self.0 * Vector3::new(p.x, p.y, 1.0);
        (v.z > 1e-12).then(|| P2::new(v.x / v.z, v.y / v.z))
    }
}

/// The same map with the side of the horizon on which `p` lies in sight.
fn towards(m: Matrix3<f64>, p: P2) -> Matrix3<f64> {
    let depth = (m * Vector3::new(p.x, p.y, 1.0)).z;
    if depth < 0.0 { -m } else { m }
}

/// Whether four corners, in order, bound a convex quadrilateral.
fn convex(c: [P2; 4]) -> bool {
    let turn = |k: usize| {
        let (a, b, d) = (c[k], c[(k + 1) % 4], c[(k + 2) % 4]);
        (b - a).perp(&(d - b))
    };
    let scale = (c[2] - c[0]).norm() * (c[3] - c[1]).norm();
    let turns: Vec<f64> = (0..4).map(turn).collect();
    scale > 0.0
        && (turns.iter().all(|t| *t > 1e-6 * scale) || turns.iter().all(|t| *t < -1e-6 * scale))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [P2; 4] =
        [P2::new(0.0, 0.0), P2::new(1.0, 0.0), P2::new(1.0, 1.0), P2::new(0.0, 1.0)];

    /// The unit square onto a trapezium whose sides meet: the middle of the square goes to
    /// where its diagonals cross, a closed form (perspective keeps lines).
    #[test]
    fn corners_go_home_and_diagonals_still_cross() {
        let to = [P2::new(0.0, 0.0), P2::new(4.0, 0.0), P2::new(3.0, 2.0), P2::new(1.0, 2.0)];
        let h = Homography::of(SQUARE, to).expect("a keystone");
        for (p, q) in SQUARE.iter().zip(to) {
            assert!((h.apply(*p).expect("in sight") - q).norm() < 1e-12);
        }
        // Diagonals of the trapezium: y = 2x/3 and y = 2(4 - x)/3 meet at (2, 4/3).
        let middle = h.apply(P2::new(0.5, 0.5)).expect("in sight");
        assert!((middle - P2::new(2.0, 4.0 / 3.0)).norm() < 1e-12, "{middle}");
    }

    /// Four collinear points keep their cross-ratio, whatever the slant.
    #[test]
    fn cross_ratios_are_kept() {
        let to = [P2::new(3.0, 1.0), P2::new(9.0, -2.0), P2::new(8.0, 7.0), P2::new(1.0, 4.0)];
        let h = Homography::of(SQUARE, to).expect("a keystone");
        let on = |t: f64| h.apply(P2::new(0.1 + 0.8 * t, 0.3 + 0.2 * t)).expect("in sight");
        let d = |a: f64, b: f64| (on(a) - on(b)).norm();
        let ratio = d(0.0, 0.5) * d(0.25, 1.0) / (d(0.25, 0.5) * d(0.0, 1.0));
        let expected = 0.5 * 0.75 / (0.25 * 1.0);
        assert!((ratio - expected).abs() < 1e-9, "{ratio}");
    }

    /// The origin of the sheet may lie beyond the horizon; its corners never do.
    #[test]
    fn corners_are_in_sight_wherever_the_origin_is() {
        let p = |x, y| P2::new(x, y);
        let from = [p(500.0, 0.0), p(1500.0, 0.0), p(1500.0, 800.0), p(500.0, 800.0)];
        let to = [p(2500.0, 0.0), p(1250.0, 0.0), p(1250.0, 666.667), p(2500.0, 4000.0)];
        let h = Homography::of(from, to).expect("both are convex");
        for (a, b) in from.iter().zip(to) {
            assert!((h.apply(*a).expect("in sight") - b).norm() < 1e-6);
        }
        assert_eq!(h.apply(p(0.0, 0.0)), None, "beyond the horizon");
    }

    #[test]
    fn a_folded_quadrilateral_is_refused() {
        let dart = [P2::new(0.0, 0.0), P2::new(4.0, 0.0), P2::new(1.0, 0.5), P2::new(0.0, 4.0)];
        assert_eq!(Homography::of(SQUARE, dart), None);
        let flat = [P2::new(0.0, 0.0), P2::new(1.0, 0.0), P2::new(2.0, 0.0), P2::new(0.0, 1.0)];
        assert_eq!(Homography::of(SQUARE, flat), None);
    }
}
