//! Panels split at joints and, with everything else of plywood, laid on sheets.

use std::f64::consts::FRAC_PI_2;

use super::choose::{AtOnce, choose};
use super::laminate::{Taken, laminated};
use super::ways::ways_to_split;
use super::{Laminated, told};
use crate::finding::{Finding, Place, StockFact};
use crate::geom::P2;
use crate::hull::stock::SheetStock;
use crate::model::{Model, PanelModel};
use crate::part::{Copies, CutFrom, PanelId, Part, PartId, Shape};
use crate::stock::joints::Split;
use crate::stock::nest::{self, Effort, Hand, Layout, Problem, Progress, Sheet, Supply, Turning};

/// A panel and where it is joined.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelSplit {
    /// Which panel.
    pub panel: PanelId,
    /// Its name.
    pub name: String,
    /// How many of it there are: one over both sides, or a pair.
    pub copies: Copies,
    /// Its joints and pieces, on its own pattern.
    pub split: Split,
}

/// What a part that lies on a sheet is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Laid {
    /// A piece of a panel, by its place in [`Split::pieces`].
    Piece(PanelId, usize),
    /// A block behind a joint of a panel, by the joint's place in [`Split::joints`].
    Block(PanelId, usize),
    /// A part of the register.
    Part(PartId),
}

/// Sheets of one kind and thickness, and what lies on them.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetKind {
    /// Its name in the sheet table, or what plywood of no row is called.
    pub sheet: String,
    /// Measured thickness, mm.
    pub thickness: f64,
    /// What was to be laid, and on what.
    pub problem: Problem,
    /// What each of the problem's parts is.
    pub of: Vec<Laid>,
    /// How it lies.
    pub layout: Layout,
}

/// Sheets whose thickness differs by less (mm) are one kind.
pub(super) const SAME_THICKNESS_MM: f64 = 0.6;
/// Size of a sheet of no row, mm: that of a building yard. Common practice, no source.
pub(super) const USUAL_SHEET_MM: (f64, f64) = (2440.0, 1220.0);
/// A kind while its parts are gathered.
#[derive(Debug, Clone)]
pub(super) struct Gathered {
    pub(super) sheet: String,
    pub(super) thickness: f64,
    pub(super) parts: Vec<(nest::Part, Laid)>,
    /// Sheets that it was found to need; nothing while its panels' ways were not weighed.
    pub(super) needs: Option<usize>,
}

/// What is cut of plywood.
#[derive(Debug, Clone)]
pub(super) struct Sheets {
    pub(super) panels: Vec<PanelSplit>,
    pub(super) kinds: Vec<SheetKind>,
    pub(super) laminated: Vec<Laminated>,
}

/// Splits and layouts of everything of plywood.
pub(super) fn sheets(
    model: &Model,
    effort: Effort,
    seed: u64,
    tell: &mut dyn FnMut(&str, &Progress) -> bool,
    findings: &mut Vec<Finding>,
) -> Sheets {
    let mut ways = ways_to_split(model.stands(), findings);
    let mut kinds = gathered(model, ways.iter().map(|w| w.panel));
    let mut at_once = AtOnce::default();
    let laid = |kind: &Gathered| {
        let (problem, _) = problem(model, kind, &choose(model, kind, &mut ways, &mut at_once));
        let layout = at_once.layout(&problem)?;
        layout.unplaced.is_empty().then(|| taken(&problem, layout))
    };
    let laminated = laminated(model, &mut kinds, laid, findings);
    let mut out = Vec::new();
    for kind in &kinds {
        let chosen = choose(model, kind, &mut ways, &mut at_once);
        let (problem, of) = problem(model, kind, &chosen);
        let mut on = |p: &Progress| tell(&kind.sheet, p);
        match at_once.nest(&problem, effort, seed, &mut on) {
            Ok(layout) => out.push(SheetKind {
                sheet: kind.sheet.clone(),
                thickness: kind.thickness,
                problem,
                of,
                layout,
            }),
            Err(faults) => findings.extend(faults.iter().map(|f| {
                Finding::stop(Place::Stock(kind.sheet.clone()), StockFact::NotLaid(f.clone()))
            })),
        }
    }
    told::beside(model, &ways, findings);
    let splits = ways.into_iter().filter_map(|w| {
        let split = w.found.into_iter().nth(w.taken)?;
        let copies = Copies::of(w.panel.full_width);
        Some(PanelSplit { panel: w.id, name: w.panel.name.clone(), copies, split })
    });
    let panels: Vec<PanelSplit> = splits.collect();
    told::hands(model, &panels, findings);
    told::stiff(&panels, findings);
    told::near_limit(&panels, findings);
    Sheets { panels, kinds: out, laminated }
}

