//! Chance that is the same every time: numbers from a seed.

/// A generator of 64 bits of state. Steele, Lea and Flood, "Fast splittable pseudorandom number
/// generators", OOPSLA 2014: the mixing function of SplitMix64.
#[derive(Debug, Clone)]
pub(super) struct Chance(u64);

impl Chance {
    /// From a seed.
    pub(super) fn new(seed: u64) -> Chance {
        Chance(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 to 1, without 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// From `a` to `b`.
    pub(super) fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.unit()
    }

    /// A whole number below `n`, 0 if `n` is 0. The bias of the product is below n / 2⁵³.
    pub(super) fn below(&mut self, n: usize) -> usize {
        (self.unit() * n as f64) as usize
    }

    /// Puts them in another order (Fisher and Yates).
    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for i in (1..items.len()).rev() {
            items.swap(i, self.below(i + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Chance;

    /// The first numbers from seed 1234567, as the authors' reference code prints them.
    #[test]
    fn the_published_numbers_come() {
        let mut chance = Chance::new(1_234_567);
        let first: Vec<u64> = (0..3).map(|_| chance.next()).collect();
        let printed =
            [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423];
        assert_eq!(first, printed);
    }
}
