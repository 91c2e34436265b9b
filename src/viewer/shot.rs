//! A picture of the hull without a window.

use std::sync::{Arc, Mutex};

use bevy::app::PluginGroup;
use bevy::asset::RenderAssetUsages;
use bevy::camera::RenderTarget;
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::render_resource::{
    Extent3d, PollType, TextureDimension, TextureFormat, TextureUsages,
};
use bevy::render::renderer::RenderDevice;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;

use crate::model::Model;
use crate::screen::{NoScreen, ViewFrom};
use crate::viewer::camera::{Orbit, hull_box};
use crate::viewer::probe::quietly;
use crate::viewer::scene::wood::{WoodMaterial, WoodPlugin};
use crate::viewer::scene::{mesh, spawn_floor, spawn_lights, spawn_part};
use crate::viewer::theme::{Theme, stage_ground};

/// Updates after which a picture that has not come is given up; it comes after three.
const MOST_UPDATES: usize = 60;

/// Renders `model` from `view` to PNG bytes of `size` pixels.
///
/// # Errors
/// One line on what went wrong in the renderer.
pub fn render(model: &Model, view: ViewFrom, size: (u32, u32)) -> Result<Vec<u8>, NoScreen> {
    let mut pixels = None;
    quietly(|| pixels = capture(model, view, size))?;
    let image = pixels.ok_or_else(|| NoScreen("the renderer gave no picture".into()))?;
    png_of(&image, size).map_err(NoScreen)
}

/// RGBA pixels as a PNG.
///
/// # Errors
/// What the encoder says.
pub fn png_of(rgba: &[u8], (width, height): (u32, u32)) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    let mut writer = encoder.write_header().map_err(|e| e.to_string())?;
    writer.write_image_data(rgba).map_err(|e| e.to_string())?;
    writer.finish().map_err(|e| e.to_string())?;
    Ok(bytes)
}

/// The engine without a window, ready for plugins.
pub(crate) fn engine() -> App {
    let mut app = App::new();
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin {
                primary_window: None,
                exit_condition: ExitCondition::DontExit,
                ..default()
            })
            .set(RenderPlugin { synchronous_pipeline_compilation: true, ..default() })
            .disable::<WinitPlugin>()
            .disable::<PipelinedRenderingPlugin>()
            .disable::<bevy::log::LogPlugin>(),
    );
    app
}

/// An image to draw into.
pub(crate) fn canvas(world: &mut World, (width, height): (u32, u32)) -> Handle<Image> {
    let mut target = Image::new_uninit(
        Extent3d { width, height, depth_or_array_layers: 1 },
        TextureDimension::D2,
        TextureFormat::Rgba8UnormSrgb,
        RenderAssetUsages::RENDER_WORLD,
    );
    target.texture_descriptor.usage |= TextureUsages::RENDER_ATTACHMENT;
    world.resource_mut::<Assets<Image>>().add(target)
}

/// What the image shows after the next frames, RGBA.
pub(crate) fn take(app: &mut App, target: &Handle<Image>) -> Option<Vec<u8>> {
    let taken: Arc<Mutex<Option<Vec<u8>>>> = Arc::default();
    let slot = taken.clone();
    app.world_mut().spawn(Screenshot::image(target.clone())).observe(
        move |shot: On<ScreenshotCaptured>| {
            if let Ok(mut slot) = slot.lock() {
                *slot = shot.image.data.clone();
            }
        },
    );
    for _ in 0..MOST_UPDATES {
        app.update();
        let device = app.world().resource::<RenderDevice>().wgpu_device().clone();
        let _ = device.poll(PollType::Wait { submission_index: None, timeout: None });
        if let Some(pixels) = taken.lock().ok()?.take() {
            return Some(pixels);
        }
    }
    None
}

/// Pixels of the stage, RGBA.
fn capture(model: &Model, view: ViewFrom, (width, height): (u32, u32)) -> Option<Vec<u8>> {
    let mut app = engine();
    app.add_plugins(WoodPlugin).insert_resource(ClearColor(stage_ground(Theme::Light)));
    app.finish();
    app.cleanup();
    let world = app.world_mut();
    let target = canvas(world, (width, height));
    let (low, high) = hull_box(model);
    let orbit = Orbit::fit(view, low, high, width as f32 / height as f32);
    world.spawn((
        Camera3d::default(),
        RenderTarget::Image(target.clone().into()),
        Tonemapping::None,
        Msaa::Sample4,
        orbit.transform(),
        orbit.projection(),
    ));
    populate(world, model);
    app.update();
    take(&mut app, &target)
}

/// Puts the hull, the lights and the floor into a world.
fn populate(world: &mut World, model: &Model) {
    use bevy::ecs::system::RunSystemOnce;
    let model = model.clone();
    let _ = world.run_system_once(
        move |mut commands: Commands,
              mut meshes: ResMut<Assets<Mesh>>,
              mut woods: ResMut<Assets<WoodMaterial>>,
              mut standard: ResMut<Assets<StandardMaterial>>| {
            spawn_lights(&mut commands, false);
            for part in mesh::parts(&model) {
                spawn_part(&mut commands, &mut meshes, &mut woods, part, Theme::Light);
            }
            spawn_floor(&mut commands, &mut meshes, &mut standard, &model, Theme::Light);
        },
    );
}
