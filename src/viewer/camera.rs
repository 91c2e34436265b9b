//! Looking at the hull: orbit, pan, zoom, square-on.
//!
//! The engine's space is metres with y up: x stays aft, our z is its y, our y its -z.

use bevy::camera::ScalingMode;
use bevy::input::mouse::{AccumulatedMouseScroll, MouseScrollUnit};
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, RequestRedraw};
use bevy_egui::input::{EguiWantsInput, egui_wants_any_keyboard_input};

use super::Stage;
use super::derive::Derived;
use crate::cli::job::ViewFrom;
use crate::geom::P3;
use crate::model::Model;

/// Radians turned per pixel dragged: across a stage of 700 px, half a turn.
const TURN_PER_PIXEL: f32 = 0.0045;
/// Share of the way to where it is going that the camera keeps after one tenth of a second.
const LAG: f32 = 0.02;
/// Vertical field of view, radians: a long lens, so that sheers look as they are drawn.
const FIELD_OF_VIEW: f32 = 0.5;
/// Room left around the hull when fitting.
const FIT_MARGIN: f32 = 1.06;

/// A hull point (mm) in the engine's space (m).
pub fn world_from_hull(p: P3) -> Vec3 {
    Vec3::new(p.x as f32, p.z as f32, -p.y as f32) / 1000.0
}

/// Where the camera looks from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Orbit {
    /// The point looked at, m.
    pub target: Vec3,
    /// Turn about the upright, radians; 0 looks from port, so that the bow is at the left
    /// as in the strip, -π/2 from ahead.
    pub yaw: f32,
    /// Height of the eye over the level, radians.
    pub pitch: f32,
    /// Distance to the target, m.
    pub distance: f32,
    /// How parallel the view is: 0 perspective, 1 square-on without perspective.
    pub parallel: bool,
}

impl Default for Orbit {
    fn default() -> Self {
        Orbit {
            target: Vec3::new(2.0, 0.3, 0.0),
            yaw: 0.75,
            pitch: 0.38,
            distance: 8.0,
            parallel: false,
        }
    }
}

impl Orbit {
    /// The orbit that shows a box (m) from `view`, in a stage of this width over height.
    pub fn fit(view: ViewFrom, low: Vec3, high: Vec3, aspect: f32) -> Orbit {
        use std::f32::consts::FRAC_PI_2;
        let (yaw, pitch, parallel) = match view {
            ViewFrom::Quarter => (-0.72, 0.36, false),
            ViewFrom::Bow => (-FRAC_PI_2, 0.0, true),
            ViewFrom::Stern => (FRAC_PI_2, 0.0, true),
            ViewFrom::Side => (0.0, 0.0, true),
            ViewFrom::Above => (0.0, FRAC_PI_2, true),
            ViewFrom::Below => (-0.55, -0.5, false),
        };
        let mut orbit = Orbit { target: 0.5 * (low + high), yaw, pitch, distance: 1.0, parallel };
        let (right, up) = (orbit.rotation() * Vec3::X, orbit.rotation() * Vec3::Y);
        // Extent of the box's corners across and up the view.
        let half = 0.5 * (high - low);
        let reach = |axis: Vec3| axis.abs().dot(half);
        let tall = reach(up).max(reach(right) / aspect.max(0.1));
        let near = if parallel { 0.0 } else { 0.55 * reach(orbit.rotation() * Vec3::Z) };
        orbit.distance = (FIT_MARGIN * tall / (0.5 * FIELD_OF_VIEW).tan() + near).max(0.2);
        orbit
    }

    /// Which way the camera is turned.
    pub fn rotation(&self) -> Quat {
        Quat::from_rotation_y(self.yaw) * Quat::from_rotation_x(-self.pitch)
    }

    /// Where the camera stands.
    pub fn transform(&self) -> Transform {
        let rotation = self.rotation();
        Transform {
            translation: self.target + rotation * Vec3::Z * self.distance,
            rotation,
            scale: Vec3::ONE,
        }
    }

    /// Its projection.
    pub fn projection(&self) -> Projection {
        if self.parallel {
            let height = 2.0 * self.distance * (0.5 * FIELD_OF_VIEW).tan();
            Projection::Orthographic(OrthographicProjection {
                scaling_mode: ScalingMode::FixedVertical { viewport_height: height },
                near: -50.0,
                far: 100.0,
                ..OrthographicProjection::default_3d()
            })
        } else {
            Projection::Perspective(PerspectiveProjection {
                fov: FIELD_OF_VIEW,
                near: 0.05,
                far: 200.0,
                ..default()
            })
        }
    }

