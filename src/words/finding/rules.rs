//! What the public rules say.

use super::place::end as end_word;
use super::{LOCAL, Sentences, both};
use crate::finding::{Beside, OutOfHer, RuleFact};
use crate::units::{Units, half_degrees};
use crate::words::attitude::{fate, trim as trimmed};

pub(super) fn said(fact: &RuleFact, units: Units) -> Sentences {
    match fact {
        RuleFact::PutOutside { by, side } => both(
            format!(
                "it is put {} {}, where nothing of her carries it",
                units.show(*by),
                match side {
                    OutOfHer::Ahead => "ahead of her bow",
                    OutOfHer::Abaft => "abaft her stern",
                    OutOfHer::Beside => "outside her side",
                }
            ),
            "put it where it lies",
        ),
        RuleFact::Foam { needed, built, under, motor } => {
            foam(*needed, (*built, *under), *motor, units)
        }
        RuleFact::SwampedLolls => both("full of water she does not stay upright", HIGHER),
        RuleFact::SwampedHeels { heel, allowed } => both(
            format!(
                "full of water she lies over by {}, and {} is what the flotation rule allows",
                half_degrees(heel.abs()),
                half_degrees(*allowed)
            ),
            format!("{HIGHER}; {LOCAL}"),
        ),
        RuleFact::SwampedLost { mass, sinks } => both(
            format!("full of water, with {}, she {}", units.mass(*mass), fate(*sinks)),
            if *sinks { "more foam" } else { HIGHER },
        ),
        RuleFact::BothEndsUnder => both(
            "full of water both her ends are under: no part of her stays above water to hold on to",
            format!("more foam, along the sides; {LOCAL}"),
        ),
        RuleFact::EndUnder { trim, end, under, allowed } => both(
            format!(
                "full of water she lies {}, her {}'s gunwale {} under; {} is what the flotation rule allows",
                trimmed(*trim),
                end_word(*end),
                units.show(*under),
                units.show(*allowed)
            ),
            format!("move foam towards the {}; {LOCAL}", end_word(*end)),
        ),
        RuleFact::NotBailed { trim, cut_out, under } => both(
            format!(
                "full of water she lies {} with {} {} under: what is bailed out comes in again there",
                trimmed(*trim),
                if *cut_out { "the motor's cut-out" } else { "her sheer" },
                units.show(*under)
            ),
            "more foam lifts it clear; else stay with her and hold on",
        ),
        RuleFact::TooLong { length, under } => both(
            format!(
                "she is {} long; the safe-loading rule is for boats under {}",
                units.show(*length),
                units.show(*under)
            ),
            "take its figures for nothing more than a comparison, and ask a surveyor",
        ),
        RuleFact::MarkedFloods { persons, beside } => both(
            format!(
                "the safe-loading rule would let her carry {persons} persons{}; with that weight all on one side she floods or capsizes",
                with_motor(*beside)
            ),
            format!("take fewer than the rule says, seated low and apart; {LOCAL}"),
        ),
        RuleFact::Overloaded { mass, allowed } => both(
            format!(
                "{} are aboard; the safe-loading rule would mark her for {}",
                units.mass(*mass),
                units.mass(*allowed)
            ),
            format!("carry less; {LOCAL}"),
        ),
        RuleFact::Overcrowded { mass, persons, allowed, beside } => both(
            format!(
                "persons of {} are aboard; the safe-loading rule would let her carry at most {persons}, weighing {} between them{}",
                units.mass(*mass),
                units.mass(*allowed),
                with_motor(*beside)
            ),
            format!("fewer people; {LOCAL}"),
        ),
        RuleFact::NoTransom => both(
            "there is no transom to hang it on: she is taken as rowed",
            "take the motor off, or give her a transom",
        ),
        RuleFact::NoneFitted => {
            both("a motor is among the loads, and none is fitted", "say that a motor is fitted")
        }
        RuleFact::NoneAboard => both(
            "a motor is fitted, and none is among the loads",
            "add the motor to what is aboard",
        ),
        RuleFact::TooPowerful { power, marked } => both(
            format!("{power} hp hang on her; the safe-loading rule would mark her for {marked} hp"),
            format!(
                "a smaller motor: too much power swamps the stern and flips light boats; {LOCAL}"
            ),
        ),
    }
}

/// Where foam keeps her upright.
const HIGHER: &str = "put the foam higher and further out on both sides";

/// Foam that the rule asks for, and what is built in and (where that is less) under the water.
fn foam(needed: f64, (built, under): (f64, Option<f64>), motor: bool, units: Units) -> Sentences {
    let lifts = match under {
        Some(under) => {
            format!("of the {} built in {} lie there", units.volume(built), units.volume(under))
        }
        None => format!("{} are built in", units.volume(built)),
    };
    let motor = if motor { ", the motor's share beside it aft" } else { "" };
    both(
        format!(
            "the flotation rule's arithmetic asks for {} of foam under the water that stands in her then; {lifts}",
            units.volume(needed)
        ),
        format!(
            "put it along the sides, under her lowest opening, so that she floats level{motor}; {LOCAL}"
        ),
    )
}

/// The motor that persons go with.
fn with_motor(beside: Beside) -> String {
    match beside {
        Beside::Own(hp) => format!(" with a motor of {hp} hp"),
        Beside::Marked(hp) => format!(" with the {hp} hp that she would be marked for"),
        Beside::None => String::new(),
    }
}
