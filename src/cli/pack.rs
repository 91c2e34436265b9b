//! The build pack: the folder of patterns, tables and the summary that is written for the
//! shop.

use std::path::{Path, PathBuf};

use super::files::{FileError, save_atomically};
use super::report_json;
use super::report_text;
use crate::drawing::Drawing;
use crate::drawing::compose::{
    Paper, frame_assembly, frame_parts, jig_elevation, jig_plan, knee_pattern, lines_plan,
    offsets_table, outer_stem_pattern, panel_pattern, stem_pattern, transom_parts, transom_pattern,
};
use crate::drawing::export::{dxf, pdf, svg};
use crate::hull::offsets;
use crate::model::Model;
use crate::model::as_built::NotchChange;
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
    let drawings = drawings(model, units);
    for folder in ["", "patterns", "frames", "setup"].map(|f| folder.join(f)) {
        std::fs::create_dir_all(&folder)
            .map_err(|cause| FileError::Write { path: folder.clone(), cause })?;
    }
    let total = 3 * drawings.len() + 4;
    let mut written: Vec<PathBuf> = Vec::with_capacity(total);
    let mut put = |path: PathBuf, bytes: Vec<u8>| -> Result<(), FileError> {
        step(written.len(), total, &path.display().to_string());
        save_atomically(&path, &bytes)?;
        written.push(path);
        Ok(())
    };
    for Planned { place, full_size, paper_size } in &drawings {
        let path = |ending: &str| folder.join(format!("{place}{ending}"));
        put(path(".dxf"), dxf::write(full_size).map_err(|e| fail(&e))?)?;
        put(path(".svg"), svg::write(full_size).into_bytes())?;
        match paper_size {
            None => {
                let pages = pdf::write(full_size, paper.pages()).map_err(|e| fail(&e))?;
                put(path(&format!("-{}.pdf", paper.word())), pages)?;
            }
            // Drawn to a scale it is one sheet, whatever the patterns are printed on.
            Some(reduced) => {
                let sheet = if paper == Paper::Letter { paper } else { Paper::A4 };
                put(path(".pdf"), pdf::write(reduced, sheet.pages()).map_err(|e| fail(&e))?)?;
            }
        }
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

/// A notch that moves by less than this (mm) is sawn as drawn.
const NOTCH_MOVES_MM: f64 = 0.5;

/// A drawing of the pack.
struct Planned {
    /// Folder and name, without an ending.
    place: String,
    /// At full size, for cutters and other programs.
    full_size: Drawing,
    /// To a scale, for paper; `None` where paper is full size too.
    paper_size: Option<Drawing>,
}

/// Every drawing, in the order in which the boat is built.
fn drawings(model: &Model, units: Units) -> Vec<Planned> {
    let mut out = Vec::new();
    let mut full = |place: String, full_size: Drawing| {
        out.push(Planned { place, full_size, paper_size: None });
    };
    // Once she stands on her jig, panels are those of the boat as she stands, and frames
    // whose notches move are drawn a second time as they stand.
    let stands = model.as_built.as_deref().map_or(model, |b| &b.model);
    for p in &stands.panels {
        full(format!("patterns/{}", p.name), panel_pattern(stands, p, units));
    }
    if let Some(built) = &model.as_built {
        for f in &built.model.woodwork.frames {
            let moved = |n: &&NotchChange| {
                n.station == f.station && n.shift[0].hypot(n.shift[1]) > NOTCH_MOVES_MM
            };
            if built.notches.iter().any(|n| moved(&n)) {
                let name = format!("frames/frame-{}-as-built", f.station);
                full(name, frame_assembly(&built.model, f, units));
            }
        }
    }
    let work = &model.woodwork;
    for f in &work.frames {
        full(format!("frames/frame-{}", f.station), frame_assembly(model, f, units));
        full(format!("frames/frame-{}-parts", f.station), frame_parts(model, f, units));
    }
    for (name, t) in [("transom", &work.transom), ("bow-transom", &work.bow_transom)] {
        if let Some(t) = t {
            full(format!("frames/{name}"), transom_pattern(model, t, units));
            full(format!("frames/{name}-framing"), transom_parts(model, t, units));
        }
    }
    if let Some(k) = &work.knee {
        full("frames/transom-knee".into(), knee_pattern(model, k, units));
    }
    for (name, s) in [("stem", &work.stem), ("sternpost", &work.sternpost)] {
        if let Some(s) = s {
            full(format!("frames/{name}"), stem_pattern(model, s, units));
            if let Some(o) = &s.outer {
                full(format!("frames/outer-{name}"), outer_stem_pattern(model, s, o, units));
            }
        }
    }
    let mut scaled = |place: &str, paper: Drawing| {
        out.push(Planned {
            place: place.into(),
            full_size: paper.at_full_size(),
            paper_size: Some(paper),
        });
    };
    if let Some(jig) = &work.strongback {
        scaled("setup/strongback-plan", jig_plan(model, jig, units));
        scaled("setup/strongback-elevation", jig_elevation(model, jig, units));
    }
    scaled("setup/lines-plan", lines_plan(model, units));
    scaled("setup/table-of-offsets", offsets_table(model));
    out
}
