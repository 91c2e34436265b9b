//! The boat full of water: what still floats is her own wood and the foam built in.
//!
//! Swamped, water stands inside as high as outside, so only solids displace it, and only as
//! far as they are under it: the planking (outside mesh less moulded mesh, exact), lumber,
//! frames and ends (as blocks of their own volume and height at their own place), foam with
//! its boxes, cloth and paint over the skin, and the part of motor and battery that is under
//! water. How much foam the public rule asks for is in [`super::flotation`].

use super::mass::{Built, STEM_LEFT, beside_stem};
use crate::geom::mesh::Mesh;
use crate::geom::{P2, P3, V3};
use crate::hull::Foam;

/// Places along a member at which its block is bent.
const PLACES: usize = 12;

/// Adds one mesh to another, its triangles turned inside out if `hollow`.
fn add(to: &mut Mesh, mesh: &Mesh, hollow: bool) {
    let first = to.vertices.len() as u32;
    to.vertices.extend(&mesh.vertices);
    to.triangles.extend(mesh.triangles.iter().map(|[a, b, c]| {
        let t = [first + a, first + b, first + c];
        if hollow { [t[0], t[2], t[1]] } else { t }
    }));
}

/// Adds a prism between two rings of four corners, the first ahead; corners run
/// anticlockwise seen from astern.
fn prism(to: &mut Mesh, rings: &[[P3; 4]]) {
    let first = to.vertices.len() as u32;
    to.vertices.extend(rings.iter().flatten());
    let at = |ring: usize, k: usize| first + (4 * ring + k % 4) as u32;
    for r in 1..rings.len() {
        for k in 0..4 {
            let [a, b] = [at(r - 1, k), at(r - 1, k + 1)];
            let [c, d] = [at(r, k), at(r, k + 1)];
            to.triangles.extend([[a, d, c], [a, b, d]]);
        }
    }
    let last = rings.len() - 1;
    to.triangles.extend([[at(0, 0), at(0, 2), at(0, 1)], [at(0, 0), at(0, 3), at(0, 2)]]);
    to.triangles
        .extend([[at(last, 0), at(last, 1), at(last, 2)], [at(last, 0), at(last, 2), at(last, 3)]]);
}

/// Adds a block with edges along the axes between two corners.
pub fn block(to: &mut Mesh, from: P3, upto: P3) {
    let (low, high) = (from.coords.inf(&upto.coords), from.coords.sup(&upto.coords));
    let ring = |x: f64| {
        [(low.y, low.z), (high.y, low.z), (high.y, high.z), (low.y, high.z)]
            .map(|(y, z)| P3::new(x, y, z))
    };
    prism(to, &[ring(low.x), ring(high.x)]);
}

/// Adds a board with this outline (y, z) as a block of its area and height, `thick` mm fore
/// and aft about `x`, on one side or both.
fn board(to: &mut Mesh, outline: &[P2], x: f64, thick: f64, both: bool) {
    let area = crate::geom::polyline::area(outline).abs();
    let (low, high) = outline
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.y), h.max(p.y)));
    let tall = high - low;
    if !(tall > 0.0 && area > 0.0) {
        return;
    }
    let middle = outline.iter().map(|p| p.x).sum::<f64>() / outline.len() as f64;
    let half = 0.5 * area / tall;
    for side in [1.0, -1.0] {
        if side > 0.0 || both {
            let y = side * middle;
            block(
                to,
                P3::new(x - 0.5 * thick, y - half, low),
                P3::new(x + 0.5 * thick, y + half, high),
            );
        }
    }
}

