//! Patterns as they go on paper: what is the same on both sides as a half with a bold
//! centreline, a frame put together to a scale, parts so laid that they take few pages.
//!
//! Files for cutters and other programs keep the whole drawing at full size.

use super::Line;
use super::frame::frame_for;
use super::pad::pad_for;
use super::parts::{Laying, frame_parts_laid, transom_parts_laid};
use super::{Paper, frame_assembly, pad_pattern, panel_pattern, transom_pattern};
use crate::drawing::export::pdf;
use crate::drawing::export::tiling::{Pages, page_plan};
use crate::drawing::half::Axis;
use crate::drawing::{Drawing, Purpose};
use crate::frames::transom::CutOut;
use crate::frames::{Frame, Transom};
use crate::geom::{P2, V2};
use crate::model::{Model, PanelModel};
use crate::stock::joints::PlacedJoint;
use crate::units::Units;

/// How much of a thing is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Extent {
    /// Halves of what is the same on both sides; frames put together to a scale.
    #[default]
    Half,
    /// Everything whole and at full size.
    Whole,
}

/// What the printed sheets are made for.
#[derive(Debug, Clone, Copy)]
pub struct OnPaper {
    /// The paper.
    pub paper: Paper,
    /// How lengths are written.
    pub units: Units,
    /// How much of each thing.
    pub extent: Extent,
}

/// Lengths of a shelf of parts that are tried, mm: a page or two long, either way up, and what
/// lies between.
const SHELVES: [f64; 9] = [180.0, 260.0, 330.0, 420.0, 520.0, 600.0, 700.0, 860.0, 1060.0];
/// Rooms between parts that are tried, mm: a saw and its pencil line, and more where a part
/// then comes whole onto a page.
const BETWEEN: [f64; 3] = [5.0, 10.0, 18.0];
/// Scales of a frame put together, that a rule is divided for or that are quickly halved.
const SCALES: [f64; 8] = [2.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0];
/// Size of words and their spacing on a frame drawn to a scale against those of a pattern,
/// which is read standing: 2.5 mm words and 1.8 mm figures, read at arm's length.
const REDUCED_WORDS: f64 = 0.36;

const HALF_NOTE: &str = "Half is drawn: strike the bold centreline on the wood, mark round this \
    half, turn it over on the line and mark the other. Drawings for cutters show the whole.";

/// The axis of a drawing in a plane across the boat, its starboard half kept.
const UPRIGHT: Axis = Axis { at: P2::new(0.0, 0.0), along: V2::new(0.0, -1.0) };
/// The axis of a bottom laid flat, which lies along u.
const LEVEL: Axis = Axis { at: P2::new(0.0, 0.0), along: V2::new(1.0, 0.0) };

fn halved(whole: Drawing, axis: Axis) -> Drawing {
    let mut half = whole.half(axis, Line::Centre);
    half.title.push_str(", half");
    half.notes.insert(0, HALF_NOTE.into());
    half.settle_words();
    half
}

impl OnPaper {
    /// A panel's pattern: half of one that lies over both sides.
    pub fn panel(&self, model: &Model, p: &PanelModel, joints: &[PlacedJoint]) -> Drawing {
        let whole = panel_pattern(model, p, joints, self.units);
        match self.extent {
            Extent::Half if p.full_width => halved(whole, LEVEL),
            _ => whole,
        }
    }

    /// A transom's outline: its starboard half.
    pub fn transom(&self, model: &Model, t: &Transom) -> Drawing {
        let whole = transom_pattern(model, t, self.units);
        match self.extent {
            Extent::Half => halved(whole, UPRIGHT),
            Extent::Whole => whole,
        }
    }

    /// A frame put together: to the largest scale at which it fits a page with its notes.
    pub fn frame(&self, model: &Model, f: &Frame) -> Drawing {
        if self.extent == Extent::Whole {
            return frame_assembly(model, f, self.units);
        }
        self.on_a_page(|k| {
            let mut d = frame_for(model, f, self.units, REDUCED_WORDS * k).reduced_by(k);
            d.note(
                "Nothing is cut from this sheet: the parts are drawn at full size on their own.",
            );
            d
        })
    }

    /// The motor's pad, whose edges are straight and told by their lengths: likewise.
    pub fn pad(&self, model: &Model, c: &CutOut, layers_of: Option<String>) -> Drawing {
        if self.extent == Extent::Whole {
            return pad_pattern(model, c, layers_of, self.units);
        }
        self.on_a_page(|k| {
            let words = REDUCED_WORDS * k;
            let mut d = pad_for(model, c, layers_of.clone(), self.units, words).reduced_by(k);
            d.note("Mark it out by its figures; its DXF and SVG are at full size.");
            d
        })
    }

    /// To the largest scale at which it fits a page with its notes.
    fn on_a_page(&self, at: impl Fn(f64) -> Drawing) -> Drawing {
        let fits = |d: &Drawing| pdf::on_one_page(d, self.paper.sheet());
        let last = SCALES[SCALES.len() - 1];
        SCALES.iter().map(|k| at(*k)).find(fits).unwrap_or_else(|| at(last))
    }

    /// A frame's parts, on as few pages as the tried layings take.
    pub fn frame_parts(&self, model: &Model, f: &Frame) -> Drawing {
        self.fewest(|laying| frame_parts_laid(model, f, self.units, laying))
    }

    /// The cleats of a transom, likewise.
    pub fn transom_parts(&self, model: &Model, t: &Transom) -> Drawing {
        self.fewest(|laying| transom_parts_laid(model, t, self.units, laying))
    }

    fn fewest(&self, draw: impl Fn(Laying) -> Drawing) -> Drawing {
        let halved = self.extent == Extent::Half;
        let said = |mut d: Drawing| {
            if d.items.iter().any(|i| d.layer(i.layer).purpose == Purpose::Fold) {
                d.notes.insert(0, HALF_NOTE.into());
            }
            d
        };
        let pages = self.paper.pages();
        if pages == Pages::Roll {
            // A roll is as wide as two or three boards: length is what it has.
            return said(draw(Laying { halved, ..Laying::WHOLE }));
        }
        let mut best: Option<(usize, Drawing)> = None;
        for (shelf, between) in SHELVES.iter().flat_map(|s| BETWEEN.map(|b| (*s, b))) {
            let d = draw(Laying { halved, shelf, between });
            let count = page_plan(&d, pages).len();
            if best.as_ref().is_none_or(|(n, _)| count < *n) {
                best = Some((count, d));
            }
        }
        said(best.map_or_else(|| draw(Laying::WHOLE), |b| b.1))
    }
}
