//! Frames, the skin that they hold, and water that lies in her.

use super::{Sentences, both};
use crate::finding::{BayFact, DrainFact, FrameFact, NotchFact};
use crate::frames::Bay;
use crate::units::Units;
use crate::words::attitude::rain_stays;

pub(super) fn said(fact: &FrameFact, units: Units) -> Sentences {
    match fact {
        FrameFact::InStem { end, low, high } => both(
            format!(
                "it stands in the wood of the {}, from {} up to {}",
                end.stem(),
                units.show(*low),
                units.show(*high)
            ),
            "move its station clear of it, leave the frame out, or notch it over by hand: no notch is drawn",
        ),
        FrameFact::NoHull(at) => both(
            format!("{} aft no frame stands: the hull is not there", units.show(*at)),
            "move the station or leave it out",
        ),
        FrameFact::NoSuchStation(stations) => {
            both(format!("there are {stations} stations"), "name a station that there is")
        }
        FrameFact::NoRoomForBoth { apart, sided } => both(
            format!(
                "they stand {} apart and are {} thick: there is no room for both",
                units.fine(*apart),
                units.fine(*sided)
            ),
            "move one of the stations, or leave it out",
        ),
        FrameFact::UnknownWood(species) => both(
            format!("the species {species:?} is not in the wood table"),
            "name a species of the table or add a row to the document's `woods`",
        ),
        FrameFact::BattensLeftOut { unknown_wood } => battens(unknown_wood.as_deref()),
        FrameFact::Board(width) => both(
            format!("it needs a board {} wide; none of yours is", units.show(*width)),
            "glue two edge to edge, add a width to the boards that you can get, or ask for less depth",
        ),
        FrameFact::RunsOut => both(
            "its wood runs out of the boat or into the stem or transom",
            "move the station away from the end by more than the frame is thick",
        ),
        FrameFact::NoWood => both("so near the end there is no wood for it", LEAVE_OUT),
        FrameFact::Unjoined => both("nothing joins its two sides at the bottom", LEAVE_OUT),
        FrameFact::PushesOut(by) => both(
            format!("its straight edge would push the sheet out by {}", units.fine(*by)),
            "shape this frame's edge, or plane its middle hollow",
        ),
        FrameFact::LeavesGap(by) => both(
            format!("its straight edge leaves a gap of {} behind the sheet", units.fine(*by)),
            "bed it in thickened glue or shape the edge",
        ),
        FrameFact::SteepBevel(angle) => both(
            format!("its edge is bevelled by {:.0}°", angle.to_degrees().abs()),
            "move the frame away from the end, or leave it out there: the stem does its work",
        ),
    }
}

/// What to do with a frame that does not hold together.
const LEAVE_OUT: &str = "leave this frame out, or move the station towards the middle";
/// What to do with a piece that a notch leaves too little of.
const DEEPER: &str = "make the piece deeper or the member's moulded depth less";

fn battens(unknown_wood: Option<&str>) -> Sentences {
    let (why, hint) = match unknown_wood {
        Some(species) => (
            format!("the species {species:?} is not in the wood table"),
            "name a wood of the table, or add a row for it to the document's `woods`",
        ),
        None => (
            "they find no room between keelson and chine log on two frames or more".into(),
            "fewer or narrower battens further apart, or more stations; a bottom too narrow for them needs none",
        ),
    };
    both(
        format!("the battens asked for are left out, of the drawings and of the weights: {why}"),
        hint,
    )
}

