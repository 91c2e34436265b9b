//! What is aboard, on the hull itself: loads to drag about, centres of gravity and
//! buoyancy, the first place to flood.

use bevy_egui::egui::{
    self, Align2, EventFilter, FontId, Key, Painter, PointerButton, Pos2, Rect, Sense, Shape,
    Stroke, StrokeKind, Ui, Vec2, vec2,
};

use crate::geom::{P3, V3};
use crate::hull::edit::Edit;
use crate::hull::{AfloatPlan, Load, LoadKind};
use crate::model::afloat::Case;
use crate::viewer::session::Command;
use crate::viewer::state::DraggedLoad;
use crate::viewer::theme::{Tokens, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::load_plan::plan_with_loads;
use crate::viewer::ui::stage::eye::Eye;
use crate::viewer::ui::stage::float_words;
use crate::viewer::ui::widgets::on_top;

/// Half the width of a load's mark, points.
const MARK: f32 = 8.0;
/// A load is set down to this many mm.
const STEP: f64 = 5.0;
/// An arrow key moves it by this many mm, with Shift by ten times that.
const KEY_STEP: f64 = 10.0;

/// Shows all of it.
pub(crate) fn show(ui: &mut Ui, context: &mut Context, eye: &Eye) {
    let Some((model, a)) = context.model.and_then(|m| Some((m, m.afloat.as_deref()?))) else {
        return;
    };
    let case = a.cases.get(context.state.case_of(a));
    let plan = plan_with_loads(context, model);
    let seen = |i: usize, load: &Load| {
        let there = case.and_then(|c| c.aboard.get(i).copied().flatten());
        eye.see(there.unwrap_or(P3::new(load.x, load.y, load.z)))
    };
    let mut marks: Vec<Pos2> =
        plan.loads.iter().enumerate().filter_map(|(i, load)| seen(i, load)).collect();
    let mut written = Rect::NOTHING;
    if let Some(case) = case {
        marks.extend(case.freeboard.and_then(|(_, opening)| eye.see(opening.at)));
        marks.extend(eye.see(case.weight.centre));
        marks.extend(case.floating.and_then(|f| eye.see(f.immersed.centroid)));
        written = float_words::show(ui, context, case, eye, &marks);
        let letters = centres(ui.painter(), context.tokens, eye, case, (&marks, written));
        marks.extend(letters);
    }
    let mut told = None;
    for (i, load) in plan.loads.iter().enumerate() {
        let given = P3::new(load.x, load.y, load.z);
        let there = case.and_then(|c| c.aboard.get(i).copied().flatten());
        // Where the case has moved someone, that is shown and cannot be pulled.
        let held = context.state.selection.dragged_load.is_some_and(|d| d.load == i);
        let moved = there.filter(|at| at.y != load.y && !held);
        let place = moved.unwrap_or(given);
        told = one(ui, context, eye, &plan, i, (place, there.is_some())).or(told);
    }
    if let Some(case) = case.filter(|c| !c.swamped()) {
        floods_first(ui.painter(), context.tokens, eye, case, (&marks, written));
    }
    // Over all marks, where it is pointed at.
    if let Some((i, at)) = told {
        figures(&on_top(ui), context, &plan.loads[i], at);
    }
}

/// G and B, their letters clear of what is written and of the marks; where the letters stand.
fn centres(
    painter: &Painter,
    tokens: &Tokens,
    eye: &Eye,
    case: &Case,
    (marks, written): (&[Pos2], Rect),
) -> Vec<Pos2> {
    let Some(f) = case.floating else {
        return Vec::new();
    };
    let small = FontId::proportional(size::SMALL);
    let mut letters = Vec::new();
    let mut mark = |p: P3, name: &str, filled: bool| {
        let Some(at) = eye.see(p) else {
            return;
        };
        painter.circle_filled(at, 5.5, tokens.paper);
        if filled {
            painter.circle_filled(at, 4.0, tokens.ink);
        } else {
            painter.circle_stroke(at, 4.0, Stroke::new(1.6, tokens.ink));
        }
        let letter = painter.layout_no_wrap(name.into(), small.clone(), tokens.ink);
        let places = [
            (Align2::LEFT_CENTER, vec2(9.0, 0.0)),
            (Align2::RIGHT_CENTER, vec2(-9.0, 0.0)),
            (Align2::CENTER_BOTTOM, vec2(0.0, -7.0)),
            (Align2::CENTER_TOP, vec2(0.0, 7.0)),
        ];
        let clear = |r: &Rect| {
            let of_marks = marks.iter().all(|m| *m == at || r.distance_to_pos(*m) > MARK + 4.0);
            of_marks && !r.intersects(written)
        };
        let mut all = places.iter().map(|(align, off)| align.anchor_size(at + *off, letter.size()));
        if let Some(place) = all.find(clear) {
            letters.push(place.center());
            painter.rect_filled(place.expand2(vec2(2.0, -2.0)), 3.0, tokens.paper);
            painter.galley(place.min, letter, tokens.ink);
        }
    };
    mark(case.weight.centre, "G", true);
    mark(f.immersed.centroid, "B", false);
    letters
}

/// The place where water would come in first, named where no load's mark and no words are in
/// the way.
fn floods_first(
    painter: &Painter,
    tokens: &Tokens,
    eye: &Eye,
    case: &Case,
    (marks, written): (&[Pos2], Rect),
) {
    let Some(at) = case.freeboard.and_then(|(_, opening)| eye.see(opening.at)) else {
        return;
    };
    let points = vec![at, at + vec2(-5.0, -9.0), at + vec2(5.0, -9.0)];
    painter.add(Shape::convex_polygon(points, tokens.watch, Stroke::new(1.0, tokens.paper)));
    let small = FontId::proportional(size::SMALL);
    let text = painter.layout_no_wrap("floods first".into(), small, tokens.watch);
    let place = |align: Align2, off| align.anchor_size(at + off, text.size());
    let places = [
        place(Align2::CENTER_BOTTOM, vec2(0.0, -11.0)),
        place(Align2::RIGHT_BOTTOM, vec2(-7.0, 0.0)),
        place(Align2::LEFT_BOTTOM, vec2(7.0, 0.0)),
        place(Align2::CENTER_TOP, vec2(0.0, 6.0)),
    ];
    let clear =
        |r: &Rect| !r.expand(3.0).intersects(written) && painter.clip_rect().contains_rect(*r);
    let free = |r: &&Rect| clear(r) && marks.iter().all(|m| r.distance_to_pos(*m) > MARK + 4.0);
    let Some(rect) = places.iter().find(free).copied() else {
        return;
    };
    painter.rect_filled(rect.expand(2.0), 3.0, tokens.paper.gamma_multiply(0.92));
    painter.galley(rect.min, text, tokens.watch);
}

/// One load: shown, dragged, pressed; its index and place on the screen while the pointer
/// is on it.
fn one(
    ui: &mut Ui,
    context: &mut Context,
    eye: &Eye,
    plan: &AfloatPlan,
    index: usize,
    (place, there): (P3, bool),
) -> Option<(usize, Pos2)> {
    let load = &plan.loads[index];
    let at = eye.see(place)?;
    let rect = Rect::from_center_size(at, vec2(2.0 * size::DUCK_HIT, 2.0 * size::DUCK_HIT));
    let response = ui.interact(rect, ui.id().with(("load", index)), Sense::drag() | Sense::CLICK);
    let name = format!("load {}: {}", load.name, context.session.hull().units.mass(load.mass_kg));
    response.widget_info(|| {
        let chosen = context.state.selection.load == Some(index);
        egui::WidgetInfo::selected(egui::WidgetType::Button, true, chosen, &name)
    });
    context.view.held |= response.hovered() || response.dragged();
    if place.y == load.y {
        drag(ui, context, eye, plan, index, at, &response);
        if response.has_focus() {
            keys(ui, context, eye, plan, index, response.id);
        }
    } else {
        let why = "This case moves people to one side: choose another to move them yourself.";
        response.clone().on_hover_text(why);
    }
    if response.clicked() || response.drag_started() {
        context.state.selection.load = Some(index);
        response.request_focus();
    }
    let lit =
        response.hovered() || response.dragged() || context.state.selection.load == Some(index);
    paint(ui.painter(), context.tokens, load, at, lit, there);
    (response.hovered() || response.dragged()).then_some((index, at))
}

fn drag(
    ui: &Ui,
    context: &mut Context,
    eye: &Eye,
    plan: &AfloatPlan,
    index: usize,
    at: Pos2,
    r: &egui::Response,
) {
    if r.drag_started_by(PointerButton::Primary) {
        let origin = ui.input(|i| i.pointer.press_origin()).unwrap_or(at);
        let grip = at - origin;
        let axis = kept_axis(eye);
        context.state.selection.dragged_load =
            Some(DraggedLoad { load: index, grip: grip.into(), axis });
    }
    let Some(held) = context.state.selection.dragged_load.filter(|d| d.load == index) else {
        return;
    };
    if r.dragged()
        && let Some(pointer) = r.interact_pointer_pos()
    {
        let pointer = pointer + vec2(held.grip[0], held.grip[1]);
        let ray = eye.ray(pointer);
        let load = &plan.loads[index];
        let from = P3::new(load.x, load.y, load.z);
        let slope = ray.along[held.axis];
        if slope.abs() > 0.05 {
            let to = ray.from + (from[held.axis] - ray.from[held.axis]) / slope * ray.along;
            let set = |now: f64, v: f64| {
                if (v - now).abs() < 1e-9 { now } else { (v / STEP).round() * STEP }
            };
            let moved = Load {
                x: set(load.x, to.x),
                y: set(load.y, to.y),
                z: set(load.z, to.z),
                ..load.clone()
            };
            if moved != *load {
                let mut next = plan.clone();
                next.loads[index] = moved;
                context.ask(Command::Drag(Edit::SetAfloat(Box::new(next), "move a load")));
            }
        }
    }
    if r.drag_stopped() {
        context.state.selection.dragged_load = None;
        context.ask(Command::DragEnd);
    }
}

/// The axis (0 aft, 1 out, 2 up) along which a load stays where it is: the one that she is
/// seen along, where that is square; aslant it keeps its height, which nobody means to change.
fn kept_axis(eye: &Eye) -> usize {
    const SQUARE: f32 = 0.95;
    const LEVEL: f32 = 0.2;
    let back = eye.orbit.rotation() * bevy::prelude::Vec3::Z;
    let facing = eye.orbit.facing();
    let along = [back.x, back.z, back.y].map(f32::abs);
    if along[facing] > SQUARE || along[2] < LEVEL { facing } else { 2 }
}

/// Arrow keys move the load in hand along the axes that lie in the screen.
fn keys(
    ui: &Ui,
    context: &mut Context,
    eye: &Eye,
    plan: &AfloatPlan,
    index: usize,
    widget: egui::Id,
) {
    let filter =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(widget, filter));
    let load = &plan.loads[index];
    let from = P3::new(load.x, load.y, load.z);
    let across = kept_axis(eye);
    // The axis that runs most nearly along a direction of the screen, and which way.
    let along = |way: Vec2| -> Option<V3> {
        let seen = |axis: usize| {
            let mut e = V3::zeros();
            e[axis] = 1.0;
            let run = eye.see(from + 100.0 * e)? - eye.see(from)?;
            Some((e, run.dot(way)))
        };
        let all = (0..3).filter(|axis| *axis != across).filter_map(seen);
        let (e, run) = all.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
        Some(e * f64::from(run.signum()))
    };
    let step = KEY_STEP * if ui.input(|i| i.modifiers.shift) { 10.0 } else { 1.0 };
    let mut to = from;
    for (key, way) in [
        (Key::ArrowRight, vec2(1.0, 0.0)),
        (Key::ArrowLeft, vec2(-1.0, 0.0)),
        (Key::ArrowUp, vec2(0.0, -1.0)),
        (Key::ArrowDown, vec2(0.0, 1.0)),
    ] {
        if ui.input(|i| i.key_pressed(key)) {
            to += step * along(way).unwrap_or_default();
        }
        if ui.input(|i| i.key_released(key)) {
            context.ask(Command::DragEnd);
        }
    }
    if to != from {
        let mut next = plan.clone();
        next.loads[index] = Load { x: to.x, y: to.y, z: to.z, ..load.clone() };
        // As long as a key is held it is one step.
        context.ask(Command::Drag(Edit::SetAfloat(Box::new(next), "move a load")));
    }
}

