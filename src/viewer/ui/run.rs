//! The panels as systems of the engine: when they are shown, and what keeps them awake.

use std::time::Duration;

use bevy::a11y::{AccessibilityRequested, ActionRequest};
use bevy::prelude::*;
use bevy::window::{MonitorSelection, PrimaryWindow, RequestRedraw, WindowMode, WindowResized};
use bevy::winit::{EventLoopProxyWrapper, UpdateMode, WinitSettings, WinitUserEvent};
use bevy_egui::{EguiContexts, EguiInput, EguiPrimaryContextPass, egui};

use crate::viewer::camera::View;
use crate::viewer::derive::Derived;
use crate::viewer::drawings_on_show::Sheets;
use crate::viewer::prefs::Prefs;
use crate::viewer::session::{Command, Session};
use crate::viewer::state::UiState;
use crate::viewer::stocktaking::{Ask, Stocktaking};
use crate::viewer::system::Busy;
use crate::viewer::theme;
use crate::viewer::theme::Theme;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::panels;
use crate::viewer::yard::{AskYard, Yard};

/// Shows the panels.
#[derive(Debug)]
pub struct UiPlugin;

impl Plugin for UiPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<UiState>()
            .init_resource::<Prefs>()
            .add_message::<ActionRequest>()
            .add_systems(Startup, watch_for_assistance)
            .add_systems(Update, (drop_unchanged_modifiers, full_screen, assist, after_a_resize))
            .add_systems(EguiPrimaryContextPass, show);
    }
}

/// Frames drawn after the last thing that happened: one for what the panels asked for, one
/// for what that changed.
const FRAMES_AFTER: u8 = 2;

/// For which theme and size of text every letter was laid out beforehand.
type Lettered = Option<(Theme, u32)>;

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

/// Frames drawn after the window became another size: what is drawn in the first may still be
/// of the old one.
const FRAMES_RESIZED: u8 = 6;

fn after_a_resize(
    mut resized: MessageReader<WindowResized>,
    mut redraw: MessageWriter<RequestRedraw>,
    mut left: Local<u8>,
) {
    if resized.read().last().is_some() {
        *left = FRAMES_RESIZED;
    }
    if *left > 0 {
        *left -= 1;
        redraw.write(RequestRedraw);
    }
}

/// A click takes no longer than this, and two are no further apart, seconds, where frames are
/// quick: the panels' library knows time only by frames.
const CLICK: (f64, f64) = (0.8, 0.5);

/// Lets clicks be as slow as the frames that bring them; the frame after a rest says nothing.
fn slow_hands(ctx: &egui::Context) {
    let frame = f64::from(ctx.input(|i| i.unstable_dt)).min(1.0);
    ctx.options_mut(|o| {
        o.input_options.max_click_duration = CLICK.0.max(2.5 * frame);
        o.input_options.max_double_click_delay = CLICK.1.max(1.5 * frame);
    });
}

fn show(
    mut contexts: EguiContexts,
    (session, derived, busy): (Res<Session>, Res<Derived>, Res<Busy>),
    (taking, yard): (Res<Stocktaking>, Res<Yard>),
    mut state: ResMut<UiState>,
    mut prefs: ResMut<Prefs>,
    mut view: ResMut<View>,
    (mut writer, mut asked, mut yard_asked): (
        MessageWriter<Command>,
        MessageWriter<Ask>,
        MessageWriter<AskYard>,
    ),
    mut styled: Local<Option<Theme>>,
    mut sized: Local<f32>,
    mut lettered: Local<Lettered>,
    mut has_fonts: Local<bool>,
    (mut frames_left, mut laid_for): (Local<u8>, Local<Option<egui::Rect>>),
    mut sheets: Local<Sheets>,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    if !*has_fonts {
        // New fonts are there from the next pass on.
        ctx.set_fonts(theme::fonts());
        ctx.request_repaint();
        *has_fonts = true;
        return Ok(());
    }
    slow_hands(&ctx);
    // Work on copies, so that change detection fires on real changes only.
    let (mut next, mut preferred, mut looked) = (state.clone(), prefs.now.clone(), *view);
    let theme = prefs.theme();
    if *styled != Some(theme) {
        // The look of letters is there from the next pass on, too.
        theme::apply(&ctx, theme);
        *styled = Some(theme);
        ctx.request_repaint();
    } else if *lettered != Some((theme, ctx.pixels_per_point().to_bits())) {
        theme::lay_out_every_sign(&ctx);
        *lettered = Some((theme, ctx.pixels_per_point().to_bits()));
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
    let (commands, asks, asks_yard) = {
        let drawings = sheets.keep(&derived, &taking, &next);
        let mut context = Context {
            session: &session,
            model: derived.model.as_deref(),
            lines: Context::lines_of(session.hull(), derived.model.as_deref()),
            ghost: derived.ghost.as_deref(),
            patterns: drawings,
            old: derived.old(&session),
            stocktaking: &taking,
            old_stock: taking.of != derived.count,
            yard: &yard,
            old_yard: yard.of != derived.count,
            busy: busy.job.as_ref().map(|j| (j.words(), j.share())),
            tokens: theme.tokens(),
            state: &mut next,
            prefs: &mut preferred,
            view: &mut looked,
            commands: Vec::new(),
            asks: Vec::new(),
            asks_yard: Vec::new(),
        };
        panels(&ctx, &mut context);
        (context.commands, context.asks, context.asks_yard)
    };
    let happened = !commands.is_empty()
        || !asks.is_empty()
        || !asks_yard.is_empty()
        || *state != next
        || *view != looked
        || prefs.now != preferred
        || derived.is_changed()
        || taking.is_changed()
        || yard.is_changed()
        || session.is_changed()
        || laid_for.replace(ctx.viewport_rect()) != Some(ctx.viewport_rect())
        || ctx.input(|i| !i.events.is_empty());
    writer.write_batch(commands);
    asked.write_batch(asks);
    yard_asked.write_batch(asks_yard);
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
