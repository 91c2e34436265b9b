//! The ladder: dry, dry with clamps, soaked hot, steamed, kerfed, laminated.
//!
//! Every rung is worked out for every member, with its numbers; the cheapest rung that
//! holds is recommended. Kerfing a member that carries load comes last.

use super::member::BentMember;
use super::strain::{bending, break_chance, principal, shear_per_twist, strain_at_chance};
use crate::material::Wood;

/// Sticks out of a hundred that may break before a rung no longer holds when bent dry.
/// Our judgement; no source.
const DRY_CHANCE: f64 = 0.01;
/// The same when the stick is eased in slowly with clamps and a broken one can be replaced.
const CLAMPED_CHANCE: f64 = 0.05;
/// Pull (N) that one person keeps up while the other hand sets a clamp: a third of a body's
/// weight. Our judgement; no source.
const PULL_BY_HAND_N: f64 = 250.0;
/// Spacing (mm) of clamps along a bend; common practice, no source.
const CLAMP_SPACING_MM: f64 = 300.0;
/// Stretch that steamed wood takes on its outer face without a strap: the low end of the
/// 1 to 2 % of Agriculture Handbook 125 (Peck, 1957), from memory.
const STEAM_STRETCH: f64 = 0.010;
/// Radius over thickness for near-perfect bends with strap and end pressure: southern pine,
/// Lemoine and Koch, *Forest Products Journal* 21(4) (1971).
const STRAP_RATIO: f64 = 16.0;
/// Steaming time per mm of the least dimension: an hour an inch at 100 °C. Common practice.
const STEAM_MIN_PER_MM: f64 = 60.0 / 25.4;
/// Time (min) in which a steamed piece must be bent. Common practice.
const WORKING_TIME_MIN: f64 = 2.0;
/// Width (mm) of a saw's kerf: an ordinary circular saw.
const SAW_KERF_MM: f64 = 2.4;
/// Least wood (mm) left under a kerf: thinner breaks when the stick is carried. Our judgement.
const LEAST_WEB_MM: f64 = 3.0;
/// Thinnest layer (mm) that a table saw rips well. Our judgement.
const THINNEST_LAYER_MM: f64 = 3.0;
/// Most layers that anybody glues at once. Our judgement.
const MOST_LAYERS: u32 = 8;

/// A way of getting a member to its shape, cheapest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    /// Bent as it is.
    Dry,
    /// Eased in with clamps.
    DryWithClamps,
    /// Soaked hot.
    HotSoak,
    /// Steamed.
    Steam,
    /// Sawn part way through on the inside of the bend.
    Kerf,
    /// Glued up of layers.
    Laminate,
}

impl Method {
    /// All, in the order of the ladder.
    pub const ALL: [Method; 6] = [
        Method::Dry,
        Method::DryWithClamps,
        Method::HotSoak,
        Method::Steam,
        Method::Kerf,
        Method::Laminate,
    ];

    /// The word in a report.
    pub fn word(self) -> &'static str {
        match self {
            Method::Dry => "dry",
            Method::DryWithClamps => "dry, with clamps",
            Method::HotSoak => "soaked hot",
            Method::Steam => "steamed",
            Method::Kerf => "kerfed",
            Method::Laminate => "laminated",
        }
    }
}

/// One number of a rung.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is, as a key of the report: `force_n`.
    pub key: &'static str,
    /// What it is, in words.
    pub label: &'static str,
    /// The number in the unit of the key.
    pub value: f64,
}

/// One rung of the ladder.
#[derive(Debug, Clone, PartialEq)]
pub struct Rung {
    /// The way.
    pub method: Method,
    /// Whether the member takes its bend this way.
    pub holds: bool,
    /// Strain of the worst fibre done this way.
    pub strain: f64,
    /// Strain that may be asked done this way.
    pub allowed: f64,
    /// Its numbers.
    pub figures: Vec<Figure>,
    /// What to do, in words.
    pub how: String,
    /// Where someone could be hurt or the boat weakened.
    pub caution: Option<&'static str>,
    /// Where the limit is from.
    pub source: &'static str,
}

