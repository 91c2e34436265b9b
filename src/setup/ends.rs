//! Where the ends stand upside down: stem or bow transom, transom or sternpost. Distances
//! along the rails, heights above the floor, rake, corners and the tapes that fix them.
//!
//! A transom is set up by its outer face, the one that a rule and a tape can reach; a stem
//! by the front of its profile, where the inside of the planking meets the centreplane.

use std::fmt;

use serde::{Serialize, Serializer};

use super::supports::Support;
use crate::frames::{Section, Stem, Transom};
use crate::geom::{P2, P3, V2};
use crate::hull::HullLines;
use crate::part::{AtEnd, LineId, PartId};

/// An end of the boat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The stem.
    Stem,
    /// The post of a stern as sharp as a stem.
    Sternpost,
    /// The bow transom of a pram.
    BowTransom,
    /// The transom.
    Transom,
}

impl End {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            End::Stem => "stem",
            End::Sternpost => "sternpost",
            End::BowTransom => "bow transom",
            End::Transom => "transom",
        }
    }

    /// Whether it closes the stern.
    pub fn at_stern(self) -> bool {
        matches!(self, End::Sternpost | End::Transom)
    }

    /// Whether it is a board across the boat.
    pub fn is_transom(self) -> bool {
        matches!(self, End::BowTransom | End::Transom)
    }

    /// What its figures are measured to.
    pub fn measured_to(self) -> &'static str {
        if self.is_transom() { "outside" } else { "profile" }
    }

    /// Where its head is, in words: a transom has a top.
    pub fn head_word(self) -> &'static str {
        if self.is_transom() { "top" } else { "head" }
    }

    /// Which end of the boat it closes.
    pub fn at(self) -> AtEnd {
        AtEnd::at_stern(self.at_stern())
    }

    /// The piece that it is.
    pub fn part(self) -> PartId {
        match self {
            End::Stem => PartId::Stem(AtEnd::Bow),
            End::Sternpost => PartId::Stem(AtEnd::Stern),
            End::BowTransom => PartId::Transom(AtEnd::Bow),
            End::Transom => PartId::Transom(AtEnd::Stern),
        }
    }
}

/// What passes at a corner of an end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndPlace {
    /// A line.
    Line(LineId),
    /// A stem's foot.
    Foot,
    /// The top of a crowned transom or of a stem.
    Head,
}

/// As tables and reports call it.
impl fmt::Display for EndPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            EndPlace::Line(line) => line.fmt(f),
            EndPlace::Foot => f.pad("foot"),
            EndPlace::Head => f.pad("head"),
        }
    }
}

/// As its text.
impl Serialize for EndPlace {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

/// A corner of an end: where a line ends on it.
#[derive(Debug, Clone, PartialEq)]
pub struct EndCorner {
    /// What passes there.
    pub place: EndPlace,
    /// Distance aft, mm.
    pub x: f64,
    /// From the centreline, mm.
    pub half_breadth: f64,
    /// Above the shop floor, mm.
    pub above_floor: f64,
    /// Tape from the nearest frame's mark on the rail of the same side, mm.
    pub near: f64,
    /// Tape from its mark on the other rail, mm.
    pub far: f64,
}

/// An end as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct EndStand {
    /// Which.
    pub end: End,
    /// Its foot (at the keel, uppermost now) on the centreline: aft, 0, above the floor, mm.
    pub foot: P3,
    /// Its head on the centreline: aft, 0, above the floor, mm.
    pub head: P3,
    /// Angle from plumb between foot and head, radians, positive where the head leans out
    /// of the boat.
    pub rake: f64,
    /// Station whose marks on the rails its tapes begin at, from 1.
    pub taped_from: usize,
    /// Corners from the keel up, as she floats.
    pub corners: Vec<EndCorner>,
    /// Its wood from the side: (aft, above the floor), mm.
    pub side_view: Vec<P2>,
    /// What holds it.
    pub support: Support,
}

impl EndStand {
    /// How far a plumb-bob let down from the foot hangs from the head, along the rails, mm.
    pub fn plumb(&self) -> f64 {
        (self.head.x - self.foot.x).abs()
    }
}

