//! What the document puts aboard.

use super::{Sentences, both};
use crate::finding::AboardFact;
use crate::geom::P3;
use crate::units::Units;

pub(super) fn said(fact: &AboardFact, units: Units) -> Sentences {
    match fact {
        AboardFact::OutsideTheBoat(at) => both(
            format!("at {} it lies outside the boat", coordinates(*at, units)),
            "look at its place: her trim, list and stability are figured with it there",
        ),
        AboardFact::Nobody => both(
            "nobody is among them: `builder alone` and `full crew` are the boat with what is carried",
            "add a load of kind `Person`",
        ),
        AboardFact::WeighedOddly { weighed, computed } => both(
            format!(
                "it weighs {} on the scales; {} were computed",
                units.mass(*weighed),
                units.mass(*computed)
            ),
            "look at the unit and at what hung on the scales: trim, stability and speed are worked with it",
        ),
        AboardFact::LoadTwice { same: true } => both(
            "two loads have this name, weight and place: one is counted twice",
            "take one of the two out",
        ),
        AboardFact::LoadTwice { same: false } => {
            both("two loads have this name", "give each a name of its own")
        }
        AboardFact::FoamTwice => both(
            "two blocks have this name: a weight for one on the scales is taken for both",
            "give each a name of its own",
        ),
        AboardFact::WholeWeighed => {
            both("the whole hull was weighed, so it changes nothing", "take one of the two out")
        }
        AboardFact::NoSuchItem(items) => both(
            "the hull has no item of that name, so it changes nothing",
            format!("`hull` for all of it, or one of {}", items.join(", ")),
        ),
        AboardFact::FoamShared(litres) => both(
            format!("they lie in one place: {litres:.0} litres are counted twice"),
            "move one of them, or take it out",
        ),
        AboardFact::FoamOutside(corner) => both(
            format!("a corner of it, {}, lies outside the skin", coordinates(*corner, units)),
            "make the block smaller or move it in; only what is inside lifts her",
        ),
    }
}

fn coordinates(p: P3, units: Units) -> String {
    format!("{} aft, {} out, {} up", units.show(p.x), units.show(p.y), units.show(p.z))
}
