//! Speed against power: a simple rule while she floats, Savitsky's prism when she planes,
//! and nothing in between where no published method fits a small skiff.
//!
//! Sources: the displacement rule of Gerr, *Propeller Handbook* (1989): speed in knots over
//! the root of the waterline in feet is 10.665 over the cube root of pounds a horsepower
//! (from memory); the wave as long as the waterline, V = √(g L / 2π); Crouch's rule with
//! his constant of 150 (knots, shaft horsepower, pounds) for an average runabout (shared
//! check values, file 05, section 2, from memory there); planing by [`super::savitsky`].

use super::capacity::KG_PER_POUND;
use super::savitsky::{GRAVITY, Prism};

/// Metres a second in a knot.
pub const KNOT: f64 = 1852.0 / 3600.0;
/// Watts in a horsepower of 550 ft·lbf/s.
pub const HORSEPOWER: f64 = 745.699_871_582;
/// Feet in a metre.
const FEET: f64 = 1.0 / 0.3048;

/// Power at the hull over power at the shaft, of a small outboard's propeller. Common
/// practice, no source: 0.45 to 0.55.
pub const EFFICIENCY: f64 = 0.5;
/// Crouch's constant for an average runabout, knots.
pub const CROUCH: f64 = 150.0;
/// A prism's keel is wetted no further than the boat is long; this much more is its wave.
/// Our judgement; no source.
const WETTED_OVER: f64 = 1.05;
/// Speeds in the table, knots: step and most.
const STEP_KN: f64 = 1.0;
const MOST_KN: f64 = 40.0;
/// Rows that the table has at least, told or not.
const SHORTEST: usize = 6;
/// The table runs on past the motor's power by this share, so that the motor's own place
/// in it is seen.
const PAST_MOTOR: f64 = 1.3;

/// Beyond these the bottom is no prism and the planing method says nothing. Our judgement,
/// no source: the method's tests were of prisms.
const LEAST_BEAM_SHARE: f64 = 0.8;
const MOST_DEADRISE_TURN: f64 = 10.0;
const MOST_KEEL_TURN: f64 = 4.0;

/// The after half of the bottom, as far as it is a prism.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AfterBody {
    /// Breadth over the chines at the transom over that amidships.
    pub beam_share: f64,
    /// Change of deadrise from amidships to the transom, degrees.
    pub deadrise_turn: f64,
    /// Change of the keel's slope from amidships to the transom, degrees.
    pub keel_turn: f64,
}

impl AfterBody {
    /// Why it is no prism; `None` if it is near enough to one.
    pub fn no_prism(&self) -> Option<String> {
        if self.beam_share < LEAST_BEAM_SHARE {
            return Some(format!(
                "her bottom narrows aft to {:.0} % of its breadth amidships; the planing method is for prisms",
                100.0 * self.beam_share
            ));
        }
        if self.deadrise_turn.abs() > MOST_DEADRISE_TURN {
            return Some(format!(
                "her deadrise changes by {:.0}° aft of amidships; the planing method is for prisms",
                self.deadrise_turn.abs()
            ));
        }
        (self.keel_turn.abs() > MOST_KEEL_TURN).then(|| {
            format!(
                "her bottom is rockered by {:.0}° aft of amidships, which will not plane level; the planing method is for straight runs",
                self.keel_turn.abs()
            )
        })
    }
}

/// A boat and what drives her.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Driven {
    /// The prism that her after body is.
    pub prism: Prism,
    /// How near it is to one.
    pub after: AfterBody,
    /// Waterline at rest, m.
    pub waterline: f64,
    /// Motor's power at the shaft, kW.
    pub motor: f64,
}

/// How a row was worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Gerr's rule.
    Displacement,
    /// Savitsky 1964.
    Planing,
    /// None fits.
    None,
}

impl Method {
    /// In files and tables.
    pub fn word(self) -> &'static str {
        match self {
            Method::Displacement => "displacement rule",
            Method::Planing => "Savitsky 1964",
            Method::None => "none",
        }
    }
}

/// One speed.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Knots.
    pub speed: f64,
    /// How it was worked.
    pub method: Method,
    /// Resistance, N.
    pub resistance: Option<f64>,
    /// Power at the shaft, kW.
    pub power: Option<f64>,
    /// Running trim of the keel, degrees.
    pub trim: Option<f64>,
    /// Trim (degrees) above which she may porpoise; `None` where the chart does not reach.
    pub porpoising: Option<f64>,
    /// She is so fast for her weight that the chart has ended: its limit is lower still.
    pub past_chart: bool,
    /// Why there is no number.
    pub why: Option<String>,
}

