//! The hull on the stage: meshes, materials, lights, floor.

pub mod mesh;
pub mod wood;

use bevy::camera::visibility::RenderLayers;
use bevy::camera::{CameraOutputMode, ClearColorConfig};
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::prelude::*;
use bevy::render::renderer::RenderAdapterInfo;
use bevy_egui::{EguiGlobalSettings, PrimaryEguiContext};

use super::Stage;
use super::camera::StageCamera;
use super::derive::Derived;
use super::ui::state::{Piece, Question, UiState};
use super::ui::style::{Theme, wood_colour};
use crate::model::Model;
use mesh::PartMesh;
use wood::{Wood, WoodLook, WoodMaterial, WoodPlugin};

/// A part of the hull on the stage.
#[derive(Component, Debug, Clone, Copy, PartialEq)]
pub struct Part(pub Piece);

/// The floor under the hull.
#[derive(Component, Debug)]
struct Floor;

/// Builds the stage and keeps it in step with the model.
#[derive(Debug)]
pub struct ScenePlugin;

impl Plugin for ScenePlugin {
    fn build(&self, app: &mut App) {
        app.add_plugins(WoodPlugin)
            .init_resource::<UiState>()
            .add_systems(Startup, (cameras, lights))
            .add_systems(
                Update,
                (
                    sync_parts.run_if(resource_changed::<Derived>),
                    sync_floor.run_if(resource_changed::<UiState>),
                    sync_looks
                        .run_if(resource_changed::<UiState>.or_else(resource_changed::<Derived>)),
                )
                    .chain()
                    .in_set(Stage::Sync),
            );
    }
}

/// The stage camera and, over the whole window, the camera of the panels.
fn cameras(mut commands: Commands, mut settings: ResMut<EguiGlobalSettings>) {
    settings.auto_create_primary_context = false;
    commands.spawn((Camera3d::default(), StageCamera, Tonemapping::None, Msaa::Sample4));
    commands.spawn((
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
}

/// Warm key high on the bow quarter, cool fill, faint light all round.
fn lights(mut commands: Commands, adapter: Option<Res<RenderAdapterInfo>>) {
    spawn_lights(&mut commands, adapter.is_none_or(|a| a.device_type != wgpu::DeviceType::Cpu));
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

/// Rebuilds meshes of the parts; entities are kept as long as their piece exists.
fn sync_parts(
    derived: Res<Derived>,
    state: Res<UiState>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut woods: ResMut<Assets<WoodMaterial>>,
    mut standard: ResMut<Assets<StandardMaterial>>,
    parts: Query<(Entity, &Part, &Mesh3d)>,
    floor: Query<Entity, With<Floor>>,
    mut shown: Local<u64>,
) {
    let Some(model) = derived.model.as_deref().filter(|_| derived.count != *shown) else {
        return;
    };
    *shown = derived.count;
    let wanted = mesh::parts(model);
    for (entity, part, _) in &parts {
        if !wanted.iter().any(|w| w.piece == part.0) {
            commands.entity(entity).despawn();
        }
    }
    for part in wanted {
        let existing = parts.iter().find(|(_, p, _)| p.0 == part.piece);
        match existing {
            Some((_, _, handle)) => {
                if let Some(mut mesh) = meshes.get_mut(&handle.0) {
                    *mesh = part.mesh;
                }
            }
            None => spawn_part(&mut commands, &mut meshes, &mut woods, part, state.theme()),
        }
    }
    // The floor follows the hull's size.
    for entity in &floor {
        commands.entity(entity).despawn();
    }
    spawn_floor(&mut commands, &mut meshes, &mut standard, model, state.theme());
}

/// Lays the floor anew when the theme changes.
fn sync_floor(
    derived: Res<Derived>,
    state: Res<UiState>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut standard: ResMut<Assets<StandardMaterial>>,
    floor: Query<Entity, With<Floor>>,
    mut laid: Local<Theme>,
) {
    let Some(model) = derived.model.as_deref().filter(|_| *laid != state.theme()) else {
        return;
    };
    *laid = state.theme();
    for entity in &floor {
        commands.entity(entity).despawn();
    }
    spawn_floor(&mut commands, &mut meshes, &mut standard, model, state.theme());
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
        extension: Wood::new(WoodLook::default()),
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
    let (low, high) = super::camera::hull_box(model);
    let floor = mesh::floor(low.min(high), low.max(high), theme);
    let material = materials.add(StandardMaterial {
        base_color: Color::WHITE,
        unlit: true,
        alpha_mode: AlphaMode::Blend,
        ..default()
    });
    commands.spawn((Mesh3d(meshes.add(floor)), MeshMaterial3d(material), Floor));
}

/// Sets which parts show their map, which is lit up, and the theme's colours.
fn sync_looks(
    state: Res<UiState>,
    parts: Query<(&Part, &MeshMaterial3d<WoodMaterial>, Entity)>,
    mut visibility: Query<&mut Visibility>,
    mut woods: ResMut<Assets<WoodMaterial>>,
    mut clear: ResMut<ClearColor>,
    mut shown: Local<Option<(Theme, Question, Option<Piece>, bool, usize)>>,
) {
    let key = (state.theme(), state.question, state.lit, state.map, parts.iter().count());
    if *shown == Some(key) {
        return;
    }
    *shown = Some(key);
    clear.0 = super::ui::style::stage_ground(state.theme());
    for (part, material, entity) in &parts {
        let look = look_of(&state, part.0);
        if let Some(mut material) = woods.get_mut(&material.0) {
            material.base.base_color = wood_colour(part.0, state.theme());
            material.extension = Wood::new(look);
        }
        if let Ok(mut v) = visibility.get_mut(entity) {
            // The bones are looked at without the skin in the way.
            let hidden = state.question == Question::Bones && matches!(part.0, Piece::Panel(_));
            *v = if hidden && state.bare { Visibility::Hidden } else { Visibility::Visible };
        }
    }
}

/// How a piece looks while a question is in hand.
pub fn look_of(state: &UiState, piece: Piece) -> WoodLook {
    let mapped = match (state.question, piece) {
        (Question::Skin, Piece::Panel(_)) | (Question::Bones, Piece::Member(_)) => state.map,
        _ => false,
    };
    WoodLook {
        map: mapped,
        grain: 1.0,
        lit: state.lit == Some(piece),
        dark: state.theme() == Theme::Dark,
    }
}
