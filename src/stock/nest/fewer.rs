//! Doing with fewer sheets, or with cheaper ones.

use super::bench::Bench;
use super::search::{PATIENCE, Search, Stage};
use super::state::{Place, State};
use crate::geom::polyline::area;

/// A set of sheets that would be better than the one in use.
#[derive(Debug, Clone)]
struct Target {
    /// What becomes of each table: its sheet, another one, or none.
    tables: Vec<Option<usize>>,
    /// Area of all parts over the area of all sheets.
    full: f64,
}

impl Search<'_, '_, '_> {
    /// Tries each better set of sheets, the roomiest first, until none is left to try. Each
    /// success begins anew.
    pub(super) fn fewer_sheets(&mut self, round: usize) {
        while !self.is_over() {
            let won = targets(self.bench, &self.state, self.best.bound.sheets)
                .into_iter()
                .any(|target| self.attempt(&target, PATIENCE * round));
            if !won {
                return;
            }
        }
    }

    fn attempt(&mut self, target: &Target, patience: usize) -> bool {
        if self.is_over() {
            return false;
        }
        let start = moved(self, target);
        self.separated(start, Stage::FewerSheets, patience).is_some_and(|state| self.adopt(state))
    }
}

/// Every better set that is one step away: all of what is unplaced put in, a table taken away,
/// a table changed for another kind, both.
fn targets(bench: &Bench, state: &State, least: usize) -> Vec<Target> {
    let now: Vec<Option<usize>> = state.tables.iter().map(|t| Some(t.sheet)).collect();
    let mut sets: Vec<Vec<Option<usize>>> = Vec::new();
    let unplaced = state.places.iter().any(Option::is_none);
    if unplaced {
        sets.push(now.clone());
    }
    for i in emptiest(bench, state) {
        let mut without = now.clone();
        without[i] = None;
        for j in 0..now.len() {
            for t in (0..bench.boards.len()).filter(|t| Some(*t) != now[j]) {
                let mut changed = without.clone();
                changed[j] = Some(t);
                sets.push(changed);
            }
        }
        sets.push(without);
    }
    let needed: f64 =
        bench.items.iter().map(|i| area(&bench.problem.parts[i.part].outline).abs()).sum();
    let mut targets: Vec<Target> = sets
        .into_iter()
        .filter(|set| {
            unplaced && set == &now || is_possible(bench, set, least) && beats(bench, set, &now)
        })
        .map(|tables| {
            let room: f64 = tables.iter().flatten().map(|t| bench.boards[*t].area).sum();
            Target { tables, full: needed / room.max(1.0) }
        })
        .filter(|t| t.full < 1.0 || unplaced)
        .collect();
    targets.sort_by(|a, b| a.full.total_cmp(&b.full));
    targets.dedup_by(|a, b| same_set(&a.tables, &b.tables));
    targets
}

/// One table of each kind: that on which least lies.
fn emptiest(bench: &Bench, state: &State) -> Vec<usize> {
    let load = |t: &usize| -> f64 { state.on[*t].iter().map(|i| bench.items[*i].size).sum() };
    let mut tables: Vec<usize> = (0..state.tables.len()).collect();
    tables.sort_by(|a, b| load(a).total_cmp(&load(b)));
    let mut seen = Vec::new();
    tables.retain(|t| {
        let sheet = state.tables[*t].sheet;
        let new = !seen.contains(&sheet);
        seen.push(sheet);
        new
    });
    tables
}

fn same_set(a: &[Option<usize>], b: &[Option<usize>]) -> bool {
    let sorted = |v: &[Option<usize>]| {
        let mut v: Vec<usize> = v.iter().flatten().copied().collect();
        v.sort_unstable();
        v
    };
    sorted(a) == sorted(b)
}

/// Whether there are so many sheets, enough of them to buy by the bound, and one for each item.
fn is_possible(bench: &Bench, set: &[Option<usize>], least: usize) -> bool {
    let used = |s: usize| set.iter().filter(|t| **t == Some(s)).count();
    let bought = set.iter().flatten().filter(|s| bench.problem.sheets[**s].is_bought()).count();
    bought >= least
        && (0..bench.boards.len()).all(|s| used(s) <= bench.supply(s))
        && bench.items.iter().all(|i| set.iter().flatten().any(|s| !i.forms[*s].is_empty()))
}

/// Fewer bought, or as many for less, or as many for as much with fewer cut.
fn beats(bench: &Bench, set: &[Option<usize>], now: &[Option<usize>]) -> bool {
    let of = |set: &[Option<usize>]| {
        let sheets = set.iter().flatten().map(|s| &bench.problem.sheets[*s]);
        let bought: Vec<_> = sheets.filter(|s| s.is_bought()).collect();
        let cost: Option<f64> = bought.iter().map(|s| s.price).sum();
        (bought.len(), cost.unwrap_or(f64::INFINITY), set.iter().flatten().count())
    };
    let (a, b) = (of(set), of(now));
    a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)).is_lt()
}

/// The state on another set of sheets: what lay on a table that goes or changes is put
/// anywhere, overlapping what is there.
fn moved(search: &mut Search, target: &Target) -> State {
    let (bench, old) = (search.bench, search.state.clone());
    let sheets: Vec<usize> = target.tables.iter().flatten().copied().collect();
    let mut out = State::empty(bench, &sheets);
    let mut new_of = vec![None; target.tables.len()];
    let mut next = 0;
    for (i, sheet) in target.tables.iter().enumerate() {
        if let Some(sheet) = sheet {
            new_of[i] = (*sheet == old.tables[i].sheet).then_some(next);
            next += 1;
        }
    }
    let all: Vec<usize> = (0..sheets.len()).collect();
    for item in 0..bench.items.len() {
        let kept = old.places[item].and_then(|p| new_of[p.table].map(|table| Place { table, ..p }));
        let place = kept.or_else(|| out.anywhere(bench, item, &all, &mut search.chance));
        if let Some(place) = place {
            out.put(item, place);
        }
    }
    out
}
