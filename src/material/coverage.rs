//! What is spread, glued and filled: coverage and densities.

use serde::{Deserialize, Serialize};

/// What a row is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Covering {
    /// Density of plywood that the sheet table lacks, kg/m³.
    OtherPlywood,
    /// Oven-dry density of lumber that the wood table lacks, kg/m³.
    OtherLumber,
    /// Resin that goes into and over a cloth, by the cloth's own mass.
    ResinInCloth,
    /// A coat of paint or varnish when dry, kg/m².
    CoatOfPaint,
    /// Glue, fillets and fastenings, as a share of the mass of all wood.
    GlueAndFastenings,
    /// Density of those, kg/m³.
    GlueDensity,
    /// Density of cloth in resin, kg/m³.
    LaminateDensity,
    /// Density of dry paint, kg/m³.
    PaintDensity,
}

impl Covering {
    /// All of them.
    pub const ALL: [Covering; 8] = [
        Covering::OtherPlywood,
        Covering::OtherLumber,
        Covering::ResinInCloth,
        Covering::CoatOfPaint,
        Covering::GlueAndFastenings,
        Covering::GlueDensity,
        Covering::LaminateDensity,
        Covering::PaintDensity,
    ];

    /// What a builder's own figure may be, in the row's unit.
    pub fn range(self) -> std::ops::RangeInclusive<f64> {
        match self {
            Covering::OtherPlywood | Covering::OtherLumber => 50.0..=2000.0,
            Covering::ResinInCloth => 0.0..=10.0,
            Covering::CoatOfPaint => 0.0..=2.0,
            Covering::GlueAndFastenings => 0.0..=1.0,
            Covering::GlueDensity | Covering::LaminateDensity | Covering::PaintDensity => {
                100.0..=10_000.0
            }
        }
    }
}

/// A row of the coverage table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Coverage {
    /// What it is about.
    pub what: Covering,
    /// The figure.
    pub value: f64,
    /// Its unit, for people.
    #[serde(default)]
    pub unit: String,
    /// Where it is from.
    pub source: String,
}
