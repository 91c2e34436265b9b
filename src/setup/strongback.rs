//! The ladder-like jig: where it stands, what it is made of, and how high everything is.

use super::checks::{self, Diagonals};
use crate::frames::{Frame, Stem, Transom};
use crate::geom::P3;
use crate::hull::{Face, Framing, HullLines, StrongbackPlan};

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
/// Rails reach this far (mm) ahead of the stem, which is stood on them.
const BEFORE_STEM_MM: f64 = 50.0;
/// Greatest distance between the posts under a rail, mm. Common practice, no source.
const POST_EVERY_MM: f64 = 1200.0;

/// A corner of a frame as it stands: where a line passes.
#[derive(Debug, Clone, PartialEq)]
pub struct Corner {
    /// The line.
    pub line: String,
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

/// Pieces to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// What it is.
    pub name: String,
    /// How many.
    pub count: usize,
    /// Section: thickness and width, mm.
    pub section: [f64; 2],
    /// Length, mm.
    pub length: f64,
}

/// A diagonal brace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brace {
    /// One end: aft, out, above the floor, mm.
    pub from: P3,
    /// The other end.
    pub to: P3,
}

impl Brace {
    /// Length between its ends, mm.
    pub fn length(&self) -> f64 {
        (self.to - self.from).norm()
    }
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
    /// Braces, starboard and middle ones.
    pub braces: Vec<Brace>,
    /// Everything to cut.
    pub cuts: Vec<Cut>,
    /// Between the first and the last station's marks on opposite rails, mm.
    pub rail_diagonal: f64,
    /// Head and foot of the stem: aft and above the floor, mm.
    pub stem: Option<[P3; 2]>,
    /// Foot and head of the transom's outer face on the centreline: aft, above floor, mm.
    pub transom: Option<[P3; 2]>,
}

impl Strongback {
    /// Height above the floor, upside down, of a height above the baseline, mm.
    pub fn above_floor(&self, z: f64) -> f64 {
        self.datum - z
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
    /// How the frames are made.
    pub framing: &'a Framing,
}

/// The jig for these frames; `None` if no frame can be stood on it.
pub fn strongback(plan: &StrongbackPlan, load: Load, level: f64) -> Option<Strongback> {
    let Load { lines, frames, stem, transom, bow_transom, framing } = load;
    // Upside down what is highest hangs lowest: a sheer, a crowned transom, a stem left long.
    let crowns = [transom, bow_transom].into_iter().flatten();
    let highest = crowns
        .map(|t| t.across.space(crate::geom::P2::new(0.0, t.top)).z)
        .chain(stem.iter().flat_map(|s| s.outline.iter().map(|p| p.y)))
        .fold(lines.extent(|p| p.z).1, f64::max);
    let datum = plan.rail_top_mm + plan.clearance_mm + highest;
    let level_on_legs = datum - level - plan.rail_top_mm;
    let leg_length = level_on_legs + framing.spall_width_mm;
    let standing: Vec<(&Frame, f64)> =
        frames.iter().filter_map(|f| Some((f, f.spall?.half_length))).collect();
    let missed = frames.iter().filter(|f| f.spall.is_none()).map(|f| f.station).collect();
    let (first, last) = (standing.first()?.0.x, standing.last()?.0.x);
    let leg_half = 0.5 * plan.leg_width_mm;
    let widest = standing.iter().map(|s| s.1).fold(0.0, f64::max) - INSIDE_SPALL_MM;
    let rail_spacing = plan.rail_spacing_mm.min((2.0 * widest / 10.0).floor() * 10.0);
    let horn = stem_head(stem).or_else(|| bow_middle(lines));
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
                from_first: frame.x - first,
                face: frame.face,
                leg_side: opposite(frame.face),
                leg_at: if fits > leg_half { fits } else { 0.0 },
                diagonals: checks::of_frame(&corners, frame.x, *spall_half, level, horn),
                corners,
                spall_half: *spall_half,
            }
        })
        .collect();
    let aft_end = transom.map_or(last, |t| {
        t.section.half().iter().map(|p| t.section.across.space(*p).x).fold(last, f64::max)
    });
    let fore_end = lines.extent(|p| p.x).0 - BEFORE_STEM_MM;
    let rails = [fore_end.min(first - OVERHANG_MM), aft_end.max(last) + OVERHANG_MM];
    let bays = ((rails[1] - rails[0] - 200.0) / POST_EVERY_MM).ceil().max(1.0);
    let posts = (0..=bays as usize)
        .map(|i| rails[0] + 100.0 + (rails[1] - rails[0] - 200.0) * i as f64 / bays)
        .collect();
    let mut jig = Strongback {
        level,
        datum,
        rail_top: plan.rail_top_mm,
        rail_spacing,
        rails,
        leg_length,
        level_on_legs,
        rail_diagonal: (last - first).hypot(rail_spacing),
        stem: stem.map(|s| {
            let at = |p: crate::geom::P2| P3::new(p.x, 0.0, datum - p.y);
            [at(s.profile[0]), at(s.profile[s.profile.len() - 1])]
        }),
        transom: transom.map(|t| {
            let (low, high) = (t.section.half()[0].y, t.top);
            [low, high].map(|v| {
                let p = t.across.space(crate::geom::P2::new(0.0, v));
                P3::new(p.x, 0.0, datum - p.z)
            })
        }),
        stands,
        missed,
        posts,
        braces: Vec::new(),
        cuts: Vec::new(),
    };
    jig.braces = braces(&jig);
    jig.cuts = cuts(&jig, plan, framing);
    Some(jig)
}

