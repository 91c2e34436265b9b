//! Boards that are crosscut first: short blanks of several widths lie behind one another, where
//! a board that is ripped full length first would lose the rest of its width.
//!
//! Begins with boards that are ripped first, which the search finds the cheapest of, and puts
//! what some of them give into cheaper ones, one fewer or as many, as long as that can be. Each
//! board is laid by simple rules: what is found saves, and is no least.

use super::{Board, CutPiece, Length, Rules, Strip};

/// A piece with the width that a board is ripped to for it, mm.
#[derive(Debug, Clone)]
struct Blank<'p> {
    piece: &'p CutPiece,
    width: f64,
}

/// Boards that give way, what takes their place, and what is saved by it.
struct Saving {
    saved: f64,
    old: Vec<usize>,
    new: Vec<Board>,
}

/// Orders in which blanks are laid.
const ORDERS: usize = 3;

/// Boards of one problem, and what they may be cut from instead.
pub(super) struct Crosscut<'a> {
    pub(super) stock: &'a [Length],
    pub(super) rules: &'a Rules,
    /// What one of a stock costs.
    pub(super) cost: &'a dyn Fn(usize) -> f64,
    /// Width to which a stock is ripped for a stick; `None` where it does not give it.
    pub(super) width: &'a dyn Fn(usize, usize) -> Option<f64>,
}

/// Widths of one rip differ by less, mm; a saving is more than this share of a cost.
const SAME_MM: f64 = 0.05;
const ROUNDING: f64 = 1e-6;

impl Crosscut<'_> {
    /// The same pieces from boards that cost no more: up to so many boards at a time (`most`)
    /// into cheaper ones, the largest saving first. `of` are the stocks that may be taken.
    pub(super) fn bettered(&self, mut boards: Vec<Board>, of: &[usize], most: usize) -> Vec<Board> {
        while let Some(Saving { old, new, .. }) = self.best_saving(&boards, of, most) {
            for k in old.into_iter().rev() {
                boards.remove(k);
            }
            boards.extend(new);
        }
        boards
    }

    /// The largest saving of up to `most` boards that give way.
    fn best_saving(&self, boards: &[Board], of: &[usize], most: usize) -> Option<Saving> {
        let mut best: Option<Saving> = None;
        let count = boards.len();
        for i in 0..count {
            self.save(boards, of, vec![i], &mut best);
            for k in i + 1..count {
                self.save(boards, of, vec![i, k], &mut best);
                for l in (k + 1..count).filter(|_| most > 2) {
                    self.save(boards, of, vec![i, k, l], &mut best);
                }
            }
        }
        best
    }

    /// What these boards give, from fewer boards or as many that are cheaper: one after another,
    /// each laid as full as its rules lay it.
    fn save(&self, boards: &[Board], of: &[usize], old: Vec<usize>, best: &mut Option<Saving>) {
        let paid: f64 = old.iter().map(|k| (self.cost)(boards[*k].stock)).sum();
        let enough = best.as_ref().map_or(0.0, |b| b.saved) + ROUNDING * paid;
        let pieces: Vec<&CutPiece> =
            old.iter().flat_map(|k| &boards[*k].strips).flat_map(|s| &s.pieces).collect();
        let free = |s: usize, taken: &[Board]| {
            self.stock[s].count.is_none_or(|n| {
                let others = boards.iter().enumerate().filter(|(k, _)| !old.contains(k));
                let used = others.map(|(_, b)| b).chain(taken).filter(|b| b.stock == s).count();
                used < n as usize
            })
        };
        for order in 0..ORDERS {
            self.refilled(
                of,
                &pieces,
                order,
                (paid - enough, old.len()),
                &free,
                &mut |cost, new| {
                    if best.as_ref().is_none_or(|b| paid - cost > b.saved + ROUNDING * paid) {
                        *best = Some(Saving { saved: paid - cost, old: old.clone(), new });
                    }
                },
            );
        }
    }

    /// Lays the pieces on boards that cost less than `(most, count)` together, so many at most:
    /// one of each stock as full as can be, what is left on the next, and tells of each that
    /// holds them all.
    fn refilled(
        &self,
        of: &[usize],
        pieces: &[&CutPiece],
        order: usize,
        (most, count): (f64, usize),
        free: &dyn Fn(usize, &[Board]) -> bool,
        found: &mut dyn FnMut(f64, Vec<Board>),
    ) {
        type State<'p> = (f64, Vec<Board>, Vec<&'p CutPiece>);
        let mut open: Vec<State> = vec![(0.0, Vec::new(), pieces.to_vec())];
        while let Some((cost, laid, left)) = open.pop() {
            for s in of {
                let now = cost + (self.cost)(*s);
                if now >= most || !free(*s, &laid) {
                    continue;
                }
                let Some((strips, rest)) = self.laid(*s, &left, order) else {
                    continue;
                };
                if strips.is_empty() {
                    continue;
                }
                let with: Vec<Board> =
                    laid.iter().cloned().chain([Board { stock: *s, strips }]).collect();
                match (rest.is_empty(), with.len() < count) {
                    (true, _) => found(now, with),
                    (false, true) => open.push((now, with, rest)),
                    (false, false) => {}
                }
            }
        }
    }

    /// The pieces on one board of a stock, crosscut first, and those that it has no room for;
    /// `None` where it gives one of them by no rip. By order the longest first, the widest, or
    /// the largest.
    fn laid<'p>(
        &self,
        s: usize,
        pieces: &[&'p CutPiece],
        order: usize,
    ) -> Option<(Vec<Strip>, Vec<&'p CutPiece>)> {
        let blank = |p: &&'p CutPiece| Some(Blank { piece: p, width: (self.width)(s, p.cut)? });
        let mut blanks = pieces.iter().map(blank).collect::<Option<Vec<Blank>>>()?;
        let key = |b: &Blank| {
            let (length, width) = (b.piece.length, b.width);
            match order {
                0 => (length, width),
                1 => (width, length),
                _ => (length * width, length),
            }
        };
        blanks.sort_by(|a, b| {
            let (x, y) = (key(a), key(b));
            y.0.total_cmp(&x.0).then(y.1.total_cmp(&x.1)).then(a.piece.cut.cmp(&b.piece.cut))
        });
        Some(self.in_segments(s, &blanks))
    }

    fn usable(&self, s: usize) -> f64 {
        self.stock[s].length - 2.0 * self.rules.end_trim
    }

    /// The blanks in this order: each behind another of its width where one lies that leaves
    /// room, or beside others, or in a segment of its own behind them; and those that found none.
    fn in_segments<'p>(&self, s: usize, blanks: &[Blank<'p>]) -> (Vec<Strip>, Vec<&'p CutPiece>) {
        let (kerf, usable, wide) = (self.rules.kerf, self.usable(s), self.stock[s].width);
        let (mut segments, mut left): (Vec<Segment>, Vec<&CutPiece>) = (Vec::new(), Vec::new());
        for b in blanks {
            let taken = segments.iter_mut().any(|g| g.take(b, kerf, wide));
            if taken {
                continue;
            }
            let from = segments.last().map_or(0.0, |g| g.from + g.length + kerf);
            let length = b.piece.length;
            let narrow = b.width <= wide + self.rules.section_room;
            if from + length > usable + ROUNDING || !narrow {
                left.push(b.piece);
                continue;
            }
            let lane = Lane { width: b.width, pieces: vec![b.piece.clone()] };
            segments.push(Segment { from, length, lanes: vec![lane] });
        }
        (segments.into_iter().flat_map(|g| g.strips(kerf)).collect(), left)
    }
}

