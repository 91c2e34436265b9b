//! The window: the only place that knows of screens, engines and pointers.
//!
//! [`session`] holds the document and its history and applies commands; [`derive`] computes
//! the model behind the window; [`scene`] shows it in 3D; [`camera`] looks at it and
//! [`pick`] says what is under the pointer; [`ui`] reads all of it and sends commands, never
//! writing the document itself; [`desk`] deals with the system (dialogs, the pack, closing)
//! and [`prefs`] keeps what the builder prefers. [`shot`] and [`screen`] draw without a
//! window, [`pace`] measures, [`clock`] tells each frame its time, [`textures`] brings new
//! letters to the renderer in time. One frame: commands → document → derive → meshes → camera
//! → panels.

pub mod camera;
pub mod clock;
pub mod derive;
pub mod desk;
pub mod frame_parts;
pub mod pace;
pub mod paint2d;
pub mod pick;
pub mod prefs;
pub mod probe;
pub mod scene;
pub mod screen;
pub mod session;
pub mod shot;
pub mod textures;
pub mod ui;

use std::path::PathBuf;
use std::time::Duration;

use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::EguiPlugin;

use crate::hull::CheckedHull;
use crate::model::Model;
use crate::screen::NoScreen;
use crate::screen::ViewFrom;
use prefs::Prefs;
use session::Session;
use ui::state::UiState;

/// The order of work in a frame.
#[derive(SystemSet, Debug, Clone, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Commands change the document.
    Apply,
    /// The model is computed behind the window.
    Derive,
    /// Meshes follow the model.
    Sync,
    /// Camera and gizmos.
    View,
}

/// Everything of the window that needs no renderer: what tests run.
#[derive(Debug)]
pub struct CorePlugin;

impl Plugin for CorePlugin {
    fn build(&self, app: &mut App) {
        app.configure_sets(Update, (Stage::Apply, Stage::Derive, Stage::Sync, Stage::View).chain());
        app.add_plugins((session::SessionPlugin, prefs::PrefsPlugin, derive::DerivePlugin));
    }
}

/// How long a window in which nothing happens sleeps.
const ASLEEP: Duration = Duration::from_secs(600);

/// Opens the window on `hull` (read from `file`, if any) until it is closed.
///
/// # Errors
/// One line on why nothing can be shown; nothing was printed and nothing panicked.
pub fn open(hull: CheckedHull, file: Option<PathBuf>) -> Result<(), NoScreen> {
    probe::display()?;
    probe::graphics()?;
    let (prefs, wrong) = Prefs::load(prefs::place());
    let first_page = file.is_none();
    let mut session =
        Session::new(hull, file).keeping_in(&prefs::unsaved_folder()).shown_in(prefs.now.units);
    if let Some(wrong) = wrong {
        session.warn(wrong);
    }
    let state = UiState { first_page, ..default() };
    probe::quietly(move || {
        let title = format!("{} — chinewright", session.hull().name);
        let mut app = App::new();
        let window = WindowPlugin {
            primary_window: Some(Window { title, resolution: (1280, 800).into(), ..default() }),
            // Unsaved work is spoken of first.
            close_when_requested: false,
            ..default()
        };
        // A window that sleeps would not show what is ready only after it went to sleep.
        let render = RenderPlugin { synchronous_pipeline_compilation: true, ..default() };
        app.add_plugins(DefaultPlugins.set(window).set(render))
            .add_plugins(EguiPlugin::default())
            .insert_resource(WinitSettings {
                // Drawn when something happens, and not by the clock.
                focused_mode: UpdateMode::reactive_low_power(ASLEEP),
                unfocused_mode: UpdateMode::reactive_low_power(ASLEEP),
            })
            .insert_resource(session)
            .insert_resource(prefs)
            .insert_resource(state)
            .add_plugins((
                CorePlugin,
                clock::ClockPlugin,
                desk::DeskPlugin,
                scene::ScenePlugin,
                camera::CameraPlugin,
                ui::UiPlugin,
                textures::TexturesPlugin,
                pace::PacePlugin,
            ));
        app.run();
    })
}

/// Renders `model` to PNG bytes without a window.
///
/// # Errors
/// One line on why nothing can be rendered.
pub fn picture(model: &Model, view: ViewFrom, size: (u32, u32)) -> Result<Vec<u8>, NoScreen> {
    probe::graphics()?;
    shot::render(model, view, size)
}
