//! Looking at the hull: orbit, pan, zoom, square-on.
//!
//! The engine's space is metres with y up: x stays aft, our z is its y, our y its -z.
//! [`orbit`] is the geometry, [`hands`] the mouse, the trackpad and the keys.

pub mod input;
pub mod orbit;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::input::egui_wants_any_keyboard_input;

use crate::geom::P3;
use crate::model::Model;
use crate::screen::ViewFrom;
use crate::viewer::derive::Derived;
use crate::viewer::frame_order::Stage;
use crate::viewer::prefs::Prefs;

pub use orbit::{Frame, Orbit, Ray, hull_from_world, world_from_hull};

/// Share of the way to where it is going that the camera keeps after one tenth of a second.
const LAG: f32 = 0.02;
/// Of the size that she was fitted for: smaller, and she is fitted again.
const SHRUNK: f32 = 0.7;
/// Radians a second that the turntable turns: once round in half a minute.
const TURNTABLE: f32 = 0.21;

/// Where the camera is and where it is going.
#[derive(Resource, Debug, Default, Clone, Copy, PartialEq)]
pub struct View {
    /// Now.
    pub now: Orbit,
    /// Where it is going.
    pub goal: Orbit,
    /// Look from here as soon as there is a hull.
    pub asked: Option<ViewFrom>,
    /// Bring all that is on the stage into sight, without turning.
    pub fit: bool,
    /// Keep to parallel lines of sight while turning.
    pub parallel: bool,
    /// She turns by herself.
    pub turntable: bool,
    /// The pointer is on something that can be dragged: the hull stays.
    pub held: bool,
    /// Something else lies over the whole stage.
    pub covered: bool,
    /// The stage in physical pixels: left, top, width, height.
    pub stage: Option<UVec4>,
    /// What controls take at the stage's head and foot, physical pixels.
    pub edges: UVec2,
    /// What she was last brought into sight for.
    fitted: Option<Fitted>,
}

/// What a view was fitted to.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Fitted {
    goal: Orbit,
    stage_box: (Vec3, Vec3),
    stage: (UVec4, UVec2),
}

impl View {
    /// The stage in physical pixels.
    pub fn frame(&self) -> Option<Frame> {
        let s = self.stage.filter(|s| s.z > 0 && s.w > 0)?.as_vec4();
        Some(Frame { corner: Vec2::new(s.x, s.y), size: Vec2::new(s.z, s.w) })
    }

    /// What of the stage lies clear of the controls on it.
    fn clear(&self, stage: Frame) -> Frame {
        // Where they take nearly all of a small stage, she lies under them.
        let most = 0.8 * stage.size.y;
        let share = (most / (self.edges.x + self.edges.y).max(1) as f32).min(1.0);
        let (head, foot) = (self.edges.x as f32 * share, self.edges.y as f32 * share);
        Frame {
            corner: stage.corner + Vec2::new(0.0, head),
            size: (stage.size - Vec2::new(0.0, head + foot)).max(Vec2::ONE),
        }
    }

    /// All that stands on the stage in sight, from where it was asked for or as she is seen now.
    fn bring_into_sight(&mut self, (low, high): (Vec3, Vec3), frame: Frame) {
        let first = self.goal == Orbit::default();
        if let Some(asked) = self.asked.take() {
            self.goal = Orbit::from(asked);
            self.goal.parallel |= self.parallel;
        }
        self.goal = self.goal.fitted_within(low, high, frame, self.clear(frame));
        if first {
            self.now = self.goal;
        }
        self.fit = false;
        self.fitted = self.stage.map(|stage| Fitted {
            goal: self.goal,
            stage_box: (low, high),
            stage: (stage, self.edges),
        });
    }

    /// Whether she has outgrown the stage, or the stage has become another, while nobody has
    /// chosen to see a part of her: then she is brought into sight again.
    fn outgrown(&self, (low, high): (Vec3, Vec3), stage: Frame) -> bool {
        let Some((before, stage_now)) = self.fitted.zip(self.stage) else {
            return false;
        };
        let now = (stage_now, self.edges);
        // Nothing moves under a hand that holds it.
        if self.held || (before.stage_box, before.stage) == ((low, high), now) {
            return false;
        }
        let untouched =
            (before.goal.target, before.goal.distance) == (self.goal.target, self.goal.distance);
        if untouched && before.stage != now {
            return true;
        }
        let was =
            Frame { corner: before.stage.0.xy().as_vec2(), size: before.stage.0.zw().as_vec2() };
        let whole = self.goal.sees(before.stage_box.0, before.stage_box.1, was, was);
        let length = |(low, high): (Vec3, Vec3)| (high - low).length();
        whole
            && (!self.goal.sees(low, high, stage, stage)
                || untouched && length((low, high)) < SHRUNK * length(before.stage_box))
    }
}

/// Least and greatest corner of all that stands on the stage, in the engine's space.
#[derive(Resource, Debug, Default, Clone, Copy, PartialEq)]
pub struct StageBox(pub Option<(Vec3, Vec3)>);

/// The camera that looks at the hull.
#[derive(Component, Debug)]
pub struct StageCamera;

