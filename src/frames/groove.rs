//! Glue grooves: shallow ploughed channels in a board's face where another is glued to it,
//! so that clamps and screws leave glue in the joint.
//!
//! They run along the board, inside what is glued, and stop short of every edge: no bevel,
//! notch or limber opens one, and no water finds its way in.

use super::fasten::EDGE_MM;
use super::gusset::Gusset;
use super::pieces::{Piece, half_plane};
use crate::geom::region::Region;
use crate::geom::{P2, V2};
use crate::hull::GlueGroove;

/// Distance between two grooves' middles in one joint, mm. Common practice, no source.
const PITCH_MM: f64 = 22.0;
/// A groove shorter than this (mm) is not worth setting up for.
const SHORTEST_MM: f64 = 15.0;

/// One groove, the starboard one of a pair.
#[derive(Debug, Clone, PartialEq)]
pub struct Groove {
    /// Panel of the piece that it is ploughed into.
    pub panel: usize,
    /// In the pattern's face of that piece or in its far one.
    pub on_face: bool,
    /// Its outline in the frame's plane, mm.
    pub outline: Vec<P2>,
    /// mm.
    pub length: f64,
}

/// Grooves in all joints of a frame: under its gussets and between lapped pieces.
pub(super) fn grooves(pieces: &[Piece], gussets: &[Gusset], groove: GlueGroove) -> Vec<Groove> {
    let mut out = Vec::new();
    for g in gussets {
        let plate = Region::of(&g.outline);
        for p in pieces {
            out.extend(in_joint(p, &plate, g.on_face, groove.width_mm));
        }
    }
    for w in pieces.windows(2) {
        // Of two lapped pieces the one in the first layer is ploughed, on its far face.
        let (first, second) =
            if w[0].face_at < w[1].face_at { (&w[0], &w[1]) } else { (&w[1], &w[0]) };
        if first.face_at != second.face_at {
            out.extend(in_joint(first, &Region::of(&second.outline), false, groove.width_mm));
        }
    }
    out
}

fn in_joint(piece: &Piece, plate: &Region, on_face: bool, width: f64) -> Vec<Groove> {
    let glued = Region::of(&piece.outline).and(plate).and(&half_plane(P2::origin(), V2::x()));
    let room = glued.grown(-EDGE_MM);
    let along = piece.along;
    let across = V2::new(-along.y, along.x);
    let extent = |ring: &[P2], axis: V2| {
        ring.iter()
            .map(|p| p.coords.dot(&axis))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)))
    };
    let mut out = Vec::new();
    for ring in room.rings() {
        let (low, high) = extent(&ring, across);
        let middles = ((high - low - width) / PITCH_MM).floor();
        if middles < 0.0 {
            continue;
        }
        let (from, to) = extent(&ring, along);
        let start = 0.5 * (low + high) - 0.5 * middles * PITCH_MM;
        for k in 0..=middles as usize {
            let at = start + k as f64 * PITCH_MM;
            let corner = |a: f64, b: f64| P2::from(a * along + b * across);
            let (b, t) = (at - 0.5 * width, at + 0.5 * width);
            let band =
                Region::of(&[corner(from, b), corner(to, b), corner(to, t), corner(from, t)]);
            for channel in Region::of(&ring).and(&band).rings() {
                // Straight across at both ends: as long as its shorter side.
                let side = |v: f64| {
                    let on = channel.iter().filter(|p| (p.coords.dot(&across) - v).abs() < 0.01);
                    extent(&on.copied().collect::<Vec<_>>(), along)
                };
                let ((a0, a1), (b0, b1)) = (side(b), side(t));
                let (start, end) = (a0.max(b0), a1.min(b1));
                if end - start >= SHORTEST_MM {
                    out.push(Groove {
                        panel: piece.panel,
                        on_face,
                        outline: vec![
                            corner(start, b),
                            corner(end, b),
                            corner(end, t),
                            corner(start, t),
                        ],
                        length: end - start,
                    });
                }
            }
        }
    }
    out
}
