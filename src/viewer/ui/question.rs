//! The six questions, the pieces of a boat, and how much of her is shown.

use crate::setup::Item;

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
    /// A frame, by index.
    Frame(usize),
    /// The stem.
    Stem,
    /// The post of a sharp stern.
    Sternpost,
    /// A frame's cross-spall, by the frame's index.
    Spall(usize),
    /// Rails, rungs and posts of the strongback.
    Rails,
    /// Its legs and braces.
    Legs,
}

impl Piece {
    /// Whether it stands on the shop floor as drawn, and is not turned over with the hull.
    pub fn stands(self) -> bool {
        matches!(self, Piece::Rails | Piece::Legs)
    }

    /// The piece that an item of the build order is.
    pub fn of(item: Item) -> [Option<Piece>; 2] {
        match item {
            Item::Rails => [Some(Piece::Rails), None],
            Item::Legs => [Some(Piece::Legs), None],
            Item::Frame(i) => [Some(Piece::Frame(i)), Some(Piece::Spall(i))],
            Item::Stem => [Some(Piece::Stem), None],
            Item::Sternpost => [Some(Piece::Sternpost), None],
            Item::Transom => [Some(Piece::Transom), None],
            Item::BowTransom => [Some(Piece::BowTransom), None],
            Item::Member(i) => [Some(Piece::Member(i)), None],
            Item::Panel(i) => [Some(Piece::Panel(i)), None],
        }
    }
}

/// Which bones are in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum BonesPart {
    /// Lumber bent along the lines.
    #[default]
    Lumber,
    /// Frames.
    Frames,
    /// Transom and stem.
    Ends,
}

impl BonesPart {
    /// All of them.
    pub const ALL: [BonesPart; 3] = [BonesPart::Lumber, BonesPart::Frames, BonesPart::Ends];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            BonesPart::Lumber => "lumber",
            BonesPart::Frames => "frames",
            BonesPart::Ends => "transom & stem",
        }
    }
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
            Question::Bones => "Will the lumber bend, and what are the frames?",
            Question::Setup => "Will it stand true upside down?",
            Question::Afloat => "Will she float right, with whom, and behind what motor?",
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
        self != Question::Stock
    }
}

/// How much of her is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Look {
    /// Skin and all.
    #[default]
    Planked,
    /// What is under the skin.
    Framed,
    /// Lines alone.
    Lines,
}

impl Look {
    /// All of them.
    pub const ALL: [Look; 3] = [Look::Planked, Look::Framed, Look::Lines];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Look::Planked => "planked",
            Look::Framed => "framed",
            Look::Lines => "lines",
        }
    }
}
