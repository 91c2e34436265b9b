//! The parts of a sheet on paper: outlines, what is struck on them, their names, which way is
//! forward or up, and the points that they are set out by.

use super::line::SheetLine;
use super::marks::{self, Struck};
use super::points::labelled;
use super::room::{CLEAR, Room};
use super::set_out::{SetOut, Step};
use crate::drawing::compose::Subject;
use crate::drawing::face::{TextBox, width};
use crate::drawing::{Anchor, Drawing};
use crate::geom::polyline::bounds;
use crate::geom::{P2, V2};
use crate::model::stock::{Counted, Laid, Lying, SheetKind, StockList};
use crate::part::PartId;
use crate::stock::nest::Placed;
use crate::units::Units;
use crate::words::stock::part_name;

/// Heights of a part's name, mm on paper, the first that has room; and of other words on it.
const NAMES: [f64; 3] = [2.3, 2.0, 1.7];
const SMALL: f64 = 1.6;
/// The arrow that says which way is forward or up, mm on paper: its length, its head, and the
/// room that it takes with its word beside it.
const ARROW: f64 = 7.0;
const HEAD: f64 = 1.8;
const ARROW_ROOM: f64 = 3.4;
/// A name stands off edges and lines by this, mm on paper, where it has room for that.
const FREE: f64 = 1.5;
/// A marked point's square, mm on paper.
const DOT: f64 = 0.35;
/// A part that is longer (mm) has a row of its own with the face that lies up, and a letter or
/// number at each corner; others have two numbers.
pub(super) const LARGE_MM: f64 = 420.0;

/// A part on its sheet.
pub(super) struct OnSheet {
    pub(super) lying: Lying,
    /// What the builder calls it.
    pub(super) name: String,
    /// Corners of its edge that are marked and told by name, mm on the sheet: the letter that its
    /// pattern has there, or its number among the corners behind the part's.
    pub(super) points: Vec<(String, P2)>,
    /// Its whole edge in turn.
    pub(super) edge: SetOut,
    /// Only its points are told, and its pattern has the rest.
    pub(super) by_pattern: bool,
    /// Longer than a forearm.
    pub(super) large: bool,
}

/// A part as [`OnSheet`].
pub(super) fn on_sheet(
    boat: Counted,
    list: &StockList,
    kind: &SheetKind,
    placed: &Placed,
    lying: Lying,
    units: Units,
) -> OnSheet {
    let long = bounds(placed.outline.iter().copied()).map_or(0.0, |(l, h)| (h - l).norm());
    let layer = |id: PartId| list.laminated.iter().any(|l| l.part == id);
    let bare = match lying.of {
        Laid::Block(..) => true,
        Laid::Part(id) => layer(id),
        Laid::Piece(..) => false,
    };
    let board = matches!(lying.of, Laid::Part(PartId::TransomBoard(_) | PartId::Pad));
    let large = long > LARGE_MM || bare || board;
    let name = part_name(list, kind, placed.part, &lying);
    let edge = SetOut::of(&placed.outline, units);
    // What no pattern has is told whole, however much that is.
    let by_pattern = edge.is_too_long() && !bare;
    let points = labelled(boat, &lying, placed, &edge, large);
    OnSheet { lying, name, points, edge, by_pattern, large }
}

/// Where the full-size pattern of what lies on a sheet is in a pack, without an ending; `None`
/// for what has none.
pub(super) fn pattern(boat: Counted, of: Laid) -> Option<String> {
    let subject = match of {
        Laid::Piece(panel, _) => Subject::Part(PartId::Panel(panel)),
        Laid::Part(id @ PartId::Gusset(..)) => Subject::Pieces(id.assembly()),
        Laid::Part(id @ PartId::TransomBoard(_)) => Subject::Part(id.assembly()),
        Laid::Part(id) => Subject::Part(id),
        Laid::Block(..) => return None,
    };
    Some(subject.place(boat.model))
}

