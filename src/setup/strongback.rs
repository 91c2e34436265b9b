//! The ladder-like jig: where it stands, what it is made of, and how high everything is.

use super::checks::{self, Diagonals};
use super::ends::{self, End, EndStand, Ground};
use super::sticks::{self, Cut, Stick};
use crate::frames::{Frame, Stem, Transom};
use crate::geom::P3;
use crate::geom::ring::at_level;
use crate::hull::{Face, Framing, HullLines, StrongbackPlan};
use crate::part::LineId;

/// The level line is put on a whole multiple of this (mm), so that it can be said aloud.
const LEVEL_STEP_MM: f64 = 50.0;
/// The level line lies at least this far (mm) below the lowest sheer on a frame.
const BELOW_SHEER_MM: f64 = 20.0;
/// A leg stands at least this far (mm) inside the end of its spall.
const INSIDE_SPALL_MM: f64 = 20.0;
/// Rails run on past the first and last frame by this much, mm.
const OVERHANG_MM: f64 = 200.0;
/// Room between a leg and the frame's side beside it, mm.
const BESIDE_LEG_MM: f64 = 5.0;
/// Rails reach this far (mm) past the ends and what holds them.
const PAST_END_MM: f64 = 50.0;
/// The first and the last post stand this far (mm) inside the rails' ends.
const POST_INSIDE_MM: f64 = 100.0;
/// Greatest distance between the posts under a rail, mm. Common practice, no source.
const POST_EVERY_MM: f64 = 1200.0;

/// A corner of a frame as it stands: where a line passes.
#[derive(Debug, Clone, PartialEq)]
pub struct Corner {
    /// The line.
    pub line: LineId,
    /// From the centreline, mm.
    pub half_breadth: f64,
    /// Above the baseline, as she floats, mm.
    pub height: f64,
    /// Above the shop floor, upside down, mm.
    pub above_floor: f64,
}

/// Where one frame stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Stand {
    /// Its station, from 1.
    pub station: usize,
    /// The station's distance aft, mm.
    pub x: f64,
    /// From the first station's mark on the rails, mm.
    pub from_first: f64,
    /// Which way the frame's larger face looks: it stands on the station's line.
    pub face: Face,
    /// The leg and the frame's wood lie on this side of the line; the spall on the other.
    pub leg_side: Face,
    /// Distance of the legs' middles from the centreline, mm; 0 for one leg in the middle.
    pub leg_at: f64,
    /// Corners from the keel up.
    pub corners: Vec<Corner>,
    /// Half length of its spall, mm.
    pub spall_half: f64,
    /// What to tape.
    pub diagonals: Diagonals,
}

impl Stand {
    /// Fore and after faces of its legs, `thickness` mm thick, mm aft.
    pub fn leg_faces(&self, thickness: f64) -> [f64; 2] {
        faces(self.x, self.leg_side, thickness)
    }

    /// Fore and after faces of its spall, `thickness` mm thick, mm aft.
    pub fn spall_faces(&self, thickness: f64) -> [f64; 2] {
        faces(self.x, self.face, thickness)
    }
}

fn faces(x: f64, side: Face, thickness: f64) -> [f64; 2] {
    let other = x + side.sign() * thickness;
    [x.min(other), x.max(other)]
}

/// The whole jig.
#[derive(Debug, Clone, PartialEq)]
pub struct Strongback {
    /// Height of the level line above the baseline, mm.
    pub level: f64,
    /// Height of the baseline above the floor, upside down, mm.
    pub datum: f64,
    /// Top of the rails above the floor, mm.
    pub rail_top: f64,
    /// Rails, outside to outside, mm.
    pub rail_spacing: f64,
    /// Where the rails begin and end, mm aft.
    pub rails: [f64; 2],
    /// Length of a leg, from the rails' top past the level line to the spall's other edge, mm:
    /// the whole width of the spall is screwed to it.
    pub leg_length: f64,
    /// Height of the level line above the rails' top, marked on every leg, mm.
    pub level_on_legs: f64,
    /// Where the frames stand, bow to stern.
    pub stands: Vec<Stand>,
    /// Stations on which no frame could be stood: the level line misses them.
    pub missed: Vec<usize>,
    /// Posts under each rail: distances aft, mm.
    pub posts: Vec<f64>,
    /// Fore and after faces of the rungs between the rails, mm aft: one under every frame's
    /// legs and one under the posts of every end.
    pub rungs: Vec<[f64; 2]>,
    /// Every stick in its place.
    pub sticks: Vec<Stick>,
    /// Everything to cut.
    pub cuts: Vec<Cut>,
    /// Between the first and the last station's marks on opposite rails, mm.
    pub rail_diagonal: f64,
    /// Where the ends stand and what holds them, bow first.
    pub ends: Vec<EndStand>,
}

