//! A transom in its true plane: outline, bevels, framing inside its edges, the cut-out for
//! the motor and the pad that its clamps hold.

use super::bevel::{BevelAt, bevels};
use super::end_cut::EndCut;
use super::notch::{Notch, notches};
use super::pieces::{Cuts, Piece, Timber, envelope, envelope_whole, mitre};
use super::section::{Across, Section, SectionEdge, SectionPoint, Shaping, Skin};
use crate::bend::BentMember;
use crate::geom::plane::Plane;
use crate::geom::region::Region;
use crate::geom::{P2, V2};
use crate::hull::{Motor, TransomPlan};

/// Radius of the cut-out's lower corners, mm: no crack starts in a round one.
const CORNER_MM: f64 = 30.0;
/// Straight pieces of a rounded corner.
const CORNER_PIECES: usize = 8;
/// Wood left on either side of the cut-out, mm. Common practice, no source.
pub const BESIDE_CUT_OUT_MM: f64 = 60.0;
/// The pad is made longer than asked by at most this (mm) to reach the framing. Our
/// judgement.
const MOST_LONGER_MM: f64 = 300.0;
/// A transom lower than the motor wants by less than this (mm) is trimmed at the pad.
const SHORT_BY_MM: f64 = 3.0;

/// The cut-out for the motor and what it stands on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutOut {
    /// Height of the clamps' seat up the transom, mm.
    pub seat: f64,
    /// Height of the bottom's outside at the keel, up the transom, mm.
    pub bottom: f64,
    /// Depth below the transom's top at the centre, mm; negative where the transom is too
    /// low and must be built up by as much.
    pub depth: f64,
    /// Its width, mm.
    pub width: f64,
    /// Thickness to add inside so that the clamps hold what they want, mm.
    pub pad_thickness: f64,
    /// Depth of the pad below the seat, mm: down to the framing on the bottom.
    pub pad_depth: f64,
    /// Rise of its lower edge for each mm out from the centreplane, along the cleat.
    pub pad_slope: f64,
    /// What it lacks to the framing, mm; 0 where it stands on it.
    pub pad_short: f64,
    /// Whether there is wood enough beside it.
    pub room: bool,
}

impl CutOut {
    /// Lets the pad reach down to the bottom's cleat, whose inner edge it meets in the
    /// centreplane. A pad of no thickness has nothing to reach with.
    fn stand_on(&mut self, cleat: Option<&Piece>) {
        let edge = cleat.filter(|p| p.along.x.abs() > 1e-3 && self.pad_thickness > 0.0);
        let Some(height) = edge.map(|p| p.inner.y - p.inner.x * p.along.y / p.along.x) else {
            return;
        };
        let to_framing = self.seat - height;
        if to_framing > self.pad_depth {
            self.pad_depth = to_framing.min(self.pad_depth + MOST_LONGER_MM);
            self.pad_short = to_framing - self.pad_depth;
        }
        if self.pad_short <= 0.0 {
            self.pad_slope = edge.map_or(0.0, |p| (p.along.y / p.along.x).max(0.0));
        }
    }

    /// The pad's outline, `width` mm wide, in the transom's plane.
    pub fn pad(&self, width: f64) -> [P2; 5] {
        let (x, low) = (0.5 * width, self.seat - self.pad_depth);
        let side = (low + self.pad_slope * x).min(self.seat);
        [
            P2::new(-x, self.seat),
            P2::new(-x, side),
            P2::new(0.0, low),
            P2::new(x, side),
            P2::new(x, self.seat),
        ]
    }

    /// Radius of its lower corners, mm.
    pub fn corner_radius(&self) -> f64 {
        CORNER_MM.min(self.depth).min(0.4 * self.width)
    }
}

/// A transom lower than this (mm) is none: the lines come together there.
const LEAST_HEIGHT_MM: f64 = 10.0;

/// A transom.
#[derive(Debug, Clone, PartialEq)]
pub struct Transom {
    /// At the bow of a pram.
    pub at_bow: bool,
    /// Its outer face.
    pub across: Across,
    /// Rake: angle from upright, radians, positive where its top leans away from the boat.
    pub rake: f64,
    /// Whether the pattern is its outer face; otherwise the inner one is the larger along the
    /// planked edges.
    pub outside_larger: bool,
    /// The section on the pattern's face.
    pub section: Section,
    /// The section on the other face.
    pub far: Section,
    /// Bevels along its edges.
    pub bevels: Vec<BevelAt>,
    /// How far the skin stands out from straight edges: (panel, mm).
    pub crowns: Vec<(usize, f64)>,
    /// The cut outline, both sides, mm, the motor's cut-out taken out.
    pub outline: Vec<P2>,
    /// Height of its top at the centre, mm up its plane.
    pub top: f64,
    /// Cleats inside its edges, starboard or whole, notched for the members that land.
    pub framing: Vec<Piece>,
    /// Bevels of the cleats' edges, over their own thickness.
    pub framing_bevels: Vec<BevelAt>,
    /// The section on the cleats' far face.
    pub framing_far: Section,
    /// Where members pass the cleats and land on the inner face.
    pub landings: Vec<Notch>,
    /// How the ends of logs and clamps are cut to land there, starboard.
    pub ends: Vec<EndCut>,
    /// The motor's cut-out.
    pub cut_out: Option<CutOut>,
}

