//! The boat afloat: what she weighs, how she floats in every load case, her righting arm and
//! the table over drafts, what the public rule lets her carry, how fast, and her waterline.

mod limits;
mod shell;
mod speed;
mod waterline;

use super::Model;
use crate::float::capacity::{Capacity, KG_PER_POUND, Line, motor_row};
use crate::float::curves::{Draft, table};
use crate::float::equilibrium::{Floating, Weight, float};
use crate::float::mass::{Built, Item, items, total};
use crate::float::power::{Driven, SpeedPower};
use crate::float::righting::{RightingCurve, righting};
use crate::frames::{Skin, SkinPanel};
use crate::geom::mesh::Mesh;
use crate::geom::{P2, P3};
use crate::hull::{Hull, Load, LoadKind};

pub use limits::Opening;
pub use waterline::{AtStation, ByEye, Marked, line_on_skin};

/// A person, kg, as ISO 12217-3 counts the crew (shared check values, file 06, section 2).
pub const PERSON_KG: f64 = 75.0;
/// Height (mm) of a seated person's centre above the bottom: a thwart of 250 and about 250
/// above it. Common practice, no source.
const SEATED_MM: f64 = 500.0;
/// What is carried, kg. Common practice, no source.
const GEAR_KG: f64 = 15.0;
/// A motor's centre abaft the transom and above its clamps, mm. Common practice, no source.
const MOTOR_AT_MM: [f64; 2] = [120.0, 100.0];
/// Share of the sheer's half-breadth at which those on one side sit. Common practice, no
/// source.
const ONE_SIDE: f64 = 0.6;
/// Someone's step aft, mm.
pub const STEP_MM: f64 = 300.0;
/// Heels of the righting curve, degrees apart and at most.
const HEEL_STEP: f64 = 5.0;
const MOST_HEEL: f64 = 90.0;
/// Heel (radians) at which a boat that does not stand upright is let go.
const NUDGE: f64 = 0.05;
/// Drafts in the table.
const DRAFTS: usize = 16;

/// Names of the load cases.
pub const EMPTY: &str = "empty";
/// One person with all that is carried.
pub const ALONE: &str = "builder alone";
/// Everyone.
pub const FULL: &str = "full crew";
/// Moored with all but the people.
pub const NOBODY: &str = "motor aboard and nobody";
/// Everyone to starboard.
pub const ONE_SIDED: &str = "everyone on one side";
/// Full of water.
pub const SWAMPED: &str = "swamped";

/// How she floats with some of the loads aboard.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// "builder alone" …
    pub name: &'static str,
    /// Where each load is then, mm; `None` for one left ashore.
    pub aboard: Vec<Option<P3>>,
    /// Hull and loads together.
    pub weight: Weight,
    /// How she floats; `None` if she does not.
    pub floating: Option<Floating>,
    /// Least freeboard and the first place to flood, mm.
    pub freeboard: Option<(f64, Opening)>,
    /// Metacentric heights across and along, mm.
    pub gm: Option<[f64; 2]>,
}

/// What someone's step aft does.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The load that moves.
    pub load: String,
    /// How far aft, mm.
    pub by: f64,
    /// Change of trim, radians, by the stern positive.
    pub trim: f64,
    /// How much deeper the stern floats and how much higher the bow, mm.
    pub ends: [f64; 2],
}

