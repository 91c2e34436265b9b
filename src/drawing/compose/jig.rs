//! The strongback in plan and elevation, to a scale, with the figures that a carpenter sets
//! it up by.

use super::Line;
use super::lines_plan::fitted;
use super::view::{FIGURES, Look, View, WORDS};
use crate::drawing::{Anchor, Drawing};
use crate::geom::V2;
use crate::model::Model;
use crate::part::{LineId, Use};
use crate::setup::{EndCorner, EndPlace, EndStand, Stand, Strongback};
use crate::units::Units;

/// The table below a view, mm of paper: rows, its first column, the others, and how many
/// frames stand in one band of it.
const ROW: f64 = 4.2;
const FIRST: f64 = 44.0;
const COLUMN: f64 = 19.0;
const BAND: usize = 11;

/// The ladder from above: rails, rungs, legs, ends, string, station lines, diagonals.
pub fn jig_plan(model: &Model, jig: &Strongback, units: Units) -> Drawing {
    fitted(|reduced| plan_at(model, jig, units, reduced))
}

fn plan_at(model: &Model, jig: &Strongback, units: Units, reduced: f64) -> Drawing {
    let mut v = View::new(
        model,
        "strongback, plan",
        reduced,
        "from above, as the hull lies upside down on it",
    );
    let half = 0.5 * jig.rail_spacing;
    for s in jig.sticks.iter().filter(|s| s.purpose != Use::Post) {
        v.stick(s, Look::Above, (0.0, 0.0));
    }
    // Her sheer over it, so that one sees how she lies.
    let sheer = &model.lines.lines[model.lines.lines.len() - 1].spline;
    for side in [1.0, -1.0] {
        let points: Vec<(f64, f64)> = (0..=60)
            .map(|i| sheer.at(sheer.end() * f64::from(i) / 60.0))
            .map(|p| (p.x, side * p.y))
            .collect();
        v.line(Line::Member, &points, false);
    }
    v.line(Line::Level, &[(jig.rails[0] - 100.0, 0.0), (jig.rails[1] + 100.0, 0.0)], false);
    let right = (V2::new(6.0, 1.0), V2::new(0.0, 1.5 * FIGURES));
    v.label((jig.rails[1], 0.0), right, (Anchor::Left, FIGURES), "string");
    for e in &jig.ends {
        let across: Vec<(f64, f64)> = e.corners.iter().map(|c| (c.x, c.half_breadth)).collect();
        for side in [1.0, -1.0] {
            let points: Vec<(f64, f64)> = across.iter().map(|(x, y)| (*x, side * y)).collect();
            v.line(Line::Outline, &points, false);
        }
    }
    let beam = 0.5 * model.lines.beam_overall() + 60.0;
    for s in &jig.stands {
        let far = half.max(s.spall_half).max(widest(s)) + 60.0;
        v.line(Line::Station, &[(s.x, -far), (s.x, far)], false);
        let up = (V2::new(0.0, 0.8), V2::new(0.0, 1.5 * FIGURES));
        v.label((s.x, far), up, (Anchor::Middle, WORDS), s.station.to_string());
        let down = (V2::new(0.0, -2.8), V2::new(0.0, -1.5 * FIGURES));
        let text = units.show(s.from_first);
        v.label((s.x, -far), down, (Anchor::Middle, FIGURES), text);
    }
    if let (Some(first), Some(last)) = (jig.stands.first(), jig.stands.last()) {
        v.line(Line::Check, &[(first.x, half), (last.x, -half)], false);
        v.line(Line::Check, &[(first.x, -half), (last.x, half)], false);
        let text = format!("first to last line {}", units.show(last.x - first.x));
        v.dimension(((first.x, beam), (last.x, beam)), 5.0, text);
        let text = format!("rails {}", units.show(jig.rails[1] - jig.rails[0]));
        v.dimension(((jig.rails[0], beam), (jig.rails[1], beam)), 11.0, text);
        let text = format!("rails begin {} ahead", units.show(first.x - jig.rails[0]));
        v.dimension(((jig.rails[0], beam), (first.x, beam)), 5.0, text);
        let (x, text) = (jig.rails[0], format!("over rails {}", units.show(jig.rail_spacing)));
        v.dimension(((x, -half), (x, half)), 5.0, text);
        for (x, what) in jig.ends.iter().flat_map(along) {
            let text = format!("{what} {}", units.show((x - first.x).abs()));
            let (a, b) = if x < first.x { (x, first.x) } else { (first.x, x) };
            v.dimension(((a, -beam), (b, -beam)), -8.0, text);
        }
    }
    v.d.note(format!(
        "Square the ladder first: both diagonals between the outer top edges of the rails, from the first to the last line, are {}.",
        units.show(jig.rail_diagonal)
    ));
    v.d.note("Figures along the rails are from the first frame's line. Every leg's face and every frame's larger face stand on their line; wood and legs on one side of it, the spall on the other, screwed to both.");
    v.d.note(
        "Where the ends stand, what is taped to them and what holds them is on a sheet for each.",
    );
    v.finished(units)
}

