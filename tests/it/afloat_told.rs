//! What is told of a boat afloat: weights that cannot be right, what the tables lack, rows
//! pasted twice, foam where it does not lift; and the report in the reader's units.

use chinewright::finding::{
    AboardFact, Fact, Finding, LineFact, OutOfHer, Place, RuleFact, Severity, SkinFact, StickFact,
};
use chinewright::hull::starters::demonstration;
use chinewright::hull::{Hull, Load, LoadKind, Weighed};
use chinewright::material::{Covering, Materials};
use chinewright::model::{Model, derive};
use chinewright::part::{Amount, CaseId, LineId, Question};
use chinewright::units::Units;

fn near(a: f64, b: f64, share: f64, what: &str) {
    assert!((a - b).abs() <= share * b.abs().max(1e-12), "{what}: {a} {b}");
}

fn model_of(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a hull")
}

/// What is weighed takes the place of what is computed, and heavier floats deeper.
#[test]
fn weighing_and_loading() {
    let mut hull = demonstration();
    let plain = model_of(&hull);
    let a = plain.afloat.as_deref().expect("afloat");
    hull.afloat.weighed = vec![Weighed { item: "transom".into(), mass_kg: 9.0 }];
    let weighed = model_of(&hull);
    let b = weighed.afloat.as_deref().expect("afloat");
    let of = |a: &chinewright::model::Afloat| {
        a.items.iter().find(|i| i.name == "transom").map(|i| (i.mass, i.computed.is_some()))
    };
    assert_eq!(of(b), Some((9.0, true)));
    let was = of(a).expect("a transom").0;
    // The margin is on what was computed only.
    near(b.hull.mass - a.hull.mass, 9.0 - was * 1.1, 1e-9, "change");
    hull.afloat.weighed = vec![Weighed { item: "hull".into(), mass_kg: 80.0 }];
    near(model_of(&hull).afloat.expect("afloat").hull.mass, 80.0, 1e-12, "on the scales");
    let mut last = f64::INFINITY;
    for kg in [0.0, 40.0, 80.0, 160.0] {
        hull.afloat.loads = a.loads.clone();
        let more = Load { mass_kg: kg, ..a.loads[0].clone() };
        hull.afloat.loads.push(Load { name: "more".into(), kind: LoadKind::Gear, ..more });
        let least =
            model_of(&hull).afloat.and_then(|a| Some(a.full()?.freeboard?.0)).expect("she floats");
        assert!(least < last, "{kg} kg: {least}");
        last = least;
    }
}

/// Foam asked for by the arithmetic and built in along both sides holds a swamped boat up,
/// upright, with the rule's share of her people.
#[test]
fn foam_holds_a_swamped_boat_up() {
    let mut hull = demonstration();
    hull.afloat.foam.clear();
    let bare = model_of(&hull);
    let a = bare.afloat.as_deref().expect("afloat");
    assert!(
        a.case(CaseId::Swamped).expect("a case").floating.is_none(),
        "without foam she goes under"
    );
    assert!(a.foam_needed.0 > 50.0);
    hull.afloat.foam = demonstration().afloat.foam;
    let built = model_of(&hull);
    let b = built.afloat.as_deref().expect("afloat");
    assert!(b.foam_under >= b.foam_needed.0, "{} {}", b.foam_under, b.foam_needed.0);
    let swamped = b.case(CaseId::Swamped).expect("a case");
    let f = swamped.floating.expect("she floats");
    assert!(f.heel.abs() < 0.02 && swamped.gm.expect("GM")[0] > 0.0, "{f:?}");
    // Half of what hangs on her at one side lists her, and within what the rule allows.
    let aside = b.case(CaseId::SwampedAside).and_then(|c| c.floating).expect("she floats");
    assert!(aside.heel > 0.02 && aside.heel < 30f64.to_radians(), "{}", aside.heel);
    // Foam set above the water that stands in her lifts nothing, however much of it there is.
    let mut high = hull.clone();
    for f in &mut high.afloat.foam {
        (f.from[2], f.to[2]) = (f.from[2] + 400.0, f.to[2] + 400.0);
    }
    let c = model_of(&high).afloat.expect("afloat");
    assert_eq!((c.foam_under, c.foam(&high)), (0.0, b.foam(&hull)));
    // So much more is asked as the boxes' ply, dry now, lifted before.
    let ply: f64 = hull.afloat.foam.iter().map(|f| f.box_volume() * 1e-6).sum();
    near(c.foam_needed.0 - b.foam_needed.0, ply / 0.968, 1e-3, "what the boxes lifted");
    let told = model_of(&high).findings;
    assert!(
        told.iter().any(|f| matches!(f.fact, Fact::Rule(RuleFact::Foam { under: Some(0.0), .. })))
    );
    let afloat = Some(Question::Afloat);
    let swamped = Place::Case(CaseId::Swamped);
    let told = built.findings.iter().any(|f| f.question() == afloat && f.place == swamped);
    assert!(!told, "nothing is left to say");
}

