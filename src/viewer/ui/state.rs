//! What the window remembers that is no part of the boat.

use std::path::PathBuf;

use bevy::prelude::Resource;

use super::table::Table;
use crate::hull::starters::Starter;
use crate::hull::{Dimension, Duck};
use crate::model::Model;
use crate::model::afloat::Afloat;
use crate::viewer::session::Command;

pub use super::question::{BonesPart, Look};
pub use crate::part::{AtEnd, FrameId, MemberId, PanelId, PartId, Question};

/// Which two coordinates a strip's view shows.
pub use crate::curve::View as StripView;

/// A ruling followed from the hull to the pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trace {
    /// Panel index.
    pub panel: usize,
    /// Ruling index.
    pub ruling: usize,
}

/// A duck, by line and index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DuckId {
    /// Index into the document's lines.
    pub line: usize,
    /// Index into its ducks.
    pub duck: usize,
}

/// Where a duck was taken hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Grasp {
    /// In the strip.
    Strip(StripView),
    /// On the stage, in the plane square to this axis (0 aft, 1 out, 2 up).
    Stage(usize),
}

/// A duck in the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Dragged {
    /// Which one.
    pub id: DuckId,
    /// Where it was taken.
    pub grasp: Grasp,
    /// From the pointer to the duck when it was taken, points: it does not jump.
    pub grip: [f32; 2],
    /// Where the duck was when it was taken.
    pub start: Duck,
    /// What it has snapped to, in words.
    pub snapped: Vec<String>,
}

/// What a path is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilePurpose {
    /// Open a document.
    Open,
    /// Save under a name.
    SaveAs,
    /// Write the build pack.
    Pack,
    /// A picture of the window.
    Picture,
}

/// What is to happen once unsaved work is dealt with.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// Open a document.
    Open(PathBuf),
    /// Start from a starter.
    Start(&'static Starter),
    /// Take up the work that was left over.
    TakeUp,
    /// Close the window.
    Close,
}

impl Next {
    /// The command that does it.
    pub fn command(self) -> Command {
        match self {
            Next::Open(path) => Command::Open(path),
            Next::Start(starter) => Command::Start(starter),
            Next::TakeUp => Command::TakeUp,
            Next::Close => Command::Close,
        }
    }
}

/// Which curve is plotted along the members.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Plotted {
    /// Strain of the worst fibre.
    #[default]
    Strain,
    /// Curvature in the plane of the moulded depth.
    Moulded,
    /// Curvature in the plane of the sided width.
    Sided,
    /// Twist.
    Twist,
}

/// What lies in the strip while she is afloat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AfloatPlot {
    /// Righting arm over heel.
    #[default]
    Righting,
    /// What changes with the draft.
    Drafts,
    /// Power over speed.
    Speed,
    /// Her lines, to pull.
    Lines,
}

/// A load being dragged: which, how far from the pointer it was taken (points), and the
/// axis (0 aft, 1 out, 2 up) along which it stays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DraggedLoad {
    /// Index of the load.
    pub load: usize,
    /// From the pointer to its middle, points.
    pub grip: [f32; 2],
    /// Along this it stays where it is.
    pub axis: usize,
}

