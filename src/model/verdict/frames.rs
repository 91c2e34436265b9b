//! Bones, second half: the frames.

use super::Model;
use super::ends::{stem, transom};
use crate::bend::lie::MOST_LET_DOWN;
use crate::finding::Finding;
use crate::frames::Frame;
use crate::geom::region::Region;
use crate::geom::ring::centroid;
use crate::geom::{P2, P3};
use crate::part::{LineId, Question};

/// A gap or a bulge smaller than this (mm) is taken up by bedding. Our judgement.
const CROWN_SEEN_MM: f64 = 1.0;
/// A bevel beyond this (radians) leaves a feather edge that neither glue nor screw holds.
/// Common practice, no source.
const STEEP_BEVEL: f64 = 40.0 * std::f64::consts::PI / 180.0;
/// Share of a piece's depth that must be left inside a notch. Common practice, no source.
const LEAST_LEFT: f64 = 0.4;

/// A piece that loses this share of itself to a notch falls apart.
const FALLS_APART: f64 = 0.1;
/// A piece that falls off is told of from this size, mm²: a fingernail.
const CRUMB_MM2: f64 = 100.0;
/// Share of a keelson's depth that planing it to the V may take at its edges. Common
/// practice, no source.
const MOST_PLANED: f64 = 0.7;

/// A frame and a stem that share less than this (mm2, from ahead) touch and no more.
const SHARED_MM2: f64 = 50.0;

/// Frames that stand in the wood of the stem or of the sternpost.
fn in_a_stem(model: &Model, out: &mut Vec<Finding>) {
    let work = &model.woodwork;
    let sided = model.hull.framing.sided_mm;
    let half = 0.5 * model.hull.stem.sided_mm;
    for (s, name) in
        work.stem.iter().map(|s| (s, "stem")).chain(work.sternpost.iter().map(|s| (s, "sternpost")))
    {
        let blank = Region::of(&s.outline);
        for f in &work.frames {
            let (from, to) = f.wood(sided);
            let between = Region::of(&[
                P2::new(from, -TALL_MM),
                P2::new(to, -TALL_MM),
                P2::new(to, TALL_MM),
                P2::new(from, TALL_MM),
            ]);
            let heights = blank.and(&between).rings().into_iter().flatten().map(|p| p.y);
            let (low, high) =
                heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
            if low >= high {
                continue;
            }
            let stem = Region::of(&[
                P2::new(-half, low),
                P2::new(half, low),
                P2::new(half, high),
                P2::new(-half, high),
            ]);
            let shared: f64 =
                f.pieces.iter().map(|p| Region::of(&p.outline).and(&stem).area()).sum();
            if shared > SHARED_MM2 {
                out.push(Finding::watch(
                    Question::Bones,
                    format!("frame {}", f.station),
                    format!("it stands in the wood of the {name}, from {} up to {}", model.hull.units.show(low), model.hull.units.show(high)),
                    "move its station clear of it, leave the frame out, or notch it over by hand: no notch is drawn",
                )
                .about(work.frame_id(f.station)));
            }
        }
    }
}

/// Higher and lower (mm) than any stem.
const TALL_MM: f64 = 20_000.0;

pub(super) fn frames(model: &Model, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    in_a_stem(model, out);
    let work = &model.woodwork;
    for (i, x) in model.stations.iter().enumerate() {
        if work.frame(i + 1).is_none() {
            out.push(Finding::note(
                Question::Bones,
                format!("station {}", i + 1),
                format!("{} aft no frame stands: the hull is not there", units.show(*x)),
                "move the station or leave it out",
            ));
        }
    }
    let jig = &model.hull.strongback;
    for pair in work.frames.windows(2) {
        let framing = &model.hull.framing;
        let needs = framing.sided_mm + framing.spall_thickness_mm + jig.leg_thickness_mm;
        let apart = pair[1].x - pair[0].x;
        if apart < needs && apart >= framing.sided_mm {
            out.push(Finding::watch(
                Question::Setup,
                format!("frames {} and {}", pair[0].station, pair[1].station),
                format!(
                    "they stand {} apart: wood, spall and leg of one take {}",
                    units.fine(apart),
                    units.fine(needs)
                ),
                "set the second one up from the first by blocks between them, or move a station",
            )
            .about(work.frame_id(pair[1].station)));
        }
    }
    for choice in &model.hull.framing.frames {
        if choice.station > model.stations.len() {
            out.push(Finding::note(
                Question::Bones,
                format!("framing of station {}", choice.station),
                format!("there are {} stations", model.stations.len()),
                "name a station that there is",
            ));
        }
    }
    for pair in work.frames.windows(2) {
        let sided = model.hull.framing.sided_mm;
        let wood = |f: &Frame| f.wood(sided);
        if wood(&pair[0]).1 > wood(&pair[1]).0 {
            out.push(
                Finding::stop(
                    Question::Bones,
                    format!("frames {} and {}", pair[0].station, pair[1].station),
                    format!(
                        "they stand {} apart and are {} thick: there is no room for both",
                        units.fine(pair[1].x - pair[0].x),
                        units.fine(sided)
                    ),
                    "move one of the stations, or leave it out",
                )
                .about(work.frame_id(pair[1].station)),
            );
        }
    }
    out.extend(battens_not_laid(model));
    if model.materials.wood(&model.hull.framing.species).is_none() {
        out.push(Finding::watch(
            Question::Bones,
            "framing",
            format!("the species {:?} is not in the wood table", model.hull.framing.species),
            "name a species of the table or add a row to the document's `woods`",
        ));
    }
    for f in &work.frames {
        frame(model, f, out);
    }
    super::spacing::spacing(model, out);
    super::drain::drain(model, out);
    super::drain::rain(model, out);
    for (name, t) in [("transom", &work.transom), ("bow transom", &work.bow_transom)] {
        if let Some(t) = t {
            transom(model, name, t, out);
        }
    }
    for (name, s) in [("stem", &work.stem), ("sternpost", &work.sternpost)] {
        if let Some(s) = s {
            stem(model, name, s, out);
            super::bow::bow(model, name, s, out);
        }
    }
    no_end(model, out);
}

