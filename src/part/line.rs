//! Lines by the part that they play.

use std::fmt;

use serde::{Serialize, Serializer};

/// A line of the hull, or one of its own that a batten lies along. As text it is what
/// documents and reports call it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LineId {
    /// On the centreplane, also where it is worked out under a flat bottom.
    Keel,
    /// The only one at which a side and a bottom meet.
    Chine,
    /// One of several, counted from the keel up, from 1.
    NthChine(usize),
    /// The uppermost.
    Sheer,
    /// The way of a batten along the bottom, counted from the keel out, from 1.
    Batten(usize),
}

impl LineId {
    /// The line of a hull that a document calls so; `None` for any other text.
    pub fn of(name: &str) -> Option<LineId> {
        match name {
            "keel" => Some(LineId::Keel),
            "chine" => Some(LineId::Chine),
            "sheer" => Some(LineId::Sheer),
            _ => {
                let number = name.strip_prefix("chine-")?;
                let n = number.parse().ok()?;
                // One line has one name: no `chine-01`, no `chine-+1`.
                (n > 0 && LineId::NthChine(n).to_string() == name).then_some(LineId::NthChine(n))
            }
        }
    }

    /// Whether a document calls it so.
    pub fn is(self, name: &str) -> bool {
        LineId::of(name) == Some(self)
    }

    /// Whether panels of a side meet there.
    pub fn is_chine(self) -> bool {
        matches!(self, LineId::Chine | LineId::NthChine(_))
    }
}

impl fmt::Display for LineId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LineId::Keel => f.pad("keel"),
            LineId::Chine => f.pad("chine"),
            LineId::NthChine(n) => f.pad(&format!("chine-{n}")),
            LineId::Sheer => f.pad("sheer"),
            LineId::Batten(n) => f.pad(&format!("batten {n}")),
        }
    }
}

/// As its text.
impl Serialize for LineId {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;

    /// Every line of every starter has a name of its own, in order from the keel up, and is
    /// called in reports what its document calls it.
    #[test]
    fn lines_are_told_apart_and_stand_in_order() {
        for starter in STARTERS {
            let lines = starter.hull().lines;
            let ids: Option<Vec<LineId>> = lines.iter().map(|l| LineId::of(&l.name)).collect();
            let ids = ids.expect("every line is known");
            assert!(ids.windows(2).all(|w| w[0] < w[1]), "{}: {ids:?}", starter.name);
            assert!(ids.iter().zip(&lines).all(|(id, l)| id.to_string() == l.name));
        }
        for other in ["batten 1", "chine-", "chine-0", "chine-02", "chine-+2", "Keel", ""] {
            assert_eq!(LineId::of(other), None, "{other}");
        }
    }
}
