//! Along each member, in the strip: strain, curvature, twist.

use bevy_egui::egui::{Align2, Ui};
use egui_plot::{HLine, HoverPosition, Line, LineStyle, PlotPoints, Points, Text};

use crate::bend::BentMember;
use crate::model::Model;
use crate::units::Units;
use crate::viewer::state::{PartId, Plotted};
use crate::viewer::ui::context::Context;
use crate::viewer::ui::widgets;
use crate::viewer::ui::widgets::plot;
use crate::viewer::ui::widgets::plot::{Entry, axes, beside_key, words_on_plot};

impl Plotted {
    const ALL: [Plotted; 4] = [Plotted::Strain, Plotted::Moulded, Plotted::Sided, Plotted::Twist];

    fn word(self) -> &'static str {
        match self {
            Plotted::Strain => "strain",
            Plotted::Moulded => "bend of the moulded depth",
            Plotted::Sided => "bend of the sided width",
            Plotted::Twist => "twist",
        }
    }

    fn axis(self, units: Units) -> &'static str {
        match (self, units.imperial()) {
            (Plotted::Strain, _) => "strain of the worst fibre, %",
            (Plotted::Moulded | Plotted::Sided, false) => "curvature, 1/m",
            (Plotted::Moulded | Plotted::Sided, true) => "curvature, 1/ft",
            (Plotted::Twist, false) => "twist, degrees a metre",
            (Plotted::Twist, true) => "twist, degrees a foot",
        }
    }

    /// The curve: along the line in the builder's length (`per_mm` of it in a mm), against this
    /// in the axis' unit.
    fn curve(self, m: &BentMember, per_mm: f64) -> Vec<[f64; 2]> {
        let value = |a: &crate::bend::Along| match self {
            Plotted::Strain => 100.0 * a.strain,
            Plotted::Moulded => a.moulded / per_mm,
            Plotted::Sided => a.sided / per_mm,
            Plotted::Twist => a.twist.to_degrees() / per_mm,
        };
        m.along.iter().map(|a| [a.at * per_mm, value(a)]).collect()
    }
}

/// Shows the plot.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let tokens = context.tokens;
    let Some(model) = context.model.filter(|m| !m.members.is_empty()) else {
        ui.centered_and_justified(|ui| {
            ui.label("This hull has no members on its lines.");
        });
        return;
    };
    ui.horizontal_wrapped(|ui| {
        for plotted in Plotted::ALL {
            let on = context.state.display.plotted == plotted;
            if widgets::chip(ui, on, plotted.word()).clicked() {
                context.state.display.plotted = plotted;
            }
        }
    });
    let units = context.session.hull().units;
    let (per_mm, unit) = along_unit(units);
    let plotted = context.state.display.plotted;
    let chosen = context.state.member_of(model);
    let lit = context.state.lit();
    let x = format!("along the line from the bow, {unit}");
    let styled = |i: usize| {
        let strong = i == chosen || lit == Some(PartId::member(i));
        let (colour, style) = plot::look(tokens, i);
        match strong {
            true => (tokens.chalk, LineStyle::Solid, 2.4),
            false => (colour, style, 1.3),
        }
    };
    let entries: Vec<Entry> = (model.members.iter().enumerate())
        .map(|(i, m)| {
            let (colour, style, width) = styled(i);
            Entry { name: m.member.name.clone(), colour, style, width }
        })
        .collect();
    // Over the line of what breaks it there is room for its words.
    let top = match plotted {
        Plotted::Strain => 125.0 * model.members[chosen].limit.breaking,
        _ => 0.0,
    };
    let (response, pressed) = beside_key(ui, tokens, &entries, |ui| {
        axes(ui, ("members", plotted as u8), [&x; 2], [plotted.axis(units); 2])
            .include_y(top)
            .label_formatter(move |at| match at {
                HoverPosition::NearDataPoint { plot_name, position, .. }
                    if !plot_name.is_empty() =>
                {
                    Some(format!("{plot_name}\n{:.2} {unit}\n{:.3}", position.x, position.y))
                }
                _ => None,
            })
            .show(ui, |plot| {
                for (i, m) in model.members.iter().enumerate() {
                    let (colour, style, width) = styled(i);
                    let line = Line::new(
                        m.member.name.as_str(),
                        PlotPoints::from(plotted.curve(m, per_mm)),
                    )
                    .color(colour)
                    .style(style)
                    .width(width)
                    .id(bevy_egui::egui::Id::new(("member", i)));
                    plot.line(line);
                }
                if plotted == Plotted::Strain {
                    limits(plot, model, chosen, context);
                    let worst = &model.members[chosen];
                    let at = [worst.peak_at * per_mm, 100.0 * worst.peak_strain];
                    plot.points(Points::new("", vec![at]).radius(4.0).color(tokens.chalk));
                }
                if plot.response().clicked() {
                    nearest(plot.pointer_coordinate().map(|p| [p.x, p.y]), model, plotted, per_mm)
                } else {
                    None
                }
            })
    });
    if let Some(i) = response.inner.or(pressed) {
        context.state.selection.member = Some(i);
        context.state.selection.held = Some(PartId::member(i));
    }
    let pointed = model.members.iter().enumerate().position(|(i, _)| {
        response.hovered_plot_item == Some(bevy_egui::egui::Id::new(("member", i)))
    });
    if let Some(i) = pointed {
        context.state.point_at(PartId::member(i));
    }
}