/// Draws a part: `k` is mm on paper for one of the sheet. The place in its middle to which a name
/// must lead, where it has no room for its own.
pub(super) fn draw(
    d: &mut Drawing,
    boat: Counted,
    placed: &Placed,
    part: &OnSheet,
    k: f64,
) -> Option<P2> {
    let ring: Vec<P2> = placed.outline.iter().map(|p| p * k).collect();
    let on_paper = |p: P2| (placed.attitude.of(p) + placed.shift) * k;
    let struck: Vec<Struck> = struck(boat, part.lying.of)
        .into_iter()
        .map(|s| Struck { line: s.line.into_iter().map(on_paper).collect(), name: s.name })
        .collect();
    let lines: Vec<Vec<P2>> = struck.iter().map(|s| s.line.clone()).collect();
    d.polyline(SheetLine::Cut, ring.clone(), true);
    for line in &lines {
        d.polyline(SheetLine::Mark, line.clone(), false);
    }
    let mut room = Room::on(d, &ring, &lines);
    let middle = room.middle();
    let along = along(&part.points);
    for step in &part.edge.steps {
        if let Step::Corner(p) | Step::Curve(p) = step {
            dot(d, p * k);
        }
    }
    let points = |d: &mut Drawing, room: &mut Room, count: usize| {
        let apart = labels_apart(&part.points, k);
        apart.take(count).for_each(|(letter, p)| point(d, room, p * k, letter, middle));
    };
    let bare = d.items.len();
    let mut named = false;
    // All letters and a name; those of the first corners; no more than the first and its number.
    for count in [usize::MAX, 3, 2, 1] {
        d.items.truncate(bare);
        room = Room::on(d, &ring, &lines);
        points(d, &mut room, count);
        named = name(d, &mut room, names(part), middle, along);
        if named {
            break;
        }
    }
    if !named {
        // Its number before the letters of its points, which may stand farther off.
        d.items.truncate(bare);
        room = Room::on(d, &ring, &lines);
        named = name(d, &mut room, [part.lying.number.to_string()], middle, along);
        points(d, &mut room, usize::MAX);
    }
    way(d, &mut room, placed, part.lying.of, middle);
    for s in &struck {
        if let Some(name) = &s.name {
            beside(d, &mut room, &s.line, name, middle);
        }
    }
    (!named).then_some(middle)
}

/// What is struck on a piece of a panel, mm on its pattern.
fn struck(boat: Counted, of: Laid) -> Vec<Struck> {
    let model = boat.model.stands();
    let Laid::Piece(panel, k) = of else {
        return Vec::new();
    };
    let split = boat.list.and_then(|l| l.panels.iter().find(|p| p.panel == panel));
    let (Some(p), Some(split)) = (model.panels.get(panel.0), split) else {
        return Vec::new();
    };
    split.split.pieces.get(k).map_or_else(Vec::new, |piece| {
        marks::on_piece(model, p, &split.split.joints, &piece.outline)
    })
}

/// The way between a part's first and last point, to be read from below or from the right.
fn along(points: &[(String, P2)]) -> f64 {
    match (points.first(), points.last()) {
        (Some((_, a)), Some((_, b))) => readable((b - a).y.atan2((b - a).x)),
        _ => 0.0,
    }
}

fn readable(angle: f64) -> f64 {
    let (s, c) = angle.sin_cos();
    if c < -1e-9 || (c.abs() <= 1e-9 && s < 0.0) { angle + std::f64::consts::PI } else { angle }
}

/// Writes a text where it has room `clear` of all lines, the nearest to `to`; whether it had.
fn write(
    d: &mut Drawing,
    room: &mut Room,
    (text, height): (&str, f64),
    angle: f64,
    to: P2,
    clear: f64,
) -> bool {
    let size = V2::new(width(text, height, false), height);
    let Some(low) = room.place_clear(size, angle, to, clear) else {
        return false;
    };
    room.take(TextBox::of(low, height, angle, size.x));
    d.text(SheetLine::Engrave, low, height, angle, Anchor::Left, text);
    true
}

/// A part's number and name, as [`OnSheet`] has them.
pub(super) fn whole_name(part: &OnSheet) -> String {
    format!("{}  {}", part.lying.number, part.name)
}

/// A part's name, short enough for a table in two columns and for a small part: a gusset by its
/// frame, its corner and its face, so that it still tells one from another; a piece of a panel
/// without where it lies from the joints, as its row says that.
pub(super) fn short_name(part: &OnSheet) -> String {
    match part.lying.of {
        Laid::Part(PartId::Gusset(..)) => {
            let short = part.name.replace("frame ", "fr ").replace("gusset at the ", "");
            short.trim_end_matches(" face").replace(" and ", " + ")
        }
        _ => part.name.rsplit_once(", ").map_or(part.name.as_str(), |(first, _)| first).into(),
    }
}

/// A part's number and name, a shorter name, its number alone.
fn names(part: &OnSheet) -> [String; 3] {
    let number = part.lying.number.to_string();
    [whole_name(part), format!("{number}  {}", short_name(part)), number]
}

