//! The document in hand, its history, and the commands that change it.

pub mod command;
pub mod kept;

use std::path::{Path, PathBuf};

use bevy::prelude::*;

use super::Stage;
use crate::cli::files::{load_hull, read_text, save_hull};
use crate::hull::edit::Edit;
use crate::hull::{Hull, offsets};
pub use command::Command;
use kept::left_over;
pub use kept::{LeftOver, autosave_path};

/// Steps that can be undone.
const HISTORY: usize = 200;
/// Seconds between autosaves of a changed document.
const AUTOSAVE_SECONDS: f64 = 20.0;
/// Notices kept until they are read.
const MOST_NOTICES: usize = 6;

/// One step of history: the hull before it and what it is called.
#[derive(Debug, Clone)]
struct Step {
    name: String,
    before: Hull,
}

/// Something worth telling, in a sentence.
#[derive(Debug, Clone, PartialEq)]
pub struct Notice {
    /// Counts notices.
    pub id: u64,
    /// The sentence.
    pub text: String,
    /// Something could not be done.
    pub wrong: bool,
}

/// The document in hand.
#[derive(Resource, Debug)]
pub struct Session {
    hull: Hull,
    /// As last saved or opened.
    saved: Hull,
    /// Kept by the builder to compare with.
    pinned: Option<Hull>,
    path: Option<PathBuf>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    dragging: bool,
    /// Counts every change of the document.
    revision: u64,
    notices: Vec<Notice>,
    told: u64,
    left_over: Option<LeftOver>,
    autosaved: u64,
    /// An unsaved state of this session lies beside the file.
    kept: bool,
}

impl Session {
    /// A session on `hull`, read from `path` if any.
    pub fn new(hull: Hull, path: Option<PathBuf>) -> Session {
        Session {
            left_over: left_over(path.as_deref(), &hull),
            saved: hull.clone(),
            hull,
            pinned: None,
            path,
            undo: Vec::new(),
            redo: Vec::new(),
            dragging: false,
            revision: 1,
            notices: Vec::new(),
            told: 0,
            autosaved: 1,
            kept: false,
        }
    }

    /// The document.
    pub fn hull(&self) -> &Hull {
        &self.hull
    }

    /// The document as last saved.
    pub fn saved(&self) -> &Hull {
        &self.saved
    }

    /// The shape to compare with: the pinned one, or the last saved.
    pub fn ghost(&self) -> &Hull {
        self.pinned.as_ref().unwrap_or(&self.saved)
    }

    /// Whether the builder pinned a shape.
    pub fn pinned(&self) -> bool {
        self.pinned.is_some()
    }

    /// Unsaved work found beside the document when it was opened.
    pub fn left_over(&self) -> Option<&LeftOver> {
        self.left_over.as_ref()
    }

    /// Its file.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Whether it differs from what is saved.
    pub fn changed(&self) -> bool {
        self.hull != self.saved
    }

    /// Counts every change.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// What is worth telling, oldest first.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// Names of the steps that can be undone, the next one first.
    pub fn undo_names(&self) -> impl Iterator<Item = &str> {
        self.undo.iter().rev().map(|s| s.name.as_str())
    }

    /// Names of the steps that can be done again, the next one first.
    pub fn redo_names(&self) -> impl Iterator<Item = &str> {
        self.redo.iter().rev().map(|s| s.name.as_str())
    }

