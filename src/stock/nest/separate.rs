//! Overlapping parts are moved until none overlaps.
//!
//! Guided local search after Gardeyn and Wauters (arXiv:2509.13329; from memory of the paper,
//! no code was read): every pair of parts has a weight, which grows as long as the two
//! overlap; parts that overlap are taken in turn and put where the weighted depth of their
//! overlaps is least among places tried all over the sheets and near where they lie. Weights
//! that grow push the search out of dead ends.

use super::bench::Bench;
use super::chance::Chance;
use super::state::{Place, State};
use crate::geom::{P2, V2};

/// Places tried all over, and near the present one, for each move.
const TRIED_ANYWHERE: usize = 40;
const TRIED_NEAR: usize = 12;
/// The best few of which are followed downhill.
const FOLLOWED: usize = 3;
/// First step downhill as a share of the part's lesser extent, and the last one, mm.
const FIRST_STEP: f64 = 0.25;
const LAST_STEP_MM: f64 = 0.05;
/// Weights of overlapping pairs grow by a factor between these, the deepest by the greatest;
/// the others shrink back.
const GROW: (f64, f64) = (1.2, 2.0);
const SHRINK: f64 = 0.95;

/// Separates; keeps weights between passes.
pub(super) struct Separator<'b, 'a> {
    bench: &'b Bench<'a>,
    pub(super) state: State,
    /// Of pairs of items, and of an item with what is missing of a table.
    weights: Vec<f64>,
    /// Moves made so far.
    pub(super) moves: usize,
    near: Vec<[f64; 4]>,
}

impl<'b, 'a> Separator<'b, 'a> {
    pub(super) fn new(bench: &'b Bench<'a>, state: State) -> Self {
        let n = bench.items.len();
        Separator { bench, state, weights: vec![1.0; n * n], moves: 0, near: Vec::new() }
    }

    /// Whether a place for an item is free, but for `item` itself. What stands in the way comes
    /// first among what lies there from then on: places that are asked for one after another lie
    /// near each other, and it mostly does again.
    pub(super) fn is_free(&mut self, item: usize, place: Place) -> bool {
        // How deep an overlap is costs far more to tell than that there is one.
        let (bench, near) = (self.bench, &mut self.near);
        let form = &bench.forms[place.form];
        let places = &self.state.places;
        let mut meets = |other: &usize| {
            let there = places[*other].filter(|_| *other != item);
            there.is_some_and(|t| form.meets(&bench.forms[t.form], t.at - place.at, near))
        };
        let lying = &mut self.state.on[place.table];
        if let Some(k) = lying.iter().position(&mut meets) {
            lying[..=k].rotate_right(1);
            return false;
        }
        let missing = &bench.boards[self.state.tables[place.table].sheet].missing;
        !missing.iter().any(|(gap, at)| form.meets(gap, at - place.at, &mut self.near))
    }

    /// Weighted depth of all overlaps of an item at a place; `None` as soon as it reaches `most`.
    fn cost(&mut self, item: usize, place: Place, most: f64) -> Option<f64> {
        let bench = self.bench;
        let (n, form) = (bench.items.len(), &bench.forms[place.form]);
        let mut sum = 0.0;
        for other in self.state.on[place.table].iter().copied().filter(|o| *o != item) {
            let Some(there) = self.state.places[other] else { continue };
            let theirs = &bench.forms[there.form];
            let d: V2 = there.at - place.at;
            if form.meets(theirs, d, &mut self.near) {
                sum += self.weights[item * n + other] * form.depth(theirs, d);
                if sum >= most {
                    return None;
                }
            }
        }
        for (missing, at) in &bench.boards[self.state.tables[place.table].sheet].missing {
            let d: V2 = at - place.at;
            if form.meets(missing, d, &mut self.near) {
                sum += self.weights[item * n + item] * form.depth(missing, d);
                if sum >= most {
                    return None;
                }
            }
        }
        Some(sum)
    }

    /// Unweighted depths of all overlaps: pairs once, an item with itself for what is missing.
    fn overlaps(&mut self) -> Vec<(usize, usize, f64)> {
        let bench = self.bench;
        let mut found = Vec::new();
        for (table, items) in self.state.on.iter().enumerate() {
            for (k, i) in items.iter().enumerate() {
                let Some(a) = self.state.places[*i] else { continue };
                let form = &bench.forms[a.form];
                for j in &items[..k] {
                    let Some(b) = self.state.places[*j] else { continue };
                    let d: V2 = b.at - a.at;
                    if form.meets(&bench.forms[b.form], d, &mut self.near) {
                        found.push((*i, *j, form.depth(&bench.forms[b.form], d)));
                    }
                }
                let missing = &bench.boards[self.state.tables[table].sheet].missing;
                let mut sum = 0.0;
                for (gap, at) in missing {
                    let d: V2 = at - a.at;
                    if form.meets(gap, d, &mut self.near) {
                        sum += form.depth(gap, d);
                    }
                }
                if sum > 0.0 {
                    found.push((*i, *i, sum));
                }
            }
        }
        found
    }

