//! Edges of solids as they are seen from one side: those that lie behind something are left out.
//!
//! Parallel projection. What lies in front is found by a depth buffer (Catmull 1974): every
//! triangle is drawn into it, and an edge is seen where nothing is nearer by more than the
//! buffer's own step. Edges are those between faces that turn by more than [`SHARP`], those with
//! one face, and those where a curved face turns away.

use std::collections::HashMap;

use crate::geom::{P2, P3, V3};
use crate::solid::Solid;

/// From where it is seen: across the page, up the page, towards the eye; square to each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eye {
    right: V3,
    up: V3,
    towards: V3,
}

impl Eye {
    /// From `azimuth` about the upright (0 from ahead, a quarter turn from starboard) and
    /// `height` above the level, radians. x runs aft, y to starboard, z up.
    pub fn at(azimuth: f64, height: f64) -> Eye {
        let (sin, cos) = azimuth.sin_cos();
        let flat = V3::new(-cos, sin, 0.0);
        let towards = height.cos() * flat + height.sin() * V3::z();
        let right = V3::new(-sin, -cos, 0.0);
        Eye { right, up: towards.cross(&right), towards }
    }

    /// On the page, mm of the thing itself, and how near it is.
    pub fn seen(&self, p: P3) -> (P2, f64) {
        let v = p.coords;
        (P2::new(v.dot(&self.right), v.dot(&self.up)), v.dot(&self.towards))
    }
}

/// Faces that turn by more than this show an edge, radians.
const SHARP: f64 = 0.35;
/// Corners nearer than this are one, mm.
const WELD_MM: f64 = 0.02;
/// Steps of the buffer across the longer side of a picture.
const STEPS: f64 = 1300.0;
/// An edge is drawn where nothing is nearer by more than so many steps and mm.
const BIAS_STEPS: f64 = 0.6;
const BIAS_MM: f64 = 1.2;
/// A run of an edge that is seen over fewer steps is a fault of the buffer's.
const LEAST_RUN: usize = 3;

/// What is nearest to the eye at each step of a picture.
struct Depths {
    low: P2,
    step: f64,
    columns: usize,
    rows: usize,
    near: Vec<f64>,
}

impl Depths {
    fn of(triangles: &[[(P2, f64); 3]]) -> Option<Depths> {
        let points = triangles.iter().flatten().map(|c| c.0);
        let (low, high) = crate::geom::polyline::bounds(points)?;
        let step = (high.x - low.x).max(high.y - low.y) / STEPS;
        if step.is_nan() || step <= 0.0 {
            return None;
        }
        let count = |span: f64| (span / step).ceil() as usize + 3;
        let (columns, rows) = (count(high.x - low.x), count(high.y - low.y));
        let near = vec![f64::NEG_INFINITY; columns * rows];
        let mut out = Depths { low, step, columns, rows, near };
        triangles.iter().for_each(|t| out.draw(t));
        Some(out)
    }

    /// Column and row, broken numbers.
    fn place(&self, p: P2) -> (f64, f64) {
        (1.0 + (p.x - self.low.x) / self.step, 1.0 + (p.y - self.low.y) / self.step)
    }

    /// Draws a triangle, row by row between its edges; one that is turned away hides nothing that
    /// the other faces of its solid do not.
    fn draw(&mut self, t: &[(P2, f64); 3]) {
        let [a, b, c] = t.map(|(p, _)| self.place(p));
        let twice = (b.0 - a.0) * (c.1 - a.1) - (c.0 - a.0) * (b.1 - a.1);
        if twice < 1e-9 {
            return;
        }
        let (near_b, near_c) = (t[1].1 - t[0].1, t[2].1 - t[0].1);
        let by_x = (near_b * (c.1 - a.1) - near_c * (b.1 - a.1)) / twice;
        let by_y = (near_c * (b.0 - a.0) - near_b * (c.0 - a.0)) / twice;
        let low = a.1.min(b.1).min(c.1).ceil().max(0.0) as usize;
        let high = (a.1.max(b.1).max(c.1).floor().max(0.0) as usize).min(self.rows - 1);
        for row in low..=high {
            let y = row as f64;
            let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
            for (p, q) in [(a, b), (b, c), (c, a)] {
                if (p.1 - y) * (q.1 - y) <= 0.0 {
                    let at = match p.1 == q.1 {
                        true => [p.0, q.0],
                        false => [p.0 + (y - p.1) / (q.1 - p.1) * (q.0 - p.0); 2],
                    };
                    from = from.min(at[0]).min(at[1]);
                    to = to.max(at[0]).max(at[1]);
                }
            }
            if from > to {
                continue;
            }
            let first = from.ceil().max(0.0) as usize;
            let last = (to.floor().max(0.0) as usize).min(self.columns - 1);
            for column in first..=last {
                let depth = t[0].1 + by_x * (column as f64 - a.0) + by_y * (y - a.1);
                let at = &mut self.near[row * self.columns + column];
                *at = at.max(depth);
            }
        }
    }

