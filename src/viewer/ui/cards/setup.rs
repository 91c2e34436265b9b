//! Setup: the strongback, where every frame stands on it, and what was measured there.

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use crate::curve::View;
use crate::drawing::compose::jig_ends;
use crate::hull::edit::Edit;
use crate::hull::{Face, Lap, Measured, StrongbackPlan};
use crate::model::Model;
use crate::setup::sensitivity::OUT_BY_MM;
use crate::setup::{Stand, Strongback};
use crate::units::{half_degrees, parse_length};
use crate::viewer::session::Command;
use crate::viewer::state::PartId;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::{typed, typed_length};
use crate::viewer::ui::widgets::figure;
use crate::words::capital;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let Some(jig) = &model.woodwork.strongback else {
        ui.label("No frame can be stood on a strongback yet: set stations in Bones, and a level line that crosses the frames.");
        plan(ui, context);
        return;
    };
    figure(ui, tokens, "level line, above the floor", units.show(jig.above_floor(jig.level)));
    figure(
        ui,
        tokens,
        "legs, the level line up them",
        format!("{}, {}", units.show(jig.leg_length), units.show(jig.level_on_legs)),
    );
    figure(ui, tokens, "both diagonals of the rails", units.show(jig.rail_diagonal));
    ui.add_space(size::GAP);
    widgets::head(ui, tokens, "may be out by");
    for (i, f) in model.woodwork.frames.iter().enumerate() {
        if let Some(stand) = jig.stands.iter().find(|s| s.station == f.station) {
            row(ui, context, model, i, stand);
        }
    }
    let chosen = model
        .woodwork
        .frames
        .get(context.state.selection.frame)
        .and_then(|f| jig.stands.iter().find(|s| s.station == f.station));
    if let Some(stand) = chosen.or(jig.stands.first()) {
        ui.separator();
        details(ui, context, model, stand);
        ui.separator();
        measured(ui, context, model, stand);
    }
    ui.separator();
    ends(ui, context, jig);
    ui.separator();
    plan(ui, context);
    ui.separator();
    laps(ui, context, model);
    cuts(ui, context, jig);
    let words = "Working under and round a hull on a jig: brace it before you climb, keep the floor clear, and lift her off with help.";
    ui.add_space(size::GAP);
    ui.label(RichText::new(format!("Caution: {words}")).size(size::SMALL).color(tokens.watch));
    widgets::sources(
        ui,
        tokens,
        &[
            "Heights and diagonals: the lines themselves and Pythagoras.",
            "How far out shows: a quarter of the batten's curvature at the frame or beside it, and never less than 1 mm (our judgement, no source).",
            "Posts 1.2 m apart, braces, overhangs: common practice, no source.",
        ],
    );
}

fn row(ui: &mut Ui, context: &mut Context, model: &Model, i: usize, s: &Stand) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let chosen = context.state.selection.frame == i;
    let lit = chosen || context.state.lit() == Some(PartId::frame(i));
    let frame = egui::Frame::new()
        .fill(if lit { tokens.lit } else { egui::Color32::TRANSPARENT })
        .corner_radius(8)
        .inner_margin(egui::Margin::symmetric(8, 3));
    let least = model.woodwork.least_allowed(s.station).map(|x| x.allowed);
    let response = frame
        .show(ui, |ui| {
            let name = format!("Frame {}", s.station);
            let text = format!("{} along · {} face", units.show(s.from_first), s.face.word());
            let least = least.map_or_else(String::new, |least| format!("± {}", units.fine(least)));
            let out = "how far out it may be before the skin shows it";
            widgets::list_row(ui, tokens, &name, &text, (&least, out));
        })
        .response
        .interact(Sense::click());
    widgets::row(ui, tokens, &response, &format!("frame {}", s.station), chosen);
    if response.hovered() || response.has_focus() {
        context.state.point_at(PartId::frame(i));
    }
    if response.clicked() {
        context.state.take_frame(i);
    }
}

