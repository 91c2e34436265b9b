//! Where a frame is fastened, and where no fastening may go because wood will be cut away
//! there.

use super::notch::Notch;
use super::pieces::Piece;
use super::section::Section;
use super::{BevelAt, Limber};
use crate::geom::region::Region;
use crate::geom::ring::{from_ring, inside};
use crate::geom::{P2, V2};

/// Kept clear of a notch or a limber, mm: half a screw's head and a saw's wander.
const CLEAR_OF_CUT_MM: f64 = 8.0;
/// Kept clear of what a bevel planes away, mm.
const CLEAR_OF_BEVEL_MM: f64 = 6.0;
/// Kept clear of a joint's own edges, mm. Common practice, no source.
pub(super) const EDGE_MM: f64 = 13.0;
/// Screws driven from the two faces of a board are this far apart, mm: three diameters of a
/// no. 8 of 4.2 mm, as from an edge. Common practice, no source.
pub const APART_MM: f64 = 12.6;
/// A screw is set as finely as this, mm. Our judgement, no source.
const SET_MM: f64 = 3.0;
/// Spacing of fastenings in a joint, mm. Common practice, no source.
const JOINT_PITCH_MM: f64 = 40.0;
/// Spacing of the planking's fastenings along a frame, mm: 3 in, the middle of
/// the 2 to 4 in of common practice (no source).
pub const PLANK_PITCH_MM: f64 = 76.0;

/// What will be cut away of the starboard half `half`: notches, limbers and bevels with room
/// around them.
pub fn keep_clear(
    half: &Region,
    face: &Section,
    notches: &[Notch],
    limbers: &[Limber],
    bevels: &[BevelAt],
) -> Vec<Vec<P2>> {
    let mut out = clear_of_notches(notches);
    out.extend(limbers.iter().map(|l| l.hole(CLEAR_OF_CUT_MM).largest()));
    for edge in &face.edges {
        let Some(inward) = super::pieces::inward(edge) else {
            continue;
        };
        let most = bevels
            .iter()
            .filter(|b| b.panel == edge.panel)
            .map(|b| b.offset.abs())
            .fold(0.0, f64::max);
        let width = most + CLEAR_OF_BEVEL_MM;
        let mut ring: Vec<P2> = edge.points.iter().map(|p| p.at).collect();
        ring.extend(edge.points.iter().rev().map(|p| p.at + width * inward));
        out.push(ring);
    }
    // Only what lies in the frame.
    out.iter().map(|r| Region::of(r).and(half).largest()).filter(|r| r.len() >= 3).collect()
}

/// Notches with the room around them that fastenings leave.
pub(super) fn clear_of_notches(notches: &[Notch]) -> Vec<Vec<P2>> {
    notches.iter().map(|n| Region::of(&n.cut).grown(CLEAR_OF_CUT_MM).largest()).collect()
}

/// Where a joint may be fastened: the overlap of a board and what lies on it, clear of the
/// joint's edges and of what is cut away.
#[derive(Debug)]
struct Room<'a> {
    ring: Vec<P2>,
    clear: &'a [Vec<P2>],
    /// Along the board and across it.
    axes: [V2; 2],
    /// From where to where along each, the edges' distance kept.
    spans: [(f64, f64); 2],
}

impl<'a> Room<'a> {
    fn of(piece: &Piece, plate: &Region, clear: &'a [Vec<P2>]) -> Option<Room<'a>> {
        let ring = Region::of(&piece.outline).and(plate).largest();
        if ring.len() < 3 {
            return None;
        }
        let axes = [piece.along, V2::new(-piece.along.y, piece.along.x)];
        let span = |axis: V2| {
            let (low, high) = ring
                .iter()
                .map(|p| p.coords.dot(&axis))
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)));
            (low + EDGE_MM, high - EDGE_MM)
        };
        let spans = axes.map(span);
        Some(Room { ring, clear, axes, spans })
    }

    fn free(&self, p: P2) -> bool {
        // What is cut away on port is the mirror image of starboard.
        let q = P2::new(p.x.abs(), p.y);
        inside(&self.ring, p)
            && from_ring(p, &self.ring) > EDGE_MM - 1e-3
            && !self.clear.iter().any(|r| inside(r, q))
    }

    /// Every free place of a grid.
    fn grid(&self, along: &[f64], across: &[f64]) -> Vec<P2> {
        along
            .iter()
            .flat_map(|a| across.iter().map(move |b| (*a, *b)))
            .map(|(a, b)| P2::from(a * self.axes[0] + b * self.axes[1]))
            .filter(|p| self.free(*p))
            .collect()
    }

    /// Places on a grid with a place at each end.
    fn even(&self) -> Vec<P2> {
        let [(a0, a1), (b0, b1)] = self.spans;
        let found = self.grid(&even(a0, a1), &even(b0, b1));
        // Where the cut-away edge leaves one row only, that row lies further in.
        if found.is_empty() { self.grid(&even(a0, a1), &[b1]) } else { found }
    }

    /// Places half a spacing on from those of [`Room::even`], along the board, across it or both
    /// ways: the most that keep clear of `others`.
    fn between(&self, others: &[P2]) -> Vec<P2> {
        let [(a0, a1), (b0, b1)] = self.spans;
        let (along, across) = (even(a0, a1), even(b0, b1));
        let (mid_along, mid_across) = (middles(&along), middles(&across));
        let ways = [(&mid_along, &across), (&along, &mid_across), (&mid_along, &mid_across)];
        let apart = |p: &P2| others.iter().all(|o| (p - o).norm() >= APART_MM);
        let kept = ways.map(|(a, b)| self.grid(a, b).into_iter().filter(apart).collect::<Vec<_>>());
        kept.into_iter()
            .reduce(|best, w| if w.len() > best.len() { w } else { best })
            .unwrap_or_default()
    }

    /// Every free place, as finely as a screw is set.
    fn everywhere(&self) -> Vec<P2> {
        let steps = |(low, high): (f64, f64)| {
            let n = ((high - low) / SET_MM).ceil().max(0.0) as usize;
            (0..=n).map(|i| (low + i as f64 * SET_MM).min(high.max(low))).collect::<Vec<_>>()
        };
        self.grid(&steps(self.spans[0]), &steps(self.spans[1]))
    }
}

