//! How a drawing is cut into pages: which tiles there are, where each lies, which are printed.
//!
//! A tile is printed for what needs paper ([`Layer::needed`]: lines that are cut, marks that
//! cutting needs) and not for what only passes over it. Each tile owns the cell between the
//! middles of its overlaps; the grid is shifted and turned so that as few cells as can be
//! hold such a line.
//!
//! [`Layer::needed`]: crate::drawing::Layer::needed

use std::collections::BTreeSet;

use super::pdf::PT;
use crate::drawing::{Drawing, Shape};
use crate::geom::P2;
use crate::geom::polyline::clipped;

/// Unprinted border of a page, mm: more than desk printers need.
pub(super) const MARGIN: f64 = 10.0;
/// Foot of a page for its name and check, mm.
pub(super) const FOOT: f64 = 14.0;
/// What neighbouring tiles both show, mm.
pub(super) const OVERLAP: f64 = 10.0;
/// Half the width of a registration cross, mm.
pub const CROSS: f64 = 4.0;
/// Length of the check bar, mm.
pub const CHECK: f64 = 100.0;
/// The same on the paper of those who read inches: 4 in.
const CHECK_INCHES: f64 = 101.6;
/// Room (mm) that a roll's page has over the drawing, so that rounding adds no page.
pub(super) const SLACK: f64 = 2.0;
/// The page of a roll's map.
pub const A4: PageSize = PageSize { width: 210.0, height: 297.0 };
/// Letter, upright: 8 1/2 by 11 in.
pub const LETTER: PageSize = PageSize { width: 215.9, height: 279.4 };
/// The greatest page that every PDF reader takes: 14 400 points.
pub(super) const LARGEST_PAGE: f64 = 14_400.0 / PT;
/// Places of the grid that are tried each way: finer steps save no page worth the time.
const SHIFTS: usize = 9;

/// Width and height of a page, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PageSize {
    /// mm.
    pub width: f64,
    /// mm.
    pub height: f64,
}

impl PageSize {
    /// The same page the other way up.
    pub(super) fn turned(self) -> PageSize {
        PageSize { width: self.height, height: self.width }
    }
}

/// Which pages to use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pages {
    /// Sheets of this size, upright or lying, whichever takes fewer.
    Sheets(PageSize),
    /// One page as large as the drawing (several where a reader could not open it).
    Roll,
}

/// How a drawing is cut into tiles.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tiling {
    pub(super) page: PageSize,
    /// Lower left corner of the first tile's window on the drawing, mm.
    pub(super) origin: P2,
    pub(super) columns: usize,
    pub(super) rows: usize,
    /// The printed tiles, (column, row), in the order of their pages: from the top, left to
    /// right.
    pub(super) filled: Vec<(usize, usize)>,
}

/// Lines by their ends.
type Segments = Vec<(P2, P2)>;

impl Tiling {
    pub(super) fn window(page: PageSize) -> (f64, f64) {
        (page.width - 2.0 * MARGIN, page.height - 2.0 * MARGIN - FOOT)
    }

    /// One page, the box from `low` to `high` in its middle; `None` where it is too large.
    fn alone(low: P2, high: P2, page: PageSize) -> Option<Tiling> {
        let (w, h) = Tiling::window(page);
        let spare = (w - (high.x - low.x), h - (high.y - low.y));
        (spare.0 >= 0.0 && spare.1 >= 0.0).then(|| Tiling {
            page,
            origin: P2::new(low.x - 0.5 * spare.0, low.y - 0.5 * spare.1),
            columns: 1,
            rows: 1,
            filled: vec![(0, 0)],
        })
    }

