//! The layout cards of transoms and stems.

use super::frame::{board_seat, piece_words};
use super::{Card, CardPart, Check, List};
use crate::drawing::compose::Line;
use crate::drawing::compose::bow::sides_words;
use crate::drawing::compose::ends::motor_words;
use crate::flat::corners::Round;
use crate::flat::ordinates::{Plotted, Seat};
use crate::frames::pieces::to_port;
use crate::frames::{Stem, Transom};
use crate::geom::ring::{from_ring, inside};
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::units::{Units, half_degrees};

/// A stem's front narrower than twice this (mm) is an edge.
const SHARP_MM: f64 = 0.05;
/// A place is on the wood if it lies no further outside than this, mm.
const ON_THE_WOOD_MM: f64 = 1.0;

/// The cards of transom `t` and of the cleats on it: one, or more where it has many.
pub fn transom_cards(model: &Model, t: &Transom, units: Units) -> Vec<Card> {
    let name = if t.at_bow { "bow transom" } else { "transom" };
    let plan = &model.hull.transom;
    let face = if t.outside_larger { "outer" } else { "inner" };
    let mut parts: Vec<CardPart> = plate(model, t, name, units).into_iter().collect();
    for p in &t.framing {
        let Some(plotted) = Plotted::lay(&p.outline, &[], board_seat(p), units) else {
            continue;
        };
        let mut part = CardPart::new(&p.name, plotted);
        part.words.extend(piece_words(p, plan.framing_thickness_mm, units));
        part.words.push("this face lies against the transom".into());
        part.bevelled(model, &t.framing_bevels, p.panel, units);
        part.ways.extend([("up", V2::y()), ("out", V2::x())]);
        part.check_diagonals();
        parts.push(part);
    }
    let card = Card {
        file: name.replace(' ', "-"),
        title: format!("{}: {name}", model.hull.name),
        subtitle: format!(
            "{} thick · seen on its {face} face, the larger · raked {}; measured in its own slope",
            units.fine(plan.thickness_mm),
            half_degrees(t.rake)
        ),
        parts,
        notes: [
            "Strike the centreline, square across it at every figure along, and measure the figure off to both sides.".to_string(),
            super::BEVELS.into(),
        ]
        .into_iter()
        .chain(t.cut_out.iter().flat_map(|c| motor_words(model, c, units)))
        .collect(),
    };
    card.on_pages()
}

fn plate(model: &Model, t: &Transom, name: &str, units: Units) -> Option<CardPart> {
    let low = t.outline.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let rounds: Vec<Round> = t
        .cut_out
        .iter()
        .filter(|c| c.depth > 0.0)
        .flat_map(|c| {
            let radius = c.corner_radius();
            let (x, y) = (0.5 * c.width - radius, c.seat + radius);
            [x, -x].map(|x| Round { centre: P2::new(x, y), radius })
        })
        .collect();
    let seat = Seat::Middle { from: P2::new(0.0, low), along: V2::y() };
    let plotted = Plotted::lay(&t.outline, &rounds, seat, units)?;
    let mut part = CardPart::new(name, plotted);
    part.upright = true;
    part.words.push("cut one".into());
    for e in &t.section.edges {
        part.bevelled(model, &t.bevels, e.panel, units);
    }
    for p in &t.framing {
        let ring = |r: &[P2]| r.iter().chain(r.first()).copied().collect::<Vec<_>>();
        part.lines.push((Line::Plate, ring(&p.outline)));
        if !p.whole {
            part.lines.push((Line::Plate, ring(&to_port(&p.outline))));
        }
    }
    for l in &t.landings {
        let ring = |r: &[P2]| r.iter().chain(r.first()).copied().collect::<Vec<_>>();
        part.lines.push((Line::Member, ring(&l.corners)));
        part.lines.push((Line::Member, ring(&to_port(&l.corners))));
    }
    part.ways.push(("up", V2::y()));
    // Across, from a corner on one side to its twin on the other.
    for (c, letter) in part.plotted.corners.iter().zip(&part.letters) {
        if c.exact.y > 1.0 {
            let name = format!("{letter} across to its twin");
            part.checks.push(Check { name, length: 2.0 * c.exact.y });
        }
    }
    part.check_curved_edges();
    Some(part)
}

/// The card of a stem's blank; `None` for one without area.
pub fn stem_card(model: &Model, s: &Stem, units: Units) -> Option<Card> {
    let name = if s.at_stern { "sternpost" } else { "stem" };
    let plan = &model.hull.stem;
    let chord = *s.profile.last()? - *s.profile.first()?;
    // The board's edge lies along its after side, the front away from it.
    let along = if s.at_stern { -chord } else { chord };
    let plotted = Plotted::lay(&s.outline, &[], Seat::Beside { along }, units)?;
    let mut part = CardPart::new(name, plotted);
    part.words.push("cut one".into());
    part.words.push(format!(
        "board {}, {} long",
        units.section(plan.sided_mm, s.board_width),
        units.show(s.board_length)
    ));
    if s.parts > 1 {
        part.words.push(format!("of two parts lapped {}", units.show(s.lap)));
    }
    part.lines.push((Line::Finished, s.profile.clone()));
    // The skin may end past the wood's own corners.
    let on_wood = |p: P2| inside(&s.outline, p) || from_ring(p, &s.outline) < ON_THE_WOOD_MM;
    let rows = s
        .bevels
        .iter()
        .filter(|b| on_wood(b.at))
        .map(|b| (half_degrees(b.half_angle), part.plotted.mark(b.at, units)))
        .collect();
    part.lists.push(List { head: "half angle".into(), rows });
    let aft = if s.at_stern { -1.0 } else { 1.0 };
    part.ways.extend([("up", V2::y()), ("into the boat", V2::new(aft, 0.0))]);
    part.check_diagonals();
    part.check_curved_edges();
    Some(Card {
        file: name.into(),
        title: format!("{}: {name}", model.hull.name),
        subtitle: format!(
            "sided {}, moulded {}",
            units.show(plan.sided_mm),
            units.show(plan.moulded_mm)
        ),
        parts: vec![part],
        notes: vec![
            format!(
                "Square up from the base line at every figure along, measure the figure off, set nails and spring a thin batten through those of one edge from corner to corner. The blank is {} too long at its head.",
                units.show(plan.over_mm)
            ),
            format!(
                "Plane both sides {}, by the half angle at each place: between the skin's inside and the centreplane.",
                if s.half_siding > SHARP_MM {
                    format!("to a front {} wide", units.fine(2.0 * s.half_siding))
                } else if s.outer.is_some() {
                    "to an edge, which the flat for the outer stem takes off once the sides are on"
                        .into()
                } else {
                    "to a sharp front".into()
                }
            ),
            sides_words(model, s, units),
        ],
    })
}