/// A person as a head over shoulders, a motor as an upright, all else as a box; what is not
/// aboard is hollow.
fn paint(p: &Painter, tokens: &Tokens, load: &Load, at: Pos2, lit: bool, there: bool) {
    let colour = if lit { tokens.chalk } else { tokens.ink };
    let fill = if there { colour } else { tokens.paper };
    let edge = Stroke::new(1.6, colour);
    let halo = tokens.paper.gamma_multiply(0.8);
    p.circle_filled(at, MARK + 4.0, halo);
    match load.kind {
        LoadKind::Person => {
            p.circle(at - vec2(0.0, 4.5), 4.0, fill, edge);
            let body = Rect::from_center_size(at + vec2(0.0, 4.5), vec2(13.0, 8.0));
            p.rect(body, 4.0, fill, edge, StrokeKind::Inside);
        }
        LoadKind::Motor => {
            let head = Rect::from_center_size(at - vec2(0.0, 4.0), vec2(10.0, 8.0));
            p.rect(head, 3.0, fill, edge, StrokeKind::Inside);
            p.line_segment([at, at + vec2(0.0, MARK)], Stroke::new(3.0, colour));
        }
        _ => {
            let body = Rect::from_center_size(at, vec2(13.0, 11.0));
            p.rect(body, 2.0, fill, edge, StrokeKind::Inside);
        }
    }
}

/// A load's weight and place beside it, inside the stage.
fn figures(p: &Painter, context: &Context, load: &Load, at: Pos2) {
    let tokens = context.tokens;
    let u = context.session.hull().units;
    let text = format!(
        "{}, {}\n{} aft · {} out · {} up",
        load.name,
        u.mass(load.mass_kg),
        u.show(load.x),
        u.show(load.y),
        u.show(load.z)
    );
    let galley = p.layout_no_wrap(text, FontId::monospace(size::SMALL), tokens.ink);
    let mut corner = at + vec2(16.0, -14.0 - galley.size().y);
    let room = p.clip_rect();
    corner.x = corner.x.min(room.max.x - galley.size().x - 8.0).max(room.min.x + 8.0);
    corner.y = corner.y.max(room.min.y + 6.0);
    let ground = Rect::from_min_size(corner, galley.size()).expand(4.0);
    p.rect(ground, 4.0, tokens.paper, Stroke::new(1.0, tokens.rule), StrokeKind::Outside);
    p.galley(corner, galley, tokens.ink);
}
