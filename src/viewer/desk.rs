//! Between the window and the system: file dialogs, dropped files, the build pack written
//! behind the window, pictures of the window, closing.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use bevy::app::AppExit;
use bevy::prelude::*;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::tasks::futures::check_ready;
use bevy::tasks::{IoTaskPool, Task};
use bevy::window::{FileDragAndDrop, PrimaryWindow, RequestRedraw, WindowCloseRequested};
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};

use super::Stage;
use super::prefs::Prefs;
use super::session::{Command, Session, wake_after};
use super::ui::notices::NOTICE_STAYS;
use super::ui::state::{FilePurpose, Next, UiState};
use crate::cli::files::save_atomically;
use crate::drawing::compose::Paper;
use crate::hull::Hull;

/// Work going on behind the window.
#[derive(Debug)]
pub struct Job {
    /// What it is, in words.
    pub what: String,
    done: Arc<AtomicUsize>,
    of: Arc<AtomicUsize>,
    task: Task<Result<String, String>>,
}

impl Job {
    /// Share done, 0 to 1.
    pub fn share(&self) -> f32 {
        let (done, of) = (self.done.load(Ordering::Relaxed), self.of.load(Ordering::Relaxed));
        done as f32 / of.max(1) as f32
    }
}

/// What the desk is busy with.
#[derive(Resource, Default, Debug)]
pub struct Desk {
    /// The pack being written.
    pub job: Option<Job>,
    /// The window is to be closed once the pack is written.
    closing: bool,
    /// A dialog of the system that is open, and since when.
    dialog: Option<(FilePurpose, Task<Option<PathBuf>>, Instant)>,
}

impl Desk {
    /// Whether a dialog of the system is open.
    pub fn asking(&self) -> bool {
        self.dialog.is_some()
    }
}

/// Serves the window's dealings with the system.
#[derive(Debug)]
pub struct DeskPlugin;

impl Plugin for DeskPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Desk>()
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
                    dialogs,
                    finish_job,
                    go_on,
                    remember,
                    wake_for_notices,
                )
                    .chain()
                    .after(super::session::apply_commands)
                    .in_set(Stage::Apply),
            );
    }
}

/// Whether the desktop's dialog service can be asked: it is spoken to over the session bus.
pub fn desktop_dialogs() -> bool {
    !cfg!(target_os = "linux") || std::env::var_os("DBUS_SESSION_BUS_ADDRESS").is_some()
}

/// A file name of the boat's own.
pub fn stem(hull: &Hull) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    let stem: String = hull.name.chars().map(plain).collect();
    let stem = stem.trim_matches('-').to_string();
    if stem.is_empty() { "boat".into() } else { stem }
}

/// Opens the system's dialog; its answer comes in a later frame.
fn ask_system(purpose: FilePurpose, stem: &str) -> Task<Option<PathBuf>> {
    let dialog = rfd::AsyncFileDialog::new();
    let hulls = |d: rfd::AsyncFileDialog| d.add_filter("hull documents", &["ron", "autosave"]);
    match purpose {
        FilePurpose::Open => {
            let asked = hulls(dialog.set_title("Open a hull, or a table of offsets"))
                .add_filter("tables of offsets", &["csv"])
                .pick_file();
            IoTaskPool::get().spawn(async move { asked.await.map(|f| f.path().to_path_buf()) })
        }
        FilePurpose::SaveAs => {
            let name = format!("{stem}.ron");
            let asked = hulls(dialog.set_title("Save the hull")).set_file_name(name).save_file();
            IoTaskPool::get().spawn(async move { asked.await.map(|f| f.path().to_path_buf()) })
        }
        FilePurpose::Picture => {
            let asked = dialog
                .set_title("Save a picture of the window")
                .add_filter("pictures", &["png"])
                .set_file_name(format!("{stem}.png"))
                .save_file();
            IoTaskPool::get().spawn(async move { asked.await.map(|f| f.path().to_path_buf()) })
        }
        FilePurpose::Pack => {
            let asked = dialog.set_title("Write the build pack into").pick_folder();
            IoTaskPool::get().spawn(async move { asked.await.map(|f| f.path().to_path_buf()) })
        }
    }
}

