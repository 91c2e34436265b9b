//! Stores in words: how much, in which packs, counted from what; and what a glue bears.

use super::stock::so_many;
use crate::material::{Glue, Measure};
use crate::stock::glue::{NotBorne, TOLD_AT_C};
use crate::stock::stores::{Bought, CountedFrom, Line};
use crate::units::{KG_PER_POUND, LITRES_PER_GALLON, MM_PER_FOOT, MM_PER_INCH, Units};
use crate::words::capital;

/// Square metres in a square foot.
const M2_PER_SQ_FT: f64 = MM_PER_FOOT * MM_PER_FOOT * 1e-6;
/// US fluid ounces in a litre.
const OUNCES_PER_LITRE: f64 = 128.0 / LITRES_PER_GALLON;

/// How much of a store: whole pieces, tenths of what is weighed or measured.
pub fn quantity(amount: f64, of: Measure, units: Units) -> String {
    match of {
        Measure::Pieces => so_many(amount.ceil() as usize, "piece", "pieces"),
        Measure::Litres => units.liquid(amount),
        Measure::Bulk if units.imperial() => units.volume(amount),
        Measure::Bulk => format!("{amount:.1} l"),
        Measure::Kilograms => units.mass(amount),
        Measure::Metres => units.cloth_length(amount),
    }
}

/// What is asked for over the counter: "primer: 3.2 l, 4 packs of 1 l".
pub fn to_buy(b: &Bought, units: Units) -> String {
    format!("{}: {}", b.product, how_much(b, units))
}

/// How much of it, and in how many packs; what is sold singly or off the roll has none.
pub fn how_much(b: &Bought, units: Units) -> String {
    let packs = so_many(b.packs as usize, "pack", "packs");
    let much = quantity(b.quantity, b.unit, units);
    match (b.unit, b.pack) {
        (Measure::Pieces, 1.0) => much,
        (Measure::Metres, 1.0) => format!("{much} off the roll"),
        _ => format!("{much}, {packs} of {}", pack_of(b, units)),
    }
}

/// How much a pack holds: what a shop writes on it.
pub fn pack_of(b: &Bought, units: Units) -> String {
    match b.unit {
        Measure::Pieces => format!("{}", b.pack),
        of if units.imperial() => quantity(b.pack, of, units),
        of => format!("{} {}", b.pack, of.word()),
    }
}

/// What is told of a glue: what it bears and how long it takes, and first what of that which is
/// asked it does not bear.
pub fn glue_words(glue: &Glue, lacks: &[NotBorne], units: Units) -> String {
    let lacks = lacks.iter().map(|l| capital(&not_borne(l, units)) + ". ");
    format!(
        "{}Stands {}; sets from {} to {}; open {} minutes, {} hours in clamps at {}; bridges {}; {}.",
        lacks.collect::<String>(),
        glue.immersion.word(),
        units.temperature(glue.least_c),
        units.temperature(glue.most_c),
        glue.open_min,
        glue.clamp_h,
        units.temperature(TOLD_AT_C),
        units.gauge(glue.gap_mm),
        glue.note
    )
}

/// What a glue does not bear, with both figures.
pub fn not_borne(what: &NotBorne, units: Units) -> String {
    match what {
        NotBorne::Immersion { bears, asked } => {
            format!("it stands {}, and the boat asks {}", bears.word(), asked.word())
        }
        NotBorne::Gap { bears, asked } => format!(
            "it bridges gaps of {}, and the joints leave {}",
            units.gauge(*bears),
            units.gauge(*asked)
        ),
        NotBorne::Temperature { bears: (from, to), asked } => format!(
            "it sets from {} to {}, and the shop has {}",
            units.temperature(*from),
            units.temperature(*to),
            units.temperature(*asked)
        ),
        NotBorne::Moisture { bears: (dry, wet), asked } => {
            format!("it takes wood of {dry} to {wet} % moisture, and a stick has {asked:.0} %")
        }
    }
}