/// Pieces behind one another on one width.
struct Lane {
    width: f64,
    pieces: Vec<CutPiece>,
}

/// What lies between two crosscuts over the whole width of a board.
struct Segment {
    from: f64,
    length: f64,
    lanes: Vec<Lane>,
}

/// Length of pieces behind one another, with the saw cuts between them, mm.
fn run(pieces: &[CutPiece], kerf: f64) -> f64 {
    let cuts = pieces.len().saturating_sub(1) as f64 * kerf;
    pieces.iter().map(|p| p.length).sum::<f64>() + cuts
}

impl Segment {
    /// Takes a blank where it has room for it; whether it did.
    fn take(&mut self, b: &Blank, kerf: f64, wide: f64) -> bool {
        let length = self.length;
        let behind = self.lanes.iter_mut().find(|l| {
            (l.width - b.width).abs() < SAME_MM
                && run(&l.pieces, kerf) + kerf + b.piece.length <= length + ROUNDING
        });
        if let Some(lane) = behind {
            lane.pieces.push(b.piece.clone());
            return true;
        }
        let taken: f64 = self.lanes.iter().map(|l| l.width + kerf).sum();
        let fits = b.piece.length <= length + ROUNDING && taken + b.width <= wide + ROUNDING;
        if fits {
            self.lanes.push(Lane { width: b.width, pieces: vec![b.piece.clone()] });
        }
        fits
    }

