//! Transoms and stems: against the closed mesh's own ends, and by hand.

use chinewright::geom::P2;
use chinewright::hull::{Duck, Hull, Line, LineEnd, Shaft, starters};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};

fn model(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a hull")
}

fn line(name: &str, ducks: &[(f64, f64, f64)]) -> Line {
    Line {
        name: name.into(),
        ducks: ducks.iter().map(|(x, y, z)| Duck::at(*x, *y, *z)).collect(),
        bow: LineEnd::RunsOn,
        stern: LineEnd::RunsOn,
    }
}

fn off(p: P2, line: &[P2]) -> f64 {
    line.windows(2)
        .map(|w| {
            let e = w[1] - w[0];
            let t = ((p - w[0]).dot(&e) / e.norm_squared().max(1e-12)).clamp(0.0, 1.0);
            (w[0] + t * e - p).norm()
        })
        .fold(f64::INFINITY, f64::min)
}

/// The mesh is made by another way: its vertices on a transom's plane are the skin's own
/// end. With straight ends they may lie a few mm off the plane (and are projected); with
/// trimmed ends they lie in it.
#[test]
fn transoms_are_the_mesh_s_own_ends_whether_straight_or_trimmed() {
    let mut compared = 0;
    for starter in starters::STARTERS {
        for straight in [true, false] {
            let mut hull = starter.hull();
            (hull.bow.straight, hull.stern.straight) = (straight, straight);
            let model = model(&hull);
            let mesh = model.mesh(false);
            let work = &model.woodwork;
            for (t, plane) in
                [(&work.transom, model.lines.transom), (&work.bow_transom, model.lines.bow_transom)]
            {
                let (Some(t), Some(plane)) = (t, plane) else {
                    continue;
                };
                let outer = if t.outside_larger { &t.section } else { &t.far };
                let half = outer.half();
                // From the foot on the centreline or the lowest corner up to the sheer.
                let name = format!("{} {straight} {}", starter.name, t.at_bow);
                let on_plane: Vec<P2> = mesh
                    .vertices
                    .iter()
                    .filter(|v| v.y >= 0.0 && plane.distance(**v).abs() < 1e-3)
                    .map(|v| t.across.flat(*v))
                    .collect();
                for p in &on_plane {
                    assert!(off(*p, &half) < 0.1, "{name}: {p} is {} off", off(*p, &half));
                    compared += 1;
                }
                let head = half.last().expect("a head");
                let highest = on_plane.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
                assert!(on_plane.len() < 2 || (head.y - highest).abs() < 0.2, "{name}");
                // Up the edge from panel to panel, without turning back.
                for w in outer.edges.windows(2) {
                    let gap = (w[1].first().at - w[0].last().at).norm();
                    // A flat bottom is not trimmed to a transom that its chine's end misses by
                    // the 3 mm that pass without remark.
                    let allowed = if model.lines.flat_bottom { 3.0 } else { 0.2 };
                    assert!(gap < allowed, "{name}: a gap of {gap}");
                }
                for e in &outer.edges {
                    let up = e.chord().expect("a chord");
                    let ordered = e.points.windows(2).all(|w| (w[1].at - w[0].at).dot(&up) > -1e-6);
                    assert!(ordered, "{name}: the edge turns back");
                }
            }
        }
    }
    assert!(compared > 30, "{compared}");
}

/// A stem reaches from the lowest line's end to the sheer's.
#[test]
fn stems_reach_from_the_foot_to_the_head_whether_straight_or_trimmed() {
    for starter in starters::STARTERS {
        for straight in [true, false] {
            let mut hull = starter.hull();
            hull.bow.straight = straight;
            let model = model(&hull);
            let Some(stem) = &model.woodwork.stem else {
                continue;
            };
            let end = |i: usize| model.lines.lines[i].spline.at(0.0);
            let given = usize::from(model.lines.flat_bottom);
            let (foot, head) = (end(given), end(model.lines.lines.len() - 1));
            let at = |p: chinewright::geom::P3| P2::new(p.x, p.z);
            let name = format!("{} {straight}", starter.name);
            assert!((stem.profile[0] - at(foot)).norm() < 0.2, "{name}: {}", stem.profile[0]);
            let last = stem.profile[stem.profile.len() - 1];
            assert!((last - at(head)).norm() < 0.2, "{name}: {last}");
            assert!(stem.profile.windows(2).all(|w| w[1].y > w[0].y), "{name}");
        }
    }
}

