//! Lengths in and out of text. Inside, every length is millimetres in `f64`.
//!
//! Read: plain numbers in a given unit, `1.2 m`, `12.5in`, `3/4"`, `1 3/4 in`, `4'-6 1/2"`,
//! and the loft's feet-inches-eighths `2-4-3+` (2 ft 4 in and 3/8, the plus one sixteenth
//! more; a minus there one sixteenth less). Written: 1 mm, 1/16 in, or eighths with a plus.

use serde::{Deserialize, Serialize};

mod figures;
mod quantities;
pub mod short;

/// Millimetres in an inch, exact by definition (international yard and pound, 1959).
pub const MM_PER_INCH: f64 = 25.4;
/// Millimetres in a foot.
pub const MM_PER_FOOT: f64 = 304.8;
/// Kilograms in a pound, exact by the same agreement.
pub const KG_PER_POUND: f64 = 0.453_592_37;
/// Litres in a US gallon, by definition (NIST SP 811).
pub const LITRES_PER_GALLON: f64 = 3.785_411_784;
/// Standard gravity, m/s² (3rd CGPM, 1901).
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// How lengths are shown to the builder, or read from a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Units {
    /// Whole millimetres.
    #[default]
    Mm,
    /// Metres to the millimetre.
    M,
    /// Decimal inches.
    Inch,
    /// Inches and fractions to 1/16.
    InchFraction,
    /// The loft's feet-inches-eighths, plus for a sixteenth more.
    FeetInchesEighths,
}

impl Units {
    /// All of them, in the order in which a menu shows them.
    pub const ALL: [Units; 5] =
        [Units::Mm, Units::M, Units::Inch, Units::InchFraction, Units::FeetInchesEighths];

    /// The word for it in files and on the command line.
    pub fn word(self) -> &'static str {
        match self {
            Units::Mm => "mm",
            Units::M => "m",
            Units::Inch => "in",
            Units::InchFraction => "in-16",
            Units::FeetInchesEighths => "ft-in-8",
        }
    }

    /// The unit of that word, as the `unit` row of an offsets table has it.
    pub fn from_word(word: &str) -> Option<Units> {
        Units::ALL.into_iter().find(|u| u.word() == word)
    }

    /// A length in mm as text with its unit, to the precision a builder can use.
    pub fn show(self, mm: f64) -> String {
        match self {
            Units::Mm => format!("{} mm", whole_mm(mm)),
            Units::M => format!("{:.3} m", tidy_zero(mm / 1000.0, 3)),
            Units::Inch => format!("{:.2} in", tidy_zero(mm / MM_PER_INCH, 2)),
            Units::InchFraction => format!("{}\"", inch_fraction(mm)),
            Units::FeetInchesEighths => feet_inches_eighths(mm),
        }
    }

    /// What [`Units::show`] rounds to, mm.
    pub fn step(self) -> f64 {
        match self {
            Units::Mm | Units::M => 1.0,
            Units::Inch => 0.01 * MM_PER_INCH,
            Units::InchFraction | Units::FeetInchesEighths => MM_PER_INCH / 16.0,
        }
    }

    /// Whether the builder's tape, scales and spring balance are in inches and pounds.
    pub fn imperial(self) -> bool {
        matches!(self, Units::Inch | Units::InchFraction | Units::FeetInchesEighths)
    }

    /// A thickness, a bevel's run or a tolerance: tenths of a millimetre, or inches to 1/32.
    pub fn fine(self, mm: f64) -> String {
        match self {
            Units::Mm | Units::M => format!("{:.1} mm", tidy_zero(mm, 1)),
            Units::Inch => format!("{:.3} in", tidy_zero(mm / MM_PER_INCH, 3)),
            Units::InchFraction | Units::FeetInchesEighths => {
                format!("{}\"", inch_parts(mm, 32))
            }
        }
    }

    /// The measured thickness of a sheet: tenths of a millimetre, or thousandths of an inch,
    /// as a caliper has it. A thirty-second would make 6 mm a quarter of an inch.
    pub fn gauge(self, mm: f64) -> String {
        if self.imperial() { self.accuracy(mm) } else { self.fine(mm) }
    }

    /// How exact something is: hundredths of a millimetre, or thousandths of an inch.
    pub fn accuracy(self, mm: f64) -> String {
        if self.imperial() {
            format!("{:.3} in", tidy_zero(mm / MM_PER_INCH, 3))
        } else {
            format!("{:.2} mm", tidy_zero(mm, 2))
        }
    }

    /// The section of a stick, thickness by width: whole millimetres, or inches to 1/16.
    pub fn section(self, thickness: f64, width: f64) -> String {
        match self {
            Units::Mm | Units::M => format!("{} x {} mm", whole_mm(thickness), whole_mm(width)),
            Units::Inch => format!(
                "{:.2} x {:.2} in",
                tidy_zero(thickness / MM_PER_INCH, 2),
                tidy_zero(width / MM_PER_INCH, 2)
            ),
            Units::InchFraction | Units::FeetInchesEighths => {
                format!("{}\" x {}\"", inch_fraction(thickness), inch_fraction(width))
            }
        }
    }

    /// A radius of bending: metres to the centimetre (millimetres under 1 m), or feet.
    pub fn radius(self, mm: f64) -> String {
        if self.imperial() {
            format!("{:.1} ft", mm / MM_PER_FOOT)
        } else if mm < 1000.0 {
            format!("{} mm", whole_mm(mm))
        } else {
            format!("{:.2} m", mm / 1000.0)
        }
    }

    /// What the loft's notation means, for the foot of a sheet that uses it.
    pub fn explained(self) -> Option<&'static str> {
        (self == Units::FeetInchesEighths)
            .then_some("2-7-4+ is 2 feet 7 inches and 4 eighths; the plus is one sixteenth more")
    }
}

