//! A closed mesh made ready for many planes of water: what each plane finds of it, as
//! [`super::volume::immersed`] has it, in a third of the time.
//!
//! The same sums, put differently. What triangles wholly under water come to is a polynomial
//! of where the plane lies, whose coefficients are kept for clumps of neighbours: only clumps
//! that the water cuts are looked into. The part of a triangle that is under water is a share
//! of it (or all of it less a share), so its area, which no plane changes, is kept. And the
//! waterplane is not got from projections of all that is wet but from its own edge, which the
//! cut triangles run along once (Green's theorem).
//!
//! Promised: what `immersed` finds, to rounding. Asked of the mesh: closed, as there.

use nalgebra::Matrix3;

use super::volume::{Immersed, Water, finished};
use crate::geom::mesh::Mesh;
use crate::geom::{P3, V3};

/// What can be floated: a mesh as it is, or one made ready for many planes.
pub trait Floats {
    /// What `water` finds of it.
    fn immersed(&self, water: &Water) -> Immersed;
    /// All that it displaces, mm³.
    fn volume(&self) -> f64;
    /// Its lowest and highest reach along `up`, mm.
    fn reach(&self, up: V3) -> (f64, f64);
}

fn reach_of(vertices: &[P3], up: V3) -> (f64, f64) {
    vertices
        .iter()
        .map(|v| v.coords.dot(&up))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)))
}

impl Floats for Mesh {
    fn immersed(&self, water: &Water) -> Immersed {
        super::volume::immersed(self, water)
    }

    fn volume(&self) -> f64 {
        Mesh::volume(self)
    }

    fn reach(&self, up: V3) -> (f64, f64) {
        reach_of(&self.vertices, up)
    }
}

/// Triangles of a clump: enough that most clumps lie wholly on one side of the water, few
/// enough that those that do not are soon gone through.
const CLUMP: usize = 8;
/// Vertices to a box: enough that looking at the box instead is worth it.
const BOXED: usize = 32;
/// A clump this near (mm) the water is looked at triangle by triangle.
const NEAR_MM: f64 = 1e-6;

/// A mesh with what no plane of water changes.
#[derive(Debug)]
pub struct Body<'a> {
    mesh: &'a Mesh,
    /// The middle of the box around it, from which places are measured here.
    middle: P3,
    /// Corners from there, and area (mm²) of each triangle, clump by clump.
    triangles: Vec<([V3; 3], f64)>,
    clumps: Vec<Clump>,
    /// Boxes (middle and half) around [`BOXED`] of the mesh's vertices each.
    boxes: Vec<(V3, V3)>,
    /// All that it displaces, mm³.
    volume: f64,
}

/// Neighbouring triangles: the box around them, and what they come to where all are wet.
#[derive(Debug)]
struct Clump {
    middle: V3,
    half: V3,
    sums: Wet,
}

/// Sums over triangles that are wholly under water, none of which depends on where it is: six
/// times the volume over them from the body's middle, the same by the sum of their corners,
/// their areas as vectors, the corners' sums by these, and their area.
#[derive(Debug, Clone, Copy)]
struct Wet {
    six: f64,
    moment: V3,
    area: V3,
    corners_by_area: Matrix3<f64>,
    wetted: f64,
}

impl Wet {
    fn nothing() -> Wet {
        Wet {
            six: 0.0,
            moment: V3::zeros(),
            area: V3::zeros(),
            corners_by_area: Matrix3::zeros(),
            wetted: 0.0,
        }
    }

    fn of([a, b, c]: &[V3; 3], wetted: f64) -> Wet {
        let six = a.dot(&b.cross(c));
        let (sum, area) = (a + b + c, 0.5 * (b - a).cross(&(c - a)));
        Wet { six, moment: six * sum, area, corners_by_area: sum * area.transpose(), wetted }
    }

    fn add(&mut self, other: &Wet) {
        self.six += other.six;
        self.moment += other.moment;
        self.area += other.area;
        self.corners_by_area += other.corners_by_area;
        self.wetted += other.wetted;
    }

    /// Six times the volume, and that by the sum of the corners, from the foot of the body's
    /// middle on a plane with this normal from which it stands `above` mm.
    fn moment_over(&self, normal: V3, above: f64) -> (f64, V3) {
        // A triangle's volume grows by a third of its area, seen along the normal, by the shift.
        let seen = normal.dot(&self.area);
        let six = self.six + 2.0 * above * seen;
        let moment = self.moment
            + 3.0 * above * self.six * normal
            + 2.0 * above * (self.corners_by_area * normal)
            + 6.0 * above * above * seen * normal;
        (six, moment)
    }
}

/// A corner in the water's axes: aft, to starboard, up out of it.
type Corner = [f64; 3];

/// Running sums over what is wet, in the water's axes.
#[derive(Default)]
struct Sums {
    /// Six times the volume, and 24 times its first moments.
    six: f64,
    moment: [f64; 3],
    wetted: f64,
    /// Of the waterplane, from its edge: twice the area, six times the first moments, 12
    /// times xx and yy and 24 times xy.
    plane: [f64; 6],
}

