//! What do I buy, and how do I cut it?

use super::{Sentences, both};
use crate::finding::StockFact;
use crate::hull::stock::JointKind;
use crate::stock::glue::NotBorne;
use crate::stock::joints::{JointBend, JointError, MOST_JOINTS, MOST_PIECES, MOST_ROWS, Room};
use crate::units::Units;
use crate::words::stock::{above_bound, layers_of, no_lumber, on_no_sheet, so_many};
use crate::words::stores::not_borne;

/// Why a panel is not split, and what would do.
fn not_split(why: &JointError, units: Units) -> Sentences {
    let room = |r: &Room| format!("{} by {}", units.show(r.length), units.show(r.width));
    let enough = |e: &Option<Room>| {
        e.as_ref().map_or(String::new(), |e| format!("; {} clear of its margin would do", room(e)))
    };
    let larger = "name a larger sheet in the stock, or draw her of narrower strakes";
    let other = "tell another place in panel_joints, or leave at_mm out: the program looks for one";
    match why {
        JointError::NoOutline { panel } => {
            both(format!("the outline of the {panel} is no area"), larger)
        }
        JointError::OffPanel { panel, at, within } => both(
            format!(
                "a joint of the {panel} is told at {} along the pattern, where none can lie: from {} to {}",
                units.show(*at),
                units.show(within.0),
                units.show(within.1)
            ),
            other,
        ),
        JointError::OnEachOther { panel, at, least } => both(
            format!(
                "joints of the {panel} are told at {} and {} along the pattern, and need {} between them",
                units.show(at.0),
                units.show(at.1),
                units.show(*least)
            ),
            other,
        ),
        JointError::NoSheet { panel, room: has, excess, enough: None } => both(
            format!(
                "no sheet of {} takes a piece of the {panel}: {} are missing along it, {} across",
                room(has),
                units.show(excess.length),
                units.show(excess.width)
            ),
            larger,
        ),
        JointError::NoSheet { panel, room: has, enough: of, .. } => both(
            format!("no sheet of {} takes a piece of the {panel}{}", room(has), enough(of)),
            larger,
        ),
        JointError::Patchwork { panel, room: has, enough: of } => both(
            format!(
                "from sheets of {} the {panel} would be a patchwork, with more than {MOST_JOINTS} joints across it, {MOST_ROWS} pieces side by side or {MOST_PIECES} in all{}",
                room(has),
                enough(of)
            ),
            larger,
        ),
    }
}

