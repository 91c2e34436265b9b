//! The hull on the stage: meshes, materials, lights, floor, water.

pub mod floor;
pub mod mesh;
pub mod stance;
pub mod sync;
pub mod water;
pub mod wood;

use bevy::camera::visibility::RenderLayers;
use bevy::camera::{CameraOutputMode, ClearColorConfig, RenderTarget};
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::prelude::*;
use bevy::render::renderer::RenderAdapterInfo;
use bevy_egui::{EguiGlobalSettings, PrimaryEguiContext};
use mesh::PartMesh;
use wood::{Wood, WoodLook, WoodMaterial, WoodPlugin};

use crate::model::Model;
use crate::viewer::camera::{StageBox, StageCamera};
use crate::viewer::derive::Derived;
use crate::viewer::frame_order::Stage;
use crate::viewer::prefs::Prefs;
use crate::viewer::state::{PartId, UiState};
use crate::viewer::theme::{Theme, wood_colour};

/// A part of the hull on the stage.
#[derive(Component, Debug, Clone, Copy, PartialEq)]
pub struct Part(pub PartId);

/// Where the cameras draw; the window where there is none of these.
#[derive(Resource, Debug, Clone)]
pub struct StageTarget(pub RenderTarget);

/// Builds the stage and keeps it in step with the model.
#[derive(Debug)]
pub struct ScenePlugin;

impl Plugin for ScenePlugin {
    fn build(&self, app: &mut App) {
        let changed = resource_changed::<UiState>
            .or_else(resource_changed::<Derived>)
            .or_else(resource_changed::<Prefs>);
        app.add_plugins(WoodPlugin)
            .init_resource::<UiState>()
            .init_resource::<Prefs>()
            .init_resource::<StageBox>()
            .add_systems(Startup, (cameras, lights))
            .add_systems(
                Update,
                (sync::parts, sync::ground, stance::turn, water::water, sync::looks)
                    .chain()
                    .run_if(changed)
                    .in_set(Stage::Sync),
            );
    }
}

/// The stage camera and, over the whole window, the camera of the panels.
fn cameras(
    mut commands: Commands,
    mut settings: ResMut<EguiGlobalSettings>,
    target: Option<Res<StageTarget>>,
    adapter: Option<Res<RenderAdapterInfo>>,
) {
    settings.auto_create_primary_context = false;
    // Smooth edges cost a processor that draws by itself most of its time.
    let smooth = if drawn_by_processor(adapter.as_deref()) { Msaa::Off } else { Msaa::Sample4 };
    let mut stage = commands.spawn((Camera3d::default(), StageCamera, Tonemapping::None, smooth));
    if let Some(target) = &target {
        stage.insert(target.0.clone());
    }
    let mut panels = commands.spawn((
        PrimaryEguiContext,
        Camera2d,
        RenderLayers::none(),
        Camera {
            order: 1,
            output_mode: CameraOutputMode::Write {
                blend_state: Some(wgpu::BlendState::ALPHA_BLENDING),
                clear_color: ClearColorConfig::None,
            },
            clear_color: ClearColorConfig::Custom(Color::NONE),
            ..default()
        },
    ));
    if let Some(target) = &target {
        panels.insert(target.0.clone());
    }
}

/// Warm key high on the bow quarter, cool fill, faint light all round.
fn lights(mut commands: Commands, adapter: Option<Res<RenderAdapterInfo>>) {
    spawn_lights(&mut commands, !drawn_by_processor(adapter.as_deref()));
}

/// Whether there is no graphics card, and the processor draws.
fn drawn_by_processor(adapter: Option<&RenderAdapterInfo>) -> bool {
    adapter.is_some_and(|a| a.device_type == wgpu::DeviceType::Cpu)
}

/// The lights; shadows only where a graphics card pays for them.
pub fn spawn_lights(commands: &mut Commands, shadows: bool) {
    let looking =
        |x: f32, y: f32, z: f32| Transform::from_xyz(x, y, z).looking_at(Vec3::ZERO, Vec3::Y);
    commands.spawn((
        DirectionalLight {
            illuminance: 3300.0,
            color: Color::srgb(1.0, 0.96, 0.89),
            shadow_maps_enabled: shadows,
            ..default()
        },
        looking(-4.0, 7.0, 3.5),
    ));
    commands.spawn((
        DirectionalLight { illuminance: 1150.0, color: Color::srgb(0.80, 0.88, 1.0), ..default() },
        looking(3.0, 2.0, 5.0),
    ));
    commands.spawn((
        DirectionalLight { illuminance: 800.0, color: Color::srgb(0.93, 0.95, 1.0), ..default() },
        looking(2.0, -3.0, -4.0),
    ));
    commands.insert_resource(GlobalAmbientLight {
        color: Color::srgb(0.97, 0.97, 1.0),
        brightness: 560.0,
        ..default()
    });
}

/// Puts a part on the stage.
pub fn spawn_part(
    commands: &mut Commands,
    meshes: &mut Assets<Mesh>,
    woods: &mut Assets<WoodMaterial>,
    part: PartMesh,
    theme: Theme,
) {
    let material = woods.add(WoodMaterial {
        base: StandardMaterial {
            base_color: wood_colour(part.piece, theme),
            perceptual_roughness: 0.82,
            reflectance: 0.18,
            ..default()
        },
        extension: Wood::new(WoodLook { grain: 1.0, ..default() }),
    });
    commands.spawn((Mesh3d(meshes.add(part.mesh)), MeshMaterial3d(material), Part(part.piece)));
}

/// A pale floor under the lowest point, with a soft darker patch where the hull stands.
pub fn spawn_floor(
    commands: &mut Commands,
    meshes: &mut Assets<Mesh>,
    materials: &mut Assets<StandardMaterial>,
    model: &Model,
    theme: Theme,
) {
    let material = materials.add(StandardMaterial {
        base_color: Color::WHITE,
        unlit: true,
        alpha_mode: AlphaMode::Blend,
        ..default()
    });
    let floor = meshes.add(floor::floor(model, theme, floor::Stands::default()));
    commands.spawn((Mesh3d(floor), MeshMaterial3d(material), floor::Floor));
}
