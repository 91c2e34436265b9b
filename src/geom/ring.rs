//! Closed outlines of the flat, given without their closing point: what lies inside, how far
//! off, where the middle is, and where a line cuts across.

use super::segment::from_segment;
use super::{P2, V2};

/// A ring whose doubled area is under this (mm²) has none, and no centroid of it.
const NO_AREA_MM2: f64 = 1e-9;

/// The edges of a ring, the closing one last.
pub fn edges(ring: &[P2]) -> impl Iterator<Item = (P2, P2)> + '_ {
    let n = ring.len();
    (0..n).map(move |i| (ring[i], ring[(i + 1) % n]))
}

/// Whether `p` lies inside a ring, by the crossings of a ray; on the edge it may be either.
pub fn inside(ring: &[P2], p: P2) -> bool {
    let crossed = |(a, b): &(P2, P2)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
    };
    edges(ring).filter(crossed).count() % 2 == 1
}

/// Distance (mm) of `p` from a ring's edge, inside as well as outside; infinite for no points.
pub fn from_ring(p: P2, ring: &[P2]) -> f64 {
    edges(ring).map(|(a, b)| from_segment(p, a, b)).fold(f64::INFINITY, f64::min)
}

/// Centroid of the area of a simple ring, whichever way it runs; its first point where it has
/// no area, the origin for no points.
pub fn centroid(ring: &[P2]) -> P2 {
    let (mut sum, mut twice) = (V2::zeros(), 0.0);
    for (p, q) in edges(ring) {
        let c = p.x * q.y - q.x * p.y;
        twice += c;
        sum += c * (p.coords + q.coords);
    }
    if twice.abs() < NO_AREA_MM2 {
        ring.first().copied().unwrap_or_default()
    } else {
        P2::from(sum / (3.0 * twice))
    }
}

/// Where a ring's edges cross the height `level`, in their order. An edge that only touches it
/// does not cross.
pub fn at_level(ring: &[P2], level: f64) -> impl Iterator<Item = P2> + '_ {
    let across = move |(a, b): &(P2, P2)| (a.y - level) * (b.y - level) < 0.0;
    edges(ring).filter(across).map(move |(a, b)| a + (level - a.y) / (b.y - a.y) * (b - a))
}

/// Where a ring's edges cross the straight line on which `side` is nothing, in their order;
/// `side` is a distance from it to one side, in any measure. An edge that only touches it does
/// not cross.
pub fn across_line<'a>(
    ring: &'a [P2],
    side: impl Fn(P2) -> f64 + 'a,
) -> impl Iterator<Item = P2> + 'a {
    edges(ring).filter_map(move |(a, b)| {
        let (da, db) = (side(a), side(b));
        (da * db < 0.0).then(|| a + da / (da - db) * (b - a))
    })
}

/// What of an open line lies inside a ring, piece by piece in its order. A piece that runs along
/// the ring's edge may be kept or not.
pub fn kept_inside(ring: &[P2], line: &[P2]) -> Vec<Vec<P2>> {
    let mut out: Vec<Vec<P2>> = Vec::new();
    let mut open: Vec<P2> = Vec::new();
    for w in line.windows(2) {
        let (a, way) = (w[0], w[1] - w[0]);
        let mut shares = vec![0.0, 1.0];
        shares.extend(edges(ring).filter_map(|(p, q)| crossing(a, way, p, q - p)));
        shares.sort_by(f64::total_cmp);
        for s in shares.windows(2).filter(|s| s[1] > s[0]) {
            if !inside(ring, a + 0.5 * (s[0] + s[1]) * way) {
                out.extend((open.len() > 1).then(|| std::mem::take(&mut open)));
                open.clear();
                continue;
            }
            if open.is_empty() {
                open.push(a + s[0] * way);
            }
            open.push(a + s[1] * way);
        }
    }
    out.extend((open.len() > 1).then_some(open));
    out
}

/// The share of the way from `a` at which it crosses the piece from `p` along `edge`.
fn crossing(a: P2, way: V2, p: P2, edge: V2) -> Option<f64> {
    let across = way.perp(&edge);
    let (s, t) = ((p - a).perp(&edge) / across, (p - a).perp(&way) / across);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then_some(s)
}

/// The outermost two of some places, from the left; `None` for none.
pub fn span(places: impl Iterator<Item = P2>) -> Option<[P2; 2]> {
    let mut places: Vec<P2> = places.collect();
    places.sort_by(|a, b| a.x.total_cmp(&b.x));
    Some([*places.first()?, *places.last()?])
}

