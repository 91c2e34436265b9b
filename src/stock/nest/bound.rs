//! The least number of sheets that could do, whatever the layout.

use serde::Serialize;

use super::bench::Bench;
use super::problem::{Attitude, Turning, attitudes};
use crate::geom::P2;
use crate::geom::polyline::bounds;
use crate::geom::ring::edges;

/// A bound on the number of sheets to buy, and what it rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bound {
    /// Sheets to buy at least, after what is on hand.
    pub sheets: usize,
    /// Area of all parts with half a saw cut around each, over the usable area of the largest
    /// sheet (half a cut around it too), after what is on hand: whole sheets' worth.
    pub by_area: f64,
    /// Every part that reaches across more than half of a sheet covers some of the sheet's middle
    /// line: what all of them cover, over that line's length.
    pub by_width: f64,
    /// The same for parts that reach along more than half of a sheet's length.
    pub by_length: f64,
    /// Parts that are over half a sheet both ways: no two go on one sheet.
    pub on_middle: usize,
    /// What the bound rests on.
    pub rests_on: RestsOn,
}

/// Which of its figures makes a bound what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RestsOn {
    /// [`Bound::by_area`].
    Area,
    /// [`Bound::by_width`].
    Width,
    /// [`Bound::by_length`].
    Length,
    /// [`Bound::on_middle`].
    Middle,
}

/// How a layout lies above its bound.
///
/// A bound says what cannot be beaten, not that it can be had: that fewer sheets are not
/// enough is not proved by a search that did not find it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Excess {
    /// Sheets bought beyond the bound.
    pub over: usize,
    /// The bound.
    pub least: usize,
    /// Sheets bought.
    pub bought: usize,
    /// The parts' area, in sheets.
    pub by_area: f64,
}

impl Bound {
    /// How a layout with `bought` sheets lies above the bound; `None` if it does not.
    pub fn excess(&self, bought: usize) -> Option<Excess> {
        let over = bought.checked_sub(self.sheets).filter(|n| *n > 0)?;
        Some(Excess { over, least: self.sheets, bought, by_area: self.by_area })
    }
}

/// Bounds are lowered by this share before they are rounded up, so that none is a sheet too high
/// by rounding.
const ROUNDING: f64 = 1e-9;
/// Strips of a part in which its chords are measured: a strip counts if it holds a box that is
/// over half as high, so that nothing is counted too much.
const CHORDS: usize = 100;

/// The bounds of a problem, of what fits at all.
pub(super) fn bound(bench: &Bench) -> Bound {
    let bought: Vec<usize> =
        (0..bench.boards.len()).filter(|s| bench.problem.sheets[*s].is_bought()).collect();
    let room = |s: usize| bench.boards[s].area;
    let on_hand: f64 = (0..bench.boards.len())
        .filter(|s| !bought.contains(s))
        .map(|s| room(s) * bench.supply(s) as f64)
        .sum();
    let largest = bought.iter().map(|s| room(*s)).fold(0.0, f64::max);
    let needed: f64 = bench.items.iter().map(|i| i.area).sum();
    let by_area = if largest > 0.0 { (needed - on_hand).max(0.0) / largest } else { 0.0 };
    let Middle { by_width, by_length, on_middle } = match bought[..] {
        // With several kinds, or some on hand, the middle lines are not of one sheet.
        [sheet] if bought.len() == bench.boards.len() => middle(bench, sheet),
        _ => Middle::default(),
    };
    let whole = |worth: f64| (worth * (1.0 - ROUNDING)).ceil() as usize;
    let sheets = whole(by_area).max(whole(by_width)).max(whole(by_length)).max(on_middle);
    let rests_on = if whole(by_area) == sheets {
        RestsOn::Area
    } else if whole(by_width) == sheets {
        RestsOn::Width
    } else if whole(by_length) == sheets {
        RestsOn::Length
    } else {
        RestsOn::Middle
    };
    Bound { sheets, by_area, by_width, by_length, on_middle, rests_on }
}

/// What the parts take of a sheet's middle lines, in whole sheets, and how many parts hold its
/// middle.
///
/// A chord across more than half of the sheet meets the sheet's middle line, wherever it lies; so
/// what a part holds of such chords is what it takes of that line. A part that holds a box of
/// more than half the sheet both ways lies on the sheet's middle: one to a sheet.
#[derive(Debug, Clone, Copy, Default)]
struct Middle {
    by_width: f64,
    by_length: f64,
    on_middle: usize,
}

fn middle(bench: &Bench, sheet: usize) -> Middle {
    let board = &bench.boards[sheet];
    let mut sum = Middle::default();
    if !board.missing.is_empty() {
        return sum;
    }
    let half = (0.5 * board.size).add_scalar(-0.5 * bench.problem.kerf);
    let grain = bench.problem.sheets[sheet].grain;
    for (index, part) in bench.problem.parts.iter().enumerate() {
        let copies = bench.items.iter().filter(|i| i.part == index).count();
        if copies == 0 || part.turning == Turning::Free && part.grain.is_none() {
            continue;
        }
        let (mut wide, mut long, mut on) = (f64::INFINITY, f64::INFINITY, true);
        // Turned over, chords are as long.
        for attitude in turned(attitudes(part, part.grain.and(grain), false)) {
            let ring: Vec<P2> = part.outline.iter().map(|p| attitude.of(*p)).collect();
            let across: Vec<P2> = ring.iter().map(|p| P2::new(p.y, p.x)).collect();
            wide = wide.min(long_chords(&ring, half.y));
            long = long.min(long_chords(&across, half.x));
            on &= holds_box(&ring, half.x, half.y);
        }
        sum.by_width += wide * copies as f64 / board.size.x;
        sum.by_length += long * copies as f64 / board.size.y;
        sum.on_middle += if on { copies } else { 0 };
    }
    sum
}