/// The command that carries out a purpose with the path chosen for it.
pub fn command(purpose: FilePurpose, path: PathBuf, paper: Paper) -> Command {
    match purpose {
        FilePurpose::Open => Command::Open(path),
        FilePurpose::SaveAs => Command::Save(Some(path)),
        FilePurpose::Pack => Command::Pack(path, paper),
        FilePurpose::Picture => Command::Picture(path),
    }
}

/// A dialog that is over in less than this was never on the screen: no desktop serves it.
const NO_DIALOG: Duration = Duration::from_millis(300);

/// Opens the system's dialog that the panels asked for, and takes its answer.
fn dialogs(
    mut desk: ResMut<Desk>,
    session: Res<Session>,
    mut state: ResMut<UiState>,
    mut commands: MessageWriter<Command>,
    wake: Option<Res<EventLoopProxyWrapper>>,
) {
    if let Some(purpose) = state.asked_dialog {
        state.asked_dialog = None;
        if desk.dialog.is_none() {
            let answer = ask_system(purpose, &stem(session.hull()));
            let wake = wake.map(|w| (**w).clone());
            let waking = IoTaskPool::get().spawn(async move {
                let answer = answer.await;
                // The window sleeps while the dialog is open.
                if let Some(wake) = wake {
                    let _ = wake.send_event(WinitUserEvent::WakeUp);
                }
                answer
            });
            desk.dialog = Some((purpose, waking, Instant::now()));
        }
    }
    let Some((purpose, task, since)) = desk.bypass_change_detection().dialog.as_mut() else {
        return;
    };
    let Some(answer) = check_ready(task) else {
        return;
    };
    let (purpose, at_once) = (*purpose, since.elapsed() < NO_DIALOG);
    desk.dialog = None;
    match answer {
        Some(path) if purpose == FilePurpose::Open && session.changed() => {
            state.guard = Some(Next::Open(path));
        }
        Some(path) => {
            commands.write(command(purpose, path, state.table.paper));
        }
        None if at_once => state.path = Some((purpose, suggestion(purpose, &session))),
        // Not saved after all: what was to follow does not.
        None => state.then = None,
    }
}

/// The path that a purpose begins with, where it is typed.
pub fn suggestion(purpose: FilePurpose, session: &Session) -> String {
    let stem = stem(session.hull());
    match purpose {
        FilePurpose::Open => String::new(),
        FilePurpose::SaveAs => {
            session.path().map_or_else(|| format!("{stem}.ron"), |p| p.display().to_string())
        }
        FilePurpose::Pack => "build-pack".into(),
        FilePurpose::Picture => format!("{stem}.png"),
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
                state.dropping = false;
                if session.changed() {
                    state.guard = Some(Next::Open(path_buf.clone()));
                } else {
                    commands.write(Command::Open(path_buf.clone()));
                }
            }
            FileDragAndDrop::HoveredFile { .. } => state.dropping = true,
            FileDragAndDrop::HoveredFileCanceled { .. } => state.dropping = false,
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
        state.guard = Some(Next::Close);
    } else {
        commands.write(Command::Close);
    }
}

/// Carries out what only the window can do.
fn serve(
    mut asked: MessageReader<Command>,
    mut session: ResMut<Session>,
    mut desk: ResMut<Desk>,
    mut exit: MessageWriter<AppExit>,
    mut engine: Commands,
) {
    for command in asked.read() {
        match command {
            Command::Pack(..) if desk.job.is_some() => {
                session.warn("a build pack is being written");
            }
            Command::Pack(folder, paper) => {
                desk.job = Some(write_pack(&session, folder.clone(), *paper));
            }
            Command::Picture(path) => {
                let path = path.clone();
                engine.spawn(Screenshot::primary_window()).observe(
                    move |shot: On<ScreenshotCaptured>, mut session: ResMut<Session>| {
                        match save_picture(&shot.image, &path) {
                            Ok(()) => session.tell(format!("picture saved: {}", path.display())),
                            Err(why) => session.warn(why),
                        }
                    },
                );
            }
            Command::Close if desk.job.is_some() => {
                desk.closing = true;
                session.tell("she closes as soon as the build pack is written");
            }
            Command::Close => {
                exit.write(AppExit::Success);
            }
            _ => {}
        }
    }
}