/// Places to fasten a joint: a grid in the overlap of `piece` and `plate`, clear of the
/// joint's edges and of what is cut away.
pub fn joint(piece: &Piece, plate: &Region, clear: &[Vec<P2>]) -> Vec<P2> {
    Room::of(piece, plate, clear).map_or_else(Vec::new, |room| room.even())
}

/// Places to fasten a plate on either face of `piece`, as [`joint`], so that no two screws meet
/// in the board: those of the second face stand between those of the first. Where there is room
/// for no such, the places of the first are shared out; where there is but one, the two that lie
/// furthest apart are taken.
pub fn both_faces(piece: &Piece, plates: [&Region; 2], clear: [&[Vec<P2>]; 2]) -> [Vec<P2>; 2] {
    let rooms = [0, 1].map(|i| Room::of(piece, plates[i], clear[i]));
    let [Some(near), Some(far)] = &rooms else {
        return rooms.map(|r| r.map_or_else(Vec::new, |r| r.even()));
    };
    let first = near.even();
    let second = far.between(&first);
    if !second.is_empty() {
        return [first, second];
    }
    let ours: Vec<P2> = first.iter().copied().step_by(2).collect();
    let theirs: Vec<P2> =
        first.iter().skip(1).step_by(2).copied().filter(|p| far.free(*p)).collect();
    if !theirs.is_empty() {
        return [ours, theirs];
    }
    let (all, others) = (near.everywhere(), far.everywhere());
    let pairs = all.iter().flat_map(|p| others.iter().map(move |q| (*p, *q)));
    match pairs.max_by(|a, b| (a.0 - a.1).norm().total_cmp(&(b.0 - b.1).norm())) {
        Some((p, q)) => [vec![p], vec![q]],
        None => [first, far.even()],
    }
}

/// Places from `low` to `high`, [`JOINT_PITCH_MM`] apart or less, the middle if it is short.
fn even(low: f64, high: f64) -> Vec<f64> {
    let pieces = ((high - low) / JOINT_PITCH_MM).ceil();
    if high - low < 0.5 * JOINT_PITCH_MM {
        return vec![0.5 * (low + high)];
    }
    (0..=pieces as usize).map(|i| low + (high - low) * i as f64 / pieces).collect()
}

/// Half way from each place to the next.
fn middles(places: &[f64]) -> Vec<f64> {
    places.windows(2).map(|w| 0.5 * (w[0] + w[1])).collect()
}

/// Places along each edge where the planking is fastened to the frame: (panel, place on
/// the pattern's face), clear of what is cut out for members and bored for water.
pub fn planking(face: &Section, notches: &[Notch], limbers: &[Limber]) -> Vec<(usize, P2)> {
    let shut = |p: P2| {
        let bored = |l: &Limber| l.from_axis(p) < l.radius + CLEAR_OF_CUT_MM;
        limbers.iter().any(bored)
            || notches.iter().any(|n| {
                let (a, b) = (n.corners[0], n.corners[1]);
                let along = b - a;
                let t = (p - a).dot(&along) / along.norm_squared().max(1e-9);
                let room = CLEAR_OF_CUT_MM / along.norm().max(1e-9);
                (-room..=1.0 + room).contains(&t) && (p - (a + t * along)).norm() < CLEAR_OF_CUT_MM
            })
    };
    let mut out = Vec::new();
    for edge in &face.edges {
        let length: f64 = edge.points.windows(2).map(|w| (w[1].at - w[0].at).norm()).sum();
        let pieces = (length / PLANK_PITCH_MM).ceil().max(1.0);
        let mut so_far = 0.0;
        let mut next = 0.5;
        for w in edge.points.windows(2) {
            let step = (w[1].at - w[0].at).norm();
            while next < pieces && so_far + step >= next * length / pieces {
                let t = (next * length / pieces - so_far) / step.max(1e-9);
                let p = w[0].at + t * (w[1].at - w[0].at);
                if !shut(p) {
                    out.push((edge.panel, p));
                }
                next += 1.0;
            }
            so_far += step;
        }
    }
    out
}
