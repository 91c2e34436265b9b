//! A bound on what must be bought, by column generation: Gilmore and Gomory, *Operations
//! Research* 9 (1961) and, for boards that are ripped first, 13 (1965).
//!
//! Every set of values for the pieces gives a bound: no board holds more than its best
//! [`Knapsack`](super::knapsack) of them. The simplex method finds good values; what is used of
//! it are the values alone, and each bound is worked from them anew, so that an error of its
//! own makes a bound weaker and never wrong.

use std::collections::{HashSet, VecDeque};

use super::problem::{Problem, Used};
use super::simplex::{Column, Simplex};

/// Rounds of finding columns at most.
const MOST_ROUNDS: usize = 300;
/// A column must gain this share of its price.
const GAIN: f64 = 1e-7;

/// Values of the pieces, and what each board holds of them at most.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Valued {
    /// Kind by kind.
    pub(super) value: Vec<f64>,
    /// Board by board.
    pub(super) holds: Vec<f64>,
}

impl Valued {
    /// These values, with what boards hold worked out.
    pub(super) fn of(problem: &Problem, value: Vec<f64>) -> Valued {
        let value: Vec<f64> = value.into_iter().map(|v| if v > 0.0 { v } else { 0.0 }).collect();
        let tables = problem.tables(&value, &problem.demand());
        let holds = (0..problem.boards.len()).map(|b| problem.best_rip(b, &tables).0).collect();
        Valued { value, holds }
    }

    /// What all these pieces are worth.
    pub(super) fn worth(&self, pieces: &[usize]) -> f64 {
        self.value.iter().zip(pieces).map(|(v, n)| v * *n as f64).sum()
    }

    /// The least that all pieces cost where boards cost `cost` and there are `count` of them:
    /// by duality, whatever the values.
    pub(super) fn bound(&self, problem: &Problem, cost: &[f64], count: &[Option<usize>]) -> f64 {
        // Scaled until no board that is to be had without end holds more than it costs.
        let scale = (0..cost.len())
            .filter(|b| count[*b].is_none() && self.holds[*b] > 0.0)
            .map(|b| cost[b] / self.holds[b])
            .fold(1.0, f64::min);
        let given: f64 = (0..cost.len())
            .filter_map(|b| Some((scale * self.holds[b] - cost[b]).max(0.0) * count[b]? as f64))
            .sum();
        scale * self.worth(&problem.demand()) - given
    }

    /// Whether boards of these numbers cannot hold all pieces.
    pub(super) fn forbids(&self, pieces: &[usize], boards: &[usize]) -> bool {
        let room: f64 = self.holds.iter().zip(boards).map(|(h, n)| h * *n as f64).sum();
        let worth = self.worth(pieces);
        worth > room + ROUNDING * (1.0 + worth)
    }
}

/// Sums of values are rounded by less than this share.
pub(super) const ROUNDING: f64 = 1e-9;

/// What column generation came to.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Relaxed {
    /// Values of pieces that were met on the way, the best last.
    pub(super) met: Vec<Valued>,
    /// Boards with how many of each, broken numbers.
    pub(super) boards: Vec<(f64, Used)>,
}

/// What boards cost, how many there are of each, and what a piece costs that is not cut.
#[derive(Debug, Clone, Copy)]
pub(super) struct Terms<'a> {
    pub(super) cost: &'a [f64],
    pub(super) count: &'a [Option<usize>],
    pub(super) missing: &'a [f64],
}

/// Ways to cut boards that were good before: column generation begins with them, whatever the
/// boards cost now and how many there are.
#[derive(Debug, Default)]
pub(super) struct Known {
    ways: VecDeque<Used>,
    seen: HashSet<Used>,
}

/// So many ways are kept for each kind of piece, the newest.
const KEPT_WAYS: usize = 6;

impl Known {
    fn keep(&mut self, found: &[(f64, Used)], pieces: usize) {
        for (_, used) in found {
            if self.seen.insert(used.clone()) {
                self.ways.push_back(used.clone());
            }
        }
        while self.ways.len() > KEPT_WAYS * pieces {
            if let Some(old) = self.ways.pop_front() {
                self.seen.remove(&old);
            }
        }
    }
}

/// Values that make a good bound on these terms, and the boards of the least cost in broken
/// numbers. What was good before and gives no more than is wanted is begun with.
pub(super) fn relaxed(problem: &Problem, terms: Terms, known: &mut Known) -> Relaxed {
    let (pieces, demand) = (problem.kinds.len(), problem.demand());
    let (cost, count) = (terms.cost, terms.count);
    let limited: Vec<usize> = (0..cost.len()).filter(|b| count[*b].is_some()).collect();
    let row_of = |b: usize| limited.iter().position(|l| *l == b).map(|k| pieces + k);
    let counts = limited.iter().filter_map(|b| count[*b]);
    let right: Vec<f64> = demand.iter().copied().chain(counts).map(|n| n as f64).collect();
    let first: Vec<f64> =
        terms.missing.iter().copied().chain(limited.iter().map(|_| 0.0)).collect();
    let mut lp = Simplex::new(&right, &first);
    for i in 0..pieces {
        // A piece more than wanted costs nothing.
        lp.add(Column { cost: 0.0, rows: vec![(i, -1.0)], used: None });
    }
    for used in &known.ways {
        let column = column(used.clone(), pieces, cost, row_of(used.board));
        if column.rows.iter().all(|(k, n)| *k >= pieces || *n <= demand[*k] as f64) {
            lp.add(column);
        }
    }
    let mut met = Vec::new();
    for _ in 0..MOST_ROUNDS {
        if !lp.settle() {
            break;
        }
        let prices = lp.prices().to_vec();
        let value: Vec<f64> = prices[..pieces].iter().map(|p| p.max(0.0)).collect();
        let tables = problem.tables(&value, &demand);
        let mut holds = Vec::new();
        let mut gained = false;
        for (b, price) in cost.iter().enumerate() {
            let (held, rip) = problem.best_rip(b, &tables);
            holds.push(held);
            let row = row_of(b);
            let paid = row.map_or(0.0, |k| -prices[k]);
            if held > price + paid + GAIN * (1.0 + price) && rip != usize::MAX {
                gained = true;
                let board = &problem.boards[b];
                let mut strips = Vec::new();
                for (section, n) in board.rips[rip].iter().enumerate() {
                    let set = tables[section].set(board.capacity);
                    strips.extend(std::iter::repeat_n((section, set), *n));
                }
                lp.add(column(Used { board: b, strips }, pieces, cost, row));
            }
        }
        met.push(Valued { value, holds });
        if !gained {
            break;
        }
    }
    let boards = lp.boards();
    known.keep(&boards, pieces);
    Relaxed { met, boards }
}

/// A way to cut a board as a column: what it gives of each kind, and the board.
fn column(used: Used, pieces: usize, cost: &[f64], row: Option<usize>) -> Column {
    let mut gives = vec![0usize; pieces];
    for (kind, n) in used.strips.iter().flat_map(|(_, set)| set) {
        gives[*kind] += n;
    }
    let given = gives.iter().enumerate().filter(|(_, n)| **n > 0);
    let mut rows: Vec<(usize, f64)> = given.map(|(k, n)| (k, *n as f64)).collect();
    rows.extend(row.map(|k| (k, 1.0)));
    Column { cost: cost[used.board], rows, used: Some(used) }
}
