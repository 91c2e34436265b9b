//! Species of lumber: strength, stiffness and stretch at a moisture content.

use serde::{Deserialize, Serialize};

/// One lbf/in² in N/mm² (NIST SP 811).
pub const MPA_PER_PSI: f64 = 6.894_757e-3;

/// Moisture (percent) below which strength and stiffness are not carried on: the handbook's
/// equation is not meant for drier wood.
const DRIEST: f64 = 6.0;

/// The tables' stiffness, from beams of span over depth 14, has the sag by shear in it and
/// is about this much too low for bending alone. Source: Wood Handbook (FPL-GTR-282),
/// chapter 5, from memory; 1 + 1.2 (E/G)/14² with [`STIFFNESS_OVER_SHEAR`] says the same.
pub const SHEAR_IN_SAG: f64 = 1.10;

/// Stiffness over shear modulus, E/G, where a species' own is not known. Source: ASTM D198's
/// and the handbook's usual figure, from memory.
pub const STIFFNESS_OVER_SHEAR: f64 = 16.0;

/// Shear strength over bending strength of a row that gives no shear strength: the least of
/// the shipped table at 12 %.
const SHEAR_OVER_MOR: f64 = 0.09;

/// The kinds that bending rules tell apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum WoodKind {
    /// Broad-leaved.
    Hardwood,
    /// Coniferous.
    Softwood,
    /// Coniferous, but with the lamination limit of hardwoods.
    SouthernPine,
}

/// Clear-wood averages in the handbook's own units.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strength {
    /// Modulus of rupture in bending, lbf/in².
    pub mor_psi: f64,
    /// Modulus of elasticity in bending, 10⁶ lbf/in², as tabled (span over depth 14).
    pub moe_mpsi: f64,
    /// Work to maximum load in bending, in·lbf/in³, if known.
    #[serde(default)]
    pub work: Option<f64>,
    /// Crushing strength along the grain, lbf/in², if known.
    #[serde(default)]
    pub crush_psi: Option<f64>,
    /// Shear strength along the grain, lbf/in², if known.
    #[serde(default)]
    pub shear_psi: Option<f64>,
}

impl Strength {
    /// Strain of the outer fibre at the greatest load.
    ///
    /// The handbook's beam carries its load P at the middle of a span L. Taking load against
    /// sag as a parabola that is level at the greatest load, the work is ⅔ P d, and the work
    /// for each volume w = ⅔ P d / (b h L). With P = 2 MOR b h² / 3 L the sag is
    /// d = 9 w L² / (4 MOR h); one part in [`SHEAR_IN_SAG`] of it is bending, and bending to
    /// that sag has the strain 6 h d / L². Altogether 13.5 w / (1.1 MOR). The fibre under the
    /// load is stretched further than a straight-line beam's, so this errs on the safe side.
    ///
    /// Without the work only MOR over the stiffness for bending is known, less again.
    fn strain_at_greatest_load(&self) -> f64 {
        match self.work {
            Some(work) => 13.5 * work / (SHEAR_IN_SAG * self.mor_psi),
            None => self.mor_psi / (SHEAR_IN_SAG * self.moe_mpsi * 1e6),
        }
    }
}

/// A row of the wood table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wood {
    /// What a document calls it.
    pub name: String,
    /// Its kind.
    pub kind: WoodKind,
    /// Oven-dry mass over volume at 12 % moisture, relative to water.
    pub specific_gravity: f64,
    /// Green, if published.
    #[serde(default)]
    pub green: Option<Strength>,
    /// At 12 % moisture.
    pub at_12: Strength,
    /// Moisture (percent) at which drying begins to change the properties.
    pub mp_pct: f64,
    /// Where the figures are from.
    pub source: String,
}

impl Wood {
    /// Modulus of rupture (N/mm²) at `moisture` percent.
    pub fn mor(&self, moisture: f64) -> f64 {
        self.adjusted(moisture.max(DRIEST), |s| s.mor_psi) * MPA_PER_PSI
    }

