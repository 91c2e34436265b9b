//! A neutral drawing: named layers and shapes in mm, y up. It knows no boat words.
//!
//! [`compose`] makes drawings from a model; [`export`] writes drawings to files and knows
//! nothing else.

pub mod compose;
pub mod export;
pub mod face;
pub mod half;
pub mod picture;
mod settle;

use crate::geom::polyline::bounds;
use crate::geom::{P2, V2};
use face::TextBox;

/// How a layer's lines are broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Long dashes.
    Dashed,
    /// Dots.
    Dotted,
    /// Dash and dot, as centrelines are.
    DashDot,
}

impl Dash {
    /// Lengths (mm) of dash, gap, dash, gap …; empty for an unbroken line.
    pub fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Dashed => &[6.0, 3.0],
            Dash::Dotted => &[0.6, 2.4],
            Dash::DashDot => &[8.0, 2.0, 1.0, 2.0],
        }
    }
}

/// What lines are drawn for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Cut along: the outline of a part, and nothing else.
    Cut,
    /// Worked to besides: planed, notched, or shown as it is put together.
    Work,
    /// Struck or set out on the part, most of it between marks at its edge.
    Mark,
    /// Turned over about: the drawing shows one of two halves that are alike.
    Fold,
    /// Words.
    Words,
    /// To understand the rest by.
    Explain,
}

/// A layer: all its lines look alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Name in the files, ASCII capitals.
    pub name: &'static str,
    /// Line width, mm.
    pub width: f64,
    /// How its lines are broken.
    pub dash: Dash,
    /// Red, green, blue.
    pub colour: [u8; 3],
    /// What it is drawn for.
    pub purpose: Purpose,
}

impl Layer {
    /// Whether a sheet of paper is printed for its sake alone: for a line that is cut or worked
    /// to. What is struck with a straight-edge between two marks, or only explains, is printed
    /// where such a line takes it along.
    pub fn needed(&self) -> bool {
        matches!(self.purpose, Purpose::Cut | Purpose::Work)
    }
}

/// A layer of one drawing: its place in [`Drawing::layers`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LayerId(usize);

impl From<usize> for LayerId {
    fn from(place: usize) -> LayerId {
        LayerId(place)
    }
}

/// Which point of a text lies at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The left end of the baseline.
    Left,
    /// The middle of the baseline.
    Middle,
}

/// Something drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Straight pieces from point to point.
    Polyline {
        /// At least two points, mm.
        points: Vec<P2>,
        /// The last point joins the first.
        closed: bool,
    },
    /// One line of text.
    Text {
        /// Its anchor, mm.
        at: P2,
        /// Height of capitals, mm.
        height: f64,
        /// Turn from level, radians, anticlockwise.
        angle: f64,
        /// Which point of it lies at `at`.
        anchor: Anchor,
        /// The text.
        text: String,
    },
}

/// A shape on a layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Its layer.
    pub layer: LayerId,
    /// What is drawn.
    pub shape: Shape,
}

/// A drawing: mm on paper, y up, at full size unless [`Drawing::reduced`] says otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Title, printed on every page.
    pub title: String,
    /// Whom it belongs to: the line under the title.
    pub subtitle: String,
    /// The layers, bottom-most first.
    pub layers: Vec<Layer>,
    /// The shapes.
    pub items: Vec<Item>,
    /// Sentences that belong to the whole sheet: an exporter sets them in a block of their
    /// own, so that none is lost between tiles.
    pub notes: Vec<String>,
    /// How many times smaller than life it is drawn: 1 at full size, 20 at 1:20.
    pub reduced: f64,
    /// A table: it has no scale.
    pub table: bool,
    /// Which state of its subject it was made from: printed at the foot of every page.
    pub mark: String,
}

impl Drawing {
    /// An empty drawing with these layers.
    pub fn new(
        title: impl Into<String>,
        subtitle: impl Into<String>,
        layers: Vec<Layer>,
    ) -> Drawing {
        Drawing {
            title: plain(title.into()),
            subtitle: plain(subtitle.into()),
            layers,
            items: Vec::new(),
            notes: Vec::new(),
            reduced: 1.0,
            table: false,
            mark: String::new(),
        }
    }

    /// Adds a sentence to the sheet's block of notes.
    pub fn note(&mut self, sentence: impl Into<String>) {
        self.notes.push(plain(sentence.into()));
    }

    /// One of its layers.
    pub fn layer(&self, id: impl Into<LayerId>) -> &Layer {
        &self.layers[id.into().0]
    }

    /// One of its layers, to change it for this drawing.
    pub fn layer_mut(&mut self, id: impl Into<LayerId>) -> &mut Layer {
        &mut self.layers[id.into().0]
    }

    /// Draws a polyline; fewer than two points draw nothing.
    pub fn polyline(&mut self, layer: impl Into<LayerId>, points: Vec<P2>, closed: bool) {
        if points.len() >= 2 {
            let shape = Shape::Polyline { points, closed };
            self.items.push(Item { layer: layer.into(), shape });
        }
    }

    /// Draws a straight line.
    pub fn line(&mut self, layer: impl Into<LayerId>, a: P2, b: P2) {
        self.polyline(layer, vec![a, b], false);
    }

    /// Writes a text.
    pub fn text(
        &mut self,
        layer: impl Into<LayerId>,
        at: P2,
        height: f64,
        angle: f64,
        anchor: Anchor,
        text: impl Into<String>,
    ) {
        self.items.push(Item {
            layer: layer.into(),
            shape: Shape::Text { at, height, angle, anchor, text: plain(text.into()) },
        });
    }

