//! The drafting strip: profile above plan on one x axis, with ducks to drag.

use bevy_egui::egui::{Align2, FontId, Key, Pos2, Sense, Ui};

use crate::hull::{Duck, Hull, HullLines};
use crate::part::LineId;
use crate::viewer::state::{DuckId, Grasp, StripView};
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::ducks;
use crate::viewer::ui::ducks::{Hold, NEIGHBOUR_GAP};
use crate::viewer::ui::strips::layout::{Layout, layout};
use crate::viewer::ui::strips::paint;

/// Shows the strip.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click());
    let painter = ui.painter_at(rect);
    let Some(lines) = context.lines.clone() else {
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
    let layout = match kept.filter(|_| context.state.selection.dragged.is_some()) {
        Some(layout) => layout,
        None => {
            layout(rect, lines.length_overall(), lines.extent(|p| p.z), lines.extent(|p| p.y).1)
        }
    };
    ui.data_mut(|d| d.insert_temp(id, layout));
    paint::paint(&painter, rect, context, &lines, &layout);
    if let Some(pointer) = response.interact_pointer_pos() {
        if response.double_clicked() {
            if let Some((line, duck)) = new_duck(context.session.hull(), &lines, &layout, pointer) {
                ducks::set_another(context, line, duck);
            }
        } else if response.clicked() {
            context.state.selection.duck = None;
        }
    }
    let clip = ui.clip_rect();
    ui.set_clip_rect(rect);
    for view in [StripView::Profile, StripView::Plan] {
        ducks(ui, context, &layout, view);
    }
    ui.set_clip_rect(clip);
}

/// The ducks of one view; a keel has none in plan.
fn ducks(ui: &mut Ui, context: &mut Context, layout: &Layout, view: StripView) {
    let at = |d: &Duck| Some(layout.duck(view, d));
    let to = |d: &Duck, p: Pos2| Some(layout.brought(view, d, p));
    let up = match view {
        StripView::Profile => 2,
        StripView::Plan => 1,
    };
    let rows: Vec<(bool, usize)> = context
        .session
        .hull()
        .lines
        .iter()
        .map(|l| (l.is(LineId::Keel) && view == StripView::Plan, l.ducks.len()))
        .collect();
    let rows = rows.into_iter().enumerate().filter(|(_, (away, _))| !away);
    let all: Vec<DuckId> = rows
        .flat_map(|(line, (_, count))| (0..count).map(move |duck| DuckId { line, duck }))
        .collect();
    // The Tab key comes to one of them: the one in hand, or where the keys were last.
    let kept = ui.id().with(("where the keys are", view == StripView::Plan));
    let last = ui.data(|d| d.get_temp::<DuckId>(kept));
    let known = |id: &DuckId| all.contains(id);
    let stop =
        context.state.selection.duck.filter(known).or(last.filter(known)).or(all.first().copied());
    let hold = Hold {
        grasp: Grasp::Strip(view),
        stop,
        at: &at,
        to: &to,
        axes: [0, up],
        arrows: Some([(0, 1.0), (up, 1.0)]),
        mm_per_point: 1.0 / f64::from(layout.of(view).scale),
    };
    let mut goes_to = None;
    for id in &all {
        let in_hand = context.state.selection.duck == Some(*id);
        let shown = hold.show(ui, context, *id);
        if shown.is_some_and(|r| r.has_focus()) && !in_hand {
            let to = walked(ui, context.session.hull(), &all, *id).unwrap_or(*id);
            ui.data_mut(|d| d.insert_temp(kept, to));
            goes_to = Some(to).filter(|to| to != id);
        }
    }
    // Once all are shown: one that does not take the keys yet would let go of them.
    if let Some(to) = goes_to {
        hold.focus(ui, to);
    }
}

/// The duck that an arrow key goes to from `id`: along its line, or the nearest of the next
/// line above or below.
fn walked(ui: &Ui, hull: &Hull, all: &[DuckId], id: DuckId) -> Option<DuckId> {
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    let along = |by: isize| Some(DuckId { duck: id.duck.checked_add_signed(by)?, ..id });
    let across = |by: isize| {
        let line = id.line.checked_add_signed(by)?;
        let x = hull.lines.get(id.line)?.ducks.get(id.duck)?.x;
        let ducks = hull.lines.get(line)?.ducks.iter().enumerate();
        let nearest = ducks.min_by(|a, b| (a.1.x - x).abs().total_cmp(&(b.1.x - x).abs()))?;
        Some(DuckId { line, duck: nearest.0 })
    };
    let to = if pressed(Key::ArrowRight) {
        along(1)
    } else if pressed(Key::ArrowLeft) {
        along(-1)
    } else if pressed(Key::ArrowUp) {
        across(1)
    } else if pressed(Key::ArrowDown) {
        across(-1)
    } else {
        None
    };
    to.filter(|to| all.contains(to))
}

/// A duck on the line under the pointer, where its batten already runs.
fn new_duck(hull: &Hull, lines: &HullLines, layout: &Layout, at: Pos2) -> Option<(usize, Duck)> {
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

#[cfg(test)]
mod tests {
    use bevy_egui::egui::{Rect, vec2};

    use super::*;
    use crate::geom::P2;
    use crate::hull::starters::demonstration;

    fn laid_out() -> (Hull, Layout) {
        let hull = demonstration();
        let lines = HullLines::of(&hull).expect("the demonstration hull");
        let rect = Rect::from_min_size(Pos2::new(112.0, 540.0), vec2(800.0, 260.0));
        let l =
            layout(rect, lines.length_overall(), lines.extent(|p| p.z), lines.extent(|p| p.y).1);
        for line in &lines.lines {
            for view in [StripView::Profile, StripView::Plan] {
                for p in paint::line_in_view(&l, view, &line.spline) {
                    assert!(rect.contains(p), "{view:?} {p:?}");
                }
            }
        }
        (hull, l)
    }

    #[test]
    fn a_duck_is_brought_to_where_the_pointer_is() {
        let (hull, l) = laid_out();
        let duck = hull.lines[1].ducks[2];
        let at = l.duck(StripView::Plan, &duck);
        let to = l.brought(StripView::Plan, &duck, at + vec2(0.0, -10.0));
        let mm = f64::from(10.0 / l.plan.scale);
        assert!((to.y - duck.y - mm).abs() < 1e-3, "{to:?}");
        assert_eq!(to.z, duck.z);
    }

    #[test]
    fn a_new_duck_lies_on_its_line() {
        let (hull, l) = laid_out();
        let lines = HullLines::of(&hull).expect("the demonstration hull");
        let spline = &lines.get("sheer").expect("a sheer").spline;
        let p = spline.at(0.45 * spline.end());
        let at = l.profile.place(P2::new(p.x, p.z));
        let (line, duck) = new_duck(&hull, &lines, &l, at).expect("on the sheer");
        assert_eq!(line, 1);
        assert!((duck.y - p.y).abs() < 3.0 && (duck.z - p.z).abs() < 3.0, "{duck:?} {p:?}");
    }
}
