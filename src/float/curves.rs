//! Hydrostatics over drafts at even keel, from the lowest point of the outside.

use super::body::{Body, Floats};
use super::volume::{Immersed, Water};
use crate::geom::P3;
use crate::geom::mesh::Mesh;

/// One draft of the table. Lengths mm, masses kg; lcb, vcb and lcf in the hull's axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draft {
    /// From the lowest point, mm.
    pub draft: f64,
    /// kg.
    pub displacement: f64,
    /// Centre of buoyancy, aft, mm.
    pub lcb: f64,
    /// Centre of buoyancy, above the baseline, mm.
    pub vcb: f64,
    /// Centre of flotation, aft, mm.
    pub lcf: f64,
    /// mm².
    pub waterplane: f64,
    /// mm².
    pub wetted: f64,
    /// Metacentres above the lowest point: across and along, mm.
    pub km: [f64; 2],
    /// kg to sink her 1 cm.
    pub per_cm: f64,
    /// kg·m to trim her 1 cm over her waterline.
    pub moment_per_cm: f64,
    /// Block, prismatic, midship and waterplane coefficients, on the waterline's length and
    /// beam.
    pub coefficients: [f64; 4],
    /// Length and beam of the waterline, mm.
    pub waterline: [f64; 2],
}

/// The rows for some drafts; those where nothing is displaced, or no
/// waterline is left, are left out.
pub fn table(body: &Body, drafts: &[f64], density: f64) -> Vec<Draft> {
    let sections = Sections::of(body.mesh());
    drafts.iter().filter_map(|d| row(body, &sections, *d, density)).collect()
}

/// The row for a draft; `None` where nothing is displaced, or no waterline is left.
pub fn at_draft(mesh: &Mesh, draft: f64, density: f64) -> Option<Draft> {
    row(&Body::of(mesh), &Sections::of(mesh), draft, density)
}

fn row(body: &Body, sections: &Sections, draft: f64, density: f64) -> Option<Draft> {
    let mesh = body.mesh();
    let lowest = mesh.vertices.iter().map(|v| v.z).fold(f64::INFINITY, f64::min);
    let level = lowest + draft;
    let found: Immersed = body.immersed(&Water::level(level));
    if found.volume <= 0.0 || found.waterplane <= 0.0 {
        return None;
    }
    let kg = density * 1e-9;
    let displacement = found.volume * kg;
    let km = |i: usize| found.centroid.z - lowest + found.inertia[i] / found.volume;
    let ([x0, x1], beam) = waterline(mesh, level);
    let length = x1 - x0;
    // No waterline is left where she is under; what seems one then is rounding.
    let stands = found.inertia[..2].iter().all(|i| *i > 0.0);
    if !(length > 0.0 && length.is_finite() && beam > 0.0 && stands) {
        return None;
    }
    let midship = sections.greatest(level).max(sections.sliced.between([x0, x1], level));
    if midship <= 0.0 {
        return None;
    }
    let box_volume = length * beam * draft;
    Some(Draft {
        draft,
        displacement,
        lcb: found.centroid.x,
        vcb: found.centroid.z,
        lcf: found.flotation.x,
        waterplane: found.waterplane,
        wetted: found.wetted,
        km: [km(0), km(1)],
        per_cm: 10.0 * found.waterplane * kg,
        // Δ · BM_L / L per metre of trim, so a hundredth for a centimetre; kg·m.
        moment_per_cm: found.inertia[1] * kg / length * 10.0 / 1000.0,
        coefficients: [
            found.volume / box_volume,
            found.volume / (midship * length),
            midship / (beam * draft),
            found.waterplane / (length * beam),
        ],
        waterline: [length, beam],
    })
}

/// Ends of the waterline (mm aft) and its beam.
pub(super) fn waterline(mesh: &Mesh, level: f64) -> ([f64; 2], f64) {
    let (mut low, mut high, mut wide) = (f64::INFINITY, f64::NEG_INFINITY, 0.0f64);
    for [a, b, c] in &mesh.triangles {
        for (i, j) in [(a, b), (b, c), (c, a)] {
            let (p, q) = (mesh.vertices[*i as usize], mesh.vertices[*j as usize]);
            let (d, e) = (p.z - level, q.z - level);
            // Each edge once: the mesh is closed, its other triangle runs it the other way.
            if i < j && d * e <= 0.0 && d != e {
                let at = p + d / (d - e) * (q - p);
                (low, high, wide) = (low.min(at.x), high.max(at.x), wide.max(at.y.abs()));
            }
        }
    }
    ([low, high], 2.0 * wide)
}

/// Planes across a mesh at which sections are taken; the greatest of them falls short of
/// the true one by a thousandth at most on a hull whose sections grow and shrink once.
const SLICES: usize = 60;

