//! The ends on the strongback: figures worked by hand, planes, posts and notches; what is
//! drawn against what is listed; words that stand clear of each other.

use std::process::Command;

use crate::jig::{model, punt};
use chinewright::drawing::compose::{
    body_plan, jig_elevation, jig_end, jig_plan, jig_section, lines_plan, offsets_table,
};
use chinewright::drawing::{Drawing, Shape};
use chinewright::hull::starters;
use chinewright::model::Model;
use chinewright::part::LineId;
use chinewright::setup::{End, EndPlace, EndStand, Strongback};
use chinewright::units::Units;
use chinewright::words::order::build_order;

fn starter(name: &str) -> Model {
    model(&starters::find(name).expect("a starter").hull())
}

fn jig(model: &Model) -> &Strongback {
    model.woodwork.strongback.as_ref().expect("a jig")
}

fn near(a: f64, b: f64, within: f64, what: &str) {
    assert!((a - b).abs() <= within, "{what}: {a}, by hand {b}");
}

/// From the ducks by hand: the first line at 3950 / 7 = 564.3; the stem's foot at 133 and
/// 179 up, its head at 0 and 692; the transom's foot at 3860 and 59, its head at 3950 and
/// 472; the baseline 1262.7 above the floor.
#[test]
fn the_reed_skiffs_ends_stand_where_they_were_worked_by_hand() {
    let model = starter("reed-skiff");
    let jig = jig(&model);
    let at = |end: End, foot: [f64; 2], head: [f64; 2]| {
        let e = jig.end(end).expect("an end");
        near(jig.from_first(e.foot.x), foot[0], 1.0, "foot along");
        near(e.foot.z, foot[1], 1.0, "foot up");
        near(jig.from_first(e.head.x), head[0], 1.0, "head along");
        near(e.head.z, head[1], 1.0, "head up");
        e.clone()
    };
    let stem = at(End::Stem, [-431.0, 1084.0], [-564.0, 571.0]);
    let transom = at(End::Transom, [3296.0, 1204.0], [3386.0, 791.0]);
    // 133 in 513 and 90 in 413.
    near(stem.rake, (133.0f64 / 513.0).atan(), 1e-3, "the stem's rake");
    near(stem.plumb(), 133.0, 0.5, "the stem's plumb-bob");
    near(transom.rake, (90.0f64 / 413.0).atan(), 2e-3, "the transom's rake");
    near(transom.plumb(), 90.0, 0.5, "the transom's plumb-bob");
    // The post lies 89 behind the profile, which comes to the rails' top, 450, at
    // −(570.7 − 450) · 133/513 = −31.3 from the bow; 89 / cos 14.53° = 91.9 further aft, so
    // 60.6 − 564.3 from the first line. Its heel's inner corner is 1076.2 up; 40 short of
    // it along the slope, (1076.2 − 450) / cos 14.53° − 40 = 606.9 long.
    let post = stem.support.post.as_ref().expect("a post");
    near(jig.from_first(post.side_view[0].x), -503.6, 1.0, "the post's foot");
    near(post.length, 606.9, 1.0, "the post's length");
    near(post.foot_cut, (133.0f64 / 513.0).atan(), 1e-3, "the post's foot");
}

