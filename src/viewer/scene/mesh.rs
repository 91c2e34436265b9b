//! From the model to meshes for the stage: planks with their thickness, members, transom.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::bend::BentMember;
use crate::geom::{P3, V3, unit};
use crate::hull::MemberSide;
use crate::model::{Model, PanelModel};
use crate::viewer::camera::world_from_hull;
use crate::viewer::ui::state::Piece;
use crate::viewer::ui::style::{Theme, floor_colours};

/// A part's mesh and which piece it is.
#[derive(Debug, Clone)]
pub struct PartMesh {
    /// The piece.
    pub piece: Piece,
    /// Metres, y up; uv.x is the share of the bending limit.
    pub mesh: Mesh,
}

#[derive(Default)]
struct Builder {
    positions: Vec<Vec3>,
    normals: Vec<Vec3>,
    uvs: Vec<Vec2>,
    indices: Vec<u32>,
}

/// A corner: place (mm), outward normal, share of the limit and share across the panel.
#[derive(Clone, Copy)]
struct Corner {
    p: P3,
    n: V3,
    uv: [f64; 2],
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

    fn finish(self) -> Mesh {
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
fn both_sides(out: &mut Builder, a: &[Corner], b: &[Corner], flip: bool) {
    out.ribbon(a, b, flip);
    let (a, b): (Vec<_>, Vec<_>) =
        (a.iter().copied().map(mirrored).collect(), b.iter().copied().map(mirrored).collect());
    out.ribbon(&a, &b, !flip);
}

/// Every part of the hull.
pub fn parts(model: &Model) -> Vec<PartMesh> {
    let mut out: Vec<PartMesh> = model
        .panels
        .iter()
        .enumerate()
        .map(|(i, p)| PartMesh { piece: Piece::Panel(i), mesh: panel(p) })
        .collect();
    for (i, m) in model.members.iter().enumerate() {
        out.push(PartMesh { piece: Piece::Member(i), mesh: member(model, m) });
    }
    for (stern, piece) in [(true, Piece::Transom), (false, Piece::BowTransom)] {
        let there = if stern { model.lines.transom } else { model.lines.bow_transom };
        if there.is_some() {
            out.push(PartMesh { piece, mesh: transom(model, stern) });
        }
    }
    out
}

/// Rows of corners between a panel's lower and upper edge, so that the map of bending,
/// which is not even along a ruling, is followed.
const ROWS: usize = 6;

/// A panel with its thickness: outer face, inner face, and the edge all round.
fn panel(p: &PanelModel) -> Mesh {
    let mut out = Builder::default();
    let shares = crate::bend::sheet::shares(&p.surface, p.thickness, p.bend.least_radius);
    // The corners at share `t` up every ruling, `offset` mm outward.
    let row = |t: f64, offset: f64, inward: bool| -> Vec<Corner> {
        let rulings = p.surface.rulings.iter().zip(&shares);
        rulings
            .map(|(r, share)| {
                let n = unit(r.normal_lower.lerp(&r.normal_upper, t)).unwrap_or(r.normal_lower);
                let at = r.lower + t * (r.upper - r.lower) + offset * n;
                Corner { p: at, n: if inward { -n } else { n }, uv: [share_between(*share, t), t] }
            })
            .collect()
    };
    let thick = p.thickness;
    for k in 0..ROWS {
        let (t0, t1) = (k as f64 / ROWS as f64, (k + 1) as f64 / ROWS as f64);
        both_sides(&mut out, &row(t0, thick, false), &row(t1, thick, false), false);
        both_sides(&mut out, &row(t0, 0.0, true), &row(t1, 0.0, true), true);
    }
    // The upper and lower edge, with normals along the ruling.
    for (t, flip) in [(1.0, false), (0.0, true)] {
        let (mut outer, mut inner) = (row(t, thick, false), row(t, 0.0, false));
        for ((a, b), r) in outer.iter_mut().zip(inner.iter_mut()).zip(&p.surface.rulings) {
            let up = unit(r.upper - r.lower).unwrap_or_else(V3::z);
            a.n = if flip { -up } else { up };
            b.n = a.n;
        }
        both_sides(&mut out, &outer, &inner, flip);
    }
    // The forward and after edge.
    let n = p.surface.rulings.len();
    for (k, sign) in [(0, -1.0), (n - 1, 1.0)] {
        let r = &p.surface.rulings[k];
        let along = r.normal_lower.cross(&(r.upper - r.lower));
        let face = unit(along).unwrap_or_else(V3::x) * sign;
        let corner = |p: P3| Corner { p, n: face, uv: [0.0, 0.5] };
        let outer =
            [corner(r.lower + thick * r.normal_lower), corner(r.upper + thick * r.normal_upper)];
        let inner = [corner(r.lower), corner(r.upper)];
        both_sides(&mut out, &outer, &inner, sign > 0.0);
    }
    out.finish()
}

/// Share of the limit at `t` up a ruling: along a ruling the radius changes evenly.
fn share_between([lower, upper]: [f64; 2], t: f64) -> f64 {
    if lower <= 0.0 || upper <= 0.0 {
        return lower + t * (upper - lower);
    }
    1.0 / ((1.0 - t) / lower + t / upper)
}

/// A member as a bar swept along its line on the skin, both sides of the boat unless it
/// lies on the centreplane.
fn member(model: &Model, bent: &BentMember) -> Mesh {
    let m = &bent.member;
    let mut out = Builder::default();
    let breaking = bent.breaking_strain.max(1e-9);
    let on_keel = m.line == "keel";
    // Width runs up from a chine, down from the sheer, both ways from the keel.
    let (from, to) = match m.line.as_str() {
        "keel" => (-0.5 * m.sided_mm, 0.5 * m.sided_mm),
        "sheer" => (-m.sided_mm, 0.0),
        _ => (0.0, m.sided_mm),
    };
    let (near, far) = match m.side {
        MemberSide::Inside => (0.0, -m.moulded_mm),
        MemberSide::Outside => (SKIN_SHOWN_MM, SKIN_SHOWN_MM + m.moulded_mm),
    };
    let row = |depth: f64, width: f64, n: fn(V3, V3) -> V3| -> Vec<Corner> {
        bent.along
            .iter()
            .filter(|a| !on_keel || room_at(model, a.point.x) >= 0.5 * m.sided_mm)
            .map(|a| {
                let up = a.tangent.cross(&a.outward);
                Corner {
                    p: a.point + depth * a.outward + width * up,
                    n: n(a.outward, up),
                    uv: [a.strain / breaking, 0.5],
                }
            })
            .collect()
    };
    let (inner, outer) = (near.min(far), near.max(far));
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

/// Where an outside member stands off the moulded surface: about the planking (mm); only
/// the picture is made with it.
const SKIN_SHOWN_MM: f64 = 9.0;

/// Depth (mm) of the transom's board as shown.
const TRANSOM_SHOWN_MM: f64 = 19.0;

/// The transom as a board inside the ends of the panels.
fn transom(model: &Model, stern: bool) -> Mesh {
    let mut out = Builder::default();
    let end = |l: &crate::hull::HullLine| {
        if stern { l.spline.at(l.spline.end()) } else { l.spline.at(0.0) }
    };
    let rungs: Vec<P3> = model.lines.lines.iter().map(end).collect();
    let plane = if stern { model.lines.transom } else { model.lines.bow_transom };
    let normal = plane.map_or_else(V3::x, |p| p.normal);
    for (shift, n) in [(0.0, normal), (-TRANSOM_SHOWN_MM, -normal)] {
        let row = |port: bool| -> Vec<Corner> {
            rungs
                .iter()
                .map(|p| {
                    let q = if port { P3::new(p.x, -p.y, p.z) } else { *p };
                    Corner { p: q + shift * normal, n, uv: [0.0, 0.5] }
                })
                .collect()
        };
        // Outward seen from outside: starboard to port going up, turned at the bow.
        let flip = (shift != 0.0) == stern;
        out.ribbon(&row(true), &row(false), flip);
    }
    if let Some(top) = rungs.last() {
        let up = V3::z();
        let corner = |y: f64, shift: f64| Corner {
            p: P3::new(top.x, y, top.z) + shift * normal,
            n: up,
            uv: [0.0, 0.5],
        };
        let after = [corner(-top.y, 0.0), corner(top.y, 0.0)];
        let fore = [corner(-top.y, -TRANSOM_SHOWN_MM), corner(top.y, -TRANSOM_SHOWN_MM)];
        out.ribbon(&after, &fore, stern);
    }
    out.finish()
}

/// The floor: a soft dark patch under the hull that fades into the ground, as a fan of
/// rings with vertex colours.
pub fn floor(low: Vec3, high: Vec3, theme: Theme) -> Mesh {
    const AROUND: usize = 48;
    let (shadow, ground) = floor_colours(theme);
    let centre = Vec3::new(0.5 * (low.x + high.x), low.y - 0.004, 0.5 * (low.z + high.z));
    let (rx, rz) = (0.5 * (high.x - low.x), 0.5 * (high.z - low.z));
    // (reach beyond the hull's half length and half beam, strength of the shadow).
    let rings = [(0.55, 1.0), (0.8, 0.8), (1.0, 0.42), (1.2, 0.14), (1.5, 0.0)];
    let mut positions = vec![centre];
    let mut colours = vec![shadow];
    let mut indices = Vec::new();
    for (k, (reach, strength)) in rings.iter().enumerate() {
        for i in 0..AROUND {
            let angle = std::f32::consts::TAU * i as f32 / AROUND as f32;
            let (sin, cos) = angle.sin_cos();
            // A rounded box is nearer to a boat's footprint than an ellipse.
            let square = |c: f32| c.signum() * c.abs().powf(0.75);
            positions.push(
                centre
                    + Vec3::new(
                        rx * reach * square(cos),
                        0.0,
                        (rz * reach + 0.12 * (reach - 0.5)) * square(sin),
                    ),
            );
            let mix = |a: f32, b: f32| a * strength + b * (1.0 - strength);
            colours.push(std::array::from_fn(|c| mix(shadow[c], ground[c])));
            let ring = 1 + k * AROUND;
            let (a, b) = ((ring + i) as u32, (ring + (i + 1) % AROUND) as u32);
            if k == 0 {
                indices.extend([0, b, a]);
            } else {
                let (c, d) = (a - AROUND as u32, b - AROUND as u32);
                indices.extend([c, b, a, c, d, b]);
            }
        }
    }
    let normals = vec![Vec3::Y; positions.len()];
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, colours)
        .with_inserted_indices(Indices::U32(indices))
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
