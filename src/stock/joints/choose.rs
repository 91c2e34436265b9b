//! Sets of places to split a panel at, the cheapest first.
//!
//! A shortest path from one end of the panel to the other: its nodes are the places of
//! [`super::places`], a step is a piece that fits its sheet. The few best paths to each node
//! are kept, so that the best few sets come out; of sets whose joints lie nearly alike only
//! the best is given.

use std::collections::HashMap;

use super::cut::{MOST_ROWS, Split, between, overlap, rows_of, split};
use super::fit::{Room, fits};
use super::places::{At, cost, places};
use super::rules::taken;
use super::{Avoid, BendAt, InnerWood, JointError, SharedEdge};
use crate::geom::P2;
use crate::geom::polyline::{area, bounds};
use crate::hull::stock::JointRule;

/// A panel to be had from sheets.
#[derive(Debug, Clone)]
pub struct Panel<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its outline without the closing point, u along the boat from the bow.
    pub outline: &'a [P2],
    /// Measured thickness of its sheet, mm.
    pub thickness: f64,
    /// What is left of a sheet for parts; its length lies along the boat.
    pub room: Room,
    /// How far its grain may run off the boat's length, radians.
    pub grain_within: f64,
    /// How it is joined.
    pub rule: JointRule,
    /// What its joints keep out of.
    pub avoid: &'a [Avoid],
    /// How it is bent along its length; empty where it is flat.
    pub bends: &'a [BendAt],
    /// Least radii of its sheet and of one twice as thick, mm.
    pub least_radii: (f64, f64),
    /// Edges that it shares with neighbours, and where their joints meet them.
    pub shared: &'a [SharedEdge],
    /// From a neighbour's joint a joint stays this far, mm along the edge that they share.
    pub stagger: f64,
    /// No piece is shorter than this along the boat, mm.
    pub least_piece: f64,
    /// Sticks on its inner face, which blocks end short of.
    pub inner_wood: &'a [InnerWood],
}

/// Joints across a panel at most: 6 m of half sheets, and one more to dodge a frame. Each is a
/// hard place in the bend, a block or a feather edge to fit, and a way in for water; with more a
/// panel is a patchwork. Our judgement, no source.
pub const MOST_JOINTS: usize = 5;
/// Pieces of a panel at most, likewise: a bottom of 6 m by 1.8 m of half sheets has ten.
pub const MOST_PIECES: usize = 12;
/// Paths kept to each place.
const KEPT: usize = 16;
/// Sets whose joints lie within this (mm) of each other are one.
const ALIKE_MM: f64 = 80.0;
/// What a further row of a piece costs, in mm of joint: a joint as long as the piece, and all
/// the others to fit around it.
const ROW: f64 = 8000.0;

/// A set of places so far, and what it costs.
#[derive(Debug, Clone)]
struct Path {
    cost: f64,
    at: Vec<usize>,
}

/// Up to `most` ways to split a panel, the cheapest first: with as few joints as do, and with
/// one more. A panel that fits whole comes whole first.
///
/// # Errors
/// An outline without area; or pieces that no sheet takes, with how much is missing.
pub fn candidates(panel: &Panel, most: usize) -> Result<Vec<Split>, JointError> {
    let span = sound(panel)?;
    let mut found = sets(panel, span);
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut chosen: Vec<Split> = Vec::new();
    let mut kept: Vec<Vec<f64>> = Vec::new();
    for (cost, at) in found {
        if chosen.len() == most {
            break;
        }
        if !kept.iter().any(|k| alike(k, &at))
            && let Ok(split) = split(panel, &at, cost)
            && split.pieces.len() <= MOST_PIECES
        {
            chosen.push(split);
            kept.push(at);
        }
    }
    match chosen.is_empty() {
        true => Err(too_small(panel, span)),
        false => Ok(chosen),
    }
}

