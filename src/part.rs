//! The names that everything else is called by: the pieces of a boat, and the questions and
//! load cases that they are asked about in.
//!
//! A name is a kind and an index into the list of the stage that makes the piece, so that it
//! can be copied, compared and kept; what people read is made from it where it is shown. What
//! a piece is cut from and where it lies is a [`Part`], of which the model
//! has a register.

mod case;
mod line;
mod question;
mod severity;
mod stock;

pub use case::CaseId;
pub use line::LineId;
pub use question::Question;
pub use severity::Severity;
pub use stock::{Amount, Bulk, Copies, CutFrom, Part, Shape};

/// A panel, counted from the keel up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PanelId(pub usize);

/// A member: its place among those that are bent along the lines, battens after them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct MemberId(pub usize);

/// A frame: its place among the frames that there are, bow to stern (not its station).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FrameId(pub usize);

/// Which end of the boat something closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum AtEnd {
    /// Stem, or the bow transom of a pram.
    Bow,
    /// Transom, or the post of a sharp stern.
    Stern,
}

impl AtEnd {
    /// The bow first.
    pub const BOTH: [AtEnd; 2] = [AtEnd::Bow, AtEnd::Stern];

    /// The end that a stage which only asks whether it is the stern speaks of.
    pub fn at_stern(stern: bool) -> AtEnd {
        if stern { AtEnd::Stern } else { AtEnd::Bow }
    }

    /// What the transom there is called.
    pub fn transom(self) -> &'static str {
        match self {
            AtEnd::Bow => "bow transom",
            AtEnd::Stern => "transom",
        }
    }

    /// What the post there is called.
    pub fn stem(self) -> &'static str {
        match self {
            AtEnd::Bow => "stem",
            AtEnd::Stern => "sternpost",
        }
    }
}

/// What a stick of the jig is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Use {
    /// A rail.
    Rail,
    /// A rung between the rails.
    Rung,
    /// A post under a rail.
    Post,
    /// A frame's leg.
    Leg,
    /// A frame's cross-spall, by the frame's station.
    Spall(usize),
    /// A brace.
    Brace,
    /// What holds an end.
    End(AtEnd, Holds),
}

impl Use {
    /// Whether it is put together with the rails.
    pub fn in_ladder(self) -> bool {
        matches!(self, Use::Rail | Use::Rung | Use::Post)
    }
}

/// How a stick holds an end of the boat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Holds {
    /// On edge across the rails, notched for a stem's head.
    Crosspiece,
    /// Under an end of the crosspiece.
    Block,
    /// A post that leans at its rake.
    Post,
}

/// A piece of the boat or of her jig. An index that follows another counts the pieces of one
/// kind within it, in the order in which its stage lists them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PartId {
    /// A panel, both sides where there are two.
    Panel(PanelId),
    /// A member or a batten, both sides where there are two.
    Member(MemberId),
    /// A member of a wood that no table has, by its row in the document: it is weighed, and
    /// neither bent nor drawn.
    Unbent(usize),
    /// A frame put together.
    Frame(FrameId),
    /// A board of a frame.
    FrameBoard(FrameId, usize),
    /// A gusset of a frame.
    Gusset(FrameId, usize),
    /// The cross-spall that it stands on the jig by.
    Spall(FrameId),
    /// A transom put together.
    Transom(AtEnd),
    /// The board of a transom.
    TransomBoard(AtEnd),
    /// A cleat of a transom's framing.
    Cleat(AtEnd, usize),
    /// The pad under the motor's clamps.
    Pad,
    /// The knee behind the motor.
    Knee,
    /// The stem, or the post of a sharp stern.
    Stem(AtEnd),
    /// What is bent or laminated round it.
    OuterStem(AtEnd),
    /// The knee behind its heel.
    StemKnee(AtEnd),
    /// The floor over its heel and the keelson.
    Floor(AtEnd),
    /// A block of foam, by its row in the document.
    Foam(usize),
    /// The box around it.
    FoamBox(usize),
    /// Rails, rungs and posts of the jig, put together.
    Ladder,
    /// What stands on them: legs, braces, what holds the ends.
    Legs,
    /// A stick of the jig but a spall, by its place in the list of sticks.
    Stick(Use, usize),
}

impl PartId {
    /// Panel `i`, from the keel up.
    pub fn panel(i: usize) -> PartId {
        PartId::Panel(PanelId(i))
    }

    /// Member `i` of those that are bent.
    pub fn member(i: usize) -> PartId {
        PartId::Member(MemberId(i))
    }

    /// Frame `i` of those that there are.
    pub fn frame(i: usize) -> PartId {
        PartId::Frame(FrameId(i))
    }

    /// The piece that it is put up with as one, and shown and picked as one: itself, where it
    /// is put up alone.
    pub fn assembly(self) -> PartId {
        match self {
            PartId::FrameBoard(f, _) | PartId::Gusset(f, _) => PartId::Frame(f),
            PartId::TransomBoard(e) | PartId::Cleat(e, _) => PartId::Transom(e),
            PartId::Pad | PartId::Knee => PartId::Transom(AtEnd::Stern),
            PartId::OuterStem(e) | PartId::StemKnee(e) | PartId::Floor(e) => PartId::Stem(e),
            PartId::FoamBox(i) => PartId::Foam(i),
            PartId::Stick(what, _) if what.in_ladder() => PartId::Ladder,
            PartId::Stick(..) => PartId::Legs,
            alone => alone,
        }
    }

    /// Whether it stands on the shop floor as drawn, and is not turned over with the hull.
    pub fn stands_on_floor(self) -> bool {
        matches!(self, PartId::Ladder | PartId::Legs | PartId::Stick(..))
    }

    /// Whether it is foam or its box.
    pub fn of_foam(self) -> bool {
        matches!(self, PartId::Foam(_) | PartId::FoamBox(_))
    }

    /// Whether it belongs to the jig, and stays in the shop.
    pub fn of_jig(self) -> bool {
        matches!(self, PartId::Ladder | PartId::Legs | PartId::Stick(..) | PartId::Spall(_))
    }

    /// The question that is about it: where it is looked at and changed.
    pub fn question(self) -> Question {
        match self {
            PartId::Panel(_) => Question::Skin,
            PartId::Foam(_) | PartId::FoamBox(_) => Question::Afloat,
            id if id.of_jig() => Question::Setup,
            _ => Question::Bones,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_put_up_as_one_is_one_piece() {
        let f = FrameId(3);
        let frame = PartId::Frame(f);
        for part in [PartId::FrameBoard(f, 1), PartId::Gusset(f, 0), frame] {
            assert_eq!(part.assembly(), frame);
        }
        for part in [PartId::Cleat(AtEnd::Stern, 2), PartId::Pad, PartId::Knee] {
            assert_eq!(part.assembly(), PartId::Transom(AtEnd::Stern));
        }
        let spall = PartId::Spall(f);
        assert_eq!(spall.assembly(), spall, "it goes up with its frame and is seen without it");
        assert!(spall.of_jig() && !spall.stands_on_floor(), "it is turned over with the hull");
        assert!(PartId::Stick(Use::Brace, 0).assembly().stands_on_floor());
    }
}
