//! Her, what she is for, and what was found.

use super::{Of, figures};
use crate::bend::BentMember;
use crate::finding::{Finding, Severity};
use crate::typeset::{Block, Table, Text};
use crate::words::capital;
use crate::words::finding::said;

/// The chapter.
pub(super) fn particulars(of: &Of) -> Vec<Block> {
    let (model, units) = (of.model, of.units());
    let mut out = vec![Block::heading(1, "She, and what she is for")];
    let notes = model.hull.notes.trim();
    if !notes.is_empty() {
        out.push(Block::words(notes));
    }
    let mut rows = vec![
        ("length overall".to_string(), units.show(model.lines.length_overall())),
        ("beam".into(), units.show(model.lines.beam_overall())),
        ("depth".into(), units.show(model.lines.depth())),
        ("frames".into(), model.woodwork.frames.len().to_string()),
    ];
    if let Some(a) = model.afloat.as_deref() {
        rows.push(("weight of the hull".into(), units.mass(a.hull.mass)));
        if let Some(c) = a.full() {
            rows.push(("weight with her full crew".into(), units.mass(c.weight.mass)));
            if let Some((least, _)) = c.freeboard {
                rows.push(("least freeboard then".into(), units.show(least)));
            }
            if let Some(draft) = c.draft {
                rows.push(("draft then".into(), units.show(draft)));
            }
        }
        rows.push(("persons, by the safe-loading rule".into(), a.capacity.persons.to_string()));
        if let Some(hp) = a.capacity.horsepower {
            rows.push(("motor at most, by the same rule".into(), format!("{hp} hp")));
        }
    }
    if model.hull.motor.fitted {
        rows.push((
            "motor that she is drawn for".into(),
            format!("{} hp", model.hull.motor.power_hp),
        ));
    }
    out.push(figures(rows));
    out.push(Block::heading(2, "What she is built of"));
    out.push(Block::Table(skin(of)));
    out.push(Block::Table(sticks(of)));
    out.push(Block::heading(2, "What was found"));
    out.extend(findings(of));
    out
}

fn skin(of: &Of) -> Table {
    let units = of.units();
    let mut t = Table::of(&["panel", "sheet", ">measured", "how many", ">tightest radius"]);
    for p in &of.model.panels {
        let radius = match p.bend.radius.is_finite() {
            true => units.radius(p.bend.radius),
            false => "flat".into(),
        };
        let count = if p.full_width { "one over both sides" } else { "one a side" };
        t.row([p.name.clone(), p.sheet.clone(), units.gauge(p.thickness), count.into(), radius]);
    }
    t
}

fn sticks(of: &Of) -> Table {
    let (model, units) = (of.model, of.units());
    let mut t = Table::of(&["stick", "wood", ">section", ">length", "bent"]);
    for (i, b) in model.members.iter().enumerate() {
        let length = model.run_of(i).map_or(b.length, |run| run.length);
        t.row(row(b, length, of));
    }
    let framing = &model.hull.framing;
    t.row([
        "frames".into(),
        framing.species.clone(),
        format!("{} thick", units.fine(framing.sided_mm)),
        String::new(),
        "sawn".into(),
    ]);
    t
}

fn row(b: &BentMember, length: f64, of: &Of) -> [String; 5] {
    let (m, units) = (&b.member, of.units());
    let way =
        b.advice.recommended.map_or("by no way".into(), |w| crate::words::bend::method(w).into());
    let count = if m.sticks() > 1 { ", a pair" } else { "" };
    [
        format!("{}{count}", m.name),
        m.species.clone(),
        units.section(m.moulded_mm, m.sided_mm),
        units.show(length),
        way,
    ]
}

/// Every finding with what to do about it, the gravest first.
fn findings(of: &Of) -> Vec<Block> {
    let of_stock = of.list.map_or(&[][..], |l| &l.findings);
    let all: Vec<&Finding> = of.model.findings.iter().chain(of_stock).collect();
    if all.is_empty() {
        return vec![Block::words("Nothing stands against her.")];
    }
    let mut out = Vec::new();
    for (severity, words) in [
        (Severity::Stop, "She is not to be built before these are mended:"),
        (Severity::Watch, "To be watched:"),
        (Severity::Note, "To be known:"),
    ] {
        let own = all.iter().filter(|f| f.severity == severity);
        let items: Vec<Text> = own
            .map(|f| {
                let said = said(f, of.units());
                Text::bold(format!("{}: ", capital(&said.place)))
                    .and(format!("{}. ", said.message.trim_end_matches('.')))
                    .and(format!("{}.", capital(said.hint.trim_end_matches('.'))))
            })
            .collect();
        if !items.is_empty() {
            out.push(Block::words(Text::bold(words)));
            out.push(Block::List(items));
        }
    }
    out
}