/// The boat afloat.
#[derive(Debug, Clone, PartialEq)]
pub struct Afloat {
    /// What the hull weighs, item by item.
    pub items: Vec<Item>,
    /// Hull alone.
    pub hull: Weight,
    /// What is aboard.
    pub loads: Vec<Load>,
    /// Load cases, the swamped one last.
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
    /// Foam that the flotation rule asks for, litres, and its working.
    pub foam_needed: (f64, Vec<Line>),
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

/// What is aboard: what the document says, or the usual loads.
pub fn loads_of(model: &Model) -> Vec<Load> {
    let given = &model.hull.afloat.loads;
    if given.is_empty() { usual_loads(model) } else { given.clone() }
}

/// What is aboard unless the document says: someone at the tiller, someone forward, motor
/// and fuel of the safe-loading table's weights, gear.
fn usual_loads(model: &Model) -> Vec<Load> {
    let (fore, aft) = model.lines.extent(|p| p.x);
    let length = aft - fore;
    let keel = &model.lines.lines[0].spline;
    let bottom = |x: f64| keel.parameter_at_x(x).map_or(0.0, |t| keel.at(t).z);
    let load = |name: &str, kind, mass_kg: f64, share: f64, up: f64| {
        let x = (fore + share * length).round();
        let mass_kg = (10.0 * mass_kg).round() / 10.0;
        Load { name: name.into(), kind, mass_kg, x, y: 0.0, z: (bottom(x) + up).round() }
    };
    let motor = &model.hull.motor;
    let hung = motor.fitted && model.woodwork.transom.is_some();
    // At the tiller, or at the oars.
    let steering = if hung { 0.68 } else { 0.55 };
    let mut out = vec![
        load("builder", LoadKind::Person, PERSON_KG, steering, SEATED_MM),
        load("passenger", LoadKind::Person, PERSON_KG, 0.42, SEATED_MM),
        load("gear", LoadKind::Gear, GEAR_KG, 0.3, 150.0),
    ];
    if hung {
        let row = motor_row(motor.power_hp);
        let mass = (row.running + row.controls) * KG_PER_POUND;
        let mut hung = load("motor", LoadKind::Motor, mass, 1.0, 400.0);
        if let Some(t) = &model.woodwork.transom {
            let seat = t.cut_out.map_or(t.top, |c| c.seat);
            let at = t.across.space(P2::new(0.0, seat));
            hung.x = (at.x + MOTOR_AT_MM[0]).round();
            hung.z = (at.z + MOTOR_AT_MM[1]).round();
        }
        out.push(hung);
        for (name, kind, pounds, share) in [
            ("fuel", LoadKind::Fuel, row.fuel, 0.85),
            ("battery", LoadKind::Battery, row.battery, 0.8),
        ] {
            if pounds > 0.0 {
                out.push(load(name, kind, pounds * KG_PER_POUND, share, 150.0));
            }
        }
    }
    out
}

/// Hull and the loads that are aboard, at their places.
fn together(hull: Weight, loads: &[Load], aboard: &[Option<P3>]) -> Weight {
    let (mut mass, mut moment) = (hull.mass, hull.mass * hull.centre.coords);
    for (l, at) in loads.iter().zip(aboard) {
        if let Some(at) = at {
            mass += l.mass_kg;
            moment += l.mass_kg * at.coords;
        }
    }
    Weight { mass, centre: P3::from(moment / mass.max(1e-9)) }
}

/// Everything afloat of a model; `None` for a hull that holds no room.
pub(super) fn afloat(model: &Model) -> Option<Afloat> {
    let density = model.hull.afloat.density();
    let skin = skin(model);
    let built = built(model, &skin);
    let items = items(&built);
    let (mass, centre) = total(&items);
    let hull = Weight { mass, centre };
    let loads = loads_of(model);
    let shell = shell::shell(model)?;
    let mesh = &shell.outside;
    let openings = limits::openings(model);
    let places: Vec<P3> = openings.iter().map(|o| o.at).collect();
    let case = |name: &'static str, mesh: &Mesh, weight: Weight, aboard: Vec<Option<P3>>| {
        let floating = at_rest(mesh, weight, density);
        Case {
            name,
            aboard,
            weight,
            floating,
            freeboard: floating.and_then(|f| limits::first_to_flood(&openings, &f)),
            gm: floating.map(|f| metacentric(&f, weight)),
        }
    };
    let first = loads.iter().position(|l| l.kind == LoadKind::Person);
    let with = |wanted: &dyn Fn(usize, &Load) -> bool| -> Vec<Option<P3>> {
        let place = |(i, l): (usize, &Load)| wanted(i, l).then_some(P3::new(l.x, l.y, l.z));
        loads.iter().enumerate().map(place).collect()
    };
    let plain = |name, aboard: Vec<Option<P3>>| {
        let weight = together(hull, &loads, &aboard);
        case(name, mesh, weight, aboard)
    };
    let everyone = with(&|_, _| true);
    let full = together(hull, &loads, &everyone);
    let fixed = with(&|_, l| matches!(l.kind, LoadKind::Motor | LoadKind::Battery));
    let carried = with(&|_, l| l.kind != LoadKind::Person);
    // What lies to one side makes that the side to be asked about.
    let side = if together(hull, &loads, &carried).centre.y < 0.0 { -1.0 } else { 1.0 };
    let mut cases = vec![
        plain(EMPTY, with(&|_, _| false)),
        plain(ALONE, with(&|i, l| l.kind != LoadKind::Person || Some(i) == first)),
        plain(FULL, everyone.clone()),
        plain(NOBODY, carried),
        plain(ONE_SIDED, on_one_side(model, &loads, side)),
    ];
    let heels: Vec<f64> = (0..=(MOST_HEEL / HEEL_STEP) as usize)
        .map(|i| (HEEL_STEP * i as f64).to_radians())
        .collect();
    let fixed = together(hull, &loads, &fixed);
    let limits = limits::limits(model, &items, mesh, hull, fixed, &loads, &places);
    let (solids, weight) =
        limits::swamped(&built, &shell, &items, &loads, limits.capacity.persons_weight, density);
    cases.push(case(SWAMPED, &solids, weight, everyone));
    let marked_case = cases.iter().find(|c| c.name == model.hull.afloat.waterline.with.word());
    let marked = marked_case.and_then(|c| waterline::marked(model, mesh, c.weight, density));
    let floating = cases.iter().find(|c| c.name == FULL).and_then(|c| c.floating);
    let driven = floating.and_then(|f| speed::driven(model, &f, full, density));
    Some(Afloat {
        steps: steps(mesh, hull, &loads, density, model),
        curves: curves(mesh, &places, density),
        // To the side to which she is heavier, starboard and port being alike.
        righting: righting(mesh, to_starboard(full), density, &places, &heels),
        mesh_error: shell.error,
        list_weight: limits.list_weight,
        capacity: limits.capacity,
        foam_needed: limits.foam_needed,
        speed: driven.map(|d| d.table()),
        items,
        hull,
        loads,
        cases,
        density,
        openings,
        driven,
        marked,
    })
}

