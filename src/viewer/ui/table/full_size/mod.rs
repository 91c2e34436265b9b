//! A pattern at full size on the screen or thrown by a projector, to be traced straight
//! onto the sheet: set by a ruler, squared by four corners.

pub mod throw;

use bevy_egui::egui::{self, Align2, FontId, Key, Rect, RichText, Sense, Stroke, Ui, pos2, vec2};
use throw::{UNCHECKED_PX_PER_MM, at_share, share_of};

use crate::drawing::{Drawing, Shape};
use crate::geom::P2;
use crate::units::{MM_PER_INCH, Units, parse_length};
use crate::viewer::paint2d::{Ink, Inks, paint_through};
use crate::viewer::prefs::Calibration;
use crate::viewer::state::table::{Doing, FullSize};
use crate::viewer::theme::{size, thrown};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::fields::{typed, typed_length};
use crate::viewer::ui::{table, widgets};

pub use throw::{Throw, laid};

/// Length of the bar of the ruler check, as a share of the window's width.
const BAR: f32 = 0.6;
/// How far the arrow keys shift the pattern, mm.
const STEP: f64 = 100.0;

/// Shows the pattern over the whole window.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let window = ui.max_rect();
    ui.painter().rect_filled(window, 0.0, thrown::GROUND);
    let Some(drawing) = table::in_hand(context).map(|l| &l.drawing) else {
        context.state.table.full_screen = false;
        return;
    };
    let px = f64::from(ui.ctx().pixels_per_point());
    let throw = Throw::of(&context.prefs.calibration, window, px);
    let full = &context.state.table.full;
    let low = corner_of(full, drawing, throw.height(&context.prefs.calibration, window));
    let inks =
        Inks { sheet: thrown::SHEET, ink: Ink::Two(thrown::LINE, thrown::MARK), paper: None };
    let map = |p: P2| throw.place(laid(full, low, p));
    if full.doing == Doing::Trace {
        paint_through(&ui.painter_at(window), drawing, &map, inks, Vec::new());
    }
    keys(ui, context, low);
    if !context.state.table.full.bare || context.state.table.full.doing != Doing::Trace {
        match context.state.table.full.doing {
            Doing::Trace => rulers(ui, context, &throw, window),
            Doing::Ruler => ruler_check(ui, context, window, px),
            Doing::Corners => corners(ui, context, window),
        }
        controls(ui, context, window);
    }
}

/// The sheet's corner on the laid pattern: where it was shifted to, or so that the
/// pattern's leftmost point stands half way up, a hand's breadth in. `height` is what the
/// window shows, mm.
fn corner_of(full: &FullSize, drawing: &Drawing, height: f64) -> P2 {
    if let Some([x, y]) = full.shift {
        return P2::new(x, y);
    }
    let points = drawing.items.iter().flat_map(|i| match &i.shape {
        Shape::Polyline { points, .. } => points.as_slice(),
        Shape::Text { .. } => &[],
    });
    let places = points.map(|p| laid(full, P2::origin(), *p));
    let left = places.min_by(|a, b| a.x.total_cmp(&b.x)).unwrap_or_default();
    P2::new(left.x - 60.0, left.y - 0.5 * height)
}

fn keys(ui: &Ui, context: &mut Context, low: P2) {
    if ui.ctx().egui_wants_keyboard_input() {
        return;
    }
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    let step = ui.input(|i| match (i.modifiers.shift, i.modifiers.alt) {
        (_, true) => 0.01 * STEP,
        (true, _) => 0.1 * STEP,
        _ => STEP,
    });
    let mut to = low;
    for (key, x, y) in [
        (Key::ArrowRight, 1.0, 0.0),
        (Key::ArrowLeft, -1.0, 0.0),
        (Key::ArrowUp, 0.0, 1.0),
        (Key::ArrowDown, 0.0, -1.0),
    ] {
        if pressed(key) {
            to.x += x * step;
            to.y += y * step;
        }
    }
    let full = &mut context.state.table.full;
    if to != low {
        full.shift = Some([to.x, to.y]);
        full.shifted = [full.shifted[0] + to.x - low.x, full.shifted[1] + to.y - low.y];
    }
    if pressed(Key::H) {
        full.bare = !full.bare;
    }
}

fn metric(context: &Context) -> bool {
    matches!(context.session.hull().units, Units::Mm | Units::M)
}

