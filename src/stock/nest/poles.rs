//! Discs that fill a polygon: how deep two parts overlap is judged by theirs.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use crate::geom::P2;
use crate::geom::polyline::{area, bounds};
use crate::geom::ring::edges;

/// A disc inside a polygon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pole {
    pub(super) centre: P2,
    pub(super) radius: f64,
}

/// Discs at most: the cost of a pair of parts grows with the product of theirs.
const MOST_POLES: usize = 20;
/// Of those, so many are looked at to tell whether two parts meet.
const FEW_POLES: usize = 8;
/// Enough when they cover this share of the polygon.
const COVERED: f64 = 0.9;
/// The next one is not worth having when it is smaller than this share of the first.
const LEAST_RADIUS: f64 = 0.08;
/// How near the greatest disc is searched, as a share of the polygon's lesser extent.
const PRECISION: f64 = 0.01;
/// Squares looked at for one disc at most.
const MOST_SQUARES: usize = 600;

/// How many discs are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Discs {
    /// The large ones, which tell in most cases whether two parts meet.
    Few,
    /// As many as judging how deep two parts overlap takes.
    All,
}

impl Discs {
    /// So many at most.
    pub(super) fn most(self) -> usize {
        match self {
            Discs::Few => FEW_POLES,
            Discs::All => MOST_POLES,
        }
    }
}

/// Adds discs to those found in a ring before: the greatest that overlaps none of them, then the
/// next, so that the first is the greatest in the ring. Never none for a ring that encloses
/// anything.
pub(super) fn fill(ring: &[P2], found: &mut Vec<Pole>, discs: Discs) {
    let whole = area(ring).abs();
    let room = Room::of(ring);
    let disc = |p: &Pole| std::f64::consts::PI * p.radius.powi(2);
    let mut covered: f64 = found.iter().map(disc).sum();
    while found.len() < discs.most() && covered < COVERED * whole {
        let Some(next) = greatest(ring, &room, found) else { break };
        if found.first().is_some_and(|first| next.radius < LEAST_RADIUS * first.radius) {
            break;
        }
        covered += disc(&next);
        found.push(next);
    }
}

/// A ring's edges: where each begins, its way, and one over the square of its length.
struct Room {
    edges: Vec<[f64; 5]>,
}

impl Room {
    fn of(ring: &[P2]) -> Room {
        let edge = |(a, b): (P2, P2)| {
            let way = b - a;
            [a.x, a.y, way.x, way.y, 1.0 / way.norm_squared().max(f64::MIN_POSITIVE)]
        };
        Room { edges: edges(ring).map(edge).collect() }
    }

    /// Distance (mm) of a point from the ring, less than nothing outside.
    fn at(&self, p: P2) -> f64 {
        let (mut nearest, mut crossings) = (f64::INFINITY, 0u32);
        for [x, y, dx, dy, per] in &self.edges {
            let (px, py) = (p.x - x, p.y - y);
            let share = ((px * dx + py * dy) * per).clamp(0.0, 1.0);
            let (ox, oy) = (px - share * dx, py - share * dy);
            nearest = nearest.min(ox * ox + oy * oy);
            // A ray along x crosses the edge: it rises through the point's height or falls, with
            // the point to its left or right.
            let (below, above) = (py < 0.0, py < *dy);
            let left = px * dy < py * dx;
            crossings += u32::from(below != above && (left == (*dy > 0.0)));
        }
        let distance = nearest.sqrt();
        if crossings % 2 == 1 { distance } else { -distance }
    }
}

/// A square of the search: its centre, half its side, the room there, the most room in it.
struct Square {
    centre: P2,
    half: f64,
    room: f64,
    most: f64,
}

