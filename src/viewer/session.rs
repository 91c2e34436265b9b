//! The document in hand, its history, and the commands that change it.

use std::path::{Path, PathBuf};

use bevy::prelude::*;

use super::Stage;
use crate::cli::files::{load_hull, save_hull};
use crate::drawing::compose::Paper;
use crate::hull::Hull;
use crate::hull::edit::Edit;
use crate::hull::starters::Starter;

/// Steps that can be undone.
const HISTORY: usize = 200;
/// Seconds between autosaves of a changed document.
const AUTOSAVE_SECONDS: f64 = 20.0;

/// What the panels can ask for.
#[derive(Message, Debug, Clone)]
pub enum Command {
    /// A whole change, one step of undo.
    Edit(Edit),
    /// A change while dragging; the whole drag is one step of undo.
    Drag(Edit),
    /// The drag is over.
    DragEnd,
    /// Takes the last step back.
    Undo,
    /// Takes the last undo back.
    Redo,
    /// Opens a document.
    Open(PathBuf),
    /// Starts from a starter.
    Start(&'static Starter),
    /// Saves under the known name, or under this one.
    Save(Option<PathBuf>),
    /// Writes the build pack into this folder.
    Pack(PathBuf),
}

/// One step of history: the hull before it and what it is called.
#[derive(Debug, Clone)]
struct Step {
    name: String,
    before: Hull,
}

/// The document in hand.
#[derive(Resource, Debug)]
pub struct Session {
    hull: Hull,
    /// As last saved or opened: the ghost.
    saved: Hull,
    path: Option<PathBuf>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    dragging: bool,
    /// Counts every change of the document.
    revision: u64,
    /// The last thing worth telling, in a sentence.
    notice: Option<String>,
    autosaved: u64,
    /// An unsaved state of this session lies beside the file.
    kept: bool,
}

impl Session {
    /// A session on `hull`, read from `path` if any.
    pub fn new(hull: Hull, path: Option<PathBuf>) -> Session {
        let notice = left_over(path.as_deref());
        Session {
            saved: hull.clone(),
            hull,
            path,
            undo: Vec::new(),
            redo: Vec::new(),
            dragging: false,
            revision: 1,
            notice,
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

    /// The last thing worth telling.
    pub fn notice(&self) -> Option<&str> {
        self.notice.as_deref()
    }

    /// What undo would take back.
    pub fn undo_name(&self) -> Option<&str> {
        self.undo.last().map(|s| s.name.as_str())
    }

    /// What redo would do again.
    pub fn redo_name(&self) -> Option<&str> {
        self.redo.last().map(|s| s.name.as_str())
    }

    /// Carries out one command. File errors and refused edits become the notice.
    pub fn apply(&mut self, command: &Command) {
        match command {
            Command::Edit(edit) => {
                self.dragging = false;
                self.edit(edit, false);
            }
            Command::Drag(edit) => self.edit(edit, true),
            Command::DragEnd => self.dragging = false,
            Command::Undo => self.step_back(),
            Command::Redo => self.step_forward(),
            Command::Open(path) => match load_hull(path) {
                Ok(hull) => self.replace(hull, Some(path.clone())),
                Err(e) => self.tell(e),
            },
            Command::Start(starter) => self.replace(starter.hull(), None),
            Command::Save(path) => self.save(path.as_deref()),
            Command::Pack(folder) => self.pack(folder),
        }
    }

    fn tell(&mut self, message: impl std::fmt::Display) {
        self.notice = Some(message.to_string());
    }

    fn set(&mut self, hull: Hull) {
        self.hull = hull;
        self.revision += 1;
    }

    fn edit(&mut self, edit: &Edit, drag: bool) {
        match edit.apply(&self.hull) {
            Ok(next) if next == self.hull => {}
            Ok(next) => {
                if !(drag && self.dragging) {
                    let step = Step { name: edit.name(&self.hull), before: self.hull.clone() };
                    self.undo.push(step);
                    if self.undo.len() > HISTORY {
                        self.undo.remove(0);
                    }
                    self.redo.clear();
                }
                self.dragging = drag;
                self.notice = None;
                self.set(next);
            }
            // While dragging past a limit the line simply stays where it still could be.
            Err(_) if drag => {}
            Err(why) => self.tell(why),
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

    fn replace(&mut self, hull: Hull, path: Option<PathBuf>) {
        // What was there can be had back by undo.
        let name = format!("open {:?}", hull.name);
        self.undo.push(Step { name, before: self.hull.clone() });
        self.redo.clear();
        self.saved = hull.clone();
        self.notice = left_over(path.as_deref());
        self.kept = false;
        self.path = path;
        self.set(hull);
    }

    fn save(&mut self, path: Option<&Path>) {
        let Some(path) = path.map(Path::to_path_buf).or_else(|| self.path.clone()) else {
            self.tell("she has no file yet: give one");
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
                self.path = Some(path);
            }
            Err(e) => self.tell(e),
        }
    }

    fn pack(&mut self, folder: &Path) {
        let model = crate::model::derive(&self.hull, &crate::material::Materials::shipped());
        let Ok(model) = model else {
            self.tell("she cannot be computed as she is: see the findings");
            return;
        };
        match crate::cli::pack::write_pack(&model, folder, Paper::A4, self.hull.units, |_, _, _| {})
        {
            Ok(files) => {
                self.tell(format!("{} files written to {}", files.len(), folder.display()))
            }
            Err(e) => self.tell(e),
        }
    }

    /// Writes the changed document beside its file, so that a crash loses seconds.
    pub fn autosave(&mut self) {
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
            Err(e) => self.tell(e),
        }
    }
}

/// What to say when a document is opened beside which an unsaved state was left.
fn left_over(path: Option<&Path>) -> Option<String> {
    let kept = autosave_path(path);
    let said = format!("unsaved work was kept in {}: open it to go on from there", kept.display());
    kept.is_file().then_some(said)
}

/// Where an unsaved state is kept: `name.ron.autosave` beside the file, or in the user's
/// temporary folder for a boat without a file.
pub fn autosave_path(path: Option<&Path>) -> PathBuf {
    match path {
        Some(path) => {
            let mut name = path.as_os_str().to_os_string();
            name.push(".autosave");
            name.into()
        }
        None => std::env::temp_dir().join("chinewright-unsaved.ron.autosave"),
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

fn apply_commands(mut commands: MessageReader<Command>, mut session: ResMut<Session>) {
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
        assert_eq!(s.undo_name(), Some("move duck 3 of the sheer"));
        s.apply(&Command::Undo);
        assert_eq!(s.hull().lines[1].ducks[2].y, 600.0);
        s.apply(&Command::Undo);
        assert_eq!(s.hull(), &hull);
        assert!(!s.changed());
        s.apply(&Command::Redo);
        assert_eq!(s.hull().lines[1].ducks[2].y, 600.0);
    }

    #[test]
    fn a_refused_edit_changes_nothing_and_says_why() {
        let mut s = Session::new(demonstration(), None);
        let before = s.revision();
        s.apply(&Command::Edit(move_sheer(-5.0)));
        assert_eq!(s.revision(), before);
        assert!(s.notice().is_some_and(|n| n.contains("starboard")), "{:?}", s.notice());
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
        assert!(!s.changed(), "{:?}", s.notice());
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
        s.apply(&Command::Undo);
        s.autosave();
        assert!(!autosave_path(Some(&path)).exists(), "undone: nothing is unsaved");
        s.apply(&Command::Redo);
        s.autosave();
        assert!(autosave_path(Some(&path)).exists(), "done again");
        s.apply(&Command::Save(None));
        assert!(!autosave_path(Some(&path)).exists(), "saved: the autosave is gone");
    }
}
