//! The whole window without a window: panels and stage drawn into one image, for pictures
//! and for tests.

use bevy::camera::RenderTarget;
use bevy::prelude::*;
use bevy_egui::EguiPlugin;

use crate::hull::CheckedHull;
use crate::screen::NoScreen;
use crate::viewer::camera::{CameraPlugin, View};
use crate::viewer::core::CorePlugin;
use crate::viewer::derive::Derived;
use crate::viewer::prefs::{Preferences, Prefs};
use crate::viewer::scene::{ScenePlugin, StageTarget};
use crate::viewer::session::{Command, Session};
use crate::viewer::state::{Question, UiState};
use crate::viewer::stocktaking::{Stocktaking, StocktakingPlugin};
use crate::viewer::system::SystemPlugin;
use crate::viewer::textures::TexturesPlugin;
use crate::viewer::ui::UiPlugin;
use crate::viewer::yard::YardPlugin;
use crate::viewer::{probe, shot};

/// Frames after which everything that glides or is computed has come to rest.
const REST: usize = 6;
/// Frames after which a model that has not come is given up.
const MOST_FRAMES: usize = 2000;

/// A window that nobody sees.
pub struct Screen {
    app: App,
    target: Handle<Image>,
    size: (u32, u32),
}

impl Screen {
    /// A screen of `size` pixels on `hull`. Nothing glides, nothing is kept on disk.
    ///
    /// # Errors
    /// One line on why nothing can be drawn here.
    pub fn new(hull: CheckedHull, size: (u32, u32)) -> Result<Screen, NoScreen> {
        probe::graphics()?;
        let mut app = shot::engine();
        let mut prefs = Prefs::default();
        prefs.now = Preferences { motion: false, toured: true, ..Preferences::default() };
        app.add_plugins(EguiPlugin::default())
            .insert_resource(Session::new(hull, None))
            .insert_resource(prefs)
            .insert_resource(UiState::default())
            // A search that goes on would never come to rest.
            .insert_resource(Stocktaking::of_passes(1));
        let target = shot::canvas(app.world_mut(), size);
        app.insert_resource(StageTarget(RenderTarget::Image(target.clone().into())));
        app.add_plugins((
            CorePlugin,
            StocktakingPlugin,
            YardPlugin,
            SystemPlugin,
            ScenePlugin,
            CameraPlugin,
            UiPlugin,
            TexturesPlugin,
        ));
        app.finish();
        app.cleanup();
        let mut screen = Screen { app, target, size };
        screen.settle();
        Ok(screen)
    }

    /// The engine, for those who measure it.
    pub(crate) fn app(&mut self) -> &mut App {
        &mut self.app
    }

    /// Changes what the window remembers, what is preferred, and where one looks from.
    pub fn set(&mut self, change: impl FnOnce(&mut UiState, &mut Preferences, &mut View)) {
        let world = self.app.world_mut();
        let mut state = world.resource::<UiState>().clone();
        let mut prefs = world.resource::<Prefs>().now.clone();
        let mut view = *world.resource::<View>();
        change(&mut state, &mut prefs, &mut view);
        *world.resource_mut::<UiState>() = state;
        world.resource_mut::<Prefs>().now = prefs;
        *world.resource_mut::<View>() = view;
        self.settle();
    }

    /// Carries out a command.
    pub fn ask(&mut self, command: Command) {
        self.app.world_mut().write_message(command);
        self.settle();
    }

    /// Carries out a command, computes this many frames of which none is drawn, and says what
    /// is to be seen in the one after.
    ///
    /// # Errors
    /// The renderer gave no picture.
    pub fn glimpse(&mut self, command: Command, unseen: usize) -> Result<Vec<u8>, NoScreen> {
        self.app.world_mut().write_message(command);
        for _ in 0..unseen {
            self.app.main_mut().run_default_schedule();
            self.app.world_mut().clear_trackers();
        }
        self.pixels()
    }

    /// Draws frames until the model is that of the document and everything is at rest.
    fn settle(&mut self) {
        for _ in 0..MOST_FRAMES {
            self.app.update();
            let world = self.app.world();
            let derived = world.resource::<Derived>();
            let taking = world.resource::<Stocktaking>();
            let counted = world.resource::<UiState>().question != Question::Stock
                || taking.of_model(derived.count).is_some() && taking.at_rest();
            if derived.model.is_some() && !derived.old(world.resource::<Session>()) && counted {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(1));
        }
        for _ in 0..REST {
            self.app.update();
        }
    }

    /// What is to be seen, RGBA, row by row from the top.
    ///
    /// # Errors
    /// The renderer gave no picture.
    pub fn pixels(&mut self) -> Result<Vec<u8>, NoScreen> {
        shot::take(&mut self.app, &self.target)
            .ok_or_else(|| NoScreen("the renderer gave no picture".into()))
    }

    /// The same as a PNG.
    ///
    /// # Errors
    /// The renderer gave no picture.
    pub fn png(&mut self) -> Result<Vec<u8>, NoScreen> {
        let pixels = self.pixels()?;
        shot::png_of(&pixels, self.size).map_err(NoScreen)
    }
}
