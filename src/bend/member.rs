//! A member bent along its line: strain all along, and how near to breaking.

use super::advice::{Advice, advise};
use super::darboux::Curvatures;
use super::limit::Limit;
use super::strain::{bending, break_chance, shear_per_twist};
use crate::geom::{P3, V3};
use crate::hull::{HullLine, Member, MemberSide};
use crate::material::Wood;
use crate::part::LineId;

/// Spacing (mm) at which a member is looked at: a third of the shortest hard spot.
const SPACING_MM: f64 = 50.0;

/// One place along a member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Along {
    /// Distance along the line from the bow, mm.
    pub at: f64,
    /// Curvature that bends the moulded depth, 1/mm.
    pub moulded: f64,
    /// Curvature that bends the sided width, 1/mm.
    pub sided: f64,
    /// Twist, radians per mm.
    pub twist: f64,
    /// Strain of the corner by both bendings.
    pub fibre: f64,
    /// Bending strain that is as near to breaking as fibre and twist together.
    pub strain: f64,
    /// The place on the line, mm.
    pub point: P3,
    /// Where its section begins on the face that lies against the skin, mm
    /// ([`crate::bend::Lie::seat`]).
    pub seat: P3,
    /// Unit tangent, aft.
    pub tangent: V3,
    /// The skin's outward unit normal.
    pub outward: V3,
}

impl Along {
    /// Unit vector up the skin, square to the stick.
    pub fn up(&self) -> V3 {
        self.tangent.cross(&self.outward)
    }
}

/// What asks the most of a member at its worst place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Governs {
    /// The bend of its moulded depth.
    Moulded,
    /// The bend of its sided width, edgewise.
    Sided,
    /// The twist.
    Twist,
}

/// A member with its bends judged.
#[derive(Debug, Clone, PartialEq)]
pub struct BentMember {
    /// As the document has it.
    pub member: Member,
    /// The line that is its own; `None` for what follows a line of the hull.
    pub path: Option<Box<HullLine>>,
    /// Length along its line, mm.
    pub length: f64,
    /// How open the corner is that it lies in: mm along its line, and the tangent by which the
    /// corner passes a right angle inside the boat. Empty for one that lies in none.
    pub open: Vec<(f64, f64)>,
    /// From bow to stern.
    pub along: Vec<Along>,
    /// Greatest strain.
    pub peak_strain: f64,
    /// Where that is, mm from the bow along the line.
    pub peak_at: f64,
    /// What such a stick bears.
    pub limit: Limit,
    /// Peak over breaking strain.
    pub utilisation: f64,
    /// Chance that one stick breaks when bent dry.
    pub break_chance: f64,
    /// Chance that at least one breaks of those that the boat needs.
    pub pair_break_chance: f64,
    /// The ladder.
    pub advice: Advice,
}

impl BentMember {
    /// What asks the most at the worst place.
    pub fn governs(&self) -> Governs {
        let near = |a: &Along| (a.at - self.peak_at).abs();
        let Some(a) = self.along.iter().min_by(|a, b| near(a).total_cmp(&near(b))) else {
            return Governs::Moulded;
        };
        let moulded = bending(self.member.moulded_mm, a.moulded);
        let sided = bending(self.member.sided_mm, a.sided);
        let twist = (a.strain * a.strain - a.fibre * a.fibre).max(0.0).sqrt();
        if twist > moulded && twist > sided {
            Governs::Twist
        } else if sided > moulded {
            Governs::Sided
        } else {
            Governs::Moulded
        }
    }

    /// Whether its line runs along its middle: a keelson's and a batten's do, others start
    /// at theirs.
    pub fn centred(&self) -> bool {
        self.path.is_some() || self.member.follows(LineId::Keel)
    }

