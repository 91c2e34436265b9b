//! Bevels along a frame's edge: how far its far face falls short of the pattern's face.
//!
//! The edge of a frame lies against the skin. Between the frame's faces, `t` apart along
//! the unit vector d from the pattern's face to the far one, a skin with outward normal n
//! recedes by t (n·d) / |n in plane| towards the inside: the bevel's tangent is (n·d) over
//! the normal's part in the frame's plane. Positive: the far face is the smaller, and
//! planing from there removes wood. Negative: the far face is the larger.

use super::section::{Section, SectionEdge, SectionPoint};
use crate::geom::{P2, V2, V3};
use crate::units::{Units, half_degrees};

/// Spacing (mm) at which bevels are said; a bevel gauge is set about once in a hand.
const EVERY_MM: f64 = 100.0;
/// An edge within this (radians) of square is planed square: half of what a gauge shows.
const SQUARE: f64 = 0.25 * std::f64::consts::PI / 180.0;

/// Off which face of a board as it lies drawn the wood of a bevel comes. Boards are sawn
/// square to the larger outline of both faces, so it always comes off the smaller one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Off {
    /// The face that is drawn, which lies up while the outline is marked.
    ThisFace,
    /// The other one.
    FarFace,
    /// Neither: the edge stays square.
    Neither,
}

impl Off {
    /// For a bevel of `angle` radians, positive where the far face is the smaller.
    pub fn by(angle: f64) -> Off {
        match angle {
            a if a > SQUARE => Off::FarFace,
            a if a < -SQUARE => Off::ThisFace,
            _ => Off::Neither,
        }
    }

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Off::ThisFace => "off this face",
            Off::FarFace => "off the far face",
            Off::Neither => "square",
        }
    }

    /// In one word, for a figure beside an edge.
    pub fn short(self) -> &'static str {
        match self {
            Off::ThisFace => "this",
            Off::FarFace => "far",
            Off::Neither => "square",
        }
    }
}

/// A bevel at one place of an edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BevelAt {
    /// Index of the panel that lies on this edge.
    pub panel: usize,
    /// The place on the pattern's face, mm.
    pub at: P2,
    /// Departure from square, radians; positive where the far face is smaller.
    pub angle: f64,
    /// How far inside the pattern's edge the far face's edge lies, square to the edge, mm.
    pub offset: f64,
}

impl BevelAt {
    /// Off which face its wood comes.
    pub fn off(&self) -> Off {
        Off::by(self.angle)
    }

    /// Degrees, run and face, for beside the edge: "12.5° 4.2 mm far".
    pub fn label(&self, units: Units) -> String {
        match self.off() {
            Off::Neither => Off::Neither.short().into(),
            off => format!(
                "{} {} {}",
                half_degrees(self.angle.abs()),
                units.fine(self.offset.abs()),
                off.short()
            ),
        }
    }
}

/// The bevel of a skin with outward normal `n` on a frame whose thickness runs along the
/// unit vector `d` from the pattern's face, radians.
pub fn bevel(n: V3, d: V3) -> f64 {
    let along = n.dot(&d);
    let in_plane = (n - along * d).norm();
    along.atan2(in_plane)
}

/// Bevels of all edges of `face` against `far`, `thickness` mm behind it along `d`.
pub fn bevels(face: &Section, far: &Section, d: V3, thickness: f64) -> Vec<BevelAt> {
    let mut out = Vec::new();
    for edge in &face.edges {
        let far_edge = far.edge(edge.panel).map(|e| run_on(e, 3.0 * thickness)).unwrap_or_default();
        for p in every(&edge.points) {
            let angle = bevel(p.normal, d);
            let outward = face.across.flat_direction(p.normal);
            let offset = outward
                .try_normalize(1e-9)
                .and_then(|m| recess(p.at, m, &far_edge, thickness))
                .unwrap_or_else(|| thickness * angle.tan());
            out.push(BevelAt { panel: edge.panel, at: p.at, angle, offset });
        }
    }
    out
}

/// The edge with its end pieces run on straight by `by` mm, so that the far face is met
/// from a corner too.
fn run_on(edge: &SectionEdge, by: f64) -> Vec<P2> {
    let mut points: Vec<P2> = edge.points.iter().map(|p| p.at).collect();
    let n = points.len();
    let end = |a: P2, b: P2| (b - a).try_normalize(1e-9).map(|e| b + by * e);
    if let (Some(first), Some(last)) =
        (end(points[1], points[0]), end(points[n - 2], points[n - 1]))
    {
        points.insert(0, first);
        points.push(last);
    }
    points
}

/// Points of an edge about [`EVERY_MM`] apart, both ends included.
fn every(points: &[SectionPoint]) -> Vec<SectionPoint> {
    let length: f64 = points.windows(2).map(|w| (w[1].at - w[0].at).norm()).sum();
    let pieces = (length / EVERY_MM).ceil().max(1.0);
    let mut out = vec![points[0]];
    let (mut so_far, mut next) = (0.0, 1.0);
    for w in points.windows(2) {
        let step = (w[1].at - w[0].at).norm();
        while next < pieces && so_far + step >= next * length / pieces {
            let t = if step > 0.0 { (next * length / pieces - so_far) / step } else { 0.0 };
            let normal = w[0].normal.lerp(&w[1].normal, t);
            out.push(SectionPoint { at: w[0].at + t * (w[1].at - w[0].at), normal });
            next += 1.0;
        }
        so_far += step;
    }
    out.push(points[points.len() - 1]);
    out
}

/// How far inward (against `outward`) from `p` the polyline `far` is met, within three
/// thicknesses; positive inward.
fn recess(p: P2, outward: V2, far: &[P2], thickness: f64) -> Option<f64> {
    let along = V2::new(-outward.y, outward.x);
    far.windows(2)
        .filter_map(|w| {
            let (a, b) = ((w[0] - p).dot(&along), (w[1] - p).dot(&along));
            if a * b > 0.0 || a == b {
                return None;
            }
            let hit = w[0] + a / (a - b) * (w[1] - w[0]);
            Some(-(hit - p).dot(&outward))
        })
        .filter(|r| r.abs() <= 3.0 * thickness)
        .min_by(|a, b| a.abs().total_cmp(&b.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A skin that closes in by 1 in 4 going forward: the far (fore) face is smaller.
    #[test]
    fn a_closing_skin_has_a_positive_bevel() {
        let n = V3::new(-0.25, 1.0, 0.0).normalize();
        let angle = bevel(n, -V3::x());
        assert!((angle.tan() - 0.25).abs() < 1e-12);
        assert!((bevel(n, V3::x()) + angle).abs() < 1e-12);
    }

    #[test]
    fn a_label_names_the_face() {
        let at = BevelAt { panel: 0, at: P2::origin(), angle: -0.1, offset: -1.9 };
        assert_eq!(at.label(Units::Mm), "5.5° 1.9 mm this");
    }
}
