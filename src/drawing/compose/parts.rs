//! The parts of a frame or a transom one by one, each along its board, ready to be cut.

use super::bevel_section::{self, Bevelled};
use super::layer::{CHECK, CLEAR, CUT, FAR, FASTENING, LEVEL, MEMBER, TEXT};
use super::{SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::frames::bevel::CONVENTION;
use crate::frames::groove::Groove;
use crate::frames::{BevelAt, Frame, Gusset, Limber, Notch, Piece, Section, Transom};
use crate::geom::polyline::bounds;
use crate::geom::{P2, V2};
use crate::hull::{Face, GlueGroove};
use crate::model::Model;
use crate::units::Units;

/// Room between two parts, mm.
const BETWEEN: f64 = 45.0;
/// Room beside a part for its words, mm.
const BESIDE: f64 = 14.0;
/// Size of a fastening's cross, mm.
const MARK: f64 = 5.0;

/// Turns and shifts the frame's plane so that a part lies along its board on the sheet.
#[derive(Debug, Clone, Copy)]
struct Laid {
    along: V2,
    from: P2,
    to: P2,
}

impl Laid {
    fn place(&self, p: P2) -> P2 {
        let d = p - self.from;
        let across = V2::new(-self.along.y, self.along.x);
        P2::new(self.to.x + d.dot(&self.along), self.to.y + d.dot(&across))
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
struct Marks<'a> {
    notches: &'a [Notch],
    bevels: &'a [BevelAt],
    clear: &'a [Vec<P2>],
    far: Option<&'a Section>,
    level: Option<f64>,
    water: Vec<(super::waterline::Marked, f64)>,
    /// It runs across the boat: its middle is marked.
    centre: bool,
    limbers: &'a [Limber],
    /// Glue grooves of the frame, and their section.
    groove: Option<(GlueGroove, &'a [Groove])>,
    panel: usize,
    /// What its outer edge lies along.
    edge: &'a str,
}

/// A stack of parts, the first at the top.
struct Stack {
    drawing: Drawing,
    top: f64,
    units: Units,
}

impl Stack {
    /// Draws a part with its marks and the words beside it.
    fn add(&mut self, outline: &[P2], along: V2, marks: &Marks, words: &[String]) {
        let d = &mut self.drawing;
        let flat = Laid { along, from: P2::origin(), to: P2::origin() };
        let Some((low, high)) = bounds(flat.ring(outline)) else {
            return;
        };
        let height = words.len() as f64 * 1.7 * SMALL;
        let y = self.top - height - (high.y - low.y);
        let laid = Laid { along, from: P2::origin(), to: P2::new(-low.x, y - low.y) };
        d.words(TEXT, P2::new(0.0, self.top - SMALL), SMALL, words);
        d.polyline(CUT, laid.ring(outline), true);
        let inside = |points: &[P2]| {
            let within = crate::geom::region::Region::of(outline)
                .and(&crate::geom::region::Region::of(points));
            within.largest()
        };
        for ring in marks.clear {
            let part = inside(ring);
            if part.len() >= 3 {
                d.polyline(CLEAR, laid.ring(&part), true);
            }
        }
        for n in marks.notches {
            for ring in [n.corners.to_vec(), crate::frames::pieces::to_port(&n.corners)] {
                if touches(outline, &ring) {
                    d.polyline(MEMBER, laid.ring(&ring), true);
                    let middle = ring.iter().fold(V2::zeros(), |v, p| v + p.coords) / 4.0;
                    let at = laid.place(P2::from(middle));
                    d.text(TEXT, at - V2::new(0.0, 2.0), 4.0, 0.0, Anchor::Middle, n.name.clone());
                }
            }
            for ring in [n.far_corners.to_vec(), crate::frames::pieces::to_port(&n.far_corners)] {
                if touches(outline, &ring) {
                    d.polyline(FAR, laid.ring(&ring), true);
                }
            }
        }
        if let Some(edge) = marks.far.and_then(|s| s.edge(marks.panel)) {
            let points: Vec<P2> = edge.points.iter().map(|p| p.at).collect();
            d.polyline(FAR, laid.ring(&points), false);
        }
        for b in marks.bevels.iter().filter(|b| b.panel == marks.panel) {
            let at = laid.place(b.at);
            let out = laid.way(V2::new(1.0, 0.0));
            let down = if out.y > 0.3 { 1.0 } else { -1.0 };
            d.line(CHECK, at, at + V2::new(0.0, 0.5 * down * BESIDE));
            let text = b.label(self.units);
            let below = V2::new(0.0, if down < 0.0 { -BESIDE - 2.0 } else { 0.6 * BESIDE });
            d.text(TEXT, at + below, 5.0, 0.0, Anchor::Middle, text);
        }
        for l in marks.limbers {
            for side in [1.0, -1.0] {
                let at = P2::new(side * l.centre.x, l.centre.y);
                if touches(outline, &[at + V2::new(0.0, l.radius)]) {
                    d.cross(CHECK, laid.place(at), 8.0);
                    let bore = self.units.show(2.0 * l.radius);
                    let text = if l.is_round() {
                        format!("bore {bore}")
                    } else {
                        let far = P2::new(side * l.far.x, l.far.y);
                        d.cross(CHECK, laid.place(far), 8.0);
                        format!("bore {bore} at both, saw out between")
                    };
                    let at = laid.place(at) + V2::new(4.0, -7.0);
                    d.text(TEXT, at, 4.0, 0.0, Anchor::Left, text);
                }
            }
        }
        grooves(d, &laid, marks, outline, self.units);
        if marks.centre {
            let at = |y: f64| laid.place(P2::new(0.0, y));
            let (low, high) = outline
                .iter()
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.y), h.max(p.y)));
            d.line(LEVEL, at(low - 8.0), at(high + 8.0));
            let place = at(high) + V2::new(2.0, 1.5);
            d.text(TEXT, place, 4.0, 0.0, Anchor::Left, "centreline");
        }
        if let Some(level) = marks.level {
            level_mark(d, &laid, outline, level);
        }
        for (mark, height) in &marks.water {
            if let Some((a, b)) = super::waterline::chord(outline, *height) {
                d.line(mark.layer, laid.place(a), laid.place(b));
                let at = laid.place(b) + V2::new(3.0, -6.0);
                d.text(TEXT, at, 4.0, 0.0, Anchor::Left, mark.words.clone());
            }
        }
        // Which way is up, and which is out to the side.
        let centre = laid.place(middle_of(outline));
        for (name, v) in [("up", V2::y()), ("out", V2::x())] {
            let e = laid.way(v);
            let tip = centre + 26.0 * e;
            d.arrow(CHECK, centre, tip, 7.0);
            d.text(TEXT, tip + 3.0 * e, 4.0, 0.0, Anchor::Middle, name);
        }
        self.top = y - BETWEEN - bevel_under(d, marks, &laid, y, self.units);
    }
}

