//! What do I buy, and how do I cut it?

use super::{Sentences, both};
use crate::finding::StockFact;
use crate::stock::glue::NotBorne;
use crate::units::Units;
use crate::words::stock::{above_bound, no_lumber, on_no_sheet};
use crate::words::stores::not_borne;

pub(super) fn said(fact: &StockFact, units: Units) -> Sentences {
    match fact {
        StockFact::NotSplit(why) => both(
            why.to_string(),
            "name a larger sheet in the stock, or draw her of narrower strakes",
        ),
        StockFact::NotLaid(fault) => {
            both(fault.to_string(), "look at the part's pattern, and at the stock of the document")
        }
        StockFact::OnNoSheet(reason) => {
            both(on_no_sheet(reason), "name more or larger sheets in the stock")
        }
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
            both(no_lumber(why), "name longer or wider lumber in the stock, or more of it")
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
        StockFact::BoxesOnNoSheet { area, thickness } => both(
            format!(
                "{} of ply {} thick for the boxes round the foam is on no sheet: they are cut to what they lie against",
                units.area(*area),
                units.gauge(*thickness)
            ),
            "keep what is left of the sheets for them, or buy a sheet more",
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
        StockFact::Laminated { layers, sheet } => both(
            format!("laminated of {layers} layers of {sheet}, from what is left of its sheets"),
            "glue over the whole of each face and clamp it between flat boards; or name a sheet of its thickness in the stock",
        ),
        StockFact::TooThin => both(
            "it is too thin for any fastening of the table",
            "clamp it, or staple it while the glue sets",
        ),
    }
}
