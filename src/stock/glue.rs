//! Which glue: what each bears, held against what the boat asks.

use crate::material::{Glue, Immersion};

/// What the boat and the shop ask of a glue.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Water that its joints see.
    pub immersion: Immersion,
    /// Widest gap that the builder's joints leave, mm.
    pub gap_mm: f64,
    /// Temperature of the shop, °C.
    pub temperature_c: f64,
    /// Moisture of the wood, percent.
    pub moisture_pct: f64,
    /// Longest time that closing one joint takes, minutes.
    pub minutes: f64,
}

impl Default for Asked {
    /// A skiff on a trailer, joints planed with a jack plane, an open garage: our judgement.
    fn default() -> Self {
        Asked {
            immersion: Immersion::Wet,
            gap_mm: 1.0,
            temperature_c: 20.0,
            moisture_pct: 12.0,
            minutes: 20.0,
        }
    }
}

/// Open time and clamping halve for every 10 °C more, as chemistry's rule of thumb has it for
/// epoxy (from memory); for other glues the same is taken, by our judgement.
const HALVES_PER_C: f64 = 10.0;
/// Temperature at which the table tells times, °C.
const TOLD_AT_C: f64 = 20.0;

/// How much longer (or shorter, under 1) times are at `temperature_c` than the table tells.
pub fn time_factor(temperature_c: f64) -> f64 {
    2f64.powf((TOLD_AT_C - temperature_c) / HALVES_PER_C)
}

/// What of `asked` a glue does not bear, in words with both figures; empty if it bears all.
pub fn against(glue: &Glue, asked: &Asked) -> Vec<String> {
    let mut out = Vec::new();
    if glue.immersion < asked.immersion {
        let (bears, wants) = (glue.immersion.word(), asked.immersion.word());
        out.push(format!("it stands {bears}, and the boat asks {wants}"));
    }
    if glue.gap_mm < asked.gap_mm {
        let (bears, wants) = (glue.gap_mm, asked.gap_mm);
        out.push(format!("it bridges {bears} mm, and joints leave {wants} mm"));
    }
    let t = asked.temperature_c;
    if !(glue.least_c..=glue.most_c).contains(&t) {
        out.push(format!(
            "it sets from {} to {} °C, and the shop has {t} °C",
            glue.least_c, glue.most_c
        ));
    }
    let (dry, wet) = glue.moisture_pct;
    if !(dry..=wet).contains(&asked.moisture_pct) {
        let m = asked.moisture_pct;
        out.push(format!("it takes wood of {dry} to {wet} % moisture, and this has {m:.0} %"));
    }
    let open = glue.open_min * time_factor(t);
    if open < asked.minutes {
        let m = asked.minutes;
        out.push(format!("it stays open {open:.0} minutes at {t} °C, and a joint takes {m:.0}"));
    }
    out
}

/// The glues, those that bear all that is asked first, in the table's order otherwise; each
/// with what it does not bear.
pub fn ranked<'a>(glues: &'a [Glue], asked: &Asked) -> Vec<(&'a Glue, Vec<String>)> {
    let mut all: Vec<(&Glue, Vec<String>)> = glues.iter().map(|g| (g, against(g, asked))).collect();
    all.sort_by_key(|(_, faults)| faults.len());
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::StoreTable;

    #[test]
    fn a_cold_shop_and_a_boat_left_afloat_rule_glues_out() {
        let table = StoreTable::shipped();
        let faults = |name: &str, asked: Asked| against(table.glue(name).expect(name), &asked);
        assert!(faults("epoxy", Asked::default()).is_empty());
        let cold = Asked { temperature_c: 10.0, ..Asked::default() };
        assert!(faults("resorcinol", cold).iter().any(|f| f.contains("21 to 35")));
        let afloat = Asked { immersion: Immersion::Always, ..Asked::default() };
        let pu = faults("polyurethane construction adhesive", afloat);
        assert!(pu.len() == 1 && pu[0].contains("always under water"), "{pu:?}");
        let dry = Asked { moisture_pct: 3.0, ..Asked::default() };
        assert!(ranked(&table.glues, &dry).iter().all(|(_, f)| !f.is_empty()));
    }

    /// At 10 °C more a glue stays open half as long.
    #[test]
    fn heat_shortens_open_time() {
        assert!((time_factor(30.0) - 0.5).abs() < 1e-12 && (time_factor(10.0) - 2.0).abs() < 1e-12);
        let table = StoreTable::shipped();
        let epoxy = table.glue("epoxy").expect("there");
        let hot = Asked { temperature_c: 32.0, minutes: 25.0, ..Asked::default() };
        assert!(against(epoxy, &hot).iter().any(|f| f.contains("20 minutes")));
    }
}
