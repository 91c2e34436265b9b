//! The trade's table of offsets as CSV, for people who start from a plan.

use super::check::{Fault, Place};
use super::checked::CheckedHull;
use super::document::{Duck, Hull, Line, LineEnd};
use super::offsets_matrix;
use super::outside_of::OutsideOf;
use super::stock::SoldBy;
use super::table_header::{Header, PLAIN};
use super::table_rows::{TableRow, TableRows};
use super::table_unit::{TableUnit, UNIT_WORDS};
use crate::units::Units;
use crate::units::short::shortened;

/// Why a table could not be read, with its line in the file (from 1; 0 for the whole).
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{file}:{}{message}", if *.line > 0 { format!("{}: ", .line) } else { " ".into() })]
pub struct OffsetsError {
    /// The file's name as the builder gave it.
    pub file: String,
    /// Line of the fault.
    pub line: u64,
    /// What is wrong, the value, and what would be accepted.
    pub message: String,
}

/// A point of a table.
pub(super) struct Row {
    /// Its line in the file.
    pub(super) at: u64,
    /// Its column, in words; empty in a list.
    pub(super) place: String,
    /// The hull line that it lies on.
    pub(super) line: String,
    pub(super) duck: Duck,
}

/// What a table of offsets says.
#[derive(Debug, Clone, PartialEq)]
pub struct Offsets {
    /// The hull, with defaults for all but its lines.
    pub hull: CheckedHull,
    /// How far (mm) all points were moved aft, as some lay ahead of the table's zero; 0 where
    /// none did.
    pub moved_aft: f64,
    /// Planking to whose outside the table says that its lines are drawn. It is not yet
    /// deducted: `panel::deduct` does that.
    pub outside_of: Option<OutsideOf>,
}

/// Reads a table of offsets, as a list of points or as a plan's matrix.
///
/// # Errors
/// The first row that cannot be understood, or what no boat can be.
pub fn read(text: &str, file: &str, name: &str) -> Result<Offsets, OffsetsError> {
    let error = |(line, message): (u64, String)| OffsetsError { file: file.into(), line, message };
    let mut table = TableRows::of(text).map_err(error)?;
    let outside_of = take_outside_of(&mut table).map_err(error)?;
    let listed = table.rows.iter().any(|r| Header::of(&texts(&r.cells)).is_some());
    let (rows, unit, moved_aft) = if !listed && offsets_matrix::is_matrix(&table.rows) {
        let rows: Vec<TableRow> = std::mem::take(&mut table.rows);
        let (given, rows): (Vec<_>, Vec<_>) = rows.into_iter().partition(|r| r.first() == "unit");
        let unit = given.first().map(unit_of).transpose().map_err(error)?;
        let matrix = offsets_matrix::read(&table, &rows, unit).map_err(error)?;
        (matrix.points, matrix.unit, matrix.moved_aft)
    } else {
        let (rows, unit) = list(&table).map_err(error)?;
        (rows, unit, 0.0)
    };
    let hull = assemble(&rows, unit.shown(), name);
    let hull = CheckedHull::of(hull.clone()).map_err(|faults| {
        let fault = &faults[0];
        let row = row_of(fault, &hull, &rows);
        let place = row.map_or("", |r| r.place.as_str());
        let place = if place.is_empty() { String::new() } else { format!("{place}: ") };
        error((row.map_or(0, |r| r.at), format!("{place}{fault}")))
    })?;
    Ok(Offsets { hull, moved_aft, outside_of })
}

/// The words of the row that says what the lines are drawn to.
const OUTSIDE_OF: [&str; 2] = ["outside of", "outside of planking"];

/// Takes the row `outside of` out of the table.
fn take_outside_of(table: &mut TableRows) -> Result<Option<OutsideOf>, (u64, String)> {
    let Some(i) = table.rows.iter().position(|r| OUTSIDE_OF.contains(&r.first())) else {
        return Ok(None);
    };
    let row = table.rows.remove(i);
    let cells: Vec<String> = row.cells[1..].iter().map(|c| table.number(c)).collect();
    let read = OutsideOf::of_cells(cells.iter().map(String::as_str));
    read.map(Some).map_err(|e| (row.at, format!("outside of: {e}")))
}

