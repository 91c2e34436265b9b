//! The panels round the stage. They read the session and the model, and send commands.

pub mod card_bones;
pub mod card_shape;
pub mod card_skin;
pub mod compare;
pub mod dimensions;
pub mod ducks;
pub mod fields;
pub mod files;
pub mod guard;
pub mod keys;
pub mod notices;
pub mod overlay;
pub mod parts;
pub mod rail;
pub mod stage;
pub mod state;
pub mod strip;
pub mod strip_bones;
pub mod strip_flat;
pub mod strip_paint;
pub mod style;
pub mod table;
pub mod top;
pub mod tour;
pub mod words;

use std::time::Duration;

use bevy::a11y::{AccessibilityRequested, ActionRequest};
use bevy::prelude::*;
use bevy::window::{MonitorSelection, PrimaryWindow, WindowMode};
use bevy::winit::{EventLoopProxyWrapper, UpdateMode, WinitSettings, WinitUserEvent};
use bevy_egui::egui::{self, Key, Panel, Ui, UiBuilder};
use bevy_egui::{EguiContexts, EguiInput, EguiPrimaryContextPass};

use super::camera::View;
use super::derive::Derived;
use super::desk::Desk;
use super::prefs::{Preferences, Prefs};
use super::session::{Command, Session};
use crate::drawing::Drawing;
use crate::drawing::compose::panel_pattern;
use crate::finding::Finding;
use crate::model::Model;
use state::{Next, Question, UiState};
use style::{Theme, Tokens, size};