/// An angle in radians as degrees to the half that a bevel gauge shows.
pub fn half_degrees(radians: f64) -> String {
    format!("{:.1}°", tidy_zero((2.0 * radians.to_degrees()).round() / 2.0, 1))
}

/// Whole millimetres without their unit, halves away from zero: the one rounding of every
/// sheet and list.
pub fn whole_mm(mm: f64) -> String {
    format!("{:.0}", tidy_zero(mm, 0))
}

/// Rounds to `places` and turns a negative zero into zero: what is shown is never -0.
pub fn tidy_zero(value: f64, places: i32) -> f64 {
    let scale = 10f64.powi(places);
    let rounded = (value * scale).round() / scale;
    if rounded == 0.0 { 0.0 } else { rounded }
}

/// Inches and sixteenths, the fraction reduced: 19.05 mm is `3/4`, 44.45 mm is `1 3/4`.
pub fn inch_fraction(mm: f64) -> String {
    inch_parts(mm, 16)
}

/// Inches and parts of one, `parts` to the inch (a power of two), the fraction reduced.
fn inch_parts(mm: f64, parts: i64) -> String {
    let rounded = (mm / MM_PER_INCH * parts as f64).round() as i64;
    let sign = if rounded < 0 { "-" } else { "" };
    let (inches, part) = (rounded.abs() / parts, rounded.abs() % parts);
    if part == 0 {
        return format!("{sign}{inches}");
    }
    let mut numerator = part;
    let mut denominator = parts;
    while numerator % 2 == 0 {
        numerator /= 2;
        denominator /= 2;
    }
    if inches == 0 {
        format!("{sign}{numerator}/{denominator}")
    } else {
        format!("{sign}{inches} {numerator}/{denominator}")
    }
}

/// The loft's notation to one sixteenth: 724 mm is `2-4-4`; a plus is one sixteenth more.
pub fn feet_inches_eighths(mm: f64) -> String {
    let sixteenths = (mm / MM_PER_INCH * 16.0).round() as i64;
    let sign = if sixteenths < 0 { "-" } else { "" };
    let n = sixteenths.abs();
    let (feet, rest) = (n / 192, n % 192);
    let (inches, rest) = (rest / 16, rest % 16);
    let plus = if rest % 2 == 1 { "+" } else { "" };
    format!("{sign}{feet}-{inches}-{}{plus}", rest / 2)
}

