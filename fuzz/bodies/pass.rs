//! The whole pass. The bytes are a list of changes to a starter: numbers replaced, ducks
//! moved, lists made longer and shorter, words exchanged. Bytes as text would hardly ever get
//! past the reader; changes to a sound document get as deep as the pass goes.

use std::fmt::{self, Debug, Write as _};

use arbitrary::{Result, Unstructured};
use chinewright::drawing::compose::panel_pattern;
use chinewright::drawing::export::{dxf, svg};
use chinewright::geom::P2;
use chinewright::hull::Hull;
use chinewright::hull::read::read;
use chinewright::hull::starters::STARTERS;
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::report;
use chinewright::report::json::nulls::may_be_null;
use chinewright::units::Units;
use geo::Validation;
use serde_json::{Map, Value, json};

use super::{Reached, drawing};

/// Most changes made to one document.
const MOST_CHANGES: usize = 24;
/// Longest list that a change makes.
const LONGEST: usize = 60;

/// Words that stand somewhere in documents, to be put where another stands.
const WORDS: [&str; 24] = [
    "keel",
    "chine",
    "chine-1",
    "chine-2",
    "sheer",
    "bottom",
    "side",
    "strake-1",
    "Inside",
    "Outside",
    "Middle",
    "Short",
    "ExtraLong",
    "RunsOn",
    "Free",
    "Fore",
    "Aft",
    "Lap",
    "Gusset",
    "Straight",
    "Mitred",
    "Clear",
    "Empty",
    "A\u{1f6f6}\u{fffe}\n",
];

/// Derives the document that the bytes make, and looks at all that comes of it.
///
/// # Panics
/// Where the document does not come back from its text, a report holds what is no number, or
/// a pattern that is given out is unsound.
pub fn run(data: &[u8]) -> Reached {
    let Ok(hull) = document(&mut Unstructured::new(data)) else {
        return Reached::Nothing;
    };
    let text = hull.to_ron().expect("a document can be written");
    match read(&text, "boat.ron") {
        Err(e) => assert!(!e.message.trim().is_empty(), "{e}"),
        Ok(back) => assert_eq!(back, hull),
    }
    match derive(&hull, &Materials::shipped()) {
        Err(findings) => {
            assert!(!findings.is_empty());
            Reached::Refused
        }
        Ok(model) => {
            reports(&model);
            patterns(&model);
            Reached::Through
        }
    }
}

/// The document that the bytes say; an error where they make none.
///
/// # Errors
/// Bytes that are used up, or changes after which it is no document.
pub fn document(u: &mut Unstructured) -> Result<Hull> {
    let starter = STARTERS[usize::from(u.arbitrary::<u8>()?) % STARTERS.len()].hull();
    let mut value = serde_json::to_value(&starter).expect("a starter as a tree");
    if u.arbitrary()? {
        furnish(&mut value);
    }
    for _ in 0..MOST_CHANGES {
        if u.is_empty() {
            break;
        }
        change(&mut value, u)?;
    }
    serde_json::from_value(value).map_err(|_| arbitrary::Error::IncorrectFormat)
}

/// Everything that a starter leaves out, so that changes find it.
fn furnish(document: &mut Value) {
    let framing = &mut document["framing"];
    framing["drain_wedge"] = json!({ "height_mm": 12.0, "length_mm": 90.0 });
    framing["glue_groove"] = json!({ "width_mm": 4.0, "depth_mm": 2.0 });
    framing["battens"] =
        serde_json::to_value(chinewright::hull::Battens::default()).expect("battens as a tree");
    framing["frames"] = json!([
        { "station": 1, "face": "Aft", "edges": "Straight", "straight": ["side"] },
        { "station": 2, "face": null, "edges": null, "straight": [] },
    ]);
    framing["stations_mm"] = json!([600.0, 1200.0, 1700.0, 2000.0]);
    document["strongback"]["level_mm"] = json!(900.0);
    document["as_built"] = json!([
        { "station": 1, "line": "sheer", "above_floor_mm": 700.0, "half_breadth_mm": 320.0 },
        { "station": 2, "line": "sheer", "above_floor_mm": null, "half_breadth_mm": 520.0 },
    ]);
    document["planking"]["laps"] = json!([{ "line": "chine", "lap": "UpperOver" }]);
    document["planking"]["panels"] = json!([
        { "panel": "bottom", "sheet": "marine ply 9", "thickness_mm": 9.2, "grain_across": true },
        { "panel": "side", "sheet": "marine ply 6", "thickness_mm": 6.1, "grain_across": false },
    ]);
    document["afloat"]["loads"] = json!([
        { "name": "builder", "kind": "Person", "mass_kg": 80.0, "x": 1600.0, "y": 0.0, "z": 350.0 },
        { "name": "can", "kind": "Fuel", "mass_kg": 12.0, "x": 2100.0, "y": 200.0, "z": 250.0 },
    ]);
    document["afloat"]["weighed"] = json!([{ "item": "bottom", "mass_kg": 14.0 }]);
    document["lines"][0]["stern"] = json!({ "Along": [1.0, 0.0, 0.02] });
    let first = &mut document["members"][0];
    first["air"] = json!({ "temperature_c": 18.0, "humidity_pct": 60.0 });
    first["stock"] = json!("Clear");
    first["stick_test"] = json!({
        "span_mm": 900.0, "width_mm": 38.0, "depth_mm": 19.0, "weight_kg": 10.0, "sag_mm": 12.0,
    });
    let materials = Materials::shipped();
    document["woods"] = json!([materials.wood("Douglas-fir")]);
}

