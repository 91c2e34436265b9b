//! The panels round the stage. They read the session and the model, and send commands.

pub mod card_afloat;
pub mod card_bones;
pub mod card_ends;
pub mod card_frames;
pub mod card_limits;
pub mod card_setup;
pub mod card_shape;
pub mod card_skin;
pub mod card_stick;
pub mod compare;
pub mod dimensions;
pub mod ducks;
pub mod fields;
pub mod files;
pub mod finding;
pub mod first_page;
pub mod float_words;
pub mod glossary;
pub mod guard;
pub mod keys;
pub mod laid;
pub mod late_frames;
pub mod legend;
pub mod loads;
pub mod notices;
pub mod overlay;
pub mod parts;
pub mod plot;
pub mod portrait;
pub mod question;
pub mod rail;
pub mod run;
pub mod stage;
pub mod state;
pub mod strip;
pub mod strip_afloat;
pub mod strip_bones;
pub mod strip_flat;
pub mod strip_paint;
pub mod strip_sheet;
pub mod style;
pub mod table;
pub mod top;
pub mod tour;
pub mod words;

use bevy::prelude::UVec4;
use bevy_egui::egui::{self, Key, Panel, Ui, UiBuilder};

use super::camera::View;
use super::prefs::Preferences;
use super::session::{Command, Session};
use crate::finding::Finding;
use crate::model::Model;
use crate::units::Units;
use laid::Laid;
pub use run::UiPlugin;
use state::{AfloatPlot, BonesPart, Next, Question, UiState};
use style::{Theme, Tokens, size};

/// What every panel reads, and where it puts what it asks for.
pub struct Context<'a> {
    /// The document and its history.
    pub session: &'a Session,
    /// The last good model.
    pub model: Option<&'a Model>,
    /// The model of the shape to compare with.
    pub ghost: Option<&'a Model>,
    /// The drawings of what is in hand, from the last good model.
    pub patterns: &'a [Laid],
    /// Whether the document has moved on since that model.
    pub old: bool,
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
    /// The theme's colours.
    pub tokens: &'static Tokens,
}

impl Context<'_> {
    /// Findings of the question in hand.
    pub fn findings(&self, question: Question) -> Vec<&Finding> {
        let all = self.model.iter().flat_map(|m| m.findings.iter());
        all.filter(|f| f.question() == Some(question)).collect()
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
            self.state.guard = Some(next);
        } else {
            guard::go(self, next);
        }
    }

    /// Brings a place of the skin (mm) to the middle of the stage.
    pub fn look_at(&mut self, at: crate::geom::P3, outward: crate::geom::V3) {
        self.view.goal = self.view.goal.look_at(at, outward);
        self.state.opened = 0.0;
        self.state.table.open = false;
    }

    /// The theme.
    pub fn theme(&self) -> Theme {
        if self.prefs.dark { Theme::Dark } else { Theme::Light }
    }
}

/// Lays out all panels; what is left in the middle is the stage.
pub fn panels(ctx: &egui::Context, context: &mut Context) {
    let mut root = Ui::new(
        ctx.clone(),
        "root".into(),
        UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(ctx.viewport_rect()),
    );
    if context.state.boat != context.session.boats() {
        context.state.forget_boat(context.session.boats());
        context.state.first_page = false;
        context.view.asked = Some(crate::screen::ViewFrom::Quarter);
    }
    let late = keys::act(ctx, context);
    context.view.covered = context.state.on_table() || context.state.first_page;
    context.state.table.paper = context.prefs.paper(context.session.hull().units);
    let answer_wanted = context.state.guard.is_some() || context.state.path.is_some();
    if context.state.first_page {
        first_page::show(&mut root, context);
    } else if context.state.on_table() && context.state.table.full_screen && !answer_wanted {
        table::full_size::show(&mut root, context);
    } else {
        context.state.table.full_screen = false;
        around_the_stage(ctx, &mut root, context);
    }
    // Whatever it was that was dragged, it is over when nothing is held any more: what was
    // under the hand may have gone away.
    let arrows = [Key::ArrowLeft, Key::ArrowRight, Key::ArrowUp, Key::ArrowDown];
    let held = ctx.input(|i| i.pointer.any_down() || arrows.iter().any(|k| i.key_down(*k)));
    if !held
        && (context.state.dragged.take().is_some()
            || context.state.dragged_load.take().is_some()
            || context.session.dragging())
    {
        context.ask(Command::DragEnd);
    }
    notices::show(ctx, context);
    guard::show(ctx, context);
    tour::show(ctx, context);
    keys::sheet(ctx, context);
    glossary::show(ctx, context);
    keys::act_late(ctx, context, late);
    context.state.end_frame();
}

