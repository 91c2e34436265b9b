//! What a boat must hold: nothing at stop, and no warning but those that she has as she is and
//! that no change of stock takes away.

use super::choices::Sheet;
use crate::finding::{Fact, Finding, Place, Severity, SkinFact, StockFact};

/// Why a boat falls.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// By what was noticed of her.
    Finding(Box<Finding>),
    /// Her panels and boards are more than the sheets on the list have room for, mm².
    Short {
        /// Which sheet.
        sheet: String,
        /// Area of what is cut from it.
        asks: f64,
        /// Area of those that there are.
        has: f64,
    },
    /// A stick of a member is cut from lumber that is not on the list.
    OffList(String),
}

/// What falls together, by one reason.
#[derive(Debug, Clone, PartialEq)]
pub enum Family {
    /// Boats whose panel is of this sheet.
    Sheet {
        /// Which panel.
        panel: String,
        /// Of which sheet.
        sheet: Sheet,
    },
    /// Boats whose member is of this species.
    Species {
        /// Which member.
        member: String,
        /// Of which species.
        species: String,
    },
    /// Boats by themselves.
    Boats,
}

/// Boats that fell by one reason, the first that was met.
#[derive(Debug, Clone, PartialEq)]
pub struct Fallen {
    /// Which.
    pub family: Family,
    /// Why.
    pub why: Why,
    /// No such boat costs less, as far as prices are known; `None` for choices that are ruled
    /// out by themselves, for which nobody asks what they would cost.
    pub at_least: Option<f64>,
    /// How many.
    pub boats: u128,
}

impl Why {
    /// That a finding says so.
    pub(super) fn finding(f: &Finding) -> Why {
        Why::Finding(Box::new(f.clone()))
    }

    /// Whether both are one reason, whatever the figures.
    pub(super) fn alike(&self, other: &Why) -> bool {
        match (self, other) {
            (Why::Finding(a), Why::Finding(b)) => a.alike(b),
            (Why::Short { sheet: a, .. }, Why::Short { sheet: b, .. }) => a == b,
            (Why::OffList(a), Why::OffList(b)) => a == b,
            _ => false,
        }
    }
}

/// Warnings that a boat may have.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Suffered(pub Vec<Finding>);

impl Suffered {
    /// The gravest finding that it may not have.
    pub fn not_borne<'a>(&self, findings: &'a [Finding]) -> Option<&'a Finding> {
        let refused = |f: &&Finding| is_grave(f) && !self.0.iter().any(|s| s.alike(f));
        // The first of the gravest: `max_by_key` would take the last.
        findings.iter().filter(refused).min_by_key(|f| std::cmp::Reverse(f.severity))
    }
}

/// Whether it is more than a note.
pub(super) fn is_grave(f: &Finding) -> bool {
    f.severity > Severity::Note
}

/// Whether a finding is of this panel's sheet alone: the pass bends each panel's sheet over that
/// panel's own surface and pattern (`model::panels`), whatever the others are of.
pub(super) fn of_sheet(f: &Finding, panel: &str) -> bool {
    let skin = matches!(f.fact, Fact::Skin(SkinFact::Radius { .. } | SkinFact::UnknownSheet(_)));
    skin && matches!(&f.place, Place::Panel(p) | Place::PanelAt(p, _) if p == panel)
}

/// Whether a finding is of this member's wood alone: the pass bends each stick over the
/// curvatures of its line and the surfaces beside it, which no sheet's thickness changes
/// (`model::members`).
pub(super) fn of_stick(f: &Finding, member: &str) -> bool {
    let named = match &f.place {
        Place::Stick(m) | Place::StickAt(m, _) | Place::Stiffness(m) | Place::StickTest(m) => m,
        _ => return false,
    };
    matches!(f.fact, Fact::Stick(_)) && named == member
}

/// Whether a finding is of her skin and what holds it, whatever wood her members are of: the pass
/// makes panels, frames and the bays between them of the sticks' lines and sections, and no
/// stage before her weights reads a member's species but to bend that member (`model::derive_after`).
pub(super) fn of_skin(f: &Finding) -> bool {
    matches!(f.fact, Fact::Skin(_) | Fact::Bay(_))
}

/// Whether it is of what is spread on her whatever she is of.
pub(super) fn of_the_shop(f: &Finding) -> bool {
    matches!(f.fact, Fact::Stock(StockFact::TooCold { .. }))
}

/// Whether it is a warning of the list that no sheet and no board takes away.
pub(super) fn of_glue(f: &Finding) -> bool {
    matches!(
        f.fact,
        Fact::Stock(
            StockFact::SlowToClose { .. }
                | StockFact::NotBorne(_)
                | StockFact::UnknownStore
                | StockFact::JointsBeside { .. }
                | StockFact::StiffJoint { .. }
        )
    )
}
