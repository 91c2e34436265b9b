//! The window by keys and by name: questions, unsaved work, the tour, focus, Escape.

use super::loft::{Loft, PRESSED, window, window_of};
use bevy_egui::egui;
use bevy_egui::egui::{Key, Modifiers};
use chinewright::hull::starters::demonstration;
use chinewright::viewer::session::Command;
use chinewright::viewer::state::table::Tool;
use chinewright::viewer::state::{AfloatPlot, BonesPart, DuckId, Question, UiState};
use chinewright::viewer::theme;
use egui_kittest::kittest::{NodeT, Queryable};

#[test]
fn a_question_is_taken_in_hand_by_pointer_and_by_key() {
    let mut w = window();
    w.get_by_label_contains("Bones:").click();
    w.run_steps(3);
    assert_eq!(w.state().state.question, Question::Bones);
    w.get_by_label("Will the lumber bend, and what are the frames?");
    w.key_press_modifiers(Modifiers::ALT, Key::Num2);
    w.run_steps(3);
    assert_eq!(w.state().state.question, Question::Skin);
}

#[test]
fn unsaved_work_is_spoken_of_before_it_is_put_away() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    let mut w = window_of(Loft::new(demonstration(), Some(path.clone())));
    w.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    w.run_steps(2);
    assert_eq!(w.state().asked.last(), Some(&Command::Close), "nothing to lose: at once");
    w.state_mut().asked.clear();
    w.get_by_label("duck 2 of the chine, in plan").click();
    w.run_steps(2);
    w.key_press(Key::ArrowUp);
    w.run_steps(2);
    w.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    w.run_steps(3);
    assert!(!w.state().asked.contains(&Command::Close));
    w.get_by_label("Stay").click();
    w.run_steps(3);
    assert_eq!(w.state().state.dialogs.guard, None);
    w.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    w.run_steps(3);
    w.get_by_label("Save and close").click();
    w.run_steps(3);
    assert!(path.is_file() && !w.state().session.changed(), "saved");
    assert!(w.state().state.dialogs.then.is_some(), "and on to what was asked");
}

#[test]
fn the_tour_leads_through_five_steps_and_is_seen_once() {
    let mut w = window();
    w.state_mut().prefs.toured = false;
    w.state_mut().state.dialogs.tour = Some(0);
    w.run_steps(3);
    for step in 1..5 {
        // Half of it by the keys alone: the way on has them.
        if step < 3 {
            assert!(w.get_by_label("Next").is_focused());
            w.key_press(Key::Enter);
        } else {
            w.get_by_label("Next").click();
        }
        w.run_steps(3);
        assert_eq!(w.state().state.dialogs.tour, Some(step));
    }
    assert_eq!(w.state().state.question, Question::Skin);
    w.get_by_label("Begin").click();
    w.run_steps(3);
    assert!(w.state().state.dialogs.tour.is_none() && w.state().prefs.toured);
}

#[test]
fn everything_that_can_be_pressed_has_a_name_and_lies_in_the_window() {
    for scale in [1.0, 1.3] {
        let mut w = window();
        w.set_pixels_per_point(1.0);
        w.set_size(egui::vec2(1280.0, 800.0) / scale);
        let mut looked_at = 0;
        let shows: [fn(&mut UiState); 14] = [
            |s| s.selection.duck = Some(DuckId { line: 1, duck: 2 }),
            |s| (s.display.section, s.display.water) = (Some(900.0), Some(150.0)),
            |s| s.ask(Question::Skin),
            |s| s.table.open = true,
            |s| s.table.tool = Tool::Print,
            |s| (s.table.open, s.dialogs.keys) = (false, true),
            |s| {
                s.dialogs.keys = false;
                s.ask(Question::Bones);
            },
            |s| s.selection.bones = BonesPart::Frames,
            |s| s.table.open = true,
            |s| (s.table.open, s.selection.bones) = (false, BonesPart::Ends),
            |s| s.ask(Question::Setup),
            |s| s.ask(Question::Afloat),
            |s| (s.display.plot, s.selection.load) = (AfloatPlot::Drafts, Some(0)),
            |s| (s.display.plot, s.selection.case) = (AfloatPlot::Speed, Some(4)),
        ];
        for (k, show) in shows.into_iter().enumerate() {
            show(&mut w.state_mut().state);
            w.run_steps(4);
            for node in w.root().children_recursive() {
                let node = node.accesskit_node();
                if !PRESSED.contains(&node.role()) {
                    continue;
                }
                looked_at += 1;
                let named = node.label().is_some_and(|l| !l.trim().is_empty());
                assert!(
                    named,
                    "show {k}: a {:?} without a name at {:?}",
                    node.role(),
                    node.bounding_box()
                );
                if let Some(b) = node.bounding_box() {
                    // Cards scroll; nothing may stick out sideways.
                    let wide = f64::from(1280.0 / scale) + 1.0;
                    assert!(
                        b.x0 >= -1.0 && b.x1 <= wide,
                        "{scale}, show {k}: {:?} {b:?}",
                        node.label()
                    );
                }
            }
        }
        assert!(looked_at > 150, "{looked_at}");
    }
}

