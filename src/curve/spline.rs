//! The C2 cubic spline through ducks in space, parametrised by chord length.
//!
//! A thin batten pinned at the ducks takes very nearly this curve while its slopes stay
//! small (see `tests/it/curves.rs` for how near). By default the ends are not-a-knot: a
//! batten runs past its last duck. At a knuckle the batten is cut and a new one begins.
//!
//! Source of the equations: de Boor, *A Practical Guide to Splines* (1978), chapter IV.

use super::equations::solve_piece;
use crate::geom::{P3, V3};
use crate::tol::SAME_POINT_MM;

/// What the curve does at an end.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum End {
    /// The third derivative is continuous at the neighbouring duck: the batten runs on.
    #[default]
    NotAKnot,
    /// No curvature: the batten ends at its last duck.
    Free,
    /// The curve leaves the end along this direction (any length but zero), pointing the
    /// way in which the curve runs.
    Tangent(V3),
}

/// Position, first and second derivative with respect to the parameter (mm of chord).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jet {
    /// Position, mm.
    pub p: P3,
    /// First derivative; about unit length, since the parameter is chord length.
    pub d1: V3,
    /// Second derivative, 1/mm.
    pub d2: V3,
}

/// Why no spline passes through the given ducks.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SplineError {
    /// Fewer than two ducks say nothing of a line.
    #[error("a line needs at least two ducks, this one has {0}")]
    TooFewDucks(usize),
    /// Two neighbouring ducks at one place leave the batten no way between them.
    #[error("ducks {0} and {1} are at the same place")]
    SamePlace(usize, usize),
    /// A coordinate is not a finite number.
    #[error("duck {0} has a coordinate that is not a number")]
    NotANumber(usize),
    /// An end tangent of no length has no direction.
    #[error("an end tangent has no length")]
    NoTangent,
    /// The equations of the batten have no answer in these numbers: ducks so far apart, or
    /// so unevenly spaced, that they overflow.
    #[error(
        "no batten can be worked out through these ducks: they lie too far apart or too unevenly"
    )]
    NoBatten,
}

/// One cubic piece: p(s) = c0 + c1 s + c2 s² + c3 s³ with s measured from the span's start.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    pub(super) start: f64,
    pub(super) c: [V3; 4],
}

/// A spline through ducks in space. The parameter runs from 0 to [`Spline::end`] (mm).
#[derive(Debug, Clone, PartialEq)]
pub struct Spline {
    knots: Vec<f64>,
    spans: Vec<Span>,
    knuckles: Vec<f64>,
    /// x (mm) at the first duck and at each quarter of each span: where a station is looked for.
    quarters: Vec<f64>,
}

impl Spline {
    /// The spline through `ducks`, broken at each duck whose `knuckle` flag is set (flags
    /// beyond the slice's end, and those of the end ducks, count as not set).
    ///
    /// # Errors
    /// Too few ducks, neighbours at one place, numbers that are none, or ducks through which
    /// no batten can be worked out.
    pub fn through(
        ducks: &[P3],
        knuckle: &[bool],
        start: End,
        end: End,
    ) -> Result<Spline, SplineError> {
        let n = ducks.len();
        if n < 2 {
            return Err(SplineError::TooFewDucks(n));
        }
        if let Some(i) = ducks.iter().position(|p| !p.iter().all(|c| c.is_finite())) {
            return Err(SplineError::NotANumber(i));
        }
        let mut knots = vec![0.0];
        for i in 1..n {
            let chord = (ducks[i] - ducks[i - 1]).norm();
            if chord < SAME_POINT_MM {
                return Err(SplineError::SamePlace(i - 1, i));
            }
            knots.push(knots[i - 1] + chord);
        }
        let cuts: Vec<usize> = std::iter::once(0)
            .chain((1..n - 1).filter(|&i| knuckle.get(i).copied().unwrap_or(false)))
            .chain(std::iter::once(n - 1))
            .collect();
        let mut spans = Vec::with_capacity(n - 1);
        for piece in cuts.windows(2) {
            let (from, to) = (piece[0], piece[1]);
            let first = if from == 0 { start } else { End::NotAKnot };
            let last = if to == n - 1 { end } else { End::NotAKnot };
            solve_piece(&ducks[from..=to], &knots[from..=to], first, last, &mut spans)?;
        }
        let knuckles = cuts[1..cuts.len() - 1].iter().map(|&i| knots[i]).collect();
        let mut spline = Spline { knots, spans, knuckles, quarters: Vec::new() };
        spline.look_ahead();
        Ok(spline)
    }