/// What the window remembers.
#[derive(Resource, Debug, Clone, PartialEq)]
pub struct UiState {
    /// The question in hand.
    pub question: Question,
    /// How much of her is shown, for each question.
    pub looks: [Look; 6],
    /// The piece under the pointer.
    pub hover: Option<PartId>,
    /// The piece that stays lit.
    pub held: Option<PartId>,
    /// The ruling under the pointer.
    pub trace: Option<Trace>,
    /// What the pointer is found on in this frame, to be shown in the next.
    pub pointing: (Option<PartId>, Option<Trace>),
    /// Show the map of bending on the wood.
    pub map: bool,
    /// Show fairness stripes on the skin.
    pub stripes: bool,
    /// Show the starboard half alone.
    pub half: bool,
    /// Cut her at this x, mm.
    pub section: Option<f64>,
    /// Look at her in water up to this height, mm.
    pub water: Option<f64>,
    /// How far the sheets are opened, 0 to 1.
    pub opened: f32,
    /// Show the curvature combs in the strip.
    pub combs: bool,
    /// Ducks snap to what is near them.
    pub snap: bool,
    /// The duck whose figures are shown.
    pub duck: Option<DuckId>,
    /// The duck being dragged.
    pub dragged: Option<Dragged>,
    /// The panel whose pattern is shown large; all if `None`.
    pub panel: Option<usize>,
    /// The member in hand; the one nearest to breaking if `None`.
    pub member: Option<usize>,
    /// What is plotted along it.
    pub plotted: Plotted,
    /// Which bones are in hand.
    pub bones: BonesPart,
    /// The frame in hand, by index.
    pub frame: usize,
    /// Which of the drawings that are not panels lies in the strip or on the table.
    pub sheet: usize,
    /// How far she is built on her jig: steps of the build order that are done; all if
    /// `None`.
    pub built: Option<usize>,
    /// The load case in hand, by index; that of the full crew if `None`.
    pub case: Option<usize>,
    /// The load in hand.
    pub load: Option<usize>,
    /// The load being dragged on the hull.
    pub dragged_load: Option<DraggedLoad>,
    /// What is plotted of the boat afloat.
    pub plot: AfloatPlot,
    /// Typed but not yet taken: (which field, text).
    pub typed: Option<(String, String)>,
    /// A dimension that was typed and is far from what she is: to be entered once more.
    pub doubted: Option<(Dimension, f64)>,
    /// A stick test being typed: span, width, depth, weight, sag.
    pub stick: [String; 5],
    /// The patterns on the table.
    pub table: Table,
    /// The window asks which boat.
    pub first_page: bool,
    /// The step of the tour.
    pub tour: Option<usize>,
    /// The sheet of shortcuts is open.
    pub keys: bool,
    /// The sheet of trade words is open, and what is looked for in it.
    pub words: Option<String>,
    /// She is not to be built as she is, and her pack is asked for all the same.
    pub stopped_pack: bool,
    /// Unsaved work stands in the way of this.
    pub guard: Option<Next>,
    /// To be done as soon as the work is saved.
    pub then: Option<Next>,
    /// A path is being typed, as the system has no dialog.
    pub path: Option<(FilePurpose, String)>,
    /// The system's dialog is to be opened.
    pub asked_dialog: Option<FilePurpose>,
    /// The path that was typed names a file which will be replaced: asked about once.
    pub replacing: Option<String>,
    /// A file hangs over the window.
    pub dropping: bool,
    /// A text was being typed in the last frame.
    pub typing: bool,
    /// The boat that all this is about; see [`crate::viewer::session::Session::boats`].
    pub boat: u64,
}

impl Default for UiState {
    fn default() -> Self {
        let mut looks = [Look::Planked; 6];
        looks[Question::Bones as usize] = Look::Framed;
        looks[Question::Setup as usize] = Look::Framed;
        UiState {
            question: Question::Shape,
            looks,
            hover: None,
            held: None,
            trace: None,
            pointing: (None, None),
            map: true,
            stripes: false,
            half: false,
            section: None,
            water: None,
            opened: 0.0,
            combs: true,
            snap: true,
            duck: None,
            dragged: None,
            panel: None,
            member: None,
            plotted: Plotted::Strain,
            bones: BonesPart::default(),
            frame: 0,
            sheet: 0,
            built: None,
            case: None,
            load: None,
            dragged_load: None,
            plot: AfloatPlot::default(),
            typed: None,
            doubted: None,
            stick: Default::default(),
            table: Table::default(),
            first_page: false,
            tour: None,
            keys: false,
            words: None,
            stopped_pack: false,
            guard: None,
            then: None,
            path: None,
            asked_dialog: None,
            replacing: None,
            dropping: false,
            typing: false,
            boat: 1,
        }
    }
}

impl UiState {
    /// The piece lit up: the one under the pointer, or the one that stays lit.
    pub fn lit(&self) -> Option<PartId> {
        self.hover.or(self.held)
    }

