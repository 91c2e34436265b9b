//! Afloat: will she float right, with whom, and behind what motor?

use super::Model;
use crate::finding::{Finding, Severity};
use crate::float::capacity::KG_PER_POUND;
use crate::float::power::SpeedPower;
use crate::hull::LoadKind;
use crate::model::afloat::{ALONE, Afloat, EMPTY, FULL, NOBODY, ONE_SIDED, SWAMPED, Step};
use crate::units::half_degrees;

/// Trim (radians) that a builder sees and feels at rest. Our judgement; no source.
const FELT_TRIM: f64 = 2.0 * std::f64::consts::PI / 180.0;
/// List (radians) with the loads where they are. Our judgement; no source.
const FELT_HEEL: f64 = 1.0 * std::f64::consts::PI / 180.0;
/// All persons on one side may heel a small commercial craft by 7°. Source: a United Kingdom
/// code of practice for small commercial craft, as published at imorules.com.
const CODE_HEEL: f64 = 7.0 * std::f64::consts::PI / 180.0;
/// Swamped she is to lie within 10° of level. Source: 33 CFR 183.235.
const SWAMPED_HEEL: f64 = 10.0 * std::f64::consts::PI / 180.0;

/// The heel (radians) that ISO 12217-3 allows in its offset-load test of a boat `length` mm
/// long: 11.5 + (24 − L)³/520 degrees, L in metres. From memory.
fn offset_load_heel(length: f64) -> f64 {
    (11.5 + (24.0 - length / 1000.0).powi(3) / 520.0).to_radians()
}

/// The safe-loading and flotation rules are for monohulls under 20 ft (6.1 m). Source: 33
/// CFR 183.21 and following.
const RULE_FEET: f64 = 20.0;
/// ISO 12217-3 is for hulls under 6 m (the abstract of the standard).
const ISO_12217_3_MM: f64 = 6000.0;

/// The mesh may falsify her figures by this share.
const MESH_ERROR: f64 = 1e-3;
/// Degrees short of the porpoising limit that are too near: the chart is read to a degree.
const NEAR_PORPOISING: f64 = 1.0;

/// Who decides, said beside every figure of a rule.
const LOCAL: &str = "this figure is indicative: local rules and a surveyor decide";

pub(super) fn afloat(model: &Model, out: &mut Vec<Finding>) {
    let Some(a) = model.afloat.as_deref() else {
        out.push(Finding::watch(
            "afloat",
            "the whole hull",
            "she holds no room, so nothing is said of how she floats",
            "pull her lines apart",
        ));
        return;
    };
    rest(model, a, out);
    one_side(model, a, out);
    swamped(model, a, out);
    rule(model, a, out);
    if let Some(s) = &a.speed {
        speed(s, out);
    }
    super::aboard::aboard(model, a, out);
    if a.mesh_error > MESH_ERROR {
        out.push(Finding::watch(
            "afloat",
            "the whole hull",
            format!("her figures may be off by {:.2} %", 100.0 * a.mesh_error),
            "ease the sharpest bend of her lines",
        ));
    }
}

