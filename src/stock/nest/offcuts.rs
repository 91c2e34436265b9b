//! What is left of a sheet, and which pieces are worth keeping.

use geo::algorithm::buffer::Buffer;
use geo::{
    Area, BooleanOps, BoundingRect, Coord, Distance, Euclidean, Intersects, LineString,
    MultiPolygon, Polygon, Rect,
};
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

/// The pieces of a sheet that are worth keeping once its parts are cut out and it is sawn along
/// the paths `straight`, the largest first.
///
/// A saw cut is taken off around every part and along every path. Where what is left is narrower
/// than [`Keep::least_width`] it is parted, so that an offcut is one piece that may be lifted, and
/// a piece with a hole in it is cut in two through the hole, across the sheet, as nobody stores a
/// hole.
pub fn offcuts(
    problem: &Problem,
    sheet: &SheetLayout,
    keep: Keep,
    straight: &[Vec<P2>],
) -> Vec<Offcut> {
    let stock = &problem.sheets[sheet.sheet];
    let cut_out = sheet.placed.iter().map(|p| grown(&p.outline, problem.kerf));
    let sawn = straight.iter().map(|path| {
        let line: LineString<f64> = path.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
        line.buffer(0.5 * problem.kerf.max(LEAST_CUT_MM))
    });
    let gone: Vec<Polygon<f64>> = cut_out.chain(sawn).flat_map(|m| m.0).collect();
    let left = polygon(&stock.outline).difference(&geo::unary_union(&gone));
    let mut pieces = usable(&left, keep, problem.kerf);
    let mut found = Vec::new();
    while let Some(piece) = pieces.pop() {
        if piece.unsigned_area() < keep.least_area {
            continue;
        }
        if piece.interiors().is_empty() {
            found.push(piece);
        } else {
            pieces.extend(usable(&split(&piece, problem.kerf), keep, problem.kerf));
        }
    }
    let mut offcuts: Vec<Offcut> = found
        .iter()
        .flat_map(|p| {
            let ring: Vec<P2> = p.exterior().0.iter().skip(1).map(|c| P2::new(c.x, c.y)).collect();
            Region::of(&super::form::thinned(&ring, SMOOTHED_MM)).rings()
        })
        .map(|outline| Offcut { area: area(&outline).abs(), outline })
        .filter(|o| o.area >= keep.least_area)
        .collect();
    offcuts.sort_by(|a, b| b.area.total_cmp(&a.area));
    offcuts
}

/// A cut of no width parts a piece all the same: it is taken to be this wide, mm.
const LEAST_CUT_MM: f64 = 0.1;

/// Outlines of offcuts are smoothed by this, mm: they are sawn by eye.
const SMOOTHED_MM: f64 = 0.2;

fn grown(ring: &[P2], by: f64) -> MultiPolygon<f64> {
    if by <= 0.0 { polygon(ring).into() } else { polygon(ring).buffer(by) }
}