impl Strongback {
    /// Height above the floor, upside down, of a height above the baseline, mm.
    pub fn above_floor(&self, z: f64) -> f64 {
        self.datum - z
    }

    /// Distance along the rails from the first frame's line, mm; less than nothing ahead.
    pub fn from_first(&self, x: f64) -> f64 {
        x - self.stands.first().map_or(0.0, |s| s.x)
    }

    /// The end `end`, if she has it.
    pub fn end(&self, end: End) -> Option<&EndStand> {
        self.ends.iter().find(|e| e.end == end)
    }
}

/// Where the level line goes if the builder leaves it to us: the highest round height that
/// lies under the sheer on every frame.
pub fn level_line(plan: &StrongbackPlan, lines: &HullLines, stations: &[f64]) -> f64 {
    if let Some(level) = plan.level_mm {
        return level;
    }
    let sheer = &lines.lines[lines.lines.len() - 1].spline;
    let lowest = stations
        .iter()
        .filter_map(|x| sheer.parameter_at_x(*x))
        .map(|t| sheer.at(t).z)
        .fold(f64::INFINITY, f64::min);
    let lowest = if lowest.is_finite() { lowest } else { lines.extent(|p| p.z).1 };
    ((lowest - BELOW_SHEER_MM) / LEVEL_STEP_MM).floor() * LEVEL_STEP_MM
}

/// What stands on the jig.
#[derive(Debug, Clone, Copy)]
pub struct Load<'a> {
    /// The lines.
    pub lines: &'a HullLines,
    /// Frames, bow to stern.
    pub frames: &'a [Frame],
    /// The stem.
    pub stem: Option<&'a Stem>,
    /// The transom.
    pub transom: Option<&'a Transom>,
    /// The bow transom of a pram.
    pub bow_transom: Option<&'a Transom>,
    /// The post of a stern as sharp as a stem.
    pub sternpost: Option<&'a Stem>,
    /// How the frames are made.
    pub framing: &'a Framing,
    /// Siding of stem and sternpost, mm.
    pub stem_sided: f64,
    /// Thickness of the transoms, mm.
    pub transom_thickness: f64,
}

/// The jig for these frames; `None` if no frame can be stood on it.
pub fn strongback(plan: &StrongbackPlan, load: Load, level: f64) -> Option<Strongback> {
    let Load { lines, frames, stem, transom, bow_transom, sternpost, framing, .. } = load;
    // Upside down what is highest hangs lowest: a sheer, a crowned transom, a stem left long.
    let crowns = [transom, bow_transom].into_iter().flatten();
    let posts = [stem, sternpost].into_iter().flatten();
    let highest = crowns
        .map(|t| t.across.space(crate::geom::P2::new(0.0, t.top)).z)
        .chain(posts.flat_map(|s| s.outline.iter().map(|p| p.y)))
        .fold(lines.extent(|p| p.z).1, f64::max);
    let datum = plan.rail_top_mm + plan.clearance_mm + highest;
    let level_on_legs = datum - level - plan.rail_top_mm;
    let leg_length = level_on_legs + framing.spall_width_mm;
    let standing: Vec<(&Frame, f64)> =
        frames.iter().filter_map(|f| Some((f, f.spall?.half_length))).collect();
    let missed = frames.iter().filter(|f| f.spall.is_none()).map(|f| f.station).collect();
    let (first, last) = (standing.first()?.0, standing.last()?.0);
    let leg_half = 0.5 * plan.leg_width_mm;
    let widest = standing.iter().map(|s| s.1).fold(0.0, f64::max) - INSIDE_SPALL_MM;
    let rail_spacing = plan.rail_spacing_mm.min((2.0 * widest / 10.0).floor() * 10.0);
    let ends = ends(&load, [first, last], datum, (plan, rail_spacing));
    let horn = ends.iter().find(|e| !e.end.at_stern()).map(|e| {
        let z = datum - e.head.z;
        P3::new(e.head.x, 0.0, z)
    });
    let stands: Vec<Stand> = standing
        .iter()
        .map(|(frame, spall_half)| {
            // Between the frame's own sides, where they come closest beside the leg.
            let between = inner_half_breadth(frame) - BESIDE_LEG_MM;
            let room = (spall_half - INSIDE_SPALL_MM).min(between);
            let fits = (0.5 * rail_spacing).min(room) - leg_half;
            let corners = corners(frame, lines, datum);
            Stand {
                station: frame.station,
                x: frame.x,
                from_first: frame.x - first.x,
                face: frame.face,
                leg_side: opposite(frame.face),
                leg_at: if fits > leg_half { fits } else { 0.0 },
                diagonals: checks::of_frame(&corners, frame.x, *spall_half, level, horn),
                corners,
                spall_half: *spall_half,
            }
        })
        .collect();
    let rails = rails(lines, [first.x, last.x], &ends);
    let bays = ((rails[1] - rails[0] - 2.0 * POST_INSIDE_MM) / POST_EVERY_MM).ceil().max(1.0);
    let between = (rails[1] - rails[0] - 2.0 * POST_INSIDE_MM) / bays;
    let posts = (0..=bays as usize).map(|i| rails[0] + POST_INSIDE_MM + between * i as f64);
    let mut rungs: Vec<[f64; 2]> =
        stands.iter().map(|s| s.leg_faces(plan.leg_thickness_mm)).collect();
    rungs.extend(ends.iter().filter_map(|e| e.support.rung));
    rungs.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut jig = Strongback {
        level,
        datum,
        rail_top: plan.rail_top_mm,
        rail_spacing,
        rails,
        leg_length,
        level_on_legs,
        rail_diagonal: (last.x - first.x).hypot(rail_spacing),
        posts: posts.collect(),
        ends,
        stands,
        missed,
        rungs,
        sticks: Vec::new(),
        cuts: Vec::new(),
    };
    jig.sticks = sticks::sticks(&jig, plan, framing);
    jig.cuts = sticks::cuts(&jig.sticks);
    Some(jig)
}