    /// Carries out one command. File errors and refused edits become notices. What only the
    /// window can do (the pack, pictures, closing) is left to [`super::desk`].
    pub fn apply(&mut self, command: &Command) {
        match command {
            Command::Edit(edit) => {
                self.dragging = false;
                self.edit(edit, false, false);
            }
            Command::Drag(edit) => self.edit(edit, true, false),
            Command::DragFromStart(edit) => self.edit(edit, true, true),
            Command::DragEnd => self.dragging = false,
            Command::Undo(steps) => (0..*steps).for_each(|_| self.step_back()),
            Command::Redo(steps) => (0..*steps).for_each(|_| self.step_forward()),
            Command::Pin => {
                self.pinned = Some(self.hull.clone());
                self.tell("this shape is pinned: what you change is compared with it");
            }
            Command::Unpin => self.pinned = None,
            Command::Open(path) => self.open(path),
            Command::Start(starter) => self.replace(starter.hull(), None),
            Command::Save(path) => self.save(path.as_deref()),
            Command::TakeUp => self.take_up(),
            Command::LetGo => {
                if let Some(work) = self.left_over.take() {
                    let _ = std::fs::remove_file(work.place);
                }
            }
            Command::Tell(text) => self.tell(text),
            Command::Dismiss(id) => self.notices.retain(|n| n.id != *id),
            Command::Pack(_) | Command::Picture(_) | Command::Close => {}
        }
    }

    /// Tells the builder something.
    pub fn tell(&mut self, message: impl std::fmt::Display) {
        self.say(message, false);
    }

    /// Tells the builder what could not be done.
    pub fn warn(&mut self, message: impl std::fmt::Display) {
        self.say(message, true);
    }

    fn say(&mut self, message: impl std::fmt::Display, wrong: bool) {
        self.told += 1;
        let text = message.to_string();
        // Said again, it counts as new.
        self.notices.retain(|n| n.text != text);
        self.notices.push(Notice { id: self.told, text, wrong });
        if self.notices.len() > MOST_NOTICES {
            self.notices.remove(0);
        }
    }

    fn set(&mut self, hull: Hull) {
        self.hull = hull;
        self.revision += 1;
    }

    fn edit(&mut self, edit: &Edit, drag: bool, from_start: bool) {
        let going_on = drag && self.dragging;
        let base = match self.undo.last().filter(|_| going_on && from_start) {
            Some(step) => &step.before,
            None => &self.hull,
        };
        match edit.apply(base) {
            Ok(next) if next == self.hull => {}
            Ok(next) => {
                if going_on {
                    if let Some(step) = self.undo.last_mut().filter(|_| from_start) {
                        step.name = edit.name(&step.before);
                    }
                } else {
                    let step = Step { name: edit.name(&self.hull), before: self.hull.clone() };
                    self.undo.push(step);
                    if self.undo.len() > HISTORY {
                        self.undo.remove(0);
                    }
                    self.redo.clear();
                }
                self.dragging = drag;
                self.set(next);
            }
            // While dragging past a limit the line simply stays where it still could be.
            Err(_) if drag => {}
            Err(why) => self.warn(why),
        }
    }

    fn step_back(&mut self) {
        if let Some(step) = self.undo.pop() {
            self.redo.push(Step { name: step.name.clone(), before: self.hull.clone() });
            self.tell(format!("undone: {}", step.name));
            self.set(step.before);
        }
    }

    fn step_forward(&mut self) {
        if let Some(step) = self.redo.pop() {
            self.undo.push(Step { name: step.name.clone(), before: self.hull.clone() });
            self.tell(format!("done again: {}", step.name));
            self.set(step.before);
        }
    }

    fn open(&mut self, path: &Path) {
        if path.extension().is_some_and(|e| e.eq_ignore_ascii_case("csv")) {
            return self.import(path);
        }
        match load_hull(path) {
            Ok(hull) => {
                // What was kept beside a file bears its name with one more ending.
                let kept = path.extension().is_some_and(|e| e == "autosave");
                self.replace(hull, (!kept).then(|| path.to_path_buf()));
            }
            Err(e) => self.warn(e),
        }
    }

    /// A boat from a table of offsets; it has no document yet.
    fn import(&mut self, path: &Path) {
        let name = path.file_stem().map_or("boat".into(), |s| s.to_string_lossy().into_owned());
        let read = read_text(path).map_err(|e| e.to_string()).and_then(|text| {
            offsets::read(&text, &path.display().to_string(), &name).map_err(|e| e.to_string())
        });
        match read {
            Ok((hull, findings)) => {
                self.replace(hull, None);
                for f in findings {
                    self.tell(format!("{}: {}", f.place, f.message));
                }
            }
            Err(why) => self.warn(why),
        }
    }

