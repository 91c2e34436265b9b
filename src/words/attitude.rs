//! How she lies in the water, and where rain lies in her.

use crate::model::Rain;
use crate::units::{Units, half_degrees};

/// A trim (radians, by the stern positive) to half a degree: which end is down.
pub fn trim(radians: f64) -> String {
    turned(radians, ["by the bow", "by the stern"], "level")
}

/// A heel (radians, to starboard positive) to half a degree: which side is down.
pub fn heel(radians: f64) -> String {
    turned(radians, ["to port", "to starboard"], "upright")
}

fn turned(angle: f64, ways: [&str; 2], none: &str) -> String {
    match half_degrees(angle.abs()) {
        zero if zero == half_degrees(0.0) => none.to_owned(),
        size => format!("{size} {}", ways[usize::from(angle > 0.0)]),
    }
}

/// What becomes of her where she does not float.
pub fn fate(sinks: bool) -> &'static str {
    if sinks { "goes under" } else { "turns over" }
}

/// Where rain lies in her when nobody is aboard.
pub fn rain(rain: &Rain, units: Units) -> String {
    rain_stays(rain.trim, rain.at.x, rain.between, units)
}

/// As [`rain`], of its figures: her trim empty, the lowest place (mm aft), the stations of the
/// frames next ahead of it and aft of it.
pub(super) fn rain_stays(
    trimmed: f64,
    at: f64,
    between: [Option<usize>; 2],
    units: Units,
) -> String {
    let place = match between {
        [Some(a), Some(b)] => format!("between frames {a} and {b}"),
        [None, Some(b)] => format!("ahead of frame {b}"),
        [Some(a), None] => format!("aft of frame {a}"),
        [None, None] => "at her keel".into(),
    };
    format!(
        "afloat and empty she lies {}: rain runs through the limbers to {} aft, {place}, and stays there",
        trim(trimmed),
        units.show(at)
    )
}

#[cfg(test)]
mod tests {
    use super::trim;

    #[test]
    fn an_attitude_is_told_by_the_end_that_is_down() {
        let ends = |degrees: f64| trim(degrees.to_radians());
        assert_eq!(ends(0.24), "level");
        assert_eq!(ends(-0.24), "level");
        assert_eq!(ends(0.26), "0.5° by the stern");
        assert_eq!(ends(-3.1), "3.0° by the bow");
    }
}
