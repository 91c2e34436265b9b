//! Unsaved work outlives a run that ends anywhere: keeping it, finding it again and taking it
//! up on a disk that fails at any act.

use std::path::Path;

use chinewright::files::autosave::{
    LeftOver, Unsaved, beside, beside_on, keep, keep_on, orphans, orphans_on, place_beside, remove,
    remove_on,
};
use chinewright::files::{load_hull, save_hull};
use chinewright::hull::Hull;
use chinewright::hull::starters::find;

use crate::saving::{Failing, tree};

/// The boat as saved and three states of the work on her, each another boat.
fn states() -> [Hull; 4] {
    let saved = find("reed-skiff").expect("a starter").hull();
    [0.0, 1.0, 2.0, 3.0].map(|d| {
        let mut hull = saved.clone();
        hull.lines[1].ducks[2].z += d;
        hull
    })
}

fn hulls(found: &[LeftOver]) -> Vec<&Hull> {
    found.iter().map(|w| w.hull.hull()).collect()
}

/// Names of what lies in a folder.
fn names(folder: &Path) -> Vec<String> {
    tree(folder).keys().map(|p| p.display().to_string()).collect()
}

/// Each act of `what` in turn fails alone, then is the last that its run does; `what` is told
/// the disk, `then` looks at what is there. How many acts there were.
fn each_act(mut what: impl FnMut(&Failing, bool, usize)) -> usize {
    let mut acts = 0;
    for killed in [false, true] {
        for at in 0.. {
            let disk = Failing::new(at, killed);
            what(&disk, killed, at);
            if !disk.failed() {
                acts = at;
                break;
            }
        }
    }
    acts
}

/// Keeping a second state over the first: the next run finds one of them whole, and the
/// document as it was saved.
#[test]
fn keeping_cut_anywhere_leaves_one_state_whole() {
    let [saved, first, second, _] = states();
    let acts = each_act(|disk, killed, at| {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boat.ron");
        save_hull(&path, &saved).expect("saved");
        keep(&place_beside(&path), &first, false).expect("kept");
        let result = keep_on(disk, &place_beside(&path), &second, true);
        assert_eq!(load_hull(&path).expect("the document"), saved);
        let found = beside(&path, &saved);
        let place = format!("act {at}, killed {killed}");
        assert_eq!(found.len(), 1, "{place}");
        assert!([&first, &second].contains(&found[0].hull.hull()), "{place}");
        assert!(result.is_err() || found[0].hull == second, "{place}: said to be kept");
        assert_eq!(names(folder.path()), ["boat.ron", "boat.ron.left-over-1"], "{place}");
    });
    assert!(acts >= 4, "too few acts were tried: {acts}");
}

/// Work of a run that is over, found while its document is opened: it is offered by that run
/// or the next, and whatever the new run keeps does not take its place.
#[test]
fn finding_cut_anywhere_loses_nothing_and_keeping_goes_on() {
    let [saved, first, second, third] = states();
    let acts = each_act(|disk, killed, at| {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boat.ron");
        let kept = place_beside(&path);
        save_hull(&path, &saved).expect("saved");
        // One run's work was set aside, the next run's still lies where it was kept.
        keep(&kept, &first, false).expect("kept");
        assert_eq!(hulls(&beside(&path, &saved)), [&first]);
        keep(&kept, &second, false).expect("kept");
        beside_on(disk, &path, &saved);
        // A run that goes on, with a disk that serves again unless the run was killed.
        let place = format!("act {at}, killed {killed}");
        let went_on = keep_on(disk, &kept, &third, false);
        assert!(killed || went_on.is_ok() || disk.failed(), "{place}");
        if !killed && went_on.is_err() {
            keep(&kept, &third, false).expect("kept after all");
        }
        let found = beside(&path, &saved);
        let all = hulls(&found);
        assert!(all.contains(&&first) && all.contains(&&second), "{place}: {}", all.len());
        assert!(killed || all.contains(&&third), "{place}");
        assert_eq!(load_hull(&path).expect("the document"), saved);
        assert_eq!(names(folder.path()).len(), 1 + found.len(), "{place}: leavings");
    });
    assert!(acts >= 6, "too few acts were tried: {acts}");
}

