//! The table under a sheet's layout: what each part is, which face is up, what is done at its
//! joints, and where its points lie from the sheet's corner.

use super::line::SheetLine;
use super::notes;
use super::parts::{OnSheet, short_name};
use crate::drawing::face::width;
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::model::stock::Laid;
use crate::part::PartId;
use crate::units::Units;

/// Height of the table's capitals, mm on paper, and from line to line over it.
pub(super) const TEXT: f64 = 1.9;
const LINE: f64 = 1.62;
/// Between two columns of cells, mm, and between two columns of rows.
const GAP: f64 = 3.0;
/// The rule under a head, and what rows stand lower for it, over the text's height.
const RULE: f64 = 1.55;
const UNDER_HEAD: f64 = 0.5;
const GUTTER: f64 = 7.0;
/// A row of cells, lines of figures from behind them, and lines of words under all.
struct Row {
    cells: Vec<String>,
    edge: Vec<String>,
    under: Vec<String>,
}

/// Draws the table with its upper left corner at `corner`, `room` mm wide: large parts first, with
/// the face that lies up, then small ones, in columns where two corners of each are enough. `said`
/// are words under a part's row.
pub(super) fn draw(
    d: &mut Drawing,
    (corner, room): (P2, f64),
    parts: &[OnSheet],
    said: impl Fn(&OnSheet) -> Vec<String>,
    units: Units,
) {
    let mut sorted: Vec<&OnSheet> = parts.iter().collect();
    sorted.sort_by_key(|p| p.lying.number);
    let (large, small): (Vec<&OnSheet>, Vec<&OnSheet>) = sorted.into_iter().partition(|p| p.large);
    let figures = format!("along · across, {}", units.heading());
    let cells = |p: &OnSheet| {
        let gusset = matches!(p.lying.of, Laid::Part(PartId::Gusset(..)));
        let name = if gusset { format!("gusset {}", short_name(p)) } else { p.name.clone() };
        vec![p.lying.number.to_string(), name]
    };
    let mut y = corner.y;
    if !large.is_empty() {
        let head = ["no.", "part", "face up", &figures];
        let row = |p: &&OnSheet| {
            let mut cells = cells(p);
            cells.push(p.lying.face_up.map_or("either", |f| f.word()).to_string());
            Row { cells, edge: Vec::new(), under: said(p) }
        };
        let mut rows: Vec<Row> = large.iter().map(row).collect();
        with_edges(&mut rows, &large, &head, (room, units));
        y = set(d, P2::new(corner.x, y), &head, &rows) - 0.6 * LINE * TEXT;
    }
    if small.iter().all(|p| p.by_pattern) && !small.is_empty() {
        let head = ["no.", "part", &figures, ""];
        let row = |p: &&OnSheet| {
            let mut cells = cells(p);
            cells.extend(notes::figures(p, units));
            Row { cells, edge: Vec::new(), under: said(p) }
        };
        let rows: Vec<Row> = small.iter().map(row).collect();
        let wide: f64 = tabs(&head, &rows).iter().sum();
        let columns = (((room + GUTTER) / (wide + GUTTER)).floor() as usize).clamp(1, 3);
        let each = rows.len().div_ceil(columns);
        for (c, rows) in rows.chunks(each.max(1)).enumerate() {
            set(d, P2::new(corner.x + c as f64 * (wide + GUTTER), y), &head, rows);
        }
    } else if !small.is_empty() {
        let head = ["no.", "part", &figures];
        let row = |p: &&OnSheet| Row { cells: cells(p), edge: Vec::new(), under: said(p) };
        let mut rows: Vec<Row> = small.iter().map(row).collect();
        with_edges(&mut rows, &small, &head, (room, units));
        set(d, P2::new(corner.x, y), &head, &rows);
    }
}

/// Gives rows the figures of their parts' edges, in lines as long as the last column has room.
fn with_edges(rows: &mut [Row], parts: &[&OnSheet], head: &[&str], (room, units): (f64, Units)) {
    let behind: f64 = tabs(head, rows).iter().take(head.len() - 1).sum();
    for (row, p) in rows.iter_mut().zip(parts) {
        row.edge = notes::edge(p, units, room - behind);
    }
}

/// The widths of the columns, gaps included.
fn tabs(head: &[&str], rows: &[Row]) -> Vec<f64> {
    let cell = |i: usize| {
        let all = rows.iter().filter_map(move |r| r.cells.get(i).map(String::as_str));
        let widest = all.chain([head[i]]).map(|t| width(t, TEXT, false)).fold(0.0, f64::max);
        widest + GAP
    };
    (0..head.len()).map(cell).collect()
}

/// Sets rows under a head; returns where they end.
fn set(d: &mut Drawing, corner: P2, head: &[&str], rows: &[Row]) -> f64 {
    let tabs = tabs(head, rows);
    let head_at = corner.y - TEXT;
    let mut y = head_at;
    let mut line = |y: f64, cells: &[String]| {
        let mut x = corner.x;
        for (text, tab) in cells.iter().zip(&tabs) {
            if !text.is_empty() {
                d.text(SheetLine::Text, P2::new(x, y), TEXT, 0.0, Anchor::Left, text.clone());
            }
            x += tab;
        }
    };
    let heads: Vec<String> = head.iter().map(|h| (*h).to_string()).collect();
    line(head_at, &heads);
    y -= UNDER_HEAD * TEXT;
    let mut under = Vec::new();
    for row in rows {
        y -= LINE * TEXT;
        line(y, &row.cells);
        let behind: f64 = tabs.iter().take(head.len() - 1).sum();
        for (i, figures) in row.edge.iter().enumerate() {
            y -= if i > 0 { LINE * TEXT } else { 0.0 };
            under.push((P2::new(corner.x + behind, y), figures.clone()));
        }
        for words in &row.under {
            y -= LINE * TEXT;
            under.push((P2::new(corner.x + tabs[0], y), words.clone()));
        }
    }
    for (at, words) in under {
        d.text(SheetLine::Text, at, TEXT, 0.0, Anchor::Left, words);
    }
    let wide: f64 = tabs.iter().sum::<f64>() - GAP;
    let rule = corner - V2::new(0.0, RULE * TEXT);
    d.line(SheetLine::Dimension, rule, rule + V2::new(wide, 0.0));
    y
}
