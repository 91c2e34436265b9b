//! Plywood gussets over the corners of a frame.

use super::fasten;
use super::pieces::{Piece, envelope, envelope_whole, inward};
use super::section::{Section, SectionEdge, Shaping};
use crate::geom::P2;
use crate::geom::region::{Region, hull_of};

/// How far a gusset reaches past the depth of the other piece, as a share of its own
/// piece's depth: about two board widths in all. Common practice, no source.
const REACH: f64 = 1.8;

/// A gusset over one corner, on one face.
#[derive(Debug, Clone, PartialEq)]
pub struct Gusset {
    /// "chine", "chine-2" …, "keel": the line at its corner.
    pub line: String,
    /// On the pattern's face or on the far one.
    pub on_face: bool,
    /// It runs across both sides (at the keel).
    pub whole: bool,
    /// The cut outline in the frame's plane, mm.
    pub outline: Vec<P2>,
    /// Where its fastenings go, into either piece, mm.
    pub fastenings: Vec<P2>,
}

/// What the corners of a frame are made of.
#[derive(Debug)]
pub struct Corner<'a> {
    /// The line there.
    pub line: &'a str,
    /// The edge below, and how deep its piece is (mm).
    pub lower: (&'a SectionEdge, f64),
    /// The edge above, with its piece's depth; `None` at the keel, where the other side's
    /// bottom is the mirror image.
    pub upper: Option<(&'a SectionEdge, f64)>,
}

impl Corner<'_> {
    /// The plate's shape before it is cut to the skin, starboard half.
    fn plate(&self) -> Vec<P2> {
        let (lower, d) = self.lower;
        match self.upper {
            Some((upper, e)) => {
                let at = lower.last().at;
                let mut points = vec![at];
                points.extend(leg(lower, at, -1.0, e + REACH * d, d));
                points.extend(leg(upper, at, 1.0, d + REACH * e, e));
                hull_of(&points)
            }
            None => {
                let at = lower.first().at;
                let mut points = vec![at, P2::new(at.x, at.y + d)];
                points.extend(leg(lower, at, 1.0, 2.0 * d, d));
                points.extend(points.clone().iter().map(|p| P2::new(-p.x, p.y)));
                hull_of(&points)
            }
        }
    }
}

/// Points of a leg from the corner: out along the edge on both its sides and back.
fn leg(edge: &SectionEdge, at: P2, way: f64, reach: f64, depth: f64) -> Vec<P2> {
    let (Some(e), Some(n)) = (edge.chord(), inward(edge)) else {
        return Vec::new();
    };
    let length = (edge.last().at - edge.first().at).norm();
    let end = at + way * reach.min(0.7 * length) * e;
    // A little outside the chord, so that the plate follows the crown of its layer.
    vec![end - 0.1 * depth * n, end + 0.92 * depth * n, at + 0.92 * depth * n]
}

/// Gussets of one corner on both faces. `layers` holds the two planes of each gusset and
/// `cut` what is taken out of it: on the pattern's face first.
pub fn gussets(
    corner: &Corner,
    layers: [[&Section; 2]; 2],
    edges: Shaping,
    cut: [&Region; 2],
    clear: &[Vec<P2>],
    pieces: &[&Piece],
) -> Vec<Gusset> {
    let plate = Region::of(&corner.plate());
    let whole = corner.upper.is_none();
    layers
        .iter()
        .enumerate()
        .filter_map(|(i, [near, far])| {
            let skin_side =
                if whole { envelope_whole(near, far, edges) } else { envelope(near, far, edges) };
            let shape = plate.and(&skin_side).minus(cut[i]);
            let outline = shape.largest();
            if outline.len() < 3 {
                return None;
            }
            let shape = Region::of(&outline);
            let fastenings = pieces.iter().flat_map(|p| fasten::joint(p, &shape, clear)).collect();
            Some(Gusset { line: corner.line.into(), on_face: i == 0, whole, outline, fastenings })
        })
        .collect()
}
