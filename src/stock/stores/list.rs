//! All stores for a boat.

use super::adhesive::{Closing, Fillet, GlueJoint, fillet_line, glue_line, too_long};
use super::bought::{Bought, bought};
use super::cloth::{Clothed, Stretch, cloth_line, resin_lines, tape_line, tape_mass};
use super::fastenings::{self, Bolts, Fastened, bolt_lines, jig_lines};
use super::paint::{fairing_line, paint_line, used_up_line};
use super::{CountedFrom, Line, Shop};
use crate::material::Measure;

/// Work that takes up stores.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Work {
    /// Glued joints.
    pub joints: Vec<GlueJoint>,
    /// What is screwed or nailed.
    pub fastened: Vec<Fastened>,
    /// Fillets.
    pub fillets: Vec<Fillet>,
    /// Seams that are taped, mm each.
    pub seams: Vec<f64>,
    /// Surfaces that are clothed.
    pub clothed: Vec<Clothed>,
    /// All of the outside, mm².
    pub outside: f64,
    /// Of that, below the marked waterline and boot-top, mm².
    pub below_water: f64,
    /// All of the inside with frames and thwarts, mm².
    pub inside: f64,
    /// Blocks of foam, mm³.
    pub foam: f64,
    /// Bolts.
    pub bolts: Vec<Bolts>,
    /// Sticks of the jig, whose screws are drawn again.
    pub jig: Vec<Fastened>,
}

/// How she is finished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// Weight of the cloth, g/m²; 0 for none.
    pub cloth_g_m2: f64,
    /// Weight of the tape, g/m².
    pub tape_g_m2: f64,
    /// Coats of resin that fill the weave.
    pub fill_coats: u32,
    /// The cloth is faired.
    pub faired: bool,
    /// Coats of primer.
    pub primer_coats: u32,
    /// Coats of paint over it.
    pub paint_coats: u32,
    /// Coats of antifouling below the waterline instead of paint; 0 for a boat that is hauled.
    pub antifouling_coats: u32,
    /// Of the shop, °C.
    pub temperature_c: f64,
}

impl Default for Finish {
    /// Cloth and tape of 6 oz, three coats over the weave, two of primer and two of paint.
    /// Common practice, no source.
    fn default() -> Self {
        Finish {
            cloth_g_m2: 203.0,
            tape_g_m2: 203.0,
            fill_coats: 3,
            faired: true,
            primer_coats: 2,
            paint_coats: 2,
            antifouling_coats: 0,
            temperature_c: 20.0,
        }
    }
}

/// A product that wants a warmer shop.
#[derive(Debug, Clone, PartialEq)]
pub struct TooCold {
    /// Which.
    pub product: String,
    /// The least that it wants, °C.
    pub least: f64,
    /// What the shop has, °C.
    pub shop: f64,
}

/// What is bought that is not wood.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stores {
    /// Line by line, in the order of the work.
    pub lines: Vec<Line>,
    /// What is bought for them.
    pub bought: Vec<Bought>,
    /// How cloth is cut from its roll.
    pub cloth: Vec<Stretch>,
    /// Joints that take longer to close than the glue stays open.
    pub too_long: Vec<Closing>,
    /// Pieces too thin for any fastening of the table.
    pub too_thin: Vec<String>,
    /// What would not set or dry in the shop.
    pub too_cold: Vec<TooCold>,
    /// Names that no table has: what they are for is not counted.
    pub unknown: Vec<String>,
}

impl Stores {
    /// Price of all that has one, and how many products have none.
    pub fn price(&self) -> (f64, usize) {
        let sum = self.bought.iter().filter_map(|b| b.price).sum();
        (sum, self.bought.iter().filter(|b| b.price.is_none()).count())
    }

    fn take(&mut self, line: Result<Line, String>) {
        match line {
            Ok(line) if line.quantity > 0.0 => self.lines.push(line),
            Ok(_) => {}
            Err(name) if self.unknown.contains(&name) => {}
            Err(name) => self.unknown.push(name),
        }
    }
}