/// Glue grooves in either face of a part: dashed on the far one.
fn grooves(d: &mut Drawing, laid: &Laid, marks: &Marks, outline: &[P2], units: Units) {
    let Some((section, all)) = marks.groove else {
        return;
    };
    let size = units.section(section.depth_mm, section.width_mm);
    let mut told = [false; 2];
    for g in all.iter().filter(|g| g.panel == marks.panel) {
        let layer = if g.on_face { CHECK } else { FAR };
        let mut rings = vec![g.outline.clone()];
        if marks.centre {
            rings.push(crate::frames::pieces::to_port(&g.outline));
        }
        for ring in rings.iter().filter(|r| touches(outline, r)) {
            d.polyline(layer, laid.ring(ring), true);
        }
        if !std::mem::replace(&mut told[usize::from(g.on_face)], true) {
            let face = if g.on_face { "this face" } else { "the far face" };
            let at = laid.place(g.outline[0]) + V2::new(2.0, if g.on_face { 1.0 } else { -5.0 });
            let text = format!("glue groove {size} in {face}");
            d.text(TEXT, at, 4.0, 0.0, Anchor::Left, text);
        }
    }
}

/// The small section of a part's bevelled edge, under it; returns the room taken, mm.
fn bevel_under(d: &mut Drawing, marks: &Marks, laid: &Laid, low: f64, units: Units) -> f64 {
    let of = Bevelled::along(marks.edge, marks.bevels, marks.panel);
    let on: Vec<P2> =
        marks.bevels.iter().filter(|b| b.panel == marks.panel).map(|b| laid.place(b.at)).collect();
    // From between two figures, where wood is left on most parts.
    let middle = on.len() / 2;
    let Some((a, b)) = middle.checked_sub(1).map(|before| (on[before], on[middle])) else {
        return 0.0;
    };
    let edge = a + 0.5 * (b - a);
    bevel_section::draw(d, P2::new(edge.x + BESIDE, low - 1.7 * BESIDE), Some(edge), &of, units)
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
    let near = |p: &P2| {
        let n = outline.len();
        crate::frames::fasten::inside(outline, *p)
            || (0..n).any(|i| {
                let (a, b) = (outline[i], outline[(i + 1) % n]);
                let e = b - a;
                let t = ((p - a).dot(&e) / e.norm_squared().max(1e-12)).clamp(0.0, 1.0);
                (p - (a + t * e)).norm() < 3.0
            })
    };
    ring.iter().any(near)
}

