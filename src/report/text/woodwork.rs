//! Frames, transom, stem and strongback, for people.

use std::fmt::Write as _;

use super::paragraph;
use crate::curve::View;
use crate::drawing::compose::{bow, jig_ends};
use crate::frames::{BevelAt, Frame, Stem, Transom};
use crate::model::Model;
use crate::setup::{EndStand, Strongback};
use crate::units::{STANDARD_GRAVITY, Units, half_degrees};
use crate::words::bevels;
use crate::words::finding::{checked, seen};
use crate::words::order::build_order;

/// Bevels of one panel's edge: degrees, run, and off which face of the pattern.
pub fn bevel_run(bevels: &[BevelAt], panel: usize, units: Units) -> Option<String> {
    let on = bevels.iter().filter(|b| b.panel == panel);
    let on: Vec<(f64, f64)> = on.map(|b| (b.angle, b.offset)).collect();
    let said: Vec<String> = bevels::along(&on, units).into_iter().map(|w| w.1).collect();
    (!on.is_empty()).then(|| said.join(" and "))
}

/// All frames with their boards, bevels and notches.
pub(super) fn frames(out: &mut String, model: &Model, units: Units) {
    let framing = &model.hull.framing;
    let _ = writeln!(
        out,
        "Frames of {} {} thick; bevels from square, with their run over that thickness; this face is the one on the station.\n",
        framing.species,
        units.fine(framing.sided_mm)
    );
    if let Some(rain) = crate::model::Rain::of(model)
        && model.woodwork.frames.iter().any(|f| !f.limbers.is_empty())
    {
        paragraph(out, "", &format!("Limbers: {}.", crate::words::attitude::rain(&rain, units)));
        out.push('\n');
    }
    for f in &model.woodwork.frames {
        frame(out, model, f, units);
    }
    if model.woodwork.bays.iter().any(|b| !b.holds()) {
        let _ = writeln!(out, "Where frames could stand closer (advice, not a rule of strength):");
        for b in model.woodwork.bays.iter().filter(|b| !b.holds()) {
            let _ = writeln!(
                out,
                "    {:<10} {} to {}: over {} sags {}, {} is felt{}{}",
                model.panels[b.panel].name,
                units.show(b.from),
                units.show(b.to),
                units.show(b.span),
                units.fine(b.sag),
                units.fine(b.allowed),
                b.longest.map_or(String::new(), |l| format!("; {} apart would do", units.show(l))),
                b.battens_wanted.map_or(String::new(), |n| format!("; or {n} battens a side"))
            );
        }
        out.push('\n');
    }
}

fn frame(out: &mut String, model: &Model, f: &Frame, units: Units) {
    let _ = writeln!(
        out,
        "frame {} at {}: its {} face on the station",
        f.station,
        units.show(f.x),
        f.face.word()
    );
    for p in &f.pieces {
        let _ = writeln!(
            out,
            "    {:<10} {} of board {} x {}{}",
            p.name,
            p.count(),
            units.show(p.board_width),
            units.show(p.board_length),
            if p.wide_enough { "" } else { "  (no board of yours is so wide)" }
        );
    }
    for (panel, crown) in &f.crowns {
        let name = &model.panels[*panel].name;
        let crowned = match (f.edges.is_straight(*panel), crown.abs() >= 0.5) {
            (false, true) => format!(", shaped to a crown of {}", units.fine(*crown)),
            (true, true) => format!(", left straight: a gap of {}", units.fine(*crown)),
            _ => ", straight".into(),
        };
        if let Some(run) = bevel_run(&f.bevels, *panel, units) {
            let _ = writeln!(out, "    {name:<10} bevel {run}{crowned}");
        }
    }
    for n in &f.notches {
        let m = &model.members[n.member].member;
        let _ = writeln!(
            out,
            "    notch      {} {}, leaning {}{}",
            n.name,
            units.section(m.moulded_mm, m.sided_mm),
            half_degrees(n.lean),
            if n.let_down >= 0.5 {
                format!(
                    ", let down {} past the {} and planed flush",
                    units.fine(n.let_down),
                    m.line
                )
            } else {
                String::new()
            }
        );
    }
    out.push('\n');
}

