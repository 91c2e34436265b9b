//! Bones: how far the skin is pressed in between its supports.

use super::Model;
use crate::finding::Finding;
use crate::frames::Bay;
use crate::geom::P3;
use crate::part::{PanelId, PartId, Question};

/// The worst bay, and the worst that may snap through.
pub(super) fn spacing(model: &Model, out: &mut Vec<Finding>) {
    let bays = &model.woodwork.bays;
    let worst = |of: &dyn Fn(&Bay) -> bool| {
        bays.iter().filter(|b| of(b)).reduce(|w, b| if b.worse_than(w) { b } else { w })
    };
    if let Some(b) = worst(&|b| !b.holds()) {
        let Some(severity) = b.gravity() else {
            return;
        };
        let others = bays.iter().filter(|o| o.gravity() >= Some(severity)).count() - 1;
        let more = match others {
            0 => String::new(),
            1 => "; one more bay is as bad".into(),
            n => format!("; {n} more bays are as bad"),
        };
        let hint = format!("{}; this is advice, not a rule of strength", advice(model, b));
        out.push(
            Finding::new(severity, Question::Bones, place(model, b), sags(model, b) + &more, hint)
                .about(panel(b))
                .at(middle(model, b)),
        );
    }
    // What may snap is worth its own word where something else is worse.
    let units = model.hull.units;
    let snapping = worst(&Bay::may_snap);
    if let Some(b) = snapping
        && let Some([most, _]) = b.snaps
    {
        out.push(Finding::watch(
            Question::Bones,
            place(model, b),
            format!(
                "curved towards the water it stands in compression and would snap through at {}; {} are looked for",
                units.pressure(most),
                units.pressure(b.worst_pressure())
            ),
            "closer frames, battens or a thicker sheet: a thin curved panel gives way with a bang, at half the figure if its curve is not true",
        )
        .about(panel(b))
        .at(middle(model, b)));
    }
}

fn panel(b: &Bay) -> PartId {
    PartId::Panel(PanelId(b.panel))
}

/// The middle of the bay, halfway up its panel.
fn middle(model: &Model, b: &Bay) -> Option<P3> {
    let x = 0.5 * (b.from + b.to);
    let [low, high] = [0, 1].map(|up| {
        let line = &model.lines.lines[model.panels[b.panel].lower_line + up].spline;
        line.parameter_at_x(x).map(|t| line.at(t))
    });
    Some(low? + 0.5 * (high? - low?))
}

fn place(model: &Model, b: &Bay) -> String {
    let units = model.hull.units;
    format!(
        "{} between {} and {} aft",
        model.panels[b.panel].name,
        units.show(b.from),
        units.show(b.to)
    )
}

/// How far it is pressed in, and by what.
fn sags(model: &Model, b: &Bay) -> String {
    let units = model.hull.units;
    // The formula is for sags that are small beside the span.
    let about = if b.sag > b.span {
        "more than its own span".to_string()
    } else {
        format!("about {}", units.fine(b.sag))
    };
    let mut text = format!(
        "unsupported over {} it would sag {} under {} (pressed down to her sheer); {} is felt underfoot",
        units.show(b.span),
        about,
        units.pressure(b.pressure),
        units.fine(b.allowed)
    );
    if let Some(s) = b.slam.filter(|s| s.sag > b.sag) {
        text += &format!(
            "; a slam of {} presses it in by {}",
            units.pressure(s.pressure),
            units.fine(s.sag)
        );
    }
    text
}

/// What would hold.
fn advice(model: &Model, b: &Bay) -> String {
    let units = model.hull.units;
    let mut ways = Vec::new();
    if let Some(n) = b.battens_wanted {
        ways.push(match n {
            1 => "one batten a side along the bottom".into(),
            n => format!("{n} battens a side along the bottom"),
        });
    }
    if let Some(l) = b.longest {
        ways.push(format!("frames {} apart there", units.show(l)));
    }
    ways.push("a thicker sheet".into());
    ways.join(", or ")
}