/// What is the matter with a notch, or with the stick in it.
pub(super) fn notch(fact: &NotchFact, units: Units) -> Sentences {
    match fact {
        NotchFact::CutThrough => both("a notch cuts it right through", DEEPER),
        NotchFact::Crumb(mm2) => both(
            format!("a notch runs into its joint: {mm2:.0} mm² of it fall off"),
            "fill it, or move the frame aft where there is more wood",
        ),
        NotchFact::Leaves { left, of } => both(
            format!("a notch leaves {} of its {} of wood", units.show(*left), units.show(*of)),
            DEEPER,
        ),
        NotchFact::LetDown { line, wanted, sided, enough } => both(
            format!(
                "the {line} opens so far there that the stick would have to be let down {} of its {}",
                units.show(*wanted),
                units.show(*sided)
            ),
            format!(
                "make it {} sided, or less moulded; as it is a gap stays under its inner edge",
                units.show(*enough)
            ),
        ),
        NotchFact::NarrowBottom { width, stick, sided } => both(
            format!(
                "the bottom is only {} wide there, the {stick} {}",
                units.show(*width),
                units.show(*sided)
            ),
            "taper its end to the bottom, and notch that frame to the taper",
        ),
        NotchFact::PlanedAway { rise, enough } => both(
            format!(
                "the bottom rises {} over half its width, so planing it to the V takes its edges away",
                units.show(*rise)
            ),
            format!(
                "make it at least {} moulded, or narrower, or end it aft of this frame",
                units.show(*enough)
            ),
        ),
        NotchFact::SticksMeet => both(
            "there both sides' sticks meet over the centreline",
            "taper their ends towards the stem, or leave this frame out",
        ),
    }
}

pub(super) fn bay(fact: &BayFact, units: Units) -> Sentences {
    match fact {
        BayFact::Sags { bay, others } => {
            let more = match others {
                0 => String::new(),
                1 => "; one more bay is as bad".into(),
                n => format!("; {n} more bays are as bad"),
            };
            both(
                sags(bay, units) + &more,
                format!("{}; this is advice, not a rule of strength", advice(bay, units)),
            )
        }
        BayFact::SnapsAt { most, pressure } => both(
            format!(
                "curved towards the water it stands in compression and would snap through at {}; {} are looked for",
                units.pressure(*most),
                units.pressure(*pressure)
            ),
            "closer frames, battens or a thicker sheet: a thin curved panel gives way with a bang, at half the figure if its curve is not true",
        ),
    }
}

/// How far it is pressed in, and by what.
fn sags(b: &Bay, units: Units) -> String {
    // The formula is for sags that are small beside the span.
    let about = if b.sag > b.span {
        "more than its own span".to_string()
    } else {
        format!("about {}", units.fine(b.sag))
    };
    let mut text = format!(
        "unsupported over {} it would sag {} under {} (pressed down to her sheer); {} is felt underfoot",
        units.show(b.span),
        about,
        units.pressure(b.pressure),
        units.fine(b.allowed)
    );
    if let Some(s) = b.slam.filter(|s| s.sag > b.sag) {
        text += &format!(
            "; a slam of {} presses it in by {}",
            units.pressure(s.pressure),
            units.fine(s.sag)
        );
    }
    text
}

/// What would hold.
fn advice(b: &Bay, units: Units) -> String {
    let mut ways = Vec::new();
    if let Some(n) = b.battens_wanted {
        ways.push(match n {
            1 => "one batten a side along the bottom".into(),
            n => format!("{n} battens a side along the bottom"),
        });
    }
    if let Some(l) = b.longest {
        ways.push(format!("frames {} apart there", units.show(l)));
    }
    ways.push("a thicker sheet".into());
    ways.join(", or ")
}

pub(super) fn drain(fact: &DrainFact, units: Units) -> Sentences {
    match fact {
        DrainFact::RainStays { trim, at, between } => both(
            format!(
                "{}; a drain in the transom does not empty her",
                rain_stays(*trim, *at, *between, units)
            ),
            "put the pump's foot or the bailing place there, cover her, or haul her out bow up",
        ),
        DrainFact::FallsAnyway(least) => {
            let least = least.map_or(String::new(), |slope| format!(" by {slope:.2}"));
            both(
                format!(
                    "her bottom has a keel of its own and already falls to it{least}; the drain slope changes nothing"
                ),
                "leave out the fall to the keelson, slope or wedge",
            )
        }
        DrainFact::Falls { drop, at, deadrise, litres } => both(
            format!(
                "the bottom is no longer flat: it falls {} to the keelson {} aft, a deadrise of {:.1}°, and she displaces {litres:.0} litres more below her chines",
                units.show(*drop),
                units.show(*at),
                deadrise.to_degrees()
            ),
            "the bottom is two sheets that meet on the keelson; about 1 in over 14 in is common practice (no source)",
        ),
    }
}
