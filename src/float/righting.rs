//! Righting arm over heel, with trim free: how hard she comes back, and how far she goes.

use super::body::Floats;
use super::equilibrium::{Floating, Start, Weight, float_at_heel};
use crate::geom::P3;

/// An arm under this (mm) is none.
const NO_ARM_MM: f64 = 1e-3;

/// One heel of the curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Righting {
    /// Heel, radians.
    pub heel: f64,
    /// Righting arm, mm: from G to the plumb line through B; positive brings her back.
    pub arm: f64,
    /// Trim that she takes there, radians.
    pub trim: f64,
    /// Freeboard of the lowest of the given openings, mm; less than nothing is under water.
    pub freeboard: f64,
}

/// The curve and what is read off it.
#[derive(Debug, Clone, PartialEq)]
pub struct RightingCurve {
    /// From upright on, heel increasing.
    pub points: Vec<Righting>,
    /// Heel at which water comes in, radians; `None` within the heels reached.
    pub downflooding: Option<f64>,
    /// Heel at which the arm vanishes after its greatest, if no water came in before,
    /// radians: 0 where she has none at any heel; `None` within those reached.
    pub vanishing: Option<f64>,
    /// The greatest heel at which she found her trim, radians.
    pub reached: f64,
    /// Area under the arm from upright to the lesser of downflooding and vanishing, mm·rad.
    pub area: f64,
}

/// Righting arm of a hull that floats so: how far B's plumb line passes G, to the side to
/// which she heels.
pub fn arm(floating: &Floating, centre: P3) -> f64 {
    (floating.immersed.centroid - centre).dot(&floating.water.abeam)
}

/// The curve of `mesh` under `weight` at `heels` (radians, increasing from 0); `openings`
/// are the places where water would come in (both sides).
pub fn righting(
    mesh: &impl Floats,
    weight: Weight,
    density: f64,
    openings: &[P3],
    heels: &[f64],
) -> RightingCurve {
    let mut points: Vec<Righting> = Vec::new();
    let mut start = Start::from((0.0, 0.0));
    for heel in heels {
        // Each heel starts from the trim of the one before, the water about the same place.
        let Some(f) = float_at_heel(mesh, weight, density, Start { heel: *heel, ..start }) else {
            break;
        };
        start = Start::from(&f);
        let trim = f.trim;
        let freeboard =
            openings.iter().map(|p| f.water.plane.distance(*p)).fold(f64::INFINITY, f64::min);
        points.push(Righting { heel: *heel, arm: arm(&f, weight.centre), trim, freeboard });
    }
    let crossing = |f: &dyn Fn(&Righting) -> f64, from: usize| {
        points.windows(2).skip(from).find_map(|w| {
            let (a, b) = (f(&w[0]), f(&w[1]));
            (a > 0.0 && b <= 0.0).then(|| w[0].heel + a / (a - b) * (w[1].heel - w[0].heel))
        })
    };
    let most =
        points.iter().enumerate().max_by(|a, b| a.1.arm.total_cmp(&b.1.arm)).map_or(0, |(i, _)| i);
    let downflooding = match points.first() {
        Some(p) if p.freeboard <= 0.0 => Some(p.heel),
        _ => crossing(&|p| p.freeboard, 0),
    };
    let vanishing = match points.get(most) {
        Some(p) if p.arm < NO_ARM_MM => Some(0.0),
        _ => crossing(&|p| p.arm, most),
    };
    let end = downflooding.unwrap_or(f64::INFINITY).min(vanishing.unwrap_or(f64::INFINITY));
    let area = points
        .windows(2)
        .map(|w| {
            let (a, b) = (w[0].heel.min(end), w[1].heel.min(end));
            let at = |h: f64| {
                let t = (h - w[0].heel) / (w[1].heel - w[0].heel);
                w[0].arm + t * (w[1].arm - w[0].arm)
            };
            0.5 * (at(a) + at(b)) * (b - a)
        })
        .sum();
    let reached = points.last().map_or(0.0, |p| p.heel);
    RightingCurve { points, downflooding, vanishing, reached, area }
}
