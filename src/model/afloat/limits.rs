//! Where water comes in, how far out people sit, and what the safe-loading rule says.

use super::super::Recomputed;
use super::super::ashore::Ashore;
use super::Afloat;
use super::cases::Loading;
use crate::float::body::{Body, Floats};
use crate::float::capacity::{Asked, Capacity, Drive, KG_PER_POUND, capacity};
use crate::float::equilibrium::{Floating, Weight, upward};
use crate::float::list::list_weight;
use crate::float::motors::SMALL_HP;
use crate::float::volume::Water;
use crate::geom::{P2, P3};
use crate::hull::{Load, LoadKind};
use crate::part::LineId;

/// Places along each sheer at which freeboard is taken.
const SHEER_PLACES: usize = 40;
/// Fresh water as the rule has it, kg/m³: 62.4 lb/ft³. Source: 33 CFR 183.105.
const RULE_WATER: f64 = 62.4 * KG_PER_POUND / (0.3048 * 0.3048 * 0.3048);
/// Height of a seat over the bottom, mm, and how near to the side the middle of someone comes
/// who sits against it: half a body's breadth. Our judgement; no source.
const SEAT_MM: f64 = 250.0;
const FROM_SIDE_MM: f64 = 150.0;
const FOOT: f64 = 304.8;
/// Rise of a bottom from keel to chine, over its half-breadth at the transom, under which it
/// counts as flat: three degrees. Our judgement, on the safe side; the rule says "flat".
const FLAT_RISE: f64 = 0.052;

/// A place where water would come in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// The place, mm.
    pub at: P3,
    /// In the motor's cut-out, not along the sheer.
    pub cut_out: bool,
}

/// Places along both sheers, and the corners of the motor's cut-out.
pub(super) fn openings(boat: Ashore) -> Vec<Opening> {
    let sheer = &boat.lines.lines[boat.lines.lines.len() - 1].spline;
    let mut out: Vec<Opening> = (0..=SHEER_PLACES)
        .map(|i| sheer.at(sheer.end() * i as f64 / SHEER_PLACES as f64))
        .flat_map(|p| [p, P3::new(p.x, -p.y, p.z)])
        .map(|at| Opening { at, cut_out: false })
        .collect();
    if let Some(t) = &boat.woodwork.transom
        && let Some(c) = t.cut_out.filter(|c| c.depth > 0.0)
    {
        out.extend([0.5, -0.5].map(|side| Opening {
            at: t.across.space(P2::new(side * c.width, c.seat)),
            cut_out: true,
        }));
    }
    out
}

/// The lowest opening over the water, and which.
pub(super) fn first_to_flood(all: &[Opening], f: &Floating) -> Option<(f64, Opening)> {
    all.iter().map(|o| (f.water.plane.distance(o.at), *o)).min_by(|a, b| a.0.total_cmp(&b.0))
}

/// What the rules say.
#[derive(Debug)]
pub(super) struct Limits {
    pub drive: Drive,
    pub list_weight: Option<f64>,
    /// What the list test was made with: the boat, and where weights were put.
    pub list_test: (Weight, P3),
    pub capacity: Capacity,
}

/// What drives her: a motor counts where there is a transom to hang it on.
fn drive(boat: Ashore) -> Drive {
    let motor = &boat.hull.motor;
    match motor.fitted && boat.woodwork.transom.is_some() {
        false => Drive::Manual,
        true if motor.power_hp <= SMALL_HP => Drive::Small(motor.power_hp),
        true => Drive::Outboard(motor.power_hp),
    }
}

/// Flat from chine to chine: without a keel line of its own (a bottom that was drawn flat
/// stays one when it is given a drain slope), or with next to no deadrise at the transom.
fn flat_bottom(boat: Ashore) -> bool {
    let end = |line: usize| {
        let s = &boat.lines.lines[line].spline;
        s.at(s.end())
    };
    let (keel, chine) = (end(0), end(1));
    boat.hull.line_of(LineId::Keel).is_none() || chine.z - keel.z < FLAT_RISE * chine.y
}

/// Works the rules out; a list test that was made `before` on the same mesh, with the same
/// weights, is not made again.
pub(super) fn limits(afloat: &Loading, before: Option<&Afloat>, count: &mut Recomputed) -> Limits {
    let Loading { boat, body, hull, loads, .. } = *afloat;
    let (motor, openings) = (&boat.hull.motor, afloat.places());
    let drive = drive(boat);
    // The list test is made with motor and battery aboard, to the side to which she is
    // heavier, starboard and port being alike.
    let fixed = super::to_starboard(afloat.fixed());
    let list_test = (fixed, seat(boat, loads));
    let found = match before.filter(|a| a.list_test == list_test) {
        Some(old) => old.list_weight,
        None => {
            count.lists += 1;
            list_weight(body, fixed, RULE_WATER, list_test.1, &openings)
        }
    };
    let (width, height) = transom(boat);
    let capacity = capacity(&Asked {
        max_displacement: pressed_down(boat, body, &openings) / KG_PER_POUND,
        boat_weight: hull.mass / KG_PER_POUND,
        length: boat.lines.length_overall() / FOOT,
        transom_width: width / FOOT,
        transom_height: height / 25.4,
        flat_bottom: flat_bottom(boat),
        remote_steering: motor.remote_steering,
        drive,
        list_test: Some(found.unwrap_or(0.0) / KG_PER_POUND),
    });
    Limits { drive, list_weight: found, list_test, capacity }
}

