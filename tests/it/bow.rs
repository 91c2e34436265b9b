//! The bow joint: sides that close at the stem, the outer stem, landings and end cuts, the
//! taper of the keelson.

use chinewright::finding::{Fact, StemFact};
use chinewright::flat::past_post::{RUN_PAST_MM, half_angle, mitre};
use chinewright::frames::Stem;
use chinewright::geom::ring::from_ring;
use chinewright::geom::{P2, P3, V2, V3};
use chinewright::hull::document::{Duck, Hull, Line, LineEnd};
use chinewright::hull::starters::STARTERS;
use chinewright::hull::{MemberSide, StemSides};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::part::AtEnd;

fn hull(name: &str) -> Hull {
    STARTERS.iter().find(|s| s.name == name).expect("a starter").hull()
}

fn model(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("computes")
}

fn stem(model: &Model) -> &Stem {
    model.woodwork.stem.as_ref().expect("a stem")
}

/// Mitred sides: past the stem's line each reaches just so far that its outer face comes to the
/// centreplane. Checked in space at foot and head, and against t / tan α worked from the lines:
/// 11.9 mm on the skiff, 9.4 mm on the work boat.
#[test]
fn mitred_sides_meet_in_the_centreplane() {
    for (name, by_hand) in [("reed-skiff", 11.9), ("warden", 9.4)] {
        let mut hull = hull(name);
        hull.stem.sides = StemSides::Mitred;
        let model = model(&hull);
        let side = &model.panels[1];
        let edge = side.surface.end_edge(false);
        let past = &side.past_posts[0];
        let (foot, head) = (edge[0], edge[edge.len() - 1]);
        for ((p, n), (_, past)) in [(foot, past[0]), (head, past[past.len() - 1])] {
            let e = V3::new(head.0.x - foot.0.x, 0.0, head.0.z - foot.0.z).normalize();
            // In the skin, square to the stem, forward.
            let w = e.cross(&n).normalize();
            let w = if w.x < 0.0 { w } else { -w };
            let outer = p + past * w + side.thickness * n;
            assert!(outer.y.abs() < 0.1, "{name}: outer face at y = {:.2}", outer.y);
            let inner = p + past * w;
            assert!(inner.y < -0.5 * side.thickness, "{name}: the inner face has wood to plane");
        }
        let widest = past.iter().map(|p| p.1).fold(0.0, f64::max);
        let least = past.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
        assert!(
            least - 0.3 < by_hand && by_hand < widest + 0.3,
            "{name}: {least:.2} to {widest:.2} for {by_hand}"
        );
        assert!(stem(&model).outer.is_none());
        // The pattern has it: its cut edge lies so far past the stem's line.
        let ring = side.finished_outline();
        let laid = side.flat.bow_edge();
        let middle = laid[0] + 0.5 * (laid[laid.len() - 1] - laid[0]);
        let off = from_ring(middle, &ring);
        assert!(off > least - 0.1 && off < widest + 0.1, "{name}: {off}");
    }
}

/// Sides that run past: the flat is as wide as the outer stem, checked with the planes of
/// both outer faces; the pattern runs past; the stem comes out of a board as wide as it is.
#[test]
fn an_outer_stem_covers_both_sides_edges() {
    for name in ["reed-skiff", "warden", "mere-dory"] {
        let model = model(&hull(name));
        let s = stem(&model);
        let o = s.outer.as_ref().expect("an outer stem");
        let plan = &model.hull.stem;
        assert!(o.sections.len() >= 4 && o.wide_enough, "{name}");
        for c in &o.sections {
            assert!((c.flat_width - plan.outer_sided_mm).abs() < 1e-6, "{name}: {c:?}");
            assert!(c.front >= plan.outer_front_mm - 1e-9 && c.planed > 0.0, "{name}: {c:?}");
        }
        // At the foot of the lowest side, by its plane.
        let k = s.bevels[0].panel;
        let side = &model.panels[k];
        let edge = side.surface.end_edge(false);
        let (p, n) = edge[0];
        let at = P3::new(o.back[0].x, 0.0, o.back[0].y);
        let y = (side.thickness - n.dot(&(at - p))) / n.y;
        assert!((2.0 * y - plan.outer_sided_mm).abs() < 0.1, "{name}: flat {:.2} wide", 2.0 * y);
        // Its wood against slices: half the trapezoid on the bevelled part, the front ahead.
        let slice = |c: &chinewright::frames::outer_stem::OuterSection| {
            0.5 * (plan.outer_sided_mm + c.front) * c.bevel_runs
                + c.front * (plan.outer_moulded_mm - c.bevel_runs)
        };
        let mean = o.sections.iter().map(slice).sum::<f64>() / o.sections.len() as f64;
        let long = chinewright::geom::polyline::area(&o.outline).abs() / plan.outer_moulded_mm;
        assert!((o.volume / (mean * long) - 1.0).abs() < 0.03, "{name}");
        assert!(long > o.length && long < o.length + 250.0, "{name}: {long} {}", o.length);
        let afloat = model.afloat.as_ref().expect("afloat");
        let item = afloat.items.iter().find(|i| i.name == "outer stem").expect("weighed");
        assert!((item.solid / o.volume - 1.0).abs() < 1e-6 && item.mass > 0.05, "{name}");
        // The pattern of every panel that lands there runs past the line.
        for p in &model.panels[k..] {
            let laid = p.flat.bow_edge();
            let middle = laid[0] + 0.5 * (laid[laid.len() - 1] - laid[0]);
            let off = from_ring(middle, &p.finished_outline());
            assert!((off - RUN_PAST_MM).abs() < 0.3, "{name} {}: {off}", p.name);
        }
    }
    let model = model(&hull("reed-skiff"));
    assert_eq!(stem(&model).board_width, 89.0);
}

