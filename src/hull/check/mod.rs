//! What no boat can be: faults of a document, each with its place, value and remedy.

use std::sync::Arc;

use super::checked::CheckedHull;
use super::document::{Hull, Line, LineEnd};
use super::lines::HullLines;
use crate::geom::P3;
use crate::part::LineId;
use crate::tol::{LARGEST_ATHWART_MM, LARGEST_COORDINATE_MM};
use crate::units::short::short_numbers;

mod afloat;
mod fault;
mod members;
mod plain;
mod stock;
mod tables;
mod woodwork;

pub use fault::{Fault, Place, StockFigure};
pub use plain::words_of_field;

/// Neighbouring ducks are at least this far (mm) apart along the boat.
const LEAST_STEP_MM: f64 = 1.0;
/// More ducks on a line than this are no batten but a digitised drawing, and would take
/// seconds to solve.
const MOST_DUCKS: usize = 1000;
/// A boat is wider than this (mm), and neighbouring lines come apart by as much somewhere.
const LEAST_SPREAD_MM: f64 = 10.0;
/// A batten may dip across the centreplane between two ducks by this (mm).
const ACROSS_MM: f64 = 0.5;

/// All faults of `hull`, in the order of the file; empty if it can be computed.
pub fn faults(hull: &Hull) -> Vec<Fault> {
    checked(None, hull).err().unwrap_or_default()
}

/// The lines of a document without fault; those of the document `before` that are drawn alike
/// are taken over.
///
/// # Errors
/// All its faults, at least one, in the order of the file.
pub(super) fn checked(
    before: Option<&CheckedHull>,
    hull: &Hull,
) -> Result<Arc<HullLines>, Vec<Fault>> {
    let mut out = Vec::new();
    names(hull, &mut out);
    for (i, line) in hull.lines.iter().enumerate() {
        ducks(i, line, &mut out);
    }
    materials(hull, &mut out);
    if !out.is_empty() {
        return Err(out);
    }
    if let Some(same) = before.filter(|b| HullLines::same(b, hull)) {
        return Ok(same.lines().clone());
    }
    let lines = splined(before, hull).map_err(|fault| vec![fault])?;
    crossings(hull, &lines, &mut out);
    if out.is_empty() { Ok(Arc::new(lines)) } else { Err(out) }
}

fn splined(before: Option<&CheckedHull>, hull: &Hull) -> Result<HullLines, Fault> {
    let old = before.map(|b| (b.hull(), &**b.lines()));
    HullLines::after(old, hull).map_err(|(name, why)| {
        let i = hull.lines.iter().position(|l| l.name == name).unwrap_or(0);
        fault(
            Place::Line(i),
            format!("the {name}"),
            why.to_string(),
            "ducks that a batten can pass",
        )
    })
}

/// What was found: the figure of a field, or a sentence.
struct Found {
    field: Option<String>,
    text: String,
}

impl<T: Into<String>> From<T> for Found {
    fn from(text: T) -> Found {
        Found { field: None, text: text.into() }
    }
}

/// The figure of a field, and what is to be said of it.
fn figure(field: &str, said: impl std::fmt::Display) -> Found {
    Found { field: Some(field.into()), text: format!("{field} = {said}") }
}

fn fault(
    place: Place,
    what: impl Into<String>,
    found: impl Into<Found>,
    accepted: impl Into<String>,
) -> Fault {
    let Found { field, text } = found.into();
    // Whatever was typed, a message is one that can be read.
    let short = |text: String| short_numbers(&text);
    Fault {
        place,
        what: short(what.into()),
        field,
        message: short(text),
        accepted: accepted.into(),
    }
}

/// A number as a person would write it, however large.
fn short(value: f64) -> String {
    if value.abs() < 1e9 { format!("{value}") } else { format!("{value:e}") }
}