/// Two rulers along the sheet's lower left, to lay a real one against.
fn rulers(ui: &Ui, context: &Context, throw: &Throw, window: Rect) {
    let painter = ui.painter_at(window);
    let stroke = Stroke::new(1.0, thrown::MARK);
    let metric = metric(context);
    let (tick, every, per) = if metric { (10.0, 10, 100.0) } else { (25.4 / 2.0, 2, 25.4) };
    for along_x in [true, false] {
        let at =
            |v: f64, off: f64| throw.place(if along_x { P2::new(v, off) } else { P2::new(off, v) });
        for k in 0..=60 {
            let v = tick * f64::from(k);
            let long = k % every == 0;
            let (Some(a), Some(b)) = (at(v, 0.0), at(v, if long { 12.0 } else { 6.0 })) else {
                continue;
            };
            painter.line_segment([a, b], stroke);
            if long && k > 0 {
                let unit = if metric { "mm" } else { "in" };
                let text = format!("{:.0} {unit}", v / per * if metric { 100.0 } else { 1.0 });
                if let Some(p) = at(v, 14.0) {
                    let font = FontId::monospace(size::SMALL);
                    let align = if along_x { Align2::CENTER_BOTTOM } else { Align2::LEFT_CENTER };
                    painter.text(p, align, text, font, thrown::MARK);
                }
            }
        }
    }
}

