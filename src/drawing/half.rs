//! One half of a drawing that is the same on both sides of a line: paper is printed for one.

use super::{Drawing, LayerId, Shape};
use crate::geom::{P2, V2};

/// How near (mm) a line's mirror image must lie to count as drawn on both sides.
const TWIN: f64 = 0.05;

/// The line about which a drawing is the same on both sides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// A point of it, mm.
    pub at: P2,
    /// Along it, a unit vector; the half on its left is kept.
    pub along: V2,
}

impl Axis {
    /// Distance to the left, mm.
    fn left(&self, p: P2) -> f64 {
        let d = p - self.at;
        self.along.x * d.y - self.along.y * d.x
    }

    fn normal(&self) -> V2 {
        V2::new(-self.along.y, self.along.x)
    }

    fn mirrored(&self, p: P2) -> P2 {
        p - 2.0 * self.left(p) * self.normal()
    }

    /// What of a polyline lies on the left, in its order; a closed one is closed first.
    fn kept(&self, points: &[P2], closed: bool) -> Vec<Vec<P2>> {
        let mut points = points.to_vec();
        if closed {
            // Begin on the right, so that no piece is cut in two at the start.
            if let Some(k) = points.iter().position(|p| self.left(*p) < -TWIN) {
                points.rotate_left(k);
            }
            points.push(points[0]);
        }
        let mut out: Vec<Vec<P2>> = Vec::new();
        let mut piece: Vec<P2> = Vec::new();
        for w in points.windows(2) {
            let (a, b) = (self.left(w[0]), self.left(w[1]));
            let cut = || w[0] + a / (a - b) * (w[1] - w[0]);
            if a >= 0.0 && piece.is_empty() {
                piece.push(w[0]);
            }
            if a < 0.0 && b >= 0.0 && b - a > 0.0 {
                piece = vec![cut()];
            }
            if b >= 0.0 {
                piece.push(w[1]);
            } else if a >= 0.0 {
                piece.push(cut());
                out.push(std::mem::take(&mut piece));
            }
        }
        out.push(piece);
        // What runs along the axis and nowhere else was cut off there, not drawn.
        out.retain(|p| p.len() >= 2 && p.iter().any(|q| self.left(*q) > TWIN));
        out
    }
}

/// Whether two polylines run through the same points, in either order.
fn same(a: &[P2], b: &[P2]) -> bool {
    let near = |p: &P2, q: &P2| (p - q).norm() < TWIN;
    a.len() == b.len()
        && (a.iter().zip(b).all(|(p, q)| near(p, q))
            || a.iter().rev().zip(b).all(|(p, q)| near(p, q)))
}

impl Drawing {
    /// The half on the left of `axis`, the axis itself drawn on layer `centre` from end to end
    /// of what is kept. What stands on the other side alone (a dimension, a word) is turned
    /// over to this one, so that nothing is lost.
    pub fn half(&self, axis: Axis, centre: impl Into<LayerId>) -> Drawing {
        let mut out = self.clone();
        out.items.clear();
        let lines = |left: bool| {
            self.items.iter().filter_map(move |i| match &i.shape {
                Shape::Polyline { points, closed } => {
                    let (l, r) = points.iter().fold((false, false), |(l, r), p| {
                        (l || axis.left(*p) > TWIN, r || axis.left(*p) < -TWIN)
                    });
                    (if left { l } else { r && !l }).then_some((i, points, *closed))
                }
                Shape::Text { .. } => None,
            })
        };
        for (item, points, closed) in lines(true) {
            let crosses = points.iter().any(|p| axis.left(*p) < -TWIN);
            if !crosses {
                out.items.push(item.clone());
                continue;
            }
            for piece in axis.kept(points, closed) {
                out.polyline(item.layer, piece, false);
            }
        }
        let kept_lines = out.items.clone();
        for (item, points, closed) in lines(false) {
            let turned: Vec<P2> = points.iter().map(|p| axis.mirrored(*p)).collect();
            let drawn = kept_lines.iter().any(|k| match &k.shape {
                Shape::Polyline { points, closed: c } => {
                    k.layer == item.layer && *c == closed && same(points, &turned)
                }
                Shape::Text { .. } => false,
            });
            // A ring may begin elsewhere than its twin: it is known by its box.
            let boxed = closed && kept_lines.iter().any(|k| same_box(&k.shape, &turned, axis));
            if !drawn && !boxed {
                out.polyline(item.layer, turned, closed);
            }
        }
        self.words_of_half(axis, &mut out);
        if let Some((from, to)) = out.reach(axis) {
            out.line(centre, axis.at + from * axis.along, axis.at + to * axis.along);
        }
        out
    }

    /// Words of the kept half, and those that only the other one has.
    fn words_of_half(&self, axis: Axis, out: &mut Drawing) {
        for item in &self.items {
            let (Some(own), Shape::Text { text, .. }) = (item.shape.text_box(), &item.shape) else {
                continue;
            };
            let [low, far] = [own.corners()[0], own.corners()[2]];
            let middle = low + 0.5 * (far - low);
            // How far its box reaches over the axis.
            let over =
                own.corners().iter().map(|p| -axis.left(*p)).fold(f64::NEG_INFINITY, f64::max);
            let said = |d: &Drawing| {
                d.items.iter().any(|k| matches!(&k.shape, Shape::Text { text: t, .. } if t == text))
            };
            let mut moved = item.clone();
            if axis.left(middle) < 0.0 {
                if said(out) || self.said_left(axis, text) {
                    continue;
                }
                let to = axis.mirrored(middle);
                shift(&mut moved.shape, to - middle);
            }
            // Clear of the axis, where the paper may end.
            let over = if axis.left(middle) < 0.0 {
                let b = moved.shape.text_box().unwrap_or(own);
                b.corners().iter().map(|p| -axis.left(*p)).fold(f64::NEG_INFINITY, f64::max)
            } else {
                over
            };
            if over > 0.0 {
                shift(&mut moved.shape, (over + 2.0) * axis.normal());
            }
            out.items.push(moved);
        }
    }

