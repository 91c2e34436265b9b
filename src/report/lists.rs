//! Shopping and cutting lists as CSV, for a spreadsheet or a phone at the yard.

use csv::Writer;

use crate::model::stock::StockList;
use crate::units::Units;
use crate::words::stock::counted;

/// Files by their names; what stores were counted from is said in `units`.
pub fn lists(s: &StockList, units: Units) -> [(&'static str, Vec<u8>); 3] {
    [("sheets", sheets(s)), ("lumber", lumber(s)), ("stores", stores(s, units))]
        .map(|(name, rows)| (name, table(&rows)))
}

/// Rows as bytes; a table that is made in memory cannot fail to be written.
fn table(rows: &[Vec<String>]) -> Vec<u8> {
    let mut out = Writer::from_writer(Vec::new());
    for row in rows {
        if out.write_record(row).is_err() {
            return Vec::new();
        }
    }
    out.into_inner().unwrap_or_default()
}

fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.iter().map(|c| (*c).to_string()).collect()
}

fn sheets(s: &StockList) -> Vec<Vec<String>> {
    let mut out = vec![row([
        "sheet",
        "number",
        "length_mm",
        "width_mm",
        "thickness_mm",
        "part",
        "turned_over",
    ])];
    for kind in &s.sheets {
        for (n, laid) in kind.layout.sheets.iter().enumerate() {
            let (_, size) = kind.problem.sheets[laid.sheet].extent();
            for p in &laid.placed {
                out.push(vec![
                    kind.sheet.clone(),
                    (n + 1).to_string(),
                    format!("{:.0}", size.x),
                    format!("{:.0}", size.y),
                    format!("{:.1}", kind.thickness),
                    kind.problem.parts[p.part].name.clone(),
                    if p.attitude.mirrored { "yes" } else { "no" }.into(),
                ]);
            }
        }
    }
    out
}

fn lumber(s: &StockList) -> Vec<Vec<String>> {
    let mut out = vec![row([
        "board",
        "species",
        "thickness_mm",
        "width_mm",
        "length_mm",
        "ripped_to_mm",
        "cut",
        "cut_length_mm",
    ])];
    for (n, b) in s.lumber.plan.boards.iter().enumerate() {
        let stock = &s.lumber.lengths[b.stock];
        for strip in &b.strips {
            for p in &strip.pieces {
                out.push(vec![
                    (n + 1).to_string(),
                    stock.species.clone(),
                    format!("{:.1}", stock.thickness),
                    format!("{:.1}", stock.width),
                    format!("{:.0}", stock.length),
                    format!("{:.1}", strip.width),
                    s.lumber.cuts[p.cut].0.name.clone(),
                    format!("{:.0}", p.length),
                ]);
            }
        }
    }
    out
}

fn stores(s: &StockList, units: Units) -> Vec<Vec<String>> {
    let mut out =
        vec![row(["what", "quantity", "unit", "packs", "pack", "price", "basis", "source"])];
    for l in &s.stores.lines {
        out.push(vec![
            l.name.clone(),
            format!("{:.2}", l.quantity),
            l.unit.into(),
            l.packs.to_string(),
            l.pack.to_string(),
            l.price.map_or(String::new(), |p| format!("{p:.2}")),
            counted(&l.from, units),
            l.source.clone(),
        ]);
    }
    out
}
