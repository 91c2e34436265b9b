//! Afloat: will she float right, with whom, and behind what motor?

use super::Model;
use crate::finding::{Finding, Severity};
use crate::float::power::SpeedPower;
use crate::hull::LoadKind;
use crate::model::afloat::{Afloat, Step};
use crate::part::{CaseId, Question};
use crate::units::{half_degrees, tidy_zero};

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

/// Who decides, said beside every figure of a rule.
pub(super) const LOCAL: &str = "this figure is indicative: local rules and a surveyor decide";

pub(super) fn afloat(model: &Model, out: &mut Vec<Finding>) {
    let Some(a) = model.afloat.as_deref() else {
        out.push(Finding::stop(
            Question::Afloat,
            "the whole hull",
            format!(
                "her lines enclose no space ({:.1} litres), so nothing can be said of how she floats",
                tidy_zero(model.mesh(false).volume() * 1e-6, 1)
            ),
            "pull her lines apart: the keel and chines below, the sheer above them",
        ));
        return;
    };
    rest(model, a, out);
    one_side(model, a, out);
    super::limits::limits(model, a, out);
    if let Some(s) = &a.speed {
        speed(s, out);
    }
    super::aboard::aboard(model, a, out);
    if a.mesh_error > MESH_ERROR {
        out.push(Finding::watch(
            Question::Afloat,
            "the whole hull",
            format!("her figures may be off by {:.2} %", 100.0 * a.mesh_error),
            "ease the sharpest bend of her lines",
        ));
    }
}

/// Floats, stands, is dry and level.
fn rest(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    for id in [CaseId::Empty, CaseId::Alone, CaseId::Full, CaseId::Nobody] {
        let Some(c) = a.case(id) else {
            continue;
        };
        let Some(f) = c.floating else {
            out.push(Finding::stop(
                Question::Afloat,
                id.name(),
                format!("with {} in all she {}", units.mass(c.weight.mass), c.fate()),
                "carry less, lower, or give her more freeboard and beam",
            ));
            continue;
        };
        if let Some((least, at)) = c.freeboard.filter(|b| b.0 <= 0.0) {
            let place = if at.cut_out { "in the motor's cut-out" } else { "over the sheer" };
            out.push(
                Finding::stop(
                    Question::Afloat,
                    id.name(),
                    format!(
                        "water comes in {place} {} aft, {} below the water",
                        units.show(at.at.x),
                        units.show(-least)
                    ),
                    "carry less or move it; a motor's cut-out needs a well or a longer shaft",
                )
                .at(at.at),
            );
        }
        if c.lolls() {
            let lies = match half_degrees(f.heel.abs()) {
                upright if upright == half_degrees(0.0) => String::new(),
                heel => format!(", and lies over to {heel}"),
            };
            out.push(Finding::stop(
                Question::Afloat,
                id.name(),
                format!(
                    "she does not stand upright by herself (GM {}){lies}: her weight is too high for her beam",
                    units.show(c.gm.map_or(0.0, |g| g[0]))
                ),
                "sit lower, carry less high up, or give her more beam at the water; moving weight to the high side may throw her over to the other",
            ));
        } else if f.heel.abs() > FELT_HEEL && id != CaseId::Empty {
            out.push(Finding::watch(
                Question::Afloat,
                id.name(),
                format!(
                    "she lists by {} with the loads where they are",
                    half_degrees(f.heel.abs())
                ),
                "balance them about the centreplane",
            ));
        }
    }
    for id in [CaseId::Alone, CaseId::Full] {
        let Some(c) = a.case(id) else {
            continue;
        };
        let Some(f) = c.floating.filter(|f| f.trim.abs() > FELT_TRIM) else {
            continue;
        };
        let move_to = if f.trim > 0.0 { "forward" } else { "aft" };
        let there = |s: &&Step| {
            a.loads.iter().zip(&c.aboard).any(|(l, at)| l.name == s.load && at.is_some())
        };
        let steps = a.steps.iter().filter(there);
        let step = steps.max_by(|p, q| p.trim.abs().total_cmp(&q.trim.abs()));
        let hint = step.map_or(format!("move weight {move_to}"), |s| {
            format!(
                "move weight {move_to}: a step of {} by {} changes the trim by {:.1}°",
                units.show(s.by),
                s.load,
                s.trim.abs().to_degrees()
            )
        });
        let text = format!("she trims {}", f.trim_told());
        out.push(Finding::watch(Question::Afloat, id.name(), text, hint));
    }
}

