//! The small section beside a bevelled edge: the board's two faces, its edge as it is sawn
//! square and as it is planed, and in words how far and off which face.
//!
//! One convention for every sheet: the face drawn is "this face", the outline is the larger
//! of both faces, and wood only ever comes off.

use super::Line;
use crate::drawing::{Anchor, Drawing};
use crate::frames::bevel::Off;
use crate::frames::pieces::inward;
use crate::frames::section::SectionEdge;
use crate::frames::{BevelAt, Section};
use crate::geom::polyline::length2;
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::units::Units;
use crate::words::bevels::along;

/// Thickness of the board in the picture, mm: the picture shows the angle, not the size.
const THICK: f64 = 15.0;
/// Length of board shown, mm.
const LONG: f64 = 34.0;
/// The furthest that a bevel is drawn in, mm; a steeper one is drawn less steep than it is.
const MOST_RUN: f64 = 18.0;
/// Height of its words, mm.
pub(super) const WORDS: f64 = 4.5;

/// How far (mm) inside a frame's edge its middle had best stand, clear of the boards.
const INSIDE: f64 = 60.0;
/// A longer line (mm) from it to its edge is left out: it would run through the figures, and
/// its words name the edge.
const LEADER: f64 = 80.0;
/// Room (mm) kept around it.
const ROOM: f64 = 3.0;

/// Room that one picture takes below its place, mm.
pub(super) const HIGH: f64 = THICK + 4.2 * WORDS;

/// What is bevelled.
#[derive(Debug, Clone)]
pub(super) struct Bevelled<'a> {
    /// What the edge lies along: "side", "chine".
    pub(super) edge: &'a str,
    /// Bevels along it: radians and run in mm, positive where wood comes off the far face.
    pub(super) bevels: Vec<(f64, f64)>,
}

