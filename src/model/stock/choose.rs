//! Which of its ways each panel is split: the one with which the layout made at once is best.

use std::cmp::Ordering;

use super::SEED;
use super::beside::too_near;
use super::sheets::{Gathered, SAME_THICKNESS_MM, problem};
use super::ways::Ways;
use crate::model::{Model, PanelModel};
use crate::stock::joints::Split;
use crate::stock::nest::{BadProblem, Blanks, Effort, Layout, Problem, Progress, nest_with};

/// How long it is looked whether what is left of sheets takes a few layers more: a second or two.
const SQUEEZE: Effort = Effort { moves: 600 };
/// And for so many sets of layers of one list, those of the fewest layers first: nobody waits for
/// the rest.
const MOST_SQUEEZED: usize = 3;

/// Layouts made at once, and outlines made ready, kept while one list is made: kinds are weighed
/// with and without what may be laminated of them, with much the same parts.
#[derive(Debug, Default)]
pub(super) struct AtOnce {
    made: Vec<(Problem, Option<Layout>)>,
    /// Problems that were looked at longer.
    squeezed: Vec<Problem>,
    blanks: Blanks,
}

impl AtOnce {
    /// The layout of a problem that is made at once; `None` where the problem has faults. Of the
    /// usual seed whatever the search begins with, so that every search is one over the same
    /// pieces.
    pub(super) fn layout(&mut self, problem: &Problem) -> Option<&Layout> {
        let at = self.made.iter().position(|(p, _)| p == problem).unwrap_or_else(|| {
            let made = nest_with(problem, Effort::NONE, SEED, &mut self.blanks, &mut |_| true);
            self.made.push((problem.clone(), made.ok()));
            self.made.len() - 1
        });
        self.made[at].1.as_ref()
    }

    /// The best layout found: the one that is made at once, where nothing more is asked for and
    /// it is known.
    pub(super) fn nest(
        &mut self,
        problem: &Problem,
        effort: Effort,
        seed: u64,
        tell: &mut dyn FnMut(&Progress) -> bool,
    ) -> Result<Layout, Vec<BadProblem>> {
        let known = self.made.iter().find(|(p, _)| p == problem).and_then(|(_, l)| l.clone());
        match known {
            Some(layout) if effort == Effort::NONE && seed == SEED => Ok(layout),
            known => {
                let found = nest_with(problem, effort, seed, &mut self.blanks, tell)?;
                // A search of its own may miss what a longer look at first has found.
                let fewer = |k: &Layout| {
                    k.unplaced.len() <= found.unplaced.len() && k.sheets.len() < found.sheets.len()
                };
                Ok(known.filter(fewer).unwrap_or(found))
            }
        }
    }

    /// Looks longer for a layout of a problem on `sheets` sheets, and tells whether there is one: it
    /// is then the one that is made at once. As long as [`SQUEEZE`] whatever the list's own search
    /// is asked for, so that every search is one over the same pieces.
    fn squeezed(&mut self, problem: &Problem, sheets: usize) -> bool {
        if self.squeezed.len() >= MOST_SQUEEZED || self.squeezed.contains(problem) {
            return false;
        }
        self.squeezed.push(problem.clone());
        let on = |l: &Layout| l.unplaced.is_empty() && l.sheets.len() <= sheets;
        let mut tell = |p: &Progress| !on(p.best);
        let found =
            nest_with(problem, SQUEEZE, SEED, &mut self.blanks, &mut tell).ok().filter(|l| on(l));
        let Some(found) = found else {
            return false;
        };
        self.made.retain(|(p, _)| p != problem);
        self.made.push((problem.clone(), Some(found)));
        true
    }
}

/// The panels of a kind, by their places among all.
fn of_kind(kind: &Gathered, ways: &[Ways]) -> Vec<usize> {
    let same = |p: &PanelModel| {
        p.sheet == kind.sheet && (p.thickness - kind.thickness).abs() < SAME_THICKNESS_MM
    };
    (0..ways.len()).filter(|i| same(ways[*i].panel)).collect()
}

