//! Afloat: load cases, what is aboard, stability; the rest of the card is in
//! [`crate::viewer::ui::cards::limits`].

use bevy_egui::egui::{self, FontId, RichText, Sense, Ui};

use crate::finding::{Finding, Place, Severity};
use crate::hull::{Load, LoadKind};
use crate::model::Model;
use crate::model::afloat::{Afloat, Case, PERSON_KG, free_seat, loads_of, usual_loads};
use crate::part::{CaseId, Question};
use crate::report::text::{AFLOAT_CAUTION, SWAMPED_WITH, arm_area};
use crate::units::half_degrees;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::cards::limits;
use crate::viewer::ui::cards::sections::{further, title};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::load_plan::{plan_with_loads, set};
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::{typed, typed_length};
use crate::viewer::ui::widgets::typed::parse_mass;
use crate::viewer::ui::widgets::{figure, sources};
use crate::words::{self, attitude, capital};

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let Some(model) = context.model else {
        ui.label("Nothing is computed yet.");
        return;
    };
    let Some(a) = model.afloat.as_deref() else {
        ui.label("Her lines enclose no space: pull them apart.");
        return;
    };
    let tokens = context.tokens;
    answer(ui, context, model, a);
    let words = RichText::new(format!("Caution: {AFLOAT_CAUTION}"));
    ui.label(words.size(size::SMALL).color(tokens.watch));
    further(ui, context);
    ui.add_space(size::GAP);
    cases(ui, context, a);
    let index = context.state.case_of(a);
    if let Some(c) = a.cases.get(index) {
        ui.separator();
        details(ui, context, a, c);
    }
    ui.separator();
    loads(ui, context, model);
    ui.separator();
    limits::weights(ui, context, a);
    ui.separator();
    limits::rule(ui, context, model, a);
    ui.separator();
    limits::foam(ui, context, model, a);
    ui.separator();
    limits::speed(ui, context, a);
    ui.separator();
    limits::waterline(ui, context, a);
    sources(
        ui,
        tokens,
        &[
            "Displacement and centres: the closed mesh of her outside, cut by the water, exact for its triangles.",
            "Equilibrium and metacentres: Lewis (ed.), Principles of Naval Architecture, vol. I (1988).",
            "Persons, weight, power, list test: 33 CFR part 183, indicative.",
            "Everyone on one side: a code of practice for small commercial craft; ISO 12217-3's limit from memory.",
            "Planing: Savitsky, Marine Technology 1 (1964), porpoising off its chart, from memory and to a degree; over the hump Mercier and Savitsky (1973), read second-hand; while she floats, and what runabouts reach, by formulas in Propeller Handbook (1989), from memory; air and leg by Fluid-Dynamic Drag (1965), from memory.",
            "Densities and coverage: tables of sheets, wood and coverage, beside each item of the hull's mass.",
        ],
    );
}

