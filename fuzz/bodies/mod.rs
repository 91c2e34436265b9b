//! What the fuzz targets assert, one module a target. `fuzz/targets/` hands them what
//! libFuzzer makes up; `tests/it/corpus.rs` hands them the corpus under `tests/corpus/`.
//!
//! Each `run` asserts what must hold whatever the bytes are, and says how far they came, so
//! that a test can see that the corpus comes anywhere.

pub mod document;
pub mod drawing;
pub mod pass;
pub mod table;

/// How far the bytes came.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reached {
    /// They were no input at all.
    Nothing,
    /// They were refused with a reason.
    Refused,
    /// They went all the way.
    Through,
}
