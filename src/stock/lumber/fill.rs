//! Pieces laid into boards: quickly by their values, or every way that there is.

use std::collections::HashSet;

use super::columns::{ROUNDING, Valued};
use super::problem::{Crosscut, Problem, Used};

/// Ways to crosscut one strip that are looked at.
const MOST_WAYS: usize = 2000;

/// Whether all pieces can be cut from given boards.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Answer {
    /// Yes, so.
    Cut(Vec<Used>),
    /// No way to cut them does.
    Never,
    /// Not found, and not ruled out.
    Unknown,
}

/// Lays the pieces of a problem into boards.
#[derive(Debug)]
pub(super) struct Fill<'a> {
    problem: &'a Problem,
}

impl<'a> Fill<'a> {
    pub(super) fn new(problem: &'a Problem) -> Fill<'a> {
        Fill { problem }
    }

    /// Boards one after another, each the one that holds most value for its cost, until all
    /// pieces are cut or no board is left that holds one; with the pieces that are left.
    pub(super) fn greedy(&self, count: &[Option<usize>], value: &[f64]) -> (Vec<Used>, Vec<usize>) {
        let problem = self.problem;
        // A piece that is worth nothing by its value is to be cut all the same.
        let least = value.iter().fold(0.0, |m: f64, v| m.max(*v)).max(1e-9) * 1e-4;
        let value: Vec<f64> = value.iter().map(|v| v.max(least)).collect();
        let mut left = problem.demand();
        let mut boards = count.to_vec();
        let mut used = Vec::new();
        let mut tables = problem.tables(&value, &left);
        while left.iter().any(|n| *n > 0) {
            let worth: f64 = value.iter().zip(&left).map(|(v, n)| v * *n as f64).sum();
            let best = (0..boards.len())
                .filter(|b| boards[*b] != Some(0))
                .map(|b| (b, problem.best_rip(b, &tables)))
                .filter(|(_, (held, _))| *held > 0.0)
                .max_by(|(a, (x, _)), (b, (y, _))| {
                    let per =
                        |b: usize, held: f64| held.min(worth) / problem.boards[b].cost.max(1e-12);
                    per(*a, *x).total_cmp(&per(*b, *y)).then(b.cmp(a))
                });
            let Some((board, (_, rip))) = best else {
                break;
            };
            let mut strips = Vec::new();
            for (section, n) in problem.boards[board].rips[rip].iter().enumerate() {
                for _ in 0..*n {
                    let set = tables[section].set(problem.boards[board].capacity);
                    set.iter().for_each(|(kind, many)| left[*kind] -= many);
                    // Other sections have as much left as before.
                    tables[section] = problem.table(section, &value, &left);
                    strips.push((section, set));
                }
            }
            boards[board] = boards[board].map(|n| n - 1);
            used.push(Used { board, strips });
        }
        (used, left)
    }

    /// Every way to cut all pieces from these numbers of boards, until one does: the longest
    /// piece that is left goes somewhere, into a strip that lies ripped or a board not yet
    /// touched, with whatever fills it best first. States are ruled out by `guides`; after
    /// so many it is given up.
    pub(super) fn exact(&self, boards: &[usize], guides: &[Valued], most_states: usize) -> Answer {
        let strips = guides
            .iter()
            .map(|g| {
                let tables = self.problem.tables(&g.value, &self.problem.demand());
                let of = |b: &super::problem::BoardKind| {
                    tables.iter().map(|t| t.best(b.capacity)).collect::<Vec<f64>>()
                };
                self.problem.boards.iter().map(of).collect()
            })
            .collect();
        let mut tree = Tree {
            problem: self.problem,
            guides,
            strips,
            failed: HashSet::new(),
            states: 0,
            most_states,
            cut_short: false,
        };
        let mut state = State {
            left: self.problem.demand(),
            boards: boards.to_vec(),
            used: Vec::new(),
            open: Vec::new(),
        };
        match tree.go(&mut state) {
            true => Answer::Cut(state.used),
            false if tree.cut_short => Answer::Unknown,
            false => Answer::Never,
        }
    }
}

/// A strip that lies ripped and not yet crosscut: which of the used boards, which of its strips.
type Open = (usize, usize);

/// Pieces left, boards not touched, boards cut, strips that lie ripped.
struct State {
    left: Vec<usize>,
    boards: Vec<usize>,
    used: Vec<Used>,
    open: Vec<Open>,
}

struct Tree<'a> {
    problem: &'a Problem,
    guides: &'a [Valued],
    /// By guide, board and section: what a strip holds at most.
    strips: Vec<Vec<Vec<f64>>>,
    failed: HashSet<(Vec<usize>, Vec<usize>, Vec<(usize, usize)>)>,
    states: usize,
    most_states: usize,
    cut_short: bool,
}

