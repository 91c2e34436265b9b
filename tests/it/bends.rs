//! Bending against closed forms, the handbook and the published sheet radii.

use chinewright::bend::member::{Along, judge};
use chinewright::bend::strain::{bending, torsion_factor};
use chinewright::bend::{Method, sheet};
use chinewright::flat::develop;
use chinewright::geom::{P3, V3};
use chinewright::hull::document::default_members;
use chinewright::hull::{Member, StickTest};
use chinewright::material::Materials;
use chinewright::panel::{EdgeKind, Ruling, Surface};
use serde::Deserialize;

use crate::reference::frozen;

#[derive(Deserialize)]
struct Table {
    strains: Vec<Strain>,
    species: Vec<Species>,
    moisture: Vec<Moisture>,
    torsion: Vec<Torsion>,
    springback: Vec<Springback>,
}

#[derive(Deserialize)]
struct Strain {
    thickness_mm: f64,
    radius_mm: f64,
    strain: f64,
}

#[derive(Deserialize)]
struct Species {
    label: String,
    moisture: String,
    mor_psi: f64,
    strain: f64,
}

#[derive(Deserialize)]
struct Moisture {
    what: String,
    values: Vec<AtMoisture>,
}

#[derive(Deserialize)]
struct AtMoisture {
    moisture_pct: f64,
    value: f64,
}

#[derive(Deserialize)]
struct Torsion {
    ratio: f64,
    k: f64,
}

#[derive(Deserialize)]
struct Springback {
    layers: u32,
    radius_factor: f64,
}

fn table() -> Table {
    frozen("bend_table.json")
}

/// Truth: t / 2R.
#[test]
fn bars_of_circular_arcs_have_their_strain() {
    for row in table().strains {
        let got = bending(row.thickness_mm, 1.0 / row.radius_mm);
        assert!((got / row.strain - 1.0).abs() < 1e-9, "{got} {}", row.strain);
    }
}

/// Truth: Wood Handbook (FPL-GTR-282) tables 5-3b, as copied in the reference script.
#[test]
fn breaking_strains_are_those_of_the_handbook() {
    let materials = Materials::shipped();
    let mut compared = 0;
    for row in table().species {
        let moisture = if row.moisture == "green" { 30.0 } else { 12.0 };
        let wood = materials.woods.iter().find(|w| {
            w.source.contains(&format!("\"{}\"", row.label))
                && (moisture == 12.0 || w.green.is_some())
        });
        let Some(wood) = wood else {
            continue;
        };
        let got = wood.breaking_strain(moisture);
        assert!((got / row.strain - 1.0).abs() < 1e-3, "{}: {got} {}", row.label, row.strain);
        let psi = wood.mor(moisture) / chinewright::material::MPA_PER_PSI;
        assert!((psi / row.mor_psi - 1.0).abs() < 1e-6, "{}: {psi}", row.label);
        compared += 1;
    }
    assert!(compared >= 20, "only {compared} rows of the handbook were compared");
}

/// Truth: Wood Handbook equation 5-3 in 30 digits.
#[test]
fn moisture_changes_strength_as_the_handbook_says() {
    let materials = Materials::shipped();
    let mut compared = 0;
    for row in table().moisture {
        let name = row.what.to_lowercase();
        let wood = ["Douglas-fir", "white oak", "white ash"]
            .into_iter()
            .find(|n| name.contains(&n.to_lowercase()))
            .and_then(|n| materials.wood(n));
        let Some(wood) = wood else {
            continue;
        };
        for at in row.values.iter().filter(|v| v.moisture_pct >= 8.0) {
            let (mor, moe) = (
                wood.mor(at.moisture_pct) / chinewright::material::MPA_PER_PSI,
                wood.moe(at.moisture_pct) / chinewright::material::MPA_PER_PSI * 1e-6,
            );
            let got = if name.contains("mor") { mor } else { moe };
            assert!(
                (got / at.value - 1.0).abs() < 1e-5,
                "{} at {}: {got} {}",
                row.what,
                at.moisture_pct,
                at.value
            );
            compared += 1;
        }
    }
    assert!(compared >= 30, "only {compared} values were compared");
}

/// Truth: the series of Timoshenko and Goodier in 30 digits, and their printed 0.675.
#[test]
fn twisted_bars_shear_as_timoshenko_and_goodier_say() {
    for row in table().torsion {
        let got = torsion_factor(row.ratio);
        assert!((got - row.k).abs() < 1e-8, "{}: {got} {}", row.ratio, row.k);
    }
    assert!((torsion_factor(1.0) - 0.675).abs() < 5e-4);
}

fn stick(moulded_mm: f64, sided_mm: f64) -> Member {
    Member { moulded_mm, sided_mm, ..default_members()[1].clone() }
}

/// A stick bent to one radius all along.
fn arc(radius: f64, length: f64, m: &Member) -> Vec<Along> {
    (0..=40)
        .map(|k| Along {
            at: length * f64::from(k) / 40.0,
            moulded: 1.0 / radius,
            sided: 0.0,
            twist: 0.0,
            strain: 0.5 * m.moulded_mm / radius,
            point: P3::origin(),
            tangent: V3::x(),
            outward: V3::y(),
        })
        .collect()
}

