//! How stiff plywood is along and across its face grain, from its plies.
//!
//! Veneers of one wood and one thickness lie crosswise by turns, the faces along. In bending
//! each counts with its own moment of inertia about the middle of the sheet, in pushing and
//! pulling with its area; square to its grain a veneer has a small share of its stiffness.
//! Source: Wood Handbook, chapter on wood-based composites (parallel plies; from memory).

/// Stiffness of a veneer across its grain over that along it: 1/20. Source: Wood Handbook,
/// elastic ratios of rotary-cut veneer, 1/20 to 1/30 (from memory).
const ACROSS_GRAIN: f64 = 1.0 / 20.0;

/// Stiffness (N/mm²) of a weak softwood's veneer along its grain: species group 4 of APA's
/// *Plywood Design Specification*, 0.9 million lbf/in² (from memory). Taken for a sheet that
/// does not tell.
pub(super) const WEAK_SOFTWOOD: f64 = 6_205.0;

/// Plies that a sheet of this thickness (mm) usually has. Common practice, no source.
pub(super) fn usual_plies(thickness: f64) -> u32 {
    match thickness {
        t if t < 5.5 => 3,
        t if t < 11.0 => 5,
        t if t < 16.0 => 7,
        _ => 9,
    }
}

/// Moduli of a sheet, N/mm².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stiffness {
    /// In bending, along the face grain.
    pub along: f64,
    /// In bending, across the face grain.
    pub across: f64,
    /// Pushed or pulled along the face grain.
    pub pushed_along: f64,
    /// Pushed or pulled across the face grain.
    pub pushed_across: f64,
}

impl Stiffness {
    /// Of `plies` equal plies whose veneers have the modulus `veneer` (N/mm²) along their
    /// grain. An even number counts as the next odd one.
    pub fn of(plies: u32, veneer: f64) -> Stiffness {
        let n = (plies.max(1) | 1) as i32;
        // Moments of inertia, times 12, and areas, in veneers' thicknesses.
        let (mut turned, mut area) = ([0.0; 2], [0.0; 2]);
        for i in 0..n {
            let z = f64::from(2 * i - n + 1) / 2.0;
            let crosswise = usize::from(i % 2 == 1);
            turned[crosswise] += 1.0 + 12.0 * z * z;
            area[crosswise] += 1.0;
        }
        let mean = |a: f64, b: f64| veneer * (a + ACROSS_GRAIN * b) / (a + b);
        Stiffness {
            along: mean(turned[0], turned[1]),
            across: mean(turned[1], turned[0]),
            pushed_along: mean(area[0], area[1]),
            pushed_across: mean(area[1], area[0]),
        }
    }

    /// As it lies with its face grain across: along and across changed.
    pub fn turned(self) -> Stiffness {
        Stiffness {
            along: self.across,
            across: self.along,
            pushed_along: self.pushed_across,
            pushed_across: self.pushed_along,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three equal plies: (26 + r)/27 along, (1 + 26 r)/27 across; five: (99 + 26 r)/125 and
    /// (26 + 99 r)/125, by hand from Σ E I.
    #[test]
    fn three_and_five_plies_by_hand() {
        let r = ACROSS_GRAIN;
        let three = Stiffness::of(3, 1.0);
        assert!((three.along - (26.0 + r) / 27.0).abs() < 1e-12);
        assert!((three.across - (1.0 + 26.0 * r) / 27.0).abs() < 1e-12);
        assert!((three.pushed_along - (2.0 + r) / 3.0).abs() < 1e-12);
        let five = Stiffness::of(5, 1.0);
        assert!((five.along - (99.0 + 26.0 * r) / 125.0).abs() < 1e-12);
        assert!((five.across - (26.0 + 99.0 * r) / 125.0).abs() < 1e-12);
        assert!((five.pushed_across - (2.0 + 3.0 * r) / 5.0).abs() < 1e-12);
        assert_eq!(five.turned().along, five.across);
        assert_eq!(Stiffness::of(4, 1.0), five);
    }

    /// More plies bring both ways nearer to each other, and never past.
    #[test]
    fn many_plies_are_nearly_even() {
        let ratio = |n: u32| Stiffness::of(n, 1.0).along / Stiffness::of(n, 1.0).across;
        assert!(ratio(3) > ratio(5) && ratio(5) > ratio(7) && ratio(7) > ratio(9));
        assert!(ratio(9) > 1.0);
    }
}
