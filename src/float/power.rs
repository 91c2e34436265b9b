//! Speed against power: a simple rule while she floats, tank tests between floating and
//! planing, a prism when she planes, and nothing where no published method fits.
//!
//! The simple rule is in [`super::rules`], the tests in [`super::hump`], the prism in
//! [`super::planing`]. Where both of the last hold, from a volume Froude number of 1.6 to 2.0,
//! resistance goes smoothly from one to the other; to either is added what air and the motor's
//! leg take ([`super::parasitic`]).

use super::hump::{BAND, FROUDE, Form};
use super::parasitic::Beside;
use super::planing::{GRAVITY, PLANING_FROM, Planing, Prism};
pub use super::rules::*;
pub use super::speed_table::{Method, NoFigure, Row, SpeedPower};
use super::speed_table::{gap, hill, with_motor};

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
    pub fn no_prism(&self) -> Option<NoFigure> {
        let turn = self.deadrise_turn.abs();
        let rocker = self.keel_turn.abs();
        if self.beam_share < LEAST_BEAM_SHARE {
            Some(NoFigure::Narrows(self.beam_share))
        } else if turn > MOST_DEADRISE_TURN {
            Some(NoFigure::DeadriseTurns(turn))
        } else {
            (rocker > MOST_KEEL_TURN).then_some(NoFigure::Rockered(rocker))
        }
    }
}

/// Volume Froude number from which the prism may take over from the tests, and the least run
/// of it over which it does: any less would be a step. Our judgement; no source.
const TAKES_OVER: f64 = 1.6;
const LEAST_RUN: f64 = 0.1;
/// Steps in which the place is sought from which the prism holds, and in which it is narrowed.
const SEEK: usize = 16;
const NARROW: usize = 30;

/// A boat and what drives her.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Driven {
    /// The prism that her after body is.
    pub prism: Prism,
    /// How near it is to one.
    pub after: AfterBody,
    /// Her form at rest.
    pub form: Form,
    /// What meets air and water beside the hull.
    pub beside: Beside,
    /// Waterline at rest, m.
    pub waterline: f64,
    /// Motor's power at the shaft, kW.
    pub motor: f64,
}

impl Driven {
    fn mass(&self) -> f64 {
        self.prism.weight / GRAVITY
    }

    /// Why the planing method says nothing of her; `None` if it may.
    fn no_prism(&self) -> Option<NoFigure> {
        if self.motor <= 0.0 {
            return Some(NoFigure::Rowed);
        }
        if self.prism.lcg <= 0.0 {
            return Some(NoFigure::WeightAft);
        }
        self.after.no_prism()
    }

    /// Resistance of the bare hull between floating and planing at a speed (m/s), or why none.
    fn between(&self, v: f64) -> Result<f64, NoFigure> {
        self.form.resistance(v, self.prism.weight, self.prism.viscosity).map_err(NoFigure::Untested)
    }

    /// The prism at a speed (m/s), where it is a planing one and no longer than she is.
    fn planing(&self, v: f64) -> Result<Planing, NoFigure> {
        if let Some(why) = self.no_prism() {
            return Err(why);
        }
        let cv = self.prism.speed_coefficient(v);
        if cv < PLANING_FROM {
            return Err(NoFigure::StillFloats(cv));
        }
        let run = self.prism.at_speed(v).map_err(NoFigure::NotPlaning)?;
        match run.wetted[0] > WETTED_OVER * self.waterline {
            true => Err(NoFigure::WetsTooMuch(run.wetted[0] / self.waterline)),
            false => Ok(run),
        }
    }

    /// The speed (m/s) from which the prism takes over from the tests, done at the end of
    /// these; `None` where it holds for too little of them to do so without a step.
    pub fn takes_over(&self) -> Option<f64> {
        let unit = self.form.unit_speed();
        let holds = |froude: f64| self.planing(froude * unit).is_ok();
        if self.form.outside().is_some() || !holds(FROUDE[1]) {
            return None;
        }
        let step = (FROUDE[1] - TAKES_OVER) / SEEK as f64;
        let fails = (1..=SEEK).map(|i| FROUDE[1] - step * i as f64).find(|f| !holds(*f));
        let from = match fails {
            None => TAKES_OVER,
            Some(fails) => {
                let (mut low, mut high) = (fails, fails + step);
                for _ in 0..NARROW {
                    let middle = 0.5 * (low + high);
                    if holds(middle) { high = middle } else { low = middle }
                }
                high
            }
        };
        (FROUDE[1] - from >= LEAST_RUN).then_some(from * unit)
    }

