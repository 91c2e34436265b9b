//! Bevels, as they stand on the sheets.

use crate::frames::bevel::Off;
use crate::units::{Units, half_degrees};

/// The convention of bevels, for the foot of every sheet that has one.
pub const CONVENTION: &str = "Bevels: degrees from square and the run over the thickness; saw square to the line, then plane wood off the face that is named: \"this\" is the face drawn, \"far\" the other; the small section at each edge shows which.";

/// Degrees, run and face of the bevels along an edge, (radians, run in mm) each, positive
/// where wood comes off the far face: one stretch of words for either face.
pub fn along(bevels: &[(f64, f64)], units: Units) -> Vec<(Off, String)> {
    let mut out = Vec::new();
    for off in [Off::FarFace, Off::ThisFace] {
        let on: Vec<(f64, f64)> =
            bevels.iter().filter(|b| Off::by(b.0) == off).map(|b| (b.0.abs(), b.1.abs())).collect();
        let by_angle = |a: &&(f64, f64), b: &&(f64, f64)| a.0.total_cmp(&b.0);
        let (Some(least), Some(most)) = (on.iter().min_by(by_angle), on.iter().max_by(by_angle))
        else {
            continue;
        };
        let one = |b: &(f64, f64)| format!("{} ({})", half_degrees(b.0), units.fine(b.1));
        let range = match (one(least), one(most)) {
            (_, b) if half_degrees(least.0) == half_degrees(most.0) => b,
            (a, b) => format!("{a} to {b}"),
        };
        out.push((off, format!("{range} {}", off.word())));
    }
    if out.is_empty() {
        out.push((Off::Neither, Off::Neither.word().into()));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The words name the face that is the smaller, once for each face of a twisted edge.
    #[test]
    fn words_say_how_far_and_off_which_face() {
        let one = |degrees: f64, run: f64| (f64::to_radians(degrees), run);
        let said = along(&[one(12.5, 4.2), one(3.0, 1.0), one(0.1, 0.0)], Units::Mm);
        assert_eq!(said.len(), 1);
        assert_eq!(said[0].0, Off::FarFace);
        assert_eq!(said[0].1, "3.0° (1.0 mm) to 12.5° (4.2 mm) off the far face");
        let twisted = along(&[one(2.0, 0.7), one(-5.0, -1.7)], Units::InchFraction);
        assert_eq!(twisted[1].1, "5.0° (1/16\") off this face");
        assert_eq!(along(&[one(0.2, 0.1)], Units::Mm)[0].1, "square");
    }
}
