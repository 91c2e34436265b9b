//! The drafting strip: profile above plan on one x axis, with ducks to drag.

use bevy_egui::egui::{self, Align2, FontId, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, vec2};

use super::Context;
use super::state::{Dragged, DuckId, StripView};
use super::style::size;
use crate::geom::P2;
use crate::hull::edit::Edit;
use crate::hull::{Duck, Hull, HullLines};
use crate::viewer::paint2d::{Placement, dashes};
use crate::viewer::session::Command;

/// Room at the left for the views' names, points.
const LABELS: f32 = 56.0;
/// Longest tooth of a comb, points.
const LONGEST_TOOTH: f32 = 22.0;
/// How far dragging may take a duck to its neighbours' x, mm.
const NEIGHBOUR_GAP: f64 = 20.0;
/// Points of a line as drawn.
const SAMPLES: usize = 72;

/// Both views on the screen.
#[derive(Debug, Clone, Copy)]
pub struct Layout {
    /// Where heights are drawn.
    pub profile: Placement,
    /// Where half-breadths are drawn.
    pub plan: Placement,
    /// The line between them, points.
    pub split: f32,
}

/// Lays out both views in `rect` for a hull of this length, height and half-breadth (mm).
pub fn layout(rect: Rect, length: f64, height: (f64, f64), half_breadth: f64) -> Layout {
    let room = rect.shrink2(vec2(8.0, 10.0));
    let tall = (height.1 - height.0 + half_breadth) as f32;
    let scale = ((room.width() - LABELS - 24.0) / length as f32)
        .min((room.height() - 36.0) / tall.max(1.0));
    let left = room.min.x + LABELS + 0.5 * (room.width() - LABELS - length as f32 * scale);
    let (h, b) = ((height.1 - height.0) as f32 * scale, half_breadth as f32 * scale);
    let spare = (room.height() - h - b - 12.0).max(0.0);
    let profile_base = room.min.y + 0.35 * spare + h;
    let split = profile_base + 0.15 * spare + 6.0;
    let plan_base = split + 0.15 * spare + 6.0 + b;
    Layout {
        profile: Placement {
            origin: Pos2::new(left, profile_base + height.0 as f32 * scale),
            scale,
        },
        plan: Placement { origin: Pos2::new(left, plan_base), scale },
        split,
    }
}

impl Layout {
    /// The placement of a view.
    pub fn of(&self, view: StripView) -> Placement {
        match view {
            StripView::Profile => self.profile,
            StripView::Plan => self.plan,
        }
    }

    /// A duck in a view.
    pub fn duck(&self, view: StripView, d: &Duck) -> Pos2 {
        let p = match view {
            StripView::Profile => P2::new(d.x, d.z),
            StripView::Plan => P2::new(d.x, d.y),
        };
        self.of(view).place(p)
    }

    /// The duck nearest to `at` within reach, and in which view.
    pub fn hit(&self, hull: &Hull, at: Pos2) -> Option<(DuckId, StripView)> {
        let mut best: Option<(f32, DuckId, StripView)> = None;
        for view in [StripView::Profile, StripView::Plan] {
            for (l, line) in hull.lines.iter().enumerate() {
                if line.name == "keel" && view == StripView::Plan {
                    continue;
                }
                for (k, d) in line.ducks.iter().enumerate() {
                    let distance = (self.duck(view, d) - at).length();
                    if distance <= size::DUCK_HIT && best.is_none_or(|b| distance < b.0) {
                        best = Some((distance, DuckId { line: l, duck: k }, view));
                    }
                }
            }
        }
        best.map(|(_, id, view)| (id, view))
    }

    /// Where a duck goes when the pointer is at `at`: kept between its neighbours and on
    /// the starboard side, to the millimetre.
    pub fn dragged(&self, hull: &Hull, id: DuckId, view: StripView, at: Pos2) -> Option<Duck> {
        let ducks = &hull.lines.get(id.line)?.ducks;
        let mut duck = *ducks.get(id.duck)?;
        let p = self.of(view).point(at);
        let low = if id.duck == 0 { 0.0 } else { ducks[id.duck - 1].x + NEIGHBOUR_GAP };
        let high = ducks.get(id.duck + 1).map_or(f64::INFINITY, |d| d.x - NEIGHBOUR_GAP);
        duck.x = p.x.clamp(low.min(duck.x), high.max(duck.x)).round();
        match view {
            StripView::Profile => duck.z = p.y.round(),
            StripView::Plan => duck.y = p.y.max(0.0).round(),
        }
        Some(duck)
    }
}

