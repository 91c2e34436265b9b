//! A finding: something the program noticed, how serious it is and where, as data.
//!
//! Stages never fail for what a builder can mend; they return what they could compute
//! together with findings, so that the rest of the hull stays on the screen. A finding says no
//! sentence: it carries a [`Fact`], which names what is the matter and what was measured, and
//! a [`Place`]. What people read of it, and what a builder would do about it, is made in
//! `words`, in the reader's units.
//!
//! Lengths are mm, angles radians, masses kg, forces N, stresses and pressures N/mm²; what is
//! otherwise says so.

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

pub use aboard::AboardFact;
pub use afloat::AfloatFact;
pub use ends::{HungFact, StemFact, TransomFact};
pub use frames::{BayFact, DrainFact, FrameFact, NotchFact};
pub use jig::JigFact;
pub use lines::{LineFact, MovedBy};
pub use place::Place;
pub use rules::{Beside, OutOfHer, RuleFact};
pub use skin::SkinFact;
pub use sticks::StickFact;
pub use stock::StockFact;

use std::mem::discriminant;

use crate::geom::P3;
use crate::hull::check::Fault;
pub use crate::part::Severity;
use crate::part::{PartId, Question};

/// Something the program noticed.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// How serious it is.
    pub severity: Severity,
    /// Which thing it is about.
    pub place: Place,
    /// What is the matter, with what was measured.
    pub fact: Fact,
    /// The piece that it is about, where it is about one.
    pub part: Option<PartId>,
    /// Where on the hull (starboard, as she floats), mm, where it is about a place.
    pub at: Option<P3>,
}

/// What is the matter, by what it is the matter with.
#[derive(Debug, Clone, PartialEq)]
pub enum Fact {
    /// Something in the document keeps it from being computed.
    Document(Fault),
    /// With a line.
    Line(LineFact),
    /// With a panel or its sheet.
    Skin(SkinFact),
    /// With a stick that is bent.
    Stick(StickFact),
    /// With the skin between its supports.
    Bay(BayFact),
    /// With a frame.
    Frame(FrameFact),
    /// With where water in her lies.
    Drain(DrainFact),
    /// With a frame's notch.
    Notch(NotchFact),
    /// With a transom.
    Transom(TransomFact),
    /// With a stem.
    Stem(StemFact),
    /// With a motor on her transom.
    Hung(HungFact),
    /// With how she is stood up.
    Jig(JigFact),
    /// With how she floats.
    Afloat(AfloatFact),
    /// With the public rules.
    Rule(RuleFact),
    /// With what the document puts aboard.
    Aboard(AboardFact),
    /// With what she is cut from.
    Stock(StockFact),
}

impl Fact {
    /// The question that it belongs to; `None` for one about the document as such.
    pub fn question(&self) -> Option<Question> {
        Some(match self {
            Fact::Document(_) => return None,
            Fact::Line(_) => Question::Shape,
            Fact::Skin(_) => Question::Skin,
            Fact::Stick(_)
            | Fact::Bay(_)
            | Fact::Frame(_)
            | Fact::Drain(_)
            | Fact::Notch(_)
            | Fact::Transom(_)
            | Fact::Stem(_)
            | Fact::Hung(_) => Question::Bones,
            Fact::Jig(_) => Question::Setup,
            Fact::Afloat(_) | Fact::Rule(_) | Fact::Aboard(_) => Question::Afloat,
            Fact::Stock(_) => Question::Stock,
        })
    }
}

/// Each group of facts is a fact, and a fact is of one kind whatever was measured.
macro_rules! groups {
    ($($variant:ident of $kind:ty),*) => {
        $(impl From<$kind> for Fact {
            fn from(fact: $kind) -> Fact {
                Fact::$variant(fact)
            }
        })*

        impl Fact {
            /// Whether both say the same of the boat, each with its own figures.
            pub fn same_kind(&self, other: &Fact) -> bool {
                match (self, other) {
                    (Fact::Document(a), Fact::Document(b)) => a == b,
                    $((Fact::$variant(a), Fact::$variant(b)) => discriminant(a) == discriminant(b),)*
                    _ => false,
                }
            }
        }
    };
}

groups!(
    Line of LineFact, Skin of SkinFact, Stick of StickFact, Bay of BayFact, Frame of FrameFact,
    Notch of NotchFact, Drain of DrainFact, Transom of TransomFact, Stem of StemFact,
    Hung of HungFact, Jig of JigFact, Afloat of AfloatFact, Rule of RuleFact,
    Aboard of AboardFact, Stock of StockFact
);

impl From<Fault> for Fact {
    fn from(fault: Fault) -> Fact {
        Fact::Document(fault)
    }
}

impl Finding {
    /// A finding of any severity.
    pub fn new(severity: Severity, place: Place, fact: impl Into<Fact>) -> Self {
        Finding { severity, place, fact: fact.into(), part: None, at: None }
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
    pub fn note(place: Place, fact: impl Into<Fact>) -> Self {
        Self::new(Severity::Note, place, fact)
    }

    /// Look before you cut.
    pub fn watch(place: Place, fact: impl Into<Fact>) -> Self {
        Self::new(Severity::Watch, place, fact)
    }

    /// Do not build it so.
    pub fn stop(place: Place, fact: impl Into<Fact>) -> Self {
        Self::new(Severity::Stop, place, fact)
    }

    /// The question that it belongs to; `None` for one about the document as such.
    pub fn question(&self) -> Option<Question> {
        self.fact.question()
    }

    /// Whether it says of the same thing what `other` says, as gravely, whatever the figures.
    pub fn alike(&self, other: &Finding) -> bool {
        self.severity == other.severity
            && self.place.same_thing(&other.place)
            && self.fact.same_kind(&other.fact)
    }
}

/// The gravest severity among findings of one question (of all if that is `None`).
pub fn gravest<'a>(
    findings: impl IntoIterator<Item = &'a Finding>,
    question: Option<Question>,
) -> Option<Severity> {
    let asked = |f: &&Finding| question.is_none() || f.question() == question;
    findings.into_iter().filter(asked).map(|f| f.severity).max()
}
