//! Opening, saving, and keeping what is not saved.

use std::path::{Path, PathBuf};

use crate::files::import::import;
use crate::files::{load_hull, save_hull};
use crate::hull::CheckedHull;
use crate::hull::stock::SoldBy;
use crate::viewer::session::{Session, autosave};
use crate::words::finding::said;

impl Session {
    pub(crate) fn open(&mut self, path: &Path) {
        if path.extension().is_some_and(|e| e.eq_ignore_ascii_case("csv")) {
            return self.import(path);
        }
        match load_hull(path) {
            Ok(hull) => {
                // What was kept of a boat is no document to save over.
                let kept = autosave::is_kept(path);
                self.replace(hull, (!kept).then(|| path.to_path_buf()));
            }
            Err(e) => self.stay(e),
        }
    }

    /// What was to be opened cannot be: the boat in hand stays, and is kept again.
    fn stay(&mut self, why: impl std::fmt::Display) {
        self.warn(why);
        self.autosaved = 0;
    }

    /// A boat from a table of offsets; it has no document yet.
    fn import(&mut self, path: &Path) {
        match import(path, None) {
            Ok((hull, findings)) => {
                let units = hull.units;
                self.begin(hull);
                for f in findings {
                    let said = said(&f, units);
                    self.tell(format!("{}: {}", said.place, said.message));
                }
            }
            Err(why) => self.stay(why),
        }
    }

    /// Takes a new boat in hand: she is bought where her builder buys.
    pub(crate) fn begin(&mut self, hull: CheckedHull) {
        let sizes = SoldBy::of(self.shown_in.unwrap_or(hull.units));
        self.replace(hull.sold_by(sizes), None);
    }

    /// Takes another boat in hand; undo gives the one before back, file and all.
    pub(crate) fn replace(&mut self, hull: CheckedHull, path: Option<PathBuf>) {
        self.drop_kept();
        let what = match path.as_deref().and_then(Path::file_name) {
            Some(file) => format!("opening {}", file.to_string_lossy()),
            None => format!("starting {:?}", hull.name),
        };
        self.remember(what, true);
        self.left_over.splice(0..0, path.iter().flat_map(|p| autosave::beside(p, &hull)));
        let units = self.shown_in.unwrap_or(hull.units);
        let hull = hull.in_units(units);
        self.saved = hull.clone();
        self.pinned = None;
        self.path = path;
        self.elsewhere = false;
        self.boats += 1;
        self.set(hull);
    }

    pub(crate) fn save(&mut self, path: Option<&Path>) {
        let Some(path) = path.map(Path::to_path_buf).or_else(|| self.path.clone()) else {
            self.warn("she has no file yet: give one");
            return;
        };
        match save_hull(&path, &self.hull) {
            Ok(()) => {
                let whole = std::path::absolute(&path).unwrap_or_else(|_| path.clone());
                self.tell_of(format!("saved as {}", whole.display()), &whole);
                self.saved = self.hull.clone();
                self.drop_kept();
                self.path = Some(path);
                self.elsewhere = false;
            }
            Err(e) => self.warn(e),
        }
    }

    /// Where this session's unsaved state is kept.
    pub(crate) fn keeping(&self) -> Option<PathBuf> {
        match &self.path {
            Some(path) if !self.elsewhere => Some(autosave::place_beside(path)),
            _ => self.unsaved.as_ref().map(|u| u.place().to_path_buf()),
        }
    }

    /// Whether what lies at that place can only be this run's own.
    pub(crate) fn own_place(&self) -> bool {
        self.kept || self.path.is_none() || self.elsewhere
    }

    /// What was kept of this session is no longer unsaved work.
    pub(crate) fn drop_kept(&mut self) {
        self.take_in_net();
        if self.kept {
            if let Some(place) = self.keeping() {
                autosave::forget(&place);
            }
            self.kept = false;
        }
    }

    /// The builder goes on without saving.
    pub(crate) fn discard(&mut self) {
        self.drop_kept();
        // Kept again only if it is changed again.
        self.autosaved = self.revision;
    }

    /// Takes up the work that was left over, as a change to be saved or undone.
    pub(crate) fn take_up(&mut self) {
        if self.left_over.is_empty() {
            return;
        }
        let work = self.left_over.remove(0);
        // Beside a document it is a change of hers; without one it is a boat of its own.
        if work.of.is_some() && work.of == self.path {
            self.remember("take up the unsaved work".into(), false);
            let units = self.hull.units;
            self.set(work.hull.in_units(units));
        } else {
            self.replace(work.hull, None);
            if let Some(of) = work.of.filter(|p| p.is_file()) {
                if let Ok(saved) = load_hull(&of) {
                    self.saved = saved.in_units(self.hull.units);
                }
                self.path = Some(of);
            } else {
                // Never saved: so it differs from anything that is.
                let name = format!("{} (not saved)", self.saved.name);
                self.saved = self.saved.clone().called(name);
            }
        }
        if self.autosave() {
            autosave::remove(&work.place);
        }
    }

    pub(crate) fn let_go(&mut self) {
        if !self.left_over.is_empty() {
            autosave::remove(&self.left_over.remove(0).place);
        }
    }

    /// Writes the changed document to where it is kept, so that a crash loses seconds.
    /// Whether anything was written.
    pub fn autosave(&mut self) -> bool {
        self.take_in_net();
        if !self.changed() {
            // Undone or saved.
            self.drop_kept();
            self.autosaved = self.revision;
            return false;
        }
        if self.autosaved == self.revision {
            return false;
        }
        self.autosaved = self.revision;
        let Some(place) = self.keeping() else {
            return false;
        };
        // The place of a boat without a file is this run's own.
        match autosave::keep(&place, &self.hull, self.own_place()) {
            Ok(()) => {
                self.kept = true;
                true
            }
            Err(_) if self.path.is_some() && !self.elsewhere && self.unsaved.is_some() => {
                self.elsewhere = true;
                self.autosaved = 0;
                self.autosave()
            }
            Err(e) => {
                self.warn(format!("unsaved work is not kept: {e}"));
                false
            }
        }
    }
}