    /// Whether a text of these words stands on the left of the axis.
    fn said_left(&self, axis: Axis, words: &str) -> bool {
        self.items.iter().any(|i| match (&i.shape, i.shape.text_box()) {
            (Shape::Text { text, .. }, Some(b)) => {
                text == words && axis.left(b.low + 0.5 * (b.along + b.up)) >= 0.0
            }
            _ => false,
        })
    }

    /// From where to where along an axis the drawing's lines reach, mm from its point.
    fn reach(&self, axis: Axis) -> Option<(f64, f64)> {
        let along = self.items.iter().flat_map(|i| match &i.shape {
            Shape::Polyline { points, .. } => points.clone(),
            Shape::Text { .. } => Vec::new(),
        });
        let (low, high) = along
            .map(|p| (p - axis.at).dot(&axis.along))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
        (high > low).then_some((low, high))
    }
}

/// Whether a closed shape has the box of a closed ring, a ring's symmetry about the axis set
/// aside: twins drawn from another starting point.
fn same_box(shape: &Shape, ring: &[P2], axis: Axis) -> bool {
    let Shape::Polyline { points, closed: true } = shape else {
        return false;
    };
    let span = |points: &[P2]| {
        points.iter().fold(
            [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY],
            |s, p| {
                let (a, l) = ((p - axis.at).dot(&axis.along), axis.left(*p));
                [s[0].min(a), s[1].max(a), s[2].min(l), s[3].max(l)]
            },
        )
    };
    span(points).iter().zip(span(ring)).all(|(a, b)| (a - b).abs() < TWIN)
}

fn shift(shape: &mut Shape, by: V2) {
    match shape {
        Shape::Polyline { points, .. } => points.iter_mut().for_each(|p| *p += by),
        Shape::Text { at, .. } => *at += by,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Anchor, Dash, Layer, Purpose};

    const UPRIGHT: Axis = Axis { at: P2::new(0.0, 0.0), along: V2::new(0.0, -1.0) };

    fn sheet() -> Drawing {
        let layer = |name| Layer {
            name,
            width: 0.2,
            dash: Dash::Solid,
            colour: [0; 3],
            purpose: Purpose::Cut,
        };
        Drawing::new("two sides", "", vec![layer("CUT"), layer("CENTRE")])
    }

    fn total(d: &Drawing, layer: usize) -> f64 {
        let layer = LayerId::from(layer);
        d.items
            .iter()
            .filter(|i| i.layer == layer)
            .map(|i| match &i.shape {
                Shape::Polyline { points, closed } => {
                    let ends =
                        if *closed { (points[points.len() - 1] - points[0]).norm() } else { 0.0 };
                    ends + points.windows(2).map(|w| (w[1] - w[0]).norm()).sum::<f64>()
                }
                Shape::Text { .. } => 0.0,
            })
            .sum()
    }

    /// A square of 200 about the axis: half of its edge is 100 + 200 + 100, and no cut line
    /// runs along the axis.
    #[test]
    fn half_of_an_outline_ends_on_the_axis() {
        let mut d = sheet();
        let corners = [(-100.0, 0.0), (100.0, 0.0), (100.0, 200.0), (-100.0, 200.0)];
        d.polyline(0, corners.map(|(x, y)| P2::new(x, y)).to_vec(), true);
        let half = d.half(UPRIGHT, 1);
        assert!((total(&half, 0) - 400.0).abs() < 1e-9, "{}", total(&half, 0));
        assert!((total(&half, 1) - 200.0).abs() < 1e-9, "the axis itself");
        let (low, _) = half.bounds().expect("something");
        assert!(low.x.abs() < 1e-9);
    }

    #[test]
    fn pairs_are_drawn_once_and_what_one_side_alone_has_is_kept() {
        let mut d = sheet();
        d.line(0, P2::new(50.0, 0.0), P2::new(60.0, 90.0));
        d.line(0, P2::new(-60.0, 90.0), P2::new(-50.0, 0.0));
        d.line(0, P2::new(-300.0, 0.0), P2::new(-300.0, 70.0));
        d.text(0, P2::new(20.0, 5.0), 5.0, 0.0, Anchor::Left, "log");
        d.text(0, P2::new(-40.0, 5.0), 5.0, 0.0, Anchor::Left, "log");
        d.text(0, P2::new(-310.0, 5.0), 5.0, 0.0, Anchor::Middle, "height 70");
        let half = d.half(UPRIGHT, 1);
        let lines = half
            .items
            .iter()
            .filter(|i| i.layer == LayerId::from(0) && i.shape.text_box().is_none());
        assert_eq!(lines.count(), 2);
        let words: Vec<_> = half.items.iter().filter(|i| i.shape.text_box().is_some()).collect();
        assert_eq!(words.len(), 2);
        assert!(half.items.iter().flat_map(|i| i.shape.corners()).all(|p| p.x > -1e-9));
    }
}
