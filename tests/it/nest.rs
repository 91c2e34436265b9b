//! Parts on sheets: against a packing of boxes on shelves, closed forms, and themselves.

use chinewright::geom::P2;
use chinewright::geom::polyline::{area, bounds};
use chinewright::stock::nest::{
    Blanks, CutKind, Effort, Hand, Keep, Part, Problem, Reason, RestsOn, Sheet, Supply, Turning,
    cuts, first_layout, nest, nest_with, offcuts, wrongs,
};
use proptest::prelude::*;

fn ring(corners: &[(f64, f64)]) -> Vec<P2> {
    corners.iter().map(|(x, y)| P2::new(*x, *y)).collect()
}

fn rectangle(name: &str, length: f64, width: f64, count: usize) -> Part {
    Part {
        name: name.into(),
        outline: ring(&[(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]),
        count,
        hand: Hand::AsDrawn,
        turning: Turning::EndForEnd,
        grain: Some(0.0),
    }
}

fn ply() -> Sheet {
    Sheet::rectangle("6 mm ply", 2440.0, 1220.0, Supply::Bought)
}

/// Two triangles make a rectangle: four knees of 2400 by 600 need two sheets as boxes and one when
/// they are turned to each other.
#[test]
fn triangles_are_laid_against_each_other() {
    let knee = Part {
        outline: ring(&[(0.0, 0.0), (2300.0, 0.0), (0.0, 560.0)]),
        ..rectangle("wedge", 1.0, 1.0, 4)
    };
    let problem = Problem { parts: vec![knee], sheets: vec![ply()], kerf: 3.0 };
    let layout = nest(&problem, Effort { moves: 3000 }, 1, &mut |_| true).expect("sound");
    assert!(wrongs(&problem, &layout).is_empty() && layout.unplaced.is_empty());
    assert_eq!((layout.sheets.len(), layout.bound.sheets), (1, 1));
    assert!(layout.bound.excess(1).is_none());
}

/// Three boards that are over half as wide as the sheet and over half as long: one on each sheet,
/// though their area is that of two.
#[test]
fn the_bound_counts_parts_that_cannot_lie_beside_each_other() {
    let parts = vec![rectangle("half", 1300.0, 700.0, 3)];
    let problem = Problem { parts, sheets: vec![ply()], kerf: 3.0 };
    let layout = nest(&problem, Effort { moves: 500 }, 1, &mut |_| true).expect("sound");
    assert_eq!(layout.sheets.len(), 3);
    assert_eq!((layout.bound.sheets, layout.bound.on_middle), (3, 3));
    assert!(layout.bound.rests_on == RestsOn::Middle, "{:?}", layout.bound);
    // 3 × 1300 of 2440 by width, 3 × 700 of 1220 by length, 3 × 0.91 m² of 2.98 by area.
    assert!((layout.bound.by_width - 3.0 * 1300.0 / 2443.0).abs() < 1e-3, "{:?}", layout.bound);
    assert!((layout.bound.by_length - 3.0 * 700.0 / 1223.0).abs() < 1e-3, "{:?}", layout.bound);
    assert_eq!(layout.bound.excess(3), None);
    let why = layout.bound.excess(4).expect("one above the bound");
    assert_eq!((why.over, why.least, why.bought), (1, 3, 4));
}

#[test]
fn what_fits_nowhere_is_told_with_how_much() {
    let parts = vec![
        rectangle("side", 4079.4, 534.0, 2),
        rectangle("across", 1100.0, 2000.0, 1),
        rectangle("knee", 200.0, 100.0, 1),
    ];
    let mut problem = Problem { parts, sheets: vec![ply()], kerf: 3.0 };
    problem.sheets[0].edge_margin = 10.0;
    let layout = first_layout(&problem, 1).expect("sound");
    let Reason::TooLarge { over_length, over_width, .. } = layout.unplaced[0].reason else {
        panic!("{:?}", layout.unplaced);
    };
    // 4079.4 mm on 2440 less a margin of 10 at both ends.
    assert!((over_length - 1659.4).abs() < 0.05 && over_width == 0.0, "{over_length}");
    assert_eq!(layout.unplaced[0].reason, layout.unplaced[1].reason);
    assert_eq!(layout.unplaced[2].reason, Reason::Grain { sheet: "6 mm ply".into() });
    assert_eq!(layout.sheets[0].placed.len(), 1);
    problem.sheets[0].supply = Supply::OnHand(0);
    let none = first_layout(&problem, 1).expect("sound");
    assert_eq!(none.unplaced.len(), 4);
    assert!(none.unplaced.iter().all(|u| u.reason == Reason::NoSheet) && none.sheets.is_empty());
}

/// An L-shaped offcut in the shop takes what fits on it before a sheet is bought, and two sheets
/// on hand are not three.
#[test]
fn what_is_on_hand_is_used_first() {
    let offcut = Sheet {
        outline: ring(&[
            (0.0, 0.0),
            (1200.0, 0.0),
            (1200.0, 300.0),
            (300.0, 300.0),
            (300.0, 900.0),
            (0.0, 900.0),
        ]),
        supply: Supply::OnHand(1),
        edge_margin: 5.0,
        ..Sheet::rectangle("offcut", 1.0, 1.0, Supply::Bought)
    };
    let parts = vec![
        rectangle("thwart", 1150.0, 280.0, 1),
        Part { grain: None, ..rectangle("knee", 280.0, 550.0, 1) },
    ];
    let mut problem = Problem { parts, sheets: vec![ply(), offcut], kerf: 3.0 };
    let layout = nest(&problem, Effort::QUICK, 1, &mut |_| true).expect("sound");
    assert!(wrongs(&problem, &layout).is_empty());
    assert_eq!((layout.bought(&problem), layout.cost(&problem)), (0, Some(0.0)));
    problem.parts = vec![rectangle("bottom", 2400.0, 1200.0, 3)];
    problem.sheets = vec![Sheet { supply: Supply::OnHand(2), ..ply() }];
    let layout = nest(&problem, Effort::QUICK, 1, &mut |_| true).expect("sound");
    assert_eq!(layout.unplaced.len(), 1);
    assert_eq!(layout.unplaced[0].reason, Reason::NoRoom);
}

/// Of two kinds of sheet, one large one does what two small ones would; with one small part the
/// cheaper kind is bought. Without a price the cost is not known.
#[test]
fn fewer_sheets_first_then_cheaper_ones() {
    let large =
        Sheet { price: Some(90.0), ..Sheet::rectangle("large", 3050.0, 1525.0, Supply::Bought) };
    let small = Sheet { price: Some(40.0), ..ply() };
    let mut problem = Problem {
        parts: vec![rectangle("board", 1500.0, 1200.0, 2)],
        sheets: vec![small, large],
        kerf: 3.0,
    };
    let layout = nest(&problem, Effort::QUICK, 1, &mut |_| true).expect("sound");
    assert_eq!((layout.sheets.len(), layout.cost(&problem)), (1, Some(90.0)));
    problem.parts[0].count = 1;
    let layout = nest(&problem, Effort::QUICK, 1, &mut |_| true).expect("sound");
    assert_eq!(layout.cost(&problem), Some(40.0));
    problem.sheets.iter_mut().for_each(|s| s.price = None);
    assert_eq!(layout.cost(&problem), None);
}

/// Told to stop it stops at once with what it has, and what it has never gets worse.
#[test]
fn it_stops_when_told_and_only_gets_better() {
    let parts =
        (0..12).map(|k| rectangle("board", 300.0 + 37.0 * f64::from(k), 410.0, 1)).collect();
    let problem = Problem { parts, sheets: vec![ply()], kerf: 3.0 };
    let (mut calls, mut sheets) = (0, usize::MAX);
    let stopped = nest(&problem, Effort::THOROUGH, 1, &mut |p| {
        calls += 1;
        assert!(p.best.sheets.len() <= sheets && wrongs(&problem, p.best).is_empty());
        sheets = p.best.sheets.len();
        calls < 4
    })
    .expect("sound");
    assert_eq!(calls, 4);
    assert!(wrongs(&problem, &stopped).is_empty() && stopped.unplaced.is_empty());
}

/// Sheets that boxes on shelves take: first fit by decreasing height.
fn on_shelves(problem: &Problem) -> usize {
    let (length, width) = (problem.sheets[0].extent().1.x, problem.sheets[0].extent().1.y);
    let kerf = problem.kerf;
    let mut boxes: Vec<(f64, f64)> = problem
        .parts
        .iter()
        .flat_map(|p| std::iter::repeat_n(p, p.count))
        .filter_map(|p| bounds(p.outline.iter().copied()))
        .map(|(low, high)| (high.x - low.x, high.y - low.y))
        .filter(|(l, w)| *l <= length && *w <= width)
        .collect();
    boxes.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (mut sheets, mut shelves): (Vec<f64>, Vec<(f64, f64)>) = (Vec::new(), Vec::new());
    for (l, w) in boxes {
        if let Some(shelf) = shelves.iter_mut().find(|s| l <= s.0 && s.1 + w <= width) {
            shelf.1 += w + kerf;
            continue;
        }
        match sheets.iter_mut().find(|end| **end + l <= length) {
            Some(end) => *end += l + kerf,
            None => sheets.push(l + kerf),
        }
        shelves.push((l, w + kerf));
    }
    sheets.len()
}

/// A star-shaped part: corners at growing angles and any distance.
fn any_part() -> impl Strategy<Value = Part> {
    let corners = prop::collection::vec(0.25..1.0f64, 3..10);
    let size = (60.0..1100.0f64, 60.0..500.0f64);
    let kind = (0..4usize, 0..4usize, prop::option::of(0.0..3.0f64), 1..4usize);
    (corners, size, kind).prop_map(|(radii, (long, wide), (hand, turning, grain, count))| {
        let n = radii.len() as f64;
        let at = |(k, r): (usize, &f64)| {
            let (s, c) = (k as f64 * std::f64::consts::TAU / n).sin_cos();
            P2::new(long * r * c, wide * r * s)
        };
        Part {
            name: "part".into(),
            outline: radii.iter().enumerate().map(at).collect(),
            count,
            hand: [Hand::AsDrawn, Hand::Mirrored, Hand::Either, Hand::Pairs][hand],
            turning: [Turning::Fixed, Turning::EndForEnd, Turning::Quarters, Turning::Free]
                [turning],
            grain,
        }
    })
}

fn any_problem() -> impl Strategy<Value = Problem> {
    let parts = prop::collection::vec(any_part(), 1..9);
    (parts, 0.0..6.0f64, 0.0..15.0f64, any::<bool>()).prop_map(|(parts, kerf, margin, bevelled)| {
        let mut sheet = Sheet { edge_margin: margin, ..ply() };
        if bevelled {
            // A corner was cut off for something else.
            sheet.outline = ring(&[
                (0.0, 0.0),
                (2440.0, 0.0),
                (2440.0, 700.0),
                (1900.0, 1220.0),
                (0.0, 1220.0),
            ]);
        }
        Problem { parts, sheets: vec![sheet], kerf }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// Whatever is asked: nothing overlaps, everything is placed or told, the bound holds, the
    /// same seed gives the same layout, offcuts and parts together are no more than the sheet.
    #[test]
    fn properties_of_random_layouts(problem in any_problem(), seed in any::<u64>()) {
        prop_assume!(problem.faults().is_empty());
        let layout = nest(&problem, Effort { moves: 150 }, seed, &mut |_| true).expect("sound");
        let again = nest(&problem, Effort { moves: 150 }, seed, &mut |_| true).expect("sound");
        prop_assert_eq!(&layout, &again);
        prop_assert!(wrongs(&problem, &layout).is_empty(), "{:?}", wrongs(&problem, &layout));
        prop_assert!(layout.sheets.len() >= layout.bound.sheets);
        for unplaced in &layout.unplaced {
            prop_assert!(unplaced.reason != Reason::NoSheet, "{:?}", unplaced);
            if problem.sheets[0].is_rectangle() {
                prop_assert!(unplaced.reason != Reason::NoRoom, "{:?}", unplaced);
            }
        }
        for sheet in &layout.sheets {
            let left: f64 = offcuts(&problem, sheet, Keep::default(), &[]).iter().map(|o| o.area).sum();
            let parts: f64 = sheet.placed.iter().map(|p| area(&p.outline).abs()).sum();
            prop_assert!(left + parts <= 1.0001 * area(&problem.sheets[0].outline));
            let made = cuts(&problem, sheet, Keep::default());
            let straight = made.iter().take_while(|c| c.kind != CutKind::Outline).count();
            prop_assert_eq!(made.len() - straight, sheet.placed.len());
        }
    }

    /// Outlines that are ready from layouts before change nothing, few discs or all.
    #[test]
    fn properties_of_outlines_made_ready_before(
        problem in any_problem(),
        moves in 0usize..2,
        seed in any::<u64>(),
    ) {
        let effort = Effort { moves: 40 * moves };
        let mut blanks = Blanks::default();
        let mut laid = |effort| nest_with(&problem, effort, seed, &mut blanks, &mut |_| true);
        let before = laid(Effort { moves: 40 - effort.moves }).expect("sound");
        let again = laid(effort).expect("sound");
        prop_assert_eq!(&again, &nest(&problem, effort, seed, &mut |_| true).expect("sound"));
        prop_assert_eq!(before.bound, again.bound);
    }

    /// Never more sheets than their boxes on shelves would take, from the first layout on.
    #[test]
    fn properties_beside_boxes_on_shelves(problem in any_problem(), seed in any::<u64>()) {
        let mut problem = problem;
        problem.sheets[0] = ply();
        for part in &mut problem.parts {
            (part.hand, part.turning, part.grain) = (Hand::AsDrawn, Turning::Fixed, None);
        }
        let layout = first_layout(&problem, seed).expect("sound");
        prop_assert!(layout.sheets.len() <= on_shelves(&problem));
    }
}