    /// Tiles of `page` over the lines that need paper, the grid where it takes the fewest.
    fn fewest(lines: &Segments, low: P2, high: P2, page: PageSize) -> Tiling {
        let (w, h) = Tiling::window(page);
        let pitch = (w - OVERLAP, h - OVERLAP);
        let mut best: Option<(usize, P2)> = None;
        for i in 0..SHIFTS {
            for j in 0..SHIFTS {
                let share = |k: usize| k as f64 / SHIFTS as f64;
                // The cell's corner, so that the box begins in the first cell.
                let corner = P2::new(low.x - share(i) * pitch.0, low.y - share(j) * pitch.1);
                let count = cells_met(lines, corner, pitch).len();
                if best.is_none_or(|(n, _)| count < n) {
                    best = Some((count, corner));
                }
            }
        }
        let corner = best.map_or(low, |b| b.1);
        let cells = cells_met(lines, corner, pitch);
        let half = 0.5 * OVERLAP;
        let count = |extent: f64, pitch: f64| 1 + (extent / pitch).max(0.0).floor() as usize;
        let mut tiling = Tiling {
            page,
            origin: P2::new(corner.x - half, corner.y - half),
            columns: count(high.x - corner.x, pitch.0),
            rows: count(high.y - corner.y, pitch.1),
            filled: cells.into_iter().map(|(row, column)| (column, row)).collect(),
        };
        tiling.leave_out_doubled(lines);
        tiling.columns = tiling.filled.iter().map(|t| t.0 + 1).max().unwrap_or(1);
        tiling.rows = tiling.filled.iter().map(|t| t.1 + 1).max().unwrap_or(1);
        tiling.filled.sort_by_key(|&(column, row)| (usize::MAX - row, column));
        tiling
    }

    /// Leaves out tiles whose lines neighbours show too, in their overlaps.
    fn leave_out_doubled(&mut self, lines: &Segments) {
        let (w, h) = Tiling::window(self.page);
        let half = 0.5 * OVERLAP;
        for tile in self.filled.clone() {
            let others: Vec<(P2, P2)> = self
                .filled
                .iter()
                .filter(|t| **t != tile)
                .filter(|t| t.0.abs_diff(tile.0) <= 1 && t.1.abs_diff(tile.1) <= 1)
                .map(|t| self.corner(t.0, t.1))
                .map(|c| (c, P2::new(c.x + w, c.y + h)))
                .collect();
            let corner = self.corner(tile.0, tile.1);
            let low = P2::new(corner.x + half, corner.y + half);
            let high = P2::new(corner.x + w - half, corner.y + h - half);
            let within =
                |p: P2, b: &(P2, P2)| p.x >= b.0.x && p.y >= b.0.y && p.x <= b.1.x && p.y <= b.1.y;
            let doubled = lines
                .iter()
                .filter_map(|(a, b)| clipped(*a, *b, low, high))
                .all(|(a, b)| others.iter().any(|o| within(a, o) && within(b, o)));
            if doubled && self.filled.len() > 1 {
                self.filled.retain(|t| *t != tile);
            }
        }
    }

    /// Registration crosses of a tile, on the drawing, mm: in the middle of the overlaps, so
    /// that neighbours carry the same ones. A page alone has none.
    pub(super) fn crosses(&self, column: usize, row: usize) -> Vec<P2> {
        if self.filled.len() == 1 {
            return Vec::new();
        }
        let (w, h) = Tiling::window(self.page);
        let (corner, half) = (self.corner(column, row), 0.5 * OVERLAP);
        [(half, h - half), (w - half, h - half), (half, half), (w - half, half)]
            .map(|(dx, dy)| P2::new(corner.x + dx, corner.y + dy))
            .to_vec()
    }

    /// Lower left corner of a tile's window, mm; row 0 is the lowest.
    pub(super) fn corner(&self, column: usize, row: usize) -> P2 {
        let (w, h) = Tiling::window(self.page);
        P2::new(
            self.origin.x + column as f64 * (w - OVERLAP),
            self.origin.y + row as f64 * (h - OVERLAP),
        )
    }
}

