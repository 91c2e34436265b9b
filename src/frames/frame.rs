//! One frame: its larger face on the station, bevels, notches, limbers, pieces, gussets and
//! the cross-spall that holds it while setting up.

use super::bevel::{BevelAt, bevels};
use super::fasten;
use super::gusset::{Corner, Gusset, gussets};
use super::notch::{Notch, notches};
use super::pieces::{Cuts, Piece, Timber, envelope, mitre, to_port};
use super::section::{Across, Section, Shaping, Skin};
use crate::bend::BentMember;
use crate::geom::region::Region;
use crate::geom::{P2, V2};
use crate::hull::{Edges, Face, Framing, Joint};

/// Corners on the rim of a limber: a bored hole to a tenth of a millimetre.
const LIMBER_CORNERS: usize = 32;
/// Limbers are bored where the bottom beside the keelson is at least this many radii wide.
const LEAST_RADII: f64 = 4.0;
/// A bottom that rises less than this (radians) from the keelson lets water stand at the
/// chines too.
const STANDING_WATER: f64 = 3.0 * std::f64::consts::PI / 180.0;
/// A spall ends this far (mm) inside the skin, clear of the bevel.
const SPALL_CLEAR_MM: f64 = 8.0;
/// A hole bored at a frame's edge to let water pass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limber {
    /// Where the bit is set, on the pattern's face, mm.
    pub centre: P2,
    /// mm.
    pub radius: f64,
}

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
    /// Length of glue groove in its edges, both sides, mm.
    pub groove_length: f64,
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
        let face = framing
            .choice(station)
            .and_then(|c| c.face)
            .unwrap_or_else(|| larger_face(&beyond(Face::Aft), &beyond(Face::Fore)));
        let far = beyond(face);
        let straight = |i: usize| framing.edge_of(station, skin.panels[i].name) == Edges::Straight;
        let edges = Shaping::of(skin.panels.len(), straight);
        let d = -face.sign() * crate::geom::V3::x();
        let bevels = bevels(&section, &far, d, t);
        let notches = notches(skin, members, &section, far.across, framing.notch_clearance_mm);
        let limbers = limbers(skin, members, &section, &notches, framing);
        let cut = cut_away(&notches, &limbers);
        let shape = envelope(&section, &far, edges);
        let groove_depth = framing.glue_groove.map_or(0.0, |g| g.depth_mm);
        let keep_clear =
            fasten::keep_clear(&shape, &section, &notches, &limbers, &bevels, groove_depth);
        let builder = Builder {
            stock,
            section: &section,
            far: &far,
            face,
            edges,
            shape: &shape,
            cut: &cut,
            clear: &keep_clear,
        };
        let pieces = builder.pieces(&notches);
        let gussets = builder.gussets(&pieces);
        let lap_fastenings = builder.laps(&pieces);
        let planking_at = fasten::planking(&section, &notches);
        let spall = spall(&section, &far, framing, level);
        let groove_length = match framing.glue_groove {
            Some(_) => groove_length(&section, &notches),
            None => 0.0,
        };
        Some(Frame {
            station,
            x,
            face,
            edges,
            crowns: section.edges.iter().map(|e| (e.panel, e.crown())).collect(),
            bevels,
            notches,
            limbers,
            pieces,
            gussets,
            lap_fastenings,
            spall,
            keep_clear,
            planking_at,
            groove_length,
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

/// The face to stand on the station, so that the frame's thickness lies towards the smaller
/// of the sections `ahead` and `abaft` of it: a frame whose pattern's face looks aft lies
/// ahead of its station.
fn larger_face(ahead: &Section, abaft: &Section) -> Face {
    if ahead.half_area() <= abaft.half_area() { Face::Aft } else { Face::Fore }
}

/// Everything sawn or bored out of the starboard half (the keelson's notch whole).
fn cut_away(notches: &[Notch], limbers: &[Limber]) -> Region {
    let holes = limbers.iter().map(|l| Region::disc(l.centre, l.radius, LIMBER_CORNERS));
    notches
        .iter()
        .map(|n| Region::of(&n.cut))
        .chain(holes)
        .fold(Region::default(), |all, r| if all.is_empty() { r } else { all.or(&r) })
}

/// Limbers beside the keelson's notch, and beside the lowest chine's on a bottom where
/// water stands.
fn limbers(
    skin: &Skin,
    members: &[BentMember],
    section: &Section,
    notches: &[Notch],
    framing: &Framing,
) -> Vec<Limber> {
    let radius = framing.limber_mm;
    let Some(bottom) = section.edges.first().filter(|e| e.panel == 0) else {
        return Vec::new();
    };
    if radius <= 0.0 || bottom.first().at.x.abs() > 1.0 {
        return Vec::new();
    }
    let on_bottom = |y: f64| {
        bottom
            .points
            .windows(2)
            .find(|w| w[0].at.x <= y && y <= w[1].at.x && w[0].at.x < w[1].at.x)
            .map(|w| {
                let t = (y - w[0].at.x) / (w[1].at.x - w[0].at.x);
                w[0].at + t * (w[1].at - w[0].at)
            })
    };
    let line_of = |n: &Notch| members[n.member].member.line.as_str();
    let keelson_side = notches
        .iter()
        .filter(|n| line_of(n) == "keel")
        .flat_map(|n| n.cut.iter().map(|p| p.x))
        .fold(0.0, f64::max);
    // In the narrow bow there is no wood to bore: what water there is runs over the keelson.
    if bottom.last().at.x < keelson_side + LEAST_RADII * radius {
        return Vec::new();
    }
    let mut out = Vec::new();
    match notches.iter().find(|n| line_of(n) == "keel") {
        Some(_) => {
            out.extend(on_bottom(keelson_side).map(|centre| Limber { centre, radius }));
        }
        None => out.push(Limber { centre: bottom.first().at, radius }),
    }
    let rise = bottom.last().at - bottom.first().at;
    let first_chine = skin.lines.lines.get(1).map_or("", |l| l.name.as_str());
    if rise.y.atan2(rise.x) < STANDING_WATER
        && let Some(log) = notches.iter().find(|n| line_of(n) == first_chine)
    {
        let inner = log.corners[3].x.min(log.corners[2].x) - framing.notch_clearance_mm;
        out.extend(on_bottom(inner).map(|centre| Limber { centre, radius }));
    }
    out
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

/// Length of both sides' edges less what the notches take, mm.
fn groove_length(section: &Section, notches: &[Notch]) -> f64 {
    let edges: f64 = section
        .edges
        .iter()
        .map(|e| e.points.windows(2).map(|w| (w[1].at - w[0].at).norm()).sum::<f64>())
        .sum();
    let taken: f64 = notches.iter().map(|n| (n.corners[1] - n.corners[0]).norm()).sum();
    2.0 * (edges - taken).max(0.0)
}

struct Builder<'a> {
    stock: FrameStock<'a>,
    section: &'a Section,
    far: &'a Section,
    face: Face,
    edges: Shaping,
    shape: &'a Region,
    cut: &'a Region,
    clear: &'a [Vec<P2>],
}

impl Builder<'_> {
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

    fn pieces(&self, notches: &[Notch]) -> Vec<Piece> {
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
                    let cost = |p: &Piece| (!p.wide_enough, p.board_area());
                    if cost(&a) <= cost(&h) { a } else { h }
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
    fn laps(&self, pieces: &[Piece]) -> Vec<P2> {
        pieces
            .windows(2)
            .filter(|w| w[0].face_at != w[1].face_at)
            .flat_map(|w| fasten::joint(&w[1], &Region::of(&w[0].outline), self.clear))
            .filter(|p| p.x >= 0.0)
            .collect()
    }

    fn gussets(&self, pieces: &[Piece]) -> Vec<Gusset> {
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