    /// The parameter of the last duck: the sum of the chords, mm.
    pub fn end(&self) -> f64 {
        self.knots[self.knots.len() - 1]
    }

    /// The parameters of the ducks.
    pub fn knots(&self) -> &[f64] {
        &self.knots
    }

    /// The parameters of the knuckles.
    pub fn knuckles(&self) -> &[f64] {
        &self.knuckles
    }

    /// Notes where the quarters of its spans lie.
    fn look_ahead(&mut self) {
        let quarters = self.knots.windows(2).flat_map(quarters_of);
        self.quarters = std::iter::once(0.0).chain(quarters).map(|t| self.at(t).x).collect();
    }

    /// The point at parameter `t`; outside the ducks the end's tangent and curvature run on.
    #[inline]
    pub fn at(&self, t: f64) -> P3 {
        if !(0.0 <= t && t <= self.end()) {
            return self.jet(t).p;
        }
        let span = &self.spans[self.span_at(t)];
        let s = t - span.start;
        let [c0, c1, c2, c3] = span.c;
        P3::from(c0 + s * (c1 + s * (c2 + s * c3)))
    }

    /// The span in which `t` lies; at a knot, the one after it.
    #[inline]
    fn span_at(&self, t: f64) -> usize {
        let last = self.spans.len() - 1;
        self.knots[1..=last].iter().position(|&k| t < k).unwrap_or(last)
    }

    /// Position and derivatives at `t`; at a knuckle, those of the piece after it. Outside
    /// the ducks the curve runs on as the parabola of the end's tangent and curvature.
    #[inline]
    pub fn jet(&self, t: f64) -> Jet {
        self.jet_in(self.span_at(t), t)
    }

    /// As [`Spline::jet`], but at a duck those of the piece before it.
    pub fn jet_before(&self, t: f64) -> Jet {
        let last = self.spans.len() - 1;
        let i = self.knots[1..=last].iter().position(|&k| t <= k).unwrap_or(last);
        self.jet_in(i, t)
    }

    /// Position and first derivative at `t`, as [`Spline::jet`] has them.
    #[inline]
    pub fn place(&self, t: f64) -> (P3, V3) {
        if !(0.0 <= t && t <= self.end()) {
            let jet = self.jet(t);
            return (jet.p, jet.d1);
        }
        let span = &self.spans[self.span_at(t)];
        let s = t - span.start;
        let [c0, c1, c2, c3] = span.c;
        let p = c0 + s * (c1 + s * (c2 + s * c3));
        (P3::from(p), c1 + s * (2.0 * c2 + 3.0 * s * c3))
    }

    #[inline]
    fn jet_in(&self, i: usize, t: f64) -> Jet {
        let span = &self.spans[i];
        let inside = t.clamp(0.0, self.end());
        let s = inside - span.start;
        let [c0, c1, c2, c3] = span.c;
        let d2 = 2.0 * c2 + 6.0 * s * c3;
        let d1 = c1 + s * (2.0 * c2 + 3.0 * s * c3);
        let p = c0 + s * (c1 + s * (c2 + s * c3));
        let over = t - inside;
        Jet { p: P3::from(p + over * (d1 + 0.5 * over * d2)), d1: d1 + over * d2, d2 }
    }

    /// The parameter at which the curve passes through the plane x = `x` (mm), if it does;
    /// the first one from the bow.
    pub fn parameter_at_x(&self, x: f64) -> Option<f64> {
        let f = |t: f64| self.at(t).x - x;
        // A span of a fair line crosses a station once; four places guard a steep one.
        let mut before = (0.0, self.quarters[0] - x);
        for (span, places) in self.knots.windows(2).zip(self.quarters[1..].chunks(4)) {
            for (t, place) in quarters_of(span).into_iter().zip(places) {
                let here = (t, place - x);
                if let Some(root) = crate::geom::roots::bracketed(f, before, here, 1e-9) {
                    return Some(root.x);
                }
                before = here;
            }
        }
        None
    }

