//! Words that stand clear: of two that would overprint, the later one moves aside, as little
//! as will do, and a word that a line would strike through moves off it where there is room
//! near by.

use super::face::{BELOW, TextBox};
use super::{Anchor, Drawing, Shape};
use crate::geom::polyline::bounds;
use crate::geom::{P2, V2};

/// How far a text may move along or across its baseline, in heights of its capitals.
const FARTHEST: f64 = 14.0;
/// Step of the search, in heights of capitals: finer than an eye minds.
const STEP: f64 = 0.7;
/// What must stay between two texts, over the height of capitals of the one that moves: above
/// and below, and at either end, where two figures would be read as one.
const CLEAR: f64 = 0.15;
const CLEAR_ENDS: f64 = 0.8;

/// Letters of so few characters mark the very place where they stand, and stay there.
const LETTERS: usize = 2;
/// What a line through a text costs, in heights of capitals that it had better be moved: at
/// all, and for each height of line that lies in it, up to so many.
const STRUCK: f64 = 2.0;
const STRUCK_MOST: f64 = 12.0;
/// Less of a line than this in a text, in heights of capitals, is not seen.
const UNSEEN: f64 = 0.25;

/// What it costs to leave the room that the drawing took before, likewise.
const OUTSIDE: f64 = 5.0;

/// A move that may be tried, in heights of capitals.
#[derive(Debug, Clone, Copy)]
struct Move {
    along: f64,
    across: f64,
    /// How far it counts.
    far: f64,
}

/// Moves that are tried, nearest first. A step along the baseline counts half, as the text
/// stays beside what it names; that of a dimension, which stands over the middle of its line,
/// had better keep to the line.
fn moves(anchor: Anchor) -> Vec<Move> {
    let n = (FARTHEST / STEP) as i32;
    let (by_along, by_across) = match anchor {
        Anchor::Left => (0.5, 1.0),
        Anchor::Middle => (0.4, 1.6),
    };
    let mut out: Vec<Move> = (-n..=n)
        .flat_map(|i| (-n..=n).map(move |j| (f64::from(i) * STEP, f64::from(j) * STEP)))
        .map(|(along, across)| Move {
            along,
            across,
            far: (by_along * along).hypot(by_across * across),
        })
        .collect();
    out.sort_by(|a, b| a.far.total_cmp(&b.far));
    out
}

/// Straight pieces of all lines of a drawing.
pub(super) fn pieces(d: &Drawing) -> Vec<[P2; 2]> {
    let mut out = Vec::new();
    for item in &d.items {
        if let Shape::Polyline { points, closed } = &item.shape {
            out.extend(points.windows(2).map(|w| [w[0], w[1]]));
            if let (true, Some(last), Some(first)) = (closed, points.last(), points.first()) {
                out.push([*last, *first]);
            }
        }
    }
    out
}

/// Pieces that come within `reach` of a box.
pub(super) fn near<'a>(all: &'a [[P2; 2]], b: &TextBox, reach: f64) -> Vec<&'a [P2; 2]> {
    let Some((low, high)) = bounds(b.corners()) else {
        return Vec::new();
    };
    let (low, high) = (low - V2::new(reach, reach), high + V2::new(reach, reach));
    all.iter()
        .filter(|[p, q]| {
            p.x.max(q.x) >= low.x
                && p.x.min(q.x) <= high.x
                && p.y.max(q.y) >= low.y
                && p.y.min(q.y) <= high.y
        })
        .collect()
}

/// What it costs that lines run through the letters of a text, in heights of capitals.
pub(super) fn struck(lines: &[&[P2; 2]], own: &TextBox, height: f64) -> f64 {
    // Letters stand between the baseline and the capitals' height; a tail may touch a line.
    let up = own.up.try_normalize(1e-12).unwrap_or_else(V2::y);
    let letters = TextBox { low: own.low + BELOW * height * up, along: own.along, up: height * up };
    let within: f64 = lines.iter().map(|l| letters.length_within(l)).sum();
    let heights = within / height;
    if heights < UNSEEN { 0.0 } else { STRUCK + heights.min(STRUCK_MOST) }
}

/// A box with the room that must stay around it: `height` is that of the capitals.
fn with_room(b: &TextBox, height: f64) -> TextBox {
    let (room, ends) = (CLEAR * height, CLEAR_ENDS * height);
    let (e, n) = (
        b.along.try_normalize(1e-12).unwrap_or_else(V2::x),
        b.up.try_normalize(1e-12).unwrap_or_else(V2::y),
    );
    TextBox {
        low: b.low - ends * e - room * n,
        along: b.along + 2.0 * ends * e,
        up: b.up + 2.0 * room * n,
    }
}

