//! One frame: its larger face on the station, bevels, notches, limbers, pieces, gussets and
//! the cross-spall that holds it while setting up.

use super::bevel::{BevelAt, bevels};
use super::carpenter::Carpenter;
use super::fasten;
use super::groove::{Groove, grooves};
use super::gusset::Gusset;
use super::limber::{Bored, Limber, limbers};
use super::notch::{Notch, notches};
use super::pieces::{Piece, envelope};
use super::section::{Across, Section, Shaping, Skin};
use crate::bend::BentMember;
use crate::geom::P2;
use crate::geom::region::Region;
use crate::hull::{Edges, Face, Framing, Joint};

/// A spall ends this far (mm) inside the skin, clear of the bevel.
const SPALL_CLEAR_MM: f64 = 8.0;

/// The board across a frame that stands on the strongback; its upper edge (as she floats)
/// is the level line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spall {
    /// Height of the level line, mm.
    pub level: f64,
    /// Height of its other edge, mm.
    pub low: f64,
    /// Half its length, mm.
    pub half_length: f64,
}

/// A layer of boards between two planes, as far as lapped sides have one of their own.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// The section on its pattern's face.
    pub section: Section,
    /// The section on its far face.
    pub far: Section,
    /// Bevels along its edges.
    pub bevels: Vec<BevelAt>,
    /// Notches in it.
    pub notches: Vec<Notch>,
    /// Where no fastening may go.
    pub keep_clear: Vec<Vec<P2>>,
}

/// One frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// Its station, from 1.
    pub station: usize,
    /// Its station's distance aft, mm: there its pattern's face stands.
    pub x: f64,
    /// Which way the pattern's face looks.
    pub face: Face,
    /// Which edges are left straight.
    pub edges: Shaping,
    /// The section on the pattern's face.
    pub section: Section,
    /// The section on the far face, one thickness away.
    pub far: Section,
    /// How far the skin stands out from a straight edge: (panel, mm).
    pub crowns: Vec<(usize, f64)>,
    /// Bevels along the edges.
    pub bevels: Vec<BevelAt>,
    /// Notches for members.
    pub notches: Vec<Notch>,
    /// Limber holes, starboard ones.
    pub limbers: Vec<Limber>,
    /// The layer behind it that lapped sides lie in.
    pub second: Option<Box<Layer>>,
    /// Boards, starboard or whole.
    pub pieces: Vec<Piece>,
    /// Gussets, starboard or whole.
    pub gussets: Vec<Gusset>,
    /// Where lapped pieces are fastened to each other, starboard ones, mm.
    pub lap_fastenings: Vec<P2>,
    /// Its cross-spall; `None` where the level line does not cross it.
    pub spall: Option<Spall>,
    /// Where no fastening may go, starboard half, mm.
    pub keep_clear: Vec<Vec<P2>>,
    /// Where the planking is fastened: (panel, place).
    pub planking_at: Vec<(usize, P2)>,
    /// Glue grooves in the faces of its joints, starboard ones.
    pub grooves: Vec<Groove>,
}

/// What frames are made from.
#[derive(Debug, Clone, Copy)]
pub struct FrameStock<'a> {
    /// The skin.
    pub skin: &'a Skin<'a>,
    /// Members that pass.
    pub members: &'a [BentMember],
    /// The builder's choices.
    pub framing: &'a Framing,
    /// Height of the level line, mm.
    pub level: f64,
}

impl Frame {
    /// From where to where aft its wood lies, mm, of boards `sided` thick: behind the face
    /// that stands on the station.
    pub fn wood(&self, sided: f64) -> (f64, f64) {
        match self.face {
            Face::Aft => (self.x - sided, self.x),
            Face::Fore => (self.x, self.x + sided),
        }
    }

