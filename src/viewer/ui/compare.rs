//! What differs from the pinned or the last saved shape, in figures.

use bevy_egui::egui::{self, FontId, RichText, Ui};

use super::Context;
use super::style::{semibold, size};
use crate::model::compare::{Difference, Kind, differences};
use crate::units::Units;
use crate::viewer::session::Command;

/// A figure as a builder reads it.
pub fn shown(kind: Kind, value: Option<f64>, units: Units) -> String {
    let Some(v) = value else {
        return "none".into();
    };
    if !v.is_finite() {
        return "flat".into();
    }
    match kind {
        Kind::Length => units.show(v),
        Kind::Area => format!("{:.2} m²", v * 1e-6),
        Kind::Angle => format!("{:.1}°", v.to_degrees()),
        Kind::Share => format!("{:.0} %", 100.0 * v),
    }
}

/// A change, with its sign.
fn change(row: &Difference, units: Units) -> String {
    match row.change().filter(|c| c.is_finite()) {
        Some(c) => {
            let sign = if c > 0.0 { "+" } else { "−" };
            format!("{sign}{}", shown(row.kind, Some(c.abs()), units))
        }
        None => "—".into(),
    }
}

/// Shows the table and the buttons that pin.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let pinned = context.session.pinned();
    ui.horizontal(|ui| {
        let with = if pinned { "the pinned shape" } else { "the saved shape" };
        ui.label(RichText::new(format!("Beside {with}")).font(FontId::new(size::BODY, semibold())));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let (word, command) =
                if pinned { ("Unpin", Command::Unpin) } else { ("Pin this shape", Command::Pin) };
            if ui.small_button(word).on_hover_text("Ctrl D").clicked() {
                context.ask(command);
            }
        });
    });
    let (Some(now), Some(then)) = (context.model, context.ghost) else {
        return;
    };
    let rows = differences(then, now);
    if rows.is_empty() {
        ui.label(RichText::new("Nothing differs.").size(size::SMALL).color(tokens.soft));
        return;
    }
    let units = context.session.hull().units;
    egui::Grid::new("differences").num_columns(4).spacing([10.0, 2.0]).striped(false).show(
        ui,
        |ui| {
            for head in ["", "then", "now", "change"] {
                ui.label(RichText::new(head).size(size::SMALL - 2.0).color(tokens.soft));
            }
            ui.end_row();
            for row in &rows {
                ui.set_max_width(328.0);
                ui.add(egui::Label::new(RichText::new(&row.what).size(size::SMALL)).wrap());
                for text in [
                    shown(row.kind, row.then, units),
                    shown(row.kind, row.now, units),
                    change(row, units),
                ] {
                    ui.label(RichText::new(text).font(FontId::monospace(size::SMALL - 2.0)));
                }
                ui.end_row();
            }
        },
    );
}
