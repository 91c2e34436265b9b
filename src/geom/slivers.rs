//! Takes triangles without width out of a closed mesh.
//!
//! Where two edges are nearly one, as in a bottom drawn plane or at a corner where rulings
//! crowd, a mesh has triangles thinner than what single precision in a file can tell apart:
//! read back they have no area, or fold onto their neighbours. Short edges are drawn
//! together, and the longest edge of a flat triangle is turned to the other diagonal; both
//! keep the mesh closed. Promised: the surface moves by no more than [`LEAST_MM`] for each
//! of them. Not promised: that every sliver goes. One whose loss would pinch the surface stays,
//! and one whose neighbour would become as low: a needle among needles, as a fan over a
//! finely divided line has, which is low but has an area.
//!
//! A fan of flat triangles, as two straight lines through one point have, goes from its open
//! side: turning the edge of the last makes the next one turnable. So what lies beside a
//! change is looked at again, and nothing else: the work grows with the slivers, not with
//! the mesh.

use std::collections::{HashMap, HashSet, VecDeque};

use super::P3;
use super::mesh::Mesh;

/// Edges shorter and triangles lower than this (mm) are taken out: ten times the step of a
/// single-precision number at 8 m, and a tenth of what a pencil line is wide.
pub const LEAST_MM: f64 = 0.01;
/// An edge is turned if the lower of its two triangles becomes this many times higher: no
/// turn is then undone by a later one, and none is for what rounding makes of a height.
const GAIN: f64 = 1.05;
/// Heights below this (mm) are rounding: coordinates of some metres have steps of 1e-12 mm.
const ROUNDING_MM: f64 = 1e-9;
/// Times that all slivers left are looked at again. A change nearby sends a sliver round by
/// itself; this is for those that an edge further off was in the way of, and two are usual.
const PASSES: usize = 16;

impl Mesh {
    /// Takes out slivers, and vertices that no triangle has any more.
    pub fn drop_slivers(&mut self) {
        if !self.corners().any(is_sliver) {
            return;
        }
        for _ in 0..PASSES {
            let changed = Work::of(self).done();
            self.triangles.retain(|t| !is_gone(t));
            if !(self.drop_leaves() || changed) {
                break;
            }
        }
        self.drop_loose_vertices();
    }

    /// Two triangles over the same corners that face each other are a leaf without inside.
    fn drop_leaves(&mut self) -> bool {
        let mut seen: HashMap<[u32; 3], usize> = HashMap::new();
        let mut gone: HashSet<usize> = HashSet::new();
        for (i, t) in self.triangles.iter().enumerate() {
            let back = turned([t[0], t[2], t[1]]);
            match seen.remove(&back) {
                Some(j) => gone.extend([i, j]),
                None => {
                    seen.insert(turned(*t), i);
                }
            }
        }
        let mut i = 0;
        self.triangles.retain(|_| {
            i += 1;
            !gone.contains(&(i - 1))
        });
        !gone.is_empty()
    }

    fn drop_loose_vertices(&mut self) {
        let mut new = vec![u32::MAX; self.vertices.len()];
        let mut kept = Vec::with_capacity(self.vertices.len());
        for v in self.triangles.iter_mut().flatten() {
            let place = &mut new[*v as usize];
            if *place == u32::MAX {
                *place = kept.len() as u32;
                kept.push(self.vertices[*v as usize]);
            }
            *v = *place;
        }
        self.vertices = kept;
    }
}

/// A triangle's corners from the least on, in their sense.
fn turned(t: [u32; 3]) -> [u32; 3] {
    let least = (0..3).min_by_key(|k| t[*k]).unwrap_or(0);
    [0, 1, 2].map(|k| t[(least + k) % 3])
}

/// Height over the longest edge, mm; 0 for a triangle that is a point.
fn lowest([a, b, c]: [P3; 3]) -> f64 {
    let longest = (b - a).norm().max((c - b).norm()).max((a - c).norm());
    if longest > 0.0 { (b - a).cross(&(c - a)).norm() / longest } else { 0.0 }
}

fn is_sliver(p: [P3; 3]) -> bool {
    // Most are told without a root: clearly higher than that over their longest edge.
    let [a, b, c] = p;
    let longest = (b - a).norm_squared().max((c - b).norm_squared()).max((a - c).norm_squared());
    if (b - a).cross(&(c - a)).norm_squared() > 1.01 * LEAST_MM * LEAST_MM * longest {
        return false;
    }
    // The height over the longest edge is at most the shortest edge.
    lowest(p) < LEAST_MM
}

/// A triangle whose edge was drawn together.
fn is_gone(t: &[u32; 3]) -> bool {
    t[0] == t[1] || t[1] == t[2] || t[2] == t[0]
}

/// The mesh on its way: who is whose neighbour, and which slivers are to be looked at.
struct Work<'a> {
    mesh: &'a mut Mesh,
    /// The triangles at each vertex.
    at: Vec<Vec<usize>>,
    queue: VecDeque<usize>,
    /// Whether a triangle is in the queue.
    waits: Vec<bool>,
    /// Marks of vertices, for counting what two of them have in common.
    mark: Vec<bool>,
}