/// The panels of a kind, each split as it is taken now.
fn taken(kind: &Gathered, ways: &[Ways]) -> Vec<(usize, Split)> {
    let split = |i: usize| Some((i, ways[i].found.get(ways[i].taken)?.clone()));
    of_kind(kind, ways).into_iter().filter_map(split).collect()
}

/// How good a choice is, and what it cannot be better than.
#[derive(Debug, Clone, Copy)]
struct Weighed {
    unplaced: usize,
    /// Joints too near those of neighbouring panels, of all kinds of sheet.
    beside: usize,
    sheets: usize,
    /// Work for joints, and how far the parts reach, both in mm.
    work: f64,
    /// Sheets at least.
    least: usize,
}

impl Weighed {
    fn compare(&self, other: &Weighed) -> Ordering {
        let had = self.unplaced.cmp(&other.unplaced).then(self.beside.cmp(&other.beside));
        had.then(self.sheets.cmp(&other.sheets)).then(self.work.total_cmp(&other.work))
    }
}

/// Chooses, one panel after the other, the way to split it with which the layout made at once
/// is best; gives what each panel of the kind is split into. Joints that keep off those of
/// neighbours are worth a sheet; a panel whose neighbour's joints come too near goes out of their
/// way, if it can. A kind that takes no more sheets than it was found to need before parts were
/// added keeps its ways: no more parts ask for fewer sheets.
pub(super) fn choose(
    model: &Model,
    kind: &Gathered,
    ways: &mut [Ways],
    at_once: &mut AtOnce,
) -> Vec<(usize, Split)> {
    let mine = of_kind(kind, ways);
    let weigh = |ways: &[Ways], at_once: &mut AtOnce| {
        let (problem, _) = problem(model, kind, &taken(kind, ways));
        let Some(layout) = at_once.layout(&problem) else {
            let (unplaced, sheets) = (usize::MAX, usize::MAX);
            return Weighed { unplaced, beside: 0, sheets, work: f64::INFINITY, least: 0 };
        };
        let reach = layout.sheets.iter().map(|s| s.reach(&problem)).fold(0.0, f64::max);
        let joints: f64 = mine.iter().map(|i| ways[*i].found[ways[*i].taken].cost).sum();
        Weighed {
            unplaced: layout.unplaced.len(),
            beside: too_near(model.stands(), ways).len(),
            sheets: layout.sheets.len(),
            work: joints + reach,
            least: layout.bound.sheets,
        }
    };
    let mut best = weigh(ways, at_once);
    // Parts were added to a kind whose ways were weighed: whether what was left takes them is worth
    // a longer look before a joint is moved for them, or a sheet is bought.
    if let Some(needs) = kind.needs.filter(|n| best.sheets > *n && best.least <= *n) {
        let (problem, _) = problem(model, kind, &taken(kind, ways));
        if at_once.squeezed(&problem, needs) {
            best = weigh(ways, at_once);
        }
    }
    for i in &mine {
        // With as few sheets as can do there is nothing to be gained.
        let kept = best.unplaced == 0 && best.beside == 0;
        if kept && best.sheets <= best.least.max(kind.needs.unwrap_or(0)) {
            break;
        }
        for way in 1..ways[*i].found.len() {
            let before: Vec<usize> = ways.iter().map(|w| w.taken).collect();
            ways[*i].taken = way;
            out_of_the_way(model, ways, *i, &mine);
            let now = weigh(ways, at_once);
            if now.compare(&best).is_lt() {
                best = now;
            } else {
                ways.iter_mut().zip(before).for_each(|(w, taken)| w.taken = taken);
            }
        }
    }
    taken(kind, ways)
}

/// Moves the joints of the neighbours of panel `i`, of those that are in hand, to where they keep
/// off those of others, where they do not and some way of theirs does.
fn out_of_the_way(model: &Model, ways: &mut [Ways], i: usize, mine: &[usize]) {
    let near = |ways: &[Ways]| too_near(model.stands(), ways).len();
    for j in [i.wrapping_sub(1), i + 1].into_iter().filter(|j| mine.contains(j)) {
        let mut least = near(ways);
        for way in 0..ways[j].found.len() {
            let before = std::mem::replace(&mut ways[j].taken, way);
            let now = near(ways);
            if now < least { least = now } else { ways[j].taken = before }
        }
    }
}