/// What was weighed far from what was computed is told of, and a hull so far that she is
/// another boat stops.
#[test]
fn scales_that_cannot_be_right_are_told_of() {
    let told = |weighed: &[(&str, f64)]| {
        let mut hull = demonstration();
        let row =
            |(item, mass_kg): &(&str, f64)| Weighed { item: (*item).into(), mass_kg: *mass_kg };
        hull.afloat.weighed = weighed.iter().map(row).collect();
        let found = model_of(&hull).findings;
        let oddly = |f: &Finding| matches!(f.fact, Fact::Aboard(AboardFact::WeighedOddly { .. }));
        found.into_iter().find(oddly).map(|f| f.severity)
    };
    let computed = model_of(&demonstration()).afloat.expect("afloat").hull.mass;
    assert_eq!(told(&[("hull", 1.3 * computed)]), None);
    assert_eq!(told(&[("hull", 0.1 * computed)]), Some(Severity::Stop));
    assert_eq!(told(&[("hull", 2.2 * computed)]), Some(Severity::Watch));
    assert_eq!(told(&[("transom", 30.0)]), Some(Severity::Watch));
}

/// A stick of a species that the table lacks is weighed as other lumber of its size, and told
/// of; so is a sheet.
#[test]
fn what_the_tables_lack_keeps_its_weight() {
    let plain = demonstration();
    let mut hull = plain.clone();
    let k = hull.members.iter().position(|m| m.line == "chine").expect("a chine log");
    hull.members[k].species = "driftwood".into();
    let name = hull.members[k].name.clone();
    let (before, after) = (model_of(&plain), model_of(&hull));
    assert!(!after.members.iter().any(|m| m.member.name == name), "its bend is not judged");
    let of = |model: &Model| {
        let a = model.afloat.as_deref().expect("afloat");
        a.items.iter().find(|i| i.name == name).map(|i| (i.mass, i.centre, i.solid))
    };
    let (was, is) = (of(&before).expect("an item"), of(&after).expect("an item"));
    let wood = before.materials.wood(&plain.members[k].species).expect("a row").specific_gravity;
    let other = before.materials.coverage(Covering::OtherLumber).value;
    // A stick that no table can bend is as long as its line; one that lies in her ends short.
    let long = |model: &Model| {
        let part = model.parts.all().iter().find(|p| p.name == name).expect("a part");
        let Amount::Length(length) = part.amount else { panic!("{part:?}") };
        length
    };
    let longer = long(&after) / long(&before);
    assert!((1.0..1.03).contains(&longer), "{longer}");
    near(is.0 / was.0, longer * other / (1000.0 * wood), 1e-6, "by density and length");
    near(is.2, longer * was.2, 1e-6, "it displaces as much for its length");
    assert!((is.1 - was.1).norm() < 60.0, "{} {}", is.1, was.1);
    let told = |model: &Model, place: Place, fact: Fact| {
        let found = model.findings.iter().find(|f| f.place == place && f.fact == fact);
        found.map(|f| f.severity)
    };
    let unknown = StickFact::UnknownWood("driftwood".into()).into();
    assert_eq!(told(&after, Place::Stick(name.clone()), unknown), Some(Severity::Watch));
    let mut hull = plain.clone();
    hull.planking.sheet = "door skin".into();
    let model = model_of(&hull);
    let unknown = SkinFact::UnknownSheet("door skin".into()).into();
    assert_eq!(told(&model, Place::Panel("bottom".into()), unknown), Some(Severity::Watch));
    let mass = |model: &Model| {
        let a = model.afloat.as_deref().expect("afloat");
        a.items.iter().find(|i| i.name == "bottom").expect("it weighs").mass
    };
    let ply = model.materials.coverage(Covering::OtherPlywood).value;
    let marine = before.materials.sheet(&before.panels[0].sheet).expect("a row").density_kg_m3;
    near(mass(&model) / mass(&before), ply / marine, 1e-6, "by density");
}

