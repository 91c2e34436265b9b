//! The first walk round the loft, in five steps on the demonstration hull.

use bevy_egui::egui::{self, Align2, FontId, Pos2, Rect, RichText, Stroke, StrokeKind, pos2, vec2};

use crate::viewer::state::Question;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::places::Place;

/// A step: what it is called, what to do, which part of the window it is about.
struct Step {
    title: &'static str,
    words: &'static str,
    at: Part,
    question: Question,
}

#[derive(Clone, Copy)]
enum Part {
    Stage,
    Strip,
    Rail,
    Sheets,
    Pack,
}

const STEPS: [Step; 5] = [
    Step {
        title: "Walk round her",
        words: "Drag on the stage to turn her, roll the wheel to come nearer. The words at the foot look from one side.",
        at: Part::Stage,
        question: Question::Shape,
    },
    Step {
        title: "Pull a line",
        words: "The lozenges are ducks: points that a line passes through. Drag one, here or on the hull itself. Ctrl Z takes it back.",
        at: Part::Strip,
        question: Question::Shape,
    },
    Step {
        title: "Ask her",
        words: "Each question on the left answers at once, while you pull: a disc holds, a triangle wants a look, a square stops.",
        at: Part::Rail,
        question: Question::Bones,
    },
    Step {
        title: "Lay her skin flat",
        words: "Under Skin this slider unfolds the sheets from the hull to the floor; on the table they lie at full size, to be measured and printed.",
        at: Part::Sheets,
        question: Question::Skin,
    },
    Step {
        title: "Take it to the shed",
        words: "Write the build pack: patterns to cut by, tables and a summary, in a folder of your own.",
        at: Part::Pack,
        question: Question::Skin,
    },
];

/// Shows the step in hand.
pub fn show(ctx: &egui::Context, context: &mut Context) {
    let Some(at) = context.state.dialogs.tour.filter(|k| *k < STEPS.len()) else {
        return;
    };
    let step = &STEPS[at];
    let tokens = context.tokens;
    let window = ctx.viewport_rect();
    let part = place(ctx, step.at, context, window);
    let painter =
        ctx.layer_painter(egui::LayerId::new(egui::Order::Foreground, "tour mark".into()));
    painter.rect_stroke(part.shrink(3.0), 10.0, Stroke::new(2.5, tokens.chalk), StrokeKind::Inside);
    let stage = place(ctx, Part::Stage, context, window);
    let (anchor, corner) = beside(step.at, part, stage);
    let mut next = Some(at);
    egui::Area::new("tour".into())
        .order(egui::Order::Foreground)
        .pivot(anchor)
        .fixed_pos(corner)
        .show(ctx, |ui| {
            widgets::sheet(tokens).show(ui, |ui| {
                ui.set_max_width(300.0);
                ui.label(
                    RichText::new(format!("{} of {}", at + 1, STEPS.len()))
                        .size(size::SMALL)
                        .color(tokens.soft),
                );
                ui.label(RichText::new(step.title).font(FontId::new(size::TITLE, semibold())));
                ui.label(step.words);
                ui.add_space(size::GAP);
                ui.horizontal(|ui| {
                    if at > 0 && ui.push_id("back", |ui| ui.button("Back")).inner.clicked() {
                        next = Some(at - 1);
                    }
                    let last = at + 1 == STEPS.len();
                    // Under a name of its own it keeps the keys from step to step.
                    let word = if last { "Begin" } else { "Next" };
                    let on = ui.push_id("on", |ui| ui.button(word)).inner;
                    if ui.memory(|m| m.focused().is_none()) {
                        on.request_focus();
                    }
                    if on.clicked() {
                        next = (!last).then_some(at + 1);
                    }
                    if !last && ui.button("Leave the tour").clicked() {
                        next = None;
                    }
                });
            });
        });
    if next != Some(at) {
        go_to(context, next);
    }
}

/// Goes to a step, or ends the tour and remembers that it was seen.
pub fn go_to(context: &mut Context, step: Option<usize>) {
    context.state.dialogs.tour = step;
    match step.and_then(|k| STEPS.get(k)) {
        Some(step) => {
            context.state.ask(step.question);
            context.state.table.open = false;
        }
        None => {
            context.state.ask(Question::Shape);
            context.prefs.toured = true;
        }
    }
}

/// Where a part of the window lies.
fn place(ctx: &egui::Context, part: Part, context: &Context, window: Rect) -> Rect {
    let stage = context.view.stage.map_or(window, |s| {
        let s = s.as_vec4() / ctx.pixels_per_point();
        Rect::from_min_size(pos2(s.x, s.y), vec2(s.z, s.w))
    });
    match part {
        Part::Stage => stage,
        Part::Strip => {
            Rect::from_min_max(pos2(stage.min.x, stage.max.y), pos2(stage.max.x, window.max.y))
        }
        Part::Rail => Rect::from_min_max(pos2(0.0, size::TOP), pos2(stage.min.x, window.max.y)),
        Part::Sheets => {
            let foot = Place::StageHead.last(ctx).max.y.max(stage.min.y + 60.0);
            Rect::from_min_max(stage.min, pos2(stage.max.x.min(stage.min.x + 520.0), foot + 6.0))
        }
        Part::Pack => Place::PackButton.last(ctx).expand(6.0).intersect(window),
    }
}

/// Where the words stand beside it.
fn beside(part: Part, at: Rect, stage: Rect) -> (Align2, Pos2) {
    match part {
        // Over her bow, not over her: at the strip she is what is to be watched.
        Part::Stage | Part::Strip => (Align2::LEFT_TOP, stage.min + vec2(24.0, 56.0)),
        Part::Rail => (Align2::LEFT_TOP, pos2(at.max.x + 16.0, at.min.y + 100.0)),
        Part::Sheets => (Align2::LEFT_TOP, pos2(at.min.x + 16.0, at.max.y + 16.0)),
        Part::Pack => (Align2::RIGHT_TOP, pos2(at.max.x - 8.0, at.max.y + 12.0)),
    }
}
