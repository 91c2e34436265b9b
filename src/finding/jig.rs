//! Will it stand true upside down? What there is to say of the jig, and of the boat as she
//! was measured on it.

use super::Fact;
use crate::curve::View;
use crate::hull::check::Fault;
use crate::part::LineId;
use crate::setup::End;

/// What is the matter with how she is stood up.
#[derive(Debug, Clone, PartialEq)]
pub enum JigFact {
    /// Two frames stand so close that there is no room for spall and leg between them.
    CloseFrames {
        /// From one station to the other.
        apart: f64,
        /// What wood, spall and leg of one take.
        needed: f64,
    },
    /// There is no frame to stand on a strongback.
    NoFrames,
    /// The level line crosses no frame.
    LevelCrossesNone,
    /// The level line does not cross this frame.
    LevelMisses {
        /// Its height above the baseline.
        level: f64,
        /// It lies above the frame, and would cross it lower.
        lower: bool,
    },
    /// A cross-spall hangs below its frame's bottom by so much.
    LowSpall(f64),
    /// The rails leave too little for rungs between them.
    NoRungs(f64),
    /// A frame is too narrow for two legs.
    OneLeg,
    /// The rails stand this close together.
    NarrowRails(f64),
    /// An end's head comes so low that its crosspiece is notched too deep.
    LowHead {
        /// That end.
        end: End,
        /// The head's height above the rails.
        above: f64,
        /// What the notch leaves of the crosspiece.
        left: f64,
    },
    /// No post can lean against an end that lies so flat.
    NoPost,
    /// Upside down her bottom is this high above the floor: no height to work at.
    WorkingHeight(f64),
    /// The place that shows soonest when it is out.
    ShowsSoonest {
        /// The line that shows it.
        line: LineId,
        /// Out sideways, or up and down.
        view: View,
        /// By how much it may be out.
        allowed: f64,
    },
    /// A measured corner is further out than is seen.
    StandsOut {
        /// Sideways, or up and down.
        view: View,
        /// Outward or upward (towards the floor), mm.
        by: f64,
        /// What is seen.
        allowed: f64,
    },
    /// What stops the boat as she was measured, and not as she is drawn.
    AsBuilt(Box<Fact>),
    /// No boat has the measured lines.
    NoBoatSo(Fault),
    /// There is nothing to measure from.
    NothingToMeasureFrom,
    /// A measurement is of a station that has no frame.
    NoFrameAt {
        /// That station.
        station: usize,
        /// Those that have one.
        stations: Vec<usize>,
    },
    /// A measurement is of a line that has no corner of its own on the frame.
    NoCorner {
        /// The frame's station.
        station: usize,
        /// The line.
        line: String,
        /// Lines that have one there.
        lines: Vec<LineId>,
    },
    /// A measurement is so far off the drawing that it must be a slip.
    Slip {
        /// How far.
        by: f64,
        /// The half-breadth as drawn.
        half_breadth: f64,
        /// The height above the floor as drawn.
        above_floor: f64,
    },
    /// The same was measured before.
    MeasuredBefore {
        /// The frame's station.
        station: usize,
        /// The line.
        line: String,
    },
}
