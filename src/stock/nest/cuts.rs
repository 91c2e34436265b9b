//! In which order a sheet is cut with a hand-held saw: first straight through from edge to edge,
//! so that what lies on the trestles gets small, then along the parts.

use serde::Serialize;

use super::layout::SheetLayout;
use super::offcuts::Keep;
use super::problem::Problem;
use crate::geom::polyline::area;
use crate::geom::{P2, V2};

/// What kind of cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CutKind {
    /// Straight across the sheet's length, from edge to edge of the piece in hand.
    Crosscut,
    /// Straight along the sheet's length, from edge to edge of the piece in hand.
    Rip,
    /// Around one part: first point repeated at the end.
    Outline,
}

/// One cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cut {
    /// What kind.
    pub kind: CutKind,
    /// Where the middle of a straight cut runs, or the cut line of a part (the saw runs outside
    /// it), mm in the sheet's axes.
    #[serde(skip)]
    pub path: Vec<P2>,
    /// The placed part that an outline is of.
    pub part: Option<usize>,
}

/// A rough cut stays this far (mm) from the parts where there is room: a saw that wanders does
/// no harm there. Common practice, no source.
const CLEAR_MM: f64 = 5.0;

/// The cuts in order: a strip worth keeping is taken off before anything else; then the cut that
/// divides the parts most evenly, the shorter one of two; then the same with both pieces. Outlines
/// come last, piece by piece, small parts first, as long as there is a piece around them to
/// clamp.
///
/// Straight cuts run only where a saw's width is free all the way through the piece in hand.
pub fn cuts(problem: &Problem, sheet: &SheetLayout, keep: Keep) -> Vec<Cut> {
    let (low, size) = problem.sheets[sheet.sheet].extent();
    let parts: Vec<Boxed> = (0..sheet.placed.len())
        .map(|index| {
            let (low, high) = sheet.placed[index].extent();
            Boxed { index, low, high }
        })
        .collect();
    let mut work = Work { problem, sheet, keep, straight: Vec::new(), pieces: Vec::new() };
    work.divide(low, low + size, parts);
    let outlines = work.pieces.iter().flatten().map(|index| {
        let ring = &sheet.placed[*index].outline;
        let path = ring.iter().chain(ring.first()).copied().collect();
        Cut { kind: CutKind::Outline, path, part: Some(*index) }
    });
    let outlines: Vec<Cut> = outlines.collect();
    work.straight.into_iter().chain(outlines).collect()
}

/// A placed part's box.
#[derive(Debug, Clone, Copy)]
struct Boxed {
    index: usize,
    low: P2,
    high: P2,
}

/// A straight cut that could be made: across (x = at) or along (y = at).
#[derive(Debug, Clone, Copy)]
struct Line {
    across: bool,
    at: f64,
    /// Parts on the lesser side.
    before: usize,
    length: f64,
}

struct Work<'a> {
    problem: &'a Problem,
    sheet: &'a SheetLayout,
    keep: Keep,
    straight: Vec<Cut>,
    pieces: Vec<Vec<usize>>,
}

impl Work<'_> {
    fn divide(&mut self, low: P2, high: P2, parts: Vec<Boxed>) {
        let lines: Vec<Line> = [true, false]
            .into_iter()
            .flat_map(|across| self.lines(low, high, &parts, across))
            .collect();
        let Some(line) = best(&lines, low, high, parts.len()) else {
            if !parts.is_empty() {
                self.pieces.push(self.small_first(&parts));
            }
            return;
        };
        self.straight.push(self.cut(line, low, high));
        let axis = usize::from(!line.across);
        let half = 0.5 * self.problem.kerf;
        let (before, after): (Vec<Boxed>, Vec<Boxed>) =
            parts.into_iter().partition(|p| p.high[axis] <= line.at);
        let (mut middle_high, mut middle_low) = (high, low);
        middle_high[axis] = line.at - half;
        middle_low[axis] = line.at + half;
        self.divide(low, middle_high, before);
        self.divide(middle_low, high, after);
    }

    /// All straight cuts one way that the parts leave room for.
    fn lines(&self, low: P2, high: P2, parts: &[Boxed], across: bool) -> Vec<Line> {
        let axis = usize::from(!across);
        let (kerf, length) = (self.problem.kerf, high[1 - axis] - low[1 - axis]);
        if parts.is_empty() {
            return Vec::new();
        }
        let mut sorted = parts.to_vec();
        sorted.sort_by(|a, b| a.low[axis].total_cmp(&b.low[axis]));
        let worth =
            |width: f64| width >= self.keep.least_width && width * length >= self.keep.least_area;
        let line = |at, before| Line { across, at, before, length };
        let clear = |room: f64| (0.5 * room).min(CLEAR_MM.max(0.5 * kerf));
        let mut found = Vec::new();
        let first = sorted[0].low[axis] - low[axis];
        if worth(first - kerf - CLEAR_MM) {
            found.push(line(sorted[0].low[axis] - clear(first), 0));
        }
        let mut reach = f64::NEG_INFINITY;
        for (k, part) in sorted.iter().enumerate() {
            let room = part.low[axis] - reach;
            // A hair less than the kerf is the kerf.
            if k > 0 && room >= kerf - 1e-6 {
                found.push(line(reach + clear(room), k));
            }
            reach = reach.max(part.high[axis]);
        }
        let last = high[axis] - reach;
        if worth(last - kerf - CLEAR_MM) {
            found.push(line(reach + clear(last), parts.len()));
        }
        found
    }

    /// The cut over the piece in hand, no longer than the sheet is there.
    fn cut(&self, line: Line, low: P2, high: P2) -> Cut {
        let (kind, a, b) = if line.across {
            (CutKind::Crosscut, P2::new(line.at, low.y), P2::new(line.at, high.y))
        } else {
            (CutKind::Rip, P2::new(low.x, line.at), P2::new(high.x, line.at))
        };
        let stock = &self.problem.sheets[self.sheet.sheet];
        let path = if stock.is_rectangle() { vec![a, b] } else { on_sheet(&stock.outline, a, b) };
        Cut { kind, path, part: None }
    }

    fn small_first(&self, parts: &[Boxed]) -> Vec<usize> {
        let size = |p: &Boxed| area(&self.sheet.placed[p.index].outline).abs();
        let mut parts = parts.to_vec();
        parts.sort_by(|a, b| size(a).total_cmp(&size(b)));
        parts.iter().map(|p| p.index).collect()
    }
}