fn unit_of(row: &TableRow) -> Result<TableUnit, (u64, String)> {
    let word = row.cells.get(1).map_or("", String::as_str);
    let unit = TableUnit::from_word(&word.to_lowercase());
    unit.ok_or_else(|| {
        (row.at, format!("unit {:?} is unknown; accepted: {UNIT_WORDS}", shortened(word)))
    })
}

fn texts(cells: &[String]) -> Vec<&str> {
    cells.iter().map(String::as_str).collect()
}

/// A list: line, x, y, z of a point in each row, or as its head says.
fn list(table: &TableRows) -> Result<(Vec<Row>, TableUnit), (u64, String)> {
    let mut unit = TableUnit::MM;
    let mut head = PLAIN;
    let mut rows: Vec<Row> = Vec::new();
    for row in &table.rows {
        let at = row.at;
        let fail = |message: String| (at, message);
        let cells = texts(&row.cells);
        if let Some(found) = Header::of(&cells) {
            if !rows.is_empty() {
                return Err(fail(
                    "a head after points; accepted: one before the first point".into(),
                ));
            }
            head = found.map_err(fail)?;
            unit = head.unit().unwrap_or(unit);
            continue;
        }
        match cells.as_slice() {
            ["unit", ..] => {
                if !rows.is_empty() {
                    return Err(fail(
                        "a unit row after points; accepted: one before the first point".into(),
                    ));
                }
                unit = unit_of(row)?;
            }
            all @ [_, _, _, _] => {
                let Some([line, x, y, z]) = head.pick(all) else {
                    return Err(fail("a cell is missing; accepted: as the head says".into()));
                };
                let number = |axis: usize, cell: &str| {
                    let own = head.axes[axis].1.unwrap_or(unit);
                    let name = ["x", "y", "z"][axis];
                    own.read(&table.number(cell)).map_err(|e| fail(format!("{name}: {e}")))
                };
                let duck = Duck::at(number(0, x)?, number(1, y)?, number(2, z)?);
                rows.push(Row { at, place: String::new(), line: line.to_lowercase(), duck });
            }
            other => {
                return Err(fail(format!(
                    "{} cell(s) in {:?}; accepted: line,x,y,z or unit,mm",
                    other.len(),
                    shortened(&other.join(","))
                )));
            }
        }
    }
    Ok((rows, unit))
}

/// Lines in the order from the keel up, whatever their order in the table.
fn assemble(rows: &[Row], unit: Units, name: &str) -> Hull {
    let mut names: Vec<&str> = Vec::new();
    for row in rows {
        if !names.contains(&row.line.as_str()) {
            names.push(&row.line);
        }
    }
    let rank = |n: &str| match n {
        "keel" => 0,
        "sheer" => u32::MAX,
        n => n.strip_prefix("chine-").and_then(|k| k.parse().ok()).unwrap_or(1),
    };
    names.sort_by_key(|n| rank(n));
    let lines = names
        .into_iter()
        .map(|n| Line {
            name: n.into(),
            ducks: rows.iter().filter(|r| r.line == n).map(|r| r.duck).collect(),
            bow: LineEnd::default(),
            stern: LineEnd::default(),
        })
        .collect();
    let mut hull = Hull::new(name, lines);
    hull.units = unit;
    hull.stock.sold_by = SoldBy::of(unit);
    hull
}

/// The table's row that a fault comes from.
fn row_of<'a>(fault: &Fault, hull: &Hull, rows: &'a [Row]) -> Option<&'a Row> {
    let of_line = |i: usize| {
        let name = hull.lines.get(i).map_or("", |l| l.name.as_str()).to_string();
        rows.iter().filter(move |r| r.line == name)
    };
    match fault.place {
        Place::Line(i) => of_line(i).next(),
        Place::Duck(i, k) => of_line(i).nth(k),
        _ => None,
    }
}

/// Decimals of a table beyond what its unit usually has, tried until it can be read.
const MORE_PLACES: [usize; 4] = [0, 2, 4, 6];

