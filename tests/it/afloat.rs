//! Afloat, beside closed forms and published tables.
//!
//! Truth: closed forms of simple bodies, exact section clipping for heeled prisms, worked
//! examples of Barrass and Derrett, *Ship Stability for Masters and Mates*; and
//! `tests/reference/afloat.py` (trimesh and shapely on the outside mesh).

use chinewright::float::body::{Body, Floats};
use chinewright::float::curves::at_draft;
use chinewright::float::equilibrium::{Weight, float, height_for, upward};
use chinewright::float::righting::righting;
use chinewright::float::volume::{Water, immersed};
use chinewright::geom::mesh::{Mesh, MeshBuilder};
use chinewright::geom::{P3, V3};
use chinewright::hull::starters::{self, STARTERS};
use chinewright::material::Materials;
use chinewright::model::derive;
use serde::Deserialize;

use crate::reference::frozen;

const FRESH: f64 = 1000.0;

#[derive(Deserialize)]
struct Table {
    hulls: Vec<MeshHull>,
}

#[derive(Deserialize)]
struct MeshHull {
    name: String,
    volume_mm3: f64,
    area_mm2: f64,
    planes: Vec<Cut>,
}

#[derive(Deserialize)]
struct Cut {
    normal: [f64; 3],
    offset_mm: f64,
    volume_mm3: f64,
    centroid: [f64; 3],
    waterplane_mm2: f64,
    flotation: [f64; 3],
    inertia_mm4: [f64; 3],
    wetted_mm2: f64,
    lid_mm2: f64,
}

/// Every starter's outside mesh under eleven planes, level, trimmed, heeled and both.
#[test]
fn the_starters_meshes_agree_with_trimesh_and_shapely() {
    let table: Table = frozen("afloat.json");
    assert_eq!(table.hulls.len(), starters::STARTERS.len());
    let mut compared = 0;
    for hull in table.hulls {
        let starter = starters::find(&hull.name).expect("a starter");
        let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
        let mesh = model.mesh(true);
        // The issue asks for a tenth of a percent; that it is the same hull, for much less.
        near(mesh.volume(), hull.volume_mm3, 1e-5, "the whole");
        near(mesh.area(), hull.area_mm2, 1e-5, "its area");
        for cut in hull.planes {
            let [x, y, z] = cut.normal;
            let water = Water::new(V3::new(x, y, z), cut.offset_mm).expect("a plane");
            let found = immersed(&mesh, &water);
            near(found.volume, cut.volume_mm3, 1e-5, "volume");
            near(found.waterplane, cut.waterplane_mm2, 1e-5, "waterplane");
            near(found.wetted, cut.wetted_mm2 + cut.lid_mm2, 1e-5, "wetted");
            let size = (cut.inertia_mm4[0] * cut.inertia_mm4[1]).sqrt();
            near(found.inertia[0], cut.inertia_mm4[0], 1e-5, "inertia across");
            near(found.inertia[1], cut.inertia_mm4[1], 1e-5, "inertia along");
            assert!((found.inertia[2] - cut.inertia_mm4[2]).abs() < 1e-5 * size);
            let apart = |p: P3, q: [f64; 3]| (p - P3::new(q[0], q[1], q[2])).norm();
            assert!(apart(found.centroid, cut.centroid) < 0.01, "{}", hull.name);
            assert!(apart(found.flotation, cut.flotation) < 0.01, "{}", hull.name);
            compared += 1;
        }
    }
    assert_eq!(compared, 44);
}

/// A prism of this half section (y, z from the keel up) from x = 0 to `length` mm.
fn prism(half: &[(f64, f64)], length: f64) -> Mesh {
    let mut ring: Vec<(f64, f64)> = half.to_vec();
    ring.extend(half.iter().rev().filter(|p| p.0 > 0.0).map(|p| (-p.0, p.1)));
    let mut b = MeshBuilder::default();
    let at = |p: (f64, f64), x: f64| P3::new(x, p.0, p.1);
    let n = ring.len();
    for i in 0..n {
        let (p, q) = (ring[i], ring[(i + 1) % n]);
        // The ring runs anticlockwise seen from astern, so its outside is on the right.
        b.triangle(at(p, 0.0), at(q, length), at(p, length));
        b.triangle(at(p, 0.0), at(q, 0.0), at(q, length));
    }
    for i in 1..n - 1 {
        b.triangle(at(ring[0], length), at(ring[i], length), at(ring[i + 1], length));
        b.triangle(at(ring[0], 0.0), at(ring[i + 1], 0.0), at(ring[i], 0.0));
    }
    let mesh = b.finish();
    assert!(mesh.closed_faults().is_empty() && mesh.volume() > 0.0);
    mesh
}

