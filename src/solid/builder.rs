//! Solids put together corner by corner, both sides of the boat at once.

use super::{Corner, Solid};
use crate::geom::{P3, V3};

/// A solid in the making.
#[derive(Default)]
pub(super) struct Builder {
    solid: Solid,
}

impl Builder {
    fn push(&mut self, c: Corner) -> u32 {
        self.solid.corners.push(c);
        (self.solid.corners.len() - 1) as u32
    }

    /// A run of quads between two rows of corners; `flip` turns them over.
    pub(super) fn ribbon(&mut self, a: &[Corner], b: &[Corner], flip: bool) {
        let first: Vec<u32> = a.iter().map(|c| self.push(*c)).collect();
        let second: Vec<u32> = b.iter().map(|c| self.push(*c)).collect();
        for k in 1..first.len().min(second.len()) {
            let (a0, a1, b0, b1) = (first[k - 1], first[k], second[k - 1], second[k]);
            let quads =
                if flip { [[a0, a1, b0], [a1, b1, b0]] } else { [[a0, b0, a1], [a1, b0, b1]] };
            self.solid.triangles.extend(quads);
        }
    }

    /// A triangle, anticlockwise seen from outside.
    pub(super) fn triangle(&mut self, corners: [Corner; 3]) {
        let triangle = corners.map(|c| self.push(c));
        self.solid.triangles.push(triangle);
    }

    pub(super) fn finish(self) -> Solid {
        self.solid
    }
}

fn mirrored(c: Corner) -> Corner {
    Corner { p: P3::new(c.p.x, -c.p.y, c.p.z), n: V3::new(c.n.x, -c.n.y, c.n.z), uv: c.uv }
}

/// A ribbon and its mirror image on the port side.
pub(super) fn both_sides(out: &mut Builder, a: &[Corner], b: &[Corner], flip: bool) {
    out.ribbon(a, b, flip);
    let (a, b): (Vec<_>, Vec<_>) =
        (a.iter().copied().map(mirrored).collect(), b.iter().copied().map(mirrored).collect());
    out.ribbon(&a, &b, !flip);
}