/// A bar on the screen, and a field for what a ruler says of it.
fn ruler_check(ui: &mut Ui, context: &mut Context, window: Rect, px: f64) {
    let width = (window.width() * BAR).round();
    let left = window.center() - vec2(0.5 * width, 60.0);
    let painter = ui.painter_at(window);
    let stroke = Stroke::new(2.0, thrown::LINE);
    let right = left + vec2(width, 0.0);
    painter.line_segment([left, right], stroke);
    for end in [left, right] {
        painter.line_segment([end - vec2(0.0, 40.0), end + vec2(0.0, 40.0)], stroke);
    }
    let pixels = f64::from(width) * px;
    let c = context.prefs.calibration;
    let known = if c.px_per_mm > 0.0 { c.px_per_mm } else { UNCHECKED_PX_PER_MM };
    let area = Rect::from_center_size(window.center() + vec2(0.0, 60.0), vec2(460.0, 120.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(area), |ui| {
        widgets::sheet(context.tokens).show(ui, |ui| {
            let words = "Lay a steel ruler on the screen (or on the sheet, under a projector) and type the length from the left edge of one upright to the left edge of the other.";
            ui.label(RichText::new(words).size(size::SMALL));
            let units = context.session.hull().units;
            // To the tenth: over a long side a millimetre here would be several there.
            let shown = match units {
                Units::Mm | Units::M => format!("{:.1} mm", pixels / known),
                _ => units.show(pixels / known),
            };
            let read = |text: &str| parse_length(text, units);
            if let Some(mm) = typed(ui, context, "ruler", "it measures", &shown, read)
                && mm > 1.0
            {
                context.prefs.calibration.px_per_mm = pixels / mm;
            }
            if ui.button("That is right").clicked() {
                context.prefs.calibration.px_per_mm = known;
            }
            let checked = if c.px_per_mm > 0.0 { "checked" } else { "not checked yet" };
            let said = match metric(context) {
                true => format!("{checked}: {known:.3} pixels a millimetre"),
                false => format!("{checked}: {:.2} pixels an inch", known * MM_PER_INCH),
            };
            ui.label(RichText::new(said).size(size::SMALL).color(context.tokens.soft));
        });
    });
}

/// Four corners to drag onto a rectangle measured on the sheet.
fn corners(ui: &mut Ui, context: &mut Context, window: Rect) {
    let painter = ui.painter_at(window);
    let plain = [[0.2, 0.25], [0.8, 0.25], [0.8, 0.75], [0.2, 0.75]];
    let mut shares = context.prefs.calibration.corners.unwrap_or(plain);
    let places = shares.map(|s| at_share(window, s)).map(|p| pos2(p.x as f32, p.y as f32));
    for k in 0..4 {
        painter.line_segment([places[k], places[(k + 1) % 4]], Stroke::new(1.5, thrown::LINE));
    }
    const NAMES: [&str; 4] = ["lower left", "lower right", "upper right", "upper left"];
    for (k, at) in places.into_iter().enumerate() {
        let rect = Rect::from_center_size(at, vec2(36.0, 36.0));
        let handle = ui.interact(rect, ui.id().with(("corner", k)), Sense::click_and_drag());
        handle.widget_info(|| {
            egui::WidgetInfo::labeled(
                egui::WidgetType::Button,
                true,
                format!("{} corner", NAMES[k]),
            )
        });
        let mut to = at + handle.drag_delta();
        if handle.has_focus() {
            let filter = egui::EventFilter {
                horizontal_arrows: true,
                vertical_arrows: true,
                ..Default::default()
            };
            ui.memory_mut(|m| m.set_focus_lock_filter(handle.id, filter));
            for (key, by) in [
                (Key::ArrowRight, vec2(1.0, 0.0)),
                (Key::ArrowLeft, vec2(-1.0, 0.0)),
                (Key::ArrowUp, vec2(0.0, -1.0)),
                (Key::ArrowDown, vec2(0.0, 1.0)),
            ] {
                if ui.input(|i| i.key_pressed(key)) {
                    to += by;
                }
            }
        }
        let bright = handle.hovered() || handle.has_focus();
        let stroke = Stroke::new(if bright { 3.0 } else { 1.5 }, thrown::MARK);
        painter.circle_stroke(at, 14.0, stroke);
        painter.line_segment([at - vec2(8.0, 0.0), at + vec2(8.0, 0.0)], stroke);
        painter.line_segment([at - vec2(0.0, 8.0), at + vec2(0.0, 8.0)], stroke);
        if to != at {
            shares[k] = share_of(window, to);
            let next = Calibration { corners: Some(shares), ..context.prefs.calibration };
            // A folded rectangle is refused: the corner stays where it was.
            if matches!(Throw::of(&next, window, 1.0), Throw::Slanted(_)) {
                context.prefs.calibration = next;
            }
        }
    }
    // A net over the rectangle shows at once whether straight is straight.
    if let Throw::Slanted(h) = Throw::of(&context.prefs.calibration, window, 1.0) {
        let [w, ht] = context.prefs.calibration.rectangle_mm;
        let see = |x: f64, y: f64| h.apply(P2::new(x, y)).map(|q| pos2(q.x as f32, q.y as f32));
        for k in 1..6 {
            let t = f64::from(k) / 6.0;
            for (a, b) in [(see(w * t, 0.0), see(w * t, ht)), (see(0.0, ht * t), see(w, ht * t))] {
                if let (Some(a), Some(b)) = (a, b) {
                    painter.line_segment([a, b], Stroke::new(0.7, thrown::MARK));
                }
            }
        }
    }
    let area = Rect::from_center_size(window.center(), vec2(440.0, 150.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(area), |ui| {
        widgets::sheet(context.tokens).show(ui, |ui| {
            let words = "Mark a rectangle on the sheet with tape and square (check both diagonals), type its sides, and drag each corner onto its mark. Arrow keys move the corner in hand by a point.";
            ui.label(RichText::new(words).size(size::SMALL));
            let units = context.session.hull().units;
            let [w, h] = context.prefs.calibration.rectangle_mm;
            if let Some(v) = typed_length(ui, context, "rectangle-w", "its width", w, units).filter(|v| *v > 1.0) {
                context.prefs.calibration.rectangle_mm[0] = v;
            }
            if let Some(v) = typed_length(ui, context, "rectangle-h", "its height", h, units).filter(|v| *v > 1.0) {
                context.prefs.calibration.rectangle_mm[1] = v;
            }
        });
    });
}

/// At the foot: what is done, turning, the way back.
fn controls(ui: &mut Ui, context: &mut Context, window: Rect) {
    let bar = Rect::from_min_max(
        pos2(window.min.x, window.min.y),
        pos2(window.max.x, window.min.y + 40.0),
    );
    ui.painter().rect_filled(bar, 0.0, context.tokens.paper);
    ui.scope_builder(egui::UiBuilder::new().max_rect(bar.shrink2(vec2(12.0, 6.0))), |ui| {
        ui.horizontal(|ui| {
            let checked = context.prefs.calibration.px_per_mm > 0.0
                || context.prefs.calibration.corners.is_some();
            let full = &mut context.state.table.full;
            for (doing, word) in [
                (Doing::Trace, "trace"),
                (Doing::Ruler, "ruler check"),
                (Doing::Corners, "four corners"),
            ] {
                ui.selectable_value(&mut full.doing, doing, word);
            }
            ui.separator();
            if ui.button("turn").clicked() {
                full.turns = (full.turns + 1) % 4;
                (full.shift, full.shifted) = (None, [0.0; 2]);
            }
            if ui
                .selectable_label(full.over, "turned over")
                .on_hover_text("For the other side of the boat")
                .clicked()
            {
                full.over = !full.over;
                (full.shift, full.shifted) = (None, [0.0; 2]);
            }
            if context.prefs.calibration.corners.is_some()
                && ui.button("square-on").on_hover_text("Forget the four corners").clicked()
            {
                context.prefs.calibration.corners = None;
            }
            let units = context.session.hull().units;
            let [along, across] = full.shifted;
            let said = if checked {
                format!(
                    "shifted {} along, {} across by arrows (Shift, Alt: less) · H hides this · lay a ruler along the edge before you cut",
                    units.show(along),
                    units.show(across)
                )
            } else {
                "not true to size yet: do the ruler check first".to_string()
            };
            let colour = if checked { context.tokens.soft } else { context.tokens.stop };
            ui.label(RichText::new(said).size(size::SMALL).color(colour));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.button("Back").on_hover_text("Esc").clicked() {
                    context.state.table.full_screen = false;
                }
            });
        });
    });
}
