//! A sheet with its parts, to a scale: what is sawn from it, in which order, and where each part
//! is set out with a tape by the one who has no printer as large as a sheet.
//!
//! Files for cutters have it at full size, sorted into layers by what a cutter does with them
//! ([`SheetLine`]); the outlines on the layer of cuts are those of the report.

mod leader;
mod line;
mod marks;
mod notes;
mod parts;
mod points;
mod room;
mod set_out;
mod table;

pub use line::{SheetLine, layers};

use super::Paper;
use crate::drawing::export::tiling::page_plan;
use crate::drawing::face::width;
use crate::drawing::{Anchor, Drawing};
use crate::geom::ring::centroid;
use crate::geom::{P2, V2};
use crate::model::stock::{Counted, Laid, Lying, SheetKind, StockList};
use crate::stock::nest::{Cut, CutKind, Keep, SheetLayout, cuts};
use crate::units::Units;
use crate::words::stock::{at_its_end, kind_words};
use parts::OnSheet;
use room::Room;

/// Scales that a rule is divided for, and the room (mm on paper) that a sheet and its figures
/// have on an upright page.
const SCALES: [f64; 9] = [4.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0];
const LONG: f64 = 168.0;
const HIGH: f64 = 110.0;
/// The table's width, mm on paper.
const TABLE: f64 = 186.0;
/// Dimensions of the sheet stand so far off it, and the table begins under them, mm on paper.
const ASIDE: f64 = 8.0;
const TABLE_DOWN: f64 = 12.5;
/// Heights of words beside the parts, mm on paper.
const WORDS: f64 = 2.0;
/// Half of the arrow that shows the grain, mm on paper.
const GRAIN: f64 = 12.0;

/// The scale of a sheet of this size: sheets of one size are drawn to one scale.
fn scale(size: V2) -> f64 {
    let fits = |k: &&f64| size.x / **k <= LONG && size.y / **k <= HIGH;
    SCALES.iter().find(fits).copied().unwrap_or((size.x / LONG).max(size.y / HIGH).ceil())
}

/// The layout of a sheet, by the places of its kind and of itself in the list; `None` where
/// there is none. It is one page of either paper, or one behind the page of its notes; where
/// the figures of all edges do not go on that, parts that have a pattern are laid in their places
/// by their corners, small ones first, then those of the most figures.
pub fn sheet_layout(boat: Counted, kind: usize, sheet: usize, units: Units) -> Option<Drawing> {
    let mut sent = Sent::None;
    loop {
        let (d, more) = laid_out(boat, kind, sheet, units, sent)?;
        // Millimetres are printed on Letter too, feet on A4.
        if !more || [Paper::A4, Paper::Letter].iter().all(|p| goes_on_a_page(&d, *p)) {
            return Some(d);
        }
        sent = match sent {
            Sent::None => Sent::Small,
            Sent::Small => Sent::Large(1),
            Sent::Large(n) => Sent::Large(n + 1),
        };
    }
}

/// Whether a drawing goes on one page with all its words, its notes aside.
fn goes_on_a_page(d: &Drawing, paper: Paper) -> bool {
    let (plan, Some((low, high))) = (page_plan(d, paper.pages()), d.bounds()) else {
        return false;
    };
    plan.first().is_some_and(|page| {
        let room = page.window.1 - page.window.0;
        plan.len() == 1 && high.x - low.x <= room.x && high.y - low.y <= room.y
    })
}

/// Which of the parts that have a pattern are marked out by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sent {
    /// None that need not.
    None,
    /// Those that are not large.
    Small,
    /// And so many of the large ones, those of the most figures first.
    Large(usize),
}

/// The parts of a sheet as they are told, and whether more could be sent to their patterns.
fn told(
    boat: Counted,
    (list, of, laid): (&StockList, &SheetKind, &SheetLayout),
    lying: Vec<Lying>,
    units: Units,
    sent: Sent,
) -> (Vec<OnSheet>, bool) {
    let on_sheet = |(p, l)| parts::on_sheet(boat, list, of, p, l, units);
    let mut all: Vec<OnSheet> = laid.placed.iter().zip(lying).map(on_sheet).collect();
    let mut may: Vec<usize> = (0..all.len())
        .filter(|i| !all[*i].by_pattern && parts::pattern(boat, all[*i].lying.of).is_some())
        .collect();
    may.sort_by_key(|i| (all[*i].large, std::cmp::Reverse(all[*i].edge.steps.len())));
    let small = may.iter().filter(|i| !all[**i].large).count();
    let count = match sent {
        Sent::None => 0,
        Sent::Small => small,
        Sent::Large(n) => small + n,
    };
    for i in may.iter().take(count) {
        all[*i].by_pattern = true;
    }
    (all, count < may.len())
}

