//! Which glue: what each bears, held against what the boat asks.

use crate::hull::stock::Gluing;
use crate::material::{Glue, Immersion};

/// Open time and clamping halve for every 10 °C more, as chemistry's rule of thumb has it for
/// epoxy (from memory); for other glues the same is taken, by our judgement.
const HALVES_PER_C: f64 = 10.0;
/// Temperature at which the table tells times, °C.
pub const TOLD_AT_C: f64 = 20.0;

/// How much longer (or shorter, under 1) times are at `temperature_c` than the table tells.
pub fn time_factor(temperature_c: f64) -> f64 {
    2f64.powf((TOLD_AT_C - temperature_c) / HALVES_PER_C)
}

/// Something asked that a glue does not bear, with what it bears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NotBorne {
    /// Water.
    Immersion {
        /// What it stands.
        bears: Immersion,
        /// What the boat asks.
        asked: Immersion,
    },
    /// A gap, mm.
    Gap {
        /// What it bridges.
        bears: f64,
        /// What joints leave.
        asked: f64,
    },
    /// The shop's temperature, °C.
    Temperature {
        /// From where to where it sets.
        bears: (f64, f64),
        /// The shop's.
        asked: f64,
    },
    /// The wood's moisture, percent.
    Moisture {
        /// From where to where it takes it.
        bears: (f64, f64),
        /// The wood's.
        asked: f64,
    },
}

/// What of that which is asked a glue does not bear, the wood's moisture (percent) among it;
/// empty if it bears all. How long it stays open is for the joints to say
/// ([`super::stores::adhesive::too_long`]).
pub fn against(
    glue: &Glue,
    asked: &Gluing,
    moisture: impl IntoIterator<Item = f64>,
) -> Vec<NotBorne> {
    let setting = (glue.least_c, glue.most_c);
    let within = |(low, high): (f64, f64), value: f64| (low..=high).contains(&value);
    let middle = 0.5 * (glue.moisture_pct.0 + glue.moisture_pct.1);
    let worst = moisture
        .into_iter()
        .filter(|m| !within(glue.moisture_pct, *m))
        .max_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()));
    [
        (glue.immersion < asked.water)
            .then_some(NotBorne::Immersion { bears: glue.immersion, asked: asked.water }),
        (glue.gap_mm < asked.gap_mm)
            .then_some(NotBorne::Gap { bears: glue.gap_mm, asked: asked.gap_mm }),
        (!within(setting, asked.shop_c))
            .then_some(NotBorne::Temperature { bears: setting, asked: asked.shop_c }),
        worst.map(|asked| NotBorne::Moisture { bears: glue.moisture_pct, asked }),
    ]
    .into_iter()
    .flatten()
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::StoreTable;

    #[test]
    fn a_cold_shop_and_a_boat_left_afloat_rule_glues_out() {
        let table = StoreTable::shipped();
        let faults = |name: &str, asked: Gluing, wood: f64| {
            against(table.glue(name).expect(name), &asked, [12.0, wood])
        };
        assert!(faults("epoxy", Gluing::default(), 12.0).is_empty());
        let cold = Gluing { shop_c: 10.0, gap_mm: 0.2, ..Gluing::default() };
        assert_eq!(
            faults("resorcinol", cold, 12.0),
            [NotBorne::Temperature { bears: (21.0, 35.0), asked: 10.0 }]
        );
        let afloat = Gluing { water: Immersion::Always, ..Gluing::default() };
        let pu = faults("polyurethane construction adhesive", afloat, 12.0);
        assert!(matches!(pu[..], [NotBorne::Immersion { asked: Immersion::Always, .. }]), "{pu:?}");
        assert_eq!(
            faults("epoxy", Gluing::default(), 25.0),
            [NotBorne::Moisture { bears: (4.0, 18.0), asked: 25.0 }]
        );
    }

    /// At 10 °C more a glue stays open half as long.
    #[test]
    fn heat_shortens_open_time() {
        assert!((time_factor(30.0) - 0.5).abs() < 1e-12 && (time_factor(10.0) - 2.0).abs() < 1e-12);
    }
}
