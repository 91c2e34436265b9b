//! Ducks under the hand: where one may go, what it snaps to, how it is drawn and named.

use bevy_egui::egui::{
    self, EventFilter, FontId, Key, Painter, Pos2, Rect, Response, Sense, Shape, Stroke, Ui, vec2,
};

use crate::curve::{End, Spline};
use crate::hull::edit::Edit;
use crate::hull::{Duck, Hull, HullLines};
use crate::part::LineId;
use crate::units::Units;
use crate::viewer::session::Command;
use crate::viewer::state;
use crate::viewer::state::{Dragged, DuckId, Grasp};
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::on_top;

/// How far dragging may take a duck to its neighbours' x, mm.
pub const NEIGHBOUR_GAP: f64 = 20.0;
/// Points within which a duck snaps, and the most mm that this may be.
const SNAP_POINTS: f64 = 7.0;
const SNAP_MM: f64 = 15.0;

/// `to` kept between the duck's neighbours and on the starboard side.
pub fn kept_between(hull: &Hull, id: DuckId, to: Duck) -> Option<Duck> {
    let ducks = &hull.lines.get(id.line)?.ducks;
    let now = ducks.get(id.duck)?;
    let low = if id.duck == 0 { 0.0 } else { ducks[id.duck - 1].x + NEIGHBOUR_GAP };
    let high = ducks.get(id.duck + 1).map_or(f64::INFINITY, |d| d.x - NEIGHBOUR_GAP);
    let x = to.x.clamp(low.min(now.x), high.max(now.x));
    let y = if hull.lines[id.line].is(LineId::Keel) { 0.0 } else { to.y.max(0.0) };
    Some(Duck { x, y, z: to.z, knuckle: now.knuckle })
}

/// The step that a dragged duck moves in: what a tape shows.
fn step(units: Units) -> f64 {
    match units {
        Units::Mm | Units::M => 1.0,
        Units::Inch | Units::InchFraction | Units::FeetInchesEighths => 25.4 / 16.0,
    }
}

/// `to` moved onto what lies near, axis by axis (0 aft, 1 out, 2 up), and what that was in
/// words; the rest rounded to what a tape shows. Only `axes` move.
pub fn snapped(
    hull: &Hull,
    id: DuckId,
    start: Duck,
    to: Duck,
    axes: &[usize],
    stations: &[f64],
    reach: f64,
) -> (Duck, Vec<String>) {
    const NAMES: [&str; 3] = ["as far aft as", "as far out as", "as high as"];
    let mut place = to.point();
    let mut said = Vec::new();
    let step = step(hull.units);
    let fair = fair_without(hull, id);
    for &axis in axes {
        let mut best: Option<(f64, f64, String)> = None;
        let mut offer = |value: f64, words: String| {
            let off = (value - place[axis]).abs();
            if off <= reach && best.as_ref().is_none_or(|b| off < b.0) {
                best = Some((off, value, words));
            }
        };
        // A straight pull keeps the other coordinate.
        offer(start.point()[axis], "as it was".into());
        for (l, line) in hull.lines.iter().enumerate() {
            for (k, d) in line.ducks.iter().enumerate() {
                let near = l == id.line && k.abs_diff(id.duck) == 0;
                // Along a line no two ducks are as far aft as one another.
                if !(near || axis == 0 && l == id.line) {
                    let words = format!("{} duck {} of the {}", NAMES[axis], k + 1, line.name);
                    offer(d.point()[axis], words);
                }
            }
        }
        if axis == 0 {
            for (k, x) in stations.iter().enumerate() {
                offer(*x, format!("on station {}", k + 1));
            }
        } else if let Some(spline) = &fair
            && let Some(t) = spline.parameter_at_x(place.x)
        {
            offer(spline.at(t)[axis], "where the line runs without it".into());
        }
        match best {
            Some((_, value, words)) => {
                place[axis] = value;
                said.push(words);
            }
            None => place[axis] = (place[axis] / step).round() * step,
        }
    }
    (Duck { x: place.x, y: place.y, z: place.z, ..to }, said)
}

/// The duck's line as it would run without it.
fn fair_without(hull: &Hull, id: DuckId) -> Option<Spline> {
    let line = hull.lines.get(id.line)?;
    if id.duck == 0 || id.duck + 1 >= line.ducks.len() || line.ducks.len() < 4 {
        return None;
    }
    let others = line.ducks.iter().enumerate().filter(|(k, _)| *k != id.duck).map(|(_, d)| d);
    let (points, knuckles): (Vec<_>, Vec<_>) = others.map(|d| (d.point(), d.knuckle)).unzip();
    Spline::through(&points, &knuckles, End::NotAKnot, End::NotAKnot).ok()
}