    /// One pass: every overlapping item is moved once, then weights are set anew. The sum of
    /// overlaps that are left, 0 when all are apart.
    pub(super) fn pass(&mut self, chance: &mut Chance) -> f64 {
        let mut items: Vec<usize> = self.overlaps().iter().flat_map(|o| [o.0, o.1]).collect();
        items.sort_unstable();
        items.dedup();
        chance.shuffle(&mut items);
        for item in items {
            self.relocate(item, chance);
        }
        let left = self.overlaps();
        self.reweigh(&left);
        left.iter().map(|o| o.2).sum()
    }

    /// As deep as the deepest grows most; what is apart shrinks back to 1.
    fn reweigh(&mut self, left: &[(usize, usize, f64)]) {
        let n = self.bench.items.len();
        let deepest = left.iter().map(|o| o.2).fold(f64::MIN_POSITIVE, f64::max);
        for w in &mut self.weights {
            *w = (*w * SHRINK).max(1.0);
        }
        for (i, j, depth) in left {
            let grow = GROW.0 + (GROW.1 - GROW.0) * depth / deepest;
            let w = (self.weights[i * n + j] / SHRINK * grow).min(1e12);
            self.weights[i * n + j] = w;
            self.weights[j * n + i] = w;
        }
    }

    /// Moves one item to the best place found, if it is better than where it lies.
    fn relocate(&mut self, item: usize, chance: &mut Chance) {
        let Some(here) = self.state.places[item] else { return };
        let Some(now) = self.cost(item, here, f64::INFINITY) else { return };
        if now == 0.0 {
            return;
        }
        self.moves += 1;
        let mut best: Vec<(f64, Place)> = vec![(now, here)];
        for k in 0..TRIED_ANYWHERE + TRIED_NEAR {
            let place = if k < TRIED_NEAR {
                Some(self.nearby(here, chance))
            } else {
                self.elsewhere(item, here, chance)
            };
            let Some(place) = place else { continue };
            let most = if best.len() < FOLLOWED { f64::INFINITY } else { best[FOLLOWED - 1].0 };
            if let Some(cost) = self.cost(item, place, most) {
                let at = best.partition_point(|b| b.0 <= cost);
                best.insert(at, (cost, place));
                best.truncate(FOLLOWED);
            }
        }
        let mut least = (now, here);
        for (cost, place) in best {
            let found = self.downhill(item, cost, place, chance);
            if found.0 < least.0 {
                least = found;
            }
            if least.0 == 0.0 {
                break;
            }
        }
        if least.0 < now {
            self.state.put(item, least.1);
        }
    }

    fn nearby(&self, here: Place, chance: &mut Chance) -> Place {
        let half = self.bench.forms[here.form].half;
        let (low, high) = self.state.span(self.bench, here.table, here.form);
        let at = here.at
            + V2::new(chance.between(-half.x, half.x), chance.between(-half.y, half.y)) * 0.4;
        Place { at: clamp(at, low, high), ..here }
    }

    /// Half of the time on the same table.
    fn elsewhere(&self, item: usize, here: Place, chance: &mut Chance) -> Option<Place> {
        let table = if self.state.tables.len() == 1 || chance.unit() < 0.5 {
            here.table
        } else {
            chance.below(self.state.tables.len())
        };
        self.state.anywhere(self.bench, item, &[table], chance)
    }

    /// By steps along the axes and diagonals, halved when none helps.
    fn downhill(
        &mut self,
        item: usize,
        cost: f64,
        place: Place,
        chance: &mut Chance,
    ) -> (f64, Place) {
        let form = &self.bench.forms[place.form];
        let (low, high) = self.state.span(self.bench, place.table, place.form);
        let mut step = FIRST_STEP * form.half.x.min(form.half.y);
        let mut least = (cost, place);
        while step > LAST_STEP_MM && least.0 > 0.0 {
            let sign = |c: &mut Chance| if c.unit() < 0.5 { -1.0 } else { 1.0 };
            let (a, b) = (sign(chance), sign(chance));
            let way = match chance.below(3) {
                0 => V2::new(a, 0.0),
                1 => V2::new(0.0, b),
                _ => V2::new(a, b) * std::f64::consts::FRAC_1_SQRT_2,
            };
            let mut better = false;
            for way in [way, -way] {
                let at = clamp(least.1.at + way * step, low, high);
                if at == least.1.at {
                    continue;
                }
                let tried = Place { at, ..least.1 };
                if let Some(cost) = self.cost(item, tried, least.0) {
                    least = (cost, tried);
                    better = true;
                    break;
                }
            }
            step *= if better { 1.1 } else { 0.6 };
        }
        least
    }
}

/// The nearest point of a box.
pub(super) fn clamp(p: P2, low: P2, high: P2) -> P2 {
    P2::new(p.x.clamp(low.x, high.x), p.y.clamp(low.y, high.y))
}
