//! A panel that is longer or wider than a sheet, split at joints.
//!
//! Where to: clear of frames and notches, away from the tightest bends and from the joints of
//! neighbouring panels. [`candidates`] gives several sets of places, the cheapest first, each
//! with its pieces and blocks; which of them is built is chosen with the layout on sheets.
//!
//! Lengths are mm, u along the boat and v across the panel. Joints lie square to u; a piece
//! that is wider than its sheet is split along u as well. Nothing here knows of sheets by
//! name, nor how pieces are laid on them.

mod choose;
mod cut;
mod fit;
mod places;
mod rules;
mod shared;

pub use choose::{MOST_JOINTS, MOST_PIECES};
pub use choose::{Panel, candidates, split_at};
pub use cut::MOST_ROWS;
pub use cut::{Piece, PlacedJoint, SheetFace, Split};
pub use fit::{Excess, Room};
pub use rules::{JointBend, block_length, scarf_factor};
pub use shared::{Apart, SharedEdge};

use crate::geom::P2;

/// A stretch along the panel that a joint keeps out of.
#[derive(Debug, Clone, PartialEq)]
pub struct Avoid {
    /// Where it begins, mm.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
    /// Kept clear on both sides of it, mm.
    pub clear: f64,
    /// No joint goes there if there is any other place; otherwise it is only better elsewhere.
    pub forbidden: bool,
    /// What is there: "frame 3".
    pub why: String,
}

/// How tightly the panel is bent at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendAt {
    /// Along the panel, mm.
    pub u: f64,
    /// Tightest radius there, mm; infinite where it is flat.
    pub radius: f64,
}

/// A stick on the panel's inner face, which a butt block ends short of.
#[derive(Debug, Clone, PartialEq)]
pub struct InnerWood {
    /// The line that it follows on the pattern: the panel's edge, or its own middle.
    pub line: Vec<P2>,
    /// How far it reaches to either side of that, mm.
    pub width: f64,
}

/// Why a panel is not split.
#[derive(Debug, Clone, PartialEq)]
pub enum JointError {
    /// The outline has no area. Cause: fewer than three corners, or no number.
    NoOutline {
        /// The panel.
        panel: String,
    },
    /// A joint was told at a place where the panel is not, or too near its end for the joint.
    OffPanel {
        /// The panel.
        panel: String,
        /// Where it was told, mm along the pattern.
        at: f64,
        /// Where it may lie, mm.
        within: (f64, f64),
    },
    /// Two joints were told nearer than they are long and a piece between them asks.
    OnEachOther {
        /// The panel.
        panel: String,
        /// Where they were told, mm along the pattern.
        at: (f64, f64),
        /// Least distance, mm.
        least: f64,
    },
    /// What is left of a sheet is shorter or narrower than the joint and the least piece ask.
    /// Cure: larger sheets, a smaller margin, a shorter joint.
    NoSheet {
        /// The panel.
        panel: String,
        /// What is left of a sheet.
        room: Room,
        /// How much the smallest piece is over it.
        excess: Excess,
        /// What of a sheet would do, where that is known.
        enough: Option<Room>,
    },
    /// From what is left of a sheet the panel would be a patchwork. Cure: larger sheets.
    Patchwork {
        /// The panel.
        panel: String,
        /// What is left of a sheet.
        room: Room,
        /// What of a sheet would do, where that is known.
        enough: Option<Room>,
    },
}
