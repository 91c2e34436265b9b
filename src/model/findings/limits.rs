//! Afloat, by the public rules: full of water, and what is aboard against what may be.

use super::Model;
use super::afloat::{of_own_crew, persons};
use crate::finding::{Beside, Finding, OutOfHer, Place, RuleFact};
use crate::geom::P3;
use crate::hull::LoadKind;
use crate::model::afloat::{Afloat, Case};
use crate::part::{AtEnd, CaseId};
use crate::units::{KG_PER_POUND, MM_PER_FOOT};

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
    let (fore, aft) = model.lines.extent(|p| p.x);
    let half = 0.5 * model.lines.beam_overall();
    // A motor hangs abaft her.
    for l in a.loads.iter().filter(|l| l.kind != LoadKind::Motor) {
        let off = [
            (fore - l.x, OutOfHer::Ahead),
            (l.x - aft, OutOfHer::Abaft),
            (l.y.abs() - half, OutOfHer::Beside),
        ];
        for (by, side) in off.into_iter().filter(|(by, _)| *by > 0.0) {
            let found =
                Finding::watch(Place::Item(l.name.clone()), RuleFact::PutOutside { by, side });
            out.push(found.at(P3::new(l.x, l.y, l.z)));
        }
    }
}

fn swamped(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let (needed, built) = (a.foam_needed.0, a.foam(&model.hull));
    if a.foam_under + NO_LITRES < needed {
        let foam = RuleFact::Foam {
            needed,
            built,
            under: (built - a.foam_under > NO_LITRES).then_some(a.foam_under),
            motor: a.loads.iter().any(|l| l.kind == LoadKind::Motor),
        };
        out.push(Finding::watch(Place::Case(CaseId::Swamped), foam));
    }
    // Without foam where foam is asked for, there is nothing more to say.
    if built <= 0.0 && needed >= NO_LITRES {
        return;
    }
    let limits = [(CaseId::Swamped, SWAMPED_HEEL), (CaseId::SwampedAside, ASIDE_HEEL)];
    for (id, allowed) in limits {
        let Some(c) = a.case(id) else {
            continue;
        };
        let lost = match c.floating {
            Some(_) if c.lolls() => RuleFact::SwampedLolls,
            None => RuleFact::SwampedLost { mass: c.weight.mass, sinks: c.sinks },
            Some(f) => {
                if f.heel.abs() > allowed {
                    let heels = RuleFact::SwampedHeels { heel: f.heel, allowed };
                    out.push(Finding::watch(Place::Case(id), heels));
                }
                continue;
            }
        };
        out.push(Finding::watch(Place::Case(id), lost));
        return;
    }
    if let Some(c) = a.case(CaseId::Swamped) {
        ends(a, c, out);
    }
}

/// How her ends lie full of water, and whether she can be bailed.
fn ends(a: &Afloat, c: &Case, out: &mut Vec<Finding>) {
    let (Some(f), Some([bow, _, stern])) = (c.floating, c.along(&a.openings)) else {
        return;
    };
    let place = Place::Case(CaseId::Swamped);
    let (low, end) = if bow < stern { (bow, AtEnd::Bow) } else { (stern, AtEnd::Stern) };
    let trim = f.trim;
    if low.max(bow).max(stern) <= 0.0 {
        out.push(Finding::watch(place, RuleFact::BothEndsUnder));
    } else if low < -END_UNDER_MM {
        let under = RuleFact::EndUnder { trim, end, under: -low, allowed: END_UNDER_MM };
        out.push(Finding::watch(place, under));
    } else if let Some((least, at)) = c.freeboard.filter(|b| b.0 <= 0.0) {
        let wet = RuleFact::NotBailed { trim, cut_out: at.cut_out, under: -least };
        out.push(Finding::note(place, wet).at(at.at));
    }
}

/// The safe-loading rule against what is aboard.
fn loading(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let c = &a.capacity;
    let length = model.lines.length_overall();
    if length / MM_PER_FOOT >= RULE_FEET {
        let long = RuleFact::TooLong { length, under: RULE_FEET * MM_PER_FOOT };
        out.push(Finding::watch(Place::SafeLoading, long));
    }
    let (persons_allowed, pounds) = c.allowed();
    let beside = match (c.own, c.horsepower) {
        (Some(own), _) => Beside::Own(own.horsepower),
        (None, Some(hp)) => Beside::Marked(hp),
        (None, None) => Beside::None,
    };
    if a.as_marked.as_ref().is_some_and(Case::floods) {
        let floods = RuleFact::MarkedFloods { persons: persons_allowed, beside };
        out.push(Finding::watch(Place::SafeLoading, floods));
    }
    let aboard: f64 = a.loads.iter().map(|l| l.mass_kg).sum();
    if aboard / KG_PER_POUND > c.weight + NO_POUNDS {
        let over = RuleFact::Overloaded { mass: aboard, allowed: c.weight * KG_PER_POUND };
        out.push(Finding::new(of_own_crew(model), Place::SafeLoading, over));
    }
    if persons(a) / KG_PER_POUND > pounds + NO_POUNDS {
        let crowd = RuleFact::Overcrowded {
            mass: persons(a),
            persons: persons_allowed,
            allowed: pounds * KG_PER_POUND,
            beside,
        };
        out.push(Finding::new(of_own_crew(model), Place::SafeLoading, crowd));
    }
}

/// The motor against the loads and the rule.
fn motor(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let motor = &model.hull.motor;
    let own = !model.hull.afloat.loads.is_empty();
    let hung = a.loads.iter().any(|l| l.kind == LoadKind::Motor);
    if motor.fitted && model.woodwork.transom.is_none() {
        out.push(Finding::note(Place::Motor, RuleFact::NoTransom));
    } else if own && motor.fitted != hung {
        let fact = if hung { RuleFact::NoneFitted } else { RuleFact::NoneAboard };
        out.push(Finding::watch(Place::Motor, fact));
    }
    let most = a.capacity.horsepower.filter(|hp| motor.fitted && motor.power_hp > *hp);
    if let Some(marked) = most {
        let power = motor.power_hp;
        out.push(Finding::watch(Place::Motor, RuleFact::TooPowerful { power, marked }));
    }
}
