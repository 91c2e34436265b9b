//! The layout card of a panel.

use super::{Card, CardPart, Check, List};
use crate::drawing::compose::Line;
use crate::drawing::compose::panel::{corners, members_on};
use crate::drawing::compose::panel_words::joined;
use crate::flat::marks;
use crate::flat::ordinates::{Mirror, Plotted, Seat};
use crate::frames::fasten::PLANK_PITCH_MM;
use crate::geom::polyline::length2;
use crate::geom::ring::kept_inside;
use crate::geom::segment::{from_polyline, from_segment};
use crate::geom::{P2, V2};
use crate::model::{Model, PanelModel};
use crate::part::LineId;
use crate::stock::joints::PlacedJoint;
use crate::units::Units;
use crate::words::bevels;

/// A mark that bows by less than this (mm) is drawn with a straightedge between its ends.
const STRAIGHT_MM: f64 = 1.0;
/// Panels' edges are fastened at least this far in, mm: two diameters of the shank of a
/// small nail or screw. Common practice, no source.
const LEAST_IN_MM: f64 = 10.0;
/// No edge fastening nearer to a station than this, mm: the frame's own stand there.
/// Common practice, no source.
const CLEAR_OF_STATION_MM: f64 = 25.0;

/// The card of panel `p`; `None` for one without area.
pub fn panel_card(
    model: &Model,
    p: &PanelModel,
    joints: &[PlacedJoint],
    units: Units,
) -> Option<Card> {
    let outline = p.finished_outline();
    let seat = if p.full_width {
        let ahead = outline.iter().map(|q| q.x).fold(f64::INFINITY, f64::min);
        Seat::Middle { from: P2::new(ahead, 0.0), along: V2::x() }
    } else {
        Seat::Beside { along: V2::x() }
    };
    let plotted = Plotted::lay(&outline, &[], seat, units)?;
    let mut part = CardPart::new(&p.name, plotted);
    letter_like_the_pattern(&mut part, p);
    name_edges(&mut part, model, p);
    checks(&mut part, p);
    part.words.push(if p.full_width {
        "cut one; this face goes inside".into()
    } else {
        "cut two, one of them turned over; this face goes inside on starboard".into()
    });
    for (edge, line) in [(&p.laps.lower, model.line_below(p)), (&p.laps.upper, model.line_above(p))]
    {
        if edge.role != crate::flat::laps::Role::RunsOn {
            part.bevels.push((format!("at the {line}"), edge.off_far_face(p.thickness)));
        }
    }
    part.words.push(blank_words(&part.plotted, units));
    part.ways.push(("forward", -V2::x()));
    if p.full_width {
        part.ways.push(("starboard", V2::y()));
    } else {
        part.ways.push(("up", V2::y()));
    }
    stations(&mut part, model, p, units);
    draw_joints(&mut part, p, joints, units);
    for (name, line) in members(&mut part, model, p, units) {
        part.words.push(name);
        part.lines.push((Line::Member, line));
    }
    Some(Card {
        file: p.name.clone(),
        title: format!("{}: {}", model.hull.name, p.name),
        subtitle: format!(
            "{}, measured {} · face grain {}",
            p.sheet,
            units.gauge(p.thickness),
            if p.grain_across { "across" } else { "along" }
        ),
        parts: vec![part],
        notes: notes(model, p, units).into_iter().chain(joined(model, p, joints, units)).collect(),
    })
}

/// The corners that the pattern letters get its letters, the rest what follows.
fn letter_like_the_pattern(part: &mut CardPart, p: &PanelModel) {
    let main = corners(p);
    let mut next = main.len();
    let plotted = &part.plotted;
    part.letters = plotted
        .corners
        .iter()
        .map(|c| {
            let same = |q: &P2| {
                let q = plotted.place(*q);
                let mirrored = P2::new(q.x, -q.y);
                let near = (q - c.exact).norm() < 0.1;
                near || (plotted.mirror == Mirror::Base && (mirrored - c.exact).norm() < 0.1)
            };
            main.iter().find(|(_, q)| same(q)).map_or_else(
                || {
                    next += 1;
                    super::letter(next - 1)
                },
                |(l, _)| l.to_string(),
            )
        })
        .collect();
}