/// Reads a length; a bare number is in `unit`. Returns mm.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_length(text: &str, unit: Units) -> Result<f64, String> {
    let accepted = "a length such as 1240, 1.24 m, 48.8 in, 3/4\", 4'-6 1/2\" or 2-4-3+";
    let fail = || format!("{:?} is not a length; accepted: {accepted}", short::shortened(text));
    let t = text.trim().replace(['\u{2019}', '\u{2032}'], "'");
    let t = t.replace(['\u{201d}', '\u{2033}'], "\"").replace("''", "\"");
    if t.is_empty() || t.starts_with("--") {
        return Err(fail());
    }
    let (negative, body) = match t.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, t.as_str()),
    };
    let magnitude = parse_magnitude(body, unit).ok_or_else(fail)?;
    if !magnitude.is_finite() {
        return Err(fail());
    }
    Ok(if negative { -magnitude } else { magnitude })
}

fn parse_magnitude(t: &str, unit: Units) -> Option<f64> {
    for (suffix, scale) in [("mm", 1.0), ("cm", 10.0), ("m", 1000.0)] {
        if let Some(number) = t.strip_suffix(suffix) {
            return number_of(number.trim()).map(|n| n * scale);
        }
    }
    if let Some((feet, rest)) = t.split_once('\'').or_else(|| t.split_once("ft")) {
        let feet = number_of(feet.trim())?;
        let rest = rest.trim().trim_start_matches('-').trim();
        let inches = if rest.is_empty() {
            0.0
        } else {
            let rest = rest.trim_end_matches('"').trim_end_matches("in").trim();
            mixed_number(rest)?
        };
        return Some(feet * MM_PER_FOOT + inches * MM_PER_INCH);
    }
    if let Some(inches) = t.strip_suffix('"').or_else(|| t.strip_suffix("in")) {
        return mixed_number(inches.trim()).map(|n| n * MM_PER_INCH);
    }
    if t.trim_end_matches('-').matches('-').count() == 2 {
        return eighths(t);
    }
    match unit {
        Units::Mm => number_of(t),
        Units::M => number_of(t).map(|n| n * 1000.0),
        Units::Inch | Units::InchFraction => mixed_number(t).map(|n| n * MM_PER_INCH),
        // A lone zero is what a table of offsets has on the centreline.
        Units::FeetInchesEighths => number_of(t).filter(|n| *n == 0.0),
    }
}

fn number_of(t: &str) -> Option<f64> {
    // "inf" and "nan" parse as floats but are no lengths.
    if !t.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'e' | b'E' | b'-' | b'+')) {
        return None;
    }
    t.parse().ok()
}

fn mixed_number(t: &str) -> Option<f64> {
    let fraction = |t: &str| -> Option<f64> {
        match t.split_once('/') {
            Some((n, d)) => {
                let d = number_of(d.trim())?;
                (d > 0.0).then_some(number_of(n.trim())? / d)
            }
            None => number_of(t),
        }
    };
    match t.split_once([' ', '-']) {
        Some((whole, part)) if part.contains('/') => {
            Some(number_of(whole.trim())? + fraction(part.trim())?)
        }
        _ => fraction(t),
    }
}

