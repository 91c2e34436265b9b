//! Shopping and cutting lists as CSV (RFC 4180), for a spreadsheet or a phone at the yard.
//!
//! Lengths are millimetres, as in the report; where the reader's tape is in inches each length
//! stands a second time as it is read there.

use csv::{Terminator, WriterBuilder};

use crate::geom::polyline::{area, length2};
use crate::model::stock::{Asked, StockList};
use crate::stock::nest::{CutKind, Keep, cuts};
use crate::units::Units;
use crate::words::stock::{asked, joint_bends, joint_made, part_name, stick_piece, wood_name};
use crate::words::stores::counted;

/// Rows of cells, the head first.
type Rows = Vec<Vec<String>>;

/// Files by their names; what stores were counted from is said in `units`, prices are in
/// `currency`.
pub fn lists(s: &StockList, units: Units, currency: &str) -> [(&'static str, Vec<u8>); 6] {
    [
        ("sheets", sheets(s, units)),
        ("cuts", straight(s, units)),
        ("lumber", lumber(s, units)),
        ("joints", joints(s, units)),
        ("stores", stores(s, units)),
        ("costs", costs(s, units, currency)),
    ]
    .map(|(name, rows)| (name, table(&rows)))
}

/// Rows as bytes; a table that is made in memory cannot fail to be written.
fn table(rows: &Rows) -> Vec<u8> {
    let lines = Terminator::CRLF;
    let mut out = WriterBuilder::new().terminator(lines).from_writer(Vec::new());
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

/// A head, and `read` once more in the reader's units where those are not millimetres.
fn head<const N: usize>(cells: [&str; N], read: &[&str], units: Units) -> Vec<String> {
    let mut out = row(cells);
    if units != Units::Mm {
        out.extend(read.iter().map(|what| format!("{what}_{}", units.word())));
    }
    out
}

/// Lengths as the reader has them, where those are not millimetres.
fn read<const N: usize>(lengths: [f64; N], units: Units) -> Vec<String> {
    if units == Units::Mm {
        return Vec::new();
    }
    lengths.iter().map(|mm| units.figure(*mm)).collect()
}

fn mm(length: f64) -> String {
    format!("{length:.1}")
}

fn sheets(s: &StockList, units: Units) -> Rows {
    let columns = [
        "sheet",
        "stock",
        "length_mm",
        "width_mm",
        "thickness_mm",
        "number",
        "part",
        "face_up",
        "turned_over",
        "area_mm2",
    ];
    let mut out = vec![head(columns, &["length", "width"], units)];
    for (i, kind) in s.sheets.iter().enumerate() {
        for (n, laid) in kind.layout.sheets.iter().enumerate() {
            let (_, size) = kind.problem.sheets[laid.sheet].extent();
            for (p, lying) in laid.placed.iter().zip(s.lying(kind, n)) {
                let mut cells = vec![
                    s.sheet_number(i, n).to_string(),
                    kind.sheet.clone(),
                    mm(size.x),
                    mm(size.y),
                    mm(kind.thickness),
                    lying.number.to_string(),
                    part_name(s, kind, p.part, &lying),
                    lying.face_up.map_or("either", |f| f.word()).into(),
                    if lying.turned_over { "yes" } else { "no" }.into(),
                    format!("{:.0}", area(&p.outline).abs()),
                ];
                cells.extend(read([size.x, size.y], units));
                out.push(cells);
            }
        }
    }
    out
}

/// Straight cuts in their order, then the parts in theirs.
fn straight(s: &StockList, units: Units) -> Rows {
    let columns = [
        "sheet",
        "order",
        "cut",
        "part",
        "from_along_mm",
        "from_across_mm",
        "to_along_mm",
        "to_across_mm",
        "length_mm",
    ];
    let again = ["from_along", "from_across", "to_along", "to_across", "length"];
    let mut out = vec![head(columns, &again, units)];
    for (i, kind) in s.sheets.iter().enumerate() {
        for (n, laid) in kind.layout.sheets.iter().enumerate() {
            let lying = s.lying(kind, n);
            let all = cuts(&kind.problem, laid, Keep::default());
            for (order, c) in all.iter().enumerate() {
                let (Some(a), Some(b)) = (c.path.first(), c.path.last()) else {
                    continue;
                };
                let part = c
                    .part
                    .map_or(String::new(), |k| part_name(s, kind, laid.placed[k].part, &lying[k]));
                let what = match c.kind {
                    CutKind::Crosscut => "crosscut",
                    CutKind::Rip => "rip",
                    CutKind::Outline => "outline",
                };
                let length = length2(&c.path);
                let mut cells = vec![
                    s.sheet_number(i, n).to_string(),
                    (order + 1).to_string(),
                    what.into(),
                    part,
                ];
                cells.extend([a.x, a.y, b.x, b.y, length].map(mm));
                cells.extend(read([a.x, a.y, b.x, b.y, length], units));
                out.push(cells);
            }
        }
    }
    out
}

fn lumber(s: &StockList, units: Units) -> Rows {
    let columns = [
        "board",
        "species",
        "thickness_mm",
        "width_mm",
        "length_mm",
        "ripped_to_mm",
        "cut",
        "cut_length_mm",
        "finished_mm",
        "strip_from_mm",
    ];
    let again =
        ["thickness", "width", "length", "ripped_to", "cut_length", "finished", "strip_from"];
    let mut out = vec![head(columns, &again, units)];
    for (n, b) in s.lumber.plan.boards.iter().enumerate() {
        let stock = &s.lumber.lengths[b.stock];
        for strip in &b.strips {
            for p in &strip.pieces {
                let finished = s.lumber.finished(p);
                let lengths = [
                    stock.thickness,
                    stock.width,
                    stock.length,
                    strip.width,
                    p.length,
                    finished,
                    strip.from,
                ];
                let [thick, wide, long, ripped, cut, finished, from] = lengths.map(mm);
                let (board, name) = ((n + 1).to_string(), stick_piece(&s.lumber, p));
                let species = wood_name(&stock.species).to_string();
                let mut cells =
                    vec![board, species, thick, wide, long, ripped, name, cut, finished, from];
                cells.extend(read(lengths, units));
                out.push(cells);
            }
        }
    }
    out
}

fn joints(s: &StockList, units: Units) -> Rows {
    let columns = ["panel", "joint", "kind", "runs", "at_mm", "length_mm", "slope", "made", "bend"];
    let mut out = vec![head(columns, &["at", "length"], units)];
    for p in &s.panels {
        for (i, j) in p.split.joints.iter().enumerate() {
            let mut cells = vec![
                p.name.clone(),
                (i + 1).to_string(),
                j.kind.word().into(),
                if j.lengthwise { "along" } else { "across" }.into(),
                mm(j.at),
                mm(j.taken),
                j.slope.map_or(String::new(), |s| s.to_string()),
                joint_made(j, units),
                joint_bends(j, units),
            ];
            cells.extend(read([j.at, j.taken], units));
            out.push(cells);
        }
    }
    out
}

fn stores(s: &StockList, units: Units) -> Rows {
    let columns =
        ["what", "quantity", "unit", "product", "packs", "pack", "price", "basis", "source"];
    let mut out = vec![row(columns)];
    for b in &s.stores.bought {
        for (k, l) in b.lines.iter().map(|i| &s.stores.lines[*i]).enumerate() {
            // Packs and price stand in the first row of their product.
            let first = |words: String| if k == 0 { words } else { String::new() };
            out.push(vec![
                l.name.clone(),
                format!("{:.3}", l.quantity),
                l.unit.word().into(),
                b.product.clone(),
                first(b.packs.to_string()),
                first(b.pack.to_string()),
                first(b.price.map_or(String::new(), |p| format!("{p:.2}"))),
                counted(&l.from, units),
                l.source.clone(),
            ]);
        }
    }
    out
}

/// Everything that is asked for over the counter, alike things in one row; the price is that of
/// all of them, and empty where it is not known.
fn costs(s: &StockList, units: Units, currency: &str) -> Rows {
    let mut out = vec![row(["for", "what", "count", "price", "currency"])];
    let mut push = |of: &str, what: String, count: usize, price: Option<f64>| {
        let price = price.map_or(String::new(), |p| format!("{p:.2}"));
        out.push(vec![of.into(), what, count.to_string(), price, currency.into()]);
    };
    for a in s.asked_for() {
        let of = match a.what {
            Asked::Sheet { .. } => "sheets",
            Asked::Board { .. } => "lumber",
        };
        push(of, asked(&a.what, units), a.count, a.price);
    }
    for b in &s.stores.bought {
        push("stores", b.product.clone(), b.packs as usize, b.price);
    }
    out
}
