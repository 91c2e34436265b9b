use super::*;
use crate::drawing::{Dash, Layer, Purpose};

const SHEET: PageSize = PageSize { width: 210.0, height: 297.0 };

fn sheet() -> Drawing {
    let layer =
        |name, purpose| Layer { name, width: 0.5, dash: Dash::Solid, colour: [0; 3], purpose };
    Drawing::new("a bar", "", vec![layer("CUT", Purpose::Cut), layer("RULING", Purpose::Explain)])
}

/// A bow of 4 m, as a side's lower edge is, with rulings all over it.
fn bowed() -> Drawing {
    let mut d = sheet();
    let edge = |x: f64| 250.0 - 250.0 * (x / 2000.0 - 1.0).powi(2);
    let points: Vec<P2> =
        (0..=400).map(|i| 10.0 * f64::from(i)).map(|x| P2::new(x, edge(x))).collect();
    d.polyline(0, points, false);
    for i in 0..40 {
        let x = 100.0 * f64::from(i);
        d.line(1, P2::new(x, edge(x)), P2::new(x, 900.0));
    }
    d
}

/// Every millimetre of the cut line is in the window of a printed tile, and the rulings
/// above it are not what paper is printed for.
#[test]
fn cut_lines_are_all_on_paper_and_rulings_print_none() {
    let d = bowed();
    let plan = page_plan(&d, Pages::Sheets(SHEET));
    let Shape::Polyline { points, .. } = &d.items[0].shape else {
        panic!("the edge");
    };
    for w in points.windows(2) {
        for share in [0.0, 0.5, 1.0] {
            let p = w[0] + share * (w[1] - w[0]);
            let shown = plan.iter().any(|t| {
                let (low, high) = t.window;
                p.x >= low.x && p.y >= low.y && p.x <= high.x && p.y <= high.y
            });
            assert!(shown, "{p} is on no page");
        }
    }
    // 4000 over a pitch of 267, and the rows that the bow passes.
    assert!(plan.len() <= 19, "{} pages", plan.len());
    let whole = page_plan(&sheet_with_all_needed(&d), Pages::Sheets(SHEET));
    assert!(whole.len() > 2 * plan.len(), "{} pages with rulings", whole.len());
}

fn sheet_with_all_needed(d: &Drawing) -> Drawing {
    let mut d = d.clone();
    d.layers.iter_mut().for_each(|l| l.purpose = Purpose::Cut);
    d
}

/// A table longer than a page is all words: they are what its pages are printed for.
#[test]
fn a_long_table_is_printed_to_its_last_word() {
    let mut d = sheet();
    d.table = true;
    for row in 0..90 {
        let at = P2::new(0.0, -6.0 * f64::from(row));
        d.text(0, at, 2.4, 0.0, crate::drawing::Anchor::Left, format!("row {row}"));
    }
    let plan = page_plan(&d, Pages::Sheets(SHEET));
    assert!(plan.len() > 1);
    for item in &d.items {
        let b = item.shape.text_box().expect("a word");
        let middle = b.low + 0.5 * (b.along + b.up);
        assert!(plan.iter().any(|t| {
            let (low, high) = t.window;
            middle.x >= low.x && middle.y >= low.y && middle.x <= high.x && middle.y <= high.y
        }));
    }
}

/// A line that only just passes into the next cell is in its neighbour's overlap already.
#[test]
fn no_page_is_printed_for_what_its_neighbour_shows() {
    let mut d = sheet();
    let (w, _) = Tiling::window(SHEET);
    // Longer than a window by less than an overlap, both ways of the page.
    let long = Tiling::window(SHEET.turned()).0;
    d.line(0, P2::origin(), P2::new(long + w - OVERLAP - 1.0, 0.0));
    assert!(page_plan(&d, Pages::Sheets(SHEET)).len() <= 2);
}