impl Sums {
    /// Adds what of a triangle is under water, as the bits `under` have it of its corners.
    fn triangle(&mut self, p: [Corner; 3], under: usize, area: f64) {
        let [a, b, c] = p;
        let six = six_of(a, b, c);
        let sum = [a[0] + b[0] + c[0], a[1] + b[1] + c[1], a[2] + b[2] + c[2]];
        if under == 7 {
            self.pyramid(six, sum);
            self.wetted += area;
            return;
        }
        // The corner that is by itself, and the two others in their sense.
        let alone = LONE[under];
        let (a, b, c) = (p[alone], p[(alone + 1) % 3], p[(alone + 2) % 3]);
        let (s, t) = (a[2] / (a[2] - b[2]), a[2] / (a[2] - c[2]));
        let ab = (a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1]));
        let ac = (a[0] + t * (c[0] - a[0]), a[1] + t * (c[1] - a[1]));
        let share = s * t;
        let tip = [a[0] + ab.0 + ac.0, a[1] + ab.1 + ac.1, a[2]];
        if a[2] < 0.0 {
            self.pyramid(share * six, tip);
            self.wetted += share * area;
            self.edge(ac, ab);
        } else {
            self.pyramid(six, sum);
            self.pyramid(-share * six, tip);
            self.wetted += (1.0 - share) * area;
            self.edge(ab, ac);
        }
    }

    /// Adds a pyramid from the origin of which six times the volume and the sum of the three
    /// corners are known.
    fn pyramid(&mut self, six: f64, sum: Corner) {
        self.six += six;
        for (m, s) in self.moment.iter_mut().zip(sum) {
            *m += six * s;
        }
    }

    /// Adds a piece of the waterplane's edge, the water on its left seen from above.
    fn edge(&mut self, (x0, y0): (f64, f64), (x1, y1): (f64, f64)) {
        let cross = x0 * y1 - x1 * y0;
        let (sx, sy) = (x0 + x1, y0 + y1);
        self.plane[0] += cross;
        self.plane[1] += cross * sx;
        self.plane[2] += cross * sy;
        self.plane[3] += cross * (sx * sx - x0 * x1);
        self.plane[4] += cross * (sy * sy - y0 * y1);
        self.plane[5] += cross * (sx * sy + x0 * y0 + x1 * y1);
    }
}

impl Body<'_> {
    /// Makes `mesh` ready.
    pub fn of(mesh: &Mesh) -> Body<'_> {
        let (low, high) = mesh
            .vertices
            .iter()
            .fold((V3::repeat(f64::INFINITY), V3::repeat(f64::NEG_INFINITY)), |(l, h), v| {
                (l.inf(&v.coords), h.sup(&v.coords))
            });
        let middle = if mesh.vertices.is_empty() { V3::zeros() } else { 0.5 * (low + high) };
        // One side after the other: both halves of a strip come together in a mesh.
        let (port, starboard): (Vec<_>, Vec<_>) =
            mesh.corners().partition(|[a, b, c]| a.y + b.y + c.y < 0.0);
        let triangles: Vec<([V3; 3], f64)> = port
            .into_iter()
            .chain(starboard)
            .map(|[a, b, c]| {
                let area = 0.5 * (b - a).cross(&(c - a)).norm();
                ([a.coords - middle, b.coords - middle, c.coords - middle], area)
            })
            .collect();
        let clumps = triangles.chunks(CLUMP).map(Clump::of).collect();
        let boxes = mesh.vertices.chunks(BOXED).map(|v| boxed(v.iter().map(|p| p.coords)));
        Body {
            mesh,
            middle: P3::from(middle),
            triangles,
            clumps,
            boxes: boxes.collect(),
            volume: mesh.volume(),
        }
    }

    /// The mesh.
    pub fn mesh(&self) -> &Mesh {
        self.mesh
    }
}

/// The middle and the half of the box around some places.
fn boxed(places: impl Iterator<Item = V3>) -> (V3, V3) {
    let none = (V3::repeat(f64::INFINITY), V3::repeat(f64::NEG_INFINITY));
    let (low, high) = places.fold(none, |(l, h), p| (l.inf(&p), h.sup(&p)));
    (0.5 * (low + high), 0.5 * (high - low))
}

impl Clump {
    fn of(triangles: &[([V3; 3], f64)]) -> Clump {
        let mut sums = Wet::nothing();
        for (corners, area) in triangles {
            sums.add(&Wet::of(corners, *area));
        }
        let (middle, half) = boxed(triangles.iter().flat_map(|t| t.0));
        Clump { middle, half, sums }
    }
}

/// Six times the volume of the pyramid from the origin over a triangle.
fn six_of(a: Corner, b: Corner, c: Corner) -> f64 {
    a[2] * (b[0] * c[1] - b[1] * c[0])
        + b[2] * (c[0] * a[1] - c[1] * a[0])
        + c[2] * (a[0] * b[1] - a[1] * b[0])
}