/// Everything solid of a hull but foam and its boxes, as one mesh whose displacement is that
/// of the swamped boat; `outside` and `moulded` are the two closed meshes of her planking.
/// Its items displace `solid` mm³ in all: what is no block of its own (cloth, paint, glue,
/// small pieces) lies over the skin.
pub fn solids(of: &Built, outside: &Mesh, moulded: &Mesh, solid: f64) -> Mesh {
    let mut out = Mesh::default();
    add(&mut out, outside, false);
    add(&mut out, moulded, true);
    members(of, &mut out);
    let framing = &of.hull.framing;
    for f in of.frames {
        for p in &f.pieces {
            board(&mut out, &p.outline, f.x, framing.sided_mm, !p.whole);
        }
        for g in &f.gussets {
            board(&mut out, &g.outline, f.x, framing.gusset_mm, !g.whole);
        }
    }
    for (_, t) in &of.transoms {
        let plan = &of.hull.transom;
        let mut upright = |outline: &[P2], thick: f64, both: bool| {
            let ring: Vec<P3> = outline.iter().map(|p| t.across.space(*p)).collect();
            let x = ring.iter().map(|p| p.x).sum::<f64>() / ring.len().max(1) as f64;
            let flat: Vec<P2> = ring.iter().map(|p| P2::new(p.y, p.z)).collect();
            board(&mut out, &flat, x, thick, both);
        };
        upright(&t.outline, plan.thickness_mm, false);
        for p in &t.framing {
            upright(&p.outline, plan.framing_thickness_mm, !p.whole);
        }
    }
    for (name, s) in &of.stems {
        // Its outline lies in the centreplane: a block as long as its area asks for.
        let (low, high) = s
            .outline
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.y), h.max(p.y)));
        let area = crate::geom::polyline::area(&s.outline).abs();
        let middle = s.outline.iter().map(|p| p.x).sum::<f64>() / s.outline.len().max(1) as f64;
        if high > low {
            let half = 0.5 * STEM_LEFT * area / (high - low);
            let out_by = 0.5 * of.hull.stem.sided_mm;
            block(
                &mut out,
                P3::new(middle - half, -out_by, low),
                P3::new(middle + half, out_by, high),
            );
        }
        for part in beside_stem(name, s) {
            // A cube-like block of its volume about its middle.
            let half = 0.5 * (part.volume / part.width.max(1e-9)).sqrt();
            let (m, y) = (part.middle, 0.5 * part.width);
            block(
                &mut out,
                P3::new(m.x - half, -y, m.y - half),
                P3::new(m.x + half, y, m.y + half),
            );
        }
    }
    if let Some(k) = of.knee {
        // As high as it stands, and as long as its volume asks for.
        let low = k.outline.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
        let high = k.outline.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
        if high > low {
            let (half, out_by) = (0.5 * k.volume() / (k.sided * (high - low)), 0.5 * k.sided);
            let middle = k.heel.x - half;
            block(
                &mut out,
                P3::new(middle - half, -out_by, low),
                P3::new(middle + half, out_by, high),
            );
        }
    }
    let left = solid - out.volume() - of.hull.afloat.foam.iter().map(whole_of).sum::<f64>();
    if left > 0.0 {
        over_the_skin(of, left, &mut out);
    }
    out
}

/// What a block of foam displaces with its boxes, mm³.
fn whole_of(f: &Foam) -> f64 {
    f.volume() + f.box_volume()
}

/// Blocks of foam, without their boxes.
pub fn foam(out: &mut Mesh, all: &[Foam]) {
    for f in all {
        sides(out, f, 1.0);
    }
}

/// The ply of the boxes of foam: as high as the blocks and at their place, so much shorter
/// than them as it is less.
pub fn boxes(out: &mut Mesh, all: &[Foam]) {
    for f in all.iter().filter(|f| f.box_volume() > 0.0) {
        sides(out, f, f.box_volume() / f.volume());
    }
}

/// A block of foam and its mirror image, by a share of its length about its middle.
fn sides(out: &mut Mesh, f: &Foam, share: f64) {
    let [mut a, mut b] = [f.from, f.to].map(|[x, y, z]| P3::new(x, y, z));
    let (middle, half) = (0.5 * (a.x + b.x), 0.5 * share * (b.x - a.x));
    (a.x, b.x) = (middle - half, middle + half);
    block(out, a, b);
    if f.both_sides {
        block(out, P3::new(a.x, -a.y, a.z), P3::new(b.x, -b.y, b.z));
    }
}