/// Upright ends, so that every tape is a sum. Last line at 2400, its marks 300 out and 450
/// up; the transom's sheer corner 600 aft, 600 out and 500 up: √(600² + 300² + 50²) =
/// 672.681 on its own side, √(600² + 900² + 50²) = 1082.820 across. The posts reach 300
/// down from the sheer corners, to 500 + 300 = 800 above the floor: 350 long, their mark
/// 50 up; half a leg inside the rails, 255.5 from the middle.
#[test]
fn the_ends_of_a_straight_punt_by_hand() {
    let model = model(&punt());
    let jig = jig(&model);
    assert!(jig.end(End::Stem).is_none() && jig.end(End::BowTransom).is_some());
    let e = jig.end(End::Transom).expect("a transom");
    assert_eq!(e.taped_from, 3);
    near(jig.from_first(e.foot.x), 2400.0, 1e-6, "foot along");
    near(e.foot.z, 900.0, 1e-6, "foot up");
    near(e.head.z, 500.0, 1e-6, "head up");
    near(e.rake, 0.0, 1e-9, "rake");
    let sheer =
        e.corners.iter().find(|c| c.place == EndPlace::Line(LineId::Sheer)).expect("a corner");
    near(sheer.near, 672.680_9, 1e-3, "tape");
    near(sheer.far, 1_082.820_4, 1e-3, "tape across");
    let chine =
        e.corners.iter().find(|c| c.place == EndPlace::Line(LineId::Chine)).expect("a corner");
    near(chine.near, (360_000.0f64 + 40_000.0 + 202_500.0).sqrt(), 1e-3, "tape to the chine");
    let post = e.support.post.as_ref().expect("posts");
    assert_eq!(post.count(), 2);
    near(post.at, 255.5, 1e-6, "posts from the middle");
    near(post.length, 350.0, 1e-6, "posts' length");
    near(post.mark.expect("a mark"), 50.0, 1e-6, "mark");
    near(post.foot_cut, 0.0, 1e-9, "foot");
    // One rung under every frame and under either end's posts.
    assert_eq!(jig.rungs.len(), 5);
}

/// Foot, head and corners lie on the transom's outer face, which the report names: the plane
/// is told by the report's own origin and slope, and the lines' ends lie on it.
#[test]
fn what_the_report_says_of_a_transom_lies_on_the_face_it_names() {
    for s in starters::STARTERS {
        let folder = tempfile::tempdir().expect("a folder");
        let run = |args: &[&str]| {
            let out = Command::new(env!("CARGO_BIN_EXE_chinewright"))
                .args(args)
                .current_dir(folder.path())
                .output()
                .expect("the program runs");
            String::from_utf8_lossy(&out.stdout).into_owned()
        };
        run(&["start", s.name, "-o", "boat.ron"]);
        let report: serde_json::Value =
            serde_json::from_str(&run(&["report", "boat.ron", "--json"])).expect("JSON");
        let jig = &report["strongback"];
        let datum = jig["baseline_above_floor_mm"].as_f64().expect("a height");
        assert_eq!(jig["transom_face"], "outside");
        for (name, key) in [("transom", "transom"), ("bow transom", "bow_transom")] {
            let Some(points) = jig[key].as_array() else {
                assert!(key == "bow_transom", "{}: no transom", s.name);
                continue;
            };
            let number = |v: &serde_json::Value| v.as_f64().expect("a number");
            let board = &report[key];
            let (o, up) = (&board["origin"], &board["up"]);
            let off = |x: f64, floor: f64| {
                let (dx, dz) = (x - number(&o[0]), (datum - floor) - number(&o[2]));
                dx * number(&up[2]) - dz * number(&up[0])
            };
            for p in points {
                let by = off(number(&p[0]), number(&p[2]));
                assert!(by.abs() < 1e-3, "{} {name}: {by} mm off its face", s.name);
            }
            let first = number(&jig["stands"][0]["station_x_mm"]);
            let ends = jig["ends"].as_array().expect("ends");
            let end = ends.iter().find(|e| e["name"] == name).expect("the end");
            for c in end["corners"].as_array().expect("corners") {
                let x = first + number(&c["along_mm"]);
                let by = off(x, number(&c["above_floor_mm"]));
                assert!(by.abs() < 1e-3, "{} {name}: corner {by} mm off", s.name);
            }
        }
    }
}

