//! The patterns on the table: one at a time, as large as one likes, to be measured, looked
//! at as printed pages, or thrown at full size onto a sheet.

pub mod edges;
pub mod full_size;
pub mod measure;
pub mod print;
pub mod sheet;

use bevy_egui::egui::{self, Align2, FontId, Key, Pos2, Rect, Sense, Ui, pos2, vec2};

use crate::drawing::Drawing;
use crate::geom::P2;
use crate::viewer::drawings_on_show::Laid;
use crate::viewer::paint2d::{Inks, Placement, leaves_words_out, paint};
use crate::viewer::state::table::Tool;
use crate::viewer::state::{PartId, Trace};
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::strips::flat;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::chip;

/// Room left round a fitted pattern, points.
const MARGIN: f32 = 60.0;
/// Points for each mm: as small as a boat on a stamp, as large as ten times life.
const ZOOMS: (f32, f32) = (0.02, 40.0);

/// The drawing that lies on the table.
pub fn in_hand<'a>(context: &Context<'a>) -> Option<&'a Laid> {
    context.patterns.get(context.state.drawing(context.patterns.len()))
}

/// Shows the table.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let rect = ui.max_rect();
    let Some(laid) = in_hand(context) else {
        ui.centered_and_justified(|ui| {
            ui.label("There is no pattern yet: her lines cannot be computed as they are.");
        });
        return;
    };
    let response = ui.interact(rect, ui.id().with("table"), Sense::click_and_drag());
    response.widget_info(|| {
        let name = format!("drawing: {}", laid.name);
        egui::WidgetInfo::labeled(egui::WidgetType::Image, true, name)
    });
    let drawing = &laid.drawing;
    let sheet = sheet::on_table(context, drawing);
    let look = looked(context, drawing, rect);
    let lies = place(rect, look);
    let taken_up = sheet.as_ref().is_some_and(|s| s.act(ui, context, lies, &response));
    if taken_up {
        // A drawing made anew is laid down where the one before it lay.
        context.state.table.looked = Some(look);
    }
    let at = moved(ui, context, (look, taken_up), rect, &response);
    let painter = ui.painter_at(rect);
    let inks = Inks { paper: Some(context.tokens.floor), ..flat::inks(context, None) };
    let on_panel = context.model.zip(laid.panel());
    let traced = on_panel.map(|(model, panel)| {
        point(context, panel, &response, at);
        flat::trace(context, panel, &model.panels[panel].flat, at)
    });
    let chosen = sheet.as_ref().and_then(|s| s.chosen(context, at));
    let over = traced.unwrap_or_default().into_iter().chain(chosen).collect();
    paint(&painter, drawing, at, inks, over);
    if let Some((model, panel)) = on_panel
        && context.state.table.dimensions
        && context.state.table.tool != Tool::Print
    {
        edges::show(&painter, context, model, panel, at);
    }
    match context.state.table.tool {
        Tool::Look => {}
        Tool::Measure => measure::show(ui, context, drawing, at, &response),
        Tool::Print => print::show(ui, context, drawing, at, rect, &response),
    }
    if let Some(sheet) = &sheet {
        sheet.paint(&painter, context, at);
    }
    if context.state.table.tool == Tool::Look {
        let small = leaves_words_out(drawing, at.scale);
        let zoom: &[&str] = if small { &["zoom in to read all its words"] } else { &[] };
        foot(&painter, context, rect, sheet.map_or(zoom, |s| s.words(context, small)));
    }
    toolbar(ui, context, rect);
}

/// The ruling under the pointer is traced here and on the hull.
fn point(context: &mut Context, panel: usize, response: &egui::Response, at: Placement) {
    let (Some(model), Some(p)) = (context.model, response.hover_pos()) else {
        return;
    };
    let p_model = &model.panels[panel];
    if let Some(ruling) = flat::ruling_at(&p_model.flat, at.point(p), p_model.full_width) {
        context.state.point_at(PartId::panel(panel));
        context.state.point_at_ruling(Trace { panel, ruling });
    }
}

