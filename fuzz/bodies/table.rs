//! Bytes as a table of offsets: refused with a line of the table, or a hull whose own table
//! reads back the same to the last figure written.

use chinewright::hull::Hull;
use chinewright::hull::offsets::{read, write};
use chinewright::units::Units;

use super::Reached;

/// Reads the bytes as a table.
///
/// # Panics
/// Where an error has no words or a line that is not there, or what was read does not come
/// back.
pub fn run(data: &[u8]) -> Reached {
    let Ok(text) = std::str::from_utf8(data) else {
        return Reached::Nothing;
    };
    match read(text, "plan.csv", "plan") {
        Err(e) => {
            let lines = text.matches('\n').count() as u64 + 1;
            assert!(e.line <= lines, "line {} of {lines}: {e}", e.line);
            assert!(!e.message.trim().is_empty(), "{e}");
            Reached::Refused
        }
        Ok(table) => {
            let hull = table.hull;
            // Half of the last figure of each unit, mm; eighths are written to a half of one.
            for (unit, step) in [
                (Units::Mm, 0.001),
                (Units::M, 0.001),
                (Units::Inch, 0.00254),
                (Units::FeetInchesEighths, 25.4 / 16.0),
            ] {
                back(&hull, unit, step);
            }
            Reached::Through
        }
    }
}

/// The table in `unit`, whose last figure is worth `step` mm, read again.
fn back(hull: &Hull, unit: Units, step: f64) {
    let written = write(hull, unit);
    let again = match read(&written, "written.csv", "plan") {
        Ok(again) => again.hull,
        // Rounding may bring neighbouring ducks, or lines that all but touch, together, and a
        // coordinate that stands at its limit past it.
        Err(e) => {
            let told = [
                "not aft of the duck",
                "cross",
                "it lies on",
                "no beam",
                "mm between",
                "no station",
            ];
            assert!(told.iter().any(|t| e.message.contains(t)), "{unit:?}: {e}\n{written}");
            return;
        }
    };
    assert_eq!(again.lines.len(), hull.lines.len(), "{unit:?}");
    for (a, b) in again.lines.iter().zip(&hull.lines) {
        assert_eq!((&a.name, a.ducks.len()), (&b.name, b.ducks.len()), "{unit:?}");
        for (p, q) in a.ducks.iter().zip(&b.ducks) {
            let off = (p.point() - q.point()).amax();
            assert!(off <= 0.5 * step + 1e-6, "{unit:?}: {p:?} for {q:?}");
        }
    }
    assert_eq!(write(&again, unit), written, "{unit:?}");
}