fn save_picture(image: &Image, path: &std::path::Path) -> Result<(), String> {
    let dynamic = image.clone().try_into_dynamic().map_err(|e| e.to_string())?;
    let rgba = dynamic.to_rgba8();
    let bytes = super::shot::png_of(rgba.as_raw(), rgba.dimensions())?;
    save_atomically(path, &bytes).map_err(|e| e.to_string())
}

fn write_pack(session: &Session, folder: PathBuf, paper: Paper) -> Job {
    let hull = session.hull().clone();
    let (done, of) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicUsize::new(1)));
    let (d, o) = (done.clone(), of.clone());
    // Not among the models: those are wanted meanwhile.
    let task = IoTaskPool::get().spawn(async move {
        let model = crate::model::derive(&hull, &crate::material::Materials::shipped())
            .map_err(|_| "she cannot be computed as she is: see the findings".to_string())?;
        let step = |k: usize, all: usize, _: &str| {
            d.store(k, Ordering::Relaxed);
            o.store(all, Ordering::Relaxed);
        };
        let files = crate::cli::pack::write_pack(&model, &folder, paper, hull.units, step)
            .map_err(|e| e.to_string())?;
        Ok(format!("{} files written to {}", files.len(), folder.display()))
    });
    Job { what: "writing the build pack".into(), done, of, task }
}

fn finish_job(
    mut desk: ResMut<Desk>,
    mut session: ResMut<Session>,
    mut redraw: MessageWriter<RequestRedraw>,
    mut exit: MessageWriter<AppExit>,
) {
    let Some(job) = desk.bypass_change_detection().job.as_mut() else {
        return;
    };
    redraw.write(RequestRedraw);
    let Some(outcome) = check_ready(&mut job.task) else {
        return;
    };
    match outcome {
        Ok(text) => session.tell(text),
        Err(why) => session.warn(why),
    }
    desk.job = None;
    if desk.closing {
        exit.write(AppExit::Success);
    }
}

