//! The water that she is looked at in: up to a height that the builder sets, or, where it is
//! asked how she floats, as she floats in it.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::geom::plane::Plane;
use crate::geom::{P3, V3};
use crate::model::Model;
use crate::model::afloat::line_on_skin;
use crate::viewer::camera::hull_box;
use crate::viewer::derive::Derived;
use crate::viewer::prefs::Prefs;
use crate::viewer::scene::stance::{floating, stance};
use crate::viewer::scene::wood::Water;
use crate::viewer::state::{Look, Question, UiState};
use crate::viewer::theme::{Theme, water_tint};

/// The water round the hull.
#[derive(Component, Debug)]
pub(crate) struct Pool;

/// The water's level on the stage, mm; none while the sheets are off the hull.
pub(crate) fn level(state: &UiState, model: &Model) -> Option<f64> {
    if state.question == Question::Afloat {
        return floating(state, model).map(|f| f.water.plane.offset);
    }
    state
        .display
        .water
        .filter(|_| !(state.turned() || state.unfolds() && state.display.opened > 0.0))
}

/// Lays the water at its level.
pub(crate) fn water(
    derived: Res<Derived>,
    state: Res<UiState>,
    prefs: Res<Prefs>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut waters: ResMut<Assets<Water>>,
    pools: Query<Entity, With<Pool>>,
    mut laid: Local<Option<(u64, Theme, Option<f64>, Option<usize>)>>,
) {
    let Some(model) = derived.model.as_deref() else {
        return;
    };
    let level = level(&state, model).filter(|_| state.look() != Look::Lines);
    let case = (state.question == Question::Afloat).then_some(state.selection.case).flatten();
    let key = (derived.count, prefs.theme(), level, case);
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
    let outline = waterline(&state, model, level);
    let mesh = meshes.add(pool(middle, length, width, (level / 1000.0) as f32, &outline));
    let material = waters.add(Water {
        tint: water_tint(prefs.theme()),
        pool: Vec4::new(middle.x, middle.z, length, width),
    });
    commands.spawn((Mesh3d(mesh), MeshMaterial3d(material), Pool));
}

/// A place along the water's line: aft, and how far she reaches to starboard and to port
/// there, m.
type Column = [f32; 3];

/// Where the outside of the planking meets the water at `level` mm as she stands, bow to
/// stern.
fn waterline(state: &UiState, model: &Model, level: f64) -> Vec<Column> {
    let turn = stance(state, model);
    let plane =
        floating(state, model).map_or(Plane { normal: V3::z(), offset: level }, |f| f.water.plane);
    let mirrored = |v: V3| V3::new(v.x, -v.y, v.z);
    let side = |plane: Plane, port: bool| -> Vec<Vec2> {
        let place = |p: P3| if port { P3::from(mirrored(p.coords)) } else { p };
        line_on_skin(&model.panels, plane)
            .into_iter()
            .map(|p| turn * place(p))
            .map(|p| Vec2::new(p.x as f32, p.y as f32) / 1000.0)
            .collect()
    };
    let starboard = side(plane, false);
    let port = side(Plane { normal: mirrored(plane.normal), ..plane }, true);
    let at = |line: &[Vec2], x: f32| {
        let k = line.partition_point(|p| p.x < x).clamp(1, line.len().max(2) - 1);
        let (a, b) = (line.get(k - 1)?, line.get(k)?);
        let t = if b.x > a.x { ((x - a.x) / (b.x - a.x)).clamp(0.0, 1.0) } else { 0.0 };
        Some(a.lerp(*b, t).y)
    };
    let mut places: Vec<f32> = starboard.iter().chain(&port).map(|p| p.x).collect();
    places.sort_by(f32::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-4);
    places
        .into_iter()
        .filter_map(|x| {
            let (s, p) = (at(&starboard, x), at(&port, x));
            Some([x, s.or(p)?, p.or(s)?])
        })
        .collect()
}

/// The water's surface round a hull: a sheet with her own shape left out, as no water
/// stands in a sound boat.
fn pool(middle: Vec3, length: f32, width: f32, height: f32, outline: &[Column]) -> Mesh {
    let (x0, x1) = (middle.x - length, middle.x + length);
    let mut columns: Vec<Column> = vec![[x0, 0.0, 0.0]];
    if let (Some(first), Some(last)) = (outline.first(), outline.last()) {
        let closed = |c: &Column| [c[0], 0.5 * (c[1] + c[2]), 0.5 * (c[1] + c[2])];
        columns.push(closed(first));
        columns.extend(outline);
        columns.push(closed(last));
    }
    columns.push([x1, 0.0, 0.0]);
    let mut positions: Vec<Vec3> = Vec::with_capacity(4 * columns.len());
    for c in &columns {
        // Starboard is the engine's less-than-nothing z.
        for z in [-width, -c[1], -c[2], width] {
            positions.push(Vec3::new(c[0], height, middle.z + z));
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
