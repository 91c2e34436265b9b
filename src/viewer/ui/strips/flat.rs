//! The patterns, flat, in the strip.

use bevy_egui::egui::{Align2, FontId, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, vec2};

use crate::drawing::Drawing;
use crate::flat::FlatPanel;
use crate::geom::P2;
use crate::geom::polyline::bounds;
use crate::geom::segment::from_segment;
use crate::viewer::drawings_on_show::Laid;
use crate::viewer::paint2d::{Ink, Inks, Placement, leaves_words_out, paint};
use crate::viewer::state::{PartId, Trace};
use crate::viewer::theme::{Theme, size};
use crate::viewer::ui::context::Context;

/// A drawing smaller than this (mm) is one for paper, with its words.
const PAPER_MM: f64 = 420.0;
/// Room for the words at the foot, points.
const FOOT: f32 = 18.0;
/// Room between patterns and round them, points.
const MARGIN: f32 = 14.0;

/// Shows all patterns at one scale, or one large.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click());
    let painter = ui.painter_at(rect);
    let Some(model) = context.model else {
        return;
    };
    let patterns = context.patterns;
    let chosen: Vec<usize> = match context.state.selection.panel.filter(|i| *i < patterns.len()) {
        Some(i) => vec![i],
        None => (0..patterns.len()).collect(),
    };
    let small =
        |p: &(usize, P2, P2, Placement)| leaves_words_out(&patterns[p.0].drawing, p.3.scale);
    let whole = placed(&chosen, patterns, rect);
    let small = whole.iter().any(small);
    let placed = if small { placed(&chosen, patterns, above_the_foot(rect)) } else { whole };
    for (i, low, high, at) in placed {
        let Some(panel) = model.panels.get(i) else {
            continue;
        };
        let traced = trace(context, i, &panel.flat, at);
        paint(&painter, &patterns[i].drawing, at, inks(context, patterns[i].piece), traced);
        painter.text(
            at.place(P2::new(low.x, high.y)),
            Align2::LEFT_BOTTOM,
            &panel.name,
            FontId::proportional(size::SMALL),
            context.tokens.soft,
        );
        let Some(p) = response.hover_pos() else {
            continue;
        };
        let q = at.point(p);
        if q.x >= low.x && q.x <= high.x && q.y >= low.y && q.y <= high.y {
            context.state.point_at(PartId::panel(i));
            if let Some(ruling) = ruling_at(&panel.flat, q, panel.full_width) {
                context.state.point_at_ruling(Trace { panel: i, ruling });
            }
            if response.clicked() {
                context.state.lay((context.state.selection.panel != Some(i)).then_some(i));
                context.state.selection.held = context.state.selection.panel.map(PartId::panel);
            }
        }
    }
    to_the_table(&painter, context, rect, small);
}

/// What of a strip lies above the words at its foot.
pub fn above_the_foot(rect: Rect) -> Rect {
    Rect::from_min_max(rect.min, rect.max - vec2(0.0, FOOT))
}

/// That what is too small to be read here lies at full size on the table, at the strip's foot.
pub fn to_the_table(painter: &Painter, context: &Context, rect: Rect, small: bool) {
    if small {
        painter.text(
            rect.right_bottom() - vec2(6.0, 2.0),
            Align2::RIGHT_BOTTOM,
            "lay it on the table to read it: Ctrl T",
            FontId::proportional(size::SMALL),
            context.tokens.soft,
        );
    }
}

/// How a pattern is inked: chalk where its piece is lit.
pub fn inks(context: &Context, piece: Option<PartId>) -> Inks {
    let lit = piece.is_some() && context.state.lit() == piece;
    let chalk = context.tokens.paper.lerp_to_gamma(context.tokens.chalk, 0.25);
    Inks {
        sheet: if lit { chalk } else { context.tokens.ply },
        paper: Some(context.tokens.paper),
        ink: match context.theme() {
            Theme::Dark => Ink::Instead(context.tokens.ink),
            Theme::Light => Ink::AsDrawn,
        },
    }
}

/// The traced ruling on its pattern.
pub fn trace(context: &Context, panel: usize, flat: &FlatPanel, at: Placement) -> Vec<Shape> {
    let traced = context.state.selection.trace.filter(|t| t.panel == panel);
    let ruling = traced.and_then(|t| flat.rulings.get(t.ruling));
    let shape = ruling.map(|r| {
        let ends = [r.flat_lower, r.flat_upper].map(|p| at.place(p)).to_vec();
        Shape::line(ends, Stroke::new(2.4, context.tokens.chalk))
    });
    shape.into_iter().collect()
}

