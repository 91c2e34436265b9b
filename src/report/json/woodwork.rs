//! Frames, transoms and stems, as JSON.

use serde_json::{Value, json};

use super::{uv, xyz};
use crate::frames::{BevelAt, EndCut, Frame, Knee, Notch, Piece, Stem, Transom};
use crate::geom::P2;
use crate::hull::{Joint, StemSides};
use crate::model::{Model, MotorCheck};
use crate::words::finding::checked;

pub(super) fn ring(points: &[P2]) -> Vec<[f64; 2]> {
    points.iter().map(|p| uv(*p)).collect()
}

/// A length, null where it has no end.
pub(super) fn finite(mm: f64) -> Option<f64> {
    mm.is_finite().then_some(mm)
}

/// Where stations stand, and what the bays between them ask of the skin.
pub(super) fn stations(model: &Model) -> Value {
    let bays: Vec<Value> = model
        .woodwork
        .bays
        .iter()
        .map(|b| {
            json!({
                "from_mm": b.from, "to_mm": b.to, "panel": model.panels[b.panel].name,
                "span_mm": b.span, "radius_mm": finite(b.radius), "pressure_n_per_mm2": b.pressure,
                "sag_mm": b.sag, "allowed_sag_mm": b.allowed, "holds": b.holds(),
                "longest_bay_mm": b.longest,
                "battens_a_side": b.battens,
                "battens_wanted": b.battens_wanted,
                "slam": b.slam.map(|s| json!({ "pressure_n_per_mm2": s.pressure, "sag_mm": s.sag })),
                "snaps": b.snaps.map(|[p, c]| json!({ "pressure_n_per_mm2": p, "sag_mm": c })),
                "gravity": b.gravity().map(|g| g.word()),
            })
        })
        .collect();
    json!({ "x_mm": model.stations, "bays": bays })
}

/// All frames.
pub(super) fn frames(model: &Model) -> Value {
    model.woodwork.frames.iter().map(|f| frame(model, f)).collect()
}

fn frame(model: &Model, f: &Frame) -> Value {
    let framing = &model.hull.framing;
    let crowns: serde_json::Map<String, Value> =
        f.crowns.iter().map(|(p, c)| (model.panels[*p].name.clone(), json!(c))).collect();
    let gussets: Vec<Value> = f
        .gussets
        .iter()
        .map(|g| {
            json!({
                "line": g.place(),
                "on": if g.on_face { "pattern face" } else { "far face" },
                "count": if g.whole { 1 } else { 2 },
                "thickness_mm": framing.gusset_mm,
                "outline_mm": ring(&g.outline),
                "fastenings_mm": ring(&g.fastenings),
            })
        })
        .collect();
    let groove = framing.glue_groove.map(|g| {
        json!({
            "width_mm": g.width_mm, "depth_mm": g.depth_mm,
            "outlines_mm": f.grooves.iter().map(|g| json!({
                "piece": model.panels[g.panel].name,
                "in": if g.on_face { "pattern face" } else { "far face" },
                "outline_mm": ring(&g.outline),
            })).collect::<Vec<_>>(),
            "length_mm": f.groove_length(),
            "volume_ml": f.groove_length() * g.width_mm * g.depth_mm / 1000.0,
        })
    });
    json!({
        "name": format!("frame {}", f.station),
        "station": f.station,
        "station_x_mm": f.x,
        "face": f.face.word(),
        "thickness_mm": framing.sided_mm,
        "edges": f.crowns.iter().map(|(p, _)| {
            let word = if f.edges.is_straight(*p) { "straight" } else { "shaped" };
            (model.panels[*p].name.clone(), json!(word))
        }).collect::<serde_json::Map<String, Value>>(),
        "lap_fastenings_mm": ring(&f.lap_fastenings),
        "joint": match framing.joint { Joint::Gusset => "gusset", Joint::Lap => "lap" },
        "section_mm": ring(&f.section.half()),
        "far_section_mm": ring(&f.far.half()),
        "crown_mm": crowns,
        "bevels_deg": f.bevels.iter().map(|b| bevel(model, b)).collect::<Vec<_>>(),
        "notches": f.notches.iter().map(notch).collect::<Vec<_>>(),
        "limbers": f.limbers.iter().map(|l| json!({
            "at_mm": uv(l.centre), "far_at_mm": uv(l.far), "radius_mm": l.radius,
        })).collect::<Vec<_>>(),
        "pieces": f.pieces.iter().map(|p| piece(model, p)).collect::<Vec<_>>(),
        "gussets": gussets,
        "spall": f.spall.map(|s| json!({
            "level_mm": s.level, "low_mm": s.low, "length_mm": 2.0 * s.half_length,
            "thickness_mm": framing.spall_thickness_mm,
        })),
        "no_fastening_mm": f.keep_clear.iter().map(|r| ring(r)).collect::<Vec<_>>(),
        "planking_fastenings": f.planking_at.iter().map(|(p, at)| json!({
            "panel": model.panels[*p].name, "at_mm": uv(*at),
        })).collect::<Vec<_>>(),
        "bottom_slope": f.bottom_slope(),
        "glue_groove": groove,
        "board_area_mm2": f.board_area(),
    })
}

