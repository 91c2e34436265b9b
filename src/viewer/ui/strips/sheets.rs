//! The sheets with their parts, side by side at one scale; a part can be taken and laid
//! elsewhere.

use bevy_egui::egui::epaint::Mesh;
use bevy_egui::egui::{
    self, Align2, Color32, FontId, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, vec2,
};

use crate::geom::ring::inside;
use crate::geom::{P2, V2};
use crate::model::stock::{SheetKind, StockList};
use crate::stock::nest::Placed;
use crate::viewer::paint2d::{Placement, fill};
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::sheet_hand::{self, Shown, piece_of};
use crate::words::stock::kind_words;

/// Room between sheets and round them, points.
const GAP: f32 = 10.0;
/// Height of the words over a sheet, points.
const HEAD: f32 = 18.0;
/// Shows them.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::WidgetType::Image, true, "sheets and the parts on them")
    });
    let painter = ui.painter_at(rect);
    let Some(list) = context.stock() else {
        let words = "Her parts are being laid on sheets …";
        let font = FontId::proportional(size::BODY);
        painter.text(rect.center(), Align2::CENTER_CENTER, words, font, context.tokens.soft);
        return;
    };
    let foot = Rect::from_min_max(rect.min, rect.max - vec2(0.0, HEAD));
    let shown = placed(list, foot);
    let under = sheet_hand::act(ui, context, list, &shown, &response);
    if response.double_clicked() {
        context.state.table.open = true;
    }
    for s in &shown {
        paint_sheet(&painter, context, list, s);
    }
    sheet_hand::held(&painter, context, list, &shown);
    hint(&painter, context, rect, under);
}

/// Where each sheet goes in `rect`: rows of as many as give the largest scale.
fn placed(list: &StockList, rect: Rect) -> Vec<Shown> {
    let all: Vec<(usize, usize, P2, V2)> = list
        .sheets
        .iter()
        .enumerate()
        .flat_map(|(k, kind)| {
            kind.layout.sheets.iter().enumerate().map(move |(s, sheet)| {
                let (low, size) = kind.problem.sheets[sheet.sheet].extent();
                (k, s, low, size)
            })
        })
        .collect();
    let widest = all.iter().map(|s| s.3.x).fold(1.0, f64::max) as f32;
    let tallest = all.iter().map(|s| s.3.y).fold(1.0, f64::max) as f32;
    let scale_of = |across: usize| {
        let down = all.len().div_ceil(across);
        let w = (rect.width() - GAP * (across as f32 + 1.0)) / across as f32;
        let h = (rect.height() - (GAP + HEAD) * down as f32 - GAP) / down as f32;
        (w / widest).min(h / tallest).max(1e-3)
    };
    let across =
        (1..=all.len().max(1)).max_by(|a, b| scale_of(*a).total_cmp(&scale_of(*b))).unwrap_or(1);
    let scale = scale_of(across);
    let place = |(i, (kind, sheet, low, size)): (usize, &(usize, usize, P2, V2))| {
        let (column, row) = ((i % across) as f32, (i / across) as f32);
        let corner = rect.min
            + vec2(
                GAP + column * (widest * scale + GAP),
                GAP + HEAD + row * (tallest * scale + GAP + HEAD),
            );
        let frame = Rect::from_min_size(corner, vec2(size.x as f32, size.y as f32) * scale);
        let origin =
            Pos2::new(corner.x - low.x as f32 * scale, corner.y + (low.y + size.y) as f32 * scale);
        Shown { kind: *kind, sheet: *sheet, at: Placement { origin, scale }, frame }
    };
    all.iter().enumerate().map(place).collect()
}

