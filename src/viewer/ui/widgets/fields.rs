//! Fields to type in: what they show, what is refused beside them, where they stay.

use bevy_egui::egui::text::{CCursor, CCursorRange};
use bevy_egui::egui::{self, FontId, RichText, Ui};

use crate::units::{Units, parse_length};
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::typed::parse_typed;

/// Width of a field's label, points.
const LABEL: f32 = 112.0;
/// Width of a field, points.
const FIELD: f32 = 132.0;

/// A field for a length in any accepted unit; the length in mm once it is entered.
pub fn typed_length(
    ui: &mut Ui,
    context: &mut Context,
    key: &str,
    label: &str,
    value: f64,
    units: Units,
) -> Option<f64> {
    typed(ui, context, key, label, &units.show(value), |text| parse_typed(text, units))
}

/// A field for the measured thickness of a sheet, as a caliper has it: tenths of a millimetre,
/// or thousandths of an inch. A thirty-second would show another sheet than the one that is
/// computed with.
pub fn typed_gauge(
    ui: &mut Ui,
    context: &mut Context,
    key: &str,
    label: &str,
    mm: f64,
) -> Option<f64> {
    let units = context.session.hull().units;
    let bare = if units.imperial() { Units::Inch } else { Units::Mm };
    typed(ui, context, key, label, &units.gauge(mm), |text| parse_length(text, bare))
}

/// A field for a thickness or a section: mm to the tenth, or inches to 1/32, as a caliper
/// shows it.
pub fn typed_thickness(
    ui: &mut Ui,
    context: &mut Context,
    key: &str,
    label: &str,
    mm: f64,
) -> Option<f64> {
    let units = context.session.hull().units;
    let whole_mm = !units.imperial() && (mm - mm.round()).abs() < 0.005;
    let shown = if whole_mm { format!("{mm:.0} mm") } else { units.fine(mm) };
    let bare = if units.imperial() { Units::Inch } else { Units::Mm };
    typed(ui, context, key, label, &shown, |text| parse_length(text, bare))
}

/// A labelled field that keeps what is being typed until it is entered or left. What is
/// refused stays, with a mark and its reason; Escape gives the old figure back. Once entered,
/// the field keeps the keys with all of it chosen, so that the next figure or Tab goes on from
/// there.
pub fn typed<T>(
    ui: &mut Ui,
    context: &mut Context,
    key: &str,
    label_text: &str,
    shown: &str,
    parse: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    typed_beside(ui, context, key, (label_text, LABEL), shown, parse).0
}

/// The same with a label of its own breadth (points), which is given back. Where that is
/// infinite, the field is of a list: it has the card's breadth and as many rows as it fills.
pub fn typed_beside<T>(
    ui: &mut Ui,
    context: &mut Context,
    key: &str,
    (label_text, breadth): (&str, f32),
    shown: &str,
    parse: impl Fn(&str) -> Result<T, String>,
) -> (Option<T>, egui::Response) {
    let tokens = context.tokens;
    let mut out = None;
    // A name wider than its column stands above its field, so that fields begin in one line.
    let wide = widgets::breadth(ui, label_text, FontId::proportional(size::SMALL)) > breadth;
    let room = FIELD.max(widgets::breadth(ui, shown, FontId::monospace(size::SMALL)) + 12.0);
    let list = breadth.is_infinite();
    let narrow = wide || ui.available_width() < breadth + room + 40.0;
    let layout = if narrow {
        egui::Layout::top_down(egui::Align::Min)
    } else {
        egui::Layout::left_to_right(egui::Align::Center)
    };
    let told = egui::Id::new(("refused", key));
    let told_before = ui.data(|d| d.get_temp(told)).unwrap_or(false);
    let mut refused = None;
    let place = egui::vec2(ui.available_width(), 22.0);
    let label = ui.allocate_ui_with_layout(place, layout, |ui| {
        let name = RichText::new(label_text).size(size::SMALL).color(tokens.soft);
        let label = if narrow { ui.label(name) } else { widgets::cell(ui, breadth, name) };
        if let Some(meaning) = crate::words::trade::meaning(label_text) {
            label.clone().on_hover_text(meaning);
        }
        let mut text = context.state.typing.of(key).unwrap_or(shown).to_string();
        let most = ui.available_width() - 32.0;
        let edit = match list {
            // A list goes on in the next row.
            true => egui::TextEdit::multiline(&mut text).desired_rows(1).return_key(None),
            false => egui::TextEdit::singleline(&mut text),
        };
        let breadth = if list { most } else { room.min(most) };
        let fixed = FontId::monospace(size::SMALL);
        let field = ui.add(edit.id_salt(key).desired_width(breadth).font(fixed));
        let field = field.labelled_by(label.id);
        note_place(ui, &field);
        if field.changed() {
            context.state.typing.put(key, text.clone());
        }
        let wrong = parse(&text).err().filter(|_| text != shown);
        let entered_list =
            list && field.has_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        refused = wrong.clone().filter(|_| !field.has_focus() || told_before || entered_list);
        if field.lost_focus() || entered_list {
            let left = ui.input(|i| i.key_pressed(egui::Key::Escape));
            // What is entered as it was shown is meant as it was shown: what stood behind may
            // have had more figures.
            let entered = ui.input(|i| i.key_pressed(egui::Key::Enter));
            let typed_here = context.state.typing.of(key).is_some();
            if (text != shown || typed_here && entered) && !left {
                out = parse(&text).ok();
            }
            // What cannot be read stays to be mended; leaving by Escape gives the old back.
            if wrong.is_none() || left {
                context.state.typing.forget(key);
            }
            if ui.input(|i| i.key_pressed(egui::Key::Enter)) {
                stay_in(&field);
            }
        }
        if let Some(why) = wrong.filter(|_| refused.is_none()) {
            ui.label(RichText::new("?").size(size::BODY).color(tokens.stop)).on_hover_text(why);
        }
        label
    });
    // Why, under the figure, once it was entered or left.
    ui.data_mut(|d| d.insert_temp(told, refused.is_some()));
    if let Some(why) = refused {
        ui.label(RichText::new(why).size(size::SMALL).color(tokens.stop));
    }
    (out, label.inner)
}

