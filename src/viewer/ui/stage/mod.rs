//! What lies on the stage beside the hull: how she is shown, the views in words, the scale.

pub mod eye;
pub mod float_words;
pub mod legend;
pub mod loads;
pub mod overlay;

use bevy_egui::egui::containers::menu::{MenuButton, MenuConfig};
use bevy_egui::egui::{
    self, Align2, FontId, PopupCloseBehavior, Pos2, Rect, RichText, Shape, Stroke, Ui, pos2, vec2,
};

use crate::model::Model;
use crate::screen::ViewFrom;
use crate::units::Units;
use crate::viewer::state::{BonesPart, Look, PartId, Question, UiState};
use crate::viewer::theme::{Finish, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::chip;
use crate::viewer::ui::widgets::places::Place;

/// Height of a row of controls, points.
pub const ROW: f32 = 32.0;
/// Room under the lowest row, points.
pub const FOOT: f32 = 8.0;
/// Height of a scale with its words, points.
const SCALE: f32 = 34.0;
/// Breadth of stage that all views' names want side by side, points.
const ALL_VIEWS: f32 = 600.0;
/// Breadth of stage that the list of views, fit, and ways to look want side by side, points.
const TIGHT: f32 = 330.0;
/// Least stage on which the map's legend stands, points.
const LEGEND: (f32, f32) = (420.0, 250.0);

/// Height of what stands at the stage's foot, points: the views, and a scale over them.
pub fn foot(context: &Context) -> f32 {
    ROW + FOOT + if context.view.goal.parallel { SCALE } else { 0.0 }
}

/// Shows all of it.
pub fn show(ui: &mut Ui, context: &mut Context, stage: Rect) {
    let foot = Rect::from_min_max(
        pos2(stage.min.x + 12.0, stage.max.y - FOOT - ROW),
        stage.max - vec2(12.0, FOOT),
    );
    let few = stage.width() < ALL_VIEWS;
    ui.scope_builder(egui::UiBuilder::new().max_rect(foot), |ui| {
        ui.horizontal(|ui| views(ui, context, few));
    });
    let head = Rect::from_min_max(stage.min + vec2(12.0, 8.0), stage.max - vec2(12.0, 0.0));
    let head = ui.scope_builder(egui::UiBuilder::new().max_rect(head), |ui| {
        ui.horizontal_wrapped(|ui| looks(ui, context));
        sliders(ui, context);
        ui.min_rect()
    });
    Place::StageHead.keep(ui.ctx(), head.inner);
    let mapped = matches!(context.state.question, Question::Skin | Question::Bones);
    let lumber = context.state.question != Question::Bones
        || context.state.selection.bones == BonesPart::Lumber;
    let room = stage.width() >= LEGEND.0 && stage.height() >= LEGEND.1;
    let shaded = context.state.display.map && mapped && lumber;
    let keyed = shaded && room && context.state.look() != Look::Lines;
    if keyed {
        legend::show(ui, context, stage);
    }
    if context.view.now.parallel {
        scale_bar(ui, context, stage, keyed);
    }
}

/// The views, in words; in a list where the stage is narrow.
fn views(ui: &mut Ui, context: &mut Context, few: bool) {
    ui.spacing_mut().item_spacing.x = 4.0;
    let tight = ui.available_width() < TIGHT;
    if few {
        let words = RichText::new("look from …").size(size::SMALL);
        MenuButton::from_button(egui::Button::new(words).small()).ui(ui, |ui| {
            from(ui, context);
            if tight {
                ui.separator();
                ways(ui, context);
            }
        });
    } else {
        from(ui, context);
    }
    ui.add_space(6.0);
    if chip(ui, false, "fit").on_hover_text("All of her in sight   key F").clicked() {
        context.view.fit = true;
    }
    if !tight {
        ways(ui, context);
    }
}

/// Without perspective, and turning by herself.
fn ways(ui: &mut Ui, context: &mut Context) {
    let parallel = chip(ui, context.view.parallel, "parallel")
        .on_hover_text("Without perspective, with a scale   key P");
    if parallel.clicked() {
        context.view.parallel = !context.view.parallel;
        context.view.goal.parallel = context.view.parallel;
    }
    let turns =
        chip(ui, context.view.turntable, "slow turn").on_hover_text("She turns by herself   key T");
    if turns.clicked() {
        context.view.turntable = !context.view.turntable;
    }
}

/// Where she can be looked at from.
fn from(ui: &mut Ui, context: &mut Context) {
    for (i, view) in ViewFrom::ALL.into_iter().enumerate() {
        if chip(ui, false, view.word()).on_hover_text(format!("key {}", i + 1)).clicked() {
            context.view.asked = Some(view);
        }
    }
}

/// How much of her is shown and what is drawn over it.
fn looks(ui: &mut Ui, context: &mut Context) {
    ui.spacing_mut().item_spacing.x = 4.0;
    for look in Look::ALL {
        let chosen = context.state.look() == look;
        if chip(ui, chosen, look.word()).on_hover_text("Ctrl L goes on to the next").clicked() {
            context.state.set_look(look);
        }
    }
    ui.add_space(6.0);
    if context.state.lies_flat() {
        let lay = chip(ui, false, "lay on the table");
        if lay.on_hover_text("The patterns: measure, print, full size   Ctrl T").clicked() {
            context.state.table.open = true;
        }
    }
    let state = &mut *context.state;
    // Several things are often switched at once: a click outside closes it.
    let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let words = RichText::new("show …").size(size::SMALL);
    MenuButton::from_button(egui::Button::new(words).small()).config(stays).ui(ui, |ui| {
        match state.question {
            Question::Skin => {
                ui.checkbox(&mut state.display.map, "how near the sheets are to their limit");
            }
            Question::Bones => {
                ui.checkbox(&mut state.display.map, "the strain of the lumber");
            }
            _ => {}
        }
        ui.checkbox(&mut state.display.stripes, "fairness stripes")
            .on_hover_text("Where a stripe kinks, so does the skin");
        if !state.turned() {
            ui.checkbox(&mut state.display.half, "the starboard half alone");
        }
        let extent = context.model.map(|m| (m.lines.extent(|p| p.x), m.lines.extent(|p| p.z)));
        let Some(((x0, x1), (z0, z1))) = extent else {
            return;
        };
        let mut cut = state.display.section.is_some();
        if ui.checkbox(&mut cut, "a section").changed() {
            state.display.section = cut.then_some(0.5 * (x0 + x1));
        }
        let mut afloat = state.display.water.is_some();
        let own_water = state.turned() || state.question == Question::Afloat;
        if !own_water && ui
            .checkbox(&mut afloat, "water at a height")
            .on_hover_text("A height of your choosing, to see her by. Where she floats by herself is Afloat's to say.")
            .changed()
        {
            state.display.water = afloat.then_some(z0 + 0.25 * (z1 - z0));
        }
        ui.separator();
        for finish in Finish::ALL {
            ui.radio_value(&mut context.prefs.finish, finish, finish.word());
        }
    });
}

/// The sliders of what is switched on.
fn sliders(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        return;
    };
    let units = context.session.hull().units;
    let ((x0, x1), (z0, z1)) = (model.lines.extent(|p| p.x), model.lines.extent(|p| p.z));
    let state = &mut *context.state;
    if state.unfolds() {
        let mut percent = 100.0 * state.display.opened;
        let slider = egui::Slider::new(&mut percent, 0.0..=100.0).show_value(false);
        let changed = labelled(ui, "sheets: on the hull … on the floor", slider).changed();
        if changed {
            state.display.opened = percent / 100.0;
        }
    }
    if state.turned() {
        build_order(ui, state, model, units);
    }
    let length = |value: f64, _: std::ops::RangeInclusive<usize>| units.show(value);
    let typed = move |text: &str| crate::units::parse_length(text, units).ok();
    if let Some(x) = &mut state.display.section {
        *x = x.clamp(x0, x1);
        let slider = egui::Slider::new(x, x0..=x1).custom_formatter(length).custom_parser(typed);
        labelled(ui, "section, aft", slider);
    }
    if let Some(z) = state
        .display
        .water
        .as_mut()
        .filter(|_| !matches!(state.question, Question::Setup | Question::Afloat))
    {
        *z = z.clamp(z0, z1);
        let slider = egui::Slider::new(z, z0..=z1).custom_formatter(length).custom_parser(typed);
        labelled(ui, "water, up", slider);
    }
}