/// A mesh in slices across, so that a section looks at few of its triangles.
pub(super) struct Sliced<'a> {
    mesh: &'a Mesh,
    /// From each place to the next, the triangles that reach there, in the mesh's order.
    slices: Vec<Vec<u32>>,
    /// Where the first place is, and how far it is to the next, mm.
    x0: f64,
    step: f64,
}

impl Sliced<'_> {
    pub(super) fn of(mesh: &Mesh) -> Sliced<'_> {
        let (x0, x1) = mesh
            .vertices
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v.x), h.max(v.x)));
        let step = (x1 - x0) / SLICES as f64;
        let room = mesh.triangles.len() / 8;
        let mut slices: Vec<Vec<u32>> = (0..SLICES).map(|_| Vec::with_capacity(room)).collect();
        for (i, [a, b, c]) in mesh.corners().enumerate() {
            let (low, high) = (a.x.min(b.x).min(c.x), a.x.max(b.x).max(c.x));
            // A slice more at either end, for rounding.
            let from = (((low - x0) / step) as usize).saturating_sub(1);
            let upto = (((high - x0) / step) as usize).saturating_add(2);
            slices.iter_mut().take(upto).skip(from).for_each(|slice| slice.push(i as u32));
        }
        Sliced { mesh, slices, x0, step }
    }

    /// Where it is cut at `x`, in the mesh's order.
    fn cut(&self, x: f64) -> impl Iterator<Item = [(f64, f64); 2]> + '_ {
        let slice = (((x - self.x0) / self.step) as usize).min(SLICES - 1);
        let at = |i: u32| self.mesh.vertices[i as usize];
        self.slices[slice].iter().filter_map(move |i| {
            let [a, b, c] = self.mesh.triangles[*i as usize];
            segment(&[at(a), at(b), at(c)], x)
        })
    }

    /// Area (mm²) of the section at `x` under a level.
    pub(super) fn area(&self, x: f64, level: f64) -> f64 {
        area_under(self.cut(x), level)
    }

    /// Greatest area (mm²) under a level of sections across its waterline: a corner that dips
    /// lies between the sections of the whole boat.
    fn between(&self, [x0, x1]: [f64; 2], level: f64) -> f64 {
        const ACROSS: usize = 8;
        let at = |i: usize| x0 + (x1 - x0) * (i as f64 + 0.5) / ACROSS as f64;
        (0..ACROSS).map(|i| self.area(at(i), level)).fold(0.0, f64::max)
    }
}

/// A mesh cut across at even places.
struct Sections<'a> {
    sliced: Sliced<'a>,
    /// At each, segments with the outside on their right.
    cuts: Vec<Vec<[(f64, f64); 2]>>,
}

impl Sections<'_> {
    fn of(mesh: &Mesh) -> Sections<'_> {
        let sliced = Sliced::of(mesh);
        // None at the very ends.
        let at = |i: usize| sliced.x0 + sliced.step * i as f64;
        let cuts = (1..SLICES).map(|i| sliced.cut(at(i)).collect()).collect();
        Sections { sliced, cuts }
    }

    /// Greatest area (mm²) under a level.
    fn greatest(&self, level: f64) -> f64 {
        self.cuts.iter().map(|cut| area_under(cut.iter().copied(), level)).fold(0.0, f64::max)
    }
}

/// Where a triangle crosses the plane at `x`: (y, z) of both ends, its outside on the right.
fn segment(t: &[P3; 3], x: f64) -> Option<[(f64, f64); 2]> {
    let d = t.map(|p| p.x - x);
    let mut ends = [(0.0, 0.0); 2];
    let mut n = 0;
    for (e, f) in [(0, 1), (1, 2), (2, 0)] {
        if (d[e] <= 0.0) != (d[f] <= 0.0) {
            let at = t[e] + d[e] / (d[e] - d[f]) * (t[f] - t[e]);
            ends[n.min(1)] = (at.y, at.z);
            n += 1;
        }
    }
    if n < 2 {
        return None;
    }
    let [a, b] = ends;
    let normal = (t[1] - t[0]).cross(&(t[2] - t[0]));
    Some(if (b.1 - a.1) * normal.y - (b.0 - a.0) * normal.z < 0.0 { [b, a] } else { [a, b] })
}

/// Area (mm²) under a level of a section: Green's theorem from a point on the level, to
/// which the level's own line adds nothing.
fn area_under(cut: impl Iterator<Item = [(f64, f64); 2]>, level: f64) -> f64 {
    let mut twice = 0.0;
    for [a, b] in cut {
        let (a, b) = ((a.0, a.1 - level), (b.0, b.1 - level));
        if a.1 >= 0.0 && b.1 >= 0.0 {
            continue;
        }
        let clip = |p: (f64, f64), q: (f64, f64)| {
            if p.1 <= 0.0 { p } else { (p.0 + p.1 / (p.1 - q.1) * (q.0 - p.0), 0.0) }
        };
        let (a, b) = (clip(a, b), clip(b, a));
        twice += a.0 * b.1 - b.0 * a.1;
    }
    (0.5 * twice).abs()
}
