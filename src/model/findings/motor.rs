//! Bones: does the transom carry its motor?

use super::Model;
use crate::finding::{Finding, HungFact, Place, Severity};
use crate::part::{AtEnd, PartId};

/// Stress over what is allowed from which we would not hang a motor there: half of the safety
/// is gone. Our judgement.
const TOO_MUCH: f64 = 2.0;
/// A cut-out deeper than this (mm) lets a following sea in over the seat. Our judgement; no
/// source.
const DEEP_CUT_OUT_MM: f64 = 75.0;

pub(super) fn motor(model: &Model, out: &mut Vec<Finding>) {
    let Some(check) = super::super::motor::check(model) else {
        return;
    };
    let transom = PartId::Transom(AtEnd::Stern);
    if model.woodwork.knee.is_none() && model.hull.transom.knee.fitted {
        out.push(Finding::watch(Place::Knee, HungFact::NoKnee).about(transom));
    }
    let holds = check.holds_up_to;
    let worst = check.worst().filter(|w| w.share() > 1.0);
    if let Some(worst) = worst {
        let severity = if worst.share() > TOO_MUCH { Severity::Stop } else { Severity::Watch };
        let over = HungFact::Overstressed {
            power: model.hull.motor.power_hp,
            thrust: check.loads.thrust,
            check: *worst,
            knee: model.woodwork.knee.is_some(),
            holds,
        };
        out.push(Finding::new(severity, Place::Hung, over).about(transom));
    }
    let marked = model.afloat.as_ref().and_then(|a| a.capacity.horsepower);
    if let Some(marked) = marked.filter(|hp| *hp > holds && worst.is_none()) {
        let beyond = HungFact::MarkedBeyond { marked, holds };
        out.push(Finding::watch(Place::Hung, beyond).about(transom));
    }
    if check.pad_short > 0.5 {
        let short = HungFact::ShortPad(check.pad_short);
        out.push(Finding::watch(Place::Pad, short).about(PartId::Pad));
    }
    let cut = model.woodwork.transom.as_ref().and_then(|t| t.cut_out);
    if let Some(c) = cut.filter(|c| c.depth > DEEP_CUT_OUT_MM) {
        let deep = HungFact::DeepCutOut(c.depth);
        out.push(Finding::watch(Place::CutOut, deep).about(transom));
    }
}
