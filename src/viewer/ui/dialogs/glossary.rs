//! The words of the trade, all of them on one sheet, to be searched.

use bevy_egui::egui::{self, FontId, Key, RichText};

use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::words::capital;
use crate::words::trade::WORDS;

/// Widest that the sheet is, points.
const BREADTH: f32 = 560.0;

/// Shows the sheet while it is open: `state.dialogs.words` is what is looked for.
pub fn show(ctx: &egui::Context, context: &mut Context) {
    let Some(mut wanted) = context.state.dialogs.words.clone() else {
        return;
    };
    let tokens = context.tokens;
    let mut open = !ctx.input(|i| i.key_pressed(Key::Escape));
    let window = ctx.viewport_rect().size();
    egui::Area::new("words of the trade".into())
        .order(egui::Order::Foreground)
        .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
        .show(ctx, |ui| {
            widgets::sheet(tokens).show(ui, |ui| {
                ui.set_width(BREADTH.min(window.x - 64.0));
                ui.horizontal(|ui| {
                    let title = RichText::new("Words of the trade");
                    ui.label(title.font(FontId::new(size::TITLE, semibold())));
                    let right = egui::Layout::right_to_left(egui::Align::Center);
                    ui.with_layout(right, |ui| open &= !ui.button("Close").clicked());
                });
                let field = egui::TextEdit::singleline(&mut wanted)
                    .id_salt("word looked for")
                    .hint_text("look for a word")
                    .desired_width(f32::INFINITY);
                let field = ui.add(field);
                if ui.memory(|m| m.focused().is_none()) {
                    field.request_focus();
                }
                ui.add_space(size::GAP);
                let tall = (window.y - 180.0).min(460.0);
                let area = egui::ScrollArea::vertical().auto_shrink([false, false]);
                area.max_height(tall).min_scrolled_height(tall).show(ui, |ui| {
                    let found = found(&wanted);
                    if found.is_empty() {
                        ui.label("None of these words. A finding's hint says what to do.");
                    }
                    for (word, meaning) in found {
                        let word = if word.len() > 2 { capital(word) } else { word.to_uppercase() };
                        let word = RichText::new(word);
                        ui.label(word.font(FontId::new(size::BODY, semibold())));
                        let meaning = RichText::new(meaning).size(size::SMALL);
                        ui.add(egui::Label::new(meaning).wrap());
                        ui.add_space(4.0);
                    }
                });
            });
        });
    context.state.dialogs.words = open.then_some(wanted);
}

/// Words that hold what is looked for, in the order of the alphabet: those that begin with it
/// first, then those whose meaning speaks of it.
fn found(wanted: &str) -> Vec<(&'static str, &'static str)> {
    let wanted = wanted.trim().to_lowercase();
    let rank = |(word, meaning): &(&str, &str)| {
        let named = word.starts_with(&wanted);
        let held = word.contains(&wanted);
        let told = meaning.to_lowercase().contains(&wanted);
        named.then_some(0).or(held.then_some(1)).or(told.then_some(2))
    };
    let mut out: Vec<_> = WORDS.iter().filter_map(|w| Some((rank(w)?, *w))).collect();
    out.sort_by_key(|(rank, (word, _))| (*rank, *word));
    out.into_iter().map(|(_, w)| w).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_found_by_its_beginning_before_its_meaning() {
        let all = found("");
        assert_eq!(all.len(), WORDS.len());
        assert!(all.windows(2).all(|w| w[0].0 < w[1].0), "in the order of the alphabet");
        let keel = found(" Keel ");
        assert_eq!(keel[0].0, "keel");
        assert_eq!(keel[1].0, "keelson");
        assert!(keel.iter().any(|(w, _)| *w == "rocker" || *w == "deadrise"), "{keel:?}");
        assert!(found("spreadsheet").is_empty());
    }
}
