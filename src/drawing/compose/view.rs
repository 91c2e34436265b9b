//! A view drawn to a scale, with the sticks of the jig and words that stand clear of each
//! other.

use super::Line;
use super::layers;
use crate::drawing::face::{TextBox, width};
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::part::Use;
use crate::setup::Stick;
use crate::units::Units;

/// Heights of text on paper, mm.
pub(super) const WORDS: f64 = 2.6;
pub(super) const FIGURES: f64 = 2.0;
/// Room between two texts, mm.
const CLEAR: f64 = 0.4;
/// From a dimension's end to a text that stands past it, mm.
const PAST: f64 = 1.5;
/// How often a text is moved on to find a clear place.
const TRIES: usize = 12;

/// Which way one looks at the jig.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// From the side: aft to the right.
    Side,
    /// From above: aft to the right, starboard up.
    Above,
    /// From ahead: starboard to the right.
    Ahead,
}

/// A view drawn to scale.
pub(super) struct View {
    /// The drawing.
    pub d: Drawing,
    k: f64,
}

impl View {
    /// An empty view `reduced` times smaller than life.
    pub(super) fn new(model: &Model, name: &str, reduced: f64, whose: &str) -> View {
        let mut d = Drawing::new(format!("{}: {name}", model.hull.name), whose, layers());
        d.reduced = reduced;
        View { d, k: 1.0 / reduced }
    }

    /// The finished drawing; its last note says how its lengths are written where that is not
    /// plain.
    pub(super) fn finished(mut self, units: Units) -> Drawing {
        if let Some(words) = units.explained() {
            self.d.note(format!("Lengths: {words}."));
        }
        self.d
    }

    /// A place on paper.
    pub(super) fn at(&self, x: f64, y: f64) -> P2 {
        P2::new(self.k * x, self.k * y)
    }

    /// A polyline of places.
    pub(super) fn line(&mut self, layer: Line, points: &[(f64, f64)], closed: bool) {
        let points = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
        self.d.polyline(layer, points, closed);
    }

    /// A stick as it is seen `from`, moved by `by`: its corners, or the box around it.
    pub(super) fn stick(&mut self, s: &Stick, from: Look, by: (f64, f64)) {
        let layer = match s.purpose {
            Use::Spall(_) => Line::Plate,
            Use::Brace => Line::Check,
            _ => Line::Outline,
        };
        let [x, y, z] = s.extent();
        let boxed =
            |a: [f64; 2], b: [f64; 2]| vec![(a[0], b[0]), (a[1], b[0]), (a[1], b[1]), (a[0], b[1])];
        let ring = || s.ring.iter().map(|p| (p.x, p.y)).collect();
        let corners: Vec<(f64, f64)> = match (from, s.from_ahead) {
            (Look::Side, false) | (Look::Ahead, true) => ring(),
            (Look::Side, true) => boxed(x, z),
            (Look::Above, _) => boxed(x, y),
            (Look::Ahead, false) => boxed(y, z),
        };
        let moved: Vec<(f64, f64)> = corners.iter().map(|(a, b)| (a + by.0, b + by.1)).collect();
        self.line(layer, &moved, true);
    }

    /// A text beside a place, `shift` mm of paper from it; moved on by `step` until it is
    /// clear of the texts before it.
    pub(super) fn label(
        &mut self,
        (x, y): (f64, f64),
        (shift, step): (V2, V2),
        (anchor, height): (Anchor, f64),
        text: impl Into<String>,
    ) {
        let at = self.at(x, y) + shift;
        let text = text.into();
        for k in 0..=TRIES {
            self.d.text(Line::Text, at + k as f64 * step, height, 0.0, anchor, text.clone());
            if k == TRIES || self.last_is_clear() {
                return;
            }
            self.d.items.pop();
        }
    }

    /// A dimension between two places, its line `aside` mm of paper off; moved farther off
    /// until its text is clear of the texts before it. A text longer than its line stands
    /// past the line's first end.
    pub(super) fn dimension(
        &mut self,
        ends: ((f64, f64), (f64, f64)),
        aside: f64,
        text: impl Into<String>,
    ) {
        self.dimension_past(ends, aside, text, false);
    }

    /// As [`View::dimension`]; a text longer than its line stands past the line's last end
    /// if `last`.
    pub(super) fn dimension_past(
        &mut self,
        (a, b): ((f64, f64), (f64, f64)),
        aside: f64,
        text: impl Into<String>,
        last: bool,
    ) {
        let (a, b) = (self.at(a.0, a.1), self.at(b.0, b.1));
        let text = text.into();
        let Some(e) = (b - a).try_normalize(1e-9) else {
            return;
        };
        let long = width(&text, FIGURES, false);
        let before = self.d.items.len();
        let step = 2.0 * FIGURES * if aside < 0.0 { -1.0 } else { 1.0 };
        for k in 0..=TRIES {
            let off = aside + k as f64 * step;
            self.d.dimension(Line::Dimension, (a, b), off, FIGURES, text.clone());
            if long + PAST > (b - a).norm() {
                self.d.items.pop();
                let left = V2::new(-e.y, e.x);
                let (from, way) = if last { (b, e) } else { (a, -e) };
                let (near, far) = (from + off * left, from + off * left + (PAST + long) * way);
                self.d.line(Line::Dimension, near, far);
                // Read from below or from the right.
                let turned = e.x < -1e-9 || (e.x.abs() <= 1e-9 && e.y < 0.0);
                let along = if turned { -e } else { e };
                let up = V2::new(-along.y, along.x);
                let middle = near + (PAST + 0.5 * long) * way + 0.35 * FIGURES * up;
                let angle = along.y.atan2(along.x);
                self.d.text(Line::Dimension, middle, FIGURES, angle, Anchor::Middle, text.clone());
            }
            if k == TRIES || self.last_is_clear() {
                return;
            }
            self.d.items.truncate(before);
        }
    }

    /// Whether the text drawn last is clear of those before it.
    fn last_is_clear(&self) -> bool {
        let boxes: Vec<TextBox> = self.d.items.iter().filter_map(|i| i.shape.text_box()).collect();
        boxes.split_last().is_none_or(|(last, others)| {
            let roomy = TextBox {
                low: last.low - V2::new(CLEAR, CLEAR),
                along: last.along + grown(last.along),
                up: last.up + grown(last.up),
            };
            others.iter().all(|b| !roomy.meets(b, 0.0))
        })
    }
}

/// What a side of a box grows by so that there is room on both its sides.
fn grown(side: V2) -> V2 {
    side.try_normalize(1e-9).map_or_else(V2::zeros, |e| 2.0 * CLEAR * e)
}
