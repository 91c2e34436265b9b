//! A table of offsets as a plan prints it: stations across, heights and half-breadths of
//! each line down, cells empty where a line has no point.

use super::document::Duck;
use super::matrix_label::{LABELS, Label, Measure};
use super::offsets::Row;
use super::table_rows::{TableRow, TableRows};
use super::table_unit::{TableUnit, to_step};

/// The points of a matrix.
pub(super) struct Matrix {
    /// Line by line, from the bow aft.
    pub(super) points: Vec<Row>,
    /// The unit that the table as a whole is in.
    pub(super) unit: TableUnit,
    /// What was done to them.
    pub(super) moved_aft: f64,
}

/// A figure, where it stands, and its unit if its row or group has one.
#[derive(Clone)]
struct Cell {
    at: u64,
    text: String,
    unit: Option<TableUnit>,
}

/// A row of figures.
struct Figures {
    line: String,
    measure: Measure,
    at: u64,
    cells: Vec<Option<Cell>>,
}

#[derive(Default)]
struct Parts {
    /// Names of the stations.
    head: Option<(u64, Label, Vec<String>)>,
    /// How far aft they stand.
    aft: Option<Vec<Option<Cell>>>,
    figures: Vec<Figures>,
    unit: Option<TableUnit>,
}

/// A fault: its line in the file and what is wrong.
type Fault = (u64, String);

/// Whether these rows are a matrix: one of their labels is a line with a measure, or a
/// measure that lines stand below. A list has a line's name alone, or a head with `line`.
pub(super) fn is_matrix(rows: &[TableRow]) -> bool {
    rows.iter().any(|row| {
        Label::of(row.first()).is_ok_and(|l| l.measure.is_some() || l.stations)
            || row.first().is_empty() && row.cells.get(1).is_some_and(|c| Label::of(c).is_ok())
    })
}

/// Reads a matrix; `given` is the unit of a row that says it.
///
/// # Errors
/// The first cell that cannot be understood, with its line, column and value.
pub(super) fn read(
    table: &TableRows,
    rows: &[TableRow],
    given: Option<TableUnit>,
) -> Result<Matrix, Fault> {
    let first = first_figure(table, rows);
    let parts = parts(rows, first)?;
    let unit = given.or(parts.unit).unwrap_or(TableUnit::MM);
    let columns = Columns { table, head: parts.head.as_ref(), first, unit };
    let aft = columns.distances(&parts)?;
    let mut points = Vec::new();
    for name in line_names(&parts.figures)? {
        points.extend(columns.line(&name, &parts.figures, &aft)?);
    }
    // Plans count from a station; this program from the foremost point.
    let foremost = points.iter().map(|r| r.duck.x).fold(f64::INFINITY, f64::min);
    let moved_aft = if foremost.is_finite() && foremost < 0.0 { -foremost } else { 0.0 };
    if moved_aft > 0.0 {
        for row in &mut points {
            row.duck.x = to_step(row.duck.x + moved_aft);
        }
    }
    Ok(Matrix { points, unit, moved_aft })
}

/// The column where figures begin: the first that holds one anywhere.
fn first_figure(table: &TableRows, rows: &[TableRow]) -> usize {
    let is_figure = |c: &String| !c.is_empty() && TableUnit::MM.read(&table.number(c)).is_ok();
    let of = |row: &TableRow| row.cells.iter().skip(1).position(is_figure).map(|i| i + 1);
    rows.iter().filter_map(of).min().unwrap_or(1)
}

/// A line or measure, by itself, of which the rows below are.
#[derive(Default, Clone)]
struct Group {
    line: Option<String>,
    measure: Option<Measure>,
    unit: Option<TableUnit>,
}

