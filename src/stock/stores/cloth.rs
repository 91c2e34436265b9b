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
/// width that lap, side by side so that as little of the roll is taken as can be. More runs than
/// [`MOST_WEIGHED`] are laid longest first, each beside one that leaves it room (first fit by
/// falling length: Coffman et al., *SIAM J. Comput.* 9 (1980)).
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
    let mut out = match runs.len() <= MOST_WEIGHED {
        true => shortest(runs, roll),
        false => first_fit(runs, roll),
    };
    // What is a little wider together than the roll gives it off its laps.
    for s in &mut out {
        let over = (s.runs.iter().map(|r| r.width).sum::<f64>() - roll).max(0.0);
        let each = over / s.runs.len() as f64;
        s.runs.iter_mut().for_each(|r| r.width -= each);
    }
    out
}

/// So many runs are laid in the shortest way that there is; 3 to this power are looked at.
const MOST_WEIGHED: usize = 12;
/// A run gives so much of its laps where it then lies beside another, mm: less than a tenth of
/// them. Our judgement, no source.
const LAPS_GIVE_MM: f64 = 5.0;

/// Whether runs lie side by side on the roll.
fn beside<'a>(runs: impl Iterator<Item = &'a Run>, roll: f64) -> bool {
    let (wide, count) = runs.fold((0.0, 0), |(w, n), r| (w + r.width, n + 1));
    // One alone was made to fit.
    count < 2 || wide - f64::from(count) * LAPS_GIVE_MM <= roll
}

/// Runs, the longest first, in stretches that are shortest together: sets of runs are gone
/// through from the small to the large, the longest of each with every set that fits beside it.
fn shortest(runs: Vec<Run>, roll: f64) -> Vec<Stretch> {
    let all = (1usize << runs.len()) - 1;
    let of = |set: usize| runs.iter().enumerate().filter(move |(k, _)| set >> k & 1 == 1);
    let fits: Vec<bool> = (0..=all).map(|set| beside(of(set).map(|r| r.1), roll)).collect();
    let mut best: Vec<(f64, usize)> = vec![(0.0, 0); all + 1];
    for set in 1..=all {
        // The longest is the first: runs stand by falling length.
        let first = set.trailing_zeros() as usize;
        let rest = set & (set - 1);
        best[set] = (f64::INFINITY, 0);
        let mut with = rest;
        loop {
            let group = with | 1 << first;
            let length = runs[first].length + best[set & !group].0;
            if fits[group] && length < best[set].0 - 1e-9 {
                best[set] = (length, group);
            }
            if with == 0 {
                break;
            }
            with = (with - 1) & rest;
        }
    }
    let (mut out, mut left) = (Vec::new(), all);
    while left > 0 {
        let group = best[left].1;
        let taken: Vec<Run> = of(group).map(|r| r.1.clone()).collect();
        out.push(Stretch { length: taken[0].length, runs: taken });
        left &= !group;
    }
    out
}

fn first_fit(runs: Vec<Run>, roll: f64) -> Vec<Stretch> {
    let mut out: Vec<Stretch> = Vec::new();
    for run in runs {
        let room = |s: &&mut Stretch| beside(s.runs.iter().chain([&run]), roll);
        match out.iter_mut().find(room) {
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

    /// Seven runs of a dory's strakes: first fit takes 19.25 m of the roll, the shortest of all
    /// ways 15.04 (gone through by a few lines of Python). Two sides a hair too wide for the roll
    /// together give it off their laps.
    #[test]
    fn as_little_of_the_roll_is_taken_as_can_be() {
        let bare = |length: f64, width: f64| Clothed {
            name: "strake".into(),
            length,
            width,
            area: length * width,
            lap: 0.0,
        };
        let strakes = [
            bare(5377.0, 410.0),
            bare(5377.0, 410.0),
            bare(5027.0, 436.9),
            bare(5027.0, 436.9),
            bare(4635.0, 520.4),
            bare(4635.0, 520.4),
            bare(4400.0, 794.9),
        ];
        let length = |l: &[Stretch]| l.iter().map(|s| s.length).sum::<f64>();
        let shortest = cut_list(&strakes, 1270.0);
        let runs = strakes.iter().map(|s| Run { surface: 0, length: s.length, width: s.width });
        let first = first_fit(runs.collect(), 1270.0);
        assert!((length(&shortest) - 15_039.0).abs() < 1e-9, "{}", length(&shortest));
        assert!((length(&first) - 19_247.0).abs() < 300.0, "{}", length(&first));
        assert_eq!(shortest.iter().map(|s| s.runs.len()).sum::<usize>(), 7);
        let side = Clothed { lap: 50.0, ..bare(3920.0, 535.1) };
        let pair = cut_list(&[side.clone(), side], 1270.0);
        assert_eq!((pair.len(), pair[0].runs.len()), (1, 2));
        assert!((pair[0].runs.iter().map(|r| r.width).sum::<f64>() - 1270.0).abs() < 1e-9);
    }
}
