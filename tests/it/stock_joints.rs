//! Panels split at joints: areas by shapely, and what must hold for any panel.

use chinewright::geom::P2;
use chinewright::geom::polyline::area;
use chinewright::hull::stock::{JointKind, JointRule};
use chinewright::stock::joints::{
    Avoid, BendAt, InnerWood, JointError, Panel, Room, SharedEdge, Split, candidates, split_at,
};
use proptest::prelude::*;
use serde::Deserialize;

use crate::reference::frozen;

#[derive(Deserialize)]
struct Case {
    name: String,
    outline: Vec<[f64; 2]>,
    lower: Vec<[f64; 2]>,
    upper: Vec<[f64; 2]>,
    places: Vec<f64>,
    overlap: f64,
    block: f64,
    stick: f64,
    area: f64,
    pieces: Vec<f64>,
    overlaps: Vec<f64>,
    blocks: Vec<f64>,
}

fn points(all: &[[f64; 2]]) -> Vec<P2> {
    all.iter().map(|[x, y]| P2::new(*x, *y)).collect()
}

const ROOM: Room = Room { length: 2430.0, width: 1210.0 };

fn panel<'a>(outline: &'a [P2], rule: JointRule) -> Panel<'a> {
    Panel {
        name: "side",
        outline,
        thickness: 6.0,
        room: ROOM,
        grain_within: 0.2,
        rule,
        avoid: &[],
        bends: &[],
        least_radii: (700.0, 2000.0),
        shared: &[],
        stagger: 600.0,
        least_piece: 400.0,
        inner_wood: &[],
    }
}

fn scarf(slope: f64) -> JointRule {
    JointRule { kind: JointKind::Scarf, slope, block_length_mm: None }
}

/// Areas of pieces, of what they have in common and of blocks, as shapely has them.
#[test]
fn pieces_and_blocks_are_those_of_another_library() {
    for case in frozen::<Vec<Case>>("joints.json") {
        let outline = points(&case.outline);
        let near = |a: f64, b: f64, what: &str| {
            assert!((a - b).abs() < 1e-5 * (1.0 + b), "{}: {what} {a} for {b}", case.name);
        };
        // Wide enough that nothing is split along the boat.
        let room = Room { width: 1500.0, ..ROOM };
        let scarfed = Panel { room, ..panel(&outline, scarf(case.overlap / 6.0)) };
        let split = split_at(&scarfed, &case.places).expect("it fits");
        assert_eq!(split.pieces.len(), case.pieces.len());
        for (p, a) in split.pieces.iter().zip(&case.pieces) {
            near(area(&p.outline), *a, "piece");
        }
        let sum: f64 = split.pieces.iter().map(|p| area(&p.outline)).sum();
        near(sum - case.overlaps.iter().sum::<f64>(), case.area, "pieces less overlaps");
        for (j, u) in split.joints.iter().zip(&case.places) {
            assert_eq!((j.at, j.taken, j.lines.len()), (*u, case.overlap, 2));
            assert!((j.lines[1][0].x - j.lines[0][0].x - case.overlap).abs() < 1e-9);
        }
        let sticks = [points(&case.lower), points(&case.upper)]
            .map(|line| InnerWood { line, width: case.stick });
        let rule = JointRule { block_length_mm: Some(case.block), ..JointRule::default() };
        let blocked = Panel { room, inner_wood: &sticks, ..panel(&outline, rule) };
        let split = split_at(&blocked, &case.places).expect("it fits");
        let sum: f64 = split.pieces.iter().map(|p| area(&p.outline)).sum();
        near(sum, case.area, "butted pieces");
        for (j, a) in split.joints.iter().zip(&case.blocks) {
            // Ends of sticks are rounded by other polygons.
            let found: f64 = j.blocks.iter().map(|b| area(b)).sum();
            assert!((found - a).abs() < 1e-3 * a, "{}: block {found} for {a}", case.name);
        }
    }
}

/// A strip of 4000 by 500 with a frame where one sheet would end: one joint, clear of it.
#[test]
fn a_joint_stays_clear_of_a_frame_a_tight_bend_and_a_neighbour() {
    let outline = points(&[[0.0, 0.0], [4000.0, 0.0], [4000.0, 500.0], [0.0, 500.0]]);
    let frame = |u: f64| Avoid {
        from: u - 10.0,
        to: u + 10.0,
        clear: 20.0,
        forbidden: true,
        why: format!("frame at {u}"),
    };
    let frames = [frame(1600.0), frame(2000.0), frame(2400.0)];
    let bends: Vec<BendAt> = (0..=40)
        .map(|i| f64::from(i) * 100.0)
        .map(|u| BendAt { u, radius: if u < 1900.0 { 1500.0 } else { 6000.0 } })
        .collect();
    // The edge that both share is as long in the boat as on the pattern.
    let shared = [SharedEdge { along: vec![(0.0, 0.0), (4000.0, 4000.0)], joints: vec![2300.0] }];
    let p = Panel {
        avoid: &frames,
        bends: &bends,
        shared: &shared,
        ..panel(&outline, JointRule::default())
    };
    let all = candidates(&p, 6).expect("it fits in two");
    assert!(all.len() >= 2);
    let best = &all[0];
    assert_eq!((best.joints.len(), best.pieces.len()), (1, 2));
    let j = &best.joints[0];
    assert!(j.in_the_way.is_empty(), "{j:?}");
    // Between the frames at 2000 and 2400 a block of 8 in has room; it keeps to the half that is
    // further from the neighbour's joint.
    let room = 0.5 * j.taken + 30.0;
    assert!(j.at >= 2000.0 + room - 1e-9 && j.at < 2200.0, "{}", j.at);
    assert!(j.bend.bends() && all.windows(2).all(|w| w[0].cost <= w[1].cost));
}

