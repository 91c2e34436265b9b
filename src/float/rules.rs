//! Simple rules of speed and power, and the chart of porpoising.
//!
//! Sources: *Propeller Handbook* (International Marine, 1989), from memory, for two of them:
//! while she floats, speed in knots over the root of the waterline in feet is 10.665 over the
//! cube root of pounds a horsepower (its displacement formula); planing, speed in knots is 150,
//! for an average runabout, over the root of pounds a horsepower (Crouch's formula in its
//! planing table). The wave as long as the waterline: V = √(g L / 2π).

use super::planing::GRAVITY;
use crate::units::KG_PER_POUND;

/// Metres a second in a knot.
pub const KNOT: f64 = 1852.0 / 3600.0;
/// Watts in a horsepower of 550 ft·lbf/s.
pub const HORSEPOWER: f64 = 745.699_871_582;
/// Feet in a metre.
const FEET: f64 = 1.0 / 0.3048;

/// Power at the hull over power at the shaft, of a small outboard's propeller. Common
/// practice, no source: 0.45 to 0.55.
pub const EFFICIENCY: f64 = 0.5;
/// Speed of an average runabout that has a horsepower for each pound, knots.
pub const RUNABOUT: f64 = 150.0;

/// Speed (kn) of a wave as long as a waterline of `length` m.
pub fn hull_speed(length: f64) -> f64 {
    (GRAVITY * length / std::f64::consts::TAU).sqrt() / KNOT
}

/// Shaft power (kW) while she floats at `speed` kn, for `mass` kg on a waterline of
/// `length` m.
pub fn displacement_power(speed: f64, mass: f64, length: f64) -> f64 {
    let ratio = speed / (length * FEET).sqrt();
    mass / KG_PER_POUND * (ratio / 10.665).powi(3) * HORSEPOWER / 1000.0
}

/// Speed (kn) that an average runabout of `mass` kg reaches with `power` kW at the shaft.
pub fn runabout_speed(power: f64, mass: f64) -> f64 {
    RUNABOUT * (power * 1000.0 / HORSEPOWER / (mass / KG_PER_POUND)).sqrt()
}

/// √(C_L / 2) of the porpoising chart's columns.
pub(super) const CHART_ROOTS: [f64; 4] = [0.15, 0.20, 0.25, 0.30];

/// Trim (degrees) above which a prism of this deadrise (degrees) may porpoise, over
/// √(C_L / 2); `None` outside 0.15 to 0.30 and 0 to 20°.
///
/// Read off the chart of Savitsky 1964, figure 17 (after Day and Haag 1952), from memory
/// and to a degree: a warning, no boundary.
pub fn porpoising_trim(root: f64, deadrise: f64) -> Option<f64> {
    const ROOTS: [f64; 4] = CHART_ROOTS;
    const TRIMS: [(f64, [f64; 4]); 3] =
        [(0.0, [1.5, 4.0, 6.5, 9.5]), (10.0, [3.0, 5.0, 7.5, 10.0]), (20.0, [4.0, 6.0, 8.0, 10.5])];
    if !(ROOTS[0]..=ROOTS[3]).contains(&root) || !(0.0..=20.0).contains(&deadrise) {
        return None;
    }
    let i = (((root - ROOTS[0]) / 0.05) as usize).min(2);
    let s = (root - ROOTS[i]) / 0.05;
    let j = usize::from(deadrise > 10.0);
    let t = (deadrise - TRIMS[j].0) / 10.0;
    let along = |row: &[f64; 4]| row[i] + s * (row[i + 1] - row[i]);
    let (a, b) = (along(&TRIMS[j].1), along(&TRIMS[j + 1].1));
    Some(a + t * (b - a))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, off: f64) {
        assert!((a - b).abs() <= off, "{a} {b}");
    }

    /// √(g L / 2π) and Crouch's formula, worked to seven figures apart from this program.
    #[test]
    fn published_rules() {
        for (feet, kn) in
            [(8.0, 3.792_140), (12.0, 4.644_405), (16.0, 5.362_896), (20.0, 5.995_900)]
        {
            near(hull_speed(feet * 0.3048), kn, 2e-4);
        }
        for (hp, lb, kn) in [(15.0, 700.0, 21.957_75), (40.0, 1400.0, 32.115_86 * 150.0 / 190.0)] {
            near(runabout_speed(hp * HORSEPOWER / 1000.0, lb * KG_PER_POUND), kn, 1e-4);
        }
        // The rule by hand: 1000 lb at a ratio of 1.34 on 16 ft; 10.665 / 1.34 = 7.958955,
        // cubed 504.1598 lb a horsepower.
        let kw = displacement_power(1.34 * 4.0, 1000.0 * KG_PER_POUND, 16.0 * 0.3048);
        near(kw * 1000.0 / HORSEPOWER, 1.983_498, 1e-5);
    }

    #[test]
    fn the_porpoising_chart_rises_with_load_and_deadrise() {
        assert_eq!(porpoising_trim(0.2, 0.0), Some(4.0));
        assert_eq!(porpoising_trim(0.3, 20.0), Some(10.5));
        near(porpoising_trim(0.225, 5.0).expect("inside"), 5.75, 1e-9);
        assert_eq!(porpoising_trim(0.14, 0.0), None);
        assert_eq!(porpoising_trim(0.2, 25.0), None);
    }
}