/// Floats, stands, is dry and level.
fn rest(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    for name in [EMPTY, ALONE, FULL, NOBODY] {
        let Some(c) = a.case(name) else {
            continue;
        };
        let Some(f) = c.floating else {
            out.push(Finding::stop(
                "afloat",
                name,
                format!("with {:.0} kg in all she {}", c.weight.mass, c.fate()),
                "carry less, lower, or give her more freeboard and beam",
            ));
            continue;
        };
        if let Some((least, at)) = c.freeboard.filter(|b| b.0 <= 0.0) {
            let place = if at.cut_out { "in the motor's cut-out" } else { "over the sheer" };
            out.push(Finding::stop(
                "afloat",
                name,
                format!(
                    "water comes in {place} {} aft, {} below the water",
                    units.show(at.at.x),
                    units.show(-least)
                ),
                "carry less or move it; a motor's cut-out wants a well or a longer shaft",
            ));
        }
        if c.lolls() {
            let lies = match half_degrees(f.heel.abs()) {
                upright if upright == half_degrees(0.0) => String::new(),
                heel => format!(", and lies over to {heel}"),
            };
            out.push(Finding::stop(
                "afloat",
                name,
                format!(
                    "she does not stand upright by herself (GM {}){lies}: her weight is too high for her beam",
                    units.show(c.gm.map_or(0.0, |g| g[0]))
                ),
                "sit lower, carry less high up, or give her more beam at the water; moving weight to the high side may throw her over to the other",
            ));
        } else if f.heel.abs() > FELT_HEEL && name != EMPTY {
            out.push(Finding::watch(
                "afloat",
                name,
                format!(
                    "she lists by {} with the loads where they are",
                    half_degrees(f.heel.abs())
                ),
                "balance them about the centreplane",
            ));
        }
    }
    for name in [ALONE, FULL] {
        let Some(c) = a.case(name) else {
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
        out.push(Finding::watch("afloat", name, text, hint));
    }
}

fn one_side(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let Some(c) = a.case(ONE_SIDED).filter(|_| persons(a) > 0.0) else {
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
                "afloat",
                ONE_SIDED,
                format!(
                    "she heels by {}, {} from flooding; {iso}a code of practice for small commercial craft 7°",
                    half_degrees(f.heel.abs()),
                    model.hull.units.show(c.freeboard.map_or(0.0, |b| b.0)),
                ),
                format!("keep people apart and seated low; {LOCAL}"),
            ));
        }
        _ => out.push(Finding::watch(
            "afloat",
            ONE_SIDED,
            "she would ship water or go over",
            format!("fewer people, seated low and apart, never standing at one side; {LOCAL}"),
        )),
    }
}

pub(super) fn persons(a: &Afloat) -> f64 {
    a.loads.iter().filter(|l| l.kind == LoadKind::Person).map(|l| l.mass_kg).sum()
}

fn swamped(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let (needed, built) = (a.foam_needed.0, a.foam(&model.hull));
    let hung = a.loads.iter().any(|l| l.kind == LoadKind::Motor);
    let motor = if hung { ", the motor's share beside it aft" } else { "" };
    if built + 0.5 < needed {
        out.push(Finding::watch(
            "afloat",
            SWAMPED,
            format!(
                "the flotation rule's arithmetic asks for {needed:.0} litres of foam, {built:.0} are built in"
            ),
            format!("put it high and along the sides so that she floats level{motor}; {LOCAL}"),
        ));
    }
    // Without foam where foam is asked for, there is nothing more to say.
    let Some(c) = a.case(SWAMPED).filter(|_| built > 0.0 || needed < 0.5) else {
        return;
    };
    match c.floating {
        Some(_) if c.lolls() => out.push(Finding::watch(
            "afloat",
            SWAMPED,
            "full of water she does not stay upright",
            "put the foam higher and further out on both sides",
        )),
        Some(f) if f.heel.abs() > SWAMPED_HEEL => out.push(Finding::watch(
            "afloat",
            SWAMPED,
            format!("full of water she lies over by {}", half_degrees(f.heel.abs())),
            "put the foam higher and further out on both sides",
        )),
        None => out.push(Finding::watch(
            "afloat",
            SWAMPED,
            format!("full of water, with {:.0} kg, she {}", c.weight.mass, c.fate()),
            if c.sinks { "more foam" } else { "foam higher and further out on both sides" },
        )),
        _ => {}
    }
}

