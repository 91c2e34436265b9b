//! Plywood gussets over the corners of a frame.
//!
//! Each corner wants a plate. Where two neighbours' plates lie over each other, they are cut
//! off where they meet, square to the board that they share; where they share so much that
//! what is left would be scraps, one plate over both corners is what a builder makes.

use super::fasten;
use super::pieces::{Piece, envelope, envelope_whole, half_plane, inward, to_port};
use super::section::{Section, SectionEdge, Shaping};
use crate::geom::region::{Region, hull_of};
use crate::geom::{P2, V2};
use crate::part::LineId;

/// How far a gusset reaches past the depth of the other piece, as a share of its own
/// piece's depth: about two board widths in all. Common practice, no source.
const REACH: f64 = 1.8;
/// Plates that share more than this part of the smaller one are made in one. Our judgement;
/// no source.
const MADE_IN_ONE: f64 = 0.25;
/// Outlines that lie nearer to each other than this (mm) are one to a saw.
const SAME_MM: f64 = 0.1;
/// Plates that share less than this (mm²) only touch.
const TOUCHING_MM2: f64 = 0.5;

/// A gusset over one corner or several, on one face.
#[derive(Debug, Clone, PartialEq)]
pub struct Gusset {
    /// The line at its corner, from the keel up; several where one plate covers all.
    pub lines: Vec<LineId>,
    /// On the pattern's face or on the far one.
    pub on_face: bool,
    /// It runs across both sides (at the keel).
    pub whole: bool,
    /// The cut outline in the frame's plane, mm.
    pub outline: Vec<P2>,
    /// Where its fastenings go, into each piece; those of both sides on a whole one, mm.
    pub fastenings: Vec<P2>,
}

impl Gusset {
    /// Whether another is sawn alike; those of the two faces are fastened in other places.
    pub fn is_alike(&self, other: &Gusset) -> bool {
        let same = |a: &[P2], b: &[P2]| {
            a.len() == b.len() && a.iter().zip(b).all(|(p, q)| (p - q).norm() < SAME_MM)
        };
        self.lines == other.lines
            && self.whole == other.whole
            && same(&self.outline, &other.outline)
    }

    /// What it is called by: `chine`, or `keel and chine` where one plate covers both.
    pub fn place(&self) -> String {
        self.lines.iter().map(LineId::to_string).collect::<Vec<_>>().join(" and ")
    }
}

/// A corner of a frame, and what meets there.
#[derive(Debug, Clone)]
pub struct Corner<'a> {
    /// The line there.
    pub line: LineId,
    /// The edge below, and its piece; `None` at the keel, where the other side's bottom is
    /// the mirror image.
    pub below: Option<(&'a SectionEdge, &'a Piece)>,
    /// The edge above, and its piece.
    pub above: (&'a SectionEdge, &'a Piece),
}

impl Corner<'_> {
    /// Corners of the plate before it is cut to the skin, those on starboard.
    fn points(&self) -> Vec<P2> {
        let (above, d) = (self.above.0, self.above.1.depth);
        let at = above.first().at;
        match self.below {
            Some((below, piece)) => {
                let e = piece.depth;
                let mut points = vec![at];
                points.extend(leg(below, below.last().at, -1.0, d + REACH * e, e));
                points.extend(leg(above, at, 1.0, e + REACH * d, d));
                points
            }
            None => {
                let mut points = vec![at, P2::new(at.x, at.y + d)];
                points.extend(leg(above, at, 1.0, 2.0 * d, d));
                points
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

/// A plate over neighbouring corners, and the lines that it is cut off along.
#[derive(Debug, Clone)]
struct Plate<'a, 'b> {
    corners: &'b [Corner<'a>],
    /// Before it is cut to the skin: both sides' where it runs across the keel, otherwise
    /// starboard's.
    shape: Region,
}

impl<'a, 'b> Plate<'a, 'b> {
    fn over(corners: &'b [Corner<'a>]) -> Plate<'a, 'b> {
        let mut points: Vec<P2> = corners.iter().flat_map(Corner::points).collect();
        if corners.first().is_some_and(|c| c.below.is_none()) {
            points.extend(points.clone().iter().map(|p| P2::new(-p.x, p.y)));
        }
        Plate { corners, shape: Region::of(&hull_of(&points)) }
    }

    /// Keeps what lies on the side of a line through `at` to which `side` points, and of its
    /// mirror image where the plate runs across.
    fn cut_off(&mut self, at: P2, side: V2) {
        self.shape = self.shape.and(&half_plane(at, side));
        if self.whole() {
            let (at, side) = (P2::new(-at.x, at.y), V2::new(-side.x, side.y));
            self.shape = self.shape.and(&half_plane(at, side));
        }
    }

    fn whole(&self) -> bool {
        self.corners.first().is_some_and(|c| c.below.is_none())
    }

    fn lines(&self) -> Vec<LineId> {
        self.corners.iter().map(|c| c.line).collect()
    }

    /// All boards that it lies on.
    fn pieces(&self) -> Vec<&'a Piece> {
        let mut out: Vec<&'a Piece> = Vec::new();
        for c in self.corners {
            for p in c.below.iter().map(|b| b.1).chain([c.above.1]) {
                if !out.iter().any(|q| q.panel == p.panel) {
                    out.push(p);
                }
            }
        }
        out
    }
}

/// Where two plates over neighbouring corners are cut off: a point on the board that they
/// share, in the middle of what both would cover, and the way along it to the upper plate.
fn parting(shared: &Region, edge: &SectionEdge) -> Option<(P2, V2)> {
    let e = edge.chord()?;
    let (low, high) = shared
        .rings()
        .iter()
        .flatten()
        .map(|p| (p - edge.first().at).dot(&e))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)));
    Some((edge.first().at + 0.5 * (low + high) * e, e))
}

