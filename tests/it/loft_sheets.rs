//! A sheet of plywood on the table: its parts are taken in the hand as in the strip.

use bevy_egui::egui::{Key, Modifiers, Pos2, Rect, Vec2, vec2};
use chinewright::model::stock::StockList;
use chinewright::stock::nest::wrongs;
use chinewright::viewer::state::Question;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

use super::loft::{Loft, drag, window};

/// The first sheet on the table.
fn on_the_table() -> Harness<'static, Loft> {
    let mut w = window();
    w.key_press_modifiers(Modifiers::ALT, Key::Num6);
    w.run_steps(4);
    w.key_press_modifiers(Modifiers::COMMAND, Key::T);
    w.run_steps(4);
    let state = &w.state().state;
    assert!(state.on_table() && state.question == Question::Stock);
    w.get_by_label("drawing: sheet 1");
    w
}

fn list(w: &Harness<'static, Loft>) -> StockList {
    w.state().taking.list.as_deref().expect("it was counted").clone()
}

fn sound(list: &StockList) -> bool {
    list.sheets.iter().all(|k| wrongs(&k.problem, &k.layout).is_empty())
}

/// Places all over the table below its controls.
fn places(w: &Harness<'static, Loft>) -> Vec<Pos2> {
    let table: Rect = w.get_by_label("drawing: sheet 1").rect();
    let at = |x: usize, y: usize| {
        table.min
            + vec2(
                x as f32 / 30.0 * table.width(),
                60.0 + y as f32 / 16.0 * (table.height() - 90.0),
            )
    };
    (1..16).flat_map(|y| (1..30).map(move |x| at(x, y))).collect()
}

/// Places on a part, and beside every part.
fn on_and_beside(w: &mut Harness<'static, Loft>) -> (Vec<Pos2>, Vec<Pos2>) {
    places(w).into_iter().partition(|at| {
        w.hover_at(*at);
        w.run_steps(2);
        w.state().state.selection.hover.is_some()
    })
}

/// Presses and pulls without letting go.
fn pull(w: &mut Harness<'static, Loft>, from: Pos2, by: Vec2) {
    w.hover_at(from);
    w.step();
    w.drag_at(from);
    w.step();
    for k in 1..=4 {
        w.hover_at(from + by * (k as f32 / 4.0));
        w.step();
    }
}

#[test]
fn a_part_is_dragged_on_the_table_and_a_drag_beside_parts_pans() {
    let mut w = on_the_table();
    let before = list(&w);
    let (on, beside) = on_and_beside(&mut w);
    assert!(on.len() > 20 && beside.len() > 20, "{} and {}", on.len(), beside.len());
    // Nothing of the view is pinned while one only looks.
    assert_eq!(w.state().state.table.looked, None);
    let by = vec2(-14.0, 10.0);
    let moved = on.iter().rev().find(|at| {
        drag(&mut w, **at, **at + by);
        list(&w).sheets != before.sheets
    });
    let grip = *moved.expect("one that has room beside it");
    assert!(sound(&list(&w)), "nothing lies on anything else");
    let looked = w.state().state.table.looked;
    w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    w.run_steps(3);
    assert!(list(&w).sheets == before.sheets, "as it was before");
    // The same part again from the same place: the table did not move under the hand.
    drag(&mut w, grip, grip + by);
    assert!(list(&w).sheets != before.sheets);
    assert_eq!(w.state().state.table.looked, looked);
    let laid = list(&w);
    drag(&mut w, beside[0], beside[0] + by);
    let panned = w.state().state.table.looked.expect("moved").0;
    assert_ne!(Some(panned), looked.map(|l| l.0));
    assert!(list(&w).sheets == laid.sheets, "the table is pulled, not a part");
}

#[test]
fn held_over_another_part_it_is_told_and_goes_to_a_free_place() {
    let mut w = on_the_table();
    let (on, _) = on_and_beside(&mut w);
    let clashing = on.iter().find_map(|at| {
        pull(&mut w, *at, vec2(60.0, 0.0));
        let held = w.state().state.stock.held.clone().expect("a part in the hand");
        w.drop_at(*at + vec2(60.0, 0.0));
        w.run_steps(3);
        assert!(sound(&list(&w)), "pushed to where it is free");
        held.clashes.then_some(())
    });
    assert!(clashing.is_some(), "sixty points aside lies another part");
}

#[test]
fn r_turns_the_part_in_the_hand_and_arrows_move_the_one_that_was_pressed() {
    let mut w = on_the_table();
    let (on, _) = on_and_beside(&mut w);
    pull(&mut w, on[0], vec2(8.0, 0.0));
    let attitude = |w: &Harness<'static, Loft>| {
        w.state().state.stock.held.as_ref().expect("held").by_hand.attitude
    };
    let before = attitude(&w);
    w.key_press(Key::R);
    w.run_steps(2);
    assert!(!attitude(&w).is_near(before));
    w.drop_at(on[0]);
    w.run_steps(3);
    assert!(sound(&list(&w)));
    // Pressed, it is the one that arrows move; the table lies still.
    let press = |w: &mut Harness<'static, Loft>, at: Pos2| {
        w.hover_at(at);
        w.step();
        w.drag_at(at);
        w.step();
        w.drop_at(at);
        w.run_steps(3);
    };
    let (on, beside) = on_and_beside(&mut w);
    press(&mut w, on[0]);
    assert!(w.state().state.stock.chosen.is_some());
    let (laid, looked) = (list(&w), w.state().state.table.looked);
    w.key_press(Key::ArrowLeft);
    w.run_steps(3);
    assert_eq!(w.state().state.table.looked, looked);
    assert!(list(&w).sheets != laid.sheets || w.state().state.stock.no_room);
    // Pressed beside it, arrows shift the table as before.
    press(&mut w, beside[0]);
    assert!(w.state().state.stock.chosen.is_none());
    w.key_press(Key::ArrowLeft);
    w.run_steps(3);
    assert_ne!(w.state().state.table.looked, looked);
}
