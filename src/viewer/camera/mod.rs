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
}

impl View {
    /// The stage in physical pixels.
    pub fn frame(&self) -> Option<Frame> {
        let s = self.stage.filter(|s| s.z > 0 && s.w > 0)?.as_vec4();
        Some(Frame { corner: Vec2::new(s.x, s.y), size: Vec2::new(s.z, s.w) })
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

/// Fits the hull when a view is asked for.
pub fn frame_hull(derived: Res<Derived>, stage_box: Res<StageBox>, mut view: ResMut<View>) {
    if view.asked.is_none() && !view.fit {
        return;
    }
    // Not before the panels have said how large the stage is, and not before a hull.
    let (Some(_), Some(frame), Some((low, high))) = (&derived.model, view.frame(), stage_box.0)
    else {
        return;
    };
    let aspect = frame.size.x / frame.size.y;
    let first = view.goal == Orbit::default();
    if let Some(asked) = view.asked {
        view.goal = Orbit::fit(asked, low, high, aspect);
        view.goal.parallel |= view.parallel;
    } else {
        view.goal = view.goal.fitted(low, high, aspect);
    }
    if first {
        view.now = view.goal;
    }
    view.asked = None;
    view.fit = false;
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
