//! Sawing a frame's boards and joining them.

use super::fasten;
use super::frame::{FrameStock, Layer, Spall, cut_away};
use super::gusset::{Carries, Corner, Gusset, gussets, mirrored};
use super::limber::Limber;
use super::notch::{Notch, notches};
use super::pieces::{Cuts, Piece, Timber, envelope, mitre};
use super::section::{Across, Section, Shaping};
use crate::geom::region::Region;
use crate::geom::{P2, V2};
use crate::hull::{Face, Joint};
use crate::part::LineId;

/// A board right across may take this much more than two that want a joint between them.
/// Our judgement; no source.
const A_JOINT_LESS: f64 = 1.05;
/// How far a lapped piece runs past its corner, in depths of the piece that it lies on, and
/// the most of that piece's length. Common practice, no source; the second keeps every other
/// piece, which lies in the same layer, out of its way.
const LAP_REACH: f64 = 1.6;
const LAP_SHARE: f64 = 0.45;
/// A stick that shares less than this (mm²) with a board only touches it.
const CRUMB_MM2: f64 = 4.0;
/// A foot further than this (mm) from the centreline is not joined across.
const FOOT_MM: f64 = 60.0;
/// Kept clear round the cross-spall by what lies on the same face, mm.
const SPALL_CLEAR_MM: f64 = 2.0;

/// What one frame is sawn from.
#[derive(Debug)]
pub(super) struct Carpenter<'a> {
    pub(super) stock: FrameStock<'a>,
    /// Sections on the pattern's and on the far face.
    pub(super) section: &'a Section,
    pub(super) far: &'a Section,
    pub(super) face: Face,
    pub(super) edges: Shaping,
    /// The larger outline of both faces, what is cut out of it, and where no fastening goes.
    pub(super) shape: &'a Region,
    pub(super) cut: &'a Region,
    pub(super) clear: &'a [Vec<P2>],
    pub(super) limbers: &'a [Limber],
    /// The section on the furthest face of all that stands there.
    pub(super) deepest: &'a Section,
    /// The layer of lapped sides; `None` where all pieces lie in one.
    pub(super) second: Option<&'a Layer>,
    /// The cross-spall that lies on the pattern's face.
    pub(super) spall: Option<Spall>,
}

