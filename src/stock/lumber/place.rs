//! Where sticks that are longer than any board are joined.

use super::LumberPlan;
use super::columns::Valued;
use super::fill::Fill;
use super::problem::Problem;
use super::scarf::{self, MOST_WAYS, StickScarf};
use super::solve::{Own, Part, Yard};

impl Yard<'_> {
    /// Chooses places of scarfs, stick by stick: those staggered from what lies beside that
    /// make the whole list cheapest when it is cut quickly. A stick and the one that is like it
    /// are placed together, in the same places unless their boards are used up by that.
    pub(super) fn place_scarfs(
        &self,
        long: Vec<(usize, Vec<Vec<f64>>)>,
        at: &mut [Option<Vec<f64>>],
        out: &mut LumberPlan,
    ) {
        for (i, _) in &long {
            at[*i] = None;
        }
        for (i, ways) in &long {
            let Some(scarfs) = self.cuts[*i].scarfs.as_ref().filter(|_| at[*i].is_none()) else {
                continue;
            };
            let same = |(k, other): &&(usize, Vec<Vec<f64>>)| {
                scarfs.like == Some(*k) && at[*k].is_none() && other == ways
            };
            let pair = long.iter().find(same).map(|p| p.0);
            let both: Vec<usize> = std::iter::once(*i).chain(pair).collect();
            let Some((w, left)) = self.cheapest_way(&both, ways, at) else {
                continue;
            };
            let placed = match (left, pair) {
                // One by one there may be boards for both.
                (1.., Some(_)) => self.cheapest_way(&[*i], ways, at).map_or(w, |one| one.0),
                _ => w,
            };
            self.joined(*i, placed.clone(), at, out);
            if let Some(k) = pair.filter(|_| left == 0) {
                self.joined(k, placed, at, out);
            }
        }
    }

    /// Takes these places for a stick's joints.
    fn joined(
        &self,
        i: usize,
        places: Vec<f64>,
        at: &mut [Option<Vec<f64>>],
        out: &mut LumberPlan,
    ) {
        let Some(scarfs) = &self.cuts[i].scarfs else {
            return;
        };
        let (length, cleat) = (scarf::length(scarfs, self.rules), scarfs.cleat);
        let gross = self.cuts[i].length + places.len() as f64 * (length + cleat);
        let staggered = self.off(i, &places, at) >= self.rules.stagger;
        at[i] = Some(places.clone());
        out.scarfs.push(StickScarf { cut: i, at: places, length, cleat, gross, staggered });
    }

    /// How far places of a stick's joints are from those of what lies beside it, mm.
    fn off(&self, i: usize, places: &[f64], at: &[Option<Vec<f64>>]) -> f64 {
        let beside = self.cuts[i].scarfs.iter().flat_map(|s| &s.beside);
        let placed = beside.filter_map(|k| at.get(*k)?.as_ref());
        placed.map(|b| scarf::apart(places, b)).fold(f64::INFINITY, f64::min)
    }

    /// The cheapest of the ways that are staggered, taken for all of `sticks`, and how many
    /// pieces no board is left for then.
    fn cheapest_way(
        &self,
        sticks: &[usize],
        ways: &[Vec<f64>],
        at: &[Option<Vec<f64>>],
    ) -> Option<(Vec<f64>, usize)> {
        let off =
            |w: &[f64]| sticks.iter().map(|i| self.off(*i, w, at)).fold(f64::INFINITY, f64::min);
        let most = ways.iter().map(|w| off(w)).fold(0.0, f64::max);
        let enough = most.min(self.rules.stagger);
        let fair = ways.iter().filter(|w| off(w) >= enough).take(MOST_WAYS);
        let cost = |w: &Vec<f64>| {
            let mut with = at.to_vec();
            for i in sticks {
                with[*i] = Some(w.clone());
            }
            self.quick_cost(&with, &self.cuts[sticks[0]].species)
        };
        let best = fair.map(|w| (cost(w), w)).min_by(|a, b| a.0.0.total_cmp(&b.0.0));
        best.map(|((_, left), w)| (w.clone(), left))
    }

    /// What all sticks of a species cost that are placed so far, cut quickly, and how many pieces
    /// are left over; those count tenfold the dearest board.
    fn quick_cost(&self, at: &[Option<Vec<f64>>], species: &str) -> (f64, usize) {
        let parts: Vec<Part> = self
            .parts(at)
            .into_iter()
            .filter(|(cut, _, _)| self.cuts[*cut].species == species)
            .collect();
        let quick = |(problem, _): (Problem, Own)| {
            let count: Vec<Option<usize>> = problem.boards.iter().map(|b| b.count).collect();
            let lengths = problem.kinds.iter().map(|k| k.size as f64).collect();
            let value = Valued::of(&problem, lengths).value;
            let (used, left) = Fill::new(&problem).greedy(&count, &value);
            let dear = problem.boards.iter().map(|b| b.cost).fold(0.0, f64::max);
            let left = left.iter().sum::<usize>();
            (problem.cost(&used) + 10.0 * dear * left as f64, left)
        };
        let all = self.problems(&parts).into_iter().map(quick);
        all.fold((0.0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
    }
}
