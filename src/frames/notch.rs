//! Where a member passes a frame, and the notch that takes it.
//!
//! A stick lies with one face on the inside of its host panel. Its cross-section is a
//! rectangle square to the line that it follows; a frame cuts it at a slant, so in the
//! frame's plane it is a parallelogram. The notch is sawn to that shape on the pattern's
//! face and to the stick's place on the far face, which is what its lean is for.

use super::section::{Across, Section, Skin};
use crate::bend::{BentMember, Lie};
use crate::geom::roots::bracketed;
use crate::geom::{P2, P3, V2, angle_between};
use crate::hull::{HullLine, MemberSide};

/// How far (mm) a notch's cut runs out past the skin, so that nothing of the edge is left.
const RUN_OUT_MM: f64 = 60.0;

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

/// Where member `bent`, which follows `line`, passes a plane; `None` if the line does not reach
/// it.
pub fn passing(bent: &BentMember, line: &HullLine, across: &Across) -> Option<Lie> {
    bent.lie(line, line_at(line, across)?)
}

/// Corners of a stick on a plane that it passes, carried there along it: `from` and `to` along
/// the skin on the face at the depth `skin`, then back on that at `far`; mm from its seat.
pub fn ring(lie: &Lie, across: &Across, [from, to]: [f64; 2], [skin, far]: [f64; 2]) -> [P2; 4] {
    [(from, skin), (to, skin), (to, far), (from, far)].map(|(width, depth)| {
        let p = lie.place(width, depth);
        let slide = across.plane.distance(p) / lie.tangent.dot(&across.plane.normal);
        across.flat(p - slide * lie.tangent)
    })
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
    let mut out = Vec::new();
    for (index, bent) in members.iter().enumerate() {
        let m = &bent.member;
        // A batten has a line of its own between two of the hull's.
        let on = skin.lines.lines.iter().position(|l| m.follows(l.id));
        let line = match (&bent.path, on) {
            (Some(path), _) => path,
            (None, Some(k)) => &skin.lines.lines[k],
            (None, None) => continue,
        };
        if m.side == MemberSide::Outside {
            continue;
        }
        let Some(lie) = passing(bent, line, &across) else {
            continue;
        };
        let corners = ring(&lie, &across, lie.spread, lie.deep);
        // Off the line's end the stick runs on straight, turning as it twists.
        let there = passing(bent, line, &far).unwrap_or(lie);
        let far_corners = ring(&there, &far, lie.spread, lie.deep);
        // Away from the line, up the skin or down it.
        let ([from, to], [skin, deep]) = (lie.spread, lie.deep);
        let way = (to - from).signum();
        let start = from - way * if bent.centred() { clearance } else { RUN_OUT_MM };
        let depth = [skin + RUN_OUT_MM, deep - clearance];
        let cut = ring(&lie, &across, [start, to + way * clearance], depth);
        let skin_in_plane: V2 = across.flat_direction(way * lie.up);
        out.push(Notch {
            member: index,
            name: m.name.clone(),
            corners,
            far_corners,
            cut: anticlockwise(cut.to_vec()),
            turn: skin_in_plane.y.atan2(skin_in_plane.x).rem_euclid(std::f64::consts::PI),
            lean: acute(angle_between(lie.tangent, across.plane.normal)),
            twist: lie.twist,
            let_down: lie.let_down,
            wanted_let_down: lie.wanted_let_down,
            at: lie.point,
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