fn paint_sheet(painter: &Painter, context: &Context, list: &StockList, s: &Shown) {
    let tokens = context.tokens;
    let kind: &SheetKind = &list.sheets[s.kind];
    let laid = &kind.layout.sheets[s.sheet];
    let number = list.sheet_number(s.kind, s.sheet);
    let name = kind_words(&kind.sheet, kind.thickness, context.units());
    let chosen = context.state.selection.sheet + 1 == number;
    let colour = if chosen { tokens.ink } else { tokens.soft };
    let heads =
        [format!("{number} · {name}"), format!("{number} · {}", kind.sheet), number.to_string()];
    that_fits(painter, &heads, s.frame.left_top() - vec2(0.0, 2.0), s.frame.width(), colour);
    let outline = |points: &[P2]| points.iter().map(|p| s.at.place(*p)).collect::<Vec<Pos2>>();
    let edge = outline(&kind.problem.sheets[laid.sheet].outline);
    let mut mesh = Mesh::default();
    fill(&mut mesh, &edge, tokens.floor);
    painter.add(mesh);
    let stroke = Stroke::new(if chosen { 1.8 } else { 1.0 }, tokens.soft);
    painter.add(Shape::closed_line(edge, stroke));
    let names = name_on(context, s.kind, s.sheet);
    for (i, part) in laid.placed.iter().enumerate() {
        let in_hand = context.state.stock.held.as_ref().is_some_and(|h| {
            (h.by_hand.kind, h.by_hand.from, h.by_hand.placed) == (s.kind, s.sheet, i)
        });
        if in_hand {
            continue;
        }
        let lit = context.state.lit() == Some(piece_of(kind.of[part.part]));
        let own = context.state.stock.chosen == Some([s.kind, s.sheet, i]);
        let sheet = match lit {
            true => tokens.paper.lerp_to_gamma(tokens.chalk, 0.25),
            false => tokens.ply,
        };
        let ring = outline(&part.outline);
        let mut mesh = Mesh::default();
        fill(&mut mesh, &ring, sheet);
        painter.add(mesh);
        let stroke =
            if own { Stroke::new(2.4, tokens.chalk) } else { Stroke::new(1.0, tokens.ink) };
        painter.add(Shape::closed_line(ring, stroke));
        label(painter, context, part, names.get(i).map_or("", String::as_str), s.at);
    }
}

/// Names of the parts on a sheet.
fn name_on<'a>(context: &Context<'a>, kind: usize, sheet: usize) -> &'a [String] {
    let told = &context.stocktaking.told.names;
    told.get(kind).and_then(|k| k.get(sheet)).map_or(&[], Vec::as_slice)
}

/// The first of some words that fits, its foot at `at`; none where none does.
fn that_fits(painter: &Painter, words: &[String], at: Pos2, room: f32, colour: Color32) {
    let font = FontId::proportional(size::SMALL);
    let laid = |w: &String| painter.layout_no_wrap(w.clone(), font.clone(), colour);
    if let Some(galley) = words.iter().map(laid).find(|g| g.size().x <= room) {
        let place = Align2::LEFT_BOTTOM.anchor_size(at, galley.size());
        painter.galley(place.min, galley, colour);
    }
}

/// A part's name on it, as far as there is room.
fn label(painter: &Painter, context: &Context, part: &Placed, name: &str, at: Placement) {
    let (low, high) = part.extent();
    let room = Rect::from_two_pos(at.place(low), at.place(high)).shrink(2.0);
    let font = FontId::proportional(size::SMALL - 2.0);
    let words = painter.layout_no_wrap(name.into(), font, context.tokens.ink);
    let place = Align2::CENTER_CENTER.anchor_size(room.center(), words.size());
    // All of it on the part, or it would lie on a neighbour or across a cut-out.
    let letters = name.chars().count().max(1);
    let on_part = |x: f32, y: f32| inside(&part.outline, at.point(Pos2::new(x, y)));
    let along = |k: usize| place.left() + place.width() * k as f32 / letters as f32;
    let whole =
        (0..=letters).all(|k| on_part(along(k), place.top()) && on_part(along(k), place.bottom()));
    if whole && !part.outline.iter().any(|q| place.contains(at.place(*q))) {
        painter.galley(place.min, words, context.tokens.ink);
    }
}

/// At the foot: what is under the pointer, or what can be done.
fn hint(painter: &Painter, context: &Context, rect: Rect, under: Option<[usize; 3]>) {
    let stock = &context.state.stock;
    let all = |words: &[&str]| words.iter().map(|w| w.to_string()).collect::<Vec<_>>();
    let words = match (sheet_hand::words(context), under) {
        (Some(words), _) => all(words),
        (None, Some([kind, sheet, part])) => {
            name_on(context, kind, sheet).get(part).cloned().into_iter().collect()
        }
        (None, None) => all(&[
            "drag a part to lay it elsewhere · Ctrl T lays the sheet on the table, with its dimensions",
            "drag a part to lay it elsewhere · Ctrl T: on the table",
            "drag a part to lay it elsewhere",
        ]),
    };
    let colour = if stock.no_room { context.tokens.watch } else { context.tokens.soft };
    that_fits(painter, &words, rect.left_bottom() + vec2(6.0, -2.0), rect.width() - 12.0, colour);
}
