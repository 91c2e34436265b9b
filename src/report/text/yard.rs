//! Only what the yard has, told: what changes, what it does to cost, weight, freeboard and
//! bends, and why cheaper boats fell.

use std::fmt::Write as _;

use super::paragraph;
use crate::model::Model;
use crate::model::stock::Cost;
use crate::model::stock::yard::{Answer, Found};
use crate::units::Units;
use crate::words::bend::method;
use crate::words::finding::said;
use crate::words::stock::so_many;
use crate::words::yard as words;

/// Reasons that are told; the rest are counted.
const MOST_REASONS: usize = 12;

/// The whole answer.
pub fn yard(found: &Found, units: Units) -> String {
    let mut out = String::new();
    let before = &found.before.0;
    let title = format!("{}: only what the yard has", before.hull.name);
    let _ = writeln!(out, "{title}\n{}\n", "=".repeat(title.chars().count()));
    paragraph(&mut out, "", &format!("{}.", words::ended(found)));
    paragraph(&mut out, "", &format!("{}.", words::as_she_is(found, units)));
    out.push('\n');
    match &found.answer {
        Some(answer) => {
            changes(&mut out, answer, &before.hull.stock.currency, units);
            beside(&mut out, found, answer, units);
            bends(&mut out, before, &answer.model, units);
        }
        None => {
            if let Some(f) = &found.stop {
                let said = said(f, units);
                let words =
                    format!("Whatever is chosen, {}: {}; {}", said.place, said.message, said.hint);
                paragraph(&mut out, "", &words);
                out.push('\n');
            }
        }
    }
    fallen(&mut out, found, units);
    rest(&mut out, found, units);
    out
}

fn changes(out: &mut String, answer: &Answer, currency: &str, units: Units) {
    out.push_str("What changes\n");
    if answer.changes.is_empty() {
        out.push_str("    nothing: as she is she is the cheapest\n");
    }
    for (i, c) in answer.changes.iter().enumerate() {
        let why = answer.because.get(i).and_then(Option::as_ref);
        let why =
            why.map_or(String::new(), |b| format!(": {}", words::because(b, currency, units)));
        paragraph(out, "    ", &format!("{}{why}", words::change(c, units)));
    }
    for b in &answer.besides {
        paragraph(out, "    ", &format!("not on the list: {}", words::besides(b, units)));
    }
    out.push('\n');
}

/// A figure of the boat as she is and as she is then.
fn row(out: &mut String, what: &str, then: &str, now: &str) {
    let _ = writeln!(out, "    {what:<24} {then:<30} {now}");
}

fn beside(out: &mut String, found: &Found, answer: &Answer, units: Units) {
    let (before, list) = &found.before;
    let currency = &before.hull.stock.currency;
    row(out, "", "as she is", "then");
    let costs = [&list.cost, &answer.list.cost];
    let [then, now] = costs.map(|c| cost(c, currency));
    row(out, "cost", &then, &now);
    for off in words::off_the_lists(found, units) {
        paragraph(out, "    ", &format!("as she is, without the price of {off}"));
    }
    let sum = |p: Option<f64>| p.map_or("not known".into(), |p| format!("{p:.2}"));
    let [then, now] = costs.map(|c| c.parts().map(sum).join(", "));
    row(out, "  sheets, lumber, stores", &then, &now);
    row(out, "weight", &units.mass(list.mass), &units.mass(answer.list.mass));
    let freeboard = |m: &Model| {
        let case = m.afloat.as_deref().and_then(|a| a.full()).and_then(|c| c.freeboard);
        case.map_or("none".into(), |f| units.show(f.0))
    };
    row(out, "freeboard, all aboard", &freeboard(before), &freeboard(&answer.model));
    out.push('\n');
}

fn cost(c: &Cost, currency: &str) -> String {
    let known = format!("{:.2} {currency}", c.known());
    match c.unpriced {
        0 => known,
        n if c.parts().iter().all(|p| p.is_none_or(|p| p == 0.0)) => {
            format!("not known, {n} without price")
        }
        n => format!("{} and {n} without price", known.trim_end()),
    }
}

fn bends(out: &mut String, before: &Model, after: &Model, units: Units) {
    out.push_str("Bends: tightest radius and what the sheet takes; share of breaking and how\n");
    let panel = |m: &Model, name: &str| {
        let of = m.panels.iter().find(|p| p.name == name).map(|p| &p.bend);
        of.map_or(String::new(), |b| match b.radius.is_finite() {
            true => format!("{}, {}", units.radius(b.radius), units.radius(b.least_radius)),
            false => "flat".into(),
        })
    };
    for p in &after.panels {
        row(out, &p.name, &panel(before, &p.name), &panel(after, &p.name));
    }
    let stick = |m: &Model, name: &str| {
        let of = m.members.iter().find(|b| b.member.name == name);
        of.map_or(String::new(), |b| {
            let how = b.advice.recommended.map_or("no way", method);
            format!("{:.0} %, {how}", 100.0 * b.utilisation)
        })
    };
    for b in &after.members {
        let name = &b.member.name;
        row(out, name, &stick(before, name), &stick(after, name));
    }
    out.push('\n');
}

fn fallen(out: &mut String, found: &Found, units: Units) {
    if found.fallen.is_empty() {
        return;
    }
    out.push_str("Why others fell; one may fall for several reasons\n");
    for f in found.fallen.iter().take(MOST_REASONS) {
        let boats = usize::try_from(f.boats).unwrap_or(usize::MAX);
        let boats = so_many(boats, "boat", "boats");
        let which =
            words::family(&f.family, units).map_or(boats.clone(), |w| format!("{w} ({boats})"));
        let least = f.at_least.map_or(String::new(), |c| {
            format!(", {c:.2} {} or more", found.before.0.hull.stock.currency).trim_end().into()
        });
        paragraph(out, "    ", &format!("{which}{least}: {}", words::why(&f.why, units)));
    }
    if found.fallen.len() > MOST_REASONS {
        let _ = writeln!(out, "    and for {} reasons more", found.fallen.len() - MOST_REASONS);
    }
    out.push('\n');
}

fn rest(out: &mut String, found: &Found, units: Units) {
    let choices = &found.choices;
    for (name, why) in &choices.glues_out {
        paragraph(out, "", &format!("Glue left out, {name}: {}.", words::glue_out(why, units)));
    }
    for name in &choices.unknown_sheets {
        let words = format!(
            "Sheet left out, {name}: no table has it and no panel of hers is measured in it."
        );
        paragraph(out, "", &words);
    }
    if !found.suffered.is_empty() {
        out.push_str("Warnings that no choice takes away, borne with as they are\n");
        for f in &found.suffered {
            let said = said(f, units);
            paragraph(out, "    ", &format!("{}: {}", said.place, said.message));
        }
    }
}
