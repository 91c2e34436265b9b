//! Corners of an outline: where a batten ends and the next begins.

use crate::geom::P2;
use crate::geom::segment::from_segment;

/// Wiggles of an outline smaller than this (mm) make no corner: under half of what is
/// plotted.
const WIGGLE_MM: f64 = 0.3;
/// An outline turns a corner where it turns by more than this (radians) between pieces that
/// keep within [`WIGGLE_MM`] of it: 11°. A round edge of under 60 mm radius would pass for
/// one.
const CORNER_TURN: f64 = 0.2;
/// A knuckle of a frame or a lap's end turns less, but all at once: by more than this
/// (radians, 5°) within [`AT_ONCE_MM`] on either side.
const KNUCKLE_TURN: f64 = 0.09;
const AT_ONCE_MM: f64 = 2.0;
/// Two corners closer than this (mm) are one: less than what a saw leaves of either.
const ONE_CORNER_MM: f64 = 0.8;
/// A corner of the outline lies on a bored hole's rim to this (mm).
const ON_RIM_MM: f64 = 0.15;

/// A round part of an outline: a bored hole or a rounded corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Round {
    /// Where the compass stands, mm.
    pub centre: P2,
    /// mm.
    pub radius: f64,
}

/// One edge of an outline, from corner to corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Indices of its points in the outline, in order, both corners included.
    pub points: Vec<usize>,
    /// The circle that it is a part of, where it is bored or rounded.
    pub round: Option<Round>,
}

/// The edges of a closed `outline` (mm, without its closing point), each from a corner to
/// the next; `rounds` are circles that parts of it may lie on. None for fewer than three
/// points.
pub fn runs(outline: &[P2], rounds: &[Round]) -> Vec<Run> {
    let n = outline.len();
    if n < 3 {
        return Vec::new();
    }
    let on: Vec<Option<usize>> = (0..n).map(|i| round_at(outline, rounds, i)).collect();
    let kept = thinned(outline, WIGGLE_MM);
    let mut corners: Vec<(usize, f64)> = Vec::new();
    for k in 0..kept.len() {
        let i = kept[k];
        let before = outline[kept[(k + kept.len() - 1) % kept.len()]];
        let after = outline[kept[(k + 1) % kept.len()]];
        let (a, b) = (outline[i] - before, after - outline[i]);
        let turn = a.perp(&b).atan2(a.dot(&b)).abs();
        let knuckle = turn > KNUCKLE_TURN && turn_at_once(outline, i) > KNUCKLE_TURN;
        if (turn > CORNER_TURN || knuckle) && on[i].is_none() {
            corners.push((i, turn));
        }
    }
    // A round edge begins and ends at corners of its own.
    for i in 0..n {
        if on[i].is_some() && (on[(i + 1) % n] != on[i] || on[(i + n - 1) % n] != on[i]) {
            corners.push((i, f64::INFINITY));
        }
    }
    corners.sort_by_key(|c| c.0);
    corners.dedup_by_key(|c| c.0);
    let mut corners = merged(outline, corners);
    if corners.len() < 2 {
        // Round all over: a batten must end somewhere.
        let far = |from: P2| {
            (0..n)
                .max_by(|a, b| (outline[*a] - from).norm().total_cmp(&(outline[*b] - from).norm()))
                .unwrap_or(0)
        };
        let first = corners.first().copied().unwrap_or_else(|| far(outline[0]));
        corners = vec![first, far(outline[first])];
        corners.sort_unstable();
    }
    let m = corners.len();
    (0..m)
        .map(|k| {
            let (from, to) = (corners[k], corners[(k + 1) % m]);
            let count = (to + n - from - 1) % n + 1;
            let points: Vec<usize> = (0..=count).map(|j| (from + j) % n).collect();
            let round = (points.len() > 2 && points.iter().all(|i| on[*i].is_some()))
                .then(|| on[points[1]].map(|r| rounds[r]))
                .flatten();
            Run { points, round }
        })
        .collect()
}

/// How far the outline turns (radians) at point `i`, looking [`AT_ONCE_MM`] back and ahead.
fn turn_at_once(outline: &[P2], i: usize) -> f64 {
    let n = outline.len();
    let far = |step: usize| {
        let mut k = i;
        loop {
            k = (k + step) % n;
            if k == i || (outline[k] - outline[i]).norm() >= AT_ONCE_MM {
                return outline[k];
            }
        }
    };
    let (a, b) = (outline[i] - far(n - 1), far(1) - outline[i]);
    a.perp(&b).atan2(a.dot(&b)).abs()
}

/// The circle that point `i` and a neighbour lie on.
fn round_at(outline: &[P2], rounds: &[Round], i: usize) -> Option<usize> {
    let n = outline.len();
    let on = |r: &Round, i: usize| ((outline[i] - r.centre).norm() - r.radius).abs() < ON_RIM_MM;
    rounds.iter().position(|r| on(r, i) && (on(r, (i + 1) % n) || on(r, (i + n - 1) % n)))
}

/// Of corners at nearly one place the sharpest.
fn merged(outline: &[P2], corners: Vec<(usize, f64)>) -> Vec<usize> {
    let mut kept: Vec<(usize, f64)> = Vec::new();
    let near = |a: usize, b: usize| (outline[a] - outline[b]).norm() < ONE_CORNER_MM;
    for c in corners {
        match kept.last_mut() {
            Some(last) if near(last.0, c.0) => {
                if c.1 > last.1 {
                    *last = c;
                }
            }
            _ => kept.push(c),
        }
    }
    if kept.len() > 1 && near(kept[0].0, kept[kept.len() - 1].0) {
        let last = kept.pop();
        if let Some(last) = last.filter(|l| l.1 > kept[0].1) {
            kept[0] = last;
            kept.sort_by_key(|c| c.0);
        }
    }
    kept.into_iter().map(|c| c.0).collect()
}

