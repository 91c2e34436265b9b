//! How far off a pattern may be, estimated from itself.
//!
//! The strips' error falls with the square of their number, so the same rulings taken two
//! strips at a time are four times as far off; a third of the difference is the error of
//! the finer one (Richardson). Checked against closed forms in `tests/it/patterns.rs`.

use super::develop::{FlatPanel, lay};
use crate::geom::{P2, V2};

/// Estimated greatest error (mm) of any point of the flat outline against the exact
/// development, after the best fit of one onto the other.
pub fn estimate(panel: &FlatPanel) -> f64 {
    let n = panel.rulings.len();
    let last = n - 1;
    let mut coarse: Vec<_> =
        (0..n).filter(|k| k % 2 == 0 || *k == last).map(|k| panel.rulings[k]).collect();
    if coarse.len() < 3 {
        return 0.0;
    }
    lay(&mut coarse);
    let fine: Vec<P2> = (0..n)
        .filter(|k| k % 2 == 0 || *k == last)
        .flat_map(|k| [panel.rulings[k].flat_lower, panel.rulings[k].flat_upper])
        .collect();
    let coarse: Vec<P2> = coarse.iter().flat_map(|r| [r.flat_lower, r.flat_upper]).collect();
    greatest_distance_when_fitted(&coarse, &fine) / 3.0
}

/// The greatest distance (mm) between matching points after turning and shifting `a` onto
/// `b` by least squares (no mirroring, no scaling).
pub fn greatest_distance_when_fitted(a: &[P2], b: &[P2]) -> f64 {
    let n = a.len().max(1) as f64;
    let centre = |p: &[P2]| p.iter().fold(V2::zeros(), |sum, q| sum + q.coords) / n;
    let (ca, cb) = (centre(a), centre(b));
    let (mut dot, mut cross) = (0.0, 0.0);
    for (p, q) in a.iter().zip(b) {
        let (p, q) = (p.coords - ca, q.coords - cb);
        dot += p.dot(&q);
        cross += p.perp(&q);
    }
    let (sin, cos) = cross.atan2(dot).sin_cos();
    a.iter()
        .zip(b)
        .map(|(p, q)| {
            let (p, q) = (p.coords - ca, q.coords - cb);
            (V2::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y) - q).norm()
        })
        .fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fitting_undoes_a_turn_and_a_shift() {
        let a: Vec<P2> = [(0.0, 0.0), (4.0, 1.0), (2.0, 3.0)].map(|(x, y)| P2::new(x, y)).into();
        let turned: Vec<P2> = a.iter().map(|p| P2::new(7.0 - p.y, p.x - 2.0)).collect();
        assert!(greatest_distance_when_fitted(&a, &turned) < 1e-12);
    }
}