/// The plain answer first: who and what is aboard, behind which motor, and yes, or why not.
fn answer(ui: &mut Ui, context: &Context, model: &Model, a: &Afloat) {
    let units = context.session.hull().units;
    let loads = loads_of(model);
    let persons: Vec<&Load> = loads.iter().filter(|l| l.kind == LoadKind::Person).collect();
    let weight: f64 = persons.iter().map(|l| l.mass_kg).sum();
    let who = match persons.len() {
        0 => "Nobody aboard".to_string(),
        1 => format!("One person of {}", units.mass(weight)),
        n => format!("{n} persons, {} together", units.mass(weight)),
    };
    let motor = &model.hull.motor;
    let how = match motor.fitted {
        true => format!(" and {} hp", motor.power_hp),
        false => ", rowed".into(),
    };
    let all = context.findings(Question::Afloat);
    let of = |severity: Severity| all.iter().filter(move |f| f.severity == severity);
    let stops: Vec<_> = of(Severity::Stop).collect();
    // She goes over or under, or fills, as she is loaded in a case that is not swamped.
    let lost = |c: &&Case| !c.swamped() && (c.floating.is_none() || c.floods());
    let over = stops.is_empty() && a.cases.iter().any(|c| lost(&c));
    // What is said of a case that is lost is not said again.
    let told =
        |f: &Finding| over && a.cases.iter().any(|c| lost(&c) && f.place == Place::Case(c.id));
    let first = |severity, n| {
        let all = of(severity).map(|f| &**f).filter(|f| !told(f));
        all.take(n).collect::<Vec<&Finding>>()
    };
    let (verdict, severity, why) = match (stops.is_empty(), of(Severity::Watch).count()) {
        (false, _) => ("no", Some(Severity::Stop), first(Severity::Stop, 3)),
        (true, _) if over => ("not in every case", Some(Severity::Stop), first(Severity::Watch, 2)),
        (true, 0) => ("yes", None, Vec::new()),
        (true, _) => ("yes, but mind", Some(Severity::Watch), first(Severity::Watch, 2)),
    };
    let colour = context.tokens.verdict(severity);
    let text = RichText::new(format!("{who}{how}: {verdict}."));
    ui.label(text.font(FontId::new(size::BODY, semibold())).color(colour));
    for c in a.cases.iter().filter(lost).filter(|_| over) {
        let fate = if c.floating.is_some() { "takes water in" } else { attitude::fate(c.sinks) };
        let text = format!("{}: she {fate}.", capital(c.name()));
        ui.label(RichText::new(text).size(size::SMALL).color(colour));
    }
    let full: Vec<String> = (a.cases.iter().filter(|c| c.swamped()))
        .filter_map(|c| match c.floating {
            None => Some(format!("{}: she {}.", capital(c.name()), attitude::fate(c.sinks))),
            Some(_) => badly(c).map(|how| format!("{}: she lies {how}.", capital(c.name()))),
        })
        .collect();
    if !full.is_empty() {
        let text = RichText::new(full.join(" ")).size(size::SMALL);
        ui.label(text.color(context.tokens.stop));
    }
    for f in why {
        let said = words::finding::said(f, units);
        let text = format!("{}: {}.", capital(&said.place), said.message);
        ui.label(RichText::new(text).size(size::SMALL).color(colour));
    }
    ui.add_space(size::GAP);
}

/// The cases: pressed, she is seen floating so.
fn cases(ui: &mut Ui, context: &mut Context, a: &Afloat) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    widgets::head(ui, tokens, "least freeboard");
    for (i, c) in a.cases.iter().enumerate() {
        let chosen = context.state.case_of(a) == i;
        let frame = egui::Frame::new()
            .fill(if chosen { tokens.lit } else { egui::Color32::TRANSPARENT })
            .corner_radius(8)
            .inner_margin(egui::Margin::symmetric(8, 3));
        let (text, colour) = match (c.floating, c.freeboard) {
            (Some(_), Some((least, _))) if !c.floods() => (units.show(least), tokens.ink),
            // Full of water anyway: that she is held up, and level, is all that is asked.
            (Some(_), _) if c.swamped() => match badly(c) {
                Some(how) => (how, tokens.stop),
                None => ("awash".to_string(), tokens.ink),
            },
            (Some(_), _) => ("floods".to_string(), tokens.stop),
            _ => (attitude::fate(c.sinks).to_string(), tokens.stop),
        };
        let response = frame
            .show(ui, |ui| {
                case_row(ui, &capital(c.name()), &text, colour);
            })
            .response
            .interact(Sense::click());
        widgets::row(ui, tokens, &response, c.name(), chosen);
        if response.clicked() {
            context.state.selection.case = Some(i);
        }
    }
}

/// Full of water she is held up, and nobody could sit in her or hold on: degrees at which that
/// is said. Our judgement; no source.
const LIES_OVER: f64 = 30.0;
const HANGS: f64 = 20.0;

/// How badly a case lies, where it does.
fn badly(c: &Case) -> Option<String> {
    c.floating.and_then(|f| on_her_side_or_end(f.heel, f.trim))
}

/// On her side, or hanging by an end (radians, by the stern positive).
fn on_her_side_or_end(heel: f64, trim: f64) -> Option<String> {
    let (heel, down) = (heel.to_degrees().abs(), trim.to_degrees().abs());
    if heel > LIES_OVER {
        return Some(format!("on her side, {heel:.0}°"));
    }
    let end = if trim > 0.0 { "stern" } else { "bow" };
    (down > HANGS).then(|| format!("down by the {end}, {down:.0}°"))
}

