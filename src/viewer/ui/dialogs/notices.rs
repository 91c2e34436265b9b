//! What there is to tell: in a corner of the stage, out of the way, gone by itself.

use std::time::Instant;

use bevy_egui::egui::{self, Id, RichText};

use crate::viewer::session::{Command, NOTICE_STAYS, Notice};
use crate::viewer::theme;
use crate::viewer::theme::{Tokens, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::words::capital;

/// Shows the notices.
pub fn show(ctx: &egui::Context, context: &mut Context) {
    // The panels' clock stands still while the window sleeps.
    let now = Instant::now();
    let (mut read, mut folders) = (Vec::new(), Vec::new());
    let tokens = context.tokens;
    if context.state.dialogs.dropping {
        dropping(ctx, context);
    }
    let notices = context.session.notices().to_vec();
    if notices.is_empty() {
        return;
    }
    // At the head of the stage, beside the card and below what is told there.
    let card = theme::room(ctx.viewport_rect().size()).card;
    let corner = egui::vec2(-(card + 12.0), size::TOP + 96.0);
    egui::Area::new("notices".into())
        .order(egui::Order::Middle)
        .anchor(egui::Align2::RIGHT_TOP, corner)
        .show(ctx, |ui| {
            for notice in &notices {
                let born = Id::new(("notice", notice.id));
                let since = ctx.data_mut(|d| *d.get_temp_mut_or(born, now));
                if !notice.wrong && (now - since).as_secs_f64() > NOTICE_STAYS {
                    read.push(notice.id);
                    continue;
                }
                let frame = widgets::sheet(tokens).inner_margin(size::GAP);
                frame.show(ui, |ui| {
                    ui.set_max_width(340.0);
                    words(ui, tokens, notice, &mut read);
                    if let Some(place) = &notice.place
                        && widgets::link(ui, tokens, "open the folder").clicked()
                    {
                        folders.push(place.clone());
                    }
                });
            }
        });
    for id in read {
        context.ask(Command::Dismiss(id));
    }
    for place in folders {
        context.ask(Command::ShowFolder(place));
    }
}

/// What there is to tell, and the button that it was read by.
fn words(ui: &mut egui::Ui, tokens: &Tokens, notice: &Notice, read: &mut Vec<u64>) {
    ui.horizontal_top(|ui| {
        let colour = if notice.wrong { tokens.stop } else { tokens.ink };
        // A path at the beginning keeps its own letters.
        let path = notice.text.split(' ').next().is_some_and(|w| w.contains(['.', '/', '\\']));
        let text = match path {
            true => notice.text.clone(),
            false => capital(&notice.text),
        };
        let label = RichText::new(text).size(size::SMALL).color(colour);
        ui.add(egui::Label::new(label).wrap().selectable(true));
        let close = egui::Button::new(RichText::new("×").size(size::SMALL)).frame(false);
        let close = ui.add(close);
        close.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, "read"));
        if close.clicked() {
            read.push(notice.id);
        }
    });
}

/// A file hangs over the window.
fn dropping(ctx: &egui::Context, context: &Context) {
    let tokens = context.tokens;
    egui::Area::new("dropping".into())
        .order(egui::Order::Foreground)
        .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
        .show(ctx, |ui| {
            widgets::sheet(tokens).show(ui, |ui| {
                ui.label(RichText::new("Let go to open it").size(size::TITLE).color(tokens.chalk));
            });
        });
}
