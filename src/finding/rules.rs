//! What there is to say by the public rules: full of water, and what is aboard against what
//! may be.

use crate::part::AtEnd;

/// Where something is put that no part of her can carry it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutOfHer {
    /// Ahead of her bow.
    Ahead,
    /// Abaft her stern.
    Abaft,
    /// Outside her side.
    Beside,
}

/// The motor that persons go with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Beside {
    /// The builder's own, hp.
    Own(f64),
    /// The one that she would be marked for, hp.
    Marked(f64),
    /// None.
    None,
}

/// What is the matter by a public rule. Angles are radians, heel to starboard, trim by the
/// stern.
#[derive(Debug, Clone, PartialEq)]
pub enum RuleFact {
    /// Something is put where nothing of her carries it.
    PutOutside {
        /// How far.
        by: f64,
        /// On which side.
        side: OutOfHer,
    },
    /// There is less foam than the rule asks for; litres.
    Foam {
        /// What it asks for.
        needed: f64,
        /// What is built in.
        built: f64,
        /// What of it lies under the water then, where that is less.
        under: Option<f64>,
        /// A motor hangs on her.
        motor: bool,
    },
    /// Full of water she does not stay upright.
    SwampedLolls,
    /// Full of water she lies over too far.
    SwampedHeels {
        /// By so much.
        heel: f64,
        /// What the rule allows.
        allowed: f64,
    },
    /// Full of water she does not come to rest.
    SwampedLost {
        /// With this in all.
        mass: f64,
        /// She goes under; otherwise she turns over.
        sinks: bool,
    },
    /// Full of water both her ends are under.
    BothEndsUnder,
    /// Full of water one of her ends is too deep.
    EndUnder {
        /// Her trim.
        trim: f64,
        /// That end.
        end: AtEnd,
        /// How deep its gunwale is.
        under: f64,
        /// What the rule allows.
        allowed: f64,
    },
    /// Full of water she cannot be bailed.
    NotBailed {
        /// Her trim.
        trim: f64,
        /// The motor's cut-out is under; otherwise her sheer.
        cut_out: bool,
        /// How deep.
        under: f64,
    },
    /// She is too long for the safe-loading rule.
    TooLong {
        /// Length overall.
        length: f64,
        /// What the rule is for.
        under: f64,
    },
    /// With the weight that the rule allows on one side she floods or capsizes.
    MarkedFloods {
        /// Persons that it allows.
        persons: u32,
        /// Beside this motor.
        beside: Beside,
    },
    /// More is aboard than the rule would mark her for.
    Overloaded {
        /// Aboard.
        mass: f64,
        /// Marked.
        allowed: f64,
    },
    /// The persons weigh more than the rule allows.
    Overcrowded {
        /// Weight of those aboard.
        mass: f64,
        /// How many it allows.
        persons: u32,
        /// Weighing this between them.
        allowed: f64,
        /// Beside this motor.
        beside: Beside,
    },
    /// There is no transom to hang the motor on.
    NoTransom,
    /// A motor is among the loads, and none is fitted.
    NoneFitted,
    /// A motor is fitted, and none is among the loads.
    NoneAboard,
    /// The motor is more powerful than the rule would mark her for.
    TooPowerful {
        /// The motor, hp.
        power: f64,
        /// Marked, hp.
        marked: f64,
    },
}