impl Work<'_> {
    fn of(mesh: &mut Mesh) -> Work<'_> {
        let mut at = vec![Vec::new(); mesh.vertices.len()];
        for (i, t) in mesh.triangles.iter().enumerate() {
            for v in t {
                at[*v as usize].push(i);
            }
        }
        let (waits, mark) = (vec![false; mesh.triangles.len()], vec![false; mesh.vertices.len()]);
        let mut work = Work { mesh, at, queue: VecDeque::new(), waits, mark };
        (0..work.waits.len()).for_each(|i| work.look_at(i));
        work
    }

    /// Takes out what can be; whether anything was.
    fn done(mut self) -> bool {
        let mut changed = false;
        while let Some(i) = self.queue.pop_front() {
            self.waits[i] = false;
            if self.is_left(i) {
                changed |= self.draw_together(i) || self.turn_edge(i);
            }
        }
        changed
    }

    /// Whether a triangle is there still, and a sliver.
    fn is_left(&self, i: usize) -> bool {
        let t = self.mesh.triangles[i];
        !is_gone(&t) && is_sliver(self.points(t))
    }

    /// Has a triangle looked at if it is a sliver.
    fn look_at(&mut self, i: usize) {
        if !self.waits[i] && self.is_left(i) {
            self.waits[i] = true;
            self.queue.push_back(i);
        }
    }

    fn points(&self, t: [u32; 3]) -> [P3; 3] {
        t.map(|v| self.mesh.vertices[v as usize])
    }

    /// The triangle that runs from `a` to `b`.
    fn along(&self, a: u32, b: u32) -> Option<usize> {
        let runs = |t: [u32; 3]| (0..3).any(|k| t[k] == a && t[(k + 1) % 3] == b);
        self.at[a as usize].iter().copied().find(|i| runs(self.mesh.triangles[*i]))
    }

    /// Corners from an edge on: the shortest one or the longest.
    fn along_edge(&self, i: usize, shortest: bool) -> (f64, [u32; 3]) {
        let t = self.mesh.triangles[i];
        let p = self.points(t);
        let mut best = (if shortest { f64::INFINITY } else { -1.0 }, t);
        for k in 0..3 {
            let length = (p[(k + 1) % 3] - p[k]).norm();
            if (length < best.0) == shortest && length != best.0 {
                best = (length, [0, 1, 2].map(|m| t[(k + m) % 3]));
            }
        }
        best
    }

    /// How many vertices are neighbours of both.
    fn in_common(&mut self, a: u32, b: u32) -> usize {
        let mut count = 0;
        for (v, set) in [(a, true), (b, false)] {
            for w in self.at[v as usize].iter().flat_map(|i| self.mesh.triangles[*i]) {
                count += usize::from(!set && self.mark[w as usize] && w != a && w != b);
                self.mark[w as usize] = set;
            }
        }
        // Neighbours of the first alone are marked still.
        for w in self.at[a as usize].iter().flat_map(|i| self.mesh.triangles[*i]) {
            self.mark[w as usize] = false;
        }
        count
    }

    /// Draws the shortest edge of a triangle together, if it is short enough and its ends
    /// have no neighbours in common but the corners beside it.
    fn draw_together(&mut self, i: usize) -> bool {
        let (length, [a, b, _]) = self.along_edge(i, true);
        if length >= LEAST_MM || self.in_common(a, b) != 2 {
            return false;
        }
        // The one nearer to the centreplane stays, so that both halves do alike.
        let key = |v: u32| {
            let p = self.mesh.vertices[v as usize];
            [p.y.abs(), p.x, p.z]
        };
        let (stays, goes) = if key(a) <= key(b) { (a, b) } else { (b, a) };
        for j in std::mem::take(&mut self.at[goes as usize]) {
            let before = self.mesh.triangles[j];
            let now = before.map(|v| if v == goes { stays } else { v });
            self.mesh.triangles[j] = now;
            if is_gone(&now) {
                before.into_iter().for_each(|v| self.at[v as usize].retain(|k| *k != j));
            } else {
                self.at[stays as usize].push(j);
            }
        }
        for j in self.at[stays as usize].clone() {
            self.look_at(j);
        }
        true
    }

    /// Turns the longest edge of a flat triangle to the other diagonal of the two triangles
    /// beside it, if both are wider then.
    fn turn_edge(&mut self, i: usize) -> bool {
        let (_, old @ [a, b, c]) = self.along_edge(i, false);
        let Some(j) = self.along(b, a) else {
            return false;
        };
        let beside = self.mesh.triangles[j];
        let Some(d) = beside.into_iter().find(|v| *v != a && *v != b) else {
            return false;
        };
        if c == d || self.along(c, d).is_some() || self.along(d, c).is_some() {
            return false;
        }
        let new = [[a, d, c], [d, b, c]];
        let lower = |[s, t]: [[u32; 3]; 2]| lowest(self.points(s)).min(lowest(self.points(t)));
        if lower(new) <= GAIN * lower([old, beside]).max(ROUNDING_MM) {
            return false;
        }
        (self.mesh.triangles[i], self.mesh.triangles[j]) = (new[0], new[1]);
        self.at[b as usize].retain(|k| *k != i);
        self.at[a as usize].retain(|k| *k != j);
        self.at[d as usize].push(i);
        self.at[c as usize].push(j);
        for (from, to) in [(d, a), (c, d), (a, c), (b, d), (c, b), (d, c)] {
            if let Some(k) = self.along(from, to) {
                self.look_at(k);
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::super::mesh::MeshBuilder;
    use super::*;

    /// A cube of 100 mm whose top is cut by a point `off` from the middle of an edge, in the
    /// edge or beside it, so that one triangle has that height.
    fn cube(off: f64) -> Mesh {
        let p = |x: f64, y: f64, z: f64| P3::new(x, y, z);
        let [a, b, c, d] = [p(0., 0., 0.), p(100., 0., 0.), p(100., 100., 0.), p(0., 100., 0.)];
        let [e, f, g, h] = [a, b, c, d].map(|q| p(q.x, q.y, 100.0));
        let m = p(50.0, off, 100.0);
        let mut builder = MeshBuilder::default();
        let mut quad = |a, b, c, d| {
            builder.triangle(a, b, c);
            builder.triangle(a, c, d);
        };
        quad(d, c, b, a);
        quad(a, b, f, e);
        quad(b, c, g, f);
        quad(c, d, h, g);
        quad(d, a, e, h);
        for [a, b] in [[e, f], [f, g], [g, h], [h, e]] {
            builder.triangle(a, b, m);
        }
        builder.finish()
    }

    /// A double pyramid over a polygon whose corners lie on one straight line out from its
    /// first: a fan of `count` flat triangles in each of its two faces there, as a keel and a
    /// chine without curve have at the stem.
    fn fan(count: usize) -> Mesh {
        let p = |x: f64, y: f64, z: f64| P3::new(x, y, z);
        let [apex, tail, up, down] =
            [p(0., 0., 0.), p(900., 300., 0.), p(500., 200., 200.), p(500., 200., -200.)];
        let along = |k: usize| p(7.3 * (k + 1) as f64, -1.1 * (k + 1) as f64, 0.0);
        let mut builder = MeshBuilder::default();
        for k in 0..count {
            builder.triangle(apex, along(k + 1), along(k));
            builder.triangle(along(k), along(k + 1), up);
        }
        builder.triangle(apex, along(0), up);
        let last = along(count);
        builder.triangle(apex, down, last);
        for [a, b] in [[last, tail], [tail, apex]] {
            builder.triangle(a, b, up);
            builder.triangle(b, a, down);
        }
        builder.finish()
    }

    /// Flat triangles beside each other once were turned to and fro, in all rounds there were.
    #[test]
    fn a_fan_of_flat_triangles_goes_in_time() {
        let mut mesh = fan(600);
        assert!(mesh.closed_faults().is_empty(), "{:?}", mesh.closed_faults());
        let (count, volume) = (mesh.triangles.len(), mesh.volume());
        assert_eq!(mesh.corners().filter(|t| is_sliver(*t)).count(), 600);
        let began = std::time::Instant::now();
        mesh.drop_slivers();
        let took = began.elapsed();
        assert!(mesh.closed_faults().is_empty());
        assert_eq!(mesh.corners().filter(|t| is_sliver(*t)).count(), 0);
        assert_eq!(mesh.triangles.len(), count, "edges are turned");
        assert!((mesh.volume() / volume - 1.0).abs() < 1e-9, "{} {volume}", mesh.volume());
        // A hundredth of a second on the machine it was written on; rounds over it took ten.
        assert!(took.as_secs_f64() < 1.0, "{took:?}");
    }

    #[test]
    fn flat_triangles_and_short_edges_go_and_the_mesh_stays_closed() {
        // A flat one: its long edge is turned. A corner crowded by a point: drawn together.
        for off in [0.0, 1e-7, 0.009] {
            let mut mesh = cube(off);
            let (count, volume) = (mesh.triangles.len(), mesh.volume());
            mesh.drop_slivers();
            assert!(mesh.closed_faults().is_empty(), "{off}");
            assert!(mesh.corners().all(|t| !is_sliver(t)), "{off}");
            assert_eq!(mesh.triangles.len(), count, "an edge is turned: {off}");
            assert!((mesh.volume() / volume - 1.0).abs() < 1e-4, "{off}");
        }
        let mut mesh = cube(50.0);
        let before = mesh.clone();
        mesh.drop_slivers();
        assert_eq!(mesh, before, "nothing to take out");
        let middle = mesh.vertices.iter().position(|v| v.y == 50.0).expect("the middle");
        mesh.vertices[middle] = P3::new(0.004, 0.003, 100.0);
        mesh.drop_slivers();
        assert!(mesh.closed_faults().is_empty());
        assert_eq!((mesh.vertices.len(), mesh.triangles.len()), (8, 12));
        assert!((mesh.volume() - 1e6).abs() < 1.0, "{}", mesh.volume());
    }
}