/// Sets of places with what each costs: of as few joints as do, and of one more.
fn sets(panel: &Panel, span: (f64, f64)) -> Vec<(f64, Vec<f64>)> {
    let nodes = places(panel, span, &outermost(panel, span));
    let mut found: Vec<(f64, Vec<f64>)> = Vec::new();
    let mut pieces = Pieces { panel, span, nodes: &nodes, known: HashMap::new() };
    let mut front: Vec<Vec<Path>> = Vec::new();
    let mut first = None;
    for joints in 0..=MOST_JOINTS {
        let ends = pieces.extend(&mut front, joints);
        found.extend(ends.into_iter().map(|p| {
            let at = p.at.iter().map(|i| nodes[*i].u).collect();
            (p.cost, at)
        }));
        if !found.is_empty() && *first.get_or_insert(joints) < joints {
            break;
        }
    }
    found
}

/// The panel split at these places along it, as the builder set them.
///
/// # Errors
/// An outline without area; a place off the panel, or on another; or a piece that no sheet takes,
/// with how much is missing.
pub fn split_at(panel: &Panel, places: &[f64]) -> Result<Split, JointError> {
    let (from, to) = sound(panel)?;
    let mut places: Vec<f64> = places.to_vec();
    places.sort_by(f64::total_cmp);
    let half = 0.5 * taken(&panel.rule, panel.thickness);
    let within = (from + half, to - half);
    let off = |at: &&f64| !(within.0..=within.1).contains(*at);
    if let Some(at) = places.iter().find(off) {
        return Err(JointError::OffPanel { panel: panel.name.into(), at: *at, within });
    }
    let least = 2.0 * half + panel.least_piece;
    if let Some(w) = places.windows(2).find(|w| w[1] - w[0] < least) {
        let at = (w[0], w[1]);
        return Err(JointError::OnEachOther { panel: panel.name.into(), at, least });
    }
    let cost = places.iter().map(|u| cost(panel, *u)).sum();
    split(panel, &places, cost)
}

/// Its ends along the boat.
fn sound(panel: &Panel) -> Result<(f64, f64), JointError> {
    let finite = panel.outline.iter().all(|p| p.x.is_finite() && p.y.is_finite());
    let some = panel.outline.len() >= 3 && finite && area(panel.outline).abs() >= 1.0;
    bounds(panel.outline.iter().copied())
        .filter(|_| some)
        .map(|(low, high)| (low.x, high.x))
        .ok_or_else(|| JointError::NoOutline { panel: panel.name.into() })
}

fn alike(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < ALIKE_MM)
}

/// Places at which pieces as long as a sheet end, counted from either end of the panel.
fn outermost(panel: &Panel, (from, to): (f64, f64)) -> Vec<f64> {
    let over = overlap(panel);
    let step = panel.room.length - over;
    if step <= 0.0 {
        return Vec::new();
    }
    // A hair inside, so that rounding makes no piece too long.
    let first = panel.room.length - 0.5 * over - 1e-6;
    (0..MOST_JOINTS)
        .map(|k| first + step * k as f64)
        .take_while(|d| *d < to - from)
        .flat_map(|d| [from + d, to - d])
        .collect()
}

fn too_small(panel: &Panel, (from, to): (f64, f64)) -> JointError {
    let least = overlap(panel) + panel.least_piece;
    let middle = 0.5 * (from + to);
    let smallest = between(panel.outline, middle - 0.5 * least, middle + 0.5 * least);
    let excess = fits(&smallest, panel.room, panel.grain_within).err().unwrap_or_default();
    let (panel_name, room, enough) = (panel.name.into(), panel.room, enough(panel, (from, to)));
    match excess.length > 0.0 {
        true => JointError::NoSheet { panel: panel_name, room, excess, enough },
        false => JointError::Patchwork { panel: panel_name, room, enough },
    }
}

