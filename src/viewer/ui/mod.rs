//! The panels round the stage. They read the session and the model, and send commands.

pub mod card_bones;
pub mod card_shape;
pub mod card_skin;
pub mod files;
pub mod parts;
pub mod rail;
pub mod state;
pub mod strip;
pub mod strip_flat;
pub mod strip_strain;
pub mod style;
pub mod top;

use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_egui::egui::{self, Panel, Ui, UiBuilder};
use bevy_egui::{EguiContexts, EguiInput, EguiPrimaryContextPass};

use super::camera::View;
use super::derive::Derived;
use super::session::{Command, Session};
use crate::finding::Finding;
use crate::model::Model;
use state::{Question, UiState};
use style::{Theme, Tokens, size};

/// What every panel reads, and where it puts what it asks for.
pub struct Context<'a> {
    /// The document and its history.
    pub session: &'a Session,
    /// The last good model.
    pub model: Option<&'a Model>,
    /// Whether the document has moved on since that model.
    pub old: bool,
    /// Why the document as it is cannot be computed.
    pub faults: &'a [Finding],
    /// What the window remembers.
    pub state: &'a mut UiState,
    /// The camera.
    pub view: &'a mut View,
    /// Commands for the next frame.
    pub commands: Vec<Command>,
    /// The theme's colours.
    pub tokens: &'static Tokens,
}

impl Context<'_> {
    /// Findings of the question in hand, faults of the document first.
    pub fn findings(&self, part: &str) -> Vec<&Finding> {
        let computed = self.model.iter().flat_map(|m| m.findings.iter()).filter(|f| f.part == part);
        self.faults.iter().chain(computed).collect()
    }

    /// Asks for a command.
    pub fn ask(&mut self, command: Command) {
        self.commands.push(command);
    }
}

/// Shows the panels.
#[derive(Debug)]
pub struct UiPlugin;

impl Plugin for UiPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<UiState>()
            .add_systems(Update, drop_unchanged_modifiers)
            .add_systems(EguiPrimaryContextPass, show);
    }
}

/// Frames drawn after the last thing that happened: one for what the panels asked for, one
/// for what that changed, and one because a frame in which the panels' texture has just
/// grown is drawn without it.
const FRAMES_AFTER: u8 = 3;

/// The state of the modifier keys comes with every frame; taken for an event, it would
/// keep the window drawing for ever. Only a change is one.
fn drop_unchanged_modifiers(mut inputs: Query<&mut EguiInput>, mut last: Local<egui::Modifiers>) {
    for mut input in &mut inputs {
        input.events.retain(|e| match e {
            egui::Event::ModifiersChanged(now) if *now == *last => false,
            egui::Event::ModifiersChanged(now) => {
                *last = *now;
                true
            }
            _ => true,
        });
    }
}

fn show(
    mut contexts: EguiContexts,
    session: Res<Session>,
    derived: Res<Derived>,
    mut state: ResMut<UiState>,
    mut view: ResMut<View>,
    mut writer: MessageWriter<Command>,
    window: Query<&Window, With<PrimaryWindow>>,
    mut styled: Local<Option<Theme>>,
    mut has_fonts: Local<bool>,
    mut frames_left: Local<u8>,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    if !*has_fonts {
        // New fonts are there from the next pass on.
        ctx.set_fonts(style::fonts());
        ctx.request_repaint();
        *has_fonts = true;
        return Ok(());
    }
    // Work on a copy, so that change detection fires on real changes only.
    let mut next = state.clone();
    if *styled != Some(next.theme()) {
        style::apply(&ctx, next.theme());
        style::lay_out_every_sign(&ctx);
        *styled = Some(next.theme());
        ctx.request_repaint();
    }
    let mut looked = *view;
    let commands = {
        let mut context = Context {
            session: &session,
            model: derived.model.as_deref(),
            old: derived.old(&session),
            faults: &derived.faults,
            tokens: next.theme().tokens(),
            state: &mut next,
            view: &mut looked,
            commands: Vec::new(),
        };
        let scale = window.single().map_or(1.0, |w| w.scale_factor());
        panels(&ctx, &mut context, scale);
        context.commands
    };
    let happened = !commands.is_empty()
        || *state != next
        || derived.is_changed()
        || session.is_changed()
        || ctx.input(|i| !i.events.is_empty());
    writer.write_batch(commands);
    state.set_if_neq(next);
    if happened {
        *frames_left = FRAMES_AFTER;
    }
    if *frames_left > 0 {
        *frames_left -= 1;
        ctx.request_repaint();
    }
    if looked.asked != view.asked || looked.stage != view.stage {
        view.asked = looked.asked;
        view.stage = looked.stage;
        ctx.request_repaint();
    }
    Ok(())
}

