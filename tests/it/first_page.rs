//! The page that the window begins with, and the units that are the reader's and not the
//! boat's.

use std::path::{Path, PathBuf};

use bevy_egui::egui::{Key, Modifiers, accesskit::Role};
use chinewright::drawing::compose::Paper;
use chinewright::files::autosave::place_beside;
use chinewright::files::{load_hull, save_hull};
use chinewright::hull::Hull;
use chinewright::hull::edit::Edit;
use chinewright::hull::starters::{STARTERS, demonstration};
use chinewright::hull::stock::SoldBy;
use chinewright::units::Units;
use chinewright::viewer::prefs::Preferences;
use chinewright::viewer::session::Command;
use chinewright::viewer::state::Question;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

use super::loft::{Loft, drag, place, window, window_of};

/// A window as it begins with these recent boats.
fn begun(recent: &[PathBuf], units: Option<Units>) -> Harness<'static, Loft> {
    let mut loft = Loft::new(demonstration(), None);
    loft.state.dialogs.first_page = true;
    loft.prefs = Preferences { recent: recent.to_vec(), units, ..Preferences::default() };
    if let Some(units) = units {
        loft.session.apply(&Command::ShowIn(units));
    }
    window_of(loft)
}

fn said(w: &Harness<'static, Loft>) -> Vec<String> {
    let all = w.root().children_recursive();
    let node = |n: egui_kittest::Node| {
        let n = n.accesskit_node();
        n.label().or(n.value()).map(|s| s.to_string())
    };
    all.filter_map(node).collect()
}

#[test]
fn every_starter_and_recent_boat_stands_there_and_is_taken_by_a_press() {
    let folder = tempfile::tempdir().expect("a folder");
    let (mine, gone) = (folder.path().join("mine.ron"), folder.path().join("gone.ron"));
    save_hull(&mine, &Hull { name: "Alder hen".into(), ..STARTERS[1].hull() }).expect("a file");
    let mut w = begun(&[mine.clone(), gone], Some(Units::FeetInchesEighths));
    let all = said(&w);
    for starter in &STARTERS {
        let name = starter.hull().name;
        assert!(all.iter().any(|s| s.starts_with(&format!("{name}, "))), "{name}: {all:?}");
    }
    assert!(!all.iter().any(|s| s.contains("gone")), "a file that is gone is no boat");
    let length = Units::FeetInchesEighths.show(
        chinewright::hull::HullLines::of(&STARTERS[1].hull()).expect("lines").length_overall(),
    );
    assert!(all.iter().any(|s| s.starts_with(&length)), "{length} in the reader's units: {all:?}");
    w.get_by_label("Alder hen, mine.ron").click();
    w.run_steps(4);
    assert_eq!(w.state().session.path(), Some(mine.as_path()));
    assert!(!w.state().state.dialogs.first_page);
    // The header names the file.
    assert!(said(&w).iter().any(|s| s == "mine.ron, saved"), "{:?}", said(&w));
    // She is shown in the reader's units without having been changed.
    assert_eq!(w.state().session.hull().units, Units::FeetInchesEighths);
    assert!(!w.state().session.changed());
}

#[test]
fn the_page_is_left_by_escape_and_by_the_tour_and_opened_again_from_the_menu() {
    let mut w = begun(&[], None);
    w.key_press(Key::Escape);
    w.run_steps(3);
    assert!(!w.state().state.dialogs.first_page);
    w.get_by_label("File").click();
    w.run_steps(3);
    w.get_by_label("Boats, with pictures").click();
    w.run_steps(3);
    assert!(w.state().state.dialogs.first_page);
    w.get_by_label("Take the tour").click();
    w.run_steps(4);
    assert_eq!(
        (w.state().state.dialogs.first_page, w.state().state.dialogs.tour),
        (false, Some(0))
    );
}

#[test]
fn unsaved_work_of_a_recent_boat_is_offered_at_once_with_its_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let mine = folder.path().join("mine.ron");
    let saved = demonstration();
    save_hull(&mine, &saved).expect("a file");
    let mut work = saved.clone();
    work.lines[1].ducks[2].y += 12.0;
    save_hull(&place_beside(&mine), &work).expect("kept by a run that died");
    let mut w = begun(std::slice::from_ref(&mine), None);
    let offer = said(&w).into_iter().find(|s| s.starts_with("Unsaved work")).expect("an offer");
    assert!(offer.contains("(mine.ron) was kept"), "{offer}");
    w.get_by_label("Recover").click();
    w.run_steps(4);
    let session = &w.state().session;
    assert_eq!((session.hull().hull(), session.path()), (&work, Some(mine.as_path())));
    assert!(session.changed(), "recovered, and not saved");
    assert_eq!(load_hull(&mine).expect("the file"), saved, "which is as it was");
}

