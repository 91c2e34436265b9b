//! The one pass from a document to everything that can be computed, stage by stage.

use crate::bend::{BentMember, SheetBend, sheet};
use crate::curve::Fairness;
use crate::finding::Finding;
use crate::flat::laps::{self, PanelLaps};
use crate::flat::{FlatPanel, develop, error, past_post};
use crate::frames::{Skin, SkinPanel};
use crate::geom::P2;
use crate::geom::mesh::Mesh;
use crate::geom::plane::Plane;
use crate::geom::polyline::length2;
use crate::hull::{Hull, HullLines, PatternSurface};
use crate::material::{Materials, Stiffness};
use crate::panel::hull_mesh::{HullSurfaces, closed_mesh};
use crate::panel::{Quality, Surface, choose_ends};
use crate::tol::PATTERN_ERROR_MM;

pub mod afloat;
pub mod as_built;
pub mod battens;
pub mod compare;
mod members;
pub mod motor;
mod pattern;
pub mod rain;
mod verdict;
pub mod woodwork;

pub use afloat::Afloat;
pub use as_built::AsBuilt;
pub use battens::BottomBattens;
pub use motor::MotorCheck;
pub use rain::Rain;
pub use woodwork::Woodwork;

/// Strips that a panel is first cut into.
const FIRST_STRIPS: usize = 96;
/// Strips beyond which no pattern is refined: 4 mm each on a 4 m panel.
const MOST_STRIPS: usize = 1024;

/// A panel from its surface to its pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelModel {
    /// `bottom`, `side`, `strake-1` …
    pub name: String,
    /// Index of its lower line in [`Model::lines`].
    pub lower_line: usize,
    /// The panel is laid flat as one piece over both sides (a flat bottom); its rulings are
    /// those of the starboard half.
    pub full_width: bool,
    /// Sheet by name.
    pub sheet: String,
    /// Measured thickness, mm.
    pub thickness: f64,
    /// Which surface of the sheet the pattern develops.
    pub pattern_surface: PatternSurface,
    /// Face grain runs across the panel.
    pub grain_across: bool,
    /// Stiffness of its sheet along and across the panel.
    pub stiffness: Stiffness,
    /// The moulded surface.
    pub surface: Surface,
    /// The pattern.
    pub flat: FlatPanel,
    /// Estimated error of the pattern, mm.
    pub pattern_error: f64,
    /// Twist and stretch.
    pub quality: Quality,
    /// The sheet at its tightest.
    pub bend: SheetBend,
    /// Lengths of the pattern's edges, mm.
    pub edges: EdgeLengths,
    /// Which panel laps which at its long edges, and what that adds.
    pub laps: PanelLaps,
    /// What it has past the stem's line (and past a sharp stern's post): places along the
    /// edge of the pattern and mm past it; empty where there is no such post.
    pub past_posts: [Vec<(P2, f64)>; 2],
    /// Bow and stern that were to be trimmed and could not be without twisting the panel.
    pub kept_straight: [bool; 2],
}

impl PanelModel {
    /// As frames, ends and weights see it.
    fn of_skin(&self) -> SkinPanel<'_> {
        SkinPanel {
            name: &self.name,
            surface: &self.surface,
            thickness: self.thickness,
            stiffness: self.stiffness,
        }
    }
}

/// Lengths of a pattern's edges, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeLengths {
    /// Along the lower line.
    pub lower: f64,
    /// Along the upper line.
    pub upper: f64,
    /// The forward edge.
    pub bow: f64,
    /// The after edge.
    pub stern: f64,
}

/// Everything that can be computed of a hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// The document it was computed from.
    pub hull: Hull,
    /// The tables it was computed with, the document's own rows included.
    pub materials: Materials,
    /// The lines as splines.
    pub lines: HullLines,
    /// Fairness of each line, in the order of `lines`.
    pub fairness: Vec<Fairness>,
    /// Panels from the keel up.
    pub panels: Vec<PanelModel>,
    /// Members that follow a line which the hull has, and the bottom's battens after them.
    pub members: Vec<BentMember>,
    /// How the bottom's battens are laid; `None` where there are none.
    pub battens: Option<BottomBattens>,
    /// Stations, mm aft.
    pub stations: Vec<f64>,
    /// Frames, transom, stem and strongback.
    pub woodwork: Woodwork,
    /// The boat as it stands on the jig; `None` while nothing was measured there.
    pub as_built: Option<Box<AsBuilt>>,
    /// The boat afloat; `None` for a hull that holds no room.
    pub afloat: Option<Box<Afloat>>,
    /// What was noticed, the gravest first, whatever part it is of.
    pub findings: Vec<Finding>,
}

