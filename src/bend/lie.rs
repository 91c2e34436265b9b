//! Where a stick lies: its section at any place of its line, the one record that weights,
//! solids, notches, cut ends, drawings and the stage are worked from.
//!
//! Square to its line a stick has its width up the skin and its depth against the skin's
//! normal. It begins at its seat: on the line; where the corner that a chine log lies in opens
//! past a right angle, so far below the line that planing its edge flush with the other panel
//! only removes wood ([`crate::flat::laps`] says how open it is); of a stick outside, where the
//! planking's outer face ends ([`crate::flat::outside`]).

use super::darboux::normal_at;
use super::member::{Along, BentMember};
use crate::geom::{P3, V3, unit};
use crate::hull::{HullLine, MemberSide};
use crate::part::LineId;

/// The share of a stick's width that it may be let down past its line: the rest bears on
/// its panel. Common practice, no source.
pub const MOST_LET_DOWN: f64 = 0.6;

/// How far (mm) a stick is let down along a line where the corner opens by `open` (a tangent).
pub fn let_down(open: f64, moulded: f64, sided: f64) -> f64 {
    (moulded * open).clamp(0.0, MOST_LET_DOWN * sided)
}

/// A stick's section at one place, starboard side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// Where its line passes, mm.
    pub point: P3,
    /// Where the section begins, on the face that lies on the skin, mm: the edge that is its
    /// line's, of a keelson or batten its middle.
    pub seat: P3,
    /// Unit tangent of the line, aft.
    pub tangent: V3,
    /// The skin's outward unit normal.
    pub outward: V3,
    /// Unit vector up the skin, square to both; to starboard on a level bottom.
    pub up: V3,
    /// From and to (mm) along `up` from its seat, from the side of its line on: up from a
    /// chine, down from the sheer, both ways from keel and battens.
    pub spread: [f64; 2],
    /// From and to (mm) along `outward` from its seat: from the skin on, into the boat, or away
    /// from her for a stick outside.
    pub deep: [f64; 2],
    /// Twist of the stick, radians per mm.
    pub twist: f64,
    /// How far it is let down past its line, mm.
    pub let_down: f64,
    /// How far it would have to be so that planing only removes wood, mm; more than it is where
    /// too little of it would bear on its own panel.
    pub wanted_let_down: f64,
}

impl Lie {
    /// A place `width` mm up the skin and `depth` mm outward from the seat.
    pub fn place(&self, width: f64, depth: f64) -> P3 {
        self.seat + width * self.up + depth * self.outward
    }

    /// Corners of the face that lies on the skin, then of the other, each from the line's side
    /// on: first, last, last, first.
    pub fn faces(&self) -> [P3; 4] {
        let ([from, to], [skin, far]) = (self.spread, self.deep);
        [(from, skin), (to, skin), (to, far), (from, far)].map(|(w, d)| self.place(w, d))
    }

    /// The middle of the section.
    pub fn middle(&self) -> P3 {
        let ([from, to], [skin, far]) = (self.spread, self.deep);
        self.place(0.5 * (from + to), 0.5 * (skin + far))
    }
}

impl BentMember {
    /// Where it lies where `line`, the one that it follows, has the parameter `t`: exact on the
    /// line, the skin's normal blended between the places at which it is known. `None` where the
    /// line stands still.
    pub fn lie(&self, line: &HullLine, t: f64) -> Option<Lie> {
        let jet = line.spline.jet(t);
        let tangent = unit(jet.d1)?;
        let at = line.arc.length_at(&line.spline, t);
        let normals = self.along.iter().map(|a| (a.at, a.outward)).collect();
        let n = normal_at(&normals, at);
        let outward = unit(n - n.dot(&tangent) * tangent)?;
        let up = if line.is(LineId::Keel) { V3::y() } else { tangent.cross(&outward) };
        let wanted_let_down = self.wanted_let_down(at);
        let let_down = self.let_down(at);
        let out = match self.member.side {
            MemberSide::Inside => -let_down * up,
            MemberSide::Outside => self.blended(at, |a| a.seat - a.point, V3::zeros()),
        };
        let ([low, high], [inner, outer]) = (self.width(), self.depth());
        Some(Lie {
            point: jet.p,
            seat: jet.p + out,
            tangent,
            outward,
            up,
            spread: if self.member.follows(LineId::Sheer) { [high, low] } else { [low, high] },
            deep: match self.member.side {
                MemberSide::Inside => [outer, inner],
                MemberSide::Outside => [inner, outer],
            },
            twist: self.blended(at, |a| a.twist, 0.0),
            let_down,
            wanted_let_down,
        })
    }

    /// How far (mm) it is let down past its line, `at` mm along it.
    pub fn let_down(&self, at: f64) -> f64 {
        let m = &self.member;
        let_down(self.open_at(at), m.moulded_mm, m.sided_mm)
    }

    /// How far (mm) it would have to be let down there so that planing only removes wood.
    fn wanted_let_down(&self, at: f64) -> f64 {
        (self.member.moulded_mm * self.open_at(at)).max(0.0)
    }

    /// How open the corner is that it lies in, `at` mm along its line.
    fn open_at(&self, at: f64) -> f64 {
        let i = self.open.partition_point(|o| o.0 <= at);
        match (i.checked_sub(1).map(|k| self.open[k]), self.open.get(i).copied()) {
            (Some((s, a)), Some((t, b))) => a + (at - s) / (t - s) * (b - a),
            (Some((_, open)), None) | (None, Some((_, open))) => open,
            (None, None) => 0.0,
        }
    }

    /// A measure of its places, blended between the two beside `at`; `none` past its end.
    fn blended<T>(&self, at: f64, of: impl Fn(&Along) -> T, none: T) -> T
    where
        T: Copy + std::ops::Add<Output = T> + std::ops::Sub<Output = T>,
        f64: std::ops::Mul<T, Output = T>,
    {
        self.along.windows(2).find(|w| w[1].at >= at).map_or(none, |w| {
            let share = (at - w[0].at) / (w[1].at - w[0].at).max(1e-9);
            of(&w[0]) + share * (of(&w[1]) - of(&w[0]))
        })
    }
}
