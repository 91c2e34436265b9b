//! Drawn over the hull on the stage: her lines, the section, the ruling under the pointer,
//! ducks to pull; and what the pointer is on.

use bevy::prelude::Vec2;
use bevy_egui::egui::{Color32, Pos2, Rect, Shape, Stroke, Ui};
use nalgebra::Isometry3;

use crate::geom::plane::Plane;
use crate::geom::{P3, V3};
use crate::hull::{Duck, HullLine, HullLines};
use crate::panel::section;
use crate::part::LineId;
use crate::viewer::camera::Frame;
use crate::viewer::paint2d::dashes;
use crate::viewer::pick;
use crate::viewer::pick::Shown;
use crate::viewer::scene::stance::stance;
use crate::viewer::state::{DuckId, Grasp, Look, PanelId, PartId, Question, Trace};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::ducks::Hold;
use crate::viewer::ui::stage::eye::Eye;
use crate::viewer::ui::stage::loads;

/// Points of a line as drawn.
const SAMPLES: usize = 64;

fn port(p: P3) -> P3 {
    P3::new(p.x, -p.y, p.z)
}

/// Shows all of it.
pub fn show(ui: &mut Ui, context: &mut Context, stage: Rect) {
    let eye = Eye {
        orbit: context.view.now,
        frame: Frame {
            corner: Vec2::new(stage.min.x, stage.min.y),
            size: Vec2::new(stage.width(), stage.height()),
        },
        stance: context.model.map_or_else(Isometry3::identity, |m| stance(context.state, m)),
    };
    let clip = ui.clip_rect();
    ui.set_clip_rect(stage);
    if context.state.look() != Look::Planked {
        lines(ui, context, &eye);
    }
    if context.state.question == Question::Shape && context.state.look() != Look::Framed {
        compared(ui, context, &eye);
    }
    cut(ui, context, &eye);
    point(ui, context, &eye, stage);
    trace(ui, context, &eye);
    context.view.held = false;
    match context.state.question {
        Question::Shape => ducks(ui, context, &eye),
        Question::Afloat => {
            foam(ui, context, &eye);
            loads::show(ui, context, &eye);
        }
        _ => {}
    }
    ui.set_clip_rect(clip);
}

/// Blocks of foam as their edges.
fn foam(ui: &Ui, context: &Context, eye: &Eye) {
    let tokens = context.tokens;
    for (i, f) in context.session.hull().afloat.foam.iter().enumerate() {
        let lit = context.state.lit() == Some(PartId::Foam(i));
        let stroke = Stroke::new(if lit { 3.0 } else { 1.4 }, tokens.chalk);
        let corner = |k: usize, side: f64| {
            let of =
                |axis: usize, bit: usize| if k >> bit & 1 == 0 { f.from[axis] } else { f.to[axis] };
            eye.see(P3::new(of(0, 0), side * of(1, 1), of(2, 2)))
        };
        let sides: &[f64] = if f.both_sides { &[1.0, -1.0] } else { &[1.0] };
        for &side in sides.iter().filter(|s| **s > 0.0 || !context.state.display.half) {
            for k in 0..8 {
                for bit in (0..3).filter(|bit| k >> bit & 1 == 0) {
                    if let (Some(a), Some(b)) = (corner(k, side), corner(k | 1 << bit, side)) {
                        ui.painter().line_segment([a, b], stroke);
                    }
                }
            }
        }
    }
}

fn sampled(line: &HullLine) -> impl Iterator<Item = P3> {
    (0..=SAMPLES).map(|i| line.spline.at(line.spline.end() * i as f64 / SAMPLES as f64))
}

