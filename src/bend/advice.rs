//! The ladder: dry, dry with clamps, soaked hot, steamed, kerfed, laminated.
//!
//! Every rung is worked out for every member, with its numbers; the cheapest rung that
//! holds is recommended. Kerfing a member that carries load comes last.

use super::ladder;
use super::member::BentMember;
use crate::material::Wood;
use crate::units::Units;

/// A way of getting a member to its shape, cheapest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    /// Bent as it is.
    Dry,
    /// Eased in with clamps.
    DryWithClamps,
    /// Soaked hot.
    HotSoak,
    /// Steamed.
    Steam,
    /// Sawn part way through on the inside of the bend.
    Kerf,
    /// Glued up of layers.
    Laminate,
}

impl Method {
    /// All, in the order of the ladder.
    pub const ALL: [Method; 6] = [
        Method::Dry,
        Method::DryWithClamps,
        Method::HotSoak,
        Method::Steam,
        Method::Kerf,
        Method::Laminate,
    ];

    /// The word in a report.
    pub fn word(self) -> &'static str {
        match self {
            Method::Dry => "dry",
            Method::DryWithClamps => "dry, with clamps",
            Method::HotSoak => "soaked hot",
            Method::Steam => "steamed",
            Method::Kerf => "kerfed",
            Method::Laminate => "laminated",
        }
    }
}

/// One number of a rung.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is, as a key of the report: `force_n`.
    pub key: &'static str,
    /// What it is, in words.
    pub label: &'static str,
    /// The number in the unit of the key.
    pub value: f64,
}

/// One rung of the ladder.
#[derive(Debug, Clone, PartialEq)]
pub struct Rung {
    /// The way.
    pub method: Method,
    /// Whether the member takes its bend this way.
    pub holds: bool,
    /// Strain of the worst fibre done this way.
    pub strain: f64,
    /// Strain that may be asked done this way.
    pub allowed: f64,
    /// Its numbers.
    pub figures: Vec<Figure>,
    /// What to do, in words.
    pub how: String,
    /// Where someone could be hurt or the boat weakened.
    pub caution: Option<&'static str>,
    /// Where the limit is from.
    pub source: &'static str,
}

/// The ladder for one member.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Advice {
    /// The cheapest rung that holds, if one does.
    pub recommended: Option<Method>,
    /// All rungs, in the order of the ladder.
    pub rungs: Vec<Rung>,
}

impl Advice {
    /// The recommended rung.
    pub fn best(&self) -> Option<&Rung> {
        self.rungs.iter().find(|r| Some(r.method) == self.recommended)
    }
}

/// Works out every rung for `bent` and picks one; words are written in `units`.
pub(super) fn advise(bent: &BentMember, wood: &Wood, units: Units) -> Advice {
    let rungs = ladder::rungs(bent, wood, units);
    // Sawing through a member that carries load is the last resort.
    let last = |m: Method| m == Method::Kerf && bent.member.carries_load;
    let recommended =
        rungs.iter().filter(|r| r.holds).map(|r| r.method).min_by_key(|m| (last(*m), *m));
    Advice { recommended, rungs }
}
