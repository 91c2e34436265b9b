//! The trade's words, with a picture that names the pieces.

use super::Of;
use super::pictures::{self, Seen, eye};
use crate::drawing::picture::{Stance, labelled, picture};
use crate::geom::P3;
use crate::part::PartId;
use crate::typeset::{Block, Figure, Table, Text};
use crate::words::trade::WORDS;

/// Height of the picture's names, over the length of the boat.
const NAMES: f64 = 0.0115;

/// The chapter.
pub(super) fn glossary(of: &Of) -> Vec<Block> {
    let mut out = vec![Block::heading(1, "Words of the trade")];
    out.extend(named(of).map(Block::Figure));
    let mut words = WORDS.to_vec();
    words.sort_by_key(|w| w.0.to_lowercase());
    let mut t = Table::of(&["word", "meaning"]);
    for (word, meaning) in words {
        t.row([Text::bold(word), meaning.into()]);
    }
    out.push(Block::Table(t));
    out
}

/// Her bones with the name of each kind of piece once.
fn named(of: &Of) -> Option<Figure> {
    let model = of.model;
    let drawing = picture(model, &pictures::pieces(of, Seen::Framed), Stance::Upright, &eye());
    drawing.bounds()?;
    let mut names: Vec<(P3, String)> = Vec::new();
    for part in model.parts.all() {
        let at = part.centre;
        let named = match part.id {
            PartId::Frame(_) => "frame",
            PartId::Member(_) | PartId::Transom(_) | PartId::Stem(_) => part.name.as_str(),
            _ => continue,
        };
        if !names.iter().any(|n| n.1 == named) {
            names.push((place(of, part.id).unwrap_or(at), named.to_string()));
        }
    }
    let height = NAMES * model.lines.length_overall();
    Some(Figure {
        drawing: labelled(drawing, &eye(), &names, height),
        height: 95.0,
        caption: "What the pieces are called".into(),
        seen: "Picture: the hull without her skin, the kinds of pieces named.".into(),
    })
}

/// Where a name's line ends: a stick's middle on its own side.
fn place(of: &Of, id: PartId) -> Option<P3> {
    match id {
        PartId::Member(m) => {
            let along = &of.model.members.get(m.0)?.along;
            // Each kind a little further along, so that lines do not lie on each other.
            let share = 0.35 + 0.08 * m.0 as f64;
            along.get((share.min(0.9) * along.len() as f64) as usize).map(|a| a.point)
        }
        _ => None,
    }
}
