//! Splines against a general-purpose library and against the batten they stand for.

use chinewright::curve::{ArcTable, End, Spline};
use chinewright::geom::{P3, V3};
use serde::Deserialize;

use crate::reference::frozen;

#[derive(Deserialize)]
struct Table {
    sets: Vec<Set>,
}

#[derive(Deserialize)]
struct Set {
    name: String,
    ducks: Vec<[f64; 3]>,
    start_tangent: [f64; 3],
    end_tangent: [f64; 3],
    curves: Vec<Curve>,
}

#[derive(Deserialize)]
struct Curve {
    ends: String,
    length_mm: f64,
    rows: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    at: f64,
    value: [f64; 3],
    first: [f64; 3],
    second: [f64; 3],
}

/// Truth: `tests/reference/spline_check.py`, scipy's CubicSpline over chord length.
#[test]
fn splines_agree_with_scipy() {
    let table: Table = frozen("spline_check.json");
    let mut rows = 0;
    for set in &table.sets {
        let ducks: Vec<P3> = set.ducks.iter().map(|d| P3::from(*d)).collect();
        for curve in &set.curves {
            let (start, end) = match curve.ends.as_str() {
                "not-a-knot" => (End::NotAKnot, End::NotAKnot),
                "natural" => (End::Free, End::Free),
                _ => (
                    End::Tangent(V3::from(set.start_tangent)),
                    End::Tangent(V3::from(set.end_tangent)),
                ),
            };
            let spline = Spline::through(&ducks, &[], start, end).expect("good ducks");
            for row in &curve.rows {
                let jet = spline.jet(row.at);
                let place = format!("{} {} at {}", set.name, curve.ends, row.at);
                assert!((jet.p - P3::from(row.value)).norm() < 1e-6, "{place}");
                assert!((jet.d1 - V3::from(row.first)).norm() < 1e-8, "{place}");
                assert!((jet.d2 - V3::from(row.second)).norm() < 1e-9, "{place}");
                rows += 1;
            }
            let length = ArcTable::of(&spline).length();
            assert!((length - curve.length_mm).abs() < 1e-3, "{} {length}", set.name);
        }
    }
    assert!(rows >= 200, "{rows} rows compared");
}

/// A free batten over three pins is a piece of rectangular elastica; for a rise of a tenth
/// of the half span the exact curvature at the middle pin is 0.2968185657 over the half
/// span, and the natural cubic overstates it by about 1 % (Levien, *From Spiral to
/// Spline*, 2009; values computed in 25 digits).
#[test]
fn a_free_batten_over_three_pins_is_met_within_two_percent() {
    let half = 1000.0;
    let pins = [P3::new(-half, 0.0, 0.0), P3::new(0.0, 0.1 * half, 0.0), P3::new(half, 0.0, 0.0)];
    let spline = Spline::through(&pins, &[], End::Free, End::Free).expect("good pins");
    let jet = spline.jet(0.5 * spline.end());
    let curvature = jet.d1.cross(&jet.d2).norm() / jet.d1.norm().powi(3);
    assert!((curvature * half / 0.296_818_565_7 - 1.0).abs() < 0.02, "{}", curvature * half);
    let at_quarter = spline.at(0.25 * spline.end());
    // y at x = -0.5: 0.06891349971; a duck's breadth either way on a metre.
    assert!((at_quarter.y / half - 0.068_913).abs() < 1e-3, "{}", at_quarter.y / half);
}
