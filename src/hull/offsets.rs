//! The trade's table of offsets as CSV, for people who start from a plan.

use super::check::{Fault, Place, faults};
use super::document::{Duck, Hull, Line, LineEnd};
use super::lines::HullLines;
use super::table_header::{Header, PLAIN};
use crate::finding::Finding;
use crate::units::{Units, parse_length};

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

struct Row {
    at: u64,
    line: String,
    duck: Duck,
}

/// Reads a table of offsets into a hull with defaults, and what is worth saying about it.
///
/// # Errors
/// The first row that cannot be understood, or what no boat can be.
pub fn read(text: &str, file: &str, name: &str) -> Result<(Hull, Vec<Finding>), OffsetsError> {
    let error = |line: u64, message: String| OffsetsError { file: file.into(), line, message };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // Comments run from a hash to the end of the line, wherever it stands; lines keep
    // their number.
    let bare: String =
        text.lines().map(|l| format!("{}\n", l.split('#').next().unwrap_or(""))).collect();
    let semicolon = bare.lines().any(|l| l.contains(';'));
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .delimiter(if semicolon { b';' } else { b',' })
        .from_reader(bare.as_bytes());
    let mut unit = Units::Mm;
    let mut head = PLAIN;
    let mut rows: Vec<Row> = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|e| {
            error(e.position().map_or(0, csv::Position::line), format!("not a CSV row: {e}"))
        })?;
        let at = record.position().map_or(0, csv::Position::line);
        let mut cells: Vec<String> = record.iter().map(|c| c.trim().to_string()).collect();
        while cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        if let [only] = cells.as_slice()
            && let Some((name, word)) = only.split_once(',')
        {
            cells = vec![name.trim().to_string(), word.trim().to_string()];
        }
        if let Some(first) = cells.first_mut() {
            *first = first.to_lowercase();
        }
        let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
        if let Some(found) = Header::of(&cells) {
            if !rows.is_empty() {
                let said = "a head after points; accepted: one before the first point";
                return Err(error(at, said.into()));
            }
            head = found.map_err(|e| error(at, e))?;
            unit = head.unit().unwrap_or(unit);
            continue;
        }
        match cells.as_slice() {
            [] => {}
            ["unit", word, ..] => {
                if !rows.is_empty() {
                    return Err(error(
                        at,
                        "a unit row after points; accepted: one before the first point".into(),
                    ));
                }
                unit = Units::from_word(word).filter(|u| *u != Units::InchFraction).ok_or_else(
                    || error(at, format!("unit {word:?} is unknown; accepted: mm, m, in, ft-in-8")),
                )?;
            }
            all @ [_, _, _, _] => {
                let Some([line, x, y, z]) = head.pick(all) else {
                    return Err(error(at, "a cell is missing; accepted: as the head says".into()));
                };
                let number = |axis: usize, cell: &str| {
                    let cell = if semicolon { cell.replace(',', ".") } else { cell.into() };
                    let own = head.axes[axis].1.unwrap_or(unit);
                    let name = ["x", "y", "z"][axis];
                    parse_length(&cell, own).map_err(|e| error(at, format!("{name}: {e}")))
                };
                let duck = Duck::at(number(0, x)?, number(1, y)?, number(2, z)?);
                rows.push(Row { at, line: line.to_lowercase(), duck });
            }
            other => {
                return Err(error(
                    at,
                    format!(
                        "{} cell(s) in {:?}; accepted: line,x,y,z or unit,mm",
                        other.len(),
                        other.join(",")
                    ),
                ));
            }
        }
    }
    let hull = assemble(&rows, unit, name);
    if let Some(fault) = faults(&hull).into_iter().next() {
        return Err(error(row_of(&fault, &hull, &rows), fault.to_string()));
    }
    let findings = off_transom(&hull);
    Ok((hull, findings))
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
    hull
}

/// The table's row that a fault comes from.
fn row_of(fault: &Fault, hull: &Hull, rows: &[Row]) -> u64 {
    let of_line = |i: usize| {
        let name = hull.lines.get(i).map_or("", |l| l.name.as_str()).to_string();
        rows.iter().filter(move |r| r.line == name)
    };
    match fault.place {
        Place::Line(i) => of_line(i).next().map_or(0, |r| r.at),
        Place::Duck(i, k) => of_line(i).nth(k).map_or(0, |r| r.at),
        _ => 0,
    }
}

/// Points that lie off the plane fitted to the lines' after ends.
fn off_transom(hull: &Hull) -> Vec<Finding> {
    HullLines::of(hull).map(|lines| lines.off_transom(hull.units)).unwrap_or_default()
}

