//! Unsaved work: asked about before it is put away, offered when it was left over.

use bevy_egui::egui::{self, FontId, Key, RichText};

use crate::viewer::session::Command;
use crate::viewer::session::autosave::ago;
use crate::viewer::state::dialogs::{FilePurpose, Next};
use crate::viewer::theme;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::dialogs::files;
use crate::viewer::ui::widgets;
use crate::words::capital;
use crate::words::finding::said;

/// The question about unsaved work, the one thing that waits for an answer.
pub fn show(ctx: &egui::Context, context: &mut Context) {
    let Some(next) = context.state.dialogs.guard.clone() else {
        if context.state.dialogs.stopped_pack {
            stopped_pack(ctx, context);
            return;
        }
        left_over(ctx, context);
        return;
    };
    let tokens = context.tokens;
    let doing = match &next {
        Next::Open(_) => "opening another",
        Next::Start(_) => "starting another",
        Next::TakeUp => "taking the other up",
        Next::Close => "closing",
    };
    let modal = egui::Modal::new("unsaved".into()).frame(widgets::sheet(tokens)).show(ctx, |ui| {
        ui.set_max_width(420.0);
        let name = &context.session.hull().name;
        ui.label(
            RichText::new(format!("{name} has changes that are not saved"))
                .font(FontId::new(size::TITLE, semibold())),
        );
        ui.label(format!("Save her before {doing}?"));
        ui.add_space(size::GAP);
        let mut answer = None;
        ui.horizontal(|ui| {
            let save =
                ui.button(if next == Next::Close { "Save and close" } else { "Save and go on" });
            if ui.memory(|m| m.focused().is_none()) {
                save.request_focus();
            }
            if save.clicked() {
                answer = Some(0);
            }
            let without = match next {
                Next::Close => "Close without saving",
                _ => "Go on without saving",
            };
            if ui.button(without).clicked() {
                answer = Some(1);
            }
            if ui.button("Stay").clicked() || ui.input(|i| i.key_pressed(Key::Escape)) {
                answer = Some(2);
            }
        });
        answer
    });
    match modal.inner {
        Some(0) => {
            context.state.dialogs.guard = None;
            context.state.dialogs.then = Some(next);
            files::save(context);
        }
        Some(1) => {
            context.state.dialogs.guard = None;
            context.ask(Command::Discard);
            context.ask(next.command());
        }
        Some(_) => context.state.dialogs.guard = None,
        None => {}
    }
}

/// Reasons named before the rest are only counted.
const REASONS: usize = 4;

/// The question whether a boat that is not to be built is to be written all the same.
fn stopped_pack(ctx: &egui::Context, context: &mut Context) {
    let tokens = context.tokens;
    let why: Vec<String> = context
        .stopped()
        .map(|f| said(f, context.units()))
        .map(|f| format!("{}: {}.", capital(&f.place), f.message))
        .collect();
    let frame = widgets::sheet(tokens);
    let modal = egui::Modal::new("stopped pack".into()).frame(frame).show(ctx, |ui| {
        ui.set_max_width(460.0);
        let title = RichText::new("She is not to be built as she is");
        ui.label(title.font(FontId::new(size::TITLE, semibold())));
        for words in why.iter().take(REASONS) {
            ui.label(RichText::new(words).size(size::SMALL).color(tokens.stop));
        }
        if why.len() > REASONS {
            ui.label(RichText::new(format!("and {} more", why.len() - REASONS)).size(size::SMALL));
        }
        ui.add_space(size::GAP);
        let mut answer = None;
        ui.horizontal(|ui| {
            let stay = ui.button("Stay and mend her");
            if ui.memory(|m| m.focused().is_none()) {
                stay.request_focus();
            }
            if stay.clicked() {
                answer = Some(false);
            }
            if ui.button("Write it all the same").clicked() {
                answer = Some(true);
            }
        });
        answer
    });
    if let Some(go_on) = modal.inner {
        context.state.dialogs.stopped_pack = false;
        if go_on {
            files::ask_path(context, FilePurpose::Pack);
        }
    }
}

/// Work that an earlier run left unsaved: offered, not forced.
fn left_over(ctx: &egui::Context, context: &mut Context) {
    // The first page says it itself.
    let Some(work) = context.session.left_over().filter(|_| !context.state.dialogs.first_page)
    else {
        return;
    };
    let tokens = context.tokens;
    let when = work.when.map(ago).unwrap_or_default();
    let name = work.hull.name.clone();
    let place = match &work.of {
        Some(file) => format!("of {}", file.display()),
        None => "she has no file yet".to_string(),
    };
    let of_this_boat = work.of.as_deref() == context.session.path();
    let mut asked = None;
    let room = theme::room(ctx.viewport_rect().size());
    egui::Area::new("left over".into())
        .order(egui::Order::Foreground)
        .anchor(egui::Align2::CENTER_TOP, [-0.5 * (room.card - room.rail), size::TOP + 48.0])
        .show(ctx, |ui| {
            widgets::sheet(tokens).show(ui, |ui| {
                ui.set_max_width(420.0);
                let title = format!("Unsaved work on {name} was kept {when}");
                ui.label(RichText::new(title).font(FontId::new(size::BODY, semibold())));
                ui.label(RichText::new(place).size(size::SMALL).color(tokens.soft));
                ui.horizontal(|ui| {
                    if ui.button("Recover").clicked() {
                        asked = Some(Command::TakeUp);
                    }
                    if ui.button("Delete").clicked() {
                        asked = Some(Command::LetGo);
                    }
                });
            });
        });
    match asked {
        // Another boat's work takes the place of this one.
        Some(Command::TakeUp) if !of_this_boat => context.leave_for(Next::TakeUp),
        Some(command) => context.ask(command),
        None => {}
    }
}
