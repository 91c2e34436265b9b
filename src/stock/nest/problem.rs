//! What is to be laid on what: parts, sheets, and what they allow.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use serde::Serialize;

use crate::geom::polyline::{area, bounds, first_self_crossing, without_repeats};
use crate::geom::region::Region;
use crate::geom::{P2, V2};
use crate::tol::SAME_POINT_MM;

/// Which way up the copies of a part may lie. A sheet with one good face makes the two hands of
/// a boat different parts; one that is good on both faces does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Hand {
    /// As drawn, every copy.
    #[default]
    AsDrawn,
    /// Turned over, every copy.
    Mirrored,
    /// Either way up, each copy by itself.
    Either,
    /// Half of the copies each way, the odd one as drawn: port and starboard.
    Pairs,
}

/// How a part may be turned on the sheet, from how it is drawn; from the grain on, where it
/// asks for grain (and then only end for end, whatever more is allowed here).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Turning {
    /// Not at all.
    Fixed,
    /// End for end.
    #[default]
    EndForEnd,
    /// By quarter turns.
    Quarters,
    /// Any way: by steps of 15° and along each of its longer edges, which is what is tried.
    Free,
}

/// A part to be cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Part {
    /// What it is called; need not be unique.
    pub name: String,
    /// Its cut line, mm: a simple ring without its closing point, either way round.
    #[serde(skip)]
    pub outline: Vec<P2>,
    /// How many of it.
    pub count: usize,
    /// Which way up.
    pub hand: Hand,
    /// How it may be turned.
    pub turning: Turning,
    /// The direction in its own axes, radians from its x towards its y, in which the face grain
    /// must run; `None` if that does not matter.
    pub grain: Option<f64>,
}

/// How many sheets of a kind there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Supply {
    /// So many lie in the shop, paid for: taken first, and not counted as bought.
    OnHand(usize),
    /// As many as wanted can be bought.
    Bought,
}

/// A kind of sheet, or an offcut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sheet {
    /// What it is called.
    pub name: String,
    /// Its edge, mm: a simple ring without its closing point. [`Sheet::rectangle`] makes the
    /// usual one.
    #[serde(skip)]
    pub outline: Vec<P2>,
    /// The direction of its face grain, radians from its x; `None` for a board without any.
    pub grain: Option<f64>,
    /// How many.
    pub supply: Supply,
    /// What one costs, in the builder's money; `None` where it is not known. Sheets on hand
    /// cost nothing, whatever stands here.
    pub price: Option<f64>,
    /// No part comes nearer to its edge than this, mm.
    pub edge_margin: f64,
}

impl Sheet {
    /// A rectangle with its length along x, and the grain along its length.
    pub fn rectangle(name: impl Into<String>, length: f64, width: f64, supply: Supply) -> Sheet {
        let corner = P2::new;
        Sheet {
            name: name.into(),
            outline: vec![
                corner(0.0, 0.0),
                corner(length, 0.0),
                corner(length, width),
                corner(0.0, width),
            ],
            grain: Some(0.0),
            supply,
            price: None,
            edge_margin: 0.0,
        }
    }

    /// Whether each one taken has to be paid for.
    pub fn is_bought(&self) -> bool {
        self.supply == Supply::Bought
    }

    /// Least corner and size of the box around it, mm.
    pub fn extent(&self) -> (P2, V2) {
        bounds(self.outline.iter().copied())
            .map_or((P2::origin(), V2::zeros()), |(low, high)| (low, high - low))
    }

    /// Whether it is a rectangle along the axes: as large as its box, to a part in a million.
    pub fn is_rectangle(&self) -> bool {
        let (_, size) = self.extent();
        size.x * size.y - area(&self.outline).abs() <= 1e-6 * size.x * size.y
    }
}

/// One thickness and kind of sheet: what is cut from others is another problem.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Problem {
    /// What is to be cut.
    pub parts: Vec<Part>,
    /// What there is to cut it from.
    pub sheets: Vec<Sheet>,
    /// Width of the saw's cut, mm: the least distance between parts.
    pub kerf: f64,
}

/// A kerf wider than this (mm) is a slip of units: no saw takes two inches.
pub const WIDEST_KERF_MM: f64 = 50.0;
/// More copies than this of one part are a slip too, and the search would take a day.
pub const MOST_COPIES: usize = 500;

/// What cannot be worked with, in words that name the culprit and what would do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BadProblem {
    /// No saw has that kerf.
    #[error("a saw cut of {kerf} mm: give between 0 and {} mm", WIDEST_KERF_MM)]
    Kerf {
        /// As given, mm.
        kerf: f64,
    },
    /// The ring of a part or sheet is none.
    #[error("the outline of {name} {fault}")]
    Outline {
        /// Of the part or sheet.
        name: String,
        /// What is the matter.
        fault: String,
    },
    /// A margin, price, grain or count that is none.
    #[error("{name}: {what} of {value} makes no sense")]
    Value {
        /// Of the part or sheet.
        name: String,
        /// Which value.
        what: &'static str,
        /// As given.
        value: f64,
    },
}