/// A long figure stands below its name: a row beside it would push the card's names out of
/// sight at its left.
#[test]
fn no_row_of_a_card_is_wider_than_the_card() {
    for (part, first) in
        [(BonesPart::Frames, "most bow of an edge"), (BonesPart::Ends, "wide, in its own plane")]
    {
        let mut w = window();
        w.state_mut().state.ask(Question::Bones);
        w.state_mut().state.selection.bones = part;
        w.run();
        let left = w.get_by_label(first).rect().left();
        assert!(left >= 1280.0 - theme::size::CARD, "{first} begins at {left}, left of its card");
    }
}

#[test]
fn the_tab_key_reaches_every_corner() {
    let mut w = window();
    let mut seen = std::collections::BTreeSet::new();
    for _ in 0..140 {
        w.key_press(Key::Tab);
        w.step();
        let nodes = w.root().children_recursive();
        let focused = nodes.into_iter().find(|n| n.is_focused());
        seen.extend(focused.and_then(|n| n.accesskit_node().label()));
    }
    for name in [
        "Write the build pack",
        "Skin: holds",
        "File",
        "View & help",
        "planked",
        "side",
        "fit",
        "duck 1 of the chine, in profile",
        "duck 1 of the chine, in plan",
        "beam",
        "Pin this shape",
        "curvature combs",
    ] {
        assert!(seen.contains(name), "{name} is not reached; {seen:?}");
    }
}

#[test]
fn escape_closes_one_thing_at_a_time() {
    let mut w = window();
    let s = &mut w.state_mut().state;
    s.ask(Question::Skin);
    (s.table.open, s.dialogs.keys) = (true, true);
    w.run_steps(2);
    w.key_press(Key::Escape);
    w.run_steps(2);
    assert!(!w.state().state.dialogs.keys && w.state().state.table.open);
    w.key_press(Key::Escape);
    w.run_steps(2);
    assert!(!w.state().state.table.open);
}

/// Large text in a small window: the sheet of keys stays within it, its button too.
#[test]
fn the_sheet_of_keys_fits_a_small_window() {
    let mut w = window();
    for scale in [1.0, 1.5] {
        w.set_size(egui::vec2(1000.0, 700.0) / scale);
        w.state_mut().state.dialogs.keys = true;
        w.run_steps(4);
        let close = w.get_by_label("Close").rect();
        let room = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(1000.0, 700.0) / scale);
        assert!(room.contains_rect(close), "{close} in {room}");
        w.get_by_label("Close").click();
        w.run_steps(3);
        assert!(!w.state().state.dialogs.keys);
    }
}

/// What went wrong is read, and goes by Escape.
#[test]
fn escape_puts_red_notices_away() {
    let mut w = window();
    w.state_mut().session.apply(&Command::Open("/nowhere/no.ron".into()));
    w.run_steps(2);
    assert!(w.state().session.notices().iter().any(|n| n.wrong));
    w.key_press(Key::Escape);
    w.run_steps(3);
    assert!(w.state().session.notices().is_empty());
}
