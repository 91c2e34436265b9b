//! What the plots in the strip share: axes with round figures that stand clear of one another,
//! and a key beside the curves instead of on them.

use std::ops::RangeInclusive;

use bevy_egui::egui::{self, Color32, FontId, Rangef, RichText, Sense, Shape, Stroke, Ui, vec2};
use egui_plot::{AxisHints, GridInput, GridMark, LineStyle, Plot};

use crate::viewer::theme::{Tokens, size};

/// Points between two figures of an axis: across, up.
const BETWEEN: [f64; 2] = [70.0, 32.0];
/// Points between the finest lines that the plots' library offers.
const FINEST: f64 = 8.0;
/// What the axes themselves take of a plot's breadth and height, points.
const AXES: (f32, f32) = (60.0, 44.0);
/// Half the breadth of the widest figure on the axis across, points.
const EDGE: f64 = 18.0;
/// Breadth of a key, points, and the least plot beside which there is room for one.
const KEY: f32 = 176.0;
/// Height of a key in a row above a narrow plot, points.
const KEY_ROW: f32 = 18.0;
/// Breadth of a line in it with the room round it, points.
const KEY_LINE: f32 = 50.0;
const LEAST: (f32, f32) = (420.0, 90.0);

/// A plot with both axes named, each by the first of its names that has room; by none where
/// none has.
pub fn axes<'a>(
    ui: &Ui,
    name: impl std::hash::Hash + std::fmt::Debug,
    x: [&str; 2],
    y: [&str; 2],
) -> Plot<'a> {
    let font = FontId::proportional(size::SMALL);
    let named = |names: [&str; 2], room: f32| {
        let wide = |text: &str| {
            ui.painter().layout_no_wrap(text.into(), font.clone(), Color32::BLACK).size().x
        };
        names.into_iter().find(|n| wide(n) < room).unwrap_or_default().to_string()
    };
    let (x, y) =
        (named(x, ui.available_width() - AXES.0), named(y, ui.available_height() - AXES.1));
    let (x, y) = (x.as_str(), y.as_str());
    let words = |text: &str| RichText::new(text).font(FontId::proportional(size::SMALL));
    let figures = FontId::monospace(size::SMALL);
    let hints = |axis: AxisHints<'static>, text: &str, least: f32| {
        axis.label(words(text))
            .formatter(figure)
            .tick_label_font(figures.clone())
            .label_spacing(Rangef::new(least, least + 4.0))
    };
    Plot::new(name)
        .custom_x_axes(vec![hints(AxisHints::new_x(), x, 40.0)])
        .custom_y_axes(vec![hints(AxisHints::new_y(), y, 18.0)])
        .x_grid_spacer(|input| clear_of_the_edge(&input, marks(&input, BETWEEN[0])))
        .y_grid_spacer(|input| marks(&input, BETWEEN[1]))
        .allow_scroll(false)
        .include_y(0.0)
        .set_margin_fraction([0.02, 0.12].into())
}

/// Words within a plot, on a ground of their own: curves and the net run under them. To be
/// added after all lines.
pub fn words_on_plot(tokens: &Tokens, text: impl Into<String>, colour: Color32) -> RichText {
    RichText::new(text).size(size::SMALL).color(colour).background_color(tokens.paper)
}

/// The least of 1, 2, 5, 10 … (and their tenths) that is no less than `least`.
fn round_step(least: f64) -> f64 {
    let power = 10f64.powf(least.log10().floor());
    let times = [1.0, 2.0, 5.0, 10.0].into_iter().find(|t| t * power >= least * (1.0 - 1e-9));
    times.unwrap_or(10.0) * power
}

fn marks(input: &GridInput, between: f64) -> Vec<GridMark> {
    let least = input.base_step_size * between / FINEST;
    if !(least.is_finite() && least > 0.0) {
        return Vec::new();
    }
    let step_size = round_step(least);
    let (from, to) = input.bounds;
    let (first, last) = ((from / step_size).ceil(), (to / step_size).floor());
    // No more than a plot can show.
    let count = (last - first).clamp(0.0, 200.0) as i32;
    (0..=count).map(|k| GridMark { value: (first + f64::from(k)) * step_size, step_size }).collect()
}

/// Without what stands so near the right edge that its figure would be cut.
fn clear_of_the_edge(input: &GridInput, mut marks: Vec<GridMark>) -> Vec<GridMark> {
    let least = input.base_step_size / FINEST * EDGE;
    marks.retain(|m| input.bounds.1 - m.value >= least);
    marks
}

/// A figure of an axis, with the decimals that its step has.
fn figure(mark: GridMark, _: &RangeInclusive<f64>) -> String {
    let decimals = (-mark.step_size.log10()).ceil().max(0.0) as i32;
    let value = crate::units::tidy_zero(mark.value, decimals);
    format!("{value:.*}", decimals as usize)
}

