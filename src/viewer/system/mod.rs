//! Between the window and the system: file dialogs, dropped files, the build pack written
//! behind the window, pictures of the window, closing.

pub mod dialogs;
#[cfg(test)]
mod tests;

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use bevy::app::AppExit;
use bevy::prelude::*;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::tasks::futures::check_ready;
use bevy::tasks::{IoTaskPool, Task};
use bevy::window::{FileDragAndDrop, PrimaryWindow, RequestRedraw, WindowCloseRequested};
use bevy::winit::EventLoopProxyWrapper;

use crate::drawing::compose::{Extent, OnPaper, Paper};
use crate::files::{Over, save_atomically};
use crate::finding::Severity;
use crate::model::stock::{Counted, SEED, StockList, stock};
use crate::stock::nest::Effort;
use crate::viewer::derive::Derived;
use crate::viewer::frame_order::Stage;
use crate::viewer::prefs::Prefs;
use crate::viewer::session::{Command, NOTICE_STAYS, Session, wake_after};
use crate::viewer::state::UiState;
use crate::viewer::state::dialogs::{FilePurpose, Next};
use crate::viewer::stocktaking::Stocktaking;
use crate::viewer::{session, shot};

pub use dialogs::{command, desktop_dialogs, stem, suggestion};

/// Work going on behind the window.
#[derive(Debug)]
pub struct Job {
    /// The file in hand.
    file: Arc<Mutex<String>>,
    done: Arc<AtomicUsize>,
    of: Arc<AtomicUsize>,
    task: Task<Result<(String, PathBuf), String>>,
}

impl Job {
    /// What it is doing, in words.
    pub fn words(&self) -> String {
        let file = self.file.lock().map_or(String::new(), |f| f.clone());
        match file.is_empty() {
            true => "computing the build pack".into(),
            false => format!("writing {file}"),
        }
    }

    /// Share done, 0 to 1.
    pub fn share(&self) -> f32 {
        let (done, of) = (self.done.load(Ordering::Relaxed), self.of.load(Ordering::Relaxed));
        done as f32 / of.max(1) as f32
    }
}

/// What the window is busy with.
#[derive(Resource, Default, Debug)]
pub struct Busy {
    /// The pack being written.
    pub job: Option<Job>,
    /// The window is to be closed once the pack is written.
    closing: bool,
    /// A dialog of the system that is open, and since when.
    dialog: Option<(FilePurpose, Task<Option<PathBuf>>, Instant)>,
}

/// Serves the window's dealings with the system.
#[derive(Debug)]
pub struct SystemPlugin;

impl Plugin for SystemPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Busy>()
            .init_resource::<UiState>()
            .add_message::<WindowCloseRequested>()
            .add_message::<FileDragAndDrop>()
            .add_message::<AppExit>()
            .add_systems(
                Update,
                (
                    dropped,
                    close_asked,
                    serve,
                    dialogs::dialogs,
                    finish_job,
                    go_on,
                    remember,
                    wake_for_notices,
                )
                    .chain()
                    .after(session::apply_commands)
                    .in_set(Stage::Apply),
            );
    }
}

/// A file dropped on the window is opened.
fn dropped(
    mut files: MessageReader<FileDragAndDrop>,
    session: Res<Session>,
    mut state: ResMut<UiState>,
    mut commands: MessageWriter<Command>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    for file in files.read() {
        redraw.write(RequestRedraw);
        match file {
            FileDragAndDrop::DroppedFile { path_buf, .. } => {
                state.dialogs.dropping = false;
                if session.changed() {
                    state.dialogs.guard = Some(Next::Open(path_buf.clone()));
                } else {
                    commands.write(Command::Open(path_buf.clone()));
                }
            }
            FileDragAndDrop::HoveredFile { .. } => state.dialogs.dropping = true,
            FileDragAndDrop::HoveredFileCanceled { .. } => state.dialogs.dropping = false,
        }
    }
}

/// The window's own close button: not before unsaved work is spoken of.
fn close_asked(
    mut asked: MessageReader<WindowCloseRequested>,
    session: Res<Session>,
    mut state: ResMut<UiState>,
    mut commands: MessageWriter<Command>,
) {
    if asked.read().count() == 0 {
        return;
    }
    if session.changed() {
        state.dialogs.guard = Some(Next::Close);
    } else {
        commands.write(Command::Close);
    }
}

/// Carries out what only the window can do.
fn serve(
    mut asked: MessageReader<Command>,
    mut session: ResMut<Session>,
    mut busy: ResMut<Busy>,
    (derived, taking): (Option<Res<Derived>>, Option<Res<Stocktaking>>),
    mut exit: MessageWriter<AppExit>,
    mut engine: Commands,
) {
    for command in asked.read() {
        match command {
            Command::Pack(..) if busy.job.is_some() => {
                session.warn("a build pack is being written");
            }
            Command::Pack(folder, paper) => {
                // As her parts lie in the window, where they were laid for the shape in hand.
                let current = derived.as_ref().filter(|d| !d.old(&session));
                let laid = taking.as_ref().zip(current).and_then(|(t, d)| t.of_model(d.count));
                busy.job = Some(write_pack(&session, laid.cloned(), folder.clone(), *paper));
            }
            Command::Picture(path) => {
                let path = path.clone();
                engine.spawn(Screenshot::primary_window()).observe(
                    move |shot: On<ScreenshotCaptured>, mut session: ResMut<Session>| {
                        match save_picture(&shot.image, &path) {
                            Ok(()) => {
                                let whole = whole(&path);
                                let text = format!("picture saved as {}", whole.display());
                                session.tell_of(text, &whole);
                            }
                            Err(why) => session.warn(why),
                        }
                    },
                );
            }
            Command::ShowFolder(place) => {
                let folder = if place.is_dir() { Some(&**place) } else { place.parent() };
                if folder.is_none_or(|f| open::that_detached(f).is_err()) {
                    session.warn("no program here opens a folder: look for it yourself");
                }
            }
            Command::Close if busy.job.is_some() => {
                busy.closing = true;
                session.tell("she closes as soon as the build pack is written");
            }
            Command::Close => {
                exit.write(AppExit::Success);
            }
            _ => {}
        }
    }
}