/// Computes everything.
///
/// # Errors
/// What keeps the document from being computed at all, as findings.
pub fn derive(hull: &Hull, materials: &Materials) -> Result<Model, Vec<Finding>> {
    let faults = crate::hull::check::faults(hull);
    if !faults.is_empty() {
        return Err(faults
            .iter()
            .map(|f| {
                Finding::stop("document", f.what.clone(), f.message.clone(), f.accepted.clone())
            })
            .collect());
    }
    derive_checked(hull, materials)
}

/// As [`derive`], for a document that was checked when it was read or edited.
///
/// # Errors
/// A line through whose ducks no batten passes, as a finding.
pub fn derive_checked(hull: &Hull, materials: &Materials) -> Result<Model, Vec<Finding>> {
    let lines = HullLines::of(hull).map_err(|(line, e)| {
        vec![Finding::stop("shape", format!("the {line}"), e.to_string(), "move or remove a duck")]
    })?;
    let materials = materials.with_own_rows(&hull.woods, &hull.sheets, &hull.coverage);
    let fairness = lines.lines.iter().map(|l| Fairness::of(&l.spline)).collect();
    let panels = panels(hull, &lines, &materials);
    let mut members = members::members(hull, &lines, &panels, &materials);
    let stations = hull.framing.stations(lines.extent(|p| p.x));
    let skin = Skin { lines: &lines, panels: panels.iter().map(PanelModel::of_skin).collect() };
    let battens = battens::battens(hull, &skin, &stations, &materials).map(|(laid, bent)| {
        members.extend(bent);
        laid
    });
    let woodwork = woodwork::woodwork(hull, &lines, &panels, &members, &stations, battens.as_ref());
    let mut model = Model {
        hull: hull.clone(),
        materials,
        lines,
        fairness,
        panels,
        members,
        battens,
        stations,
        woodwork,
        as_built: None,
        afloat: None,
        findings: Vec::new(),
    };
    model.afloat = afloat::afloat(&model).map(Box::new);
    let mut refused = Vec::new();
    model.as_built = as_built::as_built(&model, &mut refused);
    model.findings = verdict::findings(&model, refused);
    Ok(model)
}

/// All panels from the keel up. An end is trimmed only if every panel can be trimmed there:
/// neighbours must end at the same point of the line that they share.
fn panels(hull: &Hull, lines: &HullLines, materials: &Materials) -> Vec<PanelModel> {
    let mut planes = [lines.bow_plane(hull.bow), lines.stern_plane(hull.stern)];
    loop {
        let all: Vec<PanelModel> =
            (0..lines.lines.len() - 1).map(|k| panel(hull, lines, k, materials, planes)).collect();
        let refused =
            [0, 1].map(|end| planes[end].is_some() && all.iter().any(|p| p.kept_straight[end]));
        if refused == [false, false] {
            let laps: Vec<PanelLaps> = (0..all.len())
                .map(|k| {
                    let surfaces: Vec<_> = all.iter().map(|p| &p.surface).collect();
                    let thicknesses: Vec<f64> = all.iter().map(|p| p.thickness).collect();
                    laps::laps(lines, &surfaces, &thicknesses, k, |l| hull.planking.lap_at(l))
                })
                .collect();
            let asked = [!hull.bow.straight, !hull.stern.straight];
            let kept = [0, 1].map(|end| asked[end] && planes[end].is_none());
            let together = |(p, laps): (PanelModel, PanelLaps)| PanelModel {
                kept_straight: kept,
                laps,
                past_posts: past_posts(hull, lines, &p),
                ..p
            };
            return all.into_iter().zip(laps).map(together).collect();
        }
        for end in 0..2 {
            if refused[end] {
                planes[end] = None;
            }
        }
    }
}