/// Work that is taken up is kept by the run that takes it before its old place is cleared, and
/// what says the same as the document is no work.
#[test]
fn taking_up_cut_anywhere_leaves_the_work_at_one_place_at_least() {
    let [saved, first, ..] = states();
    let acts = each_act(|disk, killed, at| {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boat.ron");
        save_hull(&path, &saved).expect("saved");
        keep(&place_beside(&path), &first, false).expect("kept");
        let found = beside(&path, &saved);
        if keep_on(disk, &place_beside(&path), &found[0].hull, false).is_ok() {
            remove_on(disk, &found[0].place);
        }
        let again = beside(&path, &saved);
        let place = format!("act {at}, killed {killed}");
        assert!(!again.is_empty() && again.iter().all(|w| w.hull == first), "{place}");
        // Saved, it is no unsaved work any more.
        save_hull(&path, &first).expect("saved");
        assert!(beside(&path, &first).is_empty(), "{place}");
        assert_eq!(names(folder.path()), ["boat.ron"], "{place}");
    });
    assert!(acts >= 5, "too few acts were tried: {acts}");
}

/// A boat without a file: from making her place to keeping her twice and to clearing her away.
#[test]
fn a_boat_without_a_file_outlives_a_run_cut_anywhere() {
    let [_, first, second, _] = states();
    let mut offered = [0, 0];
    let acts = each_act(|disk, killed, at| {
        let above = tempfile::tempdir().expect("a folder");
        let folder = above.path().join("data");
        let told = {
            let own = Unsaved::in_folder_on(disk, &folder);
            let mut told = None;
            for hull in [&first, &second] {
                let done =
                    own.as_ref().is_some_and(|o| keep_on(disk, o.place(), hull, true).is_ok());
                told = if done { Some(hull.clone()) } else { told };
            }
            // Its run lives: nobody else is offered it.
            assert!(orphans(&folder).is_empty(), "act {at}");
            // A killed run drops nothing: only its locks go with it.
            if let Some(own) = own.filter(|_| killed) {
                let bytes = std::fs::read(own.place().with_extension("lock")).unwrap_or_default();
                let lock = own.place().with_extension("lock");
                drop(own);
                std::fs::write(lock, bytes).expect("the lock that a killed run leaves");
            }
            told
        };
        let place = format!("act {at}, killed {killed}");
        // The first run that looks may be cut short too.
        orphans_on(disk, &folder);
        let found = orphans(&folder);
        match &told {
            Some(hull) => {
                assert_eq!(found.len(), 1, "{place}");
                let either = [&first, &second].contains(&found[0].hull.hull());
                assert!(either && (found[0].hull == *hull || *hull == first), "{place}");
                offered[usize::from(found[0].hull == second)] += 1;
            }
            None => assert!(found.len() <= 1, "{place}"),
        }
        found.iter().for_each(|w| remove(&w.place));
        // A program that another test has just begun may hold a copy of the lock for a moment.
        for _ in 0..50 {
            orphans(&folder);
            if names(above.path()).is_empty() {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
        assert_eq!(names(above.path()), Vec::<String>::new(), "{place}: leavings");
    });
    assert!(acts >= 8, "too few acts were tried: {acts}");
    assert!(offered[0] >= 3 && offered[1] >= 3, "{offered:?}");
}

/// More than a hundred unanswered pieces of work are all kept: none is written over for want of
/// a name.
#[test]
fn no_work_is_written_over_for_want_of_a_name() {
    let saved = states()[0].clone();
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    save_hull(&path, &saved).expect("saved");
    for k in 1..=105 {
        let mut hull = saved.clone();
        hull.lines[1].ducks[2].z += 0.1 * f64::from(k);
        keep(&place_beside(&path), &hull, false).expect("kept");
    }
    assert_eq!(beside(&path, &saved).len(), 105);
}
