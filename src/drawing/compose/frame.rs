//! A frame at full size as it is put together: everything in its place, nothing to cut.

use super::Line;
use super::bevel_section;
use super::{SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::frames::pieces::to_port;
use crate::frames::{BevelAt, Frame, Notch};
use crate::geom::{P2, V2};
use crate::hull::Face;
use crate::model::Model;
use crate::part::LineId;
use crate::units::{Units, half_degrees};
use crate::words::bevels::CONVENTION;

/// Bevels are written this far (mm) outside the edge.
const BESIDE: f64 = 12.0;
/// Length of the arrows up and out, mm.
const ARROW: f64 = 40.0;
/// Size of the cross that marks a fastening, mm.
const MARK: f64 = 5.0;

/// A stick let down by less than this (mm) goes in at its line.
pub(super) const LEAST_LET_DOWN_MM: f64 = 0.5;

/// The frame put together at full size, lengths written in `units`.
pub fn frame_assembly(model: &Model, f: &Frame, units: Units) -> Drawing {
    frame_for(model, f, units, 1.0)
}

/// The frame put together, its words and what is spaced for them `s` times as large: drawn to
/// a scale afterwards they keep the size of paper.
pub(super) fn frame_for(model: &Model, f: &Frame, units: Units, s: f64) -> Drawing {
    let title = format!("{}: frame {}", model.hull.name, f.station);
    let subtitle = format!(
        "{} aft · drawn on its {} face · {} thick",
        units.show(f.x),
        f.face.word(),
        units.fine(model.hull.framing.sided_mm)
    );
    let mut d = Drawing::new(title, subtitle, layers());
    both(&mut d, Line::Outline, f.pieces.iter().map(|p| (p.outline.as_slice(), p.whole)));
    both(
        &mut d,
        Line::Plate,
        f.gussets.iter().filter(|g| g.on_face).map(|g| (g.outline.as_slice(), g.whole)),
    );
    both(&mut d, Line::Clear, f.keep_clear.iter().map(|r| (r.as_slice(), false)));
    // The skin on either face: the pattern's face full, the far one dashed.
    for (layer, half) in [(Line::Station, f.section.half()), (Line::Far, f.far.half())] {
        d.polyline(layer, to_port(&half), false);
        d.polyline(layer, half, false);
    }
    for n in &f.notches {
        for side in [n.corners.to_vec(), to_port(&n.corners)] {
            d.polyline(Line::Member, side, true);
        }
        for side in [n.far_corners.to_vec(), to_port(&n.far_corners)] {
            d.polyline(Line::Far, side, true);
        }
    }
    for g in f.gussets.iter().filter(|g| g.on_face) {
        for p in &g.fastenings {
            d.cross(Line::Fastening, *p, MARK);
            if !g.whole {
                d.cross(Line::Fastening, P2::new(-p.x, p.y), MARK);
            }
        }
    }
    for p in &f.lap_fastenings {
        for x in [p.x, -p.x] {
            d.cross(Line::Fastening, P2::new(x, p.y), MARK);
        }
    }
    for l in &f.limbers {
        for bit in if l.is_round() { vec![l.centre] } else { vec![l.centre, l.far] } {
            for x in [bit.x, -bit.x] {
                d.cross(Line::Fastening, P2::new(x, bit.y), 2.0 * MARK);
            }
        }
    }
    bevel_labels(&mut d, &f.bevels, units, s);
    let whole = crate::frames::section::whole(&f.section.half());
    super::waterline::across(&mut d, model, &f.section.across, &whole, s);
    lines(&mut d, model, f, units, s);
    words(&mut d, model, f, units, s);
    bevel_section::beside_edges(&mut d, model, &f.section, &f.bevels, units, s);
    d.settle_words();
    d
}

/// Rings on starboard and, unless whole, on port.
fn both<'a>(d: &mut Drawing, layer: Line, rings: impl Iterator<Item = (&'a [P2], bool)>) {
    for (ring, is_whole) in rings {
        d.polyline(layer, ring.to_vec(), true);
        if !is_whole {
            d.polyline(layer, to_port(ring), true);
        }
    }
}

