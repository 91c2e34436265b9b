//! Transoms, stems, and a motor on a transom.

use super::place::end as end_word;
use super::{Sentences, both};
use crate::finding::{HungFact, StemFact, TransomFact};
use crate::frames::motor_load::{Check, SAFETY, Seen, Where};
use crate::part::AtEnd;
use crate::units::Units;

pub(super) fn transom(fact: &TransomFact, units: Units) -> Sentences {
    match fact {
        TransomFact::NotClosed(end) => not_closed(*end, end.transom()),
        TransomFact::TooLow { by, shaft } => both(
            format!(
                "it is {} too low for a {} motor: the plate would lie below the bottom by as much",
                units.show(*by),
                shaft.word()
            ),
            "build the transom up by that, raise the sheer aft, or take a shorter leg",
        ),
        TransomFact::HighEnough { shaft, depth, longer } => both(
            format!(
                "a {} motor needs a cut-out {} deep; she is high enough for {}",
                shaft.word(),
                units.show(*depth),
                longer.word()
            ),
            "a longer leg leaves more transom between you and a following sea",
        ),
        TransomFact::WideCutOut { width, beside } => both(
            format!(
                "a cut-out {} wide leaves less than {} of wood on either side",
                units.show(*width),
                units.show(*beside)
            ),
            "make the cut-out narrower",
        ),
        TransomFact::Rake(rake) => both(
            format!("its rake is {:.0}°", rake.to_degrees()),
            "most small outboards trim to a rake of 4 to 20° (common practice, no source); wedge the pad to suit yours",
        ),
        TransomFact::FramingBoard(width) => both(
            format!("it needs a board {} wide", units.show(*width)),
            "glue it up of two boards, or ask for less width of the transom's framing",
        ),
    }
}

/// That nothing closes an end, what was to close it being called so.
fn not_closed(end: AtEnd, what: &str) -> Sentences {
    both(
        format!(
            "the lines come together at the {}, so that no {what} is left to close her",
            end_word(end)
        ),
        "move the ends of the lines apart: the sheer's up, the chine's and keel's down",
    )
}

pub(super) fn stem(fact: &StemFact, units: Units) -> Sentences {
    match fact {
        StemFact::NotClosed(end) => not_closed(*end, end.stem()),
        StemFact::DeepBevel { half_angle, back, moulded, enough } => both(
            format!(
                "the planking leaves it at a half angle of {:.0}°, so its bevel runs {}{} back; it is {} deep",
                half_angle.to_degrees(),
                units.show(*back),
                if enough.is_some() { "" } else { " or more" },
                units.show(*moulded)
            ),
            match enough {
                Some(depth) => {
                    format!("make it at least {} moulded, or less sided", units.show(*depth))
                }
                None => {
                    "pull the lines apart at that end, so that the sides leave it at a greater angle"
                        .into()
                }
            },
        ),
        StemFact::StemBoard { moulded, width } => both(
            format!(
                "it is {} deep and needs a board {} wide; none of yours is",
                units.show(*moulded),
                units.show(*width)
            ),
            "glue it up of layers, ask for less moulded depth, or add a width to the boards that you can get",
        ),
        StemFact::TwoParts { width, lap } => both(
            format!("its blank needs a board {} wide", units.show(*width)),
            format!("make it of two parts lapped {}", units.show(*lap)),
        ),
        StemFact::FeatherEdge(half_angle) => both(
            format!(
                "its sides are mitred at {:.0}° from square, a feather edge",
                90.0 - half_angle.to_degrees()
            ),
            "plane them in place, or let them run past and cover them with an outer stem",
        ),
        StemFact::LandsBeside { end, share, short } => both(
            format!(
                "only {:.0} in 100 of its end lands on the {}, {} {} the end of its line",
                100.0 * share,
                end.stem(),
                units.show(short.abs()),
                if *short >= 0.0 { "short of" } else { "past" }
            ),
            format!(
                "make the {} deeper (moulded), or put a block behind it for the end",
                end.stem()
            ),
        ),
        StemFact::BareGrain { end, edges, sided } => both(
            format!(
                "the edges of both sides are {} wide together on the {}'s line; it is {} sided and leaves end grain bare",
                units.fine(*edges),
                end.stem(),
                units.fine(*sided)
            ),
            format!("make the outer stem's sided width at least {}", units.fine(edges.ceil())),
        ),
        StemFact::LittleBearing { end, left, needed } => both(
            format!(
                "planed to the outer {}'s flat it leaves the sides {} to bear on",
                end.stem(),
                units.fine(*left)
            ),
            format!(
                "a fastening needs {}: take a narrower outer {} or a greater sided width of the inner one",
                units.fine(*needed),
                end.stem()
            ),
        ),
        StemFact::OuterBoard(width) => both(
            format!("its blank needs a board {} wide", units.show(*width)),
            "glue it up of layers bent round the flat, or scarf it of two parts",
        ),
    }
}

/// Said beside every figure of strength.
const PLATE: &str =
    "an estimate and no rule: the maker's plate, local rules and licensed practice decide";

pub(super) fn hung(fact: &HungFact, units: Units) -> Sentences {
    match fact {
        HungFact::NoKnee => both(
            "the knee asked for finds no room or no keelson, or its wood is unknown: none is drawn, weighed or counted on",
            "lengthen its arm, name a wood of the table, or have no knee fitted",
        ),
        HungFact::Overstressed { power, thrust, check, knee, holds } => {
            let [sees, allowed] = seen(check, units);
            both(
                format!(
                    "at full power, held still {power:.1} hp push with about {}: {} sees {sees}, {allowed} are allowed (a {SAFETY:.0}th of what breaks it)",
                    units.force(*thrust),
                    checked(check.place)
                ),
                match knee {
                    true => format!(
                        "a thicker board or pad, a wider knee, or a smaller motor ({holds:.1} hp holds); {PLATE}"
                    ),
                    false => {
                        format!("a knee from the keelson to the pad, or a smaller motor; {PLATE}")
                    }
                },
            )
        }
        HungFact::MarkedBeyond { marked, holds } => both(
            format!(
                "the safe-loading rule would mark her for {marked:.0} hp; as drawn her transom holds {holds:.1} hp"
            ),
            format!(
                "hang nothing larger there, or make board, pad and knee thicker first; {PLATE}"
            ),
        ),
        HungFact::ShortPad(by) => both(
            format!("it ends {} above the framing", units.show(*by)),
            "make the pad deeper, so that it stands on the bottom's cleat",
        ),
        HungFact::DeepCutOut(depth) => both(
            format!(
                "it is {} deep, and neither a well nor a board inside it is drawn: a following sea or a sudden stop comes in there",
                units.show(*depth)
            ),
            "fit a self-draining well or an inner board as high as the transom's top, or take a longer leg",
        ),
    }
}

/// A section that is checked, and under what.
pub fn checked(place: Where) -> &'static str {
    match place {
        Where::AtKnee => "board and pad between clamps and knee",
        Where::KneeAtFoot => "knee behind the bracket's foot",
        Where::KneeAtHeel => "knee at its heel",
        Where::UpperBolt => "each upper bolt of the knee",
        Where::SideToSide => "board and pad from side to side, no knee behind them",
        Where::BesidePad => "bare board beside the pad, no knee behind it",
    }
}

/// What a section sees and what is allowed.
pub fn seen(check: &Check, units: Units) -> [String; 2] {
    [check.stress, check.allowed].map(|v| match check.of {
        Seen::Stress => units.stress(v),
        Seen::Pull => units.force(v),
    })
}
