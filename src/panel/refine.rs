//! From the coarse matching to rulings of zero warp.
//!
//! A matching is followed along p = (u + v) / 2; across it, q = v - u says how a ruling
//! slants. On every layer p the root of the warp nearest to the matching is found inside
//! a bracket. Near an end the zero curve leaves the square of pairs beside the corner;
//! a fan about the end of one line fills the gap exactly. On stretches of layers without
//! a root, q is relaxed so that warp and the bend of q are least together: the warp is
//! spread over the stretch.

use super::matching::{CELL, Matching};
use super::pair::Pair;
use crate::geom::roots::bracketed;

/// First step (share of a line) to either side of the guess when bracketing a root.
const FIRST_STEP: f64 = CELL / 8.0;
/// How far from the guess a root is looked for; four cells is half a metre on 4 m.
const WINDOW: f64 = 4.0 * CELL;
/// Brackets narrower than this share (4 m: a millionth of a millimetre) are roots.
const ROOT_TOL: f64 = 2e-13;
/// How far along the first and last ruling's edge a fan may reach (share of a line).
const LONGEST_FAN: f64 = 0.45;
/// Rulings that any end fan gets at least, so that a cone is not flattened to a facet.
const LEAST_FAN_RULINGS: usize = 4;
/// Weight of ∫(d²q/dp²)² against ∫warp² when warp is spread: at this weight a stretch of
/// a fifth of the panel's length bends by a tenth of what would remove 3° of warp.
const SMOOTHNESS: f64 = 2e-4;
/// Gauss-Newton steps when spreading warp; it converges in three on every hull tried.
const RELAX_STEPS: usize = 8;
/// Greatest |dq/dp|: at 2 one share stands still (a fan); a hair more, so that a fan about
/// a knuckle is found in spite of rounding.
const STEEPEST: f64 = 2.0 + 1e-6;
/// The zero curve runs backwards by more than this (share): follow the matching instead.
const BACKWARDS: f64 = 0.5 * CELL;

/// The rulings' shares (u, v) from bow to stern, with about `strips` strips between them;
/// neither share ever decreases.
pub(super) fn refine(pair: &Pair, matching: &Matching, strips: usize) -> Vec<(f64, f64)> {
    let (low, high) = pair.range();
    let to_square = |s: f64| (s - low) / (high - low);
    let path: Vec<(f64, f64)> =
        matching.path.iter().map(|&(u, v)| (to_square(u), to_square(v))).collect();
    let square = Square { pair, low, span: high - low, path };
    let mut shares = square.follow_zero_curve(strips);
    if make_monotone(&mut shares) > BACKWARDS {
        shares = square.follow_matching(strips);
        make_monotone(&mut shares);
    }
    shares.iter().map(|&(u, v)| (low + (high - low) * u, low + (high - low) * v)).collect()
}

/// Raises every share that is below one before it; returns the greatest raise.
fn make_monotone(shares: &mut [(f64, f64)]) -> f64 {
    let mut most: f64 = 0.0;
    for k in 1..shares.len() {
        let (u, v) = shares[k - 1];
        most = most.max(u - shares[k].0).max(v - shares[k].1);
        shares[k] = (shares[k].0.max(u), shares[k].1.max(v));
    }
    most
}

/// The unit square of pairs, whatever the range of the lines.
struct Square<'a> {
    pair: &'a Pair<'a>,
    low: f64,
    span: f64,
    path: Vec<(f64, f64)>,
}

/// A fan at a corner: along which line it runs, and how far (share, signed as q is).
#[derive(Clone, Copy, Debug, Default)]
struct EndFan {
    /// q of the fan's last ruling: positive if it runs along the upper line from the bow
    /// (or along the lower line at the stern), zero for no fan.
    q: f64,
}

