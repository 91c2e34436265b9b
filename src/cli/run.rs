//! Carrying a job out.

use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};

use super::job::Job;
use crate::drawing::compose::{Extent, OnPaper, Paper};
use crate::files::import::import;
use crate::files::{FileError, Over, load_hull, may_write, save_atomically, save_hull};
use crate::finding::{Finding, Severity};
use crate::hull::CheckedHull;
use crate::hull::starters::STARTERS;
use crate::material::Materials;
use crate::model::stock::yard::{self, How};
use crate::model::stock::{Counted, SEED, StockList, stock};
use crate::model::{Model, derive_checked};
use crate::screen::{NoScreen, Screen};
use crate::stock::nest::Effort;
use crate::tol::LEAST_ROOM_MM3;
use crate::units::{Units, tidy_zero};
use crate::words::finding::{Said, said};
use crate::{pack, report, words};

/// Where the pack goes when there is no display.
const PACK_WITHOUT_DISPLAY: &str = "build-pack";

/// How a job ended; its number is the exit code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Done.
    Fine = 0,
    /// Something could not be read or written.
    Failed = 1,
    /// What was typed cannot be meant.
    Usage = 2,
    /// Done, with findings of the gravest kind.
    Grave = 3,
}

/// Carries `job` out, writing results to `out` and messages to `messages`.
pub fn run(
    job: Job,
    screen: Option<Screen>,
    out: &mut dyn Write,
    messages: &mut dyn Write,
) -> Outcome {
    match carry_out(job, screen, out, messages) {
        Ok(outcome) => outcome,
        Err(e) => {
            let forced = matches!(e, FileError::Refused { forced: true, .. });
            let how = if forced { ", or add --force" } else { "" };
            let _ = writeln!(messages, "chinewright: {e}{how}");
            Outcome::Failed
        }
    }
}

fn carry_out(
    job: Job,
    screen: Option<Screen>,
    out: &mut dyn Write,
    messages: &mut dyn Write,
) -> Result<Outcome, FileError> {
    match job {
        Job::Window(file) => window(file, screen, messages),
        Job::Import { csv, output, thickness, outside_of, surface, over } => {
            may_write(Some(&csv), &output, over)?;
            let (hull, findings) = import(&csv, outside_of.as_ref())?;
            let mut hull = hull.into_hull();
            if let Some(t) = thickness {
                hull.planking.thickness_mm = t;
            }
            if let Some(s) = surface {
                hull.planking.pattern_surface = s;
            }
            save_hull(&output, &hull)?;
            tell(&findings, hull.units, messages);
            print(out, &format!("{}: {} lines\n", output.display(), hull.lines.len()))?;
            Ok(Outcome::Fine)
        }
        Job::ListStarters => {
            let list: String =
                STARTERS.iter().map(|s| format!("{:<12} {}\n", s.name, s.summary)).collect();
            print(out, &list)?;
            Ok(Outcome::Fine)
        }
        Job::Start(starter, output, over) => {
            may_write(None, &output, over)?;
            save_hull(&output, &starter.hull())?;
            print(out, &format!("{}: {}\n", output.display(), starter.summary))?;
            Ok(Outcome::Fine)
        }
        Job::Report { file, json, only } => {
            let hull = load_hull(&file)?;
            let model = derive_checked(&hull, &Materials::shipped());
            let only = only.as_deref();
            let asked = only.is_some_and(|o| report::wanted(Some(o), "stock"));
            let list = asked.then(|| stock_of(&model));
            let text = match (json, &list) {
                (true, Some(list)) => pretty(&report::json::report_with_stock(&model, list, only)),
                (true, None) => pretty(&report::json::report(&model, only)),
                (false, _) => {
                    let mut text = report::text::report(&model, hull.units, only);
                    let told = list.iter().map(|l| report::text::stock(l, hull.units, &hull.stock));
                    text.extend(told);
                    text
                }
            };
            print(out, &text)?;
            Ok(outcome(&model, list.as_ref()))
        }
        Job::Pack { file, output, paper, units, extent, over } => {
            let hull = file.map_or_else(|| Ok(STARTERS[0].checked()), |f| load_hull(&f))?;
            let units = units.unwrap_or(hull.units);
            let sheets = OnPaper { paper, units, extent };
            write_pack(&hull, &output, sheets, over, out)
        }
        Job::Yard { file, output, json, over } => {
            if let Some(output) = &output {
                may_write(Some(&file), output, over)?;
            }
            yard(&load_hull(&file)?, output.as_deref(), json, out)
        }
        Job::Picture { file, output, view, size } => {
            may_write(Some(&file), &output, Over::Force)?;
            let hull = load_hull(&file)?;
            let Some(screen) = screen else {
                return Err(FileError::Content(
                    "this build has no viewer (feature `viewer` is off), so it renders no pictures"
                        .into(),
                ));
            };
            let model = derive_checked(&hull, &Materials::shipped());
            let png = (screen.picture)(&model, view, size)
                .map_err(|e| FileError::Content(e.to_string()))?;
            save_atomically(&output, &png)?;
            Ok(outcome(&model, None))
        }
        Job::Mesh { file, output, format, outside } => {
            may_write(Some(&file), &output, Over::Force)?;
            let hull = load_hull(&file)?;
            let model = derive_checked(&hull, &Materials::shipped());
            let mesh = model.mesh(outside);
            let bytes = format.bytes(&mesh, &hull.name).map_err(FileError::Content)?;
            save_atomically(&output, &bytes)?;
            let text = format!(
                "{}: {} triangles, encloses {:.3} m³\n",
                output.display(),
                mesh.triangles.len(),
                mesh.volume() * 1e-9
            );
            print(out, &text)?;
            let room = mesh.volume().min(model.mesh(false).volume());
            if room < LEAST_ROOM_MM3 {
                let _ = writeln!(
                    messages,
                    "warning: the whole hull: her lines enclose less than a litre ({:.1} litres), so {} is no solid to work with; pull the keel and chines down, the sheer up",
                    tidy_zero(room * 1e-6, 1),
                    output.display()
                );
            }
            Ok(outcome(&model, None))
        }
    }
}

