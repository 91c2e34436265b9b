//! What the builder decides about the strongback, and what was measured on it.

use serde::{Deserialize, Serialize};

/// The ladder-like jig that the frames stand on, upside down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct StrongbackPlan {
    /// Width of a rail, mm.
    pub rail_width_mm: f64,
    /// Depth of a rail, upright, mm.
    pub rail_depth_mm: f64,
    /// Greatest spacing of the rails, outside to outside, mm; narrower if the frames ask it.
    pub rail_spacing_mm: f64,
    /// Top of the rails above the shop floor, mm.
    pub rail_top_mm: f64,
    /// Room left between the rails' top and the highest sheer, which hangs lowest, mm.
    pub clearance_mm: f64,
    /// Width of a leg, athwartships, mm.
    pub leg_width_mm: f64,
    /// Thickness of a leg, fore and aft, mm.
    pub leg_thickness_mm: f64,
    /// Height of the level line above the hull's baseline, mm; left out, it is chosen.
    pub level_mm: Option<f64>,
}

impl Default for StrongbackPlan {
    fn default() -> Self {
        StrongbackPlan {
            rail_width_mm: 38.0,
            rail_depth_mm: 140.0,
            rail_spacing_mm: 600.0,
            rail_top_mm: 450.0,
            clearance_mm: 50.0,
            leg_width_mm: 89.0,
            leg_thickness_mm: 38.0,
            level_mm: None,
        }
    }
}

/// A corner of a frame as it stands on the real jig.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// Its station, counted from 1 at the bow.
    pub station: usize,
    /// The line that passes there: `keel`, `chine` … `sheer`.
    pub line: String,
    /// Height above the shop floor, upside down, mm.
    #[serde(default)]
    pub above_floor_mm: Option<f64>,
    /// Distance from the centreline string, mm.
    #[serde(default)]
    pub half_breadth_mm: Option<f64>,
}

/// Which panel laps over the edge of the other where two meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Lap {
    /// The panel below the line covers the edge of the one above: the sides go on first.
    LowerOver,
    /// The panel above the line covers the edge of the one below: the bottom goes on first.
    UpperOver,
}

/// The lap along one line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LapAt {
    /// The line: a chine, or the keel of a V-bottom.
    pub line: String,
    /// Who laps whom.
    pub lap: Lap,
}
