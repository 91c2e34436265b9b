//! Panels from their surfaces to their patterns, and what of them is taken over from the
//! model before.

use std::sync::Arc;

use super::{Model, Recomputed};
use crate::bend::{SheetBend, sheet};
use crate::flat::laps::{self, PanelLaps};
use crate::flat::{FlatPanel, develop, error, past_post};
use crate::frames::SkinPanel;
use crate::geom::P2;
use crate::geom::plane::Plane;
use crate::geom::polyline::length2;
use crate::hull::{Hull, HullLines, PatternSurface};
use crate::material::{Materials, Stiffness};
use crate::panel::{Quality, Surface, choose_ends};
use crate::tol::PATTERN_ERROR_MM;

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
    pub surface: Arc<Surface>,
    /// The pattern.
    pub flat: Arc<FlatPanel>,
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
    /// What it was laid by.
    laid_by: LaidBy,
    /// Bow and stern that were to be trimmed and could not be, this panel by itself.
    refused: [bool; 2],
}

impl PanelModel {
    /// As frames, ends and weights see it.
    pub(super) fn of_skin(&self) -> SkinPanel<'_> {
        SkinPanel {
            name: &self.name,
            surface: &self.surface,
            thickness: self.thickness,
            stiffness: self.stiffness,
        }
    }

    /// Whether it is the other one's surface, of a sheet as thick and as stiff: all that frames,
    /// ends and weights see of it but its name, which goes by its place.
    fn lies_as(&self, other: &PanelModel) -> bool {
        Arc::ptr_eq(&self.surface, &other.surface)
            && self.thickness == other.thickness
            && self.stiffness == other.stiffness
            && self.name == other.name
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

/// What, besides its two lines, a panel is laid by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LaidBy {
    /// The planes that were to trim it at bow and stern.
    planes: [Option<Plane>; 2],
    /// See [`PanelModel::full_width`].
    full_width: bool,
    /// From the moulded surface out to the one that the pattern develops, mm.
    offset: f64,
}

/// What panels are made from.
#[derive(Debug, Clone, Copy)]
pub(super) struct PanelStock<'a> {
    pub hull: &'a Hull,
    pub lines: &'a HullLines,
    pub materials: &'a Materials,
    /// The model before, and whether its lines are the same.
    pub before: Option<(&'a Model, bool)>,
    /// Whether a second thread may lay every other panel.
    pub two_hands: bool,
}

/// Panels, and which of them lie just as they did in the model before, their sheets as thick.
#[derive(Debug, Clone)]
pub(super) struct Panels {
    pub panels: Vec<PanelModel>,
    pub same: Vec<bool>,
}

