//! The cheapest boards from which all pieces can be cut.
//!
//! What boards cost depends only on how many of each are bought. Those numbers are gone
//! through from the cheapest up: most are ruled out by a bound ([`super::columns`]), some by
//! trying every way to cut ([`super::fill`]); the first from which all can be cut is the least
//! there is. Where a search is cut short, what is known is said: a bound, and no proof.

use super::columns::{ROUNDING, Valued, relaxed};
use super::fill::{Answer, Fill};
use super::problem::{Problem, Used};

/// Numbers of boards that are looked at between the bound and the best known cut.
const MOST_NUMBERS: usize = 20_000;
/// Of those, so many are tried after the bounds already known have not ruled them out.
const MOST_TRIED: usize = 40;
/// So many where none is known from which all can be cut.
const MOST_TRIED_AT_ALL: usize = 200;
/// Boards of broken numbers with which making them whole is begun, one after another.
const MOST_FIRST: usize = 8;
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
pub(super) fn least(problem: &Problem) -> Found {
    let cost: Vec<f64> = problem.boards.iter().map(|b| b.cost).collect();
    let count: Vec<Option<usize>> = problem.boards.iter().map(|b| b.count).collect();
    let dear = 10.0 * cost.iter().fold(0.0, |m: f64, c| m.max(*c)) + 1.0;
    let missing = vec![dear; problem.kinds.len()];
    let met = relaxed(problem, &cost, &count, &missing).met;
    let bound = met.iter().map(|v| v.bound(problem, &cost, &count)).fold(0.0, f64::max);
    let mut pool = vec![by_length(problem)];
    pool.extend(met.into_iter().rev().take(KEPT_VALUES - 1));
    let fill = Fill::new(problem);
    let all = problem.demand();
    let rounded = rounded(problem, &cost, &count, &missing, 0);
    let tried = pool.iter().map(|v| fill.greedy(&count, &v.value)).chain([rounded]);
    let best = tried.min_by(|a, b| {
        let left = |a: &(Vec<Used>, Vec<usize>)| a.1.iter().sum::<usize>();
        left(a).cmp(&left(b)).then(problem.cost(&a.0).total_cmp(&problem.cost(&b.0)))
    });
    let (used, left) = best.unwrap_or((Vec::new(), all));
    let whole = left.iter().all(|n| *n == 0);
    let most = if whole { problem.cost(&used) } else { f64::INFINITY };
    let mut found = Found { used, lower: bound.min(most), proved: false, missing: left };
    improve(problem, &fill, &mut pool, (bound, most), &mut found);
    found
}

/// Boards of the least cost in broken numbers, made whole: what is whole of them is taken, and
/// again for what is left, the one that is nearest to a whole board where none is (the first
/// time the one after `first` others). With the pieces that are left over.
fn rounded(
    problem: &Problem,
    cost: &[f64],
    count: &[Option<usize>],
    missing: &[f64],
    mut first: usize,
) -> (Vec<Used>, Vec<usize>) {
    let mut rest = problem.clone();
    let mut count = count.to_vec();
    let mut used = Vec::new();
    while rest.kinds.iter().any(|k| k.count > 0) {
        let mut boards = relaxed(&rest, cost, &count, missing).boards;
        boards.sort_by(|a, b| b.0.total_cmp(&a.0));
        let before = used.len();
        for (many, board) in &boards {
            // Rounding may leave a whole number a hair short.
            for _ in 0..(many + 1e-6).floor() as usize {
                take(&mut rest, &mut count, board.clone(), &mut used, false);
            }
        }
        if used.len() > before {
            continue;
        }
        let mut broken = boards.into_iter().skip(first).map(|(_, b)| b);
        if !broken.any(|b| take(&mut rest, &mut count, b, &mut used, true)) {
            break;
        }
        first = 0;
    }
    (used, rest.demand())
}

