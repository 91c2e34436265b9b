//! Each stick that is bent: how, with what in hand, and what it bears.

use super::Of;
use crate::bend::BentMember;
use crate::report::text::chance;
use crate::typeset::{Block, Table, Text};
use crate::words::bend::{caution, governs, how, method, source, stock};
use crate::words::capital;

/// The chapter.
pub(super) fn bending(of: &Of) -> Vec<Block> {
    let members = &of.model.members;
    if members.is_empty() {
        return Vec::new();
    }
    let mut out = vec![
        Block::heading(1, "Bending the sticks"),
        Block::words(
            "For each stick: the way that is advised, what to do, and what every way asks of it and allows. A way holds where its strain is borne and what pulls it down is to be had. Bend a test piece of the same board first: wood does not read tables.",
        ),
    ];
    for (i, b) in members.iter().enumerate() {
        let length = of.model.run_of(i).map_or(b.length, |run| run.length);
        out.extend(stick(of, b, length));
    }
    out
}

fn stick(of: &Of, b: &BentMember, length: f64) -> Vec<Block> {
    let (m, units) = (&b.member, of.units());
    let both = match m.sticks() > 1 {
        true => format!(", {} that one of the two does", chance(b.pair_break_chance)),
        false => String::new(),
    };
    let mut out = vec![
        Block::named(2, capital(&m.name), format!("bending {}", m.name)),
        Block::words(format!(
            "{}, {} (moulded by sided), {:.0} % moisture, {} long, along the {}.",
            m.species,
            units.section(m.moulded_mm, m.sided_mm),
            m.moisture(),
            units.show(length),
            m.line
        )),
        Block::words(format!(
            "It is bent hardest {} from the bow, by {:.2} %, mostly by {}; half of such sticks ({}) break at {:.2} %. Bent dry: {} that a stick breaks{both}.",
            units.show(b.peak_at),
            100.0 * b.peak_strain,
            governs(b.governs()),
            stock(m.stock),
            100.0 * b.limit.breaking,
            chance(b.break_chance)
        )),
    ];
    let advised = b.advice.rungs.iter().find(|r| Some(r.method) == b.advice.recommended);
    match advised {
        Some(r) => {
            let head = format!("{}: ", capital(method(r.method)));
            out.push(Block::words(Text::bold(head).and(how(&r.how, units))));
            out.push(Block::caution(&format!("Caution: {}", caution(r.method))));
            out.push(Block::small(format!("Source: {}.", source(r.method))));
        }
        None => out.push(Block::Caution(
            Text::bold("By no way does it hold. ")
                .and("Choose another wood, a smaller section, or an easier line."),
        )),
    }
    let mut t = Table::of(&["way", "", ">asked", ">allowed"]);
    for r in &b.advice.rungs {
        t.row([
            method(r.method).to_string(),
            if r.holds { "holds" } else { "does not hold" }.into(),
            format!("{:.2} %", 100.0 * r.strain),
            format!("{:.2} %", 100.0 * r.allowed),
        ]);
    }
    out.push(Block::Table(t));
    vec![Block::Together(out)]
}