/// Edges are called by the line that they lie nearest to.
fn name_edges(part: &mut CardPart, model: &Model, p: &PanelModel) {
    let f = &p.flat;
    let lines = [
        (model.line_below(p).to_string(), f.lower_edge()),
        (model.line_above(p).to_string(), f.upper_edge()),
        ("bow".into(), f.bow_edge()),
        ("stern".into(), f.stern_edge()),
    ];
    let placed = lines.map(|(name, l)| {
        let l: Vec<P2> = l.iter().map(|q| part.plotted.place(*q)).collect();
        (name, l)
    });
    part.edge_names = part
        .plotted
        .edges
        .iter()
        .map(|e| {
            let n = e.points.len();
            let some = [n / 4, n / 2, 3 * n / 4].map(|i| e.points[i.min(n - 1)]);
            let middle = e.points[0] + 0.5 * (e.points[n - 1] - e.points[0]);
            let away =
                |l: &[P2]| some.iter().chain([&middle]).map(|q| from_polyline(*q, l)).sum::<f64>();
            placed
                .iter()
                .filter(|(_, l)| l.len() > 1)
                .min_by(|a, b| away(&a.1).total_cmp(&away(&b.1)))
                .map_or(String::new(), |(name, _)| name.clone())
        })
        .collect();
}

fn checks(part: &mut CardPart, p: &PanelModel) {
    for d in crate::drawing::compose::panel::diagonals(p) {
        let name = format!("{} to {}", d.from, d.to);
        part.checks.push(Check { name, length: (d.b - d.a).norm() });
    }
    for i in 0..part.plotted.edges.len() {
        let length = length2(&part.plotted.edges[i].points);
        part.checks.push(Check { name: part.edge_words(i), length });
    }
}

/// The least blank that it lies on.
fn blank_words(plotted: &Plotted, units: Units) -> String {
    let far = plotted.outline.iter().fold(P2::origin(), |f, q| f.sup(q));
    let wide = if plotted.mirror == Mirror::Base { 2.0 * far.y } else { far.y };
    format!("it lies on {} along the base line by {}", units.show(far.x), units.show(wide))
}

/// Stations by their two ends, and by their middle where they bow.
fn stations(part: &mut CardPart, model: &Model, p: &PanelModel, units: Units) {
    let mut rows = Vec::new();
    for (i, x) in model.stations.iter().enumerate() {
        let line = marks::station(&p.flat, *x);
        let (Some(a), Some(b)) = (line.first(), line.last()) else {
            continue;
        };
        let n = i + 1;
        part.named.push((format!("station {n}"), a + 0.35 * (b - a)));
        if !p.full_width {
            rows.push((format!("{n} low"), part.plotted.mark(*a, units)));
        }
        let middle = a + 0.5 * (b - a);
        let bow = line.iter().map(|q| from_segment(*q, *a, *b)).fold(0.0, f64::max);
        if bow > STRAIGHT_MM
            && let Some(q) =
                line.iter().min_by(|q, r| (*q - middle).norm().total_cmp(&(*r - middle).norm()))
        {
            rows.push((format!("{n} mid"), part.plotted.mark(*q, units)));
        }
        rows.push((format!("{n} up"), part.plotted.mark(*b, units)));
        if p.full_width {
            let mirrored: Vec<P2> = line.iter().map(|q| P2::new(q.x, -q.y)).collect();
            part.lines.push((Line::Station, mirrored));
        }
        part.lines.push((Line::Station, line));
    }
    if p.full_width {
        for row in &mut rows {
            row.0 = row.0.replace(" up", "");
        }
    }
    if !rows.is_empty() {
        part.lists.push(List { head: "stations".into(), rows });
    }
}

