//! The strongback, the ends on it and the boat as built, as JSON.

use serde_json::{Value, json};

use super::woodwork::{finite, ring};
use super::xyz;
use crate::curve::View;
use crate::model::Model;
use crate::setup::{End, EndStand, Strongback};
use crate::words::order::build_order;

/// The jig, null where none can stand.
pub(super) fn strongback(model: &Model) -> Value {
    let Some(b) = &model.woodwork.strongback else {
        return Value::Null;
    };
    json!({
        "level_mm": b.level,
        "baseline_above_floor_mm": b.datum,
        "level_above_floor_mm": b.above_floor(b.level),
        "rail_top_mm": b.rail_top,
        "rail_spacing_mm": b.rail_spacing,
        "rails_mm": b.rails,
        "rail_diagonal_mm": b.rail_diagonal,
        "leg_length_mm": b.leg_length,
        "level_on_legs_mm": b.level_on_legs,
        "stands": stands(model, b),
        "missed_stations": b.missed,
        "posts_mm": b.posts,
        "rungs_mm": b.rungs,
        "cuts": b.cuts.iter().map(|c| json!({
            "name": c.name, "count": c.count, "section_mm": c.section, "length_mm": c.length,
            "end_cut_deg": c.end_cut.to_degrees(),
        })).collect::<Vec<_>>(),
        "sticks": b.sticks.iter().map(|s| json!({
            "name": s.name, "length_mm": s.length, "ring_mm": ring(&s.ring),
            "ring_seen_from": if s.from_ahead { "ahead" } else { "the side" },
            "reach_mm": s.reach,
        })).collect::<Vec<_>>(),
        "order": build_order(model, model.hull.units).iter().map(|s| json!({
            "title": s.title, "how": s.how,
        })).collect::<Vec<_>>(),
        // Foot and head on the centreline: [aft, 0, above the floor].
        "stem": foot_and_head(b.end(End::Stem)),
        "transom": foot_and_head(b.end(End::Transom)),
        "transom_face": End::Transom.measured_to(),
        "bow_transom": foot_and_head(b.end(End::BowTransom)),
        "ends": b.ends.iter().map(|e| end(b, e)).collect::<Vec<_>>(),
    })
}

fn foot_and_head(e: Option<&EndStand>) -> Option<[[f64; 3]; 2]> {
    e.map(|e| [e.foot, e.head].map(xyz))
}

/// Where an end stands and what holds it; distances along the rails are from the first
/// frame's line, heights above the floor.
fn end(b: &Strongback, e: &EndStand) -> Value {
    let place =
        |p: crate::geom::P3| json!({ "along_mm": b.from_first(p.x), "above_floor_mm": p.z });
    let post = e.support.post.as_ref().map(|p| {
        json!({
            "count": p.count(), "from_centreline_mm": p.at, "width_mm": p.width,
            "length_mm": p.length, "foot_cut_deg": p.foot_cut.to_degrees(),
            "foot_along_mm": b.from_first(p.side_view[0].x), "mark_up_mm": p.mark,
        })
    });
    let crosspiece = e.support.crosspiece.map(|c| {
        json!({
            "along_mm": c.faces.map(|x| b.from_first(x)), "low_above_floor_mm": c.low,
            "width_mm": c.width, "length_mm": c.length, "notch_width_mm": c.notch_width,
            "notch_depth_mm": c.notch_depth, "rest_above_floor_mm": c.rest(),
            "blocks_mm": c.blocks,
        })
    });
    json!({
        "name": e.end.word(),
        "measured_to": e.end.measured_to(),
        "foot": place(e.foot),
        "head": place(e.head),
        "rake_deg": e.rake.to_degrees(),
        "plumb_mm": e.plumb(),
        "taped_from_station": e.taped_from,
        "corners": e.corners.iter().map(|c| json!({
            "line": c.place, "along_mm": b.from_first(c.x), "half_breadth_mm": c.half_breadth,
            "above_floor_mm": c.above_floor, "tape_near_mm": c.near, "tape_far_mm": c.far,
        })).collect::<Vec<_>>(),
        "post": post,
        "crosspiece": crosspiece,
    })
}

fn stands(model: &Model, b: &Strongback) -> Value {
    b.stands
        .iter()
        .map(|s| {
            let sensitive: Vec<Value> = model
                .woodwork
                .sensitivities
                .iter()
                .filter(|x| x.station == s.station)
                .map(|x| {
                    json!({
                        "line": x.line,
                        "out": match x.view { View::Plan => "sideways", View::Profile => "up or down" },
                        "allowed_mm": x.allowed,
                        "curvature_changes_by": finite(x.changes),
                        "radius_mm": finite(x.radius),
                        "radius_when_out_mm": finite(x.radius_when_out),
                    })
                })
                .collect();
            json!({
                "station": s.station,
                "station_x_mm": s.x,
                "from_first_mm": s.from_first,
                "face_on_line": s.face.word(),
                "legs_on_side": s.leg_side.word(),
                "leg_at_mm": s.leg_at,
                "spall_half_mm": s.spall_half,
                "corners": s.corners.iter().map(|c| json!({
                    "line": c.line, "half_breadth_mm": c.half_breadth, "height_mm": c.height,
                    "above_floor_mm": c.above_floor,
                })).collect::<Vec<_>>(),
                "diagonals": {
                    "chine_to_far_sheer_mm": s.diagonals.across,
                    "keel_to_sheer_mm": s.diagonals.keel_to_sheer,
                    "stem_head_to_spall_end_mm": s.diagonals.from_stem,
                },
                "sensitivity": sensitive,
            })
        })
        .collect()
}

/// The boat as she stands, null while nothing was measured.
pub(super) fn as_built(model: &Model) -> Value {
    let Some(built) = &model.as_built else {
        return Value::Null;
    };
    json!({
        "deviations": built.deviations.iter().map(|d| json!({
            "station": d.station, "line": d.line, "out_mm": d.out, "up_mm": d.up,
        })).collect::<Vec<_>>(),
        "panels": built.panels.iter().map(|p| json!({
            "name": p.name, "edges_mm": {
                "lower": p.edges[0], "upper": p.edges[1], "bow": p.edges[2], "stern": p.edges[3],
            },
            "outline_mm": p.outline,
        })).collect::<Vec<_>>(),
        "notches": built.notches.iter().map(|n| json!({
            "station": n.station, "member": n.member, "out_mm": n.shift[0], "up_mm": n.shift[1],
            "turn_deg": n.turn.to_degrees(),
        })).collect::<Vec<_>>(),
    })
}