fn eighths(t: &str) -> Option<f64> {
    let (t, plus) = match (t.strip_suffix('+'), t.strip_suffix('-')) {
        (Some(rest), _) => (rest, 1.0),
        (None, Some(rest)) => (rest, -1.0),
        (None, None) => (t, 0.0),
    };
    let mut parts = t.split('-').map(|p| p.trim().parse::<u32>().ok());
    let (feet, inches, eighths) = (parts.next()??, parts.next()??, parts.next()??);
    if inches > 11 || eighths > 7 || parts.next().is_some() {
        return None;
    }
    let inches = f64::from(feet) * 12.0 + f64::from(inches) + f64::from(eighths) / 8.0;
    Some((inches + plus / 16.0) * MM_PER_INCH)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> f64 {
        parse_length(text, Units::Mm).expect(text)
    }

    #[test]
    fn reads_what_builders_write() {
        assert_eq!(mm("1240"), 1240.0);
        assert_eq!(mm("-12.5"), -12.5);
        assert_eq!(mm("1.24 m"), 1240.0);
        assert!((mm("3/4\"") - 19.05).abs() < 1e-12);
        assert!((mm("1 3/4 in") - 44.45).abs() < 1e-12);
        assert!((mm("4'-6 1/2\"") - 1384.3).abs() < 1e-9);
        assert!((mm("4' 6\"") - 1371.6).abs() < 1e-9);
        assert!((mm("2-4-3+") - (28.0 + 7.0 / 16.0) * 25.4).abs() < 1e-9);
        assert_eq!(parse_length("2", Units::M), Ok(2000.0));
    }

    #[test]
    fn refuses_what_is_no_length() {
        for bad in ["", "x", "NaN", "inf", "3/0 in", "2-13-0", "2-4-9", "1,5", "--3"] {
            let error = parse_length(bad, Units::Mm).expect_err(bad);
            assert!(error.contains("accepted"), "{error}");
        }
    }

    #[test]
    fn loft_notation_goes_round_to_a_sixteenth() {
        for sixteenths in 0..2000 {
            let mm = f64::from(sixteenths) / 16.0 * MM_PER_INCH;
            let text = feet_inches_eighths(mm);
            let back = parse_length(&text, Units::FeetInchesEighths).expect("own text");
            assert!((back - mm).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn shows_lengths_to_the_precision_of_the_shop() {
        assert_eq!(Units::Mm.show(1240.4), "1240 mm");
        assert_eq!(Units::Mm.show(-0.2), "0 mm");
        assert_eq!(Units::InchFraction.show(44.45), "1 3/4\"");
        assert_eq!(Units::FeetInchesEighths.show(722.3125), "2-4-3+");
    }

    /// What hangs on a spring balance, is sawn with a rule in inches or bent by the foot.
    #[test]
    fn sections_masses_forces_and_radii_follow_the_tape() {
        let (metric, loft) = (Units::Mm, Units::FeetInchesEighths);
        assert_eq!(metric.section(19.0, 38.0), "19 x 38 mm");
        assert_eq!(loft.section(19.05, 38.1), "3/4\" x 1 1/2\"");
        assert_eq!(loft.fine(11.90625), "15/32\"");
        assert_eq!(metric.fine(11.9), "11.9 mm");
        assert_eq!(metric.accuracy(0.0391), "0.04 mm");
        assert_eq!(loft.accuracy(0.0391), "0.002 in");
        assert_eq!(metric.area(1_858_060.8), "1.86 m²");
        assert_eq!(loft.area(1_858_060.8), "20.0 sq ft");
        assert_eq!(loft.mass(100.0), "220 lb");
        assert_eq!(metric.mass(7.04), "7.0 kg");
        assert_eq!(loft.force(444.822_161_5), "100 lbf");
        assert_eq!(loft.radius(914.4), "3.0 ft");
        assert_eq!(metric.radius(2438.0), "2.44 m");
        assert_eq!(loft.density(1000.0), "62.4 lb/cu ft");
        assert_eq!(metric.density(450.0), "450 kg/m³");
        // 1 oz/sq yd is 33.906 g/m², 1 lb/sq ft 4.88243 kg/m², 1 psi 6894.757 Pa (NIST SP 811).
        assert_eq!(loft.cloth(200.0), "5.9 oz/sq yd");
        assert_eq!(metric.cloth(200.0), "200 g/m²");
        assert_eq!(loft.coat(0.06), "0.012 lb/sq ft");
        assert_eq!(metric.coat(0.06), "0.06 kg/m²");
        assert_eq!(loft.stress(10.0), "1450 psi");
        assert_eq!(metric.stress(10.0), "10.0 N/mm²");
        assert_eq!(loft.pressure(0.0069), "1.0 psi");
        assert_eq!(metric.pressure(0.0069), "7 kPa");
        assert_eq!(
            (loft.volume(28.316_85), loft.area(929_030.4)),
            ("1.0 cu ft".into(), "10.0 sq ft".into())
        );
        assert_eq!(
            (metric.volume(118.2), metric.area(3.12e6)),
            ("118 litres".into(), "3.12 m²".into())
        );
        assert!(loft.explained().is_some() && metric.explained().is_none());
    }
}
