//! A batten sprung through marks: the curve of a thin elastic strip.
//!
//! Between two nails the strip is free to slide, so no force runs along it, and its
//! curvature κ obeys κ″ = −κ³/2 over its length: the free elastica. At a nail its direction
//! and its curvature run on; at either end it is straight, as nothing bends it there. Big
//! slopes are no trouble, as nothing is measured from a base line.
//!
//! Source: Euler's elastica with the length left free, as in Birkhoff and de Boor,
//! "Piecewise polynomial interpolation and approximation" (1965), on nonlinear splines.

use crate::geom::{P2, V2};

/// Steps of integration along a span while it is being fitted: Runge and Kutta's fourth
/// order leaves under a millionth of a span that turns by half a right angle.
const STEPS: usize = 12;
/// Points by which a fitted span is given: chords of a span 0.6 m long that turns by a
/// quarter of a right angle stay within 0.02 mm of it.
const SAMPLES: usize = 32;
/// Turns of the fit before it is given up; a span that turns by half a right angle takes
/// about ten.
const MOST_TURNS: usize = 60;
/// Directions at the nails settle to this (radians): a ten-thousandth of a millimetre over
/// a metre.
const SETTLED: f64 = 1e-7;
/// A strip that leaves the straight line between two nails by more than this (radians) is
/// not laid through them: it would spring off.
const MOST_SLOPE: f64 = 1.2;

/// A batten laid through nails.
#[derive(Debug, Clone, PartialEq)]
pub struct Batten {
    points: Vec<P2>,
    spans: usize,
}

/// One span seen from its own chord: its curvature at the start, how that changes, its
/// length.
#[derive(Debug, Clone, Copy)]
struct Span {
    length: f64,
    bent: f64,
    change: f64,
    along: f64,
}

impl Batten {
    /// The strip through `nails` (mm), its ends free; `None` for fewer than two nails, two
    /// at one place, or a way that no strip takes.
    pub fn through(nails: &[P2]) -> Option<Batten> {
        let n = nails.len();
        if n < 2 {
            return None;
        }
        let mut lengths = Vec::with_capacity(n - 1);
        let mut ways: Vec<f64> = Vec::with_capacity(n - 1);
        for w in nails.windows(2) {
            let chord = w[1] - w[0];
            if chord.norm() <= crate::tol::SAME_POINT_MM {
                return None;
            }
            lengths.push(chord.norm());
            let way = chord.y.atan2(chord.x);
            // Directions run on without a jump of a whole turn.
            let turn = std::f64::consts::TAU;
            let before = ways.last().copied().unwrap_or(way);
            ways.push(way - turn * ((way - before) / turn).round());
        }
        let mut at: Vec<f64> = (0..n)
            .map(|i| match i {
                0 => ways[0],
                i if i == n - 1 => ways[n - 2],
                i => 0.5 * (ways[i - 1] + ways[i]),
            })
            .collect();
        let mut spans: Vec<Span> = lengths
            .iter()
            .map(|l| Span { length: *l, bent: 0.0, change: 0.0, along: *l })
            .collect();
        for _ in 0..MOST_TURNS {
            let mut ends = Vec::with_capacity(n - 1);
            for (i, span) in spans.iter_mut().enumerate() {
                let (a, b) = (at[i] - ways[i], at[i + 1] - ways[i]);
                if a.abs() > MOST_SLOPE || b.abs() > MOST_SLOPE {
                    return None;
                }
                ends.push((span.bent_to(a, b)?, span.bent));
            }
            let moved = settle(&lengths, &ends);
            for (a, d) in at.iter_mut().zip(&moved) {
                *a += d;
            }
            if moved.iter().all(|d| d.abs() < SETTLED) {
                return Some(Batten::sampled(nails, &ways, &at, &spans));
            }
        }
        None
    }

    fn sampled(nails: &[P2], ways: &[f64], at: &[f64], spans: &[Span]) -> Batten {
        let mut points = vec![nails[0]];
        for (i, span) in spans.iter().enumerate() {
            let (sin, cos) = ways[i].sin_cos();
            let (along, up) = (V2::new(cos, sin), V2::new(-sin, cos));
            let mut state = [0.0, 0.0, at[i] - ways[i], span.bent, span.change];
            for _ in 1..SAMPLES {
                state = step(state, span.along / SAMPLES as f64);
                points.push(nails[i] + state[0] * along + state[1] * up);
            }
            points.push(nails[i + 1]);
        }
        Batten { points, spans: spans.len() }
    }

    /// The curve as straight pieces, mm.
    pub fn points(&self) -> &[P2] {
        &self.points
    }

    /// How many spans it has: one fewer than nails.
    pub fn spans(&self) -> usize {
        self.spans
    }

    /// The piece between nails `i` and `i + 1`, both included.
    pub fn span(&self, i: usize) -> &[P2] {
        &self.points[i * SAMPLES..=(i + 1) * SAMPLES]
    }
}

/// Corrections of the directions at the nails that take the jumps of curvature away as far
/// as a strip with small slopes goes; `ends` holds each span's curvature at its end and at
/// its start.
fn settle(lengths: &[f64], ends: &[(f64, f64)]) -> Vec<f64> {
    let n = lengths.len() + 1;
    let (mut low, mut mid, mut high) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
    let mut right = vec![0.0; n];
    for (i, l) in lengths.iter().enumerate() {
        mid[i] += 4.0 / l;
        high[i] = 2.0 / l;
        low[i + 1] = 2.0 / l;
        mid[i + 1] += 4.0 / l;
        right[i] += ends[i].1;
        right[i + 1] -= ends[i].0;
    }
    // Three bands, larger in the middle: elimination needs no exchange of rows.
    for i in 1..n {
        let f = low[i] / mid[i - 1];
        mid[i] -= f * high[i - 1];
        right[i] -= f * right[i - 1];
    }
    for i in (0..n).rev() {
        let next = if i + 1 < n { high[i] * right[i + 1] } else { 0.0 };
        right[i] = (right[i] - next) / mid[i];
    }
    right
}

