//! Sheets and boards: what is cut from each, in which order.

use super::Of;
use super::drawings::sheet;
use crate::drawing::compose::{Subject, catalogue};
use crate::typeset::{Block, Table, Text};
use crate::words::cautions;
use crate::words::stock::{
    crosscut_first, joint, kind_words, so_many, so_many_sheets, stick_cut, stick_joints, wood_name,
};

/// Joints of the panels, then every sheet with its parts.
pub(super) fn sheets(of: &Of) -> Vec<Block> {
    let Some(list) = of.list.filter(|l| !l.sheets.is_empty()) else {
        return Vec::new();
    };
    let units = of.units();
    let mut out = vec![Block::heading(1, "Sheets and their cuts")];
    let mut t = Table::of(&["kind", "sheets"]);
    for kind in &list.sheets {
        let layout = &kind.layout;
        let (cut, bought) = (layout.sheets.len(), layout.bought(&kind.problem));
        t.row([
            kind_words(&kind.sheet, kind.thickness, units),
            so_many_sheets(cut, bought, layout.bound.sheets),
        ]);
    }
    out.push(Block::Table(t));
    out.push(Block::heading(2, "How the panels are joined"));
    for p in &list.panels {
        if p.split.joints.is_empty() {
            out.push(Block::words(
                Text::bold(format!("{}: ", p.name)).and("whole, from one sheet."),
            ));
            continue;
        }
        let pieces = so_many(p.split.pieces.len(), "piece", "pieces");
        out.push(Block::words(Text::bold(format!("{}: ", p.name)).and(format!("{pieces}."))));
        out.push(Block::List(p.split.joints.iter().map(|j| joint(j, units).into()).collect()));
    }
    out.push(Block::words(format!(
        "Parts lie {} apart: measure what your own saw takes away.",
        units.fine(of.model.hull.stock.kerf_mm)
    )));
    out.push(Block::caution(cautions::SAW));
    out.push(Block::caution(cautions::DUST));
    let all = catalogue(of.boat()).into_iter().filter(|s| matches!(s, Subject::Sheet { .. }));
    out.extend(all.filter_map(|s| sheet(of, s)));
    out
}

/// Every board, and what is cut from it.
pub(super) fn lumber(of: &Of) -> Vec<Block> {
    let Some(list) = of.list.filter(|l| !l.lumber.plan.boards.is_empty()) else {
        return Vec::new();
    };
    let (units, lumber) = (of.units(), &list.lumber);
    let mut t = Table::of(&[">board", "wood, section", ">length", "cut from it, in this order"]);
    for (n, b) in lumber.plan.boards.iter().enumerate() {
        let stock = &lumber.lengths[b.stock];
        let mut cuts = crosscut_first(&lumber.crosscuts(b), units);
        let strips: Vec<String> = b
            .strips
            .iter()
            .map(|s| {
                let pieces: Vec<String> =
                    s.pieces.iter().map(|p| stick_cut(lumber, p, units)).collect();
                let ripped = (s.width < stock.width - 0.5)
                    .then(|| format!("ripped to {}: ", units.show(s.width)));
                format!("{}{}", ripped.unwrap_or_default(), pieces.join("; "))
            })
            .collect();
        cuts.push_str(&strips.join(" | "));
        t.row([
            (n + 1).to_string(),
            format!(
                "{} {}",
                wood_name(&stock.species),
                units.section(stock.thickness, stock.width)
            ),
            units.show(stock.length),
            cuts,
        ]);
    }
    let mut out = vec![
        Block::heading(1, "Boards and their cuts"),
        Block::words(format!(
            "{} are sawn off each end of a board first, {} go with each cut. Strips of one board stand apart by a stroke.",
            units.show(of.model.hull.stock.end_trim_mm),
            units.fine(of.model.hull.stock.kerf_mm)
        )),
        Block::Table(t),
    ];
    for c in &lumber.plan.scarfs {
        out.push(Block::words(stick_joints(lumber, c, units)));
    }
    let trims = lumber.cuts.iter().map(|c| c.0.trim);
    if let Some(trim) = trims.filter(|t| *t > 0.0).reduce(f64::max) {
        out.push(Block::words(format!(
            "What is bent in place is cut {} longer at each end than it finishes: trim it when it lies fair and its end is bevelled.",
            units.show(trim)
        )));
    }
    out.push(Block::caution(cautions::SAW));
    out
}
