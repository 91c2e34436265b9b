//! A part as the search sees it: grown by half a saw cut, with few corners, in one attitude.

use super::poles::{self, Discs, Pole};
use super::problem::Attitude;
use crate::geom::polyline::{area, bounds};
use crate::geom::region::Region;
use crate::geom::ring::inside;
use crate::geom::{P2, V2};

/// How far (mm) an outline may be smoothed to have fewer corners, the least first. What is
/// smoothed off is grown on again, so that the search errs only on the safe side.
const SMOOTHED_MM: [f64; 6] = [0.0, 0.05, 0.1, 0.2, 0.5, 1.0];
/// So few corners that they cost little.
const FEW_CORNERS: usize = 40;
/// Parts stand apart by this much more (mm) than the kerf, so that no rounding brings one too
/// near: a hundredth of what a saw wanders.
const SLACK_MM: f64 = 0.01;
/// A corner sharper than this (radians) would be cut off in growing, nearer than the kerf: it
/// gets an eight-cornered cap of its own.
const SHARP: f64 = 1.2;

/// A part's outline for the search, before it is turned.
#[derive(Debug, Clone)]
pub(super) struct Blank {
    outline: Vec<P2>,
    grown_by: f64,
    ring: Vec<P2>,
    poles: Vec<Pole>,
    discs: Discs,
    convex_area: f64,
}

impl Blank {
    /// The outline grown by `by` mm (half the kerf) on all sides.
    pub(super) fn grown(outline: &[P2], by: f64, discs: Discs) -> Blank {
        let mut outline = outline.to_vec();
        if area(&outline) < 0.0 {
            outline.reverse();
        }
        let thinned = SMOOTHED_MM.iter().map(|t| (*t, thinned(&outline, *t)));
        let mut last = (0.0, outline.clone());
        for (tol, ring) in thinned {
            if ring.len() >= 3 {
                last = (tol, ring);
            }
            if last.1.len() <= FEW_CORNERS {
                break;
            }
        }
        let least = by + SLACK_MM;
        let by = least + last.0;
        let mut rings = vec![Region::of(&last.1).grown(by).largest()];
        rings.extend(sharp_corners(&last.1).map(|corner| cap(corner, by)));
        let ring =
            if rings.len() == 1 { rings.remove(0) } else { Region::any_of(&rings).largest() };
        Blank { outline, grown_by: least, ..Blank::of(ring, discs) }
    }

    /// A ring as it is.
    pub(super) fn of(mut ring: Vec<P2>, discs: Discs) -> Blank {
        if area(&ring) < 0.0 {
            ring.reverse();
        }
        let mut poles = Vec::new();
        poles::fill(&ring, &mut poles, discs);
        let convex_area = convex_area(&ring);
        Blank { outline: ring.clone(), grown_by: 0.0, ring, poles, discs, convex_area }
    }

    /// Whether it has so many discs, or as many as go in.
    pub(super) fn has(&self, discs: Discs) -> bool {
        self.discs >= discs
    }

    /// Adds discs up to so many.
    pub(super) fn fill(&mut self, discs: Discs) {
        poles::fill(&self.ring, &mut self.poles, discs);
        self.discs = discs;
    }

    /// Its discs, the greatest first.
    #[cfg(test)]
    pub(super) fn poles(&self) -> &[Pole] {
        &self.poles
    }

    /// In one attitude.
    pub(super) fn turned(&self, attitude: Attitude) -> Form {
        let ring: Vec<P2> = self.ring.iter().map(|p| attitude.of(*p)).collect();
        // The box is that of the true outline, or what just fits on a sheet would not.
        let (low, high) = bounds(self.outline.iter().map(|p| attitude.of(*p)))
            .unwrap_or((P2::origin(), P2::origin()));
        let centre = nalgebra::center(&low, &high).coords;
        let ring: Vec<P2> = ring.iter().map(|p| p - centre).collect();
        let edges = crate::geom::ring::edges(&ring).map(|(a, b)| [a.x, a.y, b.x, b.y]).collect();
        let poles = self
            .poles
            .iter()
            .map(|p| Pole { centre: attitude.of(p.centre) - centre, radius: p.radius })
            .collect();
        let half = (0.5 * (high - low)).add_scalar(self.grown_by);
        let (low, high) = bounds(ring.iter().copied())
            .map_or((-half, half), |(low, high)| (low.coords, high.coords));
        let convex_area = self.convex_area;
        Form { attitude, ring, edges, low, high, poles, half, centre, convex_area }
    }
}

/// A part in one attitude, its box centred on the origin.
#[derive(Debug, Clone)]
pub(super) struct Form {
    /// How the part lies.
    pub(super) attitude: Attitude,
    ring: Vec<P2>,
    edges: Vec<[f64; 4]>,
    /// The box around the ring, which is a little larger than that around the part.
    low: V2,
    high: V2,
    poles: Vec<Pole>,
    /// Half of the box around the part, grown.
    pub(super) half: V2,
    /// Where the box's centre lies from the turned part's origin.
    pub(super) centre: V2,
    /// Area of its convex hull.
    pub(super) convex_area: f64,
}

