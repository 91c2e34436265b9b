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

    /// The unit that its figure is in.
    pub fn unit(self) -> &'static str {
        match self {
            Covering::OtherPlywood
            | Covering::GlueDensity
            | Covering::LaminateDensity
            | Covering::PaintDensity => "kg/m³",
            Covering::OtherLumber => "kg/m³, oven-dry",
            Covering::ResinInCloth => "kg of resin a kg of cloth",
            Covering::CoatOfPaint => "kg/m², dry",
            Covering::GlueAndFastenings => "of the mass of all wood, 0.04 for 4 %",
        }
    }

    /// What a builder's own figure may be, in that unit.
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
    /// The figure, in the unit of [`Covering::unit`].
    pub value: f64,
    /// Where it is from.
    pub source: String,
}
