//! Triangle meshes that share vertices, and whether one is closed.
//!
//! Promises of a mesh that [`Mesh::closed_faults`] finds no fault with: each edge belongs
//! to exactly two triangles that run it in opposite directions, so the surface is closed
//! and consistently oriented. Not promised: that it does not cut through itself.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use super::{P3, V3};
use crate::tol::SAME_POINT_MM;

/// Triangles over shared vertices, mm, anticlockwise seen from outside.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// Vertices, mm.
    pub vertices: Vec<P3>,
    /// Indices of each triangle's corners.
    pub triangles: Vec<[u32; 3]>,
}

impl Mesh {
    /// Volume (mm³) enclosed, by the divergence theorem; meaningful only for a closed mesh,
    /// positive when the triangles face outward.
    pub fn volume(&self) -> f64 {
        self.corners().map(|[a, b, c]| a.coords.dot(&b.coords.cross(&c.coords)) / 6.0).sum()
    }

    /// Area (mm²) of all triangles.
    pub fn area(&self) -> f64 {
        self.corners().map(|[a, b, c]| 0.5 * (b - a).cross(&(c - a)).norm()).sum()
    }

    /// The corners of each triangle.
    pub fn corners(&self) -> impl Iterator<Item = [P3; 3]> + '_ {
        // Spelled out: an array's `map` is a call for each, and this is asked a thousand times.
        let at = |i: u32| self.vertices[i as usize];
        self.triangles.iter().map(move |[a, b, c]| [at(*a), at(*b), at(*c)])
    }

    /// Edges that do not belong to exactly two opposed triangles, as vertex pairs.
    /// Empty for a closed, consistently oriented surface.
    pub fn closed_faults(&self) -> Vec<(u32, u32)> {
        let mut balance: HashMap<(u32, u32), (i32, i32)> = HashMap::new();
        for t in &self.triangles {
            for k in 0..3 {
                let (a, b) = (t[k], t[(k + 1) % 3]);
                let entry = balance.entry((a.min(b), a.max(b))).or_default();
                if a < b { entry.0 += 1 } else { entry.1 += 1 }
            }
        }
        let mut faults: Vec<_> =
            balance.into_iter().filter(|(_, b)| *b != (1, 1)).map(|(edge, _)| edge).collect();
        faults.sort_unstable();
        faults
    }

    /// Unit normal of each triangle; zero for one without area.
    pub fn normals(&self) -> impl Iterator<Item = V3> + '_ {
        self.corners()
            .map(|[a, b, c]| super::unit((b - a).cross(&(c - a))).unwrap_or_else(V3::zeros))
    }
}

/// A point this near the border of its cell, as a share of it, is looked for beyond it: far
/// more than the rounding of a coordinate of some metres.
const BORDER: f64 = 0.1;

/// Spreads the cells of a grid over a table: a multiplication each (Knuth, *The Art of Computer
/// Programming*, vol. 3, section 6.4). Cells are no stranger's input, so nothing more is asked.
#[derive(Debug, Default)]
struct CellHasher(u64);

/// 2⁶⁴ over the golden section.
const GOLDEN: u64 = 0x9e37_79b9_7f4a_7c15;

impl Hasher for CellHasher {
    fn finish(&self) -> u64 {
        // A table takes its place from the low bits and a check from the high ones.
        self.0 ^ (self.0 >> 32)
    }

    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.write_u64(u64::from_ne_bytes(word));
        }
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(GOLDEN);
    }

    fn write_i64(&mut self, word: i64) {
        self.write_u64(word as u64);
    }
}

/// Builds a mesh from loose triangles, welding corners that are the same point.
#[derive(Debug, Default)]
pub struct MeshBuilder {
    mesh: Mesh,
    index_of: HashMap<[i64; 3], u32, BuildHasherDefault<CellHasher>>,
}

impl MeshBuilder {
    /// The index of `p`, shared with all points in its cell of a grid of [`SAME_POINT_MM`]; the
    /// first of them gives the place. Two points nearer than that on either side of a cell's
    /// edge stay two: points that are to be one must be computed alike.
    pub fn vertex(&mut self, p: P3) -> u32 {
        let cells = [p.x, p.y, p.z].map(|c| c / SAME_POINT_MM);
        let key = cells.map(|c| c.round() as i64);
        if let Some(found) = self.index_of.get(&key) {
            return *found;
        }
        // A point on the border of two cells was perhaps rounded into the other one.
        let near = cells.map(|c| {
            let aside = c - c.round();
            if aside.abs() > 0.5 - BORDER { aside.signum() as i64 } else { 0 }
        });
        for k in 1..8 {
            let step = [0, 1, 2].map(|axis| if k >> axis & 1 == 1 { near[axis] } else { 0 });
            let other = [0, 1, 2].map(|axis| key[axis] + step[axis]);
            if other != key
                && let Some(found) = self.index_of.get(&other)
                && (self.mesh.vertices[*found as usize] - p).norm() < SAME_POINT_MM
            {
                return *found;
            }
        }
        self.mesh.vertices.push(p);
        let index = (self.mesh.vertices.len() - 1) as u32;
        self.index_of.insert(key, index);
        index
    }

    /// Adds a triangle; one whose corners weld together is dropped.
    pub fn triangle(&mut self, a: P3, b: P3, c: P3) {
        let t = [self.vertex(a), self.vertex(b), self.vertex(c)];
        self.triangle_of(t);
    }

    /// Adds a triangle over vertices that it has; one that has a vertex twice is dropped.
    pub fn triangle_of(&mut self, t: [u32; 3]) {
        if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
            self.mesh.triangles.push(t);
        }
    }

    /// The finished mesh.
    pub fn finish(self) -> Mesh {
        self.mesh
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tetrahedron_is_closed_and_has_its_volume() {
        let [o, x, y, z] =
            [P3::origin(), P3::new(1.0, 0.0, 0.0), P3::new(0.0, 1.0, 0.0), P3::new(0.0, 0.0, 1.0)];
        let mut builder = MeshBuilder::default();
        for [a, b, c] in [[o, y, x], [o, x, z], [o, z, y], [x, y, z]] {
            builder.triangle(a, b, c);
        }
        let mut mesh = builder.finish();
        assert!(mesh.closed_faults().is_empty());
        assert!((mesh.volume() - 1.0 / 6.0).abs() < 1e-15);
        mesh.triangles.pop();
        assert_eq!(mesh.closed_faults().len(), 3);
    }
}
