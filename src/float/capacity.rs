//! Capacity by the public safe-loading rule of the United States, line by line.
//!
//! Source: 33 CFR part 183, subparts A, C and D (figures and their trust in the shared check
//! values, file 01). The rule is for monohull boats under 20 ft; it is printed here as a
//! suggestion for a maker's plate, and local law decides. Its units are kept: pounds, feet,
//! inches, horsepower.

/// Pounds in a kilogram, exact by definition (0.453 592 37 kg).
pub const KG_PER_POUND: f64 = 0.453_592_37;

/// What drives her, as far as the rule asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Drive {
    /// Oars or paddles.
    Manual,
    /// A motor of 2 hp or less, of this horsepower.
    Small(f64),
    /// An outboard of more than 2 hp, of this horsepower.
    Outboard(f64),
}

impl Drive {
    /// Of its motor; `None` for oars.
    pub fn horsepower(self) -> Option<f64> {
        match self {
            Drive::Manual => None,
            Drive::Small(hp) | Drive::Outboard(hp) => Some(hp),
        }
    }
}

/// What the rule is worked from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Water displaced when she is pressed down until it would come aboard, lb.
    pub max_displacement: f64,
    /// Hull with all that is fixed to it, lb.
    pub boat_weight: f64,
    /// Length of the hull, ft.
    pub length: f64,
    /// Greatest width of the transom, ft.
    pub transom_width: f64,
    /// Height of the transom at the motor, in.
    pub transom_height: f64,
    /// Flat bottom and hard chines.
    pub flat_bottom: bool,
    /// Steered from a wheel.
    pub remote_steering: bool,
    /// What drives her.
    pub drive: Drive,
    /// Weight along one side that brings water to the gunwale, lb, if it was found.
    pub list_test: Option<f64>,
}

/// A line of the working.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What is worked out, with its figures.
    pub text: String,
    /// The result.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// The paragraph.
    pub source: &'static str,
}

/// The result of the rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Capacity {
    /// Persons, motor and gear, lb.
    pub weight: f64,
    /// Persons, lb.
    pub persons_weight: f64,
    /// Whole persons.
    pub persons: u32,
    /// Horsepower; `None` where she is not rated for an outboard.
    pub horsepower: Option<f64>,
    /// The working.
    pub lines: Vec<Line>,
}

/// A row of the table of motors, lb. Table 183.75, in force since 1 June 2018.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorRow {
    /// Up to this horsepower.
    pub up_to: f64,
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

const fn row(up_to: f64, running: f64, swamped: f64, rest: [f64; 4]) -> MotorRow {
    let [controls, battery, battery_submerged, fuel] = rest;
    MotorRow { up_to, running, swamped, controls, battery, battery_submerged, fuel }
}

const MOTORS: [MotorRow; 10] = [
    row(2.0, 32.0, 27.0, [0.0, 0.0, 0.0, 0.0]),
    row(3.9, 44.0, 37.0, [0.0, 0.0, 0.0, 0.0]),
    row(6.9, 69.0, 59.0, [0.0, 0.0, 0.0, 25.0]),
    row(10.9, 110.0, 94.0, [5.0, 20.0, 11.0, 50.0]),
    row(22.9, 133.0, 113.0, [6.0, 45.0, 25.0, 50.0]),
    row(34.9, 196.0, 167.0, [9.0, 45.0, 25.0, 100.0]),
    row(64.9, 300.0, 255.0, [14.0, 45.0, 25.0, 100.0]),
    row(94.9, 461.0, 392.0, [22.0, 45.0, 25.0, 100.0]),
    row(104.9, 481.0, 409.0, [23.0, 45.0, 25.0, 100.0]),
    row(144.9, 552.0, 469.0, [26.0, 45.0, 25.0, 100.0]),
];

/// The table's row for an outboard of `hp`; the last one for anything larger.
pub fn motor_row(hp: f64) -> MotorRow {
    *MOTORS.iter().find(|r| hp <= r.up_to).unwrap_or(&MOTORS[MOTORS.len() - 1])
}

/// Up to this horsepower a motor is a small one. § 183.37.
pub const SMALL_HP: f64 = 2.0;

