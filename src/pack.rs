//! The build pack: the folder of patterns, tables and the summary that is written for the
//! shop.

use std::path::{Path, PathBuf};

use crate::book;
use crate::drawing::compose::{OnPaper, Paper, Subject, card, catalogue};
use crate::drawing::export::{FORMATS, pdf};
use crate::files::disk::Machine;
use crate::files::folder::{self, MANIFEST};
use crate::files::{FileError, Over};
use crate::finding::Severity;
use crate::hull::{Hull, offsets};
use crate::model::Model;
use crate::model::stock::Counted;
use crate::report::{self, mark_words};

/// Writes the pack of a boat into `folder`, with the `document` that it was computed from, and
/// returns the files written, in order. Sheets and lists are in it where stock was counted.
///
/// The whole is made beside the folder and swapped for it: of an earlier pack nothing stays,
/// what others put there is not touched, and a run cut short leaves the old pack or the new.
/// `step` is told before each file is made: (files done, files in all, name).
///
/// # Errors
/// The first file that could not be made; a folder that is not ours to replace.
pub fn write_pack<'a>(
    boat: impl Into<Counted<'a>>,
    document: &Hull,
    folder: &Path,
    sheets: OnPaper,
    over: Over,
    step: impl FnMut(usize, usize, &str),
) -> Result<Vec<PathBuf>, FileError> {
    let files = pack_files(boat, document, sheets, step)?;
    folder::replace(&Machine, folder, (&document.mark(), &files), over)?;
    let names = files.iter().map(|(name, _)| name.as_str()).chain([MANIFEST]);
    Ok(names.map(|n| folder.join(n)).collect())
}

/// Every file of the pack by its path within the folder, in the order in which the boat is
/// built.
///
/// # Errors
/// The first file that could not be made.
pub fn pack_files<'a>(
    boat: impl Into<Counted<'a>>,
    document: &Hull,
    sheets: OnPaper,
    mut step: impl FnMut(usize, usize, &str),
) -> Result<Vec<(String, Vec<u8>)>, FileError> {
    let fail = |e: &dyn std::fmt::Display| FileError::Content(e.to_string());
    let OnPaper { paper, units, .. } = sheets;
    let boat = boat.into();
    let Counted { model, list } = boat;
    let mark = mark_on_sheets(model, document);
    let drawings: Vec<Subject> =
        catalogue(boat).into_iter().filter(|s| s.for_the_shop(model)).collect();
    let cards = card::cards(boat, units);
    let currency = &model.hull.stock.currency;
    let tables = list.map(|l| report::lists::lists(l, units, currency));
    // With them what is left, for the next boat.
    let of_lists = tables.as_ref().map_or(0, |t| t.len() + 1);
    let total = FORMATS.len() * drawings.len() + 2 * cards.len() + of_lists + 5;
    let mut out: Vec<(String, Vec<u8>)> = Vec::with_capacity(total);
    let mut put = |name: String, bytes: Vec<u8>| {
        step(out.len(), total, &name);
        out.push((name, bytes));
    };
    put("book.pdf".into(), book::pdf(boat, document, sheets).map_err(|e| fail(&e))?);
    for subject in drawings {
        let Some(mut both) = subject.whole_and_printed(boat, sheets) else {
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
    for (name, table) in tables.into_iter().flatten() {
        put(format!("lists/{name}.csv"), table);
    }
    if let Some(list) = list {
        let rows = report::offcuts::document_rows(list, &model.hull.name);
        put("lists/offcuts.ron".into(), rows.into_bytes());
    }
    let mut summary = report::text::report(model, units, None);
    summary.extend(list.map(|l| report::text::stock(l, units, &model.hull.stock)));
    put("summary.txt".into(), summary.into_bytes());
    let report = match list {
        Some(list) => report::json::report_with_stock(model, list, None),
        None => report::json::report(model, None),
    };
    let json = format!("{report:#}\n");
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
