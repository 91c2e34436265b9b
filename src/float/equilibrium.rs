//! How a hull floats under a weight: sinkage, trim and heel.
//!
//! The attitude is that of the water in the hull's own axes: its upward normal
//! n = (−sin θ, −cos θ sin φ, cos θ cos φ) for a trim θ (positive by the stern: the after
//! end deeper) and a heel φ (positive to starboard), and its height along n. At rest the
//! displaced weight is the hull's, and the centre of buoyancy lies plumb under the centre
//! of gravity: both its distances in the plane are nothing. Three equations, solved by
//! Newton's method with the stiffness of the waterplane (Lewis (ed.), *Principles of Naval
//! Architecture*, vol. I, 1988, chapter II: ∂V/∂h = A, V · BM = I), damped by a step bound.

use super::body::Floats;
use super::volume::{Immersed, Water};
use crate::geom::{P3, V3};

/// A weight and its centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weight {
    /// kg.
    pub mass: f64,
    /// Its centre in the hull's axes, mm.
    pub centre: P3,
}

/// How she floats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Floating {
    /// Trim, radians, positive by the stern.
    pub trim: f64,
    /// Heel, radians, positive to starboard.
    pub heel: f64,
    /// The water in the hull's axes.
    pub water: Water,
    /// What it finds.
    pub immersed: Immersed,
}

/// Where a search begins: an attitude, and what is known of the water near it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Start {
    /// Trim, radians.
    pub trim: f64,
    /// Heel, radians.
    pub heel: f64,
    /// A place that the water is likely to pass near, mm: it saves a look or two and changes
    /// nothing of what is found.
    pub through: Option<P3>,
}

impl From<(f64, f64)> for Start {
    fn from((trim, heel): (f64, f64)) -> Start {
        Start { trim, heel, through: None }
    }
}

impl From<&Floating> for Start {
    /// From how she floats under nearly the same weight, or at nearly the same heel: a plane
    /// turned about the centre of flotation displaces nearly the same.
    fn from(f: &Floating) -> Start {
        Start { trim: f.trim, heel: f.heel, through: Some(f.immersed.flotation) }
    }
}

/// Newton's steps; a boat that floats upright takes five or so.
const MOST_STEPS: usize = 60;
/// Greatest change of an angle in one step, radians.
const MOST_TURN: f64 = 0.15;
/// Steps that Newton's method takes at once in all three, if it gets there.
const AT_ONCE_STEPS: usize = 9;
/// The share of the volume to which the height is found before.
const NEAR: f64 = 0.05;
/// Past this trim or heel (radians) she is let go.
const MOST_TRIM: f64 = 1.3;
const UPSIDE_DOWN: f64 = 3.2;
/// The bound is not halved below this, radians.
const LEAST_TURN: f64 = 1e-3;
/// A volume is met to this share, and a centre to this many mm.
const VOLUME_SHARE: f64 = 1e-9;
const PLUMB_MM: f64 = 1e-5;

/// The water's upward normal in the hull's axes at a trim and a heel.
pub fn upward(trim: f64, heel: f64) -> V3 {
    V3::new(-trim.sin(), -trim.cos() * heel.sin(), trim.cos() * heel.cos())
}

/// Volume (mm³) that a mass displaces in water of `density` kg/m³.
pub fn volume_of(mass: f64, density: f64) -> f64 {
    mass / density * 1e9
}

/// The height of the water (mm along its normal) at which `mesh` displaces `volume` at a
/// given attitude; `None` if the whole mesh displaces less.
pub fn height_for(mesh: &impl Floats, up: V3, volume: f64) -> Option<(Water, Immersed)> {
    height_from(mesh, up, volume, mesh.volume(), None, VOLUME_SHARE)
}

/// As [`height_for`], with the whole mesh's volume known, a height to begin at, and the
/// share of the volume to which it is to be found.
fn height_from(
    mesh: &impl Floats,
    up: V3,
    volume: f64,
    whole: f64,
    begin: Option<f64>,
    share: f64,
) -> Option<(Water, Immersed)> {
    let (mut low, mut high) = mesh.reach(up);
    if !(volume > 0.0 && volume < whole) {
        return None;
    }
    let mut h = begin.filter(|h| *h > low && *h < high).unwrap_or(low + 0.3 * (high - low));
    let mut last = None;
    for _ in 0..MOST_STEPS {
        let water = Water::new(up, h)?;
        let found = mesh.immersed(&water);
        let missing = volume - found.volume;
        last = Some((water, found));
        if missing.abs() <= share * volume {
            break;
        }
        if missing > 0.0 {
            low = h;
        } else {
            high = h;
        }
        // Newton by the waterplane's area, kept in the bracket.
        let next = h + missing / found.waterplane.max(1.0);
        h = if next > low && next < high { next } else { 0.5 * (low + high) };
    }
    last
}

/// How `mesh` floats under `weight` in water of `density` kg/m³, from the attitude `start`
/// (trim, heel); `None` if it sinks or finds no rest.
pub fn float(
    mesh: &impl Floats,
    weight: Weight,
    density: f64,
    start: impl Into<Start>,
) -> Option<Floating> {
    let start = start.into();
    at_once(mesh, weight, density, start, true)
        .or_else(|| settle(mesh, weight, density, start, Some(UPSIDE_DOWN)))
}

/// As [`float`]; `None` as well if she comes to rest at a heel of more than `most` radians.
/// One that is clearly past that is not followed until she lies upside down.
pub fn float_short_of(
    mesh: &impl Floats,
    weight: Weight,
    density: f64,
    start: Start,
    most: f64,
) -> Option<Floating> {
    at_once(mesh, weight, density, start, true)
        .or_else(|| settle(mesh, weight, density, start, Some(most + 2.0 * MOST_TURN)))
        .filter(|f| f.heel.abs() < most)
}

