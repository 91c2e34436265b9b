//! The document in hand, its history, and the commands that change it.
//!
//! [`command`] is what can be asked for, [`history`] the steps of undo, [`files`] opening
//! and saving, [`autosave`] where unsaved work lies, `net` keeps it where no frame comes.

pub mod command;
pub mod files;
pub mod history;
mod net;
#[cfg(test)]
mod tests;

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use bevy::prelude::*;
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};
use history::Step;

use crate::hull::CheckedHull;
use crate::hull::stock::SoldBy;
use crate::units::Units;
use crate::viewer::frame_order::Stage;

pub use crate::files::autosave;
pub use autosave::{LeftOver, place_beside};
pub use command::Command;

/// From a change until it is kept.
const AUTOSAVE_AFTER: Duration = Duration::from_secs(8);
/// From then until a thread keeps it without a frame.
const GRACE: Duration = Duration::from_secs(2);
/// Seconds that a notice stays; one of something that went wrong stays until it is read.
pub const NOTICE_STAYS: f64 = 7.0;
/// Notices kept until they are read.
const MOST_NOTICES: usize = 6;

/// Something worth telling, in a sentence.
#[derive(Debug, Clone, PartialEq)]
pub struct Notice {
    /// Counts notices.
    pub id: u64,
    /// The sentence.
    pub text: String,
    /// Something could not be done.
    pub wrong: bool,
    /// The file or folder that it is about: its folder can be opened.
    pub place: Option<PathBuf>,
}

/// The document in hand.
#[derive(Resource, Debug)]
pub struct Session {
    hull: CheckedHull,
    /// As last saved or opened.
    saved: CheckedHull,
    /// Kept by the builder to compare with.
    pinned: Option<CheckedHull>,
    /// The reader's units, once they were chosen; until then each boat's own.
    shown_in: Option<Units>,
    path: Option<PathBuf>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    dragging: bool,
    /// Counts every change of the document.
    revision: u64,
    /// Counts the boats that were taken in hand.
    boats: u64,
    notices: Vec<Notice>,
    told: u64,
    /// Work of earlier runs that was never saved, newest first.
    left_over: Vec<LeftOver>,
    /// Where boats without a file are kept.
    unsaved: Option<autosave::Unsaved>,
    autosaved: u64,
    /// Beside the document nothing can be written: unsaved work is kept where that of boats
    /// without a file is.
    elsewhere: bool,
    /// An unsaved state of this session is kept.
    kept: bool,
    net: net::Net,
}

impl Session {
    /// A session on `hull`, read from `path` if any.
    pub fn new(hull: CheckedHull, path: Option<PathBuf>) -> Session {
        Session {
            left_over: path.iter().flat_map(|p| autosave::beside(p, &hull)).collect(),
            saved: hull.clone(),
            hull,
            pinned: None,
            shown_in: None,
            path,
            undo: Vec::new(),
            redo: Vec::new(),
            dragging: false,
            revision: 1,
            boats: 1,
            notices: Vec::new(),
            told: 0,
            unsaved: None,
            elsewhere: false,
            autosaved: 1,
            kept: false,
            net: net::Net::default(),
        }
    }

    /// Keeps boats without a file in `folder`, and looks there for what runs that are over
    /// left behind.
    pub fn keeping_in(mut self, folder: &Path) -> Session {
        self.left_over.extend(autosave::orphans(folder));
        self.unsaved = autosave::Unsaved::in_folder(folder);
        self
    }

    /// Shows every boat in `units`, if any are named; a first one without a file is bought as
    /// who reckons in them buys.
    pub fn shown_in(mut self, units: Option<Units>) -> Session {
        if let Some(units) = units {
            self.show_in(units);
            if self.path.is_none() {
                self.hull = self.hull.sold_by(SoldBy::of(units));
                self.saved = self.hull.clone();
            }
        }
        self
    }

    /// The document.
    pub fn hull(&self) -> &CheckedHull {
        &self.hull
    }

    /// The document as last saved.
    pub fn saved(&self) -> &CheckedHull {
        &self.saved
    }

    /// The shape to compare with: the pinned one, or the last saved.
    pub fn ghost(&self) -> &CheckedHull {
        self.pinned.as_ref().unwrap_or(&self.saved)
    }

