//! What people read, made from what was computed: sentences in the reader's units.
//!
//! Below this module facts are data and no sentence is made; drawings, reports, the pack and
//! the window take theirs from here. `finding` turns each fact into what is the matter and
//! what a builder would do about it.

pub mod attitude;
pub mod finding;