/// Indices of the points that keep a closed outline within `within` mm: those furthest from
/// the chord, again and again.
///
/// Source: Douglas and Peucker, *Cartographica* 10 (1973).
fn thinned(outline: &[P2], within: f64) -> Vec<usize> {
    let n = outline.len();
    let first = (0..n)
        .max_by(|a, b| {
            (outline[*a] - outline[0]).norm().total_cmp(&(outline[*b] - outline[0]).norm())
        })
        .unwrap_or(0);
    let ring: Vec<P2> = (0..=n).map(|i| outline[(first + i) % n]).collect();
    let mut kept = vec![0];
    // From one end to the furthest point and back, so that no chord has no length.
    let far = (1..n)
        .max_by(|a, b| (ring[*a] - ring[0]).norm().total_cmp(&(ring[*b] - ring[0]).norm()))
        .unwrap_or(1);
    for (from, to) in [(0, far), (far, n)] {
        thin(&ring, from, to, within, &mut kept);
        kept.push(to);
    }
    kept.pop();
    let mut out: Vec<usize> = kept.into_iter().map(|i| (first + i) % n).collect();
    out.sort_unstable();
    out
}

fn thin(points: &[P2], from: usize, to: usize, within: f64, kept: &mut Vec<usize>) {
    let far = (from + 1..to)
        .map(|i| (i, from_segment(points[i], points[from], points[to])))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((i, _)) = far.filter(|f| f.1 > within) {
        thin(points, from, i, within, kept);
        kept.push(i);
        thin(points, i, to, within, kept);
    }
}

/// An open polyline with the points left out that it keeps within `within` mm without.
pub fn thinned_line(points: &[P2], within: f64) -> Vec<P2> {
    let mut kept = vec![0];
    if points.len() > 1 {
        thin(points, 0, points.len() - 1, within, &mut kept);
        kept.push(points.len() - 1);
    }
    kept.into_iter().filter_map(|i| points.get(i).copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A board 600 x 100 with a notch, a bored limber on its edge, one edge a flat arc.
    #[test]
    fn a_board_has_its_corners_and_its_hole() {
        let mut ring: Vec<P2> = (0..=60)
            .map(|i| {
                let x = 10.0 * f64::from(i);
                P2::new(x, -20.0 * (1.0 - ((x - 300.0) / 300.0).powi(2)))
            })
            .collect();
        ring.extend([P2::new(600.0, 100.0), P2::new(400.0, 100.0), P2::new(400.0, 60.0)]);
        ring.extend([P2::new(350.0, 60.0), P2::new(350.0, 100.0), P2::new(112.0, 100.0)]);
        let round = Round { centre: P2::new(100.0, 100.0), radius: 12.0 };
        ring.extend((1..16).map(|i| {
            let a = -std::f64::consts::PI * f64::from(i) / 16.0;
            round.centre + 12.0 * crate::geom::V2::new(a.cos(), a.sin())
        }));
        ring.extend([P2::new(88.0, 100.0), P2::new(0.0, 100.0)]);
        let runs = runs(&ring, &[round]);
        let at: Vec<(i32, i32)> = runs
            .iter()
            .map(|r| (ring[r.points[0]].x.round() as i32, ring[r.points[0]].y.round() as i32))
            .collect();
        let want = [
            (0, 0),
            (600, 0),
            (600, 100),
            (400, 100),
            (400, 60),
            (350, 60),
            (350, 100),
            (112, 100),
            (88, 100),
            (0, 100),
        ];
        assert_eq!(at, want);
        let bored: Vec<bool> = runs.iter().map(|r| r.round.is_some()).collect();
        assert_eq!(bored.iter().filter(|b| **b).count(), 1);
        assert!(bored[7], "the hole runs from (112, 100) to (88, 100)");
    }

    /// Two straight edges that meet at 8°, and a curve that turns as much over 80 mm.
    #[test]
    fn a_knuckle_is_a_corner_and_a_curve_is_none() {
        let turn = 8f64.to_radians();
        let after = P2::new(400.0 + 400.0 * turn.cos(), 400.0 * turn.sin());
        let top = [P2::new(800.0, 300.0), P2::new(0.0, 300.0)];
        let mut ring = vec![P2::new(0.0, 0.0), P2::new(400.0, 0.0), after];
        ring.extend(top);
        assert_eq!(runs(&ring, &[]).len(), 5);
        let radius = 80.0 / turn;
        let mut ring = vec![P2::new(0.0, 0.0)];
        ring.extend((0..=40).map(|k| {
            let a = turn * f64::from(k) / 40.0;
            P2::new(360.0 + radius * a.sin(), radius * (1.0 - a.cos()))
        }));
        let end = ring[ring.len() - 1];
        ring.push(end + 360.0 * crate::geom::V2::new(turn.cos(), turn.sin()));
        ring.extend(top);
        assert_eq!(runs(&ring, &[]).len(), 4);
    }

    #[test]
    fn a_disc_is_cut_into_two_runs() {
        let ring: Vec<P2> = (0..200)
            .map(|i| {
                let a = std::f64::consts::TAU * f64::from(i) / 200.0;
                P2::new(900.0 * a.cos(), 900.0 * a.sin())
            })
            .collect();
        assert_eq!(runs(&ring, &[]).len(), 2);
    }
}
