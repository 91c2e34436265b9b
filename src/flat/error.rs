//! How far off a pattern may be, estimated from itself.
//!
//! Two things are estimated. The strips' error falls with the square of their number, so
//! the same rulings taken two strips at a time are four times as far off; a third of the
//! difference is the error of the finer one (Richardson). And between two rulings the
//! outline is drawn straight where the true edge is curved: the sag of that chord is a
//! quarter of what the ruling's end stands off the chord of its neighbours. Checked against
//! closed forms in `tests/it/patterns.rs`.

use super::develop::{FlatPanel, lay};
use crate::geom::{P2, V2};

/// A point that turns the edge by this many times what its neighbours do is a corner (a
/// knuckle), where the outline is meant to be sharp.
const CORNER: f64 = 6.0;
/// Turning (radians) that is no corner whatever the neighbours do.
const NO_CORNER: f64 = 1e-3;

/// Estimated greatest error (mm) of the flat outline against the exact development, after
/// the best fit of one onto the other.
pub fn estimate(panel: &FlatPanel) -> f64 {
    strips(panel).max(sag(&panel.lower_edge())).max(sag(&panel.upper_edge()))
}

/// Estimated greatest distance (mm) of an edge drawn straight from point to point from the
/// smooth edge through the same points.
fn sag(edge: &[P2]) -> f64 {
    let edge = crate::geom::polyline::without_repeats(edge.iter().copied(), 1e-6);
    let turning: Vec<f64> = edge
        .windows(3)
        .map(|w| (w[1] - w[0]).perp(&(w[2] - w[1])).atan2((w[1] - w[0]).dot(&(w[2] - w[1]))).abs())
        .collect();
    let mut worst: f64 = 0.0;
    for (i, w) in edge.windows(3).enumerate() {
        let before = i.checked_sub(1).map_or(0.0, |k| turning[k]);
        let beside = before.max(turning.get(i + 1).copied().unwrap_or(0.0));
        if turning[i] > NO_CORNER && turning[i] > CORNER * beside {
            continue;
        }
        let chord = w[2] - w[0];
        let off = chord.perp(&(w[1] - w[0])).abs() / chord.norm().max(1e-9);
        worst = worst.max(0.25 * off);
    }
    worst
}

/// The error of the strips alone, mm, at the ends of the rulings.
pub fn strips(panel: &FlatPanel) -> f64 {
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

    /// A circle of radius R in chords of length c sags by c²/8R (elementary); a right angle
    /// between two straight runs is a corner and no sag.
    #[test]
    fn chords_of_a_circle_sag_and_corners_do_not() {
        let (r, step) = (2000.0, 0.03f64);
        let arc: Vec<P2> = (0..40)
            .map(|i| f64::from(i) * step)
            .map(|a| P2::new(r * a.sin(), r * (1.0 - a.cos())))
            .collect();
        let chord = 2.0 * r * (0.5 * step).sin();
        let exact = r * (1.0 - (0.5 * step).cos());
        assert!((exact - chord * chord / (8.0 * r)).abs() < 1e-3);
        assert!((sag(&arc) / exact - 1.0).abs() < 0.01, "{} {exact}", sag(&arc));
        let mut angle: Vec<P2> = (0..5).map(|i| P2::new(50.0 * f64::from(i), 0.0)).collect();
        angle.extend((1..5).map(|i| P2::new(200.0, 50.0 * f64::from(i))));
        assert_eq!(sag(&angle), 0.0);
    }

    #[test]
    fn fitting_undoes_a_turn_and_a_shift() {
        let a: Vec<P2> = [(0.0, 0.0), (4.0, 1.0), (2.0, 3.0)].map(|(x, y)| P2::new(x, y)).into();
        let turned: Vec<P2> = a.iter().map(|p| P2::new(7.0 - p.y, p.x - 2.0)).collect();
        assert!(greatest_distance_when_fitted(&a, &turned) < 1e-12);
    }
}
