//! Fields to type in: lengths in any accepted unit, angles.

use bevy_egui::egui::text::{CCursor, CCursorRange};
use bevy_egui::egui::{self, FontId, RichText, Ui};

use crate::units::{KG_PER_POUND, Units, parse_length};
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::trade_words;

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

/// A length as it is typed at a figure: as a table has it, and where feet and inches are shown
/// also `5-6` for 5 ft 6 in and `15/32` or `3 1/2` for inches.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_typed(text: &str, units: Units) -> Result<f64, String> {
    let t = text.trim();
    let read = parse_length(t, units);
    if read.is_ok() || !units.imperial() {
        return read;
    }
    let two = t.split_once('-').filter(|(f, i)| {
        let whole = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
        whole(f) && whole(i)
    });
    match two {
        Some(_) => parse_length(&format!("{t}-0"), Units::FeetInchesEighths).or(read),
        None if t.contains('/') => parse_length(t, Units::Inch).or(read),
        None => read,
    }
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

/// Degrees as typed, in radians.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_degrees(text: &str) -> Result<f64, String> {
    let body = text.trim().trim_end_matches(['°', 'º']).trim_end_matches("deg").trim();
    let degrees: Result<f64, _> = body.replace(',', ".").parse();
    match degrees {
        Ok(d) if d.is_finite() && d.abs() < 90.0 => Ok(d.to_radians()),
        _ => Err(format!(
            "{text:?} is not an angle; accepted: degrees such as 12 or 12.5°, under 90"
        )),
    }
}

/// A number with its unit left out or written behind it, in a range.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_number(
    text: &str,
    unit: &str,
    range: std::ops::RangeInclusive<f64>,
) -> Result<f64, String> {
    let body = text.trim().trim_end_matches(unit).trim().replace(',', ".");
    match body.parse::<f64>() {
        Ok(v) if range.contains(&v) => Ok(v),
        _ => Err(format!(
            "{text:?} is not accepted; accepted: {} to {} {unit}",
            range.start(),
            range.end()
        )),
    }
}

/// A mass as typed, in kg: pounds where the reader's scales show them, unless kg is written
/// behind it, and the other way about. The range is in kg.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_mass(
    text: &str,
    units: Units,
    range: std::ops::RangeInclusive<f64>,
) -> Result<f64, String> {
    let t = text.trim();
    let pounds = t.ends_with("lb") || units.imperial() && !t.ends_with("kg");
    let in_one = if pounds { KG_PER_POUND } else { 1.0 };
    let shown = range.start() / in_one..=range.end() / in_one;
    parse_number(t, if pounds { "lb" } else { "kg" }, shown).map(|v| v * in_one)
}

/// A motor's power as typed, in hp: bare or with hp, or in kW.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_power(text: &str) -> Result<f64, String> {
    const HP_PER_KW: f64 = 1000.0 / crate::float::power::HORSEPOWER;
    let t = text.trim();
    let kilowatts = t.strip_suffix("kW").or_else(|| t.strip_suffix("kw"));
    let read = match kilowatts {
        // To a hundredth: no motor is told to more.
        Some(kw) => {
            parse_number(kw, "kW", 0.3..=112.0).map(|kw| (100.0 * kw * HP_PER_KW).round() / 100.0)
        }
        None => parse_number(t, "hp", 0.5..=150.0),
    };
    read.map_err(|_| format!("{text:?} is not accepted; accepted: 0.5 to 150 hp, or as 4.5 kW"))
}

