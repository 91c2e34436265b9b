//! The command line: what was typed, the checked job, and carrying it out. All file access
//! of the program outside the window is here.

pub mod args;
pub mod disk;
pub mod files;
pub mod folder;
pub mod import;
pub mod job;
pub mod kept;
pub mod mesh_files;
pub mod pack;
mod plain;
pub mod report_json;
pub mod report_text;
pub mod run;

pub use files::save_atomically;
pub use job::Job;
pub use run::{Outcome, Screen, run};
