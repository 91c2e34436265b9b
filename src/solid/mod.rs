//! Every piece as a solid to be looked at: planks with their thickness, members, frames, ends,
//! the jig. The stage and the pictures on paper are made of these.

mod bones;
mod builder;
mod plank;

pub use plank::{floor_places, panel};

use builder::{Builder, both_sides};

use crate::bend::BentMember;
use crate::geom::{P3, V3};
use crate::model::Model;
use crate::part::{AtEnd, FrameId, LineId, MemberId, PanelId, PartId};

/// Which face of a plank a corner is on, as uv.y tells it: 0 to 1 across the outer face, -2 to -1
/// across the inner, 3 on a sawn edge.
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

/// A corner of a solid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Its place in the hull's own axes; of the jig as it stands on the floor; mm.
    pub p: P3,
    /// Outward.
    pub n: V3,
    /// Share of the bending limit, and the place across a plank's face ([`Face`]).
    pub uv: [f64; 2],
}

/// A closed surface, or several.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Solid {
    /// Its corners.
    pub corners: Vec<Corner>,
    /// By their corners, anticlockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

/// A piece as it stands built; `None` for what is shown with another, and for what the hull no
/// longer has.
pub fn built(model: &Model, piece: PartId) -> Option<Solid> {
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
pub fn member(model: &Model, bent: &BentMember) -> Solid {
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
            for piece in model.parts.all().iter().map(|p| p.id) {
                let Some(solid) = built(&model, piece) else {
                    continue;
                };
                // Slivers at a pointed end, where rulings have next to no length, may turn.
                let (mut wrong, mut all) = (0.0, 0.0);
                for t in &solid.triangles {
                    let [a, b, c] = t.map(|i| solid.corners[i as usize]);
                    let face = (b.p - a.p).cross(&(c.p - a.p));
                    all += face.norm();
                    if face.dot(&(a.n + b.n + c.n)) < 0.0 {
                        wrong += face.norm();
                    }
                }
                assert!(wrong <= 2e-4 * all, "{} {piece:?}: {wrong} of {all}", starter.name);
            }
        }
    }
}
