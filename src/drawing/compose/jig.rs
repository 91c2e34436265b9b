//! The strongback in plan and elevation, to a scale, with the figures that a carpenter sets
//! it up by.

use super::layer::{CHECK, DIMENSION, LEVEL, MEMBER, OUTLINE, PLATE, STATION, TEXT};
use super::{layers, lines_plan::fitted};
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::hull::Face;
use crate::model::Model;
use crate::setup::{Stand, Strongback};
use crate::units::Units;

/// Heights of text on paper, mm.
const WORDS: f64 = 2.6;
const FIGURES: f64 = 2.0;
/// The table below a view, mm of paper: rows, its first column, the others, and how many
/// frames stand in one band of it.
const ROW: f64 = 4.2;
const FIRST: f64 = 38.0;
const COLUMN: f64 = 19.0;
const BAND: usize = 11;

/// A view drawn to scale.
struct View {
    d: Drawing,
    k: f64,
}

impl View {
    fn new(model: &Model, name: &str, reduced: f64, note: String) -> View {
        let mut d = Drawing::new(format!("{}: {name}", model.hull.name), note, layers());
        d.reduced = reduced;
        View { d, k: 1.0 / reduced }
    }

    fn at(&self, x: f64, y: f64) -> P2 {
        P2::new(self.k * x, self.k * y)
    }

    fn line(&mut self, layer: usize, points: &[(f64, f64)], closed: bool) {
        let points = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
        self.d.polyline(layer, points, closed);
    }

    fn rectangle(&mut self, layer: usize, (x0, y0): (f64, f64), (x1, y1): (f64, f64)) {
        self.line(layer, &[(x0, y0), (x1, y0), (x1, y1), (x0, y1)], true);
    }

    fn text(&mut self, (x, y): (f64, f64), shift: V2, height: f64, text: String) {
        let at = self.at(x, y) + shift;
        self.d.text(TEXT, at, height, 0.0, Anchor::Left, text);
    }

    fn dimension(&mut self, a: (f64, f64), b: (f64, f64), aside: f64, text: String) {
        let ends = (self.at(a.0, a.1), self.at(b.0, b.1));
        self.d.dimension(DIMENSION, ends, aside, FIGURES, text);
    }
}

/// A leg's fore and after faces at its station, mm aft.
fn leg_faces(x: f64, side: Face, thickness: f64) -> (f64, f64) {
    let other = x + side.sign() * thickness;
    (x.min(other), x.max(other))
}

/// The ladder from above: rails, rungs, legs, string, station lines, diagonals.
pub fn jig_plan(model: &Model, jig: &Strongback, units: Units) -> Drawing {
    fitted(|reduced| plan_at(model, jig, units, reduced))
}

fn plan_at(model: &Model, jig: &Strongback, units: Units, reduced: f64) -> Drawing {
    let note = "from above, as the hull lies upside down on it".to_string();
    let mut v = View::new(model, "strongback, plan", reduced, note);
    let plan = &model.hull.strongback;
    let half = 0.5 * jig.rail_spacing;
    let inner = half - plan.rail_width_mm;
    for side in [1.0, -1.0] {
        v.rectangle(OUTLINE, (jig.rails[0], side * half), (jig.rails[1], side * inner));
    }
    // Her sheer over it, so that one sees how she lies.
    let sheer = &model.lines.lines[model.lines.lines.len() - 1].spline;
    for side in [1.0, -1.0] {
        let points: Vec<(f64, f64)> = (0..=60)
            .map(|i| sheer.at(sheer.end() * f64::from(i) / 60.0))
            .map(|p| (p.x, side * p.y))
            .collect();
        v.line(MEMBER, &points, false);
    }
    v.line(LEVEL, &[(jig.rails[0] - 100.0, 0.0), (jig.rails[1] + 100.0, 0.0)], false);
    v.text((jig.rails[1], 0.0), V2::new(6.0, 1.0), FIGURES, "string".into());
    for s in &jig.stands {
        let (a, b) = leg_faces(s.x, s.leg_side, plan.leg_thickness_mm);
        v.rectangle(OUTLINE, (a, -inner), (b, inner));
        let width = 0.5 * plan.leg_width_mm;
        let legs: &[f64] = if s.leg_at > 0.0 { &[1.0, -1.0] } else { &[0.0] };
        for side in legs {
            v.rectangle(OUTLINE, (a, side * s.leg_at - width), (b, side * s.leg_at + width));
        }
        let spall = model.hull.framing.spall_thickness_mm;
        let (c, d) = leg_faces(s.x, s.face, spall);
        v.rectangle(PLATE, (c, -s.spall_half), (d, s.spall_half));
        let far = half.max(s.spall_half) + 60.0;
        v.line(STATION, &[(s.x, -far), (s.x, far)], false);
        v.text((s.x, far), V2::new(0.8, 0.6), FIGURES, format!("{}", s.station));
        let text = units.show(s.from_first);
        v.text((s.x, -far), V2::new(0.8, -3.0), FIGURES, text);
    }
    if let (Some(first), Some(last)) = (jig.stands.first(), jig.stands.last()) {
        v.line(CHECK, &[(first.x, half), (last.x, -half)], false);
        v.line(CHECK, &[(first.x, -half), (last.x, half)], false);
        let beam = 0.5 * model.lines.beam_overall() + 120.0;
        v.dimension(
            (first.x, beam),
            (last.x, beam),
            4.0,
            format!("first to last line {}", units.show(last.x - first.x)),
        );
        v.dimension(
            (jig.rails[0], beam),
            (jig.rails[1], beam),
            11.0,
            format!("rails {}", units.show(jig.rails[1] - jig.rails[0])),
        );
        v.dimension((jig.rails[0], -half), (jig.rails[0], half), 5.0, units.show(jig.rail_spacing));
        let words = vec![
            "figures along the string are from the first frame's line".into(),
            "every leg's face and every frame's larger face stand on their line".into(),
            format!("square it first: both diagonals {}", units.show(jig.rail_diagonal)),
            "wood and legs on one side of the line, the spall on the other, screwed to both".into(),
        ];
        let at = v.at(jig.rails[0], -beam) - V2::new(0.0, 6.0);
        v.d.words(TEXT, at, WORDS, &words);
    }
    v.d
}