/// Heights, diagonals and tolerances of the frame in hand.
fn details(ui: &mut Ui, context: &Context, model: &Model, s: &Stand) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    ui.label(
        RichText::new(format!("Standing frame {}", s.station))
            .font(FontId::new(size::BODY, semibold())),
    );
    let why = match s.face {
        Face::Aft => {
            "Its aft face, the larger, stands on the line; wood and legs ahead of it. So bevelling only removes wood."
        }
        Face::Fore => {
            "Its fore face, the larger, stands on the line; wood and legs aft of it. So bevelling only removes wood."
        }
    };
    ui.label(RichText::new(why).size(size::SMALL).color(tokens.soft));
    for c in &s.corners {
        figure(ui, tokens, &format!("{}, above the floor", c.line), units.show(c.above_floor));
        if c.half_breadth > 0.0 {
            figure(ui, tokens, &format!("{}, from the string", c.line), units.show(c.half_breadth));
        }
    }
    let bow = model.woodwork.strongback.as_ref().and_then(|j| {
        let e = j.ends.iter().find(|e| !e.end.at_stern())?;
        Some(format!("{}'s {} to spall ends", e.end.word(), e.end.head_word()))
    });
    let from_bow = bow.unwrap_or_else(|| "bow to spall ends".into());
    let d = &s.diagonals;
    for (name, length) in [
        ("chine to the far sheer", d.across),
        ("keel to either sheer", d.keel_to_sheer),
        (from_bow.as_str(), d.from_stem),
    ] {
        if let Some(l) = length {
            figure(ui, tokens, name, units.show(l));
        }
    }
    for x in model.woodwork.sensitivities.iter().filter(|x| x.station == s.station) {
        let way = if x.view == View::Plan { "sideways" } else { "up or down" };
        figure(ui, tokens, &format!("{} may be out {way}", x.line), units.fine(x.allowed));
    }
    let radius =
        |r: f64| if r.is_finite() { units.radius(r.abs()) } else { "straight".to_string() };
    if let Some(x) = model.woodwork.least_allowed(s.station) {
        let after = if x.radius_when_out < 0.0 {
            "a hollow".to_string()
        } else {
            format!("a radius of {}", radius(x.radius_when_out))
        };
        let text = format!(
            "Out by {} the {} goes from a radius of {} to {after}.",
            units.fine(OUT_BY_MM),
            x.line,
            radius(x.radius)
        );
        ui.label(RichText::new(text).size(size::SMALL).color(tokens.soft));
    }
}

/// Where the ends stand and what holds them.
fn ends(ui: &mut Ui, context: &Context, jig: &Strongback) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    for e in &jig.ends {
        let name = capital(e.end.word());
        ui.label(RichText::new(name).font(FontId::new(size::BODY, semibold())));
        let text = jig_ends::sentence(jig, e, units);
        ui.label(RichText::new(text).size(size::SMALL).color(tokens.soft));
        for c in &e.corners {
            let text = format!("{} and {}", units.show(c.near), units.show(c.far));
            let from = format!("{}, tapes from frame {}'s marks", c.place, e.taped_from);
            figure(ui, tokens, &from, text);
        }
    }
}

/// What was measured on the real jig, line by line, and what it changes.
fn measured(ui: &mut Ui, context: &mut Context, model: &Model, s: &Stand) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    ui.label(
        RichText::new(format!("Frame {} as it stands", s.station))
            .font(FontId::new(size::BODY, semibold())),
    );
    let words =
        "Type what your tape says; panels and notches are drawn again for the boat as she is.";
    ui.label(RichText::new(words).size(size::SMALL).color(tokens.soft));
    let now = context.session.hull().as_built.clone();
    let mut next = now.clone();
    for c in s.corners.iter().filter(|c| context.session.hull().line_of(c.line).is_some()) {
        let here = next.iter().position(|m| m.station == s.station && c.line.is(&m.line));
        let row = here.map(|i| next[i].clone()).unwrap_or(Measured {
            station: s.station,
            line: c.line.to_string(),
            above_floor_mm: None,
            half_breadth_mm: None,
        });
        let mut changed = row.clone();
        for (what, value) in
            [("height", &mut changed.above_floor_mm), ("out", &mut changed.half_breadth_mm)]
        {
            let shown = value.map_or("as drawn".to_string(), |v| units.show(v));
            let key = format!("measured {} {} {what}", s.station, c.line);
            let parse = |t: &str| match t.trim() {
                "" | "as drawn" => Ok(f64::NAN),
                t => parse_length(t, units),
            };
            let label = format!("{}, {what}", c.line);
            if let Some(v) = typed(ui, context, &key, &label, &shown, parse) {
                *value = v.is_finite().then_some(v);
            }
        }
        if changed != row {
            if let Some(i) = here {
                next.remove(i);
            }
            if changed.above_floor_mm.is_some() || changed.half_breadth_mm.is_some() {
                next.push(changed);
            }
        }
    }
    if next != now {
        context.ask(Command::Edit(Edit::SetMeasured(next)));
    }
    differences(ui, context, model);
}

