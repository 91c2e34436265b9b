//! What may be typed.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use crate::hull::PatternSurface;

/// A small plywood boat from its lines to wood.
#[derive(Debug, Parser)]
#[command(name = "chinewright", version, about, args_conflicts_with_subcommands = true)]
pub struct Args {
    /// The hull document to open in the window; the demonstration hull if left out.
    pub file: Option<PathBuf>,
    /// What to do instead of opening a window.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// What to do instead of opening a window.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make a hull document from a table of offsets.
    ///
    /// The table is a list of points (line,x,y,z), or is typed as a plan has it: stations
    /// across (a row `station` with their names and a row `aft` with their distances), below
    /// them rows such as `sheer height` and `chine half-breadth`, or the lines below `Heights`
    /// and `Half-breadths`; cells are empty where a line has no point. A unit stands in a row
    /// `unit,in` or in brackets behind a label: mm, cm, m, in, ft, ft-in-8 (5-6-3+).
    Import {
        /// The table, as CSV.
        csv: PathBuf,
        /// The document to write.
        #[arg(short, long, value_name = "RON")]
        output: PathBuf,
        /// Measured thickness of the planking, mm.
        #[arg(long, value_name = "MM", conflicts_with = "outside_of")]
        sheet_thickness: Option<f64>,
        /// The plan's lines are drawn to the outside of planking of this thickness: deduct it,
        /// square to the skin. One thickness (9mm), or each panel's: "bottom 9mm, side 6mm".
        /// A row of the table, `outside of,bottom 9mm,side 6mm`, says the same.
        #[arg(long, value_name = "THICKNESS")]
        outside_of: Option<String>,
        /// Which surface of the sheet the patterns develop.
        #[arg(long, value_enum)]
        pattern_surface: Option<SurfaceArg>,
        /// Write over what is there.
        #[arg(long)]
        force: bool,
    },
    /// Write a starter hull's document; without a name, list the starters.
    Start {
        /// The starter.
        name: Option<String>,
        /// The document to write.
        #[arg(short, long, value_name = "RON")]
        output: Option<PathBuf>,
        /// Write over what is there.
        #[arg(long)]
        force: bool,
    },
    /// Print what was computed.
    Report {
        /// The hull document.
        file: PathBuf,
        /// As one JSON object.
        #[arg(long)]
        json: bool,
        /// One part of it: hull, lines, panels, members …; or one question: shape, skin, bones,
        /// setup, afloat, stock.
        #[arg(long, value_name = "PART")]
        only: Option<String>,
    },
    /// Write the build pack: patterns, offsets, summary.
    Pack {
        /// The hull document.
        file: PathBuf,
        /// The folder to write; made if missing, replaced as a whole if it is an earlier pack.
        #[arg(short, long, value_name = "DIR")]
        output: PathBuf,
        /// Paper of the full-size patterns.
        #[arg(long, value_enum, default_value_t = PaperArg::A4)]
        paper: PaperArg,
        /// How lengths are written: mm, m, in, in-16, ft-in-8; the document's own if left out.
        #[arg(long, value_name = "UNITS")]
        units: Option<String>,
        /// Print everything whole and at full size: no halves of what is the same on both
        /// sides, and frames put together besides their parts.
        #[arg(long)]
        whole: bool,
        /// Write over a folder that holds other files, or files changed since they were written.
        #[arg(long)]
        force: bool,
    },
    /// Find the cheapest boat that holds, of the sheets and lumber that the document lists.
    ///
    /// `stock.sheets` and `stock.lumber` of the document are what the yard has, with their
    /// prices and how many there are. Each panel's sheet, each member's species, the glue and
    /// the joint of the panels may change; everything else stays.
    Yard {
        /// The hull document.
        file: PathBuf,
        /// The document to write, with the changes that were found.
        #[arg(short, long, value_name = "RON")]
        output: Option<PathBuf>,
        /// Print one JSON object.
        #[arg(long)]
        json: bool,
        /// Write over what is there.
        #[arg(long)]
        force: bool,
    },
    /// Render the hull to a PNG.
    Picture {
        /// The hull document.
        file: PathBuf,
        /// The picture to write.
        #[arg(short, long, value_name = "PNG")]
        output: PathBuf,
        /// From where: quarter, bow, stern, side, above, below.
        #[arg(long, default_value = "quarter")]
        view: String,
        /// Width and height in pixels.
        #[arg(long, value_name = "WxH", default_value = "1200x800")]
        size: String,
    },
    /// Write the whole hull as a closed mesh: .stl, .obj or .glb.
    Mesh {
        /// The hull document.
        file: PathBuf,
        /// The mesh to write; its ending decides the format.
        #[arg(short, long, value_name = "MESH")]
        output: PathBuf,
        /// Which surface.
        #[arg(long, value_enum, default_value_t = MeshSurface::Moulded)]
        surface: MeshSurface,
    },
}

/// Which surface of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SurfaceArg {
    /// The face against the frames.
    Inside,
    /// The middle of the sheet.
    Middle,
    /// The outer face.
    Outside,
}

impl From<SurfaceArg> for PatternSurface {
    fn from(arg: SurfaceArg) -> Self {
        match arg {
            SurfaceArg::Inside => PatternSurface::Inside,
            SurfaceArg::Middle => PatternSurface::Middle,
            SurfaceArg::Outside => PatternSurface::Outside,
        }
    }
}

/// Paper of the full-size patterns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperArg {
    /// A4 sheets, 210 x 297 mm.
    A4,
    /// Letter sheets, 8.5 x 11 in.
    Letter,
    /// One page as long as the pattern, for a roll.
    Roll,
}

/// Which surface of the hull a mesh has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum MeshSurface {
    /// The inside of the planking, to which the lines are drawn.
    Moulded,
    /// The outside of the planking, which floats.
    Outside,
}