/// A case and its freeboard, below it where both are too long for one row.
fn case_row(ui: &mut Ui, name: &str, text: &str, colour: egui::Color32) {
    let (proportional, fixed) = (FontId::proportional(size::BODY), FontId::monospace(size::SMALL));
    let wide = |text: &str, font: &FontId| {
        ui.painter().layout_no_wrap(text.to_owned(), font.clone(), colour).size().x
    };
    let together = wide(name, &proportional) + wide(text, &fixed) + 2.0 * size::GAP;
    let beside = together <= ui.available_width();
    let figure = |ui: &mut Ui| {
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let text = RichText::new(text).font(fixed.clone()).color(colour);
            ui.label(text).on_hover_text("least freeboard");
        });
    };
    ui.horizontal(|ui| {
        ui.label(RichText::new(name).size(size::BODY));
        if beside {
            figure(ui);
        }
    });
    if !beside {
        ui.horizontal(figure);
    }
}

/// Figures of the case in hand.
fn details(ui: &mut Ui, context: &Context, a: &Afloat, c: &Case) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    title(ui, &capital(c.name()));
    if c.swamped() {
        ui.label(RichText::new(capital(SWAMPED_WITH) + ".").size(size::SMALL).color(tokens.soft));
    }
    figure(ui, tokens, "total", units.mass(c.weight.mass));
    let Some(f) = c.floating else {
        let fate = format!("She does not come to rest: she {}.", attitude::fate(c.sinks));
        ui.label(RichText::new(fate).size(size::SMALL));
        return;
    };
    figure(ui, tokens, "trim", attitude::trim(f.trim));
    figure(ui, tokens, "heel", attitude::heel(f.heel));
    if let Some(draft) = c.draft {
        figure(ui, tokens, "draft", units.show(draft));
    }
    if let Some((least, at)) = c.freeboard {
        let place = if at.cut_out { "cut-out" } else { "sheer" };
        let text = format!("{} at the {place}", units.show(least));
        figure(ui, tokens, "least freeboard", text);
        let full = a.full().and_then(|f| f.freeboard).map_or(least, |f| f.0);
        if c.id == CaseId::Alone && full > least {
            let why = "Less than with everyone aboard: alone at the tiller you press her stern down, and nobody forward holds it up.";
            ui.label(RichText::new(why).size(size::SMALL).color(tokens.soft));
        }
    }
    if let Some(all) = c.along(&a.openings) {
        for (where_, height) in ["at the bow", "amidships", "at the stern"].into_iter().zip(all) {
            figure(ui, tokens, &format!("freeboard {where_}"), units.show(height));
        }
    }
    if let Some(gm) = c.gm {
        figure(ui, tokens, "GM across, held upright", units.show(gm[0]));
        figure(ui, tokens, "GM along", units.show(gm[1]));
    }
    figure(ui, tokens, "wetted skin", units.area(f.immersed.wetted));
    if c.id == CaseId::Full {
        stability(ui, context, a);
    }
}

/// Righting arm and steps of the full crew.
fn stability(ui: &mut Ui, context: &Context, a: &Afloat) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let curve = &a.righting;
    let over = format!("over {}", half_degrees(curve.reached));
    let angle = |x: Option<f64>| x.map_or(over.clone(), half_degrees);
    figure(ui, tokens, "water comes in at", angle(curve.downflooding));
    match curve.vanishing {
        Some(v) if v <= 0.0 => figure(ui, tokens, "righting arm", "none at any heel"),
        v => figure(ui, tokens, "righting arm gone, if dry, at", angle(v)),
    }
    figure(ui, tokens, "area under the arm", arm_area(curve.area, units));
    for s in &a.steps {
        let text = format!("{:+.2}°", s.trim.to_degrees());
        figure(ui, tokens, &format!("{} {} aft", s.load, units.show(s.by)), text);
    }
}

