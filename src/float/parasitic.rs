//! What air and the motor's leg take, beside the bare hull.
//!
//! Sources, from memory: Hoerner, *Fluid-Dynamic Drag* (1965): a strut's drag by its wetted
//! area, 2 C_F (1 + 2 t/c + 60 (t/c)⁴) on one face, its spray 0.24 t² of the stagnation
//! pressure where it pierces the surface, a body of revolution's C_F (1 + 1.5 (d/l)^1.5 +
//! 7 (d/l)³). Sizes of legs and of people: common practice, no source.

use super::planing::plate_friction;

/// Air at 15 °C, kg/m³, and the drag coefficient of an open boat with people in it, over the
/// area that meets the wind.
const AIR: f64 = 1.225;
const AIR_DRAG: f64 = 0.8;
/// What someone seated shows above the sheer, m².
pub const SEATED_M2: f64 = 0.35;

/// A motor's leg at 10 hp, m: wetted depth, chord and thickness of the strut; length and
/// diameter of the gear case. All grow with the cube root of power.
const STRUT: [f64; 3] = [0.17, 0.13, 0.035];
const CASE: [f64; 2] = [0.33, 0.075];
const SIZED_AT_KW: f64 = 7.457;

/// What meets air and water beside the hull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// Area that meets the air, m².
    pub air: f64,
    /// The motor's power, kW: how large its leg is; nothing without one.
    pub motor: f64,
}

impl Beside {
    /// Drag (N) of air, with none blowing, and of the leg, at a speed (m/s) in water of this
    /// density (kg/m³) and kinematic viscosity (m²/s).
    pub fn drag(&self, speed: f64, density: f64, viscosity: f64) -> [f64; 2] {
        let air = 0.5 * AIR * speed * speed * AIR_DRAG * self.air;
        [air, if self.motor > 0.0 { self.leg(speed, density, viscosity) } else { 0.0 }]
    }

    fn leg(&self, speed: f64, density: f64, viscosity: f64) -> f64 {
        let size = (self.motor / SIZED_AT_KW).cbrt();
        let [depth, chord, thick] = STRUT.map(|l| size * l);
        let [long, across] = CASE.map(|l| size * l);
        let friction = |l: f64| plate_friction((speed * l / viscosity).max(LEAST_REYNOLDS));
        let slim = thick / chord;
        let strut =
            2.0 * friction(chord) * (1.0 + 2.0 * slim + 60.0 * slim.powi(4)) * depth * chord;
        let spray = 0.24 * thick * thick;
        let stout = across / long;
        let case = friction(long)
            * (1.0 + 1.5 * stout.powf(1.5) + 7.0 * stout.powi(3))
            * std::f64::consts::PI
            * across
            * long;
        0.5 * density * speed * speed * (strut + spray + case)
    }
}

/// Under this Reynolds number the friction line is not followed. Far below any speed told.
const LEAST_REYNOLDS: f64 = 1e4;

#[cfg(test)]
mod tests {
    use super::*;

    /// 5 m/s by hand: air 0.5 · 1.225 · 25 · 0.8 · 1 = 12.25 N. The leg at 10 hp: a strut of
    /// 0.17 · 0.13 m at Re 5.70e5, C_F 0.004925, with 1 + 0.53846 + 0.31525; spray 0.24 ·
    /// 0.035²; a case of π · 0.075 · 0.33 m² at Re 1.447e6, C_F 0.004111, with 1 + 0.16252 +
    /// 0.08217.
    #[test]
    fn air_and_leg_by_hand() {
        let beside = Beside { air: 1.0, motor: SIZED_AT_KW };
        let [air, leg] = beside.drag(5.0, 1000.0, 1.14e-6);
        assert!((air - 12.25).abs() < 1e-12);
        let (strut, spray) = (2.0 * 0.004_925 * 1.853_71 * 0.17 * 0.13, 0.24 * 0.035 * 0.035);
        let case = 0.004_111 * 1.244_69 * std::f64::consts::PI * 0.075 * 0.33;
        let want = 12_500.0 * (strut + spray + case);
        assert!((leg / want - 1.0).abs() < 1e-3, "{leg} {want}");
        assert_eq!(Beside { motor: 0.0, ..beside }.drag(5.0, 1000.0, 1.14e-6)[1], 0.0);
        // An eighth of the power is a leg of half the size: about a quarter of the drag.
        let small = Beside { motor: SIZED_AT_KW / 8.0, ..beside }.drag(5.0, 1000.0, 1.14e-6)[1];
        assert!(small > 0.24 * leg && small < 0.32 * leg, "{small} {leg}");
    }
}
