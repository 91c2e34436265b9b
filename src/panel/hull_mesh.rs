//! The whole hull as one closed mesh: both sides, ends, and a lid across the sheers.
//!
//! Panels that share a line are meshed over the same points of it, so the mesh is closed
//! to the bit. On the outside surface each point moves out so that it lies on the outer
//! face of every panel that it belongs to (a mitre at the chine), stays in the centreplane
//! if it was there, and stays in its transom's plane.

use std::ops::Range;

use nalgebra::Matrix3;

use super::surface::{EdgeKind, Ruling, Surface};
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

/// A place on a line, and its vertices once they were looked for.
struct OnLine {
    /// Of the line's parameter.
    share: f64,
    point: P3,
    twins: Option<Twins>,
}

/// An end of a ruling.
struct End {
    /// Of the line's parameter, where it is on the line.
    share: f64,
    on: EdgeKind,
    at: P3,
    normal: V3,
}

struct Hull<'a> {
    of: HullSurfaces<'a>,
    /// By line.
    on_lines: Vec<Vec<OnLine>>,
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
    let on_lines = (0..of.lines.len()).map(|k| places_on_line(&of, k)).collect();
    let mut hull = Hull { of, on_lines, builder: MeshBuilder::default(), faces: Vec::new(), moved };
    let first = usize::from(of.flat_bottom);
    if of.flat_bottom {
        hull.flat_bottom();
    }
    for k in first..of.surfaces.len() {
        hull.panel(k);
    }
    hull.lid();
    hull.end(first, true);
    hull.end(first, false);
    hull.finish()
}

/// The places at which either neighbouring panel has a ruling on line `k`, bow to stern.
fn places_on_line(of: &HullSurfaces, k: usize) -> Vec<OnLine> {
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
    let spline = of.lines[k];
    let place = |share: f64| OnLine { share, point: spline.at(share * spline.end()), twins: None };
    all.into_iter().map(place).collect()
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

    /// The vertices of `p` and its mirror image.
    fn twins(&mut self, p: P3) -> Twins {
        (self.builder.vertex(p), self.builder.vertex(mirrored(p)))
    }

    /// The vertices of a place on a line, which is looked for once.
    fn twins_on(&mut self, line: usize, i: usize) -> Twins {
        if let Some(known) = self.on_lines[line][i].twins {
            return known;
        }
        let twins = self.twins(self.on_lines[line][i].point);
        self.on_lines[line][i].twins = Some(twins);
        twins
    }

    /// Notes that a vertex and its mirror image must lie on a face moved by `offset`.
    fn note_face(&mut self, twins: Twins, normal: V3, offset: f64) {
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
    }

    fn panel(&mut self, k: usize) {
        let surface = self.of.surfaces[k];
        for w in surface.rulings.windows(2) {
            let end = |r: &Ruling, upper: bool| match upper {
                false => End { share: r.u, on: r.lower_on, at: r.lower, normal: r.normal_lower },
                true => End { share: r.v, on: r.upper_on, at: r.upper, normal: r.normal_upper },
            };
            let [l, u] = [(k, false), (k + 1, true)].map(|(line, upper)| {
                self.chain(line, [end(&w[0], upper), end(&w[1], upper)], self.of.offsets[k])
            });
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

    /// The vertices along an edge of a strip: those of the line that it follows, or its two
    /// ends where it leaves the line.
    fn chain(&mut self, line: usize, [from, to]: [End; 2], offset: f64) -> Vec<Twins> {
        let found: Vec<Twins> = if from.on == EdgeKind::Line && to.on == EdgeKind::Line {
            self.between(line, from.share, to.share).map(|i| self.twins_on(line, i)).collect()
        } else {
            [from.at, to.at].map(|p| self.twins(p)).into()
        };
        let of = found.len();
        for (i, twins) in found.iter().enumerate() {
            let share = if of > 1 { i as f64 / (of - 1) as f64 } else { 0.5 };
            let normal = unit(from.normal.lerp(&to.normal, share)).unwrap_or(from.normal);
            self.note_face(*twins, normal, offset);
        }
        found
    }

    /// Places of a line from one share to another, both included.
    fn between(&self, line: usize, from: f64, to: f64) -> Range<usize> {
        let all = &self.on_lines[line];
        let a = all.partition_point(|p| p.share < from - SAME_SHARE);
        a..all.partition_point(|p| p.share <= to + SAME_SHARE).max(a)
    }

    /// A surface straight across from one side's line to the other's.
    fn across(&mut self, line: usize, up: bool) {
        if let ([first, second, ..], false) = (&self.on_lines[line][..], up) {
            // Their numbers, which files hold, follow the first triangle.
            self.builder.vertex(first.point);
            self.builder.vertex(second.point);
        }
        for i in 1..self.on_lines[line].len() {
            let ((s0, p0), (s1, p1)) = (self.twins_on(line, i - 1), self.twins_on(line, i));
            let halves =
                if up { [[s0, p0, s1], [p0, p1, s1]] } else { [[s0, s1, p0], [p0, s1, p1]] };
            halves.into_iter().for_each(|t| self.builder.triangle_of(t));
        }
    }

    fn flat_bottom(&mut self) {
        self.across(1, false);
        let surface = self.of.surfaces[0];
        let offset = self.of.offsets[0];
        for w in surface.rulings.windows(2) {
            for i in self.between(1, w[0].v, w[1].v) {
                let share = self.on_lines[1][i].share;
                let t = ((share - w[0].v) / (w[1].v - w[0].v)).clamp(0.0, 1.0);
                let n = unit(w[0].normal_upper.lerp(&w[1].normal_upper, t))
                    .unwrap_or(w[0].normal_upper);
                let twins = self.twins_on(1, i);
                self.note_face(twins, n, offset);
            }
        }
    }

    fn lid(&mut self) {
        let line = self.of.lines.len() - 1;
        self.across(line, true);
        // The sheer is planed level across the planking's edge.
        for i in 0..self.on_lines[line].len() {
            let twins = self.twins_on(line, i);
            self.note_face(twins, V3::z(), 0.0);
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
                let twins = self.twins(p);
                self.note_face(twins, plane.normal, 0.0);
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
