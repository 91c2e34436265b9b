//! What is asked for over the counter: lines of one product come out of the same packs.

use super::Line;
use crate::material::Measure;

/// A pack may be over by this share of itself: rounding, not glue.
const OVER: f64 = 1e-9;
/// No list counts more packs than this.
const MOST_PACKS: f64 = 1e6;

/// A product, and how many packs of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Bought {
    /// What the shop calls it.
    pub product: String,
    /// How much is taken up, with what is lost.
    pub quantity: f64,
    /// By what it is counted.
    pub unit: Measure,
    /// How much is in a pack.
    pub pack: f64,
    /// How many packs that makes.
    pub packs: u32,
    /// Price of all of them; `None` where the builder has not said it.
    pub price: Option<f64>,
    /// The lines that it is for, by their places in the list.
    pub lines: Vec<usize>,
}

/// The products of `lines`, in the order in which they are first needed.
pub fn bought(lines: &[Line]) -> Vec<Bought> {
    let mut out: Vec<Bought> = Vec::new();
    for (i, l) in lines.iter().enumerate() {
        let known = out.iter().position(|b| b.product == l.product && b.unit == l.unit);
        let at = known.unwrap_or_else(|| {
            out.push(Bought {
                product: l.product.clone(),
                quantity: 0.0,
                unit: l.unit,
                pack: l.pack,
                packs: 0,
                price: None,
                lines: Vec::new(),
            });
            out.len() - 1
        });
        let b = &mut out[at];
        b.quantity += l.quantity;
        b.lines.push(i);
        b.packs = (b.quantity / b.pack - OVER).ceil().clamp(0.0, MOST_PACKS) as u32;
        b.price = lines[b.lines[0]].pack_price.map(|p| p * f64::from(b.packs));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::stores::CountedFrom;

    fn line(name: &str, product: &str, quantity: f64) -> Line {
        Line {
            name: name.into(),
            product: product.into(),
            quantity,
            unit: Measure::Litres,
            pack: 3.785,
            pack_price: Some(90.0),
            from: CountedFrom::Fairing { area: 1e6, rate: 2.0 },
            source: "by hand".into(),
            waste_pct: 0.0,
        }
    }

    /// 1.6 l and 2.1 l of one resin are 3.7 l, which one pack of a gallon holds.
    #[test]
    fn what_one_pack_holds_is_not_bought_twice() {
        let lines =
            [line("in cloth", "resin", 1.6), line("weave", "resin", 2.1), line("x", "x", 4.0)];
        let all = bought(&lines);
        assert_eq!(all.iter().map(|b| b.packs).collect::<Vec<_>>(), [1, 2]);
        assert_eq!((all[0].price, &all[0].lines[..]), (Some(90.0), &[0, 1][..]));
        assert!((all[0].quantity - 3.7).abs() < 1e-12);
    }
}