/// A duck half way to the next one aft, where the line already runs.
pub fn between(hull: &Hull, id: DuckId) -> Option<Duck> {
    let line = hull.lines.get(id.line)?;
    let (a, b) = (line.ducks.get(id.duck)?, line.ducks.get(id.duck + 1)?);
    if b.x - a.x < 2.0 * NEIGHBOUR_GAP {
        return None;
    }
    let lines = HullLines::of(hull).ok()?;
    let spline = &lines.get(&line.name)?.spline;
    let p = spline.at(spline.parameter_at_x((0.5 * (a.x + b.x)).round())?);
    Some(Duck::at(p.x.round(), p.y.max(0.0).round(), p.z.round()))
}

/// Sets a new duck on a line, and takes it in hand.
pub fn set_another(context: &mut Context, line: usize, duck: Duck) {
    let Some(l) = context.session.hull().lines.get(line) else {
        return;
    };
    let place = l.ducks.partition_point(|d| d.x < duck.x);
    context.ask(Command::Edit(Edit::AddDuck { line, duck }));
    context.state.selection.duck = Some(DuckId { line, duck: place });
}

/// Points that a duck may be moved without leaving its place.
const STILL: f32 = 3.0;

/// One way of taking hold of ducks: where they are drawn and where the pointer takes them.
pub struct Hold<'a> {
    /// Where the duck was taken.
    pub grasp: Grasp,
    /// Where a duck is drawn.
    pub at: &'a dyn Fn(&Duck) -> Option<Pos2>,
    /// The duck brought to where the pointer is.
    pub to: &'a dyn Fn(&Duck, Pos2) -> Option<Duck>,
    /// Axes that move.
    pub axes: [usize; 2],
    /// What the arrow keys move: the axis and which way, across and up; none on the stage.
    pub arrows: Option<[(usize, f64); 2]>,
    /// The duck that the Tab key stops at, of all that are held so; none on the stage. From
    /// there the arrow keys go on.
    pub stop: Option<DuckId>,
    /// mm for each point on the screen.
    pub mm_per_point: f64,
}