impl Problem {
    /// Everything in it that cannot be worked with; empty if it can.
    pub fn faults(&self) -> Vec<BadProblem> {
        let mut faults = Vec::new();
        if !(0.0..=WIDEST_KERF_MM).contains(&self.kerf) {
            faults.push(BadProblem::Kerf { kerf: self.kerf });
        }
        let mut value = |name: &str, what, value: f64, fine: bool| {
            if !fine || !value.is_finite() {
                faults.push(BadProblem::Value { name: name.to_string(), what, value });
            }
        };
        for part in &self.parts {
            value(&part.name, "a count", part.count as f64, part.count <= MOST_COPIES);
            value(&part.name, "a grain", part.grain.unwrap_or(0.0), true);
        }
        for sheet in &self.sheets {
            value(&sheet.name, "an edge margin", sheet.edge_margin, sheet.edge_margin >= 0.0);
            value(
                &sheet.name,
                "a price",
                sheet.price.unwrap_or(0.0),
                sheet.price.is_none_or(|p| p >= 0.0),
            );
            value(&sheet.name, "a grain", sheet.grain.unwrap_or(0.0), true);
        }
        let rings = self.parts.iter().map(|p| (&p.name, &p.outline));
        for (name, ring) in rings.chain(self.sheets.iter().map(|s| (&s.name, &s.outline))) {
            if let Some(fault) = fault_of(ring) {
                faults.push(BadProblem::Outline { name: name.clone(), fault });
            }
        }
        faults
    }

    /// How many parts there are to cut, every copy counted.
    pub fn pieces(&self) -> usize {
        self.parts.iter().map(|p| p.count).sum()
    }
}

/// What keeps a ring from being one.
fn fault_of(ring: &[P2]) -> Option<String> {
    if ring.iter().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
        return Some("has a corner that is no number".into());
    }
    let ring = without_repeats(ring.iter().copied(), SAME_POINT_MM);
    if ring.len() < 3 || Region::of(&ring).area() < 1.0 {
        return Some("encloses nothing: give three corners or more, in order".into());
    }
    first_self_crossing(&ring).map(|(a, b)| {
        let p = ring[a];
        let q = ring[b];
        format!(
            "crosses itself: its edges from ({:.1}, {:.1}) and from ({:.1}, {:.1})",
            p.x, p.y, q.x, q.y
        )
    })
}

impl Problem {
    /// The ways in which a part that lies as `now` may be laid on a sheet instead, both by their
    /// places in the problem: turned as its grain allows, and turned over where either hand will
    /// do. Among them is `now`, if it is one of them.
    pub fn attitudes(&self, part: usize, sheet: usize, now: Attitude) -> Vec<Attitude> {
        let (Some(part), Some(sheet)) = (self.parts.get(part), self.sheets.get(sheet)) else {
            return Vec::new();
        };
        let mut all = attitudes(part, sheet.grain, now.mirrored);
        if part.hand == Hand::Either {
            all.extend(attitudes(part, sheet.grain, !now.mirrored));
        }
        all
    }
}

/// A way to lay a part: turned over about its own x axis first if `mirrored`, then turned by
/// `angle` (radians, anticlockwise).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Attitude {
    /// Turned over.
    pub mirrored: bool,
    /// Radians, anticlockwise.
    pub angle: f64,
}

impl Attitude {
    /// Whether two ways to lay a part are one.
    pub fn is_near(self, other: Attitude) -> bool {
        let turn = (self.angle - other.angle).rem_euclid(TAU);
        self.mirrored == other.mirrored && turn.min(TAU - turn) < SAME_ANGLE
    }

    /// Where a point of the part comes to lie, but for the shift.
    pub fn of(&self, p: P2) -> P2 {
        let y = if self.mirrored { -p.y } else { p.y };
        // Quarter turns exactly, so that what is square stays square to the last bit.
        let quarters = self.angle / FRAC_PI_2;
        let (s, c) = if quarters == quarters.round() {
            [(0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0)][quarters.rem_euclid(4.0) as usize]
        } else {
            self.angle.sin_cos()
        };
        P2::new(p.x * c - y * s, p.x * s + y * c)
    }
}

/// Steps in which a part that may lie any way is turned: 15°, as half of that moves the corner
/// of a gusset by no more than the search closes anyway.
const FREE_STEPS: usize = 24;
/// Edges of at least this share of the longest one are laid along the sheet as well.
const LONG_EDGE: f64 = 0.5;
/// And so many at most.
const MOST_EDGES: usize = 6;
/// Attitudes nearer than this (radians) are one.
const SAME_ANGLE: f64 = 1e-3;

