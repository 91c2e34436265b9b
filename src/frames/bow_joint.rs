//! Where keelson, chine logs and stem come together: how the keelson is tapered to lie between
//! the logs, what the stem's heel stands on, and the knee that holds it there.
//!
//! The keelson keeps its width until its edges meet the logs, is tapered from there to the
//! stem's width, and runs on under the stem's heel to be bevelled with it; ahead of there the
//! logs end on the stem's sides. A hull without a keelson gets a short one, the bow floor.
//! End grain holds no fastening well, so a knee is fitted behind the stem. The same joint is
//! made at a sharp stern.

use super::notch::{passing, ring};
use super::section::{Across, Skin};
use super::stem::board_for;
use crate::bend::BentMember;
use crate::geom::plane::Plane;
use crate::geom::region::Region;
use crate::geom::{P2, V2, V3, unit};
use crate::hull::{MemberSide, StemPlan};

/// Length of a knee's arms as a multiple of the stem's depth. Common practice, no source.
const KNEE_ARM: f64 = 1.5;
/// A knee's upper arm is at most this share of the stem's length.
const KNEE_UP_STEM: f64 = 0.4;
/// A fastening through the keelson holds at least this much of the heel, mm. Common practice,
/// no source.
const HOLD_MM: f64 = 50.0;
/// How far from the end the taper is looked for, as a share of the keel's length, and in how
/// many steps.
const LOOKED_FOR: f64 = 0.4;
const STEPS: usize = 32;
/// Halvings of a step in which the place is found: well under a millimetre.
const HALVINGS: usize = 10;
/// The taper is said at so many places.
const PLACES: usize = 5;

/// A place on the keelson.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TaperAt {
    /// From the end of the keel at the stem, along it, mm.
    pub from_end: f64,
    /// Half its width there, mm.
    pub half_width: f64,
}

/// The knee behind a stem, in the plane of its profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Knee {
    /// Outline: (aft, up), mm, from the corner along the keelson, then up the stem.
    pub outline: [P2; 3],
    /// Thickness, that of the stem, mm.
    pub thickness: f64,
    /// Length of its arm on the keelson, mm.
    pub along: f64,
    /// Length of its arm on the stem, mm.
    pub up: f64,
}

/// The joint at the foot of a stem.
#[derive(Debug, Clone, PartialEq)]
pub struct BowJoint {
    /// Whether the heel stands on a bow floor made for it: the hull has no keelson.
    pub floor: bool,
    /// Depth of the keelson or bow floor, mm.
    pub depth: f64,
    /// Its full width, mm.
    pub width: f64,
    /// From where it has the stem's width to where it has its own, by what lies beside it
    /// there; a single place where it needs no taper.
    pub taper: Vec<TaperAt>,
    /// Length of a bow floor, mm; 0 for a keelson.
    pub floor_length: f64,
    /// Width of the board for the bow floor, mm.
    pub floor_board: f64,
    /// Length of the heel's landing, mm along the keelson.
    pub heel: f64,
    /// The knee; `None` for a stem without a straight back to put it on.
    pub knee: Option<Knee>,
    /// Length of a screw or bolt up through bottom and keelson into the heel, mm.
    pub fastening: f64,
}

/// What lies beside the keelson at the ends.
struct Beside<'a> {
    skin: &'a Skin<'a>,
    members: &'a [BentMember],
    depth: f64,
    at_stern: bool,
}

impl Beside<'_> {
    /// Half the width that is free for a keelson `from_end` mm along the keel from its end:
    /// to the logs, and to the inside of the planking.
    fn free(&self, from_end: f64) -> Option<f64> {
        let keel = &self.skin.lines.lines[0];
        let length = keel.arc.length();
        let s = if self.at_stern { length - from_end } else { from_end };
        let jet = keel.spline.jet(keel.arc.parameter_at(&keel.spline, s));
        let across = Across::transom(Plane::through(jet.p, unit(jet.d1)?)?);
        let low = across.flat(jet.p).y;
        let high = low + self.depth;
        let mut free = self.skin.section(across).half_breadth_at(high).unwrap_or(f64::INFINITY);
        let far = 1e4;
        let band = Region::of(&[
            P2::new(-far, low),
            P2::new(far, low),
            P2::new(far, high),
            P2::new(-far, high),
        ]);
        let last = self.skin.lines.lines.len() - 1;
        for b in self.members {
            let m = &b.member;
            let Some(k) = self.skin.lines.lines.iter().position(|l| m.follows(l.id)) else {
                continue;
            };
            if k == 0 || k == last || m.side == MemberSide::Outside {
                continue;
            }
            let Some(lie) = passing(b, &self.skin.lines.lines[k], &across) else {
                continue;
            };
            let ring = ring(&lie, &across, lie.spread, lie.deep);
            let near = Region::of(&ring).and(&band).rings();
            free = near.iter().flatten().map(|p| p.x).fold(free, f64::min);
        }
        Some(free)
    }

    /// The first place from the end on at which half a width of `half` is free; `None` where
    /// it is nowhere.
    fn first_free(&self, half: f64, within: f64) -> Option<f64> {
        let holds = |s: f64| self.free(s).is_some_and(|f| f >= half);
        let step = within / STEPS as f64;
        let found = (0..=STEPS).map(|i| i as f64 * step).find(|s| holds(*s))?;
        let (mut low, mut high) = ((found - step).max(0.0), found);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if holds(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(high)
    }
}