/// As built against the drawing.
fn differences(ui: &mut Ui, context: &mut Context, model: &Model) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let Some(built) = &model.as_built else {
        return;
    };
    ui.label(RichText::new("As built, against the drawing").size(size::SMALL));
    for d in &built.deviations {
        figure(
            ui,
            tokens,
            &format!("frame {}, {}", d.station, d.line),
            format!("{} out, {} up", units.fine(d.out), units.fine(d.up)),
        );
    }
    for p in &built.panels {
        figure(ui, tokens, &format!("{}, outline moves by", p.name), units.fine(p.outline));
    }
    let moved = built.notches.iter().map(|n| n.shift[0].hypot(n.shift[1])).fold(0.0, f64::max);
    figure(ui, tokens, "notches move by at most", units.fine(moved));
    if ui.small_button("forget what was measured").clicked() {
        context.ask(Command::Edit(Edit::SetMeasured(Vec::new())));
    }
}

/// Rails, legs and level line.
fn plan(ui: &mut Ui, context: &mut Context) {
    let units = context.session.hull().units;
    let now = context.session.hull().strongback.clone();
    let mut next = now.clone();
    ui.label(RichText::new("The strongback").font(FontId::new(size::BODY, semibold())));
    for (label, value) in [
        ("rails' top", &mut next.rail_top_mm),
        ("rails apart", &mut next.rail_spacing_mm),
        ("under the sheer", &mut next.clearance_mm),
        ("rail depth", &mut next.rail_depth_mm),
        ("leg width", &mut next.leg_width_mm),
    ] {
        if let Some(v) = typed_length(ui, context, &format!("jig {label}"), label, *value, units) {
            *value = v;
        }
    }
    level(ui, context, &mut next);
    if next != now {
        context.ask(Command::Edit(Edit::SetStrongback(next)));
    }
}

fn level(ui: &mut Ui, context: &mut Context, next: &mut StrongbackPlan) {
    let units = context.session.hull().units;
    let shown = next.level_mm.map_or("chosen".to_string(), |v| units.show(v));
    let parse = |t: &str| match t.trim() {
        "" | "chosen" => Ok(f64::NAN),
        t => parse_length(t, units),
    };
    if let Some(v) = typed(ui, context, "jig level", "level line", &shown, parse) {
        next.level_mm = v.is_finite().then_some(v);
    }
}

/// Which panel laps which.
fn laps(ui: &mut Ui, context: &mut Context, model: &Model) {
    if model.panels.len() < 2 {
        return;
    }
    ui.label(RichText::new("Planking").font(FontId::new(size::BODY, semibold())));
    let mut asked = None;
    for w in model.panels.windows(2) {
        let line = model.line_below(&w[1]);
        let now = context.session.hull().planking.lap_at(line);
        for lap in [Lap::LowerOver, Lap::UpperOver] {
            let words = format!(
                "{}: {}",
                capital(&line.to_string()),
                crate::words::lap(lap, &w[0].name, &w[1].name)
            );
            if ui.radio(now == lap, RichText::new(words).size(size::SMALL)).clicked() && now != lap
            {
                asked = Some((line.to_string(), lap));
            }
        }
        let (tokens, units) = (context.tokens, context.session.hull().units);
        let (lower, upper) = (w[0].laps.upper.most_added(), w[1].laps.lower.most_added());
        figure(ui, tokens, &format!("added to the {}", w[0].name), units.show(lower));
        figure(ui, tokens, &format!("added to the {}", w[1].name), units.show(upper));
    }
    if let Some((line, lap)) = asked {
        context.ask(Command::Edit(Edit::SetLap { line, lap }));
    }
}

/// The jig's cut list.
fn cuts(ui: &mut Ui, context: &Context, jig: &Strongback) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let title = RichText::new("Cut for the jig").size(size::SMALL);
    egui::CollapsingHeader::new(title).id_salt("cuts").show(ui, |ui| {
        for c in &jig.cuts {
            let name = format!("{} x {}", c.count, c.name);
            let mut text =
                format!("{}, {}", units.section(c.section[0], c.section[1]), units.show(c.length));
            if c.end_cut != 0.0 {
                text.push_str(&format!(", foot cut {}", half_degrees(c.end_cut)));
            }
            figure(ui, tokens, &name, text);
        }
    });
}
