//! The command line: what was typed, the checked job, and carrying it out.

pub mod args;
pub mod job;
pub mod run;

pub use job::Job;
pub use run::{Outcome, run};
