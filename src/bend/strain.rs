//! Strain of the worst fibre of a rectangular stick that is bent both ways and twisted.

/// Terms of the torsion series; each is under a twentieth of the one before, so that what
/// is left out is below 1e-14 for a square, the slowest section.
const TERMS: u32 = 10;

/// Strain of the outer fibre of a stick `depth` mm deep bent to curvature κ (1/mm), measured
/// at its middle: t / 2R. Source: any text on bending, e.g. Timoshenko, *Strength of
/// Materials*, part I.
pub fn bending(depth: f64, curvature: f64) -> f64 {
    0.5 * depth * curvature.abs()
}

/// A rectangular bar's resistance to twist: its greatest shear strain for each radian of
/// twist per mm, in mm. That is k times the shorter side, at the middle of the longer one.
///
/// Source: Timoshenko and Goodier, *Theory of Elasticity*, article 109, series for τ_max.
pub fn shear_per_twist(side_a: f64, side_b: f64) -> f64 {
    let (short, long) = (side_a.min(side_b), side_a.max(side_b));
    torsion_factor(long / short) * short
}

/// k of [`shear_per_twist`] for a side ratio of 1 or more: 0.675 for a square, 1 for a strip.
pub fn torsion_factor(ratio: f64) -> f64 {
    let pi = std::f64::consts::PI;
    let sum: f64 = (0..TERMS)
        .map(|i| f64::from(2 * i + 1))
        .map(|n| 1.0 / (n * n * (0.5 * n * pi * ratio).cosh()))
        .sum();
    1.0 - 8.0 / (pi * pi) * sum
}

/// Chance that a piece breaks at `strain`, when half of all pieces do at `median` and the
/// scatter of the breaking strain (coefficient of variation) is `scatter`; log-normal.
pub fn break_chance(strain: f64, median: f64, scatter: f64) -> f64 {
    if strain <= 0.0 {
        return 0.0;
    }
    let sigma = (1.0 + scatter * scatter).ln().sqrt();
    normal_below((strain / median).ln() / sigma)
}

/// The strain at which `chance` of the pieces break; the inverse of [`break_chance`] to
/// 1e-6 of the median.
pub fn strain_at_chance(chance: f64, median: f64, scatter: f64) -> f64 {
    let f = |s: f64| break_chance(s * median, median, scatter) - chance;
    crate::geom::roots::bracketed(f, (1e-3, f(1e-3)), (10.0, f(10.0)), 1e-9)
        .map_or(0.0, |root| root.x * median)
}

/// Share of a standard normal distribution below `x`, to 1e-7.
/// Source: Abramowitz and Stegun, *Handbook of Mathematical Functions*, 26.2.17.
pub(super) fn normal_below(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * x.abs());
    let poly = t
        * (0.319_381_530
            + t * (-0.356_563_782
                + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    let tail = poly * (-0.5 * x * x).exp() / (2.0 * std::f64::consts::PI).sqrt();
    if x >= 0.0 { 1.0 - tail } else { tail }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_normal_distribution_has_its_table_values() {
        // Abramowitz and Stegun, table 26.1.
        for (x, p) in [(0.0, 0.5), (1.0, 0.841_344_7), (-1.96, 0.024_997_9), (2.326, 0.989_990_7)] {
            assert!((normal_below(x) - p).abs() < 2e-7, "{x}");
        }
    }

    #[test]
    fn a_chance_and_its_strain_are_inverse() {
        for chance in [0.001, 0.01, 0.05, 0.5] {
            let s = strain_at_chance(chance, 0.0064, 0.27);
            assert!((break_chance(s, 0.0064, 0.27) - chance).abs() < 1e-6);
        }
    }
}