/// What every panel reads, and where it puts what it asks for.
pub struct Context<'a> {
    /// The document and its history.
    pub session: &'a Session,
    /// The last good model.
    pub model: Option<&'a Model>,
    /// The model of the shape to compare with.
    pub ghost: Option<&'a Model>,
    /// The patterns of the last good model, one a panel, while they are looked at.
    pub patterns: &'a [Drawing],
    /// Whether the document has moved on since that model.
    pub old: bool,
    /// Why the document as it is cannot be computed.
    pub faults: &'a [Finding],
    /// What goes on behind the window: words and the share done.
    pub busy: Option<(&'a str, f32)>,
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
    /// Findings of the question in hand, faults of the document first.
    pub fn findings(&self, part: &str) -> Vec<&Finding> {
        let computed = self.model.iter().flat_map(|m| m.findings.iter()).filter(|f| f.part == part);
        self.faults.iter().chain(computed).collect()
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

/// Shows the panels.
#[derive(Debug)]
pub struct UiPlugin;

impl Plugin for UiPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<UiState>()
            .init_resource::<Prefs>()
            .add_message::<ActionRequest>()
            .add_systems(Startup, watch_for_assistance)
            .add_systems(Update, (drop_unchanged_modifiers, full_screen, assist))
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

/// How often a window looks for what a screen reader asks of it.
const ASSISTED: Duration = Duration::from_millis(100);

/// A sleeping window does not learn that a screen reader has come: it is woken for it.
fn watch_for_assistance(
    requested: Option<Res<AccessibilityRequested>>,
    wake: Option<Res<EventLoopProxyWrapper>>,
) {
    if let Some((requested, wake)) = requested.zip(wake) {
        let (requested, wake) = (requested.clone(), (**wake).clone());
        std::thread::spawn(move || {
            while !requested.get() {
                std::thread::sleep(5 * ASSISTED);
            }
            let _ = wake.send_event(WinitUserEvent::WakeUp);
        });
    }
}

/// What a screen reader asks for is handed to the panels, and the window stays awake for it.
fn assist(
    mut asked: MessageReader<ActionRequest>,
    requested: Option<Res<AccessibilityRequested>>,
    mut inputs: Query<&mut EguiInput>,
    settings: Option<ResMut<WinitSettings>>,
) {
    for request in asked.read() {
        for mut input in &mut inputs {
            input.events.push(egui::Event::AccessKitActionRequest(request.0.clone()));
        }
    }
    let awake = UpdateMode::reactive_low_power(ASSISTED);
    if requested.is_some_and(|r| r.get())
        && let Some(mut settings) = settings
        && settings.focused_mode != awake
    {
        (settings.focused_mode, settings.unfocused_mode) = (awake, awake);
    }
}

/// Full-size work takes the whole screen.
fn full_screen(state: Res<UiState>, mut window: Query<&mut Window, With<PrimaryWindow>>) {
    let mode = if state.table.full_screen && state.on_table() {
        WindowMode::BorderlessFullscreen(MonitorSelection::Current)
    } else {
        WindowMode::Windowed
    };
    if let Ok(mut window) = window.single_mut()
        && window.mode != mode
    {
        window.mode = mode;
    }
}

/// What the patterns on show were drawn from.
#[derive(Default)]
struct Patterns {
    count: u64,
    units: crate::units::Units,
    drawings: Vec<Drawing>,
}

impl Patterns {
    /// Draws them anew if the model or the units changed.
    fn keep(&mut self, derived: &Derived) -> &[Drawing] {
        if let Some(model) = &derived.model {
            let units = model.hull.units;
            if self.drawings.is_empty() || self.count != derived.count || self.units != units {
                self.drawings =
                    model.panels.iter().map(|p| panel_pattern(model, p, units)).collect();
                (self.count, self.units) = (derived.count, units);
            }
        }
        &self.drawings
    }
}

fn show(
    mut contexts: EguiContexts,
    (session, derived, desk): (Res<Session>, Res<Derived>, Res<Desk>),
    mut state: ResMut<UiState>,
    mut prefs: ResMut<Prefs>,
    mut view: ResMut<View>,
    mut writer: MessageWriter<Command>,
    mut styled: Local<Option<Theme>>,
    mut sized: Local<f32>,
    mut has_fonts: Local<bool>,
    mut frames_left: Local<u8>,
    mut patterns: Local<Patterns>,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    if !*has_fonts {
        // New fonts are there from the next pass on.
        ctx.set_fonts(style::fonts());
        ctx.request_repaint();
        *has_fonts = true;
        return Ok(());
    }
    // Work on copies, so that change detection fires on real changes only.
    let (mut next, mut preferred, mut looked) = (state.clone(), prefs.now.clone(), *view);
    let theme = prefs.theme();
    if *styled != Some(theme) {
        style::apply(&ctx, theme);
        style::lay_out_every_sign(&ctx);
        *styled = Some(theme);
        ctx.request_repaint();
    }
    // Everything in the panels as large as is preferred; the library's own keys for that
    // change the preference.
    if *sized == 0.0 {
        *sized = prefs.now.text_size;
        ctx.set_zoom_factor(*sized);
    }
    if ctx.zoom_factor() != *sized {
        preferred.text_size = ctx.zoom_factor().clamp(0.8, 2.0);
        *sized = preferred.text_size;
    } else if prefs.now.text_size != *sized {
        *sized = prefs.now.text_size;
        ctx.set_zoom_factor(*sized);
        ctx.request_repaint();
    }
    let commands = {
        let drawings = if next.question == Question::Skin { patterns.keep(&derived) } else { &[] };
        let mut context = Context {
            session: &session,
            model: derived.model.as_deref(),
            ghost: derived.ghost.as_deref(),
            patterns: drawings,
            old: derived.old(&session),
            faults: &derived.faults,
            busy: desk.job.as_ref().map(|j| (j.what.as_str(), j.share())),
            tokens: theme.tokens(),
            state: &mut next,
            prefs: &mut preferred,
            view: &mut looked,
            commands: Vec::new(),
        };
        panels(&ctx, &mut context);
        context.commands
    };
    let happened = !commands.is_empty()
        || *state != next
        || *view != looked
        || prefs.now != preferred
        || derived.is_changed()
        || session.is_changed()
        || ctx.input(|i| !i.events.is_empty());
    writer.write_batch(commands);
    state.set_if_neq(next);
    view.set_if_neq(looked);
    if prefs.now != preferred {
        prefs.now = preferred;
    }
    if happened {
        *frames_left = FRAMES_AFTER;
    }
    if *frames_left > 0 {
        *frames_left -= 1;
        ctx.request_repaint();
    }
    Ok(())
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
        context.view.asked = Some(crate::cli::job::ViewFrom::Quarter);
    }
    let late = keys::act(ctx, context);
    context.view.covered = context.state.on_table();
    let answer_wanted = context.state.guard.is_some() || context.state.path.is_some();
    if context.state.on_table() && context.state.table.full_screen && !answer_wanted {
        table::full_size::show(&mut root, context);
    } else {
        context.state.table.full_screen = false;
        around_the_stage(ctx, &mut root, context);
    }
    // Whatever it was that was dragged, it is over when nothing is held any more: what was
    // under the hand may have gone away.
    let arrows = [Key::ArrowLeft, Key::ArrowRight, Key::ArrowUp, Key::ArrowDown];
    let held = ctx.input(|i| i.pointer.any_down() || arrows.iter().any(|k| i.key_down(*k)));
    if !held && (context.state.dragged.take().is_some() || context.session.dragging()) {
        context.ask(Command::DragEnd);
    }
    notices::show(ctx, context);
    guard::show(ctx, context);
    tour::show(ctx, context);
    keys::sheet(ctx, context);
    keys::act_late(ctx, context, late);
    context.state.end_frame();
}

/// The panels round the stage, and what lies on it.
fn around_the_stage(ctx: &egui::Context, root: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let frame = |pad: f32| egui::Frame::new().fill(tokens.paper).inner_margin(pad);
    Panel::top("top")
        .exact_size(size::TOP)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(root, |ui| top::show(ui, context));
    Panel::left("rail")
        .exact_size(size::RAIL)
        .resizable(false)
        .frame(frame(size::GAP))
        .show(root, |ui| rail::show(ui, context));
    Panel::right("card").exact_size(size::CARD).resizable(false).frame(frame(size::PAD)).show(
        root,
        |ui| {
            egui::ScrollArea::vertical()
                .auto_shrink([false, false])
                .show(ui, |ui| card(ui, context));
        },
    );
    if context.state.on_table() {
        let frame = egui::Frame::new().fill(tokens.floor);
        egui::CentralPanel::default().frame(frame).show(root, |ui| table::show(ui, context));
    } else {
        let most = 0.6 * ctx.viewport_rect().height();
        let strip = Panel::bottom("strip")
            .default_size(context.prefs.strip.min(most))
            .size_range(120.0..=most)
            .resizable(true)
            .frame(frame(size::GAP))
            .show(root, |ui| match context.state.question {
                Question::Skin => strip_flat::show(ui, context),
                Question::Bones => strip_bones::show(ui, context),
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
        stage::show(root, context, rect);
    }
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
