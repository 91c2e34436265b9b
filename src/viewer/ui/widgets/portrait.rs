//! A small picture of a hull, drawn from her lines alone: for lists of boats, without the
//! renderer.

use bevy_egui::egui::epaint::Vertex;
use bevy_egui::egui::{self, Color32, Painter, Pos2, Rect, Stroke, pos2, vec2};

use crate::geom::{P3, V3};
use crate::hull::{Hull, HullLines};
use crate::viewer::theme::Tokens;

/// Facets along each plank.
const ALONG: usize = 28;
/// Share of the light that falls on what is turned away from it.
const SHADE: f64 = 0.5;
/// What the inside keeps of the light.
const INSIDE: f64 = 0.78;

/// A flat piece of a plank or transom, as it is seen.
#[derive(Debug, Clone, PartialEq)]
struct Facet {
    corners: [[f64; 2]; 4],
    /// 0 dark, 1 in full light.
    light: f64,
}

/// A hull seen from off her bow and above, in mm of the picture: x to the right, y up.
#[derive(Debug, Clone, PartialEq)]
pub struct Portrait {
    /// Far ones first.
    facets: Vec<Facet>,
    /// Edges that are seen.
    edges: Vec<Vec<[f64; 2]>>,
    low: [f64; 2],
    high: [f64; 2],
}

/// Where the eye looks, and what is to the right and up for it.
fn eye() -> (V3, V3, V3) {
    let ahead = V3::new(0.62, 0.68, -0.40).normalize();
    let right = ahead.cross(&V3::z()).normalize();
    (ahead, right, right.cross(&ahead))
}

impl Portrait {
    /// The picture of `hull`; `None` where her lines cannot be drawn.
    pub fn of(hull: &Hull) -> Option<Portrait> {
        let lines = HullLines::of(hull).ok()?;
        let (ahead, right, up) = eye();
        let seen = |p: P3| [p.coords.dot(&right), p.coords.dot(&up)];
        let place = |line: usize, k: usize, side: f64| {
            let spline = &lines.lines[line].spline;
            let p = spline.at(spline.end() * k as f64 / ALONG as f64);
            P3::new(p.x, side * p.y, p.z)
        };
        let sheer = lines.lines.len() - 1;
        let mut facets: Vec<(f64, Facet)> = Vec::new();
        let mut add = |corners: [P3; 4], inner: P3| {
            let centre = corners.iter().map(|p| p.coords).sum::<V3>() / 4.0;
            let across = (corners[2] - corners[0]).cross(&(corners[3] - corners[1]));
            let Some(mut normal) = across.try_normalize(1e-9) else {
                return;
            };
            if normal.dot(&(centre - inner.coords)) < 0.0 {
                normal = -normal;
            }
            let inside = normal.dot(&ahead) > 0.0;
            let towards_light = V3::new(-0.35, -0.45, 0.82).normalize();
            let faced = if inside { -normal } else { normal };
            let lit = SHADE + (1.0 - SHADE) * faced.dot(&towards_light).max(0.0);
            let light = if inside { INSIDE * lit } else { lit };
            facets.push((centre.dot(&ahead), Facet { corners: corners.map(seen), light }));
        };
        for side in [-1.0, 1.0] {
            for line in 0..sheer {
                for k in 0..ALONG {
                    let corners = [(line, k), (line, k + 1), (line + 1, k + 1), (line + 1, k)];
                    let within = place(sheer, k, 0.0);
                    add(corners.map(|(l, k)| place(l, k, side)), within);
                }
            }
        }
        for k in [0, ALONG] {
            let within = place(sheer, ALONG / 2, 0.0);
            for line in 0..sheer {
                let ring = [(line, -1.0), (line, 1.0), (line + 1, 1.0), (line + 1, -1.0)];
                add(ring.map(|(l, side)| place(l, k, side)), within);
            }
        }
        facets.sort_by(|a, b| b.0.total_cmp(&a.0));
        let facets: Vec<Facet> = facets.into_iter().map(|f| f.1).collect();
        let edge = |line, side| (0..=ALONG).map(|k| seen(place(line, k, side))).collect();
        // The keel is out of sight behind the planks.
        let near = (1..sheer.max(1)).map(|line| edge(line, -1.0));
        let edges = near.chain([edge(sheer, -1.0), edge(sheer, 1.0)]).collect();
        let mut portrait = Portrait { facets, edges, low: [f64::MAX; 2], high: [f64::MIN; 2] };
        for p in portrait.facets.iter().flat_map(|f| f.corners) {
            for (k, v) in p.into_iter().enumerate() {
                portrait.low[k] = portrait.low[k].min(v);
                portrait.high[k] = portrait.high[k].max(v);
            }
        }
        let whole = portrait.low.iter().chain(&portrait.high).all(|v| v.is_finite());
        (whole && !portrait.facets.is_empty()).then_some(portrait)
    }

    /// Draws it as large as it fits into `rect`, in its middle.
    pub fn paint(&self, painter: &Painter, rect: Rect, tokens: &Tokens) {
        let size = [self.high[0] - self.low[0], self.high[1] - self.low[1]].map(|s| s.max(1.0));
        let scale = (f64::from(rect.width()) / size[0]).min(f64::from(rect.height()) / size[1]);
        let middle = [0.5 * (self.low[0] + self.high[0]), 0.5 * (self.low[1] + self.high[1])];
        let at = |p: [f64; 2]| -> Pos2 {
            let (x, y) = (scale * (p[0] - middle[0]), scale * (p[1] - middle[1]));
            pos2(rect.center().x, rect.center().y) + vec2(x as f32, -y as f32)
        };
        let mut mesh = egui::Mesh::default();
        for facet in &self.facets {
            let first = mesh.vertices.len() as u32;
            let color = shaded(tokens.wood, facet.light);
            for corner in facet.corners {
                mesh.vertices.push(Vertex { pos: at(corner), uv: egui::epaint::WHITE_UV, color });
            }
            mesh.add_triangle(first, first + 1, first + 2);
            mesh.add_triangle(first, first + 2, first + 3);
        }
        painter.add(mesh);
        for edge in &self.edges {
            let points = edge.iter().map(|p| at(*p)).collect();
            painter.line(points, Stroke::new(1.0, tokens.line_on_wood()));
        }
    }
}

fn shaded(colour: Color32, light: f64) -> Color32 {
    let part = |v: u8| (f64::from(v) * light).round().clamp(0.0, 255.0) as u8;
    Color32::from_rgb(part(colour.r()), part(colour.g()), part(colour.b()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;

    #[test]
    fn every_starter_has_a_picture_of_her_own_that_is_as_long_as_she_is() {
        let mut before: Vec<Portrait> = Vec::new();
        for starter in &STARTERS {
            let hull = starter.hull();
            let portrait = Portrait::of(&hull).expect("a picture");
            let (from, to) = HullLines::of(&hull).expect("lines").extent(|p| p.x);
            // Seen slanting, her length is foreshortened by the cosine of that slant; her
            // beam adds to it.
            let (_, right, _) = eye();
            let wide = portrait.high[0] - portrait.low[0];
            let (least, most) = ((to - from) * right.x, 1.6 * (to - from) * right.x);
            assert!((least..most).contains(&wide), "{}: {wide} of {least}", starter.name);
            assert!(portrait.facets.iter().all(|f| (0.0..=1.0).contains(&f.light)));
            assert!(!before.contains(&portrait), "{}", starter.name);
            before.push(portrait);
        }
    }
}
