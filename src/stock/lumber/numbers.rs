//! How many boards of each kind could be bought for a sum of money, but for what values of the
//! pieces rule out.

use super::columns::{ROUNDING, Valued};
use super::problem::Problem;

/// Numbers of boards that are looked at between the bound and the best known cut.
const MOST_NUMBERS: usize = 20_000;

/// Numbers of boards that cost from `window.0` to less than `window.1` and that no values
/// forbid; and whether those are all. Boards that cost nothing are all taken.
pub(super) fn numbers(
    problem: &Problem,
    pool: &[Valued],
    window: (f64, f64),
) -> (Vec<Vec<usize>>, bool) {
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
