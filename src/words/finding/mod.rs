//! A finding in sentences: where, what is the matter, and what a builder would do about it.
//!
//! A message has no capital at its beginning and no full stop at its end: it follows the place
//! and a colon, or stands alone with both added.

mod aboard;
mod afloat;
mod ends;
mod frames;
mod jig;
mod lines;
mod place;
mod rules;
mod skin;
mod sticks;
mod stock;

pub use ends::{checked, seen};
pub use place::{on_its_transom, place};

use crate::finding::{Fact, Finding};
use crate::units::Units;

/// Who decides, said beside every figure of a rule.
const LOCAL: &str = "this figure is indicative: local rules and a surveyor decide";

/// A finding as people read it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// The thing and the place on it: "side, 1240 mm aft of the bow".
    pub place: String,
    /// What is the matter, with the measured value.
    pub message: String,
    /// What a builder would do about it.
    pub hint: String,
}

/// What is the matter, and what to do.
type Sentences = (String, String);

/// Two sentences of which one may be fixed.
fn both(message: impl Into<String>, hint: impl Into<String>) -> Sentences {
    (message.into(), hint.into())
}

/// A finding in sentences.
pub fn said(finding: &Finding, units: Units) -> Said {
    let (message, hint) = sentences(&finding.fact, units);
    Said { place: place(&finding.place, units), message, hint }
}

fn sentences(fact: &Fact, units: Units) -> Sentences {
    match fact {
        Fact::Document(f) => both(f.message.clone(), f.accepted.clone()),
        Fact::Line(f) => lines::said(f, units),
        Fact::Skin(f) => skin::said(f, units),
        Fact::Stick(f) => sticks::said(f, units),
        Fact::Bay(f) => frames::bay(f, units),
        Fact::Frame(f) => frames::said(f, units),
        Fact::Drain(f) => frames::drain(f, units),
        Fact::Notch(f) => frames::notch(f, units),
        Fact::Transom(f) => ends::transom(f, units),
        Fact::Stem(f) => ends::stem(f, units),
        Fact::Hung(f) => ends::hung(f, units),
        Fact::Jig(f) => jig::said(f, units),
        Fact::Afloat(f) => afloat::said(f, units),
        Fact::Rule(f) => rules::said(f, units),
        Fact::Aboard(f) => aboard::said(f, units),
        Fact::Stock(f) => stock::said(f, units),
    }
}
