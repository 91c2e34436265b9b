//! Small things that several panels show: verdict marks, headings, findings, figures.

pub mod fields;
pub mod finding;
pub mod places;
pub mod plot;
pub mod portrait;
pub mod trade_words;
pub mod typed;
pub mod units;

use bevy_egui::egui::{self, Color32, FontId, Painter, Pos2, RichText, Shape, Stroke, Ui, vec2};

use crate::finding::{Fact, Finding, Place, Severity, StockFact, gravest};
use crate::viewer::state::Question;
use crate::viewer::theme::{Tokens, semibold, size};
use crate::viewer::ui::context::Context;
use crate::words::{self, capital};

/// The map of bending as sRGB, the same stops as in `shaders/wood.wgsl`.
pub const MAP: [Color32; 6] = [
    Color32::from_rgb(0xF4, 0xEE, 0xD8),
    Color32::from_rgb(0xE8, 0xD1, 0x9B),
    Color32::from_rgb(0xCE, 0xA0, 0x65),
    Color32::from_rgb(0xAA, 0x65, 0x65),
    Color32::from_rgb(0x7D, 0x3C, 0x69),
    Color32::from_rgb(0x4B, 0x27, 0x50),
];

/// A verdict's word: sheets and sticks hold, a shape or a float is sound.
pub fn word(question: Question, severity: Option<Severity>) -> &'static str {
    match severity {
        None | Some(Severity::Note) => match question {
            Question::Shape | Question::Setup | Question::Afloat => "sound",
            Question::Skin | Question::Bones | Question::Stock => "holds",
        },
        Some(Severity::Watch) => "watch",
        Some(Severity::Stop) => "stop",
    }
}

/// A verdict's shape: a disc, a triangle, a square; never colour alone.
pub fn mark(painter: &Painter, at: Pos2, r: f32, severity: Option<Severity>, tokens: &Tokens) {
    let colour = tokens.verdict(severity);
    match severity {
        None | Some(Severity::Note) => {
            painter.circle_filled(at, r, colour);
        }
        Some(Severity::Watch) => {
            let points = vec![
                at + vec2(0.0, -1.1 * r),
                at + vec2(1.1 * r, 0.9 * r),
                at + vec2(-1.1 * r, 0.9 * r),
            ];
            painter.add(Shape::convex_polygon(points, colour, Stroke::NONE));
        }
        Some(Severity::Stop) => {
            painter.rect_filled(
                egui::Rect::from_center_size(at, vec2(1.8 * r, 1.8 * r)),
                1.0,
                colour,
            );
        }
    }
}

/// The question, and its verdict as a shape, a colour and a sentence.
pub fn heading(ui: &mut Ui, context: &Context, question: Question) {
    ui.label(RichText::new(words::question(question)).font(FontId::new(size::TITLE, semibold())));
    if !context.answered(question) {
        return;
    }
    let severity = gravest(context.findings(question), None);
    ui.horizontal_wrapped(|ui| {
        let (rect, _) = ui.allocate_exact_size(vec2(22.0, 26.0), egui::Sense::hover());
        mark(ui.painter(), rect.center(), 8.0, severity, context.tokens);
        let sentence = verdict_sentence(context, question, severity);
        ui.label(RichText::new(sentence).size(size::TITLE).color(context.tokens.verdict(severity)));
    });
    ui.add_space(size::GAP);
}

/// The verdict in one sentence.
pub fn verdict_sentence(
    context: &Context,
    question: Question,
    severity: Option<Severity>,
) -> String {
    let holds = matches!(severity, None | Some(Severity::Note));
    match (question, holds) {
        (Question::Shape, true) => "Her lines run fair.".into(),
        (Question::Shape, false) => shape_sentence(context),
        (Question::Skin, true) => "Every sheet lies flat and takes its bend.".into(),
        (Question::Skin, false) => "A sheet is asked for more than it gives.".into(),
        (Question::Bones, true) => "Every stick bends in dry, and the frames are sound.".into(),
        (Question::Bones, false) => bones_sentence(context),
        (Question::Setup, true) => "She stands true upside down.".into(),
        (Question::Setup, false) => "Something stands out: look at the findings.".into(),
        (Question::Afloat, true) => "She floats upright, dry and level.".into(),
        (Question::Afloat, false) => afloat_sentence(context),
        (Question::Stock, true) => "All of her can be cut and bought.".into(),
        (Question::Stock, false) => stock_sentence(context).into(),
    }
}

/// Whether it is the cutting and the buying, or what is spread on her.
fn stock_sentence(context: &Context) -> &'static str {
    let spread = |f: &&&Finding| {
        matches!(
            f.fact,
            Fact::Stock(
                StockFact::NotBorne(_) | StockFact::TooCold { .. } | StockFact::SlowToClose { .. }
            )
        )
    };
    let all = context.findings(Question::Stock);
    let grave = all.iter().filter(|f| f.severity > Severity::Note);
    match grave.clone().filter(spread).count() == grave.count() {
        true => {
            "All of her can be cut and bought; glue or paint asks for care: look at the findings."
        }
        false => "Something cannot be cut or bought: look at the findings.",
    }
}