/// The safe-loading rule against what is aboard.
fn rule(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let c = &a.capacity;
    let feet = model.lines.length_overall() / 304.8;
    if feet >= RULE_FEET {
        out.push(Finding::watch(
            "afloat",
            "safe loading",
            format!("she is {feet:.1} ft long; the safe-loading rule is for boats under 20 ft"),
            "take its figures for nothing more than a comparison, and ask a surveyor",
        ));
    }
    if a.as_marked.as_ref().is_some_and(|c| c.floods()) {
        out.push(Finding::watch(
            "afloat",
            "safe loading",
            format!(
                "the safe-loading rule would mark her for {} persons; with that weight all on one side she floods or goes over",
                c.persons
            ),
            format!("take fewer than the rule says, seated low and apart; {LOCAL}"),
        ));
    }
    let aboard: f64 = a.loads.iter().map(|l| l.mass_kg).sum::<f64>() / KG_PER_POUND;
    if aboard > c.weight + 0.5 {
        out.push(Finding::watch(
            "afloat",
            "safe loading",
            format!(
                "{:.0} kg are aboard; the safe-loading rule would mark her for {:.0} kg",
                aboard * KG_PER_POUND,
                c.weight * KG_PER_POUND
            ),
            format!("carry less; {LOCAL}"),
        ));
    }
    let heavy = persons(a) / KG_PER_POUND;
    if heavy > c.persons_weight + 0.5 {
        out.push(Finding::watch(
            "afloat",
            "safe loading",
            format!(
                "persons of {:.0} kg are aboard; the safe-loading rule would mark her for {} of {:.0} kg together",
                heavy * KG_PER_POUND,
                c.persons,
                c.persons_weight * KG_PER_POUND
            ),
            format!("fewer people; {LOCAL}"),
        ));
    }
    let motor = &model.hull.motor;
    let own = !model.hull.afloat.loads.is_empty();
    let hung = a.loads.iter().any(|l| l.kind == LoadKind::Motor);
    if motor.fitted && model.woodwork.transom.is_none() {
        out.push(Finding::note(
            "afloat",
            "motor",
            "there is no transom to hang it on: she is taken as rowed",
            "set `fitted: false`, or give her a transom",
        ));
    } else if own && motor.fitted != hung {
        let (message, hint) = if hung {
            ("a motor is among the loads, and none is fitted", "set `fitted: true` for the motor")
        } else {
            ("a motor is fitted, and none is among the loads", "add a load of kind `Motor`")
        };
        out.push(Finding::watch("afloat", "motor", message, hint));
    }
    if let Some(most) = c.horsepower.filter(|hp| motor.fitted && motor.power_hp > *hp) {
        out.push(Finding::watch(
            "afloat",
            "motor",
            format!(
                "{} hp hang on her; the safe-loading rule would mark her for {most} hp",
                motor.power_hp
            ),
            format!(
                "a smaller motor: too much power swamps the stern and flips light boats; {LOCAL}"
            ),
        ));
    }
}

fn speed(s: &SpeedPower, out: &mut Vec<Finding>) {
    if let Some(why) = s.no_prism.as_ref().filter(|_| !s.rowed) {
        out.push(Finding::note(
            "afloat",
            "speed",
            format!("no planing speeds are told: {why}"),
            format!("she is a boat for up to about {:.1} knots", s.hull_speed),
        ));
    }
    let fastest = s.with_motor.unwrap_or(f64::INFINITY);
    let past = s.rows.iter().find(|r| r.speed <= fastest && r.past_chart);
    if let Some(r) = past {
        out.push(Finding::watch(
            "afloat",
            "speed",
            format!("from {:.0} knots on she is past the chart of porpoising: expect it", r.speed),
            "a smaller motor, or weight moved forward; test with care and alone",
        ));
    }
    let near = s.rows.iter().filter(|r| r.speed <= fastest + 1.0).find_map(|r| {
        let (trim, limit) = (r.trim?, r.porpoising?);
        (trim > limit - NEAR_PORPOISING).then_some((r.speed, trim, limit))
    });
    if let Some((kn, trim, limit)) = near {
        out.push(Finding::watch(
            "afloat",
            "speed",
            format!(
                "at {kn:.0} knots she runs at {trim:.1}°; above about {limit:.1}° she may porpoise"
            ),
            "slow down or move weight forward when she begins to leap; test with care and alone",
        ));
    }
}
