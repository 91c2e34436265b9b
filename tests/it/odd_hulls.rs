//! Odd but legal hulls: their meshes, ends and figures.

use chinewright::finding::{AfloatFact, Fact, Finding, Severity, StemFact, TransomFact};
use chinewright::geom::mesh::Mesh;
use chinewright::geom::slivers::LEAST_MM;
use chinewright::hull::check::faults;
use chinewright::hull::starters::{STARTERS, find};
use chinewright::hull::{Duck, Hull, Line, LineEnd};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::part::AtEnd;
use proptest::prelude::*;

use crate::properties::{config, hull_of, wish};

fn computed(hull: &Hull, what: &str) -> Model {
    derive(hull, &Materials::shipped()).unwrap_or_else(|f| panic!("{what}: {f:?}"))
}

/// What a mesh reader asks of a solid: every edge in exactly two triangles that run it in
/// opposite directions, no triangle without area, an outward volume.
fn solid(mesh: &Mesh, what: &str) {
    assert_eq!(mesh.closed_faults(), [], "{what}: open or doubled edges");
    let floor = 0.25 * LEAST_MM * LEAST_MM;
    for [a, b, c] in mesh.corners() {
        let area = 0.5 * (b - a).cross(&(c - a)).norm();
        assert!(area > floor, "{what}: a triangle of {area:e} mm² at {a}");
    }
    assert!(mesh.volume() > 0.0, "{what}: {}", mesh.volume());
    // As an STL has it: single precision, corners that are the same bits are one vertex.
    let mut index = std::collections::HashMap::new();
    let mut single = Mesh::default();
    for corners in mesh.corners() {
        let t = corners.map(|p| {
            let key = [p.x, p.y, p.z].map(|c| (c as f32 + 0.0).to_bits());
            *index.entry(key).or_insert_with(|| {
                single.vertices.push(p.map(|c| f64::from(c as f32)));
                single.vertices.len() as u32 - 1
            })
        });
        assert!(t[0] != t[1] && t[1] != t[2] && t[2] != t[0], "{what}: a triangle folds up");
        single.triangles.push(t);
    }
    assert_eq!(single.closed_faults(), [], "{what}: open or doubled edges in single precision");
    assert!(single.corners().all(|[a, b, c]| (b - a).cross(&(c - a)).norm() > 0.0), "{what}");
}

/// A starter with every line's ducks changed.
fn changed(name: &str, change: &dyn Fn(usize, &mut Line)) -> Hull {
    let mut hull = find(name).expect(name).hull();
    for (i, line) in hull.lines.iter_mut().enumerate() {
        change(i, line);
    }
    hull
}

/// With a keel at its chine's heights, moved by `dz`: a bottom drawn plane.
fn plane_bottom(name: &str, dz: f64) -> Hull {
    let mut hull = find(name).expect(name).hull();
    hull.lines.retain(|l| l.name != "keel");
    let chine = &hull.lines[0];
    let ducks = chine.ducks.iter().map(|d| Duck::at(d.x, 0.0, d.z - dz)).collect();
    let (bow, stern) = (LineEnd::default(), LineEnd::default());
    hull.lines.insert(0, Line { name: "keel".into(), ducks, bow, stern });
    hull
}