/// Motor, controls, battery and tank of an outboard of `hp`, lb.
pub fn motor_weight(hp: f64) -> f64 {
    let r = motor_row(hp);
    r.running + r.controls + r.battery + r.fuel
}

/// Motor, controls and battery of an outboard of `hp` under water, lb.
pub fn swamped_weight(hp: f64) -> f64 {
    let r = motor_row(hp);
    r.swamped + r.controls + r.battery_submerged
}

/// Whole persons for a weight of persons (lb): (P + 32) / 141 to the nearest, halves up.
pub fn persons(weight: f64) -> u32 {
    ((weight + 32.0) / 141.0 + 0.5).floor().max(0.0) as u32
}

/// Horsepower for a factor F = length × transom width (ft²), of a boat with these features.
///
/// F is taken to the nearest whole number for the table up to 52; above it the formulas
/// hold, and a result that is no multiple of 5 may be raised to the next. § 183.53.
pub fn horsepower(factor: f64, flat_bottom: bool, remote: bool, transom_height: f64) -> f64 {
    const TABLE: [(f64, f64); 5] =
        [(35.0, 3.0), (39.0, 5.0), (42.0, 7.5), (45.0, 10.0), (52.0, 15.0)];
    if factor <= 52.5 {
        let whole = factor.round();
        let row = TABLE.iter().position(|r| whole <= r.0).unwrap_or(TABLE.len() - 1);
        // A flat bottom with hard chines drops one step; below the first there is none.
        return TABLE[if flat_bottom { row.saturating_sub(1) } else { row }].1;
    }
    let raw = if remote && transom_height >= 20.0 {
        2.0 * factor - 90.0
    } else if flat_bottom {
        0.5 * factor - 15.0
    } else {
        0.8 * factor - 25.0
    };
    // A hair under a multiple by rounding is that multiple.
    ((raw - 1e-9) / 5.0).ceil() * 5.0
}