/// An outer stem too narrow for the sides' edges is told of, with what would do.
#[test]
fn a_narrow_outer_stem_is_told() {
    let mut hull = hull("reed-skiff");
    hull.stem.outer_sided_mm = 10.0;
    hull.stem.outer_front_mm = 8.0;
    let model = model(&hull);
    let told = model.findings.iter().find_map(|f| match f.fact {
        Fact::Stem(StemFact::BareGrain { end: AtEnd::Bow, edges, sided }) => Some((edges, sided)),
        _ => None,
    });
    let (edges, sided) = told.expect("a finding");
    assert!((13.0..14.0).contains(&edges) && sided == 10.0, "{edges} {sided}");
}

/// Logs and clamps land on the stem's side and lie on the planking's inside there; on the
/// transom they land where the framing is notched for them.
#[test]
fn sticks_land_on_stem_and_transom() {
    for starter in STARTERS {
        let model = model(&starter.hull());
        let sticks: Vec<_> = model
            .members
            .iter()
            .filter(|m| m.member.side == MemberSide::Inside && m.member.line != "keel")
            // Battens follow no line of the hull; they end on the bottom's own framing.
            .filter(|m| model.lines.get(&m.member.line).is_some())
            .collect();
        if let Some(s) = &model.woodwork.stem {
            assert_eq!(s.ends.len(), sticks.len(), "{}", starter.name);
            let half = 0.5 * model.hull.stem.sided_mm;
            for e in &s.ends {
                let outer = P3::new(e.corners[1].x, half, e.corners[1].y);
                // From the inside of its own panel, by the plane of the nearest ruling.
                let line = &model.members[e.member].member.line;
                let host = model.panels.iter().find(|p| model.line_below(p).is(line));
                let off = host
                    .unwrap_or(model.panels.last().expect("panels"))
                    .surface
                    .rulings
                    .iter()
                    .map(|r| {
                        let q = r.lower + (r.upper - r.lower) * 0.3;
                        ((outer - q).norm(), r.normal_lower.dot(&(outer - r.lower)))
                    })
                    .min_by(|a, b| a.0.total_cmp(&b.0))
                    .expect("rulings")
                    .1;
                assert!(off.abs() < 3.0, "{} {}: {off:.2} off the skin", starter.name, e.name);
                assert!(e.short > 0.0 && e.edge_runs > 0.0, "{} {e:?}", starter.name);
            }
        }
        let Some(t) = &model.woodwork.transom else {
            continue;
        };
        assert_eq!(t.ends.len(), sticks.len(), "{}", starter.name);
        for e in &t.ends {
            let notch = t.landings.iter().find(|n| n.member == e.member).expect("a landing");
            for (a, b) in e.corners.iter().zip(&notch.corners) {
                assert!((a - b).norm() < 1.0, "{} {}: {a} {b}", starter.name, e.name);
            }
        }
    }
}

/// A wedge with upright sides, a level bottom and a plumb stem, all its lines straight.
fn wedge(tan: f64) -> Hull {
    let line = |name: &str, z: f64| Line {
        name: name.into(),
        ducks: [0.0, 700.0, 1400.0, 2100.0].map(|x| Duck::at(x, tan * x, z)).to_vec(),
        bow: LineEnd::RunsOn,
        stern: LineEnd::RunsOn,
    };
    Hull::new("wedge", vec![line("chine", 50.0), line("sheer", 450.0)])
}