/// The hull's ducks as a table of offsets in `unit`, readable by [`read`]: with as many
/// decimals as keep her a boat. Where eighths of an inch round two ducks into one, or lines
/// across each other, the table is in inches and says so.
pub fn write(hull: &Hull, unit: Units) -> String {
    // Fractions are no unit of the table; decimal inches say the same.
    let unit = if unit == Units::InchFraction { Units::Inch } else { unit };
    let readable = |text: &String| read(text, "offsets", &hull.name).is_ok();
    if unit == Units::FeetInchesEighths {
        let eighths = table(hull, unit, 0, "");
        if readable(&eighths) {
            return eighths;
        }
        let why = "# in inches: rounded to a sixteenth her lines would no longer be hers\n";
        return decimals(hull, Units::Inch, why, readable);
    }
    decimals(hull, unit, "", readable)
}

fn decimals(hull: &Hull, unit: Units, why: &str, readable: impl Fn(&String) -> bool) -> String {
    let tables = MORE_PLACES.map(|more| table(hull, unit, more, why));
    let first = tables.iter().position(readable).unwrap_or(0);
    tables.into_iter().nth(first).unwrap_or_default()
}

fn table(hull: &Hull, unit: Units, more: usize, why: &str) -> String {
    let cell = |mm: f64| match unit {
        Units::Mm | Units::InchFraction => trimmed(mm, 3 + more),
        Units::M => trimmed(mm / 1000.0, 6 + more),
        Units::Inch => trimmed(mm / crate::units::MM_PER_INCH, 4 + more),
        Units::FeetInchesEighths => crate::units::feet_inches_eighths(mm),
    };
    let name = hull.name.replace(['\n', '\r'], " ");
    let mut text = format!(
        "# {name}: ducks of the lines to the inside of the planking\n# x aft, y to starboard, z up from the baseline\n{why}unit,{}\nline,x,y,z\n",
        unit.word()
    );
    for line in &hull.lines {
        for d in &line.ducks {
            text.push_str(&format!("{},{},{},{}\n", line.name, cell(d.x), cell(d.y), cell(d.z)));
        }
    }
    text
}

fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::{Fact, Finding, LineFact};

    const FLAT: &str = "chine,0,0,300\nchine,2000,500,40\nchine,3900,450,120\nsheer,0,0,742\nsheer,2000,690,500\nsheer,3980,600,560\n";

    #[test]
    fn reads_bom_crlf_comments_quotes_and_decimal_commas() {
        let text = "\u{feff}# from a plan\r\nunit;mm\r\nline;x;y;z\r\n\"chine\";0;0;300,5\r\nchine;2000;500;40\r\nchine;3900;450;120\r\nsheer;0;0;742\r\nsheer;2000;690;500\r\nsheer;3980;600;560\r\n";
        let Offsets { hull, .. } = read(text, "plan.csv", "plan").expect("a good table");
        assert_eq!(hull.lines[0].ducks[0].z, 300.5);
        assert_eq!(hull.lines.len(), 2);
    }

    #[test]
    fn feet_inches_eighths_are_read() {
        let text = format!(
            "unit,ft-in-8\n{}",
            "chine,0,0,1-0-0\nchine,6-0-0,1-8-4,0-1-5\nchine,12-9-4,1-6-0,0-4-6+\nsheer,0,0,2-5-2\nsheer,6-6-0,2-3-2,1-8-0\nsheer,13-0-5,2-0-0,1-10-0\n"
        );
        let Offsets { hull, .. } = read(&text, "plan.csv", "plan").expect("a good table");
        assert!((hull.lines[0].ducks[1].y - (20.0 + 4.0 / 8.0) * 25.4).abs() < 1e-9);
        assert_eq!(hull.units, Units::FeetInchesEighths);
    }

    /// A head in another order, or in inches, once gave another boat without a word.
    #[test]
    fn columns_follow_their_head() {
        let Offsets { hull: plain, .. } = read(FLAT, "plan.csv", "plan").expect("a good table");
        let swapped: String = FLAT
            .lines()
            .map(|l| l.split(',').collect::<Vec<_>>())
            .map(|c| format!("{},{},{},{}\n", c[3], c[0], c[1], c[2]))
            .collect();
        let text = format!("height,line,aft,half-breadth\n{swapped}");
        let Offsets { hull, .. } = read(&text, "plan.csv", "plan").expect("a good table");
        assert_eq!(hull.lines, plain.lines);
        let text = format!("line,x (in),y (in),z (in)\n{FLAT}");
        let error = read(&text, "plan.csv", "plan").expect_err("a boat of 100 m");
        assert!(error.message.contains("a number, -5000 to 5000"), "{error}");
        let inches: String = FLAT
            .lines()
            .map(|l| l.split(',').collect::<Vec<_>>())
            .map(|c| (c[..3].join(","), c[3].parse::<f64>().expect("a number") / 25.4))
            .map(|(before, z)| format!("{before},{z}\n"))
            .collect();
        let text = format!("line,x,y,z (in)\n{inches}");
        let Offsets { hull, .. } = read(&text, "plan.csv", "plan").expect("a good table");
        assert!((hull.lines[1].ducks[0].z - 742.0).abs() < 1e-9);
        assert_eq!(hull.units, Units::Mm, "no unit is that of every column");
        for bad in ["line,x,z\n", "line,x,y,breadth\n", "line,x,y,y\n"] {
            let error = read(&format!("{bad}{FLAT}"), "plan.csv", "plan").expect_err(bad);
            assert_eq!(error.line, 1, "{error}");
            assert!(error.message.contains("accepted are the columns"), "{error}");
        }
    }

    #[test]
    fn faults_name_the_row() {
        let bad = FLAT.replace("sheer,2000,690,500", "sheer,2000,wide,500");
        let error = read(&bad, "plan.csv", "plan").expect_err("a word for a number");
        assert_eq!(error.line, 5);
        assert!(error.message.contains("\"wide\""), "{error}");
        let back = FLAT.replace("chine,3900", "chine,1900");
        assert_eq!(read(&back, "plan.csv", "plan").expect_err("runs backwards").line, 3);
        let unit = format!("unit,furlong\n{FLAT}");
        assert!(read(&unit, "p", "p").expect_err("no unit").message.contains("ft-in-8"));
    }

    #[test]
    fn a_written_table_reads_back_the_same() {
        let hull = read(FLAT, "plan.csv", "plan").expect("a good table").hull;
        assert_eq!(crate::model::off_transom(hull.lines()), []);
        for unit in [Units::Mm, Units::M] {
            let back = read(&write(&hull, unit), "b.csv", "plan").expect("own table").hull;
            let back = back.in_units(hull.units);
            assert_eq!(back, hull);
        }
    }

    #[test]
    fn a_point_off_the_transom_is_reported() {
        let mut text = FLAT.to_string();
        text.push_str("keel,0,0,280\nkeel,2000,0,0\nkeel,3860,0,40\n");
        let hull = read(&text, "plan.csv", "plan").expect("a good table").hull;
        let found = crate::model::off_transom(hull.lines());
        let off = |f: &Finding| matches!(f.fact, Fact::Line(LineFact::OffTransom(by)) if by > 0.0);
        assert!(found.iter().any(off), "{found:?}");
    }

    /// At the limits of what a document may be, a table's own rounding once made of it what
    /// is refused: 5000 mm is 196.8504 in, which is 5000.00016 mm.
    #[test]
    fn no_table_is_refused_for_its_own_rounding() {
        let text = FLAT
            .replace("sheer,2000,690,500", "sheer,2000,5000,5000\nsheer,2001,4999,4999.9")
            .replace("chine,2000,500,40", "chine,2000.0355,500,40\nchine,2001.0356,500,40");
        let hull = read(&text, "plan.csv", "plan").expect("a strange boat").hull;
        let apart = |unit: Units| -> f64 {
            let text = write(&hull, unit);
            let back = read(&text, "b.csv", "plan").unwrap_or_else(|e| panic!("{text}\n{e}")).hull;
            let ducks = |h: &Hull| h.lines.iter().flat_map(|l| l.ducks.clone()).collect::<Vec<_>>();
            let (a, b) = (ducks(&hull), ducks(&back));
            assert_eq!(a.len(), b.len());
            a.iter().zip(&b).map(|(a, b)| (a.point() - b.point()).norm()).fold(0.0, f64::max)
        };
        for unit in Units::ALL {
            assert!(apart(unit) < 0.01, "{unit:?}: {}", apart(unit));
        }
        // Two ducks 1 mm apart are one in eighths.
        let loft = write(&hull, Units::FeetInchesEighths);
        assert!(loft.contains("unit,in\n") && loft.contains("rounded to a sixteenth"), "{loft}");
        let plain = read(FLAT, "plan.csv", "plan").expect("a good table").hull;
        assert!(write(&plain, Units::FeetInchesEighths).contains("unit,ft-in-8"));
    }
}
