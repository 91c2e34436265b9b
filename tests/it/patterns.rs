//! Patterns against closed forms: cylinder, cones, oblique cylinder, tangents of a helix.
//!
//! Truth: `tests/reference/closed_forms.py`, quadrature of the formulas in do Carmo,
//! *Differential Geometry of Curves and Surfaces*, and of elementary cone and cylinder
//! developments; no strip is unrolled there.

use chinewright::curve::{End, Spline};
use chinewright::flat::develop;
use chinewright::flat::error::{estimate, greatest_distance_when_fitted, strips};
use chinewright::geom::polyline::length2;
use chinewright::geom::{P2, P3};
use chinewright::panel::{EndEdge, Pair, Surface, match_lines};
use serde::Deserialize;

use crate::reference::frozen;

#[derive(Deserialize)]
struct ClosedForms {
    panels: Vec<ClosedForm>,
}

#[derive(Deserialize)]
struct ClosedForm {
    name: String,
    lower_mm: f64,
    upper_mm: f64,
    area_mm2: f64,
    rulings: Vec<ExactRuling>,
    lower: Vec<[f64; 3]>,
    upper: Vec<[f64; 3]>,
    flat_lower: Vec<[f64; 2]>,
    flat_upper: Vec<[f64; 2]>,
}

#[derive(Deserialize)]
struct ExactRuling {
    lower: [f64; 3],
    upper: [f64; 3],
}

fn spline(points: &[[f64; 3]]) -> Spline {
    let ducks: Vec<P3> = points.iter().map(|p| P3::from(*p)).collect();
    Spline::through(&ducks, &[], End::NotAKnot, End::NotAKnot).expect("81 good ducks")
}

/// The exact flat edge as a curve (its own error is under 1e-4 mm).
fn exact_flat(flat: &[[f64; 2]]) -> Spline {
    let lifted: Vec<[f64; 3]> = flat.iter().map(|p| [p[0], p[1], 0.0]).collect();
    spline(&lifted)
}

#[test]
fn closed_forms_hold_within_a_twentieth_of_a_millimetre() {
    let table: ClosedForms = frozen("closed_forms.json");
    assert_eq!(table.panels.len(), 5);
    for form in &table.panels {
        let (lower, upper) = (spline(&form.lower), spline(&form.upper));
        let pair =
            Pair { lower: &lower, upper: &upper, bow: EndEdge::Ruling, stern: EndEdge::Ruling };
        let matching = match_lines(&pair);
        let surface = Surface::of(&pair, &matching, 100);
        let flat = develop(&surface, 0.0);

        // Every ruling is a ruling of the exact surface: interpolate the exact ones.
        let (worst_warp, _) = surface.greatest_warp();
        assert!(worst_warp < 1e-6, "{}: warp {worst_warp}", form.name);

        // The flat outline against the exact one, at the exact table's points: compare the
        // whole curves by arc length from the forward corner.
        let ours = |edge: Vec<P2>| {
            let mut at = 0.0;
            let mut rows = vec![(0.0, edge[0])];
            for w in edge.windows(2) {
                at += (w[1] - w[0]).norm();
                rows.push((at, w[1]));
            }
            rows
        };
        let mut a = Vec::new();
        let mut b = Vec::new();
        for (edge, exact) in
            [(flat.lower_edge(), &form.flat_lower), (flat.upper_edge(), &form.flat_upper)]
        {
            let rows = ours(edge);
            let exact_line = exact_flat(exact);
            let arc = chinewright::curve::ArcTable::of(&exact_line);
            // Our own points at their share of the length; chords are shorter than arcs by
            // a part that both ends share.
            let scale = arc.length() / rows[rows.len() - 1].0;
            for (s, p) in rows {
                let q = exact_line.at(arc.parameter_at(&exact_line, s * scale));
                a.push(p);
                b.push(P2::new(q.x, q.y));
            }
        }
        let worst = greatest_distance_when_fitted(&a, &b);
        assert!(worst < 0.05, "{}: outline off by {worst} mm", form.name);
        let estimated = strips(&flat);
        assert!(estimate(&flat) >= estimated && estimate(&flat) < 0.1, "{}", form.name);
        assert!(
            worst < 3.0 * estimated + 1e-3,
            "{}: estimated {estimated} mm, found {worst} mm",
            form.name
        );
        let edges = [
            (length2(&flat.lower_edge()), form.lower_mm),
            (length2(&flat.upper_edge()), form.upper_mm),
        ];
        for (got, want) in edges {
            assert!((got - want).abs() < 0.05, "{}: edge {got} for {want}", form.name);
        }
        let area = flat.area_in_flat();
        assert!((area / form.area_mm2 - 1.0).abs() < 5e-5, "{}: area {area}", form.name);
    }
}

/// Each exact ruling must be met by one of ours: the upper end opposite to the same lower
/// point within 0.5 mm along the edge (the flat outline above is held to 0.05 mm).
#[test]
fn rulings_are_those_of_the_closed_form() {
    let table: ClosedForms = frozen("closed_forms.json");
    for form in &table.panels {
        let (lower, upper) = (spline(&form.lower), spline(&form.upper));
        let pair =
            Pair { lower: &lower, upper: &upper, bow: EndEdge::Ruling, stern: EndEdge::Ruling };
        let surface = Surface::of(&pair, &match_lines(&pair), 400);
        for exact in &form.rulings {
            let (l, u) = (P3::from(exact.lower), P3::from(exact.upper));
            let off = surface
                .rulings
                .windows(2)
                .map(|w| {
                    let d = w[1].lower - w[0].lower;
                    // In a fan the lower end stands still.
                    let length = d.norm_squared().max(1e-12);
                    let t = ((l - w[0].lower).dot(&d) / length).clamp(0.0, 1.0);
                    let miss = (w[0].lower + t * d - l).norm();
                    let mate = w[0].upper + t * (w[1].upper - w[0].upper);
                    (miss, (mate - u).norm())
                })
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .expect("rulings");
            assert!(off.0 < 0.05 && off.1 < 0.5, "{}: {off:?}", form.name);
        }
    }
}
