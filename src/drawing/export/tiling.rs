//! How a drawing is cut into pages: which tiles there are, where each lies, which are empty.

use super::pdf::PT;
use crate::drawing::{Drawing, Shape};
use crate::geom::P2;

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
/// Room (mm) that a roll's page has over the drawing, so that rounding adds no page.
pub(super) const SLACK: f64 = 2.0;
/// The page of a roll's map.
pub(super) const A4: PageSize = PageSize { width: 210.0, height: 297.0 };
/// The greatest page that every PDF reader takes: 14 400 points.
pub(super) const LARGEST_PAGE: f64 = 14_400.0 / PT;

/// Width and height of a page, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PageSize {
    /// mm.
    pub width: f64,
    /// mm.
    pub height: f64,
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
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tiling {
    pub(super) page: PageSize,
    /// Lower left corner of the first tile's window on the drawing, mm.
    pub(super) origin: P2,
    pub(super) columns: usize,
    pub(super) rows: usize,
}

impl Tiling {
    pub(super) fn window(page: PageSize) -> (f64, f64) {
        (page.width - 2.0 * MARGIN, page.height - 2.0 * MARGIN - FOOT)
    }

    fn of(low: P2, high: P2, page: PageSize) -> Tiling {
        let (w, h) = Tiling::window(page);
        let count = |extent: f64, window: f64| {
            if extent <= window {
                1
            } else {
                1 + ((extent - window) / (window - OVERLAP)).ceil() as usize
            }
        };
        let (columns, rows) = (count(high.x - low.x, w), count(high.y - low.y, h));
        // Centre the drawing in the tiles.
        let covered = |n: usize, window: f64| window + (n - 1) as f64 * (window - OVERLAP);
        let origin = P2::new(
            low.x - 0.5 * (covered(columns, w) - (high.x - low.x)),
            low.y - 0.5 * (covered(rows, h) - (high.y - low.y)),
        );
        Tiling { page, origin, columns, rows }
    }

