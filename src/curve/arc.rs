//! Arc length of a spline, and the parameter at a given length.

use super::Spline;
use crate::tol::ARC_LENGTH_MM;

/// Nodes and weights of Gauss-Legendre quadrature with five points on [-1, 1].
/// Source: Abramowitz and Stegun, *Handbook of Mathematical Functions*, table 25.4.
const GAUSS5: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// Halvings of one piece; at the limit a piece is a millionth of its span, and its length
/// is taken as it is.
const MAX_HALVINGS: u32 = 20;

/// Arc length against parameter along a spline, both in mm, from its first duck.
#[derive(Debug, Clone, PartialEq)]
pub struct ArcTable {
    /// (parameter, length so far), increasing; enough rows for [`ARC_LENGTH_MM`] overall.
    rows: Vec<(f64, f64)>,
}

impl ArcTable {
    /// Measures `spline` to [`ARC_LENGTH_MM`] over its whole length.
    pub fn of(spline: &Spline) -> ArcTable {
        let mut rows = vec![(0.0, 0.0)];
        let tol = ARC_LENGTH_MM / spline.end();
        for w in spline.knots().windows(2) {
            measure(spline, w[0], w[1], tol, 0, &mut rows);
        }
        ArcTable { rows }
    }

    /// The whole length, mm.
    pub fn length(&self) -> f64 {
        self.rows[self.rows.len() - 1].1
    }

    /// The length (mm) from the first duck to parameter `t`, which is kept inside the line.
    pub fn length_at(&self, spline: &Spline, t: f64) -> f64 {
        let t = t.clamp(0.0, spline.end());
        let i = self.rows.partition_point(|r| r.0 <= t).clamp(1, self.rows.len() - 1);
        let (from, so_far) = self.rows[i - 1];
        so_far + gauss(spline, from, t)
    }

    /// The parameter at length `s` (mm) from the first duck, kept inside the line.
    pub fn parameter_at(&self, spline: &Spline, s: f64) -> f64 {
        let s = s.clamp(0.0, self.length());
        let i = self.rows.partition_point(|r| r.1 <= s).clamp(1, self.rows.len() - 1);
        let ((t0, s0), (t1, s1)) = (self.rows[i - 1], self.rows[i]);
        // Between two rows the speed hardly changes: two Newton steps from the straight guess.
        let mut t = t0 + (s - s0) / (s1 - s0) * (t1 - t0);
        for _ in 0..2 {
            let missing = s - (s0 + gauss(spline, t0, t));
            t += missing / spline.place(t).1.norm();
        }
        t.clamp(t0, t1)
    }
}

fn gauss(spline: &Spline, a: f64, b: f64) -> f64 {
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    half * GAUSS5.iter().map(|(x, w)| w * spline.place(mid + half * x).1.norm()).sum::<f64>()
}

fn measure(s: &Spline, a: f64, b: f64, tol: f64, depth: u32, rows: &mut Vec<(f64, f64)>) {
    let mid = 0.5 * (a + b);
    let (left, right) = (gauss(s, a, mid), gauss(s, mid, b));
    let whole = gauss(s, a, b);
    if (left + right - whole).abs() <= tol * (b - a) || depth == MAX_HALVINGS {
        let so_far = rows[rows.len() - 1].1;
        rows.push((mid, so_far + left));
        rows.push((b, so_far + left + right));
    } else {
        measure(s, a, mid, tol, depth + 1, rows);
        measure(s, mid, b, tol, depth + 1, rows);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::End;
    use crate::geom::P3;

    /// A parabola z = x²/(2p): arc = (p/2)(u√(1+u²) + asinh u), u = L/p. Elementary calculus.
    #[test]
    fn a_parabola_has_its_closed_form_length() {
        let (p, l) = (5000.0, 2000.0);
        let ducks: Vec<P3> = (0..=40)
            .map(|i| f64::from(i) * l / 40.0)
            .map(|x| P3::new(x, 0.0, x * x / (2.0 * p)))
            .collect();
        let s = Spline::through(&ducks, &[], End::NotAKnot, End::NotAKnot).expect("good ducks");
        let table = ArcTable::of(&s);
        let u: f64 = l / p;
        let exact = 0.5 * p * (u * (1.0 + u * u).sqrt() + u.asinh());
        assert!((table.length() - exact).abs() < 1e-3, "{} {exact}", table.length());
        for share in [0.1, 0.37, 0.99] {
            let t = table.parameter_at(&s, share * exact);
            assert!((table.length_at(&s, t) - share * exact).abs() < 1e-6);
        }
    }
}
