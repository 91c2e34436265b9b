//! The build pack: the folder of patterns, tables and the summary that is written for the
//! shop.

use std::path::{Path, PathBuf};

use crate::drawing::compose::{OnPaper, Paper, Subject, card, catalogue};
use crate::drawing::export::{FORMATS, pdf};
use crate::files::disk::Machine;
use crate::files::folder::{self, MANIFEST};
use crate::files::{FileError, Over};
use crate::finding::Severity;
use crate::hull::{Hull, offsets};
use crate::model::Model;
use crate::report::{self, mark_words};

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
    let mark = mark_on_sheets(model, document);
    let drawings: Vec<Subject> =
        catalogue(model).into_iter().filter(|s| s.for_the_shop(model)).collect();
    let cards = card::cards(model, units);
    let total = FORMATS.len() * drawings.len() + 2 * cards.len() + 4;
    let mut out: Vec<(String, Vec<u8>)> = Vec::with_capacity(total);
    let mut put = |name: String, bytes: Vec<u8>| {
        step(out.len(), total, &name);
        out.push((name, bytes));
    };
    for subject in drawings {
        let Some(mut both) = subject.whole_and_printed(model, sheets) else {
            continue;
        };
        for drawing in &mut both {
            drawing.settle_words();
            drawing.mark.clone_from(&mark);
        }
        let [whole, printed] = both;
        // Drawn to a scale it is one sheet, whatever the patterns are printed on.
        let (size, on) = if printed.reduced == 1.0 && !printed.table {
            (format!("-{}", paper.word()), paper)
        } else {
            (String::new(), sheet(paper))
        };
        let place = subject.place(model);
        for format in &FORMATS {
            let (drawing, size) =
                if format.paged { (&printed, size.as_str()) } else { (&whole, "") };
            let bytes = (format.write)(drawing, on.pages()).map_err(|e| fail(&e))?;
            put(format!("{place}{size}.{}", format.ending), bytes);
        }
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
    put("summary.txt".into(), report::text::report(model, units, None).into_bytes());
    let json = format!("{:#}\n", report::json::report(model, None));
    put("report.json".into(), json.into_bytes());
    put("hull.ron".into(), document.to_ron().map_err(|e| fail(&e))?.into_bytes());
    Ok(out)
}

/// The mark as it stands on every sheet, which says too where she is not to be built.
fn mark_on_sheets(model: &Model, document: &Hull) -> String {
    let stopped = model.findings.iter().any(|f| f.severity == Severity::Stop);
    let mind = if stopped { "; NOT TO BE BUILT AS SHE IS: see summary.txt" } else { "" };
    format!("{}{mind}", mark_words(document))
}

/// What is one sheet, whatever the patterns are printed on.
fn sheet(paper: Paper) -> Paper {
    if paper == Paper::Letter { paper } else { Paper::A4 }
}
