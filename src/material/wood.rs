//! Species of lumber: strength and stiffness at a moisture content.

use serde::{Deserialize, Serialize};

/// One lbf/in² in N/mm² (NIST SP 811).
pub const MPA_PER_PSI: f64 = 6.894_757e-3;

/// Moisture (percent) below which the handbook's equation is not meant to be used.
const DRIEST: f64 = 6.0;

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
    /// Modulus of elasticity in bending, 10⁶ lbf/in².
    pub moe_mpsi: f64,
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
        self.adjusted(moisture, |s| s.mor_psi) * MPA_PER_PSI
    }

    /// Modulus of elasticity (N/mm²) at `moisture` percent.
    pub fn moe(&self, moisture: f64) -> f64 {
        self.adjusted(moisture, |s| s.moe_mpsi) * 1e6 * MPA_PER_PSI
    }

    /// Strain at which an elastic stick reaches its bending strength: MOR / MOE.
    pub fn breaking_strain(&self, moisture: f64) -> f64 {
        self.mor(moisture) / self.moe(moisture)
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
        dry * (dry / green).powf((12.0 - moisture.max(DRIEST)) / (self.mp_pct - 12.0))
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
