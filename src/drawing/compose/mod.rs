//! From the model to drawings: which lines go on a sheet, and what is written beside them.

mod battens;
mod bevel_section;
pub mod body_plan;
pub mod bow;
pub mod card;
pub mod ends;
pub mod frame;
pub mod jig;
pub mod jig_ends;
pub mod jig_section;
pub mod knee;
pub mod lines_plan;
pub mod offsets_table;
pub mod on_paper;
pub mod panel;
mod panel_words;
mod part;
pub mod parts;
mod view;
mod waterline;

pub use body_plan::body_plan;
pub use bow::outer_stem_pattern;
pub use ends::{stem_pattern, transom_pattern};
pub use frame::frame_assembly;
pub use jig::{jig_elevation, jig_plan};
pub use jig_ends::jig_end;
pub use jig_section::jig_section;
pub use knee::knee_pattern;
pub use lines_plan::lines_plan;
pub use offsets_table::offsets_table;
pub use on_paper::{Extent, OnPaper};
pub use panel::panel_pattern;
pub use parts::{frame_parts, transom_parts};

use serde::{Deserialize, Serialize};

use super::export::tiling::{A4, LETTER, PageSize, Pages};
use super::{Anchor, Dash, Drawing, Layer, face};
use crate::geom::P2;
use crate::units::Units;

/// Height of capitals, mm: read standing over the bench, and beside a mark.
const LARGE: f64 = 14.0;
const SMALL: f64 = 7.0;

/// Says at the end of a sheet's notes how its lengths are written, where that is not plain.
pub(crate) fn explain(d: &mut Drawing, units: Units) {
    if let Some(words) = units.explained() {
        let note = format!("Lengths: {words}.");
        if !d.notes.contains(&note) {
            d.note(note);
        }
    }
}

/// Names a line drawn along `points` beside its after end (its greater x), clear of it, where
/// it comes to an edge that is cut.
fn end_label(d: &mut Drawing, points: &[P2], height: f64, words: String) {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return;
    };
    let aft = if first.x > last.x { first } else { last };
    let length = face::width(&words, height, false) + 12.0;
    // The point a text's length before the end.
    let start = points
        .iter()
        .copied()
        .min_by(|a, b| {
            let off = |p: &P2| ((p - aft).norm() - length).abs();
            off(a).total_cmp(&off(b))
        })
        .unwrap_or(*aft);
    let Some(e) = (aft - start).try_normalize(1e-9) else {
        return;
    };
    let angle = e.y.atan2(e.x);
    let at = aft - length * e + 3.0 * crate::geom::V2::new(-e.y, e.x);
    d.text(layer::TEXT, at, height, angle, Anchor::Left, words);
}

/// Where distances aft begin: her foremost point, or a mark ahead of it.
fn measured_from(model: &crate::model::Model, units: Units) -> String {
    /// Less (mm) is not seen on a tape.
    const NOTHING: f64 = 0.5;
    let ahead = model.lines.extent(|p| p.x).0;
    match ahead > NOTHING {
        true => format!("a mark {} ahead of her foremost point", units.show(ahead)),
        false => "her foremost point".into(),
    }
}

/// Paper of the full-size patterns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Paper {
    /// ISO 216.
    #[default]
    A4,
    /// 8.5 x 11 in.
    Letter,
    /// One long page.
    Roll,
}

impl Paper {
    /// The pages of the PDF exporter.
    pub fn pages(self) -> Pages {
        match self {
            Paper::A4 | Paper::Letter => Pages::Sheets(self.sheet()),
            Paper::Roll => Pages::Roll,
        }
    }

    /// The page of what is printed on sheets in any case: A4 beside a roll.
    pub fn sheet(self) -> PageSize {
        match self {
            Paper::A4 | Paper::Roll => A4,
            Paper::Letter => LETTER,
        }
    }

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
            Paper::Roll => "roll",
        }
    }
}

/// Indices of the layers that every pattern has, in [`layers`].
pub mod layer {
    /// Cut here and nowhere else.
    pub const CUT: usize = 0;
    /// The edge after planing, where an allowance is cut.
    pub const FINISHED: usize = 1;
    /// Stations.
    pub const STATION: usize = 2;
    /// Rulings: the panel does not bend along them.
    pub const RULING: usize = 3;
    /// Edges of members.
    pub const MEMBER: usize = 4;
    /// Level line or centreline.
    pub const LEVEL: usize = 5;
    /// Arrows and check dimensions.
    pub const CHECK: usize = 6;
    /// Words.
    pub const TEXT: usize = 7;
    /// The line that the frames' corners touch, where an edge is lapped past it.
    pub const CORNER: usize = 8;
    /// What lies on the far face.
    pub const FAR: usize = 9;
    /// Where no fastening may go.
    pub const CLEAR: usize = 10;
    /// Where fastenings go.
    pub const FASTENING: usize = 11;
    /// Plates, spalls and pads that lie on the part.
    pub const PLATE: usize = 12;
    /// Dimensions.
    pub const DIMENSION: usize = 13;
    /// Outlines of what is put together and not cut from this drawing.
    pub const OUTLINE: usize = 14;
    /// The waterline.
    pub const WATERLINE: usize = 15;
    /// The boot-top's upper edge.
    pub const BOOT_TOP: usize = 16;
    /// The line about which a half pattern is turned over.
    pub const CENTRE: usize = 17;
}

/// The layers of a pattern: cut lines solid and heavy, marks thin.
pub fn layers() -> Vec<Layer> {
    let ink = [35, 39, 44];
    let soft = [110, 116, 124];
    let chalk = [29, 95, 154];
    let brown = [143, 91, 14];
    // What a builder saws or planes to, and the notches and bores sawn after it. Stations, the
    // waterline and the level are struck between their ends at the edge; plates and fastenings
    // are laid out on the part; what only explains needs no paper of its own.
    let needed = ["CUT", "FINISHED_EDGE", "MEMBER_EDGE", "OUTLINE"];
    let one = |name, width, dash, colour| Layer {
        name,
        width,
        dash,
        colour,
        needed: needed.contains(&name),
    };
    vec![
        one("CUT", 0.5, Dash::Solid, ink),
        one("FINISHED_EDGE", 0.25, Dash::DashDot, ink),
        one("STATION", 0.25, Dash::Dashed, chalk),
        one("RULING", 0.13, Dash::Dotted, soft),
        one("MEMBER_EDGE", 0.13, Dash::Dashed, soft),
        one("LEVEL", 0.25, Dash::DashDot, chalk),
        one("CHECK", 0.18, Dash::Solid, soft),
        one("TEXT", 0.18, Dash::Solid, ink),
        one("CORNER_LINE", 0.18, Dash::Dashed, chalk),
        one("FAR_FACE", 0.13, Dash::Dashed, ink),
        one("NO_FASTENING", 0.13, Dash::Dotted, brown),
        one("FASTENING", 0.18, Dash::Solid, brown),
        one("PLATE", 0.18, Dash::Dashed, soft),
        one("DIMENSION", 0.13, Dash::Solid, soft),
        one("OUTLINE", 0.35, Dash::Solid, ink),
        one("WATERLINE", 0.25, Dash::Dashed, [12, 104, 114]),
        one("BOOT_TOP", 0.18, Dash::DashDot, [12, 104, 114]),
        one("CENTRELINE", 0.7, Dash::DashDot, ink),
    ]
}
