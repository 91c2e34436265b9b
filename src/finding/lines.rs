//! Is she fair? What there is to say of her lines.

use crate::curve::View;
use crate::part::LineId;

/// What is the matter with a line, or with all of them.
#[derive(Debug, Clone, PartialEq)]
pub enum LineFact {
    /// Her length is outside of what the advice is for.
    Size {
        /// Length overall.
        length: f64,
        /// Least and greatest that the advice is for.
        advised: [f64; 2],
    },
    /// Her foremost point lies aft of where distances aft are measured from.
    BeginsAft(f64),
    /// Its bend turns once, so far aft: a reverse that may be meant.
    TurnsOnce(f64),
    /// Its bend turns at all these places, mm aft.
    Wavy(Vec<f64>),
    /// Ducks on one straight line, about which the batten swings.
    Hook {
        /// As seen from there.
        view: View,
        /// Swing to the left going aft (in the profile: above).
        left: f64,
        /// Swing to the right (below).
        right: f64,
        /// Where it swings furthest, mm aft.
        at: f64,
    },
    /// The curvature's slope breaks at a duck.
    HardSpot {
        /// By how much, free of scale.
        jump: f64,
        /// What an eye sees.
        shows: f64,
    },
    /// Its last point lies off the transom's plane, aft of it where positive.
    OffTransom(f64),
    /// All points of a table were moved aft by this, as some lay ahead of its zero.
    MovedAft(f64),
    /// Lines drawn to the outside of the planking were moved in by its thickness.
    Deducted {
        /// Panels and their thickness.
        planks: Vec<(String, f64)>,
        /// Lines and how far each moved.
        lines: Vec<MovedBy>,
    },
    /// It was moved by more than its sheets' thickness explains.
    MovedFar(f64),
    /// No place lies so deep under both its sheets; what was taken is off by this.
    NotSoDeep(f64),
}

/// How far a line was moved to the inside of the planking.
#[derive(Debug, Clone, PartialEq)]
pub struct MovedBy {
    /// The line.
    pub line: LineId,
    /// Least and greatest.
    pub between: (f64, f64),
    /// Its first point, aft.
    pub bow_aft: f64,
}
