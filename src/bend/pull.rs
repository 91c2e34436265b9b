//! Force at the end of a stick that bends it to its line, with the lever that is there.

use super::member::BentMember;

/// Pull (N) that one person keeps up while the other hand fastens: a third of a body's weight.
/// Common practice, no source.
pub const PULL_BY_HAND_N: f64 = 250.0;
/// Pull (N) of one bar or screw clamp that does not yet bruise softwood through a pad. Common
/// practice, no source; the clamp itself gives several times as much.
pub(super) const PULL_OF_CLAMP_N: f64 = 1000.0;
/// Spacing (mm) of clamps along a bend; common practice, no source.
pub const CLAMP_SPACING_MM: f64 = 300.0;

/// A pull on a stick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pull {
    /// Force, N.
    pub newtons: f64,
    /// Lever: length of stick still free, mm.
    pub lever: f64,
    /// The place it bends, mm from the bow.
    pub at: f64,
    /// The end that is fastened first is the bow.
    pub from_bow: bool,
}

/// The hardest pull of bending a stick in by its free end, one end held, fastened as it goes.
///
/// At every place along it the stick must take the moment E I κ, and the hand has only what
/// is still free between the last fastening and the end as its lever. Beyond the last clamp's
/// spacing from the end there is nothing left to pull at: the last fastening draws that home.
/// Both ends are tried as the one to begin at, and the easier is kept.
pub(super) fn by_hand(bent: &BentMember) -> Pull {
    let hardest = |from_bow: bool| {
        bent.along
            .iter()
            .map(|a| {
                let free = if from_bow { bent.length - a.at } else { a.at };
                let lever = free.max(1.0);
                let newtons = if free < CLAMP_SPACING_MM.min(0.5 * bent.length) {
                    0.0
                } else {
                    moment(bent, a.moulded, a.sided) / lever
                };
                Pull { newtons, lever, at: a.at, from_bow }
            })
            .max_by(|a, b| a.newtons.total_cmp(&b.newtons))
    };
    let none = Pull { newtons: 0.0, lever: bent.length, at: 0.0, from_bow: true };
    let (bow, stern) = (hardest(true).unwrap_or(none), hardest(false).unwrap_or(none));
    if stern.newtons < bow.newtons { stern } else { bow }
}

/// The greatest pull of one clamp, each set a clamp's spacing beyond the last, N.
pub(super) fn of_clamp(bent: &BentMember) -> f64 {
    let lever = CLAMP_SPACING_MM.min(bent.length.max(1.0));
    bent.along.iter().map(|a| moment(bent, a.moulded, a.sided)).fold(0.0, f64::max) / lever
}

/// Moment (N mm) that holds the stick at these curvatures.
fn moment(bent: &BentMember, moulded: f64, sided: f64) -> f64 {
    let (m, s) = (bent.member.moulded_mm, bent.member.sided_mm);
    let (flat, edge) = (s * m.powi(3) / 12.0, m * s.powi(3) / 12.0);
    bent.limit.stiffness * (flat * moulded).hypot(edge * sided)
}
