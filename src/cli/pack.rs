//! The build pack: the folder of patterns, tables and the summary that is written for the
//! shop.

use std::path::{Path, PathBuf};

use super::disk::Machine;
use super::files::{FileError, Over};
use super::folder::{self, MANIFEST};
use super::report_json;
use super::report_text;
use crate::drawing::Drawing;
use crate::drawing::compose::{
    OnPaper, Paper, body_plan, card, frame_assembly, frame_parts, jig_elevation, jig_end, jig_plan,
    jig_section, knee_pattern, lines_plan, offsets_table, outer_stem_pattern, panel_pattern,
    stem_pattern, transom_parts, transom_pattern,
};
use crate::drawing::export::{dxf, pdf, svg};
use crate::hull::{Hull, offsets};
use crate::model::Model;
use crate::model::as_built::NotchChange;

/// Writes the pack of `model` into `folder`, with the `document` that it was computed from, and
/// returns the files written, in order.
///
/// The whole is made beside the folder and swapped for it: of an earlier pack nothing stays,
/// what others put there is not touched, and a run cut short leaves the old pack or the new.
/// `step` is told before each file is made: (files done, files in all, name).
///
/// # Errors
/// The first file that could not be made; a folder that is not ours to replace.
pub fn write_pack(
    model: &Model,
    document: &Hull,
    folder: &Path,
    sheets: OnPaper,
    over: Over,
    step: impl FnMut(usize, usize, &str),
) -> Result<Vec<PathBuf>, FileError> {
    let files = pack_files(model, document, sheets, step)?;
    folder::replace(&Machine, folder, (&document.mark(), &files), over)?;
    let names = files.iter().map(|(name, _)| name.as_str()).chain([MANIFEST]);
    Ok(names.map(|n| folder.join(n)).collect())
}

/// Every file of the pack by its path within the folder, in the order in which the boat is
/// built.
///
/// # Errors
/// The first file that could not be made.
pub fn pack_files(
    model: &Model,
    document: &Hull,
    sheets: OnPaper,
    mut step: impl FnMut(usize, usize, &str),
) -> Result<Vec<(String, Vec<u8>)>, FileError> {
    let fail = |e: &dyn std::fmt::Display| FileError::Content(e.to_string());
    let OnPaper { paper, units, .. } = sheets;
    let mark = mark_words(document);
    let drawings = drawings(model, sheets);
    let cards = card::cards(model, units);
    let total = 3 * drawings.len() + 2 * cards.len() + 4;
    let mut out: Vec<(String, Vec<u8>)> = Vec::with_capacity(total);
    let mut put = |name: String, bytes: Vec<u8>| {
        step(out.len(), total, &name);
        out.push((name, bytes));
    };
    for Planned { place, mut full_size, mut printed } in drawings {
        full_size.mark.clone_from(&mark);
        printed.mark.clone_from(&mark);
        put(format!("{place}.dxf"), dxf::write(&full_size).map_err(|e| fail(&e))?);
        let drawn = svg::write(&full_size).map_err(|e| fail(&e))?;
        put(format!("{place}.svg"), drawn.into_bytes());
        // Drawn to a scale it is one sheet, whatever the patterns are printed on.
        let (ending, on) = match (printed.reduced == 1.0 && !printed.table, paper) {
            (true, _) => (format!("-{}.pdf", paper.word()), paper),
            (false, Paper::Letter) => (".pdf".into(), Paper::Letter),
            (false, _) => (".pdf".into(), Paper::A4),
        };
        let page = pdf::write(&printed, on.pages()).map_err(|e| fail(&e))?;
        put(format!("{place}{ending}"), page);
    }
    // One page each that replaces tiles, and its figures as a table.
    for c in &cards {
        let mut page = card::page::drawing(c, paper, units);
        page.mark.clone_from(&mark);
        let page = pdf::write(&page, sheet(paper).pages());
        put(format!("cards/{}.pdf", c.file), page.map_err(|e| fail(&e))?);
        put(format!("cards/{}.csv", c.file), card::csv::csv(c, units).into_bytes());
    }
    put("offsets.csv".into(), offsets::write(&model.hull, units).into_bytes());
    put("summary.txt".into(), report_text::report(model, units, None).into_bytes());
    let json = format!("{:#}\n", report_json::report(model, None));
    put("report.json".into(), json.into_bytes());
    put("hull.ron".into(), document.to_ron().map_err(|e| fail(&e))?.into_bytes());
    Ok(out)
}

