//! Chapters that are mostly drawings: lines, layout cards, frames, ends.

use super::Of;
use super::pictures::{self, Seen};
use crate::drawing::Drawing;
use crate::drawing::compose::{Subject, card, catalogue};
use crate::part::{AtEnd, PartId};
use crate::report::mark_words;
use crate::report::text::bevel_run;
use crate::typeset::{Block, Table};
use crate::units::half_degrees;

/// A drawing of the catalogue on pages of its own; nothing where she has no such thing.
pub(super) fn sheet(of: &Of, subject: Subject) -> Option<Block> {
    let mut drawing = subject.printed(of.boat(), of.sheets)?;
    drawing.settle_words();
    Some(marked(of, drawing))
}

fn marked(of: &Of, mut drawing: Drawing) -> Block {
    drawing.mark = mark_words(of.document);
    Block::Sheet(Box::new(drawing))
}

/// Lines plan, offsets, body plan.
pub(super) fn lines(of: &Of) -> Vec<Block> {
    let mut out = vec![
        Block::heading(1, "Lines and offsets"),
        Block::words(
            "Her lines, seen from the side, from above and from ahead, to the inside of the planking; then the table of offsets, station by station, and all stations over each other. Nobody need draw her full size on the floor: patterns and cards are made from the same lines.",
        ),
    ];
    out.extend(pictures::hull(of, Seen::Framed, "Her frames, sticks and ends").map(Block::Figure));
    let all = [Subject::LinesPlan, Subject::Offsets, Subject::BodyPlan];
    out.extend(all.into_iter().filter_map(|s| sheet(of, s)));
    out
}

/// The layout card of every part.
pub(super) fn cards(of: &Of) -> Vec<Block> {
    let all = card::cards(of.boat(), of.units());
    if all.is_empty() {
        return Vec::new();
    }
    let mut out = vec![
        Block::heading(1, "Layout cards"),
        Block::words(
            "A card for each part: strike its base line, mark the places along it, square out from each by the figure beside it, and draw a batten through the points. Tape the check lengths before the saw is started. The same figures lie beside this book as tables (folder cards).",
        ),
    ];
    out.extend(all.iter().map(|c| marked(of, card::page::drawing(c, of.sheets.paper, of.units()))));
    out
}

/// Frames, each with its boards and its drawing put together.
pub(super) fn frames(of: &Of) -> Vec<Block> {
    let (model, units) = (of.model, of.units());
    if model.woodwork.frames.is_empty() {
        return Vec::new();
    }
    let framing = &model.hull.framing;
    let mut out = vec![
        Block::heading(1, "Frames"),
        Block::words(format!(
            "Of {}, {} thick. Bevels are from square, with their run over that thickness; \"this face\" is the one on the station. Saw square to the line, then plane the bevel. Put each together on a flat floor over its drawing, glue and fasten its gussets, and brace it with its cross-spall before it is moved.",
            framing.species,
            units.fine(framing.sided_mm)
        )),
        Block::Table(frame_table(of)),
    ];
    for subject in catalogue(of.boat()) {
        let frame = matches!(subject, Subject::Part(PartId::Frame(_)) | Subject::AsBuilt(_));
        if frame && subject.for_the_shop(model) {
            out.extend(sheet(of, subject));
        }
    }
    out
}

fn frame_table(of: &Of) -> Table {
    let (model, units) = (of.model, of.units());
    let mut t = Table::of(&["frame", "piece", ">how many", ">board", ">long", "bevel"]);
    for f in &model.woodwork.frames {
        t.over(format!(
            "Frame {}, {} aft: its {} face on the station",
            f.station,
            units.show(f.x),
            f.face.word()
        ));
        for p in &f.pieces {
            let bevel = bevel_run(&f.bevels, p.panel, units).unwrap_or_default();
            t.row([
                String::new(),
                p.name.clone(),
                p.count().to_string(),
                units.show(p.board_width),
                units.show(p.board_length),
                bevel,
            ]);
        }
        for n in &f.notches {
            let m = &model.members[n.member].member;
            let down = match n.let_down >= 0.5 {
                true => format!(", let down {}", units.fine(n.let_down)),
                false => String::new(),
            };
            t.row([
                String::new(),
                format!("notch for the {}", n.name),
                String::new(),
                units.section(m.moulded_mm, m.sided_mm),
                String::new(),
                format!("leans {}{down}", half_degrees(n.lean)),
            ]);
        }
    }
    t
}

