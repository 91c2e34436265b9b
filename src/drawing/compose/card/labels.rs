//! Labels in a small picture: each beside its point, none over another.

use crate::drawing::face;
use crate::geom::polyline::clipped;
use crate::geom::{P2, V2};

/// Directions in which a place for a label is sought.
const WAYS: usize = 16;
/// How far from its point a label may stand, in heights of its capitals.
const REACH: [f64; 4] = [0.9, 1.6, 2.6, 3.8];

/// Boxes that are taken.
#[derive(Debug, Clone)]
pub(super) struct Labels {
    low: P2,
    high: P2,
    taken: Vec<(P2, P2)>,
    lines: Vec<(P2, P2)>,
}

impl Labels {
    /// Room for labels between two corners of the paper, mm.
    pub(super) fn within(low: P2, high: P2) -> Labels {
        Labels { low, high, taken: Vec::new(), lines: Vec::new() }
    }

    /// Keeps a box free of labels.
    pub(super) fn keep_clear(&mut self, low: P2, high: P2) {
        self.taken.push((low, high));
    }

    /// Keeps labels off a line, as long as there is other room.
    pub(super) fn keep_off(&mut self, line: &[P2]) {
        self.lines.extend(line.windows(2).map(|w| (w[0], w[1])));
    }

    /// Where the middle of a label's baseline may stand beside `at`, nearest to the side
    /// `out`; takes the room. `None` where everything is full.
    pub(super) fn place(&mut self, at: P2, out: V2, height: f64, text: &str) -> Option<P2> {
        let size = V2::new(face::width(text, height, false), 1.6 * height);
        let first = out.y.atan2(out.x);
        let tries = (0..2).flat_map(|pass| REACH.map(|reach| (pass == 0, reach)));
        for (off_lines, reach) in tries {
            for k in 0..WAYS {
                // Nearest to the wanted side first: 0, +1, −1, +2, −2 …
                let turn = (k as f64 / 2.0).ceil() * if k % 2 == 0 { -1.0 } else { 1.0 };
                let a = first + turn * std::f64::consts::TAU / WAYS as f64;
                let e = V2::new(a.cos(), a.sin());
                let room = reach * height + 0.5 * (size.x * e.x.abs() + size.y * e.y.abs());
                let middle = at + room * e;
                let (low, high) = (middle - 0.5 * size, middle + 0.5 * size);
                let inside = low.x >= self.low.x
                    && low.y >= self.low.y
                    && high.x <= self.high.x
                    && high.y <= self.high.y;
                let free = self
                    .taken
                    .iter()
                    .all(|(l, h)| high.x <= l.x || low.x >= h.x || high.y <= l.y || low.y >= h.y);
                let crossed =
                    || self.lines.iter().any(|(a, b)| clipped(*a, *b, low, high).is_some());
                if inside && free && !(off_lines && crossed()) {
                    self.taken.push((low, high));
                    return Some(P2::new(middle.x, low.y + 0.4 * height));
                }
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_keep_apart_and_inside() {
        let mut labels = Labels::within(P2::origin(), P2::new(40.0, 20.0));
        for i in 0..6 {
            let at = P2::new(18.0 + 0.2 * f64::from(i), 10.0);
            assert!(labels.place(at, V2::y(), 2.0, "12").is_some());
        }
        let boxes = labels.taken.clone();
        for (i, (l, h)) in boxes.iter().enumerate() {
            assert!(l.x >= 0.0 && l.y >= 0.0 && h.x <= 40.0 && h.y <= 20.0);
            for (m, k) in &boxes[..i] {
                assert!(h.x <= m.x || l.x >= k.x || h.y <= m.y || l.y >= k.y);
            }
        }
        let mut full = Labels::within(P2::origin(), P2::new(2.0, 2.0));
        assert_eq!(full.place(P2::new(1.0, 1.0), V2::y(), 2.0, "12"), None);
    }
}
