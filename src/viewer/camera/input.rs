//! Turning the hull with the mouse, the trackpad and the keys.

use bevy::input::gestures::{PinchGesture, RotationGesture};
use bevy::input::keyboard::Key;
use bevy::input::mouse::{AccumulatedMouseScroll, MouseScrollUnit};
use bevy::prelude::*;
use bevy::window::{CursorLeft, CursorMoved, PrimaryWindow};
use bevy_egui::input::EguiWantsInput;

use crate::screen::ViewFrom;
use crate::viewer::camera::View;

/// Radians turned per pixel dragged: across a stage of 700 px, half a turn.
const TURN_PER_PIXEL: f32 = 0.0045;
/// Distance kept by one notch of the wheel.
const NOTCH: f32 = 0.88;
/// Pixels of a trackpad's scrolling that count as one notch.
const PIXELS_PER_NOTCH: f32 = 60.0;
/// Radians that an arrow key turns.
const KEY_TURN: f32 = 0.1;
/// Pixels that an arrow key shifts.
const KEY_SHIFT: f32 = 40.0;

/// Dragging and scrolling on the stage.
pub(crate) fn pointer(
    buttons: Res<ButtonInput<MouseButton>>,
    keyboard: Res<ButtonInput<KeyCode>>,
    (mut moves, mut left): (MessageReader<CursorMoved>, MessageReader<CursorLeft>),
    window: Query<&Window, With<PrimaryWindow>>,
    scroll: Res<AccumulatedMouseScroll>,
    wants: Option<Res<EguiWantsInput>>,
    mut started_on_stage: Local<bool>,
    mut last: Local<Option<Vec2>>,
    mut view: ResMut<View>,
) {
    // Where the pointer is, not what the device reports: the latter needs focus and differs
    // over remote desktops. And where it was when this frame's events came, not where it is by
    // now: a late frame brings a pull in parts.
    let told = window.single().ok().and_then(|w| {
        let last = moves.read().last()?;
        Some(last.position * w.scale_factor())
    });
    let gone = left.read().last().is_some();
    let here = told.or(last.filter(|_| !gone));
    let moved = here.zip(*last).map_or(Vec2::ZERO, |(now, before)| now - before);
    *last = here;
    let Some(frame) = view.frame().filter(|_| !view.covered) else {
        return;
    };
    let on_stage = here.is_some_and(|at| frame.contains(at));
    let using = wants.as_ref().is_some_and(|w| w.is_using_pointer());
    let egui_has_it = wants.is_some_and(|w| w.wants_pointer_input()) || view.held;
    let pressed = [MouseButton::Left, MouseButton::Middle, MouseButton::Right];
    if buttons.any_just_pressed(pressed) {
        // What moved before the press is no drag.
        *started_on_stage = on_stage && !egui_has_it;
        return;
    } else if using {
        // A slider on the stage was taken: the panels say so one frame later.
        *started_on_stage = false;
    }
    let shift = keyboard.any_pressed([KeyCode::ShiftLeft, KeyCode::ShiftRight]);
    let control = keyboard.any_pressed([KeyCode::ControlLeft, KeyCode::ControlRight]);
    if on_stage && !egui_has_it && scroll.delta != Vec2::ZERO {
        match scroll.unit {
            MouseScrollUnit::Line => view.goal.zoom(NOTCH.powf(scroll.delta.y), here, frame),
            // Two fingers on a trackpad: turn; with Shift shift, with Ctrl zoom.
            MouseScrollUnit::Pixel if control => {
                view.goal.zoom(NOTCH.powf(scroll.delta.y / PIXELS_PER_NOTCH), here, frame);
            }
            MouseScrollUnit::Pixel if shift => view.goal.pan(scroll.delta, frame.size.y),
            MouseScrollUnit::Pixel => turn(&mut view, scroll.delta),
        }
    }
    if !*started_on_stage || !buttons.any_pressed(pressed) || moved == Vec2::ZERO {
        return;
    }
    if buttons.pressed(MouseButton::Left) && !shift {
        turn(&mut view, moved);
    } else {
        view.goal.pan(moved, frame.size.y);
    }
}

/// Turns her under the hand; out of a square-on view she comes into perspective.
fn turn(view: &mut View, moved: Vec2) {
    view.goal.parallel = view.parallel;
    view.goal.turn(-moved.x * TURN_PER_PIXEL, moved.y * TURN_PER_PIXEL);
}

/// Pinching and twisting on a trackpad.
pub(crate) fn fingers(
    mut pinches: MessageReader<PinchGesture>,
    mut twists: MessageReader<RotationGesture>,
    window: Query<&Window, With<PrimaryWindow>>,
    mut view: ResMut<View>,
) {
    let (pinch, twist): (f32, f32) =
        (pinches.read().map(|p| p.0).sum(), twists.read().map(|t| t.0).sum());
    let asked = (pinch != 0.0 || twist != 0.0) && !view.covered;
    let Some(frame) = view.frame().filter(|_| asked) else {
        return;
    };
    let at = window.single().ok().and_then(Window::physical_cursor_position);
    if pinch != 0.0 {
        view.goal.zoom((-pinch).exp(), at.filter(|a| frame.contains(*a)), frame);
    }
    if twist != 0.0 {
        view.goal.turn(twist.to_radians(), 0.0);
    }
}

