//! What there is to say of transoms and stems, and of a motor on a transom.

use crate::frames::motor_load::Check;
use crate::hull::Shaft;
use crate::part::AtEnd;

/// What is the matter with a transom.
#[derive(Debug, Clone, PartialEq)]
pub enum TransomFact {
    /// The lines come together so that no transom closes that end.
    NotClosed(AtEnd),
    /// The transom is too low for the motor.
    TooLow {
        /// By how much.
        by: f64,
        /// The motor's shaft.
        shaft: Shaft,
    },
    /// It is high enough for a longer shaft.
    HighEnough {
        /// The motor's shaft.
        shaft: Shaft,
        /// Depth of the cut-out that it needs.
        depth: f64,
        /// The longer one.
        longer: Shaft,
    },
    /// A cut-out leaves too little wood beside it.
    WideCutOut {
        /// Of the cut-out.
        width: f64,
        /// What is to be left on either side.
        beside: f64,
    },
    /// Its rake is one that a motor does not trim to.
    Rake(f64),
    /// A piece of its framing needs a wider board than there is.
    FramingBoard(f64),
}

/// What is the matter with a stem, or with what is outside it.
#[derive(Debug, Clone, PartialEq)]
pub enum StemFact {
    /// The lines come together so that no stem closes that end.
    NotClosed(AtEnd),
    /// The planking's bevel takes too much of a stem.
    DeepBevel {
        /// Half the angle at which the planking leaves it.
        half_angle: f64,
        /// How far back the bevel runs.
        back: f64,
        /// The stem's moulded depth.
        moulded: f64,
        /// The depth that would do; `None` where none does.
        enough: Option<f64>,
    },
    /// A stem of one part needs a wider board than there is.
    StemBoard {
        /// Its moulded depth.
        moulded: f64,
        /// The board's width.
        width: f64,
    },
    /// A stem's blank is made of two parts.
    TwoParts {
        /// The width of a board for one.
        width: f64,
        /// How long they are lapped.
        lap: f64,
    },
    /// An outer stem leaves end grain of the sides bare.
    BareGrain {
        /// Its end.
        end: AtEnd,
        /// Of both sides' edges together.
        edges: f64,
        /// The outer stem's sided width.
        sided: f64,
    },
    /// Planed to the outer stem's flat the stem leaves the sides too little to bear on.
    LittleBearing {
        /// Its end.
        end: AtEnd,
        /// What is left.
        left: f64,
        /// What a fastening needs.
        needed: f64,
    },
    /// An outer stem's blank needs a wider board than there is.
    OuterBoard(f64),
    /// The sides are mitred where they leave the stem at this half angle.
    FeatherEdge(f64),
    /// Too little of a stick's end lands on the stem.
    LandsBeside {
        /// Its end.
        end: AtEnd,
        /// Share that lands.
        share: f64,
        /// How far short of its line's end the stick ends; past it where negative.
        short: f64,
    },
}

/// What is the matter with a motor on her transom.
#[derive(Debug, Clone, PartialEq)]
pub enum HungFact {
    /// The knee asked for finds no room, no keelson or no wood.
    NoKnee,
    /// A section sees more than is allowed.
    Overstressed {
        /// The motor's power, hp.
        power: f64,
        /// Its thrust, N.
        thrust: f64,
        /// The section.
        check: Check,
        /// Whether a knee is fitted.
        knee: bool,
        /// Greatest power whose checks all hold, hp.
        holds: f64,
    },
    /// The public rule would allow more than the transom holds.
    MarkedBeyond {
        /// By the rule, hp.
        marked: f64,
        /// As drawn, hp.
        holds: f64,
    },
    /// The pad ends above the framing by so much.
    ShortPad(f64),
    /// So deep a cut-out lets a following sea in.
    DeepCutOut(f64),
}