/// Lays out all panels; what is left in the middle is the stage.
pub fn panels(ctx: &egui::Context, context: &mut Context, scale: f32) {
    let mut root = Ui::new(
        ctx.clone(),
        "root".into(),
        UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(ctx.viewport_rect()),
    );
    shortcuts(ctx, context);
    // What is pointed at is lit up; the panels below say what that is.
    context.state.lit = None;
    let tokens = context.tokens;
    let frame = |pad: f32| egui::Frame::new().fill(tokens.paper).inner_margin(pad);
    Panel::top("top")
        .exact_size(size::TOP)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(&mut root, |ui| top::show(ui, context));
    Panel::left("rail")
        .exact_size(size::RAIL)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(&mut root, |ui| rail::show(ui, context));
    Panel::right("card").exact_size(size::CARD).resizable(false).frame(frame(size::PAD)).show(
        &mut root,
        |ui| {
            egui::ScrollArea::vertical()
                .auto_shrink([false, false])
                .show(ui, |ui| card(ui, context));
        },
    );
    Panel::bottom("strip").default_size(size::STRIP).resizable(true).frame(frame(size::GAP)).show(
        &mut root,
        |ui| match context.state.question {
            Question::Skin => strip_flat::show(ui, context),
            Question::Bones => strip_strain::show(ui, context),
            _ => strip::show(ui, context),
        },
    );
    let stage = root.available_rect_before_wrap();
    rail::views(&mut root, context, stage);
    let pixels = |v: f32| (v * scale).round().max(0.0) as u32;
    context.view.stage = Some(UVec4::new(
        pixels(stage.min.x),
        pixels(stage.min.y),
        pixels(stage.width()),
        pixels(stage.height()),
    ));
}

fn card(ui: &mut Ui, context: &mut Context) {
    let question = context.state.question;
    parts::heading(ui, context, question);
    match question {
        Question::Shape => card_shape::show(ui, context),
        Question::Skin => card_skin::show(ui, context),
        Question::Bones => card_bones::show(ui, context),
        _ => {
            ui.label("This question is not answered yet. Shape, Skin and Bones are.");
        }
    }
    if question.alive() {
        parts::findings(ui, context, question.part());
    }
}

/// Ctrl-Z, Ctrl-Shift-Z, Ctrl-S, Ctrl-O.
fn shortcuts(ctx: &egui::Context, context: &mut Context) {
    use egui::{Key, KeyboardShortcut, Modifiers};
    let pressed = |modifiers: Modifiers, key: Key| {
        ctx.input_mut(|i| i.consume_shortcut(&KeyboardShortcut::new(modifiers, key)))
    };
    if pressed(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z) || pressed(Modifiers::COMMAND, Key::Y)
    {
        context.ask(Command::Redo);
    }
    if pressed(Modifiers::COMMAND, Key::Z) {
        context.ask(Command::Undo);
    }
    if pressed(Modifiers::COMMAND, Key::S) {
        files::save(context);
    }
    if pressed(Modifiers::COMMAND, Key::O) {
        files::open(context);
    }
}