/// An end whose lines come together so nearly that nothing closes it.
fn no_end(model: &Model, out: &mut Vec<Finding>) {
    let (lines, work) = (&model.lines, &model.woodwork);
    for (at_stern, post, transom) in [
        (false, work.stem.is_some(), work.bow_transom.is_some()),
        (true, work.sternpost.is_some(), work.transom.is_some()),
    ] {
        if post || transom {
            continue;
        }
        let plane = if at_stern { lines.transom } else { lines.bow_transom };
        let name = match (at_stern, plane.is_some()) {
            (false, false) => "stem",
            (false, true) => "bow transom",
            (true, false) => "sternpost",
            (true, true) => "transom",
        };
        out.push(Finding::stop(
            Question::Bones,
            name,
            format!(
                "the lines come together at the {}, so that no {name} is left to close her",
                if at_stern { "stern" } else { "bow" }
            ),
            "move the ends of the lines apart: the sheer's up, the chine's and keel's down",
        ));
    }
}

fn frame(model: &Model, f: &Frame, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let place = |piece: &str| format!("frame {}, {piece}", f.station);
    let id = model.woodwork.frame_id(f.station);
    let on = |outline: &[P2]| f.section.across.space(centroid(outline));
    for p in &f.pieces {
        if !p.wide_enough {
            out.push(Finding::watch(
                Question::Bones,
                place(&p.name),
                format!("it needs a board {} wide; none of yours is", units.show(p.board_width)),
                "glue two edge to edge, add a width to the boards that you can get, or ask for less depth",
            )
            .about(id)
            .at(on(&p.outline)));
        }
        let area = crate::geom::polyline::area(&p.outline).abs();
        if p.lost > FALLS_APART * area {
            out.push(
                Finding::stop(
                    Question::Bones,
                    place(&p.name),
                    "a notch cuts it right through",
                    "make the piece deeper or the member's moulded depth less",
                )
                .about(id)
                .at(on(&p.outline)),
            );
        } else if p.lost > CRUMB_MM2 {
            out.push(
                Finding::note(
                    Question::Bones,
                    place(&p.name),
                    format!("a notch runs into its joint: {:.0} mm² of it fall off", p.lost),
                    "fill it, or move the frame aft where there is more wood",
                )
                .about(id)
                .at(on(&p.outline)),
            );
        }
        if p.least_left < LEAST_LEFT * p.depth {
            out.push(
                Finding::new(
                    if p.least_left <= 0.0 {
                        crate::finding::Severity::Stop
                    } else {
                        crate::finding::Severity::Watch
                    },
                    Question::Bones,
                    place(&p.name),
                    format!(
                        "a notch leaves {} of its {} of wood",
                        units.show(p.least_left.max(0.0)),
                        units.show(p.depth)
                    ),
                    "make the piece deeper or the member's moulded depth less",
                )
                .about(id)
                .at(on(&p.outline)),
            );
        }
    }
    if f.runs_out() {
        out.push(
            Finding::watch(
                Question::Bones,
                format!("frame {}", f.station),
                "its wood runs out of the boat or into the stem or transom",
                "move the station away from the end by more than the frame is thick",
            )
            .about(id),
        );
    }
    if !f.holds_together() {
        out.push(
            Finding::watch(
                Question::Bones,
                format!("frame {}", f.station),
                if f.pieces.is_empty() {
                    "so near the end there is no wood for it"
                } else {
                    "nothing joins its two sides at the bottom"
                },
                "leave this frame out, or move the station towards the middle",
            )
            .about(id),
        );
    }
    for n in &f.notches {
        if n.wanted_let_down > n.let_down + 0.5 {
            let m = &model.members[n.member].member;
            out.push(Finding::watch(
                Question::Bones,
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
            )
            .about(id)
            .at(n.at));
        }
        let m = &model.members[n.member].member;
        if !m.follows(LineId::Keel) && n.corners.iter().any(|c| c.x < 0.0) {
            out.push(
                Finding::note(
                    Question::Bones,
                    place(&n.name),
                    "there both sides' sticks meet over the centreline",
                    "taper their ends towards the stem, or leave this frame out",
                )
                .about(id)
                .at(n.at),
            );
        }
        let rise = 0.5 * m.sided_mm * f.bottom_slope();
        let bottom = f.section.edges.first().map_or(0.0, |e| e.last().at.x);
        if m.follows(LineId::Keel) && bottom < 0.5 * m.sided_mm {
            out.push(
                Finding::note(
                    Question::Bones,
                    place(&n.name),
                    format!(
                        "the bottom is only {} wide there, the {} {}",
                        units.show(2.0 * bottom),
                        n.name,
                        units.show(m.sided_mm)
                    ),
                    "taper its end to the bottom, and notch that frame to the taper",
                )
                .about(id)
                .at(n.at),
            );
        }
        if m.follows(LineId::Keel) && rise > MOST_PLANED * m.moulded_mm {
            out.push(Finding::watch(
                Question::Bones,
                place(&n.name),
                format!(
                    "the bottom rises {} over half its width, so planing it to the V takes its edges away",
                    units.show(rise)
                ),
                format!(
                    "make it at least {} moulded, or narrower, or end it aft of this frame",
                    units.show((rise / MOST_PLANED).ceil())
                ),
            )
            .about(id)
            .at(n.at));
        }
    }
    for (panel, crown) in &f.crowns {
        let name = &model.panels[*panel].name;
        if f.edges.is_straight(*panel) && *crown < -CROWN_SEEN_MM {
            out.push(
                Finding::watch(
                    Question::Bones,
                    place(name),
                    format!("its straight edge would push the sheet out by {}", units.fine(-crown)),
                    "shape this frame's edge, or plane its middle hollow",
                )
                .about(id)
                .at(along_edge(f, *panel)),
            );
        } else if f.edges.is_straight(*panel) && *crown > CROWN_SEEN_MM {
            out.push(
                Finding::note(
                    Question::Bones,
                    place(name),
                    format!(
                        "its straight edge leaves a gap of {} behind the sheet",
                        units.fine(*crown)
                    ),
                    "bed it in thickened glue or shape the edge",
                )
                .about(id)
                .at(along_edge(f, *panel)),
            );
        }
    }
    if let Some(b) = f.bevels.iter().max_by(|a, b| a.angle.abs().total_cmp(&b.angle.abs()))
        && b.angle.abs() > STEEP_BEVEL
    {
        out.push(
            Finding::watch(
                Question::Bones,
                place(&model.panels[b.panel].name),
                format!("its edge is bevelled by {:.0}°", b.angle.to_degrees().abs()),
                "move the frame away from the end, or leave it out there: the stem does its work",
            )
            .about(id)
            .at(f.section.across.space(b.at)),
        );
    }
}

/// The middle of a panel's edge on a frame.
fn along_edge(f: &Frame, panel: usize) -> Option<P3> {
    let edge = f.section.edges.iter().find(|e| e.panel == panel)?;
    let middle = edge.points.get(edge.points.len() / 2)?;
    Some(f.section.across.space(middle.at))
}

/// Battens that the document asks for and that could not be laid: they are neither drawn nor
/// weighed, and must not vanish without a word.
fn battens_not_laid(model: &Model) -> Option<Finding> {
    let plan = model.hull.framing.battens.as_ref()?;
    if model.members.iter().any(|b| b.path.is_some()) {
        return None;
    }
    let (why, hint) = match model.materials.wood(&plan.species) {
        None => (
            format!("the species {:?} is not in the wood table", plan.species),
            "name a wood of the table, or add a row for it to the document's `woods`",
        ),
        Some(_) => (
            "they find no room between keelson and chine log on two frames or more".into(),
            "fewer or narrower battens further apart, or more stations; a bottom too narrow for them needs none",
        ),
    };
    let message =
        format!("the battens asked for are left out, of the drawings and of the weights: {why}");
    Some(Finding::watch(Question::Bones, "battens", message, hint))
}