fn bevel(model: &Model, b: &BevelAt) -> Value {
    json!({
        "panel": model.panels[b.panel].name, "at_mm": uv(b.at),
        "bevel_deg": b.angle.to_degrees(), "offset_mm": b.offset, "off": b.off().word(),
    })
}

fn notch(n: &Notch) -> Value {
    json!({
        "member": n.name,
        "at_mm": xyz(n.at),
        "corners_mm": ring(&n.corners),
        "far_corners_mm": ring(&n.far_corners),
        "cut_mm": ring(&n.cut),
        "turn_deg": n.turn.to_degrees(),
        "lean_deg": n.lean.to_degrees(),
        "twist_deg_per_m": n.twist.to_degrees() * 1000.0,
        "let_down_mm": n.let_down,
    })
}

fn piece(model: &Model, p: &Piece) -> Value {
    json!({
        "name": p.name,
        "panel": model.panels[p.panel].name,
        "count": p.count(),
        "across": p.whole,
        "outline_mm": ring(&p.outline),
        "depth_mm": p.depth,
        "least_left_mm": p.least_left,
        "board_width_mm": p.board_width,
        "board_length_mm": p.board_length,
        "board_at_hand": p.wide_enough,
        "face_from_station_mm": p.face_at,
    })
}

/// A transom, null where there is none.
pub(super) fn transom(model: &Model, transom: Option<&Transom>) -> Value {
    let Some(t) = transom else {
        return Value::Null;
    };
    let crowns: serde_json::Map<String, Value> =
        t.crowns.iter().map(|(p, c)| (model.panels[*p].name.clone(), json!(c))).collect();
    json!({
        "end_cuts": end_cuts(&t.ends),
        "rake_deg": t.rake.to_degrees(),
        "pattern_face": if t.outside_larger { "outside" } else { "inside" },
        "thickness_mm": model.hull.transom.thickness_mm,
        "origin": xyz(t.across.origin),
        "up": [t.across.up.x, t.across.up.y, t.across.up.z],
        "section_mm": ring(&t.section.half()),
        "far_section_mm": ring(&t.far.half()),
        "outline_mm": ring(&t.outline),
        "width_mm": t.width(),
        "height_mm": t.height(),
        "crown_mm": crowns,
        "bevels_deg": t.bevels.iter().map(|b| bevel(model, b)).collect::<Vec<_>>(),
        "framing": t.framing.iter().map(|p| piece(model, p)).collect::<Vec<_>>(),
        "landings": t.landings.iter().map(|l| json!({
            "member": l.name, "corners_mm": ring(&l.corners),
        })).collect::<Vec<_>>(),
        "motor": t.cut_out.map(|c| json!({
            "shaft": model.hull.motor.shaft.word(),
            "shaft_mm": model.hull.motor.shaft.length(),
            "bottom_mm": c.bottom, "seat_mm": c.seat, "top_mm": t.top,
            "cut_out_depth_mm": c.depth, "cut_out_width_mm": c.width,
            "pad_thickness_mm": c.pad_thickness, "room": c.room,
            "pad_depth_mm": c.pad_depth, "pad_short_of_framing_mm": c.pad_short,
            "pad_mm": ring(&c.pad(model.hull.motor.pad_width_mm)),
            "knee": model.woodwork.knee.as_ref().map(knee),
            "carries": crate::model::motor::check(model).map(|m| carries(&m)),
        })),
    })
}

