//! A finding: something the program noticed, how serious it is, where, and what to do.
//!
//! Stages never fail for what a builder can mend; they return what they could compute
//! together with findings, so that the rest of the hull stays on the screen.

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

/// Something the program noticed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// How serious it is.
    pub severity: Severity,
    /// Which of the six questions it belongs to, or `document`: `shape`, `skin`, `bones` …
    pub part: &'static str,
    /// The piece and the place on it, in words: "side, 1240 mm aft of the bow".
    pub place: String,
    /// What is the matter, with the measured value.
    pub message: String,
    /// What a builder would do about it.
    pub hint: String,
}

impl Finding {
    /// A finding of any severity.
    pub fn new(
        severity: Severity,
        part: &'static str,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Finding { severity, part, place: place.into(), message: message.into(), hint: hint.into() }
    }

    /// Worth knowing.
    pub fn note(
        part: &'static str,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self::new(Severity::Note, part, place, message, hint)
    }

    /// Look before you cut.
    pub fn watch(
        part: &'static str,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self::new(Severity::Watch, part, place, message, hint)
    }

    /// Do not build it so.
    pub fn stop(
        part: &'static str,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self::new(Severity::Stop, part, place, message, hint)
    }
}

/// The gravest severity among findings of one part (all parts if `part` is `None`).
pub fn gravest<'a>(
    findings: impl IntoIterator<Item = &'a Finding>,
    part: Option<&str>,
) -> Option<Severity> {
    findings.into_iter().filter(|f| part.is_none_or(|p| p == f.part)).map(|f| f.severity).max()
}
