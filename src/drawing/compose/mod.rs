//! From the model to drawings: which lines go on a sheet, and what is written beside them.

mod battens;
mod bevel_section;
pub mod body_plan;
pub mod bow;
pub mod card;
pub mod catalogue;
pub mod ends;
pub mod frame;
pub mod jig;
pub mod jig_ends;
pub mod jig_section;
pub mod knee;
pub mod line;
pub mod lines_plan;
pub mod offsets_table;
pub mod on_paper;
pub mod pad;
pub mod panel;
mod panel_joints;
mod panel_words;
mod part;
pub mod parts;
pub mod sheet;
mod view;
mod waterline;

pub use body_plan::body_plan;
pub use bow::outer_stem_pattern;
pub use catalogue::{Subject, catalogue};
pub use ends::{stem_pattern, transom_pattern};
pub use frame::frame_assembly;
pub use jig::{jig_elevation, jig_plan};
pub use jig_ends::jig_end;
pub use jig_section::jig_section;
pub use knee::knee_pattern;
pub use line::{Line, layers};
pub use lines_plan::lines_plan;
pub use offsets_table::offsets_table;
pub use on_paper::{Extent, OnPaper};
pub use pad::pad_pattern;
pub use panel::panel_pattern;
pub use parts::{frame_parts, transom_parts};
pub use sheet::sheet_layout;

use serde::{Deserialize, Serialize};

use super::export::tiling::{A4, LETTER, PageSize, Pages};
use super::{Anchor, Drawing, face};
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
    d.text(Line::Text, at, height, angle, Anchor::Left, words);
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
