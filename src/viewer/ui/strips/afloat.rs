//! The boat afloat in the strip: righting arm, what changes with the draft, speed and power.

use bevy_egui::egui::{Align2, RichText, Ui};
use egui_plot::{HLine, Line, LineStyle, PlotPoints, Points, Text, VLine};

use crate::float::power::{HORSEPOWER, Method, SpeedPower};
use crate::model::afloat::Afloat;
use crate::units::{KG_PER_POUND, MM_PER_INCH};
use crate::viewer::state::AfloatPlot;
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::plot::{Entry, axes, beside_key, words_on_plot};

/// Horsepower of a kilowatt: a motor is typed in horsepower, and plotted so.
const HORSES: f64 = 1000.0 / HORSEPOWER;

impl AfloatPlot {
    const ALL: [AfloatPlot; 4] =
        [AfloatPlot::Righting, AfloatPlot::Drafts, AfloatPlot::Speed, AfloatPlot::Lines];

    fn word(self) -> &'static str {
        match self {
            AfloatPlot::Righting => "righting arm",
            AfloatPlot::Drafts => "over drafts",
            AfloatPlot::Speed => "speed & power",
            AfloatPlot::Lines => "her lines",
        }
    }
}

/// The plots to choose from.
pub fn choose(ui: &mut Ui, context: &mut Context) {
    ui.horizontal_wrapped(|ui| {
        for plot in AfloatPlot::ALL {
            if widgets::chip(ui, context.state.display.plot == plot, plot.word()).clicked() {
                context.state.display.plot = plot;
            }
        }
        let words = "indicative: calm water, loads as named";
        ui.label(RichText::new(words).size(size::SMALL).color(context.tokens.watch));
    });
}

/// Shows the plot in hand.
pub fn show(ui: &mut Ui, context: &mut Context) {
    choose(ui, context);
    let Some(a) = context.model.and_then(|m| m.afloat.as_deref()) else {
        ui.centered_and_justified(|ui| {
            ui.label("Her lines enclose no space.");
        });
        return;
    };
    match (context.state.display.plot, &a.speed) {
        (AfloatPlot::Drafts, _) => drafts(ui, context, a),
        (AfloatPlot::Speed, Some(s)) => speed(ui, context, s, a.driven.map_or(0.0, |d| d.motor)),
        (AfloatPlot::Speed, None) => {
            ui.centered_and_justified(|ui| {
                ui.label(
                    "She does not float with her full crew, or has no bottom to tell it from.",
                );
            });
        }
        _ => righting(ui, context, a),
    }
}

