//! Planking to whose outside a plan's lines are drawn, and which is to be deducted.

use super::document::{Hull, PanelPlanking};
use crate::units::short::shortened;
use crate::units::{Units, parse_length};

/// What would be accepted, for a message.
const ACCEPTED: &str = "one thickness (9 mm, 3/8 in), or one for each panel: bottom 9 mm, side 6 mm (panels are bottom, side, or strake-1, strake-2 … from the keel up)";
/// Least and greatest thickness, mm, as in a document.
const THICKNESS_MM: std::ops::RangeInclusive<f64> = 1.0..=50.0;

/// Thicknesses of the planking (mm), of all panels and of those that differ.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OutsideOf {
    /// Of every panel that is not named.
    pub all: Option<f64>,
    /// Panels by name.
    pub panels: Vec<(String, f64)>,
}

impl OutsideOf {
    /// Reads `9 mm` or `bottom 9 mm, side 6 mm`; a bare number is mm.
    ///
    /// # Errors
    /// A sentence that names the value and what would be accepted.
    pub fn parse(text: &str) -> Result<OutsideOf, String> {
        OutsideOf::of_cells(text.split([',', ';']))
    }

    /// As [`OutsideOf::parse`], from text that is already taken apart.
    ///
    /// # Errors
    /// As there.
    pub fn of_cells<'a>(cells: impl Iterator<Item = &'a str>) -> Result<OutsideOf, String> {
        let mut out = OutsideOf::default();
        for cell in cells.map(|c| c.trim().to_lowercase()).filter(|c| !c.is_empty()) {
            let fail = |why: &str| format!("{:?} {why}; accepted: {ACCEPTED}", shortened(&cell));
            let named = cell.starts_with(|c: char| c.is_alphabetic());
            let (panel, length) = match cell.split_once(['=', ':', ' ']).filter(|_| named) {
                Some((panel, length)) => {
                    (Some(panel.trim()), length.trim_start_matches(['=', ':', ' ']).trim())
                }
                None => (None, cell.as_str()),
            };
            let t = parse_length(length, Units::Mm).map_err(|_| fail("is no thickness"))?;
            if !THICKNESS_MM.contains(&t) {
                return Err(fail("is not between 1 and 50 mm"));
            }
            let twice = match panel {
                None => out.all.replace(t).is_some(),
                Some(panel) => {
                    let panel = if panel == "sides" { "side" } else { panel };
                    let number = panel.strip_prefix("strake-").map(str::parse::<u8>);
                    if !(matches!(panel, "bottom" | "side") || matches!(number, Some(Ok(1..)))) {
                        return Err(fail("names no panel"));
                    }
                    let twice = out.panels.iter().any(|(p, _)| p == panel);
                    out.panels.push((panel.into(), t));
                    twice
                }
            };
            if twice {
                return Err(fail("is given twice"));
            }
        }
        if out == OutsideOf::default() {
            return Err(format!("no thickness is given; accepted: {ACCEPTED}"));
        }
        Ok(out)
    }

    /// Thickness of the panel called `name`, mm; `None` where nothing is said of it.
    pub fn of_panel(&self, name: &str) -> Option<f64> {
        self.panels.iter().find(|(p, _)| p == name).map(|(_, t)| *t).or(self.all)
    }

    /// Planks `hull`, whose panels from the keel up are `names`, in these thicknesses; a
    /// sheet is chosen by `sheet` for its thickness (mm).
    ///
    /// # Errors
    /// The panel of which nothing is said, or the one that she does not have.
    pub fn plank(
        &self,
        hull: &mut Hull,
        names: &[String],
        sheet: impl Fn(f64) -> String,
    ) -> Result<(), String> {
        let has = names.join(", ");
        if let Some((panel, t)) = self.panels.iter().find(|(p, _)| !names.contains(p)) {
            return Err(format!("\"{panel} {t} mm\" is given, and she has only: {has}"));
        }
        let of = |name: &String| {
            self.of_panel(name).map(|t| (name.clone(), t)).ok_or_else(|| {
                format!("no thickness is given for the {name}; accepted: {ACCEPTED}")
            })
        };
        let all: Vec<(String, f64)> = names.iter().map(of).collect::<Result<_, _>>()?;
        // The document's own planking is that of the uppermost panel, others differ from it.
        let Some((_, side)) = all.last().cloned() else {
            return Ok(());
        };
        hull.planking.sheet = sheet(side);
        hull.planking.thickness_mm = side;
        hull.planking.panels = all
            .into_iter()
            .filter(|(_, t)| *t != side)
            .map(|(panel, t)| PanelPlanking {
                panel,
                sheet: sheet(t),
                thickness_mm: t,
                grain_across: false,
            })
            .collect();
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thicknesses_are_read_for_all_or_by_panel() {
        let one = OutsideOf::parse("9mm").expect("one thickness");
        assert_eq!((one.of_panel("side"), one.of_panel("bottom")), (Some(9.0), Some(9.0)));
        for text in ["bottom 9 mm, sides 6 mm", "bottom=9mm,side = 6", "bottom: 9, side: 6 mm"] {
            let two = OutsideOf::parse(text).expect(text);
            let got = ["bottom", "side", "strake-1"].map(|p| two.of_panel(p));
            assert_eq!(got, [Some(9.0), Some(6.0), None], "{text}");
        }
        let inches = OutsideOf::parse("bottom 3/8 in, 1/4 in").expect("inches");
        let near = |panel: &str, mm: f64| {
            let t = inches.of_panel(panel).expect(panel);
            assert!((t - mm).abs() < 1e-9, "{panel}: {t}");
        };
        near("bottom", 9.525);
        near("strake-2", 6.35);
        for (bad, said) in [
            ("", "no thickness"),
            ("thick", "no thickness"),
            ("90 mm", "between 1 and 50"),
            ("deck 6 mm", "names no panel"),
            ("side 6, side 9", "twice"),
            ("strake-0 6", "names no panel"),
        ] {
            let error = OutsideOf::parse(bad).expect_err(bad);
            assert!(error.contains(said) && error.contains("accepted"), "{error}");
        }
    }
}