    /// Whether a point is seen: at one of the steps about it nothing is nearer.
    fn sees(&self, p: P2, depth: f64) -> bool {
        let (x, y) = self.place(p);
        let (column, row) = (x.round() as usize, y.round() as usize);
        let bias = BIAS_STEPS * self.step + BIAS_MM;
        let about = [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)];
        about.into_iter().any(|(i, k)| {
            let (c, r) = (column.checked_add_signed(i), row.checked_add_signed(k));
            match (c, r) {
                (Some(c), Some(r)) if c < self.columns && r < self.rows => {
                    self.near[r * self.columns + c] <= depth + bias
                }
                _ => true,
            }
        })
    }
}

/// An edge with the faces beside it.
struct Edge {
    ends: [P3; 2],
    faces: Vec<V3>,
}

/// The edges of a solid, each once.
fn edges(solid: &Solid) -> Vec<Edge> {
    let key = |p: P3| [p.x, p.y, p.z].map(|c| (c / WELD_MM).round() as i64);
    let mut all: HashMap<([i64; 3], [i64; 3]), usize> = HashMap::new();
    let mut out: Vec<Edge> = Vec::new();
    for t in &solid.triangles {
        let [a, b, c] = t.map(|i| solid.corners[i as usize].p);
        let Some(face) = crate::geom::unit((b - a).cross(&(c - a))) else {
            continue;
        };
        for (p, q) in [(a, b), (b, c), (c, a)] {
            let (k, l) = (key(p), key(q));
            if k == l {
                continue;
            }
            let at = *all.entry((k.min(l), k.max(l))).or_insert_with(|| {
                out.push(Edge { ends: [p, q], faces: Vec::new() });
                out.len() - 1
            });
            out[at].faces.push(face);
        }
    }
    out
}

/// Whether an edge is drawn at all.
fn shows(edge: &Edge, eye: &Eye) -> bool {
    let [first, rest @ ..] = edge.faces.as_slice() else {
        return false;
    };
    let front = |n: &V3| n.dot(&eye.towards) > 0.0;
    match rest {
        [] => true,
        [other] => {
            let turned = first.angle(other) > SHARP;
            turned && (front(first) || front(other)) || front(first) != front(other)
        }
        // Where several solids meet in one edge.
        _ => edge.faces.iter().any(front),
    }
}

/// The edges of each of these solids that are seen, as lines on the page in mm of the thing.
pub fn visible(solids: &[&Solid], eye: &Eye) -> Vec<Vec<[P2; 2]>> {
    let triangles: Vec<[(P2, f64); 3]> = solids
        .iter()
        .flat_map(|s| s.triangles.iter().map(|t| t.map(|i| eye.seen(s.corners[i as usize].p))))
        .collect();
    let Some(depths) = Depths::of(&triangles) else {
        return vec![Vec::new(); solids.len()];
    };
    let of = |s: &&Solid| -> Vec<[P2; 2]> {
        let shown = edges(s).into_iter().filter(|e| shows(e, eye));
        shown.flat_map(|e| runs(&depths, e.ends.map(|p| eye.seen(p)))).collect()
    };
    solids.iter().map(of).collect()
}