impl Carpenter<'_> {
    fn x(&self) -> f64 {
        self.section.across.plane.offset
    }

    /// The section `by` mm from the station into the frame (negative: out from its face).
    fn section_at(&self, by: f64) -> Section {
        self.stock.skin.section(Across::station(self.x() - self.face.sign() * by))
    }

    fn depth(&self, i: usize) -> f64 {
        let framing = self.stock.framing;
        let bottom = self.section.edges[i].panel == 0 && self.section.edges.len() > 1;
        if bottom { framing.bottom_depth_mm } else { framing.side_depth_mm }
    }

    /// The ends of piece `i`: on the bisectors of its corners, or, where it lies in one of
    /// two layers, past them as far as its neighbour is deep, but never half way along it.
    fn cuts(&self, i: usize) -> Cuts {
        let edges = &self.section.edges;
        let count = edges.len();
        if self.second.is_none() {
            return Cuts {
                lower: (i > 0).then(|| mitre(self.section, i - 1)).flatten(),
                upper: (i + 1 < count)
                    .then(|| mitre(self.section, i).map(|(at, side)| (at, -side)))
                    .flatten(),
            };
        }
        let past = |corner: P2, other: usize, way: f64| {
            let e = edges[i].chord()?;
            let length = (edges[other].last().at - edges[other].first().at).norm();
            let reach = (LAP_REACH * self.depth(other)).min(LAP_SHARE * length);
            Some((corner + way * reach * e, -way * e))
        };
        Cuts {
            lower: (i > 0).then(|| past(edges[i].first().at, i - 1, -1.0)).flatten(),
            upper: (i + 1 < count).then(|| past(edges[i].last().at, i + 1, 1.0)).flatten(),
        }
    }

    pub(super) fn pieces(&self, in_first: &[Notch]) -> Vec<Piece> {
        let FrameStock { skin, framing, .. } = self.stock;
        let timber = Timber {
            face: self.section,
            far: self.far,
            envelope: self.shape,
            edges: self.edges,
            widths: &framing.widths_mm,
            face_at: 0.0,
        };
        // Lapped sides lie against the far face, one thickness on.
        let second_shape = self.second.map(|l| envelope(&l.section, &l.far, self.edges));
        let second = self.second.zip(second_shape.as_ref()).map(|(l, shape)| Timber {
            face: &l.section,
            far: &l.far,
            envelope: shape,
            edges: self.edges,
            widths: &framing.widths_mm,
            face_at: framing.sided_mm,
        });
        let second_cut =
            self.second.map(|l| cut_away(&l.notches, self.limbers)).unwrap_or_default();
        let count = self.section.edges.len();
        let mut out = Vec::new();
        for i in 0..count {
            let panel = self.section.edges[i].panel;
            let name = skin.panels[panel].name;
            let bottom = i == 0 && panel == 0 && self.section.edges[0].first().at.x.abs() < 1.0;
            let (timber, cut, notches) = match (&second, self.second) {
                (Some(t), Some(layer)) if i % 2 == 1 => (t, &second_cut, &layer.notches[..]),
                _ => (&timber, self.cut, in_first),
            };
            let cuts = self.cuts(i);
            let depth = self.depth(i);
            let half = timber.along_edge(i, name, depth, cuts);
            let across = bottom.then(|| timber.across(name, depth, cuts.upper)).flatten();
            let piece = match (half, across) {
                // Of one board right across and two that meet on the centreline, the one
                // that takes less; a board that is not to be had loses.
                (Some(h), Some(a)) => {
                    let worth = A_JOINT_LESS * h.board_area() >= a.board_area();
                    let across = match (a.wide_enough, h.wide_enough) {
                        (true, false) => true,
                        (false, true) => false,
                        _ => worth,
                    };
                    if across { a } else { h }
                }
                (h, a) => match h.or(a) {
                    Some(p) => p,
                    None => continue,
                },
            };
            let mut piece = piece;
            // What lies in this layer already stays where it is.
            for q in
                out.iter().filter(|q: &&Piece| self.second.is_some() && q.face_at == piece.face_at)
            {
                piece.outline = Region::of(&piece.outline).minus(&Region::of(&q.outline)).largest();
            }
            out.extend(finished(piece, cut, notches, self.limbers));
        }
        out
    }

    /// Fastenings where one piece lies on another: in what both have, clear of what is cut.
    pub(super) fn laps(&self, pieces: &[Piece]) -> Vec<P2> {
        pieces
            .windows(2)
            .filter(|w| w[0].face_at != w[1].face_at)
            .flat_map(|w| fasten::joint(&w[1], &Region::of(&w[0].outline), self.clear))
            .filter(|p| p.x >= 0.0)
            .collect()
    }

    pub(super) fn gussets(&self, pieces: &[Piece]) -> Vec<Gusset> {
        let FrameStock { skin, framing, members, .. } = self.stock;
        let corners = self.corners(pieces);
        if corners.is_empty() {
            return Vec::new();
        }
        let (t, g) = (framing.sided_mm, framing.gusset_mm);
        let out_of_face = self.section_at(-g);
        // Behind two layers the furthest face is the second layer's.
        let behind = (framing.joint == Joint::Lap).then(|| self.section_at(t + g));
        let past = behind.as_ref().unwrap_or(self.deepest);
        // On the far face the members lie where they do there; water passes all layers.
        let clearance = framing.notch_clearance_mm;
        let there = notches(skin, members, self.far, past.across, clearance);
        let cut_far = cut_away(&there, self.limbers);
        let mut clear_far = self.clear.to_vec();
        clear_far.extend(fasten::clear_of_notches(&there));
        let off_spall = self.spall.map(|s| {
            let (x, low, high) = (s.half_length, s.low - SPALL_CLEAR_MM, s.level + SPALL_CLEAR_MM);
            Region::of(&[P2::new(-x, low), P2::new(x, low), P2::new(x, high), P2::new(-x, high)])
        });
        let cut_near = off_spall.map_or(self.cut.clone(), |s| self.cut.or(&s));
        let near =
            Carries { faces: [self.section, &out_of_face], cut: &cut_near, clear: self.clear };
        let far = Carries { faces: [self.far, past], cut: &cut_far, clear: &clear_far };
        gussets(&corners, [near, far], self.edges)
    }

    /// The corners that gussets go over, from the keel up.
    fn corners<'b>(&'b self, pieces: &'b [Piece]) -> Vec<Corner<'b>> {
        let of_panel = |panel: usize| pieces.iter().find(|p| p.panel == panel);
        let mut corners = Vec::new();
        let lowest = self.section.edges.iter().find_map(|e| Some((e, of_panel(e.panel)?)));
        if let Some((edge, piece)) = lowest
            && !piece.whole
            && piece.face_at == 0.0
            && edge.first().at.x.abs() < FOOT_MM
        {
            corners.push(Corner { line: LineId::Keel, below: None, above: (edge, piece) });
        }
        // Lapped pieces are fastened to each other.
        let butted = if self.second.is_none() { &self.section.edges[..] } else { &[] };
        for w in butted.windows(2) {
            let (Some(lower), Some(upper)) = (of_panel(w[0].panel), of_panel(w[1].panel)) else {
                continue;
            };
            let line = self.stock.skin.lines.lines[w[1].panel].id;
            corners.push(Corner { line, below: Some((&w[0], lower)), above: (&w[1], upper) });
        }
        corners
    }
}

/// The piece with notches and limbers out, and how much wood they leave.
fn finished(
    mut piece: Piece,
    cut: &Region,
    notches: &[Notch],
    limbers: &[Limber],
) -> Option<Piece> {
    let away = if piece.whole { cut.or(&mirrored(cut)) } else { cut.clone() };
    let whole = std::mem::take(&mut piece.outline);
    let mut rings = Region::of(&whole).minus(&away).rings().into_iter();
    piece.outline = rings.next().unwrap_or_default();
    piece.lost = rings.map(|r| crate::geom::polyline::area(&r).abs()).sum();
    if piece.outline.len() < 3 {
        return None;
    }
    let inner_normal = V2::new(-piece.along.y, piece.along.x);
    let board = Region::of(&whole);
    for n in notches {
        // Only what cuts into this piece leaves less of it.
        if Region::of(&n.corners).and(&board).area() > CRUMB_MM2 {
            let deepest = n
                .corners
                .iter()
                .map(|c| (piece.inner - c).dot(&inner_normal))
                .fold(f64::INFINITY, f64::min);
            piece.least_left = piece.least_left.min(deepest);
        }
    }
    for l in limbers.iter().filter(|l| board.and(&l.hole(-0.5 * l.radius)).area() > CRUMB_MM2) {
        for centre in [l.centre, l.far] {
            let left = (piece.inner - centre).dot(&inner_normal) - l.radius;
            piece.least_left = piece.least_left.min(left);
        }
    }
    Some(piece)
}