/// The lines' own ends, without any transom: foot on the keel's, head on the sheer's.
#[test]
fn foot_and_head_are_where_the_lines_end() {
    for s in starters::STARTERS {
        let model = model(&s.hull());
        let jig = jig(&model);
        let (keel, sheer) = (&model.lines.lines[0], model.lines.lines.last().expect("a sheer"));
        for e in &jig.ends {
            let end = |l: &chinewright::hull::HullLine| {
                l.spline.at(if e.end.at_stern() { l.spline.end() } else { 0.0 })
            };
            // A duck may lie 3 mm off the transom's plane.
            for (p, line) in [(e.foot, keel), (e.head, sheer)] {
                let q = end(line);
                near(p.x, q.x, 3.0, s.name);
                near(p.z, jig.datum - q.z, 3.0, s.name);
            }
        }
    }
}

/// Posts lie with their edge on the outer face or on the stem's back, stand on the rails
/// over a rung, and stop short of the planking; a stem rests in its notch.
#[test]
fn what_holds_the_ends_touches_them() {
    for s in starters::STARTERS {
        let model = model(&s.hull());
        let jig = jig(&model);
        let leg = &model.hull.strongback;
        for e in &jig.ends {
            let post = e.support.post.as_ref().expect("a post");
            let [foot, top, over, under] = post.side_view;
            near(foot.y, jig.rail_top, 1e-6, "stands on the rails");
            near(under.y, jig.rail_top, 1e-6, "stands on the rails");
            assert!(top.y > e.head.z && top.y < e.foot.z - 20.0, "{} {:?}", s.name, e.end);
            let rung = e.support.rung.expect("a rung");
            assert!(jig.rungs.contains(&rung));
            assert!(rung[0] < foot.x.max(under.x) && rung[1] > foot.x.min(under.x));
            assert!(jig.rails[0] < rung[0] && jig.rails[1] > rung[1]);
            // The other edge lies the post's depth away, square.
            let along = (top - foot).normalize();
            let depth = (over - top).norm();
            assert!((over - top).dot(&along).abs() < 1e-6);
            near((along.x / along.y).atan().abs(), post.foot_cut, 1e-9, "the cut is the lean");
            if e.end.is_transom() {
                near(depth, leg.leg_thickness_mm, 1e-6, "a leg's thickness");
                near(post.foot_cut, e.rake.abs(), 1e-3, "it leans as the transom");
                on_line(e, [foot, top], 1.0);
            } else {
                near(depth, leg.leg_width_mm, 1e-6, "a leg's width");
                // No wood of the stem lies on the post's side of its edge, and some touches.
                let n = (over - top) / depth;
                let deepest = e
                    .side_view
                    .iter()
                    .map(|p| (p - foot).dot(&n))
                    .fold(f64::NEG_INFINITY, f64::max);
                near(deepest, 0.0, 1e-6, "the stem lies on its post");
                rests(e, jig);
            }
        }
    }
}

/// The posts' edge runs along the line from the end's foot to its head.
fn on_line(e: &EndStand, edge: [chinewright::geom::P2; 2], within: f64) {
    let slope = (e.head.x - e.foot.x) / (e.head.z - e.foot.z);
    for p in edge {
        near(p.x, e.foot.x + slope * (p.y - e.foot.z), within, "on the face");
    }
}

/// The lowest of the stem's wood over the crosspiece is the bottom of its notch: looked for
/// along rays, not by its corners.
fn rests(e: &EndStand, jig: &Strongback) {
    let c = e.support.crosspiece.expect("a crosspiece");
    let ring = &e.side_view;
    let mut lowest = f64::INFINITY;
    for k in 0..=400 {
        let x = c.faces[0] + (c.faces[1] - c.faces[0]) * f64::from(k) / 400.0;
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            if (a.x - x) * (b.x - x) <= 0.0 && a.x != b.x {
                lowest = lowest.min(a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y));
            }
        }
    }
    near(c.rest(), lowest, 0.5, "the notch's bottom");
    assert!(c.low >= jig.rail_top - 1e-9 && c.under_notch() >= 25.0 && c.notch_depth > 10.0);
    let post = e.support.post.as_ref().expect("a post");
    // Crosspiece and post stand clear of each other.
    let [foot, top, ..] = post.side_view;
    for z in [c.low, c.low + c.width] {
        let edge = foot.x + (z - foot.y) / (top.y - foot.y) * (top.x - foot.x);
        assert!(edge < c.faces[0] || edge > c.faces[1], "{edge} {:?}", c.faces);
    }
}

