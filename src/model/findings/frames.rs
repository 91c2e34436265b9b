//! Bones, second half: which frames stand, and where.

use super::Model;
use super::ends::{stem, transom};
use crate::finding::{Finding, FrameFact, JigFact, Place, StemFact, TransomFact};
use crate::frames::Frame;
use crate::geom::P2;
use crate::geom::region::Region;
use crate::part::AtEnd;

/// A frame and a stem that share less than this (mm2, from ahead) touch and no more.
const SHARED_MM2: f64 = 50.0;
/// Higher and lower (mm) than any stem.
const TALL_MM: f64 = 20_000.0;

pub(super) fn frames(model: &Model, out: &mut Vec<Finding>) {
    in_a_stem(model, out);
    let work = &model.woodwork;
    for (i, x) in model.stations.iter().enumerate() {
        if work.frame(i + 1).is_none() {
            out.push(Finding::note(Place::Station(i + 1), FrameFact::NoHull(*x)));
        }
    }
    spaced(model, out);
    out.extend(battens_not_laid(model));
    let species = &model.hull.framing.species;
    if model.materials.wood(species).is_none() {
        out.push(Finding::watch(Place::Framing, FrameFact::UnknownWood(species.clone())));
    }
    for f in &work.frames {
        super::on_frame::frame(model, f, out);
    }
    super::spacing::spacing(model, out);
    super::drain::drain(model, out);
    super::drain::rain(model, out);
    for t in work.transom.iter().chain(&work.bow_transom) {
        transom(model, t, out);
    }
    for s in work.stem.iter().chain(&work.sternpost) {
        stem(model, s, out);
        super::bow::bow(model, s, out);
    }
    no_end(model, out);
}

/// Frames that stand in the wood of the stem or of the sternpost.
fn in_a_stem(model: &Model, out: &mut Vec<Finding>) {
    let work = &model.woodwork;
    for s in work.stem.iter().chain(&work.sternpost) {
        let blank = Region::of(&s.outline);
        for f in &work.frames {
            if let Some((low, high)) = shared(model, &blank, f) {
                let fact = FrameFact::InStem { end: AtEnd::at_stern(s.at_stern), low, high };
                let found = Finding::watch(Place::Frame(f.station), fact);
                out.push(found.about(work.frame_id(f.station)));
            }
        }
    }
}

/// From one height to another (mm) a frame stands in a stem's wood; `None` where it does not.
fn shared(model: &Model, blank: &Region, f: &Frame) -> Option<(f64, f64)> {
    let half = 0.5 * model.hull.stem.sided_mm;
    let (from, to) = f.wood(model.hull.framing.sided_mm);
    let between = Region::of(&[
        P2::new(from, -TALL_MM),
        P2::new(to, -TALL_MM),
        P2::new(to, TALL_MM),
        P2::new(from, TALL_MM),
    ]);
    let heights = blank.and(&between).rings().into_iter().flatten().map(|p| p.y);
    let (low, high) =
        heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
    if low >= high {
        return None;
    }
    let stem = Region::of(&[
        P2::new(-half, low),
        P2::new(half, low),
        P2::new(half, high),
        P2::new(-half, high),
    ]);
    let shared: f64 = f.pieces.iter().map(|p| Region::of(&p.outline).and(&stem).area()).sum();
    (shared > SHARED_MM2).then_some((low, high))
}

/// Frames too close to one another, and framing of stations that there are not.
fn spaced(model: &Model, out: &mut Vec<Finding>) {
    let (work, framing) = (&model.woodwork, &model.hull.framing);
    let sided = framing.sided_mm;
    for pair in work.frames.windows(2) {
        let needed = sided + framing.spall_thickness_mm + model.hull.strongback.leg_thickness_mm;
        let apart = pair[1].x - pair[0].x;
        if apart < needed && apart >= sided {
            let found = Finding::watch(between(pair), JigFact::CloseFrames { apart, needed });
            out.push(found.about(work.frame_id(pair[1].station)));
        }
    }
    for choice in &framing.frames {
        if choice.station > model.stations.len() {
            let none = FrameFact::NoSuchStation(model.stations.len());
            out.push(Finding::note(Place::FramingOf(choice.station), none));
        }
    }
    for pair in work.frames.windows(2) {
        if pair[0].wood(sided).1 > pair[1].wood(sided).0 {
            let apart = pair[1].x - pair[0].x;
            let found = Finding::stop(between(pair), FrameFact::NoRoomForBoth { apart, sided });
            out.push(found.about(work.frame_id(pair[1].station)));
        }
    }
}

fn between(pair: &[Frame]) -> Place {
    Place::Frames(pair[0].station, pair[1].station)
}

/// An end whose lines come together so nearly that nothing closes it.
fn no_end(model: &Model, out: &mut Vec<Finding>) {
    let (lines, work) = (&model.lines, &model.woodwork);
    for (end, post, transom, plane) in [
        (AtEnd::Bow, work.stem.is_some(), work.bow_transom.is_some(), lines.bow_transom),
        (AtEnd::Stern, work.sternpost.is_some(), work.transom.is_some(), lines.transom),
    ] {
        if post || transom {
            continue;
        }
        out.push(match plane.is_some() {
            true => Finding::stop(Place::Transom(end), TransomFact::NotClosed(end)),
            false => Finding::stop(Place::Stem(end), StemFact::NotClosed(end)),
        });
    }
}

/// Battens that the document asks for and that could not be laid: they are neither drawn nor
/// weighed, and must not vanish without a word.
fn battens_not_laid(model: &Model) -> Option<Finding> {
    let plan = model.hull.framing.battens.as_ref()?;
    if model.members.iter().any(|b| b.path.is_some()) {
        return None;
    }
    let unknown = model.materials.wood(&plan.species).is_none();
    let unknown_wood = unknown.then(|| plan.species.clone());
    Some(Finding::watch(Place::Battens, FrameFact::BattensLeftOut { unknown_wood }))
}
