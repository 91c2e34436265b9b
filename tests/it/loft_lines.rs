//! Lines in the window: ducks pulled and moved by keys, figures typed, dimensions.

use super::loft::{Loft, drag, field, place, type_into, window};
use bevy_egui::egui;
use bevy_egui::egui::{Key, Modifiers};
use chinewright::hull::starters::demonstration;
use chinewright::hull::{Dimension, HullLines};
use chinewright::viewer::state::{DuckId, Question};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

#[test]
fn pulling_a_duck_is_one_step_that_undo_takes_back() {
    let mut w = window();
    let before = w.state().session.hull().clone();
    let from = place(&w, "duck 3 of the sheer, in plan");
    drag(&mut w, from, from + egui::vec2(0.0, -14.0));
    let loft = w.state();
    let duck = loft.session.hull().lines[1].ducks[2];
    assert!(duck.y > before.lines[1].ducks[2].y + 40.0, "{duck:?}");
    assert_eq!(duck.z, before.lines[1].ducks[2].z, "plan moves no height");
    assert_eq!(loft.session.undo_names().collect::<Vec<_>>(), ["move duck 3 of the sheer"]);
    assert_eq!(loft.state.selection.dragged, None, "let go");
    w.get_by_label("Undo").click();
    w.run_steps(3);
    assert_eq!(w.state().session.hull(), &before);
}

/// A quick hand brings one movement between press and release.
#[test]
fn a_duck_pulled_in_one_movement_goes_where_it_is_let_go() {
    let mut w = window();
    let from = place(&w, "duck 3 of the sheer, in plan");
    let before = w.state().session.hull().lines[1].ducks[2];
    w.hover_at(from);
    w.step();
    w.drag_at(from);
    w.step();
    w.hover_at(from + egui::vec2(0.0, -14.0));
    w.step();
    w.drop_at(from + egui::vec2(0.0, -14.0));
    w.run_steps(3);
    let after = w.state().session.hull().lines[1].ducks[2];
    assert!(after.y > before.y + 20.0, "{before:?} {after:?}");
    assert_eq!(w.state().session.undo_names().count(), 1);
}

#[test]
fn a_duck_can_be_pulled_on_the_hull_itself() {
    let mut w = window();
    let before = w.state().session.hull().lines[1].ducks[3];
    let from = place(&w, "duck 4 of the sheer, on the hull");
    drag(&mut w, from, from + egui::vec2(0.0, -20.0));
    let duck = w.state().session.hull().lines[1].ducks[3];
    assert!(duck.z > before.z + 15.0, "{before:?} {duck:?}");
    assert_eq!(w.state().session.undo_names().count(), 1);
}

#[test]
fn arrow_keys_move_the_duck_in_hand_by_what_a_tape_shows() {
    let mut w = window();
    let name = "duck 3 of the sheer, in profile";
    let before = w.state().session.hull().lines[1].ducks[2];
    w.get_by_label(name).click();
    w.run_steps(2);
    assert_eq!(w.state().state.selection.duck, Some(DuckId { line: 1, duck: 2 }));
    w.key_press(Key::ArrowUp);
    w.run_steps(2);
    assert_eq!(w.state().session.hull().lines[1].ducks[2].z, before.z + 1.0);
    w.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    w.run_steps(2);
    let duck = w.state().session.hull().lines[1].ducks[2];
    assert_eq!((duck.x, duck.z), (before.x + 10.0, before.z + 1.0));
    assert!(w.get_by_label(name).is_focused(), "and it keeps the keys");
    w.key_press(Key::Delete);
    w.run_steps(2);
    assert_eq!(
        w.state().session.hull().lines[1].ducks.len(),
        demonstration().lines[1].ducks.len() - 1
    );
}

#[test]
fn a_place_is_typed_in_any_unit() {
    let mut w = window();
    w.state_mut().state.selection.duck = Some(DuckId { line: 1, duck: 2 });
    w.run_steps(2);
    let field = w.get_by_label("height");
    field.focus();
    field.type_text("");
    w.run_steps(1);
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run_steps(1);
    w.get_by_label("height").type_text("1'-8\"");
    w.run_steps(1);
    w.key_press(Key::Enter);
    w.run_steps(3);
    let z = w.state().session.hull().lines[1].ducks[2].z;
    assert!((z - 20.0 * 25.4).abs() < 1e-9, "{z}");
}

