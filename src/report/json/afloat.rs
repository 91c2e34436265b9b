//! The boat afloat, as JSON.

use serde_json::{Map, Value, json};

use super::xyz;
use crate::float::capacity::Pair;
use crate::float::curves::Draft;
use crate::float::power::SpeedPower;
use crate::float::working::Line;
use crate::model::Model;
use crate::model::afloat::{Afloat, Case, line_on_skin};
use crate::part::CaseId;
use crate::units::Units;
use crate::words::{self, speed::no_figure};

/// Said beside every figure of this part.
const INDICATIVE: &str = "indicative: local law and licensed practice decide";

/// Mass, load cases, righting arm, curves, capacity, power, waterline. Where she does not
/// float with her full crew, the figures of that case are null.
pub(super) fn afloat(model: &Model) -> Value {
    let Some(a) = model.afloat.as_deref() else {
        return Value::Null;
    };
    let mut out = Map::new();
    for part in [masses(a, model.hull.units), at_rest(model, a), rules(model, a)] {
        out.extend(part);
    }
    out.insert("cases".into(), a.cases.iter().map(|c| case(a, c)).collect());
    out.insert("steps".into(), steps(a));
    out.insert("righting".into(), righting(a));
    out.insert("curves".into(), a.curves.iter().map(draft).collect());
    out.insert("speed_power".into(), a.speed.as_ref().map_or(Value::Null, speeds));
    out.insert("speed".into(), a.speed.as_ref().map_or(Value::Null, speed));
    out.insert("marked_waterline".into(), marked(a));
    Value::Object(out)
}

fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

fn masses(a: &Afloat, units: Units) -> Map<String, Value> {
    let items: Vec<Value> = a
        .items
        .iter()
        .map(|i| {
            json!({
                "name": i.name, "mass_kg": i.mass, "centre": xyz(i.centre),
                "solid_mm3": i.solid, "basis": words::mass::basis(&i.basis, units),
                "source": words::mass::source(i),
                "weighed": i.computed.is_some(),
            })
        })
        .collect();
    let loads: Vec<Value> = a
        .loads
        .iter()
        .map(|l| json!({ "name": l.name, "mass_kg": l.mass_kg, "at": [l.x, l.y, l.z] }))
        .collect();
    object(json!({
        "caution": INDICATIVE,
        "water_kg_m3": a.density,
        "hull_mass_kg": a.hull.mass,
        "hull_centre": xyz(a.hull.centre),
        "items": items,
        "loads": loads,
        "mesh_error_share": a.mesh_error,
    }))
}

fn at_rest(model: &Model, a: &Afloat) -> Map<String, Value> {
    let full = a.full();
    let floating = full.and_then(|c| c.floating);
    let found = floating.map(|f| f.immersed);
    let line = floating.map(|f| -> Vec<[f64; 3]> {
        line_on_skin(&model.panels, f.water.plane).into_iter().map(xyz).collect()
    });
    object(json!({
        "mass_kg": full.map(|c| c.weight.mass),
        "centre": full.map(|c| xyz(c.weight.centre)),
        "draft_mm": full.and_then(|c| c.draft),
        "trim_deg": floating.map(|f| f.trim.to_degrees()),
        "heel_deg": floating.map(|f| f.heel.to_degrees()),
        "displacement_kg": found.map(|i| i.volume * a.density * 1e-9),
        "lcb_mm": found.map(|i| i.centroid.x),
        "vcb_mm": found.map(|i| i.centroid.z),
        "waterplane_area_mm2": found.map(|i| i.waterplane),
        "wetted_area_mm2": found.map(|i| i.wetted),
        "gm_mm": full.and_then(|c| c.gm).map(|g| g[0]),
        "gm_long_mm": full.and_then(|c| c.gm).map(|g| g[1]),
        "waterline": line,
    }))
}

fn case(a: &Afloat, c: &Case) -> Value {
    json!({
        "name": c.name(),
        "mass_kg": c.weight.mass,
        "centre": xyz(c.weight.centre),
        "floats": c.floating.is_some() && (c.id == CaseId::Swamped || !c.floods()),
        "trim_deg": c.floating.map(|f| f.trim.to_degrees()),
        "heel_deg": c.floating.map(|f| f.heel.to_degrees()),
        "draft_mm": c.draft,
        "freeboard_mm": c.freeboard.map(|b| b.0),
        "freeboard_bow_middle_stern_mm": c.along(&a.openings),
        "first_to_flood": c.freeboard.map(|b| xyz(b.1.at)),
        "at_cut_out": c.freeboard.map(|b| b.1.cut_out),
        "gm_mm": c.gm.map(|g| g[0]),
    })
}

fn steps(a: &Afloat) -> Value {
    a.steps
        .iter()
        .map(|s| {
            json!({
                "load": s.load, "aft_mm": s.by, "trim_deg": s.trim.to_degrees(),
                "stern_down_mm": s.ends[0], "bow_up_mm": s.ends[1],
            })
        })
        .collect()
}

