//! What is left of a sheet, and which pieces are worth keeping.

use geo::algorithm::buffer::Buffer;
use geo::{Area, BooleanOps, BoundingRect, Coord, MultiPolygon, Polygon, Rect};
use serde::Serialize;

use super::check::polygon;
use super::layout::SheetLayout;
use super::problem::Problem;
use crate::geom::P2;
use crate::geom::polyline::area;
use crate::geom::region::Region;

/// What is worth keeping. Both figures are common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Keep {
    /// Nowhere narrower than this, mm: narrower necks are not counted as wood.
    pub least_width: f64,
    /// No smaller than this, mm².
    pub least_area: f64,
}

impl Default for Keep {
    fn default() -> Self {
        Keep { least_width: 100.0, least_area: 60_000.0 }
    }
}

/// A piece left over.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Offcut {
    /// Its outline, mm, in the sheet's axes, anticlockwise.
    #[serde(skip)]
    pub outline: Vec<P2>,
    /// mm².
    pub area: f64,
}

/// The pieces of a sheet that are worth keeping once its parts are cut out, the largest first.
///
/// A saw cut is taken off around every part. Necks narrower than [`Keep::least_width`] are cut
/// away, and a piece with a hole in it is cut in two through the hole, across the sheet, as
/// nobody stores a hole.
pub fn offcuts(problem: &Problem, sheet: &SheetLayout, keep: Keep) -> Vec<Offcut> {
    let stock = &problem.sheets[sheet.sheet];
    let cut_out = sheet.placed.iter().map(|p| grown(&p.outline, problem.kerf));
    let gone: Vec<Polygon<f64>> = cut_out.flat_map(|m| m.0).collect();
    let left = polygon(&stock.outline).difference(&geo::unary_union(&gone));
    let half = 0.5 * keep.least_width;
    let mut pieces: Vec<Polygon<f64>> = opened(&left, half).0;
    let mut found = Vec::new();
    while let Some(piece) = pieces.pop() {
        if piece.unsigned_area() < keep.least_area {
            continue;
        }
        if piece.interiors().is_empty() {
            found.push(piece);
        } else {
            let halves = split(&piece, problem.kerf);
            pieces.extend(opened(&halves, half).0);
        }
    }
    let mut offcuts: Vec<Offcut> = found
        .iter()
        .flat_map(|p| {
            let ring: Vec<P2> = p.exterior().0.iter().skip(1).map(|c| P2::new(c.x, c.y)).collect();
            Region::of(&super::form::thinned(&ring, SMOOTHED_MM)).rings()
        })
        .map(|outline| Offcut { area: area(&outline).abs(), outline })
        .collect();
    offcuts.sort_by(|a, b| b.area.total_cmp(&a.area));
    offcuts
}

/// Outlines of offcuts are smoothed by this, mm: they are sawn by eye.
const SMOOTHED_MM: f64 = 0.2;

fn grown(ring: &[P2], by: f64) -> MultiPolygon<f64> {
    if by <= 0.0 { polygon(ring).into() } else { polygon(ring).buffer(by) }
}

/// Eaten away by `by` and grown again by √2 times as much: a square corner comes back whole, what
/// is left of a neck is a stub of a fifth of its width. Mitred growing would bring corners back
/// as well, but throws spikes where an arc has short chords.
fn opened(region: &MultiPolygon<f64>, by: f64) -> MultiPolygon<f64> {
    if by <= 0.0 {
        return region.clone();
    }
    region.buffer(-by).buffer(std::f64::consts::SQRT_2 * by + CHORDS_MM).intersection(region)
}

/// What chords of arcs fall short of them, mm, at most, for necks of some hundred mm.
const CHORDS_MM: f64 = 1.0;

/// Cut in two across the sheet, through the middle of the first hole, a saw cut wide.
fn split(piece: &Polygon<f64>, kerf: f64) -> MultiPolygon<f64> {
    let (Some(all), Some(hole)) =
        (piece.bounding_rect(), piece.interiors().first().and_then(BoundingRect::bounding_rect))
    else {
        return MultiPolygon::new(Vec::new());
    };
    let at = hole.center().x;
    let half = (0.5 * kerf).max(0.01);
    let saw = Rect::new(
        Coord { x: at - half, y: all.min().y - 1.0 },
        Coord { x: at + half, y: all.max().y + 1.0 },
    );
    piece.difference(&saw.to_polygon())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::V2;
    use crate::stock::nest::Placed;
    use crate::stock::nest::problem::{Attitude, Hand, Part, Sheet, Supply, Turning};

    fn with_square(at: V2) -> (Problem, SheetLayout) {
        let ring = [(0.0, 0.0), (400.0, 0.0), (400.0, 400.0), (0.0, 400.0)];
        let problem = Problem {
            parts: vec![Part {
                name: "square".into(),
                outline: ring.map(|(x, y)| P2::new(x, y)).to_vec(),
                count: 1,
                hand: Hand::AsDrawn,
                turning: Turning::Fixed,
                grain: None,
            }],
            sheets: vec![Sheet::rectangle("ply", 2000.0, 1000.0, Supply::Bought)],
            kerf: 4.0,
        };
        let attitude = Attitude { mirrored: false, angle: 0.0 };
        let placed = vec![Placed::new(&problem, 0, 0, attitude, at)];
        (problem, SheetLayout { sheet: 0, placed })
    }

    /// A square in the corner leaves an L, worked by hand but for the rounded corner of the cut.
    #[test]
    fn an_l_is_left_of_a_sheet_with_a_square_in_its_corner() {
        let (problem, sheet) = with_square(V2::zeros());
        let left = offcuts(&problem, &sheet, Keep::default());
        assert_eq!(left.len(), 1, "{left:?}");
        assert!((left[0].area - (2e6 - 404.0 * 404.0)).abs() < 20.0, "{}", left[0].area);
    }

    /// In the middle it leaves a ring, which is cut in two.
    #[test]
    fn a_ring_is_cut_in_two() {
        let (problem, sheet) = with_square(V2::new(700.0, 300.0));
        let left = offcuts(&problem, &sheet, Keep::default());
        assert_eq!(left.len(), 2);
        let sum: f64 = left.iter().map(|o| o.area).sum();
        let by_hand = 2e6 - 408.0 * 408.0 - 4.0 * (1000.0 - 408.0);
        assert!((sum - by_hand).abs() < 50.0, "{sum} {by_hand}");
    }

    /// A strip of 90 mm beside a part is no offcut.
    #[test]
    fn narrow_strips_are_waste() {
        let (mut problem, _) = with_square(V2::zeros());
        problem.sheets[0] = Sheet::rectangle("piece", 494.0, 400.0, Supply::Bought);
        let attitude = Attitude { mirrored: false, angle: 0.0 };
        let placed = vec![Placed::new(&problem, 0, 0, attitude, V2::zeros())];
        assert!(offcuts(&problem, &SheetLayout { sheet: 0, placed }, Keep::default()).is_empty());
    }
}
