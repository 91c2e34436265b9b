//! Where battens lie on the bottom: evenly between keelson and chine log at every place, from
//! the first frame at which they have room to the stern.

use super::section::{Across, Skin};
use super::spacing::Battening;
use crate::geom::{P3, V3, unit};
use crate::hull::{Battens, Framing, HullLine, Member, MemberSide};
use crate::material::Wood;
use crate::part::LineId;

/// Battens begin where what lies between two of them is at least as wide as one. Common
/// practice, no source.
const ROOM: f64 = 1.0;
/// They run this far (mm) past the first frame's wood.
const PAST_FRAME_MM: f64 = 12.0;
/// Ducks of a batten are about this far (mm) apart.
const DUCK_EVERY_MM: f64 = 120.0;

/// Battens laid on a bottom.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidBattens {
    /// How many a side.
    pub count: usize,
    /// Where they begin, mm aft.
    pub from: f64,
    /// Width of the keelson on its side of the centreplane, mm.
    keel: f64,
    /// Width of the chine log, mm.
    log: f64,
}

/// A batten's way: its line, and the skin's normals along it by arc length.
#[derive(Debug, Clone)]
pub struct Way {
    /// The line on the moulded surface.
    pub line: HullLine,
    /// (distance along it in mm, outward unit normal).
    pub normals: Vec<(f64, V3)>,
}

/// Half-breadth (mm) of the first chine at `x` mm aft.
fn breadth(skin: &Skin, x: f64) -> Option<f64> {
    let chine = &skin.lines.lines.get(1)?.spline;
    chine.parameter_at_x(x).map(|t| chine.at(t).y)
}

impl LaidBattens {
    /// How `plan` is laid on `skin`; `None` where she has no bottom apart from her sides, or
    /// no frame at which they have room.
    pub fn of(
        plan: &Battens,
        framing: &Framing,
        skin: &Skin,
        stations: &[f64],
        members: &[Member],
    ) -> Option<LaidBattens> {
        if skin.panels.len() < 2 {
            return None;
        }
        let inside = |line: LineId| {
            members
                .iter()
                .filter(|m| m.follows(line) && m.side == MemberSide::Inside)
                .map(|m| m.sided_mm)
                .fold(0.0, f64::max)
        };
        let (keel, log) = (0.5 * inside(LineId::Keel), inside(skin.lines.lines[1].id));
        let widths: Vec<(f64, f64)> =
            stations.iter().filter_map(|x| Some((*x, breadth(skin, *x)?))).collect();
        let widest = widths.iter().map(|w| w.1).fold(0.0, f64::max);
        let count = plan.number(widest - keel - log);
        let room = |w: f64| (w - keel - log) / (count + 1) as f64 > (1.0 + ROOM) * plan.sided_mm;
        // Abaft the last frame without room.
        let cramped = widths.iter().rposition(|w| !room(w.1)).map_or(0, |i| i + 1);
        let first = widths.get(cramped)?.0;
        Some(LaidBattens { count, from: first - framing.sided_mm - PAST_FRAME_MM, keel, log })
    }

    /// Half-breadth of batten `k` (from 0 at the keel) where the chine's is `breadth`, mm.
    pub fn out(&self, k: usize, breadth: f64) -> f64 {
        let clear = breadth - self.keel - self.log;
        self.keel + clear * (k + 1) as f64 / (self.count + 1) as f64
    }

    /// The place of batten `k` on the bottom at `x` mm aft, and the skin's normal there.
    fn place(&self, skin: &Skin, k: usize, x: f64) -> Option<(P3, V3)> {
        let y = self.out(k, breadth(skin, x)?);
        let section = skin.section(Across::station(x));
        let points = &section.edge(0)?.points;
        let w = points.windows(2).find(|w| w[0].at.x <= y && y <= w[1].at.x)?;
        let share = (y - w[0].at.x) / (w[1].at.x - w[0].at.x).max(1e-12);
        let at = w[0].at + share * (w[1].at - w[0].at);
        let normal = unit(w[0].normal.lerp(&w[1].normal, share))?;
        Some((P3::new(x, at.x, at.y), normal))
    }

    /// The way of batten `k` along the bottom of `skin`; `None` where its ducks will take no
    /// spline.
    pub fn way(&self, skin: &Skin, k: usize) -> Option<Way> {
        // Aft it ends where a plane across the boat still meets the whole bottom.
        let end = |l: &HullLine| l.spline.at(l.spline.end()).x;
        let aft = skin.lines.lines[..2].iter().map(end).fold(f64::INFINITY, f64::min);
        let pieces = ((aft - self.from) / DUCK_EVERY_MM).ceil().max(2.0);
        let mut placed: Vec<(P3, V3)> = (0..=pieces as usize)
            .map(|i| self.from + (aft - self.from) * i as f64 / pieces)
            .filter_map(|x| self.place(skin, k, x))
            .collect();
        // From there it runs on to the bottom's own end, on a raked transom.
        let edge = skin.panels[0].surface.end_edge(true);
        let y = self.out(k, edge.last()?.0.y);
        let at_end = edge.windows(2).find(|w| w[0].0.y <= y && y <= w[1].0.y).and_then(|w| {
            let share = (y - w[0].0.y) / (w[1].0.y - w[0].0.y).max(1e-12);
            Some((w[0].0 + share * (w[1].0 - w[0].0), unit(w[0].1.lerp(&w[1].1, share))?))
        });
        // The plane at the very end may miss the skin by rounding: the last place decides.
        let reached = placed.last().map_or(f64::INFINITY, |p| p.0.x);
        placed.extend(at_end.filter(|(p, _)| p.x > reached + 1.0));
        let ducks: Vec<P3> = placed.iter().map(|p| p.0).collect();
        let line = HullLine::through(LineId::Batten(k + 1), &ducks)?;
        let normals: Vec<(f64, V3)> = placed
            .iter()
            .filter_map(|(p, n)| {
                let t = line.spline.parameter_at_x(p.x)?;
                Some((line.arc.length_at(&line.spline, t), *n))
            })
            .collect();
        (normals.len() > 1).then_some(Way { line, normals })
    }

    /// What they do for the skin between the frames.
    pub fn battening(&self, plan: &Battens, wood: &Wood) -> Battening {
        let inertia = plan.sided_mm * plan.moulded_mm.powi(3) / 12.0;
        let stiffness = wood.moe(plan.moisture_pct) * inertia;
        Battening { count: self.count, from: self.from, stiffness }
    }
}