    /// Modulus of elasticity (N/mm²) in bending at `moisture` percent, freed of the sag by
    /// shear that the tables' figure has in it.
    pub fn moe(&self, moisture: f64) -> f64 {
        SHEAR_IN_SAG * self.adjusted(moisture.max(DRIEST), |s| s.moe_mpsi) * 1e6 * MPA_PER_PSI
    }

    /// Strain of the outer fibre at which half of small, clear, straight-grained pieces break
    /// at `moisture` percent. It rises with moisture: wet wood is weaker and limper, but gives
    /// further before it breaks.
    ///
    /// Between green and 12 % it is carried by the same equation as the strength, and on to
    /// drier wood; the handbook calls work to maximum load erratic under it, so between its
    /// two printed ends this is our judgement. A row without work at both ends has one figure.
    pub fn breaking_strain(&self, moisture: f64) -> f64 {
        let worked = |s: &Strength| s.work.is_some();
        if worked(&self.at_12) && self.green.as_ref().is_some_and(worked) {
            self.adjusted(moisture, Strength::strain_at_greatest_load)
        } else {
            self.at_12.strain_at_greatest_load()
        }
    }

    /// Strain at which the fibre on the inside of a bend is crushed at `moisture` percent, if
    /// its crushing strength is known.
    pub fn crushing_strain(&self, moisture: f64) -> Option<f64> {
        let known = |s: &Strength| s.crush_psi.is_some();
        if !known(&self.at_12) || !self.green.as_ref().is_none_or(known) {
            return None;
        }
        let crush =
            self.adjusted(moisture.max(DRIEST), |s| s.crush_psi.unwrap_or(0.0)) * MPA_PER_PSI;
        Some(crush / self.moe(moisture))
    }

    /// Shear strain at which the wood shears along the grain at `moisture` percent: shear
    /// strength over E/16.
    pub fn shearing_strain(&self, moisture: f64) -> f64 {
        let strength = self
            .adjusted(moisture.max(DRIEST), |s| s.shear_psi.unwrap_or(SHEAR_OVER_MOR * s.mor_psi))
            * MPA_PER_PSI;
        strength * STIFFNESS_OVER_SHEAR / self.moe(moisture)
    }

    /// A property at a moisture content: P = P₁₂ (P₁₂/P_g)^((12−M)/(M_p−12)) below M_p, the
    /// green value above. Source: Wood Handbook (FPL-GTR-282), equation 5-3.
    fn adjusted(&self, moisture: f64, property: impl Fn(&Strength) -> f64) -> f64 {
        let dry = property(&self.at_12);
        let Some(green) = self.green.as_ref().map(&property) else {
            return dry;
        };
        if moisture >= self.mp_pct {
            return green;
        }
        dry * (dry / green).powf((12.0 - moisture) / (self.mp_pct - 12.0))
    }

    /// Least radius over lamination thickness: 100 for hardwoods and southern pine, 125 for
    /// other softwoods. Source: the glued-laminated curvature rule as printed in *Civil
    /// Engineering Formulas*, p. 167.
    pub fn least_lamination_ratio(&self) -> f64 {
        match self.kind {
            WoodKind::Hardwood | WoodKind::SouthernPine => 100.0,
            WoodKind::Softwood => 125.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Load against sag by the parabola in small steps, on the handbook's own beam
    /// (2 x 2 x 28 in): its work and bending strength give back the strain.
    #[test]
    fn the_parabolas_work_gives_back_its_strain() {
        let (b, h, l) = (2.0, 2.0, 28.0);
        let (mor, strain) = (12_400.0, 0.0098);
        let greatest = 2.0 * mor * b * h * h / (3.0 * l);
        let sag = SHEAR_IN_SAG * strain * l * l / (6.0 * h);
        let steps = 20_000;
        let work: f64 = (0..steps)
            .map(|i| (f64::from(i) + 0.5) / f64::from(steps))
            .map(|x| greatest * (2.0 * x - x * x) * sag / f64::from(steps))
            .sum();
        let row = Strength {
            mor_psi: mor,
            moe_mpsi: 1.95,
            work: Some(work / (b * h * l)),
            crush_psi: None,
            shear_psi: None,
        };
        assert!((row.strain_at_greatest_load() / strain - 1.0).abs() < 1e-6);
    }
}