/// What she is cut from and what is bought, after some seconds of search.
fn stock_of(model: &Model) -> StockList {
    stock(model, Effort::QUICK, SEED, &mut |_, _| true)
}

/// Looks for the cheapest boat of what the yard has, and writes her document.
fn yard(
    hull: &CheckedHull,
    output: Option<&Path>,
    json: bool,
    out: &mut dyn Write,
) -> Result<Outcome, FileError> {
    let bar = match std::io::stderr().is_terminal() {
        true => indicatif::ProgressBar::new_spinner(),
        false => indicatif::ProgressBar::hidden(),
    };
    let mut tell = |p: &yard::Progress| {
        bar.set_message(words::yard::progress(p));
        bar.tick();
        true
    };
    let found = yard::choose(hull, &Materials::shipped(), How::default(), &mut tell);
    bar.finish_and_clear();
    let units = hull.units;
    let found = found.map_err(|e| FileError::Content(words::yard::not_listed(&e, units)))?;
    let text = match json {
        true => pretty(&report::json::yard(&found, units)),
        false => report::text::yard(&found, units),
    };
    print(out, &text)?;
    match (&found.answer, output) {
        (Some(answer), Some(output)) => {
            save_hull(output, &answer.model.hull)?;
            Ok(Outcome::Fine)
        }
        (Some(_), None) => Ok(Outcome::Fine),
        (None, _) => Ok(Outcome::Grave),
    }
}

/// Opens the window; where nothing can be shown, says so in one line and writes the pack.
fn window(
    file: Option<PathBuf>,
    screen: Option<Screen>,
    messages: &mut dyn Write,
) -> Result<Outcome, FileError> {
    let hull = file.as_deref().map_or_else(|| Ok(STARTERS[0].checked()), load_hull)?;
    let shown = match screen {
        Some(screen) => (screen.open)(hull.clone(), file),
        None => Err(NoScreen("this build has no viewer (feature `viewer` is off)".into())),
    };
    let Err(why) = shown else {
        return Ok(Outcome::Fine);
    };
    let _ = writeln!(
        messages,
        "chinewright: {why}; writing the build pack of {:?} into ./{PACK_WITHOUT_DISPLAY} instead",
        hull.name
    );
    let mut quiet = std::io::sink();
    let sheets = OnPaper { paper: Paper::A4, units: hull.units, extent: Extent::Half };
    write_pack(&hull, Path::new(PACK_WITHOUT_DISPLAY), sheets, Over::Refuse, &mut quiet)
}

fn write_pack(
    hull: &CheckedHull,
    folder: &Path,
    sheets: OnPaper,
    over: Over,
    out: &mut dyn Write,
) -> Result<Outcome, FileError> {
    // Sentences and lists follow the units asked for, as drawings do.
    let shown = hull.clone().in_units(sheets.units);
    let model = derive_checked(&shown, &Materials::shipped());
    let bar = progress();
    bar.set_message("sheets");
    let list = stock_of(&model);
    let boat = Counted::with(&model, &list);
    let written = pack::write_pack(boat, hull, folder, sheets, over, |done, total, name| {
        bar.set_length(total as u64);
        bar.set_position(done as u64);
        bar.set_message(name.to_string());
    })?;
    bar.finish_and_clear();
    let names: String = written.iter().map(|p| format!("{}\n", p.display())).collect();
    print(out, &names)?;
    Ok(outcome(&model, Some(&list)))
}

/// A bar on a terminal, nothing in a pipe.
fn progress() -> indicatif::ProgressBar {
    if std::io::stderr().is_terminal() {
        indicatif::ProgressBar::new(1)
    } else {
        indicatif::ProgressBar::hidden()
    }
}

fn outcome(model: &Model, list: Option<&StockList>) -> Outcome {
    let counted = list.map_or(&[][..], |l| &l.findings);
    if model.findings.iter().chain(counted).any(|f| f.severity == Severity::Stop) {
        Outcome::Grave
    } else {
        Outcome::Fine
    }
}

fn tell(findings: &[Finding], units: Units, messages: &mut dyn Write) {
    for f in findings {
        let Said { place, message, hint } = said(f, units);
        let _ = writeln!(messages, "{}: {place}: {message}; {hint}", f.severity.word());
    }
}

fn pretty(value: &serde_json::Value) -> String {
    format!("{value:#}\n")
}

fn print(out: &mut dyn Write, text: &str) -> Result<(), FileError> {
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // A reader that closed the pipe has seen enough.
        Err(e) if e.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        other => other.map_err(|cause| FileError::Write { path: "standard output".into(), cause }),
    }
}
