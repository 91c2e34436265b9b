//! Bones, second half: frames, transom and stem.

use super::Model;
use crate::finding::Finding;
use crate::frames::notch::MOST_LET_DOWN;
use crate::frames::stem::BEHIND_BEVEL_MM;
use crate::frames::transom::BESIDE_CUT_OUT_MM;
use crate::frames::{Frame, Stem, Transom};
use crate::hull::Shaft;

/// A gap or a bulge smaller than this (mm) is taken up by bedding. Our judgement.
const CROWN_SEEN_MM: f64 = 1.0;
/// A bevel beyond this (radians) leaves a feather edge that neither glue nor screw holds.
/// Common practice, no source.
const STEEP_BEVEL: f64 = 40.0 * std::f64::consts::PI / 180.0;
/// Rake (radians) within which an outboard's own adjustment brings its leg upright. Common
/// practice, no source.
const MOTOR_RAKE: [f64; 2] =
    [4.0 * std::f64::consts::PI / 180.0, 20.0 * std::f64::consts::PI / 180.0];
/// Share of a piece's depth that must be left inside a notch. Common practice, no source.
const LEAST_LEFT: f64 = 0.4;

/// A piece that loses this share of itself to a notch falls apart.
const FALLS_APART: f64 = 0.1;
/// A piece that falls off is told of from this size, mm²: a fingernail.
const CRUMB_MM2: f64 = 100.0;
/// Share of a keelson's depth that planing it to the V may take at its edges. Common
/// practice, no source.
const MOST_PLANED: f64 = 0.7;

pub(super) fn frames(model: &Model, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let work = &model.woodwork;
    for (i, x) in model.stations.iter().enumerate() {
        if work.frame(i + 1).is_none() {
            out.push(Finding::note(
                "bones",
                format!("station {}", i + 1),
                format!("{} aft no frame stands: the hull is not there", units.show(*x)),
                "move the station or leave it out",
            ));
        }
    }
    for choice in &model.hull.framing.frames {
        if choice.station > model.stations.len() {
            out.push(Finding::note(
                "bones",
                format!("framing of station {}", choice.station),
                format!("there are {} stations", model.stations.len()),
                "name a station that there is",
            ));
        }
    }
    if model.materials.wood(&model.hull.framing.species).is_none() {
        out.push(Finding::note(
            "bones",
            "framing",
            format!("the species {:?} is not in the wood table", model.hull.framing.species),
            "name a species of the table or add a row to the document's `woods`",
        ));
    }
    for f in &work.frames {
        frame(model, f, out);
    }
    spacing(model, out);
    drain(model, out);
    for (name, t) in [("transom", &work.transom), ("bow transom", &work.bow_transom)] {
        if let Some(t) = t {
            transom(model, name, t, out);
        }
    }
    for (name, s) in [("stem", &work.stem), ("sternpost", &work.sternpost)] {
        if let Some(s) = s {
            stem(model, name, s, out);
        }
    }
}

