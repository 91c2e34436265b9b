//! The pieces of a frame: one board an edge, sawn to the larger outline of its two faces.
//!
//! The pattern of a piece is cut square to the *envelope* of both faces, so that bevelling
//! removes wood on one face or the other and never has to add any. The inner edge is
//! straight and is the board's own edge. Pieces that are joined under gussets meet on the
//! bisector of their corner; lapped pieces run past it.

use super::section::{Section, SectionEdge, Shaping, closed_half, whole};
use crate::geom::region::Region;
use crate::geom::{P2, V2};

/// An edge shorter than this (mm) makes no piece of its own.
const SHORTEST_EDGE_MM: f64 = 20.0;
/// Far beyond any frame, mm.
const FAR_MM: f64 = 20_000.0;

/// One board of a frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// "bottom", "side", "strake-1" …
    pub name: String,
    /// Index of the panel on its outer edge.
    pub panel: usize,
    /// It runs across both sides; otherwise it is the starboard one and a second is cut
    /// turned over.
    pub whole: bool,
    /// The cut outline in the frame's plane, mm, anticlockwise: notches and limbers out.
    pub outline: Vec<P2>,
    /// Direction of the board: its inner edge.
    pub along: V2,
    /// A point of its inner edge, mm.
    pub inner: P2,
    /// Depth from the outer edge's chord to the inner edge, mm.
    pub depth: f64,
    /// Width of the board that it is sawn from, mm.
    pub board_width: f64,
    /// Length of board that it takes, mm.
    pub board_length: f64,
    /// Whether a board of the builder's is that wide.
    pub wide_enough: bool,
    /// Least wood left inside a notch, mm; the depth where there is none.
    pub least_left: f64,
    /// What falls off where notches and joints run into each other, mm².
    pub lost: f64,
    /// Position of its pattern's face along the frame's normal from the station, mm.
    pub face_at: f64,
}

impl Piece {
    /// How many are cut.
    pub fn count(&self) -> usize {
        if self.whole { 1 } else { 2 }
    }

    /// Board taken by all that are cut, mm².
    pub fn board_area(&self) -> f64 {
        self.count() as f64 * self.board_width * self.board_length
    }
}

/// The larger outline of two faces of a frame, closed along the centreline: what the
/// pattern is sawn to.
pub fn envelope(face: &Section, far: &Section, edges: Shaping) -> Region {
    let [face, far] = to_one_head(face.half_with(edges), far.half_with(edges));
    Region::of(&closed_half(&face)).or(&Region::of(&closed_half(&far)))
}

/// As [`envelope`], both sides at once.
pub fn envelope_whole(face: &Section, far: &Section, edges: Shaping) -> Region {
    let [face, far] = to_one_head(face.half_with(edges), far.half_with(edges));
    Region::of(&whole(&face)).or(&Region::of(&whole(&far)))
}

/// Heads of two faces that differ by more than this (mm) are two heads and no slope of a sheer.
const ONE_HEAD_MM: f64 = 40.0;

/// Halves of two faces with their edges run on straight to the higher head: the sheer slopes over
/// the thickness, and where one face is the wider and the other the higher a step would be left
/// at the corner, which nobody saws and bevelling takes away.
fn to_one_head(a: Vec<P2>, b: Vec<P2>) -> [Vec<P2>; 2] {
    let head = |half: &[P2]| half.last().map_or(f64::NEG_INFINITY, |p| p.y);
    let high = head(&a).max(head(&b));
    [a, b].map(|mut half| {
        if let [.., before, last] = half[..] {
            let (lacks, up) = (high - last.y, last - before);
            if lacks > 0.0 && lacks < ONE_HEAD_MM && up.y > 0.5 * up.x.abs() {
                half.push(last + lacks / up.y * up);
            }
        }
        half
    })
}

/// Mirrors a ring to port.
pub fn to_port(ring: &[P2]) -> Vec<P2> {
    ring.iter().rev().map(|p| P2::new(-p.x, p.y)).collect()
}

/// The points on the side of a line through `at` to which `side` points.
pub fn half_plane(at: P2, side: V2) -> Region {
    let Some(n) = side.try_normalize(1e-12) else {
        return Region::default();
    };
    let e = V2::new(-n.y, n.x) * FAR_MM;
    Region::of(&[at - e, at - e + FAR_MM * n, at + e + FAR_MM * n, at + e])
}

/// What a piece is sawn from: the outline of its layer and the boards at hand.
#[derive(Debug)]
pub struct Timber<'a> {
    /// The section on the pattern's face.
    pub face: &'a Section,
    /// The section on the far face.
    pub far: &'a Section,
    /// The larger outline of both, starboard half.
    pub envelope: &'a Region,
    /// Which edges are straight.
    pub edges: Shaping,
    /// Measured board widths, mm.
    pub widths: &'a [f64],
    /// Where the pattern's face lies along the frame's normal from the station, mm.
    pub face_at: f64,
}

