//! The list test of the safe-loading rule: how much weight along one side brings the water
//! to the lowest opening.
//!
//! Source: 33 CFR 183.41: weights along one side
//! of the passengers' space, at seat height but not above the gunwale, until she lists or
//! trims as far as she can without water coming aboard.

use super::body::Floats;
use super::equilibrium::{Start, Weight, float};
use crate::geom::P3;
use crate::geom::roots::bracketed;

/// The weight is found to this many kg.
const TOLERANCE_KG: f64 = 0.05;
/// The weight that is tried first, kg.
const FIRST_KG: f64 = 20.0;
/// The freeboard (mm) of a boat that finds no rest: she has gone over.
const GONE_MM: f64 = -200.0;

/// The weight (kg) at `seat` that brings the water to the lowest of `openings`, from nothing
/// to what the hull displaces; `None` if she does not float at all without it.
pub fn list_weight(
    mesh: &impl Floats,
    boat: Weight,
    density: f64,
    seat: P3,
    openings: &[P3],
) -> Option<f64> {
    let mut start = Start::from((0.0, 0.0));
    let mut freeboard = |added: f64| {
        let mass = boat.mass + added;
        let centre = (boat.mass * boat.centre.coords + added * seat.coords) / mass;
        let found = float(mesh, Weight { mass, centre: P3::from(centre) }, density, start)?;
        let least =
            openings.iter().map(|p| found.water.plane.distance(*p)).fold(f64::INFINITY, f64::min);
        if least >= 0.0 {
            start = Start::from(&found);
        }
        Some(least.max(GONE_MM))
    };
    let at_rest = freeboard(0.0)?;
    if at_rest <= 0.0 {
        return Some(0.0);
    }
    let most = mesh.volume() * density * 1e-9 - boat.mass;
    let mut over = |added: f64| freeboard(added).unwrap_or(GONE_MM);
    // Outward by how fast the freeboard goes, until it is gone.
    let (mut inner, mut added) = ((0.0, at_rest), FIRST_KG.min(most));
    let outer = loop {
        let left = if added < most { over(added) } else { GONE_MM };
        if left <= 0.0 {
            break (added, left);
        }
        let fall = (inner.1 - left) / (added - inner.0);
        let ahead = if fall > 0.0 { 1.1 * left / fall } else { added };
        inner = (added, left);
        added = (added + ahead.clamp(FIRST_KG, added.max(FIRST_KG))).min(most);
    };
    bracketed(over, inner, outer, TOLERANCE_KG).map(|r| r.x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::float::swamped::block;
    use crate::geom::mesh::Mesh;

    /// A box 4 by 1.2 m, 0.5 m deep, of 1300 kg at half its depth: weights w at the rail's
    /// edge, at the height of the centre of gravity. By hand for a wall-sided box: with mean
    /// draft T = m/(ρ L B), the heel t = tan φ solves m (GM + BM t²/2) t = w y, and the
    /// gunwale is at the water where T + t B/2 = D.
    #[test]
    fn a_box_by_hand() {
        let (l, b, d) = (4000.0, 1200.0, 500.0);
        let mut mesh = Mesh::default();
        block(&mut mesh, P3::new(0.0, -0.5 * b, 0.0), P3::new(l, 0.5 * b, d));
        let boat = Weight { mass: 1300.0, centre: P3::new(2000.0, 0.0, 250.0) };
        let seat = P3::new(2000.0, 400.0, 250.0);
        let corners = [0.0, l]
            .into_iter()
            .flat_map(|x| [-0.5, 0.5].map(|s| P3::new(x, s * b, d)))
            .collect::<Vec<_>>();
        let found = list_weight(&mesh, boat, 1000.0, seat, &corners).expect("she floats");
        let lever = |w: f64| {
            let m = 1300.0 + w;
            let draft = m / (1000.0 * l * b) * 1e9;
            let t = (d - draft) / (0.5 * b);
            let bm = b * b / (12.0 * draft);
            let gm = 0.5 * draft + bm - 250.0;
            m * (gm + 0.5 * bm * t * t) * t - w * 400.0
        };
        let (mut low, mut high) = (1.0, 1000.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if lever(middle) > 0.0 { low = middle } else { high = middle }
        }
        // The far bilge must stay under water for the formula to hold.
        let draft = (1300.0 + low) / (1000.0 * l * b) * 1e9;
        assert!(2.0 * draft > d, "wall-sided at {draft}");
        assert!((found - low).abs() < 0.2, "{found} {low}");
    }
}