    /// The curve carried by p ↦ `linear` p + `shift`, with the same parameter (which is then
    /// no longer its chord length).
    pub fn mapped(&self, linear: &nalgebra::Matrix3<f64>, shift: V3) -> Spline {
        let mut carried = self.clone();
        for span in &mut carried.spans {
            for c in &mut span.c {
                *c = linear * *c;
            }
            span.c[0] += shift;
        }
        carried.look_ahead();
        carried
    }
}

/// The parameters of a span's quarters, from the first to its end.
fn quarters_of(knots: &[f64]) -> [f64; 4] {
    let (from, to) = (knots[0], knots[1]);
    [1.0, 2.0, 3.0, 4.0].map(|k| from + (to - from) * k / 4.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Natural splines with unit knots: exact second derivatives, solved by hand from the
    /// tridiagonal equations (fractions over 5, 7).
    #[test]
    fn natural_spline_has_the_second_derivatives_of_the_hand_solution() {
        // Knots are chord lengths, so take x steps that make each chord 1 along x with a
        // tiny rise scaled down: the equations are linear in the rise.
        let rise = 1e-7;
        let at = |values: &[f64]| -> Vec<P3> {
            values.iter().enumerate().map(|(i, v)| P3::new(i as f64, 0.0, v * rise)).collect()
        };
        let m = |values: &[f64]| -> Vec<f64> {
            let ducks = at(values);
            let s = Spline::through(&ducks, &[], End::Free, End::Free).expect("good ducks");
            s.knots().iter().map(|&t| s.jet(t).d2.z / rise).collect()
        };
        let near = |got: Vec<f64>, want: &[f64]| {
            for (g, w) in got.iter().zip(want) {
                assert!((g - w).abs() < 1e-5, "{g} {w}");
            }
        };
        near(m(&[0.0, 1.0, 0.0]), &[0.0, -3.0, 0.0]);
        near(m(&[0.0, 1.0, 1.0, 0.0]), &[0.0, -6.0 / 5.0, -6.0 / 5.0, 0.0]);
        near(m(&[0.0, 1.0, 0.0, 1.0, 0.0]), &[0.0, -30.0 / 7.0, 36.0 / 7.0, -30.0 / 7.0, 0.0]);
    }

    #[test]
    fn not_a_knot_reproduces_a_cubic_and_runs_past_its_end() {
        let cubic = |x: f64| P3::new(x, 0.0, 1e-9 * x * x * x - 1e-6 * x * x);
        let ducks: Vec<P3> = [0.0, 300.0, 700.0, 1200.0, 1500.0].map(cubic).into();
        let s = Spline::through(&ducks, &[], End::NotAKnot, End::NotAKnot).expect("good ducks");
        for t in [100.0, 800.0, 1400.0] {
            let p = s.at(t);
            // The parameter is chord length, not x, so the cubic is met closely, not exactly.
            assert!((p.z - cubic(p.x).z).abs() < 1e-3, "{}", p.z - cubic(p.x).z);
        }
    }

    #[test]
    fn a_knuckle_breaks_the_slope_and_nothing_else() {
        let ducks =
            [P3::new(0.0, 0.0, 0.0), P3::new(1000.0, 300.0, 0.0), P3::new(2000.0, 300.0, 0.0)];
        let s = Spline::through(&ducks, &[false, true, false], End::NotAKnot, End::NotAKnot)
            .expect("good ducks");
        let t = s.knuckles()[0];
        assert!((s.jet(t).p - s.jet_before(t).p).norm() < 1e-12);
        assert!((s.jet(t).d1.y).abs() < 1e-12);
        assert!(s.jet_before(t).d1.y > 0.2);
    }

    #[test]
    fn faults_name_the_duck() {
        let p = P3::new(1.0, 2.0, 3.0);
        let through = |d: &[P3]| Spline::through(d, &[], End::Free, End::Free);
        assert_eq!(through(&[p]), Err(SplineError::TooFewDucks(1)));
        assert_eq!(through(&[P3::origin(), p, p]), Err(SplineError::SamePlace(1, 2)));
        let nan = P3::new(f64::NAN, 0.0, 0.0);
        assert_eq!(through(&[p, nan]), Err(SplineError::NotANumber(1)));
    }
}