/// What was to follow once the work is saved; not if it could not be, or was changed.
fn go_on(
    mut commands: ParamSet<(MessageReader<Command>, MessageWriter<Command>)>,
    session: Res<Session>,
    prefs: Res<Prefs>,
    mut state: ResMut<UiState>,
) {
    let settled = commands.p0().read().fold(false, |settled, c| {
        settled
            | matches!(
                c,
                Command::Save(_) | Command::Edit(_) | Command::Drag(_) | Command::DragFromStart(_)
            )
    });
    if !settled || state.then.is_none() {
        return;
    }
    let next = state.then.take().filter(|_| !session.changed());
    if let Some(next) = next {
        commands.p1().write(next.command(prefs.now.units));
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

#[cfg(test)]
mod tests {
    use super::*;

    /// The window's systems without a window.
    fn desk(hull: Hull, file: Option<PathBuf>) -> App {
        let mut app = App::new();
        app.add_plugins(MinimalPlugins)
            .insert_resource(Session::new(hull, file))
            .add_plugins((super::super::CorePlugin, DeskPlugin));
        app.update();
        app
    }

    fn turn(app: &mut App, times: usize) {
        (0..times).for_each(|_| app.update());
    }

    fn narrower() -> Command {
        use crate::hull::Dimension;
        let edit =
            crate::hull::edit::Edit::SetDimension { dimension: Dimension::Beam, value: 1300.0 };
        Command::Edit(edit)
    }

    #[test]
    fn a_dropped_file_is_opened_unless_work_is_unsaved() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("dropped.ron");
        let other = crate::hull::starters::STARTERS[2].hull();
        crate::cli::files::save_hull(&path, &other).expect("a file");
        let drop = |app: &mut App| {
            app.world_mut().write_message(FileDragAndDrop::DroppedFile {
                window: Entity::PLACEHOLDER,
                path_buf: path.clone(),
            });
            turn(app, 3);
        };
        let mut app = desk(crate::hull::starters::demonstration(), None);
        drop(&mut app);
        assert_eq!(app.world().resource::<Session>().hull(), &other);
        let mut app = desk(crate::hull::starters::demonstration(), None);
        app.world_mut().write_message(narrower());
        turn(&mut app, 2);
        drop(&mut app);
        let (session, state) =
            (app.world().resource::<Session>(), app.world().resource::<UiState>());
        assert_eq!(session.hull().name, crate::hull::starters::demonstration().name);
        assert_eq!(state.guard, Some(Next::Open(path.clone())), "asked about first");
    }

    #[test]
    fn the_window_s_own_button_closes_only_what_is_saved() {
        let close = |app: &mut App| {
            app.world_mut().write_message(WindowCloseRequested { window: Entity::PLACEHOLDER });
            turn(app, 3);
            !app.world().resource::<Messages<AppExit>>().is_empty()
        };
        let mut app = desk(crate::hull::starters::demonstration(), None);
        assert!(close(&mut app));
        let mut app = desk(crate::hull::starters::demonstration(), None);
        app.world_mut().write_message(narrower());
        turn(&mut app, 2);
        assert!(!close(&mut app));
        assert_eq!(app.world().resource::<UiState>().guard, Some(Next::Close));
    }

    #[test]
    fn what_was_to_follow_a_save_follows_it_and_not_a_failed_one() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut app = desk(crate::hull::starters::demonstration(), None);
        app.world_mut().write_message(narrower());
        turn(&mut app, 2);
        app.world_mut().resource_mut::<UiState>().then = Some(Next::Close);
        let nowhere = folder.path().join("no/such/folder/boat.ron");
        app.world_mut().write_message(Command::Save(Some(nowhere)));
        turn(&mut app, 3);
        assert_eq!(app.world().resource::<UiState>().then, None, "it failed");
        assert!(app.world().resource::<Messages<AppExit>>().is_empty());
        app.world_mut().resource_mut::<UiState>().then = Some(Next::Close);
        app.world_mut().write_message(Command::Save(Some(folder.path().join("boat.ron"))));
        turn(&mut app, 3);
        assert!(!app.world().resource::<Messages<AppExit>>().is_empty());
    }

    #[test]
    fn the_pack_is_written_behind_the_window_and_told_of() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut app = desk(crate::hull::starters::demonstration(), None);
        let pack = Command::Pack(folder.path().to_path_buf(), Paper::Letter);
        app.world_mut().write_message(pack);
        app.update();
        let share = app.world().resource::<Desk>().job.as_ref().expect("it goes on").share();
        assert!((0.0..=1.0).contains(&share));
        for _ in 0..4000 {
            app.update();
            if app.world().resource::<Desk>().job.is_none() {
                break;
            }
            std::thread::sleep(Duration::from_millis(2));
        }
        let session = app.world().resource::<Session>();
        let told = session.notices().last().expect("it says so");
        assert!(!told.wrong && told.text.contains("files written"), "{told:?}");
        assert!(folder.path().join("patterns/side-letter.pdf").is_file());
    }

    #[test]
    fn a_boat_s_file_is_named_after_her() {
        let named = |name: &str| {
            stem(&Hull { name: name.into(), ..crate::hull::starters::demonstration() })
        };
        assert_eq!(named("Reed Warden 2"), "reed-warden-2");
        assert_eq!(named("../etc"), "etc");
        assert_eq!(named("///"), "boat");
    }
}