/// The knee behind the motor, in the centreplane.
fn knee(k: &Knee) -> Value {
    let (width, length) = k.board();
    json!({
        "heel_mm": uv(k.heel),
        "height_mm": k.height, "arm_mm": k.arm, "sided_mm": k.sided,
        "outline_mm": ring(&k.outline),
        "bolts_through_transom_mm": ring(&k.bolts[0]),
        "bolts_through_keelson_mm": ring(&k.bolts[1]),
        "board_mm": [width, length],
    })
}

/// How the transom stands its motor.
fn carries(m: &MotorCheck) -> Value {
    let checks: Vec<Value> = m
        .checks
        .iter()
        .map(|c| json!({ "what": checked(c.place), "value": c.stress, "allowed": c.allowed, "unit": c.unit() }))
        .collect();
    json!({
        "horsepower": m.loads.horsepower,
        "thrust_n": m.loads.thrust,
        "weight_n": m.loads.weight,
        "moment_nmm": m.loads.moment(),
        "holds": m.holds(),
        "holds_up_to_hp": m.holds_up_to,
        "checks": checks,
    })
}

/// A stem or sternpost, null where there is none.
pub(super) fn stem(model: &Model, stem: Option<&Stem>) -> Value {
    let Some(s) = stem else {
        return Value::Null;
    };
    json!({
        "profile_mm": ring(&s.profile),
        "length_mm": s.length,
        "sided_mm": model.hull.stem.sided_mm,
        "moulded_mm": model.hull.stem.moulded_mm,
        "half_siding_mm": s.half_siding,
        "bevels": s.bevels.iter().map(|b| json!({
            "at_mm": uv(b.at), "half_angle_deg": b.half_angle.to_degrees(),
            "land_mm": b.land, "back_mm": b.back,
        })).collect::<Vec<_>>(),
        "outline_mm": ring(&s.outline),
        "board_width_mm": s.board_width,
        "board_length_mm": s.board_length,
        "board_at_hand": s.wide_enough,
        "parts": s.parts,
        "lap_mm": s.lap,
        "heel_notch_mm": s.heel_notch,
        "sides": match model.hull.stem.sides {
            StemSides::RunPast => "run past",
            StemSides::Mitred => "mitred",
        },
        "outer": s.outer.as_ref().map(|o| json!({
            "sided_mm": model.hull.stem.outer_sided_mm,
            "moulded_mm": model.hull.stem.outer_moulded_mm,
            "front_mm": model.hull.stem.outer_front_mm,
            "length_mm": o.length,
            "back_mm": ring(&o.back),
            "outline_mm": ring(&o.outline),
            "sections": o.sections.iter().map(|c| json!({
                "at_mm": uv(c.at), "planed_mm": c.planed, "flat_width_mm": c.flat_width,
                "bevel_deg": c.bevel.to_degrees(), "bevel_runs_mm": c.bevel_runs,
                "front_mm": c.front,
            })).collect::<Vec<_>>(),
            "board_width_mm": o.board_width,
            "board_length_mm": o.board_length,
            "board_at_hand": o.wide_enough,
            "volume_mm3": o.volume,
        })),
        "joint": s.joint.as_ref().map(|j| json!({
            "bow_floor": j.floor,
            "depth_mm": j.depth,
            "width_mm": j.width,
            "taper": j.taper.iter().map(|t| json!({
                "from_end_mm": t.from_end, "half_width_mm": t.half_width,
            })).collect::<Vec<_>>(),
            "floor_length_mm": j.floor_length,
            "heel_mm": j.heel,
            "knee": j.knee.as_ref().map(|k| json!({
                "outline_mm": ring(&k.outline), "thickness_mm": k.thickness,
                "along_mm": k.along, "up_mm": k.up,
            })),
            "fastening_mm": j.fastening,
        })),
        "end_cuts": end_cuts(&s.ends),
    })
}

/// How logs and clamps end there.
fn end_cuts(ends: &[EndCut]) -> Vec<Value> {
    ends.iter()
        .map(|e| {
            json!({
                "member": e.name,
                "landing_mm": ring(&e.corners),
                "across_edge_deg": e.across_edge.to_degrees(), "edge_runs_mm": e.edge_runs,
                "across_face_deg": e.across_face.to_degrees(), "face_runs_mm": e.face_runs,
                "short_of_line_mm": e.short,
            })
        })
        .collect()
}