fn shape_sentence(context: &Context) -> String {
    let all = context.findings(Question::Shape);
    let worst = all.iter().map(|f| f.severity).max();
    let gravest = || all.iter().filter(|f| Some(f.severity) == worst);
    if gravest().any(|f| matches!(f.place, Place::Line(_))) {
        return "A line is not fair: look along it.".into();
    }
    let place = gravest().next().map(|f| words::finding::place(&f.place, context.units()));
    place.map_or_else(|| "Look at the findings.".into(), |p| format!("Look at this: {p}."))
}

fn afloat_sentence(context: &Context) -> String {
    let all = context.findings(Question::Afloat);
    let Some(worst) = all.iter().map(|f| f.severity).max() else {
        return "She floats.".into();
    };
    let mut places: Vec<String> = Vec::new();
    for f in all.iter().filter(|f| f.severity == worst) {
        let place = words::finding::place(&f.place, context.units());
        if !places.contains(&place) {
            places.push(place);
        }
    }
    let places = places.join(", ");
    match worst {
        Severity::Stop => format!("Not so: {places}."),
        _ => format!("She floats; mind this: {places}."),
    }
}

fn bones_sentence(context: &Context) -> String {
    let worst = context
        .model
        .iter()
        .flat_map(|m| &m.members)
        .filter(|m| m.advice.recommended != Some(crate::bend::Method::Dry))
        .max_by(|a, b| a.utilisation.total_cmp(&b.utilisation));
    match worst.map(|m| (m.member.name.as_str(), m.advice.recommended)) {
        Some((name, Some(method))) => {
            format!("The {name} will not bend in dry: {}.", words::bend::method(method))
        }
        Some((name, None)) => format!("The {name} will not take its bend."),
        None => {
            let all = context.findings(Question::Bones);
            let worst = all.iter().max_by_key(|f| f.severity);
            worst.map_or_else(
                || "A frame or an end asks for a look.".into(),
                |f| format!("Look at this: {}.", words::finding::place(&f.place, context.units())),
            )
        }
    }
}

/// The findings of a question, each with what to do; pressed, a place is looked at.
pub fn findings(ui: &mut Ui, context: &mut Context, question: Question) {
    let all: Vec<_> = context.findings(question).into_iter().cloned().collect();
    if all.is_empty() {
        return;
    }
    ui.add_space(size::GAP);
    ui.separator();
    ui.label(RichText::new("Findings").font(FontId::new(size::BODY, semibold())));
    for f in all {
        ui.horizontal_top(|ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(16.0, 20.0), egui::Sense::hover());
            mark(ui.painter(), rect.center(), 5.0, Some(f.severity), context.tokens);
            ui.vertical(|ui| {
                let said = words::finding::said(&f, context.units());
                finding::place(ui, context, &f);
                ui.label(RichText::new(format!("{}.", capital(&said.message))).size(size::SMALL));
                ui.label(
                    RichText::new(format!("{}.", capital(said.hint.trim_end_matches('.'))))
                        .size(size::SMALL)
                        .color(context.tokens.soft),
                );
            });
        });
        ui.add_space(4.0);
    }
}

/// The frame of what lies over the panels.
pub fn sheet(tokens: &Tokens) -> egui::Frame {
    egui::Frame::new()
        .fill(tokens.paper)
        .stroke(Stroke::new(1.0, tokens.rule))
        .corner_radius(8)
        .inner_margin(size::PAD)
        .shadow(egui::Shadow {
            offset: [0, 4],
            blur: 18,
            spread: 0,
            color: Color32::from_black_alpha(50),
        })
}

/// A cell of a fixed width with its text at the left.
pub fn cell(ui: &mut Ui, width: f32, text: RichText) -> egui::Response {
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    ui.allocate_ui_with_layout(vec2(width, 22.0), layout, |ui| {
        ui.set_min_size(vec2(width, 22.0));
        ui.label(text)
    })
    .inner
}

/// How broad words are on one line, points.
pub fn breadth(ui: &Ui, words: &str, font: FontId) -> f32 {
    ui.painter().layout_no_wrap(words.to_owned(), font, Color32::BLACK).size().x
}

