//! A member bent along its line: strain all along, and how near to breaking.

use super::advice::{Advice, advise};
use super::darboux::Curvatures;
use super::stick::stiffness;
use super::strain::{bending, break_chance, principal, shear_per_twist};
use crate::geom::{P3, V3};
use crate::hull::Member;
use crate::material::Wood;

/// Scatter of bending strength between pieces, coefficient of variation.
/// Source: Wood Handbook, table 5-6 (from memory).
pub const STRENGTH_SCATTER: f64 = 0.16;
/// Scatter of stiffness between pieces. Source: the same table (from memory).
pub const STIFFNESS_SCATTER: f64 = 0.22;

/// Spacing (mm) at which a member is looked at: a third of the shortest hard spot.
const SPACING_MM: f64 = 50.0;

/// One place along a member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Along {
    /// Distance along the line from the bow, mm.
    pub at: f64,
    /// Curvature that bends the moulded depth, 1/mm.
    pub moulded: f64,
    /// Curvature that bends the sided width, 1/mm.
    pub sided: f64,
    /// Twist, radians per mm.
    pub twist: f64,
    /// Strain of the worst fibre.
    pub strain: f64,
    /// The place on the line, mm.
    pub point: P3,
    /// Unit tangent, aft.
    pub tangent: V3,
    /// The skin's outward unit normal.
    pub outward: V3,
}

/// A member with its bends judged.
#[derive(Debug, Clone, PartialEq)]
pub struct BentMember {
    /// As the document has it.
    pub member: Member,
    /// Length along its line, mm.
    pub length: f64,
    /// From bow to stern.
    pub along: Vec<Along>,
    /// Greatest strain.
    pub peak_strain: f64,
    /// Where that is, mm from the bow along the line.
    pub peak_at: f64,
    /// Strain at which half of such sticks break.
    pub breaking_strain: f64,
    /// Scatter of that strain, coefficient of variation.
    pub scatter: f64,
    /// Peak over breaking strain.
    pub utilisation: f64,
    /// Chance that a stick breaks when bent dry.
    pub break_chance: f64,
    /// Stiffness used, N/mm².
    pub stiffness: f64,
    /// The ladder.
    pub advice: Advice,
}

/// How many pieces a line of `length` mm is looked at in.
pub fn pieces(length: f64) -> usize {
    ((length / SPACING_MM).ceil() as usize).clamp(20, 400)
}

/// Bends `member` along a line of `length` mm with these curvatures on its skin.
///
/// They are those of the line itself, the face that lies on the skin; at the member's own
/// middle they differ by its half depth over the radius, under 1 %.
pub fn bend(member: &Member, wood: &Wood, length: f64, curvatures: &[Curvatures]) -> BentMember {
    let shear_factor = shear_per_twist(member.moulded_mm, member.sided_mm);
    let along: Vec<Along> = curvatures
        .iter()
        .map(|c| {
            let fibre = bending(member.moulded_mm, c.normal) + bending(member.sided_mm, c.geodesic);
            let shear = shear_factor * c.torsion.abs();
            Along {
                at: c.at,
                moulded: c.normal,
                sided: c.geodesic,
                twist: c.torsion,
                strain: principal(fibre, shear),
                point: c.point,
                tangent: c.tangent,
                outward: c.outward,
            }
        })
        .collect();
    judge(member, wood, length, along)
}

/// Judges a member whose bending is known.
pub fn judge(member: &Member, wood: &Wood, length: f64, along: Vec<Along>) -> BentMember {
    let (peak_strain, peak_at) = along
        .iter()
        .map(|a| (a.strain, a.at))
        .fold((0.0, 0.0), |worst, here| if here.0 > worst.0 { here } else { worst });
    let mor = wood.mor(member.moisture_pct);
    // A tested stick's stiffness is known; only the strength still scatters. Strength and
    // stiffness are taken as independent, which overstates the scatter of their ratio.
    let (stiffness, scatter) = match &member.stick_test {
        Some(test) => (stiffness(test), STRENGTH_SCATTER),
        None => (wood.moe(member.moisture_pct), STRENGTH_SCATTER.hypot(STIFFNESS_SCATTER)),
    };
    let breaking_strain = mor / stiffness;
    let mut bent = BentMember {
        member: member.clone(),
        length,
        along,
        peak_strain,
        peak_at,
        breaking_strain,
        scatter,
        utilisation: peak_strain / breaking_strain,
        break_chance: break_chance(peak_strain, breaking_strain, scatter),
        stiffness,
        advice: Advice::default(),
    };
    bent.advice = advise(&bent, wood);
    bent
}