/// What can be done, at the foot: the first of some words that goes in.
fn foot(painter: &egui::Painter, context: &Context, rect: Rect, words: &[&str]) {
    let font = FontId::monospace(size::SMALL);
    let broad =
        |w: &&&str| painter.layout_no_wrap((**w).into(), font.clone(), context.tokens.ink).size().x;
    if let Some(words) = words.iter().find(|w| broad(w) <= rect.width() - 16.0) {
        let at = rect.center_bottom() - vec2(0.0, 8.0);
        tag(painter, context, at, Align2::CENTER_BOTTOM, words);
    }
}

/// The place of a drawing in the middle of the table, mm, and points for each mm.
type Look = ([f64; 2], f32);

/// Where that puts the drawing.
fn place(rect: Rect, (centre, scale): Look) -> Placement {
    let origin = rect.center() + vec2(-centre[0] as f32 * scale, centre[1] as f32 * scale);
    Placement { origin, scale }
}

/// How a drawing lies: as it was moved last, or all of it.
fn looked(context: &Context, drawing: &Drawing, rect: Rect) -> Look {
    let (low, high) = drawing.bounds().unwrap_or_else(|| flat::outline_box(drawing));
    let room = rect.size() - vec2(2.0 * MARGIN, 2.0 * MARGIN);
    let whole = (room.x / (high.x - low.x) as f32).min(room.y / (high.y - low.y) as f32);
    let middle = [0.5 * (low.x + high.x), 0.5 * (low.y + high.y)];
    context.state.table.looked.unwrap_or((middle, whole))
}

/// Pans by dragging, zooms by the wheel where the pointer is; where the drawing then lies. Where
/// drags and arrows are taken up by something on it, it stays.
fn moved(
    ui: &Ui,
    context: &mut Context,
    ((mut centre, mut scale), taken_up): (Look, bool),
    rect: Rect,
    response: &egui::Response,
) -> Placement {
    let place = |centre: [f64; 2], scale: f32| place(rect, (centre, scale));
    let mut moved = false;
    if response.dragged() && !taken_up {
        let by = response.drag_delta();
        centre[0] -= f64::from(by.x / scale);
        centre[1] += f64::from(by.y / scale);
        moved = by != egui::Vec2::ZERO;
    }
    if let Some(pointer) = response.hover_pos() {
        let (scroll, pinch) = ui.input(|i| (i.smooth_scroll_delta().y, i.zoom_delta()));
        let factor = (scroll / 240.0).exp() * pinch;
        if factor != 1.0 {
            let under = place(centre, scale).point(pointer);
            scale = (scale * factor).clamp(ZOOMS.0, ZOOMS.1);
            let after = place(centre, scale).point(pointer);
            centre[0] += under.x - after.x;
            centre[1] += under.y - after.y;
            moved = true;
        }
    }
    if response.has_focus() {
        let filter = egui::EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..Default::default()
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
    }
    // With the keys: arrows shift, plus and minus zoom.
    if !ui.ctx().text_edit_focused()
        && (response.has_focus() || ui.memory(|m| m.focused().is_none()))
    {
        let pressed = |key| ui.input(|i| i.key_pressed(key));
        let step = f64::from(80.0 / scale);
        for (key, x, y) in [
            (Key::ArrowLeft, -1.0, 0.0),
            (Key::ArrowRight, 1.0, 0.0),
            (Key::ArrowUp, 0.0, 1.0),
            (Key::ArrowDown, 0.0, -1.0),
        ] {
            if pressed(key) && !taken_up {
                centre[0] += x * step;
                centre[1] += y * step;
                moved = true;
            }
        }
        for (key, factor) in [(Key::Plus, 1.25), (Key::Equals, 1.25), (Key::Minus, 0.8)] {
            if pressed(key) {
                scale = (scale * factor).clamp(ZOOMS.0, ZOOMS.1);
                moved = true;
            }
        }
    }
    if response.double_clicked() && context.state.table.tool == Tool::Look {
        context.state.table.looked = None;
    } else if moved {
        context.state.table.looked = Some((centre, scale));
    }
    place(centre, scale)
}

