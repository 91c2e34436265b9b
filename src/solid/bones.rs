//! Frames, stem, transom and strongback as solids: boards sawn to their outlines.

use super::builder::Builder;
use super::{Corner, Face, Solid};
use crate::frames::pieces::to_port;
use crate::frames::section::whole;
use crate::frames::{Across, Frame, Gusset, Knee, Section, Stem, Transom};
use crate::geom::region::Region;
use crate::geom::segment::{from_polyline, from_segment};
use crate::geom::{P2, P3, V2, V3, unit};
use crate::hull::Hull;
use crate::part::Use;
use crate::setup::{Stick, Strongback};

/// A corner within this (mm) of the skin's section lies on it, and is bevelled.
const ON_EDGE_MM: f64 = 0.6;
/// Width of the shown string, mm.
const STRING_MM: f64 = 4.0;

/// A flat sawn triangle that faces along `n`, whichever way its corners run.
fn facing(out: &mut Builder, p: [P3; 3], n: V3) {
    flat(out, p, n, Face::Edge);
}

/// As [`facing`], on this face of a plank.
fn flat(out: &mut Builder, p: [P3; 3], n: V3, face: Face) {
    let wound = (p[1] - p[0]).cross(&(p[2] - p[0])).dot(&n) >= 0.0;
    let order = if wound { [0, 1, 2] } else { [0, 2, 1] };
    out.triangle(order.map(|i| Corner { p: p[i], n, uv: [0.0, face.coordinate(0.5)] }));
}

/// A flat quad that faces along `n`.
fn quad(out: &mut Builder, [a, b, c, d]: [P3; 4], n: V3) {
    facing(out, [a, b, c], n);
    facing(out, [a, c, d], n);
}

/// A board between two rings of the same corners: `near` faces along `out_near`.
fn board(out: &mut Builder, near: &[P3], far: &[P3], caps: [&Caps; 2], out_near: V3) {
    for (cap, n) in [(caps[0], out_near), (caps[1], -out_near)] {
        for t in &cap.triangles {
            flat(out, t.map(|i| cap.corners[i]), n, cap.face);
        }
    }
    let count = near.len();
    let middle = near.iter().fold(V3::zeros(), |v, p| v + p.coords) / count as f64;
    let about = ring_normal(near, middle);
    for i in 0..count {
        let j = (i + 1) % count;
        // Outward lies at the right of an edge that runs anticlockwise.
        if let Some(n) = unit((near[j] - near[i]).cross(&about)) {
            quad(out, [near[i], near[j], far[j], far[i]], n);
        }
    }
}

/// The direction about which a ring runs anticlockwise, by the sum of its triangles.
fn ring_normal(ring: &[P3], middle: V3) -> V3 {
    let n = ring.len();
    (0..n).fold(V3::zeros(), |v, i| {
        v + (ring[i].coords - middle).cross(&(ring[(i + 1) % n].coords - middle))
    })
}

/// A ring's inside as triangles in space.
struct Caps {
    face: Face,
    corners: Vec<P3>,
    triangles: Vec<[usize; 3]>,
}

fn cap(ring: &[P2], place: &Across) -> Caps {
    let (corners, triangles) = Region::of(ring).triangles();
    let corners = corners.iter().map(|p| place.space(*p)).collect();
    Caps { face: Face::Edge, corners, triangles }
}

/// A board from `near` on one plane to `far` on another.
fn slab(out: &mut Builder, near: (&[P2], Across), far: (&[P2], Across)) {
    plank(out, near, far, [Face::Edge; 2]);
}

/// As [`slab`], with what its two broad faces are.
fn plank(out: &mut Builder, near: (&[P2], Across), far: (&[P2], Across), faces: [Face; 2]) {
    let at =
        |ring: &[P2], place: &Across| -> Vec<P3> { ring.iter().map(|p| place.space(*p)).collect() };
    let (a, b) = (at(near.0, &near.1), at(far.0, &far.1));
    let outward = near.1.origin - far.1.origin;
    let Some(outward) = unit(outward) else {
        return;
    };
    let cap = |(ring, place): (&[P2], Across), face| Caps { face, ..cap(ring, &place) };
    board(out, &a, &b, [&cap(near, faces[0]), &cap(far, faces[1])], outward);
}

/// A frame's boards with their bevels, and its gussets.
pub(super) fn frame(hull: &Hull, f: &Frame) -> Solid {
    let mut out = Builder::default();
    let face = f.section.across;
    let sign = -f.face.sign();
    let t = hull.framing.sided_mm;
    for p in &f.pieces {
        let near_plane = face.moved(sign * p.face_at);
        let far_plane = face.moved(sign * (p.face_at + t));
        // Lapped sides lie on another pair of planes; theirs is the far face's outline.
        let (near, far) = if p.face_at > 0.0 {
            (p.outline.clone(), p.outline.clone())
        } else {
            (on_face(&p.outline, f, false), on_face(&p.outline, f, true))
        };
        slab(&mut out, (&near, near_plane), (&far, far_plane));
        if !p.whole {
            slab(&mut out, (&to_port(&near), near_plane), (&to_port(&far), far_plane));
        }
    }
    for g in &f.gussets {
        let g_t = hull.framing.gusset_mm;
        let (from, to) = if g.on_face { (-g_t, 0.0) } else { (t, t + g_t) };
        gusset(&mut out, g, face.moved(sign * from), face.moved(sign * to));
    }
    out.finish()
}