    /// The pointer is on this piece.
    pub fn point_at(&mut self, piece: PartId) {
        self.pointing.0 = Some(piece);
    }

    /// The pointer is on this ruling of a panel.
    pub fn point_at_ruling(&mut self, trace: Trace) {
        self.pointing = (Some(PartId::panel(trace.panel)), Some(trace));
    }

    /// Ends a frame: what was pointed at in it is shown from now on.
    pub fn end_frame(&mut self) {
        (self.hover, self.trace) = std::mem::take(&mut self.pointing);
    }

    /// Index of the member in hand.
    pub fn member_of(&self, model: &Model) -> usize {
        let worst = || {
            let all = model.members.iter().enumerate();
            all.max_by(|a, b| a.1.utilisation.total_cmp(&b.1.utilisation)).map_or(0, |m| m.0)
        };
        self.member.filter(|i| *i < model.members.len()).unwrap_or_else(worst)
    }

    /// Index of the load case in hand.
    pub fn case_of(&self, afloat: &Afloat) -> usize {
        let full =
            || afloat.cases.iter().position(|c| c.id == crate::part::CaseId::Full).unwrap_or(0);
        self.case.filter(|i| *i < afloat.cases.len()).unwrap_or_else(full)
    }

    /// How much of her is shown now.
    pub fn look(&self) -> Look {
        self.looks[self.question as usize]
    }

    /// Changes that.
    pub fn set_look(&mut self, look: Look) {
        self.looks[self.question as usize] = look;
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
            Question::Skin | Question::Setup => true,
            Question::Bones => self.bones != BonesPart::Lumber,
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
            Question::Skin => self.panel.unwrap_or(0),
            _ => self.sheet,
        };
        if chosen < count { chosen } else { 0 }
    }

    /// Takes a drawing in hand; the table is cleared of what was measured on another.
    pub fn lay_sheet(&mut self, sheet: usize) {
        if self.question == Question::Skin {
            self.lay(Some(sheet));
        } else if self.sheet != sheet {
            self.clear_table();
            self.sheet = sheet;
        }
    }

    /// Takes a frame in hand.
    pub fn take_frame(&mut self, frame: usize) {
        if self.frame != frame {
            self.clear_table();
        }
        self.frame = frame;
        self.held = Some(PartId::frame(frame));
    }

    /// A piece stays lit, and the list that it stands in shows it.
    pub fn take_in_hand(&mut self, piece: PartId) {
        self.held = Some(piece);
        match piece {
            PartId::Panel(PanelId(i)) if self.question == Question::Skin => self.lay(Some(i)),
            PartId::Member(MemberId(i)) => {
                self.member = Some(i);
                self.bones = BonesPart::Lumber;
            }
            PartId::Frame(FrameId(i)) => {
                self.take_frame(i);
                self.bones = BonesPart::Frames;
            }
            PartId::Transom(_) | PartId::Stem(_) => self.bones = BonesPart::Ends,
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
        (self.duck, self.dragged, self.typed, self.doubted) = (None, None, None, None);
        (self.held, self.panel, self.member) = (None, None, None);
        (self.opened, self.section, self.water) = (0.0, None, None);
        (self.frame, self.sheet, self.built) = (0, 0, None);
        (self.case, self.load, self.dragged_load) = (None, None, None);
        self.stick = fresh.stick;
        self.lay(None);
    }

    /// Takes a panel in hand; the table is cleared of what was measured on another.
    pub fn lay(&mut self, panel: Option<usize>) {
        if self.panel != panel || panel.is_none() {
            self.clear_table();
            self.typed = None;
        }
        self.panel = panel;
    }

    /// Takes a question in hand.
    pub fn ask(&mut self, question: Question) {
        if self.question != question {
            self.question = question;
            self.typed = None;
            self.hover = None;
            self.held = None;
            self.trace = None;
            self.table.full_screen = false;
            self.clear_table();
            self.sheet = 0;
        }
    }
}
