//! The half body plan: all stations laid over each other on one centreline and one level
//! line, the forebody at the right, the afterbody at the left, at full size. The ends lie
//! among them as they are seen from ahead.

use super::Line;
use super::lines_plan::fitted;
use super::view::{FIGURES, View};
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::units::Units;

/// How far (mm) the level line and the baseline run past the widest section.
const PAST_MM: f64 = 60.0;

/// One line of the body plan.
pub struct Half {
    /// What it is: a station's number, `stem`, `transom`.
    pub name: String,
    /// 1 for the forebody, at the right; −1 for the afterbody.
    pub side: f64,
    /// From the keel up: (half-breadth, height), mm.
    pub points: Vec<P2>,
    /// Whether it is an end, not a station.
    pub end: bool,
}

/// Stations and ends, bow to stern. The widest station belongs to the forebody.
pub fn halves(model: &Model) -> Vec<Half> {
    let frames = &model.woodwork.frames;
    let widest = frames
        .iter()
        .max_by(|a, b| a.section.half_area().total_cmp(&b.section.half_area()))
        .map_or(0.0, |f| f.x);
    let mut out: Vec<Half> = frames
        .iter()
        .map(|f| Half {
            name: f.station.to_string(),
            side: if f.x <= widest { 1.0 } else { -1.0 },
            points: f.section.half(),
            end: false,
        })
        .collect();
    let end = |name: String, side: f64, at_stern: bool| Half {
        name,
        side,
        points: super::offsets_table::end_points(model, at_stern)
            .iter()
            .map(|p| P2::new(p.y, p.z))
            .collect(),
        end: true,
    };
    // Seen from ahead a stem is the centreline: only a transom has a shape there.
    if model.lines.bow_transom.is_some() {
        out.insert(0, end("bow transom".into(), 1.0, false));
    }
    if model.lines.transom.is_some() {
        out.push(end("transom".into(), -1.0, true));
    }
    out
}

/// Draws the halves about the centreline at `middle`, their height 0 on `base`, and names
/// them at their heads, clear of each other.
pub(super) fn draw(v: &mut View, model: &Model, (middle, base): (f64, f64)) {
    let halves = halves(model);
    for h in &halves {
        let points: Vec<(f64, f64)> =
            h.points.iter().map(|p| (middle + h.side * p.x, base + p.y)).collect();
        v.line(if h.end { Line::Check } else { Line::Outline }, &points, false);
    }
    for h in &halves {
        if let Some(p) = h.points.last() {
            let at = (middle + h.side * p.x, base + p.y);
            let out = V2::new(0.5 * h.side, 1.0);
            let step = V2::new(0.3 * h.side * FIGURES, 1.5 * FIGURES);
            v.label(at, (out, step), (Anchor::Middle, FIGURES), h.name.clone());
        }
    }
}

/// The body plan on one sheet to a scale; [`Drawing::at_full_size`] makes it the loft's.
pub fn body_plan(model: &Model, units: Units) -> Drawing {
    fitted(|reduced| at_scale(model, units, reduced))
}

fn at_scale(model: &Model, units: Units, reduced: f64) -> Drawing {
    let mut v = View::new(
        model,
        "half body plan",
        reduced,
        "to the inside of the planking; forward half of the boat at the right, after half at the left",
    );
    let (low, high) = model.lines.extent(|p| p.z);
    let half = 0.5 * model.lines.beam_overall();
    let base = 0.0f64.min(low);
    v.line(Line::Level, &[(0.0, base), (0.0, high + PAST_MM)], false);
    v.line(Line::Level, &[(-half - PAST_MM, 0.0), (half + PAST_MM, 0.0)], false);
    draw(&mut v, model, (0.0, 0.0));
    let left = (Anchor::Left, FIGURES);
    let up = V2::new(0.0, 1.5 * FIGURES);
    v.label((half + PAST_MM, 0.0), (V2::new(1.0, 0.0), up), left, "baseline");
    if let Some(jig) = &model.woodwork.strongback {
        let level = jig.level;
        v.line(Line::Level, &[(-half - PAST_MM, level), (half + PAST_MM, level)], false);
        v.label((half + PAST_MM, level), (V2::new(1.0, 0.0), up), left, "level line");
        let text = units.show(level);
        v.dimension(((-half - PAST_MM, 0.0), (-half - PAST_MM, level)), 4.0, text);
    }
    // Squares a printed or plotted sheet: it may have stretched.
    let (a, b) = (-half, half);
    v.dimension(((a, base), (b, base)), -9.0, format!("greatest beam {}", units.show(b - a)));
    v.line(Line::Member, &[(a, base), (a, high)], false);
    v.line(Line::Member, &[(b, base), (b, high)], false);
    let over = (V2::new(0.0, 1.0), up);
    v.label((0.0, high + PAST_MM), over, (Anchor::Middle, FIGURES), "centreline");
    v.d.note("A sheet of paper holds this to a scale: do not scribe from it. DXF, SVG and a print on a roll are at full size.");
    v.d.note("All stations lie over each other on one centreline and one level line: scribe a frame from its own line and mirror it.");
    v.d.note("Dashed uprights stand at half the greatest beam. Tape between them before using a print: paper stretches.");
    v.d.note("The transoms lie among the stations as they are seen from ahead, foreshortened by their rake: cut them from their own pattern.");
    v.finished(units)
}