fn widest(s: &Stand) -> f64 {
    s.corners.iter().map(|c| c.half_breadth).fold(0.0, f64::max)
}

/// Places of an end and of what holds it along the rails: mm aft, and what is there.
fn along(e: &EndStand) -> Vec<(f64, String)> {
    let word = e.end.word();
    let mut out = Vec::new();
    if let Some(c) = &e.support.crosspiece {
        // The face that looks at the frames.
        let face = if e.end.at_stern() { c.faces[0] } else { c.faces[1] };
        out.push((face, "crosspiece".to_string()));
    }
    if let Some(p) = &e.support.post {
        out.push((p.side_view[0].x, format!("{word}'s post, foot")));
    }
    out.push((e.foot.x, format!("{word}, foot")));
    out.push((e.head.x, format!("{word}, {}", e.end.head_word())));
    out
}

/// The jig from the side with her lines upside down, and the table of heights.
pub fn jig_elevation(model: &Model, jig: &Strongback, units: Units) -> Drawing {
    fitted(|reduced| elevation_at(model, jig, units, reduced))
}

fn elevation_at(model: &Model, jig: &Strongback, units: Units, reduced: f64) -> Drawing {
    let mut v = View::new(
        model,
        "strongback, elevation",
        reduced,
        "upside down: heights are above the shop floor",
    );
    let (x0, x1) = (jig.rails[0] - 150.0, jig.rails[1] + 150.0);
    v.line(Line::Outline, &[(x0, 0.0), (x1, 0.0)], false);
    let up = (V2::new(0.5, 0.8), V2::new(0.0, 1.5 * FIGURES));
    v.label((x0, 0.0), up, (Anchor::Left, FIGURES), "floor");
    let level = jig.above_floor(jig.level);
    v.line(Line::Level, &[(x0, level), (x1, level)], false);
    let text = format!("level line {}", units.show(level));
    let left = (V2::new(-16.0, 0.0), V2::new(0.0, 1.5 * FIGURES));
    v.label((x0, level), left, (Anchor::Middle, FIGURES), text);
    for line in &model.lines.lines {
        let points: Vec<(f64, f64)> = (0..=80)
            .map(|i| line.spline.at(line.spline.end() * f64::from(i) / 80.0))
            .map(|p| (p.x, jig.above_floor(p.z)))
            .collect();
        v.line(Line::Member, &points, false);
    }
    // Braces across the boat would only hide the legs from here.
    for s in jig.sticks.iter().filter(|s| !(s.purpose == Use::Brace && s.from_ahead)) {
        v.stick(s, Look::Side, (0.0, 0.0));
    }
    for e in &jig.ends {
        let ring: Vec<(f64, f64)> = e.side_view.iter().map(|p| (p.x, p.y)).collect();
        v.line(Line::Outline, &ring, true);
        let out = if e.end.at_stern() { 1.0 } else { -1.0 };
        let anchor = (Anchor::Middle, FIGURES);
        for (p, name) in [(e.foot, "foot"), (e.head, e.end.head_word())] {
            let text = format!("{name} {}", units.show(p.z));
            let shift = V2::new(out * 15.0, -0.3 * FIGURES);
            v.label((p.x, p.z), (shift, V2::new(0.0, 1.5 * FIGURES)), anchor, text);
        }
    }
    for s in &jig.stands {
        let high = s.corners.iter().map(|c| c.above_floor).fold(level, f64::max);
        v.line(Line::Station, &[(s.x, 0.0), (s.x, high + 60.0)], false);
        let up = (V2::new(0.0, 1.0), V2::new(0.0, 1.5 * WORDS));
        v.label((s.x, high + 60.0), up, (Anchor::Middle, WORDS), s.station.to_string());
    }
    if let (Some(last), Some(first)) = (jig.stands.last(), jig.stands.first()) {
        let beside = jig.rails[1] + 60.0;
        v.dimension(((beside, 0.0), (beside, jig.rail_top)), -4.0, units.show(jig.rail_top));
        let text = format!("leg {}", units.show(jig.leg_length));
        let top = jig.rail_top + jig.leg_length;
        v.dimension(((beside, jig.rail_top), (beside, top)), -4.0, text);
        let text = format!("first to last line {}", units.show(last.x - first.x));
        v.dimension(((first.x, 0.0), (last.x, 0.0)), -5.0, text);
        for w in jig.posts.windows(2).take(1) {
            let text = format!("posts {} apart", units.show(w[1] - w[0]));
            v.dimension(((w[0], 0.0), (w[1], 0.0)), -11.0, text);
        }
        let text = format!("rails {}", units.show(jig.rails[1] - jig.rails[0]));
        v.dimension(((jig.rails[0], 0.0), (jig.rails[1], 0.0)), -17.0, text);
    }
    heights(&mut v, model, jig, units);
    v.finished(units)
}