    /// Moved a share of the way to `goal`.
    fn towards(&self, goal: &Orbit, share: f32) -> Orbit {
        let mix = |a: f32, b: f32| a + (b - a) * share;
        Orbit {
            target: self.target.lerp(goal.target, share),
            yaw: mix(self.yaw, goal.yaw),
            pitch: mix(self.pitch, goal.pitch),
            distance: mix(self.distance, goal.distance),
            parallel: goal.parallel,
        }
    }

    fn near(&self, other: &Orbit) -> bool {
        (self.target - other.target).length() < 1e-4
            && (self.yaw - other.yaw).abs() < 1e-4
            && (self.pitch - other.pitch).abs() < 1e-4
            && (self.distance - other.distance).abs() < 1e-3
            && self.parallel == other.parallel
    }
}

/// Where the camera is and where it is going.
#[derive(Resource, Debug, Default, Clone, Copy)]
pub struct View {
    /// Now.
    pub now: Orbit,
    /// Where it is going.
    pub goal: Orbit,
    /// Look from here as soon as there is a hull.
    pub asked: Option<ViewFrom>,
    /// The stage in physical pixels: left, top, width, height.
    pub stage: Option<UVec4>,
}

/// The camera that looks at the hull.
#[derive(Component, Debug)]
pub struct StageCamera;

/// The hull's box in the engine's space.
pub fn hull_box(model: &Model) -> (Vec3, Vec3) {
    let extent = |f: fn(P3) -> f64| model.lines.extent(f);
    let ((x0, x1), (_, y1), (z0, z1)) = (extent(|p| p.x), extent(|p| p.y), extent(|p| p.z));
    (world_from_hull(P3::new(x0, y1, z0)), world_from_hull(P3::new(x1, -y1, z1)))
}

/// Orbit, pan, zoom.
#[derive(Debug)]
pub struct CameraPlugin;

impl Plugin for CameraPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(View { asked: Some(ViewFrom::Quarter), ..default() });
        let keys = keys.run_if(not(egui_wants_any_keyboard_input));
        app.add_systems(Update, (frame_hull, pointer, keys, glide).chain().in_set(Stage::View));
    }
}

/// Fits the hull when a view is asked for.
fn frame_hull(derived: Res<Derived>, mut view: ResMut<View>) {
    // Not before the panels have said how large the stage is.
    let (Some(model), Some(asked), Some(stage)) = (&derived.model, view.asked, view.stage) else {
        return;
    };
    let aspect = stage.z as f32 / stage.w.max(1) as f32;
    let (low, high) = hull_box(model);
    let first = view.goal == Orbit::default();
    view.goal = Orbit::fit(asked, low.min(high), low.max(high), aspect);
    if first {
        view.now = view.goal;
    }
    view.asked = None;
}

fn pointer(
    buttons: Res<ButtonInput<MouseButton>>,
    keyboard: Res<ButtonInput<KeyCode>>,
    window: Query<&Window, With<PrimaryWindow>>,
    scroll: Res<AccumulatedMouseScroll>,
    wants: Option<Res<EguiWantsInput>>,
    mut started_on_stage: Local<bool>,
    mut last: Local<Option<Vec2>>,
    mut view: ResMut<View>,
) {
    // Where the pointer is, not what the device reports: the latter needs focus and differs
    // over remote desktops.
    let here = window.single().ok().and_then(Window::cursor_position);
    let moved = here.zip(*last).map_or(Vec2::ZERO, |(now, before)| now - before);
    *last = here;
    let on_stage = window.single().ok().zip(view.stage).is_some_and(|(w, s)| {
        let at = w.physical_cursor_position().unwrap_or(Vec2::NEG_ONE);
        let (low, size) = (Vec2::new(s.x as f32, s.y as f32), Vec2::new(s.z as f32, s.w as f32));
        at.cmpge(low).all() && at.cmplt(low + size).all()
    });
    let egui_has_it = wants.is_some_and(|w| w.wants_pointer_input());
    let pressed = [MouseButton::Left, MouseButton::Middle, MouseButton::Right];
    if buttons.any_just_pressed(pressed) {
        *started_on_stage = on_stage && !egui_has_it;
    }
    if on_stage && !egui_has_it && scroll.delta.y != 0.0 {
        let notches = match scroll.unit {
            MouseScrollUnit::Line => scroll.delta.y,
            MouseScrollUnit::Pixel => scroll.delta.y / 60.0,
        };
        view.goal.distance = (view.goal.distance * 0.88f32.powf(notches)).clamp(0.3, 80.0);
    }
    if !*started_on_stage || !buttons.any_pressed(pressed) || moved == Vec2::ZERO {
        return;
    }
    let shift = keyboard.any_pressed([KeyCode::ShiftLeft, KeyCode::ShiftRight]);
    if buttons.pressed(MouseButton::Left) && !shift {
        view.goal.parallel = false;
        view.goal.yaw -= moved.x * TURN_PER_PIXEL;
        view.goal.pitch = (view.goal.pitch + moved.y * TURN_PER_PIXEL).clamp(-1.55, 1.55);
    } else {
        let height = view.stage.map_or(700.0, |s| s.w as f32);
        let metres = 2.0 * view.goal.distance * (0.5 * FIELD_OF_VIEW).tan() / height;
        let rotation = view.goal.rotation();
        view.goal.target -= rotation * Vec3::X * moved.x * metres;
        view.goal.target += rotation * Vec3::Y * moved.y * metres;
    }
}

