//! How far out a frame may stand before the skin shows it.
//!
//! A line's bend at a frame is how far its corner stands from the straight line between the
//! corners of the two frames beside it. A corner that is out by d changes its own bend by d,
//! and its neighbours' by their share of the chord (half, where bays are equal). Where a
//! bend changes by a quarter of itself or more, and by more than [`SEEN_MM`], an eye along
//! the batten sees a flat or a hump: that is how far out a frame may be (our judgement, no
//! source). What 3 mm do to the radius is found by springing a batten, the spline through
//! all corners, with that one moved.

use crate::curve::{End, Spline, View};
use crate::geom::P3;
use crate::hull::HullLine;

/// A change of bend that an eye cannot see, mm. Our judgement; no source.
pub const SEEN_MM: f64 = 1.0;
/// The share by which a bend may change. Our judgement; no source.
pub const SEEN_SHARE: f64 = 0.25;
/// The error that the builder is told about, mm.
pub const OUT_BY_MM: f64 = 3.0;

/// What a frame that is out does to one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// Station of the frame, from 1.
    pub station: usize,
    /// The line.
    pub line: String,
    /// Plan: the frame is out sideways. Profile: it is high or low.
    pub view: View,
    /// How far out it may be before it shows, mm.
    pub allowed: f64,
    /// The line's bend there over the two bays beside it, mm.
    pub bend: f64,
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
    let mut out = Vec::new();
    for (i, (station, _)) in passed.iter().enumerate() {
        for view in [View::Plan, View::Profile] {
            // The keel cannot be out sideways: the string holds it.
            if view == View::Plan && points.iter().all(|p| p.y == 0.0) {
                continue;
            }
            let at = i + 1;
            let own = curvature(&fair, view, fair.knots()[at]);
            // The worse way is the one that flattens it: against its curvature, which is
            // positive where the line is hollow from above.
            let by = OUT_BY_MM * if own >= 0.0 { 1.0 } else { -1.0 };
            let when_out =
                sprung(&points, at, by, view).map_or(own, |s| curvature(&s, view, s.knots()[at]));
            let radius = |k: f64| if k == 0.0 { f64::INFINITY } else { 1.0 / k };
            out.push(Sensitivity {
                station: *station,
                line: line.name.clone(),
                view,
                allowed: allowed(&points, at, view),
                bend: bend(&points, at, view).0,
                radius: radius(own.abs()),
                radius_when_out: radius(when_out * own.signum()),
            });
        }
    }
    out
}

/// The bend at point `j` (mm, unsigned) and the weights of its neighbours in it.
fn bend(points: &[P3], j: usize, view: View) -> (f64, [f64; 2]) {
    let at = |i: usize| view.flatten(points[i].coords);
    let (a, b, c) = (at(j - 1), at(j), at(j + 1));
    let share = (b.x - a.x) / (c.x - a.x);
    ((b.y - (a.y + share * (c.y - a.y))).abs(), [1.0 - share, share])
}

/// How far point `i` may be out before its own bend or a neighbour's shows it, mm.
fn allowed(points: &[P3], i: usize, view: View) -> f64 {
    let room = |j: usize| SEEN_SHARE * bend(points, j, view).0 + SEEN_MM;
    let mut least = room(i);
    if i > 1 {
        least = least.min(room(i - 1) / bend(points, i - 1, view).1[1]);
    }
    if i + 2 < points.len() {
        least = least.min(room(i + 1) / bend(points, i + 1, view).1[0]);
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::ArcTable;

    fn line(points: &[P3]) -> HullLine {
        let spline = Spline::through(points, &[], End::NotAKnot, End::NotAKnot).expect("points");
        HullLine { name: "sheer".into(), arc: ArcTable::of(&spline), spline, derived: false }
    }

    fn amidships(points: &[P3]) -> Sensitivity {
        let stations: Vec<(usize, f64)> = (1..6).map(|i| (i, 500.0 * i as f64)).collect();
        let all = of_line(&line(points), &stations);
        all.into_iter().find(|s| s.station == 3 && s.view == View::Plan).expect("amidships")
    }

    /// Seven corners 500 mm apart. On a straight line nothing but what the eye misses may
    /// be out, 1 mm. On a parabola y = x²/6000 the bend over two bays is 500²/6000 =
    /// 41.67 mm, so 0.25 × 41.67 + 1 = 11.42 mm may be. Its radius there is 3000 mm; by the
    /// three-moment equation of a continuous beam a settlement of one support of many
    /// changes the curvature there by 6 (√3 − 1) d / h² = 4.39 d / h² (h the bays), so that
    /// 3 mm take 5.3e-5 from 33.3e-5.
    #[test]
    fn corners_of_a_straight_and_of_a_bent_line() {
        let at = |y: &dyn Fn(f64) -> f64| -> Vec<P3> {
            (0..7).map(|i| 500.0 * f64::from(i)).map(|x| P3::new(x, y(x), 400.0)).collect()
        };
        let straight = amidships(&at(&|_| 600.0));
        assert!((straight.allowed - 1.0).abs() < 1e-9 && straight.bend == 0.0);
        let bent = amidships(&at(&|x| 900.0 - (x - 1500.0).powi(2) / 6000.0));
        assert!((bent.bend - 500.0f64.powi(2) / 6000.0).abs() < 1e-9);
        assert!((bent.allowed - 11.4167).abs() < 1e-3);
        assert!((bent.radius / 3000.0 - 1.0).abs() < 1e-2, "{}", bent.radius);
        let taken = 1.0 / bent.radius - 1.0 / bent.radius_when_out;
        assert!((taken / 5.3e-5 - 1.0).abs() < 0.1, "{taken:e}");
    }
}
