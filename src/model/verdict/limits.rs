//! Afloat, by the public rules: full of water, and what is aboard against what may be.

use super::Model;
use super::afloat::{LOCAL, of_own_crew, persons};
use crate::finding::Finding;
use crate::geom::P3;
use crate::hull::LoadKind;
use crate::model::afloat::{Afloat, Case};
use crate::part::{CaseId, Question};
use crate::units::{KG_PER_POUND, Units, half_degrees};

/// Swamped she is to lie within 10° of level. Source: 33 CFR 183.235.
const SWAMPED_HEEL: f64 = 10.0 * std::f64::consts::PI / 180.0;
/// With half the persons' share at one side she may heel by 30° (33 CFR part 183 subpart G, from
/// memory).
const ASIDE_HEEL: f64 = 30.0 * std::f64::consts::PI / 180.0;
/// Swamped, one end's gunwale is to stand out of the water and the other's to be no deeper than
/// this (mm): 6 in. Source: 33 CFR 183.235.
const END_UNDER_MM: f64 = 152.4;
/// The safe-loading and flotation rules are for monohulls under 20 ft (6.1 m). Source: 33
/// CFR 183.21 and following.
const RULE_FEET: f64 = 20.0;
/// Foam (litres) and weights (lb) that are no difference.
const NO_LITRES: f64 = 0.5;
const NO_POUNDS: f64 = 0.5;

/// All of it.
pub(super) fn limits(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    outside_her(model, a, out);
    swamped(model, a, out);
    loading(model, a, out);
    motor(model, a, out);
}

/// Loads that no part of her can carry: ahead of the bow, abaft the stern, beside her.
fn outside_her(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let (fore, aft) = model.lines.extent(|p| p.x);
    let half = 0.5 * model.lines.beam_overall();
    // A motor hangs abaft her.
    for l in a.loads.iter().filter(|l| l.kind != LoadKind::Motor) {
        let off = [
            (fore - l.x, "ahead of her bow"),
            (l.x - aft, "abaft her stern"),
            (l.y.abs() - half, "outside her side"),
        ];
        for (by, place) in off.into_iter().filter(|(by, _)| *by > 0.0) {
            out.push(
                Finding::watch(
                    Question::Afloat,
                    l.name.clone(),
                    format!(
                        "it is put {} {place}, where nothing of her carries it",
                        units.show(by)
                    ),
                    "put it where it lies",
                )
                .at(P3::new(l.x, l.y, l.z)),
            );
        }
    }
}

fn swamped(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let (needed, built) = (a.foam_needed.0, a.foam(&model.hull));
    let hung = a.loads.iter().any(|l| l.kind == LoadKind::Motor);
    let motor = if hung { ", the motor's share beside it aft" } else { "" };
    if a.foam_under + NO_LITRES < needed {
        let lifts = match built - a.foam_under > NO_LITRES {
            true => format!(
                "of the {} built in {} lie there",
                units.volume(built),
                units.volume(a.foam_under)
            ),
            false => format!("{} are built in", units.volume(built)),
        };
        out.push(Finding::watch(
            Question::Afloat,
            CaseId::Swamped.name(),
            format!(
                "the flotation rule's arithmetic asks for {} of foam under the water that stands in her then; {lifts}",
                units.volume(needed)
            ),
            format!("put it along the sides, under her lowest opening, so that she floats level{motor}; {LOCAL}"),
        ));
    }
    // Without foam where foam is asked for, there is nothing more to say.
    if built <= 0.0 && needed >= NO_LITRES {
        return;
    }
    let limits = [(CaseId::Swamped, SWAMPED_HEEL), (CaseId::SwampedAside, ASIDE_HEEL)];
    for (c, limit) in limits.iter().filter_map(|(id, limit)| Some((a.case(*id)?, limit))) {
        let higher = "put the foam higher and further out on both sides";
        match c.floating {
            Some(_) if c.lolls() => {
                let what = "full of water she does not stay upright";
                out.push(Finding::watch(Question::Afloat, c.name(), what, higher));
                return;
            }
            Some(f) if f.heel.abs() > *limit => out.push(Finding::watch(
                Question::Afloat,
                c.name(),
                format!(
                    "full of water she lies over by {}, and {} is what the flotation rule allows",
                    half_degrees(f.heel.abs()),
                    half_degrees(*limit)
                ),
                format!("{higher}; {LOCAL}"),
            )),
            None => {
                let mass = units.mass(c.weight.mass);
                out.push(Finding::watch(
                    Question::Afloat,
                    c.name(),
                    format!("full of water, with {mass}, she {}", c.fate()),
                    if c.sinks { "more foam" } else { higher },
                ));
                return;
            }
            _ => {}
        }
    }
    if let Some(c) = a.case(CaseId::Swamped) {
        ends(a, c, units, out);
    }
}

