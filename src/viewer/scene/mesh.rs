//! From the model to meshes for the stage: planks with their thickness, members, transom.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::bend::BentMember;
use crate::geom::{P3, V3};
use crate::model::Model;
use crate::part::LineId;
use crate::viewer::camera::world_from_hull;
use crate::viewer::ui::state::{AtEnd, FrameId, MemberId, PanelId, PartId};

use super::bones;
use super::panel::panel;

/// A part's mesh and which piece it is.
#[derive(Debug, Clone)]
pub struct PartMesh {
    /// The piece.
    pub piece: PartId,
    /// Metres, y up; uv.x is the share of the bending limit, uv.y as in [`Face`].
    pub mesh: Mesh,
}

/// Which face of a plank a corner is on, as the shader is told by uv.y: 0 to 1 across the
/// outer face, -2 to -1 across the inner, 3 on a sawn edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The weather side.
    Outer,
    /// The boat's inside.
    Inner,
    /// Sawn.
    Edge,
}

impl Face {
    /// uv.y at share `t` across the face.
    pub fn coordinate(self, t: f64) -> f64 {
        match self {
            Face::Outer => t,
            Face::Inner => t - 2.0,
            Face::Edge => 3.0,
        }
    }
}

#[derive(Default)]
pub(super) struct Builder {
    positions: Vec<Vec3>,
    normals: Vec<Vec3>,
    uvs: Vec<Vec2>,
    indices: Vec<u32>,
}

/// A corner: place (mm), outward normal, share of the limit and place across the face.
#[derive(Clone, Copy)]
pub(super) struct Corner {
    pub(super) p: P3,
    pub(super) n: V3,
    pub(super) uv: [f64; 2],
}

impl Builder {
    fn push(&mut self, c: Corner) -> u32 {
        self.positions.push(world_from_hull(c.p));
        self.normals.push(Vec3::new(c.n.x as f32, c.n.z as f32, -c.n.y as f32));
        self.uvs.push(Vec2::new(c.uv[0] as f32, c.uv[1] as f32));
        (self.positions.len() - 1) as u32
    }

    /// A run of quads between two rows of corners; `flip` turns them over.
    fn ribbon(&mut self, a: &[Corner], b: &[Corner], flip: bool) {
        let first: Vec<u32> = a.iter().map(|c| self.push(*c)).collect();
        let second: Vec<u32> = b.iter().map(|c| self.push(*c)).collect();
        for k in 1..first.len().min(second.len()) {
            let (a0, a1, b0, b1) = (first[k - 1], first[k], second[k - 1], second[k]);
            let quads = if flip { [a0, a1, b0, a1, b1, b0] } else { [a0, b0, a1, a1, b0, b1] };
            self.indices.extend(quads);
        }
    }

    /// A triangle, anticlockwise seen from outside.
    pub(super) fn triangle(&mut self, corners: [Corner; 3]) {
        let indices = corners.map(|c| self.push(c));
        self.indices.extend(indices);
    }

