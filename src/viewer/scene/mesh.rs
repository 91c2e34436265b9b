//! From the model to meshes for the stage: planks with their thickness, members, transom.

use bevy::prelude::*;

use crate::bend::BentMember;
use crate::geom::V3;
use crate::model::Model;
use crate::part::LineId;
use crate::viewer::scene::bones;
use crate::viewer::scene::mesh_builder::{Builder, Corner, Face, both_sides};
use crate::viewer::scene::panel::panel;
use crate::viewer::state::{AtEnd, FrameId, MemberId, PanelId, PartId};

/// A part's mesh and which piece it is.
#[derive(Debug, Clone)]
pub struct PartMesh {
    /// The piece.
    pub piece: PartId,
    /// Metres, y up; uv.x is the share of the bending limit, uv.y as in [`Face`].
    pub mesh: Mesh,
}

/// Every part of the hull that is a piece on the stage, as it stands built.
pub fn parts(model: &Model) -> Vec<PartMesh> {
    let ids = model.parts.all().iter().map(|p| p.id).filter(|id| !id.of_jig());
    ids.filter_map(|piece| Some(PartMesh { piece, mesh: built(model, piece)? })).collect()
}

/// A piece as it stands built; `None` for what is shown with another, and for what the hull no
/// longer has.
pub(crate) fn built(model: &Model, piece: PartId) -> Option<Mesh> {
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
