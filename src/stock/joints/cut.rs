//! The pieces of a panel that is split at given places, and the blocks behind its joints.

use super::choose::Panel;
use super::fit::{Excess, ROOM_MM, fits};
use super::places::{in_the_way, radius_at};
use super::rules::{JointBend, bend_at, taken};
use super::{JointError, Room};
use crate::geom::P2;
use crate::geom::polyline::bounds;
use crate::geom::region::Region;
use crate::geom::ring::{across_line, centroid};
use crate::hull::stock::JointKind;

/// Rows of pieces side by side at most: a bottom of 1.8 m from half sheets; more are strips. Our
/// judgement, no source.
pub const MOST_ROWS: usize = 3;

/// A face of a sheet, as the boat has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetFace {
    /// Towards the inside of the boat.
    Inside,
    /// Towards the water.
    Outside,
}

impl SheetFace {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            SheetFace::Inside => "inside",
            SheetFace::Outside => "outside",
        }
    }
}

/// A piece of a panel, cut from one sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// The panel's name, and which piece of how many counted from the bow.
    pub name: String,
    /// Its outline with what a scarf needs, mm, on the panel's own pattern, anticlockwise.
    pub outline: Vec<P2>,
    /// How far it is turned to lie in a sheet, radians anticlockwise.
    pub turned: f64,
}

/// A joint of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedJoint {
    /// Scarf or butt block.
    pub kind: JointKind,
    /// It runs along the boat and joins pieces side by side; otherwise it crosses the panel.
    pub lengthwise: bool,
    /// Its middle, along the panel or, lengthwise, across it, mm.
    pub at: f64,
    /// What it takes square to itself: the slope of a scarf, the length of a block, mm.
    pub taken: f64,
    /// Length of a scarf over thickness; `None` for a block.
    pub slope: Option<f64>,
    /// Lines drawn on the pattern: of a scarf both ends of its slope, the one nearer to the
    /// bow (or to the lower edge) first; of a butt the cut.
    pub lines: Vec<[P2; 2]>,
    /// The blocks behind it, clear of the sticks on the panel's inner face, from its lower edge up.
    pub blocks: Vec<Vec<P2>>,
    /// The face that is planed to the slope on the piece nearer to the bow or to the lower
    /// edge, and on the other; for a block the face that it lies on, twice. A scarf's outer
    /// feather edge points aft, so that water runs over it. Common practice, no source.
    pub faces: [SheetFace; 2],
    /// What it does to bending there.
    pub bend: JointBend,
    /// What lies in its way all the same.
    pub in_the_way: Vec<String>,
}

/// A panel split at one set of places.
#[derive(Debug, Clone, PartialEq)]
pub struct Split {
    /// Its joints, from the bow, those along the boat last; none where it fits whole.
    pub joints: Vec<PlacedJoint>,
    /// Its pieces, from the bow, in each row from the lower edge.
    pub pieces: Vec<Piece>,
    /// What it costs in work and place, in mm of joint; to compare splits of one panel by.
    pub cost: f64,
}

/// Which way a band of the panel runs.
#[derive(Clone, Copy)]
enum Across {
    U,
    V,
}

/// What of the outline lies between two values of u or v.
fn band(outline: &Region, (low, high): (P2, P2), axis: Across, from: f64, to: f64) -> Region {
    let (mut a, mut b) = (low - P2::new(1.0, 1.0).coords, high + P2::new(1.0, 1.0).coords);
    match axis {
        Across::U => (a.x, b.x) = (from.max(a.x), to.min(b.x)),
        Across::V => (a.y, b.y) = (from.max(a.y), to.min(b.y)),
    }
    if a.x >= b.x || a.y >= b.y {
        return Region::default();
    }
    outline.and(&Region::of(&[a, P2::new(b.x, a.y), b, P2::new(a.x, b.y)]))
}