    /// Registration crosses of a tile, on the drawing, mm: in the middle of the overlaps, so
    /// that neighbours carry the same ones. A page alone has none.
    pub(super) fn crosses(&self, column: usize, row: usize) -> Vec<P2> {
        if self.columns * self.rows == 1 {
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

/// The tiling of a drawing's box that takes the fewest pages.
pub(super) fn choose_tiling(low: P2, high: P2, pages: Pages) -> Tiling {
    match pages {
        Pages::Sheets(size) => {
            let lying = PageSize { width: size.height, height: size.width };
            let (a, b) = (Tiling::of(low, high, size), Tiling::of(low, high, lying));
            if b.columns * b.rows < a.columns * a.rows { b } else { a }
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
            Tiling::of(low, high, page)
        }
    }
}

/// Where the 100 mm check stands on a page: from its left and from its top, mm; `None` on a
/// page too narrow for it.
pub(super) fn check_bar(page: PageSize) -> Option<(f64, f64)> {
    (page.width > 2.0 * MARGIN + CHECK)
        .then_some((page.width - MARGIN - CHECK, page.height - MARGIN - 5.5))
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
    /// Ends of its 100 mm check laid on the drawing, if it has room for one.
    pub check: Option<(P2, P2)>,
}

/// The pages that the PDF of `drawing` will have besides its map, in order; empty ones are
/// left out there and here.
pub fn page_plan(drawing: &Drawing, pages: Pages) -> Vec<PagePlan> {
    let Some((low, high)) = drawing.bounds() else {
        return Vec::new();
    };
    let tiling = choose_tiling(low, high, pages);
    let (w, h) = Tiling::window(tiling.page);
    let mut out = Vec::new();
    for row in (0..tiling.rows).rev() {
        for column in 0..tiling.columns {
            if !anything_on(drawing, &tiling, column, row) {
                continue;
            }
            let corner = tiling.corner(column, row);
            let edge = P2::new(corner.x - MARGIN, corner.y - MARGIN - FOOT);
            let check = check_bar(tiling.page).map(|(x, y)| {
                let left = P2::new(edge.x + x, edge.y + tiling.page.height - y);
                (left, P2::new(left.x + CHECK, left.y))
            });
            out.push(PagePlan {
                name: tile_name(&tiling, column, row),
                window: (corner, P2::new(corner.x + w, corner.y + h)),
                paper: (edge, P2::new(edge.x + tiling.page.width, edge.y + tiling.page.height)),
                crosses: tiling.crosses(column, row),
                check,
            });
        }
    }
    out
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

/// Whether any line runs through a tile (texts alone do not make a page).
pub(super) fn anything_on(drawing: &Drawing, tiling: &Tiling, column: usize, row: usize) -> bool {
    let (w, h) = Tiling::window(tiling.page);
    let corner = tiling.corner(column, row);
    let far = P2::new(corner.x + w, corner.y + h);
    drawing.items.iter().any(|item| match &item.shape {
        Shape::Polyline { points, closed } => {
            let n = points.len();
            let last = if *closed { n } else { n - 1 };
            (0..last).any(|i| meets_box(points[i], points[(i + 1) % n], corner, far))
        }
        Shape::Text { .. } => false,
    })
}

/// Whether the segment meets the box; Liang and Barsky, ACM TOG 3 (1984).
fn meets_box(a: P2, b: P2, low: P2, high: P2) -> bool {
    let d = b - a;
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for (p, q) in
        [(-d.x, a.x - low.x), (d.x, high.x - a.x), (-d.y, a.y - low.y), (d.y, high.y - a.y)]
    {
        if p == 0.0 {
            if q < 0.0 {
                return false;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    from <= to
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHEET: PageSize = PageSize { width: 210.0, height: 297.0 };

    #[test]
    fn tiles_cover_the_drawing_and_overlap() {
        let (low, high) = (P2::new(-40.0, 10.0), P2::new(3960.0, 640.0));
        let t = choose_tiling(low, high, Pages::Sheets(SHEET));
        let (w, h) = Tiling::window(t.page);
        let (first, last) = (t.corner(0, 0), t.corner(t.columns - 1, t.rows - 1));
        assert!(first.x <= low.x && first.y <= low.y);
        assert!(last.x + w >= high.x && last.y + h >= high.y);
        assert!((t.corner(1, 0).x + OVERLAP - (first.x + w)).abs() < 1e-9);
    }

    /// What the preview shows is what the printer gets: the same crosses on both sides of an
    /// overlap, and a check of 100 mm on the paper.
    #[test]
    fn planned_pages_share_their_crosses_and_carry_a_check() {
        let mut d = Drawing::new(
            "a bar",
            "",
            vec![crate::drawing::Layer {
                name: "CUT",
                width: 0.5,
                dash: crate::drawing::Dash::Solid,
                colour: [0; 3],
            }],
        );
        d.line(0, P2::origin(), P2::new(700.0, 120.0));
        let plan = page_plan(&d, Pages::Sheets(SHEET));
        assert!(plan.len() > 2);
        for w in plan.windows(2).filter(|w| w[0].window.0.y == w[1].window.0.y) {
            let shared = w[0]
                .crosses
                .iter()
                .filter(|c| w[1].crosses.iter().any(|e| (*e - **c).norm() < 1e-9));
            assert_eq!(shared.count(), 2, "{} and {}", w[0].name, w[1].name);
        }
        for page in &plan {
            let (a, b) = page.check.expect("room for a check");
            assert!(((b - a).norm() - 100.0).abs() < 1e-9);
            assert!(a.x > page.paper.0.x && b.x < page.paper.1.x && a.y > page.paper.0.y);
        }
    }

    #[test]
    fn a_roll_is_one_page_until_readers_give_up() {
        let at = |length: f64| choose_tiling(P2::origin(), P2::new(length, 600.0), Pages::Roll);
        assert_eq!(at(4100.0).columns, 1);
        let long = at(5300.0);
        assert_eq!((long.columns, long.rows), (2, 1));
        assert!(long.page.width < 2750.0, "two halves, not two whole lengths: {}", long.page.width);
    }

    #[test]
    fn a_segment_meets_the_boxes_it_runs_through() {
        let (low, high) = (P2::new(0.0, 0.0), P2::new(10.0, 10.0));
        assert!(meets_box(P2::new(-5.0, 5.0), P2::new(15.0, 6.0), low, high));
        assert!(!meets_box(P2::new(-5.0, 5.0), P2::new(5.0, 18.0), low, high));
        assert!(!meets_box(P2::new(-5.0, -1.0), P2::new(15.0, -1.0), low, high));
    }
}