impl Square<'_> {
    fn warp(&self, u: f64, v: f64) -> f64 {
        self.pair.sin_warp(self.low + self.span * u, self.low + self.span * v)
    }

    fn warp_pq(&self, p: f64, q: f64) -> f64 {
        self.warp(p - 0.5 * q, p + 0.5 * q)
    }

    fn follow_zero_curve(&self, strips: usize) -> Vec<(f64, f64)> {
        let bow = self.end_fan(false);
        let stern = self.end_fan(true);
        let (p0, p1) = (0.5 * bow.q.abs(), 1.0 - 0.5 * stern.q.abs());
        let layers = ((strips as f64 * (p1 - p0)).ceil() as usize).max(2);
        let mut q = vec![None; layers + 1];
        q[0] = Some(bow.q);
        q[layers] = Some(stern.q);
        let p_of = |k: usize| p0 + (p1 - p0) * k as f64 / layers as f64;
        // The last layer that has a root, and its q: no share may run backwards from there,
        // nor on the way to the last layer of all.
        let mut last = (0, bow.q);
        for k in 1..layers {
            let guess = match (q[k - 1], k.checked_sub(2).and_then(|i| q[i])) {
                (Some(a), Some(b)) => 2.0 * a - b,
                (Some(a), None) => a,
                _ => self.matching_q(p_of(k)),
            };
            let (from, to) = (STEEPEST * (p_of(k) - p_of(last.0)), STEEPEST * (p1 - p_of(k)));
            let reach = ((last.1 - from).max(stern.q - to), (last.1 + from).min(stern.q + to));
            q[k] = self
                .root_near(p_of(k), guess, reach)
                .or_else(|| self.root_near(p_of(k), self.matching_q(p_of(k)), reach));
            if let Some(found) = q[k] {
                last = (k, found);
            }
        }
        let q = self.spread(&q, p_of);
        self.assemble(bow, stern, strips, &q, p_of)
    }

    /// Where the zero curve runs backwards no root is to be trusted: start from the
    /// matching, which never does, and spread the warp along all of it.
    fn follow_matching(&self, strips: usize) -> Vec<(f64, f64)> {
        let layers = strips.max(2);
        let p_of = |k: usize| k as f64 / layers as f64;
        let mut q: Vec<Option<f64>> = vec![None; layers + 1];
        q[0] = Some(0.0);
        q[layers] = Some(0.0);
        let start: Vec<f64> = (0..=layers).map(|k| self.matching_q(p_of(k))).collect();
        let q = self.relax(start, &q, p_of);
        self.assemble(EndFan::default(), EndFan::default(), strips, &q, p_of)
    }

    fn assemble(
        &self,
        bow: EndFan,
        stern: EndFan,
        strips: usize,
        q: &[f64],
        p_of: impl Fn(usize) -> f64,
    ) -> Vec<(f64, f64)> {
        let mut shares = Vec::with_capacity(q.len() + 2 * LEAST_FAN_RULINGS);
        let fan_rulings = |fan: EndFan| {
            if fan.q == 0.0 {
                0
            } else {
                LEAST_FAN_RULINGS.max((0.5 * fan.q.abs() * strips as f64).ceil() as usize)
            }
        };
        let n = fan_rulings(bow);
        for i in 0..n {
            let reach = bow.q.abs() * i as f64 / n as f64;
            shares.push(if bow.q > 0.0 { (0.0, reach) } else { (reach, 0.0) });
        }
        for (k, &q) in q.iter().enumerate() {
            let p = p_of(k);
            shares.push(((p - 0.5 * q).clamp(0.0, 1.0), (p + 0.5 * q).clamp(0.0, 1.0)));
        }
        let n = fan_rulings(stern);
        for i in 1..=n {
            let left = 1.0 - stern.q.abs() * (1.0 - i as f64 / n as f64);
            shares.push(if stern.q > 0.0 { (left, 1.0) } else { (1.0, left) });
        }
        shares
    }

    /// The fan that carries the zero curve to the corner, if one does.
    fn end_fan(&self, stern: bool) -> EndFan {
        // A point at `reach` from the corner along one line's edge of the square.
        let place = |along_upper: bool, reach: f64| match (stern, along_upper) {
            (false, true) => (0.0, reach),
            (false, false) => (reach, 0.0),
            (true, true) => (1.0, 1.0 - reach),
            (true, false) => (1.0 - reach, 1.0),
        };
        let at = |along_upper: bool, reach: f64| {
            let (u, v) = place(along_upper, reach);
            self.warp(u, v)
        };
        let corner = at(true, 0.0);
        if corner == 0.0 {
            return EndFan::default();
        }
        let reach_of_matching = |along_upper: bool| {
            let on_edge = |&&(u, v): &&(f64, f64)| match (stern, along_upper) {
                (false, true) => u <= 0.0,
                (false, false) => v <= 0.0,
                (true, true) => u >= 1.0,
                (true, false) => v >= 1.0,
            };
            let run = if stern {
                self.path.iter().rev().take_while(on_edge).count()
            } else {
                self.path.iter().take_while(on_edge).count()
            };
            run.saturating_sub(1) as f64 * CELL
        };
        let mut best: Option<(bool, f64)> = None;
        for along_upper in [true, false] {
            let limit = (reach_of_matching(along_upper) + 3.0 * CELL).min(LONGEST_FAN);
            let mut before = (0.0, corner);
            let mut reach = 0.0;
            while reach < limit && best.is_none_or(|(_, r)| reach < r) {
                reach += 0.25 * CELL;
                let here = (reach, at(along_upper, reach));
                if let Some(root) = bracketed(|r| at(along_upper, r), before, here, ROOT_TOL) {
                    if best.is_none_or(|(_, r)| root.x < r) {
                        best = Some((along_upper, root.x));
                    }
                    break;
                }
                before = here;
            }
        }
        match best {
            // q = v - u: at the bow positive along the upper line, at the stern negative.
            Some((along_upper, reach)) if along_upper != stern => EndFan { q: reach },
            Some((_, reach)) => EndFan { q: -reach },
            None => EndFan::default(),
        }
    }

    /// q of the coarse matching on layer `p`.
    fn matching_q(&self, p: f64) -> f64 {
        let layer = |&(u, v): &(f64, f64)| 0.5 * (u + v);
        let i = self.path.partition_point(|n| layer(n) < p).clamp(1, self.path.len() - 1);
        let (a, b) = (self.path[i - 1], self.path[i]);
        let (pa, pb) = (layer(&a), layer(&b));
        let share = if pb > pa { ((p - pa) / (pb - pa)).clamp(0.0, 1.0) } else { 0.0 };
        (a.1 - a.0) + share * ((b.1 - b.0) - (a.1 - a.0))
    }

    /// The root of the warp on layer `p`, with q inside `reach`, that a search outward from
    /// `guess` meets first.
    fn root_near(&self, p: f64, guess: f64, reach: (f64, f64)) -> Option<f64> {
        let limit = widest_q(p);
        let (low, high) = (reach.0.max(-limit), reach.1.min(limit));
        if low > high {
            return None;
        }
        let f = |q: f64| self.warp_pq(p, q);
        let mut step = FIRST_STEP;
        let start = guess.clamp(low, high);
        let here = (start, f(start));
        if here.1 == 0.0 {
            return Some(start);
        }
        let (mut left, mut right) = (here, here);
        while step < WINDOW {
            for (end, sign) in [(&mut right, 1.0), (&mut left, -1.0)] {
                let q = (start + sign * step).clamp(low, high);
                if q == end.0 {
                    continue;
                }
                let next = (q, f(q));
                if let Some(root) = bracketed(f, *end, next, ROOT_TOL) {
                    return Some(root.x);
                }
                *end = next;
            }
            step *= 2.0;
        }
        None
    }

    /// Fills the layers without a root, spreading the warp over each stretch of them.
    fn spread(&self, q: &[Option<f64>], p_of: impl Fn(usize) -> f64) -> Vec<f64> {
        let mut filled: Vec<f64> = q.iter().map(|q| q.unwrap_or(f64::NAN)).collect();
        if q.iter().all(Option::is_some) {
            return filled;
        }
        let known: Vec<usize> = (0..q.len()).filter(|&k| q[k].is_some()).collect();
        for w in known.windows(2) {
            let (a, b) = (w[0], w[1]);
            for k in a + 1..b {
                let share = (k - a) as f64 / (b - a) as f64;
                filled[k] = filled[a] + share * (filled[b] - filled[a]);
            }
        }
        self.relax(filled, q, p_of)
    }

    /// Gauss-Newton on Σ warp² + smoothness over the layers that have no root; the others
    /// stay. The normal equations have five diagonals.
    fn relax(
        &self,
        mut q: Vec<f64>,
        fixed: &[Option<f64>],
        p_of: impl Fn(usize) -> f64,
    ) -> Vec<f64> {
        let n = q.len();
        let h = p_of(1) - p_of(0);
        let bend = SMOOTHNESS / h.powi(4);
        for _ in 0..RELAX_STEPS {
            let mut bands = vec![[0.0; 3]; n];
            let mut right = vec![0.0; n];
            for k in 0..n {
                if fixed[k].is_none() {
                    let d = 1e-5;
                    let w = self.warp_pq(p_of(k), q[k]);
                    let slope = (self.warp_pq(p_of(k), q[k] + d) - w) / d;
                    bands[k][0] += slope * slope;
                    right[k] -= slope * w;
                }
                if k > 0 && k + 1 < n {
                    let second = q[k - 1] - 2.0 * q[k] + q[k + 1];
                    let c = [1.0, -2.0, 1.0];
                    for (i, ci) in c.iter().enumerate() {
                        right[k - 1 + i] -= bend * ci * second;
                        for (j, cj) in c.iter().enumerate().skip(i) {
                            bands[k - 1 + i][j - i] += bend * ci * cj;
                        }
                    }
                }
            }
            for (k, q) in fixed.iter().enumerate() {
                if q.is_some() {
                    hold(&mut bands, &mut right, k);
                }
            }
            let step = solve_five_diagonals(bands, right);
            let mut moved: f64 = 0.0;
            for k in 0..n {
                let limit = widest_q(p_of(k));
                let next = (q[k] + step[k].clamp(-CELL, CELL)).clamp(-limit, limit);
                moved = moved.max((next - q[k]).abs());
                q[k] = next;
            }
            if moved < 1e-7 {
                break;
            }
        }
        q
    }
}

