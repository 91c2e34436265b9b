//! Weights, swamping and waterlines, beside published figures and independent
//! programs.
//!
//! Truth: worked examples of textbooks, named beside each, `tests/reference/swamped.py` (exact
//! rationals and trimesh), and closed forms named below.

use chinewright::float::capacity::Drive;
use chinewright::float::equilibrium::{Weight, float};
use chinewright::float::flotation::{Flotation, foam_needed};
use chinewright::float::mass::Basis;
use chinewright::float::mass::{Item, ItemId, total};
use chinewright::float::swamped::block;
use chinewright::float::volume::{Water, immersed};
use chinewright::geom::mesh::{Mesh, MeshBuilder};
use chinewright::geom::{P3, V3};
use chinewright::hull::starters::STARTERS;
use chinewright::hull::{Foam, Hull};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::part::CaseId;
use serde::Deserialize;

use crate::reference::frozen;

fn near(a: f64, b: f64, share: f64, what: &str) {
    assert!((a - b).abs() <= share * b.abs().max(1e-12), "{what}: {a} {b}");
}

fn model_of(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a hull")
}

#[derive(Deserialize)]
struct Swamped {
    loads: Vec<SwampedLoad>,
    heavier: Vec<SwampedLoad>,
    awash: Vec<Awash>,
    awash_load_kg: f64,
    aside: Vec<Aside>,
    aside_y_mm: f64,
}

#[derive(Deserialize)]
struct Awash {
    level_mm: f64,
    shell_mm3: f64,
    foam_mm3: f64,
    litres: f64,
}

#[derive(Deserialize)]
struct Aside {
    load_kg: f64,
    heel_deg: f64,
}

#[derive(Deserialize)]
struct SwampedLoad {
    load_kg: f64,
    floats: bool,
    height_mm: Option<f64>,
    gm_mm: Option<f64>,
    kb_mm: Option<f64>,
    waterplane_mm2: Option<f64>,
}

/// A block of foam on each side.
fn foam(mesh: &mut Mesh, blocks: &[Foam]) {
    for f in blocks {
        for side in [1.0, -1.0] {
            let at = |[x, y, z]: [f64; 3]| P3::new(x, side * y, z);
            block(mesh, at(f.from), at(f.to));
        }
    }
}

/// An open box of wood with foam along its sides, full of water.
#[test]
fn a_swamped_box_floats_on_its_wood_and_foam() {
    let mut solids = Mesh::default();
    block(&mut solids, P3::new(0.0, -600.0, 0.0), P3::new(3000.0, 600.0, 450.0));
    let mut hollow = Mesh::default();
    block(&mut hollow, P3::new(20.0, -580.0, 20.0), P3::new(2980.0, 580.0, 450.0));
    let first = solids.vertices.len() as u32;
    solids.vertices.extend(&hollow.vertices);
    solids
        .triangles
        .extend(hollow.triangles.iter().map(|t| [t[0] + first, t[2] + first, t[1] + first]));
    let wood = solids.volume() * 500e-9;
    let outer = 3000.0 * 1200.0 * 450.0;
    let inner = 2960.0 * 1160.0 * 430.0;
    let wood_height = (outer * 225.0 - inner * 235.0) / (outer - inner);
    near(wood, (outer - inner) * 500e-9, 1e-9, "wood");
    let blocks = [Foam {
        name: "side".into(),
        from: [300.0, 480.0, 280.0],
        to: [2700.0, 580.0, 430.0],
        both_sides: true,
        density_kg_m3: 32.0,
        box_ply_mm: 0.0,
    }];
    let shell = solids.clone();
    foam(&mut solids, &blocks);
    let lift = blocks[0].volume() * 32e-9;
    let table: Swamped = frozen("swamped.json");
    // What is under level water lifts, what stands above it does not, wood or foam.
    for row in &table.awash {
        let water = Water::level(row.level_mm);
        let under = immersed(&shell, &water).volume;
        near(under, row.shell_mm3, 1e-9, "the shell under water");
        let mut buoyant = Mesh::default();
        foam(&mut buoyant, &blocks);
        near(immersed(&buoyant, &water).volume, row.foam_mm3, 1e-9, "the foam under water");
        let asked = Flotation {
            hull: wood + table.awash_load_kg,
            under: under * 1e-6,
            displaced: (outer - inner) * 1e-6,
            drive: Drive::Manual,
            persons: 0.0,
            capacity: 0.0,
            motor: 0.0,
            foam: 32.0,
        };
        near(foam_needed(&asked).0, row.litres, 1e-9, "what is asked");
    }
    // Half of the load at one side: she rests at this heel.
    for row in &table.aside {
        let mass = wood + lift + row.load_kg;
        let up = (wood * wood_height + lift * 355.0 + row.load_kg * 200.0) / mass;
        let out = 0.5 * row.load_kg * table.aside_y_mm / mass;
        let weight = Weight { mass, centre: P3::new(1500.0, out, up) };
        let f = float(&solids, weight, 1000.0, (0.0, 0.0)).expect("she floats");
        near(f.heel.to_degrees(), row.heel_deg, 1e-5, "heel");
    }
    for case in table.loads.iter().chain(&table.heavier) {
        let mass = wood + lift + case.load_kg;
        let height = (wood * wood_height + lift * 355.0 + case.load_kg * 200.0) / mass;
        let weight = Weight { mass, centre: P3::new(1500.0, 0.0, height) };
        let found = float(&solids, weight, 1000.0, (0.0, 0.0));
        assert_eq!(found.is_some(), case.floats, "{} kg", case.load_kg);
        let Some(f) = found else {
            continue;
        };
        near(f.water.plane.offset, case.height_mm.expect("a height"), 1e-6, "height");
        near(f.immersed.centroid.z, case.kb_mm.expect("KB"), 1e-6, "KB");
        near(f.immersed.waterplane, case.waterplane_mm2.expect("area"), 1e-6, "waterplane");
        let gm = f.immersed.inertia[0] / f.immersed.volume - (height - f.immersed.centroid.z);
        near(gm, case.gm_mm.expect("GM"), 1e-6, "GM");
    }
}