/// Takes a board if there is one and, unless `part` will do, all that it gives is still wanted;
/// whether it did.
fn take(
    rest: &mut Problem,
    count: &mut [Option<usize>],
    mut board: Used,
    used: &mut Vec<Used>,
    part: bool,
) -> bool {
    let mut left = rest.demand();
    let (mut all, mut some) = (true, false);
    for (_, set) in &mut board.strips {
        for (kind, n) in set.iter_mut() {
            all &= *n <= left[*kind];
            *n = (*n).min(left[*kind]);
            left[*kind] -= *n;
            some |= *n > 0;
        }
        set.retain(|(_, n)| *n > 0);
    }
    if !some || count[board.board] == Some(0) || !(all || part) {
        return false;
    }
    if !all {
        refill(rest, &mut board, &mut left);
    }
    count[board.board] = count[board.board].map(|n| n - 1);
    rest.kinds.iter_mut().zip(left).for_each(|(k, n)| k.count = n);
    used.push(board);
    true
}

/// Lays what fits of the pieces that are left into what is free of a board's strips.
fn refill(rest: &Problem, board: &mut Used, left: &mut [usize]) {
    let value: Vec<f64> = rest.kinds.iter().map(|k| k.size as f64).collect();
    for (section, set) in &mut board.strips {
        let taken: usize = set.iter().map(|(kind, n)| n * rest.kinds[*kind].size).sum();
        let more = rest
            .table(*section, &value, left)
            .set(rest.boards[board.board].capacity.saturating_sub(taken));
        for (kind, n) in more {
            left[kind] -= n;
            match set.iter_mut().find(|(k, _)| *k == kind) {
                Some((_, many)) => *many += n,
                None => set.push((kind, n)),
            }
        }
    }
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

/// Looks for cheaper boards than those of `found`, between the bound and what they cost.
fn improve(
    problem: &Problem,
    fill: &Fill,
    pool: &mut Vec<Valued>,
    (bound, most): (f64, f64),
    found: &mut Found,
) {
    let room = ROUNDING * (1.0 + bound);
    let (mut numbers, whole) = numbers(problem, pool, (bound - room, most - room));
    let of = |n: &[usize]| -> f64 {
        n.iter().zip(&problem.boards).map(|(n, b)| *n as f64 * b.cost).sum()
    };
    numbers
        .sort_by(|a, b| of(a).total_cmp(&of(b)).then(a.iter().sum::<usize>().cmp(&b.iter().sum())));
    let demand = problem.demand();
    let mut open: Option<f64> = None;
    let mut tried = 0;
    for n in &numbers {
        if pool.iter().any(|v| v.forbids(&demand, n)) {
            continue;
        }
        tried += 1;
        if tried > (if most.is_finite() { MOST_TRIED } else { MOST_TRIED_AT_ALL }) {
            open = open.or(Some(of(n)));
            break;
        }
        match decide(problem, fill, pool, n) {
            Answer::Cut(used) => {
                let lower = open.unwrap_or_else(|| problem.cost(&used)).min(problem.cost(&used));
                let lower = if whole { lower } else { bound.min(lower) };
                let missing = vec![0; problem.kinds.len()];
                *found = Found { used, lower, proved: whole && open.is_none(), missing };
                return;
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
}

/// Whether all pieces can be cut from these numbers of boards.
fn decide(problem: &Problem, fill: &Fill, pool: &mut Vec<Valued>, n: &[usize]) -> Answer {
    let counts: Vec<Option<usize>> = n.iter().map(|n| Some(*n)).collect();
    for v in pool.iter() {
        let (used, left) = fill.greedy(&counts, &v.value);
        if left.iter().all(|n| *n == 0) {
            return Answer::Cut(used);
        }
    }
    // What a piece is worth that is not cut: its length, so that values stay in proportion.
    let missing: Vec<f64> = problem.kinds.iter().map(|k| k.size as f64).collect();
    let free = vec![0.0; n.len()];
    let met = relaxed(problem, &free, &counts, &missing).met;
    let demand = problem.demand();
    if let Some(why) = met.iter().rev().find(|v| v.forbids(&demand, n)) {
        pool.push(why.clone());
        return Answer::Never;
    }
    let mut guides: Vec<Valued> = met.into_iter().rev().take(2).collect();
    for v in &guides {
        let (used, left) = fill.greedy(&counts, &v.value);
        if left.iter().all(|n| *n == 0) {
            return Answer::Cut(used);
        }
    }
    for first in 0..MOST_FIRST {
        let (used, left) = rounded(problem, &free, &counts, &missing, first);
        if left.iter().all(|n| *n == 0) {
            return Answer::Cut(used);
        }
    }
    guides.extend(pool.iter().take(KEPT_VALUES).cloned());
    fill.exact(n, &guides)
}

/// Numbers of boards that cost from `window.0` to less than `window.1` and that no values
/// forbid; and whether those are all. Boards that cost nothing are all taken.
fn numbers(problem: &Problem, pool: &[Valued], window: (f64, f64)) -> (Vec<Vec<usize>>, bool) {
    let pieces: usize = problem.kinds.iter().map(|k| k.count).sum();
    let most = |b: usize| problem.boards[b].count.unwrap_or(pieces).min(pieces);
    let mut order: Vec<usize> =
        (0..problem.boards.len()).filter(|b| problem.boards[*b].cost > 0.0).collect();
    order.sort_by(|a, b| problem.boards[*b].cost.total_cmp(&problem.boards[*a].cost));
    let mut now: Vec<usize> =
        (0..problem.boards.len()).map(|b| if order.contains(&b) { 0 } else { most(b) }).collect();
    let per_cost = |v: &Valued, from: usize| {
        order[from..].iter().map(|b| v.holds[*b] / problem.boards[*b].cost).fold(0.0, f64::max)
    };
    let most_per_cost =
        pool.iter().map(|v| (0..=order.len()).map(|k| per_cost(v, k)).collect()).collect();
    let mut walk = Walk {
        problem,
        pool,
        window,
        order: &order,
        most: &most,
        most_per_cost,
        out: Vec::new(),
        seen: 0,
        demand: problem.demand(),
    };
    walk.go(0, 0.0, &mut now);
    let whole = walk.seen <= MOST_NUMBERS;
    (walk.out, whole)
}

struct Walk<'a> {
    problem: &'a Problem,
    pool: &'a [Valued],
    window: (f64, f64),
    order: &'a [usize],
    most: &'a dyn Fn(usize) -> usize,
    /// By values and place in the order: the most that a board from there on holds for its
    /// cost.
    most_per_cost: Vec<Vec<f64>>,
    out: Vec<Vec<usize>>,
    seen: usize,
    demand: Vec<usize>,
}

impl Walk<'_> {
    /// By some values the boards so far, and what the rest of the money buys, hold too little.
    fn hopeless(&self, at: usize, cost: f64, now: &[usize]) -> bool {
        self.pool.iter().zip(&self.most_per_cost).any(|(v, per_cost)| {
            let worth = v.worth(&self.demand);
            let held: f64 = v.holds.iter().zip(now).map(|(h, n)| h * *n as f64).sum();
            let more = if per_cost[at] > 0.0 { (self.window.1 - cost) * per_cost[at] } else { 0.0 };
            worth > held + more + ROUNDING * (1.0 + worth)
        })
    }

    fn go(&mut self, at: usize, cost: f64, now: &mut Vec<usize>) {
        if self.seen > MOST_NUMBERS || self.hopeless(at, cost, now) {
            return;
        }
        self.seen += 1;
        let Some(&b) = self.order.get(at) else {
            if cost >= self.window.0
                && cost < self.window.1
                && !self.pool.iter().any(|v| v.forbids(&self.demand, now))
            {
                self.out.push(now.clone());
            }
            return;
        };
        let price = self.problem.boards[b].cost;
        // The last one has to bring the sum into the window.
        let least = match at + 1 == self.order.len() {
            true => ((self.window.0 - cost) / price).ceil().max(0.0) as usize,
            false => 0,
        };
        for n in least..=(self.most)(b) {
            let sum = cost + n as f64 * price;
            if sum >= self.window.1 {
                break;
            }
            now[b] = n;
            self.go(at + 1, sum, now);
        }
        now[b] = 0;
    }
}