fn one_side(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let Some(c) = a.case(CaseId::OneSided).filter(|_| persons(a) > 0.0) else {
        return;
    };
    let wet = c.floods();
    match c.floating {
        Some(f) if f.heel.abs() <= CODE_HEEL && !wet => {}
        Some(f) if !wet => {
            let length = model.lines.length_overall();
            let limit = offset_load_heel(length);
            let iso = match length < ISO_12217_3_MM {
                true => format!("ISO 12217-3 would allow {} (from memory), ", half_degrees(limit)),
                false => String::new(),
            };
            let within = length < ISO_12217_3_MM && f.heel.abs() <= limit;
            out.push(Finding::new(
                if within { Severity::Note } else { Severity::Watch },
                Question::Afloat,
                CaseId::OneSided.name(),
                format!(
                    "she heels by {}, {} from flooding; {iso}a code of practice for small commercial craft 7°",
                    half_degrees(f.heel.abs()),
                    model.hull.units.show(c.freeboard.map_or(0.0, |b| b.0)),
                ),
                format!("keep people apart and seated low; {LOCAL}"),
            ));
        }
        _ => out.push(Finding::new(
            of_own_crew(model),
            Question::Afloat,
            CaseId::OneSided.name(),
            match c.floating {
                Some(_) => "she takes water in".to_string(),
                None => format!("she {}", c.fate()),
            },
            format!("fewer people, seated low and apart, never standing at one side; {LOCAL}"),
        )),
    }
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
    if let Some(why) = s.no_prism.as_ref().filter(|_| !s.rowed) {
        out.push(Finding::note(
            Question::Afloat,
            "speed",
            format!("no planing speeds are given: {why}"),
            match s.with_motor.filter(|kn| *kn > s.hull_speed) {
                Some(kn) => format!(
                    "count on about {:.1} knots: the {kn:.1} told for your motor are by tank tests of other hulls, with straighter bottoms",
                    s.hull_speed
                ),
                None => format!("she is a boat for up to about {:.1} knots", s.hull_speed),
            },
        ));
    }
    if let (Some((from, to)), Some(why)) = (s.gap, s.no_hump.as_ref()) {
        out.push(Finding::note(
            Question::Afloat,
            "speed",
            format!("there are no figures between {from:.0} and {to:.0} knots: {why}"),
            "only a trial will show whether her motor lifts her over the hump there",
        ));
    }
    let fastest = s.with_motor.unwrap_or(f64::INFINITY);
    let past = s.rows.iter().find(|r| r.speed <= fastest && r.past_chart);
    if let Some(r) = past {
        out.push(Finding::watch(
            Question::Afloat,
            "speed",
            format!(
                "from {:.0} knots on she is past the porpoising chart: expect her to leap",
                r.speed
            ),
            "a smaller motor, or weight moved forward; test with care and alone",
        ));
    }
    let near = s.rows.iter().filter(|r| r.speed <= fastest + 1.0).find_map(|r| {
        let (trim, limit) = (r.trim?, r.porpoising?);
        (trim > limit - NEAR_PORPOISING).then_some((r.speed, trim, limit))
    });
    if let Some((kn, trim, limit)) = near {
        out.push(Finding::watch(
            Question::Afloat,
            "speed",
            format!(
                "at {kn:.0} knots she runs at {trim:.1}°; above about {limit:.1}° she may porpoise"
            ),
            "slow down or move weight forward when she begins to leap; test with care and alone",
        ));
    }
}
