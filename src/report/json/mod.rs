//! The report as JSON, with keys that other programs may rely on: they are added to, never renamed.

mod afloat;
pub mod nulls;
mod setup;
mod stock;
mod woodwork;
mod yard;

pub use yard::yard;

use serde::Serialize;
use serde_json::{Value, json};

use super::{PARTS, wanted};
use crate::bend::BentMember;
use crate::finding::Finding;
use crate::flat::laps::LappedEdge;
use crate::flat::outline;
use crate::geom::polyline::area;
use crate::geom::{P2, P3};
use crate::hull::Stock;
use crate::model::stock::StockList;
use crate::model::{Model, PanelModel};
use crate::part::Question;
use crate::units::Units;
use crate::words::{self, finding::said};

/// Version of the report's keys.
const SCHEMA: u32 = 1;

/// One JSON object: all parts, or `only` one of [`PARTS`] or those of one of [`super::QUESTIONS`],
/// beside schema and findings.
pub fn report(model: &Model, only: Option<&str>) -> Value {
    let mut out = serde_json::Map::new();
    out.insert("schema".into(), SCHEMA.into());
    for part in PARTS {
        if wanted(only, part) {
            out.insert(part.into(), part_of(model, part));
        }
    }
    out.insert("findings".into(), findings(&model.findings, model.hull.units));
    Value::Object(out)
}

/// The report with what she is cut from and what is bought, where it is among what is wanted.
pub fn report_with_stock(model: &Model, list: &StockList, only: Option<&str>) -> Value {
    let mut out = report(model, only);
    if wanted(only, "stock") {
        out["stock"] = stock::stock(list, model.hull.units);
    }
    out
}

fn part_of(model: &Model, part: &str) -> Value {
    match part {
        "hull" => json!({
            "name": model.hull.name,
            "mark": model.hull.mark(),
            "length_overall_mm": model.lines.length_overall(),
            "beam_overall_mm": model.lines.beam_overall(),
            "depth_mm": model.lines.depth(),
        }),
        "lines" => model
            .lines
            .lines
            .iter()
            .zip(&model.fairness)
            .map(|(line, fair)| {
                json!({
                    "name": line.id,
                    "derived": line.derived,
                    "length_mm": line.arc.length(),
                    "plan_inflections": fair.plan.inflections_x.len(),
                    "profile_inflections": fair.profile.inflections_x.len(),
                    "plan_energy": fair.plan.energy,
                    "profile_energy": fair.profile.energy,
                })
            })
            .collect(),
        "panels" => model.panels.iter().map(|p| panel(model, p)).collect(),
        "members" => model.members.iter().map(|m| member(m, model.hull.units)).collect(),
        "stations" => woodwork::stations(model),
        "frames" => woodwork::frames(model),
        "transom" => woodwork::transom(model, model.woodwork.transom.as_ref()),
        "bow_transom" => woodwork::transom(model, model.woodwork.bow_transom.as_ref()),
        "stem" => woodwork::stem(model, model.woodwork.stem.as_ref()),
        "sternpost" => woodwork::stem(model, model.woodwork.sternpost.as_ref()),
        "strongback" => setup::strongback(model),
        "as_built" => setup::as_built(model),
        "afloat" => afloat::afloat(model),
        // Stock is searched for, and told where it was asked for.
        _ => Value::Null,
    }
}

fn findings(all: &[Finding], units: Units) -> Value {
    let told = all.iter().map(|f| {
        let said = said(f, units);
        json!({
            "severity": f.severity,
            "part": f.question().map_or("document", Question::key),
            "place": said.place,
            "message": said.message,
            "hint": said.hint,
        })
    });
    told.collect()
}

fn xyz(p: P3) -> [f64; 3] {
    [p.x, p.y, p.z]
}

fn uv(p: P2) -> [f64; 2] {
    [p.x, p.y]
}

/// A radius, null where there is no bend.
fn radius(mm: f64) -> Option<f64> {
    mm.is_finite().then_some(mm)
}

