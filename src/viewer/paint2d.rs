//! Drawings on the screen: sheets filled by lyon into the panels' own meshes, since the
//! panels' library fills convex shapes only; lines by that library, which feathers them.

use bevy_egui::egui::emath::Rot2;
use bevy_egui::egui::epaint::{Mesh, TextShape, Vertex, WHITE_UV};
use bevy_egui::egui::{Align2, Color32, FontId, Painter, Pos2, Shape as Shape2, Stroke, vec2};
use lyon::path::Path;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};

use crate::drawing::{Anchor, Dash, Drawing, Layer, Purpose, Shape};
use crate::geom::P2;
use crate::geom::ring::inside;

/// Greatest distance (px) of a tessellated curve from the true one; lines are straight, so
/// it only rounds joins.
const TOLERANCE_PX: f32 = 0.15;
/// Texts smaller than this (px) are left out: they would be a smear.
const SMALLEST_TEXT_PX: f32 = 7.0;
/// Dashes beyond which a line is drawn whole: far beyond any screen.
const MOST_DASHES: f32 = 3000.0;
/// How far a word's ground reaches beyond its ink, points.
const GROUND: f32 = 2.0;
/// Height of capitals over font size of the shipped face.
const CAPITALS: f32 = 0.668;

/// Where a drawing lies on the screen: px = origin + scale · (x, -y).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// Where the drawing's origin is, px.
    pub origin: Pos2,
    /// Pixels for each mm.
    pub scale: f32,
}

impl Placement {
    /// A drawing point on the screen.
    pub fn place(&self, p: P2) -> Pos2 {
        Pos2::new(self.origin.x + self.scale * p.x as f32, self.origin.y - self.scale * p.y as f32)
    }

    /// A screen point on the drawing.
    pub fn point(&self, p: Pos2) -> P2 {
        P2::new(
            f64::from((p.x - self.origin.x) / self.scale),
            f64::from((self.origin.y - p.y) / self.scale),
        )
    }
}

fn lyon_path(points: &[Pos2]) -> Path {
    let mut builder = Path::builder();
    let to = |p: &Pos2| lyon::math::point(p.x, p.y);
    builder.begin(to(&points[0]));
    for p in &points[1..] {
        builder.line_to(to(p));
    }
    builder.end(true);
    builder.build()
}

fn vertex(position: lyon::math::Point, colour: Color32) -> Vertex {
    Vertex { pos: Pos2::new(position.x, position.y), uv: WHITE_UV, color: colour }
}

fn add(mesh: &mut Mesh, buffers: VertexBuffers<Vertex, u32>) {
    let base = mesh.vertices.len() as u32;
    mesh.vertices.extend(buffers.vertices);
    mesh.indices.extend(buffers.indices.iter().map(|i| base + i));
}

/// Adds the filled polygon to `mesh`. A polygon that lyon cannot fill adds nothing.
pub fn fill(mesh: &mut Mesh, polygon: &[Pos2], colour: Color32) {
    if polygon.len() < 3 {
        return;
    }
    let mut buffers: VertexBuffers<Vertex, u32> = VertexBuffers::new();
    let mut output =
        BuffersBuilder::new(&mut buffers, |v: FillVertex| vertex(v.position(), colour));
    let options = FillOptions::tolerance(TOLERANCE_PX);
    if FillTessellator::new().tessellate_path(&lyon_path(polygon), &options, &mut output).is_ok() {
        add(mesh, buffers);
    }
}

/// The pieces of a polyline that a dash pattern (px) leaves visible.
pub fn dashes(points: &[Pos2], pattern: &[f32]) -> Vec<Vec<Pos2>> {
    let period: f32 = pattern.iter().sum();
    let length: f32 = points.windows(2).map(|w| (w[1] - w[0]).length()).sum();
    if period <= 0.0 || length > MOST_DASHES * period {
        return vec![points.to_vec()];
    }
    let mut out = Vec::new();
    let (mut index, mut left, mut drawing) = (0, pattern[0], vec![points[0]]);
    for w in points.windows(2) {
        let (mut from, to) = (w[0], w[1]);
        loop {
            let length = (to - from).length();
            if length <= left {
                left -= length;
                drawing.push(to);
                break;
            }
            from += (to - from) * (left / length);
            drawing.push(from);
            if index % 2 == 0 {
                out.push(std::mem::take(&mut drawing));
            }
            drawing = vec![from];
            index = (index + 1) % pattern.len();
            left = pattern[index];
        }
    }
    if index % 2 == 0 && drawing.len() > 1 {
        out.push(drawing);
    }
    out
}

