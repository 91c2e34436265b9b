//! What the panels can ask for.

use std::path::PathBuf;

use bevy::prelude::Message;

use crate::drawing::compose::Paper;
use crate::hull::edit::Edit;
use crate::hull::starters::Starter;
use crate::units::Units;

/// One thing asked for.
#[derive(Message, Debug, Clone, PartialEq)]
pub enum Command {
    /// A whole change, one step of undo.
    Edit(Edit),
    /// A change while dragging; the whole drag is one step of undo.
    Drag(Edit),
    /// As `Drag`, but made to the hull as it was when the drag began: for moves of whole
    /// lines, which would add up.
    DragFromStart(Edit),
    /// The drag is over.
    DragEnd,
    /// Takes the last steps back, this many.
    Undo(usize),
    /// Takes the last undos back, this many.
    Redo(usize),
    /// Keeps the shape as it is now to compare with.
    Pin,
    /// Compares with the last saved shape again.
    Unpin,
    /// Opens a document, or makes one from a table of offsets.
    Open(PathBuf),
    /// Starts from a starter.
    Start(&'static Starter),
    /// Shows every boat in these units from now on; no change of hers.
    ShowIn(Units),
    /// Saves under the known name, or under this one.
    Save(Option<PathBuf>),
    /// Gives up what is not saved.
    Discard,
    /// Takes up the unsaved work that was found.
    TakeUp,
    /// Lets that work go.
    LetGo,
    /// Writes the build pack into this folder, its patterns on this paper.
    Pack(PathBuf, Paper),
    /// Saves a picture of the window.
    Picture(PathBuf),
    /// Opens the folder of this file, or this folder, with the system's own program.
    ShowFolder(PathBuf),
    /// The builder has read this notice.
    Dismiss(u64),
    /// Closes the window.
    Close,
}
