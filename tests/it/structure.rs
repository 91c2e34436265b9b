//! How far the skin is pressed in between its supports, beside what was computed elsewhere.
//!
//! Truth: `tests/reference/sag.py`.

use chinewright::drawing::Shape;
use chinewright::drawing::compose::{Line, panel_pattern};
use chinewright::finding::{BayFact, Fact, Finding, Place, Severity};
use chinewright::frames::sag::Plate;
use chinewright::geom::polyline::area;
use chinewright::hull::{Battens, Hull, starters};
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
    let about = |f: &&Finding| matches!(f.fact, Fact::Bay(BayFact::Sags { .. }));
    model.findings.iter().find(about).map(|f| f.severity)
}

/// Thinner and thinner bottoms under the same water: felt, then too soft, then never.
#[test]
fn a_soft_bottom_is_told_by_how_soft_it_is() {
    let mut last = None;
    let mut seen = Vec::new();
    for thickness in [18.0, 12.0, 9.0, 6.0, 4.0, 3.0] {
        let mut hull = starter("warden");
        hull.framing.battens = None;
        hull.planking.panels.clear();
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

/// Battens lie on the bottom, evenly between keelson and log in plan, one to the other side of
/// each frame's notch, and the bottom that was too soft holds.
#[test]
fn battens_lie_on_the_skin_and_part_the_span() {
    for name in ["warden", "reed-skiff", "sluice-pram"] {
        let mut hull = starter(name);
        hull.framing.battens = None;
        let before = model(&hull);
        let battens = Battens { count: 2, ..Battens::default() };
        hull.framing.battens = Some(battens.clone());
        let after = model(&hull);
        let laid: Vec<_> = after.members.iter().filter(|m| m.path.is_some()).collect();
        assert_eq!(laid.len(), 2, "{name}");
        assert_eq!(after.members.len(), before.members.len() + 2);
        let keelson = hull.members.iter().find(|m| m.line == "keel").map_or(0.0, |m| m.sided_mm);
        let log = hull.members.iter().find(|m| m.line == "chine").map_or(0.0, |m| m.sided_mm);
        for (k, bent) in laid.iter().enumerate() {
            for a in &bent.along {
                let chine = &after.lines.get("chine").expect("a chine").spline;
                let t = chine.parameter_at_x(a.point.x).expect("inside her");
                let clear = chine.at(t).y - 0.5 * keelson - log;
                let want = 0.5 * keelson + clear * (k + 1) as f64 / 3.0;
                assert!((a.point.y - want).abs() < 0.5, "{name} {k}: {} {want}", a.point.y);
                let on_skin = distance_to_bottom(&after, a.point);
                assert!(on_skin < 0.3, "{name} {k}: {on_skin} mm off the skin");
            }
            // Through every frame from its first on, and landing on the transom.
            let first = bent.along[0].point.x;
            for f in after.woodwork.frames.iter().filter(|f| f.x > first + hull.framing.sided_mm) {
                let notch = f.notches.iter().find(|n| n.name == bent.member.name);
                let n = notch.unwrap_or_else(|| panic!("{name}: frame {}", f.station));
                assert!((area(&n.corners).abs() / (19.0 * 38.0) - 1.0).abs() < 0.1);
                assert!(f.pieces.iter().all(|p| p.least_left > 0.0));
            }
            let transom = after.woodwork.transom.as_ref().expect("a transom");
            assert!(transom.landings.iter().any(|l| l.name == bent.member.name), "{name}");
        }
        // Both edges of each are drawn on the bottom's pattern, right to the stern.
        let bottom = &after.panels[0];
        let drawing = panel_pattern(&after, bottom, &[], hull.units);
        let stern = bottom.flat.stern_edge();
        let (a, b) = (stern[0], stern[stern.len() - 1]);
        let square = (b - a).normalize();
        let reach = drawing
            .items
            .iter()
            .filter(|i| i.layer == Line::Member.into())
            .filter_map(|i| match &i.shape {
                Shape::Polyline { points, closed: false } => points.last(),
                _ => None,
            })
            .filter(|p| (**p - a).perp(&square).abs() < 3.0 && p.y > a.y + 50.0);
        assert!(reach.count() >= 4, "{name}: battens' edges stop short of the stern");
        // What they weigh is in the boat.
        let mass = |m: &Model, item: &str| {
            let afloat = m.afloat.as_ref().expect("afloat");
            afloat.items.iter().find(|i| i.name == item).map(|i| i.mass)
        };
        let wood = after.materials.wood("Douglas-fir").expect("a species");
        let by_hand = 2.0 * laid[0].length * 19.0 * 38.0 * 1.12e-6 * wood.specific_gravity;
        let listed = mass(&after, "batten 1").expect("listed");
        assert!((listed / by_hand - 1.0).abs() < 1e-6, "{listed} {by_hand}");
        // The same bays, each no softer, the bottom's far stiffer aft.
        let aft = |m: &Model| {
            let bottom = |b: &&chinewright::frames::Bay| m.panels[b.panel].name == "bottom";
            m.woodwork.bays.iter().rfind(bottom).map(|b| b.sag)
        };
        if let (Some(soft), Some(stiff)) = (aft(&before), aft(&after)) {
            assert!(stiff < 0.6 * soft, "{name}: {soft} to {stiff}");
        }
    }
}

/// Distance (mm) from the moulded bottom: the least over its strips' triangles' planes near it.
fn distance_to_bottom(model: &Model, p: chinewright::geom::P3) -> f64 {
    let rulings = &model.panels[0].surface.rulings;
    rulings
        .windows(2)
        .flat_map(|w| [[w[0].lower, w[0].upper, w[1].lower], [w[0].upper, w[1].upper, w[1].lower]])
        .filter_map(|[a, b, c]| {
            let n = (b - a).cross(&(c - a)).try_normalize(1e-9)?;
            let off = (p - a).dot(&n);
            let foot = p - off * n;
            let inside = [(a, b), (b, c), (c, a)]
                .iter()
                .all(|(q, r)| (r - q).cross(&(foot - q)).dot(&n) >= -50.0);
            inside.then_some(off.abs())
        })
        .fold(f64::INFINITY, f64::min)
}

/// The pad stands on the bottom's cleat, the knee on the keelson and against the pad; without
/// the knee the same motor is too much for the board, and a larger one is told of.
#[test]
fn the_knee_takes_the_motor_to_the_keelson() {
    for name in ["reed-skiff", "warden"] {
        let hull = starter(name);
        let m = model(&hull);
        let transom = m.woodwork.transom.as_ref().expect("a transom");
        let c = transom.cut_out.expect("a motor");
        assert!(c.pad_short < 1e-9, "{name}: the pad ends {} short", c.pad_short);
        let cleat = transom.framing.first().expect("a bottom cleat");
        let pad = c.pad(hull.motor.pad_width_mm);
        // Its foot meets the cleat's inner edge.
        let normal = chinewright::geom::V2::new(-cleat.along.y, cleat.along.x);
        assert!((pad[2] - cleat.inner).dot(&normal).abs() < 0.5, "{name}");
        let knee = m.woodwork.knee.as_ref().expect("a knee");
        // Heel: one moulded depth inside the keel's line, one board and pad inside the face.
        let keelson = hull.members.iter().find(|m| m.line == "keel").expect("a keelson");
        let keel = &m.lines.lines[0].spline;
        let t = keel.parameter_at_x(knee.heel.x).expect("inside her");
        let inside = knee.heel.y - keel.at(t).z;
        assert!((inside - keelson.moulded_mm).abs() < 1.0, "{name}: {inside}");
        let plane = transom.across.plane;
        let heel = chinewright::geom::P3::new(knee.heel.x, 0.0, knee.heel.y);
        let deep = plane.distance(heel) + hull.transom.thickness_mm + c.pad_thickness;
        assert!(deep.abs() < 1e-6, "{name}: {deep}");
        let last = m.woodwork.frames.last().expect("frames");
        assert!(knee.heel.x - knee.arm > last.x, "{name}: its toe meets the last frame");
        let check = chinewright::model::motor::check(&m).expect("a motor");
        assert!(check.holds() && check.holds_up_to >= 6.0, "{name}: {check:?}");
        let grave = |m: &Model| {
            let about = |f: &&Finding| f.place == Place::Hung;
            m.findings.iter().filter(about).map(|f| f.severity).max()
        };
        // Without it, and with far more power than it holds.
        let mut bare = hull.clone();
        bare.transom.knee.fitted = false;
        assert_eq!(grave(&model(&bare)), Some(Severity::Stop), "{name}");
        let mut strong = hull.clone();
        strong.motor.power_hp = 3.0 * check.holds_up_to.max(1.0);
        assert!(grave(&model(&strong)) >= Some(Severity::Watch), "{name}");
        // Weighed, in the pack's JSON, and in the list of drawings.
        let weight = m.afloat.as_ref().expect("afloat").items.iter().find(|i| i.name == "knee");
        let kg = knee.volume() * 1e-9 * 480.0 * 1.12;
        assert!((weight.expect("weighed").mass / kg - 1.0).abs() < 1e-6);
        let json = chinewright::report::json::report(&m, Some("transom"));
        assert!(json["transom"]["motor"]["knee"]["height_mm"].as_f64().expect("mm") > 100.0);
        assert_eq!(json["transom"]["motor"]["carries"]["holds"], true);
    }
}

/// Battens that cannot be laid are told of; they do not vanish with their weight.
#[test]
fn battens_that_find_no_room_or_wood_are_told_of() {
    let told = |change: &dyn Fn(&mut Battens)| {
        let mut hull =
            starters::STARTERS.iter().find(|s| s.name == "warden").expect("the V-bottom").hull();
        change(hull.framing.battens.as_mut().expect("she has battens"));
        let model = derive(&hull, &Materials::shipped()).expect("she is computed");
        let found = model.findings.iter().find(|f| f.place == Place::Battens);
        found.map(|f| f.severity)
    };
    assert_eq!(told(&|_| {}), None);
    assert_eq!(told(&|b| b.species = "driftwood".into()), Some(Severity::Watch));
    assert_eq!(told(&|b| b.sided_mm = 119.0), Some(Severity::Watch));
}