/// Hulls that once had triangles without area, in the program's precision or in a file's.
fn odd() -> Vec<(String, Hull)> {
    let mut out: Vec<(String, Hull)> = Vec::new();
    for starter in STARTERS {
        let name = starter.name;
        for dz in [0.0, 1e-6, -1e-6, 1e-3] {
            out.push((format!("{name}, plane bottom {dz}"), plane_bottom(name, dz)));
        }
        let ends = |l: &mut Line| l.ducks = vec![l.ducks[0], l.ducks[l.ducks.len() - 1]];
        out.push((format!("{name}, two ducks"), changed(name, &|_, l| ends(l))));
        let sharp = |l: &mut Line| {
            if let Some(d) = l.ducks.last_mut() {
                d.y = 0.0;
            }
        };
        out.push((format!("{name}, sharp"), changed(name, &|_, l| sharp(l))));
        let mut trimmed = changed(name, &|_, l| sharp(l));
        (trimmed.bow.straight, trimmed.stern.straight) = (false, false);
        out.push((format!("{name}, sharp and trimmed"), trimmed));
        let sided = |l: &mut Line| l.ducks[0].y = if l.name == "keel" { 0.0 } else { 20.0 };
        out.push((format!("{name}, sided"), changed(name, &|_, l| sided(l))));
        // All lines end at one point of the transom.
        let sheer = starter.hull().lines.last().expect("a sheer").ducks.last().copied();
        let sheer = sheer.expect("a duck");
        for apart in [0.0, 1e-6, 1e-3, 0.1] {
            let pinched = changed(name, &|i, l| {
                let keel = l.name == "keel";
                let d = l.ducks.last_mut().expect("a duck");
                let off = apart * (9 - i) as f64;
                (d.x, d.y, d.z) = (sheer.x, if keel { 0.0 } else { sheer.y - off }, sheer.z - off);
            });
            out.push((format!("{name}, pinched to {apart}"), pinched));
        }
        out.extend(stems(name));
    }
    out.retain(|(_, hull)| faults(hull).is_empty());
    out
}

/// A stem squashed to nothing, or nearly.
fn stems(name: &str) -> Vec<(String, Hull)> {
    let hull = find(name).expect(name).hull();
    let head = hull.lines.last().expect("a sheer").ducks[0].z;
    let count = hull.lines.len();
    [0.0, 1e-9, 1e-6, 1e-4, 1e-3, 0.01, 0.1, 1.0, 3.0]
        .into_iter()
        .map(|apart| {
            let squashed = changed(name, &|i, l| {
                l.ducks.retain(|d| d.x > 300.0);
                let z = head - apart * (count - 1 - i) as f64;
                l.ducks.insert(0, Duck::at(100.0, 0.0, z));
            });
            (format!("{name}, stem of {apart}"), squashed)
        })
        .collect()
}

#[test]
fn odd_hulls_are_solids_that_a_mesh_reader_takes() {
    let all = odd();
    assert!(all.len() > 60, "{}", all.len());
    for (what, hull) in &all {
        let model = computed(hull, what);
        for outside in [false, true] {
            solid(&model.mesh(outside), &format!("{what}, outside: {outside}"));
        }
    }
}

#[test]
fn starters_are_solids_too() {
    for starter in STARTERS {
        let model = computed(&starter.hull(), starter.name);
        for outside in [false, true] {
            solid(&model.mesh(outside), starter.name);
        }
    }
}

/// A squashed stem was null in the report without a word, or one of a millimetre with a knee
/// and an outer stem of 12 m; a pinched transom had cleats without outline.
#[test]
fn an_end_squashed_to_nothing_is_a_finding_and_no_figure_is_none() {
    let mut told = 0;
    for (what, hull) in odd() {
        let model = computed(&hull, &what);
        let report = chinewright::report::json::report(&model, None);
        let text = chinewright::report::text::report(&model, hull.units, None);
        for word in ["NaN", " inf ", "-inf"] {
            assert!(!text.contains(word), "{what}: {word} in the report");
        }
        let ends = [("stem", "bow_transom", AtEnd::Bow), ("sternpost", "transom", AtEnd::Stern)];
        for (post, transom, end) in ends {
            if report[post].is_null() && report[transom].is_null() {
                let open = |f: &&Finding| match f.fact {
                    Fact::Transom(TransomFact::NotClosed(at)) => at == end,
                    Fact::Stem(StemFact::NotClosed(at)) => at == end,
                    _ => false,
                };
                let found = model.findings.iter().find(open);
                let found = found.unwrap_or_else(|| panic!("{what}: no {post} and no word of it"));
                assert_eq!(found.severity, Severity::Stop, "{found:?}");
                told += 1;
            }
        }
        if let Some(stem) = &model.woodwork.stem {
            assert!(stem.length >= 10.0 && stem.outline.len() >= 3, "{what}");
            assert!(!stem.bevels.is_empty(), "{what}");
        }
        for t in [&model.woodwork.transom, &model.woodwork.bow_transom].into_iter().flatten() {
            assert!(t.outline.len() >= 3, "{what}");
            for p in &t.framing {
                assert!(p.outline.len() >= 3, "{what}: the {} has no outline", p.name);
            }
        }
    }
    assert!(told >= 15, "{told}");
}

