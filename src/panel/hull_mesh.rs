//! The whole hull as one closed mesh: both sides, ends, and a lid across the sheers.
//!
//! Panels that share a line are meshed over the same points of it, so the mesh is closed
//! to the bit. On the outside surface each point moves out so that it lies on the outer
//! face of every panel that it belongs to (a mitre at the chine), stays in the centreplane
//! if it was there, and stays in its transom's plane.

use nalgebra::Matrix3;

use super::surface::{EdgeKind, Surface};
use crate::curve::Spline;
use crate::geom::mesh::{Mesh, MeshBuilder};
use crate::geom::plane::Plane;
use crate::geom::{P3, V3, unit};
use crate::tol::SAME_POINT_MM;

/// Shares of a line closer than this are one point of it (4 m: a thousandth of a mm).
const SAME_SHARE: f64 = 2.5e-10;

/// Weight that keeps a point's shift finite where two panels are nearly in one plane;
/// small against 1, the weight of a panel's own face.
const DAMPING: f64 = 1e-6;

/// What the mesh is made of.
#[derive(Debug, Clone, Copy)]
pub struct HullSurfaces<'a> {
    /// Lines from the keel up.
    pub lines: &'a [&'a Spline],
    /// Panel k lies between line k and line k + 1.
    pub surfaces: &'a [&'a Surface],
    /// Distance (mm) by which each panel is moved outward; 0 for the moulded surface.
    pub offsets: &'a [f64],
    /// The bottom runs flat from chine to chine; its panel is the first.
    pub flat_bottom: bool,
    /// A bow transom's plane; `None` for a stem.
    pub bow: Option<Plane>,
    /// The transom's plane; `None` for a sharp stern.
    pub stern: Option<Plane>,
}

/// The faces at a vertex, as the equations of least squares for its shift: their normals'
/// products, and the normals by how far it must move along each, mm.
type Faces = (Matrix3<f64>, V3);

struct Hull<'a> {
    of: HullSurfaces<'a>,
    builder: MeshBuilder,
    /// By vertex; of one that lies on no face, nothing.
    faces: Vec<Option<Faces>>,
    /// Whether anything is moved out at all.
    moved: bool,
}

/// No face yet: the damping alone.
fn no_faces() -> Faces {
    (Matrix3::identity() * DAMPING, V3::zeros())
}

fn add_face((matrix, right): &mut Faces, normal: V3, offset: f64) {
    *matrix += normal * normal.transpose();
    *right += offset * normal;
}

/// A vertex and its mirror image; the same twice in the centreplane.
type Twins = (u32, u32);

/// The closed mesh of a hull, normals outward.
pub fn closed_mesh(of: HullSurfaces) -> Mesh {
    let moved = of.offsets.iter().any(|o| *o != 0.0);
    let mut hull = Hull { of, builder: MeshBuilder::default(), faces: Vec::new(), moved };
    let shares: Vec<Vec<f64>> = (0..of.lines.len()).map(|k| shares_on_line(&of, k)).collect();
    let first = usize::from(of.flat_bottom);
    if of.flat_bottom {
        hull.flat_bottom(&shares[1]);
    }
    for k in first..of.surfaces.len() {
        hull.panel(k, &shares[k], &shares[k + 1]);
    }
    hull.lid(&shares[of.lines.len() - 1]);
    hull.end(first, true);
    hull.end(first, false);
    hull.finish()
}

/// The shares at which either neighbouring panel has a ruling on line `k`, increasing.
fn shares_on_line(of: &HullSurfaces, k: usize) -> Vec<f64> {
    let mut all = Vec::new();
    if let Some(above) = of.surfaces.get(k) {
        all.extend(above.lower_edge().map(|r| r.u));
    }
    // A flat bottom is meshed straight across from the chine's own points.
    if k > 0 && !(of.flat_bottom && k == 1) {
        all.extend(of.surfaces[k - 1].upper_edge().map(|r| r.v));
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < SAME_SHARE);
    all
}

fn mirrored(p: P3) -> P3 {
    P3::new(p.x, -p.y, p.z)
}

