//! Bones, second half: one frame's pieces, notches and edges.

use super::Model;
use crate::bend::lie::MOST_LET_DOWN;
use crate::finding::{Fact, Finding, FrameFact, NotchFact, Place, Severity};
use crate::frames::{Frame, Notch, Piece};
use crate::geom::P3;
use crate::geom::polyline::area;
use crate::geom::ring::centroid;
use crate::part::LineId;

/// A gap or a bulge smaller than this (mm) is taken up by bedding. Our judgement.
const CROWN_SEEN_MM: f64 = 1.0;
/// A bevel beyond this (radians) leaves a feather edge that neither glue nor screw holds.
/// Common practice, no source.
const STEEP_BEVEL: f64 = 40.0 * std::f64::consts::PI / 180.0;
/// Share of a piece's depth that must be left inside a notch. Common practice, no source.
const LEAST_LEFT: f64 = 0.4;

/// A piece that loses this share of itself to a notch falls apart.
const FALLS_APART: f64 = 0.1;
/// A piece that falls off is told of from this size, mm²: a fingernail.
const CRUMB_MM2: f64 = 100.0;
/// Share of a keelson's depth that planing it to the V may take at its edges. Common
/// practice, no source.
const MOST_PLANED: f64 = 0.7;

pub(super) fn frame(model: &Model, f: &Frame, out: &mut Vec<Finding>) {
    let mut found = Vec::new();
    for p in &f.pieces {
        piece(f, p, &mut found);
    }
    if f.runs_out() {
        found.push(Finding::watch(Place::Frame(f.station), FrameFact::RunsOut));
    }
    if !f.holds_together() {
        let none = f.pieces.is_empty();
        let fact = if none { FrameFact::NoWood } else { FrameFact::Unjoined };
        found.push(Finding::watch(Place::Frame(f.station), fact));
    }
    for n in &f.notches {
        notch(model, f, n, &mut found);
    }
    edges(model, f, &mut found);
    let id = model.woodwork.frame_id(f.station);
    out.extend(found.into_iter().map(|found| found.about(id)));
}

fn piece(f: &Frame, p: &Piece, out: &mut Vec<Finding>) {
    let at = f.section.across.space(centroid(&p.outline));
    let mut find = |severity, fact: Fact| {
        let place = Place::OnFrame(f.station, p.name.clone());
        out.push(Finding::new(severity, place, fact).at(at));
    };
    if !p.wide_enough {
        find(Severity::Watch, FrameFact::Board(p.board_width).into());
    }
    if p.lost > FALLS_APART * area(&p.outline).abs() {
        find(Severity::Stop, NotchFact::CutThrough.into());
    } else if p.lost > CRUMB_MM2 {
        find(Severity::Note, NotchFact::Crumb(p.lost).into());
    }
    if p.least_left < LEAST_LEFT * p.depth {
        let severity = if p.least_left <= 0.0 { Severity::Stop } else { Severity::Watch };
        let left = p.least_left.max(0.0);
        find(severity, NotchFact::Leaves { left, of: p.depth }.into());
    }
}

fn notch(model: &Model, f: &Frame, n: &Notch, out: &mut Vec<Finding>) {
    let mut find = |severity, fact: NotchFact| {
        let place = Place::OnFrame(f.station, n.name.clone());
        out.push(Finding::new(severity, place, fact).at(n.at));
    };
    let m = &model.members[n.member].member;
    if n.wanted_let_down > n.let_down + 0.5 {
        find(
            Severity::Watch,
            NotchFact::LetDown {
                line: m.line.to_string(),
                wanted: n.wanted_let_down,
                sided: m.sided_mm,
                enough: (n.wanted_let_down / MOST_LET_DOWN).ceil(),
            },
        );
    }
    if !m.follows(LineId::Keel) {
        if n.corners.iter().any(|c| c.x < 0.0) {
            find(Severity::Note, NotchFact::SticksMeet);
        }
        return;
    }
    let rise = 0.5 * m.sided_mm * f.bottom_slope();
    let bottom = f.section.edges.first().map_or(0.0, |e| e.last().at.x);
    if bottom < 0.5 * m.sided_mm {
        let (width, stick) = (2.0 * bottom, n.name.clone());
        find(Severity::Note, NotchFact::NarrowBottom { width, stick, sided: m.sided_mm });
    }
    if rise > MOST_PLANED * m.moulded_mm {
        let enough = (rise / MOST_PLANED).ceil();
        find(Severity::Watch, NotchFact::PlanedAway { rise, enough });
    }
}

/// Its edges along the panels: crowned where they are sawn straight, bevelled.
fn edges(model: &Model, f: &Frame, out: &mut Vec<Finding>) {
    let place = |panel: usize| Place::OnFrame(f.station, model.panels[panel].name.clone());
    for (panel, crown) in f.crowns.iter().filter(|(panel, _)| f.edges.is_straight(*panel)) {
        let found = if *crown < -CROWN_SEEN_MM {
            Finding::watch(place(*panel), FrameFact::PushesOut(-crown))
        } else if *crown > CROWN_SEEN_MM {
            Finding::note(place(*panel), FrameFact::LeavesGap(*crown))
        } else {
            continue;
        };
        out.push(found.at(along_edge(f, *panel)));
    }
    if let Some(b) = f.bevels.iter().max_by(|a, b| a.angle.abs().total_cmp(&b.angle.abs()))
        && b.angle.abs() > STEEP_BEVEL
    {
        let at = f.section.across.space(b.at);
        out.push(Finding::watch(place(b.panel), FrameFact::SteepBevel(b.angle)).at(at));
    }
}

/// The middle of a panel's edge on a frame.
fn along_edge(f: &Frame, panel: usize) -> Option<P3> {
    let edge = f.section.edges.iter().find(|e| e.panel == panel)?;
    let middle = edge.points.get(edge.points.len() / 2)?;
    Some(f.section.across.space(middle.at))
}