/// Shows the strip.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    let painter = ui.painter_at(rect);
    let hull = context.session.hull();
    let Ok(lines) = HullLines::of(hull) else {
        painter.text(
            rect.center(),
            Align2::CENTER_CENTER,
            "No batten passes through these ducks.",
            FontId::proportional(size::BODY),
            context.tokens.stop,
        );
        return;
    };
    // While a duck is dragged the layout stays, or the ground would move under the pointer.
    let id = ui.id().with("layout");
    let kept: Option<Layout> = ui.data(|d| d.get_temp(id));
    let layout = match kept.filter(|_| context.state.dragged.is_some()) {
        Some(layout) => layout,
        None => {
            layout(rect, lines.length_overall(), lines.extent(|p| p.z), lines.extent(|p| p.y).1)
        }
    };
    ui.data_mut(|d| d.insert_temp(id, layout));
    paint(&painter, rect, context, &lines, &layout);
    interact(ui, &response, context, &layout);
}

fn interact(ui: &Ui, response: &egui::Response, context: &mut Context, layout: &Layout) {
    let Some(pointer) = response.interact_pointer_pos().or(response.hover_pos()) else {
        return;
    };
    let hull = context.session.hull().clone();
    if response.drag_started_by(egui::PointerButton::Primary) {
        let origin = ui.input(|i| i.pointer.press_origin()).unwrap_or(pointer);
        context.state.dragged = layout.hit(&hull, origin).map(|(id, view)| {
            let grip = layout.duck(view, &hull.lines[id.line].ducks[id.duck]) - origin;
            Dragged { id, view, grip: [grip.x, grip.y] }
        });
        if let Some(taken) = context.state.dragged {
            context.state.duck = Some(taken.id);
        }
    }
    if let Some(Dragged { id, view, grip }) = context.state.dragged {
        let pointer = pointer + vec2(grip[0], grip[1]);
        if response.dragged()
            && let Some(to) = layout.dragged(&hull, id, view, pointer)
            && hull.lines[id.line].ducks[id.duck] != to
        {
            context.ask(Command::Drag(Edit::MoveDuck { line: id.line, duck: id.duck, to }));
        }
        if response.drag_stopped() {
            context.state.dragged = None;
            context.ask(Command::DragEnd);
        }
        return;
    }
    if response.double_clicked() && layout.hit(&hull, pointer).is_none() {
        if let Some((line, duck)) = new_duck(&hull, layout, pointer) {
            context.ask(Command::Edit(Edit::AddDuck { line, duck }));
        }
    } else if response.clicked() {
        context.state.duck = layout.hit(&hull, pointer).map(|h| h.0);
    }
}

/// A duck on the line under the pointer, where its batten already runs.
fn new_duck(hull: &Hull, layout: &Layout, at: Pos2) -> Option<(usize, Duck)> {
    let lines = HullLines::of(hull).ok()?;
    let view = if at.y < layout.split { StripView::Profile } else { StripView::Plan };
    let x = layout.of(view).point(at).x;
    let mut best: Option<(f32, usize, Duck)> = None;
    for (l, line) in hull.lines.iter().enumerate() {
        let spline = &lines.get(&line.name)?.spline;
        let Some(t) = spline.parameter_at_x(x) else {
            continue;
        };
        let p = spline.at(t);
        let duck = Duck::at(p.x.round(), p.y.max(0.0).round(), p.z.round());
        let distance = (layout.duck(view, &duck) - at).length();
        let clear = line.ducks.iter().all(|d| (d.x - duck.x).abs() > NEIGHBOUR_GAP);
        if distance < size::DUCK_HIT && clear && best.as_ref().is_none_or(|b| distance < b.0) {
            best = Some((distance, l, duck));
        }
    }
    best.map(|(_, l, d)| (l, d))
}

fn line_in_view(layout: &Layout, view: StripView, spline: &crate::curve::Spline) -> Vec<Pos2> {
    (0..=SAMPLES)
        .map(|i| spline.at(spline.end() * i as f64 / SAMPLES as f64))
        .map(|p| layout.of(view).place(P2::from(view.flatten(p.coords))))
        .collect()
}

