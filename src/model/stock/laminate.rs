//! Boards of a thickness that no stock has, laminated of layers of thinner sheets: from what is
//! left of those that other parts are cut from anyway, or of spare ones on the document's list, so
//! that no sheet is bought for a pad. Layers may be of several thicknesses: 18 and 6 for 24.

use super::sheets::{Gathered, SAME_THICKNESS_MM, kind_of};
use super::{Laid, Laminated};
use crate::finding::{Finding, Place, StockFact};
use crate::model::{Model, PanelModel};
use crate::part::PartId;
use crate::stock::nest;

/// Layers together may be thicker or thinner than the board by this, mm, glue lines among them.
/// Our judgement, no source.
const WITHIN_MM: f64 = 0.6;
/// More layers than this are work for a press.
const MOST_LAYERS: usize = 5;
/// Sets of layers that are laid to see what they take, those of the fewest layers first.
const MOST_SETS: usize = 16;

/// What the parts of a kind take.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Taken {
    /// Sheets that the document's list has not.
    pub(super) bought: usize,
    /// Price of all, as far as it is known.
    pub(super) price: f64,
    /// All sheets.
    pub(super) sheets: usize,
}

impl Taken {
    /// By what is bought, then by price, then by sheets.
    fn is_less_than(&self, other: &Taken) -> bool {
        let same = self.bought.cmp(&other.bought).then(self.price.total_cmp(&other.price));
        same.then(self.sheets.cmp(&other.sheets)).is_lt()
    }
}

/// A set of layers for a board: how many of each kind of the pool.
type Layers = Vec<(usize, usize)>;

/// Moves the boards of a kind to thinner ones as layers, where the document has no sheet as thick,
/// the layers add up within [`WITHIN_MM`], and fewer sheets are bought so; of several sets the one
/// for which least is bought, then that of the least price, of the fewest sheets, of the fewest
/// layers. `taken` says what the parts of a kind take, `None` where they cannot all be laid.
pub(super) fn laminated(
    model: &Model,
    kinds: &mut Vec<Gathered>,
    mut taken: impl FnMut(&Gathered) -> Option<Taken>,
    findings: &mut Vec<Finding>,
) -> Vec<Laminated> {
    let mut out = Vec::new();
    let wanted: Vec<f64> =
        kinds.iter().filter(|k| only_boards(model, k)).map(|k| k.thickness).collect();
    for thickness in wanted {
        let Some(at) = kinds.iter().position(|k| k.thickness == thickness) else {
            continue;
        };
        let board = kinds.remove(at);
        let mut pool = pool(model, kinds);
        let Some(layers) = best(model, &board, (&mut pool, kinds.len()), &mut taken) else {
            kinds.insert(at, board);
            continue;
        };
        let of: Vec<(usize, String)> =
            layers.iter().map(|(k, n)| (*n, pool[*k].sheet.clone())).collect();
        for (part, laid) in &board.parts {
            let Laid::Part(id) = laid else { continue };
            let fact = StockFact::Laminated { of: of.clone() };
            findings.push(Finding::note(Place::Stock(part.name.clone()), fact));
            out.push(Laminated { part: *id, name: part.name.clone(), of: of.clone() });
        }
        for (k, n) in layers {
            let host = kind_of(kinds, &pool[k].sheet, pool[k].thickness);
            host.needs = host.needs.or(pool[k].needs);
            host.parts.extend(layered(&board, n));
        }
    }
    out
}

/// The kinds that layers may be cut from: those that other parts are cut from, then those of the
/// document's list that nothing is.
fn pool(model: &Model, kinds: &[Gathered]) -> Vec<Gathered> {
    let mut out = kinds.to_vec();
    for row in &model.hull.stock.sheets {
        if out.iter().all(|k| k.sheet != row.sheet)
            && let Some(sheet) = model.materials.sheet(&row.sheet)
        {
            kind_of(&mut out, &row.sheet, sheet.thickness_mm);
        }
    }
    out
}

/// Whether nothing but boards and pads is cut of a kind that the document has no sheet of.
fn only_boards(model: &Model, kind: &Gathered) -> bool {
    let near = |t: f64| (t - kind.thickness).abs() < SAME_THICKNESS_MM;
    let had = model.hull.stock.sheets.iter().any(|s| {
        s.sheet == kind.sheet
            || model.materials.sheet(&s.sheet).is_some_and(|r| near(r.thickness_mm))
    });
    let of_panels =
        model.stands().panels.iter().any(|p| p.sheet == kind.sheet && near(p.thickness));
    let board = |l: &Laid| matches!(l, Laid::Part(PartId::TransomBoard(_) | PartId::Pad));
    !had && !of_panels && !kind.parts.is_empty() && kind.parts.iter().all(|(_, l)| board(l))
}

