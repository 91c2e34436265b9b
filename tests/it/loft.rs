//! The window's panels without a window: pressed, dragged and typed in as by a builder,
//! found by the names that a screen reader says.

use std::path::PathBuf;

use bevy_egui::egui::{self, Key, Modifiers, Pos2, accesskit::Role};
use chinewright::finding::Finding;
use chinewright::hull::starters::demonstration;
use chinewright::hull::{Dimension, Hull, HullLines};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::viewer::camera::{Orbit, View};
use chinewright::viewer::prefs::Preferences;
use chinewright::viewer::session::{Command, Session};
use chinewright::viewer::ui::laid::{Laid, drawings};
use chinewright::viewer::ui::state::{AfloatPlot, BonesPart, DuckId, Piece, Question, UiState};
use chinewright::viewer::ui::style::{self, LIGHT, Theme};
use chinewright::viewer::ui::table::Tool;
use chinewright::viewer::ui::{Context, panels};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

/// What the window's systems hold, without the systems.
pub(crate) struct Loft {
    session: Session,
    model: Option<Model>,
    ghost: Option<Model>,
    faults: Vec<Finding>,
    patterns: Vec<Laid>,
    revision: u64,
    pub(crate) state: UiState,
    prefs: Preferences,
    view: View,
    asked: Vec<Command>,
}

impl Loft {
    pub(crate) fn new(hull: Hull, path: Option<PathBuf>) -> Loft {
        let mut loft = Loft {
            session: Session::new(hull, path),
            model: None,
            ghost: None,
            faults: Vec::new(),
            patterns: Vec::new(),
            revision: 0,
            state: UiState::default(),
            prefs: Preferences { toured: true, ..Preferences::default() },
            view: View::default(),
            asked: Vec::new(),
        };
        loft.follow();
        loft
    }

    /// Computes what the document is now.
    fn follow(&mut self) {
        if self.revision == self.session.revision() {
            return;
        }
        self.revision = self.session.revision();
        let materials = Materials::shipped();
        match derive(self.session.hull(), &materials) {
            Ok(model) => {
                self.model = Some(model);
                self.faults.clear();
            }
            Err(faults) => self.faults = faults,
        }
        self.ghost = derive(self.session.ghost(), &materials).ok();
    }

    fn frame(&mut self, ctx: &egui::Context) {
        self.patterns = self.model.as_ref().map_or(Vec::new(), |m| drawings(m, &self.state));
        let commands = {
            let mut context = Context {
                session: &self.session,
                model: self.model.as_ref(),
                ghost: self.ghost.as_ref(),
                patterns: &self.patterns,
                old: false,
                faults: &self.faults,
                busy: None,
                state: &mut self.state,
                prefs: &mut self.prefs,
                view: &mut self.view,
                commands: Vec::new(),
                tokens: &LIGHT,
            };
            panels(ctx, &mut context);
            context.commands
        };
        for command in &commands {
            self.session.apply(command);
        }
        self.asked.extend(commands);
        self.follow();
    }
}

/// A window of 1280 x 800 on the demonstration hull, seen from the quarter.
fn window() -> Harness<'static, Loft> {
    window_of(Loft::new(demonstration(), None))
}

pub(crate) fn window_of(loft: Loft) -> Harness<'static, Loft> {
    let mut styled = 0;
    let mut harness = Harness::builder().with_size([1280.0, 800.0]).build_ui_state(
        move |ui, loft: &mut Loft| {
            // Fonts set in one frame are there in the next.
            match styled {
                0 => ui.ctx().set_fonts(style::fonts()),
                _ => {
                    style::apply(ui.ctx(), Theme::Light);
                    loft.frame(ui.ctx());
                }
            }
            styled += 1;
        },
        loft,
    );
    harness.run_steps(4);
    let loft = harness.state_mut();
    let model = loft.model.as_ref().expect("a model");
    let (low, high) = chinewright::viewer::camera::hull_box(model);
    let orbit = Orbit::fit(chinewright::cli::job::ViewFrom::Quarter, low, high, 1.6);
    (loft.view.now, loft.view.goal) = (orbit, orbit);
    harness.run_steps(2);
    harness
}

