//! The figures of a card as a table for other programs: exactly those that are printed.

use super::{Card, CardPart};
use crate::flat::ordinates::{Mark, Mirror};
use crate::units::Units;

/// The card's figures as CSV. Columns: part, kind, of, point, along, off, length; the head
/// names the unit of the last three. An edge is given by its points in order, corners
/// included; `across` instead of `edge` says that it runs on fairly over the middle.
pub fn csv(card: &Card, units: Units) -> String {
    let unit = units.word();
    let mut out = format!("part,kind,of,point,along [{unit}],off [{unit}],length [{unit}]\n");
    for part in &card.parts {
        write_part(&mut out, part, units);
    }
    out
}

fn write_part(out: &mut String, part: &CardPart, units: Units) {
    let mut row = |kind: &str, of: &str, point: &str, at: Option<Mark>, length: Option<f64>| {
        let place =
            |axis: usize| at.map_or(String::new(), |m| quoted(units.figure(m.printed[axis])));
        let length = length.map_or(String::new(), |l| quoted(units.figure(l)));
        let words = [&part.name, kind, of, point].map(quoted).join(",");
        out.push_str(&format!("{words},{},{},{length}\n", place(0), place(1)));
    };
    let p = &part.plotted;
    match p.mirror {
        Mirror::None => {}
        Mirror::Base => row("both sides of the base line", "", "", None, None),
        Mirror::Zero => row("both ways from 0", "", "", None, None),
    }
    let mut number = 0;
    for (i, e) in p.edges.iter().enumerate() {
        let name = part.edge_words(i);
        let kind = match (e.round, e.across) {
            (Some(_), _) => "round",
            (None, true) => "across",
            (None, false) => "edge",
        };
        row(kind, &name, &part.letters[e.from], Some(p.corners[e.from]), None);
        for m in &e.marks {
            number += 1;
            row(kind, &name, &number.to_string(), Some(*m), None);
        }
        row(kind, &name, &part.letters[e.to], Some(p.corners[e.to]), None);
        if let Some(r) = e.round {
            row("compass", &name, "centre", Some(part.centre(r, units)), Some(r.radius));
        }
    }
    for list in &part.lists {
        for (name, mark) in &list.rows {
            row("mark", &list.head, name, Some(*mark), None);
        }
    }
    for c in &part.checks {
        row("check", &c.name, "", None, Some(c.length));
    }
}

/// A cell, quoted where it must be.
fn quoted(text: impl AsRef<str>) -> String {
    let text = text.as_ref();
    if text.contains([',', '"', '\n']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_string()
    }
}
