//! The kinds of line of every drawing that is composed here, how each looks, and what it is for.

use crate::drawing::{Dash, Layer, LayerId, Purpose};

/// A kind of line; all of a kind lie on one layer of the files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// Cut here and nowhere else.
    Cut,
    /// The edge after planing, where an allowance is cut.
    Finished,
    /// Stations.
    Station,
    /// Rulings: the panel does not bend along them.
    Ruling,
    /// Edges of members.
    Member,
    /// Level line or centreline.
    Level,
    /// Arrows and check dimensions.
    Check,
    /// Words.
    Text,
    /// The line that the frames' corners touch, where an edge is lapped past it.
    Corner,
    /// What lies on the far face.
    Far,
    /// Where no fastening may go.
    Clear,
    /// Where fastenings go.
    Fastening,
    /// Plates, spalls and pads that lie on the part.
    Plate,
    /// Dimensions.
    Dimension,
    /// Outlines of what is put together and not cut from this drawing.
    Outline,
    /// The waterline.
    Waterline,
    /// The boot-top's upper edge.
    BootTop,
    /// The line about which a half pattern is turned over.
    Centre,
    /// Where a panel is put together: both ends of a scarf's slope, the line of a butt.
    Joint,
}

const INK: [u8; 3] = [35, 39, 44];
const SOFT: [u8; 3] = [110, 116, 124];
const CHALK: [u8; 3] = [29, 95, 154];
const BROWN: [u8; 3] = [143, 91, 14];
const WATER: [u8; 3] = [12, 104, 114];

impl Line {
    /// All kinds, in the order of the layers in files: bottom-most first.
    pub const ALL: [Line; 19] = [
        Line::Cut,
        Line::Finished,
        Line::Station,
        Line::Ruling,
        Line::Member,
        Line::Level,
        Line::Check,
        Line::Text,
        Line::Corner,
        Line::Far,
        Line::Clear,
        Line::Fastening,
        Line::Plate,
        Line::Dimension,
        Line::Outline,
        Line::Waterline,
        Line::BootTop,
        Line::Centre,
        Line::Joint,
    ];

    /// What it is for. A builder saws or planes to what is cut or worked, and the notches and
    /// bores sawn after it; stations, the waterline and the level are struck between their ends
    /// at the edge, and plates and fastenings are laid out on the part.
    pub fn purpose(self) -> Purpose {
        match self {
            Line::Cut => Purpose::Cut,
            Line::Finished | Line::Member | Line::Outline => Purpose::Work,
            Line::Station
            | Line::Level
            | Line::Corner
            | Line::Clear
            | Line::Fastening
            | Line::Plate
            | Line::Waterline
            | Line::BootTop
            | Line::Joint => Purpose::Mark,
            Line::Centre => Purpose::Fold,
            Line::Text => Purpose::Words,
            Line::Ruling | Line::Check | Line::Far | Line::Dimension => Purpose::Explain,
        }
    }

    /// Its layer: what is cut solid and heavy, marks thin.
    pub fn layer(self) -> Layer {
        let (name, width, dash, colour) = match self {
            Line::Cut => ("CUT", 0.5, Dash::Solid, INK),
            Line::Finished => ("FINISHED_EDGE", 0.25, Dash::DashDot, INK),
            Line::Station => ("STATION", 0.25, Dash::Dashed, CHALK),
            Line::Ruling => ("RULING", 0.13, Dash::Dotted, SOFT),
            Line::Member => ("MEMBER_EDGE", 0.13, Dash::Dashed, SOFT),
            Line::Level => ("LEVEL", 0.25, Dash::DashDot, CHALK),
            Line::Check => ("CHECK", 0.18, Dash::Solid, SOFT),
            Line::Text => ("TEXT", 0.18, Dash::Solid, INK),
            Line::Corner => ("CORNER_LINE", 0.18, Dash::Dashed, CHALK),
            Line::Far => ("FAR_FACE", 0.13, Dash::Dashed, INK),
            Line::Clear => ("NO_FASTENING", 0.13, Dash::Dotted, BROWN),
            Line::Fastening => ("FASTENING", 0.18, Dash::Solid, BROWN),
            Line::Plate => ("PLATE", 0.18, Dash::Dashed, SOFT),
            Line::Dimension => ("DIMENSION", 0.13, Dash::Solid, SOFT),
            Line::Outline => ("OUTLINE", 0.35, Dash::Solid, INK),
            Line::Waterline => ("WATERLINE", 0.25, Dash::Dashed, WATER),
            Line::BootTop => ("BOOT_TOP", 0.18, Dash::DashDot, WATER),
            Line::Centre => ("CENTRELINE", 0.7, Dash::DashDot, INK),
            Line::Joint => ("JOINT", 0.3, Dash::DashDot, BROWN),
        };
        Layer { name, width, dash, colour, purpose: self.purpose() }
    }
}

impl From<Line> for LayerId {
    fn from(line: Line) -> LayerId {
        LayerId::from(line as usize)
    }
}

/// The layers of every drawing made here, in the order of [`Line::ALL`].
pub fn layers() -> Vec<Layer> {
    Line::ALL.map(Line::layer).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each kind has its own place in the list and its own name; one is cut, one folded about.
    #[test]
    fn every_kind_lies_on_its_own_layer() {
        let all = layers();
        for (i, line) in Line::ALL.into_iter().enumerate() {
            assert_eq!(LayerId::from(line), LayerId::from(i));
            assert_eq!(all.iter().position(|l| l.name == line.layer().name), Some(i));
        }
        for purpose in [Purpose::Cut, Purpose::Fold, Purpose::Words] {
            assert_eq!(all.iter().filter(|l| l.purpose == purpose).count(), 1, "{purpose:?}");
        }
    }
}