/// Plates over all `corners` (from the keel up) of which no two lie in one place within
/// `skin`, the larger outline of all faces that carry them.
fn plates<'a, 'b>(corners: &'b [Corner<'a>], skin: &Region) -> Vec<Plate<'a, 'b>> {
    // First those that are better made in one: the ends of each run of corners.
    let mut runs: Vec<(usize, usize)> = (0..corners.len()).map(|i| (i, i + 1)).collect();
    let over = |(from, to): (usize, usize)| Plate::over(&corners[from..to]);
    let mut out: Vec<Plate> = runs.iter().copied().map(over).collect();
    let shared = |a: &Plate, b: &Plate| a.shape.and(&b.shape).and(skin);
    let one_board = |out: &[Plate], i: usize, j: usize| {
        let (a, b) = (&out[i], &out[j]);
        let both = shared(a, b).area();
        // Plates that are no neighbours share no board to be cut off along.
        let apart = j > i + 1 || !neighbours(a, b);
        let smaller = || a.shape.and(skin).area().min(b.shape.and(skin).area());
        both > 0.0 && ((apart && both > TOUCHING_MM2) || both > MADE_IN_ONE * smaller())
    };
    while let Some((i, j)) = (0..runs.len())
        .flat_map(|i| (i + 1..runs.len()).map(move |j| (i, j)))
        .find(|(i, j)| one_board(&out, *i, *j))
    {
        let joined = (runs[i].0, runs[j].1);
        runs.splice(i..=j, [joined]);
        out.splice(i..=j, [over(joined)]);
    }
    // Then the rest are cut off where they meet.
    for i in 1..out.len() {
        let both = shared(&out[i - 1], &out[i]);
        let edge = out[i].corners.first().and_then(|c| c.below).map(|b| b.0);
        if both.area() > TOUCHING_MM2
            && let Some((at, up)) = edge.and_then(|e| parting(&both, e))
        {
            out[i - 1].cut_off(at, -up);
            out[i].cut_off(at, up);
        }
    }
    out
}

/// Whether the board above the last corner of `a` is the one below the first of `b`.
fn neighbours(a: &Plate, b: &Plate) -> bool {
    let above = a.corners.last().map(|c| c.above.1.panel);
    let below = b.corners.first().and_then(|c| c.below).map(|b| b.1.panel);
    above.is_some() && above == below
}

/// One face of a frame that carries gussets.
#[derive(Debug)]
pub struct Carries<'a> {
    /// Sections on the gussets' two faces.
    pub faces: [&'a Section; 2],
    /// What is taken out of them, starboard half.
    pub cut: &'a Region,
    /// Where no fastening may go, starboard half.
    pub clear: &'a [Vec<P2>],
}

/// Gussets over all `corners`, from the keel up: on the pattern's face, then on the far one.
pub fn gussets(corners: &[Corner], on: [Carries; 2], edges: Shaping) -> Vec<Gusset> {
    if corners.is_empty() {
        return Vec::new();
    }
    let halves = [0, 1].map(|i| envelope(on[i].faces[0], on[i].faces[1], edges));
    let skin = halves[0].or(&halves[1]);
    let mut out = Vec::new();
    for plate in plates(corners, &skin) {
        let shapes = [0, 1].map(|i| outline_on(&plate, &on[i], &halves[i], edges));
        let places = fastened(&plate, &shapes, &on);
        let (lines, whole) = (plate.lines(), plate.whole());
        for (i, (outline, fastenings)) in shapes.into_iter().zip(places).enumerate() {
            let lines = lines.clone();
            out.extend(outline.map(|outline| Gusset {
                lines,
                on_face: i == 0,
                whole,
                outline,
                fastenings,
            }));
        }
    }
    out
}

/// The outline of a plate on one face; `half` is the starboard half of what carries it.
fn outline_on(plate: &Plate, on: &Carries, half: &Region, edges: Shaping) -> Option<Vec<P2>> {
    let [near, far] = on.faces;
    let both = |r: &Region| r.or(&mirrored(r));
    let shape = if plate.whole() {
        plate.shape.and(&envelope_whole(near, far, edges)).minus(&both(on.cut))
    } else {
        plate.shape.and(half).minus(on.cut)
    };
    Some(shape.largest()).filter(|o| o.len() >= 3)
}

/// Where a plate is fastened on each face, into each of its boards.
fn fastened(plate: &Plate, shapes: &[Option<Vec<P2>>; 2], on: &[Carries; 2]) -> [Vec<P2>; 2] {
    let mut out = [Vec::new(), Vec::new()];
    let regions =
        [0, 1].map(|i| shapes[i].as_ref().map_or_else(Region::default, |s| Region::of(s)));
    for piece in plate.pieces() {
        let places =
            fasten::both_faces(piece, [&regions[0], &regions[1]], [on[0].clear, on[1].clear]);
        for (all, places) in out.iter_mut().zip(places) {
            if plate.whole() && !piece.whole {
                all.extend(places.iter().map(|p| P2::new(-p.x, p.y)));
            }
            all.extend(places);
        }
    }
    out
}

/// A region's mirror image.
pub(super) fn mirrored(region: &Region) -> Region {
    region
        .rings()
        .iter()
        .map(|r| Region::of(&to_port(r)))
        .fold(Region::default(), |all, r| if all.is_empty() { r } else { all.or(&r) })
}
