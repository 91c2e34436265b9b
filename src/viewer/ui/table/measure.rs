//! Measuring between two points of a pattern; the points snap to what is drawn.

use bevy_egui::egui::{self, Align2, Pos2, Shape, Stroke, Ui, vec2};

use crate::drawing::{Drawing, Shape as Drawn};
use crate::geom::P2;
use crate::geom::segment::nearest;
use crate::viewer::paint2d::Placement;
use crate::viewer::ui::context::Context;
use crate::viewer::ui::table::{kept, tag};

/// Points within which the pointer snaps.
const REACH: f32 = 10.0;
/// A closed outline turns by more than this (radians) at a corner.
const CORNER: f64 = 0.35;

/// What a point snapped to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caught {
    /// A corner of an outline.
    Corner,
    /// The end of a mark.
    End,
    /// Somewhere along a line.
    Line,
    /// Nothing: the bare place.
    Nothing,
}

impl Caught {
    fn word(self) -> &'static str {
        match self {
            Caught::Corner => "corner",
            Caught::End => "end of a mark",
            Caught::Line => "on a line",
            Caught::Nothing => "",
        }
    }
}

/// The place of the drawing that `at` means: a corner or an end within `reach` mm before
/// the nearest point of a line within it.
pub fn snap(drawing: &Drawing, at: P2, reach: f64) -> (P2, Caught) {
    let mut points: Option<(f64, P2, Caught)> = None;
    let mut on_line: Option<(f64, P2)> = None;
    for item in &drawing.items {
        let Drawn::Polyline { points: run, closed } = &item.shape else {
            continue;
        };
        let n = run.len();
        let mut offer = |p: P2, caught: Caught| {
            let d = (p - at).norm();
            if d <= reach && points.is_none_or(|b| d < b.0) {
                points = Some((d, p, caught));
            }
        };
        if *closed {
            for k in 0..n {
                let (a, b) = (run[k] - run[(k + n - 1) % n], run[(k + 1) % n] - run[k]);
                if a.perp(&b).atan2(a.dot(&b)).abs() > CORNER {
                    offer(run[k], Caught::Corner);
                }
            }
        } else if let (Some(first), Some(last)) = (run.first(), run.last()) {
            offer(*first, Caught::End);
            offer(*last, Caught::End);
        }
        let pieces = if *closed { n } else { n.saturating_sub(1) };
        for k in 0..pieces {
            let p = nearest(at, run[k], run[(k + 1) % n]);
            let d = (p - at).norm();
            if d <= reach && on_line.is_none_or(|b| d < b.0) {
                on_line = Some((d, p));
            }
        }
    }
    match (points, on_line) {
        (Some((_, p, caught)), _) => (p, caught),
        (None, Some((_, p))) => (p, Caught::Line),
        (None, None) => (at, Caught::Nothing),
    }
}

