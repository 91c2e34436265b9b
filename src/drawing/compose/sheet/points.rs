//! The corners of a part that its page calls by name: by the letter that its pattern has there, or
//! by a number behind the part's.

use super::set_out::SetOut;
use crate::drawing::compose::panel::corners as pattern_corners;
use crate::geom::P2;
use crate::model::stock::{Counted, Laid, Lying};
use crate::stock::nest::Placed;

/// The corners of a part with their labels, mm on the sheet, in turn: the letter that its pattern
/// has there, or its place among the corners of its `edge` behind the part's number. All of a
/// large part; of a small one the first and the one farthest from that, which lay it in its place.
pub(super) fn labelled(
    boat: Counted,
    lying: &Lying,
    placed: &Placed,
    edge: &SetOut,
    large: bool,
) -> Vec<(String, P2)> {
    let corners: Vec<P2> = edge.corners().collect();
    let letters = letters(boat, lying.of, placed, &corners);
    let label = |k: usize| {
        let letter = letters.iter().find(|(_, of)| *of == k).map(|(l, _)| l.to_string());
        letter.unwrap_or_else(|| format!("{}.{}", lying.number, k + 1))
    };
    let farthest = corners.first().and_then(|first| {
        let off = |k: &usize| (corners[*k] - first).norm();
        (1..corners.len()).max_by(|a, b| off(a).total_cmp(&off(b)))
    });
    let told = |k: &usize| large || *k == 0 || Some(*k) == farthest;
    (0..corners.len()).filter(told).map(|k| (label(k), corners[k])).collect()
}

/// Points nearer to each other than this, mm, are one.
const SAME_POINT_MM: f64 = 0.3;
/// A corner that is sawn lies off the finished one by at most so many times the allowance for
/// trimming: a sharp corner reaches far.
const CORNER_REACHES: f64 = 4.0;

/// Those of a piece's corners that its pattern has letters for, by their places: of the line that
/// is sawn, outside the finished corner by what is left to trim.
fn letters(boat: Counted, of: Laid, placed: &Placed, corners: &[P2]) -> Vec<(char, usize)> {
    let Laid::Piece(panel, _) = of else {
        return Vec::new();
    };
    let Some(p) = boat.model.stands().panels.get(panel.0) else {
        return Vec::new();
    };
    let allowance = boat.model.hull.planking.trim_allowance_mm;
    let near = |(letter, corner): (char, P2)| {
        let there = placed.attitude.of(corner) + placed.shift;
        let off = |k: &usize| (corners[*k] - there).norm();
        let nearest = (0..corners.len()).min_by(|a, b| off(a).total_cmp(&off(b)))?;
        let is_it = off(&nearest) < SAME_POINT_MM + CORNER_REACHES * allowance;
        is_it.then_some((letter, nearest))
    };
    pattern_corners(p).into_iter().filter_map(near).collect()
}