fn parts(rows: &[TableRow], first: usize) -> Result<Parts, Fault> {
    let mut parts = Parts::default();
    let mut group = Group::default();
    for row in rows {
        let fail = |message: String| (row.at, message);
        let labels: Vec<&str> =
            row.cells.iter().take(first).map(String::as_str).filter(|c| !c.is_empty()).collect();
        let read = |text: &str| Label::of(text).map_err(fail);
        let label = read(&labels.join(" "))?;
        let values: &[String] = row.cells.get(first..).unwrap_or_default();
        // A label in the first of two columns stands for the rows below it too.
        if let [group_name, _, ..] = labels.as_slice()
            && !row.first().is_empty()
        {
            let l = read(group_name)?;
            group = Group { line: l.line, measure: l.measure, unit: l.unit };
        }
        if parts.head.is_none() && parts.figures.is_empty() && label.line.is_none() {
            let plain = label.measure.is_none() && !values.is_empty();
            if label.measure.is_none() && label.stations || plain {
                // "station (mm)" has distances, names otherwise.
                parts.unit = parts.unit.or(label.unit);
                parts.head = Some((row.at, label, values.to_vec()));
                continue;
            }
        }
        if values.iter().all(|v| is_empty(v)) {
            group = match (label.measure, label.line) {
                (None, None) => {
                    return Err(fail(format!(
                        "{:?} has no figures; accepted: {LABELS}",
                        labels.join(" ")
                    )));
                }
                (measure, line) => Group { line, measure, unit: label.unit },
            };
            continue;
        }
        let cells = |unit: Option<TableUnit>| -> Vec<Option<Cell>> {
            let cell = |v: &String| Cell { at: row.at, text: v.clone(), unit };
            values.iter().map(|v| (!is_empty(v)).then(|| cell(v))).collect()
        };
        let line = label.line.or(group.line.clone());
        match (label.measure.or(group.measure), line) {
            (Some(Measure::Aft), None) => {
                if parts.aft.replace(cells(label.unit)).is_some() {
                    return Err(fail(
                        "the stations' distances are given twice; accepted: one row of them".into(),
                    ));
                }
            }
            (Some(measure), Some(line)) => {
                if let Some(before) =
                    parts.figures.iter().find(|f| f.line == line && f.measure == measure)
                {
                    return Err(fail(format!(
                        "{} of the {line} is given twice, first in line {}; accepted: once",
                        measure.word(),
                        before.at
                    )));
                }
                let cells = cells(label.unit.or(group.unit));
                parts.figures.push(Figures { line, measure, at: row.at, cells });
            }
            (measure, line) => {
                let lacks = match (measure, line) {
                    (Some(m), _) => format!("{} of which line", m.word()),
                    (_, Some(line)) => format!("height or half-breadth of the {line}"),
                    _ => "what these figures are".into(),
                };
                return Err(fail(format!("it is not said: {lacks}; accepted: {LABELS}")));
            }
        }
    }
    Ok(parts)
}

/// Plans have a dash where a line has no point.
fn is_empty(cell: &str) -> bool {
    matches!(cell, "" | "-" | "–" | "—")
}

/// The lines' names from the keel up as a document has them.
fn line_names(figures: &[Figures]) -> Result<Vec<String>, Fault> {
    let mut names: Vec<String> = Vec::new();
    for f in figures {
        if !names.contains(&f.line) {
            names.push(f.line.clone());
        }
    }
    match figures.first() {
        Some(_) => Ok(names),
        None => Err((0, format!("no row has figures of a line; accepted: {LABELS}"))),
    }
}

/// Lower and upper chine are the first and the second.
fn plain_name(name: &str) -> &str {
    match name {
        "lower chine" => "chine-1",
        "upper chine" => "chine-2",
        other => other,
    }
}

struct Columns<'a> {
    table: &'a TableRows,
    head: Option<&'a (u64, Label, Vec<String>)>,
    first: usize,
    unit: TableUnit,
}

