//! How the edge of a part is set out in place with tape, square, compass and batten: its corners
//! in turn, places on its curves at round numbers along or across the sheet, and its rounds by
//! radius and middle.

use crate::flat::batten::Batten;
use crate::flat::corners::{Round, Run, runs, thinned_line};
use crate::geom::P2;
use crate::geom::polyline::area;
use crate::geom::segment::{from_polyline, from_segment};
use crate::units::{MM_PER_INCH, Units};

/// A batten bent through the figures of a curve strays from it by no more than this, mm, where
/// figures are fine enough: half of a pencil's line. An edge that keeps this near to the straight
/// line between its corners is straight.
pub(super) const WITHIN_MM: f64 = 0.5;
/// What is left of that for the rounding of figures, mm: a batten through exact ones strays less.
const UNROUNDED_MM: f64 = 0.25;
/// Figures of one part beyond which its own pattern is the better way to it: more than are read
/// off without losing the place. Our judgement, no source.
const MOST_POINTS: usize = 40;
/// Places on a curve are so far apart, in tens of millimetres or half inches, the widest first.
const STEPS: [f64; 8] = [40.0, 20.0, 10.0, 5.0, 4.0, 2.0, 1.0, 0.5];
/// A place nearer to a corner than this share of the step is left to the corner.
const TOO_NEAR: f64 = 0.3;
/// An outline goes back along the sheet by less than this, mm, and still runs one way.
const BACK_MM: f64 = 0.02;
/// A round is drawn in pieces that turn by no more than this, radians, and no longer than this,
/// mm; alike ones turn alike to this share, and all lie on it to this, mm.
const ROUND_TURN: f64 = 0.45;
const LEAST_TURN: f64 = 0.04;
const ROUND_PIECE_MM: f64 = 25.0;
const ALIKE: f64 = 0.25;
const ON_ROUND_MM: f64 = 0.1;

/// One step along an edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Step {
    /// A corner, mm on the sheet.
    Corner(P2),
    /// A place on the curve to the next corner, mm on the sheet.
    Curve(P2),
    /// The edge to the next corner is round, mm on the sheet.
    Round(Round),
}

/// The edge of a part, all round.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct SetOut {
    /// Anticlockwise, from the corner that is nearest to the sheet's.
    pub(super) steps: Vec<Step>,
    /// Furthest that a batten through the figures of a curve, as they are printed, strays from
    /// it, mm; `None` where no curve is given by places on it.
    pub(super) strays: Option<f64>,
}

impl SetOut {
    /// That of a closed `outline`, mm on the sheet, with figures in `units`.
    pub(super) fn of(outline: &[P2], units: Units) -> SetOut {
        let mut ring = outline.to_vec();
        if area(&ring) < 0.0 {
            ring.reverse();
        }
        let mut found = runs(&ring, &rounds(&ring));
        let off = |r: &Run| ring[r.points[0]].coords.norm();
        let first = (0..found.len()).min_by(|a, b| off(&found[*a]).total_cmp(&off(&found[*b])));
        found.rotate_left(first.unwrap_or(0));
        let mut out = SetOut::default();
        for run in &found {
            let points: Vec<P2> = run.points.iter().map(|i| ring[*i]).collect();
            out.steps.push(Step::Corner(points[0]));
            if let Some(round) = run.round {
                out.steps.push(Step::Round(round));
            } else if bowed(&points) > WITHIN_MM {
                match curve(&points, units) {
                    Some((places, strays)) => {
                        out.steps.extend(places.into_iter().map(Step::Curve));
                        out.strays = Some(out.strays.unwrap_or(0.0).max(strays));
                    }
                    // What no batten takes is straight from corner to corner.
                    None => out.steps.extend(knuckles(&points).map(Step::Corner)),
                }
            }
        }
        out
    }

    /// Its corners in turn.
    pub(super) fn corners(&self) -> impl Iterator<Item = P2> + '_ {
        self.steps.iter().filter_map(|s| match s {
            Step::Corner(p) => Some(*p),
            Step::Curve(_) | Step::Round(_) => None,
        })
    }

    /// Whether its pattern is the better way to it.
    pub(super) fn is_too_long(&self) -> bool {
        self.steps.len() > MOST_POINTS
    }
}

/// How far a line leaves the straight one between its ends, mm.
fn bowed(points: &[P2]) -> f64 {
    let (Some(a), Some(b)) = (points.first(), points.last()) else {
        return 0.0;
    };
    points.iter().map(|p| from_segment(*p, *a, *b)).fold(0.0, f64::max)
}

