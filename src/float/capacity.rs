//! Capacity by the public safe-loading rule of the United States, line by line.
//!
//! Source: 33 CFR part 183, subparts A, C and D: §§ 183.35, 183.41 and 183.43 as reprinted by
//! public legal pages, § 183.37 from memory, § 183.53 in the official text of 2001. The rule
//! is for monohull boats under 20 ft; it is printed here as a suggestion for a maker's plate,
//! and local law decides. Its units are kept: pounds, feet, inches, horsepower.
//!
//! Persons and power belong together. What the persons may weigh is what the motor leaves of
//! the weight capacity, and a plate's figures are for the largest motor that may hang on her;
//! with a smaller one more persons may come, so the pairs are told row by row.

use super::motors::{SMALL_HP, motor_weight, up_to};
use super::working::{Line, Stepped, Worked};

pub use crate::units::KG_PER_POUND;

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

/// A motor, and the persons that it leaves room for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// The motor's horsepower.
    pub horsepower: f64,
    /// Whole persons.
    pub persons: u32,
    /// What they may weigh together, lb.
    pub persons_weight: f64,
}

/// The result of the rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Capacity {
    /// Persons, motor and gear, lb.
    pub weight: f64,
    /// Persons, lb, with the motor of the greatest marked power.
    pub persons_weight: f64,
    /// Whole persons, with that motor.
    pub persons: u32,
    /// The greatest power that may be marked; `None` where she is not rated for an outboard.
    pub horsepower: Option<f64>,
    /// The largest motor of each row of the table up to that power, with its persons; the
    /// last pair is what is marked. Empty for oars.
    pub pairs: Vec<Pair>,
    /// The builder's own motor with its persons; `None` for oars, and for a motor that is
    /// larger than may be marked.
    pub own: Option<Pair>,
    /// The working.
    pub lines: Vec<Line>,
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

impl Capacity {
    /// Whole persons and their weight (lb) beside the builder's own motor, or beside the one of
    /// the greatest marked power where there is no pair for hers.
    pub fn allowed(&self) -> (u32, f64) {
        self.own.map_or((self.persons, self.persons_weight), |p| (p.persons, p.persons_weight))
    }
}

/// What the persons may weigh (lb) beside an outboard of `hp`: what the motor leaves, or what
/// the list test allows where that is less and they weigh under 550 lb.
fn persons_weight(a: &Asked, weight: f64, hp: f64) -> f64 {
    let left = (weight - motor_weight(hp)).max(0.0);
    match a.list_test {
        Some(list) if left < LIST_UNDER => left.min(list / LIST_SHARE),
        _ => left,
    }
}

/// Persons weighing less than this together (lb) are bounded by the list test as well, and
/// by how the weight along one side counts. § 183.41.
const LIST_UNDER: f64 = 550.0;
const LIST_SHARE: f64 = 0.6;

/// The lines of a rule's working, as they are added.
#[derive(Default)]
struct Working(Vec<Line>);

impl Working {
    fn line(&mut self, worked: Worked, value: f64, unit: &'static str) -> f64 {
        self.0.push(Line { worked, value, unit });
        value
    }
}

/// Works the rule out.
pub fn capacity(a: &Asked) -> Capacity {
    let mut out = Working::default();
    let (displacement, boat) = (a.max_displacement, a.boat_weight);
    let free = out.line(Worked::Free { displacement, boat }, (displacement - boat).max(0.0), "lb");
    let weight = match a.drive {
        Drive::Outboard(_) => out.line(Worked::Fifth(free), free / 5.0, "lb"),
        _ => out.line(Worked::ThreeTenths(free), 0.3 * free, "lb"),
    };
    let most = marked_power(a, &mut out);
    let persons_weight = match (a.drive, most) {
        (Drive::Outboard(_), Some(hp)) => beside_motor(a, weight, hp, &mut out),
        (Drive::Small(_), _) => {
            out.line(Worked::NineTenthsLess25(weight), (0.9 * weight - 25.0).max(0.0), "lb")
        }
        _ => out.line(Worked::NineTenths(weight), 0.9 * weight, "lb"),
    };
    let whole = persons(persons_weight);
    out.line(Worked::WholePersons(persons_weight), f64::from(whole), "persons");
    let pair = |horsepower: f64, persons_weight: f64| Pair {
        horsepower,
        persons: persons(persons_weight),
        persons_weight,
    };
    let with = |hp: f64| pair(hp, self::persons_weight(a, weight, hp));
    let (pairs, own) = match (a.drive, most) {
        (Drive::Outboard(own), Some(most)) => {
            (up_to(most).into_iter().map(with).collect(), (own <= most).then(|| with(own)))
        }
        (Drive::Small(own), Some(most)) => {
            (vec![pair(most, persons_weight)], Some(pair(own, persons_weight)))
        }
        _ => (Vec::new(), None),
    };
    Capacity { weight, persons_weight, persons: whole, horsepower: most, pairs, own, lines: out.0 }
}

