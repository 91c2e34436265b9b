//! Will she float right?

use super::{LOCAL, Sentences, both};
use crate::finding::AfloatFact;
use crate::units::{Units, half_degrees, tidy_zero};
use crate::words::attitude::{fate, trim as trimmed};
use crate::words::speed::no_figure;

pub(super) fn said(fact: &AfloatFact, units: Units) -> Sentences {
    match fact {
        AfloatFact::NoSpace(litres) => both(
            format!(
                "her lines enclose no space ({:.1} litres), so nothing can be said of how she floats",
                tidy_zero(*litres, 1)
            ),
            "pull her lines apart: the keel and chines below, the sheer above them",
        ),
        AfloatFact::Inexact(share) => both(
            format!("her figures may be off by {:.2} %", 100.0 * share),
            "ease the sharpest bend of her lines",
        ),
        AfloatFact::Lost { mass, sinks } => both(
            format!("with {} in all she {}", units.mass(*mass), fate(*sinks)),
            "carry less, lower, or give her more freeboard and beam",
        ),
        AfloatFact::WaterIn { cut_out, at, under } => both(
            format!(
                "water comes in {} {} aft, {} below the water",
                if *cut_out { "in the motor's cut-out" } else { "over the sheer" },
                units.show(*at),
                units.show(*under)
            ),
            "carry less or move it; a motor's cut-out needs a well or a longer shaft",
        ),
        AfloatFact::Lolls { gm, heel } => both(
            format!(
                "she does not stand upright by herself (GM {}){}: her weight is too high for her beam",
                units.show(*gm),
                lies_over(*heel)
            ),
            "sit lower, carry less high up, or give her more beam at the water; moving weight to the high side may throw her over to the other",
        ),
        AfloatFact::Lists(heel) => both(
            format!("she lists by {} with the loads where they are", half_degrees(heel.abs())),
            "balance them about the centreplane",
        ),
        AfloatFact::Trims { trim, step } => {
            let to = if *trim > 0.0 { "forward" } else { "aft" };
            both(
                format!("she trims {}", trimmed(*trim)),
                match step {
                    None => format!("move weight {to}"),
                    Some((load, by, change)) => format!(
                        "move weight {to}: a step of {} by {load} changes the trim by {:.1}°",
                        units.show(*by),
                        change.abs().to_degrees()
                    ),
                },
            )
        }
        AfloatFact::Heels { heel, freeboard, standard } => {
            let standard = standard.map_or(String::new(), |limit| {
                format!("ISO 12217-3 would allow {} (from memory), ", half_degrees(limit))
            });
            both(
                format!(
                    "she heels by {}, {} from flooding; {standard}a code of practice for small commercial craft 7°",
                    half_degrees(heel.abs()),
                    units.show(*freeboard)
                ),
                format!("keep people apart and seated low; {LOCAL}"),
            )
        }
        AfloatFact::CrewTooMuch { sinks } => both(
            match sinks {
                None => "she takes water in".to_string(),
                Some(sinks) => format!("she {}", fate(*sinks)),
            },
            format!("fewer people, seated low and apart, never standing at one side; {LOCAL}"),
        ),
        AfloatFact::NoPlaning { why, hull_speed, with_motor } => both(
            format!("no planing speeds are given: {}", no_figure(why)),
            match with_motor {
                Some(kn) => format!(
                    "count on about {hull_speed:.1} knots: the {kn:.1} told for your motor are by tank tests of other hulls, with straighter bottoms"
                ),
                None => format!("she is a boat for up to about {hull_speed:.1} knots"),
            },
        ),
        AfloatFact::NoHump { why, from, to } => both(
            format!("there are no figures between {from:.0} and {to:.0} knots: {}", no_figure(why)),
            "only a trial will show whether her motor lifts her over the hump there",
        ),
        AfloatFact::PastPorpoising(speed) => both(
            format!(
                "from {speed:.0} knots on she is past the porpoising chart: expect her to leap"
            ),
            "a smaller motor, or weight moved forward; test with care and alone",
        ),
        AfloatFact::NearPorpoising { speed, trim, limit } => both(
            format!(
                "at {speed:.0} knots she runs at {trim:.1}°; above about {limit:.1}° she may porpoise"
            ),
            "slow down or move weight forward when she begins to leap; test with care and alone",
        ),
    }
}

/// That she lies over at an angle, where it is one that is seen.
fn lies_over(heel: f64) -> String {
    match half_degrees(heel.abs()) {
        upright if upright == half_degrees(0.0) => String::new(),
        heel => format!(", and lies over to {heel}"),
    }
}
