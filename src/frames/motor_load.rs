//! What an outboard does to a transom, and whether board, pad and knee stand it.
//!
//! Its thrust is that of a propeller held at full power without way on: by momentum theory
//! (Rankine and Froude's actuator disc, any text on propellers) T = (2 ρ A)^⅓ (η P)^⅔, A being
//! the disc's area and η the share of the shaft's power that such a propeller turns into
//! thrust. With its weight aft of the transom it turns about the seat; the bracket passes that
//! on as a pair of forces, the clamps' pull aft at the seat and its foot's push forward one
//! bracket lower, which is the larger by the thrust itself.
//!
//! Sections are checked as straight beams, σ = 6 M / b d² (the flexure formula: Wood
//! Handbook, chapter on structural analysis; from memory). An estimate of strength and no rule
//! of scantlings: a maker's plate and licensed practice decide.

use std::f64::consts::PI;

use super::transom_knee::Knee;

/// Watts in a horsepower.
const WATTS: f64 = 745.7;
/// Density of fresh water, kg/m³.
const WATER: f64 = 1000.0;
/// Share of the ideal thrust's power that a small propeller held still makes use of. From
/// memory: such propellers reach 0.5 to 0.6.
const SHARE: f64 = 0.55;
/// Propeller of a 6 hp outboard, mm, and the power of the horsepower that it grows by: 220 mm
/// (8 3/4 in) at 6 hp, 330 mm (13 in) at 45. Common practice, no source.
const DISC_MM: f64 = 220.0;
const DISC_HP: f64 = 6.0;
const DISC_GROWS: f64 = 0.2;
/// A motor's centre hangs this far aft of the transom's outer face, mm. Common practice, no
/// source.
const ABAFT_MM: f64 = 250.0;
/// From the seat to the foot of a motor's bracket, and half of what its clamps stand apart,
/// mm. Common practice, no source.
pub const BRACKET_MM: f64 = 200.0;
const HALF_CLAMPS_MM: f64 = 90.0;
/// Height of the strip of board and pad that bends under the bracket's foot: half of the
/// bracket's height. Our judgement.
const STRIP_MM: f64 = 0.5 * BRACKET_MM;
/// Breaking stress over what is allowed: knocks, waves and years. Common practice, no source.
pub const SAFETY: f64 = 4.0;
/// Mean bending strength of plywood along its face grain, N/mm²: fir and okoume plywood break
/// at about 40 (from memory).
const PLY_BREAKS: f64 = 40.0;
/// What one 8 mm (5/16 in) bolt holds in pull under a washer 40 mm (1 1/2 in) wide, N: 1200
/// mm² of wood pressed across its grain at 2.5 N/mm². Our judgement.
const BOLT_HOLDS: f64 = 3000.0;

/// What the motor does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorLoads {
    /// Rated power, horsepower.
    pub horsepower: f64,
    /// At full power without way on, N.
    pub thrust: f64,
    /// Weight of the motor, N.
    pub weight: f64,
    /// From the seat down to the propeller's shaft, mm.
    pub below: f64,
}

/// What a checked place sees.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// A bending stress, N/mm².
    Stress,
    /// A pull, N.
    Pull,
}

/// Where a transom, its pad or its knee is checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// Board and pad between the clamps and the knee.
    AtKnee,
    /// The knee behind the bracket's foot.
    KneeAtFoot,
    /// The knee at its heel.
    KneeAtHeel,
    /// Each upper bolt of the knee.
    UpperBolt,
    /// Board and pad from side to side, with no knee behind them.
    SideToSide,
    /// The bare board beside the pad, with no knee behind it.
    BesidePad,
}

/// A section that was checked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Check {
    /// Where.
    pub place: Where,
    /// Bending stress (N/mm²), or the pull on one bolt (N).
    pub stress: f64,
    /// What is allowed, in the same unit.
    pub allowed: f64,
    /// Which of the two it is.
    pub of: Seen,
}

impl Check {
    /// The unit of its figures in files.
    pub fn unit(&self) -> &'static str {
        match self.of {
            Seen::Stress => "N/mm²",
            Seen::Pull => "N",
        }
    }

    /// Stress over what is allowed.
    pub fn share(&self) -> f64 {
        self.stress / self.allowed
    }
}

/// The transom as far as the motor asks, mm and N/mm².
#[derive(Debug, Clone, Copy)]
pub struct Carrier<'a> {
    /// Thickness of the board.
    pub board: f64,
    /// Thickness of the pad.
    pub pad: f64,
    /// Width of the pad.
    pub pad_width: f64,
    /// Between the cleats along the sides, at the bracket's foot.
    pub between_sides: f64,
    /// The knee.
    pub knee: Option<&'a Knee>,
    /// Strength of the knee's wood in bending.
    pub wood_breaks: f64,
}

impl MotorLoads {
    /// Of a motor of `horsepower` and `mass` (kg) whose leg is `shaft` mm long from seat to
    /// plate.
    pub fn of(horsepower: f64, mass: f64, shaft: f64) -> MotorLoads {
        let disc = DISC_MM * (horsepower / DISC_HP).powf(DISC_GROWS);
        let area = 0.25 * PI * (disc / 1000.0).powi(2);
        let thrust = (2.0 * WATER * area).cbrt() * (SHARE * WATTS * horsepower).powf(2.0 / 3.0);
        MotorLoads { horsepower, thrust, weight: 9.81 * mass, below: shaft + 0.5 * disc }
    }

