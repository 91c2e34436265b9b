//! Boxes on shelves: the plainest packing there is, and the one that no answer may be worse than.

use super::bench::Bench;
use super::state::{Place, State};
use crate::geom::{P2, V2};

/// A strip across the sheet, as wide as its first part.
struct Shelf {
    table: usize,
    /// Where it begins along the sheet, and how wide it is.
    from: f64,
    wide: f64,
    /// How far it is filled across the sheet.
    filled: f64,
}

/// The boxes of all items on shelves across the sheets, the longest first, each on the first
/// shelf with room (first fit by decreasing height: Coffman et al., SIAM J. Comput. 9, 1980).
pub(super) fn shelves(bench: &Bench) -> State {
    let kinds = bench.order_of_sheets();
    let mut state = State::empty(bench, &[]);
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut items: Vec<(usize, f64)> = (0..bench.items.len())
        .map(|i| (i, bench.items[i].forms.iter().flatten().map(|f| bench.forms[*f].half.x)))
        .map(|(i, xs)| (i, xs.fold(f64::INFINITY, f64::min)))
        .collect();
    items.sort_by(|a, b| b.1.total_cmp(&a.1));
    for (item, _) in items {
        if let Some(place) = on_a_shelf(bench, &mut state, &mut shelves, item, &kinds) {
            state.put(item, place);
        }
    }
    state
}

/// Boxes that touch would count as overlapping.
const APART_MM: f64 = 1e-6;

fn on_a_shelf(
    bench: &Bench,
    state: &mut State,
    shelves: &mut Vec<Shelf>,
    item: usize,
    kinds: &[usize],
) -> Option<Place> {
    // On a whole rectangle only: what is missing of the others is not seen here.
    let whole = |sheet: usize| bench.boards[sheet].missing.is_empty();
    let shortest = |sheet: usize| {
        let forms = bench.items[item].forms[sheet].iter().copied();
        forms.min_by(|a, b| bench.forms[*a].half.x.total_cmp(&bench.forms[*b].half.x))
    };
    let at = |shelf: &Shelf, half: V2, sheet: usize| {
        let wide = bench.boards[sheet].size.y;
        // What fits but for a hair on a sheet fits.
        let y = if half.y * 2.0 > wide { 0.5 * wide } else { shelf.filled + half.y };
        P2::new(shelf.from + half.x, y)
    };
    for shelf in shelves.iter_mut() {
        let sheet = state.tables[shelf.table].sheet;
        for form in bench.items[item].forms[sheet].iter().copied() {
            let half = bench.forms[form].half;
            let room = bench.boards[sheet].size.y - shelf.filled;
            if 2.0 * half.x <= shelf.wide && 2.0 * half.y <= room {
                let place = Place { table: shelf.table, form, at: at(shelf, half, sheet) };
                shelf.filled += 2.0 * half.y + APART_MM;
                return Some(place);
            }
        }
    }
    for table in 0..=state.tables.len() {
        let candidates: Vec<usize> = match state.tables.get(table) {
            Some(t) => vec![t.sheet],
            None => kinds.to_vec(),
        };
        for sheet in candidates {
            let used = state.tables.iter().filter(|t| t.sheet == sheet).count();
            let fresh = table == state.tables.len();
            if !whole(sheet) || fresh && used >= bench.supply(sheet) {
                continue;
            }
            let Some(form) = shortest(sheet) else { continue };
            let half = bench.forms[form].half;
            let ends = shelves.iter().filter(|s| s.table == table).map(|s| s.from + s.wide);
            let from = ends.fold(0.0, f64::max) + if fresh { 0.0 } else { APART_MM };
            if !fresh && from + 2.0 * half.x > bench.boards[sheet].size.x {
                continue;
            }
            if fresh {
                let length = bench.boards[sheet].size.x;
                state.tables.push(super::state::Table { sheet, length });
                state.on.push(Vec::new());
            }
            let mut shelf = Shelf { table, from, wide: 2.0 * half.x, filled: 0.0 };
            let mut place = Place { table, form, at: at(&shelf, half, sheet) };
            let long = bench.boards[sheet].size.x;
            if 2.0 * half.x > long {
                place.at.x = 0.5 * long;
            }
            shelf.filled = 2.0 * half.y + APART_MM;
            shelves.push(shelf);
            return Some(place);
        }
    }
    None
}
