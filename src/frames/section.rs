//! Sections of the moulded surface by a plane across the boat, in that plane's own
//! coordinates: y to starboard, v up it (for an upright plane v is z).

use crate::geom::plane::Plane;
use crate::geom::{P2, P3, V2, V3};
use crate::hull::HullLines;
use crate::material::Stiffness;
use crate::panel::Surface;
use crate::panel::section::crossings;

/// Points within this (mm) of the centreplane lie in it.
const IN_CENTREPLANE_MM: f64 = 1e-3;

/// One panel of the skin, as the frames see it.
#[derive(Debug, Clone, Copy)]
pub struct SkinPanel<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its moulded surface.
    pub surface: &'a Surface,
    /// Measured thickness of its sheet, mm.
    pub thickness: f64,
    /// Stiffness of its sheet along and across the panel.
    pub stiffness: Stiffness,
}

/// The skin: panels from the keel up, panel k between line k and line k + 1.
#[derive(Debug, Clone)]
pub struct Skin<'a> {
    /// The lines.
    pub lines: &'a HullLines,
    /// The panels.
    pub panels: Vec<SkinPanel<'a>>,
}

/// A plane across the boat with axes in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Across {
    /// The plane; its normal has no y.
    pub plane: Plane,
    /// Where v is 0, in the centreplane.
    pub origin: P3,
    /// Unit vector up the plane.
    pub up: V3,
}

impl Across {
    /// The station plane x = `x`; v is z.
    pub fn station(x: f64) -> Across {
        Across {
            plane: Plane { normal: V3::x(), offset: x },
            origin: P3::new(x, 0.0, 0.0),
            up: V3::z(),
        }
    }

    /// A transom's plane; v runs up its slope from height 0.
    pub fn transom(plane: Plane) -> Across {
        let n = plane.normal;
        // Up the slope: square to the normal in the centreplane, rising.
        let up = V3::new(-n.z, 0.0, n.x) * n.x.signum();
        let origin = P3::new(plane.offset / n.x, 0.0, 0.0);
        Across { plane, origin, up }
    }

    /// The plane `by` mm further along its normal, its axes carried along.
    pub fn moved(&self, by: f64) -> Across {
        Across {
            plane: Plane { normal: self.plane.normal, offset: self.plane.offset + by },
            origin: self.origin + by * self.plane.normal,
            up: self.up,
        }
    }

    /// A point of space in the plane's coordinates (its distance from the plane left out).
    pub fn flat(&self, p: P3) -> P2 {
        P2::new(p.y, (p - self.origin).dot(&self.up))
    }

    /// A direction of space in the plane's coordinates.
    pub fn flat_direction(&self, v: V3) -> V2 {
        V2::new(v.y, v.dot(&self.up))
    }

    /// A point of the plane in space.
    pub fn space(&self, p: P2) -> P3 {
        self.origin + V3::new(0.0, p.x, 0.0) + p.y * self.up
    }
}

/// A point of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionPoint {
    /// In the plane, mm.
    pub at: P2,
    /// The skin's outward unit normal there.
    pub normal: V3,
}

/// The part of a section that lies in one panel, from its lower to its upper line.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionEdge {
    /// Index of the panel.
    pub panel: usize,
    /// At least two points.
    pub points: Vec<SectionPoint>,
}

impl SectionEdge {
    /// The lower end.
    pub fn first(&self) -> &SectionPoint {
        &self.points[0]
    }

    /// The upper end.
    pub fn last(&self) -> &SectionPoint {
        &self.points[self.points.len() - 1]
    }

    /// Unit vector from the lower to the upper end.
    pub fn chord(&self) -> Option<V2> {
        (self.last().at - self.first().at).try_normalize(1e-9)
    }

    /// How far the section stands out from its chord at most, mm: positive outward (a gap
    /// left by a straight edge), negative where it is hollow (a straight edge would push
    /// the sheet out).
    pub fn crown(&self) -> f64 {
        let Some(e) = self.chord() else {
            return 0.0;
        };
        // The starboard half goes up with the outside on its right.
        let out = V2::new(e.y, -e.x);
        self.points
            .iter()
            .map(|p| (p.at - self.first().at).dot(&out))
            .fold(0.0, |most: f64, d| if d.abs() > most.abs() { d } else { most })
    }
}

