//! Battens along the bottom, bent and judged like any other member.

use super::{Model, Recomputed};
use crate::bend::{BentMember, darboux, member};
use crate::frames::battens::LaidBattens;
use crate::frames::{Skin, spacing::Battening};
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