/// What a store was counted from: the sum written out.
pub fn counted(from: &CountedFrom, units: Units) -> String {
    match from {
        CountedFrom::Bead { length, section } => match units.imperial() {
            true => {
                let bead = section / (MM_PER_INCH * MM_PER_INCH);
                format!("{} of bead, {bead:.3} sq in in section", units.show(*length))
            }
            false => format!("{} of bead, {section} mm² in section", units.show(*length)),
        },
        CountedFrom::Spread { area, rate } => {
            format!("{} of joint by {}", units.area(*area), units.coat(*rate))
        }
        CountedFrom::Fillets { length, mean } => format!(
            "{} of fillet, {} in section on average: r² (1/tan(a/2) - (pi - a)/2)",
            units.show(*length),
            match units.imperial() {
                true => format!("{:.2} sq in", mean / (MM_PER_INCH * MM_PER_INCH)),
                false => format!("{mean:.0} mm²"),
            }
        ),
        CountedFrom::Runs { runs, roll } => format!(
            "{} with their laps, side by side where they fit, from a roll {} wide",
            so_many(*runs, "run", "runs"),
            units.show(*roll)
        ),
        CountedFrom::Tape { length, width } => {
            format!("{} of seam, tape {} wide", units.show(*length), units.show(*width))
        }
        CountedFrom::Cloth { kg, rate } => {
            let rate = match units.imperial() {
                true => format!("{:.1} fl oz a lb", rate * OUNCES_PER_LITRE * KG_PER_POUND),
                false => format!("{rate:.2} l a kg"),
            };
            format!("{} of cloth by {rate}", units.mass(*kg))
        }
        CountedFrom::Weave { area, coats, rate } => {
            let coats = so_many(*coats as usize, "coat", "coats");
            format!("{} by {coats} of {}", units.area(*area), spread(*rate, units))
        }
        CountedFrom::Fastened { edges, apart, alone } => {
            let alone = if *alone > 0 { format!(", and {alone} in joints") } else { String::new() };
            format!(
                "{} of edge, {} apart, one more at each end{alone}",
                units.show(*edges),
                units.show(*apart)
            )
        }
        CountedFrom::Paint { area, coats, rate } => {
            let coats = so_many(*coats as usize, "coat", "coats");
            let rate = match units.imperial() {
                true => format!("{:.0} sq ft a gallon", rate * LITRES_PER_GALLON / M2_PER_SQ_FT),
                false => format!("{rate} m² a litre"),
            };
            format!("{} by {coats}, {rate}", units.area(*area))
        }
        CountedFrom::Fairing { area, rate } => {
            format!("{} by {}", units.area(*area), spread(*rate, units))
        }
        CountedFrom::Foam { volume } => format!("blocks of {}", units.volume(volume * 1e-6)),
        CountedFrom::UsedUp { amount, lasts, coat: true } => {
            let square = |m2: f64| units.area(m2 * 1e6);
            format!("{} of coats, one for each {}", square(*amount), square(*lasts))
        }
        CountedFrom::UsedUp { amount, lasts, coat: false } => {
            let each = match units.imperial() {
                true => units.liquid(*lasts),
                false => format!("{lasts} l"),
            };
            format!("{} mixed, one for each {each}", units.liquid(*amount))
        }
        CountedFrom::Stirred { litres, rate } => {
            format!("{} of epoxy, by volume {rate} of it to 1", units.liquid(*litres))
        }
        CountedFrom::Each { places } => so_many(*places as usize, "place", "places"),
    }
}

/// What a line was counted from, and what of it is lost.
pub fn with_loss(l: &Line, units: Units) -> String {
    match l.waste_pct {
        0.0 => counted(&l.from, units),
        pct => format!("{}; {pct:.0} % for loss", counted(&l.from, units)),
    }
}

/// What a surface takes, given in litres a m².
fn spread(rate: f64, units: Units) -> String {
    match units.imperial() {
        true => format!("{:.2} fl oz a sq ft", rate * OUNCES_PER_LITRE * M2_PER_SQ_FT),
        false => format!("{rate:.3} l a m²"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half a gallon of three coats, and 100 ft² a quart: published figures of coverage in their
    /// own units (0.0025 gallons a ft² and coat are 0.32 fl oz; 400 ft² a gallon 9.8 m² a litre).
    #[test]
    fn rates_are_told_in_the_reader_s_units() {
        let feet = Units::FeetInchesEighths;
        let area = 100.0 * M2_PER_SQ_FT * 1e6;
        let weave =
            CountedFrom::Weave { area, coats: 3, rate: 0.0025 * LITRES_PER_GALLON / M2_PER_SQ_FT };
        assert_eq!(counted(&weave, feet), "100.0 sq ft by 3 coats of 0.32 fl oz a sq ft");
        let paint = CountedFrom::Paint { area, coats: 2, rate: 9.817 };
        assert_eq!(counted(&paint, feet), "100.0 sq ft by 2 coats, 400 sq ft a gallon");
        assert_eq!(counted(&paint, Units::Mm), "9.29 m² by 2 coats, 9.817 m² a litre");
        for from in [
            CountedFrom::Bead { length: 1000.0, section: 44.0 },
            CountedFrom::Spread { area: 1e6, rate: 0.3 },
            CountedFrom::Fillets { length: 1000.0, mean: 35.0 },
            CountedFrom::Cloth { kg: 2.0, rate: 0.888 },
            CountedFrom::Fairing { area: 1e6, rate: 0.3 },
            CountedFrom::Foam { volume: 1e8 },
            CountedFrom::UsedUp { amount: 50.0, lasts: 8.0, coat: true },
            CountedFrom::UsedUp { amount: 5.0, lasts: 0.25, coat: false },
            CountedFrom::Stirred { litres: 1.0, rate: 1.0 },
        ] {
            let words = counted(&from, feet);
            let metric = ["m²", "kg", "litre", " l ", "mm"];
            assert!(!metric.iter().any(|m| words.contains(m)), "{words}");
        }
    }
}
