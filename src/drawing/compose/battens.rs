//! The bottom's battens on its pattern: both edges of each, so that fastenings find them.

use super::Line;
use super::SMALL;
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::model::battens::on_pattern;
use crate::model::{Model, PanelModel};
use crate::units::Units;

/// Width and depth of the nick under a batten that lets water past, mm (3/8 by 1/4 in): common
/// practice, no source.
const NICK_MM: [f64; 2] = [10.0, 6.0];

/// Draws them on the panel that they lie on; on a bottom of one piece on both halves.
pub(super) fn on_panel(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    if model.battens.is_none() || p.lower_line != 0 {
        return;
    }
    let names = model.members.iter().filter(|m| m.path.is_some());
    for (k, bent) in names.enumerate() {
        let half = 0.5 * bent.member.sided_mm;
        let (near, far) = (on_pattern(model, p, k, -half), on_pattern(model, p, k, half));
        for side in [&near, &far] {
            d.polyline(Line::Member, side.clone(), false);
            if p.full_width {
                d.polyline(Line::Member, side.iter().map(|q| P2::new(q.x, -q.y)).collect(), false);
            }
        }
        // Between its edges, a quarter along, where neither station nor level is named.
        let n = near.len().min(far.len());
        if n > 8 {
            let (a, b) = (near[n / 4], near[n / 4 + 1]);
            let angle = (b - a).y.atan2((b - a).x);
            let at = a + 0.25 * (far[n / 4] - a) + V2::new(30.0, 0.0);
            d.text(Line::Text, at, SMALL, angle, Anchor::Left, bent.member.name.clone());
        }
    }
    d.note(format!(
        "Battens: their edges are drawn between the dashed lines. Nick their undersides {} aft of \
         every frame, so that no water stands behind them.",
        units.section(NICK_MM[0], NICK_MM[1])
    ));
}