/// What a transom is made from.
#[derive(Debug, Clone, Copy)]
pub struct TransomStock<'a> {
    /// The skin.
    pub skin: &'a Skin<'a>,
    /// Members that end on it.
    pub members: &'a [BentMember],
    /// The builder's choices.
    pub plan: &'a TransomPlan,
    /// The motor; `None` at the bow.
    pub motor: Option<&'a Motor>,
    /// Measured board widths, mm.
    pub widths: &'a [f64],
    /// Room left around a member in its notch, mm.
    pub clearance: f64,
}

impl Transom {
    /// The transom in `plane`, whose normal points out of the boat.
    pub fn of(stock: TransomStock, plane: Plane, at_bow: bool) -> Option<Transom> {
        let TransomStock { skin, members, plan, motor, .. } = stock;
        let across = Across::transom(plane);
        let outer = end_section(skin, across, at_bow);
        let inner = skin.section(across.moved(-plan.thickness_mm));
        let height = super::pieces::extent(&outer.half(), V2::y());
        if outer.edges.is_empty() || inner.edges.is_empty() || height < LEAST_HEIGHT_MM {
            return None;
        }
        let outside_larger = larger_at_the_edges(&outer, &inner, plane, plan.thickness_mm);
        let (section, far) =
            if outside_larger { (outer.clone(), inner.clone()) } else { (inner.clone(), outer) };
        let d = if outside_larger { -plane.normal } else { plane.normal };
        // The clamps hang on the outer face; the top is that of the higher head.
        let head_of = |s: &Section| s.half().last().map_or(0.0, |p| p.y);
        let head = head_of(&section).max(head_of(&far));
        let top = head + plan.crown_mm;
        let outer_face = if outside_larger { &section } else { &far };
        let whole = envelope_whole(&section, &far, Shaping::SHAPED);
        let whole = if plan.crown_mm > 0.0 {
            let y = section.half().last().map_or(0.0, |p| p.x);
            whole.or(&Region::of(&crown(y, head, plan.crown_mm)))
        } else {
            whole
        };
        let mut cut_out = motor
            .filter(|m| m.fitted)
            .and_then(|m| cut_out(skin, outer_face, across, top, plan, m));
        let away = cut_out.filter(|c| c.depth > 0.0).map(|c| opening(&c, top));
        let outline = away.as_ref().map_or(whole.clone(), |a| whole.minus(a)).largest();
        let back = skin.section(across.moved(-plan.thickness_mm - plan.framing_thickness_mm));
        let landings = notches(skin, members, &inner, back.across, stock.clearance);
        let framing = framing(stock, &inner, &back, away.as_ref(), &landings);
        if let Some(c) = &mut cut_out {
            c.stand_on(framing.first());
        }
        let framing_bevels = bevels(&inner, &back, -plane.normal, plan.framing_thickness_mm);
        Some(Transom {
            at_bow,
            across,
            rake: rake(plane),
            outside_larger,
            bevels: bevels(&section, &far, d, plan.thickness_mm),
            crowns: section.edges.iter().map(|e| (e.panel, e.crown())).collect(),
            outline,
            top,
            framing,
            framing_bevels,
            framing_far: back,
            ends: super::end_cut::on_transom(skin, members, &inner.across, at_bow),
            landings,
            cut_out,
            section,
            far,
        })
    }

    /// Width of the largest face, mm.
    pub fn width(&self) -> f64 {
        2.0 * self.outline.iter().map(|p| p.x).fold(0.0, f64::max)
    }

    /// From the lowest to the highest point up its plane, mm.
    pub fn height(&self) -> f64 {
        super::pieces::extent(&self.outline, V2::y())
    }
}

/// Whether the outer face is the larger along the planked edges, which is where bevels are:
/// by areas a raked one may seem so for its head alone.
fn larger_at_the_edges(outer: &Section, inner: &Section, plane: Plane, thickness: f64) -> bool {
    let all = bevels(outer, inner, -plane.normal, thickness);
    // Bevels stand evenly along each edge: weigh them by the length that each stands for.
    let weighed = |w: &[BevelAt]| 0.5 * (w[0].offset + w[1].offset) * (w[1].at - w[0].at).norm();
    all.windows(2).filter(|w| w[0].panel == w[1].panel).map(weighed).sum::<f64>() >= 0.0
}

/// The angle from upright, positive where the top leans outward.
fn rake(plane: Plane) -> f64 {
    (-plane.normal.z).atan2(plane.normal.x.abs())
}

/// The skin's own edge at its end, laid into the transom's plane.
fn end_section(skin: &Skin, across: Across, at_bow: bool) -> Section {
    let edges = skin
        .panels
        .iter()
        .enumerate()
        .filter_map(|(panel, p)| {
            let mut points: Vec<SectionPoint> = p
                .surface
                .end_edge(!at_bow)
                .into_iter()
                .map(|(p, normal)| SectionPoint { at: across.flat(p), normal })
                .collect();
            points.dedup_by(|a, b| (a.at - b.at).norm() < 1e-3);
            (points.len() >= 2).then_some(SectionEdge { panel, points })
        })
        .collect();
    Section { across, edges }
}

