//! How she floats, in words on the stage: weight, trim, heel and freeboard, live while a load
//! is dragged, where they cover no mark.

use std::sync::Arc;

use bevy_egui::egui::{self, Color32, FontId, Galley, Pos2, Rect, Ui, Vec2, vec2};

use crate::model::afloat::Case;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::stage::eye::Eye;
use crate::viewer::ui::widgets::places::Place;
use crate::words::attitude;

/// From one row to the next, points.
const ROW: f32 = 19.0;
/// From the edge of the stage, points.
const ASIDE: f32 = 24.0;
/// Breadth of stage beside whose head the words stand, points.
const BESIDE: f32 = 720.0;
/// Breadth of stage on which trim and heel share a row, points.
const SHARED: f32 = 420.0;
/// What is kept free round a mark, points.
const CLEAR: f32 = 14.0;
/// What the views' names take at the stage's foot, points.
const FOOT: f32 = 52.0;

/// The rows, and whether they are bad news.
fn rows(context: &Context, case: &Case, shared: bool) -> (Vec<String>, bool) {
    let units = context.session.hull().units;
    let mut rows = vec![format!("{}, {}", case.name(), units.mass(case.weight.mass))];
    match case.floating {
        Some(f) => {
            let both = [
                format!("trim: {}", attitude::trim(f.trim)),
                format!("heel: {}", attitude::heel(f.heel)),
            ];
            if shared {
                rows.push(both.join("; "));
            } else {
                rows.extend(both);
            }
            match case.freeboard {
                Some(_) if case.swamped() && case.floods() => rows.push("awash".into()),
                Some((least, _)) if case.floods() => {
                    rows.push(format!("floods, {} under", units.show(-least)));
                }
                Some((least, _)) => rows.push(format!("least freeboard {}", units.show(least))),
                None => {}
            }
            if case.lolls() {
                rows.push("does not stand upright by herself".into());
            }
        }
        None if case.swamped() => rows.push("full of water she does not hold up".into()),
        None => rows.push("she does not float so".into()),
    }
    (rows, case.floating.is_none() || case.floods() && !case.swamped())
}

/// Shows the words for `case` on the stage, clear of `marks` (points); where they
/// stand.
pub(crate) fn show(ui: &Ui, context: &Context, case: &Case, eye: &Eye, marks: &[Pos2]) -> Rect {
    let tokens = context.tokens;
    let stage = Rect::from_min_size(
        Pos2::new(eye.frame.corner.x, eye.frame.corner.y),
        vec2(eye.frame.size.x, eye.frame.size.y),
    );
    let (rows, bad) = rows(context, case, stage.width() > SHARED);
    let rows: Vec<Arc<Galley>> = rows
        .into_iter()
        .enumerate()
        .map(|(i, text)| {
            let font = match i {
                0 => FontId::new(size::BODY, semibold()),
                _ => FontId::monospace(size::SMALL),
            };
            let colour = if bad && i > 0 { tokens.stop } else { tokens.ink };
            ui.painter().layout(text, font, colour, stage.width() - 2.0 * ASIDE)
        })
        .collect();
    let head_ends = Place::StageHead.last(ui.ctx()).max.y;
    let held = held(ui, context);
    // On a stage with no room for all of it, how far she is from flooding is what counts.
    let fewest = rows.len() - 1;
    let (first, place) = [0, fewest]
        .into_iter()
        .map(|first| (first, free(stage, head_ends, extent(&rows[first..]), marks, held)))
        .find_map(|(first, place)| place.map(|p| (first, p)))
        .unwrap_or_else(|| (fewest, liked(stage, head_ends, extent(&rows[fewest..]))[0]));
    keep(ui, place);
    let breadth = place.width();
    // Over wood and water words are read on paper.
    ui.painter().rect_filled(place.expand2(vec2(6.0, 3.0)), 4.0, tokens.paper);
    let to_the_right = place.center().x > stage.center().x;
    let mut down = 0.0;
    for row in rows.into_iter().skip(first) {
        let aside = if to_the_right { breadth - row.size().x } else { 0.0 };
        let at = place.min + vec2(aside, down);
        down += tall(&row);
        ui.painter().galley(at, row, Color32::PLACEHOLDER);
    }
    place
}

/// What a row takes in height, points: more where it is wrapped.
fn tall(row: &Galley) -> f32 {
    row.size().y.max(ROW)
}

/// What rows take, points.
fn extent(rows: &[Arc<Galley>]) -> Vec2 {
    vec2(rows.iter().map(|r| r.size().x).fold(0.0, f32::max), rows.iter().map(|r| tall(r)).sum())
}

/// Where the words may stand, the liked first: at the head on the right, on the left, then
/// down either side and the middle to the foot.
fn liked(stage: Rect, head_ends: f32, all: Vec2) -> Vec<Rect> {
    // Below the controls at the stage's head, where both would not stand side by side.
    let below = head_ends + 6.0;
    let head = if stage.width() > BESIDE { stage.min.y + 16.0 } else { below };
    let right = stage.max.x - ASIDE - all.x;
    let left = stage.min.x + ASIDE;
    let foot = stage.max.y - FOOT - all.y;
    let down = ((foot - below) / ROW).max(0.0) as usize;
    let rows = (0..=down).map(|k| below + ROW * k as f32).chain([foot.max(below)]);
    let across = [right, left, 0.5 * (left + right)];
    let others = rows.flat_map(|y| across.map(|x| (x, y)));
    let places = [(right, head)].into_iter().chain(others);
    places.map(|(x, y)| Rect::from_min_size(Pos2::new(x, y), all)).collect()
}

/// The place that covers no mark; the one of before while something is dragged.
fn free(
    stage: Rect,
    head_ends: f32,
    all: Vec2,
    marks: &[Pos2],
    held: Option<Pos2>,
) -> Option<Rect> {
    let clear = |r: &Rect| marks.iter().all(|m| r.distance_to_pos(*m) >= CLEAR);
    let places = liked(stage, head_ends, all);
    let before = held.and_then(|at| {
        let near = |r: &&Rect| (r.center() - at).length_sq();
        places.iter().min_by(|a, b| near(a).total_cmp(&near(b))).copied()
    });
    before.or_else(|| places.iter().find(|r| clear(r)).copied())
}

fn id() -> egui::Id {
    egui::Id::new("where it is said how she floats")
}

/// Where the words stood, while a load is dragged: they don't jump about under the hand.
fn held(ui: &Ui, context: &Context) -> Option<Pos2> {
    context.state.selection.dragged_load.and_then(|_| ui.data(|d| d.get_temp(id())))
}

fn keep(ui: &Ui, place: Rect) {
    ui.data_mut(|d| d.insert_temp(id(), place.center()));
}
