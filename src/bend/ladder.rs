//! The rungs of the ladder, each worked out with its numbers.

use super::advice::{Figure, Method, Rung};
use super::glued;
use super::heat::Softened;
use super::member::{BentMember, of_all};
use super::pull::{self, CLAMP_SPACING_MM, PULL_BY_HAND_N, PULL_OF_CLAMP_N, Pull};
use super::strain::break_chance;
use crate::material::{Wood, WoodKind};
use crate::units::Units;

/// Sticks out of a hundred that may break before a rung no longer holds when bent dry.
/// Our judgement; no source.
const DRY_CHANCE: f64 = 0.01;
/// The same when the stick is eased in slowly with clamps, or softened, and a broken one can
/// be replaced.
const EASED_CHANCE: f64 = 0.05;
/// Temperature of steam at no pressure, °C.
const STEAM_C: f64 = 100.0;
/// Steamed wood is bent this much tighter than wanted, as it springs back when let go. Common
/// practice, no source.
const STEAM_OVERBEND: f64 = 1.25;
/// Radius over thickness for near-perfect bends with strap and end pressure: southern pine,
/// Lemoine and Koch, *Forest Products Journal* 21(4) (1971).
const STRAP_RATIO: f64 = 16.0;
/// Steaming time per mm of the least dimension: an hour an inch at 100 °C. Common practice.
const STEAM_MIN_PER_MM: f64 = 60.0 / 25.4;
/// Time (min) in which a steamed piece must be bent. Common practice.
const WORKING_TIME_MIN: f64 = 2.0;

/// All rungs for `bent`, in the order of the ladder.
pub(super) fn rungs(bent: &BentMember, wood: &Wood, units: Units) -> Vec<Rung> {
    let dry_limit = bent.limit.at_chance(DRY_CHANCE);
    vec![
        dry(bent, dry_limit, units),
        with_clamps(bent, units),
        hot_soak(bent, wood, units),
        steam(bent, wood, units),
        glued::kerf(bent, dry_limit, units),
        glued::laminate(bent, wood, dry_limit, units),
    ]
}

/// One number of a rung.
pub(super) fn figure(key: &'static str, label: &'static str, value: f64) -> Figure {
    Figure { key, label, value }
}

/// The sharpest bend of the moulded depth, 1/mm.
pub(super) fn sharpest_moulded(bent: &BentMember) -> f64 {
    bent.along.iter().map(|a| a.moulded.abs()).fold(0.0, f64::max)
}

/// The chance that one stick breaks and that one of all does, as figures.
fn chances(bent: &BentMember, chance: f64) -> [Figure; 2] {
    [
        figure("break_chance", "chance that a stick breaks", chance),
        figure(
            "pair_break_chance",
            "chance that one of those needed breaks",
            of_all(chance, bent.member.sticks()),
        ),
    ]
}

fn dry(bent: &BentMember, limit: f64, units: Units) -> Rung {
    let pull = pull::by_hand(bent);
    let mut figures = chances(bent, bent.break_chance).to_vec();
    figures.extend([
        figure("tightest_radius_mm", "tightest radius", 1.0 / sharpest_moulded(bent).max(1e-12)),
        figure("force_n", "greatest pull at the free end", pull.newtons),
        figure("lever_mm", "stick still free there", pull.lever),
        figure("greatest_force_n", "pull that one person keeps up", PULL_BY_HAND_N),
    ]);
    Rung {
        method: Method::Dry,
        holds: bent.peak_strain <= limit && pull.newtons <= PULL_BY_HAND_N,
        strain: bent.peak_strain,
        allowed: limit,
        figures,
        how: by_hand(&pull, units),
        caution: Some(
            "A bent stick that slips or breaks strikes hard: stand out of its plane and wear eye protection.",
        ),
        source: "strain at greatest load from the Wood Handbook's (FPL-GTR-282) table 5-3b, the work in it from memory, brought to this stock and size; scatter and the correlation of 0.6 from memory; one stick in a hundred may break (our judgement); pull by beam theory, one end held, against what one person keeps up (common practice, no source)",
    }
}

/// How a stick goes in by hand, and what it asks of the hand.
fn by_hand(pull: &Pull, units: Units) -> String {
    let end = if pull.from_bow { "bow" } else { "stern" };
    let asked = format!(
        "hardest {} from the bow, with {} of stick still free, at about {}",
        units.show(pull.at),
        units.show(pull.lever),
        units.force(pull.newtons)
    );
    if pull.newtons <= PULL_BY_HAND_N {
        format!(
            "Fasten the {end} end, and walk the free end in, fastening as you go: the pull is {asked}."
        )
    } else {
        format!(
            "One person cannot: even from the {end} the pull is {asked}, and {} is what one keeps up.",
            units.force(PULL_BY_HAND_N)
        )
    }
}

