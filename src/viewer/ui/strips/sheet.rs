//! A drawing in the strip that is no panel's pattern: a frame, an end, the jig.

use bevy_egui::egui::{Sense, Ui};

use crate::viewer::paint2d::{leaves_words_out, paint};
use crate::viewer::state::Question;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::strips::flat;
use crate::viewer::ui::strips::flat::{inks, placement_of};
use crate::viewer::ui::widgets;

/// Room round the drawing, points.
const MARGIN: f32 = 16.0;

/// Shows the one in hand, and the names of all to choose from.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let laid = context.patterns;
    if laid.is_empty() {
        ui.centered_and_justified(|ui| {
            ui.label(match context.state.question {
                _ if context.model.is_some_and(|m| !m.woodwork.frames.is_empty()) => "Drawing …",
                Question::Setup => "There is nothing to set up: she has no frames.",
                _ => "She has no frames: set stations inside the hull.",
            });
        });
        return;
    }
    let chosen = context.state.drawing(laid.len());
    let names: f32 = laid.iter().map(|l| 8.0 * l.name.chars().count() as f32 + 18.0).sum();
    if names > ui.available_width() {
        widgets::choice(ui, "drawing", 180.0, &laid[chosen].name, |ui| {
            for (i, l) in laid.iter().enumerate() {
                if ui.selectable_label(i == chosen, &l.name).clicked() {
                    context.state.lay_sheet(i);
                }
            }
        });
    } else {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            for (i, l) in laid.iter().enumerate() {
                if widgets::chip(ui, i == chosen, &l.name).clicked() {
                    context.state.lay_sheet(i);
                }
            }
        });
    }
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click());
    let painter = ui.painter_at(rect);
    let sheet = &laid[chosen];
    let whole = placement_of(&sheet.drawing, rect, MARGIN);
    let small = leaves_words_out(&sheet.drawing, whole.scale);
    let at = match small {
        true => placement_of(&sheet.drawing, flat::above_the_foot(rect), MARGIN),
        false => whole,
    };
    paint(&painter, &sheet.drawing, at, inks(context, sheet.piece), Vec::new());
    if response.hovered()
        && let Some(piece) = sheet.piece
    {
        context.state.point_at(piece);
    }
    if response.double_clicked() {
        context.state.table.open = true;
    }
    flat::to_the_table(&painter, context, rect, small);
}
