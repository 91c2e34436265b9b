//! A straight punt afloat, every figure of it a sum: what it weighs, how it floats, how it
//! falls over, what the rules say, where its waterline is marked.
//!
//! Inside, the bottom is 1000 wide at height 50 and the sheers 1200 apart at 450, 3000 long,
//! of 9 mm ply. Outside, the bottom lies at 41; a side rises 4 for 1 out, so its outer face
//! stands 9 · √17/4 = 9.2768 further out at any height, and at height z
//! 500 + (z − 50)/4 + 9.2768.

use chinewright::finding::{AboardFact, AfloatFact, Fact, Finding, Place, RuleFact, Severity};
use chinewright::float::capacity::KG_PER_POUND;
use chinewright::float::equilibrium::Weight;
use chinewright::float::righting::righting;
use chinewright::float::working::Worked;
use chinewright::geom::P3;
use chinewright::geom::mesh::Mesh;
use chinewright::hull::{Foam, Hull, Load, LoadKind, Weighed};
use chinewright::model::{Afloat, Model};
use chinewright::part::{Amount, CaseId, CutFrom, PartId};
use chinewright::report::json::report;
use chinewright::words::mass::source;

use crate::jig::{model, punt};

const LENGTH: f64 = 3000.0;
const BOTTOM: f64 = 41.0;
/// √17 / 4: along the side for one up.
const SLANT: f64 = 1.030_776_406_404_415;

fn near(a: f64, b: f64, off: f64, what: &str) {
    assert!((a - b).abs() <= off, "{what}: {a} {b}");
}

fn half(z: f64) -> f64 {
    500.0 + (z - 50.0) / 4.0 + 9.0 * SLANT
}

/// Under water at height `z`: volume (mm³), its centroid's height and the waterplane's second
/// moment across.
fn immersed(z: f64) -> (f64, f64, f64) {
    let (below, above, deep) = (half(BOTTOM), half(z), z - BOTTOM);
    let area = (below + above) * deep;
    let centre = BOTTOM + deep * (below + 2.0 * above) / (3.0 * (below + above));
    (area * LENGTH, centre, LENGTH * (2.0 * above).powi(3) / 12.0)
}

/// The height of fresh water at which the punt displaces `kg`.
fn water(kg: f64) -> f64 {
    let (mut low, mut high) = (BOTTOM, 450.0);
    for _ in 0..60 {
        let z = 0.5 * (low + high);
        if immersed(z).0 * 1e-6 < kg { low = z } else { high = z }
    }
    low
}

fn load(name: &str, kind: LoadKind, mass_kg: f64, z: f64) -> Load {
    Load { name: name.into(), kind, mass_kg, x: 1500.0, y: 0.0, z }
}

/// The punt, rowed, with these loads.
fn rowed(loads: Vec<Load>) -> Hull {
    let mut hull = punt();
    hull.motor.fitted = false;
    hull.afloat.loads = loads;
    hull
}

fn afloat(model: &Model) -> &Afloat {
    model.afloat.as_deref().expect("she floats")
}

