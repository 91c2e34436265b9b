//! Battens along the bottom, bent and judged like any other member.

use super::{Model, PanelModel, Recomputed};
use crate::bend::{BentMember, darboux, member};
use crate::frames::battens::LaidBattens;
use crate::frames::{Skin, spacing::Battening};
use crate::geom::roots::bracketed;
use crate::geom::{P2, P3};
use crate::hull::lumber::{Soak, Stock};
use crate::hull::{Battens, Hull, Member, MemberSide};
use crate::material::Materials;

/// Battens as laid, and as bent.
#[derive(Debug, Clone, PartialEq)]
pub struct BottomBattens {
    /// How they lie.
    pub laid: LaidBattens,
    /// What they do for the skin.
    pub battening: Battening,
}

/// One batten as a member: `bottom` stands where other members have their line.
fn as_member(plan: &Battens, k: usize, panel: &str) -> Member {
    Member {
        name: format!("batten {}", k + 1),
        line: panel.into(),
        moulded_mm: plan.moulded_mm,
        sided_mm: plan.sided_mm,
        species: plan.species.clone(),
        moisture_pct: plan.moisture_pct,
        air: None,
        stock: Stock::default(),
        soak: Soak::default(),
        side: MemberSide::Inside,
        carries_load: true,
        stick_test: None,
    }
}

/// Lays and bends the battens of `hull`; `None` where it has none or they have no room. On the
/// skin of the model `before` (if given) those of the same plan are taken over from it.
pub(super) fn battens(
    hull: &Hull,
    skin: &Skin,
    stations: &[f64],
    materials: &Materials,
    before: Option<&Model>,
    count: &mut Recomputed,
) -> Option<(BottomBattens, Vec<BentMember>)> {
    let plan = hull.framing.battens.as_ref()?;
    let wood = materials.wood(&plan.species)?;
    let old = before.filter(|b| {
        b.hull.framing == hull.framing
            && b.hull.members == hull.members
            && b.stations == stations
            && b.materials.wood(&plan.species) == Some(wood)
    });
    if let Some(b) = old {
        let laid = b.battens.clone()?;
        let bent = b.members.iter().filter(|m| m.path.is_some());
        return Some((laid, bent.cloned().collect()));
    }
    count.battens += 1;
    let laid = LaidBattens::of(plan, &hull.framing, skin, stations, &hull.members)?;
    let bent = (0..laid.count)
        .filter_map(|k| {
            let way = laid.way(skin, k)?;
            let length = way.line.arc.length();
            let pieces = member::pieces(length);
            let bends = darboux::along(&way.line.spline, &way.line.arc, &way.normals, pieces);
            let m = as_member(plan, k, skin.panels[0].name);
            let bent = member::bend(&m, wood, length, &bends);
            Some(BentMember { path: Some(Box::new(way.line)), ..bent })
        })
        .collect();
    let battening = laid.battening(plan, wood);
    Some((BottomBattens { laid, battening }, bent))
}

/// A line beside batten `k` (from 0 at the keel), `off` mm further out than its middle, on the
/// pattern of the bottom `p` from the bow to the stern; empty where it has none.
pub fn on_pattern(model: &Model, p: &PanelModel, k: usize, off: f64) -> Vec<P2> {
    let Some(laid) = model.battens.as_ref().map(|b| &b.laid).filter(|_| p.lower_line == 0) else {
        return Vec::new();
    };
    let chine = &model.lines.lines[p.lower_line + 1].spline;
    let out_of = |at: P3| {
        // At the stern's corner rounding may put a ruling's end past the chine's.
        let t = chine.parameter_at_x(at.x).unwrap_or(chine.end());
        at.y - off - laid.out(k, chine.at(t).y)
    };
    let rulings = p.flat.rulings.iter().filter(|r| r.upper.x >= laid.from);
    rulings
        .filter_map(|r| {
            // How far a place along the ruling lies outside the line.
            let at = |share: f64| r.lower + share * (r.upper - r.lower);
            let f = |share: f64| out_of(at(share));
            let ends = ((0.0, f(0.0)), (1.0, f(1.0)));
            let share = bracketed(f, ends.0, ends.1, 1e-9)?.x;
            let here = at(share).x >= laid.from;
            here.then(|| r.flat_lower + share * (r.flat_upper - r.flat_lower))
        })
        .collect()
}
