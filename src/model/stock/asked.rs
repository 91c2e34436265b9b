//! What is asked for at the yard: sheets and boards, alike ones together.

use super::{Boxes, LumberList, SheetKind, StockList};
use crate::stock::nest::Supply;

/// Something that is asked for.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// A sheet.
    Sheet {
        /// Its kind.
        sheet: String,
        /// Thickness, mm.
        thickness: f64,
        /// Length and width, mm.
        size: (f64, f64),
        /// It is one of those that the document's list counts.
        on_hand: bool,
        /// It is for the boxes round the foam.
        boxes: bool,
    },
    /// A board.
    Board {
        /// Species; empty for any that is straight.
        species: String,
        /// Thickness and width, mm.
        section: (f64, f64),
        /// mm.
        length: f64,
        /// It is one of those that the document's list counts.
        on_hand: bool,
    },
}

/// How many of them, and what all cost; `None` where that is not known.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedFor {
    /// What.
    pub what: Asked,
    /// How many.
    pub count: usize,
    /// Of all of them.
    pub price: Option<f64>,
}

/// Something that the builder has not said the price of.
#[derive(Debug, Clone, PartialEq)]
pub enum Unpriced {
    /// Sheets or boards.
    Asked(Asked),
    /// One of the stores, as a shop calls it.
    Store(String),
}

impl StockList {
    /// What has no price, kind by kind.
    pub fn without_price(&self) -> Vec<Unpriced> {
        let asked = self.asked_for().into_iter().filter(|a| a.price.is_none());
        let stores = self.stores.bought.iter().filter(|b| b.price.is_none());
        let stores = stores.map(|b| Unpriced::Store(b.product.clone()));
        asked.map(|a| Unpriced::Asked(a.what)).chain(stores).collect()
    }

    /// Sheets and boards, each kind, size and length once, in the order of the list.
    pub fn asked_for(&self) -> Vec<AskedFor> {
        asked_for(&self.sheets, &self.boxes, &self.lumber)
    }
}

/// As [`StockList::asked_for`].
pub(super) fn asked_for(
    sheets: &[SheetKind],
    boxes: &[Boxes],
    lumber: &LumberList,
) -> Vec<AskedFor> {
    let mut out: Vec<AskedFor> = Vec::new();
    let mut one = |what: Asked, price: Option<f64>| {
        // At two prices the same thing is two things.
        let alike =
            |a: &&mut AskedFor| a.what == what && a.price.map(|p| p / a.count as f64) == price;
        match out.iter_mut().find(alike) {
            Some(a) => {
                a.count += 1;
                a.price = a.price.zip(price).map(|(sum, p)| sum + p);
            }
            None => out.push(AskedFor { what, count: 1, price }),
        }
    };
    for kind in sheets {
        for laid in &kind.layout.sheets {
            let stock = &kind.problem.sheets[laid.sheet];
            let (_, size) = stock.extent();
            let what = Asked::Sheet {
                sheet: kind.sheet.clone(),
                thickness: kind.thickness,
                size: (size.x, size.y),
                on_hand: stock.supply != Supply::Bought,
                boxes: false,
            };
            one(what, stock.price);
        }
    }
    for s in boxes.iter().flat_map(|b| &b.sheets) {
        let what = Asked::Sheet {
            sheet: s.sheet.clone(),
            thickness: s.thickness,
            size: s.size,
            on_hand: s.on_hand,
            boxes: true,
        };
        (0..s.count).for_each(|_| one(what.clone(), s.price));
    }
    for b in &lumber.plan.boards {
        let stock = &lumber.lengths[b.stock];
        let what = Asked::Board {
            species: stock.species.clone(),
            section: (stock.thickness, stock.width),
            length: stock.length,
            on_hand: stock.count.is_some(),
        };
        one(what, stock.price);
    }
    out
}
