//! The pages before the tiles: the block of words and the map.

use super::paint::{INK, Paint, SOFT};
use crate::drawing::export::block::Block;
use crate::drawing::export::tiling::{A4, FOOT, MARGIN, OVERLAP, PageSize, Tiling, tile_name};
use crate::drawing::{Anchor, Dash, Drawing};
use crate::geom::P2;

/// The least height of a map, mm: a smaller one shows no tile's name. Words that leave less
/// go on on the next page.
const MAP_LEAST: f64 = 85.0;
/// Between the words and the map, mm.
const APART: f64 = 6.0;
/// Under the map, for its scale, mm.
const SCALE_LINE: f64 = 5.0;

/// One page before the tiles.
pub(super) struct Front {
    pub(super) page: PageSize,
    block: Block,
    /// Distance of the map from the page's top and its height, mm; `None` on a page of words.
    pub(super) map: Option<(f64, f64)>,
}

/// The pages of words that the tiles of `drawing` need before them; the first has the map.
/// `off` are texts of the drawing that found no tile.
pub(super) fn pages(drawing: &Drawing, tiling: &Tiling, roll: bool, off: &[String]) -> Vec<Front> {
    let page = if roll { A4.turned() } else { tiling.page };
    let (w, h) = Tiling::window(page);
    let mut said = Vec::new();
    let n = tiling.filled.len();
    if n > 1 {
        said.push(format!(
            "{n} tiles of {}. Lay each tile over its neighbour until their crosses \
             meet, then tape. Measure the {} check first. Tiles without a number carry \
             nothing that is cut and are not printed.",
            tiling.page.words(),
            tiling.page.check().1
        ));
    }
    let mut drawing = drawing.clone();
    if !off.is_empty() {
        drawing.notes.push(format!("Written beside the printed tiles: {}.", off.join("; ")));
    }
    let all = Block::of(&drawing, &said, w);
    let (first, mut rest) = all.cut_at(h - MAP_LEAST - APART - SCALE_LINE);
    let top = MARGIN + first.height + APART;
    let height = h - first.height - APART - SCALE_LINE;
    let mut out = vec![Front { page, block: first, map: Some((top, height)) }];
    while !rest.lines.is_empty() {
        let (now, later) = rest.cut_at(h);
        // A line deeper than the page cannot be; without progress there is no page to add.
        if now.lines.is_empty() {
            break;
        }
        out.push(Front { page, block: now, map: None });
        rest = later;
    }
    out
}

impl Front {
    /// Draws the page, all but its foot.
    pub(super) fn draw(&self, paint: &mut Paint, drawing: &Drawing, tiling: &Tiling) {
        paint.block(&self.block, (MARGIN, MARGIN));
        if let Some((top, height)) = self.map {
            map(paint, drawing, tiling, top, height);
        }
    }
}

/// The whole drawing without its words, small, the printed tiles numbered.
fn map(paint: &mut Paint, drawing: &Drawing, tiling: &Tiling, top: f64, height: f64) {
    let (w, h) = Tiling::window(tiling.page);
    let (pitch_x, pitch_y) = (w - OVERLAP, h - OVERLAP);
    let far = tiling.corner(tiling.columns - 1, tiling.rows - 1);
    // The tiles, and what of the drawing lies beside them.
    let lines = drawing.items.iter().filter(|i| i.shape.text_box().is_none());
    let corners = lines.flat_map(|i| i.shape.corners());
    let (low, high) = crate::geom::polyline::bounds(
        corners.chain([tiling.origin, P2::new(far.x + w, far.y + h)]),
    )
    .unwrap_or((tiling.origin, far));
    let (span_x, span_y) = (high.x - low.x, high.y - low.y);
    let room = paint.page.width - 2.0 * MARGIN;
    let scale = (room / span_x).min(height / span_y).min(1.0);
    let place = move |p: P2| (MARGIN + (p.x - low.x) * scale, top + (high.y - p.y) * scale);
    paint.shapes(drawing, &place, scale);
    let name_height = (0.18 * pitch_x.min(pitch_y) * scale).clamp(1.4, 5.0);
    for row in 0..tiling.rows {
        for column in 0..tiling.columns {
            let c = tiling.corner(column, row);
            let half = 0.5 * OVERLAP;
            let a = place(P2::new(c.x + half, c.y + half));
            let b = place(P2::new(c.x + half + pitch_x, c.y + half + pitch_y));
            if !tiling.filled.contains(&(column, row)) {
                continue;
            }
            paint.stroke(SOFT, 0.13, Dash::Solid, 1.0);
            paint.line(&[a, (b.0, a.1), b, (a.0, b.1)], true);
            paint.fill([29, 95, 154]);
            paint.text(
                0.5 * (a.0 + b.0),
                0.5 * (a.1 + b.1) + 0.5 * name_height,
                name_height,
                0.0,
                Anchor::Middle,
                false,
                &tile_name(tiling, column, row),
            );
        }
    }
    paint.fill(INK);
    let text = format!("map drawn at 1:{:.0}", drawing.reduced / scale);
    let under = top + span_y * scale + 3.6;
    paint.text(MARGIN, under, 1.8, 0.0, Anchor::Left, false, &text);
    debug_assert!(under <= paint.page.height - MARGIN - FOOT + 1.0);
}
