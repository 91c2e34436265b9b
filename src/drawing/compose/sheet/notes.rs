//! What has to be said of a sheet: how its figures are measured, in which order it is sawn, what
//! is done at its joints, what is left, and what hurts.

use super::parts::OnSheet;
use super::points::EdgePoint;
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
        "Figures: along the sheet from corner 0 · across it, to points of the line that is sawn: a letter is that corner of the part's own pattern, 3.1 a point of part 3 that has none; an edge is given all round from 3.1, its curves in brackets. {}",
        kept_apart(of, laid, units)
    ));
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

/// The whole edge of a part, in lines no longer than `room` mm on paper in the table's letters.
pub(super) fn edge(part: &OnSheet, units: Units, room: f64) -> Vec<String> {
    let figure = |e: &EdgePoint| {
        let pair = format!("{} · {}", units.figure(e.at.x), units.figure(e.at.y));
        if e.on_curve { format!("({pair})") } else { pair }
    };
    let mut lines: Vec<String> = Vec::new();
    for (i, e) in part.edge.iter().enumerate() {
        let next = figure(e);
        match lines.last_mut() {
            None => lines.push(format!("from {}.1: {next}", part.lying.number)),
            Some(line) => {
                let longer = format!("{line}, {next}");
                let comma = if i + 1 < part.edge.len() { "," } else { "" };
                if width(&format!("{longer}{comma}"), TEXT, false) <= room {
                    *line = longer;
                } else {
                    lines.push(next);
                }
            }
        }
    }
    lines
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
