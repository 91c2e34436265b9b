//! A hull from a table of offsets: read, planked, and brought to the inside of the planking.

use std::path::Path;

use super::{FileError, read_text};
use crate::finding::{Finding, LineFact, MovedBy, Place};
use crate::hull::{CheckedHull, Hull, OutsideOf, offsets};
use crate::material::Materials;
use crate::model::off_transom;
use crate::panel::{Moved, deduct};
use crate::words;

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
    let mut hull = table.hull;
    let mut findings = Vec::new();
    if table.moved_aft > 0.0 {
        findings.push(Finding::note(Place::AllPoints, LineFact::MovedAft(table.moved_aft)));
    }
    findings.extend(off_transom(hull.lines()));
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
    let notes = told(&inner, &names, &moved);
    // With the boat from now on, as the builder compares her with the plan.
    let said = notes.iter().map(|n| {
        let message = words::finding::said(n, inner.units).message;
        format!("The plan's lines were {message}.")
    });
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
fn told(inner: &Hull, panels: &[String], moved: &[Moved]) -> Vec<Finding> {
    let thickness = |panel: &String| inner.planking.of_panel(panel).1;
    let deducted = LineFact::Deducted {
        planks: panels.iter().map(|p| (p.clone(), thickness(p))).collect(),
        lines: moved
            .iter()
            .map(|m| MovedBy { line: m.line, between: m.between, bow_aft: m.bow_aft })
            .collect(),
    };
    let mut out = vec![Finding::note(Place::AllLines, deducted)];
    let thickest = panels.iter().map(thickness).fold(0.0, f64::max);
    for m in moved {
        let place = || Place::Line(m.line.to_string());
        if m.between.1 > FAR * thickest {
            out.push(Finding::watch(place(), LineFact::MovedFar(m.between.1)));
        }
        if m.off > inner.units.step().min(OFF_MM) {
            out.push(Finding::watch(place(), LineFact::NotSoDeep(m.off)));
        }
    }
    out
}

/// A line that moves by more than so many thicknesses is looked at again.
const FAR: f64 = 3.0;
/// A depth this far (mm) off is told: what a plan is read to.
const OFF_MM: f64 = 0.5;