/// The level line where it crosses a part.
fn level_mark(d: &mut Drawing, laid: &Laid, outline: &[P2], level: f64) {
    let n = outline.len();
    let mut hits: Vec<P2> = (0..n)
        .filter_map(|i| {
            let (a, b) = (outline[i], outline[(i + 1) % n]);
            ((a.y - level) * (b.y - level) < 0.0).then(|| a + (level - a.y) / (b.y - a.y) * (b - a))
        })
        .collect();
    hits.sort_by(|a, b| a.x.total_cmp(&b.x));
    if let (Some(a), Some(b)) = (hits.first(), hits.last())
        && (b - a).norm() > 1.0
    {
        d.line(LEVEL, laid.place(*a), laid.place(*b));
        let at = laid.place(*b) + V2::new(3.0, 2.0);
        d.text(TEXT, at, 5.0, 0.0, Anchor::Left, "level line");
    }
}

/// Which of a pair is drawn: looking at a fore face starboard is at the left.
fn which(face: Face) -> &'static str {
    match face {
        Face::Aft => "as drawn to starboard, turned over to port",
        Face::Fore => "as drawn to port, turned over to starboard",
    }
}

/// Every part of frame `f`, lengths written in `units`.
pub fn frame_parts(model: &Model, f: &Frame, units: Units) -> Drawing {
    let title = format!("{}: frame {}, parts", model.hull.name, f.station);
    let framing = &model.hull.framing;
    let subtitle =
        format!("pattern of the {} face · board {:.0} mm thick", f.face.word(), framing.sided_mm);
    let mut stack = Stack { drawing: Drawing::new(title, subtitle, layers()), top: 0.0, units };
    for p in &f.pieces {
        let (_, far, bevels, notches, clear) = f.layer_of(p);
        let marks = Marks {
            notches,
            bevels,
            clear,
            far: Some(far),
            level: f.spall.map(|s| s.level),
            water: super::waterline::heights(model, &f.section.across),
            centre: p.whole,
            limbers: &f.limbers,
            groove: framing.glue_groove.map(|g| (g, f.grooves.as_slice())),
            panel: p.panel,
            edge: &model.panels[p.panel].name,
        };
        let pair = if p.whole {
            "one, across both sides".into()
        } else {
            format!("two: {}", which(f.face))
        };
        let words = [
            format!("frame {} · {} · {pair}", f.station, p.name),
            format!(
                "this face {} · board {} x {}",
                f.face.word(),
                units.show(p.board_width),
                units.show(p.board_length)
            ),
            tape_words(&p.outline, p.along, units),
        ];
        stack.add(&p.outline, p.along, &marks, &words);
    }
    for g in &f.gussets {
        gusset(&mut stack, f, g, framing.gusset_mm, units);
    }
    stack.drawing.note(CONVENTION);
    stack.drawing
}

