//! The cheapest boards from which all pieces can be cut.
//!
//! What boards cost depends only on how many of each are bought. Those numbers are gone
//! through from the cheapest up: most are ruled out by a bound ([`super::columns`]), some by
//! trying every way to cut ([`super::fill`]); the first from which all can be cut is the least
//! there is. Where a search is cut short, what is known is said: a bound, and no proof.

use super::Effort;
use super::columns::{Known, ROUNDING, Relaxed, Terms, Valued, relaxed};
use super::fill::{Answer, Fill};
use super::numbers::numbers;
use super::problem::{Problem, Used};
use super::whole::rounded;

/// Times that the numbers of boards are gone through at most, each with more that rules them out.
const MOST_WALKS: usize = 6;
/// So many are tried where none is known from which all can be cut.
const MOST_TRIED_AT_ALL: usize = 200;

impl Effort {
    /// Numbers of boards that are tried after the bounds already known have not ruled them out.
    fn most_tried(self) -> usize {
        match self {
            Effort::Quick => 3,
            Effort::Thorough => 40,
        }
    }

    /// Boards of broken numbers with which making them whole is begun, one after another.
    fn most_first(self) -> usize {
        match self {
            Effort::Quick => 1,
            Effort::Thorough => 8,
        }
    }

    /// States that are looked at when every way is tried, before it is given up.
    fn most_states(self) -> usize {
        match self {
            Effort::Quick => 100,
            Effort::Thorough => 3000,
        }
    }
}

/// Values of pieces kept to rule out by.
const KEPT_VALUES: usize = 12;

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Found {
    /// Boards, and how each is cut.
    pub(super) used: Vec<Used>,
    /// Nothing costs less.
    pub(super) lower: f64,
    /// This is the least.
    pub(super) proved: bool,
    /// Pieces that the stock does not give, kind by kind.
    pub(super) missing: Vec<usize>,
}

/// The cheapest way that is found.
pub(super) fn least(problem: &Problem, effort: Effort) -> Found {
    let cost: Vec<f64> = problem.boards.iter().map(|b| b.cost).collect();
    let count: Vec<Option<usize>> = problem.boards.iter().map(|b| b.count).collect();
    let dear = 10.0 * cost.iter().fold(0.0, |m: f64, c| m.max(*c)) + 1.0;
    let missing = vec![dear; problem.kinds.len()];
    let terms = Terms { cost: &cost, count: &count, missing: &missing };
    let mut known = Known::default();
    let Relaxed { met, boards } = relaxed(problem, terms, &mut known);
    let bound = met.iter().map(|v| v.bound(problem, &cost, &count)).fold(0.0, f64::max);
    let mut pool = vec![by_length(problem)];
    pool.extend(met.into_iter().rev().take(KEPT_VALUES - 1));
    let fill = Fill::new(problem);
    let all = problem.demand();
    let rounded = rounded(problem, terms, boards, 1, &mut known);
    let tried = pool.iter().map(|v| fill.greedy(&count, &v.value)).chain([rounded]);
    let best = tried.min_by(|a, b| {
        let left = |a: &(Vec<Used>, Vec<usize>)| a.1.iter().sum::<usize>();
        left(a).cmp(&left(b)).then(problem.cost(&a.0).total_cmp(&problem.cost(&b.0)))
    });
    let (used, left) = best.unwrap_or((Vec::new(), all));
    let whole = left.iter().all(|n| *n == 0);
    let most = if whole { problem.cost(&used) } else { f64::INFINITY };
    let mut found = Found { used, lower: bound.min(most), proved: false, missing: left };
    let mut pool = Pool { values: pool, known, effort };
    improve(problem, &fill, &mut pool, (bound, most), &mut found);
    found
}

/// What was learnt of a problem.
struct Pool {
    /// Values of pieces that rule numbers of boards out.
    values: Vec<Valued>,
    /// Ways to cut boards.
    known: Known,
    effort: Effort,
}

/// Every mm worth the same, weighed by what its section takes of a board.
fn by_length(problem: &Problem) -> Valued {
    let share = |section: usize| {
        let of = problem.boards.iter().flat_map(|b| &b.rips).map(|r| r[section]).max();
        1.0 / of.unwrap_or(1).max(1) as f64
    };
    let value = problem.kinds.iter().map(|k| k.size as f64 * share(k.section)).collect();
    Valued::of(problem, value)
}

