//! Every card, strip and table in windows of several sizes, with larger text and in both kinds
//! of units: no words over other words, none cut off at the side, nothing to press lies on
//! something else to press, no rule runs through words.
//!
//! Colours move nothing, so one theme is laid out.

use bevy_egui::egui::{Rect, Shape, accesskit::Role, epaint::ClippedShape, pos2, vec2};
use chinewright::hull::Hull;
use chinewright::hull::edit::Edit;
use chinewright::hull::starters::{demonstration, find};
use chinewright::units::Units;
use chinewright::viewer::session::Command;
use chinewright::viewer::state::table::Tool;
use chinewright::viewer::state::{AfloatPlot, BonesPart, DuckId, Question, UiState};
use chinewright::viewer::theme::room;
use egui_kittest::Harness;
use egui_kittest::kittest::NodeT;

use super::layout_lines;
use super::loft::{Loft, PRESSED, window_of};

/// A row of words, and what of it is to be seen.
struct Words {
    text: String,
    whole: Rect,
    seen: Rect,
    /// Which shape it is painted with.
    order: usize,
}

/// Words and thin level rules of what was painted, and the grounds that hide what lies under
/// them, with which shape each is painted.
fn painted(all: &[ClippedShape]) -> (Vec<Words>, Vec<Rect>, Vec<(usize, Rect)>) {
    let (mut words, mut rules, mut grounds) = (Vec::new(), Vec::new(), Vec::new());
    let mut shapes = Vec::new();
    for clipped in all {
        flat(&clipped.shape, clipped.clip_rect, &mut shapes);
    }
    for (i, (shape, clip)) in shapes.iter().enumerate() {
        let from = words.len();
        gather(shape, *clip, &mut words, &mut rules);
        words[from..].iter_mut().for_each(|w| w.order = i);
        grounds.extend(ground(shape).map(|r| (i, r.intersect(*clip).expand(1.0))));
    }
    words.retain(|w| !grounds.iter().any(|(i, r)| *i > w.order && r.contains_rect(w.seen)));
    (words, rules, grounds)
}

fn gather(shape: &Shape, clip: Rect, words: &mut Vec<Words>, rules: &mut Vec<Rect>) {
    match shape {
        Shape::Vec(all) => all.iter().for_each(|s| gather(s, clip, words, rules)),
        Shape::Text(t) if t.angle == 0.0 => {
            for row in &t.galley.rows {
                let whole = row.visuals.mesh_bounds.translate(t.pos.to_vec2() + row.pos.to_vec2());
                let seen = whole.intersect(clip);
                let text: String = row.glyphs.iter().map(|g| g.chr).collect();
                if seen.is_positive() && !text.trim().is_empty() {
                    words.push(Words { text, whole, seen, order: 0 });
                }
            }
        }
        Shape::LineSegment { points, .. } if (points[0].y - points[1].y).abs() < 0.5 => {
            let seen = Rect::from_two_pos(points[0], points[1]).intersect(clip);
            if seen.width() > 60.0 {
                rules.push(seen);
            }
        }
        _ => {}
    }
}

/// What is wrong with the window as it is laid out.
fn faults(w: &Harness<'static, Loft>, window: Rect) -> Vec<String> {
    let (words, rules, grounds) = painted(&w.output().shapes);
    assert!(words.len() > 8, "{} rows of words", words.len());
    let mut wrong = Vec::new();
    for (i, a) in words.iter().enumerate() {
        for b in &words[i + 1..] {
            let both = a.seen.intersect(b.seen);
            let same = a.text == b.text && a.whole.min.distance(b.whole.min) < 1.0;
            let between = |(i, r): &(usize, Rect)| {
                (a.order + 1..b.order).contains(i) && r.contains_rect(both)
            };
            let hidden = grounds.iter().any(between);
            if both.width() > 2.0 && both.height() > 3.0 && !same && !hidden {
                wrong.push(format!("{:?} over {:?} at {:?}", a.text, b.text, both.min));
            }
        }
        let level = a.seen.height() > 0.7 * a.whole.height();
        // A drawing that was pulled near runs on beyond the table.
        let near = w.state().state.table.open && w.state().state.table.looked.is_some();
        if level && !near && a.seen.width() < a.whole.width() - 2.0 {
            let cut = a.whole.width() - a.seen.width();
            wrong.push(format!("{:?} is cut off by {cut:.0} at {:?}", a.text, a.seen.min));
        }
        for r in &rules {
            let middle = a.seen.shrink2(vec2(0.0, 0.25 * a.seen.height()));
            let card = a.seen.min.x > window.max.x - room(window.size()).card;
            if card
                && r.min.y > middle.min.y
                && r.min.y < middle.max.y
                && r.x_range().intersection(a.seen.x_range()).span() > 8.0
            {
                wrong.push(format!("a rule runs through {:?} at {:?}", a.text, a.seen.min));
            }
        }
    }
    wrong.extend(presses(w, window));
    wrong.extend(on_the_stage(w));
    wrong.extend(layout_lines::struck(&w.output().shapes));
    wrong
}