/// One load pasted twice is told of; so is a boat of ten times her size, or a tenth of it.
#[test]
fn rows_pasted_twice_and_boats_out_of_size_are_told_of() {
    let mut hull = demonstration();
    let loads = model_of(&hull).afloat.expect("afloat").loads.clone();
    hull.afloat.loads = loads.clone();
    let of = |hull: &Hull, place: &Place| {
        model_of(hull).findings.into_iter().find(|f| f.place == *place).map(|f| f.severity)
    };
    let place = Place::Load(loads[0].name.clone());
    assert_eq!(of(&hull, &place), None);
    hull.afloat.loads.push(loads[0].clone());
    assert_eq!(of(&hull, &place), Some(Severity::Watch));
    hull.afloat.loads.last_mut().expect("a load").x += 100.0;
    assert_eq!(of(&hull, &place), Some(Severity::Note));
    for (scale, told) in [(1.0, false), (2.2, true), (0.4, true)] {
        let mut hull = demonstration();
        hull.afloat.foam.clear();
        for d in hull.lines.iter_mut().flat_map(|l| &mut l.ducks) {
            (d.x, d.y, d.z) = (scale * d.x, scale * d.y, scale * d.z);
        }
        let found = model_of(&hull).findings;
        let size = found.iter().any(|f| matches!(f.fact, Fact::Line(LineFact::Size { .. })));
        assert_eq!(size, told, "{scale}");
    }
}

/// Two rows of one name in the document's own tables are refused: which of them holds?
#[test]
fn own_rows_of_one_name_are_refused() {
    let shipped = Materials::shipped();
    let told = |hull: &Hull| {
        chinewright::hull::check::faults(hull)
            .into_iter()
            .map(|f| format!("{}: {}", f.what, f.message))
            .collect::<Vec<_>>()
    };
    let mut hull = demonstration();
    hull.sheets = vec![shipped.sheets.sheets[0].clone()];
    hull.woods = vec![shipped.woods[0].clone()];
    assert_eq!(told(&hull), Vec::<String>::new());
    hull.sheets.push(shipped.sheets.sheets[0].clone());
    hull.woods.push(shipped.woods[0].clone());
    let faults = told(&hull);
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert!(faults.iter().any(|f| f.starts_with("sheets:") && f.contains("twice")), "{faults:?}");
    assert!(faults.iter().any(|f| f.starts_with("woods:") && f.contains("twice")), "{faults:?}");
}

/// The report speaks in the reader's units: a boat measured in feet and inches is weighed in
/// pounds, her resistance told in pounds of force and her foam in cubic feet.
#[test]
fn the_report_afloat_is_in_the_reader_s_units() {
    let mut hull = demonstration();
    hull.units = Units::FeetInchesEighths;
    let model = model_of(&hull);
    let text = chinewright::report::text::report(&model, hull.units, Some("afloat"));
    for unit in [" lb ", " lbf ", " cu ft", " sq ft", "lb/in"] {
        assert!(text.contains(unit), "{unit}");
    }
    for line in text.lines().filter(|l| !l.contains("g/m²") && !l.contains("[1]")) {
        let metric = [" kg ", " kg,", " N ", " mm", " litres", " m² "];
        assert!(!metric.iter().any(|m| line.contains(m)), "{line}");
    }
}

