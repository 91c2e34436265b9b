//! A part of a sheet's layout in the hand: taken, held over, turned, laid down; the same in the
//! strip, where all sheets lie side by side, and on the table, where one lies alone.

use bevy_egui::egui::epaint::Mesh;
use bevy_egui::egui::{self, Key, Painter, PointerButton, Pos2, Rect, Response, Shape, Stroke, Ui};

use crate::geom::V2;
use crate::geom::ring::inside;
use crate::model::stock::{ByHand, Laid, StockList};
use crate::part::PartId;
use crate::stock::nest::Placed;
use crate::viewer::paint2d::{Placement, fill};
use crate::viewer::state::stock::HeldPart;
use crate::viewer::stocktaking::Ask;
use crate::viewer::ui::context::Context;

/// How far an arrow key moves a part, mm; with Shift a tenth.
const STEP_MM: f64 = 20.0;
/// A part that would go no further than this stays where it is, mm.
const STILL_MM: f64 = 1e-6;

/// A sheet where it is shown.
pub struct Shown {
    /// Its kind, by its place in the list.
    pub kind: usize,
    /// Which sheet of that kind.
    pub sheet: usize,
    /// Where its layout (mm) lies on the screen.
    pub at: Placement,
    /// The box that it fills on the screen, points.
    pub frame: Rect,
}

/// The piece of the boat that a part on a sheet belongs to.
pub fn piece_of(laid: Laid) -> PartId {
    match laid {
        Laid::Piece(panel, _) | Laid::Block(panel, _) => PartId::Panel(panel),
        Laid::Part(id) => id.assembly(),
    }
}

/// The part under the pointer: its kind, sheet and place.
pub fn part_under(list: &StockList, shown: &[Shown], at: Pos2) -> Option<[usize; 3]> {
    let s = shown.iter().find(|s| s.frame.contains(at))?;
    let p = s.at.point(at);
    let parts = &list.sheets[s.kind].layout.sheets[s.sheet].placed;
    let part = parts.iter().position(|q| inside(&q.outline, p))?;
    Some([s.kind, s.sheet, part])
}

/// Choosing, taking, holding over, turning, laying down, by the pointer on `response` and by the
/// keys: whatever is done to the sheets `shown`. What is under the pointer.
pub fn act(
    ui: &Ui,
    context: &mut Context,
    list: &StockList,
    shown: &[Shown],
    response: &Response,
) -> Option<[usize; 3]> {
    let under = response.hover_pos().and_then(|p| part_under(list, shown, p));
    if let Some(part) = under {
        context.state.point_at(piece_at(list, part));
    }
    choose(context, list, response, under);
    // Parts of a shape that is gone are not moved about.
    match context.old_stock {
        true => context.state.stock.held = None,
        false => {
            drag(ui, context, list, shown, response);
            keys(ui, context, list, shown, response);
        }
    }
    under
}

/// The piece that a part on a sheet belongs to, by kind, sheet and place.
fn piece_at(list: &StockList, [kind, sheet, part]: [usize; 3]) -> PartId {
    let of = list.sheets[kind].layout.sheets[sheet].placed[part].part;
    piece_of(list.sheets[kind].of[of])
}

/// A part that is pressed is the one that keys move.
fn choose(context: &mut Context, list: &StockList, response: &Response, under: Option<[usize; 3]>) {
    if !response.clicked() {
        return;
    }
    context.state.stock.chosen = under;
    context.state.stock.no_room = false;
    if let Some([kind, sheet, part]) = under {
        context.state.selection.held = Some(piece_at(list, [kind, sheet, part]));
        context.state.lay_sheet(list.sheet_number(kind, sheet) - 1);
        response.request_focus();
    }
}

/// A part follows the pointer from its press to its release.
fn drag(ui: &Ui, context: &mut Context, list: &StockList, shown: &[Shown], response: &Response) {
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

/// Whether the part that keys move lies on one of the sheets shown.
pub fn moves_by_keys(context: &Context, shown: &[Shown], response: &Response) -> bool {
    let chosen = context.state.stock.chosen;
    let own = |s: &Shown| chosen.is_some_and(|c| c[..2] == [s.kind, s.sheet]);
    response.has_focus() && shown.iter().any(own)
}

/// The chosen part moved by arrows and turned by R.
fn keys(ui: &Ui, context: &mut Context, list: &StockList, shown: &[Shown], response: &Response) {
    if !moves_by_keys(context, shown, response) {
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

/// The outline of a part that lies on a sheet, on the screen.
fn ring_of(part: &Placed, at: Placement) -> Vec<Pos2> {
    part.outline.iter().map(|p| at.place(*p)).collect()
}

/// The part that keys move, ringed where it lies on a sheet that is drawn anyway.
pub fn chosen_ring(context: &Context, list: &StockList, s: &Shown) -> Option<Shape> {
    let [kind, sheet, part] = context.state.stock.chosen?;
    let placed = list.sheets.get(kind)?.layout.sheets.get(sheet)?.placed.get(part)?;
    let stroke = Stroke::new(2.4, context.tokens.chalk);
    ((kind, sheet) == (s.kind, s.sheet)).then(|| Shape::closed_line(ring_of(placed, s.at), stroke))
}

/// Hides the part in the hand where it was taken from, on a sheet that is drawn anyway.
pub fn hide_taken(painter: &Painter, context: &Context, list: &StockList, s: &Shown) {
    let by = context.state.stock.held.as_ref().map(|h| h.by_hand);
    let by = by.filter(|b| (b.kind, b.from) == (s.kind, s.sheet));
    let sheets = |b: ByHand| Some(&list.sheets.get(b.kind)?.layout.sheets.get(b.from)?.placed);
    if let Some(own) = by.and_then(|b| sheets(b)?.get(b.placed)) {
        let mut mesh = Mesh::default();
        fill(&mut mesh, &ring_of(own, s.at), context.tokens.floor);
        painter.add(mesh);
    }
}

/// The part in the hand, where it is held.
pub fn held(painter: &Painter, context: &Context, list: &StockList, shown: &[Shown]) {
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
    let ring = ring_of(&part, s.at);
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

/// What is said of the part in the hand, or of the one that found no room: the longest words
/// first, to be chosen from by the room there is.
pub fn words(context: &Context) -> Option<&'static [&'static str]> {
    match &context.state.stock.held {
        Some(h) if h.clashes => Some(&[
            "it lies on something: let go, and it goes to the nearest free place · R turns it",
            "not free: let go, and it goes to the nearest place · R turns it",
            "not free here · R turns it",
        ]),
        Some(_) => Some(&["free here · R turns it"]),
        None if context.state.stock.no_room => {
            Some(&["there is no room for it there", "no room there"])
        }
        None => None,
    }
}
