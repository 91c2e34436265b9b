//! Setup: will it stand true upside down?

use super::Model;
use crate::curve::View;
use crate::finding::{Finding, JigFact, Place, Severity};
use crate::part::PartId;
use crate::setup::sensitivity::OUT_BY_MM;
use crate::setup::supports::UNDER_NOTCH_MM;
use crate::setup::{Sensitivity, Strongback};

/// A strongback narrower than this (mm) rocks. Common practice, no source.
const NARROW_MM: f64 = 350.0;
/// Heights of the upside-down bottom (mm) at which one works without a stool or a bad back.
/// Our judgement.
const WORKING_MM: std::ops::RangeInclusive<f64> = 500.0..=1450.0;

pub(super) fn setup(model: &Model, out: &mut Vec<Finding>) {
    let work = &model.woodwork;
    let Some(jig) = &work.strongback else {
        let none = work.frames.is_empty();
        let fact = if none { JigFact::NoFrames } else { JigFact::LevelCrossesNone };
        out.push(Finding::watch(Place::Strongback, fact));
        return;
    };
    for station in &jig.missed {
        let head = work.frame(*station).and_then(|f| f.section.half().last().copied());
        let lower = head.is_some_and(|p| p.y < jig.level);
        let misses = JigFact::LevelMisses { level: jig.level, lower };
        let found = Finding::watch(Place::Frame(*station), misses);
        out.push(found.about(work.frame_id(*station)));
    }
    for f in &work.frames {
        let foot = f.section.half().first().map_or(0.0, |p| p.y);
        if let Some(s) = f.spall.filter(|s| s.low < foot) {
            let low = JigFact::LowSpall(foot - s.low);
            let found = Finding::watch(Place::Frame(f.station), low);
            out.push(found.about(work.frame_id(f.station)));
        }
    }
    rails(model, jig, out);
    ends(jig, out);
    let top = jig.above_floor(model.lines.extent(|p| p.z).0);
    if !WORKING_MM.contains(&top) {
        out.push(Finding::note(Place::Strongback, JigFact::WorkingHeight(top)));
    }
    if let Some(s) = work.sensitivities.iter().min_by(|a, b| a.allowed.total_cmp(&b.allowed))
        && s.allowed < OUT_BY_MM
    {
        let place = Place::OnFrame(s.station, s.line.to_string());
        let shows = JigFact::ShowsSoonest { line: s.line, view: s.view, allowed: s.allowed };
        out.push(Finding::note(place, shows).about(work.frame_id(s.station)));
    }
    as_built(model, out);
}

/// Whether the rails stand apart enough for rungs, legs and the floor.
fn rails(model: &Model, jig: &Strongback, out: &mut Vec<Finding>) {
    let between = jig.rail_spacing - 2.0 * model.hull.strongback.rail_width_mm;
    if between < 100.0 {
        let none = JigFact::NoRungs(between.max(0.0));
        out.push(Finding::watch(Place::Strongback, none).about(PartId::Ladder));
    }
    for s in jig.stands.iter().filter(|s| s.leg_at == 0.0) {
        let found = Finding::note(Place::Frame(s.station), JigFact::OneLeg);
        out.push(found.about(model.woodwork.frame_id(s.station)));
    }
    if jig.rail_spacing < NARROW_MM {
        let narrow = JigFact::NarrowRails(jig.rail_spacing);
        out.push(Finding::note(Place::Strongback, narrow).about(PartId::Ladder));
    }
}

/// Whether what holds the ends can hold them.
fn ends(jig: &Strongback, out: &mut Vec<Finding>) {
    for e in &jig.ends {
        let place = || Place::JigEnd(e.end);
        if let Some(c) = e.support.crosspiece.filter(|c| c.under_notch() < UNDER_NOTCH_MM) {
            let (above, left) = (c.rest() - jig.rail_top, c.under_notch());
            let low = JigFact::LowHead { end: e.end, above, left };
            out.push(Finding::watch(place(), low).about(e.end.part()));
        }
        if e.support.post.is_none() {
            out.push(Finding::watch(place(), JigFact::NoPost).about(e.end.part()));
        }
    }
}

fn as_built(model: &Model, out: &mut Vec<Finding>) {
    let Some(built) = &model.as_built else {
        return;
    };
    let work = &model.woodwork;
    for d in &built.deviations {
        for (view, by) in [(View::Plan, d.out), (View::Profile, d.up)] {
            let of =
                |s: &&Sensitivity| s.station == d.station && s.line == d.line && s.view == view;
            let allowed = work.sensitivities.iter().find(of).map(|s| s.allowed);
            if let Some(allowed) = allowed.filter(|a| by.abs() > *a) {
                let place = Place::OnFrame(d.station, d.line.to_string());
                let out_of_true = JigFact::StandsOut { view, by, allowed };
                let found = Finding::watch(place, out_of_true);
                out.push(found.about(work.frame_id(d.station)));
            }
        }
    }
    let stops = built.model.findings.iter().filter(|f| f.severity == Severity::Stop);
    // What stops her as she is drawn is no news.
    for f in stops.filter(|f| !model.findings.iter().any(|g| g.alike(f))) {
        let place = Place::AsBuiltAt(Box::new(f.place.clone()));
        let fact = JigFact::AsBuilt(Box::new(f.fact.clone()));
        out.push(Finding::stop(place, fact).about(f.part).at(f.at));
    }
}
