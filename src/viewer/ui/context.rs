//! What every panel reads, and where it puts what it asks for.

use std::sync::Arc;

use crate::finding::{Finding, Severity};
use crate::hull::{Hull, HullLines};
use crate::model::Model;
use crate::model::stock::StockList;
use crate::units::Units;
use crate::viewer::camera::View;
use crate::viewer::drawings_on_show::Laid;
use crate::viewer::prefs::Preferences;
use crate::viewer::session::{Command, Session};
use crate::viewer::state::dialogs::Next;
use crate::viewer::state::{Question, UiState};
use crate::viewer::stocktaking::{Ask, Stocktaking};
use crate::viewer::theme::{Theme, Tokens};
use crate::viewer::yard::{AskYard, Yard};

/// What every panel reads, and where it puts what it asks for.
pub struct Context<'a> {
    /// The document and its history.
    pub session: &'a Session,
    /// The last good model.
    pub model: Option<&'a Model>,
    /// The document's lines, splined; `None` where no batten passes through their ducks.
    pub lines: Option<Arc<HullLines>>,
    /// The model of the shape to compare with.
    pub ghost: Option<&'a Model>,
    /// The drawings of what is in hand, from the last good model.
    pub patterns: &'a [Laid],
    /// Whether the document has moved on since that model.
    pub old: bool,
    /// What she is cut from, as far as it is counted.
    pub stocktaking: &'a Stocktaking,
    /// Whether that is of an earlier model.
    pub old_stock: bool,
    /// The cheapest boat of what the yard has, as far as it was looked for.
    pub yard: &'a Yard,
    /// Whether that was found for an earlier model.
    pub old_yard: bool,
    /// What goes on behind the window: words and the share done.
    pub busy: Option<(String, f32)>,
    /// What the window remembers.
    pub state: &'a mut UiState,
    /// What the builder prefers.
    pub prefs: &'a mut Preferences,
    /// The camera.
    pub view: &'a mut View,
    /// Commands for the next frame.
    pub commands: Vec<Command>,
    /// What is asked of the layouts.
    pub asks: Vec<Ask>,
    /// What is asked of the search over the yard.
    pub asks_yard: Vec<AskYard>,
    /// The theme's colours.
    pub tokens: &'static Tokens,
}

impl<'a> Context<'a> {
    /// A document's lines, splined: those of the model where it was made of the same.
    pub fn lines_of(hull: &Hull, model: Option<&Model>) -> Option<Arc<HullLines>> {
        let same = model.filter(|m| HullLines::same(&m.hull, hull));
        same.map(|m| m.lines.clone()).or_else(|| HullLines::of(hull).ok().map(Arc::new))
    }

    /// What she is cut from, once it was counted.
    pub fn stock(&self) -> Option<&'a StockList> {
        self.stocktaking.list.as_deref()
    }

    /// Whether a question has an answer yet: what she is cut from is counted when it is asked,
    /// and a list of an earlier shape answers nothing of this one.
    pub fn answered(&self, question: Question) -> bool {
        question != Question::Stock || (self.stock().is_some() && !self.old_stock)
    }

    /// Findings of the question in hand.
    pub fn findings(&self, question: Question) -> Vec<&Finding> {
        let all = self.model.iter().flat_map(|m| m.findings.iter());
        let counted = self.stock().map_or(&[][..], |l| &l.findings);
        all.chain(counted).filter(|f| f.question() == Some(question)).collect()
    }

    /// The reader's units.
    pub fn units(&self) -> Units {
        self.session.hull().units
    }

    /// Asks for a command.
    pub fn ask(&mut self, command: Command) {
        self.commands.push(command);
    }

    /// Goes on to what would put the boat in hand away, or asks about unsaved work first.
    pub fn leave_for(&mut self, next: Next) {
        if self.session.changed() {
            self.state.dialogs.guard = Some(next);
        } else {
            self.ask(next.command());
        }
    }

    /// Brings a place of the skin (mm) to the middle of the stage.
    pub fn look_at(&mut self, at: crate::geom::P3, outward: crate::geom::V3) {
        self.view.goal = self.view.goal.look_at(at, outward);
        self.state.display.opened = 0.0;
        self.state.table.open = false;
    }

    /// The theme.
    pub fn theme(&self) -> Theme {
        if self.prefs.dark { Theme::Dark } else { Theme::Light }
    }

    /// What stands against building her as she is.
    pub fn stopped(&self) -> impl Iterator<Item = &Finding> {
        let findings = self.model.iter().flat_map(|m| &m.findings);
        findings.filter(|f| f.severity == Severity::Stop)
    }
}