/// Those that are not another end for end, which has the same chords.
fn turned(attitudes: Vec<Attitude>) -> impl Iterator<Item = Attitude> {
    let first = attitudes.first().map_or(0.0, |a| a.angle);
    attitudes.into_iter().filter(move |a| {
        let turn = (a.angle - first).rem_euclid(std::f64::consts::TAU);
        !(std::f64::consts::PI - 1e-9..=std::f64::consts::TAU - 1e-9).contains(&turn)
    })
}

/// Strips across a ring, from its least x on: floor and top of the box that the ring holds whole
/// in each; nothing where it holds none over `least` high.
fn strips(ring: &[P2], least: f64) -> (f64, Vec<Option<(f64, f64)>>) {
    let Some((low, high)) = bounds(ring.iter().copied()) else { return (0.0, Vec::new()) };
    if high.y - low.y <= least {
        return (0.0, Vec::new());
    }
    let step = (high.x - low.x) / CHORDS as f64;
    let sides: Vec<(P2, P2)> = edges(ring).collect();
    let held = |k: usize| {
        let from = low.x + k as f64 * step;
        box_in(&sides, from, from + step).filter(|(floor, top)| top - floor > least)
    };
    (step, (0..CHORDS).map(held).collect())
}

/// How much of a ring's extent along x has a chord of over `least` mm across it.
fn long_chords(ring: &[P2], least: f64) -> f64 {
    let (step, held) = strips(ring, least);
    held.iter().flatten().count() as f64 * step
}

/// Whether a ring holds a box of over `long` by `wide` mm.
fn holds_box(ring: &[P2], long: f64, wide: f64) -> bool {
    let (step, held) = strips(ring, wide);
    (0..held.len()).any(|from| {
        let mut room = (f64::MIN, f64::MAX);
        let run = held[from..].iter().take_while(|strip| {
            let Some((floor, top)) = strip else { return false };
            room = (room.0.max(*floor), room.1.min(*top));
            room.1 - room.0 > wide
        });
        run.count() as f64 * step > long
    })
}

/// An edge of a ring that reaches into a strip by less than this share of it bounds nothing: it
/// lies along the strip's side, but for rounding.
const ALONG: f64 = 1e-10;

/// Floor and top of the highest box from `a` to `b` that a ring holds whole and that reaches
/// over the middle of one of the ring's chords halfway from `a` to `b`. No edge crosses it and
/// that middle lies in the ring: so does all of it.
fn box_in(edges: &[(P2, P2)], a: f64, b: f64) -> Option<(f64, f64)> {
    let (a, b, halfway) = (a + ALONG * (b - a), b - ALONG * (b - a), 0.5 * (a + b));
    let mut chords: Vec<f64> = Vec::new();
    let mut heights: Vec<(f64, f64)> = Vec::new();
    for (p, q) in edges {
        let (left, right) = if p.x <= q.x { (p, q) } else { (q, p) };
        if right.x <= a || left.x >= b {
            continue;
        }
        let height = |x: f64| left.y + (x - left.x) / (right.x - left.x) * (right.y - left.y);
        let (from, to) = if left.x == right.x {
            (left.y, right.y)
        } else {
            (height(a.max(left.x)), height(b.min(right.x)))
        };
        heights.push((from.min(to), from.max(to)));
        if (left.x > halfway) != (right.x > halfway) {
            chords.push(height(halfway));
        }
    }
    chords.sort_by(f64::total_cmp);
    let boxed = |chord: &[f64]| {
        let middle = 0.5 * (chord[0] + chord[1]);
        let (mut floor, mut top) = (f64::MIN, f64::MAX);
        for (low, high) in &heights {
            match (*high <= middle, *low >= middle) {
                (true, _) => floor = floor.max(*high),
                (_, true) => top = top.min(*low),
                _ => return None,
            }
        }
        Some((floor, top))
    };
    let held = chords.chunks_exact(2).filter_map(boxed);
    held.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(corners: &[(f64, f64)]) -> Vec<P2> {
        corners.iter().map(|(x, y)| P2::new(*x, *y)).collect()
    }

    /// A right triangle 1000 long and 800 high is over 500 high on three eighths of its length;
    /// a rectangle all along. The largest box in the triangle is half of it both ways.
    #[test]
    fn chords_of_a_triangle_and_a_rectangle() {
        let triangle = ring(&[(0.0, 0.0), (1000.0, 0.0), (1000.0, 800.0)]);
        let t = long_chords(&triangle, 500.0);
        assert!(t <= 375.0 && t > 360.0, "{t}");
        assert!(holds_box(&triangle, 480.0, 390.0) && !holds_box(&triangle, 501.0, 401.0));
        let r = ring(&[(0.0, 0.0), (1000.0, 0.0), (1000.0, 800.0), (0.0, 800.0)]);
        assert!((long_chords(&r, 790.0) - 1000.0).abs() < 1e-6);
        assert_eq!(long_chords(&r, 801.0), 0.0);
    }

    /// Two arms of 300 with a gap between them are no chord of 700.
    #[test]
    fn a_gap_is_no_chord() {
        let c = ring(&[
            (0.0, 0.0),
            (1000.0, 0.0),
            (1000.0, 300.0),
            (100.0, 300.0),
            (100.0, 400.0),
            (1000.0, 400.0),
            (1000.0, 700.0),
            (0.0, 700.0),
        ]);
        let held = long_chords(&c, 600.0);
        assert!((95.0..=100.0).contains(&held), "{held}");
    }
}