fn skin(model: &Model) -> Skin<'_> {
    Skin {
        lines: &model.lines,
        panels: model
            .panels
            .iter()
            .map(|p| SkinPanel { name: &p.name, surface: &p.surface, thickness: p.thickness })
            .collect(),
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
    }
}

/// Persons moved out as far as they would sit, to starboard for a side of 1, to port for -1;
/// all else where it is.
fn on_one_side(model: &Model, loads: &[Load], side: f64) -> Vec<Option<P3>> {
    let sheer = &model.lines.lines[model.lines.lines.len() - 1].spline;
    loads
        .iter()
        .map(|l| {
            let half = sheer.parameter_at_x(l.x).map_or(0.0, |t| sheer.at(t).y);
            let y = if l.kind == LoadKind::Person { side * ONE_SIDE * half } else { l.y };
            Some(P3::new(l.x, y, l.z))
        })
        .collect()
}

/// A weight with its centre on the starboard side.
fn to_starboard(w: Weight) -> Weight {
    Weight { centre: P3::new(w.centre.x, w.centre.y.abs(), w.centre.z), ..w }
}

/// How she comes to rest: where she does not stand upright, over to the side to which she
/// falls; `None` if she sinks or turns over.
fn at_rest(mesh: &Mesh, weight: Weight, density: f64) -> Option<Floating> {
    let upright = float(mesh, weight, density, (0.0, 0.0))?;
    let found = match metacentric(&upright, weight)[0] {
        gm if gm <= 0.0 && upright.heel.abs() < NUDGE => {
            float(mesh, weight, density, (upright.trim, NUDGE))?
        }
        _ => upright,
    };
    (found.heel.abs() < std::f64::consts::FRAC_PI_2).then_some(found)
}

/// GM across and along, mm.
fn metacentric(f: &Floating, weight: Weight) -> [f64; 2] {
    let above = (weight.centre - f.immersed.centroid).dot(&f.water.plane.normal);
    [0, 1].map(|i| f.immersed.inertia[i] / f.immersed.volume - above)
}

/// Each load moved a step aft by itself, all aboard.
fn steps(mesh: &Mesh, hull: Weight, loads: &[Load], density: f64, model: &Model) -> Vec<Step> {
    let places: Vec<Option<P3>> = loads.iter().map(|l| Some(P3::new(l.x, l.y, l.z))).collect();
    let Some(before) = float(mesh, together(hull, loads, &places), density, (0.0, 0.0)) else {
        return Vec::new();
    };
    let (fore, aft) = model.lines.extent(|p| p.x);
    let ends = [P3::new(aft, 0.0, 0.0), P3::new(fore, 0.0, 0.0)];
    let movable = |l: &&Load| l.kind != LoadKind::Motor && l.mass_kg > 0.0;
    loads
        .iter()
        .enumerate()
        .filter(|(_, l)| movable(l))
        .filter_map(|(i, l)| {
            let mut moved = places.clone();
            moved[i] = Some(P3::new(l.x + STEP_MM, l.y, l.z));
            let start = (before.trim, before.heel);
            let after = float(mesh, together(hull, loads, &moved), density, start)?;
            let rise = ends.map(|p| after.water.plane.distance(p) - before.water.plane.distance(p));
            Some(Step {
                load: l.name.clone(),
                by: STEP_MM,
                trim: after.trim - before.trim,
                ends: [-rise[0], rise[1]],
            })
        })
        .collect()
}

/// Even drafts from a little water to the lowest place where it comes in at even keel.
fn curves(mesh: &Mesh, openings: &[P3], density: f64) -> Vec<Draft> {
    let lowest = |points: &[P3]| points.iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
    let step = (lowest(openings) - lowest(&mesh.vertices)) / DRAFTS as f64;
    let drafts: Vec<f64> = (1..=DRAFTS).map(|i| step * i as f64).collect();
    table(mesh, &drafts, density)
}
