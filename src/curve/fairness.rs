//! How fair a line is: the curvature of its plan and profile, as an eye sighting along it.

use super::Spline;
use crate::geom::P2;

/// Curvature (1/mm) below which a line is straight to the eye: a sag of a quarter of a
/// millimetre over a metre. Smaller curvatures change sign without anybody seeing it.
const STRAIGHT: f64 = 2e-6;

/// Share of a line's greatest curvature below which it counts as straight there: at the
/// ends of a line the sign of next to nothing says nothing.
const NEXT_TO_NOTHING: f64 = 0.02;

/// Teeth of a curvature comb along a line.
const TEETH: usize = 80;

/// Which way the line is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum View {
    /// From above: half-breadth over length.
    Plan,
    /// From the side: height over length.
    Profile,
}

impl View {
    /// Picks this view's two coordinates.
    pub fn flatten(self, v: crate::geom::V3) -> crate::geom::V2 {
        match self {
            View::Plan => crate::geom::V2::new(v.x, v.y),
            View::Profile => crate::geom::V2::new(v.x, v.z),
        }
    }
}

/// One tooth of a curvature comb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CombTooth {
    /// Parameter on the line.
    pub t: f64,
    /// Place in the view, mm.
    pub at: P2,
    /// Unit normal in the view, to the left of the way aft.
    pub normal: crate::geom::V2,
    /// Signed curvature in the view, 1/mm; positive where the line turns left going aft.
    pub curvature: f64,
}

/// Fairness of one view of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct ViewFairness {
    /// The curvature comb from bow to stern.
    pub comb: Vec<CombTooth>,
    /// Where the curvature changes sign, as distances x (mm) from the bow.
    pub inflections_x: Vec<f64>,
    /// Bending energy ∫κ² ds times length: free of scale, 0 for a straight line.
    pub energy: f64,
    /// The greatest jump of the curvature's slope at a duck, times length squared (free of
    /// scale), and the index of that duck: what an eye sees as a hard spot.
    pub hardest_duck: Option<(usize, f64)>,
}

/// Fairness of a line in both views.
#[derive(Debug, Clone, PartialEq)]
pub struct Fairness {
    /// Seen from above.
    pub plan: ViewFairness,
    /// Seen from the side.
    pub profile: ViewFairness,
}

impl Fairness {
    /// Measures `line`.
    pub fn of(line: &Spline) -> Fairness {
        Fairness { plan: one_view(line, View::Plan), profile: one_view(line, View::Profile) }
    }
}

fn tooth(line: &Spline, t: f64, view: View) -> (CombTooth, f64) {
    let jet = line.jet(t);
    let (d1, d2) = (view.flatten(jet.d1), view.flatten(jet.d2));
    let speed = d1.norm();
    let (curvature, normal) = if speed > 1e-9 {
        (d1.perp(&d2) / speed.powi(3), crate::geom::V2::new(-d1.y, d1.x) / speed)
    } else {
        (0.0, crate::geom::V2::zeros())
    };
    let tooth = CombTooth { t, at: P2::from(view.flatten(jet.p.coords)), normal, curvature };
    (tooth, speed)
}

fn one_view(line: &Spline, view: View) -> ViewFairness {
    let step = line.end() / TEETH as f64;
    let mut comb = Vec::with_capacity(TEETH + 1);
    let (mut energy, mut length) = (0.0, 0.0);
    for i in 0..=TEETH {
        let (tooth, speed) = tooth(line, step * i as f64, view);
        let weight = if i == 0 || i == TEETH { 0.5 } else { 1.0 } * step * speed;
        energy += tooth.curvature.powi(2) * weight;
        length += weight;
        comb.push(tooth);
    }
    let most = comb.iter().map(|c| c.curvature.abs()).fold(0.0, f64::max);
    let straight = STRAIGHT.max(NEXT_TO_NOTHING * most);
    let mut inflections_x = Vec::new();
    let mut last_bent: Option<&CombTooth> = None;
    for tooth in comb.iter().filter(|c| c.curvature.abs() > straight) {
        if let Some(before) = last_bent.filter(|b| b.curvature * tooth.curvature < 0.0) {
            let share = before.curvature / (before.curvature - tooth.curvature);
            inflections_x.push(before.at.x + share * (tooth.at.x - before.at.x));
        }
        last_bent = Some(tooth);
    }
    ViewFairness { comb, inflections_x, energy: energy * length, hardest_duck: hardest(line, view) }
}

/// The jump of dκ/ds at each inner duck that is no knuckle, found from both sides of it.
fn hardest(line: &Spline, view: View) -> Option<(usize, f64)> {
    let knots = line.knots();
    let curvature = |t: f64| tooth(line, t, view).0.curvature;
    let mut worst: Option<(usize, f64)> = None;
    for i in 1..knots.len() - 1 {
        if line.knuckles().contains(&knots[i]) {
            continue;
        }
        // A thousandth of the shorter span is far from rounding and well inside one cubic.
        let h = 1e-3 * (knots[i] - knots[i - 1]).min(knots[i + 1] - knots[i]);
        let here = curvature(knots[i]);
        let after = (curvature(knots[i] + h) - here) / h;
        let before = (here - curvature(knots[i] - h)) / h;
        let jump = (after - before).abs() * line.end().powi(2);
        if worst.is_none_or(|(_, w)| jump > w) {
            worst = Some((i, jump));
        }
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::End;
    use crate::geom::P3;

    fn through(points: &[(f64, f64)]) -> Spline {
        let ducks: Vec<P3> = points.iter().map(|&(x, y)| P3::new(x, y, 0.0)).collect();
        Spline::through(&ducks, &[], End::NotAKnot, End::NotAKnot).expect("good ducks")
    }

    #[test]
    fn a_circle_has_constant_curvature_and_a_straight_line_none() {
        let r = 6000.0;
        let arc: Vec<_> = (0..=20)
            .map(|i| 0.7 * f64::from(i) / 20.0)
            .map(|a| (r * a.sin(), r * (1.0 - a.cos())))
            .collect();
        let fair = Fairness::of(&through(&arc));
        for tooth in &fair.plan.comb {
            assert!((tooth.curvature * r - 1.0).abs() < 1e-3, "{}", tooth.curvature * r);
        }
        assert!((fair.plan.energy - 0.7f64.powi(2)).abs() < 1e-3);
        assert!(fair.plan.inflections_x.is_empty());
        assert_eq!(fair.profile.energy, 0.0);
    }

    #[test]
    fn an_s_bend_is_found_where_it_is() {
        let sine: Vec<_> = (0..=24)
            .map(|i| 4000.0 * f64::from(i) / 24.0)
            .map(|x| (x, 300.0 * (x / 4000.0 * 2.0 * std::f64::consts::PI).sin()))
            .collect();
        let fair = Fairness::of(&through(&sine));
        assert_eq!(fair.plan.inflections_x.len(), 1);
        assert!((fair.plan.inflections_x[0] - 2000.0).abs() < 20.0);
    }

    #[test]
    fn one_duck_pushed_out_is_the_hardest() {
        let mut line: Vec<_> =
            (0..=8).map(|i| f64::from(i) * 500.0).map(|x| (x, x * (4000.0 - x) / 8000.0)).collect();
        line[5].1 += 12.0;
        let (duck, jump) = Fairness::of(&through(&line)).plan.hardest_duck.expect("inner ducks");
        assert_eq!(duck, 5);
        assert!(jump > 10.0, "{jump}");
    }
}