/// What becomes of a drawing's own colours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ink {
    /// As drawn: on light ground.
    AsDrawn,
    /// Dark ones replaced by this, the others lightened: on dark ground.
    Instead(Color32),
    /// The first layer in one colour, every other in the second: thrown by a projector.
    Two(Color32, Color32),
}

/// Colours of a drawing on the screen.
#[derive(Debug, Clone, Copy)]
pub struct Inks {
    /// Filling of the closed outlines of the first layer.
    pub sheet: Color32,
    /// Its lines and words.
    pub ink: Ink,
    /// What words stand on outside the sheets, so that no line strikes them; on the bare lines
    /// where it is not given, as a line to be traced must be seen whole.
    pub paper: Option<Color32>,
}

/// Paints `drawing`, filling its first layer's closed outlines; `over` lies on its lines and
/// under its words.
pub fn paint(painter: &Painter, drawing: &Drawing, at: Placement, inks: Inks, over: Vec<Shape2>) {
    paint_through(painter, drawing, &|p| Some(at.place(p)), inks, over);
}

/// Paints `drawing` through any map that keeps lines straight; what the map cannot show is
/// left out.
pub fn paint_through(
    painter: &Painter,
    drawing: &Drawing,
    map: &dyn Fn(P2) -> Option<Pos2>,
    inks: Inks,
    over: Vec<Shape2>,
) {
    let mut mesh = Mesh::default();
    let (mut lines, mut words): (Vec<Shape2>, Vec<TextShape>) = Default::default();
    let mut sheets: Vec<Vec<P2>> = Vec::new();
    for item in &drawing.items {
        if let Shape::Polyline { points, closed: true } = &item.shape
            && drawing.layer(item.layer).purpose == Purpose::Cut
        {
            let polygon: Vec<Pos2> = points.iter().filter_map(|p| map(*p)).collect();
            fill(&mut mesh, &polygon, inks.sheet);
            sheets.push(polygon.iter().map(on_screen).collect());
        }
    }
    painter.add(mesh);
    for item in &drawing.items {
        let layer = drawing.layer(item.layer);
        let colour = ink(layer, inks);
        match &item.shape {
            Shape::Polyline { points, closed } => {
                let mut line: Vec<Pos2> = points.iter().filter_map(|p| map(*p)).collect();
                if line.len() < 2 {
                    continue;
                }
                let width = (layer.width as f32 * 3.2).max(0.8);
                if layer.dash == Dash::Solid {
                    let stroke = Stroke::new(width, colour);
                    lines.push(if *closed {
                        Shape2::closed_line(line, stroke)
                    } else {
                        Shape2::line(line, stroke)
                    });
                    continue;
                }
                if *closed {
                    line.push(line[0]);
                }
                let pattern: Vec<f32> =
                    layer.dash.pattern().iter().map(|l| *l as f32 * 1.2).collect();
                for dash in dashes(&line, &pattern) {
                    lines.push(Shape2::line(dash, Stroke::new(width, colour)));
                }
            }
            Shape::Text { .. } => words.extend(text(painter, &item.shape, map, colour)),
        }
    }
    painter.extend(lines);
    painter.extend(over);
    // Grounds first: none may cover other words.
    let ground = inks.paper.iter().flat_map(|paper| {
        let sheets = &sheets;
        words.iter().map(move |w| {
            let place = w.visual_bounding_rect().center();
            let on_sheet = sheets.iter().filter(|s| inside(s, on_screen(&place))).count() % 2 == 1;
            ground(w, if on_sheet { inks.sheet } else { *paper })
        })
    });
    let ground: Vec<Shape2> = ground.collect();
    painter.extend(ground);
    painter.extend(words.into_iter().map(Shape2::Text));
}

fn on_screen(p: &Pos2) -> P2 {
    P2::new(f64::from(p.x), f64::from(p.y))
}

/// The ground of a word, turned as it is: as large as its ink, and a little.
fn ground(words: &TextShape, colour: Color32) -> Shape2 {
    let ink = words.galley.mesh_bounds.expand2(vec2(GROUND, 0.5 * GROUND));
    let turn = Rot2::from_angle(words.angle);
    let corners = [ink.left_top(), ink.right_top(), ink.right_bottom(), ink.left_bottom()];
    // As bare triangles: a soft edge would show as a frame round the word.
    let corner =
        |c: Pos2| Vertex { pos: words.pos + turn * c.to_vec2(), uv: WHITE_UV, color: colour };
    let mut mesh = Mesh::default();
    mesh.vertices.extend(corners.map(corner));
    mesh.indices.extend([0, 1, 2, 0, 2, 3]);
    Shape2::mesh(mesh)
}

