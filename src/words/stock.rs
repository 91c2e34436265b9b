//! Why something cannot be cut or bought, and what a layout's bound rests on.

use crate::stock::glue::NotBorne;
use crate::stock::lumber::Lack;
use crate::stock::nest::{Bound, Excess, Reason, RestsOn};
use crate::stock::stores::CountedFrom;
use crate::units::Units;

/// Why a part is on no sheet.
pub fn on_no_sheet(reason: &Reason) -> String {
    match reason {
        Reason::NoSheet => "there is no sheet to cut it from".into(),
        Reason::TooLarge { sheet, over_length, over_width } => {
            let over = |by: f64, what: &str| {
                (by > 0.0).then(|| format!("{:.0} mm too {what}", by.max(1.0).ceil()))
            };
            let parts: Vec<String> =
                over(*over_length, "long").into_iter().chain(over(*over_width, "wide")).collect();
            format!("it is {} for {sheet}", parts.join(" and "))
        }
        Reason::Grain { sheet } => {
            format!("it fits on {sheet} only with the grain the other way")
        }
        Reason::NoRoom => "no sheet on hand has room left for it".into(),
    }
}

/// How a layout lies above its bound.
pub fn above_bound(excess: &Excess) -> String {
    let Excess { over, least, bought, by_area } = *excess;
    format!(
        "{over} above the least possible of {least}: with {} the parts would have to fill {:.0} % of each, now they fill {:.0} %; no layout on fewer was found, which is no proof that there is none",
        bought - 1,
        100.0 * by_area / (bought - 1).max(1) as f64,
        100.0 * by_area / bought.max(1) as f64
    )
}

/// What a bound rests on.
pub fn rests_on(bound: &Bound) -> String {
    match bound.rests_on {
        RestsOn::Area => {
            format!("by area: {:.2} sheets' worth of parts and saw cuts", bound.by_area)
        }
        RestsOn::Width => format!(
            "parts wider than half a sheet take up the length of {:.2} sheets",
            bound.by_width
        ),
        RestsOn::Length => format!(
            "parts longer than half a sheet take up the width of {:.2} sheets",
            bound.by_length
        ),
        RestsOn::Middle => format!(
            "{} parts are over half a sheet long and wide: no two go on one sheet",
            bound.on_middle
        ),
    }
}

/// Why a stick cannot be had.
pub fn no_lumber(lack: &Lack) -> String {
    match lack {
        Lack::NoStick { length, section: (a, b) } => {
            format!("{length} mm of {a} by {b} mm is no stick")
        }
        Lack::NotRipped { species, section: (a, b) } => {
            format!("no {species} from which {a} by {b} mm can be ripped")
        }
        Lack::TooLong { over, longest } => format!(
            "it is {over:.0} mm longer than the longest that can be cut, {longest:.0} mm, and is not scarfed"
        ),
        Lack::NoScarf { over, longest, scarf } => format!(
            "it is {over:.0} mm longer than the longest that can be cut, {longest:.0} mm, and no place is free for its scarfs of {scarf:.0} mm"
        ),
        Lack::UsedUp { part, length } => {
            format!("the stock is used up: piece {} of it, {length:.0} mm, is left over", part + 1)
        }
        Lack::Wrong(what) => format!("the cutting list did not add up: {what}"),
    }
}

/// What a glue does not bear, with both figures.
pub fn not_borne(what: &NotBorne) -> String {
    match what {
        NotBorne::Immersion { bears, asked } => {
            format!("it stands {}, and the boat asks {}", bears.word(), asked.word())
        }
        NotBorne::Gap { bears, asked } => {
            format!("it bridges {bears} mm, and joints leave {asked} mm")
        }
        NotBorne::Temperature { bears: (from, to), asked } => {
            format!("it sets from {from} to {to} °C, and the shop has {asked} °C")
        }
        NotBorne::Moisture { bears: (dry, wet), asked } => {
            format!("it takes wood of {dry} to {wet} % moisture, and this has {asked:.0} %")
        }
        NotBorne::OpenTime { bears, at, asked } => {
            format!("it stays open {bears:.0} minutes at {at} °C, and a joint takes {asked:.0}")
        }
    }
}

/// What a store was counted from: the sum written out.
pub fn counted(from: &CountedFrom, units: Units) -> String {
    match from {
        CountedFrom::Bead { length, section } => {
            format!("{} of joint by a bead of {section} mm²", units.show(*length))
        }
        CountedFrom::Spread { area, rate } => {
            format!("{} of joint by {rate} kg/m²", units.area(*area))
        }
        CountedFrom::Fillets { length, mean } => format!(
            "{} of fillet, {mean:.0} mm² in section on average: r² (1/tan(a/2) - (pi - a)/2)",
            units.show(*length)
        ),
        CountedFrom::Runs { runs, roll } => format!(
            "{runs} runs with their laps, side by side where they fit, from a roll {} wide",
            units.show(*roll)
        ),
        CountedFrom::Tape { length, width } => {
            format!("{} of seam, tape {} wide", units.show(*length), units.show(*width))
        }
        CountedFrom::Cloth { kg, rate } => {
            format!("{} of cloth by {rate:.2} l a kg", units.mass(*kg))
        }
        CountedFrom::Weave { area, coats, rate } => {
            format!("{} by {coats} coats of {rate:.3} l a m²", units.area(*area))
        }
        CountedFrom::Fastened { edges, apart, alone } => format!(
            "{} of edge, {} apart, one more at each end, and {alone} in joints",
            units.show(*edges),
            units.show(*apart)
        ),
        CountedFrom::Paint { area, coats, rate } => {
            format!("{} by {coats} coats, {rate} m² a litre", units.area(*area))
        }
        CountedFrom::Fairing { area, rate } => {
            format!("{} by {rate} l a m²", units.area(*area))
        }
        CountedFrom::UsedUp { amount, lasts, unit } => format!("{amount:.1} at {lasts} {unit}"),
    }
}