impl Hull<'_> {
    /// Both halves of a triangle given on the starboard side, outward.
    ///
    /// A triangle in the centreplane (the fan between keel and chine on a stem) and its
    /// image would be one leaf twice: neither is part of the closed surface.
    fn both(&mut self, corners: [Twins; 3]) {
        let ([a, b, c], [d, e, f]) = (corners.map(|t| t.0), corners.map(|t| t.1));
        if [a, b, c] == [d, e, f] {
            return;
        }
        self.builder.triangle_of([a, b, c]);
        self.builder.triangle_of([d, f, e]);
    }

    fn point(&self, line: usize, share: f64) -> P3 {
        let spline = self.of.lines[line];
        spline.at(share * spline.end())
    }

    /// Notes that `p` (and its mirror image) must lie on a face moved by `offset`; returns
    /// the vertices of both.
    fn on_face(&mut self, p: P3, normal: V3, offset: f64) -> Twins {
        let twins = (self.builder.vertex(p), self.builder.vertex(mirrored(p)));
        if self.moved {
            let other = V3::new(normal.x, -normal.y, normal.z);
            for (v, n) in [(twins.0 as usize, normal), (twins.1 as usize, other)] {
                if v >= self.faces.len() {
                    self.faces.resize(v + 1, None);
                }
                let faces = self.faces[v].get_or_insert_with(no_faces);
                add_face(faces, n, offset);
            }
        }
        twins
    }

    fn panel(&mut self, k: usize, lower: &[f64], upper: &[f64]) {
        let surface = self.of.surfaces[k];
        let offset = self.of.offsets[k];
        for w in surface.rulings.windows(2) {
            let chain =
                |line: usize, all: &[f64], from: (f64, EdgeKind, P3), to: (f64, EdgeKind, P3)| {
                    if from.1 != EdgeKind::Line || to.1 != EdgeKind::Line {
                        return vec![from.2, to.2];
                    }
                    let a = all.partition_point(|s| *s < from.0 - SAME_SHARE);
                    let b = all.partition_point(|s| *s <= to.0 + SAME_SHARE);
                    all[a..b].iter().map(|s| self.point(line, *s)).collect()
                };
            let l = chain(
                k,
                lower,
                (w[0].u, w[0].lower_on, w[0].lower),
                (w[1].u, w[1].lower_on, w[1].lower),
            );
            let u = chain(
                k + 1,
                upper,
                (w[0].v, w[0].upper_on, w[0].upper),
                (w[1].v, w[1].upper_on, w[1].upper),
            );
            let blend = |n: V3, m: V3, i: usize, of: usize| {
                let share = if of > 1 { i as f64 / (of - 1) as f64 } else { 0.5 };
                unit(n.lerp(&m, share)).unwrap_or(n)
            };
            let (n, m) = (w[0].normal_lower, w[1].normal_lower);
            let (count, points) = (l.len(), l.iter().enumerate());
            let l: Vec<Twins> =
                points.map(|(i, p)| self.on_face(*p, blend(n, m, i, count), offset)).collect();
            let (n, m) = (w[0].normal_upper, w[1].normal_upper);
            let (count, points) = (u.len(), u.iter().enumerate());
            let u: Vec<Twins> =
                points.map(|(i, p)| self.on_face(*p, blend(n, m, i, count), offset)).collect();
            let (mut i, mut j) = (0, 0);
            while i + 1 < l.len() || j + 1 < u.len() {
                let progress =
                    |i: usize, n: usize| if n > 1 { (i + 1) as f64 / (n - 1) as f64 } else { 2.0 };
                if j + 1 >= u.len()
                    || i + 1 < l.len() && progress(i, l.len()) <= progress(j, u.len())
                {
                    self.both([l[i], u[j], l[i + 1]]);
                    i += 1;
                } else {
                    self.both([l[i], u[j], u[j + 1]]);
                    j += 1;
                }
            }
        }
    }

    /// A surface straight across from one side's line to the other's.
    fn across(&mut self, line: usize, shares: &[f64], up: bool) {
        for w in shares.windows(2) {
            let (s0, s1) = (self.point(line, w[0]), self.point(line, w[1]));
            let (p0, p1) = (mirrored(s0), mirrored(s1));
            if up {
                self.builder.triangle(s0, p0, s1);
                self.builder.triangle(p0, p1, s1);
            } else {
                self.builder.triangle(s0, s1, p0);
                self.builder.triangle(p0, s1, p1);
            }
        }
    }

    fn flat_bottom(&mut self, chine: &[f64]) {
        self.across(1, chine, false);
        let surface = self.of.surfaces[0];
        let offset = self.of.offsets[0];
        for w in surface.rulings.windows(2) {
            for share in
                chine.iter().filter(|s| **s >= w[0].v - SAME_SHARE && **s <= w[1].v + SAME_SHARE)
            {
                let t = ((share - w[0].v) / (w[1].v - w[0].v)).clamp(0.0, 1.0);
                let n = unit(w[0].normal_upper.lerp(&w[1].normal_upper, t))
                    .unwrap_or(w[0].normal_upper);
                self.on_face(self.point(1, *share), n, offset);
            }
        }
    }

    fn lid(&mut self, sheer: &[f64]) {
        let line = self.of.lines.len() - 1;
        self.across(line, sheer, true);
        // The sheer is planed level across the planking's edge.
        for share in sheer {
            self.on_face(self.point(line, *share), V3::z(), 0.0);
        }
    }

    /// Closes an end: rungs between the two sides' edges, from the bottom up.
    fn end(&mut self, first: usize, stern: bool) {
        let mut chain: Vec<P3> = Vec::new();
        for surface in &self.of.surfaces[first..] {
            chain.extend(surface.end_edge(stern).into_iter().map(|(p, _)| p));
        }
        chain.dedup_by(|a, b| (*a - *b).norm() < SAME_POINT_MM);
        for w in chain.windows(2) {
            let (s0, s1) = (w[0], w[1]);
            let (p0, p1) = (mirrored(s0), mirrored(s1));
            if stern {
                self.builder.triangle(p0, s0, s1);
                self.builder.triangle(p0, s1, p1);
            } else {
                self.builder.triangle(p0, s1, s0);
                self.builder.triangle(p0, p1, s1);
            }
        }
        let plane = if stern { self.of.stern } else { self.of.bow };
        if let Some(plane) = plane {
            for p in chain {
                self.on_face(p, plane.normal, 0.0);
            }
        }
    }

    /// Moves every vertex onto its faces: least squares over its faces, shortest shift.
    fn finish(self) -> Mesh {
        let mut mesh = self.builder.finish();
        for (p, faces) in mesh.vertices.iter_mut().zip(self.faces) {
            let Some(mut faces) = faces else {
                continue;
            };
            if p.y.abs() < SAME_POINT_MM {
                add_face(&mut faces, V3::y(), 0.0);
            }
            let (normal_matrix, right) = faces;
            if let Some(shift) = normal_matrix.cholesky().map(|c| c.solve(&right)) {
                *p += shift;
            }
        }
        mesh.drop_slivers();
        mesh
    }
}