fn righting(a: &Afloat) -> Value {
    a.righting
        .points
        .iter()
        .map(|p| {
            json!({
                "heel_deg": p.heel.to_degrees(), "gz_mm": p.arm,
                "trim_deg": p.trim.to_degrees(), "freeboard_mm": p.freeboard,
            })
        })
        .collect()
}

fn draft(d: &Draft) -> Value {
    json!({
        "draft_mm": d.draft, "displacement_kg": d.displacement, "lcb_mm": d.lcb,
        "vcb_mm": d.vcb, "lcf_mm": d.lcf, "waterplane_area_mm2": d.waterplane,
        "wetted_area_mm2": d.wetted, "kmt_mm": d.km[0], "kml_mm": d.km[1],
        "tpc": d.per_cm / 1000.0, "kg_per_cm": d.per_cm, "mct": d.moment_per_cm / 1000.0,
        "kg_m_per_cm": d.moment_per_cm, "block": d.coefficients[0],
        "prismatic": d.coefficients[1], "midship": d.coefficients[2],
        "waterplane": d.coefficients[3],
    })
}

fn working(lines: &[Line], units: Units) -> Value {
    lines
        .iter()
        .map(|l| json!({ "text": words::working::text(&l.worked, units), "value": l.value, "unit": l.unit,
            "source": words::working::source(&l.worked) }))
        .collect()
}

fn rules(model: &Model, a: &Afloat) -> Map<String, Value> {
    let c = &a.capacity;
    let capacity = json!({
        "caution": "a suggestion for a maker's plate by 33 CFR part 183; local rules decide",
        "weight_lb": c.weight, "weight_kg": c.weight * crate::units::KG_PER_POUND,
        "persons_weight_lb": c.persons_weight, "persons": c.persons,
        "horsepower": c.horsepower, "list_test_kg": a.list_weight,
        "pairs": c.pairs.iter().map(pair).collect::<Vec<_>>(),
        "own_motor": c.own.as_ref().map(pair),
        "all_on_one_side_floods": a.as_marked.as_ref().map(Case::floods),
        "working": working(&c.lines, model.hull.units),
    });
    let flotation = json!({
        "foam_needed_litres": a.foam_needed.0, "foam_built_litres": a.foam(&model.hull),
        "foam_under_water_litres": a.foam_under,
        "working": working(&a.foam_needed.1, model.hull.units),
    });
    object(json!({
        "capacity": capacity,
        "flotation": flotation,
        "downflooding_deg": a.righting.downflooding.map(f64::to_degrees),
        "vanishing_deg": a.righting.vanishing.map(f64::to_degrees),
        "righting_area_mm_rad": a.righting.area,
    }))
}

fn pair(p: &Pair) -> Value {
    json!({
        "horsepower": p.horsepower, "persons": p.persons, "persons_weight_lb": p.persons_weight,
    })
}

fn speeds(s: &SpeedPower) -> Value {
    s.rows
        .iter()
        .map(|r| {
            json!({
                "speed_kn": r.speed, "resistance_n": r.resistance, "power_kw": r.power,
                "method": words::speed::method(r.method), "trim_deg": r.trim, "band_share": r.band,
                "air_n": r.beside.map(|b| b[0]), "leg_n": r.beside.map(|b| b[1]),
                "porpoising_above_deg": r.porpoising, "past_porpoising_chart": r.past_chart,
                "why": r.why.as_ref().map(no_figure),
            })
        })
        .collect()
}

fn speed(s: &SpeedPower) -> Value {
    json!({
        "hull_speed_kn": s.hull_speed, "with_motor_kn": s.with_motor, "rowed": s.rowed,
        "hump": s.hump.map(|h| json!({ "speed_kn": h.0, "resistance_n": h.1 })),
        "hump_between_kn": s.gap.map(|g| [g.0, g.1]),
        "runabout_kn": s.runabout,
        "no_prism": s.no_prism.as_ref().map(no_figure),
        "no_hump": s.no_hump.as_ref().map(no_figure),
        "propulsive_efficiency": crate::float::power::EFFICIENCY,
    })
}

fn marked(a: &Afloat) -> Value {
    let Some(m) = &a.marked else {
        return Value::Null;
    };
    let stations: Vec<Value> = m
        .stations
        .iter()
        .map(|s| {
            json!({
                "station": s.station, "x_mm": s.x, "height_mm": s.at.z,
                "half_breadth_mm": s.at.y, "down_from_sheer_mm": s.down,
                "boot_top_down_mm": s.boot_top_down,
            })
        })
        .collect();
    let by_eye: Vec<Value> = m
        .by_eye
        .iter()
        .map(|e| json!({ "panel": e.panel, "off_mm": e.off, "x_mm": e.x }))
        .collect();
    json!({
        "line": m.line.iter().map(|p| xyz(*p)).collect::<Vec<_>>(),
        "stations": stations,
        "by_eye": by_eye,
    })
}