fn closed(d: &Drawing) -> Vec<(f64, f64, f64, f64)> {
    d.items
        .iter()
        .filter_map(|i| match &i.shape {
            Shape::Polyline { points, closed: true } => {
                let (low, high) = chinewright::geom::polyline::bounds(points.iter().copied())?;
                let k = d.reduced;
                Some((k * low.x, k * low.y, k * high.x, k * high.y))
            }
            _ => None,
        })
        .collect()
}

/// Every piece of the list is drawn, and no more: the plan shows all but the posts that the
/// rails hide, the elevation all but the braces across, and each stands in its place.
#[test]
fn as_many_are_drawn_as_are_listed() {
    let hulls = starters::STARTERS.iter().map(|s| s.hull()).chain([punt()]);
    for hull in hulls {
        let model = model(&hull);
        let jig = jig(&model);
        let listed = |names: &dyn Fn(&str) -> bool| -> usize {
            jig.cuts.iter().filter(|c| names(&c.name)).map(|c| c.count).sum()
        };
        let plan = closed(&jig_plan(&model, jig, Units::Mm));
        let side = closed(&jig_elevation(&model, jig, Units::Mm));
        assert_eq!(plan.len(), listed(&|n| !n.starts_with("post under")), "{}", hull.name);
        let sides = side.len() - jig.ends.len();
        assert_eq!(sides, listed(&|n| n != "brace across"), "{}", hull.name);
        for c in &jig.cuts {
            let there = jig.sticks.iter().filter(|s| s.name == c.name).filter(|s| {
                let [x, y, z] = s.extent();
                let is = |a: f64, b: f64| (a - b).abs() < 1e-6;
                let seen = |boxes: &[(f64, f64, f64, f64)], v: [f64; 2]| {
                    boxes
                        .iter()
                        .any(|b| is(b.0, x[0]) && is(b.1, v[0]) && is(b.2, x[1]) && is(b.3, v[1]))
                };
                (seen(&plan, y) || seen(&side, z)) && (s.length - c.length).abs() < 0.5
            });
            assert_eq!(there.count(), c.count, "{}: {}", hull.name, c.name);
        }
        let rungs = plan.iter().filter(|b| {
            jig.rungs.iter().any(|r| (b.0 - r[0]).abs() < 1e-6 && (b.2 - r[1]).abs() < 1e-6)
                && (b.3 - b.1 - (jig.rail_spacing - 76.0)).abs() < 1e-6
        });
        assert_eq!(rungs.count(), listed(&|n| n.starts_with("rung")), "{}", hull.name);
    }
}

fn all_sheets(model: &Model, units: Units) -> Vec<Drawing> {
    let jig = jig(model);
    let ends = jig.ends.iter().map(|e| jig_end(model, jig, e, units));
    let mut out = vec![
        jig_plan(model, jig, units),
        jig_elevation(model, jig, units),
        jig_section(model, jig, units),
        lines_plan(model, units),
        body_plan(model, units),
        offsets_table(model),
    ];
    out.extend(ends);
    out
}

#[test]
fn no_word_of_the_set_up_sheets_overprints_another() {
    for s in starters::STARTERS {
        let model = model(&s.hull());
        for units in [Units::Mm, Units::FeetInchesEighths] {
            for d in all_sheets(&model, units) {
                let boxes: Vec<_> =
                    d.items.iter().filter_map(|i| Some((i, i.shape.text_box()?))).collect();
                assert!(boxes.len() > 5, "{}", d.title);
                for (i, (a, here)) in boxes.iter().enumerate() {
                    for (b, there) in &boxes[..i] {
                        assert!(!here.meets(there, 0.0), "{}: {a:?} over {b:?}", d.title);
                    }
                }
            }
        }
    }
}

