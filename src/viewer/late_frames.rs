//! What a busy machine hands over in one late frame, spread over as many frames as it takes to
//! be understood.
//!
//! The panels' library looks for what is pressed where the pointer is at the end of a frame, and
//! sees a drag only where a frame ends with the button down; keys are given the modifiers that
//! are held at the end of a frame; and only when a frame is over is it known what the pointer has
//! come to. So a press after a movement begins a frame, one that pulls ends its frame, a release
//! after a pull begins one, and so does a change of the modifiers after something was struck with
//! others.
//! Clicks stay in one frame: between two slow ones a click would be too long, and two of them
//! too far apart.

use bevy::ecs::message::{MessageCursor, MessageUpdateSystems};
use bevy::input::ButtonState;
use bevy::input::keyboard::{KeyCode, KeyboardInput};
use bevy::input::mouse::{MouseButtonInput, MouseWheel};
use bevy::prelude::*;
use bevy::window::{CursorMoved, RequestRedraw, WindowEvent};

/// Within so many logical pixels a press and its release are a click.
const STILL: f32 = 4.0;

/// Spreads the events of pointer and keys.
#[derive(Debug)]
pub struct LateFramesPlugin;

impl Plugin for LateFramesPlugin {
    fn build(&self, app: &mut App) {
        app.add_message::<WindowEvent>()
            .add_message::<CursorMoved>()
            .add_message::<MouseButtonInput>()
            .add_message::<MouseWheel>()
            .add_message::<KeyboardInput>()
            .add_message::<RequestRedraw>()
            .add_systems(First, spread.after(MessageUpdateSystems));
    }
}

/// Events that wait for their frame, in their order, and what is pressed.
#[derive(Debug, Default)]
struct Waiting {
    events: Vec<WindowEvent>,
    /// Where the pointer is, as far as it was handed on, logical pixels.
    at: Vec2,
    /// Where a button went down.
    pressed: Option<Vec2>,
}

impl Waiting {
    /// Takes what belongs to the next frame.
    fn next(&mut self) -> Vec<WindowEvent> {
        let (mut pulled, mut struck, mut come) = (false, false, false);
        let before = self.at;
        let mut count = 0;
        while let Some(event) = self.events.get(count) {
            match event {
                WindowEvent::CursorMoved(m) => {
                    self.at = m.position;
                    pulled |= self.pressed.is_some_and(|from| from.distance(self.at) > STILL);
                    struck |= self.pressed.is_some();
                    come |= self.pressed.is_none() && before.distance(self.at) > STILL;
                }
                WindowEvent::MouseButtonInput(b) if b.state == ButtonState::Pressed && come => {
                    break;
                }
                WindowEvent::MouseButtonInput(b) if b.state == ButtonState::Pressed => {
                    struck = true;
                    self.pressed = Some(self.at);
                    if pulls(&self.events[count + 1..], self.at) {
                        count += 1;
                        break;
                    }
                }
                WindowEvent::MouseButtonInput(_) if pulled => break,
                WindowEvent::MouseButtonInput(_) => {
                    struck = true;
                    self.pressed = None;
                }
                WindowEvent::KeyboardInput(k) if modifies(k.key_code) && struck => break,
                WindowEvent::KeyboardInput(k) => struck |= !modifies(k.key_code),
                _ => {}
            }
            count += 1;
        }
        self.events.drain(..count).collect()
    }
}

/// Whether the pointer goes away from where a button went down before that is let go.
fn pulls(after: &[WindowEvent], from: Vec2) -> bool {
    for event in after {
        match event {
            WindowEvent::CursorMoved(m) if m.position.distance(from) > STILL => return true,
            WindowEvent::MouseButtonInput(b) if b.state == ButtonState::Released => return false,
            _ => {}
        }
    }
    false
}

fn modifies(key: KeyCode) -> bool {
    use KeyCode::{
        AltLeft, AltRight, ControlLeft, ControlRight, ShiftLeft, ShiftRight, SuperLeft, SuperRight,
    };
    matches!(
        key,
        ControlLeft
            | ControlRight
            | ShiftLeft
            | ShiftRight
            | AltLeft
            | AltRight
            | SuperLeft
            | SuperRight
    )
}

