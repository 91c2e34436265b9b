//! Figures as builders type them: lengths, angles, masses, power, cloth, temperature.

use crate::hull::stock::{LumberPrice, SoldBy};
use crate::units::{KG_PER_POUND, MM_PER_FOOT, Units, parse_length};

/// What stands in a field for a price that nobody said.
pub const NOT_KNOWN: &str = "not known";
/// No price in a list is higher.
const DEAREST: f64 = 100_000.0;

/// A length as it is typed at a figure: as a table has it, and where feet and inches are shown
/// also `5-6` for 5 ft 6 in and `15/32` or `3 1/2` for inches.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_typed(text: &str, units: Units) -> Result<f64, String> {
    let t = text.trim();
    let read = parse_length(t, units);
    if read.is_ok() || !units.imperial() {
        return read;
    }
    let two = t.split_once('-').filter(|(f, i)| {
        let whole = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
        whole(f) && whole(i)
    });
    match two {
        Some(_) => parse_length(&format!("{t}-0"), Units::FeetInchesEighths).or(read),
        None if t.contains('/') => parse_length(t, Units::Inch).or(read),
        None => read,
    }
}

/// Degrees as typed, in radians.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_degrees(text: &str) -> Result<f64, String> {
    let body = text.trim().trim_end_matches(['°', 'º']).trim_end_matches("deg").trim();
    let degrees: Result<f64, _> = body.replace(',', ".").parse();
    match degrees {
        Ok(d) if d.is_finite() && d.abs() < 90.0 => Ok(d.to_radians()),
        _ => Err(format!(
            "{text:?} is not an angle; accepted: degrees such as 12 or 12.5°, under 90"
        )),
    }
}

/// A number with its unit left out or written behind it, in a range.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_number(
    text: &str,
    unit: &str,
    range: std::ops::RangeInclusive<f64>,
) -> Result<f64, String> {
    let body = text.trim().trim_end_matches(unit).trim().replace(',', ".");
    match body.parse::<f64>() {
        Ok(v) if range.contains(&v) => Ok(v),
        _ => Err(format!(
            "{text:?} is not accepted; accepted: {} to {} {unit}",
            range.start(),
            range.end()
        )),
    }
}

/// A temperature as typed, in °C: the reader's degrees unless C or F is written behind it. The
/// range is in °C.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_temperature(
    text: &str,
    units: Units,
    range: std::ops::RangeInclusive<f64>,
) -> Result<f64, String> {
    let typed = text.trim().to_ascii_uppercase();
    let body = typed.trim_end_matches(['C', 'F']).trim_end_matches('°').trim().replace(',', ".");
    let fahrenheit = typed.ends_with('F') || units.imperial() && !typed.ends_with('C');
    let celsius = |v: f64| if fahrenheit { (v - 32.0) / 1.8 } else { v };
    match body.parse::<f64>().map(celsius) {
        Ok(v) if range.contains(&v) => Ok(v),
        _ => Err(format!(
            "{text:?} is not accepted; accepted: {} to {}",
            units.temperature(*range.start()),
            units.temperature(*range.end())
        )),
    }
}

/// A mass as typed, in kg: pounds where the reader's scales show them, unless kg is written
/// behind it, and the other way about. The range is in kg.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_mass(
    text: &str,
    units: Units,
    range: std::ops::RangeInclusive<f64>,
) -> Result<f64, String> {
    let t = text.trim();
    let pounds = t.ends_with("lb") || units.imperial() && !t.ends_with("kg");
    let in_one = if pounds { KG_PER_POUND } else { 1.0 };
    let shown = range.start() / in_one..=range.end() / in_one;
    parse_number(t, if pounds { "lb" } else { "kg" }, shown).map(|v| v * in_one)
}

/// A motor's power as typed, in hp: bare or with hp, or in kW.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_power(text: &str) -> Result<f64, String> {
    const HP_PER_KW: f64 = 1000.0 / crate::float::power::HORSEPOWER;
    let t = text.trim();
    let kilowatts = t.strip_suffix("kW").or_else(|| t.strip_suffix("kw"));
    let read = match kilowatts {
        // To a hundredth: no motor is told to more.
        Some(kw) => {
            parse_number(kw, "kW", 0.3..=112.0).map(|kw| (100.0 * kw * HP_PER_KW).round() / 100.0)
        }
        None => parse_number(t, "hp", 0.5..=150.0),
    };
    read.map_err(|_| format!("{text:?} is not accepted; accepted: 0.5 to 150 hp, or as 4.5 kW"))
}

