//! The six questions.

use serde::{Deserialize, Serialize};

/// The six questions that a boat is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
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

    /// Its key in reports and on the command line.
    pub fn key(self) -> &'static str {
        match self {
            Question::Shape => "shape",
            Question::Skin => "skin",
            Question::Bones => "bones",
            Question::Setup => "setup",
            Question::Afloat => "afloat",
            Question::Stock => "stock",
        }
    }

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
}