/// Everything that the work takes up.
pub fn list(shop: &Shop, work: &Work, finish: &Finish) -> Stores {
    let mut out = Stores::default();
    out.take(glue_line(shop, &work.joints));
    if let Some(glue) = shop.table.glue(&shop.plan.glue) {
        out.too_long = too_long(&work.joints, glue, finish.temperature_c);
    }
    match fastenings::lines(shop, &work.fastened) {
        Ok((lines, thin)) => {
            out.lines.extend(lines);
            out.too_thin = thin;
        }
        Err(name) => out.take(Err(name)),
    }
    for line in bolt_lines(shop, &work.bolts) {
        out.take(line);
    }
    match jig_lines(shop, &work.jig) {
        Ok(lines) => out.lines.extend(lines),
        Err(name) => out.take(Err(name)),
    }
    out.take(fillet_line(shop, &work.fillets));
    out.take(thickener_line(shop, &out.lines));
    clothing(shop, work, finish, &mut out);
    painting(shop, work, finish, &mut out);
    if work.foam > 0.0 {
        out.take(foam_line(shop, work.foam));
    }
    // Glue that is counted in kilograms is about as heavy as water.
    let mixed: f64 = out.lines.iter().filter(|l| is_mixed(&l.name)).map(|l| l.quantity).sum();
    out.take(used_up_line(shop, "gloves, pairs", mixed));
    out.take(used_up_line(shop, "mixing pots", mixed));
    out.too_cold = too_cold(shop, &out.lines, finish.temperature_c);
    out.bought = bought(&out.lines);
    out
}

/// What the lines name that wants a warmer shop than `shop_c` (°C), once each by its product.
fn too_cold(shop: &Shop, lines: &[Line], shop_c: f64) -> Vec<TooCold> {
    let mut out: Vec<TooCold> = Vec::new();
    for l in lines {
        let least = shop.table.store(&l.name).and_then(|r| r.least_c).filter(|c| *c > shop_c);
        if let Some(least) = least.filter(|_| !out.iter().any(|c| c.product == l.product)) {
            out.push(TooCold { product: l.product.clone(), least, shop: shop_c });
        }
    }
    out
}

/// What is stirred into epoxy, by its name in the table.
const THICKENER: &str = "thickener for epoxy";

/// The line of what is stirred into the glue and the fillets of epoxy.
fn thickener_line(shop: &Shop, lines: &[Line]) -> Result<Line, String> {
    let row = shop.row(THICKENER)?;
    let thick = lines.iter().filter(|l| l.name == "epoxy glue" || l.name == "epoxy in fillets");
    // Mixed epoxy weighs about 1.1 kg a litre: makers' data in general, from memory.
    let litres = |l: &Line| match l.unit {
        Measure::Kilograms => l.quantity / 1.1,
        _ => l.quantity,
    };
    let litres: f64 = thick.map(litres).sum();
    let from = CountedFrom::Stirred { litres, rate: row.value };
    Ok(shop.line(row, &row.name, litres * row.value, from))
}

/// The line of the blocks that keep her up, `volume` in mm³.
fn foam_line(shop: &Shop, volume: f64) -> Result<Line, String> {
    let row = shop.row("flotation foam")?;
    Ok(shop.line(row, &row.name, volume * 1e-6 * row.value, CountedFrom::Foam { volume }))
}

fn clothing(shop: &Shop, work: &Work, finish: &Finish, out: &mut Stores) {
    let clothed = finish.cloth_g_m2 > 0.0 && !work.clothed.is_empty();
    out.take(tape_line(shop, &work.seams));
    let width = shop.table.store("glass tape").map_or(0.0, |r| r.value);
    let mut kg = tape_mass(&work.seams, width, finish.tape_g_m2);
    let area: f64 = work.clothed.iter().map(|c| c.area).sum();
    if clothed {
        match cloth_line(shop, &work.clothed) {
            Ok((line, list)) => {
                out.take(Ok(line));
                out.cloth = list;
            }
            Err(name) => out.take(Err(name)),
        }
        kg += area * 1e-6 * finish.cloth_g_m2 / 1000.0;
    }
    let coats = if clothed { finish.fill_coats } else { 0 };
    match resin_lines(shop, kg, area, coats) {
        Ok(lines) => lines.into_iter().for_each(|l| out.take(Ok(l))),
        Err(name) => out.take(Err(name)),
    }
    if clothed && finish.faired {
        out.take(fairing_line(shop, area));
    }
}

fn painting(shop: &Shop, work: &Work, finish: &Finish, out: &mut Stores) {
    let all = work.outside + work.inside;
    let fouled = if finish.antifouling_coats > 0 { work.below_water } else { 0.0 };
    out.take(paint_line(shop, "primer", all, finish.primer_coats));
    out.take(paint_line(shop, "topside paint", all - fouled, finish.paint_coats));
    out.take(paint_line(shop, "antifouling", fouled, finish.antifouling_coats));
    let coats = f64::from(finish.primer_coats) * all
        + f64::from(finish.paint_coats) * (all - fouled)
        + f64::from(finish.antifouling_coats) * fouled;
    // Large faces are rolled, the inside between the frames is brushed.
    let rolled = if all > 0.0 { coats * work.outside / all } else { 0.0 };
    out.take(used_up_line(shop, "roller covers", rolled * 1e-6));
    out.take(used_up_line(shop, "brushes", (coats - rolled) * 1e-6));
}