/// All panels from the keel up. An end is trimmed only if every panel can be trimmed there:
/// neighbours must end at the same point of the line that they share.
pub(super) fn panels(of: PanelStock, count: &mut Recomputed) -> Panels {
    let PanelStock { hull, lines, before, .. } = of;
    let mut planes = [lines.bow_plane(hull.bow), lines.stern_plane(hull.stern)];
    // Between the same lines what was refused would be refused again.
    let settled = before.filter(|(b, same_lines)| {
        *same_lines && (b.hull.bow, b.hull.stern) == (hull.bow, hull.stern)
    });
    if let Some((b, _)) = settled
        && let Some(first) = b.panels.iter().find(|p| !p.full_width)
    {
        planes = first.laid_by.planes;
    }
    let mut all = loop {
        let all = laid(of, planes, count);
        let refused = [0, 1].map(|end| planes[end].is_some() && all.iter().any(|p| p.refused[end]));
        if refused == [false, false] {
            break all;
        }
        for end in 0..2 {
            if refused[end] {
                planes[end] = None;
            }
        }
    };
    let old = |p: &PanelModel| before.and_then(|(b, _)| b.panels.get(p.lower_line));
    let same: Vec<bool> = all.iter().map(|p| old(p).is_some_and(|o| p.lies_as(o))).collect();
    let asked = [!hull.bow.straight, !hull.stern.straight];
    let kept = [0, 1].map(|end| asked[end] && planes[end].is_none());
    let taken = settled.filter(|(b, _)| {
        same.iter().all(|s| *s)
            && b.hull.planking.laps == hull.planking.laps
            && b.hull.stem.sides == hull.stem.sides
    });
    if let Some((b, _)) = taken {
        for (p, old) in all.iter_mut().zip(&b.panels) {
            (p.laps, p.past_posts) = (old.laps.clone(), old.past_posts.clone());
            p.kept_straight = kept;
        }
        return Panels { panels: all, same };
    }
    count.laps += 1;
    let surfaces: Vec<&Surface> = all.iter().map(|p| &*p.surface).collect();
    let thicknesses: Vec<f64> = all.iter().map(|p| p.thickness).collect();
    // A panel between neighbours that lie as they did is lapped as it was.
    let lapped_alike = before.filter(|(b, _)| {
        b.panels.len() == all.len()
            && b.lines.flat_bottom == lines.flat_bottom
            && b.hull.planking.laps == hull.planking.laps
    });
    let laps: Vec<PanelLaps> = (0..all.len())
        .map(|k| {
            let beside = k.saturating_sub(1)..(k + 2).min(all.len());
            match lapped_alike.filter(|_| same[beside].iter().all(|s| *s)) {
                Some((b, _)) => b.panels[k].laps.clone(),
                None => laps::laps(lines, &surfaces, &thicknesses, k, |l| hull.planking.lap_at(l)),
            }
        })
        .collect();
    for (p, laps) in all.iter_mut().zip(laps) {
        p.laps = laps;
        p.past_posts = past_posts(hull, lines, p);
        p.kept_straight = kept;
    }
    Panels { panels: all, same }
}

/// All panels trimmed by `planes` where they can be, laid flat and bent; those that must be
/// laid anew on two threads.
fn laid(of: PanelStock, planes: [Option<Plane>; 2], count: &mut Recomputed) -> Vec<PanelModel> {
    let asked: Vec<(usize, LaidBy)> = (0..of.lines.lines.len() - 1)
        .map(|k| {
            let full_width = of.lines.flat_bottom && k == 0;
            let planking = &of.hull.planking;
            let (_, thickness) = planking.of_panel(&of.lines.panel_name(k));
            let offset = planking.pattern_surface.offset(thickness);
            (k, LaidBy { planes, full_width, offset })
        })
        .collect();
    let anew: Vec<(usize, LaidBy)> =
        asked.iter().copied().filter(|(k, by)| taken(of, *k, by).is_none()).collect();
    count.panels += anew.len();
    let mut surfaces =
        shared_out(&anew, of.two_hands, |(k, by)| laid_flat(of.lines, *k, by)).into_iter();
    asked
        .iter()
        .map(|(k, by)| match taken(of, *k, by) {
            Some(old) => panel(of, *k, *by, Laid::of(old), Some(old), count),
            None => {
                let laid = surfaces.next().unwrap_or_else(|| laid_flat(of.lines, *k, by));
                panel(of, *k, *by, laid, None, count)
            }
        })
        .collect()
}

/// The panel of the model before that lies between the same two lines and was laid alike.
fn taken<'a>(of: PanelStock<'a>, k: usize, by: &LaidBy) -> Option<&'a PanelModel> {
    let (before, _) = of.before?;
    let old = before.panels.get(k)?;
    let same = |k: usize| {
        let (a, b) = (before.lines.lines.get(k), &of.lines.lines[k]);
        a.is_some_and(|a| a.spline == b.spline)
    };
    (old.laid_by == *by && same(k) && same(k + 1)).then_some(old)
}

/// Does some things, on two threads every second one on the other.
fn shared_out<T: Sync, R: Send>(
    all: &[T],
    two_hands: bool,
    work: impl Fn(&T) -> R + Sync,
) -> Vec<R> {
    if !two_hands || all.len() < 2 {
        return all.iter().map(work).collect();
    }
    std::thread::scope(|scope| {
        let odd = scope.spawn(|| all.iter().skip(1).step_by(2).map(&work).collect::<Vec<R>>());
        let even: Vec<R> = all.iter().step_by(2).map(&work).collect();
        let odd = odd.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        let (mut even, mut odd) = (even.into_iter(), odd.into_iter());
        (0..all.len()).filter_map(|i| if i % 2 == 0 { even.next() } else { odd.next() }).collect()
    })
}