#[test]
fn what_a_straight_punt_weighs() {
    let model = model(&rowed(vec![load("gear", LoadKind::Gear, 10.0, 200.0)]));
    let a = afloat(&model);
    let item = |name: &str| a.items.iter().find(|i| i.name == name).expect("an item");
    let ply = model.materials.sheet(&model.panels[0].sheet).expect("its sheet").density_kg_m3;
    // 3000 by 1000, and two of 3000 by 400 · SLANT, by 9.
    near(item("bottom").mass, 3.0 * 0.009 * ply, 1e-9, "bottom");
    let side = 2.0 * 3.0 * 0.4 * SLANT;
    near(item("side").mass, side * 0.009 * ply, 1e-9, "sides");
    near(item("bottom").centre.z, 50.0, 1e-9, "bottom's height");
    near(item("side").centre.z, 250.0, 1e-9, "sides' height");
    near(item("side").centre.x, 1500.0, 1e-6, "sides' middle");
    // 0.06 kg/m² by three coats, in and out and on both faces of what stands in her; cloth of 200 g/m² with 2.5 of resin, outside.
    let boards: f64 = model
        .parts
        .all()
        .iter()
        .filter(|p| !p.id.of_jig() && !matches!(p.id, PartId::Panel(_)))
        .filter_map(|p| match (&p.cut_from, p.amount) {
            (CutFrom::Ply { .. } | CutFrom::Lumber { .. }, Amount::Area(square)) => Some(square),
            _ => None,
        })
        .sum();
    let painted = 2.0 * (3.0 + side) + 2e-6 * boards;
    near(item("paint").mass, painted * 0.18, 1e-9, "paint");
    near(item("cloth and resin").mass, (3.0 + side) * 0.2 * 3.5, 1e-9, "cloth and resin");
    // A clamp along the sheer, between transoms of 18 mm, two of them. Butt blocks on the bottom
    // behind its one joint, less the logs beside it and the keelson; on the sides likewise.
    let rail = &model.members.iter().find(|m| m.member.line == "sheer").expect("a member").member;
    let wood = model.materials.wood(&rail.species).expect("its wood").specific_gravity;
    let dense = 1000.0 * wood * (1.0 + rail.moisture_pct / 100.0);
    let volume = 2.0 * (LENGTH - 36.0) * rail.moulded_mm * rail.sided_mm * 1e-9;
    near(item(&rail.name).mass, volume * dense, 1e-9, "clamp");
    let blocks = chinewright::stock::joints::block_length(9.0)
        * ((1000.0 - 2.0 * 38.0 - 89.0) + 2.0 * (400.0 * SLANT - 2.0 * 38.0));
    near(item("butt blocks").mass, blocks * 9e-9 * ply, 0.1, "butt blocks");
    // Ten percent on top of all of it.
    let rest: f64 = a.items.iter().filter(|i| i.name != "margin").map(|i| i.mass).sum();
    near(item("margin").mass, 0.1 * rest, 1e-9, "margin");
    assert!(a.items.iter().all(|i| !source(i).is_empty()));
}

#[test]
fn how_a_straight_punt_floats_and_where_its_waterline_is_marked() {
    let mut hull = rowed(vec![load("gear", LoadKind::Gear, 140.0, 200.0)]);
    hull.afloat.weighed = vec![Weighed { item: "hull".into(), mass_kg: 60.0 }];
    hull.afloat.waterline.parallel = true;
    let model = model(&hull);
    let a = afloat(&model);
    let full = a.case(CaseId::Full).expect("a case");
    let z = water(200.0);
    near(full.weight.mass, 200.0, 1e-9, "mass");
    let f = full.floating.expect("she floats");
    near(f.immersed.volume, immersed(z).0, 1.0, "volume");
    // The hull's own weight lies a little off the middle, so bow and stern differ.
    let [bow, middle, stern] = full.along(&a.openings).expect("freeboards");
    near(middle, 450.0 - z, 0.5, "freeboard amidships");
    near(0.5 * (bow + stern), 450.0 - z, 0.5, "mean freeboard");
    near(bow - stern, LENGTH * f.trim.tan(), 0.5, "the ends' difference");
    let ends = 0.5 * LENGTH * f.trim.tan().abs();
    near(full.draft.expect("a draft"), z - BOTTOM + ends, 0.5, "draft");
    let (volume, centre, across) = immersed(z);
    let gm = across / volume - (full.weight.centre.z - centre);
    near(full.gm.expect("GM")[0], gm, 0.005 * gm, "GM");
    // The line on the skin: z up, from a sheer that is planed level at 450.
    let marked = a.marked.as_ref().expect("a waterline");
    assert_eq!(marked.stations.len(), 3);
    for s in &marked.stations {
        near(s.at.z, z, 1e-3, "height");
        near(s.at.y, half(z), 1e-3, "half-breadth");
        near(s.down, (450.0 - z) * SLANT, 1e-3, "down the skin");
        near(s.boot_top_down.expect("a boot-top"), (400.0 - z) * SLANT, 1e-3, "boot-top");
    }
    // On a side that is plane a batten between two end marks lies true.
    assert!(marked.by_eye.iter().all(|e| e.off.abs() < 1e-6), "{:?}", marked.by_eye);
}

