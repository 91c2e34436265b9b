//! One part of a frame or a transom along its board: its outline, its marks, and the short
//! words on it. What is longer stands in the sheet's notes.

use super::Line;
use super::bevel_section::{self, Bevelled, HIGH};
use super::{layers, waterline};
use crate::drawing::half::Axis;
use crate::drawing::{Anchor, Drawing, Item, Shape};
use crate::frames::groove::Groove;
use crate::frames::pieces::to_port;
use crate::frames::{BevelAt, Limber, Notch, Section};
use crate::geom::polyline::bounds;
use crate::geom::region::Region;
use crate::geom::ring::{from_ring, inside, level_span};
use crate::geom::{P2, V2};
use crate::hull::GlueGroove;
use crate::units::Units;

/// Bevels are written this far inside the edge, mm: beside it they would need paper.
const INSIDE: f64 = 13.0;
/// Heights of capitals on a part, mm: its name, a figure, a small mark.
const NAME: f64 = 6.0;
const FIGURE: f64 = 4.0;
/// Size of a fastening's cross, mm.
const MARK: f64 = 5.0;
/// A part that runs across both sides is drawn as a half on paper if it is longer than this,
/// mm: a shorter one fits a page whole.
const HALVED_FROM: f64 = 240.0;

/// Turns and shifts the frame's plane so that a part lies along its board on the sheet.
#[derive(Debug, Clone, Copy)]
struct Laid {
    along: V2,
}

impl Laid {
    fn place(&self, p: P2) -> P2 {
        P2::from(self.way(p.coords))
    }

    fn way(&self, v: V2) -> V2 {
        let across = V2::new(-self.along.y, self.along.x);
        V2::new(v.dot(&self.along), v.dot(&across))
    }

    fn ring(&self, points: &[P2]) -> Vec<P2> {
        points.iter().map(|p| self.place(*p)).collect()
    }
}

/// What is drawn on a part besides its outline.
#[derive(Default)]
pub(super) struct Marks<'a> {
    pub(super) notches: &'a [Notch],
    pub(super) bevels: &'a [BevelAt],
    pub(super) clear: &'a [Vec<P2>],
    pub(super) far: Option<&'a Section>,
    pub(super) level: Option<f64>,
    pub(super) water: Vec<(waterline::Marked, f64)>,
    /// It runs across the boat: its middle is marked.
    pub(super) centre: bool,
    pub(super) limbers: &'a [Limber],
    /// Glue grooves of the frame, and their section.
    pub(super) groove: Option<(GlueGroove, &'a [Groove])>,
    pub(super) fastenings: &'a [P2],
    /// Those of the far face, where one like it lies there.
    pub(super) far_fastenings: &'a [P2],
    pub(super) panel: usize,
    /// What its outer edge lies along.
    pub(super) edge: &'a str,
}

/// A part drawn by itself, somewhere.
pub(super) struct Part {
    pub(super) items: Vec<Item>,
    /// Its box, words too.
    pub(super) low: P2,
    pub(super) high: P2,
}