/// The ruling of a pattern nearest to a place on it; a whole bottom's port half is the
/// starboard half turned over its centreline.
pub fn ruling_at(flat: &FlatPanel, at: P2, whole: bool) -> Option<usize> {
    let at = if whole { P2::new(at.x, at.y.abs()) } else { at };
    let off = |k: usize| {
        let r = &flat.rulings[k];
        from_segment(at, r.flat_lower, r.flat_upper)
    };
    let nearest = (0..flat.rulings.len()).min_by(|a, b| off(*a).total_cmp(&off(*b)))?;
    (off(nearest) < 80.0).then_some(nearest)
}

/// Where each chosen pattern goes in `rect`, all at one scale: index, its box, placement.
fn placed(chosen: &[usize], patterns: &[Laid], rect: Rect) -> Vec<(usize, P2, P2, Placement)> {
    let boxes: Vec<(P2, P2)> = chosen.iter().map(|i| outline_box(&patterns[*i].drawing)).collect();
    let columns = if chosen.len() > 2 { 2 } else { 1 };
    let rows = chosen.len().div_ceil(columns);
    let room_x = (rect.width() - MARGIN * (columns as f32 + 1.0)) / columns as f32;
    let room_y = (rect.height() - MARGIN * (rows as f32 + 1.0)) / rows.max(1) as f32;
    let widest = boxes.iter().map(|(a, b)| b.x - a.x).fold(1.0, f64::max) as f32;
    let height_of = |r: usize| {
        boxes.iter().skip(r * columns).take(columns).map(|(a, b)| b.y - a.y).fold(0.0, f64::max)
    };
    // Rows may differ in height: what counts is that all of them fit together.
    let tall: f64 = (0..rows).map(height_of).sum();
    let scale = (room_x / widest).min(room_y * rows as f32 / tall.max(1.0) as f32);
    let mut out = Vec::with_capacity(chosen.len());
    let mut top = rect.min.y + MARGIN;
    for r in 0..rows {
        let height = height_of(r) as f32 * scale;
        for (k, (low, high)) in boxes.iter().enumerate().skip(r * columns).take(columns) {
            let left = rect.min.x + MARGIN + (k % columns) as f32 * (room_x + MARGIN);
            let spare = room_x - (high.x - low.x) as f32 * scale;
            let origin = Pos2::new(
                left + 0.5 * spare - low.x as f32 * scale,
                top + 0.5 * (height - (high.y - low.y) as f32 * scale) + high.y as f32 * scale,
            );
            out.push((chosen[k], *low, *high, Placement { origin, scale }));
        }
        top += height + MARGIN + (room_y * rows as f32 - tall as f32 * scale) / rows as f32;
    }
    out
}

/// Where a drawing goes in `rect`: all its lines are seen at full size, all its words too
/// where it is drawn to the size of paper.
pub fn placement_of(d: &Drawing, rect: Rect, margin: f32) -> Placement {
    let paper = d.bounds().filter(|(low, high)| (high - low).norm() < PAPER_MM);
    let (low, high) = paper.unwrap_or_else(|| outline_box(d));
    let room = rect.shrink(margin);
    let (w, h) = ((high.x - low.x).max(1.0) as f32, (high.y - low.y).max(1.0) as f32);
    let scale = (room.width() / w).min(room.height() / h);
    let middle = 0.5 * (low.coords + high.coords);
    Placement {
        origin: room.center() + vec2(-middle.x as f32 * scale, middle.y as f32 * scale),
        scale,
    }
}

/// The box of what is drawn as lines: texts at small scale do not count.
pub fn outline_box(d: &Drawing) -> (P2, P2) {
    let lines = d.items.iter().filter_map(|i| match &i.shape {
        crate::drawing::Shape::Polyline { points, .. } => Some(points.iter().copied()),
        crate::drawing::Shape::Text { .. } => None,
    });
    bounds(lines.flatten()).unwrap_or((P2::origin(), P2::new(1.0, 1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::demonstration;
    use crate::material::Materials;
    use crate::model::derive;

    #[test]
    fn the_ruling_under_the_pointer_is_the_one_drawn_there() {
        let model =
            derive(&demonstration(), &Materials::shipped()).expect("the demonstration hull");
        for p in &model.panels {
            for k in [3, p.flat.rulings.len() / 2, p.flat.rulings.len() - 4] {
                let r = &p.flat.rulings[k];
                let at = r.flat_lower + 0.4 * (r.flat_upper - r.flat_lower);
                assert_eq!(ruling_at(&p.flat, at, p.full_width), Some(k));
                let port = P2::new(at.x, -at.y);
                assert_eq!(ruling_at(&p.flat, port, true), Some(k));
            }
            assert_eq!(ruling_at(&p.flat, P2::new(-4000.0, 0.0), false), None);
        }
    }
}