/// The widest strip without parts, else the most even division, the shorter of two.
fn best(lines: &[Line], low: P2, high: P2, parts: usize) -> Option<Line> {
    let strip = |l: &Line| {
        let axis = usize::from(!l.across);
        let wide = if l.before == 0 { l.at - low[axis] } else { high[axis] - l.at };
        wide * l.length
    };
    let bare = lines.iter().filter(|l| l.before == 0 || l.before == parts);
    if let Some(line) = bare.max_by(|a, b| strip(a).total_cmp(&strip(b))) {
        return Some(*line);
    }
    let uneven = |l: &Line| (2 * l.before).abs_diff(parts);
    lines
        .iter()
        .min_by(|a, b| uneven(a).cmp(&uneven(b)).then(a.length.total_cmp(&b.length)))
        .copied()
}

/// What of a line lies between the outermost edges of an irregular sheet.
fn on_sheet(ring: &[P2], a: P2, b: P2) -> Vec<P2> {
    let way: V2 = b - a;
    let crossings = crate::geom::ring::edges(ring).filter_map(|(p, q)| {
        let edge = q - p;
        let det = way.perp(&edge);
        let t = (p - a).perp(&edge) / det;
        let s = (p - a).perp(&way) / det;
        (det.abs() > 0.0 && (0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then_some(t)
    });
    let (mut from, mut to) = (1.0f64, 0.0f64);
    for t in crossings {
        (from, to) = (from.min(t), to.max(t));
    }
    // An end inside the sheet, at an earlier cut, stays.
    if crate::geom::ring::inside(ring, a) {
        from = 0.0;
    }
    if crate::geom::ring::inside(ring, b) {
        to = 1.0;
    }
    if from < to { vec![a + way * from, a + way * to] } else { vec![a, b] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::nest::Placed;
    use crate::stock::nest::problem::{Attitude, Hand, Part, Sheet, Supply, Turning};

    /// Four rectangles in two columns of a sheet that is 500 mm too long: by hand, the strip goes
    /// first, then the columns are parted, then each column in two.
    #[test]
    fn straight_cuts_come_in_the_order_of_the_shop() {
        let ring = [(0.0, 0.0), (600.0, 0.0), (600.0, 400.0), (0.0, 400.0)];
        let problem = Problem {
            parts: vec![Part {
                name: "board".into(),
                outline: ring.map(|(x, y)| P2::new(x, y)).to_vec(),
                count: 4,
                hand: Hand::AsDrawn,
                turning: Turning::Fixed,
                grain: None,
            }],
            sheets: vec![Sheet::rectangle("ply", 1703.0, 803.0, Supply::Bought)],
            kerf: 3.0,
        };
        let attitude = Attitude { mirrored: false, angle: 0.0 };
        let at = [(0.0, 0.0), (603.0, 0.0), (0.0, 403.0), (603.0, 403.0)];
        let place = |(k, (x, y)): (usize, &(f64, f64))| {
            Placed::new(&problem, 0, k, attitude, V2::new(*x, *y))
        };
        let sheet = SheetLayout { sheet: 0, placed: at.iter().enumerate().map(place).collect() };
        let made = cuts(&problem, &sheet, Keep::default());
        let kinds: Vec<CutKind> = made.iter().map(|c| c.kind).collect();
        use CutKind::{Crosscut, Outline, Rip};
        assert_eq!(kinds, [Crosscut, Crosscut, Rip, Rip, Outline, Outline, Outline, Outline]);
        assert!((made[0].path[0].x - 1208.0).abs() < 1e-9, "{:?}", made[0]);
        assert!((made[1].path[0].x - 601.5).abs() < 1e-9 && made[1].path[1].y == 803.0);
        assert!((made[2].path[0].y - 401.5).abs() < 1e-9 && made[2].path[1].x == 600.0);
    }
}