/// Whoever likes inches best changes nothing about the boat by reading her in inches.
#[test]
fn units_are_the_readers_and_no_change_of_the_boat() {
    let folder = tempfile::tempdir().expect("a folder");
    let (mine, other) = (folder.path().join("mine.ron"), folder.path().join("other.ron"));
    save_hull(&mine, &demonstration()).expect("a file");
    save_hull(&other, &STARTERS[2].hull()).expect("a file");
    let mut w = window_of(Loft::new(demonstration(), Some(mine)));
    let from = place(&w, "duck 3 of the sheer, in plan");
    drag(&mut w, from, from + bevy_egui::egui::vec2(0.0, -6.0));
    w.run_steps(3);
    let pulled = w.state().session.hull().clone();
    let marked = pulled.mark();
    w.get_by(|n| n.role() == Role::ComboBox && n.label().as_deref() == Some("units")).click();
    w.run_steps(3);
    w.get_by_label_contains("ft-in-8   as").click();
    w.run_steps(3);
    let session = &mut w.state_mut().session;
    assert_eq!(session.hull().units, Units::FeetInchesEighths);
    assert_eq!(session.hull().mark(), marked);
    assert_eq!(session.undo_names().count(), 1, "the pull alone");
    session.apply(&Command::Undo(1));
    assert!(!session.changed(), "undone, she is as she was saved");
    assert_eq!(session.hull().units, Units::FeetInchesEighths, "and still read in feet");
    session.apply(&Command::Redo(1));
    let shown = Hull { units: Units::FeetInchesEighths, ..pulled.into_hull() };
    assert_eq!(session.hull().hull(), &shown);
    session.apply(&Command::Open(other));
    assert_eq!(session.hull().units, Units::FeetInchesEighths);
    assert!(!session.changed());
    assert_eq!(session.hull().stock.sold_by, SoldBy::Metres, "shown otherwise, bought as before");
    session.apply(&Command::Start(&STARTERS[3]));
    assert_eq!(session.hull().units, Units::FeetInchesEighths);
    assert_eq!(session.hull().stock.sold_by, SoldBy::Feet, "a new boat, bought by the foot");
    assert_eq!(w.state().prefs.units, Some(Units::FeetInchesEighths), "and next time");
}

#[test]
fn paper_goes_with_the_units_until_it_is_chosen() {
    let mut w = window();
    assert_eq!(w.state().state.table.paper, Paper::A4);
    w.state_mut().session.apply(&Command::ShowIn(Units::InchFraction));
    w.run_steps(3);
    assert_eq!(w.state().state.table.paper, Paper::Letter);
    w.get_by_label("File").click();
    w.run_steps(3);
    w.get_by_label("a roll").click();
    w.run_steps(3);
    assert_eq!(w.state().state.table.paper, Paper::Roll);
}

/// What was saved or written says where, and its folder can be opened from there.
#[test]
fn a_notice_says_where_and_opens_the_folder() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    let mut w = window();
    w.state_mut().session.apply(&Command::Edit(Edit::Rename("Reed hen".into())));
    w.state_mut().session.apply(&Command::Save(Some(path.clone())));
    w.run_steps(3);
    let all = said(&w);
    let whole = format!("Saved as {}", path.display());
    assert!(all.contains(&whole), "{all:?}");
    w.get_by_label("open the folder").click();
    w.run_steps(3);
    let asked = &w.state().asked;
    assert!(asked.iter().any(|c| matches!(c, Command::ShowFolder(p) if p == Path::new(&path))));
}

/// Ducks are one stop of the Tab key for each view; arrows go from one to the next, Space
/// takes one in hand, Escape lets it go and keeps the keys there.
#[test]
fn ducks_are_one_group_for_the_keys() {
    let mut w = window();
    let mut reached = Vec::new();
    for _ in 0..140 {
        w.key_press(Key::Tab);
        w.step();
        let nodes = w.root().children_recursive();
        let focused = nodes.into_iter().find(|n| n.is_focused());
        reached.extend(focused.and_then(|n| n.accesskit_node().label()).map(|s| s.to_string()));
        if reached.iter().filter(|n| **n == "File").count() == 2 {
            break;
        }
    }
    let mut ducks: Vec<&String> = reached.iter().filter(|n| n.starts_with("duck ")).collect();
    ducks.sort();
    ducks.dedup();
    assert_eq!(ducks.len(), 2, "{reached:?}");
    w.get_by_label("duck 1 of the chine, in profile").focus();
    w.run_steps(2);
    assert_eq!(w.state().state.selection.duck, None, "the keys on it are not the hand");
    for (key, name) in [
        (Key::ArrowRight, "duck 2 of the chine, in profile"),
        (Key::ArrowRight, "duck 3 of the chine, in profile"),
        (Key::ArrowUp, "duck 3 of the sheer, in profile"),
        (Key::ArrowLeft, "duck 2 of the sheer, in profile"),
        (Key::ArrowDown, "duck 2 of the chine, in profile"),
    ] {
        w.key_press(key);
        w.run_steps(3);
        assert!(w.get_by_label(name).is_focused(), "{key:?} to {name}");
    }
    assert_eq!(w.state().session.hull(), &demonstration(), "nothing was moved");
    w.key_press(Key::Space);
    w.run_steps(3);
    assert!(w.state().state.selection.duck.is_some());
    w.key_press_modifiers(Modifiers::SHIFT, Key::ArrowUp);
    w.run_steps(3);
    let z = |hull: &Hull| hull.lines[0].ducks[1].z;
    assert_eq!(z(w.state().session.hull()), z(&demonstration()) + 10.0);
    w.key_press(Key::Escape);
    w.run_steps(3);
    assert_eq!(w.state().state.selection.duck, None);
    w.key_press(Key::ArrowRight);
    w.run_steps(3);
    assert!(w.get_by_label("duck 3 of the chine, in profile").is_focused());
    assert_eq!(w.state().state.question, Question::Shape);
}