/// All that is said of speed and power.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedPower {
    /// The table.
    pub rows: Vec<Row>,
    /// Knots of a wave as long as her waterline.
    pub hull_speed: f64,
    /// Knots with the motor's whole power, once she is over the hump; `None` where no method
    /// tells.
    pub with_motor: Option<f64>,
    /// The hump: speed (kn) and resistance (N) of the hill that she climbs to plane; `None`
    /// where the method's range holds none.
    pub hump: Option<(f64, f64)>,
    /// Speeds (kn) between the last that the displacement rule tells and the first that the
    /// planing method does: the hump lies there, where no method fits.
    pub gap: Option<(f64, f64)>,
    /// Crouch's rule with the motor's whole power, knots; `None` for a boat that does not
    /// plane.
    pub crouch: Option<f64>,
    /// Why she is no prism, if so.
    pub no_prism: Option<String>,
    /// No motor hangs on her.
    pub rowed: bool,
}

impl SpeedPower {
    /// What she reaches, in words.
    pub fn reached(&self) -> String {
        match self.with_motor {
            _ if self.rowed => format!("rowed: under {:.1} kn", self.hull_speed),
            // What the motor would keep up it may never reach: no method tells the hump.
            Some(kn) if kn > self.hull_speed && self.gap.is_some() => {
                format!("{kn:.1} kn, if past the hump")
            }
            Some(kn) => format!("{kn:.1} kn"),
            None => "no method tells".into(),
        }
    }
}

/// Speed (kn) of a wave as long as a waterline of `length` m.
pub fn hull_speed(length: f64) -> f64 {
    (GRAVITY * length / std::f64::consts::TAU).sqrt() / KNOT
}

/// Shaft power (kW) by the displacement rule at `speed` kn, for `mass` kg on a waterline of
/// `length` m.
pub fn displacement_power(speed: f64, mass: f64, length: f64) -> f64 {
    let ratio = speed / (length * FEET).sqrt();
    mass / KG_PER_POUND * (ratio / 10.665).powi(3) * HORSEPOWER / 1000.0
}

/// Speed (kn) by Crouch's rule for `power` kW and `mass` kg.
pub fn crouch(power: f64, mass: f64) -> f64 {
    CROUCH * (power * 1000.0 / HORSEPOWER / (mass / KG_PER_POUND)).sqrt()
}

/// √(C_L / 2) of the porpoising chart's columns.
const CHART_ROOTS: [f64; 4] = [0.15, 0.20, 0.25, 0.30];

/// Trim (degrees) above which a prism of this deadrise (degrees) may porpoise, over
/// √(C_L / 2); `None` outside 0.15 to 0.30 and 0 to 20°.
///
/// Read off the chart of Savitsky 1964, figure 17 (after Day and Haag 1952), from memory
/// and to a degree: a warning, no boundary.
pub fn porpoising_trim(root: f64, deadrise: f64) -> Option<f64> {
    const ROOTS: [f64; 4] = CHART_ROOTS;
    const TRIMS: [(f64, [f64; 4]); 3] =
        [(0.0, [1.5, 4.0, 6.5, 9.5]), (10.0, [3.0, 5.0, 7.5, 10.0]), (20.0, [4.0, 6.0, 8.0, 10.5])];
    if !(ROOTS[0]..=ROOTS[3]).contains(&root) || !(0.0..=20.0).contains(&deadrise) {
        return None;
    }
    let i = (((root - ROOTS[0]) / 0.05) as usize).min(2);
    let s = (root - ROOTS[i]) / 0.05;
    let j = usize::from(deadrise > 10.0);
    let t = (deadrise - TRIMS[j].0) / 10.0;
    let along = |row: &[f64; 4]| row[i] + s * (row[i + 1] - row[i]);
    let (a, b) = (along(&TRIMS[j].1), along(&TRIMS[j + 1].1));
    Some(a + t * (b - a))
}

impl Driven {
    fn mass(&self) -> f64 {
        self.prism.weight / GRAVITY
    }

