//! What lies under a plane of water: volume, centroid, waterplane and wetted area of a
//! closed mesh, exact for its triangles.
//!
//! Each triangle is clipped by the plane. The volume and its first moments are sums over
//! the tetrahedra from one point *on* the plane to the wetted triangles: those to the
//! waterplane itself have no height, so it need not be built. Its area and moments come
//! from the projections of the wetted triangles, which, the surface being closed, cover the
//! waterplane once with the other sign (Gauss's and Green's theorems; Mirtich, "Fast and
//! accurate computation of polyhedral mass properties", JGT 1 (1996), uses the same).
//!
//! Promised: the same for any order and position of the triangles, to rounding. Asked of
//! the mesh: closed, triangles anticlockwise seen from outside.

use crate::geom::mesh::Mesh;
use crate::geom::plane::Plane;
use crate::geom::{P3, V3, unit};

/// What a plane of water finds of a hull. Lengths mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Immersed {
    /// Displaced volume, mm³.
    pub volume: f64,
    /// Its centroid; the origin if nothing is displaced.
    pub centroid: P3,
    /// Area of the waterplane, mm².
    pub waterplane: f64,
    /// Its centroid.
    pub flotation: P3,
    /// Second moments of the waterplane about its centroid (mm⁴): about the axis that runs
    /// fore and aft in the plane, about the one athwartships, and their product.
    pub inertia: [f64; 3],
    /// Wetted area, mm².
    pub wetted: f64,
}

/// A plane of water with axes in it: `aft` along it, `abeam` to starboard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    /// The plane; its normal points up, out of the water.
    pub plane: Plane,
    /// Unit vector in the plane, aft.
    pub aft: V3,
    /// Unit vector in the plane, to starboard.
    pub abeam: V3,
}

impl Water {
    /// The plane with this unit normal (up, in the hull's axes) at `height` mm along it.
    /// `None` where the normal runs fore and aft, so that no heading is left.
    pub fn new(up: V3, height: f64) -> Option<Water> {
        let aft = unit(V3::x() - V3::x().dot(&up) * up)?;
        // Aft, starboard, up: right-handed.
        Some(Water { plane: Plane { normal: up, offset: height }, aft, abeam: up.cross(&aft) })
    }

    /// Level water at height z = `height` of an upright hull.
    pub fn level(height: f64) -> Water {
        Water { plane: Plane { normal: V3::z(), offset: height }, aft: V3::x(), abeam: V3::y() }
    }
}

/// Running sums over wetted triangles.
#[derive(Default)]
struct Sums {
    volume: f64,
    moment: V3,
    wetted: f64,
    /// Of the projections: area, first moments, second moments xx, yy, xy.
    plane: [f64; 6],
}

impl Sums {
    fn add(&mut self, a: V3, b: V3, c: V3, water: &Water) {
        // From the point on the plane that is the origin here.
        let six = a.dot(&b.cross(&c));
        self.volume += six / 6.0;
        self.moment += six / 24.0 * (a + b + c);
        let normal = 0.5 * (b - a).cross(&(c - a));
        self.wetted += normal.norm();
        // The cap covers the projection with the other sign.
        let area = -normal.dot(&water.plane.normal);
        let [ax, bx, cx] = [a, b, c].map(|v| v.dot(&water.aft));
        let [ay, by, cy] = [a, b, c].map(|v| v.dot(&water.abeam));
        let (sx, sy) = (ax + bx + cx, ay + by + cy);
        self.plane[0] += area;
        self.plane[1] += area * sx / 3.0;
        self.plane[2] += area * sy / 3.0;
        // ∫ x² over a triangle: A/12 (Σ x² + (Σ x)²); likewise the others.
        self.plane[3] += area / 12.0 * (ax * ax + bx * bx + cx * cx + sx * sx);
        self.plane[4] += area / 12.0 * (ay * ay + by * by + cy * cy + sy * sy);
        self.plane[5] += area / 12.0 * (ax * ay + bx * by + cx * cy + sx * sy);
    }
}

/// What `water` finds of `mesh`.
pub fn immersed(mesh: &Mesh, water: &Water) -> Immersed {
    // A point of the plane near the hull, so that sums stay small.
    let first = mesh.vertices.first().copied().unwrap_or_default();
    let origin = first - water.plane.distance(first) * water.plane.normal;
    let depth: Vec<f64> = mesh.vertices.iter().map(|v| water.plane.distance(*v)).collect();
    let mut sums = Sums::default();
    for t in &mesh.triangles {
        let [i, j, k] = [t[0] as usize, t[1] as usize, t[2] as usize];
        let d = [depth[i], depth[j], depth[k]];
        if d.iter().all(|d| *d >= 0.0) {
            continue;
        }
        let p = [mesh.vertices[i] - origin, mesh.vertices[j] - origin, mesh.vertices[k] - origin];
        if d.iter().all(|d| *d <= 0.0) {
            sums.add(p[0], p[1], p[2], water);
            continue;
        }
        // The polygon of three or four corners under water.
        let mut ring = [V3::zeros(); 4];
        let mut n = 0;
        for (e, f) in [(0, 1), (1, 2), (2, 0)] {
            if d[e] <= 0.0 {
                ring[n] = p[e];
                n += 1;
            }
            if (d[e] < 0.0 && d[f] > 0.0) || (d[e] > 0.0 && d[f] < 0.0) {
                ring[n] = p[e] + d[e] / (d[e] - d[f]) * (p[f] - p[e]);
                n += 1;
            }
        }
        for m in 2..n {
            sums.add(ring[0], ring[m - 1], ring[m], water);
        }
    }
    finished(sums.volume, sums.moment, sums.wetted, sums.plane, (water, origin))
}

/// What the sums of all that is wet come to: volume, its first moments, wetted area, and the
/// waterplane's area, first and second moments (xx, yy, xy), from an origin on the water.
pub(super) fn finished(
    volume: f64,
    moment: V3,
    wetted: f64,
    [area, mx, my, xx, yy, xy]: [f64; 6],
    (water, origin): (&Water, P3),
) -> Immersed {
    let centroid = if volume > 0.0 { origin + moment / volume } else { P3::origin() };
    let (cx, cy) = if area > 0.0 { (mx / area, my / area) } else { (0.0, 0.0) };
    Immersed {
        volume,
        centroid,
        waterplane: area,
        flotation: origin + cx * water.aft + cy * water.abeam,
        inertia: [yy - area * cy * cy, xx - area * cx * cx, xy - area * cx * cy],
        wetted,
    }
}
