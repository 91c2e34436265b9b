//! What the speeds are worked from: the after body as a prism, weights and thrust.

use super::super::ashore::Ashore;
use super::cases::Loading;
use crate::float::equilibrium::{Floating, Weight};
use crate::float::hump::Form;
use crate::float::parasitic::{Beside, SEATED_M2};
use crate::float::planing::{GRAVITY, Prism};
use crate::float::power::{AfterBody, Driven, HORSEPOWER};
use crate::float::volume::Water;
use crate::geom::P3;
use crate::hull::LoadKind;
use crate::panel::section;

/// Kinematic viscosity of fresh and of salt water at 15 °C, m²/s. Source: ITTC 7.5-02-01-03
/// (from memory).
const VISCOSITY: [f64; 2] = [1.139e-6, 1.188e-6];
/// The propeller's axis below the anti-ventilation plate, mm. Common practice, no source.
const AXIS_BELOW_PLATE_MM: f64 = 150.0;
/// Places from amidships to the transom over which the prism is meant.
const PLACES: usize = 10;

/// The outermost chine under water amidships: the bottom's edge when she planes.
fn chine(boat: Ashore, water: &Water, x: f64) -> usize {
    let wet = |line: &usize| {
        let s = &boat.lines.lines[*line].spline;
        s.parameter_at_x(x).is_some_and(|t| water.plane.distance(s.at(t)) < 0.0)
    };
    (1..boat.lines.lines.len() - 1).rev().find(wet).unwrap_or(1)
}

/// Half-breadth of the chine (outside), deadrise (radians) and slope of the keel (radians,
/// rising aft positive) at `x`.
fn bottom(boat: Ashore, chine: usize, x: f64) -> Option<(f64, f64, f64)> {
    let at = |line: usize| {
        let s = &boat.lines.lines[line].spline;
        let t = s.parameter_at_x(x)?;
        Some((s.at(t), s.jet(t).d1))
    };
    let ((keel, along), (edge, _)) = (at(0)?, at(chine)?);
    let thick = boat.panels.get(chine).map_or(0.0, |p| p.thickness);
    let rise = edge.z - keel.z;
    Some((edge.y + thick, rise.atan2(edge.y.max(1.0)), along.z.atan2(along.x)))
}

/// The boat and what drives her, as she floats under `weight`; `None` without a bottom from
/// amidships aft. The thrust runs along the keel (common practice, no source).
pub(super) fn driven(afloat: &Loading, floating: &Floating, weight: Weight) -> Option<Driven> {
    let Loading { boat, body, density, .. } = *afloat;
    let motor = &boat.hull.motor;
    if boat.lines.lines.len() < 3 {
        return None;
    }
    let hung = motor.fitted && boat.woodwork.transom.is_some();
    let wet: Vec<P3> = boat
        .panels
        .iter()
        .flat_map(|p| section(&p.surface, floating.water.plane, p.thickness))
        .collect();
    let (fore, aft) =
        wet.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.x), h.max(p.x)));
    let keel = &boat.lines.lines[0].spline;
    let stern = keel.at(keel.end());
    if wet.is_empty() || aft <= fore {
        return None;
    }
    let reach = |x: f64| x.min(stern.x - 1.0);
    let middle = reach(0.5 * (fore + aft));
    let end = reach(stern.x);
    let edge = chine(boat, &floating.water, middle);
    let run: Vec<(f64, f64, f64)> = (0..=PLACES)
        .filter_map(|i| bottom(boat, edge, middle + (end - middle) * i as f64 / PLACES as f64))
        .collect();
    let (first, last) = (run.first()?, run.last()?);
    let mean =
        |of: &dyn Fn(&(f64, f64, f64)) -> f64| run.iter().map(of).sum::<f64>() / run.len() as f64;
    let thick = boat.panels.first().map_or(0.0, |p| p.thickness);
    // Along and square to the keel's run aft, from where it ends.
    let slope = mean(&|r| r.2);
    let g = weight.centre - stern;
    let lcg = -(g.x * slope.cos() + g.z * slope.sin());
    let vcg = -g.x * slope.sin() + g.z * slope.cos() + thick;
    let power = if hung { motor.power_hp * HORSEPOWER / 1000.0 } else { 0.0 };
    let axis = motor.plate_above_mm - AXIS_BELOW_PLATE_MM;
    Some(Driven {
        prism: Prism {
            weight: weight.mass * GRAVITY,
            beam: 2.0 * mean(&|r| r.0) / 1000.0,
            deadrise: mean(&|r| r.1).to_degrees().max(0.0),
            lcg: lcg / 1000.0,
            vcg: vcg / 1000.0,
            thrust_arm: (vcg - axis) / 1000.0,
            thrust_angle: 0.0,
            density,
            viscosity: VISCOSITY[usize::from(boat.hull.afloat.salt)],
        },
        after: AfterBody {
            beam_share: last.0 / first.0.max(1.0),
            deadrise_turn: (last.1 - first.1).to_degrees(),
            keel_turn: (last.2 - first.2).to_degrees(),
        },
        form: Form::of(body.mesh(), floating, stern)?,
        beside: Beside { air: to_the_wind(afloat, floating), motor: power },
        waterline: (aft - fore) / 1000.0,
        motor: power,
    })
}

/// What meets the air, m²: her greatest beam by the highest of her over the water amidships
/// and aft of it, and those aboard.
fn to_the_wind(afloat: &Loading, floating: &Floating) -> f64 {
    let lines = &afloat.boat.lines;
    let sheer = &lines.lines[lines.lines.len() - 1].spline;
    let (fore, aft) = lines.extent(|p| p.x);
    let middle = sheer.parameter_at_x(0.5 * (fore + aft)).map_or(sheer.end(), |t| t);
    let high = [sheer.at(middle), sheer.at(sheer.end())]
        .map(|p| floating.water.plane.distance(p))
        .into_iter()
        .fold(0.0, f64::max);
    let persons = afloat.loads.iter().filter(|l| l.kind == LoadKind::Person).count();
    lines.beam_overall() * high * 1e-6 + SEATED_M2 * persons as f64
}
