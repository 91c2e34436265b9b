//! The least cost of columns that cover rows: the simplex method with columns added as they
//! are found.
//!
//! Its answers are only a guide: a bound is taken from its prices by arithmetic that does not
//! trust them ([`super::columns`]).

/// Reduced costs nearer to nothing than this are nothing.
const LEAST_GAIN: f64 = 1e-9;
/// Pivots smaller than this would blow up rounding.
const LEAST_PIVOT: f64 = 1e-9;
/// Steps after which it is given up: a circle of steps that gain nothing.
const MOST_STEPS: usize = 4000;

use super::problem::Used;

/// A column: what it costs, what it puts into which rows, and the board it stands for.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Column {
    pub(super) cost: f64,
    pub(super) rows: Vec<(usize, f64)>,
    pub(super) used: Option<Used>,
}

/// Rows held equal to their right-hand side, columns so far, and the basis.
#[derive(Debug, Clone)]
pub(super) struct Simplex {
    columns: Vec<Column>,
    basis: Vec<usize>,
    inverse: Vec<Vec<f64>>,
    values: Vec<f64>,
    /// What a unit of each row is worth at present.
    prices: Vec<f64>,
    steps: usize,
}

impl Simplex {
    /// With right-hand sides of 0 or more and for each row a first column that has a 1 there
    /// and nothing elsewhere, by its cost.
    pub(super) fn new(right: &[f64], first: &[f64]) -> Simplex {
        let m = right.len();
        let unit = |i: usize| (0..m).map(|k| f64::from(u8::from(k == i))).collect::<Vec<f64>>();
        Simplex {
            columns: (0..m)
                .map(|i| Column { cost: first[i], rows: vec![(i, 1.0)], used: None })
                .collect(),
            basis: (0..m).collect(),
            inverse: (0..m).map(unit).collect(),
            values: right.to_vec(),
            prices: first.to_vec(),
            steps: 0,
        }
    }

    /// Adds a column.
    pub(super) fn add(&mut self, column: Column) {
        self.columns.push(column);
    }

    /// What a unit of each row is worth at present.
    pub(super) fn prices(&self) -> &[f64] {
        &self.prices
    }

    /// The same from the basis, so that what rounding adds up to in many steps goes.
    fn priced(&self) -> Vec<f64> {
        let m = self.basis.len();
        let mut prices = vec![0.0; m];
        for (c, row) in self.basis.iter().zip(&self.inverse) {
            let cost = self.columns[*c].cost;
            prices.iter_mut().zip(row).for_each(|(p, v)| *p += cost * v);
        }
        prices
    }

    /// Boards of the present answer, with how many of each.
    pub(super) fn boards(&self) -> Vec<(f64, Used)> {
        let many = self.basis.iter().zip(&self.values);
        many.filter_map(|(c, v)| Some((*v, self.columns[*c].used.clone()?))).collect()
    }

    /// Steps until no column gains; false where it was given up.
    pub(super) fn settle(&mut self) -> bool {
        self.prices = self.priced();
        while self.steps < MOST_STEPS {
            let worth = |c: &Column| c.rows.iter().map(|(k, a)| a * self.prices[*k]).sum::<f64>();
            let gain = |c: &Column| c.cost - worth(c);
            let gains = self.columns.iter().map(gain).enumerate().filter(|g| g.1 < -LEAST_GAIN);
            // Late on the first that gains, which runs in no circle.
            let entering = if self.steps < MOST_STEPS / 2 {
                gains.min_by(|a, b| a.1.total_cmp(&b.1))
            } else {
                gains.into_iter().next()
            };
            let Some((entering, gain)) = entering else {
                return true;
            };
            if !self.enter(entering, gain) {
                return false;
            }
        }
        false
    }

    /// Puts a column into the basis that changes the cost by `gain` for each unit of it.
    fn enter(&mut self, column: usize, gain: f64) -> bool {
        self.steps += 1;
        let m = self.basis.len();
        let rows = &self.columns[column].rows;
        let d: Vec<f64> =
            (0..m).map(|i| rows.iter().map(|(k, a)| self.inverse[i][*k] * a).sum()).collect();
        let ratio = |i: &usize| self.values[*i] / d[*i];
        let leaving = (0..m)
            .filter(|i| d[*i] > LEAST_PIVOT)
            .min_by(|a, b| ratio(a).total_cmp(&ratio(b)).then(self.basis[*a].cmp(&self.basis[*b])));
        let Some(r) = leaving else {
            return false;
        };
        let pivot = d[r];
        self.inverse[r].iter_mut().for_each(|v| *v /= pivot);
        self.values[r] /= pivot;
        let (row, value) = (self.inverse[r].clone(), self.values[r]);
        self.prices.iter_mut().zip(&row).for_each(|(p, v)| *p += gain * v);
        for i in (0..m).filter(|i| *i != r) {
            let by = d[i];
            if by != 0.0 {
                self.inverse[i].iter_mut().zip(&row).for_each(|(v, p)| *v -= by * p);
                self.values[i] = (self.values[i] - by * value).max(0.0);
            }
        }
        self.basis[r] = column;
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three of 5 and two of 4 from lengths of 9 that cost 1: each length takes one of each or
    /// two of 4, so three for the fives, and the fours lie in two of them.
    #[test]
    fn a_cover_by_hand() {
        let mut lp = Simplex::new(&[3.0, 2.0], &[10.0, 10.0]);
        for rows in [[1.0, 1.0], [0.0, 2.0], [-1.0, 0.0], [0.0, -1.0]] {
            let cost = if rows[0] + rows[1] > 0.0 { 1.0 } else { 0.0 };
            lp.add(Column { cost, rows: rows.into_iter().enumerate().collect(), used: None });
        }
        assert!(lp.settle());
        let p = lp.prices();
        assert!((3.0 * p[0] + 2.0 * p[1] - 3.0).abs() < 1e-9, "{p:?}");
    }
}