    /// One speed, kn.
    pub fn at(&self, speed: f64) -> Row {
        self.at_with(speed, self.takes_over())
    }

    /// As [`Driven::at`], with the speed known from which the prism takes over.
    fn at_with(&self, speed: f64, takes_over: Option<f64>) -> Row {
        let v = speed * KNOT;
        if speed <= hull_speed(self.waterline) {
            let power = displacement_power(speed, self.mass(), self.waterline);
            let resistance = Some(1000.0 * power * EFFICIENCY / v);
            return Row {
                resistance,
                power: Some(power),
                ..Row::told(speed, Method::Displacement)
            };
        }
        if self.motor <= 0.0 {
            return Row::none(speed, NoFigure::Rowed);
        }
        let slow = self.between(v);
        let blends = takes_over.filter(|from| v > *from);
        let fast = if slow.is_ok() && blends.is_none() { None } else { Some(self.planing(v)) };
        let mut row = match (slow, fast) {
            (Ok(n), Some(Ok(run))) => {
                let (from, upto) = (blends.unwrap_or(v), FROUDE[1] * self.form.unit_speed());
                let t = ((v - from) / (upto - from)).clamp(0.0, 1.0);
                let share = t * t * (3.0 - 2.0 * t);
                let row = self.planes(speed, v, &run, Method::Blend);
                Row { resistance: Some(n + share * (run.drag - n)), band: Some(BAND), ..row }
            }
            (Ok(n), _) => {
                Row { resistance: Some(n), band: Some(BAND), ..Row::told(speed, Method::Between) }
            }
            (_, Some(Ok(run))) => self.planes(speed, v, &run, Method::Planing),
            (Err(between), Some(Err(planing))) => {
                // What stops her in the range of one is told, not what stops her in the other's.
                let within = v < FROUDE[1] * self.form.unit_speed();
                Row::none(speed, if within { between } else { planing })
            }
            (Err(between), None) => Row::none(speed, between),
        };
        if let Some(hull) = row.resistance {
            let beside = self.beside.drag(v, self.prism.density, self.prism.viscosity);
            let all = hull + beside[0] + beside[1];
            row.resistance = Some(all);
            row.beside = Some(beside);
            row.power = Some(all * v / EFFICIENCY / 1000.0);
        }
        row
    }

    /// A row of the prism, its resistance that of the bare hull.
    fn planes(&self, speed: f64, v: f64, run: &Planing, method: Method) -> Row {
        let b = self.prism.beam;
        let lift = self.prism.weight / (0.5 * self.prism.density * v * v * b * b);
        let root = (0.5 * lift).sqrt();
        Row {
            resistance: Some(run.drag),
            trim: Some(run.trim),
            porpoising: porpoising_trim(root, self.prism.deadrise),
            past_chart: root < CHART_ROOTS[0],
            ..Row::told(speed, method)
        }
    }

