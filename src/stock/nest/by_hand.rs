//! Parts moved by hand: what they clash with, and the nearest place where they don't.

use serde::Serialize;

use super::bench::board;
use super::check::{gap, inside, polygon};
use super::form::{Blank, Form};
use super::layout::{Placed, SheetLayout};
use super::poles::Discs;
use super::problem::{Attitude, Problem};
use crate::geom::{P2, V2};

/// What a part clashes with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Other {
    /// Another placed part of the sheet, by its place in the list.
    Part(usize),
    /// The sheet's edge or its margin.
    Edge,
}

/// A clash.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Clash {
    /// With what.
    pub with: Other,
    /// How much of the distance that is wanted (kerf or margin) is missing, mm; all of it where
    /// they overlap.
    pub short: f64,
    /// How much of the part lies on the other part, or over the edge, mm².
    pub area: f64,
}

/// One part of a sheet in the hand, all others lying still. Made once when it is taken up, asked
/// on every move of the pointer.
#[derive(Debug)]
pub struct InHand<'a> {
    problem: &'a Problem,
    sheet: &'a SheetLayout,
    moved: usize,
    blank: Blank,
    still: Vec<(Form, P2)>,
    low: P2,
    size: V2,
}

/// Rings of places around the wanted one are tried, each with so many places on it.
const DIRECTIONS: usize = 48;
/// Radius of the first ring, mm, and how much each is wider than the last.
const FIRST_RING_MM: f64 = 1.0;
const WIDER: f64 = 1.15;
/// The nearest place is found to this, mm: what the eye sees at the screen's scale.
const NEAREST_MM: f64 = 0.05;

impl<'a> InHand<'a> {
    /// Takes up the placed part `moved` of a sheet.
    ///
    /// # Panics
    /// If the sheet has no such part.
    pub fn new(problem: &'a Problem, sheet: &'a SheetLayout, moved: usize) -> InHand<'a> {
        let outline = |p: &Placed| &problem.parts[p.part].outline;
        let grown = |p: &Placed| Blank::grown(outline(p), 0.5 * problem.kerf, Discs::Few);
        let room = board(&problem.sheets[sheet.sheet], problem.kerf);
        let lying = sheet.placed.iter().enumerate().filter(|(i, _)| *i != moved).map(|(_, p)| {
            let form = grown(p).turned(p.attitude);
            let at = P2::from(p.shift + form.centre);
            (form, at)
        });
        let missing = room.missing.iter().map(|(form, at)| (form.clone(), at + room.origin.coords));
        InHand {
            problem,
            sheet,
            moved,
            blank: grown(&sheet.placed[moved]),
            still: lying.chain(missing).collect(),
            low: room.origin,
            size: room.size,
        }
    }

    /// The part as it would lie.
    pub fn placed(&self, attitude: Attitude, shift: V2) -> Placed {
        let own = &self.sheet.placed[self.moved];
        Placed::new(self.problem, own.part, own.copy, attitude, shift)
    }

    /// What it clashes with there; empty if it may stay. By the true outlines.
    pub fn clashes(&self, attitude: Attitude, shift: V2) -> Vec<Clash> {
        use geo::{Area, BooleanOps};
        let own = self.placed(attitude, shift);
        let mut found = Vec::new();
        for (index, other) in self.sheet.placed.iter().enumerate() {
            let kerf = self.problem.kerf;
            let Some(gap) = gap(&own, other, kerf.max(1e-6)) else { continue };
            if index == self.moved || gap >= kerf.max(1e-9) - SAME_MM {
                continue;
            }
            let both = polygon(&own.outline).intersection(&polygon(&other.outline));
            let area = both.unsigned_area();
            if kerf > 0.0 || area > 0.0 {
                found.push(Clash { with: Other::Part(index), short: kerf - gap, area });
            }
        }
        let stock = &self.problem.sheets[self.sheet.sheet];
        let over = polygon(&own.outline).difference(&polygon(&stock.outline)).unsigned_area();
        let short = stock.edge_margin - inside(self.problem, self.sheet.sheet, &own);
        if over > CRUMB_MM2 || short > SAME_MM {
            found.push(Clash { with: Other::Edge, short: short.max(0.0), area: over });
        }
        found
    }

    /// The free place nearest to where it is held, in the attitude it is held in: how far it
    /// would be shifted in all. `None` if there is none on this sheet.
    pub fn nearest_free(&self, attitude: Attitude, wanted: V2) -> Option<V2> {
        if self.clashes(attitude, wanted).is_empty() {
            return Some(wanted);
        }
        let form = self.blank.turned(attitude);
        let room = self.size - 2.0 * form.half;
        if room.min() < -2.0 * SLACK_MM {
            return None;
        }
        let low = self.low.coords + form.half - form.centre;
        let high = low + room.sup(&V2::zeros());
        let clamp = |s: V2| V2::new(s.x.clamp(low.x, high.x), s.y.clamp(low.y, high.y));
        let mut near = Vec::new();
        let mut free = |s: V2| {
            let here = P2::from(s + form.centre);
            self.still.iter().all(|(f, at)| !form.meets(f, at - here, &mut near))
        };
        let far = (self.size + (clamp(wanted) - wanted).abs()).norm();
        let mut radius = 0.0;
        while radius < far {
            let found = ring(wanted, radius)
                .map(clamp)
                .filter(|s| free(*s))
                .min_by(|a, b| (a - wanted).norm().total_cmp(&(b - wanted).norm()));
            if let Some(found) = found {
                let nearest = closer(wanted, found, &clamp, &mut free);
                return self.clashes(attitude, nearest).is_empty().then_some(nearest);
            }
            radius = (radius * WIDER).max(radius + FIRST_RING_MM);
        }
        None
    }
}