/// Places on a curve between two corners, as few as keep a batten through them near it, and how
/// far the batten through their printed figures strays; `None` where no batten goes that way.
fn curve(points: &[P2], units: Units) -> Option<(Vec<P2>, f64)> {
    let unit = if units.imperial() { 0.5 * MM_PER_INCH } else { 10.0 };
    // Coarse figures stray by half of their step whatever the places.
    let allowed = WITHIN_MM.max(UNROUNDED_MM + 0.5 * units.half_step());
    let mut best: Option<(Vec<P2>, f64)> = None;
    for (step, ends) in STEPS.iter().flat_map(|s| [(s * unit, false), (s * unit, true)]) {
        let Some(places) = at_round_numbers(points, step, ends) else { break };
        if places.len() > MOST_POINTS {
            break;
        }
        let exact = strays(points, &places, |p| p);
        let Some(printed) = strays(points, &places, |p| rounded(p, units)) else { continue };
        if exact.is_none_or(|e| e > UNROUNDED_MM) {
            continue;
        }
        if best.as_ref().is_none_or(|(_, least)| printed < *least) {
            best = Some((places, printed));
        }
        if printed <= allowed {
            break;
        }
    }
    best
}

/// Corners between two others that keep straight pieces as near to the line as straight edges are.
fn knuckles(points: &[P2]) -> impl Iterator<Item = P2> {
    let kept = thinned_line(points, WITHIN_MM);
    let between = kept.len().saturating_sub(2);
    kept.into_iter().skip(1).take(between)
}

/// Where a line crosses multiples of `step` mm, along the sheet where it runs more along it, else
/// across; with `ends` those of half of it too before the first and behind the last, since a
/// batten's own ends are straight. `None` where it turns back.
fn at_round_numbers(points: &[P2], step: f64, ends: bool) -> Option<Vec<P2>> {
    let places = crossings(points, step)?;
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        return Some(places);
    };
    if !ends {
        return Some(places);
    }
    let along = (points.last()? - points.first()?).normalize();
    let at = |p: &P2| p.coords.dot(&along);
    let (first, last) = (at(first), at(last));
    let halves = crossings(points, 0.5 * step)?;
    let near = |p: &&P2| at(p) < first - 1e-9 || at(p) > last + 1e-9;
    let mut out: Vec<P2> = halves.iter().filter(near).copied().chain(places).collect();
    out.sort_by(|p, q| at(p).total_cmp(&at(q)));
    Some(out)
}

/// Where a line crosses multiples of `step` mm along it, from corner to corner, off both.
fn crossings(points: &[P2], step: f64) -> Option<Vec<P2>> {
    let (a, b) = (*points.first()?, *points.last()?);
    let axis = usize::from((b - a).y.abs() > (b - a).x.abs());
    let way = (b[axis] - a[axis]).signum();
    let mut out = Vec::new();
    for w in points.windows(2) {
        let long = way * (w[1][axis] - w[0][axis]);
        if long < -BACK_MM {
            return None;
        }
        if long <= 0.0 {
            continue;
        }
        let (from, to) = (w[0][axis].min(w[1][axis]), w[0][axis].max(w[1][axis]));
        let (first, last) = ((from / step).ceil() as i64, (to / step).floor() as i64);
        let mut within: Vec<P2> = (first..=last)
            .map(|k| {
                w[0] + (k as f64 * step - w[0][axis]) / (w[1][axis] - w[0][axis]) * (w[1] - w[0])
            })
            .collect();
        if way < 0.0 {
            within.reverse();
        }
        out.extend(within);
    }
    let far = |p: &P2| (p - a).norm().min((p - b).norm()) >= TOO_NEAR * step;
    out.retain(far);
    out.dedup_by(|p, q| (*p - *q).norm() < TOO_NEAR * step);
    Some(out)
}

/// A place as the figures of a curve have it, mm.
fn rounded(p: P2, units: Units) -> P2 {
    let step = units.half_step();
    P2::new((p.x / step).round() * step, (p.y / step).round() * step)
}

/// How far a batten through the corners of a curve and places on it, each `as_given`, strays
/// from the curve, mm; `None` where no batten goes that way.
fn strays(points: &[P2], places: &[P2], as_given: impl Fn(P2) -> P2) -> Option<f64> {
    let (a, b) = (*points.first()?, *points.last()?);
    let nails: Vec<P2> =
        std::iter::once(a).chain(places.iter().copied()).chain([b]).map(as_given).collect();
    Some(apart(points, Batten::through(&nails)?.points()))
}