/// The names that lines may have, in their order from the keel up.
fn names(hull: &Hull, out: &mut Vec<Fault>) {
    let order =
        "keel (left out on a flat bottom), chine (or chine-1, chine-2 … from the keel up), sheer";
    let mut chines: u32 = 0;
    let count = hull.lines.iter().filter(|l| l.name.starts_with("chine")).count();
    for (i, line) in hull.lines.iter().enumerate() {
        let last = i + 1 == hull.lines.len();
        let good = match line.name.as_str() {
            "keel" => i == 0,
            "sheer" => last && i > 0,
            "chine" => {
                chines += 1;
                count == 1
            }
            name => {
                chines += 1;
                name == format!("chine-{chines}")
            }
        };
        if !good {
            out.push(fault(
                Place::Line(i),
                format!("line {}", i + 1),
                format!("the name {:?} is unknown, doubled or out of order", line.name),
                order,
            ));
        }
    }
    if hull.lines.last().is_none_or(|l| !l.is(LineId::Sheer)) || hull.lines.len() < 2 {
        out.push(fault(
            Place::Document,
            "lines",
            format!("{} of them, the last one no sheer", hull.lines.len()),
            format!("at least two lines ending with the sheer: {order}"),
        ));
    }
}

fn ducks(i: usize, line: &Line, out: &mut Vec<Fault>) {
    if line.ducks.len() < 2 {
        out.push(fault(
            Place::Line(i),
            format!("the {}", line.name),
            format!("{} duck(s)", line.ducks.len()),
            "at least 2",
        ));
    }
    if line.ducks.len() > MOST_DUCKS {
        out.push(fault(
            Place::Line(i),
            format!("the {}", line.name),
            format!("{} ducks", line.ducks.len()),
            format!("at most {MOST_DUCKS}: a batten needs one every half metre"),
        ));
    }
    for end in [line.bow, line.stern] {
        if let LineEnd::Along(x, y, z) = end
            && !(x > 0.0 && [x, y, z].iter().all(|c| c.is_finite()))
        {
            out.push(fault(
                Place::Line(i),
                format!("an end of the {}", line.name),
                format!("Along({x}, {y}, {z})"),
                "a direction that runs aft: finite numbers, the first above 0",
            ));
        }
    }
    for (k, d) in line.ducks.iter().enumerate() {
        let what = || format!("duck {} of the {}", k + 1, line.name);
        let mut add = |axis: &str, said: String, accepted: &str| {
            out.push(fault(Place::Duck(i, k), what(), figure(axis, said), accepted));
        };
        let named = [
            ("x", d.x, LARGEST_COORDINATE_MM, "a number, -20000 to 20000 mm"),
            ("y", d.y, LARGEST_ATHWART_MM, "a number, -5000 to 5000 mm"),
            ("z", d.z, LARGEST_ATHWART_MM, "a number, -5000 to 5000 mm"),
        ];
        if let Some((axis, value, _, accepted)) =
            named.iter().find(|(_, c, most, _)| c.is_nan() || c.abs() > *most)
        {
            add(axis, short(*value), accepted);
            continue;
        }
        if d.x < 0.0 {
            add(
                "x",
                format!("{} is ahead of the origin", d.x),
                "0 or more: x is measured aft from the forward-most point",
            );
        }
        if d.y < 0.0 {
            add(
                "y",
                format!("{} is on the port side", d.y),
                "0 or more: lines are drawn as the starboard half",
            );
        }
        if line.is(LineId::Keel) && d.y != 0.0 {
            add(
                "y",
                format!("{} is off the centreplane", d.y),
                "0: the keel is the bottom on the centreplane",
            );
        }
        if k > 0 {
            let before = line.ducks[k - 1].x;
            if d.x < before + LEAST_STEP_MM {
                add(
                    "x",
                    format!("{} is not aft of the duck before it ({before})", d.x),
                    "ducks from bow to stern, each at least 1 mm further aft",
                );
            }
        }
    }
}

