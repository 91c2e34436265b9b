//! Screws and nails: which size, how many.

use std::collections::BTreeMap;

use super::{CountedFrom, Line, Shop};
use crate::hull::stock::SoldBy;
use crate::material::{FastenerSize, StoreTable};
use crate::units::MM_PER_INCH;

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
        let named = format!(
            "{}, {} x {}",
            row.name,
            s.gauge,
            shop.plan.sold_by.units().fastening(s.length_mm)
        );
        let from = CountedFrom::Fastened { edges, apart: row.value, alone };
        let mut line = shop.line(row, &named, f64::from(pieces), from);
        line.quantity = line.quantity.ceil();
        line.source = format!("{}; size: {}", row.source, shop.table.sizes_source);
        lines.push(line);
    }
    let thin = all.iter().filter(|f| size(shop.table, f).is_none()).map(|f| f.name.clone());
    Ok((lines, thin.collect()))
}

/// Bolts or coach screws of one length, 8 mm (5/16 in) across, as [`crate::frames`] draws them.
#[derive(Debug, Clone, PartialEq)]
pub struct Bolts {
    /// The row of the table of stores.
    pub store: &'static str,
    /// How many.
    pub count: u32,
    /// Under the head, at least, mm.
    pub length: f64,
}

impl Bolts {
    /// With washers and a nut, through wood of this thickness, mm.
    pub fn through(wood: f64, count: usize) -> Bolts {
        let (store, count) = ("bolt with washers and nut", count as u32);
        Bolts { store, count, length: wood + WASHERS_AND_NUT_MM }
    }

    /// Coach screws of this length, mm.
    pub fn screwed(length: f64, count: usize) -> Bolts {
        Bolts { store: "coach screw", count: count as u32, length }
    }
}

/// A washer on either side and a nut with a thread beyond it take so much of a bolt of 8 mm
/// (5/16 in), mm: ISO 7089 and ISO 4032 (from memory).
const WASHERS_AND_NUT_MM: f64 = 14.0;
/// Bolts are sold by this, mm.
const BOLT_STEP_MM: f64 = 10.0;

/// A line for each length, the short ones first, or the name that no table has.
pub fn bolt_lines(shop: &Shop, all: &[Bolts]) -> Vec<Result<Line, String>> {
    let sizes = shop.plan.sold_by;
    let (step, across) = match sizes {
        SoldBy::Metres => (BOLT_STEP_MM, "8 mm"),
        SoldBy::Feet => (0.5 * MM_PER_INCH, "5/16\""),
    };
    let mut lengths: BTreeMap<(&str, u32), u32> = BTreeMap::new();
    for b in all {
        let steps = (b.length / step).ceil() as u32;
        *lengths.entry((b.store, steps)).or_default() += b.count;
    }
    let line = |((store, steps), places): ((&str, u32), u32)| {
        let row = shop.row(store)?;
        let length = sizes.units().fastening(f64::from(steps) * step);
        let named = format!("{}, {across} x {length}", row.name);
        let from = CountedFrom::Each { places };
        Ok(shop.line(row, &named, f64::from(places) * row.value, from))
    };
    lengths.into_iter().filter(|l| l.1 > 0).map(line).collect()
}

/// The line of a store that so many places take.
///
/// # Errors
/// The name of the store, where the table has none.
pub fn each_line(shop: &Shop, name: &str, places: u32) -> Result<Line, String> {
    let row = shop.row(name)?;
    let from = CountedFrom::Each { places };
    let mut line = shop.line(row, &row.name, f64::from(places) * row.value, from);
    line.quantity = line.quantity.ceil();
    Ok(line)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::StockPlan;

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

    /// A pad of 24 on a board of 18 and 70 into the knee, washers and nut: 126 are 130, or five
    /// inches. Two lengths make two lines.
    #[test]
    fn bolts_are_bought_by_their_length() {
        let table = StoreTable::shipped();
        let all = [Bolts::through(112.0, 3), Bolts::through(111.0, 2), Bolts::screwed(104.0, 2)];
        let named = |sold_by| {
            let plan = StockPlan { sold_by, ..StockPlan::default() };
            let shop = Shop { table: &table, plan: &plan };
            let lines = bolt_lines(&shop, &all).into_iter();
            lines.map(|l| l.map(|l| (l.name, l.quantity)).expect("there")).collect::<Vec<_>>()
        };
        let bolt = |words: &str| (format!("bolt with washers and nut, {words}"), 5.0);
        let screw = |words: &str| (format!("coach screw, {words}"), 2.0);
        assert_eq!(named(SoldBy::Metres), [bolt("8 mm x 130 mm"), screw("8 mm x 110 mm")]);
        assert_eq!(named(SoldBy::Feet), [bolt("5/16\" x 5\""), screw("5/16\" x 4 1/2\"")]);
    }

    /// 4000 mm at 76 are 53 gaps and 54 screws; with four in a joint 58, and a twentieth lost
    /// makes 61 of a pack of 100.
    #[test]
    fn screws_along_an_edge_by_hand() {
        let table = StoreTable::shipped();
        let plan = StockPlan::default();
        let shop = Shop { table: &table, plan: &plan };
        let joint = Fastened { number: Number::Pieces(4), ..edge(0.0, 6.0, 19.0) };
        let all = [edge(4000.0, 6.0, 19.0), joint, edge(100.0, 3.0, 2.0)];
        let (lines, thin) = lines(&shop, &all).expect("the table has it");
        assert_eq!((lines.len(), lines[0].quantity), (1, 61.0));
        assert_eq!(super::super::bought::bought(&lines)[0].packs, 1);
        assert_eq!(thin, vec!["edge".to_string()]);
        let plan = StockPlan { fastening: "pegs".into(), ..plan };
        let shop = Shop { table: &table, plan: &plan };
        assert_eq!(super::lines(&shop, &all), Err("pegs".into()));
    }
}
