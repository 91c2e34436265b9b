//! Diagonals that a tape can check, and nothing that needs more than a tape and a level.

use super::strongback::Corner;
use crate::geom::P3;
use crate::part::LineId;

/// What to tape on one frame. All by Pythagoras; port and starboard must agree.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagonals {
    /// From the lowest chine on one side to the sheer on the other: squares the frame up
    /// while its pieces are joined, mm. `None` where it has no bottom.
    pub across: Option<f64>,
    /// From the keel to the sheer on either side, mm.
    pub keel_to_sheer: Option<f64>,
    /// From the stem's head (or the middle of the bow transom's top) to either end of the
    /// spall on the level line: stands the frame square to the centreline, mm.
    pub from_stem: Option<f64>,
}

/// The diagonals of a frame at `x`, its spall's end at `spall_half` on height `level`.
pub fn of_frame(
    corners: &[Corner],
    x: f64,
    spall_half: f64,
    level: f64,
    stem_head: Option<P3>,
) -> Diagonals {
    let sheer = corners.last().filter(|c| c.line == LineId::Sheer);
    let keel = corners.first().filter(|c| c.line == LineId::Keel);
    let chine = corners.iter().find(|c| c.line.is_chine());
    let tape = |a: &Corner, b: &Corner, way: f64| {
        (way * a.half_breadth - b.half_breadth).hypot(a.height - b.height)
    };
    Diagonals {
        across: sheer.zip(chine).map(|(s, c)| tape(c, s, -1.0)),
        keel_to_sheer: sheer.zip(keel).map(|(s, k)| tape(k, s, 1.0)),
        from_stem: stem_head.map(|h| (P3::new(x, spall_half, level) - h).norm()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn corner(line: LineId, half_breadth: f64, height: f64) -> Corner {
        Corner { line, half_breadth, height, above_floor: 1000.0 - height }
    }

    /// Three-four-five and five-twelve-thirteen, by hand.
    #[test]
    fn diagonals_by_hand() {
        let corners = [
            corner(LineId::Keel, 0.0, 0.0),
            corner(LineId::Chine, 500.0, 0.0),
            corner(LineId::Sheer, 700.0, 500.0),
        ];
        let d = of_frame(&corners, 1200.0, 300.0, 400.0, Some(P3::new(0.0, 0.0, 400.0)));
        assert!((d.across.expect("a chine") - 1300.0).abs() < 1e-9);
        assert!((d.from_stem.expect("a stem") - 1200f64.hypot(300.0)).abs() < 1e-9);
        assert!((d.keel_to_sheer.expect("a keel") - 700f64.hypot(500.0)).abs() < 1e-9);
    }
}
