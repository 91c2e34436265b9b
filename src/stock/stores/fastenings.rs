//! Screws and nails: which size, how many.

use super::{CountedFrom, Line, Shop};
use crate::material::{FastenerSize, StoreTable};

/// How many there are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Number {
    /// Along an edge of this length (mm), as far apart as the fastening's row says.
    Along(f64),
    /// So many.
    Pieces(u32),
}

/// Something that is fastened.
#[derive(Debug, Clone, PartialEq)]
pub struct Fastened {
    /// What: "side to sheer clamp".
    pub name: String,
    /// How many.
    pub number: Number,
    /// The piece that the head lies on, mm.
    pub thickness: f64,
    /// The wood behind it, mm.
    pub into: f64,
}

/// A point stays this far inside the wood, mm. Common practice, no source.
const INSIDE_MM: f64 = 2.0;

/// So much of a fastening stands in the wood behind, mm, or it holds nothing. Our judgement, no
/// source.
const LEAST_HOLD_MM: f64 = 6.0;

/// The size for a piece: what its thickness asks, or the longest that does not come through.
pub fn size<'a>(table: &'a StoreTable, f: &Fastened) -> Option<&'a FastenerSize> {
    let inside = |s: &&FastenerSize| s.length_mm <= f.thickness + f.into - INSIDE_MM;
    let wanted = table.size_for(f.thickness).filter(inside);
    // It holds by what of it stands in the wood behind: more than a few threads.
    let holds = |s: &&FastenerSize| s.length_mm >= f.thickness + LEAST_HOLD_MM;
    wanted.or_else(|| table.sizes.iter().rev().find(inside).filter(holds))
}

/// How many a piece takes when they are `pitch` mm apart or less: one at each end of an edge.
pub fn count(number: Number, pitch: f64) -> u32 {
    match number {
        Number::Along(length) if length > 0.0 => (length / pitch).ceil() as u32 + 1,
        Number::Along(_) => 0,
        Number::Pieces(n) => n,
    }
}

/// A line for each size that is needed, and what is too thin for any.
///
/// # Errors
/// The name of the fastening, where the table has no such row.
pub fn lines(shop: &Shop, all: &[Fastened]) -> Result<(Vec<Line>, Vec<String>), String> {
    let row = shop.row(&shop.plan.fastening)?;
    let mut lines = Vec::new();
    for s in &shop.table.sizes {
        let own: Vec<&Fastened> =
            all.iter().filter(|f| size(shop.table, f).is_some_and(|x| x == s)).collect();
        let pieces: u32 = own.iter().map(|f| count(f.number, row.value)).sum();
        if pieces == 0 {
            continue;
        }
        let edges: f64 =
            own.iter().map(|f| if let Number::Along(l) = f.number { l } else { 0.0 }).sum();
        let alone: u32 =
            own.iter().map(|f| if let Number::Pieces(n) = f.number { n } else { 0 }).sum();
        let named = format!("{}, {} x {}", row.name, s.gauge, shop.units.fine(s.length_mm));
        let from = CountedFrom::Fastened { edges, apart: row.value, alone };
        let mut line = shop.line(row, &named, f64::from(pieces), from);
        line.quantity = line.quantity.ceil();
        line.source = format!("{}; size: {}", row.source, shop.table.sizes_source);
        lines.push(line);
    }
    let thin = all.iter().filter(|f| size(shop.table, f).is_none()).map(|f| f.name.clone());
    Ok((lines, thin.collect()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::StockPlan;
    use crate::units::Units;

    fn edge(length: f64, thickness: f64, into: f64) -> Fastened {
        Fastened { name: "edge".into(), number: Number::Along(length), thickness, into }
    }

    #[test]
    fn sizes_follow_the_sheet_and_none_comes_through() {
        let table = StoreTable::shipped();
        let length = |t: f64, into: f64| size(&table, &edge(1.0, t, into)).map(|s| s.length_mm);
        assert_eq!(length(6.0, 19.0), Some(19.0));
        assert_eq!(length(9.0, 38.0), Some(32.0));
        assert_eq!(length(9.0, 19.0), Some(25.0));
        assert_eq!(length(4.0, 4.0), None);
        // A rail of 19 and a sheet of 6 on a clamp of 19: as long as the three allow.
        assert_eq!(length(25.0, 19.0), Some(38.0));
        assert_eq!(length(25.0, 5.0), None);
    }

    /// 4000 mm at 76 are 53 gaps and 54 screws; with four in a joint 58, and a twentieth lost
    /// makes 61 of a pack of 100.
    #[test]
    fn screws_along_an_edge_by_hand() {
        let table = StoreTable::shipped();
        let plan = StockPlan::default();
        let shop = Shop { table: &table, plan: &plan, units: Units::Mm };
        let joint = Fastened { number: Number::Pieces(4), ..edge(0.0, 6.0, 19.0) };
        let all = [edge(4000.0, 6.0, 19.0), joint, edge(100.0, 3.0, 2.0)];
        let (lines, thin) = lines(&shop, &all).expect("the table has it");
        assert_eq!((lines.len(), lines[0].quantity), (1, 61.0));
        assert_eq!(super::super::bought::bought(&lines)[0].packs, 1);
        assert_eq!(thin, vec!["edge".to_string()]);
        let plan = StockPlan { fastening: "pegs".into(), ..plan };
        let shop = Shop { table: &table, plan: &plan, units: Units::Mm };
        assert_eq!(super::lines(&shop, &all), Err("pegs".into()));
    }
}
