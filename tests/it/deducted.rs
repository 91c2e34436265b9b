//! Planking deducted where its faces hardly tell: ends on a stem, a foot that two lines share,
//! sheets of unlike thickness nearly in one plane.

use chinewright::geom::V3;
use chinewright::hull::starters::STARTERS;
use chinewright::hull::{Hull, PanelPlanking, Planking};

use super::plan_tables::{deducted, line, planked};

/// A V-bottom whose chine ends on the stem above the keel's foot: bottom and side both end
/// there square to the stem, and tell of one direction alone.
#[test]
fn a_chine_that_ends_on_the_stem_stays_at_its_height() {
    let hull = |bottom: f64, side: f64| Hull {
        planking: Planking {
            panels: vec![
                PanelPlanking { thickness_mm: bottom, ..sheet("bottom") },
                PanelPlanking { thickness_mm: side, ..sheet("side") },
            ],
            ..Default::default()
        },
        ..planked(vec![
            line(
                "keel",
                &[
                    (170.0, 0.0, 408.0),
                    (900.0, 0.0, 201.0),
                    (1500.0, 0.0, 80.0),
                    (2100.0, 0.0, 14.0),
                    (2800.0, 0.0, 0.0),
                    (3600.0, 0.0, 0.0),
                    (4460.0, 0.0, 0.0),
                ],
            ),
            line(
                "chine",
                &[
                    (102.0, 0.0, 600.0),
                    (900.0, 355.0, 375.0),
                    (1700.0, 602.0, 219.0),
                    (2330.0, 677.6, 160.4),
                    (2960.0, 689.0, 152.0),
                    (3700.0, 689.0, 152.0),
                    (4488.0, 689.0, 152.0),
                ],
            ),
            line(
                "sheer",
                &[
                    (0.0, 0.0, 888.0),
                    (900.0, 467.0, 797.0),
                    (1700.0, 740.0, 734.0),
                    (2600.0, 845.0, 698.0),
                    (3500.0, 861.0, 682.0),
                    (4589.0, 862.0, 681.0),
                ],
            ),
        ])
    };
    // Square to a stem that rises by 288 in 102 (the chine to the sheer).
    let up = V3::new(-102.0, 0.0, 288.0).normalize();
    for (bottom, side) in [(6.0, 6.0), (9.0, 6.0), (6.0, 9.0), (12.0, 6.0)] {
        let outer = hull(bottom, side);
        let (inner, _) = deducted(&outer).unwrap_or_else(|e| panic!("{bottom} and {side}: {e}"));
        let moved = inner.lines[1].ducks[0].point() - outer.lines[1].ducks[0].point();
        let thickest = bottom.max(side);
        assert!(moved.dot(&up).abs() < 1e-6, "{bottom} and {side}: {moved} along the stem");
        assert!((thickest..3.0 * thickest).contains(&moved.norm()), "{bottom} and {side}: {moved}");
        // The keel's foot, where the bottom lies in the centreplane, goes with it.
        let foot = inner.lines[0].ducks[0].point() - outer.lines[0].ducks[0].point();
        assert!((foot - moved).norm() < 1e-9, "{foot} {moved}");
    }
}

fn sheet(panel: &str) -> PanelPlanking {
    PanelPlanking {
        panel: panel.into(),
        sheet: "marine ply 6".into(),
        thickness_mm: 6.0,
        grain_across: false,
    }
}

/// A level keel and a chine that rises from its foot at a quarter of its half-breadth: the
/// bottom is a plane, and its inner face cuts the centreplane at t times the root of 1 + 1/16.
#[test]
fn a_keel_and_a_chine_with_one_foot_by_hand() {
    let outer = planked(vec![
        line("keel", &[(840.0, 0.0, 0.0), (1740.0, 0.0, 0.0), (3140.0, 0.0, 0.0)]),
        line("chine", &[(840.0, 0.0, 0.0), (1740.0, 248.0, 62.0), (3140.0, 632.0, 158.0)]),
        line("sheer", &[(0.0, 0.0, 600.0), (1740.0, 435.0, 600.0), (3140.0, 785.0, 600.0)]),
    ]);
    let (inner, _) = deducted(&outer).expect("a place inside");
    let t = outer.planking.of_panel("bottom").1;
    for duck in &inner.lines[0].ducks {
        assert!((duck.z - t * (1.0f64 + 1.0 / 16.0).sqrt()).abs() < 0.01, "{duck:?}");
    }
    let (keel, chine) = (inner.lines[0].ducks[0].point(), inner.lines[1].ducks[0].point());
    assert!((keel - chine).norm() < 1e-6, "one foot: {keel} {chine}");
    assert!(keel.x > 840.0 && keel.x < 900.0, "behind the foot: {keel}");
}

/// Three millimetres more of ply in one strake cannot ask for a chine a hand's breadth away.
#[test]
fn strakes_of_unlike_thickness_do_not_send_a_chine_off() {
    let mut outer = STARTERS.iter().find(|s| s.name == "mere-dory").expect("the dory").hull();
    outer.planking.panels =
        [("bottom", 9.0), ("strake-1", 9.0), ("strake-2", 6.0), ("strake-3", 6.0)]
            .map(|(panel, thickness_mm)| PanelPlanking { thickness_mm, ..sheet(panel) })
            .to_vec();
    let (_, moved) = deducted(&outer).expect("a place inside");
    for m in moved {
        // What two planes at 6.3 degrees ask for at most, and half a millimetre of curve.
        let most = 9.0f64.hypot(3.0 / 6.3f64.to_radians().sin()) + 0.5;
        assert!(m.between.1 < most, "{m:?}");
        assert!(m.off < 3.0, "no more than the sheets differ by: {m:?}");
    }
}