/// How the ends of a piece are cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cuts {
    /// The lower end: a point of the cut and the way into the piece.
    pub lower: Option<(P2, V2)>,
    /// The upper end.
    pub upper: Option<(P2, V2)>,
}

/// Inward normal of an edge of the starboard half.
pub fn inward(edge: &SectionEdge) -> Option<V2> {
    edge.chord().map(|e| V2::new(-e.y, e.x))
}

impl Timber<'_> {
    /// The piece along edge `i` (of [`Section::edges`]), at least `depth` mm deep.
    pub fn along_edge(&self, i: usize, name: &str, depth: f64, cuts: Cuts) -> Option<Piece> {
        let edge = &self.face.edges[i];
        let chord = edge.last().at - edge.first().at;
        if chord.norm() < SHORTEST_EDGE_MM {
            return None;
        }
        let (along, inward) = (edge.chord()?, inward(edge)?);
        let from = edge.first().at;
        let far = self.far.edge(edge.panel);
        let both = edge.points.iter().chain(far.iter().flat_map(|e| &e.points));
        // Furthest out and in of either face, measured inward from the chord.
        let (out, hollow) = both
            .map(|p| (p.at - from).dot(&inward))
            .fold((0.0f64, 0.0f64), |(out, hollow), d| (out.max(-d), hollow.max(d)));
        let hollow = hollow.min((-edge.crown()).max(0.0));
        let (board_width, wide_enough) = board(self.widths, depth + out + hollow);
        let inner_depth = board_width - out;
        let band = half_plane(from + inner_depth * inward, -inward);
        let mut region = self.envelope.and(&band);
        for (at, side) in [cuts.lower, cuts.upper].into_iter().flatten() {
            region = region.and(&half_plane(at, side));
        }
        let outline = region.largest();
        if outline.len() < 3 {
            return None;
        }
        Some(Piece {
            name: name.into(),
            panel: edge.panel,
            whole: false,
            board_length: extent(&outline, along),
            outline,
            along,
            inner: from + inner_depth * inward,
            depth: inner_depth,
            board_width,
            wide_enough,
            least_left: inner_depth,
            lost: 0.0,
            face_at: self.face_at,
        })
    }

    /// One board right across both bottoms, its upper edge level, at least `depth` mm deep
    /// above the bottom everywhere.
    pub fn across(&self, name: &str, depth: f64, upper: Option<(P2, V2)>) -> Option<Piece> {
        let edge = self.face.edges.first()?;
        let far = self.far.edge(edge.panel);
        let both = || edge.points.iter().chain(far.iter().flat_map(|e| &e.points));
        let low = both().map(|p| p.at.y).fold(f64::INFINITY, f64::min);
        let high = edge.points.iter().map(|p| p.at.y).fold(f64::NEG_INFINITY, f64::max);
        let (board_width, wide_enough) = board(self.widths, high + depth - low);
        let top = low + board_width;
        let mut region = envelope_whole(self.face, self.far, self.edges)
            .and(&half_plane(P2::new(0.0, top), -V2::y()));
        if let Some((at, side)) = upper {
            region = region.and(&half_plane(at, side));
            region = region.and(&half_plane(P2::new(-at.x, at.y), V2::new(-side.x, side.y)));
        }
        let outline = region.largest();
        if outline.len() < 3 {
            return None;
        }
        Some(Piece {
            name: name.into(),
            panel: edge.panel,
            whole: true,
            board_length: extent(&outline, V2::x()),
            outline,
            along: V2::x(),
            inner: P2::new(0.0, top),
            depth: top - high,
            board_width,
            wide_enough,
            least_left: top - low,
            lost: 0.0,
            face_at: self.face_at,
        })
    }
}

/// The narrowest board of at least `needed` mm and true, or what is needed and false.
fn board(widths: &[f64], needed: f64) -> (f64, bool) {
    let fits = widths.iter().copied().filter(|w| *w >= needed).reduce(f64::min);
    fits.map_or((needed, false), |w| (w, true))
}

/// Extent of a ring along a unit direction, mm.
pub fn extent(ring: &[P2], along: V2) -> f64 {
    let (low, high) = ring
        .iter()
        .map(|p| p.coords.dot(&along))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)));
    high - low
}

/// Two edges that turn by less than this (radians) are cut square to the lower one: their
/// bisector would be anywhere.
const LEAST_TURN: f64 = 0.02;

/// The cut between edges `i` and `i + 1` of a section, on the bisector of their corner: its
/// place and the way into the upper piece.
pub fn mitre(section: &Section, i: usize) -> Option<(P2, V2)> {
    let (lower, upper) = (&section.edges[i], &section.edges[i + 1]);
    let (a, b) = (lower.chord()?, upper.chord()?);
    let (n, m) = (inward(lower)?, inward(upper)?);
    let turn = a.x * b.y - a.y * b.x;
    let bisector = if turn.abs() < LEAST_TURN { n } else { n + m };
    // Square to the bisector, upward.
    let side = V2::new(bisector.y, -bisector.x);
    let side = if side.dot(&(a + b)) >= 0.0 { side } else { -side };
    Some((lower.last().at, side))
}
