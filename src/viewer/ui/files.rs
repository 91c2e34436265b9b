//! Choosing files: the system's own dialog where there is one, a typed path where not.

use std::path::PathBuf;

use bevy_egui::egui::{self, Key};

use super::Context;
use super::state::{FilePurpose, Next};
use crate::viewer::desk::{command, desktop_dialogs, stem};
use crate::viewer::session::Command;

/// Saves under the known name, or asks for one.
pub fn save(context: &mut Context) {
    if context.session.path().is_some() {
        context.ask(Command::Save(None));
    } else {
        choose(context, FilePurpose::SaveAs);
    }
}

/// Asks which document to open; unsaved work is spoken of first.
pub fn open(context: &mut Context) {
    context.leave_for(Next::Open(None));
}

/// Asks for a path; the answer comes as a command, a cancelled dialog asks for nothing.
pub fn choose(context: &mut Context, purpose: FilePurpose) {
    if desktop_dialogs() {
        context.state.asked_dialog = Some(purpose);
        return;
    }
    let stem = stem(context.session.hull());
    let suggestion = match purpose {
        FilePurpose::Open => String::new(),
        FilePurpose::SaveAs => context
            .session
            .path()
            .map_or_else(|| format!("{stem}.ron"), |p| p.display().to_string()),
        FilePurpose::Pack => "build-pack".into(),
        FilePurpose::Picture => format!("{stem}.png"),
    };
    context.state.path = Some((purpose, suggestion));
}

/// The row in which a path is typed, where there is no dialog.
pub fn typed_path(ui: &mut egui::Ui, context: &mut Context) {
    let Some((purpose, mut text)) = context.state.path.clone() else {
        return;
    };
    let word = match purpose {
        FilePurpose::Open => "Open",
        FilePurpose::SaveAs => "Save as",
        FilePurpose::Pack => "Write into",
        FilePurpose::Picture => "Picture to",
    };
    let label = ui.label(word);
    let field = ui
        .add(
            egui::TextEdit::singleline(&mut text)
                .id_salt("path")
                .desired_width(320.0)
                .hint_text("path"),
        )
        .labelled_by(label.id);
    if !field.has_focus() && !field.lost_focus() {
        field.request_focus();
    }
    let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let go = ui.button("Go").clicked() || entered;
    if ui.button("Cancel").clicked() || ui.input(|i| i.key_pressed(Key::Escape)) {
        context.state.path = None;
        context.state.then = None;
    } else if go && !text.trim().is_empty() {
        context.state.path = None;
        context.ask(command(purpose, PathBuf::from(text.trim())));
    } else {
        context.state.path = Some((purpose, text));
    }
}
