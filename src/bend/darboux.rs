//! The Darboux frame of a line on a panel: normal curvature, geodesic curvature, geodesic
//! torsion.
//!
//! Source: do Carmo, *Differential Geometry of Curves and Surfaces* (1976), section 3-2 for
//! normal curvature, 4-4 for geodesic curvature; geodesic torsion is in an exercise of 3-2.

use crate::curve::{ArcTable, Spline};
use crate::geom::{P3, V3, unit};

/// Distance (mm) over which a normal's turning is measured: the twist of a stick is felt
/// over about twice its width, and shorter windows only show the sampling of rulings.
const TWIST_WINDOW_MM: f64 = 80.0;

/// Curvatures of a line lying on a skin, at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Curvatures {
    /// Distance along the line from the bow, mm.
    pub at: f64,
    /// Bends the member's depth, square to the skin, 1/mm; positive towards the outside.
    pub normal: f64,
    /// Bends the member edgewise, along the skin, 1/mm.
    pub geodesic: f64,
    /// Twists the member, radians per mm.
    pub torsion: f64,
    /// The place in space, mm.
    pub point: P3,
    /// Unit tangent, aft.
    pub tangent: V3,
    /// The skin's outward unit normal.
    pub outward: V3,
}

/// The skin's outward unit normals along a line: (distance along the line in mm, normal),
/// distances increasing.
pub type NormalsAlong = Vec<(f64, V3)>;

/// The normal at distance `s`, blended between the two nearest.
pub fn normal_at(normals: &NormalsAlong, s: f64) -> V3 {
    let i = normals.partition_point(|n| n.0 <= s);
    if i == 0 {
        return normals.first().map_or_else(V3::z, |n| n.1);
    }
    if i == normals.len() {
        return normals[i - 1].1;
    }
    let ((s0, n0), (s1, n1)) = (normals[i - 1], normals[i]);
    unit(n0.lerp(&n1, (s - s0) / (s1 - s0))).unwrap_or(n0)
}

/// A duck nearer than this (mm) to an even place is not looked at a second time.
const NEAR_MM: f64 = 1.0;

/// Where a line is looked at, mm along it: at `count + 1` even distances and at its ducks, where
/// a cubic's second derivative has its greatest values.
fn places(line: &Spline, arc: &ArcTable, count: usize) -> Vec<f64> {
    let length = arc.length();
    let mut all: Vec<f64> = (0..=count).map(|k| length * k as f64 / count as f64).collect();
    for t in line.knots().iter().filter(|t| !line.knuckles().contains(t)) {
        let s = arc.length_at(line, *t);
        let i = all.partition_point(|a| *a < s);
        let near = |a: Option<&f64>| a.is_some_and(|a| (a - s).abs() < NEAR_MM);
        if !near(all.get(i)) && !near(i.checked_sub(1).and_then(|i| all.get(i))) {
            all.insert(i, s);
        }
    }
    all
}

/// Curvatures at `count + 1` even distances along `line` and at its ducks, in their order.
pub fn along(
    line: &Spline,
    arc: &ArcTable,
    normals: &NormalsAlong,
    count: usize,
) -> Vec<Curvatures> {
    let length = arc.length();
    let half = (0.5 * TWIST_WINDOW_MM).min(0.25 * length);
    places(line, arc, count)
        .into_iter()
        .map(|s| {
            let jet = line.jet(arc.parameter_at(line, s));
            let tangent = unit(jet.d1).unwrap_or_else(V3::x);
            let bend = (jet.d2 - jet.d2.dot(&tangent) * tangent) / jet.d1.norm_squared();
            // The normal square to this tangent: panels' normals are to rounding already.
            let n = normal_at(normals, s);
            let n = unit(n - n.dot(&tangent) * tangent).unwrap_or(n);
            let across = n.cross(&tangent);
            let (from, to) = ((s - half).max(0.0), (s + half).min(length));
            let turned = normal_at(normals, to) - normal_at(normals, from);
            Curvatures {
                at: s,
                normal: bend.dot(&n),
                geodesic: bend.dot(&across),
                torsion: turned.dot(&across) / (to - from),
                point: jet.p,
                tangent,
                outward: n,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::End;

    /// A natural spline through 0, 1, 0 with unit steps has its greatest second derivative, -3,
    /// at the middle duck (de Boor, chapter IV): no even place of nine hits it.
    #[test]
    fn the_tightest_place_at_a_duck_is_met() {
        let (step, rise) = (1000.0, 1e-3);
        let ducks = [0.0, 1.0, 0.0].map(|v| v * rise);
        let ducks: Vec<P3> =
            ducks.iter().enumerate().map(|(i, z)| P3::new(step * i as f64, 0.0, *z)).collect();
        let line = Spline::through(&ducks, &[], End::Free, End::Free).expect("ducks");
        let arc = ArcTable::of(&line);
        let normals: NormalsAlong = vec![(0.0, V3::z()), (arc.length(), V3::z())];
        let found = along(&line, &arc, &normals, 9);
        assert_eq!(found.len(), 11, "nine pieces and the duck in the middle");
        assert!(found.windows(2).all(|w| w[0].at < w[1].at));
        let tightest = found.iter().map(|c| c.normal.abs()).fold(0.0, f64::max);
        let exact = 3.0 * rise / (step * step);
        assert!((tightest / exact - 1.0).abs() < 1e-6, "{}", tightest / exact);
    }

    /// A helix on an upright cylinder: κ_n = cos²β/r, κ_g = 0, τ_g = sinβ cosβ / r, with β
    /// the helix's slope (do Carmo, as above; Euler's formula).
    #[test]
    fn a_helix_on_a_cylinder_has_its_closed_form() {
        let (r, slope) = (3000.0, 0.15f64);
        let point = |a: f64| P3::new(r * a.sin(), r * a.cos(), r * a * slope.tan());
        let ducks: Vec<P3> = (0..=60).map(|i| point(1.2 * f64::from(i) / 60.0)).collect();
        let line = Spline::through(&ducks, &[], End::NotAKnot, End::NotAKnot).expect("ducks");
        let arc = ArcTable::of(&line);
        let normals: NormalsAlong = (0..=100)
            .map(|i| arc.length() * f64::from(i) / 100.0)
            .map(|s| {
                let a = s * slope.cos() / r;
                (s, V3::new(a.sin(), a.cos(), 0.0))
            })
            .collect();
        for c in along(&line, &arc, &normals, 40) {
            assert!((c.normal + slope.cos().powi(2) / r).abs() < 1e-7, "{}", c.normal);
            assert!(c.geodesic.abs() < 1e-7);
            let torsion = slope.sin() * slope.cos() / r;
            assert!((c.torsion.abs() / torsion - 1.0).abs() < 2e-3, "{}", c.torsion);
        }
    }
}