fn cuboid(l: f64, b: f64, d: f64) -> Mesh {
    prism(&[(0.5 * b, 0.0), (0.5 * b, d)], l)
}

/// Wigley's parabolic hull, its waterline at z = 0, with upright sides above.
fn wigley(l: f64, b: f64, t: f64) -> Mesh {
    const NX: usize = 240;
    const NZ: usize = 80;
    let y = |x: f64, z: f64| {
        let s = 2.0 * x / l - 1.0;
        let w = (z / t).min(0.0);
        0.5 * b * (1.0 - s * s) * (1.0 - w * w)
    };
    let mut out = MeshBuilder::default();
    let mut skin = |p: [P3; 3]| {
        out.triangle(p[0], p[1], p[2]);
        let m = p.map(|p| P3::new(p.x, -p.y, p.z));
        out.triangle(m[0], m[2], m[1]);
    };
    let x_at = |i: usize| l * i as f64 / NX as f64;
    let z_at = |k: usize| if k <= NZ { -t + t * k as f64 / NZ as f64 } else { 0.5 * t };
    let p = |i: usize, k: usize| P3::new(x_at(i), y(x_at(i), z_at(k)), z_at(k));
    for i in 0..NX {
        for k in 0..=NZ {
            // Starboard: aft along x, up along z, outward is +y.
            skin([p(i, k), p(i, k + 1), p(i + 1, k)]);
            skin([p(i + 1, k), p(i, k + 1), p(i + 1, k + 1)]);
        }
        let top = |i: usize| p(i, NZ + 1);
        skin([top(i), P3::new(x_at(i), 0.0, 0.5 * t), top(i + 1)]);
        skin([top(i + 1), P3::new(x_at(i), 0.0, 0.5 * t), P3::new(x_at(i + 1), 0.0, 0.5 * t)]);
    }
    let mesh = out.finish();
    assert!(mesh.volume() > 0.0);
    mesh
}

fn near(a: f64, b: f64, share: f64, what: &str) {
    assert!((a - b).abs() <= share * b.abs().max(1e-12), "{what}: {a} {b}");
}

/// Closed forms: L B T, L B T/2, and a trapezoid's area and centroid.
#[test]
fn a_box_a_wedge_and_a_trapezoid() {
    let (l, b, t) = (4000.0, 1200.0, 200.0);
    let found = immersed(&cuboid(l, b, 800.0), &Water::level(t));
    near(found.volume, l * b * t, 1e-12, "box");
    near(found.centroid.z, 0.5 * t, 1e-12, "box KB");
    near(found.waterplane, l * b, 1e-12, "box waterplane");
    near(found.inertia[0], l * b.powi(3) / 12.0, 1e-12, "box I across");
    near(found.inertia[1], b * l.powi(3) / 12.0, 1e-12, "box I along");
    near(found.wetted, l * b + 2.0 * t * (l + b), 1e-12, "box wetted");
    assert!((found.flotation - P3::new(0.5 * l, 0.0, t)).norm() < 1e-6);
    // Apex down: sides rise 300 over half of 1200.
    let wedge = prism(&[(0.0, 0.0), (1200.0, 600.0)], l);
    let t = 300.0;
    let b = 2.0 * 600.0;
    let found = immersed(&wedge, &Water::level(t));
    near(found.volume, 0.5 * l * b * t, 1e-12, "wedge");
    near(found.centroid.z, 2.0 * t / 3.0, 1e-12, "wedge KB");
    near(found.inertia[0] / found.volume, b * b / (6.0 * t), 1e-12, "wedge BM");
    let wet = 2.0 * l * t.hypot(0.5 * b) + b * t;
    near(found.wetted, wet, 1e-12, "wedge wetted");
    // Trapezoid: b at the bottom, B at the waterline.
    let (small, wide, t) = (1000.0, 1200.0, 200.0);
    let found = immersed(&prism(&[(500.0, 0.0), (750.0, 500.0)], l), &Water::level(t));
    near(found.volume, l * t * (small + wide) / 2.0, 1e-12, "trapezoid");
    near(found.centroid.z, t * (small + 2.0 * wide) / (3.0 * (small + wide)), 1e-12, "its KB");
    let bm = wide.powi(3) / (6.0 * t * (small + wide));
    near(found.inertia[0] / found.volume, bm, 1e-12, "its BM");
}

