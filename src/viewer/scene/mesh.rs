//! Solids as meshes for the stage: metres, y up.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::model::Model;
use crate::solid::{Solid, built};
use crate::viewer::camera::world_from_hull;
use crate::viewer::state::PartId;

/// A part's mesh and which piece it is.
#[derive(Debug, Clone)]
pub struct PartMesh {
    /// The piece.
    pub piece: PartId,
    /// Metres, y up; uv.x is the share of the bending limit, uv.y as in [`crate::solid::Face`].
    pub mesh: Mesh,
}

/// Every part of the hull that is a piece on the stage, as it stands built.
pub fn parts(model: &Model) -> Vec<PartMesh> {
    let ids = model.parts.all().iter().map(|p| p.id).filter(|id| !id.of_jig());
    let mesh = |piece| Some(PartMesh { piece, mesh: mesh(&built(model, piece)?) });
    ids.filter_map(mesh).collect()
}

/// A solid as the renderer takes it.
pub(crate) fn mesh(solid: &Solid) -> Mesh {
    let corners = &solid.corners;
    let positions: Vec<Vec3> = corners.iter().map(|c| world_from_hull(c.p)).collect();
    let normal = |n: crate::geom::V3| Vec3::new(n.x as f32, n.z as f32, -n.y as f32);
    let normals: Vec<Vec3> = corners.iter().map(|c| normal(c.n)).collect();
    let uvs: Vec<Vec2> =
        corners.iter().map(|c| Vec2::new(c.uv[0] as f32, c.uv[1] as f32)).collect();
    let indices: Vec<u32> = solid.triangles.iter().flatten().copied().collect();
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_attribute(Mesh::ATTRIBUTE_UV_0, uvs)
        .with_inserted_indices(Indices::U32(indices))
}
