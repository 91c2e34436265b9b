//! A part laid on a straight base line, and the marks by which a builder plots it at full
//! size with tape, square and batten.
//!
//! Every mark is two figures: how far along the base line, how far square from it. One of
//! the two is a round number and exact (along, where the edge runs along; off, where it
//! stands up), the other is rounded to what the tape shows. Corners are where a batten ends.
//! Which marks an edge gets is in `flat/choice.rs`.

use super::choice::{Chooser, Grid, Truth};
use super::corners::{Round, runs};
use crate::geom::region::Region;
use crate::geom::{P2, V2};
use crate::units::Units;

/// A batten through the marks may stray this far (mm) from the true edge: a pencil's line
/// and a saw's wander.
pub const ALLOWED_MM: f64 = 1.0;
/// A base line keeps this clear of the part, mm, and at its ends: room for saw and plane.
const CLEAR_MM: f64 = 10.0;
/// Half the range (radians) in which a part is turned to be as low as can be on its base
/// line, and the step.
const TURN_RANGE: f64 = 0.6;
const TURN_STEP: f64 = 0.005;
/// Tries of the finest shifts and turns that let corners fall on round figures.
const SHIFTS: usize = 16;
const TURNS: usize = 9;
const FINE_TURN: f64 = 0.0006;
/// How far (mm) the outline past an edge's corner is looked at.
const BESIDE_MM: f64 = 4.0;
/// What lies this near (mm) to the middle of a symmetric part lies in it.
const IN_MIDDLE_MM: f64 = 0.05;
/// Far beyond any part, mm.
const FAR_MM: f64 = 20_000.0;

/// Where a part's base line is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Seat {
    /// Wherever it lies lowest: the sheet's own long edge, or a line struck on it. `along`
    /// is about the way that it runs.
    Beside {
        /// From left to right with the part above it.
        along: V2,
    },
    /// A straight edge of the part itself: the board's or a sawn one.
    Edge {
        /// A point of it, mm.
        from: P2,
        /// Its direction, the part to its left.
        along: V2,
    },
    /// The middle of a symmetric part, struck along it; figures hold on both sides.
    Middle {
        /// Where figures along it begin, mm.
        from: P2,
        /// Its direction.
        along: V2,
    },
    /// A straight edge of a part that is symmetric across it; figures along it begin in the
    /// middle and hold both ways.
    EdgeFromMiddle {
        /// The middle of the edge, mm.
        from: P2,
        /// Its direction, the part to its left.
        along: V2,
    },
}

/// What mirrors the marks of a symmetric part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mirror {
    /// Nothing: the part is drawn whole.
    None,
    /// The base line: figures off it hold on both sides.
    Base,
    /// The square through its zero: figures along it hold both ways.
    Zero,
}

/// A place on the part: where it is, and where its printed figures put it (mm along the base
/// line and off it).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// The true place.
    pub exact: P2,
    /// The place that the figures give.
    pub printed: P2,
}

/// An edge from one corner to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Index of the corner at which it begins; it ends at the next.
    pub from: usize,
    /// Index of the corner at which it ends.
    pub to: usize,
    /// The true edge on the base line, mm.
    pub points: Vec<P2>,
    /// Marks between its corners, in order; none on a straight edge.
    pub marks: Vec<Mark>,
    /// It is bored or rounded with this circle (mm on the base line), not plotted.
    pub round: Option<Round>,
    /// It runs on across the middle of a symmetric part in one fair line, so that the batten
    /// lies through the marks of both sides.
    pub across: bool,
    /// Furthest that a batten through the printed marks strays from it, mm.
    pub error: f64,
}

/// A part laid on its base line.
#[derive(Debug, Clone, PartialEq)]
pub struct Plotted {
    /// Where the base line's zero lies on the pattern, mm.
    pub origin: P2,
    /// Direction of the base line on the pattern; off it is to its left.
    pub along: V2,
    /// What holds on both sides.
    pub mirror: Mirror,
    /// The base line is an edge of the part itself.
    pub on_edge: bool,
    /// The outline on the base line (half of a symmetric part), mm, anticlockwise.
    pub outline: Vec<P2>,
    /// Corners in order round the outline.
    pub corners: Vec<Mark>,
    /// Edges between them. The middle of a symmetric part is none.
    pub edges: Vec<Edge>,
}

