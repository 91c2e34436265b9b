//! The meshes that she floats on: as few rulings as keep her figures true.

use super::super::PanelModel;
use crate::float::volume::{Immersed, Water, immersed};
use crate::geom::mesh::Mesh;
use crate::hull::HullLines;
use crate::panel::Surface;
use crate::panel::hull_mesh::{HullSurfaces, closed_mesh};
use crate::tol::LEAST_ROOM_MM3;

/// Every so manieth ruling is taken at first, then twice as many.
const COARSEST: usize = 16;
/// The estimated error (a share) at which the mesh is fine enough; the issue of these
/// figures is a tenth of a percent.
const FINE_ENOUGH: f64 = 4e-4;
/// Heights of the water, as shares of her depth, at which meshes are compared: light and
/// laden.
const COMPARED_AT: [f64; 2] = [0.12, 0.3];

/// The outside of the planking and its inside.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::model) struct FloatMesh {
    /// What displaces water.
    pub outside: Mesh,
    /// The moulded surface.
    pub moulded: Mesh,
    /// Estimated error of displacement, waterplane and wetted area, a share.
    pub error: f64,
}

/// Every `every`-th ruling, the ends included, and those beside which an end leaves its line
/// for a trimmed edge: neighbours meet there.
fn thinned(surface: &Surface, every: usize) -> Surface {
    let all = &surface.rulings;
    let last = all.len() - 1;
    let turns = |i: usize, j: usize| {
        all[i].lower_on != all[j].lower_on || all[i].upper_on != all[j].upper_on
    };
    let kept = |i: &usize| {
        i.is_multiple_of(every)
            || *i == last
            || turns(*i, i.saturating_sub(1))
            || turns(*i, (i + 1).min(last))
    };
    Surface { rulings: (0..=last).filter(kept).map(|i| all[i]).collect() }
}

fn mesh(lines: &HullLines, panels: &[PanelModel], every: usize, outside: bool) -> Mesh {
    let thin: Vec<Surface> = panels.iter().map(|p| thinned(&p.surface, every)).collect();
    let splines: Vec<_> = lines.lines.iter().map(|l| &l.spline).collect();
    let surfaces: Vec<_> = thin.iter().collect();
    let offsets: Vec<f64> =
        panels.iter().map(|p| if outside { p.thickness } else { 0.0 }).collect();
    closed_mesh(HullSurfaces {
        lines: &splines,
        surfaces: &surfaces,
        offsets: &offsets,
        flat_bottom: lines.flat_bottom,
        bow: lines.bow_transom,
        stern: lines.transom,
    })
}

/// Volume, waterplane and wetted area under each level.
fn figures(mesh: &Mesh, levels: [f64; 2]) -> [f64; 7] {
    let [light, laden] = levels.map(|z| immersed(mesh, &Water::level(z)));
    let of = |i: &Immersed| [i.volume, i.waterplane, i.wetted];
    let ([a, b, c], [d, e, f]) = (of(&light), of(&laden));
    [mesh.volume(), a, b, c, d, e, f]
}

/// The coarsest mesh of the outside that is fine enough, and the inside over the same
/// rulings; `None` for a hull that holds no room.
///
/// Between two meshes the error falls with the square of the rulings' spacing, so the
/// finer one is off by a third of their difference.
pub(in crate::model) fn float_mesh(lines: &HullLines, panels: &[PanelModel]) -> Option<FloatMesh> {
    let (low, high) = lines.extent(|p| p.z);
    let levels = COMPARED_AT.map(|share| low + share * (high - low));
    let thickest = panels.iter().map(|p| p.thickness).fold(0.0, f64::max);
    let has_room = |volume: f64| volume > LEAST_ROOM_MM3;
    let mut every = COARSEST;
    let mut coarse = figures(&mesh(lines, panels, 2 * every, true), levels);
    loop {
        let outside = mesh(lines, panels, every, true);
        let fine = figures(&outside, levels);
        let error = fine
            .iter()
            .zip(&coarse)
            .map(|(f, c)| if *f > 0.0 { (f - c).abs() / f / 3.0 } else { 0.0 })
            .fold(0.0, f64::max);
        let enough = error <= FINE_ENOUGH || every == 1;
        if !has_room(fine[0]) {
            return None;
        }
        // Her inside is smaller by her skin: only where that is most of her does it have to be
        // looked at before the mesh is fine enough.
        let roomy = has_room(fine[0] - 2.0 * thickest * outside.area());
        if enough || !roomy {
            let moulded = mesh(lines, panels, every, false);
            if !has_room(moulded.volume()) {
                return None;
            }
            if enough {
                return Some(FloatMesh { outside, moulded, error });
            }
        }
        every /= 2;
        coarse = fine;
    }
}