pub(super) fn said(fact: &StockFact, units: Units) -> Sentences {
    match fact {
        StockFact::NotSplit(why) => not_split(why, units),
        StockFact::NotLaid(fault) => {
            both(fault.to_string(), "look at the part's pattern, and at the stock of the document")
        }
        StockFact::OnNoSheet { reason, parts } => both(
            format!("{}{}", which(parts), on_no_sheet(reason, units)),
            "name more or larger sheets in the stock",
        ),
        StockFact::JointsBeside { joint, other, line, distance, least } => both(
            format!(
                "its joint {joint} and joint {} of the {} meet the {line} {} apart, and should lie {} apart",
                other.1,
                other.0,
                units.show(*distance),
                units.show(*least)
            ),
            "set places of your own for one of the two (`panel_joints` of the stock), or take longer sheets",
        ),
        StockFact::JointsOfHands { joints, line } => both(
            match joints {
                1 => format!("port and starboard are joined at one place of the {line}"),
                n => format!("port and starboard are joined at the same {n} places of the {line}"),
            },
            "glue whole wood over each: no scarf of the keelson there, and the blocks tight against it",
        ),
        StockFact::NearLimit { joint, bend } => both(
            format!(
                "joint {joint} is bent to {} where it bears {}: {:.0} % of its limit",
                units.radius(bend.radius),
                units.radius(bend.least_radius),
                100.0 * bend.utilisation()
            ),
            "try it on a strip of the same sheet before you glue, or set the joint where she is straighter",
        ),
        StockFact::StiffJoint { joint, kind, bend } => stiff_joint(*joint, *kind, bend, units),
        StockFact::MoreSheets(why) => {
            both(above_bound(why), "search longer, move a joint, or turn a part by hand")
        }
        StockFact::LittleUsed { share, piece } => both(
            format!(
                "only {:.0} % of a sheet is used: a piece of {} by {} would do, the first along its grain",
                100.0 * share,
                units.show(piece.0),
                units.show(piece.1)
            ),
            "ask the yard for an offcut, and name it in the stock",
        ),
        StockFact::NoLumber(why) => {
            both(no_lumber(why, units), "name longer or wider lumber in the stock, or more of it")
        }
        StockFact::LittleToSpare(spare) => both(
            match units.imperial() {
                _ if *spare < 1.0 => "nothing to spare behind its last piece".into(),
                true => format!("{} to spare behind its last piece", units.fine(*spare)),
                false => format!("{:.0} mm to spare behind its last piece", spare.floor()),
            },
            "measure the board's true length, and look for splits at its ends, before the first cut",
        ),
        StockFact::ScarfsBeside => both(
            "its scarfs lie beside those of the stick next to it",
            "turn one of the two end for end",
        ),
        StockFact::SlowToClose { minutes, open } => both(
            format!(
                "laid in one go with all its joints it takes about {minutes:.0} minutes, and its glue stays open {open:.0}"
            ),
            "spread and fasten it from one end on, find another pair of hands, or take a slower glue",
        ),
        StockFact::NotBorne(what) => both(
            not_borne(what, units),
            match what {
                NotBorne::Immersion { .. } => "take a glue that stands it",
                NotBorne::Gap { .. } => "plane the joints closer, or take a glue that fills",
                NotBorne::Temperature { .. } => {
                    "warm the shop until it has set, or take another glue"
                }
                NotBorne::Moisture { .. } => {
                    "let the wood lie in the shop's air first, or take another glue"
                }
            },
        ),
        StockFact::BoxesOnNoSheet { area, thickness, left, sheets } => both(
            format!(
                "{} of ply {} thick for the boxes round the foam is on no layout: they are cut to what they lie against",
                units.area(*area),
                units.gauge(*thickness)
            ),
            match sheets {
                0 => format!(
                    "keep what is left of the other sheets for them, {}: it is enough with a quarter for waste, by our judgement",
                    units.area(*left)
                ),
                n => format!(
                    "{} for them {} on the list to buy, with a quarter for waste by our judgement; keep what is left of the other sheets, {}, which is counted on",
                    so_many(*n, "sheet", "sheets"),
                    if *n == 1 { "is" } else { "are" },
                    units.area(*left)
                ),
            },
        ),
        StockFact::UnusedRow => both(
            "no table has it and nothing of her is made of it: its row in the stock is not used",
            "write its name as the tables have it, or leave the row out",
        ),
        StockFact::TooCold { least, shop } => both(
            format!(
                "it wants {} or more, and the shop has {}",
                units.temperature(*least),
                units.temperature(*shop)
            ),
            "warm the shop until it has set, or wait for warmer days; its label decides",
        ),
        StockFact::UnknownStore => both(
            "no table has it: what it is for is not counted",
            "add a row of that name to the stores of the stock",
        ),
        StockFact::Laminated { of } => both(
            format!(
                "laminated of {}, from what is left of other sheets or lies in the shop",
                layers_of(of)
            ),
            "glue over the whole of each face and clamp it between flat boards; or name a sheet of its thickness in the stock",
        ),
        StockFact::TooThin => both(
            "it is too thin for any fastening of the table",
            "clamp it, or staple it while the glue sets",
        ),
    }
}

/// Parts told with one reason: so many of them, and which; nothing of one, which is the place.
fn which(parts: &[(String, usize)]) -> String {
    let all: usize = parts.iter().map(|(_, n)| n).sum();
    if all < 2 {
        return String::new();
    }
    let each = |(name, n): &(String, usize)| match n {
        1 => name.clone(),
        n => format!("{n} x {name}"),
    };
    match parts {
        [_] => format!("{all} of them: "),
        _ => {
            let names: Vec<String> = parts.iter().map(each).collect();
            format!("{all} parts are on no sheet ({}): ", names.join("; "))
        }
    }
}

/// A joint that does not bend to the panel's curve, and what would do.
fn stiff_joint(joint: usize, kind: JointKind, bend: &JointBend, units: Units) -> Sentences {
    let (there, least) = (units.radius(bend.radius), units.radius(bend.least_radius));
    let in_place = units.radius(bend.least_in_place);
    match kind {
        JointKind::ButtBlock if bend.goes_on_bent() => both(
            format!(
                "the panel bends to {there} at joint {joint}: glued to its block there flat it takes {least}"
            ),
            "glue the block on when the panel stands bent, or of two thin layers",
        ),
        JointKind::ButtBlock => both(
            format!(
                "the panel bends to {there} at joint {joint}: glued to its block there flat it takes {least}, and a block as thick as the sheet bends to {in_place} by itself"
            ),
            "set the joint where the panel is flatter, or laminate the block there of two thin layers",
        ),
        JointKind::Scarf => {
            let weaker = bend.factor.map_or(String::new(), |f| {
                format!(", having {:.0} % of the sheet's strength", 100.0 * f)
            });
            let hint = match bend.goes_on_bent() {
                true => {
                    "set the joint where the panel is flatter, or glue the scarf when the panel stands bent"
                }
                false => "set the joint where the panel is flatter, or take a thinner sheet",
            };
            both(
                format!(
                    "the panel bends to {there} at joint {joint}, and a scarf glued flat takes {least}{weaker}"
                ),
                hint,
            )
        }
    }
}
