//! Shape: is she fair?

use super::Model;
use crate::curve::{View, ViewFairness};
use crate::finding::{Finding, LineFact, Place, Severity};
use crate::geom::P3;
use crate::hull::{HullLine, HullLines};
use crate::tol::{OFF_TRANSOM_MM, OFF_TRANSOM_NOTED_MM};

/// A jump of the curvature's slope at a duck, free of scale, that an eye sees as a hard
/// spot. Set by looking at hulls with one duck pushed out 10 mm. Our judgement; no source.
const HARD_SPOT: f64 = 60.0;

/// Lengths (mm) of the boats that this program's advice is for: rules of thumb for frames, ply,
/// strongback and people hold for dinghies and skiffs. Our judgement; no source.
const SIZES_MM: [f64; 2] = [2000.0, 8000.0];

/// The forward-most point may lie this far (mm) aft of the origin without remark.
const FORE_OF_ORIGIN_MM: f64 = 5.0;

pub(super) fn lines(model: &Model, out: &mut Vec<Finding>) {
    out.extend(off_transom(&model.lines));
    let length = model.lines.length_overall();
    if !(SIZES_MM[0]..=SIZES_MM[1]).contains(&length) {
        out.push(Finding::watch(Place::Hull, LineFact::Size { length, advised: SIZES_MM }));
    }
    let foremost = model.lines.extent(|p| p.x).0;
    if foremost > FORE_OF_ORIGIN_MM {
        out.push(Finding::note(Place::Hull, LineFact::BeginsAft(foremost)));
    }
    for (line, fair) in model.lines.lines.iter().zip(&model.fairness) {
        if line.derived {
            continue;
        }
        for (view, f) in [(View::Plan, &fair.plan), (View::Profile, &fair.profile)] {
            fairness(line, view, f, out);
        }
    }
}

/// Last points that lie off the transom's plane by more than a builder would plane away.
pub fn off_transom(lines: &HullLines) -> Vec<Finding> {
    let given = lines.lines.iter().filter(|l| !l.derived);
    given
        .filter_map(|l| {
            let last = l.spline.at(l.spline.end());
            let distance = lines.transom?.distance(last);
            let severity = match distance.abs() {
                d if d > OFF_TRANSOM_MM => Severity::Watch,
                d if d > OFF_TRANSOM_NOTED_MM => Severity::Note,
                _ => return None,
            };
            let place = Place::LastPoint(l.id);
            Some(Finding::new(severity, place, LineFact::OffTransom(distance)).at(last))
        })
        .collect()
}

/// The place on a line at a distance aft.
fn place_at(line: &HullLine, x: f64) -> Option<P3> {
    line.spline.parameter_at_x(x).map(|t| line.spline.at(t))
}

fn fairness(line: &HullLine, view: View, f: &ViewFairness, out: &mut Vec<Finding>) {
    let whole = || Place::LineIn(line.id, view);
    // One change of curvature is a reverse that a designer may mean; more is a wave.
    if let [x] = f.inflections_x[..] {
        out.push(Finding::note(whole(), LineFact::TurnsOnce(x)).at(place_at(line, x)));
    }
    if f.inflections_x.len() > 1 {
        let first = place_at(line, f.inflections_x[0]);
        out.push(Finding::watch(whole(), LineFact::Wavy(f.inflections_x.clone())).at(first));
    }
    for h in &f.hooks {
        let place = Place::Ducks { line: line.id, view, from: h.from + 1, to: h.to + 1 };
        let hook = LineFact::Hook { view, left: h.left, right: h.right, at: h.at_x };
        out.push(Finding::watch(place, hook).at(place_at(line, h.at_x)));
    }
    if let Some((duck, jump)) = f.hardest_duck.filter(|(_, jump)| *jump > HARD_SPOT) {
        let place = Place::Ducks { line: line.id, view, from: duck + 1, to: duck + 1 };
        let at = line.spline.knots().get(duck).map(|t| line.spline.at(*t));
        out.push(Finding::watch(place, LineFact::HardSpot { jump, shows: HARD_SPOT }).at(at));
    }
}
