//! The edge that a pattern has on the boat: one clean line round the panel and its laps, right
//! out to the corners that the panel has on the boat.

use chinewright::flat::outline::grown;
use chinewright::geom::polyline::{area, first_self_crossing, length2};
use chinewright::geom::ring::{from_ring, inside};
use chinewright::geom::{P2, V2, V3};
use chinewright::hull::starters::STARTERS;
use chinewright::material::Materials;
use chinewright::model::{Model, PanelModel, derive};
use nalgebra::Matrix3;
use proptest::prelude::*;

use crate::properties::{config, hull_of, wish};

/// Hulls on which the outlines are tried, beside the starters.
const CASES: u32 = 64;

/// A turn (degrees) that no corner of a panel has: the sides of a slit turn by nearly 180.
const TURNS_BACK: f64 = 172.0;

fn starter(name: &str) -> Model {
    let starter = STARTERS.iter().find(|s| s.name == name).expect("a starter");
    derive(&starter.hull(), &Materials::shipped()).expect("computes")
}

/// The sharpest turn of a ring, degrees.
fn sharpest_turn(ring: &[P2]) -> f64 {
    let n = ring.len();
    (0..n)
        .map(|i| {
            let (a, b, c) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
            let (e, f) = (b - a, c - b);
            e.perp(&f).atan2(e.dot(&f)).abs().to_degrees()
        })
        .fold(0.0, f64::max)
}

/// Length of one half's edges, and the area and greatest width of what is past them, from the
/// laps' own widths by the trapezoidal rule.
fn by_strips(p: &PanelModel) -> (f64, f64, f64) {
    let (mut strips, mut widest) = (0.0, 0.0f64);
    for (on_upper, added) in [(false, &p.laps.lower.added), (true, &p.laps.upper.added)] {
        if p.full_width && !on_upper {
            continue;
        }
        let ends: Vec<P2> = p
            .flat
            .rulings
            .iter()
            .map(|r| if on_upper { r.flat_upper } else { r.flat_lower })
            .collect();
        for (i, w) in added.windows(2).enumerate() {
            if w.iter().all(|x| x.is_finite()) {
                strips += 0.5 * (w[0] + w[1]) * (ends[i + 1] - ends[i]).norm();
                widest = widest.max(w[0]).max(w[1]);
            }
        }
    }
    for past in &p.past_posts {
        for w in past.windows(2) {
            strips += 0.5 * (w[0].1 + w[1].1) * (w[1].0 - w[0].0).norm();
            widest = widest.max(w[0].1).max(w[1].1);
        }
    }
    let e = &p.edges;
    let both = if p.full_width { 0.0 } else { e.lower };
    (both + e.upper + e.bow + e.stern, strips, widest)
}

fn clean(p: &PanelModel) -> Result<(), String> {
    let ring = p.finished_outline();
    let halves = if p.full_width { 2.0 } else { 1.0 };
    if let Some(at) = first_self_crossing(&ring) {
        return Err(format!("{}: crosses itself at {at:?}", p.name));
    }
    let turn = sharpest_turn(&ring);
    if turn > TURNS_BACK {
        return Err(format!("{}: turns back by {turn:.1}°", p.name));
    }
    let (edges, strips, widest) = by_strips(p);
    // Corners take or leave a few widths each; a moved edge is longer by width times turn.
    let mut closed = ring.clone();
    closed.push(ring[0]);
    let (round, want) = (length2(&closed), halves * edges);
    if (round - want).abs() > halves * (30.0 * widest + 2.0) {
        return Err(format!("{}: {round:.1} round for {want:.1}", p.name));
    }
    let (got, want) = (area(&ring), halves * (p.flat.area_in_flat() + strips));
    // A strip's mitred end is at most a triangle of the width and the longest point.
    let slack = halves * (16.0 * widest * widest + 0.01 * strips + 1.0) + 1e-5 * want;
    if (got - want).abs() > slack {
        return Err(format!("{}: {got:.1} mm² for {want:.1} ± {slack:.1}", p.name));
    }
    let cut = grown(&ring, 10.0);
    if first_self_crossing(&cut).is_some() || sharpest_turn(&cut) > TURNS_BACK {
        return Err(format!("{}: the cut line is not clean", p.name));
    }
    Ok(())
}

