//! The table of offsets at the stations, in millimetres and in feet-inches-eighths.

use super::Line;
use super::layers;
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, P3, V2};
use crate::model::Model;
use crate::part::LineId;
use crate::units::{Units, feet_inches_eighths, whole_mm};

/// Height of text, mm, and the table's spacing.
const FIGURES: f64 = 2.4;
const ROW: f64 = 5.2;
const FIRST: f64 = 34.0;
const COLUMN: f64 = 21.0;
/// Columns of stations on one band, so that it fits on A4 lying.
const BAND: usize = 10;

/// One row: what it gives, and its figure in each of [`columns`], mm.
pub type Row = (String, Vec<Option<f64>>);

/// What closes the hull there, in a word.
pub fn end_word(model: &Model, at_stern: bool) -> &'static str {
    let lines = &model.lines;
    match (at_stern, if at_stern { lines.transom } else { lines.bow_transom }.is_some()) {
        (false, false) => "stem",
        (false, true) => "bow transom",
        (true, false) => "sternpost",
        (true, true) => "transom",
    }
}

/// Where the lines end there, from the keel up.
pub fn end_points(model: &Model, at_stern: bool) -> Vec<P3> {
    let lines = model.lines.lines.iter();
    lines.map(|l| l.spline.at(if at_stern { l.spline.end() } else { 0.0 })).collect()
}

/// The columns: the bow, every station, the stern.
pub fn columns(model: &Model) -> Vec<String> {
    let stations = (1..=model.stations.len()).map(|i| format!("station {i}"));
    std::iter::once(end_word(model, false).to_string())
        .chain(stations)
        .chain([end_word(model, true).to_string()])
        .collect()
}

/// Distances aft, then heights above the baseline, then half-breadths, of every line at the
/// bow, at every station and at the stern. A raked end is where its lines end, each at its
/// own distance.
pub fn rows(model: &Model) -> Vec<Row> {
    let lines = &model.lines.lines;
    let ends = [false, true].map(|at_stern| end_points(model, at_stern));
    let row = |k: usize, of: fn(&P3) -> f64| -> Vec<Option<f64>> {
        let spline = &lines[k].spline;
        let at = |x: &f64| spline.parameter_at_x(*x).map(|t| of(&spline.at(t)));
        let stations = model.stations.iter().map(at);
        std::iter::once(Some(of(&ends[0][k])))
            .chain(stations)
            .chain([Some(of(&ends[1][k]))])
            .collect()
    };
    let mut out: Vec<Row> = Vec::new();
    for (k, l) in lines.iter().enumerate() {
        out.push((format!("{}, aft of the bow", l.id), row(k, |p| p.x)));
    }
    for (k, l) in lines.iter().enumerate() {
        out.push((format!("{}, height", l.id), row(k, |p| p.z)));
    }
    for (k, l) in lines.iter().enumerate().filter(|(_, l)| !l.is(LineId::Keel)) {
        out.push((format!("{}, half-breadth", l.id), row(k, |p| p.y)));
    }
    out
}

/// The table as a drawing at the size of paper.
pub fn offsets_table(model: &Model) -> Drawing {
    let mut d = Drawing::new(
        format!("{}: table of offsets", model.hull.name),
        "to the inside of the planking",
        layers(),
    );
    d.table = true;
    let all = rows(model);
    let mut y = 0.0;
    let heads = columns(model);
    for band in (0..heads.len()).step_by(BAND) {
        let end = (band + BAND).min(heads.len());
        let [first, second] = match model.hull.units.imperial() {
            true => ["ft-in-eighths", "mm"],
            false => ["mm", "ft-in-eighths"],
        };
        for unit in [first, second] {
            let show = |mm: f64| match unit {
                "mm" => whole_mm(mm),
                _ => feet_inches_eighths(mm),
            };
            let mut line = |y: f64, name: &str, cells: Vec<String>| {
                d.text(Line::Text, P2::new(0.0, y), FIGURES, 0.0, Anchor::Left, name);
                for (j, cell) in cells.into_iter().enumerate() {
                    let at = P2::new(FIRST + COLUMN * (j as f64 + 0.5), y);
                    d.text(Line::Text, at, FIGURES, 0.0, Anchor::Middle, cell);
                }
            };
            line(y, unit, heads[band..end].to_vec());
            for (r, (name, values)) in all.iter().enumerate() {
                let cells =
                    values[band..end].iter().map(|v| v.map_or_else(|| "–".into(), show)).collect();
                line(y - ROW * (r as f64 + 1.0), name, cells);
            }
            let width = FIRST + COLUMN * (end - band) as f64;
            let under = y - 0.3 * ROW;
            d.line(Line::Check, P2::new(0.0, under), P2::new(0.0, under) + V2::new(width, 0.0));
            y -= ROW * (all.len() as f64 + 2.5);
        }
    }
    d.note(format!("Heights above the baseline, half-breadths from the centreline, distances from {}. Bow and stern are where the lines end: a raked end has every line at its own distance.", super::measured_from(model, model.hull.units)));
    if let Some(words) = Units::FeetInchesEighths.explained() {
        d.note(format!("In feet-inches-eighths {words}."));
    }
    d
}
