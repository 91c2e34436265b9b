//! How far out a frame may stand before the skin shows it.
//!
//! A batten is sprung through all corners of a line, as the builder would, and once more
//! with one corner moved. Where its curvature at that frame, or at a frame beside it, has
//! changed by a quarter of itself, an eye along the batten sees a flat or a hump: that is
//! how far out the frame may be (our judgement, no source). Less than [`SEEN_MM`] is never
//! asked for: where a line is nearly straight a quarter of its curvature is too little for
//! an eye or a tape. What 3 mm do to the radius is read off the same batten.

use crate::curve::{End, Spline, View};
use crate::geom::P3;
use crate::hull::HullLine;
use crate::part::LineId;

/// An error that neither an eye along the batten nor a tape finds, mm. Our judgement; no
/// source.
pub const SEEN_MM: f64 = 1.0;
/// The share by which a batten's curvature may change. Our judgement; no source.
pub const SEEN_SHARE: f64 = 0.25;
/// Steps towards the error that changes the curvature by its share.
const STEPS: usize = 3;
/// The error that the builder is told about, mm.
pub const OUT_BY_MM: f64 = 3.0;

/// What a frame that is out does to one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// Station of the frame, from 1.
    pub station: usize,
    /// The line.
    pub line: LineId,
    /// Plan: the frame is out sideways. Profile: it is high or low.
    pub view: View,
    /// How far out it may be before it shows, mm.
    pub allowed: f64,
    /// The greatest share by which that changes the batten's curvature at the frame or at
    /// one beside it: [`SEEN_SHARE`], more where the line is too straight for that and
    /// [`SEEN_MM`] counts, infinite where it is straight.
    pub changes: f64,
    /// Radius of the line there as drawn, mm; infinite if straight.
    pub radius: f64,
    /// Radius there when the frame is out by [`OUT_BY_MM`] the worse way, mm; negative
    /// where the line is then hollow.
    pub radius_when_out: f64,
}

/// Curvature of a batten in a view at parameter `t`, 1/mm.
fn curvature(batten: &Spline, view: View, t: f64) -> f64 {
    let jet = batten.jet(t);
    let (d1, d2) = (view.flatten(jet.d1), view.flatten(jet.d2));
    d1.perp(&d2) / d1.norm().powi(3)
}

/// The batten over `points` with one of them moved by `by` mm in a view.
fn sprung(points: &[P3], moved: usize, by: f64, view: View) -> Option<Spline> {
    let mut points = points.to_vec();
    match view {
        View::Plan => points[moved].y += by,
        View::Profile => points[moved].z += by,
    }
    Spline::through(&points, &[], End::NotAKnot, End::NotAKnot).ok()
}

/// Sensitivities of one line at every station that it passes; `stations` are (number from
/// 1, mm aft).
pub fn of_line(line: &HullLine, stations: &[(usize, f64)]) -> Vec<Sensitivity> {
    let spline = &line.spline;
    let passed: Vec<(usize, P3)> = stations
        .iter()
        .filter_map(|(n, x)| Some((*n, spline.at(spline.parameter_at_x(*x)?))))
        .collect();
    let mut points = vec![spline.at(0.0)];
    points.extend(passed.iter().map(|p| p.1));
    points.push(spline.at(spline.end()));
    // Frames at the very ends are the ends.
    if points.windows(2).any(|w| (w[1] - w[0]).norm() < 1.0) || points.len() < 4 {
        return Vec::new();
    }
    let Some(fair) = sprung(&points, 0, 0.0, View::Plan) else {
        return Vec::new();
    };
    let curved = |view: View| -> Vec<f64> {
        fair.knots().iter().map(|t| curvature(&fair, view, *t)).collect()
    };
    let as_drawn = [curved(View::Plan), curved(View::Profile)];
    let mut out = Vec::new();
    for (i, (station, _)) in passed.iter().enumerate() {
        for view in [View::Plan, View::Profile] {
            // The keel cannot be out sideways: the string holds it.
            if view == View::Plan && points.iter().all(|p| p.y == 0.0) {
                continue;
            }
            let at = i + 1;
            let drawn = &as_drawn[usize::from(view == View::Profile)];
            let own = drawn[at];
            // The worse way is the one that flattens it: against its curvature, which is
            // positive where the line is hollow from above.
            let by = OUT_BY_MM * if own >= 0.0 { 1.0 } else { -1.0 };
            let when_out =
                sprung(&points, at, by, view).map_or(own, |s| curvature(&s, view, s.knots()[at]));
            let (allowed, changes) = allowed(&points, at, view, drawn);
            let radius = |k: f64| if k == 0.0 { f64::INFINITY } else { 1.0 / k };
            out.push(Sensitivity {
                station: *station,
                line: line.id,
                view,
                allowed,
                changes,
                radius: radius(own.abs()),
                radius_when_out: radius(when_out * own.signum()),
            });
        }
    }
    out
}

