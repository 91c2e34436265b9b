//! Will it stand true upside down?

use super::{Sentences, both, sentences};
use crate::curve::View;
use crate::finding::JigFact;
use crate::part::LineId;
use crate::units::Units;

pub(super) fn said(fact: &JigFact, units: Units) -> Sentences {
    match fact {
        JigFact::CloseFrames { apart, needed } => both(
            format!(
                "they stand {} apart: wood, spall and leg of one take {}",
                units.fine(*apart),
                units.fine(*needed)
            ),
            "set the second one up from the first by blocks between them, or move a station",
        ),
        JigFact::NoFrames => both("there is no frame to stand on it", NO_STRONGBACK),
        JigFact::LevelCrossesNone => {
            both("the level line crosses no frame, so none can be stood on it", NO_STRONGBACK)
        }
        JigFact::LevelMisses { level, lower } => both(
            format!("the level line, {} above the baseline, does not cross it", units.show(*level)),
            format!(
                "stand it by its corners' heights, or put the level line {}",
                if *lower { "lower" } else { "higher" }
            ),
        ),
        JigFact::LowSpall(by) => both(
            format!("its cross-spall hangs {} below its bottom", units.show(*by)),
            "put the level line higher, or take a narrower spall",
        ),
        JigFact::NoRungs(between) => both(
            format!("its rails leave {} between them, too little for rungs", units.show(*between)),
            "take thinner rails, or let the frames be wider at the level line",
        ),
        JigFact::OneLeg => both(
            "it is too narrow for two legs: one stands in the middle",
            "plumb it and brace it both ways",
        ),
        JigFact::NarrowRails(apart) => both(
            format!("its rails are only {} apart", units.show(*apart)),
            "bolt its feet to the floor or brace them to a wall",
        ),
        JigFact::LowHead { end, above, left } => both(
            format!(
                "its {} comes {} above the rails: the notch leaves {} of its crosspiece",
                end.head_word(),
                units.show(*above),
                units.show(*left)
            ),
            "give the strongback more room under the sheer",
        ),
        JigFact::NoPost => both(
            "it lies so flat that no post can lean against it",
            "hold it by its corners' heights with struts of your own",
        ),
        JigFact::WorkingHeight(above) => both(
            format!("upside down her bottom is {} above the floor", units.show(*above)),
            "change the height of the rails' top until you can reach across her",
        ),
        JigFact::ShowsSoonest { line, view, allowed } => both(
            format!(
                "it may be out {} by {} before the {line} shows it; no other place of hers shows so much",
                match view {
                    View::Plan => "sideways",
                    View::Profile => "up or down",
                },
                units.fine(*allowed)
            ),
            "sight along the batten there before fastening, and trust the eye over the tape",
        ),
        JigFact::StandsOut { view, by, allowed } => both(
            format!(
                "it stands {} {}; more than {} shows",
                units.fine(by.abs()),
                match (view, *by > 0.0) {
                    (View::Plan, true) => "too far out",
                    (View::Plan, false) => "too far in",
                    (View::Profile, true) => "too high (too near the floor)",
                    (View::Profile, false) => "too low (too far from the floor)",
                },
                units.fine(*allowed)
            ),
            "shim or plane it fair, or plank her as she stands with the patterns as built",
        ),
        JigFact::AsBuilt(fact) => sentences(fact, units),
        JigFact::NoBoatSo(fault) => both(
            format!("no boat has the measured lines: {fault}"),
            "measure again, from the floor and from the centreline string",
        ),
        JigFact::NothingToMeasureFrom => {
            both("there is no strongback to measure from", "see the level line")
        }
        JigFact::NoFrameAt { station, stations } => {
            let known: Vec<String> = stations.iter().map(usize::to_string).collect();
            both(
                format!("no frame stands on station {station}"),
                format!("stations {}", known.join(", ")),
            )
        }
        JigFact::NoCorner { station, line, lines } => {
            let known: Vec<String> = lines.iter().map(LineId::to_string).collect();
            both(
                format!("frame {station} has no corner on a {line:?} of its own"),
                format!("its corners lie on: {}", known.join(", ")),
            )
        }
        JigFact::Slip { by, half_breadth, above_floor } => both(
            format!("it is {by:.0} mm off the drawing, more than any frame stands out"),
            format!(
                "half-breadth near {half_breadth:.0} mm, height above the floor near {above_floor:.0} mm"
            ),
        ),
        JigFact::MeasuredBefore { station, line } => both(
            format!("frame {station}'s {line} was measured before"),
            "one figure for each: take the wrong row away",
        ),
    }
}

/// What to do where no frame can be stood up.
const NO_STRONGBACK: &str =
    "set stations inside the hull, and the strongback's level line between chines and sheer";