/// Draws a part along `along`; `name` stands on it. With `halved`, one half of what runs
/// across both sides, where that saves paper.
pub(super) fn draw(
    outline: &[P2],
    along: V2,
    marks: &Marks,
    name: String,
    halved: bool,
    units: Units,
) -> Option<Part> {
    let laid = Laid { along };
    let mut d = Drawing::new("", "", layers());
    d.polyline(Line::Cut, laid.ring(outline), true);
    for ring in marks.clear {
        let part = Region::of(outline).and(&Region::of(ring)).largest();
        if part.len() >= 3 {
            d.polyline(Line::Clear, laid.ring(&part), true);
        }
    }
    let centre = laid.place(middle_of(outline));
    // Which way is up, and which is out to the side: to starboard of a middle.
    let from = if marks.centre { centre + 22.0 * laid.way(V2::x()) } else { centre };
    for (word, v) in [("up", V2::y()), ("out", V2::x())] {
        let e = laid.way(v);
        let tip = from + 20.0 * e;
        d.arrow(Line::Check, from, tip, 6.0);
        d.text(Line::Text, tip + 4.0 * e, FIGURE, 0.0, Anchor::Middle, word);
    }
    // Boards are long, gussets are not: the name stands beside the arrows or under them.
    let (at, anchor) = match bounds(laid.ring(outline)) {
        Some((l, h)) if h.x - l.x > 300.0 => {
            (centre + V2::new(if marks.centre { 50.0 } else { 28.0 }, -NAME), Anchor::Left)
        }
        _ => (centre + V2::new(0.0, -2.2 * NAME), Anchor::Middle),
    };
    d.text(Line::Text, at, NAME, 0.0, anchor, name);
    draw_notches(&mut d, &laid, outline, marks);
    let far = marks.far.and_then(|s| s.edge(marks.panel));
    if let Some(edge) = far {
        let points: Vec<P2> = edge.points.iter().map(|p| p.at).collect();
        d.polyline(Line::Far, laid.ring(&points), false);
    }
    for b in marks.bevels.iter().filter(|b| b.panel == marks.panel) {
        let at = laid.place(b.at);
        let inward = if centre.y > at.y { V2::y() } else { -V2::y() };
        d.line(Line::Check, at, at + 0.6 * INSIDE * inward);
        let down = if inward.y > 0.0 { 0.0 } else { FIGURE };
        let at = at + INSIDE * inward - V2::new(0.0, down);
        d.text(Line::Text, at, FIGURE, 0.0, Anchor::Middle, b.label(units));
    }
    for l in marks.limbers {
        for side in [1.0, -1.0] {
            let at = P2::new(side * l.centre.x, l.centre.y);
            if touches(outline, &[at + V2::new(0.0, l.radius)]) {
                d.cross(Line::Check, laid.place(at), 8.0);
                let bore = units.fine(2.0 * l.radius);
                let text = if l.is_round() {
                    format!("bore {bore}")
                } else {
                    let far = P2::new(side * l.far.x, l.far.y);
                    d.cross(Line::Check, laid.place(far), 8.0);
                    format!("bore {bore} at both, saw out between")
                };
                // On the part, past the hole: words beside it would need paper.
                let at = laid.place(at);
                let inward = if at.y < centre.y { l.radius + 3.0 } else { -l.radius - 7.0 };
                d.text(Line::Text, at + V2::new(0.0, inward), FIGURE, 0.0, Anchor::Middle, text);
            }
        }
    }
    grooves(&mut d, &laid, marks, outline, units);
    bevel_picture(&mut d, &laid, outline, marks, units);
    for p in marks.fastenings {
        d.cross(Line::Fastening, laid.place(*p), MARK);
    }
    for p in marks.far_fastenings {
        d.ring(Line::Fastening, laid.place(*p), MARK);
    }
    if let Some(level) = marks.level {
        level_mark(&mut d, &laid, outline, level);
    }
    for (mark, height) in &marks.water {
        if let Some([a, b]) = waterline::chord(outline, *height) {
            d.line(mark.layer, laid.place(a), laid.place(b));
            let (a, b) = (laid.place(a), laid.place(b));
            let at = a + 0.5 * (b - a) + V2::new(0.0, 2.0);
            d.text(Line::Text, at, FIGURE, 0.0, Anchor::Middle, mark.words.clone());
        }
    }
    if marks.centre {
        d = with_centre(d, &laid, outline, halved);
    }
    d.settle_words();
    let (low, high) = bounds(d.items.iter().flat_map(|i| i.shape.corners()))?;
    Some(Part { items: d.items, low, high })
}

/// The small section of a part's bevelled edge, on the board beside its middle.
fn bevel_picture(d: &mut Drawing, laid: &Laid, outline: &[P2], marks: &Marks, units: Units) {
    let on: Vec<&BevelAt> = marks.bevels.iter().filter(|b| b.panel == marks.panel).collect();
    let (Some((low, high)), Some(last)) = (bounds(laid.ring(outline)), on.last()) else {
        return;
    };
    let centre = laid.place(middle_of(outline));
    let edge = laid.place(last.at);
    // Between the middle and where a bevel is written, at the inner edge.
    let x = centre.x + 0.35 * (edge.x - centre.x);
    let top = if edge.y < centre.y { high.y - 3.0 } else { low.y + HIGH + 3.0 };
    // The line ends on the edge nearest to the picture.
    let near = |b: &&&BevelAt| (laid.place(b.at).x - x).abs();
    let edge = on.iter().min_by(|a, b| near(a).total_cmp(&near(b))).map(|b| laid.place(b.at));
    let of = Bevelled::along(marks.edge, marks.bevels, marks.panel);
    bevel_section::draw(d, P2::new(x, top), edge, &of, units, 1.0);
}