    /// Moment about the seat, N mm.
    pub fn moment(&self) -> f64 {
        self.thrust * self.below + self.weight * ABAFT_MM
    }

    /// The bracket's foot pushes forward with this, N.
    pub fn push(&self) -> f64 {
        self.moment() / BRACKET_MM
    }

    /// The clamps pull aft with this, N.
    pub fn pull(&self) -> f64 {
        self.push() - self.thrust
    }

    /// Every section, worst first.
    pub fn checks(&self, of: &Carrier) -> Vec<Check> {
        let stress = |moment: f64, width: f64, depth: f64| 6.0 * moment / (width * depth * depth);
        let ply = |place: Where, stress: f64| Check {
            place,
            stress,
            allowed: PLY_BREAKS / SAFETY,
            of: Seen::Stress,
        };
        let both = of.board + of.pad;
        let mut out = Vec::new();
        match of.knee {
            Some(k) => {
                // Pushed at both clamps, held by the knee between them.
                let moment = 0.5 * self.push() * HALF_CLAMPS_MM;
                out.push(ply(Where::AtKnee, stress(moment, STRIP_MM, both)));
                let wood = |place: Where, moment: f64, depth: f64| Check {
                    place,
                    stress: stress(moment, k.sided, depth),
                    allowed: of.wood_breaks / SAFETY,
                    of: Seen::Stress,
                };
                let foot = (k.seat - BRACKET_MM).max(0.0);
                out.push(wood(Where::KneeAtFoot, self.pull() * BRACKET_MM, k.depth(foot)));
                let lever = self.below - k.seat;
                let at_heel = (self.thrust * lever + self.weight * ABAFT_MM).abs();
                out.push(wood(Where::KneeAtHeel, at_heel, k.depth(0.0)));
                // The upper half of the bolts through the transom holds the clamps' pull.
                let holding = k.bolts[0].len().div_ceil(2).max(1) as f64;
                out.push(Check {
                    place: Where::UpperBolt,
                    stress: self.pull() / holding,
                    allowed: BOLT_HOLDS,
                    of: Seen::Pull,
                });
            }
            None => {
                // The strip under the bracket's foot spans from side to side.
                let span = of.between_sides;
                out.push(ply(Where::SideToSide, stress(0.25 * self.push() * span, STRIP_MM, both)));
                let past = 0.5 * (span - of.pad_width);
                // A pad that reaches from cleat to cleat leaves no bare board.
                if past > 0.0 {
                    out.push(ply(
                        Where::BesidePad,
                        stress(0.5 * self.push() * past, STRIP_MM, of.board),
                    ));
                }
            }
        }
        out.sort_by(|a, b| b.share().total_cmp(&a.share()));
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 6 hp by hand: disc 0.0380 m², (2000 A)^⅓ = 4.236, (2461 W)^⅔ = 182.3: 772 N; with 31 kg
    /// a moment of 772 · 491 + 304 · 250 = 455 N m.
    #[test]
    fn thrust_and_moment_by_hand() {
        let m = MotorLoads::of(6.0, 31.0, 381.0);
        assert!((m.thrust - 772.0).abs() < 2.0, "{}", m.thrust);
        assert!((m.below - 491.0).abs() < 1e-9);
        assert!((m.moment() / 1000.0 - 455.1).abs() < 1.5, "{}", m.moment());
        assert!((m.push() - m.pull() - m.thrust).abs() < 1e-9, "forces balance");
        // Thirteen inches at 45 hp.
        let big = MotorLoads::of(45.0, 140.0, 381.0);
        assert!((2.0 * (big.below - 381.0) - 330.0).abs() < 3.0);
        assert!((big.thrust / m.thrust - 7.5f64.powf(2.0 / 3.0 + 0.4 / 3.0)).abs() < 1e-9);
    }

    /// A bare board of 18 mm, 1000 mm between its cleats, pad 300 by 24 mm, 6 hp: the board
    /// beside the pad sees 6 (P/2 · 350) / (100 · 18²).
    #[test]
    fn a_board_without_a_knee_by_hand() {
        let m = MotorLoads::of(6.0, 31.0, 381.0);
        let carrier = Carrier {
            board: 18.0,
            pad: 24.0,
            pad_width: 300.0,
            between_sides: 1000.0,
            knee: None,
            wood_breaks: 85.0,
        };
        let checks = m.checks(&carrier);
        let by_hand = 6.0 * (0.5 * m.push() * 350.0) / (100.0 * 18.0 * 18.0);
        assert_eq!(checks[0].place, Where::BesidePad);
        assert!((checks[0].stress - by_hand).abs() < 1e-9);
        assert!(checks[0].share() > 5.0, "bare ply is no motor transom");
        assert!(
            (checks[1].stress - 6.0 * 0.25 * m.push() * 1000.0 / (100.0 * 42.0 * 42.0)).abs()
                < 1e-9
        );
    }
}