/// What the joint is made from: the stem's blank and the way of the keel (aft, up) at its foot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Foot<'a> {
    /// The stem's blank.
    pub outline: &'a [P2],
    /// Where the keel begins: (aft, up), mm.
    pub at: P2,
    /// The keel's way there, aft at the bow and forward at the stern.
    pub keel: V2,
    /// The stem's way up from its foot.
    pub stem: V2,
    /// Its length, mm.
    pub length: f64,
}

/// The joint at the foot of a stem; `keelson` is the keelson's depth and width (the bow
/// floor's where `floor`), mm.
pub(super) fn bow_joint(
    skin: &Skin,
    members: &[BentMember],
    plan: &StemPlan,
    widths: &[f64],
    foot: Foot,
    ((depth, width), floor): ((f64, f64), bool),
    at_stern: bool,
) -> Option<BowJoint> {
    let e = foot.keel.try_normalize(1e-9)?;
    let up = V2::new(-e.y, e.x) * e.x.signum();
    let beside = Beside { skin, members, depth, at_stern };
    let within = LOOKED_FOR * skin.lines.lines[0].arc.length();
    let half = 0.5 * width;
    let narrow = (0.5 * plan.sided_mm).min(half);
    let full_from = beside.first_free(half, within).unwrap_or(within);
    let narrow_from = beside.first_free(narrow, within).unwrap_or(full_from).min(full_from);
    let taper: Vec<TaperAt> = if full_from - narrow_from < 1.0 {
        vec![TaperAt { from_end: full_from, half_width: half }]
    } else {
        let places = (0..PLACES).map(|i| {
            let t = i as f64 / (PLACES - 1) as f64;
            let from_end = narrow_from + t * (full_from - narrow_from);
            let free = beside.free(from_end).unwrap_or(half);
            TaperAt { from_end, half_width: free.clamp(narrow, half) }
        });
        places.collect()
    };
    // The heel's landing: what of the blank lies on the keelson's top.
    let on_top = |p: &&P2| ((**p - foot.at).dot(&up) - depth).abs() < 0.5;
    let along = |p: &P2| (p - foot.at).dot(&e);
    let (least, most) = foot
        .outline
        .iter()
        .filter(on_top)
        .map(along)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), a| (l.min(a), h.max(a)));
    if least > most {
        return None;
    }
    let arm = KNEE_ARM * plan.moulded_mm;
    let arm_up = arm.min(KNEE_UP_STEM * foot.length);
    let corner = foot.at + most * e + depth * up;
    let knee = foot.stem.try_normalize(1e-9).map(|s| Knee {
        outline: [corner, corner + arm * e, corner + arm_up * s],
        thickness: plan.sided_mm,
        along: arm,
        up: arm_up,
    });
    let floor_length = if floor { most + arm } else { 0.0 };
    let bottom = skin.panels[0].thickness;
    Some(BowJoint {
        floor,
        depth,
        width,
        floor_length,
        floor_board: if floor { board_for(width, widths).unwrap_or(width) } else { 0.0 },
        taper,
        heel: most - least,
        knee,
        fastening: bottom + depth + HOLD_MM,
    })
}

impl BowJoint {
    /// Wood of the bow floor, mm³: its board over its length, the taper taken off both sides.
    pub fn floor_volume(&self) -> f64 {
        let half = |s: f64| self.half_width(s);
        let n = 32;
        let step = self.floor_length / f64::from(n);
        let area: f64 = (0..n).map(|i| 2.0 * half((f64::from(i) + 0.5) * step) * step).sum();
        area * self.depth
    }

    /// Half the keelson's width `from_end` mm from the end of the keel.
    pub fn half_width(&self, from_end: f64) -> f64 {
        self.taper.windows(2).find(|w| from_end <= w[1].from_end).map_or(0.5 * self.width, |w| {
            let span = (w[1].from_end - w[0].from_end).max(1e-9);
            let t = ((from_end - w[0].from_end) / span).max(0.0);
            w[0].half_width + t * (w[1].half_width - w[0].half_width)
        })
    }
}

impl Knee {
    /// Its area, mm².
    pub fn area(&self) -> f64 {
        crate::geom::polyline::area(&self.outline).abs()
    }

    /// Angle between its arms, radians.
    pub fn angle(&self) -> f64 {
        // The corner at the heel is the one between the arms, opposite the long edge.
        let [a, b, c] = self.outline;
        let corners = [(a, b, c), (b, c, a), (c, a, b)];
        corners.into_iter().map(|(p, q, r)| (q - p).angle(&(r - p))).fold(0.0, f64::max)
    }

    /// The middle of it: (aft, up), mm.
    pub fn middle(&self) -> P2 {
        P2::from(self.outline.iter().fold(V2::zeros(), |v, p| v + p.coords) / 3.0)
    }
}

/// The keelson's way at the stem's foot, into the boat.
pub(super) fn keel_way(skin: &Skin, at_stern: bool) -> V2 {
    let keel = &skin.lines.lines[0].spline;
    let way: V3 = keel.jet(if at_stern { keel.end() } else { 0.0 }).d1;
    let way = V2::new(way.x, way.z);
    if at_stern { -way } else { way }
}
