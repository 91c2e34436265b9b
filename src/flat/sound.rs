//! Whether a pattern can be what it says: it has corners, does not cross itself, and covers
//! as much as the surface that was laid flat.

use super::FlatPanel;
use crate::geom::P2;
use crate::geom::polyline::first_self_crossing;

/// Laying flat keeps the area of every strip: a flat area that differs by a greater share
/// than this is folded or has collapsed.
const AREA_SHARE: f64 = 1e-6;
/// Fewer corners enclose nothing.
const LEAST_CORNERS: usize = 3;

/// Why nothing may be cut by a pattern.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unsound {
    /// The outline has so few corners.
    Corners(usize),
    /// The outline crosses itself near the point of this index.
    Crosses(usize),
    /// Areas (mm²) of the strips in space and in the flat.
    Area {
        /// In space.
        in_space: f64,
        /// Laid flat.
        in_flat: f64,
    },
}

/// What is wrong with a pattern of `flat` whose outlines (finished, with laps, as cut) are
/// these; `None` if nothing is.
pub fn unsound(flat: &FlatPanel, outlines: &[&[P2]]) -> Option<Unsound> {
    if let Some(few) = outlines.iter().map(|o| o.len()).find(|n| *n < LEAST_CORNERS) {
        return Some(Unsound::Corners(few));
    }
    let (in_space, in_flat) = (flat.area_in_space, flat.area_in_flat());
    // So that what is no number is unsound too.
    let same = (in_flat - in_space).abs() <= AREA_SHARE * in_space && in_space > 0.0;
    if !same {
        return Some(Unsound::Area { in_space, in_flat });
    }
    outlines.iter().find_map(|o| first_self_crossing(o)).map(|(i, _)| Unsound::Crosses(i))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flat::develop::FlatRuling;
    use crate::geom::P3;
    use crate::panel::EdgeKind;

    /// A plane strip 300 by 100 mm in three rulings.
    fn plane() -> FlatPanel {
        let rulings = [0.0, 100.0, 300.0]
            .map(|x| FlatRuling {
                lower: P3::new(x, 0.0, 0.0),
                upper: P3::new(x, 100.0, 0.0),
                flat_lower: P2::new(x, 0.0),
                flat_upper: P2::new(x, 100.0),
                lower_on: EdgeKind::Line,
                upper_on: EdgeKind::Line,
                warp: 0.0,
            })
            .to_vec();
        FlatPanel { rulings, area_in_space: 30_000.0 }
    }

    #[test]
    fn a_plane_strip_is_sound_and_its_harms_are_named() {
        let flat = plane();
        let square = [P2::new(0.0, 0.0), P2::new(1.0, 0.0), P2::new(1.0, 1.0), P2::new(0.0, 1.0)];
        assert_eq!(unsound(&flat, &[&square]), None);
        assert_eq!(unsound(&flat, &[&square, &square[..2]]), Some(Unsound::Corners(2)));
        let bow_tie = [square[0], square[2], square[1], square[3]];
        assert!(matches!(unsound(&flat, &[&square, &bow_tie]), Some(Unsound::Crosses(_))));
        let mut collapsed = plane();
        for r in &mut collapsed.rulings {
            (r.flat_lower, r.flat_upper) = (P2::origin(), P2::origin());
        }
        let said = unsound(&collapsed, &[&square]).expect("a collapsed pattern is unsound");
        assert_eq!(said, Unsound::Area { in_space: 30_000.0, in_flat: 0.0 });
        collapsed.area_in_space = f64::NAN;
        assert!(unsound(&collapsed, &[&square]).is_some());
    }
}
