//! The strongback, beside cases worked by hand; as-built measurements; loft notation.

use chinewright::finding::{DrainFact, Fact, Finding, JigFact, Place};
use chinewright::hull::{Duck, Face, Hull, Line, LineEnd, Measured, starters};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::units::{Units, feet_inches_eighths, parse_length};

fn line(name: &str, ducks: &[(f64, f64, f64)]) -> Line {
    Line {
        name: name.into(),
        ducks: ducks.iter().map(|(x, y, z)| Duck::at(*x, *y, *z)).collect(),
        bow: LineEnd::RunsOn,
        stern: LineEnd::RunsOn,
    }
}

/// A square-ended punt with straight lines, so that every figure is a sum:
/// bottom 1000 wide at height 50, sheers 1200 apart at height 450, upright ends.
pub(crate) fn punt() -> Hull {
    let mut hull = Hull::new(
        "Sedge punt",
        vec![
            line("chine", &[(0.0, 500.0, 50.0), (1500.0, 500.0, 50.0), (3000.0, 500.0, 50.0)]),
            line("sheer", &[(0.0, 600.0, 450.0), (1500.0, 600.0, 450.0), (3000.0, 600.0, 450.0)]),
        ],
    );
    hull.framing.stations_mm = vec![600.0, 1400.0, 2400.0];
    hull
}

pub(crate) fn model(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a hull")
}

/// By hand: rails' top 450, clearance 50, highest sheer 450, so the baseline stands at
/// 450 + 50 + 450 = 950. The lowest sheer less 20 is 430, so the level line is at 400, which
/// is 950 − 400 = 550 above the floor and 100 up the legs, which run on by the spall's 89 to
/// 189. The side at height 400 is
/// 500 + 100 · 350/400 = 587.5 out, at 400 − 89 = 311: 500 + 100 · 261/400 = 565.25, less 8
/// clear: the spall is 2 · 557.25 = 1114.5 long.
#[test]
fn heights_of_a_straight_punt_by_hand() {
    let model = model(&punt());
    let jig = model.woodwork.strongback.as_ref().expect("a jig");
    let near = |a: f64, b: f64, what: &str| assert!((a - b).abs() < 1e-6, "{what}: {a} {b}");
    near(jig.datum, 950.0, "baseline");
    near(jig.level, 400.0, "level line");
    near(jig.level_on_legs, 100.0, "level line on the legs");
    near(jig.leg_length, 189.0, "legs");
    // Outside to outside 600; first to last line 1800: √(1800² + 600²) = 1897.3666.
    near(jig.rail_diagonal, 1_897.366_596_101_027_6, "rails' diagonal");
    // Rails run 50 past the posts that hold the ends, 38 thick outside them at 0 and 3000.
    near(jig.rails[0], -88.0, "rails from");
    near(jig.rails[1], 3088.0, "rails to");
    assert_eq!(jig.stands.len(), 3);
    for (s, from_first) in jig.stands.iter().zip([0.0, 800.0, 1800.0]) {
        near(s.from_first, from_first, "from the first line");
        near(s.spall_half, 557.25, "spall");
        // Inside the rails, by half a leg: 300 − 44.5.
        near(s.leg_at, 255.5, "legs out");
        let corner = |name: &str| s.corners.iter().find(|c| c.line.is(name)).expect("a corner");
        near(corner("keel").above_floor, 900.0, "keel");
        near(corner("chine").above_floor, 900.0, "chine");
        near(corner("sheer").above_floor, 500.0, "sheer");
        near(corner("chine").half_breadth, 500.0, "chine out");
        // Chine on one side to the sheer on the other: √(1100² + 400²) = 1170.4700.
        near(s.diagonals.across.expect("a chine"), 1_170.469_991_071_962_4, "across");
        // Keel to sheer: √(600² + 400²) = 721.1103.
        near(s.diagonals.keel_to_sheer.expect("a keel"), 721.110_255_092_798, "to the sheer");
    }
    // From the middle of the bow's top (0, 0, 450) to a spall's end (1400, 557.25, 400):
    // √(1400² + 557.25² + 50²) = 1507.6628.
    let second = jig.stands[1].diagonals.from_stem.expect("a bow");
    near(second, (1_960_000.0f64 + 310_527.562_5 + 2500.0).sqrt(), "from the bow");
    // Cut list: 2 rails of 3176, 5 rungs (one under either end's posts) of 600 − 2 · 38 =
    // 524, 6 legs, posts of 450 − 140 = 310: rails of 3176 less 200 in three bays, so four a
    // side.
    let cut = |name: &str| jig.cuts.iter().find(|c| c.name == name).expect("in the list");
    assert_eq!((cut("rail").count, cut("rail").length), (2, 3176.0));
    assert_eq!((cut("rung between the rails").count, cut("leg").count), (5, 6));
    near(cut("rung between the rails").length, 524.0, "rung");
    let post = cut("post under a rail");
    assert_eq!((post.count, post.length), (8, 310.0));
}

