//! Over the stage: whose hull this is, undo, redo, units, files, the build pack.

use bevy_egui::egui::{self, Align, Layout, RichText, Ui};

use super::Context;
use super::files;
use super::state::FilePurpose;
use super::style::{semibold, size};
use crate::hull::edit::Edit;
use crate::hull::starters::STARTERS;
use crate::units::Units;
use crate::viewer::session::Command;

/// Shows the bar.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    ui.spacing_mut().interact_size.y = 30.0;
    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
        let name = context.session.hull().name.clone();
        ui.label(RichText::new(name).font(egui::FontId::new(size::TITLE, semibold())));
        let saved = if context.session.changed() { "not saved" } else { "saved" };
        ui.label(RichText::new(saved).size(size::SMALL).color(tokens.soft));
        if context.old {
            ui.label(RichText::new("computing …").size(size::SMALL).color(tokens.chalk));
        }
        if context.state.path.is_some() {
            files::typed_path(ui, context);
            return;
        }
        if let Some(notice) = context.session.notice() {
            let text = RichText::new(notice).size(size::SMALL).color(tokens.soft);
            ui.add(egui::Label::new(text).truncate());
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| buttons(ui, context));
    });
}

/// From the right: pack, units, theme, files, redo, undo.
fn buttons(ui: &mut Ui, context: &mut Context) {
    let pack = egui::Button::new(RichText::new("Write the build pack").color(context.tokens.paper))
        .fill(context.tokens.chalk);
    if ui
        .add(pack)
        .on_hover_text("Patterns as DXF, SVG and full-size PDF, offsets and a summary")
        .clicked()
    {
        files::choose(context, FilePurpose::Pack);
    }
    let units = context.session.hull().units;
    egui::ComboBox::from_id_salt("units").width(72.0).selected_text(units.word()).show_ui(
        ui,
        |ui| {
            for u in Units::ALL {
                if ui.selectable_label(u == units, u.word()).clicked() {
                    context.ask(Command::Edit(Edit::SetUnits(u)));
                }
            }
        },
    );
    let lamp = if context.state.dark { "Day" } else { "Lamp" };
    if ui.button(lamp).on_hover_text("Light or dark").clicked() {
        context.state.dark = !context.state.dark;
    }
    ui.menu_button("File", |ui| {
        if ui.button("Open …   Ctrl O").clicked() {
            ui.close();
            files::open(context);
        }
        if ui.button("Save   Ctrl S").clicked() {
            ui.close();
            files::save(context);
        }
        if ui.button("Save as …").clicked() {
            ui.close();
            files::choose(context, FilePurpose::SaveAs);
        }
        ui.separator();
        ui.label(RichText::new("Start from").size(size::SMALL).color(context.tokens.soft));
        for starter in &STARTERS {
            if ui.button(starter.summary).clicked() {
                ui.close();
                context.view.asked = Some(crate::cli::job::ViewFrom::Quarter);
                context.ask(Command::Start(starter));
            }
        }
    });
    let redo = context.session.redo_name().map(str::to_string);
    let undo = context.session.undo_name().map(str::to_string);
    let hint = |name: &Option<String>, key: &str| {
        name.as_ref().map_or_else(|| "nothing".to_string(), |n| format!("{n}   {key}"))
    };
    if ui
        .add_enabled(redo.is_some(), egui::Button::new("Redo"))
        .on_hover_text(hint(&redo, "Ctrl Shift Z"))
        .clicked()
    {
        context.ask(Command::Redo);
    }
    if ui
        .add_enabled(undo.is_some(), egui::Button::new("Undo"))
        .on_hover_text(hint(&undo, "Ctrl Z"))
        .clicked()
    {
        context.ask(Command::Undo);
    }
}
