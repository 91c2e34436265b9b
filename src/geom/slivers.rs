//! Takes triangles without width out of a closed mesh.
//!
//! Where two edges are nearly one, as in a bottom drawn plane or at a corner where rulings
//! crowd, a mesh has triangles thinner than what single precision in a file can tell apart:
//! read back they have no area, or fold onto their neighbours. Short edges are drawn
//! together, and the longest edge of a flat triangle is turned to the other diagonal; both
//! keep the mesh closed. Promised: the surface moves by no more than [`LEAST_MM`] for each
//! of them. Not promised: that every sliver goes; one whose loss would pinch the surface
//! stays.

use std::collections::{HashMap, HashSet};

use super::P3;
use super::mesh::Mesh;

/// Edges shorter and triangles lower than this (mm) are taken out: ten times the step of a
/// single-precision number at 8 m, and a tenth of what a pencil line is wide.
pub const LEAST_MM: f64 = 0.01;
/// Rounds over the mesh; each takes out what does not touch another taken out in it. A fan of
/// flat triangles loses one in a round.
const ROUNDS: usize = 1000;

impl Mesh {
    /// Takes out slivers, and vertices that no triangle has any more.
    pub fn drop_slivers(&mut self) {
        if !self.corners().any(is_sliver) {
            return;
        }
        for _ in 0..ROUNDS {
            if !self.round() {
                break;
            }
        }
        self.drop_loose_vertices();
    }

    /// One round; whether anything was taken out.
    fn round(&mut self) -> bool {
        let mut work = Work::of(self);
        let slivers: Vec<usize> =
            (0..self.triangles.len()).filter(|i| is_sliver(self.points(*i))).collect();
        let mut done = false;
        for i in slivers {
            if work.touched.contains(&i) {
                continue;
            }
            done |= self.draw_together(&mut work, i) || self.turn_edge(&mut work, i);
        }
        self.triangles.retain(|t| t[0] != t[1] && t[1] != t[2] && t[2] != t[0]);
        self.drop_leaves() || done
    }

    fn points(&self, i: usize) -> [P3; 3] {
        self.triangles[i].map(|v| self.vertices[v as usize])
    }

    /// Draws the shortest edge of a triangle together, if it is short enough and its ends
    /// have no neighbours in common but the corners beside it.
    fn draw_together(&mut self, work: &mut Work, i: usize) -> bool {
        let t = self.triangles[i];
        let p = self.points(i);
        let edges = [0, 1, 2].map(|k| ((p[(k + 1) % 3] - p[k]).norm(), k));
        let Some((length, k)) = edges.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)) else {
            return false;
        };
        let (a, b) = (t[k], t[(k + 1) % 3]);
        let around: HashSet<usize> =
            [a, b].iter().flat_map(|v| work.at[*v as usize].iter().copied()).collect();
        if length >= LEAST_MM || around.iter().any(|j| work.touched.contains(j)) {
            return false;
        }
        let neighbours = |v: u32| -> HashSet<u32> {
            work.at[v as usize]
                .iter()
                .flat_map(|j| self.triangles[*j])
                .filter(|w| *w != v)
                .collect()
        };
        if neighbours(a).intersection(&neighbours(b)).count() != 2 {
            return false;
        }
        // The one nearer to the centreplane stays, so that both halves do alike.
        let y = |v: u32| self.vertices[v as usize].y.abs();
        let (stays, goes) = if y(a) <= y(b) { (a, b) } else { (b, a) };
        for j in &around {
            for v in &mut self.triangles[*j] {
                if *v == goes {
                    *v = stays;
                }
            }
        }
        work.touched.extend(around);
        true
    }

    /// Turns the longest edge of a flat triangle to the other diagonal of the two triangles
    /// beside it, if both are wider then.
    fn turn_edge(&mut self, work: &mut Work, i: usize) -> bool {
        let t = self.triangles[i];
        let p = self.points(i);
        let edges = [0, 1, 2].map(|k| ((p[(k + 1) % 3] - p[k]).norm(), k));
        let Some((_, k)) = edges.into_iter().max_by(|a, b| a.0.total_cmp(&b.0)) else {
            return false;
        };
        let (a, b, c) = (t[k], t[(k + 1) % 3], t[(k + 2) % 3]);
        let Some(&j) = work.beside.get(&(b, a)) else {
            return false;
        };
        let Some(d) = self.triangles[j].into_iter().find(|v| *v != a && *v != b) else {
            return false;
        };
        let there = |e: &(u32, u32)| work.beside.contains_key(e);
        if work.touched.contains(&j) || c == d || there(&(c, d)) || there(&(d, c)) {
            return false;
        }
        let height = |t: [u32; 3]| lowest(t.map(|v| self.vertices[v as usize]));
        let new = [[a, d, c], [d, b, c]];
        if new.map(height).into_iter().fold(f64::INFINITY, f64::min)
            <= height(t).min(height(self.triangles[j]))
        {
            return false;
        }
        (self.triangles[i], self.triangles[j]) = (new[0], new[1]);
        for v in [a, b, c, d] {
            work.touched.extend(work.at[v as usize].iter().copied());
        }
        true
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
    // The height over the longest edge is at most the shortest edge.
    lowest(p) < LEAST_MM
}

/// Who is whose neighbour at the beginning of a round, and what was changed in it.
struct Work {
    at: Vec<Vec<usize>>,
    beside: HashMap<(u32, u32), usize>,
    touched: HashSet<usize>,
}

impl Work {
    fn of(mesh: &Mesh) -> Work {
        let mut at = vec![Vec::new(); mesh.vertices.len()];
        let mut beside = HashMap::with_capacity(3 * mesh.triangles.len());
        for (i, t) in mesh.triangles.iter().enumerate() {
            for k in 0..3 {
                at[t[k] as usize].push(i);
                beside.insert((t[k], t[(k + 1) % 3]), i);
            }
        }
        Work { at, beside, touched: HashSet::new() }
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
