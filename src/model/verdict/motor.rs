//! Bones: does the transom carry its motor?

use super::Model;
use crate::finding::{Finding, Severity};
use crate::frames::motor_load::SAFETY;
use crate::part::{AtEnd, PartId, Question};

/// Stress over what is allowed from which we would not hang a motor there: half of the safety
/// is gone. Our judgement.
const TOO_MUCH: f64 = 2.0;
/// A cut-out deeper than this (mm) lets a following sea in over the seat. Our judgement; no
/// source.
const DEEP_CUT_OUT_MM: f64 = 75.0;

/// Said beside every figure of strength.
const PLATE: &str =
    "an estimate and no rule: the maker's plate, local rules and licensed practice decide";

pub(super) fn motor(model: &Model, out: &mut Vec<Finding>) {
    let Some(check) = super::super::motor::check(model) else {
        return;
    };
    let units = model.hull.units;
    let asked = model.hull.motor.power_hp;
    let mut told = false;
    if model.woodwork.knee.is_none() && model.hull.transom.knee.fitted {
        out.push(Finding::watch(
            Question::Bones,
            "transom, knee",
            "the knee asked for finds no room or no keelson, or its wood is unknown: none is drawn, weighed or counted on",
            "lengthen its arm, name a wood of the table, or have no knee fitted",
        )
        .about(PartId::Transom(AtEnd::Stern)));
    }
    if let Some(worst) = check.worst().filter(|w| w.share() > 1.0) {
        told = true;
        out.push(Finding::new(
            if worst.share() > TOO_MUCH { Severity::Stop } else { Severity::Watch },
            Question::Bones,
            "transom, motor",
            format!(
                "{} {:.1} hp push with about {}: {} sees {}, {} are allowed (a {:.0}th of what breaks it)",
                "at full power, held still",
                asked,
                units.force(check.loads.thrust),
                worst.what,
                worst.shown(units).0,
                worst.shown(units).1,
                SAFETY
            ),
            match model.woodwork.knee {
                Some(_) => format!("a thicker board or pad, a wider knee, or a smaller motor ({:.1} hp holds); {PLATE}", check.holds_up_to),
                None => format!("a knee from the keelson to the pad, or a smaller motor; {PLATE}"),
            },
        )
        .about(PartId::Transom(AtEnd::Stern)));
    }
    let marked = model.afloat.as_ref().and_then(|a| a.capacity.horsepower);
    if let Some(marked) = marked.filter(|hp| *hp > check.holds_up_to && !told) {
        out.push(Finding::watch(
            Question::Bones,
            "transom, motor",
            format!(
                "the safe-loading rule would mark her for {marked:.0} hp; as drawn her transom holds {:.1} hp",
                check.holds_up_to
            ),
            format!("hang nothing larger there, or make board, pad and knee thicker first; {PLATE}"),
        )
        .about(PartId::Transom(AtEnd::Stern)));
    }
    if check.pad_short > 0.5 {
        out.push(
            Finding::watch(
                Question::Bones,
                "transom, motor's pad",
                format!("it ends {} above the framing", units.show(check.pad_short)),
                "make the pad deeper, so that it stands on the bottom's cleat",
            )
            .about(PartId::Pad),
        );
    }
    let cut = model.woodwork.transom.as_ref().and_then(|t| t.cut_out);
    if let Some(c) = cut.filter(|c| c.depth > DEEP_CUT_OUT_MM) {
        out.push(Finding::watch(
            Question::Bones,
            "transom, motor's cut-out",
            format!(
                "it is {} deep, and neither a well nor a board inside it is drawn: a following sea or a sudden stop comes in there",
                units.show(c.depth)
            ),
            "fit a self-draining well or an inner board as high as the transom's top, or take a longer leg",
        )
        .about(PartId::Transom(AtEnd::Stern)));
    }
}
