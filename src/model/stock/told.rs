//! What was noticed about stock.

use super::{LumberList, SheetKind};
use crate::finding::Finding;
use crate::part::Question;
use crate::stock::stores::Stores;

/// Everything that cannot be had, and what costs more than it must.
pub(super) fn told(
    sheets: &[SheetKind],
    lumber: &LumberList,
    stores: &Stores,
    out: &mut Vec<Finding>,
) {
    for kind in sheets {
        for u in &kind.layout.unplaced {
            out.push(Finding::stop(
                Question::Stock,
                kind.problem.parts[u.part].name.clone(),
                u.reason.to_string(),
                "name more or larger sheets in the stock",
            ));
        }
        let bought = kind.layout.bought(&kind.problem);
        if let Some(why) = kind.layout.bound.excess(bought) {
            out.push(Finding::note(
                Question::Stock,
                kind.sheet.clone(),
                why,
                "search longer, move a joint, or turn a part by hand",
            ));
        }
    }
    for m in &lumber.plan.missing {
        out.push(Finding::watch(
            Question::Stock,
            lumber.cuts[m.cut].0.name.clone(),
            m.why.clone(),
            "name longer or wider lumber in the stock, or more of it",
        ));
    }
    for s in lumber.plan.scarfs.iter().filter(|s| !s.staggered) {
        out.push(Finding::note(
            Question::Stock,
            lumber.cuts[s.cut].0.name.clone(),
            "its scarfs lie beside those of the stick next to it",
            "turn one of the two end for end",
        ));
    }
    for c in &stores.too_long {
        out.push(Finding::watch(
            Question::Stock,
            c.name.clone(),
            format!(
                "closing it takes {:.0} minutes, and its glue stays open {:.0}",
                c.minutes, c.open
            ),
            "spread it in two goes, find another pair of hands, or take a slower glue",
        ));
    }
    for name in &stores.unknown {
        out.push(Finding::watch(
            Question::Stock,
            name.clone(),
            "no table has it: what it is for is not counted",
            "add a row of that name to the stores of the stock",
        ));
    }
    for name in &stores.too_thin {
        out.push(Finding::note(
            Question::Stock,
            name.clone(),
            "it is too thin for any fastening of the table",
            "clamp it, or staple it while the glue sets",
        ));
    }
}