fn panel(
    hull: &Hull,
    lines: &HullLines,
    k: usize,
    materials: &Materials,
    [bow, stern]: [Option<Plane>; 2],
) -> PanelModel {
    let name = lines.panel_name(k);
    let (sheet_name, thickness) = hull.planking.of_panel(&name);
    let grain_across = hull.planking.grain_across(&name);
    let pattern_surface = hull.planking.pattern_surface;
    let offset = pattern_surface.offset(thickness);
    let full_width = lines.flat_bottom && k == 0;
    let (lower, upper) = (&lines.lines[k].spline, &lines.lines[k + 1].spline);
    let ends = (!full_width).then(|| choose_ends(lower, upper, bow, stern));
    let mut strips = FIRST_STRIPS;
    let (surface, flat, pattern_error) = loop {
        let surface = match &ends {
            Some(ends) => Surface::of(&ends.pair, &ends.matching, strips),
            None => Surface::flat_bottom(upper, lower, strips),
        };
        let flat = develop(&surface, offset);
        let error = error::estimate(&flat);
        if error <= PATTERN_ERROR_MM || strips >= MOST_STRIPS {
            break (surface, flat, error);
        }
        // The error falls with the square of the strips; a fifth more for safety.
        let factor = 1.2 * (error / PATTERN_ERROR_MM).sqrt();
        strips = ((strips as f64 * factor).ceil() as usize).min(MOST_STRIPS);
    };
    let bend =
        sheet::bend(&surface, &flat, &materials.sheets, (sheet_name, thickness), grain_across);
    let stiffness = materials.sheets.stiffness(sheet_name, thickness);
    let edges = EdgeLengths {
        lower: length2(&flat.lower_edge()),
        upper: length2(&flat.upper_edge()),
        bow: length2(&flat.bow_edge()),
        stern: length2(&flat.stern_edge()),
    };
    PanelModel {
        name,
        lower_line: k,
        full_width,
        sheet: sheet_name.into(),
        thickness,
        pattern_surface,
        grain_across,
        stiffness: if grain_across { stiffness.turned() } else { stiffness },
        quality: Quality::of(&surface),
        surface,
        flat,
        pattern_error,
        bend,
        edges,
        laps: PanelLaps::none(),
        past_posts: [Vec::new(), Vec::new()],
        kept_straight: ends.map_or([false; 2], |e| [e.bow_kept_straight, e.stern_kept_straight]),
    }
}

/// What a panel has past the stem's line and past a sharp stern's post: a flat bottom, whose
/// halves are one board, and a panel that comes to a point there have nothing.
fn past_posts(hull: &Hull, lines: &HullLines, p: &PanelModel) -> [Vec<(P2, f64)>; 2] {
    [false, true].map(|at_stern| {
        let transom = if at_stern { lines.transom } else { lines.bow_transom };
        if p.full_width || transom.is_some() {
            return Vec::new();
        }
        let half_siding = lines.half_siding(at_stern);
        let sheet = (p.thickness, half_siding);
        past_post::past_post(&p.surface, &p.flat, at_stern, sheet, hull.stem.sides)
    })
}

impl Model {
    /// The whole hull as one closed mesh on its moulded or its outside surface.
    pub fn mesh(&self, outside: bool) -> Mesh {
        let lines: Vec<_> = self.lines.lines.iter().map(|l| &l.spline).collect();
        let surfaces: Vec<_> = self.panels.iter().map(|p| &p.surface).collect();
        let offsets: Vec<f64> =
            self.panels.iter().map(|p| if outside { p.thickness } else { 0.0 }).collect();
        closed_mesh(HullSurfaces {
            lines: &lines,
            surfaces: &surfaces,
            offsets: &offsets,
            flat_bottom: self.lines.flat_bottom,
            bow: self.lines.bow_transom,
            stern: self.lines.transom,
        })
    }

    /// Name of the line above panel `p`.
    pub fn upper_line_name(&self, p: &PanelModel) -> &str {
        &self.lines.lines[p.lower_line + 1].name
    }

    /// Name of the line below panel `p`.
    pub fn lower_line_name(&self, p: &PanelModel) -> &str {
        &self.lines.lines[p.lower_line].name
    }
}
