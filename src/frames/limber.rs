//! Limbers: holes at the bottom's edge through which water runs from bay to bay.
//!
//! A hole is only a way for water if it goes through everything that stands there: both
//! faces' gussets or both layers of lapped boards as well as the frame. Where the bottom
//! rises from one side of that stack to the other, the hole follows it.

use super::notch::Notch;
use super::section::{Section, SectionEdge, Skin};
use crate::bend::BentMember;
use crate::geom::P2;
use crate::geom::region::{Region, hull_of};
use crate::geom::segment::from_segment;
use crate::hull::Framing;
use crate::part::LineId;

/// Corners on the rim of a limber: a bored hole to a tenth of a millimetre.
const RIM_CORNERS: usize = 32;
/// Limbers are bored where the bottom beside the keelson is at least this many radii wide.
const LEAST_RADII: f64 = 4.0;
/// A bottom that rises less than this (radians) from the keelson lets water stand at the
/// chines too.
const STANDING_WATER: f64 = 3.0 * std::f64::consts::PI / 180.0;
/// A bilge that moves by less than this share of the radius through the frame leaves a
/// straight bore open enough. Our judgement.
const STRAIGHT_SHARE: f64 = 0.33;

/// A hole at a frame's edge to let water pass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limber {
    /// Where the bit is set, on the pattern's face, mm.
    pub centre: P2,
    /// Where the bilge lies on the furthest face of all that is bored: the same place where
    /// one straight hole does, another where two are bored and the wood between them is sawn
    /// out, mm.
    pub far: P2,
    /// mm.
    pub radius: f64,
}

impl Limber {
    /// Whether it is one straight hole.
    pub fn is_round(&self) -> bool {
        self.far == self.centre
    }

    /// What is taken out, with `room` mm around it, in every layer alike.
    pub fn hole(&self, room: f64) -> Region {
        let disc = |c: P2| Region::disc(c, self.radius + room, RIM_CORNERS);
        if self.is_round() {
            return disc(self.centre);
        }
        let rims: Vec<P2> =
            [self.centre, self.far].into_iter().flat_map(|c| disc(c).largest()).collect();
        Region::of(&hull_of(&rims))
    }

    /// How far a point lies from the line on which its bits are set, mm.
    pub fn from_axis(&self, p: P2) -> f64 {
        from_segment(p, self.centre, self.far)
    }
}

/// What limbers are bored through.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bored<'a> {
    /// The section on the pattern's face, with the notches there.
    pub(super) section: &'a Section,
    pub(super) notches: &'a [Notch],
    /// The section on the furthest face of all that stands there, and how far behind the
    /// pattern's face that is, mm.
    pub(super) deepest: &'a Section,
    pub(super) depth: f64,
}

/// The bottom's edge at half-breadth `y`.
fn on_edge(edge: &SectionEdge, y: f64) -> Option<P2> {
    edge.points.windows(2).find(|w| w[0].at.x <= y && y <= w[1].at.x && w[0].at.x < w[1].at.x).map(
        |w| {
            let t = (y - w[0].at.x) / (w[1].at.x - w[0].at.x);
            w[0].at + t * (w[1].at - w[0].at)
        },
    )
}

/// Limbers beside the keelson's notch, and beside the lowest chine's on a bottom where
/// water stands.
pub(super) fn limbers(
    skin: &Skin,
    members: &[BentMember],
    bored: Bored,
    framing: &Framing,
) -> Vec<Limber> {
    let radius = framing.limber_mm;
    let Bored { section, notches, deepest, depth } = bored;
    let Some(bottom) = section.edges.first().filter(|e| e.panel == 0) else {
        return Vec::new();
    };
    if radius <= 0.0 || bottom.first().at.x.abs() > 1.0 {
        return Vec::new();
    }
    let along = |n: &Notch, line: LineId| members[n.member].member.follows(line);
    let side = |corners: &[P2; 4]| corners.iter().map(|p| p.x).fold(0.0, f64::max);
    let keelson = notches.iter().filter(|n| along(n, LineId::Keel));
    let keelson_side = keelson.clone().flat_map(|n| n.cut.iter().map(|p| p.x)).fold(0.0, f64::max);
    // In the narrow bow there is no wood to bore: what water there is runs over the keelson.
    if bottom.last().at.x < keelson_side + LEAST_RADII * radius {
        return Vec::new();
    }
    // `aside` is how far the stick moves outward on its way through the frame's own boards.
    let at = |y: f64, aside: f64| {
        let centre = on_edge(bottom, y)?;
        let y_far = y + aside * depth / framing.sided_mm;
        let there = deepest.edge(0).and_then(|e| on_edge(e, y_far)).unwrap_or(centre);
        let straight = (there - centre).norm() <= STRAIGHT_SHARE * radius;
        Some(Limber { centre, far: if straight { centre } else { there }, radius })
    };
    let moves = keelson.map(|n| side(&n.far_corners) - side(&n.corners)).fold(0.0, f64::max);
    let mut out: Vec<Limber> =
        at(keelson_side.max(bottom.first().at.x), moves).into_iter().collect();
    let rise = bottom.last().at - bottom.first().at;
    let first_chine = skin.lines.lines.get(1).map(|l| l.id);
    if rise.y.atan2(rise.x) < STANDING_WATER
        && let Some(chine) = first_chine
        && let Some(log) = notches.iter().find(|n| along(n, chine))
    {
        let inner = |c: &[P2; 4]| c[3].x.min(c[2].x);
        let moves = inner(&log.far_corners) - inner(&log.corners);
        out.extend(at(inner(&log.corners) - framing.notch_clearance_mm, moves));
    }
    out
}