/// A curve in the key.
#[derive(Debug, Clone)]
pub struct Entry {
    /// Its name.
    pub name: String,
    /// Its colour.
    pub colour: Color32,
    /// Breadth of its line, points.
    pub width: f32,
    /// How it is drawn.
    pub style: LineStyle,
}

/// Looks for curves that are told apart without colour too: the `k`th of several.
pub fn look(tokens: &Tokens, k: usize) -> (Color32, LineStyle) {
    let colours = [tokens.ink, tokens.holds, tokens.watch];
    let styles = [LineStyle::Solid, LineStyle::dashed_dense(), LineStyle::dotted_dense()];
    (colours[k % colours.len()], styles[(k + k / styles.len()) % styles.len()])
}

/// A plot with a key at its right where there is room, or in a row above it; which entry was
/// pressed.
pub fn beside_key<R>(
    ui: &mut Ui,
    tokens: &Tokens,
    entries: &[Entry],
    plot: impl FnOnce(&mut Ui) -> R,
) -> (R, Option<usize>) {
    let (width, height) = (ui.available_width(), ui.available_height());
    let mut pressed = None;
    if width < LEAST.0 + KEY || height < LEAST.1 {
        // Not beside it: in a row above, if the plot keeps its height.
        if !entries.is_empty() {
            let wide = |e: &Entry| {
                let font = FontId::proportional(size::SMALL);
                ui.painter().layout_no_wrap(e.name.clone(), font, tokens.ink).size().x + KEY_LINE
            };
            let widths: Vec<f32> = entries.iter().map(wide).collect();
            let rows = 1.0 + (widths.iter().sum::<f32>() / width).floor();
            if height > LEAST.1 + rows * KEY_ROW {
                ui.horizontal_wrapped(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    for (k, (entry, wide)) in entries.iter().zip(widths).enumerate() {
                        let place = vec2(wide.min(width), KEY_ROW);
                        if ui.allocate_ui(place, |ui| row(ui, tokens, entry)).inner {
                            pressed = Some(k);
                        }
                    }
                });
            }
        }
        return (plot(ui), pressed);
    }
    let shown = ui.horizontal_top(|ui| {
        let shown = ui
            .allocate_ui(vec2(width - KEY, height), |ui| {
                ui.set_min_size(vec2(width - KEY, height));
                plot(ui)
            })
            .inner;
        egui::ScrollArea::vertical().id_salt("key").max_height(height).show(ui, |ui| {
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 2.0;
                for (k, entry) in entries.iter().enumerate() {
                    if row(ui, tokens, entry) {
                        pressed = Some(k);
                    }
                }
            });
        });
        shown
    });
    (shown.inner, pressed)
}

fn row(ui: &mut Ui, tokens: &Tokens, entry: &Entry) -> bool {
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(vec2(30.0, 16.0), Sense::hover());
        let ends = [rect.left_center(), rect.right_center()];
        let stroke = Stroke::new(entry.width, entry.colour);
        match entry.style {
            LineStyle::Solid => {
                ui.painter().line_segment(ends, stroke);
            }
            LineStyle::Dotted { spacing } => {
                ui.painter().extend(Shape::dotted_line(&ends, entry.colour, spacing, entry.width));
            }
            LineStyle::Dashed { length } => {
                ui.painter().extend(Shape::dashed_line(&ends, stroke, length, 0.6 * length));
            }
        }
        let words = RichText::new(&entry.name).size(size::SMALL).color(tokens.ink);
        let label = egui::Label::new(words).truncate().selectable(false).sense(Sense::click());
        ui.add(label).clicked()
    })
    .inner
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::viewer::theme;

    #[test]
    fn figures_of_an_axis_are_round_and_show_the_decimals_of_their_step() {
        for (least, step) in [(0.11, 0.2), (0.2, 0.2), (0.21, 0.5), (3.0, 5.0), (70.0, 100.0)] {
            assert!((round_step(least) - step).abs() < 1e-12, "{least}: {}", round_step(least));
        }
        let input = GridInput { bounds: (-0.05, 0.81), base_step_size: 0.04 };
        let shown: Vec<String> =
            marks(&input, 32.0).into_iter().map(|m| figure(m, &(0.0..=1.0))).collect();
        assert_eq!(shown, ["0.0", "0.2", "0.4", "0.6", "0.8"]);
        let input = GridInput { bounds: (0.0, 90.0), base_step_size: 1.0 };
        let shown: Vec<String> =
            marks(&input, 70.0).into_iter().map(|m| figure(m, &(0.0..=1.0))).collect();
        assert_eq!(shown, ["0", "10", "20", "30", "40", "50", "60", "70", "80", "90"]);
        let flat = GridInput { bounds: (0.0, 0.0), base_step_size: 0.0 };
        assert!(marks(&flat, 32.0).is_empty());
    }

    #[test]
    fn no_two_of_nine_curves_look_alike() {
        let looks: Vec<_> = (0..9).map(|k| look(&theme::LIGHT, k)).collect();
        for (i, a) in looks.iter().enumerate() {
            assert!(looks[i + 1..].iter().all(|b| a != b), "{i}");
        }
    }
}
