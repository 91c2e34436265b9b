//! What was noticed about stock.

use std::collections::BTreeSet;

use super::lumber::LITTLE_TO_SPARE_MM;
use super::{LumberList, SheetKind};
use crate::finding::{Fact, Finding, Place, StockFact};
use crate::geom::polyline::bounds;
use crate::model::Model;
use crate::part::{Amount, CutFrom, PartId};
use crate::stock::glue::{NotBorne, against};
use crate::stock::nest::Supply;
use crate::stock::stores::Stores;

/// Of a bought sheet less than this is little. Our judgement, no source.
const LITTLE: f64 = 0.25;

/// What the boat and the shop ask that the glue does not bear.
pub(super) fn glue(model: &Model, out: &mut Vec<Finding>) {
    let plan = &model.hull.stock;
    let table = model.materials.stores.with_own_rows(&plan.stores);
    let moisture = model.hull.members.iter().map(|m| m.moisture());
    for what in table.glue(&plan.glue).map_or(vec![], |g| against(g, &plan.gluing, moisture)) {
        // A joint that water takes apart sinks her; what the shop or the wood lacks can be mended
        // before the glue is spread. Our judgement, no source.
        let say: fn(Place, StockFact) -> Finding = match what {
            NotBorne::Immersion { .. } => Finding::stop,
            _ => Finding::watch,
        };
        out.push(say(Place::Stock(plan.glue.clone()), StockFact::NotBorne(what)));
    }
}

/// What is of plywood and lies on no sheet.
pub(super) fn boxes(model: &Model, out: &mut Vec<Finding>) {
    let mut by_thickness: Vec<(f64, f64)> = Vec::new();
    for part in model.parts.all() {
        let (PartId::FoamBox(_), CutFrom::Ply { thickness }, Amount::Area(area)) =
            (part.id, &part.cut_from, part.amount)
        else {
            continue;
        };
        match by_thickness.iter_mut().find(|(t, _)| t == thickness) {
            Some((_, sum)) => *sum += area,
            None => by_thickness.push((*thickness, area)),
        }
    }
    for (thickness, area) in by_thickness {
        let fact = StockFact::BoxesOnNoSheet { area, thickness };
        out.push(Finding::note(Place::Stock("foam".into()), fact));
    }
}

/// Rows of the document's lists that name nothing.
pub(super) fn unused(model: &Model, kinds: &[SheetKind], stores: &Stores, out: &mut Vec<Finding>) {
    let (plan, tables) = (&model.hull.stock, &model.materials);
    let table = tables.stores.with_own_rows(&plan.stores);
    let cut_from = |name: &str| kinds.iter().any(|k| k.sheet == name);
    let sheets = plan.sheets.iter().map(|s| &s.sheet);
    let sheets = sheets.filter(|n| tables.sheet(n).is_none() && !cut_from(n));
    let of_species = |name: &str| {
        let of = |p: &CutFrom| matches!(p, CutFrom::Lumber { species, .. } if species == name);
        model.parts.all().iter().any(|p| of(&p.cut_from))
    };
    let woods = plan.lumber.iter().map(|l| &l.species);
    let woods = woods.filter(|n| tables.wood(n).is_none() && !of_species(n));
    let sold = |n: &str| stores.lines.iter().any(|l| l.name == n || l.product == n);
    let prices = plan.prices.iter().map(|p| &p.store);
    let prices = prices.filter(|n| table.store(n).is_none() && !sold(n));
    let named: BTreeSet<&String> = sheets.chain(woods).chain(prices).collect();
    for name in named {
        out.push(Finding::watch(Place::Stock(name.clone()), StockFact::UnusedRow));
    }
}

/// Everything that cannot be had, and what costs more than it must.
pub(super) fn told(
    sheets: &[SheetKind],
    lumber: &LumberList,
    stores: &Stores,
    out: &mut Vec<Finding>,
) {
    layouts(sheets, out);
    sticks(lumber, out);
    rest(stores, out);
}

