//! The boat full of water: what still floats is her own wood and the foam built in.
//!
//! Swamped, water stands inside as high as outside, so only solids displace it, and only as
//! far as they are under it: the planking (outside mesh less moulded mesh, exact), lumber,
//! frames and ends (as blocks of their own volume and height at their own place), foam with
//! its boxes, cloth and paint over the skin, and the part of motor and battery that is under
//! water. How much foam the public rule asks for is in [`super::flotation`].

use super::mass::Built;
use crate::geom::mesh::Mesh;
use crate::geom::{P2, P3, V3};
use crate::hull::Foam;
use crate::part::{Bulk, Part, PartId};

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
/// Its items displace `solid` mm³ in all: what is no body of its own (cloth, paint, glue,
/// small pieces) lies over the skin.
pub fn solids(of: &Built, outside: &Mesh, moulded: &Mesh, solid: f64) -> Mesh {
    let mut out = Mesh::default();
    add(&mut out, outside, false);
    add(&mut out, moulded, true);
    // Sums keep their last figures: the knee has always been the last to be added.
    bodies(&mut out, of.parts, |id| !id.of_foam() && id != PartId::Knee);
    bodies(&mut out, of.parts, |id| id == PartId::Knee);
    let left = solid - out.volume() - of.hull.afloat.foam.iter().map(whole_of).sum::<f64>();
    if left > 0.0 {
        over_the_skin(of, left, &mut out);
    }
    out
}

/// What a block of foam displaces with its box, mm³.
fn whole_of(f: &Foam) -> f64 {
    f.volume() + f.box_volume()
}

/// The bodies of parts that are wanted.
pub fn bodies(out: &mut Mesh, parts: &[Part], wanted: impl Fn(PartId) -> bool) {
    for bulk in parts.iter().filter(|p| wanted(p.id)).flat_map(|p| &p.bulk) {
        body(out, bulk);
    }
}

/// Adds one body, on both sides where there are two.
fn body(out: &mut Mesh, bulk: &Bulk) {
    match bulk {
        Bulk::Board { outline, x, thick, both } => board(out, outline, *x, *thick, *both),
        Bulk::Block(a, b) => block(out, *a, *b),
        Bulk::Bent { rings, both } => {
            let sides: &[f64] = if *both { &[1.0, -1.0] } else { &[1.0] };
            for side in sides {
                let to_side = |ring: &[P3; 4]| ring.map(|p| P3::new(p.x, side * p.y, p.z));
                let rings: Vec<[P3; 4]> = rings.iter().map(to_side).collect();
                outward(out, |mesh| prism(mesh, &rings));
            }
        }
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
        let (low, high) = (P3::new(0.0, 2.0, 0.0), P3::new(10.0, 3.0, 1.0));
        body(&mut mesh, &Bulk::Block(low, high));
        let ring = |x: f64| {
            [(2.0, 0.0), (3.0, 0.0), (3.0, 1.0), (2.0, 1.0)].map(|(y, z)| P3::new(x, y, z))
        };
        body(&mut mesh, &Bulk::Bent { rings: vec![ring(0.0), ring(5.0)], both: true });
        assert!(mesh.closed_faults().is_empty());
        assert!((mesh.volume() - 44.0).abs() < 1e-12);
    }
}