/// Bevels beside the starboard edge: degrees, run over the thickness, and off which face.
pub(super) fn bevel_labels(d: &mut Drawing, all: &[BevelAt], units: Units, s: f64) {
    let (beside, figure) = (s * BESIDE, 0.7 * s * SMALL);
    for (i, b) in all.iter().enumerate() {
        // The neighbour on the same edge gives its direction.
        let same = |j: &usize| all[*j].panel == b.panel;
        let Some(j) = [i + 1, i.wrapping_sub(1)].into_iter().filter(|j| *j < all.len()).find(same)
        else {
            continue;
        };
        let near = &all[j];
        let Some(e) = (near.at - b.at).try_normalize(1e-9) else {
            continue;
        };
        let e = if e.y + 0.2 * e.x < 0.0 { -e } else { e };
        let out = V2::new(e.y, -e.x);
        d.line(Line::Check, b.at, b.at + 0.6 * beside * out);
        let text = b.label(units);
        // Between two that are the same it is not said again.
        let beside_it = [i.checked_sub(1), Some(i + 1)].map(|k| k.and_then(|k| all.get(k)));
        if beside_it.iter().all(|n| n.is_some_and(|n| n.panel == b.panel && n.label(units) == text))
        {
            continue;
        }
        let level = e.y.abs() < e.x.abs();
        let down = if level { V2::new(0.0, figure) } else { V2::zeros() };
        let at = b.at + beside * out - down;
        let anchor = if level { Anchor::Middle } else { Anchor::Left };
        d.text(Line::Text, at, figure, 0.0, anchor, text);
    }
}

/// Centreline, level line, cross-spall, half-breadths and heights.
fn lines(d: &mut Drawing, model: &Model, f: &Frame, units: Units, s: f64) {
    let (small, figure) = (s * SMALL, 0.7 * s * SMALL);
    let half = f.section.half();
    let (Some(low), Some(head)) = (half.first(), half.last()) else {
        return;
    };
    let widest = half.iter().map(|p| p.x).fold(0.0, f64::max);
    d.line(Line::Level, P2::new(0.0, low.y - 40.0 * s), P2::new(0.0, head.y + 40.0 * s));
    d.text(Line::Text, P2::new(3.0 * s, head.y + 32.0 * s), small, 0.0, Anchor::Left, "centreline");
    if let Some(spall) = f.spall {
        let corner = |x: f64, y: f64| P2::new(x, y);
        d.polyline(
            Line::Plate,
            vec![
                corner(-spall.half_length, spall.level),
                corner(spall.half_length, spall.level),
                corner(spall.half_length, spall.low),
                corner(-spall.half_length, spall.low),
            ],
            true,
        );
        d.line(
            Line::Level,
            P2::new(-widest - 20.0 * s, spall.level),
            P2::new(widest + 20.0 * s, spall.level),
        );
        let half = 0.5 * spall.half_length;
        // From the keel, as all heights of this sheet.
        let level = format!("level line {}", units.show(spall.level - low.y));
        d.text(
            Line::Text,
            P2::new(-half, spall.level + 0.4 * small),
            small,
            0.0,
            Anchor::Middle,
            level,
        );
        let long = format!("cross-spall {}", units.show(2.0 * spall.half_length));
        let middle = 0.5 * (spall.low + spall.level - small);
        d.text(Line::Text, P2::new(half, middle), small, 0.0, Anchor::Middle, long);
    }
    // Half-breadths to starboard and heights to port of every corner.
    let corners: Vec<(LineId, P2)> =
        f.section.edges.iter().map(|e| (model.lines.lines[e.panel + 1].id, e.last().at)).collect();
    for (i, (name, at)) in corners.iter().enumerate() {
        let y = low.y - 40.0 * s - 16.0 * s * i as f64;
        let text = format!("{name} {}", units.show(at.x));
        d.dimension(Line::Dimension, (P2::new(0.0, y), P2::new(at.x, y)), 0.0, figure, text);
        // Short of the bevels' figures.
        d.line(Line::Dimension, P2::new(at.x, y - 3.0), P2::new(at.x, low.y - 28.0 * s));
        let x = -widest - 40.0 * s - 16.0 * s * i as f64;
        let text = format!("{name} {}", units.show(at.y - low.y));
        d.dimension(Line::Dimension, (P2::new(x, low.y), P2::new(x, at.y)), 0.0, figure, text);
        d.line(Line::Dimension, P2::new(x - 3.0, at.y), P2::new(-at.x - 4.0, at.y));
    }
    if corners.len() > 1 {
        let (a, b) = (corners[0].1, corners[corners.len() - 1].1);
        let a = P2::new(-a.x, a.y);
        let e = (b - a).try_normalize(1e-9).unwrap_or_else(V2::x);
        d.line(Line::Check, a + 30.0 * e, a + 90.0 * e);
        d.line(Line::Check, b - 30.0 * e, b - 90.0 * e);
        d.text(
            Line::Check,
            a + 95.0 * e,
            0.8 * small,
            0.0,
            Anchor::Left,
            format!("both diagonals {}", units.show((b - a).norm())),
        );
    }
}

