//! Regions of the plane as simple polygons, cut and joined.
//!
//! The work is done by the `geo` crate's polygon clipping, which snaps to a grid of about
//! a millionth of a mm at these sizes. Rings are without their closing point, outer rings
//! anticlockwise; holes are not kept, as nothing that is sawn here has any.

use geo::algorithm::buffer::{Buffer, BufferStyle, LineJoin};
use geo::{
    Area, BooleanOps, BoundingRect, Coord, LineString, MultiPolygon, Polygon, Rect,
    TriangulateEarcut,
};

use super::P2;
use super::polyline::{first_self_crossing, without_repeats};
use super::segment::from_segment;

/// Pieces smaller than this (mm²) are crumbs of the clipping, not wood.
const CRUMB_MM2: f64 = 0.5;

/// The least sine of half a corner at which growing keeps the corner sharp; a sharper one
/// (under 40°) is cut off so that no needle sticks out.
const SHARPEST_CORNER: f64 = 0.35;

/// Neighbouring corners closer than this (mm) are one.
const SAME_CORNER_MM: f64 = 1e-4;

/// Where the two lines of a corner miss each other by a hair, cutting leaves a spur that no saw
/// follows and that, rounded to what a file holds, crosses its neighbours: corners so far apart
/// (mm) are then made one, the nearest first.
const SPURS_MM: [f64; 2] = [0.05, 0.2];

/// A corner so near (mm) an edge that is not its own lies on it, as far as files can tell.
const TOUCHING_MM: f64 = 2e-4;
/// Corners of a spur at most.
const SPUR_CORNERS: usize = 4;

/// A set of simple polygons that do not overlap.
#[derive(Debug, Clone, PartialEq)]
pub struct Region(MultiPolygon<f64>);

impl Default for Region {
    fn default() -> Self {
        Region(MultiPolygon::new(Vec::new()))
    }
}

impl Region {
    /// The inside of a ring; empty for fewer than three corners.
    pub fn of(ring: &[P2]) -> Region {
        if ring.len() < 3 {
            return Region::default();
        }
        let line: LineString<f64> = ring.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
        Region(MultiPolygon::new(vec![Polygon::new(line, vec![])]))
    }

    /// What lies in any of `rings`.
    pub fn any_of(rings: &[Vec<P2>]) -> Region {
        let polygons: Vec<Polygon<f64>> = rings.iter().flat_map(|r| Region::of(r).0.0).collect();
        Region(geo::unary_union(&polygons))
    }

    /// A disc as a polygon of `corners` corners on its rim.
    pub fn disc(centre: P2, radius: f64, corners: usize) -> Region {
        let corner = |i: usize| {
            let a = std::f64::consts::TAU * i as f64 / corners as f64;
            P2::new(centre.x + radius * a.cos(), centre.y + radius * a.sin())
        };
        Region::of(&(0..corners).map(corner).collect::<Vec<_>>())
    }

    /// What lies within `reach` mm of an open polyline, its ends and corners rounded.
    pub fn along(line: &[P2], reach: f64) -> Region {
        let points: LineString<f64> = line.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
        match line.len() > 1 && reach > 0.0 {
            true => Region(points.buffer(reach)),
            false => Region::default(),
        }
    }

    /// What lies in both.
    pub fn and(&self, other: &Region) -> Region {
        match (self.0.bounding_rect(), other.0.bounding_rect()) {
            (Some(a), Some(b)) if !apart(a, b) => Region(self.0.intersection(&other.0)),
            _ => Region::default(),
        }
    }

    /// What lies in either.
    pub fn or(&self, other: &Region) -> Region {
        Region(self.0.union(&other.0))
    }

    /// What lies in this and not in the other.
    pub fn minus(&self, other: &Region) -> Region {
        if other.is_empty() {
            return self.clone();
        }
        Region(self.0.difference(&other.0))
    }

    /// Grown outward (or shrunk, if negative) by `by` mm, corners kept sharp unless they are
    /// sharper than 40° or so.
    pub fn grown(&self, by: f64) -> Region {
        let style = BufferStyle::new(by).line_join(LineJoin::Miter(SHARPEST_CORNER));
        Region(self.0.buffer_with_style(style))
    }

    /// Whether there is nothing of it.
    pub fn is_empty(&self) -> bool {
        self.0.0.is_empty()
    }

    /// Its area, mm².
    pub fn area(&self) -> f64 {
        self.0.unsigned_area()
    }

    /// Outer rings of all pieces, the largest first, crumbs left out.
    pub fn rings(&self) -> Vec<Vec<P2>> {
        let mut sized: Vec<(f64, Vec<P2>)> = self
            .0
            .iter()
            .map(|p| (p.unsigned_area(), ring(p.exterior())))
            .filter(|(a, r)| *a > CRUMB_MM2 && r.len() >= 3)
            .collect();
        sized.sort_by(|a, b| b.0.total_cmp(&a.0));
        sized.into_iter().map(|(_, r)| r).collect()
    }

    /// Its inside as triangles: corners, and three indices each, anticlockwise.
    pub fn triangles(&self) -> (Vec<P2>, Vec<[usize; 3]>) {
        let (mut corners, mut triangles) = (Vec::new(), Vec::new());
        for polygon in &self.0.0 {
            for t in polygon.earcut_triangles_iter() {
                let first = corners.len();
                let ring: Vec<P2> = t.to_array().iter().map(|c| P2::new(c.x, c.y)).collect();
                let left = (ring[1] - ring[0]).perp(&(ring[2] - ring[0])) >= 0.0;
                corners.extend(ring);
                triangles.push(if left {
                    [first, first + 1, first + 2]
                } else {
                    [first, first + 2, first + 1]
                });
            }
        }
        (corners, triangles)
    }