    fn replace(&mut self, hull: Hull, path: Option<PathBuf>) {
        // What was there can be had back by undo.
        let name = format!("open {:?}", hull.name);
        self.undo.push(Step { name, before: self.hull.clone() });
        self.redo.clear();
        self.dragging = false;
        self.saved = hull.clone();
        self.pinned = None;
        self.left_over = left_over(path.as_deref(), &hull).filter(|_| path.is_some());
        self.kept = false;
        self.path = path;
        self.set(hull);
    }

    fn take_up(&mut self) {
        if let Some(work) = self.left_over.take() {
            let name = "take up the unsaved work".to_string();
            self.undo.push(Step { name, before: self.hull.clone() });
            self.redo.clear();
            self.kept = true;
            self.set(work.hull);
        }
    }

    fn save(&mut self, path: Option<&Path>) {
        let Some(path) = path.map(Path::to_path_buf).or_else(|| self.path.clone()) else {
            self.warn("she has no file yet: give one");
            return;
        };
        match save_hull(&path, &self.hull) {
            Ok(()) => {
                self.tell(format!("saved {}", path.display()));
                self.saved = self.hull.clone();
                let _ = std::fs::remove_file(autosave_path(Some(&path)));
                if self.kept {
                    let _ = std::fs::remove_file(autosave_path(self.path.as_deref()));
                }
                self.kept = false;
                self.left_over = None;
                self.path = Some(path);
            }
            Err(e) => self.warn(e),
        }
    }

    /// Writes the changed document beside its file, so that a crash loses seconds.
    pub fn autosave(&mut self) {
        if self.left_over.is_some() {
            // Not before the builder has said what is to become of what lies there.
            return;
        }
        let place = autosave_path(self.path.as_deref());
        if !self.changed() {
            // Undone or saved: what was kept is no longer unsaved work.
            if self.kept {
                let _ = std::fs::remove_file(place);
                self.kept = false;
            }
            return;
        }
        if self.autosaved == self.revision {
            return;
        }
        match save_hull(&place, &self.hull) {
            Ok(()) => (self.autosaved, self.kept) = (self.revision, true),
            Err(e) => self.warn(e),
        }
    }
}

/// Applies commands, in the order sent.
#[derive(Debug)]
pub struct SessionPlugin;

impl Plugin for SessionPlugin {
    fn build(&self, app: &mut App) {
        app.add_message::<Command>();
        app.add_systems(Update, (apply_commands, autosave).chain().in_set(Stage::Apply));
    }
}

pub(super) fn apply_commands(mut commands: MessageReader<Command>, mut session: ResMut<Session>) {
    for command in commands.read() {
        session.apply(command);
    }
}

