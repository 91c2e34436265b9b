//! Another sheet for a panel, another wood for a member: beside what they do to cost, weight and
//! freeboard, which stand above.

use bevy_egui::egui::{RichText, Ui};

use crate::viewer::theme::size;
use crate::viewer::ui::cards::skin::other_sheet;
use crate::viewer::ui::cards::stick::other_species;
use crate::viewer::ui::context::Context;
use crate::words::capital;

/// Shows the choices.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        return;
    };
    let soft = context.tokens.soft;
    let name = |ui: &mut Ui, words: &str| {
        ui.label(RichText::new(capital(words)).size(size::SMALL).color(soft));
    };
    for p in &model.panels {
        name(ui, &p.name);
        other_sheet(ui, context, &format!("sheet of the {}", p.name), &p.name);
    }
    for (member, m) in context.session.hull().members.iter().enumerate() {
        name(ui, &m.name);
        other_species(ui, context, &format!("wood of the {}", m.name), member);
    }
}
