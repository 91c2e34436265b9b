//! What is told of a computed boat: text for people and JSON for programs, of the same parts.

pub mod json;
pub mod text;

use crate::hull::Hull;

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
pub const QUESTIONS: [(&str, &[&str]); 6] = [
    ("shape", &["hull", "lines"]),
    ("skin", &["panels"]),
    ("bones", &["members", "stations", "frames", "transom", "bow_transom", "stem", "sternpost"]),
    ("setup", &["strongback", "as_built"]),
    ("afloat", &["afloat"]),
    ("stock", &["stock"]),
];

/// Whether a report narrowed to `only` (a part or a question) holds `part`.
pub fn wanted(only: Option<&str>, part: &str) -> bool {
    only.is_none_or(|o| {
        o == part || QUESTIONS.iter().any(|(q, parts)| *q == o && parts.contains(&part))
    })
}

/// The mark of a document in words.
pub fn mark_words(document: &Hull) -> String {
    format!("mark {}", document.mark())
}
