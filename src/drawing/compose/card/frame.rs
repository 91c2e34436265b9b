//! The layout cards of a frame: its boards, and its gussets with them where there is room.

use super::{Card, CardPart, List, MOST_PARTS};
use crate::drawing::compose::Line;
use crate::drawing::compose::frame::notch_words;
use crate::flat::corners::{Round, runs};
use crate::flat::ordinates::{Plotted, Seat};
use crate::frames::pieces::to_port;
use crate::frames::{BevelAt, Frame, Gusset, Limber, Piece};
use crate::geom::ring::{from_ring, inside, level_span};
use crate::geom::segment::from_segment;
use crate::geom::{P2, V2};
use crate::hull::Face;
use crate::model::Model;
use crate::units::Units;
use crate::words::bevels;

/// A gusset's edge is sawn first if it is straight to this, mm.
const SAWN_STRAIGHT_MM: f64 = 0.3;

/// The cards of frame `f`.
pub fn frame_cards(model: &Model, f: &Frame, units: Units) -> Vec<Card> {
    let framing = &model.hull.framing;
    let boards: Vec<CardPart> = f.pieces.iter().filter_map(|p| board(model, f, p, units)).collect();
    // One that is the same on both faces is plotted once.
    let plates: Vec<CardPart> = f
        .gussets
        .iter()
        .enumerate()
        .filter(|(i, g)| !f.gussets[..*i].iter().any(|other| other.is_alike(g)))
        .filter_map(|(i, g)| {
            let other = f.gussets[i + 1..].iter().find(|other| other.is_alike(g));
            plate(f, g, other, units)
        })
        .collect();
    let card = |file: String, what: &str, parts: Vec<CardPart>| Card {
        file,
        title: format!("{}: frame {}{what}", model.hull.name, f.station),
        subtitle: format!(
            "{} aft · seen on its {} face, the larger · boards {} thick, gussets {}",
            units.show(f.x),
            f.face.word(),
            units.fine(framing.sided_mm),
            units.fine(framing.gusset_mm)
        ),
        parts,
        notes: notes(f),
    };
    let file = format!("frame-{}", f.station);
    if boards.len() + plates.len() <= MOST_PARTS {
        let mut parts = boards;
        parts.extend(plates);
        return card(file, "", parts).on_pages();
    }
    let mut out = card(file.clone(), ", boards", boards).on_pages();
    out.extend(card(format!("{file}-gussets"), ", gussets", plates).on_pages());
    out
}

fn notes(f: &Frame) -> Vec<String> {
    let mut out = vec![
        "Square up from the base line at every figure along, measure the figure off, and set a nail there; straight edges join their corners, curved ones take a thin batten from corner to corner.".to_string(),
        super::BEVELS.to_string(),
    ];
    if f.face == Face::Fore {
        out.push(
            "This frame is seen from ahead: parts as drawn go to port, turned over to starboard."
                .into(),
        );
    }
    out
}

impl CardPart {
    /// The bevel of the edge on `panel`, in words and for its small section.
    pub(super) fn bevelled(&mut self, model: &Model, all: &[BevelAt], panel: usize, units: Units) {
        let on: Vec<(f64, f64)> =
            all.iter().filter(|b| b.panel == panel).map(|b| (b.angle, b.offset)).collect();
        let Some(p) = model.panels.get(panel).filter(|_| !on.is_empty()) else {
            return;
        };
        let said: Vec<String> = bevels::along(&on, units).into_iter().map(|w| w.1).collect();
        self.words.push(format!("edge under the {}: bevel {}", p.name, said.join(" and ")));
        self.bevels.push((format!("under the {}", p.name), on));
    }
}

/// Where a board's own straight edge is, and the way along it with the board to its left.
pub(super) fn board_seat(p: &Piece) -> Seat {
    if p.whole {
        Seat::EdgeFromMiddle { from: P2::new(0.0, p.inner.y), along: -V2::x() }
    } else {
        Seat::Edge { from: p.inner, along: -p.along }
    }
}

/// The rims of limbers on both sides: one of two bits has two.
fn bored(limbers: &[Limber]) -> Vec<Round> {
    let mut out: Vec<Round> = Vec::new();
    for l in limbers {
        for at in [l.centre, l.far] {
            for x in [at.x, -at.x] {
                let round = Round { centre: P2::new(x, at.y), radius: l.radius };
                if !out.contains(&round) {
                    out.push(round);
                }
            }
        }
    }
    out
}

