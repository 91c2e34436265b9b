//! The eye on the stage: where a place of the hull is seen, and what lies behind a place on
//! the screen.

use bevy::prelude::Vec2;
use bevy_egui::egui::{Pos2, pos2};
use nalgebra::Isometry3;

use crate::geom::P3;
use crate::viewer::camera::{Frame, Orbit, Ray, world_from_hull};

/// Points beyond which a line is not followed: close to the eye everything is far aside.
const FAR: f32 = 8000.0;
/// The eye and the stage it looks at, in points.
#[derive(Clone, Copy)]
pub(crate) struct Eye {
    /// Where it is.
    pub(crate) orbit: Orbit,
    /// The stage, points.
    pub(crate) frame: Frame,
    /// How she stands.
    pub(crate) stance: Isometry3<f64>,
}

impl Eye {
    /// The line of sight through a place on the screen, in the hull's own coordinates.
    pub(crate) fn ray(&self, at: Pos2) -> Ray {
        let ray = self.orbit.ray(Vec2::new(at.x, at.y), self.frame);
        Ray {
            from: self.stance.inverse_transform_point(&ray.from),
            along: self.stance.inverse_transform_vector(&ray.along),
        }
    }

    /// Where a place of the hull is seen.
    pub(crate) fn see(&self, p: P3) -> Option<Pos2> {
        self.orbit.project(world_from_hull(self.stance * p), self.frame).map(|v| pos2(v.x, v.y))
    }

    /// A line as it is seen; what lies far beside the stage is left out.
    pub(crate) fn line(&self, points: impl Iterator<Item = P3>) -> Vec<Pos2> {
        let near = |p: &Pos2| p.x.abs().max(p.y.abs()) < FAR;
        points.filter_map(|p| self.see(p)).filter(near).collect()
    }
}
