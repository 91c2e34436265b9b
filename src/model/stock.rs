//! What she is cut from and what is bought for her, counted from the register of parts.
//!
//! No part of the pass: how parts lie on sheets is searched for, and nothing else waits for it.
//! [`stock`] makes all of it when it is asked for, as thoroughly as it is asked to, and calls
//! back so that a window can show how far it is and stop it.

mod asked;
mod beside;
mod boxes;
mod choose;
mod laminate;
mod left_over;
mod lumber;
mod lying;
mod relaid;
mod sheets;
mod stores;
mod told;
mod ways;
pub mod yard;

use asked::asked_for;
pub use asked::{Asked, AskedFor, Unpriced};
pub use boxes::{BoxSheets, Boxes};
pub use lumber::LumberList;
pub use lying::{Lying, Side};
pub use relaid::{ByHand, HeldOver};
pub use sheets::{Laid, PanelSplit, SheetKind};
pub(super) use ways::GRAIN_WITHIN;

use super::Model;
use crate::finding::Finding;
use crate::float::mass::ItemId;
use crate::geom::polyline::area;
use crate::part::{PanelId, PartId};
use crate::stock::joints::PlacedJoint;
use crate::stock::lumber::Effort as Sawing;
use crate::stock::nest::{Effort, Progress, SheetLayout};
use crate::stock::stores::Stores;

/// Seed of the search where nobody chose one.
pub const SEED: u64 = 1;

/// What she is cut from, what is bought, and what that costs.
#[derive(Debug, Clone, PartialEq)]
pub struct StockList {
    /// Panels and where they are joined, from the keel up.
    pub panels: Vec<PanelSplit>,
    /// Sheets, kind by kind, and what lies on each.
    pub sheets: Vec<SheetKind>,
    /// Boards that are laminated of layers from what is left of other sheets, or of spare ones.
    pub laminated: Vec<Laminated>,
    /// What the boxes round the foam take: they are on no layout.
    pub boxes: Vec<Boxes>,
    /// Lumber, and how it is cut.
    pub lumber: LumberList,
    /// What is bought that is no wood.
    pub stores: Stores,
    /// What is paid.
    pub cost: Cost,
    /// What she weighs, jig and load aside, kg.
    pub mass: f64,
    /// What was noticed.
    pub findings: Vec<Finding>,
}

/// A boat, and what she is cut from where that was counted.
#[derive(Debug, Clone, Copy)]
pub struct Counted<'a> {
    /// The boat.
    pub model: &'a Model,
    /// What she is cut from.
    pub list: Option<&'a StockList>,
}

impl<'a> From<&'a Model> for Counted<'a> {
    fn from(model: &'a Model) -> Counted<'a> {
        Counted { model, list: None }
    }
}

impl<'a> Counted<'a> {
    /// A boat with what she is cut from.
    pub fn with(model: &'a Model, list: &'a StockList) -> Counted<'a> {
        Counted { model, list: Some(list) }
    }

    /// Where a panel is joined; nothing where it is whole, or stock was not counted.
    pub fn joints(&self, panel: PanelId) -> &'a [PlacedJoint] {
        let splits = self.list.map_or(&[][..], |l| &l.panels);
        splits.iter().find(|p| p.panel == panel).map_or(&[], |p| &p.split.joints)
    }

    /// The kind and the layout of a sheet, by the places of both.
    pub fn sheet(&self, kind: usize, sheet: usize) -> Option<(&'a SheetKind, &'a SheetLayout)> {
        let kind = self.list?.sheets.get(kind)?;
        Some((kind, kind.layout.sheets.get(sheet)?))
    }
}

/// A board that is laminated.
#[derive(Debug, Clone, PartialEq)]
pub struct Laminated {
    /// Which part.
    pub part: PartId,
    /// What the builder calls it.
    pub name: String,
    /// How many layers of which sheet.
    pub of: Vec<(usize, String)>,
}

impl Laminated {
    /// How many layers there are.
    pub fn layers(&self) -> usize {
        self.of.iter().map(|(n, _)| n).sum()
    }
}

/// What is paid, as far as prices are known, in the document's currency.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cost {
    /// For sheets.
    pub sheets: f64,
    /// For lumber.
    pub lumber: f64,
    /// For stores.
    pub stores: f64,
    /// Of how many kinds of things to buy the price is not known.
    pub unpriced: usize,
    /// Of sheets, lumber and stores, in this order: something is bought and nothing of it has a
    /// price.
    pub unknown: [bool; 3],
}

impl Cost {
    /// All that is known.
    pub fn known(&self) -> f64 {
        self.sheets + self.lumber + self.stores
    }

    /// For sheets, lumber and stores; `None` where no price of what is bought is known.
    pub fn parts(&self) -> [Option<f64>; 3] {
        let sums = [self.sheets, self.lumber, self.stores];
        [0, 1, 2].map(|i| (!self.unknown[i]).then_some(sums[i]))
    }

