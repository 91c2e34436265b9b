//! The stick of the member in hand: its section and stock, its moisture, its soak, its test.

use std::ops::RangeInclusive;

use bevy_egui::egui::{self, FontId, RichText, Ui};

use crate::bend::BentMember;
use crate::hull::edit::Edit;
use crate::hull::lumber::{GREATEST_MOISTURE_PCT, LEAST_MOISTURE_PCT};
use crate::hull::{Air, Member, Soak, StickTest, Stock};
use crate::material::Wood;
use crate::units::{Units, parse_length};
use crate::viewer::session::Command;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::fields::typed_thickness;
use crate::viewer::ui::widgets::figure;
use crate::viewer::ui::widgets::typed::parse_mass;
use crate::words::capital;

/// Air that one starts from when the moisture is to be told by it: a shed in mild weather,
/// which brings wood to about 12 %.
const MILD: Air = Air { temperature_c: 20.0, humidity_pct: 65.0 };

/// Shows it. Once something of it is changed it is in hand, and stays so whichever stick is then
/// the nearest to breaking.
pub fn show(ui: &mut Ui, context: &mut Context, bent: &BentMember) {
    let asked = context.commands.len();
    stock(ui, context, bent);
    stick(ui, context, bent);
    if context.commands.len() > asked {
        context.state.selection.member = context.model.map(|m| context.state.member_of(m));
    }
}

/// Section, species, stock, moisture and soak of the member in hand.
fn stock(ui: &mut Ui, context: &mut Context, bent: &BentMember) {
    let Some(index) = context.session.hull().members.iter().position(|m| *m == bent.member) else {
        return;
    };
    let m: Member = context.session.hull().members[index].clone();
    ui.add_space(size::GAP);
    ui.label(RichText::new("Its stick").font(FontId::new(size::BODY, semibold())));
    if let Some(v) = typed_thickness(ui, context, "moulded", "moulded", m.moulded_mm) {
        context.ask(set(index, &Member { moulded_mm: v, ..m.clone() }));
    }
    if let Some(v) = typed_thickness(ui, context, "sided", "sided", m.sided_mm) {
        context.ask(set(index, &Member { sided_mm: v, ..m.clone() }));
    }
    other_species(ui, context, "species", index);
    rack(ui, context, index, &m);
    moisture(ui, context, index, &m);
    soak(ui, context, index, &m);
}

/// A member with another section, species or moisture.
fn set(member: usize, m: &Member) -> Command {
    Command::Edit(Edit::SetMember {
        member,
        moulded_mm: m.moulded_mm,
        sided_mm: m.sided_mm,
        species: m.species.clone(),
        moisture_pct: m.moisture_pct,
    })
}

/// The woods of the table for a member, its own shown; another that is chosen is asked for. Those
/// on the document's list of lumber say so.
pub(super) fn other_species(ui: &mut Ui, context: &mut Context, key: &str, member: usize) {
    let hull = context.session.hull();
    let (Some(model), Some(m)) = (context.model, hull.members.get(member).cloned()) else {
        return;
    };
    let listed = |w: &Wood| hull.stock.lumber.iter().any(|row| row.species == w.name);
    let mut chosen = None;
    widgets::choice(ui, key, 220.0, &m.species, |ui| {
        for w in &model.materials.woods {
            let words = widgets::listed(&w.name, listed(w));
            let row = ui.selectable_label(w.name == m.species, words);
            if row.on_hover_text(&w.source).clicked() {
                chosen = Some(w.name.clone());
            }
        }
    });
    if let Some(species) = chosen.filter(|s| *s != m.species) {
        context.ask(set(member, &Member { species, ..m }));
    }
}

fn slider<'a>(value: &'a mut f64, range: RangeInclusive<f64>, unit: &str) -> egui::Slider<'a> {
    egui::Slider::new(value, range)
        .clamping(egui::SliderClamping::Never)
        .max_decimals(1)
        .suffix(unit)
}