/// Lengths are compared to this, mm.
const SAME_MM: f64 = 1e-6;
/// Areas below this (mm²) are rounding along an edge.
const CRUMB_MM2: f64 = 0.01;
/// What forms are grown by for safety, mm.
const SLACK_MM: f64 = 0.011;

fn ring(centre: V2, radius: f64) -> impl Iterator<Item = V2> {
    (0..DIRECTIONS).map(move |k| {
        let (s, c) = (k as f64 * std::f64::consts::TAU / DIRECTIONS as f64).sin_cos();
        centre + radius * V2::new(c, s)
    })
}

/// From a free place towards the wanted one, straight and around corners, as near as it goes.
fn closer(
    wanted: V2,
    found: V2,
    clamp: &impl Fn(V2) -> V2,
    free: &mut impl FnMut(V2) -> bool,
) -> V2 {
    let mut best = found;
    let mut step = 0.5 * (found - wanted).norm();
    while step > NEAREST_MM {
        let distance = (best - wanted).norm();
        let nearer = ring(best, step).map(clamp).filter(|s| (s - wanted).norm() < distance - 1e-9);
        let next = nearer
            .filter(|s| free(*s))
            .min_by(|a, b| (a - wanted).norm().total_cmp(&(b - wanted).norm()));
        match next {
            Some(next) => best = next,
            None => step *= 0.5,
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::nest::problem::{Hand, Part, Sheet, Supply, Turning};

    const AS_DRAWN: Attitude = Attitude { mirrored: false, angle: 0.0 };

    fn two_squares() -> (Problem, SheetLayout) {
        let ring = [(0.0, 0.0), (200.0, 0.0), (200.0, 200.0), (0.0, 200.0)];
        let problem = Problem {
            parts: vec![Part {
                name: "square".into(),
                outline: ring.map(|(x, y)| P2::new(x, y)).to_vec(),
                count: 2,
                hand: Hand::AsDrawn,
                turning: Turning::Fixed,
                grain: None,
            }],
            sheets: vec![Sheet::rectangle("ply", 1000.0, 500.0, Supply::Bought)],
            kerf: 3.0,
        };
        let at = |copy, x, y| Placed::new(&problem, 0, copy, AS_DRAWN, V2::new(x, y));
        let placed = vec![at(0, 0.0, 0.0), at(1, 400.0, 150.0)];
        (problem.clone(), SheetLayout { sheet: 0, placed })
    }

    /// Pushed onto its neighbour by 50 mm it overlaps by 50 × 200 and comes back to a kerf away.
    #[test]
    fn a_part_is_pushed_back_to_where_it_is_free() {
        let (problem, sheet) = two_squares();
        let hand = InHand::new(&problem, &sheet, 0);
        let wanted = V2::new(250.0, 150.0);
        let found = hand.clashes(AS_DRAWN, wanted);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].with, Other::Part(1));
        assert!((found[0].area - 10_000.0).abs() < 1.0 && (found[0].short - 3.0).abs() < 1e-9);
        let free = hand.nearest_free(AS_DRAWN, wanted).expect("there is room");
        assert!((free - V2::new(197.0, 150.0)).norm() < 0.5, "{free}");
        assert!(hand.clashes(AS_DRAWN, free).is_empty());
        // A millimetre too near: no overlap, but the saw needs it.
        let near = hand.clashes(AS_DRAWN, V2::new(198.0, 150.0));
        assert!((near[0].short - 1.0).abs() < 1e-9 && near[0].area == 0.0, "{near:?}");
    }

    #[test]
    fn over_the_edge_it_comes_back_inside() {
        let (problem, sheet) = two_squares();
        let hand = InHand::new(&problem, &sheet, 0);
        let wanted = V2::new(850.0, 10.0);
        let found = hand.clashes(AS_DRAWN, wanted);
        assert_eq!(found[0].with, Other::Edge);
        assert!((found[0].area - 50.0 * 200.0).abs() < 1.0);
        let free = hand.nearest_free(AS_DRAWN, wanted).expect("there is room");
        assert!((free - V2::new(800.0, 10.0)).norm() < 0.1, "{free}");
    }

    /// A sheet on which it can lie nowhere but where the other one is.
    #[test]
    fn no_room_is_told() {
        let (mut problem, _) = two_squares();
        problem.sheets[0] = Sheet::rectangle("piece", 390.0, 210.0, Supply::Bought);
        let at = |copy, x| Placed::new(&problem, 0, copy, AS_DRAWN, V2::new(x, 5.0));
        let sheet = SheetLayout { sheet: 0, placed: vec![at(0, 0.0), at(1, 95.0)] };
        assert_eq!(InHand::new(&problem, &sheet, 0).nearest_free(AS_DRAWN, V2::zeros()), None);
    }
}
