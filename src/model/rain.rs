//! Where rain lies in her when nobody is aboard: limbers only lead it to her lowest place.

use super::Model;
use crate::geom::P3;
use crate::part::CaseId;

/// Places along the keel at which its height over the water's level is compared.
const PLACES: usize = 200;
/// Trimmed by less than this (radians) she lies level: half of half a degree.
const LEVEL: f64 = 0.25 * std::f64::consts::PI / 180.0;

/// Where rain gathers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rain {
    /// Trim of the empty hull, radians, positive by the stern.
    pub trim: f64,
    /// The lowest place of her keel as she then floats, mm.
    pub at: P3,
    /// Stations of the frames next ahead of it and aft of it; `None` for her end.
    pub between: [Option<usize>; 2],
}

impl Rain {
    /// Of a hull that floats empty; `None` for one that does not.
    pub fn of(model: &Model) -> Option<Rain> {
        let floating = model.afloat.as_ref()?.case(CaseId::Empty)?.floating?;
        let keel = &model.lines.lines[0].spline;
        let (sin, cos) = floating.trim.sin_cos();
        // Height over the water's own level: along the upward normal (−sin θ, 0, cos θ).
        let over = |p: &P3| p.z * cos - p.x * sin;
        let at = (0..=PLACES)
            .map(|i| keel.at(keel.end() * i as f64 / PLACES as f64))
            .min_by(|a, b| over(a).total_cmp(&over(b)))?;
        let frames = &model.woodwork.frames;
        let ahead = frames.iter().rev().find(|f| f.x <= at.x).map(|f| f.station);
        let abaft = frames.iter().find(|f| f.x > at.x).map(|f| f.station);
        Some(Rain { trim: floating.trim, at, between: [ahead, abaft] })
    }

    /// Whether she lies by the bow, so that water does not run to a drain in her transom.
    pub fn by_the_bow(&self) -> bool {
        self.trim < -LEVEL
    }
}