impl Tree<'_> {
    fn go(&mut self, state: &mut State) -> bool {
        let Some(kind) = (0..state.left.len())
            .filter(|k| state.left[*k] > 0)
            .max_by_key(|k| self.problem.kinds[*k].size)
        else {
            return true;
        };
        if self.hopeless(state) {
            return false;
        }
        let key = self.key(state);
        if self.failed.contains(&key) {
            return false;
        }
        self.states += 1;
        if self.states > self.most_states {
            self.cut_short = true;
            return false;
        }
        if self.use_open(state, kind) || self.use_new(state, kind) {
            return true;
        }
        self.failed.insert(key);
        false
    }

    fn section_and_board(&self, state: &State, open: Open) -> (usize, usize) {
        (state.used[open.0].strips[open.1].0, state.used[open.0].board)
    }

    fn key(&self, state: &State) -> (Vec<usize>, Vec<usize>, Vec<(usize, usize)>) {
        let mut open: Vec<(usize, usize)> = state
            .open
            .iter()
            .map(|o| self.section_and_board(state, *o))
            .map(|(s, b)| (s, self.problem.boards[b].capacity))
            .collect();
        open.sort_unstable();
        (state.left.clone(), state.boards.clone(), open)
    }

    /// By the values of some guide more is left than boards and strips hold.
    fn hopeless(&self, state: &State) -> bool {
        self.guides.iter().zip(&self.strips).any(|(g, strips)| {
            let worth = g.worth(&state.left);
            let boards: f64 = g.holds.iter().zip(&state.boards).map(|(h, n)| h * *n as f64).sum();
            let open: f64 = state
                .open
                .iter()
                .map(|o| self.section_and_board(state, *o))
                .map(|(s, b)| strips[b][s])
                .sum();
            worth > boards + open + ROUNDING * (1.0 + worth)
        })
    }

    fn use_open(&mut self, state: &mut State, kind: usize) -> bool {
        let mut seen = HashSet::new();
        for i in 0..state.open.len() {
            let open = state.open[i];
            let (section, board) = self.section_and_board(state, open);
            let capacity = self.problem.boards[board].capacity;
            if section != self.problem.kinds[kind].section || !seen.insert(capacity) {
                continue;
            }
            state.open.remove(i);
            let done = self.crosscut(state, open, capacity, kind);
            if done {
                return true;
            }
            state.open.insert(i, open);
        }
        false
    }

    fn use_new(&mut self, state: &mut State, kind: usize) -> bool {
        let section = self.problem.kinds[kind].section;
        let problem = self.problem;
        for (b, board) in problem.boards.iter().enumerate() {
            if state.boards[b] == 0 || board.capacity < problem.kinds[kind].size {
                continue;
            }
            for rip in board.rips.iter().filter(|r| r[section] > 0) {
                let strips: Vec<(usize, Crosscut)> = rip
                    .iter()
                    .enumerate()
                    .flat_map(|(s, n)| std::iter::repeat_n((s, Vec::new()), *n))
                    .collect();
                let at = state.used.len();
                let count = strips.len();
                let first = strips.iter().position(|(s, _)| *s == section);
                state.used.push(Used { board: b, strips });
                state.boards[b] -= 1;
                let before = state.open.len();
                state.open.extend((0..count).filter(|i| Some(*i) != first).map(|i| (at, i)));
                if let Some(first) = first
                    && self.crosscut(state, (at, first), board.capacity, kind)
                {
                    return true;
                }
                state.open.truncate(before);
                state.boards[b] += 1;
                state.used.pop();
            }
        }
        false
    }

    /// Crosscuts a strip, `kind` among what it gives, every way in turn.
    fn crosscut(&mut self, state: &mut State, open: Open, capacity: usize, kind: usize) -> bool {
        for (_, set) in self.ways(&state.left, capacity, kind) {
            set.iter().for_each(|(k, n)| state.left[*k] -= n);
            let before = (state.used.len(), state.open.len());
            state.used[open.0].strips[open.1].1 = set.clone();
            if self.go(state) {
                return true;
            }
            debug_assert_eq!(before, (state.used.len(), state.open.len()));
            state.used[open.0].strips[open.1].1 = Vec::new();
            set.iter().for_each(|(k, n)| state.left[*k] += n);
            if self.states > self.most_states {
                return false;
            }
        }
        false
    }

    /// Ways to fill a strip with pieces that are left, so that no further one goes in, with one
    /// of `kind` at least: with what each leaves, the least first.
    fn ways(&mut self, left: &[usize], capacity: usize, kind: usize) -> Vec<(usize, Crosscut)> {
        let section = self.problem.kinds[kind].section;
        let mut lots: Vec<(usize, usize, usize)> = (0..left.len())
            .filter(|k| left[*k] > 0 && self.problem.kinds[*k].section == section)
            .map(|k| (k, self.problem.kinds[k].size, left[k] - usize::from(k == kind)))
            .collect();
        lots.sort_by_key(|l| std::cmp::Reverse(l.1));
        let Some(room) = capacity.checked_sub(self.problem.kinds[kind].size) else {
            return Vec::new();
        };
        let mut out: Vec<(usize, Vec<usize>)> = Vec::new();
        let mut now = vec![0; lots.len()];
        fill(&lots, 0, room, &mut now, &mut out);
        self.cut_short |= out.len() >= MOST_WAYS;
        let mut ways: Vec<(usize, Crosscut)> = out
            .into_iter()
            .map(|(waste, counts)| {
                let all = lots.iter().zip(counts).map(|(l, n)| (l.0, n + usize::from(l.0 == kind)));
                (waste, all.filter(|(_, n)| *n > 0).collect())
            })
            .collect();
        ways.sort_by_key(|w| w.0);
        ways
    }
}

fn fill(
    lots: &[(usize, usize, usize)],
    at: usize,
    room: usize,
    now: &mut Vec<usize>,
    out: &mut Vec<(usize, Vec<usize>)>,
) {
    if out.len() >= MOST_WAYS {
        return;
    }
    let Some((_, size, count)) = lots.get(at) else {
        let more = lots.iter().zip(now.iter()).any(|((_, s, c), n)| n < c && *s <= room);
        if !more {
            out.push((room, now.clone()));
        }
        return;
    };
    for n in (0..=(*count).min(room / size)).rev() {
        now[at] = n;
        fill(lots, at + 1, room - n * size, now, out);
    }
    now[at] = 0;
}
