//! Bones, how all frames are made: their boards, depths, joints, the bottom's fall and battens.

use bevy_egui::egui::{FontId, RichText, Ui};

use crate::hull::battens::{Battens, MOST_BATTENS};
use crate::hull::edit::Edit;
use crate::hull::{DrainWedge, Edges, Framing, GlueGroove, Joint};
use crate::units::{Units, parse_length};
use crate::viewer::session::Command;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::choice;
use crate::viewer::ui::widgets::fields::{typed, typed_beside, typed_thickness};

/// The usual fall of a flat bottom: 1 in over 14 in. Common practice, no source.
const USUAL_FALL: f64 = 1.0 / 14.0;
/// The same as a wedge: 1 in over 14 in.
const USUAL_WEDGE: DrainWedge = DrainWedge { height_mm: 25.4, length_mm: 355.6 };

/// Shows what can be set.
pub fn show(ui: &mut Ui, context: &mut Context) {
    ui.label(RichText::new("How they are made").font(FontId::new(size::BODY, semibold())));
    let now = context.session.hull().framing.clone();
    let mut next = now.clone();
    for (key, label, value) in [
        ("sided", "sided", &mut next.sided_mm),
        ("bottom depth", "bottom, least", &mut next.bottom_depth_mm),
        ("side depth", "side, least", &mut next.side_depth_mm),
        ("clearance", "notch clearance", &mut next.notch_clearance_mm),
        ("limber", "limber radius", &mut next.limber_mm),
        ("gusset", "gusset", &mut next.gusset_mm),
        ("spall", "spall width", &mut next.spall_width_mm),
    ] {
        if let Some(v) = typed_thickness(ui, context, &format!("framing {key}"), label, *value) {
            *value = v;
        }
    }
    boards(ui, context, &mut next);
    let joints = [(Joint::Gusset, "under gussets"), (Joint::Lap, "lapped")];
    let word = |j: Joint| joints.iter().find(|(k, _)| *k == j).map_or("", |(_, w)| *w);
    ui.label(RichText::new("joints at the chines").size(size::SMALL));
    choice(ui, "joint", 200.0, word(now.joint), |ui| {
        for (joint, word) in joints {
            ui.selectable_value(&mut next.joint, joint, word);
        }
    });
    let mut straight = now.edges == Edges::Straight;
    if ui.checkbox(&mut straight, "all edges straight, gaps accepted").changed() {
        next.edges = if straight { Edges::Straight } else { Edges::Shaped };
    }
    let mut falls = now.drain_slope > 0.0 || now.drain_wedge.is_some();
    let fall = ui.checkbox(&mut falls, "bottom falls to the keelson, to drain");
    if fall.on_hover_text("A flat bottom becomes a shallow V of two sheets: about 1 in over 14 in is common practice (no source)").changed() {
        next.drain_slope = if falls { USUAL_FALL } else { 0.0 };
        next.drain_wedge = None;
    }
    if now.drain_slope > 0.0 {
        let shown = format!("1 in {:.1}", 1.0 / now.drain_slope);
        let parse = |t: &str| {
            let body = t.trim().trim_start_matches("1 in").trim();
            let wrong =
                || format!("{t:?} is no slope; accepted: 1 in 4 to 1 in 200, as 14 or 1 in 14");
            body.parse::<f64>()
                .ok()
                .filter(|n| (4.0..=200.0).contains(n))
                .map(|n| 1.0 / n)
                .ok_or_else(wrong)
        };
        if let Some(v) = typed(ui, context, "fall", "fall", &shown, parse) {
            next.drain_slope = v;
        }
    }
    wedge(ui, context, &now, &mut next);
    battens(ui, context, &now, &mut next);
    let mut groove = now.glue_groove.is_some();
    if ui.checkbox(&mut groove, "glue grooves in the faces of their joints").changed() {
        next.glue_groove = groove.then_some(GlueGroove { width_mm: 6.0, depth_mm: 3.0 });
    }
    if next != now {
        context.ask(Command::Edit(Edit::SetFraming(Box::new(next), "how they are made")));
    }
}

/// What frames are sawn from: the species, and the widths of board that can be had.
fn boards(ui: &mut Ui, context: &mut Context, next: &mut Framing) {
    let units = context.session.hull().units;
    if let Some(model) = context.model {
        ui.label(RichText::new("species of the frames").size(size::SMALL));
        choice(ui, "frames' species", 200.0, &next.species.clone(), |ui| {
            for w in &model.materials.woods {
                ui.selectable_value(&mut next.species, w.name.clone(), &w.name)
                    .on_hover_text(&w.source);
            }
        });
    }
    let bare = if units.imperial() { Units::Inch } else { Units::Mm };
    let one = |mm: &f64| if units.imperial() { units.fine(*mm) } else { format!("{mm:.0}") };
    let shown = next.widths_mm.iter().map(one).collect::<Vec<_>>().join(", ");
    let parse = |t: &str| {
        let all = t.split([',', ';']).map(str::trim).filter(|w| !w.is_empty());
        let mut widths =
            all.map(|w| parse_length(w, bare)).collect::<Result<Vec<f64>, String>>()?;
        widths.sort_by(f64::total_cmp);
        widths.dedup();
        match widths.is_empty() {
            true => Err("no width is named; accepted: widths with commas between".to_string()),
            false => Ok(widths),
        }
    };
    // A list wants the card's whole breadth.
    let label = ("boards' widths", f32::INFINITY);
    if let (Some(widths), _) = typed_beside(ui, context, "board widths", label, &shown, parse) {
        next.widths_mm = widths;
    }
}

/// The fall as a wedge of one height under every frame.
fn wedge(ui: &mut Ui, context: &mut Context, now: &Framing, next: &mut Framing) {
    let mut wedged = now.drain_wedge.is_some();
    let choice = ui.checkbox(&mut wedged, "the fall as a wedge of one height");
    let words = "Every frame's bottom falls by the same height to the keelson where it is wider than the wedge is long; by the wedge's slope where it is narrower";
    let words =
        format!("{words}. Her flat bottom becomes a shallow V: rocker and depth change with it");
    if choice.on_hover_text(words).changed() {
        next.drain_wedge = wedged.then_some(USUAL_WEDGE);
        next.drain_slope = if wedged { 0.0 } else { USUAL_FALL };
    }
    let Some(mut shape) = now.drain_wedge else {
        return;
    };
    if let Some(v) = typed_thickness(ui, context, "wedge high", "at keelson", shape.height_mm) {
        shape.height_mm = v;
        next.drain_wedge = Some(shape);
    }
    if let Some(v) = typed_thickness(ui, context, "wedge long", "its length", shape.length_mm) {
        shape.length_mm = v;
        next.drain_wedge = Some(shape);
    }
}

/// Battens along the bottom, by their number a side.
fn battens(ui: &mut Ui, context: &mut Context, now: &Framing, next: &mut Framing) {
    let mut wanted = now.battens.is_some();
    if ui.checkbox(&mut wanted, "battens along the bottom").changed() {
        next.battens = wanted.then(Battens::default);
    }
    let Some(battens) = &now.battens else {
        return;
    };
    let shown = battens.count.to_string();
    let count = typed(ui, context, "battens", "battens a side", &shown, |t| {
        let wrong = || format!("{t:?} is no number of battens; accepted: 1 to {MOST_BATTENS}");
        let most = MOST_BATTENS as f64;
        t.trim().parse::<f64>().ok().filter(|n| (1.0..=most).contains(n)).ok_or_else(wrong)
    });
    if let Some(n) = count {
        next.battens = Some(Battens { count: n.round() as usize, ..battens.clone() });
    }
}
