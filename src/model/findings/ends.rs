//! Bones, second half: transom and stem.

use super::Model;
use crate::finding::{Finding, Place, StemFact, TransomFact};
use crate::frames::stem::BEHIND_BEVEL_MM;
use crate::frames::transom::BESIDE_CUT_OUT_MM;
use crate::frames::{Stem, Transom};
use crate::geom::P3;
use crate::hull::Shaft;
use crate::part::{AtEnd, PartId};

/// Rake (radians) within which an outboard's own adjustment brings its leg upright. Common
/// practice, no source.
const MOTOR_RAKE: [f64; 2] =
    [4.0 * std::f64::consts::PI / 180.0, 20.0 * std::f64::consts::PI / 180.0];

pub(super) fn transom(model: &Model, t: &Transom, out: &mut Vec<Finding>) {
    let end = AtEnd::at_stern(!t.at_bow);
    let id = PartId::Transom(end);
    let place = || Place::Transom(end);
    if let Some(c) = &t.cut_out {
        let shaft = model.hull.motor.shaft;
        if c.depth < 0.0 {
            let low = TransomFact::TooLow { by: -c.depth, shaft };
            out.push(Finding::watch(place(), low).about(id));
        }
        let longer = Shaft::ALL.into_iter().find(|s| *s > shaft);
        if let Some(longer) = longer.filter(|l| c.depth >= l.length() - shaft.length()) {
            let high = TransomFact::HighEnough { shaft, depth: c.depth, longer };
            out.push(Finding::note(place(), high).about(id));
        }
        if c.depth > 0.0 && !c.room {
            let wide = TransomFact::WideCutOut { width: c.width, beside: BESIDE_CUT_OUT_MM };
            out.push(Finding::watch(place(), wide).about(id));
        }
        if !(MOTOR_RAKE[0]..=MOTOR_RAKE[1]).contains(&t.rake) {
            out.push(Finding::note(place(), TransomFact::Rake(t.rake)).about(id));
        }
    }
    for p in t.framing.iter().filter(|p| !p.wide_enough) {
        let place = Place::OnTransom(end, p.name.clone());
        out.push(Finding::note(place, TransomFact::FramingBoard(p.board_width)).about(id));
    }
}

pub(super) fn stem(model: &Model, s: &Stem, out: &mut Vec<Finding>) {
    let moulded = model.hull.stem.moulded_mm;
    let end = AtEnd::at_stern(s.at_stern);
    let id = PartId::Stem(end);
    if let Some(b) = s.bevels.iter().max_by(|a, b| a.back.total_cmp(&b.back))
        && b.back + BEHIND_BEVEL_MM > moulded
    {
        let deep = StemFact::DeepBevel {
            half_angle: b.half_angle,
            back: b.back,
            moulded,
            enough: (b.back < moulded).then_some((b.back + BEHIND_BEVEL_MM).ceil()),
        };
        let at = P3::new(b.at.x, 0.0, b.at.y);
        out.push(Finding::watch(Place::StemAt(end, b.at.y), deep).about(id).at(at));
    }
    if s.parts == 1 && !s.wide_enough {
        let board = StemFact::StemBoard { moulded, width: s.board_width };
        out.push(Finding::watch(Place::Stem(end), board).about(id));
    }
    if s.parts > 1 {
        let two = StemFact::TwoParts { width: s.board_width, lap: s.lap };
        out.push(Finding::note(Place::Stem(end), two).about(id));
    }
}