/// The layout with so many parts marked out by their patterns, and whether more could be.
fn laid_out(
    boat: Counted,
    kind: usize,
    sheet: usize,
    units: Units,
    sent: Sent,
) -> Option<(Drawing, bool)> {
    let list = boat.list?;
    let (of, laid) = boat.sheet(kind, sheet)?;
    let stock = &of.problem.sheets[laid.sheet];
    let (low, size) = stock.extent();
    let scaled = scale(size);
    let k = 1.0 / scaled;
    let number = list.sheet_number(kind, sheet);
    let title = format!("{}: sheet {number} of {}", boat.model.hull.name, list.sheet_count());
    let subtitle = format!(
        "{} as measured · {} by {}",
        kind_words(&of.sheet, of.thickness, units),
        units.show(size.x),
        units.show(size.y)
    );
    let mut d = Drawing::new(title, subtitle, layers());
    d.reduced = scaled;
    let lying = list.lying(of, sheet);
    let (parts, more) = told(boat, (list, of, laid), lying, units, sent);
    let mut unnamed: Vec<(&OnSheet, P2)> = Vec::new();
    for (placed, part) in laid.placed.iter().zip(&parts) {
        unnamed.extend(parts::draw(&mut d, boat, placed, part, k).map(|middle| (part, middle)));
    }
    let edge: Vec<P2> = stock.outline.iter().map(|p| p * k).collect();
    d.polyline(SheetLine::Sheet, edge, true);
    if stock.edge_margin > 0.0 && stock.is_rectangle() {
        let inner = within(low, size, stock.edge_margin).map(|p| p * k);
        d.polyline(SheetLine::Margin, inner.to_vec(), true);
    }
    let sawn = cuts(&of.problem, laid, Keep::default());
    around(&mut d, (low * k, size * k), stock.grain, size, units);
    rough(&mut d, &sawn, (low, size), k);
    left_over(&mut d, (of, laid), &sawn, k, units);
    let under = |p: &OnSheet| joint_work(boat, p, units);
    let corner = P2::new(low.x * k - ASIDE, low.y * k - TABLE_DOWN);
    table::draw(&mut d, (corner, TABLE), &parts, under, units);
    notes::notes(&mut d, boat, (of, laid), &sawn, &parts, units);
    super::explain(&mut d, units);
    d.settle_words();
    // Last, as a line to a part pushes no word aside.
    let rings: Vec<Vec<P2>> =
        laid.placed.iter().map(|p| p.outline.iter().map(|q| q * k).collect()).collect();
    for (part, middle) in unnamed {
        lead_to(&mut d, &rings, part, middle, (low * k, (low + size) * k));
    }
    Some((d, more))
}

/// Names a part that has no room for its own name, beside it on the sheet: whole, or by its number.
fn lead_to(d: &mut Drawing, rings: &[Vec<P2>], part: &OnSheet, middle: P2, (low, high): (P2, P2)) {
    let whole = parts::whole_name(part);
    let number = part.lying.number.to_string();
    let near = V2::new(LEADS, LEADS);
    let within = |reach: V2| {
        let (a, b) = (middle - reach, middle + reach);
        let from = P2::new(a.x.max(low.x), a.y.max(low.y));
        (from, P2::new(b.x.min(high.x), b.y.min(high.y)))
    };
    let above = (low, high + ABOVE * V2::y());
    let tries = [
        (&whole, within(near), false),
        (&number, within(near), false),
        (&number, above, false),
        (&number, above, true),
    ];
    let mut led = tries.into_iter().map(|(text, room, over_words)| {
        leader::with_leader(d, rings, (text, WORDS), middle, room, over_words)
    });
    led.any(|led| led);
}

/// A name stands no farther from its part than this, mm on paper, where there is room; or above
/// the sheet by this.
const LEADS: f64 = 40.0;
const ABOVE: f64 = 8.0;

/// The corners of what lies `margin` inside a rectangle.
fn within(low: P2, size: V2, margin: f64) -> [P2; 4] {
    let m = V2::new(margin, margin);
    let (a, b) = (low + m, low + size - m);
    [a, P2::new(b.x, a.y), b, P2::new(a.x, b.y)]
}