/// The attitudes in which a part may lie on a sheet with that grain, one hand.
pub(super) fn attitudes(part: &Part, grain: Option<f64>, mirrored: bool) -> Vec<Attitude> {
    let at = |angle: f64| Attitude { mirrored, angle };
    if let (Some(own), Some(sheet)) = (part.grain, grain) {
        let own = if mirrored { -own } else { own };
        let along = exact_quarters(sheet - own);
        return match part.turning {
            Turning::Fixed => vec![at(along)],
            _ => vec![at(along), at(exact_quarters(along + PI))],
        };
    }
    let angles: Vec<f64> = match part.turning {
        Turning::Fixed => vec![0.0],
        Turning::EndForEnd => vec![0.0, PI],
        Turning::Quarters => (0..4).map(|k| f64::from(k) * FRAC_PI_2).collect(),
        Turning::Free => free_angles(&part.outline, mirrored),
    };
    angles.into_iter().map(at).collect()
}

/// An angle from 0 to 2π, a whole number of quarter turns if it is within rounding of one.
fn exact_quarters(angle: f64) -> f64 {
    let quarters = (angle / FRAC_PI_2).round();
    let snapped =
        if (angle - quarters * FRAC_PI_2).abs() < 1e-9 { quarters * FRAC_PI_2 } else { angle };
    if (0.0..TAU).contains(&snapped) { snapped } else { snapped.rem_euclid(TAU) }
}

fn free_angles(outline: &[P2], mirrored: bool) -> Vec<f64> {
    let mut angles: Vec<f64> =
        (0..FREE_STEPS).map(|k| k as f64 * TAU / FREE_STEPS as f64).collect();
    // Quarter turns are exact whatever the steps come to.
    for (k, angle) in angles.iter_mut().enumerate().filter(|(k, _)| k % (FREE_STEPS / 4) == 0) {
        *angle = (k / (FREE_STEPS / 4)) as f64 * FRAC_PI_2;
    }
    let turned = Attitude { mirrored, angle: 0.0 };
    let mut edges: Vec<V2> =
        crate::geom::ring::edges(outline).map(|(a, b)| turned.of(b) - turned.of(a)).collect();
    edges.sort_by(|a, b| b.norm().total_cmp(&a.norm()));
    let longest = edges.first().map_or(0.0, |e| e.norm());
    for edge in edges.iter().filter(|e| e.norm() >= LONG_EDGE * longest).take(MOST_EDGES) {
        for k in 0..4 {
            let angle = (-edge.y.atan2(edge.x) + f64::from(k) * FRAC_PI_2).rem_euclid(TAU);
            if angles.iter().all(|a| (a - angle).abs() > SAME_ANGLE) {
                angles.push(angle);
            }
        }
    }
    angles
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(turning: Turning, grain: Option<f64>) -> Part {
        let outline = vec![P2::new(0.0, 0.0), P2::new(30.0, 0.0), P2::new(0.0, 10.0)];
        Part { name: "knee".into(), outline, count: 1, hand: Hand::Either, turning, grain }
    }

    /// In every attitude that is allowed, the grain of the part runs along that of the sheet.
    #[test]
    fn grain_runs_as_asked() {
        for own in [0.0, 0.3, FRAC_PI_2, 2.0] {
            for sheet in [0.0, FRAC_PI_2] {
                for mirrored in [false, true] {
                    let found = attitudes(&part(Turning::Free, Some(own)), Some(sheet), mirrored);
                    assert_eq!(found.len(), 2);
                    for attitude in found {
                        let to = attitude.of(P2::new(own.cos(), own.sin())).coords;
                        let off = to.x * sheet.sin() - to.y * sheet.cos();
                        assert!(off.abs() < 1e-12, "{attitude:?}");
                    }
                }
            }
        }
        assert_eq!(attitudes(&part(Turning::Free, Some(0.2)), None, false).len(), FREE_STEPS + 4);
    }

    #[test]
    fn quarter_turns_are_exact() {
        for attitude in attitudes(&part(Turning::Quarters, None), Some(0.0), false) {
            let p = attitude.of(P2::new(1234.5, -0.25));
            assert!(p.x.abs() == 1234.5 || p.y.abs() == 1234.5, "{p}");
        }
    }

    #[test]
    fn what_makes_no_sense_is_told_by_name() {
        let mut problem = Problem {
            parts: vec![part(Turning::Free, Some(f64::NAN))],
            sheets: vec![Sheet::rectangle("ply", 2440.0, 0.0, Supply::Bought)],
            kerf: 300.0,
        };
        problem.sheets[0].edge_margin = -1.0;
        problem.parts[0].outline.swap(1, 2);
        let words: Vec<String> = problem.faults().iter().map(ToString::to_string).collect();
        assert_eq!(words.len(), 4, "{words:?}");
        assert!(words[0].contains("300 mm") && words[3].contains("ply encloses nothing"));
        problem.parts[0].outline =
            [(0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 7.0)].map(|(x, y)| P2::new(x, y)).to_vec();
        assert!(problem.faults().iter().any(|f| f.to_string().contains("knee crosses itself")));
    }
}
