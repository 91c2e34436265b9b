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
    /// The time to close a joint, minutes.
    OpenTime {
        /// How long it stays open in the shop.
        bears: f64,
        /// At this temperature, °C.
        at: f64,
        /// What a joint takes.
        asked: f64,
    },
}

/// What of `asked` a glue does not bear; empty if it bears all.
pub fn against(glue: &Glue, asked: &Asked) -> Vec<NotBorne> {
    let t = asked.temperature_c;
    let open = glue.open_min * time_factor(t);
    let setting = (glue.least_c, glue.most_c);
    let within = |(low, high): (f64, f64), value: f64| (low..=high).contains(&value);
    [
        (glue.immersion < asked.immersion)
            .then_some(NotBorne::Immersion { bears: glue.immersion, asked: asked.immersion }),
        (glue.gap_mm < asked.gap_mm)
            .then_some(NotBorne::Gap { bears: glue.gap_mm, asked: asked.gap_mm }),
        (!within(setting, t)).then_some(NotBorne::Temperature { bears: setting, asked: t }),
        (!within(glue.moisture_pct, asked.moisture_pct))
            .then_some(NotBorne::Moisture { bears: glue.moisture_pct, asked: asked.moisture_pct }),
        (open < asked.minutes).then_some(NotBorne::OpenTime {
            bears: open,
            at: t,
            asked: asked.minutes,
        }),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The glues, those that bear all that is asked first, in the table's order otherwise; each
/// with what it does not bear.
pub fn ranked<'a>(glues: &'a [Glue], asked: &Asked) -> Vec<(&'a Glue, Vec<NotBorne>)> {
    let mut all: Vec<(&Glue, Vec<NotBorne>)> =
        glues.iter().map(|g| (g, against(g, asked))).collect();
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
        assert!(
            faults("resorcinol", cold)
                .iter()
                .any(|f| { *f == NotBorne::Temperature { bears: (21.0, 35.0), asked: 10.0 } })
        );
        let afloat = Asked { immersion: Immersion::Always, ..Asked::default() };
        let pu = faults("polyurethane construction adhesive", afloat);
        assert!(matches!(pu[..], [NotBorne::Immersion { asked: Immersion::Always, .. }]), "{pu:?}");
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
        let open = |f: &NotBorne| matches!(f, NotBorne::OpenTime { bears, .. } if (19.5..20.5).contains(bears));
        assert!(against(epoxy, &hot).iter().any(open));
    }
}
