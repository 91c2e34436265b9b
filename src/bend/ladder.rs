//! The rungs of the ladder, each worked out with its numbers.

use super::advice::{Figure, How, Method, Quantity, Rung};
use super::glued;
use super::heat::Softened;
use super::member::{BentMember, of_all};
use super::pull::{self, CLAMP_SPACING_MM, PULL_BY_HAND_N, PULL_OF_CLAMP_N};
use super::strain::break_chance;
use crate::material::{Wood, WoodKind};

/// Sticks out of a hundred that may break before a rung no longer holds when bent dry.
/// Our judgement; no source.
const DRY_CHANCE: f64 = 0.01;
/// The same when the stick is eased in slowly with clamps, or softened, and a broken one can
/// be replaced.
const EASED_CHANCE: f64 = 0.05;
/// Temperature of steam at no pressure, °C.
pub const STEAM_C: f64 = 100.0;
/// Steamed wood is bent this much tighter than wanted, as it springs back when let go. Common
/// practice, no source.
const STEAM_OVERBEND: f64 = 1.25;
/// Radius over thickness for near-perfect bends with strap and end pressure: southern pine,
/// Lemoine and Koch, *Forest Products Journal* 21(4) (1971).
const STRAP_RATIO: f64 = 16.0;
/// Steaming time per mm of the least dimension: an hour an inch at 100 °C. Common practice.
const STEAM_MIN_PER_MM: f64 = 60.0 / 25.4;
/// Time (min) in which a steamed piece must be bent. Common practice.
pub const WORKING_TIME_MIN: f64 = 2.0;

/// All rungs for `bent`, in the order of the ladder.
pub(super) fn rungs(bent: &BentMember, wood: &Wood) -> Vec<Rung> {
    let dry_limit = bent.limit.at_chance(DRY_CHANCE);
    vec![
        dry(bent, dry_limit),
        with_clamps(bent),
        hot_soak(bent, wood),
        steam(bent, wood),
        glued::kerf(bent, dry_limit),
        glued::laminate(bent, wood, dry_limit),
    ]
}

/// One number of a rung.
pub(super) fn figure(quantity: Quantity, value: f64) -> Figure {
    Figure { quantity, value }
}

/// The sharpest bend of the moulded depth, 1/mm.
pub(super) fn sharpest_moulded(bent: &BentMember) -> f64 {
    bent.along.iter().map(|a| a.moulded.abs()).fold(0.0, f64::max)
}

/// The chance that one stick breaks and that one of all does, as figures.
fn chances(bent: &BentMember, chance: f64) -> [Figure; 2] {
    [
        figure(Quantity::BreakChance, chance),
        figure(Quantity::PairBreakChance, of_all(chance, bent.member.sticks())),
    ]
}

fn dry(bent: &BentMember, limit: f64) -> Rung {
    let pull = pull::by_hand(bent);
    let mut figures = chances(bent, bent.break_chance).to_vec();
    figures.extend([
        figure(Quantity::TightestRadius, 1.0 / sharpest_moulded(bent).max(1e-12)),
        figure(Quantity::Force, pull.newtons),
        figure(Quantity::Lever, pull.lever),
        figure(Quantity::GreatestForce, PULL_BY_HAND_N),
    ]);
    Rung {
        method: Method::Dry,
        holds: bent.peak_strain <= limit && pull.newtons <= PULL_BY_HAND_N,
        strain: bent.peak_strain,
        allowed: limit,
        figures,
        how: How::ByHand(pull),
    }
}

fn with_clamps(bent: &BentMember) -> Rung {
    let limit = bent.limit.at_chance(EASED_CHANCE);
    let force = pull::of_clamp(bent);
    let clamps = (bent.length / CLAMP_SPACING_MM).ceil();
    let mut figures = vec![
        figure(Quantity::Force, force),
        figure(Quantity::GreatestForce, PULL_OF_CLAMP_N),
        figure(Quantity::Clamps, clamps),
    ];
    figures.extend(chances(bent, bent.break_chance));
    Rung {
        method: Method::DryWithClamps,
        holds: bent.peak_strain <= limit && force <= PULL_OF_CLAMP_N,
        strain: bent.peak_strain,
        allowed: limit,
        figures,
        how: How::Clamps(force),
    }
}

/// Softwoods take heat poorly.
fn takes_heat_poorly(wood: &Wood) -> bool {
    match wood.kind {
        WoodKind::Hardwood => false,
        WoodKind::Softwood | WoodKind::SouthernPine => true,
    }
}

fn hot_soak(bent: &BentMember, wood: &Wood) -> Rung {
    let soak = bent.member.soak;
    let soft = Softened::of(&bent.member, wood, soak.water_c, soak.hours);
    let (limit, chance) = softened(bent, wood, &soft);
    let mut figures = vec![
        figure(Quantity::Soak, 60.0 * soak.hours),
        figure(Quantity::Water, soak.water_c),
        figure(Quantity::Moisture, soft.moisture),
        figure(Quantity::WorkingTime, WORKING_TIME_MIN),
    ];
    figures.extend(chances(bent, chance));
    Rung {
        method: Method::HotSoak,
        holds: bent.peak_strain <= limit,
        strain: bent.peak_strain,
        allowed: limit,
        figures,
        how: How::Soak { soak, poorly: takes_heat_poorly(wood) },
    }
}

/// The strain that a softened stick may be asked for, and the chance that it breaks at its
/// peak.
fn softened(bent: &BentMember, wood: &Wood, soft: &Softened) -> (f64, f64) {
    let mut wet = bent.limit;
    wet.breaking = wet.breaking_at(wood, soft.moisture);
    let limit = soft.allowed(wet.at_chance(EASED_CHANCE));
    (limit, break_chance(soft.as_cold(bent.peak_strain), wet.breaking, wet.scatter))
}

fn steam(bent: &BentMember, wood: &Wood) -> Rung {
    let minutes = bent.member.moulded_mm.min(bent.member.sided_mm) * STEAM_MIN_PER_MM;
    let soft = Softened::of(&bent.member, wood, STEAM_C, minutes / 60.0);
    let asked = STEAM_OVERBEND * bent.peak_strain;
    let mut over = bent.clone();
    over.peak_strain = asked;
    let (limit, chance) = softened(&over, wood, &soft);
    let with_strap = 0.5 / STRAP_RATIO;
    let mut figures = vec![
        figure(Quantity::Steam, minutes),
        figure(Quantity::WorkingTime, WORKING_TIME_MIN),
        figure(Quantity::Overbend, 100.0 * (STEAM_OVERBEND - 1.0)),
        figure(Quantity::StrainWithStrap, with_strap),
    ];
    figures.extend(chances(bent, chance));
    Rung {
        method: Method::Steam,
        holds: asked <= limit,
        strain: asked,
        allowed: limit,
        figures,
        how: How::Steam {
            minutes,
            strap: asked > limit && asked <= with_strap,
            poorly: takes_heat_poorly(wood),
        },
    }
}