/// A panel's surface and pattern, before it is known what sheet it is of.
struct Laid {
    surface: Arc<Surface>,
    flat: Arc<FlatPanel>,
    error: f64,
    quality: Quality,
    edges: EdgeLengths,
    refused: [bool; 2],
}

impl Laid {
    /// That of another model.
    fn of(p: &PanelModel) -> Laid {
        Laid {
            surface: p.surface.clone(),
            flat: p.flat.clone(),
            error: p.pattern_error,
            quality: p.quality,
            edges: p.edges,
            refused: p.refused,
        }
    }
}

fn laid_flat(lines: &HullLines, k: usize, by: &LaidBy) -> Laid {
    let (lower, upper) = (&lines.lines[k].spline, &lines.lines[k + 1].spline);
    let [bow, stern] = by.planes;
    let ends = (!by.full_width).then(|| choose_ends(lower, upper, bow, stern));
    let mut strips = FIRST_STRIPS;
    let (surface, flat, error) = loop {
        let surface = match &ends {
            Some(ends) => Surface::of(&ends.pair, &ends.matching, strips),
            None => Surface::flat_bottom(upper, lower, strips),
        };
        let flat = develop(&surface, by.offset);
        let error = error::estimate(&flat);
        if error <= PATTERN_ERROR_MM || strips >= MOST_STRIPS {
            break (surface, flat, error);
        }
        // The error falls with the square of the strips; a fifth more for safety.
        let factor = 1.2 * (error / PATTERN_ERROR_MM).sqrt();
        strips = ((strips as f64 * factor).ceil() as usize).min(MOST_STRIPS);
    };
    let edges = EdgeLengths {
        lower: length2(&flat.lower_edge()),
        upper: length2(&flat.upper_edge()),
        bow: length2(&flat.bow_edge()),
        stern: length2(&flat.stern_edge()),
    };
    Laid {
        quality: Quality::of(&surface),
        surface: Arc::new(surface),
        flat: Arc::new(flat),
        error,
        edges,
        refused: ends.map_or([false; 2], |e| [e.bow_kept_straight, e.stern_kept_straight]),
    }
}

/// The panel of a sheet: its bend is taken over from the `old` one of the same shape where
/// sheet and table are the same.
fn panel(
    of: PanelStock,
    k: usize,
    laid_by: LaidBy,
    laid: Laid,
    old: Option<&PanelModel>,
    count: &mut Recomputed,
) -> PanelModel {
    let name = of.lines.panel_name(k);
    let planking = &of.hull.planking;
    let (sheet_name, thickness) = planking.of_panel(&name);
    let grain_across = planking.grain_across(&name);
    let sheets = &of.materials.sheets;
    let same_table = of.before.is_some_and(|(b, _)| b.materials.sheets == *sheets);
    let old = old.filter(|o| {
        same_table
            && (o.sheet.as_str(), o.thickness) == (sheet_name, thickness)
            && o.grain_across == grain_across
    });
    let bend = match old {
        Some(old) => old.bend.clone(),
        None => {
            count.sheets += 1;
            sheet::bend(&laid.surface, &laid.flat, sheets, (sheet_name, thickness), grain_across)
        }
    };
    let stiffness = sheets.stiffness(sheet_name, thickness);
    PanelModel {
        name,
        lower_line: k,
        full_width: laid_by.full_width,
        sheet: sheet_name.into(),
        thickness,
        pattern_surface: planking.pattern_surface,
        grain_across,
        stiffness: if grain_across { stiffness.turned() } else { stiffness },
        quality: laid.quality,
        surface: laid.surface,
        flat: laid.flat,
        pattern_error: laid.error,
        bend,
        edges: laid.edges,
        laps: PanelLaps::none(),
        past_posts: [Vec::new(), Vec::new()],
        kept_straight: laid.refused,
        laid_by,
        refused: laid.refused,
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