/// The mark of a document as it stands on every sheet.
pub fn mark_words(document: &Hull) -> String {
    format!("mark {}", document.mark())
}

/// What is one sheet, whatever the patterns are printed on.
fn sheet(paper: Paper) -> Paper {
    if paper == Paper::Letter { paper } else { Paper::A4 }
}

/// A notch that moves by less than this (mm) is sawn as drawn.
const NOTCH_MOVES_MM: f64 = 0.5;

/// A drawing of the pack.
struct Planned {
    /// Folder and name, without an ending.
    place: String,
    /// Whole and at full size, for cutters and other programs.
    full_size: Drawing,
    /// As it goes on paper: a half, or to a scale.
    printed: Drawing,
}

/// Every drawing, in the order in which the boat is built.
fn drawings(model: &Model, sheets: OnPaper) -> Vec<Planned> {
    let units = sheets.units;
    let mut out = Vec::new();
    let mut add = |place: String, mut full_size: Drawing, mut printed: Drawing| {
        full_size.settle_words();
        printed.settle_words();
        out.push(Planned { place, full_size, printed });
    };
    // Once she stands on her jig, panels are those of the boat as she stands, and frames
    // whose notches move are drawn a second time as they stand.
    let stands = model.as_built.as_deref().map_or(model, |b| &b.model);
    // What is unsound is told among the findings, and nothing is to be cut by it.
    for p in stands.panels.iter().filter(|p| p.unsound().is_none()) {
        let whole = panel_pattern(stands, p, units);
        add(format!("patterns/{}", p.name), whole, sheets.panel(stands, p));
    }
    if let Some(built) = &model.as_built {
        for f in &built.model.woodwork.frames {
            let moved = |n: &&NotchChange| {
                n.station == f.station && n.shift[0].hypot(n.shift[1]) > NOTCH_MOVES_MM
            };
            if built.notches.iter().any(|n| moved(&n)) {
                let name = format!("frames/frame-{}-as-built", f.station);
                let whole = frame_assembly(&built.model, f, units);
                add(name, whole, sheets.frame(&built.model, f));
            }
        }
    }
    let work = &model.woodwork;
    for f in &work.frames {
        let name = format!("frames/frame-{}", f.station);
        let parts = format!("{name}-parts");
        add(name, frame_assembly(model, f, units), sheets.frame(model, f));
        add(parts, frame_parts(model, f, units), sheets.frame_parts(model, f));
    }
    for (name, t) in [("transom", &work.transom), ("bow-transom", &work.bow_transom)] {
        if let Some(t) = t {
            let (place, framing) = (format!("frames/{name}"), format!("frames/{name}-framing"));
            add(place, transom_pattern(model, t, units), sheets.transom(model, t));
            add(framing, transom_parts(model, t, units), sheets.transom_parts(model, t));
        }
    }
    if let Some(k) = &work.knee {
        let pattern = knee_pattern(model, k, units);
        add("frames/transom-knee".into(), pattern.clone(), pattern);
    }
    for (name, s) in [("stem", &work.stem), ("sternpost", &work.sternpost)] {
        if let Some(s) = s {
            let pattern = stem_pattern(model, s, units);
            add(format!("frames/{name}"), pattern.clone(), pattern);
            if let Some(o) = &s.outer {
                let pattern = outer_stem_pattern(model, s, o, units);
                add(format!("frames/outer-{name}"), pattern.clone(), pattern);
            }
        }
    }
    let mut scaled = |place: &str, paper: Drawing| {
        add(place.into(), paper.at_full_size(), paper);
    };
    if let Some(jig) = &work.strongback {
        scaled("setup/strongback-plan", jig_plan(model, jig, units));
        scaled("setup/strongback-elevation", jig_elevation(model, jig, units));
        scaled("setup/strongback-from-ahead", jig_section(model, jig, units));
        for e in &jig.ends {
            let place = format!("setup/{}-set-up", e.end.word().replace(' ', "-"));
            scaled(&place, jig_end(model, jig, e, units));
        }
    }
    scaled("setup/lines-plan", lines_plan(model, units));
    scaled("setup/table-of-offsets", offsets_table(model));
    // A roll is long and wide enough to scribe frames from.
    let body = body_plan(model, units);
    let whole = body.at_full_size();
    let printed = if sheets.paper == Paper::Roll { whole.clone() } else { body };
    add("setup/body-plan".into(), whole, printed);
    out
}
