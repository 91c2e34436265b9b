//! The drawings that lie in the strip and on the table: patterns of the panels, of a frame
//! and its parts, of the ends, and what the jig is set up by.

use crate::drawing::Drawing;
use crate::drawing::compose::{Extent, OnPaper, Paper, Subject, catalogue};
use crate::model::Model;
use crate::model::stock::{Counted, StockList};
use crate::units::Units;
use crate::viewer::derive::Derived;
use crate::viewer::state::table::Tool;
use crate::viewer::state::{BonesPart, FrameId, PanelId, PartId, Question, UiState};
use crate::viewer::stocktaking::Stocktaking;

/// A drawing with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// What the builder calls it.
    pub name: String,
    /// The piece that it is of.
    pub piece: Option<PartId>,
    /// The drawing.
    pub drawing: Drawing,
}

impl Laid {
    fn of(name: impl Into<String>, piece: Option<PartId>, drawing: Drawing) -> Laid {
        Laid { name: name.into(), piece, drawing }
    }

    /// The panel that it is the pattern of.
    pub fn panel(&self) -> Option<usize> {
        match self.piece {
            Some(PartId::Panel(PanelId(i))) => Some(i),
            _ => None,
        }
    }
}

/// What the drawings on show were made from.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Key {
    count: u64,
    units: Units,
    question: Question,
    bones: BonesPart,
    frame: usize,
    printed: Option<Paper>,
    open: bool,
    /// Which list joints and sheets are of; none where it is of an earlier model.
    stock: Option<u64>,
}

/// The drawings of what is in hand, made anew when that changes.
#[derive(Debug, Default)]
pub struct Sheets {
    made_from: Option<Key>,
    laid: Vec<Laid>,
}

impl Sheets {
    /// The drawings of what is in hand now.
    pub fn keep(&mut self, derived: &Derived, taking: &Stocktaking, state: &UiState) -> &[Laid] {
        let Some(model) = derived.model.as_deref().filter(|_| state.lies_flat()) else {
            return &[];
        };
        let list = taking.of_model(derived.count).map(|l| &**l);
        let key = Key {
            count: derived.count,
            units: model.hull.units,
            question: state.question,
            bones: state.selection.bones,
            frame: state.selection.frame,
            printed: printed(state),
            open: state.table.open,
            stock: list.map(|_| taking.changes),
        };
        if self.made_from != Some(key) {
            self.laid = drawings(model, list, state);
            self.made_from = Some(key);
        }
        &self.laid
    }
}

/// The paper that pages are looked at for, if they are.
fn printed(state: &UiState) -> Option<Paper> {
    let table = &state.table;
    (table.open && table.tool == Tool::Print).then_some(table.paper)
}

/// The drawings that belong to a question; those of the boat as she stands, once measured.
/// While pages are looked at, they are drawn as they go on paper: halves of what is the same
/// on both sides, a frame to a scale.
pub fn drawings(model: &Model, list: Option<&StockList>, state: &UiState) -> Vec<Laid> {
    let units = model.hull.units;
    let boat = Counted { model, list };
    let on_paper = printed(state).map(|paper| OnPaper { paper, units, extent: Extent::Half });
    let mut in_hand: Vec<(u8, Option<PartId>, Subject)> = catalogue(boat)
        .into_iter()
        .filter_map(|s| place_in_hand(model, state, s).map(|(place, piece)| (place, piece, s)))
        .collect();
    in_hand.sort_by_key(|(place, ..)| *place);
    in_hand
        .into_iter()
        .filter_map(|(_, piece, s)| {
            let drawing = match on_paper {
                Some(sheets) => s.printed(boat, sheets),
                None => s.drawn(boat, units),
            };
            Some(Laid::of(s.name(model), piece, drawing?))
        })
        .collect()
}

/// Where a drawing lies among those of the question in hand, and the piece that it is of;
/// `None` if it belongs to another. Those at one place keep their order.
fn place_in_hand(model: &Model, state: &UiState, subject: Subject) -> Option<(u8, Option<PartId>)> {
    let frames = &model.woodwork.frames;
    let frame = state.selection.frame.min(frames.len().saturating_sub(1));
    let piece = subject.part().map(PartId::assembly);
    match (state.question, state.selection.bones, subject) {
        (Question::Skin, _, Subject::Part(PartId::Panel(_))) => Some((0, piece)),
        // In the strip the sheets are shown themselves.
        (Question::Stock, _, Subject::Sheet { .. }) => state.table.open.then_some((0, None)),
        (Question::Bones, BonesPart::Frames, Subject::AsBuilt(FrameId(i))) => {
            let built = model.as_built.as_deref()?.model.woodwork.frames.get(i)?;
            let same = frames.get(frame)?.station == built.station;
            same.then_some((1, Some(PartId::frame(frame))))
        }
        (Question::Bones, part, Subject::Part(_) | Subject::Pieces(_)) => match piece? {
            PartId::Frame(FrameId(i)) => {
                (part == BonesPart::Frames && i == frame).then_some((0, piece))
            }
            PartId::Transom(_) | PartId::Stem(_) => (part == BonesPart::Ends).then_some((0, piece)),
            _ => None,
        },
        // The elevation is what is looked at first, the table last.
        (Question::Setup, _, Subject::JigElevation) => Some((0, None)),
        (Question::Setup, _, Subject::Offsets) => Some((2, None)),
        (
            Question::Setup,
            _,
            Subject::JigPlan
            | Subject::JigSection
            | Subject::SetUp(_)
            | Subject::LinesPlan
            | Subject::BodyPlan,
        ) => Some((1, None)),
        _ => None,
    }
}