    /// The table and what is read off it.
    pub fn table(&self) -> SpeedPower {
        let mut rows: Vec<Row> = Vec::new();
        let prism = self.no_prism().is_none();
        let form = self.form.outside();
        let takes_over = self.takes_over();
        let tested = match form {
            None if self.motor > 0.0 => FROUDE[1] * self.form.unit_speed() / KNOT,
            _ => 0.0,
        };
        for i in 2..=(MOST_KN / STEP_KN) as usize {
            let row = self.at_with(STEP_KN * i as f64, takes_over);
            let enough = row.power.is_some_and(|p| p > PAST_MOTOR * self.motor);
            let past = (2.0 * hull_speed(self.waterline)).max(tested);
            let past_her_wave = !prism && row.speed > past;
            rows.push(row);
            if past_her_wave || enough && i > 4 {
                break;
            }
        }
        while rows.len() > SHORTEST && rows.last().is_some_and(|r| r.power.is_none()) {
            rows.pop();
        }
        SpeedPower {
            with_motor: with_motor(&rows, self.motor),
            hump: hill(&rows),
            gap: gap(&rows),
            hull_speed: hull_speed(self.waterline),
            runabout: (prism && self.motor > 0.0).then(|| runabout_speed(self.motor, self.mass())),
            no_hump: match form {
                _ if self.motor <= 0.0 => Some(NoFigure::Rowed),
                form => form.map(NoFigure::Untested),
            },
            no_prism: self.no_prism(),
            rowed: self.motor <= 0.0,
            rows,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, off: f64) {
        assert!((a - b).abs() <= off, "{a} {b}");
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
            form: Form {
                length: 3.6,
                beam: 1.3,
                draft: 0.1,
                volume: 0.25,
                entrance: 24.0,
                transom: 0.7,
                wetted: 4.2,
            },
            beside: Beside { air: 1.0, motor: 7.0 },
            waterline: 3.6,
            motor: 7.0,
        }
    }

    /// The same with more draft, so that the tests of 1973 hold.
    fn deeper() -> Driven {
        let boat = skiff();
        Driven { form: Form { draft: 0.15, ..boat.form }, ..boat }
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
        // Air and leg are in it: at 14 kn 0.5 · 1.225 · 7.2022² · 0.8 = 25.417 N of air.
        let [air, leg] = row.beside.expect("planing");
        near(air, 25.417, 1e-3);
        let bare = boat.prism.at_speed(7.202_222).expect("in range").drag;
        near(row.resistance.expect("planing"), bare + air + leg, 0.01);
        // Light for her beam and fast she is past the chart: √(C_L / 2) = 0.149 at 17 kn.
        let fast = boat.at(17.0);
        assert!(fast.past_chart && fast.porpoising.is_none(), "{fast:?}");
        assert!(!boat.at(15.0).past_chart && boat.at(15.0).porpoising.is_some());
        let rowed = Driven { motor: 0.0, ..boat }.table();
        assert!(rowed.rowed && rowed.with_motor.is_none());
        let rockered = Driven { after: AfterBody { keel_turn: 6.0, ..boat.after }, ..boat };
        let t = rockered.table();
        assert!(t.no_prism.is_some() && t.rows.iter().all(|r| r.method != Method::Planing));
    }

    /// From the tests' first speed until well past their last there is no step: resistance
    /// over two thousandths of a knot never changes by more than three thousandths, and where
    /// the prism takes over it begins and ends on either method.
    #[test]
    fn one_method_goes_over_into_the_other() {
        let boat = deeper();
        let (unit, from) = (boat.form.unit_speed(), boat.takes_over().expect("both hold"));
        assert!(from >= TAKES_OVER * unit && from < 1.9 * unit, "{}", from / unit);
        let rows: Vec<Row> = (0..)
            .map(|i| boat.at_with((unit + 1e-6) / KNOT + 0.002 * f64::from(i), Some(from)))
            .take_while(|r| r.speed * KNOT < 2.4 * unit)
            .collect();
        let methods = |m: Method| rows.iter().filter(|r| r.method == m).count();
        for m in [Method::Between, Method::Blend, Method::Planing] {
            assert!(methods(m) > 200, "{m:?}");
        }
        for w in rows.windows(2) {
            let [a, b] = [&w[0], &w[1]].map(|r| r.resistance.expect("told"));
            assert!((b / a - 1.0).abs() < 0.003, "{} kn: {a} {b}", w[1].speed);
            assert_eq!(w[0].band.is_some(), w[0].method != Method::Planing);
        }
        assert!(rows.iter().all(|r| r.why.is_none()));
        // With the tests' range closed to her the same speeds are silent until she planes, and
        // never planing under a speed coefficient of 1.
        let shut = skiff();
        assert!(shut.takes_over().is_none() && shut.table().no_hump.is_some());
        for r in shut.table().rows {
            let cv = shut.prism.speed_coefficient(r.speed * KNOT);
            assert!(r.method != Method::Planing || cv >= 1.0, "{r:?}");
            assert!(!matches!(r.method, Method::Between | Method::Blend), "{r:?}");
        }
    }
}