/// How far two lines are apart where they are furthest, mm.
fn apart(a: &[P2], b: &[P2]) -> f64 {
    let off = |p: &[P2], q: &[P2]| p.iter().map(|p| from_polyline(*p, q)).fold(0.0, f64::max);
    off(a, b).max(off(b, a))
}

/// The circles that parts of an outline lie on: bored holes and rounded corners.
fn rounds(ring: &[P2]) -> Vec<Round> {
    let n = ring.len();
    let at = |i: usize| ring[i % n];
    let turn = |i: usize| {
        let (a, b) = (at(i + n) - at(i + n - 1), at(i + 1) - at(i));
        a.perp(&b).atan2(a.dot(&b))
    };
    let alike = |i: usize| {
        let (t, u) = (turn(i), turn(i + 1));
        let short = (at(i + 1) - at(i)).norm() < ROUND_PIECE_MM;
        let turns = (LEAST_TURN..ROUND_TURN).contains(&t.abs());
        short && turns && (u - t).abs() < ALIKE * t.abs()
    };
    let mut out: Vec<Round> = Vec::new();
    for i in (0..n).filter(|i| alike(*i) && alike(i + 1)) {
        let Some(round) = through(at(i), at(i + 1), at(i + 2)) else { continue };
        let known = |r: &Round| (r.centre - round.centre).norm() < 2.0 * ON_ROUND_MM;
        let fourth = ((at(i + 3) - round.centre).norm() - round.radius).abs() < ON_ROUND_MM;
        if fourth && !out.iter().any(known) {
            out.push(round);
        }
    }
    out
}