    /// From where to where (mm) its width runs from its seat, up the skin: up from a chine,
    /// down from the sheer, both ways from keel and battens.
    pub fn width(&self) -> [f64; 2] {
        let sided = self.member.sided_mm;
        match LineId::of(&self.member.line) {
            _ if self.centred() => [-0.5 * sided, 0.5 * sided],
            Some(LineId::Sheer) => [-sided, 0.0],
            _ => [0.0, sided],
        }
    }

    /// From where to where (mm) its depth runs from its seat, outward: into the boat, or away
    /// from her for one that lies outside.
    pub fn depth(&self) -> [f64; 2] {
        let moulded = self.member.moulded_mm;
        match self.member.side {
            MemberSide::Inside => [-moulded, 0.0],
            MemberSide::Outside => [0.0, moulded],
        }
    }

    /// The corners of its section at one place, starboard side, anticlockwise seen from astern:
    /// along its lower edge to its outer face, up the skin, and back.
    pub fn corners(&self, a: &Along) -> [P3; 4] {
        let (up, [low, high], [inner, outer]) = (a.up(), self.width(), self.depth());
        [(low, inner), (low, outer), (high, outer), (high, inner)]
            .map(|(width, depth)| a.seat + width * up + depth * a.outward)
    }

    /// The middle of its section at one place, starboard side.
    pub fn middle(&self, a: &Along) -> P3 {
        let ([low, high], [inner, outer]) = (self.width(), self.depth());
        a.seat + 0.5 * (low + high) * a.up() + 0.5 * (inner + outer) * a.outward
    }
}

/// How many pieces a line of `length` mm is looked at in.
pub fn pieces(length: f64) -> usize {
    ((length / SPACING_MM).ceil() as usize).clamp(20, 400)
}

/// Bends `member` along a line of `length` mm with these curvatures on its skin. It is seated on the line; who knows the planking moves one outside out,
/// and lets one down in a corner that is open.
///
/// They are those of the line itself, the face that lies on the skin; at the member's own
/// middle they differ by its half depth over the radius, under 1 %.
pub fn bend(member: &Member, wood: &Wood, length: f64, curvatures: &[Curvatures]) -> BentMember {
    let along = curvatures
        .iter()
        .map(|c| Along {
            at: c.at,
            moulded: c.normal,
            sided: c.geodesic,
            twist: c.torsion,
            fibre: 0.0,
            strain: 0.0,
            point: c.point,
            seat: c.point,
            tangent: c.tangent,
            outward: c.outward,
        })
        .collect();
    judge(member, wood, length, along)
}

/// Judges a member whose curvatures and twist are known; strains are worked out here.
pub fn judge(member: &Member, wood: &Wood, length: f64, mut along: Vec<Along>) -> BentMember {
    for a in &mut along {
        a.fibre = bending(member.moulded_mm, a.moulded) + bending(member.sided_mm, a.sided);
    }
    let limit = Limit::of(member, wood, &along);
    let shear_factor = shear_per_twist(member.moulded_mm, member.sided_mm);
    for a in &mut along {
        a.strain = limit.together(a.fibre, shear_factor * a.twist.abs());
    }
    let (peak_strain, peak_at) = along
        .iter()
        .map(|a| (a.strain, a.at))
        .fold((0.0, 0.0), |worst, here| if here.0 > worst.0 { here } else { worst });
    let chance = break_chance(peak_strain, limit.breaking, limit.scatter);
    let mut bent = BentMember {
        member: member.clone(),
        path: None,
        length,
        open: Vec::new(),
        along,
        peak_strain,
        peak_at,
        limit,
        utilisation: peak_strain / limit.breaking,
        break_chance: chance,
        pair_break_chance: of_all(chance, member.sticks()),
        advice: Advice::default(),
    };
    bent.advice = advise(&bent, wood);
    bent
}

/// Chance that at least one of `sticks` breaks, each by itself with `chance`. Two out of one
/// board are more alike than that and break together, so this is the most it can be.
pub(super) fn of_all(chance: f64, sticks: u32) -> f64 {
    -(f64::from(sticks) * (-chance).ln_1p()).exp_m1()
}
