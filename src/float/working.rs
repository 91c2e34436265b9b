//! The working of a public rule, line by line.

/// A line of the working.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// What is worked out, with its figures.
    pub worked: Worked,
    /// The result.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
}

/// Whether the table's power was lowered, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stepped {
    /// It was not.
    No,
    /// By a step, for a flat bottom with hard chines.
    FlatBottom,
    /// She has such a bottom, and the rule has no step lower.
    NoLower,
    /// She is marked for a motor of 2 hp or less.
    Small,
}

/// What a line works out. The safe-loading rule's figures are in pounds and feet, the
/// flotation rule's in kilograms and litres where nothing else is said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Worked {
    /// What she carries before it comes aboard. 33 CFR 183.35, 183.37.
    Free {
        /// Maximum displacement.
        displacement: f64,
        /// What the boat weighs.
        boat: f64,
    },
    /// A fifth of that. 33 CFR 183.35 (second-hand).
    Fifth(f64),
    /// Three tenths of it. 33 CFR 183.37 (from memory).
    ThreeTenths(f64),
    /// Persons, nine tenths of the capacity less 25. 33 CFR 183.43(a)(2).
    NineTenthsLess25(f64),
    /// Persons, nine tenths of the capacity. 33 CFR 183.43(a)(1).
    NineTenths(f64),
    /// Whole persons of a weight. 33 CFR 183.41, 183.43.
    WholePersons(f64),
    /// The factor of the table of powers. 33 CFR 183.53.
    Factor {
        /// Length.
        length: f64,
        /// Breadth of the transom, or of the after quarter.
        breadth: f64,
    },
    /// The greatest power to mark for a factor. 33 CFR 183.53.
    Power {
        /// The factor.
        factor: f64,
        /// Whether the table's power was lowered.
        stepped: Stepped,
    },
    /// What a motor of this power weighs. 33 CFR 183.41(a), table 183.75.
    Motor(f64),
    /// Persons, the capacity less the motor. 33 CFR 183.41.
    LessMotor {
        /// The capacity.
        weight: f64,
        /// The motor.
        motor: f64,
    },
    /// Persons by the list test's weight. 33 CFR 183.41.
    ByListTest(f64),
    /// The lesser of the two. 33 CFR 183.41.
    Lesser {
        /// What the motor leaves.
        left: f64,
        /// By the list test.
        by_list: f64,
    },
    /// What of the hull her own solids do not lift. The handbook to 33 CFR part 183.
    HullUnder {
        /// The hull.
        hull: f64,
        /// What her solids displace under the water.
        under: f64,
        /// What they displace above it.
        above: f64,
    },
    /// A motor of this power under water. 33 CFR table 183.75.
    SwampedMotor(f64),
    /// What persons of this weight (lb) weigh on a swamped boat.
    SwampedPersons {
        /// Their weight, lb.
        pounds: f64,
        /// By subpart G, for outboards; otherwise by subpart H.
        outboard: bool,
    },
    /// A quarter of the dead weight, lb. 33 CFR part 183 subparts G and H (from memory).
    DeadWeight(f64),
    /// The foam that lifts it. Archimedes.
    Foam {
        /// Its density, kg/m³.
        density: f64,
        /// What it is to lift.
        lifts: f64,
    },
}
