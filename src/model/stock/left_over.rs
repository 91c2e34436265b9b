//! What is left of a sheet once its straight cuts are made and its parts sawn out.

use super::SheetKind;
use crate::geom::polyline::area;
use crate::geom::region::Region;
use crate::stock::nest::{CutKind, Keep, Offcut, SheetLayout, cuts, offcuts};

impl SheetKind {
    /// The pieces of a sheet that are worth keeping, the largest first: what no part takes,
    /// parted where a straight cut runs through it.
    pub fn left_over(&self, laid: &SheetLayout) -> Vec<Offcut> {
        let keep = Keep::default();
        let half = 0.5 * self.problem.kerf.max(LEAST_CUT_MM);
        let straight: Vec<Region> = cuts(&self.problem, laid, keep)
            .iter()
            .filter(|c| c.kind != CutKind::Outline)
            .map(|c| Region::along(&c.path, half))
            .collect();
        let parted = |o: &Offcut| {
            straight.iter().fold(Region::of(&o.outline), |left, cut| left.minus(cut)).rings()
        };
        let worth = |ring: &Vec<_>| {
            area(ring).abs() >= keep.least_area
                && !Region::of(ring).grown(-0.5 * keep.least_width).is_empty()
        };
        let whole = offcuts(&self.problem, laid, keep);
        let mut left: Vec<Offcut> = whole
            .iter()
            .flat_map(parted)
            .filter(worth)
            .map(|outline| Offcut { area: area(&outline).abs(), outline })
            .collect();
        left.sort_by(|a, b| b.area.total_cmp(&a.area));
        left
    }
}

/// A cut of no width parts a piece all the same: it is taken to be this wide, mm.
const LEAST_CUT_MM: f64 = 0.1;
