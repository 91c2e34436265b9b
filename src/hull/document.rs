//! The hull document's data, as it stands in a RON file.
//!
//! Lengths are mm. Every part but the lines has a default, and a saved file writes every
//! default down, so that nothing changes under a builder when a default does.

use serde::{Deserialize, Serialize};

use super::framing::{Framing, Motor, StemPlan, TransomPlan};
use super::jig::{Lap, LapAt, Measured, StrongbackPlan};
use super::loads::AfloatPlan;
use super::lumber::{Member, default_members};
use super::stock::StockPlan;
use crate::geom::P3;
use crate::material::{Coverage, Sheet, Wood};
use crate::part::LineId;
use crate::units::Units;

/// The version of the file format that this program writes.
pub const FORMAT_VERSION: u32 = 1;

/// A boat as the builder decides it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hull {
    /// Version of the file format.
    pub version: u32,
    /// The boat's name, printed on every sheet.
    pub name: String,
    /// Anything the builder wants to remember.
    #[serde(default)]
    pub notes: String,
    /// How lengths are shown; computation is in mm regardless.
    #[serde(default)]
    pub units: Units,
    /// The hull lines from the keel up: `keel` (left out on a flat bottom), `chine` or
    /// `chine-1`, `chine-2` …, `sheer`.
    pub lines: Vec<Line>,
    /// The forward end.
    #[serde(default)]
    pub bow: EndShape,
    /// The after end.
    #[serde(default)]
    pub stern: EndShape,
    /// The skin.
    #[serde(default)]
    pub planking: Planking,
    /// Stations and frames.
    #[serde(default)]
    pub framing: Framing,
    /// The transom, and the bow transom of a pram.
    #[serde(default)]
    pub transom: TransomPlan,
    /// The stem.
    #[serde(default)]
    pub stem: StemPlan,
    /// The outboard.
    #[serde(default)]
    pub motor: Motor,
    /// The jig that she is built on.
    #[serde(default)]
    pub strongback: StrongbackPlan,
    /// What was measured on the real jig; empty while nothing stands.
    #[serde(default)]
    pub as_built: Vec<Measured>,
    /// The boat afloat: water, loads, what was weighed.
    #[serde(default)]
    pub afloat: AfloatPlan,
    /// Lumber bent into the hull.
    #[serde(default = "default_members")]
    pub members: Vec<Member>,
    /// What is bought for her, and how it is put together.
    #[serde(default)]
    pub stock: StockPlan,
    /// Rows of the builder's own for the wood table; a row of a known name replaces it.
    #[serde(default)]
    pub woods: Vec<Wood>,
    /// Rows of the builder's own for the sheet table.
    #[serde(default)]
    pub sheets: Vec<Sheet>,
    /// Rows of the builder's own for the coverage table.
    #[serde(default)]
    pub coverage: Vec<Coverage>,
}

/// A hull line as the ducks that it is made to pass through, bow to stern.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// `keel`, `chine`, `chine-1` … or `sheer`.
    pub name: String,
    /// At least two ducks, x strictly increasing.
    pub ducks: Vec<Duck>,
    /// What the line does at the bow.
    #[serde(default)]
    pub bow: LineEnd,
    /// What the line does at the stern.
    #[serde(default)]
    pub stern: LineEnd,
}

impl Line {
    /// Whether it is this line.
    pub fn is(&self, id: LineId) -> bool {
        id.is(&self.name)
    }
}

/// What a line does at an end.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub enum LineEnd {
    /// The batten runs past its last duck.
    #[default]
    RunsOn,
    /// The batten ends there: no curvature.
    Free,
    /// The line leaves the end along this direction (aft, out, up; any length).
    Along(f64, f64, f64),
}

/// A point that a line passes through.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Duck {
    /// Aft of the forward-most point, mm.
    pub x: f64,
    /// To starboard of the centreplane, mm.
    pub y: f64,
    /// Above the baseline, mm.
    pub z: f64,
    /// The line bends sharply here.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub knuckle: bool,
}

impl Duck {
    /// A plain duck.
    pub fn at(x: f64, y: f64, z: f64) -> Duck {
        Duck { x, y, z, knuckle: false }
    }

    /// Its place, mm.
    pub fn point(&self) -> P3 {
        P3::new(self.x, self.y, self.z)
    }
}

/// How the panels end at the bow or the stern.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct EndShape {
    /// Each panel's end is straight, a ruling from line to line. Otherwise the lines run
    /// on and the panel is trimmed to the stem's or transom's plane.
    pub straight: bool,
}

impl Default for EndShape {
    fn default() -> Self {
        EndShape { straight: true }
    }
}

