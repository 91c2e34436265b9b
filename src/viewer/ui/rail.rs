//! The six questions down the left, each with its verdict.

use bevy_egui::egui::{self, Align2, FontId, Rect, Sense, Stroke, StrokeKind, Ui, vec2};

use crate::finding::{Severity, gravest};
use crate::viewer::state::Question;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::{mark, word};

/// Height of one question in the rail where there is room, points.
const ROW: f32 = 76.0;
/// What stands under Stock until it is asked.
const NOT_COUNTED: &str = "to count";
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
                true,
                context.state.question == question,
                format!("{}: {}", question.name(), verdict_word(context, question)),
            )
        });
        paint(ui, context, question, rect, response.hovered() || response.has_focus());
        if response.has_focus() {
            let ring = Stroke::new(2.0, context.tokens.chalk);
            ui.painter().rect_stroke(rect.shrink(1.0), 8.0, ring, StrokeKind::Inside);
        }
        if response.clicked() {
            context.state.ask(question);
        }
        response.on_hover_text(crate::words::question(question));
    }
}

/// A question's verdict as a word.
pub fn verdict_word(context: &Context, question: Question) -> &'static str {
    match context.answered(question) {
        true => word(question, severity(context, question)),
        false => NOT_COUNTED,
    }
}

/// The gravest finding of a question.
fn severity(context: &Context, question: Question) -> Option<Severity> {
    gravest(context.findings(question), None)
}

fn paint(ui: &Ui, context: &Context, question: Question, rect: Rect, hovered: bool) {
    let tokens = context.tokens;
    let painter = ui.painter();
    let selected = context.state.question == question;
    if selected || hovered {
        painter.rect_filled(rect, 8.0, tokens.lit);
    }
    if selected {
        // A chalk line beside the question in hand.
        let bar = Rect::from_min_size(rect.min + vec2(0.0, 10.0), vec2(3.0, rect.height() - 20.0));
        painter.rect_filled(bar, 1.5, tokens.chalk);
    }
    let middle = rect.center();
    painter.text(
        middle - vec2(0.0, 14.0),
        Align2::CENTER_CENTER,
        question.name(),
        FontId::new(size::BODY, semibold()),
        tokens.ink,
    );
    let below = middle + vec2(0.0, 13.0);
    if context.answered(question) {
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
            NOT_COUNTED,
            FontId::proportional(size::SMALL),
            tokens.soft,
        );
    }
}
