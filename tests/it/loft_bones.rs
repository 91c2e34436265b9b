//! Frames, members, the jig and the boat afloat, changed in the window.

use super::loft::{Loft, type_into, window, window_of};
use bevy_egui::egui::Key;
use bevy_egui::egui::accesskit::Role;
use chinewright::finding::Finding;
use chinewright::hull::starters::demonstration;
use chinewright::viewer::camera::world_from_hull;
use chinewright::viewer::state::{BonesPart, PartId, Question};
use chinewright::words::finding::place;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

#[test]
fn a_frame_is_taken_in_hand_and_its_edges_chosen() {
    let mut w = window();
    w.state_mut().state.ask(Question::Bones);
    w.run_steps(3);
    w.get_by_label("frames").click();
    w.run_steps(3);
    assert_eq!(w.state().state.selection.bones, BonesPart::Frames);
    w.get_by_label("frame 3").click();
    w.run_steps(3);
    let loft = w.state();
    assert_eq!(
        (loft.state.selection.frame, loft.state.selection.held),
        (2, Some(PartId::frame(2)))
    );
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
    w.state_mut().state.selection.bones = BonesPart::Frames;
    w.run_steps(3);
    type_into(&mut w, "boards' widths", "140, 38,89");
    assert_eq!(w.state().session.hull().framing.widths_mm, [38.0, 89.0, 140.0]);
    w.state_mut().state.selection.bones = BonesPart::Lumber;
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

/// The place of a finding can be pressed where it is known: its piece stays lit, and the place
/// comes to the middle of the stage.
#[test]
fn a_finding_that_is_pressed_lights_its_piece_and_is_looked_at() {
    let mut hull = demonstration();
    // Two frames in one place, and a chine with a hard spot in it.
    hull.framing.stations_mm = vec![800.0, 1400.0, 2000.0, 2015.0, 2800.0];
    hull.lines[1].ducks[2].z += 60.0;
    let mut w = window_of(Loft::new(hull, None));
    let found = w.state().model.as_ref().expect("a model").findings.clone();
    let (mut lit, mut looked_at) = (0, 0);
    for f in &found {
        let (Some(question), true) = (f.question(), f.part.is_some() || f.at.is_some()) else {
            continue;
        };
        let alike = |g: &&Finding| (g.question(), &g.place) == (f.question(), &f.place);
        if found.iter().filter(alike).count() > 1 {
            continue;
        }
        w.state_mut().state.ask(question);
        w.run_steps(3);
        let at = place(&f.place, w.state().session.hull().units);
        w.get_by_label(&format!("look at it: {at}")).click_accesskit();
        w.run_steps(2);
        let (state, view) = (&w.state().state, &w.state().view);
        if let Some(part) = f.part {
            assert_eq!(state.selection.held, Some(part.assembly()), "{at}");
            lit += 1;
        }
        if let (Some(at), false) = (f.at, state.turned() || question == Question::Afloat) {
            let off = view.goal.target - world_from_hull(at);
            assert!(off.length() < 1e-3, "{at}: {off}");
            looked_at += 1;
        }
    }
    assert!(lit > 2 && looked_at > 2, "{lit} lit, {looked_at} looked at of {}", found.len());
}
