//! Where each panel may be split so that its pieces come out of the sheets that can be had.

use std::f64::consts::FRAC_PI_2;

use super::beside::{STAGGER_MM, between, shared};
use super::sheets::{USUAL_SHEET_MM, to_be_had};
use crate::bend::sheet;
use crate::finding::{Finding, Place, StockFact};
use crate::flat::marks;
use crate::geom::P2;
use crate::geom::polyline::bounds;
use crate::hull::MemberSide;
use crate::hull::stock::SheetStock;
use crate::model::battens::on_pattern;
use crate::model::{Model, PanelModel};
use crate::part::{LineId, PanelId};
use crate::stock::joints::{
    self, Avoid, BendAt, InnerWood, JointError, Room, SharedEdge, Split, candidates, split_at,
};

/// Ways to split a panel that are weighed together with the layout.
const WAYS: usize = 5;
/// Face grain may run off a panel's length by this: 10°. Our judgement, no source.
pub(in crate::model) const GRAIN_WITHIN: f64 = 10.0 * std::f64::consts::PI / 180.0;
/// A joint stays clear of a frame by this, mm: room for the block's end and a clamp. Our
/// judgement, no source.
const CLEAR_OF_FRAMES_MM: f64 = 40.0;
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

/// Two joints of neighbours too near each other, in mm of joint as places are counted: dearer than
/// any place but one on a frame.
const TOO_NEAR: f64 = 100_000.0;

/// The ways of every panel, from the keel up: first those that together are cheapest and keep off
/// each other, then such as go with these.
///
/// Each panel has the ways that are cheapest by themselves, and for each way of a neighbour the
/// cheapest that keeps off it, so that a panel with little choice pushes its neighbours aside.
pub(super) fn ways_to_split<'a>(model: &'a Model, findings: &mut Vec<Finding>) -> Vec<Ways<'a>> {
    let mut all: Vec<(PanelId, Splitting, Vec<Split>)> = Vec::new();
    for (i, p) in model.panels.iter().enumerate() {
        let split = Splitting::of(model, p);
        match split.alone() {
            Ok(found) => all.push((PanelId(i), split, found)),
            Err(why) => {
                let place = Place::Stock(p.name.clone());
                findings.push(Finding::stop(place, StockFact::NotSplit(why)));
            }
        }
    }
    let n = all.len();
    let pairs = (1..n).map(|i| (i - 1, i)).chain((1..n).rev().map(|i| (i, i - 1)));
    for (from, to) in pairs {
        let more = all[to].1.beside(all[from].1.p, &all[from].2);
        let known = &mut all[to].2;
        for split in more {
            let same = |k: &Split| places(k) == places(&split);
            if !known.iter().any(same) {
                known.push(split);
            }
        }
    }
    let chosen = together(model, &all.iter().map(|(_, s, f)| (s.p, f)).collect::<Vec<_>>());
    let first: Vec<Split> = all.iter().zip(&chosen).map(|(a, k)| a.2[*k].clone()).collect();
    let ranked = all.iter().enumerate().map(|(i, (_, s, found))| {
        let goes = |split: &Split| {
            let below = i
                .checked_sub(1)
                .map(|b| between(model, (all[b].1.p, &first[b]), (s.p, split)).len());
            let above =
                all.get(i + 1).map(|a| between(model, (s.p, split), (a.1.p, &first[i + 1])).len());
            below.unwrap_or(0) + above.unwrap_or(0)
        };
        let mut order: Vec<(bool, usize, &Split)> = found
            .iter()
            .enumerate()
            .map(|(k, split)| (k != chosen[i], goes(split), split))
            .collect();
        let cost = |o: &(bool, usize, &Split)| o.2.cost;
        order.sort_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)).then(cost(a).total_cmp(&cost(b))));
        order.into_iter().take(WAYS).map(|o| o.2.clone()).collect::<Vec<_>>()
    });
    let found: Vec<Vec<Split>> = ranked.collect();
    all.iter()
        .zip(found)
        .map(|((id, s, _), found)| Ways { id: *id, panel: s.p, found, taken: 0 })
        .collect()
}

/// Where a panel is split across.
fn places(split: &Split) -> Vec<f64> {
    split.joints.iter().filter(|j| !j.lengthwise).map(|j| j.at).collect()
}

/// A way for each panel, by its place, so that all together cost least: a shortest path from the
/// keel to the sheer.
fn together(model: &Model, all: &[(&PanelModel, &Vec<Split>)]) -> Vec<usize> {
    let mut best: Vec<(f64, Vec<usize>)> = vec![(0.0, Vec::new())];
    for (i, (p, found)) in all.iter().enumerate() {
        let reach = |(k, split): (usize, &Split)| {
            let steps = best.iter().map(|(cost, path)| {
                let near = path.last().map_or(0, |b| {
                    between(model, (all[i - 1].0, &all[i - 1].1[*b]), (p, split)).len()
                });
                (cost + split.cost + TOO_NEAR * near as f64, path)
            });
            let least = steps.min_by(|a, b| a.0.total_cmp(&b.0))?;
            Some((least.0, least.1.iter().copied().chain([k]).collect()))
        };
        best = found.iter().enumerate().filter_map(reach).collect();
    }
    let least = best.into_iter().min_by(|a, b| a.0.total_cmp(&b.0));
    least.map_or_else(Vec::new, |(_, path)| path)
}