impl Drawing {
    /// Moves texts so that none overprints another and, where there is room near by, none is
    /// struck through by a line. A text that finds no place near its own becomes a note.
    pub fn settle_words(&mut self) {
        let lines = pieces(self);
        let sheet = self.bounds();
        let (beside, over) = (moves(Anchor::Left), moves(Anchor::Middle));
        let mut taken: Vec<TextBox> = Vec::new();
        let mut lost: Vec<usize> = Vec::new();
        // First those that stand clear as they are: none of them gives way to another.
        let mut unsettled: Vec<usize> = Vec::new();
        for (i, item) in self.items.iter().enumerate() {
            let (Some(own), Shape::Text { height, text, .. }) =
                (item.shape.text_box(), &item.shape)
            else {
                continue;
            };
            if text.trim().is_empty() {
                lost.push(i);
                continue;
            }
            let roomy = with_room(&own, *height);
            let clear = taken.iter().all(|t| !t.meets(&roomy, 0.0));
            let letter = text.chars().count() <= LETTERS;
            if clear && (letter || struck(&near(&lines, &own, 0.0), &own, *height) == 0.0) {
                taken.push(own);
            } else {
                unsettled.push(i);
            }
        }
        for i in unsettled {
            let Some(own) = self.items[i].shape.text_box() else {
                continue;
            };
            let Shape::Text { at, height, angle, anchor, .. } = &mut self.items[i].shape else {
                continue;
            };
            let (sin, cos) = angle.sin_cos();
            let roomy = with_room(&own, *height);
            let lines = near(&lines, &own, 1.5 * FARTHEST * *height);
            let moves = if *anchor == Anchor::Left { &beside } else { &over };
            let mut best: Option<(f64, V2)> = None;
            for m in moves {
                if best.is_some_and(|(cost, _)| m.far >= cost) {
                    break;
                }
                let by = *height * (m.along * V2::new(cos, sin) + m.across * V2::new(-sin, cos));
                let there = roomy.moved(by);
                if taken.iter().any(|t| t.meets(&there, 0.0)) {
                    continue;
                }
                let there = own.moved(by);
                let off = sheet.is_some_and(|(low, high)| !there.within(low, high));
                let away = if off { OUTSIDE } else { 0.0 };
                let cost = m.far + away + struck(&lines, &there, *height);
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, by));
                }
            }
            match best {
                Some((_, by)) => {
                    *at += by;
                    taken.push(own.moved(by));
                }
                None => lost.push(i),
            }
        }
        lost.sort_unstable();
        for i in lost.into_iter().rev() {
            if let Shape::Text { text, .. } = self.items.remove(i).shape
                && !text.trim().is_empty()
            {
                self.notes.push(text);
            }
        }
    }
}

/// How finely a place for a block is looked for, over its height.
const PLACES: f64 = 0.25;

impl Drawing {
    /// Where a block `size` (mm, breadth and height) stands clear of all that is drawn, its
    /// middle as near to `to` as can be: its lower left corner, within the room that the
    /// drawing takes or, failing that, one block's height below or above it. `None` where
    /// there is no such place.
    pub fn room_for(&self, size: V2, to: P2) -> Option<P2> {
        let (low, high) = self.bounds()?;
        let more = V2::new(0.0, size.y);
        self.room_within((low, high), size, to)
            .or_else(|| self.room_within((low - more, high + more), size, to))
    }

    /// [`Drawing::room_for`] within the box from `low` to `high`.
    pub fn room_within(&self, (low, high): (P2, P2), size: V2, to: P2) -> Option<P2> {
        let step = PLACES * size.y;
        if !(step > 0.0 && size.x > 0.0) {
            return None;
        }
        let count = |room: f64| (room / step).floor().clamp(-1.0, MOST_PLACES) as i32;
        let (across, up) = (count(high.x - low.x - size.x), count(high.y - low.y - size.y));
        let mut places: Vec<P2> = (0..=across)
            .flat_map(|i| (0..=up).map(move |j| V2::new(f64::from(i), f64::from(j))))
            .map(|v| low + step * v)
            .collect();
        let far = |p: &P2| (p + 0.5 * size - to).norm();
        places.sort_by(|a, b| far(a).total_cmp(&far(b)));
        let lines = pieces(self);
        let taken: Vec<TextBox> = self.items.iter().filter_map(|i| i.shape.text_box()).collect();
        places.into_iter().find(|p| {
            let block = TextBox { low: *p, along: V2::new(size.x, 0.0), up: V2::new(0.0, size.y) };
            taken.iter().all(|t| !t.meets(&block, 0.0))
                && lines.iter().all(|l| block.length_within(l) == 0.0)
        })
    }
}

