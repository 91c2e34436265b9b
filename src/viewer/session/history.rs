//! The steps of undo: each a hull, and where another boat was taken in hand, whose it was.

use std::path::{Path, PathBuf};

use crate::hull::CheckedHull;
use crate::hull::edit::Edit;
use crate::units::Units;
use crate::viewer::session::Session;
use crate::words::edits::name;

/// Steps that can be undone.
const HISTORY: usize = 200;

/// What goes with a boat besides her hull.
#[derive(Debug, Clone)]
struct Whose {
    path: Option<PathBuf>,
    saved: CheckedHull,
    pinned: Option<CheckedHull>,
}

/// One step of history: the hull before it and what it is called.
#[derive(Debug, Clone)]
pub(crate) struct Step {
    name: String,
    before: CheckedHull,
    /// Where the step took another boat in hand.
    whose: Option<Whose>,
}

impl Step {
    pub(crate) fn name(&self) -> &str {
        &self.name
    }
}

impl Session {
    /// Shows every boat in `units` from now on. How she is shown is no change of hers: no
    /// step of undo, nothing unsaved, and no step gives the old units back.
    pub(crate) fn show_in(&mut self, units: Units) {
        self.shown_in = Some(units);
        if self.hull.units == units {
            return;
        }
        let shown = |hull: &mut CheckedHull| *hull = hull.clone().in_units(units);
        shown(&mut self.saved);
        self.pinned.iter_mut().for_each(shown);
        for step in self.undo.iter_mut().chain(&mut self.redo) {
            shown(&mut step.before);
            if let Some(whose) = &mut step.whose {
                shown(&mut whose.saved);
                whose.pinned.iter_mut().for_each(shown);
            }
        }
        let unkept = self.to_be_kept();
        self.set(self.hull.clone().in_units(units));
        if !unkept {
            self.autosaved = self.revision;
        }
    }

    fn whose(&self) -> Whose {
        Whose { path: self.path.clone(), saved: self.saved.clone(), pinned: self.pinned.clone() }
    }

    /// Remembers the hull as it is before a step of this name.
    pub(crate) fn remember(&mut self, name: String, other_boat: bool) {
        let whose = other_boat.then(|| self.whose());
        self.undo.push(Step { name, before: self.hull.clone(), whose });
        if self.undo.len() > HISTORY {
            self.undo.remove(0);
        }
        self.redo.clear();
        self.dragging = false;
    }

    /// Makes an edit. While dragging, all of it is one step; `from_start` makes it to the
    /// hull as it was when the drag began.
    pub(crate) fn edit(&mut self, edit: &Edit, drag: bool, from_start: bool) {
        let going_on = drag && self.dragging;
        let base = match self.undo.last().filter(|_| going_on && from_start) {
            Some(step) => &step.before,
            None => &self.hull,
        };
        match edit.apply(base) {
            Ok(next) if next == self.hull => {}
            Ok(next) => {
                if !going_on {
                    self.remember(name(edit, &self.hull), false);
                } else if let Some(step) = self.undo.last_mut().filter(|_| from_start) {
                    step.name = name(edit, &step.before);
                }
                self.dragging = drag;
                self.set(next);
            }
            // While dragging past a limit the line simply stays where it still could be.
            Err(_) if drag => {}
            Err(why) => self.warn(why.plain(self.hull.units)),
        }
    }

    pub(crate) fn step_back(&mut self) {
        if let Some(step) = self.undo.pop() {
            let back = self.exchange(step, "undone");
            self.redo.push(back);
        }
    }

    pub(crate) fn step_forward(&mut self) {
        if let Some(step) = self.redo.pop() {
            let back = self.exchange(step, "done again");
            self.undo.push(back);
        }
    }

    /// Goes to where `step` leads and gives the step that leads back.
    fn exchange(&mut self, step: Step, said: &str) -> Step {
        self.dragging = false;
        let whose = step.whose.as_ref().map(|_| self.whose());
        let back = Step { name: step.name.clone(), before: self.hull.clone(), whose };
        let mut again = String::new();
        if let Some(whose) = step.whose {
            self.drop_kept();
            (self.path, self.saved, self.pinned) = (whose.path, whose.saved, whose.pinned);
            self.boats += 1;
            // Two boats may have one name: their files tell them apart.
            again = match self.path.as_deref().and_then(Path::file_name) {
                Some(file) => format!("; in hand is {}", file.to_string_lossy()),
                None => format!("; in hand is {}, who has no file", step.before.name),
            };
        }
        // Several steps at once make one notice: of the last.
        self.notices.retain(|n| !n.text.starts_with(said));
        self.tell(format!("{said}: {}{again}", step.name));
        self.set(step.before);
        back
    }
}