/// The slider through the build order, and what the step in hand asks.
fn build_order(ui: &mut Ui, state: &mut UiState, model: &Model, units: Units) {
    let order = crate::words::order::build_order(model, units);
    if order.is_empty() {
        return;
    }
    let mut done = state.display.built.unwrap_or(order.len());
    let words = match done {
        0 => "build order: a bare floor".to_string(),
        n => format!("build order: {n} of {} · {}", order.len(), order[n - 1].title),
    };
    let slider = egui::Slider::new(&mut done, 0..=order.len()).show_value(false);
    if labelled(ui, &words, slider).changed() {
        state.display.built = (done < order.len()).then_some(done);
        // When it comes to a plank, planks are to be seen.
        let plank = done > 0 && matches!(order[done - 1].parts[..], [PartId::Panel(_)]);
        if plank && state.look() == Look::Framed {
            state.set_look(Look::Planked);
        }
    }
}

/// A slider with its words, on paper: over wood and water they would not be read.
fn labelled(ui: &mut Ui, text: &str, slider: egui::Slider) -> egui::Response {
    let words = RichText::new(text).size(size::SMALL);
    let paper = ui.visuals().panel_fill;
    let ground = egui::Frame::new().fill(paper).corner_radius(4.0).inner_margin(vec2(6.0, 2.0));
    ground
        .show(ui, |ui| {
            if ui.available_width() < 460.0 {
                // Beside the slider the words would run off the stage.
                let label = ui.add(egui::Label::new(words).truncate());
                ui.spacing_mut().slider_width = 120.0;
                return ui.add(slider).labelled_by(label.id);
            }
            ui.horizontal(|ui| {
                ui.set_height(ROW - 8.0);
                ui.spacing_mut().slider_width = 180.0;
                ui.add(slider.text(words))
            })
            .inner
        })
        .inner
}