/// Writes the first of a part's names that it has room for; whether there is one.
fn name<const N: usize>(
    d: &mut Drawing,
    room: &mut Room,
    names: [String; N],
    middle: P2,
    along: f64,
) -> bool {
    let upright = std::f64::consts::FRAC_PI_2;
    for text in &names {
        for clear in [FREE, CLEAR] {
            for height in NAMES {
                for angle in [0.0, along, upright] {
                    if write(d, room, (text, height), angle, middle, clear) {
                        return true;
                    }
                }
            }
        }
    }
    false
}

/// An arrow that says which way is forward on a piece of the skin, up on what stands across the
/// boat.
fn way(d: &mut Drawing, room: &mut Room, placed: &Placed, of: Laid, middle: P2) {
    let Some((way, word)) = way_of(of) else {
        return;
    };
    let turned = placed.attitude.of(P2::from(way)) - placed.attitude.of(P2::origin());
    let angle = readable(turned.y.atan2(turned.x));
    let (e, n) = (V2::new(angle.cos(), angle.sin()), V2::new(-angle.sin(), angle.cos()));
    let long = ARROW.max(width(word, SMALL, false));
    let Some(low) = room.place(V2::new(long, ARROW_ROOM), angle, middle) else {
        return;
    };
    room.take(TextBox { low, along: long * e, up: ARROW_ROOM * n });
    d.text(SheetLine::Engrave, low, SMALL, angle, Anchor::Left, word);
    let line = low + (ARROW_ROOM - 0.35 * HEAD) * n;
    let (tail, tip) =
        if e.dot(&turned) > 0.0 { (line, line + long * e) } else { (line + long * e, line) };
    d.arrow(SheetLine::Mark, tail, tip, HEAD);
}

/// Which way a part has, in its own axes, and the word for it.
fn way_of(of: Laid) -> Option<(V2, &'static str)> {
    match of {
        Laid::Piece(..) => Some((-V2::x(), "forward")),
        Laid::Part(PartId::Gusset(..) | PartId::TransomBoard(_) | PartId::Pad) => {
            Some((V2::y(), "up"))
        }
        Laid::Part(_) | Laid::Block(..) => None,
    }
}

/// Corners nearer to each other than this, mm on paper, have one label: that of the first.
const ONE_LABEL: f64 = 1.5;

/// Those of a part's labels that stand apart, on paper at `k` of the sheet.
fn labels_apart(points: &[(String, P2)], k: f64) -> impl Iterator<Item = &(String, P2)> {
    let first_there = move |(i, (_, p)): &(usize, &(String, P2))| {
        points[..*i].iter().all(|(_, q)| (q - p).norm() * k >= ONE_LABEL)
    };
    points.iter().enumerate().filter(first_there).map(|(_, p)| p)
}

/// Marks a point that is set out.
fn dot(d: &mut Drawing, at: P2) {
    let (a, b) = (V2::new(DOT, DOT), V2::new(DOT, -DOT));
    d.polyline(SheetLine::Dimension, vec![at - a, at + b, at + a, at - b], true);
}

/// The letter of a point that is set out.
fn point(d: &mut Drawing, room: &mut Room, at: P2, letter: &str, middle: P2) {
    let inward = (middle - at).try_normalize(1e-9).unwrap_or_else(V2::x);
    let size = V2::new(width(letter, SMALL, false), SMALL);
    if let Some(low) = room.place(size, 0.0, at + 2.0 * inward)
        && (low - at).norm() < NEAR
    {
        room.take(TextBox::of(low, SMALL, 0.0, size.x));
        d.text(SheetLine::Text, low, SMALL, 0.0, Anchor::Left, letter);
    }
}

/// A letter farther (mm on paper) from its point is not read as its own.
const NEAR: f64 = 7.0;

/// The name of a line on a part, along it.
fn beside(d: &mut Drawing, room: &mut Room, line: &[P2], name: &str, middle: P2) {
    let Some((at, way)) = marks::beside(line, middle) else {
        return;
    };
    let angle = readable(way.y.atan2(way.x));
    let size = V2::new(width(name, SMALL, false), SMALL);
    if let Some(low) = room.place(size, angle, at)
        && (low - at).norm() < NEAR
    {
        room.take(TextBox::of(low, SMALL, angle, size.x));
        d.text(SheetLine::Engrave, low, SMALL, angle, Anchor::Left, name);
    }
}
