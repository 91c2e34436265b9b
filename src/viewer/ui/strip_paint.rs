//! The drafting strip's lines: both views, combs, and the shape compared with.

use bevy_egui::egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, vec2};

use super::Context;
use super::state::StripView;
use super::strip::Layout;
use super::style::size;
use crate::geom::P2;
use crate::hull::HullLines;
use crate::viewer::paint2d::dashes;

/// Longest tooth of a comb, points.
const LONGEST_TOOTH: f32 = 22.0;
/// Points of a line as drawn.
const SAMPLES: usize = 72;

/// A line as drawn in a view.
pub fn line_in_view(layout: &Layout, view: StripView, spline: &crate::curve::Spline) -> Vec<Pos2> {
    (0..=SAMPLES)
        .map(|i| spline.at(spline.end() * i as f64 / SAMPLES as f64))
        .map(|p| layout.of(view).place(P2::from(view.flatten(p.coords))))
        .collect()
}

/// Everything but the ducks.
pub fn paint(painter: &Painter, rect: Rect, context: &Context, lines: &HullLines, layout: &Layout) {
    let tokens = context.tokens;
    let thin = Stroke::new(1.0, tokens.rule);
    painter.hline(rect.x_range(), layout.split, thin);
    // Stations, and the two base lines.
    for (i, x) in context.model.iter().flat_map(|m| &m.stations).enumerate() {
        let at = layout.profile.place(P2::new(*x, 0.0)).x;
        painter.vline(at, rect.y_range(), Stroke::new(0.6, tokens.rule));
        painter.text(
            Pos2::new(at + 3.0, rect.max.y - 2.0),
            Align2::LEFT_BOTTOM,
            format!("{}", i + 1),
            FontId::proportional(size::SMALL - 2.0),
            tokens.soft,
        );
    }
    painter.hline(rect.x_range(), layout.plan.origin.y, thin);
    for (text, y) in [("profile", rect.min.y + 12.0), ("plan", layout.split + 12.0)] {
        painter.text(
            Pos2::new(rect.min.x + 6.0, y),
            Align2::LEFT_CENTER,
            text,
            FontId::proportional(size::SMALL),
            tokens.soft,
        );
    }
    ghost(painter, context, layout);
    if context.state.combs {
        combs(painter, context, layout);
    }
    for view in [StripView::Profile, StripView::Plan] {
        for line in &lines.lines {
            if !drawn_in(line, view) {
                continue;
            }
            painter.add(Shape::line(
                line_in_view(layout, view, &line.spline),
                Stroke::new(1.6, tokens.ink),
            ));
        }
        ends(painter, layout, view, lines, tokens.ink);
    }
}

/// Stem and transom: the lines' ends joined.
fn ends(painter: &Painter, layout: &Layout, view: StripView, lines: &HullLines, ink: Color32) {
    for at_bow in [true, false] {
        let points: Vec<Pos2> = lines
            .lines
            .iter()
            .map(|l| l.spline.at(if at_bow { 0.0 } else { l.spline.end() }))
            .map(|p| layout.of(view).place(P2::from(view.flatten(p.coords))))
            .collect();
        painter.add(Shape::line(points, Stroke::new(1.2, ink)));
    }
}

/// The shape compared with, pinned or last saved, dashed.
fn ghost(painter: &Painter, context: &Context, layout: &Layout) {
    if context.session.ghost().lines == context.session.hull().lines {
        return;
    }
    let Ok(saved) = HullLines::of(context.session.ghost()) else {
        return;
    };
    for view in [StripView::Profile, StripView::Plan] {
        for line in saved.lines.iter().filter(|l| !l.derived) {
            for dash in dashes(&line_in_view(layout, view, &line.spline), &[5.0, 4.0]) {
                painter.add(Shape::line(
                    dash,
                    Stroke::new(1.0, context.tokens.soft.gamma_multiply(0.7)),
                ));
            }
        }
    }
}

/// Curvature combs of the last good model, all at one scale in each view.
fn combs(painter: &Painter, context: &Context, layout: &Layout) {
    let Some(model) = context.model else {
        return;
    };
    let colour = context.tokens.chalk.gamma_multiply(0.45);
    for view in [StripView::Profile, StripView::Plan] {
        let shown: Vec<&[crate::curve::CombTooth]> = model
            .lines
            .lines
            .iter()
            .zip(&model.fairness)
            .filter(|(l, _)| drawn_in(l, view))
            .map(|(_, f)| match view {
                StripView::Plan => f.plan.comb.as_slice(),
                StripView::Profile => f.profile.comb.as_slice(),
            })
            .collect();
        let most = shown.iter().copied().flatten().map(|t| t.curvature.abs()).fold(0.0, f64::max);
        if most <= 0.0 {
            continue;
        }
        for comb in &shown {
            let mut tips = Vec::with_capacity(comb.len());
            for tooth in *comb {
                let root = layout.of(view).place(tooth.at);
                let length = LONGEST_TOOTH * (tooth.curvature / most) as f32;
                let tip = root - vec2(tooth.normal.x as f32, -tooth.normal.y as f32) * length;
                painter.line_segment([root, tip], Stroke::new(0.7, colour));
                tips.push(tip);
            }
            painter.add(Shape::line(tips, Stroke::new(1.0, colour)));
        }
    }
}

/// Whether a line is drawn in a view: a keel is the centreline in plan, and the keel of a
/// flat bottom the chine's own profile.
fn drawn_in(line: &crate::hull::HullLine, view: StripView) -> bool {
    !(line.derived || line.name == "keel" && view == StripView::Plan)
}
