//! What the window asks, tells and keeps in place: a boat that is not to be built, words that
//! are looked up, figures that cannot be had, whose boat comes back, what is under the hand.

use bevy_egui::egui::{self, Key, accesskit::Role};
use chinewright::finding::Severity;
use chinewright::hull::starters::demonstration;
use chinewright::hull::{CheckedHull, Dimension, Foam, Hull, LoadKind, Weighed, edit::Edit};
use chinewright::screen::ViewFrom;
use chinewright::viewer::camera::Orbit;
use chinewright::viewer::session::Command;
use chinewright::viewer::state::Question;
use chinewright::viewer::state::dialogs::FilePurpose;
use egui_kittest::kittest::{NodeT, Queryable};

use super::loft::{Loft, drag, place, window, window_of};

/// A boat of whom the scales say what no such boat weighs.
fn not_to_be_built() -> Hull {
    let mut hull = demonstration();
    hull.afloat.weighed = vec![Weighed { item: "hull".into(), mass_kg: 5.0 }];
    let materials = chinewright::material::Materials::shipped();
    let model = chinewright::model::derive(&hull, &materials).expect("a model");
    assert!(model.findings.iter().any(|f| f.severity == Severity::Stop), "{:?}", model.findings);
    hull
}

#[test]
fn a_pack_of_a_boat_that_is_not_to_be_built_is_asked_about() {
    let mut w = window_of(Loft::new(not_to_be_built(), None));
    let ask = |w: &mut egui_kittest::Harness<'static, Loft>| {
        w.key_press_modifiers(egui::Modifiers::COMMAND, Key::B);
        w.run_steps(3);
        w.get_by_label("She is not to be built as she is");
    };
    let wanted = |w: &egui_kittest::Harness<'static, Loft>| {
        let state = &w.state().state;
        state.dialogs.asked_dialog == Some(FilePurpose::Pack)
            || state.dialogs.path.as_ref().is_some_and(|p| p.0 == FilePurpose::Pack)
    };
    ask(&mut w);
    w.get_by_label("Stay and mend her").click();
    w.run_steps(3);
    assert!(!wanted(&w) && !w.state().state.dialogs.stopped_pack);
    ask(&mut w);
    w.key_press(Key::Escape);
    w.run_steps(3);
    assert!(!wanted(&w) && !w.state().state.dialogs.stopped_pack);
    ask(&mut w);
    w.get_by_label("Write it all the same").click();
    w.run_steps(3);
    assert!(wanted(&w));
    // A sound boat's is not.
    let mut w = window();
    w.key_press_modifiers(egui::Modifiers::COMMAND, Key::B);
    w.run_steps(3);
    assert!(wanted(&w) && !w.state().state.dialogs.stopped_pack);
}

/// Every sheet of such a pack says so, as its page is all that lies on the bench.
#[test]
fn sheets_of_a_boat_that_is_not_to_be_built_say_so() {
    use chinewright::drawing::compose::{Extent, OnPaper, Paper};
    let materials = chinewright::material::Materials::shipped();
    for (hull, said) in [(demonstration(), false), (not_to_be_built(), true)] {
        let model = chinewright::model::derive(&hull, &materials).expect("a model");
        let sheets = OnPaper { paper: Paper::A4, units: hull.units, extent: Extent::Half };
        let files =
            chinewright::pack::pack_files(&model, &hull, sheets, |_, _, _| {}).expect("a pack");
        for (name, bytes) in files.iter().filter(|(n, _)| n.ends_with(".svg")) {
            let text = String::from_utf8_lossy(bytes);
            assert_eq!(text.contains("NOT TO BE BUILT AS SHE IS"), said, "{name}");
        }
    }
}

#[test]
fn a_trade_word_is_looked_up() {
    let mut w = window();
    w.get_by_label("View & help").click();
    w.run_steps(3);
    w.get_by_label("Words of the trade").click();
    w.run_steps(4);
    assert_eq!(w.state().state.dialogs.words.as_deref(), Some(""));
    w.state_mut().state.dialogs.words = Some("spall".into());
    w.run_steps(4);
    assert!(w.query_by_label("Cross-spall").is_some() && w.query_by_label("Rocker").is_none());
    w.key_press(Key::Escape);
    w.run_steps(3);
    assert_eq!(w.state().state.dialogs.words, None);
}