/// Lines, stations and transoms; the port side softer.
fn lines(ui: &Ui, context: &Context, eye: &Eye) {
    let Some(model) = context.model else {
        return;
    };
    let tokens = context.tokens;
    let painter = ui.painter();
    let alone = context.state.look() == Look::Lines;
    let strong = Stroke::new(if alone { 1.8 } else { 1.2 }, tokens.ink);
    let weak = Stroke::new(1.0, tokens.soft.gamma_multiply(if alone { 0.8 } else { 0.5 }));
    for line in &model.lines.lines {
        painter.add(Shape::line(eye.line(sampled(line)), strong));
        if !context.state.display.half && !line.is(LineId::Keel) {
            painter.add(Shape::line(eye.line(sampled(line).map(port)), weak));
        }
    }
    for at_bow in [true, false] {
        let ends = |l: &HullLine| l.spline.at(if at_bow { 0.0 } else { l.spline.end() });
        let end: Vec<P3> = model.lines.lines.iter().map(ends).collect();
        painter.add(Shape::line(eye.line(end.iter().copied()), strong));
        if !context.state.display.half {
            painter.add(Shape::line(eye.line(end.iter().copied().map(port)), weak));
            if let Some(top) = end.last() {
                painter.add(Shape::line(eye.line([*top, port(*top)].into_iter()), weak));
            }
        }
    }
    let thin = Stroke::new(0.9, tokens.soft.gamma_multiply(0.6));
    for x in &model.stations {
        outline(ui, context, eye, *x, thin, thin);
    }
    if alone && context.state.question == Question::Skin {
        let faint = Stroke::new(0.7, tokens.chalk.gamma_multiply(0.45));
        for p in &model.panels {
            for r in p.surface.rulings.iter().step_by(4) {
                painter.add(Shape::line(eye.line([r.lower, r.upper].into_iter()), faint));
            }
        }
    }
}

/// The section at `x`, both sides.
fn outline(ui: &Ui, context: &Context, eye: &Eye, x: f64, starboard: Stroke, other: Stroke) {
    let (Some(model), Some(plane)) = (context.model, Plane::through(P3::new(x, 0.0, 0.0), V3::x()))
    else {
        return;
    };
    for p in &model.panels {
        let cut = section(&p.surface, plane, 0.0);
        ui.painter().add(Shape::line(eye.line(cut.iter().copied()), starboard));
        if !context.state.display.half {
            ui.painter().add(Shape::line(eye.line(cut.iter().copied().map(port)), other));
        }
    }
}

/// The outline that the section plane leaves.
fn cut(ui: &Ui, context: &Context, eye: &Eye) {
    let whole = context.state.unfolds() && context.state.display.opened > 0.0;
    if let Some(x) = context.state.display.section.filter(|_| !whole) {
        let stroke = Stroke::new(2.2, context.tokens.chalk);
        outline(ui, context, eye, x, stroke, stroke);
    }
}

/// The shape compared with, dashed.
fn compared(ui: &Ui, context: &Context, eye: &Eye) {
    if context.session.ghost().lines == context.session.hull().lines {
        return;
    }
    let Ok(lines) = HullLines::of(context.session.ghost()) else {
        return;
    };
    let stroke = Stroke::new(1.2, context.tokens.soft);
    let half = context.state.display.half;
    let starboard = lines.lines.iter().map(|l| eye.line(sampled(l)));
    let other = lines.lines.iter().filter(|_| !half).map(|l| eye.line(sampled(l).map(port)));
    for seen in starboard.chain(other) {
        if seen.len() > 1 {
            for dash in dashes(&seen, &[5.0, 4.0]) {
                ui.painter().add(Shape::line(dash, stroke));
            }
        }
    }
}

