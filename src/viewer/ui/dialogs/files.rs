//! Choosing files: the system's own dialog where there is one, a typed path where not.

use std::path::PathBuf;

use bevy_egui::egui::{self, Key, RichText};

use crate::viewer::session::Command;
use crate::viewer::state::dialogs::{FilePurpose, Next};
use crate::viewer::system::{command, desktop_dialogs, suggestion};
use crate::viewer::ui::context::Context;

/// Saves under the known name, or asks for one.
pub fn save(context: &mut Context) {
    if context.session.path().is_some() {
        context.ask(Command::Save(None));
    } else {
        choose(context, FilePurpose::SaveAs);
    }
}

/// Asks which document to open; what becomes of unsaved work is asked when it is known.
pub fn open(context: &mut Context) {
    choose(context, FilePurpose::Open);
}

/// Asks for a path; the answer comes as a command, a cancelled dialog asks for nothing.
pub fn choose(context: &mut Context, purpose: FilePurpose) {
    if purpose == FilePurpose::Pack && context.stopped().next().is_some() {
        context.state.dialogs.stopped_pack = true;
        return;
    }
    ask_path(context, purpose);
}

/// The same without a question first.
pub fn ask_path(context: &mut Context, purpose: FilePurpose) {
    context.state.table.full_screen = false;
    if desktop_dialogs() {
        context.state.dialogs.asked_dialog = Some(purpose);
    } else {
        context.state.dialogs.path = Some((purpose, suggestion(purpose, context.session)));
    }
}

/// The path as a file of its kind: an ending is added where none was typed.
fn with_ending(purpose: FilePurpose, path: PathBuf) -> PathBuf {
    match purpose {
        FilePurpose::SaveAs if path.extension().is_none() => path.with_extension("ron"),
        FilePurpose::Picture if path.extension().is_none() => path.with_extension("png"),
        _ => path,
    }
}

/// Goes on with a path that was typed.
fn take(context: &mut Context, purpose: FilePurpose, path: PathBuf) {
    let paper = context.state.table.paper;
    match purpose {
        FilePurpose::Open => context.leave_for(Next::Open(path)),
        _ => context.ask(command(purpose, path, paper)),
    }
}

/// The row in which a path is typed, where there is no dialog.
pub fn typed_path(ui: &mut egui::Ui, context: &mut Context) {
    let Some((purpose, mut text)) = context.state.dialogs.path.clone() else {
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
    // Asked for once: Go and Cancel can then be reached with the Tab key.
    let begun = ui.id().with("path begun");
    if ui.data(|d| d.get_temp(begun)) != Some(purpose as u8) {
        ui.data_mut(|d| d.insert_temp(begun, purpose as u8));
        field.request_focus();
    }
    let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let path = with_ending(purpose, PathBuf::from(text.trim()));
    let writes_file = matches!(purpose, FilePurpose::SaveAs | FilePurpose::Picture);
    let in_the_way = writes_file && path.exists() && context.session.path() != Some(path.as_path());
    let asked = context.state.dialogs.replacing.as_deref() == Some(text.trim());
    let go = ui.button(if asked { "Replace it" } else { "Go" }).clicked() || entered;
    let cancelled = ui.button("Cancel").clicked() || ui.input(|i| i.key_pressed(Key::Escape));
    if asked {
        ui.label(RichText::new("that file is there already").color(context.tokens.watch));
    }
    if cancelled {
        context.state.dialogs.then = None;
    } else if go && in_the_way && !asked {
        context.state.dialogs.replacing = Some(text.trim().to_string());
        field.request_focus();
    }
    let done = go && !text.trim().is_empty() && (!in_the_way || asked);
    if cancelled || done {
        (context.state.dialogs.path, context.state.dialogs.replacing) = (None, None);
        ui.data_mut(|d| d.remove_temp::<u8>(begun));
        if !cancelled {
            take(context, purpose, path);
        }
    } else {
        context.state.dialogs.path = Some((purpose, text));
    }
}
