//! The most valuable set of pieces for every length up to one: the bounded knapsack.

/// Pieces of a kind that may be taken: how long one is, and how many there are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lot {
    /// Which kind.
    pub(super) kind: usize,
    /// With its saw cut.
    pub(super) size: usize,
    /// How many.
    pub(super) count: usize,
    /// Of one.
    pub(super) value: f64,
}

/// Some of a lot taken together.
#[derive(Debug, Clone, Copy)]
struct Bundle {
    kind: usize,
    many: usize,
    size: usize,
}

/// Best values for all lengths, and how they are reached.
#[derive(Debug, Clone)]
pub(super) struct Knapsack {
    best: Vec<f64>,
    bundles: Vec<Bundle>,
    /// Bundle by bundle: whether it is in the best set of each length.
    taken: Vec<Vec<bool>>,
}

impl Knapsack {
    /// Of these lots, for lengths up to `capacity`. Lots are split into bundles of 1, 2, 4 …
    /// pieces, as in Martello and Toth, *Knapsack Problems* (1990), section 3.1.
    pub(super) fn of(lots: &[Lot], capacity: usize) -> Knapsack {
        let mut all =
            Knapsack { best: vec![0.0; capacity + 1], bundles: Vec::new(), taken: Vec::new() };
        for lot in lots.iter().filter(|l| l.value > 0.0 && l.size > 0 && l.size <= capacity) {
            let mut left = lot.count.min(capacity / lot.size);
            let mut many = 1;
            while left > 0 {
                let now = many.min(left);
                all.add(lot, now, capacity);
                left -= now;
                many *= 2;
            }
        }
        all
    }

    fn add(&mut self, lot: &Lot, many: usize, capacity: usize) {
        let (size, value) = (lot.size * many, lot.value * many as f64);
        let mut taken = vec![false; capacity + 1];
        // Into a second row, so that no length waits for another and several go at once.
        let before = self.best.clone();
        let rows = before.iter().zip(&before[size.min(capacity + 1)..]);
        let after = self.best.iter_mut().skip(size).zip(taken.iter_mut().skip(size));
        for ((less, same), (best, taken)) in rows.zip(after) {
            let with = less + value;
            *taken = with > *same;
            *best = if with > *same { with } else { *same };
        }
        self.bundles.push(Bundle { kind: lot.kind, many, size });
        self.taken.push(taken);
    }

    /// The most that a length holds.
    pub(super) fn best(&self, capacity: usize) -> f64 {
        self.best[capacity.min(self.best.len() - 1)]
    }

    /// What it then holds: kinds with how many of each, added up.
    pub(super) fn set(&self, capacity: usize) -> Vec<(usize, usize)> {
        let mut left = capacity.min(self.best.len() - 1);
        let mut out: Vec<(usize, usize)> = Vec::new();
        for (bundle, taken) in self.bundles.iter().zip(&self.taken).rev() {
            if taken[left] {
                left -= bundle.size;
                match out.iter_mut().find(|(kind, _)| *kind == bundle.kind) {
                    Some((_, many)) => *many += bundle.many,
                    None => out.push((bundle.kind, bundle.many)),
                }
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn brute(lots: &[Lot], capacity: usize) -> f64 {
        let Some((first, rest)) = lots.split_first() else {
            return 0.0;
        };
        (0..=first.count.min(capacity / first.size))
            .map(|n| n as f64 * first.value + brute(rest, capacity - n * first.size))
            .fold(0.0, f64::max)
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]
        #[test]
        fn as_good_as_every_set_tried(
            lots in prop::collection::vec((1usize..30, 1usize..6, 0.0..9.0f64), 1..6),
            capacity in 1usize..80,
        ) {
            let lots: Vec<Lot> = lots
                .iter()
                .enumerate()
                .map(|(kind, &(size, count, value))| Lot { kind, size, count, value })
                .collect();
            let table = Knapsack::of(&lots, capacity);
            for at in 0..=capacity {
                prop_assert!((table.best(at) - brute(&lots, at)).abs() < 1e-9);
                let set = table.set(at);
                let size: usize = set.iter().map(|&(k, n)| n * lots[k].size).sum();
                let value: f64 = set.iter().map(|&(k, n)| n as f64 * lots[k].value).sum();
                prop_assert!(size <= at && set.iter().all(|&(k, n)| n <= lots[k].count));
                prop_assert!((value - table.best(at)).abs() < 1e-9);
            }
        }
    }
}