/// What the pointer is on: the piece lights up, on a panel the ruling is traced.
fn point(ui: &mut Ui, context: &mut Context, eye: &Eye, stage: Rect) {
    let whole = context.state.unfolds() && context.state.display.opened > 0.0;
    let (Some(model), Some(at)) = (context.model, ui.input(|i| i.pointer.hover_pos())) else {
        return;
    };
    let busy = ui.input(|i| i.pointer.any_down() && !i.pointer.any_click());
    let over_panels =
        ui.ctx().layer_id_at(at).is_some_and(|l| l.order != bevy_egui::egui::Order::Background);
    if whole || !stage.contains(at) || busy || over_panels || context.state.look() == Look::Lines {
        return;
    }
    let shown = Shown {
        panels: context.state.look() == Look::Planked,
        members: true,
        frames: matches!(context.state.question, Question::Bones | Question::Setup)
            || context.state.look() == Look::Framed,
        port: !context.state.display.half,
        cut: context.state.display.section,
    };
    let ray = eye.ray(at);
    let Some(hit) = pick::pick(model, ray, shown) else {
        if ui.input(|i| i.pointer.primary_clicked()) && !context.view.held {
            context.state.selection.held = None;
        }
        return;
    };
    // In Shape the lines are in hand, not the pieces.
    if context.state.question != Question::Shape {
        context.state.point_at(hit.piece);
        if ui.input(|i| i.pointer.primary_clicked()) {
            context.state.take_in_hand(hit.piece);
        }
    }
    if let (PartId::Panel(PanelId(panel)), Some(ruling), Question::Skin) =
        (hit.piece, hit.ruling, context.state.question)
    {
        context.state.point_at_ruling(Trace { panel, ruling });
    }
}

/// The ruling under the pointer, wherever the pointer is.
fn trace(ui: &Ui, context: &Context, eye: &Eye) {
    let Some((trace, model)) = context.state.selection.trace.zip(context.model) else {
        return;
    };
    let Some(r) = model.panels.get(trace.panel).and_then(|p| p.surface.rulings.get(trace.ruling))
    else {
        return;
    };
    if context.state.display.opened > 0.0 && context.state.unfolds() {
        return;
    }
    for side in [|p: P3| p, port] {
        let line = eye.line([side(r.lower), side(r.upper)].into_iter());
        ui.painter()
            .add(Shape::line(line.clone(), Stroke::new(4.0, Color32::from_white_alpha(150))));
        ui.painter().add(Shape::line(line, Stroke::new(2.0, context.tokens.chalk)));
    }
}

/// Ducks on the hull itself.
fn ducks(ui: &mut Ui, context: &mut Context, eye: &Eye) {
    // A duck in hand keeps to the plane in which it was taken.
    let axis = match context.state.selection.dragged.as_ref().map(|d| d.grasp) {
        Some(Grasp::Stage(axis)) => axis,
        _ => eye.orbit.facing(),
    };
    let axes = match axis {
        0 => [1, 2],
        1 => [0, 2],
        _ => [0, 1],
    };
    // On the side of the boat that faces the eye: the port half is the mirror of starboard.
    let side = if eye.orbit.transform().translation.z > 0.0 && !context.state.display.half {
        -1.0
    } else {
        1.0
    };
    let cut = context.state.display.section;
    let at = |d: &Duck| {
        let away = cut.is_some_and(|x| d.x < x);
        eye.see(P3::new(d.x, side * d.y, d.z)).filter(|_| !away)
    };
    let to = |d: &Duck, p: Pos2| {
        let mut ray = eye.orbit.ray(Vec2::new(p.x, p.y), eye.frame);
        (ray.from.y, ray.along.y) = (side * ray.from.y, side * ray.along.y);
        pick::drag_on_plane(ray, d, axis)
    };
    let hold = Hold {
        stop: None,
        grasp: Grasp::Stage(axis),
        at: &at,
        to: &to,
        axes,
        arrows: None,
        mm_per_point: 1000.0 * f64::from(eye.orbit.metres_per_pixel(eye.frame.size.y)),
    };
    let counts: Vec<usize> = context.session.hull().lines.iter().map(|l| l.ducks.len()).collect();
    for (line, count) in counts.into_iter().enumerate() {
        for duck in 0..count {
            if let Some(r) = hold.show(ui, context, DuckId { line, duck }) {
                context.view.held |= r.hovered() || r.dragged();
            }
        }
    }
}