fn with_clamps(bent: &BentMember, units: Units) -> Rung {
    let limit = bent.limit.at_chance(EASED_CHANCE);
    let force = pull::of_clamp(bent);
    let clamps = (bent.length / CLAMP_SPACING_MM).ceil();
    let mut figures = vec![
        figure("force_n", "greatest pull of one clamp", force),
        figure("greatest_force_n", "pull of a clamp that does not bruise", PULL_OF_CLAMP_N),
        figure("clamps", "clamps", clamps),
    ];
    figures.extend(chances(bent, bent.break_chance));
    Rung {
        method: Method::DryWithClamps,
        holds: bent.peak_strain <= limit && force <= PULL_OF_CLAMP_N,
        strain: bent.peak_strain,
        allowed: limit,
        figures,
        how: format!(
            "Fasten one end, set a clamp every {}, and let each take up a little at a time over an hour or two, up to about {} at the hardest; keep a spare stick.",
            units.show(CLAMP_SPACING_MM),
            units.force(force)
        ),
        caution: Some(
            "A bent stick that slips or breaks strikes hard: stand out of its plane, tie the far end, wear eye protection.",
        ),
        source: "limit as for dry, but five sticks in a hundred may break (our judgement); force by beam theory, a clamp's spacing as its lever; what a clamp gives: common practice, no source",
    }
}

/// Words that end the advice to soak or steam.
fn softwood(wood: &Wood) -> &'static str {
    match wood.kind {
        WoodKind::Hardwood => "",
        WoodKind::Softwood | WoodKind::SouthernPine => {
            " Softwoods take heat poorly: bend a spare stick first."
        }
    }
}

fn hot_soak(bent: &BentMember, wood: &Wood, units: Units) -> Rung {
    let soak = bent.member.soak;
    let soft = Softened::of(&bent.member, wood, soak.water_c, soak.hours);
    let (limit, chance) = softened(bent, wood, &soft);
    let mut figures = vec![
        figure("soak_min", "time in hot water", 60.0 * soak.hours),
        figure("water_c", "water at the wood", soak.water_c),
        figure("moisture_pct", "moisture under its face then", soft.moisture),
        figure("working_time_min", "time to bend it in", WORKING_TIME_MIN),
    ];
    figures.extend(chances(bent, chance));
    Rung {
        method: Method::HotSoak,
        holds: bent.peak_strain <= limit,
        strain: bent.peak_strain,
        allowed: limit,
        figures,
        how: format!(
            "Keep it {} in water of {} at the wood (a trough, or towels and a kettle); bend at once into its place, clamp, and leave until dry before gluing.{}",
            hours(soak.hours),
            units.temperature(soak.water_c),
            softwood(wood)
        ),
        caution: Some(
            "Scalding water: long gloves, face shield, a clear floor, and a second person.",
        ),
        source: "stretch of the wood as wet as its outer face gets by then, its inner face crushed the easier for heat and water: balance of the section, with the handbook's crushing strengths and effects of temperature and rates of heat and water from memory; five in a hundred may break (our judgement)",
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

fn steam(bent: &BentMember, wood: &Wood, units: Units) -> Rung {
    let minutes = bent.member.moulded_mm.min(bent.member.sided_mm) * STEAM_MIN_PER_MM;
    let soft = Softened::of(&bent.member, wood, STEAM_C, minutes / 60.0);
    let asked = STEAM_OVERBEND * bent.peak_strain;
    let mut over = bent.clone();
    over.peak_strain = asked;
    let (limit, chance) = softened(&over, wood, &soft);
    let with_strap = 0.5 / STRAP_RATIO;
    let mut figures = vec![
        figure("steam_min", "time in the steam box", minutes),
        figure("working_time_min", "time to bend it in", WORKING_TIME_MIN),
        figure("overbend_pct", "bend tighter than wanted by", 100.0 * (STEAM_OVERBEND - 1.0)),
        figure("strain_with_strap", "strain allowed with a strap and end pressure", with_strap),
    ];
    figures.extend(chances(bent, chance));
    Rung {
        method: Method::Steam,
        holds: asked <= limit,
        strain: asked,
        allowed: limit,
        figures,
        how: format!(
            "Steam for {minutes:.0} min at {} (an hour for each {}), bend within {WORKING_TIME_MIN:.0} min of opening the box, a quarter tighter than wanted, and clamp until cold and dry. Green or air-dried stock bends better than kiln-dried.{}{}",
            units.temperature(STEAM_C),
            units.fine(25.4),
            if asked > limit && asked <= with_strap {
                " As tight as this it needs a steel strap with end stops on the outer face."
            } else {
                ""
            },
            softwood(wood)
        ),
        caution: Some(
            "Steam scalds unseen: never seal the box (leave a drain and a vent), long gloves, eye protection, open the far end first, keep children and pets away, mind the burner's fumes in a closed garage.",
        ),
        source: "as for the hot soak, at 100 °C, checked with the over-bend; comes to the 1 to 2 % stretch of Agriculture Handbook 125 (Peck 1957), from memory, for good benders; an hour an inch: common practice; strap: Lemoine and Koch 1971",
    }
}

/// Hours as a person says them.
fn hours(h: f64) -> String {
    if h < 1.0 {
        format!("{:.0} min", 60.0 * h)
    } else {
        format!("{} h", (10.0 * h).round() / 10.0)
    }
}
