//! The boat afloat: what she weighs, how she floats in every load case, her righting arm and
//! the table over drafts, what the public rule lets her carry, how fast, and her waterline.

mod aboard;
mod cases;
mod limits;
mod shell;
mod speed;
mod swamped;
mod waterline;

use super::Model;
use crate::float::capacity::{Capacity, KG_PER_POUND, Line};
use crate::float::curves::{Draft, table};
use crate::float::equilibrium::Weight;
use crate::float::mass::{Built, Item, items, total};
use crate::float::power::{Driven, SpeedPower};
use crate::float::righting::{RightingCurve, righting};
use crate::frames::Skin;
use crate::geom::P3;
use crate::hull::{Hull, Load};
use cases::{Loading, to_starboard};

pub use aboard::{PERSON_KG, free_seat, loads_of, usual_loads};
pub use cases::{
    ALONE, Case, EMPTY, FULL, NOBODY, ONE_SIDED, STEP_MM, SWAMPED, SWAMPED_ASIDE, Step,
};
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
}

impl Afloat {
    /// A case by its name.
    pub fn case(&self, name: &str) -> Option<&Case> {
        self.cases.iter().find(|c| c.name == name)
    }

    /// The case with everyone aboard.
    pub fn full(&self) -> Option<&Case> {
        self.case(FULL)
    }

    /// Foam built in, litres.
    pub fn foam(&self, hull: &Hull) -> f64 {
        // The sum of nothing is a negative zero.
        hull.afloat.foam.iter().map(|f| f.volume() * 1e-6).sum::<f64>() + 0.0
    }
}

/// Everything afloat of a model; `None` for a hull that holds no room.
pub(super) fn afloat(model: &Model) -> Option<Afloat> {
    let density = model.hull.afloat.density();
    let skin = skin(model);
    let built = built(model, &skin);
    let items = items(&built);
    let (mass, centre) = total(&items);
    let shell = shell::shell(model)?;
    let openings = limits::openings(model);
    let loads = loads_of(model);
    let afloat = Loading {
        model,
        mesh: &shell.outside,
        hull: Weight { mass, centre },
        loads: &loads,
        openings: &openings,
        density,
    };
    // What does not wait for the rules is worked beside them.
    let (limits, mut cases, (curves, righting, steps)) = std::thread::scope(|scope| {
        let beside = scope.spawn(|| (curves(&afloat), curve(&afloat), afloat.steps()));
        let limits = limits::limits(&afloat);
        let cases = afloat.cases();
        let beside = beside.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        (limits, cases, beside)
    });
    let swamped = swamped::full_of_water(&afloat, &built, &shell, &items, &limits);
    cases.extend(swamped.cases);
    let as_marked = afloat.as_marked(limits.capacity.allowed().1 * KG_PER_POUND);
    let of = |name: &str| cases.iter().find(|c| c.name == name);
    let marked = of(model.hull.afloat.waterline.with.word())
        .and_then(|c| waterline::marked(model, afloat.mesh, c.weight, density));
    let full = of(FULL).and_then(|c| Some((c.floating?, c.weight)));
    let driven = full.and_then(|(f, weight)| speed::driven(&afloat, &f, weight));
    Some(Afloat {
        steps,
        curves,
        righting,
        mesh_error: shell.error,
        list_weight: limits.list_weight,
        as_marked,
        capacity: limits.capacity,
        foam_needed: swamped.needed,
        foam_under: swamped.under,
        speed: driven.map(|d| d.table()),
        hull: afloat.hull,
        items,
        loads,
        cases,
        density,
        openings,
        driven,
        marked,
    })
}

/// Righting arm with everyone aboard, to the side to which she is heavier, starboard and port
/// being alike.
fn curve(afloat: &Loading) -> RightingCurve {
    let heels: Vec<f64> = (0..=(MOST_HEEL / HEEL_STEP) as usize)
        .map(|i| (HEEL_STEP * i as f64).to_radians())
        .collect();
    let weight = to_starboard(afloat.together(&afloat.everyone()));
    righting(afloat.mesh, weight, afloat.density, &afloat.places(), &heels)
}

/// Even drafts from a little water to the lowest place where it comes in at even keel.
fn curves(afloat: &Loading) -> Vec<Draft> {
    let lowest = |points: &[P3]| points.iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
    let step = (lowest(&afloat.places()) - lowest(&afloat.mesh.vertices)) / DRAFTS as f64;
    let drafts: Vec<f64> = (1..=DRAFTS).map(|i| step * i as f64).collect();
    table(afloat.mesh, &drafts, afloat.density)
}

fn skin(model: &Model) -> Skin<'_> {
    Skin {
        lines: &model.lines,
        panels: model.panels.iter().map(super::PanelModel::of_skin).collect(),
    }
}

fn built<'a>(model: &'a Model, skin: &'a Skin<'a>) -> Built<'a> {
    let work = &model.woodwork;
    Built {
        hull: &model.hull,
        materials: &model.materials,
        skin,
        sheets: model.panels.iter().map(|p| p.sheet.as_str()).collect(),
        members: &model.members,
        frames: &work.frames,
        transoms: [("transom", &work.transom), ("bow transom", &work.bow_transom)]
            .into_iter()
            .filter_map(|(n, t)| Some((n, t.as_ref()?)))
            .collect(),
        stems: [("stem", &work.stem), ("sternpost", &work.sternpost)]
            .into_iter()
            .filter_map(|(n, s)| Some((n, s.as_ref()?)))
            .collect(),
        knee: work.knee.as_ref(),
    }
}
