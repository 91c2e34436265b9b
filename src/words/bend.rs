//! How a stick or a sheet is brought to its bend.

use crate::bend::ladder::{STEAM_C, WORKING_TIME_MIN};
use crate::bend::pull::{CLAMP_SPACING_MM, PULL_BY_HAND_N, Pull};
use crate::bend::stick::Doubt;
use crate::bend::{Governs, How, Method, Quantity, SheetWay};
use crate::hull::Stock;
use crate::units::{MM_PER_INCH, Units};

/// A way of bending, in a report.
pub fn method(method: Method) -> &'static str {
    match method {
        Method::Dry => "dry",
        Method::DryWithClamps => "dry, with clamps",
        Method::HotSoak => "soaked hot",
        Method::Steam => "steamed",
        Method::Kerf => "kerfed",
        Method::Laminate => "laminated",
    }
}

/// What asks the most of a stick, in a report.
pub fn governs(what: Governs) -> &'static str {
    match what {
        Governs::Moulded => "the bend of its moulded depth",
        Governs::Sided => "the edgewise bend of its sided width",
        Governs::Twist => "its twist",
    }
}

/// What a stick is sawn from, in a report.
pub fn stock(of: Stock) -> String {
    match of {
        Stock::Clear => "clear, straight-grained stock".into(),
        Stock::Graded { one_in } => {
            format!("yard stock without knots in the bend, grain within 1 in {one_in:.0}")
        }
    }
}

/// What makes the figure of a stick's test doubtful, and what to do.
pub fn doubt(what: Doubt) -> &'static str {
    match what {
        Doubt::ShortSpan => {
            "the span is under 14 times the depth, so a good part of the sag is shear: set the supports further apart"
        }
        Doubt::DeepSag => {
            "the sag is over a tenth of the span, beyond the straight-line formula: hang less weight"
        }
        Doubt::SmallSag => {
            "a sag under 2 mm cannot be read well with a rule: hang more weight or widen the span"
        }
    }
}

/// What to change in the stick so that it asks less.
pub fn remedy(what: Governs) -> &'static str {
    match what {
        Governs::Moulded => "less moulded depth",
        Governs::Sided => "less sided width, or saw it to shape from a wide board",
        Governs::Twist => "a smaller section (the smaller of its two sides counts)",
    }
}

/// Another way to plank a panel.
pub fn sheet_way(way: &SheetWay) -> String {
    match way {
        SheetWay::Turned { across, joints } => {
            let grain = if *across { "across" } else { "along" };
            let joints = joints.map_or(String::new(), |[now, then]| {
                format!(" (its sheets then need {then} joints, not {now})")
            });
            format!("face grain {grain} the panel{joints}")
        }
        SheetWay::Thinner(name) => format!("a thinner sheet: {name}"),
        SheetWay::Clear => "a clear marine sheet as thick".into(),
        SheetWay::Soaked => {
            "soaked in hot water before it is bent, its glue being of the boiled kind".into()
        }
        SheetWay::TwoLayers => "two layers of half the thickness, glued".into(),
    }
}

/// What to do on a rung, in `units`.
pub fn how(how: &How, units: Units) -> String {
    match how {
        How::ByHand(pull) => by_hand(pull, units),
        How::Clamps(force) => format!(
            "Fasten one end, set a clamp every {}, and let each take up a little at a time over an hour or two, up to about {} at the hardest; keep a spare stick.",
            units.show(CLAMP_SPACING_MM),
            units.force(*force)
        ),
        How::Soak { soak, poorly } => format!(
            "Keep it {} in water of {} at the wood (a trough, or towels and a kettle); bend at once into its place, clamp, and leave until dry before gluing.{}",
            hours(soak.hours),
            units.temperature(soak.water_c),
            softwood(*poorly)
        ),
        How::Steam { minutes, strap, poorly } => format!(
            "Steam for {minutes:.0} min at {} (an hour for each {}), bend within {WORKING_TIME_MIN:.0} min of opening the box, a quarter tighter than wanted, and clamp until cold and dry. Green or air-dried stock bends better than kiln-dried.{}{}",
            units.temperature(STEAM_C),
            units.fine(MM_PER_INCH),
            match strap {
                true =>
                    " As tight as this it needs a steel strap with end stops on the outer face.",
                false => "",
            },
            softwood(*poorly)
        ),
        How::Kerfs { count, depth, spacing, carries_load } => format!(
            "Saw {count:.0} kerfs {} deep, {} apart, on the inside of the bend; fill with thickened epoxy as it goes in.{}",
            units.fine(*depth),
            units.fine(*spacing),
            match carries_load {
                true =>
                    " This member carries load: only a share of its strength is left until the kerfs are filled, so prefer another way.",
                false => "",
            }
        ),
        How::Layers { layers, thickness, springback } => format!(
            "Glue {layers} layers of {} over the frames or a form; released, the radius grows to {springback:.2} times, so clamp it that much tighter on a form (over the frames it is held).",
            units.fine(*thickness)
        ),
    }
}

