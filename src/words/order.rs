//! The order in which she is built, step by step.

use super::bend::method;
use super::capital;
use crate::bend::BentMember;
use crate::frames::Frame;
use crate::hull::{Face, MemberSide};
use crate::model::Model;
use crate::part::{FrameId, MemberId, PanelId, PartId};
use crate::setup::order::ToBuild;
use crate::setup::{EndStand, Strongback, steps};
use crate::units::{Units, half_degrees};

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is put up.
    pub title: String,
    /// How.
    pub how: String,
    /// The pieces that are put up.
    pub parts: Vec<PartId>,
}

/// All steps in the order in which she is built, lengths in `units`; empty while nothing can
/// stand on a strongback.
pub fn build_order(model: &Model, units: Units) -> Vec<Step> {
    model.woodwork.to_build(model).map_or(Vec::new(), |of| told(&of, units))
}

fn told(of: &ToBuild, units: Units) -> Vec<Step> {
    let step = |parts: Vec<PartId>| {
        let (title, how) = match *parts.first()? {
            PartId::Ladder => ("Rails, rungs and posts".into(), ladder(of.jig, units)),
            PartId::Legs => ("Legs and braces".into(), legs(of.jig, units)),
            PartId::Frame(FrameId(i)) => {
                let f = of.frames.get(i)?;
                (format!("Frame {}", f.station), frame_stands(of.jig, f, units))
            }
            PartId::Member(MemberId(i)) => {
                let m = of.members.get(i)?;
                (capital(&m.member.name), bent_in(m))
            }
            PartId::Panel(PanelId(k)) => (capital(of.panels.get(k)?), planked(of, k)),
            end => {
                let stand = of.jig.ends.iter().find(|e| e.end.part() == end)?;
                (capital(stand.end.word()), end_stands(of.jig, stand, units))
            }
        };
        Some(Step { title, how, parts })
    };
    steps(of).into_iter().filter_map(step).collect()
}

fn ladder(jig: &Strongback, units: Units) -> String {
    format!(
        "Top of the rails {} above the floor and level both ways, {} over both; {} rungs between them; square when both diagonals from the first line to the last are {}. Mark every line on them from the first. Stretch the string down the middle.",
        units.show(jig.rail_top),
        units.show(jig.rail_spacing),
        jig.rungs.len(),
        units.show(jig.rail_diagonal)
    )
}

fn legs(jig: &Strongback, units: Units) -> String {
    format!(
        "Legs {} long with one face on each station's line, plumb, the level line marked {} up; braces across every pair.",
        units.show(jig.leg_length),
        units.show(jig.level_on_legs)
    )
}

fn frame_stands(jig: &Strongback, f: &Frame, units: Units) -> String {
    let side = if f.face == Face::Aft { "ahead of" } else { "aft of" };
    match jig.stands.iter().find(|s| s.station == f.station) {
        Some(s) => format!(
            "{} from the first line. Its {} face on the line, its wood {side} it; level line {} above the floor, its centre mark plumb over the string.",
            units.show(s.from_first),
            f.face.word(),
            units.show(jig.above_floor(jig.level))
        ),
        None => "The level line misses it: stand it by its corners' heights.".into(),
    }
}

fn bent_in(m: &BentMember) -> String {
    if m.member.side == MemberSide::Outside {
        return "Outside the planking, once she is turned over or before.".into();
    }
    let way = m.advice.recommended.map_or("see Bones", method);
    // There is one keelson; the rest come in pairs.
    if m.member.sticks() == 1 {
        format!(
            "Lay it in {way} along the string, fastening from amidships to both ends; plane it flush with the frames."
        )
    } else {
        format!(
            "Bend it in {way}, port and starboard in turn, so that neither pulls the frames over; plane it flush with the frames."
        )
    }
}

fn planked(of: &ToBuild, k: usize) -> String {
    let covers = of.lapped_by(k);
    if covers.is_empty() {
        "Try a batten over all frames first. Fasten amidships and let both ends run; plane its edges to the next panel's bevel.".to_string()
    } else {
        format!(
            "It laps over the {}: plane that fair first, then glue and fasten.",
            covers.join(" and the ")
        )
    }
}

/// How an end is stood up: where its foot and head go, what holds it, what is taped.
fn end_stands(jig: &Strongback, e: &EndStand, units: Units) -> String {
    let along = |x: f64| {
        let by = jig.from_first(x);
        format!(
            "{} {} the first line",
            units.show(by.abs()),
            if by < 0.0 { "ahead of" } else { "aft of" }
        )
    };
    let held = match (&e.support.crosspiece, &e.support.post) {
        (Some(_), _) => {
            "Its head in the crosspiece's notch, its back against the leaning post, plumb over the string"
        }
        (None, Some(p)) if p.at > 0.0 => "Against its two leaning posts, square to the string",
        _ => "Against its leaning post, square to the string",
    };
    let taped = if e.end.is_transom() {
        "tape from the rails' marks to its corners, the same on both sides"
    } else {
        "tape from both rails' marks to its foot and head, the same from either"
    };
    format!(
        "{held}: foot {}, {} above the floor; {} {}, {} above the floor; rake {} (plumb-bob {} off); {taped}. Bevel it now and finish when a batten lies fair.",
        along(e.foot.x),
        units.show(e.foot.z),
        e.end.head_word(),
        along(e.head.x),
        units.show(e.head.z),
        half_degrees(e.rake.abs()),
        units.show(e.plumb()),
    )
}
