//! Battens inside the bottom: stringers let into the frames between keelson and chine logs,
//! which part the sheet into narrower spans.

use serde::{Deserialize, Serialize};

/// Battens along the bottom.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Battens {
    /// How many a side; 0 sets them `spacing_mm` apart or less.
    pub count: usize,
    /// Greatest spacing, where `count` is 0, mm.
    pub spacing_mm: f64,
    /// Depth square to the skin, mm.
    pub moulded_mm: f64,
    /// Width along the skin, mm.
    pub sided_mm: f64,
    /// Species by its name in the wood table.
    pub species: String,
    /// Moisture content, percent of dry weight.
    pub moisture_pct: f64,
}

impl Default for Battens {
    fn default() -> Self {
        Battens {
            count: 2,
            spacing_mm: 200.0,
            moulded_mm: 19.0,
            sided_mm: 38.0,
            species: "Douglas-fir".into(),
            moisture_pct: 12.0,
        }
    }
}

/// More than this a side is a slip of the pen.
pub const MOST_BATTENS: usize = 8;

impl Battens {
    /// How many a side part a bottom of this width (mm, keelson to log).
    pub fn number(&self, width: f64) -> usize {
        match self.count {
            0 => ((width / self.spacing_mm).ceil() as usize).saturating_sub(1),
            n => n,
        }
        .clamp(1, MOST_BATTENS)
    }
}
