//! Faults of framing, transom, stem, motor, strongback and what was measured on it.

use super::{Fault, Found, Place, fault, figure, short};
use crate::hull::battens::MOST_BATTENS;
use crate::hull::document::Hull;
use crate::hull::lumber::{GREATEST_MOISTURE_PCT, LEAST_MOISTURE_PCT};
use crate::tol::LARGEST_COORDINATE_MM;

/// More evenly set stations than this are no frames but a slip of the pen.
const MOST_STATIONS: usize = 60;

/// A post under a rail is at least this long, mm.
const LEAST_POST_MM: f64 = 20.0;

/// Adds the faults of everything that is sawn, in the order of the file.
pub(super) fn woodwork(hull: &Hull, out: &mut Vec<Fault>) {
    framing(hull, out);
    for (place, what, rows) in [
        (
            Place::Transom,
            "transom",
            vec![
                ("thickness_mm", hull.transom.thickness_mm, 3.0..=80.0),
                ("framing_width_mm", hull.transom.framing_width_mm, 10.0..=300.0),
                ("framing_thickness_mm", hull.transom.framing_thickness_mm, 3.0..=100.0),
                ("crown_mm", hull.transom.crown_mm, 0.0..=300.0),
                ("knee: sided_mm", hull.transom.knee.sided_mm, 12.0..=150.0),
                ("knee: arm_mm", hull.transom.knee.arm_mm, 0.0..=1500.0),
            ],
        ),
        (
            Place::Stem,
            "stem",
            vec![
                ("sided_mm", hull.stem.sided_mm, 6.0..=200.0),
                ("moulded_mm", hull.stem.moulded_mm, 10.0..=400.0),
                ("over_mm", hull.stem.over_mm, 0.0..=500.0),
                ("outer_sided_mm", hull.stem.outer_sided_mm, 6.0..=200.0),
                ("outer_moulded_mm", hull.stem.outer_moulded_mm, 6.0..=200.0),
                ("outer_front_mm", hull.stem.outer_front_mm, 2.0..=200.0),
            ],
        ),
        (
            Place::Motor,
            "motor",
            vec![
                ("cut_out_mm", hull.motor.cut_out_mm, 50.0..=1500.0),
                ("plate_above_mm", hull.motor.plate_above_mm, -100.0..=200.0),
                ("clamped_mm", hull.motor.clamped_mm, 15.0..=100.0),
                ("pad_width_mm", hull.motor.pad_width_mm, 50.0..=1500.0),
                ("pad_depth_mm", hull.motor.pad_depth_mm, 50.0..=600.0),
            ],
        ),
        (
            Place::Strongback,
            "strongback",
            vec![
                ("rail_width_mm", hull.strongback.rail_width_mm, 15.0..=200.0),
                ("rail_depth_mm", hull.strongback.rail_depth_mm, 30.0..=400.0),
                ("rail_spacing_mm", hull.strongback.rail_spacing_mm, 150.0..=1500.0),
                ("rail_top_mm", hull.strongback.rail_top_mm, 50.0..=1200.0),
                ("clearance_mm", hull.strongback.clearance_mm, 0.0..=500.0),
                ("leg_width_mm", hull.strongback.leg_width_mm, 15.0..=300.0),
                ("leg_thickness_mm", hull.strongback.leg_thickness_mm, 10.0..=150.0),
                ("level_mm", hull.strongback.level_mm.unwrap_or(0.0), -2000.0..=5000.0),
            ],
        ),
    ] {
        in_range(&place, what, &rows, out);
    }
    if hull.stem.outer_front_mm > hull.stem.outer_sided_mm {
        out.push(fault(
            Place::Stem,
            "stem",
            figure("outer_front_mm", short(hull.stem.outer_front_mm)),
            format!("at most outer_sided_mm, {}", short(hull.stem.outer_sided_mm)),
        ));
    }
    if !(0.5..=150.0).contains(&hull.motor.power_hp) {
        out.push(fault(
            Place::Motor,
            "motor",
            figure("power_hp", short(hull.motor.power_hp)),
            "0.5 to 150 horsepower",
        ));
    }
    let jig = &hull.strongback;
    if jig.rail_top_mm < jig.rail_depth_mm + LEAST_POST_MM {
        out.push(fault(
            Place::Strongback,
            "strongback",
            figure(
                "rail_top_mm",
                format!(
                    "{} leaves no room for posts under rails {} deep",
                    short(jig.rail_top_mm),
                    short(jig.rail_depth_mm)
                ),
            ),
            format!("rail_depth_mm and {LEAST_POST_MM} mm more, or higher"),
        ));
    }
    as_built(hull, out);
}

