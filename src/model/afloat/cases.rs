//! Load cases: who is aboard, how she floats then, and what a step aft does.

use super::super::Parts;
use super::super::ashore::Ashore;
use super::Afloat;
use super::limits::{Opening, first_to_flood, furthest_out};
use crate::float::body::{Body, Floats};
use crate::float::equilibrium::{
    Floating, Start, Weight, float, float_at_heel, float_short_of, metacentric, volume_of,
};
use crate::geom::{P3, V3};
use crate::hull::{Load, LoadKind};
use crate::part::CaseId;

/// Someone's step aft, mm.
pub const STEP_MM: f64 = 300.0;
/// Heel (radians) at which a boat that does not stand upright is let go.
const NUDGE: f64 = 0.05;

/// How she floats with some of the loads aboard.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// Which.
    pub id: CaseId,
    /// Where each load is then, mm; `None` for one left ashore.
    pub aboard: Vec<Option<P3>>,
    /// Hull and loads together.
    pub weight: Weight,
    /// How she floats; `None` if she does not.
    pub floating: Option<Floating>,
    /// She weighs more than all of her displaces.
    pub sinks: bool,
    /// From the water down to her lowest point, mm.
    pub draft: Option<f64>,
    /// Least freeboard and the first place to flood, mm.
    pub freeboard: Option<(f64, Opening)>,
    /// Metacentric heights across and along, mm, held upright: at less than nothing across
    /// she falls over to one side, and may come to rest there.
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

/// What she floats by: her outside, her weights, where water comes in, the water's density.
#[derive(Debug, Clone, Copy)]
pub(super) struct Loading<'a> {
    pub boat: Ashore<'a>,
    pub parts: &'a Parts,
    pub body: &'a Body<'a>,
    pub hull: Weight,
    pub loads: &'a [Load],
    pub openings: &'a [Opening],
    /// kg/m³.
    pub density: f64,
}

