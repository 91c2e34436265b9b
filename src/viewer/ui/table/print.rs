//! The pages that will be printed, laid over the pattern; the one looked at is shown large.

use bevy_egui::egui::{self, Align2, FontId, Rect, RichText, Stroke, StrokeKind, Ui, pos2, vec2};

use crate::drawing::Drawing;
use crate::drawing::compose::Paper;
use crate::drawing::export::tiling::{CROSS, PagePlan, page_plan};
use crate::viewer::paint2d::{Ink, Inks, Placement, paint};
use crate::viewer::state;
use crate::viewer::theme::{LIGHT, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::dialogs::files;
use crate::viewer::ui::widgets;

/// What patterns can be printed on, in words.
pub const PAPERS: [(Paper, &str); 3] =
    [(Paper::A4, "A4"), (Paper::Letter, "Letter"), (Paper::Roll, "a roll")];

/// Shows the pages.
pub fn show(
    ui: &mut Ui,
    context: &mut Context,
    drawing: &Drawing,
    at: Placement,
    rect: Rect,
    response: &egui::Response,
) {
    // What is drawn to a scale, or is a table, is one sheet of the printer's, not of a roll.
    let paper = match context.state.table.paper {
        Paper::Roll if drawing.reduced != 1.0 || drawing.table => Paper::A4,
        paper => paper,
    };
    let plan = page_plan(drawing, paper.pages());
    let painter = ui.painter_at(rect);
    let tokens = context.tokens;
    let chosen = context.state.table.page.filter(|k| *k < plan.len());
    let pointed = response.hover_pos().map(|p| at.point(p));
    let mut names = Vec::new();
    for (k, page) in plan.iter().enumerate() {
        let (low, high) = page.window;
        let tile = Rect::from_two_pos(at.place(low), at.place(high));
        let on = chosen == Some(k);
        let stroke = Stroke::new(if on { 2.4 } else { 1.0 }, tokens.chalk);
        painter.rect_stroke(tile, 0.0, stroke, StrokeKind::Middle);
        if tile.width() > 22.0 {
            let colour = if on { tokens.chalk } else { tokens.soft };
            let name = FontId::proportional(size::SMALL);
            let name = painter.layout_no_wrap(page.name.clone(), name, colour);
            names
                .push((Align2::LEFT_TOP.anchor_size(tile.min + vec2(5.0, 4.0), name.size()), name));
        }
        let inside =
            pointed.is_some_and(|p| p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y);
        if inside && response.clicked() {
            context.state.table.page = Some(k);
        }
    }
    // Over all lines, and where two pages of a row overlap clear of both their edges.
    for (place, name) in names {
        painter.rect_filled(place.expand2(vec2(2.0, 0.0)), 2.0, tokens.paper);
        painter.galley(place.min, name, tokens.soft);
    }
    if let Some(page) = chosen.map(|k| &plan[k]) {
        large(ui, context, drawing, page, at, rect);
    }
    foot(ui, context, &plan, rect);
}

/// One page: its part of the drawing, its crosses and its check, where the printer puts
/// them.
fn large(
    ui: &Ui,
    context: &Context,
    drawing: &Drawing,
    page: &PagePlan,
    over: Placement,
    rect: Rect,
) {
    let (low, high) = page.paper;
    let (w, h) = ((high.x - low.x) as f32, (high.y - low.y) as f32);
    let scale = (0.42 * rect.width() / w).min((rect.height() - 150.0) / h);
    // On the side away from where it lies on the pattern.
    let lies_right = over.place(page.window.0).x > rect.center().x;
    let left = if lies_right { rect.min.x + 24.0 } else { rect.max.x - w * scale - 24.0 };
    let corner = pos2(left, rect.min.y + 64.0);
    let sheet = Rect::from_min_size(corner, vec2(w, h) * scale);
    let painter = ui.painter_at(rect);
    painter.rect_filled(sheet.translate(vec2(3.0, 4.0)), 0.0, context.tokens.rule);
    // Paper is paper, by lamplight too.
    painter.rect_filled(sheet, 0.0, LIGHT.paper);
    let at = Placement {
        origin: sheet.left_bottom() + vec2(-low.x as f32 * scale, low.y as f32 * scale),
        scale,
    };
    let window = Rect::from_two_pos(at.place(page.window.0), at.place(page.window.1));
    let inks = Inks { sheet: LIGHT.paper, ink: Ink::AsDrawn, paper: Some(LIGHT.paper) };
    paint(&ui.painter_at(window), drawing, at, inks, Vec::new());
    let soft = Stroke::new(0.6, LIGHT.soft);
    painter.rect_stroke(window, 0.0, soft, StrokeKind::Middle);
    let ink = Stroke::new(0.9, LIGHT.ink);
    let arm = CROSS as f32 * scale;
    for cross in &page.crosses {
        let c = at.place(*cross);
        painter.line_segment([c - vec2(arm, 0.0), c + vec2(arm, 0.0)], ink);
        painter.line_segment([c - vec2(0.0, arm), c + vec2(0.0, arm)], ink);
    }
    if let Some((a, b)) = page.check.map(|(a, b)| (at.place(a), at.place(b))) {
        painter.line_segment([a, b], ink);
        for end in [a, a + 0.5 * (b - a), b] {
            let tick = vec2(0.0, 1.5 * scale);
            painter.line_segment([end - tick, end + tick], ink);
        }
    }
    let check = page.check.map_or(String::new(), |_| format!(" · check: {}", page.check_words));
    let foot = format!("{} · tile {}{check}", drawing.title, page.name);
    let font = FontId::proportional(size::SMALL - 2.0);
    let foot = painter.layout(foot, font, LIGHT.soft, window.width());
    let place = Align2::LEFT_TOP.anchor_size(pos2(window.min.x, window.max.y + 3.0), foot.size());
    painter.rect_filled(place.expand(2.0), 0.0, LIGHT.paper);
    painter.galley(place.min, foot, LIGHT.soft);
}

/// Which paper, how many pages, on to the printer.
fn foot(ui: &mut Ui, context: &mut Context, plan: &[PagePlan], rect: Rect) {
    // In a narrow window the words want two rows.
    let height = if rect.width() < 700.0 { 76.0 } else { 40.0 };
    let bar = Rect::from_min_max(pos2(rect.min.x, rect.max.y - height), rect.max);
    ui.painter().rect_filled(bar, 0.0, context.tokens.paper.gamma_multiply(0.94));
    ui.scope_builder(egui::UiBuilder::new().max_rect(bar.shrink2(vec2(12.0, 6.0))), |ui| {
        ui.horizontal_wrapped(|ui| {
            for (paper, word) in PAPERS {
                if widgets::chip(ui, context.state.table.paper == paper, word).clicked() {
                    context.prefs.paper = Some(paper);
                    context.state.table.paper = paper;
                    context.state.table.page = None;
                }
            }
            let pages =
                if plan.len() == 1 { "1 page".into() } else { format!("{} pages", plan.len()) };
            let said = format!("{pages}, and a map with the notes; none without a cut");
            ui.label(RichText::new(said).size(size::SMALL).color(context.tokens.soft));
            let last = plan.len().saturating_sub(1);
            let at = context.state.table.page;
            if widgets::chip(ui, false, "page before").clicked() {
                context.state.table.page = Some(at.map_or(0, |k| k.saturating_sub(1)));
            }
            if widgets::chip(ui, false, "next page").clicked() {
                context.state.table.page = Some(at.map_or(0, |k| (k + 1).min(last)));
            }
            if widgets::chip(ui, false, "Write them")
                .on_hover_text("With the build pack, as PDF")
                .clicked()
            {
                files::choose(context, state::dialogs::FilePurpose::Pack);
            }
        });
    });
}
