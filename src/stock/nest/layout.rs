//! What comes out: which part lies where on which sheet.

use serde::Serialize;

use super::bound::Bound;
use super::problem::{Attitude, Problem};
use crate::geom::polyline::{area, bounds};
use crate::geom::{P2, V2};

/// One copy of a part on a sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Placed {
    /// Which of the problem's parts.
    pub part: usize,
    /// Which copy of it, from 0.
    pub copy: usize,
    /// How it lies.
    pub attitude: Attitude,
    /// Where the part's origin lies on the sheet, mm.
    #[serde(skip)]
    pub shift: V2,
    /// Its outline as placed, mm, in the sheet's axes and in the order of the part's corners.
    #[serde(skip)]
    pub outline: Vec<P2>,
}

impl Placed {
    /// A copy laid so.
    pub fn new(
        problem: &Problem,
        part: usize,
        copy: usize,
        attitude: Attitude,
        shift: V2,
    ) -> Placed {
        let outline = problem.parts[part].outline.iter().map(|p| attitude.of(*p) + shift).collect();
        Placed { part, copy, attitude, shift, outline }
    }

    /// Least and greatest corner of the box around it, mm.
    pub fn extent(&self) -> (P2, P2) {
        bounds(self.outline.iter().copied()).unwrap_or((P2::origin(), P2::origin()))
    }
}

/// One sheet that is cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetLayout {
    /// Which of the problem's sheets.
    pub sheet: usize,
    /// What lies on it.
    pub placed: Vec<Placed>,
}

impl SheetLayout {
    /// How far along its x the parts reach, mm from the sheet's least corner.
    pub fn reach(&self, problem: &Problem) -> f64 {
        let (low, _) = problem.sheets[self.sheet].extent();
        self.placed.iter().map(|p| p.extent().1.x - low.x).fold(0.0, f64::max)
    }

    /// The share of the sheet that is parts.
    pub fn density(&self, problem: &Problem) -> f64 {
        let parts: f64 = self.placed.iter().map(|p| area(&p.outline).abs()).sum();
        parts / area(&problem.sheets[self.sheet].outline).abs()
    }
}

/// Why a part is on no sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// No sheet is given at all, or none is on hand.
    NoSheet,
    /// It is larger than the sheet it comes nearest to fitting on.
    TooLarge {
        /// Of that sheet.
        sheet: String,
        /// How much too long, mm, margins counted; 0 if long enough.
        over_length: f64,
        /// How much too wide, mm.
        over_width: f64,
    },
    /// It would fit with its grain another way.
    Grain {
        /// The sheet that it would fit on then.
        sheet: String,
    },
    /// It fits on a sheet, but none with room was left.
    NoRoom,
}

/// A copy that is on no sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Unplaced {
    /// Which of the problem's parts.
    pub part: usize,
    /// Which copy of it.
    pub copy: usize,
    /// Why.
    pub reason: Reason,
}

/// Parts on sheets.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Layout {
    /// The sheets that are cut; sheets on hand before bought ones, the one with the largest
    /// offcut last.
    pub sheets: Vec<SheetLayout>,
    /// What is on none of them.
    pub unplaced: Vec<Unplaced>,
    /// The least number of sheets that could do, and why.
    pub bound: Bound,
}

impl Layout {
    /// How many of its sheets are bought.
    pub fn bought(&self, problem: &Problem) -> usize {
        self.sheets.iter().filter(|s| problem.sheets[s.sheet].is_bought()).count()
    }

    /// What the bought sheets cost; `None` if one of them has no price.
    pub fn cost(&self, problem: &Problem) -> Option<f64> {
        let bought = self.sheets.iter().map(|s| &problem.sheets[s.sheet]).filter(|s| s.is_bought());
        bought.map(|s| s.price).sum()
    }

    /// Whether it is the better of two layouts of a problem: fewer parts left over, then fewer
    /// sheets bought, then cheaper, then fewer cut, then the larger free end.
    pub fn is_better_than(&self, other: &Layout, problem: &Problem) -> bool {
        self.score(problem).beats(&other.score(problem))
    }

    /// How good it is: of two, the lesser is better.
    pub(super) fn score(&self, problem: &Problem) -> Score {
        let part_area = |part: usize| area(&problem.parts[part].outline).abs();
        let free_end = |s: &SheetLayout| {
            let (_, size) = problem.sheets[s.sheet].extent();
            (size.x - s.reach(problem)) * size.y
        };
        Score {
            unplaced: self.unplaced.iter().map(|u| part_area(u.part)).sum(),
            bought: self.bought(problem),
            cost: self.cost(problem).unwrap_or(f64::INFINITY),
            sheets: self.sheets.len(),
            largest_end: self.sheets.iter().map(free_end).fold(0.0, f64::max),
        }
    }
}

/// What is compared, in this order: area left unplaced, sheets bought, what they cost, sheets
/// cut at all, the largest free end (more is better).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Score {
    unplaced: f64,
    bought: usize,
    cost: f64,
    sheets: usize,
    largest_end: f64,
}

impl Score {
    /// Whether this is better than the other.
    pub(super) fn beats(&self, other: &Score) -> bool {
        self.unplaced
            .total_cmp(&other.unplaced)
            .then(self.bought.cmp(&other.bought))
            .then(self.cost.total_cmp(&other.cost))
            .then(self.sheets.cmp(&other.sheets))
            .then(other.largest_end.total_cmp(&self.largest_end))
            .is_lt()
    }
}