impl Loading<'_> {
    /// The openings' places.
    pub(super) fn places(&self) -> Vec<P3> {
        self.openings.iter().map(|o| o.at).collect()
    }

    /// The places of the loads that are wanted.
    fn with(&self, wanted: impl Fn(usize, &Load) -> bool) -> Vec<Option<P3>> {
        let place = |(i, l): (usize, &Load)| wanted(i, l).then_some(P3::new(l.x, l.y, l.z));
        self.loads.iter().enumerate().map(place).collect()
    }

    /// All loads at their places.
    pub(super) fn everyone(&self) -> Vec<Option<P3>> {
        self.with(|_, _| true)
    }

    /// What stays aboard when she is tested: motor and battery.
    pub(super) fn fixed(&self) -> Weight {
        self.together(&self.with(|_, l| matches!(l.kind, LoadKind::Motor | LoadKind::Battery)))
    }

    /// Hull and the loads that are aboard, at their places.
    pub(super) fn together(&self, aboard: &[Option<P3>]) -> Weight {
        let hull = self.hull;
        let (mut mass, mut moment) = (hull.mass, hull.mass * hull.centre.coords);
        for (l, at) in self.loads.iter().zip(aboard) {
            if let Some(at) = at {
                mass += l.mass_kg;
                moment += l.mass_kg * at.coords;
            }
        }
        Weight { mass, centre: P3::from(moment / mass.max(1e-9)) }
    }

    /// Every case but the swamped ones, and how many were computed: those of the same weights
    /// are taken over from what was found `before` on the same mesh in the same water.
    pub(super) fn cases(&self, before: Option<&Afloat>) -> (Vec<Case>, usize) {
        let mut computed = 0;
        let first = self.loads.iter().position(|l| l.kind == LoadKind::Person);
        let carried = self.with(|_, l| l.kind != LoadKind::Person);
        // What lies to one side makes that the side to be asked about.
        let side = self.heavier_side();
        let cases = [
            (CaseId::Empty, self.with(|_, _| false)),
            (CaseId::Alone, self.with(|i, l| l.kind != LoadKind::Person || Some(i) == first)),
            (CaseId::Full, self.everyone()),
            (CaseId::Nobody, carried),
            (CaseId::OneSided, self.on_one_side(side)),
        ]
        .into_iter()
        .map(|(id, aboard)| {
            let weight = self.together(&aboard);
            match before.and_then(|a| a.case(id)).filter(|c| c.weight == weight) {
                Some(old) => Case { aboard, ..old.clone() },
                None => {
                    computed += 1;
                    self.case(id, self.body, weight, aboard)
                }
            }
        })
        .collect();
        (cases, computed)
    }

    /// Persons of `kg` together on one side, with motor and gear as they are: their mean place
    /// and height are those of the persons aboard. `None` with no one aboard, or none allowed.
    /// And how many were computed: none if it was found `before`.
    pub(super) fn as_marked(&self, kg: f64, before: Option<&Afloat>) -> (Option<Case>, usize) {
        let carried = self.together(&self.with(|_, l| l.kind != LoadKind::Person));
        let seats: Vec<P3> = (self.loads.iter().zip(self.on_one_side(self.heavier_side())))
            .filter(|(l, _)| l.kind == LoadKind::Person)
            .filter_map(|(_, at)| at)
            .collect();
        if seats.is_empty() || kg <= 0.0 {
            return (None, 0);
        }
        let mean = seats.iter().map(|p| p.coords).sum::<V3>() / seats.len() as f64;
        let mass = carried.mass + kg;
        let centre = P3::from((carried.mass * carried.centre.coords + kg * mean) / mass);
        let weight = Weight { mass, centre };
        match before.and_then(|a| a.as_marked.as_ref()).filter(|c| c.weight == weight) {
            Some(old) => (Some(old.clone()), 0),
            None => (Some(self.case(CaseId::OneSided, self.body, weight, Vec::new())), 1),
        }
    }

    /// Persons moved out as far as they can sit, to starboard for a side of 1, to port for
    /// -1; all else where it is.
    pub(super) fn on_one_side(&self, side: f64) -> Vec<Option<P3>> {
        let place = |l: &Load| {
            let y = match l.kind {
                // Nobody is moved in who sits further out already.
                LoadKind::Person => side * furthest_out(self.boat, l.x, l.z).max(side * l.y),
                _ => l.y,
            };
            Some(P3::new(l.x, y, l.z))
        };
        self.loads.iter().map(place).collect()
    }

    /// The side (1 to starboard, -1 to port) to which what is carried lists her.
    pub(super) fn heavier_side(&self) -> f64 {
        let carried = self.with(|_, l| l.kind != LoadKind::Person);
        if self.together(&carried).centre.y < 0.0 { -1.0 } else { 1.0 }
    }

    /// How `body` comes to rest under a weight: where it does not stand upright, over to the
    /// side to which it falls; nowhere if it sinks or turns over.
    pub(super) fn case(
        &self,
        id: CaseId,
        body: &impl Floats,
        weight: Weight,
        aboard: Vec<Option<P3>>,
    ) -> Case {
        let upright = float_at_heel(body, weight, self.density, (0.0, 0.0));
        let gm = upright.map(|f| metacentric(&f.immersed, &f.water, weight.centre));
        let start = match (upright, gm) {
            (Some(f), Some([across, _])) if across > 0.0 => Start::from(&f),
            (Some(f), _) => Start { heel: NUDGE.copysign(weight.centre.y), ..Start::from(&f) },
            _ => Start::from((0.0, 0.0)),
        };
        let most = std::f64::consts::FRAC_PI_2;
        let floating = float_short_of(body, weight, self.density, start, most);
        let draft = floating.map(|f| f.water.plane.offset - body.reach(f.water.plane.normal).0);
        let freeboard = floating.and_then(|f| first_to_flood(self.openings, &f));
        let sinks = volume_of(weight.mass, self.density) >= body.volume();
        Case { id, aboard, weight, floating, sinks, draft, freeboard, gm }
    }

    /// Each load moved a step aft by itself, all aboard.
    pub(super) fn steps(&self) -> Vec<Step> {
        let places = self.everyone();
        let float = |places: &[Option<P3>], start: Start| {
            float(self.body, self.together(places), self.density, start)
        };
        let Some(before) = float(&places, Start::from((0.0, 0.0))) else {
            return Vec::new();
        };
        let (fore, aft) = self.boat.lines.extent(|p| p.x);
        let ends = [P3::new(aft, 0.0, 0.0), P3::new(fore, 0.0, 0.0)];
        let movable = |l: &&Load| l.kind != LoadKind::Motor && l.mass_kg > 0.0;
        self.loads
            .iter()
            .enumerate()
            .filter(|(_, l)| movable(l))
            .filter_map(|(i, l)| {
                let mut moved = places.clone();
                moved[i] = Some(P3::new(l.x + STEP_MM, l.y, l.z));
                let after = float(&moved, Start::from(&before))?;
                let rise =
                    ends.map(|p| after.water.plane.distance(p) - before.water.plane.distance(p));
                Some(Step {
                    load: l.name.clone(),
                    by: STEP_MM,
                    trim: after.trim - before.trim,
                    ends: [-rise[0], rise[1]],
                })
            })
            .collect()
    }
}

impl Case {
    /// Freeboard (mm) at the bow, halfway along the sheer and at the stern, on the lower
    /// side; `None` if she does not float. `openings` are those of the boat.
    pub fn along(&self, openings: &[Opening]) -> Option<[f64; 3]> {
        let plane = self.floating?.water.plane;
        let sheer: Vec<f64> =
            openings.iter().filter(|o| !o.cut_out).map(|o| plane.distance(o.at)).collect();
        let least = |i: usize| sheer[2 * i].min(sheer[2 * i + 1]);
        let last = sheer.len() / 2 - 1;
        Some([least(0), least(last / 2), least(last)])
    }

    /// What reports call it.
    pub fn name(&self) -> &'static str {
        self.id.name()
    }

    /// She is full of water.
    pub fn swamped(&self) -> bool {
        matches!(self.id, CaseId::Swamped | CaseId::SwampedAside)
    }

    /// Water stands over an opening, or she does not float at all.
    pub fn floods(&self) -> bool {
        self.freeboard.is_none_or(|b| b.0 <= 0.0)
    }

    /// She does not stand upright by herself: GM is nothing or less.
    pub fn lolls(&self) -> bool {
        self.gm.is_some_and(|gm| gm[0] <= 0.0)
    }
}

/// A weight with its centre on the starboard side.
pub(super) fn to_starboard(w: Weight) -> Weight {
    Weight { centre: P3::new(w.centre.x, w.centre.y.abs(), w.centre.z), ..w }
}
