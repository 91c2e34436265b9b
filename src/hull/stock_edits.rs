//! What a builder says of lumber and stores, written into the rows of a stock plan: what they
//! cost, and what lies in the shop.

use super::stock::{LumberPrice, LumberStock, StockPlan, StorePrice};

/// Measures that differ by less (mm) are one.
const SAME_MM: f64 = 1e-6;

/// Lumber of one species, section and length.
#[derive(Debug, Clone, PartialEq)]
pub struct Timber {
    /// Species by its name in the wood table.
    pub species: String,
    /// The lesser side of its section, mm.
    pub thickness_mm: f64,
    /// The greater side, mm.
    pub width_mm: f64,
    /// mm.
    pub length_mm: f64,
}

impl Timber {
    /// Whether a row is of its species and section.
    fn section_of(&self, row: &LumberStock) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < SAME_MM;
        row.species == self.species
            && near(row.thickness_mm.min(row.width_mm), self.thickness_mm)
            && near(row.thickness_mm.max(row.width_mm), self.width_mm)
    }

    /// Whether another is of the same species and section.
    pub fn is_beside(&self, other: &Timber) -> bool {
        self.section_of(&other.row(None, None))
    }

    fn in_row(&self, row: &LumberStock) -> bool {
        let same = |l: &f64| (l - self.length_mm).abs() < SAME_MM;
        self.section_of(row) && row.lengths_mm.iter().any(same)
    }

    /// A row of it alone.
    fn row(&self, price: Option<LumberPrice>, count: Option<u32>) -> LumberStock {
        LumberStock {
            species: self.species.clone(),
            thickness_mm: self.thickness_mm,
            width_mm: self.width_mm,
            lengths_mm: vec![self.length_mm],
            price,
            count,
        }
    }
}

/// Whether a row is of what lies in the shop: counted, and not paid for.
fn lies_there(row: &LumberStock) -> bool {
    let free =
        matches!(row.price, Some(LumberPrice::Each(p) | LumberPrice::PerMetre(p)) if p == 0.0);
    row.count.is_some() && free
}

impl StockPlan {
    fn bought(&self, of: &Timber) -> Option<usize> {
        self.lumber.iter().position(|row| of.in_row(row) && !lies_there(row))
    }

    fn at_hand(&self, of: &Timber) -> Option<usize> {
        self.lumber.iter().position(|row| of.in_row(row) && lies_there(row))
    }

    /// Whether it can be bought by a row of the plan.
    pub fn sells(&self, of: &Timber) -> bool {
        self.bought(of).is_some()
    }

    /// What it costs where it is bought; `None` where that is not known.
    pub fn lumber_price(&self, of: &Timber) -> Option<LumberPrice> {
        self.lumber[self.bought(of)?].price
    }

    /// How many of it lie in the shop.
    pub fn lumber_at_hand(&self, of: &Timber) -> u32 {
        self.at_hand(of).and_then(|i| self.lumber[i].count).unwrap_or(0)
    }

    /// Says what it costs. A price by the metre is that of all lengths of its row, a price of one
    /// is its own, since what is longer costs more. Where no row sells it, `offered` are added:
    /// the rows that stood for it as long as none did.
    pub fn set_lumber_price(
        &mut self,
        of: &Timber,
        price: Option<LumberPrice>,
        offered: &[LumberStock],
    ) {
        self.offer(of, offered);
        let Some(at) = self.bought(of) else {
            return;
        };
        let row = &mut self.lumber[at];
        if row.lengths_mm.len() > 1 && matches!(price, Some(LumberPrice::Each(_))) {
            row.lengths_mm.retain(|l| (l - of.length_mm).abs() >= SAME_MM);
            let own = of.row(price, row.count);
            self.lumber.insert(at + 1, own);
        } else {
            row.price = price;
        }
    }

    /// Says how many of it lie in the shop. More can still be bought: where no row sells it,
    /// `offered` are added.
    pub fn set_lumber_at_hand(&mut self, of: &Timber, count: u32, offered: &[LumberStock]) {
        self.offer(of, offered);
        let of_one = |row: &LumberStock| row.lengths_mm.len() == 1;
        match self.at_hand(of).filter(|i| of_one(&self.lumber[*i])) {
            Some(at) if count == 0 => {
                self.lumber.remove(at);
            }
            Some(at) => self.lumber[at].count = Some(count),
            None => {
                if let Some(at) = self.at_hand(of) {
                    self.lumber[at].lengths_mm.retain(|l| (l - of.length_mm).abs() >= SAME_MM);
                }
                if count > 0 {
                    self.lumber.push(of.row(Some(LumberPrice::Each(0.0)), Some(count)));
                }
            }
        }
    }

