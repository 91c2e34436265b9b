//! A net under keeping: where no frame comes in time (a machine that is busy elsewhere draws
//! none for minutes), a thread writes the unsaved work that it was last handed.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::sleep;
use std::time::{Duration, Instant};

use crate::hull::CheckedHull;
use crate::viewer::session::{Session, autosave};

/// How often the thread looks whether it is still needed.
const LOOKS: Duration = Duration::from_millis(500);

/// Work to be written if no frame writes it first.
#[derive(Debug)]
struct Pending {
    place: PathBuf,
    hull: CheckedHull,
    own: bool,
    revision: u64,
    at: Instant,
}

#[derive(Debug, Default)]
struct State {
    pending: Option<Pending>,
    /// What was written meanwhile, or why not, and of which revision.
    written: Option<(u64, Result<(), String>)>,
    watching: bool,
}

/// The net; its thread lives as long as there is work in it.
#[derive(Debug, Default)]
pub(crate) struct Net(Arc<Mutex<State>>);

fn locked(state: &Mutex<State>) -> MutexGuard<'_, State> {
    state.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Net {
    fn spread(&self, mut work: Pending) {
        let mut state = locked(&self.0);
        // Newer work does not put off what is due: a drag may go on for long.
        work.at = state.pending.as_ref().map_or(work.at, |p| p.at.min(work.at));
        state.pending = Some(work);
        if !std::mem::replace(&mut state.watching, true) {
            let state = self.0.clone();
            std::thread::spawn(move || watch(&state));
        }
    }

    /// Takes the work out again, and what was written of it. Nothing is being written then.
    fn take_in(&self) -> Option<(u64, Result<(), String>)> {
        let mut state = locked(&self.0);
        state.pending = None;
        state.written.take()
    }

    fn holds(&self, revision: u64) -> bool {
        locked(&self.0).pending.as_ref().is_some_and(|p| p.revision == revision)
    }
}

fn watch(state: &Mutex<State>) {
    loop {
        let mut now = locked(state);
        let Some(work) = now.pending.take() else {
            now.watching = false;
            return;
        };
        let wait = work.at.saturating_duration_since(Instant::now());
        if wait.is_zero() {
            // Under the lock: a frame that wants to write or clear it away waits so long.
            let written = autosave::keep(&work.place, &work.hull, work.own);
            now.written = Some((work.revision, written.map_err(|e| e.to_string())));
        } else {
            now.pending = Some(work);
        }
        drop(now);
        sleep(wait.min(LOOKS));
    }
}

impl Session {
    /// Hands the work to the net, to be written at `at` if no frame has done it by then.
    pub(crate) fn spread_net(&self, at: Instant) {
        if self.to_be_kept()
            && self.changed()
            && !self.net.holds(self.revision)
            && let Some(place) = self.keeping()
        {
            let own = self.own_place();
            let (hull, revision) = (self.hull.clone(), self.revision);
            self.net.spread(Pending { place, hull, own, revision, at });
        }
    }

    /// Takes in the net: what it wrote counts as kept.
    pub(crate) fn take_in_net(&mut self) {
        match self.net.take_in() {
            Some((revision, Ok(()))) => {
                self.kept = true;
                self.autosaved = revision;
            }
            Some((_, Err(why))) => self.warn(format!("unsaved work is not kept: {why}")),
            None => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::{load_hull, save_hull};
    use crate::hull::edit::Edit;
    use crate::hull::starters::{STARTERS, demonstration};
    use crate::viewer::session::command::Command;

    fn changed(name: &str) -> Command {
        Command::Edit(Edit::Rename(name.into()))
    }

    fn waited_for(mut done: impl FnMut() -> bool) -> bool {
        (0..200).any(|_| {
            sleep(Duration::from_millis(20));
            done()
        })
    }

    #[test]
    fn work_is_kept_where_no_frame_comes_and_cleared_away_when_it_is_saved() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boat.ron");
        save_hull(&path, &demonstration()).expect("a file");
        let mut s = Session::new(STARTERS[0].checked(), Some(path.clone()));
        let place = autosave::place_beside(&path);
        s.apply(&changed("first"));
        s.spread_net(Instant::now() + Duration::from_millis(100));
        s.apply(&changed("second"));
        // Put off no further by what came later.
        s.spread_net(Instant::now() + Duration::from_secs(3600));
        assert!(waited_for(|| place.is_file()), "no frame, and yet kept");
        assert!(waited_for(|| load_hull(&place).is_ok_and(|h| h.name == "second")));
        assert!(!s.autosave(), "it is kept already");
        s.apply(&changed("third"));
        assert!(s.autosave(), "and goes on being kept, over its own");
        assert_eq!(load_hull(&place).expect("kept").name, "third");
        s.apply(&Command::Save(None));
        let files = std::fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(files, 1, "the document alone is left");
    }

    #[test]
    fn what_a_frame_kept_saved_or_gave_up_is_not_written_again() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boat.ron");
        save_hull(&path, &demonstration()).expect("a file");
        let mut s = Session::new(STARTERS[0].checked(), Some(path.clone()));
        let place = autosave::place_beside(&path);
        for give_up in [Command::Save(None), Command::Undo(1), Command::Discard] {
            s.apply(&changed(&format!("before {give_up:?}")));
            s.spread_net(Instant::now() + Duration::from_millis(60));
            s.apply(&give_up);
            s.autosave();
            sleep(Duration::from_millis(400));
            assert!(!place.exists(), "{give_up:?}");
        }
    }
}
