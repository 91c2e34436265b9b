//! Labels that teach the trade's words.

use bevy_egui::egui::{Label, Response, RichText, Sense, Ui};

use crate::words::trade::meaning;

/// A label; where it holds a trade word it teaches it when pointed at.
pub fn taught(ui: &mut Ui, text: RichText) -> Response {
    let meaning = meaning(text.text());
    let sense = if meaning.is_some() { Sense::hover() } else { Sense::empty() };
    let response = ui.add(Label::new(text).sense(sense));
    match meaning {
        Some(m) => response.on_hover_text(m),
        None => response,
    }
}