/// Everything at the bow of a wedge, by hand. Both sides leave the centreplane at β; a log's
/// inner face stands x tan β − m / cos β out.
#[test]
fn the_bow_joint_of_a_wedge_by_hand() {
    let tan = 0.36f64;
    let beta = tan.atan();
    let model = model(&wedge(tan));
    let s = stem(&model);
    let plan = &model.hull.stem;
    let of = |line: &str| {
        &model.members.iter().find(|m| m.member.line == line).expect("a member").member
    };
    let (keelson, log) = (of("keel"), of("chine"));
    // The keelson: tapered from where half its width is free to the stem's width.
    let free_at = |half: f64| (half + log.moulded_mm / beta.cos()) / tan;
    let j = s.joint.as_ref().expect("a joint");
    let (first, last) = (j.taper[0], j.taper[j.taper.len() - 1]);
    assert!((last.from_end - free_at(0.5 * keelson.sided_mm)).abs() < 2.0, "{last:?}");
    assert!((first.from_end - free_at(0.5 * plan.sided_mm)).abs() < 2.0, "{first:?}");
    for t in &j.taper {
        assert!((free_at(t.half_width) - t.from_end).abs() < 2.0, "{t:?}");
    }
    // The heel stands on it with all of its depth; the knee behind it.
    assert!((j.heel - plan.moulded_mm).abs() < 0.5 && !j.floor, "{}", j.heel);
    let k = j.knee.as_ref().expect("a knee");
    let corner = P2::new(plan.moulded_mm, 50.0 + keelson.moulded_mm);
    assert!((k.outline[0] - corner).norm() < 0.5, "{}", k.outline[0]);
    assert!((k.outline[1] - k.outline[0] - V2::new(k.along, 0.0)).norm() < 1e-6);
    // A log ends on the stem's side: across its edge by 90° − β, across its face square.
    let e = s.ends.iter().find(|e| e.name == log.name).expect("a log's end");
    assert!((e.across_edge.to_degrees() - (90.0 - beta.to_degrees())).abs() < 0.1);
    assert!((e.edge_runs - log.moulded_mm / tan).abs() < 0.1 && e.face_runs.abs() < 0.1);
    // Its outer face meets the stem's side where x tan β = S/2.
    assert!((e.corners[0].x - 0.5 * plan.sided_mm / tan).abs() < 0.2, "{}", e.corners[0]);
    assert!((e.short - 0.5 * plan.sided_mm / beta.sin()).abs() < 0.2, "{}", e.short);
    // The flat: (W/2 − t / cos β) / tan β behind the line.
    let t = model.panels[1].thickness;
    let o = s.outer.as_ref().expect("an outer stem");
    let planed = (0.5 * plan.outer_sided_mm - t / beta.cos()) / tan;
    assert!(o.sections.iter().all(|c| (c.planed - planed).abs() < 0.01), "{:?}", o.sections[0]);
    // Its foot is level with the bottom's outside.
    let low = o.outline.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    assert!((low - (50.0 - model.panels[0].thickness)).abs() < 0.1, "{low}");
    // Mitred it would be t / tan β.
    let n = model.panels[1].surface.rulings[0].normal_lower;
    let angle = half_angle(n, V3::z()).expect("a plumb stem");
    assert!((mitre(angle, 0.0, t) - t / tan).abs() < 0.01);
}

/// A hull without a keelson gets a floor for the stem to stand on.
#[test]
fn without_a_keelson_the_heel_stands_on_a_floor() {
    let mut hull = wedge(0.36);
    hull.members.retain(|m| m.line != "keel");
    let model = model(&hull);
    let s = stem(&model);
    let j = s.joint.as_ref().expect("a joint");
    assert!(j.floor && s.heel_notch == model.hull.framing.sided_mm);
    let arm = j.knee.as_ref().expect("a knee").along;
    assert!((j.floor_length - model.hull.stem.moulded_mm - arm).abs() < 0.5);
    let (least, most) =
        (model.hull.stem.sided_mm * j.floor_length * j.depth, j.width * j.floor_length * j.depth);
    assert!(j.floor_volume() >= least - 1.0 && j.floor_volume() < most, "{}", j.floor_volume());
    let items = &model.afloat.as_ref().expect("afloat").items;
    assert!(
        items.iter().any(|i| i.name == "bow floor") && items.iter().any(|i| i.name == "stem knee")
    );
}
