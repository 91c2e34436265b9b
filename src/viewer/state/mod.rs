//! What the window remembers that is no part of the boat.

pub mod dialogs;
pub mod display;
pub mod look;
pub mod selection;
pub mod stock;
pub mod table;
pub mod typing;

use bevy::prelude::Resource;
use dialogs::Dialogs;
use display::Display;
use selection::Selection;
use stock::StockHand;
use table::Table;
use typing::Typing;

use crate::model::Model;
use crate::model::afloat::Afloat;

pub use crate::part::{AtEnd, FrameId, MemberId, PanelId, PartId, Question};
pub use display::{AfloatPlot, Plotted};
pub use look::{BonesPart, Look};
pub use selection::{Dragged, DraggedLoad, DuckId, Grasp, StripView, Trace};

/// What the window remembers.
#[derive(Resource, Debug, Clone, PartialEq)]
pub struct UiState {
    /// The question in hand.
    pub question: Question,
    /// What is in hand and under the pointer.
    pub selection: Selection,
    /// How she is shown.
    pub display: Display,
    /// What is being typed.
    pub typing: Typing,
    /// What the window asks and is asked.
    pub dialogs: Dialogs,
    /// The patterns on the table.
    pub table: Table,
    /// What is chosen and held of the sheets.
    pub stock: StockHand,
    /// The boat that all this is about; see [`crate::viewer::session::Session::boats`].
    pub boat: u64,
}

impl Default for UiState {
    fn default() -> Self {
        UiState {
            question: Question::Shape,
            selection: Selection::default(),
            display: Display::default(),
            typing: Typing::default(),
            dialogs: Dialogs::default(),
            table: Table::default(),
            stock: StockHand::default(),
            boat: 1,
        }
    }
}

impl UiState {
    /// The piece lit up: the one under the pointer, or the one that stays lit.
    pub fn lit(&self) -> Option<PartId> {
        self.selection.hover.or(self.selection.held)
    }

    /// The pointer is on this piece.
    pub fn point_at(&mut self, piece: PartId) {
        self.selection.pointing.0 = Some(piece);
    }

    /// The pointer is on this ruling of a panel.
    pub fn point_at_ruling(&mut self, trace: Trace) {
        self.selection.pointing = (Some(PartId::panel(trace.panel)), Some(trace));
    }

    /// Ends a frame: what was pointed at in it is shown from now on.
    pub fn end_frame(&mut self) {
        (self.selection.hover, self.selection.trace) = std::mem::take(&mut self.selection.pointing);
    }

    /// Index of the member in hand.
    pub fn member_of(&self, model: &Model) -> usize {
        let worst = || {
            let all = model.members.iter().enumerate();
            all.max_by(|a, b| a.1.utilisation.total_cmp(&b.1.utilisation)).map_or(0, |m| m.0)
        };
        self.selection.member.filter(|i| *i < model.members.len()).unwrap_or_else(worst)
    }

    /// Index of the load case in hand.
    pub fn case_of(&self, afloat: &Afloat) -> usize {
        let full =
            || afloat.cases.iter().position(|c| c.id == crate::part::CaseId::Full).unwrap_or(0);
        self.selection.case.filter(|i| *i < afloat.cases.len()).unwrap_or_else(full)
    }

    /// How much of her is shown now.
    pub fn look(&self) -> Look {
        self.display.looks[self.question as usize]
    }

    /// Changes that.
    pub fn set_look(&mut self, look: Look) {
        self.display.looks[self.question as usize] = look;
    }

    /// Whether the sheets can be opened now.
    pub fn unfolds(&self) -> bool {
        self.question == Question::Skin && self.look() == Look::Planked
    }

    /// Whether the table lies over the stage.
    pub fn on_table(&self) -> bool {
        self.lies_flat() && self.table.open
    }

    /// Whether what is in hand has drawings that can be laid on the table.
    pub fn lies_flat(&self) -> bool {
        match self.question {
            Question::Skin | Question::Setup | Question::Stock => true,
            Question::Bones => self.selection.bones != BonesPart::Lumber,
            _ => false,
        }
    }

    /// Whether she lies upside down on her jig.
    pub fn turned(&self) -> bool {
        self.question == Question::Setup
    }

    /// Which of `count` drawings is in hand.
    pub fn drawing(&self, count: usize) -> usize {
        let chosen = match self.question {
            Question::Skin => self.selection.panel.unwrap_or(0),
            _ => self.selection.sheet,
        };
        if chosen < count { chosen } else { 0 }
    }

    /// Takes a drawing in hand; the table is cleared of what was measured on another.
    pub fn lay_sheet(&mut self, sheet: usize) {
        if self.question == Question::Skin {
            self.lay(Some(sheet));
        } else if self.selection.sheet != sheet {
            self.clear_table();
            self.selection.sheet = sheet;
        }
    }

    /// Takes a frame in hand.
    pub fn take_frame(&mut self, frame: usize) {
        if self.selection.frame != frame {
            self.clear_table();
        }
        self.selection.frame = frame;
        self.selection.held = Some(PartId::frame(frame));
    }

    /// A piece stays lit, and the list that it stands in shows it.
    pub fn take_in_hand(&mut self, piece: PartId) {
        self.selection.held = Some(piece);
        match piece {
            PartId::Panel(PanelId(i)) if self.question == Question::Skin => self.lay(Some(i)),
            PartId::Member(MemberId(i)) => {
                self.selection.member = Some(i);
                self.selection.bones = BonesPart::Lumber;
            }
            PartId::Frame(FrameId(i)) => {
                self.take_frame(i);
                self.selection.bones = BonesPart::Frames;
            }
            PartId::Transom(_) | PartId::Stem(_) => self.selection.bones = BonesPart::Ends,
            _ => {}
        }
    }

    fn clear_table(&mut self) {
        let table = &mut self.table;
        (table.looked, table.page) = (None, None);
        (table.full.shift, table.full.shifted) = (None, [0.0; 2]);
        table.measured.clear();
    }

    /// Forgets what was chosen and measured on one boat, when another is in hand.
    pub fn forget_boat(&mut self, boat: u64) {
        let fresh = UiState::default();
        self.boat = boat;
        (self.selection.duck, self.selection.dragged) = (None, None);
        (self.typing.typed, self.typing.doubted) = (Vec::new(), None);
        (self.selection.held, self.selection.panel, self.selection.member) = (None, None, None);
        (self.display.opened, self.display.section, self.display.water) = (0.0, None, None);
        (self.selection.frame, self.selection.sheet, self.display.built) = (0, 0, None);
        (self.selection.case, self.selection.load, self.selection.dragged_load) =
            (None, None, None);
        self.stock = fresh.stock;
        self.typing.stick = fresh.typing.stick;
        self.lay(None);
    }

    /// Takes a panel in hand; the table is cleared of what was measured on another.
    pub fn lay(&mut self, panel: Option<usize>) {
        if self.selection.panel != panel || panel.is_none() {
            self.clear_table();
            self.typing.typed.clear();
        }
        self.selection.panel = panel;
    }

    /// Takes a question in hand.
    pub fn ask(&mut self, question: Question) {
        if self.question != question {
            self.question = question;
            self.typing.typed.clear();
            self.selection.hover = None;
            self.selection.held = None;
            self.selection.trace = None;
            self.table.full_screen = false;
            self.clear_table();
            self.selection.sheet = 0;
        }
    }
}