/// A row of a list: its name, what it is, a figure at the right with what that is; what it is
/// goes below the name where all of it does not stand on one line.
pub fn list_row(ui: &mut Ui, tokens: &Tokens, name: &str, what: &str, figure: (&str, &str)) {
    let wide = |text: &str, font: FontId| breadth(ui, text, font);
    let (bold, fixed) = (FontId::new(size::BODY, semibold()), FontId::monospace(size::SMALL));
    let together = wide(name, bold.clone())
        + wide(what, FontId::proportional(size::SMALL))
        + wide(figure.0, fixed.clone())
        + 3.0 * size::GAP;
    let beside = together <= ui.available_width();
    let what = RichText::new(what).size(size::SMALL).color(tokens.soft);
    ui.horizontal(|ui| {
        ui.label(RichText::new(name).font(bold));
        if beside {
            ui.label(what.clone());
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.label(RichText::new(figure.0).font(fixed)).on_hover_text(figure.1);
        });
    });
    if !beside {
        ui.label(what);
    }
}

/// Paints over all that lies in the same part of the window: figures beside what is in hand.
pub fn on_top(ui: &Ui) -> Painter {
    let layer = egui::LayerId::new(egui::Order::Middle, egui::Id::new("figures in hand"));
    ui.ctx().layer_painter(layer).with_clip_rect(ui.clip_rect())
}

/// One of several small buttons in a row, of which some are on: all of one look.
pub fn chip(ui: &mut Ui, on: bool, text: impl Into<String>) -> egui::Response {
    let text = RichText::new(text).size(size::SMALL);
    ui.add(egui::Button::new(text).small().selected(on))
}

/// A small head over the figures at the right of a list.
pub fn head(ui: &mut Ui, tokens: &Tokens, words: &str) {
    ui.horizontal(|ui| {
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.add_space(size::GAP);
            ui.label(RichText::new(words).size(size::SMALL).color(tokens.soft));
        });
    });
}

/// A box to choose from, with a name that is said but not shown.
pub fn choice(
    ui: &mut Ui,
    name: &str,
    width: f32,
    chosen: &str,
    list: impl FnOnce(&mut Ui),
) -> egui::Response {
    let width = width.min(ui.available_width() - 2.0 * size::GAP);
    let shown = egui::ComboBox::from_id_salt(name)
        .width(width)
        .height(320.0)
        .truncate()
        .selected_text(chosen)
        .show_ui(ui, list);
    shown.response.widget_info(|| {
        let mut info = egui::WidgetInfo::labeled(egui::WidgetType::ComboBox, true, name);
        info.current_text_value = Some(chosen.to_string());
        info
    });
    shown.response
}

/// What can be had, in a list to choose from: whether the document's own list has it.
pub fn listed(name: &str, on_the_list: bool) -> String {
    if on_the_list { format!("{name}, on your list") } else { name.to_string() }
}

/// Names a row that can be pressed, and rings it when the keys are on it.
pub fn row(ui: &Ui, tokens: &Tokens, response: &egui::Response, name: &str, chosen: bool) {
    response
        .widget_info(|| egui::WidgetInfo::selected(egui::WidgetType::Button, true, chosen, name));
    if response.has_focus() {
        let ring = Stroke::new(2.0, tokens.chalk);
        ui.painter().rect_stroke(response.rect, 8.0, ring, egui::StrokeKind::Inside);
    }
}

/// Words that take one to what they speak of.
pub fn link(ui: &mut Ui, tokens: &Tokens, words: impl Into<String>) -> egui::Response {
    ui.link(RichText::new(words).size(size::SMALL).color(tokens.chalk))
}

/// Where the figures of a card come from.
pub fn sources(ui: &mut Ui, tokens: &Tokens, sources: &[&str]) {
    ui.add_space(size::GAP);
    let title = RichText::new("Sources").size(size::SMALL).color(tokens.soft);
    egui::CollapsingHeader::new(title).id_salt("sources").show(ui, |ui| {
        for source in sources {
            ui.label(RichText::new(*source).size(size::SMALL).color(tokens.soft));
        }
    });
}

/// A row of a name and a figure set to the right in the fixed face; trade words in the name
/// are taught when pointed at. A figure too long to stand beside its name goes below it, so
/// that no row is wider than its card.
pub fn figure(ui: &mut Ui, tokens: &Tokens, name: &str, value: impl Into<String>) {
    let (value, fixed) = (value.into(), FontId::monospace(size::SMALL));
    let wide = |text: &str, font: FontId| {
        ui.painter().layout_no_wrap(text.to_owned(), font, tokens.soft).size().x
    };
    let together = wide(name, FontId::proportional(size::SMALL))
        + wide(&value, fixed.clone())
        + 2.0 * size::GAP;
    let beside = together <= ui.available_width();
    let words = RichText::new(value).font(fixed);
    let named = |ui: &mut Ui| {
        trade_words::taught(ui, RichText::new(name).size(size::SMALL).color(tokens.soft));
    };
    if beside {
        ui.horizontal(|ui| {
            named(ui);
            let right = egui::Layout::right_to_left(egui::Align::Center);
            ui.with_layout(right, |ui| ui.label(words));
        });
    } else {
        named(ui);
        let below = egui::Layout::top_down(egui::Align::Max);
        ui.with_layout(below, |ui| ui.add(egui::Label::new(words).wrap()));
    }
}
