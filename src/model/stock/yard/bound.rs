//! What a boat costs at least, before her sheets are laid and her lumber is cut.

use std::cmp::Ordering;

use super::choices::ripped;
use super::verdict::Why;
use crate::geom::P2;
use crate::geom::polyline::area;
use crate::hull::stock::{SheetStock, StockPlan};
use crate::model::stock::StockList;
use crate::stock::lumber::{Cut, Length};

/// What is paid, for comparing: sheets and listed boards without a price count before all that
/// is known, so that nothing looks cheap because nobody said what it costs.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Paid {
    /// Sheets, and boards of the list, of no known price.
    pub unpriced: usize,
    /// Everything whose price is known, in the document's currency.
    pub known: f64,
}

impl Paid {
    /// For everything on a list; `plan` is that of her document. What is bought besides (lumber
    /// of which the document has none, stores) is of no known price and not counted: it is the
    /// same for every choice, or near enough.
    pub fn of(list: &StockList, plan: &StockPlan) -> Paid {
        let sheets = list
            .sheets
            .iter()
            .flat_map(|k| k.layout.sheets.iter().map(|s| k.problem.sheets[s.sheet].price));
        let own = listed(plan);
        let boards = list.lumber.plan.boards.iter().filter(|b| b.stock < own);
        let prices = sheets.chain(boards.map(|b| list.lumber.lengths[b.stock].price));
        let unpriced = prices.filter(Option::is_none).count();
        Paid { unpriced, known: list.cost.known() }
    }

    /// Both together.
    pub(super) fn plus(self, other: Paid) -> Paid {
        Paid { unpriced: self.unpriced + other.unpriced, known: self.known + other.known }
    }

    /// Which is less.
    pub fn order(&self, other: &Paid) -> Ordering {
        self.unpriced.cmp(&other.unpriced).then(self.known.total_cmp(&other.known))
    }
}

/// How many lengths of lumber the document has: the first of those of a list.
pub(super) fn listed(plan: &StockPlan) -> usize {
    plan.lumber.iter().map(|row| row.lengths_mm.len()).sum()
}

/// Pieces of a split panel together are its outline but for rounding, of this share at most.
const SPLIT_ROUNDING: f64 = 1e-3;
/// Sheets' worth that is rounding, not wood.
const ROUNDING: f64 = 1e-6;
/// A strip's width is worked with in tenths of a mm: it may be less than it is by so much.
const STRIP_ROUNDING_MM: f64 = 0.1;

/// What sheets for parts of this area (mm²) cost at least: rows are filled by area, those that
/// cost least for it first, and whole sheets are paid where only one row is left to pay for.
///
/// # Errors
/// What there is, where the list has no room for them.
pub(super) fn sheets(plan: &StockPlan, sheet: &str, asks: f64) -> Result<Paid, Why> {
    let rows: Vec<&SheetStock> = plan.sheets.iter().filter(|s| s.sheet == sheet).collect();
    let margin = plan.sheet_margin_mm;
    let room = |s: &SheetStock| s.count.map_or(f64::INFINITY, f64::from) * usable(s, margin);
    let has: f64 = rows.iter().filter(|s| s.count != Some(0)).map(|s| room(s)).sum();
    let wanted = asks * (1.0 - SPLIT_ROUNDING);
    if wanted > has {
        return Err(Why::Short { sheet: sheet.into(), asks, has });
    }
    let there = rows.iter().filter(|s| s.count != Some(0) && usable(s, margin) > 0.0);
    let (free, paid): (Vec<&&SheetStock>, Vec<&&SheetStock>) =
        there.partition(|s| s.price.unwrap_or(0.0) <= 0.0);
    let left = free.iter().fold(wanted, |left, s| (left - room(s)).max(0.0));
    let unpriced = !rows.is_empty() && rows.iter().all(|s| s.price.is_none()) && wanted > 0.0;
    Ok(Paid { unpriced: usize::from(unpriced), known: filled(left, &paid, margin) })
}

/// What it costs at least to cover an area (mm²) by these rows, each with a price.
fn filled(area: f64, rows: &[&&SheetStock], margin: f64) -> f64 {
    let of = |s: &SheetStock| (usable(s, margin), s.price.unwrap_or(0.0), s.count);
    let mut rows: Vec<(f64, f64, Option<u32>)> = rows.iter().map(|s| of(s)).collect();
    if let [(each, price, _)] = rows[..] {
        return price * (area / each - ROUNDING).ceil().max(0.0);
    }
    rows.sort_by(|a, b| (a.1 / a.0).total_cmp(&(b.1 / b.0)));
    let (mut left, mut sum) = (area, 0.0);
    for (each, price, count) in &rows {
        let most = count.map_or(f64::INFINITY, f64::from);
        let taken = (left / each).min(most);
        sum += taken * price;
        left -= taken * each;
    }
    let one = rows.iter().map(|r| r.1).fold(f64::INFINITY, f64::min);
    if area > ROUNDING && one.is_finite() { sum.max(one) } else { sum }
}

