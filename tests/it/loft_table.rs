//! Patterns in the strip and on the table.

use super::loft::window;
use bevy_egui::egui::{Key, Modifiers, Pos2};
use chinewright::viewer::state::PartId;
use chinewright::viewer::state::table::Tool;
use egui_kittest::kittest::Queryable;

#[test]
fn pointing_at_a_pattern_traces_its_ruling() {
    let mut w = window();
    w.key_press_modifiers(Modifiers::ALT, Key::Num2);
    w.run_steps(3);
    // The middle of the strip, where the patterns lie.
    w.hover_at(Pos2::new(500.0, 735.0));
    w.run_steps(3);
    let state = &w.state().state;
    let trace = state.selection.trace.expect("a ruling under the pointer");
    assert_eq!(state.selection.hover, Some(PartId::panel(trace.panel)));
    w.hover_at(Pos2::new(1100.0, 790.0));
    w.run_steps(3);
    assert_eq!(w.state().state.selection.trace, None);
}

#[test]
fn two_clicks_on_the_table_measure_a_length() {
    let mut w = window();
    w.state_mut().state.selection.panel = Some(1);
    w.key_press_modifiers(Modifiers::COMMAND, Key::T);
    w.run_steps(3);
    w.get_by_label("measure").click();
    w.run_steps(3);
    let side = &w.state().model.as_ref().expect("a model").panels[1];
    let whole = side.edges.lower;
    assert_eq!(w.state().state.table.tool, Tool::Measure);
    for at in [Pos2::new(300.0, 420.0), Pos2::new(700.0, 420.0)] {
        w.hover_at(at);
        w.step();
        w.drag_at(at);
        w.step();
        w.drop_at(at);
        w.run_steps(3);
    }
    let m = &w.state().state.table.measured;
    assert_eq!(m.len(), 2, "{m:?}");
    let d = (m[1][0] - m[0][0]).hypot(m[1][1] - m[0][1]);
    assert!(d > 0.3 * whole && d < whole, "{d} of {whole}");
    w.key_press(Key::Escape);
    w.run_steps(2);
    assert!(w.state().state.table.measured.is_empty());
}

#[test]
fn a_length_is_measured_and_a_page_chosen_by_the_keys_alone() {
    let mut w = window();
    w.state_mut().state.selection.panel = Some(1);
    w.key_press_modifiers(Modifiers::COMMAND, Key::T);
    w.run_steps(3);
    w.state_mut().state.table.tool = Tool::Measure;
    w.remove_cursor();
    w.get_by_label("drawing: side").focus();
    w.run_steps(2);
    w.key_press(Key::Enter);
    w.run_steps(2);
    for _ in 0..3 {
        w.key_press(Key::ArrowRight);
        w.run_steps(2);
    }
    w.key_press(Key::Enter);
    w.run_steps(2);
    let m = &w.state().state.table.measured;
    assert_eq!(m.len(), 2, "{m:?}");
    assert!(m[1][0] - m[0][0] > 500.0, "three steps to the right: {m:?}");
    w.state_mut().state.table.tool = Tool::Print;
    w.run_steps(2);
    for page in [0, 1] {
        w.get_by_label("next page").focus();
        w.run_steps(1);
        w.key_press(Key::Enter);
        w.run_steps(2);
        assert_eq!(w.state().state.table.page, Some(page));
    }
}