#[test]
fn what_the_rule_lets_a_straight_punt_carry() {
    let mut hull = rowed(vec![load("someone", LoadKind::Person, 75.0, 300.0)]);
    hull.afloat.weighed = vec![Weighed { item: "hull".into(), mass_kg: 60.0 }];
    let rowed = model(&hull);
    let a = afloat(&rowed);
    // Pressed down to the sheers at 450, in water of 62.4 lb/ft³.
    let pounds = immersed(450.0).0 / 304.8f64.powi(3) * 62.4 - 60.0 / KG_PER_POUND;
    near(a.capacity.weight, 0.3 * pounds, 0.005 * pounds, "three tenths");
    near(a.capacity.persons_weight, 0.9 * a.capacity.weight, 1e-9, "nine tenths");
    assert_eq!(a.capacity.horsepower, None);
    // With a motor: 3000 mm by 1200 and two thicknesses, in feet, is 39.3: 5 hp, and 3 for a
    // flat bottom.
    hull.motor.fitted = true;
    let model = model(&hull);
    let a = afloat(&model);
    let factor = |a: &Afloat| {
        let line = a
            .capacity
            .lines
            .iter()
            .find(|l| matches!(l.worked, Worked::Factor { .. }))
            .expect("it");
        line.value
    };
    near(factor(a), 3000.0 * 1218.0 / 304.8 / 304.8, 1e-6, "factor");
    assert_eq!(a.capacity.horsepower, Some(3.0));
    // The same boat with a keel line drawn along its flat bottom is flat all the same.
    let mut keeled = hull.clone();
    let mut keel = keeled.lines[0].clone();
    keel.name = "keel".into();
    keel.ducks.iter_mut().for_each(|d| d.y = 0.0);
    keeled.lines.insert(0, keel);
    let same = crate::jig::model(&keeled);
    assert_eq!(afloat(&same).capacity.horsepower, Some(3.0));
    // Everyone on one side sits against it: at 300 up its inside is 500 + 250/4 out, less half
    // a body.
    let aside = a.case(CaseId::OneSided).expect("a case").aboard[0].expect("aboard");
    near(aside.y, 412.5, 1e-9, "on one side");
    // So do the persons that the rule allows beside her own motor, which is too large to mark:
    // those of the greatest that may be marked, all of their weight.
    let marked = a.as_marked.as_ref().expect("it marks her for some");
    assert_eq!(a.capacity.own, None);
    let persons = a.capacity.persons_weight * KG_PER_POUND;
    near(marked.weight.mass, 60.0 + persons, 1e-6, "with the persons of the mark");
    near(marked.weight.centre.y, 412.5 * persons / (60.0 + persons), 1e-6, "their moment");
    let floods = |f: &Finding| matches!(f.fact, Fact::Rule(RuleFact::MarkedFloods { .. }));
    let told = model.findings.iter().any(floods);
    assert_eq!(told, marked.floods());
}

/// A slip of the keyboard that puts a weight under the keel makes a wonderfully stable boat:
/// it is told of. So is a list without anyone.
#[test]
fn a_load_outside_the_boat_is_told_of() {
    let told = |load: Load| {
        let model = model(&rowed(vec![load]));
        model
            .findings
            .iter()
            .any(|f| f.place == Place::Load("stones".into()) && f.severity == Severity::Watch)
    };
    let stones = load("stones", LoadKind::Gear, 20.0, 200.0);
    assert!(!told(stones.clone()));
    assert!(told(Load { z: -2000.0, ..stones.clone() }));
    assert!(told(Load { y: 700.0, ..stones.clone() }));
    assert!(told(Load { x: -5.0, ..stones.clone() }));
    assert!(!told(Load { x: 3100.0, z: 500.0, ..stones.clone() }));
    let alone = model(&rowed(vec![stones]));
    let nobody = AboardFact::Nobody.into();
    assert!(alone.findings.iter().any(|f| f.fact == nobody));
}

