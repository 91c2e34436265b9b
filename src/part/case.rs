//! Load cases by name.

/// With whom and what she is floated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CaseId {
    /// Nothing aboard.
    Empty,
    /// One person with all that is carried.
    Alone,
    /// Everyone.
    Full,
    /// Motor and all that is carried, and nobody.
    Nobody,
    /// Everyone on one side.
    OneSided,
    /// Full of water.
    Swamped,
    /// Full of water, half of what hangs on her at one side.
    SwampedAside,
}

impl CaseId {
    /// What reports call it.
    pub fn name(self) -> &'static str {
        match self {
            CaseId::Empty => "empty",
            CaseId::Alone => "builder alone",
            CaseId::Full => "full crew",
            CaseId::Nobody => "moored, nobody aboard",
            CaseId::OneSided => "everyone on one side",
            CaseId::Swamped => "swamped",
            CaseId::SwampedAside => "swamped, half to one side",
        }
    }
}