/// The jig from the side with her lines upside down, and the table of heights.
pub fn jig_elevation(model: &Model, jig: &Strongback, units: Units) -> Drawing {
    fitted(|reduced| elevation_at(model, jig, units, reduced))
}

fn elevation_at(model: &Model, jig: &Strongback, units: Units, reduced: f64) -> Drawing {
    let note = "upside down: heights are above the shop floor".to_string();
    let mut v = View::new(model, "strongback, elevation", reduced, note);
    let plan = &model.hull.strongback;
    let (x0, x1) = (jig.rails[0] - 150.0, jig.rails[1] + 150.0);
    v.line(OUTLINE, &[(x0, 0.0), (x1, 0.0)], false);
    v.text((x0, 0.0), V2::new(0.5, 0.8), FIGURES, "floor".into());
    let under = jig.rail_top - plan.rail_depth_mm;
    v.rectangle(OUTLINE, (jig.rails[0], under), (jig.rails[1], jig.rail_top));
    for post in &jig.posts {
        let half = 0.5 * plan.leg_width_mm;
        v.rectangle(OUTLINE, (post - half, 0.0), (post + half, under));
    }
    let level = jig.above_floor(jig.level);
    v.line(LEVEL, &[(x0, level), (x1, level)], false);
    v.text((x1, level), V2::new(1.0, 0.0), FIGURES, format!("level line {}", units.show(level)));
    for line in &model.lines.lines {
        let points: Vec<(f64, f64)> = (0..=80)
            .map(|i| line.spline.at(line.spline.end() * f64::from(i) / 80.0))
            .map(|p| (p.x, jig.above_floor(p.z)))
            .collect();
        v.line(MEMBER, &points, false);
    }
    for end in [jig.stem, jig.transom].into_iter().flatten() {
        v.line(OUTLINE, &[(end[0].x, end[0].z), (end[1].x, end[1].z)], false);
    }
    for s in &jig.stands {
        let (a, b) = leg_faces(s.x, s.leg_side, plan.leg_thickness_mm);
        v.rectangle(OUTLINE, (a, jig.rail_top), (b, jig.rail_top + jig.leg_length));
        let spall = model.hull.framing.spall_thickness_mm;
        let (c, d) = leg_faces(s.x, s.face, spall);
        let width = model.hull.framing.spall_width_mm;
        v.rectangle(OUTLINE, (c, level), (d, level + width));
        let high = s.corners.iter().map(|c| c.above_floor).fold(level, f64::max);
        v.line(STATION, &[(s.x, 0.0), (s.x, high + 60.0)], false);
        v.text((s.x, high + 60.0), V2::new(-0.8, 1.0), WORDS, format!("{}", s.station));
    }
    for b in jig.braces.iter().filter(|b| (b.to.x - b.from.x).abs() > 1.0) {
        v.line(CHECK, &[(b.from.x, b.from.z), (b.to.x, b.to.z)], false);
    }
    if let (Some(last), Some(first)) = (jig.stands.last(), jig.stands.first()) {
        let beside = jig.rails[1] + 60.0;
        v.dimension((beside, 0.0), (beside, jig.rail_top), -4.0, units.show(jig.rail_top));
        v.dimension((first.x, 0.0), (last.x, 0.0), -5.0, units.show(last.x - first.x));
    }
    heights(&mut v, model, jig, units);
    v.d
}

/// One column a frame: where it stands, how high and how wide every corner is.
fn heights(v: &mut View, model: &Model, jig: &Strongback, units: Units) {
    let mut top = v.at(jig.rails[0] - 150.0, 0.0) - V2::new(0.0, 14.0);
    let names: Vec<&str> = model.lines.lines.iter().map(|l| l.name.as_str()).collect();
    for band in jig.stands.chunks(BAND) {
        let mut row = |name: &str, cell: &dyn Fn(&Stand) -> Option<String>| {
            v.d.text(TEXT, top, FIGURES, 0.0, Anchor::Left, name);
            for (j, s) in band.iter().enumerate() {
                let at = top + V2::new(FIRST + COLUMN * (j as f64 + 0.5), 0.0);
                let text = cell(s).unwrap_or_else(|| "–".into());
                v.d.text(TEXT, at, FIGURES, 0.0, Anchor::Middle, text);
            }
            top -= V2::new(0.0, ROW);
        };
        row("frame", &|s| Some(s.station.to_string()));
        row("along the string", &|s| Some(units.show(s.from_first)));
        row("face on the line", &|s| Some(s.face.word().into()));
        fn corner<'a>(s: &'a Stand, name: &str) -> Option<&'a crate::setup::Corner> {
            s.corners.iter().find(|c| c.line == name)
        }
        for name in &names {
            row(&format!("{name}, above floor"), &|s| {
                corner(s, name).map(|c| units.show(c.above_floor))
            });
        }
        for name in names.iter().filter(|n| **n != "keel") {
            row(&format!("{name}, from string"), &|s| {
                corner(s, name).map(|c| units.show(c.half_breadth))
            });
        }
        row("stem head to spall end", &|s| s.diagonals.from_stem.map(|d| units.show(d)));
        top -= V2::new(0.0, ROW);
    }
}