impl Columns<'_> {
    /// Where column `k` of the figures is, in words.
    fn place(&self, k: usize) -> String {
        let column = self.first + k + 1;
        match self.head.and_then(|h| h.2.get(k)).filter(|n| !n.is_empty()) {
            Some(name) => format!("column {column} (station {name})"),
            None => format!("column {column}"),
        }
    }

    fn value(&self, k: usize, what: &str, cell: &Cell) -> Result<f64, Fault> {
        let unit = cell.unit.unwrap_or(self.unit);
        unit.read(&self.table.number(&cell.text))
            .map_err(|e| (cell.at, format!("{}, {what}: {e}", self.place(k))))
    }

    /// How far aft each column stands, where that is said.
    fn distances(&self, parts: &Parts) -> Result<Vec<Option<f64>>, Fault> {
        if let Some(cells) = &parts.aft {
            let read = |(k, c): (usize, &Option<Cell>)| {
                c.as_ref().map(|c| self.value(k, "distance aft", c)).transpose()
            };
            return cells.iter().enumerate().map(read).collect();
        }
        // Figures in the head with a unit are distances; bare ones are the stations' numbers.
        let Some((at, label, names)) = self.head else {
            return Ok(Vec::new());
        };
        let own_unit = |c: &String| c.contains(|c: char| c.is_alphabetic() || "'\"".contains(c));
        let figure = |c: &String| {
            let c = self.table.number(c);
            (label.unit.is_some() || own_unit(&c)).then(|| self.unit.read(&c).ok()).flatten()
        };
        if label.stations && label.unit.is_some() {
            let cell = |v: &String| Cell { at: *at, text: v.clone(), unit: label.unit };
            let named = |(k, v): (usize, &String)| {
                let is_figure = v.starts_with(|c: char| c.is_ascii_digit() || c == '-');
                is_figure.then(|| self.value(k, "distance aft", &cell(v))).transpose()
            };
            return names.iter().enumerate().map(named).collect();
        }
        Ok(names.iter().map(figure).collect())
    }

    /// The points of a line, from the bow aft.
    fn line(
        &self,
        name: &str,
        figures: &[Figures],
        aft: &[Option<f64>],
    ) -> Result<Vec<Row>, Fault> {
        let of = |m: Measure| figures.iter().find(|f| f.line == name && f.measure == m);
        let [xs, ys, zs] = [Measure::Aft, Measure::HalfBreadth, Measure::Height].map(of);
        let cell = |f: Option<&Figures>, k: usize| f.and_then(|f| f.cells.get(k)?.clone());
        let at = [zs, ys, xs].into_iter().flatten().map(|f| f.at).next().unwrap_or(0);
        let missing = |what: Measure| {
            (at, format!("the {name} has no row for its {}; accepted: {LABELS}", what.word()))
        };
        if zs.is_none() {
            return Err(missing(Measure::Height));
        }
        if ys.is_none() && name != "keel" {
            return Err(missing(Measure::HalfBreadth));
        }
        let longest = [ys, zs].into_iter().flatten().map(|f| f.cells.len()).max().unwrap_or(0);
        let mut out = Vec::new();
        for k in 0..longest {
            let (y, z) = (cell(ys, k), cell(zs, k));
            let given = [&z, &y].into_iter().flatten().next().cloned();
            let Some(given) = given else {
                continue;
            };
            let lacks = |what: &str, cure: &str| {
                let place = self.place(k);
                (given.at, format!("{place}: the {name} has no {what} there; accepted: {cure}"))
            };
            let read = |c: &Cell, m: Measure| self.value(k, &format!("{name} {}", m.word()), c);
            let z = z.ok_or_else(|| lacks("height", "both figures, or neither"))?;
            let y = match y {
                Some(y) => read(&y, Measure::HalfBreadth)?,
                None if name == "keel" => 0.0,
                None => {
                    return Err(lacks("half-breadth", "both figures, or neither; 0 on a stem"));
                }
            };
            let x = match (cell(xs, k), aft.get(k).copied().flatten()) {
                (Some(x), _) => read(&x, Measure::Aft)?,
                (None, Some(x)) => x,
                (None, None) => {
                    return Err(lacks(
                        "distance aft",
                        &format!(
                            "a row \"aft\" with each station's distance, distances with a unit in the head (station (mm), or 600 mm), or a row \"{name} aft\""
                        ),
                    ));
                }
            };
            let duck = Duck::at(x, y, read(&z, Measure::Height)?);
            out.push(Row { at: z.at, place: self.place(k), line: plain_name(name).into(), duck });
        }
        out.sort_by(|a, b| a.duck.x.total_cmp(&b.duck.x));
        Ok(out)
    }
}