/// Weight of dry cloth as typed, in g/m²: in oz/sq yd where the reader's units are feet and
/// inches or `oz` is written behind it.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_cloth(text: &str, units: Units) -> Result<f64, String> {
    /// NIST SP 811, appendix B.8.
    const PER_OUNCE: f64 = 33.905_75;
    let t = text.trim();
    let ounces = t.contains("oz") || units.imperial() && !t.contains('g');
    if ounces {
        let body = t.split("oz").next().unwrap_or(t);
        parse_number(body, "oz/sq yd", 0.0..=59.0).map(|oz| oz * PER_OUNCE)
    } else {
        parse_number(t.split('g').next().unwrap_or(t), "g/m²", 0.0..=2000.0)
    }
}

/// A price as typed, in the document's currency; nothing where it is not known.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_price(text: &str, currency: &str) -> Result<Option<f64>, String> {
    match text.trim() {
        "" | NOT_KNOWN => Ok(None),
        t => parse_number(t, currency, 0.0..=DEAREST).map(Some),
    }
}

/// A price as its field shows it.
pub fn price_shown(price: Option<f64>) -> String {
    price.map_or(NOT_KNOWN.into(), |p| format!("{p:.2}"))
}

/// A price of lumber as typed: bare by the metre or the foot, whichever the yard sells by, or with what it is for behind it; nothing where it is not known.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_lumber_price(
    text: &str,
    currency: &str,
    sizes: SoldBy,
) -> Result<Option<LumberPrice>, String> {
    let typed = text.trim();
    if matches!(typed, "" | NOT_KNOWN) {
        return Ok(None);
    }
    let bare = if currency.is_empty() { typed.to_string() } else { typed.replace(currency, " ") };
    let bare = bare.trim();
    let end = bare.find(|c: char| !(c.is_ascii_digit() || ".,".contains(c))).unwrap_or(bare.len());
    let (figure, of) = bare.split_at(end);
    let of = of.trim().trim_start_matches('/');
    let of = ["a ", "per "].iter().fold(of, |of, w| of.strip_prefix(w).unwrap_or(of)).trim();
    let foot = |p: f64| LumberPrice::PerMetre(p * 1000.0 / MM_PER_FOOT);
    let price = figure.replace(',', ".").parse().ok().filter(|p| (0.0..=DEAREST).contains(p));
    let read = price.and_then(|p: f64| match of {
        "" if sizes == SoldBy::Feet => Some(foot(p)),
        "" | "m" | "metre" | "meter" => Some(LumberPrice::PerMetre(p)),
        "ft" | "foot" => Some(foot(p)),
        "each" => Some(LumberPrice::Each(p)),
        _ => None,
    });
    read.map(Some).ok_or_else(|| {
        format!("{text:?} is no price; accepted: 0 to 100000 a metre, a foot or each")
    })
}

/// A price of lumber as its field shows it.
pub fn lumber_price_shown(price: Option<LumberPrice>, sizes: SoldBy) -> String {
    match price {
        None => NOT_KNOWN.into(),
        Some(LumberPrice::Each(p)) => format!("{p:.2} each"),
        Some(LumberPrice::PerMetre(p)) if sizes == SoldBy::Feet => {
            format!("{:.2} a foot", p * MM_PER_FOOT / 1000.0)
        }
        Some(LumberPrice::PerMetre(p)) => format!("{p:.2} a metre"),
    }
}