/// The ends that she has, bow first; their tapes begin at the first and the last frame.
fn ends(
    load: &Load,
    [first, last]: [&Frame; 2],
    datum: f64,
    (plan, rail_spacing): (&StrongbackPlan, f64),
) -> Vec<EndStand> {
    let ground = |f: &Frame| Ground {
        lines: load.lines,
        datum,
        rail_top: plan.rail_top_mm,
        rail_spacing,
        marks: (f.station, f.x),
        stock: [plan.leg_thickness_mm, plan.leg_width_mm],
    };
    let (bow, stern) = (ground(first), ground(last));
    let post = |s: Option<&Stem>, g: &Ground| s.map(|s| ends::of_stem(s, load.stem_sided, g));
    let board =
        |t: Option<&Transom>, g: &Ground| t.map(|t| ends::of_transom(t, load.transom_thickness, g));
    [
        post(load.stem, &bow),
        board(load.bow_transom, &bow),
        post(load.sternpost, &stern),
        board(load.transom, &stern),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Where the rails begin and end: under everything that stands on them, and past the frames.
fn rails(lines: &HullLines, [first, last]: [f64; 2], ends: &[EndStand]) -> [f64; 2] {
    let wood = |at_stern: bool| {
        ends.iter()
            .filter(move |e| e.end.at_stern() == at_stern)
            .flat_map(|e| e.side_view.iter().map(|p| p.x).chain(e.support.along()))
    };
    let fore = wood(false).fold(lines.extent(|p| p.x).0, f64::min) - PAST_END_MM;
    let aft = wood(true).fold(lines.extent(|p| p.x).1, f64::max) + PAST_END_MM;
    [fore.min(first - OVERHANG_MM), aft.max(last + OVERHANG_MM)]
}

/// The least distance of a frame's sides from the centreline between the spall and the
/// sheer, where a leg passes, mm.
fn inner_half_breadth(frame: &Frame) -> f64 {
    let (Some(spall), Some(head)) = (frame.spall, frame.section.half().last().map(|p| p.y)) else {
        return 0.0;
    };
    let mut least = f64::INFINITY;
    for p in &frame.pieces {
        for z in [spall.low, 0.5 * (spall.low + head), head - 1.0] {
            least = at_level(&p.outline, z).map(|q| q.x.abs()).fold(least, f64::min);
        }
    }
    least
}

fn opposite(face: Face) -> Face {
    match face {
        Face::Fore => Face::Aft,
        Face::Aft => Face::Fore,
    }
}

/// Corners of a frame: the lines that its section passes, from the keel up.
fn corners(frame: &Frame, lines: &HullLines, datum: f64) -> Vec<Corner> {
    let mut out: Vec<Corner> = Vec::new();
    let mut add = |line: usize, at: crate::geom::P2| {
        let line = lines.lines[line].id;
        if out.last().is_none_or(|c| c.line != line) {
            out.push(Corner { line, half_breadth: at.x, height: at.y, above_floor: datum - at.y });
        }
    };
    for e in &frame.section.edges {
        // Ahead of a line's end the section starts on the stem, not on the line.
        let starts_on_line = lines.lines[e.panel]
            .spline
            .parameter_at_x(frame.x)
            .is_some_and(|t| (lines.lines[e.panel].spline.at(t).z - e.first().at.y).abs() < 1.0);
        if starts_on_line {
            add(e.panel, e.first().at);
        }
        add(e.panel + 1, e.last().at);
    }
    out
}