/// Biran, *Ship Hydrostatics and Stability* (2003), section 7.2.2: the weights of a small cargo
/// ship; tonnes and metres.
#[test]
fn a_published_table_of_weights_adds_up() {
    let rows = [
        (1247.66, 5.93, 32.04),
        (3.60, 9.60, 11.00),
        (5.00, 7.30, 3.50),
        (177.21, 1.56, 30.88),
        (4.50, 4.65, 8.45),
        (103.09, 4.61, 27.19),
        (993.94, 4.35, 42.62),
        (90.00, 6.08, 38.66),
    ];
    let items: Vec<Item> = rows
        .iter()
        .map(|(mass, vcg, lcg)| Item {
            id: ItemId::Whole,
            name: String::new(),
            mass: *mass,
            centre: P3::new(*lcg, 0.0, *vcg),
            solid: 0.0,
            basis: Basis::Solid(0.0),
            source: String::new(),
            computed: None,
        })
        .collect();
    let (mass, centre) = total(&items);
    near(mass, 2625.0, 1e-12, "mass");
    near(centre.z, 4.995_482, 1e-6, "VCG");
    near(centre.x, 35.880_585, 1e-6, "LCG");
}

/// Barrass and Derrett, p. 74: half-ordinates 0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1 m over 120 m;
/// Simpson's rule gives 1207 m² and 12.37 tonnes a centimetre in salt water. Simpson's rule
/// is exact for parabolas, so the waterplane is made of them.
#[test]
fn a_textbook_waterplane_by_simpson_s_rule() {
    const HALF: [f64; 7] = [0.0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1];
    let y = |x: f64| {
        let k = ((x / 40.0) as usize).min(2);
        let s = (x - 40.0 * k as f64) / 20.0;
        let [a, b, c] = [HALF[2 * k], HALF[2 * k + 1], HALF[2 * k + 2]];
        a + s * (b - a) + 0.5 * s * (s - 1.0) * (c - 2.0 * b + a)
    };
    const PIECES: usize = 1200;
    let mut b = MeshBuilder::default();
    let at = |i: usize, side: f64, z: f64| {
        let x = 120.0 * i as f64 / PIECES as f64;
        1000.0 * V3::new(x, side * y(x), z)
    };
    let mut quad = |p: [V3; 4]| {
        let [a, c, d, e] = p.map(P3::from);
        b.triangle(a, c, d);
        b.triangle(a, d, e);
    };
    for i in 0..PIECES {
        quad([at(i, 1.0, 0.0), at(i, 1.0, 4.0), at(i + 1, 1.0, 4.0), at(i + 1, 1.0, 0.0)]);
        quad([at(i, -1.0, 0.0), at(i + 1, -1.0, 0.0), at(i + 1, -1.0, 4.0), at(i, -1.0, 4.0)]);
        quad([at(i, 1.0, 4.0), at(i, -1.0, 4.0), at(i + 1, -1.0, 4.0), at(i + 1, 1.0, 4.0)]);
        quad([at(i, 1.0, 0.0), at(i + 1, 1.0, 0.0), at(i + 1, -1.0, 0.0), at(i, -1.0, 0.0)]);
    }
    let n = PIECES;
    quad([at(n, 1.0, 0.0), at(n, 1.0, 4.0), at(n, -1.0, 4.0), at(n, -1.0, 0.0)]);
    let mesh = b.finish();
    assert!(mesh.closed_faults().is_empty() && mesh.volume() > 0.0);
    let found = immersed(&mesh, &Water::level(2000.0));
    near(found.waterplane * 1e-6, 1_206.666_667, 1e-5, "m²");
    // The book divides by 97.56, which is 100 / 1.025 rounded.
    near(found.waterplane * 1e-6 / 97.56, 12.368_458, 1e-5, "t/cm");
}