fn autosave(time: Option<Res<Time<Real>>>, mut last: Local<f64>, mut session: ResMut<Session>) {
    let Some(time) = time else {
        return;
    };
    if time.elapsed_secs_f64() - *last > AUTOSAVE_SECONDS {
        *last = time.elapsed_secs_f64();
        session.bypass_change_detection().autosave();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::Duck;
    use crate::hull::starters::demonstration;

    fn move_sheer(y: f64) -> Edit {
        let hull = demonstration();
        let line = hull.lines.len() - 1;
        let to = Duck { y, ..hull.lines[line].ducks[2] };
        Edit::MoveDuck { line, duck: 2, to }
    }

    #[test]
    fn a_whole_drag_is_one_step_of_undo() {
        let hull = demonstration();
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
        use crate::hull::{Dimension, HullLines};
        let hull = demonstration();
        let mut s = Session::new(hull.clone(), None);
        let flare = Dimension::Flare;
        let now = flare.measure(&HullLines::of(&hull).expect("lines")).expect("she has flare");
        let to = |d: f64| {
            Command::DragFromStart(Edit::SetDimension { dimension: flare, value: now + d })
        };
        for d in [0.02, 0.08, -0.05, 0.04] {
            s.apply(&to(d));
        }
        s.apply(&Command::DragEnd);
        let at_once = flare.set(&hull, now + 0.04).expect("a little flare");
        assert_eq!(s.hull(), &at_once, "the way there does not matter");
        let name = s.undo_names().next().expect("one step").to_string();
        assert_eq!(name, format!("flare {:.1}°", (now + 0.04).to_degrees()));
        s.apply(&Command::Undo(1));
        assert_eq!(s.hull(), &hull);
    }

    #[test]
    fn unsaved_work_is_offered_once_and_taken_up_or_let_go() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boat.ron");
        save_hull(&path, &demonstration()).expect("a file");
        let mut s = Session::new(demonstration(), Some(path.clone()));
        s.apply(&Command::Edit(move_sheer(595.0)));
        s.autosave();
        let work = s.hull().clone();
        drop(s);
        // The program dies here; the next one finds the file as it was saved.
        let mut next = Session::new(demonstration(), Some(path.clone()));
        assert_eq!(next.left_over().map(|w| &w.hull), Some(&work));
        next.apply(&Command::Edit(move_sheer(600.0)));
        next.autosave();
        assert_eq!(next.left_over().map(|w| &w.hull), Some(&work), "not written over meanwhile");
        next.apply(&Command::TakeUp);
        assert_eq!(next.hull(), &work);
        assert!(next.changed() && next.left_over().is_none());
        let mut third = Session::new(demonstration(), Some(path.clone()));
        third.apply(&Command::LetGo);
        assert!(third.left_over().is_none() && !autosave_path(Some(&path)).exists());
    }

    #[test]
    fn a_table_of_offsets_opens_as_a_boat_without_a_file() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("from-a-plan.csv");
        let csv = crate::hull::offsets::write(&demonstration(), crate::units::Units::Mm);
        std::fs::write(&path, csv).expect("a file");
        let mut s = Session::new(demonstration(), None);
        s.apply(&Command::Open(path));
        assert_eq!((s.hull().name.as_str(), s.path()), ("from-a-plan", None));
        s.apply(&Command::Open(folder.path().join("nothing.ron")));
        assert!(s.notices().last().is_some_and(|n| n.wrong), "{:?}", s.notices());
    }

    #[test]
    fn a_refused_edit_changes_nothing_and_says_why() {
        let mut s = Session::new(demonstration(), None);
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
        let mut s = Session::new(demonstration(), None);
        s.apply(&Command::Edit(move_sheer(590.0)));
        s.apply(&Command::Save(None));
        assert!(s.changed(), "no file yet, so not saved");
        s.apply(&Command::Save(Some(path.clone())));
        assert!(!s.changed(), "{:?}", s.notices());
        let mut other = Session::new(demonstration(), None);
        other.apply(&Command::Open(path));
        assert_eq!(other.hull(), s.hull());
    }

    #[test]
    fn autosave_keeps_what_is_not_saved() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boat.ron");
        let mut s = Session::new(demonstration(), Some(path.clone()));
        s.apply(&Command::Edit(move_sheer(595.0)));
        s.autosave();
        let kept = load_hull(&autosave_path(Some(&path))).expect("an autosave");
        assert_eq!(&kept, s.hull());
        s.apply(&Command::Undo(1));
        s.autosave();
        assert!(!autosave_path(Some(&path)).exists(), "undone: nothing is unsaved");
        s.apply(&Command::Redo(1));
        s.autosave();
        assert!(autosave_path(Some(&path)).exists(), "done again");
        s.apply(&Command::Save(None));
        assert!(!autosave_path(Some(&path)).exists(), "saved: the autosave is gone");
    }
}