/// A weight held high: GM is less than nothing, and she is told to be unsafe, not unbalanced.
#[test]
fn a_boat_that_falls_over_is_told_so() {
    let high = model(&rowed(vec![load("tower", LoadKind::Gear, 200.0, 1600.0)]));
    let a = afloat(&high);
    let full = a.case(CaseId::Full).expect("a case");
    let (volume, centre, across) = immersed(water(full.weight.mass));
    let gm = across / volume - (full.weight.centre.z - centre);
    assert!(gm < -50.0, "{gm}");
    near(full.gm.expect("GM")[0], gm, 0.01 * gm.abs() + 1.0, "GM");
    assert!(full.lolls());
    assert!(full.floating.is_none_or(|f| f.heel.abs() > 0.1), "she does not stay upright");
    let of_full = |f: &&Finding| f.place == Place::Case(CaseId::Full);
    let told: Vec<_> = high.findings.iter().filter(of_full).collect();
    assert!(told.iter().any(|f| f.severity == Severity::Stop), "{told:?}");
    let unbalanced = |f: &Finding| matches!(f.fact, Fact::Afloat(AfloatFact::Lists(_)));
    assert!(!told.iter().any(|f| unbalanced(f)), "{told:?}");
    // Higher still there is no righting arm at all; empty she stands.
    let higher = model(&rowed(vec![load("mast", LoadKind::Gear, 200.0, 4000.0)]));
    assert_eq!(afloat(&higher).righting.vanishing, Some(0.0));
    assert!(!afloat(&higher).case(CaseId::Empty).expect("a case").lolls());
}

/// Loaded until she sinks, everything that does not need her afloat is still reported.
#[test]
fn a_boat_that_sinks_is_reported_all_the_same() {
    let model = model(&rowed(vec![load("stones", LoadKind::Gear, 4000.0, 200.0)]));
    let json = report(&model, Some("afloat"));
    let a = &json["afloat"];
    assert!(a["draft_mm"].is_null() && a["gm_mm"].is_null() && a["waterline"].is_null());
    assert!(a["hull_mass_kg"].as_f64().is_some_and(|kg| kg > 20.0), "{a}");
    assert!(a["curves"].as_array().is_some_and(|c| c.len() > 10));
    assert!(a["capacity"]["weight_kg"].as_f64().is_some_and(|kg| kg > 100.0));
    assert!(a["righting"].as_array().is_some_and(Vec::is_empty));
    let empty =
        a["cases"].as_array().and_then(|c| c.iter().find(|c| c["name"] == CaseId::Empty.name()));
    assert!(empty.is_some_and(|c| c["floats"] == true && c["draft_mm"].is_number()));
}

/// A box 12 by 8, draft 4, KG 4 (Barrass and Derrett, *Ship Stability for
/// Masters and Mates*, "moments of statical stability"): GM 1, BM 3, wall-sided up to 33.7°.
/// Water comes in at a place 6 out and 7 up where tan φ = (7 − 4)/6, 26.565°; the area under
/// the arm to there is GM (1 − cos φ) + BM/2 (sec φ + cos φ − 2). With G higher by the exact
/// arm at 50° over sin 50° the arm vanishes there.
#[test]
fn where_a_box_floods_and_where_its_arm_vanishes() {
    let mut mesh = Mesh::default();
    let corner = |side: f64| P3::new(if side < 0.0 { 0.0 } else { 1000.0 }, side * 6000.0, 0.0);
    let top = corner(1.0) + chinewright::geom::V3::new(0.0, 0.0, 8000.0);
    chinewright::float::swamped::block(&mut mesh, corner(-1.0), top);
    let weight = |kg: f64| Weight { mass: 48_000.0, centre: P3::new(500.0, 0.0, kg) };
    let heels: Vec<f64> = (0..=180).map(|i| (0.5 * f64::from(i)).to_radians()).collect();
    let opening = [P3::new(500.0, 6000.0, 7000.0), P3::new(500.0, -6000.0, 7000.0)];
    let curve = righting(&mesh, weight(4000.0), 1000.0, &opening, &heels);
    let floods = curve.downflooding.expect("it floods");
    near(floods, 0.5f64.atan(), 1e-4, "downflooding");
    let area = 1.0 - floods.cos() + 1.5 * (1.0 / floods.cos() + floods.cos() - 2.0);
    near(curve.area, 1000.0 * area, 0.1, "area");
    let up = 1_155.849_769 / 50f64.to_radians().sin();
    let curve = righting(&mesh, weight(4000.0 + up), 1000.0, &[], &heels);
    near(curve.vanishing.expect("it vanishes").to_degrees(), 50.0, 0.02, "vanishing");
    assert_eq!(curve.downflooding, None);
}

