//! The boat full of water: how she floats then on her wood and foam, level and with half of
//! what hangs on her at one side, and the foam that the public rule asks for.

use std::sync::Arc;

use super::super::Recomputed;
use super::Before;
use super::cases::{Case, Loading};
use super::float_mesh::FloatMesh;
use super::limits::Limits;
use crate::float::body::{Body, Floats, Measured};
use crate::float::capacity::{Drive, KG_PER_POUND};
use crate::float::equilibrium::{Weight, volume_of};
use crate::float::flotation::{Flotation, counted_persons, foam_needed};
use crate::float::mass::{Built, Item, total};
use crate::float::motors::motor_weight;
use crate::float::swamped::{block, bodies, solids};
use crate::float::volume::{Water, immersed};
use crate::float::working::Line;
use crate::geom::mesh::Mesh;
use crate::geom::{P3, V3};
use crate::hull::loads::FOAM_KG_M3;
use crate::hull::{Foam, LoadKind};
use crate::part::{CaseId, PartId};

/// What motor and battery displace under water, as a share of their weight: what table 183.75
/// takes off it. Fuel's density over water's, from memory.
const MOTOR_DISPLACES: f64 = 0.15;
const BATTERY_DISPLACES: f64 = 0.45;
const FUEL_DENSITY: f64 = 0.74;
/// Of the persons' share the part that is moved to one side in the level test: half. Source:
/// the handbook to 33 CFR part 183.
const ASIDE: f64 = 0.5;

/// What someone leaves to her presses on the seat, this far (mm) under the middle of the body.
/// Common practice, no source.
const SEAT_UNDER_MM: f64 = 250.0;

/// What floats of her then.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Solids {
    /// All her solids and foam, as one mesh.
    mesh: Mesh,
    /// What her items displace in all, mm³.
    solid: f64,
    /// What her solids displace under the awash waterline, litres.
    under: f64,
    /// Foam built in that is under it, litres.
    pub foam_under: f64,
}

/// What is said of her full of water.
#[derive(Debug)]
pub(super) struct FullOfWater {
    pub cases: [Case; 2],
    /// Foam asked for, litres, and its working.
    pub needed: (f64, Vec<Line>),
    pub solids: Arc<Solids>,
}

/// Works all of it out, or takes over what was found `before` with the same places where
/// water comes in.
pub(super) fn full_of_water(
    afloat: &Loading,
    (built, float_mesh): (&Built, &FloatMesh),
    items: &[Item],
    limits: &Limits,
    before: Option<Before>,
    count: &mut Recomputed,
) -> FullOfWater {
    let solid: f64 = items.iter().map(|i| i.solid).sum();
    let same_solids = before
        .filter(|b| b.found.solids.solid == solid && b.model.parts.displace_alike(afloat.parts));
    let solids = match same_solids {
        Some(b) => b.found.solids.clone(),
        None => Arc::new(solids_of(afloat, built, float_mesh, solid)),
    };
    let needed = asked(afloat, items, limits, solids.under);
    let same_loads = same_solids.filter(|b| b.found.loads == afloat.loads);
    let aside = afloat.on_one_side(afloat.heavier_side());
    let mut computed = false;
    let cases = [(CaseId::Swamped, 0.0), (CaseId::SwampedAside, ASIDE)].map(|(id, share)| {
        let places: Vec<Option<P3>> = (afloat.everyone().into_iter().zip(&aside))
            .map(|(at, out)| Some(at? + share * ((*out)? - at?)))
            .collect();
        let weight = laden(afloat, items, limits, &places);
        let same = |c: &&Case| c.weight == weight && c.aboard == places;
        match same_loads.and_then(|b| b.found.case(id)).filter(same) {
            Some(old) => old.clone(),
            None => {
                computed = true;
                let mut mesh = solids.mesh.clone();
                displaced_by_loads(afloat, &places, &mut mesh);
                // Most sink outright, which needs no more than her volume.
                let measured = Measured::of(&mesh);
                if volume_of(weight.mass, afloat.density) >= measured.volume() {
                    afloat.case(id, &measured, weight, places)
                } else {
                    afloat.case(id, &Body::of(&mesh), weight, places)
                }
            }
        }
    });
    count.swamped += usize::from(computed || same_solids.is_none());
    FullOfWater { cases, needed, solids }
}