#[test]
fn outlines_of_the_starters_are_one_clean_line() {
    for starter in STARTERS {
        let model = derive(&starter.hull(), &Materials::shipped()).expect(starter.name);
        for p in &model.panels {
            assert_eq!(clean(p), Ok(()), "{}", starter.name);
            // Every point of the panel and every point of its laps' middle lies in it.
            let ring = p.finished_outline();
            for r in &p.flat.rulings {
                let middle = r.flat_lower + 0.5 * (r.flat_upper - r.flat_lower);
                for q in [r.flat_lower, middle, r.flat_upper] {
                    assert!(inside(&ring, q) || from_ring(q, &ring) < 0.1, "{} {q}", p.name);
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, ..config() })]

    #[test]
    fn outlines_are_one_clean_line(wish in wish()) {
        let model = derive(&hull_of(&wish), &Materials::shipped())
            .map_err(|_| TestCaseError::reject("no hull"))?;
        for p in &model.panels {
            // A panel that folds over has no outline; a finding stops it.
            let of = chinewright::flat::outline::of_flat(&p.flat, p.full_width);
            if first_self_crossing(&of).is_none() {
                prop_assert_eq!(clean(p), Ok(()));
            }
        }
    }
}

/// Where the outer face of the starboard side, the centreplane and a face of the bottom meet at
/// the bow, by their three planes, from the corner of both panels; then laid into the bottom's
/// own plane: along its lower edge, and square to it towards the chine.
fn tip(model: &Model, bottom: &PanelModel, side: &PanelModel, deep: f64) -> V2 {
    let (b, s) = (&bottom.surface.rulings[0], &side.surface.rulings[0]);
    let corner = s.lower;
    let planes = Matrix3::from_rows(&[
        s.normal_lower.transpose(),
        b.normal_upper.transpose(),
        V3::y().transpose(),
    ]);
    let p = planes.lu().solve(&V3::new(side.thickness, deep, -corner.y)).expect("three planes");
    let line = &model.lines.lines[bottom.lower_line].spline;
    let e = line.jet(0.0).d1.normalize();
    let n = b.normal_upper;
    let e = (e - e.dot(&n) * n).normalize();
    V2::new(p.dot(&e), p.dot(&n.cross(&e)).abs())
}

/// The bottom covers the lower edges of both sides right out to where their outer faces meet,
/// and its pattern ends in that corner.
#[test]
fn a_bottom_reaches_the_true_corner_at_the_bow() {
    for (name, missed) in [("reed-skiff", 25.0), ("warden", 12.0)] {
        let model = starter(name);
        let (bottom, side) = (&model.panels[0], &model.panels[1]);
        let ring = bottom.finished_outline();
        let flat = &bottom.flat.rulings;
        let corner = flat[0].flat_upper;
        // The lower edge's own way at the bow, in the flat.
        let next = flat.iter().find(|r| (r.flat_lower - corner).norm() > 2.0).expect("an edge");
        let e = (next.flat_lower - corner).normalize();
        let left = V2::new(-e.y, e.x);
        let mut furthest = 0.0f64;
        for deep in [0.0, bottom.thickness] {
            let tip = tip(&model, bottom, side, deep);
            let at = corner + tip.x * e + tip.y * left;
            let out = if inside(&ring, at) { 0.0 } else { from_ring(at, &ring) };
            assert!(out < 0.3, "{name}: {out:.2} mm short of the corner at depth {deep}");
            furthest = furthest.min(tip.x);
        }
        let reach = ring.iter().map(|p| (p - corner).dot(&e)).fold(0.0, f64::min);
        assert!(furthest < -0.4 * missed, "{name}: {furthest}");
        assert!(reach > furthest - 3.0, "{name}: {reach:.2} for {furthest:.2}");
    }
}