/// The panels round the stage, and what lies on it.
fn around_the_stage(ctx: &egui::Context, root: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let room = style::room(ctx.viewport_rect().size());
    let frame = |pad: f32| egui::Frame::new().fill(tokens.paper).inner_margin(pad);
    Panel::top("top")
        .exact_size(size::TOP)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(root, |ui| top::show(ui, context));
    Panel::left("rail")
        .exact_size(room.rail)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(root, |ui| rail::show(ui, context));
    Panel::right("card").exact_size(room.card).resizable(false).frame(frame(size::PAD)).show(
        root,
        |ui| {
            // Another question begins at its verdict.
            let id = ui.id().with("card of");
            let of = (context.state.question, context.state.bones);
            let same = ui.data(|d| d.get_temp(id)) == Some(of);
            ui.data_mut(|d| d.insert_temp(id, of));
            let mut area = egui::ScrollArea::vertical().auto_shrink([false, false]);
            if !same {
                area = area.vertical_scroll_offset(0.0);
            }
            area.show(ui, |ui| {
                fields::begin_rows(ui);
                card(ui, context);
                fields::stay_under_the_hand(ui, same);
                // Where less follows than before, what was pressed stays where it is.
                let short = ui.clip_rect().bottom() - ui.cursor().top();
                if same && short > 0.0 {
                    ui.add_space(short);
                }
            });
        },
    );
    if context.state.on_table() {
        let frame = egui::Frame::new().fill(tokens.floor);
        egui::CentralPanel::default().frame(frame).show(root, |ui| table::show(ui, context));
    } else {
        let tall = ctx.viewport_rect().height();
        let (least, most) = (120.0f32.min(0.3 * tall), if room.narrow { 0.45 } else { 0.6 } * tall);
        let strip = Panel::bottom("strip")
            .default_size(context.prefs.strip.min(most))
            .size_range(least..=most)
            .resizable(true)
            .frame(frame(size::GAP))
            .show(root, |ui| match context.state.question {
                Question::Skin => strip_flat::show(ui, context),
                Question::Bones if context.state.bones == BonesPart::Lumber => {
                    strip_bones::show(ui, context);
                }
                Question::Bones | Question::Setup => strip_sheet::show(ui, context),
                Question::Afloat if context.state.plot != AfloatPlot::Lines => {
                    strip_afloat::show(ui, context);
                }
                Question::Afloat => {
                    strip_afloat::choose(ui, context);
                    strip::show(ui, context);
                }
                _ => strip::show(ui, context),
            });
        // As it was pulled, the next time too.
        let height = strip.response.rect.height();
        if (height - context.prefs.strip).abs() > 1.0 && !ctx.input(|i| i.pointer.any_down()) {
            context.prefs.strip = height;
        }
        let rect = root.available_rect_before_wrap();
        let scale = ctx.pixels_per_point();
        let pixels = |v: f32| (v * scale).round().max(0.0) as u32;
        context.view.stage = Some(UVec4::new(
            pixels(rect.min.x),
            pixels(rect.min.y),
            pixels(rect.width()),
            pixels(rect.height()),
        ));
        overlay::show(root, context, rect);
        let clip = root.clip_rect();
        root.set_clip_rect(rect);
        stage::show(root, context, rect);
        root.set_clip_rect(clip);
    }
}

/// Bones: lumber, frames, or the ends.
fn bones(ui: &mut Ui, context: &mut Context) {
    ui.horizontal_wrapped(|ui| {
        for part in BonesPart::ALL {
            let chosen = context.state.bones == part;
            if parts::chip(ui, chosen, part.word()).clicked() && !chosen {
                context.state.bones = part;
                context.state.lay_sheet(0);
            }
        }
    });
    ui.add_space(size::GAP);
    match context.state.bones {
        BonesPart::Lumber => card_bones::show(ui, context),
        BonesPart::Frames => card_frames::show(ui, context),
        BonesPart::Ends => card_ends::show(ui, context),
    }
}

fn card(ui: &mut Ui, context: &mut Context) {
    let question = context.state.question;
    parts::heading(ui, context, question);
    match question {
        Question::Shape => card_shape::show(ui, context),
        Question::Skin => card_skin::show(ui, context),
        Question::Bones => bones(ui, context),
        Question::Setup => card_setup::show(ui, context),
        Question::Afloat => card_afloat::show(ui, context),
        Question::Stock => {
            ui.label("This question is not answered yet. The first five are.");
        }
    }
    if question.alive() {
        parts::findings(ui, context, question);
    }
}