impl Plotted {
    /// Lays `outline` (mm on the pattern, without its closing point) on its base line and
    /// chooses its marks; `rounds` are circles that parts of it lie on. `None` for what has
    /// no area.
    pub fn lay(outline: &[P2], rounds: &[Round], seat: Seat, units: Units) -> Option<Plotted> {
        let grid = Grid::of(units);
        let (origin, along, mirror) = match seat {
            Seat::Beside { along } => {
                let along = lowest(outline, along.try_normalize(1e-9)?);
                (P2::origin(), along, Mirror::None)
            }
            Seat::Edge { from, along } => (from, along.try_normalize(1e-9)?, Mirror::None),
            Seat::Middle { from, along } => (from, along.try_normalize(1e-9)?, Mirror::Base),
            Seat::EdgeFromMiddle { from, along } => {
                (from, along.try_normalize(1e-9)?, Mirror::Zero)
            }
        };
        let mut out = Plotted {
            origin,
            along,
            mirror,
            on_edge: matches!(seat, Seat::Edge { .. } | Seat::EdgeFromMiddle { .. }),
            outline: Vec::new(),
            corners: Vec::new(),
            edges: Vec::new(),
        };
        let ring = out.half(outline);
        if ring.len() < 3 {
            return None;
        }
        let on_base = |r: &Round| Round { centre: out.place(r.centre), radius: r.radius };
        let rounds: Vec<Round> = rounds.iter().map(on_base).collect();
        let found = runs(&ring, &rounds);
        let hard: Vec<P2> = found.iter().map(|r| ring[r.points[0]]).collect();
        let moved = out.settle(&ring, &hard, grid);
        out.outline = ring.iter().map(|p| moved.of(*p)).collect();
        out.corners = hard.iter().map(|p| grid.mark(moved.of(*p))).collect();
        for (i, run) in found.iter().enumerate() {
            let to = (i + 1) % found.len();
            let points: Vec<P2> = run.points.iter().map(|k| out.outline[*k]).collect();
            if points.iter().all(|p| out.in_middle(*p)) {
                continue;
            }
            let round = run.round.map(|r| Round { centre: moved.of(r.centre), radius: r.radius });
            let beside =
                [out.beside(run.points[0], -1), out.beside(run.points[run.points.len() - 1], 1)];
            let edge = out.edge((i, to), points, beside, round, grid);
            out.edges.push(edge);
        }
        Some(out)
    }

    /// A place of the pattern on the base line: (along, off), mm.
    pub fn place(&self, p: P2) -> P2 {
        let d = p - self.origin;
        P2::new(d.dot(&self.along), self.along.perp(&d))
    }

    /// A direction of the pattern seen from the base line.
    pub fn way(&self, v: V2) -> V2 {
        V2::new(v.dot(&self.along), self.along.perp(&v))
    }

    /// A place of the pattern as a mark.
    pub fn mark(&self, p: P2, units: Units) -> Mark {
        Grid::of(units).mark(self.place(p))
    }

    /// Furthest that any batten strays, mm.
    pub fn error(&self) -> f64 {
        self.edges.iter().map(|e| e.error).fold(0.0, f64::max)
    }

    /// The corner that lies furthest along `way` (on the base line).
    pub fn corner_towards(&self, way: V2) -> Option<usize> {
        (0..self.corners.len()).max_by(|a, b| {
            let d = |i: usize| self.corners[i].exact.coords.dot(&way);
            d(*a).total_cmp(&d(*b))
        })
    }

    /// The outline on the base line; of a symmetric part the half that is plotted.
    fn half(&self, outline: &[P2]) -> Vec<P2> {
        let ring: Vec<P2> = outline.iter().map(|p| self.place(*p)).collect();
        let keep = match self.mirror {
            Mirror::None => {
                let mut ring = ring;
                if crate::geom::polyline::area(&ring) < 0.0 {
                    ring.reverse();
                }
                return ring;
            }
            Mirror::Base => [(-FAR_MM, 0.0), (FAR_MM, 0.0), (FAR_MM, FAR_MM), (-FAR_MM, FAR_MM)],
            Mirror::Zero => [(0.0, -FAR_MM), (FAR_MM, -FAR_MM), (FAR_MM, FAR_MM), (0.0, FAR_MM)],
        };
        let keep = keep.map(|(x, y)| P2::new(x, y));
        Region::of(&ring).and(&Region::of(&keep)).largest()
    }

    pub(super) fn in_middle(&self, p: P2) -> bool {
        match self.mirror {
            Mirror::None => false,
            Mirror::Base => p.y.abs() < IN_MIDDLE_MM,
            Mirror::Zero => p.x.abs() < IN_MIDDLE_MM,
        }
    }

    pub(super) fn mirrored(&self, p: P2) -> P2 {
        match self.mirror {
            Mirror::None => p,
            Mirror::Base => P2::new(p.x, -p.y),
            Mirror::Zero => P2::new(-p.x, p.y),
        }
    }

