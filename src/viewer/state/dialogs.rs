//! What the window asks and is asked: pages, sheets, files, what waits for an answer.

use std::path::PathBuf;

use crate::hull::starters::Starter;
use crate::viewer::session::Command;

/// What a path is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilePurpose {
    /// Open a document.
    Open,
    /// Save under a name.
    SaveAs,
    /// Write the build pack.
    Pack,
    /// A picture of the window.
    Picture,
}

/// What is to happen once unsaved work is dealt with.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// Open a document.
    Open(PathBuf),
    /// Start from a starter.
    Start(&'static Starter),
    /// Take up the work that was left over.
    TakeUp,
    /// Close the window.
    Close,
}

impl Next {
    /// The command that does it.
    pub fn command(self) -> Command {
        match self {
            Next::Open(path) => Command::Open(path),
            Next::Start(starter) => Command::Start(starter),
            Next::TakeUp => Command::TakeUp,
            Next::Close => Command::Close,
        }
    }
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Dialogs {
    /// The window asks which boat.
    pub first_page: bool,
    /// The step of the tour.
    pub tour: Option<usize>,
    /// The sheet of shortcuts is open.
    pub keys: bool,
    /// The sheet of trade words is open, and what is looked for in it.
    pub words: Option<String>,
    /// She is not to be built as she is, and her pack is asked for all the same.
    pub stopped_pack: bool,
    /// Unsaved work stands in the way of this.
    pub guard: Option<Next>,
    /// To be done as soon as the work is saved.
    pub then: Option<Next>,
    /// A path is being typed, as the system has no dialog.
    pub path: Option<(FilePurpose, String)>,
    /// The system's dialog is to be opened.
    pub asked_dialog: Option<FilePurpose>,
    /// The path that was typed names a file which will be replaced: asked about once.
    pub replacing: Option<String>,
    /// A file hangs over the window.
    pub dropping: bool,
}
