//! Dimensions along a pattern's edges: from the bow's corner to each station, to be marked
//! off with a tape laid along the edge.

use bevy_egui::egui::{FontId, Painter, Pos2, Rect, Stroke, Vec2, vec2};

use crate::flat::{FlatPanel, marks};
use crate::geom::segment::nearest_share;
use crate::geom::{P2, V2};
use crate::model::{Model, PanelModel};
use crate::units::Units;
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

/// A figure at an edge: its words, their place, and the tick that leads to them, points.
struct Figure {
    words: String,
    place: Rect,
    tick: [Pos2; 2],
}

/// Where the figures of a panel stand: beyond its edges; along the centreline of a whole bottom
/// on her other half. `size` is how large words are, points.
fn figures(
    p: &PanelModel,
    stations: &[f64],
    units: Units,
    at: Placement,
    size: &dyn Fn(&str) -> Vec2,
) -> Vec<Figure> {
    let mut out: Vec<Figure> = Vec::new();
    for upper in [true, false] {
        let mut last: Option<Rect> = None;
        let on_wood = !upper && p.full_width;
        // From the after end: the whole length is never the one left out.
        for o in ordinates(&p.flat, stations, upper).into_iter().rev() {
            let foot = at.place(o.at);
            let way = vec2(o.outward.x as f32, -o.outward.y as f32);
            let words = match o.station {
                Some(k) if at.scale > 0.22 => format!("{k} · {}", units.show(o.along)),
                _ => units.show(o.along),
            };
            let (near, far) = (foot + 5.0 * way, foot + (5.0 + TICK) * way);
            // All of the words lie beyond the tick's end, however it slants.
            let half = 0.5 * size(&words);
            let reach = way.x.abs() * half.x + way.y.abs() * half.y;
            let mut place = Rect::from_center_size(far + (2.0 + reach) * way, 2.0 * half);
            let struck =
                |place: Rect| on_wood && crosses_port_edge(p, at, place.expand2(vec2(4.0, 1.0)));
            if on_wood && o.station.is_none() {
                // All of it forward of her end; beyond it where she is too narrow there.
                let beyond = Rect::from_center_size(foot + vec2(half.x + 2.0, 0.0), 2.0 * half);
                let within = place.translate(vec2(-half.x - 6.0, 0.0));
                place = if struck(within) { beyond } else { within };
            } else if struck(place) {
                continue;
            }
            if last.is_some_and(|l| l.expand(APART).intersects(place)) {
                continue;
            }
            last = Some(place);
            out.push(Figure { words, place, tick: [near, far] });
        }
    }
    out
}

/// Whether a place on the port half of a whole bottom runs over her edge.
fn crosses_port_edge(p: &PanelModel, at: Placement, place: Rect) -> bool {
    let edge: Vec<Pos2> =
        p.flat.upper_edge().iter().map(|q| at.place(P2::new(q.x, -q.y))).collect();
    edge.windows(2).any(|w| {
        // Short pieces: their box tells.
        Rect::from_two_pos(w[0], w[1]).intersects(place)
    })
}

/// Writes them beside both edges.
pub fn show(painter: &Painter, context: &Context, model: &Model, panel: usize, at: Placement) {
    let p = &model.panels[panel];
    let tokens = context.tokens;
    let laid = |words: &str| {
        painter.layout_no_wrap(words.into(), FontId::monospace(size::SMALL), tokens.chalk)
    };
    let units = context.session.hull().units;
    for f in figures(p, &model.stations, units, at, &|words| laid(words).size()) {
        painter.line_segment(f.tick, Stroke::new(1.0, tokens.chalk));
        if p.full_width && f.place.center().y > at.place(P2::origin()).y + 1.0 {
            // On her other half, over its marks.
            painter.rect_filled(f.place.expand2(vec2(3.0, 0.0)), 2.0, tokens.ply);
        }
        painter.galley(f.place.min, laid(&f.words), tokens.chalk);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;

    /// Across the edge of the wood they would hide what is cut; the whole length is always told.
    #[test]
    fn no_figure_lies_across_an_edge() {
        let size = |words: &str| vec2(8.0 * words.chars().count() as f32, 15.0);
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            for (p, scale) in model.panels.iter().flat_map(|p| [(p, 0.1), (p, 0.18), (p, 0.5)]) {
                let at = Placement { origin: Pos2::new(100.0, 400.0), scale };
                let all = figures(p, &model.stations, Units::FeetInchesEighths, at, &size);
                let whole = Units::FeetInchesEighths.show(p.edges.lower);
                assert!(all.iter().any(|f| f.words == whole), "{} {}", starter.name, p.name);
                let edges = [p.flat.upper_edge(), p.flat.lower_edge()];
                let sides: &[f64] = if p.full_width { &[1.0, -1.0] } else { &[1.0] };
                for (edge, side) in edges.iter().flat_map(|e| sides.iter().map(move |s| (e, s))) {
                    if p.full_width && edge.iter().all(|q| q.y.abs() < 1e-6) {
                        continue; // the centreline is no edge of the wood
                    }
                    for q in edge {
                        let q = at.place(P2::new(q.x, side * q.y));
                        let over = all.iter().find(|f| f.place.contains(q));
                        assert!(over.is_none(), "{} {} at {scale}", starter.name, p.name);
                    }
                }
            }
        }
    }

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
