//! Where a member passes a frame, and the notch that takes it.
//!
//! A stick lies with one face on the inside of its host panel. Its cross-section is a
//! rectangle square to the line that it follows; a frame cuts it at a slant, so in the
//! frame's plane it is a parallelogram. The notch is sawn to that shape on the pattern's
//! face and to the stick's place on the far face, which is what its lean is for.

use super::section::{Across, Section, Skin};
use crate::bend::BentMember;
use crate::bend::darboux::normal_at;
use crate::geom::roots::bracketed;
use crate::geom::{P2, P3, V2, V3, angle_between, unit};
use crate::hull::{HullLine, MemberSide};

/// How far (mm) a notch's cut runs out past the skin, so that nothing of the edge is left.
const RUN_OUT_MM: f64 = 60.0;

/// A stick as a plane across the boat cuts it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// Where its line passes the plane, mm.
    pub point: P3,
    /// Unit tangent of the line, aft.
    pub tangent: V3,
    /// Unit vector along the skin: athwartships at the keel, away from the line elsewhere.
    pub along_skin: V3,
    /// Unit vector into the boat, square to the skin.
    pub inward: V3,
    /// Twist of the stick, radians per mm.
    pub twist: f64,
}

/// A notch for one member in one frame, in the frame's plane.
#[derive(Debug, Clone, PartialEq)]
pub struct Notch {
    /// Index of the member among the model's members.
    pub member: usize,
    /// The member's name.
    pub name: String,
    /// Corners of the bare stick on the pattern's face, mm: outer then inner face, each
    /// from the line's side on (at the keel from port to starboard): outer first, outer
    /// last, inner last, inner first.
    pub corners: [P2; 4],
    /// The same on the far face.
    pub far_corners: [P2; 4],
    /// What is sawn out on the pattern's face: the stick with its clearance, run out past
    /// the skin.
    pub cut: Vec<P2>,
    /// Turn of the stick's face on the skin from level, radians from 0 to π, in the frame's
    /// plane of the starboard half.
    pub turn: f64,
    /// Angle between the stick and the frame's face normal, radians: the saw's lean.
    pub lean: f64,
    /// Twist of the stick, radians per mm.
    pub twist: f64,
    /// How far the stick is let down past its line so that planing its edge flush with the
    /// other panel only removes wood, mm along the skin.
    pub let_down: f64,
    /// How far it would have to be let down for that, mm; more where the corner opens so far
    /// that too little of the stick would bear on its own panel.
    pub wanted_let_down: f64,
    /// Where the line passes, mm.
    pub at: P3,
}

/// The share of a stick's width that it may be let down past its line: the rest bears on
/// its panel. Common practice, no source.
pub const MOST_LET_DOWN: f64 = 0.6;

/// How far a stick is let down along a line where the corner opens by `open` (a tangent).
pub fn let_down(open: f64, moulded: f64, sided: f64) -> f64 {
    (moulded * open).clamp(0.0, MOST_LET_DOWN * sided)
}

/// Where `line` crosses a plane, as its parameter; `None` if it does not. Of several
/// crossings the first from the bow.
pub fn line_at(line: &HullLine, across: &Across) -> Option<f64> {
    const PIECES: usize = 64;
    let end = line.spline.end();
    let f = |t: f64| across.plane.distance(line.spline.at(t));
    let mut before = (0.0, f(0.0));
    for k in 1..=PIECES {
        let t = end * k as f64 / PIECES as f64;
        let here = (t, f(t));
        if let Some(root) = bracketed(f, before, here, 1e-9) {
            return Some(root.x);
        }
        before = here;
    }
    None
}

impl Pose {
    /// How member `bent` passes the plane; `None` if its line does not reach it.
    pub fn of(bent: &BentMember, line: &HullLine, across: &Across, at_sheer: bool) -> Option<Pose> {
        let t = line_at(line, across)?;
        let jet = line.spline.jet(t);
        let tangent = unit(jet.d1)?;
        let s = line.arc.length_at(&line.spline, t);
        let normals = bent.along.iter().map(|a| (a.at, a.outward)).collect();
        let n = normal_at(&normals, s);
        let n = unit(n - n.dot(&tangent) * tangent)?;
        let twist = bent.along.windows(2).find(|w| w[1].at >= s).map_or(0.0, |w| {
            let share = (s - w[0].at) / (w[1].at - w[0].at).max(1e-9);
            w[0].twist + share * (w[1].twist - w[0].twist)
        });
        // Up the skin from a chine or keel; down it from the sheer.
        let up = n.cross(&tangent) * if n.cross(&tangent).z >= 0.0 { 1.0 } else { -1.0 };
        let keel = line.name == "keel";
        let along_skin = match (keel, at_sheer) {
            (true, _) => V3::y(),
            (_, true) => -up,
            _ => up,
        };
        Some(Pose { point: jet.p, tangent, along_skin, inward: -n, twist })
    }

