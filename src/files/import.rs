//! A hull from a table of offsets: read, planked, and brought to the inside of the planking.

use std::path::Path;

use super::{FileError, read_text};
use crate::finding::Finding;
use crate::hull::{CheckedHull, Hull, OutsideOf, offsets};
use crate::material::Materials;
use crate::panel::{Moved, deduct};
use crate::part::Question;
use crate::units::Units;

/// Reads the table at `path`; `outside_of` is planking to whose outside its lines are
/// drawn, where the table itself does not say so.
///
/// # Errors
/// Names the file, the line and the value, and what would be accepted.
pub fn import(
    path: &Path,
    outside_of: Option<&OutsideOf>,
) -> Result<(CheckedHull, Vec<Finding>), FileError> {
    let text = read_text(path)?;
    let name = path.file_stem().map_or("hull".into(), |s| s.to_string_lossy().into_owned());
    let file = path.display().to_string();
    let table =
        offsets::read(&text, &file, &name).map_err(|e| FileError::Content(e.to_string()))?;
    let (mut hull, mut findings) = (table.hull, table.findings);
    let fail = |why: String| FileError::Content(format!("{file}: {why}"));
    let outside_of = match (&table.outside_of, outside_of) {
        (Some(own), Some(typed)) if own != typed => {
            return Err(fail(
                "its row \"outside of\" and --outside-of differ; accepted: one of them".into(),
            ));
        }
        (own, typed) => own.as_ref().or(typed),
    };
    if let Some(outside_of) = outside_of {
        let (inner, notes) = inside(&hull, outside_of).map_err(fail)?;
        hull = inner;
        findings.extend(notes);
    }
    Ok((hull, findings))
}

/// Planks the hull and deducts the planking.
fn inside(
    drawn: &CheckedHull,
    outside_of: &OutsideOf,
) -> Result<(CheckedHull, Vec<Finding>), String> {
    let lines = drawn.lines();
    let names: Vec<String> = (0..lines.lines.len() - 1).map(|k| lines.panel_name(k)).collect();
    let mut planked = drawn.hull().clone();
    outside_of.plank(&mut planked, &names, nearest_sheet)?;
    let outer = drawn.changed(planked).map_err(|faults| faults[0].to_string())?;
    let (mut inner, moved) = deduct(&outer)?;
    let notes = told(&inner, &names, &moved, inner.units);
    // With the boat from now on, as the builder compares her with the plan.
    let said = notes.iter().map(|n| format!("The plan's lines were {}.", n.message));
    let kept = Some(inner.notes.clone()).filter(|n| !n.is_empty());
    inner.notes = kept.into_iter().chain(said).collect::<Vec<_>>().join(" ");
    let inner = outer
        .changed(inner)
        .map_err(|faults| format!("with the planking deducted, {}", faults[0]))?;
    Ok((inner, notes))
}

/// The marine sheet of the shipped table whose thickness is nearest.
fn nearest_sheet(thickness: f64) -> String {
    let usual = crate::hull::Planking::default().sheet;
    let family = usual.trim_end_matches(|c: char| c.is_ascii_digit()).to_string();
    let materials = Materials::shipped();
    let sheets = materials.sheets.sheets.iter().filter(|s| s.name.starts_with(&family));
    let off = |t: f64| (t - thickness).abs();
    sheets
        .min_by(|a, b| off(a.thickness_mm).total_cmp(&off(b.thickness_mm)))
        .map_or(usual, |s| s.name.clone())
}

/// What was deducted, and by how much each line moved.
fn told(inner: &Hull, panels: &[String], moved: &[Moved], units: Units) -> Vec<Finding> {
    let planks: Vec<String> = panels
        .iter()
        .map(|p| format!("{p} {}", units.fine(inner.planking.of_panel(p).1)))
        .collect();
    let lines: Vec<String> = moved
        .iter()
        .map(|m| {
            let (least, most) = (units.fine(m.between.0), units.fine(m.between.1));
            let by = if least == most { least } else { format!("{least} to {most}") };
            let bow = units.fine(m.bow_aft);
            format!("{} by {by} (its first point {bow} aft)", m.line)
        })
        .collect();
    let mut out = vec![Finding::note(
        Question::Shape,
        "all lines",
        format!(
            "drawn to the outside of the planking, {}: moved inward, square to the skin: {}",
            planks.join(", "),
            lines.join("; ")
        ),
        "lines are to the inside of the planking from here on; a sheer keeps its height, ends stay in the transom's plane or on the stem",
    )];
    let thickest = panels.iter().map(|p| inner.planking.of_panel(p).1).fold(0.0, f64::max);
    for m in moved {
        if m.between.1 > FAR * thickest {
            out.push(Finding::watch(
                Question::Shape,
                format!("the {}", m.line),
                format!("taking the planking off moved it by up to {}: sheets of unlike thickness meet there at a small angle", units.fine(m.between.1)),
                "compare her with the plan there; where the plan has one thickness, give one",
            ));
        }
        if m.off > units.step().min(OFF_MM) {
            out.push(Finding::watch(
                Question::Shape,
                format!("the {}", m.line),
                format!("no place lies so deep under both its sheets; what was taken is up to {} off there", units.fine(m.off)),
                "compare her with the plan there: at the foot of a stem, or where sheets of unlike thickness meet nearly in one plane, the inside cannot be as the outside is",
            ));
        }
    }
    out
}

/// A line that moves by more than so many thicknesses is looked at again.
const FAR: f64 = 3.0;
/// A depth this far (mm) off is told: what a plan is read to.
const OFF_MM: f64 = 0.5;