/// Whether it is mixed in pots, with gloves on; what is stirred in takes no pot of its own.
fn is_mixed(name: &str) -> bool {
    name != THICKENER && ["epoxy", "resorcinol", "plastic resin"].iter().any(|w| name.contains(w))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::StockPlan;
    use crate::material::StoreTable;

    fn work() -> Work {
        Work {
            joints: vec![GlueJoint { laid: "side".into(), length: 4000.0, width: 19.0, count: 1 }],
            seams: vec![4000.0, 4000.0],
            clothed: vec![Clothed {
                name: "bottom".into(),
                length: 3800.0,
                width: 1200.0,
                area: 4e6,
                lap: 50.0,
            }],
            outside: 8e6,
            below_water: 3e6,
            inside: 9e6,
            ..Work::default()
        }
    }

    #[test]
    fn every_line_has_its_sum_and_its_source_and_packs_hold_it() {
        let table = StoreTable::shipped();
        let plan = StockPlan::default();
        let shop = Shop { table: &table, plan: &plan };
        let finish = Finish { antifouling_coats: 2, ..Finish::default() };
        let all = list(&shop, &work(), &finish);
        assert!(all.unknown.is_empty(), "{:?}", all.unknown);
        for l in &all.lines {
            assert!(!l.source.is_empty(), "{l:?}");
        }
        for b in &all.bought {
            let packs = f64::from(b.packs);
            assert!(packs * b.pack >= b.quantity - 1e-6 && (packs - 1.0) * b.pack < b.quantity);
        }
        let mut told: Vec<usize> = all.bought.iter().flat_map(|b| b.lines.clone()).collect();
        told.sort_unstable();
        assert_eq!(told, (0..all.lines.len()).collect::<Vec<_>>());
        let of = |name: &str| all.lines.iter().find(|l| l.name == name).expect(name).quantity;
        assert!((of("antifouling") - 3.0 * 2.0 / 8.0 * 1.1).abs() < 1e-12);
        assert!((of("topside paint") - 14.0 * 2.0 / 9.0 * 1.1).abs() < 1e-12);
        assert!((of("primer") - 17.0 * 2.0 / 10.0 * 1.43).abs() < 1e-12);
        assert_eq!(all.price().0, 0.0);
        assert_eq!(all.price().1, all.bought.len());
    }

    /// Coats want 10 °C and antifouling 5: in a shop of 7 one resin and three paints wait, each
    /// named once. Thickener goes into glue and fillets, not into the cloth.
    #[test]
    fn a_cold_shop_holds_up_coats_and_paint() {
        let table = StoreTable::shipped();
        let plan = StockPlan { glue: "epoxy".into(), ..StockPlan::default() };
        let shop = Shop { table: &table, plan: &plan };
        let at = |temperature_c| {
            let finish = Finish { antifouling_coats: 2, temperature_c, ..Finish::default() };
            list(&shop, &work(), &finish)
        };
        let named: Vec<String> = at(7.0).too_cold.into_iter().map(|c| c.product).collect();
        assert_eq!(named, ["laminating epoxy", "fairing compound", "primer", "topside paint"]);
        assert!(at(10.0).too_cold.is_empty() && at(4.0).too_cold.len() == 5);
        let of =
            |name: &str| at(20.0).lines.iter().find(|l| l.name == name).map_or(0.0, |l| l.quantity);
        let litres = of("epoxy glue") / 1.1;
        assert!(litres > 0.0 && (of("thickener for epoxy") - 1.1 * litres).abs() < 1e-12);
        // Pots and gloves are for what is mixed: glue, and resin in and over the cloth.
        let mixed = ["epoxy glue", "laminating epoxy in cloth", "laminating epoxy over the weave"];
        let mixed: f64 = mixed.iter().map(|n| of(n)).sum();
        let row = |name: &str| table.store(name).expect(name);
        let pots = row("mixing pots");
        let wanted = (mixed / pots.value * (1.0 + 0.01 * pots.waste_pct)).ceil();
        assert_eq!(of("mixing pots"), wanted);
    }

    #[test]
    fn a_bare_boat_takes_no_cloth_and_an_unknown_glue_is_told() {
        let table = StoreTable::shipped();
        let plan = StockPlan { glue: "spit".into(), ..StockPlan::default() };
        let shop = Shop { table: &table, plan: &plan };
        let bare = Work { seams: vec![], clothed: vec![], ..work() };
        let all = list(&shop, &bare, &Finish::default());
        assert_eq!(all.unknown, vec!["spit".to_string()]);
        assert!(!all.lines.iter().any(|l| l.name.contains("epoxy") || l.name.contains("glass")));
        assert!(all.lines.iter().any(|l| l.name == "primer"));
    }
}