/// Joints by the ends of their lines, and the corners of their blocks.
fn draw_joints(part: &mut CardPart, p: &PanelModel, joints: &[PlacedJoint], units: Units) {
    let finished = p.finished_outline();
    let mut rows = Vec::new();
    for (i, joint) in joints.iter().enumerate() {
        let number = if joints.len() > 1 { format!("{} ", i + 1) } else { String::new() };
        let slope = joint.lines.len() > 1;
        for (k, line) in joint.lines.iter().enumerate() {
            // The figures of a card are those of the finished edge.
            let kept = kept_inside(&finished, line).into_iter().flatten();
            let kept: Vec<P2> = kept.collect();
            let (Some(a), Some(b)) = (kept.first(), kept.last()) else {
                continue;
            };
            let end = match (slope, k) {
                (false, _) => "",
                (true, 0) => "slope from, ",
                (true, _) => "slope to, ",
            };
            let words = ["low", "up"].map(|w| format!("{number}{end}{w}"));
            for (name, end) in words.into_iter().zip([a, b]) {
                // Plotted from a centreline only its upper half is given.
                if !(p.full_width && end.y < 0.0) {
                    rows.push((name, part.plotted.mark(*end, units)));
                }
            }
            part.lines.push((Line::Joint, vec![*a, *b]));
        }
        if let Some([a, b]) = joint.lines.first() {
            part.named.push((format!("joint {number}").trim_end().to_string(), a + 0.65 * (b - a)));
        }
        for block in &joint.blocks {
            let ring = block.iter().chain(block.first()).copied().collect();
            part.lines.push((Line::Plate, ring));
        }
    }
    if !rows.is_empty() {
        part.lists.push(List { head: "joints".into(), rows });
    }
}

/// Members' edges as widths from the plotted edge: words, and the line for the picture.
fn members(
    part: &mut CardPart,
    model: &Model,
    p: &PanelModel,
    units: Units,
) -> Vec<(String, Vec<P2>)> {
    let mut out = Vec::new();
    for m in members_on(model, p) {
        let name = &m.member.name;
        let placed: Vec<P2> = m.line.iter().map(|q| part.plotted.place(*q)).collect();
        if placed.len() < 2 {
            continue;
        }
        if part.plotted.mirror == Mirror::Base && m.member.follows(LineId::Keel) {
            let words = format!(
                "{name}: {} on either side of the centreline",
                units.show(0.5 * m.member.sided_mm)
            );
            out.push((words, m.line.clone()));
            continue;
        }
        let line = if m.on_upper { model.line_above(p) } else { model.line_below(p) }.to_string();
        let Some(edge) = (0..part.plotted.edges.len())
            .filter(|i| part.edge_names[*i] == line)
            .max_by_key(|i| part.plotted.edges[*i].points.len())
        else {
            continue;
        };
        let points = &part.plotted.edges[edge].points;
        let (least, most) = placed
            .iter()
            .map(|q| from_polyline(*q, points))
            .fold((f64::INFINITY, 0.0f64), |(l, h), d| (l.min(d), h.max(d)));
        let width = if units.show(least) == units.show(most) {
            units.show(least)
        } else {
            format!("{} to {}", units.show(least), units.show(most))
        };
        let inset = (0.5 * least).max(LEAST_IN_MM);
        out.push((
            format!(
                "{name}: its inner edge {width} in from {}; fasten the panel to it every {}, {} in from the edge",
                part.edge_words(edge),
                units.show(PLANK_PITCH_MM),
                units.show(inset)
            ),
            m.line,
        ));
    }
    out
}

fn notes(model: &Model, p: &PanelModel, units: Units) -> Vec<String> {
    let allowance = model.hull.planking.trim_allowance_mm;
    let mut out = vec![
        "Square up from the base line at every figure along, measure the figure off, and set a nail there. Spring a clear, straight-grained batten through the nails of one edge, from corner to corner, held by a second nail on its other side between them; look along it, and draw. Where one mark makes it unfair, trust the batten.".to_string(),
    ];
    out.push(if allowance > 0.0 {
        format!(
            "The figures give the finished edge: saw {} outside the line and plane to it.",
            units.show(allowance)
        )
    } else {
        "The figures give the finished edge: saw outside the line and plane to it.".into()
    });
    let mut bevels = Vec::new();
    for (edge, line) in [(&p.laps.lower, model.line_below(p)), (&p.laps.upper, model.line_above(p))]
    {
        if edge.role != crate::flat::laps::Role::RunsOn {
            let said = bevels::along(&edge.off_far_face(p.thickness), units);
            let said: Vec<String> = said.into_iter().map(|w| w.1).collect();
            bevels.push(format!("{line} {}, bevel {}", edge.role.word(), said.join(" and ")));
        }
    }
    if !bevels.is_empty() {
        out.push(format!("{}. {}", bevels.join(" · "), super::BEVELS));
    }
    out.push(format!(
        "Fastenings of the edges (common practice, no source): none within {} of a station, where the frame's own stand, or of a corner. Mark stations, members and waterline before the panel leaves the bench; the waterline is on the full-size pattern.",
        units.show(CLEAR_OF_STATION_MM)
    ));
    out
}