/// The hull's ducks as a table of offsets in `unit`, readable by [`read`].
pub fn write(hull: &Hull, unit: Units) -> String {
    // Fractions are no unit of the table; decimal inches say the same.
    let unit = if unit == Units::InchFraction { Units::Inch } else { unit };
    let cell = |mm: f64| match unit {
        Units::Mm | Units::InchFraction => trimmed(mm, 3),
        Units::M => trimmed(mm / 1000.0, 6),
        Units::Inch => trimmed(mm / crate::units::MM_PER_INCH, 4),
        Units::FeetInchesEighths => crate::units::feet_inches_eighths(mm),
    };
    let name = hull.name.replace(['\n', '\r'], " ");
    let mut text = format!(
        "# {name}: ducks of the lines to the inside of the planking\n# x aft, y to starboard, z up from the baseline\nunit,{}\nline,x,y,z\n",
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

    const FLAT: &str = "chine,0,0,300\nchine,2000,500,40\nchine,3900,450,120\nsheer,0,0,742\nsheer,2000,690,500\nsheer,3980,600,560\n";

    #[test]
    fn reads_bom_crlf_comments_quotes_and_decimal_commas() {
        let text = "\u{feff}# from a plan\r\nunit;mm\r\nline;x;y;z\r\n\"chine\";0;0;300,5\r\nchine;2000;500;40\r\nchine;3900;450;120\r\nsheer;0;0;742\r\nsheer;2000;690;500\r\nsheer;3980;600;560\r\n";
        let (hull, _) = read(text, "plan.csv", "plan").expect("a good table");
        assert_eq!(hull.lines[0].ducks[0].z, 300.5);
        assert_eq!(hull.lines.len(), 2);
    }

    #[test]
    fn feet_inches_eighths_are_read() {
        let text = format!(
            "unit,ft-in-8\n{}",
            "chine,0,0,1-0-0\nchine,6-0-0,1-8-4,0-1-5\nchine,12-9-4,1-6-0,0-4-6+\nsheer,0,0,2-5-2\nsheer,6-6-0,2-3-2,1-8-0\nsheer,13-0-5,2-0-0,1-10-0\n"
        );
        let (hull, _) = read(&text, "plan.csv", "plan").expect("a good table");
        assert!((hull.lines[0].ducks[1].y - (20.0 + 4.0 / 8.0) * 25.4).abs() < 1e-9);
        assert_eq!(hull.units, Units::FeetInchesEighths);
    }

    /// A head in another order, or in inches, once gave another boat without a word.
    #[test]
    fn columns_follow_their_head() {
        let (plain, _) = read(FLAT, "plan.csv", "plan").expect("a good table");
        let swapped: String = FLAT
            .lines()
            .map(|l| l.split(',').collect::<Vec<_>>())
            .map(|c| format!("{},{},{},{}\n", c[3], c[0], c[1], c[2]))
            .collect();
        let text = format!("height,line,aft,half-breadth\n{swapped}");
        let (hull, _) = read(&text, "plan.csv", "plan").expect("a good table");
        assert_eq!(hull.lines, plain.lines);
        let text = format!("line,x (in),y (in),z (in)\n{FLAT}");
        let error = read(&text, "plan.csv", "plan").expect_err("a boat of 100 m");
        assert!(error.message.contains("a number of mm between"), "{error}");
        let inches: String = FLAT
            .lines()
            .map(|l| l.split(',').collect::<Vec<_>>())
            .map(|c| (c[..3].join(","), c[3].parse::<f64>().expect("a number") / 25.4))
            .map(|(before, z)| format!("{before},{z}\n"))
            .collect();
        let text = format!("line,x,y,z (in)\n{inches}");
        let (hull, _) = read(&text, "plan.csv", "plan").expect("a good table");
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
        let (hull, findings) = read(FLAT, "plan.csv", "plan").expect("a good table");
        assert!(findings.is_empty(), "{findings:?}");
        for unit in [Units::Mm, Units::M] {
            let (mut back, _) = read(&write(&hull, unit), "b.csv", "plan").expect("own table");
            back.units = hull.units;
            assert_eq!(back, hull);
        }
    }

    #[test]
    fn a_point_off_the_transom_is_reported() {
        let mut text = FLAT.to_string();
        text.push_str("keel,0,0,280\nkeel,2000,0,0\nkeel,3860,0,40\n");
        let (_, findings) = read(&text, "plan.csv", "plan").expect("a good table");
        assert!(findings.iter().any(|f| f.message.contains("transom")), "{findings:?}");
    }
}
