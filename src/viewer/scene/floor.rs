//! The floor under the hull, darker where she keeps the light off it.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::model::Model;
use crate::viewer::camera::hull_box;
use crate::viewer::theme::{Theme, floor_colours};

/// The floor under the hull.
#[derive(Component, Debug)]
pub struct Floor;

/// Pieces along and across the floor.
const ALONG: usize = 56;
const ACROSS: usize = 28;
/// Over this distance (m) the shadow fades out, and it reaches this far under her edge.
const SOFT: f32 = 0.42;
const UNDER: f32 = 0.16;
/// How far (m) the floor lies under her lowest point, so that they do not flicker.
pub const GAP: f32 = 0.004;

/// What of her stands on the floor.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stands {
    /// All that lies forward of this (m) is cut away.
    pub cut: Option<f32>,
    /// The port half is left away.
    pub half: bool,
}

/// The shadow that she casts straight down: her greatest breadth at each place, softened.
pub fn floor(model: &Model, theme: Theme, stands: Stands) -> Mesh {
    let (mut low, high) = hull_box(model);
    low.x = stands.cut.map_or(low.x, |x| x.clamp(low.x, high.x - 0.01));
    let (shadow, ground) = floor_colours(theme);
    let half_breadth = breadths(model, low.x, high.x);
    let (x0, x1) = (low.x - SOFT - UNDER, high.x + SOFT + UNDER);
    let reach = high.z.max(-low.z) + SOFT + UNDER;
    let mut positions = Vec::with_capacity((ALONG + 1) * (ACROSS + 1));
    let mut colours = Vec::with_capacity(positions.capacity());
    for i in 0..=ALONG {
        let x = x0 + (x1 - x0) * i as f32 / ALONG as f32;
        let b = half_breadth(x);
        for j in 0..=ACROSS {
            let z = reach * (2.0 * j as f32 / ACROSS as f32 - 1.0);
            positions.push(Vec3::new(x, low.y - GAP, z));
            // Port is the engine's z.
            let b = if stands.half && z > 0.0 { b.min(0.0) } else { b };
            let beyond = (z.abs() - b + UNDER) / (SOFT + UNDER);
            let t = 1.0 - beyond.clamp(0.0, 1.0);
            let strength = t * t * (3.0 - 2.0 * t);
            let mix = |a: f32, b: f32| a * strength + b * (1.0 - strength);
            colours.push(std::array::from_fn::<f32, 4, _>(|c| mix(shadow[c], ground[c])));
        }
    }
    let mut indices = Vec::with_capacity(6 * ALONG * ACROSS);
    for i in 0..ALONG {
        for j in 0..ACROSS {
            let a = (i * (ACROSS + 1) + j) as u32;
            let b = a + ACROSS as u32 + 1;
            indices.extend([a, a + 1, b, a + 1, b + 1, b]);
        }
    }
    let normals = vec![Vec3::Y; positions.len()];
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, colours)
        .with_inserted_indices(Indices::U32(indices))
}

/// The greatest half-breadth (m) at a place along her; beyond her ends less than nothing.
fn breadths(model: &Model, x0: f32, x1: f32) -> impl Fn(f32) -> f32 {
    let table: Vec<f32> = (0..=ALONG)
        .map(|i| {
            let x = f64::from(x0 + (x1 - x0) * i as f32 / ALONG as f32) * 1000.0;
            let at =
                |l: &crate::hull::HullLine| l.spline.parameter_at_x(x).map(|t| l.spline.at(t).y);
            model.lines.lines.iter().filter_map(at).fold(0.0, f64::max) as f32 / 1000.0
        })
        .collect();
    move |x: f32| {
        if x < x0 {
            return table[0] - (x0 - x);
        }
        if x > x1 {
            return table[ALONG] - (x - x1);
        }
        let at = (x - x0) / (x1 - x0).max(1e-6) * ALONG as f32;
        let k = (at as usize).min(ALONG - 1);
        let share = at - k as f32;
        table[k] * (1.0 - share) + table[k + 1] * share
    }
}
