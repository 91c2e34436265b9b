//! Which keys of the report may be null. Whoever adds a key that may be says so here; what is
//! null and not listed was no number, and the tests find it.

/// By the part that they stand in (`report` for the whole): there is no such thing in that
/// boat, or it has no measure, as a straight panel has no radius.
const NULLS: [(&str, &[&str]); 26] = [
    (
        "report",
        &[
            "transom",
            "bow_transom",
            "stem",
            "sternpost",
            "strongback",
            "as_built",
            "afloat",
            "stock",
        ],
    ),
    ("panels", &["past_stem_mm", "past_sternpost_mm", "tightest_radius_mm"]),
    ("lower", &["bevel_deg"]),
    ("upper", &["bevel_deg"]),
    ("members", &["grain_one_in"]),
    ("advice", &["recommended"]),
    ("options", &["caution"]),
    ("bays", &["radius_mm", "longest_bay_mm", "battens_wanted", "slam", "snaps", "gravity"]),
    ("frames", &["glue_groove", "spall"]),
    ("transom", &["motor"]),
    ("bow_transom", &["motor"]),
    ("motor", &["knee", "carries"]),
    ("stem", &["outer", "joint"]),
    ("sternpost", &["outer", "joint"]),
    ("joint", &["knee"]),
    ("strongback", &["stem", "transom", "bow_transom"]),
    ("ends", &["post", "crosspiece"]),
    ("post", &["mark_up_mm"]),
    ("diagonals", &["chine_to_far_sheer_mm", "keel_to_sheer_mm", "stem_head_to_spall_end_mm"]),
    ("sensitivity", &["curvature_changes_by", "radius_mm", "radius_when_out_mm"]),
    (
        "afloat",
        &[
            "mass_kg",
            "centre",
            "draft_mm",
            "trim_deg",
            "heel_deg",
            "displacement_kg",
            "lcb_mm",
            "vcb_mm",
            "waterplane_area_mm2",
            "wetted_area_mm2",
            "gm_mm",
            "gm_long_mm",
            "waterline",
            "speed_power",
            "speed",
            "marked_waterline",
            "downflooding_deg",
            "vanishing_deg",
        ],
    ),
    (
        "cases",
        &[
            "trim_deg",
            "heel_deg",
            "draft_mm",
            "freeboard_mm",
            "freeboard_bow_middle_stern_mm",
            "first_to_flood",
            "at_cut_out",
            "gm_mm",
        ],
    ),
    ("capacity", &["horsepower", "list_test_kg", "own_motor", "all_on_one_side_floods"]),
    (
        "speed_power",
        &[
            "resistance_n",
            "power_kw",
            "trim_deg",
            "band_share",
            "air_n",
            "leg_n",
            "porpoising_above_deg",
            "why",
        ],
    ),
    ("speed", &["with_motor_kn", "hump", "hump_between_kn", "runabout_kn", "no_prism", "no_hump"]),
    ("stations", &["boot_top_down_mm"]),
];

/// Whether `key` of `part` may be null.
pub fn may_be_null(part: &str, key: &str) -> bool {
    NULLS.iter().any(|(of, keys)| *of == part && keys.contains(&key))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;
    use serde_json::Value;

    /// Calls `seen` with every key, the part that it stands in, and its value.
    fn each<'a>(
        part: &'a str,
        value: &'a Value,
        seen: &mut dyn FnMut(&'a str, &'a str, &'a Value),
    ) {
        match value {
            Value::Array(all) => all.iter().for_each(|v| each(part, v, seen)),
            Value::Object(all) => {
                for (key, v) in all {
                    seen(part, key, v);
                    each(key, v, seen);
                }
            }
            _ => {}
        }
    }

    /// Every null of the starters' reports is listed, and no part is listed that none has.
    #[test]
    fn the_list_is_that_of_the_report() {
        let mut parts = vec!["report".to_string(), "bow_transom".into(), "sternpost".into()];
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            let report = super::super::report(&model, None);
            each("report", &report, &mut |part, key, value| {
                assert!(
                    !value.is_null() || may_be_null(part, key),
                    "{}: {part}/{key}",
                    starter.name
                );
                parts.push(key.into());
            });
        }
        for (part, keys) in NULLS {
            assert!(parts.iter().any(|p| p == part), "{part}");
            assert!(!keys.is_empty(), "{part}");
        }
    }
}
