//! From millimetres on a sheet to the points of a window that show them.

use bevy_egui::egui::{Pos2, Rect, pos2};

use crate::geom::P2;
use crate::geom::homography::Homography;
use crate::viewer::prefs::Calibration;
use crate::viewer::state::table::FullSize;

/// Pixels a mm before any check: 96 an inch, the screens' common convention.
pub const UNCHECKED_PX_PER_MM: f64 = 96.0 / 25.4;

/// From mm on the sheet to points of a window.
pub enum Throw {
    /// Square-on: points a mm, from the window's lower left corner up.
    Straight {
        /// Points for each mm.
        scale: f64,
        /// The window's lower left corner.
        corner: Pos2,
    },
    /// Through four corners.
    Slanted(Homography),
}

impl Throw {
    /// As the calibration says, in a window of which a point is `px` pixels.
    pub fn of(c: &Calibration, window: Rect, px: f64) -> Throw {
        let slanted = c.corners.and_then(|corners| {
            let [w, h] = c.rectangle_mm;
            let sheet = [P2::new(0.0, 0.0), P2::new(w, 0.0), P2::new(w, h), P2::new(0.0, h)];
            Homography::of(sheet, corners.map(|s| at_share(window, s)))
        });
        slanted.map(Throw::Slanted).unwrap_or_else(|| {
            let known = if c.px_per_mm > 0.0 { c.px_per_mm } else { UNCHECKED_PX_PER_MM };
            Throw::Straight { scale: known / px, corner: window.left_bottom() }
        })
    }

    /// How much of the sheet is shown upward, mm.
    pub fn height(&self, c: &Calibration, window: Rect) -> f64 {
        match self {
            Throw::Straight { scale, .. } => f64::from(window.height()) / scale,
            Throw::Slanted(_) => c.rectangle_mm[1],
        }
    }

    /// Where a place of the sheet (mm) is shown.
    pub fn place(&self, p: P2) -> Option<Pos2> {
        match self {
            Throw::Straight { scale, corner } => {
                Some(pos2(corner.x + (p.x * scale) as f32, corner.y - (p.y * scale) as f32))
            }
            Throw::Slanted(h) => h.apply(p).map(|q| pos2(q.x as f32, q.y as f32)),
        }
    }
}

/// A place of the window given in shares of it, from its lower left corner.
pub(crate) fn at_share(window: Rect, s: [f64; 2]) -> P2 {
    let (w, h) = (f64::from(window.width()), f64::from(window.height()));
    P2::new(f64::from(window.min.x) + s[0] * w, f64::from(window.max.y) - s[1] * h)
}

/// The shares of the window at a place of it.
pub(crate) fn share_of(window: Rect, p: Pos2) -> [f64; 2] {
    let s = (p - window.left_bottom()) / window.size();
    [f64::from(s.x), f64::from(-s.y)]
}

/// A pattern point laid on the sheet: turned over, turned, shifted.
pub fn laid(full: &FullSize, low: P2, p: P2) -> P2 {
    let p = if full.over { P2::new(-p.x, p.y) } else { p };
    let p = match full.turns % 4 {
        0 => p,
        1 => P2::new(-p.y, p.x),
        2 => P2::new(-p.x, -p.y),
        _ => P2::new(p.y, -p.x),
    };
    P2::new(p.x - low.x, p.y - low.y)
}

#[cfg(test)]
mod tests {
    use super::*;

    const WINDOW: Rect = Rect { min: Pos2::ZERO, max: Pos2::new(1280.0, 800.0) };

    #[test]
    fn a_hundred_millimetres_are_as_many_pixels_as_the_ruler_said() {
        let c = Calibration { px_per_mm: 3.6, ..Default::default() };
        // On a dense screen a point is two pixels.
        let t = Throw::of(&c, WINDOW, 2.0);
        let (a, b) = (P2::new(50.0, 20.0), P2::new(150.0, 20.0));
        let run = t.place(b).expect("in sight") - t.place(a).expect("in sight");
        assert!((f64::from(run.length()) * 2.0 - 360.0).abs() < 1e-3, "{run:?}");
    }

    #[test]
    fn the_rectangle_s_corners_are_shown_where_they_were_dragged() {
        let corners = [[0.1, 0.2], [0.9, 0.25], [0.8, 0.7], [0.2, 0.8]];
        let c =
            Calibration { corners: Some(corners), rectangle_mm: [1000.0, 500.0], px_per_mm: 9.0 };
        let t = Throw::of(&c, WINDOW, 1.0);
        for (p, s) in [(P2::new(0.0, 0.0), corners[0]), (P2::new(1000.0, 500.0), corners[2])] {
            let (found, asked) = (t.place(p).expect("in sight"), at_share(WINDOW, s));
            let off = (f64::from(found.x) - asked.x).abs() + (f64::from(found.y) - asked.y).abs();
            assert!(off < 1e-2, "{found:?} {asked}");
            assert!((share_of(WINDOW, found)[0] - s[0]).abs() < 1e-5);
        }
    }

    #[test]
    fn turning_over_and_round_keeps_distances() {
        let (p, q) = (P2::new(120.0, 30.0), P2::new(-40.0, 410.0));
        for turns in 0..4 {
            for over in [false, true] {
                let full = FullSize { turns, over, ..Default::default() };
                let d = laid(&full, P2::new(5.0, 7.0), p) - laid(&full, P2::new(5.0, 7.0), q);
                assert!((d.norm() - (p - q).norm()).abs() < 1e-9);
            }
        }
    }
}