/// Drags from one place to another in a few steps, as a hand does.
fn drag(w: &mut Harness<'static, Loft>, from: Pos2, to: Pos2) {
    w.hover_at(from);
    w.step();
    w.drag_at(from);
    w.step();
    for k in 1..=5 {
        w.hover_at(from + (to - from) * (k as f32 / 5.0));
        w.step();
    }
    w.drop_at(to);
    w.run_steps(3);
}

fn place(w: &Harness<'static, Loft>, name: &str) -> Pos2 {
    w.get_by_label(name).rect().center()
}

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
    assert_eq!(loft.state.dragged, None, "let go");
    w.get_by_label("Undo").click();
    w.run_steps(3);
    assert_eq!(w.state().session.hull(), &before);
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
    w.get_by_label(name).focus();
    w.run_steps(2);
    assert_eq!(w.state().state.duck, Some(DuckId { line: 1, duck: 2 }));
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
    w.state_mut().state.duck = Some(DuckId { line: 1, duck: 2 });
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
    w.state_mut().state.panel = Some(1);
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
    let typed = w.state().state.typed.clone().expect("what was refused stays");
    assert_eq!(typed.1, "five feet");
    enter(&mut w, "9999", Key::Escape);
    assert_eq!((beam(&w), w.state().state.typed.clone()), (before, None), "as it was");
    enter(&mut w, "14 in", Key::Enter);
    assert_eq!(beam(&w), before, "a boat of 14 inches is asked about");
    w.get_by_label_contains("Enter it once more");
    enter(&mut w, "4 ft 9 in", Key::Enter);
    assert!((beam(&w) - 57.0 * 25.4).abs() < 0.1, "{}", beam(&w));
    // Typing goes on in the same figure, and undo is the boat's.
    w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    w.run_steps(3);
    assert!((beam(&w) - before).abs() < 1e-6);
    assert!(field(&w, "beam").is_focused());
}

/// The text field of this name.
fn field<'a>(w: &'a Harness<'static, Loft>, name: &'a str) -> egui_kittest::Node<'a> {
    w.get_by_role_and_label(Role::TextInput, name)
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
    w.get_by_label("duck 2 of the chine, in plan").focus();
    w.run_steps(2);
    w.key_press(Key::ArrowUp);
    w.run_steps(2);
    w.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    w.run_steps(3);
    assert!(!w.state().asked.contains(&Command::Close));
    w.get_by_label("Stay").click();
    w.run_steps(3);
    assert_eq!(w.state().state.guard, None);
    w.key_press_modifiers(Modifiers::COMMAND, Key::Q);
    w.run_steps(3);
    w.get_by_label("Save and go on").click();
    w.run_steps(3);
    assert!(path.is_file() && !w.state().session.changed(), "saved");
    assert!(w.state().state.then.is_some(), "and on to what was asked");
}

#[test]
fn the_tour_leads_through_five_steps_and_is_seen_once() {
    let mut w = window();
    w.state_mut().prefs.toured = false;
    w.state_mut().state.tour = Some(0);
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
        assert_eq!(w.state().state.tour, Some(step));
    }
    assert_eq!(w.state().state.question, Question::Skin);
    w.get_by_label("Begin").click();
    w.run_steps(3);
    assert!(w.state().state.tour.is_none() && w.state().prefs.toured);
}

#[test]
fn pointing_at_a_pattern_traces_its_ruling() {
    let mut w = window();
    w.key_press_modifiers(Modifiers::ALT, Key::Num2);
    w.run_steps(3);
    // The middle of the strip, where the patterns lie.
    w.hover_at(Pos2::new(500.0, 735.0));
    w.run_steps(3);
    let state = &w.state().state;
    let trace = state.trace.expect("a ruling under the pointer");
    assert_eq!(state.hover, Some(Piece::Panel(trace.panel)));
    w.hover_at(Pos2::new(1100.0, 790.0));
    w.run_steps(3);
    assert_eq!(w.state().state.trace, None);
}

