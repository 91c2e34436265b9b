//! Strain along each member, in the strip: where it is tight.

use bevy_egui::egui::{Align2, FontId, Pos2, Rect, Sense, Shape, Stroke, Ui, pos2};

use super::Context;
use super::state::Piece;
use super::style::size;

/// Room for axes, points.
const LEFT: f32 = 64.0;
const BOTTOM: f32 = 34.0;
const TOP: f32 = 26.0;

/// Shows the plot: strain in percent over the distance along the line.
pub fn show(ui: &mut Ui, context: &mut Context) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click());
    let painter = ui.painter_at(rect);
    let tokens = context.tokens;
    let Some(model) = context.model.filter(|m| !m.members.is_empty()) else {
        painter.text(
            rect.center(),
            Align2::CENTER_CENTER,
            "This hull has no members on its lines.",
            FontId::proportional(size::BODY),
            tokens.soft,
        );
        return;
    };
    let units = context.session.hull().units;
    let plot = Rect::from_min_max(
        rect.min + bevy_egui::egui::vec2(LEFT, TOP),
        rect.max - bevy_egui::egui::vec2(24.0, BOTTOM),
    );
    let longest = model.members.iter().map(|m| m.length).fold(1.0, f64::max);
    let chosen = context.state.member.min(model.members.len() - 1);
    let breaking = model.members[chosen].breaking_strain;
    let most = model.members.iter().map(|m| m.peak_strain).fold(0.0, f64::max).max(1.15 * breaking);
    let place = |s: f64, strain: f64| -> Pos2 {
        pos2(
            plot.min.x + plot.width() * (s / longest) as f32,
            plot.max.y - plot.height() * (strain / most) as f32,
        )
    };
    let small = FontId::proportional(size::SMALL);
    painter.text(
        pos2(rect.min.x + 6.0, rect.min.y + 10.0),
        Align2::LEFT_CENTER,
        "strain of the worst fibre, %",
        small.clone(),
        tokens.soft,
    );
    painter.text(
        pos2(plot.max.x, rect.min.y + 10.0),
        Align2::RIGHT_CENTER,
        "along the line from the bow",
        small.clone(),
        tokens.soft,
    );
    let step = nice_step(100.0 * most / 4.0);
    let mut percent = 0.0;
    while percent <= 100.0 * most {
        let y = place(0.0, percent / 100.0).y;
        painter.hline(plot.x_range(), y, Stroke::new(0.8, tokens.rule));
        painter.text(
            pos2(plot.min.x - 8.0, y),
            Align2::RIGHT_CENTER,
            format!("{percent:.1}"),
            FontId::monospace(size::SMALL),
            tokens.ink,
        );
        percent += step;
    }
    for k in 0..=4 {
        let s = longest * f64::from(k) / 4.0;
        let x = place(s, 0.0).x;
        painter.vline(x, plot.y_range(), Stroke::new(0.8, tokens.rule));
        painter.text(
            pos2(x, plot.max.y + 4.0),
            if k == 4 { Align2::RIGHT_TOP } else { Align2::CENTER_TOP },
            units.show(s),
            FontId::monospace(size::SMALL),
            tokens.ink,
        );
    }
    let dry = model.members[chosen].advice.rungs.first().map_or(breaking, |r| r.allowed);
    for (strain, word, colour) in
        [(breaking, "half break", tokens.stop), (dry, "bends dry", tokens.holds)]
    {
        let y = place(0.0, strain).y;
        painter.hline(plot.x_range(), y, Stroke::new(1.4, colour));
        painter.text(
            pos2(plot.max.x - 4.0, y - 2.0),
            Align2::RIGHT_BOTTOM,
            word,
            small.clone(),
            colour,
        );
    }
    let mut nearest: Option<(f32, usize)> = None;
    for (i, m) in model.members.iter().enumerate() {
        let points: Vec<Pos2> = m.along.iter().map(|a| place(a.at, a.strain)).collect();
        if let Some(p) = response.hover_pos() {
            let d = points.iter().map(|q| (*q - p).length()).fold(f32::INFINITY, f32::min);
            if d < 14.0 && nearest.is_none_or(|n| d < n.0) {
                nearest = Some((d, i));
            }
        }
        let lit = i == chosen || context.state.lit == Some(Piece::Member(i));
        let stroke =
            if lit { Stroke::new(2.2, tokens.chalk) } else { Stroke::new(1.2, tokens.soft) };
        painter.add(Shape::line(points, stroke));
        let peak = place(m.peak_at, m.peak_strain);
        let anchor =
            if peak.x > plot.center().x { Align2::RIGHT_BOTTOM } else { Align2::LEFT_BOTTOM };
        painter.circle_filled(peak, 3.5, stroke.color);
        // Curves lie close together: name the ones in hand, the others on pointing.
        if !lit {
            continue;
        }
        painter.text(
            peak - bevy_egui::egui::vec2(0.0, 4.0),
            anchor,
            &m.member.name,
            small.clone(),
            stroke.color,
        );
    }
    if let Some((_, i)) = nearest {
        context.state.lit = Some(Piece::Member(i));
        if response.clicked() {
            context.state.member = i;
        }
    }
}

/// A step of 1, 2 or 5 times a power of ten, at least `rough`.
fn nice_step(rough: f64) -> f64 {
    let power = 10f64.powf(rough.max(1e-9).log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|m| m * power)
        .find(|s| *s >= rough)
        .unwrap_or(10.0 * power)
}
