//! The boat afloat: what she weighs, how she floats in every load case, her righting arm and
//! the table over drafts, what the public rule lets her carry, how fast, and her waterline.

mod aboard;
mod blocks;
mod cases;
pub(super) mod float_mesh;
mod limits;
mod speed;
mod swamped;
mod waterline;

use std::sync::Arc;

use super::ashore::Ashore;
use super::{Model, Parts, Recomputed};
use crate::float::body::Body;
use crate::float::capacity::{Capacity, KG_PER_POUND};
use crate::float::curves::{Draft, table};
use crate::float::equilibrium::Weight;
use crate::float::mass::{Built, Item, ItemId, items, total};
use crate::float::power::{Driven, SpeedPower};
use crate::float::righting::{RightingCurve, righting};
use crate::float::working::Line;
use crate::frames::Skin;
use crate::geom::P3;
use crate::hull::{Hull, Load};
use crate::part::CaseId;
use cases::{Loading, to_starboard};
use float_mesh::FloatMesh;
use swamped::Solids;

pub use aboard::{PERSON_KG, free_seat};
pub use cases::{Case, STEP_MM, Step};
pub use limits::Opening;
pub use waterline::{AtStation, ByEye, Marked, line_on_skin};

/// Heels of the righting curve, degrees apart and at most.
const HEEL_STEP: f64 = 5.0;
const MOST_HEEL: f64 = 90.0;
/// Drafts in the table.
const DRAFTS: usize = 16;

/// The boat afloat.
#[derive(Debug, Clone, PartialEq)]
pub struct Afloat {
    /// What the hull weighs, item by item.
    pub items: Vec<Item>,
    /// For each row of what the document weighs, the items that it names.
    pub on_scales: Vec<Vec<ItemId>>,
    /// Hull alone.
    pub hull: Weight,
    /// What is aboard.
    pub loads: Vec<Load>,
    /// Load cases, the swamped ones last.
    pub cases: Vec<Case>,
    /// What moves the trim, with the full crew.
    pub steps: Vec<Step>,
    /// Over drafts at even keel.
    pub curves: Vec<Draft>,
    /// With everyone aboard and trim free.
    pub righting: RightingCurve,
    /// Water, kg/m³.
    pub density: f64,
    /// Estimated error of displacement and waterplane by the mesh, as a share.
    pub mesh_error: f64,
    /// Where water comes in.
    pub openings: Vec<Opening>,
    /// Weight along one side that brings water aboard, kg.
    pub list_weight: Option<f64>,
    /// The safe-loading rule.
    pub capacity: Capacity,
    /// With all the persons that the rule allows beside her own motor (beside the motor of the
    /// greatest marked power, where hers is larger) on one side; `None` where that is none.
    pub as_marked: Option<Case>,
    /// Foam that the flotation rule asks for, litres, and its working.
    pub foam_needed: (f64, Vec<Line>),
    /// Foam built in that lies under the awash waterline, where it lifts, litres.
    pub foam_under: f64,
    /// What the speeds were worked from.
    pub driven: Option<Driven>,
    /// Speed and power.
    pub speed: Option<SpeedPower>,
    /// The waterline that is marked on panels and frames.
    pub marked: Option<Marked>,
    /// The meshes that she floats on.
    float_mesh: Arc<FloatMesh>,
    /// What floats of her when she is full of water.
    solids: Arc<Solids>,
    /// What the list test was made with: the boat, and where weights were put.
    list_test: (Weight, P3),
}

impl Afloat {
    /// The case `id`.
    pub fn case(&self, id: CaseId) -> Option<&Case> {
        self.cases.iter().find(|c| c.id == id)
    }

    /// The case with everyone aboard.
    pub fn full(&self) -> Option<&Case> {
        self.case(CaseId::Full)
    }

    /// Foam built in, litres.
    pub fn foam(&self, hull: &Hull) -> f64 {
        // The sum of nothing is a negative zero.
        hull.afloat.foam.iter().map(|f| f.volume() * 1e-6).sum::<f64>() + 0.0
    }
}

/// What the model before found on the same skin, and what of it still holds.
#[derive(Debug, Clone, Copy)]
struct Before<'a> {
    model: &'a Model,
    found: &'a Afloat,
}

impl<'a> Before<'a> {
    /// If she floats in the same water, which comes in at the same places.
    fn in_water(self, density: f64, openings: &[Opening]) -> Option<Before<'a>> {
        let found = self.found;
        (found.density == density && found.openings == openings).then_some(self)
    }
}

/// The meshes that a model before was floated on, if it could be.
pub(super) fn float_mesh_of(before: &Model) -> Option<Arc<FloatMesh>> {
    before.afloat.as_ref().map(|a| a.float_mesh.clone())
}

/// What is aboard: what the document says, or the usual loads.
pub fn loads_of(model: &Model) -> Vec<Load> {
    aboard::loads_of(Ashore::of(model))
}

/// What is aboard unless the document says: someone at the tiller, someone forward, motor
/// and fuel of the safe-loading table's weights, gear.
pub fn usual_loads(model: &Model) -> Vec<Load> {
    aboard::usual_loads(Ashore::of(model))
}

