//! Planes in space.

use super::{P3, V3, unit};

/// The plane of all points p with `normal · p = offset`; the normal has unit length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// Unit normal.
    pub normal: V3,
    /// Distance (mm) of the plane from the origin along the normal.
    pub offset: f64,
}

impl Plane {
    /// The plane through `point` square to `normal`, or `None` for a normal without length.
    pub fn through(point: P3, normal: V3) -> Option<Plane> {
        let normal = unit(normal)?;
        Some(Plane { normal, offset: normal.dot(&point.coords) })
    }

    /// Signed distance (mm) of `p`, positive on the side to which the normal points.
    pub fn distance(&self, p: P3) -> f64 {
        self.normal.dot(&p.coords) - self.offset
    }

    /// The athwartships plane (its normal has no y) that lies closest to `points` by least
    /// squares over their x: x = c + m z. This is how a transom stands. One point, or
    /// points at one height, give an upright plane through their mean.
    pub fn athwartships_fit(points: &[P3]) -> Option<Plane> {
        let n = points.len() as f64;
        if points.is_empty() {
            return None;
        }
        let mean_x = points.iter().map(|p| p.x).sum::<f64>() / n;
        let mean_z = points.iter().map(|p| p.z).sum::<f64>() / n;
        let szz: f64 = points.iter().map(|p| (p.z - mean_z).powi(2)).sum();
        let sxz: f64 = points.iter().map(|p| (p.x - mean_x) * (p.z - mean_z)).sum();
        // Heights within a millimetre of each other say nothing of the rake.
        let slope = if szz > 1.0 { sxz / szz } else { 0.0 };
        Plane::through(P3::new(mean_x, 0.0, mean_z), V3::new(1.0, 0.0, -slope))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fits_a_raked_plane_exactly() {
        let on = |y: f64, z: f64| P3::new(4000.0 + 0.2 * z, y, z);
        let points = [on(0.0, 50.0), on(500.0, 60.0), on(650.0, 430.0)];
        let plane = Plane::athwartships_fit(&points).expect("three points");
        for p in points {
            assert!(plane.distance(p).abs() < 1e-9);
        }
        assert!(plane.distance(P3::new(5000.0, 0.0, 0.0)) > 900.0, "normal points aft");
    }
}