/// Arrow keys turn, with Shift they shift; plus and minus zoom; digits ask for the views.
pub(crate) fn keys(
    keyboard: Res<ButtonInput<KeyCode>>,
    signs: Res<ButtonInput<Key>>,
    mut view: ResMut<View>,
) {
    if keyboard.get_just_pressed().next().is_none() || view.covered {
        return;
    }
    let held = |keys: [KeyCode; 2]| keyboard.any_pressed(keys);
    if held([KeyCode::ControlLeft, KeyCode::ControlRight])
        || held([KeyCode::AltLeft, KeyCode::AltRight])
        || held([KeyCode::SuperLeft, KeyCode::SuperRight])
    {
        return;
    }
    let shift = held([KeyCode::ShiftLeft, KeyCode::ShiftRight]);
    for (key, x, y) in [
        (KeyCode::ArrowLeft, 1.0, 0.0),
        (KeyCode::ArrowRight, -1.0, 0.0),
        (KeyCode::ArrowUp, 0.0, 1.0),
        (KeyCode::ArrowDown, 0.0, -1.0),
    ] {
        if !keyboard.just_pressed(key) {
            continue;
        }
        if shift {
            let height = view.frame().map_or(700.0, |f| f.size.y);
            view.goal.pan(Vec2::new(x, y) * KEY_SHIFT, height);
        } else {
            view.goal.parallel = view.parallel;
            view.goal.turn(x * KEY_TURN, y * KEY_TURN);
        }
    }
    let zoom = |view: &mut View, factor| {
        if let Some(frame) = view.frame() {
            view.goal.zoom(factor, None, frame);
        }
    };
    // By the sign on the key, wherever the layout has it.
    let sign = |s: &str| signs.just_pressed(Key::Character(s.into()));
    if sign("+") || sign("=") || keyboard.just_pressed(KeyCode::NumpadAdd) {
        zoom(&mut view, 0.85);
    }
    if sign("-") || keyboard.just_pressed(KeyCode::NumpadSubtract) {
        zoom(&mut view, 1.0 / 0.85);
    }
    if sign("f") {
        view.fit = true;
    }
    if sign("t") {
        view.turntable = !view.turntable;
    }
    if sign("p") {
        view.parallel = !view.parallel;
        view.goal.parallel = view.parallel;
    }
    let digits = [
        KeyCode::Digit1,
        KeyCode::Digit2,
        KeyCode::Digit3,
        KeyCode::Digit4,
        KeyCode::Digit5,
        KeyCode::Digit6,
    ];
    for (key, from) in digits.into_iter().zip(ViewFrom::ALL) {
        if keyboard.just_pressed(key) {
            view.asked = Some(from);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A stage of 800 x 500 pixels in a window, and a pointer.
    fn stage() -> App {
        let mut app = App::new();
        app.insert_resource(View { stage: Some(UVec4::new(100, 50, 800, 500)), ..default() })
            .init_resource::<ButtonInput<MouseButton>>()
            .init_resource::<ButtonInput<KeyCode>>()
            .init_resource::<AccumulatedMouseScroll>()
            .add_message::<CursorMoved>()
            .add_message::<CursorLeft>()
            .add_systems(Update, pointer);
        app.world_mut().spawn((Window::default(), PrimaryWindow));
        app
    }

    fn point(app: &mut App, x: f32, y: f32) {
        let (window, position) = (Entity::PLACEHOLDER, Vec2::new(x, y));
        app.world_mut().write_message(CursorMoved { window, position, delta: None });
    }

    fn press(app: &mut App, down: bool) {
        let mut buttons = app.world_mut().resource_mut::<ButtonInput<MouseButton>>();
        buttons.clear();
        if down {
            buttons.press(MouseButton::Left);
        } else {
            buttons.release(MouseButton::Left);
        }
    }

    fn goal(app: &App) -> (f32, f32) {
        let view = app.world().resource::<View>();
        (view.goal.yaw, view.goal.pitch)
    }

    #[test]
    fn a_drag_turns_her_and_a_jump_before_it_does_not() {
        let mut app = stage();
        let before = goal(&app);
        point(&mut app, 20.0, 20.0);
        app.update();
        // A slow frame: the pointer jumped onto the stage and was pressed, all at once.
        point(&mut app, 400.0, 300.0);
        press(&mut app, true);
        app.update();
        assert_eq!(goal(&app), before);
        app.world_mut().resource_mut::<ButtonInput<MouseButton>>().clear();
        point(&mut app, 440.0, 310.0);
        app.update();
        let turned = goal(&app);
        assert!((turned.0 - before.0 + 40.0 * TURN_PER_PIXEL).abs() < 1e-5);
        assert!((turned.1 - before.1 - 10.0 * TURN_PER_PIXEL).abs() < 1e-5);
        press(&mut app, false);
        point(&mut app, 600.0, 500.0);
        app.update();
        assert_eq!(goal(&app), turned, "let go");
    }

    #[test]
    fn what_can_be_dragged_on_the_stage_holds_her_still() {
        let mut app = stage();
        app.world_mut().resource_mut::<View>().held = true;
        let before = goal(&app);
        point(&mut app, 400.0, 300.0);
        press(&mut app, true);
        app.update();
        app.world_mut().resource_mut::<ButtonInput<MouseButton>>().clear();
        point(&mut app, 500.0, 300.0);
        app.update();
        assert_eq!(goal(&app), before);
    }

    #[test]
    fn the_wheel_comes_nearer_where_the_pointer_is() {
        let mut app = stage();
        point(&mut app, 820.0, 90.0);
        let scroll =
            AccumulatedMouseScroll { unit: MouseScrollUnit::Line, delta: Vec2::new(0.0, 3.0) };
        app.insert_resource(scroll);
        let before = *app.world().resource::<View>();
        app.update();
        let after = *app.world().resource::<View>();
        assert!((after.goal.distance / before.goal.distance - NOTCH.powi(3)).abs() < 1e-4);
        assert_ne!(after.goal.target, before.goal.target, "towards the pointer");
    }
}
