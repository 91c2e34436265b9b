//! Everything sawn from lumber and the jig that it stands on: frames, ends, strongback.

use std::sync::Arc;

use super::ashore::Ashore;
use super::{BottomBattens, Model, Recomputed};
use crate::bend::BentMember;
use crate::frames::frame::FrameStock;
use crate::frames::stem::StemStock;
use crate::frames::transom::TransomStock;
use crate::frames::{Bay, EndsOf, Frame, Knee, Run, Skin, Stem, Transom, spacing, stem};
use crate::hull::{Hull, HullLines, MemberSide};
use crate::part::{AtEnd, FrameId, LineId, PartId};
use crate::setup::order::ToBuild;
use crate::setup::strongback::{Load, level_line, strongback};
use crate::setup::{Sensitivity, Strongback, sensitivity, steps};

/// Frames, ends and jig of a hull.
#[derive(Debug, Clone, PartialEq)]
pub struct Woodwork {
    /// Stretches of skin between supports, with advice.
    pub bays: Vec<Bay>,
    /// Frames on the stations that cut the hull, bow to stern.
    pub frames: Vec<Frame>,
    /// The transom.
    pub transom: Option<Transom>,
    /// The bow transom of a pram.
    pub bow_transom: Option<Transom>,
    /// The stem.
    pub stem: Option<Stem>,
    /// The knee behind the motor.
    pub knee: Option<Knee>,
    /// The post of a stern as sharp as a stem.
    pub sternpost: Option<Stem>,
    /// The jig; `None` where no frame can be stood on it.
    pub strongback: Option<Strongback>,
    /// How far out each frame may be, line by line.
    pub sensitivities: Vec<Sensitivity>,
    /// Height of the level line that the frames' spalls were cut to, mm.
    level: f64,
}

impl Woodwork {
    /// The frame on station `station`, from 1.
    pub fn frame(&self, station: usize) -> Option<&Frame> {
        self.frames.iter().find(|f| f.station == station)
    }

    /// The frame on station `station` (from 1) by its name.
    pub fn frame_id(&self, station: usize) -> Option<PartId> {
        let at = self.frames.iter().position(|f| f.station == station)?;
        Some(PartId::Frame(FrameId(at)))
    }

    /// The transom at an end, where there is one.
    pub fn transom_at(&self, end: AtEnd) -> Option<&Transom> {
        match end {
            AtEnd::Bow => self.bow_transom.as_ref(),
            AtEnd::Stern => self.transom.as_ref(),
        }
    }

    /// How far the `index`th member runs, as it lies on this boat; `None` where there is none.
    pub(super) fn run(&self, boat: Ashore, index: usize) -> Option<Run> {
        let ends = EndsOf {
            lines: boat.lines,
            posts: [self.stem.as_ref(), self.sternpost.as_ref()],
            transoms: [self.bow_transom.as_ref(), self.transom.as_ref()],
            transom_thickness: boat.hull.transom.thickness_mm,
            outer_moulded: boat.hull.stem.outer_moulded_mm,
        };
        Some(ends.run(index, boat.members.get(index)?))
    }

    /// What is put up in each step, in the order in which she is built; empty while nothing
    /// can stand on a strongback.
    pub(super) fn steps(&self, boat: Ashore) -> Vec<Vec<PartId>> {
        self.standing(boat).map_or(Vec::new(), |of| steps(&of))
    }

    /// What there is to build; `None` while nothing can stand on a strongback.
    pub fn to_build<'a>(&'a self, model: &'a Model) -> Option<ToBuild<'a>> {
        self.standing(Ashore::of(model))
    }

    fn standing<'a>(&'a self, boat: Ashore<'a>) -> Option<ToBuild<'a>> {
        let lines = &boat.lines.lines;
        let between = 1..boat.panels.len();
        Some(ToBuild {
            jig: self.strongback.as_ref()?,
            frames: &self.frames,
            members: boat.members,
            panels: boat.panels.iter().map(|p| p.name.as_str()).collect(),
            laps: between.map(|k| boat.hull.planking.lap_at(lines[k].id)).collect(),
        })
    }

    /// The least that any line allows the frame on `station` to be out.
    pub fn least_allowed(&self, station: usize) -> Option<&Sensitivity> {
        self.sensitivities
            .iter()
            .filter(|s| s.station == station)
            .min_by(|a, b| a.allowed.total_cmp(&b.allowed))
    }
}

