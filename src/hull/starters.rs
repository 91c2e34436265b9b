//! Hulls to start from, of our own invention. The first is the demonstration hull.

use super::checked::CheckedHull;
use super::document::Hull;
use super::read::read;

/// A starter: its short name and its document's text, as under `assets/starters/`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Starter {
    /// What `start` takes.
    pub name: &'static str,
    /// One line for a list.
    pub summary: &'static str,
    /// The RON text.
    pub text: &'static str,
}

/// All starters, the demonstration hull first.
pub const STARTERS: [Starter; 4] = [
    Starter {
        name: "reed-skiff",
        summary: "flat-bottomed outboard skiff, about 4 m",
        text: include_str!("../../assets/starters/reed-skiff.ron"),
    },
    Starter {
        name: "warden",
        summary: "V-bottomed work skiff, about 4.6 m",
        text: include_str!("../../assets/starters/warden.ron"),
    },
    Starter {
        name: "mere-dory",
        summary: "three-strake dory, about 5.2 m",
        text: include_str!("../../assets/starters/mere-dory.ron"),
    },
    Starter {
        name: "sluice-pram",
        summary: "pram with a bow transom, about 2.4 m",
        text: include_str!("../../assets/starters/sluice-pram.ron"),
    },
];

/// The starter of that name.
pub fn find(name: &str) -> Option<&'static Starter> {
    STARTERS.iter().find(|s| s.name == name)
}

impl Starter {
    /// What kind of boat she is, without her length, which is said in the reader's units.
    pub fn kind(&self) -> &'static str {
        self.summary.split(", about").next().unwrap_or(self.summary)
    }

    /// The starter as a document.
    ///
    /// # Panics
    /// Never for the shipped starters: a test reads every one.
    pub fn hull(&self) -> Hull {
        self.checked().into_hull()
    }

    /// The starter, checked.
    ///
    /// # Panics
    /// As [`Starter::hull`].
    pub fn checked(&self) -> CheckedHull {
        match read(self.text, self.name) {
            Ok(hull) => hull,
            Err(e) => panic!("shipped starter: {e}"),
        }
    }
}

/// The demonstration hull.
pub fn demonstration() -> Hull {
    STARTERS[0].hull()
}