    /// The frame on station `station` (from 1) at `x` mm; `None` where the plane misses the
    /// hull.
    pub fn on(stock: FrameStock, station: usize, x: f64) -> Option<Frame> {
        let FrameStock { skin, members, framing, level } = stock;
        let section = skin.section(Across::station(x));
        if section.edges.is_empty() {
            return None;
        }
        let t = framing.sided_mm;
        let beyond = |face: Face| skin.section(Across::station(x - face.sign() * t));
        let (face, far) = match framing.choice(station).and_then(|c| c.face) {
            Some(face) => (face, beyond(face)),
            None => {
                let [ahead, abaft] = [Face::Aft, Face::Fore].map(beyond);
                match larger_face(&ahead, &abaft) {
                    Face::Aft => (Face::Aft, ahead),
                    Face::Fore => (Face::Fore, abaft),
                }
            }
        };
        let straight = |i: usize| framing.edge_of(station, skin.panels[i].name) == Edges::Straight;
        let edges = Shaping::of(skin.panels.len(), straight);
        let d = -face.sign() * crate::geom::V3::x();
        let bevels = bevels(&section, &far, d, t);
        let notches = notches(skin, members, &section, far.across, framing.notch_clearance_mm);
        // Water passes the furthest gusset, or the second layer of lapped boards.
        let depth = t + if framing.joint == Joint::Lap { t } else { framing.gusset_mm };
        let deepest = skin.section(Across::station(x - face.sign() * depth));
        let bored = Bored { section: &section, notches: &notches, deepest: &deepest, depth };
        let limbers = limbers(skin, members, bored, framing);
        let cut = cut_away(&notches, &limbers);
        let shape = envelope(&section, &far, edges);
        let keep_clear = fasten::keep_clear(&shape, &section, &notches, &limbers, &bevels);
        let second = second_layer(stock, &section, face, d, &limbers);
        let spall = spall(&section, &far, framing, level);
        let carpenter = Carpenter {
            stock,
            section: &section,
            far: &far,
            face,
            edges,
            shape: &shape,
            cut: &cut,
            clear: &keep_clear,
            limbers: &limbers,
            deepest: &deepest,
            second: second.as_deref(),
            spall,
        };
        let pieces = carpenter.pieces(&notches);
        let gussets = carpenter.gussets(&pieces);
        let lap_fastenings = carpenter.laps(&pieces);
        let planking_at = planking(&section, &notches, &limbers, second.as_deref());
        let grooves =
            framing.glue_groove.map(|g| grooves(&pieces, &gussets, g)).unwrap_or_default();
        Some(Frame {
            station,
            x,
            face,
            edges,
            crowns: section.edges.iter().map(|e| (e.panel, e.crown())).collect(),
            bevels,
            notches,
            limbers,
            second,
            pieces,
            gussets,
            lap_fastenings,
            spall,
            keep_clear,
            planking_at,
            grooves,
            section,
            far,
        })
    }

    /// Unit vector from the pattern's face into the frame.
    pub fn into_frame(&self) -> crate::geom::V3 {
        -self.face.sign() * crate::geom::V3::x()
    }

    /// Board taken by all its pieces, mm².
    pub fn board_area(&self) -> f64 {
        self.pieces.iter().map(Piece::board_area).sum()
    }

    /// What `piece` is sawn by: sections on its faces, bevels, notches, where no fastening may
    /// go. Lapped sides have a layer of their own.
    pub fn layer_of(
        &self,
        piece: &Piece,
    ) -> (&Section, &Section, &[BevelAt], &[Notch], &[Vec<P2>]) {
        match self.second.as_deref().filter(|_| piece.face_at > 0.0) {
            Some(l) => (&l.section, &l.far, &l.bevels, &l.notches, &l.keep_clear),
            None => (&self.section, &self.far, &self.bevels, &self.notches, &self.keep_clear),
        }
    }

    /// Length of glue groove in its joints, both sides, mm.
    pub fn groove_length(&self) -> f64 {
        2.0 * self.grooves.iter().map(|g| g.length).sum::<f64>()
    }

    /// Whether its wood runs out of the boat, or into what stands at her ends: its far face
    /// has fewer panels round it than its face on the station.
    pub fn runs_out(&self) -> bool {
        self.far.edges.len() < self.section.edges.len()
    }

    /// Whether something joins its two sides at the bottom.
    pub fn holds_together(&self) -> bool {
        self.pieces.iter().any(|p| p.whole) || self.gussets.iter().any(|g| g.whole)
    }

