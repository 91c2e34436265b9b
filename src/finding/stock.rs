//! What do I buy, and how do I cut it? What there is to say of stock.

use crate::hull::stock::JointKind;
use crate::part::LineId;
use crate::stock::glue::NotBorne;
use crate::stock::joints::{JointBend, JointError};
use crate::stock::lumber::Lack;
use crate::stock::nest::{BadProblem, Excess, Reason};

/// What is the matter with what she is cut from.
#[derive(Debug, Clone, PartialEq)]
pub enum StockFact {
    /// A panel cannot be had from its sheets.
    NotSplit(JointError),
    /// A part cannot be laid at all.
    NotLaid(BadProblem),
    /// Parts are on no sheet.
    OnNoSheet {
        /// Why.
        reason: Reason,
        /// Which, and how many of each.
        parts: Vec<(String, usize)>,
    },
    /// A joint of a panel lies too near one of its neighbour's. Joints are counted from the bow,
    /// from 1.
    JointsBeside {
        /// The panel's.
        joint: usize,
        /// The neighbour, and its joint.
        other: (String, usize),
        /// The line that both meet.
        line: LineId,
        /// Between them along it, mm.
        distance: f64,
        /// What there should be, mm.
        least: f64,
    },
    /// The joints of a panel meet those of the same panel on the other side: both hands are split
    /// alike.
    JointsOfHands {
        /// How many.
        joints: usize,
        /// The line that both hands meet at.
        line: LineId,
    },
    /// A joint of a panel, counted from 1, hardly bends to the panel's curve where it lies.
    NearLimit {
        /// Which.
        joint: usize,
        /// How it bends there.
        bend: JointBend,
    },
    /// A joint of a panel, counted from 1, does not bend to the panel's curve where it lies.
    StiffJoint {
        /// Which.
        joint: usize,
        /// What it is.
        kind: JointKind,
        /// The curve, and what the joint bears.
        bend: JointBend,
    },
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
        /// What is left for them of other sheets, mm².
        left: f64,
        /// Sheets that are counted for them.
        sheets: usize,
    },
    /// A row of the document's stock names what no table has and nothing is cut from.
    UnusedRow,
    /// A board is laminated of layers from what is left of other sheets, or of spare ones.
    Laminated {
        /// How many of which sheet.
        of: Vec<(usize, String)>,
    },
    /// A piece is too thin for any fastening of the table.
    TooThin,
}
