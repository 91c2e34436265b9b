//! Is she fair?

use super::{Sentences, both};
use crate::curve::View;
use crate::finding::{LineFact, MovedBy};
use crate::units::Units;

pub(super) fn said(fact: &LineFact, units: Units) -> Sentences {
    match fact {
        LineFact::Size { length, advised: [least, most] } => both(
            format!(
                "she is {} long; what is advised here is for boats of {} to {}",
                units.show(*length),
                units.show(*least),
                units.show(*most)
            ),
            "look at the unit of her lines; if she is meant so, a designer must say how strong her parts are to be",
        ),
        LineFact::BeginsAft(by) => both(
            format!("she begins {} aft of where distances aft are measured from", units.show(*by)),
            "hook the tape at that mark ahead of her, not on her bow, or move all ducks forward by as much",
        ),
        LineFact::TurnsOnce(at) => both(
            format!("it turns once from bending one way to the other, {} aft", units.show(*at)),
            "leave it if it is meant so; if not, sight along the comb and pull the ducks there until it bends one way",
        ),
        LineFact::Wavy(at) => {
            let places: Vec<String> = at.iter().map(|x| units.show(*x)).collect();
            both(
                format!(
                    "its curvature changes sign {} times, {} aft",
                    places.len(),
                    places.join(", ")
                ),
                "sight along the comb and pull the ducks there until it bends one way",
            )
        }
        LineFact::Hook { view, left, right, at } => {
            let [on_left, on_right] = match view {
                View::Plan => ["outside", "inside"],
                View::Profile => ["above", "below"],
            };
            both(
                format!(
                    "a hook: they lie on one straight line, and the batten swings {} {on_left} it and {} {on_right} it, most {} aft",
                    units.fine(*left),
                    units.fine(*right),
                    units.show(*at)
                ),
                "let the curve before it end gently: move the ducks ahead of the run until it stays straight, or make its first duck a knuckle",
            )
        }
        LineFact::HardSpot { jump, shows } => both(
            format!(
                "a hard spot: the curvature breaks its slope there by {jump:.0} (over {shows:.0} shows)"
            ),
            "ease that duck towards the batten, or take it away",
        ),
        LineFact::OffTransom(by) => both(
            format!(
                "it lies {} {} the transom's plane: the transom's edge and bevel are off by as much there",
                units.fine(by.abs()),
                if *by > 0.0 { "aft of" } else { "ahead of" }
            ),
            "check the figures for the transom, or move the point onto its plane",
        ),
        LineFact::MovedAft(by) => both(
            format!(
                "the table has points ahead of its zero: everything was moved {} aft",
                units.show(*by)
            ),
            "distances are counted from the foremost point",
        ),
        LineFact::Deducted { planks, lines } => both(
            deducted(planks, lines, units),
            "lines are to the inside of the planking from here on; a sheer keeps its height, ends stay in the transom's plane or on the stem",
        ),
        LineFact::MovedFar(by) => both(
            format!(
                "taking the planking off moved it by up to {}: sheets of unlike thickness meet there at a small angle",
                units.fine(*by)
            ),
            "compare her with the plan there; where the plan has one thickness, give one",
        ),
        LineFact::NotSoDeep(off) => both(
            format!(
                "no place lies so deep under both its sheets; what was taken is up to {} off there",
                units.fine(*off)
            ),
            "compare her with the plan there: at the foot of a stem, or where sheets of unlike thickness meet nearly in one plane, the inside cannot be as the outside is",
        ),
    }
}

/// What was deducted, and by how much each line moved.
fn deducted(planks: &[(String, f64)], lines: &[MovedBy], units: Units) -> String {
    let planks: Vec<String> =
        planks.iter().map(|(p, thickness)| format!("{p} {}", units.fine(*thickness))).collect();
    let lines: Vec<String> = lines
        .iter()
        .map(|m| {
            let (least, most) = (units.fine(m.between.0), units.fine(m.between.1));
            let by = if least == most { least } else { format!("{least} to {most}") };
            let bow = units.fine(m.bow_aft);
            format!("{} by {by} (its first point {bow} aft)", m.line)
        })
        .collect();
    format!(
        "drawn to the outside of the planking, {}: moved inward, square to the skin: {}",
        planks.join(", "),
        lines.join("; ")
    )
}
