//! Two neighbouring lines, and the warp of the rulings between them.

use crate::curve::{Jet, Spline};
use crate::geom::plane::Plane;
use crate::geom::{P3, V3, unit};
use crate::tol::NO_RULING_MM;

/// The sine of the angle between a ruling and a line's tangent below which the ruling
/// runs along the line rather than across: no panel can be made of such rulings.
const ALONG_THE_LINE: f64 = 0.05;

/// How a panel ends at the bow or the stern.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EndEdge {
    /// The edge is straight: a ruling from line end to line end.
    Ruling,
    /// The lines run on and the panel is cut off by this plane; the kept side is the one
    /// to which the normal does not point.
    Trim {
        /// Where it is cut off.
        plane: Plane,
        /// How far the lines run on past their ends, as a share of their length.
        run_on: f64,
    },
}

/// The lower and upper line of a panel and how it ends, in shares: u and v run from 0 at
/// the bow to 1 at the stern, a little beyond where an end is trimmed.
#[derive(Debug, Clone, Copy)]
pub struct Pair<'a> {
    /// The lower line, A(u).
    pub lower: &'a Spline,
    /// The upper line, B(v).
    pub upper: &'a Spline,
    /// The forward edge.
    pub bow: EndEdge,
    /// The after edge.
    pub stern: EndEdge,
}

/// A ruling's two tangent planes, for one pair (u, v).
#[derive(Debug, Clone, Copy)]
pub(super) struct Bridge {
    pub lower: P3,
    pub upper: P3,
    /// Unit outward normal (starboard half) of the plane through the ruling and the lower
    /// line's tangent; `None` where there is none.
    pub normal_lower: Option<V3>,
    /// The same with the upper line's tangent.
    pub normal_upper: Option<V3>,
    pub length: f64,
    /// Signed sine of the warp; 0 where the ruling has no length.
    pub sin_warp: f64,
    /// Whether the ruling crosses both lines clearly and the two planes face the same way.
    pub sound: bool,
}

impl<'a> Pair<'a> {
    /// Least and greatest share of both lines: [0, 1], more at a trimmed end.
    pub fn range(&self) -> (f64, f64) {
        let run_on = |edge| match edge {
            EndEdge::Trim { run_on, .. } => run_on,
            EndEdge::Ruling => 0.0,
        };
        (-run_on(self.bow), 1.0 + run_on(self.stern))
    }

    /// Position and derivatives on the lower line.
    pub fn lower_jet(&self, u: f64) -> Jet {
        self.lower.jet(u * self.lower.end())
    }

    /// Position and derivatives on the upper line.
    pub fn upper_jet(&self, v: f64) -> Jet {
        self.upper.jet(v * self.upper.end())
    }

    pub(super) fn bridge(&self, u: f64, v: f64) -> Bridge {
        bridge_of(&self.lower_jet(u), &self.upper_jet(v))
    }

    /// Signed sine of the warp of the ruling from `u` to `v`.
    pub fn sin_warp(&self, u: f64, v: f64) -> f64 {
        let (a, ta) = self.lower.place(u * self.lower.end());
        let (b, tb) = self.upper.place(v * self.upper.end());
        // As `bridge_of` has it, and nothing else: roots ask for it ten times a ruling.
        let r = b - a;
        let length = r.norm();
        if length < NO_RULING_MM {
            return 0.0;
        }
        let r = r / length;
        match (unit(r.cross(&ta)), unit(r.cross(&tb))) {
            (Some(la), Some(lb)) => la.cross(&lb).dot(&r),
            _ => 0.0,
        }
    }

    /// Sine of the warp of least size, where `u` or `v` may sit on a knuckle and either
    /// piece's tangent may be taken.
    /// `bridge` is the ruling from `u` to `v`.
    pub(super) fn least_sin_warp(&self, u: f64, v: f64, bridge: &Bridge) -> f64 {
        let (tu, tv) = (u * self.lower.end(), v * self.upper.end());
        let near = |line: &Spline, t: f64| {
            line.knuckles().iter().copied().find(|k| (k - t).abs() < 1e-6 * line.end())
        };
        let (ku, kv) = (near(self.lower, tu), near(self.upper, tv));
        if ku.is_none() && kv.is_none() {
            return bridge.sin_warp;
        }
        let sides = |line: &Spline, t: f64, k: Option<f64>| match k {
            Some(k) => [line.jet_before(k), line.jet(k)],
            None => [line.jet(t); 2],
        };
        let mut least = f64::INFINITY;
        for a in sides(self.lower, tu, ku) {
            for b in sides(self.upper, tv, kv) {
                let w = bridge_of(&a, &b).sin_warp;
                if w.abs() < least.abs() {
                    least = w;
                }
            }
        }
        least
    }
}

pub(super) fn bridge_of(a: &Jet, b: &Jet) -> Bridge {
    bridge_between((a, least_across(a)), (b, least_across(b)))
}

/// How much of a ruling's cross product with this tangent is the least that crosses the line.
pub(super) fn least_across(a: &Jet) -> f64 {
    ALONG_THE_LINE * a.d1.norm()
}

/// As [`bridge_of`], with [`least_across`] of both: a grid asks for each many times.
pub(super) fn bridge_between((a, across_a): (&Jet, f64), (b, across_b): (&Jet, f64)) -> Bridge {
    let r = b.p - a.p;
    let length = r.norm();
    let mut bridge = Bridge {
        lower: a.p,
        upper: b.p,
        normal_lower: None,
        normal_upper: None,
        length,
        sin_warp: 0.0,
        sound: true,
    };
    if length < NO_RULING_MM {
        return bridge;
    }
    let r = r / length;
    // The starboard side's outward normal: ruling (up and out) × tangent (aft).
    let (na, nb) = (r.cross(&a.d1), r.cross(&b.d1));
    bridge.normal_lower = unit(na);
    bridge.normal_upper = unit(nb);
    if let (Some(la), Some(lb)) = (bridge.normal_lower, bridge.normal_upper) {
        bridge.sin_warp = la.cross(&lb).dot(&r);
        bridge.sound = la.dot(&lb) > 0.0 && na.norm() > across_a && nb.norm() > across_b;
    } else {
        bridge.sound = false;
    }
    bridge
}