    fn offer(&mut self, of: &Timber, offered: &[LumberStock]) {
        if !self.sells(of) {
            self.lumber.extend_from_slice(offered);
        }
    }

    /// Says what a pack of one of the stores costs. `names` are those that a price of it may
    /// stand under, the one for a new price first.
    pub fn set_store_price(&mut self, names: &[&str], price: Option<f64>) {
        let known = names.iter().find_map(|n| self.prices.iter().position(|p| p.store == *n));
        match (known, price, names.first()) {
            (Some(at), Some(price), _) => self.prices[at].price = price,
            (Some(at), None, _) => {
                self.prices.remove(at);
            }
            (None, Some(price), Some(name)) => {
                self.prices.push(StorePrice { store: (*name).into(), pack: None, price });
            }
            (None, ..) => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fir(length_mm: f64) -> Timber {
        Timber { species: "fir".into(), thickness_mm: 18.0, width_mm: 38.0, length_mm }
    }

    fn offered() -> Vec<LumberStock> {
        vec![LumberStock { lengths_mm: vec![2400.0, 3000.0, 3600.0], ..fir(0.0).row(None, None) }]
    }

    #[test]
    fn a_price_by_the_metre_is_of_all_lengths_and_one_of_a_piece_of_its_own() {
        let mut plan = StockPlan::default();
        let by_metre = Some(LumberPrice::PerMetre(2.4));
        plan.set_lumber_price(&fir(3000.0), by_metre, &offered());
        assert_eq!(plan.lumber.len(), 1, "the yard's lengths, once");
        assert_eq!(plan.lumber_price(&fir(2400.0)), by_metre);
        let one = Some(LumberPrice::Each(7.0));
        plan.set_lumber_price(&fir(3000.0), one, &offered());
        assert_eq!(plan.lumber_price(&fir(3000.0)), one);
        assert_eq!(plan.lumber_price(&fir(3600.0)), by_metre, "the longer one costs as before");
        let lengths: Vec<f64> = plan.lumber.iter().flat_map(|r| r.lengths_mm.clone()).collect();
        assert_eq!(lengths, [2400.0, 3600.0, 3000.0], "none twice, none lost");
        plan.set_lumber_price(&fir(3000.0), None, &offered());
        assert_eq!(plan.lumber_price(&fir(3000.0)), None);
    }

    #[test]
    fn what_lies_in_the_shop_is_counted_beside_what_is_sold() {
        let mut plan = StockPlan::default();
        plan.set_lumber_at_hand(&fir(3000.0), 2, &offered());
        assert!(plan.sells(&fir(3000.0)) && plan.sells(&fir(3600.0)));
        assert_eq!(plan.lumber_at_hand(&fir(3000.0)), 2);
        assert_eq!(plan.lumber_at_hand(&fir(3600.0)), 0);
        plan.set_lumber_price(&fir(3000.0), Some(LumberPrice::PerMetre(2.0)), &offered());
        assert_eq!(plan.lumber_at_hand(&fir(3000.0)), 2, "a price is that of the yard");
        plan.set_lumber_at_hand(&fir(3000.0), 0, &offered());
        assert_eq!((plan.lumber.len(), plan.lumber_at_hand(&fir(3000.0))), (1, 0));
    }

    #[test]
    fn a_price_of_a_store_stays_under_its_name() {
        let mut plan = StockPlan::default();
        let pack = Some(5.0);
        plan.prices.push(StorePrice { store: "hull paint".into(), pack, price: 40.0 });
        plan.set_store_price(&["paint", "hull paint"], Some(45.0));
        plan.set_store_price(&["tape"], Some(9.0));
        let both: Vec<_> =
            plan.prices.iter().map(|p| (p.store.as_str(), p.pack, p.price)).collect();
        assert_eq!(both, [("hull paint", pack, 45.0), ("tape", None, 9.0)]);
        plan.set_store_price(&["tape"], None);
        plan.set_store_price(&["oil"], None);
        assert_eq!(plan.prices.len(), 1);
    }
}