/// The lines of a drawing that need paper; all of them where none does; round every word of a
/// table, which is made of words.
fn needed_lines(drawing: &Drawing) -> Segments {
    if drawing.table {
        let boxes = drawing.items.iter().filter_map(|i| i.shape.text_box());
        return boxes
            .flat_map(|b| {
                let c = b.corners();
                [(c[0], c[1]), (c[1], c[2]), (c[2], c[3]), (c[3], c[0])]
            })
            .collect();
    }
    let of = |needed: bool| -> Segments {
        let mut out = Vec::new();
        for item in &drawing.items {
            let Shape::Polyline { points, closed } = &item.shape else {
                continue;
            };
            if needed && !drawing.layer(item.layer).needed() {
                continue;
            }
            out.extend(points.windows(2).map(|w| (w[0], w[1])));
            if let (true, Some(last), Some(first)) = (closed, points.last(), points.first()) {
                out.push((*last, *first));
            }
        }
        out
    };
    let needed = of(true);
    if needed.is_empty() { of(false) } else { needed }
}

/// Cells of a grid that any of the lines meets, (row, column).
fn cells_met(lines: &Segments, corner: P2, pitch: (f64, f64)) -> BTreeSet<(usize, usize)> {
    let mut out = BTreeSet::new();
    // Neighbouring pieces of a line mostly lie in one cell.
    let mut last = None;
    let cell = |v: f64, pitch: f64| (v / pitch).floor().max(0.0) as usize;
    for (a, b) in lines {
        let columns =
            (cell(a.x.min(b.x) - corner.x, pitch.0), cell(a.x.max(b.x) - corner.x, pitch.0));
        let rows = (cell(a.y.min(b.y) - corner.y, pitch.1), cell(a.y.max(b.y) - corner.y, pitch.1));
        if columns.0 == columns.1 && rows.0 == rows.1 {
            let own = Some((rows.0, columns.0));
            if own != last {
                last = own;
                out.insert((rows.0, columns.0));
            }
            continue;
        }
        for row in rows.0..=rows.1 {
            for column in columns.0..=columns.1 {
                if columns.0 == columns.1 || rows.0 == rows.1 {
                    out.insert((row, column));
                    continue;
                }
                let low =
                    P2::new(corner.x + column as f64 * pitch.0, corner.y + row as f64 * pitch.1);
                let high = P2::new(low.x + pitch.0, low.y + pitch.1);
                if clipped(*a, *b, low, high).is_some() {
                    out.insert((row, column));
                }
            }
        }
    }
    out
}

/// The tiling of a drawing that takes the fewest pages.
pub(super) fn choose_tiling(drawing: &Drawing, pages: Pages) -> Tiling {
    let (low, high) = drawing.bounds().unwrap_or((P2::origin(), P2::new(1.0, 1.0)));
    match pages {
        Pages::Sheets(size) => {
            let ways = [size, size.turned()];
            if let Some(one) = ways.iter().find_map(|p| Tiling::alone(low, high, *p)) {
                return one;
            }
            let lines = needed_lines(drawing);
            let (low, high) = crate::geom::polyline::bounds(lines.iter().flat_map(|l| [l.0, l.1]))
                .unwrap_or((low, high));
            let [a, b] = ways.map(|p| Tiling::fewest(&lines, low, high, p));
            if b.filled.len() < a.filled.len() { b } else { a }
        }
        Pages::Roll => {
            // As few equal lengths of the roll as a reader can open.
            let (length, height) = (high.x - low.x, high.y - low.y);
            let most = LARGEST_PAGE - 2.0 * MARGIN - SLACK;
            let pieces =
                if length <= most { 1.0 } else { ((length - OVERLAP) / (most - OVERLAP)).ceil() };
            let window = (length + (pieces - 1.0) * OVERLAP) / pieces;
            let page = PageSize {
                width: (window + 2.0 * MARGIN + SLACK).max(A4.width),
                height: (height + 2.0 * MARGIN + FOOT + SLACK).min(LARGEST_PAGE),
            };
            if let Some(one) = Tiling::alone(low, high, page) {
                return one;
            }
            let (w, h) = Tiling::window(page);
            let covered = w + (pieces - 1.0) * (w - OVERLAP);
            Tiling {
                page,
                origin: P2::new(low.x - 0.5 * (covered - length), low.y - 0.5 * (h - height)),
                columns: pieces as usize,
                rows: 1,
                filled: (0..pieces as usize).map(|c| (c, 0)).collect(),
            }
        }
    }
}