/// What a length in mm and a mass in kg are multiplied by on the reader's axes, with their
/// units' names.
fn scales(context: &Context) -> [(f64, &'static str); 2] {
    match context.session.hull().units.imperial() {
        true => [(1.0 / MM_PER_INCH, "in"), (1.0 / KG_PER_POUND, "lb")],
        false => [(1.0, "mm"), (1.0, "kg")],
    }
}

/// Righting arm over heel: where water comes in, where it vanishes.
fn righting(ui: &mut Ui, context: &Context, a: &Afloat) {
    let tokens = context.tokens;
    let [(scale, unit), _] = scales(context);
    let curve: Vec<[f64; 2]> =
        a.righting.points.iter().map(|p| [p.heel.to_degrees(), scale * p.arm]).collect();
    let name = format!("righting arm, {unit}");
    let plot = axes(
        ui,
        "righting",
        ["heel, degrees, full crew sitting still", "heel, degrees"],
        [&name, &format!("arm, {unit}")],
    );
    plot.include_x(0.0).show(ui, |plot| {
        plot.hline(HLine::new("", 0.0).color(tokens.soft).width(1.0));
        plot.line(
            Line::new("righting arm", PlotPoints::from(curve)).color(tokens.chalk).width(2.4),
        );
        let arms = a.righting.points.iter().map(|p| scale * p.arm);
        let (least, most) = arms.fold((0.0f64, 0.0f64), |(l, h), arm| (l.min(arm), h.max(arm)));
        let mut texts = Vec::new();
        // Each where the curve is not, and clear of the other's line.
        let (wet, over) = (a.righting.downflooding, a.righting.vanishing);
        for (x, other, words, colour, y) in [
            (wet, over, "water comes in", tokens.stop, least),
            (over, wet, "no arm left", tokens.watch, most),
        ] {
            let Some(x) = x else {
                continue;
            };
            let dashed = LineStyle::dashed_loose();
            plot.vline(VLine::new("", x.to_degrees()).color(colour).width(1.4).style(dashed));
            // A space keeps the first letter off the line.
            let text = words_on_plot(tokens, format!("\u{a0}{words}\u{a0}"), colour);
            let left = stands_left(x, other, a.righting.reached);
            let anchor = match (left, y == most) {
                (true, true) => Align2::RIGHT_TOP,
                (true, false) => Align2::RIGHT_BOTTOM,
                (false, true) => Align2::LEFT_TOP,
                (false, false) => Align2::LEFT_BOTTOM,
            };
            texts.push(Text::new("", [x.to_degrees(), y].into(), text).anchor(anchor));
        }
        for text in texts {
            plot.text(text);
        }
    });
}

/// Whether the words of a line at `x` stand at its left: near the right edge of a plot that
/// reaches to `reached`, or where another line would strike them at its right.
fn stands_left(x: f64, other: Option<f64>, reached: f64) -> bool {
    const WORDS: f64 = 0.3;
    let struck_right = other.is_some_and(|o| (x..x + WORDS * reached).contains(&o));
    let struck_left = other.is_some_and(|o| (x - WORDS * reached..x).contains(&o));
    let room_left = x > WORDS * reached && !struck_left;
    room_left && (struck_right || x > (1.0 - WORDS) * reached)
}

/// Displacement over drafts, with her cases on it, and the metacentre.
fn drafts(ui: &mut Ui, context: &Context, a: &Afloat) {
    let tokens = context.tokens;
    let [(long, inch), (heavy, pound)] = scales(context);
    let at = |kg: f64, mm: f64| [heavy * kg, long * mm];
    let kilos: Vec<[f64; 2]> = a.curves.iter().map(|d| at(d.displacement, d.draft)).collect();
    let metacentre: Vec<[f64; 2]> = a.curves.iter().map(|d| at(d.displacement, d.km[0])).collect();
    // As high as the metacentre stands over her full crew; what is above is cut off.
    let laden = a.full().map_or(0.0, |c| c.weight.mass);
    let top = (a.curves.iter().filter(|d| d.displacement >= laden))
        .map(|d| 1.1 * d.km[0])
        .fold(a.curves.last().map_or(500.0, |d| 1.2 * d.draft), f64::max);
    let names =
        [format!("displacement, {pound}, even keel"), format!("{inch} over the lowest point")];
    let entry = |name: &str, colour, style| Entry { name: name.into(), colour, width: 2.0, style };
    let entries = [
        entry("draft", tokens.chalk, LineStyle::Solid),
        entry("metacentre across", tokens.holds, LineStyle::dashed_loose()),
    ];
    let plot = axes(ui, "drafts", [&names[0]; 2], [&names[1]; 2]).include_x(0.0);
    beside_key(ui, tokens, &entries, |ui| {
        plot.show(ui, |plot| {
            plot.line(Line::new("draft", PlotPoints::from(kilos)).color(tokens.chalk).width(2.4));
            for (k, run) in under(&metacentre, long * top).into_iter().enumerate() {
                // One name in the legend for all its runs.
                let name = if k == 0 { "metacentre across" } else { "" };
                plot.line(
                    Line::new(name, PlotPoints::from(run))
                        .color(tokens.holds)
                        .width(1.8)
                        .style(LineStyle::dashed_loose()),
                );
            }
            for c in a.cases.iter().filter(|c| c.floating.is_some()) {
                let draft = a.curves.windows(2).find_map(|w| {
                    let (p, q) = (&w[0], &w[1]);
                    let t = (c.weight.mass - p.displacement) / (q.displacement - p.displacement);
                    (0.0..=1.0).contains(&t).then_some(p.draft + t * (q.draft - p.draft))
                });
                if let Some(y) = draft.filter(|_| !c.swamped()) {
                    let place = at(c.weight.mass, y);
                    plot.points(Points::new("", vec![place]).radius(4.0).color(tokens.ink));
                }
            }
        })
    });
}

/// The runs of a curve that lie under `top`, cut off where they cross it.
fn under(curve: &[[f64; 2]], top: f64) -> Vec<Vec<[f64; 2]>> {
    let mut runs: Vec<Vec<[f64; 2]>> = vec![Vec::new()];
    for (i, p) in curve.iter().enumerate() {
        let crossing = i.checked_sub(1).map(|j| curve[j]).filter(|q| (q[1] > top) != (p[1] > top));
        let cut = crossing.map(|q| [q[0] + (top - q[1]) / (p[1] - q[1]) * (p[0] - q[0]), top]);
        if let Some(run) = runs.last_mut() {
            run.extend(cut);
            if p[1] <= top {
                run.push(*p);
            } else if !run.is_empty() {
                runs.push(Vec::new());
            }
        }
    }
    runs.retain(|r| r.len() > 1);
    runs
}

/// Power over speed: a solid line by each method, nothing where none fits.
fn speed(ui: &mut Ui, context: &Context, s: &SpeedPower, motor: f64) {
    let tokens = context.tokens;
    let of = |method: Method| -> Vec<[f64; 2]> {
        let rows = s.rows.iter().filter(|r| r.method == method);
        rows.filter_map(|r| Some([r.speed, r.power? * HORSES])).collect()
    };
    let motor = motor * HORSES;
    let methods = [
        (Method::Displacement, "floating (its waves)", tokens.holds, LineStyle::Solid),
        (Method::Between, "hump (tank tests)", tokens.watch, LineStyle::dashed_dense()),
        (Method::Planing, "planing (a prism)", tokens.chalk, LineStyle::Solid),
    ];
    let entries = methods.map(|(_, name, colour, style)| Entry {
        name: name.into(),
        colour,
        width: 2.4,
        style,
    });
    let plot = axes(
        ui,
        "speed",
        ["speed, knots, full crew", "speed, knots"],
        ["power at the shaft, hp", "shaft, hp"],
    )
    .include_x(0.0)
    .include_y(1.2 * motor);
    beside_key(ui, tokens, &entries, |ui| {
        plot.show(ui, |plot| {
            for (method, name, colour, style) in methods {
                let curve = match method {
                    // The way from one to the other is drawn with the first of them.
                    Method::Between => [of(method), of(Method::Blend)].concat(),
                    _ => of(method),
                };
                plot.points(Points::new(name, curve.clone()).radius(3.0).color(colour));
                plot.line(
                    Line::new(name, PlotPoints::from(curve)).color(colour).style(style).width(2.4),
                );
            }
            if !s.rowed {
                let dashed = LineStyle::dashed_loose();
                plot.hline(HLine::new("", motor).color(tokens.watch).width(1.4).style(dashed));
                let words = words_on_plot(tokens, "your motor", tokens.watch);
                // At the left, where no curve has come so high.
                plot.text(Text::new("", [0.0, motor].into(), words).anchor(Align2::LEFT_BOTTOM));
            }
            if let Some((from, to)) = s.gap {
                let middle = 0.5 * (from + to);
                let text = words_on_plot(tokens, "the hump:\nno method fits", tokens.soft);
                plot.text(Text::new("", [middle, 0.15 * motor].into(), text));
            }
        })
    });
}

#[cfg(test)]
mod tests {
    use crate::viewer::ui::strips::afloat::{stands_left, under};

    #[test]
    fn words_stand_where_no_line_strikes_them() {
        assert!(!stands_left(0.4, None, 1.0));
        assert!(stands_left(0.9, None, 1.0), "no room at the right");
        assert!(stands_left(0.4, Some(0.5), 1.0), "the other line is there");
        assert!(!stands_left(0.5, Some(0.4), 1.0), "and here at the left");
        assert!(!stands_left(0.1, Some(0.2), 1.0), "no room at the left");
    }

    #[test]
    fn a_curve_is_cut_off_where_it_leaves_the_plot_and_never_bridged() {
        let curve = [[0.0, 1.0], [1.0, 3.0], [2.0, 5.0], [3.0, 3.0], [4.0, 1.0]];
        let runs = under(&curve, 2.0);
        assert_eq!(runs, vec![vec![[0.0, 1.0], [0.5, 2.0]], vec![[3.5, 2.0], [4.0, 1.0]]]);
        assert_eq!(under(&curve, 9.0), vec![curve.to_vec()]);
        assert!(under(&curve, 0.5).is_empty());
    }
}