/// The least distance of a frame's sides from the centreline between the spall and the
/// sheer, where a leg passes, mm.
fn inner_half_breadth(frame: &Frame) -> f64 {
    let (Some(spall), Some(head)) = (frame.spall, frame.section.half().last().map(|p| p.y)) else {
        return 0.0;
    };
    let mut least = f64::INFINITY;
    for p in &frame.pieces {
        let n = p.outline.len();
        for i in 0..n {
            let (a, b) = (p.outline[i], p.outline[(i + 1) % n]);
            for z in [spall.low, 0.5 * (spall.low + head), head - 1.0] {
                if (a.y - z) * (b.y - z) < 0.0 {
                    least = least.min((a.x + (z - a.y) / (b.y - a.y) * (b.x - a.x)).abs());
                }
            }
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
        let name = &lines.lines[line].name;
        if out.last().is_none_or(|c| c.line != *name) {
            out.push(Corner {
                line: name.clone(),
                half_breadth: at.x,
                height: at.y,
                above_floor: datum - at.y,
            });
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

fn stem_head(stem: Option<&Stem>) -> Option<P3> {
    stem.map(|s| {
        let head = s.profile[s.profile.len() - 1];
        P3::new(head.x, 0.0, head.y)
    })
}

/// The middle of a bow transom's top.
fn bow_middle(lines: &HullLines) -> Option<P3> {
    lines.bow_transom?;
    let head = lines.lines[lines.lines.len() - 1].spline.at(0.0);
    Some(P3::new(head.x, 0.0, head.z))
}

/// Braces against racking: athwartships on every stand with two legs, fore and aft on the
/// first, the middle and the last.
fn braces(jig: &Strongback) -> Vec<Brace> {
    let (low, high) = (jig.rail_top, jig.rail_top + jig.level_on_legs);
    let mut out: Vec<Brace> = jig
        .stands
        .iter()
        .filter(|s| s.leg_at > 0.0)
        .map(|s| Brace { from: P3::new(s.x, -s.leg_at, low), to: P3::new(s.x, s.leg_at, high) })
        .collect();
    let n = jig.stands.len();
    let mut chosen = vec![0, n / 2, n - 1];
    chosen.dedup();
    for i in chosen {
        let s = &jig.stands[i];
        // Down towards the middle of the boat, at 45° or to the rail's end.
        let towards = if 2 * i < n { 1.0 } else { -1.0 };
        let foot = (s.x + towards * jig.level_on_legs).clamp(jig.rails[0], jig.rails[1]);
        let y = if s.leg_at > 0.0 { s.leg_at } else { 0.0 };
        out.push(Brace { from: P3::new(foot, y, low), to: P3::new(s.x, y, high) });
    }
    out
}

fn cuts(jig: &Strongback, plan: &StrongbackPlan, framing: &Framing) -> Vec<Cut> {
    let cut = |name: &str, count: usize, section: [f64; 2], length: f64| Cut {
        name: name.into(),
        count,
        section,
        length,
    };
    let rail = [plan.rail_width_mm, plan.rail_depth_mm];
    let leg = [plan.leg_thickness_mm, plan.leg_width_mm];
    let between = jig.rail_spacing - 2.0 * plan.rail_width_mm;
    let mut out = vec![
        cut("rail", 2, rail, jig.rails[1] - jig.rails[0]),
        cut("rung between the rails", jig.stands.len() + 1, leg, between),
        cut("post", 2 * jig.posts.len(), leg, plan.rail_top_mm - plan.rail_depth_mm),
    ];
    let legs: usize = jig.stands.iter().map(|s| if s.leg_at > 0.0 { 2 } else { 1 }).sum();
    out.push(cut("leg", legs, leg, jig.leg_length));
    let spall = [framing.spall_thickness_mm, framing.spall_width_mm];
    for s in &jig.stands {
        out.push(cut(&format!("cross-spall of frame {}", s.station), 1, spall, 2.0 * s.spall_half));
    }
    let light = [framing.spall_thickness_mm, 64.0];
    for b in &jig.braces {
        let along = (b.to.x - b.from.x).abs() > 1.0;
        let name = if along { "brace fore and aft" } else { "brace across" };
        // A hand's breadth at either end to fasten by.
        let length = ((b.length() + 100.0) / 10.0).ceil() * 10.0;
        let count = if along && b.from.y > 0.0 { 2 } else { 1 };
        match out.iter_mut().find(|c| c.name == name && (c.length - length).abs() < 0.5) {
            Some(c) => c.count += count,
            None => out.push(cut(name, count, light, length)),
        }
    }
    out.retain(|c| c.length > 0.0);
    out
}
