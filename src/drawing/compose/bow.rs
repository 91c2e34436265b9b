//! The bow joint on paper: the outer stem's pattern, the stem's line on panels, landings and
//! end cuts, and the sentences that go with them.

use super::Line;
use super::{SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::flat::past_post::RUN_PAST_MM;
use crate::frames::bow_joint::BowJoint;
use crate::frames::{EndCut, OuterStem, Stem};
use crate::geom::{P2, V2};
use crate::hull::StemSides;
use crate::model::{Model, PanelModel};
use crate::part::{AtEnd, LineId};
use crate::units::{Units, half_degrees};

/// Height of capitals beside a mark, mm.
const BESIDE: f64 = 5.0;
/// A run of a cut of less than this (mm) is square.
const SQUARE: f64 = 0.5;

/// The line of the stem on a panel that has something past it, and what is done there.
pub(super) fn post_lines(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    for (past, edge, end) in [
        (&p.past_posts[0], p.flat.bow_edge(), AtEnd::Bow),
        (&p.past_posts[1], p.flat.stern_edge(), AtEnd::Stern),
    ] {
        let most = past.iter().map(|q| q.1).fold(0.0, f64::max);
        let long: f64 = edge.windows(2).map(|w| (w[1] - w[0]).norm()).sum();
        if past.is_empty() || long < 4.0 * SMALL {
            continue;
        }
        let (a, b) = (edge[0], edge[edge.len() - 1]);
        let along = b - a;
        let angle = along.y.atan2(along.x);
        let name = end.stem();
        let side = if end == AtEnd::Bow { -1.0 } else { 1.0 };
        let at = a + 0.3 * along + V2::new(-angle.sin(), angle.cos()) * side * (1.6 * BESIDE);
        d.text(Line::Text, at, BESIDE, angle, Anchor::Left, format!("{name}'s line"));
        d.polyline(Line::Corner, edge, false);
        d.note(match model.hull.stem.sides {
            StemSides::RunPast => format!(
                "Runs {} past the {name}'s line (dashed): planed off with the stem to the outer stem's flat once the glue has set.",
                units.fine(RUN_PAST_MM)
            ),
            StemSides::Mitred => format!(
                "Runs up to {} past the {name}'s line (dashed), its outer face the longer: both sides are planed in the centreplane to meet in a mitre.",
                units.fine(most)
            ),
        });
    }
}

/// How one end is cut, in a sentence.
pub fn end_cut_words(model: &Model, e: &EndCut, onto: &str, units: Units) -> String {
    let m = &model.members[e.member].member;
    let cut = |angle: f64, runs: f64, over: f64, longer: [&str; 2]| {
        if runs.abs() < SQUARE {
            "square".to_string()
        } else {
            format!(
                "{} from square ({} over {}), {} the longer",
                half_degrees(angle.abs()),
                units.fine(runs.abs()),
                units.fine(over),
                longer[usize::from(runs < 0.0)]
            )
        }
    };
    let sheer = m.follows(LineId::Sheer);
    let edges = if sheer { ["lower edge", "upper edge"] } else { ["upper edge", "lower edge"] };
    format!(
        "{} on the {onto}: end cut across its edge {}; across its face {}; longest corner {} {} the end of the {}.",
        e.name,
        cut(e.across_edge, e.edge_runs, m.moulded_mm, ["face on the planking", "inner face"]),
        cut(e.across_face, e.face_runs, m.sided_mm, edges),
        units.show(e.short.abs()),
        if e.short >= 0.0 { "short of" } else { "past" },
        m.line
    )
}

/// How the foot of a stem is put together, in sentences.
pub fn joint_words(s: &Stem, units: Units) -> Vec<String> {
    let Some(j) = &s.joint else {
        return Vec::new();
    };
    let end = if s.at_stern { "after" } else { "forward" };
    let mut out = vec![stands_on(j, units)];
    match j.taper.as_slice() {
        [first, .., last] => {
            let places: Vec<String> = j
                .taper
                .iter()
                .map(|t| {
                    format!("{} wide at {}", units.show(2.0 * t.half_width), units.show(t.from_end))
                })
                .collect();
            out.push(format!(
                "Its {end} end is tapered to lie between the logs and inside the planking, from {} to {} from the end of the keel: {}; ahead of that it keeps the last width to the {}'s front and is bevelled with it.",
                units.show(last.from_end),
                units.show(first.from_end),
                places.join(", "),
                if s.at_stern { "post" } else { "stem" }
            ));
        }
        [only] if only.from_end > SQUARE => out.push(format!(
            "It needs no taper from {} on from the end of the keel.",
            units.show(only.from_end)
        )),
        _ => {}
    }
    if let Some(k) = &j.knee {
        out.push(format!(
            "Knee behind the heel: {} thick, {} along the keelson and {} up the stem's back, {} between them, grain along its long edge; two screws through each arm and glue.",
            units.fine(k.thickness),
            units.show(k.along),
            units.show(k.up),
            half_degrees(k.angle())
        ));
    }
    out.push(format!(
        "Up into the heel: two bolts or long screws of {} through bottom and keelson, one behind the other; end grain alone holds little, so the knee takes the pull (common practice, no source).",
        units.show(j.fastening)
    ));
    out
}

fn stands_on(j: &BowJoint, units: Units) -> String {
    if j.floor {
        format!(
            "No keelson: the heel stands on a bow floor, a board {} by {} long on the inside of the bottom; {} of it under the heel.",
            units.section(j.depth, j.width),
            units.show(j.floor_length),
            units.show(j.heel)
        )
    } else {
        format!(
            "The heel stands {} on the keelson, which is {} deep.",
            units.show(j.heel),
            units.fine(j.depth)
        )
    }
}

/// How the sides end at a stem, in a sentence.
pub fn sides_words(model: &Model, s: &Stem, units: Units) -> String {
    match &s.outer {
        Some(o) => {
            let planed = o.sections.iter().map(|c| c.planed);
            let (least, most) =
                planed.fold((f64::INFINITY, 0.0f64), |(l, h), p| (l.min(p), h.max(p)));
            let behind = if units.fine(least) == units.fine(most) {
                units.fine(most)
            } else {
                format!("{} to {}", units.fine(least), units.fine(most))
            };
            format!(
                "Sides run past: plane them with the stem to a flat {} wide, {behind} behind the stem's line, and glue the outer stem on.",
                units.fine(model.hull.stem.outer_sided_mm)
            )
        }
        None => {
            "Sides are mitred ahead of the stem: plane each in the centreplane until they meet."
                .into()
        }
    }
}

/// Where logs and clamps land on the stem's side, with their names.
pub(super) fn landings_on_stem(d: &mut Drawing, s: &Stem) {
    for e in &s.ends {
        d.polyline(Line::Member, e.corners.to_vec(), true);
        // Inside, under its upper edge: the heel's cut runs through the middle of a log's end.
        let top = e.corners[1].y.max(e.corners[2].y).max(e.corners[0].y).max(e.corners[3].y);
        let middle = e.corners.iter().map(|p| p.x).sum::<f64>() / 4.0;
        d.text(Line::Text, P2::new(middle, top - 9.0), 4.0, 0.0, Anchor::Middle, e.name.clone());
    }
}

/// The knee behind the stem's heel.
pub(super) fn knee_on_stem(d: &mut Drawing, s: &Stem) {
    if let Some(k) = s.joint.as_ref().and_then(|j| j.knee.as_ref()) {
        d.polyline(Line::Plate, k.outline.to_vec(), true);
        d.text(Line::Text, k.middle(), 4.0, 0.0, Anchor::Middle, "knee");
    }
}

/// The flat to which stem and sides are planed for the outer stem.
pub(super) fn flat_on_stem(d: &mut Drawing, s: &Stem) {
    if let Some(o) = &s.outer {
        d.polyline(Line::Finished, o.back.clone(), false);
        let i = o.back.len() / 2;
        d.text(
            Line::Text,
            o.back[i] + V2::new(2.0, 2.0),
            4.0,
            0.0,
            Anchor::Left,
            "flat for the outer stem",
        );
    }
}

/// The outer stem's blank with its bevel, lengths written in `units`.
pub fn outer_stem_pattern(model: &Model, s: &Stem, o: &OuterStem, units: Units) -> Drawing {
    let name = if s.at_stern { "outer sternpost" } else { "outer stem" };
    let plan = &model.hull.stem;
    let mut d = Drawing::new(
        format!("{}: {name}", model.hull.name),
        format!(
            "sided {}, moulded {}",
            units.fine(plan.outer_sided_mm),
            units.fine(plan.outer_moulded_mm)
        ),
        layers(),
    );
    d.polyline(Line::Cut, o.outline.clone(), true);
    let aft = if s.at_stern { -1.0 } else { 1.0 };
    let n = o.back.len();
    let forward = |i: usize| {
        let (a, b) = (o.back[i.saturating_sub(1)], o.back[(i + 1).min(n - 1)]);
        let e = (b - a).try_normalize(1e-9).unwrap_or_else(V2::y);
        let v = V2::new(e.y, -e.x);
        if v.x * aft >= 0.0 { -v } else { v }
    };
    let ends: Vec<P2> = (0..n).map(|i| o.back[i] + o.sections[i].bevel_runs * forward(i)).collect();
    d.polyline(Line::Member, ends.clone(), false);
    for (i, c) in o.sections.iter().enumerate() {
        d.line(Line::Check, o.back[i], ends[i]);
        let text = format!(
            "{} up · {} · {} forward · front {}",
            units.show(c.at.y),
            half_degrees(c.bevel),
            units.fine(c.bevel_runs),
            units.fine(c.front)
        );
        let at = if aft > 0.0 {
            o.back[i] - 14.0 * forward(i)
        } else {
            o.back[i] + (plan.outer_moulded_mm + 14.0) * forward(i)
        };
        d.text(Line::Text, at, BESIDE, 0.0, Anchor::Left, text);
    }
    let head = o.back[n - 1];
    d.line(Line::Level, head, head - plan.outer_moulded_mm * 1.3 * V2::new(aft, 0.0));
    d.text(Line::Text, head + V2::new(aft * 6.0, 4.0), BESIDE, 0.0, Anchor::Left, "sheer");
    let left = o.outline.iter().map(|p| p.x).fold(f64::INFINITY, f64::min) - 20.0;
    let middle = 0.5 * (o.back[0].y + head.y);
    let foot = P2::new(left, middle);
    d.arrow(Line::Check, foot, foot + V2::new(0.0, 60.0), 16.0);
    d.text(Line::Text, foot + V2::new(4.0, 6.0), BESIDE, 0.0, Anchor::Left, "up");
    d.note(format!("{} · {name}: cut one.", model.hull.name));
    d.note(format!(
        "From a board {} x {}; {} too long at the head to trim, its foot level with the outside of the bottom.",
        units.show(o.board_width),
        units.show(o.board_length),
        units.show(plan.over_mm)
    ));
    d.note(format!(
        "Its back is flat, {} wide, and lies on the planed sides and stem. Bevel both sides from the edges of the back, in the planking's faces, to the dashed line; from there to the front they run parallel. Front at least {} wide.",
        units.fine(plan.outer_sided_mm),
        units.fine(plan.outer_front_mm)
    ));
    d.note("Beside each height: the bevel from square, how far forward of the back it runs, and the width of the front.");
    if o.board_width > 0.0 && !o.wide_enough {
        d.note("No board of yours is so wide: glue it up of layers bent round the flat, or of two parts scarfed.");
    }
    super::explain(&mut d, units);
    d
}