    pub(super) fn finish(self) -> Mesh {
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
pub(super) fn both_sides(out: &mut Builder, a: &[Corner], b: &[Corner], flip: bool) {
    out.ribbon(a, b, flip);
    let (a, b): (Vec<_>, Vec<_>) =
        (a.iter().copied().map(mirrored).collect(), b.iter().copied().map(mirrored).collect());
    out.ribbon(&a, &b, !flip);
}

/// Every part of the hull that is a piece on the stage, as it stands built.
pub fn parts(model: &Model) -> Vec<PartMesh> {
    let ids = model.parts.all().iter().map(|p| p.id).filter(|id| !id.of_jig());
    ids.filter_map(|piece| Some(PartMesh { piece, mesh: built(model, piece)? })).collect()
}

/// A piece as it stands built; `None` for what is shown with another, and for what the hull no
/// longer has.
pub(super) fn built(model: &Model, piece: PartId) -> Option<Mesh> {
    let (hull, work) = (&model.hull, &model.woodwork);
    Some(match piece {
        PartId::Panel(PanelId(i)) => panel(model.panels.get(i)?, 0.0, None),
        PartId::Member(MemberId(i)) => member(model, model.members.get(i)?),
        PartId::Transom(AtEnd::Stern) => {
            bones::transom(hull, work.transom.as_ref()?, work.knee.as_ref())
        }
        PartId::Transom(AtEnd::Bow) => bones::transom(hull, work.bow_transom.as_ref()?, None),
        PartId::Frame(FrameId(i)) => bones::frame(hull, work.frames.get(i)?),
        PartId::Spall(FrameId(i)) => bones::spall(hull, work.frames.get(i)?),
        PartId::Stem(AtEnd::Bow) => bones::stem(hull, work.stem.as_ref()?),
        PartId::Stem(AtEnd::Stern) => bones::stem(hull, work.sternpost.as_ref()?),
        PartId::Ladder => bones::rails(work.strongback.as_ref()?),
        PartId::Legs => bones::legs(work.strongback.as_ref()?),
        _ => return None,
    })
}

/// A member as a bar swept along its line on the skin, both sides of the boat unless it
/// lies on the centreplane.
pub fn member(model: &Model, bent: &BentMember) -> Mesh {
    let m = &bent.member;
    let mut out = Builder::default();
    let breaking = bent.limit.breaking.max(1e-9);
    let on_keel = m.follows(LineId::Keel);
    let ([from, to], [inner, outer]) = (bent.width(), bent.depth());
    let row = |depth: f64, width: f64, n: fn(V3, V3) -> V3| -> Vec<Corner> {
        bent.along
            .iter()
            .filter(|a| !on_keel || room_at(model, a.point.x) >= 0.5 * m.sided_mm)
            .map(|a| {
                let up = a.up();
                Corner {
                    p: a.seat + depth * a.outward + width * up,
                    n: n(a.outward, up),
                    uv: [a.strain / breaking, Face::Inner.coordinate(0.5)],
                }
            })
            .collect()
    };
    let faces: [(f64, f64, f64, f64, fn(V3, V3) -> V3); 4] = [
        (outer, from, outer, to, |n, _| n),
        (inner, to, inner, from, |n, _| -n),
        (outer, to, inner, to, |_, up| up),
        (inner, from, outer, from, |_, up| -up),
    ];
    for (d0, w0, d1, w1, n) in faces {
        let (a, b) = (row(d0, w0, n), row(d1, w1, n));
        if on_keel {
            out.ribbon(&a, &b, false);
        } else {
            both_sides(&mut out, &a, &b, false);
        }
    }
    out.finish()
}

/// Half-breadth (mm) of the line above the keel at `x`: a keelson ends where the bottom
/// grows narrower than it.
fn room_at(model: &Model, x: f64) -> f64 {
    let above = &model.lines.lines[1].spline;
    above.parameter_at_x(x).map_or(0.0, |t| above.at(t).y)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;

    #[test]
    fn every_face_is_wound_the_way_its_normals_point() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            for part in parts(&model) {
                let mesh = part.mesh;
                let get = |a| match mesh.attribute(a) {
                    Some(bevy::mesh::VertexAttributeValues::Float32x3(v)) => v.clone(),
                    _ => panic!("three floats a vertex"),
                };
                let (p, n) = (get(Mesh::ATTRIBUTE_POSITION), get(Mesh::ATTRIBUTE_NORMAL));
                let at = |v: &[[f32; 3]], i: usize| Vec3::from(v[i]);
                let indices: Vec<usize> = mesh.indices().expect("indices").iter().collect();
                // Slivers at a pointed end, where rulings have next to no length, may turn.
                let (mut wrong, mut all) = (0.0, 0.0);
                for t in indices.chunks(3) {
                    let face = (at(&p, t[1]) - at(&p, t[0])).cross(at(&p, t[2]) - at(&p, t[0]));
                    let shown = at(&n, t[0]) + at(&n, t[1]) + at(&n, t[2]);
                    all += face.length();
                    if face.dot(shown) < 0.0 {
                        wrong += face.length();
                    }
                }
                assert!(wrong <= 2e-4 * all, "{} {:?}: {wrong} of {all}", starter.name, part.piece);
            }
        }
    }
}
