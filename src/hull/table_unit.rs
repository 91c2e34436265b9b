//! The unit of a table's bare numbers.

use crate::tol::COORDINATE_STEP_MM;
use crate::units::{MM_PER_FOOT, Units, parse_length};

/// The words that a table may use for its unit, as a message lists them.
pub(super) const UNIT_WORDS: &str = "mm, cm, m, in, ft, ft-in-8";

/// What a bare number of a table means. A number with a unit of its own keeps that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum TableUnit {
    /// A unit that lengths are shown in.
    Shown(Units),
    /// Centimetres, which plans use and sheets of this program do not.
    Cm,
    /// Feet with decimals.
    Feet,
}

impl TableUnit {
    /// Millimetres: what a table is in that says nothing.
    pub(super) const MM: TableUnit = TableUnit::Shown(Units::Mm);

    /// The unit of a word, in lower case.
    pub(super) fn from_word(word: &str) -> Option<TableUnit> {
        Some(match word {
            "cm" | "centimetre" | "centimetres" => TableUnit::Cm,
            "ft" | "foot" | "feet" | "'" => TableUnit::Feet,
            "millimetre" | "millimetres" => TableUnit::MM,
            "metre" | "metres" => TableUnit::Shown(Units::M),
            "inch" | "inches" | "\"" => TableUnit::Shown(Units::Inch),
            "feet-inches-eighths" | "ft-in-eighths" => TableUnit::Shown(Units::FeetInchesEighths),
            // Fractions are no unit of a table: inches read them too.
            word => TableUnit::Shown(Units::from_word(word).filter(|u| *u != Units::InchFraction)?),
        })
    }

    /// A cell as mm, to [`COORDINATE_STEP_MM`].
    ///
    /// # Errors
    /// A sentence that names the text and what would be accepted.
    pub(super) fn read(self, cell: &str) -> Result<f64, String> {
        let scaled = |scale: f64| match cell.parse::<f64>() {
            Ok(bare) if bare.is_finite() => Ok(bare * scale),
            _ => parse_length(cell, self.shown()),
        };
        match self {
            TableUnit::Shown(unit) => parse_length(cell, unit),
            TableUnit::Cm => scaled(10.0),
            TableUnit::Feet => scaled(MM_PER_FOOT),
        }
        .map(to_step)
    }

    /// How a boat of this table shows her lengths.
    pub(super) fn shown(self) -> Units {
        match self {
            TableUnit::Shown(unit) => unit,
            TableUnit::Cm => Units::Mm,
            TableUnit::Feet => Units::FeetInchesEighths,
        }
    }
}

/// A coordinate (mm) to [`COORDINATE_STEP_MM`]: the nearest number that is written with so many
/// decimals, never -0.
pub(super) fn to_step(mm: f64) -> f64 {
    // Divided by a whole number, as a decimal fraction is read; a millionth is none itself.
    let steps_per_mm = COORDINATE_STEP_MM.recip().round();
    (mm * steps_per_mm).round() / steps_per_mm + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bare_numbers_follow_the_table_and_others_their_own_unit() {
        let read = |word: &str, cell: &str| {
            let unit = TableUnit::from_word(word).expect(word);
            unit.read(cell)
        };
        assert_eq!(read("mm", "310"), Ok(310.0));
        assert_eq!(read("cm", "31.5"), Ok(315.0));
        assert_eq!(read("cm", "40 mm"), Ok(40.0));
        assert_eq!(read("metres", "0.31"), Ok(310.0));
        assert_eq!(read("inches", "12 3/8"), Ok(314.325));
        assert_eq!(read("inches", "39"), Ok(990.6), "39 × 25.4 is less in floating point");
        assert!(read("inches", "-0").is_ok_and(f64::is_sign_positive));
        assert_eq!(read("ft", "1.5"), Ok(457.2));
        assert_eq!(read("ft-in-8", "1-0-3"), Ok(314.325));
        assert_eq!(read("ft-in-8", "1-0-3+"), Ok(315.9125));
        assert_eq!(read("ft-in-8", "1-0-3-"), Ok(312.7375), "a sixteenth less");
        for bad in ["wide", "inf", "1e999", ""] {
            let error = read("cm", bad).expect_err(bad);
            assert!(error.contains("is not a length"), "{error}");
        }
        assert_eq!(TableUnit::from_word("furlong"), None);
        assert_eq!(TableUnit::from_word("in-16"), None);
    }
}
