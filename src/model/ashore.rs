//! The boat as she stands in the shop: what the water and the tape measure find.

use std::sync::Arc;

use super::{Model, PanelModel, Woodwork};
use crate::bend::BentMember;
use crate::hull::{Hull, HullLines};
use crate::material::Materials;

/// What the first half of a pass made, for the stages that look at all of it: how she floats,
/// and how she stands on her jig.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ashore<'a> {
    pub hull: &'a Hull,
    pub materials: &'a Arc<Materials>,
    pub lines: &'a HullLines,
    pub panels: &'a [PanelModel],
    pub members: &'a [BentMember],
    /// mm aft.
    pub stations: &'a [f64],
    pub woodwork: &'a Arc<Woodwork>,
}

impl<'a> Ashore<'a> {
    /// The same of a model that was computed.
    pub(super) fn of(model: &'a Model) -> Ashore<'a> {
        Ashore {
            hull: &model.hull,
            materials: &model.materials,
            lines: &model.lines,
            panels: &model.panels,
            members: &model.members,
            stations: &model.stations,
            woodwork: &model.woodwork,
        }
    }
}
