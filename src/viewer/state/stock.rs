//! What the window remembers of the sheets: which part is in the hand.

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

/// What is chosen and held of the sheets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StockHand {
    /// The part being dragged.
    pub held: Option<HeldPart>,
    /// The part that keys move: its kind, sheet and place.
    pub chosen: Option<[usize; 3]>,
    /// The chosen part found no room there.
    pub no_room: bool,
}
