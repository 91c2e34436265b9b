//! Panels split at joints and, with everything else of plywood, laid on sheets.

use std::f64::consts::FRAC_PI_2;

use crate::finding::{Finding, Place, StockFact};
use crate::flat::marks;
use crate::geom::polyline::bounds;
use crate::geom::{P2, V3};
use crate::hull::stock::SheetStock;
use crate::model::{Model, PanelModel};
use crate::part::{Copies, CutFrom, PanelId, Part, PartId, Shape};
use crate::stock::joints::{self, Avoid, BendAt, EdgeWood, Room, Split, candidates, split_at};
use crate::stock::nest::{
    self, Effort, Hand, Layout, Problem, Progress, Sheet, Supply, Turning, first_layout,
};

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
const SAME_THICKNESS_MM: f64 = 0.6;
/// Size of a sheet of no row, mm: that of a building yard. Common practice, no source.
const USUAL_SHEET_MM: (f64, f64) = (2440.0, 1220.0);
/// Ways to split a panel that are weighed together with the layout.
const WAYS: usize = 5;
/// Face grain may run off a panel's length by this: 10°. Our judgement, no source.
const GRAIN_WITHIN: f64 = 10.0 * std::f64::consts::PI / 180.0;
/// A joint stays clear of a frame by this, mm: room for the block's end and a clamp. Our
/// judgement, no source.
const CLEAR_OF_FRAMES_MM: f64 = 40.0;
/// Joints of neighbouring panels stay this far apart, mm. Common practice, no source.
const STAGGER_MM: f64 = 300.0;
/// No piece of a panel is shorter, mm. Our judgement, no source.
const LEAST_PIECE_MM: f64 = 400.0;

/// A kind while its parts are gathered.
struct Gathered {
    sheet: String,
    thickness: f64,
    parts: Vec<(nest::Part, Laid)>,
}

/// Splits and layouts of everything of plywood.
pub(super) fn sheets(
    model: &Model,
    effort: Effort,
    seed: u64,
    tell: &mut dyn FnMut(&str, &Progress) -> bool,
    findings: &mut Vec<Finding>,
) -> (Vec<PanelSplit>, Vec<SheetKind>) {
    let mut ways = ways_to_split(model.stands(), findings);
    let mut kinds: Vec<Gathered> = Vec::new();
    for part in model.parts.all() {
        if !matches!(part.id, PartId::Panel(_)) {
            other_part(model, part, &mut kinds);
        }
    }
    for w in &ways {
        kind_of(&mut kinds, &w.panel.sheet, w.panel.thickness);
    }
    let mut out = Vec::new();
    for kind in &kinds {
        let chosen = choose(model, kind, &mut ways, seed);
        let (problem, of) = problem(model, kind, &chosen);
        let mut on = |p: &Progress| tell(&kind.sheet, p);
        match nest::nest(&problem, effort, seed, &mut on) {
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
    let splits = ways.into_iter().filter_map(|w| {
        let split = w.found.into_iter().nth(w.taken)?;
        let copies = Copies::of(w.panel.full_width);
        Some(PanelSplit { panel: w.id, name: w.panel.name.clone(), copies, split })
    });
    (splits.collect(), out)
}

/// A panel and the ways to split it, the cheapest first.
struct Ways<'a> {
    id: PanelId,
    panel: &'a PanelModel,
    found: Vec<Split>,
    taken: usize,
}

fn ways_to_split<'a>(model: &'a Model, findings: &mut Vec<Finding>) -> Vec<Ways<'a>> {
    let mut out: Vec<Ways> = Vec::new();
    for (i, p) in model.panels.iter().enumerate() {
        let outline = p.cut_outline(model.hull.planking.trim_allowance_mm);
        let before = out.last().and_then(|w| Some((w.panel, w.found.first()?)));
        let neighbours = before.map_or_else(Vec::new, |(q, split)| joints_of(q, split, p));
        let (avoid, bends, edge_wood) = (frames(model, p), bends(p), edge_wood(model, p));
        let stock = to_be_had(model, &p.sheet);
        let plan = &model.hull.stock;
        let half = model.materials.sheets.bendable(&p.sheet, 2.0 * p.thickness);
        let radius = |sheet| model.materials.sheets.least_radius(sheet, FRAC_PI_2);
        let least = model.materials.sheets.bendable(&p.sheet, p.thickness);
        let panel = joints::Panel {
            name: &p.name,
            outline: &outline,
            thickness: p.thickness,
            room: room(&stock, plan.sheet_margin_mm, p.grain_across),
            grain_within: GRAIN_WITHIN,
            rule: plan.joint_of(&p.name),
            avoid: &avoid,
            bends: &bends,
            least_radii: (radius(least), radius(half)),
            neighbours: &neighbours,
            stagger: STAGGER_MM,
            least_piece: LEAST_PIECE_MM,
            edge_wood: &edge_wood,
        };
        let own = plan.panel_joints.iter().find(|j| j.panel == p.name && !j.at_mm.is_empty());
        let found = match own {
            Some(j) => split_at(&panel, &j.at_mm).map(|s| vec![s]),
            None => candidates(&panel, WAYS),
        };
        match found {
            Ok(found) => out.push(Ways { id: PanelId(i), panel: p, found, taken: 0 }),
            Err(why) => {
                let place = Place::Stock(p.name.clone());
                findings.push(Finding::stop(place, StockFact::NotSplit(why)));
            }
        }
    }
    out
}

