//! What a build with a window offers, said so that neither the command line nor the window
//! needs to know the other.

use std::path::PathBuf;

use crate::hull::CheckedHull;
use crate::model::Model;

/// What a build with a window can do; the core knows no more of it.
#[derive(Debug, Clone, Copy)]
pub struct Screen {
    /// Opens the window on a hull and its file until it is closed.
    pub open: fn(CheckedHull, Option<PathBuf>) -> Result<(), NoScreen>,
    /// Renders a hull to PNG bytes.
    pub picture: fn(&Model, ViewFrom, (u32, u32)) -> Result<Vec<u8>, NoScreen>,
}

/// Why nothing can be shown: no display, no graphics driver; in one line.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct NoScreen(pub String);

/// From where a hull is looked at; the words of the window's buttons.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ViewFrom {
    /// From the port bow, a little above: the view of a person walking up to her.
    #[default]
    Quarter,
    /// From ahead.
    Bow,
    /// From astern.
    Stern,
    /// From port, the bow at the left as in the strip.
    Side,
    /// From above.
    Above,
    /// From below.
    Below,
}

impl ViewFrom {
    /// All, in the order of the buttons.
    pub const ALL: [ViewFrom; 6] = [
        ViewFrom::Quarter,
        ViewFrom::Bow,
        ViewFrom::Stern,
        ViewFrom::Side,
        ViewFrom::Above,
        ViewFrom::Below,
    ];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            ViewFrom::Quarter => "quarter",
            ViewFrom::Bow => "bow",
            ViewFrom::Stern => "stern",
            ViewFrom::Side => "side",
            ViewFrom::Above => "above",
            ViewFrom::Below => "below",
        }
    }
}