    /// Draws an arrow from `from` to `to` with a head of `head` mm.
    pub fn arrow(&mut self, layer: impl Into<LayerId>, from: P2, to: P2, head: f64) {
        let layer = layer.into();
        self.line(layer, from, to);
        let Some(e) = (to - from).try_normalize(1e-9) else {
            return;
        };
        let side = V2::new(-e.y, e.x) * (0.35 * head);
        self.polyline(layer, vec![to - e * head + side, to, to - e * head - side], false);
    }

    /// Draws a dimension: the line from `a` to `b` moved aside to its left by `aside` mm, its
    /// extension lines, a tick at either end, and `text` along it, `height` mm high.
    pub fn dimension(
        &mut self,
        layer: impl Into<LayerId>,
        (a, b): (P2, P2),
        aside: f64,
        height: f64,
        text: impl Into<String>,
    ) {
        let layer = layer.into();
        let Some(e) = (b - a).try_normalize(1e-9) else {
            return;
        };
        let left = V2::new(-e.y, e.x);
        let (p, q) = (a + aside * left, b + aside * left);
        self.line(layer, p, q);
        let over = 0.5 * height * aside.signum();
        for (from, to) in [(a, p), (b, q)] {
            if aside != 0.0 {
                self.line(layer, from + 0.15 * (to - from), to + over * left);
            }
            let tick = 0.4 * height * (e + left);
            self.line(layer, to - tick, to + tick);
        }
        // Read from below or from the right, above its line.
        let turned = e.x < -1e-9 || (e.x.abs() <= 1e-9 && e.y < 0.0);
        let along = if turned { -e } else { e };
        let up = V2::new(-along.y, along.x);
        let at = p + 0.5 * (q - p) + 0.35 * height * up;
        self.text(layer, at, height, along.y.atan2(along.x), Anchor::Middle, text);
    }

    /// Marks a place with a slanting cross `size` mm wide: an upright one would be taken for a
    /// registration cross of printed tiles.
    pub fn cross(&mut self, layer: impl Into<LayerId>, at: P2, size: f64) {
        let layer = layer.into();
        let (a, b) = (V2::new(0.5 * size, 0.5 * size), V2::new(0.5 * size, -0.5 * size));
        self.line(layer, at - a, at + a);
        self.line(layer, at - b, at + b);
    }

    /// Marks a place with a ring `size` mm across, of short straight pieces.
    pub fn ring(&mut self, layer: impl Into<LayerId>, at: P2, size: f64) {
        const PIECES: usize = 12;
        let turn = |k: usize| std::f64::consts::TAU * k as f64 / PIECES as f64;
        let point = |k| at + 0.5 * size * V2::new(turn(k).cos(), turn(k).sin());
        self.polyline(layer, (0..PIECES).map(point).collect(), true);
    }

    /// Writes lines of words under each other, from the top, each `height` mm high.
    pub fn words(&mut self, layer: impl Into<LayerId>, at: P2, height: f64, lines: &[String]) {
        let layer = layer.into();
        for (i, line) in lines.iter().enumerate() {
            let down = V2::new(0.0, 1.7 * height * i as f64);
            self.text(layer, at - down, height, 0.0, Anchor::Left, line.clone());
        }
    }

    /// The same drawing at full size: everything, words too, as many times larger as it was
    /// reduced.
    pub fn at_full_size(&self) -> Drawing {
        let mut full = self.scaled(self.reduced);
        full.reduced = 1.0;
        full
    }

    /// The same drawing, words too, `k` times smaller: a sheet to read.
    pub fn reduced_by(&self, k: f64) -> Drawing {
        let mut small = self.scaled(1.0 / k);
        small.reduced = k * self.reduced;
        small
    }

    fn scaled(&self, k: f64) -> Drawing {
        let mut out = self.clone();
        for item in &mut out.items {
            match &mut item.shape {
                Shape::Polyline { points, .. } => points.iter_mut().for_each(|p| *p *= k),
                Shape::Text { at, height, .. } => {
                    *at *= k;
                    *height *= k;
                }
            }
        }
        out
    }

    /// The smallest box around everything, texts by their estimated width.
    pub fn bounds(&self) -> Option<(P2, P2)> {
        bounds(self.items.iter().flat_map(|i| i.shape.corners()))
    }
}

/// A text of one line without the characters that no file of drawings can hold: control
/// characters, and the two that XML 1.0 leaves out (its production 2, Char).
fn plain(text: String) -> String {
    let held = |c: char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}');
    if !text.chars().all(held) {
        text.chars().map(|c| if held(c) { c } else { ' ' }).collect()
    } else {
        text
    }
}

impl Shape {
    /// Points whose box contains the shape.
    pub fn corners(&self) -> Vec<P2> {
        match self {
            Shape::Polyline { points, .. } => points.clone(),
            Shape::Text { .. } => self.text_box().map_or(Vec::new(), |b| b.corners().to_vec()),
        }
    }

    /// The box that a text takes; `None` for lines.
    pub fn text_box(&self) -> Option<TextBox> {
        let Shape::Text { at, height, angle, anchor, text } = self else {
            return None;
        };
        let length = face::width(text, *height, false);
        let left = match anchor {
            Anchor::Left => *at,
            Anchor::Middle => at - 0.5 * length * V2::new(angle.cos(), angle.sin()),
        };
        Some(TextBox::of(left, *height, *angle, length))
    }
}
