//! Pictures of the boat and of what is built, lines only: what lies behind is left out.

mod hidden;
mod label;

pub use hidden::{Eye, visible};
pub use label::labelled;

use crate::drawing::Drawing;
use crate::drawing::compose::{Line, layers};
use crate::geom::{P3, V3};
use crate::model::Model;
use crate::part::PartId;
use crate::solid::{Corner, Solid, built};

/// How pieces stand in a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stance {
    /// As she floats.
    #[default]
    Upright,
    /// Upside down on her jig, which stands on the floor.
    OnJig,
}

/// Pieces of a picture, each with the line that its edges are drawn with.
pub type Shown = Vec<(PartId, Line)>;

/// A picture of these pieces, mm of the boat itself on the page; its layers are those of all
/// drawings, so that it is reduced, not drawn, to a scale. Empty where none of them is a solid.
pub fn picture(model: &Model, shown: &Shown, stance: Stance, eye: &Eye) -> Drawing {
    let datum = model.woodwork.strongback.as_ref().map_or(0.0, |jig| jig.above_floor(0.0));
    let placed = |id: PartId, solid: Solid| match (stance, id.of_jig() && !is_spall(id)) {
        (Stance::OnJig, false) => turned(solid, datum),
        _ => solid,
    };
    let all: Vec<(Line, Solid)> = shown
        .iter()
        .filter_map(|(id, line)| Some((*line, placed(*id, built(model, *id)?))))
        .collect();
    let solids: Vec<&Solid> = all.iter().map(|s| &s.1).collect();
    let mut out = Drawing::new(model.hull.name.clone(), String::new(), layers());
    for ((line, _), seen) in all.iter().zip(visible(&solids, eye)) {
        for [a, b] in seen {
            out.line(*line, a, b);
        }
    }
    out
}

/// Spalls are of the jig but stand with their frames.
fn is_spall(id: PartId) -> bool {
    matches!(id, PartId::Spall(_))
}

/// A piece of the hull turned over about her length and lifted to where it stands on the jig.
fn turned(solid: Solid, datum: f64) -> Solid {
    let corner = |c: Corner| Corner {
        p: P3::new(c.p.x, -c.p.y, datum - c.p.z),
        n: V3::new(c.n.x, -c.n.y, -c.n.z),
        uv: c.uv,
    };
    Solid { corners: solid.corners.into_iter().map(corner).collect(), ..solid }
}
