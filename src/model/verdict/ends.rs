//! Bones, second half: transom and stem.

use super::Model;
use crate::finding::Finding;
use crate::frames::stem::BEHIND_BEVEL_MM;
use crate::frames::transom::BESIDE_CUT_OUT_MM;
use crate::frames::{Stem, Transom};
use crate::geom::P3;
use crate::hull::Shaft;
use crate::part::{AtEnd, PartId, Question};

/// Rake (radians) within which an outboard's own adjustment brings its leg upright. Common
/// practice, no source.
const MOTOR_RAKE: [f64; 2] =
    [4.0 * std::f64::consts::PI / 180.0, 20.0 * std::f64::consts::PI / 180.0];

pub(super) fn transom(model: &Model, name: &str, t: &Transom, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let id = PartId::Transom(AtEnd::at_stern(!t.at_bow));
    if let Some(c) = &t.cut_out {
        if c.depth < 0.0 {
            out.push(Finding::watch(
                Question::Bones,
                name,
                format!(
                    "it is {} too low for a {} motor: the plate would lie below the bottom by as much",
                    units.show(-c.depth),
                    model.hull.motor.shaft.word()
                ),
                "build the transom up by that, raise the sheer aft, or take a shorter leg",
            )
            .about(id));
        }
        let longer = Shaft::ALL.into_iter().find(|s| *s > model.hull.motor.shaft);
        if let Some(longer) =
            longer.filter(|l| c.depth >= l.length() - model.hull.motor.shaft.length())
        {
            out.push(
                Finding::note(
                    Question::Bones,
                    name,
                    format!(
                        "a {} motor needs a cut-out {} deep; she is high enough for {}",
                        model.hull.motor.shaft.word(),
                        units.show(c.depth),
                        longer.word()
                    ),
                    "a longer leg leaves more transom between you and a following sea",
                )
                .about(id),
            );
        }
        if c.depth > 0.0 && !c.room {
            out.push(
                Finding::watch(
                    Question::Bones,
                    name,
                    format!(
                        "a cut-out {} wide leaves less than {} of wood on either side",
                        units.show(c.width),
                        units.show(BESIDE_CUT_OUT_MM)
                    ),
                    "make the cut-out narrower",
                )
                .about(id),
            );
        }
        if !(MOTOR_RAKE[0]..=MOTOR_RAKE[1]).contains(&t.rake) {
            out.push(Finding::note(
                Question::Bones,
                name,
                format!("its rake is {:.0}°", t.rake.to_degrees()),
                "most small outboards trim to a rake of 4 to 20° (common practice, no source); wedge the pad to suit yours",
            )
            .about(id));
        }
    }
    for p in t.framing.iter().filter(|p| !p.wide_enough) {
        out.push(
            Finding::note(
                Question::Bones,
                format!("{name}, {}", p.name),
                format!("it needs a board {} wide", units.show(p.board_width)),
                "glue it up of two boards, or ask for less width of the transom's framing",
            )
            .about(id),
        );
    }
}

pub(super) fn stem(model: &Model, name: &str, s: &Stem, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let plan = &model.hull.stem;
    let id = PartId::Stem(AtEnd::at_stern(s.at_stern));
    if let Some(b) = s.bevels.iter().max_by(|a, b| a.back.total_cmp(&b.back))
        && b.back + BEHIND_BEVEL_MM > plan.moulded_mm
    {
        out.push(Finding::watch(
            Question::Bones,
            format!("{name}, {} above the baseline", units.show(b.at.y)),
            format!(
                "the planking leaves it at a half angle of {:.0}°, so its bevel runs {}{} back; it is {} deep",
                b.half_angle.to_degrees(),
                units.show(b.back),
                if b.back < plan.moulded_mm { "" } else { " or more" },
                units.show(plan.moulded_mm)
            ),
            if b.back < plan.moulded_mm {
                format!(
                    "make it at least {} moulded, or less sided",
                    units.show((b.back + BEHIND_BEVEL_MM).ceil())
                )
            } else {
                "pull the lines apart at that end, so that the sides leave it at a greater angle"
                    .into()
            },
        )
        .about(id)
        .at(P3::new(b.at.x, 0.0, b.at.y)));
    }
    if s.parts == 1 && !s.wide_enough {
        out.push(Finding::watch(
            Question::Bones,
            name,
            format!(
                "it is {} deep and needs a board {} wide; none of yours is",
                units.show(plan.moulded_mm),
                units.show(s.board_width)
            ),
            "glue it up of layers, ask for less moulded depth, or add a width to the boards that you can get",
        )
        .about(id));
    }
    if s.parts > 1 {
        out.push(
            Finding::note(
                Question::Bones,
                name,
                format!("its blank needs a board {} wide", units.show(s.board_width)),
                format!("make it of two parts lapped {}", units.show(s.lap)),
            )
            .about(id),
        );
    }
}
