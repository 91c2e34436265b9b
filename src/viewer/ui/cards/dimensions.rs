//! The boat's dimensions, to be typed or pulled: whole lines move together.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use crate::hull::Dimension;
use crate::hull::edit::Edit;
use crate::viewer::session::Command;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::fields::typed_beside;
use crate::viewer::ui::widgets::typed::{parse_degrees, parse_typed};

/// mm and radians for each point that a name is pulled.
const MM_A_POINT: f64 = 2.0;
const RADIANS_A_POINT: f64 = 0.002;
/// Breadth of a name, points.
const NAME: f32 = 128.0;
/// A boat that becomes so many times larger or smaller by one figure is asked about first.
const DOUBTFUL: f64 = 2.0;

/// Shows the table.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(lines) = context.lines.clone() else {
        return;
    };
    let tokens = context.tokens;
    ui.label(RichText::new("Main dimensions").font(FontId::new(size::BODY, semibold())));
    let hint = "Type a figure, or pull its name sideways.";
    ui.label(RichText::new(hint).size(size::SMALL).color(tokens.soft));
    ui.spacing_mut().item_spacing.y = 3.0;
    for dimension in Dimension::ALL {
        if let Some(now) = dimension.measure(&lines) {
            row(ui, context, dimension, now);
        }
    }
}

fn row(ui: &mut Ui, context: &mut Context, dimension: Dimension, now: f64) {
    let units = context.session.hull().units;
    let angle = dimension.is_angle();
    let show = |v: f64| if angle { format!("{:.1}°", v.to_degrees()) } else { units.show(v) };
    let parse = |t: &str| if angle { parse_degrees(t) } else { parse_typed(t, units) };
    let key = format!("dimension {}", dimension.name());
    let name = (dimension.name(), NAME);
    let (typed, label) = typed_beside(ui, context, &key, name, &show(now), parse);
    if let Some(value) = typed {
        let asked = context.state.typing.doubted == Some((dimension, value));
        let entered = ui.input(|i| i.key_pressed(egui::Key::Enter));
        if asked && !entered {
            // Looking away is no answer.
            context.state.typing.forget(&key);
            context.state.typing.doubted = None;
        } else if !angle && doubtful(now, value) && !asked {
            // Kept as it was typed, to be entered once more.
            context.state.typing.put(&key, show(value));
            context.state.typing.doubted = Some((dimension, value));
        } else {
            context.state.typing.doubted = None;
            context.ask(Command::Edit(Edit::SetDimension { dimension, value }));
        }
    }
    if let Some((_, value)) = context.state.typing.doubted.filter(|d| d.0 == dimension) {
        let words = format!("{} instead of {}? Enter it once more.", show(value), show(now));
        ui.label(RichText::new(words).size(size::SMALL).color(context.tokens.watch));
        if context.state.typing.of(&key).is_none() {
            context.state.typing.doubted = None;
        }
    }
    pull(ui, context, dimension, now, &label);
}

/// Whether a figure is so far from what she is that it may be a slip of the unit.
fn doubtful(now: f64, value: f64) -> bool {
    let times = value / now;
    now.abs() > 1.0 && !(1.0 / DOUBTFUL..=DOUBTFUL).contains(&times)
}

/// The name as a handle to pull the figure by.
fn pull(ui: &Ui, context: &mut Context, dimension: Dimension, now: f64, label: &egui::Response) {
    let id = egui::Id::new(("pulled", dimension));
    let handle = ui
        .interact(label.rect.expand2(egui::vec2(0.0, 2.0)), id, Sense::CLICK | Sense::DRAG)
        .on_hover_cursor(egui::CursorIcon::ResizeHorizontal)
        .on_hover_text(crate::words::dimension(dimension));
    if handle.drag_started() {
        ui.data_mut(|d| d.insert_temp(id, (now, 0.0f64)));
    }
    if handle.dragged()
        && let Some((start, points)) = ui.data(|d| d.get_temp::<(f64, f64)>(id))
    {
        let points = points + f64::from(handle.drag_delta().x);
        ui.data_mut(|d| d.insert_temp(id, (start, points)));
        let step = if dimension.is_angle() { RADIANS_A_POINT } else { MM_A_POINT };
        let value = start + points * step;
        if value != now {
            context.ask(Command::DragFromStart(Edit::SetDimension { dimension, value }));
        }
    }
    if handle.drag_stopped() {
        context.ask(Command::DragEnd);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_boat_of_another_order_is_doubted_and_a_changed_one_is_not() {
        assert!(doubtful(3950.0, 355.6) && doubtful(3950.0, 39500.0));
        assert!(!doubtful(3950.0, 4267.2) && !doubtful(3950.0, 2500.0));
        assert!(!doubtful(0.2, 40.0), "a flat sheer may be sprung");
    }
}
