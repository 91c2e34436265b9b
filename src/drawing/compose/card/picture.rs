//! The part in small, to scale, with its base line, its corners' letters and its marks.

use super::CardPart;
use super::labels::Labels;
use crate::drawing::compose::Line;
use crate::drawing::{Anchor, Drawing};
use crate::flat::ordinates::Mirror;
use crate::geom::polyline::bounds;
use crate::geom::{P2, V2};

/// Room round the part for its labels, mm.
const AROUND: f64 = 8.0;
/// Height of the strip with the arrows, mm.
const ARROWS: f64 = 9.0;
/// Length of an arrow, mm.
const ARROW: f64 = 6.0;
/// Room for one arrow and its word, mm.
const ARROW_ROOM: f64 = 21.0;
/// A mark's dot: half its width, mm.
const DOT: f64 = 0.45;
/// Marks nearer to each other than this (mm on paper) are not numbered one by one.
const NUMBERED: f64 = 2.6;

/// A picture to be drawn at a scale.
pub(super) struct Picture<'a> {
    part: &'a CardPart,
    /// How many times smaller than life.
    reduced: f64,
    low: P2,
    high: P2,
}

impl<'a> Picture<'a> {
    /// Of `part`, `reduced` times smaller than life.
    pub(super) fn of(part: &'a CardPart, reduced: f64) -> Picture<'a> {
        let mut picture = Picture { part, reduced, low: P2::origin(), high: P2::origin() };
        let base = [P2::origin()];
        let all = picture.sides(&part.plotted.outline).into_iter().flatten();
        let on_paper = all.chain(base).map(|p| picture.turned(p));
        if let Some((low, high)) = bounds(on_paper) {
            (picture.low, picture.high) = (low, high);
        }
        picture
    }

    /// Its width and height on paper, labels and arrows included, mm.
    pub(super) fn size(&self) -> V2 {
        let inner = self.high - self.low;
        let arrows = ARROW_ROOM * self.part.ways.len() as f64;
        V2::new((inner.x + 2.0 * AROUND).max(arrows), inner.y + 2.0 * AROUND + ARROWS)
    }

    /// The width of the part itself on paper, mm.
    pub(super) fn part_width(&self) -> f64 {
        self.high.x - self.low.x
    }

    /// Both sides of a symmetric part, one of any other.
    fn sides(&self, points: &[P2]) -> Vec<Vec<P2>> {
        let mirrored = |f: fn(&P2) -> P2| vec![points.to_vec(), points.iter().map(f).collect()];
        match self.part.plotted.mirror {
            Mirror::None => vec![points.to_vec()],
            Mirror::Base => mirrored(|p| P2::new(p.x, -p.y)),
            Mirror::Zero => mirrored(|p| P2::new(-p.x, p.y)),
        }
    }

    /// A place on the base line, turned and made smaller.
    fn turned(&self, p: P2) -> P2 {
        let q = if self.part.upright { P2::new(-p.y, p.x) } else { p };
        q / self.reduced
    }

    fn way(&self, v: V2) -> V2 {
        let v = self.part.plotted.way(v);
        if self.part.upright { V2::new(-v.y, v.x) } else { v }
    }

    /// Draws it with its upper left corner at `corner`; `text` is the height of capitals, mm.
    pub(super) fn draw(&self, d: &mut Drawing, corner: P2, text: f64) {
        let size = self.size();
        let foot = corner - V2::new(0.0, size.y);
        let shift = V2::new(AROUND - self.low.x, ARROWS + AROUND - self.low.y) + foot.coords;
        let place = |p: P2| self.turned(p) + shift;
        let plotted = &self.part.plotted;
        for side in self.sides(&plotted.outline) {
            d.polyline(Line::Cut, side.into_iter().map(place).collect(), true);
        }
        for (layer, line) in &self.part.lines {
            let line: Vec<P2> = line.iter().map(|p| plotted.place(*p)).collect();
            d.polyline(*layer, line.into_iter().map(place).collect(), false);
        }
        for p in &self.part.crosses {
            d.cross(Line::Fastening, place(plotted.place(*p)), 1.6);
        }
        for p in &self.part.rings {
            d.ring(Line::Fastening, place(plotted.place(*p)), 1.6);
        }
        self.base_line(d, &place);
        let low = P2::new(foot.x, foot.y + ARROWS);
        let mut labels = Labels::within(low, corner + V2::new(size.x, 0.0));
        let zero = place(P2::origin());
        let half = V2::new(0.5, 0.5);
        labels.keep_clear(zero - half, zero + half);
        for side in self.sides(&plotted.outline) {
            let mut ring: Vec<P2> = side.into_iter().map(place).collect();
            ring.extend(ring.first().copied());
            labels.keep_off(&ring);
        }
        labels.keep_off(&self.base_ends().map(place));
        let middle = self.middle();
        for (c, letter) in plotted.corners.iter().zip(&self.part.letters) {
            let at = place(c.exact);
            let out = self.turned(c.exact) - self.turned(middle);
            if let Some(p) = labels.place(at, out, text, letter) {
                d.text(Line::Text, p, text, 0.0, Anchor::Middle, letter.clone());
            }
        }
        self.marks(d, &place, &mut labels, 0.8 * text);
        for (name, at) in &self.part.named {
            let at = place(plotted.place(*at));
            if let Some(p) = labels.place(at, -V2::y(), 0.8 * text, name) {
                d.text(Line::Text, p, 0.8 * text, 0.0, Anchor::Middle, name.clone());
            }
        }
        let words = "0";
        if let Some(p) = labels.place(zero, V2::new(-1.0, -1.0), 0.8 * text, words) {
            d.text(Line::Text, p, 0.8 * text, 0.0, Anchor::Middle, words);
        }
        self.arrows(d, foot, 0.8 * text);
    }

    fn middle(&self) -> P2 {
        let points = &self.part.plotted.outline;
        let sum = points.iter().fold(V2::zeros(), |v, p| v + p.coords);
        let mut middle = P2::from(sum / points.len().max(1) as f64);
        match self.part.plotted.mirror {
            Mirror::None => {}
            Mirror::Base => middle.y = 0.0,
            Mirror::Zero => middle.x = 0.0,
        }
        middle
    }

    /// The ends of the base line as it is drawn, a little past the part.
    fn base_ends(&self) -> [P2; 2] {
        let outline = &self.part.plotted.outline;
        let far = outline.iter().map(|p| p.x).fold(0.0, f64::max);
        let near = if self.part.plotted.mirror == Mirror::Zero { -far } else { 0.0 };
        let over = 4.0 * self.reduced;
        [P2::new(near - over, 0.0), P2::new(far + over, 0.0)]
    }

    fn base_line(&self, d: &mut Drawing, place: &dyn Fn(P2) -> P2) {
        let [a, b] = self.base_ends();
        d.line(Line::Level, place(a), place(b));
        // The square through the zero.
        let tick = 2.0 * self.reduced;
        d.line(Line::Level, place(P2::new(0.0, -tick)), place(P2::new(0.0, tick)));
    }

    /// Every mark as a dot on its edge with the ordinate that leads to it.
    fn marks(&self, d: &mut Drawing, place: &dyn Fn(P2) -> P2, labels: &mut Labels, text: f64) {
        let mut number = 0;
        let middle = self.middle();
        let mut last: Option<P2> = None;
        for e in &self.part.plotted.edges {
            for m in &e.marks {
                number += 1;
                let at = place(m.printed);
                d.line(Line::Dimension, place(P2::new(m.printed.x, 0.0)), at);
                let (a, b) = (V2::new(DOT, DOT), V2::new(DOT, -DOT));
                d.polyline(Line::Check, vec![at - a, at + b, at + a, at - b], true);
                if last.is_none_or(|l| (at - l).norm() > NUMBERED) {
                    let out = self.turned(m.printed) - self.turned(middle);
                    let out = V2::new(0.2 * out.x, out.y);
                    let words = number.to_string();
                    if let Some(p) = labels.place(at, out, text, &words) {
                        d.text(Line::Text, p, text, 0.0, Anchor::Middle, words);
                    }
                    last = Some(at);
                }
            }
        }
    }

    /// Which way is up, forward, out, in a strip under the picture.
    fn arrows(&self, d: &mut Drawing, foot: P2, text: f64) {
        for (i, (word, way)) in self.part.ways.iter().enumerate() {
            let e = self.way(*way);
            let Some(e) = e.try_normalize(1e-9) else {
                continue;
            };
            let middle = foot + V2::new(0.5 * ARROW + 1.0 + ARROW_ROOM * i as f64, 0.5 * ARROWS);
            d.arrow(Line::Check, middle - 0.5 * ARROW * e, middle + 0.5 * ARROW * e, 1.8);
            let at = middle + V2::new(0.5 * ARROW + 1.0, -0.5 * text);
            d.text(Line::Text, at, text, 0.0, Anchor::Left, *word);
        }
    }
}
