//! A name beside a part that has no room for it, with a line that leads to the part.

use super::line::SheetLine;
use crate::drawing::face::{TextBox, width};
use crate::drawing::{Anchor, Drawing, Shape};
use crate::geom::ring::inside;
use crate::geom::{P2, V2};

/// Between the name and anything else, mm on paper.
const CLEAR: f64 = 0.5;
/// Places are tried so far apart, mm on paper.
const STEP: f64 = 1.0;

/// Writes `text`, `height` mm high, as near to `to` as it stands clear of all that is drawn and on
/// no part, between `low` and `high`, with a line from `to`; whether it found room. `rings` are
/// the outlines of all parts, mm on paper; with `over_words` the line may pass under other words.
pub(super) fn with_leader(
    d: &mut Drawing,
    rings: &[Vec<P2>],
    (text, height): (&str, f64),
    to: P2,
    (low, high): (P2, P2),
    over_words: bool,
) -> bool {
    let size = V2::new(width(text, height, false), height);
    let around = |p: &P2| TextBox {
        low: p - V2::new(CLEAR, CLEAR),
        along: V2::new(size.x + 2.0 * CLEAR, 0.0),
        up: V2::new(0.0, size.y + 2.0 * CLEAR),
    };
    let lines = lines(d);
    let words: Vec<TextBox> = d.items.iter().filter_map(|i| i.shape.text_box()).collect();
    let clear = |p: &P2| {
        let own = around(p);
        let on_part = |q: P2| rings.iter().any(|r| inside(r, q));
        let leader = [to, end_of_leader(&own, to)];
        !on_part(p + 0.5 * size)
            && own.corners().iter().all(|q| !on_part(*q))
            && lines.iter().all(|l| own.length_within(l) == 0.0)
            && words
                .iter()
                .all(|w| !w.meets(&own, 0.0) && (over_words || w.length_within(&leader) == 0.0))
    };
    let count = |room: f64| (room / STEP).floor().max(-1.0) as i32;
    let (across, up) = (count(high.x - low.x - size.x), count(high.y - low.y - size.y));
    let places = (0..=across).flat_map(|i| (0..=up).map(move |j| (f64::from(i), f64::from(j))));
    let mut places: Vec<P2> = places.map(|(i, j)| low + STEP * V2::new(i, j)).collect();
    let far = |p: &P2| (p + 0.5 * size - to).norm();
    places.sort_by(|a, b| far(a).total_cmp(&far(b)));
    let Some(at) = places.into_iter().find(clear) else {
        return false;
    };
    d.line(SheetLine::Dimension, to, end_of_leader(&around(&at), to));
    d.text(SheetLine::Text, at, height, 0.0, Anchor::Left, text);
    true
}

/// The place of a box's edge that is nearest to `to`.
fn end_of_leader(b: &TextBox, to: P2) -> P2 {
    let high = b.low + b.along + b.up;
    P2::new(to.x.clamp(b.low.x, high.x), to.y.clamp(b.low.y, high.y))
}

fn lines(d: &Drawing) -> Vec<[P2; 2]> {
    let mut out = Vec::new();
    for item in &d.items {
        if let Shape::Polyline { points, closed } = &item.shape {
            out.extend(points.windows(2).map(|w| [w[0], w[1]]));
            if let (true, Some(a), Some(b)) = (closed, points.last(), points.first()) {
                out.push([*a, *b]);
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::compose::sheet::layers;

    /// A strip 2 mm wide on paper between two parts: its name stands on neither, with a line to it.
    #[test]
    fn a_name_without_room_stands_on_no_part_and_leads_to_its_own() {
        let ring = |x: f64, w: f64| {
            [(x, 0.0), (x + w, 0.0), (x + w, 40.0), (x, 40.0)].map(|(x, y)| P2::new(x, y)).to_vec()
        };
        let rings = [ring(0.0, 30.0), ring(31.0, 2.0), ring(34.0, 30.0)];
        let mut d = Drawing::new("a sheet", "", layers());
        for r in &rings {
            d.polyline(SheetLine::Cut, r.clone(), true);
        }
        let to = P2::new(32.0, 20.0);
        let room = (P2::new(0.0, 0.0), P2::new(64.0, 60.0));
        assert!(with_leader(&mut d, &rings, ("6  block", 2.0), to, room, false));
        let words = d.items.iter().find_map(|i| i.shape.text_box()).expect("a name");
        assert!(words.low.y > 40.0, "above the parts: {words:?}");
        let Some(Shape::Polyline { points, .. }) = d.items.iter().rev().nth(1).map(|i| &i.shape)
        else {
            panic!("a line");
        };
        assert_eq!(points[0], to);
        assert!((points[1].y - words.low.y).abs() <= CLEAR + 1e-9);
        let none = (P2::new(0.0, 0.0), P2::new(64.0, 40.0));
        assert!(!with_leader(&mut d, &rings, ("6  block", 2.0), to, none, false));
    }
}