fn board(model: &Model, f: &Frame, p: &Piece, units: Units) -> Option<CardPart> {
    let own_limbers = if p.face_at > 0.0 { &[][..] } else { &f.limbers[..] };
    let rounds = bored(own_limbers);
    let plotted = Plotted::lay(&p.outline, &rounds, board_seat(p), units)?;
    let mut part = CardPart::new(&p.name, plotted);
    part.words.extend(piece_words(p, model.hull.framing.sided_mm, units));
    let (_, _, bevels, notches, clear) = f.layer_of(p);
    part.bevelled(model, bevels, p.panel, units);
    for n in notches {
        let touched =
            |r: &[P2]| r.iter().any(|q| inside(&p.outline, *q) || from_ring(*q, &p.outline) < 1.0);
        if touched(&n.corners) {
            part.words.push(notch_words(model, n, units));
            part.lines.push((Line::Member, closed(&n.corners)));
            if p.whole && n.at.y > 0.0 {
                part.lines.push((Line::Member, closed(&to_port(&n.corners))));
            }
        }
    }
    for ring in clear {
        let within = crate::geom::region::Region::of(&p.outline)
            .and(&crate::geom::region::Region::of(ring))
            .largest();
        if within.len() > 2 {
            part.lines.push((Line::Clear, closed(&within)));
        }
    }
    if !clear.is_empty() {
        part.words.push("no fastening inside the dotted lines: it is cut or planed away".into());
    }
    if let Some(s) = f.spall {
        level(&mut part, &p.outline, s.level, units);
    }
    part.crosses.extend(f.lap_fastenings.iter().filter(|q| inside(&p.outline, **q)));
    part.ways.extend([("up", V2::y()), ("out", V2::x())]);
    part.check_diagonals();
    part.check_curved_edges();
    Some(part)
}

/// How many of a piece are cut, and of what board.
pub(super) fn piece_words(p: &Piece, thickness: f64, units: Units) -> [String; 2] {
    let count =
        if p.whole { "cut one, across both sides" } else { "cut two, one of them turned over" };
    let section = units.section(thickness, p.board_width);
    [count.into(), format!("board {section}, {} long", units.show(p.board_length))]
}

/// The level line where it crosses a board, by its two ends.
fn level(part: &mut CardPart, outline: &[P2], level: f64, units: Units) {
    if let Some([a, b]) = level_span(outline, level).filter(|[a, b]| (b - a).norm() > 5.0) {
        let rows = vec![
            ("in".to_string(), part.plotted.mark(a, units)),
            ("out".to_string(), part.plotted.mark(b, units)),
        ];
        part.lists.push(List { head: "level line".into(), rows });
        part.lines.push((Line::Level, vec![a, b]));
    }
}

fn closed(ring: &[P2]) -> Vec<P2> {
    ring.iter().chain(ring.first()).copied().collect()
}

/// The longest straight edge that the whole plate lies on one side of.
fn sawn_edge(outline: &[P2]) -> Option<Seat> {
    runs(outline, &[])
        .iter()
        .filter_map(|run| {
            let a = outline[*run.points.first()?];
            let b = outline[*run.points.last()?];
            let e = (b - a).try_normalize(1e-9)?;
            let straight =
                run.points.iter().all(|i| from_segment(outline[*i], a, b) < SAWN_STRAIGHT_MM);
            let all_left = outline.iter().all(|p| e.perp(&(p - a)) > -SAWN_STRAIGHT_MM);
            (straight && all_left).then_some(((b - a).norm(), Seat::Edge { from: a, along: e }))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, seat)| seat)
}

/// A gusset, with the fastenings of the `other` where one like it lies on the far face.
fn plate(f: &Frame, g: &Gusset, other: Option<&Gusset>, units: Units) -> Option<CardPart> {
    let both = other.is_some();
    let low = g.outline.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let seat = if g.whole {
        Seat::Middle { from: P2::new(0.0, low), along: V2::y() }
    } else {
        sawn_edge(&g.outline).unwrap_or(Seat::Beside { along: V2::x() })
    };
    let rounds = bored(&f.limbers);
    let plotted = Plotted::lay(&g.outline, &rounds, seat, units)?;
    let face = match (both, g.on_face) {
        (true, _) => "one on either face",
        (false, true) => "on this face",
        (false, false) => "on the far face",
    };
    let mut part = CardPart::new(format!("gusset at the {}, {face}", g.place()), plotted);
    part.upright = g.whole;
    part.words.push(match (g.whole, both) {
        (true, false) => "cut one".into(),
        (true, true) => "cut two".into(),
        (false, false) => "cut two, one of them turned over".into(),
        (false, true) => "cut four, two of them turned over".into(),
    });
    part.words.push(match other {
        None => format!(
            "{} fastenings at the crosses, glued; keep them clear of its edges",
            g.fastenings.len()
        ),
        Some(o) => format!(
            "{} fastenings at the crosses on this face, {} at the rings on the far one, so that \
             they do not meet in the board; glued; keep them clear of its edges",
            g.fastenings.len(),
            o.fastenings.len()
        ),
    });
    part.crosses.clone_from(&g.fastenings);
    part.rings = other.map_or_else(Vec::new, |o| o.fastenings.clone());
    let seen = |q: &&P2| !g.whole || q.x <= 0.0;
    for (head, letter, places) in
        [("fastenings", "f", &part.crosses), ("on the far face", "g", &part.rings)]
    {
        let named = places.iter().filter(seen).enumerate();
        let rows: Vec<_> = named
            .map(|(i, q)| (format!("{letter}{}", i + 1), part.plotted.mark(*q, units)))
            .collect();
        if !rows.is_empty() {
            part.lists.push(List { head: head.into(), rows });
        }
    }
    if g.whole {
        let high = g.outline.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
        part.lines.push((Line::Plate, vec![P2::new(0.0, low), P2::new(0.0, high)]));
    }
    part.ways.extend([("up", V2::y()), ("out", V2::x())]);
    if !g.whole {
        part.check_diagonals();
    }
    Some(part)
}