/// The gravest come first, whatever part they are of.
#[test]
fn findings_come_gravest_first() {
    let mut hull = demonstration();
    // A knuckled shape, a boat that sinks, and an odd framing: all parts have something to say.
    hull.lines[1].ducks[2].z += 60.0;
    hull.afloat.loads = vec![Load {
        name: "stones".into(),
        kind: LoadKind::Gear,
        mass_kg: 3000.0,
        x: 2000.0,
        y: 0.0,
        z: 200.0,
    }];
    let found = model_of(&hull).findings;
    let of = |s: Severity| found.iter().filter(|f| f.severity == s).count();
    let (stops, watches) = (of(Severity::Stop), of(Severity::Watch));
    assert!(stops > 0 && watches > 0, "{stops} {watches}");
    assert!(found[..stops].iter().all(|f| f.severity == Severity::Stop));
    assert!(found[stops..stops + watches].iter().all(|f| f.severity == Severity::Watch));
    // Parts are not kept together: some part is told of twice, with another between.
    let mut parts: Vec<_> = found.iter().map(|f| f.question().map(Question::key)).collect();
    parts.dedup();
    let runs = parts.len();
    parts.sort_unstable();
    parts.dedup();
    assert!(runs > parts.len(), "{runs} runs of {parts:?}");
}

/// The words of the window: sheets and sticks hold, the rest is sound.
#[test]
fn each_question_has_its_good_word() {
    let mut model = model_of(&demonstration());
    model.findings.clear();
    let good = chinewright::report::text::report(&model, Units::Mm, None);
    for line in [
        "Shape: is she fair?  sound",
        "Skin: will the sheets lie flat?  holds",
        "Bones: will the lumber bend?  holds",
        "Setup: will it stand true upside down?  sound",
        "Afloat: will she float right?  sound",
    ] {
        assert!(good.lines().any(|l| l == line), "{line}");
    }
    model.findings = vec![Finding::watch(
        Place::LineIn(LineId::Sheer, chinewright::curve::View::Plan),
        LineFact::Wavy(vec![1000.0, 2000.0]),
    )];
    let watched = chinewright::report::text::report(&model, Units::Mm, None);
    assert!(watched.lines().any(|l| l == "Shape: is she fair?  watch"));
}

/// The breadth of the after quarter is measured where it begins too: there the dory is widest,
/// 4.171 ft over her planking, worked out from her lines apart from the program.
#[test]
fn the_after_quarter_begins_at_its_line() {
    let hull = chinewright::hull::starters::find("mere-dory").expect("the dory").hull();
    let model = chinewright::model::derive(&hull, &chinewright::material::Materials::shipped());
    let afloat = model.expect("a model").afloat.clone().expect("afloat");
    let words = format!("{:?}", afloat.capacity.lines);
    assert!(words.contains("4.17"), "{words}");
}

#[test]
fn a_load_that_nothing_carries_is_told_of() {
    let mut hull = chinewright::hull::starters::demonstration();
    let materials = chinewright::material::Materials::shipped();
    let told = |hull: &chinewright::hull::Hull| -> Vec<Finding> {
        let model = chinewright::model::derive(hull, &materials).expect("a model");
        let found = model
            .findings
            .iter()
            .filter(|f| matches!(f.fact, Fact::Rule(RuleFact::PutOutside { .. })));
        found.cloned().collect()
    };
    assert!(told(&hull).is_empty());
    let model = chinewright::model::derive(&hull, &materials).expect("a model");
    hull.afloat.loads = chinewright::model::afloat::usual_loads(&model);
    assert!(told(&hull).is_empty(), "the motor hangs abaft her");
    hull.afloat.loads[2].x = -300.0;
    let found = told(&hull);
    let Fact::Rule(RuleFact::PutOutside { by, side: OutOfHer::Ahead }) = found[0].fact else {
        panic!("{found:?}");
    };
    assert_eq!((found.len(), &found[0].place), (1, &Place::Item("gear".into())));
    near(by, 300.0, 1e-6, "ahead of her bow");
}
