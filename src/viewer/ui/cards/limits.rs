//! Afloat, the rest of the card: what she weighs, the safe-loading rule, foam, speed, the
//! waterline to mark.

use bevy_egui::egui::{self, RichText, Ui};

use crate::float::capacity::KG_PER_POUND;
use crate::float::mass::WHOLE;
use crate::float::power::{HORSEPOWER, SpeedPower};
use crate::float::working::Line;
use crate::hull::edit::Edit;
use crate::hull::loads::{BOX_PLY_MM, FOAM_KG_M3};
use crate::hull::{AfloatPlan, Foam, Load, LoadKind, MarkedWith, Weighed};
use crate::model::Model;
use crate::model::afloat::{Afloat, usual_loads};
use crate::report::text::{paired, worked};
use crate::viewer::session::Command;
use crate::viewer::theme::size;
use crate::viewer::ui::cards::sections::title;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::load_plan::{plan_with_loads, set};
use crate::viewer::ui::widgets::fields::{typed, typed_length};
use crate::viewer::ui::widgets::figure;
use crate::viewer::ui::widgets::typed::{parse_cloth, parse_mass, parse_number, parse_power};
use crate::words::{self, capital, speed::no_figure};

/// Loads that differ by less (kg) are told as the same.
const NO_KILOS: f64 = 1.0;

fn plan(context: &Context) -> AfloatPlan {
    context.session.hull().afloat.clone()
}

/// What the hull weighs, item by item, and what was weighed.
pub fn weights(ui: &mut Ui, context: &mut Context, a: &Afloat) {
    let tokens = context.tokens;
    title(ui, "The hull");
    let now = plan(context);
    let mut next = now.clone();
    let units = context.session.hull().units;
    figure(ui, tokens, "weighs", units.mass(a.hull.mass));
    let percent = |t: &str| parse_number(t, "%", 0.0..=50.0);
    let cloth = |t: &str| parse_cloth(t, units);
    let shown = format!("{} %", now.margin_pct);
    if let Some(v) = typed(ui, context, "mass margin", "margin", &shown, percent) {
        next.margin_pct = v;
    }
    let shown = units.cloth(now.cloth_g_m2);
    if let Some(v) = typed(ui, context, "mass cloth", "cloth outside", &shown, cloth) {
        next.cloth_g_m2 = v;
    }
    weighed(ui, context, WHOLE, "computed", &mut next);
    let header = RichText::new("Item by item").size(size::SMALL);
    egui::CollapsingHeader::new(header).id_salt("masses").show(ui, |ui| {
        let hint = "Type what your scales say in place of what was computed; empty takes it back. Point at a line for its source.";
        ui.label(RichText::new(hint).size(size::SMALL).color(tokens.soft));
        for i in &a.items {
            if i.name == WHOLE {
                figure(ui, tokens, &i.name, units.mass(i.mass));
            } else {
                weighed(ui, context, &i.name, &units.mass(i.mass), &mut next);
            }
            let basis = RichText::new(words::mass::basis(&i.basis, units)).size(size::SMALL).color(tokens.soft);
            let basis = ui.label(basis);
            let source = words::mass::source(i);
            if !source.is_empty() {
                basis.on_hover_text(source);
            }
        }
    });
    if next != now {
        set(context, next, "what was weighed");
    }
}

/// A field for what one item weighs on the scales, or the whole hull.
fn weighed(ui: &mut Ui, context: &mut Context, item: &str, computed: &str, plan: &mut AfloatPlan) {
    let units = context.session.hull().units;
    let parse = |t: &str| match t.trim() {
        t if t.is_empty() || t == computed => Ok(None),
        t => parse_mass(t, units, 0.1..=5000.0).map(Some),
    };
    let own = plan.weighed.iter().find(|w| w.item == item).map(|w| w.mass_kg);
    let shown = own.map_or(computed.to_string(), |kg| units.mass(kg));
    let label = if item == WHOLE { "on the scales" } else { item };
    if let Some(kg) = typed(ui, context, &format!("weighed {item}"), label, &shown, parse) {
        plan.weighed.retain(|w| w.item != item);
        plan.weighed.extend(kg.map(|mass_kg| Weighed { item: item.into(), mass_kg }));
    }
}

