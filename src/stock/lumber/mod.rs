//! Sticks out of the lengths that a yard has.
//!
//! [`plan`] joins what is longer than any length by scarfs, or butts it under cleats
//! ([`scarf`]), sorts cuts and stock
//! into problems that share nothing, and solves each: a bound by column generation, then a
//! search through what could be bought, from the cheapest up, for the first from which all can
//! be cut. Boards are ripped full length first and their strips crosscut then; where short blanks
//! would lose the rest of a board's width it may be crosscut first ([`crosscut`]). What comes out
//! is checked by plain arithmetic before it is given. Lengths are worked with in whole mm, each
//! with its saw cut rounded up.
//!
//! Lengths mm, prices in the document's currency.

pub mod check;
mod columns;
mod crosscut;
mod fill;
mod knapsack;
mod numbers;
mod place;
mod problem;
mod scarf;
mod search;
mod simplex;
mod solve;
mod whole;

pub use scarf::{Scarfs, StickScarf};
pub use solve::{plan, plan_within};

/// How long cheaper boards are looked for once there are some from which all can be cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// Some tenths of a second for a boat.
    Quick,
    /// Some seconds.
    Thorough,
}

/// A stick that is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// What it is called: "chine log, port".
    pub name: String,
    /// Species by its name in the wood table; empty where any will do.
    pub species: String,
    /// Finished section, mm, in either order.
    pub section: (f64, f64),
    /// Length to cut, mm.
    pub length: f64,
    /// Of that, left long at each end to be trimmed when it is in place, mm.
    pub trim: f64,
    /// How it may be made of shorter pieces; `None` where it must be whole.
    pub scarfs: Option<Scarfs>,
}

/// Lumber of one section and length that can be had.
#[derive(Debug, Clone, PartialEq)]
pub struct Length {
    /// Species by its name in the wood table.
    pub species: String,
    /// The lesser side of its section, mm.
    pub thickness: f64,
    /// The greater side, mm.
    pub width: f64,
    /// mm.
    pub length: f64,
    /// Price of one; `None` where it is not known.
    pub price: Option<f64>,
    /// How many there are; `None` for as many as are wanted.
    pub count: Option<u32>,
    /// It may go into sticks for which any wood will do.
    pub for_any: bool,
}

impl Length {
    /// Whether it is of the wood that is asked for: of that species, or of any where any will do.
    pub(crate) fn is_of(&self, species: &str) -> bool {
        self.species == species || species.is_empty() && self.for_any
    }
}

/// How sticks are cut and joined.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rules {
    /// Width of a saw cut, mm.
    pub kerf: f64,
    /// Sawn off each end of a length, mm.
    pub end_trim: f64,
    /// Length of a scarf over the stick's depth.
    pub slope: f64,
    /// Scarfs of sticks that lie side by side are at least this far apart, mm.
    pub stagger: f64,
    /// No piece of a scarfed stick is shorter, mm.
    pub least_piece: f64,
    /// Sections that differ by less are one, mm: measured lumber against a nominal stick.
    pub section_room: f64,
    /// A stick is joined where its pieces leave this much of their boards' lengths, mm.
    pub joint_spare: f64,
    /// Boards may be crosscut before they are ripped, where that saves one.
    pub crosscut_first: bool,
}

impl Default for Rules {
    /// Scarfs of neighbouring planks lie 1.2 m apart and slope 8 in 1; the rest by our
    /// judgement. Common practice, no source.
    fn default() -> Self {
        Rules {
            kerf: 3.0,
            end_trim: 15.0,
            slope: 8.0,
            stagger: 1200.0,
            least_piece: 600.0,
            section_room: 0.6,
            joint_spare: 0.0,
            crosscut_first: false,
        }
    }
}

/// A piece of a stick as it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    /// Which stick, by index.
    pub cut: usize,
    /// Which of its pieces, from 0 at its forward end; cleats over its joints come last.
    pub part: usize,
    /// Length with what its scarfs need, mm.
    pub length: f64,
}