    /// All of it; `None` while a price is missing.
    pub fn whole(&self) -> Option<f64> {
        (self.unpriced == 0).then(|| self.known())
    }
}

impl StockList {
    /// How many sheets are cut, all kinds together.
    pub fn sheet_count(&self) -> usize {
        self.sheets.iter().map(|k| k.layout.sheets.len()).sum()
    }

    /// The number of a sheet among all that are cut, from 1, by the places of its kind and of
    /// itself.
    pub fn sheet_number(&self, kind: usize, sheet: usize) -> usize {
        let before = self.sheets.iter().take(kind).map(|k| k.layout.sheets.len()).sum::<usize>();
        before + sheet + 1
    }
}

/// Makes the list. `tell` is called with the kind of sheet in hand and how far its layout is,
/// and stops the search by returning `false`: the best so far is kept.
pub fn stock(
    model: &Model,
    effort: Effort,
    seed: u64,
    tell: &mut dyn FnMut(&str, &Progress) -> bool,
) -> StockList {
    let mut findings = Vec::new();
    let mut stopped = false;
    let mut on = |sheet: &str, progress: &Progress| {
        stopped |= !tell(sheet, progress);
        !stopped
    };
    let sheets = sheets::sheets(model, effort, seed, &mut on, &mut findings);
    // Nobody waits for cheaper boards who has stopped the search, or wants a first list.
    let quick = stopped || effort == Effort::NONE;
    let sawing = if quick { Sawing::Quick } else { Sawing::Thorough };
    put_together(model, sheets, lumber::lumber(model, sawing), findings)
}

/// The list of what was laid and cut, with the stores that go with it; `findings` are those of
/// the sheets.
fn put_together(
    model: &Model,
    laid: sheets::Sheets,
    lumber: LumberList,
    mut findings: Vec<Finding>,
) -> StockList {
    let sheets::Sheets { panels, kinds: sheets, laminated } = laid;
    let stores = stores::stores(model, &panels, &laminated);
    told::glue(model, &mut findings);
    let boxes = boxes::boxes(model, &sheets);
    told::boxes(&boxes, &mut findings);
    told::unused(model, &sheets, &stores, &mut findings);
    told::told(&sheets, &lumber, &stores, &mut findings);
    let cost = cost(&asked_for(&sheets, &boxes, &lumber), &stores);
    let mass =
        model.afloat.as_deref().map_or(0.0, |a| a.hull.mass + more_of_blocks(model, &panels));
    StockList { panels, sheets, laminated, boxes, lumber, stores, cost, mass, findings }
}

/// How much more her butt blocks weigh as they are laid than the fewest that she floats with, kg;
/// nothing where they, or all of her, were weighed.
fn more_of_blocks(model: &Model, panels: &[PanelSplit]) -> f64 {
    let items = model.afloat.as_deref().map_or(&[][..], |a| &a.items);
    let of = |id: ItemId| items.iter().find(|i| i.id == id);
    let blocks = of(ItemId::Blocks);
    if of(ItemId::Whole).is_some() || blocks.is_some_and(|i| i.computed.is_some()) {
        return 0.0;
    }
    let laid = |p: &PanelSplit| {
        let part = model.parts.get(PartId::Panel(p.panel))?;
        let (density, _) = model.materials.density_of(&part.cut_from)?;
        let blocks = p.split.joints.iter().flat_map(|j| &j.blocks);
        let area: f64 = blocks.map(|b| area(b).abs()).sum();
        let thickness = model.panels.get(p.panel.0)?.thickness;
        Some(p.copies.count() as f64 * area * thickness * density * 1e-9)
    };
    let laid: f64 = panels.iter().filter_map(laid).sum();
    let weighed_margin = of(ItemId::Margin).is_some_and(|i| i.computed.is_some());
    let margin = if weighed_margin { 0.0 } else { 0.01 * model.hull.afloat.margin_pct };
    (laid - blocks.map_or(0.0, |i| i.mass)) * (1.0 + margin)
}

/// What is asked for over the counter.
fn cost(asked: &[AskedFor], stores: &Stores) -> Cost {
    let of = |sheets: bool| {
        let own = asked.iter().filter(move |a| matches!(a.what, Asked::Sheet { .. }) == sheets);
        own.map(|a| a.price).collect::<Vec<_>>()
    };
    let all = [of(true), of(false), stores.bought.iter().map(|b| b.price).collect()];
    let [sheets, lumber, stores] =
        [0, 1, 2].map(|i| all[i].iter().flatten().fold(0.0, |sum, p| sum + p));
    Cost {
        sheets,
        lumber,
        stores,
        unpriced: all.iter().flatten().filter(|p| p.is_none()).count(),
        unknown: [0, 1, 2].map(|i| !all[i].is_empty() && all[i].iter().all(Option::is_none)),
    }
}