/// A transom.
pub(super) fn transom(out: &mut String, model: &Model, name: &str, t: &Transom, units: Units) {
    let _ = writeln!(
        out,
        "{name}: {} wide, {} high in its own plane, raked {}, {} thick; the pattern is its {} face",
        units.show(t.width()),
        units.show(t.height()),
        half_degrees(t.rake),
        units.fine(model.hull.transom.thickness_mm),
        if t.outside_larger { "outer" } else { "inner" }
    );
    for (panel, _) in &t.crowns {
        if let Some(run) = bevel_run(&t.bevels, *panel, units) {
            let _ = writeln!(out, "    {:<10} bevel {run}", model.panels[*panel].name);
        }
    }
    for e in &t.ends {
        let onto = format!("{name}'s inner face");
        paragraph(out, "    ", &bow::end_cut_words(model, e, &onto, units));
    }
    if let Some(c) = &t.cut_out {
        let _ = writeln!(
            out,
            "    motor      {} shaft: seat {} above the bottom's outside, {} {} the top",
            model.hull.motor.shaft.word(),
            units.show(c.seat - c.bottom),
            units.show(c.depth.abs()),
            if c.depth >= 0.0 { "below" } else { "ABOVE" }
        );
        let _ = writeln!(
            out,
            "               pad {} thick inside, so that the clamps hold {}",
            units.show(c.pad_thickness),
            units.show(model.hull.motor.clamped_mm)
        );
        carries(out, model, units);
        paragraph(out, "    ", motor_caution());
    }
    out.push('\n');
}

/// The knee, and how transom, pad and knee stand the motor.
fn carries(out: &mut String, model: &Model, units: Units) {
    if let Some(k) = &model.woodwork.knee {
        let (width, length) = k.board();
        let _ = writeln!(
            out,
            "    knee       {} up the pad, {} along the keelson, {} wide, of a board {} x {}, grain from head to toe",
            units.show(k.height),
            units.show(k.arm),
            units.fine(k.sided),
            units.show(width),
            units.show(length)
        );
    }
    let Some(m) = crate::model::motor::check(model) else {
        return;
    };
    let _ = writeln!(
        out,
        "    strength   {:.1} hp push with {} held still, weigh {}; held up to {:.1} hp",
        m.loads.horsepower,
        units.force(m.loads.thrust),
        units.mass(m.loads.weight / STANDARD_GRAVITY),
        m.holds_up_to
    );
    for c in &m.checks {
        let word = if c.share() <= 1.0 { "holds" } else { "DOES NOT HOLD" };
        let [sees, allowed] = seen(c, units);
        let _ = writeln!(
            out,
            "               {}: {sees} of {allowed} allowed, {word}",
            checked(c.place)
        );
    }
    paragraph(
        out,
        "               ",
        "Thrust by momentum theory (actuator disc), sections as straight beams with four times the strength that is asked; from memory where no source is named.",
    );
}

/// What is said beside every motor's cut-out.
pub fn motor_caution() -> &'static str {
    "Caution: measure your own motor before cutting; a low cut-out lets a following sea in, so fit a well or a high inner board. Power and load are for the maker's plate, local rules and licensed practice to decide."
}

/// A stem or sternpost.
pub(super) fn stem(out: &mut String, model: &Model, name: &str, s: &Stem, units: Units) {
    let plan = &model.hull.stem;
    let _ = writeln!(
        out,
        "{name}: {} long, sided {}, moulded {}, from a board {} x {}{}",
        units.show(s.length),
        units.show(plan.sided_mm),
        units.show(plan.moulded_mm),
        units.show(s.board_width),
        units.show(s.board_length),
        if s.parts > 1 { ", in two parts" } else { "" }
    );
    for b in &s.bevels {
        let _ = writeln!(
            out,
            "    {:>10} up: half angle {}, planking lands on {} a side, bevel {} back",
            units.show(b.at.y),
            half_degrees(b.half_angle),
            units.fine(b.land),
            units.fine(b.back)
        );
    }
    paragraph(out, "    ", &bow::sides_words(model, s, units));
    if let Some(o) = &s.outer {
        let _ = writeln!(
            out,
            "    outer {name}: {} long, {}, front {}, from a board {} x {}",
            units.show(o.length),
            units.section(plan.outer_moulded_mm, plan.outer_sided_mm),
            units.fine(plan.outer_front_mm),
            units.show(o.board_width),
            units.show(o.board_length)
        );
        for c in &o.sections {
            let _ = writeln!(
                out,
                "    {:>10} up: flat {} behind the line, bevel {} over {}, front {}",
                units.show(c.at.y),
                units.fine(c.planed),
                half_degrees(c.bevel),
                units.fine(c.bevel_runs),
                units.fine(c.front)
            );
        }
    }
    for sentence in bow::joint_words(s, units) {
        paragraph(out, "    ", &sentence);
    }
    for e in &s.ends {
        let onto = format!("{name}'s side");
        paragraph(out, "    ", &bow::end_cut_words(model, e, &onto, units));
    }
    out.push('\n');
}