/// One change: of a duck as often as of everything else together.
fn change(document: &mut Value, u: &mut Unstructured) -> Result<()> {
    let what: u8 = u.arbitrary()?;
    if what < 128 {
        return move_duck(document, u, what);
    }
    let mut at = document;
    // Down to a leaf, or to a list that may be made longer, or to something that may be absent.
    loop {
        let stop = u.arbitrary::<u8>()?;
        match at {
            Value::Array(all) if all.is_empty() || stop >= 200 => return lengthen(all, u),
            Value::Array(all) => {
                let i = usize::from(stop) % all.len();
                at = &mut all[i];
            }
            Value::Object(all) if all.is_empty() => return Ok(()),
            Value::Object(all) => {
                let i = usize::from(stop) % all.len();
                at = all.values_mut().nth(i).expect("counted");
                if u.arbitrary::<u8>()? == 255 {
                    *at = Value::Null;
                    return Ok(());
                }
            }
            leaf => return replace(leaf, u),
        }
    }
}

/// Moves a duck by up to a metre, mostly by little, or makes it a knuckle.
fn move_duck(document: &mut Value, u: &mut Unstructured, what: u8) -> Result<()> {
    let lines = document["lines"].as_array_mut().filter(|l| !l.is_empty());
    let Some(lines) = lines else { return Ok(()) };
    let i = usize::from(what) % lines.len();
    let ducks = lines[i]["ducks"].as_array_mut().filter(|d| !d.is_empty());
    let Some(ducks) = ducks else { return Ok(()) };
    let k = usize::from(u.arbitrary::<u8>()?) % ducks.len();
    let axis = ["x", "y", "z", "knuckle"][usize::from(u.arbitrary::<u8>()?) % 4];
    let by: i16 = u.arbitrary()?;
    if axis == "knuckle" {
        ducks[k][axis] = Value::Bool(by & 1 == 1);
        return Ok(());
    }
    let by = (f64::from(by) / f64::from(i16::MAX)).powi(3) * 1000.0;
    if let Some(was) = ducks[k][axis].as_f64() {
        ducks[k][axis] = json!(if axis == "x" { was + by } else { (was + by).max(0.0) });
    }
    Ok(())
}

/// Doubles an entry of a list, or takes one out.
fn lengthen(all: &mut Vec<Value>, u: &mut Unstructured) -> Result<()> {
    let how: u8 = u.arbitrary()?;
    if all.is_empty() {
        all.push(json!(how));
        return Ok(());
    }
    let i = usize::from(how >> 2) % all.len();
    match how & 3 {
        0 => drop(all.remove(i)),
        _ if all.len() >= LONGEST => {}
        1 => all.push(all[i].clone()),
        2 => all.insert(i, all[i].clone()),
        _ => {
            // A duck, station or point halfway to the next one.
            let next = all.get(i + 1).unwrap_or(&all[i]).clone();
            let mut between = all[i].clone();
            halfway(&mut between, &next);
            all.insert(i + 1, between);
        }
    }
    Ok(())
}

