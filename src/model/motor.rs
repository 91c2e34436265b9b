//! Does the transom carry its motor? The motor's weight is the public rule's, its thrust an
//! estimate; what they do to board, pad and knee.

use super::Model;
use crate::float::motors::motor_row;
use crate::frames::motor_load::{BRACKET_MM, Carrier, Check, MotorLoads};
use crate::hull::Motor;
use crate::units::KG_PER_POUND;

/// Motors up to this horsepower are looked at.
const MOST_HP: f64 = 150.0;
/// Steps (hp) in which the greatest motor that holds is looked for.
const STEP_HP: f64 = 0.5;

/// How a transom stands its motor.
#[derive(Debug, Clone, PartialEq)]
pub struct MotorCheck {
    /// Of the motor that is fitted.
    pub loads: MotorLoads,
    /// Sections, worst first.
    pub checks: Vec<Check>,
    /// Greatest horsepower whose checks all hold, in halves; 0 if none.
    pub holds_up_to: f64,
    /// From the pad's lower edge down to the framing, mm; 0 where it reaches it.
    pub pad_short: f64,
}

impl MotorCheck {
    /// The worst section's stress over what is allowed.
    pub fn worst(&self) -> Option<&Check> {
        self.checks.first()
    }

    /// Whether every section holds.
    pub fn holds(&self) -> bool {
        self.checks.iter().all(|c| c.share() <= 1.0)
    }
}

/// Of a side cleat no more than this (mm) counts as what holds the board there: a wider one is
/// part of the board. Common practice, no source.
const CLEAT_HOLDS_MM: f64 = 100.0;

/// What a motor of this horsepower does to a transom.
fn loads(motor: &Motor, horsepower: f64) -> MotorLoads {
    let mass = motor_row(horsepower).running * KG_PER_POUND;
    MotorLoads::of(horsepower, mass, motor.shaft.length())
}

/// The check; `None` where no motor is fitted or there is no transom for it.
pub fn check(model: &Model) -> Option<MotorCheck> {
    let motor = &model.hull.motor;
    let t = model.woodwork.transom.as_ref()?;
    let c = t.cut_out.filter(|_| motor.fitted)?;
    let plan = &model.hull.transom;
    let half = t.far.half_breadth_at(c.seat - BRACKET_MM)?;
    let strength = model.materials.wood(&model.hull.framing.species).map(|w| w.mor(12.0));
    let carrier = Carrier {
        board: plan.thickness_mm,
        pad: c.pad_thickness,
        pad_width: motor.pad_width_mm,
        between_sides: 2.0 * (half - plan.framing_width_mm.min(CLEAT_HOLDS_MM)).max(0.0),
        knee: model.woodwork.knee.as_ref(),
        wood_breaks: strength.unwrap_or(50.0),
    };
    let holds = |hp: f64| loads(motor, hp).checks(&carrier).iter().all(|c| c.share() <= 1.0);
    let steps = (MOST_HP / STEP_HP) as usize;
    let failing = (1..=steps).map(|i| STEP_HP * i as f64).find(|hp| !holds(*hp));
    let loads = loads(motor, motor.power_hp);
    Some(MotorCheck {
        checks: loads.checks(&carrier),
        loads,
        holds_up_to: failing.map_or(MOST_HP, |hp| hp - STEP_HP),
        pad_short: c.pad_short,
    })
}