#[test]
fn she_is_renamed_from_the_menu() {
    let mut w = window();
    w.get_by_label("File").click();
    w.run_steps(3);
    w.get_by_label("Call her something else …").click();
    w.run_steps(4);
    assert!(w.state().state.typing.of("name").is_some());
}

/// What cannot be had is refused with what can: and that can be had.
#[test]
fn a_dimension_out_of_reach_says_how_far_she_can_be_brought() {
    let mut hull = demonstration();
    hull.units = chinewright::units::Units::Mm;
    let hull = CheckedHull::of(hull).expect("a boat");
    for (dimension, wild) in [(Dimension::Beam, 60_000.0), (Dimension::Length, 60_000.0)] {
        let why = Edit::SetDimension { dimension, value: wild }.apply(&hull).expect_err("too far");
        let why = why.plain(hull.units);
        let told = why.split("give is about ").nth(1).expect(&why);
        let most: f64 = told.split(' ').next().and_then(|t| t.parse().ok()).expect(&why);
        let now = dimension.measure(hull.lines()).expect("a measure");
        assert!(most > now && most < wild, "{why}");
        let step = 0.002 * (wild - now);
        assert!(Edit::SetDimension { dimension, value: most - step }.apply(&hull).is_ok(), "{why}");
        assert!(
            Edit::SetDimension { dimension, value: most + step }.apply(&hull).is_err(),
            "{why}"
        );
    }
}

/// Two boats of one name are told apart by their files when undo changes hands.
#[test]
fn undo_past_an_opened_file_says_whose_boat_is_in_hand() {
    let folder = tempfile::tempdir().expect("a folder");
    let [a, b] = ["skiff.ron", "skiff 2.ron"].map(|n| folder.path().join(n));
    for path in [&a, &b] {
        chinewright::files::save_hull(path, &demonstration()).expect("saved");
    }
    let mut w = window_of(Loft::new(demonstration(), Some(a)));
    let session = &mut w.state_mut().session;
    session.apply(&Command::Open(b));
    assert_eq!(session.undo_names().next(), Some("opening skiff 2.ron"));
    session.apply(&Command::Undo(1));
    let told = &session.notices().last().expect("a notice").text;
    assert_eq!(told, "undone: opening skiff 2.ron; in hand is skiff.ron");
}

/// Words above that grow leave the field in hand where it is on the screen.
#[test]
fn what_is_in_hand_stays_where_it_is_when_words_above_grow() {
    let mut w = window();
    w.state_mut().state.ask(Question::Afloat);
    w.run_steps(4);
    let top = |w: &egui_kittest::Harness<'static, Loft>| {
        w.get_by(|n| n.role() == Role::TextInput && n.label().as_deref() == Some("boot-top, above"))
            .rect()
            .top()
    };
    w.get_by(|n| n.role() == Role::TextInput && n.label().as_deref() == Some("boot-top, above"))
        .focus();
    w.run_steps(4);
    // Rolled to where it can be read and grown past.
    let screen = w.ctx.viewport_rect();
    let card = egui::pos2(screen.right() - 120.0, screen.center().y);
    w.event(egui::Event::PointerMoved(card));
    for _ in 0..40 {
        let delta = egui::vec2(0.0, -200.0);
        w.event(egui::Event::MouseWheel {
            unit: egui::MouseWheelUnit::Point,
            delta,
            phase: egui::TouchPhase::Move,
            modifiers: egui::Modifiers::NONE,
        });
        w.run_steps(2);
        if (100.0..screen.bottom() - 100.0).contains(&top(&w)) {
            break;
        }
    }
    w.run_steps(30);
    let before = top(&w);
    assert!((0.0..screen.bottom()).contains(&before), "{before} is not on the screen");
    let mut plan = w.state().session.hull().afloat.clone();
    plan.weighed = vec![Weighed { item: "hull".into(), mass_kg: 5.0 }];
    let words = w.root().children_recursive().count();
    w.state_mut().session.apply(&Command::Edit(Edit::SetAfloat(Box::new(plan), "weight")));
    w.run_steps(12);
    assert_ne!(words, w.root().children_recursive().count(), "other words stand in the card");
    let after = top(&w);
    assert!((after - before).abs() < 1.0, "{before} to {after}");
}