fn gusset(out: &mut Builder, g: &Gusset, near: Across, far: Across) {
    slab(out, (&g.outline, near), (&g.outline, far));
    if !g.whole {
        let port = to_port(&g.outline);
        slab(out, (&port, near), (&port, far));
    }
}

/// A sawn outline as it is after bevelling on one face: corners on the sawn edge go in by
/// what is planed off there.
fn on_face(outline: &[P2], f: &Frame, far: bool) -> Vec<P2> {
    outline.iter().map(|p| P2::from(p.coords - planed(*p, f, far))).collect()
}

/// How far a corner of the sawn outline moves in, mm.
fn planed(p: P2, f: &Frame, far: bool) -> V2 {
    let mirrored = P2::new(p.x.abs(), p.y);
    let mut shift = V2::zeros();
    for edge in &f.section.edges {
        let bevel = f
            .bevels
            .iter()
            .filter(|b| b.panel == edge.panel)
            .min_by(|a, b| (a.at - mirrored).norm().total_cmp(&(b.at - mirrored).norm()));
        let Some((bevel, e)) = bevel.zip(edge.chord()) else {
            continue;
        };
        // The sawn edge is the larger of both faces'.
        let sawn_out = (-bevel.offset).max(0.0);
        let off = edge
            .points
            .windows(2)
            .map(|w| from_segment(mirrored, w[0].at, w[1].at))
            .fold(f64::INFINITY, f64::min);
        if (off - sawn_out).abs() > ON_EDGE_MM + 0.1 * sawn_out {
            continue;
        }
        let out = V2::new(e.y, -e.x);
        let by = if far { bevel.offset.max(0.0) } else { sawn_out };
        shift += by * out;
    }
    V2::new(shift.x * if p.x < 0.0 { -1.0 } else { 1.0 }, shift.y)
}

/// The transom as a board with its motor's cut-out: what both faces have in common; with the
/// knee behind it.
pub(super) fn transom(hull: &Hull, t: &Transom, knee: Option<&Knee>) -> Solid {
    let mut out = Builder::default();
    let of = |s: &Section| Region::of(&whole(&s.half()));
    let ring = Region::of(&t.outline).and(&of(&t.section).and(&of(&t.far))).largest();
    let inner = t.across.moved(-hull.transom.thickness_mm);
    // Its outer face is skin: painted and wetted as the panels are.
    plank(&mut out, (&ring, t.across), (&ring, inner), [Face::Outer, Face::Inner]);
    let back = inner.moved(-hull.transom.framing_thickness_mm);
    for p in &t.framing {
        slab(&mut out, (&p.outline, inner), (&p.outline, back));
        if !p.whole {
            let port = to_port(&p.outline);
            slab(&mut out, (&port, inner), (&port, back));
        }
    }
    if let Some(c) = t.cut_out.filter(|c| c.pad_thickness > 0.0) {
        let pad = c.pad(hull.motor.pad_width_mm);
        slab(&mut out, (&pad, inner), (&pad, inner.moved(-c.pad_thickness)));
    }
    if let Some(k) = knee {
        // In the centreplane, half of it on either side.
        let at = |p: &P2, way: f64| P3::new(p.x, 0.5 * way * k.sided, p.y);
        let ring = |way: f64| -> Vec<P3> { k.outline.iter().map(|p| at(p, way)).collect() };
        let cap = |way: f64| {
            let (corners, triangles) = Region::of(&k.outline).triangles();
            let corners = corners.iter().map(|p| at(p, way)).collect();
            Caps { face: Face::Edge, corners, triangles }
        };
        board(&mut out, &ring(1.0), &ring(-1.0), [&cap(1.0), &cap(-1.0)], V3::y());
    }
    out.finish()
}