fn in_range(
    place: &Place,
    what: &str,
    rows: &[(&str, f64, std::ops::RangeInclusive<f64>)],
    out: &mut Vec<Fault>,
) {
    for (field, value, range) in rows {
        if !range.contains(value) {
            out.push(fault(
                *place,
                what,
                figure(field, short(*value)),
                format!("{} to {} mm", range.start(), range.end()),
            ));
        }
    }
}

/// Share of a board's thickness that a groove in its face may take: what is left carries.
/// Common practice, no source.
const DEEPEST_GROOVE: f64 = 1.0 / 3.0;

fn framing(hull: &Hull, out: &mut Vec<Fault>) {
    let f = &hull.framing;
    in_range(
        &Place::Framing,
        "framing",
        &[
            ("spacing_mm", f.spacing_mm, 100.0..=5000.0),
            ("sided_mm", f.sided_mm, 6.0..=100.0),
            ("bottom_depth_mm", f.bottom_depth_mm, 15.0..=400.0),
            ("side_depth_mm", f.side_depth_mm, 15.0..=400.0),
            ("gusset_mm", f.gusset_mm, 2.0..=40.0),
            ("spall_thickness_mm", f.spall_thickness_mm, 6.0..=100.0),
            ("spall_width_mm", f.spall_width_mm, 20.0..=400.0),
            ("notch_clearance_mm", f.notch_clearance_mm, 0.0..=10.0),
            ("limber_mm", f.limber_mm, 0.0..=50.0),
        ],
        out,
    );
    let xs = hull.lines.iter().flat_map(|l| l.ducks.iter().map(|d| d.x));
    let (fore, aft) = xs.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
    let spaced = f.count == 0 && f.stations_mm.is_empty();
    if spaced && f.spacing_mm >= 100.0 && (aft - fore) / f.spacing_mm > MOST_STATIONS as f64 {
        out.push(fault(
            Place::Framing,
            "framing",
            figure(
                "spacing_mm",
                format!(
                    "{} gives {:.0} stations",
                    short(f.spacing_mm),
                    (aft - fore) / f.spacing_mm
                ),
            ),
            format!(
                "at most {MOST_STATIONS}: {} or more",
                short(((aft - fore) / MOST_STATIONS as f64).ceil())
            ),
        ));
    }
    if f.count > MOST_STATIONS || f.stations_mm.len() > MOST_STATIONS {
        out.push(fault(
            Place::Framing,
            "framing",
            format!("{} stations", f.count.max(f.stations_mm.len())),
            format!("at most {MOST_STATIONS}"),
        ));
    }
    if let Some(x) = f.stations_mm.iter().find(|x| !(0.0..=LARGEST_COORDINATE_MM).contains(*x)) {
        out.push(fault(
            Place::Framing,
            "framing",
            format!("a station at {}", short(*x)),
            "distances aft from the bow, 0 to 20000 mm",
        ));
    }
    if let Some(w) = f.stations_mm.windows(2).find(|w| w[1] < w[0] + 1.0) {
        out.push(fault(
            Place::Framing,
            "framing",
            format!("a station at {} after one at {}", short(w[1]), short(w[0])),
            "stations from bow to stern, each at least 1 mm further aft",
        ));
    }
    if f.widths_mm.is_empty() || f.widths_mm.iter().any(|w| !(10.0..=600.0).contains(w)) {
        out.push(fault(
            Place::Framing,
            "framing",
            figure("widths_mm", format!("{:?}", f.widths_mm)),
            "at least one measured board width, 10 to 600 mm",
        ));
    }
    if !(0.0..=0.3).contains(&f.drain_slope) {
        out.push(fault(
            Place::Framing,
            "framing",
            figure("drain_slope", short(f.drain_slope)),
            "0 (flat) to 0.3; 1 in over 14 in is 0.0714",
        ));
    }
    if let Some(w) = f.drain_wedge {
        let good = (1.0..=150.0).contains(&w.height_mm)
            && (20.0..=2000.0).contains(&w.length_mm)
            && w.slope() <= 0.3;
        if !good {
            out.push(fault(
                Place::Framing,
                "drain wedge",
                format!("{} high over {} mm", short(w.height_mm), short(w.length_mm)),
                "1 to 150 mm high over 20 to 2000 mm, a slope of at most 0.3",
            ));
        }
        if f.drain_slope > 0.0 {
            out.push(fault(
                Place::Framing,
                "drain wedge",
                format!("there is a drain_slope of {} too", short(f.drain_slope)),
                "one of them: a wedge of one height, or one slope for all frames",
            ));
        }
    }
    if let Some(g) = f.glue_groove
        && !((1.0..=20.0).contains(&g.width_mm) && (0.5..=20.0).contains(&g.depth_mm))
    {
        out.push(fault(
            Place::Framing,
            "glue groove",
            format!("{} by {} mm", short(g.width_mm), short(g.depth_mm)),
            "a width of 1 to 20 mm and a depth of 0.5 to 20 mm",
        ));
    }
    if let Some(g) = f.glue_groove.filter(|g| g.depth_mm > DEEPEST_GROOVE * f.sided_mm) {
        out.push(fault(
            Place::Framing,
            "glue groove",
            format!("{} mm deep in boards of {} mm", short(g.depth_mm), short(f.sided_mm)),
            "at most a third of sided_mm",
        ));
    }
    if let Some(b) = &f.battens {
        in_range(
            &Place::Framing,
            "battens",
            &[
                ("spacing_mm", b.spacing_mm, 50.0..=1000.0),
                ("moulded_mm", b.moulded_mm, 6.0..=60.0),
                ("sided_mm", b.sided_mm, 10.0..=120.0),
            ],
            out,
        );
        if b.count > MOST_BATTENS {
            out.push(fault(
                Place::Framing,
                "battens",
                format!("{} a side", b.count),
                format!("at most {MOST_BATTENS}; 0 sets them by their spacing"),
            ));
        }
        if !(LEAST_MOISTURE_PCT..=GREATEST_MOISTURE_PCT).contains(&b.moisture_pct) {
            out.push(fault(
                Place::Framing,
                "battens",
                figure("moisture_pct", short(b.moisture_pct)),
                format!("{LEAST_MOISTURE_PCT} to {GREATEST_MOISTURE_PCT} percent of dry weight"),
            ));
        }
    }
    if f.frames.iter().any(|c| c.station == 0) {
        out.push(fault(
            Place::Framing,
            "framing",
            "a frame on station 0",
            "stations counted from 1 at the bow",
        ));
    }
}

fn as_built(hull: &Hull, out: &mut Vec<Fault>) {
    for (i, m) in hull.as_built.iter().enumerate() {
        let mut bad = |found: Found, accepted: &str| {
            out.push(fault(Place::Measured(i), format!("measurement {}", i + 1), found, accepted));
        };
        if m.station == 0 {
            bad("station 0".into(), "stations counted from 1 at the bow");
        }
        let good = 0.0..=LARGEST_COORDINATE_MM;
        for (field, value) in
            [("above_floor_mm", m.above_floor_mm), ("half_breadth_mm", m.half_breadth_mm)]
        {
            if let Some(v) = value.filter(|v| !good.contains(v)) {
                bad(figure(field, short(v)), "a measured length, 0 to 20000 mm");
            }
        }
        if m.above_floor_mm.is_none() && m.half_breadth_mm.is_none() {
            bad("nothing was measured".into(), "above_floor_mm, half_breadth_mm, or both");
        }
    }
}