/// The block of notes, the frame's name on it, and which way is up and out.
fn words(d: &mut Drawing, model: &Model, f: &Frame, units: Units, s: f64) {
    let half = f.section.half();
    let (Some(low), Some(head)) = (half.first(), half.last()) else {
        return;
    };
    let behind = match f.face {
        Face::Aft => "ahead of it",
        Face::Fore => "aft of it",
    };
    let looking = match f.face {
        Face::Aft => "starboard",
        Face::Fore => "port",
    };
    d.note(format!(
        "Seen on its {} face, the larger, so that {looking} is at the right: that face stands on the station's line, the wood {behind}.",
        f.face.word()
    ));
    d.note(CONVENTION);
    d.note("Where the bevels of two neighbours are the same, those between them are too.");
    if let Some(l) = f.limbers.first() {
        d.note(format!(
            "Limbers: bore {} at the large crosses, through the frame and all that lies on it.",
            units.fine(2.0 * l.radius)
        ));
        if let Some(rain) = crate::model::Rain::of(model) {
            d.note(format!("Limbers: {}.", crate::words::attitude::rain(&rain, units)));
        }
    }
    d.note("Dashed thin: the far face. Dotted: no fastening there, it is cut or planed away.");
    for p in &f.pieces {
        d.note(format!(
            "{}: {} of board {} x {}.",
            crate::words::capital(&p.name),
            p.count(),
            units.show(p.board_width),
            units.show(p.board_length)
        ));
    }
    for n in &f.notches {
        d.note(notch_words(model, n, units));
    }
    if let Some(spall) = f.spall {
        d.note(format!(
            "Heights on this sheet are from this frame's own keel; its level line stands {} above the baseline.",
            units.show(spall.level)
        ));
    }
    if f.section.edges.len() > 1 {
        d.note("Both diagonals run from the lowest corner on one side to the sheer on the other, on the outline: mark them before the notches are sawn.");
    }
    super::explain(d, units);
    let left = -half.iter().map(|p| p.x).fold(0.0, f64::max);
    let foot = P2::new(0.45 * left, low.y + 0.45 * (head.y - low.y));
    let long = ARROW * s;
    d.arrow(Line::Check, foot, foot + V2::new(0.0, long), 0.3 * long);
    d.text(Line::Text, foot + s * V2::new(6.0, 10.0), s * SMALL, 0.0, Anchor::Left, "up");
    let out = P2::new(0.12 * -left, low.y + 0.5 * (head.y - low.y));
    d.arrow(Line::Check, out, out + V2::new(long, 0.0), 0.3 * long);
    let side = match f.face {
        Face::Aft => "starboard",
        Face::Fore => "port",
    };
    let past = out + V2::new(long + 3.0 * s, -0.5 * s * SMALL);
    d.text(Line::Text, past, s * SMALL, 0.0, Anchor::Left, side);
}

/// A notch in words: the stick's section, the saw's lean, how far it is let down.
pub(super) fn notch_words(model: &Model, n: &Notch, units: Units) -> String {
    let m = &model.members[n.member].member;
    let let_down = if n.let_down >= LEAST_LET_DOWN_MM {
        let by = units.fine(n.let_down);
        format!(", let down {by} past the {} and planed flush", m.line)
    } else {
        String::new()
    };
    let section = units.section(m.moulded_mm, m.sided_mm);
    let saw = match half_degrees(n.lean) {
        lean if lean == half_degrees(0.0) => "sawn square".to_string(),
        lean => format!("saw leaning {lean}"),
    };
    format!("Notch for {}: {section}, {saw}{let_down}.", n.name)
}
