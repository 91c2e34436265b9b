//! How far the sticks of the hull run, and so how long they are.
//!
//! Inside, logs and clamps end where they land ([`super::end_cut`]), the keelson on the
//! transom's inner face. A stick outside lies on the planking, whose outer face is longer than
//! the line that it follows, and runs on: to the transom's outer face, which it is sawn off flush
//! with; over the side of an outer stem to the plane of its front; where the sides are mitred,
//! to the centreplane, where both rails are mitred as well. Common practice, no source.

use super::{Stem, Transom};
use crate::bend::BentMember;
use crate::geom::plane::Plane;
use crate::geom::{P3, V3};
use crate::hull::{HullLines, MemberSide};
use crate::part::LineId;

/// A stick that meets the plane of its end nearer to it than by this (the sine of 10°) is taken
/// for one that meets it so: none runs on without end. Our judgement, no source.
const LEAST_SQUARE: f64 = 0.17;

/// How far a stick runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// From the bow end of its line forward, mm: less than nothing where it ends short of it.
    pub past_bow: f64,
    /// From the stern end of its line aft, mm.
    pub past_stern: f64,
    /// Its length along its longest edge, mm, as it lies and square at both ends: a stick as
    /// long as this reaches both ends with every corner.
    pub length: f64,
}

/// What sticks end on.
#[derive(Debug, Clone, Copy)]
pub struct EndsOf<'a> {
    /// The lines, with the transoms' planes.
    pub lines: &'a HullLines,
    /// The stem, or a sharp stern's post, at bow and stern.
    pub posts: [Option<&'a Stem>; 2],
    /// Transoms at bow and stern.
    pub transoms: [Option<&'a Transom>; 2],
    /// Thickness of a transom, mm.
    pub transom_thickness: f64,
    /// Depth of an outer stem, mm.
    pub outer_moulded: f64,
}

impl EndsOf<'_> {
    /// How far the stick `bent` runs, the `index`th of the members.
    pub fn run(&self, index: usize, bent: &BentMember) -> Run {
        let line = Run { past_bow: 0.0, past_stern: 0.0, length: bent.length };
        // A batten ends where its own line does.
        if bent.path.is_some() {
            return line;
        }
        let (past, along) = match bent.member.side {
            MemberSide::Inside => ([0, 1].map(|end| self.inside(index, bent, end)), bent.length),
            MemberSide::Outside => {
                let longest = bent.edges().into_iter().fold(0.0, f64::max);
                ([0, 1].map(|end| self.outside(bent, end)), longest)
            }
        };
        // A stick that ends short by half of its line is cut by nothing that is known.
        let [past_bow, past_stern] = past.map(|p| p.max(-0.5 * bent.length));
        Run { past_bow, past_stern, length: along + past_bow + past_stern }
    }

    fn inside(&self, index: usize, bent: &BentMember, end: usize) -> f64 {
        let cuts = [self.posts[end].map(|p| &p.ends), self.transoms[end].map(|t| &t.ends)];
        let lands = cuts.into_iter().flatten().flatten().find(|c| c.member == index);
        if let Some(cut) = lands {
            return -cut.short;
        }
        let board = self.transom_plane(end).filter(|_| bent.member.follows(LineId::Keel));
        let face = board.map(|p| Plane { offset: p.offset - self.transom_thickness, ..p });
        face.map_or(0.0, |face| reach(bent, end, face))
    }

    fn outside(&self, bent: &BentMember, end: usize) -> f64 {
        let plane = self.transom_plane(end).or_else(|| self.before_post(bent, end));
        plane.map_or(0.0, |plane| reach(bent, end, plane))
    }

    /// The plane of a transom's outer face.
    fn transom_plane(&self, end: usize) -> Option<Plane> {
        [self.lines.bow_transom, self.lines.transom][end]
    }

    /// The plane that a stick outside runs to at a stem.
    fn before_post(&self, bent: &BentMember, end: usize) -> Option<Plane> {
        let post = self.posts[end]?;
        let a = if end == 0 { bent.along.first()? } else { bent.along.last()? };
        match &post.outer {
            Some(outer) => outer.front(a.point, self.outer_moulded, post.at_stern),
            None if bent.centred() => None,
            None => Some(Plane { normal: -V3::y(), offset: 0.0 }),
        }
    }
}

/// How far past the end of its line the furthest corner of a stick meets a plane, mm along the
/// stick as it leaves its line.
fn reach(bent: &BentMember, end: usize, plane: Plane) -> f64 {
    let (Some(corners), Some(a)) = (
        bent.end_corners().map(|c| c[end]),
        if end == 0 { bent.along.first() } else { bent.along.last() },
    ) else {
        return 0.0;
    };
    let off = if end == 0 { -a.tangent } else { a.tangent };
    let normal = if plane.normal.dot(&off) < 0.0 { -plane.normal } else { plane.normal };
    let square = normal.dot(&off).max(LEAST_SQUARE);
    let to = |p: &P3| normal.dot(&(P3::from(plane.offset * plane.normal) - p)) / square;
    corners.iter().map(to).fold(f64::NEG_INFINITY, f64::max)
}