fn frame(model: &Model, f: &Frame, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let place = |piece: &str| format!("frame {}, {piece}", f.station);
    for p in &f.pieces {
        if !p.wide_enough {
            out.push(Finding::watch(
                "bones",
                place(&p.name),
                format!("it wants a board {} wide; none of yours is", units.show(p.board_width)),
                "glue two edge to edge, add a width to the framing's `widths_mm`, or ask less depth",
            ));
        }
        let area = crate::geom::polyline::area(&p.outline).abs();
        if p.lost > FALLS_APART * area {
            out.push(Finding::stop(
                "bones",
                place(&p.name),
                "a notch cuts it right through",
                "make the piece deeper or the member's moulded depth less",
            ));
        } else if p.lost > CRUMB_MM2 {
            out.push(Finding::note(
                "bones",
                place(&p.name),
                format!("a notch runs into its joint: {:.0} mm² of it fall off", p.lost),
                "fill it, or move the frame aft where there is more wood",
            ));
        }
        if p.least_left < LEAST_LEFT * p.depth {
            out.push(Finding::new(
                if p.least_left <= 0.0 {
                    crate::finding::Severity::Stop
                } else {
                    crate::finding::Severity::Watch
                },
                "bones",
                place(&p.name),
                format!(
                    "a notch leaves {} of its {} of wood",
                    units.show(p.least_left.max(0.0)),
                    units.show(p.depth)
                ),
                "make the piece deeper or the member's moulded depth less",
            ));
        }
    }
    if f.runs_out() {
        out.push(Finding::watch(
            "bones",
            format!("frame {}", f.station),
            "its wood runs out of the boat or into the stem or transom",
            "move the station away from the end by more than the frame is thick",
        ));
    }
    if !f.holds_together() {
        out.push(Finding::watch(
            "bones",
            format!("frame {}", f.station),
            if f.pieces.is_empty() {
                "so near the end there is no wood for it"
            } else {
                "nothing joins its two sides at the bottom"
            },
            "leave this frame out, or move the station towards the middle",
        ));
    }
    for n in &f.notches {
        if n.wanted_let_down > n.let_down + 0.5 {
            let m = &model.members[n.member].member;
            out.push(Finding::watch(
                "bones",
                place(&n.name),
                format!(
                    "the {} opens so far there that the stick would have to be let down {} of its {}",
                    m.line,
                    units.show(n.wanted_let_down),
                    units.show(m.sided_mm)
                ),
                format!(
                    "make it {} sided, or less moulded; as it is a gap stays under its inner edge",
                    units.show((n.wanted_let_down / MOST_LET_DOWN).ceil())
                ),
            ));
        }
        let m = &model.members[n.member].member;
        if m.line != "keel" && n.corners.iter().any(|c| c.x < 0.0) {
            out.push(Finding::note(
                "bones",
                place(&n.name),
                "there both sides' sticks meet over the centreline",
                "taper their ends towards the stem, or leave this frame out",
            ));
        }
        let rise = 0.5 * m.sided_mm * f.bottom_slope();
        let bottom = f.section.edges.first().map_or(0.0, |e| e.last().at.x);
        if m.line == "keel" && bottom < 0.5 * m.sided_mm {
            out.push(Finding::note(
                "bones",
                place(&n.name),
                format!(
                    "the bottom is only {} wide there, the {} {}",
                    units.show(2.0 * bottom),
                    n.name,
                    units.show(m.sided_mm)
                ),
                "taper its end to the bottom, and notch that frame to the taper",
            ));
        }
        if m.line == "keel" && rise > MOST_PLANED * m.moulded_mm {
            out.push(Finding::watch(
                "bones",
                place(&n.name),
                format!(
                    "the bottom rises {} over half its width, so planing it to the V takes its edges away",
                    units.show(rise)
                ),
                format!(
                    "make it at least {} moulded, or narrower, or end it abaft this frame",
                    units.show((rise / MOST_PLANED).ceil())
                ),
            ));
        }
    }
    for (panel, crown) in &f.crowns {
        let name = &model.panels[*panel].name;
        if f.edges.is_straight(*panel) && *crown < -CROWN_SEEN_MM {
            out.push(Finding::watch(
                "bones",
                place(name),
                format!("its straight edge would push the sheet out by {:.1} mm", -crown),
                "shape this frame's edge, or plane its middle hollow",
            ));
        } else if f.edges.is_straight(*panel) && *crown > CROWN_SEEN_MM {
            out.push(Finding::note(
                "bones",
                place(name),
                format!("its straight edge leaves a gap of {crown:.1} mm behind the sheet"),
                "bed it in thickened glue or shape the edge",
            ));
        }
    }
    if let Some(b) = f.bevels.iter().max_by(|a, b| a.angle.abs().total_cmp(&b.angle.abs()))
        && b.angle.abs() > STEEP_BEVEL
    {
        out.push(Finding::watch(
            "bones",
            place(&model.panels[b.panel].name),
            format!("its edge is bevelled by {:.0}°", b.angle.to_degrees().abs()),
            "move the frame away from the end, or leave it out there: the stem does its work",
        ));
    }
}

fn spacing(model: &Model, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let worst = model
        .woodwork
        .bays
        .iter()
        .filter(|b| !b.holds())
        .max_by(|a, b| (a.sag / a.allowed).total_cmp(&(b.sag / b.allowed)));
    if let Some(b) = worst {
        let advice = match b.longest {
            Some(l) => format!("stand frames {} apart there", units.show(l)),
            None => "a stringer along the panel's middle would halve its span".into(),
        };
        out.push(Finding::note(
            "bones",
            format!(
                "{} between {} and {} aft",
                model.panels[b.panel].name,
                units.show(b.from),
                units.show(b.to)
            ),
            format!(
                "unsupported over {} it would sag about {:.0} mm pressed down to her sheer; {:.0} mm is felt underfoot",
                units.show(b.span),
                b.sag,
                b.allowed
            ),
            format!("{advice}, or take a thicker sheet; this is advice, not a rule of scantlings"),
        ));
    }
}

/// What the drain slope does to a bottom that was flat.
fn drain(model: &Model, out: &mut Vec<Finding>) {
    let slope = model.hull.framing.drain_slope;
    if slope <= 0.0 {
        return;
    }
    let units = model.hull.units;
    if model.lines.drain_slope == 0.0 {
        let least = model
            .woodwork
            .frames
            .iter()
            .map(Frame::bottom_slope)
            .filter(|s| *s > 0.0)
            .fold(f64::INFINITY, f64::min);
        let least = if least.is_finite() { format!(" by {least:.2}") } else { String::new() };
        out.push(Finding::note(
            "bones",
            "drain slope",
            format!(
                "her bottom has a keel of its own and already falls to it{least}; the drain slope changes nothing"
            ),
            "set `drain_slope: 0`",
        ));
        return;
    }
    let Some(chine) = model.lines.lines.get(1) else {
        return;
    };
    let (drop, x) = greatest(chine, slope);
    out.push(Finding::note(
        "bones",
        "drain slope",
        format!(
            "the bottom is flat no more: it falls {} to the keelson {} aft, a deadrise of {:.1}°, and she displaces {:.0} litres more below her chines",
            units.show(drop),
            units.show(x),
            slope.atan().to_degrees(),
            added_volume(chine, slope) * 1e-6
        ),
        "the bottom is two sheets that meet on the keelson; about 1 in over 14 in is common practice (no source)",
    ));
}

