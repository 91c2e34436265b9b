//! Hydrostatics over drafts at even keel, from the lowest point of the outside.

use super::volume::{Immersed, Water, immersed};
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

/// The row for a draft; `None` where nothing is displaced.
pub fn at_draft(mesh: &Mesh, draft: f64, density: f64) -> Option<Draft> {
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
    let midship = greatest_section(mesh, level, [x0, x1]);
    let box_volume = (length * beam * draft).max(1e-9);
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
        moment_per_cm: found.inertia[1] * kg / length.max(1e-9) * 10.0 / 1000.0,
        coefficients: [
            found.volume / box_volume,
            found.volume / (midship * length).max(1e-9),
            midship / (beam * draft).max(1e-9),
            found.waterplane / (length * beam).max(1e-9),
        ],
        waterline: [length, beam],
    })
}

/// Ends of the waterline (mm aft) and its beam.
fn waterline(mesh: &Mesh, level: f64) -> ([f64; 2], f64) {
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

/// Greatest immersed section area (mm²) between two places, by thirds of a percent of the
/// length: the derivative of the volume ahead of a plane is taken from slices.
fn greatest_section(mesh: &Mesh, level: f64, [x0, x1]: [f64; 2]) -> f64 {
    const SLICES: usize = 40;
    (1..SLICES)
        .map(|i| section_area(mesh, x0 + (x1 - x0) * i as f64 / SLICES as f64, level))
        .fold(0.0, f64::max)
}

/// Area (mm²) of the section at x under a level: by Green's theorem over the cut triangles,
/// from a point on the level, which its own line adds nothing to.
fn section_area(mesh: &Mesh, x: f64, level: f64) -> f64 {
    let mut twice = 0.0;
    for t in mesh.corners() {
        let d = t.map(|p| p.x - x);
        let mut cut: Vec<(f64, f64)> = Vec::with_capacity(2);
        // Leaving and entering, in the order of the triangle's own turn.
        for (e, f) in [(0, 1), (1, 2), (2, 0)] {
            if (d[e] <= 0.0) != (d[f] <= 0.0) {
                let at = t[e] + d[e] / (d[e] - d[f]) * (t[f] - t[e]);
                cut.push((at.y, at.z - level));
            }
        }
        if let [mut a, mut b] = cut[..] {
            // Outward on the right: turn by the triangle's normal.
            let n = (t[1] - t[0]).cross(&(t[2] - t[0]));
            let (dy, dz) = (b.0 - a.0, b.1 - a.1);
            if dz * n.y - dy * n.z < 0.0 {
                std::mem::swap(&mut a, &mut b);
            }
            // Clip to below the level.
            if a.1 >= 0.0 && b.1 >= 0.0 {
                continue;
            }
            let clip = |p: (f64, f64), q: (f64, f64)| {
                if p.1 <= 0.0 { p } else { (p.0 + p.1 / (p.1 - q.1) * (q.0 - p.0), 0.0) }
            };
            let (a, b) = (clip(a, b), clip(b, a));
            twice += a.0 * b.1 - b.0 * a.1;
        }
    }
    (0.5 * twice).abs()
}