    /// The outer ring of its largest piece; empty if there is none.
    pub fn largest(&self) -> Vec<P2> {
        self.rings().into_iter().next().unwrap_or_default()
    }
}

/// Boxes further apart than this (mm), far over the clipping's grid, share nothing.
const APART_MM: f64 = 0.01;

fn apart(a: Rect<f64>, b: Rect<f64>) -> bool {
    let gap = |a0: f64, a1: f64, b0: f64, b1: f64| a1 + APART_MM < b0 || b1 + APART_MM < a0;
    gap(a.min().x, a.max().x, b.min().x, b.max().x)
        || gap(a.min().y, a.max().y, b.min().y, b.max().y)
}

fn ring(line: &LineString<f64>) -> Vec<P2> {
    let clean = |tol: f64| {
        let mut points = without_repeats(line.0.iter().map(|c| P2::new(c.x, c.y)), tol);
        while points.len() > 1 && (points[0] - points[points.len() - 1]).norm() <= tol {
            points.pop();
        }
        points
    };
    let first = clean(SAME_CORNER_MM);
    let mut points = if is_simple_written(&first) {
        first
    } else {
        let tried = SPURS_MM.into_iter().map(clean).find(|p| p.len() >= 3 && is_simple_written(p));
        tried.unwrap_or(first)
    };
    if super::polyline::area(&points) < 0.0 {
        points.reverse();
    }
    points
}

/// Whether a point may touch a segment: most lie far from the box around it.
fn near_box(p: P2, a: P2, b: P2) -> bool {
    let off = |p: f64, a: f64, b: f64| p < a.min(b) - TOUCHING_MM || p > a.max(b) + TOUCHING_MM;
    !off(p.x, a.x, b.x) && !off(p.y, a.y, b.y)
}

/// Whether a ring does not cross itself, nor when it is rounded to a ten-thousandth of a
/// millimetre, which is what files hold; and no corner lies on an edge close by.
fn is_simple_written(ring: &[P2]) -> bool {
    // A cast rounds towards nothing, and is no call as `round` is.
    let written = |c: f64| (c * 1e4 + 0.5f64.copysign(c)) as i64 as f64 / 1e4;
    let rounded: Vec<P2> = ring.iter().map(|p| p.map(written)).collect();
    let n = ring.len();
    // A spur has no more corners than this; those of an edge are no further on than that.
    let at = |k: usize| ring[if k < n { k } else { k - n }];
    let touches = |i: usize| {
        (1..=SPUR_CORNERS.min(n.saturating_sub(2))).any(|k| {
            let (a, b) = (at(i + k), at(i + k + 1));
            let (c, d) = (at(i + n - k), at(i + n - k - 1));
            [(a, b), (c, d)].iter().any(|(a, b)| {
                near_box(ring[i], *a, *b) && from_segment(ring[i], *a, *b) < TOUCHING_MM
            })
        })
    };
    first_self_crossing(ring).is_none()
        && first_self_crossing(&rounded).is_none()
        && !(0..n).any(touches)
}

/// The corners of the smallest convex polygon around `points`, anticlockwise.
pub fn hull_of(points: &[P2]) -> Vec<P2> {
    use geo::ConvexHull;
    let line: LineString<f64> = points.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
    ring(line.convex_hull().exterior())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, side: f64) -> Region {
        Region::of(&[
            P2::new(x, y),
            P2::new(x + side, y),
            P2::new(x + side, y + side),
            P2::new(x, y + side),
        ])
    }

    #[test]
    fn areas_of_two_squares_add_up() {
        let (a, b) = (square(0.0, 0.0, 10.0), square(6.0, 6.0, 10.0));
        assert!((a.and(&b).area() - 16.0).abs() < 1e-6);
        assert!((a.or(&b).area() - 184.0).abs() < 1e-6);
        assert!((a.minus(&b).area() - 84.0).abs() < 1e-6);
        assert_eq!(a.minus(&b).largest().len(), 6);
        assert!(a.and(&square(30.0, 0.0, 1.0)).is_empty());
        assert_eq!(hull_of(&a.or(&b).largest()).len(), 6);
    }

    /// The lower corners of two frames' limbs, as cutting left them: one crosses itself, the
    /// other lies on its own edge.
    #[test]
    fn a_spur_of_some_hundredths_is_no_corner() {
        let limbs: [&[[f64; 2]]; 2] = [
            &[
                [851.888, -98.2808],
                [516.6111, -98.2808],
                [502.5327, -162.2809],
                [852.7141, -162.2771],
                [852.7097, -162.2875],
                [852.7142, -162.2874],
            ],
            &[
                [329.4216, -84.6759],
                [109.6884, -84.676],
                [109.6884, -148.676],
                [244.7713, -148.6651],
                [329.4216, -148.3788],
                [329.416, -148.4158],
                [329.4216, -148.4159],
            ],
        ];
        for limb in limbs {
            let points: Vec<P2> = limb.iter().map(|[x, y]| P2::new(*x, *y)).collect();
            assert!(!is_simple_written(&points));
            let out = Region::of(&points).largest();
            assert_eq!(out.len(), points.len() - 2, "{out:?}");
            assert!(is_simple_written(&out));
        }
        let fine: Vec<P2> = limbs[0][..4].iter().map(|[x, y]| P2::new(*x, *y)).collect();
        assert_eq!(Region::of(&fine).largest().len(), 4);
    }
}