/// A block of foam is drawn on her where the document puts it.
#[test]
fn foam_is_drawn_on_her() {
    let mut hull = demonstration();
    hull.afloat.foam.clear();
    let shapes = |hull: &Hull| {
        let mut w = window_of(Loft::new(hull.clone(), None));
        w.state_mut().state.ask(Question::Afloat);
        w.run_steps(4);
        w.output().shapes.len()
    };
    let without = shapes(&hull);
    hull.afloat.foam = vec![Foam { both_sides: true, ..demonstration().afloat.foam[0].clone() }];
    assert_eq!(shapes(&hull).saturating_sub(without) / 24, 1, "twelve edges a side");
}

/// What is shown of a sheet's measured thickness is what is computed with: 11.46 mm is no
/// 7/16 in.
#[test]
fn a_measured_sheet_is_shown_as_a_caliper_has_it() {
    let mut hull = demonstration();
    hull.units = chinewright::units::Units::FeetInchesEighths;
    hull.planking.sheet = "yard ply 15/32".into();
    hull.planking.thickness_mm = 11.46;
    hull.planking.panels.clear();
    let mut w = window_of(Loft::new(hull, None));
    w.state_mut().state.ask(Question::Skin);
    w.run_steps(4);
    let field =
        w.get_by(|n| n.role() == Role::TextInput && n.label().as_deref() == Some("measured"));
    assert_eq!(field.value().as_deref(), Some("0.451 in"));
}

/// Words that come above because the figure in them was left, and go because another is typed,
/// move nothing under the pointer; and what was refused is still there afterwards.
#[test]
fn a_figure_pressed_while_another_is_refused_stays_under_the_pointer() {
    let mut w = window();
    w.get_by_role_and_label(Role::TextInput, "length").focus();
    w.run_steps(2);
    w.get_by_role_and_label(Role::TextInput, "length").type_text("x");
    w.run_steps(2);
    let next = "beam at the chine";
    let place = |w: &egui_kittest::Harness<'static, Loft>| {
        w.get_by_role_and_label(Role::TextInput, next).rect().center()
    };
    let at = place(&w);
    w.hover_at(at);
    w.step();
    w.drag_at(at);
    w.step();
    w.drop_at(at);
    w.run_steps(4);
    assert!((place(&w) - at).length() < 1.0, "{:?} {at:?}", place(&w));
    assert!(w.get_by_role_and_label(Role::TextInput, next).is_focused());
    w.get_by_role_and_label(Role::TextInput, next).type_text("7");
    w.run_steps(4);
    assert!((place(&w) - at).length() < 1.0, "{:?} {at:?}", place(&w));
    let refused = w.get_by_role_and_label(Role::TextInput, "length");
    let text = refused.accesskit_node().value().unwrap_or_default();
    assert!(text.ends_with('x'), "what was refused stays: {text:?}");
}

/// Seen aslant a person is drawn about without being lowered into the bilge; seen square from
/// the side he goes up and down.
#[test]
fn a_person_dragged_aslant_keeps_his_height() {
    let mut w = window();
    w.state_mut().state.ask(Question::Afloat);
    w.run_steps(3);
    let load = |w: &egui_kittest::Harness<'static, Loft>| {
        let model = w.state().model.as_ref().expect("a model");
        let all = chinewright::model::afloat::loads_of(model);
        let (i, l) = all.iter().enumerate().find(|(_, l)| l.kind == LoadKind::Person).expect("one");
        (i, l.clone())
    };
    let pull = |w: &mut egui_kittest::Harness<'static, Loft>| {
        let (_, l) = load(w);
        let name = format!("load {}: {}", l.name, w.state().session.hull().units.mass(l.mass_kg));
        let from = place(w, &name);
        drag(w, from, from + egui::vec2(12.0, 24.0));
        (l, load(w).1)
    };
    let (before, after) = pull(&mut w);
    assert_eq!(before.z, after.z, "his height");
    assert!((before.x - after.x).abs() + (before.y - after.y).abs() > 20.0, "{before:?} {after:?}");
    let model = w.state().model.as_ref().expect("a model");
    let (low, high) = chinewright::viewer::camera::hull_box(model);
    let side = Orbit::fit(ViewFrom::Side, low, high, 1.6);
    (w.state_mut().view.now, w.state_mut().view.goal) = (side, side);
    w.run_steps(3);
    let (before, after) = pull(&mut w);
    assert!(after.z < before.z - 20.0 && after.y == before.y, "{before:?} {after:?}");
}