/// Everything afloat of a boat on these meshes; `None` for a hull that holds no room. On the
/// same skin as the model `before` it is computed only as far as it changes.
pub(super) fn afloat(
    boat: Ashore,
    parts: &Parts,
    skin: &Skin,
    float_mesh: Option<Arc<FloatMesh>>,
    before: Option<&Model>,
    count: &mut Recomputed,
) -> Option<Afloat> {
    let before = before.and_then(|model| Some(Before { model, found: model.afloat.as_deref()? }));
    let float_mesh = float_mesh?;
    let density = boat.hull.afloat.density();
    let blocks = blocks::blocks(boat);
    let built = Built {
        hull: boat.hull,
        materials: boat.materials,
        skin,
        parts: parts.all(),
        blocks: &blocks,
    };
    let (items, on_scales) = items(&built);
    let (mass, centre) = total(&items);
    let body = Body::of(&float_mesh.outside);
    let openings = limits::openings(boat);
    let loads = aboard::loads_of(boat);
    let afloat = Loading {
        boat,
        parts,
        body: &body,
        hull: Weight { mass, centre },
        loads: &loads,
        openings: &openings,
        density,
    };
    let before = before.and_then(|b| b.in_water(density, &openings));
    let old = before.map(|b| b.found);
    let everyone = afloat.together(&afloat.everyone());
    let old_curves = old.map(|a| a.curves.clone());
    let old_righting =
        old.filter(|a| a.full().map(|c| c.weight) == Some(everyone)).map(|a| a.righting.clone());
    let old_steps =
        old.filter(|a| a.loads == loads && a.hull == afloat.hull).map(|a| a.steps.clone());
    count.drafts += usize::from(old_curves.is_none());
    count.righting += usize::from(old_righting.is_none());
    count.steps += usize::from(old_steps.is_none());
    // What the rules and the boat full of water wait for, and beside it what nothing waits for.
    let ((limits, swamped), beside) = std::thread::scope(|scope| {
        let beside = || {
            let cases = afloat.cases(old);
            let curves = old_curves.unwrap_or_else(|| curves(&afloat));
            let righting = old_righting.unwrap_or_else(|| curve(&afloat));
            let steps = old_steps.unwrap_or_else(|| afloat.steps());
            (curves, righting, steps, cases)
        };
        // Where next to nothing is to be done a thread costs more than it does.
        let nothing = old.is_some_and(|a| a.loads == loads && a.hull == afloat.hull);
        let (other, here) = match nothing {
            true => (None, Some(beside)),
            false => (Some(scope.spawn(beside)), None),
        };
        let limits = limits::limits(&afloat, old, count);
        let swamped =
            swamped::full_of_water(&afloat, (&built, &float_mesh), &items, &limits, before, count);
        let other = other
            .map(|o| o.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
            .or_else(|| here.map(|work| work()));
        ((limits, swamped), other)
    });
    let (curves, righting, steps, (mut cases, computed)) = beside?;
    count.cases += computed;
    cases.extend(swamped.cases);
    let (as_marked, computed) = afloat.as_marked(limits.capacity.allowed().1 * KG_PER_POUND, old);
    count.cases += computed;
    let of = |id: CaseId| cases.iter().find(|c| c.id == id);
    let marked = of(boat.hull.afloat.waterline.with.case()).and_then(|c| {
        let same = before.filter(|b| {
            b.model.hull.afloat.waterline == boat.hull.afloat.waterline
                && b.model.stations == boat.stations
                && b.found.case(c.id).map(|o| o.weight) == Some(c.weight)
        });
        match same {
            Some(b) => b.found.marked.clone(),
            None => {
                count.marks += 1;
                waterline::marked(boat, afloat.body, c.weight, density)
            }
        }
    });
    let full = of(CaseId::Full).and_then(|c| Some((c.floating?, c.weight)));
    let driven = full.and_then(|(f, weight)| speed::driven(&afloat, &f, weight));
    let speed = match old.filter(|a| a.driven == driven) {
        Some(a) => a.speed.clone(),
        None => {
            count.speeds += 1;
            driven.map(|d| d.table())
        }
    };
    Some(Afloat {
        steps,
        curves,
        righting,
        mesh_error: float_mesh.error,
        list_weight: limits.list_weight,
        list_test: limits.list_test,
        as_marked,
        capacity: limits.capacity,
        foam_needed: swamped.needed,
        foam_under: swamped.solids.foam_under,
        solids: swamped.solids,
        speed,
        hull: afloat.hull,
        items,
        on_scales,
        loads,
        cases,
        density,
        openings,
        driven,
        marked,
        float_mesh,
    })
}

/// Righting arm with everyone aboard, to the side to which she is heavier, starboard and port
/// being alike.
fn curve(afloat: &Loading) -> RightingCurve {
    let heels: Vec<f64> = (0..=(MOST_HEEL / HEEL_STEP) as usize)
        .map(|i| (HEEL_STEP * i as f64).to_radians())
        .collect();
    let weight = to_starboard(afloat.together(&afloat.everyone()));
    righting(afloat.body, weight, afloat.density, &afloat.places(), &heels)
}

/// Even drafts from a little water to the lowest place where it comes in at even keel.
fn curves(afloat: &Loading) -> Vec<Draft> {
    let lowest = |points: &[P3]| points.iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
    let step = (lowest(&afloat.places()) - lowest(&afloat.body.mesh().vertices)) / DRAFTS as f64;
    let drafts: Vec<f64> = (1..=DRAFTS).map(|i| step * i as f64).collect();
    table(afloat.body, &drafts, afloat.density)
}