/// A leg is screwed to the whole width of its spall: in space both cover the same heights,
/// the leg on the frame's side of the line, the spall on the other.
#[test]
fn legs_and_spalls_lie_on_each_other() {
    for starter in starters::STARTERS {
        let model = model(&starter.hull());
        let jig = model.woodwork.strongback.as_ref().expect("a jig");
        let top = jig.rail_top + jig.leg_length;
        for s in &jig.stands {
            let frame = model.woodwork.frame(s.station).expect("its frame");
            let spall = frame.spall.expect("a spall");
            let (low, high) = (jig.above_floor(spall.level), jig.above_floor(spall.low));
            assert!(low > jig.rail_top && (high - top).abs() < 1e-9, "{low} {high} {top}");
            assert_eq!(s.leg_side, if s.face == Face::Aft { Face::Fore } else { Face::Aft });
            // The leg passes inside the frame's own sides.
            let outer = s.leg_at + 0.5 * model.hull.strongback.leg_width_mm;
            for p in frame.pieces.iter().filter(|p| !p.whole) {
                let beside = p.outline.iter().filter(|q| q.y > spall.low && q.y < spall.level);
                let closest = beside.map(|q| q.x).fold(f64::INFINITY, f64::min);
                assert!(s.leg_at == 0.0 || outer < closest, "frame {}", s.station);
            }
        }
    }
}

/// Prismatic sides: no face is larger, every bevel is nothing, and every bend too, so a
/// frame may be out by what an eye misses, 1 mm, and no more.
#[test]
fn a_punt_has_no_bevels_and_shows_every_error() {
    let model = model(&punt());
    for f in &model.woodwork.frames {
        for b in &f.bevels {
            assert!(b.angle.abs() < 1e-9 && b.offset.abs() < 1e-9);
        }
        // The pieces together are the section's bands: the bottom 64 deep, the sides 64.
        assert_eq!(f.pieces.len(), 2);
        assert!(f.crowns.iter().all(|c| c.1.abs() < 1e-9));
    }
    assert!(!model.woodwork.sensitivities.is_empty());
    for s in &model.woodwork.sensitivities {
        assert!((s.allowed - 1.0).abs() < 1e-6, "{s:?}");
    }
}

/// A fall of 1 in 14 from chines 500 out is 35.714 at the keelson; the bottoms are then two
/// planes at atan 1/14 = 4.0856°, and lie in the planes that the finding says.
#[test]
fn a_drain_slope_makes_a_shallow_v_of_a_flat_bottom() {
    let mut hull = punt();
    hull.framing.drain_slope = 1.0 / 14.0;
    let model = model(&hull);
    assert!(!model.lines.flat_bottom);
    for f in &model.woodwork.frames {
        let keel = f.section.edges[0].first().at;
        assert!((keel.y - (50.0 - 500.0 / 14.0)).abs() < 1e-6 && keel.x.abs() < 1e-9);
        assert!((f.bottom_slope() - 1.0 / 14.0).abs() < 1e-9);
    }
    let told = model.findings.iter().find(|f| f.place == Place::DrainSlope).expect("it is said");
    let Fact::Drain(DrainFact::Falls { drop, deadrise, litres, .. }) = told.fact else {
        panic!("{told:?}");
    };
    // 2 · ½ · 500 · 35.714 over 3000 mm: 53.57 litres.
    assert!((drop - 500.0 / 14.0).abs() < 1e-6 && (litres - 53.57).abs() < 0.05, "{told:?}");
    assert!((deadrise - (1.0f64 / 14.0).atan()).abs() < 1e-9, "{told:?}");
    // On a bottom with a keel of its own it changes nothing, and says so.
    let mut warden = starters::find("warden").expect("a starter").hull();
    warden.framing.drain_slope = 1.0 / 14.0;
    let with = derive(&warden, &Materials::shipped()).expect("a starter");
    let nothing = |f: &Finding| matches!(f.fact, Fact::Drain(DrainFact::FallsAnyway(Some(_))));
    assert!(with.findings.iter().any(nothing));
}

#[test]
fn measuring_what_was_drawn_changes_nothing_and_3_mm_shift_the_notch_by_3_mm() {
    let mut hull = starters::demonstration();
    let drawn = model(&hull);
    let stand = &drawn.woodwork.strongback.as_ref().expect("a jig").stands[2];
    let sheer = stand.corners.last().expect("the sheer");
    let measured = |out: f64, up: f64| Measured {
        station: stand.station,
        line: "sheer".into(),
        above_floor_mm: Some(sheer.above_floor - up),
        half_breadth_mm: Some(sheer.half_breadth + out),
    };
    hull.as_built = vec![measured(0.0, 0.0)];
    let same = model(&hull);
    let built = same.as_built.as_ref().expect("as built");
    assert!(
        built.panels.iter().all(|p| p.outline < 1e-6 && p.edges.iter().all(|e| e.abs() < 1e-6))
    );
    hull.as_built = vec![measured(3.0, -2.0)];
    let moved = model(&hull);
    let built = moved.as_built.as_ref().expect("as built");
    let notch = |station: usize, member: &str| {
        built
            .notches
            .iter()
            .find(|n| n.station == station && n.member == member)
            .unwrap_or_else(|| panic!("{member} at {station}"))
            .shift
    };
    let [out, up] = notch(stand.station, "sheer clamp");
    assert!((out - 3.0).abs() < 0.05 && (up + 2.0).abs() < 0.05, "{out} {up}");
    // The other frames stand as drawn, and so does the chine.
    for f in &drawn.woodwork.frames {
        if f.station != stand.station {
            let [out, up] = notch(f.station, "sheer clamp");
            assert!(out.abs() < 0.2 && up.abs() < 0.2, "frame {}: {out} {up}", f.station);
        }
        let [out, up] = notch(f.station, "chine log");
        assert!(out.abs() < 1e-6 && up.abs() < 1e-6);
    }
    let side = built.panels.iter().find(|p| p.name == "side").expect("a side");
    assert!(side.outline > 0.2 && side.outline < 6.0, "{}", side.outline);
}

