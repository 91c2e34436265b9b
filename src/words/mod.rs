//! What people read, made from what was computed: sentences in the reader's units.
//!
//! Below this module facts are data and no sentence is made; drawings, reports, the pack and
//! the window take theirs from here. `finding` turns each fact into what is the matter and
//! what a builder would do about it.

pub mod attitude;
pub mod bend;
pub mod finding;
pub mod mass;
pub mod order;
pub mod speed;
pub mod working;

/// The first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}