/// What of a sheet would do for the panel, rounded up to [`ROUND_MM`]: no shorter and no narrower
/// than it is now, and grown from what its length and breadth ask of as many pieces as there may
/// be; `None` where twice as much does not.
fn enough(panel: &Panel, (from, to): (f64, f64)) -> Option<Room> {
    let (low, high) = bounds(panel.outline.iter().copied())?;
    let over = overlap(panel);
    let share = |extent: f64, most: usize| (extent + (most - 1) as f64 * over) / most as f64;
    let length = share(to - from, MOST_JOINTS + 1).max(panel.least_piece + over);
    let width = share(high.y - low.y, MOST_ROWS).max(panel.room.width);
    let rounded = |l: f64| (l / ROUND_MM).ceil() * ROUND_MM;
    (0..=GROWN_STEPS).map(|k| 1.0 + f64::from(k) / f64::from(GROWN_STEPS)).find_map(|by| {
        let room = Room {
            length: rounded(by * length.max(panel.room.length)),
            width: rounded(by * width),
        };
        let grown = Panel { room, ..panel.clone() };
        let split_there = |(cost, at): &(f64, Vec<f64>)| {
            split(&grown, at, *cost).is_ok_and(|s| s.pieces.len() <= MOST_PIECES)
        };
        sets(&grown, (from, to)).iter().any(split_there).then_some(room)
    })
}

/// A sheet's size is told in these, mm.
const ROUND_MM: f64 = 50.0;
/// Steps from a size to twice as much.
const GROWN_STEPS: u32 = 10;

/// Pieces between places, each looked at once.
struct Pieces<'a> {
    panel: &'a Panel<'a>,
    span: (f64, f64),
    nodes: &'a [At],
    known: HashMap<(usize, usize), Option<f64>>,
}

impl Pieces<'_> {
    /// What the piece from node `a` to node `b` costs (`usize::MAX` for an end of the panel);
    /// `None` where it fits no sheet or is shorter than pieces may be.
    fn cost(&mut self, a: usize, b: usize) -> Option<f64> {
        if let Some(known) = self.known.get(&(a, b)) {
            return *known;
        }
        let half = 0.5 * overlap(self.panel);
        let from = self.nodes.get(a).map_or(self.span.0, |n| n.u - half);
        let to = self.nodes.get(b).map_or(self.span.1, |n| n.u + half);
        let whole = a == usize::MAX && b == usize::MAX;
        let diagonal = self.panel.room.length.hypot(self.panel.room.width);
        let cost = if to - from > diagonal || (!whole && to - from < self.panel.least_piece) {
            None
        } else {
            rows_of(self.panel, from, to).map(|n| ROW * (n - 1) as f64)
        };
        self.known.insert((a, b), cost);
        cost
    }

    /// Goes one joint further: paths of `joints` joints to each node, into `front`, and those
    /// that reach the other end.
    fn extend(&mut self, front: &mut Vec<Vec<Path>>, joints: usize) -> Vec<Path> {
        const END: usize = usize::MAX;
        if joints == 0 {
            *front = vec![Vec::new(); self.nodes.len()];
            return self
                .cost(END, END)
                .map(|cost| Path { cost, at: Vec::new() })
                .into_iter()
                .collect();
        }
        let mut next: Vec<Vec<Path>> = vec![Vec::new(); self.nodes.len()];
        for (b, reached) in next.iter_mut().enumerate() {
            if joints == 1 {
                let own = self.cost(END, b).map(|c| c + self.nodes[b].cost);
                reached.extend(own.map(|cost| Path { cost, at: vec![b] }));
                continue;
            }
            for (a, paths) in front.iter().enumerate().take(b) {
                let Some(step) = (!paths.is_empty()).then(|| self.cost(a, b)).flatten() else {
                    continue;
                };
                reached.extend(paths.iter().map(|p| Path {
                    cost: p.cost + step + self.nodes[b].cost,
                    at: p.at.iter().copied().chain([b]).collect(),
                }));
            }
            reached.sort_by(|a, b| a.cost.total_cmp(&b.cost));
            reached.truncate(KEPT);
        }
        *front = next;
        let mut ends = Vec::new();
        for (a, paths) in front.iter().enumerate() {
            if let Some(step) = (!paths.is_empty()).then(|| self.cost(a, END)).flatten() {
                let done = |p: &Path| Path { cost: p.cost + step, at: p.at.clone() };
                ends.extend(paths.iter().map(done));
            }
        }
        ends
    }
}
