//! Which bones are in hand, and how much of her is shown.

/// Which bones are in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum BonesPart {
    /// Lumber bent along the lines.
    #[default]
    Lumber,
    /// Frames.
    Frames,
    /// Transom and stem.
    Ends,
}

impl BonesPart {
    /// All of them.
    pub const ALL: [BonesPart; 3] = [BonesPart::Lumber, BonesPart::Frames, BonesPart::Ends];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            BonesPart::Lumber => "lumber",
            BonesPart::Frames => "frames",
            BonesPart::Ends => "transom & stem",
        }
    }
}

/// How much of her is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Look {
    /// Skin and all.
    #[default]
    Planked,
    /// What is under the skin.
    Framed,
    /// Lines alone.
    Lines,
}

impl Look {
    /// All of them.
    pub const ALL: [Look; 3] = [Look::Planked, Look::Framed, Look::Lines];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Look::Planked => "planked",
            Look::Framed => "framed",
            Look::Lines => "lines",
        }
    }
}