/// The stretches of an edge that are seen.
fn runs(depths: &Depths, [a, b]: [(P2, f64); 2]) -> Vec<[P2; 2]> {
    let count = ((b.0 - a.0).norm() / depths.step).ceil().max(1.0) as usize;
    let at = |k: usize| {
        let t = k as f64 / count as f64;
        (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1))
    };
    let mut out = Vec::new();
    let mut begun: Option<usize> = None;
    for k in 0..=count + 1 {
        let sees = k <= count && {
            let (p, depth) = at(k);
            depths.sees(p, depth)
        };
        match (begun, sees) {
            (None, true) => begun = Some(k),
            (Some(from), false) => {
                // A short edge is drawn whole or not at all.
                if k - from >= LEAST_RUN.min(count) {
                    out.push([at(from).0, at(k - 1).0]);
                }
                begun = None;
            }
            _ => {}
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::Corner;

    fn cuboid(low: P3, high: P3) -> Solid {
        let mut out = Solid::default();
        let corner = |k: usize| {
            let pick = |bit: usize, a: f64, b: f64| if k >> bit & 1 == 0 { a } else { b };
            P3::new(pick(0, low.x, high.x), pick(1, low.y, high.y), pick(2, low.z, high.z))
        };
        let faces =
            [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]];
        for f in faces {
            let at = out.corners.len() as u32;
            out.corners.extend(f.map(|k| Corner { p: corner(k), n: V3::z(), uv: [0.0; 2] }));
            out.triangles.extend([[at, at + 1, at + 2], [at, at + 2, at + 3]]);
        }
        out
    }

    fn length(lines: &[[P2; 2]]) -> f64 {
        lines.iter().map(|[a, b]| (b - a).norm()).sum()
    }

    /// Of a box seen from a corner nine of twelve edges are seen, whatever the corner; their
    /// lengths on the page follow from the cosines of the axes.
    #[test]
    fn a_box_shows_nine_edges() {
        let solid = cuboid(P3::origin(), P3::new(300.0, 200.0, 100.0));
        for azimuth in [0.4, 1.1, 2.0, 4.0] {
            let eye = Eye::at(azimuth, 0.5);
            let seen = visible(&[&solid], &eye);
            let along = |v: V3| {
                let d = v.dot(&eye.towards);
                (v.norm_squared() - d * d).sqrt()
            };
            let axes = [V3::x() * 300.0, V3::y() * 200.0, V3::z() * 100.0];
            let wanted: f64 = axes.into_iter().map(|v| 3.0 * along(v)).sum();
            let found = length(&seen[0]);
            assert!((found - wanted).abs() < 0.01 * wanted, "{azimuth}: {found} for {wanted}");
        }
    }

    /// A small box behind a large one is not seen; moved aside it is; before it, it hides what
    /// lies behind.
    #[test]
    fn what_lies_behind_is_left_out() {
        // From ahead: x runs away from the eye.
        let eye = Eye::at(0.0, 0.0);
        let wall = cuboid(P3::new(0.0, -500.0, 0.0), P3::new(10.0, 500.0, 800.0));
        let small = |x: f64, y: f64| {
            cuboid(P3::new(x, y - 50.0, 300.0), P3::new(x + 100.0, y + 50.0, 400.0))
        };
        let behind = visible(&[&wall, &small(200.0, 0.0)], &eye);
        assert_eq!(length(&behind[1]), 0.0);
        assert!((length(&behind[0]) - 2.0 * (1000.0 + 800.0)).abs() < 40.0);
        let aside = visible(&[&wall, &small(200.0, 900.0)], &eye);
        assert!((length(&aside[1]) - 400.0).abs() < 20.0, "{}", length(&aside[1]));
        let before = visible(&[&wall, &small(-300.0, 0.0)], &eye);
        assert!((length(&before[1]) - 400.0).abs() < 20.0);
    }

    #[test]
    fn the_eye_sees_right_and_up_where_they_are() {
        // From starboard the bow is at the right, seen level the sheer above the keel.
        let eye = Eye::at(std::f64::consts::FRAC_PI_2, 0.0);
        let (bow, _) = eye.seen(P3::new(0.0, 0.0, 0.0));
        let (stern, _) = eye.seen(P3::new(4000.0, 0.0, 0.0));
        let (sheer, _) = eye.seen(P3::new(0.0, 0.0, 500.0));
        assert!(bow.x > stern.x && (sheer.y - bow.y - 500.0).abs() < 1e-9);
        // What lies to starboard is nearer.
        assert!(eye.seen(P3::new(0.0, 600.0, 0.0)).1 > eye.seen(P3::origin()).1);
    }
}
