//! The sheets with their parts, side by side at one scale; a part can be taken and laid
//! elsewhere.

use bevy_egui::egui::epaint::Mesh;
use bevy_egui::egui::{
    self, Align2, Color32, FontId, Key, Painter, PointerButton, Pos2, Rect, Response, Sense, Shape,
    Stroke, Ui, vec2,
};

use crate::geom::ring::inside;
use crate::geom::{P2, V2};
use crate::model::stock::{ByHand, Laid, SheetKind, StockList};
use crate::part::PartId;
use crate::stock::nest::Placed;
use crate::viewer::paint2d::{Placement, fill};
use crate::viewer::state::stock::HeldPart;
use crate::viewer::stocktaking::Ask;
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::words::stock::kind_words;

/// Room between sheets and round them, points.
const GAP: f32 = 10.0;
/// Height of the words over a sheet, points.
const HEAD: f32 = 18.0;
/// How far an arrow key moves a part, mm; with Shift a tenth.
const STEP_MM: f64 = 20.0;
/// A part that would go no further than this stays where it is, mm.
const STILL_MM: f64 = 1e-6;

/// A sheet where it is shown.
struct Shown {
    kind: usize,
    sheet: usize,
    at: Placement,
    frame: Rect,
}

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
    let under = response.hover_pos().and_then(|p| part_under(list, &shown, p));
    take(ui, context, list, &shown, &response, under);
    keys(ui, context, list, &response);
    if let Some([kind, sheet, part]) = under {
        let of = list.sheets[kind].layout.sheets[sheet].placed[part].part;
        context.state.point_at(piece_of(list.sheets[kind].of[of]));
    }
    for s in &shown {
        paint_sheet(&painter, context, list, s);
    }
    held(&painter, context, list, &shown);
    hint(&painter, context, rect, under);
}

