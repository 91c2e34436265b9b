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
    /// Across the washers of each, mm.
    pub washers: Vec<f64>,
}

impl Bolts {
    /// With a nut, through wood of this thickness, and washers of these diameters under head and
    /// nut, mm.
    pub fn through(wood: f64, count: usize, washers: [f64; 2]) -> Bolts {
        let (store, count) = ("bolt with nut", count as u32);
        Bolts { store, count, length: wood + WASHERS_AND_NUT_MM, washers: washers.into() }
    }

    /// Coach screws of this length, mm.
    pub fn screwed(length: f64, count: usize) -> Bolts {
        Bolts { store: "coach screw", count: count as u32, length, washers: Vec::new() }
    }
}

/// A washer on either side and a nut with a thread beyond it take so much of a bolt of 8 mm
/// (5/16 in), mm: ISO 7089 and ISO 4032 (from memory).
const WASHERS_AND_NUT_MM: f64 = 14.0;
/// Bolts are sold by this, mm.
const BOLT_STEP_MM: f64 = 10.0;
/// Wide washers are sold by this where they are sold by inches, mm.
const WASHER_STEP_MM: f64 = 0.25 * MM_PER_INCH;

/// What a bolt measures across, as it is sold.
fn across(sizes: SoldBy) -> &'static str {
    match sizes {
        SoldBy::Metres => "8 mm",
        SoldBy::Feet => "5/16\"",
    }
}

/// A line for each length, the short ones first, and for each size of washer, or the name that
/// no table has.
pub fn bolt_lines(shop: &Shop, all: &[Bolts]) -> Vec<Result<Line, String>> {
    let sizes = shop.plan.sold_by;
    let (step, wide) = match sizes {
        SoldBy::Metres => (BOLT_STEP_MM, 1.0),
        SoldBy::Feet => (0.5 * MM_PER_INCH, WASHER_STEP_MM),
    };
    // What is bought: its row, its size in steps and the size of one.
    let mut places: BTreeMap<(&str, u32), (f64, u32)> = BTreeMap::new();
    for b in all {
        let steps = (b.length / step).ceil() as u32;
        places.entry((b.store, steps)).or_insert((step, 0)).1 += b.count;
        for w in &b.washers {
            let steps = (w / wide).round() as u32;
            places.entry(("washer", steps)).or_insert((wide, 0)).1 += b.count;
        }
    }
    let line = |((store, steps), (step, places)): ((&str, u32), (f64, u32))| {
        let row = shop.row(store)?;
        let size = sizes.units().fastening(f64::from(steps) * step);
        let named = format!("{}, {} x {size}", row.name, across(sizes));
        let from = CountedFrom::Each { places };
        Ok(shop.line(row, &named, f64::from(places) * row.value, from))
    };
    places.into_iter().filter(|(_, (_, n))| *n > 0).map(line).collect()
}

/// Lengths in which screws for the jig are sold, mm, and where they are sold by inches. Common
/// practice, no source.
const JIG_MM: [f64; 6] = [25.0, 35.0, 50.0, 60.0, 70.0, 80.0];
const JIG_INCHES: [f64; 6] = [1.0, 1.25, 1.625, 2.0, 2.5, 3.0];

/// The screw for a stick of the jig: the longest that does not come through, the shortest where
/// all do; mm.
fn jig_length(sizes: SoldBy, f: &Fastened) -> f64 {
    let lengths = match sizes {
        SoldBy::Metres => JIG_MM,
        SoldBy::Feet => JIG_INCHES.map(|i| i * MM_PER_INCH),
    };
    let inside = |l: &&f64| **l <= f.thickness + f.into - INSIDE_MM;
    *lengths.iter().rev().find(inside).unwrap_or(&lengths[0])
}

/// The row of screws that hold the jig together.
pub const JIG_SCREW: &str = "screw for the jig";

