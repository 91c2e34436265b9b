//! The six questions down the left, each with its verdict.

use bevy_egui::egui::{self, Align2, FontId, Rect, Sense, Stroke, StrokeKind, Ui, vec2};

use crate::finding::{Severity, gravest};
use crate::viewer::state::Question;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::{mark, word};

/// Height of one question in the rail where there is room, points.
const ROW: f32 = 76.0;
/// Between two of them.
const BETWEEN: f32 = 4.0;

/// Shows the rail.
pub fn show(ui: &mut Ui, context: &mut Context) {
    ui.spacing_mut().item_spacing.y = BETWEEN;
    let height = (ui.available_height() / Question::ALL.len() as f32 - BETWEEN).min(ROW);
    for question in Question::ALL {
        let (rect, response) =
            ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::click());
        response.widget_info(|| {
            egui::WidgetInfo::selected(
                egui::WidgetType::Button,
                question.alive(),
                context.state.question == question,
                format!("{}: {}", question.name(), verdict_word(context, question)),
            )
        });
        paint(ui, context, question, rect, response.hovered() || response.has_focus());
        if response.has_focus() {
            let ring = Stroke::new(2.0, context.tokens.chalk);
            ui.painter().rect_stroke(rect.shrink(1.0), 8.0, ring, StrokeKind::Inside);
        }
        if response.clicked() && question.alive() {
            context.state.ask(question);
        }
        let hint = if question.alive() {
            crate::words::question(question).to_string()
        } else {
            format!("{} — not answered yet", crate::words::question(question))
        };
        response.on_hover_text(hint);
    }
}

/// A question's verdict as a word.
pub fn verdict_word(context: &Context, question: Question) -> &'static str {
    if question.alive() { word(question, severity(context, question)) } else { "to come" }
}

/// The gravest finding of a question.
fn severity(context: &Context, question: Question) -> Option<Severity> {
    let findings = context.model.map(|m| m.findings.as_slice()).unwrap_or_default();
    gravest(findings, Some(question))
}

fn paint(ui: &Ui, context: &Context, question: Question, rect: Rect, hovered: bool) {
    let tokens = context.tokens;
    let painter = ui.painter();
    let selected = context.state.question == question;
    if selected || hovered && question.alive() {
        painter.rect_filled(rect, 8.0, tokens.lit);
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
        let severity = severity(context, question);
        mark(painter, below - vec2(22.0, 0.0), 5.0, severity, tokens);
        painter.text(
            below - vec2(12.0, 0.0),
            Align2::LEFT_CENTER,
            word(question, severity),
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
