//! What the ends and the jig take up: cleats, pad, knees, stems, and the sticks of the jig.

use super::extent;
use crate::frames::transom_knee::{BOLT_IN_KNEE_MM, WASHERS_MM};
use crate::frames::{Stem, Transom};
use crate::geom::polyline::{area, length2};
use crate::model::Model;
use crate::part::{AtEnd, CutFrom, PartId, Use};
use crate::stock::stores::Work;
use crate::stock::stores::adhesive::GlueJoint;
use crate::stock::stores::fastenings::{Bolts, Fastened, Number};

/// Screws through each arm of the knee behind a stem's heel, as its drawing says. Common
/// practice, no source.
const IN_AN_ARM: u32 = 2;
/// Bolts or coach screws up into a heel, as its drawing says. Common practice, no source.
const INTO_THE_HEEL: usize = 2;
/// Bolts through the lap of two parts of a stem. Common practice, no source.
const IN_A_LAP: usize = 2;
/// Screws at each end of a stick of the jig. Common practice, no source.
const AT_AN_END: u32 = 2;

/// Joints and fastenings of transoms, knee and stems.
pub(super) fn ends(model: &Model, work: &mut Work) {
    let wood = &model.woodwork;
    for end in [AtEnd::Bow, AtEnd::Stern] {
        if let Some(t) = wood.transom_at(end) {
            transom(model, end, t, work);
        }
    }
    motor_knee(model, work);
    for (stem, name) in [(&wood.stem, "stem"), (&wood.sternpost, "sternpost")] {
        if let Some(s) = stem {
            stem_joints(model, s, name, work);
        }
    }
}

/// Cleats and the motor's pad on the inner face of a transom's board.
fn transom(model: &Model, end: AtEnd, t: &Transom, work: &mut Work) {
    let plan = &model.hull.transom;
    for p in &t.framing {
        let laid = format!("{} of the {}", p.name, end.transom());
        let count = p.count() as u32;
        work.joints.push(GlueJoint::of_face(laid.clone(), area(&p.outline), count));
        let long = extent(&p.outline, p.along);
        work.fastened.extend((0..count).map(|_| Fastened {
            name: laid.clone(),
            number: Number::Along(long),
            thickness: plan.thickness_mm,
            into: plan.framing_thickness_mm,
        }));
    }
    if let Some(c) = t.cut_out.filter(|c| c.pad_thickness > 0.0) {
        let pad = c.pad(model.hull.motor.pad_width_mm);
        // All round: its outline comes back to where it began.
        let back = pad.first().zip(pad.last()).map_or(0.0, |(a, b)| (b - a).norm());
        let around = length2(&pad) + back;
        work.joints.push(GlueJoint::of_face("motor's pad".into(), area(&pad), 1));
        work.fastened.push(Fastened {
            name: "motor's pad".into(),
            number: Number::Along(around),
            thickness: plan.thickness_mm,
            into: c.pad_thickness,
        });
    }
}

/// The knee behind the motor: glued on both arms and bolted through what it stands against.
fn motor_knee(model: &Model, work: &mut Work) {
    let (Some(k), Some(t)) = (&model.woodwork.knee, &model.woodwork.transom) else {
        return;
    };
    let pad = t.cut_out.map_or(0.0, |c| c.pad_thickness);
    let keelson = model.members.iter().find(|b| b.member.name == "keelson");
    let bottom = model.panels.first().map_or(0.0, |p| p.thickness);
    let outside = [
        model.hull.transom.thickness_mm + pad,
        bottom + keelson.map_or(0.0, |b| b.member.moulded_mm),
    ];
    for ((bolts, wood), length) in k.bolts.iter().zip(outside).zip([k.height, k.arm]) {
        work.bolts.push(Bolts::through(wood + BOLT_IN_KNEE_MM, bolts.len(), WASHERS_MM));
        let laid = "motor's knee".to_string();
        work.joints.push(GlueJoint { laid, length, width: k.sided, count: 1 });
    }
}

/// The heel of a stem on the keelson, the knee behind it, the laps of its parts, and the outer
/// stem on the sides.
fn stem_joints(model: &Model, s: &Stem, name: &str, work: &mut Work) {
    let sided = model.hull.stem.sided_mm;
    if let Some(j) = &s.joint {
        let laid = format!("heel of the {name}");
        work.joints.push(GlueJoint { laid, length: j.heel, width: sided, count: 1 });
        work.bolts.push(Bolts::screwed(j.fastening, INTO_THE_HEEL));
        if let Some(k) = &j.knee {
            let laid = format!("knee of the {name}");
            for length in [k.along, k.up] {
                let width = k.thickness;
                work.joints.push(GlueJoint { laid: laid.clone(), length, width, count: 1 });
                work.fastened.push(Fastened {
                    name: laid.clone(),
                    number: Number::Pieces(IN_AN_ARM),
                    thickness: k.thickness,
                    into: j.depth,
                });
            }
        }
    }
    if s.parts > 1 {
        let laid = format!("laps of the {name}");
        let (count, width) = (s.parts - 1, s.board_width);
        work.joints.push(GlueJoint { laid, length: s.lap, width, count: count as u32 });
        work.bolts.push(Bolts::through(sided, IN_A_LAP * count, [WASHERS_MM[1]; 2]));
    }
    if let Some(o) = &s.outer {
        let laid = format!("outer {name}");
        let width = model.hull.stem.outer_sided_mm;
        work.joints.push(GlueJoint { laid: laid.clone(), length: o.length, width, count: 1 });
        work.fastened.push(Fastened {
            name: laid,
            number: Number::Along(o.length),
            thickness: model.hull.stem.outer_moulded_mm,
            into: model.hull.stem.moulded_mm,
        });
    }
}

/// Screws of the jig's sticks and spalls, and of the frames on its legs: through the stick into
/// what it lies on.
pub(super) fn jig(model: &Model, work: &mut Work) {
    let plan = &model.hull.strongback;
    let (rail, leg) = (plan.rail_width_mm, plan.leg_thickness_mm.min(plan.leg_width_mm));
    let frame = model.hull.framing.sided_mm;
    let mut add = |name: &str, count: usize, thickness: f64, into: f64| {
        let number = Number::Pieces(2 * AT_AN_END * count as u32);
        work.jig.push(Fastened { name: name.into(), number, thickness, into });
    };
    for p in model.parts.all() {
        let CutFrom::Lumber { section: [a, b], .. } = p.cut_from else {
            continue;
        };
        let into = match p.id {
            PartId::Spall(_) | PartId::Stick(Use::Spall(_), _) => frame,
            PartId::Stick(Use::Brace, _) => leg.min(rail),
            // On the rails, and on sticks as thick as legs.
            PartId::Stick(Use::Leg | Use::Rung | Use::Post | Use::Rail, _) => rail,
            PartId::Stick(Use::End(..), _) => leg,
            _ => continue,
        };
        add(&p.name, p.copies.count(), a.min(b), into);
    }
    if model.woodwork.strongback.is_some() {
        // A frame stands on a leg on either side.
        add("frames on legs", model.woodwork.frames.len(), frame, leg);
    }
}
