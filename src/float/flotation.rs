//! How much foam the public flotation rule's arithmetic asks for.
//!
//! Source: 33 CFR part 183, subparts G and H, and the handbook to it: the volume is
//! F = [(W_h · K) + W_d] / B, with W_h what of the boat is under water when she is swamped
//! (K takes off what it lifts itself), W_d what stays dry and so weighs all that it weighs,
//! and B what the foam lifts. Here W_h · K + W_d is the hull less what of her own solids is
//! under the awash waterline: wood above that lifts nothing.

use super::capacity::{Drive, KG_PER_POUND};
use super::motors::swamped_weight;
use super::working::{Line, Worked};

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
}

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
    let mut line = |worked: Worked, value: f64, unit: &'static str| {
        lines.push(Line { worked, value, unit });
        value
    };
    let above = (f.displaced - f.under).max(0.0);
    let own = Worked::HullUnder { hull: f.hull, under: f.under, above };
    let hull = line(own, f.hull - f.under, "kg");
    let motor = f
        .drive
        .horsepower()
        .map_or(0.0, |hp| line(Worked::SwampedMotor(hp), swamped_weight(hp) * KG_PER_POUND, "kg"));
    let outboard = matches!(f.drive, Drive::Outboard(_));
    let persons = line(
        Worked::SwampedPersons { pounds: f.persons, outboard },
        counted_persons(f.drive, f.persons) * KG_PER_POUND,
        "kg",
    );
    let dead = (f.capacity - f.persons - f.motor).max(0.0);
    let dead = line(Worked::DeadWeight(dead), 0.25 * dead * KG_PER_POUND, "kg");
    let needed = (hull + motor + persons + dead).max(0.0);
    let litres = line(
        Worked::Foam { density: f.foam, lifts: needed },
        needed / (1000.0 - f.foam) * 1000.0,
        "litres",
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
