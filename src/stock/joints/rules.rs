//! What a joint measures, and what it does to bending where it lies.

use crate::hull::stock::{JointKind, JointRule};
use crate::units::MM_PER_INCH;

/// Strength of a plain scarf over that of the piece, by its slope (length over thickness).
/// Source: Wood Handbook (FPL-GTR-282), design factors for plain scarf joints; from memory.
const SCARF_FACTORS: [(f64, f64); 4] = [(5.0, 0.60), (8.0, 0.75), (10.0, 0.80), (12.0, 0.85)];

/// Strength of a plain scarf over that of the piece without it, for a slope of `slope` in 1;
/// between the table's rows straight, beyond 12 that of 12. `None` under 5, where the source
/// says nothing.
pub fn scarf_factor(slope: f64) -> Option<f64> {
    let (least, greatest) = (SCARF_FACTORS[0], SCARF_FACTORS[SCARF_FACTORS.len() - 1]);
    if slope.is_nan() || slope < least.0 {
        return None;
    }
    let between = SCARF_FACTORS.windows(2).find(|w| slope <= w[1].0).map(|w| {
        let ((s0, f0), (s1, f1)) = (w[0], w[1]);
        f0 + (slope - s0) / (s1 - s0) * (f1 - f0)
    });
    Some(between.unwrap_or(greatest.1))
}

/// Length (mm) of a butt block along the boat for a sheet of `thickness` mm: 8 in for a
/// quarter inch, 10 in for three eighths, 12 in for half an inch, and 8 in for what is
/// thinner. Common practice, no source.
pub fn block_length(thickness: f64) -> f64 {
    let eighths = (thickness / MM_PER_INCH - 0.25) / 0.125;
    MM_PER_INCH * (8.0 + 2.0 * eighths.max(0.0))
}

/// Length (mm) along the boat that a joint takes: the slope of a scarf, or the block.
pub(super) fn taken(rule: &JointRule, thickness: f64) -> f64 {
    match rule.kind {
        JointKind::Scarf => rule.slope * thickness,
        JointKind::ButtBlock => rule.block_length_mm.unwrap_or_else(|| block_length(thickness)),
    }
}

/// What a joint asks of the bend where it lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointBend {
    /// Tightest radius of the panel over the joint's length, mm; infinite where it is flat.
    pub radius: f64,
    /// Least radius to which the joint bends, mm, if it is glued before it is bent.
    pub least_radius: f64,
    /// Least radius, mm, if it is glued when the panel stands bent: that of the sheet, and of a
    /// block as thick, which is bent by itself.
    pub least_in_place: f64,
    /// Strength of the joint over that of the sheet; `None` where no source says.
    pub factor: Option<f64>,
}

impl JointBend {
    /// It may be glued flat on the floor and bent with the panel.
    pub fn bends(&self) -> bool {
        self.radius >= self.least_radius
    }

    /// It may be glued when the panel stands bent.
    pub fn goes_on_bent(&self) -> bool {
        self.radius >= self.least_in_place
    }

    /// How much of what it bears is used: 1 at its least radius.
    pub fn utilisation(&self) -> f64 {
        self.least_radius / self.radius
    }
}

/// What a joint of this rule does where the panel is bent to `radius`. `least` are the least
/// radii (mm) of the sheet and of one twice as thick.
pub(super) fn bend_at(rule: &JointRule, radius: f64, least: (f64, f64)) -> JointBend {
    match rule.kind {
        JointKind::Scarf => {
            let factor = scarf_factor(rule.slope);
            // A slope that no source covers is taken for the steepest that one does.
            let least_radius = least.0 / factor.unwrap_or(SCARF_FACTORS[0].1);
            JointBend { radius, least_radius, least_in_place: least.0, factor }
        }
        // Over a block the skin is twice as thick: glued flat it bends no tighter than a sheet
        // of that thickness, and stays flatter than the sheet beside it; laid on when the panel
        // stands bent, it may be of two layers. Common practice, no source.
        JointKind::ButtBlock => {
            JointBend { radius, least_radius: least.1, least_in_place: least.0, factor: None }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_are_the_tables_and_straight_between() {
        for (slope, factor) in [(5.0, 0.60), (8.0, 0.75), (10.0, 0.80), (12.0, 0.85), (20.0, 0.85)]
        {
            assert!((scarf_factor(slope).expect("in range") - factor).abs() < 1e-12);
        }
        assert!((scarf_factor(9.0).expect("in range") - 0.775).abs() < 1e-12);
        assert_eq!(scarf_factor(4.9), None);
        assert_eq!(scarf_factor(f64::NAN), None);
    }

    #[test]
    fn a_block_is_eight_inches_on_a_quarter_and_grows() {
        for (sheet, block) in [(0.25, 8.0), (0.375, 10.0), (0.5, 12.0), (0.1, 8.0)] {
            assert!((block_length(sheet * MM_PER_INCH) - block * MM_PER_INCH).abs() < 1e-9);
        }
    }

    /// A scarf asks a wider bend by its factor, a block that of a sheet twice as thick.
    #[test]
    fn a_joint_bends_less_than_its_sheet() {
        let scarf = JointRule { kind: JointKind::Scarf, ..JointRule::default() };
        let bend = bend_at(&scarf, 1000.0, (750.0, 2000.0));
        assert!((bend.least_radius - 1000.0).abs() < 1e-9 && bend.bends());
        assert!((bend.utilisation() - 1.0).abs() < 1e-12);
        let block = bend_at(&JointRule::default(), 1000.0, (750.0, 2000.0));
        assert!(!block.bends() && block.least_radius == 2000.0 && block.goes_on_bent());
        assert!(!bend_at(&scarf, 740.0, (750.0, 2000.0)).goes_on_bent());
    }
}
