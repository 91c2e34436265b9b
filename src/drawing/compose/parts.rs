//! The parts of a frame or a transom one by one, each along its board, ready to be cut: laid
//! on shelves, the long ones first, short ones in the room that is left beside them.

use super::layers;
use super::part::{Marks, Part, draw};
use crate::drawing::Drawing;
use crate::frames::{Frame, Piece, Transom};
use crate::geom::{P2, V2};
use crate::hull::Face;
use crate::model::Model;
use crate::units::Units;
use crate::words::bevels::CONVENTION;

/// How the parts of a sheet are drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laying {
    /// What runs across both sides is drawn as a half, if long.
    pub halved: bool,
    /// Length of a shelf, mm; a longer part has one of its own.
    pub shelf: f64,
    /// Room between two parts, mm.
    pub between: f64,
}

impl Laying {
    /// Whole parts under each other and beside each other, as on a bench.
    pub const WHOLE: Laying = Laying { halved: false, shelf: 1200.0, between: 10.0 };
}

/// Which of a pair is drawn: looking at a fore face starboard is at the left.
fn which(face: Face) -> &'static str {
    match face {
        Face::Aft => "as drawn to starboard, turned over to port",
        Face::Fore => "as drawn to port, turned over to starboard",
    }
}

/// Lays parts on shelves under each other, the longest first; a shorter one goes on the first
/// shelf with room for it.
fn on_shelves(d: &mut Drawing, mut parts: Vec<Part>, laying: Laying) {
    let Laying { shelf: length, between, .. } = laying;
    parts.sort_by(|a, b| b.size().x.total_cmp(&a.size().x));
    // (filled length, height, parts with where they begin)
    let mut shelves: Vec<(f64, f64, Vec<(f64, Part)>)> = Vec::new();
    for part in parts {
        let size = part.size();
        let fits = |s: &&mut (f64, f64, Vec<(f64, Part)>)| s.0 + between + size.x <= length;
        // Beside parts as high as itself, if it can.
        let spare = |s: &&mut (f64, f64, Vec<(f64, Part)>)| (size.y - s.1).max(0.0);
        let shelf = shelves.iter_mut().filter(fits).min_by(|a, b| spare(a).total_cmp(&spare(b)));
        match shelf {
            Some(s) => {
                s.2.push((s.0 + between, part));
                s.0 += between + size.x;
                s.1 = s.1.max(size.y);
            }
            None => shelves.push((size.x, size.y, vec![(0.0, part)])),
        }
    }
    let mut y = 0.0;
    for (_, height, parts) in shelves {
        y -= height;
        for (x, part) in parts {
            part.put(d, P2::new(x, y));
        }
        y -= between;
    }
}

/// Every part of frame `f`, whole, lengths written in `units`.
pub fn frame_parts(model: &Model, f: &Frame, units: Units) -> Drawing {
    frame_parts_laid(model, f, units, Laying::WHOLE)
}