/// Pieces along and up a panel over which what lies on the skin is spread.
const SKIN_PIECES: [usize; 2] = [8, 2];

/// Spreads `volume` mm³ over the panels, both sides, as blocks at the middle of pieces of
/// them and as high as these.
fn over_the_skin(of: &Built, volume: f64, out: &mut Mesh) {
    let mut pieces: Vec<[P3; 4]> = Vec::new();
    for p in &of.skin.panels {
        let rulings = &p.surface.rulings;
        let last = rulings.len().saturating_sub(1);
        for i in 0..SKIN_PIECES[0] {
            let [a, b] = [i, i + 1].map(|k| &rulings[k * last / SKIN_PIECES[0]]);
            for j in 0..SKIN_PIECES[1] {
                let [low, high] = [j, j + 1].map(|k| k as f64 / SKIN_PIECES[1] as f64);
                let up = |r: &crate::panel::Ruling, t: f64| r.lower + t * (r.upper - r.lower);
                pieces.push([up(a, low), up(b, low), up(b, high), up(a, high)]);
            }
        }
    }
    let area = |[a, b, c, d]: &[P3; 4]| 0.5 * (c - a).cross(&(d - b)).norm();
    let all: f64 = 2.0 * pieces.iter().map(area).sum::<f64>();
    for q in pieces.iter().filter(|q| area(q) > 0.0) {
        let share = volume * area(q) / all;
        let middle = P3::from(q.iter().map(|p| p.coords).sum::<V3>() / 4.0);
        let tall = q.iter().map(|p| p.z).fold(f64::NEG_INFINITY, f64::max)
            - q.iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
        let half = 0.5 * tall.max(1.0);
        let out_by = 0.5 * (share / (2.0 * half)).sqrt();
        for side in [1.0, -1.0] {
            let at = P3::new(middle.x, side * middle.y, middle.z);
            let reach = V3::new(out_by, out_by, half);
            block(out, at - reach, at + reach);
        }
    }
}

/// Members as bent blocks of their own section, where they lie on the skin.
fn members(of: &Built, out: &mut Mesh) {
    for bent in of.members {
        let every = (bent.along.len() / PLACES).max(1);
        let last = bent.along.len().saturating_sub(1);
        let sides: &[f64] = if bent.member.line == "keel" { &[1.0] } else { &[1.0, -1.0] };
        for side in sides {
            let rings: Vec<[P3; 4]> = bent
                .along
                .iter()
                .enumerate()
                .filter(|(i, _)| i % every == 0 || *i == last)
                .map(|(_, a)| bent.corners(a).map(|p| P3::new(p.x, side * p.y, p.z)))
                .collect();
            if rings.len() > 1 {
                outward(out, |mesh| prism(mesh, &rings));
            }
        }
    }
}

/// Adds a body, turned so that it displaces water and does not hold it.
fn outward(out: &mut Mesh, body: impl FnOnce(&mut Mesh)) {
    let mut one = Mesh::default();
    body(&mut one);
    let hollow = one.volume() < 0.0;
    add(out, &one, hollow);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_is_closed_and_holds_its_volume() {
        let mut mesh = Mesh::default();
        block(&mut mesh, P3::new(5.0, 1.0, 2.0), P3::new(1.0, 4.0, 0.0));
        assert!(mesh.closed_faults().is_empty());
        assert!((mesh.volume() - 24.0).abs() < 1e-12);
        foam(
            &mut mesh,
            &[Foam {
                name: "side".into(),
                from: [0.0, 2.0, 0.0],
                to: [10.0, 3.0, 1.0],
                both_sides: true,
                density_kg_m3: 32.0,
                box_ply_mm: 0.0,
            }],
        );
        assert!((mesh.volume() - 44.0).abs() < 1e-12);
    }
}