/// Looks for cheaper boards than those of `found`, between the bound and what they cost; again
/// where not all numbers were looked at and what was learnt meanwhile rules more of them out.
fn improve(
    problem: &Problem,
    fill: &Fill,
    pool: &mut Pool,
    (bound, mut most): (f64, f64),
    found: &mut Found,
) {
    for _ in 0..MOST_WALKS {
        let before = pool.values.len();
        let whole = walked(problem, fill, pool, (bound, most), found);
        if whole || pool.values.len() == before {
            return;
        }
        if found.missing.iter().all(|n| *n == 0) {
            most = problem.cost(&found.used);
        }
    }
}

/// Goes through the numbers of boards once; whether it saw all that are not ruled out.
fn walked(
    problem: &Problem,
    fill: &Fill,
    pool: &mut Pool,
    (bound, most): (f64, f64),
    found: &mut Found,
) -> bool {
    let room = ROUNDING * (1.0 + bound);
    let (mut numbers, whole) = numbers(problem, &pool.values, (bound - room, most - room));
    let of = |n: &[usize]| -> f64 {
        n.iter().zip(&problem.boards).map(|(n, b)| *n as f64 * b.cost).sum()
    };
    numbers
        .sort_by(|a, b| of(a).total_cmp(&of(b)).then(a.iter().sum::<usize>().cmp(&b.iter().sum())));
    let demand = problem.demand();
    let mut open: Option<f64> = None;
    let mut tried = 0;
    for n in &numbers {
        if pool.values.iter().any(|v| v.forbids(&demand, n)) {
            continue;
        }
        tried += 1;
        if tried > (if most.is_finite() { pool.effort.most_tried() } else { MOST_TRIED_AT_ALL }) {
            open = open.or(Some(of(n)));
            break;
        }
        match decide(problem, fill, pool, n) {
            Answer::Cut(used) => {
                let lower = open.unwrap_or_else(|| problem.cost(&used)).min(problem.cost(&used));
                let lower = if whole { lower } else { bound.min(lower) };
                let missing = vec![0; problem.kinds.len()];
                *found = Found { used, lower, proved: whole && open.is_none(), missing };
                return whole;
            }
            Answer::Never => {}
            Answer::Unknown => open = open.or(Some(of(n))),
        }
    }
    if most.is_finite() {
        found.proved = whole && open.is_none();
        found.lower = match (whole, open) {
            (true, None) => most,
            (true, Some(open)) => open.max(bound).min(most),
            (false, _) => bound.min(most),
        };
    }
    whole
}

/// Whether all pieces can be cut from these numbers of boards.
fn decide(problem: &Problem, fill: &Fill, pool: &mut Pool, n: &[usize]) -> Answer {
    let counts: Vec<Option<usize>> = n.iter().map(|n| Some(*n)).collect();
    for v in &pool.values {
        let (used, left) = fill.greedy(&counts, &v.value);
        if left.iter().all(|n| *n == 0) {
            return Answer::Cut(used);
        }
    }
    // What a piece is worth that is not cut: its length, so that values stay in proportion.
    let missing: Vec<f64> = problem.kinds.iter().map(|k| k.size as f64).collect();
    let free = vec![0.0; n.len()];
    let terms = Terms { cost: &free, count: &counts, missing: &missing };
    let Relaxed { met, boards } = relaxed(problem, terms, &mut pool.known);
    let demand = problem.demand();
    if let Some(why) = met.iter().rev().find(|v| v.forbids(&demand, n)) {
        pool.values.push(why.clone());
        return Answer::Never;
    }
    let mut guides: Vec<Valued> = met.into_iter().rev().take(2).collect();
    for v in &guides {
        let (used, left) = fill.greedy(&counts, &v.value);
        if left.iter().all(|n| *n == 0) {
            return Answer::Cut(used);
        }
    }
    let (used, left) = rounded(problem, terms, boards, pool.effort.most_first(), &mut pool.known);
    if left.iter().all(|n| *n == 0) {
        return Answer::Cut(used);
    }
    guides.extend(pool.values.iter().take(KEPT_VALUES).cloned());
    fill.exact(n, &guides, pool.effort.most_states())
}
