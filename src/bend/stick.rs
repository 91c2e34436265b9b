//! A builder's own bend test: rest a stick on two supports, hang a weight at the middle,
//! read how far it sags.

use super::limit::shear_in_sag;
use crate::hull::StickTest;

/// Standard gravity, m/s² (by definition, CGPM 1901).
pub const GRAVITY: f64 = 9.806_65;

/// Stiffness (modulus of elasticity in bending, N/mm²) of the tested stick:
/// F L³ / (4 b h³ sag), and the part of the sag that is shear taken off.
///
/// Source: the centre-loaded beam, e.g. Wood Handbook (FPL-GTR-282), chapter 9.
pub fn stiffness(test: &StickTest) -> f64 {
    let force = test.weight_kg * GRAVITY;
    let with_shear =
        force * test.span_mm.powi(3) / (4.0 * test.width_mm * test.depth_mm.powi(3) * test.sag_mm);
    with_shear * (1.0 + shear_in_sag(test.depth_mm, test.span_mm))
}

/// What makes a test's figure doubtful.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubt {
    /// The span is under 14 times the depth, so a good part of the sag is shear.
    ShortSpan,
    /// The sag is over a tenth of the span, beyond the straight-line formula.
    DeepSag,
    /// A sag under 2 mm cannot be read with a rule.
    SmallSag,
}

/// What makes a test's figure doubtful; empty if nothing does.
pub fn doubts(test: &StickTest) -> Vec<Doubt> {
    let all = [
        (test.span_mm < 14.0 * test.depth_mm, Doubt::ShortSpan),
        (test.sag_mm > 0.1 * test.span_mm, Doubt::DeepSag),
        (test.sag_mm < 2.0, Doubt::SmallSag),
    ];
    all.into_iter().filter(|(is, _)| *is).map(|(_, doubt)| doubt).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: 38 x 19 mm stick flat over 1200 mm, 5 kg, sag 8.4 mm.
    /// 49.03 N · 1.728e9 / (4 · 38 · 6859 · 8.4) = 9674 N/mm², and 1.2 · 16 · (19/1200)² =
    /// 0.48 % of the sag by bending was shear: 9721.
    #[test]
    fn a_hand_worked_stick() {
        let test = StickTest {
            span_mm: 1200.0,
            width_mm: 38.0,
            depth_mm: 19.0,
            weight_kg: 5.0,
            sag_mm: 8.4,
        };
        assert!((stiffness(&test) - 9721.0).abs() < 1.0, "{}", stiffness(&test));
        assert!(doubts(&test).is_empty());
        let short = StickTest { span_mm: 200.0, sag_mm: 1.0, ..test };
        assert_eq!(doubts(&short), [Doubt::ShortSpan, Doubt::SmallSag]);
    }
}
