//! Hull documents: the starters, reading, and faults with their place.

use chinewright::bend::Governs;
use chinewright::curve::View;
use chinewright::finding::{Fact, Finding, LineFact, Place, Severity, StickFact};
use chinewright::hull::document::FORMAT_VERSION;
use chinewright::hull::read::read;
use chinewright::hull::starters::{STARTERS, demonstration, find};
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::part::{LineId, Question};

#[test]
fn every_starter_is_fair_flat_and_bends() {
    for starter in STARTERS {
        let model = derive(&starter.hull(), &Materials::shipped()).expect(starter.name);
        let grave: Vec<_> =
            model.findings.iter().filter(|f| f.severity == Severity::Stop).collect();
        assert!(grave.is_empty(), "{}: {grave:?}", starter.name);
        for p in &model.panels {
            assert!(p.quality.greatest_warp.to_degrees() < 0.5, "{} {}", starter.name, p.name);
            assert!(p.bend.radius >= p.bend.least_radius, "{} {}", starter.name, p.name);
            assert!(p.pattern_error < 0.1);
        }
        for m in &model.members {
            assert!(m.advice.recommended.is_some(), "{} {}", starter.name, m.member.name);
        }
        for fair in &model.fairness {
            assert!(
                fair.plan.inflections_x.len() <= 1 && fair.profile.inflections_x.len() <= 1,
                "{}",
                starter.name
            );
            for hooks in [&fair.plan.hooks, &fair.profile.hooks] {
                assert!(hooks.is_empty(), "{}: {hooks:?}", starter.name);
            }
        }
    }
}

/// The warden's bottom is prismatic where she planes: keel and chine run straight there to a
/// tenth of a millimetre. Before it was mended her keel swung 6 mm to either side, and with
/// those ducks a finding says so.
#[test]
fn the_warden_runs_straight_and_a_hook_is_told() {
    let warden = STARTERS.iter().find(|s| s.name == "warden").expect("a starter").hull();
    let model = derive(&warden, &Materials::shipped()).expect("a starter");
    for (line, from) in [("keel", 2800.0), ("chine", 2960.0)] {
        let spline = &model.lines.get(line).expect("a line").spline;
        let end = spline.at(spline.end());
        for i in 0..=50 {
            let x = from + (end.x - from) * f64::from(i) / 50.0;
            let p = spline.at(spline.parameter_at_x(x).expect("it passes"));
            assert!((p.z - end.z).abs() < 0.1 && (p.y - end.y).abs() < 0.1, "{line} {p}");
        }
    }
    let mut hooked = warden.clone();
    let keel = &mut hooked.lines[0];
    assert_eq!(keel.name, "keel");
    keel.ducks = [
        (170.0, 408.0),
        (794.3, 232.0),
        (1343.0, 105.9),
        (1857.6, 30.8),
        (2370.8, 0.0),
        (3415.4, 0.0),
        (4460.0, 0.0),
    ]
    .map(|(x, z)| chinewright::hull::Duck::at(x, 0.0, z))
    .to_vec();
    let model = derive(&hooked, &Materials::shipped()).expect("a starter");
    let (told, left, right) = model
        .findings
        .iter()
        .find_map(|f| match f.fact {
            Fact::Line(LineFact::Hook { left, right, .. }) => Some((f, left, right)),
            _ => None,
        })
        .expect("a finding");
    assert_eq!(told.severity, Severity::Watch);
    let place = Place::Ducks { line: LineId::Keel, view: View::Profile, from: 5, to: 7 };
    assert_eq!(told.place, place);
    assert!((left - 5.9).abs() < 0.05 && (right - 5.9).abs() < 0.05, "{told:?}");
}

#[test]
fn starters_are_the_sizes_that_they_say() {
    let lengths = [3900.0..4100.0, 4500.0..4700.0, 5000.0..5300.0, 2300.0..2500.0];
    for (starter, range) in STARTERS.iter().zip(lengths) {
        let model = derive(&starter.hull(), &Materials::shipped()).expect(starter.name);
        let length = model.lines.length_overall();
        assert!(range.contains(&length), "{}: {length}", starter.name);
    }
    assert_eq!(STARTERS[0].hull(), demonstration());
}