/// The greatest power that may be marked; `None` for oars.
fn marked_power(a: &Asked, out: &mut Working) -> Option<f64> {
    if a.drive == Drive::Manual {
        return None;
    }
    let (length, breadth) = (a.length, a.transom_width);
    let factor = out.line(Worked::Factor { length, breadth }, length * breadth, "ft²");
    let hp = horsepower(factor, a.flat_bottom, a.remote_steering, a.transom_height);
    let flat = match (a.flat_bottom, factor.round() <= 35.0) {
        (true, true) => Stepped::NoLower,
        (true, false) => Stepped::FlatBottom,
        _ => Stepped::No,
    };
    // The weight rule of a small motor holds for a boat marked for no more.
    let (hp, stepped) = match a.drive {
        Drive::Small(_) => (hp.min(SMALL_HP), Stepped::Small),
        _ => (hp, flat),
    };
    Some(out.line(Worked::Power { factor, stepped }, hp, "hp"))
}

/// What the persons may weigh (lb) beside the motor of the greatest marked power, line by
/// line.
fn beside_motor(a: &Asked, weight: f64, hp: f64, out: &mut Working) -> f64 {
    let motor = out.line(Worked::Motor(hp), motor_weight(hp), "lb");
    let left = out.line(Worked::LessMotor { weight, motor }, (weight - motor).max(0.0), "lb");
    let found = persons_weight(a, weight, hp);
    if let Some(list) = a.list_test.filter(|_| left < LIST_UNDER) {
        let by_list = out.line(Worked::ByListTest(list), list / LIST_SHARE, "lb");
        out.line(Worked::Lesser { left, by_list }, found, "lb");
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked examples of the handbook to the rule and of a page that explains it, and sums by
    /// hand.
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

    /// A manual skiff by hand, and the handbook's boats whose list test does or does not
    /// govern: 547 lb by weight, 545 and 328 lb along one side.
    #[test]
    fn a_manual_skiff_and_a_list_test() {
        let c = capacity(&asked(Drive::Manual));
        assert!((c.weight - 384.0).abs() < 1e-9 && (c.persons_weight - 345.6).abs() < 1e-9);
        assert_eq!((c.persons, c.horsepower, c.pairs.len(), c.own), (3, None, 0, None));
        let boat = by_weight(547.0 + 105.0 + 5.0 + 20.0 + 50.0);
        let by_weight = capacity(&Asked { list_test: Some(545.0), ..boat });
        assert!((by_weight.persons_weight - 547.0).abs() < 1e-9);
        assert_eq!((by_weight.persons, by_weight.horsepower), (4, Some(10.0)));
        let by_list = capacity(&Asked { list_test: Some(328.0), ..boat });
        assert!((by_list.persons_weight - 328.0 / 0.6).abs() < 1e-9);
        assert_eq!(by_list.persons, 4);
        assert!(by_list.lines.len() > 6);
    }

    /// A boat of this weight capacity whose factor of 46 and flat bottom mark her for 10 hp.
    fn by_weight(weight: f64) -> Asked {
        let boat = asked(Drive::Outboard(4.0));
        let max_displacement = 5.0 * weight + boat.boat_weight;
        Asked { max_displacement, transom_width: 46.0 / 12.0, ..boat }
    }

    /// Persons go with the motor of the greatest marked power, whatever hangs on her: by hand
    /// with a capacity of 500 lb and dry motors of 30, 42, 66 + 25 and 105 + 5 + 20 + 50 lb.
    #[test]
    fn persons_and_power_belong_together() {
        let boat = by_weight(500.0);
        let c = capacity(&boat);
        assert_eq!((c.persons, c.persons_weight, c.horsepower), (2, 320.0, Some(10.0)));
        let pairs: Vec<_> = c.pairs.iter().map(|p| (p.horsepower, p.persons)).collect();
        assert_eq!(pairs, [(2.0, 4), (3.9, 3), (6.9, 3), (10.0, 2)]);
        let weights: Vec<_> = c.pairs.iter().map(|p| p.persons_weight).collect();
        assert_eq!(weights, [470.0, 458.0, 409.0, 320.0]);
        // What hangs on her changes only its own pair.
        assert_eq!(c.own, Some(Pair { horsepower: 4.0, persons: 3, persons_weight: 409.0 }));
        let bigger = capacity(&Asked { drive: Drive::Outboard(10.0), ..boat });
        assert_eq!(bigger.own, bigger.pairs.last().copied());
        assert_eq!((bigger.persons, &bigger.pairs), (c.persons, &c.pairs));
        // More than may be marked has no pair.
        let most = capacity(&Asked { drive: Drive::Outboard(15.0), ..boat });
        assert_eq!((most.own, most.persons), (None, 2));
        // The list test bounds each pair that weighs under 550 lb.
        let listed = capacity(&Asked { list_test: Some(240.0), ..boat });
        assert!(listed.pairs.iter().all(|p| p.persons_weight <= 400.0 + 1e-9));
        assert!((listed.pairs[3].persons_weight - 320.0).abs() < 1e-9);
        let small = capacity(&asked(Drive::Small(1.5)));
        assert_eq!((small.horsepower, small.pairs.len()), (Some(2.0), 1));
        assert_eq!(small.pairs[0].persons, small.persons);
    }
}
