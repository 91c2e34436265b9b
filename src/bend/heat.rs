//! Wet heat: what soaking and steaming do to the limit of a bend.
//!
//! The outer face is stretched, the inner one crushed. Heat and water hardly help the outer
//! face: it bears what green wood bears. They soften the inner one, so that it takes more than
//! its half of the bend and the outer face is stretched less.

use crate::hull::Member;
use crate::material::Wood;

/// Air in the shop, °C.
const SHOP_C: f64 = 20.0;
/// Share of crushing strength and of stiffness that wet wood keeps for each 30 °C above the
/// shop's 20. Source: Wood Handbook, table of middle-trend effects of temperature (-25 % and
/// -7 % at 50 °C), from memory, carried on to 100 °C by the same ratio.
const CRUSHING_KEPT: f64 = 0.75;
const STIFFNESS_KEPT: f64 = 0.93;
/// How fast heat goes into wood across the grain, mm²/s. Source: Wood Handbook, chapter 4
/// (0.00025 in²/s), from memory.
const HEAT_MM2_S: f64 = 0.161;
/// How fast water goes into wood across the grain at the shop's temperature, mm²/s, and by
/// what it grows: exp of this many kelvin times the change of 1/T. From memory (1e-10 m²/s
/// and some 37 kJ/mol for water bound in softwoods).
const WATER_MM2_S: f64 = 1e-4;
const WATER_KELVIN: f64 = 4500.0;
/// Depth under the face, as a share of the stick's, that must be wet for the face to stretch
/// like wet wood. Our judgement.
const WET_SKIN: f64 = 0.1;
/// Terms of the series for heat in a plate; what is left out is under 1 % even at the start.
const TERMS: u32 = 20;

/// A stick as wet heat has left it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Softened {
    /// Moisture under its face, percent.
    pub moisture: f64,
    /// Its mean temperature, °C.
    pub temperature_c: f64,
    /// Strain at which its inner face is crushed, cold and as it is now.
    crushing: [f64; 2],
}

impl Softened {
    /// `member` of `wood` after `hours` in water or steam of `water_c` °C.
    pub fn of(member: &Member, wood: &Wood, water_c: f64, hours: f64) -> Softened {
        let thickness = member.moulded_mm.min(member.sided_mm);
        let seconds = 3600.0 * hours;
        let temperature_c = SHOP_C + (water_c - SHOP_C) * heated(thickness, seconds);
        let start = member.moisture();
        let wet = soaked(WET_SKIN * thickness, water_c, seconds);
        let moisture = start + (wood.mp_pct - start).max(0.0) * wet;
        let kept = (CRUSHING_KEPT / STIFFNESS_KEPT).powf((temperature_c - SHOP_C) / 30.0);
        // An unknown crushing strength gives no gain by softening.
        let cold = wood.crushing_strain(moisture).unwrap_or(f64::INFINITY);
        Softened { moisture, temperature_c, crushing: [cold, cold * kept.min(1.0)] }
    }

    /// The strain that may be asked of it now, when it bears `limit` cold and as wet.
    pub fn allowed(&self, limit: f64) -> f64 {
        asked(self.crushing[1], stretch(self.crushing[0], limit))
    }

    /// The strain that would stretch it cold and as wet as `strain` does now.
    pub fn as_cold(&self, strain: f64) -> f64 {
        asked(self.crushing[0], stretch(self.crushing[1], strain))
    }
}

/// Stretch of the outer face of a piece bent to `strain` (half its depth over the radius),
/// whose inner face is crushed at `crushing`: 2 √(crushing · strain) − crushing.
///
/// From the balance of the section: the stretched side elastic, the crushed side elastic up to
/// its crushing strength and then giving at that stress.
fn stretch(crushing: f64, strain: f64) -> f64 {
    if strain <= crushing { strain } else { 2.0 * (crushing * strain).sqrt() - crushing }
}

/// The inverse of [`stretch`].
fn asked(crushing: f64, stretch: f64) -> f64 {
    if stretch <= crushing { stretch } else { (stretch + crushing).powi(2) / (4.0 * crushing) }
}

/// How far (0 to 1) the mean of a plate has come to the temperature round it.
/// Source: Carslaw and Jaeger, *Conduction of Heat in Solids*, article 3.3 (both faces held).
fn heated(thickness: f64, seconds: f64) -> f64 {
    let pi2 = std::f64::consts::PI.powi(2);
    let number = HEAT_MM2_S * seconds / (thickness * thickness);
    let left: f64 = (0..TERMS)
        .map(|i| f64::from(2 * i + 1).powi(2))
        .map(|n2| 8.0 / (pi2 * n2) * (-n2 * pi2 * number).exp())
        .sum();
    (1.0 - left).max(0.0)
}

/// How far (0 to 1) wood at `depth` mm under a wetted face has come to full: the error
/// function's complement. Source: Crank, *The Mathematics of Diffusion*, section 2.4.3.
fn soaked(depth: f64, water_c: f64, seconds: f64) -> f64 {
    if seconds <= 0.0 {
        return 0.0;
    }
    let kelvin = |c: f64| c + 273.15;
    let rate = WATER_MM2_S * (WATER_KELVIN * (1.0 / kelvin(SHOP_C) - 1.0 / kelvin(water_c))).exp();
    // erfc x = 2 (1 - Φ(x √2)).
    let x = depth / (2.0 * (rate * seconds).sqrt());
    2.0 * (1.0 - super::strain::normal_below(x * std::f64::consts::SQRT_2))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A section of 20 000 layers, its neutral line found by bisection so that its forces add
    /// up to nothing.
    #[test]
    fn a_section_in_balance_is_stretched_as_the_formula_says() {
        for (crushing, strain) in [(0.0022, 0.009), (0.0013, 0.012), (0.0025, 0.0020)] {
            let force = |stretched: f64| -> f64 {
                let layers = 20_000;
                (0..layers)
                    .map(|i| (f64::from(i) + 0.5) / f64::from(layers))
                    .map(|x| (stretched - 2.0 * strain * x).max(-crushing))
                    .sum()
            };
            let (mut low, mut high) = (0.0, 2.0 * strain);
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                if force(middle) > 0.0 { high = middle } else { low = middle }
            }
            assert!((stretch(crushing, strain) / low - 1.0).abs() < 1e-4, "{low}");
            assert!((asked(crushing, stretch(crushing, strain)) / strain - 1.0).abs() < 1e-12);
        }
    }

    /// Printed: the mean of a plate is at 0.9 (1 - 0.1) at a Fourier number of 0.2121 of its
    /// thickness: 8/π² exp(-π² 0.2121) = 0.1; erfc(0.5) = 0.4795 (Abramowitz and Stegun 7.1).
    #[test]
    fn heat_and_water_go_in_as_the_books_say() {
        let seconds = 0.212_1 * 19.0 * 19.0 / HEAT_MM2_S;
        assert!((heated(19.0, seconds) - 0.9).abs() < 1e-3, "{}", heated(19.0, seconds));
        assert!(heated(19.0, 0.0) < 0.02);
        let half = 1.0 / (2.0 * 0.5f64).powi(2) / WATER_MM2_S;
        assert!((soaked(1.0, SHOP_C, half) - 0.479_5).abs() < 1e-4);
        assert!(soaked(1.0, 80.0, half) > 0.8);
    }
}