/// Takes points where the table is clicked and shows the distances.
pub fn show(
    ui: &Ui,
    context: &mut Context,
    drawing: &Drawing,
    at: Placement,
    response: &egui::Response,
) {
    let painter = ui.painter_at(response.rect);
    let tokens = context.tokens;
    let units = context.session.hull().units;
    let chalk = Stroke::new(1.8, tokens.chalk);
    // With the keys: the middle of the table is pointed at, the arrows move the pattern
    // under it, Enter takes the point.
    let by_keys = response.has_focus().then(|| response.rect.center());
    let pointed = response
        .hover_pos()
        .or(by_keys)
        .map(|p| snap(drawing, at.point(p), f64::from(REACH / at.scale)));
    let measured = &mut context.state.table.measured;
    if let Some((p, _)) = pointed.filter(|_| response.clicked()) {
        if measured.len() >= 2
            && measured.len().is_multiple_of(2)
            && !ui.input(|i| i.modifiers.shift)
        {
            // A new distance takes the last one's place; with Shift it is put beside it.
            measured.clear();
        }
        measured.push(kept(p));
    }
    let points: Vec<P2> = measured.iter().map(|p| P2::new(p[0], p[1])).collect();
    for pair in points.chunks(2) {
        let from = pair[0];
        let to = match pair.get(1) {
            Some(to) => *to,
            None => match pointed {
                Some((p, _)) => p,
                None => continue,
            },
        };
        let (a, b) = (at.place(from), at.place(to));
        painter.line_segment([a, b], chalk);
        for end in [a, b] {
            painter.circle_stroke(end, 4.0, chalk);
        }
        let d = to - from;
        let text = format!(
            "{}   {} along · {} across",
            units.show(d.norm()),
            units.show(d.x.abs()),
            units.show(d.y.abs())
        );
        tag(&painter, context, middle(a, b), Align2::CENTER_BOTTOM, &text);
    }
    if let Some((p, caught)) = pointed {
        let s = at.place(p);
        painter.add(Shape::circle_stroke(s, 5.0, Stroke::new(1.4, tokens.chalk)));
        if !caught.word().is_empty() {
            tag(&painter, context, s + vec2(12.0, 14.0), Align2::LEFT_TOP, caught.word());
        }
    }
    if points.is_empty() {
        let foot = Pos2::new(response.rect.center().x, response.rect.max.y - 16.0);
        let hint =
            "Click two points, or move the pattern under the middle by the arrows and press Enter.";
        tag(&painter, context, foot, Align2::CENTER_BOTTOM, hint);
    }
}

fn middle(a: Pos2, b: Pos2) -> Pos2 {
    a + 0.5 * (b - a) - vec2(0.0, 8.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::compose::{Line, layers, panel_pattern};
    use crate::hull::starters::demonstration;
    use crate::material::Materials;
    use crate::model::derive;
    use crate::units::Units;

    fn l_shape() -> Drawing {
        let mut d = Drawing::new("L", "", layers());
        let l = [
            (0.0, 0.0),
            (200.0, 0.0),
            (200.0, 100.0),
            (100.0, 100.0),
            (100.0, 200.0),
            (0.0, 200.0),
        ];
        d.polyline(Line::Cut, l.iter().map(|&(x, y)| P2::new(x, y)).collect(), true);
        d.line(Line::Station, P2::new(50.0, 3.0), P2::new(50.0, 190.0));
        d
    }

    #[test]
    fn a_corner_wins_over_a_line_and_a_line_over_nothing() {
        let d = l_shape();
        assert_eq!(snap(&d, P2::new(196.0, 3.0), 8.0), (P2::new(200.0, 0.0), Caught::Corner));
        assert_eq!(snap(&d, P2::new(52.0, 187.0), 8.0), (P2::new(50.0, 190.0), Caught::End));
        assert_eq!(snap(&d, P2::new(150.0, 4.0), 8.0), (P2::new(150.0, 0.0), Caught::Line));
        assert_eq!(snap(&d, P2::new(150.0, 50.0), 8.0).1, Caught::Nothing);
    }

    /// Corner to corner by snapping gives the check dimension written on the pattern.
    #[test]
    fn measuring_a_diagonal_gives_the_written_one() {
        let model =
            derive(&demonstration(), &Materials::shipped()).expect("the demonstration hull");
        let mut hull = model.hull.clone();
        hull.planking.trim_allowance_mm = 0.0;
        let model = derive(&hull, &Materials::shipped()).expect("the same without an allowance");
        for p in &model.panels {
            let drawn = panel_pattern(&model, p, &[], Units::Mm);
            for d in crate::drawing::compose::panel::diagonals(p) {
                let (name, a, b) = (format!("{} to {}", d.from, d.to), d.a, d.b);
                // Nearer than the waterline, which meets the stem close to a corner.
                let off = crate::geom::V2::new(0.5, -0.5);
                let (from, to) = (snap(&drawn, a + off, 5.0).0, snap(&drawn, b + off, 5.0).0);
                let found = (to - from).norm();
                assert!((found - (b - a).norm()).abs() < 0.5, "{} {name}: {found}", p.name);
            }
        }
    }
}
