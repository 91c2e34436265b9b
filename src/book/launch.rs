//! Launch day: what to take along, what to tape, what to write down.

use super::Of;
use crate::typeset::{Block, Check, Table, Text};

/// The chapter.
pub(super) fn launch(of: &Of) -> Vec<Block> {
    let Some(a) = of.model.afloat.as_deref() else {
        return Vec::new();
    };
    let units = of.units();
    let check = |title: &str, body: &str| {
        Block::Check(Check {
            title: Text::bold(title),
            body: vec![body.into()],
            beside: String::new(),
        })
    };
    let mut out = vec![
        Block::heading(1, "Launch day"),
        Block::caution(
            "First time out: lifejackets on, the motor's kill cord on the helmsman, close in, little wind, help at hand, little power.",
        ),
        check(
            "Bungs in, limbers clear",
            "Look for water an hour after she is afloat, at every seam and every fastening below the waterline.",
        ),
        check(
            "Afloat and empty",
            "Read her freeboards off at four places with a tape, from the water to the top of the side, while she lies still.",
        ),
        check(
            "With her crew, one by one",
            "Step in over the middle. Write the freeboards down again with everybody where they will sit.",
        ),
        check(
            "Under way",
            "Idle first. Steering both ways, then a little more, until everybody has had enough.",
        ),
        Block::heading(2, "What she does"),
    ];
    let mut t = Table::of(&["case", "where", ">computed", "measured"]);
    for c in a.cases.iter().filter(|c| !c.swamped()) {
        let Some([bow, middle, stern]) = c.along(&a.openings) else {
            continue;
        };
        for (k, (place, at)) in
            [("bow", bow), ("amidships", middle), ("stern", stern)].into_iter().enumerate()
        {
            let name = if k == 0 { c.name().to_string() } else { String::new() };
            t.row([name, place.into(), units.show(at), "____________".into()]);
        }
    }
    out.push(Block::Table(t));
    out.push(Block::heading(2, "Notes"));
    out.push(Block::Lines(8));
    out
}
