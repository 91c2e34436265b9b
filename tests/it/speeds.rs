//! Speed and power beside `tests/reference/power.py`: Savitsky's equations solved by scipy, and
//! the formula of Mercier and Savitsky between floating and planing.

use chinewright::float::hump::Form;
use chinewright::float::planing::{OutOfRange, Prism};
use serde::Deserialize;

use crate::reference::frozen;

fn near(a: f64, b: f64, share: f64, what: &str) {
    assert!((a - b).abs() <= share * b.abs().max(1e-12), "{what}: {a} {b}");
}

#[derive(Deserialize)]
struct Powers {
    hulls: Vec<PlaningHull>,
}

#[derive(Deserialize)]
struct PlaningHull {
    name: String,
    inputs: Inputs,
    rows: Vec<PlaningRow>,
}

#[derive(Deserialize)]
struct Inputs {
    mass_kg: f64,
    beam_m: f64,
    deadrise_deg: f64,
    lcg_m: f64,
    vcg_m: f64,
    thrust_arm_m: f64,
    thrust_angle_deg: f64,
    density_kg_m3: f64,
    viscosity_m2_s: f64,
    gravity_m_s2: f64,
}

#[derive(Deserialize)]
struct PlaningRow {
    speed_m_s: f64,
    in_range: bool,
    reason: Option<String>,
    trim_deg: Option<f64>,
    lambda: Option<f64>,
    drag_n: Option<f64>,
    keel_wetted_m: Option<f64>,
}

#[test]
fn planing_agrees_with_an_independent_solution() {
    let table: Powers = frozen("power.json");
    let (mut planed, mut refused) = (0, 0);
    for hull in table.hulls {
        let i = hull.inputs;
        let prism = Prism {
            weight: i.mass_kg * i.gravity_m_s2,
            beam: i.beam_m,
            deadrise: i.deadrise_deg,
            lcg: i.lcg_m,
            vcg: i.vcg_m,
            thrust_arm: i.thrust_arm_m,
            thrust_angle: i.thrust_angle_deg,
            density: i.density_kg_m3,
            viscosity: i.viscosity_m2_s,
        };
        for row in hull.rows {
            let found = prism.at_speed(row.speed_m_s);
            let what = format!("{} at {}", hull.name, row.speed_m_s);
            assert_eq!(found.is_ok(), row.in_range, "{what}: {found:?}");
            match found {
                Ok(run) => {
                    let want = |x: Option<f64>| x.expect("a figure");
                    near(run.trim, want(row.trim_deg), 1e-6, &what);
                    near(run.lambda, want(row.lambda), 1e-6, &what);
                    near(run.drag, want(row.drag_n), 1e-6, &what);
                    near(run.wetted[0], want(row.keel_wetted_m), 1e-6, &what);
                    planed += 1;
                }
                Err(why) => {
                    let same = match why {
                        OutOfRange::Speed(_) => "speed",
                        OutOfRange::NotYet | OutOfRange::Flat | OutOfRange::Steep => "trim",
                        OutOfRange::Length(_) => "length",
                        OutOfRange::DryChine => "dry chine",
                    };
                    assert_eq!(row.reason.as_deref(), Some(same), "{what}");
                    refused += 1;
                }
            }
        }
    }
    assert_eq!((planed, refused), (22, 19));
}

#[derive(Deserialize)]
struct Between {
    between: Vec<TestedForm>,
}

#[derive(Deserialize)]
struct TestedForm {
    name: String,
    inputs: FormInputs,
    rows: Vec<BetweenRow>,
}

#[derive(Deserialize)]
struct FormInputs {
    length_m: f64,
    beam_m: f64,
    draft_m: f64,
    volume_m3: f64,
    entrance_deg: f64,
    transom_share: f64,
    wetted_m2: f64,
    weight_n: f64,
    viscosity_m2_s: f64,
}

#[derive(Deserialize)]
struct BetweenRow {
    speed_m_s: f64,
    resistance_n: Option<f64>,
}

#[test]
fn between_floating_and_planing_agrees_with_an_independent_solution() {
    let table: Between = frozen("power.json");
    let (mut told, mut silent) = (0, 0);
    for form in table.between {
        let i = form.inputs;
        let hull = Form {
            length: i.length_m,
            beam: i.beam_m,
            draft: i.draft_m,
            volume: i.volume_m3,
            entrance: i.entrance_deg,
            transom: i.transom_share,
            wetted: i.wetted_m2,
        };
        for row in form.rows {
            let found = hull.resistance(row.speed_m_s, i.weight_n, i.viscosity_m2_s);
            let what = format!("{} at {}: {found:?}", form.name, row.speed_m_s);
            match (found, row.resistance_n) {
                (Ok(n), Some(want)) => {
                    near(n, want, 1e-8, &what);
                    told += 1;
                }
                (Err(_), None) => silent += 1,
                _ => panic!("{what}, wanted {:?}", row.resistance_n),
            }
        }
    }
    assert_eq!((told, silent), (28, 40));
}
