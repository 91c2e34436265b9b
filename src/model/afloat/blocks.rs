//! Butt blocks as far as she weighs: the fewest joints that the sheets ask, evenly along each
//! panel. Where they lie to the millimetre is for the layout on sheets to say
//! ([`crate::model::stock`]), which nothing afloat waits for.

use super::super::PanelModel;
use super::super::ashore::Ashore;
use super::super::stock::GRAIN_WITHIN;
use crate::float::blocks::Blocks;
use crate::geom::P2;
use crate::geom::polyline::bounds;
use crate::geom::region::hull_of;
use crate::geom::ring::at_level;
use crate::hull::MemberSide;
use crate::hull::stock::JointKind;
use crate::part::{Copies, PartId};
use crate::stock::joints::block_length;

/// How far (mm) beside a joint its panel's width is taken: more than rounding, and less than it
/// changes over.
const BESIDE_MM: f64 = 0.5;

/// Blocks of every panel that is longer than its sheets and not scarfed.
pub(super) fn blocks(boat: Ashore) -> Vec<Blocks> {
    boat.panels.iter().enumerate().filter_map(|(i, p)| of_panel(boat, i, p)).collect()
}

fn of_panel(boat: Ashore, i: usize, p: &PanelModel) -> Option<Blocks> {
    let plan = &boat.hull.stock;
    let rule = plan.joint_of(&p.name);
    if rule.kind == JointKind::Scarf {
        return None;
    }
    let outline = p.finished_outline();
    let (low, high) = bounds(outline.iter().copied())?;
    let own = plan.panel_joints.iter().find(|j| j.panel == p.name).map(|j| j.at_mm.as_slice());
    let at: Vec<f64> = match own.filter(|at| !at.is_empty()) {
        Some(at) => at.to_vec(),
        None => {
            let margin = 2.0 * plan.sheet_margin_mm;
            let room = largest(boat, p)?.map(|side| (side - margin).max(1.0));
            let cut = p.cut_outline(boat.hull.planking.trim_allowance_mm);
            let pieces = (on_the_sheet(&cut, room[1]) / room[0]).ceil().max(1.0);
            let joints = 1..pieces as usize;
            joints.map(|k| low.x + k as f64 / pieces * (high.x - low.x)).collect()
        }
    };
    let turned: Vec<P2> = outline.iter().map(|q| P2::new(q.y, q.x)).collect();
    let wood = beside(boat, p);
    // Beside the joint on either side: a corner that lies on a level crosses nothing there.
    let across = |u: &f64| {
        let (least, most) = [u - BESIDE_MM, u + BESIDE_MM]
            .into_iter()
            .flat_map(|u| at_level(&turned, u))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), q| (l.min(q.x), h.max(q.x)));
        (most - least - wood).max(0.0)
    };
    let length = rule.block_length_mm.unwrap_or_else(|| block_length(p.thickness));
    let copies = Copies::of(p.full_width).count();
    let area = copies as f64 * length * at.iter().map(across).sum::<f64>();
    (area > 0.0).then(|| Blocks { panel: PartId::panel(i), count: copies * at.len(), area })
}

/// Ways to turn a panel on its sheet, either way, that are looked at.
const TURNS: i32 = 20;

/// Length that a panel takes up along a sheet, mm: turned as far as its grain may run off, where
/// its breadth then stays within `width` mm.
fn on_the_sheet(outline: &[P2], width: f64) -> f64 {
    let hull = hull_of(outline);
    let turned = |k: i32| {
        let (sin, cos) = (GRAIN_WITHIN * f64::from(k) / f64::from(TURNS)).sin_cos();
        let (low, high) =
            bounds(hull.iter().map(|p| P2::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y)))?;
        Some(high - low)
    };
    let straight = turned(0).map_or(0.0, |size| size.x);
    let fits = (-TURNS..=TURNS).filter_map(turned).filter(|size| size.y <= width);
    fits.map(|size| size.x).fold(straight, f64::min)
}

/// Length along the boat and width of the largest sheet of the panel's kind that can be had, mm.
fn largest(boat: Ashore, p: &PanelModel) -> Option<[f64; 2]> {
    let own = boat.hull.stock.sheets.iter().filter(|s| s.sheet == p.sheet);
    let own = own.map(|s| [s.length_mm, s.width_mm]);
    let most = own.max_by(|a, b| (a[0] * a[1]).total_cmp(&(b[0] * b[1])));
    let [length, width] =
        most.or_else(|| boat.materials.sheet(&p.sheet).map(|s| [s.length_mm, s.width_mm]))?;
    Some(if p.grain_across { [width, length] } else { [length, width] })
}

/// Width of the sticks inside along both edges of a panel, which its blocks end short of, mm.
fn beside(boat: Ashore, p: &PanelModel) -> f64 {
    let on = |k: usize| {
        let line = boat.lines.lines.get(k);
        let follows = move |b: &&crate::bend::BentMember| {
            line.is_some_and(|l| b.member.follows(l.id)) && b.member.side == MemberSide::Inside
        };
        boat.members.iter().filter(follows).map(|b| b.member.sided_mm).fold(0.0, f64::max)
    };
    match p.full_width {
        // Both chines, and the keelson in the middle.
        true => on(p.lower_line) + 2.0 * on(p.lower_line + 1),
        false if p.lower_line == 0 => 0.5 * on(0) + on(1),
        false => on(p.lower_line) + on(p.lower_line + 1),
    }
}
