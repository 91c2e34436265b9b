//! The motor's pad, full size: the board inside the transom that its clamps hold.

use super::Line;
use super::{LARGE, SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::frames::transom::CutOut;
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::units::Units;

/// Half of the arrow that shows the grain, mm.
const GRAIN: f64 = 50.0;

/// The pattern of the pad under the seat `c`, lengths written in `units`; `layers_of` says what it
/// is laminated of, where it is.
pub fn pad_pattern(model: &Model, c: &CutOut, layers_of: Option<String>, units: Units) -> Drawing {
    pad_for(model, c, layers_of, units, 1.0)
}

/// The same with words and what stands about it `k` times as large, to be drawn `k` times as
/// small.
pub(super) fn pad_for(
    model: &Model,
    c: &CutOut,
    layers_of: Option<String>,
    units: Units,
    k: f64,
) -> Drawing {
    let mut d = Drawing::new(
        format!("{}: motor's pad", model.hull.name),
        format!("{} thick · seen from ahead or astern", units.fine(c.pad_thickness)),
        layers(),
    );
    let [left_top, left_foot, foot, right_foot, right_top] = c.pad(model.hull.motor.pad_width_mm);
    let ring = [left_top, left_foot, foot, right_foot, right_top];
    d.polyline(Line::Cut, ring.to_vec(), true);
    d.line(Line::Level, foot - V2::new(0.0, 12.0 * k), P2::new(0.0, c.seat + 12.0 * k));
    let size = 0.8 * k * SMALL;
    let top = units.show(right_top.x - left_top.x);
    d.dimension(Line::Dimension, (left_top, right_top), 22.0 * k, size, top);
    let side = units.show(right_top.y - right_foot.y);
    d.dimension(Line::Dimension, (right_foot, right_top), -22.0 * k, size, side);
    if right_foot.y - foot.y > 0.5 {
        let (from, to) = (foot, P2::new(0.0, c.seat));
        let deep = format!("in the middle {}", units.show(c.seat - foot.y));
        d.dimension(Line::Dimension, (from, to), 0.25 * left_top.x.abs(), size, deep);
    }
    let deep = c.seat - right_foot.y;
    let at = P2::new(left_top.x + 14.0 * k, c.seat - 0.35 * deep);
    d.text(Line::Text, at, k * SMALL, 0.0, Anchor::Left, "pad");
    d.text(Line::Text, P2::new(4.0 * k, c.seat - 12.0 * k), size, 0.0, Anchor::Left, "centreline");
    // Its grain runs across the boat, as the transom's board has it.
    let middle = P2::new(0.5 * right_top.x, c.seat - 0.7 * deep);
    let half = GRAIN.min(0.35 * right_top.x) * V2::x();
    d.arrow(Line::Check, middle, middle + half, 10.0 * k);
    d.arrow(Line::Check, middle, middle - half, 10.0 * k);
    let words = middle + V2::new(0.0, 3.0 * k);
    d.text(Line::Text, words, size, 0.0, Anchor::Middle, "grain");
    let up = P2::new(left_top.x + 20.0 * k, c.seat - 0.85 * deep);
    d.arrow(Line::Check, up, up + V2::new(0.0, (0.4 * deep).min(50.0)), 12.0 * k);
    d.text(Line::Text, up + V2::new(4.0 * k, 2.0 * k), size, 0.0, Anchor::Left, "up");
    let over = P2::new(left_top.x, c.seat + 22.0 * k + 2.5 * k * SMALL);
    let title = format!("{} · motor's pad", model.hull.name);
    d.text(Line::Text, over, k * LARGE, 0.0, Anchor::Left, title);
    let made = layers_of.map_or(String::new(), |of| format!(", laminated of {of}"));
    d.note(format!(
        "Cut one, {} thick{made}. It is glued over the whole of its face to the transom's inner face, its upper edge at the seat, its middle on the centreline.",
        units.fine(c.pad_thickness)
    ));
    if right_foot.y - foot.y > 0.5 {
        d.note("Its lower edge stands on the bottom's cleats: plane it to them.");
    }
    d.note(format!(
        "Tape corner to corner {} both ways.",
        units.show((right_top - left_foot).norm())
    ));
    for sentence in super::ends::motor_words(model, c, units) {
        d.note(sentence);
    }
    super::explain(&mut d, units);
    d.settle_words();
    d
}
