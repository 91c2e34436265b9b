//! The bottom's battens on its pattern: both edges of each, so that fastenings find them.

use super::Line;
use super::SMALL;
use crate::drawing::{Anchor, Drawing};
use crate::geom::roots::bracketed;
use crate::geom::{P2, P3, V2};
use crate::model::{Model, PanelModel};
use crate::units::Units;

/// Width and depth of the nick under a batten that lets water past, mm (3/8 by 1/4 in): common
/// practice, no source.
const NICK_MM: [f64; 2] = [10.0, 6.0];

/// Draws them on the panel that they lie on; on a bottom of one piece on both halves.
pub(super) fn on_panel(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    let Some(laid) = model.battens.as_ref().map(|b| &b.laid).filter(|_| p.lower_line == 0) else {
        return;
    };
    let chine = &model.lines.lines[p.lower_line + 1].spline;
    let names = model.members.iter().filter(|m| m.path.is_some());
    for (k, bent) in names.enumerate() {
        let half = 0.5 * bent.member.sided_mm;
        let edge = |off: f64| -> Vec<P2> {
            let rulings = p.flat.rulings.iter();
            let out_of = |at: P3| {
                // At the stern's corner rounding may put a ruling's end past the chine's.
                let t = chine.parameter_at_x(at.x).unwrap_or(chine.end());
                at.y - off - laid.out(k, chine.at(t).y)
            };
            rulings
                .filter(|r| r.upper.x >= laid.from)
                .filter_map(|r| {
                    // How far a place along the ruling lies outside the batten's edge.
                    let at = |share: f64| r.lower + share * (r.upper - r.lower);
                    let f = |share: f64| out_of(at(share));
                    let ends = ((0.0, f(0.0)), (1.0, f(1.0)));
                    let share = bracketed(f, ends.0, ends.1, 1e-9)?.x;
                    let here = at(share).x >= laid.from;
                    here.then(|| r.flat_lower + share * (r.flat_upper - r.flat_lower))
                })
                .collect()
        };
        let (near, far) = (edge(-half), edge(half));
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