/// The ladder for one member.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Advice {
    /// The cheapest rung that holds, if one does.
    pub recommended: Option<Method>,
    /// All rungs, in the order of the ladder.
    pub rungs: Vec<Rung>,
}

impl Advice {
    /// The recommended rung.
    pub fn best(&self) -> Option<&Rung> {
        self.rungs.iter().find(|r| Some(r.method) == self.recommended)
    }
}

/// Works out every rung for `bent` and picks one.
pub(super) fn advise(bent: &BentMember, wood: &Wood) -> Advice {
    let dry_limit = strain_at_chance(DRY_CHANCE, bent.breaking_strain, bent.scatter);
    let rungs = vec![
        dry(bent, dry_limit),
        with_clamps(bent),
        hot_soak(bent, dry_limit),
        steam(bent),
        kerf(bent, dry_limit),
        laminate(bent, wood, dry_limit),
    ];
    // Sawing through a member that carries load is the last resort.
    let last = |m: Method| m == Method::Kerf && bent.member.carries_load;
    let recommended =
        rungs.iter().filter(|r| r.holds).map(|r| r.method).min_by_key(|m| (last(*m), *m));
    Advice { recommended, rungs }
}

fn figure(key: &'static str, label: &'static str, value: f64) -> Figure {
    Figure { key, label, value }
}

/// The sharpest bend of the moulded depth and the sharpest anywhere, 1/mm.
fn sharpest_moulded(bent: &BentMember) -> f64 {
    bent.along.iter().map(|a| a.moulded.abs()).fold(0.0, f64::max)
}

fn dry(bent: &BentMember, limit: f64) -> Rung {
    Rung {
        method: Method::Dry,
        holds: bent.peak_strain <= limit,
        strain: bent.peak_strain,
        allowed: limit,
        figures: vec![
            figure("break_chance", "chance of breaking", bent.break_chance),
            figure(
                "tightest_radius_mm",
                "tightest radius",
                1.0 / sharpest_moulded(bent).max(1e-12),
            ),
        ],
        how: "Spring it in as it is, from the tight end to the easy one.".into(),
        caution: None,
        source: "Wood Handbook (FPL-GTR-282), chapter 5: strength over stiffness and their scatter; one stick in a hundred may break (our judgement)",
    }
}

/// Pull (N) at the free end that brings the stick to its curvature at the tightest place,
/// held at the other end: moment over the lever to the further end.
fn pull_at_end(bent: &BentMember) -> f64 {
    let (m, s) = (bent.member.moulded_mm, bent.member.sided_mm);
    let (i_moulded, i_sided) = (s * m.powi(3) / 12.0, m * s.powi(3) / 12.0);
    bent.along
        .iter()
        .map(|a| {
            let moment =
                (bent.stiffness * i_moulded * a.moulded).hypot(bent.stiffness * i_sided * a.sided);
            // Work from the end nearer to the place: the far end is the lever.
            moment / a.at.max(bent.length - a.at)
        })
        .fold(0.0, f64::max)
}

fn with_clamps(bent: &BentMember) -> Rung {
    let limit = strain_at_chance(CLAMPED_CHANCE, bent.breaking_strain, bent.scatter);
    let pull = pull_at_end(bent);
    Rung {
        method: Method::DryWithClamps,
        holds: bent.peak_strain <= limit && pull <= PULL_BY_HAND_N,
        strain: bent.peak_strain,
        allowed: limit,
        figures: vec![
            figure("force_n", "pull by hand at the end of the stick", pull),
            figure("greatest_force_n", "pull that one person keeps up", PULL_BY_HAND_N),
            figure("clamps", "clamps", (bent.length / CLAMP_SPACING_MM).ceil()),
            figure("break_chance", "chance of breaking", bent.break_chance),
        ],
        how: format!(
            "Fasten one end, pull at the other with about {:.0} N ({:.0} kgf), and let each clamp take up a little at a time over an hour or two; keep a spare stick.",
            pull,
            pull / super::stick::GRAVITY
        ),
        caution: Some(
            "A bent stick that slips or breaks strikes hard: stand out of its plane, tie the far end, wear eye protection.",
        ),
        source: "force: beam theory with the stiffness above; five sticks in a hundred may break (our judgement)",
    }
}

