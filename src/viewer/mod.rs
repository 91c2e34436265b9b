//! The window: the only place that knows of screens, engines and pointers.
//!
//! From the ground up, and no module names one that stands after it
//! (`tests/it/layers_viewer.rs`): [`frame_order`] is the order of work in a frame, [`probe`]
//! asks for a screen, [`clock`] tells each frame its time, [`late_frames`] spreads what came at
//! once, [`textures`] brings new letters to the renderer in time, [`first_size`] fits the window to
//! its screen, [`paint2d`] paints drawings;
//! [`theme`] is every colour and size; [`session`] holds the document and its history and
//! applies commands; [`prefs`] keeps what the builder prefers and [`state`] what the window
//! remembers; [`derive`] computes the model behind the window, [`search`] what takes longer: [`stocktaking`] what she is cut from,
//! [`yard`] the cheapest boat of what the yard has, and [`core`] is all that needs no renderer; [`camera`] looks at the hull and [`pick`] says what is under the pointer;
//! [`drawings_on_show`] are the drawings of what is in hand; [`scene`] shows the hull in 3D;
//! [`shot`] draws her without a window; [`system`] deals with dialogs, the pack and closing;
//! [`ui`] reads all of it and sends commands, never writing the document itself. [`screen`] is
//! the whole window drawn into an image; [`frame_times`] and [`frame_parts`] measure. One
//! frame: commands → document → derive → meshes → camera → panels.

pub mod camera;
pub mod clock;
pub mod core;
pub mod derive;
pub mod drawings_on_show;
pub mod first_size;
pub mod frame_order;
pub mod frame_parts;
pub mod frame_times;
pub mod late_frames;
pub mod paint2d;
pub mod pick;
pub mod prefs;
pub mod probe;
pub mod scene;
pub mod screen;
pub mod search;
pub mod session;
pub mod shot;
pub mod state;
pub mod stocktaking;
pub mod system;
pub mod textures;
pub mod theme;
pub mod ui;
pub mod yard;

use std::path::PathBuf;
use std::time::Duration;

use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::EguiPlugin;
use prefs::Prefs;
use session::Session;
use state::UiState;
use state::dialogs::Dialogs;

use crate::hull::CheckedHull;
use crate::model::Model;
use crate::screen::{NoScreen, ViewFrom};
use crate::viewer::core::CorePlugin;

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
    let state = UiState { dialogs: Dialogs { first_page, ..default() }, ..default() };
    probe::quietly(move || {
        let title = format!("{} — chinewright", session.hull().name);
        let mut app = App::new();
        let window = WindowPlugin {
            primary_window: Some(Window {
                title,
                resolution: first_size::MEANT.into(),
                ..default()
            }),
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
                (CorePlugin, stocktaking::StocktakingPlugin, yard::YardPlugin),
                clock::ClockPlugin,
                (late_frames::LateFramesPlugin, first_size::FirstSizePlugin),
                system::SystemPlugin,
                scene::ScenePlugin,
                camera::CameraPlugin,
                ui::UiPlugin,
                textures::TexturesPlugin,
                frame_times::FrameTimesPlugin,
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