fn halfway(a: &mut Value, b: &Value) {
    match (a, b) {
        (Value::Object(a), Value::Object(b)) => {
            for (key, v) in a.iter_mut() {
                halfway(v, &b[key]);
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            for (v, w) in a.iter_mut().zip(b) {
                halfway(v, w);
            }
        }
        (a, b) => {
            if let (Some(x), Some(y)) = (a.as_f64(), b.as_f64())
                && a.is_f64()
            {
                *a = json!(0.5 * (x + y));
            }
        }
    }
}

/// Puts something else where a leaf stands.
fn replace(leaf: &mut Value, u: &mut Unstructured) -> Result<()> {
    let how: u8 = u.arbitrary()?;
    match leaf {
        Value::Bool(b) => *b = !*b,
        Value::String(s) => *s = WORDS[usize::from(how) % WORDS.len()].into(),
        Value::Number(n) if n.is_u64() => *leaf = json!(how % 70),
        Value::Number(n) => {
            let was = n.as_f64().unwrap_or_default();
            let fine: i16 = u.arbitrary()?;
            *leaf = json!(match how {
                0..=9 => 0.0,
                10..=19 => f64::from(fine),
                20..=24 => -was,
                25 => 1e-9,
                26 => 1e300,
                // From a sixteenth to sixteen times as much, mostly near what it was.
                _ => was * (4.0 * (f64::from(fine) / f64::from(i16::MAX)).powi(3)).exp2(),
            });
        }
        // Something that may be absent: a number, or an empty part.
        _ => *leaf = if how & 1 == 0 { json!(how) } else { Value::Object(Map::new()) },
    }
    Ok(())
}

/// No number of the reports is none, nor of what they are drawn from.
fn reports(model: &Model) {
    let json = report::json::report(model, None);
    whole(&json, &mut vec!["report"]);
    for units in [Units::Mm, Units::FeetInchesEighths] {
        numbers(&report::text::report(model, units, None), &["the text"]);
    }
    // Where the report has null for what is not there, it would hide what is no number.
    no_nan("members", &model.members);
    no_nan("woodwork", &model.woodwork);
    no_nan("afloat", &model.afloat);
    no_nan("as built", &model.as_built.as_ref().map(|b| (&b.deviations, &b.panels, &b.notches)));
}

/// Reads what a value shows of itself for programmers and finds NaN in it.
fn no_nan(what: &str, value: &dyn Debug) {
    struct Reader<'a>(String, &'a str);
    impl fmt::Write for Reader<'_> {
        fn write_str(&mut self, s: &str) -> fmt::Result {
            // Floats come in one piece.
            assert!(s != "NaN", "{}: NaN after …{}", self.1, self.0);
            if self.0.len() > 200 {
                self.0.clear();
            }
            self.0.push_str(s);
            Ok(())
        }
    }
    let mut reader = Reader(String::new(), what);
    write!(reader, "{value:?}").expect("nothing fails");
}

fn whole<'a>(value: &'a Value, place: &mut Vec<&'a str>) {
    match value {
        Value::Null => {
            let may = matches!(place[..], [.., part, key] if may_be_null(part, key));
            assert!(may, "{} is null", place.join("/"));
        }
        Value::String(s) => numbers(s, place),
        Value::Array(all) => all.iter().for_each(|v| whole(v, place)),
        Value::Object(all) => {
            for (k, v) in all {
                place.push(k);
                whole(v, place);
                place.pop();
            }
        }
        Value::Bool(_) | Value::Number(_) => {}
    }
}

/// No word of a text is what a number that is none is written as.
fn numbers(text: &str, place: &[&str]) {
    let none = text.split(|c: char| !c.is_alphanumeric()).find(|w| ["NaN", "inf"].contains(w));
    assert_eq!(none, None, "{}: {text}", place.join("/"));
}

/// What is given out as sound is a simple ring of some area to another library too, and its
/// drawings can be read.
fn patterns(model: &Model) {
    for p in model.panels.iter().filter(|p| p.unsound().is_none()) {
        let outline = p.finished_outline();
        let ring = |points: &[P2]| points.iter().map(|q| (q.x, q.y)).collect::<Vec<_>>();
        let polygon = geo::Polygon::new(ring(&outline).into(), Vec::new());
        assert!(polygon.is_valid(), "{}: {:?}", p.name, polygon.validation_errors());
        let pattern = panel_pattern(model, p, &[], model.hull.units);
        drawing::svg_is_well_formed(&svg::write(&pattern).expect("a sound pattern as SVG"));
        let dxf = dxf::write(&pattern).expect("a sound pattern as DXF");
        drawing::dxf_is_well_formed(&dxf, pattern.items.len());
    }
}