    /// Why the planing method says nothing of her; `None` if it may.
    fn no_prism(&self) -> Option<String> {
        if self.motor <= 0.0 {
            return Some("she is rowed, and planing is not for oars".into());
        }
        if self.prism.lcg <= 0.0 {
            return Some("her weight hangs abaft her bottom".into());
        }
        self.after.no_prism()
    }

    /// One speed, kn.
    pub fn at(&self, speed: f64) -> Row {
        let v = speed * KNOT;
        let none = |why: String| Row {
            speed,
            method: Method::None,
            resistance: None,
            power: None,
            trim: None,
            porpoising: None,
            past_chart: false,
            why: Some(why),
        };
        if speed <= hull_speed(self.waterline) {
            let power = displacement_power(speed, self.mass(), self.waterline);
            return Row {
                speed,
                method: Method::Displacement,
                resistance: Some(1000.0 * power * EFFICIENCY / v),
                power: Some(power),
                trim: None,
                porpoising: None,
                past_chart: false,
                why: None,
            };
        }
        if let Some(why) = self.no_prism() {
            return none(why);
        }
        match self.prism.at_speed(v) {
            Ok(run) if run.wetted[0] > WETTED_OVER * self.waterline => none(format!(
                "planing she would wet {:.1} m of keel, and she is {:.1} m long on the water: the method does not fit her there",
                run.wetted[0], self.waterline
            )),
            Ok(run) => {
                let b = self.prism.beam;
                let lift = self.prism.weight / (0.5 * self.prism.density * v * v * b * b);
                let root = (0.5 * lift).sqrt();
                Row {
                    speed,
                    method: Method::Planing,
                    resistance: Some(run.drag),
                    power: Some(run.drag * v / EFFICIENCY / 1000.0),
                    trim: Some(run.trim),
                    porpoising: porpoising_trim(root, self.prism.deadrise),
                    past_chart: root < CHART_ROOTS[0],
                    why: None,
                }
            }
            Err(why) => none(why.to_string()),
        }
    }

    /// The table and what is read off it.
    pub fn table(&self) -> SpeedPower {
        let mut rows: Vec<Row> = Vec::new();
        let prism = self.no_prism().is_none();
        for i in 2..=(MOST_KN / STEP_KN) as usize {
            let row = self.at(STEP_KN * i as f64);
            let enough = row.power.is_some_and(|p| p > PAST_MOTOR * self.motor);
            let past_her_wave = !prism && row.speed > 2.0 * hull_speed(self.waterline);
            rows.push(row);
            if past_her_wave || enough && i > 4 {
                break;
            }
        }
        while rows.len() > SHORTEST && rows.last().is_some_and(|r| r.power.is_none()) {
            rows.pop();
        }
        SpeedPower {
            with_motor: self.with_motor(&rows),
            hump: hump(&rows),
            gap: gap(&rows),
            hull_speed: hull_speed(self.waterline),
            crouch: (prism && self.motor > 0.0).then(|| crouch(self.motor, self.mass())),
            no_prism: self.no_prism(),
            rowed: self.motor <= 0.0,
            rows,
        }
    }

    /// The slowest speed at which the motor's power is just used up, between two rows of
    /// one method: what lies beyond it asks more power than there is before it asks less.
    fn with_motor(&self, rows: &[Row]) -> Option<f64> {
        let pair = rows.windows(2).find(|w| {
            w[0].method == w[1].method
                && w[0].power.is_some_and(|p| p <= self.motor)
                && w[1].power.is_some_and(|p| p > self.motor)
        })?;
        // Slower and asking more, she would have to be over the hump already.
        let steep = rows
            .iter()
            .filter(|r| r.method == Method::Planing && r.speed < pair[0].speed)
            .any(|r| r.power.is_some_and(|p| p > self.motor));
        if steep {
            return None;
        }
        let (a, b) = (pair[0].power?, pair[1].power?);
        Some(pair[0].speed + (self.motor - a) / (b - a) * (pair[1].speed - pair[0].speed))
    }
}

/// From the last displacement row to the first planing one.
fn gap(rows: &[Row]) -> Option<(f64, f64)> {
    let first = rows.iter().find(|r| r.method == Method::Planing)?;
    let last = rows.iter().rev().find(|r| r.method == Method::Displacement)?;
    (first.speed - last.speed > 1.5 * STEP_KN).then_some((last.speed, first.speed))
}

