//! Which thing a finding is about.

use crate::curve::View;
use crate::part::{AtEnd, CaseId, LineId};
use crate::setup::End;

/// Which thing a finding is about. Names are those of the document; places along the boat are
/// mm aft, heights mm above the baseline, stations counted from 1.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// A thing of the document, as its check names it.
    Document(String),
    /// The whole hull.
    Hull,
    /// All her lines.
    AllLines,
    /// All points of a table of offsets.
    AllPoints,
    /// A line.
    Line(String),
    /// A line as it is seen from above or from the side.
    LineIn(LineId, View),
    /// Ducks of a line, counted from 1, both included.
    Ducks {
        /// The line.
        line: LineId,
        /// As seen from there.
        view: View,
        /// The first.
        from: usize,
        /// The last; the same as the first where there is one.
        to: usize,
    },
    /// The last point of a line.
    LastPoint(LineId),
    /// All panels, at one end.
    PanelsAtEnd(AtEnd),
    /// A row of the planking, by the panel that it names.
    Planking(String),
    /// A row of the laps, by the line that it names.
    Lap(String),
    /// A panel.
    Panel(String),
    /// A panel, so far aft.
    PanelAt(String, f64),
    /// A panel along a line.
    PanelAlong(String, LineId),
    /// A panel from one place to another.
    PanelBetween(String, f64, f64),
    /// A member.
    Stick(String),
    /// A member, so far along it from the bow, mm.
    StickAt(String, f64),
    /// The stiffness that the test of a member's stick makes.
    Stiffness(String),
    /// The test of a member's stick.
    StickTest(String),
    /// A station.
    Station(usize),
    /// A frame.
    Frame(usize),
    /// Two neighbouring frames.
    Frames(usize, usize),
    /// What is on a frame: a piece, a stick's notch, a panel's edge, a line's corner.
    OnFrame(usize, String),
    /// The framing of all frames.
    Framing,
    /// The document's own framing of a station.
    FramingOf(usize),
    /// The battens inside the bottom.
    Battens,
    /// The bottom's fall to the keelson.
    DrainSlope,
    /// The limbers of all frames.
    Limbers,
    /// A transom.
    Transom(AtEnd),
    /// A piece of a transom.
    OnTransom(AtEnd, String),
    /// A stem, or the post of a sharp stern.
    Stem(AtEnd),
    /// A place of it, by its height.
    StemAt(AtEnd, f64),
    /// A stick's end on it.
    OnStem(AtEnd, String),
    /// What is bent or laminated round it.
    OuterStem(AtEnd),
    /// The knee behind the motor.
    Knee,
    /// The motor on the transom.
    Hung,
    /// The motor's pad.
    Pad,
    /// The motor's cut-out.
    CutOut,
    /// The strongback.
    Strongback,
    /// An end of the boat on the strongback.
    JigEnd(End),
    /// The boat as she was measured on it.
    AsBuilt,
    /// A row of measurements, counted from 1.
    Measurement(usize),
    /// A place of the boat as she was measured.
    AsBuiltAt(Box<Place>),
    /// A load case.
    Case(CaseId),
    /// How fast she is.
    Speed,
    /// The safe-loading rule.
    SafeLoading,
    /// The motor as a weight and a power.
    Motor,
    /// Something aboard, by its name.
    Item(String),
    /// A row of the loads.
    Load(String),
    /// All loads.
    Loads,
    /// A block of foam.
    Foam(String),
    /// Two blocks of foam.
    Foams(String, String),
    /// A row of what was weighed.
    Weighed(String),
    /// A piece or a store, or a kind of sheet, by its name in the shop.
    Stock(String),
}

impl Place {
    /// Whether both are about one thing, wherever on it.
    pub fn same_thing(&self, other: &Place) -> bool {
        match (self, other) {
            (Place::PanelAt(a, _), Place::PanelAt(b, _))
            | (Place::PanelBetween(a, ..), Place::PanelBetween(b, ..))
            | (Place::StickAt(a, _), Place::StickAt(b, _)) => a == b,
            (Place::StemAt(a, _), Place::StemAt(b, _)) => a == b,
            (a, b) => a == b,
        }
    }
}
