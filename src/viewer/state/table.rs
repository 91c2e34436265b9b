//! What the table remembers: what lies on it, what was measured, how it is thrown.

use crate::drawing::compose::Paper;

/// What the pointer does on the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tool {
    /// Moves the pattern about.
    #[default]
    Look,
    /// Measures between points.
    Measure,
    /// Shows the pages that will be printed.
    Print,
}

impl Tool {
    /// All of them with their words.
    pub const ALL: [(Tool, &'static str); 3] =
        [(Tool::Look, "look"), (Tool::Measure, "measure"), (Tool::Print, "printed pages")];
}

/// What the table remembers.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// It lies over the stage.
    pub open: bool,
    /// What the pointer does.
    pub tool: Tool,
    /// Dimensions are written along the edges.
    pub dimensions: bool,
    /// The place of the drawing in the middle of the table, mm, and points for each mm;
    /// `None` shows the whole pattern.
    pub looked: Option<([f64; 2], f32)>,
    /// Points measured between, mm, two by two.
    pub measured: Vec<[f64; 2]>,
    /// The paper of the printed pages.
    pub paper: Paper,
    /// The page looked at, by its place in the row of pages.
    pub page: Option<usize>,
    /// Full size, over the whole screen.
    pub full_screen: bool,
    /// What is done in full size.
    pub full: FullSize,
}

impl Default for Table {
    fn default() -> Self {
        Table {
            open: false,
            tool: Tool::Look,
            dimensions: true,
            looked: None,
            measured: Vec::new(),
            paper: Paper::A4,
            page: None,
            full_screen: false,
            full: FullSize::default(),
        }
    }
}

/// What is being done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Doing {
    /// Tracing.
    #[default]
    Trace,
    /// Measuring a bar on the screen.
    Ruler,
    /// Dragging the four corners onto a measured rectangle.
    Corners,
}

/// What full size remembers.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FullSize {
    /// What is being done.
    pub doing: Doing,
    /// The pattern's place in the window's lower left corner (or the rectangle's), mm.
    pub shift: Option<[f64; 2]>,
    /// How far it was shifted since it was laid, mm: a long side is traced in several goes.
    pub shifted: [f64; 2],
    /// Quarter turns.
    pub turns: u8,
    /// Turned over, for the other side of the boat.
    pub over: bool,
    /// The controls are out of the way.
    pub bare: bool,
}
