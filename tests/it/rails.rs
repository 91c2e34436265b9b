//! Where sticks lie that run outside the planking: on its outer face, whatever the sheets
//! measure.
//!
//! Truth: a straight punt by hand; the closed mesh of the hull's outside, which moves whole
//! vertices by least squares and knows nothing of sticks.

use chinewright::bend::Along;
use chinewright::flat::laps::Role;
use chinewright::geom::{P3, V3};
use chinewright::hull::starters::STARTERS;
use chinewright::hull::{Hull, Member, MemberSide, PanelPlanking};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use std::io::Write;

use crate::jig::{model, punt};

/// Distance of `p` from a triangle. Ericson, *Real-Time Collision Detection* (2005), 5.1.5.
fn from_triangle(p: P3, [a, b, c]: [P3; 3]) -> f64 {
    let on_edge = |from: P3, to: P3| {
        let e = to - from;
        let t = ((p - from).dot(&e) / e.norm_squared().max(1e-18)).clamp(0.0, 1.0);
        (p - (from + t * e)).norm()
    };
    let edges = on_edge(a, b).min(on_edge(b, c)).min(on_edge(c, a));
    let n = (b - a).cross(&(c - a));
    if n.norm() < 1e-9 {
        return edges;
    }
    let foot = p - (p - a).dot(&n) / n.norm_squared() * n;
    let inside = [(a, b), (b, c), (c, a)]
        .iter()
        .all(|(from, to)| (to - from).cross(&(foot - from)).dot(&n) >= 0.0);
    if inside { (p - foot).norm() } else { edges }
}

/// `hull` with each panel of its own measured thickness, mm, from the keel up.
fn planked(mut hull: Hull, model: &Model, thicknesses: &[f64]) -> Hull {
    for (p, t) in model.panels.iter().zip(thicknesses.iter().cycle()) {
        hull.planking.panels.push(PanelPlanking {
            panel: p.name.clone(),
            sheet: p.sheet.clone(),
            thickness_mm: *t,
            grain_across: false,
        });
    }
    hull
}

fn derived(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a hull")
}

fn outside(name: &str, line: &str, like: &Member) -> Member {
    let side = MemberSide::Outside;
    Member { name: name.into(), line: line.into(), side, carries_load: false, ..like.clone() }
}

/// The punt's side rises 4 for 1 out and its sheer is planed level at 450: under a sheet of
/// t mm its outer face ends there, 600 + t √17/4 out. The rail, 19 by 32, hangs from there: its
/// middle lies 16 down the face and 9.5 out from it. On the chine, 9 mm of bottom under it,
/// a strip begins 9 below the chine and 500 + t √17/4 − 9/4 out.
#[test]
fn a_rail_lies_on_the_sheets_outer_face_by_hand() {
    let plain = model(&punt());
    let rail_of = |m: &Model, name: &str| {
        m.members.iter().position(|b| b.member.name == name).expect("a member")
    };
    let slant = 17f64.sqrt() / 4.0;
    let (up, out) = (V3::new(0.0, 1.0, 4.0) / 17f64.sqrt(), V3::new(0.0, 4.0, -1.0) / 17f64.sqrt());
    for t in [4.0, 9.0, 12.5] {
        let mut hull = planked(punt(), &plain, &[9.0, t]);
        let like = hull.members.last().expect("a rub rail").clone();
        hull.members.push(outside("chine strip", "chine", &like));
        let m = derived(&hull);
        let near = |a: P3, y: f64, z: f64, what: &str| {
            let off = (a.y - y).hypot(a.z - z);
            assert!(off < 1e-6, "{what} at {t} mm: {a}, not {y} {z}");
        };
        let rail = &m.members[rail_of(&m, "rub rail")];
        let strip = &m.members[rail_of(&m, "chine strip")];
        for (a, b) in rail.along.iter().zip(&strip.along) {
            let sheer = P3::new(0.0, 600.0 + t * slant, 450.0);
            near(a.seat, sheer.y, sheer.z, "rail");
            let middle = sheer - 16.0 * up + 9.5 * out;
            near(rail.middle(a), middle.y, middle.z, "rail's middle");
            let chine = P3::new(0.0, 500.0 + t * slant - 9.0 / 4.0, 41.0);
            near(b.seat, chine.y, chine.z, "strip");
            let middle = chine + 16.0 * up + 9.5 * out;
            near(strip.middle(b), middle.y, middle.z, "strip's middle");
        }
        // Its weight is where it lies.
        let a = m.afloat.as_deref().expect("she floats");
        let item = a.items.iter().find(|i| i.name == "rub rail").expect("an item");
        assert!((item.centre.z - (sheer_middle(t, slant, up, out)).z).abs() < 1e-6);
    }
}

fn sheer_middle(t: f64, slant: f64, up: V3, out: V3) -> P3 {
    P3::new(0.0, 600.0 + t * slant, 450.0) - 16.0 * up + 9.5 * out
}