fn words(d: &Drawing) -> String {
    let texts = d.items.iter().filter_map(|i| match &i.shape {
        Shape::Text { text, .. } => Some(text.as_str()),
        Shape::Polyline { .. } => None,
    });
    texts.chain(d.notes.iter().map(String::as_str)).collect::<Vec<_>>().join("\n")
}

/// A pram has no stem, on no sheet and in no step; and what has one says so.
#[test]
fn a_stem_is_named_only_where_there_is_one() {
    for s in starters::STARTERS {
        let model = model(&s.hull());
        let has = model.woodwork.stem.is_some();
        let told = all_sheets(&model, Units::Mm).iter().map(words).collect::<String>();
        assert_eq!(told.contains("stem"), has, "{}", s.name);
        let order = build_order(&model, Units::Mm);
        let named = order.iter().any(|step| step.how.contains("stem") || step.title == "Stem");
        assert_eq!(named, has, "{}", s.name);
        if model.woodwork.bow_transom.is_some() {
            assert!(told.contains("bow transom") && order.iter().any(|o| o.title == "Bow transom"));
        }
    }
}

/// A station at 2294.5 is told the same way on every sheet.
#[test]
fn one_rounding_of_a_station_on_every_sheet() {
    let model = starter("warden");
    assert!(model.stations.iter().any(|x| (x - 2294.5).abs() < 1e-9), "{:?}", model.stations);
    let told = [lines_plan(&model, Units::Mm), offsets_table(&model)].map(|d| words(&d));
    for sheet in &told {
        assert!(sheet.contains("2295") && !sheet.contains("2294"), "{sheet}");
    }
}

/// Bow and stern have their columns: every line's end, as its ducks have it.
#[test]
fn the_table_of_offsets_has_the_ends() {
    for s in starters::STARTERS {
        let hull = s.hull();
        let model = model(&hull);
        let heads = offsets_table::columns(&model);
        assert_eq!(heads.len(), model.stations.len() + 2);
        let rows = offsets_table::rows(&model);
        for line in &hull.lines {
            let (first, last) = (&line.ducks[0], line.ducks.last().expect("ducks"));
            for (what, a, b) in [("aft of the bow", first.x, last.x), ("height", first.z, last.z)] {
                let (_, values) =
                    rows.iter().find(|r| r.0 == format!("{}, {what}", line.name)).expect("a row");
                assert_eq!(values.len(), heads.len());
                near(values[0].expect("a bow"), a, 1e-9, what);
                near(values[values.len() - 1].expect("a stern"), b, 1e-9, what);
            }
        }
    }
}

/// The keelson is one: nothing about it goes in turn.
#[test]
fn only_what_comes_in_pairs_goes_on_in_turn() {
    let model = starter("reed-skiff");
    let order = build_order(&model, Units::Mm);
    let step = |title: &str| order.iter().find(|s| s.title == title).expect(title);
    assert!(!step("Keelson").how.contains("in turn") && step("Chine log").how.contains("in turn"));
}

/// How far a stem's line runs on past its heel to the foot, as a reader of the reports worked it
/// out from outline and profile apart from the program, mm.
#[test]
fn a_stem_runs_on_past_its_heel_by_what_the_keelson_takes() {
    for (name, want) in [("reed-skiff", 20.5), ("warden", 23.9), ("mere-dory", 34.8)] {
        let model = starter(name);
        let stem = model.woodwork.stem.as_ref().expect("a stem");
        near(stem.heel_to_foot(), want, 0.06, name);
        let e = jig(&model).ends.iter().find(|e| !e.end.is_transom()).expect("the stem");
        let sheet = chinewright::drawing::compose::jig_end(&model, jig(&model), e, Units::Mm);
        let said =
            format!("run on {} past the corner of its heel", Units::Mm.show(stem.heel_to_foot()));
        assert!(sheet.notes.iter().any(|n| n.contains(&said)), "{name}: {:?}", sheet.notes);
    }
}