#[test]
fn foam_in_one_place_is_told_of_once_and_not_twice_believed() {
    let block = |name: &str, from: f64| Foam {
        name: name.into(),
        from: [from, 300.0, 100.0],
        to: [from + 400.0, 400.0, 200.0],
        both_sides: true,
        density_kg_m3: 32.0,
        box_ply_mm: 6.0,
    };
    // Two blocks of 400 by 100 by 100: five faces of each in 6 mm ply, and the largest is open.
    near(
        block("a", 1000.0).box_volume(),
        2.0 * 6.0 * (3.0 * 40_000.0 + 2.0 * 10_000.0),
        1e-6,
        "ply",
    );
    // 100 mm of the length lie in both, on either side: 2 · 100 · 100 · 100 mm³.
    near(block("a", 1000.0).shared(&block("b", 1300.0)), 2e6, 1e-6, "shared");
    near(block("a", 1000.0).shared(&block("b", 1400.0)), 0.0, 1e-6, "side by side");
    let port = Foam {
        from: [1000.0, -300.0, 100.0],
        to: [1400.0, -400.0, 200.0],
        both_sides: false,
        ..block("c", 0.0)
    };
    near(block("a", 1000.0).shared(&port), 4e6, 1e-6, "the mirrored block");
    let mut hull = rowed(vec![load("gear", LoadKind::Gear, 10.0, 200.0)]);
    hull.afloat.foam = vec![block("a", 1000.0), block("b", 1300.0)];
    let both = Place::Foams("a".into(), "b".into());
    let told = |hull: &Hull| model(hull).findings.iter().any(|f| f.place == both);
    assert!(told(&hull));
    hull.afloat.foam[1] = block("b", 1400.0);
    assert!(!told(&hull));
}

/// Persons and power: the pair that is marked, her own motor's, and what is aboard against
/// hers. The punt may be marked for 3 hp; by hand from what the rule leaves.
#[test]
fn persons_are_told_with_the_motor_that_leaves_room_for_them() {
    let mut hull = rowed(vec![load("someone", LoadKind::Person, 75.0, 300.0)]);
    hull.afloat.weighed = vec![Weighed { item: "hull".into(), mass_kg: 60.0 }];
    hull.motor.fitted = true;
    hull.motor.power_hp = 2.5;
    let model = model(&hull);
    let a = afloat(&model);
    let by_list = a.list_weight.expect("a list test") / KG_PER_POUND / 0.6;
    // Dry motors of up to 2 and of 3 hp weigh 30 and 42 lb; neither has battery or tank.
    let left = |motor: f64| match a.capacity.weight - motor {
        left if left < 550.0 => left.min(by_list),
        left => left,
    };
    let pairs = &a.capacity.pairs;
    assert_eq!(pairs.iter().map(|p| p.horsepower).collect::<Vec<_>>(), [2.0, 3.0]);
    for (p, motor) in pairs.iter().zip([30.0, 42.0]) {
        near(p.persons_weight, left(motor), 1e-9, "a pair");
        assert_eq!(p.persons, ((p.persons_weight + 32.0) / 141.0 + 0.5).floor() as u32);
    }
    near(a.capacity.persons_weight, pairs[1].persons_weight, 1e-9, "the plate's");
    let json = report(&model, Some("afloat"));
    let c = &json["afloat"]["capacity"];
    assert_eq!(c["pairs"].as_array().map(Vec::len), Some(2));
    assert_eq!(c["pairs"][1]["persons"], c["persons"]);
    assert_eq!(c["pairs"][1]["horsepower"], c["horsepower"]);
    assert_eq!(c["own_motor"]["horsepower"], 2.5);
    let text = chinewright::report::text::report(&model, hull.units, Some("afloat"));
    let marked =
        format!("a motor of at most 3 hp, and with that motor {} persons", a.capacity.persons);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains(&marked), "{text}");
    assert!(text.contains("your motor, 2.5 hp:") && text.contains("up to 2 hp:"), "{text}");
}