/// Which edges of a frame are left straight, by panel; the rest are sawn to the skin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Shaping(u64);

impl Shaping {
    /// All edges sawn to the skin's true curve.
    pub const SHAPED: Shaping = Shaping(0);

    /// Straight along the panels for which `straight` says so; beyond 64 panels none is.
    pub fn of(panels: usize, straight: impl Fn(usize) -> bool) -> Shaping {
        Shaping((0..panels.min(64)).filter(|i| straight(*i)).fold(0, |bits, i| bits | 1 << i))
    }

    /// Whether the edge along panel `panel` is left straight.
    pub fn is_straight(self, panel: usize) -> bool {
        panel < 64 && self.0 & (1 << panel) != 0
    }
}

/// A section of the starboard half, from the keel up.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The plane.
    pub across: Across,
    /// Edges from the keel up; fewer than panels near the ends, where some are not cut.
    pub edges: Vec<SectionEdge>,
}

impl Section {
    /// The half section's points from the keel up, mm; no point twice.
    pub fn half(&self) -> Vec<P2> {
        let all = self.edges.iter().flat_map(|e| e.points.iter().map(|p| p.at));
        crate::geom::polyline::without_repeats(all, 1e-3)
    }

    /// The half section with some edges straight from knuckle to knuckle.
    pub fn half_with(&self, shaping: Shaping) -> Vec<P2> {
        let all = self.edges.iter().flat_map(|e| {
            if shaping.is_straight(e.panel) {
                vec![e.first().at, e.last().at]
            } else {
                e.points.iter().map(|p| p.at).collect()
            }
        });
        crate::geom::polyline::without_repeats(all, 1e-3)
    }

    /// The edge in panel `panel`.
    pub fn edge(&self, panel: usize) -> Option<&SectionEdge> {
        self.edges.iter().find(|e| e.panel == panel)
    }

    /// Half-breadth at height `v`, by the greatest crossing; `None` above and below.
    pub fn half_breadth_at(&self, v: f64) -> Option<f64> {
        let half = self.half();
        half.windows(2)
            .filter(|w| (w[0].y - v) * (w[1].y - v) <= 0.0 && w[0].y != w[1].y)
            .map(|w| w[0].x + (v - w[0].y) / (w[1].y - w[0].y) * (w[1].x - w[0].x))
            .reduce(f64::max)
    }

    /// The area of the half, between the section and the centreplane, mm².
    pub fn half_area(&self) -> f64 {
        crate::geom::polyline::area(&closed_half(&self.half())).abs()
    }
}

/// A half section closed along the centreline: from its foot on the centreline, up the
/// section, and back along the level of its head.
pub fn closed_half(half: &[P2]) -> Vec<P2> {
    let mut ring = half.to_vec();
    if let (Some(first), Some(last)) = (half.first(), half.last()) {
        ring.push(P2::new(0.0, last.y));
        ring.push(P2::new(0.0, first.y));
    }
    crate::geom::polyline::without_repeats(ring, 1e-6)
}

/// A half section with its mirror image as one ring: up to starboard, across the top, and
/// down to port.
pub fn whole(half: &[P2]) -> Vec<P2> {
    let mut ring = half.to_vec();
    ring.extend(half.iter().rev().map(|p| P2::new(-p.x, p.y)));
    let mut ring = crate::geom::polyline::without_repeats(ring, 1e-6);
    while ring.len() > 1 && (ring[0] - ring[ring.len() - 1]).norm() < 1e-6 {
        ring.pop();
    }
    ring
}

impl Skin<'_> {
    /// The section by a plane.
    pub fn section(&self, across: Across) -> Section {
        let edges = self
            .panels
            .iter()
            .enumerate()
            .filter_map(|(panel, p)| {
                let mut points: Vec<SectionPoint> = crossings(p.surface, across.plane, 0.0)
                    .into_iter()
                    .map(|c| SectionPoint { at: across.flat(c.point), normal: c.normal })
                    .collect();
                // What lies in the centreplane, as a fan between keel and chine on a stem
                // does, is both sides' skin pressed flat: no frame stands behind it.
                let flat = points.iter().take_while(|p| p.at.x.abs() < IN_CENTREPLANE_MM).count();
                points.drain(..flat.saturating_sub(1));
                (points.len() >= 2).then_some(SectionEdge { panel, points })
            })
            .collect();
        Section { across, edges }
    }
}
