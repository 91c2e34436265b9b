//! The boat's dimensions, to be typed or pulled: whole lines move together.

use bevy_egui::egui::{self, FontId, RichText, Ui};

use super::Context;
use super::fields;
use super::style::{semibold, size};
use crate::hull::edit::Edit;
use crate::hull::{Dimension, HullLines};
use crate::units::{Units, parse_length};
use crate::viewer::session::Command;

/// mm and radians for each point that a figure is pulled.
const MM_A_POINT: f64 = 2.0;
const RADIANS_A_POINT: f64 = 0.002;

/// Shows the table.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Ok(lines) = HullLines::of(context.session.hull()) else {
        return;
    };
    let tokens = context.tokens;
    ui.label(RichText::new("Main dimensions").font(FontId::new(size::BODY, semibold())));
    let hint = "Pull a figure sideways, or click it and type.";
    ui.label(RichText::new(hint).size(size::SMALL).color(tokens.soft));
    let units = context.session.hull().units;
    ui.spacing_mut().interact_size.y = 22.0;
    ui.spacing_mut().item_spacing.y = 3.0;
    for dimension in Dimension::ALL {
        let Some(now) = dimension.measure(&lines) else {
            continue;
        };
        ui.horizontal(|ui| {
            let name = RichText::new(dimension.name()).size(size::SMALL).color(tokens.soft);
            let label = ui.label(name).on_hover_text(dimension.meaning());
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let field = field(ui, dimension, now, units).labelled_by(label.id);
                take(ui, context, dimension, field, now);
            });
        });
    }
}

/// The figure as a field; what it was set to is kept in the panels' own memory.
fn field(ui: &mut Ui, dimension: Dimension, now: f64, units: Units) -> egui::Response {
    let id = egui::Id::new(("dimension", dimension));
    let mut value = now;
    let field = if dimension.is_angle() {
        egui::DragValue::new(&mut value)
            .speed(RADIANS_A_POINT)
            .custom_formatter(|v, _| format!("{:.1}°", v.to_degrees()))
            .custom_parser(move |text| {
                unless_untouched(text, &format!("{:.1}°", now.to_degrees()), now, |t| {
                    fields::parse_degrees(t).ok()
                })
            })
    } else {
        egui::DragValue::new(&mut value)
            .speed(MM_A_POINT)
            .custom_formatter(move |v, _| units.show(v))
            .custom_parser(move |text| {
                unless_untouched(text, &units.show(now), now, |t| parse_length(t, units).ok())
            })
    };
    ui.style_mut().override_font_id = Some(FontId::monospace(size::SMALL));
    let response = ui.add_sized([104.0, 22.0], field.update_while_editing(false));
    ui.data_mut(|d| d.insert_temp(id, value));
    response
}

/// What is typed; the text as it was shown is the figure itself, not its rounding.
fn unless_untouched(
    text: &str,
    shown: &str,
    now: f64,
    parse: impl Fn(&str) -> Option<f64>,
) -> Option<f64> {
    if text.trim() == shown.trim() { Some(now) } else { parse(text) }
}

/// Sends what the figure was set to.
fn take(ui: &Ui, context: &mut Context, dimension: Dimension, field: egui::Response, now: f64) {
    let id = egui::Id::new(("dimension", dimension));
    let value: f64 = ui.data(|d| d.get_temp(id)).unwrap_or(now);
    let edit = Edit::SetDimension { dimension, value };
    if field.dragged() {
        if value != now {
            context.ask(Command::DragFromStart(edit));
        }
    } else if field.changed() && value != now {
        context.ask(Command::Edit(edit));
    }
    if field.drag_stopped() {
        context.ask(Command::DragEnd);
    }
}