    /// A corner of the stick, `along` mm from the line along the skin and `deep` mm into
    /// the boat, carried along the stick onto the plane.
    fn corner(&self, across: &Across, along: f64, deep: f64) -> P2 {
        let p = self.point + along * self.along_skin + deep * self.inward;
        let slide = across.plane.distance(p) / self.tangent.dot(&across.plane.normal);
        across.flat(p - slide * self.tangent)
    }

    /// Corners of the stick's section on a plane: from and to along the skin on its outer
    /// face, then back on its inner one.
    pub fn ring(&self, across: &Across, [from, to]: [f64; 2], [outer, inner]: [f64; 2]) -> [P2; 4] {
        [(from, outer), (to, outer), (to, inner), (from, inner)]
            .map(|(a, d)| self.corner(across, a, d))
    }

    /// How far along the skin (mm, negative is past the line) the inner corner of a stick
    /// `moulded` mm deep must start so that it lies on the other panel, whose outward
    /// normal is `other`: m (n·n') / (n'·w), from the corner's place being in that plane.
    pub(super) fn reach_other(&self, other: V3, moulded: f64) -> f64 {
        let across = other.dot(&self.along_skin);
        if across.abs() < 1e-3 { 0.0 } else { -moulded * other.dot(&self.inward) / across }
    }
}

/// Notches of all inside members that pass the frame between the planes `face` and `far`.
pub fn notches(
    skin: &Skin,
    members: &[BentMember],
    face: &Section,
    far: Across,
    clearance: f64,
) -> Vec<Notch> {
    let across = face.across;
    let last = skin.lines.lines.len() - 1;
    let mut out = Vec::new();
    for (index, bent) in members.iter().enumerate() {
        let m = &bent.member;
        // A batten has a line of its own between two of the hull's.
        let on = skin.lines.lines.iter().position(|l| l.name == m.line);
        let line = match (&bent.path, on) {
            (Some(path), _) => path,
            (None, Some(k)) => &skin.lines.lines[k],
            (None, None) => continue,
        };
        if m.side == MemberSide::Outside {
            continue;
        }
        let at_sheer = on == Some(last);
        let Some(pose) = Pose::of(bent, line, &across, at_sheer) else {
            continue;
        };
        // At a chine the panel below may lie open to the stick: it is let down to meet it.
        let between = on.filter(|k| *k > 0 && *k < last);
        let other = between.map(|k| face.edge(k - 1).map(|e| e.last().normal));
        let wanted_let_down =
            other.flatten().map_or(0.0, |n| (-pose.reach_other(n, m.moulded_mm)).max(0.0));
        let let_down = let_down(wanted_let_down / m.moulded_mm, m.moulded_mm, m.sided_mm);
        let (from, to) = if bent.centred() {
            (-0.5 * m.sided_mm, 0.5 * m.sided_mm)
        } else {
            (-let_down, m.sided_mm - let_down)
        };
        let corners = pose.ring(&across, [from, to], [0.0, m.moulded_mm]);
        // Off the line's end the stick runs on straight, turning as it twists.
        let there = Pose::of(bent, line, &far, at_sheer).unwrap_or(pose);
        let far_corners = there.ring(&far, [from, to], [0.0, m.moulded_mm]);
        let start = if bent.centred() { from - clearance } else { from - RUN_OUT_MM };
        let cut =
            pose.ring(&across, [start, to + clearance], [-RUN_OUT_MM, m.moulded_mm + clearance]);
        let skin_in_plane: V2 = across.flat_direction(pose.along_skin);
        out.push(Notch {
            member: index,
            name: m.name.clone(),
            corners,
            far_corners,
            cut: anticlockwise(cut.to_vec()),
            turn: skin_in_plane.y.atan2(skin_in_plane.x).rem_euclid(std::f64::consts::PI),
            lean: acute(angle_between(pose.tangent, across.plane.normal)),
            twist: pose.twist,
            let_down,
            wanted_let_down,
            at: pose.point,
        });
    }
    out
}

fn acute(angle: f64) -> f64 {
    angle.min(std::f64::consts::PI - angle)
}

fn anticlockwise(mut ring: Vec<P2>) -> Vec<P2> {
    if crate::geom::polyline::area(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}