/// An overlap below this share of the forms' size is judged by how far apart they are: the
/// measure stays above nothing as long as they touch, and goes on falling as they part.
const SHALLOW: f64 = 0.005;

impl Form {
    /// Whether this at the origin and another at `d` touch or overlap.
    pub(super) fn meets(&self, other: &Form, d: V2, near: &mut Vec<[f64; 4]>) -> bool {
        let reach = self.half + other.half;
        if d.x.abs() >= reach.x || d.y.abs() >= reach.y {
            return false;
        }
        if self.poles_meet(other, d) || self.edges_meet(other, d, near) {
            return true;
        }
        // No edge meets another: one lies in the other, or they are apart.
        let within = |ring: &[P2], pole: Option<&Pole>, d: V2| {
            pole.is_some_and(|p| inside(ring, p.centre + d))
        };
        within(&self.ring, other.poles.first(), d) || within(&other.ring, self.poles.first(), -d)
    }

    fn poles_meet(&self, other: &Form, d: V2) -> bool {
        // The first few discs are the large ones, and settle most cases.
        let few = |f: &'_ Form| f.poles.len().min(Discs::Few.most());
        self.poles[..few(self)].iter().any(|p| {
            other.poles[..few(other)].iter().any(|q| {
                let r = p.radius + q.radius;
                (q.centre + d - p.centre).norm_squared() < r * r
            })
        })
    }

    fn edges_meet(&self, other: &Form, d: V2, near: &mut Vec<[f64; 4]>) -> bool {
        let low = self.low.sup(&(other.low + d));
        let high = self.high.inf(&(other.high + d));
        let reaches = |e: &[f64; 4]| {
            e[0].max(e[2]) >= low.x
                && e[0].min(e[2]) <= high.x
                && e[1].max(e[3]) >= low.y
                && e[1].min(e[3]) <= high.y
        };
        let mut own = self.edges.iter().filter(|e| reaches(e)).peekable();
        if own.peek().is_none() {
            return false;
        }
        near.clear();
        let moved = other.edges.iter().map(|e| [e[0] + d.x, e[1] + d.y, e[2] + d.x, e[3] + d.y]);
        near.extend(moved.filter(reaches));
        own.any(|e| near.iter().any(|f| edges_touch(e, f)))
    }

    /// How much they overlap: every pair of discs by how deep they enter each other, times the
    /// lesser radius, under the root; so in mm. Discs that do not meet count the less the
    /// further apart they are. After Gardeyn and Vanden Berghe's measure (arXiv:2509.13329),
    /// with a weight for large parts, which are harder to find another place for.
    pub(super) fn depth(&self, other: &Form, d: V2) -> f64 {
        let size = (self.convex_area * other.convex_area).sqrt().sqrt();
        let shallow = SHALLOW * size;
        let mut sum = 0.0;
        for p in &self.poles {
            for q in &other.poles {
                let deep = p.radius + q.radius - (q.centre + d - p.centre).norm();
                let counted =
                    if deep >= shallow { deep } else { shallow * shallow / (2.0 * shallow - deep) };
                sum += counted * p.radius.min(q.radius);
            }
        }
        (sum.sqrt() + shallow) * size
    }
}

/// Whether two segments have a point in common.
fn edges_touch(e: &[f64; 4], f: &[f64; 4]) -> bool {
    if e[0].max(e[2]) < f[0].min(f[2])
        || f[0].max(f[2]) < e[0].min(e[2])
        || e[1].max(e[3]) < f[1].min(f[3])
        || f[1].max(f[3]) < e[1].min(e[3])
    {
        return false;
    }
    let side =
        |s: &[f64; 4], x: f64, y: f64| (s[2] - s[0]) * (y - s[1]) - (s[3] - s[1]) * (x - s[0]);
    side(e, f[0], f[1]) * side(e, f[2], f[3]) <= 0.0
        && side(f, e[0], e[1]) * side(f, e[2], e[3]) <= 0.0
}

/// A ring with the corners left out that lie within `tol` mm of it (Douglas and Peucker, 1973).
pub(super) fn thinned(ring: &[P2], tol: f64) -> Vec<P2> {
    use geo::Simplify;
    let close = ring.iter().chain(ring.first());
    let line: geo::LineString<f64> = close.map(|p| geo::Coord { x: p.x, y: p.y }).collect();
    let mut points: Vec<P2> =
        line.simplify(tol.max(1e-6)).0.iter().map(|c| P2::new(c.x, c.y)).collect();
    points.pop();
    points
}

/// The corners that growing would cut off.
fn sharp_corners(ring: &[P2]) -> impl Iterator<Item = P2> + '_ {
    let n = ring.len();
    let sign = area(ring).signum();
    (0..n).filter_map(move |i| {
        let (before, at, after) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
        let (a, b) = (before - at, after - at);
        let convex = sign * b.perp(&a) > 0.0;
        let angle = b.perp(&a).abs().atan2(a.dot(&b));
        (convex && angle < SHARP).then_some(at)
    })
}

