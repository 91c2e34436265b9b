//! The window's panels without a window, to be pressed, dragged and typed in as by a builder,
//! found by the names that a screen reader says.

use std::path::PathBuf;
use std::sync::Arc;

use bevy_egui::egui::{self, Key, Modifiers, Pos2, accesskit::Role};
use chinewright::hull::starters::demonstration;
use chinewright::hull::{CheckedHull, Hull};
use chinewright::material::Materials;
use chinewright::model::stock::{SEED, stock};
use chinewright::model::{Model, derive_checked};
use chinewright::stock::nest::Effort;
use chinewright::viewer::camera::{Orbit, View};
use chinewright::viewer::derive::Derived;
use chinewright::viewer::drawings_on_show::{Laid, Sheets};
use chinewright::viewer::prefs::Preferences;
use chinewright::viewer::session::{Command, Session};
use chinewright::viewer::state::{Question, UiState};
use chinewright::viewer::stocktaking::Stocktaking;
use chinewright::viewer::theme;
use chinewright::viewer::theme::{LIGHT, Theme};
use chinewright::viewer::ui::context::Context;
use chinewright::viewer::ui::panels;
use chinewright::viewer::yard::Yard;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

/// What the window's systems hold, without the systems.
pub(crate) struct Loft {
    pub(crate) session: Session,
    pub(crate) model: Option<Model>,
    ghost: Option<Model>,
    pub(crate) patterns: Vec<Laid>,
    revision: u64,
    derived: Derived,
    sheets: Sheets,
    pub(crate) state: UiState,
    pub(crate) prefs: Preferences,
    pub(crate) view: View,
    pub(crate) asked: Vec<Command>,
    /// What she is cut from: the layout made at once.
    pub(crate) taking: Stocktaking,
    pub(crate) yard: Yard,
}

impl Loft {
    pub(crate) fn new(hull: Hull, path: Option<PathBuf>) -> Loft {
        let mut loft = Loft {
            session: Session::new(CheckedHull::of(hull).expect("a boat"), path),
            model: None,
            ghost: None,
            patterns: Vec::new(),
            revision: 0,
            derived: Derived::default(),
            sheets: Sheets::default(),
            state: UiState::default(),
            prefs: Preferences { toured: true, ..Preferences::default() },
            view: View::default(),
            asked: Vec::new(),
            taking: Stocktaking::of_passes(1),
            yard: Yard::default(),
        };
        loft.follow();
        loft
    }

    /// Computes what the document is now.
    fn follow(&mut self) {
        if self.revision == self.session.revision() {
            return;
        }
        self.revision = self.session.revision();
        let materials = Materials::shipped();
        self.model = Some(derive_checked(self.session.hull(), &materials));
        self.ghost = Some(derive_checked(self.session.ghost(), &materials));
        self.derived.model = self.model.clone().map(Arc::new);
        self.derived.count = self.revision;
    }

    /// Counts her stock where it is asked for.
    fn count(&mut self) {
        let asked = self.state.question == Question::Stock;
        if let Some(model) = self.derived.model.as_ref().filter(|_| asked)
            && self.taking.of_model(self.revision).is_none()
        {
            let list = stock(model, Effort::NONE, SEED, &mut |_, _| true);
            self.taking.take(list, model, self.revision);
        }
    }

    fn frame(&mut self, ctx: &egui::Context) {
        self.count();
        self.patterns = self.sheets.keep(&self.derived, &self.taking, &self.state).to_vec();
        let (commands, asks) = {
            let mut context = Context {
                session: &self.session,
                model: self.model.as_ref(),
                lines: Context::lines_of(self.session.hull(), self.model.as_ref()),
                ghost: self.ghost.as_ref(),
                patterns: &self.patterns,
                old: false,
                stocktaking: &self.taking,
                old_stock: false,
                yard: &self.yard,
                old_yard: false,
                busy: None,
                state: &mut self.state,
                prefs: &mut self.prefs,
                view: &mut self.view,
                commands: Vec::new(),
                asks: Vec::new(),
                asks_yard: Vec::new(),
                tokens: &LIGHT,
            };
            panels(ctx, &mut context);
            (context.commands, context.asks)
        };
        for command in &commands {
            self.session.apply(command);
        }
        self.asked.extend(commands);
        for ask in &asks {
            self.taking.answer(ask);
        }
        self.follow();
    }
}

/// A window of 1280 x 800 on the demonstration hull, seen from the quarter.
pub(crate) fn window() -> Harness<'static, Loft> {
    window_of(Loft::new(demonstration(), None))
}

pub(crate) fn window_of(loft: Loft) -> Harness<'static, Loft> {
    let mut styled = 0;
    let mut harness = Harness::builder().with_size([1280.0, 800.0]).build_ui_state(
        move |ui, loft: &mut Loft| {
            // Fonts set in one frame are there in the next.
            match styled {
                0 => ui.ctx().set_fonts(theme::fonts()),
                _ => {
                    theme::apply(ui.ctx(), Theme::Light);
                    loft.frame(ui.ctx());
                }
            }
            styled += 1;
        },
        loft,
    );
    harness.run_steps(4);
    let loft = harness.state_mut();
    let model = loft.model.as_ref().expect("a model");
    let (low, high) = chinewright::viewer::camera::hull_box(model);
    let orbit = Orbit::fit(chinewright::screen::ViewFrom::Quarter, low, high, 1.6);
    (loft.view.now, loft.view.goal) = (orbit, orbit);
    harness.run_steps(2);
    harness
}

/// Drags from one place to another in a few steps, as a hand does.
pub(crate) fn drag(w: &mut Harness<'static, Loft>, from: Pos2, to: Pos2) {
    w.hover_at(from);
    w.step();
    w.drag_at(from);
    w.step();
    for k in 1..=5 {
        w.hover_at(from + (to - from) * (k as f32 / 5.0));
        w.step();
    }
    w.drop_at(to);
    w.run_steps(3);
}

pub(crate) fn place(w: &Harness<'static, Loft>, name: &str) -> Pos2 {
    w.get_by_label(name).rect().center()
}

/// What must have a name for someone who cannot see the window.
pub(crate) const PRESSED: [Role; 9] = [
    Role::Button,
    Role::CheckBox,
    Role::RadioButton,
    Role::TextInput,
    Role::SpinButton,
    Role::Slider,
    Role::ComboBox,
    Role::Link,
    Role::MenuItem,
];

/// The text field of this name.
pub(crate) fn field<'a>(w: &'a Harness<'static, Loft>, name: &'a str) -> egui_kittest::Node<'a> {
    w.get_by_role_and_label(Role::TextInput, name)
}

/// Types into a field by its name and enters it.
pub(crate) fn type_into(w: &mut Harness<'static, Loft>, name: &str, text: &str) {
    w.get_by_label(name).focus();
    w.run_steps(2);
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run_steps(1);
    w.get_by_label(name).type_text(text);
    w.run_steps(2);
    w.key_press(Key::Enter);
    w.run_steps(3);
}
