//! Planing: resistance and trim of a prismatic hull.
//!
//! Source: Savitsky, "Hydrodynamic Design of Planing Hulls", Marine Technology 1 (1964),
//! pp. 71–95: the empirical lift and centre of pressure of prismatic planing surfaces and the
//! equilibrium of forces and moments. Ranges: 0.60 ≤ C_v ≤ 13, 2° ≤ τ ≤ 15°, λ ≤ 4; outside
//! them no number is given. Friction: Schoenherr's line with an allowance of 0.0004. SI
//! units inside: metres, newtons, seconds, kilograms, degrees where the paper has them.

use crate::geom::roots::bracketed;

/// Standard gravity, m/s².
pub const GRAVITY: f64 = 9.806_65;
/// Roughness allowance on the friction coefficient, as the paper's example takes it.
pub const ROUGHNESS: f64 = 0.0004;

/// Trims tried, degrees: the range of the method.
const TRIMS: (f64, f64) = (2.0, 15.0);
/// Speed coefficient under which a boat still floats more than she planes: no planing figure is
/// told of her, and advice on how a planing boat is trimmed is no use. Our judgement; no source.
pub const PLANING_FROM: f64 = 1.0;
/// Newton's steps; six suffice.
const STEPS: usize = 30;
/// Width to which a bracket is narrowed, as a share of it or, for trims, in degrees.
const NARROW: f64 = 1e-10;

/// A prismatic planing hull with its load and thrust.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prism {
    /// Weight, N.
    pub weight: f64,
    /// Beam over the chines, m.
    pub beam: f64,
    /// Deadrise, degrees.
    pub deadrise: f64,
    /// Centre of gravity ahead of the transom, m.
    pub lcg: f64,
    /// Centre of gravity above the keel, m.
    pub vcg: f64,
    /// Thrust line's distance from the centre of gravity, square to it (positive below), m.
    pub thrust_arm: f64,
    /// Thrust's angle to the keel, degrees.
    pub thrust_angle: f64,
    /// Density of the water, kg/m³.
    pub density: f64,
    /// Kinematic viscosity, m²/s.
    pub viscosity: f64,
}

/// What the method finds at one speed and one trim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planing {
    /// Trim of the keel, degrees.
    pub trim: f64,
    /// Mean wetted length over beam.
    pub lambda: f64,
    /// Mean speed of the water over the bottom, m/s.
    pub bottom_speed: f64,
    /// Friction along the bottom, N.
    pub friction: f64,
    /// Resistance, N.
    pub drag: f64,
    /// Distance of the normal force aft of the centre of gravity, along the keel, m.
    pub arm: f64,
    /// Moment about the centre of gravity, bow down positive, N·m: nothing at equilibrium.
    pub moment: f64,
    /// Wetted lengths of keel and chine, m; a chine's may be less than nothing (dry).
    pub wetted: [f64; 2],
}

/// Why there is no number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutOfRange {
    /// Too slow to plane, or faster than the tests that the method rests on.
    Speed(f64),
    /// Slow, and no trim from 2° to 15° balances her.
    NotYet,
    /// She would run flatter than 2°.
    Flat,
    /// She would run steeper than 15°.
    Steep,
    /// Her chines would run dry.
    DryChine,
    /// Wetted longer than four beams.
    Length(f64),
}

/// Friction coefficient of a smooth plate with turbulent flow: 0.242 / √C = log₁₀(Re C).
/// Source: Schoenherr's line of 1932, the tank conference's of 1947.
pub fn plate_friction(reynolds: f64) -> f64 {
    // In s = 1/√C the equation 0.242 s + 2 log₁₀ s = log₁₀ Re grows and curves one way, so
    // Newton's steps close in from anywhere.
    let mut s = 20.0;
    for _ in 0..STEPS {
        let off = 0.242 * s + 2.0 * f64::log10(s) - reynolds.log10();
        let next = (s - off / (0.242 + 2.0 / (std::f64::consts::LN_10 * s))).max(1.0);
        if (next - s).abs() <= 1e-12 * s {
            break;
        }
        s = next;
    }
    1.0 / (s * s)
}

impl Prism {
    /// Speed coefficient V / √(g b).
    pub fn speed_coefficient(&self, speed: f64) -> f64 {
        speed / (GRAVITY * self.beam).sqrt()
    }

