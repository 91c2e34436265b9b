//! The search as a whole: what is kept, how long it goes on, who is told.

use super::bench::Bench;
use super::chance::Chance;
use super::check::wrongs;
use super::layout::{Layout, Reason, Score, Unplaced};
use super::separate::Separator;
use super::state::State;

/// What the search is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// The layout made at once.
    First,
    /// Doing with fewer or cheaper sheets.
    FewerSheets,
    /// Pushing the parts of one sheet together so that more of it is left.
    LargerOffcut,
}

/// What a caller is told after every round of moves, some tens of milliseconds apart.
#[derive(Debug)]
pub struct Progress<'a> {
    /// What it is at.
    pub stage: Stage,
    /// Parts moved so far, and how many it will move at most.
    pub moves: usize,
    /// The effort asked for.
    pub of: usize,
    /// The best layout so far, checked.
    pub best: &'a Layout,
    /// Whether it is better than at the last call.
    pub improved: bool,
}

/// An attempt is given up when the overlap did not fall for so many passes, the first time;
/// later rounds wait longer.
pub(super) const PATIENCE: usize = 30;
/// A fall by less than this share is none.
const FALLEN: f64 = 0.98;

/// The search.
pub(super) struct Search<'b, 'a, 't> {
    pub(super) bench: &'b Bench<'a>,
    pub(super) chance: Chance,
    pub(super) best: Layout,
    pub(super) state: State,
    score: Score,
    pub(super) moves: usize,
    most: usize,
    tell: &'t mut dyn FnMut(&Progress) -> bool,
    improved: bool,
    stopped: bool,
}

impl<'b, 'a, 't> Search<'b, 'a, 't> {
    /// Begins with a state without overlap.
    pub(super) fn new(
        bench: &'b Bench<'a>,
        chance: Chance,
        best: Layout,
        state: State,
        most: usize,
        tell: &'t mut dyn FnMut(&Progress) -> bool,
    ) -> Self {
        let score = best.score(bench.problem);
        let mut search = Search {
            bench,
            chance,
            best,
            state,
            score,
            moves: 0,
            most,
            tell,
            improved: true,
            stopped: false,
        };
        search.report(Stage::First);
        search
    }

    /// Whether there is nothing left to spend, or the caller has had enough.
    pub(super) fn is_over(&self) -> bool {
        self.stopped || self.moves >= self.most
    }

    fn report(&mut self, stage: Stage) {
        let progress = Progress {
            stage,
            moves: self.moves,
            of: self.most,
            best: &self.best,
            improved: self.improved,
        };
        self.stopped |= !(self.tell)(&progress);
        self.improved = false;
    }

    /// Takes a state without overlap if its layout is right and better than the best.
    pub(super) fn adopt(&mut self, state: State) -> bool {
        let layout = layout_of(self.bench, &state, self.best.bound.clone());
        let score = layout.score(self.bench.problem);
        if !score.beats(&self.score) || !wrongs(self.bench.problem, &layout).is_empty() {
            return false;
        }
        (self.best, self.score) = (layout, score);
        self.state = without_empty(self.bench, state);
        self.improved = true;
        true
    }

    /// Separates what overlaps; `None` if it was given up.
    pub(super) fn separated(
        &mut self,
        state: State,
        stage: Stage,
        patience: usize,
    ) -> Option<State> {
        let mut work = Separator::new(self.bench, state);
        let (mut least, mut waited) = (f64::INFINITY, 0);
        let before = self.moves;
        loop {
            let left = work.pass(&mut self.chance);
            // A pass that moves nothing costs something as well.
            self.moves = before + work.moves.max(1);
            self.report(stage);
            if left == 0.0 {
                return Some(work.state);
            }
            if left < FALLEN * least {
                (least, waited) = (left, 0);
            } else {
                waited += 1;
            }
            if waited > patience || self.is_over() {
                return None;
            }
        }
    }
}

/// The layout of a state without overlap: sheets with nothing on them are left out, those on
/// hand come first, the one with the largest free end last.
pub(super) fn layout_of(bench: &Bench, state: &State, bound: super::bound::Bound) -> Layout {
    let problem = bench.problem;
    let mut sheets: Vec<_> = (0..state.tables.len())
        .filter(|t| !state.on[*t].is_empty())
        .map(|t| {
            let mut items = state.on[t].clone();
            items.sort_unstable();
            let lying = items.into_iter().filter_map(|i| state.places[i].map(|p| (i, p)));
            let lying = lying.map(|(i, p)| (i, p.form, p.at));
            bench.sheet_layout(state.tables[t].sheet, lying)
        })
        .collect();
    sheets.sort_by(|a, b| {
        let bought = |s: &super::layout::SheetLayout| problem.sheets[s.sheet].is_bought();
        let end = |s: &super::layout::SheetLayout| {
            problem.sheets[s.sheet].extent().1.x - s.reach(problem)
        };
        bought(a).cmp(&bought(b)).then(end(a).total_cmp(&end(b)))
    });
    let mut unplaced = bench.unplaced.clone();
    for (item, place) in bench.items.iter().zip(&state.places) {
        if place.is_none() {
            unplaced.push(Unplaced { part: item.part, copy: item.copy, reason: Reason::NoRoom });
        }
    }
    Layout { sheets, unplaced, bound }
}

/// The same with empty tables taken away, all at full length.
pub(super) fn without_empty(bench: &Bench, state: State) -> State {
    let kept: Vec<usize> = (0..state.tables.len()).filter(|t| !state.on[*t].is_empty()).collect();
    let sheets: Vec<usize> = kept.iter().map(|t| state.tables[*t].sheet).collect();
    let mut out = State::empty(bench, &sheets);
    for (new, old) in kept.iter().enumerate() {
        for item in &state.on[*old] {
            if let Some(place) = state.places[*item] {
                out.put(*item, super::state::Place { table: new, ..place });
            }
        }
    }
    out
}
