//! Skin: will the sheets lie flat?

use super::Model;
use crate::finding::{Finding, Place, Severity, SkinFact};
use crate::model::PanelModel;
use crate::part::{AtEnd, PanelId, PartId};
use crate::tol::{DEVELOPABLE_WARP, MATING_EDGE_MM, PATTERN_ERROR_MM, STOP_WARP, WATCH_WARP};

/// A pattern that may be off by more than this (mm) is not to be cut: more than a saw wanders
/// and planing mends. Our judgement; no source.
const PATTERN_WRONG_MM: f64 = 1.0;

pub(super) fn skin(model: &Model, out: &mut Vec<Finding>) {
    for (k, end) in AtEnd::BOTH.into_iter().enumerate() {
        if model.panels.iter().any(|p| p.kept_straight[k]) {
            out.push(Finding::note(Place::PanelsAtEnd(end), SkinFact::KeptStraight(end)));
        }
    }
    rows_of_nothing(model, out);
    for (k, p) in model.panels.iter().enumerate() {
        panel(model, p, PartId::Panel(PanelId(k)), out);
    }
    for (k, w) in model.panels.windows(2).enumerate() {
        let by = w[1].edges.lower - w[0].edges.upper;
        if by.abs() > MATING_EDGE_MM {
            let line = model.line_below(&w[1]);
            let surface = w[0].pattern_surface;
            let differ = SkinFact::EdgesDiffer { by, below: w[0].name.clone(), surface };
            out.push(
                Finding::note(Place::PanelAlong(w[1].name.clone(), line), differ)
                    .about(PartId::Panel(PanelId(k + 1))),
            );
        }
    }
}

/// Rows of the planking that no panel and no line of hers answers to.
fn rows_of_nothing(model: &Model, out: &mut Vec<Finding>) {
    for row in &model.hull.planking.panels {
        if !model.panels.iter().any(|p| p.name == row.panel) {
            let names = model.panels.iter().map(|p| p.name.clone()).collect();
            let place = Place::Planking(row.panel.to_string());
            out.push(Finding::watch(place, SkinFact::NoSuchPanel(names)));
        }
    }
    for row in &model.hull.planking.laps {
        let between = &model.lines.lines[1..model.lines.lines.len() - 1];
        if !between.iter().any(|l| l.id.is(&row.line)) {
            let names = between.iter().map(|l| l.id).collect();
            let place = Place::Lap(row.line.to_string());
            out.push(Finding::watch(place, SkinFact::NoSuchSeam(names)));
        }
    }
}

fn panel(model: &Model, p: &PanelModel, id: PartId, out: &mut Vec<Finding>) {
    let place = || Place::Panel(p.name.clone());
    let warp = p.quality.greatest_warp;
    if warp > DEVELOPABLE_WARP {
        let severity = match warp {
            w if w >= STOP_WARP => Severity::Stop,
            w if w >= WATCH_WARP => Severity::Watch,
            _ => Severity::Note,
        };
        let twist = SkinFact::Twist {
            lower: model.line_below(p),
            upper: model.line_above(p),
            warp,
            stretch: p.quality.edge_stretch,
        };
        let place = Place::PanelAt(p.name.clone(), p.quality.warp_at.x);
        out.push(Finding::new(severity, place, twist).about(id).at(p.quality.warp_at));
    }
    if p.bend.radius < p.bend.least_radius {
        let way = p.bend.options.iter().find(|o| o.holds);
        let severity = if way.is_some() { Severity::Watch } else { Severity::Stop };
        let radius = SkinFact::Radius {
            radius: p.bend.radius,
            sheet: p.sheet.clone(),
            thickness: p.thickness,
            least: p.bend.least_radius,
            instead: way.map(|o| o.way.clone()),
        };
        let place = Place::PanelAt(p.name.clone(), p.bend.at.x);
        out.push(Finding::new(severity, place, radius).about(id).at(p.bend.at));
    }
    if p.pattern_error > PATTERN_ERROR_MM {
        let wrong = p.pattern_error > PATTERN_WRONG_MM;
        let severity = if wrong { Severity::Stop } else { Severity::Watch };
        let off = SkinFact::PatternOff { by: p.pattern_error, wrong };
        out.push(Finding::new(severity, place(), off).about(id));
    }
    if let Some(why) = p.unsound() {
        out.push(Finding::stop(place(), SkinFact::Unsound(why)).about(id));
    }
    if model.materials.sheet(&p.sheet).is_none() {
        let unknown = SkinFact::UnknownSheet(p.sheet.clone());
        out.push(Finding::watch(place(), unknown).about(id));
    }
}
