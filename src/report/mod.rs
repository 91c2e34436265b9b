//! What is told of a computed boat: text for people and JSON for programs, of the same parts.

pub mod json;
pub mod lists;
pub mod offcuts;
pub mod text;

use crate::hull::Hull;
use crate::part::Question;

/// Parts that a report can be narrowed to, each a key of the JSON object.
pub const PARTS: [&str; 14] = [
    "hull",
    "lines",
    "panels",
    "members",
    "stations",
    "frames",
    "transom",
    "bow_transom",
    "stem",
    "sternpost",
    "strongback",
    "as_built",
    "afloat",
    "stock",
];

/// The six questions, and the parts that answer each.
pub const QUESTIONS: [(Question, &[&str]); 6] = [
    (Question::Shape, &["hull", "lines"]),
    (Question::Skin, &["panels"]),
    (
        Question::Bones,
        &["members", "stations", "frames", "transom", "bow_transom", "stem", "sternpost"],
    ),
    (Question::Setup, &["strongback", "as_built"]),
    (Question::Afloat, &["afloat"]),
    (Question::Stock, &["stock"]),
];

/// Whether a report narrowed to `only` (a part or a question) holds `part`.
pub fn wanted(only: Option<&str>, part: &str) -> bool {
    only.is_none_or(|o| {
        o == part || QUESTIONS.iter().any(|(q, parts)| q.key() == o && parts.contains(&part))
    })
}

/// The mark of a document in words.
pub fn mark_words(document: &Hull) -> String {
    format!("mark {}", document.mark())
}
