//! The lines plan: profile, plan and sections on one sheet, to a scale.

use super::Line;
use super::view::{FIGURES, View, WORDS};
use crate::drawing::face::broken;
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, P3, V2};
use crate::model::Model;
use crate::part::LineId;
use crate::units::Units;

/// Scales that a rule is divided for.
const SCALES: [f64; 9] = [5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0];
/// What fits on A4 and on Letter, lying and upright, within their borders and above their
/// foot, mm.
const ROOMS: [[f64; 2]; 2] = [[257.0, 174.0], [188.0, 243.0]];
/// Room that a sheet's title takes with the gap below its notes, the height of a note's
/// capitals and of its lines, and what stands between two notes, mm.
const TITLE_ROOM: f64 = 20.0;
const NOTE: f64 = 2.4;
const LINE: f64 = 4.2;
const BETWEEN: f64 = 1.4;
/// Notes stand beside a drawing in a column at least this wide, mm.
const COLUMN: f64 = 76.0;

/// The drawing at the largest of the usual scales at which it, its words and its notes fit
/// on one sheet of A4 or Letter.
pub fn fitted(draw: impl Fn(f64) -> Drawing) -> Drawing {
    let fits = |d: &Drawing| {
        d.bounds()
            .is_none_or(|(low, high)| ROOMS.iter().any(|room| with_notes(d, high - low, *room)))
    };
    let (last, larger) = (SCALES[SCALES.len() - 1], &SCALES[..SCALES.len() - 1]);
    larger.iter().map(|s| draw(*s)).find(fits).unwrap_or_else(|| draw(last))
}

/// Whether a drawing of `size` fits with its notes above it or beside it.
fn with_notes(d: &Drawing, size: V2, [w, h]: [f64; 2]) -> bool {
    let high = |room: f64| -> f64 {
        let lines = |n: &String| broken(n, NOTE, false, room).len() as f64;
        TITLE_ROOM + d.notes.iter().map(|n| LINE * lines(n) + BETWEEN).sum::<f64>()
    };
    let above = size.x <= w && high(w) + size.y <= h;
    let beside = w - size.x - 8.0;
    above || (beside >= COLUMN && size.y <= h && high(beside) <= h)
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
    let mut v = View::new(model, "lines plan", reduced, "to the inside of the planking");
    // Room between the views and beside them.
    let gap = 14.0 * reduced;
    // The plan's centreline lies at 0, the profile's baseline above it.
    let base = half_beam + gap - low;
    let profile = |p: &P3| (p.x, base + p.z);
    let plan = |p: &P3| (p.x, p.y);
    v.line(Line::Level, &[(fore, base), (aft, base)], false);
    v.line(Line::Level, &[(fore, 0.0), (aft, 0.0)], false);
    let up = V2::new(0.0, 1.5 * FIGURES);
    for line in &lines.lines {
        let points: Vec<P3> =
            (0..=100).map(|i| line.spline.at(line.spline.end() * f64::from(i) / 100.0)).collect();
        v.line(Line::Outline, &points.iter().map(profile).collect::<Vec<_>>(), false);
        if !line.is(LineId::Keel) {
            v.line(Line::Outline, &points.iter().map(plan).collect::<Vec<_>>(), false);
        }
        let last = points[points.len() - 1];
        // A flat bottom's keel is its chine's profile: one name is enough.
        if !line.derived {
            let shift = (V2::new(1.5, -0.8), up);
            v.label(profile(&last), shift, (Anchor::Left, FIGURES), line.id.to_string());
        }
    }
    let shift = (V2::new(1.5, -0.8), up);
    let before = (V2::new(-9.0, -0.8), up);
    v.label((fore, base), before, (Anchor::Middle, FIGURES), "baseline");
    v.label((aft, 0.0), shift, (Anchor::Left, FIGURES), "centreline");
    for at_stern in [false, true] {
        let points = super::offsets_table::end_points(model, at_stern);
        v.line(Line::Outline, &points.iter().map(profile).collect::<Vec<_>>(), false);
        v.line(Line::Outline, &points.iter().map(plan).collect::<Vec<_>>(), false);
    }
    for (i, x) in model.stations.iter().enumerate() {
        v.line(Line::Station, &[(*x, base + low), (*x, base + high)], false);
        v.line(Line::Station, &[(*x, 0.0), (*x, half_beam)], false);
        let number = (i + 1).to_string();
        v.label((*x, half_beam), (V2::new(0.0, 1.2), up), (Anchor::Middle, WORDS), number);
        let down = (V2::new(0.0, -3.6), -up);
        v.label((*x, 0.0), down, (Anchor::Middle, FIGURES), units.show(*x));
    }
    let top = base + high;
    v.dimension(((fore, top), (aft, top)), 5.0, format!("length {}", units.show(length)));
    // Sections on the profile's own heights, their afterbody clear of the words beside it.
    let middle = aft + half_beam + 24.0 * reduced;
    v.line(Line::Level, &[(middle, base + low), (middle, base + high)], false);
    super::body_plan::draw(&mut v, model, (middle, base));
    offsets_of_ends(&mut v, model, units, (fore, aft));
    v.d.note(format!(
        "Length {}, beam {}, depth {}.",
        units.show(length),
        units.show(2.0 * half_beam),
        units.show(depth)
    ));
    v.d.note(format!("Stations count from the bow and are measured from {}; sections of her forward half at the right, of her after half at the left.", super::measured_from(model, units)));
    v.finished(units)
}

/// Where every line ends at bow and stern: aft of the bow, out, up.
fn offsets_of_ends(v: &mut View, model: &Model, units: Units, (fore, aft): (f64, f64)) {
    let columns = ["aft of the bow", "half-breadth", "height"];
    // Side by side, the second clear of the first on a short boat too.
    let first = v.at(fore, 0.0).x;
    let second = v.at(0.5 * (fore + aft), 0.0).x.max(first + 90.0);
    for (at_stern, x) in [(false, first), (true, second)] {
        let mut at = P2::new(x, -12.0);
        let mut row = |name: &str, cells: [String; 3]| {
            v.d.text(Line::Text, at, FIGURES, 0.0, Anchor::Left, name);
            for (j, cell) in cells.into_iter().enumerate() {
                let place = at + V2::new(27.0 + 21.0 * j as f64, 0.0);
                v.d.text(Line::Text, place, FIGURES, 0.0, Anchor::Middle, cell);
            }
            at -= V2::new(0.0, 1.9 * FIGURES);
        };
        row(super::offsets_table::end_word(model, at_stern), columns.map(String::from));
        let points = super::offsets_table::end_points(model, at_stern);
        for (line, p) in model.lines.lines.iter().zip(points) {
            row(&line.id.to_string(), [p.x, p.y, p.z].map(|mm| units.show(mm)));
        }
    }
}