/// How far below the card's beginning its fields lie, points: in this frame and in the last.
#[derive(Clone, Default)]
struct Fields {
    /// Where the rows begin on the screen.
    top: f32,
    now: Vec<(egui::Id, f32)>,
    last: Vec<(egui::Id, f32)>,
    /// The field that the pointer is on, or else the one that has the keys.
    in_hand: Option<egui::Id>,
    /// Whether the pointer is on it.
    pointed: bool,
}

fn fields_id() -> egui::Id {
    egui::Id::new("where the fields of the card lie")
}

/// Begins the rows of a card.
pub fn begin_rows(ui: &Ui) {
    let before: Fields = ui.data(|d| d.get_temp(fields_id())).unwrap_or_default();
    let top = ui.cursor().top();
    let begun = Fields { top, now: Vec::new(), last: before.now, pointed: false, ..before };
    ui.data_mut(|d| d.insert_temp(fields_id(), begun));
}

/// Notes where a field lies, and whether the pointer is on it or the keys are in it.
fn note_place(ui: &Ui, field: &egui::Response) {
    let (hovered, focused) = (field.hovered(), field.has_focus());
    ui.data_mut(|d| {
        let fields: &mut Fields = d.get_temp_mut_or_default(fields_id());
        fields.now.push((field.id, field.rect.top() - fields.top));
        if hovered || focused && !fields.pointed {
            fields.in_hand = Some(field.id);
            fields.pointed |= hovered;
        }
    });
}

/// At the end of a card's rows: what is in hand stays where it is on the screen when words
/// above it grow or go.
pub fn stay_under_the_hand(ui: &Ui, same_card: bool) {
    let Some(fields) = ui.data(|d| d.get_temp::<Fields>(fields_id())).filter(|_| same_card) else {
        return;
    };
    let place = |all: &[(egui::Id, f32)]| {
        let id = fields.in_hand?;
        all.iter().find(|(f, _)| *f == id).map(|(_, below)| *below)
    };
    let Some((now, last)) = place(&fields.now).zip(place(&fields.last)) else {
        return;
    };
    if (now - last).abs() > 0.5 {
        let none = egui::style::ScrollAnimation::none();
        ui.scroll_with_delta_animation(egui::vec2(0.0, last - now), none);
        ui.ctx().request_repaint();
    }
}

/// Keeps the keys in a field, all of its text chosen.
pub fn stay_in(field: &egui::Response) {
    field.request_focus();
    if let Some(mut state) = egui::text_edit::TextEditState::load(&field.ctx, field.id) {
        let all = CCursorRange::two(CCursor::new(0), CCursor::new(usize::MAX >> 1));
        state.cursor.set_char_range(Some(all));
        state.store(&field.ctx, field.id);
    }
}