/// Stem and transom, knee and pad, how each is sawn, and where its patterns are.
pub(super) fn ends(of: &Of) -> Vec<Block> {
    let subjects: Vec<Subject> = catalogue(of.boat())
        .into_iter()
        .filter(|s| matches!(s, Subject::Part(PartId::Pad)) || matches!(s, Subject::SetUp(_)))
        .collect();
    let work = &of.model.woodwork;
    let mut out = vec![Block::heading(1, "Stem and transom")];
    for (name, s) in [("stem", &work.stem), ("sternpost", &work.sternpost)] {
        if let Some(s) = s {
            out.extend(stem(of, name, s));
        }
    }
    for end in [AtEnd::Bow, AtEnd::Stern] {
        if let Some(t) = work.transom_at(end) {
            out.extend(transom(of, end, t));
        }
    }
    if work.transom.as_ref().is_some_and(|t| t.cut_out.is_some()) {
        out.push(Block::caution(crate::report::text::motor_caution()));
    }
    out.extend(subjects.into_iter().filter_map(|s| sheet(of, s)));
    out
}

fn stem(of: &Of, name: &str, s: &crate::frames::Stem) -> Vec<Block> {
    use crate::drawing::compose::bow;
    let (units, plan) = (of.units(), &of.model.hull.stem);
    let mut out = vec![
        Block::heading(2, crate::words::capital(name)),
        Block::words(format!(
            "{} long, sided {}, moulded {}, from a board {} by {}{}. Its pattern at full size is in the folder frames; its card is in this book.",
            units.show(s.length),
            units.show(plan.sided_mm),
            units.show(plan.moulded_mm),
            units.show(s.board_width),
            units.show(s.board_length),
            if s.parts > 1 { ", in two parts" } else { "" }
        )),
    ];
    let mut t = Table::of(&[">up", ">half angle", ">planking lands on, a side", ">bevel back"]);
    for b in &s.bevels {
        t.row([
            units.show(b.at.y),
            half_degrees(b.half_angle),
            units.fine(b.land),
            units.fine(b.back),
        ]);
    }
    if !s.bevels.is_empty() {
        out.push(Block::Table(t));
    }
    out.push(Block::words(bow::sides_words(of.model, s, units)));
    out.extend(bow::joint_words(s, units).into_iter().map(Block::words));
    for e in &s.ends {
        out.push(Block::words(bow::end_cut_words(of.model, e, &format!("{name}'s side"), units)));
    }
    out
}

fn transom(of: &Of, end: AtEnd, t: &crate::frames::Transom) -> Vec<Block> {
    use crate::drawing::compose::bow;
    let (model, units) = (of.model, of.units());
    let name = end.transom();
    let mut out = vec![
        Block::heading(2, crate::words::capital(name)),
        Block::words(format!(
            "{} wide, {} high in its own plane, raked {}, {} thick; its pattern is the {} face. Pattern and framing at full size are in the folder frames; its card is in this book.",
            units.show(t.width()),
            units.show(t.height()),
            half_degrees(t.rake),
            units.fine(model.hull.transom.thickness_mm),
            if t.outside_larger { "outer" } else { "inner" }
        )),
    ];
    for (panel, _) in &t.crowns {
        if let Some(run) = bevel_run(&t.bevels, *panel, units) {
            let panel = &model.panels[*panel].name;
            out.push(Block::words(format!("Bevel for the {panel}: {run}.")));
        }
    }
    for e in &t.ends {
        let onto = format!("{name}'s inner face");
        out.push(Block::words(bow::end_cut_words(model, e, &onto, units)));
    }
    out
}
