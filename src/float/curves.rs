//! Hydrostatics over drafts at even keel, from the lowest point of the outside.

use super::volume::{Immersed, Water, immersed};
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
pub fn table(mesh: &Mesh, drafts: &[f64], density: f64) -> Vec<Draft> {
    let sections = Sections::of(mesh);
    drafts.iter().filter_map(|d| row(mesh, &sections, *d, density)).collect()
}

/// The row for a draft; `None` where nothing is displaced, or no waterline is left.
pub fn at_draft(mesh: &Mesh, draft: f64, density: f64) -> Option<Draft> {
    row(mesh, &Sections::of(mesh), draft, density)
}

fn row(mesh: &Mesh, sections: &Sections, draft: f64, density: f64) -> Option<Draft> {
    let lowest = mesh.vertices.iter().map(|v| v.z).fold(f64::INFINITY, f64::min);
    let level = lowest + draft;
    let found: Immersed = immersed(mesh, &Water::level(level));
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
    let midship = sections.greatest(level).max(between(mesh, [x0, x1], level));
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

/// Greatest area (mm²) under a level of sections across its waterline: a corner that dips
/// lies between the sections of the whole boat.
fn between(mesh: &Mesh, [x0, x1]: [f64; 2], level: f64) -> f64 {
    const ACROSS: usize = 8;
    let at = |i: usize| x0 + (x1 - x0) * (i as f64 + 0.5) / ACROSS as f64;
    (0..ACROSS).map(|i| section_area(mesh, at(i), level)).fold(0.0, f64::max)
}

/// Ends of the waterline (mm aft) and its beam.
pub(super) fn waterline(mesh: &Mesh, level: f64) -> ([f64; 2], f64) {
    let (mut low, mut high, mut wide) = (f64::INFINITY, f64::NEG_INFINITY, 0.0f64);
    for [a, b, c] in mesh.corners() {
        for (p, q) in [(a, b), (b, c), (c, a)] {
            let (d, e) = (p.z - level, q.z - level);
            if d * e <= 0.0 && d != e {
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

/// A mesh cut across at even places: in each, segments with the outside on their right.
struct Sections(Vec<Vec<[(f64, f64); 2]>>);

impl Sections {
    fn of(mesh: &Mesh) -> Sections {
        let (x0, x1) = mesh
            .vertices
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v.x), h.max(v.x)));
        let step = (x1 - x0) / SLICES as f64;
        let mut cuts = vec![Vec::new(); SLICES + 1];
        for t in mesh.corners() {
            let low = t.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
            let high = t.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
            let first = ((low - x0) / step).ceil().max(1.0) as usize;
            let last = (((high - x0) / step).floor() as usize).min(SLICES - 1);
            for (i, cut) in cuts.iter_mut().enumerate().take(last + 1).skip(first) {
                cut.extend(segment(&t, x0 + step * i as f64));
            }
        }
        Sections(cuts)
    }

    /// Greatest area (mm²) under a level.
    fn greatest(&self, level: f64) -> f64 {
        self.0.iter().map(|cut| area_under(cut, level)).fold(0.0, f64::max)
    }
}

/// Area (mm²) of a mesh's section at `x` under a level.
pub(super) fn section_area(mesh: &Mesh, x: f64, level: f64) -> f64 {
    let cut: Vec<_> = mesh.corners().filter_map(|t| segment(&t, x)).collect();
    area_under(&cut, level)
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
fn area_under(cut: &[[(f64, f64); 2]], level: f64) -> f64 {
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