/// The segment of a circle over the head, `rise` mm at the centre, reaching down a little.
fn crown(y: f64, head: f64, rise: f64) -> Vec<P2> {
    const PIECES: usize = 48;
    let radius = (y * y + rise * rise) / (2.0 * rise);
    let mut ring: Vec<P2> = (0..=PIECES)
        .map(|i| {
            let x = y - 2.0 * y * i as f64 / PIECES as f64;
            P2::new(x, head + rise - radius + (radius * radius - x * x).max(0.0).sqrt())
        })
        .collect();
    ring.extend([P2::new(-y, head - 1.0), P2::new(y, head - 1.0)]);
    ring
}

/// The seat for a motor whose plate is to lie `plate_above_mm` above the bottom's outside:
/// its leg hangs parallel to the transom.
fn cut_out(
    skin: &Skin,
    section: &Section,
    across: Across,
    top: f64,
    plan: &TransomPlan,
    motor: &Motor,
) -> Option<CutOut> {
    let keel = section.edges.first()?.first();
    let outward = keel.normal;
    let keel_v = keel.at.y;
    // The bottom's outer face lies its thickness out along the normal; up the transom that
    // is t over the normal's part along it.
    let falls = -across.up.dot(&outward);
    let t = skin.panels[section.edges[0].panel].thickness;
    let bottom = keel_v - if falls > 0.1 { t / falls } else { t };
    let seat = bottom + motor.plate_above_mm + motor.shaft.length();
    let mut depth = top - seat;
    if depth.abs() < SHORT_BY_MM {
        depth = 0.0;
    }
    let beside = section.half_breadth_at(seat.min(section.half().last()?.y - 1.0));
    let room = beside.is_some_and(|y| y >= 0.5 * motor.cut_out_mm + BESIDE_CUT_OUT_MM);
    Some(CutOut {
        seat,
        bottom,
        depth,
        width: motor.cut_out_mm,
        pad_thickness: (motor.clamped_mm - plan.thickness_mm).max(0.0),
        pad_depth: motor.pad_depth_mm,
        pad_slope: 0.0,
        pad_short: 0.0,
        room,
    })
}

/// What the cut-out takes away: straight sides, a level seat, round lower corners.
fn opening(c: &CutOut, top: f64) -> Region {
    let r = c.corner_radius();
    let half = 0.5 * c.width;
    let high = top + 50.0;
    let mut right: Vec<P2> = (0..=CORNER_PIECES)
        .map(|i| {
            let a = std::f64::consts::FRAC_PI_2 * (i as f64 / CORNER_PIECES as f64 - 1.0);
            P2::new(half - r + r * a.cos(), c.seat + r + r * a.sin())
        })
        .collect();
    right.push(P2::new(half, high));
    let mut ring = right.clone();
    ring.extend(right.iter().rev().map(|p| P2::new(-p.x, p.y)));
    Region::of(&ring)
}

/// Boards along the inside of its edges, notched for the members.
fn framing(
    stock: TransomStock,
    inner: &Section,
    back: &Section,
    away: Option<&Region>,
    landings: &[Notch],
) -> Vec<Piece> {
    let TransomStock { skin, plan, widths, .. } = stock;
    if back.edges.len() != inner.edges.len() {
        return Vec::new();
    }
    let notched = landings.iter().fold(Region::default(), |all, n| all.or(&Region::of(&n.cut)));
    let notched = notched.or(&super::gusset::mirrored(&notched));
    let shape = envelope(inner, back, Shaping::SHAPED);
    let timber = Timber {
        face: inner,
        far: back,
        envelope: &shape,
        edges: Shaping::SHAPED,
        widths,
        face_at: -plan.thickness_mm,
    };
    let count = inner.edges.len();
    let mut out = Vec::new();
    for i in 0..count {
        let name = skin.panels[inner.edges[i].panel].name;
        let cuts = Cuts {
            lower: (i > 0).then(|| mitre(inner, i - 1)).flatten(),
            upper: (i + 1 < count).then(|| mitre(inner, i).map(|(at, side)| (at, -side))).flatten(),
        };
        // Fitted between its neighbours' boards: exact width is the builder's to choose.
        let piece = if i == 0 && skin.lines.flat_bottom {
            timber.across(name, plan.framing_width_mm, cuts.upper)
        } else {
            timber.along_edge(i, name, plan.framing_width_mm, cuts)
        };
        if let Some(mut p) = piece {
            let mut region = Region::of(&p.outline).minus(&notched);
            if let Some(away) = away {
                region = region.minus(away);
            }
            p.outline = region.largest();
            p.name = format!("{name} cleat");
            // What members and the motor leave of it may be nothing.
            if p.outline.len() >= 3 {
                out.push(p);
            }
        }
    }
    out
}
