//! Only what the yard has, as one object.

use serde_json::{Value, json};

use super::{SCHEMA, findings, radius, stock};
use crate::model::Model;
use crate::model::stock::StockList;
use crate::model::stock::yard::{Change, End, Found, Sheet};
use crate::units::Units;
use crate::words::yard as words;

/// The object: what changes, the boat as she is and as she is then, what fell, and whether it is
/// proved that nothing is cheaper.
pub fn yard(found: &Found, units: Units) -> Value {
    let (before, list) = &found.before;
    let answer = found.answer.as_ref();
    json!({
        "schema": SCHEMA,
        "looked_at": found.looked_at,
        "possible": found.possible.to_string().parse::<f64>().unwrap_or(f64::INFINITY),
        "proved": found.end == End::Proved,
        "before": boat(before, list),
        "before_not_on_the_list": found.as_she_is_besides.iter()
            .map(|b| words::besides(b, units)).collect::<Vec<_>>(),
        "before_falls": found.as_she_is.as_ref().map(|w| words::why(w, units)),
        "after": answer.map(|a| boat(&a.model, &a.list)),
        "stock": answer.map(|a| stock::stock(&a.list, units)),
        "because": answer.map(|a| a.because.iter().map(|b| {
            b.as_ref().map(|b| words::because(b, &before.hull.stock.currency, units))
        }).collect::<Vec<_>>()),
        "changes": answer.map(|a| a.changes.iter().map(|c| change(c, units)).collect::<Vec<_>>()),
        "not_on_the_list": answer.map(|a| {
            a.besides.iter().map(|b| words::besides(b, units)).collect::<Vec<_>>()
        }),
        "fallen": found.fallen.iter().map(|f| json!({
            "which": words::family(&f.family, units),
            "boats": f.boats.to_string().parse::<f64>().unwrap_or(f64::INFINITY),
            "cost_at_least": f.at_least,
            "why": words::why(&f.why, units),
        })).collect::<Vec<_>>(),
        "glues_left_out": found.choices.glues_out.iter().map(|(name, why)| json!({
            "name": name,
            "why": words::glue_out(why, units),
        })).collect::<Vec<_>>(),
        "sheets_left_out": found.choices.unknown_sheets,
        "suffered": findings(&found.suffered, units),
        "stop": found.stop.as_ref().map(|f| findings(std::slice::from_ref(f), units)),
    })
}

fn boat(model: &Model, list: &StockList) -> Value {
    let full = model.afloat.as_deref().and_then(|a| a.full()).and_then(|c| c.freeboard);
    json!({
        "mark": model.hull.mark(),
        "cost": list.cost.whole(),
        "known_cost": list.cost.known(),
        "without_price": list.cost.unpriced,
        "sheets": list.cost.parts()[0],
        "lumber": list.cost.parts()[1],
        "stores": list.cost.parts()[2],
        "mass_kg": list.mass,
        "freeboard_mm": full.map(|f| f.0),
        "panels": model.panels.iter().map(|p| json!({
            "name": p.name,
            "sheet": p.sheet,
            "thickness_mm": p.thickness,
            "radius_mm": radius(p.bend.radius),
            "least_radius_mm": radius(p.bend.least_radius),
        })).collect::<Vec<_>>(),
        "members": model.members.iter().map(|b| json!({
            "name": b.member.name,
            "species": b.member.species,
            "share_of_breaking": b.utilisation,
            "recommended": b.advice.recommended.map(crate::words::bend::method),
        })).collect::<Vec<_>>(),
    })
}

fn change(what: &Change, units: Units) -> Value {
    let told = words::change(what, units);
    let sheet = |s: &Sheet| json!({ "sheet": s.name, "thickness_mm": s.thickness });
    match what {
        Change::Sheet { panel, from, to } => {
            json!({ "panel": panel, "from": sheet(from), "to": sheet(to), "said": told })
        }
        Change::Species { member, from, to, drops_test } => json!({
            "member": member, "from": from, "to": to, "drops_stick_test": drops_test, "said": told,
        }),
        Change::Glue { from, to } => json!({ "glue": to, "from": from, "to": to, "said": told }),
        Change::Joint { from, to } => json!({
            "joint": to.word(), "from": from.word(), "to": to.word(), "said": told,
        }),
    }
}
