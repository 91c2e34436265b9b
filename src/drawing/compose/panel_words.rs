//! What is written on a panel's pattern and in its block of notes.

use super::panel::LEAST_LAP;
use super::{LARGE, SMALL};
use super::{Line, panel_joints};
use crate::drawing::{Anchor, Drawing};
use crate::flat::laps::Role;
use crate::geom::{P2, V2};
use crate::model::{Model, PanelModel};
use crate::stock::joints::PlacedJoint;
use crate::units::Units;
use crate::words::bevels;
use crate::words::stock::{joint_bends, joint_made};

/// The sentences of the block.
pub(super) fn notes(
    d: &mut Drawing,
    model: &Model,
    p: &PanelModel,
    joints: &[PlacedJoint],
    units: Units,
) {
    d.note(if p.full_width {
        "Cut one. This face goes inside."
    } else {
        "Cut two, one of them turned over. This face goes inside on starboard."
    });
    let allowance = model.hull.planking.trim_allowance_mm;
    d.note(if allowance > 0.0 {
        format!(
            "Cut on the heavy line; plane to the dash-dot line, {} inside it.",
            units.show(allowance)
        )
    } else {
        "Cut on the heavy line.".into()
    });
    d.note(format!(
        "Edges along the hull's lines, laps not counted: {}.",
        edge_words(model, p, units)
    ));
    d.note(format!("Check before you cut: {}.", taped(p, units)));
    for words in joined(model, p, joints, units) {
        d.note(words);
    }
    let laps = lap_words(model, p, units);
    if !laps.is_empty() {
        d.note(format!("Laps: {laps}."));
    }
    d.note(format!("The pattern is that of the sheet's {}.", p.pattern_surface.word()));
    d.note(if p.grain_across {
        "Face grain runs across the panel, as the double arrow shows."
    } else {
        "Face grain runs along the panel, as the double arrow shows."
    });
}

/// The diagonals with their letters and lengths.
fn taped(p: &PanelModel, units: Units) -> String {
    let each = super::panel::diagonals(p)
        .into_iter()
        .map(|c| format!("{} to {} {}", c.from, c.to, units.show((c.b - c.a).norm())));
    each.collect::<Vec<_>>().join(", ")
}

/// Where a panel is joined; that it is larger than its sheet, where its joints are not known.
pub(super) fn joined(
    model: &Model,
    p: &PanelModel,
    joints: &[PlacedJoint],
    units: Units,
) -> Vec<String> {
    if joints.is_empty() {
        return longer_than_sheet(model, p, units).into_iter().collect();
    }
    let several = joints.len() > 1;
    let name = |i: usize| if several { format!("Joint {}", i + 1) } else { "Joint".to_string() };
    let of = |(i, j): (usize, &PlacedJoint)| {
        let taped = panel_joints::taped(model, p, j, units);
        let (made, bends) = (joint_made(j, units), joint_bends(j, units));
        format!("{}: {made}{taped}; {bends}.", name(i))
    };
    joints.iter().enumerate().map(of).collect()
}

/// That a panel is larger than its sheet, where it is: sheets are joined first.
fn longer_than_sheet(model: &Model, p: &PanelModel, units: Units) -> Option<String> {
    let sheet = model.materials.sheet(&p.sheet)?;
    let outline = p.finished_outline();
    let extent = |of: fn(&P2) -> f64| {
        let (low, high) = outline
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        high - low
    };
    let (long, wide) = (extent(|q| q.x), extent(|q| q.y));
    let fits = long <= sheet.length_mm && wide <= sheet.width_mm;
    (!fits).then(|| {
        format!(
            "Larger than a sheet ({} by {}, a sheet {} by {}): join sheets first, clear of frames and tight bends; joints are not drawn.",
            units.show(long),
            units.show(wide),
            units.show(sheet.length_mm),
            units.show(sheet.width_mm)
        )
    })
}