/// Eight corners around a disc of that radius.
fn cap(centre: P2, radius: f64) -> Vec<P2> {
    let out = radius / (std::f64::consts::PI / 8.0).cos();
    (0..8)
        .map(|k| {
            let (s, c) = (f64::from(k) * std::f64::consts::FRAC_PI_4).sin_cos();
            P2::new(centre.x + out * c, centre.y + out * s)
        })
        .collect()
}

fn convex_area(ring: &[P2]) -> f64 {
    use geo::{Area, ConvexHull};
    let points: geo::MultiPoint<f64> = ring.iter().map(|p| geo::Point::new(p.x, p.y)).collect();
    points.convex_hull().unsigned_area()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::ring::from_ring;

    const AS_DRAWN: Attitude = Attitude { mirrored: false, angle: 0.0 };

    fn ring(corners: &[(f64, f64)]) -> Vec<P2> {
        corners.iter().map(|(x, y)| P2::new(*x, *y)).collect()
    }

    /// A bow's tip of 8° keeps its distance all round.
    #[test]
    fn growing_keeps_the_kerf_at_sharp_corners() {
        let tip = ring(&[(0.0, 0.0), (1000.0, 0.0), (1000.0, 140.0)]);
        let blank = Blank::grown(&tip, 3.0, Discs::All);
        let least = blank.ring.iter().map(|p| from_ring(*p, &tip)).fold(f64::INFINITY, f64::min);
        let mut along = f64::INFINITY;
        for (a, b) in crate::geom::ring::edges(&blank.ring) {
            for k in 0..=100 {
                along = along.min(from_ring(a + (b - a) * (f64::from(k) / 100.0), &tip));
            }
        }
        assert!(least >= 3.0 && along >= 3.0, "{least} {along}");
        assert!(blank.ring.iter().all(|p| !inside(&tip, *p)));
    }

    /// Beside geo, over places all round: a C that holds a square, a square in a square.
    #[test]
    fn meeting_agrees_with_the_library() {
        use geo::Intersects;
        let c = ring(&[
            (0.0, 0.0),
            (90.0, 0.0),
            (90.0, 20.0),
            (20.0, 20.0),
            (20.0, 80.0),
            (90.0, 80.0),
            (90.0, 100.0),
            (0.0, 100.0),
        ]);
        let square = ring(&[(0.0, 0.0), (30.0, 5.0), (25.0, 35.0), (-5.0, 30.0)]);
        let polygon = |f: &Form, d: V2| {
            let line: geo::LineString<f64> =
                f.ring.iter().map(|p| geo::Coord { x: p.x + d.x, y: p.y + d.y }).collect();
            geo::Polygon::new(line, vec![])
        };
        let (a, b) = (
            Blank::of(c, Discs::All).turned(AS_DRAWN),
            Blank::of(square, Discs::All).turned(AS_DRAWN),
        );
        let mut near = Vec::new();
        let mut met = 0;
        for i in 0..60 {
            for j in 0..60 {
                let d = V2::new(-90.0 + 3.03 * f64::from(i), -90.0 + 3.07 * f64::from(j));
                let theirs = polygon(&a, V2::zeros()).intersects(&polygon(&b, d));
                assert_eq!(a.meets(&b, d, &mut near), theirs, "{d}");
                assert_eq!(b.meets(&a, -d, &mut near), theirs, "{d}");
                met += usize::from(theirs);
            }
        }
        assert!((500..3000).contains(&met), "{met}");
    }

    /// A tip that enters through an edge which bounds the other's box, found by random parts: the
    /// edge lay a ten-millionth of a millimetre outside the box that was looked at.
    #[test]
    fn a_tip_through_the_outermost_edge_is_seen() {
        let star = ring(&[
            (576.9491, 655.4812),
            (271.0780, 411.4598),
            (178.7344, 351.8513),
            (0.0100, 218.1926),
            (75.8827, 50.6197),
            (260.3729, 148.1164),
            (603.4590, 0.0100),
            (603.4590, 358.0781),
        ]);
        let tip = ring(&[(572.5147, 14.5549), (1082.5448, 160.2213), (667.7468, 253.7213)]);
        let form = |r: &[P2]| Blank::grown(r, 1.006, Discs::All).turned(AS_DRAWN);
        let (a, b) = (form(&star), form(&tip));
        let mut near = Vec::new();
        let d = b.centre - a.centre;
        assert!(a.meets(&b, d, &mut near) && b.meets(&a, -d, &mut near));
    }

    #[test]
    fn the_measure_falls_as_they_part() {
        let square = ring(&[(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]);
        let a = Blank::of(square, Discs::All).turned(AS_DRAWN);
        let depths: Vec<f64> =
            (0..20).map(|k| a.depth(&a, V2::new(10.0 * f64::from(k), 0.0))).collect();
        assert!(depths.windows(2).all(|w| w[1] < w[0]), "{depths:?}");
    }
}