#[test]
fn a_saved_document_writes_every_default_and_reads_back_the_same() {
    for starter in STARTERS {
        let hull = starter.hull();
        let text = hull.to_ron().expect("plain data");
        for field in [
            "version",
            "pattern_surface",
            "trim_allowance_mm",
            "spacing_mm",
            "moisture_pct",
            "straight",
        ] {
            assert!(text.contains(field), "{} leaves {field} out", starter.name);
        }
        assert_eq!(read(&text, "back.ron").expect("own text"), hull);
    }
}

/// The least document that is one: a name and lines.
pub(crate) const GOOD: &str = r#"(
  version: 1,
  name: "test",
  lines: [
    (name: "chine", ducks: [
      (x: 100, y: 0, z: 150),
      (x: 1500, y: 400, z: 30),
      (x: 3000, y: 420, z: 60),
    ]),
    (name: "sheer", ducks: [
      (x: 0, y: 0, z: 600),
      (x: 1500, y: 560, z: 480),
      (x: 3100, y: 560, z: 470),
    ]),
  ],
)"#;

#[test]
fn a_name_and_lines_are_enough() {
    let hull = read(GOOD, "good.ron").expect("a good document");
    assert_eq!(hull.version, FORMAT_VERSION);
    assert!(derive(&hull, &Materials::shipped()).is_ok());
}

/// Each fault: what is changed, where it must be found, and words of the message.
#[test]
fn faults_name_line_column_value_and_remedy() {
    let cases = [
        ("(x: 1500, y: 400, z: 30)", "(x: 1500, y: 400, z: NaN)", 7, "NaN"),
        ("(x: 1500, y: 400, z: 30)", "(x: 1500, y: -4, z: 30)", 7, "starboard"),
        ("(x: 0, y: 0, z: 600)", "(x: -20, y: 0, z: 600)", 11, "ahead of the origin"),
        ("(x: 1500, y: 560, z: 480)", "(x: 1e300, y: 560, z: 480)", 12, "20000"),
        ("(x: 3100, y: 560, z: 470)", "(x: 1100, y: 560, z: 470)", 13, "not aft"),
        ("version: 1", "version: 99", 2, "version 99"),
        ("name: \"test\"", "nmae: \"test\"", 3, "nmae"),
        ("name: \"sheer\"", "name: \"shear\"", 10, "shear"),
        ("(x: 3000, y: 420, z: 60)", "(x: 3000, y: \"wide\", z: 60)", 8, "number"),
        ("z: 480", "z: 10", 10, "cross"),
    ];
    for (from, to, line, words) in cases {
        let text = GOOD.replacen(from, to, 1);
        assert_ne!(text, GOOD, "{from}");
        let error = read(&text, "bad.ron").expect_err(to);
        assert_eq!(error.line, line, "{to}: {error}");
        assert!(error.column >= 1 && error.to_string().starts_with("bad.ron:"), "{error}");
        assert!(error.message.contains(words), "{to}: {error}");
    }
    let two =
        GOOD.replace("      (x: 1500, y: 400, z: 30),\n      (x: 3000, y: 420, z: 60),\n", "");
    assert!(read(&two, "f").expect_err("one duck").message.contains("at least 2"));
}