/// The greatest resistance among planing rows that both neighbours, planing as well, stay
/// under.
fn hump(rows: &[Row]) -> Option<(f64, f64)> {
    rows.windows(3)
        .filter(|w| w.iter().all(|r| r.method == Method::Planing))
        .filter_map(|w| Some((w[1].speed, [w[0].resistance?, w[1].resistance?, w[2].resistance?])))
        .filter(|(_, r)| r[1] > r[0] && r[1] > r[2])
        .map(|(speed, r)| (speed, r[1]))
        .max_by(|a, b| a.1.total_cmp(&b.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, off: f64) {
        assert!((a - b).abs() <= off, "{a} {b}");
    }

    /// Shared check values, file 05, sections 2 and 3.
    #[test]
    fn published_rules() {
        for (feet, kn) in
            [(8.0, 3.792_140), (12.0, 4.644_405), (16.0, 5.362_896), (20.0, 5.995_900)]
        {
            near(hull_speed(feet * 0.3048), kn, 2e-4);
        }
        for (hp, lb, kn) in [(15.0, 700.0, 21.957_75), (40.0, 1400.0, 32.115_86 * 150.0 / 190.0)] {
            near(crouch(hp * HORSEPOWER / 1000.0, lb * KG_PER_POUND), kn, 1e-4);
        }
        // The rule by hand: 1000 lb at a ratio of 1.34 on 16 ft; 10.665 / 1.34 = 7.958955,
        // cubed 504.1598 lb a horsepower.
        let kw = displacement_power(1.34 * 4.0, 1000.0 * KG_PER_POUND, 16.0 * 0.3048);
        near(kw * 1000.0 / HORSEPOWER, 1.983_498, 1e-5);
    }

    #[test]
    fn the_porpoising_chart_rises_with_load_and_deadrise() {
        assert_eq!(porpoising_trim(0.2, 0.0), Some(4.0));
        assert_eq!(porpoising_trim(0.3, 20.0), Some(10.5));
        near(porpoising_trim(0.225, 5.0).expect("inside"), 5.75, 1e-9);
        assert_eq!(porpoising_trim(0.14, 0.0), None);
        assert_eq!(porpoising_trim(0.2, 25.0), None);
    }

    /// A flat skiff of 250 kg, 1.2 m over the chines.
    fn skiff() -> Driven {
        Driven {
            prism: Prism {
                weight: 250.0 * GRAVITY,
                beam: 1.2,
                deadrise: 0.0,
                lcg: 1.4,
                vcg: 0.4,
                thrust_arm: 0.5,
                thrust_angle: 0.0,
                density: 1000.0,
                viscosity: 1.14e-6,
            },
            after: AfterBody { beam_share: 0.95, deadrise_turn: 0.0, keel_turn: 1.0 },
            waterline: 3.6,
            motor: 7.0,
        }
    }

    #[test]
    fn methods_keep_to_their_ranges() {
        let boat = skiff();
        let t = boat.table();
        for r in &t.rows {
            assert_eq!(r.power.is_none(), r.why.is_some(), "{r:?}");
            assert_eq!(r.method == Method::Displacement, r.speed <= t.hull_speed, "{r:?}");
        }
        assert!(t.rows.iter().any(|r| r.method == Method::Planing));
        let fast = t.with_motor.expect("the motor's power is met");
        near(boat.at(fast).power.expect("planing"), 7.0, 0.1);
        // By hand: 14 kn are 7.2022 m/s; half the power is lost between shaft and water.
        let row = boat.at(14.0);
        let kw = row.resistance.expect("planing") * 7.202_222 / 500.0;
        near(row.power.expect("planing"), kw, 1e-4);
        // Light for her beam and fast she is past the chart: √(C_L / 2) = 0.149 at 17 kn.
        let fast = boat.at(17.0);
        assert!(fast.past_chart && fast.porpoising.is_none(), "{fast:?}");
        assert!(!boat.at(15.0).past_chart && boat.at(15.0).porpoising.is_some());
        let rowed = Driven { motor: 0.0, ..boat }.table();
        assert!(rowed.rowed && rowed.with_motor.is_none() && rowed.reached().contains("rowed"));
        let rockered = Driven { after: AfterBody { keel_turn: 6.0, ..boat.after }, ..boat };
        let t = rockered.table();
        assert!(t.no_prism.is_some() && t.rows.iter().all(|r| r.method != Method::Planing));
    }
}
