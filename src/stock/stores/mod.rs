//! Stores: what is bought that is not wood. Each line says what it was worked from, with the
//! figure's source and what is lost; what is bought says how many packs that makes and what they
//! cost.
//!
//! [`list`] makes all lines from the work that is to be done; [`adhesive`], [`fastenings`],
//! [`cloth`] and [`paint`] work out their own. Lengths mm, areas mm², volumes litres, masses kg.

pub mod adhesive;
pub mod bought;
pub mod cloth;
pub mod fastenings;
pub mod list;
pub mod paint;

pub use bought::Bought;
pub use list::{Finish, Stores, Work, list};

use crate::hull::StockPlan;
use crate::material::{Measure, StoreRow, StoreTable};

/// Something that the work takes up.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// As what it is bought.
    pub product: String,
    /// How much, with what is lost.
    pub quantity: f64,
    /// By what it is counted.
    pub unit: Measure,
    /// How much is in a pack.
    pub pack: f64,
    /// Price of a pack; `None` where the builder has not said it.
    pub pack_price: Option<f64>,
    /// What it was counted from.
    pub from: CountedFrom,
    /// Where its figure is from.
    pub source: String,
    /// Lost, percent of what the work takes up; it is in `quantity`.
    pub waste_pct: f64,
}

/// What a store was counted from: lengths mm, areas mm².
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CountedFrom {
    /// Glue laid as beads.
    Bead {
        /// Length of bead.
        length: f64,
        /// Section of the bead, mm².
        section: f64,
    },
    /// Glue spread over joints.
    Spread {
        /// Area of joint.
        area: f64,
        /// kg/m².
        rate: f64,
    },
    /// Fillets.
    Fillets {
        /// Their length.
        length: f64,
        /// Their section on average, mm².
        mean: f64,
    },
    /// Runs of cloth with their laps.
    Runs {
        /// How many.
        runs: usize,
        /// Width of the roll.
        roll: f64,
    },
    /// Tape along seams.
    Tape {
        /// Length of seam.
        length: f64,
        /// Width of the tape.
        width: f64,
    },
    /// Resin in cloth.
    Cloth {
        /// The cloth's mass, kg.
        kg: f64,
        /// Litres a kg.
        rate: f64,
    },
    /// Resin over the weave.
    Weave {
        /// The cloth's area.
        area: f64,
        /// Coats.
        coats: u32,
        /// Litres a m².
        rate: f64,
    },
    /// Fastenings along edges and in joints.
    Fastened {
        /// Length of edge.
        edges: f64,
        /// From one to the next.
        apart: f64,
        /// Those in joints.
        alone: u32,
    },
    /// Paint.
    Paint {
        /// Area.
        area: f64,
        /// Coats.
        coats: u32,
        /// m² a litre.
        rate: f64,
    },
    /// Fairing compound.
    Fairing {
        /// Area.
        area: f64,
        /// Litres a m².
        rate: f64,
    },
    /// Blocks of foam.
    Foam {
        /// What they fill, mm³.
        volume: f64,
    },
    /// What is used up by other work.
    UsedUp {
        /// How much of that, in the unit.
        amount: f64,
        /// For how much one lasts.
        lasts: f64,
        /// Whether that is m² of a coat; litres mixed otherwise.
        coat: bool,
    },
    /// What is stirred into resin and glue.
    Stirred {
        /// Into how much, litres.
        litres: f64,
        /// Litres in a litre.
        rate: f64,
    },
    /// Pieces for so many places.
    Each {
        /// How many.
        places: u32,
    },
}

/// What stores are counted by.
#[derive(Debug, Clone, Copy)]
pub struct Shop<'a> {
    /// Coverage and packs.
    pub table: &'a StoreTable,
    /// Prices, waste, glue and fastening of the document.
    pub plan: &'a StockPlan,
}

impl Shop<'_> {
    /// The row of that name.
    ///
    /// # Errors
    /// The name, where the table has no such row.
    pub fn row(&self, name: &str) -> Result<&StoreRow, String> {
        self.table.store(name).ok_or_else(|| name.to_string())
    }

    /// The line for what the work takes up (in the row's unit), priced and packed as `called`
    /// or else as the row is.
    fn line(&self, row: &StoreRow, called: &str, taken_up: f64, from: CountedFrom) -> Line {
        let own = |s: &str| s == called || s == row.name;
        let waste_pct =
            self.plan.waste.iter().find(|w| own(&w.store)).map_or(row.waste_pct, |w| w.pct);
        let product = row.bought_as.as_deref().unwrap_or(called);
        let names = [product, called, &row.name];
        let price = names.iter().find_map(|n| self.plan.price_of(n));
        let pack = price.and_then(|p| p.pack).unwrap_or(row.pack);
        let unit = row.figure.counted_in();
        let quantity = taken_up * (1.0 + 0.01 * waste_pct);
        Line {
            name: called.into(),
            product: product.into(),
            quantity,
            unit,
            pack,
            pack_price: price.map(|p| p.price),
            from,
            source: row.source.clone(),
            waste_pct,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::bought::bought;
    use super::*;
    use crate::hull::stock::{StorePrice, Waste};

    #[test]
    fn a_price_a_pack_and_waste_of_ones_own_are_taken() {
        let table = StoreTable::shipped();
        let mut plan = StockPlan::default();
        let shop = |plan: &StockPlan| {
            let shop = Shop { table: &table, plan };
            let row = shop.row("primer").expect("there").clone();
            shop.line(&row, "primer", 2.0, CountedFrom::Fairing { area: 1e6, rate: 2.0 })
        };
        let plain = shop(&plan);
        assert!(
            (plain.quantity - 2.86).abs() < 1e-12
                && bought(std::slice::from_ref(&plain))[0].packs == 3
        );
        assert_eq!(plain.pack_price, None);
        plan.prices.push(StorePrice { store: "primer".into(), pack: Some(2.5), price: 40.0 });
        plan.waste.push(Waste { store: "primer".into(), pct: 25.0 });
        let own = shop(&plan);
        assert_eq!((own.pack_price, own.quantity), (Some(40.0), 2.5));
        assert_eq!(bought(&[own])[0].price, Some(40.0));
    }
}