/// Hands on what belongs to this frame, and asks for another while something waits.
fn spread(
    mut all: ResMut<Messages<WindowEvent>>,
    mut moves: ResMut<Messages<CursorMoved>>,
    mut buttons: ResMut<Messages<MouseButtonInput>>,
    mut wheels: ResMut<Messages<MouseWheel>>,
    mut keys: ResMut<Messages<KeyboardInput>>,
    mut redraw: MessageWriter<RequestRedraw>,
    (mut waiting, mut read): (Local<Waiting>, Local<MessageCursor<WindowEvent>>),
) {
    let new: Vec<WindowEvent> = read.read(&all).cloned().collect();
    if waiting.events.is_empty() && new.is_empty() {
        return;
    }
    let is_input = |e: &WindowEvent| {
        matches!(
            e,
            WindowEvent::CursorMoved(_)
                | WindowEvent::MouseButtonInput(_)
                | WindowEvent::MouseWheel(_)
                | WindowEvent::KeyboardInput(_)
        )
    };
    let (input, others): (Vec<_>, Vec<_>) = new.into_iter().partition(is_input);
    waiting.events.extend(input);
    // What is left of the frame before was read in it.
    all.clear();
    all.write_batch(others);
    moves.clear();
    buttons.clear();
    wheels.clear();
    keys.clear();
    for event in waiting.next() {
        match &event {
            WindowEvent::CursorMoved(m) => _ = moves.write(m.clone()),
            WindowEvent::MouseButtonInput(b) => _ = buttons.write(*b),
            WindowEvent::MouseWheel(w) => _ = wheels.write(*w),
            WindowEvent::KeyboardInput(k) => _ = keys.write(k.clone()),
            _ => {}
        }
        all.write(event);
    }
    // What is handed on is not taken for new.
    read.clear(&all);
    if !waiting.events.is_empty() {
        redraw.write(RequestRedraw);
    }
}

#[cfg(test)]
mod tests {
    use bevy::input::keyboard::Key;
    use bevy_egui::egui::{
        self, CentralPanel, Modifiers, PointerButton, Pos2, RawInput, Rect, Sense, pos2,
    };

    use super::*;

    const WINDOW: Entity = Entity::PLACEHOLDER;

    fn moved(x: f32, y: f32) -> WindowEvent {
        let position = Vec2::new(x, y);
        WindowEvent::CursorMoved(CursorMoved { window: WINDOW, position, delta: None })
    }

    fn button(down: bool) -> WindowEvent {
        let state = if down { ButtonState::Pressed } else { ButtonState::Released };
        WindowEvent::MouseButtonInput(MouseButtonInput {
            button: MouseButton::Left,
            state,
            window: WINDOW,
        })
    }

    fn key(key_code: KeyCode, down: bool) -> WindowEvent {
        WindowEvent::KeyboardInput(KeyboardInput {
            key_code,
            logical_key: Key::Escape,
            state: if down { ButtonState::Pressed } else { ButtonState::Released },
            text: None,
            repeat: false,
            window: WINDOW,
        })
    }

    /// A pull of 70 to the right and 30 down.
    fn flick() -> Vec<WindowEvent> {
        let mut all = vec![moved(120.0, 120.0), button(true), moved(155.0, 135.0)];
        all.extend([moved(190.0, 150.0), button(false)]);
        all
    }

    fn frames(events: Vec<WindowEvent>) -> Vec<Vec<WindowEvent>> {
        let mut waiting = Waiting { events, ..Waiting::default() };
        let mut frames = Vec::new();
        while !waiting.events.is_empty() {
            frames.push(waiting.next());
            assert!(frames.last().is_some_and(|f| !f.is_empty()), "it goes on");
        }
        frames
    }