/// The punt's log, 19 deep, lies in a corner that opens by a quarter past a right angle: 19 / 4
/// down the side its inner edge lies on the bottom's inside. So it says itself, so it is notched
/// and cut off, and its weight is there.
#[test]
fn a_log_lies_on_both_panels_whoever_asks() {
    let m = model(&punt());
    let i = m.members.iter().position(|b| b.member.name == "chine log").expect("a chine log");
    let log = &m.members[i];
    let root = 17f64.sqrt();
    let (up, n) = (V3::new(0.0, 1.0, 4.0) / root, V3::new(0.0, 4.0, -1.0) / root);
    let seat = P3::new(0.0, 500.0, 50.0) - 19.0 / 4.0 * up;
    let middle = seat + 19.0 * up - 9.5 * n;
    let corners = [seat, seat + 38.0 * up, seat + 38.0 * up - 19.0 * n, seat - 19.0 * n];
    assert!((corners[3].z - 50.0).abs() < 1e-12);
    let near = |y: f64, z: f64, p: P3, what: &str| {
        assert!((p.y - y).hypot(p.z - z) < 1e-6, "{what}: {y} {z}, not {p}");
    };
    for a in &log.along {
        near(a.seat.y, a.seat.z, seat, "seat");
        let at = log.middle(a);
        near(at.y, at.z, middle, "middle");
    }
    let line = &m.lines.lines[1];
    for t in [0.0, 0.3 * line.spline.end(), line.spline.end()] {
        let lie = log.lie(line, t).expect("a line that moves");
        for (p, want) in lie.faces().iter().zip(corners) {
            near(p.y, p.z, want, "faces");
        }
    }
    for f in &m.woodwork.frames {
        let notch = f.notches.iter().find(|n| n.member == i).expect("a notch for the log");
        assert!((notch.let_down - 19.0 / 4.0).abs() < 1e-6);
        for (c, want) in notch.corners.iter().zip(corners) {
            near(c.x, c.y, want, "notch");
        }
    }
    let transom = m.woodwork.transom.as_ref().expect("a transom");
    let end = transom.ends.iter().find(|e| e.member == i).expect("the log's end");
    for (c, want) in end.corners.iter().zip(corners) {
        near(c.x, c.y, want, "end");
    }
    let a = m.afloat.as_deref().expect("she floats");
    let item = a.items.iter().find(|i| i.name == "chine log").expect("an item");
    assert!((item.centre.z - middle.z).abs() < 1e-6);
}

/// On every starter, with thin and thick sheets and one thickness over another, the inner face
/// of an outside stick lies on the outside of the hull at its seat, on sheer, chines and keel,
/// and one inside on its line.
#[test]
fn sticks_outside_lie_on_the_hulls_outside() {
    let (mut worst, mut halved, mut met) = (0.0f64, 0, 0);
    for starter in STARTERS {
        let plain = derived(&starter.hull());
        for thicknesses in [&[4.0][..], &[9.0, 6.0], &[6.0, 12.0]] {
            let mut hull = planked(starter.hull(), &plain, thicknesses);
            let like = hull.members.last().expect("a member").clone();
            for l in &plain.lines.lines {
                hull.members.push(outside(&format!("strip on {}", l.id), &l.id.to_string(), &like));
            }
            let m = derived(&hull);
            let mesh = m.mesh(true);
            let triangles: Vec<[P3; 3]> = mesh.corners().collect();
            for bent in &m.members {
                if bent.member.side == MemberSide::Inside {
                    // On the line, or let down from it along the skin.
                    let down = |a: &Along| a.seat == a.point - bent.let_down(a.at) * a.up();
                    assert!(bent.along.iter().all(down), "{}", bent.member.name);
                    let on_chine = bent.member.line.starts_with("chine");
                    assert!(on_chine || bent.along.iter().all(|a| a.seat == a.point));
                    continue;
                }
                // Sheets of two thicknesses that meet on a halved corner leave a step there,
                // which the mesh bridges.
                let k = m.lines.lines.iter().position(|l| bent.member.follows(l.id));
                let k = k.expect("its line");
                if k > 0 && m.panels.get(k).is_some_and(|p| p.laps.lower.role == Role::Halves) {
                    let t = m.panels[k].thickness;
                    let off = |a: &Along| ((a.seat - a.point).dot(&a.outward) - t).abs();
                    assert!(bent.along.iter().all(|a| off(a) < 1e-9));
                    if t != m.panels[k - 1].thickness {
                        halved += 1;
                        continue;
                    }
                }
                // The ends lie on planes of their own, where the mesh's corners are moved along
                // them.
                let (from, to) = (0.05 * bent.length, 0.95 * bent.length);
                let inner = bent.along.iter().filter(|a| a.at > from && a.at < to).step_by(4);
                for a in inner {
                    met += 1;
                    let off = triangles
                        .iter()
                        .map(|t| from_triangle(a.seat, *t))
                        .fold(f64::INFINITY, f64::min);
                    worst = worst.max(off);
                    assert!(
                        off < 0.12,
                        "{} {thicknesses:?}: {} at {} lies {off} mm off",
                        starter.name,
                        bent.member.name,
                        a.at
                    );
                }
            }
        }
    }
    let _ = writeln!(
        std::io::stdout().lock(),
        "{met} places at most {worst} mm off, {halved} sticks on a halved step"
    );
    assert!(met > 800 && halved < 8, "{met} {halved}");
}