/// The greatest |q| that a pair on layer `p` can have; rounding may put p a hair outside.
fn widest_q(p: f64) -> f64 {
    (2.0 * p.min(1.0 - p)).max(0.0)
}

/// Replaces equation `k` by "no step", keeping the matrix symmetric.
fn hold(bands: &mut [[f64; 3]], right: &mut [f64], k: usize) {
    bands[k] = [1.0, 0.0, 0.0];
    for d in 1..=2 {
        if k >= d {
            bands[k - d][d] = 0.0;
        }
    }
    right[k] = 0.0;
}

/// Solves a symmetric positive matrix of five diagonals, `bands[k][d]` = entry (k, k + d),
/// by L D Lᵀ. Source: Golub and Van Loan, *Matrix Computations*, section 4.3.
fn solve_five_diagonals(mut bands: Vec<[f64; 3]>, mut right: Vec<f64>) -> Vec<f64> {
    let n = right.len();
    for k in 0..n {
        let pivot = bands[k][0].max(f64::MIN_POSITIVE);
        let (e, f) = (bands[k][1] / pivot, bands[k][2] / pivot);
        if k + 1 < n {
            bands[k + 1][0] -= e * bands[k][1];
            bands[k + 1][1] -= e * bands[k][2];
            right[k + 1] -= e * right[k];
        }
        if k + 2 < n {
            bands[k + 2][0] -= f * bands[k][2];
            right[k + 2] -= f * right[k];
        }
        bands[k] = [pivot, e, f];
    }
    for k in (0..n).rev() {
        let mut x = right[k] / bands[k][0];
        if k + 1 < n {
            x -= bands[k][1] * right[k + 1];
        }
        if k + 2 < n {
            x -= bands[k][2] * right[k + 2];
        }
        right[k] = x;
    }
    right
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_diagonals_solve_what_they_multiply() {
        let n = 7;
        let bands: Vec<[f64; 3]> = (0..n).map(|k| [9.0 + k as f64, -2.0, 0.5]).collect();
        let x: Vec<f64> = (0..n).map(|k| (k as f64).sin()).collect();
        let entry = |i: usize, j: usize| {
            let (a, b) = (i.min(j), i.max(j));
            if b - a > 2 { 0.0 } else { bands[a][b - a] }
        };
        let right: Vec<f64> = (0..n).map(|i| (0..n).map(|j| entry(i, j) * x[j]).sum()).collect();
        let solved = solve_five_diagonals(bands.clone(), right);
        for (a, b) in solved.iter().zip(&x) {
            assert!((a - b).abs() < 1e-12);
        }
    }

    #[test]
    fn shares_never_run_backwards() {
        let mut shares = vec![(0.0, 0.0), (0.3, 0.2), (0.2, 0.4), (0.5, 0.3), (1.0, 1.0)];
        let most = make_monotone(&mut shares);
        assert!((most - 0.1).abs() < 1e-12);
        assert!(shares.windows(2).all(|w| w[0].0 <= w[1].0 && w[0].1 <= w[1].1));
    }
}
