//! Where water lies in her, and what a drain slope does to a bottom that was flat.

use super::Model;
use crate::finding::{DrainFact, Finding, Place};
use crate::frames::Frame;
use crate::hull::{DrainWedge, HullLine};
use crate::model::Rain;
use crate::part::{PanelId, PartId};

/// Tells where rain lies that the limbers let through, where that is not at the transom.
pub(super) fn rain(model: &Model, out: &mut Vec<Finding>) {
    let limbers = model.woodwork.frames.iter().any(|f| !f.limbers.is_empty());
    let Some(rain) = Rain::of(model).filter(|r| limbers && r.by_the_bow()) else {
        return;
    };
    let stays = DrainFact::RainStays { trim: rain.trim, at: rain.at.x, between: rain.between };
    out.push(Finding::note(Place::Limbers, stays));
}

/// Tells of it, or that there is nothing to tell.
pub(super) fn drain(model: &Model, out: &mut Vec<Finding>) {
    let wedge = model.hull.framing.drain_wedge;
    let slope = wedge.map_or(model.hull.framing.drain_slope, DrainWedge::slope);
    if slope <= 0.0 {
        return;
    }
    if model.lines.drain_slope == 0.0 {
        let slopes = model.woodwork.frames.iter().map(Frame::bottom_slope).filter(|s| *s > 0.0);
        let least = slopes.fold(f64::INFINITY, f64::min);
        let anyway = DrainFact::FallsAnyway(Some(least).filter(|l| l.is_finite()));
        out.push(Finding::note(Place::DrainSlope, anyway));
        return;
    }
    let Some(chine) = model.lines.lines.get(1) else {
        return;
    };
    let fall = |y: f64| wedge.map_or(slope * y, |w| w.drop(y));
    let (drop, at, y) = greatest(chine, fall);
    let deadrise = (drop / y.max(1.0)).atan();
    let litres = added_volume(chine, fall) * 1e-6;
    out.push(
        Finding::note(Place::DrainSlope, DrainFact::Falls { drop, at, deadrise, litres })
            .about(PartId::Panel(PanelId(0))),
    );
}

/// Greatest fall (mm) of the bottom from a chine, where, and the half-breadth there.
fn greatest(chine: &HullLine, fall: impl Fn(f64) -> f64) -> (f64, f64, f64) {
    let at = |i: usize| chine.spline.at(chine.spline.end() * i as f64 / 100.0);
    (0..=100)
        .map(at)
        .map(|p| (fall(p.y), p.x, p.y))
        .fold((0.0, 0.0, 0.0), |a, b| if b.0 > a.0 { b } else { a })
}

/// Volume (mm³) between a flat bottom and one that falls by `fall` of its half-breadth: two
/// triangles of half-breadth y and that height at each station, ∫ y fall(y) dx by Simpson's
/// rule.
fn added_volume(chine: &HullLine, fall: impl Fn(f64) -> f64) -> f64 {
    const PIECES: usize = 100;
    let (first, last) = (chine.spline.at(0.0).x, chine.spline.at(chine.spline.end()).x);
    let area = |i: usize| {
        let x = first + (last - first) * i as f64 / PIECES as f64;
        let y = chine.spline.parameter_at_x(x).map_or(0.0, |t| chine.spline.at(t).y);
        y * fall(y)
    };
    let weight = |i: usize| match i {
        0 | PIECES => 1.0,
        i if i % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 = (0..=PIECES).map(|i| weight(i) * area(i)).sum();
    sum * (last - first) / PIECES as f64 / 3.0
}
