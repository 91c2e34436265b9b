//! What do I buy, and how do I cut it? What there is to say of stock.

use crate::stock::glue::NotBorne;
use crate::stock::joints::JointError;
use crate::stock::lumber::Lack;
use crate::stock::nest::{BadProblem, Excess, Reason};

/// What is the matter with what she is cut from.
#[derive(Debug, Clone, PartialEq)]
pub enum StockFact {
    /// A panel cannot be had from its sheets.
    NotSplit(JointError),
    /// A part cannot be laid at all.
    NotLaid(BadProblem),
    /// A part is on no sheet.
    OnNoSheet(Reason),
    /// More sheets are bought than might do.
    MoreSheets(Excess),
    /// Little of a sheet that is bought is used.
    LittleUsed {
        /// Of its area.
        share: f64,
        /// What a piece would have to measure along and across the face grain, mm.
        piece: (f64, f64),
    },
    /// A stick cannot be had.
    NoLumber(Lack),
    /// A board is cut with so little (mm) to spare that its true length decides.
    LittleToSpare(f64),
    /// A stick's scarfs lie beside those of the one next to it.
    ScarfsBeside,
    /// A joint takes longer to close than its glue stays open, minutes.
    SlowToClose {
        /// To close it.
        minutes: f64,
        /// The glue stays open.
        open: f64,
    },
    /// The glue does not bear what the boat or the shop asks of it.
    NotBorne(NotBorne),
    /// The shop is colder than a store bears, °C.
    TooCold {
        /// The least that it wants.
        least: f64,
        /// What the shop has.
        shop: f64,
    },
    /// No table has a store.
    UnknownStore,
    /// Boxes round foam are on no sheet.
    BoxesOnNoSheet {
        /// Ply that they take, mm².
        area: f64,
        /// Its thickness, mm.
        thickness: f64,
    },
    /// A row of the document's stock names what no table has and nothing is cut from.
    UnusedRow,
    /// A board is laminated of layers from what is left of other sheets.
    Laminated {
        /// How many.
        layers: usize,
        /// Of which sheet.
        sheet: String,
    },
    /// A piece is too thin for any fastening of the table.
    TooThin,
}
