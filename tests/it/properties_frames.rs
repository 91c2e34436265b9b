//! Properties of frames that hold on any plausible hull.

use chinewright::finding::{NotchFact, Place};
use chinewright::frames::{Frame, Piece};
use chinewright::geom::plane::Plane;
use chinewright::geom::region::Region;
use chinewright::geom::ring::{from_ring, inside};
use chinewright::geom::{P2, V3};
use chinewright::hull::{Hull, Joint};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::part::LineId;
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use std::cell::Cell;
use std::io::Write;

use crate::bevelled::{larger_by, missing, named_face_is_the_smaller};
use crate::gussets::{fastenings_hold, plates_lie_apart, water_passes};
use crate::properties::{Wish, config, hull_of, wish};

/// What was looked at and what was passed over, of one kind.
struct Tally {
    what: &'static str,
    /// Most that may be passed over, of all.
    most: f64,
    seen: Cell<u32>,
    passed_over: Cell<u32>,
}

impl Tally {
    fn of(what: &'static str, most: f64) -> Tally {
        Tally { what, most, seen: Cell::new(0), passed_over: Cell::new(0) }
    }

    /// Counts one more; says whether it is to be looked at.
    fn look(&self, fit: bool) -> bool {
        let into = if fit { &self.seen } else { &self.passed_over };
        into.set(into.get() + 1);
        fit
    }

    /// Fails where too many were passed over, or too few looked at to say anything.
    fn close(&self) {
        let (seen, over) = (self.seen.get(), self.passed_over.get());
        let share = f64::from(over) / f64::from((seen + over).max(1));
        let _ = writeln!(
            std::io::stdout().lock(),
            "{}: {seen} looked at, {over} passed over ({:.2} %)",
            self.what,
            100.0 * share
        );
        assert!(seen > 400, "{}: only {seen} were looked at", self.what);
        assert!(share <= self.most, "{}: {over} of {} passed over", self.what, seen + over);
    }
}

/// Runs `test` on all random hulls, then closes the tallies.
fn on_all(tallies: &[&Tally], test: impl Fn(&Wish) -> Result<(), TestCaseError>) {
    let ran = TestRunner::new(config()).run(&wish(), |wish| test(&wish));
    if let Err(wrong) = ran {
        panic!("{wrong}");
    }
    tallies.iter().for_each(|t| t.close());
}

/// Distance of a point from the inside of any of the rings.
fn from_any(p: P2, rings: &[&[P2]]) -> f64 {
    rings
        .iter()
        .map(|r| if inside(r, p) { 0.0 } else { from_ring(p, r) })
        .fold(f64::INFINITY, f64::min)
}

fn model_of(hull: &Hull) -> Result<Model, TestCaseError> {
    derive(hull, &Materials::shipped()).map_err(|_| TestCaseError::reject("no hull"))
}

/// The outline that is cut does not cross itself, nor when it is rounded to the ten-thousandth
/// of a millimetre that drawings are written to.
fn simple_as_written(p: &Piece) -> Result<(), TestCaseError> {
    let rounded: Vec<P2> = p.outline.iter().map(|q| q.map(|c| (c * 1e4).round() / 1e4)).collect();
    for ring in [&p.outline, &rounded] {
        prop_assert_eq!(chinewright::geom::polyline::first_self_crossing(ring), None, "{}", p.name);
    }
    Ok(())
}

/// Every notch meets its member where its line passes, lies along the skin, and its stick
/// lies inside the frame.
fn notches(model: &Model, f: &Frame) -> Result<(), TestCaseError> {
    let half = f.section.half();
    let body = Region::of(&chinewright::frames::section::whole(&half));
    for n in &f.notches {
        let member = &model.members[n.member].member;
        let spline = &model.lines.get(&member.line).expect("its line").spline;
        let t = spline.parameter_at_x(f.x).expect("the line passes");
        prop_assert!((n.at - spline.at(t)).norm() < 1e-3, "{} misses its line", n.name);
        // Its outer face begins on the skin.
        let start = n.corners[0] + 0.5 * (n.corners[1] - n.corners[0]);
        let bulge = 0.5 * (n.corners[1] - n.corners[0]).norm();
        let to_skin = half.windows(2).map(|w| from_ring(start, &[w[0], w[1]])).fold(1e9, f64::min);
        prop_assert!(n.let_down <= 0.61 * member.sided_mm, "{} is let down {}", n.name, n.let_down);
        prop_assert!(to_skin < 0.2 * bulge + n.let_down + 2.0, "{} floats {to_skin}", n.name);
        let stick = Region::of(&n.corners);
        let share = stick.and(&body).area() / stick.area();
        // A corner over the sheer, past the chine or under the keel is planed away; where
        // that takes nearly all of it, a finding says so.
        let told = model.findings.iter().any(|g| {
            let planed = NotchFact::PlanedAway { rise: 0.0, enough: 0.0 };
            let narrow = NotchFact::NarrowBottom { width: 0.0, stick: String::new(), sided: 0.0 };
            g.place == Place::OnFrame(f.station, n.name.clone())
                && [planed, narrow].into_iter().any(|k| g.fact.same_kind(&k.into()))
        });
        prop_assert!(share > 0.3 || told, "{} lies outside frame {}: {share}", n.name, f.station);
    }
    Ok(())
}