/// Whether a shape hides what lies under it.
fn ground(shape: &Shape) -> Option<Rect> {
    match shape {
        Shape::Rect(r) if r.fill.a() > 220 => Some(r.rect),
        _ => None,
    }
}

/// Where a mark (no line, no words) has its ink.
fn ink(shape: &Shape) -> Option<Rect> {
    match shape {
        Shape::Circle(c) if c.fill.a() > 100 => Some(c.visual_bounding_rect()),
        Shape::Path(p) if p.fill.a() > 100 => Some(p.visual_bounding_rect()),
        Shape::Rect(r) if r.fill.a() > 100 => Some(r.rect),
        _ => None,
    }
}

fn flat<'a>(shape: &'a Shape, clip: Rect, out: &mut Vec<(&'a Shape, Rect)>) {
    match shape {
        Shape::Vec(all) => all.iter().for_each(|s| flat(s, clip, out)),
        _ => out.push((shape, clip)),
    }
}

/// Words over wood and water without a ground, or with a mark over them.
fn on_the_stage(w: &Harness<'static, Loft>) -> Vec<String> {
    let loft = w.state();
    if loft.view.covered {
        return Vec::new();
    }
    let Some(stage) = loft.view.stage else {
        return Vec::new();
    };
    let [x, y, width, height] = stage.to_array().map(|v| v as f32);
    let stage = Rect::from_min_size(pos2(x, y), vec2(width, height));
    let mut shapes = Vec::new();
    for clipped in &w.output().shapes {
        flat(&clipped.shape, clipped.clip_rect, &mut shapes);
    }
    let mut wrong = Vec::new();
    for (i, (shape, clip)) in shapes.iter().enumerate() {
        let mut words = Vec::new();
        gather(shape, *clip, &mut words, &mut Vec::new());
        for a in words.into_iter().filter(|a| stage.contains_rect(a.seen)) {
            let under = |r: Rect| r.expand(1.0).contains_rect(a.seen);
            if !shapes[..i].iter().any(|(s, _)| ground(s).is_some_and(under)) {
                wrong.push(format!("{:?} lies on the hull without a ground", a.text));
            }
            let over = |(s, c): &(&Shape, Rect)| {
                let both = ink(s).map(|r| r.intersect(*c).intersect(a.seen));
                both.is_some_and(|b| b.width() > 2.0 && b.height() > 2.0)
            };
            if let Some((s, _)) = shapes[i + 1..].iter().find(|s| over(s)) {
                wrong.push(format!("{:?} has a mark over it: {:?}", a.text, ink(s)));
            }
        }
    }
    wrong
}

/// Things to press that lie on one another, or stick out of the window.
fn presses(w: &Harness<'static, Loft>, window: Rect) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut all: Vec<(String, Rect)> = Vec::new();
    for node in w.root().children_recursive() {
        let node = node.accesskit_node();
        let name = node.label().unwrap_or_default();
        // What is pulled on the hull lies where it lies, and rows of a list hold links.
        let on_hull = ["duck ", "load "].iter().any(|n| name.starts_with(n));
        if !PRESSED.contains(&node.role()) || node.role() == Role::Link || on_hull {
            continue;
        }
        if let Some(b) = node.bounding_box() {
            let at =
                Rect::from_min_max(pos2(b.x0 as f32, b.y0 as f32), pos2(b.x1 as f32, b.y1 as f32));
            if at.max.x > window.max.x + 1.0 || at.min.x < -1.0 {
                wrong.push(format!("{name:?} sticks out of the window: {at:?}"));
            }
            all.push((name, at.intersect(window)));
        }
    }
    for (i, (a, at)) in all.iter().enumerate() {
        for (b, bt) in &all[i + 1..] {
            let both = at.intersect(*bt);
            let within = at.contains_rect(*bt) || bt.contains_rect(*at);
            if both.width() > 3.0 && both.height() > 3.0 && !within {
                wrong.push(format!("{a:?} and {b:?} lie on one another at {:?}", both.min));
            }
        }
    }
    wrong
}

/// A hull with something to say about every question.
fn troubled() -> Hull {
    let mut hull = demonstration();
    hull.lines[0].ducks[2].y += 90.0;
    hull.lines[1].ducks[3].z += 70.0;
    hull.motor.power_hp = 60.0;
    hull.members[1].moulded_mm = 45.0;
    hull.framing.spacing_mm *= 1.6;
    hull
}

/// Her sheer pulled since she was saved: the former shape is dashed in the strip.
fn pulled(w: &mut Harness<'static, Loft>) {
    let session = &mut w.state_mut().session;
    let line = session.hull().lines.len() - 1;
    let mut to = session.hull().lines[line].ducks[1];
    to.z += 40.0;
    session.apply(&Command::Edit(Edit::MoveDuck { line, duck: 1, to }));
    assert!(session.ghost().lines != session.hull().lines);
}

/// Taller than the longest card, points.
const TALL: f32 = 9000.0;