#[test]
fn the_ladder_is_climbed_as_the_radius_shrinks() {
    let materials = Materials::shipped();
    let fir = materials.wood("Douglas-fir").expect("in the table");
    let m = stick(19.0, 38.0);
    let recommended =
        |radius: f64| judge(&m, fir, 3000.0, arc(radius, 3000.0, &m)).advice.recommended;
    // Half of such sticks break at 0.636 % (R = 78.6 t = 1494 mm, Wood Handbook).
    assert_eq!(recommended(6000.0), Some(Method::Dry));
    assert_eq!(recommended(2500.0), Some(Method::DryWithClamps));
    assert_eq!(recommended(1800.0), Some(Method::HotSoak));
    assert_eq!(recommended(1200.0), Some(Method::Steam));
    assert_eq!(recommended(700.0), Some(Method::Laminate));
    assert_eq!(recommended(60.0), None);
    let at_break = judge(&m, fir, 3000.0, arc(0.5 * 19.0 / 0.006_359, 3000.0, &m));
    assert!((at_break.break_chance - 0.5).abs() < 0.01, "{}", at_break.break_chance);
    assert!((at_break.utilisation - 1.0).abs() < 1e-3);
}

#[test]
fn a_member_that_carries_load_is_kerfed_last() {
    let materials = Materials::shipped();
    let fir = materials.wood("Douglas-fir").expect("in the table");
    let trim = Member { carries_load: false, ..stick(19.0, 38.0) };
    let bent = |m: &Member| judge(m, fir, 3000.0, arc(900.0, 3000.0, m));
    assert_eq!(bent(&trim).advice.recommended, Some(Method::Kerf));
    let log = bent(&stick(19.0, 38.0));
    assert_eq!(log.advice.recommended, Some(Method::Laminate));
    let kerf = log.advice.rungs.iter().find(|r| r.method == Method::Kerf).expect("every rung");
    assert!(kerf.how.contains("carries load"), "{}", kerf.how);
    let depth = kerf.figures.iter().find(|f| f.key == "depth_mm").expect("a depth").value;
    assert!(depth > 9.0 && depth < 19.0, "{depth}");
}

/// Truth: n²/(n²-1) by beam theory; the reference script's fractions.
#[test]
fn laminates_spring_back_by_their_number_of_layers() {
    let materials = Materials::shipped();
    let fir = materials.wood("Douglas-fir").expect("in the table");
    let rows = table().springback;
    let mut seen = 0;
    for radius in [3000.0, 2000.0, 1500.0, 1000.0, 700.0] {
        let m = stick(24.0, 38.0);
        let bent = judge(&m, fir, 3000.0, arc(radius, 3000.0, &m));
        let rung =
            bent.advice.rungs.iter().find(|r| r.method == Method::Laminate).expect("every rung");
        let value =
            |key: &str| rung.figures.iter().find(|f| f.key == key).expect("its figure").value;
        let layers = value("layers") as u32;
        if let Some(row) = rows.iter().find(|r| r.layers == layers) {
            assert!((value("springback") - row.radius_factor).abs() < 1e-9);
            seen += 1;
        }
        if rung.holds {
            assert!(
                24.0 / f64::from(layers) * 125.0 <= radius * 1.000_001,
                "{layers} layers at {radius}"
            );
        }
    }
    assert!(seen >= 3);
}

#[test]
fn a_tested_stick_replaces_the_handbooks_stiffness_and_narrows_the_scatter() {
    let materials = Materials::shipped();
    let fir = materials.wood("Douglas-fir").expect("in the table");
    let m = stick(19.0, 38.0);
    let test =
        StickTest { span_mm: 1200.0, width_mm: 38.0, depth_mm: 19.0, weight_kg: 5.0, sag_mm: 8.4 };
    let tested = Member { stick_test: Some(test), ..m.clone() };
    let (book, own) = (
        judge(&m, fir, 3000.0, arc(2500.0, 3000.0, &m)),
        judge(&tested, fir, 3000.0, arc(2500.0, 3000.0, &tested)),
    );
    assert!((own.stiffness - 9674.0).abs() < 1.0);
    assert!((own.breaking_strain - fir.mor(12.0) / own.stiffness).abs() < 1e-12);
    assert!(own.scatter < book.scatter);
}

/// A cylinder of known radius: the sheet's tightest radius is the cylinder's, and its limit
/// along and across the grain is the published one (APA TT-003A: 1/4 in, 2 ft and 5 ft).
#[test]
fn a_rolled_sheet_has_its_radius_and_the_published_limit() {
    let radius = 1000.0;
    let rulings: Vec<Ruling> = (0..=80)
        .map(|k| f64::from(k) * 0.02)
        .map(|a| {
            let n = V3::new(f64::sin(a), f64::cos(a), 0.0);
            let foot = P3::from(n * radius);
            Ruling {
                u: a,
                v: a,
                lower: foot,
                upper: foot + V3::new(0.0, 0.0, 500.0),
                lower_on: EdgeKind::Line,
                upper_on: EdgeKind::Line,
                normal_lower: n,
                normal_upper: n,
                warp: 0.0,
            }
        })
        .collect();
    let surface = Surface { rulings };
    let flat = develop(&surface, 0.0);
    let sheets = Materials::shipped().sheets;
    let quarter = 6.35;
    let along = sheet::bend(&surface, &flat, &sheets, quarter, false);
    assert!((along.radius / radius - 1.0).abs() < 1e-3, "{}", along.radius);
    assert!((along.least_radius - 5.0 * 304.8).abs() < 1.0, "{}", along.least_radius);
    let other = along.options.iter().find(|o| o.what.contains("across")).expect("the other grain");
    assert!(other.holds, "2 ft is enough across the grain");
    let across = sheet::bend(&surface, &flat, &sheets, quarter, true);
    assert!((across.least_radius - 2.0 * 304.8).abs() < 1.0);
}