/// The pieces of a region that hang together by no less than the least width: what is left of it
/// when it is eaten away by half of that, each piece grown again by √2 times as much, as far as
/// the region reaches. A square corner comes back whole, what is left of a neck is a stub of a
/// fifth of its width. Mitred growing would bring corners back as well, but throws spikes where
/// an arc has short chords.
fn usable(region: &MultiPolygon<f64>, keep: Keep, kerf: f64) -> Vec<Polygon<f64>> {
    let half = 0.5 * keep.least_width;
    if half <= 0.0 {
        return region.0.clone();
    }
    let reach = std::f64::consts::SQRT_2 * half + CHORDS_MM;
    let mut cores = region.buffer(-half).0;
    cores.sort_by(|a, b| b.unsigned_area().total_cmp(&a.unsigned_area()));
    let mut out: Vec<Polygon<f64>> = Vec::new();
    for (i, core) in cores.iter().enumerate() {
        let mut own = core.buffer(reach).intersection(region);
        // Between two pieces the saw goes through the narrowest place, or nearly.
        for (k, other) in cores.iter().enumerate().filter(|(k, _)| *k != i) {
            let apart = Euclidean.distance(core, other);
            if apart < 2.0 * reach {
                own = own.difference(&other.buffer((0.5 * apart).min(reach)));
            }
            if let Some(before) = out.get(k).filter(|_| k < i) {
                own = own.difference(&before.buffer(kerf.max(LEAST_CUT_MM)));
            }
        }
        // What the growing reached behind a part or a cut belongs to another piece, or is waste.
        let hangs = |p: &&Polygon<f64>| p.intersects(core);
        let largest =
            own.iter().filter(hangs).max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
        // Its place is kept even where nothing is left of it: others are found by it.
        out.push(largest.cloned().unwrap_or_else(|| core.clone()));
    }
    out
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
        let left = offcuts(&problem, &sheet, Keep::default(), &[]);
        assert_eq!(left.len(), 1, "{left:?}");
        assert!((left[0].area - (2e6 - 404.0 * 404.0)).abs() < 20.0, "{}", left[0].area);
    }

    /// In the middle it leaves a ring, which is cut in two.
    #[test]
    fn a_ring_is_cut_in_two() {
        let (problem, sheet) = with_square(V2::new(700.0, 300.0));
        let left = offcuts(&problem, &sheet, Keep::default(), &[]);
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
        let sheet = SheetLayout { sheet: 0, placed };
        assert!(offcuts(&problem, &sheet, Keep::default(), &[]).is_empty());
    }

    /// Two pieces of wood that a part leaves joined by a neck are two offcuts, each in one piece,
    /// whether the neck is half a millimetre wide or 90 mm; at 110 mm they are one.
    #[test]
    fn a_neck_parts_two_offcuts() {
        for (neck, pieces) in [(0.5, 2), (90.0, 2), (110.0, 1)] {
            let (mut problem, sheet) = with_square(V2::zeros());
            // Over the square, its cut and the neck; right and left of it wood is left.
            problem.sheets[0] = Sheet::rectangle("ply", 2000.0, 404.0 + neck, Supply::Bought);
            let mut sheet = sheet;
            let attitude = Attitude { mirrored: false, angle: 0.0 };
            sheet.placed = vec![Placed::new(&problem, 0, 0, attitude, V2::new(800.0, 0.0))];
            let left = offcuts(&problem, &sheet, Keep::default(), &[]);
            assert_eq!(left.len(), pieces, "{neck}");
            let sum: f64 = left.iter().map(|o| o.area).sum();
            let high = 404.0 + neck;
            let sides = 2000.0 * high - 408.0 * high;
            // Each may end in a stub of the neck; corners of the cut are round.
            assert!(
                sum > sides - 1.0 && sum < sides + 408.0 * neck + 10.0,
                "{neck}: {sum} {sides}"
            );
            for o in &left {
                let eaten = Region::of(&o.outline).grown(-0.5 * (neck.min(99.0) + 0.5));
                assert_eq!(eaten.rings().len(), 1, "{neck}: in one piece");
            }
        }
    }

    /// A straight cut that ends half a millimetre before the edge parts the wood all the same.
    #[test]
    fn a_cut_that_ends_short_of_the_edge_parts() {
        let (mut problem, mut sheet) = with_square(V2::zeros());
        sheet.placed.clear();
        problem.sheets[0] = Sheet::rectangle("ply", 2000.0, 500.0, Supply::Bought);
        let cut = [P2::new(700.0, 0.0), P2::new(700.0, 497.5)].to_vec();
        let left = offcuts(&problem, &sheet, Keep::default(), &[cut]);
        assert_eq!(left.len(), 2, "{left:?}");
        let by_hand = [1298.0 * 500.0, 698.0 * 500.0];
        for (o, area) in left.iter().zip(by_hand) {
            assert!((o.area - area).abs() < 10.0, "{} for {area}", o.area);
        }
    }
}