/// What is left of the largest sheet, its length along the boat.
fn room(stock: &[SheetStock], margin: f64, grain_across: bool) -> Room {
    let largest = stock
        .iter()
        .map(|s| (s.length_mm - 2.0 * margin, s.width_mm - 2.0 * margin))
        .max_by(|a, b| (a.0 * a.1).total_cmp(&(b.0 * b.1)))
        .unwrap_or(USUAL_SHEET_MM);
    match grain_across {
        true => Room { length: largest.1, width: largest.0 },
        false => Room { length: largest.0, width: largest.1 },
    }
}

/// The sheets of this name that can be had: the document's, or the table's size, as many as
/// are wanted.
fn to_be_had(model: &Model, sheet: &str) -> Vec<SheetStock> {
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

/// Where frames stand on the pattern: no joint there.
fn frames(model: &Model, p: &PanelModel) -> Vec<Avoid> {
    let at = |x: f64| bounds(marks::station(&p.flat, x)).map(|(l, h)| (l.x, h.x));
    let sided = model.hull.framing.sided_mm;
    let frames = model.woodwork.frames.iter();
    frames
        .filter_map(|f| {
            let (from, to) = at(f.x)?;
            Some(Avoid {
                from: from - 0.5 * sided,
                to: to + 0.5 * sided,
                clear: CLEAR_OF_FRAMES_MM,
                forbidden: true,
                why: format!("frame {}", f.station),
            })
        })
        .collect()
}

/// How the panel is bent from ruling to ruling: the turn of its normal over the way between.
fn bends(p: &PanelModel) -> Vec<BendAt> {
    let rulings = p.surface.rulings.iter().zip(&p.flat.rulings);
    let all: Vec<_> = rulings
        .map(|(r, f)| {
            let normal: V3 = r.normal_lower + r.normal_upper;
            let middle = P2::from(0.5 * (f.flat_lower.coords + f.flat_upper.coords));
            (normal, middle, f.flat_upper - f.flat_lower)
        })
        .collect();
    all.windows(2)
        .filter_map(|w| {
            let turned = w[0].0.angle(&w[1].0);
            let along = (w[0].2 + w[1].2).try_normalize(1e-9)?;
            let way = (w[1].1 - w[0].1).perp(&along).abs();
            let radius = if turned > 1e-9 { way / turned } else { f64::INFINITY };
            Some(BendAt { u: 0.5 * (w[0].1.x + w[1].1.x), radius })
        })
        .collect()
}

/// Logs and clamps along the panel's edges, which blocks end short of.
fn edge_wood(model: &Model, p: &PanelModel) -> Vec<EdgeWood> {
    let mut out = Vec::new();
    for b in &model.members {
        let on = |line: usize| model.lines.lines.get(line).is_some_and(|l| b.member.follows(l.id));
        let line = match (on(p.lower_line), on(p.lower_line + 1)) {
            (true, _) => p.flat.lower_edge(),
            (_, true) => p.flat.upper_edge(),
            _ => continue,
        };
        let width = b.member.sided_mm;
        if p.full_width {
            let port = line.iter().map(|q| P2::new(q.x, -q.y)).collect();
            out.push(EdgeWood { line: port, width });
        }
        out.push(EdgeWood { line, width });
    }
    out
}

/// Joints of the panel below, as places along this one: the same distance aft.
fn joints_of(below: &PanelModel, split: &Split, p: &PanelModel) -> Vec<f64> {
    let aft = |u: f64| {
        let near = |f: &crate::flat::develop::FlatRuling| (f.flat_upper.x - u).abs();
        let all = below.flat.rulings.iter().zip(&below.surface.rulings);
        all.min_by(|a, b| near(a.0).total_cmp(&near(b.0))).map(|(_, r)| r.upper.x)
    };
    let joints = split.joints.iter().filter(|j| !j.lengthwise);
    joints
        .filter_map(|j| {
            let there = marks::station(&p.flat, aft(j.at)?);
            there.first().map(|q| q.x)
        })
        .collect()
}

/// The kind of this name and thickness, begun if there is none.
fn kind_of<'k>(kinds: &'k mut Vec<Gathered>, sheet: &str, thickness: f64) -> &'k mut Gathered {
    let same =
        |k: &Gathered| k.sheet == sheet && (k.thickness - thickness).abs() < SAME_THICKNESS_MM;
    let at = kinds.iter().position(same).unwrap_or_else(|| {
        kinds.push(Gathered { sheet: sheet.into(), thickness, parts: Vec::new() });
        kinds.len() - 1
    });
    &mut kinds[at]
}