/// The hull's box in the engine's space: least and greatest corner.
pub fn hull_box(model: &Model) -> (Vec3, Vec3) {
    let extent = |f: fn(P3) -> f64| model.lines.extent(f);
    let ((x0, x1), (_, y1), (z0, z1)) = (extent(|p| p.x), extent(|p| p.y), extent(|p| p.z));
    let (a, b) = (world_from_hull(P3::new(x0, y1, z0)), world_from_hull(P3::new(x1, -y1, z1)));
    (a.min(b), a.max(b))
}

/// Orbit, pan, zoom.
#[derive(Debug)]
pub struct CameraPlugin;

impl Plugin for CameraPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(View { asked: Some(ViewFrom::Quarter), ..default() });
        let keys = input::keys.run_if(not(egui_wants_any_keyboard_input));
        let systems = (frame_hull, input::pointer, input::fingers, keys, glide);
        app.add_systems(Update, systems.chain().in_set(Stage::View));
    }
}

/// Fits the hull when a view is asked for, and when she has outgrown the stage.
pub fn frame_hull(derived: Res<Derived>, stage_box: Res<StageBox>, mut view: ResMut<View>) {
    // Not before the panels have said how large the stage is, and not before a hull.
    let (Some(_), Some(frame), Some((low, high))) = (&derived.model, view.frame(), stage_box.0)
    else {
        return;
    };
    if view.asked.is_some() || view.fit || view.outgrown((low, high), frame) {
        view.bring_into_sight((low, high), frame);
    }
}

/// Moves the camera towards its goal and asks for frames until it is there.
fn glide(
    time: Res<Time>,
    prefs: Option<Res<Prefs>>,
    mut view: ResMut<View>,
    mut camera: Query<(&mut Transform, &mut Projection, &mut Camera), With<StageCamera>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if view.turntable && !view.covered && !view.held {
        let turned = TURNTABLE * time.delta_secs().min(0.1);
        view.goal.yaw += turned;
        view.now.yaw += turned;
        redraw.write(RequestRedraw);
    }
    let glides = prefs.is_none_or(|p| p.now.motion);
    if glides && !view.now.near(&view.goal) {
        let share = 1.0 - LAG.powf((time.delta_secs() * 10.0).min(1.0));
        view.now = view.now.towards(&view.goal, share.max(0.05));
        redraw.write(RequestRedraw);
    } else if view.now != view.goal {
        view.now = view.goal;
        redraw.write(RequestRedraw);
    }
    place(&view, &mut camera);
}

/// Puts the stage camera where the view is.
pub fn place(
    view: &View,
    cameras: &mut Query<(&mut Transform, &mut Projection, &mut Camera), With<StageCamera>>,
) {
    for (mut transform, mut projection, mut camera) in cameras {
        transform.set_if_neq(view.now.transform());
        *projection = view.now.projection();
        camera.is_active = !view.covered;
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

    fn boat(length: f32) -> (Vec3, Vec3) {
        (Vec3::new(0.0, 0.0, -0.7), Vec3::new(length, 0.7, 0.7))
    }

    fn fitted(length: f32) -> (View, Frame) {
        let mut view = View {
            asked: Some(ViewFrom::Quarter),
            stage: Some(UVec4::new(112, 48, 800, 500)),
            edges: UVec2::new(44, 40),
            ..View::default()
        };
        let frame = view.frame().expect("a stage");
        view.bring_into_sight(boat(length), frame);
        (view, frame)
    }

    #[test]
    fn she_who_outgrows_the_stage_is_brought_into_sight_again() {
        let (mut view, frame) = fitted(4.27);
        assert!(!view.outgrown(boat(4.27), frame));
        assert!(!view.outgrown(boat(4.2), frame), "a little shorter is no reason to move");
        assert!(view.outgrown(boat(9.14), frame), "14 ft became 30 ft");
        assert!(view.outgrown(boat(1.5), frame), "she has become small");
        view.held = true;
        assert!(!view.outgrown(boat(9.14), frame), "not under a hand");
        view.held = false;
        view.bring_into_sight(boat(9.14), frame);
        let (low, high) = boat(9.14);
        assert!(view.goal.sees(low, high, frame, view.clear(frame)));
        assert!(!view.outgrown(boat(9.14), frame));
    }

    #[test]
    fn a_part_that_was_chosen_to_be_seen_stays() {
        let (mut view, frame) = fitted(4.27);
        view.goal.zoom(0.4, Some(Vec2::new(300.0, 200.0)), frame);
        assert!(!view.outgrown(boat(9.14), frame));
        view.stage = Some(UVec4::new(112, 48, 500, 400));
        let frame = view.frame().expect("a stage");
        assert!(!view.outgrown(boat(4.27), frame));
    }

    #[test]
    fn another_size_of_stage_shows_all_of_her_again_from_where_she_was_seen() {
        let (mut view, _) = fitted(4.27);
        view.goal.turn(0.8, -0.2);
        let yaw = view.goal.yaw;
        view.stage = Some(UVec4::new(112, 48, 420, 300));
        let frame = view.frame().expect("a stage");
        assert!(view.outgrown(boat(4.27), frame));
        view.bring_into_sight(boat(4.27), frame);
        let (low, high) = boat(4.27);
        assert!(view.goal.sees(low, high, frame, view.clear(frame)));
        assert_eq!(view.goal.yaw, yaw);
    }
}
