//! Cuts and stock in whole numbers: kinds of pieces, sections, boards and the ways to rip them.

use super::knapsack::{Knapsack, Lot};

/// Pieces of one section and length.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Kind {
    /// Which section.
    pub(super) section: usize,
    /// Length with its saw cut, mm.
    pub(super) size: usize,
    /// How many are wanted.
    pub(super) count: usize,
}

/// Boards of one stock.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct BoardKind {
    /// Which row of the stock.
    pub(super) stock: usize,
    /// Length that can be cut, with one saw cut, mm.
    pub(super) capacity: usize,
    /// Price, or wood in m³.
    pub(super) cost: f64,
    /// How many there are.
    pub(super) count: Option<usize>,
    /// Ways to rip one: how many strips of each section. None holds another.
    pub(super) rips: Vec<Vec<usize>>,
}

/// Pieces and boards that share nothing with others.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Problem {
    /// Pieces, the longest first.
    pub(super) kinds: Vec<Kind>,
    /// Number of sections.
    pub(super) sections: usize,
    /// Boards.
    pub(super) boards: Vec<BoardKind>,
}

/// How a strip is crosscut: kinds with how many of each.
pub(super) type Crosscut = Vec<(usize, usize)>;

/// A board that is used: which, how it is ripped, and how each strip is crosscut, strips in the
/// order of sections.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Used {
    pub(super) board: usize,
    pub(super) strips: Vec<(usize, Crosscut)>,
}

/// More ways to rip a board than this are not looked at: shavings.
const MOST_RIPS: usize = 400;

/// Ways to rip a board of `width` into strips of `widths` (`None` where it cannot give that
/// section), both with a saw cut, so that nothing more goes in: in tenths of a mm. No more strips
/// of a section than there are pieces of it: with shavings of each counted, what matters was
/// missed.
pub(super) fn rips(width: usize, widths: &[Option<usize>], pieces: &[usize]) -> Vec<Vec<usize>> {
    fn go(
        left: usize,
        at: usize,
        widths: &[Option<usize>],
        pieces: &[usize],
        now: &mut Vec<usize>,
        out: &mut Vec<Vec<usize>>,
    ) {
        if out.len() >= MOST_RIPS {
            return;
        }
        let Some(width) = widths.get(at) else {
            // Room for one more strip: another way holds this one.
            let wanted = widths.iter().zip(now.iter().zip(pieces)).filter(|(_, (n, p))| n < p);
            let room = wanted.filter_map(|(w, _)| *w).any(|w| w <= left);
            if !room && now.iter().any(|n| *n > 0) {
                out.push(now.clone());
            }
            return;
        };
        let most = width.filter(|w| *w > 0).map_or(0, |w| left / w).min(pieces[at]);
        for n in (0..=most).rev() {
            now.push(n);
            go(left - n * width.unwrap_or(0), at + 1, widths, pieces, now, out);
            now.pop();
        }
    }
    let mut out = Vec::new();
    go(width, 0, widths, pieces, &mut Vec::new(), &mut out);
    out
}

impl Problem {
    /// Of every section the table of best values, if a piece of each kind is worth `value` and
    /// `left` of each may be taken.
    pub(super) fn tables(&self, value: &[f64], left: &[usize]) -> Vec<Knapsack> {
        (0..self.sections).map(|s| self.table(s, value, left)).collect()
    }

    /// The table of one section.
    pub(super) fn table(&self, section: usize, value: &[f64], left: &[usize]) -> Knapsack {
        let most = self.boards.iter().map(|b| b.capacity).max().unwrap_or(0);
        let kinds = self.kinds.iter().enumerate().filter(|(_, k)| k.section == section);
        let lots: Vec<Lot> = kinds
            .map(|(i, k)| Lot { kind: i, size: k.size, count: left[i], value: value[i] })
            .collect();
        Knapsack::of(&lots, most)
    }

    /// How many of each kind are wanted.
    pub(super) fn demand(&self) -> Vec<usize> {
        self.kinds.iter().map(|k| k.count).collect()
    }

    /// The most that board `b` holds, and the way to rip it then.
    pub(super) fn best_rip(&self, b: usize, tables: &[Knapsack]) -> (f64, usize) {
        let board = &self.boards[b];
        let value = |rip: &Vec<usize>| -> f64 {
            rip.iter().zip(tables).map(|(n, t)| *n as f64 * t.best(board.capacity)).sum()
        };
        board
            .rips
            .iter()
            .enumerate()
            .map(|(i, rip)| (value(rip), i))
            .fold((0.0, usize::MAX), |best, v| if v.0 > best.0 { v } else { best })
    }

    /// What these boards cost.
    pub(super) fn cost(&self, used: &[Used]) -> f64 {
        used.iter().map(|u| self.boards[u.board].cost).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::rips;

    /// A board of 140 mm with a cut of 3: three sticks of 38, or one of 89 and one of 38; 38
    /// twice with 45 left holds no 89.
    #[test]
    fn a_board_of_140_gives_three_of_38_or_one_of_89_and_one_of_38() {
        let found = rips(1430, &[Some(920), Some(410)], &[9, 9]);
        assert_eq!(found, vec![vec![1, 1], vec![0, 3]]);
        assert_eq!(rips(1430, &[Some(920), Some(410)], &[9, 2]), vec![vec![1, 1], vec![0, 2]]);
        assert_eq!(rips(1430, &[None, Some(1430)], &[1, 1]), vec![vec![0, 1]]);
        assert!(rips(100, &[Some(400)], &[1]).is_empty());
    }
}