/// Two upright planes that meet at an upright stem: y = 0.4 x, so the half angle is
/// atan 0.4 = 21.801°, a stem 38 mm sided bears 19 / sin = 51.158 mm on each side and is
/// planed 19 / 0.4 = 47.5 mm back. With lines that begin 7 mm out it bears 12 / sin.
#[test]
fn the_bevel_of_a_wedge_by_hand() {
    for out in [0.0, 7.0] {
        let at = |x: f64| 0.4 * x + out;
        let ducks = |z: f64| [0.0, 1000.0, 2000.0].map(|x| (x, at(x), z));
        let model = model(&Hull::new(
            "Wedge",
            vec![line("chine", &ducks(50.0)), line("sheer", &ducks(450.0))],
        ));
        let stem = model.woodwork.stem.as_ref().expect("a stem");
        assert!((stem.half_siding - out).abs() < 1e-9);
        let sin = (0.4f64).atan().sin();
        for b in &stem.bevels {
            assert!((b.half_angle.to_degrees() - 21.801_409_486).abs() < 1e-6);
            assert!((b.land - (19.0 - out) / sin).abs() < 1e-6);
            assert!((b.back - (19.0 - out) / 0.4).abs() < 1e-6);
        }
        assert!((stem.length - 400.0).abs() < 1e-6);
    }
}

/// A punt's bottom is 9 mm thick at height 50. Upright transom: outside of the bottom at
/// 41, seat of a short motor at 41 + 381 = 422, 28 below the top at 450. Raked by 1 in 5:
/// up the slope heights grow by √1.04 = 1.0198; the bottom's outside lies 9 · 1.0198 below
/// the keel's 50 · 1.0198, at 41.812; the seat at 422.812; the top at 458.912, 36.099 above.
#[test]
fn the_motor_s_seat_on_an_upright_and_on_a_raked_transom_by_hand() {
    for (rake, bottom, depth) in [(0.0, 41.0, 28.0), (0.2, 41.811_960, 36.099_300)] {
        let ducks = |y: f64, z: f64| [(0.0, y, z), (1500.0, y, z), (3000.0 + rake * z, y, z)];
        let mut hull = Hull::new(
            "Sedge punt",
            vec![line("chine", &ducks(500.0, 50.0)), line("sheer", &ducks(600.0, 450.0))],
        );
        hull.motor.shaft = Shaft::Short;
        let of = model(&hull);
        let t = of.woodwork.transom.as_ref().expect("a transom");
        let c = t.cut_out.expect("a motor");
        assert!((t.rake - f64::atan(rake)).abs() < 1e-9);
        assert!((c.bottom - bottom).abs() < 1e-3, "{}", c.bottom);
        assert!((c.seat - (bottom + 381.0)).abs() < 1e-3);
        assert!((c.depth - depth).abs() < 1e-3, "{}", c.depth);
        assert_eq!((c.pad_thickness, c.room), (42.0 - 18.0, true));
        // A plate 20 mm above the bottom wants the seat as much higher.
        hull.motor.plate_above_mm = 20.0;
        let higher = model(&hull).woodwork.transom.as_ref().and_then(|t| t.cut_out).expect("one");
        assert!((higher.seat - c.seat - 20.0).abs() < 1e-9);
        hull.motor.plate_above_mm = 0.0;
        // A crown of 10 raises the top by as much.
        hull.transom.crown_mm = 10.0;
        let crowned = model(&hull);
        let t = crowned.woodwork.transom.as_ref().expect("a transom");
        let highest = t.outline.iter().map(|p| p.y).fold(0.0, f64::max);
        let deeper = t.cut_out.expect("one").depth;
        assert!((deeper - depth - 10.0).abs() < 1e-3, "{deeper}");
        assert!(highest <= t.top + 1e-6, "{highest} {}", t.top);
    }
}

/// Cleats are notched where members land, and no wider than their boards.
#[test]
fn cleats_leave_room_for_what_lands_on_the_transom() {
    for starter in starters::STARTERS {
        let model = model(&starter.hull());
        let work = &model.woodwork;
        for t in [&work.transom, &work.bow_transom].into_iter().flatten() {
            assert!(!t.landings.is_empty() && !t.framing.is_empty(), "{}", starter.name);
            for n in &t.landings {
                let middle = n.corners.iter().fold(P2::origin(), |m, p| m + p.coords / 4.0);
                for p in &t.framing {
                    let inside = chinewright::geom::ring::inside(&p.outline, middle);
                    assert!(!inside, "{}: the {} lands in the {}", starter.name, n.name, p.name);
                }
            }
        }
    }
}

/// An outline that turns in within a few millimetres below a head is a step that nobody saws: the
/// sheer slopes over the board's thickness, and its two faces have their heads at two heights.
#[test]
fn transoms_have_no_steps_at_their_upper_corners() {
    for s in starters::STARTERS {
        let model = model(&s.hull());
        let wood = &model.woodwork;
        for t in [&wood.transom, &wood.bow_transom].into_iter().flatten() {
            let ring = &t.outline;
            let n = ring.len();
            let beside = t.cut_out.map_or(0.0, |c| 0.5 * c.width + 1.0);
            let turn = if chinewright::geom::polyline::area(ring) > 0.0 { 1.0 } else { -1.0 };
            for i in 0..n {
                let (a, b, c) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
                let (before, after) = (b - a, c - b);
                let inward = turn * before.perp(&after) < -1e-3 * before.norm() * after.norm();
                let short = before.norm().min(after.norm()) < 12.0;
                let head = b.y > t.top - 40.0 && b.x.abs() > beside;
                assert!(!(inward && short && head), "{}: {a} {b} {c}", s.name);
            }
        }
    }
}
