//! What there is to say of frames, of the skin that they hold, and of water that lies in her.

use crate::frames::Bay;
use crate::part::AtEnd;

/// What is the matter with a frame.
#[derive(Debug, Clone, PartialEq)]
pub enum FrameFact {
    /// It stands in the wood of a stem, from one height above the baseline to another.
    InStem {
        /// The stem at that end.
        end: AtEnd,
        /// From.
        low: f64,
        /// Up to.
        high: f64,
    },
    /// The hull is not where its station is, mm aft.
    NoHull(f64),
    /// The document frames a station beyond the number that there are.
    NoSuchStation(usize),
    /// It stands nearer to the next than both are thick.
    NoRoomForBoth {
        /// From one station to the other.
        apart: f64,
        /// Thickness of one.
        sided: f64,
    },
    /// No table has the wood of the frames.
    UnknownWood(String),
    /// The battens asked for could not be laid: no table has their wood, or there is no room.
    BattensLeftOut {
        /// The wood that no table has.
        unknown_wood: Option<String>,
    },
    /// A piece needs a wider board than there is.
    Board(f64),
    /// Its wood runs out of the boat.
    RunsOut,
    /// It has no wood at all.
    NoWood,
    /// Nothing joins its two sides.
    Unjoined,
    /// Its straight edge would push the sheet out.
    PushesOut(f64),
    /// Its straight edge leaves a gap behind the sheet.
    LeavesGap(f64),
    /// Its edge ends in a feather edge at this bevel.
    SteepBevel(f64),
}

/// What is the matter with a frame's notch, or with the stick in it.
#[derive(Debug, Clone, PartialEq)]
pub enum NotchFact {
    /// A notch cuts a piece through.
    CutThrough,
    /// A notch runs into a piece's joint: so much of it falls off, mm².
    Crumb(f64),
    /// A notch leaves too little of a piece.
    Leaves {
        /// What is left.
        left: f64,
        /// Of this depth.
        of: f64,
    },
    /// The corner opens so far that a stick would have to be let down too deep.
    LetDown {
        /// The corner's line.
        line: String,
        /// Let down by.
        wanted: f64,
        /// The stick's sided width.
        sided: f64,
        /// The sided width that would do.
        enough: f64,
    },
    /// Both sides' sticks meet over the centreline.
    SticksMeet,
    /// The bottom is narrower than a stick on it.
    NarrowBottom {
        /// Of the bottom.
        width: f64,
        /// The stick.
        stick: String,
        /// Its sided width.
        sided: f64,
    },
    /// Planing a stick to the V takes its edges away.
    PlanedAway {
        /// Of the bottom over half the stick's width.
        rise: f64,
        /// The moulded depth that would do.
        enough: f64,
    },
}

/// What is the matter with the skin between its supports.
#[derive(Debug, Clone, PartialEq)]
pub enum BayFact {
    /// It is pressed in too far.
    Sags {
        /// The worst bay.
        bay: Bay,
        /// How many more are as bad.
        others: usize,
    },
    /// It might snap through at a pressure.
    SnapsAt {
        /// That pressure, N/mm².
        most: f64,
        /// What is looked for, N/mm².
        pressure: f64,
    },
}

/// What there is to say of where water in her lies.
#[derive(Debug, Clone, PartialEq)]
pub enum DrainFact {
    /// Rain stays at a place from which limbers do not lead it to a drain in the transom.
    RainStays {
        /// Trim of the empty hull, by the stern positive.
        trim: f64,
        /// The lowest place of her keel, mm aft.
        at: f64,
        /// Stations of the frames next ahead of it and aft of it.
        between: [Option<usize>; 2],
    },
    /// The bottom falls to a keel of its own (by this slope at least), so a drain slope changes
    /// nothing.
    FallsAnyway(Option<f64>),
    /// A flat bottom was given a fall to the keelson.
    Falls {
        /// By how much, at most.
        drop: f64,
        /// Where that is, mm aft.
        at: f64,
        /// Deadrise there.
        deadrise: f64,
        /// How much more she displaces below her chines, litres.
        litres: f64,
    },
}