fn hot_soak(bent: &BentMember, dry_limit: f64) -> Rung {
    let limit = (dry_limit * STEAM_STRETCH).sqrt().max(dry_limit);
    let least = bent.member.moulded_mm.min(bent.member.sided_mm);
    Rung {
        method: Method::HotSoak,
        holds: bent.peak_strain <= limit,
        strain: bent.peak_strain,
        allowed: limit,
        figures: vec![
            figure("soak_min", "time in water just off the boil", least * STEAM_MIN_PER_MM),
            figure("working_time_min", "time to bend it in", WORKING_TIME_MIN),
        ],
        how: format!(
            "Soak overnight, then wrap in towels and keep pouring water just off the boil for {:.0} min; bend at once, clamp, and leave until dry before gluing.",
            least * STEAM_MIN_PER_MM
        ),
        caution: Some(
            "Scalding water: long gloves, face shield, a clear floor, and a second person.",
        ),
        source: "half way (geometric mean) between the dry and the steamed limit; common practice, no source",
    }
}

fn steam(bent: &BentMember) -> Rung {
    let least = bent.member.moulded_mm.min(bent.member.sided_mm);
    let minutes = least * STEAM_MIN_PER_MM;
    let with_strap = 0.5 / STRAP_RATIO;
    Rung {
        method: Method::Steam,
        holds: bent.peak_strain <= STEAM_STRETCH,
        strain: bent.peak_strain,
        allowed: STEAM_STRETCH,
        figures: vec![
            figure("steam_min", "time in the steam box at 100 °C", minutes),
            figure("working_time_min", "time to bend it in", WORKING_TIME_MIN),
            figure("overbend_pct", "bend tighter than wanted by", 25.0),
            figure("strain_with_strap", "strain allowed with a strap and end pressure", with_strap),
        ],
        how: format!(
            "Steam for {minutes:.0} min (an hour for each 25 mm), bend within {WORKING_TIME_MIN:.0} min of opening the box, a quarter tighter than wanted, and clamp until cold and dry. Green or air-dried stock bends better than kiln-dried.{}",
            if bent.peak_strain > STEAM_STRETCH && bent.peak_strain <= with_strap {
                " As tight as this it needs a steel strap with end stops on the outer face."
            } else {
                ""
            }
        ),
        caution: Some(
            "Steam scalds unseen: never seal the box (leave a drain and a vent), long gloves, eye protection, open the far end first, keep children and pets away, mind the burner's fumes in a closed garage.",
        ),
        source: "1 % stretch of the outer face, Agriculture Handbook 125 (Peck 1957), from memory; an hour an inch: common practice; strap: Lemoine and Koch 1971",
    }
}

