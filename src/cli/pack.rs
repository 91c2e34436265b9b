//! The build pack: the folder of patterns, tables and the summary that is written for the
//! shop.

use std::path::{Path, PathBuf};

use super::files::{FileError, save_atomically};
use super::report_json;
use super::report_text;
use crate::drawing::compose::{Paper, panel_pattern};
use crate::drawing::export::{dxf, pdf, svg};
use crate::hull::offsets;
use crate::model::Model;
use crate::units::Units;

/// Writes the pack into `folder` and returns the files written, in order.
///
/// Existing files of the same names are replaced, each atomically; others are left alone.
/// `step` is told before each file: (files done, files in all, name).
///
/// # Errors
/// The first file that could not be made.
pub fn write_pack(
    model: &Model,
    folder: &Path,
    paper: Paper,
    units: Units,
    mut step: impl FnMut(usize, usize, &str),
) -> Result<Vec<PathBuf>, FileError> {
    let fail = |e: &dyn std::fmt::Display| FileError::Content(e.to_string());
    let patterns = folder.join("patterns");
    std::fs::create_dir_all(&patterns)
        .map_err(|cause| FileError::Write { path: patterns.clone(), cause })?;
    let total = 3 * model.panels.len() + 4;
    let mut written: Vec<PathBuf> = Vec::with_capacity(total);
    let mut put = |path: PathBuf, bytes: Vec<u8>| -> Result<(), FileError> {
        step(written.len(), total, &path.display().to_string());
        save_atomically(&path, &bytes)?;
        written.push(path);
        Ok(())
    };
    for p in &model.panels {
        let drawing = panel_pattern(model, p, units);
        put(patterns.join(format!("{}.dxf", p.name)), dxf::write(&drawing).map_err(|e| fail(&e))?)?;
        put(patterns.join(format!("{}.svg", p.name)), svg::write(&drawing).into_bytes())?;
        let pages = pdf::write(&drawing, paper.pages()).map_err(|e| fail(&e))?;
        put(patterns.join(format!("{}-{}.pdf", p.name, paper.word())), pages)?;
    }
    put(folder.join("offsets.csv"), offsets::write(&model.hull, units).into_bytes())?;
    put(folder.join("summary.txt"), report_text::report(model, units, None).into_bytes())?;
    let json =
        serde_json::to_vec_pretty(&report_json::report(model, None)).map_err(|e| fail(&e))?;
    put(folder.join("report.json"), json)?;
    let ron = model.hull.to_ron().map_err(|e| fail(&e))?;
    put(folder.join("hull.ron"), ron.into_bytes())?;
    Ok(written)
}
