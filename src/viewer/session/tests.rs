//! The document in hand, tested.

use crate::files::{load_hull, save_hull};
use crate::hull::Duck;
use crate::hull::edit::Edit;
use crate::hull::starters::{STARTERS, demonstration};
use crate::viewer::session::autosave::place_beside;
use crate::viewer::session::command::Command;
use crate::viewer::session::*;

fn move_sheer(y: f64) -> Edit {
    let hull = STARTERS[0].checked();
    let line = hull.lines.len() - 1;
    let to = Duck { y, ..hull.lines[line].ducks[2] };
    Edit::MoveDuck { line, duck: 2, to }
}

#[test]
fn a_whole_drag_is_one_step_of_undo() {
    let hull = STARTERS[0].checked();
    let mut s = Session::new(hull.clone(), None);
    for y in [580.0, 590.0, 600.0] {
        s.apply(&Command::Drag(move_sheer(y)));
    }
    s.apply(&Command::DragEnd);
    s.apply(&Command::Drag(move_sheer(610.0)));
    s.apply(&Command::DragEnd);
    assert_eq!(s.undo_names().next(), Some("move duck 3 of the sheer"));
    s.apply(&Command::Undo(1));
    assert_eq!(s.hull().lines[1].ducks[2].y, 600.0);
    s.apply(&Command::Undo(1));
    assert_eq!(s.hull(), &hull);
    assert!(!s.changed());
    s.apply(&Command::Redo(1));
    assert_eq!(s.hull().lines[1].ducks[2].y, 600.0);
}

#[test]
fn dragging_a_dimension_starts_from_the_hull_as_it_was() {
    use crate::hull::Dimension;
    let hull = STARTERS[0].checked();
    let mut s = Session::new(hull.clone(), None);
    let flare = Dimension::Flare;
    let now = flare.measure(hull.lines()).expect("she has flare");
    let to =
        |d: f64| Command::DragFromStart(Edit::SetDimension { dimension: flare, value: now + d });
    for d in [0.02, 0.08, -0.05, 0.04] {
        s.apply(&to(d));
    }
    s.apply(&Command::DragEnd);
    let at_once = flare.set(&hull, now + 0.04).expect("a little flare");
    assert_eq!(s.hull().hull(), &at_once, "the way there does not matter");
    let name = s.undo_names().next().expect("one step").to_string();
    assert_eq!(name, format!("flare {:.1}°", (now + 0.04).to_degrees()));
    s.apply(&Command::Undo(1));
    assert_eq!(s.hull(), &hull);
}

#[test]
fn unsaved_work_is_offered_and_taken_up_or_let_go() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    save_hull(&path, &demonstration()).expect("a file");
    let mut s = Session::new(STARTERS[0].checked(), Some(path.clone()));
    s.apply(&Command::Edit(move_sheer(595.0)));
    s.autosave();
    let work = s.hull().clone();
    drop(s);
    // The program dies here; the next one finds the file as it was saved.
    let mut next = Session::new(STARTERS[0].checked(), Some(path.clone()));
    assert_eq!(next.left_over().map(|w| &w.hull), Some(&work));
    // Unanswered, it neither stops this run from keeping its work nor is lost by saving.
    next.apply(&Command::Edit(move_sheer(600.0)));
    next.autosave();
    assert_eq!(load_hull(&place_beside(&path)).expect("kept").lines[1].ducks[2].y, 600.0);
    next.apply(&Command::Save(None));
    assert_eq!(next.left_over().map(|w| &w.hull), Some(&work), "still offered");
    next.apply(&Command::TakeUp);
    assert_eq!(next.hull(), &work);
    assert!(next.changed() && next.left_over().is_none());
    drop(next);
    let mut third = Session::new(load_hull(&path).expect("a hull"), Some(path.clone()));
    assert_eq!(third.left_over().map(|w| &w.hull), Some(&work), "taken up, kept, and lost again");
    third.apply(&Command::LetGo);
    assert!(third.left_over().is_none());
    let files = std::fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(files, 1, "the document alone is left");
}

#[test]
fn a_boat_without_a_file_is_kept_for_the_next_run_and_from_a_living_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut s = Session::new(STARTERS[0].checked(), None).keeping_in(folder.path());
    s.apply(&Command::Edit(move_sheer(612.0)));
    s.autosave();
    let other = Session::new(STARTERS[0].checked(), None).keeping_in(folder.path());
    assert!(other.left_over().is_none(), "its run is alive");
    let work = s.hull().clone();
    drop(s);
    let mut next = Session::new(STARTERS[0].checked(), None).keeping_in(folder.path());
    assert_eq!(next.left_over().map(|w| &w.hull), Some(&work));
    next.apply(&Command::TakeUp);
    assert!(next.hull() == &work && next.changed() && next.path().is_none());
    next.apply(&Command::Save(Some(folder.path().join("saved.ron"))));
    drop((next, other));
    let left = std::fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(left, 1, "the saved document alone is left");
}

#[test]
fn work_that_is_given_up_does_not_come_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    save_hull(&path, &demonstration()).expect("a file");
    let mut s = Session::new(STARTERS[0].checked(), Some(path.clone()));
    s.apply(&Command::Edit(move_sheer(595.0)));
    s.autosave();
    s.apply(&Command::Discard);
    s.apply(&Command::Close);
    drop(s);
    assert!(Session::new(STARTERS[0].checked(), Some(path)).left_over().is_none());
}

