//! The boat full of water: what still floats is her own wood and the foam built in; and how
//! much foam the public rule's arithmetic asks for.
//!
//! Swamped, water stands inside as high as outside, so only solids displace it: the planking
//! (outside mesh less moulded mesh, exact), lumber, frames and ends (as blocks of their own
//! volume and height at their own place), foam, and the part of motor and battery that is
//! under water. Source of the flotation rule: 33 CFR part 183, subparts G and H (figures and
//! their trust in the shared check values, file 01, sections 5 and 8).

use super::capacity::{Drive, KG_PER_POUND, Line, swamped_weight};
use super::mass::{Built, STEM_LEFT};
use crate::geom::mesh::Mesh;
use crate::geom::{P2, P3, V3};
use crate::hull::{Foam, MemberSide};

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

/// Everything solid of a hull as one mesh whose displacement is that of the swamped boat;
/// `outside` and `moulded` are the two closed meshes of her planking.
pub fn solids(of: &Built, outside: &Mesh, moulded: &Mesh) -> Mesh {
    let mut out = Mesh::default();
    add(&mut out, outside, false);
    add(&mut out, moulded, true);
    members(of, &mut out);
    let framing = &of.hull.framing;
    for f in of.frames {
        for p in &f.pieces {
            board(&mut out, &p.outline, f.x, framing.sided_mm, !p.whole);
        }
    }
    for (_, t) in &of.transoms {
        let ring: Vec<P3> = t.outline.iter().map(|p| t.across.space(*p)).collect();
        let x = ring.iter().map(|p| p.x).sum::<f64>() / ring.len().max(1) as f64;
        let flat: Vec<P2> = ring.iter().map(|p| P2::new(p.y, p.z)).collect();
        board(&mut out, &flat, x, of.hull.transom.thickness_mm, false);
    }
    for (_, s) in &of.stems {
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
    }
    foam(&mut out, &of.hull.afloat.foam);
    out
}

/// Blocks of foam.
pub fn foam(out: &mut Mesh, all: &[Foam]) {
    for f in all {
        let [a, b] = [f.from, f.to].map(|[x, y, z]| P3::new(x, y, z));
        block(out, a, b);
        if f.both_sides {
            block(out, P3::new(a.x, -a.y, a.z), P3::new(b.x, -b.y, b.z));
        }
    }
}

