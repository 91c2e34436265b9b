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

/// Three ducks or more within this (mm) of one straight line are meant to lie on it: a
/// pencil line's width.
const ON_ONE_LINE_MM: f64 = 0.5;

/// A batten that leaves the straight line of its ducks by this (mm) shows a hook to an eye
/// that sights along it. Our judgement; no source.
const HOOK_MM: f64 = 1.5;

/// Places between two neighbouring ducks at which a run is measured.
const PLACES: usize = 12;

/// Which way the line is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum View {
    /// From above: half-breadth over length.
    Plan,
    /// From the side: height over length.
    Profile,
}

impl View {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            View::Plan => "plan",
            View::Profile => "profile",
        }
    }

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

/// A run that should be straight, as three or more of its ducks lie on one straight line, and
/// along which the batten swings to either side of them: a curve ends too hard before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hook {
    /// Index of the first duck of the run.
    pub from: usize,
    /// Index of its last duck.
    pub to: usize,
    /// How far the batten swings to the left of the straight line going aft (in the profile:
    /// above it), mm.
    pub left: f64,
    /// How far to the right (below), mm.
    pub right: f64,
    /// Where it swings furthest, mm aft.
    pub at_x: f64,
}

impl Hook {
    /// The furthest that the batten leaves the straight line, mm.
    pub fn most(&self) -> f64 {
        self.left.max(self.right)
    }
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
    /// Runs that should be straight and are not, from the bow.
    pub hooks: Vec<Hook>,
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
    ViewFairness {
        comb,
        inflections_x,
        energy: energy * length,
        hardest_duck: hardest(line, view),
        hooks: hooks(line, view),
    }
}

/// Distance of `p` to the left of the straight line from `a` to `b`.
fn left_of(a: P2, b: P2, p: P2) -> f64 {
    (b - a).try_normalize(1e-9).map_or(0.0, |e| e.perp(&(p - a)))
}

/// Every run of three ducks or more on one straight line that the batten does not keep to. A
/// knuckle ends a run: the batten is cut there.
fn hooks(line: &Spline, view: View) -> Vec<Hook> {
    let knots = line.knots();
    let at = |t: f64| P2::from(view.flatten(line.at(t).coords));
    let ducks: Vec<P2> = knots.iter().map(|t| at(*t)).collect();
    let straight = |from: usize, to: usize| {
        (from + 1..to).all(|k| {
            left_of(ducks[from], ducks[to], ducks[k]).abs() <= ON_ONE_LINE_MM
                && !line.knuckles().contains(&knots[k])
        })
    };
    let mut out = Vec::new();
    let mut from = 0;
    while from + 2 < ducks.len() {
        let Some(to) = (from + 2..ducks.len()).take_while(|to| straight(from, *to)).last() else {
            from += 1;
            continue;
        };
        let steps = PLACES * (to - from);
        let mut hook = Hook { from, to, left: 0.0, right: 0.0, at_x: ducks[from].x };
        for k in 0..=steps {
            let t = knots[from] + (knots[to] - knots[from]) * k as f64 / steps as f64;
            let p = at(t);
            let off = left_of(ducks[from], ducks[to], p);
            if off.abs() > hook.most() {
                hook.at_x = p.x;
            }
            hook.left = hook.left.max(off);
            hook.right = hook.right.max(-off);
        }
        if hook.most() > HOOK_MM {
            out.push(hook);
        }
        from = to;
    }
    out
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

    /// A parabola that runs out into a straight line: ducks on both, and the batten swings
    /// about the line that it should have kept to. A run that begins with no curvature, a
    /// knuckle where the curve ends, and a gentle curve that nothing says is straight are none.
    #[test]
    fn a_straight_run_after_a_hard_end_hooks() {
        let bottom = |power: i32| -> Vec<P3> {
            [0.0, 600.0, 1200.0, 1800.0, 2400.0, 3300.0, 4400.0]
                .map(|x: f64| {
                    let before = (2400.0 - x).max(0.0);
                    P3::new(x, 0.0, 400.0 * (before / 2400.0).powi(power))
                })
                .to_vec()
        };
        let fair = |ducks: &[P3], knuckles: &[bool]| {
            let line = Spline::through(ducks, knuckles, End::NotAKnot, End::NotAKnot);
            Fairness::of(&line.expect("good ducks"))
        };
        let hard = fair(&bottom(2), &[]);
        assert_eq!(hard.profile.hooks.len(), 1);
        let hook = hard.profile.hooks[0];
        assert_eq!((hook.from, hook.to), (4, 6));
        assert!(hook.most() > 3.0 && hook.at_x > 2400.0, "{hook:?}");
        assert!(hard.plan.hooks.is_empty());
        // A cubic has no curvature where it ends, and a spline follows it: only the chords'
        // lengths, which are no distances along x, leave a little.
        assert!(fair(&bottom(3), &[]).profile.hooks.is_empty());
        let mut knuckles = [false; 7];
        knuckles[4] = true;
        assert!(fair(&bottom(2), &knuckles).profile.hooks.is_empty());
        let gentle: Vec<P3> =
            (0..7).map(|i| f64::from(i) * 700.0).map(|x| P3::new(x, 0.0, x * x / 4e5)).collect();
        assert!(fair(&gentle, &[]).profile.hooks.is_empty());
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
