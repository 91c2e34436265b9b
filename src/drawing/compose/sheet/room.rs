//! Room for words on a part: a box that stands clear of its edge, of the lines on it and of the
//! words before it.

use crate::drawing::Drawing;
use crate::drawing::face::TextBox;
use crate::geom::polyline::bounds;
use crate::geom::ring::{edges, from_ring, inside};
use crate::geom::{P2, V2};

/// Between a box and anything else, mm on paper.
pub(super) const CLEAR: f64 = 0.35;
/// Between the ends of two words, which would be read as one, and above and below them, tails of
/// letters included: what is nearer is moved apart when words are settled, off its part too.
const ENDS: f64 = 1.9;
const SIDES: f64 = 0.85;
/// Places are tried so far apart, mm on paper, on parts that are this many steps long at most;
/// on longer ones as many steps further apart.
const STEP: f64 = 0.8;
const MOST_STEPS: f64 = 60.0;

/// A part on paper and what is written on it so far.
pub(super) struct Room<'a> {
    ring: &'a [P2],
    lines: Vec<[P2; 2]>,
    taken: Vec<TextBox>,
}

impl<'a> Room<'a> {
    /// A part with the lines that are drawn on it, mm on paper, and the words that are on the
    /// sheet already.
    pub(super) fn on(d: &Drawing, ring: &'a [P2], lines: &[Vec<P2>]) -> Room<'a> {
        let mut all: Vec<[P2; 2]> = edges(ring).map(|(a, b)| [a, b]).collect();
        all.extend(lines.iter().flat_map(|l| l.windows(2).map(|w| [w[0], w[1]])));
        let taken = d.items.iter().filter_map(|i| i.shape.text_box()).collect();
        Room { ring, lines: all, taken }
    }

    /// Marks a box as taken.
    pub(super) fn take(&mut self, taken: TextBox) {
        self.taken.push(taken);
    }

    /// The lower left corner at which a box of `size` along `angle` stands clear, its middle as
    /// near to `to` as can be; `None` where there is no such place.
    pub(super) fn place(&self, size: V2, angle: f64, to: P2) -> Option<P2> {
        self.place_clear(size, angle, to, CLEAR)
    }

    /// As [`Room::place`], at least `clear` mm on paper off the edge and all lines.
    pub(super) fn place_clear(&self, size: V2, angle: f64, to: P2, clear: f64) -> Option<P2> {
        let (e, n) = (V2::new(angle.cos(), angle.sin()), V2::new(-angle.sin(), angle.cos()));
        let mut middles: Vec<P2> = self.grid().collect();
        middles.push(to);
        middles.sort_by(|a, b| (a - to).norm().total_cmp(&(b - to).norm()));
        let corner = |m: &P2| m - 0.5 * size.x * e - 0.5 * size.y * n;
        // Beside words that run another way its sides are as near as ends are.
        let beside = if e.y.abs() < 1e-9 { SIDES } else { ENDS };
        let with = |low: &P2, ends: f64, sides: f64| TextBox {
            low: low - ends * e - sides * n,
            along: (size.x + 2.0 * ends) * e,
            up: (size.y + 2.0 * sides) * n,
        };
        middles.iter().map(corner).find(|low| {
            let roomy = with(low, ENDS, beside);
            self.is_clear(&with(low, clear, clear))
                && self.taken.iter().all(|t| !t.meets(&roomy, 0.0))
        })
    }

    /// The place farthest from the part's edge, as near as the grid has it.
    pub(super) fn middle(&self) -> P2 {
        let off = |p: &P2| from_ring(*p, self.ring);
        let deepest = self.grid().max_by(|a, b| off(a).total_cmp(&off(b)));
        deepest.or(self.ring.first().copied()).unwrap_or_default()
    }

    fn grid(&self) -> impl Iterator<Item = P2> + '_ {
        let (low, high) = bounds(self.ring.iter().copied()).unwrap_or_default();
        let size = high - low;
        let step = STEP.max(size.x.max(size.y) / MOST_STEPS);
        let count = |length: f64| (length / step).floor() as usize;
        let (across, up) = (count(size.x), count(size.y));
        let start = low + 0.5 * (size - step * V2::new(across as f64, up as f64));
        (0..=across)
            .flat_map(move |i| (0..=up).map(move |j| step * V2::new(i as f64, j as f64)))
            .map(move |v| start + v)
            .filter(|p| inside(self.ring, *p))
    }

    fn is_clear(&self, b: &TextBox) -> bool {
        b.corners().iter().all(|p| inside(self.ring, *p))
            && self.lines.iter().all(|l| b.length_within(l) == 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_stands_off_lines_and_words_or_nowhere() {
        let ring = [(0., 0.), (30., 0.), (30., 10.), (0., 10.)].map(|(x, y)| P2::new(x, y));
        let line = vec![P2::new(12.0, 0.0), P2::new(12.0, 10.0)];
        let d = Drawing::new("words", "", Vec::new());
        let mut room = Room::on(&d, &ring, &[line]);
        let size = V2::new(9.0, 3.0);
        let first = room.place(size, 0.0, P2::new(12.0, 5.0)).expect("room");
        let at = TextBox { low: first, along: V2::new(9.0, 0.0), up: V2::new(0.0, 3.0) };
        assert!(first.x > 12.0 || first.x + 9.0 < 12.0);
        room.take(at);
        let second = room.place(size, 0.0, P2::new(12.0, 5.0)).expect("more room");
        let beside = TextBox { low: second, ..at };
        assert!(!at.meets(&beside, 0.0));
        assert_eq!(room.place(V2::new(19.0, 3.0), 0.0, P2::new(15.0, 5.0)), None);
        // Upright it is too long for the part's height.
        let upright = std::f64::consts::FRAC_PI_2;
        assert_eq!(room.place(V2::new(11.0, 1.0), upright, P2::new(15.0, 5.0)), None);
    }
}
