//! Where a plane crosses a run of strips: straight rungs side by side, each with a lower and an
//! upper end, and between two of them a strip whose edges join those ends.
//!
//! Each edge is crossed at most once: a rung end that lies in the plane counts as below it, so
//! that a line through it is found on the pieces that rise from it and not on those that come
//! up to it.

/// One end of a rung: its index, and whether it is the upper one.
pub type End = (usize, bool);

/// A place at which the plane crosses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The two ends between which it lies: of one rung, or of neighbours on one edge.
    pub ends: [End; 2],
    /// The share of the way from the first to the second, 0 to 1.
    pub share: f64,
}

impl Crossing {
    /// Whether it lies on a rung, not on an edge.
    pub fn on_rung(&self) -> bool {
        self.ends[0].0 == self.ends[1].0
    }

    /// The crossing of a piece whose ends lie this far to one side of the plane.
    fn of([a, b]: [(End, f64); 2]) -> Option<Crossing> {
        let ((from, da), (to, db)) = (a, b);
        ((da <= 0.0) != (db <= 0.0)).then(|| Crossing { ends: [from, to], share: da / (da - db) })
    }
}

/// The crossings of one strip after the other: on the rung `k`, on the lower and on the upper
/// edge from there to the next rung. `side` gives the distances of the lower and the upper end
/// of each of `rungs` rungs from the plane, to one side, in any measure.
pub fn crossings(rungs: usize, side: impl Fn(usize) -> [f64; 2]) -> Vec<Crossing> {
    let mut out = Vec::new();
    let mut next = (rungs > 0).then(|| side(0));
    for k in 0..rungs {
        let Some([low, high]) = next else {
            break;
        };
        out.extend(Crossing::of([((k, false), low), ((k, true), high)]));
        next = (k + 1 < rungs).then(|| side(k + 1));
        if let Some([next_low, next_high]) = next {
            out.extend(Crossing::of([((k, false), low), ((k + 1, false), next_low)]));
            out.extend(Crossing::of([((k, true), high), ((k + 1, true), next_high)]));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::P2;

    /// Upright rungs 10 apart and 100 high, cut by y = 5 x − 20: it comes in through the lower
    /// edge at 4, passes the rungs at 10 and 20 at 30 and 80, and leaves through the upper edge
    /// at 24.
    #[test]
    fn a_slanting_line_over_a_ladder_by_hand() {
        let end = |(k, upper): End| P2::new(10.0 * k as f64, if upper { 100.0 } else { 0.0 });
        let side = |p: P2| p.y - 5.0 * p.x + 20.0;
        let found = crossings(5, |k| [side(end((k, false))), side(end((k, true)))]);
        let at: Vec<P2> = found
            .iter()
            .map(|c| {
                let [a, b] = c.ends.map(end);
                a + c.share * (b - a)
            })
            .collect();
        let want = [(4.0, 0.0), (10.0, 30.0), (20.0, 80.0), (24.0, 100.0)];
        assert_eq!(at.len(), want.len());
        for (p, (x, y)) in at.iter().zip(want) {
            assert!((p - P2::new(x, y)).norm() < 1e-12, "{p}");
        }
        let rungs: Vec<bool> = found.iter().map(Crossing::on_rung).collect();
        assert_eq!(rungs, [false, true, true, false]);
    }

    /// A line through a rung's end is found on what rises from it, one along a rung not at all.
    #[test]
    fn an_end_in_the_plane_counts_as_below_it() {
        let through = |k: usize| [10.0 * k as f64 - 10.0, 10.0 * k as f64 + 5.0];
        let found = crossings(3, through);
        let on: Vec<[End; 2]> = found.iter().map(|c| c.ends).collect();
        let wanted = [[(0, false), (0, true)], [(1, false), (1, true)], [(1, false), (2, false)]];
        assert_eq!(on, wanted, "{found:?}");
        assert!(crossings(1, |_| [0.0, 0.0]).is_empty());
        assert!(crossings(0, |_| [0.0, 1.0]).is_empty());
    }
}