/// All sets of two layers or more that add up to a board, the fewest layers first.
fn sets(model: &Model, board: &Gathered, pool: &[Gathered]) -> Vec<Layers> {
    let thick: Vec<f64> = pool.iter().map(|k| measured(model, k)).collect();
    let mut out: Vec<Layers> = Vec::new();
    let mut open: Vec<(Layers, usize, f64)> = vec![(Vec::new(), 0, board.thickness)];
    for (k, t) in thick.iter().enumerate() {
        let mut next = Vec::new();
        for (layers, count, left) in &open {
            for n in 0..=MOST_LAYERS - count {
                let left = left - n as f64 * t;
                if left < -WITHIN_MM {
                    break;
                }
                let mut layers = layers.clone();
                layers.extend((n > 0).then_some((k, n)));
                next.push((layers, count + n, left));
            }
        }
        open = next;
    }
    open.sort_by_key(|(layers, count, _)| (*count, layers.len()));
    let add_up = |(_, count, left): &&(Layers, usize, f64)| *count > 1 && left.abs() <= WITHIN_MM;
    out.extend(open.iter().filter(add_up).map(|(layers, _, _)| layers.clone()));
    out.truncate(MOST_SETS);
    out
}

/// The set of layers for a board with which least is bought; `None` where with none of them less
/// is than for the board in one piece. Of the kinds of the pool from `spare` on nothing is cut yet.
fn best(
    model: &Model,
    board: &Gathered,
    (pool, spare): (&mut [Gathered], usize),
    taken: &mut impl FnMut(&Gathered) -> Option<Taken>,
) -> Option<Layers> {
    let whole = taken(board).map(|t| t.bought);
    let mut best: Option<(Taken, Layers)> = None;
    for layers in sets(model, board, pool) {
        let Some(more) = more_for(board, &layers, (pool, spare), taken) else {
            continue;
        };
        let less = whole.is_none_or(|whole| more.bought < whole);
        if less && best.as_ref().is_none_or(|(least, _)| more.is_less_than(least)) {
            best = Some((more, layers));
        }
        if best.as_ref().is_some_and(|(least, _)| least.sheets == 0) {
            break;
        }
    }
    best.map(|(_, layers)| layers)
}

/// What a set of layers takes beyond what its kinds take without; `None` where they have no room.
fn more_for(
    board: &Gathered,
    layers: &Layers,
    (pool, spare): (&mut [Gathered], usize),
    taken: &mut impl FnMut(&Gathered) -> Option<Taken>,
) -> Option<Taken> {
    let mut sum = Taken::default();
    for (k, n) in layers {
        let before = if *k >= spare { Taken::default() } else { taken(&pool[*k])? };
        // Its ways are weighed once; with the layers they are kept where they do.
        pool[*k].needs = pool[*k].needs.or(Some(before.sheets));
        let mut with = pool[*k].clone();
        with.parts.extend(layered(board, *n));
        let after = taken(&with)?;
        sum.bought += after.bought.saturating_sub(before.bought);
        sum.sheets += after.sheets.saturating_sub(before.sheets);
        sum.price += (after.price - before.price).max(0.0);
    }
    Some(sum)
}

/// How thick a kind is: as its panels were measured, if any are cut from it.
fn measured(model: &Model, kind: &Gathered) -> f64 {
    let same = |p: &&PanelModel| {
        p.sheet == kind.sheet && (p.thickness - kind.thickness).abs() < SAME_THICKNESS_MM
    };
    model.stands().panels.iter().find(same).map_or(kind.thickness, |p| p.thickness)
}

/// The boards of a kind as layers.
fn layered(board: &Gathered, layers: usize) -> Vec<(nest::Part, Laid)> {
    let layer = |(part, laid): &(nest::Part, Laid)| {
        let name = format!("{}, layer", part.name);
        let count = part.count * layers;
        (nest::Part { name, count, ..part.clone() }, *laid)
    };
    board.parts.iter().map(layer).collect()
}