impl Hold<'_> {
    fn name(&self, hull: &Hull, id: DuckId) -> String {
        let place = match self.grasp {
            Grasp::Strip(state::StripView::Profile) => "in profile",
            Grasp::Strip(state::StripView::Plan) => "in plan",
            Grasp::Stage(_) => "on the hull",
        };
        format!("duck {} of the {}, {place}", id.duck + 1, hull.lines[id.line].name)
    }

    /// The name by which the keys find a duck.
    fn widget(&self, ui: &Ui, id: DuckId) -> egui::Id {
        ui.id().with(("duck", id, self.grasp))
    }

    /// Puts the keys on a duck.
    pub fn focus(&self, ui: &Ui, id: DuckId) {
        let widget = self.widget(ui, id);
        ui.memory_mut(|m| m.request_focus(widget));
    }

    /// Shows one duck and lets it be dragged, clicked and moved by keys.
    pub fn show(&self, ui: &mut Ui, context: &mut Context, id: DuckId) -> Option<Response> {
        let duck = *context.session.hull().lines.get(id.line)?.ducks.get(id.duck)?;
        let at = (self.at)(&duck)?;
        let rect = Rect::from_center_size(at, vec2(2.0 * size::DUCK_HIT, 2.0 * size::DUCK_HIT));
        let sense = if self.stop == Some(id) {
            Sense::click_and_drag()
        } else {
            Sense::CLICK | Sense::DRAG
        };
        let widget = self.widget(ui, id);
        let response = ui.interact(rect, widget, sense);
        let name = self.name(context.session.hull(), id);
        response.widget_info(|| {
            let chosen = context.state.selection.duck == Some(id);
            egui::WidgetInfo::selected(egui::WidgetType::Button, true, chosen, &name)
        });
        self.drag(ui, context, id, &duck, at, &response);
        if response.clicked() || response.drag_stopped() {
            context.state.selection.duck = Some(id);
            if self.arrows.is_some() {
                response.request_focus();
            }
        }
        if response.has_focus() {
            self.keys(ui, context, id, &duck, widget);
        }
        let active = response.hovered() || response.has_focus() || response.dragged();
        paint(ui.painter(), context, id, &duck, at, active);
        if response.hovered() || response.dragged() {
            figures(&on_top(ui), context, &duck, at);
        }
        self.menu(context, id, &duck, &response);
        Some(response)
    }

    fn drag(
        &self,
        ui: &Ui,
        context: &mut Context,
        id: DuckId,
        duck: &Duck,
        at: Pos2,
        r: &Response,
    ) {
        if r.drag_started_by(egui::PointerButton::Primary) {
            let origin = ui.input(|i| i.pointer.press_origin()).unwrap_or(at);
            let grip = at - origin;
            let snapped = Vec::new();
            context.state.selection.dragged = Some(Dragged {
                id,
                grasp: self.grasp,
                grip: [grip.x, grip.y],
                start: *duck,
                snapped,
            });
            context.state.selection.duck = Some(id);
        }
        let held = context
            .state
            .selection
            .dragged
            .as_ref()
            .is_some_and(|d| d.id == id && d.grasp == self.grasp);
        if !held {
            return;
        }
        if r.dragged()
            && let Some(pointer) = r.interact_pointer_pos()
            && let Some(dragged) = &mut context.state.selection.dragged
        {
            let pointer = pointer + vec2(dragged.grip[0], dragged.grip[1]);
            // Held still it stays where it is.
            let start = dragged.start;
            if (self.at)(&start).is_some_and(|s| (pointer - s).length() < STILL) && *duck == start {
                return;
            }
            let hull = context.session.hull();
            let free = ui.input(|i| i.modifiers.alt) || !context.state.display.snap;
            let stations = context.model.map_or(&[][..], |m| &m.stations);
            let reach = if free { 0.0 } else { (SNAP_POINTS * self.mm_per_point).min(SNAP_MM) };
            let moved = (self.to)(duck, pointer)
                .map(|to| snapped(hull, id, start, to, &self.axes, stations, reach))
                .and_then(|(to, said)| Some((kept_between(hull, id, to)?, said)));
            if let Some((to, said)) = moved {
                dragged.snapped = said;
                if *duck != to {
                    context.ask(Command::Drag(Edit::MoveDuck { line: id.line, duck: id.duck, to }));
                }
            }
        }
        if r.drag_stopped() {
            context.state.selection.dragged = None;
            context.ask(Command::DragEnd);
        }
    }

    fn keys(&self, ui: &Ui, context: &mut Context, id: DuckId, duck: &Duck, widget: egui::Id) {
        let Some(arrows) = self.arrows else {
            return;
        };
        let in_hand = context.state.selection.duck == Some(id);
        let filter = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            escape: in_hand,
            tab: false,
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(widget, filter));
        // The keys are on it, and it is not in hand: arrows go to the next one.
        if !in_hand {
            return;
        }
        let pressed = |key| ui.input(|i| i.key_pressed(key));
        let size = step(context.session.hull().units)
            * if ui.input(|i| i.modifiers.shift) { 10.0 } else { 1.0 };
        let mut place = duck.point();
        for (key, (axis, way)) in [
            (Key::ArrowRight, arrows[0]),
            (Key::ArrowLeft, (arrows[0].0, -arrows[0].1)),
            (Key::ArrowUp, arrows[1]),
            (Key::ArrowDown, (arrows[1].0, -arrows[1].1)),
        ] {
            if pressed(key) {
                place[axis] += way * size;
            }
        }
        let to = Duck { x: place.x, y: place.y, z: place.z, ..*duck };
        if let Some(to) = kept_between(context.session.hull(), id, to).filter(|to| to != duck) {
            // As long as a key is held it is one step.
            context.ask(Command::Drag(Edit::MoveDuck { line: id.line, duck: id.duck, to }));
        }
        let arrows = [Key::ArrowRight, Key::ArrowLeft, Key::ArrowUp, Key::ArrowDown];
        if arrows.iter().any(|k| ui.input(|i| i.key_released(*k))) {
            context.ask(Command::DragEnd);
        }
        if pressed(Key::Delete) || pressed(Key::Backspace) {
            take_away(context, id);
        }
        if pressed(Key::K) {
            let (line, duck, knuckle) = (id.line, id.duck, !duck.knuckle);
            context.ask(Command::Edit(Edit::SetKnuckle { line, duck, knuckle }));
        }
    }

    fn menu(&self, context: &mut Context, id: DuckId, duck: &Duck, response: &Response) {
        response.context_menu(|ui| {
            let inner =
                id.duck > 0 && id.duck + 1 < context.session.hull().lines[id.line].ducks.len();
            let word = if duck.knuckle { "Make it fair" } else { "Make it a knuckle" };
            if ui.add_enabled(inner, egui::Button::new(word).shortcut_text("K")).clicked() {
                let (line, duck, knuckle) = (id.line, id.duck, !duck.knuckle);
                context.ask(Command::Edit(Edit::SetKnuckle { line, duck, knuckle }));
            }
            if ui.add(egui::Button::new("Take it away").shortcut_text("Delete")).clicked() {
                take_away(context, id);
            }
            ui.checkbox(&mut context.state.display.snap, "snap to what is near");
        });
    }
}

