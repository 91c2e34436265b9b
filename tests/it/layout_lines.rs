//! No line of a drawing, plot or frame runs through words, and no words over turned words, in
//! what was painted.

use std::ops::Range;

use bevy_egui::egui::emath::Rot2;
use bevy_egui::egui::epaint::ClippedShape;
use bevy_egui::egui::{Pos2, Rect, Shape, Vec2, pos2};

/// What of a row's height may be touched at its head and foot.
const EDGE: f32 = 0.3;
/// Points of a line that may run through words.
const TOUCH: f32 = 2.5;

/// A row of words where it is seen, turned as it is.
struct Row {
    text: String,
    /// Corner at the head of its ink, the way it runs, and its breadth and height.
    at: Pos2,
    along: Rot2,
    size: Vec2,
    /// Which shape it is painted with.
    order: usize,
    turned: bool,
    /// Whether it brings a ground of its own.
    grounded: bool,
}

impl Row {
    fn corners(&self) -> [Pos2; 4] {
        let Vec2 { x, y } = self.size;
        [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)]
            .map(|(x, y)| self.at + self.along * Vec2::new(x, y))
    }

    /// Length of a segment within the row's middle.
    fn struck(&self, ends: [Pos2; 2]) -> f32 {
        let back = self.along.inverse();
        let [a, b] = ends.map(|p| (back * (p - self.at)).to_pos2());
        let high = self.size.y * EDGE;
        let middle =
            Rect::from_min_max(pos2(1.0, high), pos2(self.size.x - 1.0, self.size.y - high));
        within(a, b, middle)
    }

    /// Whether a filled shape covers it.
    fn under(&self, shape: &Shape) -> bool {
        let all = |holds: &dyn Fn(Pos2) -> bool| {
            let middle = self.corners()[0].lerp(self.corners()[2], 0.5);
            self.corners().iter().all(|c| holds(c.lerp(middle, 0.15)))
        };
        match shape {
            Shape::Rect(r) if r.fill.a() > 220 => all(&|p| r.rect.contains(p)),
            Shape::Path(p) if p.closed && p.fill.a() > 220 => all(&|q| contains(&p.points, q)),
            // A turned ground: two triangles of four corners.
            Shape::Mesh(m) if m.vertices.len() == 4 && m.vertices[0].color.a() > 220 => {
                let corners: Vec<Pos2> = m.vertices.iter().map(|v| v.pos).collect();
                all(&|q| contains(&corners, q))
            }
            _ => false,
        }
    }

    /// Whether two rows lie on one another by more than a touch: by the axes of both.
    fn meets(&self, other: &Row) -> bool {
        let axes = [self, other].map(|r| [r.along * Vec2::X, r.along * Vec2::Y]);
        axes.iter().flatten().all(|axis| {
            let span = |r: &Row| {
                let d = r.corners().map(|c| c.to_vec2().dot(*axis));
                (
                    d.iter().copied().fold(f32::MAX, f32::min),
                    d.iter().copied().fold(f32::MIN, f32::max),
                )
            };
            let ((a, b), (c, d)) = (span(self), span(other));
            b.min(d) - a.max(c) > 3.0
        })
    }
}

/// Length of a segment within a rectangle.
fn within(a: Pos2, b: Pos2, r: Rect) -> f32 {
    let (mut from, mut to) = (0.0f32, 1.0f32);
    for (p, d, low, high) in
        [(a.x, b.x - a.x, r.min.x, r.max.x), (a.y, b.y - a.y, r.min.y, r.max.y)]
    {
        if d.abs() < 1e-6 {
            if p < low || p > high {
                return 0.0;
            }
            continue;
        }
        let (s, t) = ((low - p) / d, (high - p) / d);
        (from, to) = (from.max(s.min(t)), to.min(s.max(t)));
    }
    (to - from).max(0.0) * a.distance(b)
}

fn contains(polygon: &[Pos2], p: Pos2) -> bool {
    let side = |k: usize| {
        let (a, b) = (polygon[k], polygon[(k + 1) % polygon.len()]);
        (b - a).x * (p - a).y - (b - a).y * (p - a).x
    };
    let all = |sign: f32| (0..polygon.len()).all(|k| sign * side(k) >= 0.0);
    polygon.len() > 2 && (all(1.0) || all(-1.0))
}

fn flat<'a>(shape: &'a Shape, clip: Rect, out: &mut Vec<(&'a Shape, Rect)>) {
    match shape {
        Shape::Vec(all) => all.iter().for_each(|s| flat(s, clip, out)),
        _ => out.push((shape, clip)),
    }
}