/// The circle through three points.
fn through(a: P2, b: P2, c: P2) -> Option<Round> {
    let (u, v) = (b - a, c - a);
    let d = 2.0 * u.perp(&v);
    if d.abs() < 1e-9 {
        return None;
    }
    let (uu, vv) = (u.norm_squared(), v.norm_squared());
    let to = crate::geom::V2::new(v.y * uu - u.y * vv, u.x * vv - v.x * uu) / d;
    Some(Round { centre: a + to, radius: to.norm() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::V2;

    fn at(x: f64, y: f64) -> P2 {
        P2::new(x, y)
    }

    /// A board 600 by 300 with a cut-out of 200 by 100 with round corners in its upper edge, drawn
    /// either way about: six corners of the board and cut-out, and both arcs by their radius and
    /// middle, as they were drawn.
    #[test]
    fn a_cut_out_is_set_out_by_its_radius_and_middle() {
        let arc = |centre: P2, from: f64| {
            (0..=16).map(move |i| {
                let a = from - std::f64::consts::FRAC_PI_2 * f64::from(i) / 16.0;
                centre + 30.0 * V2::new(a.cos(), a.sin())
            })
        };
        let mut ring = vec![at(0.0, 0.0), at(600.0, 0.0), at(600.0, 300.0), at(400.0, 300.0)];
        ring.extend(arc(at(370.0, 230.0), 0.0));
        ring.extend(arc(at(230.0, 230.0), 1.5 * std::f64::consts::PI));
        ring.extend([at(200.0, 300.0), at(0.0, 300.0)]);
        let turned: Vec<P2> = ring.iter().rev().copied().collect();
        for ring in [ring, turned] {
            let edge = SetOut::of(&ring, Units::Mm);
            let corners: Vec<P2> = edge.corners().collect();
            let wanted = [
                (0., 0.),
                (600., 0.),
                (600., 300.),
                (400., 300.),
                (400., 230.),
                (370., 200.),
                (230., 200.),
                (200., 230.),
                (200., 300.),
                (0., 300.),
            ];
            assert_eq!(corners.len(), wanted.len(), "{corners:?}");
            for (p, q) in corners.iter().zip(wanted) {
                assert!((p - at(q.0, q.1)).norm() < 1e-6, "{corners:?}");
            }
            let rounds: Vec<Round> = edge
                .steps
                .iter()
                .filter_map(|s| if let Step::Round(r) = s { Some(*r) } else { None })
                .collect();
            assert_eq!(rounds.len(), 2, "{rounds:?}");
            for (r, x) in rounds.iter().zip([370.0, 230.0]) {
                assert!((r.centre - at(x, 230.0)).norm() < 1e-6 && (r.radius - 30.0).abs() < 1e-6);
            }
            assert_eq!(edge.strays, None);
        }
    }

    /// A sheer 2 m long as an arc of 6 m radius, the part lying a little askew: the places are at
    /// whole steps along the sheet, and an own batten (a cubic spline with free ends through the
    /// printed figures; slopes are small) keeps to the arc as the part says.
    #[test]
    fn a_batten_through_the_figures_of_a_curve_keeps_to_it() {
        for units in [Units::Mm, Units::InchFraction, Units::FeetInchesEighths] {
            let (r, askew) = (6000.0_f64, 0.03_f64);
            let arc = |i: i32| {
                let a = (f64::from(i) - 50.0) / 50.0 * (1000.0 / r);
                let (x, y) = (1000.0 + r * a.sin(), 400.0 + r * (a.cos() - 1.0));
                at(7.0 + x * askew.cos() - y * askew.sin(), 9.0 + x * askew.sin() + y * askew.cos())
            };
            let top: Vec<P2> = (0..=100).rev().map(arc).collect();
            let mut ring = vec![at(30.0, 40.0), at(2010.0, 60.0)];
            ring.extend(&top);
            let edge = SetOut::of(&ring, units);
            let told = edge.strays.expect("a curve");
            let places: Vec<P2> = edge
                .steps
                .iter()
                .filter_map(|s| if let Step::Curve(p) = s { Some(*p) } else { None })
                .collect();
            assert!((3..=12).contains(&places.len()), "{places:?}");
            let unit = if units.imperial() { 12.7 } else { 10.0 };
            assert!(places.iter().all(|p| (p.x / unit - (p.x / unit).round()).abs() < 1e-9));
            let mut nails = vec![top[0]];
            nails.extend(&places);
            nails.push(top[100]);
            let nails: Vec<P2> = nails.iter().rev().map(|p| rounded(*p, units)).collect();
            let spline = natural_spline(&nails);
            let centre = {
                let (x, y) = (1000.0, 400.0 - r);
                at(7.0 + x * askew.cos() - y * askew.sin(), 9.0 + x * askew.sin() + y * askew.cos())
            };
            let off = spline.iter().map(|p| ((p - centre).norm() - r).abs()).fold(0.0, f64::max);
            assert!((off - told).abs() < 0.1, "{units:?}: {off} mm, told {told}");
            let allowed = WITHIN_MM.max(UNROUNDED_MM + 0.5 * units.half_step());
            assert!(told <= allowed, "{units:?}: {told}");
        }
    }

    /// A cubic spline y(x) with free ends, in 40 pieces a span.
    fn natural_spline(nails: &[P2]) -> Vec<P2> {
        let n = nails.len();
        let h: Vec<f64> = nails.windows(2).map(|w| w[1].x - w[0].x).collect();
        let mut a = nalgebra::DMatrix::<f64>::identity(n, n);
        let mut b = nalgebra::DVector::<f64>::zeros(n);
        for i in 1..n - 1 {
            a[(i, i - 1)] = h[i - 1];
            a[(i, i)] = 2.0 * (h[i - 1] + h[i]);
            a[(i, i + 1)] = h[i];
            let slope = |k: usize| (nails[k + 1].y - nails[k].y) / h[k];
            b[i] = 6.0 * (slope(i) - slope(i - 1));
        }
        let m = a.lu().solve(&b).expect("a spline");
        let mut out = Vec::new();
        for i in 0..n - 1 {
            for k in 0..=40 {
                let t = h[i] * f64::from(k) / 40.0;
                let u = h[i] - t;
                let y = m[i] * u.powi(3) / (6.0 * h[i])
                    + m[i + 1] * t.powi(3) / (6.0 * h[i])
                    + (nails[i].y / h[i] - m[i] * h[i] / 6.0) * u
                    + (nails[i + 1].y / h[i] - m[i + 1] * h[i] / 6.0) * t;
                out.push(at(nails[i].x + t, y));
            }
        }
        out
    }

    /// Blocks that differ by a hair have as many figures: an edge is straight that keeps half a
    /// millimetre to its chord, and a curve where it does not, whatever the next block's has.
    #[test]
    fn an_edge_is_straight_or_a_curve_by_one_measure() {
        let block = |bow: f64| {
            let mut ring = vec![at(0.0, 0.0), at(200.0, 0.0)];
            ring.extend((0..=20).map(|i| {
                let t = f64::from(i) / 20.0;
                at(200.0 - 200.0 * t, 100.0 + 4.0 * bow * t * (1.0 - t))
            }));
            SetOut::of(&ring, Units::Mm)
        };
        assert_eq!(block(0.45).steps.len(), 4);
        assert_eq!(block(0.45).strays, None);
        let counts: Vec<usize> = [0.7, 0.95, 1.05].map(|b| block(b).steps.len()).to_vec();
        assert!(counts[0] > 4 && counts.windows(2).all(|w| w[0] == w[1]), "{counts:?}");
    }
}
