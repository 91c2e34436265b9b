//! Dimensions along a pattern's edges: from the bow's corner to each station, to be marked
//! off with a tape laid along the edge.

use bevy_egui::egui::{FontId, Painter, Rect, Stroke, vec2};

use crate::flat::{FlatPanel, marks};
use crate::geom::segment::nearest_share;
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::viewer::paint2d::Placement;
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;

/// Length of a tick, points.
const TICK: f32 = 12.0;
/// Points between ticks that can both be read.
const APART: f32 = 6.0;

/// A place along an edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ordinate {
    /// On the edge, mm.
    pub at: P2,
    /// Along the edge from its forward corner, mm.
    pub along: f64,
    /// Square to the edge, away from the panel, unit.
    pub outward: V2,
    /// The station's number, from 1; `None` at the edge's end.
    pub station: Option<usize>,
}

/// The length along a polyline to the point on it nearest to `p`, that point, and the way
/// that the line runs there.
fn along_edge(edge: &[P2], p: P2) -> Option<(f64, P2, V2)> {
    let mut before = 0.0;
    let mut best: Option<(f64, f64, P2, V2)> = None;
    for w in edge.windows(2) {
        let piece = w[1] - w[0];
        let length = piece.norm();
        if length < 1e-9 {
            continue;
        }
        let t = nearest_share(p, w[0], w[1]);
        let on = w[0] + t * piece;
        let off = (on - p).norm();
        if best.is_none_or(|b| off < b.0) {
            best = Some((off, before + t * length, on, piece / length));
        }
        before += length;
    }
    best.map(|(_, along, on, way)| (along, on, way))
}

/// Where the stations (mm aft) cross an edge, and its after corner last. `upper`: the upper
/// edge, otherwise the lower.
pub fn ordinates(flat: &FlatPanel, stations: &[f64], upper: bool) -> Vec<Ordinate> {
    let edge = if upper { flat.upper_edge() } else { flat.lower_edge() };
    let outward = |way: V2| if upper { V2::new(-way.y, way.x) } else { V2::new(way.y, -way.x) };
    let mut out: Vec<Ordinate> = stations
        .iter()
        .enumerate()
        .filter_map(|(k, x)| {
            let mark = marks::station(flat, *x);
            let end = if upper { mark.last() } else { mark.first() }?;
            let (along, at, way) = along_edge(&edge, *end)?;
            // A station that leaves the panel over its end does not cross this edge.
            ((at - end).norm() < 0.5).then_some(Ordinate {
                at,
                along,
                outward: outward(way),
                station: Some(k + 1),
            })
        })
        .collect();
    if let Some((along, at, way)) = edge.last().and_then(|p| along_edge(&edge, *p)) {
        out.push(Ordinate { at, along, outward: outward(way), station: None });
    }
    out
}

/// Writes them beside both edges; the lower edge of a whole bottom is its centreline.
pub fn show(painter: &Painter, context: &Context, model: &Model, panel: usize, at: Placement) {
    let p = &model.panels[panel];
    let units = context.session.hull().units;
    let tokens = context.tokens;
    for upper in [true, false] {
        let mut last: Option<Rect> = None;
        // From the after end: the whole length is never the one left out.
        for o in ordinates(&p.flat, &model.stations, upper).into_iter().rev() {
            let foot = at.place(o.at);
            let out = vec2(o.outward.x as f32, -o.outward.y as f32);
            let far = foot + (5.0 + TICK) * out;
            let words = match o.station {
                Some(k) if at.scale > 0.22 => format!("{k} · {}", units.show(o.along)),
                _ => units.show(o.along),
            };
            let words = painter.layout_no_wrap(words, FontId::monospace(size::SMALL), tokens.chalk);
            // All of the words lie beyond the tick's end, however it slants.
            let half = 0.5 * words.size();
            let reach = out.x.abs() * half.x + out.y.abs() * half.y;
            let place = Rect::from_center_size(far + (2.0 + reach) * out, words.size());
            if last.is_some_and(|l| l.expand(APART).intersects(place)) {
                continue;
            }
            last = Some(place);
            let (near, far) = (foot + 5.0 * out, foot + (5.0 + TICK) * out);
            painter.line_segment([near, far], Stroke::new(1.0, tokens.chalk));
            if !upper && p.full_width {
                // Along the centreline of a whole bottom they stand on her other half.
                painter.rect_filled(place.expand2(vec2(3.0, 0.0)), 2.0, tokens.ply);
            }
            painter.galley(place.min, words, tokens.chalk);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;

    #[test]
    fn the_last_ordinate_is_the_edge_and_they_grow() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            for p in &model.panels {
                for (upper, length) in [(false, p.edges.lower), (true, p.edges.upper)] {
                    let all = ordinates(&p.flat, &model.stations, upper);
                    let last = all.last().expect("an end");
                    assert!((last.along - length).abs() < 1e-6, "{} {}", starter.name, p.name);
                    assert!(all.windows(2).all(|w| w[0].along < w[1].along), "{all:?}");
                    assert!(all.len() >= 3, "{} {}: {all:?}", starter.name, p.name);
                }
            }
        }
    }
}