impl PageSize {
    /// Whether it is Letter paper, either way up.
    pub(super) fn letter(self) -> bool {
        let is = |a: f64, b: f64| (a - b).abs() < 1e-6;
        is(self.width, LETTER.width) && is(self.height, LETTER.height)
            || is(self.width, LETTER.height) && is(self.height, LETTER.width)
    }

    /// Length (mm) of the check printed on it, and how it is said.
    pub fn check(self) -> (f64, &'static str) {
        if self.letter() { (CHECK_INCHES, "4 in") } else { (CHECK, "100 mm") }
    }

    /// Its size in words.
    pub(super) fn words(self) -> String {
        if self.letter() {
            let (a, b) = ("8 1/2", "11");
            let (w, h) = if self.width < self.height { (a, b) } else { (b, a) };
            format!("{w} x {h} in")
        } else {
            format!("{:.0} x {:.0} mm", self.width, self.height)
        }
    }
}

/// Where the check stands on a page: from its left and from its top, mm; `None` on a
/// page too narrow for it.
pub(super) fn check_bar(page: PageSize) -> Option<(f64, f64)> {
    let (long, _) = page.check();
    (page.width > 2.0 * MARGIN + long)
        .then_some((page.width - MARGIN - long, page.height - MARGIN - 5.5))
}

/// One printed page of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct PagePlan {
    /// As printed on it: `A1`.
    pub name: String,
    /// The part of the drawing that it shows, lower left and upper right, mm.
    pub window: (P2, P2),
    /// The paper's own edges laid on the drawing, mm.
    pub paper: (P2, P2),
    /// Middles of its registration crosses on the drawing, mm.
    pub crosses: Vec<P2>,
    /// How long its check is, in words.
    pub check_words: &'static str,
    /// Ends of its check laid on the drawing, if it has room for one.
    pub check: Option<(P2, P2)>,
}

/// The pages that the PDF of `drawing` will have besides its map, in order; tiles without a
/// line that needs paper are left out there and here.
pub fn page_plan(drawing: &Drawing, pages: Pages) -> Vec<PagePlan> {
    if drawing.items.is_empty() {
        return Vec::new();
    }
    let tiling = super::pdf::tiling_of(drawing, pages);
    let (w, h) = Tiling::window(tiling.page);
    let page = |&(column, row): &(usize, usize)| {
        let corner = tiling.corner(column, row);
        let edge = P2::new(corner.x - MARGIN, corner.y - MARGIN - FOOT);
        let check = check_bar(tiling.page).map(|(x, y)| {
            let left = P2::new(edge.x + x, edge.y + tiling.page.height - y);
            (left, P2::new(left.x + tiling.page.check().0, left.y))
        });
        PagePlan {
            name: tile_name(&tiling, column, row),
            window: (corner, P2::new(corner.x + w, corner.y + h)),
            paper: (edge, P2::new(edge.x + tiling.page.width, edge.y + tiling.page.height)),
            check_words: tiling.page.check().1,
            crosses: tiling.crosses(column, row),
            check,
        }
    };
    tiling.filled.iter().map(page).collect()
}

/// Columns are letters from the left, rows numbers from the top.
pub(super) fn tile_name(tiling: &Tiling, column: usize, row: usize) -> String {
    let mut letters = String::new();
    let mut n = column + 1;
    while n > 0 {
        n -= 1;
        letters.insert(0, char::from(b'A' + (n % 26) as u8));
        n /= 26;
    }
    format!("{letters}{}", tiling.rows - row)
}

#[cfg(test)]
#[path = "tiling_tests.rs"]
mod tests;
