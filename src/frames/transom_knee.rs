//! The knee behind a motor's transom: a bracket in the centreplane that stands on the keelson
//! and against the clamps' pad, and takes what the motor does to the transom to the keelson.

use super::Transom;
use crate::geom::{P2, V2};
use crate::hull::{HullLine, KneePlan};

/// The knee ends this far (mm) below the clamps' seat, clear of their screws. Common
/// practice, no source.
const BELOW_SEAT_MM: f64 = 20.0;
/// Its arm along the keelson is this share of its height, within these bounds (mm), where the
/// plan does not say. Common practice, no source.
const ARM: f64 = 0.8;
const ARM_MM: [f64; 2] = [180.0, 450.0];
/// Depth of its head and of its toe, square to what they lie on, mm. Common practice, no
/// source.
const HEAD_MM: f64 = 60.0;
const TOE_MM: f64 = 40.0;
/// Left between its toe and the frame ahead of it, mm.
const OFF_FRAME_MM: f64 = 10.0;
/// Bolts stand this far from its ends, and at most so far apart, mm.
const FROM_END_MM: f64 = 40.0;
const APART_MM: f64 = 110.0;
/// How far a bolt reaches into the knee before its nut, mm. Common practice, no source.
pub const BOLT_IN_KNEE_MM: f64 = 70.0;
/// Washers under heads outside and under nuts inside the knee, mm across. Common practice, no
/// source.
pub const WASHERS_MM: [f64; 2] = [40.0, 30.0];
/// Between a bolt's end and the line of one that crosses its way, mm: three times an 8 mm
/// bolt's diameter. Common practice, no source.
const BOLTS_APART_MM: f64 = 24.0;
/// A knee lower than this (mm) is a block and no knee.
const LOWEST_MM: f64 = 80.0;

/// A knee, in the centreplane: x aft, y up, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Knee {
    /// Where its two arms meet: on the pad's inner face and the keelson's top.
    pub heel: P2,
    /// Unit vector up the transom.
    pub up: V2,
    /// Unit vector forward along the keelson's top.
    pub forward: V2,
    /// Length of the arm against the pad, mm.
    pub height: f64,
    /// Length of the arm on the keelson, mm.
    pub arm: f64,
    /// Width athwartships, mm.
    pub sided: f64,
    /// Its outline, from the heel on up the transom.
    pub outline: Vec<P2>,
    /// Bolts: where each passes the arm's face, through pad and transom first, then keelson.
    pub bolts: [Vec<P2>; 2],
    /// Height of the clamps' seat above the heel, up the transom, mm.
    pub seat: f64,
}

impl Knee {
    /// The knee behind `transom`, on a keelson `moulded` mm deep along `keel`; `frame_aft` is
    /// how far aft (mm) the last frame's wood reaches. `None` where none is wanted, there is
    /// no keelson to stand on, or no height for it.
    pub fn of(
        plan: &KneePlan,
        transom: &Transom,
        thickness: f64,
        keel: &HullLine,
        moulded: f64,
        frame_aft: Option<f64>,
    ) -> Option<Knee> {
        let c = transom.cut_out.filter(|_| plan.fitted && moulded > 0.0)?;
        let flat = |v: crate::geom::V3| V2::new(v.x, v.z);
        let (up, out) = (flat(transom.across.up), flat(transom.across.plane.normal));
        let origin = P2::new(transom.across.origin.x, transom.across.origin.z);
        let face = origin - (thickness + c.pad_thickness) * out;
        let (end, jet) = (keel.spline.end(), keel.spline.jet(keel.spline.end()));
        let aft = V2::new(jet.d1.x, jet.d1.z).try_normalize(1e-9)?;
        let inward = V2::new(-aft.y, aft.x);
        let last = keel.spline.at(end);
        let top = P2::new(last.x, last.z) + moulded * inward;
        // face + v up = top − s aft.
        let turn = up.perp(&aft);
        if turn.abs() < 1e-6 {
            return None;
        }
        let v = (top - face).perp(&aft) / turn;
        let heel = face + v * up;
        let seat = c.seat - v;
        let height = seat - BELOW_SEAT_MM;
        if height < LOWEST_MM {
            return None;
        }
        let wished = if plan.arm_mm > 0.0 { plan.arm_mm } else { ARM * height };
        let room = frame_aft.map_or(f64::INFINITY, |x| (heel.x - x - OFF_FRAME_MM) / aft.x);
        let bounded = if plan.arm_mm > 0.0 { wished } else { wished.clamp(ARM_MM[0], ARM_MM[1]) };
        let arm = bounded.min(room);
        if arm < LOWEST_MM {
            return None;
        }
        let forward = -aft;
        let outline = vec![
            heel,
            heel + height * up,
            heel + height * up - HEAD_MM.min(0.5 * arm) * out,
            heel + arm * forward + TOE_MM.min(0.5 * height) * inward,
            heel + arm * forward,
        ];
        let along = |way: V2, length: f64| -> Vec<P2> {
            let run = length - 2.0 * FROM_END_MM;
            let gaps = (run / APART_MM).ceil().max(1.0);
            (0..=gaps as usize)
                .map(|i| heel + (FROM_END_MM + run * i as f64 / gaps) * way)
                .collect()
        };
        // Bolts through the keelson stand ahead of where those through the transom end.
        let clear = (BOLT_IN_KNEE_MM + BOLTS_APART_MM).min(0.6 * arm).max(FROM_END_MM);
        let lower = (0..=1)
            .map(|i| heel + (clear + (arm - FROM_END_MM - clear).max(0.0) * f64::from(i)) * forward)
            .collect();
        let bolts = [along(up, height), lower];
        Some(Knee { heel, up, forward, height, arm, sided: plan.sided_mm, outline, bolts, seat })
    }

