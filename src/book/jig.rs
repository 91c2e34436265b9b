//! The strongback and what stands on it.

use super::Of;
use super::drawings::sheet;
use crate::drawing::compose::Subject;
use crate::setup::Strongback;
use crate::typeset::{Block, Table};
use crate::units::half_degrees;

/// The chapter.
pub(super) fn jig(of: &Of) -> Vec<Block> {
    let (model, units) = (of.model, of.units());
    let Some(jig) = &model.woodwork.strongback else {
        return Vec::new();
    };
    let mut out = vec![
        Block::heading(1, "The strongback"),
        Block::words(format!(
            "She is built upside down. Rails' top {} above the floor, {} apart outside, {} long; legs {}. The level line stands {} above the baseline, so {} above the floor on every frame and {} up every leg.",
            units.show(jig.rail_top),
            units.show(jig.rail_spacing),
            units.show(jig.rails[1] - jig.rails[0]),
            units.show(jig.leg_length),
            units.show(jig.level),
            units.show(jig.above_floor(jig.level)),
            units.show(jig.level_on_legs)
        )),
        Block::heading(2, "Cut for the jig"),
        Block::Table(cuts(of, jig)),
        Block::heading(2, "Where each frame stands"),
        Block::Table(stands(of, jig)),
    ];
    if jig.ends.iter().any(|e| !e.corners.is_empty()) {
        out.push(Block::heading(2, "Where the ends stand"));
        out.push(Block::Table(ends(of, jig)));
    }
    let all = [Subject::JigPlan, Subject::JigElevation, Subject::JigSection];
    out.extend(all.into_iter().filter_map(|s| sheet(of, s)));
    out
}

fn cuts(of: &Of, jig: &Strongback) -> Table {
    let units = of.units();
    let mut t = Table::of(&[">how many", "what", ">section", ">length", "foot"]);
    for c in &jig.cuts {
        let foot = match c.end_cut == 0.0 {
            true => String::new(),
            false => {
                format!("cut {} from square; length on the longer edge", half_degrees(c.end_cut))
            }
        };
        t.row([
            c.count.to_string(),
            c.name.clone(),
            units.section(c.section[0], c.section[1]),
            units.show(c.length),
            foot,
        ]);
    }
    t
}

fn stands(of: &Of, jig: &Strongback) -> Table {
    let units = of.units();
    let mut t = Table::of(&["frame, corner", ">from the first line", ">out", ">above the floor"]);
    for s in &jig.stands {
        t.over(format!(
            "Frame {}: its {} face on the line, wood and legs {} it",
            s.station,
            s.face.word(),
            if s.leg_side == crate::hull::Face::Fore { "ahead of" } else { "aft of" }
        ));
        for c in &s.corners {
            t.row([
                c.line.to_string(),
                units.show(s.from_first),
                units.show(c.half_breadth),
                units.show(c.above_floor),
            ]);
        }
        let d = &s.diagonals;
        for (what, length) in [
            ("tape: chine to the other sheer", d.across),
            ("tape: keel to either sheer", d.keel_to_sheer),
            ("tape: from the bow to either spall end", d.from_stem),
        ] {
            if let Some(l) = length {
                t.row([what.to_string(), String::new(), String::new(), units.show(l)]);
            }
        }
    }
    t
}

fn ends(of: &Of, jig: &Strongback) -> Table {
    let units = of.units();
    let mut t = Table::of(&[
        "corner",
        ">along",
        ">out",
        ">above the floor",
        ">tape, same side",
        ">tape, across",
    ]);
    for e in &jig.ends {
        t.over(format!(
            "{}; tapes from frame {}'s marks",
            crate::words::capital(e.end.word()),
            e.taped_from
        ));
        for c in &e.corners {
            t.row([
                c.place.to_string(),
                units.show(jig.from_first(c.x)),
                units.show(c.half_breadth),
                units.show(c.above_floor),
                units.show(c.near),
                units.show(c.far),
            ]);
        }
    }
    t
}
