//! What a frame is made of, measured: a drag drawn into an image, each part of its frames
//! timed. Used by the bench `frames`; nothing of it runs in the window.

use std::time::{Duration, Instant};

use bevy::prelude::*;
use bevy::render::render_resource::PollType;
use bevy::render::renderer::{RenderAdapterInfo, RenderDevice};

use crate::viewer::frame_order::Stage;
use crate::viewer::screen::Screen;
use crate::viewer::session::Command;

/// The parts of one frame, in the order in which they follow each other.
#[derive(Debug, Clone, Copy, Default)]
pub struct FrameParts {
    /// The command changes the document and the model is computed, as far as the frame waits
    /// for it.
    pub model: Duration,
    /// Meshes whose piece changed are made anew.
    pub meshes: Duration,
    /// Camera, panels laid out and cut into triangles, the engine's own systems.
    pub panels: Duration,
    /// What changed is handed over to the renderer.
    pub handed_over: Duration,
    /// The renderer's commands are made, and the device draws them to the end.
    pub drawn: Duration,
}

impl FrameParts {
    /// Names of the parts.
    pub const NAMES: [&'static str; 5] = ["model", "meshes", "panels", "handed over", "drawn"];

    /// The parts in the order of their names.
    pub fn each(&self) -> [Duration; 5] {
        [self.model, self.meshes, self.panels, self.handed_over, self.drawn]
    }

    /// All of it.
    pub fn whole(&self) -> Duration {
        self.each().iter().sum()
    }
}

/// When the stages of the frame in hand were over.
#[derive(Resource, Default)]
struct Over {
    model: Option<Instant>,
    meshes: Option<Instant>,
}

/// A screen whose frames are timed.
pub struct TimedScreen(Screen);

impl TimedScreen {
    /// Times the frames of `screen` from now on.
    pub fn of(mut screen: Screen) -> TimedScreen {
        let app = screen.app();
        app.init_resource::<Over>().add_systems(
            Update,
            (
                (|mut over: ResMut<Over>| over.model = Some(Instant::now()))
                    .after(Stage::Derive)
                    .before(Stage::Sync),
                (|mut over: ResMut<Over>| over.meshes = Some(Instant::now()))
                    .after(Stage::Sync)
                    .before(Stage::View),
            ),
        );
        TimedScreen(screen)
    }

    /// The device that draws, in words.
    pub fn device(&mut self) -> String {
        let info = self.0.app().world().get_resource::<RenderAdapterInfo>();
        info.map_or_else(|| "unknown".into(), |i| format!("{}, {:?}", i.name, i.backend))
    }

    /// Carries out a command and draws the frame that it makes, to the last pixel.
    pub fn frame(&mut self, command: Command) -> FrameParts {
        let app = self.0.app();
        app.world_mut().write_message(command);
        let begun = Instant::now();
        let all = app.sub_apps_mut();
        all.main.run_default_schedule();
        let laid_out = Instant::now();
        for sub in all.sub_apps.values_mut() {
            sub.extract(all.main.world_mut());
        }
        let handed_over = Instant::now();
        for sub in all.sub_apps.values_mut() {
            sub.update();
        }
        all.main.world_mut().clear_trackers();
        let device = app.world().resource::<RenderDevice>().wgpu_device().clone();
        let _ = device.poll(PollType::Wait { submission_index: None, timeout: None });
        let drawn = Instant::now();
        let over = app.world().resource::<Over>();
        let model = over.model.unwrap_or(begun);
        let meshes = over.meshes.unwrap_or(model);
        FrameParts {
            model: model - begun,
            meshes: meshes - model,
            panels: laid_out - meshes,
            handed_over: handed_over - laid_out,
            drawn: drawn - handed_over,
        }
    }
}
