//! Schedules: glue, fastenings, cloth, finishing.

use super::Of;
use crate::stock::glue::against;
use crate::stock::stores::CountedFrom;
use crate::typeset::{Block, Table};
use crate::words::cautions;
use crate::words::stores::{glue_words, with_loss};

/// The chapter.
pub(super) fn schedules(of: &Of) -> Vec<Block> {
    let Some(list) = of.list else {
        return Vec::new();
    };
    let (model, units) = (of.model, of.units());
    let plan = &model.hull.stock;
    let mut out = vec![Block::heading(1, "Schedules")];
    out.push(Block::heading(2, "Glue"));
    if let Some(glue) = model.materials.stores.glue(&plan.glue) {
        let moisture = model.hull.members.iter().map(|m| m.moisture());
        let lacks = against(glue, &plan.gluing, moisture);
        out.push(Block::words(format!(
            "{}: {}",
            crate::words::capital(&glue.name),
            glue_words(glue, &lacks, units)
        )));
    }
    if !list.stores.too_long.is_empty() {
        let mut t = Table::of(&["laid in one go", ">to close it", ">glue is open"]);
        for c in &list.stores.too_long {
            t.row([c.name.clone(), format!("{:.0} min", c.minutes), format!("{:.0} min", c.open)]);
        }
        out.push(Block::words("These take longer to close alone than the glue stays open: a second pair of hands, a cooler hour, or in two goes."));
        out.push(Block::Table(t));
    }
    out.push(Block::caution(cautions::beside_glue(&plan.glue)));
    out.push(Block::heading(2, "Fastenings"));
    let mut t = Table::of(&["what", "counted from"]);
    let fastens =
        |f: &CountedFrom| matches!(f, CountedFrom::Fastened { .. } | CountedFrom::Each { .. });
    for l in list.stores.lines.iter().filter(|l| fastens(&l.from)) {
        t.row([l.name.clone(), with_loss(l, units)]);
    }
    out.push(Block::Table(t));
    if !list.stores.cloth.is_empty() {
        out.push(Block::heading(2, "Cloth from the roll"));
        let mut t = Table::of(&[">stretch", ">off the roll", "runs, side by side", ">width"]);
        for (n, s) in list.stores.cloth.iter().enumerate() {
            for (k, r) in s.runs.iter().enumerate() {
                let first = |words: String| if k == 0 { words } else { String::new() };
                let panel = model.panels.get(r.surface).map_or("panel", |p| p.name.as_str());
                t.row([
                    first((n + 1).to_string()),
                    first(units.show(s.length)),
                    format!("{panel}, {}", units.show(r.length)),
                    units.show(r.width),
                ]);
            }
        }
        out.push(Block::Table(t));
    }
    out.push(Block::heading(2, "Coats"));
    let mut t = Table::of(&["what", "how much", "boxes"]);
    let coat = |f: &CountedFrom| {
        matches!(
            f,
            CountedFrom::Weave { .. }
                | CountedFrom::Fairing { .. }
                | CountedFrom::Paint { .. }
                | CountedFrom::Cloth { .. }
        )
    };
    for l in list.stores.lines.iter().filter(|l| coat(&l.from)) {
        let coats = match l.from {
            CountedFrom::Weave { coats, .. } | CountedFrom::Paint { coats, .. } => coats,
            _ => 1,
        };
        t.row([l.name.clone(), with_loss(l, units), "[  ] ".repeat(coats as usize)]);
    }
    out.push(Block::Table(t));
    let names = list.stores.lines.iter().map(|l| l.name.as_str());
    out.extend(cautions::beside_stores(names).into_iter().map(Block::caution));
    if list.stores.lines.iter().any(|l| l.name.contains("epoxy")) {
        out.push(Block::caution(cautions::EPOXY));
    }
    out
}