/// What plywood of no row is cut from: a panel's sheet as thick, one of the document's stock,
/// one of the table, or plywood by its thickness.
fn ply(model: &Model, thickness: f64) -> String {
    let near = |t: f64| (t - thickness).abs() < SAME_THICKNESS_MM;
    let table = |name: &str| model.materials.sheet(name).is_some_and(|s| near(s.thickness_mm));
    let panel = model.panels.iter().find(|p| near(p.thickness)).map(|p| p.sheet.clone());
    let own = || model.hull.stock.sheets.iter().map(|s| &s.sheet).find(|s| table(s)).cloned();
    let rows = || {
        let row = model.materials.sheets.sheets.iter().find(|s| near(s.thickness_mm));
        row.map(|s| s.name.clone())
    };
    let named = || format!("plywood {}", model.hull.units.gauge(thickness));
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

/// Chooses, one panel after the other, the way to split it with which the layout made at once
/// is best; gives what each panel of the kind is split into.
fn choose(model: &Model, kind: &Gathered, ways: &mut [Ways], seed: u64) -> Vec<(usize, Split)> {
    let mine: Vec<usize> = (0..ways.len())
        .filter(|i| {
            let p = ways[*i].panel;
            p.sheet == kind.sheet && (p.thickness - kind.thickness).abs() < SAME_THICKNESS_MM
        })
        .collect();
    let splits = |ways: &[Ways]| -> Vec<(usize, Split)> {
        let split = |i: &usize| Some((*i, ways[*i].found.get(ways[*i].taken)?.clone()));
        mine.iter().filter_map(split).collect()
    };
    let score = |ways: &[Ways]| {
        let (problem, _) = problem(model, kind, &splits(ways));
        let Ok(layout) = first_layout(&problem, seed) else {
            return (usize::MAX, usize::MAX, f64::INFINITY, 0);
        };
        let reach = layout.sheets.iter().map(|s| s.reach(&problem)).fold(0.0, f64::max);
        let work: f64 = mine.iter().map(|i| ways[*i].found[ways[*i].taken].cost).sum();
        (layout.unplaced.len(), layout.sheets.len(), work + reach, layout.bound.sheets)
    };
    let mut best = score(ways);
    for i in &mine {
        // With as few sheets as can do there is nothing to be gained.
        if best.0 == 0 && best.1 <= best.3 {
            break;
        }
        for way in 1..ways[*i].found.len() {
            let before = std::mem::replace(&mut ways[*i].taken, way);
            let now = score(ways);
            let better = now.0.cmp(&best.0).then(now.1.cmp(&best.1)).then(now.2.total_cmp(&best.2));
            if better.is_lt() { best = now } else { ways[*i].taken = before }
        }
    }
    splits(ways)
}

/// All parts of a kind with the pieces of its panels, and the sheets to lay them on.
fn problem(model: &Model, kind: &Gathered, panels: &[(usize, Split)]) -> (Problem, Vec<Laid>) {
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
            for block in &joint.blocks {
                parts.push(nest::Part {
                    name: format!("butt block of the {}", p.name),
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