/// Frames on all stations that cut the hull, sawn on as many threads as there are processors
/// (a dragged line waits for them), in the order of the stations.
fn frames(stock: FrameStock, stations: &[f64]) -> Vec<Frame> {
    let numbered: Vec<(usize, f64)> =
        stations.iter().enumerate().map(|(i, x)| (i + 1, *x)).collect();
    let hands = std::thread::available_parallelism().map_or(1, |n| n.get().min(4));
    let share = numbered.len().div_ceil(hands).max(1);
    std::thread::scope(|scope| {
        let work: Vec<_> = numbered
            .chunks(share)
            .map(|some| {
                scope.spawn(move || -> Vec<Frame> {
                    some.iter().filter_map(|(n, x)| Frame::on(stock, *n, *x)).collect()
                })
            })
            .collect();
        work.into_iter()
            .flat_map(|w| w.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
            .collect()
    })
}

/// What everything is sawn from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stock<'a> {
    pub hull: &'a Hull,
    pub skin: &'a Skin<'a>,
    pub members: &'a [BentMember],
    pub stations: &'a [f64],
    pub battens: Option<&'a BottomBattens>,
    /// The model before, where skin, members and stations are the same.
    pub before: Option<&'a Model>,
}

/// Saws everything, or takes it over.
pub(super) fn woodwork(of: Stock, count: &mut Recomputed) -> Arc<Woodwork> {
    let Stock { hull, skin, members, stations, battens, before } = of;
    let lines: &HullLines = skin.lines;
    let framing = &hull.framing;
    let same_frames = before.filter(|b| b.hull.framing == *framing);
    let all_the_same = |b: &&Model| {
        let old = &b.hull;
        (&old.transom, &old.stem, &old.motor) == (&hull.transom, &hull.stem, &hull.motor)
            && old.strongback == hull.strongback
            && b.battens.as_ref() == battens
    };
    if let Some(b) = same_frames.filter(all_the_same) {
        return b.woodwork.clone();
    }
    let level = level_line(&hull.strongback, lines, stations);
    let stock = FrameStock { skin, members, framing, level };
    let same_frames = same_frames.filter(|b| b.woodwork.level == level);
    let frames = match same_frames {
        Some(b) => b.woodwork.frames.clone(),
        None => {
            count.frames += 1;
            frames(stock, stations)
        }
    };
    count.ends += 1;
    let ends = TransomStock {
        skin,
        members,
        plan: &hull.transom,
        motor: Some(&hull.motor),
        widths: &framing.widths_mm,
        clearance: framing.notch_clearance_mm,
    };
    let transom = lines.transom.and_then(|p| Transom::of(ends, p, false));
    let bow_transom =
        lines.bow_transom.and_then(|p| Transom::of(TransomStock { motor: None, ..ends }, p, true));
    let keelson = members
        .iter()
        .filter(|b| b.member.follows(LineId::Keel) && b.member.side == MemberSide::Inside)
        .map(|b| b.member.moulded_mm)
        .fold(0.0, f64::max);
    let frame_aft = frames.last().map(|f| f.x + framing.sided_mm);
    let knee = transom.as_ref().and_then(|t| {
        let plan = &hull.transom;
        Knee::of(&plan.knee, t, plan.thickness_mm, &lines.lines[0], keelson, frame_aft)
    });
    let posts = StemStock {
        skin,
        members,
        plan: &hull.stem,
        widths: &framing.widths_mm,
        floor: framing.sided_mm,
    };
    let post = |at_stern| stem::stem(posts, at_stern);
    let stem = lines.bow_transom.is_none().then(|| post(false)).flatten();
    let sternpost = lines.transom.is_none().then(|| post(true)).flatten();
    let load = Load {
        lines,
        frames: &frames,
        stem: stem.as_ref(),
        transom: transom.as_ref(),
        bow_transom: bow_transom.as_ref(),
        sternpost: sternpost.as_ref(),
        framing,
        stem_sided: hull.stem.sided_mm,
        transom_thickness: hull.transom.thickness_mm,
    };
    let strongback = strongback(&hull.strongback, load, level);
    let numbered: Vec<(usize, f64)> = frames.iter().map(|f| (f.station, f.x)).collect();
    let sensitivities = match same_frames {
        Some(b) => b.woodwork.sensitivities.clone(),
        None => lines.lines.iter().flat_map(|l| sensitivity::of_line(l, &numbered)).collect(),
    };
    Arc::new(Woodwork {
        bays: spacing::bays(skin, stations, battens.map(|b| b.battening)),
        level,
        frames,
        transom,
        bow_transom,
        stem,
        knee,
        sternpost,
        strongback,
        sensitivities,
    })
}