/// Both faces' sections lie inside the wood that is sawn, but for what is cut out on
/// purpose: bevelling never has to add any.
fn bevels_remove(f: &Frame, frames: &Tally, edges: &Tally) -> Result<(), TestCaseError> {
    // So near the stem that both sides' logs meet there is nothing left to saw; a finding
    // says so. Where a notch runs into a joint a crumb falls off; another says that.
    let crossed = f.notches.iter().any(|n| n.at.y > 0.0 && n.corners.iter().any(|c| c.x < 0.0));
    let crumb = f.pieces.iter().any(|p| p.lost > 0.0);
    if !frames.look(!crossed && !crumb) {
        return Ok(());
    }
    let mut wood: Vec<&[P2]> = f.pieces.iter().map(|p| p.outline.as_slice()).collect();
    wood.extend(f.notches.iter().map(|n| n.cut.as_slice()));
    for (which, section) in [("pattern's", &f.section), ("far", &f.far)] {
        for edge in &section.edges {
            if !edges.look(f.pieces.iter().any(|p| p.panel == edge.panel)) {
                continue;
            }
            for p in &edge.points {
                let bored = f.limbers.iter().any(|l| l.from_axis(p.at) < l.radius + 1.0);
                let missing = from_any(p.at, &wood);
                // A tenth of a millimetre: the chord of a limber, and chines' ends.
                prop_assert!(
                    bored || missing < 0.15,
                    "frame {}: {missing} mm of wood is missing on the {which} face at {} of {:?} {:?}",
                    f.station,
                    p.at,
                    &f.section.half()[..5.min(f.section.half().len())],
                    &f.far.half()[..5.min(f.far.half().len())]
                );
            }
        }
    }
    Ok(())
}

/// Neighbouring pieces meet on their cut and do not lie in each other.
fn pieces_meet(f: &Frame, joints: &Tally) -> Result<(), TestCaseError> {
    let touching = |a: &Piece, b: &Piece| {
        let near = |from: &Piece, to: &Piece| {
            from.outline.iter().map(|p| from_ring(*p, &to.outline)).fold(f64::INFINITY, f64::min)
        };
        near(a, b).min(near(b, a))
    };
    for w in f.pieces.windows(2) {
        // A board that is missing between them leaves nothing to meet.
        if !joints.look(w[1].panel == w[0].panel + 1) {
            continue;
        }
        let gap = touching(&w[0], &w[1]);
        prop_assert!(gap < 1e-2, "frame {}: {} and {} gap {gap}", f.station, w[0].name, w[1].name);
        let both = Region::of(&w[0].outline).and(&Region::of(&w[1].outline)).area();
        prop_assert!(both < 1.0, "{} and {} share {both} mm²", w[0].name, w[1].name);
    }
    Ok(())
}

#[test]
fn notches_bevels_and_joints_are_sound() {
    let frames = Tally::of("frames bevelled", 0.02);
    let edges = Tally::of("edges bevelled", 0.01);
    let joints = Tally::of("joints", 0.01);
    on_all(&[&frames, &edges, &joints], |wish| {
        let model = model_of(&hull_of(wish))?;
        for f in &model.woodwork.frames {
            notches(&model, f)?;
            bevels_remove(f, &frames, &edges)?;
            pieces_meet(f, &joints)?;
            for p in &f.pieces {
                prop_assert!(p.outline.iter().all(|q| q.x.is_finite() && q.y.is_finite()));
                simple_as_written(p)?;
            }
        }
        Ok(())
    });
}

