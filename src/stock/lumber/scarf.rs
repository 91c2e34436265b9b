//! Sticks longer than any length that can be had: where they are scarfed, or butted with a cleat
//! alongside.

use super::{Cut, Rules};

/// How a stick may be joined of shorter pieces.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scarfs {
    /// What a scarf slopes through, mm: the stick's depth square to the skin.
    pub depth: f64,
    /// Length (mm) of the cleat of the same section that lies alongside a joint whose ends are
    /// butted; 0 for a scarf.
    pub cleat: f64,
    /// Stretches along the stick, from its forward end, in which no scarf lies, mm.
    pub keep_out: Vec<(f64, f64)>,
    /// Where it is bent tightest, from its forward end, and how far a scarf stays off, mm.
    pub tightest: Option<(f64, f64)>,
    /// Sticks that lie side by side with this one, by index: their scarfs are staggered.
    pub beside: Vec<usize>,
    /// The one on the other side of the boat, by index: both are joined at the same places, so
    /// that they bend alike.
    pub like: Option<usize>,
}

/// Where a stick is scarfed.
#[derive(Debug, Clone, PartialEq)]
pub struct StickScarf {
    /// Which stick, by index.
    pub cut: usize,
    /// Middles of its scarfs from its forward end, mm.
    pub at: Vec<f64>,
    /// Length of each along the stick, mm: slope times depth; 0 where its ends are butted.
    pub length: f64,
    /// Length of the cleat alongside each, mm; 0 for a scarf.
    pub cleat: f64,
    /// Length of all its pieces together, cleats among them, mm.
    pub gross: f64,
    /// They are as far from the scarfs of sticks beside it as they should be.
    pub staggered: bool,
}

/// Pieces that a stick may be made of at most.
const MOST_PIECES: usize = 5;
/// Ways to place its scarfs that are weighed against each other.
pub(super) const MOST_WAYS: usize = 8;

/// Length of a scarf of this stick, mm; 0 where its ends are butted.
pub(super) fn length(scarfs: &Scarfs, rules: &Rules) -> f64 {
    if scarfs.cleat > 0.0 { 0.0 } else { rules.slope * scarfs.depth }
}

/// Lengths of all that is cut for a stick that is joined at these middles: its pieces from the
/// forward end, then a cleat for each joint that is butted.
pub(super) fn cut_for(stick: f64, (scarf, cleat): (f64, f64), at: &[f64]) -> Vec<f64> {
    let cleats = at.iter().filter(|_| cleat > 0.0).map(|_| cleat);
    pieces(stick, scarf, at).into_iter().chain(cleats).collect()
}

/// Lengths of the pieces of a stick that is scarfed at these middles.
pub(super) fn pieces(stick: f64, scarf: f64, at: &[f64]) -> Vec<f64> {
    (0..=at.len())
        .map(|i| {
            let from = i.checked_sub(1).map_or(0.0, |k| at[k] - 0.5 * scarf);
            at.get(i).map_or(stick, |m| m + 0.5 * scarf) - from
        })
        .collect()
}

/// Ways to place the scarfs of a stick so that each piece is cut from one of the `lengths`
/// (usable, mm): as few scarfs as do, pieces as long as a length from one end or the other, or
/// all alike. Empty where there is none.
pub(super) fn ways(cut: &Cut, scarfs: &Scarfs, lengths: &[f64], rules: &Rules) -> Vec<Vec<f64>> {
    let scarf = length(scarfs, rules);
    let longest = lengths.iter().copied().fold(0.0, f64::max);
    for count in 1..MOST_PIECES {
        let mut found = Vec::new();
        let ends = End { cut, scarfs, scarf, longest, rules };
        for mirrored in [false, true] {
            ends.go(lengths, count, mirrored, 0.0, &mut Vec::new(), &mut found);
        }
        let even = |k: usize| cut.length * k as f64 / (count + 1) as f64;
        found.push((1..=count).map(even).collect());
        let mut good: Vec<Vec<f64>> = Vec::new();
        for at in found {
            let same = |o: &Vec<f64>| o.iter().zip(&at).all(|(a, b)| (a - b).abs() < 1.0);
            if ends.good(&at) && !good.iter().any(same) {
                good.push(at);
            }
        }
        if !good.is_empty() {
            return good;
        }
    }
    Vec::new()
}

/// A stick and what its scarfs have to keep to.
struct End<'a> {
    cut: &'a Cut,
    scarfs: &'a Scarfs,
    scarf: f64,
    longest: f64,
    rules: &'a Rules,
}

