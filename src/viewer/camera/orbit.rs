//! Where the eye is: the geometry of looking, with no engine resources in it.

use bevy::camera::ScalingMode;
use bevy::prelude::*;

use crate::geom::{P3, V3};
use crate::screen::ViewFrom;

/// Vertical field of view, radians: a long lens, so that sheers look as they are drawn.
pub const FIELD_OF_VIEW: f32 = 0.5;
/// Room left around the hull when fitting.
const FIT_MARGIN: f32 = 1.06;
/// How often the distance at which she is just seen whole is halved: to a thousandth.
const HALVINGS: usize = 14;
/// Nearest and farthest that the eye goes, m.
const DISTANCES: (f32, f32) = (0.3, 80.0);
/// Highest and lowest that the eye looks from, radians: short of straight above.
const STEEPEST: f32 = 1.55;

/// A hull point (mm) in the engine's space (m).
pub fn world_from_hull(p: P3) -> Vec3 {
    Vec3::new(p.x as f32, p.z as f32, -p.y as f32) / 1000.0
}

/// A point of the engine's space (m) as a hull point (mm).
pub fn hull_from_world(p: Vec3) -> P3 {
    P3::new(f64::from(p.x), f64::from(-p.z), f64::from(p.y)) * 1000.0
}

/// A rectangle of the window that the hull is seen in, in points or pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Left and top.
    pub corner: Vec2,
    /// Width and height.
    pub size: Vec2,
}

impl Frame {
    fn middle(&self) -> Vec2 {
        self.corner + 0.5 * self.size
    }

    /// Whether `p` lies in it.
    pub fn contains(&self, p: Vec2) -> bool {
        p.cmpge(self.corner).all() && p.cmplt(self.corner + self.size).all()
    }
}