/// What decides where a panel is split.
struct Splitting<'a> {
    model: &'a Model,
    p: &'a PanelModel,
    outline: Vec<P2>,
    avoid: Vec<Avoid>,
    bends: Vec<BendAt>,
    inner_wood: Vec<InnerWood>,
    room: Room,
    least_radii: (f64, f64),
}

impl<'a> Splitting<'a> {
    fn of(model: &'a Model, p: &'a PanelModel) -> Splitting<'a> {
        let stock = to_be_had(model, &p.sheet);
        let angle = grain_angle(p);
        let least = |thickness: f64| {
            let sheets = &model.materials.sheets;
            sheets.least_radius(sheets.bendable(&p.sheet, thickness), angle)
        };
        Splitting {
            model,
            p,
            outline: p.cut_outline(model.hull.planking.trim_allowance_mm),
            avoid: frames(model, p),
            bends: bends(p),
            inner_wood: inner_wood(model, p),
            room: room(&stock, model.hull.stock.sheet_margin_mm, p.grain_across),
            least_radii: (least(p.thickness), least(2.0 * p.thickness)),
        }
    }

    fn panel<'b>(&'b self, shared: &'b [SharedEdge]) -> joints::Panel<'b> {
        joints::Panel {
            name: &self.p.name,
            outline: &self.outline,
            thickness: self.p.thickness,
            room: self.room,
            grain_within: GRAIN_WITHIN,
            rule: self.model.hull.stock.joint_of(&self.p.name),
            avoid: &self.avoid,
            bends: &self.bends,
            least_radii: self.least_radii,
            shared,
            stagger: STAGGER_MM,
            least_piece: LEAST_PIECE_MM,
            inner_wood: &self.inner_wood,
        }
    }

    /// Its own places, where the builder set them.
    fn own(&self) -> Option<&'a [f64]> {
        let mut rows = self.model.hull.stock.panel_joints.iter();
        let row = rows.find(|j| j.panel == self.p.name && !j.at_mm.is_empty())?;
        Some(&row.at_mm)
    }

    /// Its ways, whatever its neighbours have.
    fn alone(&self) -> Result<Vec<Split>, JointError> {
        match self.own() {
            Some(at) => split_at(&self.panel(&[]), at).map(|s| vec![s]),
            None => candidates(&self.panel(&[]), WAYS),
        }
    }

    /// The cheapest way that keeps off each of a neighbour's.
    fn beside(&self, other: &PanelModel, ways: &[Split]) -> Vec<Split> {
        if self.own().is_some() {
            return Vec::new();
        }
        let best = |way: &Split| {
            let edge = [shared(self.model, (other, way), self.p)?];
            candidates(&self.panel(&edge), 1).ok()?.pop()
        };
        ways.iter().filter_map(best).collect()
    }
}

/// The greatest angle between a ruling and the panel's face grain, radians: there the sheet bends
/// least.
fn grain_angle(p: &PanelModel) -> f64 {
    let to_length = |d: crate::geom::V2| d.y.abs().atan2(d.x.abs());
    let all = p.flat.rulings.iter().map(|r| r.flat_upper - r.flat_lower);
    let all = all.filter(|d| d.norm() > 1.0).map(to_length);
    match p.grain_across {
        true => FRAC_PI_2 - all.fold(FRAC_PI_2, f64::min),
        false => all.fold(0.0, f64::max),
    }
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

/// How the panel is bent at both ends of its rulings, as a sheet feels it.
fn bends(p: &PanelModel) -> Vec<BendAt> {
    let felt = sheet::shares(&p.surface, p.thickness, 1.0);
    let at = |u: f64, curvature: f64| BendAt { u, radius: 1.0 / curvature };
    let rulings = felt.iter().zip(&p.flat.rulings);
    rulings.flat_map(|([l, u], r)| [at(r.flat_lower.x, *l), at(r.flat_upper.x, *u)]).collect()
}

/// Logs and clamps along the panel's edges and battens on it, which blocks end short of.
fn inner_wood(model: &Model, p: &PanelModel) -> Vec<InnerWood> {
    let mut out = Vec::new();
    let mut both = |line: Vec<P2>, width: f64| {
        if p.full_width {
            let port = line.iter().map(|q| P2::new(q.x, -q.y)).collect();
            out.push(InnerWood { line: port, width });
        }
        out.push(InnerWood { line, width });
    };
    for b in model.members.iter().filter(|b| b.member.side == MemberSide::Inside) {
        let on = |line: usize| model.lines.lines.get(line).is_some_and(|l| b.member.follows(l.id));
        let line = match (on(p.lower_line), on(p.lower_line + 1)) {
            (true, _) => p.flat.lower_edge(),
            (_, true) => p.flat.upper_edge(),
            _ => continue,
        };
        // What lies along the keel lies half on either side of it.
        let on_keel =
            p.lower_line == 0 && b.member.follows(LineId::Keel) || p.full_width && on(p.lower_line);
        both(line, if on_keel { 0.5 } else { 1.0 } * b.member.sided_mm);
    }
    let battens = model.members.iter().filter(|b| b.path.is_some()).enumerate();
    for (k, b) in battens {
        both(on_pattern(model, p, k, 0.0), 0.5 * b.member.sided_mm);
    }
    out
}
