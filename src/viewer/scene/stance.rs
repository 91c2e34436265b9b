//! How she stands on the stage: as drawn, upside down on her jig, or afloat.

use bevy::prelude::*;
use nalgebra::{Isometry3, Matrix3, Rotation3, Translation3, UnitQuaternion};

use crate::float::equilibrium::Floating;
use crate::geom::{P3, V3};
use crate::model::Model;
use crate::viewer::camera::{hull_box, world_from_hull};
use crate::viewer::derive::Derived;
use crate::viewer::scene::floor::Floor;
use crate::viewer::scene::{Part, floor};
use crate::viewer::state::{Question, UiState};

/// How she floats in the case in hand, where that is asked about.
pub fn floating(state: &UiState, model: &Model) -> Option<Floating> {
    if state.question != Question::Afloat {
        return None;
    }
    {
        let a = model.afloat.as_ref()?;
        a.cases.get(state.case_of(a))?.floating
    }
}

/// The turn that brings the hull (mm, its own axes) to how she stands on the stage; the
/// water stays level.
pub fn stance(state: &UiState, model: &Model) -> Isometry3<f64> {
    if let Some(f) = floating(state, model) {
        let rows = Matrix3::from_rows(
            &[f.water.aft, f.water.abeam, f.water.plane.normal].map(|v| v.transpose()),
        );
        let turn = UnitQuaternion::from_rotation_matrix(&Rotation3::from_matrix_unchecked(rows));
        return Isometry3::from_parts(Translation3::identity(), turn);
    }
    match model.woodwork.strongback.as_ref().filter(|_| state.turned()) {
        Some(jig) => {
            Isometry3::new(V3::new(0.0, 0.0, jig.datum), V3::new(std::f64::consts::PI, 0.0, 0.0))
        }
        None => Isometry3::identity(),
    }
}

/// The same turn in the engine's space.
fn transform(stance: &Isometry3<f64>) -> Transform {
    let moved = world_from_hull(stance * P3::origin());
    // The engine's axes are the hull's aft, up, and port.
    let axis = |v: V3| {
        let v = 1000.0 * stance.rotation.transform_vector(&v);
        world_from_hull(P3::from(v))
    };
    let turn = Mat3::from_cols(axis(V3::x()), axis(V3::z()), axis(-V3::y()));
    Transform::from_translation(moved).with_rotation(Quat::from_mat3(&turn))
}

/// The box of the hull upside down on its jig, the floor at height 0.
pub(crate) fn turned_box(model: &Model) -> (Vec3, Vec3) {
    let (mut low, mut high) = hull_box(model);
    if let Some(jig) = &model.woodwork.strongback {
        (low.y, high.y) = (0.0, (jig.datum / 1000.0) as f32 - low.y);
        low.x = low.x.min((jig.rails[0] / 1000.0) as f32);
        high.x = high.x.max((jig.rails[1] / 1000.0) as f32);
    }
    (low, high)
}

/// The box of the hull and of what is aboard, as she floats.
pub(crate) fn afloat_box(state: &UiState, model: &Model) -> (Vec3, Vec3) {
    let (low, high) = hull_box(model);
    let turn = transform(&stance(state, model));
    let corner = |i: usize| {
        let pick = |bit: usize, a: f32, b: f32| if i & bit == 0 { a } else { b };
        let at = Vec3::new(pick(1, low.x, high.x), pick(2, low.y, high.y), pick(4, low.z, high.z));
        turn.transform_point(at)
    };
    let loads = model.afloat.iter().flat_map(|a| &a.loads);
    let aboard = loads.map(|l| turn.transform_point(world_from_hull(P3::new(l.x, l.y, l.z))));
    (0..8)
        .map(corner)
        .chain(aboard)
        .fold((Vec3::INFINITY, Vec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)))
}

/// Turns the hull over onto its jig, sets her in the water, or puts her back.
pub(crate) fn turn(
    derived: Res<Derived>,
    state: Res<UiState>,
    mut parts: Query<(&Part, &mut Transform), Without<Floor>>,
    mut floors: Query<&mut Transform, With<Floor>>,
) {
    let Some(model) = derived.model.as_deref() else {
        return;
    };
    let stance = transform(&stance(&state, model));
    for (part, mut transform) in &mut parts {
        let wanted = if part.0.stands_on_floor() { Transform::IDENTITY } else { stance };
        transform.set_if_neq(wanted);
    }
    // The shop floor lies at height 0, the one that she stands on the right way up under her.
    let on_jig = state.turned() && model.woodwork.strongback.is_some();
    let shift = if on_jig { floor::GAP - hull_box(model).0.y } else { 0.0 };
    for mut transform in &mut floors {
        transform.set_if_neq(Transform::from_xyz(0.0, shift, 0.0));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::demonstration;
    use crate::material::Materials;
    use crate::model::derive;
    use crate::viewer::camera::hull_from_world;

    #[test]
    fn the_engine_turns_her_as_the_hull_s_axes_say() {
        let model = derive(&demonstration(), &Materials::shipped()).expect("the hull");
        let afloat = model.afloat.as_ref().expect("she holds room");
        let heeled = |c: &crate::model::afloat::Case| c.floating.is_some_and(|f| f.heel > 0.1);
        let heels = afloat.cases.iter().position(heeled).expect("a case that heels her");
        let mut state = UiState::default();
        let p = P3::new(1200.0, 430.0, 310.0);
        for question in [Question::Shape, Question::Setup, Question::Afloat] {
            state.ask(question);
            state.selection.case = Some(heels);
            let stance = stance(&state, &model);
            let seen = hull_from_world(transform(&stance).transform_point(world_from_hull(p)));
            assert!((seen - stance * p).norm() < 0.01, "{question:?} {seen} {}", stance * p);
        }
        // Afloat every place of the waterline is as high as the water.
        let f = floating(&state, &model).expect("she floats");
        let line = crate::model::afloat::line_on_skin(&model.panels, f.water.plane);
        let stance = stance(&state, &model);
        assert!(line.iter().all(|p| ((stance * p).z - f.water.plane.offset).abs() < 1e-6));
        assert!(line.len() > 10 && f.heel > 0.1);
    }
}
