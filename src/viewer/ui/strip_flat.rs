//! The patterns, flat, in the strip.

use bevy_egui::egui::{Align2, FontId, Pos2, Sense, Ui};

use super::Context;
use super::state::Piece;
use super::style::{Theme, size};
use crate::drawing::Drawing;
use crate::drawing::compose::panel_pattern;
use crate::geom::P2;
use crate::geom::polyline::bounds;
use crate::viewer::paint2d::{Inks, Placement, paint};

/// Room between patterns and round them, points.
const MARGIN: f32 = 14.0;

/// Shows all patterns at one scale, or one large.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click());
    let painter = ui.painter_at(rect);
    let Some(model) = context.model else {
        return;
    };
    let units = context.session.hull().units;
    let chosen: Vec<usize> = match context.state.panel.filter(|i| *i < model.panels.len()) {
        Some(i) => vec![i],
        None => (0..model.panels.len()).collect(),
    };
    let drawings: Vec<(usize, Drawing)> =
        chosen.iter().map(|&i| (i, panel_pattern(model, &model.panels[i], units))).collect();
    let boxes: Vec<(P2, P2)> = drawings.iter().map(|(_, d)| outline_box(d)).collect();
    let columns = if drawings.len() > 2 { 2 } else { 1 };
    let rows = drawings.len().div_ceil(columns);
    let room_x = (rect.width() - MARGIN * (columns as f32 + 1.0)) / columns as f32;
    let room_y = (rect.height() - MARGIN * (rows as f32 + 1.0)) / rows.max(1) as f32;
    let widest = boxes.iter().map(|(a, b)| b.x - a.x).fold(1.0, f64::max) as f32;
    // Rows may differ in height: what counts is that all of them fit together.
    let tall: f64 = (0..rows)
        .map(|r| {
            boxes.iter().skip(r * columns).take(columns).map(|(a, b)| b.y - a.y).fold(0.0, f64::max)
        })
        .sum();
    let scale = (room_x / widest).min(room_y * rows as f32 / tall.max(1.0) as f32);
    let mut top = rect.min.y + MARGIN;
    for r in 0..rows {
        let row: Vec<usize> = (r * columns..((r + 1) * columns).min(drawings.len())).collect();
        let height =
            row.iter().map(|&k| boxes[k].1.y - boxes[k].0.y).fold(0.0, f64::max) as f32 * scale;
        for (c, &k) in row.iter().enumerate() {
            let (low, high) = boxes[k];
            let left = rect.min.x + MARGIN + c as f32 * (room_x + MARGIN);
            let spare = room_x - (high.x - low.x) as f32 * scale;
            let origin = Pos2::new(
                left + 0.5 * spare - low.x as f32 * scale,
                top + 0.5 * (height - (high.y - low.y) as f32 * scale) + high.y as f32 * scale,
            );
            let at = Placement { origin, scale };
            let (index, drawing) = &drawings[k];
            let lit = context.state.lit == Some(Piece::Panel(*index));
            let sheet =
                if lit { context.tokens.chalk.gamma_multiply(0.25) } else { context.tokens.ply };
            let instead_of_dark =
                (context.state.theme() == Theme::Dark).then_some(context.tokens.ink);
            paint(&painter, drawing, at, Inks { sheet, instead_of_dark });
            let name = &model.panels[*index].name;
            painter.text(
                at.place(P2::new(low.x, high.y)),
                Align2::LEFT_BOTTOM,
                name,
                FontId::proportional(size::SMALL),
                context.tokens.soft,
            );
            if let Some(p) = response.hover_pos() {
                let q = at.point(p);
                if q.x >= low.x && q.x <= high.x && q.y >= low.y && q.y <= high.y {
                    context.state.lit = Some(Piece::Panel(*index));
                    if response.clicked() {
                        context.state.panel =
                            (context.state.panel != Some(*index)).then_some(*index);
                    }
                }
            }
        }
        top += height + MARGIN + (room_y * rows as f32 - tall as f32 * scale) / rows as f32;
    }
}

/// The box of what is drawn as lines: texts at small scale do not count.
fn outline_box(d: &Drawing) -> (P2, P2) {
    let lines = d.items.iter().filter_map(|i| match &i.shape {
        crate::drawing::Shape::Polyline { points, .. } => Some(points.iter().copied()),
        crate::drawing::Shape::Text { .. } => None,
    });
    bounds(lines.flatten()).unwrap_or((P2::origin(), P2::new(1.0, 1.0)))
}
