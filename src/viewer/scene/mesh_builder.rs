//! Meshes put together corner by corner in the hull's millimetres, both sides at once.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::geom::{P3, V3};
use crate::viewer::camera::world_from_hull;

/// Which face of a plank a corner is on, as the shader is told by uv.y: 0 to 1 across the
/// outer face, -2 to -1 across the inner, 3 on a sawn edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Face {
    /// The weather side.
    Outer,
    /// The boat's inside.
    Inner,
    /// Sawn.
    Edge,
}

impl Face {
    /// uv.y at share `t` across the face.
    pub(super) fn coordinate(self, t: f64) -> f64 {
        match self {
            Face::Outer => t,
            Face::Inner => t - 2.0,
            Face::Edge => 3.0,
        }
    }
}

#[derive(Default)]
pub(crate) struct Builder {
    positions: Vec<Vec3>,
    normals: Vec<Vec3>,
    uvs: Vec<Vec2>,
    indices: Vec<u32>,
}

/// A corner: place (mm), outward normal, share of the limit and place across the face.
#[derive(Clone, Copy)]
pub(crate) struct Corner {
    pub(crate) p: P3,
    pub(crate) n: V3,
    pub(crate) uv: [f64; 2],
}

impl Builder {
    fn push(&mut self, c: Corner) -> u32 {
        self.positions.push(world_from_hull(c.p));
        self.normals.push(Vec3::new(c.n.x as f32, c.n.z as f32, -c.n.y as f32));
        self.uvs.push(Vec2::new(c.uv[0] as f32, c.uv[1] as f32));
        (self.positions.len() - 1) as u32
    }

    /// A run of quads between two rows of corners; `flip` turns them over.
    pub(crate) fn ribbon(&mut self, a: &[Corner], b: &[Corner], flip: bool) {
        let first: Vec<u32> = a.iter().map(|c| self.push(*c)).collect();
        let second: Vec<u32> = b.iter().map(|c| self.push(*c)).collect();
        for k in 1..first.len().min(second.len()) {
            let (a0, a1, b0, b1) = (first[k - 1], first[k], second[k - 1], second[k]);
            let quads = if flip { [a0, a1, b0, a1, b1, b0] } else { [a0, b0, a1, a1, b0, b1] };
            self.indices.extend(quads);
        }
    }

    /// A triangle, anticlockwise seen from outside.
    pub(crate) fn triangle(&mut self, corners: [Corner; 3]) {
        let indices = corners.map(|c| self.push(c));
        self.indices.extend(indices);
    }

    pub(crate) fn finish(self) -> Mesh {
        Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
            .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, self.positions)
            .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, self.normals)
            .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, self.uvs)
            .with_inserted_indices(Indices::U32(self.indices))
    }
}

fn mirrored(c: Corner) -> Corner {
    Corner { p: P3::new(c.p.x, -c.p.y, c.p.z), n: V3::new(c.n.x, -c.n.y, c.n.z), uv: c.uv }
}

/// A ribbon and its mirror image on the port side.
pub(crate) fn both_sides(out: &mut Builder, a: &[Corner], b: &[Corner], flip: bool) {
    out.ribbon(a, b, flip);
    let (a, b): (Vec<_>, Vec<_>) =
        (a.iter().copied().map(mirrored).collect(), b.iter().copied().map(mirrored).collect());
    out.ribbon(&a, &b, !flip);
}
