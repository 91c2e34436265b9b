//! Choosing files: the system's own dialog where there is one, a typed path where not.

use std::path::PathBuf;

use bevy_egui::egui::{self, Key};

use super::Context;
use super::state::FilePurpose;
use crate::viewer::session::Command;

/// Saves under the known name, or asks for one.
pub fn save(context: &mut Context) {
    if context.session.path().is_some() {
        context.ask(Command::Save(None));
    } else {
        choose(context, FilePurpose::SaveAs);
    }
}

/// Asks which document to open.
pub fn open(context: &mut Context) {
    choose(context, FilePurpose::Open);
}

/// Whether the desktop's dialog service can be asked: it is spoken to over the session bus.
fn desktop_dialogs() -> bool {
    !cfg!(target_os = "linux") || std::env::var_os("DBUS_SESSION_BUS_ADDRESS").is_some()
}

/// Asks for a path; a cancelled dialog asks for nothing.
pub fn choose(context: &mut Context, purpose: FilePurpose) {
    let stem = context.session.hull().name.to_lowercase().replace(' ', "-");
    if !desktop_dialogs() {
        let suggestion = match purpose {
            FilePurpose::Open => String::new(),
            FilePurpose::SaveAs => format!("{stem}.ron"),
            FilePurpose::Pack => "build-pack".into(),
        };
        context.state.path = Some((purpose, suggestion));
        return;
    }
    let dialog = rfd::FileDialog::new().add_filter("hull document", &["ron"]);
    let chosen = match purpose {
        FilePurpose::Open => dialog.set_title("Open a hull").pick_file(),
        FilePurpose::SaveAs => {
            dialog.set_title("Save the hull").set_file_name(format!("{stem}.ron")).save_file()
        }
        FilePurpose::Pack => {
            rfd::FileDialog::new().set_title("Write the build pack into").pick_folder()
        }
    };
    if let Some(path) = chosen {
        take(context, purpose, path);
    }
}

fn take(context: &mut Context, purpose: FilePurpose, path: PathBuf) {
    context.ask(match purpose {
        FilePurpose::Open => Command::Open(path),
        FilePurpose::SaveAs => Command::Save(Some(path)),
        FilePurpose::Pack => Command::Pack(path),
    });
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
    };
    ui.label(word);
    let field =
        ui.add(egui::TextEdit::singleline(&mut text).desired_width(260.0).hint_text("path"));
    if !field.has_focus() && !field.lost_focus() {
        field.request_focus();
    }
    let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let go = ui.button("Go").clicked() || entered;
    if ui.button("Cancel").clicked() || ui.input(|i| i.key_pressed(Key::Escape)) {
        context.state.path = None;
    } else if go && !text.trim().is_empty() {
        context.state.path = None;
        take(context, purpose, PathBuf::from(text.trim()));
    } else {
        context.state.path = Some((purpose, text));
    }
}
