//! Over the stage: whose hull this is, undo, redo, units, files, the build pack.

use bevy_egui::egui::{self, Align, Layout, RichText, Ui};

use crate::hull::edit::Edit;
use crate::hull::starters::STARTERS;
use crate::viewer::prefs::TEXT_SIZES;
use crate::viewer::session::Command;
use crate::viewer::state::dialogs::{FilePurpose, Next};
use crate::viewer::theme::{room, semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::dialogs::{files, first_page, tour};
use crate::viewer::ui::table::print;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::stay_in;
use crate::viewer::ui::widgets::places::Place;
use crate::viewer::ui::widgets::units;

/// Steps listed in the history.
const LISTED: usize = 12;

/// Room that her name wants beside the file's, points.
const NAME: f32 = 90.0;
/// The field in which she is called something else.
const NAME_FIELD: &str = "name";

/// Shows the bar: her name, and from there what there is to press, in the order of the keys.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let narrow = room(ui.ctx().viewport_rect().size()).narrow;
    ui.spacing_mut().interact_size.y = 30.0;
    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
        if context.state.dialogs.path.is_some() {
            files::typed_path(ui, context);
            return;
        }
        // The buttons stand at the right, as broad as they were in the last frame.
        let id = ui.id().with("breadth of the buttons");
        let buttons_wide: f32 = ui.data(|d| d.get_temp(id)).unwrap_or(0.0);
        let left = (ui.available_width() - buttons_wide - size::GAP).max(40.0);
        let at_left = egui::vec2(left, ui.available_height());
        ui.allocate_ui_with_layout(at_left, Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(left);
            ui.set_max_width(left);
            said(ui, context, left);
        });
        let shown = ui.horizontal(|ui| buttons(ui, context, narrow));
        let breadth = shown.response.rect.width();
        if (breadth - buttons_wide).abs() > 0.5 {
            ui.data_mut(|d| d.insert_temp(id, breadth));
            ui.ctx().request_repaint();
        }
    });
}

/// Her name, whether she is saved, what goes on behind the window, in `breadth` points.
fn said(ui: &mut Ui, context: &mut Context, breadth: f32) {
    let tokens = context.tokens;
    let file = context.session.path().and_then(|p| p.file_name());
    let state = match (context.session.changed(), file.map(|f| f.to_string_lossy())) {
        (true, Some(file)) => [format!("{file}, not saved"), "not saved".into()],
        (false, Some(file)) => [format!("{file}, saved"), "saved".into()],
        (true, None) => ["no file yet, not saved".into(), "not saved".into()],
        (false, None) => ["no file yet".into(), "no file".into()],
    };
    // The file's name where there is room for it, or at least whether she is saved.
    let font = egui::FontId::proportional(size::SMALL);
    let wide = |text: &String| {
        let laid = ui.painter().layout_no_wrap(text.clone(), font.clone(), tokens.soft);
        laid.size().x + 2.0 * size::GAP
    };
    // That she is not saved is said before her name is.
    let said = state.iter().find(|text| wide(text) + NAME < breadth);
    let said = said.or(state.last().filter(|_| context.session.changed()));
    let room = breadth - said.map_or(0.0, wide);
    ui.scope(|ui| {
        ui.set_max_width(room);
        name(ui, context);
    });
    if let Some(said) = said {
        let label = ui.label(RichText::new(said).size(size::SMALL).color(tokens.soft));
        if let Some(path) = context.session.path() {
            label.on_hover_text(path.display().to_string());
        }
    }
    let left = ui.available_width();
    if let Some((what, share)) = &context.busy {
        if left > 240.0 {
            let room = egui::vec2(left - 130.0, ui.available_height());
            let words = RichText::new(what).size(size::SMALL).color(tokens.chalk);
            ui.allocate_ui_with_layout(room, Layout::left_to_right(Align::Center), |ui| {
                ui.add(egui::Label::new(words).truncate())
            });
        }
        let bar = egui::ProgressBar::new(*share);
        ui.add(bar.desired_width(ui.available_width().min(120.0)).desired_height(8.0));
    } else if context.old && left > 90.0 && stays_old(ui) {
        ui.label(RichText::new("computing …").size(size::SMALL).color(tokens.chalk));
    }
}