/// How a stick goes in by hand, and what it asks of the hand.
fn by_hand(pull: &Pull, units: Units) -> String {
    let end = if pull.from_bow { "bow" } else { "stern" };
    let asked = format!(
        "hardest {} from the bow, with {} of stick still free, at about {}",
        units.show(pull.at),
        units.show(pull.lever),
        units.force(pull.newtons)
    );
    if pull.newtons <= PULL_BY_HAND_N {
        format!(
            "Fasten the {end} end, and walk the free end in, fastening as you go: the pull is {asked}."
        )
    } else {
        format!(
            "One person cannot: even from the {end} the pull is {asked}, and {} is what one keeps up.",
            units.force(PULL_BY_HAND_N)
        )
    }
}

/// What ends the advice to soak or steam.
fn softwood(poorly: bool) -> &'static str {
    if poorly { " Softwoods take heat poorly: bend a spare stick first." } else { "" }
}

/// Hours as a person says them.
fn hours(h: f64) -> String {
    if h < 1.0 {
        format!("{:.0} min", 60.0 * h)
    } else {
        format!("{} h", (10.0 * h).round() / 10.0)
    }
}

/// Where someone could be hurt or the boat weakened.
pub fn caution(method: Method) -> &'static str {
    match method {
        Method::Dry => {
            "A bent stick that slips or breaks strikes hard: stand out of its plane and wear eye protection."
        }
        Method::DryWithClamps => {
            "A bent stick that slips or breaks strikes hard: stand out of its plane, tie the far end, wear eye protection."
        }
        Method::HotSoak => {
            "Scalding water: long gloves, face shield, a clear floor, and a second person."
        }
        Method::Steam => {
            "Steam scalds unseen: never seal the box (leave a drain and a vent), long gloves, eye protection, open the far end first, keep children and pets away, mind the burner's fumes in a closed garage."
        }
        Method::Kerf => {
            "Kerfs weaken the stick and hold water if not filled. Use a depth stop; keep hands clear of the blade."
        }
        Method::Laminate => {
            "Epoxy heats in the pot and can burn: mix small batches, spread them out, gloves and fresh air; follow its maker's data sheet."
        }
    }
}

/// Where the limit of a rung is from.
pub fn source(method: Method) -> &'static str {
    match method {
        Method::Dry => {
            "strain at greatest load from the Wood Handbook's (FPL-GTR-282) table 5-3b, the work in it from memory, brought to this stock and size; scatter and the correlation of 0.6 from memory; one stick in a hundred may break (our judgement); pull by beam theory, one end held, against what one person keeps up (common practice, no source)"
        }
        Method::DryWithClamps => {
            "limit as for dry, but five sticks in a hundred may break (our judgement); force by beam theory, a clamp's spacing as its lever; what a clamp gives: common practice, no source"
        }
        Method::HotSoak => {
            "stretch of the wood as wet as its outer face gets by then, its inner face crushed the easier for heat and water: balance of the section, with the handbook's crushing strengths and effects of temperature and rates of heat and water from memory; five in a hundred may break (our judgement)"
        }
        Method::Steam => {
            "as for the hot soak, at 100 °C, checked with the over-bend; comes to the 1 to 2 % stretch of Agriculture Handbook 125 (Peck 1957), from memory, for good benders; an hour an inch: common practice; strap: Lemoine and Koch 1971"
        }
        Method::Kerf => "web bent as hinges within the dry limit, beam theory",
        Method::Laminate => {
            "layers bear the dry limit as tight as the form; springback of n equal layers n²/(n²-1), beam theory; least radius of a layer 100 (hardwood, southern pine) or 125 times its thickness, Civil Engineering Formulas p. 167"
        }
    }
}

/// What a number of a rung is.
pub fn label(method: Method, quantity: Quantity) -> &'static str {
    let clamped = method == Method::DryWithClamps;
    let glued = method == Method::Laminate;
    match quantity {
        Quantity::BreakChance if glued => "chance that a layer breaks",
        Quantity::BreakChance => "chance that a stick breaks",
        Quantity::PairBreakChance if glued => "chance that one of all layers breaks",
        Quantity::PairBreakChance => "chance that one of those needed breaks",
        Quantity::TightestRadius => "tightest radius",
        Quantity::Force if clamped => "greatest pull of one clamp",
        Quantity::Force => "greatest pull at the free end",
        Quantity::Lever => "stick still free there",
        Quantity::GreatestForce if clamped => "pull of a clamp that does not bruise",
        Quantity::GreatestForce => "pull that one person keeps up",
        Quantity::Clamps => "clamps",
        Quantity::Soak => "time in hot water",
        Quantity::Water => "water at the wood",
        Quantity::Moisture => "moisture under its face then",
        Quantity::WorkingTime => "time to bend it in",
        Quantity::Steam => "time in the steam box",
        Quantity::Overbend => "bend tighter than wanted by",
        Quantity::StrainWithStrap => "strain allowed with a strap and end pressure",
        Quantity::Depth => "depth of each kerf",
        Quantity::Spacing => "apart",
        Quantity::Count => "kerfs",
        Quantity::Length => "length kerfed",
        Quantity::RemainingStrength => "bending strength left",
        Quantity::Layers => "layers",
        Quantity::Layer => "thickness of each",
        Quantity::Springback => "radius after release, over the radius clamped to",
    }
}