/// As [`float`], with the heel held and only the trim free.
pub fn float_at_heel(
    mesh: &impl Floats,
    weight: Weight,
    density: f64,
    start: impl Into<Start>,
) -> Option<Floating> {
    let start = start.into();
    at_once(mesh, weight, density, start, false)
        .or_else(|| settle(mesh, weight, density, start, None))
}

/// How far B lies aft and to starboard of G in the plane of the water, mm.
fn levers(found: &Immersed, water: &Water, centre: P3) -> [f64; 2] {
    let gb = found.centroid - centre;
    [gb.dot(&water.aft), gb.dot(&water.abeam)]
}

/// Metacentric heights across and along, mm: BM less how far G (`centre`) lies above B.
pub fn metacentric(found: &Immersed, water: &Water, centre: P3) -> [f64; 2] {
    let above = (centre - found.centroid).dot(&water.plane.normal);
    [0, 1].map(|i| found.inertia[i] / found.volume - above)
}

/// Height, trim and heel together by Newton's method; `None` where it does not run straight
/// home, which [`settle`] then walks to.
fn at_once(
    mesh: &impl Floats,
    weight: Weight,
    density: f64,
    Start { mut trim, mut heel, through }: Start,
    free_heel: bool,
) -> Option<Floating> {
    let volume = volume_of(weight.mass, density);
    let mut up = upward(trim, heel);
    let begin = through.map(|p| p.coords.dot(&up));
    let (mut water, mut found) = height_from(mesh, up, volume, mesh.volume(), begin, NEAR)?;
    for _ in 0..AT_ONCE_STEPS {
        let missing = volume - found.volume;
        let [aft, abeam] = levers(&found, &water, weight.centre);
        if missing.abs() <= VOLUME_SHARE * volume
            && aft.abs() < PLUMB_MM
            && (!free_heel || abeam.abs() < PLUMB_MM)
        {
            return Some(Floating { trim, heel, water, immersed: found });
        }
        // The slice that is missing draws B towards the waterplane's centroid.
        let slice = missing / found.volume * (found.flotation - found.centroid);
        let [gm_trans, gm_long] = metacentric(&found, &water, weight.centre);
        let product = found.inertia[2] / found.volume;
        let (aft, abeam) = (aft + slice.dot(&water.aft), abeam + slice.dot(&water.abeam));
        // An added slice dθ x + dφ y moves B by its moments over the volume.
        let det = gm_long * gm_trans - product * product;
        let turn = if free_heel {
            [(abeam * product - aft * gm_trans) / det, (aft * product - abeam * gm_long) / det]
        } else {
            [-aft / gm_long, 0.0]
        };
        // Only where she comes back whichever way she is turned.
        let held = gm_long > 0.0 && (!free_heel || gm_trans > 0.0 && det > 0.0);
        if !held || turn.iter().any(|t| t.is_nan() || t.abs() > MOST_TURN) {
            return None;
        }
        (trim, heel) = (trim + turn[0], heel + turn[1]);
        up = upward(trim, heel);
        let height = found.flotation.coords.dot(&up) + missing / found.waterplane.max(1.0);
        water = Water::new(up, height)?;
        found = mesh.immersed(&water);
        if found.volume < 0.3 * volume || found.volume > 3.0 * volume {
            return None;
        }
    }
    None
}

/// A slower, bounded walk to where she rests: with the heel held, or free up to `most_heel`
/// radians.
fn settle(
    mesh: &impl Floats,
    weight: Weight,
    density: f64,
    Start { mut trim, mut heel, .. }: Start,
    most_heel: Option<f64>,
) -> Option<Floating> {
    let free_heel = most_heel.is_some();
    let (volume, whole) = (volume_of(weight.mass, density), mesh.volume());
    // A plane turned about the centre of flotation displaces nearly the same.
    let mut pivot: Option<P3> = None;
    // Each angle's longest step, halved whenever it is thrown back.
    let (mut bound, mut before) = ([MOST_TURN; 2], [0.0f64; 2]);
    for _ in 0..MOST_STEPS {
        let up = upward(trim, heel);
        let begin = pivot.map(|p| p.coords.dot(&up));
        let (water, found) = height_from(mesh, up, volume, whole, begin, VOLUME_SHARE)?;
        pivot = Some(found.flotation);
        let [aft, abeam] = levers(&found, &water, weight.centre);
        let still = !free_heel || abeam.abs() < PLUMB_MM;
        if aft.abs() < PLUMB_MM && still {
            return Some(Floating { trim, heel, water, immersed: found });
        }
        let [gm_trans, gm_long] = metacentric(&found, &water, weight.centre);
        // Turning the water by dθ moves B aft by BM dθ in it and G by its height.
        for (i, lever) in [aft, abeam].into_iter().enumerate() {
            if lever * before[i] < 0.0 {
                bound[i] = (0.5 * bound[i]).max(LEAST_TURN);
            }
            before[i] = lever;
        }
        // An upright that would not hold is left to the side it leans to.
        let step = |lever: f64, gm: f64, most: f64| (lever / gm.abs().max(1.0)).clamp(-most, most);
        trim -= step(aft, gm_long, bound[0]);
        if free_heel {
            heel -= step(abeam, gm_trans, bound[1]);
        }
        if trim.abs() > MOST_TRIM || heel.abs() > most_heel.unwrap_or(UPSIDE_DOWN) {
            return None;
        }
    }
    None
}
