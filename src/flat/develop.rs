//! Laying a run of rulings flat, strip by strip, with every length kept.
//!
//! Each strip between two rulings is two triangles over its shorter diagonal; a triangle
//! keeps its shape when laid flat, so ruling lengths, edge lengths between rulings and
//! strip areas are those in space, to rounding. On a developable surface the strips are
//! plane and the diagonals agree; the error of the whole falls with the square of the
//! strips' width (see [`super::error`]).

use crate::geom::{P2, P3, V2};
use crate::panel::{EdgeKind, Surface};
use crate::tol::NO_RULING_MM;

/// One ruling on the pattern surface, in space and in the flat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlatRuling {
    /// Lower end in space, mm.
    pub lower: P3,
    /// Upper end in space, mm.
    pub upper: P3,
    /// Lower end in the flat, mm: u aft along the panel, v up.
    pub flat_lower: P2,
    /// Upper end in the flat, mm.
    pub flat_upper: P2,
    /// Where the lower end lies.
    pub lower_on: EdgeKind,
    /// Where the upper end lies.
    pub upper_on: EdgeKind,
    /// Signed warp of the ruling, radians.
    pub warp: f64,
}

/// A run of rulings laid flat.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatPanel {
    /// Bow to stern.
    pub rulings: Vec<FlatRuling>,
    /// Area (mm²) of the strips in space, over the same diagonals as in the flat.
    pub area_in_space: f64,
}

/// Lays `surface`, moved outward by `offset` mm, flat. The lower edge's chord lies along
/// u with the bow at the left, the panel above it.
pub fn develop(surface: &Surface, offset: f64) -> FlatPanel {
    let mut rulings: Vec<FlatRuling> = surface
        .rulings
        .iter()
        .map(|r| FlatRuling {
            lower: r.lower + offset * r.normal_lower,
            upper: r.upper + offset * r.normal_upper,
            flat_lower: P2::origin(),
            flat_upper: P2::origin(),
            lower_on: r.lower_on,
            upper_on: r.upper_on,
            warp: r.warp,
        })
        .collect();
    let area_in_space = lay(&mut rulings);
    lay_along_chord(&mut rulings);
    FlatPanel { rulings, area_in_space }
}

/// The flat place of `c` on the left of the flat edge from `a` to `b`, given the triangle
/// in space; `None` if the edge has no length there.
fn third_corner(space: [P3; 3], a: P2, b: P2) -> Option<P2> {
    let base = space[1] - space[0];
    let length = base.norm();
    if length < NO_RULING_MM {
        return None;
    }
    let side = space[2] - space[0];
    let along = side.dot(&base) / length;
    let height = side.cross(&base).norm() / length;
    let e = (b - a).try_normalize(1e-12)?;
    Some(a + along * e + height * V2::new(-e.y, e.x))
}

fn triangle_area(a: P3, b: P3, c: P3) -> f64 {
    0.5 * (b - a).cross(&(c - a)).norm()
}

/// Lays the rulings one after another and returns the area of the strips in space.
///
/// Going aft with the lower edge below, the strip lies to the right of its forward ruling
/// taken upward, so triangles are built on edges taken downward.
pub(super) fn lay(rulings: &mut [FlatRuling]) -> f64 {
    let mut area = 0.0;
    rulings[0].flat_lower = P2::origin();
    let first = (rulings[0].upper - rulings[0].lower).norm();
    rulings[0].flat_upper = P2::new(0.0, first);
    for k in 1..rulings.len() {
        let (before, rest) = rulings.split_at_mut(k);
        let (from, to) = (&before[k - 1], &mut rest[0]);
        let (a, b, c, d) = (from.lower, from.upper, to.lower, to.upper);
        let (fa, fb) = (from.flat_lower, from.flat_upper);
        let over_lower = (c - b).norm_squared() <= (d - a).norm_squared();
        // Where the forward ruling has no length the strip is one triangle, laid along u; in a
        // fan about that point it is a line, laid up.
        if (b - a).norm() < NO_RULING_MM {
            to.flat_lower = fa + V2::new((c - a).norm(), 0.0);
            to.flat_upper = third_corner([a, c, d], fa, to.flat_lower)
                .unwrap_or_else(|| to.flat_lower + V2::new(0.0, (d - c).norm()));
            area += triangle_area(a, c, d);
            continue;
        }
        if over_lower {
            to.flat_lower = third_corner([b, a, c], fb, fa).unwrap_or(fa);
            to.flat_upper = third_corner([b, c, d], fb, to.flat_lower).unwrap_or(fb);
            area += triangle_area(a, b, c) + triangle_area(b, c, d);
        } else {
            to.flat_upper = third_corner([b, a, d], fb, fa).unwrap_or(fb);
            to.flat_lower = third_corner([d, a, c], to.flat_upper, fa).unwrap_or(fa);
            area += triangle_area(a, b, d) + triangle_area(a, d, c);
        }
    }
    area
}