/// Works the rule out.
pub fn capacity(a: &Asked) -> Capacity {
    let mut lines = Vec::new();
    let mut line = |text: String, value: f64, unit: &'static str, source: &'static str| {
        lines.push(Line { text, value, unit, source });
        value
    };
    let free = line(
        format!("maximum displacement {:.0} less boat {:.0}", a.max_displacement, a.boat_weight),
        (a.max_displacement - a.boat_weight).max(0.0),
        "lb",
        "33 CFR 183.35, 183.37",
    );
    let weight = match a.drive {
        Drive::Outboard(_) => line(
            format!("weight capacity: {free:.0} / 5"),
            free / 5.0,
            "lb",
            "33 CFR 183.35 (second-hand)",
        ),
        _ => line(
            format!("weight capacity: 3/10 of {free:.0}"),
            0.3 * free,
            "lb",
            "33 CFR 183.37 (from memory)",
        ),
    };
    let mut persons_weight = match a.drive {
        Drive::Outboard(hp) => {
            let motor = line(
                format!("marked for the motor fitted: {hp} hp with controls, battery and tank"),
                motor_weight(hp),
                "lb",
                "33 CFR table 183.75",
            );
            line(
                format!("persons: {weight:.0} less {motor:.0}"),
                (weight - motor).max(0.0),
                "lb",
                "33 CFR 183.41",
            )
        }
        Drive::Small(_) => line(
            format!("persons: 9/10 of {weight:.0} less 25"),
            (0.9 * weight - 25.0).max(0.0),
            "lb",
            "33 CFR 183.43(a)(2)",
        ),
        Drive::Manual => {
            line(format!("persons: 9/10 of {weight:.0}"), 0.9 * weight, "lb", "33 CFR 183.43(a)(1)")
        }
    };
    if let (Some(list), Drive::Outboard(_)) = (a.list_test, a.drive)
        && persons_weight < 550.0
    {
        let by_list =
            line(format!("by the list test: {list:.0} / 0.6"), list / 0.6, "lb", "33 CFR 183.41");
        persons_weight = line(
            format!("persons: the lesser of {persons_weight:.0} and {by_list:.0}"),
            persons_weight.min(by_list),
            "lb",
            "33 CFR 183.41",
        );
    }
    let whole = persons(persons_weight);
    line(
        format!("persons: ({persons_weight:.0} + 32) / 141 to the nearest"),
        f64::from(whole),
        "persons",
        "33 CFR 183.41, 183.43",
    );
    let horsepower = match a.drive {
        Drive::Manual => None,
        _ => {
            let factor = line(
                format!(
                    "factor: length {:.2} ft x breadth of transom, or of the after quarter where that is narrow, {:.2} ft",
                    a.length, a.transom_width
                ),
                a.length * a.transom_width,
                "ft²",
                "33 CFR 183.53",
            );
            let hp = horsepower(factor, a.flat_bottom, a.remote_steering, a.transom_height);
            let kind = match (a.flat_bottom, factor.round() <= 35.0) {
                (true, true) => ", flat bottom and hard chines: the rule has no step lower",
                (true, false) => ", flat bottom and hard chines",
                _ => "",
            };
            // The weight rule of a small motor holds for a boat marked for no more.
            let (hp, kind) = match a.drive {
                Drive::Small(_) => (hp.min(SMALL_HP), ", marked for a motor of 2 hp or less"),
                _ => (hp, kind),
            };
            Some(line(
                format!("power for a factor of {factor:.1}{kind}"),
                hp,
                "hp",
                "33 CFR 183.53",
            ))
        }
    };
    Capacity { weight, persons_weight, persons: whole, horsepower, lines }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The rule's own worked examples: shared check values, file 01, section 7.
    #[test]
    fn published_examples() {
        assert_eq!(persons(550.0), 4);
        assert_eq!(persons(547.0), 4);
        // Edges of the rounding, halves up.
        for (p, n) in [(38.4, 0), (38.5, 1), (179.5, 2), (320.5, 3), (461.5, 4), (602.4, 4)] {
            assert_eq!(persons(p), n, "{p}");
        }
        // D: 19 ft 6 in by 84 in, remote, 20 in.
        assert_eq!(horsepower(19.5 * 7.0, false, true, 20.0), 185.0);
        // E: 12 ft by 46 in, tiller, 15 in.
        assert_eq!(horsepower(12.0 * 46.0 / 12.0, false, false, 15.0), 15.0);
        assert_eq!(horsepower(46.0, true, false, 15.0), 10.0);
        // G: 16 ft by 60 in.
        assert_eq!(horsepower(80.0, true, false, 15.0), 25.0);
        assert_eq!(horsepower(80.0, false, false, 15.0), 40.0);
        assert_eq!(horsepower(80.0, false, true, 20.0), 70.0);
        assert_eq!(horsepower(30.0, true, false, 15.0), 3.0);
    }

    fn asked(drive: Drive) -> Asked {
        Asked {
            max_displacement: 1400.0,
            boat_weight: 120.0,
            length: 12.0,
            transom_width: 3.5,
            transom_height: 15.0,
            flat_bottom: true,
            remote_steering: false,
            drive,
            list_test: None,
        }
    }

    /// H: a manual skiff, and C: the list test that governs.
    #[test]
    fn a_manual_skiff_and_a_list_test() {
        let c = capacity(&asked(Drive::Manual));
        assert!((c.weight - 384.0).abs() < 1e-9 && (c.persons_weight - 345.6).abs() < 1e-9);
        assert_eq!((c.persons, c.horsepower), (3, None));
        let mut boat = asked(Drive::Outboard(9.9));
        // (W − 185) = 547, so W = 732 and 3660 lb are free.
        boat.max_displacement = 3660.0 + boat.boat_weight;
        let by_weight = capacity(&Asked { list_test: Some(545.0), ..boat });
        assert!((by_weight.persons_weight - 547.0).abs() < 1e-9);
        assert_eq!(by_weight.persons, 4);
        let by_list = capacity(&Asked { list_test: Some(328.0), ..boat });
        assert!((by_list.persons_weight - 328.0 / 0.6).abs() < 1e-9);
        assert_eq!(by_list.persons, 4);
        assert!(by_list.lines.len() > 6 && by_list.lines.iter().all(|l| !l.source.is_empty()));
    }

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
            assert_eq!(motor_weight(hp), sum, "{hp}");
        }
    }
}