    /// Depth of the knee square to the transom, `above` mm up it from the heel.
    pub fn depth(&self, above: f64) -> f64 {
        let square = V2::new(-self.up.y, self.up.x);
        let square = if square.dot(&self.forward) < 0.0 { -square } else { square };
        let (head, toe) = (self.outline[2] - self.heel, self.outline[3] - self.heel);
        let (h, t) = (head.dot(&self.up), toe.dot(&self.up));
        if above <= t {
            return toe.dot(&square);
        }
        let share = ((above - t) / (h - t).max(1e-9)).clamp(0.0, 1.0);
        toe.dot(&square) + share * (head.dot(&square) - toe.dot(&square))
    }

    /// Volume, mm³.
    pub fn volume(&self) -> f64 {
        crate::geom::polyline::area(&self.outline).abs() * self.sided
    }

    /// Board that it is sawn from, its grain from head to toe: width and length, mm.
    pub fn board(&self) -> (f64, f64) {
        let grain = (self.outline[3] - self.outline[2]).normalize();
        let extent = |way: V2| super::pieces::extent(&self.outline, way);
        (extent(V2::new(-grain.y, grain.x)), extent(grain))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An upright corner with a knee 300 high and 240 long: depth at foot, half way and head
    /// by proportion, area by triangles, all by hand.
    #[test]
    fn depths_and_volume_by_hand() {
        let (up, forward) = (V2::y(), -V2::x());
        let p = |x: f64, y: f64| P2::new(x, y);
        let outline =
            vec![p(0.0, 0.0), p(0.0, 300.0), p(-60.0, 300.0), p(-240.0, 40.0), p(-240.0, 0.0)];
        let knee = Knee {
            heel: p(0.0, 0.0),
            up,
            forward,
            height: 300.0,
            arm: 240.0,
            sided: 38.0,
            outline,
            bolts: [Vec::new(), Vec::new()],
            seat: 320.0,
        };
        assert!((knee.depth(0.0) - 240.0).abs() < 1e-9);
        assert!((knee.depth(170.0) - 150.0).abs() < 1e-9, "{}", knee.depth(170.0));
        assert!((knee.depth(300.0) - 60.0).abs() < 1e-9);
        // 40 of full width and a trapezium of 240 and 60 over 260.
        let area = 40.0 * 240.0 + 0.5 * (240.0 + 60.0) * 260.0;
        assert!((knee.volume() - 38.0 * area).abs() < 1e-6);
    }

    /// No bolt through the transom comes nearer to one through the keelson than three times
    /// its diameter.
    #[test]
    fn bolts_do_not_meet_inside_the_knee() {
        for starter in crate::hull::starters::STARTERS {
            let materials = crate::material::Materials::shipped();
            let model = crate::model::derive(&starter.hull(), &materials).expect("a starter");
            let Some(k) = &model.woodwork.knee else { continue };
            let inward = |face: V2, way: V2| {
                let square = V2::new(-face.y, face.x);
                if square.dot(&way) < 0.0 { -square } else { square }
            };
            let (a, b) = (inward(k.up, k.forward), inward(k.forward, k.up));
            for p in &k.bolts[0] {
                for q in &k.bolts[1] {
                    let nearest = (0..=70)
                        .flat_map(|i| (0..=70).map(move |j| (f64::from(i), f64::from(j))))
                        .map(|(i, j)| ((p + i * a) - (q + j * b)).norm())
                        .fold(f64::INFINITY, f64::min);
                    assert!(nearest > 20.0, "{}: {nearest:.1} mm apart", starter.name);
                }
            }
        }
    }
}