/// Lengths of the edges; a bow that ends in a point has none.
fn edge_words(model: &Model, p: &PanelModel, units: Units) -> String {
    let lower = model.line_below(p).to_string();
    let upper = model.line_above(p).to_string();
    [
        (lower.as_str(), p.edges.lower),
        (upper.as_str(), p.edges.upper),
        ("bow", p.edges.bow),
        ("stern", p.edges.stern),
    ]
    .into_iter()
    .filter(|(_, length)| *length > 0.5)
    .map(|(name, length)| format!("{name} {}", units.show(length)))
    .collect::<Vec<_>>()
    .join(", ")
}

/// What each long edge does, and its bevel from square.
fn lap_words(model: &Model, p: &PanelModel, units: Units) -> String {
    let mut words = Vec::new();
    for (edge, line) in [(&p.laps.lower, model.line_below(p)), (&p.laps.upper, model.line_above(p))]
    {
        if edge.role != Role::RunsOn {
            let bevels = bevels::along(&edge.off_far_face(p.thickness), units);
            let said: Vec<String> = bevels.into_iter().map(|w| w.1).collect();
            words.push(format!(
                "{line} {}, bevel {}{}",
                edge.role.word(),
                said.join(" and "),
                if edge.most_added() > LEAST_LAP {
                    format!(", {} past the dashed line at most", units.fine(edge.most_added()))
                } else {
                    String::new()
                }
            ));
        }
    }
    words.join("; ")
}

/// The part's name, and which way is forward, up and inside, beside the edge that is cut: a
/// page without a cut line is not printed.
pub(super) fn on_the_part(d: &mut Drawing, model: &Model, p: &PanelModel) {
    let n = p.flat.rulings.len();
    let (before, middle, after) =
        (&p.flat.rulings[2 * n / 5], &p.flat.rulings[n / 2], &p.flat.rulings[3 * n / 5]);
    let edge = |r: &crate::flat::FlatRuling| if p.full_width { r.flat_upper } else { r.flat_lower };
    let Some(e) = (edge(after) - edge(before)).try_normalize(1e-9) else {
        return;
    };
    // Inward from the edge.
    let inward = if p.full_width { V2::new(e.y, -e.x) } else { V2::new(-e.y, e.x) };
    let angle = e.y.atan2(e.x);
    let at = |along: f64, deep: f64| edge(middle) + along * e + deep * inward;
    // A baseline lies at the lower side of its line of words.
    let row = |deep: f64, height: f64| if p.full_width { deep + height } else { deep };
    let name = format!("{} · {}", model.hull.name, p.name);
    d.text(Line::Text, at(-90.0, row(24.0, LARGE)), LARGE, angle, Anchor::Left, name);
    let inside = if p.full_width { "this face inside" } else { "this face inside on starboard" };
    d.text(Line::Text, at(-90.0, row(45.0, SMALL)), SMALL, angle, Anchor::Left, inside);
    d.arrow(Line::Check, at(-100.0, 28.0), at(-160.0, 28.0), 14.0);
    d.text(Line::Text, at(-160.0, row(33.0, SMALL)), SMALL, angle, Anchor::Left, "forward");
    if !p.full_width {
        d.arrow(Line::Check, at(-172.0, 16.0), at(-172.0, 66.0), 14.0);
        d.text(Line::Text, at(-168.0, 52.0), SMALL, angle, Anchor::Left, "up");
    }
    let (a, b): (P2, P2) = if p.grain_across {
        (at(110.0, 14.0), at(110.0, 74.0))
    } else {
        (at(90.0, 62.0), at(30.0, 62.0))
    };
    d.arrow(Line::Check, a, b, 12.0);
    d.arrow(Line::Check, b, a, 12.0);
    let beside = if p.grain_across { at(114.0, 50.0) } else { at(94.0, row(59.0, SMALL)) };
    d.text(Line::Text, beside, SMALL, angle, Anchor::Left, "face grain");
}
