//! What differs from the pinned or the last saved shape, in figures.

use bevy_egui::egui::{FontId, RichText, Ui};

use crate::model::compare::{Difference, Kind, differences};
use crate::units::Units;
use crate::viewer::session::Command;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;

/// A figure as a builder reads it.
pub fn shown(kind: Kind, value: Option<f64>, units: Units) -> String {
    let Some(v) = value else {
        return "none".into();
    };
    if !v.is_finite() {
        return "flat".into();
    }
    match kind {
        Kind::Length => units.show(v),
        Kind::Area => units.area(v),
        Kind::Angle => format!("{:.1}°", v.to_degrees()),
        Kind::Share => format!("{:.0} %", 100.0 * v),
    }
}

/// A row as it is read: then, now and the change; `None` where none of it shows in these units.
fn told(row: &Difference, units: Units) -> Option<String> {
    let [then, now] = [row.then, row.now].map(|v| shown(row.kind, v, units));
    if then == now {
        return None;
    }
    let none = shown(row.kind, Some(0.0), units);
    let change = row.change().filter(|c| c.is_finite()).and_then(|c| {
        let sign = if c > 0.0 { "+" } else { "−" };
        let much = shown(row.kind, Some(c.abs()), units);
        // Together, so that no unit stands alone in the next row.
        (much != none).then(|| format!(" ({sign}{})", much.replace(' ', "\u{a0}")))
    });
    Some(format!("{then}, now {now}{}", change.unwrap_or_default()))
}

/// Shows the table and the buttons that pin.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let pinned = context.session.pinned();
    let with = if pinned { "the pinned shape" } else { "the saved shape" };
    let head = format!("Compared with {with}");
    ui.label(RichText::new(head).font(FontId::new(size::BODY, semibold())));
    let (word, command) =
        if pinned { ("Unpin", Command::Unpin) } else { ("Pin this shape", Command::Pin) };
    if ui.small_button(word).on_hover_text("Ctrl D").clicked() {
        context.ask(command);
    }
    let (Some(now), Some(then)) = (context.model, context.ghost) else {
        return;
    };
    let units = context.session.hull().units;
    let rows = differences(then, now);
    let rows: Vec<(&str, String)> =
        rows.iter().filter_map(|r| Some((r.what.as_str(), told(r, units)?))).collect();
    if rows.is_empty() {
        ui.label(RichText::new("Nothing differs.").size(size::SMALL).color(tokens.soft));
        return;
    }
    let heads = "then, now (and the change)";
    ui.label(RichText::new(heads).size(size::SMALL).color(tokens.soft));
    for (what, text) in rows {
        widgets::figure(ui, tokens, what, text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_that_does_not_show_is_none() {
        let row = |then: f64, now: f64| Difference {
            what: "length".into(),
            kind: Kind::Length,
            then: Some(then),
            now: Some(now),
        };
        assert_eq!(told(&row(1000.0, 999.9), Units::FeetInchesEighths), None);
        let told = told(&row(1000.0, 1010.0), Units::Mm).expect("a change");
        assert_eq!(told, "1000 mm, now 1010 mm (+10\u{a0}mm)");
    }
}