/// Turns and shifts the flat so that the chord of the lower edge lies along u from the
/// origin.
fn lay_along_chord(rulings: &mut [FlatRuling]) {
    let origin = rulings[0].flat_lower;
    let chord = rulings[rulings.len() - 1].flat_lower - origin;
    let Some(e) = chord.try_normalize(NO_RULING_MM) else {
        return;
    };
    let turn = |p: P2| {
        let d = p - origin;
        P2::new(d.dot(&e), e.perp(&d))
    };
    for r in rulings {
        r.flat_lower = turn(r.flat_lower);
        r.flat_upper = turn(r.flat_upper);
    }
}

impl FlatPanel {
    /// The flat lower edge on its own line, bow to stern.
    pub fn lower_edge(&self) -> Vec<P2> {
        let on = self.rulings.iter().filter(|r| r.lower_on == EdgeKind::Line);
        on.map(|r| r.flat_lower).collect()
    }

    /// The flat upper edge on its own line, bow to stern.
    pub fn upper_edge(&self) -> Vec<P2> {
        let on = self.rulings.iter().filter(|r| r.upper_on == EdgeKind::Line);
        on.map(|r| r.flat_upper).collect()
    }

    /// The flat forward edge from lower to upper corner: the first ruling, or the run of
    /// trimmed ends.
    pub fn bow_edge(&self) -> Vec<P2> {
        self.end_edge(EdgeKind::Bow)
    }

    /// The flat after edge from lower to upper corner.
    pub fn stern_edge(&self) -> Vec<P2> {
        self.end_edge(EdgeKind::Stern)
    }

    fn end_edge(&self, kind: EdgeKind) -> Vec<P2> {
        let bow = kind == EdgeKind::Bow;
        let n = self.rulings.len();
        let end = if bow { &self.rulings[0] } else { &self.rulings[n - 1] };
        let on_lower: Vec<P2> =
            self.rulings.iter().filter(|r| r.lower_on == kind).map(|r| r.flat_lower).collect();
        let on_upper: Vec<P2> =
            self.rulings.iter().filter(|r| r.upper_on == kind).map(|r| r.flat_upper).collect();
        let corner_lower = if bow {
            self.lower_edge().first().copied()
        } else {
            self.lower_edge().last().copied()
        };
        let corner_upper = if bow {
            self.upper_edge().first().copied()
        } else {
            self.upper_edge().last().copied()
        };
        let mut edge = vec![corner_lower.unwrap_or(end.flat_lower)];
        // Lower ends on the edge run from the lower corner to the upper going outward,
        // upper ends from the upper corner to the lower.
        if bow {
            edge.extend(on_lower.iter().rev());
            edge.extend(on_upper.iter());
        } else {
            edge.extend(on_lower.iter());
            edge.extend(on_upper.iter().rev());
        }
        edge.push(corner_upper.unwrap_or(end.flat_upper));
        edge
    }

    /// The strip's area in the flat, mm².
    pub fn area_in_flat(&self) -> f64 {
        let mut polygon: Vec<P2> = self.rulings.iter().map(|r| r.flat_lower).collect();
        polygon.extend(self.rulings.iter().rev().map(|r| r.flat_upper));
        crate::geom::polyline::area(&polygon).abs()
    }
}