/// What a layout takes.
fn taken(problem: &Problem, layout: &Layout) -> Taken {
    let price = layout.sheets.iter().filter_map(|s| problem.sheets[s.sheet].price).sum();
    Taken { bought: layout.bought(problem), price, sheets: layout.sheets.len() }
}

/// What is cut of each kind besides panels, and the kinds of these panels.
pub(super) fn gathered<'a>(
    model: &Model,
    panels: impl Iterator<Item = &'a PanelModel>,
) -> Vec<Gathered> {
    let mut kinds: Vec<Gathered> = Vec::new();
    for part in model.parts.all() {
        if !matches!(part.id, PartId::Panel(_)) {
            other_part(model, part, &mut kinds);
        }
    }
    for p in panels {
        // What was measured of a panel's sheet goes before what a gusset is drawn with.
        kind_of(&mut kinds, &p.sheet, p.thickness).thickness = p.thickness;
    }
    kinds
}

/// The sheets of this name that can be had: the document's, or the table's size, as many as
/// are wanted.
pub(super) fn to_be_had(model: &Model, sheet: &str) -> Vec<SheetStock> {
    let own: Vec<SheetStock> =
        model.hull.stock.sheets.iter().filter(|s| s.sheet == sheet).cloned().collect();
    if !own.is_empty() {
        return own;
    }
    let (length_mm, width_mm) =
        model.materials.sheet(sheet).map_or(USUAL_SHEET_MM, |s| (s.length_mm, s.width_mm));
    vec![SheetStock {
        sheet: sheet.into(),
        length_mm,
        width_mm,
        count: None,
        price: None,
        one_good_face: false,
        outline_mm: Vec::new(),
    }]
}

/// The kind of this name and thickness, begun if there is none.
pub(super) fn kind_of<'k>(
    kinds: &'k mut Vec<Gathered>,
    sheet: &str,
    thickness: f64,
) -> &'k mut Gathered {
    let same =
        |k: &Gathered| k.sheet == sheet && (k.thickness - thickness).abs() < SAME_THICKNESS_MM;
    let at = kinds.iter().position(same).unwrap_or_else(|| {
        kinds.push(Gathered { sheet: sheet.into(), thickness, parts: Vec::new(), needs: None });
        kinds.len() - 1
    });
    &mut kinds[at]
}

/// What plywood of no row is cut from: a panel's sheet as thick, one of the document's stock,
/// one of the table, or plywood by its thickness.
pub(super) fn ply(model: &Model, thickness: f64) -> String {
    let near = |t: f64| (t - thickness).abs() < SAME_THICKNESS_MM;
    let table = |name: &str| model.materials.sheet(name).is_some_and(|s| near(s.thickness_mm));
    let panel = model.panels.iter().find(|p| near(p.thickness)).map(|p| p.sheet.clone());
    let own = || model.hull.stock.sheets.iter().map(|s| &s.sheet).find(|s| table(s)).cloned();
    let rows = || {
        let row = model.materials.sheets.sheets.iter().find(|s| near(s.thickness_mm));
        row.map(|s| s.name.clone())
    };
    let named = || format!("plywood {}", model.hull.stock.sold_by.units().gauge(thickness));
    panel.or_else(own).or_else(rows).unwrap_or_else(named)
}

