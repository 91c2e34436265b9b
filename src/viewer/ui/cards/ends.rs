//! Bones, the ends: transom with its motor, and stem.

use bevy_egui::egui::{FontId, RichText, Sense, Ui};

use crate::frames::{Stem, Transom};
use crate::hull::edit::Edit;
use crate::hull::{Shaft, StemSides};
use crate::model::Model;
use crate::report::text::{bevel_run, motor_caution};
use crate::units::half_degrees;
use crate::viewer::session::Command;
use crate::viewer::state::{AtEnd, PartId};
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::typed_thickness;
use crate::viewer::ui::widgets::{choice, figure, link};
use crate::words::capital;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let work = &model.woodwork;
    for (name, piece, t) in [
        ("transom", PartId::Transom(AtEnd::Stern), &work.transom),
        ("bow transom", PartId::Transom(AtEnd::Bow), &work.bow_transom),
    ] {
        if let Some(t) = t {
            transom(ui, context, model, name, piece, t);
        }
    }
    if work.transom.is_some() {
        motor(ui, context, model);
    }
    for (name, piece, s) in [
        ("stem", PartId::Stem(AtEnd::Bow), &work.stem),
        ("sternpost", PartId::Stem(AtEnd::Stern), &work.sternpost),
    ] {
        if let Some(s) = s {
            ui.separator();
            stem(ui, context, name, piece, s);
        }
    }
    widgets::sources(
        ui,
        context.tokens,
        &[
            "Shaft lengths: nominal 15, 20 and 25 in from seat to plate (dealers' tables).",
            "Rake of 4 to 20°, clamps of 35 to 50 mm, wood beside a cut-out and behind a bevel: common practice, no source.",
        ],
    );
}

fn title(ui: &mut Ui, context: &mut Context, name: &str, piece: PartId) -> bool {
    let mut look = false;
    let response = ui
        .horizontal(|ui| {
            ui.label(RichText::new(capital(name)).font(FontId::new(size::BODY, semibold())));
            look = link(ui, context.tokens, "look at it").clicked();
        })
        .response
        .interact(Sense::hover());
    if response.hovered() {
        context.state.point_at(piece);
    }
    look
}

fn transom(
    ui: &mut Ui,
    context: &mut Context,
    model: &Model,
    name: &str,
    piece: PartId,
    t: &Transom,
) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    if title(ui, context, name, piece) {
        let middle = t.across.space(crate::geom::P2::new(0.0, 0.6 * t.top));
        context.look_at(middle, t.across.plane.normal);
        context.state.selection.held = Some(piece);
    }
    figure(ui, tokens, "wide, in its own plane", units.show(t.width()));
    figure(ui, tokens, "high, up its slope", units.show(t.height()));
    figure(ui, tokens, "rake", half_degrees(t.rake));
    let face = if t.outside_larger { "outer face" } else { "inner face" };
    figure(ui, tokens, "the pattern is its", face);
    for (panel, _) in &t.crowns {
        if let Some(run) = bevel_run(&t.bevels, *panel, units) {
            figure(ui, tokens, &format!("bevel, {}", model.panels[*panel].name), run);
        }
    }
    let now = context.session.hull().transom.clone();
    let mut next = now.clone();
    if piece == PartId::Transom(AtEnd::Stern) || model.woodwork.transom.is_none() {
        for (label, value) in [
            ("thickness", &mut next.thickness_mm),
            ("framing width", &mut next.framing_width_mm),
            ("framing depth", &mut next.framing_thickness_mm),
            ("crown", &mut next.crown_mm),
        ] {
            let key = format!("transom {label}");
            if let Some(v) = typed_thickness(ui, context, &key, label, *value) {
                *value = v;
            }
        }
    }
    if next != now {
        context.ask(Command::Edit(Edit::SetTransom(next)));
    }
}