/// What of a sheet parts may lie on, at most, mm².
fn usable(s: &SheetStock, margin: f64) -> f64 {
    if s.outline_mm.is_empty() {
        return (s.length_mm - 2.0 * margin).max(0.0) * (s.width_mm - 2.0 * margin).max(0.0);
    }
    let ring: Vec<P2> = s.outline_mm.iter().map(|(x, y)| P2::new(*x, *y)).collect();
    area(&ring).abs()
}

/// What a stick costs at least: its length in the one of these `lengths` that costs least for
/// it, which holds as many strips beside each other as its width allows and nothing but sticks.
/// Nothing where none of them gives it, or one of those that do has no price.
pub(super) fn stick(lengths: &[Length], end_trim: f64, (of, species): (&Cut, &str)) -> Paid {
    let mut least: Option<f64> = None;
    let mut all_unpriced = true;
    for l in lengths.iter().filter(|l| l.species == species && l.count != Some(0)) {
        let usable = l.length - 2.0 * end_trim;
        let Some(width) = ripped((l.thickness, l.width), of.section).filter(|_| usable > 0.0)
        else {
            continue;
        };
        let across = ((width - STRIP_ROUNDING_MM) / l.width).min(1.0);
        all_unpriced &= l.price.is_none();
        let rate = l.price.unwrap_or(0.0) / usable * across;
        least = Some(least.map_or(rate, |b: f64| b.min(rate)));
    }
    let unpriced = usize::from(least.is_some() && all_unpriced);
    Paid { unpriced, known: least.unwrap_or(0.0) * of.length }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(count: Option<u32>, price: Option<f64>) -> SheetStock {
        SheetStock {
            sheet: "ply".into(),
            length_mm: 2010.0,
            width_mm: 1010.0,
            count,
            price,
            one_good_face: false,
            outline_mm: Vec::new(),
        }
    }

    fn yard(sheets: Vec<SheetStock>) -> StockPlan {
        StockPlan { sheets, ..StockPlan::default() }
    }

    /// Sheets with 2 m² of room each, by hand.
    #[test]
    fn sheets_by_area() {
        let known = |rows: Vec<SheetStock>, m2: f64| sheets(&yard(rows), "ply", m2 * 1e6);
        let one = || vec![sheet(None, Some(50.0))];
        assert_eq!(known(one(), 4.5).map(|p| p.known), Ok(150.0));
        assert_eq!(known(one(), 0.0).map(|p| p.known), Ok(0.0));
        // Two lie in the shop.
        let some = vec![sheet(Some(2), Some(0.0)), sheet(None, Some(50.0))];
        assert_eq!(known(some, 4.5).map(|p| p.known), Ok(50.0));
        // Without a price nothing is known but that something has none.
        let none = known(vec![sheet(None, None)], 4.5).expect("there");
        assert_eq!((none.unpriced, none.known), (1, 0.0));
        let few = known(vec![sheet(Some(2), Some(50.0))], 4.5);
        assert!(matches!(few, Err(Why::Short { has, .. }) if (has - 4e6).abs() < 1.0));
        // Of two rows with prices part of a sheet may be all: no less than one.
        let two = vec![sheet(Some(1), Some(40.0)), sheet(None, Some(50.0))];
        let sum = known(two, 3.0).expect("there").known;
        assert!((64.0..=65.0).contains(&sum), "{sum}");
    }

    /// A stick of 3 m from boards of 4 m for 8, 30 mm of which are sawn off: three of its width
    /// lie side by side.
    #[test]
    fn a_stick_by_its_share_of_a_board() {
        let board = |price| Length {
            species: "larch".into(),
            thickness: 20.0,
            width: 120.0,
            length: 4000.0,
            price,
            count: None,
            for_any: false,
        };
        let of = |section| Cut {
            name: "log".into(),
            species: String::new(),
            section,
            length: 3000.0,
            trim: 0.0,
            scarfs: None,
        };
        let least =
            |boards: &[Length], section, species| stick(boards, 15.0, (&of(section), species));
        let one = [board(Some(8.0))];
        let known = least(&one, (20.0, 40.0), "larch");
        assert!((known.known - 8.0 * 3000.0 / 3970.0 * 39.9 / 120.0).abs() < 1e-9);
        assert_eq!(least(&one, (40.0, 20.0), "larch"), known);
        assert_eq!(least(&one, (20.0, 40.0), "oak"), Paid::default());
        assert_eq!(least(&one, (25.0, 40.0), "larch"), Paid::default());
        let mixed = [board(Some(8.0)), board(None)];
        assert_eq!(least(&mixed, (20.0, 40.0), "larch"), Paid::default());
        assert_eq!(least(&mixed[1..], (20.0, 40.0), "larch").unpriced, 1);
    }
}