/// Arrow keys turn, plus and minus zoom, digits ask for the square-on views.
fn keys(keyboard: Res<ButtonInput<KeyCode>>, mut view: ResMut<View>) {
    let step = 0.1;
    for (key, yaw, pitch) in [
        (KeyCode::ArrowLeft, step, 0.0),
        (KeyCode::ArrowRight, -step, 0.0),
        (KeyCode::ArrowUp, 0.0, step),
        (KeyCode::ArrowDown, 0.0, -step),
    ] {
        if keyboard.just_pressed(key) {
            view.goal.parallel = false;
            view.goal.yaw += yaw;
            view.goal.pitch = (view.goal.pitch + pitch).clamp(-1.55, 1.55);
        }
    }
    if keyboard.any_just_pressed([KeyCode::Equal, KeyCode::NumpadAdd]) {
        view.goal.distance *= 0.85;
    }
    if keyboard.any_just_pressed([KeyCode::Minus, KeyCode::NumpadSubtract]) {
        view.goal.distance /= 0.85;
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

/// Moves the camera towards its goal and asks for frames until it is there.
fn glide(
    time: Res<Time>,
    mut view: ResMut<View>,
    mut camera: Query<(&mut Transform, &mut Projection, &mut Camera), With<StageCamera>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if !view.now.near(&view.goal) {
        let share = 1.0 - LAG.powf((time.delta_secs() * 10.0).min(1.0));
        view.now = view.now.towards(&view.goal, share.max(0.05));
        redraw.write(RequestRedraw);
    } else if view.now != view.goal {
        view.now = view.goal;
    }
    for (mut transform, mut projection, mut camera) in &mut camera {
        *transform = view.now.transform();
        *projection = view.now.projection();
        if let Some(s) = view.stage.filter(|s| s.z > 0 && s.w > 0) {
            let viewport = bevy::camera::Viewport {
                physical_position: UVec2::new(s.x, s.y),
                physical_size: UVec2::new(s.z, s.w),
                ..default()
            };
            camera.viewport = Some(viewport);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_views_look_from_where_they_say() {
        let (low, high) = (Vec3::new(0.0, 0.0, -0.7), Vec3::new(4.0, 0.7, 0.7));
        let eye = |v| {
            let o = Orbit::fit(v, low, high, 1.5);
            (o.transform().translation - o.target).normalize()
        };
        // Port is the engine's z, the bow its -x, up its y.
        assert!(eye(ViewFrom::Side).z > 0.99);
        assert!(eye(ViewFrom::Bow).x < -0.99);
        assert!(eye(ViewFrom::Stern).x > 0.99);
        assert!(eye(ViewFrom::Above).y > 0.99);
        assert!(eye(ViewFrom::Below).y < -0.4);
        let quarter = eye(ViewFrom::Quarter);
        assert!(quarter.x < 0.0 && quarter.y > 0.0 && quarter.z > 0.0, "{quarter}");
    }

    #[test]
    fn fitting_keeps_every_corner_in_sight() {
        let (low, high) = (Vec3::new(0.0, 0.0, -0.7), Vec3::new(4.0, 0.7, 0.7));
        for view in ViewFrom::ALL {
            let o = Orbit::fit(view, low, high, 1.5);
            let to_eye = o.transform().to_matrix().inverse();
            for k in 0..8 {
                let pick = |b: usize, i: usize| if k >> b & 1 == 0 { low[i] } else { high[i] };
                let p = to_eye.transform_point3(Vec3::new(pick(0, 0), pick(1, 1), pick(2, 2)));
                let depth = if o.parallel { o.distance } else { -p.z };
                let edge = depth * (0.5 * FIELD_OF_VIEW).tan();
                assert!(
                    p.y.abs() <= edge * 1.001 && p.x.abs() <= 1.5 * edge * 1.001,
                    "{view:?} {p}"
                );
            }
        }
    }
}