/// The skin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Planking {
    /// What every panel is made of unless `panels` says otherwise.
    pub sheet: String,
    /// Measured thickness of that sheet, mm: computed with, whatever its name says.
    pub thickness_mm: f64,
    /// Which surface of the sheet the patterns develop.
    pub pattern_surface: PatternSurface,
    /// Left around each pattern to plane off, mm; 0 cuts on the finished edge.
    pub trim_allowance_mm: f64,
    /// Panels that differ.
    pub panels: Vec<PanelPlanking>,
    /// Laps that differ from the usual one: the sides go on first and the bottom covers
    /// their lower edges.
    pub laps: Vec<LapAt>,
}

impl Default for Planking {
    fn default() -> Self {
        Planking {
            sheet: "marine ply 9".into(),
            thickness_mm: 9.0,
            pattern_surface: PatternSurface::Middle,
            trim_allowance_mm: 5.0,
            panels: Vec::new(),
            laps: Vec::new(),
        }
    }
}

impl Planking {
    /// Which panel laps the other along the line called `name`.
    pub fn lap_at(&self, line: LineId) -> Lap {
        self.laps.iter().find(|l| line.is(&l.line)).map_or(Lap::LowerOver, |l| l.lap)
    }

    /// Sheet name and measured thickness (mm) of the panel called `name`.
    pub fn of_panel(&self, name: &str) -> (&str, f64) {
        self.panels
            .iter()
            .find(|p| p.panel == name)
            .map_or((self.sheet.as_str(), self.thickness_mm), |p| {
                (p.sheet.as_str(), p.thickness_mm)
            })
    }

    /// Whether the face grain of `name` runs across the panel instead of along it.
    pub fn grain_across(&self, name: &str) -> bool {
        self.panels.iter().any(|p| p.panel == name && p.grain_across)
    }
}

/// Which surface of the sheet keeps its length when bent, and is developed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum PatternSurface {
    /// The face against the frames: the moulded surface itself.
    Inside,
    /// The middle of the sheet's measured thickness.
    #[default]
    Middle,
    /// The outer face.
    Outside,
}

impl PatternSurface {
    /// The word used in files and on the command line.
    pub fn word(self) -> &'static str {
        match self {
            PatternSurface::Inside => "inside",
            PatternSurface::Middle => "middle",
            PatternSurface::Outside => "outside",
        }
    }

    /// Distance (mm) outward from the moulded surface for a sheet of `thickness` mm.
    pub fn offset(self, thickness: f64) -> f64 {
        match self {
            PatternSurface::Inside => 0.0,
            PatternSurface::Middle => 0.5 * thickness,
            PatternSurface::Outside => thickness,
        }
    }
}

/// One panel's own sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PanelPlanking {
    /// `bottom`, `side`, `strake-1` …
    pub panel: String,
    /// Sheet by its name in the sheet table.
    pub sheet: String,
    /// Measured thickness, mm.
    pub thickness_mm: f64,
    /// The face grain runs across the panel instead of along it.
    #[serde(default)]
    pub grain_across: bool,
}

impl Hull {
    /// A hull of these lines and all defaults.
    pub fn new(name: impl Into<String>, lines: Vec<Line>) -> Hull {
        Hull {
            version: FORMAT_VERSION,
            name: name.into(),
            notes: String::new(),
            units: Units::default(),
            lines,
            bow: EndShape::default(),
            stern: EndShape::default(),
            planking: Planking::default(),
            framing: Framing::default(),
            transom: TransomPlan::default(),
            stem: StemPlan::default(),
            motor: Motor::default(),
            strongback: StrongbackPlan::default(),
            as_built: Vec::new(),
            afloat: AfloatPlan::default(),
            members: default_members(),
            stock: StockPlan::default(),
            woods: Vec::new(),
            sheets: Vec::new(),
            coverage: Vec::new(),
        }
    }

    /// The line called `name`.
    pub fn line(&self, name: &str) -> Option<&Line> {
        self.lines.iter().find(|l| l.name == name)
    }

    /// The line `id`.
    pub fn line_of(&self, id: LineId) -> Option<&Line> {
        self.lines.iter().find(|l| l.is(id))
    }

    /// The document as RON text, every default written down.
    ///
    /// # Errors
    /// None for a document made by this program; RON's own otherwise.
    pub fn to_ron(&self) -> Result<String, ron::Error> {
        let pretty = ron::ser::PrettyConfig::new().depth_limit(3).indentor("  ");
        let body = ron::ser::to_string_pretty(self, pretty)?;
        Ok(format!(
            "// A hull for chinewright. Lengths in mm: x aft, y to starboard, z up.\n{body}\n"
        ))
    }
}