fn paint(painter: &Painter, rect: Rect, context: &Context, lines: &HullLines, layout: &Layout) {
    let tokens = context.tokens;
    let thin = Stroke::new(1.0, tokens.rule);
    painter.hline(rect.x_range(), layout.split, thin);
    // Stations, and the two base lines.
    for (i, x) in context.model.iter().flat_map(|m| &m.stations).enumerate() {
        let at = layout.profile.place(P2::new(*x, 0.0)).x;
        painter.vline(at, rect.y_range(), Stroke::new(0.6, tokens.rule));
        painter.text(
            Pos2::new(at + 3.0, rect.max.y - 2.0),
            Align2::LEFT_BOTTOM,
            format!("{}", i + 1),
            FontId::proportional(size::SMALL - 2.0),
            tokens.soft,
        );
    }
    painter.hline(rect.x_range(), layout.plan.origin.y, thin);
    for (text, y) in [("profile", rect.min.y + 12.0), ("plan", layout.split + 12.0)] {
        painter.text(
            Pos2::new(rect.min.x + 6.0, y),
            Align2::LEFT_CENTER,
            text,
            FontId::proportional(size::SMALL),
            tokens.soft,
        );
    }
    ghost(painter, context, layout);
    if context.state.combs {
        combs(painter, context, layout);
    }
    for view in [StripView::Profile, StripView::Plan] {
        for line in &lines.lines {
            if !drawn_in(line, view) {
                continue;
            }
            painter.add(Shape::line(
                line_in_view(layout, view, &line.spline),
                Stroke::new(1.6, tokens.ink),
            ));
        }
        ends(painter, layout, view, lines, tokens.ink);
    }
    ducks(painter, context, layout);
}

/// Stem and transom: the lines' ends joined.
fn ends(
    painter: &Painter,
    layout: &Layout,
    view: StripView,
    lines: &HullLines,
    ink: egui::Color32,
) {
    for at_bow in [true, false] {
        let points: Vec<Pos2> = lines
            .lines
            .iter()
            .map(|l| l.spline.at(if at_bow { 0.0 } else { l.spline.end() }))
            .map(|p| layout.of(view).place(P2::from(view.flatten(p.coords))))
            .collect();
        painter.add(Shape::line(points, Stroke::new(1.2, ink)));
    }
}

/// The last saved shape, dashed.
fn ghost(painter: &Painter, context: &Context, layout: &Layout) {
    if !context.session.changed() {
        return;
    }
    let Ok(saved) = HullLines::of(context.session.saved()) else {
        return;
    };
    for view in [StripView::Profile, StripView::Plan] {
        for line in saved.lines.iter().filter(|l| !l.derived) {
            for dash in dashes(&line_in_view(layout, view, &line.spline), &[5.0, 4.0]) {
                painter.add(Shape::line(
                    dash,
                    Stroke::new(1.0, context.tokens.soft.gamma_multiply(0.7)),
                ));
            }
        }
    }
}

/// Curvature combs of the last good model, all at one scale in each view.
fn combs(painter: &Painter, context: &Context, layout: &Layout) {
    let Some(model) = context.model else {
        return;
    };
    let colour = context.tokens.chalk.gamma_multiply(0.45);
    for view in [StripView::Profile, StripView::Plan] {
        let of = |f: &'_ crate::curve::Fairness| match view {
            StripView::Plan => f.plan.comb.clone(),
            StripView::Profile => f.profile.comb.clone(),
        };
        let shown: Vec<Vec<_>> = model
            .lines
            .lines
            .iter()
            .zip(&model.fairness)
            .filter(|(l, _)| drawn_in(l, view))
            .map(|(_, f)| of(f))
            .collect();
        let most = shown.iter().flatten().map(|t| t.curvature.abs()).fold(0.0, f64::max);
        if most <= 0.0 {
            continue;
        }
        for comb in &shown {
            let mut tips = Vec::with_capacity(comb.len());
            for tooth in comb {
                let root = layout.of(view).place(tooth.at);
                let length = LONGEST_TOOTH * (tooth.curvature / most) as f32;
                let tip = root - vec2(tooth.normal.x as f32, -tooth.normal.y as f32) * length;
                painter.line_segment([root, tip], Stroke::new(0.7, colour));
                tips.push(tip);
            }
            painter.add(Shape::line(tips, Stroke::new(1.0, colour)));
        }
    }
}

/// Whether a line is drawn in a view: a keel is the centreline in plan, and the keel of a
/// flat bottom the chine's own profile.
fn drawn_in(line: &crate::hull::HullLine, view: StripView) -> bool {
    !(line.derived || line.name == "keel" && view == StripView::Plan)
}