/// The sheet's dimensions, its corner from which all is measured, and its grain.
fn around(d: &mut Drawing, (low, size): (P2, V2), grain: Option<f64>, full: V2, units: Units) {
    let (right, top) = (low + V2::new(size.x, 0.0), low + V2::new(0.0, size.y));
    d.dimension(SheetLine::Dimension, (right, low), ASIDE, WORDS, units.show(full.x));
    d.dimension(SheetLine::Dimension, (low, top), ASIDE, WORDS, units.show(full.y));
    let zero = low - V2::new(2.6, 3.2);
    d.text(SheetLine::Text, zero, WORDS, 0.0, Anchor::Middle, "0");
    let Some(grain) = grain else {
        return;
    };
    let e = V2::new(grain.cos(), grain.sin());
    let rise = (GRAIN * e.y).abs();
    let middle = low + V2::new(0.5 * size.x, size.y + 4.0 + rise);
    d.arrow(SheetLine::Dimension, middle, middle + GRAIN * e, HEAD);
    d.arrow(SheetLine::Dimension, middle, middle - GRAIN * e, HEAD);
    let words = "face grain";
    let at = middle + V2::new((GRAIN * e.x).abs() + 2.0, -0.5 * WORDS);
    d.text(SheetLine::Text, at, WORDS, 0.0, Anchor::Left, words);
}

/// The head of the grain's arrow, mm on paper.
const HEAD: f64 = 2.2;

/// Straight cuts in their order, named at the end that is nearer to the sheet's edge.
fn rough(d: &mut Drawing, sawn: &[Cut], (low, size): (P2, V2), k: f64) {
    let straight = sawn.iter().filter(|c| c.kind != CutKind::Outline);
    for (i, cut) in straight.enumerate() {
        let (Some(a), Some(b)) = (cut.path.first(), cut.path.last()) else {
            continue;
        };
        d.line(SheetLine::Rough, a * k, b * k);
        let name = format!("S{}", i + 1);
        let high = low + size;
        let off = |p: &P2| (p.x - low.x).min(p.y - low.y).min(high.x - p.x).min(high.y - p.y);
        let (end, other) = if off(b) <= off(a) { (b, a) } else { (a, b) };
        let out = (end - other).try_normalize(1e-9).unwrap_or_else(V2::x);
        let half = V2::new(0.5 * width(&name, WORDS, false), 0.5 * WORDS);
        let away = 1.2 + (half.x * out.x).abs() + (half.y * out.y).abs();
        let at = end * k + away * out - V2::new(0.0, half.y);
        d.text(SheetLine::Text, at, WORDS, 0.0, Anchor::Middle, name);
    }
}

/// Offcuts worth keeping, with their greatest length and breadth.
fn left_over(
    d: &mut Drawing,
    (of, laid): (&SheetKind, &SheetLayout),
    sawn: &[Cut],
    k: f64,
    units: Units,
) {
    let straight = sawn.iter().filter(|c| c.kind != CutKind::Outline);
    let lines: Vec<Vec<P2>> = straight.map(|c| c.path.iter().map(|p| p * k).collect()).collect();
    for o in of.left_over(laid) {
        let inside: Vec<P2> = o.outline.iter().map(|p| p * k).collect();
        let room = Room::on(d, &inside, &lines);
        let words = format!("offcut {}", notes::size_words(&o.outline, units));
        let to = centroid(&inside);
        let upright = std::f64::consts::FRAC_PI_2;
        let place = [0.0, upright].into_iter().find_map(|angle| {
            let size = V2::new(width(&words, WORDS, false), WORDS);
            room.place(size, angle, to).map(|at| (at, angle))
        });
        d.polyline(SheetLine::Offcut, inside.clone(), true);
        if let Some((at, angle)) = place {
            d.text(SheetLine::Text, at, WORDS, angle, Anchor::Left, words);
        }
    }
}

/// What is done at the joints of a piece.
fn joint_work(boat: Counted, part: &OnSheet, units: Units) -> Vec<String> {
    let (Laid::Piece(panel, k), Some(face)) = (part.lying.of, part.lying.face_up) else {
        return Vec::new();
    };
    let joints = boat.joints(panel);
    if joints.iter().any(|j| j.lengthwise) {
        return Vec::new();
    }
    let forward = k.checked_sub(1).and_then(|i| joints.get(i)).map(|j| (j, false));
    let after = joints.get(k).map(|j| (j, true));
    let all = forward.into_iter().chain(after);
    all.map(|(j, after)| at_its_end(j, after, face, units)).collect()
}