#[test]
fn a_wigley_hull_to_a_tenth_of_a_percent() {
    let (l, b, t) = (4000.0, 1200.0, 300.0);
    let mesh = wigley(l, b, t);
    let found = immersed(&mesh, &Water::level(0.0));
    near(found.volume, 4.0 / 9.0 * l * b * t, 1e-3, "volume");
    near(found.waterplane, 2.0 / 3.0 * l * b, 1e-3, "waterplane");
    near(found.centroid.z + t, 5.0 * t / 8.0, 1e-3, "KB");
    near(found.inertia[0] / found.volume, 411.428_571, 1e-3, "BM across");
    near(found.inertia[1] / found.volume, 4000.0, 1e-3, "BM along");
    near(found.wetted, 4.353_453_380_38e6, 1e-3, "wetted");
    let row = at_draft(&mesh, t, FRESH).expect("afloat");
    for (got, coefficient) in
        row.coefficients.iter().zip([4.0 / 9.0, 2.0 / 3.0, 2.0 / 3.0, 2.0 / 3.0])
    {
        near(*got, coefficient, 2e-3, "coefficient");
    }
    near(row.displacement, 640.0, 1e-3, "displacement");
}

/// A horizontal cylinder's metacentre is on its axis at every draft and heel.
#[test]
fn a_cylinder_s_metacentre_lies_on_its_axis() {
    const N: usize = 720;
    let r = 1000.0;
    let half: Vec<(f64, f64)> = (0..=N / 2)
        .map(|i| std::f64::consts::TAU * i as f64 / N as f64)
        .map(|a| (if i_end(a) { 0.0 } else { r * a.sin() }, r - r * a.cos()))
        .collect();
    fn i_end(a: f64) -> bool {
        a == 0.0 || (a - std::f64::consts::PI).abs() < 1e-9
    }
    let mesh = prism(&half, 3000.0);
    for (draft, area, kb, bm) in [
        (250.0, 0.226655876989, 0.148844631806, 0.851155368194),
        (500.0, 0.614184849304, 0.294979838101, 0.705020161899),
        (1000.0, std::f64::consts::FRAC_PI_2, 0.575586818422, 0.424413181578),
        (1500.0, 2.52740780429, 0.828673195850, 0.171326804150),
    ] {
        for heel in [0.0, 0.4] {
            let up = upward(0.0, heel);
            // The same depth of water over the axis whatever the heel.
            let axis = P3::new(0.0, 0.0, r).coords.dot(&up);
            let found = immersed(&mesh, &Water::new(up, axis - r + draft).expect("a plane"));
            near(found.volume, area * 3000.0 * 1e6, 1e-4, "area");
            near(found.inertia[0] / found.volume, 1000.0 * bm, 2e-4, "BM");
            let below = (P3::new(1500.0, 0.0, r) - found.centroid).dot(&up);
            near(r - below, 1000.0 * kb, 2e-4, "KB");
        }
    }
}

/// 80 kg moved on a box of 960 kg: the exact root of (GM + BM t²/2) t = w d/W, t = tan φ
/// (wall-sided formula, Barrass and Derrett, as above).
#[test]
fn a_weight_moved_on_a_box_barge() {
    let mesh = cuboid(4000.0, 1200.0, 800.0);
    let at = |aft: f64, out: f64| Weight {
        mass: 960.0,
        centre: P3::new(2000.0 + aft * 80.0 / 960.0, out * 80.0 / 960.0, 300.0),
    };
    let level = float(&mesh, at(0.0, 0.0), FRESH, (0.0, 0.0)).expect("she floats");
    assert!(level.trim.abs() < 1e-9 && level.heel.abs() < 1e-9);
    near(level.water.plane.offset, 200.0, 1e-9, "draft");
    let ahead = float(&mesh, at(-500.0, 0.0), FRESH, (0.0, 0.0)).expect("she floats");
    near(-ahead.trim.tan(), 0.006_443_161_090_99, 1e-6, "trim by the bow");
    let beside = float(&mesh, at(0.0, 200.0), FRESH, (0.0, 0.0)).expect("she floats");
    near(beside.heel.tan(), 0.041_612_624_024_8, 1e-6, "heel to starboard");
}

