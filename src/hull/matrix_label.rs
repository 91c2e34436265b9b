//! What stands before the figures of a matrix of offsets: which line, which measure, in
//! which unit.

use super::table_unit::{TableUnit, UNIT_WORDS};
use crate::units::short::shortened;

/// What a row gives of its points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    /// Distance aft, x.
    Aft,
    /// From the centreplane, y.
    HalfBreadth,
    /// Above the baseline, z.
    Height,
}

impl Measure {
    /// In words.
    pub(super) fn word(self) -> &'static str {
        match self {
            Measure::Aft => "distance aft",
            Measure::HalfBreadth => "half-breadth",
            Measure::Height => "height",
        }
    }
}

/// A label taken apart.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Label {
    /// The row has the stations' names.
    pub(super) stations: bool,
    /// What is measured.
    pub(super) measure: Option<Measure>,
    /// Of which line: `keel`, `chine`, `chine-2`, `sheer`, or `lower chine`, `upper chine`.
    pub(super) line: Option<String>,
    /// The unit in brackets or behind an `in`.
    pub(super) unit: Option<TableUnit>,
}

/// What would be accepted, for a message.
pub(super) const LABELS: &str = "a line (keel, chine, chine-1 … from the keel up, lower chine, upper chine, sheer) with height, half-breadth or aft, such as sheer height; or Heights, Half-breadths on a row of its own with the lines below it; or station, and aft for the stations' distances; a unit in brackets; what follows a hash is a comment";

/// Words that say nothing further.
const FILLERS: [&str; 14] = [
    "the",
    "of",
    "line",
    "lines",
    "above",
    "base",
    "baseline",
    "from",
    "centreline",
    "centerline",
    "bow",
    "to",
    "at",
    "on",
];

impl Label {
    /// Reads a label.
    ///
    /// # Errors
    /// The word that says nothing here, and what would be accepted.
    pub(super) fn of(text: &str) -> Result<Label, String> {
        let lower = text.trim().to_lowercase();
        let mut label = Label::default();
        let mut rest = lower.as_str();
        if let Some((before, unit)) = rest.split_once(['(', '[']) {
            let unit = unit.trim_end_matches([')', ']']).trim();
            label.unit = Some(TableUnit::from_word(unit).ok_or_else(|| {
                format!(
                    "unit {:?} is unknown; accepted: {UNIT_WORDS}, in brackets",
                    shortened(unit)
                )
            })?);
            rest = before.trim();
        }
        let one_word =
            rest.replace("half breadth", "half-breadth").replace("base line", "baseline");
        let mut words: Vec<&str> =
            one_word.split([' ', ',', ':', '/', '.']).filter(|w| !w.is_empty()).collect();
        // "heights in mm", or the unit alone in the corner of the table.
        if let [before @ .., last] = words.as_slice()
            && let Some(unit) = TableUnit::from_word(last)
            && (before.is_empty() || before.last() == Some(&"in"))
        {
            let kept = before.len().saturating_sub(1);
            label.unit = Some(unit);
            words.truncate(kept);
        }
        let mut i = 0;
        while i < words.len() {
            let next = words.get(i + 1).copied().unwrap_or_default();
            let taken = label.take(words[i], next).map_err(|word| {
                let breadth = match word {
                    "breadth" | "breadths" | "beam" | "width" | "widths" => {
                        " (breadths are given as half-breadths, from the centreplane)"
                    }
                    _ => "",
                };
                format!(
                    "{:?} in {:?} says nothing here{breadth}; accepted: {LABELS}",
                    shortened(word),
                    shortened(text)
                )
            })?;
            i += taken;
        }
        Ok(label)
    }

    /// Takes a word, and the next one with it where they are one name; how many.
    fn take<'a>(&mut self, word: &'a str, next: &str) -> Result<usize, &'a str> {
        let measure = match word {
            "height" | "heights" | "z" => Some(Measure::Height),
            "half-breadth" | "half-breadths" | "halfbreadth" | "halfbreadths" | "y" => {
                Some(Measure::HalfBreadth)
            }
            "aft" | "distance" | "distances" | "x" => Some(Measure::Aft),
            _ => None,
        };
        if let Some(measure) = measure {
            if self.measure.is_some_and(|m| m != measure) {
                return Err(word);
            }
            self.measure = Some(measure);
            return Ok(1);
        }
        let chine = |w: &str| matches!(w, "chine" | "chines");
        let (line, taken) = match word {
            "station" | "stations" | "offsets" => {
                self.stations = true;
                return Ok(1);
            }
            w if FILLERS.contains(&w) => return Ok(1),
            "lower" | "upper" if chine(next) => (format!("{word} chine"), 2),
            w if chine(w) && next.parse::<u8>().is_ok() => (format!("chine-{next}"), 2),
            w if chine(w) => ("chine".to_string(), 1),
            "keel" | "sheer" => (word.to_string(), 1),
            w if w.strip_prefix("chine-").is_some_and(|n| n.parse::<u8>().is_ok()) => {
                (w.to_string(), 1)
            }
            _ => return Err(word),
        };
        if self.line.replace(line).is_some() {
            return Err(word);
        }
        Ok(taken)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Units;

    #[test]
    fn labels_are_read_as_plans_have_them() {
        let of = |text: &str| {
            let l = Label::of(text).expect(text);
            (l.line.unwrap_or_default(), l.measure, l.unit)
        };
        let (mm, inch) = (TableUnit::MM, TableUnit::Shown(Units::Inch));
        let (y, z, x) = (Measure::HalfBreadth, Measure::Height, Measure::Aft);
        assert_eq!(of("Sheer height"), ("sheer".into(), Some(z), None));
        assert_eq!(of("Chine, half-breadth (mm)"), ("chine".into(), Some(y), Some(mm)));
        assert_eq!(of("half breadth of chine 2"), ("chine-2".into(), Some(y), None));
        assert_eq!(of("Upper chine: height"), ("upper chine".into(), Some(z), None));
        assert_eq!(of("keel, aft of the bow"), ("keel".into(), Some(x), None));
        assert_eq!(of("HEIGHTS ABOVE BASE LINE in inches"), (String::new(), Some(z), Some(inch)));
        assert_eq!(of("Half-breadths from centreline"), (String::new(), Some(y), None));
        assert_eq!(of("mm"), (String::new(), None, Some(mm)));
        assert!(Label::of("Station (m)").expect("a head").stations);
        for (bad, said) in [
            ("sheer breadth", "half-breadths"),
            ("gunnel height", "\"gunnel\""),
            ("sheer height (furlong)", "furlong"),
            ("keel sheer height", "\"sheer\""),
            ("keel height half-breadth", "\"half-breadth\""),
        ] {
            let error = Label::of(bad).expect_err(bad);
            assert!(error.contains(said) && error.contains("accepted"), "{error}");
        }
    }
}