/// Takes a duck off its line.
pub fn take_away(context: &mut Context, id: DuckId) {
    context.state.selection.duck = None;
    context.ask(Command::Edit(Edit::RemoveDuck { line: id.line, duck: id.duck }));
}

/// A lozenge, as long as a lead weight is; a knuckle's is hollow.
fn paint(painter: &Painter, context: &Context, id: DuckId, duck: &Duck, at: Pos2, active: bool) {
    let tokens = context.tokens;
    let selected = context.state.selection.duck == Some(id);
    let r = if active || selected { 1.5 * size::DUCK } else { size::DUCK };
    let colour = if selected || active { tokens.chalk } else { tokens.ink };
    let points = vec![
        at + vec2(-1.3 * r, 0.0),
        at + vec2(0.0, -r),
        at + vec2(1.3 * r, 0.0),
        at + vec2(0.0, r),
    ];
    let fill = if duck.knuckle { tokens.paper } else { colour };
    // A thin light edge keeps it in sight on dark wood.
    let halo = points.iter().map(|p| at + (*p - at) * 1.25).collect();
    painter.add(Shape::convex_polygon(halo, tokens.paper.gamma_multiply(0.8), Stroke::NONE));
    painter.add(Shape::convex_polygon(points, fill, Stroke::new(1.2, colour)));
}

/// Where the duck is, beside it, and what it has snapped to.
fn figures(painter: &Painter, context: &Context, duck: &Duck, at: Pos2) {
    let tokens = context.tokens;
    let u = context.session.hull().units;
    let mut text =
        format!("{} aft · {} out · {} up", u.show(duck.x), u.show(duck.y), u.show(duck.z));
    for words in context.state.selection.dragged.iter().flat_map(|d| &d.snapped) {
        text.push('\n');
        text.push_str(words);
    }
    let galley = painter.layout_no_wrap(text, FontId::monospace(size::SMALL), tokens.ink);
    let mut corner = at + vec2(16.0, -30.0 - galley.size().y + size::SMALL);
    let room = painter.clip_rect();
    corner.x = corner.x.min(room.max.x - galley.size().x - 8.0).max(room.min.x + 8.0);
    corner.y = corner.y.max(room.min.y + 6.0);
    let ground = Rect::from_min_size(corner, galley.size()).expand(4.0);
    painter.rect(
        ground,
        4.0,
        tokens.paper,
        Stroke::new(1.0, tokens.rule),
        egui::StrokeKind::Outside,
    );
    painter.galley(corner, galley, tokens.ink);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::demonstration;

    #[test]
    fn a_duck_snaps_to_a_station_a_neighbour_and_the_fair_line() {
        let hull = demonstration();
        let id = DuckId { line: 1, duck: 2 };
        let now = hull.lines[1].ducks[2];
        let near_station = Duck { x: now.x + 6.0, ..now };
        // Where it was is out of reach in these.
        let far = Duck::at(-900.0, -900.0, -900.0);
        let stations = [now.x + 4.0];
        let (to, said) = snapped(&hull, id, far, near_station, &[0], &stations, 5.0);
        assert_eq!(to.x, stations[0]);
        assert_eq!(said, ["on station 1"]);
        let other = hull.lines[1].ducks[3];
        let (to, said) = snapped(&hull, id, far, Duck { z: other.z + 2.0, ..now }, &[2], &[], 3.0);
        assert_eq!(to.z, other.z);
        assert_eq!(said, ["as high as duck 4 of the sheer"]);
        let fair = fair_without(&hull, id).expect("an inner duck");
        let run = fair.at(fair.parameter_at_x(now.x).expect("amidships"));
        let (to, said) = snapped(&hull, id, far, Duck { y: run.y + 0.4, ..now }, &[1], &[], 0.5);
        assert!((to.y - run.y).abs() < 1e-9, "{to:?} {said:?}");
        let (to, said) = snapped(&hull, id, now, Duck { x: now.x + 3.0, ..now }, &[0], &[], 5.0);
        assert_eq!((to.x, said), (now.x, vec!["as it was".to_string()]));
        let (to, said) = snapped(&hull, id, far, Duck { y: run.y + 7.3, ..now }, &[1], &[], 0.0);
        assert_eq!((to.y, said.len()), ((run.y + 7.3).round(), 0), "free: to the mm");
    }

    #[test]
    fn a_drag_stops_short_of_the_next_duck_and_of_port() {
        let hull = demonstration();
        let id = DuckId { line: 1, duck: 2 };
        let far = Duck { x: 1e5, y: -40.0, ..hull.lines[1].ducks[2] };
        let to = kept_between(&hull, id, far).expect("it is there");
        assert_eq!((to.x, to.y), (hull.lines[1].ducks[3].x - NEIGHBOUR_GAP, 0.0));
    }
}
