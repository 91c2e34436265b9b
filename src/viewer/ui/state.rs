//! What the window remembers that is no part of the boat.

use bevy::prelude::Resource;

use super::style::Theme;

/// A piece of the hull that can be pointed at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Piece {
    /// A panel, by index.
    Panel(usize),
    /// A member, by index.
    Member(usize),
    /// The transom.
    Transom,
    /// The bow transom of a pram.
    BowTransom,
}

/// The six questions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Question {
    /// Is she fair?
    #[default]
    Shape,
    /// Will the sheets lie flat?
    Skin,
    /// Will the lumber bend?
    Bones,
    /// Will it stand true upside down?
    Setup,
    /// Will she float right?
    Afloat,
    /// What do I buy and how do I cut it?
    Stock,
}

impl Question {
    /// All six, in the order in which a boat is built.
    pub const ALL: [Question; 6] = [
        Question::Shape,
        Question::Skin,
        Question::Bones,
        Question::Setup,
        Question::Afloat,
        Question::Stock,
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Question::Shape => "Shape",
            Question::Skin => "Skin",
            Question::Bones => "Bones",
            Question::Setup => "Setup",
            Question::Afloat => "Afloat",
            Question::Stock => "Stock",
        }
    }

    /// The question in words.
    pub fn words(self) -> &'static str {
        match self {
            Question::Shape => "Is she fair?",
            Question::Skin => "Will the sheets lie flat?",
            Question::Bones => "Will the lumber bend?",
            Question::Setup => "Will it stand true upside down?",
            Question::Afloat => "Will she float right?",
            Question::Stock => "What do I buy, and how do I cut it?",
        }
    }

    /// The part of the findings that answers it.
    pub fn part(self) -> &'static str {
        match self {
            Question::Shape => "shape",
            Question::Skin => "skin",
            Question::Bones => "bones",
            Question::Setup => "setup",
            Question::Afloat => "afloat",
            Question::Stock => "stock",
        }
    }

    /// Whether this version answers it.
    pub fn alive(self) -> bool {
        matches!(self, Question::Shape | Question::Skin | Question::Bones)
    }
}

/// Which two coordinates a strip's view shows.
pub use crate::curve::View as StripView;

/// A duck, by line and index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DuckId {
    /// Index into the document's lines.
    pub line: usize,
    /// Index into its ducks.
    pub duck: usize,
}

/// A duck in the hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dragged {
    /// Which one.
    pub id: DuckId,
    /// In which view it was taken.
    pub view: StripView,
    /// From the pointer to the duck when it was taken, points: it does not jump.
    pub grip: [f32; 2],
}

/// What the file dialog in the window is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilePurpose {
    /// Open a document.
    Open,
    /// Save under a name.
    SaveAs,
    /// Write the build pack.
    Pack,
}

/// What the window remembers.
#[derive(Resource, Debug, Clone, PartialEq)]
pub struct UiState {
    /// The question in hand.
    pub question: Question,
    /// The piece lit up on the stage.
    pub lit: Option<Piece>,
    /// Show the map of bending on the wood.
    pub map: bool,
    /// Bones without the skin.
    pub bare: bool,
    /// Dark theme.
    pub dark: bool,
    /// Show the curvature combs in the strip.
    pub combs: bool,
    /// The duck whose figures are shown.
    pub duck: Option<DuckId>,
    /// The duck being dragged.
    pub dragged: Option<Dragged>,
    /// The panel whose pattern is shown large; all if `None`.
    pub panel: Option<usize>,
    /// The member in hand.
    pub member: usize,
    /// Typed but not yet taken: (which field, text).
    pub typed: Option<(String, String)>,
    /// The path being typed, and what for.
    pub path: Option<(FilePurpose, String)>,
    /// A stick test being typed: span, width, depth, weight, sag.
    pub stick: [String; 5],
}

impl Default for UiState {
    fn default() -> Self {
        UiState {
            question: Question::Shape,
            lit: None,
            map: true,
            bare: true,
            dark: false,
            combs: true,
            duck: None,
            dragged: None,
            panel: None,
            member: 0,
            typed: None,
            path: None,
            stick: Default::default(),
        }
    }
}

impl UiState {
    /// The theme.
    pub fn theme(&self) -> Theme {
        if self.dark { Theme::Dark } else { Theme::Light }
    }
}
