//! The lines plan: profile, plan and sections on one sheet, to a scale.

use super::layer::{CHECK, DIMENSION, LEVEL, OUTLINE, STATION, TEXT};
use super::layers;
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::units::Units;

/// Scales that a rule is divided for.
const SCALES: [f64; 9] = [5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0];
/// What fits on A4 and on Letter lying, within their borders and above their foot, mm.
const ROOM: [f64; 2] = [257.0, 174.0];
/// Heights of text on paper, mm.
const WORDS: f64 = 2.6;
const FIGURES: f64 = 2.0;

/// The drawing at the largest of the usual scales at which it, words and all, fits on one
/// sheet of A4 or Letter.
pub fn fitted(draw: impl Fn(f64) -> Drawing) -> Drawing {
    let fits = |d: &Drawing| {
        d.bounds().is_none_or(|(low, high)| high.x - low.x <= ROOM[0] && high.y - low.y <= ROOM[1])
    };
    let (last, larger) = (SCALES[SCALES.len() - 1], &SCALES[..SCALES.len() - 1]);
    larger.iter().map(|s| draw(*s)).find(fits).unwrap_or_else(|| draw(last))
}

/// Profile above plan, sections at the right; lengths written in `units`.
pub fn lines_plan(model: &Model, units: Units) -> Drawing {
    fitted(|reduced| at_scale(model, units, reduced))
}

fn at_scale(model: &Model, units: Units, reduced: f64) -> Drawing {
    let lines = &model.lines;
    let (fore, aft) = lines.extent(|p| p.x);
    let (low, high) = lines.extent(|p| p.z);
    let half_beam = 0.5 * lines.beam_overall();
    let (length, depth) = (aft - fore, high - low);
    let k = 1.0 / reduced;
    let mut d = Drawing::new(
        format!("{}: lines plan", model.hull.name),
        "to the inside of the planking",
        layers(),
    );
    d.reduced = reduced;
    let gap = 14.0;
    // Profile's baseline and plan's centreline on paper.
    let (base, centre) = (k * half_beam + gap, 0.0);
    let profile = |x: f64, z: f64| P2::new(k * (x - fore), base + k * (z - low));
    let plan = |x: f64, y: f64| P2::new(k * (x - fore), centre + k * y);
    d.line(LEVEL, profile(fore, 0.0f64.max(low)), profile(aft, 0.0f64.max(low)));
    d.line(LEVEL, plan(fore, 0.0), plan(aft, 0.0));
    for line in &lines.lines {
        let points: Vec<_> =
            (0..=100).map(|i| line.spline.at(line.spline.end() * f64::from(i) / 100.0)).collect();
        d.polyline(OUTLINE, points.iter().map(|p| profile(p.x, p.z)).collect(), false);
        if line.name != "keel" {
            d.polyline(OUTLINE, points.iter().map(|p| plan(p.x, p.y)).collect(), false);
        }
        let last = points[points.len() - 1];
        // A flat bottom's keel is its chine's profile: one name is enough.
        if !line.derived {
            let at = profile(last.x, last.z) + V2::new(1.5, -0.8);
            d.text(TEXT, at, FIGURES, 0.0, Anchor::Left, line.name.clone());
        }
    }
    ends(&mut d, model, &profile, &plan);
    for (i, x) in model.stations.iter().enumerate() {
        d.line(STATION, profile(*x, low), profile(*x, high));
        d.line(STATION, plan(*x, 0.0), plan(*x, half_beam));
        let at = plan(*x, half_beam) + V2::new(0.0, 1.2);
        d.text(TEXT, at, WORDS, 0.0, Anchor::Middle, (i + 1).to_string());
        let at = plan(*x, 0.0) - V2::new(0.0, 3.6);
        d.text(TEXT, at, FIGURES, 0.0, Anchor::Middle, units.show(*x));
    }
    sections(&mut d, model, k * (length + 1.25 * half_beam) + gap, base, k, low);
    let top = profile(fore, high) + V2::new(0.0, 5.0);
    let right = profile(aft, high) + V2::new(0.0, 5.0);
    d.dimension(DIMENSION, (top, right), 0.0, FIGURES, format!("length {}", units.show(length)));
    let words = vec![
        format!(
            "length {}, beam {}, depth {}",
            units.show(length),
            units.show(2.0 * half_beam),
            units.show(depth)
        ),
        "stations count from the bow; forward sections at the right, after ones at the left".into(),
    ];
    d.words(TEXT, plan(fore, 0.0) - V2::new(0.0, 10.0), WORDS, &words);
    d
}

/// Stem and transom: from the lowest line's end to the highest's.
fn ends(
    d: &mut Drawing,
    model: &Model,
    profile: &dyn Fn(f64, f64) -> P2,
    plan: &dyn Fn(f64, f64) -> P2,
) {
    for at_bow in [true, false] {
        let points: Vec<_> = model
            .lines
            .lines
            .iter()
            .map(|l| l.spline.at(if at_bow { 0.0 } else { l.spline.end() }))
            .collect();
        d.polyline(OUTLINE, points.iter().map(|p| profile(p.x, p.z)).collect(), false);
        d.polyline(OUTLINE, points.iter().map(|p| plan(p.x, p.y)).collect(), false);
    }
}

/// All frames' sections over each other about one centreline.
fn sections(d: &mut Drawing, model: &Model, centre: f64, base: f64, k: f64, low: f64) {
    let frames = &model.woodwork.frames;
    let widest = frames
        .iter()
        .max_by(|a, b| a.section.half_area().total_cmp(&b.section.half_area()))
        .map_or(0.0, |f| f.x);
    let high = model.lines.extent(|p| p.z).1;
    d.line(LEVEL, P2::new(centre, base), P2::new(centre, base + k * (high - low)));
    for f in frames {
        let side = if f.x <= widest { 1.0 } else { -1.0 };
        let half = f.section.half();
        let at = |p: &P2| P2::new(centre + side * k * p.x, base + k * (p.y - low));
        d.polyline(CHECK, half.iter().map(at).collect(), false);
        if let Some(head) = half.last() {
            let at = at(head) + V2::new(side * 1.2 - 0.8, 0.6);
            d.text(TEXT, at, FIGURES, 0.0, Anchor::Left, f.station.to_string());
        }
    }
}
