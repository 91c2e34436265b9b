//! Shape: the hull's size, its lines, and the duck in hand with figures to type.

use bevy_egui::egui::{self, FontId, RichText, Ui};

use crate::geom::plane::Plane;
use crate::geom::{P3, V3};
use crate::hull::LineEnd;
use crate::hull::edit::{Edit, Lines};
use crate::panel::section;
use crate::part::LineId;
use crate::viewer::session::Command;
use crate::viewer::state::DuckId;
use crate::viewer::theme::{semibold, size};
use crate::viewer::ui::cards::{compare, dimensions};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets::fields::typed_length;
use crate::viewer::ui::widgets::{choice, figure};
use crate::viewer::ui::{ducks, widgets};
use crate::words::trade::meaning;

/// Shows the card.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let units = context.session.hull().units;
    match context.state.selection.duck {
        Some(id) => duck(ui, context, id),
        None => {
            let hint = "Drag a duck in the strip or on the hull to reshape her. Click one to type its place; double-click a line to set another.";
            ui.label(RichText::new(hint).size(size::SMALL).color(tokens.soft));
        }
    }
    ui.horizontal_wrapped(|ui| {
        ui.checkbox(&mut context.state.display.combs, "curvature combs")
            .on_hover_text(meaning("curvature comb").unwrap_or_default());
        ui.checkbox(&mut context.state.display.snap, "snap")
            .on_hover_text("Ducks go to what is near them; Alt lets go");
    });
    ui.separator();
    dimensions::show(ui, context);
    ui.separator();
    if let Some(model) = context.model {
        let lines = model.lines.lines.iter().zip(&model.fairness).filter(|(l, _)| !l.derived);
        let views = lines.flat_map(|(l, f)| [(l, "plan", &f.plan), (l, "profile", &f.profile)]);
        let views: Vec<_> = views.collect();
        let reverses: usize = views.iter().map(|(_, _, f)| f.inflections_x.len()).sum();
        figure(ui, tokens, "reverses of curvature", reverses.to_string());
        let hardest = views
            .iter()
            .filter_map(|(l, view, f)| f.hardest_duck.map(|(k, jump)| (l, view, k, jump)))
            .max_by(|a, b| a.3.total_cmp(&b.3));
        if let Some((line, view, duck, jump)) = hardest {
            figure(ui, tokens, "sharpest change at a duck (60 shows)", format!("{jump:.0}"));
            let id = context.session.hull().lines.iter().position(|l| l.is(line.id));
            let words = format!("look at it: duck {} of the {} in {view}", duck + 1, line.id);
            let link = widgets::link(ui, tokens, words);
            if link.clicked() {
                context.state.selection.duck = id.map(|line| DuckId { line, duck });
            }
        }
        figure(ui, tokens, "depth", units.show(model.lines.depth()));
        ui.add_space(size::GAP);
        ui.label(RichText::new("Lines").font(FontId::new(size::BODY, semibold())));
        for (line, fair) in model.lines.lines.iter().zip(&model.fairness) {
            if line.derived {
                continue;
            }
            let reverses = fair.plan.inflections_x.len() + fair.profile.inflections_x.len();
            let note = match reverses {
                0 => String::new(),
                1 => "  1 reverse".into(),
                n => format!("  {n} reverses"),
            };
            figure(
                ui,
                tokens,
                &line.id.to_string(),
                format!("{}{note}", units.show(line.arc.length())),
            );
        }
    }
    more_lines(ui, context);
    cut(ui, context);
    ui.separator();
    compare::show(ui, context);
    widgets::sources(ui, tokens, &SOURCES);
}

/// Where the figures come from.
const SOURCES: [&str; 3] = [
    "Lines: cubic splines through the ducks, chord-length parameter, not-a-knot ends (de Boor, A Practical Guide to Splines).",
    "Reverses: sign changes of the curvature in plan and profile; one may be meant.",
    "Hard spot: the jump of the curvature's slope at a duck, free of scale. That 60 shows is our judgement; no source.",
];

/// Whole lines more or less.
fn more_lines(ui: &mut Ui, context: &mut Context) {
    let hull = context.session.hull();
    let keel = hull.line("keel").is_some();
    let chines = hull.lines.iter().filter(|l| l.name.starts_with("chine")).count();
    let wanted = [
        (
            !keel,
            Lines::AddKeel,
            "Her flat bottom becomes a shallow V, to be pulled deeper; Skin says whether the sheet still takes its bend at the bow",
        ),
        (keel, Lines::TakeKeel, "Her bottom becomes flat, on the lowest chine"),
        (true, Lines::AddChine, "Her uppermost panel is divided in two"),
        (chines > 1, Lines::TakeChine, "Her two uppermost panels become one"),
    ];
    ui.horizontal_wrapped(|ui| {
        for (_, what, words) in wanted.into_iter().filter(|w| w.0) {
            if ui.small_button(crate::words::edits::lines(what)).on_hover_text(words).clicked() {
                context.ask(Command::Edit(Edit::SetLines(what)));
                context.state.selection.duck = None;
            }
        }
    });
}