/// The figures of the thin mesh that she floats on, beside the whole one's, within the
/// tenth of a percent that is asked for.
#[test]
fn the_mesh_that_she_floats_on_is_fine_enough() {
    for starter in STARTERS {
        let model = model_of(&starter.hull());
        let a = model.afloat.as_deref().expect("she floats");
        assert!(a.mesh_error < 1e-3, "{}", a.mesh_error);
        let whole = model.mesh(true);
        for name in [CaseId::Empty, CaseId::Alone, CaseId::Full] {
            let case = a.case(name).expect("a case");
            let f = case.floating.expect("she floats");
            let fine = immersed(&whole, &f.water);
            near(f.immersed.volume, fine.volume, 1e-3, "volume");
            near(f.immersed.volume * a.density * 1e-9, case.weight.mass, 1e-6, "weight");
            near(f.immersed.waterplane, fine.waterplane, 1e-3, "waterplane");
            near(f.immersed.wetted, fine.wetted, 1e-3, "wetted");
            near(f.immersed.inertia[0], fine.inertia[0], 2e-3, "inertia");
            assert!((f.immersed.centroid - fine.centroid).norm() < 1.5, "{}", starter.name);
        }
    }
}

/// The marked line on a pattern is as long as on the hull, and every station's height and
/// distance from the sheer is that of the section.
#[test]
fn the_waterline_is_the_same_on_hull_pattern_and_station() {
    for starter in STARTERS {
        let model = model_of(&starter.hull());
        let marked = model.afloat.as_ref().and_then(|a| a.marked.as_ref()).expect("marked");
        let plane = marked.water.plane;
        let mut compared = 0.0f64;
        for p in &model.panels {
            let runs =
                chinewright::flat::marks::on_outside(&p.flat, &p.surface, plane, p.thickness);
            let flat: f64 =
                runs.iter().flat_map(|r| r.windows(2)).map(|w| (w[1] - w[0]).norm()).sum();
            let mut cut = chinewright::panel::section(&p.surface, plane, p.thickness);
            cut.sort_by(|a, b| a.x.total_cmp(&b.x));
            let hull: f64 = cut.windows(2).map(|w| (w[1] - w[0]).norm()).sum();
            if runs.len() == 1 && hull > 500.0 {
                // The sheet's middle lies half a thickness inside its face.
                near(flat, hull, 0.01, &p.name);
                compared += hull;
            }
        }
        assert!(compared > 1000.0, "{}: {compared}", starter.name);
        for s in &marked.stations {
            assert!((plane.distance(s.at)).abs() < 1e-6 && (s.at.x - s.x).abs() < 1e-6);
            // Straight from the sheer over the chines that are dry. The skin bulges by little,
            // and its outside lies a thickness further out.
            let at = |line: &chinewright::hull::HullLine| {
                line.spline.parameter_at_x(s.x).map(|t| line.spline.at(t))
            };
            let dry = model.lines.lines.iter().rev().filter_map(at).filter(|p| p.z > s.at.z);
            let way: Vec<P3> = dry.chain([s.at]).collect();
            let straight: f64 = way.windows(2).map(|w| (w[1] - w[0]).norm()).sum();
            let thick = model.panels.last().expect("a side").thickness;
            let within = straight - thick..=1.02 * straight + thick;
            assert!(within.contains(&s.down), "{} {straight}", s.down);
            assert!(s.boot_top_down.is_none_or(|d| d < s.down && d > s.down - 250.0));
        }
    }
}