/// Weight of dry cloth as typed, in g/m²: in oz/sq yd where the reader's units are feet and
/// inches or `oz` is written behind it.
///
/// # Errors
/// A sentence that names the text and what would be accepted.
pub fn parse_cloth(text: &str, units: Units) -> Result<f64, String> {
    /// NIST SP 811, appendix B.8.
    const PER_OUNCE: f64 = 33.905_75;
    let t = text.trim();
    let ounces = t.contains("oz") || units.imperial() && !t.contains('g');
    if ounces {
        let body = t.split("oz").next().unwrap_or(t);
        parse_number(body, "oz/sq yd", 0.0..=59.0).map(|oz| oz * PER_OUNCE)
    } else {
        parse_number(t.split('g').next().unwrap_or(t), "g/m²", 0.0..=2000.0)
    }
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

/// The same with a label of its own breadth (points), which is given back.
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
    // In a narrow card the name stands above its field.
    let narrow = ui.available_width() < breadth + FIELD + 40.0;
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
        if let Some(meaning) = trade_words::meaning(label_text) {
            label.clone().on_hover_text(meaning);
        }
        let mut text = context.state.typing.of(key).unwrap_or(shown).to_string();
        let field = ui.add(
            egui::TextEdit::singleline(&mut text)
                .id_salt(key)
                .desired_width(if breadth.is_finite() {
                    FIELD.min(ui.available_width() - 32.0)
                } else {
                    ui.available_width() - 32.0
                })
                .font(FontId::monospace(size::SMALL)),
        );
        let field = field.labelled_by(label.id);
        note_place(ui, &field);
        if field.changed() {
            context.state.typing.put(key, text.clone());
        }
        let wrong = parse(&text).err().filter(|_| text != shown);
        refused = wrong.clone().filter(|_| !field.has_focus() || told_before);
        if field.lost_focus() {
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
        if let Some(why) = wrong {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_typed_as_feet_and_inches_or_a_fraction() {
        let feet = Units::FeetInchesEighths;
        let near = |t: &str, inches: f64| {
            parse_typed(t, feet).is_ok_and(|mm| (mm - 25.4 * inches).abs() < 1e-9)
        };
        assert!(near("5-6", 66.0) && near("5-6-4", 66.5) && near("14 ft 3 in", 171.0));
        assert!(near("15/32", 0.46875) && near("3 1/2", 3.5) && near("14'", 168.0));
        assert!(parse_typed("5-13", feet).is_err() && parse_typed("6", feet).is_err());
        assert!(parse_typed("5-6", Units::Mm).is_err());
    }

    #[test]
    fn weights_and_power_are_typed_in_either_unit() {
        let near = |a: Result<f64, String>, b: f64| a.is_ok_and(|a| (a - b).abs() < 1e-3 * b);
        let feet = Units::FeetInchesEighths;
        assert!(near(parse_mass("200 lb", Units::Mm, 0.0..=500.0), 90.718));
        assert!(near(parse_mass("200", feet, 0.0..=500.0), 90.718));
        assert!(near(parse_mass("75 kg", feet, 0.0..=500.0), 75.0));
        assert!(near(parse_cloth("6", feet), 203.43) && near(parse_cloth("200 g/m²", feet), 200.0));
        assert!(near(parse_cloth("6 oz/sq yd", Units::Mm), 203.43));
        assert!(near(parse_power("4.5 kW"), 6.03) && near(parse_power("9.8 hp"), 9.8));
        assert!(parse_power("six").is_err() && parse_cloth("thick", Units::Mm).is_err());
    }

    #[test]
    fn numbers_carry_their_unit_or_not() {
        for text in ["6", "6 hp", " 6,0hp"] {
            assert_eq!(parse_number(text, "hp", 0.5..=150.0), Ok(6.0), "{text}");
        }
        for text in ["", "hp", "0", "900 hp", "NaN"] {
            assert!(parse_number(text, "hp", 0.5..=150.0).is_err(), "{text}");
        }
    }

    #[test]
    fn masses_are_read_off_the_reader_s_scales() {
        let (metric, loft) = (Units::Mm, Units::FeetInchesEighths);
        for (text, units, kg) in [
            ("80", metric, 80.0),
            ("80 kg", loft, 80.0),
            ("100", loft, 45.359_237),
            ("100 lb", metric, 45.359_237),
        ] {
            let found = parse_mass(text, units, 0.1..=5000.0).expect(text);
            assert!((found - kg).abs() < 1e-9, "{text}: {found}");
        }
        assert!(parse_mass("12000", loft, 0.1..=5000.0).is_err());
    }

    #[test]
    fn angles_are_read_as_people_write_them() {
        for text in ["12.5", "12,5", " 12.5°", "12.5 deg"] {
            assert!((parse_degrees(text).expect(text) - 12.5f64.to_radians()).abs() < 1e-12);
        }
        for text in ["", "steep", "90", "NaN"] {
            assert!(parse_degrees(text).is_err(), "{text}");
        }
    }
}
