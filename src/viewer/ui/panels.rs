//! The whole window: panels round the stage, what lies over it, what waits for an answer.

use bevy::prelude::{UVec2, UVec4};
use bevy_egui::egui::{self, Key, Panel, Ui, UiBuilder};

use crate::viewer::session::Command;
use crate::viewer::theme::{self, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::places::Place;
use crate::viewer::ui::{cards, dialogs, rail, stage, strips, table, top};

/// Lays out all panels; what is left in the middle is the stage.
pub fn panels(ctx: &egui::Context, context: &mut Context) {
    let mut root = Ui::new(
        ctx.clone(),
        "root".into(),
        UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(ctx.viewport_rect()),
    );
    if context.state.boat != context.session.boats() {
        context.state.forget_boat(context.session.boats());
        context.state.dialogs.first_page = false;
        context.view.asked = Some(crate::screen::ViewFrom::Quarter);
    }
    let late = dialogs::keys::act(ctx, context);
    context.view.covered = context.state.on_table() || context.state.dialogs.first_page;
    context.state.table.paper = context.prefs.paper(context.session.hull().units);
    let answer_wanted =
        context.state.dialogs.guard.is_some() || context.state.dialogs.path.is_some();
    if context.state.dialogs.first_page {
        dialogs::first_page::show(&mut root, context);
    } else if context.state.on_table() && context.state.table.full_screen && !answer_wanted {
        table::full_size::show(&mut root, context);
    } else {
        context.state.table.full_screen = false;
        around_the_stage(ctx, &mut root, context);
    }
    // Whatever it was that was dragged, it is over when nothing is held any more: what was
    // under the hand may have gone away.
    let arrows = [Key::ArrowLeft, Key::ArrowRight, Key::ArrowUp, Key::ArrowDown];
    let held = ctx.input(|i| i.pointer.any_down() || arrows.iter().any(|k| i.key_down(*k)));
    if !held
        && (context.state.selection.dragged.take().is_some()
            || context.state.selection.dragged_load.take().is_some()
            || context.session.dragging())
    {
        context.ask(Command::DragEnd);
    }
    dialogs::notices::show(ctx, context);
    dialogs::guard::show(ctx, context);
    dialogs::tour::show(ctx, context);
    dialogs::keys::sheet(ctx, context);
    dialogs::glossary::show(ctx, context);
    dialogs::keys::act_late(ctx, context, late);
    context.state.end_frame();
}

/// The panels round the stage, and what lies on it.
fn around_the_stage(ctx: &egui::Context, root: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let room = theme::room(ctx.viewport_rect().size());
    let frame = |pad: f32| egui::Frame::new().fill(tokens.paper).inner_margin(pad);
    Panel::top("top")
        .exact_size(size::TOP)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(root, |ui| top::show(ui, context));
    Panel::left("rail")
        .exact_size(room.rail)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(root, |ui| rail::show(ui, context));
    Panel::right("card")
        .exact_size(room.card)
        .resizable(false)
        .frame(frame(size::PAD))
        .show(root, |ui| cards::show(ui, context));
    if context.state.on_table() {
        let frame = egui::Frame::new().fill(tokens.floor);
        egui::CentralPanel::default().frame(frame).show(root, |ui| table::show(ui, context));
    } else {
        let tall = ctx.viewport_rect().height();
        let (least, most) = (120.0f32.min(0.3 * tall), if room.narrow { 0.45 } else { 0.6 } * tall);
        let strip = Panel::bottom("strip")
            .default_size(context.prefs.strip.min(most))
            .size_range(least..=most)
            .resizable(true)
            .frame(frame(size::GAP))
            .show(root, |ui| strips::show(ui, context));
        // As it was pulled, the next time too.
        let height = strip.response.rect.height();
        if (height - context.prefs.strip).abs() > 1.0 && !ctx.input(|i| i.pointer.any_down()) {
            context.prefs.strip = height;
        }
        let rect = root.available_rect_before_wrap();
        let scale = ctx.pixels_per_point();
        let pixels = |v: f32| (v * scale).round().max(0.0) as u32;
        context.view.stage = Some(UVec4::new(
            pixels(rect.min.x),
            pixels(rect.min.y),
            pixels(rect.width()),
            pixels(rect.height()),
        ));
        stage::overlay::show(root, context, rect);
        let clip = root.clip_rect();
        root.set_clip_rect(rect);
        stage::show(root, context, rect);
        root.set_clip_rect(clip);
        let head = Place::StageHead.last(ctx).intersect(rect);
        context.view.edges =
            UVec2::new(pixels(head.max.y - rect.min.y), pixels(stage::foot(context)));
    }
}