/// A slider whose value is asked for as an edit: one step of undo for a whole drag.
fn slid(
    ui: &mut Ui,
    context: &mut Context,
    (value, range): (f64, RangeInclusive<f64>),
    (unit, name): (&str, &str),
    edit: impl FnOnce(f64) -> Edit,
) {
    let mut next = value;
    // In a narrow card the words stand above the slider.
    let slid = if ui.available_width() < 320.0 {
        let label = ui.label(RichText::new(name).size(size::SMALL));
        let slid = ui.horizontal(|ui| {
            let slid =
                ui.add(slider(&mut next, range, unit).show_value(false)).labelled_by(label.id);
            let typed = egui::DragValue::new(&mut next).speed(0.0).max_decimals(1).suffix(unit);
            slid | ui.add(typed).labelled_by(label.id)
        });
        slid.inner
    } else {
        ui.add(slider(&mut next, range, unit).text(name))
    };
    if slid.changed() {
        // Typed or by keys it is a change of its own.
        let edit = edit(next);
        context.ask(if slid.dragged() { Command::Drag(edit) } else { Command::Edit(edit) });
    }
    if slid.drag_stopped() {
        context.ask(Command::DragEnd);
    }
}

/// A slider for a temperature, in the reader's degrees.
fn slid_temperature(
    ui: &mut Ui,
    context: &mut Context,
    (celsius, range): (f64, RangeInclusive<f64>),
    name: &str,
    edit: impl FnOnce(f64) -> Edit,
) {
    let units: Units = context.session.hull().units;
    if units.imperial() {
        let f = |c: f64| 1.8 * c + 32.0;
        let range = f(*range.start())..=f(*range.end());
        slid(ui, context, (f(celsius), range), (" °F", name), |t| edit((t - 32.0) / 1.8));
    } else {
        slid(ui, context, (celsius, range), (" °C", name), edit);
    }
}

/// What was picked from the rack.
fn rack(ui: &mut Ui, context: &mut Context, index: usize, m: &Member) {
    let set =
        |stock: Stock| Edit::SetMemberStock { member: index, stock, air: m.air, soak: m.soak };
    let (clear, graded) = ("clear, straight-grained", "from a yard's rack");
    let shown = if m.stock == Stock::Clear { clear } else { graded };
    let mut next = None;
    widgets::choice(ui, "stock", 220.0, shown, |ui| {
        if ui.selectable_label(m.stock == Stock::Clear, clear).clicked() {
            next = Some(Stock::Clear);
        }
        let words = "Without knots where it bends; how far its grain runs out is asked next";
        if ui.selectable_label(m.stock != Stock::Clear, graded).on_hover_text(words).clicked() {
            next = Some(Stock::default());
        }
    });
    if let Some(stock) = next.filter(|s| *s != m.stock) {
        context.ask(Command::Edit(set(stock)));
    }
    if let Stock::Graded { one_in } = m.stock {
        slid(ui, context, (one_in, 6.0..=20.0), ("", "grain runs out 1 in"), |one_in| {
            set(Stock::Graded { one_in })
        });
    }
}

/// Its moisture, as told or by the air that it lay in.
fn moisture(ui: &mut Ui, context: &mut Context, index: usize, m: &Member) {
    let set = |air| Edit::SetMemberStock { member: index, stock: m.stock, air, soak: m.soak };
    let mut by_air = m.air.is_some();
    let words = RichText::new("moisture by the air that it lay in").size(size::SMALL);
    if ui.checkbox(&mut by_air, words).changed() {
        context.ask(Command::Edit(set(by_air.then_some(MILD))));
    }
    let Some(air) = m.air else {
        let range = LEAST_MOISTURE_PCT..=GREATEST_MOISTURE_PCT;
        slid(ui, context, (m.moisture_pct, range), (" %", "moisture"), |moisture_pct| {
            Edit::SetMember {
                member: index,
                moulded_mm: m.moulded_mm,
                sided_mm: m.sided_mm,
                species: m.species.clone(),
                moisture_pct,
            }
        });
        return;
    };
    let range = -10.0..=60.0;
    slid_temperature(ui, context, (air.temperature_c, range), "air, a month's mean", |c| {
        set(Some(Air { temperature_c: c, ..air }))
    });
    slid(ui, context, (air.humidity_pct, 5.0..=95.0), (" %", "its humidity"), |h| {
        set(Some(Air { humidity_pct: h, ..air }))
    });
    figure(ui, context.tokens, "moisture it comes to", format!("{:.1} %", m.moisture()));
}