/// The motor: its leg, the cut-out and the pad.
fn motor(ui: &mut Ui, context: &mut Context, model: &Model) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    ui.separator();
    ui.label(RichText::new("Motor").font(FontId::new(size::BODY, semibold())));
    let now = context.session.hull().motor.clone();
    let mut next = now.clone();
    ui.checkbox(&mut next.fitted, "an outboard hangs on the transom");
    if now.fitted {
        choice(ui, "shaft", 200.0, now.shaft.word(), |ui| {
            for shaft in Shaft::ALL {
                ui.selectable_value(&mut next.shaft, shaft, shaft.word());
            }
        });
        if let Some(c) = model.woodwork.transom.as_ref().and_then(|t| t.cut_out) {
            figure(ui, tokens, "seat above the bottom", units.show(c.seat - c.bottom));
            let (name, depth) = if c.depth >= 0.0 {
                ("cut-out below the top", c.depth)
            } else {
                ("too low by", -c.depth)
            };
            figure(ui, tokens, name, units.show(depth));
            figure(ui, tokens, "pad, inside", units.fine(c.pad_thickness));
        }
        if let Some(k) = &model.woodwork.knee {
            let arms = format!("{} up, {} along", units.show(k.height), units.show(k.arm));
            figure(ui, tokens, "knee", arms);
        }
        if let Some(check) = crate::model::motor::check(model) {
            figure(ui, tokens, "carries up to", format!("{:.1} hp", check.holds_up_to));
        }
        for (label, value) in [
            ("cut-out width", &mut next.cut_out_mm),
            ("plate above", &mut next.plate_above_mm),
            ("clamps hold", &mut next.clamped_mm),
            ("pad width", &mut next.pad_width_mm),
        ] {
            let key = format!("motor {label}");
            if let Some(v) = typed_thickness(ui, context, &key, label, *value) {
                *value = v;
            }
        }
        let caution = RichText::new(motor_caution()).size(size::SMALL).color(tokens.watch);
        ui.label(caution);
    }
    if next != now {
        context.ask(Command::Edit(Edit::SetMotor(next)));
    }
}

fn stem(ui: &mut Ui, context: &mut Context, name: &str, piece: PartId, s: &Stem) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    if title(ui, context, name, piece) {
        let middle = s.profile[s.profile.len() / 2];
        let at = crate::geom::P3::new(middle.x, 0.0, middle.y);
        context.look_at(at, crate::geom::V3::new(if s.at_stern { 1.0 } else { -1.0 }, 0.6, 0.2));
        context.state.selection.held = Some(piece);
    }
    figure(ui, tokens, "length", units.show(s.length));
    figure(
        ui,
        tokens,
        "from a board",
        format!("{} x {}", units.show(s.board_width), units.show(s.board_length)),
    );
    for b in &s.bevels {
        figure(
            ui,
            tokens,
            &format!("half angle, {} up", units.show(b.at.y)),
            format!("{} · {} land", half_degrees(b.half_angle), units.fine(b.land)),
        );
    }
    let now = context.session.hull().stem.clone();
    let mut next = now.clone();
    if let Some(o) = &s.outer {
        let planed = o.sections.iter().map(|c| c.planed).fold(0.0, f64::max);
        figure(ui, tokens, "flat, behind the line", format!("up to {}", units.fine(planed)));
        figure(
            ui,
            tokens,
            &format!("outer {name} from a board"),
            format!("{} x {}", units.show(o.board_width), units.show(o.board_length)),
        );
    }
    if piece == PartId::Stem(AtEnd::Bow) || context.model.is_some_and(|m| m.woodwork.stem.is_none())
    {
        choice(ui, "sides at the stem", 200.0, now.sides.word(), |ui| {
            for sides in StemSides::ALL {
                ui.selectable_value(&mut next.sides, sides, sides.word());
            }
        });
        for (label, value) in [
            ("sided", &mut next.sided_mm),
            ("moulded", &mut next.moulded_mm),
            ("spare length at the head", &mut next.over_mm),
            ("outer sided", &mut next.outer_sided_mm),
            ("outer moulded", &mut next.outer_moulded_mm),
            ("outer front", &mut next.outer_front_mm),
        ] {
            let key = format!("stem {label}");
            if let Some(v) = typed_thickness(ui, context, &key, label, *value) {
                *value = v;
            }
        }
    }
    if next != now {
        context.ask(Command::Edit(Edit::SetStem(next)));
    }
}