/// Whether some words of a drawing are so small at `scale` (points for each mm) that they are
/// left out.
pub fn leaves_words_out(drawing: &Drawing, scale: f32) -> bool {
    drawing.items.iter().any(|item| match &item.shape {
        Shape::Text { height, .. } => *height as f32 * scale / CAPITALS < SMALLEST_TEXT_PX,
        _ => false,
    })
}

/// A text where the map shows its place, as high and as turned as the map shows it there.
fn text(
    painter: &Painter,
    shape: &Shape,
    map: &dyn Fn(P2) -> Option<Pos2>,
    colour: Color32,
) -> Option<TextShape> {
    let Shape::Text { at: place, height, angle, anchor, text } = shape else {
        return None;
    };
    let (sin, cos) = angle.sin_cos();
    let mut pos = map(*place)?;
    let along = map(P2::new(place.x + height * cos, place.y + height * sin))?;
    let run = along - pos;
    let size = run.length() / CAPITALS;
    let seen = painter.clip_rect().expand(size * text.len() as f32);
    if size < SMALLEST_TEXT_PX || !seen.contains(pos) {
        return None;
    }
    let turned = run.y.atan2(run.x);
    let galley = painter.layout_no_wrap(text.clone(), FontId::proportional(size), colour);
    if turned.abs() < 1e-4 {
        let align =
            if *anchor == Anchor::Middle { Align2::CENTER_BOTTOM } else { Align2::LEFT_BOTTOM };
        pos.y += 0.22 * size;
        let rect = align.anchor_size(pos, galley.size());
        Some(TextShape::new(rect.min, galley, colour))
    } else {
        // The baseline's left end is the turning point.
        let up = galley.size().y * 0.8;
        let (sin, cos) = turned.sin_cos();
        pos -= vec2(-sin, cos) * up;
        Some(TextShape::new(pos, galley, colour).with_angle(turned))
    }
}

fn ink(layer: &Layer, inks: Inks) -> Color32 {
    let [r, g, b] = layer.colour;
    let dark = u32::from(r) + u32::from(g) + u32::from(b) < 3 * 90;
    match inks.ink {
        Ink::Two(first, _) if layer.purpose == Purpose::Cut => first,
        Ink::Two(_, others) => others,
        Ink::Instead(light) if dark => light,
        Ink::Instead(_) => {
            Color32::from_rgb(r.saturating_add(70), g.saturating_add(70), b.saturating_add(70))
        }
        Ink::AsDrawn => Color32::from_rgb(r, g, b),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(mesh: &Mesh) -> f32 {
        mesh.indices
            .chunks(3)
            .map(|t| {
                let p = |i: usize| mesh.vertices[t[i] as usize].pos;
                let (a, b) = (p(1) - p(0), p(2) - p(0));
                0.5 * (a.x * b.y - a.y * b.x).abs()
            })
            .sum()
    }

    #[test]
    fn a_hollow_outline_is_filled_to_its_area() {
        // An L: convex filling would give 3 of 4 unit squares as 4.
        let l = [(0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0), (10.0, 20.0), (0.0, 20.0)];
        let l: Vec<Pos2> = l.iter().map(|&(x, y)| Pos2::new(x, y)).collect();
        let mut mesh = Mesh::default();
        fill(&mut mesh, &l, Color32::WHITE);
        assert!((area(&mesh) - 300.0).abs() < 0.1);
    }

    #[test]
    fn dashes_cover_their_share_of_the_line() {
        let line = [Pos2::new(0.0, 0.0), Pos2::new(70.0, 0.0), Pos2::new(70.0, 30.0)];
        let drawn: f32 = dashes(&line, &[6.0, 4.0])
            .iter()
            .map(|d| d.windows(2).map(|w| (w[1] - w[0]).length()).sum::<f32>())
            .sum();
        assert!((drawn - 60.0).abs() < 1e-3, "{drawn}");
    }

    #[test]
    fn placement_goes_there_and_back() {
        let at = Placement { origin: Pos2::new(100.0, 300.0), scale: 0.2 };
        let p = P2::new(1234.0, -56.0);
        assert!((at.point(at.place(p)) - p).norm() < 1e-2);
    }
}
