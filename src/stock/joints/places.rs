//! Places along a panel at which a joint may lie, and what each costs.

use super::choose::Panel;
use super::rules::{bend_at, taken};
use crate::geom::ring::across_line;

/// What a joint costs before anything is in its way: the work of fitting it. All costs are
/// counted in mm of joint, by our judgement, so that a choice between them is one of work.
const JOINT: f64 = 2000.0;
/// On something that it should keep out of.
const IN_THE_WAY: f64 = 5000.0;
/// On something that it must keep out of, or bent tighter than it takes: taken only where
/// there is no other place.
const FORBIDDEN: f64 = 1e6;
/// Bent to its least radius; less with the square of what is left.
const BENT: f64 = 3000.0;
/// Nearer to a neighbour's joint than they stay apart: taken before a place on a frame, and after
/// any other; the rest goes with what is missing, all of it right beside the joint.
const TOO_NEAR: f64 = 30_000.0;
const BESIDE: f64 = 60_000.0;
/// Places are looked at this far apart, mm.
const STEP_MM: f64 = 5.0;
/// Slots along a panel, of which each gives its first, its last and its cheapest place.
const SLOTS: usize = 40;

/// A place for a joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct At {
    /// Its middle along the panel, mm.
    pub(super) u: f64,
    /// What it costs.
    pub(super) cost: f64,
}

/// A bend is looked for this far to either side of a joint that is shorter, mm: bends of both edges
/// are sampled about as far apart.
const LEAST_LOOK_MM: f64 = 50.0;

/// Tightest radius of the panel over a joint at `u`, mm.
pub(super) fn radius_at(panel: &Panel, u: f64) -> f64 {
    let half = (0.5 * taken(&panel.rule, panel.thickness)).max(LEAST_LOOK_MM);
    let within = panel.bends.iter().filter(|b| (b.u - u).abs() <= half).map(|b| b.radius);
    // Where samples are further apart than the joint is long, the nearest counts.
    let nearest = panel.bends.iter().min_by(|a, b| (a.u - u).abs().total_cmp(&(b.u - u).abs()));
    within.chain(nearest.map(|b| b.radius)).fold(f64::INFINITY, f64::min)
}

/// What lies in the way of a joint at `u`, with whether it is forbidden there.
pub(super) fn in_the_way<'a>(
    panel: &'a Panel,
    u: f64,
) -> impl Iterator<Item = (&'a str, bool)> + 'a {
    let half = 0.5 * taken(&panel.rule, panel.thickness);
    let hit = move |a: &&super::Avoid| u + half > a.from - a.clear && u - half < a.to + a.clear;
    panel.avoid.iter().filter(hit).map(|a| (a.why.as_str(), a.forbidden))
}

/// What a joint at `u` costs.
pub(super) fn cost(panel: &Panel, u: f64) -> f64 {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in across_line(panel.outline, |p| p.x - u) {
        (low, high) = (low.min(p.y), high.max(p.y));
    }
    let way: f64 =
        in_the_way(panel, u).map(|(_, no)| if no { FORBIDDEN } else { IN_THE_WAY }).sum();
    let bend = bend_at(&panel.rule, radius_at(panel, u), panel.least_radii);
    let used = bend.utilisation();
    let bent = BENT * used * used + if bend.bends() { 0.0 } else { 0.1 * FORBIDDEN * used };
    let near = panel.shared.iter().filter_map(|e| e.nearest(u)).map(|n| n.short_of(panel.stagger));
    let beside: f64 = near.filter(|s| *s > 0.0).map(|s| TOO_NEAR + BESIDE * s).sum();
    JOINT + (high - low).max(0.0) + way + bent + beside
}

/// Places worth looking at between `from` and `to`, from the bow, with `more` of them besides.
pub(super) fn places(panel: &Panel, (from, to): (f64, f64), more: &[f64]) -> Vec<At> {
    let count = (((to - from) / STEP_MM).floor() as usize).max(1);
    let at = |u: f64| At { u, cost: cost(panel, u) };
    let all: Vec<At> =
        (1..count).map(|i| at(from + (to - from) * i as f64 / count as f64)).collect();
    let mut kept: Vec<At> =
        more.iter().filter(|u| **u > from && **u < to).map(|u| at(*u)).collect();
    for slot in all.chunks(all.len().div_ceil(SLOTS).max(1)) {
        let cheapest = slot.iter().min_by(|a, b| a.cost.total_cmp(&b.cost));
        kept.extend(cheapest);
        let free = || slot.iter().filter(|a| a.cost < 0.1 * FORBIDDEN);
        kept.extend(free().next().into_iter().chain(free().next_back()));
    }
    kept.sort_by(|a, b| a.u.total_cmp(&b.u));
    kept.dedup_by(|a, b| (a.u - b.u).abs() < 1e-9);
    kept
}