/// A strip of a board as it is crosscut.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Where along the board it begins, its end trimmed, mm: 0 for one that is ripped full length,
    /// else behind a crosscut over the whole board.
    pub from: f64,
    /// As wide as it is ripped, mm.
    pub width: f64,
    /// What is cut from it, the longest first.
    pub pieces: Vec<CutPiece>,
    /// What is left of it, mm.
    pub offcut: f64,
}

/// A board and how it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// Which row of the stock, by index.
    pub stock: usize,
    /// Its strips; one as wide as the board where it is not ripped.
    pub strips: Vec<Strip>,
}

/// A stick that cannot be had, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Missing {
    /// Which cut, by index.
    pub cut: usize,
    /// Why.
    pub why: Lack,
}

/// Why a stick cannot be had; lengths mm.
#[derive(Debug, Clone, PartialEq)]
pub enum Lack {
    /// It is no stick.
    NoStick {
        /// How long.
        length: f64,
        /// Its section.
        section: (f64, f64),
    },
    /// No stock of its wood can be ripped to its section.
    NotRipped {
        /// Its wood.
        species: String,
        /// Its section.
        section: (f64, f64),
    },
    /// It is longer than what can be cut, and not scarfed.
    TooLong {
        /// By how much.
        over: f64,
        /// The longest that can be cut.
        longest: f64,
    },
    /// It is longer than what can be cut, and has no place for its scarfs.
    NoScarf {
        /// By how much.
        over: f64,
        /// The longest that can be cut.
        longest: f64,
        /// How long a scarf is.
        scarf: f64,
    },
    /// The stock is used up before this piece of it.
    UsedUp {
        /// Which, from 0.
        part: usize,
        /// How long.
        length: f64,
    },
    /// The cutting list did not add up, as its check says.
    Wrong(String),
}

/// By what the boards were chosen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ChosenBy {
    /// By their price.
    Price {
        /// What a m³ of no known price counts for.
        unknown: f64,
    },
    /// By the wood in them, since no price is known.
    Wood,
}

/// What to buy of one problem, and how good that is.
#[derive(Debug, Clone, PartialEq)]
pub struct Proof {
    /// By what its boards were chosen.
    pub by: ChosenBy,
    /// Price, or wood in m³, of what is bought; wood of no known price as it counts for.
    pub cost: f64,
    /// No way to cut these pieces from boards that are ripped full length first costs less; one
    /// that crosscuts some of them first may.
    pub lower_bound: f64,
    /// No such way costs less than `cost`, for these places of scarfs.
    pub proved: bool,
    /// Kinds of pieces.
    pub kinds: usize,
}

/// What to buy and how to cut it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LumberPlan {
    /// Boards, by their stock.
    pub boards: Vec<Board>,
    /// Where sticks are scarfed.
    pub scarfs: Vec<StickScarf>,
    /// What cannot be had.
    pub missing: Vec<Missing>,
    /// One for each problem that was solved by itself.
    pub proofs: Vec<Proof>,
}

impl LumberPlan {
    /// Price of all boards; `None` where one has none.
    pub fn price(&self, stock: &[Length]) -> Option<f64> {
        self.boards.iter().map(|b| stock.get(b.stock)?.price).sum()
    }

    /// Whether it is the better of two plans of the same cuts: less is missing, or no problem
    /// costs more and one costs less or is proved to be nearer to its least.
    pub fn is_better_than(&self, other: &LumberPlan) -> bool {
        if self.missing.len() != other.missing.len() {
            return self.missing.len() < other.missing.len();
        }
        let pairs = || self.proofs.iter().zip(&other.proofs);
        let nearer = |a: &Proof, b: &Proof| a.lower_bound > b.lower_bound || a.proved && !b.proved;
        self.proofs.len() == other.proofs.len()
            && pairs().all(|(a, b)| a.by == b.by && a.cost <= b.cost)
            && pairs().any(|(a, b)| a.cost < b.cost || nearer(a, b))
    }

    /// Length of all boards, mm.
    pub fn bought(&self, stock: &[Length]) -> f64 {
        self.boards.iter().filter_map(|b| stock.get(b.stock)).map(|s| s.length).sum()
    }
}
