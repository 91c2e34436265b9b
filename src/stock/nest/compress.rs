//! Pushing the parts of one sheet towards its near end, so that more of it is left in one piece.

use super::search::{PATIENCE, Search, Stage};
use super::separate::clamp;
use super::state::{Place, State};
use crate::geom::polyline::area;

/// The sheet is made shorter by this share of what its parts reach at first, and at last.
const FIRST_CUT: f64 = 0.05;
const LAST_CUT: f64 = 0.001;
/// After a failure, the next try takes this share of the cut.
const LESS: f64 = 0.5;

impl Search<'_, '_, '_> {
    /// Shortens the sheet with the largest free end as long as the parts can be separated again;
    /// after so many failures in a row at the last cut it gives up.
    pub(super) fn larger_offcut(&mut self, failures: usize) {
        let mut cut = FIRST_CUT;
        let mut failed = 0;
        while !self.is_over() && failed < failures {
            let Some(table) = self.roomiest() else { return };
            let start = self.shortened(table, cut, failed > 0);
            let apart = match start {
                Some(start) => self.separated(start, Stage::LargerOffcut, PATIENCE),
                None if cut > LAST_CUT => None,
                None => return,
            };
            if apart.is_some_and(|state| self.adopt(state)) {
                failed = 0;
            } else if cut > LAST_CUT {
                cut = (LESS * cut).max(LAST_CUT);
            } else {
                failed += 1;
            }
        }
    }

    /// The table with the largest free end: what can be gained there is worth most.
    fn roomiest(&self) -> Option<usize> {
        let end = |t: &usize| {
            let board = &self.bench.boards[self.state.tables[*t].sheet];
            (board.size.x - self.state.reach(self.bench, *t)) * board.size.y
        };
        (0..self.state.tables.len()).max_by(|a, b| end(a).total_cmp(&end(b)))
    }

    /// The best state with a table shortened, so that parts overlap; two large parts exchanged
    /// too, where that is asked for. `None` if it would be too small for what lies there.
    fn shortened(&mut self, table: usize, cut: f64, exchange: bool) -> Option<State> {
        let bench = self.bench;
        let mut state = self.state.clone();
        let reach = state.reach(bench, table);
        state.tables[table].length = reach * (1.0 - cut);
        let room: f64 = state
            .tables
            .iter()
            .map(|t| (bench.boards[t.sheet].area).min(t.length * bench.boards[t.sheet].size.y))
            .sum();
        let parts = state.on.iter().flatten();
        let needed: f64 =
            parts.map(|i| area(&bench.problem.parts[bench.items[*i].part].outline).abs()).sum();
        if needed > room {
            return None;
        }
        if exchange {
            self.exchange(&mut state);
        }
        for item in state.on[table].clone() {
            let Some(place) = state.places[item] else { continue };
            if 2.0 * bench.forms[place.form].half.x <= state.tables[table].length + 0.05 {
                let (low, high) = state.span(bench, table, place.form);
                state.put(item, Place { at: clamp(place.at, low, high), ..place });
                continue;
            }
            let all: Vec<usize> = (0..state.tables.len()).collect();
            let elsewhere = state.anywhere(bench, item, &all, &mut self.chance)?;
            state.put(item, elsewhere);
        }
        Some(state)
    }

    /// Two parts change places, the larger ones rather than the smaller.
    fn exchange(&mut self, state: &mut State) {
        let bench = self.bench;
        let mut items: Vec<usize> =
            (0..bench.items.len()).filter(|i| state.places[*i].is_some()).collect();
        items.sort_by(|a, b| bench.items[*b].size.total_cmp(&bench.items[*a].size));
        items.truncate((items.len() / 2).max(2));
        let (a, b) = (self.chance.below(items.len()), self.chance.below(items.len()));
        let pair = (items.get(a).copied(), items.get(b).copied());
        let (Some(a), Some(b)) = pair else { return };
        let (Some(here), Some(there)) = (state.places[a], state.places[b]) else { return };
        for (item, to) in [(a, there), (b, here)] {
            let Some(own) = state.places[item] else { continue };
            let form = if state.forms(bench, item, to.table).any(|f| f == own.form) {
                own.form
            } else {
                match state.forms(bench, item, to.table).next() {
                    Some(form) => form,
                    None => continue,
                }
            };
            let (low, high) = state.span(bench, to.table, form);
            state.put(item, Place { table: to.table, form, at: clamp(to.at, low, high) });
        }
    }
}