fn panel(model: &Model, p: &PanelModel) -> Value {
    let outline = outline::of_flat(&p.flat, p.full_width);
    let rulings: Vec<Value> = p
        .flat
        .rulings
        .iter()
        .map(|r| {
            json!({
                "lower": xyz(r.lower),
                "upper": xyz(r.upper),
                "flat_lower": uv(r.flat_lower),
                "flat_upper": uv(r.flat_upper),
                "twist_deg": r.warp.to_degrees(),
            })
        })
        .collect();
    let both = if p.full_width { 2.0 } else { 1.0 };
    json!({
        "name": p.name,
        "lower_line": model.line_below(p),
        "upper_line": model.line_above(p),
        "mirrored": !p.full_width,
        "full_width": p.full_width,
        "sheet": p.sheet,
        "thickness_mm": p.thickness,
        "pattern_surface": p.pattern_surface.word(),
        "rulings": rulings,
        "finished_outline_mm": p.finished_outline().iter().map(|q| uv(*q)).collect::<Vec<_>>(),
        "past_stem_mm": past(&p.past_posts[0]),
        "past_sternpost_mm": past(&p.past_posts[1]),
        "outline_mm": outline.iter().map(|q| uv(*q)).collect::<Vec<_>>(),
        "area_mm2": both * p.flat.area_in_space,
        "flat_area_mm2": area(&outline).abs(),
        "edges_mm": {
            "lower": p.edges.lower, "upper": p.edges.upper, "bow": p.edges.bow, "stern": p.edges.stern,
        },
        "laps": {
            "lower": lap(&p.laps.lower),
            "upper": lap(&p.laps.upper),
        },
        "max_twist_deg": p.quality.greatest_warp.to_degrees(),
        "max_twist_at": xyz(p.quality.warp_at),
        "stretch_max": p.quality.edge_stretch,
        "pattern_error_mm": p.pattern_error,
        "tightest_radius_mm": radius(p.bend.radius),
        "least_radius_mm": p.bend.least_radius,
        "tightest_at": xyz(p.bend.at),
        "grain_angle_deg": p.bend.grain_angle.to_degrees(),
        "sheet_quality": p.bend.quality.word(),
        "least_radius_source": model.materials.sheets.source_of_radii(p.bend.quality),
        "sheet_options": p.bend.options.iter().map(|o| json!({
            "what": words::bend::sheet_way(&o.way), "holds": o.holds, "least_radius_mm": o.least_radius,
        })).collect::<Vec<_>>(),
    })
}

/// Least and greatest that a panel has past a post's line; null where there is none.
fn past(places: &[(P2, f64)]) -> Option<[f64; 2]> {
    let first = places.first()?.1;
    Some(places.iter().fold([first, first], |[l, h], p| [l.min(p.1), h.max(p.1)]))
}

/// What a long edge does where it meets its neighbour.
fn lap(edge: &LappedEdge) -> Value {
    let (least, most) = edge.bevel_range();
    json!({
        "edge": edge.role.word(),
        "added_mm": edge.most_added(),
        "bevel_deg": (least <= most).then(|| [least.to_degrees(), most.to_degrees()]),
    })
}

#[derive(Serialize)]
struct AlongRow {
    at_mm: f64,
    curvature_moulded_per_mm: f64,
    curvature_sided_per_mm: f64,
    twist_deg_per_m: f64,
    strain: f64,
}

fn member(bent: &BentMember, units: Units) -> Value {
    let m = &bent.member;
    let along: Vec<AlongRow> = bent
        .along
        .iter()
        .map(|a| AlongRow {
            at_mm: a.at,
            curvature_moulded_per_mm: a.moulded,
            curvature_sided_per_mm: a.sided,
            twist_deg_per_m: a.twist.to_degrees() * 1000.0,
            strain: a.strain,
        })
        .collect();
    let options: Vec<Value> = bent
        .advice
        .rungs
        .iter()
        .map(|r| {
            let mut option = json!({
                "method": words::bend::method(r.method),
                "holds": r.holds,
                "strain": r.strain,
                "allowed_strain": r.allowed,
                "how": words::bend::how(&r.how, units),
                "caution": words::bend::caution(r.method),
                "source": words::bend::source(r.method),
            });
            for f in &r.figures {
                option[f.quantity.key()] = f.value.into();
            }
            option
        })
        .collect();
    json!({
        "name": m.name,
        "line": m.line,
        "length_mm": bent.length,
        "moulded_mm": m.moulded_mm,
        "sided_mm": m.sided_mm,
        "species": m.species,
        "moisture_pct": m.moisture(),
        "moisture_from": if m.air.is_some() { "air" } else { "told" },
        "stock": words::bend::stock(m.stock),
        "grain_one_in": match m.stock {
            Stock::Clear => None,
            Stock::Graded { one_in } => Some(one_in),
        },
        "sticks": m.sticks(),
        "stiffness_n_per_mm2": bent.limit.stiffness,
        "stiffness_from": if m.stick_test.is_some() { "stick test" } else { "handbook" },
        "along": along,
        "peak_strain": bent.peak_strain,
        "peak_at_mm": bent.peak_at,
        "breaking_strain": bent.limit.breaking,
        "breaking_strain_scatter": bent.limit.scatter,
        "share_left_for": {
            "size": bent.limit.size,
            "grain": bent.limit.grain,
            "stick_test": bent.limit.test,
        },
        "shearing_strain": bent.limit.shearing,
        "utilisation": bent.utilisation,
        "break_chance": bent.break_chance,
        "pair_break_chance": bent.pair_break_chance,
        "advice": { "recommended": bent.advice.recommended.map(words::bend::method), "options": options },
    })
}
