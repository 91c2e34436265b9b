//! What was noticed about stock.

use std::collections::BTreeSet;

use super::beside::{STAGGER_MM, too_near};
use super::lumber::LITTLE_TO_SPARE_MM;
use super::ways::Ways;
use super::{Boxes, LumberList, PanelSplit, SheetKind};
use crate::finding::{Fact, Finding, Place, StockFact};
use crate::geom::polyline::bounds;
use crate::hull::stock::JointKind;
use crate::model::Model;
use crate::part::{Copies, CutFrom, LineId};
use crate::stock::glue::{NotBorne, against};
use crate::stock::nest::{Reason, Supply};
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
pub(super) fn boxes(all: &[Boxes], out: &mut Vec<Finding>) {
    for b in all {
        let (area, thickness, sheets) = (b.area, b.thickness, b.count());
        let fact = StockFact::BoxesOnNoSheet { area, thickness, left: b.left, sheets };
        out.push(Finding::note(Place::Stock("foam".into()), fact));
    }
}

/// Joints of neighbouring panels that lie nearer to each other than they should.
pub(super) fn beside(model: &Model, ways: &[Ways], out: &mut Vec<Finding>) {
    for near in too_near(model.stands(), ways) {
        let (panel, joint) = near.above;
        let fact = StockFact::JointsBeside {
            joint,
            other: near.below,
            line: near.line,
            distance: near.distance,
            least: STAGGER_MM,
        };
        out.push(Finding::watch(Place::Stock(panel), fact));
    }
}

/// Joints of panels that meet their own other hand at the keel: both are split alike.
pub(super) fn hands(model: &Model, panels: &[PanelSplit], out: &mut Vec<Finding>) {
    for p in panels.iter().filter(|p| p.copies == Copies::Mirrored) {
        let line = model.panels.get(p.panel.0).map(|panel| model.line_below(panel));
        let joints = p.split.joints.iter().filter(|j| !j.lengthwise).count();
        if let Some(line) = line.filter(|l| *l == LineId::Keel && joints > 0) {
            let fact = StockFact::JointsOfHands { joints, line };
            out.push(Finding::note(Place::Stock(p.name.clone()), fact));
        }
    }
}

/// Joints that do not bend to the panel's curve where they lie. A block that is laid on when the
/// panel stands bent is worth knowing of; a scarf is glued flat as a rule.
pub(super) fn stiff(panels: &[PanelSplit], out: &mut Vec<Finding>) {
    for p in panels {
        for (k, j) in p.split.joints.iter().enumerate().filter(|(_, j)| !j.bend.bends()) {
            let place = Place::Stock(p.name.clone());
            let fact = StockFact::StiffJoint { joint: k + 1, kind: j.kind, bend: j.bend };
            out.push(match j.kind {
                JointKind::ButtBlock if j.bend.goes_on_bent() => Finding::note(place, fact),
                _ => Finding::watch(place, fact),
            });
        }
    }
}

/// A joint that is used by more than this of what it bears is told. Our judgement, no source.
const NEAR_LIMIT: f64 = 0.95;

/// Joints that bend with their panel, and hardly more.
pub(super) fn near_limit(panels: &[PanelSplit], out: &mut Vec<Finding>) {
    for p in panels {
        let near = |j: &crate::stock::joints::PlacedJoint| {
            j.bend.bends() && j.bend.utilisation() > NEAR_LIMIT
        };
        for (k, j) in p.split.joints.iter().enumerate().filter(|(_, j)| near(j)) {
            let fact = StockFact::NearLimit { joint: k + 1, bend: j.bend };
            out.push(Finding::note(Place::Stock(p.name.clone()), fact));
        }
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
    let woods = plan.lumber.iter().filter(|l| !l.wood().is_empty()).map(|l| &l.species);
    let woods = woods.filter(|n| tables.wood(n.trim()).is_none() && !of_species(n.trim()));
    let sold = |n: &str| stores.lines.iter().any(|l| l.name == n || l.product == n);
    let prices = plan.prices.iter().map(|p| &p.store);
    let prices = prices.filter(|n| table.store(n).is_none() && !sold(n));
    let wastes = plan.waste.iter().map(|w| &w.store);
    let wastes = wastes.filter(|n| table.store(n).is_none() && !sold(n));
    let joints = plan.panel_joints.iter().map(|j| &j.panel);
    let joints = joints.filter(|n| !model.panels.iter().any(|p| p.name == **n));
    let named: BTreeSet<&String> =
        sheets.chain(woods).chain(prices).chain(wastes).chain(joints).collect();
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
            StockFact::OnNoSheet { .. }
                | StockFact::MoreSheets(_)
                | StockFact::LittleUsed { .. }
                | StockFact::BoxesOnNoSheet { .. }
        )
    )
}

/// What is noticed about how parts lie on sheets.
pub(super) fn layouts(sheets: &[SheetKind], out: &mut Vec<Finding>) {
    for kind in sheets {
        unplaced(kind, out);
        let bought = kind.layout.bought(&kind.problem);
        if let Some(why) = kind.layout.bound.excess(bought) {
            out.push(Finding::note(Place::Stock(kind.sheet.clone()), StockFact::MoreSheets(why)));
        }
        little_used(kind, out);
    }
}

/// What is on no sheet, each reason once.
fn unplaced(kind: &SheetKind, out: &mut Vec<Finding>) {
    let mut by_reason: Vec<(&Reason, Vec<(String, usize)>)> = Vec::new();
    for u in &kind.layout.unplaced {
        let name = kind.problem.parts[u.part].name.clone();
        let at = by_reason.iter().position(|(r, _)| **r == u.reason).unwrap_or_else(|| {
            by_reason.push((&u.reason, Vec::new()));
            by_reason.len() - 1
        });
        match by_reason[at].1.iter_mut().find(|(n, _)| *n == name) {
            Some((_, count)) => *count += 1,
            None => by_reason[at].1.push((name, 1)),
        }
    }
    for (reason, parts) in by_reason {
        let name = if let [(name, _)] = parts.as_slice() { name } else { &kind.sheet };
        let place = Place::Stock(name.clone());
        out.push(Finding::stop(place, StockFact::OnNoSheet { reason: reason.clone(), parts }));
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
