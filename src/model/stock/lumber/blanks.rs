//! What is sawn from a board by a pattern: the length and width that each takes.

use crate::frames::Stem;
use crate::geom::polyline::bounds;
use crate::geom::region::{Region, hull_of};
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::part::{Amount, AtEnd, Part, PartId, Shape};
use crate::stock::lumber::Rules;

/// Length and section of the stick or board that a part is sawn from.
pub(super) fn board(model: &Model, part: &Part, section: [f64; 2]) -> Option<(f64, (f64, f64))> {
    let whole = (section[0], section[1]);
    if let Amount::Length(length) = part.amount {
        return Some((length, whole));
    }
    let piece = match part.id {
        PartId::FrameBoard(f, k) => model.woodwork.frames.get(f.0)?.pieces.get(k),
        PartId::Cleat(end, k) => model.woodwork.transom_at(end)?.framing.get(k),
        _ => None,
    };
    if let Some(p) = piece {
        return Some((p.board_length, whole));
    }
    if let PartId::Floor(end) = part.id {
        let j = post_at(model, end)?.joint.as_ref()?;
        return Some((j.floor_length, (j.depth.min(j.floor_board), j.depth.max(j.floor_board))));
    }
    if let Some((length, sided, width)) = stem_board(model, part.id, section[0]) {
        return Some((length, (sided.min(width), sided.max(width))));
    }
    let Shape::Flat(outline) = &part.shape else {
        return None;
    };
    let (length, width) = narrowest_box(outline)?;
    let room = Rules::default().section_room;
    let wide = model.hull.framing.widths_mm.iter().copied().filter(|w| *w > width - room);
    let board = wide.reduce(f64::min).unwrap_or(width);
    Some((length, (section[0].min(board), board.max(section[0]))))
}

/// Length and width of the boards that a stem of two parts is sawn from, its foot first: each
/// part reaches past the middle by half of their lap, and lies askew in its own board. A board of
/// the builder's `widths` (mm) where one is wide enough.
pub(super) fn stem_parts(s: &Stem, widths: &[f64]) -> Vec<(f64, f64)> {
    let (Some(foot), Some(head)) = (s.profile.first(), s.profile.last()) else {
        return Vec::new();
    };
    let Some(e) = (head - foot).try_normalize(1e-9) else {
        return Vec::new();
    };
    let along = |p: &P2| p.coords.dot(&e);
    let low = s.outline.iter().map(along).fold(f64::INFINITY, f64::min);
    let high = s.outline.iter().map(along).fold(f64::NEG_INFINITY, f64::max);
    let (middle, half) = (0.5 * (low + high), 0.5 * s.lap);
    let whole = Region::of(&s.outline);
    [(low, middle + half), (middle - half, high)]
        .into_iter()
        .filter_map(|(from, to)| {
            let n = (high - low) * V2::new(-e.y, e.x);
            let at = |t: f64| P2::origin() + t * e + (foot.coords.dot(&n) / n.norm_squared()) * n;
            let band = Region::of(&[at(from) - n, at(to) - n, at(to) + n, at(from) + n]);
            let (length, needed) = narrowest_box(&whole.and(&band).largest())?;
            let room = Rules::default().section_room;
            let fits = |w: &f64| *w > needed - room;
            let own = widths.iter().copied().filter(fits).reduce(f64::min);
            Some((length, own.unwrap_or(needed)))
        })
        .collect()
}

/// The stem or the sternpost.
pub(super) fn post_at(model: &Model, end: AtEnd) -> Option<&Stem> {
    match end {
        AtEnd::Bow => model.woodwork.stem.as_ref(),
        AtEnd::Stern => model.woodwork.sternpost.as_ref(),
    }
}

/// Length, siding and width of the board that a stem is sawn from, as its pattern says.
fn stem_board(model: &Model, id: PartId, sided: f64) -> Option<(f64, f64, f64)> {
    let at = |end: AtEnd| post_at(model, end);
    match id {
        PartId::Stem(end) => at(end).map(|s| (s.board_length, sided, s.board_width)),
        // Bevelled from a board of the width of its flat.
        PartId::OuterStem(end) => {
            let o = at(end)?.outer.as_ref()?;
            let flat = o.sections.iter().map(|s| s.flat_width);
            let widest = flat.fold(model.hull.stem.outer_sided_mm, f64::max);
            Some((o.board_length, widest, o.board_width))
        }
        _ => None,
    }
}

/// Length and breadth of the narrowest box around an outline, mm: one side of it lies along an
/// edge of the convex hull (Freeman and Shapira 1975 for the least area; the same holds for
/// the least breadth).
fn narrowest_box(outline: &[P2]) -> Option<(f64, f64)> {
    let hull = hull_of(outline);
    let edges = hull.iter().zip(hull.iter().cycle().skip(1));
    edges
        .filter_map(|(a, b)| {
            let along = (b - a).try_normalize(1e-9)?;
            let turned = hull.iter().map(|p| P2::new(p.coords.dot(&along), along.perp(&p.coords)));
            let (low, high) = bounds(turned)?;
            Some((high.x - low.x, high.y - low.y))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A slanted oblong of 400 by 90 and a right triangle, by hand.
    #[test]
    fn the_narrowest_box_lies_along_an_edge() {
        let (s, c) = 0.5f64.sin_cos();
        let oblong: Vec<P2> = [(0.0, 0.0), (400.0, 0.0), (400.0, 90.0), (0.0, 90.0)]
            .iter()
            .map(|(x, y)| P2::new(c * x - s * y, s * x + c * y))
            .collect();
        let (length, width) = narrowest_box(&oblong).expect("a box");
        assert!((length - 400.0).abs() < 1e-9 && (width - 90.0).abs() < 1e-9);
        let triangle = [P2::new(0.0, 0.0), P2::new(30.0, 0.0), P2::new(0.0, 40.0)];
        let (length, width) = narrowest_box(&triangle).expect("a box");
        assert!((length - 50.0).abs() < 1e-9 && (width - 24.0).abs() < 1e-9);
    }
}