/// Water passes, no two plates lie in one place, fastenings hold; bevels name the smaller
/// face and a transom's pattern holds both.
#[test]
fn gussets_lie_apart_and_bevels_name_their_face() {
    let frames = Tally::of("frames with gussets", 0.02);
    let transoms = Tally::of("transoms", 0.02);
    on_all(&[&frames, &transoms], |wish| {
        let mut hull = hull_of(wish);
        hull.motor.fitted = false;
        let model = model_of(&hull)?;
        for f in model.woodwork.frames.iter().filter(|f| frames.look(!f.runs_out())) {
            for sound in [
                water_passes(&model, f).map(|_| ()),
                plates_lie_apart(f),
                fastenings_hold(f),
                named_face_is_the_smaller(&f.bevels, &f.far).map(|_| ()),
            ] {
                let wrong = sound.err();
                prop_assert!(wrong.is_none(), "frame {}: {wrong:?}", f.station);
            }
        }
        let Some(t) = model.woodwork.transom.as_ref().filter(|_| transoms.look(true)) else {
            transoms.look(false);
            return Ok(());
        };
        let short = missing(&t.outline, [&t.section, &t.far], t.top);
        // A tenth of a millimetre: neighbouring panels end on chords of the same chine.
        prop_assert!(short < 0.15, "{short} mm of wood is missing");
        prop_assert!(larger_by(t) >= 0.0, "{}", larger_by(t));
        Ok(())
    });
}

/// Lapped frames: the sides lie one thickness behind the bottom, and theirs is still the
/// larger outline of their own two faces.
#[test]
fn lapped_sides_lie_behind_the_bottom() {
    let pieces = Tally::of("lapped pieces", 0.02);
    on_all(&[&pieces], |wish| {
        let mut hull = hull_of(wish);
        hull.framing.joint = Joint::Lap;
        let model = model_of(&hull)?;
        for f in &model.woodwork.frames {
            for p in f.pieces.iter().filter(|p| p.face_at > 0.0) {
                prop_assert_eq!(p.face_at, hull.framing.sided_mm);
                // A notch that runs into the joint lets a crumb fall; a finding says so.
                if !pieces.look(p.lost == 0.0) {
                    continue;
                }
                let x = f.x - f.face.sign() * p.face_at;
                let plane = Plane { normal: V3::x(), offset: x };
                let cut = chinewright::panel::section(&model.panels[p.panel].surface, plane, 0.0);
                let (_, _, _, notches, _) = f.layer_of(p);
                simple_as_written(p)?;
                let mut wood: Vec<&[P2]> = vec![&p.outline];
                wood.extend(notches.iter().map(|n| n.cut.as_slice()));
                let missing =
                    cut.iter().map(|q| from_any(P2::new(q.y, q.z), &wood)).fold(0.0, f64::max);
                prop_assert!(missing < 0.3, "frame {} {}: {missing}", f.station, p.name);
            }
            // No two boards of one layer in one place.
            for (i, p) in f.pieces.iter().enumerate() {
                for q in f.pieces[i + 1..].iter().filter(|q| q.face_at == p.face_at) {
                    let both = Region::of(&p.outline).and(&Region::of(&q.outline)).area();
                    prop_assert!(
                        both < 5.0,
                        "frame {}: {} and {} share {both} mm²",
                        f.station,
                        p.name,
                        q.name
                    );
                }
            }
            prop_assert!(f.gussets.iter().all(|g| g.lines == [LineId::Keel]) || f.second.is_none());
        }
        Ok(())
    });
}

/// Upside down every corner hangs above the rails, and lies where the line itself is,
/// turned over.
#[test]
fn corners_upside_down_lie_on_the_lines_turned_over() {
    let jigs = Tally::of("strongbacks", 0.02);
    on_all(&[&jigs], |wish| {
        let model = model_of(&hull_of(wish))?;
        let Some(jig) = model.woodwork.strongback.as_ref().filter(|_| jigs.look(true)) else {
            jigs.look(false);
            return Ok(());
        };
        let top = jig.rail_top + model.hull.strongback.clearance_mm;
        for s in &jig.stands {
            for c in &s.corners {
                let spline = &model.lines.line(c.line).expect("its line").spline;
                let p = spline.at(spline.parameter_at_x(s.x).expect("the line passes"));
                // A chord of the strips lies a few hundredths of a millimetre off the line.
                prop_assert!(
                    (c.half_breadth - p.y).abs() < 0.3,
                    "{} {} {}",
                    c.line,
                    c.half_breadth,
                    p.y
                );
                prop_assert!((jig.datum - p.z - c.above_floor).abs() < 0.3);
                prop_assert!(c.above_floor > top - 0.3, "{} hangs too low", c.line);
            }
        }
        Ok(())
    });
}