/// Water displaced (kg, fresh) when she is pressed down level until it would come in: the
/// sheer at bow and transom equally far from the water, the water at the lowest opening.
fn pressed_down(boat: Ashore, body: &Body, openings: &[P3]) -> f64 {
    let sheer = &boat.lines.lines[boat.lines.lines.len() - 1].spline;
    let (bow, stern) = (sheer.at(0.0), sheer.at(sheer.end()));
    let trim = ((stern.z - bow.z) / (stern.x - bow.x)).atan();
    let up = upward(trim, 0.0);
    let height = openings.iter().map(|p| p.coords.dot(&up)).fold(f64::INFINITY, f64::min);
    Water::new(up, height).map_or(0.0, |w| body.immersed(&w).volume * RULE_WATER * 1e-9)
}

/// Where weights are put along one side: at the persons' mean place, at seat height but not
/// above the gunwale.
fn seat(boat: Ashore, loads: &[Load]) -> P3 {
    let persons: Vec<f64> =
        loads.iter().filter(|l| l.kind == LoadKind::Person).map(|l| l.x).collect();
    let (fore, aft) = boat.lines.extent(|p| p.x);
    let x = match persons.len() {
        0 => 0.5 * (fore + aft),
        n => persons.iter().sum::<f64>() / n as f64,
    };
    let corners = corners(boat, x);
    let keel = corners.first().map_or(0.0, |p| p.z);
    let z = corners.last().map_or(keel + SEAT_MM, |sheer| (keel + SEAT_MM).min(sheer.z));
    P3::new(x, furthest_out(boat, x, z), z)
}

/// Where the lines pass `x`, from the keel up.
fn corners(boat: Ashore, x: f64) -> Vec<P3> {
    let at = |l: &crate::hull::HullLine| l.spline.parameter_at_x(x).map(|t| l.spline.at(t));
    boat.lines.lines.iter().filter_map(at).collect()
}

/// How far out (mm) someone can sit at `x` with their middle at height `z`: against the side
/// there, or against the sheer where they stand above it.
pub(super) fn furthest_out(boat: Ashore, x: f64, z: f64) -> f64 {
    let corners = corners(boat, x);
    let Some(sheer) = corners.last() else {
        return 0.0;
    };
    // The side at that height, between the two lines that hold it.
    let side = corners
        .windows(2)
        .find(|w| w[0].z <= z && z <= w[1].z && w[1].z > w[0].z)
        .map_or(sheer.y, |w| w[0].y + (z - w[0].z) / (w[1].z - w[0].z) * (w[1].y - w[0].y));
    (side - FROM_SIDE_MM).max(0.0)
}

/// Greatest width of the transom and its height at the motor, mm; without a full transom
/// the broadest beam of the aftermost quarter (33 CFR 183.53).
fn transom(boat: Ashore) -> (f64, f64) {
    let beam = boat.lines.beam_overall();
    let (fore, aft) = boat.lines.extent(|p| p.x);
    let from = aft - 0.25 * (aft - fore);
    let after = |p: &P3| p.x >= from;
    let widest = |points: &[P3]| 2.0 * points.iter().map(|p| p.y).fold(0.0, f64::max);
    let quarter: Vec<P3> = boat
        .lines
        .lines
        .iter()
        .flat_map(|l| {
            (0..=SHEER_PLACES).map(|i| l.spline.at(l.spline.end() * i as f64 / SHEER_PLACES as f64))
        })
        .filter(after)
        .chain(boat.lines.lines.iter().filter_map(|l| {
            // Where the quarter begins she is often widest.
            Some(l.spline.at(l.spline.parameter_at_x(from)?))
        }))
        .collect();
    let ends: Vec<P3> = boat.lines.lines.iter().map(|l| l.spline.at(l.spline.end())).collect();
    let width = widest(&ends);
    let width = if width > 0.5 * beam { width } else { widest(&quarter) };
    let thick = boat.panels.last().map_or(0.0, |p| p.thickness);
    let height = boat
        .woodwork
        .transom
        .as_ref()
        .map_or(0.0, |t| t.cut_out.map_or(t.top, |c| c.seat - c.bottom));
    (width + 2.0 * thick, height)
}
