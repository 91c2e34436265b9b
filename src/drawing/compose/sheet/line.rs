//! The kinds of line of a sheet's layout, sorted by what a cutter does with them: cut through,
//! marked, engraved; the rest is for the one who stands beside it.

use crate::drawing::{Dash, Layer, LayerId, Purpose};

/// A kind of line of a sheet's layout; all of a kind lie on one layer of the files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetLine {
    /// Outlines of parts, each a closed ring, and nothing else.
    Cut,
    /// Struck on the parts: finished edges, stations, joints, which way is forward.
    Mark,
    /// The sheet's edge.
    Sheet,
    /// What no part comes nearer to the sheet's edge than.
    Margin,
    /// Straight cuts from edge to edge that come first.
    Rough,
    /// What is left and worth keeping.
    Offcut,
    /// Dimensions, and the points that are set out with a tape.
    Dimension,
    /// Words beside the parts.
    Text,
    /// Words on the parts.
    Engrave,
}

const INK: [u8; 3] = [35, 39, 44];
const SOFT: [u8; 3] = [110, 116, 124];
const CHALK: [u8; 3] = [29, 95, 154];
const BROWN: [u8; 3] = [143, 91, 14];

impl SheetLine {
    /// All kinds, in the order of the layers in files: bottom-most first.
    pub const ALL: [SheetLine; 9] = [
        SheetLine::Cut,
        SheetLine::Mark,
        SheetLine::Sheet,
        SheetLine::Margin,
        SheetLine::Rough,
        SheetLine::Offcut,
        SheetLine::Dimension,
        SheetLine::Text,
        SheetLine::Engrave,
    ];

    /// Its layer.
    pub fn layer(self) -> Layer {
        use Purpose::{Cut, Explain, Mark, Words, Work};
        let (name, width, dash, colour, purpose) = match self {
            SheetLine::Cut => ("CUT", 0.4, Dash::Solid, INK, Cut),
            SheetLine::Mark => ("MARK", 0.13, Dash::Solid, CHALK, Mark),
            SheetLine::Sheet => ("SHEET_EDGE", 0.25, Dash::Solid, SOFT, Explain),
            SheetLine::Margin => ("MARGIN", 0.13, Dash::Dotted, SOFT, Explain),
            SheetLine::Rough => ("ROUGH_CUT", 0.3, Dash::DashDot, BROWN, Work),
            SheetLine::Offcut => ("OFFCUT", 0.18, Dash::Dashed, SOFT, Explain),
            SheetLine::Dimension => ("DIMENSION", 0.13, Dash::Solid, SOFT, Explain),
            SheetLine::Text => ("TEXT", 0.18, Dash::Solid, INK, Words),
            SheetLine::Engrave => ("ENGRAVE", 0.18, Dash::Solid, INK, Words),
        };
        Layer { name, width, dash, colour, purpose }
    }
}

impl From<SheetLine> for LayerId {
    fn from(line: SheetLine) -> LayerId {
        LayerId::from(line as usize)
    }
}

/// The layers of a sheet's layout, in the order of [`SheetLine::ALL`].
pub fn layers() -> Vec<Layer> {
    SheetLine::ALL.map(SheetLine::layer).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each kind has a place and a name of its own, and one alone is cut.
    #[test]
    fn every_kind_lies_on_its_own_layer() {
        let all = layers();
        for (i, line) in SheetLine::ALL.into_iter().enumerate() {
            assert_eq!(LayerId::from(line), LayerId::from(i));
            assert_eq!(all.iter().position(|l| l.name == line.layer().name), Some(i));
        }
        assert_eq!(all.iter().filter(|l| l.purpose == Purpose::Cut).count(), 1);
    }
}