/// What is aboard: pick one, change it, add, take away.
fn loads(ui: &mut Ui, context: &mut Context, model: &Model) {
    let tokens = context.tokens;
    let plan = plan_with_loads(context, model);
    title(ui, "Aboard");
    let hint = "Drag them on the hull, or type. They keep their height; seen square from the side or an end they move up and down too.";
    ui.label(RichText::new(hint).size(size::SMALL).color(tokens.soft));
    for (i, l) in plan.loads.iter().enumerate() {
        let chosen = context.state.selection.load == Some(i);
        let mass = context.session.hull().units.mass(l.mass_kg);
        let text = RichText::new(format!("{}, {mass}", l.name)).size(size::SMALL);
        if ui.selectable_label(chosen, text).clicked() {
            context.state.selection.load = if chosen { None } else { Some(i) };
        }
    }
    let mut next = plan.clone();
    let mut what = "loads";
    if let Some(i) = context.state.selection.load.filter(|i| *i < plan.loads.len()) {
        what = "change a load";
        one(ui, context, &mut next.loads[i], i);
        // No loads in a document are the usual loads.
        let last = next.loads.len() == 1;
        let off = ui.add_enabled(!last, egui::Button::new("take it off").small());
        if off.on_disabled_hover_text("The last one stays: give it 0 kg.").clicked() {
            next.loads.remove(i);
            context.state.selection.load = None;
        }
    }
    ui.horizontal_wrapped(|ui| {
        let middle = model.lines.extent(|p| p.x);
        let x = (0.5 * (middle.0 + middle.1)).round();
        let keel = model.lines.extent(|p| p.z).0;
        let usual = usual_loads(model);
        for (word, kind) in [
            ("add a person", LoadKind::Person),
            ("add gear", LoadKind::Gear),
            ("add a battery", LoadKind::Battery),
            ("add fuel", LoadKind::Fuel),
            ("add the motor", LoadKind::Motor),
        ] {
            // One motor hangs on her.
            let hung = kind == LoadKind::Motor && next.loads.iter().any(|l| l.kind == kind);
            if !hung && ui.small_button(word).clicked() {
                let like = usual.iter().find(|l| l.kind == kind).cloned();
                let noun = word.rsplit(' ').next().unwrap_or(word);
                let up = if kind == LoadKind::Person { 500.0 } else { 150.0 };
                let mass_kg = if kind == LoadKind::Person { PERSON_KG } else { 10.0 };
                let z = (keel + up).round();
                let (x, y) = match kind {
                    LoadKind::Person => free_seat(&next.loads, middle),
                    _ => (x, 0.0),
                };
                let plain = Load { name: noun.into(), kind, mass_kg, x, y, z };
                // The motor hangs where it hangs; all else is put down amidships.
                let added = match like {
                    Some(l) if kind == LoadKind::Motor => l,
                    Some(l) => Load { x, y, name: noun.into(), ..l },
                    None => plain,
                };
                let count = next.loads.iter().filter(|l| l.name.starts_with(noun)).count();
                let name = if count == 0 { added.name } else { format!("{noun} {}", count + 1) };
                next.loads.push(Load { name, ..added });
                context.state.selection.load = Some(next.loads.len() - 1);
                what = "add a load";
            }
        }
        if !context.session.hull().afloat.loads.is_empty()
            && ui.small_button("the usual loads").clicked()
        {
            next.loads.clear();
            context.state.selection.load = None;
            what = "the usual loads";
        }
    });
    let mut salt = next.salt;
    if ui.checkbox(&mut salt, RichText::new("salt water").size(size::SMALL)).changed() {
        next.salt = salt;
        what = if salt { "salt water" } else { "fresh water" };
    }
    if next != plan {
        set(context, next, what);
    }
}

fn one(ui: &mut Ui, context: &mut Context, load: &mut Load, i: usize) {
    let units = context.session.hull().units;
    let key = |what: &str| format!("load {i} {what}");
    let name = |t: &str| match t.trim() {
        "" => Err("a load wants a name".to_string()),
        t => Ok(t.to_string()),
    };
    if let Some(name) = typed(ui, context, &key("name"), "called", &load.name, name) {
        load.name = name;
    }
    ui.horizontal_wrapped(|ui| {
        for kind in LoadKind::ALL {
            let text = RichText::new(kind.word()).size(size::SMALL);
            ui.radio_value(&mut load.kind, kind, text);
        }
    });
    let kilos = |t: &str| parse_mass(t, units, 0.0..=5000.0);
    let shown = units.mass(load.mass_kg);
    if let Some(v) = typed(ui, context, &key("mass"), "weighs", &shown, kilos) {
        load.mass_kg = v;
    }
    for (label, value) in [("aft", &mut load.x), ("to starboard", &mut load.y), ("up", &mut load.z)]
    {
        if let Some(v) = typed_length(ui, context, &key(label), label, *value, units) {
            *value = v;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_swamped_boat_that_no_one_could_hold_on_to_is_told_by_how_she_lies() {
        let lies = |heel: f64, trim: f64| on_her_side_or_end(heel.to_radians(), trim.to_radians());
        assert_eq!(lies(4.0, -3.0), None, "level enough");
        assert_eq!(lies(-75.0, 40.0).as_deref(), Some("on her side, 75°"));
        assert_eq!(lies(2.0, 34.4).as_deref(), Some("down by the stern, 34°"));
        assert_eq!(lies(2.0, -25.0).as_deref(), Some("down by the bow, 25°"));
    }
}
