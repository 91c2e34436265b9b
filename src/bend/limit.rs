//! What one stick bears: its species' figures brought to its stock, its size and its own test.

use super::member::Along;
use super::stick::stiffness;
use super::strain::strain_at_chance;
use crate::hull::{Member, Stock};
use crate::material::{STIFFNESS_OVER_SHEAR, Wood};

/// Scatter of bending strength between pieces, coefficient of variation.
/// Source: Wood Handbook, table 5-6 (from memory).
pub const STRENGTH_SCATTER: f64 = 0.16;
/// Scatter of stiffness between pieces. Source: the same table (from memory).
pub const STIFFNESS_SCATTER: f64 = 0.22;
/// Scatter of work to maximum load. Source: the same table (from memory).
pub const WORK_SCATTER: f64 = 0.34;

/// Correlation between the strength of a stick and its stiffness, and between its strength
/// and its work: 0.5 to 0.7 in tests of lumber, from memory.
pub const CORRELATION: f64 = 0.6;

/// Weibull's exponent for the bending strength of clear wood. Source: Bohannan, *Effect of
/// Size on Bending Strength of Wood Members*, Forest Products Laboratory FPL 56 (1966), from
/// memory.
pub const SIZE_EXPONENT: f64 = 18.0;
/// Volume (mm³) of the handbook's beam between its supports, 2 x 2 x 28 in (ASTM D143).
const BEAM_MM3: f64 = 50.8 * 50.8 * 711.2;

/// Share of bending strength that is left where grain runs out one in so many. Source: ASTM
/// D245's strength ratios, from memory. The Wood Handbook's table 5-12, from memory too, keeps
/// more of the strength (0.89 at 1 in 15) and about as little of the toughness (0.81).
const GRAIN: [(f64, f64); 9] = [
    (6.0, 0.40),
    (8.0, 0.53),
    (10.0, 0.61),
    (12.0, 0.69),
    (14.0, 0.74),
    (15.0, 0.76),
    (16.0, 0.80),
    (18.0, 0.85),
    (20.0, 1.00),
];

/// What a stick bears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Strain at which half of such sticks break.
    pub breaking: f64,
    /// Shear strain at which half of them break when they are twisted only.
    pub shearing: f64,
    /// Scatter of the breaking strain, coefficient of variation.
    pub scatter: f64,
    /// Stiffness, N/mm².
    pub stiffness: f64,
    /// Share of a small beam's strain that is left for its size and its run of bend.
    pub size: f64,
    /// Share that is left for its grain.
    pub grain: f64,
    /// Share that is left for what its own test says.
    pub test: f64,
}

impl Limit {
    /// The limit of `member` of `wood`, bent as `along` says.
    pub fn of(member: &Member, wood: &Wood, along: &[Along]) -> Limit {
        let moisture = member.moisture();
        let table = wood.moe(moisture);
        let own = member.stick_test.as_ref().map(stiffness);
        let size = size_share(member.moulded_mm, member.sided_mm, along, SIZE_EXPONENT);
        let grain = grain_share(member.stock);
        let test = own.map_or(1.0, |e| test_share(e / table));
        Limit {
            breaking: wood.breaking_strain(moisture) * size * grain * test,
            shearing: wood.shearing_strain(moisture),
            scatter: strain_scatter(),
            stiffness: own.unwrap_or(table),
            size,
            grain,
            test,
        }
    }

    /// The same stick's breaking strain at another moisture.
    pub fn breaking_at(&self, wood: &Wood, moisture: f64) -> f64 {
        wood.breaking_strain(moisture) * self.size * self.grain * self.test
    }

    /// The strain at which `chance` of such sticks break.
    pub fn at_chance(&self, chance: f64) -> f64 {
        strain_at_chance(chance, self.breaking, self.scatter)
    }

    /// The bending strain that brings a stick as near to breaking as `fibre` and the twist's
    /// `shear` do together: (strain over breaking)² + (shear over shearing)², a square law.
    ///
    /// Source: quadratic interaction of bending and shear as in Norris's criterion for wood
    /// (*Strength of Orthotropic Materials*, FPL 1816, 1950), from memory. The two are greatest
    /// at different places of the section, so adding them errs on the safe side.
    pub fn together(&self, fibre: f64, shear: f64) -> f64 {
        fibre.hypot(self.breaking * shear / self.shearing)
    }
}

/// Scatter of the breaking strain. That goes as work over strength (`material::wood`), so its
/// scatter is that of their ratio, the two going together by [`CORRELATION`].
pub fn strain_scatter() -> f64 {
    let (w, s) = (WORK_SCATTER, STRENGTH_SCATTER);
    (w * w + s * s - 2.0 * CORRELATION * w * s).sqrt()
}

/// Share of strength that is left for a stock's grain.
pub fn grain_share(stock: Stock) -> f64 {
    let Stock::Graded { one_in } = stock else {
        return 1.0;
    };
    let k = GRAIN.partition_point(|(n, _)| *n <= one_in).clamp(1, GRAIN.len() - 1);
    let ((n0, s0), (n1, s1)) = (GRAIN[k - 1], GRAIN[k]);
    (s0 + (s1 - s0) * (one_in - n0) / (n1 - n0)).clamp(0.1, 1.0)
}

/// Share of the table's breaking strain that a stick keeps whose stiffness was measured as
/// `ratio` times the table's.
///
/// Strength given stiffness goes as the ratio to the power of correlation times scatter over
/// scatter, 0.44. A stiff stick is stressed in proportion to its stiffness and has gained less
/// strength than that. A limp one is no better for it: what makes it limp (steep grain, young
/// wood, a knot) takes its strength and its toughness. So the share never passes 1, and the
/// scatter stays the table's: one bend of the middle says nothing of the rest of the stick.
pub fn test_share(ratio: f64) -> f64 {
    let strength = ratio.powf(CORRELATION * STRENGTH_SCATTER / STIFFNESS_SCATTER);
    strength / ratio.max(1.0)
}

/// Share of a small beam's breaking strain that is left for a longer run of bend: the chance
/// of a weak spot grows with the wood that is stretched hard (Weibull's weakest link).
///
/// The handbook's beam, loaded in the middle, counts as 1/(k+1) of its length, k the
/// `exponent`; a stick as the integral of (strain over greatest strain)^k. Never above 1.
pub fn size_share(moulded: f64, sided: f64, along: &[Along], exponent: f64) -> f64 {
    let worst = along.iter().map(|a| a.fibre).fold(0.0, f64::max);
    if worst <= 0.0 {
        return 1.0;
    }
    let hard = |a: &Along| (a.fibre / worst).powf(exponent);
    let run: f64 =
        along.windows(2).map(|w| 0.5 * (hard(&w[0]) + hard(&w[1])) * (w[1].at - w[0].at)).sum();
    let stretched = (moulded * sided * run).max(1.0);
    (BEAM_MM3 / (exponent + 1.0) / stretched).powf(1.0 / exponent).min(1.0)
}

/// Sag of a stick by shear over its sag by bending, loaded in the middle: 1.2 (E/G) (h/L)².
/// Source: Timoshenko, *Strength of Materials*, part I, for a rectangular section.
pub(super) fn shear_in_sag(depth: f64, span: f64) -> f64 {
    1.2 * STIFFNESS_OVER_SHEAR * (depth / span).powi(2)
}