/// Of several loads, weights, blocks and rows, the one at fault is pointed at.
#[test]
fn a_fault_aboard_points_to_its_own_line() {
    let good = GOOD.replacen(
        "  lines: [",
        "  coverage: [
    (what: PaintDensity, value: 1400, source: \"a can\"),
    (what: CoatOfPaint, value: 0.1, source: \"a can\"),
  ],
  afloat: (
    loads: [
      (name: \"crate\", mass_kg: 10, x: 900, z: 200),
      (name: \"anchor\", mass_kg: 8, x: 300, z: 200),
    ],
    weighed: [
      (item: \"side\", mass_kg: 9),
      (item: \"bottom\", mass_kg: 12),
    ],
    foam: [(name: \"seat\", from: (500, 0, 100), to: (800, 200, 200))],
  ),
  lines: [",
        1,
    );
    assert!(read(&good, "good.ron").is_ok(), "{:?}", read(&good, "good.ron"));
    for (from, to, words) in [
        ("mass_kg: 8", "mass_kg: -8", "0 to 5000 kg"),
        ("\"anchor\"", "\" \"", "a name"),
        ("mass_kg: 12", "mass_kg: 0", "0.1 to 5000 kg"),
        ("item: \"bottom\"", "item: \"side\"", "one weight for each item"),
        ("to: (800, 200, 200)", "to: (800, 0, 200)", "three directions"),
        ("to: (800, 200, 200)", "box_ply_mm: 50, to: (800, 200, 200)", "0 to 30 mm"),
        ("value: 0.1", "value: 60", "0 to 2, kg/m², dry"),
        ("what: CoatOfPaint", "what: PaintDensity", "one row for each figure"),
    ] {
        let text = good.replacen(from, to, 1);
        assert_ne!(text, good, "{from}");
        let error = read(&text, "bad.ron").expect_err(to);
        assert!(error.message.contains(words), "{to}: {error}");
        // Of two rows about one thing, either may be named.
        let lines = text.lines().enumerate().filter(|(_, l)| l.contains(to)).map(|(i, _)| i + 1);
        assert!(lines.into_iter().any(|line| line == error.line), "{to}: {error}");
    }
}

/// A keelson that would not break but that no hand can pull to its line: the finding says so,
/// and a stick that is bent too sharply edgewise is told to be less sided, not less moulded.
#[test]
fn what_a_bent_member_lacks_is_named() {
    let pram = STARTERS.iter().find(|s| s.name == "sluice-pram").expect("a starter").hull();
    let told = |hull: &chinewright::hull::Hull, name: &str| {
        let model = derive(hull, &Materials::shipped()).expect("computes");
        let of = |p: &Place| matches!(p, Place::StickAt(stick, _) if stick == name);
        let found = model.findings.into_iter().find(|f| of(&f.place)).expect("a finding");
        match found.fact {
            Fact::Stick(StickFact::NotDry { too_stiff, governs, way, .. }) => {
                (too_stiff.is_some(), governs, way.is_some())
            }
            other => panic!("{other:?}"),
        }
    };
    assert!(told(&pram, "keelson").0);
    let mut wide = pram.clone();
    let clamp = wide.members.iter_mut().find(|m| m.name == "sheer clamp").expect("one");
    (clamp.moulded_mm, clamp.sided_mm) = (19.0, 480.0);
    assert_eq!(told(&wide, "sheer clamp"), (false, Governs::Sided, false));
}

/// Each member's fault points to its own line, and a member's stock, air and soak come back.
#[test]
fn a_member_s_fault_points_to_its_own_line() {
    let good = GOOD.replacen(
        "  lines: [",
        "  members: [
    (name: \"log\", line: \"chine\", moulded_mm: 19, sided_mm: 38, species: \"white ash\",
      moisture_pct: 3, stock: Graded(one_in: 12), soak: (water_c: 90, hours: 2),
      air: Some((temperature_c: 30, humidity_pct: 40))),
    (name: \"clamp\", line: \"sheer\", moulded_mm: 19, sided_mm: 38, species: \"white ash\",
      moisture_pct: 14, stock: Clear),
  ],
  lines: [",
        1,
    );
    let hull = read(&good, "good.ron").expect("a good document");
    let back = read(&hull.to_ron().expect("plain data"), "back.ron").expect("own text");
    assert_eq!(back, hull);
    // Wood Handbook, table 4-2, from memory: 7.4 to 7.5 % at 86 °F and 40 %.
    assert!((7.3..7.6).contains(&hull.members[0].moisture()), "{}", hull.members[0].moisture());
    assert_eq!(hull.members[1].moisture(), 14.0);
    for (from, to, words, line) in [
        ("moisture_pct: 3,", "moisture_pct: 2,", "3 to 40 percent", 5),
        ("one_in: 12", "one_in: 3", "6 to 20", 5),
        ("water_c: 90", "water_c: 120", "5 to 100 °C", 5),
        ("humidity_pct: 40", "humidity_pct: 140", "5 to 95 percent", 5),
        ("\"clamp\"", "\"log\"", "one row for each member", 8),
    ] {
        let text = good.replacen(from, to, 1);
        assert_ne!(text, good, "{from}");
        let error = read(&text, "bad.ron").expect_err(to);
        assert!(error.message.contains(words), "{to}: {error}");
        assert_eq!(error.line, line, "{to}: {error}");
    }
}

#[test]
fn own_rows_replace_those_of_the_tables() {
    let text = GOOD.replacen(
        "  lines: [",
        "  woods: [(name: \"Douglas-fir\", kind: Softwood, specific_gravity: 0.5, at_12: (mor_psi: 12400, moe_mpsi: 1.95, work: Some(4.95)), mp_pct: 24, source: \"my own stack\")],\n  lines: [",
        1,
    );
    let weak = derive(&read(&text, "own.ron").expect("own rows"), &Materials::shipped())
        .expect("computes");
    let book =
        derive(&read(GOOD, "good.ron").expect("good"), &Materials::shipped()).expect("computes");
    let ratio = weak.members[0].limit.breaking / book.members[0].limit.breaking;
    assert!((ratio - 0.5).abs() < 1e-9, "{ratio}");
}

/// Two frames cannot stand in one place; the warden's own stations say nothing.
#[test]
fn frames_nearer_than_their_own_thickness_are_told() {
    let told = |stations: Vec<f64>| {
        let mut hull = find("warden").expect("the V-bottom").hull();
        hull.framing.stations_mm = stations;
        let model = derive(&hull, &Materials::shipped()).expect("she is computed");
        model.findings.iter().filter(|f| matches!(f.place, Place::Frames(..))).count()
    };
    assert_eq!(told(Vec::new()), 0);
    assert_eq!(told(vec![1000.0, 1600.0, 1618.0, 2600.0]), 1);
}

/// Frames with no room for spall and leg between them can stand, but not as the list says.
#[test]
fn frames_too_near_for_their_legs_are_told_in_setup() {
    let told = |apart: f64| -> Vec<Option<Question>> {
        let mut hull = find("reed-skiff").expect("the flat bottom").hull();
        hull.framing.stations_mm = vec![800.0, 1400.0, 2000.0, 2000.0 + apart, 2800.0];
        let model = derive(&hull, &Materials::shipped()).expect("she is computed");
        let of = |f: &&Finding| f.place == Place::Frames(3, 4);
        model.findings.iter().filter(of).map(Finding::question).collect()
    };
    let expected = [vec![Some(Question::Bones)], vec![Some(Question::Setup)], vec![]];
    assert_eq!([told(15.0), told(40.0), told(120.0)], expected);
}

/// A knuckle near a pointed bow folded every strip behind it to one point, told as exact.
#[test]
fn a_knuckled_bow_keeps_its_pattern() {
    for k in 1..6 {
        let mut hull = find("warden").expect("the V-bottom").hull();
        hull.lines[1].ducks[k].knuckle = true;
        let model = derive(&hull, &Materials::shipped()).expect("she is computed");
        for p in &model.panels {
            let (space, flat) = (p.flat.area_in_space, p.flat.area_in_flat());
            assert!((flat / space - 1.0).abs() < 1e-6, "duck {k}, {}: {flat} {space}", p.name);
            assert_eq!(p.unsound(), None, "duck {k}, {}", p.name);
            assert!(p.edges.upper > 4000.0, "duck {k}, {}: {}", p.name, p.edges.upper);
        }
    }
}

/// A knee that finds no room was missed where the bare transom held; wide cleats made it hold
/// anything.
#[test]
fn a_transom_with_wide_cleats_and_no_knee_is_not_called_strong() {
    let mut hull = find("mere-dory").expect("the dory").hull();
    hull.motor.power_hp = 150.0;
    hull.motor.fitted = true;
    hull.transom.framing_width_mm = 300.0;
    let model = derive(&hull, &Materials::shipped()).expect("she is computed");
    if model.woodwork.knee.is_none() {
        let told = model.findings.iter().any(|f| f.place == Place::Knee);
        assert_eq!(told, hull.transom.knee.fitted);
    }
    if let Some(check) = chinewright::model::motor::check(&model) {
        assert!(!check.holds(), "150 hp on a dory's transom: {:?}", check.checks);
        assert!(check.checks.iter().all(|c| c.stress > 0.0), "{:?}", check.checks);
    }
}

/// A stick as stiff as no wood is, or as limp, is a slip of the tape.
#[test]
fn an_impossible_stick_test_is_a_stop() {
    let stops = |sag_mm: f64| {
        let mut hull = find("reed-skiff").expect("the flat bottom").hull();
        hull.members[0].stick_test = Some(chinewright::hull::StickTest {
            span_mm: 1000.0,
            width_mm: 38.0,
            depth_mm: 19.0,
            weight_kg: 5.0,
            sag_mm,
        });
        let model = derive(&hull, &Materials::shipped()).expect("she is computed");
        model.findings.iter().filter(|f| matches!(f.place, Place::Stiffness(_))).count()
    };
    assert_eq!([stops(0.001), stops(4.0), stops(400.0)], [1, 0, 1]);
}
