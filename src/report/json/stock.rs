//! The key `stock`: sheets with what lies on them, joints, lumber with its cuts, stores, cost.

use serde_json::{Value, json};

use super::{findings, uv};
use crate::geom::polyline::area;
use crate::model::stock::{SheetKind, StockList};
use crate::stock::nest::{Keep, SheetLayout, cuts, offcuts};
use crate::units::Units;
use crate::words;

/// The object.
pub(super) fn stock(s: &StockList, units: Units) -> Value {
    let sheets: Vec<Value> =
        s.sheets.iter().flat_map(|k| k.layout.sheets.iter().map(|l| sheet(k, l))).collect();
    let kinds: Vec<Value> = s.sheets.iter().map(kind).collect();
    let joints: Vec<Value> = s
        .panels
        .iter()
        .flat_map(|p| {
            p.split.joints.iter().map(|j| {
                json!({
                    "panel": p.name,
                    "kind": j.kind.word(),
                    "at_mm": j.at,
                    "length_mm": j.taken,
                    "slope": j.slope,
                    "lengthwise": j.lengthwise,
                    "bends_with_panel": j.bend.bends(),
                    "in_the_way": j.in_the_way,
                })
            })
        })
        .collect();
    json!({
        "sheets": sheets,
        "kinds": kinds,
        "joints": joints,
        "lumber": lumber(s),
        "scarfs": s.lumber.plan.scarfs.iter().map(|c| json!({
            "name": s.lumber.cuts[c.cut].0.name,
            "at_mm": c.at,
            "length_mm": c.length,
        })).collect::<Vec<_>>(),
        "stores": s.stores.lines.iter().map(|l| json!({
            "name": l.name,
            "quantity": l.quantity,
            "unit": l.unit,
            "packs": l.packs,
            "pack": l.pack,
            "price": l.price,
            "waste_pct": l.waste_pct,
            "basis": words::stock::counted(&l.from, units),
            "source": l.source,
        })).collect::<Vec<_>>(),
        "mass_kg": s.mass,
        "cost": s.cost.whole(),
        "known_cost": s.cost.known(),
        "without_price": s.cost.unpriced,
        "findings": findings(&s.findings, units),
    })
}

fn sheet(kind: &SheetKind, laid: &SheetLayout) -> Value {
    let stock = &kind.problem.sheets[laid.sheet];
    let (_, size) = stock.extent();
    let keep = Keep::default();
    let parts: Vec<Value> = laid
        .placed
        .iter()
        .map(|p| {
            json!({
                "name": kind.problem.parts[p.part].name,
                "turned_over": p.attitude.mirrored,
                "outline_mm": p.outline.iter().map(|q| uv(*q)).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "stock": kind.sheet,
        "thickness_mm": kind.thickness,
        "length_mm": size.x,
        "width_mm": size.y,
        "parts": parts,
        "used": laid.density(&kind.problem),
        "offcuts": offcuts(&kind.problem, laid, keep).iter().map(|o| json!({
            "area_mm2": o.area,
            "outline_mm": o.outline.iter().map(|q| uv(*q)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "straight_cuts": cuts(&kind.problem, laid, keep).iter().filter(|c| c.part.is_none())
            .map(|c| json!({
                "kind": c.kind,
                "path_mm": c.path.iter().map(|q| uv(*q)).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
    })
}

fn kind(k: &SheetKind) -> Value {
    let bought = k.layout.bought(&k.problem);
    let parts = k.problem.parts.iter();
    let wanted: f64 = parts.map(|p| p.count as f64 * area(&p.outline).abs()).sum();
    json!({
        "stock": k.sheet,
        "thickness_mm": k.thickness,
        "sheets": k.layout.sheets.len(),
        "bought": bought,
        "parts_area_mm2": wanted,
        "least_possible": k.layout.bound.sheets,
        "why_least": words::stock::rests_on(&k.layout.bound),
        "unplaced": k.layout.unplaced.iter().map(|u| json!({
            "name": k.problem.parts[u.part].name,
            "why": words::stock::on_no_sheet(&u.reason),
        })).collect::<Vec<_>>(),
    })
}

fn lumber(s: &StockList) -> Vec<Value> {
    let list = &s.lumber;
    let boards = list.plan.boards.iter().map(|b| {
        let stock = &list.lengths[b.stock];
        let cuts: Vec<Value> = b
            .strips
            .iter()
            .flat_map(|strip| {
                strip.pieces.iter().map(|p| {
                    json!({
                        "name": list.cuts[p.cut].0.name,
                        "length_mm": p.length,
                        "ripped_to_mm": strip.width,
                    })
                })
            })
            .collect();
        json!({
            "species": stock.species,
            "section": [stock.thickness, stock.width],
            "stock_length_mm": stock.length,
            "price": stock.price,
            "cuts": cuts,
        })
    });
    boards.collect()
}