/// Puts a flat part of plywood that is no panel with those of its kind.
fn other_part(model: &Model, part: &Part, kinds: &mut Vec<Gathered>) {
    let (CutFrom::Ply { thickness }, Shape::Flat(outline)) = (&part.cut_from, &part.shape) else {
        return;
    };
    let board = matches!(part.id, PartId::TransomBoard(_) | PartId::Pad);
    let piece = nest::Part {
        name: part.name.clone(),
        outline: outline.clone(),
        count: part.copies.count(),
        hand: Hand::Either,
        turning: if board { Turning::EndForEnd } else { Turning::Quarters },
        // A transom's grain runs across the boat, which is along its own first axis.
        grain: board.then_some(0.0),
    };
    let name = ply(model, *thickness);
    kind_of(kinds, &name, *thickness).parts.push((piece, Laid::Part(part.id)));
}

/// All parts of a kind with the pieces of its panels, and the sheets to lay them on.
pub(super) fn problem(
    model: &Model,
    kind: &Gathered,
    panels: &[(usize, Split)],
) -> (Problem, Vec<Laid>) {
    let plan = &model.hull.stock;
    let stock = to_be_had(model, &kind.sheet);
    let one_face = stock.iter().any(|s| s.one_good_face);
    let (mut parts, mut of) = (Vec::new(), Vec::new());
    for (i, split) in panels {
        let p = &model.stands().panels[*i];
        let copies = Copies::of(p.full_width).count();
        let grain = if p.grain_across { FRAC_PI_2 } else { 0.0 };
        let hand = if one_face { Hand::Pairs } else { Hand::Either };
        for (k, piece) in split.pieces.iter().enumerate() {
            parts.push(nest::Part {
                name: piece.name.clone(),
                outline: piece.outline.clone(),
                count: copies,
                hand,
                turning: Turning::EndForEnd,
                // Turned to lie in its sheet, the grain runs off its length the other way.
                grain: Some(grain - piece.turned),
            });
            of.push(Laid::Piece(PanelId(*i), k));
        }
        for (k, joint) in split.joints.iter().enumerate() {
            for (b, block) in joint.blocks.iter().enumerate() {
                parts.push(nest::Part {
                    name: block_name(&p.name, (k, split.joints.len()), (b, joint.blocks.len())),
                    outline: block.clone(),
                    count: copies,
                    hand: Hand::Either,
                    turning: Turning::EndForEnd,
                    grain: Some(grain),
                });
                of.push(Laid::Block(PanelId(*i), k));
            }
        }
    }
    for (part, laid) in &kind.parts {
        parts.push(part.clone());
        of.push(*laid);
    }
    let sheets = stock.iter().map(|s| sheet(s, plan.sheet_margin_mm)).collect();
    (Problem { parts, sheets, kerf: plan.kerf_mm }, of)
}

/// A butt block as the builder calls it: of which joint where a panel has several, and which where
/// several lie beside each other.
fn block_name(
    panel: &str,
    (joint, joints): (usize, usize),
    (block, blocks): (usize, usize),
) -> String {
    let of = |word: &str, k: usize, n: usize| match n {
        1 => String::new(),
        _ => format!(", {word}{}", k + 1),
    };
    let beside = if blocks > 1 { format!(" of {blocks}") } else { String::new() };
    format!(
        "butt block of the {panel}{}{}{beside}",
        of("joint ", joint, joints),
        of("block ", block, blocks)
    )
}

/// A row of the stock as the layout takes it.
fn sheet(s: &SheetStock, margin: f64) -> Sheet {
    let supply = s.count.map_or(Supply::Bought, |n| Supply::OnHand(n as usize));
    let whole = Sheet::rectangle(s.sheet.clone(), s.length_mm, s.width_mm, supply);
    let outline = match s.outline_mm.is_empty() {
        true => whole.outline.clone(),
        false => s.outline_mm.iter().map(|(x, y)| P2::new(*x, *y)).collect(),
    };
    Sheet { outline, price: s.price, edge_margin: margin, ..whole }
}
