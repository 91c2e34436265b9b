//! Where everything lies at one moment of the search, overlapping or not.

use super::bench::Bench;
use super::chance::Chance;
use crate::geom::P2;

/// Where one item lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    /// Which of the tables.
    pub(super) table: usize,
    /// In which form.
    pub(super) form: usize,
    /// Centre of its box.
    pub(super) at: P2,
}

/// A sheet lying on the trestles: of which kind, and how much of its length may be used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Table {
    pub(super) sheet: usize,
    pub(super) length: f64,
}

/// Sums of areas are rounded by less than this share.
const ROUNDING: f64 = 1e-9;

/// All items and tables.
#[derive(Debug, Clone)]
pub(super) struct State {
    pub(super) tables: Vec<Table>,
    /// `None`: on no table.
    pub(super) places: Vec<Option<Place>>,
    /// The items on each table.
    pub(super) on: Vec<Vec<usize>>,
}

impl State {
    /// Nothing on these sheets.
    pub(super) fn empty(bench: &Bench, sheets: &[usize]) -> State {
        let table = |s: &usize| Table { sheet: *s, length: bench.boards[*s].size.x };
        State {
            tables: sheets.iter().map(table).collect(),
            places: vec![None; bench.items.len()],
            on: vec![Vec::new(); sheets.len()],
        }
    }

    /// Puts an item there, from wherever it was.
    pub(super) fn put(&mut self, item: usize, place: Place) {
        self.lift(item);
        self.on[place.table].push(item);
        self.places[item] = Some(place);
    }

    /// Takes an item off its table.
    pub(super) fn lift(&mut self, item: usize) {
        if let Some(old) = self.places[item].take() {
            self.on[old.table].retain(|i| *i != item);
        }
    }

    /// How far the parts on a table reach.
    pub(super) fn reach(&self, bench: &Bench, table: usize) -> f64 {
        let of = |i: &usize| self.places[*i].map_or(0.0, |p| p.at.x + bench.forms[p.form].half.x);
        self.on[table].iter().map(of).fold(0.0, f64::max)
    }

    /// Whether the area that is left of a table is an item's.
    pub(super) fn has_room(&self, bench: &Bench, table: usize, item: usize) -> bool {
        let taken: f64 = self.on[table].iter().map(|i| bench.items[*i].area).sum();
        let room = bench.boards[self.tables[table].sheet].area;
        (taken + bench.items[item].area) * (1.0 - ROUNDING) <= room
    }

    /// The places that the centre of a form may take on a table: least and greatest corner.
    pub(super) fn span(&self, bench: &Bench, table: usize, form: usize) -> (P2, P2) {
        let half = bench.forms[form].half;
        let Table { sheet, length } = self.tables[table];
        let high = P2::new(length - half.x, bench.boards[sheet].size.y - half.y);
        let low = P2::from(half);
        // Where it fits but for a hair, the hair is shared.
        let (a, b) = (low.inf(&high), low.sup(&high));
        if low.x > high.x || low.y > high.y {
            let mid = nalgebra::center(&low, &high);
            let pick =
                |low: f64, high: f64, mid: f64| if low > high { (mid, mid) } else { (low, high) };
            let (x, y) = (pick(low.x, high.x, mid.x), pick(low.y, high.y, mid.y));
            return (P2::new(x.0, y.0), P2::new(x.1, y.1));
        }
        (a, b)
    }

    /// The forms of an item that fit on a table as long as it is now.
    pub(super) fn forms<'a>(
        &'a self,
        bench: &'a Bench,
        item: usize,
        table: usize,
    ) -> impl Iterator<Item = usize> + 'a {
        let Table { sheet, length } = self.tables[table];
        let fits = move |f: &usize| 2.0 * bench.forms[*f].half.x <= length + 0.05;
        bench.items[item].forms[sheet].iter().copied().filter(fits)
    }

    /// Any place at all for an item on one of these tables; `None` if it fits on none.
    pub(super) fn anywhere(
        &self,
        bench: &Bench,
        item: usize,
        tables: &[usize],
        chance: &mut Chance,
    ) -> Option<Place> {
        let fit: Vec<(usize, usize)> =
            tables.iter().flat_map(|t| self.forms(bench, item, *t).map(move |f| (*t, f))).collect();
        let (table, form) = *fit.get(chance.below(fit.len()))?;
        let (low, high) = self.span(bench, table, form);
        let at = P2::new(chance.between(low.x, high.x), chance.between(low.y, high.y));
        Some(Place { table, form, at })
    }
}
