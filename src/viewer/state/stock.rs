//! What the window remembers of stock: which part is in the hand, which row of the list.

use crate::hull::stock_edits::Timber;
use crate::model::stock::ByHand;

/// A part that is dragged about.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldPart {
    /// Which, and where it is held.
    pub by_hand: ByHand,
    /// From the pointer to the part's origin when it was taken, mm.
    pub grip: [f64; 2],
    /// Where it is held it clashes with something.
    pub clashes: bool,
}

/// A row of what is bought.
#[derive(Debug, Clone, PartialEq)]
pub enum StockRow {
    /// Lumber.
    Lumber(Timber),
    /// One of the stores, as a shop calls it.
    Store(String),
}

/// What is chosen and held of the sheets and of the list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StockHand {
    /// The part being dragged.
    pub held: Option<HeldPart>,
    /// The part that keys move: its kind, sheet and place.
    pub chosen: Option<[usize; 3]>,
    /// The chosen part found no room there.
    pub no_room: bool,
    /// The row of lumber or stores whose price is at hand to be typed.
    pub row: Option<StockRow>,
}
