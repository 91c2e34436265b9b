//! What a panel has past the line of the stem, or of a sharp stern's post.
//!
//! Square to the stem the inside of the planking leaves the centreplane at the half angle α.
//! On the line it stands h out, the half-siding. Both sides *mitred* meet in the centreplane:
//! at depth d of the sheet the panel reaches (h + d cos α) / sin α past the line, so its outer
//! face reaches t / tan α further than its inner one. Sides that *run past* are cut a little
//! past the line and planed back, with the stem, to the flat that an outer stem is glued on.

use crate::flat::FlatPanel;
use crate::geom::{P2, V3, angle_between, unit};
use crate::hull::StemSides;
use crate::panel::Surface;

/// How far sides that run past are cut past the line, mm: so much can be planed off after the
/// glue has set. Common practice, no source.
pub const RUN_PAST_MM: f64 = 10.0;
/// Places along the edge are at most so far apart, mm.
const EVERY_MM: f64 = 50.0;
/// Half angles of less than this (radians, 5°) never close within reason: the mitre of a
/// sharper bow is taken for this one.
const LEAST_HALF_ANGLE: f64 = 5.0 * std::f64::consts::PI / 180.0;

/// Half angle between the planking's inside, whose outward normal is `n`, and the centreplane,
/// square to the edge that runs along `step`, radians; `None` for an edge athwartships.
pub fn half_angle(n: V3, step: V3) -> Option<f64> {
    let e = unit(V3::new(step.x, 0.0, step.z))?;
    Some(angle_between(n - n.dot(&e) * e, V3::y()))
}

/// How far past the stem's line a mitred panel reaches at depth `depth` of its sheet, mm.
pub fn mitre(half_angle: f64, half_siding: f64, depth: f64) -> f64 {
    let a = half_angle.max(LEAST_HALF_ANGLE);
    (half_siding + depth * a.cos()) / a.sin()
}

/// The forward (or after) edge of the pattern from its lower to its upper corner, and what
/// the panel has past it at each place, mm; `thickness` is its sheet's.
pub fn past_post(
    surface: &Surface,
    flat: &FlatPanel,
    at_stern: bool,
    (thickness, half_siding): (f64, f64),
    sides: StemSides,
) -> Vec<(P2, f64)> {
    let edge = surface.end_edge(at_stern);
    let laid = if at_stern { flat.stern_edge() } else { flat.bow_edge() };
    let mut out = Vec::new();
    for (w, f) in edge.windows(2).zip(laid.windows(2)) {
        let step = w[1].0 - w[0].0;
        let pieces = (step.norm() / EVERY_MM).ceil().max(1.0) as usize;
        for k in 0..=pieces {
            let t = k as f64 / pieces as f64;
            let Some(angle) = half_angle(w[0].1.lerp(&w[1].1, t), step) else {
                continue;
            };
            let past = match sides {
                StemSides::RunPast => RUN_PAST_MM,
                StemSides::Mitred => mitre(angle, half_siding, thickness),
            };
            out.push((f[0] + t * (f[1] - f[0]), past));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 6 mm side that leaves the centreplane at 30°, on an upright stem: 6 / tan 30° past it.
    #[test]
    fn a_mitre_by_hand() {
        let a = 30f64.to_radians();
        let n = V3::new(-a.sin(), a.cos(), 0.0);
        let angle = half_angle(n, V3::new(0.0, 0.0, 300.0)).expect("an upright stem");
        assert!((angle - a).abs() < 1e-12);
        assert!((mitre(angle, 0.0, 6.0) - 6.0 * 3f64.sqrt()).abs() < 1e-9);
        // The inner face starts h out and reaches h / sin α.
        assert!((mitre(angle, 5.0, 0.0) - 10.0).abs() < 1e-9);
        // On a stem raked by any angle within the plane of the side the angle is the same.
        let along = V3::new(100.0 * a.cos(), 100.0 * a.sin(), 300.0);
        assert!(n.dot(&along).abs() < 1e-9);
    }
}