/// What the preview shows is what the printer gets: the same crosses on both sides of an
/// overlap, and a check of 100 mm on the paper.
#[test]
fn planned_pages_share_their_crosses_and_carry_a_check() {
    let mut d = sheet();
    d.line(0, P2::origin(), P2::new(700.0, 120.0));
    let plan = page_plan(&d, Pages::Sheets(SHEET));
    assert!(plan.len() > 2);
    for w in plan.windows(2).filter(|w| w[0].window.0.y == w[1].window.0.y) {
        let shared =
            w[0].crosses.iter().filter(|c| w[1].crosses.iter().any(|e| (*e - **c).norm() < 1e-9));
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
    let at = |length: f64| {
        let mut d = sheet();
        d.line(0, P2::origin(), P2::new(length, 600.0));
        choose_tiling(&d, Pages::Roll)
    };
    assert_eq!(at(4100.0).columns, 1);
    let long = at(5300.0);
    assert_eq!((long.columns, long.rows), (2, 1));
    assert!(long.page.width < 2750.0, "two halves, not two whole lengths: {}", long.page.width);
}

#[test]
fn a_segment_is_cut_to_the_boxes_it_runs_through() {
    let (low, high) = (P2::new(0.0, 0.0), P2::new(10.0, 10.0));
    let across = clipped(P2::new(-5.0, 5.0), P2::new(15.0, 5.0), low, high);
    assert_eq!(across, Some((P2::new(0.0, 5.0), P2::new(10.0, 5.0))));
    assert!(clipped(P2::new(-5.0, 5.0), P2::new(5.0, 18.0), low, high).is_none());
    assert!(clipped(P2::new(-5.0, -1.0), P2::new(15.0, -1.0), low, high).is_none());
}

/// A stem whose bevel ran 19 km back was tiled until the machine gave up.
#[test]
fn a_drawing_without_end_is_refused_and_the_largest_boat_is_not() {
    let layer =
        Layer { name: "CUT", width: 0.5, dash: Dash::Solid, colour: [0; 3], purpose: Purpose::Cut };
    let line = |to: P2| {
        let mut d = Drawing::new("a stem", "", vec![layer]);
        d.line(0, P2::origin(), to);
        super::super::pdf::write(&d, Pages::Sheets(SHEET))
    };
    assert!(line(P2::new(8000.0, 3000.0)).is_ok());
    for far in [1.9e7, f64::INFINITY] {
        let error = line(P2::new(far, 400.0)).expect_err("without end").to_string();
        assert!(error.contains("a stem") && error.contains("run off"), "{error}");
    }
}

/// Found by fuzzing: lines at no place went into SVG and DXF as NaN, and a name with a
/// character that XML leaves out made an SVG that no reader opens.
#[test]
fn lines_that_are_nowhere_are_refused_in_every_format_and_texts_are_xml() {
    use crate::drawing::Anchor;
    let layer =
        Layer { name: "CUT", width: 0.5, dash: Dash::Solid, colour: [0; 3], purpose: Purpose::Cut };
    for (x, height) in [(f64::NAN, 4.0), (f64::NEG_INFINITY, 4.0), (1e306, 4.0), (1.0, f64::NAN)] {
        let mut d = Drawing::new("a stem", "", vec![layer]);
        d.line(0, P2::origin(), P2::new(400.0, 300.0));
        d.text(0, P2::new(x, 0.0), height, 0.0, Anchor::Left, "lost");
        for said in [
            super::super::svg::write(&d).expect_err("SVG"),
            super::super::dxf::write(&d).expect_err("DXF"),
            super::super::pdf::write(&d, Pages::Sheets(SHEET)).expect_err("PDF"),
        ] {
            let said = said.to_string();
            assert!(said.contains("a stem") && said.contains("run off") && said.contains("CUT"));
        }
    }
    let mut d = Drawing::new("Heron\u{fffe}", "\u{ffff}", vec![layer]);
    d.text(0, P2::origin(), 4.0, 0.0, Anchor::Left, "a\u{1}b\u{fffe}c");
    let text = super::super::svg::write(&d).expect("an SVG");
    assert!(text.contains("a b c"));
    let held = |c: char| matches!(c, '\t' | '\n' | '\r' | '\u{20}'..='\u{fffd}' | '\u{10000}'..);
    assert_eq!(text.chars().find(|c| !held(*c)), None);
}
