//! A finding: something the program noticed, how serious it is, where, and what to do.
//!
//! Stages never fail for what a builder can mend; they return what they could compute
//! together with findings, so that the rest of the hull stays on the screen.

use serde::{Deserialize, Serialize, Serializer};

use crate::geom::P3;
use crate::part::{PartId, Question};

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
    /// The question that it belongs to; `None` for one about the document as such.
    #[serde(rename = "part", serialize_with = "key_of")]
    pub question: Option<Question>,
    /// The piece that it is about, where it is about one.
    #[serde(skip)]
    pub part: Option<PartId>,
    /// Where on the hull (starboard, as she floats), mm, where it is about a place.
    #[serde(skip)]
    pub at: Option<P3>,
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
        question: impl Into<Option<Question>>,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Finding {
            severity,
            question: question.into(),
            part: None,
            at: None,
            place: place.into(),
            message: message.into(),
            hint: hint.into(),
        }
    }

    /// As it is, about this piece.
    pub fn about(self, part: impl Into<Option<PartId>>) -> Self {
        Finding { part: part.into(), ..self }
    }

    /// As it is, about this place on the hull, mm.
    pub fn at(self, place: impl Into<Option<P3>>) -> Self {
        Finding { at: place.into(), ..self }
    }

    /// Worth knowing.
    pub fn note(
        question: impl Into<Option<Question>>,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self::new(Severity::Note, question, place, message, hint)
    }

    /// Look before you cut.
    pub fn watch(
        question: impl Into<Option<Question>>,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self::new(Severity::Watch, question, place, message, hint)
    }

    /// Do not build it so.
    pub fn stop(
        question: impl Into<Option<Question>>,
        place: impl Into<String>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self::new(Severity::Stop, question, place, message, hint)
    }
}

/// The key of a question in reports.
fn key_of<S: Serializer>(question: &Option<Question>, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(question.map_or("document", Question::key))
}

/// The gravest severity among findings of one question (of all if that is `None`).
pub fn gravest<'a>(
    findings: impl IntoIterator<Item = &'a Finding>,
    question: Option<Question>,
) -> Option<Severity> {
    let asked = |f: &&Finding| question.is_none() || f.question == question;
    findings.into_iter().filter(asked).map(|f| f.severity).max()
}