const SHOWS: [(&str, fn(&mut UiState)); 26] = [
    ("the first page", |s| s.dialogs.first_page = true),
    ("shape", |s| s.selection.duck = Some(DuckId { line: 1, duck: 2 })),
    ("a section", |s| (s.display.section, s.display.water) = (Some(900.0), Some(150.0))),
    ("skin", |s| s.ask(Question::Skin)),
    ("swamped", |s| {
        s.ask(Question::Afloat);
        s.selection.case = Some(6);
    }),
    ("a panel in hand", |s| {
        s.ask(Question::Skin);
        s.lay(Some(1));
    }),
    ("the table", |s| {
        s.ask(Question::Skin);
        s.table.open = true;
    }),
    ("printing", |s| {
        s.ask(Question::Skin);
        (s.table.open, s.table.tool) = (true, Tool::Print);
    }),
    ("a printed page", |s| {
        s.ask(Question::Skin);
        (s.table.open, s.table.tool, s.table.page) = (true, Tool::Print, Some(1));
    }),
    ("the table near", |s| {
        s.ask(Question::Skin);
        s.table.open = true;
        s.table.looked = Some(([900.0, 100.0], 0.9));
    }),
    ("the table nearer", |s| {
        s.ask(Question::Skin);
        s.table.open = true;
        s.table.looked = Some(([2600.0, 200.0], 2.0));
    }),
    ("a frame on the table", |s| {
        s.ask(Question::Bones);
        (s.selection.bones, s.table.open) = (BonesPart::Frames, true);
    }),
    ("an end on the table", |s| {
        s.ask(Question::Bones);
        (s.selection.bones, s.table.open) = (BonesPart::Ends, true);
    }),
    ("the jig on the table", |s| {
        s.ask(Question::Setup);
        s.table.open = true;
    }),
    ("pages of the jig", |s| {
        s.ask(Question::Setup);
        (s.table.open, s.table.tool) = (true, Tool::Print);
    }),
    ("stock", |s| s.ask(Question::Stock)),
    ("a sheet on the table", |s| {
        s.ask(Question::Stock);
        s.table.open = true;
    }),
    ("lumber", |s| s.ask(Question::Bones)),
    ("frames", |s| {
        s.ask(Question::Bones);
        s.selection.bones = BonesPart::Frames;
    }),
    ("ends", |s| {
        s.ask(Question::Bones);
        s.selection.bones = BonesPart::Ends;
    }),
    ("setup", |s| s.ask(Question::Setup)),
    ("setting up", |s| {
        s.ask(Question::Setup);
        (s.display.built, s.selection.sheet) = (Some(5), 1);
    }),
    ("afloat", |s| s.ask(Question::Afloat)),
    ("drafts", |s| {
        s.ask(Question::Afloat);
        (s.display.plot, s.selection.load) = (AfloatPlot::Drafts, Some(0));
    }),
    ("speed", |s| {
        s.ask(Question::Afloat);
        (s.display.plot, s.selection.case) = (AfloatPlot::Speed, Some(4));
    }),
    ("lines afloat", |s| {
        s.ask(Question::Afloat);
        s.display.plot = AfloatPlot::Lines;
    }),
];

#[test]
fn nothing_lies_on_anything_else_in_any_window() {
    let mut wrong = Vec::new();
    let goes_under = find("warden").expect("a starter").hull();
    for (boat, hull) in
        [("demonstration", demonstration()), ("troubled", troubled()), ("goes under", goes_under)]
    {
        for units in [Units::Mm, Units::FeetInchesEighths] {
            let hull = Hull { units, ..hull.clone() };
            let mut w = window_of(Loft::new(hull, None));
            if boat == "goes under" {
                pulled(&mut w);
            }
            for (width, height, text) in [
                (1280.0, 800.0, 1.0),
                (1280.0, 800.0, 1.25),
                (1280.0, 800.0, 1.5),
                (1000.0, 700.0, 1.0),
                (1000.0, 700.0, 1.25),
                (1000.0, 700.0, 1.5),
                (800.0, 600.0, 1.0),
                (800.0, 600.0, 1.25),
                // As tall as the longest card, so that all of its rows are seen.
                (1280.0, TALL, 1.0),
                (1280.0, TALL, 1.5),
                (1000.0, TALL, 1.25),
                (1000.0, TALL, 1.5),
                (800.0, TALL, 1.25),
            ] {
                let window = Rect::from_min_size(pos2(0.0, 0.0), vec2(width, height) / text);
                w.set_pixels_per_point(1.0);
                w.set_size(window.size());
                for (name, show) in SHOWS {
                    let fresh = w.state().state.boat;
                    w.state_mut().state = UiState { boat: fresh, ..UiState::default() };
                    show(&mut w.state_mut().state);
                    if height == TALL && w.state().state.table.open {
                        continue;
                    }
                    // The shaded map with its key and a scale, in one of the two.
                    w.state_mut().view.now.parallel = name == "skin";
                    w.run_steps(4);
                    let at = format!("{boat}, {units:?}, {width}x{height}, {:.0} %", 100.0 * text);
                    wrong.extend(
                        faults(&w, window).into_iter().map(|f| format!("{at}, {name}: {f}")),
                    );
                }
            }
        }
    }
    let count = wrong.len();
    wrong.truncate(400);
    assert!(wrong.is_empty(), "{count} faults:\n{}", wrong.join("\n"));
}