    /// How far a square of 40 points at (100, 100) is pulled, and how often it is clicked and
    /// clicked twice, when frames of a second each bring these events.
    fn pulled(frames: Vec<Vec<WindowEvent>>) -> (egui::Vec2, [usize; 2]) {
        let ctx = egui::Context::default();
        let (mut sum, mut clicks) = (egui::Vec2::ZERO, [0, 0]);
        let mut pos = Pos2::ZERO;
        for (k, events) in [vec![]].into_iter().chain(frames).chain([vec![]]).enumerate() {
            let screen_rect = Some(Rect::from_min_size(Pos2::ZERO, egui::Vec2::splat(400.0)));
            let mut seen = Vec::new();
            for event in events {
                match event {
                    WindowEvent::CursorMoved(m) => {
                        pos = pos2(m.position.x, m.position.y);
                        seen.push(egui::Event::PointerMoved(pos));
                    }
                    WindowEvent::MouseButtonInput(b) => seen.push(egui::Event::PointerButton {
                        pos,
                        button: PointerButton::Primary,
                        pressed: b.state == ButtonState::Pressed,
                        modifiers: Modifiers::NONE,
                    }),
                    _ => {}
                }
            }
            let time = Some(k as f64);
            let input = RawInput { screen_rect, events: seen, time, ..RawInput::default() };
            let _ = ctx.run_ui(input, |ui| {
                CentralPanel::default().show(ui, |ui| {
                    let square = Rect::from_min_size(pos2(100.0, 100.0), egui::Vec2::splat(40.0));
                    let r = ui.interact(square, ui.id().with("square"), Sense::click_and_drag());
                    sum += r.drag_delta();
                    clicks[0] += usize::from(r.clicked());
                    clicks[1] += usize::from(r.double_clicked());
                });
            });
        }
        (sum, clicks)
    }

    #[test]
    fn a_pull_within_one_frame_arrives_whole() {
        assert_eq!(pulled(vec![flick()]).0, egui::Vec2::ZERO, "needless if this is seen");
        assert_eq!(pulled(frames(flick())), (egui::vec2(70.0, 30.0), [0, 0]));
        let twice: Vec<_> = [flick(), flick()].concat();
        assert_eq!(frames(twice.clone()).concat(), twice);
        assert_eq!(pulled(frames(twice)).0, egui::vec2(140.0, 60.0));
    }

    #[test]
    fn clicks_within_one_frame_stay_clicks_however_slow_the_frames_are() {
        let click = vec![moved(120.0, 120.0), button(true), moved(121.0, 120.0), button(false)];
        assert_eq!(pulled(frames(click)), (egui::Vec2::ZERO, [1, 0]));
        let mut twice = vec![moved(120.0, 120.0)];
        twice.extend([button(true), button(false), button(true), button(false)]);
        assert_eq!(pulled(frames(twice)).1[1], 1, "a double click");
        let mut after = flick();
        after.extend([moved(120.0, 120.0), button(true), button(false)]);
        assert_eq!(pulled(frames(after)), (egui::vec2(70.0, 30.0), [1, 0]));
    }

    #[test]
    fn keys_keep_the_modifiers_that_they_were_struck_with() {
        use KeyCode::{AltLeft, ControlLeft, KeyZ, ShiftLeft};
        let undo = [(ControlLeft, true), (KeyZ, true), (KeyZ, false), (ControlLeft, false)];
        let redo = [(ControlLeft, true), (ShiftLeft, true), (KeyZ, true), (ShiftLeft, false)];
        let both: Vec<_> = undo.iter().chain(&redo).map(|(k, down)| key(*k, *down)).collect();
        let held: Vec<usize> = frames(both).iter().map(Vec::len).collect();
        assert_eq!(held, [3, 4, 1], "Ctrl Z; all up, Ctrl and Shift down, Z; Shift up");
        let mut pull = vec![key(AltLeft, true)];
        pull.extend(flick());
        pull.push(key(AltLeft, false));
        let last = frames(pull).pop().expect("frames");
        assert_eq!(last, [key(AltLeft, false)], "the pull is over before Alt is let go");
    }

    /// In the engine nothing is lost, doubled or out of order, and what waits is asked for.
    #[test]
    fn the_engine_is_handed_each_event_once() {
        #[derive(Resource, Default)]
        struct Seen(Vec<Vec<WindowEvent>>, usize);
        fn see(
            mut all: MessageReader<WindowEvent>,
            mut moves: MessageReader<CursorMoved>,
            mut seen: ResMut<Seen>,
        ) {
            seen.0.push(all.read().cloned().collect());
            seen.1 += moves.read().count();
        }
        let mut app = App::new();
        app.add_plugins(LateFramesPlugin).init_resource::<Seen>().add_systems(Update, see);
        for event in flick() {
            if let WindowEvent::CursorMoved(m) = &event {
                app.world_mut().write_message(m.clone());
            }
            app.world_mut().write_message(event);
        }
        for _ in 0..5 {
            app.update();
        }
        let seen = app.world().resource::<Seen>();
        assert_eq!(seen.0.concat(), flick());
        assert_eq!(seen.0.iter().filter(|f| !f.is_empty()).count(), 4);
        assert_eq!(seen.1, 3, "each movement once");
    }
}