/// With the side in hand a sheet went to the bottom.
#[test]
fn a_sheet_goes_to_the_panel_in_hand() {
    let mut w = window();
    let before = demonstration().planking;
    let (bottom, side) = (before.of_panel("bottom"), before.of_panel("side"));
    assert_ne!(bottom.1, side.1, "the demonstration has two sheets");
    w.state_mut().state.ask(Question::Skin);
    w.run_steps(3);
    w.get_by_label("All panels planked with");
    w.state_mut().state.selection.panel = Some(1);
    w.run_steps(3);
    w.get_by_label("Side planked with");
    type_into(&mut w, "measured", "7.3");
    let after = w.state().session.hull().planking.clone();
    assert_eq!(after.of_panel("side"), (side.0, 7.3));
    assert_eq!(after.of_panel("bottom"), bottom);
    w.get_by_label("face grain across the panel").click();
    w.run_steps(3);
    let after = w.state().session.hull().planking.clone();
    assert!(after.grain_across("side") && !after.grain_across("bottom"));
    assert_eq!(after.of_panel("side"), (side.0, 7.3), "and nothing else");
}

#[test]
fn whole_lines_move_by_a_dimension() {
    let mut w = window();
    let measured = |w: &Harness<'static, Loft>| {
        let lines = HullLines::of(w.state().session.hull()).expect("lines");
        Dimension::Rocker.measure(&lines).expect("she has rocker")
    };
    let before = measured(&w);
    // The name at the left of the field is the handle.
    let from = field(&w, "rocker").rect().left_center() - egui::vec2(120.0, 0.0);
    drag(&mut w, from, from + egui::vec2(30.0, 0.0));
    let after = measured(&w);
    assert!(after > before + 10.0, "{before} {after}");
    assert_eq!(w.state().session.undo_names().count(), 1, "one drag, one step");
}

/// A figure that is refused stays with its reason, Escape brings the old one back, and a boat of
/// another order is asked about.
#[test]
fn a_dimension_is_taken_refused_or_doubted() {
    let mut w = window();
    let beam = |w: &Harness<'static, Loft>| {
        let lines = HullLines::of(w.state().session.hull()).expect("lines");
        Dimension::Beam.measure(&lines).expect("a beam")
    };
    let before = beam(&w);
    let enter = |w: &mut Harness<'static, Loft>, text: &str, key: Key| {
        field(w, "beam").focus();
        w.run_steps(2);
        w.key_press_modifiers(Modifiers::COMMAND, Key::A);
        w.run_steps(1);
        field(w, "beam").type_text(text);
        w.run_steps(2);
        w.key_press(key);
        w.run_steps(3);
    };
    enter(&mut w, "five feet", Key::Enter);
    assert_eq!(beam(&w), before);
    let typed = w.state().state.typing.typed.last().cloned().expect("what was refused stays");
    assert_eq!(typed.1, "five feet");
    enter(&mut w, "9999", Key::Escape);
    assert_eq!((beam(&w), w.state().state.typing.typed.len()), (before, 0), "as it was");
    enter(&mut w, "14 in", Key::Enter);
    assert_eq!(beam(&w), before, "a boat of 14 inches is asked about");
    w.get_by_label_contains("Enter it once more");
    // Looking away from the question is no answer.
    field(&w, "length").focus();
    w.run_steps(3);
    assert_eq!((beam(&w), w.state().state.typing.doubted), (before, None));
    enter(&mut w, "4 ft 9 in", Key::Enter);
    assert!((beam(&w) - 57.0 * 25.4).abs() < 0.1, "{}", beam(&w));
    // Typing goes on in the same figure, and undo is the boat's.
    w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    w.run_steps(3);
    assert!((beam(&w) - before).abs() < 1e-6);
    assert!(field(&w, "beam").is_focused());
}