/// Whether the model has been old for so long that it is worth a word: half a second.
fn stays_old(ui: &Ui) -> bool {
    let id = ui.id().with("old since");
    let (now, frame) = (ui.input(|i| i.time), ui.ctx().cumulative_frame_nr());
    let (since, last): (f64, u64) = ui.data(|d| d.get_temp(id)).unwrap_or((now, frame));
    // Asked in every frame while it is old: a gap begins anew.
    let since = if frame > last + 1 { now } else { since };
    ui.data_mut(|d| d.insert_temp(id, (since, frame)));
    now - since > 0.5
}

/// Her name; click to change it.
fn name(ui: &mut Ui, context: &mut Context) {
    let hull = context.session.hull();
    if let Some(text) = context.state.typing.of(NAME_FIELD) {
        let mut text = text.to_string();
        let field =
            ui.add(egui::TextEdit::singleline(&mut text).id_salt("name").desired_width(160.0));
        let entered = field.lost_focus() && !ui.input(|i| i.key_pressed(egui::Key::Escape));
        if !field.has_focus() && !field.lost_focus() {
            stay_in(&field);
        }
        if entered && text.trim() != hull.name && !text.trim().is_empty() {
            context.ask(Command::Edit(Edit::Rename(text.trim().into())));
        }
        if field.lost_focus() {
            context.state.typing.forget(NAME_FIELD);
        } else {
            context.state.typing.put(NAME_FIELD, text);
        }
        return;
    }
    let text = RichText::new(&hull.name).font(egui::FontId::new(size::TITLE, semibold()));
    let path = context.session.path().map(|p| p.display().to_string());
    let hint =
        format!("{}\nclick to call her something else", path.unwrap_or("no file yet".into()));
    let label = ui.add(egui::Button::new(text).frame(false).truncate()).on_hover_text(hint);
    if label.clicked() {
        context.state.typing.put(NAME_FIELD, hull.name.clone());
    }
}

/// Undo and redo, view, file, units, the pack.
fn buttons(ui: &mut Ui, context: &mut Context, narrow: bool) {
    history(ui, context, narrow);
    let (view, write) =
        if narrow { ("View", "Pack") } else { ("View & help", "Write the build pack") };
    ui.menu_button(view, |ui| loft_menu(ui, context));
    ui.menu_button("File", |ui| file_menu(ui, context));
    units::show(ui, context);
    let pack = egui::Button::new(RichText::new(write).color(context.tokens.paper))
        .fill(context.tokens.chalk);
    let idle = context.busy.is_none();
    let pack = ui.add_enabled(idle, pack);
    Place::PackButton.keep(ui.ctx(), pack.rect);
    if pack
        .on_hover_text("Writes the build pack: patterns as DXF, SVG and full-size PDF, offsets and a summary   Ctrl B")
        .clicked()
    {
        files::choose(context, FilePurpose::Pack);
    }
}