/// How her ends lie full of water, and whether she can be bailed.
fn ends(a: &Afloat, c: &Case, units: Units, out: &mut Vec<Finding>) {
    let (Some(f), Some([bow, _, stern])) = (c.floating, c.along(&a.openings)) else {
        return;
    };
    let (low, end) = if bow < stern { (bow, "bow") } else { (stern, "stern") };
    if low.max(bow).max(stern) <= 0.0 {
        out.push(Finding::watch(
            Question::Afloat,
            CaseId::Swamped.name(),
            "full of water both her ends are under: no part of her stays above water to hold on to",
            format!("more foam, along the sides; {LOCAL}"),
        ));
    } else if low < -END_UNDER_MM {
        out.push(Finding::watch(
            Question::Afloat,
            CaseId::Swamped.name(),
            format!(
                "full of water she lies {}, her {end}'s gunwale {} under; {} is what the flotation rule allows",
                f.trim_told(),
                units.show(-low),
                units.show(END_UNDER_MM)
            ),
            format!("move foam towards the {end}; {LOCAL}"),
        ));
    } else if let Some((least, at)) = c.freeboard.filter(|b| b.0 <= 0.0) {
        let place = if at.cut_out { "the motor's cut-out" } else { "her sheer" };
        out.push(Finding::note(
            Question::Afloat,
            CaseId::Swamped.name(),
            format!(
                "full of water she lies {} with {place} {} under: what is bailed out comes in again there",
                f.trim_told(),
                units.show(-least)
            ),
            "more foam lifts it clear; else stay with her and hold on",
        )
        .at(at.at));
    }
}

/// The safe-loading rule against what is aboard.
fn loading(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let c = &a.capacity;
    let feet = model.lines.length_overall() / 304.8;
    if feet >= RULE_FEET {
        out.push(Finding::watch(
            Question::Afloat,
            "safe loading",
            format!(
                "she is {} long; the safe-loading rule is for boats under {}",
                units.show(model.lines.length_overall()),
                units.show(RULE_FEET * 304.8)
            ),
            "take its figures for nothing more than a comparison, and ask a surveyor",
        ));
    }
    let (whole, pounds) = c.allowed();
    let beside = match (c.own, c.horsepower) {
        (Some(own), _) => format!(" with a motor of {} hp", own.horsepower),
        (None, Some(hp)) => format!(" with the {hp} hp that she would be marked for"),
        (None, None) => String::new(),
    };
    if a.as_marked.as_ref().is_some_and(Case::floods) {
        out.push(Finding::watch(
            Question::Afloat,
            "safe loading",
            format!(
                "the safe-loading rule would let her carry {whole} persons{beside}; with that weight all on one side she floods or capsizes"
            ),
            format!("take fewer than the rule says, seated low and apart; {LOCAL}"),
        ));
    }
    let aboard: f64 = a.loads.iter().map(|l| l.mass_kg).sum();
    if aboard / KG_PER_POUND > c.weight + NO_POUNDS {
        out.push(Finding::new(
            of_own_crew(model),
            Question::Afloat,
            "safe loading",
            format!(
                "{} are aboard; the safe-loading rule would mark her for {}",
                units.mass(aboard),
                units.mass(c.weight * KG_PER_POUND)
            ),
            format!("carry less; {LOCAL}"),
        ));
    }
    if persons(a) / KG_PER_POUND > pounds + NO_POUNDS {
        out.push(Finding::new(
            of_own_crew(model),
            Question::Afloat,
            "safe loading",
            format!(
                "persons of {} are aboard; the safe-loading rule would let her carry at most {whole}, weighing {} between them{beside}",
                units.mass(persons(a)),
                units.mass(pounds * KG_PER_POUND)
            ),
            format!("fewer people; {LOCAL}"),
        ));
    }
}

/// The motor against the loads and the rule.
fn motor(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let motor = &model.hull.motor;
    let own = !model.hull.afloat.loads.is_empty();
    let hung = a.loads.iter().any(|l| l.kind == LoadKind::Motor);
    if motor.fitted && model.woodwork.transom.is_none() {
        out.push(Finding::note(
            Question::Afloat,
            "motor",
            "there is no transom to hang it on: she is taken as rowed",
            "take the motor off, or give her a transom",
        ));
    } else if own && motor.fitted != hung {
        let (message, hint) = if hung {
            ("a motor is among the loads, and none is fitted", "say that a motor is fitted")
        } else {
            ("a motor is fitted, and none is among the loads", "add the motor to what is aboard")
        };
        out.push(Finding::watch(Question::Afloat, "motor", message, hint));
    }
    let most = a.capacity.horsepower.filter(|hp| motor.fitted && motor.power_hp > *hp);
    if let Some(most) = most {
        out.push(Finding::watch(
            Question::Afloat,
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
