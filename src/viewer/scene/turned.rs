//! The hull upside down on her jig.

use bevy::prelude::*;

use super::sync::Floor;
use super::{Part, floor};
use crate::model::Model;
use crate::viewer::camera::hull_box;
use crate::viewer::derive::Derived;
use crate::viewer::ui::state::UiState;

/// Height (m) at which the baseline lies when she is upside down; `None` if she is not.
pub fn turned_at(state: &UiState, model: &Model) -> Option<f32> {
    let jig = model.woodwork.strongback.as_ref().filter(|_| state.turned())?;
    Some((jig.datum / 1000.0) as f32)
}

/// The box of the hull upside down on its jig, the floor at height 0.
pub(super) fn turned_box(model: &Model) -> (Vec3, Vec3) {
    let (mut low, mut high) = hull_box(model);
    if let Some(jig) = &model.woodwork.strongback {
        (low.y, high.y) = (0.0, (jig.datum / 1000.0) as f32 - low.y);
        low.x = low.x.min((jig.rails[0] / 1000.0) as f32);
        high.x = high.x.max((jig.rails[1] / 1000.0) as f32);
    }
    (low, high)
}

/// Turns the hull over onto its jig, or back.
pub(super) fn turn(
    derived: Res<Derived>,
    state: Res<UiState>,
    mut parts: Query<(&Part, &mut Transform), Without<Floor>>,
    mut floors: Query<&mut Transform, With<Floor>>,
) {
    let Some(model) = derived.model.as_deref() else {
        return;
    };
    let turned = turned_at(&state, model);
    for (part, mut transform) in &mut parts {
        let wanted = match turned.filter(|_| !part.0.stands()) {
            Some(height) => Transform::from_xyz(0.0, height, 0.0)
                .with_rotation(Quat::from_rotation_x(std::f32::consts::PI)),
            None => Transform::IDENTITY,
        };
        transform.set_if_neq(wanted);
    }
    // The shop floor lies at height 0, the one that she stands on the right way up under her.
    let shift = if turned.is_some() { floor::GAP - hull_box(model).0.y } else { 0.0 };
    for mut transform in &mut floors {
        transform.set_if_neq(Transform::from_xyz(0.0, shift, 0.0));
    }
}
