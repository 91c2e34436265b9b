//! How serious something is.

use serde::{Deserialize, Serialize};

/// How serious a finding is, in the order of gravity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Worth knowing; nothing to do.
    Note,
    /// Look before you cut.
    Watch,
    /// Do not build it so.
    Stop,
}

impl Severity {
    /// The word shown to people.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Note => "note",
            Severity::Watch => "watch",
            Severity::Stop => "stop",
        }
    }
}
