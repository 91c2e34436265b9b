//! Sections, partly opened panels and slanted planes, beside what was computed elsewhere.
//!
//! Truth: `tests/reference/sections.py` (trimesh), `unfold.py` (rotation of whole tails,
//! checked there against spherical trigonometry) and `homography.py` (Hartley and
//! Zisserman's normalised algorithm 4.2).

use chinewright::flat::develop;
use chinewright::flat::unfold::{FloorPlace, Unfolding};
use chinewright::geom::homography::Homography;
use chinewright::geom::plane::Plane;
use chinewright::geom::polyline::length3;
use chinewright::geom::{P2, P3, V3};
use chinewright::hull::starters;
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::panel::{EdgeKind, Ruling, Surface, section};
use serde::Deserialize;

use crate::reference::frozen;

#[derive(Deserialize)]
struct Sections {
    hulls: Vec<Cuts>,
}

#[derive(Deserialize)]
struct Cuts {
    name: String,
    cuts: Vec<Cut>,
}

#[derive(Deserialize)]
struct Cut {
    x: f64,
    girth_mm: f64,
    points: Vec<[f64; 2]>,
}

/// Distance of (y, z) from a polyline.
fn off(p: P2, line: &[[f64; 2]]) -> f64 {
    line.windows(2)
        .map(|w| {
            let (a, b) = (P2::new(w[0][0], w[0][1]), P2::new(w[1][0], w[1][1]));
            let t = ((p - a).dot(&(b - a)) / (b - a).norm_squared().max(1e-12)).clamp(0.0, 1.0);
            (a + t * (b - a) - p).norm()
        })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn sections_lie_on_those_that_trimesh_cuts_of_the_hull_s_mesh() {
    let table: Sections = frozen("sections.json");
    for hull in table.hulls {
        let starter = starters::find(&hull.name).expect("a starter");
        let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
        for cut in hull.cuts {
            let plane = Plane::through(P3::new(cut.x, 0.0, 0.0), V3::x()).expect("a plane");
            let mut girth = 0.0;
            for p in &model.panels {
                let points = section(&p.surface, plane, 0.0);
                girth += length3(&points);
                for q in points {
                    let d = off(P2::new(q.y, q.z), &cut.points);
                    // Thinned to 0.02 mm there; edges are chords between rulings here.
                    assert!(d < 0.06, "{} {} at {}: {d}", hull.name, p.name, cut.x);
                }
            }
            let d = (girth - cut.girth_mm).abs();
            assert!(d < 0.1, "{} at {}: girth {girth}, {}", hull.name, cut.x, cut.girth_mm);
        }
    }
}

#[derive(Deserialize)]
struct Cone {
    rulings: Vec<[[f64; 3]; 2]>,
    ends: Vec<[usize; 2]>,
    opened: Vec<Opened>,
}

#[derive(Deserialize)]
struct Opened {
    share: f64,
    volume_mm3: f64,
    distances: Vec<Vec<f64>>,
}

#[test]
fn a_cone_s_patch_opens_as_turning_whole_tails_opens_it() {
    let cone: Cone = frozen("unfold.json");
    let rulings = cone
        .rulings
        .iter()
        .map(|[l, u]| Ruling {
            u: 0.0,
            v: 0.0,
            lower: P3::from(*l),
            upper: P3::from(*u),
            lower_on: EdgeKind::Line,
            upper_on: EdgeKind::Line,
            normal_lower: V3::zeros(),
            normal_upper: V3::zeros(),
            warp: 0.0,
        })
        .collect();
    let flat = develop(&Surface { rulings }, 0.0);
    let unfolding = Unfolding::of(&flat, FloorPlace { x: 0.0, y: 0.0, z: 0.0 });
    for opened in cone.opened {
        let open = unfolding.at(opened.share);
        let at: Vec<P3> = cone
            .ends
            .iter()
            .map(|[k, end]| if *end == 0 { open[*k].lower } else { open[*k].upper })
            .collect();
        for (i, row) in opened.distances.iter().enumerate() {
            for (j, d) in row.iter().enumerate() {
                let found = (at[i] - at[j]).norm();
                assert!((found - d).abs() < 1e-6, "{}: {i} {j} {found} {d}", opened.share);
            }
        }
        let (a, b, c, d) = (at[0], at[1], at[2], at[3]);
        let volume = (b - a).dot(&(c - a).cross(&(d - a))) / 6.0;
        assert!((volume - opened.volume_mm3).abs() < 0.1, "{volume}: opened the wrong way");
    }
}

#[derive(Deserialize)]
struct Slants {
    pairs: Vec<Slant>,
}

#[derive(Deserialize)]
struct Slant {
    name: String,
    from: [[f64; 2]; 4],
    to: [[f64; 2]; 4],
    probes: Vec<[f64; 2]>,
    images: Vec<[f64; 2]>,
}

#[test]
fn slanted_planes_show_places_where_the_normalised_method_does() {
    let table: Slants = frozen("homography.json");
    assert_eq!(table.pairs.len(), 12);
    for pair in table.pairs {
        let four = |c: [[f64; 2]; 4]| c.map(P2::from);
        let h = Homography::of(four(pair.from), four(pair.to)).expect("convex corners");
        for (p, q) in pair.probes.iter().zip(&pair.images) {
            let found = h.apply(P2::from(*p)).expect("in sight");
            let d = (found - P2::from(*q)).norm();
            assert!(d < 1e-8 * (1.0 + P2::from(*q).coords.norm()), "{}: {d}", pair.name);
        }
    }
}
