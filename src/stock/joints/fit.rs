//! Whether a piece lies within a sheet, turned as far as its grain allows.

use crate::geom::P2;
use crate::geom::polyline::bounds;
use crate::geom::region::hull_of;

/// What is left of a sheet for parts, mm: along and across its face grain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Along the grain that the panel asks along the boat, mm.
    pub length: f64,
    /// Across it, mm.
    pub width: f64,
}

impl std::fmt::Display for Room {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:.0} by {:.0} mm", self.length, self.width)
    }
}

/// How much a piece is over its sheet at the best angle, mm; 0 where it is not.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Excess {
    /// Along the sheet.
    pub length: f64,
    /// Across it.
    pub width: f64,
}

impl Excess {
    /// Nothing is over.
    pub fn none(self) -> bool {
        self.length <= ROOM_MM && self.width <= ROOM_MM
    }
}

/// A piece may be over its sheet by this, mm: what clipping rounds, not wood.
pub(super) const ROOM_MM: f64 = 1e-3;
/// Between the angles of the hull's own edges it is turned by steps of this, radians.
const STEP: f64 = 0.5 * std::f64::consts::PI / 180.0;

/// The angle (radians, anticlockwise) by which the shape of these points is turned to lie in
/// `room`, at most `within` either way and the least that does; or how much it is over at the
/// best of them.
///
/// Extents are least where an edge of the convex hull is level, so those angles are tried
/// besides even steps; a fit at a single angle between steps may be missed.
pub(super) fn fits(points: &[P2], room: Room, within: f64) -> Result<f64, Excess> {
    let over = |corners: &[P2], angle: f64| -> Excess {
        let (sin, cos) = angle.sin_cos();
        let turned = corners.iter().map(|p| P2::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y));
        bounds(turned).map_or(Excess::default(), |(low, high)| Excess {
            length: (high.x - low.x - room.length).max(0.0),
            width: (high.y - low.y - room.width).max(0.0),
        })
    };
    let straight = over(points, 0.0);
    if straight.none() {
        return Ok(0.0);
    }
    let hull = hull_of(points);
    let mut best = (straight, 0.0);
    for angle in angles(&hull, within) {
        let e = over(&hull, angle);
        if e.none() {
            return Ok(angle);
        }
        if e.length + e.width < best.0.length + best.0.width {
            best = (e, angle);
        }
    }
    Err(best.0)
}

/// Angles to try, the least first.
fn angles(hull: &[P2], within: f64) -> Vec<f64> {
    let n = hull.len();
    let quarter = std::f64::consts::FRAC_PI_2;
    let edges = (0..n).map(|i| hull[(i + 1) % n] - hull[i]).map(|e| {
        let a = -e.y.atan2(e.x);
        a - (a / quarter).round() * quarter
    });
    let steps = (within / STEP).floor() as i32;
    let even = (-steps..=steps).map(|k| f64::from(k) * STEP);
    let mut all: Vec<f64> = even.chain(edges).chain([-within, within]).collect();
    all.retain(|a| a.abs() <= within + 1e-12);
    all.sort_by(|a, b| a.abs().total_cmp(&b.abs()).then(a.total_cmp(b)));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(length: f64, width: f64, turned: f64) -> Vec<P2> {
        let (sin, cos) = turned.sin_cos();
        [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
            .map(|(x, y)| P2::new(cos * x - sin * y, sin * x + cos * y))
            .to_vec()
    }

    #[test]
    fn a_slanting_board_is_turned_back_and_no_further_than_its_grain_allows() {
        let room = Room { length: 2400.0, width: 300.0 };
        let board = rectangle(2390.0, 290.0, 0.1);
        let angle = fits(&board, room, 0.2).expect("it fits straight");
        assert!((angle + 0.1).abs() < 0.01, "{angle}");
        let over = fits(&board, room, 0.02).expect_err("not so far");
        // Turned by 0.02 it still slants by 0.08.
        let (sin, cos) = 0.08f64.sin_cos();
        assert!((over.width - (2390.0 * sin + 290.0 * cos - 300.0)).abs() < 1.0, "{over:?}");
    }

    #[test]
    fn what_is_too_long_says_by_how_much() {
        let room = Room { length: 2400.0, width: 1200.0 };
        let over = fits(&rectangle(2500.0, 1200.0, 0.0), room, 0.0).expect_err("too long");
        assert!((over.length - 100.0).abs() < 1e-9 && over.width == 0.0);
        assert_eq!(fits(&rectangle(2400.0, 1200.0, 0.0), room, 0.0), Ok(0.0));
    }
}