impl<'a> Bevelled<'a> {
    /// The edge along panel `panel`.
    pub(super) fn along(edge: &'a str, all: &[BevelAt], panel: usize) -> Bevelled<'a> {
        let on = all.iter().filter(|b| b.panel == panel);
        Bevelled { edge, bevels: on.map(|b| (b.angle, b.offset)).collect() }
    }
}

/// A small section for every bevelled edge of a frame or a transom, as near to the starboard
/// edge as there is room among what is already drawn; `s` times as large as on a pattern.
pub(super) fn beside_edges(
    d: &mut Drawing,
    model: &Model,
    section: &Section,
    bevels: &[BevelAt],
    units: Units,
    s: f64,
) {
    for e in &section.edges {
        let middle = half_way(e);
        let Some(inward) = inward(e) else {
            continue;
        };
        let of = Bevelled::along(&model.panels[e.panel].name, bevels, e.panel);
        let Some((low, size)) = extent(d, &of, units, s) else {
            continue;
        };
        let wished = middle + s * INSIDE * inward;
        let corner = d.room_for(size, wished).unwrap_or(wished - 0.5 * size);
        let room = V2::new(s * ROOM, s * ROOM);
        let at = corner + room - low.coords;
        draw(d, at, None, &of, units, s);
        // The line to the edge leaves the block at its nearest place.
        let (near, far) = (corner + 0.5 * room, corner + size - 0.5 * room);
        let from = P2::new(middle.x.clamp(near.x, far.x), middle.y.clamp(near.y, far.y));
        if (from - middle).norm() < s * LEADER {
            d.line(Line::Check, from, middle);
        }
    }
}

/// Its lower left corner when it is drawn at the origin, and its size with the room around it,
/// mm; `None` for an edge without bevels.
fn extent(d: &Drawing, of: &Bevelled, units: Units, s: f64) -> Option<(P2, V2)> {
    let mut alone = Drawing::new("", "", d.layers.clone());
    draw(&mut alone, P2::origin(), None, of, units, s);
    let (low, high) = alone.bounds()?;
    Some((low, high - low + 2.0 * s * V2::new(ROOM, ROOM)))
}

/// Draws the section in a page's box where that has room, as near to `near` as can be; whether
/// it had.
pub(super) fn where_room_is(
    d: &mut Drawing,
    page: (P2, P2),
    near: P2,
    of: &Bevelled,
    units: Units,
    s: f64,
) -> bool {
    let Some((low, size)) = extent(d, of, units, s) else {
        return true;
    };
    let Some(corner) = d.room_within(page, size, near) else {
        return false;
    };
    draw(d, corner + s * V2::new(ROOM, ROOM) - low.coords, None, of, units, s);
    true
}

/// The place half way along an edge: its points may all lie near one end.
fn half_way(edge: &SectionEdge) -> P2 {
    let points: Vec<P2> = edge.points.iter().map(|p| p.at).collect();
    let mut left = 0.5 * length2(&points);
    for w in points.windows(2) {
        let step = (w[1] - w[0]).norm();
        if step >= left && step > 0.0 {
            return w[0] + left / step * (w[1] - w[0]);
        }
        left -= step;
    }
    edge.last().at
}

/// Draws the section with its upper left corner at `at` and a line from it to `edge`; one
/// under another where wood comes off either face in turn. Returns the room taken, mm.
pub(super) fn draw(
    d: &mut Drawing,
    at: P2,
    edge: Option<P2>,
    of: &Bevelled,
    units: Units,
    s: f64,
) -> f64 {
    let (thick, long, high, height) = (s * THICK, s * LONG, s * HIGH, s * WORDS);
    if of.bevels.is_empty() {
        return 0.0;
    }
    let mut low = 0.0;
    for (off, said) in along(&of.bevels, units) {
        let steepest = of
            .bevels
            .iter()
            .map(|b| b.0)
            .filter(|a| Off::by(*a) == off)
            .fold(0.0, |most: f64, a| if a.abs() > most.abs() { a } else { most });
        one(d, at - V2::new(0.0, low), steepest, off, s);
        let beside = at - V2::new(0.0, low + thick + 2.9 * height);
        d.text(Line::Text, beside, height, 0.0, Anchor::Left, format!("{}: {said}", of.edge));
        low += high;
    }
    if let Some(edge) = edge {
        // From the nearer side, so that it does not run through the picture.
        let from =
            if edge.y > at.y { at + V2::new(long, 0.0) } else { at - V2::new(0.0, 0.5 * high) };
        d.line(Line::Check, from, edge);
    }
    low
}

/// One board, its far end broken off at the left.
fn one(d: &mut Drawing, at: P2, angle: f64, off: Off, s: f64) {
    let (thick, long, height) = (s * THICK, s * LONG, s * WORDS);
    let run = (thick * angle.abs().tan()).min(s * MOST_RUN);
    let (this, far) = match off {
        Off::ThisFace => (run, 0.0),
        Off::FarFace => (0.0, run),
        Off::Neither => (0.0, 0.0),
    };
    let corner = |x: f64, y: f64| at + V2::new(x, -y - 1.3 * height);
    d.text(Line::Text, at - V2::new(0.0, height), 0.8 * height, 0.0, Anchor::Left, "this face");
    d.polyline(
        Line::Check,
        vec![
            corner(0.0, 0.0),
            corner(long - this, 0.0),
            corner(long - far, thick),
            corner(0.0, thick),
        ],
        false,
    );
    // Broken off.
    d.polyline(
        Line::Check,
        vec![
            corner(0.0, 0.0),
            corner(1.5 * s, 0.35 * thick),
            corner(-1.5 * s, 0.65 * thick),
            corner(0.0, thick),
        ],
        false,
    );
    if run > 0.0 {
        // The square edge, and strokes through what is planed away.
        d.line(Line::Far, corner(long, 0.0), corner(long, thick));
        let (wide, thin) = if off == Off::ThisFace { (0.0, thick) } else { (thick, 0.0) };
        d.line(Line::Far, corner(long - run, wide), corner(long, wide));
        for share in [0.25, 0.5, 0.75] {
            let y = thin + share * (wide - thin);
            d.line(Line::Far, corner(long - share * run, y), corner(long, y));
        }
    }
}