/// What the ends are stood up on.
#[derive(Debug, Clone, Copy)]
pub struct Ground<'a> {
    /// The lines.
    pub lines: &'a HullLines,
    /// Height of the baseline above the floor, mm.
    pub datum: f64,
    /// Top of the rails above the floor, mm.
    pub rail_top: f64,
    /// Rails, outside to outside, mm.
    pub rail_spacing: f64,
    /// Station, and its distance aft (mm), of the frame whose marks the tapes begin at.
    pub marks: (usize, f64),
    /// Legs' stock: thickness and width, mm.
    pub stock: [f64; 2],
}

impl Ground<'_> {
    fn corner(&self, place: EndPlace, p: P3) -> EndCorner {
        let above_floor = self.datum - p.z;
        let tape = |side: f64| {
            let mark = P3::new(self.marks.1, side * 0.5 * self.rail_spacing, self.rail_top);
            (P3::new(p.x, p.y, above_floor) - mark).norm()
        };
        EndCorner {
            place,
            x: p.x,
            half_breadth: p.y,
            above_floor,
            near: tape(1.0),
            far: tape(-1.0),
        }
    }

    fn upside_down(&self, p: P3) -> P3 {
        P3::new(p.x, p.y, self.datum - p.z)
    }
}

/// Angle from plumb of the way from foot to head, positive where it leans out of the boat.
fn rake(foot: P3, head: P3, end: End) -> f64 {
    let out = if end.at_stern() { 1.0 } else { -1.0 };
    (out * (head.x - foot.x)).atan2((foot.z - head.z).abs())
}

/// A stem or sternpost as it stands.
pub fn of_stem(s: &Stem, sided: f64, ground: &Ground) -> EndStand {
    let end = if s.at_stern { End::Sternpost } else { End::Stem };
    let at = |p: P2| P3::new(p.x, 0.0, p.y);
    let (low, high) = (at(s.profile[0]), at(s.profile[s.profile.len() - 1]));
    let side_view: Vec<P2> = s.outline.iter().map(|p| P2::new(p.x, ground.datum - p.y)).collect();
    let (foot, head) = (ground.upside_down(low), ground.upside_down(high));
    EndStand {
        end,
        foot,
        head,
        rake: rake(foot, head, end),
        taped_from: ground.marks.0,
        corners: vec![ground.corner(EndPlace::Foot, low), ground.corner(EndPlace::Head, high)],
        support: Support::of_stem(&side_view, (foot, head), sided, ground),
        side_view,
    }
}

/// A transom as it stands, by its outer face.
pub fn of_transom(t: &Transom, thickness: f64, ground: &Ground) -> EndStand {
    let end = if t.at_bow { End::BowTransom } else { End::Transom };
    let outer = outer_face(t);
    let place = |p: P2| t.across.space(p);
    let passes = |line: usize| EndPlace::Line(ground.lines.lines[line].id);
    let mut corners: Vec<EndCorner> = Vec::new();
    for e in &outer.edges {
        for (line, at) in [(e.panel, e.first().at), (e.panel + 1, e.last().at)] {
            if corners.last().is_none_or(|c| c.place != passes(line)) {
                corners.push(ground.corner(passes(line), place(at)));
            }
        }
    }
    let low = outer.half().first().map_or(0.0, |p| p.y);
    let sheer = outer.half().last().map_or(t.top, |p| p.y);
    let (low, high) = (place(P2::new(0.0, low)), place(P2::new(0.0, t.top)));
    if t.top > sheer + 0.5 {
        corners.push(ground.corner(EndPlace::Head, high));
    }
    let inward = -thickness * t.across.plane.normal;
    let side_view =
        [low, high, high + inward, low + inward].map(|p| P2::new(p.x, ground.datum - p.z)).to_vec();
    let (foot, head) = (ground.upside_down(low), ground.upside_down(high));
    EndStand {
        end,
        foot,
        head,
        rake: rake(foot, head, end),
        taped_from: ground.marks.0,
        support: Support::of_transom(t, outer, ground),
        corners,
        side_view,
    }
}

/// The section on a transom's outer face, whichever face is the pattern's.
pub fn outer_face(t: &Transom) -> &Section {
    if t.outside_larger { &t.section } else { &t.far }
}

/// The unit vector up a transom's outer face as she floats, from the side and upside down.
pub(super) fn down_the_face(t: &Transom) -> V2 {
    V2::new(t.across.up.x, -t.across.up.z)
}
