//! Sections of a card: their titles, links to them from its head, what is said in small.

use bevy_egui::egui::{self, FontId, RichText, Ui};

use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;

/// Words to press, and the titles that they lead to.
const PARTS: [(&str, &str); 6] = [
    ("aboard", "Aboard"),
    ("weights", "The hull"),
    ("safe loading", "The safe-loading rule would mark her for"),
    ("foam", "Full of water"),
    ("speed", "Speed, full crew"),
    ("waterline", "The waterline to mark"),
];

fn wanted() -> egui::Id {
    egui::Id::new("part of the card to be brought into sight")
}

/// What there is further down, to be pressed.
pub fn further(ui: &mut Ui, context: &Context) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(6.0, 2.0);
        for (word, part) in PARTS {
            if widgets::link(ui, context.tokens, word).clicked() {
                ui.data_mut(|d| d.insert_temp(wanted(), part));
            }
        }
    });
}

/// The title of a section, brought into sight where its link was pressed.
pub fn title(ui: &mut Ui, text: &str) {
    let title = ui.label(RichText::new(text).font(FontId::new(size::BODY, semibold())));
    if ui.data(|d| d.get_temp::<&'static str>(wanted())) == Some(text) {
        title.scroll_to_me(Some(egui::Align::TOP));
        ui.data_mut(|d| d.remove::<&'static str>(wanted()));
    }
}

/// The title of a section under a rule.
pub fn ruled_title(ui: &mut Ui, words: &str) {
    ui.add_space(size::GAP);
    ui.separator();
    ui.label(RichText::new(words).font(FontId::new(size::BODY, semibold())));
}

/// Small words, soft where they only explain.
pub fn small(ui: &mut Ui, context: &Context, words: &str, soft: bool) {
    let colour = if soft { context.tokens.soft } else { context.tokens.ink };
    ui.label(RichText::new(words).size(size::SMALL).color(colour));
}
