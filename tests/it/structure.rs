//! How far the skin is pressed in between its supports, beside what was computed elsewhere.
//!
//! Truth: `tests/reference/sag.py`.

use chinewright::finding::Severity;
use chinewright::frames::sag::Plate;
use chinewright::hull::{Hull, starters};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use serde::Deserialize;

use crate::reference::frozen;

#[derive(Deserialize)]
struct Table {
    plates: Vec<Clamped>,
    arches: Vec<Arch>,
}

#[derive(Deserialize)]
struct Clamped {
    a: f64,
    b: f64,
    dx: f64,
    dy: f64,
    sag_per_pressure: f64,
}

#[derive(Deserialize)]
struct Arch {
    length: f64,
    radius: f64,
    bending: f64,
    pushed: f64,
    path: Vec<[f64; 2]>,
    highest: f64,
}

/// Crossed strips beside a clamped plate with two stiffnesses: within 15 %.
#[test]
fn crossed_strips_are_near_a_clamped_plate() {
    let table: Table = frozen("sag.json");
    for c in &table.plates {
        let plate = Plate {
            span: c.a,
            width: c.b,
            bending_along: c.dx,
            bending_across: c.dy,
            pushed: 1.0,
            curvature: 0.0,
        };
        let ratio = plate.sag(1e-3) / (1e-3 * c.sag_per_pressure);
        assert!((0.85..1.05).contains(&ratio), "{} by {}: {ratio}", c.a, c.b);
    }
}

/// An arch pressed in from outside follows the reference's path within 6 % up to where it
/// snaps, and snaps within 5 % of its highest pressure; too flat ones never do.
#[test]
fn arches_follow_the_reference_and_snap_where_it_does() {
    let table: Table = frozen("sag.json");
    let mut snapped = 0;
    for a in &table.arches {
        let plate = Plate {
            span: a.length,
            width: 1e6,
            bending_along: a.bending,
            bending_across: 0.0,
            pushed: a.pushed,
            curvature: 1.0 / a.radius,
        };
        let rise = a.length * a.length / (8.0 * a.radius);
        // Past flat the program counts no thrust, the reference goes on.
        for [sag, pressure] in a.path.iter().filter(|p| p[0] < 1.2 * rise) {
            let ratio = plate.carries(*sag) / pressure;
            assert!((ratio - 1.0).abs() < 0.06, "{} at {sag}: {ratio}", a.radius);
        }
        if let Some((_, most)) = plate.snaps() {
            snapped += 1;
            assert!((most / a.highest - 1.0).abs() < 0.05, "{most} {}", a.highest);
        }
    }
    assert_eq!(snapped, 1, "only the arch of twice its thickness snaps");
}

fn starter(name: &str) -> Hull {
    starters::find(name).expect("a starter").hull()
}

fn model(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a starter")
}

fn spacing_severity(model: &Model) -> Option<Severity> {
    let about = |f: &&chinewright::finding::Finding| f.message.starts_with("unsupported over");
    model.findings.iter().find(about).map(|f| f.severity)
}

/// Thinner and thinner bottoms under the same water: felt, then too soft, then never.
#[test]
fn a_soft_bottom_is_told_by_how_soft_it_is() {
    let mut last = None;
    let mut seen = Vec::new();
    for thickness in [18.0, 12.0, 9.0, 6.0, 4.0, 3.0] {
        let mut hull = starter("warden");
        hull.planking.panels.retain(|p| p.panel != "bottom");
        hull.planking.thickness_mm = thickness;
        let now = spacing_severity(&model(&hull));
        assert!(now >= last, "{thickness}: {now:?} after {last:?}");
        last = now;
        seen.push(now);
    }
    assert_eq!(seen.first(), Some(&None), "18 mm holds");
    assert!(seen.contains(&Some(Severity::Watch)), "{seen:?}");
    assert_eq!(seen.last(), Some(&Some(Severity::Stop)), "3 mm sags by over 5 % of its span");
}
