//! What has to be said of a sheet: how its figures are measured, in which order it is sawn, what
//! is done at its joints, what is left, and what hurts.

use super::parts::{OnSheet, pattern};
use super::set_out::{Step, WITHIN_MM};
use super::table::TEXT;
use crate::drawing::Drawing;
use crate::drawing::face::width;
use crate::geom::polyline::bounds;
use crate::geom::{P2, V2};
use crate::model::stock::{Counted, Laid, SheetKind};
use crate::part::PartId;
use crate::stock::joints::SheetFace;
use crate::stock::nest::{Cut, CutKind, Offcut, SheetLayout};
use crate::units::Units;
use crate::words::cautions;

/// Adds the sheet's notes.
pub(super) fn notes(
    d: &mut Drawing,
    boat: Counted,
    (of, laid): (&SheetKind, &SheetLayout),
    sawn: &[Cut],
    parts: &[OnSheet],
    units: Units,
) {
    d.note(format!(
        "Figures in {}: along the sheet from corner 0 · across it, to the line that is sawn, corner by corner, anticlockwise; a letter is that corner on the part's own pattern.{} {}",
        units.heading(),
        curves(parts, units),
        kept_apart(of, laid, units)
    ));
    if let Some(words) = by_pattern(boat, parts) {
        d.note(words);
    }
    if parts.iter().any(|p| matches!(p.lying.of, Laid::Part(PartId::Gusset(..)))) {
        d.note("Gussets are called by frame, corner and face: fr 3, chine, fore; without a face it goes on either.");
    }
    d.note(order(sawn, units));
    d.note(faces(boat, of, laid, parts));
    let left: Vec<String> = of.left_over(laid).iter().map(|o| kept_words(o, units)).collect();
    if !left.is_empty() {
        d.note(format!(
            "Keep what is left (dashed; greatest length by breadth, and the area of what is no oblong): {}.",
            left.join("; ")
        ));
    }
    d.note(cautions::SAW);
    d.note(cautions::DUST);
    let joined = |p: &OnSheet| match p.lying.of {
        Laid::Piece(panel, _) | Laid::Block(panel, _) => !boat.joints(panel).is_empty(),
        Laid::Part(_) => false,
    };
    if parts.iter().any(joined) {
        d.note(cautions::beside_glue(&boat.model.hull.stock.glue));
    }
}

/// How curves and rounds are given on this sheet, and how near a batten through the figures lies.
fn curves(parts: &[OnSheet], units: Units) -> String {
    let told = || parts.iter().filter(|p| !p.by_pattern);
    let mut out = String::new();
    let strays = told().filter_map(|p| p.edge.strays).reduce(f64::max);
    if let Some(strays) = strays {
        out += &format!(
            " In brackets are places on a curve, for a batten from corner to corner: through the figures as they stand it strays {} at most; other edges are straight to {}.",
            units.accuracy(strays),
            units.accuracy(WITHIN_MM)
        );
    }
    let round = |s: &Step| matches!(s, Step::Round(_));
    if told().any(|p| p.edge.steps.iter().any(round)) {
        out += " A round is given by its radius and the middle for the compass.";
    }
    out
}

/// Which parts are marked out by their patterns, and which those are.
fn by_pattern(boat: Counted, parts: &[OnSheet]) -> Option<String> {
    let sent: Vec<&OnSheet> = parts.iter().filter(|p| p.by_pattern).collect();
    let mut numbers: Vec<usize> = sent.iter().map(|p| p.lying.number).collect();
    numbers.sort_unstable();
    let mut patterns: Vec<String> = sent.iter().filter_map(|p| pattern(boat, p.lying.of)).collect();
    patterns.sort();
    patterns.dedup();
    let numbers = stretches(&numbers);
    (!sent.is_empty()).then(|| {
        format!(
            "By their full-size patterns, laid on by the corners that are given here: {numbers} ({}); all their figures do not go on this page.",
            patterns.join(", ")
        )
    })
}

/// Numbers that rise, those that follow one another as a stretch: 1 to 4, 7.
fn stretches(numbers: &[usize]) -> String {
    let each: Vec<String> = numbers
        .chunk_by(|a, b| a + 1 == *b)
        .map(|run| match run {
            [a, .., b] if b - a > 1 => format!("{a} to {b}"),
            run => run.iter().map(usize::to_string).collect::<Vec<_>>().join(", "),
        })
        .collect();
    each.join(", ")
}

/// The whole edge of a part, in lines no longer than `room` mm on paper in the table's letters;
/// of one that its pattern tells, the corners that have a name.
pub(super) fn edge(part: &OnSheet, units: Units, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let all = figures(part, units);
    for (i, next) in all.iter().enumerate() {
        match lines.last_mut() {
            None => lines.push(next.clone()),
            Some(line) => {
                let longer = format!("{line}, {next}");
                let comma = if i + 1 < all.len() { "," } else { "" };
                if width(&format!("{longer}{comma}"), TEXT, false) <= room {
                    *line = longer;
                } else {
                    lines.push(next.clone());
                }
            }
        }
    }
    lines
}

