//! The six questions down the left, and the views in words on the stage.

use bevy_egui::egui::{self, Align2, FontId, Rect, Sense, Ui, vec2};

use super::Context;
use super::parts::{mark, word};
use super::state::Question;
use super::style::{semibold, size};
use crate::cli::job::ViewFrom;
use crate::finding::gravest;

/// Height of one question in the rail.
const ROW: f32 = 76.0;

/// Shows the rail.
pub fn show(ui: &mut Ui, context: &mut Context) {
    ui.spacing_mut().item_spacing.y = 4.0;
    for question in Question::ALL {
        let (rect, response) =
            ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::click());
        response.widget_info(|| {
            egui::WidgetInfo::selected(
                egui::WidgetType::Button,
                question.alive(),
                context.state.question == question,
                question.name(),
            )
        });
        paint(ui, context, question, rect, response.hovered() || response.has_focus());
        if response.clicked() && question.alive() {
            context.state.question = question;
            context.state.lit = None;
        }
        let hint = if question.alive() {
            question.words().to_string()
        } else {
            format!("{} — not answered yet", question.words())
        };
        response.on_hover_text(hint);
    }
}

fn paint(ui: &Ui, context: &Context, question: Question, rect: Rect, hovered: bool) {
    let tokens = context.tokens;
    let painter = ui.painter();
    let selected = context.state.question == question;
    if selected || hovered && question.alive() {
        painter.rect_filled(rect, 8.0, tokens.floor);
    }
    if selected {
        // A chalk line beside the question in hand.
        let bar = Rect::from_min_size(rect.min + vec2(0.0, 10.0), vec2(3.0, rect.height() - 20.0));
        painter.rect_filled(bar, 1.5, tokens.chalk);
    }
    let middle = rect.center();
    let colour = if question.alive() { tokens.ink } else { tokens.soft };
    painter.text(
        middle - vec2(0.0, 14.0),
        Align2::CENTER_CENTER,
        question.name(),
        FontId::new(size::BODY, semibold()),
        colour,
    );
    let below = middle + vec2(0.0, 13.0);
    if question.alive() {
        let faulty = (!context.faults.is_empty()).then_some(crate::finding::Severity::Stop);
        let findings = context.model.map(|m| m.findings.as_slice()).unwrap_or_default();
        let severity = gravest(findings, Some(question.part())).max(faulty);
        mark(painter, below - vec2(22.0, 0.0), 5.0, severity, tokens);
        painter.text(
            below - vec2(12.0, 0.0),
            Align2::LEFT_CENTER,
            word(severity),
            FontId::proportional(size::SMALL),
            tokens.verdict(severity),
        );
    } else {
        painter.text(
            below,
            Align2::CENTER_CENTER,
            "to come",
            FontId::proportional(size::SMALL),
            tokens.soft,
        );
    }
}

/// The views, in words, at the foot of the stage; switches for what is shown at its head.
pub fn views(ui: &mut Ui, context: &mut Context, stage: Rect) {
    let foot = Rect::from_min_max(
        egui::pos2(stage.min.x + 12.0, stage.max.y - 40.0),
        stage.max - vec2(12.0, 8.0),
    );
    ui.scope_builder(egui::UiBuilder::new().max_rect(foot), |ui| {
        ui.horizontal(|ui| {
            for (i, view) in ViewFrom::ALL.into_iter().enumerate() {
                if ui.small_button(view.word()).on_hover_text(format!("key {}", i + 1)).clicked() {
                    context.view.asked = Some(view);
                }
            }
        });
    });
    let head = Rect::from_min_max(
        stage.min + vec2(12.0, 8.0),
        egui::pos2(stage.max.x - 12.0, stage.min.y + 40.0),
    );
    ui.scope_builder(egui::UiBuilder::new().max_rect(head), |ui| {
        ui.horizontal(|ui| match context.state.question {
            Question::Skin => {
                ui.checkbox(&mut context.state.map, "show how near the sheets are to their limit");
            }
            Question::Bones => {
                ui.checkbox(&mut context.state.map, "show the strain");
                ui.checkbox(&mut context.state.bare, "without the skin");
            }
            _ => {}
        });
    });
    if context.state.map && matches!(context.state.question, Question::Skin | Question::Bones) {
        legend(ui, context, stage);
    }
}

/// The map's legend: what its colours and lines mean.
fn legend(ui: &Ui, context: &Context, stage: Rect) {
    let painter = ui.painter();
    let tokens = context.tokens;
    let (width, height) = (180.0, 12.0);
    let left = stage.max.x - width - 24.0;
    let top = stage.max.y - 46.0;
    let stops = super::parts::MAP;
    let mut mesh = egui::Mesh::default();
    for (i, colour) in stops.iter().enumerate() {
        let x = left + width * i as f32 / (stops.len() - 1) as f32;
        mesh.colored_vertex(egui::pos2(x, top), *colour);
        mesh.colored_vertex(egui::pos2(x, top + height), *colour);
        if i > 0 {
            let k = 2 * i as u32;
            mesh.add_triangle(k - 2, k - 1, k);
            mesh.add_triangle(k - 1, k + 1, k);
        }
    }
    painter.add(mesh);
    let (what, unit) = match context.state.question {
        Question::Skin => ("bend of the sheet", "of its limit"),
        _ => ("strain of the worst fibre", "of breaking"),
    };
    painter.text(
        egui::pos2(left + width, top - 4.0),
        Align2::RIGHT_BOTTOM,
        format!("{what}, share {unit}"),
        FontId::proportional(size::SMALL),
        tokens.soft,
    );
    for (share, text) in [(0.0, "0"), (0.5, "½"), (1.0, "1"), (1.5, "1½")] {
        let x = left + width * share / 1.5;
        painter.line_segment(
            [egui::pos2(x, top), egui::pos2(x, top + height + 3.0)],
            egui::Stroke::new(1.0, tokens.ink),
        );
        painter.text(
            egui::pos2(x, top + height + 4.0),
            Align2::CENTER_TOP,
            text,
            FontId::proportional(size::SMALL),
            tokens.ink,
        );
    }
}
