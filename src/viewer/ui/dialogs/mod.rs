//! What asks and what tells: files, unsaved work, notices, the first page, the tour, the
//! sheets of keys and of trade words.

pub mod files;
pub mod first_page;
pub mod glossary;
pub mod guard;
pub mod keys;
pub mod notices;
pub mod tour;