/// The outermost two places, from the left, at which a ring crosses the height `level`; `None`
/// where it does not.
pub fn level_span(ring: &[P2], level: f64) -> Option<[P2; 2]> {
    span(at_level(ring, level))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[(f64, f64)]) -> Vec<P2> {
        points.iter().map(|&(x, y)| P2::new(x, y)).collect()
    }

    /// An L of a 20 x 10 and a 10 x 10 square: (200 · 10 + 100 · 5) / 300 from its left,
    /// (200 · 5 + 100 · 15) / 300 from its foot, wherever it stands and whichever way it runs.
    #[test]
    fn the_middle_of_an_l_by_hand() {
        let l = ring(&[(0., 0.), (20., 0.), (20., 10.), (10., 10.), (10., 20.), (0., 20.)]);
        for by in [V2::zeros(), V2::new(-300.0, 1200.0)] {
            let mut moved: Vec<P2> = l.iter().map(|p| p + by).collect();
            let middle = P2::new(25.0 / 3.0, 25.0 / 3.0) + by;
            assert!((centroid(&moved) - middle).norm() < 1e-9);
            moved.reverse();
            assert!((centroid(&moved) - middle).norm() < 1e-9);
        }
        let line = ring(&[(3.0, 4.0), (9.0, 4.0)]);
        assert_eq!(centroid(&line), line[0]);
        assert_eq!(centroid(&[]), P2::origin());
    }

    /// A half disc of radius r has its centroid 4 r / 3π above its flat (Steiner's table of
    /// every handbook); 2000 chords fall short of it by their sagitta, a part in a million.
    #[test]
    fn the_middle_of_a_half_disc_is_its_closed_form() {
        let half: Vec<P2> = (0..=2000)
            .map(|i| std::f64::consts::PI * f64::from(i) / 2000.0)
            .map(|a| P2::new(500.0 * a.cos(), 500.0 * a.sin()))
            .collect();
        let high = 4.0 * 500.0 / (3.0 * std::f64::consts::PI);
        assert!((centroid(&half) - P2::new(0.0, high)).norm() < 1e-3);
    }

    #[test]
    fn inside_and_off_an_l() {
        let l = ring(&[(0., 0.), (20., 0.), (20., 10.), (10., 10.), (10., 20.), (0., 20.)]);
        assert!(inside(&l, P2::new(5.0, 15.0)) && inside(&l, P2::new(15.0, 5.0)));
        assert!(!inside(&l, P2::new(15.0, 15.0)) && !inside(&l, P2::new(-1.0, 10.0)));
        assert_eq!(from_ring(P2::new(15.0, 15.0), &l), 5.0);
        // The closing edge counts.
        assert_eq!(from_ring(P2::new(-3.0, 10.0), &l), 3.0);
        assert_eq!(from_ring(P2::new(4.0, 5.0), &l), 4.0);
        assert_eq!(from_ring(P2::origin(), &[]), f64::INFINITY);
    }

    /// A line that turns inside, runs out over a notch and in again comes in two pieces, by hand
    /// 10 + 10 + 10 and 20 long.
    #[test]
    fn a_line_over_a_notch_is_kept_in_two_pieces() {
        let board = ring(&[
            (0., 0.),
            (60., 0.),
            (60., 40.),
            (40., 40.),
            (40., 10.),
            (20., 10.),
            (20., 40.),
            (0., 40.),
        ]);
        let line = ring(&[(-5., 20.), (10., 20.), (10., 30.), (70., 30.)]);
        let kept = kept_inside(&board, &line);
        let length = |k: &Vec<P2>| k.windows(2).map(|w| (w[1] - w[0]).norm()).sum::<f64>();
        let lengths: Vec<f64> = kept.iter().map(length).collect();
        assert_eq!(kept.len(), 2, "{kept:?}");
        assert!((lengths[0] - 30.0).abs() < 1e-9 && (lengths[1] - 20.0).abs() < 1e-9);
        assert!(kept_inside(&board, &ring(&[(-9., -9.), (90., -9.)])).is_empty());
    }

    /// A notch from above leaves four crossings of a level; the outermost two count. A corner on
    /// the level does not cross it.
    #[test]
    fn a_level_through_a_notched_board() {
        let board = ring(&[
            (0., 0.),
            (100., 0.),
            (90., 40.),
            (60., 40.),
            (60., 10.),
            (50., 10.),
            (50., 40.),
            (10., 40.),
        ]);
        let hits: Vec<P2> = at_level(&board, 20.0).collect();
        assert_eq!(hits.len(), 4);
        let [left, right] = level_span(&board, 20.0).expect("it crosses");
        assert!((left - P2::new(5.0, 20.0)).norm() < 1e-12);
        assert!((right - P2::new(95.0, 20.0)).norm() < 1e-12);
        assert_eq!(level_span(&board, 40.0), None);
        assert_eq!(level_span(&board, 41.0), None);
        // The same by any line, here at a slant: y = x through the left edge's foot.
        let slanted: Vec<P2> = across_line(&board, |p| p.y - p.x - 1.0).collect();
        assert_eq!(slanted.len(), 2);
        assert!(slanted.iter().all(|p| (p.y - p.x - 1.0).abs() < 1e-12));
    }
}
