//! Boards that are crosscut first: short blanks of several widths lie behind one another, where
//! a board that is ripped full length first would lose the rest of its width.
//!
//! Begins with boards that are ripped first, which the search finds the cheapest of, and puts
//! what two of them give into a cheaper one as long as that can be. Each board is laid by simple
//! rules: what is found saves, and is no least.

use super::{Board, CutPiece, Length, Rules, Strip};

/// A piece with the width that a board is ripped to for it, mm.
#[derive(Debug, Clone)]
struct Blank {
    piece: CutPiece,
    width: f64,
}

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
    /// The same pieces from boards that cost no more: one board or two at a time into a cheaper
    /// one, the largest saving first. `of` are the stocks that may be taken.
    pub(super) fn bettered(&self, mut boards: Vec<Board>, of: &[usize]) -> Vec<Board> {
        while let Some((i, k, board)) = self.best_saving(&boards, of) {
            boards[i] = board;
            if let Some(k) = k {
                boards.remove(k);
            }
        }
        boards
    }

    /// The largest saving: which board gives way, which other one, and what takes their place.
    fn best_saving(&self, boards: &[Board], of: &[usize]) -> Option<(usize, Option<usize>, Board)> {
        let mut best: Option<(f64, (usize, Option<usize>, Board))> = None;
        for i in 0..boards.len() {
            for k in std::iter::once(None).chain((i + 1..boards.len()).map(Some)) {
                let old: Vec<&Board> =
                    [Some(i), k].into_iter().flatten().map(|n| &boards[n]).collect();
                let paid: f64 = old.iter().map(|b| (self.cost)(b.stock)).sum();
                let pieces: Vec<&CutPiece> =
                    old.iter().flat_map(|b| &b.strips).flat_map(|s| &s.pieces).collect();
                for s in of {
                    let saved = paid - (self.cost)(*s);
                    let enough = best.as_ref().map_or(ROUNDING * paid, |b| b.0 + ROUNDING * paid);
                    let free = self.stock[*s].count.is_none_or(|n| {
                        let used = boards.iter().filter(|b| b.stock == *s).count();
                        let back = old.iter().filter(|b| b.stock == *s).count();
                        used - back < n as usize
                    });
                    if saved > enough
                        && free
                        && let Some(strips) = self.laid(*s, &pieces)
                    {
                        best = Some((saved, (i, k, Board { stock: *s, strips })));
                    }
                }
            }
        }
        best.map(|b| b.1)
    }

    /// The pieces on one board of a stock, crosscut first: the longest first, the widest first,
    /// or the largest first, whichever does.
    fn laid(&self, s: usize, pieces: &[&CutPiece]) -> Option<Vec<Strip>> {
        let blank =
            |p: &&CutPiece| Some(Blank { piece: (*p).clone(), width: (self.width)(s, p.cut)? });
        let mut blanks = pieces.iter().map(blank).collect::<Option<Vec<Blank>>>()?;
        let size = |b: &Blank| b.piece.length * b.width;
        let area: f64 = blanks.iter().map(size).sum();
        if area > self.stock[s].width * self.usable(s) * (1.0 + ROUNDING) {
            return None;
        }
        let orders: [&dyn Fn(&Blank) -> (f64, f64); 3] =
            [&|b| (b.piece.length, b.width), &|b| (b.width, b.piece.length), &|b| {
                (size(b), b.piece.length)
            }];
        orders.into_iter().find_map(|key| {
            blanks.sort_by(|a, b| {
                let (x, y) = (key(a), key(b));
                y.0.total_cmp(&x.0).then(y.1.total_cmp(&x.1)).then(a.piece.cut.cmp(&b.piece.cut))
            });
            self.in_segments(s, &blanks)
        })
    }

    fn usable(&self, s: usize) -> f64 {
        self.stock[s].length - 2.0 * self.rules.end_trim
    }

    /// The blanks in this order: each behind another of its width where one lies that leaves
    /// room, or beside others, or in a segment of its own behind them.
    fn in_segments(&self, s: usize, blanks: &[Blank]) -> Option<Vec<Strip>> {
        let (kerf, usable, wide) = (self.rules.kerf, self.usable(s), self.stock[s].width);
        let mut segments: Vec<Segment> = Vec::new();
        for b in blanks {
            let taken = segments.iter_mut().any(|g| g.take(b, kerf, wide));
            if taken {
                continue;
            }
            let from = segments.last().map_or(0.0, |g| g.from + g.length + kerf);
            let length = b.piece.length;
            let narrow = b.width <= wide + self.rules.section_room;
            if from + length > usable + ROUNDING || !narrow {
                return None;
            }
            let lane = Lane { width: b.width, pieces: vec![b.piece.clone()] };
            segments.push(Segment { from, length, lanes: vec![lane] });
        }
        Some(segments.into_iter().flat_map(|g| g.strips(kerf)).collect())
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
        Length { species: "Douglas-fir".into(), thickness: 38.0, width, length, price: None, count }
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