/// How lengths along a member are written on the axis.
fn along_unit(units: Units) -> (f64, &'static str) {
    match units {
        Units::Mm | Units::M => (1e-3, "m"),
        Units::Inch | Units::InchFraction => (1.0 / 25.4, "in"),
        Units::FeetInchesEighths => (1.0 / 304.8, "ft"),
    }
}

/// The strain that breaks the chosen member, and what it may be bent to dry.
fn limits(plot: &mut egui_plot::PlotUi, model: &Model, chosen: usize, context: &Context) {
    let tokens = context.tokens;
    let m = &model.members[chosen];
    let breaking = 100.0 * m.limit.breaking;
    plot.hline(HLine::new("", breaking).color(tokens.stop).width(1.4));
    let words = |text: &str, colour| words_on_plot(tokens, text, colour);
    let name = format!("{} breaks", m.member.species);
    let anchor = Align2::RIGHT_BOTTOM;
    let (per_mm, _) = along_unit(context.session.hull().units);
    let right = model.members.iter().map(|m| m.length).fold(0.0, f64::max) * per_mm;
    let above = Text::new("", [right, breaking].into(), words(&name, tokens.stop)).anchor(anchor);
    let dry = m.advice.rungs.iter().find(|r| r.method == crate::bend::Method::Dry);
    if let Some(dry) = dry {
        let allowed = 100.0 * dry.allowed;
        let dashed = LineStyle::dashed_loose();
        plot.hline(HLine::new("", allowed).color(tokens.watch).width(1.4).style(dashed));
        let words = words("allowed dry", tokens.watch);
        // Below its line: the other stands above its own.
        let below = Text::new("", [right, allowed].into(), words).anchor(Align2::RIGHT_TOP);
        plot.text(below);
    }
    plot.text(above);
}

/// The member whose curve passes nearest to a place of the plot, in its own units.
fn nearest(at: Option<[f64; 2]>, model: &Model, plotted: Plotted, per_mm: f64) -> Option<usize> {
    let [x, y] = at?;
    let curves = model.members.iter().map(|m| plotted.curve(m, per_mm));
    let off = |curve: &[[f64; 2]]| {
        let near = curve.iter().min_by(|a, b| (a[0] - x).abs().total_cmp(&(b[0] - x).abs()));
        near.map_or(f64::INFINITY, |p| (p[1] - y).abs())
    };
    let distances: Vec<f64> = curves.map(|c| off(&c)).collect();
    (0..distances.len()).min_by(|a, b| distances[*a].total_cmp(&distances[*b]))
}
