//! Will the lumber bend? What there is to say of members.

use crate::bend::stick::Doubt;
use crate::bend::{Governs, Rung};
use crate::hull::Stock;

/// What is the matter with a stick that is bent.
#[derive(Debug, Clone, PartialEq)]
pub enum StickFact {
    /// No wood is as stiff (N/mm²) as the test of its stick makes it.
    NoWoodSoStiff(f64),
    /// It does not go in dry.
    NotDry {
        /// Greatest strain.
        strain: f64,
        /// What asks the most there.
        governs: Governs,
        /// What it is sawn from.
        stock: Stock,
        /// Strain at which half of such sticks break.
        breaking: f64,
        /// Bent dry, where it would not break but nobody can pull it there.
        too_stiff: Option<Box<Rung>>,
        /// The cheapest way that holds, if one does.
        way: Option<Box<Rung>>,
    },
    /// The figure of its test is doubtful.
    Test(Doubt),
    /// The hull has no such line for it to follow.
    NoSuchLine(String),
    /// No table has its wood.
    UnknownWood(String),
}
