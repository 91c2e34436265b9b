//! Boards in broken numbers, as column generation gives them, made whole.

use super::columns::{Known, Terms, relaxed};
use super::problem::{Problem, Used};

/// What is still to be cut, from what, and what was taken.
#[derive(Clone)]
struct Rest {
    problem: Problem,
    count: Vec<Option<usize>>,
    used: Vec<Used>,
}

impl Rest {
    fn is_cut(&self) -> bool {
        self.problem.kinds.iter().all(|k| k.count == 0)
    }

    /// Takes what is whole of these boards, and again of those for what is left, until nothing
    /// is: those in broken numbers, the one that is nearest to a whole board first.
    fn take_whole(
        &mut self,
        mut boards: Vec<(f64, Used)>,
        terms: Terms,
        known: &mut Known,
    ) -> Vec<(f64, Used)> {
        loop {
            boards.sort_by(|a, b| b.0.total_cmp(&a.0));
            let before = self.used.len();
            for (many, board) in &boards {
                // Rounding may leave a whole number a hair short.
                for _ in 0..(many + 1e-6).floor() as usize {
                    self.take(board.clone(), false);
                }
            }
            if self.used.len() == before || self.is_cut() {
                return boards;
            }
            boards = self.relaxed(terms, known);
        }
    }

    fn relaxed(&self, terms: Terms, known: &mut Known) -> Vec<(f64, Used)> {
        relaxed(&self.problem, Terms { count: &self.count, ..terms }, known).boards
    }
}

/// Boards of the least cost in broken numbers, made whole: what is whole of them is taken, and
/// again for what is left, the one that is nearest to a whole board where none is. So many
/// `tries` begin with another one of those each, until all can be cut. With the pieces that are
/// left over.
pub(super) fn rounded(
    problem: &Problem,
    terms: Terms,
    boards: Vec<(f64, Used)>,
    tries: usize,
    known: &mut Known,
) -> (Vec<Used>, Vec<usize>) {
    let (problem, count) = (problem.clone(), terms.count.to_vec());
    let mut whole = Rest { problem, count, used: Vec::new() };
    let broken = whole.take_whole(boards, terms, known);
    let mut best = whole.clone();
    for first in 0..tries.min(broken.len()) {
        let mut rest = whole.clone();
        let mut next = broken[first..].to_vec();
        while !rest.is_cut() && next.into_iter().any(|(_, b)| rest.take(b, true)) {
            let boards = rest.relaxed(terms, known);
            next = rest.take_whole(boards, terms, known);
        }
        let left = |r: &Rest| r.problem.demand().iter().sum::<usize>();
        if left(&rest) < left(&best) {
            best = rest;
        }
        if best.is_cut() {
            break;
        }
    }
    (best.used, best.problem.demand())
}

impl Rest {
    /// Takes a board if there is one and, unless `part` will do, all that it gives is still
    /// wanted; whether it did.
    fn take(&mut self, mut board: Used, part: bool) -> bool {
        let mut left = self.problem.demand();
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
        let count = &mut self.count[board.board];
        if !some || *count == Some(0) || !(all || part) {
            return false;
        }
        *count = count.map(|n| n - 1);
        if !all {
            refill(&self.problem, &mut board, &mut left);
        }
        self.problem.kinds.iter_mut().zip(left).for_each(|(k, n)| k.count = n);
        self.used.push(board);
        true
    }
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
