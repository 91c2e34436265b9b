//! Boards of a thickness that no stock has, laminated of layers of a thinner sheet from which
//! other parts are cut anyway: where what is left of its sheets takes them, no sheet is bought
//! for a pad.

use super::sheets::{Gathered, SAME_THICKNESS_MM};
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

/// Moves the boards of a kind to a thinner one as layers, where the document has no sheet as
/// thick, the layers add up within [`WITHIN_MM`], and the thinner kind takes no more sheets for
/// it; `sheets` counts those of a kind, `None` where its parts cannot all be laid.
pub(super) fn laminated(
    model: &Model,
    kinds: &mut Vec<Gathered>,
    mut sheets: impl FnMut(&Gathered) -> Option<usize>,
    findings: &mut Vec<Finding>,
) -> Vec<Laminated> {
    let mut out = Vec::new();
    let wanted: Vec<f64> =
        kinds.iter().filter(|k| only_boards(model, k)).map(|k| k.thickness).collect();
    for thickness in wanted {
        let Some(at) = kinds.iter().position(|k| k.thickness == thickness) else {
            continue;
        };
        let Some((host, layers)) = host(model, kinds, at, &mut sheets) else {
            continue;
        };
        let sheet = kinds[host].sheet.clone();
        let boards = layered(&kinds[at], layers);
        for (part, laid) in &kinds[at].parts {
            let Laid::Part(id) = laid else { continue };
            let fact = StockFact::Laminated { layers, sheet: sheet.clone() };
            findings.push(Finding::note(Place::Stock(part.name.clone()), fact));
            out.push(Laminated {
                part: *id,
                name: part.name.clone(),
                layers,
                sheet: sheet.clone(),
            });
        }
        kinds[host].parts.extend(boards);
        kinds.remove(at);
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

/// The kind that takes the layers of kind `at`, of the fewest, and how many for a board.
fn host(
    model: &Model,
    kinds: &mut [Gathered],
    at: usize,
    sheets: &mut impl FnMut(&Gathered) -> Option<usize>,
) -> Option<(usize, usize)> {
    let board = kinds[at].clone();
    let mut found: Vec<(usize, usize)> = (0..kinds.len())
        .filter(|i| *i != at)
        .filter_map(|i| {
            let thin = measured(model, &kinds[i]);
            let layers = (board.thickness / thin).round();
            let off = (layers * thin - board.thickness).abs();
            let few = (2.0..=MOST_LAYERS as f64).contains(&layers);
            (few && off <= WITHIN_MM).then_some((i, layers as usize))
        })
        .collect();
    found.sort_by_key(|(i, layers)| (*layers, *i));
    found.into_iter().find(|(i, layers)| {
        // Its ways are weighed once; with the layers they are kept where they do.
        let needs = kinds[*i].needs.or_else(|| sheets(&kinds[*i]));
        kinds[*i].needs = needs;
        let mut with = kinds[*i].clone();
        with.parts.extend(layered(&board, *layers));
        needs.is_some_and(|n| n > 0 && sheets(&with).is_some_and(|after| after <= n))
    })
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