impl PartialEq for Square {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}
impl Eq for Square {}
impl PartialOrd for Square {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Square {
    fn cmp(&self, other: &Self) -> Ordering {
        self.most.total_cmp(&other.most)
    }
}

/// The greatest disc inside the ring and outside the others: squares are quartered, the one
/// that may hold most room first, until none can hold more by the precision.
fn greatest(ring: &[P2], edges: &Room, others: &[Pole]) -> Option<Pole> {
    let (low, high) = bounds(ring.iter().copied())?;
    let size = high - low;
    let precision = PRECISION * size.x.min(size.y);
    let square = |centre: P2, half: f64| {
        let signed = edges.at(centre);
        let room =
            others.iter().map(|o| (centre - o.centre).norm() - o.radius).fold(signed, f64::min);
        Square { centre, half, room, most: room + half * std::f64::consts::SQRT_2 }
    };
    let half = 0.5 * size.x.min(size.y);
    let mut open = BinaryHeap::new();
    let count = |extent: f64| (extent / (2.0 * half)).ceil() as usize;
    for i in 0..count(size.x) {
        for j in 0..count(size.y) {
            let at = |k: usize| (2 * k + 1) as f64 * half;
            open.push(square(P2::new(low.x + at(i), low.y + at(j)), half));
        }
    }
    let mut best: Option<Pole> = None;
    let mut seen = 0;
    while let Some(top) = open.pop() {
        let reached = best.map_or(0.0, |b| b.radius);
        if top.most <= reached + precision && best.is_some() || seen > MOST_SQUARES {
            break;
        }
        if top.room > reached {
            best = Some(Pole { centre: top.centre, radius: top.room });
        }
        if top.most <= reached || top.half < 1e-3 * half {
            continue;
        }
        let half = 0.5 * top.half;
        for (dx, dy) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
            open.push(square(P2::new(top.centre.x + dx * half, top.centre.y + dy * half), half));
            seen += 1;
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::ring::{from_ring, inside};

    fn poles(ring: &[P2]) -> Vec<Pole> {
        let mut found = Vec::new();
        fill(ring, &mut found, Discs::All);
        found
    }

    fn ring(corners: &[(f64, f64)]) -> Vec<P2> {
        corners.iter().map(|(x, y)| P2::new(*x, *y)).collect()
    }

    /// The incircle of a 3-4-5 triangle has the radius 1.
    #[test]
    fn the_first_disc_is_the_incircle() {
        let first = poles(&ring(&[(0.0, 0.0), (4.0, 0.0), (0.0, 3.0)]))[0];
        assert!((first.radius - 1.0).abs() < 0.03, "{first:?}");
        assert!((first.centre - P2::new(1.0, 1.0)).norm() < 0.1);
    }

    /// Beside the plain functions for a ring, over points all round one with hollows.
    #[test]
    fn the_room_is_the_distance_from_the_ring() {
        let star = ring(&[
            (0.0, 0.0),
            (50.0, 20.0),
            (100.0, 0.0),
            (70.0, 60.0),
            (90.0, 110.0),
            (10.0, 70.0),
        ]);
        let room = Room::of(&star);
        for i in 0..40 {
            for j in 0..40 {
                let p = P2::new(-20.1 + 3.7 * f64::from(i), -20.2 + 3.9 * f64::from(j));
                let edge = from_ring(p, &star);
                let signed = if inside(&star, p) { edge } else { -edge };
                assert!((room.at(p) - signed).abs() < 1e-9, "{p}");
            }
        }
    }

    /// All inside, none over another, and an L is filled in both arms.
    #[test]
    fn discs_fill_and_do_not_overlap() {
        let l = ring(&[
            (0.0, 0.0),
            (900.0, 0.0),
            (900.0, 100.0),
            (100.0, 100.0),
            (100.0, 700.0),
            (0.0, 700.0),
        ]);
        let found = poles(&l);
        assert!(
            found.iter().any(|p| p.centre.x > 800.0) && found.iter().any(|p| p.centre.y > 600.0)
        );
        for (i, a) in found.iter().enumerate() {
            assert!(inside(&l, a.centre) && from_ring(a.centre, &l) > a.radius - 1e-9);
            for b in &found[..i] {
                assert!((a.centre - b.centre).norm() > a.radius + b.radius - 1e-9);
            }
        }
    }
}
