//! Primer, paint, antifouling and fairing, and the brushes they use up.

use super::{CountedFrom, Line, Shop};
use crate::material::Figure;

/// Area (m²) that a litre covers in theory, for a share of solids by volume and a dry film in
/// µm: 1000 × solids / film. In feet and mils 231 000/144 × solids / film ft² a gallon.
/// Source: coating handbooks' formula of theoretical coverage.
pub fn theoretical_coverage(solids: f64, film_um: f64) -> f64 {
    1000.0 * solids / film_um
}

/// The line of a paint over `area` mm² in `coats`.
///
/// # Errors
/// The name of the store, where the table has none.
pub fn paint_line(shop: &Shop, name: &str, area: f64, coats: u32) -> Result<Line, String> {
    let row = shop.row(name)?;
    let from = CountedFrom::Paint { area, coats, rate: row.value };
    Ok(shop.line(row, name, area * 1e-6 * f64::from(coats) / row.value, from))
}

/// The line of fairing compound over `area` mm².
///
/// # Errors
/// The name of the store, where the table has none.
pub fn fairing_line(shop: &Shop, area: f64) -> Result<Line, String> {
    let row = shop.row("fairing compound")?;
    let from = CountedFrom::Fairing { area, rate: row.value };
    Ok(shop.line(row, &row.name, area * 1e-6 * row.value, from))
}

/// The line of something that lasts for so much: `amount` in m² of a coat or litres mixed.
///
/// # Errors
/// The name of the store, where the table has none.
pub fn used_up_line(shop: &Shop, name: &str, amount: f64) -> Result<Line, String> {
    let row = shop.row(name)?;
    let pieces = (amount / row.value).ceil();
    let from =
        CountedFrom::UsedUp { amount, lasts: row.value, coat: row.figure == Figure::PerArea };
    let mut line = shop.line(row, name, pieces, from);
    line.quantity = line.quantity.ceil();
    Ok(line)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::StockPlan;
    use crate::material::StoreTable;
    use crate::stock::stores::bought::bought;
    use crate::units::{MM_PER_FOOT, MM_PER_INCH};

    /// Published examples of the formula: 65 % of solids at 5 mils are 208.52 ft² a gallon,
    /// 52 % at 1.5 mils with 30 % of it transferred 166.8; 65 % at 125 µm 5.2 m² a litre.
    #[test]
    fn coverage_of_published_examples() {
        let feet2 = |solids: f64, mils: f64| {
            let m2 = theoretical_coverage(solids, mils * MM_PER_INCH);
            m2 * 3.785_411_784 / (MM_PER_FOOT * MM_PER_FOOT * 1e-6)
        };
        assert!((feet2(0.65, 5.0) - 208.52).abs() < 0.05, "{}", feet2(0.65, 5.0));
        assert!((feet2(0.52, 1.5) * 0.3 - 166.8).abs() < 0.05);
        assert!((theoretical_coverage(0.65, 125.0) - 5.2).abs() < 1e-12);
    }

    #[test]
    fn two_coats_of_paint_by_hand() {
        let table = StoreTable::shipped();
        let plan = StockPlan::default();
        let shop = Shop { table: &table, plan: &plan };
        let line = paint_line(&shop, "topside paint", 9e6, 2).expect("there");
        assert!((line.quantity - 2.2).abs() < 1e-12, "{line:?}");
        let gloves = used_up_line(&shop, "gloves, pairs", 3.2).expect("there");
        assert_eq!(gloves.quantity, 7.0);
        let packs: Vec<u32> = bought(&[line, gloves]).iter().map(|b| b.packs).collect();
        assert_eq!(packs, [3, 1]);
        assert_eq!(paint_line(&shop, "varnish", 1.0, 1), Err("varnish".into()));
    }
}
