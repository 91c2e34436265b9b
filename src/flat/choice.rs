//! Which marks a curved edge gets: few, well apart, and where rounding costs least.
//!
//! Marks are added where the batten through the *rounded* figures strays furthest, and what
//! turns out not to be needed is taken out again. They never stand closer than a hand's
//! breadth: rounded marks close together make a batten wavy.

use super::batten::Batten;
use super::corners::thinned_line;
use super::ordinates::{Mark, Plotted};
use crate::geom::P2;
use crate::geom::segment::from_polyline;
use crate::units::{MM_PER_INCH, Units};

/// Marks are added until a batten strays no further than this (mm): what is left goes to
/// the hand.
const AIMED_MM: f64 = 0.7;
/// Marks stand no closer along an edge than this, mm. Half a millimetre of rounding in
/// every mark at this distance still leaves a batten with a radius of half a metre; the
/// choice of places makes the rounding a fraction of that.
const LEAST_SPACING_MM: f64 = 40.0;
/// On a curved edge no two marks are further apart than this, mm, so that a batten that is not
/// quite even still lies true. Common practice, no source.
const MOST_SPACING_MM: f64 = 700.0;
/// Marks of an edge beyond which none is added: one every hand's breadth of a 5 m sheer.
const MOST_MARKS: usize = 40;
/// The true edge is thinned to this (mm) before it is measured against.
const THINNED_MM: f64 = 0.01;

/// Places are rounded to what the reader's tape shows, and stand on round numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Grid {
    pub(super) step: f64,
    round: f64,
}

impl Grid {
    pub(super) fn of(units: Units) -> Grid {
        let round = if units.imperial() { 0.5 * MM_PER_INCH } else { 10.0 };
        Grid { step: units.step(), round }
    }

    fn to_step(self, mm: f64) -> f64 {
        (mm / self.step).round() * self.step
    }

    pub(super) fn mark(self, exact: P2) -> Mark {
        Mark { exact, printed: P2::new(self.to_step(exact.x), self.to_step(exact.y)) }
    }

    /// How round a number is: 0 for a hundred or four inches, more for less.
    fn odd(self, mm: f64) -> f64 {
        let n = (mm / self.round).round() as i64;
        let each: [(i64, f64); 3] = if self.round == 10.0 {
            [(10, 0.0), (5, 0.1), (1, 0.25)]
        } else {
            [(8, 0.0), (2, 0.1), (1, 0.25)]
        };
        each.iter().find(|(k, _)| n % k == 0).map_or(0.25, |e| e.1)
    }
}

/// What a batten is measured against.
#[derive(Debug, Clone)]
pub(super) struct Truth {
    /// The edge itself, mm on the base line.
    line: Vec<P2>,
    /// The outline past either corner: a rounded corner may lie on it.
    beside: [Vec<P2>; 2],
}

impl Truth {
    pub(super) fn of(line: &[P2], beside: [Vec<P2>; 2]) -> Truth {
        Truth { line: thinned_line(line, THINNED_MM), beside }
    }

    /// Distance (mm) of `p` from it.
    fn away(&self, p: P2) -> f64 {
        let beside = self.beside.iter().map(|b| from_polyline(p, b)).fold(f64::INFINITY, f64::min);
        beside.min(from_polyline(p, &self.line))
    }
}

/// Chooses the marks of one edge.
pub(super) struct Chooser<'a> {
    plotted: &'a Plotted,
    truth: Truth,
    ends: [Mark; 2],
    across: bool,
    grid: Grid,
}

/// A place where a mark may stand: how far along the edge (mm), and what it costs.
#[derive(Debug, Clone, Copy)]
struct Candidate {
    at: f64,
    mark: Mark,
    cost: f64,
}