/// The lines of the screws for the jig, one for each length, the short ones first.
///
/// # Errors
/// The name of the store, where the table has none.
pub fn jig_lines(shop: &Shop, all: &[Fastened]) -> Result<Vec<Line>, String> {
    let sizes = shop.plan.sold_by;
    let row = shop.row(JIG_SCREW)?;
    let mut lengths: BTreeMap<String, (f64, u32)> = BTreeMap::new();
    for f in all {
        let length = jig_length(sizes, f);
        let at = lengths.entry(sizes.units().fastening(length)).or_insert((length, 0));
        at.1 += count(f.number, row.value);
    }
    let mut found: Vec<_> = lengths.into_iter().filter(|l| l.1.1 > 0).collect();
    found.sort_by(|a, b| a.1.0.total_cmp(&b.1.0));
    let across = match sizes {
        SoldBy::Metres => "4.5",
        SoldBy::Feet => "no. 9",
    };
    let line = |(length, (_, places)): (String, (f64, u32))| {
        let named = format!("{}, {across} x {length}", row.name);
        let from = CountedFrom::Each { places };
        let mut line = shop.line(row, &named, f64::from(places), from);
        line.quantity = line.quantity.ceil();
        line
    };
    Ok(found.into_iter().map(line).collect())
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
        let all = [
            Bolts::through(112.0, 3, [40.0, 30.0]),
            Bolts::through(111.0, 2, [30.0, 30.0]),
            Bolts::screwed(104.0, 2),
        ];
        let named = |sold_by| {
            let plan = StockPlan { sold_by, ..StockPlan::default() };
            let shop = Shop { table: &table, plan: &plan };
            let lines = bolt_lines(&shop, &all).into_iter();
            lines.map(|l| l.map(|l| (l.name, l.quantity)).expect("there")).collect::<Vec<_>>()
        };
        let all_of = |lines: &[(&str, f64)]| -> Vec<(String, f64)> {
            lines.iter().map(|(n, q)| ((*n).to_string(), *q)).collect()
        };
        let metric = all_of(&[
            ("bolt with nut, 8 mm x 130 mm", 5.0),
            ("coach screw, 8 mm x 110 mm", 2.0),
            ("washer, 8 mm x 30 mm", 7.0),
            ("washer, 8 mm x 40 mm", 3.0),
        ]);
        assert_eq!(named(SoldBy::Metres), metric);
        let feet = all_of(&[
            ("bolt with nut, 5/16\" x 5\"", 5.0),
            ("coach screw, 5/16\" x 4 1/2\"", 2.0),
            ("washer, 5/16\" x 1 1/4\"", 7.0),
            ("washer, 5/16\" x 1 1/2\"", 3.0),
        ]);
        assert_eq!(named(SoldBy::Feet), feet);
    }

    /// Through 19 into 19, 19 into 38 and 38 into 38: none comes through, each holds by more than
    /// a third of itself.
    #[test]
    fn screws_of_the_jig_are_as_long_as_what_they_join() {
        let table = StoreTable::shipped();
        let pieces = |n, thickness, into| {
            let number = Number::Pieces(n);
            Fastened { name: "stick".into(), number, thickness, into }
        };
        let all = [pieces(40, 19.0, 19.0), pieces(20, 38.0, 38.0), pieces(10, 19.0, 38.0)];
        let named = |sold_by| {
            let plan = StockPlan { sold_by, ..StockPlan::default() };
            let shop = Shop { table: &table, plan: &plan };
            let lines = jig_lines(&shop, &all).expect("there").into_iter();
            lines.map(|l| (l.name, l.quantity)).collect::<Vec<_>>()
        };
        let of = |size: &str, n| (format!("screw for the jig, {size}"), n);
        let metric = [of("4.5 x 35 mm", 44.0), of("4.5 x 50 mm", 11.0), of("4.5 x 70 mm", 22.0)];
        assert_eq!(named(SoldBy::Metres), metric);
        let feet =
            [of("no. 9 x 1 1/4\"", 44.0), of("no. 9 x 2\"", 11.0), of("no. 9 x 2 1/2\"", 22.0)];
        assert_eq!(named(SoldBy::Feet), feet);
        // Thinner than any screw: the shortest.
        let thin = pieces(1, 9.0, 9.0);
        assert_eq!(jig_length(SoldBy::Metres, &thin), 25.0);
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