/// What the line in hand does at its ends.
fn ends(ui: &mut Ui, context: &mut Context, line: usize) {
    let Some(l) = context.session.hull().lines.get(line) else {
        return;
    };
    let (bow, stern) = (l.bow, l.stern);
    let word = |end: LineEnd| match end {
        LineEnd::RunsOn => "the batten runs on",
        LineEnd::Free => "the batten ends there",
        LineEnd::Along(..) => "along a direction",
    };
    for (label, now, at_bow) in [("at the bow", bow, true), ("at the stern", stern, false)] {
        let mut next = now;
        let name = RichText::new(label).size(size::SMALL).color(context.tokens.soft);
        // In a narrow card the name stands above the box.
        let layout = if ui.available_width() < 280.0 {
            ui.label(name);
            egui::Layout::top_down(egui::Align::Min)
        } else {
            egui::Layout::left_to_right(egui::Align::Center)
        };
        let place = egui::vec2(ui.available_width(), 26.0);
        ui.allocate_ui_with_layout(place, layout, |ui| {
            if layout.is_horizontal() {
                widgets::cell(
                    ui,
                    84.0,
                    RichText::new(label).size(size::SMALL).color(context.tokens.soft),
                );
            }
            choice(ui, &format!("line {label}"), 170.0, word(now), |ui| {
                for end in [LineEnd::RunsOn, LineEnd::Free] {
                    ui.selectable_value(&mut next, end, word(end));
                }
                // A direction is typed in the file, and kept until another is chosen.
                if matches!(now, LineEnd::Along(..)) {
                    ui.selectable_value(&mut next, now, word(now));
                }
            });
        });
        if next != now {
            let (bow, stern) = if at_bow { (next, stern) } else { (bow, next) };
            context.ask(Command::Edit(Edit::SetLineEnds { line, bow, stern }));
        }
    }
}

/// Figures of the section, where one is cut.
fn cut(ui: &mut Ui, context: &Context) {
    let (Some(x), Some(model)) = (context.state.display.section, context.model) else {
        return;
    };
    let Some(plane) = Plane::through(P3::new(x, 0.0, 0.0), V3::x()) else {
        return;
    };
    let units = context.session.hull().units;
    ui.separator();
    let title = format!("Section {} aft", units.show(x));
    ui.label(RichText::new(title).font(FontId::new(size::BODY, semibold())));
    egui::Grid::new("section").num_columns(3).spacing([18.0, 2.0]).show(ui, |ui| {
        for head in ["", "out", "up"] {
            ui.label(RichText::new(head).size(size::SMALL).color(context.tokens.soft));
        }
        ui.end_row();
        let mut row = |line: LineId, p: P3| {
            ui.label(RichText::new(line.to_string()).size(size::SMALL));
            for v in [p.y, p.z] {
                ui.label(RichText::new(units.show(v)).font(FontId::monospace(size::SMALL)));
            }
            ui.end_row();
        };
        for (i, p) in model.panels.iter().enumerate() {
            let points = section(&p.surface, plane, 0.0);
            if let (0, Some(first)) = (i, points.first()) {
                row(model.line_below(p), *first);
            }
            if let Some(last) = points.last() {
                row(model.line_above(p), *last);
            }
        }
    });
}

/// The duck in hand.
fn duck(ui: &mut Ui, context: &mut Context, id: DuckId) {
    let hull = context.session.hull();
    let Some((line, duck)) =
        hull.lines.get(id.line).and_then(|l| Some((l, *l.ducks.get(id.duck)?)))
    else {
        context.state.selection.duck = None;
        return;
    };
    let units = hull.units;
    let (name, count) = (line.name.clone(), line.ducks.len());
    ui.label(
        RichText::new(format!("Duck {} of the {name}", id.duck + 1))
            .font(FontId::new(size::BODY, semibold())),
    );
    for (axis, label, value) in
        [(0, "aft", duck.x), (1, "half-breadth", duck.y), (2, "height", duck.z)]
    {
        let key = format!("{}-{}-{axis}", id.line, id.duck);
        let taken = typed_length(ui, context, &key, label, value, units);
        if let Some(mm) = taken {
            let mut to = duck;
            match axis {
                0 => to.x = mm,
                1 => to.y = mm,
                _ => to.z = mm,
            }
            context.ask(Command::Edit(Edit::MoveDuck { line: id.line, duck: id.duck, to }));
        }
    }
    let mut knuckle = duck.knuckle;
    let inner = id.duck > 0 && id.duck + 1 < count;
    if ui
        .add_enabled(inner, egui::Checkbox::new(&mut knuckle, "knuckle: a sharp bend here"))
        .changed()
    {
        context.ask(Command::Edit(Edit::SetKnuckle { line: id.line, duck: id.duck, knuckle }));
    }
    ends(ui, context, id.line);
    ui.horizontal_wrapped(|ui| {
        let between = ducks::between(context.session.hull(), id);
        let set = egui::Button::new("Set another");
        let set = ui
            .add_enabled(between.is_some(), set)
            .on_hover_text("Half way to the next one aft, on the line");
        if let Some(duck) = between.filter(|_| set.clicked()) {
            ducks::set_another(context, id.line, duck);
        }
        if ui.add_enabled(count > 2, egui::Button::new("Take it away")).clicked() {
            ducks::take_away(context, id);
        }
    });
}
