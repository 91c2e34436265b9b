//! Will the sheets lie flat? What there is to say of panels.

use crate::bend::SheetWay;
use crate::flat::sound::Unsound;
use crate::hull::PatternSurface;
use crate::part::{AtEnd, LineId};

/// What is the matter with a panel or its sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum SkinFact {
    /// Ends stay straight that a plane would twist.
    KeptStraight(AtEnd),
    /// A row of the planking names no panel of the hull; those that she has.
    NoSuchPanel(Vec<String>),
    /// A row of the laps names no line at which panels meet; those where they do.
    NoSuchSeam(Vec<LineId>),
    /// It is not developable.
    Twist {
        /// The line below.
        lower: LineId,
        /// The line above.
        upper: LineId,
        /// By how much a ruling's ends are turned against each other.
        warp: f64,
        /// Share by which its edges would be stretched.
        stretch: f64,
    },
    /// It is bent tighter than its sheet takes.
    Radius {
        /// Tightest radius.
        radius: f64,
        /// The sheet.
        sheet: String,
        /// Its thickness.
        thickness: f64,
        /// Least radius that it takes there.
        least: f64,
        /// Another way to plank it that would hold.
        instead: Option<SheetWay>,
    },
    /// Its pattern may be off by so much.
    PatternOff {
        /// At most.
        by: f64,
        /// More than a saw wanders.
        wrong: bool,
    },
    /// It has no pattern that could be cut.
    Unsound(Unsound),
    /// No table has its sheet.
    UnknownSheet(String),
    /// Its edge is longer (shorter where negative) than the one that it is fastened to.
    EdgesDiffer {
        /// By how much.
        by: f64,
        /// The panel below.
        below: String,
        /// Which surfaces of both lie apart.
        surface: PatternSurface,
    },
}