/// Hulls of next to no depth: a table of drafts ends where her waterline does, and its
/// coefficients are shares.
#[test]
fn coefficients_are_shares_at_every_draft() {
    let mut rows = 0;
    for starter in STARTERS {
        for step in [1e-3, 0.1, 0.6, 3.0, 20.0] {
            let flat = changed(starter.name, &|i, l| {
                l.ducks.iter_mut().for_each(|d| d.z = step * i as f64);
            });
            if !faults(&flat).is_empty() {
                continue;
            }
            let model = computed(&flat, starter.name);
            let Some(afloat) = &model.afloat else {
                assert!(model.findings.iter().any(no_space), "{} {step}", starter.name);
                continue;
            };
            for row in &afloat.curves {
                for c in row.coefficients {
                    assert!(c > 0.0 && c < 1.5, "{} {step}: {row:?}", starter.name);
                }
                assert!(row.lcf.abs() < 1e4 && row.moment_per_cm >= 0.0, "{row:?}");
                rows += 1;
            }
        }
    }
    assert!(rows > 20, "{rows}");
}

fn no_space(f: &Finding) -> bool {
    matches!(f.fact, Fact::Afloat(AfloatFact::NoSpace(_)))
}

/// A bottom above the sheer turns the hull inside out; lines in one plane hold nothing.
#[test]
fn a_hull_that_holds_no_room_says_so() {
    let over = |keel: f64, chine: f64, sheer: f64| {
        changed("warden", &|_, l| {
            let z = match l.name.as_str() {
                "keel" => keel,
                "chine" => chine,
                _ => sheer,
            };
            // The bottom may fall by half its breadth: little at the stem.
            l.ducks.iter_mut().for_each(|d| {
                d.z = z.min(if keel > 0.0 && l.name == "keel" { 0.3 * (d.x - 170.0) } else { z })
            });
        })
    };
    let mut checked = 0;
    for (what, hull) in
        [("in one plane", over(0.0, 0.0, 0.0)), ("keel over the sheer", over(60.0, 0.0, 1.0))]
    {
        if !faults(&hull).is_empty() {
            continue;
        }
        let model = computed(&hull, what);
        let room = model.mesh(false).volume();
        assert!(room < 1e6, "{what}: {room}");
        assert!(model.afloat.is_none(), "{what}");
        let found = model.findings.iter().find(|f| no_space(f));
        let found = found.unwrap_or_else(|| panic!("{what}: no word"));
        assert_eq!(found.severity, Severity::Stop);
        checked += 1;
    }
    assert!(checked >= 1, "{checked}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..config() })]

    /// Random hulls, and the same with their bow brought together and their bottom drawn plane
    /// by a keel of its own.
    #[test]
    fn random_hulls_are_solids(w in wish(), apart in prop_oneof![Just(0.0), 1e-6..5.0f64]) {
        let plain = hull_of(&w);
        let mut pinched = plain.clone();
        let head = plain.lines.last().expect("a sheer").ducks[0];
        let count = plain.lines.len();
        for (i, l) in pinched.lines.iter_mut().enumerate() {
            if l.ducks[1].x > head.x + 50.0 {
                l.ducks[0] = Duck::at(head.x, 0.0, head.z - apart * (count - 1 - i) as f64);
            }
        }
        let mut plane = plain.clone();
        if plane.line("keel").is_none() {
            let ducks = plane.lines[0].ducks.iter().map(|d| Duck::at(d.x, 0.0, d.z)).collect();
            let (bow, stern) = (LineEnd::default(), LineEnd::default());
            plane.lines.insert(0, Line { name: "keel".into(), ducks, bow, stern });
        }
        for (what, hull) in [("plain", plain), ("pinched", pinched), ("plane", plane)] {
            if faults(&hull).is_empty() {
                let model = computed(&hull, what);
                solid(&model.mesh(false), what);
                solid(&model.mesh(true), what);
            }
        }
    }
}
