//! The ladder: dry, dry with clamps, soaked hot, steamed, kerfed, laminated.
//!
//! Every rung is worked out for every member, with its numbers; the cheapest rung that
//! holds is recommended. Kerfing a member that carries load comes last.

use super::ladder;
use super::member::BentMember;
use super::pull::Pull;
use crate::hull::Soak;
use crate::material::Wood;

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
}

/// What a number of a rung is. A moment, a force or a chance is of the method that it stands
/// with: of a hand's pull or of one clamp's, of a stick or of a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    /// Chance that one breaks.
    BreakChance,
    /// Chance that one of all that are needed breaks.
    PairBreakChance,
    /// Tightest radius, mm.
    TightestRadius,
    /// Greatest force, N.
    Force,
    /// Stick still free there, mm.
    Lever,
    /// The greatest force that is kept up, or that does not bruise, N.
    GreatestForce,
    /// Clamps.
    Clamps,
    /// Time in hot water, min.
    Soak,
    /// Temperature of the water at the wood, °C.
    Water,
    /// Moisture under the wood's face then, %.
    Moisture,
    /// Time to bend it in, min.
    WorkingTime,
    /// Time in the steam box, min.
    Steam,
    /// How much tighter than wanted it is bent, %.
    Overbend,
    /// Strain allowed with a strap and end pressure.
    StrainWithStrap,
    /// Depth of each kerf, mm.
    Depth,
    /// From kerf to kerf, mm.
    Spacing,
    /// Kerfs.
    Count,
    /// Length kerfed, mm.
    Length,
    /// Share of the bending strength left.
    RemainingStrength,
    /// Layers.
    Layers,
    /// Thickness of each layer, mm.
    Layer,
    /// Radius after release over the radius clamped to.
    Springback,
}

impl Quantity {
    /// Its key in the report, which ends in its unit.
    pub fn key(self) -> &'static str {
        match self {
            Quantity::BreakChance => "break_chance",
            Quantity::PairBreakChance => "pair_break_chance",
            Quantity::TightestRadius => "tightest_radius_mm",
            Quantity::Force => "force_n",
            Quantity::Lever => "lever_mm",
            Quantity::GreatestForce => "greatest_force_n",
            Quantity::Clamps => "clamps",
            Quantity::Soak => "soak_min",
            Quantity::Water => "water_c",
            Quantity::Moisture => "moisture_pct",
            Quantity::WorkingTime => "working_time_min",
            Quantity::Steam => "steam_min",
            Quantity::Overbend => "overbend_pct",
            Quantity::StrainWithStrap => "strain_with_strap",
            Quantity::Depth => "depth_mm",
            Quantity::Spacing => "spacing_mm",
            Quantity::Count => "count",
            Quantity::Length => "length_mm",
            Quantity::RemainingStrength => "remaining_strength",
            Quantity::Layers => "layers",
            Quantity::Layer => "layer_mm",
            Quantity::Springback => "springback",
        }
    }
}

/// One number of a rung.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// What it is.
    pub quantity: Quantity,
    /// The number in the unit of its key.
    pub value: f64,
}

/// What a rung asks of who bends the stick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum How {
    /// Fastened as it goes in by hand, against this pull.
    ByHand(Pull),
    /// A clamp at each spacing takes up a little at a time, up to this force, N.
    Clamps(f64),
    /// Kept in hot water.
    Soak {
        /// How long and how hot.
        soak: Soak,
        /// Its wood takes heat poorly.
        poorly: bool,
    },
    /// Kept in the steam box.
    Steam {
        /// How long, min.
        minutes: f64,
        /// It needs a strap with end stops.
        strap: bool,
        /// Its wood takes heat poorly.
        poorly: bool,
    },
    /// Sawn part way through on the inside of the bend.
    Kerfs {
        /// How many times.
        count: f64,
        /// How deep, mm.
        depth: f64,
        /// From one to the next, mm.
        spacing: f64,
        /// The stick carries load.
        carries_load: bool,
    },
    /// Glued up.
    Layers {
        /// Of so many.
        layers: u32,
        /// Each so thick, mm.
        thickness: f64,
        /// Radius after release over the radius clamped to.
        springback: f64,
    },
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
    /// What to do.
    pub how: How,
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

/// Works out every rung for `bent` and picks one.
pub(super) fn advise(bent: &BentMember, wood: &Wood) -> Advice {
    let rungs = ladder::rungs(bent, wood);
    // Sawing through a member that carries load is the last resort.
    let last = |m: Method| m == Method::Kerf && bent.member.carries_load;
    let recommended =
        rungs.iter().filter(|r| r.holds).map(|r| r.method).min_by_key(|m| (last(*m), *m));
    Advice { recommended, rungs }
}
