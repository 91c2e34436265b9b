//! Lengths in the cells of a table, whose head names the unit.

use super::{
    MM_PER_INCH, Units, feet_inches_eighths, inch_fraction, inch_parts, tidy_zero, whole_mm,
};

impl Units {
    /// A length in mm as [`Units::show`] has it, without its unit: a cell of a table whose
    /// head names the unit.
    pub fn figure(self, mm: f64) -> String {
        match self {
            Units::Mm => whole_mm(mm),
            Units::M => format!("{:.3}", tidy_zero(mm / 1000.0, 3)),
            Units::Inch => format!("{:.2}", tidy_zero(mm / MM_PER_INCH, 2)),
            Units::InchFraction => inch_fraction(mm),
            Units::FeetInchesEighths => feet_inches_eighths(mm),
        }
    }

    /// What [`Units::half_figure`] rounds to, mm.
    pub fn half_step(self) -> f64 {
        match self {
            Units::Mm | Units::M => 0.5,
            Units::Inch | Units::FeetInchesEighths => self.step(),
            Units::InchFraction => MM_PER_INCH / 32.0,
        }
    }

    /// A length in mm as [`Units::figure`] has it, to half of that where a rule is read so: half a
    /// millimetre, 1/32 in. Eighths with a plus and hundredths of an inch have no halves.
    pub fn half_figure(self, mm: f64) -> String {
        let halves = tidy_zero(2.0 * mm, 0) / 2.0;
        match self {
            Units::Mm => format!("{halves}"),
            Units::M => format!("{:.4}", halves / 1000.0),
            Units::InchFraction => inch_parts(mm, 32),
            Units::Inch | Units::FeetInchesEighths => self.figure(mm),
        }
    }

    /// The unit as the head of a table has it, whose cells are [`Units::figure`].
    pub fn heading(self) -> &'static str {
        match self {
            Units::Mm => "mm",
            Units::M => "m",
            Units::Inch | Units::InchFraction => "inches",
            Units::FeetInchesEighths => "feet-inches-eighths",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 412.4 mm is 412.5 to the half, 16 1/4 in (412.75) to the thirty-second, 1-4-2 in eighths;
    /// nothing is off by more than half of its step.
    #[test]
    fn halves_are_half_of_what_figures_show() {
        let told = |mm: f64| Units::ALL.map(|u| u.half_figure(mm));
        assert_eq!(told(412.4), ["412.5", "0.4125", "16.24", "16 1/4", "1-4-2"]);
        assert_eq!(told(-0.2), ["0", "0.0000", "-0.01", "0", "0-0-0"]);
        assert_eq!(Units::Mm.half_figure(700.0), "700");
        for units in Units::ALL {
            for k in 0..200 {
                let mm = 1.37 * f64::from(k);
                let back =
                    super::super::parse_length(&units.half_figure(mm), units).expect("a length");
                assert!((back - mm).abs() <= 0.5 * units.half_step() + 1e-9, "{units:?} {mm}");
            }
        }
    }
}