/// Greatest fall (mm) of the bottom from a chine, and where.
fn greatest(chine: &crate::hull::HullLine, slope: f64) -> (f64, f64) {
    let at = |i: usize| chine.spline.at(chine.spline.end() * i as f64 / 100.0);
    (0..=100)
        .map(at)
        .map(|p| (slope * p.y, p.x))
        .fold((0.0, 0.0), |a, b| if b.0 > a.0 { b } else { a })
}

/// Volume (mm³) between a flat bottom and one that falls by `slope`: two triangles of
/// half-breadth y and height slope · y at each station, ∫ slope y² dx by Simpson's rule.
fn added_volume(chine: &crate::hull::HullLine, slope: f64) -> f64 {
    const PIECES: usize = 100;
    let (first, last) = (chine.spline.at(0.0).x, chine.spline.at(chine.spline.end()).x);
    let area = |i: usize| {
        let x = first + (last - first) * i as f64 / PIECES as f64;
        let y = chine.spline.parameter_at_x(x).map_or(0.0, |t| chine.spline.at(t).y);
        slope * y * y
    };
    let weight = |i: usize| match i {
        0 | PIECES => 1.0,
        i if i % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 = (0..=PIECES).map(|i| weight(i) * area(i)).sum();
    sum * (last - first) / PIECES as f64 / 3.0
}

fn transom(model: &Model, name: &str, t: &Transom, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    if let Some(c) = &t.cut_out {
        if c.depth < 0.0 {
            out.push(Finding::watch(
                "bones",
                name,
                format!(
                    "it is {} too low for a {} motor: the plate would lie below the bottom by as much",
                    units.show(-c.depth),
                    model.hull.motor.shaft.word()
                ),
                "build the transom up by that, raise the sheer aft, or take a shorter leg",
            ));
        }
        let longer = Shaft::ALL.into_iter().find(|s| *s > model.hull.motor.shaft);
        if let Some(longer) =
            longer.filter(|l| c.depth >= l.length() - model.hull.motor.shaft.length())
        {
            out.push(Finding::note(
                "bones",
                name,
                format!(
                    "a {} motor needs a cut-out {} deep; she is high enough for {}",
                    model.hull.motor.shaft.word(),
                    units.show(c.depth),
                    longer.word()
                ),
                "a longer leg leaves more transom between you and a following sea",
            ));
        }
        if c.depth > 0.0 && !c.room {
            out.push(Finding::watch(
                "bones",
                name,
                format!(
                    "a cut-out {} wide leaves less than {} of wood on either side",
                    units.show(c.width),
                    units.show(BESIDE_CUT_OUT_MM)
                ),
                "make the cut-out narrower",
            ));
        }
        if !(MOTOR_RAKE[0]..=MOTOR_RAKE[1]).contains(&t.rake) {
            out.push(Finding::note(
                "bones",
                name,
                format!("its rake is {:.0}°", t.rake.to_degrees()),
                "most small outboards trim to a rake of 4 to 20° (common practice, no source); wedge the pad to suit yours",
            ));
        }
    }
    for p in t.framing.iter().filter(|p| !p.wide_enough) {
        out.push(Finding::note(
            "bones",
            format!("{name}, {}", p.name),
            format!("it wants a board {} wide", units.show(p.board_width)),
            "piece it, or ask less width of the transom's framing",
        ));
    }
}

fn stem(model: &Model, name: &str, s: &Stem, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let plan = &model.hull.stem;
    if let Some(b) = s.bevels.iter().max_by(|a, b| a.back.total_cmp(&b.back))
        && b.back + BEHIND_BEVEL_MM > plan.moulded_mm
    {
        out.push(Finding::watch(
            "bones",
            format!("{name}, {} above the baseline", units.show(b.at.y)),
            format!(
                "the planking leaves it at a half angle of {:.0}°, so its bevel runs {} back; it is {} deep",
                b.half_angle.to_degrees(),
                units.show(b.back),
                units.show(plan.moulded_mm)
            ),
            format!(
                "make it at least {} moulded, or less sided",
                units.show((b.back + BEHIND_BEVEL_MM).ceil())
            ),
        ));
    }
    if s.parts == 1 && !s.wide_enough {
        out.push(Finding::watch(
            "bones",
            name,
            format!(
                "it is {} deep and wants a board {} wide; none of yours is",
                units.show(plan.moulded_mm),
                units.show(s.board_width)
            ),
            "glue it up of layers, ask less moulded, or add a width to the framing's `widths_mm`",
        ));
    }
    if s.parts > 1 {
        out.push(Finding::note(
            "bones",
            name,
            format!("its blank wants a board {} wide", units.show(s.board_width)),
            format!("make it of two parts lapped {}", units.show(s.lap)),
        ));
    }
}