fn gz(mesh: &Mesh, mass: f64, kg: f64, length: f64, degrees: &[f64]) -> Vec<f64> {
    let heels: Vec<f64> = degrees.iter().map(|d| d.to_radians()).collect();
    let weight = Weight { mass, centre: P3::new(0.5 * length, 0.0, kg) };
    righting(mesh, weight, FRESH, &[], &heels).points.iter().map(|p| p.arm).collect()
}

/// A box 12 by 8 at draft 4, KG 4: inside the wall-sided range by the formula, beyond it by
/// exact clipping; then a flared flat bottom and a right-angled wedge.
#[test]
fn righting_arms_of_prisms() {
    let l = 1000.0;
    let box_mesh = cuboid(l, 12_000.0, 8000.0);
    let mass = l * 12_000.0 * 4000.0 * 1e-6;
    let angles = [5.0, 10.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0];
    let exact = [
        0.08815641264,
        0.1817465741,
        0.4099834781,
        0.5604612293,
        0.75,
        1.133651595,
        1.155849769,
        0.9814814815,
    ];
    for (got, want) in gz(&box_mesh, mass, 4000.0, l, &angles).iter().zip(exact) {
        near(*got, 1000.0 * want, 1e-6, "box");
    }
    let flared = prism(&[(500.0, 0.0), (750.0, 500.0)], l);
    let exact = [
        0.02708029587,
        0.05563158290,
        0.08731223391,
        0.1241919799,
        0.1563130031,
        0.1651905568,
        0.1394133662,
    ];
    let angles = [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0];
    for (got, want) in gz(&flared, 0.22 * l, 450.0, l, &angles).iter().zip(exact) {
        near(*got, 1000.0 * want, 1e-6, "flared");
    }
    let wedge = prism(&[(0.0, 0.0), (2000.0, 2000.0)], l);
    let exact = [0.01206807740, 0.02683854270, 0.07918467243, 0.2164965809, 0.4145053308];
    for (got, want) in gz(&wedge, l, 1200.0, l, &[5.0, 10.0, 20.0, 30.0, 40.0]).iter().zip(exact) {
        near(*got, 1000.0 * want, 1e-6, "wedge");
    }
}

/// Heavier never floats higher; the order of triangles and the place of the origin do not
/// matter.
#[test]
fn sinkage_grows_with_weight_and_the_mesh_s_order_does_not_matter() {
    let mesh = wigley(4000.0, 1200.0, 300.0);
    let mut last = f64::NEG_INFINITY;
    for k in 1..20 {
        let volume = 0.045 * f64::from(k) * mesh.volume();
        let (water, found) = height_for(&mesh, upward(0.02, 0.1), volume).expect("afloat");
        near(found.volume, volume, 1e-8, "volume");
        assert!(water.plane.offset > last);
        last = water.plane.offset;
    }
    let water = Water::new(upward(0.03, 0.2), -40.0).expect("a plane");
    let here = immersed(&mesh, &water);
    let mut turned = mesh.clone();
    turned.triangles.reverse();
    for t in &mut turned.triangles {
        t.rotate_left(1);
    }
    let there = immersed(&turned, &water);
    near(there.volume, here.volume, 1e-10, "volume");
    near(there.inertia[0], here.inertia[0], 1e-8, "inertia");
    assert!((there.centroid - here.centroid).norm() < 1e-5);
}

/// How far a body reaches along any way is told by boxes, and is that of its furthest vertex.
#[test]
fn a_body_reaches_as_far_as_its_vertices() {
    for starter in STARTERS {
        let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
        for outside in [false, true] {
            let mesh = model.mesh(outside);
            let body = Body::of(&mesh);
            for i in 0..60 {
                let (trim, heel) = (0.05 * f64::from(i % 7 - 3), 0.11 * f64::from(i - 30));
                let up = upward(trim, heel);
                assert_eq!(body.reach(up), mesh.reach(up), "{} {trim} {heel}", starter.name);
            }
        }
    }
}
