//! Stock, told: joints, sheets with their cuts, lumber, stores, and what it costs.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::{heading_of, paragraph};
use crate::finding::gravest;
use crate::hull::stock::StockPlan;
use crate::model::stock::{SheetKind, StockList};
use crate::part::Question;
use crate::stock::nest::{Keep, cuts};
use crate::stock::stores::{Bought, Line};
use crate::units::Units;
use crate::words::capital;
use crate::words::cautions;
use crate::words::finding::said;
use crate::words::stock::{
    asked, crosscut_first, joint, kind_words, part_name, so_many, so_many_sheets, stick_joints,
    strip, wood_name,
};
use crate::words::stores::{quantity, to_buy, with_loss};

/// The section; `plan` has the glue and what stands behind prices.
pub fn stock(s: &StockList, units: Units, plan: &StockPlan) -> String {
    let currency = &plan.currency;
    let mut out = String::from("\n");
    let severity = gravest(&s.findings, Some(Question::Stock));
    heading_of(&mut out, "Stock: what do I buy, and how do I cut it?", Question::Stock, severity);
    yard(&mut out, s, units, currency);
    joints(&mut out, s, units);
    for (i, kind) in s.sheets.iter().enumerate() {
        sheets(&mut out, s, (i, kind), units);
    }
    if !s.sheets.is_empty() {
        let kerf = units.fine(plan.kerf_mm);
        let words = format!("Parts lie {kerf} apart: measure what your own saw takes away.");
        paragraph(&mut out, "", &words);
        paragraph(&mut out, "", cautions::SAW);
        paragraph(&mut out, "", cautions::DUST);
        out.push('\n');
    }
    lumber(&mut out, s, units);
    stores(&mut out, s, units, plan);
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

/// What is asked for at the yard.
fn yard(out: &mut String, s: &StockList, units: Units, currency: &str) {
    let all = s.asked_for();
    if all.is_empty() {
        return;
    }
    out.push_str("For the yard\n");
    for a in &all {
        let price = a.price.map_or(String::new(), |p| format!(": {p:.2} {currency}"));
        let words = format!("{} of {}{price}", a.count, asked(&a.what, units));
        paragraph(out, "    ", words.trim_end());
    }
    out.push('\n');
}

fn joints(out: &mut String, s: &StockList, units: Units) {
    for p in &s.panels {
        if p.split.joints.is_empty() {
            let _ = writeln!(out, "{}: whole, from one sheet", p.name);
            continue;
        }
        let pieces = so_many(p.split.pieces.len(), "piece", "pieces");
        let _ = writeln!(out, "{}: {pieces}", p.name);
        for j in &p.split.joints {
            paragraph(out, "    ", &joint(j, units));
        }
    }
    out.push('\n');
}

fn sheets(out: &mut String, s: &StockList, (i, kind): (usize, &SheetKind), units: Units) {
    let layout = &kind.layout;
    let bought = layout.bought(&kind.problem);
    let least = layout.bound.sheets;
    let _ = writeln!(
        out,
        "{}: {}",
        kind_words(&kind.sheet, kind.thickness, units),
        so_many_sheets(layout.sheets.len(), bought, least)
    );
    for (n, sheet) in layout.sheets.iter().enumerate() {
        let (_, size) = kind.problem.sheets[sheet.sheet].extent();
        let mut names: BTreeMap<String, usize> = BTreeMap::new();
        for (p, lying) in sheet.placed.iter().zip(s.lying(kind, n)) {
            *names.entry(part_name(s, kind, p.part, &lying)).or_default() += 1;
        }
        let list: Vec<String> = names
            .into_iter()
            .map(|(name, n)| if n > 1 { format!("{n} x {name}") } else { name })
            .collect();
        let straight =
            cuts(&kind.problem, sheet, Keep::default()).iter().filter(|c| c.part.is_none()).count();
        let words = format!(
            "sheet {} ({} by {}, {:.0} % used, {} first): {}",
            s.sheet_number(i, n),
            units.show(size.x),
            units.show(size.y),
            100.0 * sheet.density(&kind.problem),
            so_many(straight, "straight cut", "straight cuts"),
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
    for (n, b) in list.plan.boards.iter().enumerate() {
        let stock = &list.lengths[b.stock];
        let strips: Vec<String> = b.strips.iter().map(|s| strip(list, b, s, units)).collect();
        let species = wood_name(&stock.species);
        let words = format!(
            "board {}, {species} {}, {}: {}{}",
            n + 1,
            units.section(stock.thickness, stock.width),
            units.show(stock.length),
            crosscut_first(&list.crosscuts(b), units),
            strips.join("; ")
        );
        paragraph(out, "    ", &words);
    }
    for c in &list.plan.scarfs {
        paragraph(out, "    ", &stick_joints(list, c, units));
    }
    let trims = list.cuts.iter().map(|c| c.0.trim);
    if let Some(trim) = trims.filter(|t| *t > 0.0).reduce(f64::max) {
        let words = format!(
            "What is bent in place is cut {} longer at each end than it finishes: trim it when it lies fair and its end is bevelled.",
            units.show(trim)
        );
        paragraph(out, "", &words);
    }
    out.push('\n');
}

fn stores(out: &mut String, s: &StockList, units: Units, plan: &StockPlan) {
    if s.stores.lines.is_empty() {
        return;
    }
    out.push_str("Stores\n");
    for b in &s.stores.bought {
        let price = b.price.map_or(String::new(), |p| format!(", {p:.2} {}", plan.currency));
        let made: Vec<String> =
            b.lines.iter().map(|i| made_of(&s.stores.lines[*i], b, units)).collect();
        let words = format!("{}{price}. {}", to_buy(b, units), made.join(". "));
        paragraph(out, "    ", &words);
    }
    paragraph(out, "", cautions::beside_glue(&plan.glue));
    // Cloth and coats are laid in epoxy whatever the joints are glued with.
    if !plan.glue.contains("epoxy") && s.stores.lines.iter().any(|l| l.name.contains("epoxy")) {
        paragraph(out, "", cautions::EPOXY);
    }
    for words in cautions::beside_stores(s.stores.lines.iter().map(|l| l.name.as_str())) {
        paragraph(out, "", words);
    }
    out.push('\n');
}

/// What a line was counted from; by its own name where the packs hold others too.
fn made_of(l: &Line, of: &Bought, units: Units) -> String {
    let own = match of.lines.len() {
        1 => String::new(),
        _ => format!("{}, {}: ", capital(&l.name), quantity(l.quantity, l.unit, units)),
    };
    format!("{own}{}", with_loss(l, units))
}

fn cost(out: &mut String, s: &StockList, units: Units, currency: &str) {
    let c = &s.cost;
    let _ = writeln!(out, "She weighs {} of what is counted here.", units.mass(s.mass));
    let words = match (c.unpriced, c.known()) {
        (0, known) => format!("Cost: {known:.2} {currency}"),
        (n, 0.0) => format!(
            "Cost: no price is known ({} to buy); add prices to the stock",
            so_many(n, "thing", "things")
        ),
        (n, known) => format!(
            "Cost: {known:.2} {currency} and {} of no known price",
            so_many(n, "thing", "things")
        ),
    };
    paragraph(out, "", &words);
    out.push('\n');
}
