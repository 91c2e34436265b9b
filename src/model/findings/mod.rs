//! What is worth saying about a computed hull: findings, part by part.

mod aboard;
mod afloat;
mod bow;
mod drain;
mod ends;
mod frames;
mod limits;
mod lines;
mod motor;
mod on_frame;
mod setup;
mod skin;
mod spacing;
mod sticks;

pub use lines::off_transom;

use super::Model;
use crate::finding::Finding;

/// All findings of a model, with those `already` made while it was computed.
pub(super) fn findings(model: &Model, already: Vec<Finding>) -> Vec<Finding> {
    let mut out = already;
    lines::lines(model, &mut out);
    skin::skin(model, &mut out);
    sticks::sticks(model, &mut out);
    frames::frames(model, &mut out);
    motor::motor(model, &mut out);
    setup::setup(model, &mut out);
    afloat::afloat(model, &mut out);
    out.sort_by_key(|f| std::cmp::Reverse(f.severity));
    out
}