/// Whether a finding is of how parts lie on sheets.
pub(super) fn is_of_a_layout(f: &Finding) -> bool {
    matches!(
        f.fact,
        Fact::Stock(
            StockFact::OnNoSheet(_) | StockFact::MoreSheets(_) | StockFact::LittleUsed { .. }
        )
    )
}

/// What is noticed about how parts lie on sheets.
pub(super) fn layouts(sheets: &[SheetKind], out: &mut Vec<Finding>) {
    for kind in sheets {
        for u in &kind.layout.unplaced {
            let place = Place::Stock(kind.problem.parts[u.part].name.clone());
            out.push(Finding::stop(place, StockFact::OnNoSheet(u.reason.clone())));
        }
        let bought = kind.layout.bought(&kind.problem);
        if let Some(why) = kind.layout.bound.excess(bought) {
            out.push(Finding::note(Place::Stock(kind.sheet.clone()), StockFact::MoreSheets(why)));
        }
        little_used(kind, out);
    }
}

/// Sheets that are bought whole for little.
fn little_used(kind: &SheetKind, out: &mut Vec<Finding>) {
    for s in &kind.layout.sheets {
        let stock = &kind.problem.sheets[s.sheet];
        let share = s.density(&kind.problem);
        let all: Vec<_> = s.placed.iter().flat_map(|p| &p.outline).collect();
        if let Some((low, high)) = bounds(all.into_iter().copied())
            && stock.supply == Supply::Bought
            && share < LITTLE
        {
            let around = 2.0 * stock.edge_margin;
            let piece = (high.x - low.x + around, high.y - low.y + around);
            let fact = StockFact::LittleUsed { share, piece };
            out.push(Finding::note(Place::Stock(kind.sheet.clone()), fact));
        }
    }
}

/// Whether a finding is of how sticks are cut.
pub(super) fn is_of_a_stick(f: &Finding) -> bool {
    matches!(
        f.fact,
        Fact::Stock(StockFact::NoLumber(_) | StockFact::ScarfsBeside | StockFact::LittleToSpare(_))
    )
}

/// What is noticed about how sticks are cut.
pub(super) fn sticks(lumber: &LumberList, out: &mut Vec<Finding>) {
    let stick = |cut: usize| Place::Stock(lumber.cuts[cut].0.name.clone());
    for m in &lumber.plan.missing {
        out.push(Finding::stop(stick(m.cut), StockFact::NoLumber(m.why.clone())));
    }
    for (n, board) in lumber.plan.boards.iter().enumerate() {
        let spare = lumber.spare(board);
        // Sums of lengths are rounded by less than a thousandth.
        if spare < LITTLE_TO_SPARE_MM - 1e-3 {
            let place = Place::Stock(format!("board {}", n + 1));
            out.push(Finding::note(place, StockFact::LittleToSpare(spare)));
        }
    }
    for s in lumber.plan.scarfs.iter().filter(|s| !s.staggered) {
        out.push(Finding::note(stick(s.cut), StockFact::ScarfsBeside));
    }
}

fn rest(stores: &Stores, out: &mut Vec<Finding>) {
    for c in &stores.too_long {
        let slow = StockFact::SlowToClose { minutes: c.minutes, open: c.open };
        out.push(Finding::watch(Place::Stock(c.name.clone()), slow));
    }
    for c in &stores.too_cold {
        let fact = StockFact::TooCold { least: c.least, shop: c.shop };
        out.push(Finding::watch(Place::Stock(c.product.clone()), fact));
    }
    for name in &stores.unknown {
        out.push(Finding::watch(Place::Stock(name.clone()), StockFact::UnknownStore));
    }
    // One for each joint is found: a pair, both sides of a block.
    let thin: BTreeSet<&String> = stores.too_thin.iter().collect();
    for name in thin {
        out.push(Finding::note(Place::Stock(name.clone()), StockFact::TooThin));
    }
}
