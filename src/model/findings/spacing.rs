//! Bones: how far the skin is pressed in between its supports.

use super::Model;
use crate::finding::{BayFact, Finding, Place};
use crate::frames::Bay;
use crate::geom::P3;
use crate::part::{PanelId, PartId};

/// The worst bay, and the worst that may snap through.
pub(super) fn spacing(model: &Model, out: &mut Vec<Finding>) {
    let bays = &model.woodwork.bays;
    let worst = |of: &dyn Fn(&Bay) -> bool| {
        bays.iter().filter(|b| of(b)).reduce(|w, b| if b.worse_than(w) { b } else { w })
    };
    if let Some(b) = worst(&|b| !b.holds()) {
        let Some(severity) = b.gravity() else {
            return;
        };
        let others = bays.iter().filter(|o| o.gravity() >= Some(severity)).count() - 1;
        let sags = BayFact::Sags { bay: b.clone(), others };
        let found = Finding::new(severity, place(model, b), sags);
        out.push(found.about(panel(b)).at(middle(model, b)));
    }
    // What may snap is worth its own word where something else is worse.
    let snapping = worst(&Bay::may_snap);
    if let Some(b) = snapping
        && let Some([most, _]) = b.snaps
    {
        let snaps = BayFact::SnapsAt { most, pressure: b.worst_pressure() };
        let found = Finding::watch(place(model, b), snaps);
        out.push(found.about(panel(b)).at(middle(model, b)));
    }
}

fn panel(b: &Bay) -> PartId {
    PartId::Panel(PanelId(b.panel))
}

/// The middle of the bay, halfway up its panel.
fn middle(model: &Model, b: &Bay) -> Option<P3> {
    let x = 0.5 * (b.from + b.to);
    let [low, high] = [0, 1].map(|up| {
        let line = &model.lines.lines[model.panels[b.panel].lower_line + up].spline;
        line.parameter_at_x(x).map(|t| line.at(t))
    });
    Some(low? + 0.5 * (high? - low?))
}

fn place(model: &Model, b: &Bay) -> Place {
    Place::PanelBetween(model.panels[b.panel].name.clone(), b.from, b.to)
}
