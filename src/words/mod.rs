//! What people read, made from what was computed: sentences in the reader's units.
//!
//! Below this module facts are data and no sentence is made; drawings, reports, the pack and
//! the window take theirs from here. `finding` turns each fact into what is the matter and
//! what a builder would do about it.

pub mod attitude;
pub mod bend;
pub mod bevels;
pub mod cautions;
pub mod edits;
pub mod finding;
pub mod mass;
pub mod order;
pub mod speed;
pub mod stock;
pub mod stores;
pub mod trade;
pub mod working;
pub mod yard;

use crate::hull::{Dimension, Lap};
use crate::part::Question;

/// The first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

/// A question that the boat is asked.
pub fn question(of: Question) -> &'static str {
    match of {
        Question::Shape => "Is she fair?",
        Question::Skin => "Will the sheets lie flat?",
        Question::Bones => "Will the lumber bend, and what are the frames?",
        Question::Setup => "Will it stand true upside down?",
        Question::Afloat => "Will she float right, with whom, and behind what motor?",
        Question::Stock => "What do I buy, and how do I cut it?",
    }
}

/// Which of two panels laps the other, by their names.
pub fn lap(who: Lap, lower: &str, upper: &str) -> String {
    match who {
        Lap::LowerOver => format!("the {lower} laps over the {upper}"),
        Lap::UpperOver => format!("the {upper} laps over the {lower}"),
    }
}

/// What a dimension is, in a sentence for someone who has not met the word.
pub fn dimension(what: Dimension) -> &'static str {
    match what {
        Dimension::Length => {
            "From her foremost to her aftermost point. Stations are stretched along with her, heights stay: rake and rocker become flatter in a longer boat."
        }
        Dimension::Beam => {
            "Her greatest width, from sheer to sheer. Every half-breadth grows alike and heights stay: the flare leans out more, the deadrise is flatter."
        }
        Dimension::ChineBeam => "The greatest width of her bottom. The sheer stays where it is.",
        Dimension::SideHeight => {
            "From the chine up to the sheer, half way along. Raises or lowers the whole sheer."
        }
        Dimension::SheerSpring => {
            "How far the top edge sags below a string from bow to stern: more of it lifts the ends."
        }
        Dimension::Rocker => {
            "How far the bottom sags below a string from its fore end to its after end, as the rocker of a chair does."
        }
        Dimension::Flare => "How far the side leans outward from upright, half way along.",
        Dimension::Deadrise => {
            "How steeply the bottom rises from the keel to the chine, half way along."
        }
        Dimension::StemRake => "How far the stem leans forward from upright.",
        Dimension::TransomRake => "How far the transom leans aft from upright.",
    }
}