/// How it would be soaked.
fn soak(ui: &mut Ui, context: &mut Context, index: usize, m: &Member) {
    let set = |soak| Edit::SetMemberStock { member: index, stock: m.stock, air: m.air, soak };
    let range = 5.0..=100.0;
    slid_temperature(ui, context, (m.soak.water_c, range), "soak: water at the wood", |c| {
        set(Soak { water_c: c, ..m.soak })
    });
    slid(ui, context, (m.soak.hours, 0.0..=48.0), (" h", "soak: how long"), |hours| {
        set(Soak { hours, ..m.soak })
    });
}

/// The builder's own bend test.
fn stick(ui: &mut Ui, context: &mut Context, bent: &BentMember) {
    let tokens = context.tokens;
    let Some(index) = context.session.hull().members.iter().position(|m| *m == bent.member) else {
        return;
    };
    egui::CollapsingHeader::new(RichText::new("Test your own stick").size(size::SMALL)).show(ui, |ui| {
        let how = "Lay the stick on two supports, hang a weight at the middle, and read how far it sags.";
        ui.label(RichText::new(how).size(size::SMALL).color(tokens.soft));
        let labels = ["between supports", "width", "depth", "weight", "sag"];
        let units = context.session.hull().units;
        for (label, text) in labels.iter().zip(&mut context.state.typing.stick) {
            ui.horizontal(|ui| {
                let words = RichText::new(*label).size(size::SMALL).color(tokens.soft);
                let name = widgets::cell(ui, 104.0, words);
                ui.add(egui::TextEdit::singleline(text).desired_width(90.0)).labelled_by(name.id);
            });
        }
        // The fourth is a weight, the others are lengths, all in the reader's units.
        let read = |(i, t): (usize, &String)| match i {
            3 => parse_mass(t, units, 0.001..=500.0).ok(),
            _ => parse_length(t, units).ok().filter(|mm| *mm > 0.0),
        };
        let values: Vec<f64> = context.state.typing.stick.iter().enumerate().filter_map(read).collect();
        let test = (values.len() == 5).then(|| StickTest {
            span_mm: values[0],
            width_mm: values[1],
            depth_mm: values[2],
            weight_kg: values[3],
            sag_mm: values[4],
        });
        if let Some(test) = test {
            let e = crate::bend::stick::stiffness(&test);
            figure(ui, tokens, "stiffness", format!("{e:.0} N/mm²"));
            for doubt in crate::bend::stick::doubts(&test) {
                ui.label(RichText::new(capital(crate::words::bend::doubt(doubt))).size(size::SMALL).color(tokens.watch));
            }
        } else {
            ui.label(RichText::new(format!("Five figures above 0 give the stiffness, as {} and {}.", units.show(600.0), units.mass(5.0))).size(size::SMALL).color(tokens.soft));
        }
        ui.horizontal_wrapped(|ui| {
            if ui.add_enabled(test.is_some(), egui::Button::new("Use it")).clicked() {
                context.ask(Command::Edit(Edit::SetStickTest { member: index, test }));
            }
            let used = bent.member.stick_test.is_some();
            if ui.add_enabled(used, egui::Button::new("Back to the handbook")).clicked() {
                context.ask(Command::Edit(Edit::SetStickTest { member: index, test: None }));
            }
        });
        if bent.member.stick_test.is_some() {
            let left = format!("{:.0} %", 100.0 * bent.limit.test);
            figure(ui, tokens, "strain left to it by its test", left);
            let why = "Strength goes with stiffness by a correlation of 0.6 (from memory), so a limp stick is a weaker one and does not bend further.";
            ui.label(RichText::new(why).size(size::SMALL).color(tokens.soft));
        }
        figure(ui, tokens, "used now", format!("{:.0} N/mm² ({})", bent.limit.stiffness, if bent.member.stick_test.is_some() { "tested" } else { "handbook" }));
    });
}