#[test]
fn what_no_sheet_takes_says_by_how_much() {
    let outline = points(&[[0.0, 0.0], [4000.0, 0.0], [4000.0, 500.0], [0.0, 500.0]]);
    let small = Panel {
        room: Room { length: 300.0, width: 1210.0 },
        ..panel(&outline, JointRule::default())
    };
    let error = candidates(&small, 3).expect_err("too small");
    let JointError::NoSheet { excess, .. } = error else {
        panic!("{error:?}");
    };
    assert!((excess.length - 100.0).abs() < 0.5, "{excess:?}");
    let line = points(&[[0.0, 0.0], [4000.0, 0.0], [2000.0, 0.0]]);
    let error = candidates(&panel(&line, JointRule::default()), 3).expect_err("no area");
    assert!(matches!(error, JointError::NoOutline { .. }));
    let nan = points(&[[0.0, 0.0], [f64::NAN, 0.0], [2000.0, 900.0]]);
    assert!(candidates(&panel(&nan, JointRule::default()), 3).is_err());
}

/// A bottom wider than its sheet is split along the boat too, and every joint is given.
#[test]
fn a_panel_wider_than_its_sheet_is_split_both_ways() {
    let outline = points(&[[0.0, 0.0], [4000.0, 0.0], [4000.0, 1500.0], [0.0, 1500.0]]);
    for rule in [scarf(8.0), JointRule::default()] {
        let all = candidates(&panel(&outline, rule), 3).expect("it can be had");
        let split = &all[0];
        assert_eq!(split.pieces.len(), 4);
        let lengthwise = split.joints.iter().filter(|j| j.lengthwise).count();
        assert_eq!((lengthwise, split.joints.len()), (2, 3));
        adds_up(split, &outline, rule, 6.0);
    }
}

/// Pieces less what they have in common are the panel, and each lies in its sheet.
fn adds_up(split: &Split, outline: &[P2], rule: JointRule, thickness: f64) {
    for p in &split.pieces {
        let (sin, cos) = p.turned.sin_cos();
        let turned: Vec<P2> = p
            .outline
            .iter()
            .map(|q| P2::new(cos * q.x - sin * q.y, sin * q.x + cos * q.y))
            .collect();
        let (low, high) = chinewright::geom::polyline::bounds(turned).expect("a piece has corners");
        assert!(high.x - low.x <= ROOM.length + 1e-3 && high.y - low.y <= ROOM.width + 1e-3);
    }
    let sum: f64 = split.pieces.iter().map(|p| area(&p.outline)).sum();
    let whole = area(outline).abs();
    match rule.kind {
        JointKind::ButtBlock => assert!((sum - whole).abs() < 1e-4 * whole),
        JointKind::Scarf => {
            // A scarf's common strip is as wide as its joint is long, within what the panel
            // widens over it; crossings of two joints count twice.
            let taken = rule.slope * thickness;
            let over: f64 = split
                .joints
                .iter()
                .map(|j| {
                    let length = |l: &[P2; 2]| (l[1] - l[0]).norm();
                    taken * j.lines.iter().map(length).sum::<f64>() / j.lines.len() as f64
                })
                .sum();
            assert!((sum - over - whole).abs() < 5e-3 * whole, "{sum} {over} {whole}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..crate::properties::config() })]
    #[test]
    fn any_side_can_be_had_and_adds_up(
        length in 1500.0..9000.0f64,
        width in 250.0..900.0f64,
        sag in -0.04..0.04f64,
        taper in 0.3..1.0f64,
        butt in any::<bool>(),
        frames in prop::collection::vec(0.05..0.95f64, 0..8),
    ) {
        let n = 40;
        let at = |i: usize| i as f64 / n as f64;
        let edge = |t: f64, up: f64| {
            let half = 0.5 * width * (taper + (1.0 - taper) * t);
            P2::new(length * t, sag * length * 4.0 * t * (1.0 - t) + up * half)
        };
        let mut outline: Vec<P2> = (0..=n).map(|i| edge(at(i), -1.0)).collect();
        outline.extend((0..=n).rev().map(|i| edge(at(i), 1.0)));
        let avoid: Vec<Avoid> = frames
            .iter()
            .map(|t| Avoid {
                from: t * length - 10.0,
                to: t * length + 10.0,
                clear: 15.0,
                forbidden: true,
                why: "frame".into(),
            })
            .collect();
        let rule = if butt { JointRule::default() } else { scarf(8.0) };
        let p = Panel { avoid: &avoid, ..panel(&outline, rule) };
        let all = candidates(&p, 5).expect("a side of this width can be had");
        let least = all.iter().map(|s| s.joints.len()).min().expect("one at least");
        prop_assert!(all.windows(2).all(|w| w[0].cost <= w[1].cost));
        let overlap = if butt { 0.0 } else { 48.0 };
        // No fewer pieces than lengths of sheet; a tapered one that is turned may be 3 % longer.
        let needed = ((length - overlap) / (1.03 * ROOM.length - overlap)).ceil() as usize;
        prop_assert!(least + 1 >= needed, "{least} joints for {needed} sheets");
        for split in &all {
            adds_up(split, &outline, rule, 6.0);
            let half = 0.5 * split.joints.first().map_or(0.0, |j| j.taken);
            for j in &split.joints {
                let hit = avoid
                    .iter()
                    .filter(|a| j.at + half > a.from - a.clear && j.at - half < a.to + a.clear)
                    .count();
                prop_assert_eq!(hit, if j.lengthwise { 0 } else { j.in_the_way.len() });
            }
        }
    }
}