#[test]
fn measurements_that_cannot_be_are_told_of_by_place_and_value() {
    let mut hull = starters::demonstration();
    let at = |station: usize, line: &str, out: f64| Measured {
        station,
        line: line.into(),
        above_floor_mm: None,
        half_breadth_mm: Some(out),
    };
    hull.as_built = vec![at(40, "sheer", 500.0), at(2, "keel", 10.0), at(2, "sheer", 1468.0)];
    let model = model(&hull);
    assert!(model.as_built.is_none());
    let told: Vec<(usize, &JigFact)> = model
        .findings
        .iter()
        .filter_map(|f| match (&f.place, &f.fact) {
            (Place::Measurement(row), Fact::Jig(fact)) => Some((*row, fact)),
            _ => None,
        })
        .collect();
    let [
        (1, JigFact::NoFrameAt { station: 40, .. }),
        (2, JigFact::NoCorner { station: 2, line, .. }),
        (3, JigFact::Slip { by, .. }),
    ] = &told[..]
    else {
        panic!("{told:?}");
    };
    assert!(line == "keel" && (by - 1000.0).abs() < 0.5, "{told:?}");
}

/// A height and a half-breadth may stand in two rows; two figures for one thing may not. A
/// knuckle on a station stays one.
#[test]
fn rows_of_one_corner_are_taken_together_and_knuckles_stay() {
    let mut hull = starters::demonstration();
    let drawn = model(&hull);
    let corner = drawn.woodwork.strongback.as_ref().expect("a jig").stands[2]
        .corners
        .last()
        .expect("the sheer")
        .clone();
    let row = |above_floor_mm: Option<f64>, half_breadth_mm: Option<f64>| Measured {
        station: 3,
        line: "sheer".into(),
        above_floor_mm,
        half_breadth_mm,
    };
    let high = Some(corner.above_floor - 4.0);
    let out = Some(corner.half_breadth + 5.0);
    hull.as_built = vec![row(high, None), row(None, out)];
    let built = model(&hull);
    let d = &built.as_built.as_ref().expect("as built").deviations;
    assert_eq!(d.len(), 1);
    assert!((d[0].out - 5.0).abs() < 1e-9 && (d[0].up - 4.0).abs() < 1e-9);
    hull.as_built.push(row(None, Some(corner.half_breadth)));
    let told = model(&hull).findings;
    let before = JigFact::MeasuredBefore { station: 3, line: "sheer".into() }.into();
    assert!(told.iter().any(|f| f.place == Place::Measurement(3) && f.fact == before));

    let mut knuckled = starters::demonstration();
    let ducks = &mut knuckled.lines[1].ducks;
    ducks[3].knuckle = true;
    let at = ducks[3].x;
    knuckled.framing.stations_mm = vec![800.0, 1500.0, at, 3100.0];
    let drawn = model(&knuckled);
    let corner = drawn.woodwork.strongback.as_ref().expect("a jig").stands[1]
        .corners
        .last()
        .expect("the sheer")
        .clone();
    knuckled.as_built = vec![Measured {
        station: 2,
        line: "sheer".into(),
        above_floor_mm: None,
        half_breadth_mm: Some(corner.half_breadth + 0.01),
    }];
    let built = model(&knuckled);
    let side = &built.as_built.as_ref().expect("as built").panels[1];
    assert!(side.outline < 0.5, "a hundredth of a millimetre moved it by {}", side.outline);
}

/// The table of offsets in feet-inches-eighths: figures read back are within a thirty-second
/// of an inch each, and a whole column adds up to within its share.
#[test]
fn a_column_of_offsets_adds_up_in_eighths() {
    for starter in starters::STARTERS {
        let model = model(&starter.hull());
        let mut count = 0.0;
        let (mut exact, mut read) = (0.0, 0.0);
        for (_, values) in chinewright::drawing::compose::offsets_table::rows(&model) {
            for mm in values.into_iter().flatten() {
                let back = parse_length(&feet_inches_eighths(mm), Units::FeetInchesEighths)
                    .expect("our own notation");
                assert!((back - mm).abs() <= 25.4 / 32.0 + 1e-9, "{mm} {back}");
                exact += mm;
                read += back;
                count += 1.0;
            }
        }
        assert!(count > 10.0);
        assert!((exact - read).abs() < count * 25.4 / 64.0, "{exact} {read}");
    }
}
