//! What is in hand and under the pointer: pieces, ducks, rulings, loads.

use crate::hull::Duck;
use crate::part::PartId;
use crate::viewer::state::look::BonesPart;

/// Which two coordinates a strip's view shows.
pub use crate::curve::View as StripView;

/// A ruling followed from the hull to the pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trace {
    /// Panel index.
    pub panel: usize,
    /// Ruling index.
    pub ruling: usize,
}

/// A duck, by line and index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DuckId {
    /// Index into the document's lines.
    pub line: usize,
    /// Index into its ducks.
    pub duck: usize,
}

/// Where a duck was taken hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Grasp {
    /// In the strip.
    Strip(StripView),
    /// On the stage, in the plane square to this axis (0 aft, 1 out, 2 up).
    Stage(usize),
}

/// A duck in the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Dragged {
    /// Which one.
    pub id: DuckId,
    /// Where it was taken.
    pub grasp: Grasp,
    /// From the pointer to the duck when it was taken, points: it does not jump.
    pub grip: [f32; 2],
    /// Where the duck was when it was taken.
    pub start: Duck,
    /// What it has snapped to, in words.
    pub snapped: Vec<String>,
}

/// A load being dragged: which, how far from the pointer it was taken (points), and the
/// axis (0 aft, 1 out, 2 up) along which it stays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DraggedLoad {
    /// Index of the load.
    pub load: usize,
    /// From the pointer to its middle, points.
    pub grip: [f32; 2],
    /// Along this it stays where it is.
    pub axis: usize,
}

/// What is chosen, and what the hand holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Selection {
    /// The piece under the pointer.
    pub hover: Option<PartId>,
    /// The piece that stays lit.
    pub held: Option<PartId>,
    /// The ruling under the pointer.
    pub trace: Option<Trace>,
    /// What the pointer is found on in this frame, to be shown in the next.
    pub pointing: (Option<PartId>, Option<Trace>),
    /// The duck whose figures are shown.
    pub duck: Option<DuckId>,
    /// The duck being dragged.
    pub dragged: Option<Dragged>,
    /// The panel whose pattern is shown large; all if `None`.
    pub panel: Option<usize>,
    /// The member in hand; the one nearest to breaking if `None`.
    pub member: Option<usize>,
    /// Which bones are in hand.
    pub bones: BonesPart,
    /// The frame in hand, by index.
    pub frame: usize,
    /// Which of the drawings that are not panels lies in the strip or on the table.
    pub sheet: usize,
    /// The load case in hand, by index; that of the full crew if `None`.
    pub case: Option<usize>,
    /// The load in hand.
    pub load: Option<usize>,
    /// The load being dragged on the hull.
    pub dragged_load: Option<DraggedLoad>,
}
