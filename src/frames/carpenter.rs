//! Sawing a frame's boards and joining them.

use super::fasten;
use super::frame::{FrameStock, cut_away};
use super::gusset::{Corner, Gusset, gussets};
use super::notch::Notch;
use super::pieces::{Cuts, Piece, Timber, envelope, mitre, to_port};
use super::section::{Across, Section, Shaping};
use crate::geom::region::Region;
use crate::geom::{P2, V2};
use crate::hull::{Face, Joint};

/// A board right across may take this much more than two that want a joint between them.
/// Our judgement; no source.
const A_JOINT_LESS: f64 = 1.05;

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

    pub(super) fn pieces(&self, notches: &[Notch]) -> Vec<Piece> {
        let FrameStock { skin, framing, .. } = self.stock;
        let lap = framing.joint == Joint::Lap;
        let timber = Timber {
            face: self.section,
            far: self.far,
            envelope: self.shape,
            edges: self.edges,
            widths: &framing.widths_mm,
            face_at: 0.0,
        };
        // Lapped sides lie against the far face, one thickness on.
        let t = framing.sided_mm;
        let (beyond, further) = (self.section_at(t), self.section_at(2.0 * t));
        let second_shape = envelope(&beyond, &further, self.edges);
        let second = Timber {
            face: &beyond,
            far: &further,
            envelope: &second_shape,
            edges: self.edges,
            widths: &framing.widths_mm,
            face_at: t,
        };
        let second_cut = if lap {
            let n = super::notch::notches(
                skin,
                self.stock.members,
                &beyond,
                further.across,
                framing.notch_clearance_mm,
            );
            cut_away(&n, &[])
        } else {
            Region::default()
        };
        let count = self.section.edges.len();
        let mut out = Vec::new();
        for i in 0..count {
            let panel = self.section.edges[i].panel;
            let name = skin.panels[panel].name;
            let bottom = i == 0 && panel == 0 && self.section.edges[0].first().at.x.abs() < 1.0;
            let in_second = lap && i % 2 == 1;
            let timber = if in_second && beyond.edges.len() == count { &second } else { &timber };
            let cut = if timber.face_at > 0.0 { &second_cut } else { self.cut };
            let cuts = if lap {
                Cuts { lower: None, upper: None }
            } else {
                Cuts {
                    lower: (i > 0).then(|| mitre(self.section, i - 1)).flatten(),
                    upper: (i + 1 < count)
                        .then(|| mitre(self.section, i).map(|(at, side)| (at, -side)))
                        .flatten(),
                }
            };
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
            out.extend(finished(piece, cut, notches));
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
        let FrameStock { skin, framing, .. } = self.stock;
        let (t, g) = (framing.sided_mm, framing.gusset_mm);
        let out_of_face = self.section_at(-g);
        let past = self.section_at(t + g);
        let layers = [[self.section, &out_of_face], [self.far, &past]];
        let mut out = Vec::new();
        let of_panel = |panel: usize| pieces.iter().find(|p| p.panel == panel);
        let first = &self.section.edges[0];
        if let Some(piece) = of_panel(first.panel)
            && first.panel == 0
            && !piece.whole
            && first.first().at.x.abs() < 1.0
        {
            let corner = Corner { line: "keel", lower: (first, piece.depth), upper: None };
            let both = self.cut.or(&mirrored(self.cut));
            out.extend(gussets(&corner, layers, self.edges, &both, self.clear, &[piece]));
        }
        if framing.joint == Joint::Lap {
            return out;
        }
        for w in self.section.edges.windows(2) {
            let (Some(lower), Some(upper)) = (of_panel(w[0].panel), of_panel(w[1].panel)) else {
                continue;
            };
            let line = skin.lines.lines[w[1].panel].name.as_str();
            let corner =
                Corner { line, lower: (&w[0], lower.depth), upper: Some((&w[1], upper.depth)) };
            out.extend(gussets(&corner, layers, self.edges, self.cut, self.clear, &[lower, upper]));
        }
        out
    }
}

/// A region's mirror image.
pub(super) fn mirrored(region: &Region) -> Region {
    region
        .rings()
        .iter()
        .map(|r| Region::of(&to_port(r)))
        .fold(Region::default(), |all, r| if all.is_empty() { r } else { all.or(&r) })
}

/// The piece with notches and limbers out, and how much wood they leave.
fn finished(mut piece: Piece, cut: &Region, notches: &[Notch]) -> Option<Piece> {
    let away = if piece.whole { cut.or(&mirrored(cut)) } else { cut.clone() };
    let whole = std::mem::take(&mut piece.outline);
    let mut rings = Region::of(&whole).minus(&away).rings().into_iter();
    piece.outline = rings.next().unwrap_or_default();
    piece.lost = rings.map(|r| crate::geom::polyline::area(&r).abs()).sum();
    if piece.outline.len() < 3 {
        return None;
    }
    let inner_normal = V2::new(-piece.along.y, piece.along.x);
    for n in notches {
        // Only what cuts into this piece leaves less of it.
        if n.corners[2..].iter().any(|c| fasten::inside(&whole, *c)) {
            let deepest = n.corners[2..]
                .iter()
                .map(|c| (piece.inner - c).dot(&inner_normal))
                .fold(f64::INFINITY, f64::min);
            piece.least_left = piece.least_left.min(deepest);
        }
    }
    Some(piece)
}