/// What a scarf's two pieces have in common along it, mm; nothing for a butt.
pub(super) fn overlap(panel: &Panel) -> f64 {
    match panel.rule.kind {
        JointKind::Scarf => taken(&panel.rule, panel.thickness),
        JointKind::ButtBlock => 0.0,
    }
}

/// The panel split at `places` along u. Pieces that are wider than the sheet are split
/// lengthwise into as few rows as fit, of one width.
///
/// # Errors
/// A piece that fits no sheet at all, with how much it is over.
pub(super) fn split(panel: &Panel, places: &[f64], cost: f64) -> Result<Split, JointError> {
    let whole = Region::of(panel.outline);
    let Some(bounds) = bounds(panel.outline.iter().copied()) else {
        return Err(JointError::NoOutline { panel: panel.name.into() });
    };
    let half = 0.5 * overlap(panel);
    let mut joints: Vec<PlacedJoint> =
        places.iter().map(|u| joint(panel, &whole, bounds, Across::U, *u)).collect();
    let mut outlines: Vec<(Vec<P2>, f64)> = Vec::new();
    for i in 0..=places.len() {
        let from = i.checked_sub(1).map_or(f64::NEG_INFINITY, |k| places[k] - half);
        let to = places.get(i).map_or(f64::INFINITY, |u| u + half);
        for ring in band(&whole, bounds, Across::U, from, to).rings() {
            match fits(&ring, panel.room, panel.grain_within) {
                Ok(turned) => outlines.push((ring, turned)),
                Err(over) => rows(panel, &ring, over, &mut outlines, &mut joints)?,
            }
        }
    }
    let count = outlines.len();
    let pieces = outlines
        .into_iter()
        .enumerate()
        .map(|(i, (outline, turned))| {
            let name = match count {
                1 => panel.name.to_string(),
                _ => format!("{}, piece {} of {count}", panel.name, i + 1),
            };
            Piece { name, outline, turned }
        })
        .collect();
    Ok(Split { joints, pieces, cost })
}

/// A piece that is wider than the sheet, split into rows.
fn rows(
    panel: &Panel,
    ring: &[P2],
    over: Excess,
    outlines: &mut Vec<(Vec<P2>, f64)>,
    joints: &mut Vec<PlacedJoint>,
) -> Result<(), JointError> {
    let no_sheet = |excess: Excess| JointError::NoSheet {
        panel: panel.name.into(),
        room: panel.room,
        excess,
        enough: None,
    };
    let region = Region::of(ring);
    let (low, high) = bounds(ring.iter().copied()).ok_or_else(|| no_sheet(over))?;
    let half = 0.5 * overlap(panel);
    if 2.0 * half >= panel.room.width || high.x - low.x > panel.room.length + ROOM_MM {
        return Err(no_sheet(over));
    }
    let least = ((high.y - low.y - 2.0 * half) / (panel.room.width - 2.0 * half)).ceil();
    for count in (least.max(2.0) as usize)..=MOST_ROWS {
        let at = |k: usize| low.y + (high.y - low.y) * k as f64 / count as f64;
        let row = |k: usize| {
            let from = if k == 0 { low.y } else { at(k) - half };
            let to = if k + 1 == count { high.y } else { at(k + 1) + half };
            band(&region, (low, high), Across::V, from, to).rings()
        };
        let found: Option<Vec<(Vec<P2>, f64)>> = (0..count)
            .flat_map(row)
            .map(|r| fits(&r, panel.room, panel.grain_within).ok().map(|a| (r, a)))
            .collect();
        if let Some(found) = found {
            outlines.extend(found);
            joints.extend((1..count).map(|k| joint(panel, &region, (low, high), Across::V, at(k))));
            return Ok(());
        }
    }
    Err(no_sheet(over))
}