/// The piece of the boat that a part on a sheet belongs to.
fn piece_of(laid: Laid) -> PartId {
    match laid {
        Laid::Piece(panel, _) | Laid::Block(panel, _) => PartId::Panel(panel),
        Laid::Part(id) => id.assembly(),
    }
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

/// The part under the pointer: its kind, sheet and place.
fn part_under(list: &StockList, shown: &[Shown], at: Pos2) -> Option<[usize; 3]> {
    let s = shown.iter().find(|s| s.frame.contains(at))?;
    let p = s.at.point(at);
    let parts = &list.sheets[s.kind].layout.sheets[s.sheet].placed;
    let part = parts.iter().position(|q| inside(&q.outline, p))?;
    Some([s.kind, s.sheet, part])
}

/// Choosing, taking, holding over, turning, laying down.
fn take(
    ui: &Ui,
    context: &mut Context,
    list: &StockList,
    shown: &[Shown],
    response: &Response,
    under: Option<[usize; 3]>,
) {
    if response.clicked() {
        context.state.stock.chosen = under;
        context.state.stock.no_room = false;
        if let Some([kind, sheet, part]) = under {
            let of = list.sheets[kind].layout.sheets[sheet].placed[part].part;
            context.state.selection.held = Some(piece_of(list.sheets[kind].of[of]));
            context.state.lay_sheet(list.sheet_number(kind, sheet) - 1);
            response.request_focus();
        }
    }
    if response.double_clicked() {
        context.state.table.open = true;
    }
    // Parts of a shape that is gone are not moved about.
    if context.old_stock {
        context.state.stock.held = None;
        return;
    }
    let start = ui.input(|i| i.pointer.press_origin());
    if response.drag_started_by(PointerButton::Primary)
        && let Some(start) = start
        && let Some([kind, from, placed]) = part_under(list, shown, start)
        && let Some(s) = shown.iter().find(|s| (s.kind, s.sheet) == (kind, from))
    {
        let own = &list.sheets[kind].layout.sheets[from].placed[placed];
        let grip = own.shift - s.at.point(start).coords;
        let by_hand =
            ByHand { kind, from, placed, to: from, attitude: own.attitude, shift: own.shift };
        context.state.stock.held =
            Some(HeldPart { by_hand, grip: [grip.x, grip.y], clashes: false });
        context.state.stock.chosen = None;
    }
    let Some(mut held) = context.state.stock.held.take() else {
        return;
    };
    if let Some(pointer) = response.interact_pointer_pos() {
        let near = |s: &&Shown| s.frame.distance_sq_to_pos(pointer);
        let of_kind = shown.iter().filter(|s| s.kind == held.by_hand.kind);
        if let Some(s) = of_kind.min_by(|a, b| near(a).total_cmp(&near(b))) {
            held.by_hand.to = s.sheet;
            held.by_hand.shift = s.at.point(pointer).coords + V2::from(held.grip);
        }
    }
    if ui.input(|i| i.key_pressed(Key::R)) {
        held = turned(list, held);
    }
    if !response.drag_stopped() {
        let over = list.held_over(&held.by_hand, false);
        held.clashes = over.is_none_or(|o| !o.clashes.is_empty());
        context.state.stock.held = Some(held);
        return;
    }
    lay_down(context, list, held.by_hand);
}

/// Turned about its own middle, so that it stays under the hand.
fn turned(list: &StockList, held: HeldPart) -> HeldPart {
    let mut by_hand = held.by_hand;
    let problem = &list.sheets[by_hand.kind].problem;
    let part = list.sheets[by_hand.kind].layout.sheets[by_hand.from].placed[by_hand.placed].part;
    let middle = |b: &ByHand| {
        let (low, high) = Placed::new(problem, part, 0, b.attitude, b.shift).extent();
        0.5 * (low.coords + high.coords)
    };
    let before = middle(&by_hand);
    by_hand.attitude = list.turned(&by_hand);
    let moved = before - middle(&by_hand);
    by_hand.shift += moved;
    let grip = V2::from(held.grip) + moved;
    HeldPart { by_hand, grip: [grip.x, grip.y], clashes: held.clashes }
}

/// Lays a part down where it is held, or at the nearest place that is free.
fn lay_down(context: &mut Context, list: &StockList, mut by_hand: ByHand) {
    let free = list.held_over(&by_hand, true).and_then(|o| o.free);
    let sheets = list.sheets.get(by_hand.kind).map(|k| &k.layout.sheets);
    let own = sheets.and_then(|s| s.get(by_hand.from)?.placed.get(by_hand.placed));
    // Pushed back to where it lies, it was not moved either.
    let there = |free: &V2| {
        own.is_some_and(|o| {
            by_hand.to == by_hand.from
                && o.attitude.is_near(by_hand.attitude)
                && (o.shift - free).norm() < STILL_MM
        })
    };
    let free = free.filter(|f| !there(f));
    context.state.stock.no_room = free.is_none();
    if let Some(free) = free {
        by_hand.shift = free;
        context.asks.push(Ask::Lay(by_hand));
    }
}

/// The chosen part moved by arrows and turned by R.
fn keys(ui: &Ui, context: &mut Context, list: &StockList, response: &Response) {
    if !response.has_focus() || context.old_stock {
        return;
    }
    let filter =
        egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
    let Some([kind, from, placed]) = context.state.stock.chosen else {
        return;
    };
    let sheets = list.sheets.get(kind).map(|k| &k.layout.sheets);
    let Some(own) = sheets.and_then(|s| s.get(from)?.placed.get(placed)) else {
        context.state.stock.chosen = None;
        return;
    };
    let step = if ui.input(|i| i.modifiers.shift) { 0.1 * STEP_MM } else { STEP_MM };
    let arrows = [
        (Key::ArrowRight, V2::new(step, 0.0)),
        (Key::ArrowLeft, V2::new(-step, 0.0)),
        (Key::ArrowUp, V2::new(0.0, step)),
        (Key::ArrowDown, V2::new(0.0, -step)),
    ];
    let by: V2 =
        arrows.iter().filter(|(k, _)| ui.input(|i| i.key_pressed(*k))).map(|(_, v)| *v).sum();
    let by_hand =
        ByHand { kind, from, placed, to: from, attitude: own.attitude, shift: own.shift + by };
    let mut held = HeldPart { by_hand, grip: [0.0; 2], clashes: false };
    let turn = ui.input(|i| i.key_pressed(Key::R));
    if turn {
        held = turned(list, held);
    }
    if turn || by != V2::zeros() {
        lay_down(context, list, held.by_hand);
    }
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

/// The part in the hand, where it is held.
fn held(painter: &Painter, context: &Context, list: &StockList, shown: &[Shown]) {
    let Some(h) = &context.state.stock.held else {
        return;
    };
    let by = &h.by_hand;
    let (Some(s), Some(kind)) =
        (shown.iter().find(|s| (s.kind, s.sheet) == (by.kind, by.to)), list.sheets.get(by.kind))
    else {
        return;
    };
    let Some(own) = kind.layout.sheets.get(by.from).and_then(|l| l.placed.get(by.placed)) else {
        return;
    };
    let part = Placed::new(&kind.problem, own.part, own.copy, by.attitude, by.shift);
    let ring: Vec<Pos2> = part.outline.iter().map(|p| s.at.place(*p)).collect();
    let tokens = context.tokens;
    let colour = if h.clashes { tokens.stop } else { tokens.chalk };
    let mut mesh = Mesh::default();
    fill(&mut mesh, &ring, colour.gamma_multiply(0.35));
    painter.add(mesh);
    let stroke = Stroke::new(2.4, colour);
    match h.clashes {
        // Not by colour alone.
        true => painter.extend(Shape::dashed_line(&closed(&ring), stroke, 6.0, 4.0)),
        false => {
            painter.add(Shape::closed_line(ring, stroke));
        }
    }
}

fn closed(ring: &[Pos2]) -> Vec<Pos2> {
    ring.iter().chain(ring.first()).copied().collect()
}

/// At the foot: what is under the pointer, or what can be done.
fn hint(painter: &Painter, context: &Context, rect: Rect, under: Option<[usize; 3]>) {
    let stock = &context.state.stock;
    let all = |words: &[&str]| words.iter().map(|w| w.to_string()).collect::<Vec<_>>();
    let words = match (&stock.held, under) {
        (Some(h), _) if h.clashes => all(&[
            "it lies on something: let go, and it goes to the nearest free place · R turns it",
            "not free: let go, and it goes to the nearest place · R turns it",
            "not free here · R turns it",
        ]),
        (Some(_), _) => all(&["free here · R turns it"]),
        (None, _) if stock.no_room => all(&["there is no room for it there", "no room there"]),
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