    /// Shifts (and turns, where the base line is free) the part so that its corners fall on
    /// figures that rounding changes least; keeps `origin` and `along` true to it.
    fn settle(&mut self, ring: &[P2], hard: &[P2], grid: Grid) -> Moved {
        let (turns, up) = match (self.mirror, self.on_edge) {
            (Mirror::None, false) => (TURNS, SHIFTS),
            _ => (1, 1),
        };
        let across = if self.mirror == Mirror::Zero { 1 } else { SHIFTS };
        let mut best: Option<(f64, Moved)> = None;
        for t in 0..turns {
            let turn = FINE_TURN * (t as f64 - 0.5 * (turns - 1) as f64);
            let turned = Moved { turn, shift: V2::zeros() };
            let low = ring
                .iter()
                .map(|p| turned.of(*p))
                .fold(P2::new(f64::INFINITY, f64::INFINITY), |l, p| l.inf(&p));
            for i in 0..across {
                for j in 0..up {
                    let fine = |k: usize| grid.step * k as f64 / SHIFTS as f64;
                    let x = if across > 1 { CLEAR_MM - low.x + fine(i) } else { 0.0 };
                    let y = if up > 1 { CLEAR_MM - low.y + fine(j) } else { 0.0 };
                    let moved = Moved { turn, shift: V2::new(x, y) };
                    let worst = hard
                        .iter()
                        .map(|p| {
                            let m = grid.mark(moved.of(*p));
                            (m.exact - m.printed).norm()
                        })
                        .fold(0.0, f64::max);
                    if best.as_ref().is_none_or(|b| worst < b.0 - 1e-9) {
                        best = Some((worst, moved));
                    }
                }
            }
        }
        let moved = best.map_or(Moved { turn: 0.0, shift: V2::zeros() }, |b| b.1);
        // A point p of the pattern was at place(p); it is now at moved.of(place(p)).
        let up = V2::new(-self.along.y, self.along.x);
        let zero = moved.back(P2::origin());
        self.origin += zero.x * self.along + zero.y * up;
        let (sin, cos) = (-moved.turn).sin_cos();
        self.along = cos * self.along + sin * up;
        moved
    }

    fn edge(
        &self,
        (from, to): (usize, usize),
        points: Vec<P2>,
        beside: [Vec<P2>; 2],
        round: Option<Round>,
        grid: Grid,
    ) -> Edge {
        let ends = [self.corners[from], self.corners[to]];
        let across = self.runs_across(&points);
        let (mut marks, mut error) = (Vec::new(), 0.0);
        if round.is_none() {
            let truth = Truth::of(&points, beside);
            (marks, error) = Chooser::of(self, truth, ends, across, grid).choose();
        }
        Edge { from, to, points, marks, round, across, error }
    }

    /// The outline from its point `i` on, forward or back, for [`BESIDE_MM`]: what a rounded
    /// corner may lie on instead of its own edge.
    fn beside(&self, i: usize, way: isize) -> Vec<P2> {
        let n = self.outline.len() as isize;
        let mut out = vec![self.outline[i]];
        let mut length = 0.0;
        let mut k = i as isize;
        while length < BESIDE_MM && out.len() < self.outline.len() {
            k = (k + way).rem_euclid(n);
            let p = self.outline[k as usize];
            let step = p - out[out.len() - 1];
            let left = BESIDE_MM - length;
            length += step.norm();
            let whole = step.norm() <= left;
            out.push(if whole { p } else { out[out.len() - 1] + left / step.norm() * step });
        }
        out
    }

    /// Whether an edge reaches the middle of a symmetric part square to it, so that it goes
    /// on on the other side without a corner.
    fn runs_across(&self, points: &[P2]) -> bool {
        if self.mirror == Mirror::None || points.len() < 2 {
            return false;
        }
        let n = points.len();
        [(points[0], points[1]), (points[n - 1], points[n - 2])].into_iter().any(|(end, next)| {
            let d = next - end;
            let straight = match self.mirror {
                Mirror::Base => d.x.abs() < 0.1 * d.y.abs(),
                _ => d.y.abs() < 0.1 * d.x.abs(),
            };
            self.in_middle(end) && straight
        })
    }
}

/// A turn about the zero and a shift after it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Moved {
    turn: f64,
    shift: V2,
}

impl Moved {
    fn of(&self, p: P2) -> P2 {
        let (sin, cos) = self.turn.sin_cos();
        P2::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y) + self.shift
    }

    fn back(&self, p: P2) -> P2 {
        let (sin, cos) = self.turn.sin_cos();
        let d = p - self.shift;
        P2::new(cos * d.x + sin * d.y, -sin * d.x + cos * d.y)
    }
}

/// The direction near `along` in which the outline is least high.
fn lowest(outline: &[P2], along: V2) -> V2 {
    let count = (TURN_RANGE / TURN_STEP) as i32;
    let height = |e: V2| {
        let (low, high) = outline
            .iter()
            .map(|p| e.perp(&p.coords))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)));
        high - low
    };
    let turned = |k: i32| {
        let (sin, cos) = (f64::from(k) * TURN_STEP).sin_cos();
        V2::new(cos * along.x - sin * along.y, sin * along.x + cos * along.y)
    };
    (-count..=count).map(turned).min_by(|a, b| height(*a).total_cmp(&height(*b))).unwrap_or(along)
}
