//! Words that stand clear of each other: of two that would overprint, the later one moves
//! aside, as little as will do.

use super::face::TextBox;
use super::{Drawing, Shape};
use crate::geom::V2;

/// How far a text may move along or across its baseline, in heights of its capitals.
const FARTHEST: f64 = 14.0;
/// Step of the search, in heights of capitals: finer than an eye minds.
const STEP: f64 = 0.7;
/// What must stay between two texts, over the height of capitals of the one that moves: above
/// and below, and at either end, where two figures would be read as one.
const CLEAR: f64 = 0.15;
const CLEAR_ENDS: f64 = 0.8;

/// Moves that are tried, nearest first, in heights of capitals: (along, across). A step along
/// the baseline counts half, as the text stays beside what it names.
fn moves() -> Vec<(f64, f64)> {
    let n = (FARTHEST / STEP) as i32;
    let mut out: Vec<(f64, f64)> = (-n..=n)
        .flat_map(|i| (-n..=n).map(move |j| (f64::from(i) * STEP, f64::from(j) * STEP)))
        .collect();
    out.sort_by(|a, b| {
        let far = |m: &(f64, f64)| (0.5 * m.0).hypot(m.1);
        far(a).total_cmp(&far(b))
    });
    out
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
    /// Moves texts so that none overprints another. A text that finds no place near its own
    /// becomes a note.
    pub fn settle_words(&mut self) {
        let moves = moves();
        let mut taken: Vec<TextBox> = Vec::new();
        let mut lost: Vec<usize> = Vec::new();
        for (i, item) in self.items.iter_mut().enumerate() {
            let Some(own) = item.shape.text_box() else {
                continue;
            };
            let Shape::Text { at, height, angle, text, .. } = &mut item.shape else {
                continue;
            };
            if text.trim().is_empty() {
                lost.push(i);
                continue;
            }
            let (sin, cos) = angle.sin_cos();
            let roomy = with_room(&own, *height);
            let by = moves
                .iter()
                .map(|(x, y)| *height * (*x * V2::new(cos, sin) + *y * V2::new(-sin, cos)))
                .find(|by| {
                    let there = roomy.moved(*by);
                    taken.iter().all(|t| !t.meets(&there, 0.0))
                });
            match by {
                Some(by) => {
                    *at += by;
                    taken.push(own.moved(by));
                }
                None => lost.push(i),
            }
        }
        for i in lost.into_iter().rev() {
            if let Shape::Text { text, .. } = self.items.remove(i).shape
                && !text.trim().is_empty()
            {
                self.notes.push(text);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Anchor, Dash, Layer};
    use crate::geom::P2;

    fn sheet() -> Drawing {
        let layer =
            Layer { name: "TEXT", width: 0.2, dash: Dash::Solid, colour: [0; 3], needed: false };
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