/// Every part of frame `f`, laid as wished.
pub fn frame_parts_laid(model: &Model, f: &Frame, units: Units, laying: Laying) -> Drawing {
    let title = format!("{}: frame {}, parts", model.hull.name, f.station);
    let framing = &model.hull.framing;
    let subtitle = format!(
        "pattern of the {} face · board {} thick",
        f.face.word(),
        units.fine(framing.sided_mm)
    );
    let mut d = Drawing::new(title, subtitle, layers());
    let mut parts = Vec::new();
    d.note(format!("Drawn is the {} face. Cut on the heavy line.", f.face.word()));
    d.note(CONVENTION);
    // The frame's own sheet tells of every notch; here of those that are not at their line.
    for n in f.notches.iter().filter(|n| n.let_down >= super::frame::LEAST_LET_DOWN_MM) {
        d.note(super::frame::notch_words(model, n, units));
    }
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
            ..Marks::default()
        };
        let pair = if p.whole {
            "one, across both sides".into()
        } else {
            format!("two: {}", which(f.face))
        };
        d.note(format!(
            "{}: {pair}. Board {} x {}; {}.",
            p.name,
            units.show(p.board_width),
            units.show(p.board_length),
            tape_words(&p.outline, p.along, units),
        ));
        let name = format!("{} · {}", f.station, p.name);
        parts.extend(draw(&p.outline, p.along, &marks, name, laying.halved, units));
    }
    for (i, g) in f.gussets.iter().enumerate() {
        // One that is the same on both faces is drawn once.
        if f.gussets[..i].iter().any(|other| other.is_alike(g)) {
            continue;
        }
        let other = f.gussets[i + 1..].iter().find(|other| other.is_alike(g));
        let both = other.is_some();
        let marks = Marks {
            centre: g.whole,
            fastenings: &g.fastenings,
            far_fastenings: other.map_or(&[], |o| &o.fastenings),
            limbers: &f.limbers,
            ..Marks::default()
        };
        let (face, side) = match (both, g.on_face) {
            (true, _) => ("on either face", "both faces"),
            (false, true) => ("on the pattern's face", "face"),
            (false, false) => ("on the far face", "far"),
        };
        let count = match (both, g.whole) {
            (true, true) => "two",
            (true, false) => "four",
            (false, true) => "one",
            (false, false) => "two",
        };
        let pair = if g.whole { String::new() } else { format!(", {}", which(f.face)) };
        let places = match both {
            true => {
                "at the crosses on the pattern's face, at the rings on the far one: so the screws do not meet in the board"
            }
            false => "at the crosses",
        };
        d.note(format!(
            "Gusset at the {} {face}: {count}{pair}. Plywood {}; {}. Glue, and fasten {places}.",
            g.place(),
            units.fine(framing.gusset_mm),
            tape_words(&g.outline, V2::x(), units),
        ));
        let name = format!("{} · gusset {}, {side}", f.station, g.place());
        parts.extend(draw(&g.outline, V2::x(), &marks, name, laying.halved, units));
    }
    super::explain(&mut d, units);
    on_shelves(&mut d, parts, laying);
    d
}

/// The cleats inside a transom, one by one, whole.
pub fn transom_parts(model: &Model, t: &Transom, units: Units) -> Drawing {
    transom_parts_laid(model, t, units, Laying::WHOLE)
}

/// The cleats inside a transom, laid as wished.
pub fn transom_parts_laid(model: &Model, t: &Transom, units: Units, laying: Laying) -> Drawing {
    let name = if t.at_bow { "bow transom" } else { "transom" };
    let plan = &model.hull.transom;
    let mut d = Drawing::new(
        format!("{}: {name}, framing", model.hull.name),
        format!("cleats {} thick, on the inner face", units.fine(plan.framing_thickness_mm)),
        layers(),
    );
    d.note("The face drawn lies against the transom.");
    d.note(CONVENTION);
    let mut parts = Vec::new();
    for p in &t.framing {
        let marks = Marks {
            notches: &t.landings,
            bevels: &t.framing_bevels,
            far: Some(&t.framing_far),
            centre: p.whole,
            panel: p.panel,
            edge: &model.panels[p.panel].name,
            ..Marks::default()
        };
        d.note(cleat_words(p, units));
        let name = format!("{name} · {}", p.name);
        parts.extend(draw(&p.outline, p.along, &marks, name, laying.halved, units));
    }
    super::explain(&mut d, units);
    on_shelves(&mut d, parts, laying);
    d
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

fn cleat_words(p: &Piece, units: Units) -> String {
    let pair = if p.whole { "one" } else { "two, one of them turned over" };
    format!(
        "{}: {pair}. Board {} x {}; {}.",
        p.name,
        units.show(p.board_width),
        units.show(p.board_length),
        tape_words(&p.outline, p.along, units)
    )
}
