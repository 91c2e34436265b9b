//! The points that a part is set out by with a tape: their letters where its pattern has them,
//! numbers where it has none, and the whole edge of what has to be drawn from the page.

use crate::drawing::compose::panel::corners as pattern_corners;
use crate::flat::corners::{runs, thinned_line};
use crate::geom::P2;
use crate::model::stock::{Counted, Laid, Lying};
use crate::stock::nest::Placed;

/// A point that an edge is set out by; the first is number 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct EdgePoint {
    /// mm on the sheet.
    pub(super) at: P2,
    /// On a curve between two corners.
    pub(super) on_curve: bool,
}

/// The points of a part with their labels, mm on the sheet, the nearest along it first: the letter
/// that its pattern has there, or a number behind the part's, that of its `edge` where it has one.
pub(super) fn labelled(
    boat: Counted,
    lying: &Lying,
    placed: &Placed,
    edge: &[EdgePoint],
    large: bool,
) -> Vec<(String, P2)> {
    let points = points(&placed.outline, large);
    let letters = letters(boat, lying.of, placed, &points);
    let mut own = 0;
    let points = points.into_iter().map(|p| {
        let same = |q: &P2| (q - p).norm() < SAME_POINT_MM;
        let letter = letters.iter().find(|(_, q)| same(q)).map(|(l, _)| l.to_string());
        own += 1;
        let number = edge.iter().position(|e| same(&e.at)).map_or(own, |i| i + 1);
        (letter.unwrap_or_else(|| format!("{}.{number}", lying.number)), p)
    });
    points.collect()
}

/// Points nearer to each other than this, mm, are one.
const SAME_POINT_MM: f64 = 0.3;
/// A corner that is sawn lies off the finished one by at most so many times the allowance for
/// trimming: a sharp corner reaches far.
const CORNER_REACHES: f64 = 4.0;

/// Those of a piece's points at corners that its pattern has letters for, mm on the sheet: of the
/// line that is sawn, outside the finished corner by what is left to trim.
fn letters(boat: Counted, of: Laid, placed: &Placed, points: &[P2]) -> Vec<(char, P2)> {
    let Laid::Piece(panel, _) = of else {
        return Vec::new();
    };
    let Some(p) = boat.model.stands().panels.get(panel.0) else {
        return Vec::new();
    };
    let allowance = boat.model.hull.planking.trim_allowance_mm;
    let near = |(letter, corner): (char, P2)| {
        let there = placed.attitude.of(corner) + placed.shift;
        let off = |q: &P2| (q - there).norm();
        let nearest = points.iter().copied().min_by(|a, b| off(a).total_cmp(&off(b)))?;
        let is_it = off(&nearest) < SAME_POINT_MM + CORNER_REACHES * allowance;
        is_it.then_some((letter, nearest))
    };
    pattern_corners(p).into_iter().filter_map(near).collect()
}

/// The corners of an outline; all of its points where it has none.
fn corners(outline: &[P2]) -> Vec<P2> {
    let hard: Vec<P2> = runs(outline, &[]).iter().map(|r| outline[r.points[0]]).collect();
    if hard.len() < 3 { outline.to_vec() } else { hard }
}

/// A batten bent through the points of an edge, or a straight-edge laid from each to the next,
/// strays from it by no more than this, mm: a pencil's line.
const EDGE_WITHIN_MM: f64 = 1.0;

/// The corners of an outline in turn, and on its curves as many points as keep it within
/// [`EDGE_WITHIN_MM`].
pub(super) fn edge(outline: &[P2]) -> Vec<EdgePoint> {
    let mut out = Vec::new();
    for run in runs(outline, &[]) {
        let points: Vec<P2> = run.points.iter().map(|i| outline[*i]).collect();
        let kept = thinned_line(&points, EDGE_WITHIN_MM);
        let until_next = kept.len().saturating_sub(1);
        let of = kept.into_iter().take(until_next).enumerate();
        out.extend(of.map(|(i, at)| EdgePoint { at, on_curve: i > 0 }));
    }
    out
}

/// The corners farthest from each other, and of a large part the one farthest from the line
/// between them: what holds it in place and tells it from its mirror image.
fn points(outline: &[P2], large: bool) -> Vec<P2> {
    let hard = corners(outline);
    let pairs = hard.iter().flat_map(|a| hard.iter().map(move |b| (*a, *b)));
    let Some((a, b)) = pairs.max_by(|p, q| (p.1 - p.0).norm().total_cmp(&(q.1 - q.0).norm()))
    else {
        return Vec::new();
    };
    let off = |p: &P2| (b - a).perp(&(p - a)).abs();
    let third = hard.iter().copied().filter(|_| large).max_by(|p, q| off(p).total_cmp(&off(q)));
    let mut out: Vec<P2> = [a, b].into_iter().chain(third.filter(|p| off(p) > 1.0)).collect();
    out.sort_by(|p, q| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)));
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::V2;
    use crate::geom::segment::from_segment;

    /// A trapezium by hand: its longest diagonal, and the corner farthest from that.
    #[test]
    fn a_part_is_set_out_by_its_ends_and_the_corner_farthest_off() {
        let ring = [(0., 0.), (1000., 0.), (900., 300.), (0., 200.)].map(|(x, y)| P2::new(x, y));
        let found = points(&ring, true);
        // 1019.8 from (0, 200) to (1000, 0) is longest; 200 / 1019.8 · … (900, 300) is farthest.
        assert_eq!(found, [ring[3], ring[2], ring[1]]);
        assert_eq!(points(&ring, false), [ring[3], ring[1]]);
    }

    /// A board 600 by 300 with a cut-out of 200 by 100 with round corners in its upper edge, drawn
    /// either way about: every corner is given, and its arcs by points that keep them to a
    /// millimetre.
    #[test]
    fn a_cut_out_is_set_out_whole() {
        let at = |x: f64, y: f64| P2::new(x, y);
        let arc = |centre: P2, from: f64| {
            (0..=16).map(move |i| {
                let a = from - std::f64::consts::FRAC_PI_2 * f64::from(i) / 16.0;
                centre + 30.0 * V2::new(a.cos(), a.sin())
            })
        };
        let mut ring = vec![at(0.0, 0.0), at(600.0, 0.0), at(600.0, 300.0), at(400.0, 300.0)];
        ring.extend(arc(at(370.0, 230.0), 0.0));
        ring.extend(arc(at(230.0, 230.0), 1.5 * std::f64::consts::PI));
        ring.extend([at(200.0, 300.0), at(0.0, 300.0)]);
        let turned: Vec<P2> = ring.iter().rev().copied().collect();
        for ring in [ring, turned] {
            let edge = edge(&ring);
            for p in [(0., 0.), (600., 0.), (600., 300.), (0., 300.), (400., 300.), (200., 300.)] {
                let given = |e: &EdgePoint| (e.at - at(p.0, p.1)).norm() < 1e-9 && !e.on_curve;
                assert!(edge.iter().any(given), "{p:?}: {edge:?}");
            }
            let n = edge.len();
            let chord = |p: &P2| {
                let to = |i: usize| from_segment(*p, edge[i].at, edge[(i + 1) % n].at);
                (0..n).map(to).fold(f64::INFINITY, f64::min)
            };
            assert!(ring.iter().all(|p| chord(p) <= EDGE_WITHIN_MM + 1e-9));
            assert!(n < 24, "no more points than that takes: {n}");
        }
    }
}
