//! The water that she is looked at in, up to a height that the builder sets.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use super::wood::Water;
use crate::geom::plane::Plane;
use crate::geom::{P3, V3};
use crate::model::Model;
use crate::panel::section;
use crate::viewer::camera::hull_box;
use crate::viewer::derive::Derived;
use crate::viewer::prefs::Prefs;
use crate::viewer::ui::state::{Look, UiState};
use crate::viewer::ui::style::{Theme, water_tint};

/// The water round the hull.
#[derive(Component, Debug)]
pub(super) struct Pool;

/// The water's level, mm; none while the sheets are off the hull.
pub(super) fn level(state: &UiState) -> Option<f64> {
    state.water.filter(|_| !(state.turned() || state.unfolds() && state.opened > 0.0))
}

/// Lays the water at its level.
pub(super) fn water(
    derived: Res<Derived>,
    state: Res<UiState>,
    prefs: Res<Prefs>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut waters: ResMut<Assets<Water>>,
    pools: Query<Entity, With<Pool>>,
    mut laid: Local<Option<(u64, Theme, Option<f64>)>>,
) {
    let Some(model) = derived.model.as_deref() else {
        return;
    };
    let level = level(&state).filter(|_| state.look() != Look::Lines);
    let key = (derived.count, prefs.theme(), level);
    if *laid == Some(key) {
        return;
    }
    *laid = Some(key);
    for pool in &pools {
        commands.entity(pool).despawn();
    }
    let Some(level) = level else {
        return;
    };
    let (low, high) = hull_box(model);
    let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
    let (length, width) = (half.x * 1.9, half.z * 1.9 + 0.5 * half.x);
    let outline = waterline(model, level);
    let mesh = meshes.add(pool(middle, length, width, (level / 1000.0) as f32, &outline));
    let material = waters.add(Water {
        tint: water_tint(prefs.theme()),
        pool: Vec4::new(middle.x, middle.z, length, width),
    });
    commands.spawn((Mesh3d(mesh), MeshMaterial3d(material), Pool));
}

/// Where the skin meets the water at `level` mm: (aft, out) in metres, bow to stern, on the
/// outside of the planking.
fn waterline(model: &Model, level: f64) -> Vec<Vec2> {
    let Some(plane) = Plane::through(P3::new(0.0, 0.0, level), V3::z()) else {
        return Vec::new();
    };
    let metres = |p: P3| Vec2::new(p.x as f32, p.y as f32) / 1000.0;
    let mut points: Vec<Vec2> = model
        .panels
        .iter()
        .flat_map(|p| section(&p.surface, plane, p.thickness))
        .map(metres)
        .collect();
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    points
}

/// The water's surface round a hull: a sheet with her own shape left out, as no water
/// stands in a sound boat.
fn pool(middle: Vec3, length: f32, width: f32, height: f32, outline: &[Vec2]) -> Mesh {
    let (x0, x1) = (middle.x - length, middle.x + length);
    let mut columns: Vec<Vec2> = vec![Vec2::new(x0, 0.0)];
    if let (Some(first), Some(last)) = (outline.first(), outline.last()) {
        columns.push(Vec2::new(first.x, 0.0));
        columns.extend(outline);
        columns.push(Vec2::new(last.x, 0.0));
    }
    columns.push(Vec2::new(x1, 0.0));
    let mut positions: Vec<Vec3> = Vec::with_capacity(4 * columns.len());
    for c in &columns {
        for z in [-width, -c.y, c.y, width] {
            positions.push(Vec3::new(c.x, height, middle.z + z));
        }
    }
    let mut indices = Vec::with_capacity(12 * columns.len());
    for k in 1..columns.len() as u32 {
        for row in [0, 2] {
            let (a, b) = (4 * (k - 1) + row, 4 * k + row);
            indices.extend([a, a + 1, b, a + 1, b + 1, b]);
        }
    }
    let normals = vec![Vec3::Y; positions.len()];
    let uvs = vec![Vec2::ZERO; positions.len()];
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, uvs)
        .with_inserted_indices(Indices::U32(indices))
}
