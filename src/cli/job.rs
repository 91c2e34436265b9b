//! From what was typed to a checked job: sizes and names resolved, files not yet touched.

use std::path::PathBuf;

use super::args::{Args, Command, MeshSurface, PaperArg};
use crate::drawing::compose::{Extent, Paper};
use crate::files::Over;
use crate::hull::starters::{STARTERS, Starter, find};
use crate::hull::{OutsideOf, PatternSurface};
use crate::mesh_files::MeshFormat;
use crate::report::{PARTS, QUESTIONS};
use crate::screen::ViewFrom;
use crate::units::Units;

/// What to do, checked.
#[derive(Debug, Clone, PartialEq)]
pub enum Job {
    /// Open the window on a document, or on the demonstration hull.
    Window(Option<PathBuf>),
    /// Make a document from a table of offsets.
    Import {
        /// The table.
        csv: PathBuf,
        /// The document.
        output: PathBuf,
        /// Measured thickness, mm.
        thickness: Option<f64>,
        /// Planking to whose outside the lines are drawn.
        outside_of: Option<OutsideOf>,
        /// Surface to develop.
        surface: Option<PatternSurface>,
        /// Whether the document may be written over.
        over: Over,
    },
    /// List the starters.
    ListStarters,
    /// Write a starter's document.
    Start(&'static Starter, PathBuf, Over),
    /// Print a report.
    Report {
        /// The document.
        file: PathBuf,
        /// As JSON.
        json: bool,
        /// One part of it.
        only: Option<String>,
    },
    /// Write the build pack.
    Pack {
        /// The document; `None` for the demonstration hull.
        file: Option<PathBuf>,
        /// The folder.
        output: PathBuf,
        /// Paper of the patterns.
        paper: Paper,
        /// How lengths are written.
        units: Option<Units>,
        /// Halves, or everything whole.
        extent: Extent,
        /// Whether what is not ours in the folder may go.
        over: Over,
    },
    /// Choose from what the yard has.
    Yard {
        /// The document.
        file: PathBuf,
        /// Where the changed document goes.
        output: Option<PathBuf>,
        /// As JSON.
        json: bool,
        /// Whether the changed document may be written over another.
        over: Over,
    },
    /// Render a picture.
    Picture {
        /// The document.
        file: PathBuf,
        /// The PNG.
        output: PathBuf,
        /// From where.
        view: ViewFrom,
        /// Width and height, pixels.
        size: (u32, u32),
    },
    /// Write a mesh.
    Mesh {
        /// The document.
        file: PathBuf,
        /// The mesh file.
        output: PathBuf,
        /// Its format.
        format: MeshFormat,
        /// The outside of the planking instead of the moulded surface.
        outside: bool,
    },
}

impl Job {
    /// Checks what was typed.
    ///
    /// # Errors
    /// A sentence that names the argument, its value, and what would be accepted.
    pub fn from_args(args: Args) -> Result<Job, String> {
        let Some(command) = args.command else {
            return Ok(Job::Window(args.file));
        };
        Ok(match command {
            Command::Import {
                csv,
                output,
                sheet_thickness,
                outside_of,
                pattern_surface,
                force,
            } => {
                if let Some(t) = sheet_thickness.filter(|t| !(1.0..=50.0).contains(t)) {
                    return Err(format!("--sheet-thickness {t}: accepted are 1 to 50 mm"));
                }
                Job::Import {
                    csv,
                    output,
                    thickness: sheet_thickness,
                    outside_of: outside_of
                        .map(|t| OutsideOf::parse(&t).map_err(|e| format!("--outside-of: {e}")))
                        .transpose()?,
                    surface: pattern_surface.map(Into::into),
                    over: over(force),
                }
            }
            Command::Start { name: None, .. } => Job::ListStarters,
            Command::Start { name: Some(name), output, force } => {
                let names: Vec<&str> = STARTERS.iter().map(|s| s.name).collect();
                let starter = find(&name).ok_or_else(|| {
                    format!("no starter is called {name:?}; accepted: {}", names.join(", "))
                })?;
                let output = output.unwrap_or_else(|| PathBuf::from(format!("{name}.ron")));
                Job::Start(starter, output, over(force))
            }
            Command::Report { file, json, only } => {
                let questions = QUESTIONS.map(|(question, _)| question.key());
                let known = |p: &&str| PARTS.contains(p) || questions.contains(p);
                if let Some(part) = only.as_deref().filter(|p| !known(p)) {
                    return Err(format!(
                        "--only {part}: accepted are {}; or all of a question: {}",
                        PARTS.join(", "),
                        questions.join(", ")
                    ));
                }
                Job::Report { file, json, only }
            }
            Command::Pack { file, output, paper, units, whole, force } => Job::Pack {
                file: Some(file),
                output,
                paper: match paper {
                    PaperArg::A4 => Paper::A4,
                    PaperArg::Letter => Paper::Letter,
                    PaperArg::Roll => Paper::Roll,
                },
                units: units.map(|u| units_of(&u)).transpose()?,
                extent: if whole { Extent::Whole } else { Extent::Half },
                over: over(force),
            },
            Command::Yard { file, output, json, force } => {
                Job::Yard { file, output, json, over: over(force) }
            }
            Command::Picture { file, output, view, size } => {
                let words: Vec<&str> = ViewFrom::ALL.iter().map(|v| v.word()).collect();
                let view = ViewFrom::ALL
                    .into_iter()
                    .find(|v| v.word() == view)
                    .ok_or_else(|| format!("--view {view}: accepted are {}", words.join(", ")))?;
                Job::Picture { file, output, view, size: size_of(&size)? }
            }
            Command::Mesh { file, output, surface } => {
                let format = MeshFormat::of_path(&output)?;
                Job::Mesh { file, output, format, outside: surface == MeshSurface::Outside }
            }
        })
    }
}

fn over(force: bool) -> Over {
    if force { Over::Force } else { Over::Refuse }
}

fn units_of(word: &str) -> Result<Units, String> {
    let words: Vec<&str> = Units::ALL.iter().map(|u| u.word()).collect();
    Units::from_word(word)
        .ok_or_else(|| format!("--units {word}: accepted are {}", words.join(", ")))
}

fn size_of(text: &str) -> Result<(u32, u32), String> {
    let sides =
        text.split_once(['x', 'X']).and_then(|(w, h)| Some((w.parse().ok()?, h.parse().ok()?)));
    sides
        .filter(|(w, h): &(u32, u32)| (16..=8192).contains(w) && (16..=8192).contains(h))
        .ok_or_else(|| {
            format!("--size {text}: accepted is WIDTHxHEIGHT, each 16 to 8192, such as 1200x800")
        })
}
