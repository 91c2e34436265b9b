//! The waterline where it is needed: heights at stations, down the skin from the sheer, as
//! marks on panels; and how far an eye that has two end marks only would be out.

use super::super::PanelModel;
use super::super::ashore::Ashore;
use crate::flat::marks;
use crate::float::body::Body;
use crate::float::equilibrium::{Floating, Weight, float_at_heel, height_for, upward, volume_of};
use crate::float::volume::{Water, immersed};
use crate::geom::plane::Plane;
use crate::geom::{P2, P3, V3};
use crate::panel::section;

/// The waterline at a station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtStation {
    /// Counted from 1 at the bow.
    pub station: usize,
    /// mm aft.
    pub x: f64,
    /// Its place on the outside of the starboard side.
    pub at: P3,
    /// Down from the sheer along the outside of the skin, mm.
    pub down: f64,
    /// The boot-top's upper edge, likewise; `None` without one or where it runs off the skin.
    pub boot_top_down: Option<f64>,
}

/// How far a batten or a string pulled tight along the sheet between two end marks would be
/// out: it lies straight on the flat sheet, the water's line does not.
#[derive(Debug, Clone, PartialEq)]
pub struct ByEye {
    /// The panel.
    pub panel: String,
    /// Greatest distance on the sheet of the true line from the straight one, mm; positive
    /// where the true line runs above.
    pub off: f64,
    /// Where, mm aft.
    pub x: f64,
}

/// The marked waterline.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    /// The water, upright, in the hull's axes.
    pub water: Water,
    /// The boot-top's upper edge.
    pub boot_top: Option<Plane>,
    /// Outside of the hull below the boot-top's upper edge, or below the water without one: what
    /// antifouling is painted on, mm².
    pub below: f64,
    /// On the outside of the starboard side, bow to stern, mm.
    pub line: Vec<P3>,
    /// At every station that it reaches.
    pub stations: Vec<AtStation>,
    /// On each side panel that the line follows for half its length or more.
    pub by_eye: Vec<ByEye>,
}

/// Where a plane meets the outside of the starboard side, bow to stern, mm.
pub fn line_on_skin(panels: &[PanelModel], plane: Plane) -> Vec<P3> {
    let mut points: Vec<P3> =
        panels.iter().flat_map(|p| section(&p.surface, plane, p.thickness)).collect();
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    points
}

/// The waterline to mark for a weight; `None` where she does not float upright.
pub(super) fn marked(boat: Ashore, body: &Body, weight: Weight, density: f64) -> Option<Marked> {
    let plan = boat.hull.afloat.waterline;
    let water = if plan.parallel {
        height_for(body, upward(0.0, 0.0), volume_of(weight.mass, density))?.0
    } else {
        // Loads off the centreplane heel her; paint is put on for the upright boat.
        let upright = Weight { centre: P3::new(weight.centre.x, 0.0, weight.centre.z), ..weight };
        let floating: Floating = float_at_heel(body, upright, density, (0.0, 0.0))?;
        floating.water
    };
    let plane = water.plane;
    let boot_top = (plan.boot_top_mm > 0.0)
        .then_some(Plane { offset: plane.offset + plan.boot_top_mm, ..plane });
    let painted_to = Water { plane: boot_top.unwrap_or(plane), ..water };
    let line = line_on_skin(boat.panels, plane);
    let stations = boat
        .stations
        .iter()
        .enumerate()
        .filter_map(|(i, x)| {
            let skin = from_sheer(boat, *x);
            let (down, at) = down_to(&skin, plane)?;
            let boot_top_down = boot_top.and_then(|p| down_to(&skin, p)).map(|d| d.0);
            Some(AtStation { station: i + 1, x: *x, at, down, boot_top_down })
        })
        .collect();
    Some(Marked {
        by_eye: boat.panels[1..].iter().filter_map(|p| by_eye(p, plane, &line)).collect(),
        line,
        water,
        boot_top,
        below: immersed(body.mesh(), &painted_to).wetted,
        stations,
    })
}

/// The outside of the skin at `x` from the sheer down.
fn from_sheer(boat: Ashore, x: f64) -> Vec<P3> {
    let plane = Plane { normal: V3::x(), offset: x };
    let panels = boat.panels.iter().rev();
    let mut out: Vec<P3> = panels
        .flat_map(|p| {
            let mut cut = section(&p.surface, plane, p.thickness);
            cut.reverse();
            cut
        })
        .collect();
    // The sheer is planed level: the outer face runs on up to the inner one's height.
    let head = boat.panels.last().and_then(|p| section(&p.surface, plane, 0.0).last().copied());
    if let (Some(head), [top, next, ..]) = (head, out.as_slice()) {
        let up = top - next;
        if up.z > 0.1 * up.norm() {
            let planed = top + (head.z - top.z) / up.z * up;
            out[0] = planed;
        }
    }
    out
}

/// Distance along a run of points to where it first goes under `plane`, and the place.
fn down_to(skin: &[P3], plane: Plane) -> Option<(f64, P3)> {
    let mut down = 0.0;
    for w in skin.windows(2) {
        let (a, b) = (plane.distance(w[0]), plane.distance(w[1]));
        let length = (w[1] - w[0]).norm();
        if a > 0.0 && b <= 0.0 {
            let t = a / (a - b);
            return Some((down + t * length, w[0] + t * (w[1] - w[0])));
        }
        down += length;
    }
    None
}

/// How far the mark leaves the straight line between its ends, on the sheet.
fn by_eye(p: &PanelModel, plane: Plane, whole: &[P3]) -> Option<ByEye> {
    let runs = marks::on_outside(&p.flat, &p.surface, plane, p.thickness);
    let mark = runs.into_iter().max_by_key(Vec::len)?;
    let (a, b) = (*mark.first()?, *mark.last()?);
    let along = (b - a).try_normalize(1e-9)?;
    let off = |q: &P2| along.perp(&(q - a));
    let at = mark.iter().max_by(|p, q| off(p).abs().total_cmp(&off(q).abs()))?;
    // The place in space, by its share of the way along.
    let ends = |line: &[P3]| {
        line.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.x), h.max(p.x)))
    };
    let (first, last) = ends(&section(&p.surface, plane, p.thickness));
    let (bow, stern) = ends(whole);
    if last - first < 0.5 * (stern - bow) {
        return None;
    }
    let share = (at - a).dot(&along) / (b - a).norm();
    Some(ByEye { panel: p.name.clone(), off: off(at), x: first + share * (last - first) })
}