impl<'a> Chooser<'a> {
    /// For a true edge (mm on the base line) between two corners.
    pub(super) fn of(
        plotted: &'a Plotted,
        truth: Truth,
        ends: [Mark; 2],
        across: bool,
        grid: Grid,
    ) -> Chooser<'a> {
        Chooser { plotted, truth, ends, across, grid }
    }

    /// The marks, and how far a batten through them strays, mm.
    pub(super) fn choose(&self) -> (Vec<Mark>, f64) {
        let candidates = self.candidates();
        let length = crate::geom::polyline::length2(&self.truth.line);
        let mut chosen: Vec<Candidate> = Vec::new();
        let (mut spans, mut error) = self.strays(&chosen);
        let mut best = (error, chosen.clone());
        let curved = error > AIMED_MM;
        let wide = |c: &[Candidate]| curved && self.widest(c, length) > MOST_SPACING_MM;
        while (error > AIMED_MM || wide(&chosen)) && chosen.len() < MOST_MARKS {
            let Some(next) = self.next(&candidates, &chosen, &spans, length) else {
                break;
            };
            let place = chosen.partition_point(|c| c.at < next.at);
            chosen.insert(place, next);
            (spans, error) = self.strays(&chosen);
            if error < best.0 || (error <= AIMED_MM && !wide(&chosen)) {
                best = (error, chosen.clone());
            }
        }
        let (mut error, mut chosen) = best;
        // What turns out not to be needed is taken out again.
        let mut i = 0;
        while i < chosen.len() {
            let mut fewer = chosen.clone();
            fewer.remove(i);
            let without = self.strays(&fewer).1;
            if without <= error.max(AIMED_MM) && !wide(&fewer) {
                (error, chosen) = (without, fewer);
            } else {
                i += 1;
            }
        }
        (chosen.into_iter().map(|c| c.mark).collect(), error)
    }

    /// The longest way along the edge from mark to mark, mm.
    fn widest(&self, chosen: &[Candidate], length: f64) -> f64 {
        let mut at = vec![0.0];
        at.extend(chosen.iter().map(|c| c.at));
        at.push(length);
        at.windows(2).map(|w| w[1] - w[0]).fold(0.0, f64::max)
    }

    /// Where the worst span that has room is best divided.
    fn next(
        &self,
        candidates: &[Candidate],
        chosen: &[Candidate],
        spans: &[f64],
        length: f64,
    ) -> Option<Candidate> {
        let mut order: Vec<usize> = (0..spans.len()).collect();
        order.sort_by(|a, b| spans[*b].total_cmp(&spans[*a]));
        for i in order {
            let from = if i == 0 { 0.0 } else { chosen[i - 1].at };
            let to = chosen.get(i).map_or(length, |c| c.at);
            if spans[i] <= 0.5 * AIMED_MM && to - from <= MOST_SPACING_MM {
                continue;
            }
            let found = candidates
                .iter()
                .filter(|c| c.at - from >= LEAST_SPACING_MM && to - c.at >= LEAST_SPACING_MM)
                .map(|c| {
                    let share = (c.at - from) / (to - from);
                    (c, c.cost + 3.0 * (share - 0.5).abs())
                })
                .filter(|(c, _)| ((c.at - from) / (to - from) - 0.5).abs() <= 0.25)
                .min_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((c, _)) = found {
                return Some(*c);
            }
        }
        None
    }

    /// Where the edge crosses round numbers: along the base line where it runs along, off it
    /// where it stands up.
    fn candidates(&self) -> Vec<Candidate> {
        let mut out = Vec::new();
        let mut so_far = 0.0;
        let round = self.grid.round;
        for w in self.truth.line.windows(2) {
            let d = w[1] - w[0];
            let axis = usize::from(d.y.abs() > d.x.abs());
            let (low, high) = (w[0][axis].min(w[1][axis]), w[0][axis].max(w[1][axis]));
            let mut k = (low / round).ceil();
            while k * round < high {
                let t = (k * round - w[0][axis]) / d[axis];
                let exact = w[0] + t * d;
                let mark = self.grid.mark(exact);
                let off = (mark.exact - mark.printed).norm() / self.grid.step;
                let cost = 4.0 * off + self.grid.odd(k * round);
                out.push(Candidate { at: so_far + t * d.norm(), mark, cost });
                k += 1.0;
            }
            so_far += d.norm();
        }
        out.sort_by(|a, b| a.at.total_cmp(&b.at));
        out
    }

    /// How far the batten strays in each span and in all, mm.
    fn strays(&self, chosen: &[Candidate]) -> (Vec<f64>, f64) {
        let marks: Vec<Mark> = chosen.iter().map(|c| c.mark).collect();
        let worst = self
            .truth
            .line
            .first()
            .zip(self.truth.line.last())
            .map_or(0.0, |(a, b)| (b - a).norm());
        match self.through(&marks) {
            Some(spans) => {
                let all = spans.iter().copied().fold(0.0, f64::max);
                (spans, all)
            }
            // No strip goes that way: every span wants a mark.
            None => (vec![worst; chosen.len() + 1], worst),
        }
    }

    /// How far a batten through printed marks strays from the true edge, span by span, mm;
    /// `None` where no batten goes through them.
    fn through(&self, marks: &[Mark]) -> Option<Vec<f64>> {
        let mut nails: Vec<P2> = vec![self.ends[0].printed];
        nails.extend(marks.iter().map(|m| m.printed));
        nails.push(self.ends[1].printed);
        let own = nails.len() - 1;
        let mut first = 0;
        if self.across {
            // The other side's marks, met in the middle.
            let other: Vec<P2> = nails.iter().rev().map(|p| self.plotted.mirrored(*p)).collect();
            if self.plotted.in_middle(nails[0]) {
                first = other.len() - 1;
                nails = other.into_iter().chain(nails.into_iter().skip(1)).collect();
            } else {
                nails.extend(other.into_iter().skip(1));
            }
        }
        let batten = match nails[..] {
            // Corners so near to each other that they have the same figures are one mark.
            [a, b] if (b - a).norm() <= crate::tol::SAME_POINT_MM => {
                let away = self.truth.line.iter().map(|p| (p - a).norm());
                return Some(vec![away.fold(0.0, f64::max)]);
            }
            _ => Batten::through(&nails)?,
        };
        let pieces: Vec<&[P2]> = (first..first + own).map(|i| batten.span(i)).collect();
        let mut spans: Vec<f64> = pieces
            .iter()
            .map(|piece| piece.iter().map(|p| self.truth.away(*p)).fold(0.0, f64::max))
            .collect();
        // And back: what the batten leaves out between its corners.
        let corner = |p: P2| self.ends.iter().any(|e| (e.exact - p).norm() < 2.0 * self.grid.step);
        for p in self.truth.line.iter().filter(|p| !corner(**p)) {
            let near = pieces
                .iter()
                .enumerate()
                .map(|(i, piece)| (i, from_polyline(*p, piece)))
                .min_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((i, away)) = near {
                spans[i] = spans[i].max(away);
            }
        }
        Some(spans)
    }
}
