//! Afloat: will she float right, with whom, and behind what motor?

use super::Model;
use crate::finding::{AfloatFact, Finding, Place, Severity};
use crate::float::power::SpeedPower;
use crate::hull::LoadKind;
use crate::model::afloat::{Afloat, Step};
use crate::part::CaseId;

/// Trim (radians) that a builder sees and feels at rest. Our judgement; no source.
const FELT_TRIM: f64 = 2.0 * std::f64::consts::PI / 180.0;
/// List (radians) with the loads where they are. Our judgement; no source.
const FELT_HEEL: f64 = 1.0 * std::f64::consts::PI / 180.0;
/// All persons on one side may heel a small commercial craft by 7° (a public code of practice of
/// the United Kingdom for small commercial craft).
const CODE_HEEL: f64 = 7.0 * std::f64::consts::PI / 180.0;

/// The heel (radians) that ISO 12217-3 allows in its offset-load test of a boat `length` mm
/// long: 11.5 + (24 − L)³/520 degrees, L in metres. From memory.
fn offset_load_heel(length: f64) -> f64 {
    (11.5 + (24.0 - length / 1000.0).powi(3) / 520.0).to_radians()
}

/// ISO 12217-3 is for hulls under 6 m (its abstract).
const ISO_12217_3_MM: f64 = 6000.0;

/// The mesh may falsify her figures by this share.
const MESH_ERROR: f64 = 1e-3;
/// Degrees short of the porpoising limit that are too near: the chart is read to a degree.
const NEAR_PORPOISING: f64 = 1.0;

pub(super) fn afloat(model: &Model, out: &mut Vec<Finding>) {
    let Some(a) = model.afloat.as_deref() else {
        let litres = model.mesh(false).volume() * 1e-6;
        out.push(Finding::stop(Place::Hull, AfloatFact::NoSpace(litres)));
        return;
    };
    rest(a, out);
    trims(a, out);
    one_side(model, a, out);
    super::limits::limits(model, a, out);
    if let Some(s) = &a.speed {
        speed(s, out);
    }
    super::aboard::aboard(model, a, out);
    if a.mesh_error > MESH_ERROR {
        out.push(Finding::watch(Place::Hull, AfloatFact::Inexact(a.mesh_error)));
    }
}

/// Floats, stands and is dry.
fn rest(a: &Afloat, out: &mut Vec<Finding>) {
    for id in [CaseId::Empty, CaseId::Alone, CaseId::Full, CaseId::Nobody] {
        let place = || Place::Case(id);
        let Some(c) = a.case(id) else {
            continue;
        };
        let Some(f) = c.floating else {
            let lost = AfloatFact::Lost { mass: c.weight.mass, sinks: c.sinks };
            out.push(Finding::stop(place(), lost));
            continue;
        };
        if let Some((least, at)) = c.freeboard.filter(|b| b.0 <= 0.0) {
            let water = AfloatFact::WaterIn { cut_out: at.cut_out, at: at.at.x, under: -least };
            out.push(Finding::stop(place(), water).at(at.at));
        }
        if c.lolls() {
            let gm = c.gm.map_or(0.0, |g| g[0]);
            out.push(Finding::stop(place(), AfloatFact::Lolls { gm, heel: f.heel }));
        } else if f.heel.abs() > FELT_HEEL && id != CaseId::Empty {
            out.push(Finding::watch(place(), AfloatFact::Lists(f.heel)));
        }
    }
}

/// Lies level fore and aft.
fn trims(a: &Afloat, out: &mut Vec<Finding>) {
    for id in [CaseId::Alone, CaseId::Full] {
        let Some(c) = a.case(id) else {
            continue;
        };
        let Some(f) = c.floating.filter(|f| f.trim.abs() > FELT_TRIM) else {
            continue;
        };
        let there = |s: &&Step| {
            a.loads.iter().zip(&c.aboard).any(|(l, at)| l.name == s.load && at.is_some())
        };
        let steps = a.steps.iter().filter(there);
        let step = steps.max_by(|p, q| p.trim.abs().total_cmp(&q.trim.abs()));
        let step = step.map(|s| (s.load.clone(), s.by, s.trim));
        out.push(Finding::watch(Place::Case(id), AfloatFact::Trims { trim: f.trim, step }));
    }
}

fn one_side(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let Some(c) = a.case(CaseId::OneSided).filter(|_| persons(a) > 0.0) else {
        return;
    };
    let wet = c.floods();
    let (severity, fact) = match c.floating {
        Some(f) if f.heel.abs() <= CODE_HEEL && !wet => return,
        Some(f) if !wet => {
            let length = model.lines.length_overall();
            let standard = (length < ISO_12217_3_MM).then(|| offset_load_heel(length));
            let within = standard.is_some_and(|limit| f.heel.abs() <= limit);
            let freeboard = c.freeboard.map_or(0.0, |b| b.0);
            (
                if within { Severity::Note } else { Severity::Watch },
                AfloatFact::Heels { heel: f.heel, freeboard, standard },
            )
        }
        floating => {
            let sinks = floating.is_none().then_some(c.sinks);
            (of_own_crew(model), AfloatFact::CrewTooMuch { sinks })
        }
    };
    out.push(Finding::new(severity, Place::Case(CaseId::OneSided), fact));
}

/// How grave it is that a crew is too much for her: a stop where the builder named it, a watch
/// where it is only the usual one, which nobody has said will sail.
pub(super) fn of_own_crew(model: &Model) -> Severity {
    match model.hull.afloat.loads.is_empty() {
        true => Severity::Watch,
        false => Severity::Stop,
    }
}

pub(super) fn persons(a: &Afloat) -> f64 {
    a.loads.iter().filter(|l| l.kind == LoadKind::Person).map(|l| l.mass_kg).sum()
}

fn speed(s: &SpeedPower, out: &mut Vec<Finding>) {
    if let Some(why) = s.no_prism.filter(|_| !s.rowed) {
        let no_planing = AfloatFact::NoPlaning {
            why,
            hull_speed: s.hull_speed,
            with_motor: s.with_motor.filter(|kn| *kn > s.hull_speed),
        };
        out.push(Finding::note(Place::Speed, no_planing));
    }
    if let (Some((from, to)), Some(why)) = (s.gap, s.no_hump) {
        let no_hump = AfloatFact::NoHump { why, from, to };
        out.push(Finding::note(Place::Speed, no_hump));
    }
    let fastest = s.with_motor.unwrap_or(f64::INFINITY);
    let past = s.rows.iter().find(|r| r.speed <= fastest && r.past_chart);
    if let Some(r) = past {
        out.push(Finding::watch(Place::Speed, AfloatFact::PastPorpoising(r.speed)));
    }
    let near = s.rows.iter().filter(|r| r.speed <= fastest + 1.0).find_map(|r| {
        let (trim, limit) = (r.trim?, r.porpoising?);
        (trim > limit - NEAR_PORPOISING).then_some((r.speed, trim, limit))
    });
    if let Some((speed, trim, limit)) = near {
        let porpoises = AfloatFact::NearPorpoising { speed, trim, limit };
        out.push(Finding::watch(Place::Speed, porpoises));
    }
}
