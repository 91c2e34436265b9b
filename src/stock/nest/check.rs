//! Every layout is checked in full precision before it is given out: true outlines, `geo`'s
//! distances, nothing of the search.

use geo::{Contains, Coord, Distance, Euclidean, LineString, Polygon};
use serde::Serialize;

use super::layout::{Layout, Placed, SheetLayout};
use super::problem::{Problem, Supply};
use crate::geom::P2;
use crate::geom::polyline::area;

/// Lengths are compared to this (mm): a hundredth of a hair, far above rounding.
const SAME_MM: f64 = 1e-6;

/// What is wrong with a layout.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Wrong {
    /// Two placed parts of a sheet are nearer than the saw needs.
    TooNear {
        /// Which sheet of the layout.
        sheet: usize,
        /// Which two of its placed parts.
        pair: [usize; 2],
        /// How far apart they are, mm; 0 where they overlap.
        gap: f64,
    },
    /// A placed part reaches into the margin or over the edge.
    OverEdge {
        /// Which sheet of the layout.
        sheet: usize,
        /// Which of its placed parts.
        part: usize,
        /// How far it stays inside the edge, mm; 0 where it reaches over it.
        inside: f64,
    },
    /// An outline is not the part's, turned and shifted as it says.
    NotThePart {
        /// Which sheet of the layout.
        sheet: usize,
        /// Which of its placed parts.
        part: usize,
    },
    /// A copy is there more or less than once.
    Count {
        /// Which of the problem's parts.
        part: usize,
        /// Which copy.
        copy: usize,
        /// How often, unplaced ones counted.
        times: usize,
    },
    /// More sheets of a kind than are on hand.
    Supply {
        /// Which of the problem's sheets.
        sheet: usize,
        /// How many are used.
        used: usize,
    },
}

impl Wrong {
    /// The placed part that would have to go, if one lies wrongly.
    pub(super) fn placed<'a>(&self, layout: &'a Layout) -> Option<&'a Placed> {
        match self {
            Wrong::TooNear { sheet, pair: [_, part], .. }
            | Wrong::OverEdge { sheet, part, .. }
            | Wrong::NotThePart { sheet, part } => layout.sheets.get(*sheet)?.placed.get(*part),
            Wrong::Count { .. } | Wrong::Supply { .. } => None,
        }
    }
}

/// All that is wrong with a layout, by the problem's own outlines; empty if nothing is.
pub fn wrongs(problem: &Problem, layout: &Layout) -> Vec<Wrong> {
    let mut found = counts(problem, layout);
    for (index, sheet) in layout.sheets.iter().enumerate() {
        found.extend(wrongs_of(problem, index, sheet));
    }
    found
}

pub(super) fn polygon(ring: &[P2]) -> Polygon<f64> {
    let line: LineString<f64> = ring.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
    Polygon::new(line, vec![])
}

/// Distance between two placed parts, mm; `None` if their boxes are further apart than `most`.
pub(super) fn gap(a: &Placed, b: &Placed, most: f64) -> Option<f64> {
    let ((al, ah), (bl, bh)) = (a.extent(), b.extent());
    let apart = (bl - ah).sup(&(al - bh)).max();
    (apart < most).then(|| Euclidean.distance(&polygon(&a.outline), &polygon(&b.outline)))
}

/// How far inside the sheet's edge a placed part stays, mm; 0 where it reaches over it.
pub(super) fn inside(problem: &Problem, sheet: usize, placed: &Placed) -> f64 {
    let stock = &problem.sheets[sheet];
    if stock.is_rectangle() {
        let ((low, size), (a, b)) = (stock.extent(), placed.extent());
        let least = (a - low).inf(&(low + size - b)).min();
        return least.max(0.0);
    }
    let (edge, part) = (polygon(&stock.outline), polygon(&placed.outline));
    if edge.contains(&part) { Euclidean.distance(edge.exterior(), part.exterior()) } else { 0.0 }
}

fn wrongs_of(problem: &Problem, index: usize, sheet: &SheetLayout) -> Vec<Wrong> {
    let mut found = Vec::new();
    for (i, a) in sheet.placed.iter().enumerate() {
        let again = Placed::new(problem, a.part, a.copy, a.attitude, a.shift);
        let same = again.outline.len() == a.outline.len()
            && again.outline.iter().zip(&a.outline).all(|(p, q)| (p - q).norm() < SAME_MM);
        if !same {
            found.push(Wrong::NotThePart { sheet: index, part: i });
        }
        let stock = &problem.sheets[sheet.sheet];
        let inside = inside(problem, sheet.sheet, a);
        let over = area(&a.outline).abs() > area(&stock.outline).abs();
        if inside < stock.edge_margin - SAME_MM || over || reaches_over(problem, sheet.sheet, a) {
            found.push(Wrong::OverEdge { sheet: index, part: i, inside });
        }
        for (j, b) in sheet.placed[..i].iter().enumerate() {
            let kerf = problem.kerf.max(SAME_MM);
            if let Some(gap) = gap(a, b, kerf)
                && (gap < problem.kerf - SAME_MM || overlap(a, b))
            {
                found.push(Wrong::TooNear { sheet: index, pair: [j, i], gap });
            }
        }
    }
    found
}

/// Whether a part reaches over the edge by more than rounding, which a margin of nothing asks
/// for by itself.
fn reaches_over(problem: &Problem, sheet: usize, placed: &Placed) -> bool {
    let stock = &problem.sheets[sheet];
    if stock.edge_margin > SAME_MM {
        return false;
    }
    if stock.is_rectangle() {
        let ((low, size), (a, b)) = (stock.extent(), placed.extent());
        return (a - low).inf(&(low + size - b)).min() < -SAME_MM;
    }
    overhang(&polygon(&stock.outline), &polygon(&placed.outline))
}

/// Areas below this (mm²) are rounding along an edge of a metre.
const CRUMB_MM2: f64 = 0.01;

fn overhang(edge: &Polygon<f64>, part: &Polygon<f64>) -> bool {
    use geo::{Area, BooleanOps};
    part.difference(edge).unsigned_area() > CRUMB_MM2
}

/// Whether two parts overlap, which a kerf of nothing asks for by itself.
fn overlap(a: &Placed, b: &Placed) -> bool {
    use geo::{Area, BooleanOps};
    polygon(&a.outline).intersection(&polygon(&b.outline)).unsigned_area() > CRUMB_MM2
}

fn counts(problem: &Problem, layout: &Layout) -> Vec<Wrong> {
    let mut times: Vec<Vec<usize>> = problem.parts.iter().map(|p| vec![0; p.count]).collect();
    let placed = layout.sheets.iter().flat_map(|s| &s.placed).map(|p| (p.part, p.copy));
    for (part, copy) in placed.chain(layout.unplaced.iter().map(|u| (u.part, u.copy))) {
        if let Some(n) = times.get_mut(part).and_then(|t| t.get_mut(copy)) {
            *n += 1;
        }
    }
    let mut found = Vec::new();
    for (part, copies) in times.iter().enumerate() {
        let off = copies.iter().enumerate().filter(|(_, n)| **n != 1);
        found.extend(off.map(|(copy, times)| Wrong::Count { part, copy, times: *times }));
    }
    for (sheet, stock) in problem.sheets.iter().enumerate() {
        let used = layout.sheets.iter().filter(|s| s.sheet == sheet).count();
        if let Supply::OnHand(n) = stock.supply
            && used > n
        {
            found.push(Wrong::Supply { sheet, used });
        }
    }
    found
}
