//! The public rules' working, line by line.

use crate::float::working::{Stepped, Worked};
use crate::units::{KG_PER_POUND, Units};

/// What a line works out, with its figures.
pub fn text(worked: &Worked, units: Units) -> String {
    match worked {
        Worked::Free { displacement, boat } => {
            format!("maximum displacement {displacement:.0} less boat {boat:.0}")
        }
        Worked::Fifth(free) => format!("weight capacity: {free:.0} / 5"),
        Worked::ThreeTenths(free) => format!("weight capacity: 3/10 of {free:.0}"),
        Worked::NineTenthsLess25(weight) => format!("persons: 9/10 of {weight:.0} less 25"),
        Worked::NineTenths(weight) => format!("persons: 9/10 of {weight:.0}"),
        Worked::WholePersons(weight) => {
            format!("persons: ({weight:.0} + 32) / 141 to the nearest")
        }
        Worked::Factor { length, breadth } => format!(
            "factor: length {length:.2} ft x breadth of transom, or of the after quarter where that is narrow, {breadth:.2} ft"
        ),
        Worked::Power { factor, stepped } => {
            let why = match stepped {
                Stepped::No => "",
                Stepped::FlatBottom => ", flat bottom and hard chines",
                Stepped::NoLower => ", flat bottom and hard chines: the rule has no step lower",
                Stepped::Small => ", marked for a motor of 2 hp or less",
            };
            format!("the greatest power to mark, for a factor of {factor:.1}{why}")
        }
        Worked::Motor(hp) => format!(
            "the motor of the greatest marked power, {hp} hp: dry, with controls, battery and a full portable tank"
        ),
        Worked::LessMotor { weight, motor } => format!("persons: {weight:.0} less {motor:.0}"),
        Worked::ByListTest(list) => format!("by the list test: {list:.0} / 0.6"),
        Worked::Lesser { left, by_list } => {
            format!("persons: the lesser of {left:.0} and {by_list:.0}")
        }
        Worked::HullUnder { hull, under, above } => format!(
            "hull {} less the {} that her solids displace with water to her lowest opening, level; those above it, {} more, lift nothing",
            units.mass(*hull),
            units.mass(*under),
            units.mass(*above)
        ),
        Worked::SwampedMotor(hp) => format!(
            "motor of {hp:.1} hp, the greatest to mark, with controls and battery, under water"
        ),
        Worked::SwampedPersons { pounds, outboard } => swamped_persons(*pounds, *outboard, units),
        Worked::DeadWeight(dead) => format!(
            "a quarter of the dead weight, {}: all less persons and motor",
            units.mass(dead * KG_PER_POUND)
        ),
        Worked::Foam { density, lifts } => {
            format!("foam of {} that lifts {}", units.density(*density), units.mass(*lifts))
        }
    }
}

/// What persons of this weight (lb) weigh on a swamped boat.
fn swamped_persons(pounds: f64, outboard: bool, units: Units) -> String {
    let shown = |lb: f64| units.mass(lb * KG_PER_POUND);
    let how = match outboard {
        true => format!("half of it up to {}, an eighth of the rest", shown(550.0)),
        false => "2/15 of it".into(),
    };
    format!("persons of {}: {how}", shown(pounds))
}

/// The paragraph that a line is by.
pub fn source(worked: &Worked) -> &'static str {
    match worked {
        Worked::Free { .. } => "33 CFR 183.35, 183.37",
        Worked::Fifth(_) => "33 CFR 183.35 (second-hand)",
        Worked::ThreeTenths(_) => "33 CFR 183.37 (from memory)",
        Worked::NineTenthsLess25(_) => "33 CFR 183.43(a)(2)",
        Worked::NineTenths(_) => "33 CFR 183.43(a)(1)",
        Worked::WholePersons(_) => "33 CFR 183.41, 183.43",
        Worked::Factor { .. } | Worked::Power { .. } => "33 CFR 183.53",
        Worked::Motor(_) => "33 CFR 183.41(a), table 183.75",
        Worked::LessMotor { .. } | Worked::ByListTest(_) | Worked::Lesser { .. } => "33 CFR 183.41",
        Worked::HullUnder { .. } => "the handbook to 33 CFR part 183; Archimedes, fresh water",
        Worked::SwampedMotor(_) => "33 CFR table 183.75",
        Worked::SwampedPersons { outboard: true, .. } => "33 CFR part 183 subpart G (from memory)",
        Worked::SwampedPersons { outboard: false, .. } => {
            "33 CFR part 183 subpart H (from memory), as 183.105"
        }
        Worked::DeadWeight(_) => "33 CFR part 183 subparts G and H (from memory), as 183.105",
        Worked::Foam { .. } => "Archimedes",
    }
}