/// Members as bent blocks of their own section, inside the skin (or outside).
fn members(of: &Built, out: &mut Mesh) {
    for bent in of.members {
        let m = &bent.member;
        let sheer = m.line == "sheer";
        let every = (bent.along.len() / PLACES).max(1);
        let last = bent.along.len().saturating_sub(1);
        let away = if m.side == MemberSide::Outside { 1.0 } else { -1.0 };
        let sides: &[f64] = if m.line == "keel" { &[1.0] } else { &[1.0, -1.0] };
        for side in sides {
            let rings: Vec<[P3; 4]> = bent
                .along
                .iter()
                .enumerate()
                .filter(|(i, _)| i % every == 0 || *i == last)
                .map(|(_, a)| {
                    let across = a.tangent.cross(&a.outward);
                    // Up the side from a chine, down it from the sheer.
                    let across = if (across.z < 0.0) == sheer { across } else { -across };
                    let (near, far) = if m.line == "keel" {
                        (-0.5 * m.sided_mm * across, 0.5 * m.sided_mm * across)
                    } else {
                        (V3::zeros(), m.sided_mm * across)
                    };
                    let deep = away * m.moulded_mm * a.outward;
                    let ring = [
                        a.point + near,
                        a.point + far,
                        a.point + far + deep,
                        a.point + near + deep,
                    ];
                    ring.map(|p| P3::new(p.x, side * p.y, p.z))
                })
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

/// What the rule's arithmetic is worked from; masses kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flotation {
    /// Hull with all that is fixed to it.
    pub hull: f64,
    /// What the hull's own solids displace, foam left out.
    pub displaced: f64,
    /// What drives her.
    pub drive: Drive,
    /// The most that persons may weigh, lb, by the safe-loading rule.
    pub persons: f64,
    /// Motor, persons and gear, lb.
    pub capacity: f64,
    /// What motor, controls, battery and tank weigh, lb.
    pub motor: f64,
    /// Foam's density, kg/m³.
    pub foam: f64,
}

const SUBPART_G: &str = "33 CFR part 183 subpart G (from memory)";
const SUBPART_H: &str = "33 CFR part 183 subpart H (from memory), as 183.105";

/// What persons of `pounds` together weigh on a swamped boat, lb: outboards over 2 hp (level
/// flotation) half up to 550 lb and an eighth of the rest, others two fifteenths. From
/// memory, but for the fraction of § 183.105.
pub fn counted_persons(drive: Drive, pounds: f64) -> f64 {
    match drive {
        Drive::Outboard(_) => 0.5 * pounds.min(550.0) + 0.125 * (pounds - 550.0).max(0.0),
        _ => 2.0 / 15.0 * pounds,
    }
}

/// The foam that the arithmetic asks for, litres, and its working; never less than nothing.
///
/// The persons as [`counted_persons`] has them and a quarter of the dead weight (from memory).
pub fn foam_needed(f: &Flotation) -> (f64, Vec<Line>) {
    let mut lines = Vec::new();
    let mut line = |text: String, value: f64, unit: &'static str, source: &'static str| {
        lines.push(Line { text, value, unit, source });
        value
    };
    let hull = line(
        format!("hull {:.0} kg less the {:.0} kg that its solids displace", f.hull, f.displaced),
        f.hull - f.displaced,
        "kg",
        "Archimedes; fresh water, 33 CFR 183.105",
    );
    let motor = f.drive.horsepower().map_or(0.0, |hp| {
        line(
            format!("motor of {hp:.1} hp with controls and battery, under water"),
            swamped_weight(hp) * KG_PER_POUND,
            "kg",
            "33 CFR table 183.75",
        )
    });
    let (how, source) = match f.drive {
        Drive::Outboard(_) => {
            ("half of it up to 250 kg (550 lb), an eighth of the rest", SUBPART_G)
        }
        _ => ("2/15 of it", SUBPART_H),
    };
    let persons = line(
        format!("persons of {:.0} kg: {how}", f.persons * KG_PER_POUND),
        counted_persons(f.drive, f.persons) * KG_PER_POUND,
        "kg",
        source,
    );
    let dead = (f.capacity - f.persons - f.motor).max(0.0);
    let dead = line(
        format!(
            "a quarter of the dead weight, {:.0} kg: all less persons and motor",
            dead * KG_PER_POUND
        ),
        0.25 * dead * KG_PER_POUND,
        "kg",
        "33 CFR part 183 subparts G and H (from memory), as 183.105",
    );
    let needed = (hull + motor + persons + dead).max(0.0);
    let litres = line(
        format!("foam of {:.0} kg/m³ that lifts {needed:.0} kg", f.foam),
        needed / (1000.0 - f.foam) * 1000.0,
        "litres",
        "Archimedes",
    );
    (litres, lines)
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
            }],
        );
        assert!((mesh.volume() - 44.0).abs() < 1e-12);
    }

    /// K = (SG − 1)/SG of shared check values, file 01, section 8: plywood of 0.55 lifts
    /// 0.818 of its weight; what 100 kg of it lack for a load is made up by foam.
    #[test]
    fn the_arithmetic_by_hand() {
        let base = Flotation {
            hull: 100.0,
            displaced: 100.0 / 0.55,
            drive: Drive::Manual,
            persons: 0.0,
            capacity: 0.0,
            motor: 0.0,
            foam: 32.0,
        };
        let (none, lines) = foam_needed(&base);
        assert_eq!(none, 0.0);
        assert!((lines[0].value + 81.818).abs() < 1e-3, "{}", lines[0].value);
        // 9.9 hp: 94 swamped, 5 controls, 11 battery; persons 550 lb; 732 less 550 and 185.
        let boat = Flotation {
            drive: Drive::Outboard(9.9),
            persons: 650.0,
            capacity: 900.0,
            motor: 185.0,
            ..base
        };
        let pounds = 94.0 + 5.0 + 11.0 + 275.0 + 12.5 + 0.25 * 65.0;
        let want = (pounds * KG_PER_POUND - 81.818_18) / 0.968;
        assert!((foam_needed(&boat).0 - want).abs() < 1e-3);
    }
}