/// One column a frame: where it stands, how high and how wide every corner is; then the
/// ends, a column each.
fn heights(v: &mut View, model: &Model, jig: &Strongback, units: Units) {
    let mut top = v.at(jig.rails[0] - 150.0, 0.0) - V2::new(0.0, 25.0);
    let lines: Vec<LineId> = model.lines.lines.iter().map(|l| l.id).collect();
    let columns: Vec<Column> = jig
        .ends
        .iter()
        .filter(|e| !e.end.at_stern())
        .map(Column::End)
        .chain(jig.stands.iter().map(Column::Frame))
        .chain(jig.ends.iter().filter(|e| e.end.at_stern()).map(Column::End))
        .collect();
    for band in columns.chunks(BAND) {
        let mut row = |name: &str, cell: &dyn Fn(&Column) -> Option<String>| {
            let texts: Vec<Option<String>> = band.iter().map(cell).collect();
            if texts.iter().all(Option::is_none) {
                return;
            }
            v.d.text(Line::Text, top, FIGURES, 0.0, Anchor::Left, name);
            for (j, text) in texts.into_iter().enumerate() {
                let at = top + V2::new(FIRST + COLUMN * (j as f64 + 0.5), 0.0);
                let text = text.unwrap_or_else(|| "–".into());
                v.d.text(Line::Text, at, FIGURES, 0.0, Anchor::Middle, text);
            }
            top -= V2::new(0.0, ROW);
        };
        row("frame or end", &|c| {
            Some(match c {
                Column::Frame(s) => s.station.to_string(),
                Column::End(e) => e.end.word().into(),
            })
        });
        row("along the rails", &|c| c.frame().map(|s| units.show(s.from_first)));
        row("face on the line", &|c| c.frame().map(|s| s.face.word().into()));
        row("legs, middles from the string", &|c| c.frame().map(|s| units.show(s.leg_at)));
        row("spall", &|c| c.frame().map(|s| units.show(2.0 * s.spall_half)));
        for line in &lines {
            row(&format!("{line}, above the floor"), &|c| {
                c.corner(*line).map(|(_, _, up)| units.show(up))
            });
        }
        for line in lines.iter().filter(|l| **l != LineId::Keel) {
            row(&format!("{line}, from the string"), &|c| {
                c.corner(*line).map(|(_, out, _)| units.show(out))
            });
        }
        for line in &lines {
            row(&format!("{line}, along the rails"), &|c| match c {
                Column::End(_) => c.corner(*line).map(|(x, ..)| units.show(jig.from_first(x))),
                Column::Frame(_) => None,
            });
        }
        let bow = jig.ends.iter().find(|e| !e.end.at_stern());
        if let Some(bow) = bow {
            let name = format!("{}'s {} to spall end", bow.end.word(), bow.end.head_word());
            row(&name, &|c| c.frame()?.diagonals.from_stem.map(|d| units.show(d)));
        }
        top -= V2::new(0.0, ROW);
    }
}

/// A column of the table.
enum Column<'a> {
    Frame(&'a Stand),
    End(&'a EndStand),
}

impl Column<'_> {
    fn frame(&self) -> Option<&Stand> {
        match self {
            Column::Frame(s) => Some(s),
            Column::End(_) => None,
        }
    }

    /// Where a line passes: mm aft, from the string, above the floor.
    fn corner(&self, line: LineId) -> Option<(f64, f64, f64)> {
        match self {
            Column::Frame(s) => s
                .corners
                .iter()
                .find(|c| c.line == line)
                .map(|c| (s.x, c.half_breadth, c.above_floor)),
            Column::End(e) => {
                // A stem has its foot on the lowest line's end and its head on the sheer's.
                let own = |c: &&EndCorner| match c.place {
                    EndPlace::Line(passes) => passes == line,
                    EndPlace::Foot => line == LineId::Keel,
                    EndPlace::Head => line == LineId::Sheer && !e.end.is_transom(),
                };
                e.corners.iter().find(own).map(|c| (c.x, c.half_breadth, c.above_floor))
            }
        }
    }
}