/// Places along either way that are tried at most.
const MOST_PLACES: f64 = 200.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Dash, Layer, Purpose};

    fn sheet() -> Drawing {
        let layer = Layer {
            name: "TEXT",
            width: 0.2,
            dash: Dash::Solid,
            colour: [0; 3],
            purpose: Purpose::Words,
        };
        Drawing::new("words", "", vec![layer])
    }

    #[test]
    fn words_on_one_spot_end_up_apart_and_near() {
        let mut d = sheet();
        for (k, angle) in [0.0, 0.0, 0.4, 1.57, -0.3].into_iter().enumerate() {
            d.text(0, P2::new(2.0 * k as f64, 0.0), 5.0, angle, Anchor::Middle, "half-breadth 812");
        }
        d.settle_words();
        assert_eq!(d.items.len(), 5);
        let boxes: Vec<TextBox> = d.items.iter().filter_map(|i| i.shape.text_box()).collect();
        for (i, a) in boxes.iter().enumerate() {
            assert!(a.low.coords.norm() < 120.0, "moved too far: {a:?}");
            for b in &boxes[..i] {
                assert!(!a.meets(b, 0.0), "{a:?} over {b:?}");
            }
        }
    }

    #[test]
    fn a_line_through_a_word_drives_it_aside_and_no_further_than_need_be() {
        let mut d = sheet();
        d.line(0, P2::new(20.0, -200.0), P2::new(20.0, 200.0));
        d.line(0, P2::new(-100.0, 0.0), P2::new(300.0, 0.0));
        d.text(0, P2::new(0.0, -2.0), 5.0, 0.0, Anchor::Left, "sheer 745");
        d.settle_words();
        let own = d.items[2].shape.text_box().expect("a text");
        let lines = pieces(&d);
        let all: Vec<&[P2; 2]> = lines.iter().collect();
        assert_eq!(struck(&all, &own, 5.0), 0.0, "{own:?}");
        assert!(own.low.coords.norm() < 40.0, "{own:?}");
    }

    #[test]
    fn a_word_shut_in_by_lines_stays_where_it_was() {
        let mut d = sheet();
        for k in -60..=60 {
            let y = 1.5 * f64::from(k);
            d.line(0, P2::new(-300.0, y), P2::new(300.0, y));
        }
        d.text(0, P2::origin(), 5.0, 0.0, Anchor::Left, "shut in");
        let before = d.clone();
        d.settle_words();
        assert_eq!(d, before);
    }

    #[test]
    fn a_block_finds_the_nearest_clear_place_and_none_where_there_is_none() {
        let mut d = sheet();
        for x in [0.0, 100.0] {
            d.line(0, P2::new(x, 0.0), P2::new(x, 100.0));
        }
        d.line(0, P2::new(0.0, 40.0), P2::new(100.0, 40.0));
        d.text(0, P2::new(10.0, 60.0), 5.0, 0.0, Anchor::Left, "taken");
        let size = V2::new(60.0, 20.0);
        let at = d.room_for(size, P2::new(30.0, 65.0)).expect("a place");
        let block = TextBox { low: at, along: V2::new(60.0, 0.0), up: V2::new(0.0, 20.0) };
        assert!(pieces(&d).iter().all(|l| block.length_within(l) == 0.0), "{at:?}");
        assert!(d.items.iter().filter_map(|i| i.shape.text_box()).all(|t| !t.meets(&block, 0.0)));
        assert!(at.y > 40.0, "above the line, where it was wanted: {at:?}");
        // One that is too high for what is free inside stands above.
        let at = d.room_for(V2::new(99.0, 70.0), P2::new(50.0, 90.0)).expect("a place");
        assert!(at.y > 60.0 && at.y + 70.0 > 100.0, "{at:?}");
        assert_eq!(d.room_for(V2::new(990.0, 20.0), P2::new(50.0, 50.0)), None);
    }

    #[test]
    fn words_that_are_clear_stay_where_they_were_put() {
        let mut d = sheet();
        d.text(0, P2::new(0.0, 0.0), 5.0, 0.0, Anchor::Left, "up");
        d.text(0, P2::new(0.0, 10.0), 5.0, 0.0, Anchor::Left, "out");
        let before = d.clone();
        d.settle_words();
        assert_eq!(d, before);
    }

    #[test]
    fn a_word_without_room_is_told_in_the_notes() {
        let mut d = sheet();
        for _ in 0..3000 {
            d.text(0, P2::origin(), 5.0, 0.0, Anchor::Left, "crowded");
        }
        d.settle_words();
        assert!(!d.notes.is_empty());
        assert_eq!(d.items.len() + d.notes.len(), 3000);
    }
}
