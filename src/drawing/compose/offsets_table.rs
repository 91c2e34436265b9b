//! The table of offsets at the stations, in millimetres and in feet-inches-eighths.

use super::layer::{CHECK, TEXT};
use super::layers;
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::units::feet_inches_eighths;

/// Height of text, mm, and the table's spacing.
const FIGURES: f64 = 2.4;
const ROW: f64 = 5.2;
const FIRST: f64 = 34.0;
const COLUMN: f64 = 21.0;
/// Columns of stations on one band, so that it fits on A4 lying.
const BAND: usize = 10;

/// One row: what it gives, and its figure at each station, mm.
pub type Row = (String, Vec<Option<f64>>);

/// Heights above the baseline, then half-breadths, of every line at every station.
pub fn rows(model: &Model) -> Vec<Row> {
    let at = |line: &crate::hull::HullLine, x: f64| {
        line.spline.parameter_at_x(x).map(|t| line.spline.at(t))
    };
    let mut out = Vec::new();
    for line in &model.lines.lines {
        let z = model.stations.iter().map(|x| at(line, *x).map(|p| p.z)).collect();
        out.push((format!("{}, height", line.name), z));
    }
    for line in model.lines.lines.iter().filter(|l| l.name != "keel") {
        let y = model.stations.iter().map(|x| at(line, *x).map(|p| p.y)).collect();
        out.push((format!("{}, half-breadth", line.name), y));
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
    for band in (0..model.stations.len()).step_by(BAND) {
        let end = (band + BAND).min(model.stations.len());
        for unit in ["mm", "ft-in-eighths"] {
            let show = |mm: f64| match unit {
                "mm" => format!("{mm:.0}"),
                _ => feet_inches_eighths(mm),
            };
            let mut line = |y: f64, name: &str, cells: Vec<String>| {
                d.text(TEXT, P2::new(0.0, y), FIGURES, 0.0, Anchor::Left, name);
                for (j, cell) in cells.into_iter().enumerate() {
                    let at = P2::new(FIRST + COLUMN * (j as f64 + 0.5), y);
                    d.text(TEXT, at, FIGURES, 0.0, Anchor::Middle, cell);
                }
            };
            line(y, unit, (band..end).map(|i| format!("station {}", i + 1)).collect());
            line(y - ROW, "aft of the bow", (band..end).map(|i| show(model.stations[i])).collect());
            for (r, (name, values)) in all.iter().enumerate() {
                let cells =
                    values[band..end].iter().map(|v| v.map_or_else(|| "–".into(), show)).collect();
                line(y - ROW * (r as f64 + 2.0), name, cells);
            }
            let width = FIRST + COLUMN * (end - band) as f64;
            let under = y - 0.3 * ROW;
            d.line(CHECK, P2::new(0.0, under), P2::new(0.0, under) + V2::new(width, 0.0));
            y -= ROW * (all.len() as f64 + 3.5);
        }
    }
    let words = "heights above the baseline, half-breadths from the centreline; in eighths a plus is a sixteenth more";
    d.text(TEXT, P2::new(0.0, y + 0.6 * ROW), 0.85 * FIGURES, 0.0, Anchor::Left, words);
    d
}