/// The joint at one place of a region.
fn joint(panel: &Panel, region: &Region, bounds: (P2, P2), axis: Across, at: f64) -> PlacedJoint {
    let taken = taken(&panel.rule, panel.thickness);
    let scarf = panel.rule.kind == JointKind::Scarf;
    let ring = region.largest();
    let edges: Vec<f64> = if scarf { vec![at - 0.5 * taken, at + 0.5 * taken] } else { vec![at] };
    let lines = edges.iter().filter_map(|e| line(&ring, axis, *e)).collect();
    let blocks = match scarf {
        true => Vec::new(),
        false => block(panel, &band(region, bounds, axis, at - 0.5 * taken, at + 0.5 * taken)),
    };
    let lengthwise = matches!(axis, Across::V);
    let radius = if lengthwise { f64::INFINITY } else { radius_at(panel, at) };
    let way = |u: f64| in_the_way(panel, u).map(|(why, _)| why.to_string()).collect();
    PlacedJoint {
        kind: panel.rule.kind,
        lengthwise,
        at,
        taken,
        slope: scarf.then_some(panel.rule.slope),
        lines,
        blocks,
        faces: match scarf {
            true => [SheetFace::Inside, SheetFace::Outside],
            false => [SheetFace::Inside; 2],
        },
        bend: bend_at(&panel.rule, radius, panel.least_radii),
        in_the_way: if lengthwise { Vec::new() } else { way(at) },
    }
}

/// Where a straight line of constant u or v crosses a ring, outermost to outermost.
fn line(ring: &[P2], axis: Across, at: f64) -> Option<[P2; 2]> {
    let (side, order): (fn(P2) -> f64, fn(P2) -> f64) = match axis {
        Across::U => (|p| p.x, |p| p.y),
        Across::V => (|p| p.y, |p| p.x),
    };
    let hits: Vec<P2> = across_line(ring, |p| side(p) - at).collect();
    let first = hits.iter().copied().min_by(|a, b| order(*a).total_cmp(&order(*b)))?;
    let last = hits.iter().copied().max_by(|a, b| order(*a).total_cmp(&order(*b)))?;
    Some([first, last])
}

/// A block narrower than this, mm, holds no row of fastenings on either side. Our judgement, no
/// source.
const LEAST_BLOCK_MM: f64 = 30.0;

/// Blocks that fill a band of the panel between the sticks on its inner face, from its lower edge
/// (or from port) up.
fn block(panel: &Panel, band: &Region) -> Vec<Vec<P2>> {
    let sticks = panel.inner_wood.iter().map(|e| Region::along(&e.line, e.width));
    let mut left = sticks.fold(band.clone(), |left, stick| left.minus(&stick)).rings();
    left.retain(|ring| !Region::of(ring).grown(-0.5 * LEAST_BLOCK_MM).is_empty());
    left.sort_by(|a, b| centroid(a).y.total_cmp(&centroid(b).y));
    left
}

/// Whether a piece from `from` to `to` along u fits, and how many rows it needs.
pub(super) fn rows_of(panel: &Panel, from: f64, to: f64) -> Option<usize> {
    let points = between(panel.outline, from, to);
    let room: Room = panel.room;
    match fits(&points, room, panel.grain_within) {
        Ok(_) => Some(1),
        Err(_) => {
            let (low, high) = bounds(points)?;
            let half = 0.5 * overlap(panel);
            let enough = high.x - low.x <= room.length + ROOM_MM && 2.0 * half < room.width;
            let least = (high.y - low.y - 2.0 * half) / (room.width - 2.0 * half);
            enough.then(|| (least.ceil() as usize).max(2)).filter(|n| *n <= MOST_ROWS)
        }
    }
}

/// Corners of what of a ring lies between two values of u, and where those cut it.
pub(super) fn between(ring: &[P2], from: f64, to: f64) -> Vec<P2> {
    let mut points: Vec<P2> = ring.iter().copied().filter(|p| (from..=to).contains(&p.x)).collect();
    for at in [from, to] {
        points.extend(across_line(ring, |p| p.x - at));
    }
    points
}
