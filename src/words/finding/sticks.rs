//! Will the lumber bend?

use super::{Sentences, both};
use crate::bend::{Governs, Rung};
use crate::finding::StickFact;
use crate::units::Units;
use crate::words;
use crate::words::bend::{doubt, how, method, remedy};

pub(super) fn said(fact: &StickFact, units: Units) -> Sentences {
    match fact {
        StickFact::NoWoodSoStiff(e) => both(
            format!("it makes the wood's stiffness {}, and no wood has that", units.stress(*e)),
            "measure span, section, weight and sag once more; without a test the handbook's figure is used",
        ),
        StickFact::NotDry { strain, governs, stock, breaking, too_stiff, way } => both(
            match too_stiff {
                Some(dry) => format!("bent dry: {}", how(&dry.how, units).trim_end_matches('.')),
                None => format!(
                    "it is bent to {:.2} % at its worst, mostly by {}; half of such sticks ({}) break at {:.2} %",
                    100.0 * strain,
                    words::bend::governs(*governs),
                    words::bend::stock(*stock),
                    100.0 * breaking
                ),
            },
            instead(way.as_deref(), *governs, units),
        ),
        StickFact::Test(what) => both(doubt(*what), "test again"),
        StickFact::NoSuchLine(line) => both(
            format!("this hull has no {line}: it is neither drawn nor weighed"),
            "leave the member out, or name another line",
        ),
        StickFact::UnknownWood(species) => both(
            format!(
                "the species {species:?} is not in the wood table: it is weighed as other lumber, and neither its bend nor its notches are worked out"
            ),
            "name a species of the table or add a row to the document's `woods`",
        ),
    }
}

/// The way that holds, or what to change in the stick.
fn instead(way: Option<&Rung>, governs: Governs, units: Units) -> String {
    match way {
        Some(best) => format!("{}: {}", method(best.method), how(&best.how, units)),
        None => {
            format!("no way of bending holds: give it {}, or ease the line there", remedy(governs))
        }
    }
}