fn file_menu(ui: &mut Ui, context: &mut Context) {
    let item = |ui: &mut Ui, text: &str, key: &str| {
        ui.add(egui::Button::new(text).shortcut_text(key)).clicked()
    };
    if ui.button("Boats, with pictures").clicked() {
        first_page::open(&ui.ctx().clone(), context);
    }
    if item(ui, "Open a boat or a table of offsets …", "Ctrl O") {
        files::open(context);
    }
    if item(ui, "Save", "Ctrl S") {
        files::save(context);
    }
    if item(ui, "Save as …", "Ctrl Shift S") {
        files::choose(context, FilePurpose::SaveAs);
    }
    if ui.button("Call her something else …").clicked() {
        context.state.typing.put(NAME_FIELD, context.session.hull().name.clone());
    }
    if item(ui, "Picture of the window …", "F12") {
        files::choose(context, FilePurpose::Picture);
    }
    ui.separator();
    ui.label(RichText::new("Paper of the patterns").size(size::SMALL).color(context.tokens.soft));
    ui.horizontal(|ui| {
        for (paper, word) in print::PAPERS {
            if widgets::chip(ui, context.state.table.paper == paper, word).clicked() {
                context.prefs.paper = Some(paper);
            }
        }
    });
    let heading = |ui: &mut Ui, text: &str| {
        ui.separator();
        ui.label(RichText::new(text).size(size::SMALL).color(context.tokens.soft));
    };
    if !context.prefs.recent.is_empty() {
        heading(ui, "Recent boats");
        for path in context.prefs.recent.clone() {
            let name = path.file_name().map_or(String::new(), |n| n.to_string_lossy().into_owned());
            if ui.button(name).on_hover_text(path.display().to_string()).clicked() {
                context.leave_for(Next::Open(path));
            }
        }
    }
    ui.separator();
    ui.label(RichText::new("Start from").size(size::SMALL).color(context.tokens.soft));
    for starter in &STARTERS {
        if ui.button(starter.kind()).clicked() {
            context.leave_for(Next::Start(starter));
        }
    }
    ui.separator();
    if item(ui, "Close", "Ctrl Q") {
        context.leave_for(Next::Close);
    }
}

/// How the loft itself is kept: light, text, motion, help.
fn loft_menu(ui: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    ui.checkbox(&mut context.prefs.dark, "dark colours");
    ui.checkbox(&mut context.prefs.motion, "smooth camera")
        .on_hover_text("Off: the view goes where it is sent at once");
    ui.label(RichText::new("Size of text").size(size::SMALL).color(tokens.soft));
    ui.horizontal(|ui| {
        for s in TEXT_SIZES {
            let text = format!("{:.0} %", 100.0 * s);
            if ui.selectable_label(context.prefs.text_size == s, text).clicked() {
                context.prefs.text_size = s;
            }
        }
    });
    ui.separator();
    if ui.add(egui::Button::new("Keys").shortcut_text("F1")).clicked() {
        context.state.dialogs.keys = true;
    }
    if ui.button("Words of the trade").clicked() {
        context.state.dialogs.words = Some(String::new());
    }
    if ui.button("Take the tour").clicked() {
        tour::go_to(context, Some(0));
    }
}

/// Undo and redo, each with its list of named steps; in a narrow bar without the lists.
fn history(ui: &mut Ui, context: &mut Context, narrow: bool) {
    let redo: Vec<String> = context.session.redo_names().take(LISTED).map(Into::into).collect();
    let undo: Vec<String> = context.session.undo_names().take(LISTED).map(Into::into).collect();
    let both = [
        ("Undo", undo, "earlier", "Ctrl Z", Command::Undo as fn(usize) -> Command),
        ("Redo", redo, "later", "Ctrl Shift Z", Command::Redo as fn(usize) -> Command),
    ];
    for (word, names, which, key, command) in both {
        let hint = names.first().map_or_else(|| "nothing".into(), |n| format!("{n}   {key}"));
        let button = ui.add_enabled(!names.is_empty(), egui::Button::new(word));
        if button.on_hover_text(hint).clicked() {
            context.ask(command(1));
        }
        if narrow {
            continue;
        }
        ui.add_enabled_ui(!names.is_empty(), |ui| {
            let list = ui.menu_button("…", |ui| {
                for (k, name) in names.iter().enumerate() {
                    if ui.button(name).clicked() {
                        context.ask(command(k + 1));
                    }
                }
            });
            list.response.widget_info(|| {
                let name = format!("{which} steps, to {}", word.to_lowercase());
                egui::WidgetInfo::labeled(egui::WidgetType::Button, !names.is_empty(), name)
            });
            list.response.on_hover_text(format!("{which} steps"));
        });
    }
}