/// x, y, direction, curvature and its change, `h` mm further along a free elastica.
fn step(s: [f64; 5], h: f64) -> [f64; 5] {
    let slope = |s: [f64; 5]| {
        let (sin, cos) = s[2].sin_cos();
        [cos, sin, s[3], s[4], -0.5 * s[3].powi(3)]
    };
    let plus = |k: [f64; 5], by: f64| std::array::from_fn(|i| s[i] + by * k[i]);
    let k1 = slope(s);
    let k2 = slope(plus(k1, 0.5 * h));
    let k3 = slope(plus(k2, 0.5 * h));
    let k4 = slope(plus(k3, h));
    std::array::from_fn(|i| s[i] + h / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]))
}

impl Span {
    fn end(&self, start: f64) -> [f64; 5] {
        let mut state = [0.0, 0.0, start, self.bent, self.change];
        for _ in 0..STEPS {
            state = step(state, self.along / STEPS as f64);
        }
        state
    }

    /// Bends the span until it leaves its chord at `a` and comes back to the chord's end at
    /// `b` (radians); returns its curvature there.
    fn bent_to(&mut self, a: f64, b: f64) -> Option<f64> {
        let l = self.length;
        for _ in 0..MOST_TURNS {
            let end = self.end(a);
            let miss = nalgebra::Vector3::new((end[0] - l) / l, end[1] / l, end[2] - b);
            if miss.amax() < 0.01 * SETTLED {
                return Some(end[3]);
            }
            // What a little more of each of the three changes, all at the scale of the span.
            let little = 1e-6;
            let mut change = nalgebra::Matrix3::zeros();
            for (j, by) in [little / l, little / (l * l), little * l].into_iter().enumerate() {
                let mut other = *self;
                match j {
                    0 => other.bent += by,
                    1 => other.change += by,
                    _ => other.along += by,
                }
                let e = other.end(a);
                change[(0, j)] = (e[0] - end[0]) / l / little;
                change[(1, j)] = (e[1] - end[1]) / l / little;
                change[(2, j)] = (e[2] - end[2]) / little;
            }
            let by = change.lu().solve(&miss)?;
            self.bent -= by[0] / l;
            self.change -= by[1] / (l * l);
            self.along -= by[2] * l;
            if !(0.5 * l..4.0 * l).contains(&self.along) {
                return None;
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A free batten over three pins whose middle one rises by a tenth of the half span has
    /// the curvature 0.2968185657 over the half span there (Levien, *From Spiral to Spline*,
    /// 2009, with the rectangular elastica's integrals in 25 digits).
    #[test]
    fn three_nails_make_the_rectangular_elastica() {
        let half = 1000.0;
        let nails = [P2::new(-half, 0.0), P2::new(0.0, 0.1 * half), P2::new(half, 0.0)];
        let batten = Batten::through(&nails).expect("a batten");
        let p = batten.points();
        let m = SAMPLES;
        let (a, b, c) = (p[m - 1], p[m], p[m + 1]);
        // Curvature of the circle through three neighbouring points.
        let twice = (b - a).perp(&(c - b));
        let bent = 2.0 * twice / ((b - a).norm() * (c - b).norm() * (c - a).norm());
        // Its curvature falls off linearly from the nail: the mean over one piece is less by
        // about a third of a piece's share.
        let share = 1.0 / (3.0 * SAMPLES as f64);
        let exact = 0.296_818_565_7 / half;
        assert!((bent.abs() / exact - (1.0 - share)).abs() < 2e-3, "{bent} {exact}");
    }

    #[test]
    fn it_turns_with_its_nails() {
        let nails = [(0.0, 0.0), (400.0, 60.0), (700.0, 80.0), (1200.0, 20.0)];
        let turned = |by: f64| -> Vec<P2> {
            let r = nalgebra::Rotation2::new(by);
            nails.iter().map(|(x, y)| r * P2::new(*x, *y)).collect()
        };
        let level = Batten::through(&turned(0.0)).expect("a batten");
        for by in [0.7, 1.6, 3.0, -2.4] {
            let other = Batten::through(&turned(by)).expect("a batten");
            let r = nalgebra::Rotation2::new(by);
            for (p, q) in level.points().iter().zip(other.points()) {
                assert!((r * p - q).norm() < 1e-3);
            }
        }
    }

    #[test]
    fn two_nails_hold_a_straight_one_and_a_hairpin_springs_off() {
        let straight = Batten::through(&[P2::new(1.0, 2.0), P2::new(4.0, 6.0)]).expect("straight");
        assert!(
            straight.points().iter().all(|p| ((p.y - 2.0) - (p.x - 1.0) * 4.0 / 3.0).abs() < 1e-9)
        );
        let hairpin = [P2::new(0.0, 0.0), P2::new(100.0, 0.0), P2::new(0.0, 8.0)];
        assert_eq!(Batten::through(&hairpin), None);
        assert_eq!(Batten::through(&[P2::new(1.0, 1.0), P2::new(1.0, 1.0)]), None);
    }
}