/// Over the pattern: which one, what the pointer does, full size, back to the hull.
fn toolbar(ui: &mut Ui, context: &mut Context, rect: Rect) {
    let head =
        Rect::from_min_max(rect.min + vec2(12.0, 8.0), pos2(rect.max.x - 12.0, rect.min.y + 40.0));
    // The ground is as high as the rows that the controls take.
    let ground = ui.painter().add(egui::Shape::Noop);
    let colour = context.tokens.paper.gamma_multiply(0.94);
    let shown = ui.scope_builder(egui::UiBuilder::new().max_rect(head), |ui| {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            let names: Vec<String> = context.patterns.iter().map(|l| l.name.clone()).collect();
            let chosen = context.state.drawing(names.len());
            let panels = in_hand(context).is_some_and(|l| l.panel().is_some());
            let lay = |context: &mut Context, i: usize| {
                if i != chosen {
                    context.state.lay_sheet(i);
                }
            };
            if names.len() > 3 {
                widgets::choice(ui, "pattern", 84.0, &names[chosen], |ui| {
                    for (i, name) in names.iter().enumerate() {
                        if ui.selectable_label(i == chosen, name).clicked() {
                            lay(context, i);
                        }
                    }
                });
            } else {
                for (i, name) in names.iter().enumerate() {
                    if chip(ui, i == chosen, name).clicked() {
                        lay(context, i);
                    }
                }
            }
            ui.separator();
            for (tool, word) in Tool::ALL {
                if chip(ui, context.state.table.tool == tool, word).clicked() {
                    context.state.table.tool = tool;
                }
            }
            ui.separator();
            if panels {
                let on = context.state.table.dimensions;
                let words = "Dimensions along the edges, station by station";
                if chip(ui, on, "edges").on_hover_text(words).clicked() {
                    context.state.table.dimensions = !on;
                }
            }
            if chip(ui, false, "fit").clicked() {
                context.state.table.looked = None;
            }
            let full = chip(ui, false, "full size").on_hover_text(
                "One to one on this screen or a projector, to trace straight onto the sheet",
            );
            if full.clicked() {
                context.state.table.full_screen = true;
            }
            ui.separator();
            if chip(ui, false, "back to the hull").on_hover_text("Ctrl T, or Esc").clicked() {
                context.state.table.open = false;
            }
        });
    });
    let height = shown.response.rect.height() + 16.0;
    let covered = Rect::from_min_size(rect.min, vec2(rect.width(), height));
    ui.painter().set(ground, egui::Shape::rect_filled(covered, 0.0, colour));
}

/// A word on a paper ground, so that it can be read over lines.
pub fn tag(painter: &egui::Painter, context: &Context, at: Pos2, align: egui::Align2, text: &str) {
    let tokens = context.tokens;
    let galley = painter.layout_no_wrap(text.into(), FontId::monospace(size::SMALL), tokens.ink);
    let rect = within(align.anchor_size(at, galley.size()), painter.clip_rect().shrink(4.0));
    painter.rect_filled(rect.expand(3.0), 3.0, tokens.paper);
    painter.galley(rect.min, galley, tokens.ink);
}

/// A rectangle moved until it lies in `room`; what is larger begins at its corner.
fn within(rect: egui::Rect, room: egui::Rect) -> egui::Rect {
    let back = (room.max - rect.max).min(vec2(0.0, 0.0));
    let moved = rect.translate(back);
    moved.translate((room.min - moved.min).max(vec2(0.0, 0.0)))
}

/// A drawing point as the table keeps it.
pub fn kept(p: P2) -> [f64; 2] {
    [p.x, p.y]
}