/// How many lie in the shop, as typed.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_count(text: &str) -> Result<u32, String> {
    match text.trim().parse() {
        Ok(n) if n <= 500 => Ok(n),
        _ => Err(format!("{text:?} is no number of them; accepted: 0 to 500")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lumber_is_priced_as_its_yard_sells_it() {
        let feet = SoldBy::Feet;
        let read = |t: &str, sizes| parse_lumber_price(t, "EUR", sizes);
        let near = |read: Result<Option<LumberPrice>, String>, metre: f64| match read {
            Ok(Some(LumberPrice::PerMetre(p))) => (p - metre).abs() < 1e-9,
            _ => false,
        };
        for text in ["2.4", "2,40 EUR", "2.40 a metre", "2.40/m", "EUR 2.4 per metre"] {
            assert!(near(read(text, SoldBy::Metres), 2.4), "{text}");
        }
        // By the international foot of 304.8 mm.
        assert!(
            near(read("0.75", feet), 0.75 / 0.3048)
                && near(read("0.75 ft", SoldBy::Metres), 0.75 / 0.3048)
        );
        assert!(near(read("2.40 a metre", feet), 2.4));
        assert_eq!(read("7 each", feet), Ok(Some(LumberPrice::Each(7.0))));
        assert_eq!((read("", feet), read(NOT_KNOWN, feet)), (Ok(None), Ok(None)));
        for text in ["dear", "-3", "7 a pound", "each", "1e9"] {
            assert!(read(text, SoldBy::Metres).is_err(), "{text}");
        }
        for sizes in SoldBy::ALL {
            for price in [LumberPrice::PerMetre(2.5), LumberPrice::Each(7.25)] {
                let shown = lumber_price_shown(Some(price), sizes);
                let again = read(&shown, sizes).expect("as it is shown");
                assert_eq!(lumber_price_shown(again, sizes), shown);
            }
        }
    }

    #[test]
    fn lengths_are_typed_as_feet_and_inches_or_a_fraction() {
        let feet = Units::FeetInchesEighths;
        let near = |t: &str, inches: f64| {
            parse_typed(t, feet).is_ok_and(|mm| (mm - 25.4 * inches).abs() < 1e-9)
        };
        assert!(near("5-6", 66.0) && near("5-6-4", 66.5) && near("14 ft 3 in", 171.0));
        assert!(near("15/32", 0.46875) && near("3 1/2", 3.5) && near("14'", 168.0));
        assert!(parse_typed("5-13", feet).is_err() && parse_typed("6", feet).is_err());
        assert!(parse_typed("5-6", Units::Mm).is_err());
    }

    #[test]
    fn weights_and_power_are_typed_in_either_unit() {
        let near = |a: Result<f64, String>, b: f64| a.is_ok_and(|a| (a - b).abs() < 1e-3 * b);
        let feet = Units::FeetInchesEighths;
        assert!(near(parse_mass("200 lb", Units::Mm, 0.0..=500.0), 90.718));
        assert!(near(parse_mass("200", feet, 0.0..=500.0), 90.718));
        assert!(near(parse_mass("75 kg", feet, 0.0..=500.0), 75.0));
        assert!(near(parse_cloth("6", feet), 203.43) && near(parse_cloth("200 g/m²", feet), 200.0));
        assert!(near(parse_cloth("6 oz/sq yd", Units::Mm), 203.43));
        assert!(near(parse_power("4.5 kW"), 6.03) && near(parse_power("9.8 hp"), 9.8));
        assert!(parse_power("six").is_err() && parse_cloth("thick", Units::Mm).is_err());
    }

    #[test]
    fn numbers_carry_their_unit_or_not() {
        for text in ["6", "6 hp", " 6,0hp"] {
            assert_eq!(parse_number(text, "hp", 0.5..=150.0), Ok(6.0), "{text}");
        }
        for text in ["", "hp", "0", "900 hp", "NaN"] {
            assert!(parse_number(text, "hp", 0.5..=150.0).is_err(), "{text}");
        }
    }

    #[test]
    fn masses_are_read_off_the_reader_s_scales() {
        let (metric, loft) = (Units::Mm, Units::FeetInchesEighths);
        for (text, units, kg) in [
            ("80", metric, 80.0),
            ("80 kg", loft, 80.0),
            ("100", loft, 45.359_237),
            ("100 lb", metric, 45.359_237),
        ] {
            let found = parse_mass(text, units, 0.1..=5000.0).expect(text);
            assert!((found - kg).abs() < 1e-9, "{text}: {found}");
        }
        assert!(parse_mass("12000", loft, 0.1..=5000.0).is_err());
    }

    #[test]
    fn angles_are_read_as_people_write_them() {
        for text in ["12.5", "12,5", " 12.5°", "12.5 deg"] {
            assert!((parse_degrees(text).expect(text) - 12.5f64.to_radians()).abs() < 1e-12);
        }
        for text in ["", "steep", "90", "NaN"] {
            assert!(parse_degrees(text).is_err(), "{text}");
        }
    }

    #[test]
    fn warmth_is_typed_in_either_degree() {
        let read = |t: &str, units| parse_temperature(t, units, -10.0..=50.0);
        for (text, units) in [
            ("20", Units::Mm),
            ("20 °C", Units::FeetInchesEighths),
            ("68", Units::FeetInchesEighths),
            ("68°F", Units::Mm),
        ] {
            assert!(read(text, units).is_ok_and(|c| (c - 20.0).abs() < 1e-9), "{text}");
        }
        assert!(read("68", Units::Mm).is_err() && read("warm", Units::Mm).is_err());
    }
}