fn solids_of(afloat: &Loading, built: &Built, float_mesh: &FloatMesh, solid: f64) -> Solids {
    let mut mesh = solids(built, &float_mesh.outside, &float_mesh.moulded, solid);
    bodies(&mut mesh, built.parts, |id| matches!(id, PartId::FoamBox(_)));
    let awash = awash(afloat);
    let mut buoyant = Mesh::default();
    let foam = |id| matches!(id, PartId::Foam(_));
    bodies(&mut buoyant, built.parts, foam);
    let litres = |mesh: &Mesh| immersed(mesh, &awash).volume * 1e-6;
    let under = litres(&mesh);
    let foam_under = litres(&buoyant).max(0.0);
    bodies(&mut mesh, built.parts, foam);
    Solids { mesh, solid, under, foam_under }
}

/// Level water to her lowest opening: as deep as she may lie full of water.
fn awash(afloat: &Loading) -> Water {
    Water::level(afloat.openings.iter().map(|o| o.at.z).fold(f64::INFINITY, f64::min))
}

/// The foam that the rule asks for, for the motor of the greatest marked power and its
/// persons; `under` is what her solids displace under the awash waterline, litres.
fn asked(afloat: &Loading, items: &[Item], limits: &Limits, under: f64) -> (f64, Vec<Line>) {
    let plan = &afloat.boat.hull.afloat;
    let volume: f64 = plan.foam.iter().map(Foam::volume).sum();
    let own: f64 = items.iter().map(|i| i.solid).sum::<f64>() - volume;
    let foam_mass: f64 = plan.foam.iter().map(|f| f.volume() * f.density_kg_m3 * 1e-9).sum();
    let c = &limits.capacity;
    let drive = match (limits.drive, c.horsepower) {
        (Drive::Outboard(_), Some(hp)) => Drive::Outboard(hp),
        (Drive::Small(_), Some(hp)) => Drive::Small(hp),
        (drive, _) => drive,
    };
    foam_needed(&Flotation {
        // Foam is weighed against what it lifts.
        hull: afloat.hull.mass - foam_mass * (1.0 + 0.01 * plan.margin_pct),
        under,
        displaced: own * 1e-6,
        drive,
        persons: c.persons_weight,
        capacity: c.weight,
        motor: drive.horsepower().map_or(0.0, motor_weight),
        foam: plan.foam.first().map_or(FOAM_KG_M3, |f| f.density_kg_m3),
    })
}

/// What motor, battery, fuel and gear displace at these places, added to her solids.
fn displaced_by_loads(afloat: &Loading, places: &[Option<P3>], mesh: &mut Mesh) {
    for (l, at) in afloat.loads.iter().zip(places) {
        let Some(at) = at else {
            continue;
        };
        // Persons hang on to her; gear is as heavy as water.
        let displaced = match l.kind {
            LoadKind::Person => 0.0,
            LoadKind::Motor => MOTOR_DISPLACES,
            LoadKind::Battery => BATTERY_DISPLACES,
            LoadKind::Fuel => 1.0 / FUEL_DENSITY,
            LoadKind::Gear => 1.0,
        };
        let volume = displaced * l.mass_kg / afloat.density * 1e9;
        if volume > 0.0 {
            let half = 0.5 * volume.cbrt() * V3::new(1.0, 1.0, 1.0);
            block(mesh, at - half, at + half);
        }
    }
}

/// Her weight full of water with the loads at these places: all that is carried, and of the
/// persons the share that the flotation rule leaves to the boat.
fn laden(afloat: &Loading, items: &[Item], limits: &Limits, places: &[Option<P3>]) -> Weight {
    let (mass, centre) = total(items);
    let persons: f64 =
        afloat.loads.iter().filter(|l| l.kind == LoadKind::Person).map(|l| l.mass_kg).sum();
    let counted = counted_persons(limits.drive, persons / KG_PER_POUND) * KG_PER_POUND;
    let share = if persons > 0.0 { counted / persons } else { 0.0 };
    let (mut all, mut moment) = (mass, mass * centre.coords);
    for (l, at) in afloat.loads.iter().zip(places) {
        let Some(at) = at else {
            continue;
        };
        let counted = if l.kind == LoadKind::Person { share } else { 1.0 };
        let under = if l.kind == LoadKind::Person { SEAT_UNDER_MM } else { 0.0 };
        all += counted * l.mass_kg;
        moment += counted * l.mass_kg * (at.coords - under * V3::z());
    }
    Weight { mass: all, centre: P3::from(moment / all.max(1e-9)) }
}
