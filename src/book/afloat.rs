//! How she floats: weights, cases, rule, waterline.

use super::Of;
use crate::model::afloat::{Afloat, Case};
use crate::report::text::{AFLOAT_CAUTION, SWAMPED_WITH, paired, worked};
use crate::typeset::{Block, Table, Text};
use crate::units::{KG_PER_POUND, half_degrees};
use crate::words::{attitude, mass, working};

/// The chapter.
pub(super) fn afloat(of: &Of) -> Vec<Block> {
    let Some(a) = of.model.afloat.as_deref() else {
        return Vec::new();
    };
    let units = of.units();
    let mut out = vec![
        Block::heading(1, "How she floats"),
        Block::Caution(Text::bold("Indicative. ").and(AFLOAT_CAUTION)),
        Block::heading(2, "Weights"),
        Block::words(format!(
            "Hull {}, its centre {} aft and {} up.",
            units.mass(a.hull.mass),
            units.show(a.hull.centre.x),
            units.show(a.hull.centre.z)
        )),
        Block::Table(weights(of, a)),
        Block::heading(2, "Loads"),
        Block::Table(loads(of, a)),
        Block::heading(2, "How she lies"),
        Block::Table(cases(of, a)),
        Block::small(format!("Swamped: {SWAMPED_WITH}.")),
    ];
    out.extend(rule(of, a));
    out.extend(waterline(of, a));
    out
}

fn weights(of: &Of, a: &Afloat) -> Table {
    let units = of.units();
    let mut t = Table::of(&["item", ">weight", "worked from", "source"]);
    for i in &a.items {
        t.row([
            i.name.clone(),
            units.mass(i.mass),
            mass::basis(&i.basis, units),
            mass::source(i).to_string(),
        ]);
    }
    t
}

fn loads(of: &Of, a: &Afloat) -> Table {
    let units = of.units();
    let mut t = Table::of(&["aboard", ">weight", ">aft", ">up", ">to starboard"]);
    for l in &a.loads {
        t.row([
            l.name.clone(),
            units.mass(l.mass_kg),
            units.show(l.x),
            units.show(l.z),
            units.show(l.y),
        ]);
    }
    t
}

fn cases(of: &Of, a: &Afloat) -> Table {
    let units = of.units();
    let mut t = Table::of(&["case", ">weight", "trim, heel", ">draft", ">least freeboard", ">GM"]);
    for c in &a.cases {
        t.row(case(c, units));
    }
    t
}

fn case(c: &Case, units: crate::units::Units) -> [String; 6] {
    let (name, weight) = (c.name().to_string(), units.mass(c.weight.mass));
    let (Some(f), Some((least, _)), Some(draft)) = (c.floating, c.freeboard, c.draft) else {
        let fate = format!("she {}", attitude::fate(c.sinks));
        return [name, weight, fate, String::new(), String::new(), String::new()];
    };
    let freeboard = match c.floods() {
        true => format!("{} under", units.show(-least)),
        false => units.show(least),
    };
    [
        name,
        weight,
        format!("{}, {}", attitude::trim(f.trim), attitude::heel(f.heel)),
        units.show(draft),
        freeboard,
        c.gm.map_or(String::new(), |g| units.show(g[0])),
    ]
}

fn rule(of: &Of, a: &Afloat) -> Vec<Block> {
    let (c, units) = (&a.capacity, of.units());
    let together = units.mass(c.persons_weight * KG_PER_POUND);
    let motor = match c.horsepower {
        Some(hp) => format!("a motor of at most {hp} hp and, with it, "),
        None => String::new(),
    };
    let mut t = Table::of(&["worked", ">result", "source"]);
    for l in c.lines.iter().chain(&a.foam_needed.1) {
        t.row([
            working::text(&l.worked, units),
            worked(l, units),
            working::source(&l.worked).to_string(),
        ]);
    }
    let mut out = vec![
        Block::heading(2, "The safe-loading rule"),
        Block::words(format!(
            "33 CFR 183 would mark her for {motor}{} persons of {together} together; {} in all, motor and gear included. It looks at weight, not at where people sit.",
            c.persons,
            units.mass(c.weight * KG_PER_POUND)
        )),
    ];
    if c.pairs.len() > 1 {
        out.push(Block::List(
            c.pairs.iter().map(|p| format!("up to {}", paired(p, units)).into()).collect(),
        ));
    }
    out.push(Block::Table(t));
    out.push(Block::words(format!(
        "Foam that its flotation rule asks for: {}; built in: {}.",
        units.volume(a.foam_needed.0),
        units.volume(a.foam(&of.model.hull))
    )));
    out
}

fn waterline(of: &Of, a: &Afloat) -> Vec<Block> {
    let Some(m) = &a.marked else {
        return Vec::new();
    };
    let units = of.units();
    let mut t = Table::of(&[
        ">station",
        ">up from the baseline",
        ">out",
        ">down the skin from the sheer",
        ">boot-top, down",
    ]);
    for s in &m.stations {
        t.row([
            s.station.to_string(),
            units.show(s.at.z),
            units.show(s.at.y),
            units.show(s.down),
            s.boot_top_down.map_or(String::new(), |d| units.show(d)),
        ]);
    }
    let mut out = vec![
        Block::heading(2, "The waterline to mark"),
        Block::words(format!("Of {}.", of.model.hull.afloat.waterline.with.word())),
        Block::Table(t),
    ];
    for e in &m.by_eye {
        let way = if e.off > 0.0 { "above" } else { "below" };
        out.push(Block::words(format!(
            "{}: a batten pulled tight between marks at the ends would be out by {}; the true line runs {way} it, most at {} aft.",
            crate::words::capital(&e.panel),
            units.show(e.off.abs()),
            units.show(e.x)
        )));
    }
    let curve = &a.righting;
    if let Some(v) = curve.vanishing.filter(|v| *v > 0.0) {
        out.push(Block::words(format!(
            "Kept dry and sitting still, her full crew would be righted up to {}.",
            half_degrees(v)
        )));
    }
    out
}