fn kerf(bent: &BentMember, dry_limit: f64) -> Rung {
    let moulded = bent.member.moulded_mm;
    let curvature = sharpest_moulded(bent);
    let shear_factor = shear_per_twist(moulded, bent.member.sided_mm);
    // Edgewise bending and twist are not eased by kerfs across the face.
    let rest = bent
        .along
        .iter()
        .map(|a| principal(bending(bent.member.sided_mm, a.sided), shear_factor * a.twist.abs()))
        .fold(0.0, f64::max);
    // The web left under a kerf bends as a hinge about as long as the kerf is wide and the
    // web thick together; taking the whole bend there, hinge by hinge.
    let spare = (dry_limit - rest).max(0.0);
    let web = if curvature > 0.0 { (2.0 * spare / curvature).min(moulded) } else { moulded };
    let web = web.min(0.5 * moulded);
    let depth = moulded - web;
    let spacing = if curvature > 0.0 {
        let hinge = 2.0 * spare * (SAW_KERF_MM + web) / (web.max(1e-9) * curvature);
        let closes = SAW_KERF_MM / (depth.max(1e-9) * curvature);
        hinge.min(closes).min(bent.length)
    } else {
        bent.length
    };
    // Kerf where the stick would be over its dry limit.
    let over: Vec<_> = bent.along.iter().filter(|a| a.strain > dry_limit).collect();
    let tight = match (over.first(), over.last()) {
        (Some(a), Some(b)) => (b.at - a.at).max(spacing),
        _ => 0.0,
    };
    let count = if spacing > 0.0 { (tight / spacing).ceil() } else { 0.0 };
    let strength = (web / moulded).powi(2);
    let holds = rest < dry_limit && web >= LEAST_WEB_MM && spacing > 2.0 * SAW_KERF_MM;
    Rung {
        method: Method::Kerf,
        holds,
        strain: bending(web, curvature) + rest,
        allowed: dry_limit,
        figures: vec![
            figure("depth_mm", "depth of each kerf", depth),
            figure("spacing_mm", "apart", spacing),
            figure("count", "kerfs", count),
            figure("length_mm", "length kerfed", tight),
            figure("remaining_strength", "bending strength left", strength),
        ],
        how: format!(
            "Saw {count:.0} kerfs {depth:.0} mm deep, {spacing:.0} mm apart, on the inside of the bend; fill with thickened epoxy as it goes in.{}",
            if bent.member.carries_load {
                " This member carries load: only a share of its strength is left until the kerfs are filled, so prefer another way."
            } else {
                ""
            }
        ),
        caution: Some(
            "Kerfs weaken the stick and hold water if not filled. Use a depth stop; keep hands clear of the blade.",
        ),
        source: "web bent as hinges within the dry limit, beam theory",
    }
}

fn laminate(bent: &BentMember, wood: &Wood, dry_limit: f64) -> Rung {
    let (moulded, sided) = (bent.member.moulded_mm, bent.member.sided_mm);
    let curvature = sharpest_moulded(bent);
    let strain_of = |layers: u32| {
        let layer = moulded / f64::from(layers);
        let shear_factor = shear_per_twist(layer, sided);
        bent.along
            .iter()
            .map(|a| {
                principal(
                    bending(layer, a.moulded) + bending(sided, a.sided),
                    shear_factor * a.twist.abs(),
                )
            })
            .fold(0.0, f64::max)
    };
    let most = ((moulded / THINNEST_LAYER_MM).floor() as u32).clamp(1, MOST_LAYERS);
    let fits = |n: u32| {
        let layer = moulded / f64::from(n);
        strain_of(n) <= dry_limit && layer * curvature * wood.least_lamination_ratio() <= 1.0
    };
    let layers = (2..=most.max(2)).find(|n| fits(*n));
    let n = layers.unwrap_or(most.max(2));
    let layer = moulded / f64::from(n);
    let squared = f64::from(n * n);
    Rung {
        method: Method::Laminate,
        holds: layers.is_some() && layer >= THINNEST_LAYER_MM,
        strain: strain_of(n),
        allowed: dry_limit,
        figures: vec![
            figure("layers", "layers", f64::from(n)),
            figure("layer_mm", "thickness of each", layer),
            figure(
                "springback",
                "radius after release, over the radius clamped to",
                squared / (squared - 1.0),
            ),
            figure(
                "break_chance",
                "chance that a layer breaks",
                break_chance(strain_of(n), bent.breaking_strain, bent.scatter),
            ),
        ],
        how: format!(
            "Glue {n} layers of {layer:.1} mm over the frames or a form; released, the radius grows to {:.2} times, so clamp it that much tighter on a form (over the frames it is held).",
            squared / (squared - 1.0)
        ),
        caution: Some(
            "Epoxy heats in the pot and can burn: mix small batches, spread them out, gloves and fresh air; follow its maker's data sheet.",
        ),
        source: "springback of n equal layers n²/(n²-1), beam theory; least radius of a layer 100 (hardwood, southern pine) or 125 times its thickness, Civil Engineering Formulas p. 167",
    }
}
