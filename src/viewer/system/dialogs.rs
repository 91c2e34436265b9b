//! Asking for a path: the system's own dialog, or a hint that there is none.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use bevy::prelude::*;
use bevy::tasks::futures::check_ready;
use bevy::tasks::{IoTaskPool, Task};
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};

use crate::drawing::compose::Paper;
use crate::hull::Hull;
use crate::viewer::session::{Command, Session};
use crate::viewer::state::UiState;
use crate::viewer::state::dialogs::{FilePurpose, Next};
use crate::viewer::system::Busy;

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
pub(crate) fn dialogs(
    mut busy: ResMut<Busy>,
    session: Res<Session>,
    mut state: ResMut<UiState>,
    mut commands: MessageWriter<Command>,
    wake: Option<Res<EventLoopProxyWrapper>>,
) {
    if let Some(purpose) = state.dialogs.asked_dialog {
        state.dialogs.asked_dialog = None;
        if busy.dialog.is_none() {
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
            busy.dialog = Some((purpose, waking, Instant::now()));
        }
    }
    let Some((purpose, task, since)) = busy.bypass_change_detection().dialog.as_mut() else {
        return;
    };
    let Some(answer) = check_ready(task) else {
        return;
    };
    let (purpose, at_once) = (*purpose, since.elapsed() < NO_DIALOG);
    busy.dialog = None;
    match answer {
        Some(path) if purpose == FilePurpose::Open && session.changed() => {
            state.dialogs.guard = Some(Next::Open(path));
        }
        Some(path) => {
            commands.write(command(purpose, path, state.table.paper));
        }
        None if at_once => state.dialogs.path = Some((purpose, suggestion(purpose, &session))),
        // Not saved after all: what was to follow does not.
        None => state.dialogs.then = None,
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