#[test]
fn two_clicks_on_the_table_measure_a_length() {
    let mut w = window();
    w.state_mut().state.panel = Some(1);
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
    w.state_mut().state.panel = Some(1);
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

/// What must have a name for someone who cannot see the window.
pub(crate) const PRESSED: [Role; 9] = [
    Role::Button,
    Role::CheckBox,
    Role::RadioButton,
    Role::TextInput,
    Role::SpinButton,
    Role::Slider,
    Role::ComboBox,
    Role::Link,
    Role::MenuItem,
];

#[test]
fn everything_that_can_be_pressed_has_a_name_and_lies_in_the_window() {
    for scale in [1.0, 1.3] {
        let mut w = window();
        w.set_pixels_per_point(1.0);
        w.set_size(egui::vec2(1280.0, 800.0) / scale);
        let mut looked_at = 0;
        let shows: [fn(&mut UiState); 14] = [
            |s| s.duck = Some(DuckId { line: 1, duck: 2 }),
            |s| (s.section, s.water) = (Some(900.0), Some(150.0)),
            |s| s.ask(Question::Skin),
            |s| s.table.open = true,
            |s| s.table.tool = Tool::Print,
            |s| (s.table.open, s.keys) = (false, true),
            |s| {
                s.keys = false;
                s.ask(Question::Bones);
            },
            |s| s.bones = BonesPart::Frames,
            |s| s.table.open = true,
            |s| (s.table.open, s.bones) = (false, BonesPart::Ends),
            |s| s.ask(Question::Setup),
            |s| s.ask(Question::Afloat),
            |s| (s.plot, s.load) = (AfloatPlot::Drafts, Some(0)),
            |s| (s.plot, s.case) = (AfloatPlot::Speed, Some(4)),
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
        w.state_mut().state.bones = part;
        w.run();
        let left = w.get_by_label(first).rect().left();
        assert!(left >= 1280.0 - style::size::CARD, "{first} begins at {left}, left of its card");
    }
}

/// Types into a field by its name and enters it.
fn type_into(w: &mut Harness<'static, Loft>, name: &str, text: &str) {
    w.get_by_label(name).focus();
    w.run_steps(2);
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run_steps(1);
    w.get_by_label(name).type_text(text);
    w.run_steps(2);
    w.key_press(Key::Enter);
    w.run_steps(3);
}

#[test]
fn a_frame_is_taken_in_hand_and_its_edges_chosen() {
    let mut w = window();
    w.state_mut().state.ask(Question::Bones);
    w.run_steps(3);
    w.get_by_label("frames").click();
    w.run_steps(3);
    assert_eq!(w.state().state.bones, BonesPart::Frames);
    w.get_by_label("frame 3").click();
    w.run_steps(3);
    let loft = w.state();
    assert_eq!((loft.state.frame, loft.state.held), (2, Some(Piece::Frame(2))));
    assert_eq!(loft.patterns[0].name, "frame 3, put together");
    w.get_by_label("edge at the side straight").focus();
    w.run_steps(2);
    w.key_press(Key::Enter);
    w.run_steps(4);
    let loft = w.state();
    assert_eq!(loft.session.undo_names().collect::<Vec<_>>(), ["frames: one frame"]);
    let frames = &loft.model.as_ref().expect("a model").woodwork.frames;
    let straight = |i: usize| [0, 1].map(|p| frames[i].edges.is_straight(p));
    assert_eq!((straight(2), straight(1)), ([false, true], [false, false]));
    type_into(&mut w, "sided", "22");
    assert_eq!(w.state().session.hull().framing.sided_mm, 22.0);
}

/// Lines, members, boards and the allowance are the window's to change, and each is one step.
#[test]
fn whole_pieces_are_added_and_taken_away() {
    let mut w = window();
    let steps = |w: &Harness<'static, Loft>| -> Vec<String> {
        w.state().session.undo_names().map(str::to_string).collect()
    };
    w.get_by_label("add a keel").click();
    w.run_steps(3);
    assert!(w.state().session.hull().line("keel").is_some());
    w.get_by_label("take the keel away").click();
    w.run_steps(3);
    assert_eq!(w.state().session.hull().lines, demonstration().lines);
    w.get_by_label("add a chine").click();
    w.run_steps(3);
    assert_eq!(w.state().model.as_ref().map(|m| m.panels.len()), Some(3));
    w.get_by_label("Undo").click();
    w.run_steps(3);
    w.state_mut().state.ask(Question::Skin);
    w.run_steps(3);
    type_into(&mut w, "trim allowance", "8");
    assert_eq!(w.state().session.hull().planking.trim_allowance_mm, 8.0);
    w.state_mut().state.ask(Question::Bones);
    w.state_mut().state.bones = BonesPart::Frames;
    w.run_steps(3);
    type_into(&mut w, "boards' widths", "140, 38,89");
    assert_eq!(w.state().session.hull().framing.widths_mm, [38.0, 89.0, 140.0]);
    w.state_mut().state.bones = BonesPart::Lumber;
    w.run_steps(3);
    let before = w.state().session.hull().members.len();
    w.get_by_label("add a member …").click();
    w.run_steps(3);
    w.get_by_label("outer chine: outside along the chine").click();
    w.run_steps(4);
    assert_eq!(w.state().session.hull().members.len(), before + 1);
    assert!(w.state().model.as_ref().is_some_and(|m| m.members.len() == before + 1));
    w.get_by_role_and_label(Role::Button, "chine log").click();
    w.run_steps(3);
    w.get_by_label("take the chine log away").click();
    w.run_steps(3);
    assert!(w.state().session.hull().members.iter().all(|m| m.name != "chine log"));
    assert_eq!(
        steps(&w),
        [
            "take the chine log away",
            "add the outer chine",
            "frames: how they are made",
            "trim allowance 8.0 mm",
            "take the keel away",
            "add a keel",
        ]
    );
}

/// The first thing that Afloat says is whether these people may go behind this motor.
#[test]
fn afloat_answers_plainly_first() {
    let mut hull = demonstration();
    hull.motor.power_hp = 60.0;
    let mut w = window_of(Loft::new(hull, None));
    w.state_mut().state.ask(Question::Afloat);
    w.run_steps(3);
    let answer = w.get_by_label_contains("and 60 hp: ").rect();
    let caution = w.get_by_label_contains("Caution: ").rect();
    assert!(answer.bottom() <= caution.top(), "{answer:?} {caution:?}");
    type_into(&mut w, "your motor", "4.5 kW");
    let hp = w.state().session.hull().motor.power_hp;
    assert_eq!(hp, 6.03);
}

#[test]
fn what_the_tape_says_is_typed_and_the_boat_recomputed() {
    let mut w = window();
    w.state_mut().state.ask(Question::Setup);
    w.run_steps(3);
    w.get_by_label("frame 4").click();
    w.run_steps(3);
    let loft = w.state();
    let jig = loft.model.as_ref().and_then(|m| m.woodwork.strongback.as_ref()).expect("a jig");
    let drawn = jig.stands[3].corners.last().expect("the sheer").half_breadth.round();
    type_into(&mut w, "sheer, out", &format!("{}", drawn + 5.0));
    let loft = w.state();
    assert_eq!(loft.session.hull().as_built.len(), 1);
    assert_eq!(loft.session.hull().as_built[0].half_breadth_mm, Some(drawn + 5.0));
    let built = loft.model.as_ref().and_then(|m| m.as_built.as_ref()).expect("as built");
    assert!((built.deviations[0].out - 5.0).abs() < 0.6);
    w.get_by_label("forget what was measured").focus();
    w.run_steps(2);
    w.key_press(Key::Enter);
    w.run_steps(4);
    assert!(w.state().session.hull().as_built.is_empty());
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
        "duck 4 of the sheer, in plan",
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
    (s.table.open, s.keys) = (true, true);
    w.run_steps(2);
    w.key_press(Key::Escape);
    w.run_steps(2);
    assert!(!w.state().state.keys && w.state().state.table.open);
    w.key_press(Key::Escape);
    w.run_steps(2);
    assert!(!w.state().state.table.open);
}