/// A line of sight: from a point (mm) along a unit direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ray {
    /// mm.
    pub from: P3,
    /// Unit.
    pub along: V3,
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
    /// Square-on, without perspective.
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
    /// Which way `view` looks.
    pub fn from(view: ViewFrom) -> Orbit {
        use std::f32::consts::FRAC_PI_2;
        let (yaw, pitch, parallel) = match view {
            ViewFrom::Quarter => (-0.72, 0.36, false),
            ViewFrom::Bow => (-FRAC_PI_2, 0.0, true),
            ViewFrom::Stern => (FRAC_PI_2, 0.0, true),
            ViewFrom::Side => (0.0, 0.0, true),
            ViewFrom::Above => (0.0, FRAC_PI_2, true),
            ViewFrom::Below => (-0.55, -0.5, false),
        };
        Orbit { yaw, pitch, parallel, ..Orbit::default() }
    }

    /// The orbit that shows a box (m) from `view`, in a stage of this width over height.
    pub fn fit(view: ViewFrom, low: Vec3, high: Vec3, aspect: f32) -> Orbit {
        Orbit::from(view).fitted(low, high, aspect)
    }

    /// The same way of looking, at such a distance that a box (m) fills the stage.
    pub fn fitted(&self, low: Vec3, high: Vec3, aspect: f32) -> Orbit {
        let parallel = self.parallel;
        let mut orbit = Orbit { target: 0.5 * (low + high), distance: 1.0, ..*self };
        let (right, up) = (orbit.rotation() * Vec3::X, orbit.rotation() * Vec3::Y);
        // Extent of the box's corners across and up the view.
        let half = 0.5 * (high - low);
        let reach = |axis: Vec3| axis.abs().dot(half);
        let tall = reach(up).max(reach(right) / aspect.max(0.1));
        let near = if parallel { 0.0 } else { 0.55 * reach(orbit.rotation() * Vec3::Z) };
        orbit.distance = (FIT_MARGIN * tall / (0.5 * FIELD_OF_VIEW).tan() + near).max(0.2);
        orbit
    }

    /// The same way of looking, as near as a box (m) is seen whole in the part of the stage that
    /// is clear of controls, in the middle of that part.
    pub fn fitted_within(&self, low: Vec3, high: Vec3, stage: Frame, clear: Frame) -> Orbit {
        let begin = self.fitted(low, high, stage.size.x / stage.size.y.max(1.0));
        let off = clear.middle() - stage.middle();
        let at = |distance: f32| {
            let mut orbit = Orbit { distance, ..begin };
            orbit.pan(off, stage.size.y);
            orbit
        };
        let (mut hidden, mut seen) = (0.05 * begin.distance, 8.0 * begin.distance);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (hidden + seen);
            match at(middle).sees(low, high, stage, clear) {
                true => seen = middle,
                false => hidden = middle,
            }
        }
        at((FIT_MARGIN * seen).clamp(DISTANCES.0, DISTANCES.1))
    }

    /// Whether every corner of a box (m) is seen within `clear` of a stage.
    pub fn sees(&self, low: Vec3, high: Vec3, stage: Frame, clear: Frame) -> bool {
        let seen = |p: Vec3| self.project(p, stage).is_some_and(|at| clear.contains(at));
        (0..8).all(|k| {
            let pick = |axis: usize| if k >> axis & 1 == 0 { low[axis] } else { high[axis] };
            seen(Vec3::new(pick(0), pick(1), pick(2)))
        })
    }

    /// Looking at a place of the skin (mm) along its outward normal, near enough to see a
    /// sheet's breadth.
    pub fn look_at(&self, at: P3, outward: V3) -> Orbit {
        let out = Vec3::new(outward.x as f32, outward.z as f32, -outward.y as f32);
        let out = out.try_normalize().unwrap_or(Vec3::Z);
        let pitch = out.y.asin().clamp(-STEEPEST, STEEPEST);
        let yaw = if out.x.hypot(out.z) > 1e-3 { out.x.atan2(out.z) } else { self.yaw };
        // The shorter way round.
        let turns = ((self.yaw - yaw) / std::f32::consts::TAU).round();
        let yaw = yaw + turns * std::f32::consts::TAU;
        // Not quite square on: a bend is seen best a little from the side.
        Orbit {
            target: world_from_hull(at),
            yaw: yaw - 0.35,
            pitch: (pitch + 0.25).clamp(-STEEPEST, STEEPEST),
            distance: 3.2,
            parallel: self.parallel,
        }
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

    /// Metres across one pixel at the target, in a stage `height` pixels high.
    pub fn metres_per_pixel(&self, height: f32) -> f32 {
        2.0 * self.distance * (0.5 * FIELD_OF_VIEW).tan() / height.max(1.0)
    }

    /// Where a point of the engine's space is seen; `None` behind the eye.
    pub fn project(&self, p: Vec3, stage: Frame) -> Option<Vec2> {
        let eye = self.transform().to_matrix().inverse().transform_point3(p);
        let depth = if self.parallel { self.distance } else { -eye.z };
        if depth <= 1e-3 {
            return None;
        }
        let pixels = 0.5 * stage.size.y / (depth * (0.5 * FIELD_OF_VIEW).tan());
        Some(stage.middle() + Vec2::new(eye.x, -eye.y) * pixels)
    }

    /// The line of sight through a place on the stage.
    pub fn ray(&self, at: Vec2, stage: Frame) -> Ray {
        let off = (at - stage.middle()) * self.metres_per_pixel(stage.size.y);
        let seen = self.transform();
        let in_plane = self.target + seen.rotation * Vec3::new(off.x, -off.y, 0.0);
        let back = seen.rotation * Vec3::Z;
        let (from, along) = if self.parallel {
            (in_plane + back * 50.0, -back)
        } else {
            (seen.translation, (in_plane - seen.translation).normalize())
        };
        Ray {
            from: hull_from_world(from),
            along: V3::new(f64::from(along.x), f64::from(-along.z), f64::from(along.y)),
        }
    }

    /// Turned by these angles, radians; the eye never goes over the top.
    pub fn turn(&mut self, yaw: f32, pitch: f32) {
        self.yaw += yaw;
        self.pitch = (self.pitch + pitch).clamp(-STEEPEST, STEEPEST);
    }

    /// Shifted by pixels of the stage, so that what was under the pointer stays there.
    pub fn pan(&mut self, moved: Vec2, height: f32) {
        let metres = self.metres_per_pixel(height);
        let rotation = self.rotation();
        self.target -= rotation * Vec3::X * moved.x * metres;
        self.target += rotation * Vec3::Y * moved.y * metres;
    }

    /// Nearer (`factor` under 1) or farther, keeping what is seen at `at` where it is.
    pub fn zoom(&mut self, factor: f32, at: Option<Vec2>, stage: Frame) {
        let distance = (self.distance * factor).clamp(DISTANCES.0, DISTANCES.1);
        let factor = distance / self.distance;
        if let Some(at) = at {
            let off = (at - stage.middle()) * self.metres_per_pixel(stage.size.y);
            let point = self.target + self.rotation() * Vec3::new(off.x, -off.y, 0.0);
            self.target = point + (self.target - point) * factor;
        }
        self.distance = distance;
    }

    /// Which hull axis (0 aft, 1 out, 2 up) the eye looks along most.
    pub fn facing(&self) -> usize {
        let back = self.rotation() * Vec3::Z;
        let along = [back.x.abs(), back.z.abs(), back.y.abs()];
        (0..3).max_by(|a, b| along[*a].total_cmp(&along[*b])).unwrap_or(1)
    }

    /// Moved a share of the way to `goal`.
    pub(crate) fn towards(&self, goal: &Orbit, share: f32) -> Orbit {
        let mix = |a: f32, b: f32| a + (b - a) * share;
        Orbit {
            target: self.target.lerp(goal.target, share),
            yaw: mix(self.yaw, goal.yaw),
            pitch: mix(self.pitch, goal.pitch),
            distance: mix(self.distance, goal.distance),
            parallel: goal.parallel,
        }
    }

    pub(crate) fn near(&self, other: &Orbit) -> bool {
        (self.target - other.target).length() < 1e-4
            && (self.yaw - other.yaw).abs() < 1e-4
            && (self.pitch - other.pitch).abs() < 1e-4
            && (self.distance - other.distance).abs() < 1e-3
            && self.parallel == other.parallel
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

    const STAGE: Frame = Frame { corner: Vec2::new(112.0, 48.0), size: Vec2::new(800.0, 496.0) };

    fn looks() -> Vec<Orbit> {
        let (low, high) = (Vec3::new(0.0, 0.0, -0.7), Vec3::new(4.0, 0.7, 0.7));
        ViewFrom::ALL.iter().map(|v| Orbit::fit(*v, low, high, 1.6)).collect()
    }

    #[test]
    fn a_ray_runs_through_the_point_that_is_seen_there() {
        for o in looks() {
            for p in [Vec3::new(1.2, 0.3, 0.5), Vec3::new(3.9, 0.6, -0.6)] {
                let at = o.project(p, STAGE).expect("in front of the eye");
                let ray = o.ray(at, STAGE);
                let to = hull_from_world(p) - ray.from;
                let off = (to - to.dot(&ray.along) * ray.along).norm();
                assert!(off < 0.5, "{o:?} {p}: {off} mm beside it");
                assert!(to.dot(&ray.along) > 0.0, "ahead of the eye");
            }
        }
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        for mut o in looks() {
            let at = Vec2::new(700.0, 120.0);
            let off = (at - STAGE.middle()) * o.metres_per_pixel(STAGE.size.y);
            let point = o.target + o.rotation() * Vec3::new(off.x, -off.y, 0.0);
            o.zoom(0.6, Some(at), STAGE);
            let seen = o.project(point, STAGE).expect("still in sight");
            assert!((seen - at).length() < 0.05, "{seen} {at}");
        }
    }

    #[test]
    fn looking_at_a_place_brings_it_to_the_middle_from_outside() {
        let (at, outward) = (P3::new(900.0, 500.0, 200.0), V3::new(-0.3, 0.9, -0.3).normalize());
        for o in looks() {
            let to = o.look_at(at, outward);
            let seen = to.project(world_from_hull(at), STAGE).expect("in sight");
            assert!((seen - STAGE.middle()).length() < 0.1);
            let eye = hull_from_world(to.transform().translation) - at;
            assert!(eye.normalize().dot(&outward) > 0.8, "from outside");
            assert!((to.yaw - o.yaw).abs() < 3.6, "the shorter way round");
        }
    }

    #[test]
    fn the_square_on_views_face_their_axes() {
        let facing: Vec<usize> = looks().iter().map(Orbit::facing).collect();
        // Quarter, bow, stern, side, above, below (in `ViewFrom::ALL`).
        let of = |v| ViewFrom::ALL.iter().position(|w| *w == v).expect("a view");
        assert_eq!(facing[of(ViewFrom::Bow)], 0);
        assert_eq!(facing[of(ViewFrom::Side)], 1);
        assert_eq!(facing[of(ViewFrom::Above)], 2);
    }

    #[test]
    fn fitted_between_head_and_foot_she_lies_under_neither() {
        let (low, high) = (Vec3::new(0.0, -0.3, -0.9), Vec3::new(4.0, 1.1, 0.9));
        let clear = Frame {
            corner: STAGE.corner + Vec2::new(0.0, 90.0),
            size: STAGE.size - Vec2::new(0.0, 90.0 + 40.0),
        };
        for look in looks() {
            let o = look.fitted_within(low, high, STAGE, clear);
            assert!(o.sees(low, high, STAGE, clear), "{look:?}");
            let nearer = Orbit { distance: 0.9 * o.distance, ..o };
            assert!(!nearer.sees(low, high, STAGE, clear), "{look:?}: as large as there is room");
        }
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
