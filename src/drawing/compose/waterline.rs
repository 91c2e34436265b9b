//! The waterline on panels, frames, transoms and stems: for paint, and to see where she floats.

use super::Line;
use super::SMALL;
use crate::drawing::{Anchor, Drawing};
use crate::flat::marks;
use crate::frames::Across;
use crate::geom::plane::Plane;
use crate::geom::ring::{across_line, level_span, span};
use crate::geom::{P2, V2};
use crate::model::{Model, PanelModel};

/// A line across a part that is shorter (mm) is not drawn.
const LEAST_DRAWN: f64 = 1.0;

/// A plane to mark.
pub(super) struct Marked {
    pub words: String,
    pub layer: Line,
    plane: Plane,
}

/// The planes to mark: the water, the boot-top's upper edge.
fn planes(model: &Model) -> Vec<Marked> {
    let Some(marked) = model.afloat.as_deref().and_then(|a| a.marked.as_ref()) else {
        return Vec::new();
    };
    let words = format!("waterline, {}", model.hull.afloat.waterline.with.word());
    let water = Marked { words, layer: Line::Waterline, plane: marked.water.plane };
    let top = marked.boot_top.map(|plane| Marked {
        words: "boot-top".to_string(),
        layer: Line::BootTop,
        plane,
    });
    std::iter::once(water).chain(top).collect()
}

/// On a panel, both halves of one that lies over both sides; named once, at its after end.
pub(super) fn on_panel(d: &mut Drawing, model: &Model, p: &PanelModel) {
    for m in planes(model) {
        let all = marks::on_outside(&p.flat, &p.surface, m.plane, p.thickness);
        let length = |mark: &[P2]| mark.windows(2).map(|w| (w[1] - w[0]).norm()).sum::<f64>();
        let longest = all.iter().max_by(|a, b| length(a).total_cmp(&length(b))).cloned();
        if let Some(mark) = longest {
            super::end_label(d, &mark, SMALL, m.words.clone());
        }
        for mark in all {
            if p.full_width {
                d.polyline(m.layer, mark.iter().map(|q| P2::new(q.x, -q.y)).collect(), false);
            }
            d.polyline(m.layer, mark, false);
        }
    }
}

/// Heights up a plane across the boat at which the marked planes cross it; level across, as
/// she floats upright.
pub(super) fn heights(model: &Model, across: &Across) -> Vec<(Marked, f64)> {
    planes(model)
        .into_iter()
        .filter_map(|m| {
            let rise = m.plane.normal.dot(&across.up);
            let from = m.plane.distance(across.origin);
            (rise.abs() > 1e-9).then(|| (m, -from / rise))
        })
        .collect()
}

/// Lines right across a closed outline (both sides of it) at the marked heights, the words `s`
/// times as large as on a pattern.
pub(super) fn across(d: &mut Drawing, model: &Model, plane: &Across, outline: &[P2], s: f64) {
    for (m, height) in heights(model, plane) {
        let Some([a, b]) = chord(outline, height) else {
            continue;
        };
        d.line(m.layer, a, b);
        // To starboard of the middle, where a half is drawn; the boot-top's words stand over
        // its line and the waterline's under, so that neither is taken for the other's.
        let figure = 0.7 * s * SMALL;
        let up = if m.layer == Line::BootTop { 2.0 * s } else { -2.0 * s - figure };
        let at = P2::new(0.5 * (a.x + b.x) + 6.0 * s, height + up);
        d.text(Line::Text, at, 0.7 * s * SMALL, 0.0, Anchor::Left, m.words.clone());
    }
}

/// The outermost places at which an outline stands at a height; `None` where there is too little
/// between them to draw.
pub(super) fn chord(outline: &[P2], height: f64) -> Option<[P2; 2]> {
    level_span(outline, height).filter(|[a, b]| b.x - a.x > LEAST_DRAWN)
}

/// On a stem, whose pattern lies in the centreplane (aft, up).
pub(super) fn on_stem(d: &mut Drawing, model: &Model, outline: &[P2]) {
    for Marked { words, layer, plane } in planes(model) {
        // Height over x in the centreplane.
        let height = |x: f64| (plane.offset - plane.normal.x * x) / plane.normal.z;
        if let Some([a, b]) = span(across_line(outline, |p| p.y - height(p.x)))
            && (b - a).norm() > LEAST_DRAWN
        {
            d.line(layer, a, b);
            let at = b + V2::new(3.0, 1.0);
            d.text(Line::Text, at, 0.6 * SMALL, 0.0, Anchor::Left, words);
        }
    }
}