    /// Whether the builder pinned a shape.
    pub fn pinned(&self) -> bool {
        self.pinned.is_some()
    }

    /// Unsaved work of an earlier run, to be taken up or let go; the newest.
    pub fn left_over(&self) -> Option<&LeftOver> {
        self.left_over.first()
    }

    /// Its file.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Whether it differs from what is saved.
    pub fn changed(&self) -> bool {
        self.hull != self.saved
    }

    /// Whether a drag goes on.
    pub fn dragging(&self) -> bool {
        self.dragging
    }

    /// Counts every change.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Counts the boats taken in hand: another number, another boat.
    pub fn boats(&self) -> u64 {
        self.boats
    }

    /// What is worth telling, oldest first.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// Names of the steps that can be undone, the next one first.
    pub fn undo_names(&self) -> impl Iterator<Item = &str> {
        self.undo.iter().rev().map(Step::name)
    }

    /// Names of the steps that can be done again, the next one first.
    pub fn redo_names(&self) -> impl Iterator<Item = &str> {
        self.redo.iter().rev().map(Step::name)
    }

    /// Carries out one command. File errors and refused edits become notices. What only the
    /// window can do (the pack, pictures, closing) is left to [`crate::viewer::system`].
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
            Command::Start(starter) => self.begin(starter.checked()),
            Command::ShowIn(units) => self.show_in(*units),
            Command::Save(path) => self.save(path.as_deref()),
            Command::Discard => self.discard(),
            Command::TakeUp => self.take_up(),
            Command::LetGo => self.let_go(),
            Command::Dismiss(id) => self.notices.retain(|n| n.id != *id),
            Command::Close => {
                self.autosave();
            }
            Command::Pack(..) | Command::Picture(_) | Command::ShowFolder(_) => {}
        }
    }

    /// Tells the builder something.
    pub fn tell(&mut self, message: impl std::fmt::Display) {
        self.say(message, false, None);
    }

    /// Tells the builder what could not be done.
    pub fn warn(&mut self, message: impl std::fmt::Display) {
        self.say(message, true, None);
    }

    /// Tells the builder of something done at a place, whose folder can then be opened.
    pub fn tell_of(&mut self, message: impl std::fmt::Display, place: &Path) {
        self.say(message, false, Some(place.to_path_buf()));
    }

    fn say(&mut self, message: impl std::fmt::Display, wrong: bool, place: Option<PathBuf>) {
        self.told += 1;
        let text = message.to_string();
        // Said again, it counts as new.
        self.notices.retain(|n| n.text != text);
        self.notices.push(Notice { id: self.told, text, wrong, place });
        if self.notices.len() > MOST_NOTICES {
            self.notices.remove(0);
        }
    }

    /// Whether something has changed since it was last looked at for keeping.
    fn to_be_kept(&self) -> bool {
        self.autosaved != self.revision
    }

    fn set(&mut self, hull: CheckedHull) {
        self.hull = hull;
        self.revision += 1;
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

pub(crate) fn apply_commands(mut commands: MessageReader<Command>, mut session: ResMut<Session>) {
    for command in commands.read() {
        session.apply(command);
    }
}

/// Wakes the window, if it sleeps, after this time.
pub(crate) fn wake_after(wake: &EventLoopProxyWrapper, time: Duration) {
    let wake = (**wake).clone();
    std::thread::spawn(move || {
        std::thread::sleep(time);
        let _ = wake.send_event(WinitUserEvent::WakeUp);
    });
}

/// Keeps a changed document a while after it was changed, wakes the window for it if it
/// sleeps.
fn autosave(
    wake: Option<Res<EventLoopProxyWrapper>>,
    mut due: Local<Option<Instant>>,
    mut session: ResMut<Session>,
) {
    // The engine's own clock stands still while the window sleeps.
    match *due {
        None if session.to_be_kept() => {
            *due = Some(Instant::now() + AUTOSAVE_AFTER);
            session.spread_net(Instant::now() + AUTOSAVE_AFTER + GRACE);
            if let Some(wake) = wake {
                wake_after(&wake, AUTOSAVE_AFTER + Duration::from_millis(50));
            }
        }
        Some(at) if Instant::now() >= at => {
            *due = None;
            session.bypass_change_detection().autosave();
        }
        Some(at) => session.spread_net(at + GRACE),
        None => {}
    }
}
