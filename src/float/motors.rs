//! What outboards weigh, as the safe-loading and flotation rules count them.
//!
//! Source: 33 CFR table 183.75, in force since 1 June 2018, second-hand from a page that
//! explains the rule. Its units are kept: pounds and horsepower.

/// A row of the table of motors, lb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorRow {
    /// Up to this horsepower.
    pub up_to: f64,
    /// Dry weight.
    pub dry: f64,
    /// Running weight.
    pub running: f64,
    /// Swamped weight.
    pub swamped: f64,
    /// Controls and rigging.
    pub controls: f64,
    /// Battery, dry.
    pub battery: f64,
    /// Battery, under water.
    pub battery_submerged: f64,
    /// Full portable tank.
    pub fuel: f64,
}

const fn row(up_to: f64, motor: [f64; 3], rest: [f64; 4]) -> MotorRow {
    let [dry, running, swamped] = motor;
    let [controls, battery, battery_submerged, fuel] = rest;
    MotorRow { up_to, dry, running, swamped, controls, battery, battery_submerged, fuel }
}

/// The table, in the order of power.
pub const MOTORS: [MotorRow; 10] = [
    row(2.0, [30.0, 32.0, 27.0], [0.0, 0.0, 0.0, 0.0]),
    row(3.9, [42.0, 44.0, 37.0], [0.0, 0.0, 0.0, 0.0]),
    row(6.9, [66.0, 69.0, 59.0], [0.0, 0.0, 0.0, 25.0]),
    row(10.9, [105.0, 110.0, 94.0], [5.0, 20.0, 11.0, 50.0]),
    row(22.9, [127.0, 133.0, 113.0], [6.0, 45.0, 25.0, 50.0]),
    row(34.9, [187.0, 196.0, 167.0], [9.0, 45.0, 25.0, 100.0]),
    row(64.9, [286.0, 300.0, 255.0], [14.0, 45.0, 25.0, 100.0]),
    row(94.9, [439.0, 461.0, 392.0], [22.0, 45.0, 25.0, 100.0]),
    row(104.9, [458.0, 481.0, 409.0], [23.0, 45.0, 25.0, 100.0]),
    row(144.9, [526.0, 552.0, 469.0], [26.0, 45.0, 25.0, 100.0]),
];

/// The table's row for an outboard of `hp`; the last one for anything larger.
pub fn motor_row(hp: f64) -> MotorRow {
    *MOTORS.iter().find(|r| hp <= r.up_to).unwrap_or(&MOTORS[MOTORS.len() - 1])
}

/// Up to this horsepower a motor is a small one. § 183.37.
pub const SMALL_HP: f64 = 2.0;

/// What the persons give up to an outboard of `hp`, lb: dry motor and controls, battery, and
/// a full portable tank. § 183.41.
pub fn motor_weight(hp: f64) -> f64 {
    let r = motor_row(hp);
    r.dry + r.controls + r.battery + r.fuel
}

/// Motor, controls and battery of an outboard of `hp` under water, lb.
pub fn swamped_weight(hp: f64) -> f64 {
    let r = motor_row(hp);
    r.swamped + r.controls + r.battery_submerged
}

/// The largest motor of each row up to one of `most` hp: every row that begins below it, the
/// last at that power itself.
pub fn up_to(most: f64) -> Vec<f64> {
    let below = MOTORS.iter().map(|r| r.up_to).take_while(|hp| *hp < most);
    below.chain([most]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table prints the sum of running weight, controls, battery and fuel.
    #[test]
    fn the_table_s_columns_add_up() {
        for (hp, sum) in [
            (2.0, 32.0),
            (3.0, 44.0),
            (5.0, 94.0),
            (9.9, 185.0),
            (15.0, 234.0),
            (25.0, 350.0),
            (40.0, 459.0),
            (75.0, 628.0),
            (100.0, 649.0),
            (120.0, 723.0),
        ] {
            let r = motor_row(hp);
            assert_eq!(r.running + r.controls + r.battery + r.fuel, sum, "{hp}");
            // Its second note: a running motor weighs 105 % of a dry one, to the pound.
            assert!((r.running - 1.05 * r.dry).abs() < 1.0, "{hp}");
            assert_eq!(motor_weight(hp), sum - r.running + r.dry, "{hp}");
        }
    }

    #[test]
    fn one_motor_of_each_row() {
        assert_eq!(up_to(15.0), [2.0, 3.9, 6.9, 10.9, 15.0]);
        assert_eq!(up_to(3.0), [2.0, 3.0]);
        assert_eq!(up_to(2.0), [2.0]);
        assert_eq!(up_to(3.9), [2.0, 3.9]);
    }
}
