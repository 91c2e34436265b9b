//! The window: the only place that knows of screens, engines and pointers.
//!
//! [`session`] holds the document and its history and applies commands; [`derive`] computes
//! the model behind the window; [`scene`] shows it in 3D; [`camera`] looks at it; [`ui`]
//! reads all of it and sends commands, never writing the document itself; [`shot`] renders
//! without a window. One frame: commands → document → derive → meshes → camera → panels.

pub mod camera;
pub mod derive;
pub mod paint2d;
pub mod probe;
pub mod scene;
pub mod session;
pub mod shot;
pub mod ui;

use std::path::PathBuf;

use bevy::prelude::*;
use bevy::winit::WinitSettings;
use bevy_egui::EguiPlugin;

use crate::cli::job::ViewFrom;
use crate::cli::run::NoScreen;
use crate::hull::Hull;
use crate::model::Model;
use session::Session;

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
        app.add_plugins((session::SessionPlugin, derive::DerivePlugin));
    }
}

/// Opens the window on `hull` (read from `file`, if any) until it is closed.
///
/// # Errors
/// One line on why nothing can be shown; nothing was printed and nothing panicked.
pub fn open(hull: Hull, file: Option<PathBuf>) -> Result<(), NoScreen> {
    probe::display()?;
    probe::graphics()?;
    probe::quietly(move || {
        let mut app = App::new();
        app.add_plugins(DefaultPlugins.set(WindowPlugin {
            primary_window: Some(Window {
                title: format!("{} — chinewright", hull.name),
                resolution: (1280, 800).into(),
                ..default()
            }),
            ..default()
        }))
        .add_plugins(EguiPlugin::default())
        .insert_resource(WinitSettings::desktop_app())
        .insert_resource(Session::new(hull, file))
        .add_plugins((
            CorePlugin,
            scene::ScenePlugin,
            camera::CameraPlugin,
            ui::UiPlugin,
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