/// Round lengths for a scale bar, mm, in the units in use.
const METRIC: [f64; 8] = [10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0];
const FEET: [f64; 7] = [25.4, 76.2, 152.4, 304.8, 609.6, 1524.0, 3048.0];

/// The longest round length that fits in `room` points at `mm_per_point`.
pub fn round_length(units: Units, mm_per_point: f64, room: f64) -> f64 {
    let metric = matches!(units, Units::Mm | Units::M);
    let lengths: &[f64] = if metric { &METRIC } else { &FEET };
    lengths.iter().copied().rfind(|l| *l <= room * mm_per_point).unwrap_or(lengths[0])
}

/// A bar of a round length, in the square-on and parallel views; over the map's key where that
/// stands.
fn scale_bar(ui: &Ui, context: &Context, stage: Rect, keyed: bool) {
    let units = context.session.hull().units;
    let mm = 1000.0 * f64::from(context.view.now.metres_per_pixel(stage.height()));
    let length = round_length(units, mm, 160.0);
    let points = (length / mm) as f32;
    // Clear of the views' names where both would not stand side by side.
    let up = match keyed {
        true => legend::TALL,
        false if stage.width() < ALL_VIEWS + 200.0 => 20.0 + ROW,
        false => 20.0,
    };
    let right: Pos2 = stage.max - vec2(24.0, up);
    let left = right - vec2(points, 0.0);
    let stroke = Stroke::new(2.0, context.tokens.ink);
    let painter = ui.painter();
    let ground = painter.add(Shape::Noop);
    painter.line_segment([left, right], stroke);
    for end in [left, right] {
        painter.line_segment([end - vec2(0.0, 4.0), end + vec2(0.0, 4.0)], stroke);
    }
    let words = painter.text(
        right - vec2(0.5 * points, 4.0),
        Align2::CENTER_BOTTOM,
        units.show(length),
        FontId::monospace(size::SMALL),
        context.tokens.ink,
    );
    let all = words.union(Rect::from_two_pos(left, right)).expand(5.0);
    painter.set(ground, Shape::rect_filled(all, 4.0, context.tokens.paper));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_bar_is_round_and_fits() {
        assert_eq!(round_length(Units::Mm, 5.0, 160.0), 500.0);
        assert_eq!(round_length(Units::FeetInchesEighths, 5.0, 160.0), 609.6);
        assert_eq!(round_length(Units::Mm, 1e-4, 160.0), 10.0, "never nothing");
    }
}