impl Floats for Body<'_> {
    fn immersed(&self, water: &Water) -> Immersed {
        let (e, f, n) = (water.aft, water.abeam, water.plane.normal);
        // A point of the plane near the hull's middle, so that sums stay small.
        let above = water.plane.distance(self.middle);
        let origin = self.middle - above * n;
        let steep = n.abs();
        let (mut wet, mut sums) = (Wet::nothing(), Sums::default());
        for (clump, triangles) in self.clumps.iter().zip(self.triangles.chunks(CLUMP)) {
            let (height, reach) = (clump.middle.dot(&n) + above, clump.half.dot(&steep));
            if height - reach > NEAR_MM {
                continue;
            }
            if height + reach < -NEAR_MM {
                wet.add(&clump.sums);
                continue;
            }
            for (corners, area) in triangles {
                let [p, q, r] = corners;
                let depths = [p.dot(&n) + above, q.dot(&n) + above, r.dot(&n) + above];
                // Bits of the corners that are under water.
                let under = usize::from(depths[0] < 0.0)
                    | usize::from(depths[1] < 0.0) << 1
                    | usize::from(depths[2] < 0.0) << 2;
                if under != 0 {
                    let at = |p: &V3, depth: f64| [p.dot(&e), p.dot(&f), depth];
                    let p = [at(p, depths[0]), at(q, depths[1]), at(r, depths[2])];
                    sums.triangle(p, under, *area);
                }
            }
        }
        let (six, moment) = wet.moment_over(n, above);
        let [area, mx, my, xx, yy, xy] = sums.plane;
        let [x, y, z] = sums.moment;
        finished(
            (six + sums.six) / 6.0,
            (moment + x * e + y * f + z * n) / 24.0,
            wet.wetted + sums.wetted,
            [area / 2.0, mx / 6.0, my / 6.0, xx / 12.0, yy / 12.0, xy / 24.0],
            (water, origin),
        )
    }

    fn volume(&self) -> f64 {
        self.volume
    }

    fn reach(&self, up: V3) -> (f64, f64) {
        let steep = up.abs();
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for ((middle, half), vertices) in self.boxes.iter().zip(self.mesh.vertices.chunks(BOXED)) {
            let (height, reach) = (middle.dot(&up), half.dot(&steep) + NEAR_MM);
            // Most lie between what was found.
            if height - reach >= low && height + reach <= high {
                continue;
            }
            let (l, h) = reach_of(vertices, up);
            (low, high) = (low.min(l), high.max(h));
        }
        (low, high)
    }
}

/// A mesh whose volume was added up already: a search that it sinks in asks for no more.
#[derive(Debug)]
pub struct Measured<'a> {
    mesh: &'a Mesh,
    volume: f64,
}

impl Measured<'_> {
    /// Adds its volume up.
    pub fn of(mesh: &Mesh) -> Measured<'_> {
        Measured { mesh, volume: mesh.volume() }
    }
}

impl Floats for Measured<'_> {
    fn immersed(&self, water: &Water) -> Immersed {
        self.mesh.immersed(water)
    }

    fn volume(&self) -> f64 {
        self.volume
    }

    fn reach(&self, up: V3) -> (f64, f64) {
        self.mesh.reach(up)
    }
}

/// Which corner is by itself, by the bits of those that are under water.
const LONE: [usize; 8] = [0, 0, 1, 2, 2, 1, 0, 0];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::float::equilibrium::upward;
    use crate::float::volume::immersed;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;

    /// Level, trimmed, heeled to her side and over, from dry to all under.
    #[test]
    fn it_finds_what_the_plain_sums_find() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            let mesh = model.mesh(true);
            let body = Body::of(&mesh);
            for (trim, heel) in [(0.0, 0.0), (0.05, 0.0), (-0.02, 0.3), (0.01, -1.4), (0.3, 2.9)] {
                let up = upward(trim, heel);
                let (low, high) = body.reach(up);
                for share in [-0.1, 0.05, 0.3, 0.6, 0.95, 1.1] {
                    let water = Water::new(up, low + share * (high - low)).expect("a plane");
                    let (a, b) = (body.immersed(&water), immersed(&mesh, &water));
                    let near = |a: f64, b: f64, of: f64| {
                        assert!((a - b).abs() <= 1e-11 * of, "{} {share}: {a} {b}", starter.name);
                    };
                    near(a.volume, b.volume, mesh.volume());
                    near(a.wetted, b.wetted, mesh.area());
                    near(a.waterplane, b.waterplane, mesh.area());
                    let second = mesh.area() * 1e7;
                    (0..3).for_each(|i| near(a.inertia[i], b.inertia[i], second));
                    if a.volume > 1e-6 * mesh.volume() {
                        near((a.centroid - b.centroid).norm(), 0.0, 1e6);
                    }
                    if a.waterplane > 1e-3 * mesh.area() {
                        near((a.flotation - b.flotation).norm(), 0.0, 1e6);
                    }
                }
            }
        }
    }
}