    /// How far the keel lies below the lowest chine, per half-breadth there: the slope by
    /// which water runs to the keelson; 0 where there is no bottom.
    pub fn bottom_slope(&self) -> f64 {
        self.section.edges.first().filter(|e| e.panel == 0 && e.first().at.x.abs() < 1.0).map_or(
            0.0,
            |e| {
                let d = e.last().at - e.first().at;
                if d.x > 1.0 { d.y / d.x } else { 0.0 }
            },
        )
    }
}

/// The layer of lapped sides, one thickness behind the station; `None` where pieces butt, or
/// where the hull ends within it.
fn second_layer(
    stock: FrameStock,
    first: &Section,
    face: Face,
    d: crate::geom::V3,
    limbers: &[Limber],
) -> Option<Box<Layer>> {
    let FrameStock { skin, members, framing, .. } = stock;
    if framing.joint != Joint::Lap {
        return None;
    }
    let t = framing.sided_mm;
    let at = |by: f64| skin.section(Across::station(first.across.plane.offset - face.sign() * by));
    let (section, far) = (at(t), at(2.0 * t));
    if section.edges.len() != first.edges.len() || far.edges.len() != first.edges.len() {
        return None;
    }
    let bevels = bevels(&section, &far, d, t);
    let notches = notches(skin, members, &section, far.across, framing.notch_clearance_mm);
    let shape = envelope(&section, &far, Shaping::SHAPED);
    let keep_clear = fasten::keep_clear(&shape, &section, &notches, limbers, &bevels);
    Some(Box::new(Layer { section, far, bevels, notches, keep_clear }))
}

/// Where the planking is fastened: along each edge, on the face of the layer that its piece
/// lies in.
fn planking(
    first: &Section,
    notches: &[Notch],
    limbers: &[Limber],
    second: Option<&Layer>,
) -> Vec<(usize, P2)> {
    let in_first = fasten::planking(first, notches, limbers);
    let Some(layer) = second else {
        return in_first;
    };
    let lapped = |panel: usize| {
        first.edges.iter().position(|e| e.panel == panel).is_some_and(|i| i % 2 == 1)
    };
    let in_second = fasten::planking(&layer.section, &layer.notches, limbers);
    let mut out: Vec<(usize, P2)> = in_first.into_iter().filter(|p| !lapped(p.0)).collect();
    out.extend(in_second.into_iter().filter(|p| lapped(p.0)));
    out
}

/// The face to stand on the station, so that the frame's thickness lies towards the smaller
/// of the sections `ahead` and `abaft` of it: a frame whose pattern's face looks aft lies
/// ahead of its station.
fn larger_face(ahead: &Section, abaft: &Section) -> Face {
    // Wood is not put where there is no boat.
    match ahead.edges.len().cmp(&abaft.edges.len()) {
        std::cmp::Ordering::Less => Face::Fore,
        std::cmp::Ordering::Greater => Face::Aft,
        std::cmp::Ordering::Equal if ahead.half_area() <= abaft.half_area() => Face::Aft,
        std::cmp::Ordering::Equal => Face::Fore,
    }
}

/// Everything sawn or bored out of the starboard half (the keelson's notch whole).
pub(super) fn cut_away(notches: &[Notch], limbers: &[Limber]) -> Region {
    let holes = limbers.iter().map(|l| l.hole(0.0));
    notches
        .iter()
        .map(|n| Region::of(&n.cut))
        .chain(holes)
        .fold(Region::default(), |all, r| if all.is_empty() { r } else { all.or(&r) })
}

fn spall(section: &Section, far: &Section, framing: &Framing, level: f64) -> Option<Spall> {
    let low = level - framing.spall_width_mm;
    let least = [level, low]
        .into_iter()
        .flat_map(|v| [section.half_breadth_at(v), far.half_breadth_at(v)])
        .flatten()
        .reduce(f64::min)?;
    section.half_breadth_at(level)?;
    let half_length = least - SPALL_CLEAR_MM;
    (half_length > 0.0).then_some(Spall { level, low, half_length })
}