/// A path that says where it is, wherever the program was started.
fn whole(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf())
}

fn save_picture(image: &Image, path: &std::path::Path) -> Result<(), String> {
    let dynamic = image.clone().try_into_dynamic().map_err(|e| e.to_string())?;
    let rgba = dynamic.to_rgba8();
    let bytes = shot::png_of(rgba.as_raw(), rgba.dimensions())?;
    save_atomically(path, &bytes).map_err(|e| e.to_string())
}

fn write_pack(
    session: &Session,
    laid: Option<Arc<StockList>>,
    folder: PathBuf,
    paper: Paper,
) -> Job {
    let hull = session.hull().clone();
    let (done, of) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicUsize::new(1)));
    let (d, o) = (done.clone(), of.clone());
    let file = Arc::new(Mutex::new(String::new()));
    let in_hand = file.clone();
    let folder = whole(&folder);
    // Not among the models: those are wanted meanwhile.
    let task = IoTaskPool::get().spawn(async move {
        let model = crate::model::derive_checked(&hull, &crate::material::Materials::shipped());
        let step = |k: usize, all: usize, name: &str| {
            d.store(k, Ordering::Relaxed);
            o.store(all, Ordering::Relaxed);
            if let Ok(mut in_hand) = in_hand.lock() {
                name.clone_into(&mut in_hand);
            }
        };
        let sheets = OnPaper { paper, units: hull.units, extent: Extent::Half };
        let list =
            laid.unwrap_or_else(|| Arc::new(stock(&model, Effort::QUICK, SEED, &mut |_, _| true)));
        let boat = Counted::with(&model, &list);
        let files = crate::pack::write_pack(boat, &hull, &folder, sheets, Over::Refuse, step)
            .map_err(|e| e.to_string())?;
        let stopped = model.findings.iter().any(|f| f.severity == Severity::Stop);
        let mind = match stopped {
            true => ". She is not to be built as she is: the head of summary.txt says why",
            false => "",
        };
        Ok((format!("{} files written to {}{mind}", files.len(), folder.display()), folder))
    });
    Job { file, done, of, task }
}

fn finish_job(
    mut busy: ResMut<Busy>,
    mut session: ResMut<Session>,
    mut redraw: MessageWriter<RequestRedraw>,
    mut exit: MessageWriter<AppExit>,
) {
    let Some(job) = busy.bypass_change_detection().job.as_mut() else {
        return;
    };
    redraw.write(RequestRedraw);
    let Some(outcome) = check_ready(&mut job.task) else {
        return;
    };
    match outcome {
        Ok((text, folder)) => session.tell_of(text, &folder),
        Err(why) => session.warn(why),
    }
    busy.job = None;
    if busy.closing {
        exit.write(AppExit::Success);
    }
}

/// What was to follow once the work is saved; not if it could not be, or was changed.
fn go_on(
    mut commands: ParamSet<(MessageReader<Command>, MessageWriter<Command>)>,
    session: Res<Session>,
    mut state: ResMut<UiState>,
) {
    let settled = commands.p0().read().fold(false, |settled, c| {
        settled
            | matches!(
                c,
                Command::Save(_) | Command::Edit(_) | Command::Drag(_) | Command::DragFromStart(_)
            )
    });
    if !settled || state.dialogs.then.is_none() {
        return;
    }
    let next = state.dialogs.then.take().filter(|_| !session.changed());
    if let Some(next) = next {
        commands.p1().write(next.command());
    }
}

/// A notice goes by itself: the window has to be awake then.
fn wake_for_notices(
    session: Res<Session>,
    wake: Option<Res<EventLoopProxyWrapper>>,
    mut last: Local<u64>,
) {
    let newest = session.notices().last().map_or(0, |n| n.id);
    if let Some(wake) = wake.filter(|_| newest > *last) {
        *last = newest;
        wake_after(&wake, Duration::from_secs_f64(NOTICE_STAYS + 0.3));
    }
}

/// Recent documents, and the window's title.
fn remember(
    session: Res<Session>,
    mut prefs: ResMut<Prefs>,
    mut window: Query<&mut Window, With<PrimaryWindow>>,
    mut known: Local<(Option<PathBuf>, String)>,
) {
    if let Some(path) = session.path().filter(|p| known.0.as_deref() != Some(*p)) {
        known.0 = Some(path.to_path_buf());
        prefs.now.remember(path);
    }
    let mark = if session.changed() { ", not saved" } else { "" };
    let title = format!("{}{mark} — chinewright", session.hull().name);
    if known.1 != title {
        if let Ok(mut window) = window.single_mut() {
            window.title.clone_from(&title);
        }
        known.1 = title;
    }
}
