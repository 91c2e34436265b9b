//! The drafting strip's lines: both views, combs, and the shape compared with.

use bevy_egui::egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, vec2};

use crate::geom::plane::Plane;
use crate::geom::{P2, P3, V3};
use crate::hull::HullLines;
use crate::panel::section;
use crate::part::LineId;
use crate::viewer::paint2d::dashes;
use crate::viewer::state::StripView;
use crate::viewer::theme::size;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::strips::layout::Layout;

/// Longest tooth of a comb, points.
const LONGEST_TOOTH: f32 = 22.0;
/// From her side in the body plan to what lies beside it, points.
const BODY_HALF: f32 = 12.0;
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
    let right = layout.body.map_or(rect.max.x, |at| {
        let half = context.model.map_or(0.0, |m| m.lines.extent(|p| p.y).1);
        at.origin.x - BODY_HALF - (half * f64::from(at.scale)) as f32
    });
    let across = rect.min.x..=right;
    painter.hline(across.clone(), layout.split, thin);
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
    painter.hline(across, layout.plan.origin.y, thin);
    ghost(painter, context, layout);
    if context.state.display.combs {
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
    body(painter, rect, context, layout);
    let tight = size::SMALL;
    for (text, y) in [("profile", rect.min.y + 12.0), ("plan", layout.split + 12.0)] {
        let at = Pos2::new(rect.min.x + 6.0, y);
        on_ground(painter, context, at, Align2::LEFT_CENTER, text, tight);
    }
    if context.session.ghost().lines != context.session.hull().lines {
        let text = match context.session.pinned() {
            true => "dashed: the pinned shape",
            false => "dashed: as last saved",
        };
        let at = Pos2::new(right - 6.0, rect.min.y + 12.0);
        on_ground(painter, context, at, Align2::RIGHT_CENTER, text, tight);
    }
}

/// Soft words that stations and lines run under.
fn on_ground(painter: &Painter, context: &Context, at: Pos2, align: Align2, text: &str, size: f32) {
    let tokens = context.tokens;
    let words = painter.layout_no_wrap(text.into(), FontId::proportional(size), tokens.soft);
    let place = align.anchor_size(at, words.size());
    painter.rect_filled(place.expand2(vec2(2.0, 0.0)), 2.0, tokens.paper);
    painter.galley(place.min, words, tokens.soft);
}

/// The body plan: sections forward of the widest at the right, the others at the left.
fn body(painter: &Painter, rect: Rect, context: &Context, layout: &Layout) {
    let (Some(at), Some(model)) = (layout.body, context.model) else {
        return;
    };
    let tokens = context.tokens;
    let half = BODY_HALF + (model.lines.extent(|p| p.y).1 * f64::from(at.scale)) as f32;
    let left = at.origin.x - half;
    let (low, high) = model.lines.extent(|p| p.z);
    let up = |z: f64| at.place(P2::new(0.0, z)).y;
    painter.vline(left, rect.y_range(), Stroke::new(1.0, tokens.rule));
    painter.vline(at.origin.x, (up(high) - 8.0)..=(up(low) + 8.0), Stroke::new(1.0, tokens.rule));
    let head = Pos2::new(left + 6.0, rect.min.y + 12.0);
    on_ground(painter, context, head, Align2::LEFT_CENTER, "body plan", size::SMALL);
    let cuts: Vec<Vec<P3>> = model
        .stations
        .iter()
        .filter_map(|x| Plane::through(P3::new(*x, 0.0, 0.0), V3::x()))
        .map(|plane| {
            let mut all: Vec<P3> = Vec::new();
            for p in &model.panels {
                all.extend(section(&p.surface, plane, 0.0));
            }
            all
        })
        .collect();
    let breadth = |cut: &[P3]| cut.iter().map(|p| p.y).fold(0.0, f64::max);
    let widest = (0..cuts.len()).max_by(|a, b| breadth(&cuts[*a]).total_cmp(&breadth(&cuts[*b])));
    let mut named: Vec<Pos2> = Vec::new();
    for (i, cut) in cuts.iter().enumerate() {
        let side = if Some(i) <= widest { 1.0 } else { -1.0 };
        let points: Vec<Pos2> = cut.iter().map(|p| at.place(P2::new(side * p.y, p.z))).collect();
        // Where heads lie close together one number is enough to tell them by.
        let clear = |top: &&Pos2| named.iter().all(|n| n.distance(**top) > 14.0);
        if let Some(top) = points.last().filter(clear) {
            named.push(*top);
            painter.text(
                *top - vec2(0.0, 3.0),
                Align2::CENTER_BOTTOM,
                format!("{}", i + 1),
                FontId::proportional(size::SMALL - 2.0),
                tokens.soft,
            );
        }
        painter.add(Shape::line(points, Stroke::new(1.3, tokens.ink)));
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
    !(line.derived || line.is(LineId::Keel) && view == StripView::Plan)
}