    /// The flat plate's lift coefficient that this deadrise needs: C_Lβ = C_L0 − 0.0065 β
    /// C_L0^0.60.
    fn flat_lift(&self, speed: f64) -> f64 {
        let wanted = self.weight / (0.5 * self.density * speed * speed * self.beam * self.beam);
        let f = |c: f64| c - 0.0065 * self.deadrise * c.powf(0.6) - wanted;
        let (low, high) = (wanted, wanted + 10.0);
        let root = bracketed(f, (low, f(low)), (high, f(high)), NARROW * wanted);
        root.map_or(wanted, |r| r.x)
    }

    /// Forces at a speed (m/s) and a trim (degrees), whether they balance or not.
    pub fn at_trim(&self, speed: f64, trim: f64) -> Planing {
        self.with_lift(speed, trim, self.flat_lift(speed))
    }

    /// As [`Prism::at_trim`], with the flat plate's lift coefficient known.
    fn with_lift(&self, speed: f64, trim: f64, lift: f64) -> Planing {
        let cv = self.speed_coefficient(speed);
        // C_L0 = τ^1.1 (0.0120 √λ + 0.0055 λ^2.5 / C_v²), which grows with λ.
        let tau = trim.powf(1.1);
        let of = |l: f64| tau * (0.0120 * l.sqrt() + 0.0055 * l.powf(2.5) / (cv * cv)) - lift;
        // Each of its two terms alone would need more, so the lesser bounds λ from above.
        let most = (lift / (0.0120 * tau)).powi(2).min((lift * cv * cv / (0.0055 * tau)).powf(0.4));
        let (low, high) = (1e-9, most.max(1e-6));
        let lambda =
            bracketed(of, (low, of(low)), (high, of(high)), NARROW * high).map_or(high, |r| r.x);
        let (t, beta) = (trim.to_radians(), self.deadrise.to_radians());
        // The dynamic part of the lift lowers the pressure, and with it the speed, under her.
        let dynamic = 0.0120 * lambda.sqrt() * tau;
        let dynamic = dynamic - 0.0065 * self.deadrise * dynamic.powf(0.6);
        let bottom_speed = speed * (1.0 - dynamic / (lambda * t.cos())).max(0.0).sqrt();
        let reynolds = bottom_speed * lambda * self.beam / self.viscosity;
        let friction = 0.5
            * self.density
            * bottom_speed
            * bottom_speed
            * lambda
            * self.beam
            * self.beam
            * (plate_friction(reynolds) + ROUGHNESS)
            / beta.cos();
        let drag = self.weight * t.tan() + friction / t.cos();
        let pressure = 0.75 - 1.0 / (5.21 * cv * cv / (lambda * lambda) + 2.39);
        let arm = self.lcg - pressure * lambda * self.beam;
        let friction_arm = self.vcg - 0.25 * self.beam * beta.tan();
        let e = (trim + self.thrust_angle).to_radians();
        let moment = self.weight
            * ((1.0 - t.sin() * e.sin()) * arm / t.cos() - self.thrust_arm * t.sin())
            + friction * (friction_arm - self.thrust_arm);
        let spray = self.beam * beta.tan() / (std::f64::consts::TAU * t.tan());
        let wetted = [lambda * self.beam + spray, lambda * self.beam - spray];
        Planing { trim, lambda, bottom_speed, friction, drag, arm, moment, wetted }
    }

