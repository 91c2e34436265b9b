//! Why a change to a document could not be made, and where.

use super::check::{Fault, Place};
use super::document::Hull;
use crate::curve::SplineError;
use crate::units::Units;

/// Why a change could not be made. The document is as it was.
#[derive(Debug, Clone, PartialEq)]
pub enum EditError {
    /// What is to be changed is not there: an index from a document before this one.
    Gone(Place),
    /// The changed document would have this fault, which names line, duck and field.
    Fault(Box<Fault>),
    /// A dimension cannot be brought so far.
    TooFar {
        /// How far it can, in a sentence.
        said: String,
        /// The fault of the document that had it; `None` where no move of the lines gives it.
        fault: Option<Box<Fault>>,
    },
    /// No such change can be made.
    Refused {
        /// Where it would be made.
        place: Place,
        /// Why not.
        why: String,
    },
}

impl EditError {
    /// Where in the document, as it would be after the change.
    pub fn place(&self) -> Place {
        match self {
            EditError::Gone(place) | EditError::Refused { place, .. } => *place,
            EditError::Fault(fault) => fault.place,
            EditError::TooFar { fault, .. } => fault.as_ref().map_or(Place::Document, |f| f.place),
        }
    }

    /// The field whose figure will not do, as the file calls it.
    pub fn field(&self) -> Option<&str> {
        match self {
            EditError::Fault(fault) => fault.field.as_deref(),
            EditError::TooFar { fault, .. } => fault.as_ref()?.field.as_deref(),
            _ => None,
        }
    }

    /// In a sentence for the window, lengths in `units`.
    pub fn plain(&self, units: Units) -> String {
        match self {
            EditError::Gone(_) => "that piece is no longer there".into(),
            EditError::Fault(fault) => fault.plain(units),
            EditError::TooFar { said, fault: Some(f) } => format!("{said}: {}", f.plain(units)),
            EditError::TooFar { said, fault: None } => said.clone(),
            EditError::Refused { why, .. } => why.clone(),
        }
    }

    pub(super) fn refused(place: Place, why: impl Into<String>) -> EditError {
        EditError::Refused { place, why: why.into() }
    }

    /// No batten passes through a line of `hull`.
    pub(super) fn no_batten(hull: &Hull, (line, why): (String, SplineError)) -> EditError {
        let at = hull.lines.iter().position(|l| l.name == line);
        let place = at.map_or(Place::Document, Place::Line);
        EditError::Refused { place, why: format!("the {line}: {why}") }
    }
}