#[test]
fn undo_after_opening_another_boat_gives_her_file_back_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let (a, b) = (folder.path().join("a.ron"), folder.path().join("b.ron"));
    let other = crate::hull::starters::STARTERS[1].checked();
    save_hull(&a, &demonstration()).expect("a file");
    save_hull(&b, &other).expect("a file");
    let mut s = Session::new(STARTERS[0].checked(), Some(a.clone()));
    s.apply(&Command::Open(b.clone()));
    assert_eq!((s.hull(), s.path()), (&other, Some(b.as_path())));
    s.apply(&Command::Undo(1));
    assert_eq!((s.hull().hull(), s.path()), (&demonstration(), Some(a.as_path())));
    assert!(!s.changed());
    s.apply(&Command::Save(None));
    assert_eq!(load_hull(&b).expect("b"), other, "b is not written over");
    s.apply(&Command::Redo(1));
    assert_eq!((s.hull(), s.path()), (&other, Some(b.as_path())));
}

#[test]
fn undoing_in_a_drag_ends_it() {
    let hull = STARTERS[0].checked();
    let mut s = Session::new(hull.clone(), None);
    s.apply(&Command::Drag(move_sheer(590.0)));
    s.apply(&Command::Undo(1));
    s.apply(&Command::Drag(move_sheer(600.0)));
    assert_eq!(s.undo_names().count(), 1, "what follows is a step of its own");
    s.apply(&Command::Undo(1));
    assert_eq!(s.hull(), &hull);
}

#[test]
fn a_table_of_offsets_opens_as_a_boat_without_a_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("from-a-plan.csv");
    let csv = crate::hull::offsets::write(&demonstration(), crate::units::Units::Mm);
    std::fs::write(&path, csv).expect("a file");
    let mut s = Session::new(STARTERS[0].checked(), None);
    s.apply(&Command::Open(path));
    assert_eq!((s.hull().name.as_str(), s.path()), ("from-a-plan", None));
    s.apply(&Command::Open(folder.path().join("nothing.ron")));
    assert!(s.notices().last().is_some_and(|n| n.wrong), "{:?}", s.notices());
}

#[test]
fn a_refused_edit_changes_nothing_and_says_why() {
    let mut s = Session::new(STARTERS[0].checked(), None);
    let before = s.revision();
    s.apply(&Command::Edit(move_sheer(-5.0)));
    assert_eq!(s.revision(), before);
    let last = s.notices().last().expect("it says why");
    assert!(last.wrong && last.text.contains("starboard"), "{last:?}");
}

#[test]
fn saving_and_opening_gives_the_same_boat() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    let mut s = Session::new(STARTERS[0].checked(), None);
    s.apply(&Command::Edit(move_sheer(590.0)));
    s.apply(&Command::Save(None));
    assert!(s.changed(), "no file yet, so not saved");
    s.apply(&Command::Save(Some(path.clone())));
    assert!(!s.changed(), "{:?}", s.notices());
    let mut other = Session::new(STARTERS[0].checked(), None);
    other.apply(&Command::Open(path));
    assert_eq!(other.hull(), s.hull());
}

#[test]
fn autosave_keeps_what_is_not_saved() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    let mut s = Session::new(STARTERS[0].checked(), Some(path.clone()));
    s.apply(&Command::Edit(move_sheer(595.0)));
    s.autosave();
    let kept = load_hull(&place_beside(&path)).expect("an autosave");
    assert_eq!(&kept, s.hull());
    s.apply(&Command::Undo(1));
    s.autosave();
    assert!(!place_beside(&path).exists(), "undone: nothing is unsaved");
    s.apply(&Command::Redo(1));
    s.autosave();
    assert!(place_beside(&path).exists(), "done again");
    s.apply(&Command::Save(None));
    assert!(!place_beside(&path).exists(), "saved: the autosave is gone");
}

#[test]
fn where_nothing_can_be_written_beside_her_file_unsaved_work_is_kept_elsewhere() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("taken away").join("boat.ron");
    let unsaved = folder.path().join("unsaved");
    let kept = || {
        let all = std::fs::read_dir(&unsaved).expect("a folder").flatten();
        all.filter(|e| load_hull(&e.path()).is_ok()).count()
    };
    let mut s = Session::new(STARTERS[0].checked(), Some(path)).keeping_in(&unsaved);
    s.apply(&Command::Edit(move_sheer(595.0)));
    assert!(s.autosave(), "{:?}", s.notices());
    assert_eq!(kept(), 1);
    s.apply(&Command::Undo(1));
    s.autosave();
    assert_eq!(kept(), 0, "undone: nothing is unsaved");
    s.apply(&Command::Redo(1));
    assert!(s.autosave());
    s.apply(&Command::Save(Some(folder.path().join("boat.ron"))));
    assert_eq!(kept(), 0, "saved");
    s.apply(&Command::Edit(move_sheer(600.0)));
    assert!(s.autosave());
    assert!(place_beside(&folder.path().join("boat.ron")).exists(), "beside her again");
}