    /// Where she runs at a speed (m/s): the trim at which the moments balance.
    ///
    /// # Errors
    /// What is outside the method's range.
    pub fn at_speed(&self, speed: f64) -> Result<Planing, OutOfRange> {
        let cv = self.speed_coefficient(speed);
        if !(0.60..=13.0).contains(&cv) {
            return Err(OutOfRange::Speed(cv));
        }
        let lift = self.flat_lift(speed);
        let moment = |trim: f64| self.with_lift(speed, trim, lift).moment;
        let (low, high) = TRIMS;
        let (at_low, at_high) = (moment(low), moment(high));
        let root = bracketed(moment, (low, at_low), (high, at_high), 1e-7);
        let outside = match at_low > 0.0 {
            _ if cv < PLANING_FROM => OutOfRange::NotYet,
            true => OutOfRange::Flat,
            false => OutOfRange::Steep,
        };
        let found = self.with_lift(speed, root.ok_or(outside)?.x, lift);
        if found.lambda > 4.0 {
            Err(OutOfRange::Length(found.lambda))
        } else if found.wetted[1] < 0.0 {
            Err(OutOfRange::DryChine)
        } else {
            Ok(found)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LB: f64 = 4.448_221_615_260_5;
    const FT: f64 = 0.3048;

    /// The paper's worked example in its own units: 60 000 lb, beam 14 ft, deadrise 10°, LCG
    /// 29 ft, VCG 2 ft, thrust 4° and 0.5 ft, 40 knots as 67.5 ft/s; water of 1.94 slug/ft³
    /// and 1.28e-5 ft²/s. Printed: friction 7 340 lb at 2° (second-hand); the other figures
    /// are those of `tests/reference/power.py`.
    fn example() -> (Prism, f64) {
        let slug = 14.593_902_94;
        let prism = Prism {
            weight: 60_000.0 * LB,
            beam: 14.0 * FT,
            deadrise: 10.0,
            lcg: 29.0 * FT,
            vcg: 2.0 * FT,
            thrust_arm: 0.5 * FT,
            thrust_angle: 4.0,
            density: 1.94 * slug / FT.powi(3),
            viscosity: 1.28e-5 * FT * FT,
        };
        (prism, 67.5 * FT)
    }

    #[test]
    fn the_paper_s_example() {
        let (prism, speed) = example();
        assert!((prism.speed_coefficient(speed) - 3.18044).abs() < 1e-3);
        // Trim: λ, V1 (ft/s), friction and drag (lb), C.P.'s arm (ft), wetted keel and chine.
        for (trim, lambda, v1, friction, drag, arm, keel, chine) in [
            (2.0, 3.83591, 67.15084, 7344.28, 9444.01, -2.28400, 64.954, 42.452),
            (3.0, 2.57880, 66.81542, 5109.05, 8260.53, 5.42280, 43.600, 28.606),
            (4.0, 1.77560, 66.34882, 3621.74, 7826.19, 11.65732, 30.477, 19.240),
        ] {
            let p = prism.at_trim(speed, trim);
            assert!((p.lambda / lambda - 1.0).abs() < 1e-3, "{trim}: λ {}", p.lambda);
            assert!((p.bottom_speed / FT / v1 - 1.0).abs() < 1e-3);
            assert!((p.friction / LB / friction - 1.0).abs() < 2e-3, "{}", p.friction / LB);
            assert!((p.drag / LB / drag - 1.0).abs() < 2e-3, "{}", p.drag / LB);
            assert!((p.arm / FT - arm).abs() < 0.02, "{trim}: {}", p.arm / FT);
            assert!(
                (p.wetted[0] / FT - keel).abs() < 0.1 && (p.wetted[1] / FT - chine).abs() < 0.1
            );
        }
        // As printed, to the precision of the paper.
        let printed = prism.at_trim(speed, 2.0).friction / LB;
        assert!((printed / 7340.0 - 1.0).abs() < 2e-3, "{printed}");
        // She balances a little above 2°, where the moment turns.
        let run = prism.at_speed(speed).expect("in range");
        assert!((run.trim - 2.263_76).abs() < 1e-3 && run.moment.abs() < 1.0, "{run:?}");
        assert!((run.drag / 40_149.15 - 1.0).abs() < 2e-3, "{run:?}");
    }

    #[test]
    fn outside_its_range_there_is_no_number() {
        let (prism, _) = example();
        assert!(matches!(prism.at_speed(2.0), Err(OutOfRange::Speed(_))));
        let nose = Prism { lcg: 60.0 * FT, ..prism };
        assert!(nose.at_speed(67.5 * FT).is_err());
    }

    /// At Re = 1e9: 0.001 531 (ITTC's tables of the 1947 line, from memory); and
    /// the equation itself holds.
    #[test]
    fn friction_solves_its_own_equation() {
        for re in [1e6, 1e7, 1e8, 1e9] {
            let c = plate_friction(re);
            assert!((0.242 / c.sqrt() - (re * c).log10()).abs() < 1e-9);
        }
        assert!((plate_friction(1e9) - 0.001_531).abs() < 3e-6);
    }
}