fn gusset(stack: &mut Stack, f: &Frame, g: &Gusset, thickness: f64, units: Units) {
    let marks = Marks {
        notches: &[],
        bevels: &[],
        clear: &[],
        far: None,
        level: None,
        water: Vec::new(),
        centre: g.whole,
        limbers: &f.limbers,
        groove: None,
        panel: 0,
        edge: "",
    };
    let face = if g.on_face { "on the pattern's face" } else { "on the far face" };
    let pair = if g.whole { "one".to_string() } else { format!("two: {}", which(f.face)) };
    let words = [
        format!("frame {} · gusset at the {} · {face}", f.station, g.line),
        format!("plywood {thickness:.0} mm · {pair} · glue, and fasten at the crosses"),
        tape_words(&g.outline, V2::x(), units),
    ];
    let before = stack.drawing.items.len();
    stack.add(&g.outline, V2::x(), &marks, &words);
    // The crosses lie where the outline went: take its shift from the cut line.
    let placed = stack.drawing.items[before..].iter().find_map(|i| match &i.shape {
        crate::drawing::Shape::Polyline { points, closed: true } if i.layer == CUT => {
            points.first().copied()
        }
        _ => None,
    });
    if let Some(first) = placed {
        let shift = first - g.outline[0];
        for p in &g.fastenings {
            stack.drawing.cross(FASTENING, p + shift, MARK);
        }
    }
}

/// The cleats inside a transom, one by one.
pub fn transom_parts(model: &Model, t: &Transom, units: Units) -> Drawing {
    let name = if t.at_bow { "bow transom" } else { "transom" };
    let plan = &model.hull.transom;
    let mut stack = Stack {
        drawing: Drawing::new(
            format!("{}: {name}, framing", model.hull.name),
            format!("cleats {:.0} mm thick, on the inner face", plan.framing_thickness_mm),
            layers(),
        ),
        top: 0.0,
        units,
    };
    for p in &t.framing {
        let marks = Marks {
            notches: &t.landings,
            bevels: &t.framing_bevels,
            clear: &[],
            far: Some(&t.framing_far),
            level: None,
            water: Vec::new(),
            centre: p.whole,
            limbers: &[],
            groove: None,
            panel: p.panel,
            edge: &model.panels[p.panel].name,
        };
        stack.add(&p.outline, p.along, &marks, &cleat_words(name, p, units));
    }
    stack.drawing.note(CONVENTION);
    stack.drawing
}

/// The two diagonals to tape, from corner to corner of a part.
fn tape_words(outline: &[P2], along: V2, units: Units) -> String {
    let across = V2::new(-along.y, along.x);
    let corner = |way: V2| {
        outline
            .iter()
            .copied()
            .max_by(|a, b| a.coords.dot(&way).total_cmp(&b.coords.dot(&way)))
            .unwrap_or_default()
    };
    let diagonal = |a: V2| (corner(a) - corner(-a)).norm();
    format!(
        "tape corner to corner {} and {}",
        units.show(diagonal(along + across)),
        units.show(diagonal(along - across))
    )
}

fn cleat_words(name: &str, p: &Piece, units: Units) -> [String; 3] {
    let pair = if p.whole { "one" } else { "two, one of them turned over" };
    [
        format!("{name} · {} · {pair}", p.name),
        format!(
            "board {} x {} · this face lies against the transom",
            units.show(p.board_width),
            units.show(p.board_length)
        ),
        tape_words(&p.outline, p.along, units),
    ]
}
