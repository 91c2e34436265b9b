//! Where each panel may be split so that its pieces come out of the sheets that can be had.

use std::f64::consts::FRAC_PI_2;

use super::sheets::{USUAL_SHEET_MM, to_be_had};
use crate::finding::{Finding, Place, StockFact};
use crate::flat::marks;
use crate::geom::polyline::bounds;
use crate::geom::{P2, V3};
use crate::hull::stock::SheetStock;
use crate::model::{Model, PanelModel};
use crate::part::PanelId;
use crate::stock::joints::{self, Avoid, BendAt, EdgeWood, Room, Split, candidates, split_at};

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

/// A panel and the ways to split it, the cheapest first.
pub(super) struct Ways<'a> {
    pub(super) id: PanelId,
    pub(super) panel: &'a PanelModel,
    pub(super) found: Vec<Split>,
    /// Which of them is taken.
    pub(super) taken: usize,
}

/// The ways of every panel.
pub(super) fn ways_to_split<'a>(model: &'a Model, findings: &mut Vec<Finding>) -> Vec<Ways<'a>> {
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
        // What lies along the keel lies half on either side of it.
        let on_keel = p.lower_line == 0 && b.member.follows(crate::part::LineId::Keel)
            || p.full_width && on(p.lower_line);
        let width = if on_keel { 0.5 } else { 1.0 } * b.member.sided_mm;
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