/// Glue grooves in either face of a part: dashed on the far one.
fn grooves(d: &mut Drawing, laid: &Laid, marks: &Marks, outline: &[P2], units: Units) {
    let Some((section, all)) = marks.groove else {
        return;
    };
    let size = units.section(section.depth_mm, section.width_mm);
    let mut told = [false; 2];
    for g in all.iter().filter(|g| g.panel == marks.panel) {
        let layer = if g.on_face { Line::Check } else { Line::Far };
        let mut rings = vec![g.outline.clone()];
        if marks.centre {
            rings.push(to_port(&g.outline));
        }
        for ring in rings.iter().filter(|r| touches(outline, r)) {
            d.polyline(layer, laid.ring(ring), true);
        }
        if !std::mem::replace(&mut told[usize::from(g.on_face)], true) {
            let face = if g.on_face { "this face" } else { "the far face" };
            let at = laid.place(g.outline[0]) + V2::new(2.0, if g.on_face { 1.0 } else { -5.0 });
            let text = format!("glue groove {size} in {face}");
            d.text(Line::Text, at, FIGURE, 0.0, Anchor::Left, text);
        }
    }
}

/// The centreline of a part that runs across both sides; one half of it, if wished.
fn with_centre(mut d: Drawing, laid: &Laid, outline: &[P2], halved: bool) -> Drawing {
    let at = |y: f64| laid.place(P2::new(0.0, y));
    let (low, high) = outline
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.y), h.max(p.y)));
    let middle = at(0.5 * (low + high));
    let text = "centreline".to_string();
    let reach = bounds(outline.iter().copied()).map_or(0.0, |(l, h)| h.x - l.x);
    if !halved || reach < HALVED_FROM {
        d.line(Line::Level, at(low - 4.0), at(high + 4.0));
        d.text(Line::Text, middle + V2::new(2.0, 14.0), FIGURE, 0.0, Anchor::Left, text);
        return d;
    }
    let out = laid.way(V2::x());
    let axis = Axis { at: at(0.0), along: V2::new(out.y, -out.x) };
    let mut half = d.half(axis, Line::Centre);
    let angle = (laid.way(V2::y())).y.atan2(laid.way(V2::y()).x);
    let beside = middle + 7.0 * out - 0.4 * (high - low) * laid.way(V2::y());
    half.text(Line::Text, beside, FIGURE, angle, Anchor::Left, text);
    half
}

fn draw_notches(d: &mut Drawing, laid: &Laid, outline: &[P2], marks: &Marks) {
    for n in marks.notches {
        let mut named: Option<V2> = None;
        for ring in [n.corners.to_vec(), to_port(&n.corners)] {
            if touches(outline, &ring) {
                d.polyline(Line::Member, laid.ring(&ring), true);
                let middle = ring.iter().fold(V2::zeros(), |v, p| v + p.coords) / 4.0;
                // A stick on the centreline is one.
                if named.replace(middle).is_some_and(|other| (other - middle).norm() < 1.0) {
                    continue;
                }
                let at = laid.place(P2::from(middle));
                let at = at - V2::new(0.0, 0.5 * FIGURE);
                d.text(Line::Text, at, FIGURE, 0.0, Anchor::Middle, n.name.clone());
            }
        }
        for ring in [n.far_corners.to_vec(), to_port(&n.far_corners)] {
            if touches(outline, &ring) {
                d.polyline(Line::Far, laid.ring(&ring), true);
            }
        }
    }
}

/// The mean of a ring's corners, weighted by the edges beside them.
fn middle_of(ring: &[P2]) -> P2 {
    let n = ring.len();
    let (mut sum, mut length) = (V2::zeros(), 0.0);
    for i in 0..n {
        let (a, b) = (ring[i], ring[(i + 1) % n]);
        let l = (b - a).norm();
        sum += 0.5 * l * (a.coords + b.coords);
        length += l;
    }
    P2::from(sum / length.max(1e-9))
}

/// Whether a mark lies on a part or at its edge.
fn touches(outline: &[P2], ring: &[P2]) -> bool {
    ring.iter().any(|p| inside(outline, *p) || from_ring(*p, outline) < 3.0)
}

/// The level line where it crosses a part.
fn level_mark(d: &mut Drawing, laid: &Laid, outline: &[P2], level: f64) {
    if let Some([a, b]) = level_span(outline, level).filter(|[a, b]| (b - a).norm() > 1.0) {
        let (a, b) = (laid.place(a), laid.place(b));
        d.line(Line::Level, a, b);
        let at = a + 0.5 * (b - a) + V2::new(0.0, 2.0);
        d.text(Line::Text, at, FIGURE, 0.0, Anchor::Middle, "level line");
    }
}

impl Part {
    /// Width and height, mm.
    pub(super) fn size(&self) -> V2 {
        self.high - self.low
    }

    /// Puts it on a sheet, its lower left corner at `at`.
    pub(super) fn put(self, d: &mut Drawing, at: P2) {
        let by = at - self.low;
        for mut item in self.items {
            match &mut item.shape {
                Shape::Polyline { points, .. } => points.iter_mut().for_each(|p| *p += by),
                Shape::Text { at, .. } => *at += by,
            }
            d.items.push(item);
        }
    }
}