fn ducks(painter: &Painter, context: &Context, layout: &Layout) {
    let tokens = context.tokens;
    let hull = context.session.hull();
    let pointer = painter.ctx().input(|i| i.pointer.hover_pos());
    let hovered = pointer.and_then(|p| layout.hit(hull, p)).map(|h| h.0);
    for view in [StripView::Profile, StripView::Plan] {
        for (l, line) in hull.lines.iter().enumerate() {
            if line.name == "keel" && view == StripView::Plan {
                continue;
            }
            for (k, d) in line.ducks.iter().enumerate() {
                let id = DuckId { line: l, duck: k };
                let selected = context.state.duck == Some(id);
                let at = layout.duck(view, d);
                let r = if hovered == Some(id) || selected { 1.5 * size::DUCK } else { size::DUCK };
                let colour = if selected { tokens.chalk } else { tokens.ink };
                // A lozenge, as long as a lead weight is; a knuckle's is hollow.
                let points = vec![
                    at + vec2(-1.3 * r, 0.0),
                    at + vec2(0.0, -r),
                    at + vec2(1.3 * r, 0.0),
                    at + vec2(0.0, r),
                ];
                let fill = if d.knuckle { tokens.paper } else { colour };
                painter.add(Shape::convex_polygon(points, fill, Stroke::new(1.2, colour)));
            }
        }
    }
    if let Some(id) = hovered.or(context.state.dragged.map(|d| d.id))
        && let (Some(p), Some(d)) =
            (pointer, hull.lines.get(id.line).and_then(|l| l.ducks.get(id.duck)))
    {
        let units = hull.units;
        let text =
            format!("{} aft · {} out · {} up", units.show(d.x), units.show(d.y), units.show(d.z));
        let galley = painter.layout_no_wrap(text, FontId::monospace(size::SMALL), tokens.ink);
        let mut corner = p + vec2(14.0, -26.0);
        corner.x = corner.x.min(painter.clip_rect().max.x - galley.size().x - 8.0);
        corner.y = corner.y.max(painter.clip_rect().min.y + 4.0);
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
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::demonstration;

    fn laid_out() -> (Hull, Layout) {
        let hull = demonstration();
        let lines = HullLines::of(&hull).expect("the demonstration hull");
        let rect = Rect::from_min_size(Pos2::new(112.0, 540.0), vec2(800.0, 260.0));
        let l =
            layout(rect, lines.length_overall(), lines.extent(|p| p.z), lines.extent(|p| p.y).1);
        for line in &lines.lines {
            for view in [StripView::Profile, StripView::Plan] {
                for p in line_in_view(&l, view, &line.spline) {
                    assert!(rect.contains(p), "{view:?} {p:?}");
                }
            }
        }
        (hull, l)
    }

    #[test]
    fn a_duck_is_hit_where_it_is_drawn_and_goes_where_it_is_dragged() {
        let (hull, l) = laid_out();
        let id = DuckId { line: 1, duck: 2 };
        let at = l.duck(StripView::Plan, &hull.lines[1].ducks[2]);
        assert_eq!(l.hit(&hull, at + vec2(3.0, -2.0)), Some((id, StripView::Plan)));
        assert_eq!(l.hit(&hull, at + vec2(0.0, 60.0)), None);
        let to = l.dragged(&hull, id, StripView::Plan, at + vec2(0.0, -10.0)).expect("it is there");
        let mm = f64::from(10.0 / l.plan.scale);
        assert!((to.y - hull.lines[1].ducks[2].y - mm).abs() <= 1.0);
        assert_eq!(to.z, hull.lines[1].ducks[2].z);
    }

    #[test]
    fn a_drag_stops_short_of_the_next_duck() {
        let (hull, l) = laid_out();
        let id = DuckId { line: 1, duck: 2 };
        let far = l.duck(StripView::Profile, &hull.lines[1].ducks[5]);
        let to = l.dragged(&hull, id, StripView::Profile, far).expect("it is there");
        assert!(to.x <= hull.lines[1].ducks[3].x - NEIGHBOUR_GAP + 1.0);
    }

    #[test]
    fn a_new_duck_lies_on_its_line() {
        let (hull, l) = laid_out();
        let lines = HullLines::of(&hull).expect("the demonstration hull");
        let spline = &lines.get("sheer").expect("a sheer").spline;
        let p = spline.at(0.45 * spline.end());
        let at = l.profile.place(P2::new(p.x, p.z));
        let (line, duck) = new_duck(&hull, &l, at).expect("on the sheer");
        assert_eq!(line, 1);
        assert!((duck.y - p.y).abs() < 3.0 && (duck.z - p.z).abs() < 3.0, "{duck:?} {p:?}");
    }
}