impl End<'_> {
    /// Pieces as long as a length, one after another from one end.
    fn go(
        &self,
        lengths: &[f64],
        count: usize,
        mirrored: bool,
        start: f64,
        at: &mut Vec<f64>,
        out: &mut Vec<Vec<f64>>,
    ) {
        if at.len() == count {
            let mut found: Vec<f64> =
                at.iter().map(|m| if mirrored { self.cut.length - m } else { *m }).collect();
            found.sort_by(f64::total_cmp);
            out.push(found);
            return;
        }
        // Lengths that a shut stretch sets back to one place are one way.
        let mut tried: Vec<f64> = Vec::new();
        for length in lengths {
            let middle = self.clear(start + length - 0.5 * self.scarf, mirrored);
            let on = middle > start && middle < self.cut.length;
            if on && !tried.contains(&middle) && self.may_do(start, middle, count - at.len()) {
                tried.push(middle);
                at.push(middle);
                self.go(lengths, count, mirrored, middle - 0.5 * self.scarf, at, out);
                at.pop();
            }
        }
    }

    /// Whether a piece from `start` to the scarf at `middle` is one, and what is left can be had
    /// in so many more: ways that [`End::good`] refuses anyway are as many as lengths to the
    /// power of scarfs.
    fn may_do(&self, start: f64, middle: f64, more: usize) -> bool {
        let half = 0.5 * self.scarf;
        let left = self.cut.length - (middle - half);
        let most = more as f64 * (self.longest + ROUNDING_MM) - (more - 1) as f64 * self.scarf;
        middle + half - start >= self.rules.least_piece && left <= most
    }

    /// Stretches in which the middle of a scarf must not lie.
    fn shut(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let half = 0.5 * self.scarf;
        let bend = self.scarfs.tightest.map(|(at, clear)| (at - clear, at + clear));
        let all = self.scarfs.keep_out.iter().copied().chain(bend);
        all.map(move |(from, to)| (from - half, to + half))
    }

    /// The stretch in which a place lies. One on its edge is not in it, nor is one that rounding
    /// put behind it: set back to that edge it would be set back for ever.
    fn shut_at(&self, place: f64) -> Option<(f64, f64)> {
        self.shut().find(|(a, b)| place > a + ROUNDING_MM && place < b - ROUNDING_MM)
    }

    /// `middle`, or the next place before it (seen from the end that is begun at) that is clear.
    fn clear(&self, middle: f64, mirrored: bool) -> f64 {
        let mut m = middle;
        loop {
            let real = if mirrored { self.cut.length - m } else { m };
            let Some((from, to)) = self.shut_at(real) else {
                return m;
            };
            m = if mirrored { self.cut.length - to } else { from };
        }
    }

    fn good(&self, at: &[f64]) -> bool {
        let pieces = pieces(self.cut.length, self.scarf, at);
        let long = |p: &f64| *p <= self.longest + ROUNDING_MM && *p >= self.rules.least_piece;
        pieces.iter().all(long) && at.iter().all(|m| self.shut_at(*m).is_none())
    }
}

/// A piece as long as its board may be over it by this, mm.
const ROUNDING_MM: f64 = 1e-6;

/// Least distance between scarfs of two sticks, mm.
pub(super) fn apart(a: &[f64], b: &[f64]) -> f64 {
    a.iter().flat_map(|x| b.iter().map(move |y| (x - y).abs())).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stick(length: f64, scarfs: Scarfs) -> Cut {
        Cut {
            name: "clamp".into(),
            species: "Douglas-fir".into(),
            section: (19.0, 38.0),
            length,
            trim: 0.0,
            scarfs: Some(scarfs),
        }
    }

    #[test]
    fn pieces_are_longer_by_a_scarf_for_each_joint() {
        let scarf = 8.0 * 19.0;
        let p = pieces(4500.0, scarf, &[1500.0, 3000.0]);
        assert_eq!(p, vec![1576.0, 1652.0, 1576.0]);
        assert!((p.iter().sum::<f64>() - 4500.0 - 2.0 * scarf).abs() < 1e-9);
    }

    /// Butted, nothing of a stick's length is lost, and each joint takes its cleat.
    #[test]
    fn a_butted_stick_takes_a_cleat_for_each_joint() {
        let all = cut_for(6000.0, (0.0, 560.0), &[2000.0, 4500.0]);
        assert_eq!(all, vec![2000.0, 2500.0, 1500.0, 560.0, 560.0]);
        assert_eq!(cut_for(6000.0, (0.0, 560.0), &[]), vec![6000.0]);
        let butted = Scarfs { depth: 38.0, cleat: 560.0, ..Scarfs::default() };
        assert_eq!(length(&butted, &Rules::default()), 0.0);
    }

    #[test]
    fn scarfs_stay_off_what_they_must_and_pieces_fit() {
        let scarfs = Scarfs {
            depth: 19.0,
            cleat: 0.0,
            keep_out: vec![(2200.0, 2400.0)],
            tightest: Some((1500.0, 300.0)),
            beside: vec![],
            like: None,
        };
        let cut = stick(4500.0, scarfs.clone());
        let rules = Rules::default();
        let all = ways(&cut, &scarfs, &[2400.0, 3600.0], &rules);
        assert!(all.len() >= 2, "{all:?}");
        for at in &all {
            assert_eq!(at.len(), 1);
            let m = at[0];
            assert!(!(2124.0 < m && m < 2476.0) && (m - 1500.0).abs() >= 376.0 - 1e-9, "{m}");
            assert!(pieces(4500.0, 152.0, at).iter().all(|p| *p <= 3600.0 + 1e-6 && *p >= 600.0));
        }
        // Kept out everywhere there is no way.
        let shut = Scarfs { keep_out: vec![(0.0, 4500.0)], ..scarfs };
        assert!(ways(&cut, &shut, &[2400.0], &rules).is_empty());
    }

    /// Seen from the after end a stretch's edge is the length less what is left, and rounding may
    /// put that a hair inside the stretch: a scarf set back to it stays there all the same.
    #[test]
    fn a_scarf_that_is_set_back_stays_where_rounding_puts_it() {
        let mut inside = 0;
        for k in 0..400 {
            let (long, at) = (4100.0 + 0.137 * f64::from(k), 900.0 + 0.0713 * f64::from(k));
            let scarfs = Scarfs { depth: 19.0, tightest: Some((at, 300.0)), ..Scarfs::default() };
            let edge = at + 300.0 + 0.5 * length(&scarfs, &Rules::default());
            inside += usize::from(long - (long - edge) < edge);
            let all =
                ways(&stick(long, scarfs.clone()), &scarfs, &[2400.0, 3000.0], &Rules::default());
            let off = |m: &f64| (m - at).abs() >= 376.0 - 1e-5;
            assert!(all.iter().flatten().all(off), "{all:?}");
        }
        assert!(inside > 20, "{inside}");
    }
}