/// The greatest share by which curvature changes at point `i` and at the frames beside it
/// when the point is out by `by` mm; `drawn` are the curvatures as drawn.
fn change(points: &[P3], i: usize, by: f64, view: View, drawn: &[f64]) -> f64 {
    let Some(batten) = sprung(points, i, by, view) else {
        return f64::INFINITY;
    };
    // The very ends are no frames.
    let beside = (i - 1).max(1)..=(i + 1).min(points.len() - 2);
    beside
        .map(|j| {
            let by = (curvature(&batten, view, batten.knots()[j]) - drawn[j]).abs();
            if by == 0.0 { 0.0 } else { by / drawn[j].abs() }
        })
        .fold(0.0, f64::max)
}

/// How far point `i` may be out (mm), and by what share that changes the curvature.
fn allowed(points: &[P3], i: usize, view: View, drawn: &[f64]) -> (f64, f64) {
    let worse =
        |by: f64| change(points, i, by, view, drawn).max(change(points, i, -by, view, drawn));
    let (mut by, mut share) = (SEEN_MM, worse(SEEN_MM));
    if share >= SEEN_SHARE {
        return (by, share);
    }
    // All but proportional: a few steps settle it.
    for _ in 0..STEPS {
        if share <= 0.0 {
            break;
        }
        by *= SEEN_SHARE / share;
        share = worse(by);
    }
    (by.max(SEEN_MM), share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::ArcTable;

    fn line(points: &[P3]) -> HullLine {
        let spline = Spline::through(points, &[], End::NotAKnot, End::NotAKnot).expect("points");
        HullLine { id: LineId::Sheer, arc: ArcTable::of(&spline), spline, derived: false }
    }

    fn amidships(points: &[P3]) -> Sensitivity {
        let stations: Vec<(usize, f64)> = (1..6).map(|i| (i, 500.0 * i as f64)).collect();
        let all = of_line(&line(points), &stations);
        all.into_iter().find(|s| s.station == 3 && s.view == View::Plan).expect("amidships")
    }

    /// Seven corners 500 mm apart. On a straight line nothing but what the eye misses may
    /// be out, 1 mm. On a parabola y = x²/6000 the radius amidships is 3000 mm. By the
    /// three-moment equation of a continuous beam a settlement of one support of many
    /// changes the curvature there by 6 (√3 − 1) d / h² = 4.392 d / h² (h the bays), and at
    /// the supports beside it by less: a quarter of 1/3000 is reached at
    /// d = 0.25 · 500² / (4.392 · 3000) = 4.743 mm.
    #[test]
    fn corners_of_a_straight_and_of_a_bent_line() {
        let at = |y: &dyn Fn(f64) -> f64| -> Vec<P3> {
            (0..7).map(|i| 500.0 * f64::from(i)).map(|x| P3::new(x, y(x), 400.0)).collect()
        };
        let straight = amidships(&at(&|_| 600.0));
        assert!((straight.allowed - 1.0).abs() < 1e-9 && straight.changes > 1.0);
        let bent = amidships(&at(&|x| 900.0 - (x - 1500.0).powi(2) / 6000.0));
        let by_hand = 0.25 * 500.0f64.powi(2) / (6.0 * (3.0f64.sqrt() - 1.0) * 3000.0);
        assert!((bent.allowed / by_hand - 1.0).abs() < 0.1, "{} {by_hand}", bent.allowed);
        assert!((bent.radius / 3000.0 - 1.0).abs() < 1e-2, "{}", bent.radius);
        let taken = 1.0 / bent.radius - 1.0 / bent.radius_when_out;
        assert!((taken / 5.3e-5 - 1.0).abs() < 0.1, "{taken:e}");
    }

    /// Word and figure agree on the spline: a corner moved by what it is allowed leaves the
    /// batten three quarters of its curvature, there and at the frames beside it, to a
    /// thousandth; where only what the eye misses is allowed, a quarter is less than that.
    #[test]
    fn what_is_allowed_changes_the_battens_curvature_by_a_quarter() {
        // Bays of unequal length and a line that straightens aft.
        let xs = [0.0, 400.0, 1000.0, 1500.0, 2100.0, 2500.0, 3100.0];
        let points: Vec<P3> = xs
            .iter()
            .map(|x| P3::new(*x, 700.0 * (x / 2200.0).sin(), 500.0 - 120.0 * (x / 1500.0).sin()))
            .collect();
        let stations: Vec<(usize, f64)> = (1..6).map(|i| (i, xs[i])).collect();
        let fair = sprung(&points, 0, 0.0, View::Plan).expect("a batten");
        let all = of_line(&line(&points), &stations);
        assert_eq!(all.len(), 10);
        let mut quarters = 0;
        for s in &all {
            let i = s.station;
            let mut worst = 0.0f64;
            for by in [s.allowed, -s.allowed] {
                let moved = sprung(&points, i, by, s.view).expect("a batten");
                for j in (i - 1).max(1)..=(i + 1).min(5) {
                    let was = curvature(&fair, s.view, fair.knots()[j]);
                    let is = curvature(&moved, s.view, moved.knots()[j]);
                    worst = worst.max((is / was - 1.0).abs());
                }
            }
            if s.allowed > SEEN_MM {
                quarters += 1;
                assert!((worst - 0.25).abs() < 1e-3, "{s:?} {worst}");
            } else {
                assert!(s.allowed == SEEN_MM && worst >= 0.25, "{s:?} {worst}");
            }
        }
        assert!(quarters >= 5, "{quarters}");
    }
}