    fn strips(self, kerf: f64) -> Vec<Strip> {
        let (from, length) = (self.from, self.length);
        let strip = |l: Lane| {
            let offcut = (length - run(&l.pieces, kerf) - kerf).max(0.0);
            Strip { from, width: l.width, pieces: l.pieces, offcut }
        };
        self.lanes.into_iter().map(strip).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::check::faults;
    use super::super::{Cut, Length, Rules, plan};

    fn blank(name: &str, length: f64, width: f64) -> Cut {
        Cut {
            name: name.into(),
            species: "Douglas-fir".into(),
            section: (38.0, width),
            length,
            trim: 0.0,
            scarfs: None,
        }
    }

    fn board(length: f64, width: f64, count: Option<u32>) -> Length {
        let species = "Douglas-fir".into();
        Length { species, thickness: 38.0, width, length, price: None, count, for_any: false }
    }

    /// A stem of 595 by 140 beside an outer stem of 594 by 89, a knee of 493 by 235 behind them,
    /// a stem's knee of 221 behind that: 1315 mm of a board of 1770 with its saw cuts. Ripped
    /// full length first two boards are needed.
    #[test]
    fn stems_and_knees_come_out_of_one_board() {
        let cuts = [
            blank("stem", 595.0, 140.0),
            blank("outer stem", 594.0, 89.0),
            blank("knee", 493.0, 235.0),
            blank("stem knee", 221.0, 140.0),
        ];
        let stock = [board(1800.0, 235.0, None), board(2400.0, 235.0, None)];
        let ripped = plan(&cuts, &stock, &Rules::default());
        assert_eq!(ripped.boards.len(), 2);
        let rules = Rules { crosscut_first: true, ..Rules::default() };
        let found = plan(&cuts, &stock, &rules);
        assert_eq!(faults(&found, &cuts, &stock, &rules), Vec::<String>::new());
        assert_eq!((found.boards.len(), found.boards[0].stock), (1, 0), "{:?}", found.boards);
        assert!(found.proofs[0].cost < ripped.proofs[0].cost);
        let ends = found.boards[0]
            .strips
            .iter()
            .map(|s| s.from + s.pieces.iter().map(|p| p.length).sum::<f64>());
        assert!((ends.fold(0.0, f64::max) - 1315.0).abs() < 1e-9);
        // Sticks as long as the board stay ripped side by side.
        let long = [blank("log", 1700.0, 89.0), blank("clamp", 1700.0, 140.0)];
        let found = plan(&long, &stock, &rules);
        assert_eq!(found.boards.len(), 1);
        assert!(found.boards[0].strips.iter().all(|s| s.from == 0.0));
    }

    /// A jig's rungs lie behind its rails, where ripping full length first leaves the rest of the
    /// rail's width: three boards become two.
    #[test]
    fn rungs_lie_behind_rails() {
        let mut cuts = vec![blank("rail", 4176.0, 140.0), blank("rail", 4176.0, 140.0)];
        cuts.extend((0..2).map(|_| blank("rung", 524.0, 89.0)));
        let stock = [1800.0, 4800.0].map(|l| board(l, 140.0, None));
        let rules = Rules { crosscut_first: true, ..Rules::default() };
        let found = plan(&cuts, &stock, &rules);
        assert_eq!(faults(&found, &cuts, &stock, &rules), Vec::<String>::new());
        assert!(found.missing.is_empty());
        assert_eq!(found.boards.len(), 2, "{:?}", found.boards);
    }

    /// A row more, dearer than what there is, never makes the list cost more; nor does one whose
    /// price nobody said.
    #[test]
    fn a_dearer_row_more_costs_nothing() {
        let lengths = [510.0, 478.0, 1024.0, 2100.0, 3773.0, 698.0, 446.0];
        let mut cuts: Vec<Cut> = lengths.iter().map(|l| blank("stick", *l, 89.0)).collect();
        cuts.push(blank("wide", 600.0, 140.0));
        let priced = |length: f64, width: f64, rate: f64| Length {
            price: Some(rate * length),
            ..board(length, width, None)
        };
        let yard: Vec<Length> = [2400.0, 3600.0, 4800.0]
            .iter()
            .flat_map(|l| [priced(*l, 89.0, 1.0), priced(*l, 140.0, 3.0)])
            .collect();
        let rules = Rules { crosscut_first: true, ..Rules::default() };
        let cost = |stock: &[Length]| -> f64 {
            let found = plan(&cuts, stock, &rules);
            assert!(found.missing.is_empty());
            found.boards.iter().map(|b| stock[b.stock].price.expect("priced ones do")).sum()
        };
        let least = cost(&yard);
        for more in [priced(4200.0, 184.0, 9.0), board(4200.0, 184.0, None)] {
            let with: Vec<Length> = yard.iter().cloned().chain([more]).collect();
            assert!(cost(&with) <= least + 1e-9, "{} for {least}", cost(&with));
        }
    }

    /// No more boards of a stock are taken than there are, and a board that lies over another's
    /// piece is found out.
    #[test]
    fn what_there_is_and_what_overlaps_is_told() {
        let cuts = [blank("a", 800.0, 140.0), blank("b", 800.0, 235.0)];
        let stock = [board(1800.0, 235.0, Some(0)), board(900.0, 235.0, None)];
        let rules = Rules { crosscut_first: true, ..Rules::default() };
        let found = plan(&cuts, &stock, &rules);
        assert!(found.boards.iter().all(|b| b.stock == 1) && found.boards.len() == 2);
        let stock = [board(1800.0, 235.0, None), board(900.0, 235.0, None)];
        let found = plan(&cuts, &stock, &rules);
        assert!(faults(&found, &cuts, &stock, &rules).is_empty());
        let mut over = found.clone();
        if let [only] = over.boards.as_mut_slice() {
            only.strips[1].from = only.strips[0].from + 1.0;
            assert!(!faults(&over, &cuts, &stock, &rules).is_empty());
        }
        let mut off = found;
        off.boards[0].strips.last_mut().expect("a strip").from = 1200.0;
        assert!(!faults(&off, &cuts, &stock, &rules).is_empty());
    }
}