fn materials(hull: &Hull, out: &mut Vec<Fault>) {
    let planking = &hull.planking;
    let mut thickness = |what: String, t: f64| {
        if !(1.0..=50.0).contains(&t) {
            out.push(fault(
                Place::Planking,
                what,
                figure("thickness_mm", t),
                "the measured thickness, 1 to 50 mm",
            ));
        }
    };
    thickness("planking".into(), planking.thickness_mm);
    for p in &planking.panels {
        thickness(format!("planking of {:?}", p.panel), p.thickness_mm);
    }
    if !(0.0..=100.0).contains(&planking.trim_allowance_mm) {
        out.push(fault(
            Place::Planking,
            "planking",
            figure("trim_allowance_mm", planking.trim_allowance_mm),
            "0 to 100 mm",
        ));
    }
    woodwork::woodwork(hull, out);
    afloat::afloat(&hull.afloat, out);
    tables::own_rows(hull, out);
    members::members(hull, out);
    stock::stock(&hull.stock, out);
}

/// Neighbouring lines that cross: at some station the upper one is below the lower.
fn crossings(hull: &Hull, lines: &HullLines, out: &mut Vec<Fault>) {
    const SAMPLES: usize = 60;
    // Touching within this (mm) is meeting at the stem, not crossing.
    const TOUCH: f64 = 0.5;
    if lines.beam_overall() < LEAST_SPREAD_MM {
        out.push(fault(
            Place::Document,
            "the hull",
            "it has no beam: every half-breadth is about 0",
            "lines that stand out from the centreplane",
        ));
        return;
    }
    for (i, line) in hull.lines.iter().enumerate() {
        let Some(l) = lines.get(&line.name) else {
            continue;
        };
        let dip = (0..=4 * SAMPLES)
            .map(|k| l.spline.at(l.spline.end() * k as f64 / (4 * SAMPLES) as f64))
            .find(|p| p.y < -ACROSS_MM);
        if let Some(p) = dip {
            out.push(fault(
                Place::Line(i),
                format!("the {}", line.name),
                format!(
                    "between two ducks its batten crosses the centreplane: y = {:.0} at x = {:.0}",
                    p.y, p.x
                ),
                "ducks that keep it to starboard",
            ));
            return;
        }
    }
    let first_given = lines.lines.len() - hull.lines.len();
    for (i, pair) in lines.lines[first_given..].windows(2).enumerate() {
        let (low, high) = (&pair[0], &pair[1]);
        // Places of the lower line, and of the upper one on the same stations.
        let pairs: Vec<(P3, P3)> = (0..=SAMPLES)
            .map(|k| low.spline.at(low.spline.end() * k as f64 / SAMPLES as f64))
            .filter_map(|p| Some((p, high.spline.at(high.spline.parameter_at_x(p.x)?))))
            .collect();
        let apart = pairs.iter().map(|(p, q)| (q - p).norm()).fold(0.0, f64::max);
        if apart < LEAST_SPREAD_MM {
            let message = if !pairs.is_empty() {
                format!("it lies on the {}", low.id)
            } else {
                format!("no station has both it and the {}", low.id)
            };
            out.push(fault(
                Place::Line(i + 1),
                format!("the {}", high.id),
                message,
                "neighbouring lines side by side, apart",
            ));
            continue;
        }
        let crossing = pairs.into_iter().find(|(p, q)| {
            // A bottom may fall a little from the keel to the chine; nothing else may fall.
            let fall = if low.is(LineId::Keel) { 0.5 * (q.y - p.y).abs() } else { 0.0 };
            q.z < p.z - fall - TOUCH
        });
        if let Some((p, q)) = crossing {
            out.push(fault(
                Place::Line(i + 1),
                format!("the {}", high.id),
                format!(
                    "at x = {:.0} it is at height {:.0}, the {} below it at {:.0}: they cross",
                    p.x, q.z, low.id, p.z
                ),
                "lines that keep their order from the keel up",
            ));
        }
    }
}