/// What is taped from the bow to a frame's spall: a pram has no stem.
fn bow_to_spall(jig: &Strongback) -> String {
    match jig.ends.iter().find(|e| !e.end.at_stern()) {
        Some(e) => format!("{}'s {} to either spall end", e.end.word(), e.end.head_word()),
        None => "bow to either spall end".into(),
    }
}

/// Where an end stands, its corners and the tapes to them.
fn end(out: &mut String, jig: &Strongback, e: &EndStand, units: Units) {
    paragraph(out, "", &jig_ends::sentence(jig, e, units));
    for c in &e.corners {
        let _ = writeln!(
            out,
            "    {:<10} {:>12} along, {:>12} out, {:>12} above the floor; tape from frame {}'s marks {} same side, {} across",
            c.place,
            units.show(jig.from_first(c.x)),
            units.show(c.half_breadth),
            units.show(c.above_floor),
            e.taped_from,
            units.show(c.near),
            units.show(c.far)
        );
    }
}

/// The jig.
pub(super) fn strongback(out: &mut String, model: &Model, jig: &Strongback, units: Units) {
    let _ = writeln!(
        out,
        "Rails' top {} above the floor, {} apart outside, {} long; legs {}; level line {} above the baseline,\nso {} above the floor on every frame and {} up every leg.\n",
        units.show(jig.rail_top),
        units.show(jig.rail_spacing),
        units.show(jig.rails[1] - jig.rails[0]),
        units.show(jig.leg_length),
        units.show(jig.level),
        units.show(jig.above_floor(jig.level)),
        units.show(jig.level_on_legs)
    );
    for s in &jig.stands {
        let _ = writeln!(
            out,
            "frame {}: {} from the first line, {} face on the line, wood and legs {} it, spall on the other side",
            s.station,
            units.show(s.from_first),
            s.face.word(),
            if s.leg_side == crate::hull::Face::Fore { "ahead of" } else { "aft of" }
        );
        for c in &s.corners {
            let _ = writeln!(
                out,
                "    {:<10} {:>12} out, {:>12} above the floor",
                c.line,
                units.show(c.half_breadth),
                units.show(c.above_floor)
            );
        }
        let d = &s.diagonals;
        let from_bow = bow_to_spall(jig);
        for (what, length) in [
            ("chine to the other sheer", d.across),
            ("keel to either sheer", d.keel_to_sheer),
            (from_bow.as_str(), d.from_stem),
        ] {
            if let Some(l) = length {
                let _ = writeln!(out, "    tape       {what}: {}", units.show(l));
            }
        }
        if let Some(x) = model.woodwork.least_allowed(s.station) {
            let _ = writeln!(
                out,
                "    may be out {} {} at the {} before it shows",
                units.fine(x.allowed),
                if x.view == View::Plan { "sideways" } else { "up or down" },
                x.line
            );
        }
    }
    for e in &jig.ends {
        end(out, jig, e, units);
    }
    let _ = writeln!(out, "\nCut for the jig:");
    for c in &jig.cuts {
        let _ = writeln!(
            out,
            "    {:>2} x {:<34} {}, {}{}",
            c.count,
            c.name,
            units.section(c.section[0], c.section[1]),
            units.show(c.length),
            if c.end_cut == 0.0 {
                String::new()
            } else {
                format!(" on the longer edge, foot cut {} from square", half_degrees(c.end_cut))
            }
        );
    }
    out.push('\n');
    let _ = writeln!(out, "In this order:");
    for (i, step) in build_order(model, units).iter().enumerate() {
        paragraph(out, "    ", &format!("{}. {}: {}", i + 1, step.title, step.how));
    }
    out.push('\n');
    if let Some(built) = &model.as_built {
        let _ = writeln!(out, "As built, against the drawing:");
        for d in &built.deviations {
            let _ = writeln!(
                out,
                "    frame {} {:<8} {} out, {} up",
                d.station,
                d.line,
                units.fine(d.out),
                units.fine(d.up)
            );
        }
        for p in &built.panels {
            let _ = writeln!(
                out,
                "    {:<10} lower edge {}, upper {}; outline moves by up to {}",
                p.name,
                units.fine(p.edges[0]),
                units.fine(p.edges[1]),
                units.fine(p.outline)
            );
        }
        out.push('\n');
    }
}