/// Corners that lay a pattern in its place: those that have a letter on it, or the first and the one
/// farthest from that.
fn laying(part: &OnSheet) -> Vec<&(String, P2)> {
    let lettered: Vec<&(String, P2)> =
        part.points.iter().filter(|(l, _)| !l.contains('.')).collect();
    if lettered.len() > 1 {
        return lettered;
    }
    let Some(first) = part.points.first() else {
        return Vec::new();
    };
    let off = |p: &&(String, P2)| (p.1 - first.1).norm();
    let farthest = part.points.iter().max_by(|a, b| off(a).total_cmp(&off(b)));
    std::iter::once(first).chain(farthest).collect()
}

/// The figures of a part's edge in turn, those of a part with curves to half of what others are.
pub(super) fn figures(part: &OnSheet, units: Units) -> Vec<String> {
    let halves = part.edge.strays.is_some() && !part.by_pattern;
    let figure = |mm: f64| if halves { units.half_figure(mm) } else { units.figure(mm) };
    let pair = |p: P2| format!("{} · {}", figure(p.x), figure(p.y));
    let label = |p: P2| part.points.iter().find(|(_, q)| *q == p).map(|(l, _)| l);
    if part.by_pattern {
        return laying(part).into_iter().map(|(l, p)| format!("{l}: {}", pair(*p))).collect();
    }
    let straight = part.edge.steps.iter().all(|s| matches!(s, Step::Corner(_)));
    let words = |(i, step): (usize, &Step)| match step {
        Step::Corner(p) => match label(*p) {
            // Between corners alone they are counted from the first.
            Some(l) if i == 0 || !straight || !l.contains('.') => format!("{l}: {}", pair(*p)),
            _ => pair(*p),
        },
        Step::Curve(p) => format!("({})", pair(*p)),
        Step::Round(r) => format!("(radius {} from {})", figure(r.radius), pair(r.centre)),
    };
    part.edge.steps.iter().enumerate().map(words).collect()
}

fn kept_apart(of: &SheetKind, laid: &SheetLayout, units: Units) -> String {
    let margin = of.problem.sheets[laid.sheet].edge_margin;
    format!(
        "Parts lie {} apart for the saw, which runs outside the line, and {} off the edge (dotted).",
        units.fine(of.problem.kerf),
        units.fine(margin)
    )
}

/// The order of sawing.
fn order(sawn: &[Cut], units: Units) -> String {
    let straight = sawn.iter().filter(|c| c.kind != CutKind::Outline).enumerate();
    let each: Vec<String> = straight.filter_map(|(i, c)| rough_words(i, c, units)).collect();
    let then = "the parts in the order of their numbers, while there is wood around them to clamp";
    if each.is_empty() {
        format!("Saw {then}; no straight cut runs clear of them from edge to edge.")
    } else {
        format!(
            "Saw straight through first, the figure in the middle of what the saw takes away: {}. Then {then}.",
            each.join("; ")
        )
    }
}

fn rough_words(i: usize, cut: &Cut, units: Units) -> Option<String> {
    let (a, b) = (cut.path.first()?, cut.path.last()?);
    let (way, at, from, to) = match cut.kind {
        CutKind::Crosscut => ("across", a.x, a.y, b.y),
        _ => ("along", a.y, a.x, b.x),
    };
    Some(format!(
        "S{} {way} at {}, from {} to {}",
        i + 1,
        units.show(at),
        units.figure(from.min(to)),
        units.show(from.max(to))
    ))
}

/// Which face of the sheet is up.
fn faces(boat: Counted, of: &SheetKind, laid: &SheetLayout, parts: &[OnSheet]) -> String {
    let name = &of.problem.sheets[laid.sheet].name;
    let rows = boat.model.hull.stock.sheets.iter();
    let one_good = rows.filter(|s| s.sheet == *name).any(|s| s.one_good_face);
    let outside = parts.iter().any(|p| p.lying.face_up == Some(SheetFace::Outside));
    let good = match one_good {
        true => {
            "The good face lies down: it goes outside, and a hand-held saw splinters the upper one."
        }
        false => "Either face may lie up; a hand-held saw splinters the upper one.",
    };
    let over = match outside {
        true => {
            " A part whose outside is up is marked on its other face: prick the ends of the marks through at its edge."
        }
        false => "",
    };
    format!("{good}{over}")
}

/// An offcut that fills less of its box than this share is no oblong.
const OBLONG: f64 = 0.98;

/// An offcut's size, with its area where its box says too much of it.
fn kept_words(o: &Offcut, units: Units) -> String {
    let size = size_words(&o.outline, units);
    let filled = bounds(o.outline.iter().copied())
        .map_or(1.0, |(low, high)| o.area / ((high.x - low.x) * (high.y - low.y)));
    if filled >= OBLONG { size } else { format!("{size}, {}", units.area(o.area)) }
}

/// Greatest length along the sheet and breadth across it.
pub(super) fn size_words(outline: &[P2], units: Units) -> String {
    let size = bounds(outline.iter().copied()).map_or_else(V2::zeros, |(low, high)| high - low);
    format!("{} by {}", units.show(size.x), units.show(size.y))
}
