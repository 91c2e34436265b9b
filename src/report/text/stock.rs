//! Stock, told: joints, sheets with their cuts, lumber, stores, and what it costs.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::{heading_of, paragraph};
use crate::finding::gravest;
use crate::model::stock::{SheetKind, StockList};
use crate::part::Question;
use crate::stock::joints::PlacedJoint;
use crate::stock::nest::{Keep, cuts};
use crate::units::Units;
use crate::words::finding::said;
use crate::words::stock::counted;

/// The section; `currency` stands behind prices.
pub fn stock(s: &StockList, units: Units, currency: &str) -> String {
    let mut out = String::from("\n");
    let severity = gravest(&s.findings, Some(Question::Stock));
    heading_of(&mut out, "Stock: what do I buy, and how do I cut it?", Question::Stock, severity);
    joints(&mut out, s, units);
    for kind in &s.sheets {
        sheets(&mut out, kind, units);
    }
    lumber(&mut out, s, units);
    stores(&mut out, s, units, currency);
    cost(&mut out, s, units, currency);
    for f in &s.findings {
        let said = said(f, units);
        let told = format!("[{}] {}: {}", f.severity.word(), said.place, said.message);
        paragraph(&mut out, "  ", &told);
        paragraph(&mut out, "      ", &said.hint);
    }
    out.push('\n');
    out
}

fn joints(out: &mut String, s: &StockList, units: Units) {
    for p in &s.panels {
        if p.split.joints.is_empty() {
            let _ = writeln!(out, "{}: whole, from one sheet", p.name);
            continue;
        }
        let _ = writeln!(out, "{}: {} pieces", p.name, p.split.pieces.len());
        for j in &p.split.joints {
            paragraph(out, "    ", &joint(j, units));
        }
    }
    out.push('\n');
}

/// A joint in words.
fn joint(j: &PlacedJoint, units: Units) -> String {
    let at = match j.lengthwise {
        true => format!("{} across the pattern", units.show(j.at)),
        false => format!("{} along the pattern", units.show(j.at)),
    };
    let what = match j.slope {
        Some(slope) => format!(
            "scarf of {slope:.0} in 1, {} long, planed on the {} of the piece nearer to the bow",
            units.show(j.taken),
            j.faces[0].word()
        ),
        None => format!("butt block, {} long, on the {}", units.show(j.taken), j.faces[0].word()),
    };
    let bend = match j.bend.bends() {
        true => "glued flat, it bends with the panel".to_string(),
        false => format!(
            "the panel bends to {} there and a flat joint takes {}: glue it when the panel hangs",
            units.radius(j.bend.radius),
            units.radius(j.bend.least_radius)
        ),
    };
    let way = match j.in_the_way.is_empty() {
        true => String::new(),
        false => format!("; in its way: {}", j.in_the_way.join(", ")),
    };
    format!("{what}, {at}; {bend}{way}")
}

fn sheets(out: &mut String, kind: &SheetKind, units: Units) {
    let layout = &kind.layout;
    let bought = layout.bought(&kind.problem);
    let least = layout.bound.sheets;
    let _ = writeln!(
        out,
        "{}, {}: {} sheets, {bought} to buy; fewer than {least} cannot do",
        kind.sheet,
        units.gauge(kind.thickness),
        layout.sheets.len(),
    );
    for (n, sheet) in layout.sheets.iter().enumerate() {
        let (_, size) = kind.problem.sheets[sheet.sheet].extent();
        let mut names: BTreeMap<&str, usize> = BTreeMap::new();
        for p in &sheet.placed {
            *names.entry(&kind.problem.parts[p.part].name).or_default() += 1;
        }
        let list: Vec<String> = names
            .into_iter()
            .map(|(name, n)| if n > 1 { format!("{n} x {name}") } else { name.to_string() })
            .collect();
        let straight =
            cuts(&kind.problem, sheet, Keep::default()).iter().filter(|c| c.part.is_none()).count();
        let words = format!(
            "sheet {} ({} by {}, {:.0} % used, {straight} straight cuts first): {}",
            n + 1,
            units.show(size.x),
            units.show(size.y),
            100.0 * sheet.density(&kind.problem),
            list.join("; ")
        );
        paragraph(out, "    ", &words);
    }
    out.push('\n');
}

fn lumber(out: &mut String, s: &StockList, units: Units) {
    let list = &s.lumber;
    if list.plan.boards.is_empty() {
        return;
    }
    out.push_str("Lumber, each length and what is cut from it\n");
    for b in &list.plan.boards {
        let stock = &list.lengths[b.stock];
        let pieces: Vec<String> = b
            .strips
            .iter()
            .flat_map(|strip| &strip.pieces)
            .map(|p| format!("{} {}", list.cuts[p.cut].0.name, units.show(p.length)))
            .collect();
        let species = if stock.species.is_empty() { "any wood" } else { &stock.species };
        let words = format!(
            "{species} {}, {}: {}",
            units.section(stock.thickness, stock.width),
            units.show(stock.length),
            pieces.join("; ")
        );
        paragraph(out, "    ", &words);
    }
    for c in &list.plan.scarfs {
        let at: Vec<String> = c.at.iter().map(|x| units.show(*x)).collect();
        let words = format!(
            "{}: scarfed at {} from its forward end, each {} long",
            list.cuts[c.cut].0.name,
            at.join(", "),
            units.show(c.length)
        );
        paragraph(out, "    ", &words);
    }
    out.push('\n');
}

fn stores(out: &mut String, s: &StockList, units: Units, currency: &str) {
    if s.stores.lines.is_empty() {
        return;
    }
    out.push_str("Stores\n");
    for l in &s.stores.lines {
        let price = l.price.map_or(String::new(), |p| format!(", {p:.2} {currency}"));
        let words = format!(
            "{}: {:.1} {}, {} packs of {}{price}. {}; {:.0} % for loss",
            l.name,
            l.quantity,
            l.unit,
            l.packs,
            l.pack,
            counted(&l.from, units),
            l.waste_pct
        );
        paragraph(out, "    ", &words);
    }
    out.push('\n');
}

fn cost(out: &mut String, s: &StockList, units: Units, currency: &str) {
    let c = &s.cost;
    let _ = writeln!(out, "She weighs {} of what is counted here.", units.mass(s.mass));
    let words = match (c.unpriced, c.known()) {
        (0, known) => format!("Cost: {known:.2} {currency}"),
        (n, 0.0) => format!("Cost: no price is known ({n} things to buy); add prices to the stock"),
        (n, known) => format!("Cost: {known:.2} {currency} and {n} things of no known price"),
    };
    paragraph(out, "", &words);
    out.push('\n');
}
