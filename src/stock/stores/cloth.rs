//! Cloth and tape: runs cut from a roll, and the resin in them.

use super::{CountedFrom, Line, Shop};

/// A surface that is clothed.
#[derive(Debug, Clone, PartialEq)]
pub struct Clothed {
    /// Which.
    pub name: String,
    /// Along the roll, mm.
    pub length: f64,
    /// Across it, mm.
    pub width: f64,
    /// Area that gets resin, mm².
    pub area: f64,
    /// Beyond its edges all round, mm.
    pub lap: f64,
}

/// A run of cloth as it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Which surface, by index.
    pub surface: usize,
    /// Along the roll, mm.
    pub length: f64,
    /// Across it, mm.
    pub width: f64,
}

/// A stretch of the roll, and the runs that lie side by side in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Along the roll, mm.
    pub length: f64,
    /// Runs, side by side.
    pub runs: Vec<Run>,
}

/// Neighbouring runs lap by this, mm: two inches. Common practice, no source.
pub const RUN_LAP_MM: f64 = 50.0;

/// Runs for these surfaces from a roll of `roll` mm: wider surfaces in several runs of one
/// width that lap, longest first, each beside one that leaves it room or else further along the
/// roll (first fit by falling length: Coffman et al., *SIAM J. Comput.* 9 (1980)).
pub fn cut_list(surfaces: &[Clothed], roll: f64) -> Vec<Stretch> {
    if roll <= RUN_LAP_MM {
        return Vec::new();
    }
    let mut runs: Vec<Run> = Vec::new();
    for (surface, s) in surfaces.iter().enumerate() {
        let (length, width) = (s.length + 2.0 * s.lap, s.width + 2.0 * s.lap);
        let count = match width <= roll {
            true => 1.0,
            false => ((width - RUN_LAP_MM) / (roll - RUN_LAP_MM)).ceil(),
        };
        let each = (width + (count - 1.0) * RUN_LAP_MM) / count;
        runs.extend((0..count as usize).map(|_| Run { surface, length, width: each }));
    }
    runs.sort_by(|a, b| b.length.total_cmp(&a.length));
    let mut out: Vec<Stretch> = Vec::new();
    for run in runs {
        let taken = |s: &Stretch| s.runs.iter().map(|r| r.width).sum::<f64>();
        match out.iter_mut().find(|s| taken(s) + run.width <= roll + 1e-6) {
            Some(stretch) => stretch.runs.push(run),
            None => out.push(Stretch { length: run.length, runs: vec![run] }),
        }
    }
    out
}

/// The line for cloth of these surfaces, and how it is cut from the roll.
///
/// # Errors
/// The name of the store, where the table has none.
pub fn cloth_line(shop: &Shop, surfaces: &[Clothed]) -> Result<(Line, Vec<Stretch>), String> {
    let row = shop.row("glass cloth")?;
    let list = cut_list(surfaces, row.value);
    let length: f64 = list.iter().map(|s| s.length).sum();
    let runs: usize = list.iter().map(|s| s.runs.len()).sum();
    let from = CountedFrom::Runs { runs, roll: row.value };
    Ok((shop.line(row, &row.name, length / 1000.0, from), list))
}

/// The line for tape along seams of these lengths, mm.
///
/// # Errors
/// The name of the store, where the table has none.
pub fn tape_line(shop: &Shop, seams: &[f64]) -> Result<Line, String> {
    let row = shop.row("glass tape")?;
    let length: f64 = seams.iter().sum();
    let from = CountedFrom::Tape { length, width: row.value };
    Ok(shop.line(row, &row.name, length / 1000.0, from))
}

/// Mass of tape along seams, kg: `g_m2` its weight.
pub fn tape_mass(seams: &[f64], width: f64, g_m2: f64) -> f64 {
    seams.iter().sum::<f64>() * width * 1e-6 * g_m2 / 1000.0
}

/// Lines for the resin in cloth of `kg`, and in `coats` that fill its weave over `area` mm².
///
/// # Errors
/// The name of a store that the table has not.
pub fn resin_lines(shop: &Shop, kg: f64, area: f64, coats: u32) -> Result<Vec<Line>, String> {
    let wet = shop.row("laminating epoxy in cloth")?;
    let fill = shop.row("laminating epoxy over the weave")?;
    let from = CountedFrom::Cloth { kg, rate: wet.value };
    let mut out = vec![shop.line(wet, &wet.name, kg * wet.value, from)];
    if coats > 0 {
        let from = CountedFrom::Weave { area, coats, rate: fill.value };
        let litres = area * 1e-6 * f64::from(coats) * fill.value;
        out.push(shop.line(fill, &fill.name, litres, from));
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::StockPlan;
    use crate::material::StoreTable;
    use crate::units::MM_PER_FOOT;

    const LITRES_PER_GALLON: f64 = 3.785_411_784;
    /// g/m² in an oz/yd²: 28.349523125 g over 0.83612736 m².
    const GSM_PER_OUNCE: f64 = 33.905_747_48;

    /// B. Niederer, *Estimating Epoxy Amounts*: 56 ft² of 12 oz take 0.99 gallons, 61 ft² of
    /// 6 oz 0.77, both with three coats over them and 15 % lost.
    #[test]
    fn resin_of_the_published_example() {
        let table = StoreTable::shipped();
        let plan = StockPlan::default();
        let shop = Shop { table: &table, plan: &plan };
        let mut sum = 0.0;
        for (feet2, ounces, gallons) in [(56.0, 12.0, 0.9912), (61.0, 6.0, 0.7686)] {
            let area = feet2 * MM_PER_FOOT * MM_PER_FOOT;
            let kg = area * 1e-6 * ounces * GSM_PER_OUNCE / 1000.0;
            let lines = resin_lines(&shop, kg, area, 3).expect("there");
            let found: f64 = lines.iter().map(|l| l.quantity).sum::<f64>() / LITRES_PER_GALLON;
            assert!((found - gallons).abs() < 2e-4, "{found} for {gallons}");
            sum += found;
        }
        assert!((sum - 1.76).abs() < 1e-3);
    }

    /// Two sides of 500 mm lie side by side in a roll of 1270; a bottom of 1500 takes two runs.
    #[test]
    fn runs_from_a_roll_by_hand() {
        let of = |length: f64, width: f64| Clothed {
            name: "panel".into(),
            length,
            width,
            area: length * width,
            lap: 50.0,
        };
        let list = cut_list(&[of(4000.0, 500.0), of(4000.0, 500.0), of(3800.0, 1500.0)], 1270.0);
        assert_eq!(list.len(), 3);
        assert_eq!(list.iter().map(|s| s.length).collect::<Vec<_>>(), [4100.0, 3900.0, 3900.0]);
        assert_eq!(list[0].runs.len(), 2);
        assert!((list[1].runs[0].width - 825.0).abs() < 1e-9);
        for s in &list {
            assert!(s.runs.iter().map(|r| r.width).sum::<f64>() <= 1270.0 + 1e-6);
            assert!(s.runs.iter().all(|r| r.length <= s.length));
        }
        assert!(cut_list(&[of(1.0, 1.0)], 10.0).is_empty());
    }
}
