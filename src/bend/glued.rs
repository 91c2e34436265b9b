//! Kerfed and laminated: the rungs that change the stick.

use super::advice::{How, Method, Quantity, Rung};
use super::ladder::{figure, sharpest_moulded};
use super::member::{BentMember, of_all};
use super::strain::{bending, break_chance, shear_per_twist};
use crate::material::Wood;

/// Width (mm) of a saw's kerf: an ordinary circular saw.
const SAW_KERF_MM: f64 = 2.4;
/// Least wood (mm) left under a kerf: thinner breaks when the stick is carried. Our judgement.
const LEAST_WEB_MM: f64 = 3.0;
/// Thinnest layer (mm) that a table saw rips well. Our judgement.
const THINNEST_LAYER_MM: f64 = 3.0;
/// Most layers that anybody glues at once. Our judgement.
const MOST_LAYERS: u32 = 8;

/// Sawn part way through on the inside of the bend.
pub(super) fn kerf(bent: &BentMember, dry_limit: f64) -> Rung {
    let moulded = bent.member.moulded_mm;
    let curvature = sharpest_moulded(bent);
    let shear_factor = shear_per_twist(moulded, bent.member.sided_mm);
    // Edgewise bending and twist are not eased by kerfs across the face.
    let rest = bent
        .along
        .iter()
        .map(|a| {
            let edgewise = bending(bent.member.sided_mm, a.sided);
            bent.limit.together(edgewise, shear_factor * a.twist.abs())
        })
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
            figure(Quantity::Depth, depth),
            figure(Quantity::Spacing, spacing),
            figure(Quantity::Count, count),
            figure(Quantity::Length, tight),
            figure(Quantity::RemainingStrength, strength),
        ],
        how: How::Kerfs { count, depth, spacing, carries_load: bent.member.carries_load },
    }
}

/// Glued up of layers, checked as tight as it is clamped on a form.
pub(super) fn laminate(bent: &BentMember, wood: &Wood, dry_limit: f64) -> Rung {
    let (moulded, sided) = (bent.member.moulded_mm, bent.member.sided_mm);
    let curvature = sharpest_moulded(bent);
    // Released, n layers spring back to n²/(n²-1) of the radius that they were clamped to; on a
    // form they are clamped that much tighter, and must bear that.
    let springback = |layers: u32| {
        let squared = f64::from(layers * layers);
        squared / (squared - 1.0)
    };
    let strain_of = |layers: u32| {
        let layer = moulded / f64::from(layers);
        let shear_factor = shear_per_twist(layer, sided);
        bent.along
            .iter()
            .map(|a| {
                let fibre =
                    springback(layers) * bending(layer, a.moulded) + bending(sided, a.sided);
                bent.limit.together(fibre, shear_factor * a.twist.abs())
            })
            .fold(0.0, f64::max)
    };
    let most = ((moulded / THINNEST_LAYER_MM).floor() as u32).clamp(1, MOST_LAYERS);
    let fits = |n: u32| {
        let layer = moulded / f64::from(n);
        let clamped = springback(n) * curvature;
        strain_of(n) <= dry_limit && layer * clamped * wood.least_lamination_ratio() <= 1.0
    };
    let layers = (2..=most.max(2)).find(|n| fits(*n));
    let n = layers.unwrap_or(most.max(2));
    let layer = moulded / f64::from(n);
    let chance = break_chance(strain_of(n), bent.limit.breaking, bent.limit.scatter);
    Rung {
        method: Method::Laminate,
        holds: layers.is_some() && layer >= THINNEST_LAYER_MM,
        strain: strain_of(n),
        allowed: dry_limit,
        figures: vec![
            figure(Quantity::Layers, f64::from(n)),
            figure(Quantity::Layer, layer),
            figure(Quantity::Springback, springback(n)),
            figure(Quantity::BreakChance, chance),
            figure(Quantity::PairBreakChance, of_all(chance, n * bent.member.sticks())),
        ],
        how: How::Layers { layers: n, thickness: layer, springback: springback(n) },
    }
}