fn rows(shapes: &[(&Shape, Rect)]) -> Vec<Row> {
    let mut out = Vec::new();
    for (order, (shape, clip)) in shapes.iter().enumerate() {
        let Shape::Text(t) = shape else {
            continue;
        };
        let along = Rot2::from_angle(t.angle);
        let grounded = t.galley.job.sections.iter().all(|s| s.format.background.a() > 220);
        for row in &t.galley.rows {
            let ink = row.visuals.mesh_bounds.translate(row.pos.to_vec2());
            let text: String = row.glyphs.iter().map(|g| g.chr).collect();
            let at = t.pos + along * ink.min.to_vec2();
            let turned = t.angle != 0.0;
            let row = Row { text, at, along, size: ink.size(), order, turned, grounded };
            let seen = row.corners().iter().all(|c| clip.expand(1.0).contains(*c));
            if seen && !row.text.trim().is_empty() && row.size.x > 4.0 {
                out.push(row);
            }
        }
    }
    out
}

/// The straight pieces of what a shape draws as lines.
fn segments(shape: &Shape) -> Vec<[Pos2; 2]> {
    match shape {
        Shape::LineSegment { points, stroke } if stroke.width > 0.0 => vec![*points],
        Shape::Path(p) if p.stroke.width > 0.0 && p.points.len() > 1 => {
            let mut all: Vec<[Pos2; 2]> = p.points.windows(2).map(|w| [w[0], w[1]]).collect();
            if p.closed {
                all.push([p.points[p.points.len() - 1], p.points[0]]);
            }
            all
        }
        Shape::Rect(r) if r.stroke.width > 0.0 && r.stroke.color.a() > 40 => {
            let c = [
                r.rect.left_top(),
                r.rect.right_top(),
                r.rect.right_bottom(),
                r.rect.left_bottom(),
            ];
            (0..4).map(|k| [c[k], c[(k + 1) % 4]]).collect()
        }
        _ => Vec::new(),
    }
}

/// Whether what lies there was hidden by a ground painted between two others.
fn covered(shapes: &[(&Shape, Rect)], between: Range<usize>, there: &[Pos2]) -> bool {
    let between = shapes.get(between.start + 1..between.end).unwrap_or_default();
    between.iter().any(|(s, clip)| match s {
        Shape::Rect(r) if r.fill.a() > 220 => {
            there.iter().all(|p| r.rect.intersect(*clip).expand(1.0).contains(*p))
        }
        _ => false,
    })
}

/// Words that a line runs through, and turned words that lie on others.
pub(crate) fn struck(painted: &[ClippedShape]) -> Vec<String> {
    let mut shapes = Vec::new();
    for clipped in painted {
        flat(&clipped.shape, clipped.clip_rect, &mut shapes);
    }
    let mut seen = rows(&shapes);
    seen.retain(|r| {
        !shapes[r.order + 1..]
            .iter()
            .any(|(s, c)| r.under(s) && r.corners().iter().all(|p| c.contains(*p)))
    });
    let mut wrong = Vec::new();
    for (j, (shape, clip)) in shapes.iter().enumerate() {
        for ends in segments(shape) {
            let near = Rect::from_two_pos(ends[0], ends[1]).expand(1.0).intersect(*clip);
            for row in &seen {
                let c = row.corners();
                let (low, high) =
                    (c[0].min(c[2]).min(c[1]).min(c[3]), c[0].max(c[2]).max(c[1]).max(c[3]));
                if !near.intersects(Rect::from_min_max(low, high)) || row.struck(ends) < TOUCH {
                    continue;
                }
                let ground = |(s, _): &(&Shape, Rect)| row.under(s);
                let line_hidden =
                    j < row.order && (row.grounded || shapes[j + 1..row.order].iter().any(ground));
                let hidden = line_hidden || covered(&shapes, row.order..j, &ends);
                if !hidden {
                    wrong.push(format!(
                        "a line runs through {:?} at {:?}: {ends:?}",
                        row.text, row.at
                    ));
                }
            }
        }
    }
    for (i, a) in seen.iter().enumerate() {
        for b in &seen[i + 1..] {
            let hidden = || covered(&shapes, a.order..b.order, &b.corners());
            if (a.turned || b.turned) && a.order != b.order && a.meets(b) && !hidden() {
                wrong.push(format!("{:?} over {:?} at {:?}", a.text, b.text, b.at));
            }
        }
    }
    wrong.dedup();
    wrong
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_through_words_is_seen_and_one_beside_them_is_not() {
        let row = Row {
            text: "a".into(),
            at: pos2(10.0, 10.0),
            along: Rot2::from_angle(0.5),
            size: Vec2::new(40.0, 10.0),
            order: 3,
            turned: true,
            grounded: false,
        };
        let [a, b, c, d] = row.corners();
        assert!(row.struck([a.lerp(d, 0.5), b.lerp(c, 0.5)]) > 30.0);
        assert!(row.struck([a, b]) < TOUCH);
        assert!(row.struck([a, c]) > TOUCH);
        assert!(row.struck([a + Vec2::new(0.0, -9.0), b + Vec2::new(0.0, -9.0)]) < TOUCH);
        assert!(row.meets(&Row {
            along: Rot2::IDENTITY,
            at: c - Vec2::splat(8.0),
            ..row_of(&row)
        }));
        assert!(!row.meets(&Row { at: d + Vec2::new(0.0, 8.0), ..row_of(&row) }));
    }

    fn row_of(r: &Row) -> Row {
        Row { text: r.text.clone(), ..*r }
    }
}