/// Lines of a rule's working.
fn working(ui: &mut Ui, context: &Context, id: &str, lines: &[Line]) {
    let (tokens, units) = (context.tokens, context.session.hull().units);
    let header = RichText::new("Line by line").size(size::SMALL);
    egui::CollapsingHeader::new(header).id_salt(id).show(ui, |ui| {
        for l in lines {
            figure(ui, tokens, &words::working::text(&l.worked, units), worked(l, units));
            ui.label(
                RichText::new(words::working::source(&l.worked))
                    .size(size::SMALL)
                    .color(tokens.soft),
            );
        }
    });
}

/// The safe-loading rule.
pub fn rule(ui: &mut Ui, context: &mut Context, model: &Model, a: &Afloat) {
    let tokens = context.tokens;
    let c = &a.capacity;
    let units = context.session.hull().units;
    title(ui, "The safe-loading rule would mark her for");
    if let Some(hp) = c.horsepower {
        figure(ui, tokens, "motor, at most", format!("{hp} hp"));
    }
    let together = units.mass(c.persons_weight * KG_PER_POUND);
    let label = if c.horsepower.is_some() { "and with that motor, persons" } else { "persons" };
    figure(ui, tokens, label, format!("{}, {together} together", c.persons));
    figure(ui, tokens, "in all, motor and gear too", units.mass(c.weight * KG_PER_POUND));
    if c.pairs.len() > 1 {
        let header = RichText::new("With a smaller motor").size(size::SMALL);
        egui::CollapsingHeader::new(header).id_salt("pairs").show(ui, |ui| {
            for p in &c.pairs {
                ui.label(RichText::new(format!("up to {}", paired(p, units))).size(size::SMALL));
            }
        });
    }
    if let Some(own) = c.own.filter(|own| Some(own.horsepower) != c.horsepower) {
        let words = format!("Your motor, {}.", paired(&own, units));
        ui.label(RichText::new(words).size(size::SMALL));
    }
    if let Some(kg) = a.list_weight {
        figure(ui, tokens, "along one side till she floods", units.mass(kg));
    }
    working(ui, context, "capacity", &c.lines);
    let words = "Indicative: a maker's plate, local rules and the law decide.";
    ui.label(RichText::new(words).size(size::SMALL).color(tokens.watch));
    if !model.hull.motor.fitted {
        return;
    }
    let now = context.session.hull().motor.clone();
    let mut next = now.clone();
    let shown = format!("{} hp", now.power_hp);
    if let Some(v) = typed(ui, context, "motor power", "your motor", &shown, parse_power) {
        next.power_hp = v;
    }
    let wheel = RichText::new("steered from a wheel").size(size::SMALL);
    ui.checkbox(&mut next.remote_steering, wheel);
    if next != now {
        context.ask(Command::Edit(Edit::SetMotor(next)));
    }
    brought(ui, context, model, a);
}

/// What comes aboard with the motor, and why; taken where the builder's own loads say less.
fn brought(ui: &mut Ui, context: &mut Context, model: &Model, a: &Afloat) {
    let units = context.session.hull().units;
    let with_motor =
        |l: &&Load| matches!(l.kind, LoadKind::Motor | LoadKind::Fuel | LoadKind::Battery);
    let usual = usual_loads(model);
    let usual: Vec<&Load> = usual.iter().filter(with_motor).collect();
    let named = |loads: &[&Load]| -> String {
        let each = loads.iter().map(|l| format!("{} {}", l.name, units.mass(l.mass_kg)));
        each.collect::<Vec<_>>().join(", ")
    };
    let hp = model.hull.motor.power_hp;
    let words = format!(
        "With {hp} hp come aboard: {} (33 CFR table 183.75: so heavy are such motors, with the fuel and battery that go with them).",
        named(&usual)
    );
    ui.label(RichText::new(words).size(size::SMALL).color(context.tokens.soft));
    let aboard: Vec<&Load> = a.loads.iter().filter(with_motor).collect();
    let mass = |loads: &[&Load]| loads.iter().map(|l| l.mass_kg).sum::<f64>();
    if (mass(&aboard) - mass(&usual)).abs() < NO_KILOS {
        return;
    }
    let words = match aboard.is_empty() {
        true => "None of it is among what you have aboard.".to_string(),
        false => format!("You have aboard: {}.", named(&aboard)),
    };
    ui.label(RichText::new(words).size(size::SMALL).color(context.tokens.watch));
    if ui.small_button("take the table's weights aboard").clicked() {
        let mut next = plan_with_loads(context, model);
        next.loads.retain(|l| !with_motor(&l));
        next.loads.extend(usual.into_iter().cloned());
        context.state.selection.load = None;
        set(context, next, "what the motor brings");
    }
}

