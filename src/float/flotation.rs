//! How much foam the public flotation rule's arithmetic asks for.
//!
//! Source: 33 CFR part 183, subparts G and H, and the handbook to it: the volume is
//! F = [(W_h · K) + W_d] / B, with W_h what of the boat is under water when she is swamped
//! (K takes off what it lifts itself), W_d what stays dry and so weighs all that it weighs,
//! and B what the foam lifts. Here W_h · K + W_d is the hull less what of her own solids is
//! under the awash waterline: wood above that lifts nothing.

use super::capacity::{Drive, KG_PER_POUND, Line};
use super::motors::swamped_weight;
use crate::units::Units;

/// What the rule's arithmetic is worked from; masses kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flotation {
    /// Hull with all that is fixed to it, the boxes of foam with it and the foam without.
    pub hull: f64,
    /// What the hull's own solids displace under the awash waterline, foam left out.
    pub under: f64,
    /// What they would displace all under water.
    pub displaced: f64,
    /// What drives her, with the greatest power that may be marked.
    pub drive: Drive,
    /// The most that persons may weigh, lb, by the safe-loading rule, with that motor.
    pub persons: f64,
    /// Motor, persons and gear, lb.
    pub capacity: f64,
    /// What motor, controls, battery and tank weigh, lb.
    pub motor: f64,
    /// Foam's density, kg/m³.
    pub foam: f64,
    /// The reader's units.
    pub units: Units,
}

const SUBPART_G: &str = "33 CFR part 183 subpart G (from memory)";
const SUBPART_H: &str = "33 CFR part 183 subpart H (from memory), as 183.105";

/// What persons of `pounds` together weigh on a swamped boat, lb: outboards over 2 hp (level
/// flotation) half up to 550 lb and an eighth of the rest, others two fifteenths. From
/// memory, but for the fraction of § 183.105.
pub fn counted_persons(drive: Drive, pounds: f64) -> f64 {
    match drive {
        Drive::Outboard(_) => 0.5 * pounds.min(550.0) + 0.125 * (pounds - 550.0).max(0.0),
        _ => 2.0 / 15.0 * pounds,
    }
}

/// The foam that the arithmetic asks for, litres, all of it under water, and its working;
/// never less than nothing.
///
/// The persons as [`counted_persons`] has them and a quarter of the dead weight (from memory).
pub fn foam_needed(f: &Flotation) -> (f64, Vec<Line>) {
    let mut lines = Vec::new();
    let mut line = |text: String, value: f64, unit: &'static str, source: &'static str| {
        lines.push(Line { text, value, unit, source });
        value
    };
    let kg = |kg: f64| f.units.mass(kg);
    let pounds = |lb: f64| f.units.mass(lb * KG_PER_POUND);
    let hull = line(
        format!(
            "hull {} less the {} that her solids displace with water to her lowest opening, level; those above it, {} more, lift nothing",
            kg(f.hull),
            kg(f.under),
            kg((f.displaced - f.under).max(0.0))
        ),
        f.hull - f.under,
        "kg",
        "the handbook to 33 CFR part 183; Archimedes, fresh water",
    );
    let motor = f.drive.horsepower().map_or(0.0, |hp| {
        line(
            format!(
                "motor of {hp:.1} hp, the greatest to mark, with controls and battery, under water"
            ),
            swamped_weight(hp) * KG_PER_POUND,
            "kg",
            "33 CFR table 183.75",
        )
    });
    let (how, source) = match f.drive {
        Drive::Outboard(_) => {
            (format!("half of it up to {}, an eighth of the rest", pounds(550.0)), SUBPART_G)
        }
        _ => ("2/15 of it".to_string(), SUBPART_H),
    };
    let persons = line(
        format!("persons of {}: {how}", pounds(f.persons)),
        counted_persons(f.drive, f.persons) * KG_PER_POUND,
        "kg",
        source,
    );
    let dead = (f.capacity - f.persons - f.motor).max(0.0);
    let dead = line(
        format!("a quarter of the dead weight, {}: all less persons and motor", pounds(dead)),
        0.25 * dead * KG_PER_POUND,
        "kg",
        "33 CFR part 183 subparts G and H (from memory), as 183.105",
    );
    let needed = (hull + motor + persons + dead).max(0.0);
    let litres = line(
        format!("foam of {} that lifts {}", f.units.density(f.foam), kg(needed)),
        needed / (1000.0 - f.foam) * 1000.0,
        "litres",
        "Archimedes",
    );
    (litres, lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// K = (SG − 1)/SG: plywood of 0.55 under water lifts 0.818 of its weight; above it, it
    /// weighs all of it. What 100 kg of it lack for a load is made up by foam.
    #[test]
    fn the_arithmetic_by_hand() {
        let base = Flotation {
            hull: 100.0,
            under: 100.0 / 0.55,
            displaced: 100.0 / 0.55,
            drive: Drive::Manual,
            persons: 0.0,
            capacity: 0.0,
            motor: 0.0,
            foam: 32.0,
            units: Units::Mm,
        };
        let (none, lines) = foam_needed(&base);
        assert_eq!(none, 0.0);
        assert!((lines[0].value + 81.818).abs() < 1e-3, "{}", lines[0].value);
        // 9.9 hp: 94 swamped, 5 controls, 11 battery; persons 550 lb; 732 less 550 and 185.
        let boat = Flotation {
            drive: Drive::Outboard(9.9),
            persons: 650.0,
            capacity: 900.0,
            motor: 185.0,
            ..base
        };
        let pounds = 94.0 + 5.0 + 11.0 + 275.0 + 12.5 + 0.25 * 65.0;
        let want = (pounds * KG_PER_POUND - 81.818_18) / 0.968;
        assert!((foam_needed(&boat).0 - want).abs() < 1e-3);
        // The handbook's two weights: 60 kg of it under water, 40 kg dry.
        let half_dry = Flotation { under: 60.0 / 0.55, ..boat };
        let want = (pounds * KG_PER_POUND - 60.0 * 0.818_181_8 + 40.0) / 0.968;
        assert!((foam_needed(&half_dry).0 - want).abs() < 1e-3);
    }
}