/// A stem: its blank with both sides planed to the bevel, its knee, and the outer stem.
pub(super) fn stem(hull: &Hull, s: &Stem) -> Solid {
    let mut out = Builder::default();
    let half = 0.5 * hull.stem.sided_mm;
    // A front corner lies on the profile: there both bevels have made it thin.
    let thin = |p: &P2| {
        let on = from_polyline(*p, &s.profile) < ON_EDGE_MM;
        if on { s.half_siding.max(0.5) } else { half }
    };
    in_profile(&mut out, &s.outline, thin);
    if let Some(k) = s.joint.as_ref().and_then(|j| j.knee.as_ref()) {
        in_profile(&mut out, &k.outline, |_| 0.5 * k.thickness);
    }
    if let Some(o) = &s.outer {
        let wide = 0.5 * hull.stem.outer_sided_mm;
        let nose = 0.5 * o.sections.iter().map(|c| c.front).fold(f64::INFINITY, f64::min);
        // Its back lies on the flat; the front is planed narrow.
        in_profile(&mut out, &o.outline, |p| {
            let on = o.back.windows(2).any(|w| near_line(*p, w[0], w[1]) < ON_EDGE_MM);
            if on { wide } else { nose }
        });
    }
    out.finish()
}

/// A plank about the centreplane: its outline (aft, up), and half its width at each corner.
fn in_profile(out: &mut Builder, outline: &[P2], half: impl Fn(&P2) -> f64) {
    let at = |p: &P2, way: f64| P3::new(p.x, way * half(p), p.y);
    let (corners, triangles) = Region::of(outline).triangles();
    for (way, n) in [(1.0, V3::y()), (-1.0, -V3::y())] {
        for t in &triangles {
            facing(out, t.map(|i| at(&corners[i], way)), n);
        }
    }
    let count = outline.len();
    for i in 0..count {
        let (a, b) = (outline[i], outline[(i + 1) % count]);
        let e = b - a;
        if let Some(n) = unit(V3::new(e.y, 0.0, -e.x)) {
            quad(out, [at(&a, 1.0), at(&b, 1.0), at(&b, -1.0), at(&a, -1.0)], n);
        }
    }
}

/// Distance of a point from the line through two others, run on past both: head and foot of
/// an outer stem lie past the ends of its back.
fn near_line(p: P2, a: P2, b: P2) -> f64 {
    (b - a).try_normalize(1e-9).map_or(f64::INFINITY, |e| e.perp(&(p - a)).abs())
}

/// The cross-spall of a frame, in the hull's own coordinates.
pub(super) fn spall(hull: &Hull, f: &Frame) -> Solid {
    let mut out = Builder::default();
    if let Some(s) = f.spall {
        let x = f.x + f.face.sign() * hull.framing.spall_thickness_mm;
        let (a, b) = (f.x.min(x), f.x.max(x));
        cuboid(&mut out, P3::new(a, -s.half_length, s.low), P3::new(b, s.half_length, s.level));
    }
    out.finish()
}

/// Rails, rungs, posts and the string, as they stand on the shop floor: heights are z.
pub(super) fn rails(jig: &Strongback) -> Solid {
    let mut out = Builder::default();
    for s in jig.sticks.iter().filter(|s| s.purpose.in_ladder()) {
        stick(&mut out, s);
    }
    let w = 0.5 * STRING_MM;
    cuboid(
        &mut out,
        P3::new(jig.rails[0] - 100.0, -w, jig.rail_top + 4.0),
        P3::new(jig.rails[1] + 100.0, w, jig.rail_top + 4.0 + STRING_MM),
    );
    out.finish()
}

/// Legs, braces and what holds the ends, as they stand on the shop floor.
pub(super) fn legs(jig: &Strongback) -> Solid {
    let mut out = Builder::default();
    for s in &jig.sticks {
        if matches!(s.purpose, Use::Leg | Use::Brace | Use::End(..)) {
            stick(&mut out, s);
        }
    }
    out.finish()
}

/// A stick of the jig in its place.
fn stick(out: &mut Builder, s: &Stick) {
    let ring = |t: f64| -> Vec<P3> {
        let place = |p: &P2| {
            if s.from_ahead { P3::new(t, p.x, p.y) } else { P3::new(p.x, t, p.y) }
        };
        s.ring.iter().map(place).collect()
    };
    let (near, far) = (ring(s.reach[0]), ring(s.reach[1]));
    let caps = |corners: &[P3]| Caps {
        face: Face::Edge,
        corners: corners.to_vec(),
        triangles: vec![[0, 1, 2], [0, 2, 3]],
    };
    let out_near = if s.from_ahead { -V3::x() } else { -V3::y() };
    board(out, &near, &far, [&caps(&near), &caps(&far)], out_near);
}

/// A box with its sides along the axes.
fn cuboid(out: &mut Builder, low: P3, high: P3) {
    for axis in 0..3 {
        let (u, w) = ((axis + 1) % 3, (axis + 2) % 3);
        for (from, way) in [(low, -1.0), (high, 1.0)] {
            let corner = |a: f64, b: f64| {
                let mut p = from;
                (p[u], p[w]) = (a, b);
                p
            };
            let mut n = V3::zeros();
            n[axis] = way;
            let ring = [
                corner(low[u], low[w]),
                corner(high[u], low[w]),
                corner(high[u], high[w]),
                corner(low[u], high[w]),
            ];
            quad(out, ring, n);
        }
    }
}
