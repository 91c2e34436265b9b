//! The key `stock`: sheets with what lies on them, joints, lumber with its cuts, stores, cost.

use serde_json::{Value, json};

use super::{findings, uv};
use crate::geom::polyline::area;
use crate::model::stock::{SheetKind, Side, StockList};
use crate::stock::joints::SheetFace;
use crate::stock::nest::{Keep, cuts};
use crate::units::Units;
use crate::words;

/// The object.
pub(super) fn stock(s: &StockList, units: Units) -> Value {
    let of_kind = |(i, k): (usize, &SheetKind)| {
        let sheets = 0..k.layout.sheets.len();
        sheets.map(|n| sheet(s, k, n, s.sheet_number(i, n))).collect::<Vec<_>>()
    };
    let sheets: Vec<Value> = s.sheets.iter().enumerate().flat_map(of_kind).collect();
    let kinds: Vec<Value> = s.sheets.iter().map(kind).collect();
    let joints: Vec<Value> = s
        .panels
        .iter()
        .flat_map(|p| {
            p.split.joints.iter().map(|j| {
                json!({
                    "panel": p.name,
                    "kind": j.kind.word(),
                    "faces": j.faces.map(SheetFace::word),
                    "bend_radius_mm": j.bend.radius.is_finite().then_some(j.bend.radius),
                    "least_radius_mm": j.bend.least_radius,
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
        "laminated": s.laminated.iter().map(|l| json!({
            "name": l.name,
            "layers": l.layers(),
            "of": l.of.iter().map(|(n, sheet)| json!({
                "layers": n,
                "stock": sheet,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "for_boxes": s.boxes.iter().flat_map(|b| &b.sheets).map(|b| json!({
            "sheet": b.sheet,
            "thickness_mm": b.thickness,
            "length_mm": b.size.0,
            "width_mm": b.size.1,
            "count": b.count,
            "price": b.price,
        })).collect::<Vec<_>>(),
        "lumber": lumber(s),
        "scarfs": s.lumber.plan.scarfs.iter().map(|c| json!({
            "name": s.lumber.cuts[c.cut].0.name,
            "at_mm": c.at,
            "length_mm": c.length,
            "cleat_mm": c.cleat,
        })).collect::<Vec<_>>(),
        "stores": s.stores.lines.iter().map(|l| json!({
            "name": l.name,
            "quantity": l.quantity,
            "unit": l.unit.word(),
            "product": l.product,
            "waste_pct": l.waste_pct,
            "basis": words::stores::counted(&l.from, units),
            "source": l.source,
        })).collect::<Vec<_>>(),
        "bought": s.stores.bought.iter().map(|b| json!({
            "product": b.product,
            "quantity": b.quantity,
            "unit": b.unit.word(),
            "packs": b.packs,
            "pack": b.pack,
            "price": b.price,
        })).collect::<Vec<_>>(),
        "mass_kg": s.mass,
        "cost": s.cost.whole(),
        "known_cost": s.cost.known(),
        "without_price": s.cost.unpriced,
        "findings": findings(&s.findings, units),
    })
}

fn sheet(s: &StockList, kind: &SheetKind, n: usize, number: usize) -> Value {
    let laid = &kind.layout.sheets[n];
    let stock = &kind.problem.sheets[laid.sheet];
    let (_, size) = stock.extent();
    let keep = Keep::default();
    let parts: Vec<Value> = laid
        .placed
        .iter()
        .zip(s.lying(kind, n))
        .map(|(p, lying)| {
            json!({
                "name": kind.problem.parts[p.part].name,
                "called": words::stock::part_name(s, kind, p.part, &lying),
                "number": lying.number,
                "side": lying.side.map(Side::word),
                "face_up": lying.face_up.map(SheetFace::word),
                "turned_over": p.attitude.mirrored,
                "outline_mm": p.outline.iter().map(|q| uv(*q)).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "number": number,
        "stock": kind.sheet,
        "thickness_mm": kind.thickness,
        "length_mm": size.x,
        "width_mm": size.y,
        "outline_mm": stock.outline.iter().map(|q| uv(*q)).collect::<Vec<_>>(),
        "margin_mm": stock.edge_margin,
        "kerf_mm": kind.problem.kerf,
        "price": stock.price,
        "parts": parts,
        "used": laid.density(&kind.problem),
        "offcuts": kind.left_over(laid).iter().map(|o| json!({
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
            "why": words::stock::on_no_sheet(&u.reason, Units::Mm),
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
                        "name": words::stock::stick_piece(list, p),
                        "length_mm": p.length,
                        "finished_mm": list.finished(p),
                        "ripped_to_mm": strip.width,
                        "strip_from_mm": strip.from,
                    })
                })
            })
            .collect();
        json!({
            "species": stock.species,
            "section": [stock.thickness, stock.width],
            "stock_length_mm": stock.length,
            "price": stock.price,
            "spare_mm": list.spare(b),
            "cuts": cuts,
        })
    });
    boards.collect()
}