/// Foam that is asked for and built in.
pub fn foam(ui: &mut Ui, context: &mut Context, model: &Model, a: &Afloat) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    title(ui, "Full of water");
    figure(ui, tokens, "foam asked for", units.volume(a.foam_needed.0));
    figure(ui, tokens, "foam built in", units.volume(a.foam(&model.hull)));
    figure(ui, tokens, "of it under the water then", units.volume(a.foam_under));
    working(ui, context, "flotation", &a.foam_needed.1);
    let now = plan(context);
    let mut next = now.clone();
    let mut gone = None;
    if !now.foam.is_empty() {
        let words = "Its blocks are drawn on her as boxes of blue lines.";
        ui.label(RichText::new(words).size(size::SMALL).color(tokens.soft));
    }
    for (i, f) in next.foam.iter_mut().enumerate() {
        let header = RichText::new(format!("{}, {}", f.name, units.volume(f.volume() * 1e-6)));
        egui::CollapsingHeader::new(header.size(size::SMALL)).id_salt(("foam", i)).show(ui, |ui| {
            for (label, corner, axis) in [
                ("from, aft", 0, 0),
                ("to, aft", 1, 0),
                ("from, out", 0, 1),
                ("to, out", 1, 1),
                ("from, up", 0, 2),
                ("to, up", 1, 2),
            ] {
                let value = if corner == 0 { &mut f.from[axis] } else { &mut f.to[axis] };
                let key = format!("foam {i} {label}");
                if let Some(v) = typed_length(ui, context, &key, label, *value, units) {
                    *value = v;
                }
            }
            let (key, label) = (format!("foam {i} box"), "ply of its box");
            let shown = units.fine(f.box_ply_mm);
            let parse = |t: &str| crate::units::parse_length(t, units);
            if let Some(v) = typed(ui, context, &key, label, &shown, parse) {
                f.box_ply_mm = v;
            }
            ui.checkbox(&mut f.both_sides, RichText::new("and to port").size(size::SMALL));
            if ui.small_button("take it out").clicked() {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone {
        next.foam.remove(i);
    }
    let more = along_the_sides(model, a, next.foam.len());
    let room = next.foam.iter().all(|f| f.shared(&more) <= 0.0);
    let add = ui.add_enabled(room, egui::Button::new("add foam along both sides").small());
    if add.clicked() {
        next.foam.push(more);
    }
    if !room {
        let why = "Foam lies along both sides already: change that block above.";
        ui.label(RichText::new(why).size(size::SMALL).color(tokens.soft));
    }
    if next != now {
        set(context, next, "foam");
    }
}

/// A block inside each side amidships, under the sheer and under the lowest opening: above that
/// it would lift nothing.
fn along_the_sides(model: &Model, a: &Afloat, count: usize) -> Foam {
    let (fore, aft) = model.lines.extent(|p| p.x);
    let at = |line: usize, share: f64| {
        let s = &model.lines.lines[line].spline;
        s.parameter_at_x(fore + share * (aft - fore)).map(|t| s.at(t))
    };
    let top = model.lines.lines.len() - 1;
    let heads = [0.4, 0.6, 0.8].map(|share| at(top, share));
    let low = |of: &dyn Fn(&crate::geom::P3) -> f64| {
        heads.iter().flatten().map(of).fold(f64::INFINITY, f64::min)
    };
    let awash = a.openings.iter().map(|o| o.at.z).fold(f64::INFINITY, f64::min);
    let (out, up) = (0.8 * low(&|p| p.y), (low(&|p| p.z) - 60.0).min(awash - 10.0));
    Foam {
        name: format!("side {}", count + 1),
        from: [(fore + 0.4 * (aft - fore)).round(), (out - 120.0).round(), (up - 150.0).round()],
        to: [(fore + 0.8 * (aft - fore)).round(), out.round(), up.round()],
        both_sides: true,
        density_kg_m3: FOAM_KG_M3,
        box_ply_mm: BOX_PLY_MM,
    }
}

/// How fast, and with what.
pub fn speed(ui: &mut Ui, context: &Context, a: &Afloat) {
    let tokens = context.tokens;
    title(ui, "Speed, full crew");
    let Some(s) = &a.speed else {
        let why = "She does not float with her full crew, or has no bottom to tell it from.";
        ui.label(RichText::new(why).size(size::SMALL));
        return;
    };
    figure(ui, tokens, "a wave of her own length", format!("{:.1} kn", s.hull_speed));
    figure(ui, tokens, "she reaches", words::speed::reached(s));
    if let Some(kn) = s.runabout {
        figure(ui, tokens, "runabouts of her weight and power", format!("{kn:.1} kn"));
    }
    if let Some((kn, n)) = s.hump {
        let units = context.session.hull().units;
        figure(ui, tokens, "the hump", format!("{} at {kn:.0} kn", units.force(n)));
    } else if let Some((from, to)) = s.gap {
        figure(ui, tokens, "the hump lies between", format!("{from:.0} and {to:.0} kn"));
    }
    for why in s.no_hump.iter().chain(&s.no_prism).filter(|_| !s.rowed) {
        ui.label(RichText::new(no_figure(why)).size(size::SMALL).color(tokens.soft));
    }
    if let Some(d) = &a.driven {
        let p = &d.prism;
        let beam = context.session.hull().units.show(1000.0 * p.beam);
        let text = format!("{beam}, {:.1}°", p.deadrise);
        figure(ui, tokens, "beam over chines, deadrise aft", text);
    }
    rows(ui, context, s);
}

/// The table behind the plot: power, trim, porpoising, and why there is no number.
fn rows(ui: &mut Ui, context: &Context, s: &SpeedPower) {
    let tokens = context.tokens;
    let header = RichText::new("Speed by speed").size(size::SMALL);
    egui::CollapsingHeader::new(header).id_salt("speeds").show(ui, |ui| {
        let mut said = None;
        for r in &s.rows {
            let power = r
                .power
                .map_or("-".into(), |kw| format!("{kw:.1} kW, {:.1} hp", kw * 1000.0 / HORSEPOWER));
            figure(ui, tokens, &format!("{:.0} kn", r.speed), power);
            let porpoising = match r.porpoising {
                Some(limit) => format!(", may porpoise above {limit:.1}°"),
                None if r.past_chart => ", past the porpoising chart: expect it".into(),
                None => String::new(),
            };
            let band = r.band.map(|b| format!("give or take {:.0} %", 100.0 * b));
            let more = match (r.trim, &r.why) {
                (Some(trim), _) => Some(format!("runs at {trim:.1}°{porpoising}")),
                (None, Some(why)) => Some(no_figure(why)),
                (None, None) => band,
            };
            // A reason is not repeated down the rows.
            if let Some(more) = more.filter(|m| said.as_ref() != Some(m)) {
                ui.label(RichText::new(&more).size(size::SMALL).color(tokens.soft));
                said = Some(more);
            }
        }
    });
}

/// The waterline that is marked on panels and frames.
pub fn waterline(ui: &mut Ui, context: &mut Context, a: &Afloat) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    title(ui, "The waterline to mark");
    let now = plan(context);
    let mut next = now.clone();
    ui.horizontal_wrapped(|ui| {
        for with in MarkedWith::ALL {
            let text = RichText::new(with.word()).size(size::SMALL);
            ui.radio_value(&mut next.waterline.with, with, text);
        }
    });
    let parallel = RichText::new("parallel to the baseline").size(size::SMALL);
    ui.checkbox(&mut next.waterline.parallel, parallel);
    let now_high = now.waterline.boot_top_mm;
    if let Some(v) = typed_length(ui, context, "boot-top", "boot-top, above", now_high, units) {
        next.waterline.boot_top_mm = v;
    }
    if next != now {
        set(context, next, "the waterline to mark");
    }
    let Some(m) = &a.marked else {
        ui.label(RichText::new("She does not float so.").size(size::SMALL));
        return;
    };
    ui.label(
        RichText::new("Down the skin from the sheer · up from the baseline")
            .size(size::SMALL)
            .color(tokens.soft),
    );
    for s in &m.stations {
        let text = format!("{} · {}", units.show(s.down), units.show(s.at.z));
        figure(ui, tokens, &format!("station {}", s.station), text);
    }
    if context.model.is_some_and(|model| m.stations.len() < model.stations.len()) {
        let words = "Stations that are not named stand clear of the water.";
        ui.label(RichText::new(words).size(size::SMALL).color(tokens.soft));
    }
    for e in &m.by_eye {
        let text = format!(
            "{}: a batten pulled tight between two end marks would be out by {}.",
            capital(&e.panel),
            units.show(e.off.abs())
        );
        ui.label(RichText::new(text).size(size::SMALL).color(tokens.soft));
    }
}
